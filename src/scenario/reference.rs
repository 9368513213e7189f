//! The reference page of the scenario file, written from the schema so that it cannot drift.

use super::codes;
use super::defaults;
use super::schema::{bare, quantity_of, range_text, words_of};
use crate::properties::{metals, pipes, solids, tubes, wood};
use crate::units::Kind;
use serde_json::{Map, Value};
use std::fmt::Write;

type Node = Map<String, Value>;

const INTRO: &str = "\
# The scenario file

A scenario is a TOML file that describes one rig and one burn on it. `emberloop new` writes a commented one to start
from; `emberloop check FILE` tells everything that is wrong with a file at once; `emberloop schema` prints a JSON Schema
for editors; `emberloop explain E0202` explains a code at length.

This page is written by the program (`tests/scenario_reference.rs` keeps it in step).

## Rules

- A quantity is text with its unit, in quotes: `\"8 in\"`, `\"50 degF\"`, `\"3 gpm\"`, `\"12 lb\"`. Metric and US units may be
  mixed. Fractions (`\"3/4 in\"`, `\"1 1/2 in\"`) and chains of falling units (`\"1 ft 2 in\"`, `\"1 h 30 min\"`) are read. A decimal
  comma is refused, as it could be a thousands mark.
- A share is written `\"18 %\"`, or as a number from 0 to 1. A plain number has no quotes: `loss = 1.5`.
- `gal` and `gpm` are read as US, and a note says so; write `US gal` or `imp gal` to be explicit.
- Heights are measured from one datum, the hearth floor (inside bottom of the firebox). Times count from lighting.
- A key that may be left out has a default; every default that was taken is listed, with its reason, in the results.
- A key that could not change any result in the rig at hand is refused, with the reason.

## Overrides

`--set path=value` replaces or adds one value. The path is `section.key`; where a section repeats, the entry's name or its
number (from 0) comes between, and may be left out where there is only one entry: `coil.length=\"30 ft\"`,
`gas_path.flue.length=\"4 m\"`, `coil[1].length=...`, `feeding.every[0].interval=\"5 min\"`, `pump.settings.high.power=\"25 W\"`.

## Units

| kind | units (examples of spelling) | written |
|---|---|---|
";

/// Markdown: every key with meaning, kind, range and default; tables of names; codes.
pub fn reference() -> String {
    let mut out = INTRO.to_owned();
    for kind in Kind::ALL {
        let _ = writeln!(
            out,
            "| {} | {} | {} |",
            kind.noun(),
            kind.usual_units(),
            kind.examples().replace('"', "`")
        );
    }
    out.push_str("\n# Keys\n\nKeys in **bold** must be given.\n");
    let root = bare();
    if let Some(node) = root.as_object() {
        out.push_str("\n## Top level\n\n");
        rows(&mut out, node, "", true);
        let mut seen = Vec::new();
        for (key, child) in properties(node) {
            group(&mut out, key, child, &mut seen, 2);
        }
    }
    names(&mut out);
    out.push_str("\n# Codes\n\n| code | meaning |\n|---|---|\n");
    for c in codes::TABLE {
        let _ = writeln!(out, "| {} | {} |", c.id, c.title);
    }
    out
}

fn properties(node: &Node) -> impl Iterator<Item = (&String, &Node)> {
    node.get("properties")
        .and_then(Value::as_object)
        .into_iter()
        .flatten()
        .filter_map(|(k, v)| Some((k, v.as_object()?)))
}

/// The group of keys inside a node: itself, the entries of a list, or a branch; and whether it repeats.
fn inner(node: &Node) -> Option<(&Node, bool)> {
    if node.contains_key("properties") {
        return Some((node, false));
    }
    if let Some(items) = node.get("items").and_then(Value::as_object) {
        return inner(items).map(|(n, _)| (n, true));
    }
    node.get("anyOf")?
        .as_array()?
        .iter()
        .filter_map(Value::as_object)
        .find_map(inner)
}

