//! Shares of a function's variance that its inputs explain, alone and together with others.
//!
//! Design and first order: Saltelli et al. 2010, Comput. Phys. Commun. 181 259-270, table 2 (b); total: Jansen 1999, Comput.
//! Phys. Commun. 117 35-43, as (f) there. Points: a Sobol sequence of twice the inputs. Intervals: bootstrap over the rows
//! (Archer, Saltelli & Sobol' 1997, J. Stat. Comput. Simul. 58 99-120); wide for such a sequence, whose rows are not drawn
//! independently.

use super::{MOST_DIMENSIONS, MOST_POINTS, Unit, sobol_point};
use rayon::prelude::*;

/// A share and the interval that 95 of 100 resamplings lie in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    pub value: f64,
    pub low: f64,
    pub high: f64,
}

/// Shares of one input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Index {
    pub first: Share,
    pub total: Share,
}

/// All shares.
#[derive(Debug, Clone, PartialEq)]
pub struct Indices {
    pub inputs: Vec<Index>,
    pub mean: f64,
    pub variance: f64,
    /// Rows used; those in which the function had no value are left out.
    pub rows: usize,
}

/// Values of one row: at A, at B, and at A with one input of B each.
struct Row {
    a: f64,
    b: f64,
    ab: Vec<f64>,
}

const RESAMPLINGS: usize = 400;

/// Shares of `d` inputs (at most half of [`MOST_DIMENSIONS`]) from `rows` rows (at most [`MOST_POINTS`]): `rows * (d + 2)`
/// values of `f`, side by side. `None` where too few rows have values, or where these do not vary.
pub fn indices(
    d: usize,
    rows: usize,
    seed: u32,
    f: &(dyn Fn(&[f64]) -> f64 + Sync),
) -> Option<Indices> {
    let d = d.min(MOST_DIMENSIONS / 2);
    let all: Vec<Row> = (0..rows.min(MOST_POINTS))
        .into_par_iter()
        .map(|i| {
            let point = sobol_point(i, 2 * d, seed);
            let (a, b) = point.split_at(d);
            Row {
                a: f(a),
                b: f(b),
                ab: (0..d)
                    .map(|k| {
                        let mut x: Unit = a.to_vec();
                        x[k] = b[k];
                        f(&x)
                    })
                    .collect(),
            }
        })
        .collect();
    let mut kept: Vec<Row> = all
        .into_iter()
        .filter(|r| r.a.is_finite() && r.b.is_finite() && r.ab.iter().all(|v| v.is_finite()))
        .collect();
    if kept.len() < 8 {
        return None;
    }
    let n = kept.len() as f64;
    let mean = kept.iter().map(|r| r.a + r.b).sum::<f64>() / (2.0 * n);
    // About the mean the products of the first order scatter least.
    for r in &mut kept {
        r.a -= mean;
        r.b -= mean;
        r.ab.iter_mut().for_each(|v| *v -= mean);
    }
    let order: Vec<usize> = (0..kept.len()).collect();
    let (variance, best) = shares(&kept, &order, d);
    if variance <= 1e-20 * mean * mean || variance == 0.0 {
        return None;
    }
    let mut random = fastrand::Rng::with_seed(u64::from(seed));
    let resampled: Vec<Vec<(f64, f64)>> = (0..RESAMPLINGS)
        .map(|_| {
            let drawn: Vec<usize> = order.iter().map(|_| random.usize(..kept.len())).collect();
            shares(&kept, &drawn, d).1
        })
        .collect();
    let share = |k: usize, of: fn(&(f64, f64)) -> f64| {
        let mut all: Vec<f64> = resampled.iter().map(|r| of(&r[k])).collect();
        all.sort_by(f64::total_cmp);
        Share {
            value: of(&best[k]),
            low: all[RESAMPLINGS / 40],
            high: all[RESAMPLINGS - 1 - RESAMPLINGS / 40],
        }
    };
    Some(Indices {
        inputs: (0..d)
            .map(|k| Index {
                first: share(k, |s| s.0),
                total: share(k, |s| s.1),
            })
            .collect(),
        mean,
        variance,
        rows: kept.len(),
    })
}

/// Variance, and first order and total of each input, over these rows.
fn shares(rows: &[Row], which: &[usize], d: usize) -> (f64, Vec<(f64, f64)>) {
    let n = which.len() as f64;
    let (mut sum, mut squares) = (0.0, 0.0);
    let mut parts = vec![(0.0, 0.0); d];
    for &i in which {
        let r = &rows[i];
        sum += r.a + r.b;
        squares += r.a * r.a + r.b * r.b;
        for (p, ab) in parts.iter_mut().zip(&r.ab) {
            p.0 += r.b * (ab - r.a);
            p.1 += (r.a - ab).powi(2);
        }
    }
    let variance = squares / (2.0 * n) - (sum / (2.0 * n)).powi(2);
    for p in &mut parts {
        *p = (p.0 / n / variance, p.1 / (2.0 * n) / variance);
    }
    (variance, parts)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn published_ishigami_function_has_its_exact_shares() {
        // Ishigami & Homma 1990, Proc. ISUMA 90, 398-403: y = sin x1 + a sin^2 x2 + b x3^4 sin x1, x from -pi to pi.
        let (a, b) = (7.0, 0.1);
        let y = |u: &[f64]| {
            let x: Vec<f64> = u.iter().map(|u| PI * (2.0 * u - 1.0)).collect();
            x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin()
        };
        // Parts of the variance in closed form.
        let v1 = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2);
        let v2 = a * a / 8.0;
        let v13 = b * b * PI.powi(8) * (1.0 / 18.0 - 1.0 / 50.0);
        let v = v1 + v2 + v13;
        let exact = [(v1 / v, (v1 + v13) / v), (v2 / v, v2 / v), (0.0, v13 / v)];
        for ((s, t), (s0, t0)) in
            exact
                .iter()
                .zip([(0.3139, 0.5576), (0.4424, 0.4424), (0.0, 0.2437)])
        {
            assert!((s - s0).abs() < 1e-4 && (t - t0).abs() < 1e-4);
        }
        let Some(found) = indices(3, 8192, 5, &y) else {
            return assert!(exact.is_empty(), "no shares found");
        };
        assert!(
            (found.variance / v - 1.0).abs() < 0.01,
            "{}",
            found.variance
        );
        assert!((found.mean - a / 2.0).abs() < 0.01);
        for (i, e) in found.inputs.iter().zip(exact) {
            assert!((i.first.value - e.0).abs() < 0.01, "{i:?} against {e:?}");
            assert!((i.total.value - e.1).abs() < 0.01, "{i:?} against {e:?}");
            assert!(i.first.low <= e.0 && e.0 <= i.first.high, "{i:?}");
            assert!(i.total.low <= e.1 && e.1 <= i.total.high, "{i:?}");
        }
    }

    #[test]
    fn identity_rows_without_a_value_are_left_out_and_a_constant_has_no_shares() {
        let gap = |x: &[f64]| if x[0] > 0.9 { f64::NAN } else { x[1] };
        let rows = indices(2, 256, 1, &gap).map(|i| i.rows);
        assert!(rows.is_some_and(|n| n < 256 && n > 150), "{rows:?}");
        assert!(indices(2, 64, 1, &|_| 3.0).is_none());
    }
}
