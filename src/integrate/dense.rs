//! The solution between the steps: one polynomial of degree 3 or 4 per accepted step, kept in one flat array.

/// Continuous solution over one segment.
#[derive(Debug, Clone, PartialEq)]
pub struct DenseSegment {
    n: usize,
    /// Rows of coefficients per step: one more than the degree.
    rows: usize,
    t0_s: f64,
    t1_s: f64,
    /// Start and length of each step.
    steps: Vec<(f64, f64)>,
    /// `rows` rows of `n` coefficients per step.
    coefficients: Vec<f64>,
    /// The state at `t0_s`: the answer where no step was taken.
    y0: Vec<f64>,
}

impl DenseSegment {
    pub(super) fn new(rows: usize, t0_s: f64, y0: &[f64]) -> Self {
        Self {
            n: y0.len(),
            rows,
            t0_s,
            t1_s: t0_s,
            steps: Vec::with_capacity(16),
            coefficients: Vec::with_capacity(16 * rows * y0.len()),
            y0: y0.to_vec(),
        }
    }

    /// Appends a step and hands out the coefficients, to which its rows are to be added.
    pub(super) fn push_step(&mut self, t_s: f64, h_s: f64, t_end_s: f64) -> &mut Vec<f64> {
        self.steps.push((t_s, h_s));
        self.t1_s = t_end_s;
        &mut self.coefficients
    }

    /// Cuts the end back to `t1_s`, inside the last step.
    pub(super) fn truncate(&mut self, t1_s: f64) {
        self.t1_s = t1_s;
    }

    /// Start of the segment.
    pub fn t0(&self) -> f64 {
        self.t0_s
    }

    /// End of the segment.
    pub fn t1(&self) -> f64 {
        self.t1_s
    }

    /// Number of accepted steps.
    pub fn steps(&self) -> usize {
        self.steps.len()
    }

    /// The state at `t_s` in a fresh vector; see [`Self::eval_into`].
    pub fn at(&self, t_s: f64) -> Vec<f64> {
        let mut y = vec![0.0; self.n];
        self.eval_into(t_s, &mut y);
        y
    }

    /// The state at `t_s`, clamped to the segment. `out` is as long as the state.
    pub fn eval_into(&self, t_s: f64, out: &mut [f64]) {
        match self.locate(t_s) {
            None => out.copy_from_slice(&self.y0),
            Some((i, theta)) => self.eval_step_into(i, theta, out),
        }
    }

    /// One state at `t_s`, clamped to the segment; `i` is less than the number of states.
    pub fn eval_one(&self, t_s: f64, i: usize) -> f64 {
        match self.locate(t_s) {
            None => self.y0[i],
            Some((step, theta)) => {
                let n = self.n;
                let c = &self.coefficients[step * self.rows * n..(step + 1) * self.rows * n];
                let theta1 = 1.0 - theta;
                let c4 = c.get(4 * n + i).copied().unwrap_or(0.0);
                c[i] + theta
                    * (c[n + i] + theta1 * (c[2 * n + i] + theta * (c[3 * n + i] + theta1 * c4)))
            }
        }
    }

    /// Step index and position in it, 0..1.
    fn locate(&self, t_s: f64) -> Option<(usize, f64)> {
        if self.steps.is_empty() {
            return None;
        }
        let t_s = t_s.clamp(self.t0_s, self.t1_s);
        let i = self
            .steps
            .partition_point(|&(start_s, _)| start_s <= t_s)
            .saturating_sub(1);
        let (start_s, h_s) = self.steps[i];
        Some((i, ((t_s - start_s) / h_s).clamp(0.0, 1.0)))
    }

    /// The state in step `i` at `theta` (0..1) of its length.
    pub(super) fn eval_step_into(&self, i: usize, theta: f64, out: &mut [f64]) {
        let n = self.n;
        let c = &self.coefficients[i * self.rows * n..(i + 1) * self.rows * n];
        let (c0, c) = c.split_at(n);
        let (c1, c) = c.split_at(n);
        let (c2, c) = c.split_at(n);
        let (c3, c4) = c.split_at(n);
        let out = &mut out[..n];
        let theta1 = 1.0 - theta;
        if self.rows < 5 {
            for j in 0..n {
                out[j] = c0[j] + theta * (c1[j] + theta1 * (c2[j] + theta * c3[j]));
            }
            return;
        }
        let c4 = &c4[..n];
        for j in 0..n {
            out[j] = c0[j] + theta * (c1[j] + theta1 * (c2[j] + theta * (c3[j] + theta1 * c4[j])));
        }
    }
}
