//! The trade-off between several results: points that no other beats in all of them.

use super::{Sets, Want, burnt};
use crate::analyses::methods::nsga::{self, Search, Tried, Worth};
use crate::analyses::study::{Axis, Base};
use crate::results::Summary;
use crate::results::figures::Figure;

/// A point of the search.
#[derive(Debug, Clone)]
pub struct Point {
    pub labels: Vec<String>,
    pub sets: Sets,
    pub aims: Vec<f64>,
    /// 0 where it keeps the constraints.
    pub violation: f64,
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Trade {
    /// Every point tried, in order.
    pub tried: Vec<Point>,
    /// Places of the front in it, least of the first aim first.
    pub front: Vec<usize>,
}

/// Values are rounded to this part of their range: finer ones nobody builds, and they read badly.
const PARTS: f64 = 1000.0;

/// Path and value of each key at these shares of the axes' ranges, and their labels.
pub fn values(axes: &[Axis], shares: &[f64]) -> (Vec<String>, Sets) {
    let levels: Vec<_> = axes
        .iter()
        .zip(shares)
        .filter_map(|(a, &u)| a.at_share((u * PARTS).round() / PARTS, 1))
        .collect();
    (
        levels.iter().map(|l| l.label.clone()).collect(),
        levels.into_iter().flat_map(|l| l.set).collect(),
    )
}

/// Least of `aims` over `axes`, within `keep`. `done` hears of each burn.
pub fn trade(
    base: &Base,
    axes: &[Axis],
    aims: &[&Figure],
    keep: &[Want],
    how: Search,
    done: &(dyn Fn() + Sync),
) -> Trade {
    let worth = |x: &[f64]| {
        let (_, sets) = values(axes, x);
        let found = burnt(base, &sets).ok();
        done();
        worth(found.as_ref(), aims, keep)
    };
    let all: Vec<Tried> = nsga::search(axes.len(), how, &worth);
    let front = nsga::front(&all);
    let tried = all
        .into_iter()
        .map(|t| {
            let (labels, sets) = values(axes, &t.x);
            Point {
                labels,
                sets,
                aims: t.worth.aims,
                violation: t.worth.violation,
            }
        })
        .collect();
    Trade { tried, front }
}

fn worth(summary: Option<&Summary>, aims: &[&Figure], keep: &[Want]) -> Worth {
    // Worse than any that merely breaks a constraint.
    let nothing = Worth {
        aims: vec![f64::INFINITY; aims.len()],
        violation: f64::MAX,
    };
    let Some(s) = summary else {
        return nothing;
    };
    let values: Option<Vec<f64>> = aims.iter().map(|f| f.of(s)).collect();
    let violation = keep
        .iter()
        .map(|w| w.miss(s) / w.level().abs().max(1.0))
        .sum::<f64>();
    match values {
        Some(aims) => Worth { aims, violation },
        None => nothing,
    }
}
