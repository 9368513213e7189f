//! Where a source file can be changed, and the same file with every change built in behind a switch.
//!
//! What runs is rewritten so that one build holds all its mutants: `a * b` becomes a block that works out both sides and
//! then gives the product, or the left side alone, or the right side alone. What the compiler works out (constants,
//! tables) cannot be switched; its changes are kept as text, for a build each.

use anyhow::{Context, Result};
use std::collections::HashSet;
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, Lit, UnOp};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A factor, term, divisor, sign or function left out.
    Part,
    /// A number times 1.1, an exponent plus one.
    Number,
    /// A comparison turned round.
    Condition,
    /// A least or greatest value left out.
    Bound,
}

pub struct Site {
    pub file: String,
    pub line: usize,
    pub column: usize,
    pub kind: Kind,
    pub what: String,
    /// In what the compiler works out: the bytes to replace, and by what.
    pub constant: Option<(Range<usize>, String)>,
}

impl Site {
    /// Stays while the source does, whatever the tests.
    pub fn key(&self) -> String {
        format!(
            "{}:{}:{} {:?} {}",
            self.file, self.line, self.column, self.kind, self.what
        )
    }
}

pub struct Walk<'a> {
    file: &'a str,
    text: &'a str,
    /// Lines whose rewriting did not compile.
    barred: &'a HashSet<(String, usize)>,
    in_constant: bool,
    edits: Vec<(Range<usize>, String)>,
    pub sites: &'a mut Vec<Site>,
}

const UNARY: [&str; 10] = [
    "sqrt", "cbrt", "exp", "ln", "log10", "tanh", "sin", "cos", "exp_m1", "ln_1p",
];

/// The rewritten text; its switchable sites are numbered from 1 in the order of `sites`.
pub fn rewrite(
    file: &str,
    text: &str,
    barred: &HashSet<(String, usize)>,
    sites: &mut Vec<Site>,
) -> Result<String> {
    let tree = syn::parse_file(text).with_context(|| file.to_owned())?;
    let mut walk = Walk {
        file,
        text,
        barred,
        in_constant: false,
        edits: Vec::new(),
        sites,
    };
    walk.visit_file(&tree);
    let mut edits = walk.edits;
    edits.sort_by_key(|(at, _)| at.start);
    let mut out = String::new();
    let mut from = 0;
    for (at, new) in edits {
        out.push_str(&text[from..at.start]);
        out.push_str(&new);
        from = at.end;
    }
    out.push_str(&text[from..]);
    Ok(out)
}

