//! Elementary effects: one value moved at a time along random paths through a grid, to see which matter.
//!
//! Morris 1991, "Factorial sampling plans for preliminary computational experiments", Technometrics 33(2) 161-174; mean of
//! absolute effects after Campolongo, Cariboni & Saltelli 2007, Environ. Model. Softw. 22 1509-1518.

use super::Unit;
use rayon::prelude::*;

/// Grid levels of each coordinate, and the step between the ends of an effect: p / (2 (p - 1)).
const LEVELS: usize = 4;
const STEP: f64 = LEVELS as f64 / (2.0 * (LEVELS as f64 - 1.0));

/// Effect of one coordinate, over its whole range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    pub mean: f64,
    /// Mean of the absolute effects.
    pub mean_abs: f64,
    /// Standard deviation: curvature, or other values' influence on this one.
    pub deviation: f64,
    /// Effects that it rests on; less than the paths where the function had no value.
    pub count: usize,
}

/// A path's points, and which coordinate moved by how much to the next one.
type Path = (Vec<Unit>, Vec<(usize, f64)>);

/// Effects of `d` coordinates over `paths` paths; `paths * (d + 1)` values of `f`, side by side.
pub fn effects(
    d: usize,
    paths: usize,
    seed: u64,
    f: &(dyn Fn(&[f64]) -> f64 + Sync),
) -> Vec<Effect> {
    let mut random = fastrand::Rng::with_seed(seed);
    let plans: Vec<Path> = (0..paths)
        .map(|_| {
            let half = LEVELS / 2;
            let mut x: Unit = (0..d)
                .map(|_| random.usize(..half) as f64 / (LEVELS - 1) as f64)
                .collect();
            let up: Vec<bool> = (0..d).map(|_| random.bool()).collect();
            for (v, up) in x.iter_mut().zip(&up) {
                if !up {
                    *v += STEP;
                }
            }
            let mut order: Vec<usize> = (0..d).collect();
            random.shuffle(&mut order);
            let mut points = vec![x.clone()];
            let mut moves = Vec::with_capacity(d);
            for k in order {
                let by = if up[k] { STEP } else { -STEP };
                x[k] += by;
                points.push(x.clone());
                moves.push((k, by));
            }
            (points, moves)
        })
        .collect();
    let points: Vec<&Unit> = plans.iter().flat_map(|(p, _)| p).collect();
    let values: Vec<f64> = points.into_par_iter().map(|x| f(x)).collect();
    let mut all = vec![Vec::with_capacity(paths); d];
    for (i, (_, moves)) in plans.iter().enumerate() {
        for (j, &(k, by)) in moves.iter().enumerate() {
            let at = i * (d + 1) + j;
            let effect = (values[at + 1] - values[at]) / by;
            if effect.is_finite() {
                all[k].push(effect);
            }
        }
    }
    all.iter().map(|e| summed(e)).collect()
}

fn summed(effects: &[f64]) -> Effect {
    let n = effects.len() as f64;
    let mean = effects.iter().sum::<f64>() / n.max(1.0);
    let squares: f64 = effects.iter().map(|e| (e - mean).powi(2)).sum();
    Effect {
        mean,
        mean_abs: effects.iter().map(|e| e.abs()).sum::<f64>() / n.max(1.0),
        deviation: (squares / (n - 1.0).max(1.0)).sqrt(),
        count: effects.len(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_effects_of_a_plane_are_its_slopes() {
        let e = effects(3, 6, 1, &|x| 5.0 * x[0] - 2.0 * x[1] + 7.0);
        for (e, slope) in e.iter().zip([5.0, -2.0, 0.0]) {
            assert!((e.mean - slope).abs() < 1e-9 && e.deviation < 1e-9);
            assert!((e.mean_abs - slope.abs()).abs() < 1e-9);
            assert_eq!(e.count, 6);
        }
    }

    /// Morris 1991, section 5: 20 inputs; of its random coefficients of order one the signs alternate here.
    fn morris_1991(x: &[f64]) -> f64 {
        let w: Vec<f64> = x
            .iter()
            .enumerate()
            .map(|(i, &x)| match i {
                2 | 4 | 6 => 2.0 * (1.1 * x / (x + 0.1) - 0.5),
                _ => 2.0 * (x - 0.5),
            })
            .collect();
        let sign = |n: usize| if n.is_multiple_of(2) { 1.0 } else { -1.0 };
        let mut y = 0.0;
        for i in 0..20 {
            y += w[i] * if i < 10 { 20.0 } else { sign(i + 1) };
            for j in i + 1..20 {
                let b = if j < 6 { -15.0 } else { sign(i + j) };
                y += b * w[i] * w[j];
                for l in j + 1..5 {
                    y += -10.0 * w[i] * w[j] * w[l];
                    for s in l + 1..4 {
                        y += 5.0 * w[i] * w[j] * w[l] * w[s];
                    }
                }
            }
        }
        y
    }

    #[test]
    fn published_morris_function_falls_into_its_three_groups() {
        // Morris 1991, figure 1: inputs 8 to 10 act strongly and alike everywhere (slope 2 x 20), 1 to 7 with curvature or
        // together with others, 11 to 20 hardly.
        let e = effects(20, 40, 3, &morris_1991);
        for (i, e) in e.iter().enumerate() {
            match i + 1 {
                1..=7 => assert!(e.mean_abs > 20.0 && e.deviation > 15.0, "{i}: {e:?}"),
                8..=10 => assert!(
                    (e.mean - 40.0).abs() < 6.0 && e.deviation < 12.0,
                    "{i}: {e:?}"
                ),
                _ => assert!(e.mean_abs < 14.0 && e.deviation < 14.0, "{i}: {e:?}"),
            }
        }
    }
}
