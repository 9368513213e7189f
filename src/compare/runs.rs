//! Simulated entries: the run itself, the run to its target, and samples of the closures that all entries share.

use super::level::{self, Plan};
use super::spread::Figure;
use super::{CompareError, Entry, Given, NOTHING, Options, Origin};
use crate::analyses::bands::sample_rig;
use crate::analyses::{BurnOptions, burn};
use crate::components::spec::Rig;
use crate::properties::wood;
use crate::results::{
    BurnResult, CompareCurves, ComparedEntry, EntryKind, EventKind, Quantity, Summary,
};
use crate::units::format_time;
use rayon::prelude::*;

/// Share of the wood put in that must have burnt for the fire to have caught.
const CAUGHT: f64 = 0.3;
/// A finished result that differs by more was made by another program or scenario.
const SAME_RESULT: f64 = 1e-3;

pub(crate) fn entry(
    label: &str,
    given: &Given,
    plan: &Plan,
    o: &Options,
    done: &(dyn Fn() + Sync),
) -> Result<Entry, CompareError> {
    let failed = |error| CompareError::Run {
        label: label.to_owned(),
        error,
    };
    let own = level::load(given)?;
    let (loaded, corrections, left) = level::rig(given, &plan.task, o.units)?;
    let mut remarks = left.clone();
    let rig = &loaded.rig;
    let whole = burn(rig, &BurnOptions::default(), &mut |_| true).map_err(failed)?;
    done();
    if corrections.is_empty()
        && let Origin::Scenario {
            finished_s: Some(then),
            ..
        } = given.origin
    {
        let now = whole.summary.time_to_target_s.unwrap_or(f64::NAN);
        if (now / then - 1.0).abs() > SAME_RESULT {
            remarks.push(format!(
                "the folder's own summary says {}, its scenario run by this program {}: the folder was made by another version; the figures here are new",
                format_time(then),
                format_time(now)
            ));
        }
    }
    let mut to_target = rig.clone();
    to_target.stop.at_target = true;
    to_target.stop.after_target_s = 0.0;
    let quick = BurnOptions {
        series: false,
        ..Default::default()
    };
    let nominal = burn(&to_target, &quick, &mut |_| true)
        .map_err(failed)?
        .summary;
    done();
    let samples: Vec<Option<Summary>> = (0..o.samples)
        .into_par_iter()
        .map(|i| {
            let result = burn(&sample_rig(&to_target, i), &quick, &mut |_| true);
            done();
            let summary = result.ok()?.summary;
            (summary.fuel_burnt_kg >= CAUGHT * summary.fuel_fed_kg).then_some(summary)
        })
        .collect();
    let lost = samples.iter().filter(|s| s.is_none()).count();
    if lost > 0 {
        remarks.push(format!(
            "in {lost} of {} samples the fire did not catch or the run failed: they are left out",
            o.samples
        ));
    }
    if !nominal.target_reached {
        remarks.push(format!(
            "the target is not reached in {}",
            format_time(nominal.end_s)
        ));
    }
    let figures: Vec<Figure> = Quantity::ALL
        .into_iter()
        .map(|q| {
            let value = of(q, &nominal);
            if value.is_nan() {
                return Figure::Unknown;
            }
            Figure::Sampled {
                value,
                samples: samples
                    .iter()
                    .map(|s| s.as_ref().map(|s| of(q, s)).filter(|v| !v.is_nan()))
                    .collect(),
            }
        })
        .collect();
    let s = &whole.summary;
    let shown = ComparedEntry {
        label: label.to_owned(),
        title: s.title.clone(),
        sources: vec![given.source.clone()],
        kind: EntryKind::Simulated,
        burns: 1,
        start_temperature_K: level::start_k(rig),
        target_temperature_K: rig.target.temperature_k,
        water_m3: level::water_m3(rig),
        moisture_wet: Some(rig.fuel.moisture_wet),
        figures: Quantity::ALL
            .into_iter()
            .map(|q| {
                let span = figures.get(q.index()).map_or(NOTHING, Figure::span);
                (q, span)
            })
            .collect(),
        target_reached: nominal.target_reached,
        tank_peak_K: s.tank_peak_K,
        boiling_first_s: s.boiling_first_s,
        boiling_total_s: Some(s.boiling_total_s),
        boiling_margin_min_K: s.boiling_margin_min_K,
        visits: None,
        tending_s: None,
        splitting_s: None,
        wood_per_bath_kg: None,
        cords_per_year: None,
        steres_per_year: None,
        corrections,
        remarks,
        curves: curves(&whole),
    };
    Ok(Entry {
        cord_kg: Some(cord_kg(rig)),
        heat_j: nominal.target_reached.then_some(nominal.heat_to_tank_J),
        shown,
        figures,
        text: own.map(|l| l.text),
        audit: None,
        forbidden: left
            .iter()
            .flat_map(|why| {
                let why = format!("{label}: {why}");
                [(Quantity::Time, why.clone()), (Quantity::Wood, why)]
            })
            .collect(),
    })
}

fn cord_kg(rig: &Rig) -> f64 {
    wood::stacked_kg(wood::CORD_M3, rig.fuel.density_kg_m3, rig.fuel.moisture_wet)
}

/// A quantity of a run that ends at its target; what never comes there takes for ever, and wood without end.
fn of(q: Quantity, s: &Summary) -> f64 {
    let known = |v: Option<f64>| v.unwrap_or(f64::NAN);
    match q {
        Quantity::Time => s.time_to_target_s.unwrap_or(f64::INFINITY),
        Quantity::Wood if s.target_reached => s.fuel_fed_kg,
        Quantity::Wood => f64::INFINITY,
        Quantity::EfficiencyNet => known(s.efficiency_net),
        Quantity::EfficiencyGross => known(s.efficiency_gross),
        Quantity::EfficiencyFlat => known(s.efficiency_flat_20MJ_kg),
        Quantity::MeanPower => s.mean_heat_to_tank_W,
        Quantity::PeakOutlet => known(s.coil_outlet_max_K),
        Quantity::StackLoss => known(s.stack_loss_fraction),
        Quantity::Tending => s.trips as f64 / s.end_s.max(1.0) * 3600.0,
    }
}

fn curves(r: &BurnResult) -> CompareCurves {
    let column = |name: &str| r.series.get(name).map(<[f64]>::to_vec).unwrap_or_default();
    let time_s = column("time_s");
    let over = |values: Vec<f64>| match values.is_empty() {
        true => (Vec::new(), Vec::new()),
        false => (time_s.clone(), values),
    };
    CompareCurves {
        tank_k: column("tank_mean_temperature_K"),
        flue: over(column("stack_temperature_K")),
        outlet: over(column("coil_outlet_temperature_K")),
        feeds_s: r
            .events
            .iter()
            .filter(|e| e.kind == EventKind::Feed)
            .map(|e| e.time_s)
            .collect(),
        time_s,
    }
}
