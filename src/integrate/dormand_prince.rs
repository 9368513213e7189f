//! One adaptive step of the Dormand-Prince pair: stages, error estimate, step-size control. No allocation
//! after construction.

use super::OdeSystem;
use super::step::{Attempt, OneStep, finite};
use super::tableau::{A2, A3, A4, A5, A6, A7, C, D, E};

// Step-size control with memory of the last error: Hairer, Norsett, Wanner I, 2nd ed., IV.2 of volume II,
// eq. (2.43c), with the constants of their published routine for this pair.
const SAFETY: f64 = 0.9;
const BETA: f64 = 0.04;
const ALPHA: f64 = 0.2 - 0.75 * BETA;
const SHRINK_MOST: f64 = 0.2;
const GROW_MOST: f64 = 10.0;
const ERROR_FLOOR: f64 = 1e-4;

/// State and work space of an integration.
#[derive(Clone)]
pub(super) struct DormandPrince {
    n: usize,
    t_s: f64,
    y: Vec<f64>,
    y_next: Vec<f64>,
    k: [Vec<f64>; 7],
    atol: Vec<f64>,
    rtol: Vec<f64>,
    last_error: f64,
    rejected_before: bool,
    /// Derivatives evaluated so far.
    rhs_calls: u64,
}

impl DormandPrince {
    /// Space for the states of `sys`; evaluates nothing.
    pub fn new(sys: &impl OdeSystem, rtol: f64, atol: f64) -> Self {
        let n = sys.len();
        Self {
            n,
            t_s: f64::NAN,
            y: vec![0.0; n],
            y_next: vec![0.0; n],
            k: std::array::from_fn(|_| vec![0.0; n]),
            atol: (0..n).map(|i| atol * sys.atol_factor(i)).collect(),
            rtol: (0..n).map(|i| rtol * sys.rtol_factor(i)).collect(),
            last_error: ERROR_FLOOR,
            rejected_before: false,
            rhs_calls: 0,
        }
    }

    /// Stages 2 to 7; the new state ends in `y_next`.
    fn stages(&mut self, sys: &impl OdeSystem, h_s: f64, t_end_s: f64) -> Option<Attempt> {
        let n = self.n;
        let t_s = self.t_s;
        let [k1, k2, k3, k4, k5, k6, k7] = &mut self.k;
        let (y, z) = (&self.y[..], &mut self.y_next[..]);
        let calls = &mut self.rhs_calls;
        let mut eval = |stage_t_s: f64, z: &[f64], k: &mut [f64]| {
            sys.rhs(stage_t_s, z, k);
            *calls += 1;
            finite(stage_t_s, k, z)
        };
        combine(n, y, h_s, [&*k1], A2, z);
        if let Some(bad) = eval(t_s + C[1] * h_s, z, k2) {
            return Some(bad);
        }
        combine(n, y, h_s, [&*k1, &*k2], A3, z);
        if let Some(bad) = eval(t_s + C[2] * h_s, z, k3) {
            return Some(bad);
        }
        combine(n, y, h_s, [&*k1, &*k2, &*k3], A4, z);
        if let Some(bad) = eval(t_s + C[3] * h_s, z, k4) {
            return Some(bad);
        }
        combine(n, y, h_s, [&*k1, &*k2, &*k3, &*k4], A5, z);
        if let Some(bad) = eval(t_s + C[4] * h_s, z, k5) {
            return Some(bad);
        }
        combine(n, y, h_s, [&*k1, &*k2, &*k3, &*k4, &*k5], A6, z);
        if let Some(bad) = eval(t_end_s, z, k6) {
            return Some(bad);
        }
        combine(n, y, h_s, [&*k1, &*k3, &*k4, &*k5, &*k6], A7, z);
        eval(t_end_s, z, k7)
    }

