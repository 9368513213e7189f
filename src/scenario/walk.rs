//! The walk over a parsed file with the schema in hand: every unknown key, wrong type, unreadable
//! quantity, value out of range and missing key in one pass.
//!
//! What is refused is replaced by an empty value that the raw mirror reads as absent.

use super::codes;
use super::diagnostic::{Diagnostics, Report, nearest};
use super::schema::{quantity_of, range_text, words_of};
use crate::units::{self, Kind, Problem};
use serde_json::{Map, Value};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

type Node = Map<String, Value>;

/// Checks a whole scenario.
pub(super) fn scenario(root: &mut DeTable<'_>, schema: &'static Value, diags: &mut Diagnostics) {
    let Some(node) = schema.as_object() else {
        return;
    };
    let mut walk = Walk {
        root: schema,
        diags,
    };
    walk.table(root, &(0..0), node, "");
}

struct Walk<'d> {
    root: &'static Value,
    diags: &'d mut Diagnostics,
}

/// The properties of an object node.
fn properties(node: &Node) -> Option<&Node> {
    node.get("properties").and_then(Value::as_object)
}

fn type_is(node: &Node, name: &str) -> bool {
    match node.get("type") {
        Some(Value::String(t)) => t == name,
        Some(Value::Array(all)) => all.iter().any(|t| t == name),
        _ => false,
    }
}

