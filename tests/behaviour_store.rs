//! What the store must do: the lid of a tub against the evaporation formula.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::results::BurnResult;
use support::variants;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

/// Saturation pressure over water by the Magnus form, coefficients of Alduchov & Eskridge 1996 (from memory), Pa.
fn magnus_pa(t_k: f64) -> f64 {
    let c = t_k - 273.15;
    610.94 * (17.625 * c / (c + 243.04)).exp()
}

/// The vapour that leaves an open tub, from the temperatures of the run and the ASHRAE Handbook's form for pools,
/// m = A (0.089 + 0.0782 v)(p_w - p_a)/h_fg; a tight lid without conductance keeps just that and what the bare
/// surface gives off otherwise.
#[test]
fn published_a_lid_on_the_tub_saves_what_the_evaporation_formula_says() {
    let mut open = variants::tub();
    let v = variants::vessel(&mut open);
    v.start_temperature_k = 313.15;
    v.layers = 1;
    let Some(s) = v.surface.as_mut() else {
        panic!("an open surface");
    };
    s.cover_leak = 0.0;
    s.cover_w_m2k = 0.0;
    let (area, share) = (s.area_m2, s.wind_share);
    variants::circuit(&mut open).check_valve = true;
    open.lighting.kindling_kg = 0.0;
    open.feeding = Feeding::default();
    open.target.temperature_k = 340.0;
    open.stop.latest_s = 3.0 * 3600.0;
    open.controls.cover.steps.moves.clear();
    open.controls.cover.steps.initial = false;
    let mut lid = open.clone();
    lid.controls.cover.steps.initial = true;
    let (bare, lidded) = rayon::join(|| run(&open), || run(&lid));
    let line = |r: &BurnResult, key: &str| {
        r.ledger
            .outputs
            .iter()
            .find(|l| l.key == key)
            .map_or(0.0, |l| l.energy_j)
    };
    let t = bare.series.get("time_s").expect("time");
    let k = bare.series.get("tank_mean_temperature_K").expect("tank");
    let site = &open.site;
    let p_a = site.relative_humidity * magnus_pa(site.air_temperature_k.at(0.0));
    let rate = |t_k: f64| {
        // Latent heat by the usual straight line, and the vapour's enthalpy above water of 25 °C.
        let h_fg = 2.501e6 - 2361.0 * (t_k - 273.15);
        let m = area * (0.089 + 0.0782 * site.wind_m_s * share) * (magnus_pa(t_k) - p_a) / h_fg;
        m * (h_fg + 4182.0 * (t_k - 298.15))
    };
    let formula: f64 = (1..t.len())
        .map(|i| 0.5 * (rate(k[i]) + rate(k[i - 1])) * (t[i] - t[i - 1]))
        .sum();
    let own = line(&bare, "evaporation");
    println!("evaporation {own:.3e} J, formula {formula:.3e} J");
    assert!(
        (own / formula - 1.0).abs() < 0.01,
        "{own} against {formula} J"
    );
    assert_eq!(line(&lidded, "evaporation"), 0.0);
    // What the lid saves stands in the tub: evaporation, surface and the walls' changed loss.
    let content = |r: &BurnResult| r.summary.storage_content_rise_J;
    let saved = content(&lidded) - content(&bare);
    let cost =
        |r: &BurnResult| line(r, "evaporation") + line(r, "surface_loss") + line(r, "vessel_loss");
    let expected = cost(&bare) - cost(&lidded);
    println!("saved {saved:.3e} J, less lost {expected:.3e} J");
    assert!(saved > 0.8 * formula, "{saved} J of {formula} J");
    assert!(
        (saved / expected - 1.0).abs() < 0.05,
        "{saved} against {expected} J"
    );
}
