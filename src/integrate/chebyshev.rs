//! One adaptive step of the Runge-Kutta-Chebyshev method of order 2: stages, error estimate, step-size control,
//! spectral radius. No allocation after construction, but for the coefficients of a stage count met first.
//!
//! Source: B. P. Sommeijer, L. F. Shampine, J. G. Verwer, "RKC: An explicit solver for parabolic PDEs", J. Comput.
//! Appl. Math. 88 (1998) 315-326; method, damping, error estimate (2.7), control (2.9..2.11) and power method from there.
//! The stages are written as increments from the start of the step: a linear invariant of the system is then kept
//! whatever the rounding of the coefficients.

use super::OdeSystem;
use super::loops;
use super::step::{Attempt, OneStep, finite};
use std::sync::OnceLock;

/// Damping of the stability polynomial. Far more than the 2/13 of the source: water that passes from cell to cell and
/// the play of draught and flame give pairs of complex eigenvalues, for which the stable region must be wide: about
/// 0.5 s to either side of the real axis at s stages instead of 0.2 s, for a tenth more stages.
const EPSILON: f64 = 2.0;
/// Longer steps than these stages allow are not taken: along a chain of cells that water runs through, what one step may
/// amplify grows with the stages, and at 64 a rig at rest rode on noise of hundredths of a kelvin.
const MOST_STAGES: usize = 20;
/// Under 1/[`OneStep::STRETCH`]: a rejected last step would else be stretched to its old length again, for ever.
const SAFETY: f64 = 0.72;
const SHRINK_MOST: f64 = 0.1;
const GROW_MOST: f64 = 10.0;
const ERROR_FLOOR: f64 = 1e-6;
/// Error in tolerances that the first step after a jump of the derivative is chosen for.
const RESTART_ERROR: f64 = 0.4;
/// Steps, and derivatives spent on them, after which the spectral radius is looked at again.
const RADIUS_STEPS: u32 = 25;
const RADIUS_SPENT: u64 = 90;
/// What an estimate of the spectral radius is raised by. Water that passes from cell to cell answers like a wider
/// spectrum than its eigenvalues' (a chain of cells is far from normal): with 1.2 such a rig at rest rode on noise of
/// the tolerance's size. Fewer rejected steps pay for the stages.
const RADIUS_MARGIN: f64 = 1.4;
/// A step of so few stages whose error is above this much may be short of stages: its error then points to the mode that was
/// overlooked. After as many of them in a row the spectral radius is looked at again.
const SUSPECT_STAGES: usize = 2;
const SUSPECT_ERROR: f64 = 0.25;
const SUSPECT_STEPS: u32 = 5;
/// Agreement of successive iterates at which the power method stops.
const RADIUS_AGREEMENT: f64 = 0.05;
/// Iterations at most: at first, and from the last estimate's direction. A pair of complex eigenvalues never agrees.
const RADIUS_ITERATIONS: u32 = 30;
const RADIUS_ITERATIONS_WARM: u32 = 6;
/// Iterations at least: the first from nowhere may agree by chance before the fast modes have come through.
const RADIUS_ITERATIONS_LEAST: u32 = 10;
const RADIUS_ITERATIONS_LEAST_WARM: u32 = 2;
/// Size of the power method's disturbance against the state's.
const DISTURBANCE: f64 = 1e-7;

/// Coefficients of stage j: d_j = mu d_(j-1) + nu d_(j-2) + h (slope f_(j-1) + start f_0), taken at `node` h.
#[derive(Debug, Clone, Copy)]
struct Stage {
    mu: f64,
    nu: f64,
    slope: f64,
    start: f64,
    node: f64,
}

