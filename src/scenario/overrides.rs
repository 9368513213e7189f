//! `--set path=value`: splices a value into the parsed table, before anything is checked.

use super::codes;
use super::diagnostic::{Diagnostics, Report, nearest};
use super::source::Source;
use serde_json::{Map, Value};
use std::borrow::Cow;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

type Node = Map<String, Value>;

/// One step of a path.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    Key(String),
    Index(usize),
}

/// Applies all overrides in order; problems are reported at the override's own text.
pub(super) fn apply<'i>(
    root: &mut DeTable<'i>,
    source: &'i Source,
    schema: &'static Value,
    diags: &mut Diagnostics,
) {
    let Some(node) = schema.as_object() else {
        return;
    };
    for set in source.sets() {
        let path = match split(source.slice(&set.path), set.path.start) {
            Ok(p) => p,
            Err(span) => {
                diags.push(
                    Report::new(
                        &codes::UNKNOWN_PATH,
                        &span,
                        "this is no path of keys",
                    )
                    .label("not readable")
                    .help("write section.key, for example coil.length or feeding.every[0].interval"),
                );
                continue;
            }
        };
        let mut splice = Splice {
            source,
            value: set.value.clone(),
            diags,
        };
        splice.table(root, node, &path, "");
    }
}

/// `a.b[2]."c d"` into steps with their places; `Err` holds the place of what cannot be read.
fn split(text: &str, from: usize) -> Result<Vec<(Step, Range<usize>)>, Range<usize>> {
    let mut steps = Vec::new();
    let bytes = text.as_bytes();
    let mut at = 0;
    loop {
        let rest = &text[at..];
        if let Some(quoted) = rest.strip_prefix('"') {
            let end = quoted.find('"').ok_or(from + at..from + text.len())?;
            let span = from + at..from + at + end + 2;
            steps.push((Step::Key(quoted[..end].to_owned()), span));
            at += end + 2;
        } else {
            let end = rest.find(['.', '[']).unwrap_or(rest.len());
            let key = rest[..end].trim();
            if key.is_empty() {
                return Err(from + at..from + (at + end).max(at));
            }
            steps.push((Step::Key(key.to_owned()), from + at..from + at + end));
            at += end;
        }
        while bytes.get(at) == Some(&b'[') {
            let close = text[at..].find(']').ok_or(from + at..from + text.len())?;
            let span = from + at..from + at + close + 1;
            let index = text[at + 1..at + close]
                .trim()
                .parse()
                .map_err(|_| span.clone())?;
            steps.push((Step::Index(index), span));
            at += close + 1;
        }
        match bytes.get(at) {
            None => return Ok(steps),
            Some(b'.') => at += 1,
            Some(_) => return Err(from + at..from + text.len()),
        }
    }
}

/// The object, list or scalar branches of a node.
fn branches(node: &Node) -> Vec<&Node> {
    match node.get("anyOf").and_then(Value::as_array) {
        Some(all) => all.iter().filter_map(Value::as_object).collect(),
        None => vec![node],
    }
}

fn branch_of<'n>(node: &'n Node, wanted: &str) -> Option<&'n Node> {
    branches(node).into_iter().find(|b| has_type(b, wanted))
}

fn has_type(node: &Node, wanted: &str) -> bool {
    match node.get("type") {
        Some(Value::String(t)) => t == wanted,
        Some(Value::Array(all)) => all.iter().any(|t| t == wanted),
        _ => false,
    }
}

/// The name of a list entry: its `name`, or its `part`.
fn entry_name<'a>(v: &'a DeValue<'_>) -> Option<&'a str> {
    let table = v.as_table()?;
    ["name", "part"]
        .iter()
        .find_map(|k| table.get(*k)?.get_ref().as_str())
}

struct Splice<'a, 'i> {
    source: &'i Source,
    value: Range<usize>,
    diags: &'a mut Diagnostics,
}

