//! Simulated and measured burns side by side: levelled to one task, differences with their uncertainty, or "cannot tell".
//!
//! Simulated burns share the samples of the closures, so that what the model does not know of both cancels; measured
//! ones bring their uncertainty budgets and the scatter of fires from day to day. `docs/compare.md` says how.

mod changed;
mod differ;
mod level;
mod measured;
mod runs;
mod spread;

use crate::analyses::RunError;
use crate::properties::water::Water;
use crate::properties::wood;
use crate::results::{Audit, ComparedEntry, ComparedPair, Comparison, Quantity, Span};
use crate::scenario::Diagnostics;
use crate::units::{UnitSystem, format_mass, format_temperature, format_time, format_volume};
use spread::Figure;

/// Where the figures of one burn come from.
#[derive(Debug, Clone)]
pub enum Origin {
    /// A scenario as text, with the name that its messages use and what is laid over it.
    Scenario {
        text: String,
        overrides: Vec<(String, String)>,
        /// Time to the target that a finished result folder holds.
        finished_s: Option<f64>,
    },
    Log(Box<Audit>),
}

/// One burn to compare. Measured burns under the same label are repeats.
#[derive(Debug, Clone)]
pub struct Given {
    pub label: String,
    pub source: String,
    pub origin: Origin,
}

/// What is levelled before burns are set side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Levels {
    pub start: bool,
    pub target: bool,
    pub water: bool,
    pub moisture: bool,
}

/// How to compare.
#[derive(Debug, Clone)]
pub struct Options {
    pub samples: usize,
    /// `None`: start and target; with a measured burn also water and moisture.
    pub levels: Option<Levels>,
    pub target_k: Option<f64>,
    /// Standard deviation of a fire fed by hand, from burn to burn, as share of its time and wood.
    pub repeat_spread: Option<f64>,
    pub visit_s: Option<f64>,
    /// Cutting, splitting and stacking of a cord.
    pub cord_work_s: Option<f64>,
    /// Measured burns were made on one tank: the error of its volume is common to all.
    pub same_tank: bool,
    pub burns_per_year: f64,
    pub bath_m3: f64,
    pub bath_rise_k: f64,
    pub units: UnitSystem,
}

/// Burn to burn, as share (judgement; three repeats are not always enough to see it: Wang et al. 2014, Energy for
/// Sustainable Development 20, 21-29).
const REPEAT_SPREAD: f64 = 0.10;
/// 1.5 to 2 min a visit (common practice, no source).
const VISIT_S: f64 = 105.0;
/// 6 to 12 h to cut, split and stack a cord (common practice, no source).
const CORD_WORK_S: f64 = 9.0 * 3600.0;

/// Why nothing can be compared.
#[derive(Debug)]
pub enum CompareError {
    /// A scenario of the comparison that cannot be read.
    Scenario {
        label: String,
        diagnostics: Box<Diagnostics>,
    },
    Run {
        label: String,
        error: RunError,
    },
    /// In words, with what to do.
    Refused(String),
}

/// The task that all are levelled to.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Task {
    pub start_k: Option<f64>,
    pub target_k: Option<f64>,
    pub water_m3: Option<f64>,
    pub moisture_wet: Option<f64>,
}

/// An entry before differences are taken.
pub(crate) struct Entry {
    pub shown: ComparedEntry,
    pub figures: Vec<Figure>,
    /// Scenario as it was run, for the sentence of what changed.
    pub text: Option<String>,
    pub audit: Option<Audit>,
    /// kg of a cord of this wood.
    pub cord_kg: Option<f64>,
    pub heat_j: Option<f64>,
    /// Reasons that forbid a verdict on a quantity.
    pub forbidden: Vec<(Quantity, String)>,
}

/// How far the work is: steps done, steps in all.
pub type Told<'a> = &'a (dyn Fn(usize, usize) + Sync);

/// Compares all against the first.
///
/// # Errors
/// A scenario that does not load or run; burns that have nothing to compare.
pub fn compare(given: &[Given], o: &Options, told: Told) -> Result<Comparison, CompareError> {
    let labels = grouped(given)?;
    if labels.len() < 2 {
        return Err(CompareError::Refused(
            "two burns are needed, under different labels; one label for several logs makes them repeats of one rig".into(),
        ));
    }
    let plan = level::plan(given, o)?;
    let simulated = given
        .iter()
        .filter(|g| matches!(g.origin, Origin::Scenario { .. }))
        .count();
    let steps = simulated * (o.samples + 2);
    told(0, steps);
    let mut entries = Vec::with_capacity(labels.len());
    for (label, members) in &labels {
        let entry = match &members[0].origin {
            Origin::Scenario { .. } => {
                runs::entry(label, members[0], &plan, o, &|| told(1, steps))?
            }
            Origin::Log(_) => measured::entry(label, members, &plan, o),
        };
        entries.push(entry);
    }
    for e in &mut entries {
        effort(e, o);
    }
    let pairs: Vec<ComparedPair> = entries[1..]
        .iter()
        .map(|b| differ::pair(&entries[0], b, &plan, o))
        .collect();
    let assumed = assumed(&entries, o);
    Ok(Comparison {
        entries: entries.into_iter().map(|e| e.shown).collect(),
        pairs,
        samples: if simulated > 0 { o.samples } else { 0 },
        assumed,
    })
}

