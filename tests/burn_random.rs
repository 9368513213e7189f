//! Random valid rigs of every kind: all run to their end, keep energy and mass, and stay finite.

mod support {
    pub mod random_rigs;
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::{RunError, burn};
use emberloop::components::spec::*;
use rayon::prelude::*;
use support::random_rigs::random_rig;

const RIGS: u64 = 60;
/// Attempted steps that a burn of some 80 minutes may cost, boiling or not.
const MOST_ATTEMPTS: u64 = 20_000;

struct Outcome {
    rejected: bool,
    boiled: bool,
    reversed: bool,
    starved: bool,
    attempts: u64,
    failure: Option<String>,
}

fn look(seed: u64) -> Outcome {
    let rig = random_rig(seed);
    let mut o = Outcome {
        rejected: false,
        boiled: false,
        reversed: false,
        starved: false,
        attempts: 0,
        failure: None,
    };
    let r = match burn(&rig, &Default::default(), &mut |_| true) {
        Ok(r) => r,
        Err(RunError::Assemble(_)) => {
            o.rejected = true;
            return o;
        }
        Err(e) => {
            o.failure = Some(format!("seed {seed}: {e}"));
            return o;
        }
    };
    let s = &r.summary;
    o.boiled = s.boiling_first_s.is_some();
    o.attempts = s.solver.steps + s.solver.rejected;
    let column = |name: &str| r.series.get(name).unwrap_or(&[]);
    o.reversed = column("loop_flow_kg_s").iter().any(|&w| w < -1e-4);
    o.starved = column("air_ratio").iter().filter(|l| **l < 1.3).count() > 3;
    let mut say = |what: String| {
        o.failure = Some(format!("seed {seed}: {what}"));
    };
    if s.energy_residual_fraction.is_nan() || s.energy_residual_fraction > 1e-5 {
        say(format!("energy residual {:e}", s.energy_residual_fraction));
    }
    for m in &r.ledger.masses {
        if m.residual_fraction.is_nan() || m.residual_fraction > 1e-5 {
            say(format!("{} residual {:e}", m.name, m.residual_fraction));
        }
    }
    for (name, c) in r.series.names.iter().zip(&r.series.columns) {
        if c.iter().any(|v| !v.is_finite()) {
            say(format!("{name} is not finite"));
        }
        // Nothing that burns wood in air is colder than the weather by more than the night sky, nor hotter than its
        // adiabatic flame (some 2,200 K at most).
        if name.ends_with("_temperature_K") && c.iter().any(|v| !(240.0..2300.0).contains(v)) {
            say(format!("{name} leaves 240..2300 K"));
        }
    }
    if (s.end_s - rig.stop.latest_s).abs() > 1e-6 {
        say(format!("ended at {} of {}", s.end_s, rig.stop.latest_s));
    }
    if o.attempts > MOST_ATTEMPTS {
        o.failure = Some(format!("seed {seed}: stalls: {:?}", s.solver));
    }
    o
}

#[test]
fn identity_random_rigs_of_all_kinds_run_to_their_end_and_keep_energy_and_mass() {
    let outcomes: Vec<Outcome> = (0..RIGS).into_par_iter().map(look).collect();
    let count = |f: fn(&Outcome) -> bool| outcomes.iter().filter(|o| f(o)).count();
    let ran = RIGS as usize - count(|o| o.rejected);
    let (boiled, reversed, starved) = (
        count(|o| o.boiled),
        count(|o| o.reversed),
        count(|o| o.starved),
    );
    println!(
        "{ran} of {RIGS} accepted; boiled {boiled}, reversed {reversed}, starved {starved}; most attempts {:?}",
        outcomes.iter().map(|o| o.attempts).max()
    );
    let failures: Vec<&String> = outcomes.iter().filter_map(|o| o.failure.as_ref()).collect();
    assert!(failures.is_empty(), "{failures:#?}");
    // The generator is worth something only where the hard regimes come up.
    assert!(ran * 10 >= RIGS as usize * 8, "{ran} of {RIGS} accepted");
    for (what, n) in [
        ("boiled", boiled),
        ("reversed", reversed),
        ("starved", starved),
    ] {
        assert!(n * 10 >= ran, "only {n} of {ran} {what}");
    }
    kinds();
}

/// The generator covers every kind of section, coil, water side and firebox.
fn kinds() {
    let rigs: Vec<Rig> = (0..RIGS).map(random_rig).collect();
    let any = |f: &dyn Fn(&Rig) -> bool| rigs.iter().filter(|r| f(r)).count();
    let section =
        |k: fn(&SectionKind) -> bool| any(&|r: &Rig| r.gas_path.iter().any(|s| k(&s.kind)));
    let counts = [
        ("riser", section(|k| *k == SectionKind::Riser)),
        ("mass", section(|k| *k == SectionKind::Mass)),
        ("bend", section(|k| *k == SectionKind::Bend)),
        ("damper", section(|k| *k == SectionKind::Damper)),
        ("fan", section(|k| matches!(k, SectionKind::Fan { .. }))),
        ("door", any(&|r| r.firebox.kind == FireboxKind::Door)),
        (
            "feed tube",
            any(&|r| r.firebox.kind == FireboxKind::FeedTube),
        ),
        ("two coils", any(&|r| r.coils.len() == 2)),
        (
            "serpentine",
            any(&|r| {
                r.coils
                    .iter()
                    .any(|c| matches!(c.form, CoilForm::Serpentine { .. }))
            }),
        ),
        ("no water", any(&|r| matches!(r.water, Water::None))),
        (
            "once through",
            any(&|r| matches!(r.water, Water::OnceThrough { .. })),
        ),
        (
            "bench only",
            any(&|r| matches!(r.water, Water::BenchOnly { .. })),
        ),
        (
            "thermosyphon",
            any(&|r| matches!(&r.water, Water::Store { circuit, .. } if circuit.pump.is_none())),
        ),
        (
            "pumped",
            any(&|r| matches!(&r.water, Water::Store { circuit, .. } if circuit.pump.is_some())),
        ),
        (
            "draws",
            any(&|r| matches!(&r.water, Water::Store { draws, .. } if !draws.is_empty())),
        ),
        (
            "open tub",
            any(&|r| matches!(&r.water, Water::Store { vessel, .. } if vessel.surface.is_some())),
        ),
        ("rules", any(&|r| !r.feeding.rules.is_empty())),
    ];
    for (what, n) in counts {
        assert!(n >= 3, "{what} comes up {n} times");
    }
}
