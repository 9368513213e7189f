//! Soot and tar on the coil: what grows, what it costs, and that it is accounted for.

mod support {
    pub mod rigs;
}

use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::spec::Rig;
use emberloop::results::BurnResult;
use support::rigs::barrel;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &BurnOptions::default(), &mut |_| true).expect("the rig burns")
}

/// A fire that gets little air.
fn smoky() -> Rig {
    let mut r = barrel();
    r.closures.inlet_area = 0.35;
    r
}

#[test]
fn identity_what_settles_on_the_coil_is_in_the_account() {
    let mut r = smoky();
    r.closures.fouling_rate = 3.0;
    let b = run(&r);
    assert!(b.summary.coil_deposit_kg.expect("a coil in the gas") > 5e-3);
    assert!(b.ledger.residual_fraction < 1e-10);
    for m in &b.ledger.masses {
        assert!(m.residual_fraction < 1e-9, "{m:?}");
    }
    let line = b.ledger.stored.iter().find(|l| l.key == "deposit");
    let joule = line.expect("a line of its own").energy_j;
    assert!((joule - 32.8e6 * b.summary.coil_deposit_kg.unwrap_or(0.0)).abs() < 0.02 * joule);
}

/// A smoky fire fouls more than a clean one, and a cold return more than a hot one (tar condenses on cold walls;
/// common practice, no source).
#[test]
fn practice_smoky_fires_foul_more_than_clean_ones() {
    let kg = |r: &Rig| {
        let b = run(r);
        b.summary.coil_deposit_kg.expect("a coil in the gas") / b.summary.fuel_burnt_kg
    };
    let (clean, dirty) = (kg(&barrel()), kg(&smoky()));
    assert!(dirty > 1.5 * clean, "{dirty} {clean}");
}

/// Fouling costs time and sends more heat up the stack; a cleaned coil (fouling 0) is the quicker one.
#[test]
fn analytic_a_fouled_coil_takes_longer_and_loses_more_up_the_stack() {
    let clean = run(&barrel());
    let mut r = barrel();
    r.coils[0].fouling_m2k_w = 0.008;
    let fouled = run(&r);
    let t = |b: &BurnResult| b.summary.time_to_target_s.expect("reaches the target");
    let stack = |b: &BurnResult| b.summary.stack_loss_fraction.expect("it burnt");
    assert!(t(&fouled) > 1.1 * t(&clean), "{} {}", t(&fouled), t(&clean));
    assert!(stack(&fouled) > stack(&clean) + 0.01);
    // Growth alone does the same, in small.
    let mut r = smoky();
    r.closures.fouling_rate = 0.0;
    let (without, with) = (run(&r), run(&smoky()));
    assert!(with.summary.heat_to_tank_J < without.summary.heat_to_tank_J);
    assert_eq!(without.summary.coil_deposit_kg, Some(0.0));
}
