//! One right-hand side, and whole burns without series or pictures.

#[path = "../tests/support/three_hours.rs"]
mod three_hours;

use criterion::{Criterion, criterion_group, criterion_main};
use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::spec::Rig;
use emberloop::integrate::OdeSystem;
use emberloop::network::Network;
use emberloop::scenario::load_path;
use std::hint::black_box;
use std::path::Path;

/// Every bundled scenario, by its file name.
fn scenarios() -> Vec<(String, Rig)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the bundled scenarios are there")
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    files
        .iter()
        .map(|path| {
            let loaded = load_path(path, &[]).expect("a bundled scenario loads");
            (loaded.stem, loaded.rig)
        })
        .collect()
}

fn right_hand_side(c: &mut Criterion) {
    let mut group = c.benchmark_group("right_hand_side");
    for (name, rig) in scenarios() {
        let net = Network::new(&rig).expect("a bundled rig assembles");
        let y = net.initial_state();
        let mut dy = vec![0.0; net.len()];
        group.bench_function(format!("{name}_{}_states", net.len()), |b| {
            b.iter(|| net.rhs(black_box(600.0), black_box(&y), &mut dy));
        });
    }
    group.finish();
}

fn burns(c: &mut Criterion) {
    let mut group = c.benchmark_group("burn");
    group.sample_size(20);
    let options = BurnOptions {
        series: false,
        ..BurnOptions::default()
    };
    for (name, rig) in scenarios() {
        let result = burn(&rig, &options, &mut |_| true).expect("a bundled rig burns");
        eprintln!(
            "{name}: {:?}, end {} s",
            result.summary.solver, result.summary.end_s
        );
        group.bench_function(name, |b| {
            b.iter(|| burn(black_box(&rig), &options, &mut |_| true));
        });
    }
    group.finish();
}

/// 189 states, 16 gas cells.
fn three_hours(c: &mut Criterion) {
    let rig = three_hours::rig(three_hours::TOLERANCES);
    let options = BurnOptions {
        series: false,
        ..BurnOptions::default()
    };
    let summary = burn(&rig, &options, &mut |_| true)
        .expect("a bundled rig burns")
        .summary;
    assert!(summary.feeds >= 35 && summary.end_s == 10_800.0);
    eprintln!("3 h: {} feeds, {:?}", summary.feeds, summary.solver);
    let mut group = c.benchmark_group("burn_three_hours");
    group.sample_size(20);
    group.bench_function("wash-up-barrel_36_feeds_and_a_pump_switch", |b| {
        b.iter(|| burn(black_box(&rig), &options, &mut |_| true));
    });
    group.finish();
}

criterion_group!(benches, right_hand_side, burns, three_hours);
criterion_main!(benches);