impl<'i> Splice<'_, 'i> {
    fn lost(&mut self, span: &Range<usize>, message: String, help: String) {
        self.diags.push(
            Report::new(&codes::UNKNOWN_PATH, span, message)
                .label("names nothing")
                .help(help),
        );
    }

    fn table(
        &mut self,
        table: &mut DeTable<'i>,
        node: &'static Node,
        path: &[(Step, Range<usize>)],
        done: &str,
    ) {
        let Some(((step, span), rest)) = path.split_first() else {
            return;
        };
        let known = node.get("properties").and_then(Value::as_object);
        let (Step::Key(key), Some(known)) = (step, known) else {
            self.lost(
                span,
                "a number in brackets picks an entry of a list, and this is none".into(),
                "leave the brackets out".into(),
            );
            return;
        };
        let Some(child) = known.get(key).and_then(Value::as_object) else {
            let at = if done.is_empty() {
                "the scenario".to_owned()
            } else {
                done.to_owned()
            };
            let help = match nearest(key, known.keys().map(String::as_str)) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => format!(
                    "known here: {}",
                    known.keys().cloned().collect::<Vec<_>>().join(", ")
                ),
            };
            self.lost(span, format!("{at} has no key \"{key}\""), help);
            return;
        };
        let below = if done.is_empty() {
            key.clone()
        } else {
            format!("{done}.{key}")
        };
        if rest.is_empty() {
            if let Some(value) = self.build(child) {
                table.insert(Spanned::new(span.clone(), Cow::Owned(key.clone())), value);
            }
            return;
        }
        let is_object = branch_of(child, "object");
        let is_list = branch_of(child, "array");
        match (is_object, is_list) {
            (Some(object), _) => {
                let entry = table
                    .entry(Spanned::new(span.clone(), Cow::Owned(key.clone())))
                    .or_insert_with(|| Spanned::new(span.clone(), DeValue::Table(DeTable::new())));
                if !entry.get_ref().is_table() {
                    *entry = Spanned::new(span.clone(), DeValue::Table(DeTable::new()));
                }
                if let DeValue::Table(t) = entry.get_mut() {
                    self.table(t, object, rest, &below);
                }
            }
            (None, Some(list)) => match table.get_mut(key.as_str()).map(Spanned::get_mut) {
                Some(DeValue::Array(a)) => self.list(a, list, rest, &below),
                _ => self.lost(
                    span,
                    format!("the scenario has no list {below}"),
                    format!("set the whole list: {below}=[...]"),
                ),
            },
            (None, None) => {
                let (_, after) = &rest[0];
                self.lost(
                    after,
                    format!("{below} is a single value"),
                    format!("set {below} itself"),
                );
            }
        }
    }

    fn list(
        &mut self,
        list: &mut DeArray<'i>,
        node: &'static Node,
        path: &[(Step, Range<usize>)],
        done: &str,
    ) {
        let Some(((step, span), rest)) = path.split_first() else {
            return;
        };
        let Some(item) = node.get("items").and_then(Value::as_object) else {
            return;
        };
        let n = list.len();
        let (i, rest) = match step {
            Step::Index(i) => (Some(*i), rest),
            Step::Key(name) => {
                let named = list
                    .iter()
                    .position(|v| entry_name(v.get_ref()) == Some(name.as_str()));
                match named {
                    Some(i) if !rest.is_empty() => (Some(i), rest),
                    _ if n == 1 => (Some(0), path),
                    _ => (None, rest),
                }
            }
        };
        let entry = i.and_then(|i| list.get_mut(i));
        match entry {
            Some(v) if !rest.is_empty() => match v.get_mut() {
                DeValue::Table(t) => self.table(t, item, rest, done),
                _ => self.lost(
                    span,
                    format!("this entry of {done} is no group of keys"),
                    format!("set the whole list: {done}=[...]"),
                ),
            },
            Some(v) => {
                if let Some(value) = self.build(item) {
                    *v = value;
                }
            }
            None => {
                let names: Vec<String> = list
                    .iter()
                    .filter_map(|v| entry_name(v.get_ref()))
                    .map(str::to_owned)
                    .collect();
                let message = match step {
                    Step::Index(i) => {
                        format!("{done} has no entry {i}; it has {n}, counted from 0")
                    }
                    Step::Key(k) => format!("{done} has no entry named \"{k}\""),
                };
                let near = match step {
                    Step::Key(k) => nearest(k, names.iter().map(String::as_str)),
                    Step::Index(_) => None,
                };
                let help = match near {
                    Some(near) => format!("did you mean {done}.{near}?"),
                    None if names.is_empty() => format!("pick an entry by number: {done}[0]"),
                    None => format!("entries: {}; or by number: {done}[0]", names.join(", ")),
                };
                self.lost(span, message, help);
            }
        }
    }

    /// The value as the node wants it: a text without quotes is a text.
    fn build(&mut self, node: &Node) -> Option<Spanned<DeValue<'i>>> {
        let span = self.value.clone();
        let written = self.source.slice(&span);
        let trimmed = written.trim();
        let bracket = trimmed.starts_with('[') || trimmed.starts_with('{');
        let structured = branch_of(node, "array").is_some() || branch_of(node, "object").is_some();
        let quoted = trimmed.starts_with('"') || trimmed.starts_with('\'');
        // A length in inches may end in a quote without beginning with one: only both make a literal.
        let quoted = quoted && trimmed.len() > 1 && trimmed.ends_with(['"', '\'']);
        let text_wanted = branch_of(node, "string").is_some();
        if text_wanted && !(bracket && structured) && !quoted {
            return Some(Spanned::new(span, DeValue::String(Cow::Borrowed(trimmed))));
        }
        match DeValue::parse(written) {
            Ok(v) => Some(shift(v, span.start)),
            Err(_) if text_wanted && !structured => {
                Some(Spanned::new(span, DeValue::String(Cow::Borrowed(trimmed))))
            }
            // A word where a switch, count or group stands: the walk names the right type.
            Err(_) if !bracket && !quoted && !trimmed.is_empty() => {
                Some(Spanned::new(span, DeValue::String(Cow::Borrowed(trimmed))))
            }
            Err(e) => {
                let at = e
                    .span()
                    .map_or(span.clone(), |s| span.start + s.start..span.start + s.end);
                self.diags.push(
                    Report::new(
                        &codes::BAD_VALUE,
                        &at,
                        format!("the value is not readable: {}", e.message()),
                    )
                    .label("here"),
                );
                None
            }
        }
    }
}

