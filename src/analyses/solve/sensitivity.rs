//! Which scenario values matter for a result: elementary effects of all, variance shares of the few that do, and what one
//! step of each does at the base.

use super::{burnt, trade::values};
use crate::analyses::methods::morris::{Effect, effects};
use crate::analyses::methods::sobol::{Indices, indices};
use crate::analyses::study::{Axis, Base};
use crate::results::figures::Figure;

/// How much to run.
#[derive(Debug, Clone, Copy)]
pub struct Effort {
    /// Paths of the screening.
    pub paths: usize,
    /// Values kept for the shares.
    pub few: usize,
    /// Rows for the shares.
    pub rows: usize,
    pub seed: u32,
}

impl Effort {
    /// Burns that this takes over `d` values.
    pub fn burns(&self, d: usize) -> usize {
        self.paths * (d + 1) + self.rows * (self.few.min(d) + 2) + 2 * d
    }
}

/// One value.
#[derive(Debug, Clone)]
pub struct Input {
    /// Over its whole range, in SI of the result.
    pub effect: Effect,
    /// The result at both ends of its range, the others at the base.
    pub low: Option<f64>,
    pub high: Option<f64>,
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Sensitivity {
    /// In the order of the axes.
    pub inputs: Vec<Input>,
    /// Places of the values whose shares were taken, strongest first.
    pub few: Vec<usize>,
    pub shares: Option<Indices>,
}

/// Effects and shares of `axes` on `figure`; what is not varied stays at the base. `done` hears of each burn.
pub fn sensitivity(
    base: &Base,
    axes: &[Axis],
    figure: &Figure,
    effort: Effort,
    done: &(dyn Fn() + Sync),
) -> Sensitivity {
    let result = |axes: &[Axis], x: &[f64]| {
        let (_, sets) = values(axes, x);
        // A target not reached has no time: what it would be says the run's length, not the value's influence.
        let v = burnt(base, &sets)
            .ok()
            .and_then(|s| figure.of(&s))
            .unwrap_or(f64::NAN);
        done();
        v
    };
    let screened = effects(axes.len(), effort.paths, u64::from(effort.seed), &|x| {
        result(axes, x)
    });
    let inputs: Vec<Input> = axes
        .iter()
        .zip(&screened)
        .map(|(axis, &effect)| {
            let at =
                |u: f64| Some(result(std::slice::from_ref(axis), &[u])).filter(|v| v.is_finite());
            Input {
                effect,
                low: at(0.0),
                high: at(1.0),
            }
        })
        .collect();
    let mut few: Vec<usize> = (0..axes.len()).collect();
    few.sort_by(|&i, &j| screened[j].mean_abs.total_cmp(&screened[i].mean_abs));
    few.truncate(effort.few);
    let chosen: Vec<Axis> = few.iter().map(|&i| axes[i].clone()).collect();
    let shares = (effort.rows > 0)
        .then(|| {
            indices(chosen.len(), effort.rows, effort.seed, &|x| {
                result(&chosen, x)
            })
        })
        .flatten();
    Sensitivity {
        inputs,
        few,
        shares,
    }
}
