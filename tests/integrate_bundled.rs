//! Whole burns against an independent integrator: Dormand & Prince's pair of `ode_solvers` at a tight tolerance, on the bundled
//! scenarios, through the same events at the same times.

mod support {
    pub mod bundled;
}

use emberloop::analyses::burn_watched;
use emberloop::integrate::{OdeSystem, SegmentEnd};
use emberloop::network::Network;
use emberloop::scenario::load_path;
use ode_solvers::dop_shared::OutputType;
use ode_solvers::{DVector, Dopri5, System};
use rayon::prelude::*;
use support::bundled;

struct Reference<'a>(&'a Network);

impl System<f64, DVector<f64>> for Reference<'_> {
    fn system(&self, t: f64, y: &DVector<f64>, dy: &mut DVector<f64>) {
        self.0.rhs(t, y.as_slice(), dy.as_mut_slice());
    }
}

/// The state at `t1` from `y` at `t0`.
fn advance(net: &Network, t0: f64, t1: f64, y: &[f64]) -> Vec<f64> {
    if t1 - t0 < 1e-9 {
        return y.to_vec();
    }
    let start = DVector::from_row_slice(y);
    let mut solver = Dopri5::from_param(
        Reference(net),
        t0,
        t1,
        t1 - t0,
        start,
        1e-6,
        1e-8,
        0.9,
        0.04,
        0.2,
        10.0,
        t1 - t0,
        (t1 - t0).min(0.1),
        2_000_000,
        u32::MAX,
        OutputType::Sparse,
    );
    solver.integrate().expect("the reference integrates");
    solver.y_out().last().expect("an end").as_slice().to_vec()
}

/// What one scenario showed.
#[derive(Default)]
struct Found {
    events: usize,
    /// Largest difference of the store's mean at an event that the run found, and at any event, K.
    at_crossing_k: f64,
    at_any_k: f64,
    /// At the end: store, and the state that differs most in tolerances of the run.
    end_k: f64,
    end_tolerances: f64,
    worst: String,
}

#[test]
fn published_bundled_burns_match_an_independent_integrator_at_every_event() {
    let all = bundled::files();
    let found: Vec<(String, Found)> = all
        .par_iter()
        .map(|path| {
            let loaded = load_path(path, &[]).unwrap_or_else(|e| panic!("{e}"));
            let (rtol, atol) = (loaded.rig.solver.rtol, loaded.rig.solver.atol);
            let mut f = Found::default();
            // Ends of the last segment: the run's and the reference's.
            let mut last: Option<(Vec<f64>, Vec<f64>)> = None;
            let mut watch = |net: &Network, seg: &emberloop::integrate::Segment| {
                let t0 = seg.dense.t0();
                let mut start = vec![0.0; net.len()];
                seg.dense.eval_into(t0, &mut start);
                // What an event changes (wood put in) it changes in both alike.
                let from = match last.take() {
                    None => start,
                    Some((run, reference)) => (0..net.len())
                        .map(|i| reference[i] + (start[i] - run[i]))
                        .collect(),
                };
                let reference = advance(net, t0, seg.t_s, &from);
                let off_k = (net.tank_mean_k(&reference) - net.tank_mean_k(&seg.y)).abs();
                f.events += 1;
                f.at_any_k = f.at_any_k.max(off_k);
                if matches!(seg.end, SegmentEnd::Crossed { .. }) {
                    f.at_crossing_k = f.at_crossing_k.max(off_k);
                }
                f.end_k = off_k;
                f.end_tolerances = 0.0;
                for (i, (a, b)) in seg.y.iter().zip(&reference).enumerate() {
                    let scale = atol * net.atol_factor(i) + rtol * net.rtol_factor(i) * b.abs();
                    let off = (a - b).abs() / scale;
                    if off > f.end_tolerances {
                        (f.end_tolerances, f.worst) = (off, net.state_name(i));
                    }
                }
                last = Some((seg.y.clone(), reference));
            };
            burn_watched(&loaded.rig, &Default::default(), &mut |_| true, &mut watch)
                .expect("runs");
            (loaded.stem, f)
        })
        .collect();
    for (name, f) in &found {
        println!(
            "{name}: {} events; store at found events {:.4} K, at any {:.4} K, at the end {:.4} K; worst state at the end {} {:.2} tolerances",
            f.events, f.at_crossing_k, f.at_any_k, f.end_k, f.worst, f.end_tolerances
        );
    }
    for (name, f) in &found {
        assert!(f.events > 5, "{name}");
        assert!(
            f.at_crossing_k <= 0.05,
            "{name}: {} K at a found event",
            f.at_crossing_k
        );
        // The stated tolerance of a run: the store within 0.05 K, what forgets within a few tolerances of one step.
        assert!(f.at_any_k <= 0.05, "{name}: {} K", f.at_any_k);
        assert!(
            f.end_tolerances <= 5.0,
            "{name}: {} {} tolerances off",
            f.worst,
            f.end_tolerances
        );
    }
}
