//! The integrator against an independent implementation of the same pair (`ode_solvers`, Dopri5), step by step.

use emberloop::integrate::{Method, NoCrossings, OdeSystem, Tolerances, integrate_segment};
use ode_solvers::continuous_output_model::ContinuousOutputModel;
use ode_solvers::dop_shared::OutputType;
use ode_solvers::{DVector, Dopri5, System};
use std::sync::Mutex;

/// A nonlinear problem with slow and fast phases (Van der Pol's oscillator, mu = 5) and a forced state.
fn f(t: f64, y: &[f64], dy: &mut [f64]) {
    dy[0] = y[1];
    dy[1] = 5.0 * (1.0 - y[0] * y[0]) * y[1] - y[0];
    dy[2] = -0.3 * (y[2] - (2.0 * t).sin());
}

struct Ours;

impl OdeSystem for Ours {
    fn len(&self) -> usize {
        3
    }
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        f(t_s, y, dy);
    }
    fn state_name(&self, i: usize) -> String {
        format!("{i}")
    }
}

struct Theirs<'a>(&'a Mutex<Vec<f64>>);

impl System<f64, DVector<f64>> for Theirs<'_> {
    fn system(&self, t: f64, y: &DVector<f64>, dy: &mut DVector<f64>) {
        f(t, y.as_slice(), dy.as_mut_slice());
    }
    fn solout(&mut self, t: f64, _y: &DVector<f64>, _dy: &DVector<f64>) -> bool {
        self.0.lock().expect("one thread").push(t);
        false
    }
}

#[test]
fn published_steps_states_and_dense_output_match_the_reference_library() {
    let y0 = [2.0, 0.0, 1.0];
    let times = Mutex::new(vec![0.0]);
    let mut reference = Dopri5::from_param(
        Theirs(&times),
        0.0,
        12.0,
        0.1,
        DVector::from_row_slice(&y0),
        1e-6,
        1e-6,
        0.9,
        0.04,
        0.2,
        10.0,
        12.0,
        1e-3,
        100_000,
        u32::MAX,
        OutputType::Continuous,
    );
    let mut model = ContinuousOutputModel::new();
    let stats = reference
        .integrate_with_continuous_output_model(&mut model)
        .expect("the reference integrates");

    let tol = Tolerances {
        method: Method::DormandPrince5,
        rtol: 1e-6,
        atol: 1e-6,
        h_max_s: 12.0,
        ..Tolerances::default()
    };
    let ours =
        integrate_segment(&Ours, &NoCrossings, 0.0, 12.0, &y0, 1e-3, &tol).expect("integrates");

    assert!(stats.rejected_steps > 0, "the problem exercises rejection");
    assert_eq!(ours.counters.steps, u64::from(stats.accepted_steps));
    assert_eq!(ours.counters.rejected, u64::from(stats.rejected_steps));
    assert_eq!(ours.counters.rhs, u64::from(stats.num_eval));

    let end = reference.y_out().last().expect("an end state");
    for (a, b) in ours.y.iter().zip(end.iter()) {
        assert!((a - b).abs() < 1e-9, "{a} against {b}");
    }
    for pair in times.lock().expect("one thread").windows(2) {
        for theta in [0.21, 0.5, 0.83] {
            let t = pair[0] + theta * (pair[1] - pair[0]);
            let theirs = model.evaluate(t).expect("inside");
            for (a, b) in ours.dense.at(t).iter().zip(theirs.iter()) {
                assert!((a - b).abs() < 1e-9, "at {t}: {a} against {b}");
            }
        }
    }
}
