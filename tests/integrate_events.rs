//! Events: located exactly, earliest first, none missed inside a long step, none fired twice.

use emberloop::integrate::{
    Crossings, Direction, IntegrateError, Method, OdeSystem, Segment, SegmentEnd, Tolerances,
    integrate_segment,
};
use std::f64::consts::{FRAC_PI_2, PI};

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

/// A constant rate: y = y0 + rate t, exact for any Runge-Kutta method.
struct Line(f64);

impl OdeSystem for Line {
    fn len(&self) -> usize {
        1
    }
    fn rhs(&self, _t_s: f64, _y: &[f64], dy: &mut [f64]) {
        dy[0] = self.0;
    }
    fn state_name(&self, _i: usize) -> String {
        "line".to_owned()
    }
}

type Condition = (Direction, Box<dyn Fn(f64, &[f64]) -> f64>);

struct Conditions(Vec<Condition>);

impl Conditions {
    fn and(mut self, direction: Direction, g: impl Fn(f64, &[f64]) -> f64 + 'static) -> Self {
        self.0.push((direction, Box::new(g)));
        self
    }
}

impl Crossings for Conditions {
    fn count(&self) -> usize {
        self.0.len()
    }
    fn direction(&self, i: usize) -> Direction {
        self.0[i].0
    }
    fn values(&self, t_s: f64, y: &[f64], out: &mut [f64]) {
        for (out, (_, g)) in out.iter_mut().zip(&self.0) {
            *out = g(t_s, y);
        }
    }
}

fn when(direction: Direction, g: impl Fn(f64, &[f64]) -> f64 + 'static) -> Conditions {
    Conditions(Vec::new()).and(direction, g)
}

/// Of order 5, so that the error of the solution does not hide that of the event.
fn tight() -> Tolerances {
    Tolerances {
        method: Method::DormandPrince5,
        rtol: 1e-10,
        atol: 1e-10,
        ..Tolerances::default()
    }
}

fn run(
    sys: &impl OdeSystem,
    crossings: &impl Crossings,
    (t0_s, t1_s): (f64, f64),
    y0: &[f64],
) -> Segment {
    integrate_segment(sys, crossings, t0_s, t1_s, y0, 0.0, &tight()).expect("integrates")
}

/// All event times until `t1_s`, restarting at each.
fn event_times(
    sys: &impl OdeSystem,
    crossings: &impl Crossings,
    t1_s: f64,
    y0: &[f64],
    tol: &Tolerances,
) -> Vec<f64> {
    let (mut t_s, mut y, mut h_s) = (0.0, y0.to_vec(), 0.0);
    let mut times = Vec::new();
    loop {
        let segment =
            integrate_segment(sys, crossings, t_s, t1_s, &y, h_s, tol).expect("integrates");
        match segment.end {
            SegmentEnd::Reached => return times,
            SegmentEnd::Crossed { t_s, .. } => times.push(t_s),
        }
        (t_s, y, h_s) = (segment.t_s, segment.y, segment.h_next_s);
    }
}

#[test]
fn analytic_zeros_of_an_oscillator_are_found_by_direction() {
    let cases = [
        (Direction::Any, FRAC_PI_2, PI),
        (Direction::Falling, FRAC_PI_2, 2.0 * PI),
        (Direction::Rising, 3.0 * FRAC_PI_2, 2.0 * PI),
    ];
    for (direction, first, spacing) in cases {
        let crossings = when(direction, |_, y| y[0]);
        let times = event_times(&Oscillator, &crossings, 30.0, &[1.0, 0.0], &tight());
        let expected: Vec<f64> = (0..)
            .map(|k| first + spacing * f64::from(k))
            .take_while(|&t| t < 30.0)
            .collect();
        assert_eq!(times.len(), expected.len(), "{direction:?}: {times:?}");
        for (t, e) in times.iter().zip(&expected) {
            assert!((t - e).abs() < 1e-6, "{direction:?}: {t} against {e}");
        }
    }
}