    /// Root mean square of the error estimate in tolerances.
    fn error_norm(&self, h_s: f64) -> f64 {
        let n = self.n;
        let [k1, _, k3, k4, k5, k6, k7] = &self.k;
        let (k1, k3, k4) = (&k1[..n], &k3[..n], &k4[..n]);
        let (k5, k6, k7) = (&k5[..n], &k6[..n], &k7[..n]);
        let (y, z, atol) = (&self.y[..n], &self.y_next[..n], &self.atol[..n]);
        // Four sums side by side: a single one would wait for each addition in turn.
        let mut sums = [0.0; 4];
        for i in 0..n {
            let e = E[0] * k1[i]
                + E[1] * k3[i]
                + E[2] * k4[i]
                + E[3] * k5[i]
                + E[4] * k6[i]
                + E[5] * k7[i];
            let scaled = h_s * e / (atol[i] + self.rtol[i] * y[i].abs().max(z[i].abs()));
            sums[i % 4] += scaled * scaled;
        }
        ((sums[0] + sums[1] + sums[2] + sums[3]) / n.max(1) as f64).sqrt()
    }

    fn scale(&self, i: usize, size: f64) -> f64 {
        self.atol[i] + self.rtol[i] * size
    }

    fn fill_dense(&self, h_s: f64, rows: &mut [f64]) {
        let n = self.n;
        let [k1, _, k3, k4, k5, k6, k7] = &self.k;
        let (k1, k3, k4) = (&k1[..n], &k3[..n], &k4[..n]);
        let (k5, k6, k7) = (&k5[..n], &k6[..n], &k7[..n]);
        let (y, z) = (&self.y[..n], &self.y_next[..n]);
        let (c0, rest) = rows.split_at_mut(n);
        let (c1, rest) = rest.split_at_mut(n);
        let (c2, rest) = rest.split_at_mut(n);
        let (c3, rest) = rest.split_at_mut(n);
        let c4 = &mut rest[..n];
        for i in 0..n {
            let difference = z[i] - y[i];
            let bend = h_s * k1[i] - difference;
            c0[i] = y[i];
            c1[i] = difference;
            c2[i] = bend;
            c3[i] = difference - h_s * k7[i] - bend;
            c4[i] = h_s
                * (D[0] * k1[i]
                    + D[1] * k3[i]
                    + D[2] * k4[i]
                    + D[3] * k5[i]
                    + D[4] * k6[i]
                    + D[5] * k7[i]);
        }
    }
}

impl OneStep for DormandPrince {
    const ROWS: usize = 5;
    const STRETCH: f64 = 1.01;
    const SHARES_THE_END: bool = false;

    fn t_s(&self) -> f64 {
        self.t_s
    }

    fn y(&self) -> &[f64] {
        &self.y
    }

    fn rhs_calls(&self) -> (u64, u64) {
        (self.rhs_calls, 0)
    }

    fn restart(&mut self, sys: &impl OdeSystem, t_s: f64, y0: &[f64]) -> Attempt {
        self.t_s = t_s;
        self.y.copy_from_slice(y0);
        self.last_error = ERROR_FLOOR;
        self.rejected_before = false;
        sys.rhs(t_s, y0, &mut self.k[0]);
        self.rhs_calls = 1;
        finite(t_s, &self.k[0], y0).unwrap_or(Attempt::Accepted)
    }

