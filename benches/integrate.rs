//! What the integrator itself costs: steps, events and dense output around a right-hand side that costs nothing.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use emberloop::integrate::{
    Crossings, Direction, Method, NoCrossings, OdeSystem, Tolerances, integrate_segment,
};
use std::hint::black_box;

/// Independent decays: the cheapest right-hand side there is.
struct Decay {
    states: usize,
}

impl OdeSystem for Decay {
    fn len(&self) -> usize {
        self.states
    }
    fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
        for (dy, y) in dy.iter_mut().zip(y) {
            *dy = -1e-3 * y;
        }
    }
    fn state_name(&self, i: usize) -> String {
        format!("decay_{i}")
    }
}

/// Conditions that never happen.
struct Never;

impl Crossings for Never {
    fn count(&self) -> usize {
        5
    }
    fn direction(&self, _i: usize) -> Direction {
        Direction::Any
    }
    fn values(&self, _t_s: f64, y: &[f64], out: &mut [f64]) {
        for (out, y) in out.iter_mut().zip(y) {
            *out = y + 5.0;
        }
    }
}

const STEPS: u64 = 10;

fn segment(states: usize, crossings: &impl Crossings) -> f64 {
    let tol = Tolerances {
        h_max_s: 10.0,
        ..Tolerances::default()
    };
    let y0 = vec![300.0; states];
    let end_s = 10.0 * STEPS as f64;
    integrate_segment(
        &Decay { states },
        crossings,
        0.0,
        end_s,
        black_box(&y0),
        10.0,
        &tol,
    )
    .map_or(f64::NAN, |s| s.y[0])
}

fn steps(c: &mut Criterion) {
    let mut group = c.benchmark_group("integrator_10_steps");
    group.throughput(Throughput::Elements(STEPS));
    for states in [30, 90] {
        group.bench_with_input(BenchmarkId::new("plain", states), &states, |b, &n| {
            b.iter(|| segment(n, &NoCrossings));
        });
        group.bench_with_input(BenchmarkId::new("five_events", states), &states, |b, &n| {
            b.iter(|| segment(n, &Never));
        });
    }
    group.finish();
}

fn dense(c: &mut Criterion) {
    let tol = Tolerances {
        h_max_s: 10.0,
        ..Tolerances::default()
    };
    let y0 = vec![300.0; 90];
    let Ok(segment) = integrate_segment(
        &Decay { states: 90 },
        &NoCrossings,
        0.0,
        100.0,
        &y0,
        10.0,
        &tol,
    ) else {
        return;
    };
    let mut out = vec![0.0; 90];
    c.bench_function("dense_output_90_states", |b| {
        b.iter(|| segment.dense.eval_into(black_box(37.3), &mut out));
    });
}

/// Heat conduction along a row of cells: fast decaying modes beside a slow one, over which the state changes.
struct Row;

impl OdeSystem for Row {
    fn len(&self) -> usize {
        60
    }
    fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
        for i in 0..60 {
            let left = if i > 0 { y[i - 1] } else { 0.0 };
            let right = if i < 59 { y[i + 1] } else { 0.0 };
            dy[i] = 0.25 * (left - 2.0 * y[i] + right);
        }
    }
    fn state_name(&self, i: usize) -> String {
        format!("cell_{i}")
    }
}

fn methods(c: &mut Criterion) {
    let mut group = c.benchmark_group("fast_modes_one_hour");
    let y0: Vec<f64> = (0..60).map(|i| f64::from(i % 7)).collect();
    for method in [Method::Chebyshev2, Method::DormandPrince5] {
        let tol = Tolerances {
            method,
            rtol: 5e-3,
            atol: 1e-3,
            ..Tolerances::default()
        };
        let run = || integrate_segment(&Row, &NoCrossings, 0.0, 3600.0, &y0, 0.0, &tol);
        if let Ok(segment) = run() {
            eprintln!("{method:?}: {:?}", segment.counters);
        }
        group.bench_function(format!("{method:?}"), |b| b.iter(run));
    }
    group.finish();
}

criterion_group!(benches, steps, methods, dense);
criterion_main!(benches);
