//! Random damage to bundled scenarios: never a panic, always a rig or a finding.

use emberloop::scenario::{load_str, schema};
use proptest::prelude::*;

const BASES: [&str; 4] = [
    include_str!("scenario_data/wash-up-barrel.toml"),
    include_str!("scenario_data/cedar-tub.toml"),
    include_str!("scenario_data/night-store-bench.toml"),
    include_str!("scenario_data/wash-up-barrel-stove.toml"),
];

/// Fragments that stress one stage or another.
const BITS: [&str; 28] = [
    "\"",
    "'",
    "[",
    "]",
    "{",
    "}",
    "=",
    ",",
    "\n",
    "#",
    ".",
    "\"\"\"",
    "[[coil]]\n",
    "[store]\n",
    "true",
    "nan",
    "-inf",
    "1e400",
    "99999999999999999999",
    "0",
    "-1",
    "\"0 m\"",
    "\"1e308 km\"",
    "\"-5 degC\"",
    "\"½ in\"",
    "\u{0}",
    "é°",
    "1979-05-27T07:32:00Z",
];

#[derive(Debug, Clone)]
enum Damage {
    Insert(usize, usize),
    Delete(usize, usize),
    Copy(usize, usize, usize),
    /// Replaces the n-th value (text after "= ") by a fragment.
    Value(usize, usize),
    /// Swaps the n-th and the m-th line.
    Swap(usize, usize),
}

fn damage() -> impl Strategy<Value = Damage> {
    let n = 0usize..10_000;
    prop_oneof![
        (n.clone(), 0..BITS.len()).prop_map(|(a, b)| Damage::Insert(a, b)),
        (n.clone(), 1usize..60).prop_map(|(a, b)| Damage::Delete(a, b)),
        (n.clone(), n.clone(), 1usize..80).prop_map(|(a, b, c)| Damage::Copy(a, b, c)),
        (n.clone(), 0..BITS.len()).prop_map(|(a, b)| Damage::Value(a, b)),
        (n.clone(), n).prop_map(|(a, b)| Damage::Swap(a, b)),
    ]
}

fn boundary(text: &str, at: usize) -> usize {
    let mut i = at % (text.len() + 1);
    while !text.is_char_boundary(i) {
        i -= 1;
    }
    i
}

fn apply(text: &mut String, d: &Damage) {
    match *d {
        Damage::Insert(a, b) => {
            let at = boundary(text, a);
            text.insert_str(at, BITS[b]);
        }
        Damage::Delete(a, n) => {
            let from = boundary(text, a);
            let to = boundary(text, (from + n).min(text.len()));
            text.replace_range(from..to.max(from), "");
        }
        Damage::Copy(a, b, n) => {
            let from = boundary(text, a);
            let to = boundary(text, (from + n).min(text.len())).max(from);
            let piece = text[from..to].to_owned();
            let at = boundary(text, b);
            text.insert_str(at, &piece);
        }
        Damage::Value(n, b) => {
            let starts: Vec<usize> = text.match_indices("= ").map(|(i, _)| i + 2).collect();
            if let Some(&at) = starts.get(n % starts.len().max(1)) {
                let end = text[at..]
                    .find([',', '\n', '}', ']'])
                    .map_or(text.len(), |i| at + i);
                text.replace_range(at..end, BITS[b]);
            }
        }
        Damage::Swap(a, b) => {
            let mut lines: Vec<&str> = text.lines().collect();
            let n = lines.len().max(1);
            lines.swap(a % n, b % n);
            *text = lines.join("\n");
        }
    }
}

fn check(text: &str, sets: &[(String, String)]) {
    match load_str("rig.toml", text, sets) {
        Ok(loaded) => {
            // What loads is finite and complete.
            let rig = &loaded.rig;
            assert!(!rig.gas_path.is_empty());
            assert!(rig.firebox.mouth_area_m2 > 0.0);
            for c in &rig.coils {
                assert!(
                    c.tube_inside_m < c.tube_outside_m
                        && c.length_m > 0.0
                        && c.top_z_m > c.bottom_z_m
                );
                assert!(c.section < rig.gas_path.len());
            }
        }
        Err(d) => {
            assert!(d.has_errors());
            let drawn = d.render(false);
            assert!(!drawn.is_empty());
            for x in d.items() {
                assert!(x.place.line >= 1 && x.place.column >= 1 && !x.message.is_empty());
                assert!(
                    !x.message.contains("could not be taken")
                        && !x.message.contains("is incomplete"),
                    "{sets:?}\n{drawn}"
                );
            }
            let _ = d.to_json();
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(10_000) })]

    #[test]
    fn practice_damaged_scenarios_load_or_are_refused_with_a_finding(
        base in 0usize..4,
        all in prop::collection::vec(damage(), 1..4),
    ) {
        let mut text = BASES[base].to_owned();
        for d in &all {
            apply(&mut text, d);
        }
        check(&text, &[]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(2_000) })]

    #[test]
    fn practice_any_text_is_refused_or_read(text in "\\PC{0,200}") {
        check(&text, &[]);
    }

    #[test]
    fn practice_any_override_is_applied_or_refused(
        path in "[a-z_]{1,8}([.\\[][a-z_0-9\\] \"]{1,8}){0,3}",
        value in "\\PC{0,24}",
    ) {
        check(BASES[0], &[(path, value)]);
    }
}

/// All paths of the schema as overrides would name them in a bundled rig.
fn paths(node: &serde_json::Value, path: &str, out: &mut Vec<String>) {
    if let Some(p) = node.get("properties").and_then(|p| p.as_object()) {
        for (k, v) in p {
            let below = if path.is_empty() {
                k.clone()
            } else {
                format!("{path}.{k}")
            };
            out.push(below.clone());
            paths(v, &below, out);
        }
    }
    if let Some(items) = node.get("items") {
        paths(items, &format!("{path}[0]"), out);
    }
    for b in node
        .get("anyOf")
        .and_then(|b| b.as_array())
        .into_iter()
        .flatten()
    {
        paths(b, path, out);
    }
}

#[test]
fn practice_every_key_set_to_every_kind_of_value_loads_or_is_refused() {
    let mut all = Vec::new();
    paths(&schema(), "", &mut all);
    assert!(all.len() > 200);
    for path in &all {
        for value in ["5", "true", "1 m", "50 %", "[]", "{}", "20 degC", "[{}]"] {
            for base in [BASES[1], BASES[2]] {
                check(base, &[(path.clone(), value.to_owned())]);
            }
        }
    }
}