/// State and work space of an integration.
#[derive(Clone)]
pub(super) struct Chebyshev {
    n: usize,
    t_s: f64,
    y: Vec<f64>,
    y_next: Vec<f64>,
    f0: Vec<f64>,
    f1: Vec<f64>,
    /// Increments of the last three stages.
    d: [Vec<f64>; 3],
    z: Vec<f64>,
    f: Vec<f64>,
    /// Direction of the fastest mode as last seen, of the size of the disturbance.
    mode: Vec<f64>,
    mode_known: bool,
    atol: Vec<f64>,
    rtol: Vec<f64>,
    /// Coefficients by number of stages.
    tables: &'static [Table],
    /// Factor of the last attempt's error estimate.
    error_factor: f64,
    rho_per_s: f64,
    /// Steps since the spectral radius was estimated, and derivatives spent on them.
    rho_age: u32,
    rho_spent: u64,
    /// Suspect steps in a row.
    suspect: u32,
    /// Length and error of the last accepted step.
    last: Option<(f64, f64)>,
    rejected_before: bool,
    /// The last attempt was accepted: the ends of its step have changed places.
    moved: bool,
    /// Largest jump of the derivative at the last restart, in tolerances per second.
    jump_per_s: f64,
    rhs_calls: u64,
    radius_calls: u64,
}

impl Chebyshev {
    /// Space for the states of `sys`; evaluates nothing.
    pub fn new(sys: &impl OdeSystem, rtol: f64, atol: f64) -> Self {
        let n = sys.len();
        let zeros = || vec![0.0; n];
        Self {
            n,
            t_s: f64::NAN,
            y: zeros(),
            y_next: zeros(),
            f0: zeros(),
            f1: zeros(),
            d: std::array::from_fn(|_| zeros()),
            z: zeros(),
            f: zeros(),
            mode: zeros(),
            mode_known: false,
            atol: (0..n).map(|i| atol * sys.atol_factor(i)).collect(),
            rtol: (0..n).map(|i| rtol * sys.rtol_factor(i)).collect(),
            tables: tables(),
            error_factor: 0.0,
            rho_per_s: 0.0,
            rho_age: u32::MAX,
            rho_spent: 0,
            suspect: 0,
            last: None,
            rejected_before: false,
            moved: false,
            jump_per_s: 0.0,
            rhs_calls: 0,
            radius_calls: 0,
        }
    }

    /// Spectral radius of the Jacobian at the present state by the nonlinear power method, started from the last
    /// estimate's direction.
    fn estimate_radius(&mut self, sys: &impl OdeSystem) {
        let size = norm(&self.y).max(1e-3) * DISTURBANCE;
        let (least, iterations) = if self.mode_known {
            (RADIUS_ITERATIONS_LEAST_WARM, RADIUS_ITERATIONS_WARM)
        } else {
            (RADIUS_ITERATIONS_LEAST, RADIUS_ITERATIONS)
        };
        let mut largest: f64 = 0.0;
        if !self.mode_known {
            // The derivative leans towards the fast modes; a spread keeps any mode from being left out.
            let lean = norm(&self.f0).max(1e-9) / (self.n as f64).sqrt();
            for i in 0..self.n {
                self.mode[i] = self.f0[i] + 0.3 * lean * (1.0 + 3.0 * i as f64).sin();
            }
            self.mode_known = true;
        }
        let mut rho: f64 = 0.0;
        let mut length = norm(&self.mode);
        for iteration in 0..iterations {
            for i in 0..self.n {
                self.z[i] = self.y[i] + self.mode[i] * (size / length);
            }
            sys.rhs(self.t_s, &self.z, &mut self.f);
            self.rhs_calls += 1;
            self.radius_calls += 1;
            for i in 0..self.n {
                self.mode[i] = self.f[i] - self.f0[i];
            }
            length = norm(&self.mode);
            let before = rho;
            rho = length / size;
            if !(length > 0.0 && length.is_finite()) {
                self.mode_known = false;
                break;
            }
            largest = if iteration + 3 < iterations {
                rho
            } else {
                largest.max(rho)
            };
            if iteration + 1 >= least && (rho - before).abs() <= RADIUS_AGREEMENT * rho {
                largest = rho.max(before);
                break;
            }
        }
        if largest.is_finite() {
            self.rho_per_s = (RADIUS_MARGIN * largest).max(sys.known_rate_per_s());
        }
        self.rho_age = 0;
        self.rho_spent = 0;
    }