#[test]
fn analytic_the_state_returned_is_the_state_at_the_root() {
    let crossings = when(Direction::Falling, |_, y| y[0] - 0.5);
    let segment = run(&Oscillator, &crossings, (0.0, 10.0), &[1.0, 0.0]);
    assert!((segment.t_s - 0.5f64.acos()).abs() < 1e-6);
    assert!((segment.y[0] - 0.5).abs() < 1e-12, "{}", segment.y[0]);
    assert!(segment.y[0] <= 0.5, "on the far side");
    assert_eq!(segment.dense.t1(), segment.t_s);
    // nothing of the solution beyond the event is given
    for t_s in [segment.t_s, segment.t_s + 1.0] {
        for (a, b) in segment.dense.at(t_s).iter().zip(&segment.y) {
            assert!((a - b).abs() < 1e-14);
        }
    }
}

#[test]
fn analytic_a_bouncing_ball_restarts_at_each_bounce() {
    struct Ball;
    impl OdeSystem for Ball {
        fn len(&self) -> usize {
            2
        }
        fn rhs(&self, _t_s: f64, y: &[f64], dy: &mut [f64]) {
            (dy[0], dy[1]) = (y[1], -9.81);
        }
        fn state_name(&self, i: usize) -> String {
            ["height", "speed"][i].to_owned()
        }
    }
    // Dropped from 1 m; keeps 70 % of its speed: flight n lasts 2 v_n / g.
    let ground = when(Direction::Falling, |_, y| y[0]);
    let (mut t_s, mut y, mut h_s) = (0.0, vec![1.0, 0.0], 0.0);
    let mut expected = (2.0 / 9.81f64).sqrt();
    let mut speed = (2.0 * 9.81f64).sqrt();
    for bounce in 0..12 {
        let segment =
            integrate_segment(&Ball, &ground, t_s, 10.0, &y, h_s, &tight()).expect("integrates");
        assert!(matches!(segment.end, SegmentEnd::Crossed { index: 0, .. }));
        assert!(
            (segment.t_s - expected).abs() < 1e-9,
            "bounce {bounce}: {} against {expected}",
            segment.t_s
        );
        assert!((segment.y[1] + speed).abs() < 1e-8);
        (t_s, y, h_s) = (segment.t_s, segment.y, segment.h_next_s);
        y[1] *= -0.7;
        speed *= 0.7;
        expected += 2.0 * speed / 9.81;
    }
}

#[test]
fn analytic_an_event_does_not_fire_again_at_the_restart() {
    for direction in [Direction::Any, Direction::Rising] {
        let crossings = when(direction, |_, y| y[0] - 1.0);
        let first = run(&Line(0.1), &crossings, (0.0, 100.0), &[0.0]);
        assert!((first.t_s - 10.0).abs() < 1e-9);
        let second = run(&Line(0.1), &crossings, (first.t_s, 100.0), &first.y);
        assert_eq!(second.end, SegmentEnd::Reached);
    }
}

#[test]
fn analytic_a_condition_at_exactly_zero_at_the_start_does_not_fire() {
    let crossings = when(Direction::Any, |_, y| y[0]);
    for rate in [1.0, -1.0] {
        let segment = run(&Line(rate), &crossings, (0.0, 10.0), &[0.0]);
        assert_eq!(segment.end, SegmentEnd::Reached);
    }
    // but its return does: y = sin t leaves zero at 0 and is back at pi
    let segment = run(&Oscillator, &crossings, (0.0, 10.0), &[0.0, 1.0]);
    assert!((segment.t_s - PI).abs() < 1e-8);
}

#[test]
fn analytic_an_event_exactly_at_the_end_of_a_segment_fires_once() {
    let crossings = when(Direction::Rising, |t, _| t - 8.0);
    let segment = run(&Line(0.125), &crossings, (0.0, 8.0), &[0.0]);
    assert_eq!(segment.end, SegmentEnd::Crossed { index: 0, t_s: 8.0 });
    assert_eq!(segment.t_s, 8.0);
    let again = run(&Line(0.125), &crossings, (8.0, 16.0), &segment.y);
    assert_eq!(again.end, SegmentEnd::Reached);
}