/// The same value with every place moved by `by`.
fn shift<'i>(v: Spanned<DeValue<'i>>, by: usize) -> Spanned<DeValue<'i>> {
    let span = v.span().start + by..v.span().end + by;
    let value = match v.into_inner() {
        DeValue::Array(a) => {
            let mut out = DeArray::new();
            for x in a.iter() {
                out.push(shift(x.clone(), by));
            }
            DeValue::Array(out)
        }
        DeValue::Table(t) => {
            let mut out = DeTable::new();
            for (k, x) in t {
                let at = k.span().start + by..k.span().end + by;
                out.insert(Spanned::new(at, k.into_inner()), shift(x, by));
            }
            DeValue::Table(out)
        }
        other => other,
    };
    Spanned::new(span, value)
}

/// The table as TOML text: what was run after overrides.
pub(super) fn to_text(root: &DeTable<'_>) -> String {
    let table: toml::Table = root
        .iter()
        .filter_map(|(k, v)| Some((k.get_ref().to_string(), plain(v.get_ref())?)))
        .collect();
    let body = toml::to_string(&table).unwrap_or_default();
    format!("# As it was run, with the overrides of the command line.\n\n{body}")
}

fn plain(v: &DeValue<'_>) -> Option<toml::Value> {
    Some(match v {
        DeValue::String(s) => toml::Value::String(s.to_string()),
        DeValue::Integer(i) => {
            toml::Value::Integer(i64::from_str_radix(i.as_str(), i.radix()).ok()?)
        }
        DeValue::Float(f) => toml::Value::Float(f.as_str().parse().ok()?),
        DeValue::Boolean(b) => toml::Value::Boolean(*b),
        DeValue::Datetime(d) => toml::Value::Datetime(*d),
        DeValue::Array(a) => {
            toml::Value::Array(a.iter().filter_map(|x| plain(x.get_ref())).collect())
        }
        DeValue::Table(t) => toml::Value::Table(
            t.iter()
                .filter_map(|(k, x)| Some((k.get_ref().to_string(), plain(x.get_ref())?)))
                .collect(),
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identity_paths_split_into_keys_names_and_numbers() {
        let steps =
            |t: &str| split(t, 0).map(|s| s.into_iter().map(|(s, _)| s).collect::<Vec<_>>());
        let key = |k: &str| Step::Key(k.into());
        assert_eq!(steps("coil.length"), Ok(vec![key("coil"), key("length")]));
        assert_eq!(
            steps("gas_path.coil passage.length"),
            Ok(vec![key("gas_path"), key("coil passage"), key("length")])
        );
        assert_eq!(
            steps("feeding.every[0].interval"),
            Ok(vec![
                key("feeding"),
                key("every"),
                Step::Index(0),
                key("interval")
            ])
        );
        assert_eq!(
            steps("gas_path.\"a.b\".length"),
            Ok(vec![key("gas_path"), key("a.b"), key("length")])
        );
        for bad in ["", ".", "a..b", "a[", "a[x]", "a[0]b", "\"a"] {
            assert!(steps(bad).is_err(), "{bad}");
        }
    }
}
