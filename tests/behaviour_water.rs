//! What the water must do: tank below the coil, stopped pumps, water boiled off.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::integrate::{NoCrossings, Tolerances, integrate_segment};
use emberloop::network::{Integral, Network};
use emberloop::results::BurnResult;
use support::variants;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

fn mean_flow(r: &BurnResult, from_s: f64, to_s: f64) -> f64 {
    let t = r.series.get("time_s").expect("time");
    let w = r.series.get("loop_flow_kg_s").expect("flow");
    let picked: Vec<f64> = (0..t.len())
        .filter(|&i| t[i] >= from_s && t[i] < to_s)
        .map(|i| w[i].abs())
        .collect();
    picked.iter().sum::<f64>() / picked.len() as f64
}

/// Both ports of the tank below the coil: hot water has nowhere to rise to. A flat coil, so that its own height
/// drives nothing.
#[test]
fn practice_a_tank_below_the_coil_gets_no_flow_until_the_coil_boils() {
    let mut low = variants::tub();
    // Lit gently: a flare would boil the raised coil too before its flow has begun.
    (low.lighting.kindling_kg, low.lighting.kindling_thickness_m) = (0.4, 0.02);
    low.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 1500.0,
    };
    low.solver.output_interval_s = 2.0;
    let z = low.coils[0].bottom_z_m;
    low.coils[0].top_z_m = z + 0.02;
    variants::vessel(&mut low).floor_z_m = 0.0;
    let mut high = low.clone();
    variants::vessel(&mut high).floor_z_m = 1.8;
    let (low, high) = rayon::join(|| run(&low), || run(&high));
    let boils = low.summary.boiling_first_s.expect("boils");
    // Against what the raised loop draws at its full fire.
    let h = high
        .series
        .get("loop_flow_kg_s")
        .expect("flow")
        .iter()
        .fold(0.0f64, |a, b| a.max(*b));
    let l = mean_flow(&low, 0.0, boils);
    println!("below {l:.5} kg/s, raised {h:.5} kg/s until {boils:.0} s");
    assert!(l < 0.05 * h, "{l} against {h} kg/s");
    assert_eq!(high.summary.boiling_first_s, None);
}

/// A pump that stands still is a throttle: buoyancy goes on through it, the less the more it resists.
#[test]
fn practice_a_stopped_pump_passes_what_its_own_loss_lets_through() {
    let flows: Vec<f64> = [2.0, 50.0, 1000.0]
        .iter()
        .map(|&k| {
            let mut r = variants::tub();
            r.stop = Stop {
                at_target: false,
                after_target_s: 0.0,
                latest_s: 2400.0,
            };
            let pump = Pump {
                settings: vec![PumpSetting {
                    name: "on".into(),
                    curve: vec![(0.0, 2e4), (2e-4, 0.0)],
                    power_w: 15.0,
                }],
                stopped_loss_k: k,
                power_to_water: 0.5,
            };
            variants::circuit(&mut r).pump = Some(pump);
            r.controls.pump.steps.initial = Some(0);
            r.controls.pump.steps.moves = vec![(1200.0, None)];
            let r = run(&r);
            mean_flow(&r, 1500.0, 2400.0)
        })
        .collect();
    println!("flow through the stopped pump {flows:.4?} kg/s");
    assert!(flows[0] > 1.05 * flows[1] && flows[1] > 1.3 * flows[2]);
    assert!(flows[2] > 1e-3, "{flows:?}");
}

/// Hot coil, no flow: what the cells lose is the steam.
#[test]
fn identity_the_water_left_in_the_coil_falls_by_exactly_the_steam() {
    let mut rig = variants::pump_stops();
    rig.lighting.kindling_kg = 0.0;
    rig.feeding = Feeding::default();
    variants::circuit(&mut rig).check_valve = true;
    // Water in the pipes would flow back into the coil: the loop is shut.
    let mut net = Network::new(&rig).expect("assembles");
    net.mode.pump = None;
    if let Some(c) = net.circuit.as_mut() {
        c.main.inertia_per_m = 1e15;
    }
    let mut y = net.initial_state();
    let l = net.layout.clone();
    let coil: Vec<usize> = (0..net.tubes.len())
        .filter(|&i| net.tubes[i].inventory.is_some())
        .collect();
    for &i in &coil {
        let t = &net.tubes[i];
        // As hot as the metal of a coil that a fire has caught without water moving.
        net.set_tube(&mut y, i, t.sat.t_k + 25.0);
    }
    let tol = Tolerances {
        rtol: 1e-5,
        atol: 1e-6,
        h_max_s: 60.0,
        method: Default::default(),
        max_steps: 100_000,
    };
    let held = |y: &[f64]| -> f64 {
        coil.iter()
            .map(|&i| {
                let t = &net.tubes[i];
                t.water_kg * y[l.inventory + t.inventory.expect("coil")]
            })
            .sum()
    };
    let before = held(&y);
    let seg = integrate_segment(&net, &NoCrossings, 0.0, 60.0, &y, 0.0, &tol).expect("runs");
    let steam = l.integral_value(&seg.y, Integral::Steam);
    let left = l.integral_value(&seg.y, Integral::LoopWaterNet);
    let gone = before - held(&seg.y);
    println!(
        "{:.3} g of {:.0} g gone, {:.3} g of steam made, {:.3} g left the loop",
        1e3 * gone,
        1e3 * before,
        1e3 * steam,
        1e3 * left
    );
    assert!(steam > 0.01 * before, "{steam} kg of steam");
    // To rounding what left the loop; a trace of the steam made wets a neighbouring cell again.
    assert!(
        (gone / left - 1.0).abs() < 1e-9,
        "{gone} kg gone, {left} kg left"
    );
    assert!(
        (gone / steam - 1.0).abs() < 1e-3,
        "{gone} kg gone, {steam} kg of steam"
    );
}

/// Once a coil has boiled dry its wall leaves the boiling point behind.
#[test]
fn practice_the_wall_rises_after_the_coil_is_dry() {
    let mut rig = variants::pump_stops();
    rig.feeding.every[0].until = Until::End;
    rig.stop.latest_s = 5400.0;
    variants::circuit(&mut rig).check_valve = true;
    let r = run(&rig);
    let t = r.series.get("time_s").expect("time");
    let wall = r.series.get("coil_wall_max_temperature_K").expect("wall");
    let point = r.series.get("boiling_point_K").expect("point");
    let boils = r.summary.boiling_first_s.expect("boils");
    // While water is left the wall stays within nucleate boiling's superheat of the boiling point.
    let soon: Vec<f64> = (0..t.len())
        .filter(|&i| t[i] > boils && t[i] < boils + 60.0)
        .map(|i| wall[i] - point[i])
        .collect();
    let first = soon.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let late = (0..t.len())
        .filter(|&i| t[i] > boils + 300.0)
        .map(|i| wall[i] - point[i])
        .fold(f64::NEG_INFINITY, f64::max);
    println!("wall over boiling point: {first:.1} K in the first minute, {late:.1} K later");
    assert!(first < 25.0, "{first} K");
    assert!(late > first + 50.0, "{late} K");
}
