//! The reference page of the scenario file, written from the schema so that it cannot drift.

/// Markdown: every key with meaning, kind, range, default.
pub fn reference() -> String {
    String::new()
}
