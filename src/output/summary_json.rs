//! `summary.json`: the numbers of a burn, its account of energy, its events and its named defaults.

use crate::results::BurnResult;
use serde_json::{Map, Value, json};

/// Summary keys on top (defined in `docs/summary-keys.md`), then `ledger`, `bands`, `events`, `defaults`.
/// A number that is not finite becomes null.
pub fn summary_json(result: &BurnResult) -> Value {
    let mut top = match serde_json::to_value(&result.summary) {
        Ok(Value::Object(map)) => map,
        _ => Map::new(),
    };
    let rest = [
        ("ledger", serde_json::to_value(&result.ledger)),
        ("bands", serde_json::to_value(&result.bands)),
        ("events", serde_json::to_value(&result.events)),
        ("defaults", serde_json::to_value(&result.defaults)),
    ];
    for (key, value) in rest {
        top.insert(key.into(), value.unwrap_or_else(|_| json!(null)));
    }
    Value::Object(top)
}

/// The bytes of the file: two blanks per level, a line feed at the end.
pub fn summary_bytes(result: &BurnResult) -> Vec<u8> {
    let value = summary_json(result);
    let mut bytes = serde_json::to_vec_pretty(&value).unwrap_or_default();
    bytes.push(b'\n');
    bytes
}
