//! The stabilised method where it is needed: fast decaying modes beside slow ones, restarts, and a burn.

use emberloop::integrate::{
    Crossings, Direction, Integrator, Method, NoCrossings, OdeSystem, SegmentEnd, Tolerances,
    integrate_segment,
};
use emberloop::network::Network;
use emberloop::scenario::load_path;
use ode_solvers::dop_shared::OutputType;
use ode_solvers::{DVector, Dopri5, System};
use std::path::Path;

/// Heat conduction along a row of cells between two ends at rest: eigenvalues -4 k sin^2(j pi / (2 (n + 1))).
struct Row {
    cells: usize,
    rate_per_s: f64,
}

impl OdeSystem for Row {
    fn len(&self) -> usize {
        self.cells
    }
    fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
        let n = self.cells;
        for i in 0..n {
            let left = if i > 0 { y[i - 1] } else { 0.0 };
            let right = if i + 1 < n { y[i + 1] } else { 0.0 };
            dy[i] = self.rate_per_s * (left - 2.0 * y[i] + right);
        }
    }
    fn state_name(&self, i: usize) -> String {
        format!("cell_{i}")
    }
}

impl Row {
    /// The slowest mode, and its rate, 1/s.
    fn slowest(&self) -> (Vec<f64>, f64) {
        let x = std::f64::consts::PI / (self.cells + 1) as f64;
        let shape = (1..=self.cells).map(|i| (x * i as f64).sin()).collect();
        (shape, 4.0 * self.rate_per_s * (0.5 * x).sin().powi(2))
    }
}

fn tolerances(method: Method, rtol: f64) -> Tolerances {
    Tolerances {
        method,
        rtol,
        atol: 0.1 * rtol,
        ..Tolerances::default()
    }
}

/// Steps far beyond 3.3 over the fastest rate, where the order 5 pair ends (Hairer, Wanner II, IV.2), stay stable.
#[test]
fn analytic_a_stiff_row_takes_steps_beyond_the_limit_of_the_order_five_pair() {
    let row = Row {
        cells: 20,
        rate_per_s: 2.0,
    };
    let (mut y, rate) = row.slowest();
    // A ripple that must die and stay dead.
    for (i, v) in y.iter_mut().enumerate() {
        *v += if i % 2 == 0 { 0.1 } else { -0.1 };
    }
    let t1_s = 2.0 / rate;
    let run = |method, rtol| {
        integrate_segment(
            &row,
            &NoCrossings,
            0.0,
            t1_s,
            &y,
            0.0,
            &tolerances(method, rtol),
        )
        .expect("integrates")
    };
    let ours = run(Method::Chebyshev2, 1e-3);
    let exact = run(Method::DormandPrince5, 1e-10);
    for (a, b) in ours.y.iter().zip(&exact.y) {
        assert!((a - b).abs() < 2e-3, "{a} against {b}");
    }
    let mean_s = t1_s / ours.counters.steps as f64;
    assert!(
        mean_s * 4.0 * row.rate_per_s > 2.0 * 3.3,
        "mean step {mean_s} s"
    );
    let pair = run(Method::DormandPrince5, 1e-3);
    assert!(
        2 * ours.counters.rhs < pair.counters.rhs,
        "{} against {}",
        ours.counters.rhs,
        pair.counters.rhs
    );
}

/// Water that passes from cell to cell: a chain whose modes all decay at one rate and are far from orthogonal, and a
/// decaying swing beside it.
#[test]
fn analytic_a_chain_of_cells_and_a_decaying_swing_stay_stable() {
    struct Chain;
    impl OdeSystem for Chain {
        fn len(&self) -> usize {
            18
        }
        fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
            for i in 0..16 {
                let before = if i > 0 { y[i - 1] } else { 1.0 };
                dy[i] = 0.5 * (before - y[i]);
            }
            // eigenvalues -0.5 +- 0.1 i
            dy[16] = -0.5 * y[16] + 0.1 * y[17];
            dy[17] = -0.5 * y[17] - 0.1 * y[16];
        }
        fn state_name(&self, i: usize) -> String {
            format!("{i}")
        }
    }
    let mut y = vec![0.0; 18];
    (y[16], y[17]) = (1.0, 1.0);
    let tol = tolerances(Method::Chebyshev2, 1e-3);
    let s = integrate_segment(&Chain, &NoCrossings, 0.0, 3000.0, &y, 0.0, &tol).expect("runs");
    for (i, v) in s.y.iter().enumerate() {
        let rest = if i < 16 { 1.0 } else { 0.0 };
        assert!((v - rest).abs() < 2e-3, "{i}: {v}");
    }
    assert!(s.counters.rhs < 900, "{:?}", s.counters);
}

/// Sums that the system keeps are kept to rounding, whatever the tolerance.
#[test]
fn identity_linear_invariants_are_exact_to_rounding() {
    struct Exchange;
    impl OdeSystem for Exchange {
        fn len(&self) -> usize {
            3
        }
        fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
            let a = 3.0 * (y[0] - y[1]) * (1.0 + y[0] * y[0]);
            let b = 0.2 * (0.3 * t_s).sin() * y[1];
            (dy[0], dy[1], dy[2]) = (-a, a - b, b);
        }
        fn state_name(&self, i: usize) -> String {
            format!("{i}")
        }
    }
    let tol = tolerances(Method::Chebyshev2, 1e-2);
    let s = integrate_segment(
        &Exchange,
        &NoCrossings,
        0.0,
        200.0,
        &[2.0, 0.5, 0.0],
        0.0,
        &tol,
    )
    .expect("runs");
    let sum: f64 = s.y.iter().sum();
    assert!((sum - 2.5).abs() < 1e-13, "{sum:e}");
    for i in 0..=100 {
        let sum: f64 = s.dense.at(2.0 * f64::from(i)).iter().sum();
        assert!((sum - 2.5).abs() < 1e-13, "{sum:e}");
    }
}

