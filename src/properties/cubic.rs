//! Piecewise cubics on a uniform grid: several properties side by side, one look-up for all.

/// Adding this to a number leaves the nearest whole one in the lowest bits of the mantissa.
const TO_WHOLE: f64 = 6_755_399_441_055_744.0;

/// `K` functions of one variable on the same uniform grid, each a C1 piecewise cubic.
pub(crate) struct Cubic<const K: usize> {
    x_min: f64,
    x_max: f64,
    per_dx: f64,
    /// The last cell's number plus [`TO_WHOLE`].
    last_whole: f64,
    /// Per cell: coefficients of 1, u, u2, u3 (u = 0..1 across the cell), each for all functions side by side.
    cells: Box<[[[f64; K]; 4]]>,
}

/// Where an argument lies: cell and position in it, and how far outside the grid it was.
#[derive(Clone, Copy)]
pub(crate) struct Place {
    cell: usize,
    u: f64,
    /// Distance outside the grid (signed, in x), zero inside.
    pub(crate) beyond: f64,
}

impl<const K: usize> Cubic<K> {
    /// Samples `f` at `n_cells + 1` nodes from `x_min` to `x_max`; node slopes by five-point differences.
    pub(crate) fn sample(
        x_min: f64,
        x_max: f64,
        n_cells: usize,
        f: impl Fn(f64) -> [f64; K],
    ) -> Self {
        let n = n_cells.max(4);
        let dx = (x_max - x_min) / n as f64;
        let y: Vec<[f64; K]> = (0..=n).map(|i| f(x_min + dx * i as f64)).collect();
        let cells = (0..n)
            .map(|i| {
                let mut cell = [[0.0; K]; 4];
                for k in 0..K {
                    let (a, b) = (y[i][k], y[i + 1][k]);
                    let (sa, sb) = (node_slope(&y, i, k), node_slope(&y, i + 1, k));
                    cell[0][k] = a;
                    cell[1][k] = sa;
                    cell[2][k] = 3.0 * (b - a) - 2.0 * sa - sb;
                    cell[3][k] = 2.0 * (a - b) + sa + sb;
                }
                cell
            })
            .collect();
        Self {
            x_min,
            x_max,
            per_dx: 1.0 / dx,
            last_whole: (n - 1) as f64 + TO_WHOLE,
            cells,
        }
    }

    /// Replaces the node slopes of function `k` by exact ones, `slope` giving d/dx.
    pub(crate) fn set_slopes(&mut self, k: usize, slope: impl Fn(f64) -> f64) {
        let dx = 1.0 / self.per_dx;
        let mut left = slope(self.x_min) * dx;
        for (i, cell) in self.cells.iter_mut().enumerate() {
            let right = slope(self.x_min + dx * (i + 1) as f64) * dx;
            let rise = cell[1][k] + cell[2][k] + cell[3][k];
            cell[1][k] = left;
            cell[2][k] = 3.0 * rise - 2.0 * left - right;
            cell[3][k] = left + right - 2.0 * rise;
            left = right;
        }
    }

    /// Finds the cell of `x`; arguments outside the grid are placed on its nearest end.
    #[inline]
    pub(crate) fn place(&self, x: f64) -> Place {
        let inside = x.clamp(self.x_min, self.x_max);
        let s = (inside - self.x_min) * self.per_dx;
        // A conversion to a whole number would cost three times as much. A hair more than half keeps a node in the cell that begins there.
        const LOW: u64 = (1 << 32) - 1;
        let near = (s - 0.499_999_999) + TO_WHOLE;
        // Not `min`, which takes care of NaN at four times the cost.
        let whole = if near < self.last_whole {
            near
        } else {
            self.last_whole
        };
        Place {
            cell: ((whole.to_bits() & LOW) as usize).min(self.cells.len() - 1),
            u: s - (whole - TO_WHOLE),
            beyond: x - inside,
        }
    }

