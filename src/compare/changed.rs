//! What differs between two scenarios, in words.

use std::collections::BTreeMap;

/// Most values that a sentence names.
const MOST: usize = 9;
/// Of no rig.
const ASIDE: [&str; 2] = ["title", "solver"];
/// The order in which people ask.
const ORDER: [&str; 15] = [
    "coil", "drum", "loop", "pump", "store", "firebox", "gas_path", "fuel", "feeding", "lighting",
    "controls", "target", "draw", "site", "closures",
];

/// Paths of the values that differ.
pub(crate) fn keys(a: &str, b: &str) -> Vec<String> {
    differing(a, b).into_iter().map(|(k, ..)| k).collect()
}

/// "coil: length 12 m instead of 9.1 m; fuel: moisture 30 % instead of 18 %", of the second against the first.
pub(crate) fn sentence(a: &str, b: &str) -> String {
    let mut all = differing(a, b);
    let place = |k: &str| {
        ORDER
            .iter()
            .position(|p| k == *p || k.strip_prefix(p).is_some_and(|r| r.starts_with(['.', '['])))
            .unwrap_or(ORDER.len())
    };
    all.sort_by_key(|(k, ..)| place(k));
    if all.is_empty() {
        return "nothing but the title".into();
    }
    let more = all.len().saturating_sub(MOST);
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (path, from, to) in all.into_iter().take(MOST) {
        let (table, key) = match path.rsplit_once('.') {
            Some((t, k)) => (t.to_owned(), k.replace('_', " ")),
            None => (String::new(), path.replace('_', " ")),
        };
        let said = match (from, to) {
            (Some(from), Some(to)) => format!("{key} {to} instead of {from}"),
            (None, Some(to)) => format!("{key} {to}, which the first does not state"),
            (Some(from), None) => format!("{key} not stated, in the first {from}"),
            (None, None) => continue,
        };
        match groups.last_mut() {
            Some((t, list)) if *t == table => list.push(said),
            _ => groups.push((table, vec![said])),
        }
    }
    let mut text: Vec<String> = groups
        .into_iter()
        .map(|(table, list)| {
            let table = table.replace('_', " ").replace('.', ", ");
            if table.is_empty() {
                list.join(", ")
            } else {
                format!("{table}: {}", list.join(", "))
            }
        })
        .collect();
    if more > 0 {
        text.push(format!("and {more} more values"));
    }
    text.join("; ")
}

type Changed = (String, Option<String>, Option<String>);

fn differing(a: &str, b: &str) -> Vec<Changed> {
    let (a, b) = (flat(a), flat(b));
    let mut all: Vec<Changed> = Vec::new();
    for (k, v) in &b {
        match a.get(k) {
            Some(old) if same(old, v) => {}
            old => all.push((k.clone(), old.cloned(), Some(v.clone()))),
        }
    }
    for (k, v) in a {
        if !b.contains_key(&k) {
            all.push((k, Some(v), None));
        }
    }
    all.sort();
    all
}

/// The same text but for blanks, or the same number.
fn same(a: &str, b: &str) -> bool {
    let tight = |t: &str| t.split_whitespace().collect::<String>().to_lowercase();
    let number = |t: &str| t.trim().parse::<f64>().ok();
    tight(a) == tight(b) || number(a).is_some_and(|x| number(b) == Some(x))
}

/// Leaves of a scenario's text by their path.
fn flat(text: &str) -> BTreeMap<String, String> {
    let mut leaves = BTreeMap::new();
    // A scenario that loaded is TOML.
    let table: toml::Table = toml::from_str(text).unwrap_or_default();
    for (key, value) in &table {
        if !ASIDE.contains(&key.as_str()) {
            walk(key.clone(), value, &mut leaves);
        }
    }
    leaves
}

fn walk(path: String, value: &toml::Value, leaves: &mut BTreeMap<String, String>) {
    match value {
        toml::Value::Table(t) => {
            for (key, v) in t {
                walk(format!("{path}.{key}"), v, leaves);
            }
        }
        toml::Value::Array(list) if list.iter().all(toml::Value::is_table) => {
            for (i, v) in list.iter().enumerate() {
                let name = ["name", "part"]
                    .iter()
                    .find_map(|k| v.get(k).and_then(toml::Value::as_str));
                let at = match (name, list.len()) {
                    (_, 1) => path.clone(),
                    (Some(name), _) => format!("{path}[{name}]"),
                    (None, _) => format!("{path}[{}]", i + 1),
                };
                walk(at, v, leaves);
            }
        }
        toml::Value::String(s) => {
            leaves.insert(path, s.clone());
        }
        other => {
            leaves.insert(path, other.to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_changes_are_told_in_words() {
        let a = "title = \"a\"\n[fuel]\nmoisture = \"18 %\"\n[[coil]]\nname = \"coil\"\nlength = \"9.1 m\"\n";
        let b = "title = \"b\"\n[fuel]\nmoisture = \"30%\"\n[[coil]]\nname = \"coil\"\nlength = \"12 m\"\nfouling = 0\n";
        assert_eq!(
            sentence(a, b),
            "coil: fouling 0, which the first does not state, length 12 m instead of 9.1 m; fuel: moisture 30% instead of 18 %"
        );
        assert_eq!(sentence(a, a), "nothing but the title");
        assert_eq!(keys(a, &a.replace("18 %", "18%")), Vec::<String>::new());
    }
}
