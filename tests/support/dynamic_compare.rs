//! The project's run and the second formulation's side by side.
#![allow(dead_code)]

use super::variants;
use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::results::BurnResult;

/// What a run gives.
pub struct Traced {
    pub t_s: Vec<f64>,
    pub tank_k: Vec<f64>,
    pub flow_kg_s: Vec<f64>,
    pub outlet_k: Vec<f64>,
    /// First water cell to reach saturation.
    pub boiling_s: Option<f64>,
    pub states: usize,
    pub steps: usize,
}

pub fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

/// Value of a column at a time, by straight line.
pub fn at(r: &BurnResult, column: &str, t_s: f64) -> f64 {
    let t = r.series.get("time_s").expect("time");
    let v = r.series.get(column).expect(column);
    let i = t.partition_point(|x| *x < t_s).clamp(1, t.len() - 1);
    v[i - 1] + (v[i] - v[i - 1]) * (t_s - t[i - 1]) / (t[i] - t[i - 1])
}

/// How far the two lie apart.
#[derive(Debug, Clone, Copy)]
pub struct Apart {
    /// Store, at any time and at the end, K.
    pub tank_k: f64,
    pub tank_end_k: f64,
    /// Flow at any time that counts, as a share of it, and its mean over the run.
    pub flow: f64,
    pub flow_mean: f64,
}

/// Compares at the second formulation's sampling times; the flow counts where it is more than a tenth of its largest
/// and `settled` says so.
pub fn apart(r: &BurnResult, d: &Traced, settled: impl Fn(f64) -> bool) -> Apart {
    let most = d.flow_kg_s.iter().fold(0.0f64, |a, b| a.max(b.abs()));
    let mut a = Apart {
        tank_k: 0.0,
        tank_end_k: 0.0,
        flow: 0.0,
        flow_mean: 0.0,
    };
    let (mut own_sum, mut sum) = (0.0, 0.0);
    for (i, &t) in d.t_s.iter().enumerate() {
        a.tank_end_k = (at(r, "tank_mean_temperature_K", t) - d.tank_k[i]).abs();
        a.tank_k = a.tank_k.max(a.tank_end_k);
        let own = at(r, "loop_flow_kg_s", t);
        own_sum += own;
        sum += d.flow_kg_s[i];
        if d.flow_kg_s[i].abs() > 0.1 * most && settled(t) {
            a.flow = a.flow.max((own / d.flow_kg_s[i] - 1.0).abs());
        }
    }
    a.flow_mean = own_sum / sum - 1.0;
    println!(
        "store apart by {:.3} K at most, {:.3} K at the end; flow by {:.2} % at most, {:+.2} % in the mean; \
         {} states, {} steps",
        a.tank_k,
        a.tank_end_k,
        100.0 * a.flow,
        100.0 * a.flow_mean,
        d.states,
        d.steps
    );
    a
}

/// A tank above the stove, no pump.
pub fn syphon() -> Rig {
    let mut r = variants::tub();
    // Coarse kindling: no flare that turns the flow within seconds.
    r.lighting.kindling_thickness_m = 0.02;
    r.title = "Tank on a thermosyphon (invented)".into();
    let v = variants::vessel(&mut r);
    v.kind = VesselKind::Tank;
    v.surface = None;
    v.water_m3 = 0.2;
    r.controls.cover = variants::steady(false);
    r.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 3000.0,
    };
    r
}