    /// Lets the next estimate of the spectral radius look into the direction of the step's error too, before its ends change
    /// places.
    fn lean_towards_error(&mut self, h_s: f64) {
        let Self {
            mode,
            y,
            y_next,
            f0,
            f1,
            ..
        } = self;
        let error = |i: usize| y[i] - y_next[i] + 0.5 * h_s * (f0[i] + f1[i]);
        let of_error = (0..mode.len())
            .map(|i| error(i).powi(2))
            .sum::<f64>()
            .sqrt();
        let of_mode = norm(mode);
        if of_error > 0.0 && of_mode > 0.0 {
            for (i, m) in mode.iter_mut().enumerate() {
                *m = *m / of_mode + error(i) / of_error;
            }
        }
    }

    fn stages_for(&self, h_s: f64) -> usize {
        let z = h_s * self.rho_per_s;
        (2..MOST_STAGES)
            .find(|&s| self.tables[s].reach >= z)
            .unwrap_or(MOST_STAGES)
    }

    /// Longest step that `s` stages carry.
    fn longest_s(&self, s: usize) -> f64 {
        // a hair below, so that rounding does not ask for one more
        0.999_999 * self.tables[s].reach / self.rho_per_s
    }

    /// The stages of a step; the new state ends in `y_next`, its derivative in `f1`.
    fn stages(
        &mut self,
        sys: &impl OdeSystem,
        s: usize,
        h_s: f64,
        t_end_s: f64,
    ) -> Option<Attempt> {
        let n = self.n;
        let stages = &self.tables[s].stages;
        self.error_factor = self.tables[s].error_factor;
        let (y, f0) = (&self.y[..n], &self.f0[..n]);
        let (z, f) = (&mut self.z[..n], &mut self.f[..n]);
        let [d2, d1, d] = &mut self.d;
        d2.fill(0.0);
        let start = stages[0].start * h_s;
        for i in 0..n {
            d1[i] = start * f0[i];
            z[i] = y[i] + d1[i];
        }
        for j in 1..s {
            let stage_t_s = self.t_s + stages[j - 1].node * h_s;
            sys.rhs(stage_t_s, z, f);
            self.rhs_calls += 1;
            if let Some(bad) = finite(stage_t_s, f, z) {
                return Some(bad);
            }
            let c = stages[j];
            let (slope, start) = (c.slope * h_s, c.start * h_s);
            loops::stage([c.mu, c.nu, slope, start], d1, d2, f, f0, y, d, z);
            std::mem::swap(d2, d1);
            std::mem::swap(d1, d);
        }
        self.y_next.copy_from_slice(z);
        sys.rhs(t_end_s, &self.y_next, &mut self.f1);
        self.rhs_calls += 1;
        finite(t_end_s, &self.f1, &self.y_next)
    }

    /// Estimated error of state `i` in tolerances.
    fn scaled_error(&self, i: usize, h_s: f64) -> f64 {
        let (y, z) = (self.y[i], self.y_next[i]);
        let back = if self.moved { z - y } else { y - z };
        let e = self.error_factor * (back + 0.5 * h_s * (self.f0[i] + self.f1[i]));
        e / (self.atol[i] + self.rtol[i] * y.abs().max(z.abs()))
    }