    /// Value of function `k`, held flat outside the grid.
    #[inline]
    pub(crate) fn flat(&self, p: Place, k: usize) -> f64 {
        let c = &self.cells[p.cell];
        p.u.mul_add(p.u.mul_add(p.u.mul_add(c[3][k], c[2][k]), c[1][k]), c[0][k])
    }

    /// Values of all functions, held flat outside the grid.
    #[inline]
    pub(crate) fn all_flat(&self, p: Place) -> [f64; K] {
        let c = &self.cells[p.cell];
        std::array::from_fn(|k| {
            p.u.mul_add(p.u.mul_add(p.u.mul_add(c[3][k], c[2][k]), c[1][k]), c[0][k])
        })
    }

    /// Slope d/dx of function `k`, held flat outside the grid.
    #[inline]
    pub(crate) fn slope(&self, p: Place, k: usize) -> f64 {
        let c = &self.cells[p.cell];
        p.u.mul_add((3.0 * p.u).mul_add(c[3][k], 2.0 * c[2][k]), c[1][k]) * self.per_dx
    }

    /// Value of function `k`, continued in a straight line outside the grid.
    #[inline]
    pub(crate) fn straight(&self, p: Place, k: usize) -> f64 {
        let inside = self.flat(p, k);
        if p.beyond == 0.0 {
            inside
        } else {
            inside + p.beyond * self.slope(p, k)
        }
    }

    /// Adds a constant to function `k`.
    pub(crate) fn shift(&mut self, k: usize, by: f64) {
        for cell in &mut self.cells {
            cell[0][k] += by;
        }
    }
}

/// Slope at node `i` per cell width: fourth-order differences, one-sided at the ends.
fn node_slope<const K: usize>(y: &[[f64; K]], i: usize, k: usize) -> f64 {
    let n = y.len() - 1;
    let v = |j: usize| y[j][k];
    if i >= 2 && i + 2 <= n {
        (v(i - 2) - 8.0 * v(i - 1) + 8.0 * v(i + 1) - v(i + 2)) / 12.0
    } else if i == 0 {
        (-25.0 * v(0) + 48.0 * v(1) - 36.0 * v(2) + 16.0 * v(3) - 3.0 * v(4)) / 12.0
    } else if i == 1 {
        (-3.0 * v(0) - 10.0 * v(1) + 18.0 * v(2) - 6.0 * v(3) + v(4)) / 12.0
    } else if i == n {
        (25.0 * v(n) - 48.0 * v(n - 1) + 36.0 * v(n - 2) - 16.0 * v(n - 3) + 3.0 * v(n - 4)) / 12.0
    } else {
        (3.0 * v(n) + 10.0 * v(n - 1) - 18.0 * v(n - 2) + 6.0 * v(n - 3) - v(n - 4)) / 12.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_cubic_reproduces_a_cubic_and_its_slope_everywhere() {
        let f = |x: f64| [1.0 + x * (2.0 + x * (-3.0 + x * 0.5))];
        let t = Cubic::<1>::sample(-1.0, 2.0, 7, f);
        for i in 0..=300 {
            let x = -1.0 + 0.01 * f64::from(i);
            let p = t.place(x);
            assert!((t.flat(p, 0) - f(x)[0]).abs() < 1e-12, "{x}");
            assert!((t.slope(p, 0) - (2.0 - 6.0 * x + 1.5 * x * x)).abs() < 1e-11);
        }
    }

    #[test]
    fn behaves_outside_the_grid_flat_or_straight_and_never_nan() {
        let t = Cubic::<1>::sample(0.0, 1.0, 5, |x| [x * x]);
        let p = t.place(3.0);
        assert!((t.flat(p, 0) - 1.0).abs() < 1e-13);
        assert!((t.straight(p, 0) - 5.0).abs() < 1e-10);
        assert!(t.straight(t.place(-1e9), 0).is_finite());
    }
}