impl Walk<'_> {
    fn add(&mut self, at: &Range<usize>, kind: Kind, what: String, new: Option<String>) -> usize {
        let before = &self.text[..at.start];
        self.sites.push(Site {
            file: self.file.to_owned(),
            line: before.matches('\n').count() + 1,
            column: at.start - before.rfind('\n').map_or(0, |i| i + 1) + 1,
            kind,
            what,
            constant: new.map(|new| (at.clone(), new)),
        });
        self.sites.len()
    }

    fn insert(&mut self, at: usize, new: String) {
        self.edits.push((at..at, new));
    }

    /// One line, shortened.
    fn quote(&self, at: Range<usize>) -> String {
        let words: Vec<_> = self.text[at].split_whitespace().collect();
        let line = words.join(" ");
        match line.char_indices().nth(60) {
            Some((i, _)) => format!("{}...", &line[..i]),
            None => line,
        }
    }

    fn constant(&mut self, constant: bool, inner: impl FnOnce(&mut Self)) {
        let before = std::mem::replace(&mut self.in_constant, constant);
        inner(self);
        self.in_constant = before;
    }

    fn literal(&mut self, at: Range<usize>, lit: &Lit) {
        let Lit::Float(number) = lit else { return };
        let Ok(value) = number.base10_parse::<f64>() else {
            return;
        };
        if value == 0.0 || number.suffix() == "f32" {
            return;
        }
        let what = format!("{number} times 1.1");
        if self.in_constant {
            self.add(&at, Kind::Number, what, Some(format!("{:?}", value * 1.1)));
        } else {
            let id = self.add(&at, Kind::Number, what, None);
            self.insert(at.start, format!("crate::mutant::number({id}, "));
            self.insert(at.end, ")".into());
        }
    }

    fn binary(&mut self, node: &syn::ExprBinary) {
        let at = node.span().byte_range();
        let op = node.op.span().byte_range();
        let (left, right) = (
            node.left.span().byte_range(),
            node.right.span().byte_range(),
        );
        let sign = self.text[op.clone()].to_owned();
        let (kind, others): (Kind, &[&str]) = match node.op {
            BinOp::Mul(_) | BinOp::Add(_) => (Kind::Part, &["a_", "b_"]),
            BinOp::Div(_) => (Kind::Part, &["a_", "a_ * b_"]),
            BinOp::Sub(_) => (Kind::Part, &["a_", "a_ + b_"]),
            BinOp::Lt(_) | BinOp::Gt(_) | BinOp::Le(_) | BinOp::Ge(_) => {
                (Kind::Condition, &["!(a_ < b_)"])
            }
            BinOp::AddAssign(_)
            | BinOp::SubAssign(_)
            | BinOp::MulAssign(_)
            | BinOp::DivAssign(_) => {
                if !self.in_constant {
                    let what = format!("without {sign} {}", self.quote(right.clone()));
                    let id = self.add(&op, Kind::Part, what, None);
                    self.insert(
                        at.start,
                        format!("if crate::mutant::pick({id}, 1) == 0 {{ "),
                    );
                    self.visit_expr(&node.right);
                    self.insert(at.end, " }".into());
                }
                return;
            }
            _ => {
                visit::visit_expr_binary(self, node);
                return;
            }
        };
        let (l, r) = (self.quote(left.clone()), self.quote(right.clone()));
        if self.in_constant {
            // One change is enough: a factor becomes a divisor, a term changes its sign.
            let new = match node.op {
                BinOp::Mul(_) => "/",
                BinOp::Div(_) => "*",
                BinOp::Add(_) => "-",
                BinOp::Sub(_) => "+",
                _ => return visit::visit_expr_binary(self, node),
            };
            let what = format!("{sign} to {new} in {l} {sign} {r}");
            self.add(&op, Kind::Part, what, Some(new.to_owned()));
            return visit::visit_expr_binary(self, node);
        }
        let mut arms = format!("0 => a_ {sign} b_");
        let first = self.sites.len() + 1;
        for (i, other) in others.iter().enumerate() {
            let other = other.replace('<', &sign);
            let what = match other.as_str() {
                "a_" => format!("without {sign} {r}, after {l}"),
                "b_" => format!("without {l} {sign}, before {r}"),
                _ if kind == Kind::Condition => format!("turned round: {l} {sign} {r}"),
                o => format!("{l} {sign} {r} as {o}"),
            };
            self.add(&op, kind, what, None);
            arms += &format!(", {} => {other}", i + 1);
        }
        self.insert(at.start, "({ let a_ = ".into());
        self.visit_expr(&node.left);
        self.edits.push((op, "; let b_ = ".into()));
        self.visit_expr(&node.right);
        let n = others.len();
        self.insert(
            at.end,
            format!(
                "; match crate::mutant::pick({first}, {n}) {{ {arms}, _ => unreachable!() }} }})"
            ),
        );
    }

    fn method(&mut self, node: &syn::ExprMethodCall) {
        let name = node.method.to_string();
        let kind = match (name.as_str(), node.args.len()) {
            ("powf" | "powi", 1) => Kind::Part,
            (name, 0) if UNARY.contains(&name) => Kind::Part,
            ("min" | "max", 1) | ("clamp", 2) => Kind::Bound,
            _ => return visit::visit_expr_method_call(self, node),
        };
        if self.in_constant {
            return visit::visit_expr_method_call(self, node);
        }
        let at = node.span().byte_range();
        let receiver = node.receiver.span().byte_range();
        let what = format!("without {}", self.quote(receiver.end..at.end));
        let id = self.add(&node.method.span().byte_range(), kind, what, None);
        self.insert(at.start, "({ let a_ = ".into());
        self.visit_expr(&node.receiver);
        self.insert(
            receiver.end,
            format!("; if crate::mutant::pick({id}, 1) == 1 {{ a_ }} else {{ a_"),
        );
        for arg in &node.args {
            match arg {
                Expr::Lit(lit) if name == "powi" => {
                    let at = lit.span().byte_range();
                    let what = format!("exponent {} plus 1", self.quote(at.clone()));
                    let id = self.add(&at, Kind::Number, what, None);
                    self.insert(at.start, format!("crate::mutant::exponent({id}, "));
                    self.insert(at.end, ")".into());
                }
                _ => self.visit_expr(arg),
            }
        }
        self.insert(at.end, " } })".into());
    }

    fn negation(&mut self, node: &syn::ExprUnary) {
        let literal = matches!(&*node.expr, Expr::Lit(_));
        if !matches!(node.op, UnOp::Neg(_)) || literal || self.in_constant {
            return visit::visit_expr_unary(self, node);
        }
        let at = node.span().byte_range();
        let inner = node.expr.span().byte_range();
        let what = format!("without - before {}", self.quote(inner.clone()));
        let id = self.add(&at, Kind::Part, what, None);
        self.edits
            .push((at.start..inner.start, "({ let a_ = ".into()));
        self.visit_expr(&node.expr);
        self.insert(
            at.end,
            format!("; if crate::mutant::pick({id}, 1) == 1 {{ a_ }} else {{ -a_ }} }})"),
        );
    }
}