    /// Root mean square of the estimated error in tolerances, of a step not yet taken.
    fn error_norm(&self, h_s: f64) -> f64 {
        let n = self.n;
        let half_s = 0.5 * h_s;
        let square = |y: f64, z: f64, f0: f64, f1: f64, atol: f64, rtol: f64| {
            let e = y - z + half_s * (f0 + f1);
            let (a, b) = (y.abs(), z.abs());
            let scaled = e / (atol + rtol * if a > b { a } else { b });
            scaled * scaled
        };
        // Four sums side by side: a single one would wait for each addition in turn.
        let mut sums = [0.0; 4];
        let fours = n / 4;
        let (y, z) = (
            &self.y.as_chunks::<4>().0[..fours],
            &self.y_next.as_chunks::<4>().0[..fours],
        );
        let (f0, f1) = (
            &self.f0.as_chunks::<4>().0[..fours],
            &self.f1.as_chunks::<4>().0[..fours],
        );
        let (atol, rtol) = (
            &self.atol.as_chunks::<4>().0[..fours],
            &self.rtol.as_chunks::<4>().0[..fours],
        );
        for i in 0..fours {
            for (k, sum) in sums.iter_mut().enumerate() {
                *sum += square(y[i][k], z[i][k], f0[i][k], f1[i][k], atol[i][k], rtol[i][k]);
            }
        }
        for i in 4 * fours..n {
            let (y, z, f0, f1) = (self.y[i], self.y_next[i], self.f0[i], self.f1[i]);
            sums[i % 4] += square(y, z, f0, f1, self.atol[i], self.rtol[i]);
        }
        self.error_factor.abs() * ((sums[0] + sums[1] + sums[2] + sums[3]) / n.max(1) as f64).sqrt()
    }
}

impl OneStep for Chebyshev {
    const ROWS: usize = 4;
    const STRETCH: f64 = 1.15;
    const SHARES_THE_END: bool = true;

    fn t_s(&self) -> f64 {
        self.t_s
    }

    fn y(&self) -> &[f64] {
        &self.y
    }

    fn rhs_calls(&self) -> (u64, u64) {
        (self.rhs_calls, self.radius_calls)
    }

    fn restart(&mut self, sys: &impl OdeSystem, t_s: f64, y0: &[f64]) -> Attempt {
        (self.rhs_calls, self.radius_calls) = (1, 0);
        let first = self.t_s.is_nan();
        self.t_s = t_s;
        self.y.copy_from_slice(y0);
        sys.rhs(t_s, y0, &mut self.f1);
        if let Some(bad) = finite(t_s, &self.f1, y0) {
            return bad;
        }
        std::mem::swap(&mut self.f0, &mut self.f1);
        self.jump_per_s = 0.0;
        if !first {
            let mut sum = 0.0;
            for (i, y0) in y0.iter().enumerate() {
                let scale = self.atol[i] + self.rtol[i] * y0.abs();
                sum += ((self.f0[i] - self.f1[i]) / scale).powi(2);
            }
            self.jump_per_s = (sum / self.n.max(1) as f64).sqrt();
        }
        self.rejected_before = false;
        self.last = None;
        Attempt::Accepted
    }

    /// A step over which the state moves by about its tolerance: Sommeijer, Shampine, Verwer 1998, section 2.2.
    fn first_step_s(&mut self, sys: &impl OdeSystem, h_max_s: f64) -> f64 {
        if self.rho_age > RADIUS_STEPS {
            self.estimate_radius(sys);
        }
        let h = (1.0 / self.rho_per_s.max(1e-12)).min(h_max_s);
        for i in 0..self.n {
            self.z[i] = self.y[i] + h * self.f0[i];
        }
        sys.rhs(self.t_s + h, &self.z, &mut self.f);
        self.rhs_calls += 1;
        let mut sum = 0.0;
        for i in 0..self.n {
            let scale = self.atol[i] + self.rtol[i] * self.y[i].abs();
            sum += (h * (self.f[i] - self.f0[i]) / scale).powi(2);
        }
        let bend = (sum / self.n.max(1) as f64).sqrt();
        if !bend.is_finite() {
            return 0.01 * h;
        }
        if 0.1 * h < h_max_s * bend.sqrt() {
            (0.1 * h / bend.sqrt()).max(1e-6 * h)
        } else {
            h_max_s
        }
    }

    fn restart_step_s(&self, h_s: f64) -> f64 {
        if self.jump_per_s * h_s <= 0.0 {
            return h_s;
        }
        // A jump J of the derivative decays with the fastest mode at worst. Over a long step the error estimate
        // sees 0.4 h J, over a short one rho^2 h^3 J / 15; it should come to less than the tolerance.
        let long = RESTART_ERROR / (0.4 * self.jump_per_s);
        let short = (15.0 * RESTART_ERROR / (self.rho_per_s.powi(2) * self.jump_per_s)).cbrt();
        h_s.min(long.max(short))
    }