/// The root is that of the run's own curve, the state there on the far side, and a restart costs little.
#[test]
fn analytic_events_are_exact_on_the_curve_and_cheap_to_pass() {
    struct Below(f64);
    impl Crossings for Below {
        fn count(&self) -> usize {
            1
        }
        fn direction(&self, _i: usize) -> Direction {
            Direction::Falling
        }
        fn values(&self, _t_s: f64, y: &[f64], out: &mut [f64]) {
            out[0] = y[10] - self.0;
        }
    }
    let row = Row {
        cells: 20,
        rate_per_s: 2.0,
    };
    let (y, rate) = row.slowest();
    let level = 0.5 * y[10];
    let tol = tolerances(Method::Chebyshev2, 1e-5);
    let t1_s = 2.0 / rate;
    let mut integrator = Integrator::new(&row, &tol, 0.0).expect("usable");
    let first = integrator
        .segment(&row, &Below(level), 0.0, t1_s, &y)
        .expect("runs");
    let SegmentEnd::Crossed { index: 0, t_s } = first.end else {
        panic!("{:?}", first.end);
    };
    let exact_s = 2.0f64.ln() / rate;
    assert!((t_s / exact_s - 1.0).abs() < 1e-4, "{t_s} for {exact_s}");
    assert!(first.y[10] <= level && level - first.y[10] < 1e-12);
    let second = integrator
        .segment(&row, &Below(level), t_s, t1_s, &first.y)
        .expect("runs");
    assert_eq!(second.end, SegmentEnd::Reached);
    let whole = integrate_segment(&row, &NoCrossings, 0.0, t1_s, &y, 0.0, &tol).expect("runs");
    let cut = first.counters.rhs + second.counters.rhs;
    assert!(
        cut <= whole.counters.rhs + 30,
        "{cut} against {}",
        whole.counters.rhs
    );
}

/// A fire on one load of wood, no events: the network under an independent implementation (`ode_solvers`, Dopri5).
#[test]
fn published_a_lit_rig_agrees_with_the_reference_library() {
    struct Theirs<'a>(&'a Network);
    impl System<f64, DVector<f64>> for Theirs<'_> {
        fn system(&self, t: f64, y: &DVector<f64>, dy: &mut DVector<f64>) {
            self.0.rhs(t, y.as_slice(), dy.as_mut_slice());
        }
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/wash-up-barrel.toml");
    let loaded = load_path(&path, &[]).expect("loads");
    let mut net = Network::new(&loaded.rig).expect("assembles");
    let mut y = net.initial_state();
    net.add_wood(&mut y, 0.0, 1.0, 0.02, 0.12, true);
    net.mode.starter_on = true;
    let t1_s = 1200.0;
    let mut reference = Dopri5::from_param(
        Theirs(&net),
        0.0,
        t1_s,
        t1_s,
        DVector::from_row_slice(&y),
        1e-9,
        1e-9,
        0.9,
        0.04,
        0.2,
        10.0,
        t1_s,
        1e-3,
        1_000_000,
        u32::MAX,
        OutputType::Sparse,
    );
    let stats = reference.integrate().expect("the reference integrates");
    let end = reference.y_out().last().expect("an end state").as_slice();
    // Less than half as dear at the tolerance in use. At one a hundred times tighter a higher order is cheaper, as little of a
    // rig is fast any more.
    let mut tank_errors = Vec::new();
    for (rtol, atol, tank_k, chamber_k) in [(5e-3, 1e-3, 0.05, 5.0), (5e-5, 5e-6, 1e-3, 0.5)] {
        let tol = Tolerances {
            atol,
            ..tolerances(Method::Chebyshev2, rtol)
        };
        let ours =
            integrate_segment(&net, &NoCrossings, 0.0, t1_s, &y, 0.0, &tol).expect("integrates");
        let tank = (net.tank_mean_k(&ours.y) - net.tank_mean_k(end)).abs();
        let chamber = (net.flame_k(&ours.y) - net.flame_k(end)).abs();
        let pair = Tolerances {
            method: Method::DormandPrince5,
            ..tol
        };
        let pair =
            integrate_segment(&net, &NoCrossings, 0.0, t1_s, &y, 0.0, &pair).expect("integrates");
        println!("order 5 at the same tolerance: {:?}", pair.counters);
        if rtol > 1e-3 {
            assert!(ours.counters.rhs * 2 < pair.counters.rhs);
        }
        println!(
            "rtol {rtol}: tank {tank:.2e} K, chamber {chamber:.2e} K, {:?}, reference {} right-hand sides",
            ours.counters, stats.num_eval
        );
        assert!(tank < tank_k, "tank off by {tank} K");
        assert!(chamber < chamber_k, "chamber off by {chamber} K");
        assert!(ours.counters.rhs * 2 < u64::from(stats.num_eval));
        tank_errors.push(tank);
    }
    // Errors of order 2 fall with the tolerance's power of two thirds: 21 times for a hundredth.
    assert!(
        tank_errors[1] < 0.1 * tank_errors[0],
        "tank off by {tank_errors:?} K"
    );
}