/// The JSON type that a TOML value would have.
fn type_name(v: &DeValue<'_>) -> &'static str {
    match v {
        DeValue::String(_) => "string",
        DeValue::Integer(_) => "integer",
        DeValue::Float(_) => "number",
        DeValue::Boolean(_) => "boolean",
        DeValue::Datetime(_) => "datetime",
        DeValue::Array(_) => "array",
        DeValue::Table(_) => "object",
    }
}

fn accepts(node: &Node, v: &DeValue<'_>) -> bool {
    let name = type_name(v);
    type_is(node, name) || (name == "integer" && type_is(node, "number"))
}

/// What a person would call a TOML value.
fn in_words(v: &DeValue<'_>) -> &'static str {
    match v {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "a switch (true or false)",
        DeValue::Datetime(_) => "a date or time of day",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a group of keys",
    }
}

/// What a node wants, in words.
fn wanted(node: &Node) -> String {
    if let Some(branches) = node.get("anyOf").and_then(Value::as_array) {
        let all: Vec<String> = branches
            .iter()
            .filter_map(Value::as_object)
            .map(wanted)
            .collect();
        return all.join(", or ");
    }
    if let Some(kind) = quantity_of(node) {
        return match kind {
            Kind::Fraction | Kind::Number => {
                format!("{} such as {}", kind.a_noun(), kind.examples())
            }
            _ => format!("{} in quotes, such as {}", kind.a_noun(), kind.examples()),
        };
    }
    if node.contains_key("enum") {
        return format!("one of {}", word_list(node));
    }
    for (t, words) in [
        ("string", "a text in quotes"),
        ("boolean", "true or false"),
        ("integer", "a whole number"),
        ("array", "a list in square brackets"),
        ("object", "a group of keys"),
    ] {
        if type_is(node, t) {
            return words.to_owned();
        }
    }
    "another type".to_owned()
}

fn word_list(node: &Node) -> String {
    let words: Vec<String> = node
        .get("enum")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .map(|w| format!("\"{w}\""))
        .collect();
    words.join(", ")
}

/// `[firebox]`, `firebox.mouth`, or the file itself.
fn section_name(path: &str) -> String {
    if path.is_empty() {
        "the file".to_owned()
    } else if path.contains('.') || path.contains('[') {
        path.to_owned()
    } else {
        format!("[{path}]")
    }
}

impl Walk<'_> {
    fn table(&mut self, table: &mut DeTable<'_>, at: &Range<usize>, node: &Node, path: &str) {
        let Some(known) = properties(node) else {
            return;
        };
        // Keys that a misspelt one was probably meant to be: not missed a second time.
        let mut meant: Vec<&str> = Vec::new();
        let mut strange: Vec<String> = Vec::new();
        for (key, value) in table.iter_mut() {
            let name = key.get_ref().as_ref();
            let below = if path.is_empty() {
                name.to_owned()
            } else {
                format!("{path}.{name}")
            };
            match known.get(name).and_then(Value::as_object) {
                Some(child) => {
                    self.value(value, child, child, &below);
                }
                None => {
                    let near = nearest(name, known.keys().map(String::as_str));
                    let report = self.unknown(name, near, &key.span(), known, path);
                    self.diags.push(report);
                    meant.extend(near);
                    strange.push(name.to_owned());
                }
            }
        }
        // An unknown key was reported; its value is of no further use.
        for name in &strange {
            table.remove(name.as_str());
        }
        let required = node
            .get("required")
            .and_then(Value::as_array)
            .into_iter()
            .flatten()
            .filter_map(Value::as_str);
        for key in required {
            if !table.contains_key(key) && !meant.contains(&key) {
                let section = section_name(path);
                let is_section = path.is_empty()
                    && known.get(key).is_some_and(|k| {
                        k.as_object()
                            .is_some_and(|k| type_is(k, "object") || type_is(k, "array"))
                    });
                let (message, help) = if is_section {
                    (format!("section [{key}] is missing"), None)
                } else {
                    let wants = known.get(key).and_then(Value::as_object).map(wanted);
                    (
                        format!("{section} needs the key \"{key}\""),
                        wants.map(|w| format!("{key}: {w}")),
                    )
                };
                let mut report =
                    Report::new(&codes::MISSING_KEY, &head(self.diags, at), message).label("here");
                if let Some(help) = help {
                    report = report.help(help);
                }
                self.diags.push(report);
            }
        }
    }

    fn unknown(
        &self,
        name: &str,
        near: Option<&str>,
        span: &Range<usize>,
        known: &Node,
        path: &str,
    ) -> Report {
        let section = section_name(path);
        let report = Report::new(
            &codes::UNKNOWN_KEY,
            span,
            format!("unknown key \"{name}\" in {section}"),
        )
        .label("not known here");
        if let Some(near) = near {
            return report.help(format!("did you mean \"{near}\"?"));
        }
        let inner = known.iter().find(|(_, child)| {
            child
                .as_object()
                .and_then(properties)
                .is_some_and(|p| p.contains_key(name))
        });
        if let Some((group, _)) = inner {
            return report.help(format!(
                "a key of this name belongs in \"{group}\": {group} = {{ {name} = ... }}"
            ));
        }
        if let Some(home) = self.home_of(name) {
            return report.help(format!("a key of this name belongs in {home}"));
        }
        let all: Vec<&str> = known.keys().map(String::as_str).collect();
        report.help(format!("known here: {}", all.join(", ")))
    }

    /// Another section that knows this key.
    fn home_of(&self, name: &str) -> Option<String> {
        let sections = properties(self.root.as_object()?)?;
        sections.iter().find_map(|(section, node)| {
            let node = node.as_object()?;
            let own = properties(node)
                .or_else(|| properties(node.get("items")?.as_object()?))
                .is_some_and(|p| p.contains_key(name));
            own.then(|| section_name(section))
        })
    }

    /// Checks one value; false where it was refused and emptied. `outer` holds the range of a union.
    fn value(
        &mut self,
        v: &mut Spanned<DeValue<'_>>,
        node: &Node,
        outer: &Node,
        path: &str,
    ) -> bool {
        if let Some(branches) = node.get("anyOf").and_then(Value::as_array) {
            let branch = branches
                .iter()
                .filter_map(Value::as_object)
                .find(|b| accepts(b, v.get_ref()));
            return match branch {
                Some(b) => self.value(v, b, outer, path),
                None => self.wrong_type(v, node, path),
            };
        }
        if !accepts(node, v.get_ref()) {
            return self.wrong_type(v, node, path);
        }
        let span = v.span();
        let ok = match v.get_mut() {
            DeValue::Table(t) => {
                self.table(t, &span, node, path);
                return true;
            }
            DeValue::Array(a) => self.array(a, &span, node, path),
            DeValue::String(text) => {
                let text = text.clone().into_owned();
                self.text(&text, &span, node, outer, path)
            }
            DeValue::Integer(i) => {
                let value = i64::from_str_radix(i.as_str(), i.radix()).ok();
                self.number(value.map(|v| v as f64), &span, node, outer, path)
            }
            DeValue::Float(f) => {
                let value = f.as_str().parse::<f64>().ok().filter(|v| v.is_finite());
                self.number(value, &span, node, outer, path)
            }
            DeValue::Boolean(_) | DeValue::Datetime(_) => true,
        };
        if !ok {
            *v.get_mut() = DeValue::Array(DeArray::new());
        }
        ok
    }

    fn wrong_type(&mut self, v: &mut Spanned<DeValue<'_>>, node: &Node, path: &str) -> bool {
        let span = head(self.diags, &v.span());
        let is_number = matches!(v.get_ref(), DeValue::Integer(_) | DeValue::Float(_));
        let found = in_words(v.get_ref());
        let report = match quantity_of(node) {
            Some(kind) if is_number => Report::new(
                &codes::NO_UNIT,
                &span,
                format!("{path} is {} and needs its unit", kind.a_noun()),
            )
            .label("a bare number")
            .help(format!(
                "write the unit behind it, in quotes: units of {kind}: {} (for example {})",
                kind.usual_units(),
                kind.examples()
            )),
            _ => Report::new(
                &codes::WRONG_TYPE,
                &span,
                format!("{path} is {found}, but should be {}", wanted(node)),
            )
            .label(format!("this is {found}")),
        };
        self.diags.push(report);
        *v.get_mut() = if type_is(node, "object") && !node.contains_key("anyOf") {
            DeValue::Table(DeTable::new())
        } else {
            DeValue::Array(DeArray::new())
        };
        false
    }

    fn array(&mut self, a: &mut DeArray<'_>, span: &Range<usize>, node: &Node, path: &str) -> bool {
        let limit = |key| node.get(key).and_then(Value::as_u64).map(|v| v as usize);
        let n = a.len();
        let few = limit("minItems").filter(|&m| n < m);
        let many = limit("maxItems").filter(|&m| n > m);
        if few.is_some() || many.is_some() {
            let rule = match (few, limit("minItems"), limit("maxItems")) {
                (_, Some(lo), Some(hi)) if lo == hi => format!("exactly {lo}"),
                (Some(m), ..) => format!("at least {m}"),
                _ => format!("at most {}", many.unwrap_or(n)),
            };
            let report = Report::new(
                &codes::WRONG_COUNT,
                &head(self.diags, span),
                format!("{path} has {n} entries, but takes {rule}"),
            )
            .label("this list");
            self.diags.push(report);
            return false;
        }
        let tuple = node.get("prefixItems").and_then(Value::as_array);
        let items = node.get("items").and_then(Value::as_object);
        let mut ok = true;
        for (i, v) in a.iter_mut().enumerate() {
            let child = match tuple {
                Some(t) => t.get(i).and_then(Value::as_object),
                None => items,
            };
            let Some(child) = child else { continue };
            let good = self.value(v, child, child, &format!("{path}[{i}]"));
            // A refused group was emptied in place; a refused scalar spoils its list.
            ok &= good || type_is(child, "object");
        }
        ok
    }

    fn text(
        &mut self,
        text: &str,
        span: &Range<usize>,
        node: &Node,
        outer: &Node,
        path: &str,
    ) -> bool {
        if let Some(words) = node.get("enum").and_then(Value::as_array) {
            let words: Vec<&str> = words.iter().filter_map(Value::as_str).collect();
            if words.contains(&text) {
                return true;
            }
            let report = Report::new(
                &codes::UNKNOWN_WORD,
                span,
                format!("{path} does not know the word \"{}\"", clip(text)),
            )
            .label("not in the list");
            let list = word_list(node);
            let report = match nearest(text, words.iter().copied()) {
                Some(near) => report.help(format!("did you mean \"{near}\"? allowed: {list}")),
                None => report.help(format!("allowed: {list}")),
            };
            self.diags.push(report);
            return false;
        }
        let Some(kind) = quantity_of(node) else {
            return true;
        };
        let words = words_of(node);
        if words.contains(&text) {
            return true;
        }
        match units::parse(kind, text) {
            Ok(read) => {
                if let Some(note) = read.note {
                    let report = Report::new(&codes::GALLON, span, note).label("read as US");
                    self.diags.push(report);
                }
                self.range(read.si, kind, span, outer, path)
            }
            Err(e) => {
                let code = match e.problem {
                    Problem::NoUnit => &codes::NO_UNIT,
                    _ => &codes::BAD_QUANTITY,
                };
                let at = inside(self.diags.source().slice(span), text, span, &e.span);
                let mut report = Report::new(code, &at, format!("{path}: {e}")).label("read here");
                let mut help = e.help();
                if !words.is_empty() {
                    let list: Vec<String> = words.iter().map(|w| format!("\"{w}\"")).collect();
                    let near = nearest(text, words.iter().copied());
                    help = match near {
                        Some(near) => format!("did you mean \"{near}\"? or {help}"),
                        None => format!("also allowed: {}; {help}", list.join(", ")),
                    };
                }
                report = report.help(help);
                self.diags.push(report);
                false
            }
        }
    }

    fn number(
        &mut self,
        value: Option<f64>,
        span: &Range<usize>,
        node: &Node,
        outer: &Node,
        path: &str,
    ) -> bool {
        let Some(value) = value else {
            let report = Report::new(
                &codes::OUT_OF_RANGE,
                span,
                format!("{path}: the number is not usable"),
            )
            .label("too large, or not a number");
            self.diags.push(report);
            return false;
        };
        let kind = quantity_of(node).unwrap_or(Kind::Number);
        self.range(value, kind, span, outer, path)
    }

    fn range(&mut self, si: f64, kind: Kind, span: &Range<usize>, node: &Node, path: &str) -> bool {
        let bound = |key| {
            let text = node.get(key).and_then(Value::as_str)?;
            units::parse(kind, text).ok().map(|p| p.si)
        };
        let below = bound("x-min").is_some_and(|m| si < m - 1e-9 * m.abs());
        let above = bound("x-max").is_some_and(|m| si > m + 1e-9 * m.abs());
        if !below && !above {
            return true;
        }
        let written = self.diags.source().slice(span).to_owned();
        let written = written.trim_matches(['"', '\'']);
        let mut report = Report::new(
            &codes::OUT_OF_RANGE,
            span,
            format!(
                "{path}: {} is too {}",
                clip(written),
                if below { "small" } else { "large" }
            ),
        )
        .label("out of range");
        if let Some(range) = range_text(node) {
            let mut help = format!("allowed: {range}");
            if kind == Kind::Fraction && above && !written.contains('%') {
                help.push_str("; a share in per cent needs its sign (\"18 %\")");
            }
            report = report.help(help);
        }
        self.diags.push(report);
        false
    }
}

/// The place of `part` (a range of the trimmed text) within the written value.
fn inside(written: &str, text: &str, span: &Range<usize>, part: &Range<usize>) -> Range<usize> {
    let lead = text.len() - text.trim_start().len();
    let body = if written == text {
        Some(0)
    } else if written.len() == text.len() + 2 && written.get(1..1 + text.len()) == Some(text) {
        Some(1)
    } else {
        None // escapes or long quotes: mark the whole value
    };
    match body {
        Some(q) if part.end > part.start => {
            span.start + q + lead + part.start..span.start + q + lead + part.end
        }
        _ => span.clone(),
    }
}

/// The first line of a long value: enough for a caret.
pub(super) fn head(diags: &Diagnostics, span: &Range<usize>) -> Range<usize> {
    let text = diags.source().slice(span);
    match text.find('\n') {
        Some(n) => span.start..span.start + n.max(1),
        None => span.clone(),
    }
}

/// At most 60 characters.
pub(super) fn clip(text: &str) -> String {
    if text.chars().count() <= 60 {
        return text.replace('\n', " ");
    }
    let mut s: String = text.chars().take(57).collect();
    s.push_str("...");
    s.replace('\n', " ")
}
