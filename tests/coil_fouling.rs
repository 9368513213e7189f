//! Soot and tar on the coil: what grows, what it costs, and that it is accounted for.

mod support {
    pub mod rigs;
    pub mod stoves;
    pub mod variants;
}

use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::spec::*;
use emberloop::results::BurnResult;
use rayon::prelude::*;
use support::rigs::barrel;
use support::stoves::drum;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &BurnOptions::default(), &mut |_| true).expect("the rig burns")
}

/// A fire that gets hardly the air that it needs: a tenth of its heat leaves unburnt.
fn smoky() -> Rig {
    let mut r = barrel();
    r.closures.inlet_area = 0.1;
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
    let kg = [b.summary.coil_deposit_kg, b.summary.flue_deposit_kg].map(|kg| kg.unwrap_or(0.0));
    assert!(kg[1] > 0.0, "nothing on the flue");
    assert!((joule - 32.76e6 * (kg[0] + kg[1])).abs() < 1e-3 * joule);
}

/// A smoky fire fouls more than a clean one, and a cold return more than a hot one (tar condenses on cold walls;
/// common practice, no source).
#[test]
fn practice_smoky_fires_foul_more_than_clean_ones() {
    let kg = |r: &Rig| {
        let s = run(r).summary;
        (
            s.unburnt_fraction.expect("burnt"),
            s.coil_deposit_kg.expect("a coil in the gas") / s.fuel_burnt_kg,
        )
    };
    let (clean, dirty) = (kg(&barrel()), kg(&smoky()));
    assert!(dirty.0 > 0.05 && clean.0 < 0.01, "{dirty:?} {clean:?}");
    assert!(dirty.1 > 1.5 * clean.1, "{dirty:?} {clean:?}");
}

/// Fouling costs time and sends more heat up the stack; a cleaned coil (fouling 0) is the quicker one.
#[test]
fn analytic_a_fouled_coil_takes_longer_and_loses_more_up_the_stack() {
    let clean = run(&barrel());
    let mut r = barrel();
    // Half a millimetre of soot (0.05 W/m K).
    r.coils[0].fouling_m2k_w = 0.01;
    let fouled = run(&r);
    let t = |b: &BurnResult| b.summary.time_to_target_s.expect("reaches the target");
    let stack = |b: &BurnResult| b.summary.stack_loss_fraction.expect("it burnt");
    assert!(t(&fouled) > 1.1 * t(&clean), "{} {}", t(&fouled), t(&clean));
    assert!(stack(&fouled) > stack(&clean) + 0.01);
    // Growth alone does the same, in small.
    let mut r = smoky();
    r.stop.at_target = false;
    r.stop.latest_s = 7200.0;
    let with = run(&r);
    r.closures.fouling_rate = 0.0;
    let without = run(&r);
    assert!(with.summary.heat_to_tank_J < without.summary.heat_to_tank_J);
    assert_eq!(without.summary.coil_deposit_kg, Some(0.0));
}

/// "A drum stove's coil falls from 12 to 8 kW in 15 to 20 minutes as soot and condensate cover it" (one owner's log,
/// hoppynet.blogspot.com; only the loss of a third is used). The same fire with and without growth shows the loss that
/// fouling makes, whatever the fire does. Open: air, wood and the rate's prior, 0.3 to 3. Width 2: one log, a fire that
/// was not weighed.
#[test]
fn practice_a_drum_stoves_coil_loses_a_third_of_its_power_within_twenty_minutes() {
    let samples = [
        (9.0, 0.006, 1.0),
        (12.0, 0.006, 1.0),
        (12.0, 0.004, 1.0),
        (15.0, 0.006, 1.0),
        (12.0, 0.004, 0.3),
        (12.0, 0.004, 3.0),
        (15.0, 0.004, 3.0),
    ];
    let lost: Vec<f64> = samples
        .par_iter()
        .map(|&(kg_h, inlet, rate)| {
            let (with, without) = (run(&drum(kg_h, inlet, rate)), run(&drum(kg_h, inlet, 0.0)));
            let at = |r: &BurnResult, from: f64, to: f64| {
                let t = r.series.get("time_s").expect("time");
                let q = r.series.get("heat_to_tank_W").expect("power");
                let picked: Vec<f64> = (0..t.len())
                    .filter(|&i| t[i] >= from && t[i] <= to)
                    .map(|i| q[i])
                    .collect();
                picked.iter().sum::<f64>() / picked.len() as f64
            };
            // A quarter of an hour to twenty minutes from the time at which the fire is up.
            let lost = 1.0 - at(&with, 1200.0, 1800.0) / at(&without, 1200.0, 1800.0);
            println!(
                "{kg_h} kg/h, {:.0} cm2, rate {rate}: {:.1} kW clean, {:.1} kW fouled, lost {lost:.3}; deposit {:.1} g, {:.4} m2K/W, unburnt {:.0} %",
                1e4 * inlet,
                at(&without, 1200.0, 1800.0) / 1e3,
                at(&with, 1200.0, 1800.0) / 1e3,
                1e3 * with.summary.coil_deposit_kg.expect("coil"),
                with.summary.coil_fouling_grown_m2K_W.expect("coil"),
                100.0 * with.summary.unburnt_fraction.expect("burnt"),
            );
            lost
        })
        .collect();
    let most = lost.iter().copied().fold(0.0, f64::max);
    let least = lost.iter().copied().fold(1.0, f64::min);
    let third = 1.0 / 3.0;
    if third > 2.0 * most || third < 0.5 * least {
        println!("GAP drum stove: a third reported, {least:.3} to {most:.3} sampled, width 2");
    }
    // More smoke or a faster rate fouls more.
    assert!(lost[5] > lost[2] && lost[2] > lost[4], "{lost:?}");
}
