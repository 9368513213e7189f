//! A coil among the flames: first law, second law, orders of magnitude.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::spec::Rig;
use emberloop::results::BurnResult;
use support::variants::coil_in_firebox;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &BurnOptions::default(), &mut |_| true).expect("the rig burns")
}

fn area_m2(rig: &Rig) -> f64 {
    let c = &rig.coils[0];
    std::f64::consts::PI * c.tube_outside_m * c.length_m
}

#[test]
fn identity_energy_and_mass_close_with_a_coil_among_the_flames() {
    let r = run(&coil_in_firebox(0.6));
    assert!(r.ledger.residual_fraction < 1e-10);
    for m in &r.ledger.masses {
        assert!(m.residual_fraction < 1e-9, "{m:?}");
    }
}

/// A waterback takes 15 to 45 kW per m2 of the surface that sees a strong fire (common practice, no source).
#[test]
fn practice_tube_in_the_fire_takes_what_a_waterback_takes() {
    let rig = coil_in_firebox(0.6);
    let r = run(&rig);
    let flux = r.summary.mean_heat_to_tank_W / (0.6 * area_m2(&rig));
    eprintln!("in the fire {flux:.0} W per m2 of exposed surface");
    assert!((15e3..45e3).contains(&flux), "{flux}");
}

/// It takes its heat from the fire: a coil that sees more makes the chamber cooler and the fire less complete.
#[test]
fn analytic_a_coil_that_sees_more_of_the_fire_takes_more_and_cools_it() {
    let (shy, bold) = (run(&coil_in_firebox(0.3)), run(&coil_in_firebox(1.0)));
    assert!(bold.summary.mean_heat_to_tank_W > 1.5 * shy.summary.mean_heat_to_tank_W);
    assert!(bold.summary.chamber_mean_K < shy.summary.chamber_mean_K);
    assert!(bold.summary.unburnt_fraction > shy.summary.unburnt_fraction);
}