    fn longest_step_s(&self) -> f64 {
        self.longest_s(MOST_STAGES)
    }

    fn thrifty_step_s(&self, h_s: f64) -> f64 {
        if self.rho_per_s <= 0.0 {
            return h_s;
        }
        let s = self.stages_for(h_s);
        let h_s = h_s.min(self.longest_s(s));
        if s > 2 {
            let shorter = self.longest_s(s - 1);
            if shorter * s as f64 > h_s * (s - 1) as f64 {
                return shorter.min(h_s);
            }
        }
        h_s
    }

    fn attempt<'a>(
        &mut self,
        sys: &impl OdeSystem,
        h_s: f64,
        t_end_s: f64,
        rows: impl FnOnce(f64, f64) -> &'a mut Vec<f64>,
    ) -> (Attempt, f64) {
        if self.rho_age >= RADIUS_STEPS || self.rho_spent >= RADIUS_SPENT {
            self.estimate_radius(sys);
        }
        self.moved = false;
        let s = self.stages_for(h_s);
        let longest_s = self.longest_step_s();
        if h_s > longest_s {
            // The step was chosen before the spectral radius was known.
            return (Attempt::Rejected, longest_s);
        }
        if let Some(bad) = self.stages(sys, s, h_s, t_end_s) {
            self.rejected_before = true;
            return (bad, 0.2 * h_s);
        }
        let error = self.error_norm(h_s);
        if error.is_nan() || error > 1.0 {
            // It may be the spectral radius that has grown.
            if self.rho_age > 0 {
                self.rho_age = RADIUS_STEPS;
            }
            self.rejected_before = true;
            let shrink = if error.is_finite() {
                SAFETY / error.cbrt()
            } else {
                0.0
            };
            return (Attempt::Rejected, h_s * shrink.max(SHRINK_MOST));
        }
        let error = error.max(ERROR_FLOOR);
        let mut factor = SAFETY / error.cbrt();
        if let Some((last_h_s, last_error)) = self.last {
            let trend = SAFETY * (h_s / last_h_s) * (last_error / (error * error)).cbrt();
            factor = factor.min(trend);
        }
        let mut h_next_s = h_s * factor.clamp(SHRINK_MOST, GROW_MOST);
        if self.rejected_before {
            h_next_s = h_next_s.min(h_s);
        }
        self.rejected_before = false;
        self.last = Some((h_s, error));
        self.rho_age += 1;
        self.rho_spent += s as u64;
        let suspect = s <= SUSPECT_STAGES && error > SUSPECT_ERROR;
        self.suspect = if suspect { self.suspect + 1 } else { 0 };
        if self.suspect >= SUSPECT_STEPS {
            self.suspect = 0;
            self.rho_age = RADIUS_STEPS;
            self.lean_towards_error(h_s);
        }

        // Cubic through both ends and their slopes.
        let coefficients = rows(self.t_s, h_s);
        let first = coefficients.len();
        coefficients.resize(first + Self::ROWS * self.n, 0.0);
        let rows = &mut coefficients[first..];
        loops::cubic(h_s, &self.y, &self.y_next, &self.f0, &self.f1, rows);
        std::mem::swap(&mut self.y, &mut self.y_next);
        std::mem::swap(&mut self.f0, &mut self.f1);
        self.t_s = t_end_s;
        self.moved = true;
        (Attempt::Accepted, h_next_s)
    }

    fn worst_state(&self, h_s: f64) -> (usize, f64) {
        let mut worst = (0, 0.0);
        for i in 0..self.n {
            let error = self.scaled_error(i, h_s).abs();
            if error > worst.1 || error.is_nan() {
                worst = (i, error);
            }
        }
        worst
    }
}

fn norm(v: &[f64]) -> f64 {
    v.iter().map(|v| v * v).sum::<f64>().sqrt()
}

