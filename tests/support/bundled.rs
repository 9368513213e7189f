//! The bundled scenarios.

use std::path::{Path, PathBuf};

/// Their files, by name.
pub fn files() -> Vec<PathBuf> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut all: Vec<_> = std::fs::read_dir(dir)
        .expect("scenarios")
        .filter_map(|e| Some(e.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    all.sort();
    assert!(all.len() >= 4);
    all
}
