//! One scenario value so that results are as wanted: a scan for brackets, then searches in them.

use super::{Goal, Sets, Want, burnt, searched};
use crate::analyses::methods::bracket::{self, Sample};
use crate::analyses::study::{Axis, Base, Decimal};
use crate::results::Summary;
use rayon::prelude::*;
use std::sync::Mutex;

/// Parts of the range that values are rounded to, at least.
const FINEST: f64 = 2000.0;

/// A value that was tried.
#[derive(Debug, Clone)]
pub struct Tried {
    /// In the axis' unit.
    pub x: f64,
    /// The value as written in a scenario.
    pub value: String,
    pub sets: Sets,
    /// The summary, or why there is none.
    pub outcome: Result<Summary, String>,
}

impl Tried {
    /// Whether all wants that are conditions hold.
    pub fn keeps(&self, wants: &[Want]) -> bool {
        let conditions = wants.iter().filter(|w| !matches!(w.goal, Goal::Meet(_)));
        self.outcome
            .as_ref()
            .is_ok_and(|s| conditions.into_iter().all(|w| w.miss(s) == 0.0))
    }
}

/// A value that is as wanted.
#[derive(Debug, Clone)]
pub struct Answer {
    pub at: Tried,
    /// The nearest value tried on the other side: past the target, or where a condition breaks.
    pub beside: Option<Tried>,
    /// The result jumps past the target here: by more than a hundredth of what it spans over the range.
    pub jump: bool,
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Sizing {
    /// All values tried, in order.
    pub tried: Vec<Tried>,
    /// Those as wanted, lowest value first; for conditions one alone.
    pub answers: Vec<Answer>,
    /// The one that comes nearest where there is no answer.
    pub nearest: Option<Tried>,
}

struct Search<'a> {
    base: &'a Base,
    axis: &'a Axis,
    decimals: u32,
    done: &'a (dyn Fn() + Sync),
    tried: Mutex<Vec<Tried>>,
}

impl Search<'_> {
    fn run(&self, x: f64) -> Tried {
        let level = self.axis.at(Decimal::nearest(x, self.decimals));
        let x = level.number.unwrap_or(x);
        if let Ok(all) = self.tried.lock()
            && let Some(known) = all.iter().find(|t| t.x == x)
        {
            return known.clone();
        }
        let t = Tried {
            x,
            value: level.set.first().map(|s| s.1.clone()).unwrap_or_default(),
            outcome: burnt(self.base, &level.set),
            sets: level.set,
        };
        (self.done)();
        if let Ok(mut all) = self.tried.lock() {
            all.push(t.clone());
        }
        t
    }

    fn sorted(&self) -> Vec<Tried> {
        let mut all = self.tried.lock().map(|t| t.clone()).unwrap_or_default();
        all.sort_by(|a, b| a.x.total_cmp(&b.x));
        all
    }
}

/// Looks between the ends of `axis` (a range) for values as wanted: with a target to meet every such value, else the lowest
/// (or `highest`) that keeps all conditions. `scan` values first, side by side; `done` hears of each burn.
/// `None` where the axis is no range.
pub fn size(
    base: &Base,
    axis: &Axis,
    wants: &[Want],
    highest: bool,
    scan: usize,
    done: &(dyn Fn() + Sync),
) -> Option<Sizing> {
    let (a, b) = axis.ends()?;
    let (lo, hi) = (a.min(b), a.max(b));
    let decimals = (-((hi - lo) / FINEST).log10()).ceil().clamp(0.0, 12.0) as u32;
    let quantum = 10f64.powi(-(decimals as i32));
    let search = Search {
        base,
        axis,
        decimals,
        done,
        tried: Mutex::new(Vec::new()),
    };
    let n = scan.max(3);
    (0..n).into_par_iter().for_each(|i| {
        search.run(lo + (hi - lo) * i as f64 / (n - 1) as f64);
    });
    let scanned = search.sorted();
    let meet = wants.iter().find(|w| matches!(w.goal, Goal::Meet(_)));
    let mut answers = match meet {
        Some(want) => targets(&search, &scanned, want, quantum),
        None => edge(&search, &scanned, wants, highest, quantum)
            .into_iter()
            .collect(),
    };
    answers.retain(|a| a.at.keeps(wants));
    let tried = search.sorted();
    let total = |t: &Tried| match &t.outcome {
        Ok(s) => wants.iter().map(|w| w.miss(s)).sum(),
        Err(_) => f64::INFINITY,
    };
    let nearest = tried
        .iter()
        .filter(|t| total(t).is_finite())
        .min_by(|p, q| total(p).total_cmp(&total(q)))
        .cloned();
    Some(Sizing {
        nearest: answers.is_empty().then_some(nearest).flatten(),
        tried,
        answers,
    })
}

