//! The method's loops over all states, in the widest instructions that the processor at hand has. Each state by itself, and no
//! operation fused: every processor gives the same bits.

use multiversion::multiversion;

/// One stage: `d` = mu `d1` + nu `d2` + slope `f` + start `f0`, `z` = `y` + `d`. All of one length.
#[multiversion(targets("x86_64+avx2"))]
#[allow(clippy::too_many_arguments)] // one formula
pub(super) fn stage(
    [mu, nu, slope, start]: [f64; 4],
    d1: &[f64],
    d2: &[f64],
    f: &[f64],
    f0: &[f64],
    y: &[f64],
    d: &mut [f64],
    z: &mut [f64],
) {
    let n = y.len();
    let (d1, d2, f, f0) = (&d1[..n], &d2[..n], &f[..n], &f0[..n]);
    let (d, z) = (&mut d[..n], &mut z[..n]);
    for i in 0..n {
        d[i] = mu * d1[i] + nu * d2[i] + slope * f[i] + start * f0[i];
        z[i] = y[i] + d[i];
    }
}

/// Coefficients of the cubic over a step of `h_s` from `y` to `z` with slopes `f0` and `f1`: four rows, as long as `y` each.
#[multiversion(targets("x86_64+avx2"))]
pub(super) fn cubic(h_s: f64, y: &[f64], z: &[f64], f0: &[f64], f1: &[f64], rows: &mut [f64]) {
    let n = y.len();
    let (z, f0, f1) = (&z[..n], &f0[..n], &f1[..n]);
    let (r0, rest) = rows.split_at_mut(n);
    let (r1, rest) = rest.split_at_mut(n);
    let (r2, r3) = rest.split_at_mut(n);
    let r3 = &mut r3[..n];
    for i in 0..n {
        let rise = z[i] - y[i];
        let bent = h_s * f0[i] - rise;
        r0[i] = y[i];
        r1[i] = rise;
        r2[i] = bent;
        r3[i] = rise - h_s * f1[i] - bent;
    }
}

/// Whether all are finite.
#[multiversion(targets("x86_64+avx2"))]
pub(super) fn all_finite(v: &[f64]) -> bool {
    // Nothing times a number is nothing, and times what is none it is none: one pass without branches, eight sums side by side.
    let mut sums = [0.0; 8];
    let (eights, rest) = v.as_chunks::<8>();
    for eight in eights {
        for (sum, v) in sums.iter_mut().zip(eight) {
            *sum += 0.0 * v;
        }
    }
    let rest: f64 = rest.iter().map(|v| 0.0 * v).sum();
    sums.iter().sum::<f64>() + rest == 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identity_wide_loops_give_the_bits_of_their_formulas() {
        for n in [1, 3, 8, 189] {
            let v = |k: f64| -> Vec<f64> { (0..n).map(|i| (k + 7.3 * i as f64).sin()).collect() };
            let (y, a, b, f, f0) = (v(0.1), v(0.2), v(0.3), v(0.4), v(0.5));
            let (mut d, mut z) = (vec![0.0; n], vec![0.0; n]);
            stage([1.1, -0.3, 0.7, 0.2], &a, &b, &f, &f0, &y, &mut d, &mut z);
            let mut rows = vec![0.0; 4 * n];
            cubic(0.9, &y, &a, &f0, &f, &mut rows);
            for i in 0..n {
                let expected = 1.1 * a[i] + -0.3 * b[i] + 0.7 * f[i] + 0.2 * f0[i];
                assert_eq!((d[i], z[i]), (expected, y[i] + expected));
                let rise = a[i] - y[i];
                let bent = 0.9 * f0[i] - rise;
                let got = [0, 1, 2, 3].map(|k| rows[k * n + i]);
                assert_eq!(got, [y[i], rise, bent, rise - 0.9 * f[i] - bent]);
            }
            assert!(all_finite(&y));
            for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let mut y = y.clone();
                y[n - 1] = bad;
                assert!(!all_finite(&y));
            }
        }
    }
}