    /// A first step length from the sizes of y, y' and y'': Hairer, Norsett, Wanner I, II.4.
    fn first_step_s(&mut self, sys: &impl OdeSystem, h_max_s: f64) -> f64 {
        let (mut d0, mut d1) = (0.0, 0.0);
        for i in 0..self.n {
            let sc = self.scale(i, self.y[i].abs());
            d0 += (self.y[i] / sc).powi(2);
            d1 += (self.k[0][i] / sc).powi(2);
        }
        let h0 = if d0 < 1e-10 || d1 < 1e-10 {
            1e-6
        } else {
            0.01 * (d0 / d1).sqrt()
        }
        .min(h_max_s);
        for i in 0..self.n {
            self.y_next[i] = self.y[i] + h0 * self.k[0][i];
        }
        sys.rhs(self.t_s + h0, &self.y_next, &mut self.k[1]);
        self.rhs_calls += 1;
        let mut d2 = 0.0;
        for i in 0..self.n {
            let sc = self.scale(i, self.y[i].abs());
            d2 += ((self.k[1][i] - self.k[0][i]) / sc).powi(2);
        }
        let d2 = d2.sqrt() / h0;
        let steepest = d1.sqrt().max(d2);
        let h1 = if steepest <= 1e-15 {
            (h0 * 1e-3).max(1e-6)
        } else {
            (0.01 / steepest).powf(0.2)
        };
        let h = (100.0 * h0).min(h1).min(h_max_s);
        if h > 0.0 { h } else { h0 }
    }

    fn restart_step_s(&self, h_s: f64) -> f64 {
        h_s
    }

    fn longest_step_s(&self) -> f64 {
        f64::INFINITY
    }

    fn thrifty_step_s(&self, h_s: f64) -> f64 {
        h_s
    }

    fn attempt<'a>(
        &mut self,
        sys: &impl OdeSystem,
        h_s: f64,
        t_end_s: f64,
        rows: impl FnOnce(f64, f64) -> &'a mut Vec<f64>,
    ) -> (Attempt, f64) {
        if let Some(bad) = self.stages(sys, h_s, t_end_s) {
            self.rejected_before = true;
            return (bad, h_s * SHRINK_MOST);
        }
        let error = self.error_norm(h_s);
        let factor = error.powf(ALPHA);
        if error.is_nan() || error > 1.0 {
            self.rejected_before = true;
            let shrink = (SAFETY / factor).max(SHRINK_MOST);
            return (Attempt::Rejected, h_s * shrink.min(1.0));
        }
        let grow = SAFETY * self.last_error.powf(BETA) / factor;
        let mut h_next_s = h_s * grow.clamp(SHRINK_MOST, GROW_MOST);
        if self.rejected_before {
            h_next_s = h_next_s.min(h_s);
        }
        self.rejected_before = false;
        self.last_error = error.max(ERROR_FLOOR);

        let coefficients = rows(self.t_s, h_s);
        let start = coefficients.len();
        coefficients.resize(start + Self::ROWS * self.n, 0.0);
        self.fill_dense(h_s, &mut coefficients[start..]);
        std::mem::swap(&mut self.y, &mut self.y_next);
        self.k.swap(0, 6);
        self.t_s = t_end_s;
        (Attempt::Accepted, h_next_s)
    }

    fn worst_state(&self, h_s: f64) -> (usize, f64) {
        let [k1, _, k3, k4, k5, k6, k7] = &self.k;
        let mut worst = (0, 0.0);
        for i in 0..self.n {
            let e = E[0] * k1[i]
                + E[1] * k3[i]
                + E[2] * k4[i]
                + E[3] * k5[i]
                + E[4] * k6[i]
                + E[5] * k7[i];
            let scaled = (h_s * e / self.scale(i, self.y[i].abs().max(self.y_next[i].abs()))).abs();
            if scaled > worst.1 || scaled.is_nan() {
                worst = (i, scaled);
            }
        }
        worst
    }
}

/// `out = y + h sum a k`, over `n` states.
#[inline(always)]
fn combine<const S: usize>(
    n: usize,
    y: &[f64],
    h_s: f64,
    k: [&Vec<f64>; S],
    a: [f64; S],
    out: &mut [f64],
) {
    let k: [&[f64]; S] = k.map(|k| &k[..n]);
    let (y, out) = (&y[..n], &mut out[..n]);
    for i in 0..n {
        let mut sum = a[0] * k[0][i];
        for j in 1..S {
            sum += a[j] * k[j][i];
        }
        out[i] = y[i] + h_s * sum;
    }
}
