//! Accuracy of the integrator against exact solutions: error, order of convergence, dense output, determinism.

use emberloop::integrate::{
    Integrator, Method, NoCrossings, OdeSystem, Segment, SegmentEnd, Tolerances, integrate_segment,
};

/// dy_i/dt = -rate_i y_i
struct Decay {
    rates: Vec<f64>,
}

impl OdeSystem for Decay {
    fn len(&self) -> usize {
        self.rates.len()
    }
    fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
        for ((dy, y), rate) in dy.iter_mut().zip(y).zip(&self.rates) {
            *dy = -rate * y;
        }
    }
    fn state_name(&self, i: usize) -> String {
        format!("decay_{i}")
    }
}

/// A manufactured problem with exact solution y = exp(sin t), z = t^2 cos t.
struct Manufactured;

impl OdeSystem for Manufactured {
    fn len(&self) -> usize {
        2
    }
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        dy[0] = y[0] * t_s.cos();
        let exact = t_s * t_s * t_s.cos();
        dy[1] = 2.0 * t_s * t_s.cos() - t_s * t_s * t_s.sin() - 0.5 * (y[1] - exact);
    }
    fn state_name(&self, i: usize) -> String {
        ["y", "z"][i].to_owned()
    }
}

fn manufactured(t_s: f64) -> [f64; 2] {
    [t_s.sin().exp(), t_s * t_s * t_s.cos()]
}

struct Oscillator;

impl OdeSystem for Oscillator {
    fn len(&self) -> usize {
        2
    }
    fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
        (dy[0], dy[1]) = (y[1], -y[0]);
    }
    fn state_name(&self, i: usize) -> String {
        ["position", "velocity"][i].to_owned()
    }
}

struct Logistic;

impl OdeSystem for Logistic {
    fn len(&self) -> usize {
        1
    }
    fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
        dy[0] = y[0] * (1.0 - y[0]);
    }
    fn state_name(&self, _i: usize) -> String {
        "share".to_owned()
    }
}

fn run(sys: &impl OdeSystem, t1_s: f64, y0: &[f64], h0_s: f64, tol: &Tolerances) -> Segment {
    integrate_segment(sys, &NoCrossings, 0.0, t1_s, y0, h0_s, tol).expect("integrates")
}

const METHODS: [Method; 2] = [Method::Chebyshev2, Method::DormandPrince5];

fn tolerances(method: Method, rtol: f64) -> Tolerances {
    Tolerances {
        method,
        rtol,
        atol: rtol,
        ..Tolerances::default()
    }
}

/// Steps of exactly `h_s`: tolerances so loose that only the longest step limits.
fn fixed_step(method: Method, h_s: f64) -> Tolerances {
    Tolerances {
        h_max_s: h_s,
        ..tolerances(method, 1e12)
    }
}

#[test]
fn analytic_exponential_decay_is_within_ten_tolerances() {
    let sys = Decay {
        rates: vec![1e-3, 1e-2, 0.5],
    };
    for rtol in [1e-3, 1e-5, 1e-7, 1e-9] {
        let tol = tolerances(Method::DormandPrince5, rtol);
        let segment = run(&sys, 100.0, &[1.0, 1.0, 1.0], 0.0, &tol);
        assert_eq!(segment.end, SegmentEnd::Reached);
        assert_eq!(segment.t_s, 100.0);
        for (y, rate) in segment.y.iter().zip(&sys.rates) {
            let error = (y - (-rate * 100.0f64).exp()).abs();
            assert!(
                error <= 10.0 * rtol,
                "rtol {rtol}, rate {rate}: error {error:e}"
            );
        }
    }
}

/// Order 2: the error of a step is a third power of its length, the error of the run the second, so the run's
/// follows the tolerance to the power 2/3.
#[test]
fn analytic_exponential_decay_follows_the_tolerance_at_order_two() {
    let sys = Decay {
        rates: vec![1e-3, 1e-2, 0.5],
    };
    for rtol in [1e-2, 1e-3, 1e-5, 1e-7] {
        let tol = tolerances(Method::Chebyshev2, rtol);
        let segment = run(&sys, 100.0, &[1.0, 1.0, 1.0], 0.0, &tol);
        assert_eq!(segment.t_s, 100.0);
        for (y, rate) in segment.y.iter().zip(&sys.rates) {
            let error = (y - (-rate * 100.0f64).exp()).abs();
            let allowed = 0.2 * rtol.powf(2.0 / 3.0);
            assert!(
                error <= allowed,
                "rtol {rtol}, rate {rate}: error {error:e}"
            );
        }
    }
}

