//! Watches event conditions along accepted steps and locates the earliest crossing on the dense output.
//!
//! Where to look. The ends of a step are not enough: a condition may dip below zero and come back inside one
//! long step. Each step is therefore also sampled at its middle (unless the caller knows better). Over one accepted step the solution is a
//! polynomial of degree 4 whose higher terms are small (that is what the error control enforces), so the
//! parabola through the three samples of a condition tells where it turns. Where the parabola turns towards
//! zero and comes near it, the step is sampled there too. What can still slip through is a double crossing
//! that stays within a fifth of the condition's variation over the step *and* is not parabolic; a caller
//! whose conditions have kinks bounds the step (`Tolerances::h_max_s`).

use super::dense::DenseSegment;
use super::root::far_side_of_root;
use super::{Crossings, Direction, IntegrateError};

/// How near zero, as a share of the variation over the step, a turning parabola must come to be looked at.
const NEAR: f64 = 0.2;

/// An event found inside a step.
pub(super) struct Found {
    pub theta: f64,
    pub t_s: f64,
    /// All conditions that cross here, ascending; never empty.
    pub fired: Vec<usize>,
}

/// Side of each condition and scratch space; nothing is allocated per step once warm.
pub(super) struct Watcher {
    count: usize,
    /// -1, +1; 0 while undecided.
    side: Vec<i8>,
    /// Known not to have touched zero within the step.
    clear: Vec<bool>,
    /// Sampled positions in the step, ascending; the first is 0.
    thetas: Vec<f64>,
    /// One row of values per sampled position.
    rows: Vec<f64>,
    extra: Vec<f64>,
    y: Vec<f64>,
    g: Vec<f64>,
}

impl Watcher {
    /// Takes the sides at the start of a segment.
    pub fn new(crossings: &impl Crossings, t_s: f64, y: &[f64]) -> Result<Self, IntegrateError> {
        let count = crossings.count();
        let mut rows = vec![0.0; count];
        if count > 0 {
            crossings.values(t_s, y, &mut rows);
            check_finite(t_s, &rows)?;
        }
        Ok(Self {
            count,
            side: rows.iter().map(|&g| sign(g)).collect(),
            clear: vec![false; count],
            thetas: vec![0.0],
            rows,
            extra: Vec::new(),
            y: y.to_vec(),
            g: vec![0.0; count],
        })
    }

    /// Looks through the last step of `dense`, which started at `t_s` and is `h_s` long; `t_end_s` and `y_end`
    /// are its exact end.
    pub fn look(
        &mut self,
        crossings: &impl Crossings,
        dense: &DenseSegment,
        (t_s, h_s, t_end_s): (f64, f64, f64),
        y_end: &[f64],
    ) -> Result<Option<Found>, IntegrateError> {
        let n = self.count;
        if n == 0 {
            return Ok(None);
        }
        let step = dense.steps() - 1;
        self.sample(crossings, dense, (t_s, h_s, t_end_s), y_end)?;
        for s in 1..self.thetas.len() {
            let (theta_a, theta_b) = (self.thetas[s - 1], self.thetas[s]);
            let mut best: Option<f64> = None;
            for i in 0..n {
                let (ga, gb) = (self.rows[(s - 1) * n + i], self.rows[s * n + i]);
                if !crosses(crossings, i, self.side[i], gb) {
                    continue;
                }
                let theta_hi = best.unwrap_or(theta_b);
                let mut bad = None;
                let mut value = |theta: f64| {
                    let t = t_s + theta * h_s;
                    dense.eval_step_into(step, theta, &mut self.y);
                    crossings.some_values(&|k| k == i, t, &self.y, &mut self.g);
                    if !self.g[i].is_finite() {
                        bad = Some((t, self.g[i]));
                    }
                    self.g[i]
                };
                let g_hi = if best.is_some() { value(theta_hi) } else { gb };
                // An earlier candidate leaves this one behind unless it, too, has crossed by then.
                if crosses(crossings, i, self.side[i], g_hi) {
                    let tol = time_resolution_s(t_end_s) / h_s;
                    let (theta, _) =
                        far_side_of_root(&mut value, (theta_a, ga), (theta_hi, g_hi), tol);
                    best = Some(theta);
                }
                if let Some((t_s, value)) = bad {
                    return Err(IntegrateError::CrossingNotFinite {
                        t_s,
                        index: i,
                        value,
                    });
                }
            }
            if let Some(theta) = best {
                let t = if theta == 1.0 {
                    t_end_s
                } else {
                    t_s + theta * h_s
                };
                if theta == 1.0 {
                    self.g.copy_from_slice(&self.rows[s * n..(s + 1) * n]);
                } else {
                    dense.eval_step_into(step, theta, &mut self.y);
                    crossings.values(t, &self.y, &mut self.g);
                }
                let fired = (0..n)
                    .filter(|&i| crosses(crossings, i, self.side[i], self.g[i]))
                    .collect();
                return Ok(Some(Found {
                    theta,
                    t_s: t,
                    fired,
                }));
            }
            for i in 0..n {
                self.side[i] = sign(self.rows[s * n + i]);
            }
        }
        // The end of this step is the start of the next.
        let last = (self.thetas.len() - 1) * n;
        self.rows.copy_within(last..last + n, 0);
        self.rows.truncate(n);
        self.thetas.truncate(1);
        Ok(None)
    }

