//! A feed plan of so many trips that reaches the target in time on the least wood: equal charges at equal intervals.

use super::{Sets, burnt};
use crate::analyses::methods::bracket;
use crate::analyses::study::Base;
use crate::results::Summary;
use rayon::prelude::*;

/// Intervals tried, and masses before each bracket is halved.
const INTERVALS: usize = 10;
const MASSES: usize = 9;
/// Masses are told to 10 g.
const MASS_STEP_KG: f64 = 0.01;

/// A plan that was burnt.
#[derive(Debug, Clone)]
pub struct Plan {
    pub interval_s: f64,
    pub charge_kg: f64,
    pub sets: Sets,
    pub summary: Summary,
}

impl Plan {
    fn late_by(&self, by_s: f64) -> f64 {
        self.summary.time_to_target_s.unwrap_or(f64::INFINITY) - by_s
    }
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Plans {
    /// Of each interval the smallest charge that is ready in time, least wood first.
    pub good: Vec<Plan>,
    /// The soonest of all plans, or the one that gets hottest, where none is ready in time.
    pub soonest: Option<Plan>,
    pub burns: usize,
}

/// The scenario's feeding replaced by `trips` charges at `interval_s`, the first at `first_s`.
pub fn sets(trips: usize, first_s: f64, interval_s: f64, charge_kg: f64) -> Sets {
    let feeds: Vec<String> = (0..trips)
        .map(|i| {
            let at = first_s + i as f64 * interval_s;
            format!("{{ at = \"{at:.0} s\", add = \"{charge_kg:.2} kg\" }}")
        })
        .collect();
    vec![
        ("feeding.every".into(), "[]".into()),
        ("feeding.rules".into(), "[]".into()),
        ("feeding.list".into(), format!("[{}]", feeds.join(", "))),
    ]
}

/// Looks for plans of `trips` charges of at most `most_kg` that reach the target by `by_s` after lighting. The first is laid
/// at `first_s`: later, the kindling may have burnt out and nothing lights it.
pub fn plan(
    base: &Base,
    trips: usize,
    first_s: f64,
    by_s: f64,
    most_kg: f64,
    done: &(dyn Fn() + Sync),
) -> Plans {
    let burn = |interval_s: f64, charge_kg: f64| -> Option<Plan> {
        let sets = sets(trips, first_s, interval_s, charge_kg);
        let summary = burnt(base, &sets).ok();
        done();
        Some(Plan {
            interval_s,
            charge_kg,
            sets,
            summary: summary?,
        })
    };
    // The last charge is laid at a tenth of the time at the earliest, and a twentieth of it before the end at the latest.
    let intervals: Vec<f64> = (0..INTERVALS)
        .map(|i| {
            let share = 0.1 + 0.85 * i as f64 / (INTERVALS - 1) as f64;
            let room_s = (share * by_s - first_s).max(0.0);
            (room_s / trips.saturating_sub(1).max(1) as f64 / 60.0)
                .round()
                .max(1.0)
                * 60.0
        })
        .collect();
    let of_each: Vec<(Option<Plan>, Vec<Plan>)> = intervals
        .par_iter()
        .map(|&interval| {
            let masses = (1..=MASSES).map(|k| {
                let share = k as f64 / MASSES as f64;
                (share * share * most_kg / MASS_STEP_KG).round().max(1.0) * MASS_STEP_KG
            });
            let mut all: Vec<Plan> = Vec::new();
            let mut good = None;
            let mut below = 0.0;
            for mass in masses {
                let Some(p) = burn(interval, mass) else {
                    continue;
                };
                let ready = p.late_by(by_s) <= 0.0;
                all.push(p.clone());
                if ready {
                    good = Some(p);
                    break;
                }
                below = mass;
            }
            if let Some(p) = &mut good {
                let at = std::cell::RefCell::new(p.clone());
                let holds = |m: f64| {
                    let m = (m / MASS_STEP_KG).round() * MASS_STEP_KG;
                    match burn(interval, m) {
                        Some(q) if q.late_by(by_s) <= 0.0 => {
                            at.replace(q);
                            true
                        }
                        _ => false,
                    }
                };
                bracket::edge(holds, p.charge_kg, below, MASS_STEP_KG);
                *p = at.into_inner();
            }
            (good, all)
        })
        .collect();
    let mut good: Vec<Plan> = of_each.iter().filter_map(|(g, _)| g.clone()).collect();
    good.sort_by(|a, b| {
        let wood = |p: &Plan| p.summary.fuel_fed_kg;
        wood(a).total_cmp(&wood(b))
    });
    let burns = of_each.iter().map(|(_, all)| all.len()).sum();
    let soonest = of_each.into_iter().flat_map(|(_, all)| all).min_by(|a, b| {
        let peak = |p: &Plan| p.summary.tank_peak_K.unwrap_or(0.0);
        let late = a.late_by(by_s).total_cmp(&b.late_by(by_s));
        late.then(peak(b).total_cmp(&peak(a)))
    });
    Plans {
        soonest: good.is_empty().then_some(soonest).flatten(),
        good,
        burns,
    }
}