/// A heading and a table for one group, then its inner groups.
fn group(out: &mut String, path: &str, node: &Node, seen: &mut Vec<(Value, String)>, level: usize) {
    let Some((keys, repeats)) = inner(node) else {
        return;
    };
    let marks = "#".repeat(level);
    let top = !path.contains('.');
    let title = match (top, repeats) {
        (true, true) => format!("`[[{path}]]`"),
        (true, false) => format!("`[{path}]`"),
        (false, true) => format!("`{path}` (list)"),
        (false, false) => format!("`{path}`"),
    };
    let _ = writeln!(out, "\n{marks} {title}\n");
    if let Some(text) = node.get("description").and_then(Value::as_str) {
        let _ = writeln!(out, "{}\n", one_line(text));
    }
    let inside = keys.get("properties").cloned().unwrap_or_default();
    if let Some((_, first)) = seen.iter().find(|(v, _)| *v == inside) {
        let _ = writeln!(out, "Keys as in `{first}`.");
        return;
    }
    seen.push((inside, path.to_owned()));
    rows(out, keys, path, false);
    for (key, child) in properties(keys) {
        group(out, &format!("{path}.{key}"), child, seen, 3);
    }
}

/// One row per key.
fn rows(out: &mut String, node: &Node, path: &str, sections: bool) {
    out.push_str("| key | meaning | written as | range | default |\n|---|---|---|---|---|\n");
    let required: Vec<&str> = node
        .get("required")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    for (key, child) in properties(node) {
        let below = if sections {
            key.clone()
        } else {
            format!("{path}.{key}")
        };
        let name = if required.contains(&key.as_str()) {
            format!("**`{key}`**")
        } else {
            format!("`{key}`")
        };
        let doc = child
            .get("description")
            .and_then(Value::as_str)
            .unwrap_or("");
        let derived = defaults::DERIVED
            .iter()
            .filter(|(k, _)| *k == below)
            .map(|(_, text)| (*text).to_owned());
        let defaults: Vec<String> = defaults::of_path(&below)
            .into_iter()
            .map(|(variant, d)| {
                let of = if variant.is_empty() {
                    String::new()
                } else {
                    format!("{}: ", variant.replace('_', " "))
                };
                format!("{of}`{}` ({})", d.value, d.reason)
            })
            .chain(derived)
            .collect();
        let _ = writeln!(
            out,
            "| {name} | {} | {} | {} | {} |",
            one_line(doc),
            written(child),
            range_text(child).unwrap_or_default(),
            defaults.join("; ")
        );
    }
}

/// How a value of a node is written.
fn written(node: &Node) -> String {
    if let Some(branches) = node.get("anyOf").and_then(Value::as_array) {
        let all: Vec<String> = branches
            .iter()
            .filter_map(Value::as_object)
            .map(written)
            .collect();
        return all.join(", or ");
    }
    if let Some(kind) = quantity_of(node) {
        let mut text = kind.noun().to_owned();
        for w in words_of(node) {
            let _ = write!(text, ", or `\"{w}\"`");
        }
        return text;
    }
    if let Some(words) = node.get("enum").and_then(Value::as_array) {
        let all: Vec<String> = words
            .iter()
            .filter_map(Value::as_str)
            .map(|w| format!("`\"{w}\"`"))
            .collect();
        return all.join(", ");
    }
    if let Some(pair) = node.get("prefixItems").and_then(Value::as_array) {
        let all: Vec<String> = pair
            .iter()
            .filter_map(Value::as_object)
            .map(written)
            .collect();
        return format!("[{}]", all.join(", "));
    }
    match node.get("type").and_then(Value::as_str) {
        Some("boolean") => "`true` or `false`".into(),
        Some("integer") => "whole number".into(),
        Some("object") => "group of keys".into(),
        Some("array") => match node.get("items").and_then(Value::as_object) {
            Some(i) if i.contains_key("properties") => "list of groups".into(),
            Some(i) => format!("list of {}", written(i)),
            None => "list".into(),
        },
        _ => "text".into(),
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace('|', "\\|")
}

/// The names that the tables of properties know.
fn names(out: &mut String) {
    let list = |names: Vec<String>| {
        names
            .iter()
            .map(|n| format!("`{n}`"))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let own = |names: Vec<&str>| list(names.into_iter().map(str::to_owned).collect());
    out.push_str("\n# Names\n");
    for (title, names) in [
        ("Woods (`fuel.species`)", own(wood::names())),
        (
            "Materials of walls, shells, insulation, benches",
            own(solids::names()),
        ),
        ("Metals of coils (`coil.metal`)", own(metals::names())),
        ("Pipes (`kind`)", own(pipes::names())),
        ("Tubes by trade size (`coil.tube`)", list(tubes::names())),
    ] {
        let _ = writeln!(out, "\n## {title}\n\n{names}");
    }
}
