//! A bracketed root to the last few bits: inverse quadratic interpolation guarded by bisection.

/// Shrinks a bracket around a sign change and returns its far end: the first point found, within `tol`, where
/// `f` has left the sign of `f_lo` (or is exactly zero). Where `f` is not finite, that point is returned.
///
/// Needs `f_lo` and `f_hi` of opposite sign, or `f_hi` zero.
///
/// Source: T. R. Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear
/// function without using derivatives", Adv. Eng. Softw. 28 (1997) 145-149.
pub(super) fn far_side_of_root(
    mut f: impl FnMut(f64) -> f64,
    (lo, f_lo): (f64, f64),
    (hi, f_hi): (f64, f64),
    tol: f64,
) -> (f64, f64) {
    if f_hi == 0.0 {
        return (hi, f_hi);
    }
    let (mut a, mut fa) = (hi, f_hi);
    let (mut b, mut fb) = (lo, f_lo);
    let mut t = 0.5;
    // Bisection alone needs 60 halvings from a step to the resolution of the time; the guard rarely bisects.
    for _ in 0..200 {
        let x = a + t * (b - a);
        let fx = f(x);
        if fx == 0.0 || !fx.is_finite() {
            return (x, fx);
        }
        let (c, fc);
        if (fx > 0.0) == (fa > 0.0) {
            (c, fc) = (a, fa);
        } else {
            (c, fc) = (b, fb);
            (b, fb) = (a, fa);
        }
        (a, fa) = (x, fx);

        let t_min = tol / (b - a).abs();
        if t_min > 0.5 {
            break;
        }
        let xi = (a - b) / (c - b);
        let phi = (fa - fb) / (fc - fb);
        t = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        } else {
            0.5
        };
        t = t.clamp(t_min, 1.0 - t_min);
    }
    if (fa > 0.0) == (f_lo > 0.0) {
        (b, fb)
    } else {
        (a, fa)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(f: impl Fn(f64) -> f64, lo: f64, hi: f64, root: f64) {
        let mut calls = 0;
        let (x, fx) = far_side_of_root(
            |x| {
                calls += 1;
                f(x)
            },
            (lo, f(lo)),
            (hi, f(hi)),
            1e-13,
        );
        assert!((x - root).abs() < 1e-12, "{x} against {root}");
        assert!(
            fx == 0.0 || (fx > 0.0) == (f(hi) > 0.0),
            "not on the far side"
        );
        assert!(calls < 70, "{calls} calls");
    }

    #[test]
    fn analytic_roots_of_smooth_steep_and_flat_functions_are_found() {
        check(|x| x * x - 2.0, 0.0, 2.0, 2f64.sqrt());
        check(|x| 2.0 - x * x, 0.0, 2.0, 2f64.sqrt());
        check(|x| x.cos(), 1.0, 2.0, std::f64::consts::FRAC_PI_2);
        check(|x| (x - 0.3) * (x - 0.3).abs(), 0.0, 1.0, 0.3);
        check(|x| (50.0 * (x - 0.7)).tanh(), 0.0, 1.0, 0.7);
        check(|x| if x < 0.125 { -1.0 } else { 1e9 }, 0.0, 1.0, 0.125);
    }

    #[test]
    fn analytic_a_zero_at_the_far_end_is_the_root() {
        check(|x| x - 1.0, 0.0, 1.0, 1.0);
    }
}