    /// Fills `thetas` and `rows` for one step.
    fn sample(
        &mut self,
        crossings: &impl Crossings,
        dense: &DenseSegment,
        (t_s, h_s, t_end_s): (f64, f64, f64),
        y_end: &[f64],
    ) -> Result<(), IntegrateError> {
        let n = self.count;
        let step = dense.steps() - 1;
        self.rows.resize(2 * n, 0.0);
        crossings.values(t_end_s, y_end, &mut self.rows[n..]);
        check_finite(t_end_s, &self.rows[n..])?;
        for i in 0..n {
            let (a, b) = (self.rows[i], self.rows[n + i]);
            self.clear[i] =
                sign(a) == self.side[i] && sign(a) * sign(b) > 0 && crossings.stays_clear(i, a, b);
        }
        if self.clear.iter().all(|&clear| clear) {
            self.thetas.push(1.0);
            return Ok(());
        }
        self.rows.resize(3 * n, 0.0);
        self.rows.copy_within(n..2 * n, 2 * n);
        // What stays clear is not looked at: between its ends it lies on its side.
        for i in 0..n {
            self.rows[n + i] = 0.5 * (self.rows[i] + self.rows[2 * n + i]);
        }
        dense.eval_step_into(step, 0.5, &mut self.y);
        let wanted = |i: usize| !self.clear[i];
        let t_middle_s = t_s + 0.5 * h_s;
        crossings.some_values(&wanted, t_middle_s, &self.y, &mut self.rows[n..2 * n]);
        check_finite(t_s + 0.5 * h_s, &self.rows[n..2 * n])?;
        self.thetas.extend([0.5, 1.0]);

        self.extra.clear();
        for i in 0..n {
            let g = [self.rows[i], self.rows[n + i], self.rows[2 * n + i]];
            if let Some(theta) = turning_point_near_zero(g) {
                self.extra.push(theta);
            }
        }
        if self.extra.is_empty() {
            return Ok(());
        }
        self.extra.sort_by(f64::total_cmp);
        for e in 0..self.extra.len() {
            let theta = self.extra[e];
            let at = self.thetas.partition_point(|&x| x < theta);
            if self.thetas[at] == theta {
                continue;
            }
            dense.eval_step_into(step, theta, &mut self.y);
            crossings.values(t_s + theta * h_s, &self.y, &mut self.g);
            check_finite(t_s + theta * h_s, &self.g)?;
            self.thetas.insert(at, theta);
            self.rows
                .splice(at * n..at * n, self.g.iter().copied())
                .for_each(drop);
        }
        Ok(())
    }
}

/// Finer than anything that a caller could tell apart: 1e-9 relative and 1e-3 s by a wide margin.
fn time_resolution_s(t_s: f64) -> f64 {
    (8.0 * f64::EPSILON * t_s.abs()).max(1e-13)
}

fn sign(g: f64) -> i8 {
    if g > 0.0 {
        1
    } else if g < 0.0 {
        -1
    } else {
        0
    }
}

/// Whether condition `i`, last seen on `side`, counts as crossed at value `g`.
fn crosses(crossings: &impl Crossings, i: usize, side: i8, g: f64) -> bool {
    side != 0
        && sign(g) != side
        && match crossings.direction(i) {
            Direction::Rising => side < 0,
            Direction::Falling => side > 0,
            Direction::Any => true,
        }
}

/// Where the parabola through values at 0, 1/2 and 1, all of one sign, turns towards zero and nears it.
fn turning_point_near_zero([a, m, b]: [f64; 3]) -> Option<f64> {
    let side = sign(a);
    if side == 0 || sign(m) != side || sign(b) != side {
        return None;
    }
    // g(x) = a + p x + q x^2
    let q = 2.0 * (a - 2.0 * m + b);
    let p = b - a - q;
    if q * f64::from(side) <= 0.0 {
        return None; // turns away from zero
    }
    let x = -p / (2.0 * q);
    if !(x > 0.0 && x < 1.0) {
        return None;
    }
    let turning_value = (a + 0.5 * p * x) * f64::from(side);
    let (a, m, b) = (a.abs(), m.abs(), b.abs());
    let variation = a.max(m).max(b) - a.min(m).min(b);
    (turning_value < NEAR * variation).then_some(x)
}

fn check_finite(t_s: f64, g: &[f64]) -> Result<(), IntegrateError> {
    match g.iter().position(|v| !v.is_finite()) {
        None => Ok(()),
        Some(index) => Err(IntegrateError::CrossingNotFinite {
            t_s,
            index,
            value: g[index],
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_the_turning_point_of_a_parabola_is_found_only_near_zero() {
        let g = |x: f64| (x - 0.3).powi(2) - 0.01;
        let x = turning_point_near_zero([g(0.0), g(0.5), g(1.0)]);
        assert!(x.is_some_and(|x| (x - 0.3).abs() < 1e-12));
        let far = |x: f64| (x - 0.3).powi(2) + 5.0;
        assert_eq!(
            turning_point_near_zero([far(0.0), far(0.5), far(1.0)]),
            None
        );
        let hill = |x: f64| 1.0 - (x - 0.5).powi(2);
        assert_eq!(
            turning_point_near_zero([hill(0.0), hill(0.5), hill(1.0)]),
            None
        );
        let negative = |x: f64| -g(x);
        let x = turning_point_near_zero([negative(0.0), negative(0.5), negative(1.0)]);
        assert!(x.is_some_and(|x| (x - 0.3).abs() < 1e-12));
    }
}
