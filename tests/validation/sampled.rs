//! Cases whose source leaves things open: sampled over what is ordinary and over the closures, told by median and spread.

use super::check::{Check, Source, Tolerance};
pub use crate::support::series::mean;
use emberloop::analyses::bands::sample_rig;
use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::priors::PRIORS;
use emberloop::components::spec::Rig;
use emberloop::results::BurnResult;
use rayon::prelude::*;

/// Samples per case; more where a case was tried blind, once and for all.
const SAMPLES: usize = 32;
const BLIND_SAMPLES: usize = 64;

/// Share of the wood fed under which a fire has not caught, as the bands of a burn have it.
const CAUGHT: f64 = 0.3;

/// A point of a Latin hypercube: every open quantity takes each of its strata once, in an order of its own; the same on
/// every machine.
#[derive(Clone, Copy)]
pub struct Dice {
    point: usize,
    of: usize,
}

impl Dice {
    /// Place of the point along direction `axis`, between `low` and `high`.
    pub fn between(&self, axis: usize, low: f64, high: f64) -> f64 {
        let mut order: Vec<usize> = (0..self.of).collect();
        // Knuth's 64-bit congruential generator, its upper bits; Fisher and Yates' shuffle.
        let mut state = 0x9E37_79B9_7F4A_7C15u64.wrapping_mul(axis as u64 + 1);
        for i in (1..self.of).rev() {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            order.swap(i, (state >> 33) as usize % (i + 1));
        }
        low + (order[self.point] as f64 + 0.5) / self.of as f64 * (high - low)
    }
}

impl Dice {
    /// The rig with its closures drawn from their priors, as for the bands that `burn` prints; but for the inlet's area,
    /// which each case draws itself or gives by a fan, and for those `held` for the like reason.
    pub fn closures(&self, rig: &Rig, held: &[&str]) -> Rig {
        let (mut drawn, mut own) = (sample_rig(rig, self.point), rig.closures.clone());
        for prior in &PRIORS {
            if prior.name == "inlet_area" || held.contains(&prior.name) {
                *(prior.value)(&mut drawn.closures) = *(prior.value)(&mut own);
            }
        }
        drawn
    }
}

/// Nothing where the fire died: a person would light it again.
pub fn run(rig: &Rig) -> Option<BurnResult> {
    let result = burn(rig, &BurnOptions::default(), &mut |_| true).expect("runs");
    let s = &result.summary;
    (s.fuel_burnt_kg >= CAUGHT * s.fuel_fed_kg).then_some(result)
}

/// Figures of every sample, one list per figure.
pub fn samples<const N: usize>(figures: impl Fn(Dice) -> Option<[f64; N]> + Sync) -> [Vec<f64>; N] {
    samples_of(SAMPLES, figures)
}

/// The same for a case that is tried blind.
pub fn blind<const N: usize>(figures: impl Fn(Dice) -> Option<[f64; N]> + Sync) -> [Vec<f64>; N] {
    samples_of(BLIND_SAMPLES, figures)
}

fn samples_of<const N: usize>(
    of: usize,
    figures: impl Fn(Dice) -> Option<[f64; N]> + Sync,
) -> [Vec<f64>; N] {
    let found: Vec<[f64; N]> = (0..of)
        .into_par_iter()
        .filter_map(|point| figures(Dice { point, of }))
        .collect();
    println!("{} of {of} samples burnt", found.len());
    std::array::from_fn(|k| found.iter().map(|f| f[k]).collect())
}

/// Share `q` of the samples lies below.
fn quantile(sorted: &[f64], q: f64) -> f64 {
    let x = q * (sorted.len() - 1) as f64;
    let i = (x as usize).min(sorted.len() - 2);
    sorted[i] + (x - i as f64) * (sorted[i + 1] - sorted[i])
}

/// A row of the samples' median against what was measured.
pub fn row(
    source: &Source,
    case: impl Into<String>,
    unit: &'static str,
    expected: f64,
    values: &[f64],
    tolerance: Tolerance,
) -> Check {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let case = case.into();
    println!("{case}: {expected} {unit} expected, {sorted:.3?}");
    Check {
        case,
        evidence: source.evidence,
        source: source.source,
        place: source.place,
        unit,
        expected,
        got: quantile(&sorted, 0.5),
        tolerance,
        spread: Some((quantile(&sorted, 0.1), quantile(&sorted, 0.9))),
        gap: None,
    }
}
