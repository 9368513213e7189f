//! A power cut at full fire: what a gravity bypass to a header does, and does not do.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::results::BurnResult;
use emberloop::scenario::load_path;
use std::path::Path;
use support::variants;

const CUT_S: f64 = 5400.0;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

/// The bundled night store with a power cut at minute 90.
fn cut() -> Rig {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/night-store-bench.toml");
    let mut rig = load_path(&path, &[]).expect("loads").rig;
    rig.controls.pump.rule = None;
    rig.controls.pump.steps.moves = vec![(CUT_S, None)];
    rig.stop.latest_s = CUT_S + 3600.0;
    rig
}

#[test]
fn practice_with_a_power_cut_the_gravity_bypass_keeps_the_coil_from_boiling_soon() {
    let with = cut();
    let mut without = with.clone();
    variants::circuit(&mut without).bypass = None;
    let (a, b) = (run(&with), run(&without));
    let (x, z) = (&a.summary, &b.summary);
    println!(
        "with: boils {:?}, header {:.1} MJ to {:?} K, margin {:?}, {:?}",
        x.boiling_first_s.map(|t| t - CUT_S),
        x.heat_to_header_J.unwrap_or(0.0) / 1e6,
        x.header_peak_K,
        x.boiling_margin_min_K,
        x.solver
    );
    println!(
        "without: boils {:?}, margin {:?}, steam {:.2} kg, {:?}",
        z.boiling_first_s.map(|t| t - CUT_S),
        z.boiling_margin_min_K,
        z.steam_total_kg,
        z.solver
    );
    let soon = z.boiling_first_s.expect("boils without the bypass") - CUT_S;
    assert!((0.0..600.0).contains(&soon), "{soon}");
    let late = x.boiling_first_s.map_or(f64::INFINITY, |t| t - CUT_S);
    assert!(late > 4.0 * soon, "{late} against {soon}");
    assert!(x.heat_to_header_J.expect("header") > 2e6);
    for r in [&a, &b] {
        assert!(r.summary.energy_residual_fraction < 1e-5);
        for m in &r.ledger.masses {
            assert!(m.residual_fraction < 1e-5, "{}", m.name);
        }
    }
}

/// While the pump runs its pressure shuts the flap; without one the header's water goes backwards past the coil.
#[test]
fn practice_a_bypass_without_a_check_valve_runs_backwards_while_the_pump_runs() {
    let mut rig = variants::bypass();
    rig.stop.latest_s = 1500.0;
    let shut = run(&rig);
    variants::circuit(&mut rig)
        .bypass
        .as_mut()
        .expect("bypass")
        .check_valve = false;
    let open = run(&rig);
    let flow = |r: &BurnResult| {
        let v = r.series.get("bypass_flow_kg_s").expect("bypass");
        v[v.len() - 1]
    };
    println!("{} and {} kg/s", flow(&shut), flow(&open));
    assert!(flow(&shut).abs() < 1e-3);
    assert!(flow(&open) < -0.02);
    assert!(open.summary.warnings.iter().any(|w| w.code == "W0230"));
    assert!(!shut.summary.warnings.iter().any(|w| w.code == "W0230"));
    // Less of what the pump moves cools the coil.
    let hottest = |r: &BurnResult| r.summary.coil_outlet_max_K.expect("outlet");
    assert!(hottest(&open) > hottest(&shut));
}

/// With the pump off the riser's column drives the flow up through the header, the check valve open.
#[test]
fn practice_the_bypass_thermosyphons_when_the_pump_stops() {
    let mut rig = variants::bypass();
    rig.stop.latest_s = 2700.0;
    let r = run(&rig);
    let t = r.series.get("time_s").expect("time");
    let w = r.series.get("bypass_flow_kg_s").expect("bypass");
    let after: Vec<f64> = (0..t.len())
        .filter(|&i| t[i] > 2300.0)
        .map(|i| w[i])
        .collect();
    let mean = after.iter().sum::<f64>() / after.len() as f64;
    println!("{mean} kg/s, boils {:?}", r.summary.boiling_first_s);
    assert!(mean > 5e-3, "{mean}");
    // What the coil takes once the flow has settled arrives in the header, at its top.
    let sum = |column: &str| -> f64 {
        let v = r.series.get(column).expect(column);
        (0..t.len()).filter(|&i| t[i] > 2300.0).map(|i| v[i]).sum()
    };
    let arrives = sum("heat_to_header_W") / sum("heat_to_coil_W");
    println!("{arrives} of the coil's heat arrives");
    assert!((0.8..1.2).contains(&arrives), "{arrives}");
    let last = |column: &str| r.series.get(column).expect(column)[t.len() - 1];
    assert!(last("header_top_temperature_K") > last("header_mean_temperature_K") + 3.0);
}
