//! One bundled burn, stretch by stretch from the same starts on the same right-hand side: our integrator against two of other
//! libraries, each with the largest error of the store's mean temperature at a stretch's end against a tight reference.

mod replay;

use differential_equations::methods::BackwardDifferentiationFormula;
use differential_equations::ode::{ODE, OrdinaryNumericalMethod};
use emberloop::integrate::{Method, NoCrossings, OdeSystem, Tolerances, integrate_segment};
use emberloop::network::Network;
use ode_solvers::dop_shared::OutputType;
use ode_solvers::{DVector, Dopri5, System};
use replay::Stretch;
use std::cell::Cell;
use std::time::Instant;

/// The right-hand side, counted.
struct Counted<'a>(&'a Network, &'a Cell<u64>);

impl Counted<'_> {
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        self.1.set(self.1.get() + 1);
        self.0.rhs(t_s, y, dy);
    }
}

impl ODE<f64, Vec<f64>> for Counted<'_> {
    fn diff(&self, t_s: f64, y: &Vec<f64>, dydt: &mut Vec<f64>) {
        // The library hands over an empty vector at its start.
        dydt.resize(y.len(), 0.0);
        self.rhs(t_s, y, dydt);
    }
}

impl System<f64, DVector<f64>> for Counted<'_> {
    fn system(&self, t_s: f64, y: &DVector<f64>, dy: &mut DVector<f64>) {
        self.rhs(t_s, y.as_slice(), dy.as_mut_slice());
    }
}

fn ours(s: &Stretch, calls: &Cell<u64>, tol: &Tolerances) -> Vec<f64> {
    let done = integrate_segment(&s.net, &NoCrossings, s.t0_s, s.t1_s, &s.start, 0.0, tol)
        .expect("integrates");
    calls.set(calls.get() + done.counters.rhs);
    done.y
}

fn bdf(s: &Stretch, calls: &Cell<u64>, rtol: f64) -> Vec<f64> {
    let system = Counted(&s.net, calls);
    let mut solver = BackwardDifferentiationFormula::adaptive()
        .h0(0.1)
        .rtol(rtol)
        .atol(rtol)
        .max_steps(usize::MAX);
    solver
        .init(&system, s.t0_s, s.t1_s, &s.start)
        .expect("starts");
    while s.t1_s - solver.t() > 1e-9 {
        if solver.t() + 1.01 * solver.h() > s.t1_s {
            solver.set_h(s.t1_s - solver.t());
        }
        solver.step(&system).expect("steps");
    }
    solver.y().clone()
}

fn dopri5(s: &Stretch, calls: &Cell<u64>, rtol: f64) -> Vec<f64> {
    let span_s = s.t1_s - s.t0_s;
    let mut solver = Dopri5::from_param(
        Counted(&s.net, calls),
        s.t0_s,
        s.t1_s,
        span_s,
        DVector::from_row_slice(&s.start),
        rtol,
        rtol,
        0.9,
        0.04,
        0.2,
        10.0,
        span_s,
        span_s.min(0.1),
        2_000_000,
        u32::MAX,
        OutputType::Sparse,
    );
    solver.integrate().expect("integrates");
    solver.y_out().last().expect("an end").as_slice().to_vec()
}

fn main() {
    // `cargo test --benches` only wants to know that it starts.
    if std::env::args().any(|a| a == "--test") {
        return;
    }
    let all = replay::stretches();
    let tight = Tolerances {
        method: Method::DormandPrince5,
        rtol: 1e-8,
        atol: 1e-8,
        h_max_s: 300.0,
        max_steps: 20_000_000,
    };
    let solver = &all[0].net.rig.solver;
    let usual = Tolerances {
        method: Method::Chebyshev2,
        rtol: solver.rtol,
        atol: solver.atol,
        h_max_s: 300.0,
        max_steps: 2_000_000,
    };
    let unseen = Cell::new(0);
    let reference: Vec<f64> = all
        .iter()
        .map(|s| s.net.tank_mean_k(&ours(s, &unseen, &tight)))
        .collect();
    let seconds: f64 = all.iter().map(|s| s.t1_s - s.t0_s).sum();
    println!(
        "wash-up barrel, {} stretches between events, {seconds:.0} s in all, {} states",
        all.len(),
        all[0].start.len()
    );
    println!(
        "{:<44} {:>10} {:>10} {:>10} {:>8}",
        "method", "ms", "RHS", "error K", "ratio"
    );
    let mut base_ms = None;
    let mut row = |name: &str, run: &dyn Fn(&Stretch, &Cell<u64>) -> Vec<f64>, times: usize| {
        let (mut best_ms, mut error_k) = (f64::INFINITY, 0.0f64);
        let calls = Cell::new(0);
        // The least of some: other work on the machine only adds.
        for _ in 0..times {
            calls.set(0);
            let start = Instant::now();
            let ends: Vec<Vec<f64>> = all.iter().map(|s| run(s, &calls)).collect();
            best_ms = best_ms.min(start.elapsed().as_secs_f64() * 1e3);
            for ((s, y), r) in all.iter().zip(&ends).zip(&reference) {
                error_k = error_k.max((s.net.tank_mean_k(y) - r).abs());
            }
        }
        let base = *base_ms.get_or_insert(best_ms);
        println!(
            "{name:<44} {best_ms:>10.2} {:>10} {error_k:>10.1e} {:>8.1}",
            calls.get(),
            best_ms / base
        );
    };
    row(
        "ours, the scenario's tolerances",
        &|s, c| ours(s, c, &usual),
        10,
    );
    row(
        "BDF of differential-equations, rtol 1e-3",
        &|s, c| bdf(s, c, 1e-3),
        1,
    );
    row(
        "Dopri5 of ode_solvers, rtol 1e-3",
        &|s, c| dopri5(s, c, 1e-3),
        1,
    );
}
