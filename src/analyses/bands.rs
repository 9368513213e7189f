//! Prediction bands: the same burn with the closures drawn from their priors, many times, and the quantiles of what comes out.

use super::burn::{BurnOptions, burn};
use crate::components::priors::PRIORS;
use crate::components::spec::Rig;
use crate::results::{Band, Bands, BurnResult, Summary, TankBand};
use rayon::prelude::*;

/// Seed of the scrambling: the same scenario has the same bands on every machine and any number of threads.
const SEED: u32 = 0x77a7_e12d;
/// A sample takes no part beyond this many: the sequence's length.
pub const MOST_SAMPLES: usize = 1 << 16;

/// Samples under which nothing is said of a tenth.
const LEAST_SAMPLES: usize = 8;
/// Share of the wood fed that must have burnt for the fire to have caught.
const CAUGHT: f64 = 0.3;

/// One sample of a burn.
struct Sample {
    summary: Summary,
    tank_k: Vec<f64>,
}

/// The rig with its closures at sample `i`: Owen-scrambled Sobol points (Burley 2020, J. Comput. Graph. Tech. 9(4)), one
/// dimension a closure, through the quantiles of the priors about the rig's own values.
pub fn sample_rig(rig: &Rig, i: usize) -> Rig {
    let mut rig = rig.clone();
    for (dimension, prior) in PRIORS.iter().enumerate() {
        let u = sample_unit(i, dimension as u32);
        let value = (prior.value)(&mut rig.closures);
        *value = prior.quantile(*value, u.clamp(1e-6, 1.0 - 1e-6));
    }
    rig
}

/// Coordinate of sample `i` in one dimension; those of the closures come first, in the order of [`PRIORS`].
pub(super) fn sample_unit(i: usize, dimension: u32) -> f64 {
    f64::from(sobol_burley::sample(i as u32, dimension, SEED))
}

/// Runs `samples` samples in parallel beside the finished run `base`; `done` hears of each that is ready.
pub fn bands(rig: &Rig, base: &BurnResult, samples: usize, done: &(dyn Fn() + Sync)) -> Bands {
    let options = BurnOptions {
        series: false,
        tank_curve: true,
        ..BurnOptions::default()
    };
    let all: Vec<Option<Sample>> = (0..samples.min(MOST_SAMPLES))
        .into_par_iter()
        .map(|i| {
            let result = burn(&sample_rig(rig, i), &options, &mut |_| true);
            done();
            result.ok().map(|r| Sample {
                summary: r.summary,
                tank_k: r
                    .series
                    .get("tank_mean_temperature_K")
                    .map(<[f64]>::to_vec)
                    .unwrap_or_default(),
            })
        })
        .collect();
    let failed = all.iter().filter(|s| s.is_none()).count();
    let ran: Vec<Sample> = all.into_iter().flatten().collect();
    let ran_count = ran.len();
    let good: Vec<Sample> = ran
        .into_iter()
        .filter(|s| s.summary.fuel_burnt_kg >= CAUGHT * s.summary.fuel_fed_kg)
        .collect();
    let share = |f: fn(&Summary) -> bool| {
        good.iter().filter(|s| f(&s.summary)).count() as f64 / good.len().max(1) as f64
    };
    let enough = good.len() >= LEAST_SAMPLES;
    let over = |f: &dyn Fn(&Summary) -> f64| {
        if enough {
            quantiles(good.iter().map(|s| f(&s.summary)).collect())
        } else {
            Band::default()
        }
    };
    let band = |f: fn(&Summary) -> Option<f64>| over(&|s| f(s).unwrap_or(f64::NAN));
    Bands {
        samples,
        failed,
        fire_died_fraction: (ran_count - good.len()) as f64 / ran_count.max(1) as f64,
        target_reached_fraction: share(|s| s.target_reached),
        boiled_fraction: share(|s| s.boiling_first_s.is_some()),
        // What never gets there takes for ever.
        time_to_target_s: over(&|s| s.time_to_target_s.unwrap_or(f64::INFINITY)),
        fuel_burnt_kg: band(|s| Some(s.fuel_burnt_kg)),
        efficiency_net: band(|s| s.efficiency_net),
        stack_loss_fraction: band(|s| s.stack_loss_fraction),
        unburnt_fraction: band(|s| s.unburnt_fraction),
        mean_heat_to_tank_W: band(|s| Some(s.mean_heat_to_tank_W)),
        chamber_mean_K: band(|s| s.chamber_mean_K),
        gas_above_coil_mean_K: band(|s| s.gas_above_coil_mean_K),
        stack_temperature_mean_K: band(|s| s.stack_temperature_mean_K),
        coil_outlet_max_K: band(|s| s.coil_outlet_max_K),
        boiling_margin_min_K: band(|s| s.boiling_margin_min_K),
        tank: if enough {
            tank_band(rig, base, &good)
        } else {
            TankBand::default()
        },
    }
}

/// The store's band over the time of the run itself.
fn tank_band(rig: &Rig, base: &BurnResult, good: &[Sample]) -> TankBand {
    let interval_s = rig.solver.output_interval_s;
    let mut band = TankBand::default();
    if good.iter().all(|s| s.tank_k.is_empty()) {
        return band;
    }
    for i in 0..=(base.summary.end_s / interval_s) as usize {
        let now = good
            .iter()
            .filter_map(|s| s.tank_k.get(i).or(s.tank_k.last()).copied())
            .collect();
        if let Band {
            low: Some(low),
            median: Some(median),
            high: Some(high),
        } = quantiles(now)
        {
            band.time_s.push(i as f64 * interval_s);
            band.low_k.push(low);
            band.median_k.push(median);
            band.high_k.push(high);
        }
    }
    band
}

/// Tenth, median and nine tenths: linear between the order statistics, (n − 1) p from the least (definition 7 of Hyndman
/// & Fan 1996). Values that are not numbers are left out; infinite ones count, and give no value where they are met.
pub(super) fn quantiles(mut values: Vec<f64>) -> Band {
    values.retain(|v| !v.is_nan());
    values.sort_by(f64::total_cmp);
    let at = |p: f64| {
        let place = p * values.len().checked_sub(1)? as f64;
        let (i, u) = (place as usize, place.fract());
        let low = *values.get(i)?;
        let v = match values.get(i + 1) {
            Some(high) if u > 0.0 => low + (high - low) * u,
            _ => low,
        };
        v.is_finite().then_some(v)
    };
    Band {
        low: at(0.1),
        median: at(0.5),
        high: at(0.9),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_quantiles_of_ten_and_one_numbers() {
        let band = quantiles((0..=10).rev().map(f64::from).collect());
        assert_eq!(
            (band.low, band.median, band.high),
            (Some(1.0), Some(5.0), Some(9.0))
        );
        let band = quantiles(vec![1.0, 2.0]);
        assert_eq!(
            (band.low, band.median, band.high),
            (Some(1.1), Some(1.5), Some(1.9))
        );
        assert_eq!(quantiles(vec![f64::NAN]), Band::default());
        // Two of ten never: the median exists, the slowest tenth does not.
        let mut never: Vec<f64> = (1..=8).map(f64::from).collect();
        never.extend([f64::INFINITY; 2]);
        let band = quantiles(never);
        assert_eq!((band.median, band.high), (Some(5.5), None));
    }
}
