//! What a battery of faults gives: one entry a fault, the worst of it first. SI; times of a fault count from its moment.

use super::{Burst, Series};
use serde::Serialize;

/// Whether a fault could be tried.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FaultStatus {
    Ran,
    /// This rig cannot have it; the reason.
    DoesNotApply(String),
    /// The model cannot tell; the reason.
    NotModelled(String),
    /// The run ended in an error.
    Failed(String),
}

/// A limit that was met.
#[derive(Debug, Clone, Serialize)]
pub struct LimitMet {
    pub key: String,
    /// Plain words: "water boils in the coil".
    pub what: String,
    pub after_s: f64,
    /// 1 caution, 2 hot water or steam where it should not be, 3 damage or danger to people, 4 over-pressure.
    pub severity: u8,
}

/// Something that a person may do about it.
#[derive(Debug, Clone, Serialize)]
pub struct Remedy {
    /// "switch the pump on again, to its highest setting"
    pub what: String,
    /// Seconds after the fault at which it was done.
    pub at_s: f64,
    /// Seconds from then until no water boils and no wall is over its limit any more; `None`: not within the time tried.
    pub stops_after_s: Option<f64>,
    pub tried_for_s: f64,
}

#[derive(Debug, Clone, Serialize)]
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
pub struct FaultReport {
    pub key: String,
    pub name: String,
    pub status: FaultStatus,
    /// How the model takes it, and what that leaves out.
    pub how: String,
    /// Moment of the burn that was found worst; none for a fault of the whole burn.
    pub worst_at_s: Option<f64>,
    pub moments_tried: usize,
    /// By time.
    pub limits: Vec<LimitMet>,
    /// Highest of `limits`; 0: no limit reached in this model.
    pub severity: u8,
    /// Severity times urgency (4 within a minute, 3 within five, 2 within half an hour, 1 later): what the table is ordered by.
    pub rank: u8,
    pub boiling_after_s: Option<f64>,
    pub steam_peak_kg_s: f64,
    /// Largest heat into the coil after the fault.
    pub coil_heat_peak_W: f64,
    /// That heat as steam at the relief setting.
    pub relief_needed_kg_h: Option<f64>,
    /// Bore of a hole that passes it (EN ISO 4126-1, discharge 0.7).
    pub relief_bore_m: Option<f64>,
    /// Of a closed store's relief valve since the fault: how often it lifted, what it let out.
    pub relief_lifts: Option<u64>,
    pub relief_water_kg: Option<f64>,
    pub relief_steam_kg: Option<f64>,
    /// Something burst, and the run ended there; `at_s` counts from lighting.
    pub burst: Option<Burst>,
    pub pressure_peak_Pa: Option<f64>,
    pub pressure_rate_Pa_K: Option<f64>,
    pub pressure_rate_Pa_s: Option<f64>,
    pub outlet_max_K: Option<f64>,
    pub outlet_scald_s: Option<f64>,
    pub tap_max_K: Option<f64>,
    pub tap_scald_s: Option<f64>,
    pub coil_wall_max_K: Option<f64>,
    pub outside_max_K: f64,
    pub outside_place: String,
    pub flow_min_kg_s: Option<f64>,
    pub remedies: Vec<Remedy>,
    /// Further findings in plain words.
    pub findings: Vec<String>,
    pub energy_residual_fraction: f64,
    pub series: Series,
}

/// How much longer a coil becomes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Growth {
    pub coil: String,
    pub length_m: f64,
    pub grows_m: f64,
}

/// Two metals that the water joins.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct Couple {
    pub places: [String; 2],
    pub metals: [String; 2],
    /// Difference in the series; two ends where stainless steel may be active or passive.
    pub low_V: f64,
    pub high_V: f64,
    /// Large enough that such a pair is usually parted.
    pub part: bool,
}

#[derive(Debug, Clone, Serialize)]
#[allow(non_snake_case)]
pub struct HazardReport {
    pub title: String,
    /// Moments of the burn at which faults were tried, and the longest time between two.
    pub moments: usize,
    pub moment_gap_s: f64,
    /// Followed this long after the fault.
    pub followed_s: f64,
    /// Over the air's: what relief figures refer to; of the scenario where it has one.
    pub relief_set_Pa: f64,
    pub relief_set_from: String,
    pub relief_fitted_kg_h: Option<f64>,
    /// Each coil from 10 to 100 degC.
    pub growths: Vec<Growth>,
    /// Pairs of different metals in the loop's water.
    pub couples: Vec<Couple>,
    /// The burn itself bursts, without any fault.
    pub base_burst: Option<Burst>,
    pub faults: Vec<FaultReport>,
    pub left_out: Vec<String>,
}

impl HazardReport {
    /// Faults whose run ended in an error.
    pub fn failed(&self) -> usize {
        self.faults
            .iter()
            .filter(|f| matches!(f.status, FaultStatus::Failed(_)))
            .count()
    }
}
