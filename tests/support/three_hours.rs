//! The burn that the benchmark times and a test holds to its accuracy.

use emberloop::components::spec::Rig;
use emberloop::scenario::load_path;
use std::path::Path;

/// Coarser than by default: the store stays within 0.05 K of a tight run all the same (`tests/convergence.rs`).
pub const TOLERANCES: [&str; 2] = ["8e-3", "2e-3"];

/// The wash-up barrel for 3 h with a feed every 5 min from 5 min on and the pump switched to its high setting half way:
/// 36 feeds (the last falls on the end); relative and absolute tolerance.
pub fn rig([rtol, atol]: [&str; 2]) -> Rig {
    let moves = [
        ("feeding.every[0].from", "5 min"),
        ("feeding.every[0].interval", "5 min"),
        ("feeding.every[0].add", "0.35 kg"),
        ("controls.pump.moves[0].at", "90 min"),
        // Not reached: the run ends at 3 h.
        ("target.temperature", "98 degC"),
        ("stop.latest", "3 h"),
        ("solver.rtol", rtol),
        ("solver.atol", atol),
    ]
    .map(|(key, value)| (key.to_string(), value.to_string()));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/wash-up-barrel.toml");
    let loaded = load_path(&path, &moves).expect("a bundled scenario loads");
    loaded.rig
}
