//! The answer must not depend on cells, tolerances, inflated inertias, output spacing, threads or the day.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::{burn, burn_watched};
use emberloop::components::spec::*;
use emberloop::integrate::OdeSystem;
use emberloop::results::{BurnResult, EventKind};
use support::{rigs::barrel, variants};

type Change = fn(&mut SolverSettings);

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

fn to_target(rig: &Rig) -> f64 {
    run(rig).summary.time_to_target_s.expect("target reached")
}

/// Rigs whose target is reached, one pumped, one driven by its own buoyancy, one with a door.
fn targets() -> [(&'static str, Rig); 3] {
    let mut three = [
        ("barrel", barrel()),
        ("tub", variants::tub()),
        ("door stove", variants::door_stove()),
    ];
    for (_, r) in &mut three {
        r.stop.after_target_s = 1.0;
        r.target.temperature_k = 308.15;
        r.solver.output_interval_s = 600.0;
    }
    three
}

#[test]
fn identity_twice_the_cells_and_a_tenth_of_the_tolerance_give_the_same_time_to_target() {
    for (name, rig) in targets() {
        let base = run(&rig);
        let mut fine = rig.clone();
        fine.solver.cell_factor = 2;
        fine.solver.rtol *= 0.1;
        fine.solver.atol *= 0.1;
        let fine = run(&fine);
        let (a, b) = (
            base.summary.time_to_target_s.expect("target"),
            fine.summary.time_to_target_s.expect("target"),
        );
        println!(
            "{name}: {a:.1} s, fine {b:.1} s, {:+.3} %",
            100.0 * (b / a - 1.0)
        );
        assert!((b / a - 1.0).abs() < 0.01, "{name}: {a} s against {b} s");
        let loss = |r: &BurnResult| r.summary.stack_loss_fraction.expect("burnt");
        assert!(
            (loss(&base) - loss(&fine)).abs() < 0.005,
            "{name}: stack loss {} against {}",
            loss(&base),
            loss(&fine)
        );
    }
}

#[test]
fn identity_the_inflated_inertias_do_not_show() {
    for (name, mut rig) in targets() {
        // Tighter, so that what is seen is the inertia and not the steps.
        rig.solver.rtol *= 0.1;
        rig.solver.atol *= 0.1;
        let base = to_target(&rig);
        let moves: [(&str, Change); 3] = [
            ("air", |s| s.air_inertia_s *= 0.5),
            ("flame", |s| s.flame_inertia_s *= 0.5),
            ("pump", |s| s.pump_inertia_s *= 0.5),
        ];
        for (what, halve) in moves {
            let mut r = rig.clone();
            halve(&mut r.solver);
            let t = to_target(&r);
            println!(
                "{name}, {what} inertia halved: {:+.4} %",
                100.0 * (t / base - 1.0)
            );
            assert!(
                (t / base - 1.0).abs() < 1e-3,
                "{name}: half the {what} inertia moves the time to target from {base} to {t} s"
            );
        }
    }
}

/// The right-hand side in the processor's own instructions against that in the ones that all have (the same where it has none).
#[test]
fn identity_every_processor_gives_the_same_bits() {
    for (name, rig) in targets() {
        let mut moments = 0;
        burn_watched(&rig, &Default::default(), &mut |_| true, &mut |net, seg| {
            for part in [0.0, 0.3, 1.0] {
                let t = seg.dense.t0() + part * (seg.dense.t1() - seg.dense.t0());
                let y = seg.dense.at(t);
                let mut own = vec![0.0; y.len()];
                let mut portable = own.clone();
                net.rhs(t, &y, &mut own);
                net.rhs_portable(t, &y, &mut portable);
                for (i, (a, b)) in own.iter().zip(&portable).enumerate() {
                    let state = net.state_name(i);
                    assert_eq!(a.to_bits(), b.to_bits(), "{name}: {state} at {t} s");
                }
                moments += 1;
            }
        })
        .expect("runs");
        assert!(moments > 20, "{name}: {moments}");
    }
}

#[test]
fn identity_the_output_spacing_does_not_touch_the_solution() {
    let mut a = barrel();
    a.stop.latest_s = 2000.0;
    let mut b = a.clone();
    b.solver.output_interval_s = 7.0;
    let (a, b) = (run(&a), run(&b));
    assert_eq!(a.summary.solver, b.summary.solver);
    assert_eq!(a.summary.heat_to_tank_J, b.summary.heat_to_tank_J);
    assert_eq!(a.ledger.unaccounted_j, b.ledger.unaccounted_j);
}

#[test]
fn practice_feeds_and_switches_happen_at_their_times() {
    let mut r = variants::door_stove();
    r.stop.at_target = false;
    r.stop.latest_s = 4000.0;
    r.feeding.list = vec![FeedEvent {
        at_s: 423.123_456_7,
        mass_kg: 1.0,
        thickness_m: None,
    }];
    r.feeding.every = vec![FeedEvery {
        from_s: 900.1,
        interval_s: 777.7,
        until: Until::Time(3300.0),
        mass_kg: 1.1,
    }];
    r.feeding.door_open_s = 33.3;
    r.controls.air_inlet.steps.moves = vec![(1_000.000_001, 0.5), (1500.25, 1.0)];
    r.controls.damper.steps.moves = vec![(1234.5, 0.4)];
    r.controls.pump.steps.moves = vec![(1111.1, None), (1222.2, Some(0))];
    let b = run(&r);
    let times = |k: EventKind| -> Vec<f64> {
        b.events
            .iter()
            .filter(|e| e.kind == k)
            .map(|e| e.time_s)
            .collect()
    };
    let same = |k: EventKind, expected: &[f64]| {
        let got = times(k);
        assert_eq!(got.len(), expected.len(), "{k:?}: {got:?}");
        for (g, e) in got.iter().zip(expected) {
            assert!((g - e).abs() < 1e-6, "{k:?}: {g} for {e}");
        }
    };
    let feeds = [423.123_456_7, 900.1, 1677.8, 2455.5, 3233.2];
    same(EventKind::Feed, &feeds);
    same(EventKind::DoorClosed, &feeds.map(|t| t + 33.3));
    same(EventKind::AirInlet, &[1_000.000_001, 1500.25]);
    same(EventKind::Damper, &[1234.5]);
    same(EventKind::Pump, &[1111.1, 1222.2]);
    same(EventKind::Lit, &[0.0]);
    same(EventKind::End, &[4000.0]);
    assert_eq!(b.summary.feeds, 5);
    // Lighting, five feeds, and the hand-made moves that lie more than a minute from the visit before.
    assert_eq!(b.summary.trips, 10, "{:?}", b.events);
    let moist: f64 = 1.5 + 1.0 + 4.0 * 1.1;
    assert!((b.summary.fuel_fed_kg - moist).abs() < 1e-9);
}

/// A tending rule that ends at a time feeds no more after it, however low the bed falls.
#[test]
fn practice_a_feeding_rule_sleeps_before_and_after_its_times() {
    let mut r = variants::tank_and_bench();
    r.stop.latest_s = 3000.0;
    let rule = &mut r.feeding.rules[0];
    rule.from_s = 450.0;
    rule.not_within_s = 300.0;
    rule.until = Until::Time(1000.0);
    let b = run(&r);
    let feeds: Vec<f64> = b
        .events
        .iter()
        .filter(|e| e.kind == EventKind::Feed)
        .map(|e| e.time_s)
        .collect();
    assert!(!feeds.is_empty());
    assert!(
        feeds.iter().all(|t| (450.0..=1000.0).contains(t)),
        "{feeds:?}"
    );
    assert!(
        feeds.windows(2).all(|p| p[1] - p[0] >= 300.0 - 1e-6),
        "{feeds:?}"
    );
}

#[test]
fn analytic_triggered_events_lie_on_the_runs_own_curve() {
    let mut r = barrel();
    r.target.temperature_k = 300.15;
    r.stop.after_target_s = 30.0;
    r.solver.output_interval_s = 0.25;
    r.controls.pump.rule = Some(ControlRule {
        signal: Signal::CoilOutlet,
        low: 286.15,
        high: 292.15,
        when_low: Some(0),
        when_high: Some(1),
        from_s: 600.0,
    });
    r.controls.pump.steps.initial = Some(0);
    let b = run(&r);
    let t = b.series.get("time_s").expect("time");
    let crossing = |column: &str, level: f64, near_s: f64| -> f64 {
        let v = b.series.get(column).expect(column);
        (1..t.len())
            .filter(|&i| (v[i - 1] - level) * (v[i] - level) <= 0.0)
            .map(|i| t[i - 1] + (level - v[i - 1]) / (v[i] - v[i - 1]) * (t[i] - t[i - 1]))
            .min_by(|a, b| (a - near_s).abs().total_cmp(&(b - near_s).abs()))
            .unwrap_or(f64::NAN)
    };
    let target = b.summary.time_to_target_s.expect("target");
    let own = crossing("tank_mean_temperature_K", 300.15, target);
    assert!((own - target).abs() < 0.1, "target {target}, curve {own}");
    assert!((b.summary.end_s - target - 30.0).abs() < 1e-6);
    // The outlet bends where the pump changes: the straight line through the two samples before is its own curve.
    let v = b.series.get("coil_outlet_temperature_K").expect("outlet");
    let mut seen = 0;
    for e in b
        .events
        .iter()
        .filter(|e| e.kind == EventKind::Pump && e.time_s > 605.0)
    {
        let level = if e.text.contains("high") {
            292.15
        } else {
            286.15
        };
        let i = t.partition_point(|t| *t < e.time_s) - 1;
        let slope = (v[i] - v[i - 1]) / (t[i] - t[i - 1]);
        let own = t[i] + (level - v[i]) / slope;
        assert!((own - e.time_s).abs() < 0.1, "{e:?}, curve {own}");
        seen += 1;
    }
    assert!(seen >= 1, "the rule never acted");
    // And on the true curve, as far as a ten times tighter tolerance knows it.
    r.solver.rtol *= 0.1;
    r.solver.atol *= 0.1;
    let tight = run(&r).summary.time_to_target_s.expect("target");
    println!("target {target:.3} s, tight {tight:.3} s");
    assert!(
        (target / tight - 1.0).abs() < 1e-3,
        "{target} against {tight}"
    );
}

fn bytes(rig: &Rig) -> Vec<u8> {
    serde_json::to_vec(&run(rig)).expect("serializes")
}

#[test]
fn identity_the_same_rig_gives_the_same_bytes_on_every_run_and_thread() {
    let mut rigs = [barrel(), variants::tub(), variants::tank_and_bench()];
    for r in &mut rigs {
        r.stop.latest_s = 2500.0;
    }
    for r in &rigs {
        let first = bytes(r);
        assert_eq!(first, bytes(r), "{}: second run", r.title);
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(2)
            .build()
            .expect("threads");
        let (a, b) = pool.install(|| rayon::join(|| bytes(r), || bytes(r)));
        assert_eq!(first, a, "{}: one thread of two", r.title);
        assert_eq!(first, b, "{}: the other thread", r.title);
    }
}