impl<'ast> Visit<'ast> for Walk<'_> {
    fn visit_expr(&mut self, node: &'ast Expr) {
        let line = node.span().start().line;
        if self.barred.contains(&(self.file.to_owned(), line)) {
            return;
        }
        match node {
            Expr::Lit(lit) => self.literal(lit.span().byte_range(), &lit.lit),
            Expr::Binary(binary) => self.binary(binary),
            Expr::MethodCall(call) => self.method(call),
            Expr::Unary(unary) => self.negation(unary),
            Expr::Closure(_) => self.constant(false, |s| visit::visit_expr(s, node)),
            Expr::Const(_) => {}
            _ => visit::visit_expr(self, node),
        }
    }

    fn visit_item_const(&mut self, node: &'ast syn::ItemConst) {
        self.constant(true, |s| s.visit_expr(&node.expr));
    }

    fn visit_item_static(&mut self, node: &'ast syn::ItemStatic) {
        self.constant(true, |s| s.visit_expr(&node.expr));
    }

    fn visit_impl_item_const(&mut self, node: &'ast syn::ImplItemConst) {
        self.constant(true, |s| s.visit_expr(&node.expr));
    }

    fn visit_item_fn(&mut self, node: &'ast syn::ItemFn) {
        let constant = node.sig.constness.is_some();
        self.constant(constant, |s| s.visit_block(&node.block));
    }

    fn visit_impl_item_fn(&mut self, node: &'ast syn::ImplItemFn) {
        let constant = node.sig.constness.is_some();
        self.constant(constant, |s| s.visit_block(&node.block));
    }

    fn visit_item_mod(&mut self, node: &'ast syn::ItemMod) {
        let of_tests = node.attrs.iter().any(|a| {
            a.path().is_ident("cfg") && a.parse_args::<syn::Ident>().is_ok_and(|i| i == "test")
        });
        if !of_tests {
            visit::visit_item_mod(self, node);
        }
    }

    fn visit_type(&mut self, _: &'ast syn::Type) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
    fn visit_macro(&mut self, _: &'ast syn::Macro) {}
}
