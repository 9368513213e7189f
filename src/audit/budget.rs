//! Uncertainty budgets by the GUM (JCGM 100:2008): sensitivities, correlated inputs, effective degrees of freedom,
//! coverage factor.
//!
//! u_c²(y) = Σ (c_i u_i)² + 2 Σ_{i<j} c_i c_j u_i u_j r_ij            (JCGM 100, eq. 16)
//! ν_eff = u_c⁴ / Σ (c_i u_i)⁴ / ν_i                                    (eq. G.2b, Welch–Satterthwaite)
//! U = k u_c, k from Student's t at ν_eff rounded down                    (G.4, G.6.4)
//!
//! The formula G.2b is for independent inputs; with correlated ones it is used all the same, as is the custom, and
//! the budget says so. Evidence: `published_gum_h1_end_gauge`, `published_gum_h2_resistance`.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// One input quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    pub name: String,
    /// SI.
    pub value: f64,
    /// Standard uncertainty.
    pub standard: f64,
    /// Degrees of freedom; infinite where the figure is taken as known.
    pub freedom: f64,
    /// SI unit as text.
    pub unit: &'static str,
    /// Where the figure and its uncertainty come from.
    pub source: String,
}

/// An input with what it contributes.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    pub input: Input,
    /// ∂y/∂x.
    pub sensitivity: f64,
    /// |c| u.
    pub contribution: f64,
}

/// A finished budget.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    pub value: f64,
    pub standard: f64,
    pub freedom: f64,
    /// For the coverage asked for.
    pub coverage_factor: f64,
    pub expanded: f64,
    pub lines: Vec<Line>,
}

/// Works a budget out. `related` holds pairs of inputs with their coefficient of correlation; `coverage` is 0.95 for
/// an interval that holds the value in 95 of 100.
pub fn budget(
    inputs: &[Input],
    related: &[(usize, usize, f64)],
    coverage: f64,
    f: impl Fn(&[f64]) -> f64,
) -> Budget {
    let mut x: Vec<f64> = inputs.iter().map(|i| i.value).collect();
    let value = f(&x);
    let sensitivities: Vec<f64> = inputs
        .iter()
        .enumerate()
        .map(|(i, input)| {
            // Central difference over a tenth of the uncertainty (5.1.3 note 2 allows the whole of it).
            let h = 0.1 * input.standard;
            if h <= 0.0 {
                return 0.0;
            }
            x[i] = input.value + h;
            let up = f(&x);
            x[i] = input.value - h;
            let down = f(&x);
            x[i] = input.value;
            (up - down) / (2.0 * h)
        })
        .collect();
    let part = |i: usize| sensitivities[i] * inputs[i].standard;
    let own: f64 = (0..inputs.len()).map(|i| part(i).powi(2)).sum();
    let cross: f64 = related
        .iter()
        .map(|&(i, j, r)| 2.0 * part(i) * part(j) * r)
        .sum();
    let standard = (own + cross).max(0.0).sqrt();
    let lost: f64 = (0..inputs.len())
        .map(|i| part(i).powi(4) / inputs[i].freedom)
        .sum();
    let freedom = if lost > 0.0 {
        standard.powi(4) / lost
    } else {
        f64::INFINITY
    };
    let coverage_factor = student(coverage, freedom);
    Budget {
        value,
        standard,
        freedom,
        coverage_factor,
        expanded: coverage_factor * standard,
        lines: inputs
            .iter()
            .zip(&sensitivities)
            .map(|(input, &c)| Line {
                input: input.clone(),
                sensitivity: c,
                contribution: (c * input.standard).abs(),
            })
            .collect(),
    }
}

/// Two-sided Student factor; degrees of freedom rounded down (G.6.4 b), a million stand for infinitely many.
pub fn student(coverage: f64, freedom: f64) -> f64 {
    let whole = (freedom + 1e-9).floor().clamp(1.0, 1e6);
    StudentsT::new(0.0, 1.0, whole).map_or(2.0, |t| t.inverse_cdf(0.5 + 0.5 * coverage))
}