/// Observed order, largest error over the run, between `steps` and twice as many steps.
/// Order 5: Hairer, Norsett, Wanner I, 2nd ed., II.5; order 2: Sommeijer, Shampine, Verwer 1998, section 2.
fn check_order<const N: usize>(
    sys: &impl OdeSystem,
    t1_s: f64,
    (method, expected, steps): (Method, f64, u32),
    exact: impl Fn(f64) -> [f64; N],
) {
    let error_with = |steps: u32| {
        let h_s = t1_s / f64::from(steps);
        let segment = run(sys, t1_s, &exact(0.0), h_s, &fixed_step(method, h_s));
        assert_eq!(segment.counters.steps, u64::from(steps));
        let mut largest: f64 = 0.0;
        for i in 0..=20 {
            // 20 divides every number of steps used: these are ends of steps
            let t_s = t1_s * f64::from(i) / 20.0;
            for (y, e) in segment.dense.at(t_s).iter().zip(exact(t_s)) {
                largest = largest.max((y - e).abs());
            }
        }
        largest
    };
    let order = (error_with(steps) / error_with(2 * steps)).log2();
    assert!((order - expected).abs() < 0.1, "{method:?}: order {order}");
}

const FIVE: (Method, f64) = (Method::DormandPrince5, 5.0);
const TWO: (Method, f64) = (Method::Chebyshev2, 2.0);

#[test]
fn analytic_the_order_of_convergence_holds_on_a_manufactured_problem() {
    for ((method, order), steps) in [(FIVE, 80), (TWO, 320)] {
        check_order(&Manufactured, 4.0, (method, order, steps), manufactured);
    }
}

#[test]
fn analytic_the_order_of_convergence_holds_on_an_oscillator() {
    for ((method, order), steps) in [(FIVE, 100), (TWO, 400)] {
        check_order(&Oscillator, 10.0, (method, order, steps), |t_s| {
            [t_s.cos(), -t_s.sin()]
        });
    }
}

#[test]
fn analytic_the_order_of_convergence_holds_on_a_logistic_curve() {
    for ((method, order), steps) in [(FIVE, 160), (TWO, 320)] {
        check_order(&Logistic, 6.0, (method, order, steps), |t_s| {
            [1.0 / (1.0 + 9.0 * (-t_s).exp())]
        });
    }
}

#[test]
fn analytic_the_dense_output_follows_the_exact_solution_between_steps() {
    for (method, allowed) in METHODS.into_iter().zip([1e-4, 1e-5]) {
        dense_follows(method, allowed);
    }
}

fn dense_follows(method: Method, allowed: f64) {
    let tol = tolerances(method, 1e-7);
    let segment = run(&Manufactured, 4.0, &[1.0, 0.0], 0.0, &tol);
    assert_eq!((segment.dense.t0(), segment.dense.t1()), (0.0, 4.0));
    let mut y = [0.0; 2];
    for i in 0..=1000 {
        let t_s = 4.0 * f64::from(i) / 1000.0;
        segment.dense.eval_into(t_s, &mut y);
        let exact = manufactured(t_s);
        for j in 0..2 {
            let error = (y[j] - exact[j]).abs();
            assert!(error < allowed, "{method:?}: {j} at {t_s}: {error:e}");
            assert_eq!(y[j], segment.dense.eval_one(t_s, j));
        }
    }
    // the ends are the states themselves
    assert_eq!(segment.dense.at(0.0), [1.0, 0.0]);
    for (a, b) in segment.dense.at(4.0).iter().zip(&segment.y) {
        assert!((a - b).abs() < 1e-13);
    }
}

#[test]
fn analytic_the_cost_of_a_tighter_tolerance_follows_the_order() {
    let steps = |method, rtol: f64| {
        let tol = tolerances(method, rtol);
        run(&Oscillator, 100.0, &[1.0, 0.0], 0.0, &tol)
            .counters
            .steps as f64
    };
    // error per step ~ h^5: three decades cost about 10^(3/5) = 4 times the steps
    let five = Method::DormandPrince5;
    let ratio = steps(five, 1e-9) / steps(five, 1e-6);
    assert!((3.0..5.0).contains(&ratio), "{ratio}");
    // and ~ h^3: 10 times the steps
    let two = Method::Chebyshev2;
    let ratio = steps(two, 1e-6) / steps(two, 1e-3);
    assert!((8.0..12.0).contains(&ratio), "{ratio}");
}

