//! Nonlinear least squares with bounds: the Levenberg–Marquardt method of the registry (a port of MINPACK's), bounds by
//! transformation, derivatives by differences in parallel.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DMatrix, DVector, Dyn, Owned};
use rayon::prelude::*;
use std::cell::OnceCell;

/// Residuals of a model whose squares are to be as small as possible in sum.
pub trait Model: Sync {
    /// One per observation; always as many.
    fn residuals(&self, x: &[f64]) -> Vec<f64>;

    /// Derivatives, a row for each residual; `at` are the residuals at `x`.
    fn jacobian(&self, x: &[f64], at: &[f64]) -> DMatrix<f64>;
}

/// When to stop, and how far to go.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Relative change of the sum of squares, and of the parameters.
    pub tolerance: f64,
    /// Evaluations of the residuals for each parameter.
    pub patience: usize,
}

/// Where the search ended.
#[derive(Debug, Clone)]
pub struct Minimum {
    pub x: Vec<f64>,
    /// Half the sum of squares.
    pub cost: f64,
    pub evaluations: usize,
    pub settled: bool,
}

/// Bounds of one parameter; `None`: free.
pub type Bound = Option<(f64, f64)>;

/// From the search's own coordinate: middle + half width · tanh(w); the slope is one in the middle.
fn inside(w: f64, bound: Bound) -> (f64, f64) {
    match bound {
        None => (w, 1.0),
        Some((lo, hi)) => {
            let (middle, half) = (0.5 * (lo + hi), 0.5 * (hi - lo));
            let t = ((w - middle) / half).tanh();
            (middle + half * t, 1.0 - t * t)
        }
    }
}

fn outside(x: f64, bound: Bound) -> f64 {
    match bound {
        None => x,
        Some((lo, hi)) => {
            let (middle, half) = (0.5 * (lo + hi), 0.5 * (hi - lo));
            middle + half * ((x - middle) / half).clamp(-0.999, 0.999).atanh()
        }
    }
}

struct Bounded<'a> {
    model: &'a dyn Model,
    bounds: &'a [Bound],
    w: DVector<f64>,
    residuals: OnceCell<DVector<f64>>,
}

impl Bounded<'_> {
    fn x(&self) -> Vec<f64> {
        let each = self.w.iter().zip(self.bounds);
        each.map(|(w, b)| inside(*w, *b).0).collect()
    }

    fn now(&self) -> &DVector<f64> {
        self.residuals
            .get_or_init(|| DVector::from_vec(self.model.residuals(&self.x())))
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Bounded<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, w: &DVector<f64>) {
        self.w.copy_from(w);
        self.residuals.take();
    }

    fn params(&self) -> DVector<f64> {
        self.w.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        Some(self.now().clone())
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let mut j = self.model.jacobian(&self.x(), self.now().as_slice());
        for (i, (w, b)) in self.w.iter().zip(self.bounds).enumerate() {
            let slope = inside(*w, *b).1;
            j.column_mut(i).scale_mut(slope);
        }
        Some(j)
    }
}

/// Smallest sum of squares from `start`.
pub fn minimise(model: &dyn Model, start: &[f64], bounds: &[Bound], limits: Limits) -> Minimum {
    let w: Vec<f64> = start
        .iter()
        .zip(bounds)
        .map(|(x, b)| outside(*x, *b))
        .collect();
    let problem = Bounded {
        model,
        bounds,
        w: DVector::from_vec(w),
        residuals: OnceCell::new(),
    };
    let (end, report) = LevenbergMarquardt::new()
        .with_ftol(limits.tolerance)
        .with_xtol(limits.tolerance)
        .with_gtol(limits.tolerance.min(1e-3) * 1e-2)
        .with_patience(limits.patience)
        .minimize(problem);
    Minimum {
        x: end.x(),
        cost: report.objective_function,
        evaluations: report.number_of_evaluations,
        settled: report.termination.was_successful(),
    }
}

/// Derivatives by differences from both sides, columns in parallel; `step` is that of each parameter.
pub fn central(
    residuals: &(dyn Fn(&[f64]) -> Vec<f64> + Sync),
    x: &[f64],
    step: &[f64],
) -> DMatrix<f64> {
    let columns: Vec<DVector<f64>> = (0..x.len())
        .into_par_iter()
        .map(|i| {
            let at = |by: f64| {
                let mut moved = x.to_vec();
                moved[i] += by;
                DVector::from_vec(residuals(&moved))
            };
            (at(step[i]) - at(-step[i])) / (2.0 * step[i])
        })
        .collect();
    DMatrix::from_columns(&columns)
}

/// Inverse of JᵀJ: the covariance of the parameters where each residual has variance one; `None` where the residuals do
/// not fix them.
pub fn covariance(jacobian: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    (jacobian.transpose() * jacobian)
        .cholesky()
        .map(|c| c.inverse())
}
