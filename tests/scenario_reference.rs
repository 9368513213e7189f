//! The reference page holds every key of the schema; every code is explained.

use emberloop::scenario::{codes, reference, schema};
use serde_json::Value;
use std::path::Path;

/// With `EMBERLOOP_WRITE_DOCS` set, the page is written anew instead.
#[test]
fn regress_the_reference_page_is_in_step_with_the_schema() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/scenario.md");
    let page = reference();
    if std::env::var_os("EMBERLOOP_WRITE_DOCS").is_some() {
        std::fs::write(&path, &page).expect("docs/scenario.md");
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        written == page,
        "docs/scenario.md is out of date; run this test with EMBERLOOP_WRITE_DOCS=1"
    );
}

fn keys(node: &Value, out: &mut Vec<String>) {
    match node {
        Value::Object(map) => {
            if let Some(Value::Object(p)) = map.get("properties") {
                out.extend(p.keys().cloned());
            }
            map.values().for_each(|v| keys(v, out));
        }
        Value::Array(all) => all.iter().for_each(|v| keys(v, out)),
        _ => {}
    }
}

#[test]
fn identity_every_key_of_the_schema_stands_on_the_reference_page_with_a_meaning() {
    let mut all = Vec::new();
    keys(&schema(), &mut all);
    let page = reference();
    assert!(all.len() > 150, "{}", all.len());
    for key in all {
        assert!(page.contains(&format!("`{key}`")), "{key}");
    }
    for line in page
        .lines()
        .filter(|l| l.starts_with("| `") || l.starts_with("| **`"))
    {
        let cells: Vec<&str> = line.split(" | ").collect();
        assert!(cells.len() >= 4 && !cells[1].trim().is_empty(), "{line}");
    }
}

#[test]
fn practice_every_code_is_explained_and_unique() {
    let mut ids: Vec<&str> = codes::TABLE.iter().map(|c| c.id).collect();
    for id in &ids {
        assert!(codes::explain(id).is_some_and(|t| t.len() > 60), "{id}");
    }
    assert!(codes::explain("e0102").is_some());
    assert!(codes::explain("E9999").is_none());
    // A burn's warnings have codes of the same kind.
    ids.extend(emberloop::analyses::warnings::codes());
    let n = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), n);
}

#[test]
fn identity_every_closure_stands_on_its_page_with_a_range() {
    let text = serde_json::to_string(&schema()).expect("schema");
    let page =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/closures.md"))
            .expect("docs/closures.md");
    let source = std::fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("src/components/closures.rs"),
    )
    .expect("closures");
    let fields: Vec<&str> = source
        .lines()
        .filter_map(|l| l.trim().strip_prefix("pub "))
        .filter_map(|l| l.strip_suffix(": f64,"))
        .map(|f| f.strip_suffix("_per_m").unwrap_or(f))
        .collect();
    assert!(fields.len() >= 20, "{}", fields.len());
    for f in fields {
        assert!(text.contains(&format!("\"{f}\"")), "no key {f}");
        let row = page.lines().find(|l| l.starts_with(&format!("| `{f}` |")));
        assert!(
            row.is_some_and(|r| r.contains(" to ")),
            "docs/closures.md lacks {f} or its range"
        );
    }
}