#[test]
fn identity_two_runs_give_the_same_bits() {
    for method in METHODS {
        let tol = tolerances(method, 1e-5);
        let a = run(&Manufactured, 4.0, &[1.0, 0.0], 0.0, &tol);
        let b = run(&Manufactured, 4.0, &[1.0, 0.0], 0.0, &tol);
        assert_eq!(a.dense, b.dense);
        assert_eq!(a.y, b.y);
        assert_eq!(a.counters, b.counters);
        assert_eq!(a.h_next_s.to_bits(), b.h_next_s.to_bits());
    }
}

/// Counts what is really evaluated.
struct Counting<'a, S>(&'a S, std::cell::Cell<u64>);

impl<S: OdeSystem> OdeSystem for Counting<'_, S> {
    fn len(&self) -> usize {
        self.0.len()
    }
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        self.1.set(self.1.get() + 1);
        self.0.rhs(t_s, y, dy);
    }
    fn state_name(&self, i: usize) -> String {
        self.0.state_name(i)
    }
}

#[test]
fn identity_the_counters_add_up() {
    // a first step far too long is thrown away
    let sys = Decay { rates: vec![10.0] };
    for method in METHODS {
        let counting = Counting(&sys, std::cell::Cell::new(0));
        let segment = run(&counting, 20.0, &[1.0], 15.0, &tolerances(method, 1e-5));
        let c = segment.counters;
        assert!(c.rejected > 0);
        assert_eq!(c.rhs, counting.1.get(), "{method:?}");
        assert_eq!(c.steps as usize, segment.dense.steps());
        if method == Method::DormandPrince5 {
            assert_eq!(c.rhs, 1 + 6 * (c.steps + c.rejected));
            assert_eq!(c.radius_rhs, 0);
        } else {
            assert!(c.radius_rhs > 0 && c.rhs >= 1 + c.radius_rhs + 2 * c.steps);
        }
    }
}

#[test]
fn identity_the_step_size_carries_over_a_cut() {
    for method in METHODS {
        let tol = tolerances(method, 1e-5);
        let sys = Decay { rates: vec![1e-3] };
        let whole = run(&sys, 1000.0, &[1.0], 0.0, &tol);
        let mut integrator = Integrator::new(&sys, &tol, 0.0).expect("usable");
        let first = integrator
            .segment(&sys, &NoCrossings, 0.0, 500.0, &[1.0])
            .expect("integrates");
        let second = integrator
            .segment(&sys, &NoCrossings, 500.0, 1000.0, &first.y)
            .expect("integrates");
        let cut = first.counters.steps + second.counters.steps;
        assert!(
            cut <= whole.counters.steps + 2,
            "{method:?}: {cut} steps against {}",
            whole.counters.steps
        );
        // and does not shrink to the last sliver
        let sliver = run(&sys, 1e-3, &[1.0], 20.0, &tol);
        assert_eq!(sliver.counters.steps, 1);
        assert!(sliver.h_next_s >= 20.0);
    }
}

#[test]
fn analytic_no_time_gives_no_step() {
    let segment = run(&Oscillator, 0.0, &[1.0, 0.0], 0.0, &Tolerances::default());
    assert_eq!(segment.end, SegmentEnd::Reached);
    assert_eq!(segment.counters.rhs, 0);
    assert_eq!(segment.dense.at(3.0), [1.0, 0.0]);
}

#[test]
fn analytic_an_absolute_tolerance_factor_loosens_its_own_state_only() {
    /// A fast wiggle on state 0, a slow drift on state 1.
    struct Scaled(f64);
    impl OdeSystem for Scaled {
        fn len(&self) -> usize {
            2
        }
        fn rhs(&self, t_s: f64, _y: &[f64], dy: &mut [f64]) {
            (dy[0], dy[1]) = ((10.0 * t_s).cos(), 0.01);
        }
        fn state_name(&self, i: usize) -> String {
            format!("{i}")
        }
        fn atol_factor(&self, i: usize) -> f64 {
            if i == 0 { self.0 } else { 1.0 }
        }
    }
    let tol = Tolerances {
        method: Method::DormandPrince5,
        rtol: 1e-12,
        atol: 1e-8,
        ..Tolerances::default()
    };
    let steps = |factor: f64| {
        run(&Scaled(factor), 10.0, &[0.0, 0.0], 0.0, &tol)
            .counters
            .steps
    };
    let (tight, loose) = (steps(1.0), steps(1e5));
    assert!(loose * 4 < tight, "{loose} against {tight}");
}
