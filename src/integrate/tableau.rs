//! Coefficients of the Dormand-Prince pair of order 5(4) with its dense output of order 4.
//!
//! Source: J. R. Dormand, P. J. Prince, "A family of embedded Runge-Kutta formulae", J. Comput. Appl. Math. 6
//! (1980) 19-26; error and dense-output weights as in E. Hairer, S. P. Norsett, G. Wanner, "Solving Ordinary
//! Differential Equations I", 2nd ed., II.5 table 5.2 and II.6. Checked against an independent
//! implementation, step by step, in `tests/integrate_reference.rs`, and for their order conditions below.

pub(super) const C: [f64; 7] = [0.0, 1.0 / 5.0, 3.0 / 10.0, 4.0 / 5.0, 8.0 / 9.0, 1.0, 1.0];

pub(super) const A2: [f64; 1] = [1.0 / 5.0];
pub(super) const A3: [f64; 2] = [3.0 / 40.0, 9.0 / 40.0];
pub(super) const A4: [f64; 3] = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
pub(super) const A5: [f64; 4] = [
    19372.0 / 6561.0,
    -25360.0 / 2187.0,
    64448.0 / 6561.0,
    -212.0 / 729.0,
];
pub(super) const A6: [f64; 5] = [
    9017.0 / 3168.0,
    -355.0 / 33.0,
    46732.0 / 5247.0,
    49.0 / 176.0,
    -5103.0 / 18656.0,
];
/// Weights of the solution of order 5 on stages 1, 3, 4, 5, 6 (stage 2 has none); also the row of stage 7.
pub(super) const A7: [f64; 5] = [
    35.0 / 384.0,
    500.0 / 1113.0,
    125.0 / 192.0,
    -2187.0 / 6784.0,
    11.0 / 84.0,
];
/// Order 5 minus order 4, on stages 1, 3, 4, 5, 6, 7.
pub(super) const E: [f64; 6] = [
    71.0 / 57600.0,
    -71.0 / 16695.0,
    71.0 / 1920.0,
    -17253.0 / 339200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];
/// Dense output, on stages 1, 3, 4, 5, 6, 7.
pub(super) const D: [f64; 6] = [
    -12715105075.0 / 11282082432.0,
    87487479700.0 / 32700410799.0,
    -10690763975.0 / 1880347072.0,
    701980252875.0 / 199316789632.0,
    -1453857185.0 / 822651844.0,
    69997945.0 / 29380423.0,
];

#[cfg(test)]
mod tests {
    use super::*;

    fn check(sum: f64, expected: f64) {
        assert!((sum - expected).abs() < 1e-13, "{sum} against {expected}");
    }

    #[test]
    fn analytic_each_stage_row_sums_to_its_node() {
        for (row, c) in [&A2[..], &A3, &A4, &A5, &A6].iter().zip(&C[1..]) {
            check(row.iter().sum(), *c);
        }
        check(A7.iter().sum(), 1.0);
    }

    #[test]
    fn analytic_the_quadrature_conditions_hold_to_order_five() {
        // Hairer, Norsett, Wanner I, II.1: sum b c^(q-1) = 1/q
        let c = [C[0], C[2], C[3], C[4], C[5]];
        for q in 1..=5 {
            let sum: f64 = A7.iter().zip(&c).map(|(b, c)| b * c.powi(q - 1)).sum();
            check(sum, 1.0 / f64::from(q));
        }
    }

    #[test]
    fn analytic_the_error_weights_vanish_to_order_four() {
        let c = [C[0], C[2], C[3], C[4], C[5], C[6]];
        for q in 1..=4 {
            let sum: f64 = E.iter().zip(&c).map(|(e, c)| e * c.powi(q - 1)).sum();
            check(sum, 0.0);
        }
    }
}
