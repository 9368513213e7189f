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

/// Rigs of a run of the tests; `EMBERLOOP_RIGS` asks for another number.
const RIGS: u64 = 500;

fn rigs() -> u64 {
    std::env::var("EMBERLOOP_RIGS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(RIGS)
}

/// Attempted steps that a burn of some 80 minutes may cost, boiling or not.
const MOST_ATTEMPTS: u64 = 20_000;

struct Outcome {
    rejected: bool,
    boiled: bool,
    reversed: bool,
    starved: bool,
    pumped: bool,
    syphon: bool,
    shut: bool,
    relieved: bool,
    burst: bool,
    attempts: u64,
    failure: Option<String>,
}

/// Whether a rig's loop has a pump; none without a loop.
fn moved_by_pump(rig: &Rig) -> Option<bool> {
    match &rig.water {
        Water::Store {
            circuit: Some(circuit),
            ..
        }
        | Water::BenchOnly { circuit, .. } => Some(circuit.pump.is_some()),
        _ => None,
    }
}

/// What shuts a rig's store in.
fn closed(rig: &Rig) -> Option<&Closed> {
    match &rig.water {
        Water::Store { vessel, .. } => vessel.closed.as_ref(),
        _ => None,
    }
}

fn look(seed: u64) -> Outcome {
    let rig = random_rig(seed);
    let mut o = Outcome {
        rejected: false,
        boiled: false,
        reversed: false,
        starved: false,
        pumped: moved_by_pump(&rig) == Some(true),
        syphon: moved_by_pump(&rig) == Some(false),
        shut: closed(&rig).is_some(),
        relieved: false,
        burst: false,
        attempts: 0,
        failure: None,
    };
    // A panic is a failure of its seed, not of the whole test.
    let ran = std::panic::catch_unwind(|| burn(&rig, &Default::default(), &mut |_| true));
    let Ok(ran) = ran else {
        o.failure = Some(format!("seed {seed}: panics"));
        return o;
    };
    let r = match ran {
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
    o.relieved = s.relief_first_s.is_some();
    let column = |name: &str| r.series.get(name).unwrap_or(&[]);
    // Water that runs back for more than a minute, more than a gram a second (three samples of 20 s).
    o.reversed = column("loop_flow_kg_s")
        .iter()
        .filter(|w| **w < -1e-3)
        .count()
        > 3;
    // Less air than the wood that burns would need, for more than a minute.
    o.starved = column("air_ratio").iter().filter(|l| **l < 1.0).count() > 3;
    let mut say = |what: String| {
        o.failure
            .get_or_insert_with(|| format!("seed {seed}:"))
            .push_str(&format!(" {what};"));
    };
    if s.energy_residual_fraction.is_nan() || s.energy_residual_fraction > 1e-5 {
        say(format!("energy residual {:e}", s.energy_residual_fraction));
    }
    for m in &r.ledger.masses {
        if m.residual_fraction.is_nan() || m.residual_fraction > 1e-5 {
            say(format!("{} residual {:e}", m.name, m.residual_fraction));
        }
    }
    if let (Some(c), Some(peak)) = (closed(&rig), s.pressure_peak_Pa) {
        let at_relief = peak > c.relief_pa - 1.0;
        let relieved = s.relief_first_s.is_some();
        let past_burst = peak > c.burst_pa * (1.0 + 1e-6);
        if relieved != at_relief || past_burst && s.burst.is_none() {
            say(format!(
                "peak {peak} Pa, relief at {} Pa, lifted: {relieved}, burst at {} Pa: {:?}",
                c.relief_pa, c.burst_pa, s.burst
            ));
        }
        o.burst = s.burst.is_some();
    }
    for (name, c) in r.series.names.iter().zip(&r.series.columns) {
        if c.iter().any(|v| !v.is_finite()) {
            say(format!("{name} is not finite"));
        }
        // Nothing that burns wood in air is colder than the weather by more than the night sky, nor hotter than its
        // adiabatic flame (some 2,200 K at most).
        let beyond = c.iter().position(|v| !(240.0..2300.0).contains(v));
        if let (true, Some(i)) = (name.ends_with("_temperature_K"), beyond) {
            say(format!("{name} is {} K at row {i} of {}", c[i], c.len()));
        }
    }
    if (s.end_s - rig.stop.latest_s).abs() > 1e-6 && s.burst.is_none() {
        say(format!("ended at {} of {}", s.end_s, rig.stop.latest_s));
    }
    if o.attempts > MOST_ATTEMPTS {
        o.failure = Some(format!("seed {seed}: stalls: {:?}", s.solver));
    }
    o
}

#[test]
fn identity_random_rigs_of_all_kinds_run_to_their_end_and_keep_energy_and_mass() {
    let rigs = rigs();
    let seeds: Vec<u64> = (0..rigs).collect();
    let outcomes: Vec<Outcome> = seeds.par_iter().map(|&s| look(s)).collect();
    let count = |f: fn(&Outcome) -> bool| outcomes.iter().filter(|o| f(o)).count();
    let ran = rigs as usize - count(|o| o.rejected);
    let (boiled, reversed, starved) = (
        count(|o| o.boiled),
        count(|o| o.reversed),
        count(|o| o.starved),
    );
    println!(
        "{ran} of {rigs} accepted (the generator rejects {:.1} %); boiled {boiled}, reversed {reversed}, starved {starved}, \
         pumped {}, thermosyphon {}, shut in {} ({} lifted the relief valve, {} burst); most attempts {:?}",
        100.0 * (rigs as usize - ran) as f64 / rigs as f64,
        count(|o| o.pumped),
        count(|o| o.syphon),
        count(|o| o.shut),
        count(|o| o.relieved),
        count(|o| o.burst),
        outcomes.iter().map(|o| o.attempts).max()
    );
    let failures: Vec<&String> = outcomes.iter().filter_map(|o| o.failure.as_ref()).collect();
    assert!(failures.is_empty(), "{failures:#?}");
    // The generator is worth something only where the hard regimes come up.
    assert!(ran * 10 >= rigs as usize * 8, "{ran} of {rigs} accepted");
    for (what, n) in [
        ("boiled", boiled),
        ("reversed", reversed),
        ("starved", starved),
        ("pumped", count(|o| o.pumped)),
        ("thermosyphon", count(|o| o.syphon)),
    ] {
        assert!(n * 10 >= ran, "only {n} of {ran} {what}");
    }
    kinds();
}

/// The generator covers every kind of section, coil, water side and firebox.
fn kinds() {
    let rigs: Vec<Rig> = (0..60).map(random_rig).collect();
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
            "down-draught",
            any(&|r| r.firebox.kind == FireboxKind::DownDraught),
        ),
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
            any(
                &|r| matches!(&r.water, Water::Store { circuit: Some(circuit), .. } if circuit.pump.is_none()),
            ),
        ),
        (
            "pumped",
            any(
                &|r| matches!(&r.water, Water::Store { circuit: Some(circuit), .. } if circuit.pump.is_some()),
            ),
        ),
        (
            "draws",
            any(&|r| matches!(&r.water, Water::Store { draws, .. } if !draws.is_empty())),
        ),
        (
            "open tub",
            any(&|r| matches!(&r.water, Water::Store { vessel, .. } if vessel.surface.is_some())),
        ),
        ("shut in", any(&|r| closed(r).is_some())),
        ("rules", any(&|r| !r.feeding.rules.is_empty())),
    ];
    for (what, n) in counts {
        assert!(n >= 3, "{what} comes up {n} times");
    }
}