fn samples(tried: &[Tried], want: &Want) -> Vec<Sample> {
    tried
        .iter()
        .map(|t| Sample {
            x: t.x,
            y: t.outcome
                .as_ref()
                .map_or(f64::NAN, |s| searched(want.figure, s)),
        })
        .collect()
}

fn targets(search: &Search, scanned: &[Tried], want: &Want, quantum: f64) -> Vec<Answer> {
    let level = want.level();
    let y = |x: f64| {
        let t = search.run(x);
        t.outcome
            .as_ref()
            .map_or(f64::NAN, |s| searched(want.figure, s))
    };
    let mut curve = samples(scanned, want);
    // A turn between two values may pass the target twice.
    for (l, m, r) in bracket::turns(&curve, level) {
        bracket::extreme(y, (l.x, r.x), m.y < level, quantum, 12);
    }
    if bracket::crossings(&curve, level).is_empty() {
        // How near does it come? Around the nearest value of the scan.
        let off = |s: &Sample| (s.y - level).abs();
        let valued = || curve.iter().filter(|s| s.y.is_finite());
        if let Some(best) = valued().min_by(|p, q| off(p).total_cmp(&off(q))).copied() {
            let at = curve.iter().position(|s| s.x == best.x).unwrap_or(0);
            let (l, r) = (at.saturating_sub(1), (at + 1).min(curve.len() - 1));
            let ends = (curve[l].x, curve[r].x);
            bracket::extreme(y, ends, best.y < level, quantum, 12);
        }
    }
    curve = samples(&search.sorted(), want);
    let valued = curve.iter().map(|s| s.y).filter(|y| y.is_finite());
    let (low, high) = valued.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| {
        (l.min(y), h.max(y))
    });
    let mut answers: Vec<Answer> = Vec::new();
    for pair in bracket::crossings(&curve, level) {
        let (root, _) = bracket::root(y, pair, level, quantum);
        let at = search.run(root.at.x);
        if answers.iter().any(|a| a.at.x == at.x) {
            continue;
        }
        answers.push(Answer {
            beside: Some(search.run(root.other.x)),
            jump: (root.at.y - level).abs() > 0.01 * (high - low),
            at,
        });
    }
    answers
}

fn edge(
    search: &Search,
    scanned: &[Tried],
    wants: &[Want],
    highest: bool,
    quantum: f64,
) -> Option<Answer> {
    let mut order: Vec<&Tried> = scanned.iter().collect();
    if highest {
        order.reverse();
    }
    let first = order.iter().position(|t| t.keeps(wants))?;
    if first == 0 {
        return Some(Answer {
            at: order[0].clone(),
            beside: None,
            jump: false,
        });
    }
    let holds = |x: f64| search.run(x).keeps(wants);
    let (good, bad, _) = bracket::edge(holds, order[first].x, order[first - 1].x, quantum);
    Some(Answer {
        at: search.run(good),
        beside: Some(search.run(bad)),
        jump: false,
    })
}