#[test]
fn analytic_the_earliest_of_several_events_wins_and_the_next_follows() {
    let crossings = when(Direction::Any, |_, y| y[0] - 3.0)
        .and(Direction::Any, |_, y| y[0] - 1.0)
        .and(Direction::Any, |_, y| y[0] - 2.0)
        .and(Direction::Falling, |_, y| y[0] - 0.5);
    let (mut t_s, mut y) = (0.0, vec![0.0]);
    let mut order = Vec::new();
    loop {
        let segment = run(&Line(1.0), &crossings, (t_s, 10.0), &y);
        let SegmentEnd::Crossed { index, t_s: t } = segment.end else {
            break;
        };
        order.push(index);
        assert!((t - order.len() as f64).abs() < 1e-12);
        (t_s, y) = (t, segment.y);
    }
    assert_eq!(order, [1, 2, 0]);
}

#[test]
fn analytic_events_at_the_same_moment_are_all_reported() {
    let crossings = when(Direction::Rising, |_, y| y[0] - 1.0)
        .and(Direction::Rising, |_, y| y[0] - 5.0)
        .and(Direction::Rising, |_, y| y[0] - 1.0);
    let segment = run(&Line(1.0), &crossings, (0.0, 3.0), &[0.0]);
    assert_eq!(segment.fired, [0, 2]);
    let next = run(&Line(1.0), &crossings, (segment.t_s, 3.0), &segment.y);
    assert_eq!(next.end, SegmentEnd::Reached);
}

#[test]
fn analytic_a_dip_within_one_long_step_is_not_missed() {
    // y = t in a single step of 10 s; the condition is below zero for 0.4 s of it
    for centre in [2.3, 5.0, 7.1, 9.6] {
        for (direction, expected) in [
            (Direction::Falling, centre - 0.2),
            (Direction::Rising, centre + 0.2),
        ] {
            let crossings = when(direction, move |_, y| (y[0] - centre).powi(2) - 0.04);
            let tol = Tolerances::default();
            let segment = integrate_segment(&Line(1.0), &crossings, 0.0, 10.0, &[0.0], 10.0, &tol)
                .expect("integrates");
            assert_eq!(segment.dense.steps(), 1, "one step spans the dip");
            assert!(
                (segment.t_s - expected).abs() < 1e-9,
                "{direction:?} at {centre}: {}",
                segment.t_s
            );
        }
    }
}

#[test]
fn analytic_every_peak_over_a_threshold_is_seen_at_default_tolerance() {
    // sin t is over 0.99 for 0.28 s around each crest
    let crossings = when(Direction::Any, |_, y| y[0] - 0.99);
    let tol = Tolerances {
        method: Method::DormandPrince5,
        ..Tolerances::default()
    };
    let times = event_times(&Oscillator, &crossings, 100.0, &[0.0, 1.0], &tol);
    let half = 0.99f64.acos();
    let expected: Vec<f64> = (0..16)
        .map(|k| FRAC_PI_2 + 2.0 * PI * f64::from(k))
        .flat_map(|t| [t - half, t + half])
        .take_while(|&t| t < 100.0)
        .collect();
    assert_eq!(times.len(), expected.len(), "{times:?}");
    for (t, e) in times.iter().zip(&expected) {
        assert!((t - e).abs() < 0.01, "{t} against {e}");
    }
}

#[test]
fn analytic_late_events_are_as_exact_as_early_ones() {
    let crossings = when(Direction::Rising, |_, y| y[0] - 1.0);
    let start = 86_400.0;
    let root = start + 1.0 / 0.003;
    let segment = run(&Line(0.003), &crossings, (start, 2.0 * start), &[0.0]);
    assert!((segment.t_s - root).abs() < 1e-9);
}

#[test]
fn practice_a_condition_that_is_not_a_number_is_named() {
    let crossings = when(Direction::Any, |_, _| 1.0).and(Direction::Any, |t, _| (3.0 - t).sqrt());
    let tol = Tolerances::default();
    let result = integrate_segment(&Line(1.0), &crossings, 0.0, 10.0, &[0.0], 1.0, &tol);
    assert!(
        matches!(result, Err(IntegrateError::CrossingNotFinite { index: 1, t_s, .. }) if t_s > 3.0),
        "{result:?}"
    );
}
