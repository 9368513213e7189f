//! Where a curve meets a level, and where it comes nearest: brackets from a scan, then the searches of Brent (argmin).

use argmin::core::{CostFunction, Error, Executor, State};
use argmin::solver::brent::{BrentOpt, BrentRoot};
use std::cell::RefCell;

/// A point of the curve; `y` is not finite where there is no value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    pub x: f64,
    pub y: f64,
}

/// What a search remembers: every point that it asked for.
struct Asked<F> {
    f: F,
    seen: RefCell<Vec<Sample>>,
    /// -1: a maximum is sought.
    sign: f64,
    level: f64,
}

impl<F: Fn(f64) -> f64> Asked<F> {
    fn at(&self, x: f64) -> f64 {
        let known = self.seen.borrow().iter().find(|s| s.x == x).map(|s| s.y);
        known.unwrap_or_else(|| {
            let y = (self.f)(x);
            self.seen.borrow_mut().push(Sample { x, y });
            y
        })
    }
}

impl<F: Fn(f64) -> f64> CostFunction for &Asked<F> {
    type Param = f64;
    type Output = f64;

    fn cost(&self, x: &f64) -> Result<f64, Error> {
        let y = self.sign * (self.at(*x) - self.level);
        if y.is_finite() {
            Ok(y)
        } else {
            Err(Error::msg("no value here"))
        }
    }
}

/// Neighbours between which the curve passes the level, lowest first; a sample on the level counts once, with its successor
/// or, for the last one, its predecessor.
pub fn crossings(samples: &[Sample], level: f64) -> Vec<(Sample, Sample)> {
    let mut found = Vec::new();
    for pair in samples.windows(2) {
        let (a, b) = (pair[0].y - level, pair[1].y - level);
        let last = pair[1].x == samples[samples.len() - 1].x;
        if a.is_finite() && b.is_finite() && (a == 0.0 || a * b < 0.0 || (last && b == 0.0)) {
            found.push((pair[0], pair[1]));
        }
    }
    found
}

/// Neighbours that enclose a turn of the curve towards the level without reaching it: between them it may touch or pass
/// twice. Left, middle, right.
pub fn turns(samples: &[Sample], level: f64) -> Vec<(Sample, Sample, Sample)> {
    samples
        .windows(3)
        .filter(|w| {
            let [a, b, c] = [w[0].y - level, w[1].y - level, w[2].y - level];
            let one_side = a * b > 0.0 && b * c > 0.0;
            // Farther off than its neighbours lie from it, the turn is too flat to reach.
            let steep = (a.abs() - b.abs()).max(c.abs() - b.abs());
            one_side && b.abs() <= a.abs() && b.abs() <= c.abs() && b.abs() <= 2.0 * steep
        })
        .map(|w| (w[0], w[1], w[2]))
        .collect()
}

/// A place where the curve passes the level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Root {
    /// The nearer of both sides.
    pub at: Sample,
    /// The other side of the last bracket.
    pub other: Sample,
}

/// Narrows a bracket of [`crossings`] to `tol` in x: Brent's root search where the curve has values throughout, halving
/// where it has not. Returns the place and all points asked.
pub fn root(
    f: impl Fn(f64) -> f64,
    (a, b): (Sample, Sample),
    level: f64,
    tol: f64,
) -> (Root, Vec<Sample>) {
    let asked = Asked {
        f,
        seen: RefCell::new(vec![a, b]),
        sign: 1.0,
        level,
    };
    let solver = BrentRoot::new(a.x, b.x, tol);
    // Its outcome is in the points asked, whether it converged or met a gap.
    let _ = Executor::new(&asked, solver)
        .configure(|s| s.param(a.x).max_iters(60))
        .run();
    let side = |s: &Sample| s.y - level;
    let rising = if side(&a) < 0.0 || side(&b) > 0.0 {
        1.0
    } else {
        -1.0
    };
    let tightest = |seen: &[Sample]| {
        let below = |s: &&Sample| rising * side(s) <= 0.0;
        let above = |s: &&Sample| rising * side(s) >= 0.0;
        let lo = seen.iter().filter(below).max_by(|p, q| p.x.total_cmp(&q.x));
        let hi = seen.iter().filter(above).min_by(|p, q| p.x.total_cmp(&q.x));
        (lo.copied().unwrap_or(a), hi.copied().unwrap_or(b))
    };
    let (lo, hi) = tightest(&asked.seen.borrow());
    let (at, other) = if side(&lo).abs() <= side(&hi).abs() {
        (lo, hi)
    } else {
        (hi, lo)
    };
    (Root { at, other }, asked.seen.into_inner())
}

