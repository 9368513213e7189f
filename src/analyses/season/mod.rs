//! Fouling over a season: the deposit that one burn leaves is where the next begins. What that costs, when cleaning the coil
//! pays, and what gathers in the flue.

mod interval;
mod layer;
mod one;
mod walk;

pub use interval::{best_interval, linear_interval, mean_costs};
pub use layer::{kind, thickness_m};

use super::bands::{quantiles, sample_rig, sample_unit};
use super::burn::RunError;
use crate::components::spec::{CoilForm, Rig};
use crate::network::{CHAR_J_KG, HARDENED_K_RHO};
use crate::properties::limits::CAUTIONS;
use crate::results::{Band, SeasonBand, SeasonBurn, SeasonReport, SeasonRun, SeasonSample};
use layer::thickest_m;
use rayon::prelude::*;
use siphasher::sip128::{Hasher128, SipHasher13};
use std::hash::Hasher;
use walk::{Habit, Walked, walk};

/// How a season is lived.
#[derive(Debug, Clone)]
pub struct SeasonOptions {
    pub burns: usize,
    /// None: at the best interval.
    pub clean_every: Option<usize>,
    pub sweep_every: Option<usize>,
    /// Work of one cleaning.
    pub cleaning_s: f64,
    /// Work that a kilogram of wood as fed has taken.
    pub wood_worth_s_kg: f64,
    /// Samples of the band; 0: none.
    pub samples: usize,
    /// Every burn in full, none between.
    pub all: bool,
}

impl Default for SeasonOptions {
    fn default() -> Self {
        Self {
            burns: 120,
            clean_every: None,
            sweep_every: None,
            cleaning_s: 1800.0,
            wood_worth_s_kg: 60.0,
            samples: 0,
            all: false,
        }
    }
}

