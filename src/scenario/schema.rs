//! The JSON Schema of a scenario, made from the raw mirror; the same schema steers the walk over a file.

use super::defaults;
use super::raw::RawScenario;
use crate::units::Kind;
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value};
use std::sync::OnceLock;

/// The schema, built once.
pub(super) fn shared() -> &'static Value {
    static SCHEMA: OnceLock<Value> = OnceLock::new();
    SCHEMA.get_or_init(|| {
        let mut value = bare();
        annotate(&mut value, "");
        value
    })
}

/// The schema with the plain descriptions of the raw mirror.
pub(super) fn bare() -> Value {
    let generator = SchemaSettings::draft2020_12()
        .with(|s| s.inline_subschemas = true)
        .into_generator();
    let mut value = generator.into_root_schema_for::<RawScenario>().to_value();
    tidy(&mut value);
    value
}

/// JSON Schema (draft 2020-12) of a scenario, for editors: keys, types, ranges, defaults, descriptions.
///
/// Quantities are strings with `x-quantity` (their kind) and, where there is one, a range `x-min`, `x-max`.
pub fn schema() -> Value {
    shared().clone()
}

/// TOML has no null: an optional key is simply absent. Unknown keys are refused everywhere.
fn tidy(v: &mut Value) {
    match v {
        Value::Object(map) => {
            if let Some(Value::Array(types)) = map.get_mut("type") {
                types.retain(|t| t != "null");
                if let [only] = types.as_slice() {
                    let only = only.clone();
                    map.insert("type".into(), only);
                }
            }
            if let Some(Value::Array(branches)) = map.get_mut("anyOf") {
                branches.retain(|b| b.get("type").is_none_or(|t| t != "null"));
                if let [only] = branches.as_slice() {
                    let only = only.clone();
                    map.remove("anyOf");
                    if let Value::Object(inner) = only {
                        for (k, val) in inner {
                            map.entry(k).or_insert(val);
                        }
                    }
                }
            }
            if map.contains_key("properties") {
                map.insert("additionalProperties".into(), Value::Bool(false));
            }
            for (_, child) in map.iter_mut() {
                tidy(child);
            }
        }
        Value::Array(all) => all.iter_mut().for_each(tidy),
        _ => {}
    }
}

/// Puts kind, range and default of each key into its description, where an editor shows it.
fn annotate(v: &mut Value, path: &str) {
    let Value::Object(map) = v else { return };
    if !path.is_empty() {
        let more = details(map, path);
        if !more.is_empty() {
            let text = map.get("description").and_then(Value::as_str).unwrap_or("");
            let text = if text.is_empty() {
                more
            } else {
                format!("{text} ({more})")
            };
            map.insert("description".into(), Value::String(text));
        }
    }
    if let Some(Value::Object(properties)) = map.get_mut("properties") {
        for (key, child) in properties.iter_mut() {
            let below = if path.is_empty() {
                key.clone()
            } else {
                format!("{path}.{key}")
            };
            annotate(child, &below);
        }
    }
    for key in ["items", "anyOf"] {
        match map.get_mut(key) {
            Some(Value::Array(branches)) => {
                for b in branches {
                    annotate_inside(b, path);
                }
            }
            Some(one) => annotate_inside(one, path),
            None => {}
        }
    }
}

/// Descends through lists and branches, which have no path of their own.
fn annotate_inside(v: &mut Value, path: &str) {
    let Value::Object(map) = v else { return };
    if let Some(Value::Object(properties)) = map.get_mut("properties") {
        for (key, child) in properties.iter_mut() {
            annotate(child, &format!("{path}.{key}"));
        }
    }
    if let Some(items) = map.get_mut("items") {
        annotate_inside(items, path);
    }
}

/// "length; 40 mm to 2 m; default 150 mm: why".
fn details(map: &Map<String, Value>, path: &str) -> String {
    let mut parts = Vec::new();
    if let Some(kind) = quantity_of(map) {
        let words: Vec<&str> = words_of(map);
        let mut text = kind.noun().to_owned();
        if !words.is_empty() {
            text = format!("{text}, or {}", words.join(", or "));
        }
        parts.push(text);
    }
    if let Some(range) = range_text(map) {
        parts.push(range);
    }
    for (variant, d) in defaults::of_path(path) {
        parts.push(if variant.is_empty() {
            format!("default {}: {}", d.value, d.reason)
        } else {
            format!("default for {}: {}", variant.replace('_', " "), d.value)
        });
    }
    parts.join("; ")
}

/// The quantity of a node, its string branch included.
pub(super) fn quantity_of(map: &Map<String, Value>) -> Option<Kind> {
    let own = map.get("x-quantity").and_then(Value::as_str);
    let branch = || {
        map.get("anyOf")?
            .as_array()?
            .iter()
            .find_map(|b| b.get("x-quantity")?.as_str())
    };
    Kind::from_word(own.or_else(branch)?)
}

/// Words that may stand instead of the quantity.
pub(super) fn words_of(map: &Map<String, Value>) -> Vec<&str> {
    map.get("x-words")
        .and_then(Value::as_array)
        .map(|a| a.iter().filter_map(Value::as_str).collect())
        .unwrap_or_default()
}

/// "40 mm to 2 m".
pub(super) fn range_text(map: &Map<String, Value>) -> Option<String> {
    let get = |k| map.get(k).and_then(Value::as_str);
    match (get("x-min"), get("x-max")) {
        (Some(a), Some(b)) => Some(format!("{a} to {b}")),
        (Some(a), None) => Some(format!("{a} or more")),
        (None, Some(b)) => Some(format!("up to {b}")),
        (None, None) => None,
    }
}
