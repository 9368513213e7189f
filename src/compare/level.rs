//! The one task that all burns are levelled to: start and target temperature, water, moisture of the wood.

use super::{CompareError, Given, Levels, Options, Origin, Task, changed};
use crate::components::spec::{Rig, Water};
use crate::results::Audit;
use crate::scenario::{self, Loaded};
use crate::units::{UnitSystem, format_temperature, format_volume};

/// A rise shorter than this share of the longest sets no target for the others.
const SHORT_RISE: f64 = 0.5;
/// Differences that nobody would level.
const SAME_K: f64 = 0.05;
const SAME_WATER: f64 = 0.002;
const SAME_MOISTURE: f64 = 0.002;

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Plan {
    /// What is levelled to what; `None`: each as it was.
    pub task: Task,
    pub any_log: bool,
}

pub(crate) fn load(given: &Given) -> Result<Option<Loaded>, CompareError> {
    match &given.origin {
        Origin::Scenario {
            text, overrides, ..
        } => scenario::load_str(&given.source, text, overrides)
            .map(Some)
            .map_err(|d| CompareError::Scenario {
                label: given.label.clone(),
                diagnostics: Box::new(d),
            }),
        Origin::Log(_) => Ok(None),
    }
}

pub(crate) fn start_k(rig: &Rig) -> Option<f64> {
    match &rig.water {
        Water::Store { vessel, .. } => Some(vessel.start_temperature_k),
        _ => None,
    }
}

pub(crate) fn water_m3(rig: &Rig) -> Option<f64> {
    match &rig.water {
        Water::Store { vessel, .. } => Some(vessel.water_m3),
        _ => None,
    }
}

pub(crate) fn plan(given: &[Given], o: &Options) -> Result<Plan, CompareError> {
    let mut loaded = Vec::new();
    let mut logs: Vec<&Audit> = Vec::new();
    for g in given {
        loaded.extend(load(g)?);
        if let Origin::Log(a) = &g.origin {
            logs.push(a);
        }
    }
    let any_log = !logs.is_empty();
    let levels = o.levels.unwrap_or_else(|| {
        let mut l = Levels {
            start: true,
            target: true,
            water: any_log,
            moisture: any_log,
        };
        if !any_log {
            // What alone differs is what is asked about.
            let only = |keys: &[&str]| {
                loaded.iter().skip(1).any(|b| {
                    let all = changed::keys(&loaded[0].text, &b.text);
                    !all.is_empty() && all.iter().all(|k| keys.iter().any(|p| k.starts_with(p)))
                })
            };
            if only(&["store.start", "target."]) {
                l.start = false;
                l.target = false;
            }
        }
        l
    });
    let first_rig = loaded.first().map(|l| &l.rig);
    let start = logs
        .first()
        .map(|a| a.start_temperature_K)
        .or(first_rig.and_then(start_k));
    let of_logs = reachable(&logs);
    let of_rigs = loaded.iter().map(|l| l.rig.target.temperature_k);
    let target = if any_log {
        of_rigs.chain(of_logs).reduce(f64::min)
    } else {
        first_rig.map(|r| r.target.temperature_k)
    };
    let moisture = logs
        .iter()
        .find(|a| !a.moisture_assumed)
        .map(|a| a.moisture_wet)
        .or(first_rig.map(|r| r.fuel.moisture_wet));
    let water = logs
        .first()
        .map(|a| a.water_m3)
        .or(first_rig.and_then(water_m3));
    let task = Task {
        start_k: start.filter(|_| levels.start),
        target_k: o.target_k.or(target.filter(|_| levels.target)),
        water_m3: water.filter(|_| levels.water),
        moisture_wet: moisture.filter(|_| levels.moisture),
    };
    if let (Some(a), Some(b)) = (task.start_k, task.target_k)
        && b <= a + 1.0
    {
        return Err(CompareError::Refused(format!(
            "the common target of {} is not above the common start of {}: give one with --target, or compare as they are with --level none",
            format_temperature(b, o.units),
            format_temperature(a, o.units)
        )));
    }
    Ok(Plan { task, any_log })
}

/// The lowest of the warmest temperatures, short rises left aside.
fn reachable(logs: &[&Audit]) -> Option<f64> {
    let rise = |a: &Audit| a.end_temperature_K - a.start_temperature_K;
    let most = logs.iter().map(|a| rise(a)).reduce(f64::max)?;
    logs.iter()
        .filter(|a| rise(a) >= SHORT_RISE * most)
        .map(|a| a.end_temperature_K)
        .reduce(f64::min)
}

/// A scenario's rig brought to the task by changing what it is run with; what was done, in words, and what could not be.
pub(crate) fn rig(
    given: &Given,
    task: &Task,
    units: UnitSystem,
) -> Result<(Loaded, Vec<String>, Vec<String>), CompareError> {
    let Some(mut loaded) = load(given)? else {
        return Err(CompareError::Refused(format!(
            "`{}` is no scenario",
            given.source
        )));
    };
    let (mut done, mut left) = (Vec::new(), Vec::new());
    if let (Some(want), Some(own)) = (task.water_m3, water_m3(&loaded.rig))
        && (want / own - 1.0).abs() > SAME_WATER
    {
        let words = |v| format_volume(v, units);
        let mut with = given.clone();
        if let Origin::Scenario { overrides, .. } = &mut with.origin {
            overrides.push(("store.water".into(), format!("{:.4} L", 1000.0 * want)));
        }
        match load(&with) {
            Ok(Some(other)) => {
                loaded.rig = other.rig;
                done.push(format!(
                    "run with {} of water instead of {}",
                    words(want),
                    words(own)
                ));
            }
            _ => left.push(format!(
                "its {} of water could not be made {}: the ports or the depth do not fit",
                words(own),
                words(want)
            )),
        }
    }
    let rig = &mut loaded.rig;
    if let (Some(want), Water::Store { vessel, .. }) = (task.start_k, &mut rig.water)
        && (want - vessel.start_temperature_k).abs() > SAME_K
    {
        done.push(format!(
            "run from {} instead of {}",
            format_temperature(want, units),
            format_temperature(vessel.start_temperature_k, units)
        ));
        vessel.start_temperature_k = want;
    }
    if let Some(want) = task.target_k
        && (want - rig.target.temperature_k).abs() > SAME_K
    {
        done.push(format!(
            "run to {} instead of {}",
            format_temperature(want, units),
            format_temperature(rig.target.temperature_k, units)
        ));
        rig.target.temperature_k = want;
    }
    if let Some(want) = task.moisture_wet
        && (want - rig.fuel.moisture_wet).abs() > SAME_MOISTURE
    {
        done.push(format!(
            "run on wood with {:.1} % water instead of {:.1} % (wet basis)",
            100.0 * want,
            100.0 * rig.fuel.moisture_wet
        ));
        rig.fuel.moisture_wet = want;
    }
    Ok((loaded, done, left))
}
