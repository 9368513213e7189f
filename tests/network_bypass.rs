//! A gravity bypass beside the loop: branches in parallel, tees, and the rates' continuity as flows turn.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::components::spec::*;
use emberloop::integrate::OdeSystem;
use emberloop::network::{Integral, Network};
use support::variants;

/// A state in mid-burn: coil and pipes at spread temperatures, both vessels layered.
fn warm(net: &Network, hot_k: f64) -> Vec<f64> {
    let mut y = net.initial_state();
    let l = &net.layout;
    let n = l.tube_cells;
    for i in 0..net.tubes.len() {
        let t_k = 320.0 + (hot_k - 320.0) * (i as f64 / n as f64);
        net.set_tube(&mut y, i, t_k);
    }
    for i in 0..l.layer_count {
        y[l.layers + i] += 0.04 * i as f64;
    }
    for i in 0..l.header_count {
        y[l.header_layers + i] += 0.2 + 0.03 * i as f64;
    }
    y
}

fn rates(net: &Network, y: &[f64]) -> Vec<f64> {
    let mut dy = vec![0.0; y.len()];
    net.rhs(600.0, y, &mut dy);
    dy
}

/// Along straight lines through every pair of directions the rates do not jump: halving the step halves the largest change.
#[test]
fn regress_rates_are_continuous_as_branches_and_coil_turn() {
    for (hot_k, name) in [(340.0, "warm"), (380.0, "boiling")] {
        let mut rig = variants::bypass();
        variants::circuit(&mut rig).check_valve = false;
        variants::circuit(&mut rig)
            .bypass
            .as_mut()
            .expect("bypass")
            .check_valve = false;
        let mut net = Network::new(&rig).expect("assembles");
        net.mode.pump = None;
        let base = warm(&net, hot_k);
        let (a, b) = (
            net.layout.flow.expect("flow"),
            net.layout.bypass_flow.expect("bypass"),
        );
        let lines = [
            ((-0.02, 0.01), (0.02, 0.01)),
            ((-0.02, -0.01), (0.02, -0.01)),
            ((0.01, -0.02), (0.01, 0.02)),
            ((-0.02, 0.02), (0.02, -0.02)),
            ((-0.02, -0.02), (0.02, 0.02)),
            ((-0.004, 0.003), (0.006, -0.008)),
        ];
        for (from, to) in lines {
            let largest = |n: usize| {
                let mut before: Option<Vec<f64>> = None;
                let mut worst = vec![0.0f64; base.len()];
                for k in 0..=n {
                    let s = k as f64 / n as f64;
                    let mut y = base.clone();
                    y[a] = from.0 + (to.0 - from.0) * s;
                    y[b] = from.1 + (to.1 - from.1) * s;
                    let dy = rates(&net, &y);
                    if let Some(p) = &before {
                        for (w, (x, z)) in worst.iter_mut().zip(dy.iter().zip(p)) {
                            *w = w.max((x - z).abs());
                        }
                    }
                    before = Some(dy);
                }
                worst
            };
            let (coarse, fine) = (largest(4000), largest(16_000));
            for i in 0..base.len() {
                // A jump keeps its height as the step shrinks. Nothing is looked for under 2e-5 a second (2 mK/s of a
                // node) and, since the first steam in a pipe makes a step of some 3e-5 kg/s2, under 1e-4 kg/s2 of a flow.
                let floor = if i == a || i == b { 1e-3 } else { 2e-5 };
                assert!(
                    fine[i] < 0.6 * coarse[i] + floor,
                    "{name}, {from:?} to {to:?}: {} jumps by {:e} ({:e} at four times the step)",
                    net.state_name(i),
                    fine[i],
                    coarse[i]
                );
            }
        }
    }
}

/// Whatever the directions, the water side neither makes nor loses mass or energy: what leaves coil and pipes is what
/// the vessels get.
#[test]
fn identity_tees_keep_mass_and_energy_in_every_pair_of_directions() {
    let rig = variants::bypass();
    let net = Network::new(&rig).expect("assembles");
    let base = warm(&net, 375.0);
    let l = &net.layout;
    for w in [
        (0.05, 0.02),
        (0.05, -0.02),
        (-0.02, 0.05),
        (-0.03, -0.02),
        (0.02, -0.05),
        (0.0, 0.03),
        (3e-4, -2e-4),
        (0.0, 0.0),
    ] {
        let mut y = base.clone();
        y[l.flow.expect("flow")] = w.0 / 0.1;
        y[l.bypass_flow.expect("bypass")] = w.1 / 0.1;
        let dy = rates(&net, &y);
        let i = net.observe(600.0, &y);
        let tubes: f64 = net
            .tubes
            .iter()
            .enumerate()
            .map(|(k, t)| {
                let wall = t.wall.map_or(0.0, |c| dy[l.tube_walls + c] * t.wall_j_k);
                (dy[l.tubes + k] * t.scale_j_k() + wall) * 100.0
            })
            .sum();
        // The pump's heat and the coil's gas side go in; pipes lose; the vessels get the rest.
        let pump_w = dy[l.integral(Integral::PumpWork)] * 1e6;
        let gap = i.to_coil_w + pump_w - i.pipe_loss_w - tubes - i.to_store_w - i.to_header_w;
        let size = i.to_store_w.abs() + i.to_header_w.abs() + tubes.abs() + 1.0;
        assert!(gap.abs() < 1e-9 * size, "{w:?}: {gap} W of {size} W");
        let coil_kg: f64 = net
            .tubes
            .iter()
            .filter_map(|t| t.inventory.map(|k| dy[l.inventory + k] * t.water_kg))
            .sum();
        let net_kg = dy[l.integral(Integral::LoopWaterNet)];
        assert!(
            (coil_kg + net_kg).abs() < 1e-12,
            "{w:?}: {coil_kg} {net_kg}"
        );
    }
}

/// A second branch equal to the first carries as much, by symmetry.
#[test]
fn identity_two_equal_branches_share_the_flow() {
    let mut rig = variants::tub();
    let v = variants::vessel(&mut rig);
    v.kind = VesselKind::Tank;
    v.surface = None;
    let header = v.clone();
    let c = variants::circuit(&mut rig);
    c.bypass = Some(Bypass {
        riser: c.supply.clone(),
        ret: c.ret.clone(),
        check_valve: false,
        header,
    });
    rig.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 1500.0,
    };
    let r = emberloop::analyses::burn(&rig, &Default::default(), &mut |_| true).expect("runs");
    let (a, b) = (
        r.series.get("loop_flow_kg_s").expect("loop"),
        r.series.get("bypass_flow_kg_s").expect("bypass"),
    );
    let most = a.iter().copied().fold(0.0, f64::max);
    assert!(most > 0.02, "{most}");
    for (x, z) in a.iter().zip(b) {
        assert!((x - z).abs() < 1e-3 * most, "{x} against {z}");
    }
}
