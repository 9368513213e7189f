//! What a prediction is worth: quantiles over samples of the closures' priors.

use super::Series;
use serde::Serialize;

/// Tenth, median and nine tenths over the samples; null where so many samples have no such value or never come to it.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Band {
    pub low: Option<f64>,
    pub median: Option<f64>,
    pub high: Option<f64>,
}

/// Bands of one burn. Keys end in their unit; `docs/summary-keys.md` defines each.
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
#[derive(Debug, Clone, Serialize)]
pub struct Bands {
    pub samples: usize,
    /// Samples that could not be run; they are left out.
    pub failed: usize,
    /// Samples whose fire did not catch or went out with most of the wood unburnt, as share of those that ran. A person
    /// would light it again: the quantities below, and the other shares, are those of the rest.
    pub fire_died_fraction: f64,
    pub target_reached_fraction: f64,
    pub boiled_fraction: f64,
    pub time_to_target_s: Band,
    pub fuel_burnt_kg: Band,
    pub efficiency_net: Band,
    pub stack_loss_fraction: Band,
    pub unburnt_fraction: Band,
    pub mean_heat_to_tank_W: Band,
    pub chamber_mean_K: Band,
    pub gas_above_coil_mean_K: Band,
    pub stack_temperature_mean_K: Band,
    pub coil_outlet_max_K: Band,
    pub boiling_margin_min_K: Band,
    /// Mean temperature of the store against time; a sample that has ended stands at its last.
    #[serde(skip)]
    pub tank: TankBand,
}

/// Columns of one length; empty without a store.
#[derive(Debug, Clone, Default)]
pub struct TankBand {
    pub time_s: Vec<f64>,
    pub low_k: Vec<f64>,
    pub median_k: Vec<f64>,
    pub high_k: Vec<f64>,
}

impl Bands {
    /// Samples that the quantities are taken over.
    pub fn used(&self) -> usize {
        let ran = (self.samples - self.failed) as f64;
        (ran * (1.0 - self.fire_died_fraction)).round() as usize
    }
}

impl TankBand {
    /// As a table of `bands.csv`.
    pub fn table(&self) -> Series {
        let names = [
            "time_s",
            "tank_mean_temperature_low_K",
            "tank_mean_temperature_median_K",
            "tank_mean_temperature_high_K",
        ];
        Series {
            names: names.map(String::from).to_vec(),
            columns: [&self.time_s, &self.low_k, &self.median_k, &self.high_k]
                .map(Clone::clone)
                .to_vec(),
        }
    }
}