/// Lowest point between two ends by Brent's minimum search (`highest`: the highest), of at most `most` steps; and all points
/// asked.
pub fn extreme(
    f: impl Fn(f64) -> f64,
    (a, b): (f64, f64),
    highest: bool,
    tol: f64,
    most: u64,
) -> Vec<Sample> {
    let asked = Asked {
        f,
        seen: RefCell::new(Vec::new()),
        sign: if highest { -1.0 } else { 1.0 },
        level: 0.0,
    };
    let solver = BrentOpt::new(a, b).set_tolerance(1e-8, tol);
    let _ = Executor::new(&asked, solver)
        .configure(|s| s.param(0.5 * (a + b)).max_iters(most))
        .run()
        .map(|r| r.state.get_iter());
    asked.seen.into_inner()
}

/// Halves the stretch between a place where a condition holds and one where it does not, to `tol`; returns the last place
/// where it holds, the last where it does not, and how often it was asked.
pub fn edge(
    holds: impl Fn(f64) -> bool,
    mut good: f64,
    mut bad: f64,
    tol: f64,
) -> (f64, f64, usize) {
    let mut asked = 0;
    while (good - bad).abs() > tol && asked < 60 {
        let mid = 0.5 * (good + bad);
        asked += 1;
        if holds(mid) {
            good = mid;
        } else {
            bad = mid;
        }
    }
    (good, bad, asked)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scan(f: impl Fn(f64) -> f64, lo: f64, hi: f64, n: usize) -> Vec<Sample> {
        (0..n)
            .map(|i| lo + (hi - lo) * i as f64 / (n - 1) as f64)
            .map(|x| Sample { x, y: f(x) })
            .collect()
    }

    #[test]
    fn analytic_every_crossing_of_a_wave_is_found() {
        let f = |x: f64| x.sin();
        let samples = scan(f, 0.5, 10.0, 24);
        let roots: Vec<f64> = crossings(&samples, 0.25)
            .into_iter()
            .map(|b| root(f, b, 0.25, 1e-9).0.at.x)
            .collect();
        let first = 0.25f64.asin();
        let pi = std::f64::consts::PI;
        let expected = [pi - first, 2.0 * pi + first, 3.0 * pi - first];
        assert_eq!(roots.len(), 3);
        for (got, want) in roots.iter().zip(expected) {
            assert!((got - want).abs() < 1e-8, "{got} against {want}");
        }
    }

    #[test]
    fn analytic_a_jump_shows_both_of_its_sides() {
        let f = |x: f64| if x < 0.3 { -1.0 } else { 2.0 };
        let samples = scan(f, 0.0, 1.0, 5);
        let brackets = crossings(&samples, 0.0);
        assert_eq!(brackets.len(), 1);
        let (r, _) = root(f, brackets[0], 0.0, 1e-6);
        assert_eq!((r.at.y, r.other.y), (-1.0, 2.0));
        assert!((r.at.x - 0.3).abs() < 1e-5 && (r.other.x - 0.3).abs() < 1e-5);
    }

    #[test]
    fn analytic_a_double_crossing_between_samples_is_seen_as_a_turn() {
        let f = |x: f64| (x - 0.52) * (x - 0.52) - 1e-4;
        let samples = scan(f, 0.0, 1.0, 11);
        assert!(crossings(&samples, 0.0).is_empty());
        let turns = turns(&samples, 0.0);
        assert_eq!(turns.len(), 1);
        let asked = extreme(f, (turns[0].0.x, turns[0].2.x), false, 1e-6, 40);
        let best = asked.iter().map(|s| s.y).fold(f64::INFINITY, f64::min);
        assert!((best + 1e-4).abs() < 1e-8, "{best}");
    }

    #[test]
    fn analytic_an_edge_is_halved_down_to() {
        let (good, bad, asked) = edge(|x| x >= 0.4, 1.0, 0.0, 1e-6);
        assert!(good >= 0.4 && bad < 0.4 && good - bad <= 1e-6);
        assert_eq!(asked, 20);
    }
}