/// What a progress display hears.
#[derive(Debug, Clone, Copy)]
pub enum Heard<'a> {
    /// A burn of the season without cleaning, in order.
    Never(&'a SeasonBurn),
    /// A burn of the season with cleaning.
    Cleaned(&'a SeasonBurn),
    Sample(&'a SeasonSample),
}

/// Tar hardens between burns within this factor of its middle either way (from memory, an order of magnitude in all).
const HARDENING: f64 = 3.0;
/// Share of the wood fed that must have burnt for the fire to have caught.
const CAUGHT: f64 = 0.3;
/// Samples under which nothing is said of a tenth.
const LEAST_SAMPLES: usize = 8;

/// Extra cost of each burn in seconds of work: time at the fire and the wood's worth.
fn extra_costs(run: &SeasonRun, o: &SeasonOptions) -> Vec<f64> {
    run.burns
        .iter()
        .map(|b| b.extra_time_s + o.wood_worth_s_kg * b.extra_wood_kg)
        .collect()
}

/// Figure of caution: where a flue is swept, m, and whose word that is.
fn sweep_at() -> (f64, String) {
    CAUTIONS
        .iter()
        .find(|c| c.key == "sweep")
        .map_or((0.003, String::new()), |c| {
            (1e-3 * c.value, c.source.into())
        })
}

/// Narrowest clear gap between two tubes of the coils on which a layer grows, m.
fn coil_gap_m(rig: &Rig) -> Option<f64> {
    let gaps = rig.coils.iter().filter_map(|c| match c.form {
        CoilForm::Helix { pitch_m, .. } | CoilForm::Serpentine { pitch_m } => {
            Some(pitch_m - c.tube_outside_m)
        }
        CoilForm::Around { .. }
        | CoilForm::Chamber { .. }
        | CoilForm::Jacket { .. }
        | CoilForm::Submerged { .. } => None,
    });
    // Turns that touch have no gap to fill.
    gaps.filter(|g| *g > 1e-4).reduce(f64::min)
}

/// The first burn that begins with a layer of `at_m`, where each burn's is `share` times the middle one.
fn reaches(run: &SeasonRun, at_m: f64, share: f64) -> Option<usize> {
    let b = run.burns.iter().find(|b| share * b.flue_layer_m >= at_m)?;
    Some(b.burn)
}

/// Stands for the season of a scenario's text: two with the same one have the same samples.
pub fn fingerprint(scenario: &str, o: &SeasonOptions) -> String {
    let mut hash = SipHasher13::new();
    let habits = format!("{}/{:?}/{}", o.burns, o.sweep_every, o.all);
    for text in [env!("CARGO_PKG_VERSION"), scenario, &habits] {
        hash.write_usize(text.len());
        hash.write(text.as_bytes());
    }
    let h = hash.finish128();
    format!("{:016x}{:016x}", h.h1, h.h2)
}

/// Burns the season without cleaning (walls dry), finds the best interval, burns it with cleaning, and samples what is uncertain, but for the samples
/// that are `known` from a season with the same [`fingerprint`].
///
/// # Errors
/// See [`RunError`], of the scenario's own burns; a sample that fails is counted.
pub fn season(
    rig: &Rig,
    o: &SeasonOptions,
    known: &[SeasonSample],
    hear: &(dyn Fn(Heard) + Sync),
) -> Result<SeasonReport, RunError> {
    // Its first weeks have dried it.
    let rig = &rig.with_dry_walls();
    let habit = Habit {
        clean_every: None,
        tar_k_rho: HARDENED_K_RHO,
    };
    let never = walk(rig, o, habit, &mut |b| hear(Heard::Never(b)))?;
    let last = one::one(
        rig,
        &crate::network::Carried {
            kg: never.kg.clone(),
            tar_k_rho: HARDENED_K_RHO,
            ..crate::network::Carried::default()
        },
        true,
    )?;
    let extra_s = extra_costs(&never.run, o);
    let mean_cost_s = mean_costs(o.cleaning_s, &extra_s);
    let has_coil = never.first.surfaces.iter().any(|s| s.is_coil);
    let best = best_interval(&mean_cost_s).filter(|_| has_coil);
    let linear = linear_interval(o.cleaning_s, &extra_s, best.unwrap_or(10)).filter(|_| has_coil);
    let gap_m = coil_gap_m(rig);
    let clean_every = o.clean_every.or(best).filter(|_| has_coil);
    let cleaned = clean_every
        .map(|n| {
            let habit = Habit {
                clean_every: Some(n),
                ..habit
            };
            walk(rig, o, habit, &mut |b| hear(Heard::Cleaned(b)))
        })
        .transpose()?;
    let (sweep_at_m, sweep_at_source) = sweep_at();
    let band = (o.samples > 0).then(|| band(rig, o, sweep_at_m, known, hear));
    let flue = thickest_m(&never.first.surfaces, &never.kg, |s| s.is_flue);
    let on_walls: f64 = never
        .first
        .surfaces
        .iter()
        .filter(|s| s.is_flue)
        .map(|s| never.kg[s.first..s.first + 2 * s.cells].iter().sum::<f64>())
        .sum();
    let worst = |of: fn(&Walked) -> f64| of(&never).max(cleaned.as_ref().map_or(0.0, of));
    let s = &never.first.summary;
    Ok(SeasonReport {
        title: rig.title.clone(),
        burns: o.burns,
        to_target: never.first.target_reached,
        has_coil,
        cleaning_time_s: o.cleaning_s,
        wood_worth_s_kg: o.wood_worth_s_kg,
        wood_solid_m3_kg: (1.0 - rig.fuel.moisture_wet) / rig.fuel.density_kg_m3,
        bare_time_s: never.run.burns.first().map_or(0.0, |b| b.time_s),
        bare_wood_kg: never.run.burns.first().map_or(0.0, |b| b.wood_kg),
        best_interval: best,
        linear_interval: linear,
        coil_gap_m: gap_m,
        coil_half_filled_after: gap_m.and_then(|gap| {
            let full = |b: &&SeasonBurn| 2.0 * b.coil_layer_m >= 0.5 * gap;
            never.run.burns.iter().find(full).map(|b| b.burn)
        }),
        mean_cost_s,
        layer: layer::map(&never.kg, &never.first, &last),
        air_ratio: s.air_ratio_mean,
        unburnt_fraction: s.unburnt_fraction,
        sweep_at_m,
        sweep_at_source,
        sweep_after: reaches(&never.run, sweep_at_m, 1.0),
        flue_layer_m: flue.map(|t| t[1]),
        flue_layer_low_m: flue.map(|t| t[0]),
        flue_layer_high_m: flue.map(|t| t[2]),
        wall_deposit_J: CHAR_J_KG * on_walls,
        energy_residual_fraction: worst(|w| w.energy_residual),
        mass_residual_fraction: worst(|w| w.mass_residual),
        never: never.run,
        cleaned: cleaned.map(|w| w.run),
        band,
    })
}

/// Sample `i`: the season without cleaning with everything uncertain drawn from its prior: closures, hardening of tar, density of the layer.
fn sample(rig: &Rig, o: &SeasonOptions, i: usize) -> SeasonSample {
    let dimension = crate::components::priors::PRIORS.len() as u32;
    let [hard, dense] = [0, 1].map(|d| sample_unit(i, dimension + d));
    let habit = Habit {
        clean_every: None,
        tar_k_rho: HARDENED_K_RHO * HARDENING.powf(2.0 * hard - 1.0),
    };
    let walked = walk(&sample_rig(rig, i), o, habit, &mut |_| ())
        .ok()
        .filter(|w| w.first.summary.fuel_burnt_kg >= CAUGHT * w.first.summary.fuel_fed_kg);
    SeasonSample {
        index: i,
        // Between the thinnest and the thickest that the same mass can be.
        flue_share: walked
            .as_ref()
            .and_then(|w| thickest_m(&w.first.surfaces, &w.kg, |s| s.is_flue))
            .map_or(1.0, |t| t[0] / t[1] * (t[2] / t[0]).powf(dense)),
        run: walked.map(|w| w.run),
    }
}

/// Quantiles over all samples.
fn band(
    rig: &Rig,
    o: &SeasonOptions,
    sweep_at_m: f64,
    known: &[SeasonSample],
    hear: &(dyn Fn(Heard) + Sync),
) -> SeasonBand {
    let runs: Vec<SeasonSample> = (0..o.samples)
        .into_par_iter()
        .map(|i| {
            let s = match known.iter().find(|s| s.index == i) {
                Some(s) => s.clone(),
                None => sample(rig, o, i),
            };
            hear(Heard::Sample(&s));
            s
        })
        .collect();
    let good: Vec<(SeasonRun, f64)> = runs
        .into_iter()
        .filter_map(|s| Some((s.run?, s.flue_share)))
        .collect();
    let mut b = SeasonBand {
        samples: o.samples,
        left_out: o.samples - good.len(),
        ..SeasonBand::default()
    };
    if good.len() < LEAST_SAMPLES {
        return b;
    }
    let over = |f: &dyn Fn(&SeasonRun, f64) -> f64| -> Band {
        quantiles(good.iter().map(|(r, share)| f(r, *share)).collect())
    };
    let count = |n: Option<usize>| n.map_or(f64::INFINITY, |n| n as f64);
    let best = |r: &SeasonRun| best_interval(&mean_costs(o.cleaning_s, &extra_costs(r, o)));
    let fraction = |yes: &dyn Fn(&SeasonRun, f64) -> bool| {
        good.iter().filter(|(r, s)| yes(r, *s)).count() as f64 / good.len() as f64
    };
    let at = |of: fn(&SeasonBurn) -> f64| -> Vec<Band> {
        (0..o.burns)
            .map(|i| over(&|r, _| r.burns.get(i).map_or(f64::NAN, of)))
            .collect()
    };
    b.extra_time_s = at(|b| b.extra_time_s);
    b.extra_wood_kg = at(|b| b.extra_wood_kg);
    b.flue_layer_m = (0..o.burns)
        .map(|i| over(&|r, share| r.burns.get(i).map_or(f64::NAN, |b| share * b.flue_layer_m)))
        .collect();
    b.season_extra_time_s = over(&|r, _| r.total.extra_time_s);
    b.season_extra_wood_kg = over(&|r, _| r.total.extra_wood_kg);
    b.best_interval = over(&|r, _| count(best(r)));
    b.pays_fraction = fraction(&|r, _| best(r).is_some());
    b.sweep_after = over(&|r, share| count(reaches(r, sweep_at_m, share)));
    b.sweep_within_fraction = fraction(&|r, share| reaches(r, sweep_at_m, share).is_some());
    b
}