/// The method with one number of stages.
#[derive(Debug, Clone, Default)]
struct Table {
    stages: Vec<Stage>,
    /// Stable from 0 to this much of h rho along the negative real axis.
    reach: f64,
    /// The error estimate against the difference of the step from the trapezoidal rule: 12 (1/6 - c3), where c3 is
    /// the cubic coefficient of the stability polynomial; 4/5 for the source's damping and many stages.
    error_factor: f64,
}

/// Tables for 0 to [`MOST_STAGES`] stages; the first two are empty.
fn tables() -> &'static [Table] {
    static TABLES: OnceLock<Vec<Table>> = OnceLock::new();
    TABLES.get_or_init(|| {
        (0..=MOST_STAGES)
            .map(|s| if s < 2 { Table::default() } else { table(s) })
            .collect()
    })
}

/// Coefficients of the method with `s` stages (2 or more): Sommeijer, Shampine, Verwer 1998, (2.2)..(2.5).
fn table(s: usize) -> Table {
    let w0 = 1.0 + EPSILON / (s * s) as f64;
    // T_j and its first three derivatives at w0
    let mut t = vec![[1.0, 0.0, 0.0, 0.0], [w0, 1.0, 0.0, 0.0]];
    for j in 2..=s {
        let ([a, da, dda, ddda], [b, db, ddb, dddb]) = (t[j - 2], t[j - 1]);
        t.push([
            2.0 * w0 * b - a,
            2.0 * w0 * db - da + 2.0 * b,
            2.0 * w0 * ddb - dda + 4.0 * db,
            2.0 * w0 * dddb - ddda + 6.0 * ddb,
        ]);
    }
    let w1 = t[s][1] / t[s][2];
    let c3 = t[s][1] * t[s][3] / (6.0 * t[s][2] * t[s][2]);
    let b = |j: usize| {
        let [_, dt, ddt, _] = t[j.max(2)];
        ddt / (dt * dt)
    };
    let first = b(1) * w1;
    let mut stages = vec![Stage {
        mu: 0.0,
        nu: 0.0,
        slope: 0.0,
        start: first,
        node: first,
    }];
    let (mut node, mut node_before) = (first, 0.0);
    for j in 2..=s {
        let mu = 2.0 * w0 * b(j) / b(j - 1);
        let nu = -b(j) / b(j - 2);
        let slope = 2.0 * w1 * b(j) / b(j - 1);
        let start = -(1.0 - b(j - 1) * t[j - 1][0]) * slope;
        let next = mu * node + nu * node_before + slope + start;
        (node_before, node) = (node, next);
        stages.push(Stage {
            mu,
            nu,
            slope,
            start,
            node,
        });
    }
    Table {
        stages,
        reach: (1.0 + w0) / w1,
        error_factor: 2.0 - 12.0 * c3,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_the_last_stage_stands_at_the_end_of_the_step() {
        for s in 2..=MOST_STAGES {
            let end = table(s).stages[s - 1].node;
            assert!((end - 1.0).abs() < 1e-12, "{s} stages: {end}");
        }
    }

    /// Growth factor of y' = -x y over one step of unit length.
    fn growth(s: usize, x: f64) -> f64 {
        let stages = table(s).stages;
        let (mut before, mut d) = (0.0, -x * stages[0].start);
        for c in &stages[1..] {
            let next = c.mu * d + c.nu * before - x * (c.slope * (1.0 + d) + c.start);
            (before, d) = (d, next);
        }
        1.0 + d
    }

    #[test]
    fn analytic_the_stability_polynomial_is_of_order_two() {
        for s in [2, 3, 5, 10, 30] {
            let error = |x: f64| (growth(s, x) - (-x).exp()).abs();
            let order = (error(2e-2) / error(1e-2)).log2();
            assert!((order - 3.0).abs() < 0.1, "{s} stages: {order}");
        }
    }

    #[test]
    fn analytic_the_step_that_the_stages_are_chosen_for_is_stable_and_damped() {
        for s in 2..=MOST_STAGES {
            let longest = table(s).reach;
            for i in 1..=2000 {
                let x = longest * f64::from(i) / 2000.0;
                let g = growth(s, x);
                assert!(g.abs() < 1.0, "{s} stages at {x}: {g}");
            }
        }
    }
}
