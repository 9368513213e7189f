//! Every way in which an integration can fail ends in an error that names time and state.

use emberloop::integrate::{
    IntegrateError, Method, NoCrossings, OdeSystem, Segment, Tolerances, integrate_segment,
};
use std::cell::Cell;

struct Named<F> {
    names: &'static [&'static str],
    f: F,
    calls: Cell<u64>,
}

impl<F: Fn(f64, &[f64], &mut [f64])> OdeSystem for Named<F> {
    fn len(&self) -> usize {
        self.names.len()
    }
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        self.calls.set(self.calls.get() + 1);
        (self.f)(t_s, y, dy);
    }
    fn state_name(&self, i: usize) -> String {
        self.names[i].to_owned()
    }
}

fn system<F: Fn(f64, &[f64], &mut [f64])>(names: &'static [&'static str], f: F) -> Named<F> {
    Named {
        names,
        f,
        calls: Cell::new(0),
    }
}

fn run(
    sys: &impl OdeSystem,
    t1_s: f64,
    y0: &[f64],
    tol: &Tolerances,
) -> Result<Segment, IntegrateError> {
    integrate_segment(sys, &NoCrossings, 0.0, t1_s, y0, 1.0, tol)
}

#[test]
fn practice_a_derivative_that_is_not_finite_names_time_state_and_value() {
    for (value, shown) in [(f64::NAN, "NaN"), (f64::INFINITY, "inf")] {
        let sys = system(&["bed.wood", "tank.layer_3.temperature"], |t, _, dy| {
            dy[0] = -1.0;
            dy[1] = if t > 50.0 { value } else { 1.0 };
        });
        let error = run(&sys, 100.0, &[0.0, 300.0], &Tolerances::default()).expect_err("fails");
        let IntegrateError::NotFinite { t_s, ref state, .. } = error else {
            panic!("{error:?}");
        };
        assert_eq!(state, "tank.layer_3.temperature");
        assert!((50.0..50.1).contains(&t_s), "{t_s}");
        assert_eq!(error.time_s(), Some(t_s));
        let text = error.to_string();
        assert!(
            text.contains("tank.layer_3.temperature") && text.contains(shown),
            "{text}"
        );
        assert!(sys.calls.get() < 300, "{} calls", sys.calls.get());
    }
}

#[test]
fn practice_a_derivative_that_is_not_finite_at_the_start_fails_after_one_call() {
    let sys = system(&["a"], |_, _, dy| dy[0] = f64::NAN);
    let error = run(&sys, 10.0, &[1.0], &Tolerances::default()).expect_err("fails");
    assert!(matches!(error, IntegrateError::NotFinite { t_s: 0.0, .. }));
    assert_eq!(sys.calls.get(), 1);
}

#[test]
fn analytic_a_trial_step_outside_the_domain_is_retried_shorter() {
    // y' = -2 sqrt(y): y = (1 - t)^2; a first step of 0.9 s overshoots into y < 0, where the root is NaN
    let saw_nan = Cell::new(false);
    let sys = system(&["level"], |_, y, dy| {
        dy[0] = -2.0 * y[0].sqrt();
        saw_nan.set(saw_nan.get() || dy[0].is_nan());
    });
    let tol = Tolerances {
        method: Method::DormandPrince5,
        ..Tolerances::default()
    };
    let segment = run(&sys, 0.9, &[1.0], &tol).expect("recovers");
    assert!(saw_nan.get() && segment.counters.rejected > 0);
    assert!((segment.y[0] - 0.01).abs() < 1e-4, "{}", segment.y[0]);
}

#[test]
fn practice_a_step_that_collapses_names_the_state_with_the_largest_error() {
    // y' = y^2 reaches infinity at t = 1
    let sys = system(&["calm", "runaway"], |_, y, dy| {
        dy[0] = 0.1;
        dy[1] = y[1] * y[1];
    });
    let error = run(&sys, 2.0, &[0.0, 1.0], &Tolerances::default()).expect_err("fails");
    let IntegrateError::StepUnderflow { t_s, state, .. } = &error else {
        panic!("{error:?}");
    };
    assert!((t_s - 1.0).abs() < 1e-3, "{error}");
    assert_eq!(state, "runaway");
}

#[test]
fn practice_too_many_steps_name_the_state_that_limits_them() {
    let tol = Tolerances {
        max_steps: 50,
        ..Tolerances::default()
    };
    let sys = system(&["slow", "fast"], |_, y, dy| {
        dy[0] = -1e-3 * y[0];
        dy[1] = -1e4 * (y[1] - 1.0);
    });
    let error = run(&sys, 1000.0, &[1.0, 0.0], &tol).expect_err("fails");
    let IntegrateError::TooManySteps {
        steps, state, t_s, ..
    } = error
    else {
        panic!("{error:?}");
    };
    assert_eq!((steps, state.as_str()), (50, "fast"));
    assert!(t_s > 0.0 && t_s < 1000.0);
}

#[test]
fn practice_unusable_input_is_refused_by_name() {
    let sys = system(&["a"], |_, _, dy| dy[0] = 0.0);
    let good = Tolerances::default();
    let with = |rtol, atol, h_max_s| Tolerances {
        rtol,
        atol,
        h_max_s,
        ..good
    };
    for (tol, culprit) in [
        (with(0.0, 1.0, 1.0), "rtol"),
        (with(f64::NAN, 1.0, 1.0), "rtol"),
        (with(1.0, -1.0, 1.0), "atol"),
        (with(1.0, 1.0, 0.0), "h_max_s"),
    ] {
        let error = run(&sys, 1.0, &[1.0], &tol).expect_err("refused");
        assert!(
            matches!(error, IntegrateError::BadTolerance { name, .. } if name == culprit),
            "{error:?}"
        );
    }
    for t1_s in [-1.0, f64::INFINITY, f64::NAN] {
        assert!(matches!(
            run(&sys, t1_s, &[1.0], &good),
            Err(IntegrateError::BadInterval { .. })
        ));
    }
    assert!(matches!(
        run(&sys, 1.0, &[1.0, 2.0], &good),
        Err(IntegrateError::WrongLength {
            expected: 1,
            got: 2
        })
    ));
    assert!(matches!(
        run(&sys, 1.0, &[f64::NAN], &good),
        Err(IntegrateError::BadStart { ref state, .. }) if state == "a"
    ));
}