/// Burns by label, in the order in which labels appear.
fn grouped(given: &[Given]) -> Result<Vec<(String, Vec<&Given>)>, CompareError> {
    let mut labels: Vec<(String, Vec<&Given>)> = Vec::new();
    for g in given {
        match labels.iter_mut().find(|(l, _)| *l == g.label) {
            Some((_, list)) => list.push(g),
            None => labels.push((g.label.clone(), vec![g])),
        }
    }
    for (label, list) in &labels {
        let scenarios = list
            .iter()
            .filter(|g| matches!(g.origin, Origin::Scenario { .. }))
            .count();
        if scenarios > 0 && list.len() > 1 {
            return Err(CompareError::Refused(format!(
                "`{label}` stands for {} burns, one of them simulated: repeats are for measured burns only, give each simulated one a label of its own",
                list.len()
            )));
        }
    }
    Ok(labels)
}

/// Work and wood that follow from the figures.
fn effort(e: &mut Entry, o: &Options) {
    let value = |q: Quantity| e.shown.figures[q.index()].1.value;
    let visits = value(Quantity::Tending)
        .zip(value(Quantity::Time).or(e.shown.curves.time_s.last().copied()))
        .map(|(per_hour, s)| per_hour * s / 3600.0);
    let wood = value(Quantity::Wood);
    e.shown.visits = visits;
    e.shown.tending_s = visits.map(|n| n * o.visit_s.unwrap_or(VISIT_S));
    let cords = wood.zip(e.cord_kg).map(|(kg, cord)| kg / cord);
    e.shown.splitting_s = cords.map(|c| c * o.cord_work_s.unwrap_or(CORD_WORK_S));
    e.shown.cords_per_year = cords.map(|c| c * o.burns_per_year);
    e.shown.steres_per_year = e.shown.cords_per_year.map(|c| c * wood::CORD_M3);
    let water = Water::shared();
    let bath_j = o.bath_m3
        * water.rho_kg_m3(283.15)
        * (water.h_j_kg(283.15 + o.bath_rise_k) - water.h_j_kg(283.15));
    e.shown.wood_per_bath_kg = wood
        .zip(e.heat_j.filter(|q| *q > 0.0))
        .map(|(kg, q)| kg * bath_j / q);
}

fn assumed(entries: &[Entry], o: &Options) -> Vec<String> {
    let mut all = Vec::new();
    if o.visit_s.is_none() {
        all.push(format!(
            "a visit to the stove takes {} (1.5 to 2 min; common practice, no source): --visit",
            format_time(VISIT_S)
        ));
    }
    if o.cord_work_s.is_none() {
        all.push(format!(
            "cutting, splitting and stacking a cord takes {} (6 to 12 h; common practice, no source): --cord-work",
            format_time(CORD_WORK_S)
        ));
    }
    all.push(format!(
        "a bath is {} warmed by {:.0} K; a year has {} such burns: --bath, --bath-rise, --burns-per-year",
        format_volume(o.bath_m3, o.units),
        o.bath_rise_k,
        o.burns_per_year
    ));
    let lone = entries
        .iter()
        .any(|e| e.audit.is_some() && e.shown.burns < 2);
    if lone && o.repeat_spread.is_none() {
        all.push(format!(
            "a fire fed by hand scatters from burn to burn by {:.0} % of its time and wood, half of that in efficiency and stack loss (judgement; Wang et al. 2014 show that three repeats are not always enough to know): --repeat-spread, or repeats under one label",
            100.0 * REPEAT_SPREAD
        ));
    }
    all
}

/// "12 °C to 60 °C, 200 L" for messages.
pub(crate) fn task_words(t: &Task, units: UnitSystem) -> String {
    let mut words = Vec::new();
    if let Some(k) = t.start_k {
        words.push(format!("start {}", format_temperature(k, units)));
    }
    if let Some(k) = t.target_k {
        words.push(format!("target {}", format_temperature(k, units)));
    }
    if let Some(v) = t.water_m3 {
        words.push(format!("water {}", format_volume(v, units)));
    }
    if let Some(m) = t.moisture_wet {
        words.push(format!("wood with {:.1} % water (wet basis)", 100.0 * m));
    }
    words.join(", ")
}

/// The wood figure as a mass with its words.
pub(crate) fn mass_words(kg: f64, units: UnitSystem) -> String {
    format_mass(kg, units)
}

/// No figure at all.
pub(crate) const NOTHING: Span = Span {
    value: None,
    low: None,
    high: None,
};
