//! A season of burns over one growing deposit, as plain data.

use super::Band;
use serde::{Deserialize, Serialize};

/// One burn of the season. SI.
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct SeasonBurn {
    /// From 1.
    pub burn: usize,
    /// Burnt in full; otherwise between two that were.
    pub burnt: bool,
    /// Done before this burn.
    pub coil_cleaned: bool,
    pub flue_swept: bool,
    pub target_reached: bool,
    /// To the same warm water as the first burn with bare surfaces.
    pub time_s: f64,
    pub wood_kg: f64,
    /// More than with bare surfaces.
    pub extra_time_s: f64,
    pub extra_wood_kg: f64,
    /// At the burn's start, as carbon.
    pub coil_deposit_kg: f64,
    pub wall_deposit_kg: f64,
    /// Mean over the most fouled coil at the start.
    pub coil_fouling_m2K_W: f64,
    /// Thickest place of the coils and of the flue at the start.
    pub coil_layer_m: f64,
    pub flue_layer_m: f64,
}

/// Sums over a season.
#[allow(non_snake_case)]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct SeasonTotal {
    pub cleanings: usize,
    pub cleaning_time_s: f64,
    pub time_s: f64,
    pub wood_kg: f64,
    pub extra_time_s: f64,
    pub extra_wood_kg: f64,
}

/// Burns with one habit of cleaning.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct SeasonRun {
    /// None: never.
    pub clean_every: Option<usize>,
    pub burns: Vec<SeasonBurn>,
    pub total: SeasonTotal,
    /// Burns that were integrated; the others lie between them.
    pub burnt_in_full: usize,
}

/// One sample of the band: the season without cleaning with what is uncertain drawn anew.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SeasonSample {
    pub index: usize,
    /// None: the run failed, or the fire died with bare surfaces already.
    pub run: Option<SeasonRun>,
    /// Thickness of its flue's layer over the middle one.
    pub flue_share: f64,
}

/// What a layer looks like to the person with the brush.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LayerKind {
    Bare,
    Powdery,
    Flaky,
    Tarry,
}

impl LayerKind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Bare => "bare",
            Self::Powdery => "powdery",
            Self::Flaky => "flaky",
            Self::Tarry => "tarry",
        }
    }
}

/// One cell of a coil or wall after the last burn of the season without cleaning.
#[allow(non_snake_case)]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LayerCell {
    /// Coil or section.
    pub surface: String,
    pub is_coil: bool,
    pub is_flue: bool,
    /// From 1 in the direction of the gas.
    pub cell: usize,
    pub area_m2: f64,
    pub soot_kg: f64,
    pub tar_kg: f64,
    pub thickness_m: f64,
    pub thickness_low_m: f64,
    pub thickness_high_m: f64,
    /// Share of the tar in the thickness.
    pub tar_thickness_share: f64,
    /// Mean of the surface while the fire burns: in the first burn (bare) and in the last.
    pub surface_bare_K: f64,
    pub surface_last_K: f64,
    /// Share of the first fire's time in which it is below the water dew point of the gas.
    pub wet_share: f64,
    pub tar_share: f64,
    pub kind: LayerKind,
    pub kind_low: LayerKind,
    pub kind_high: LayerKind,
}

/// Ten, fifty and ninety in a hundred samples at each burn of the season without cleaning.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct SeasonBand {
    pub samples: usize,
    /// Samples whose run failed, or whose fire died with bare surfaces already.
    pub left_out: usize,
    pub extra_time_s: Vec<Band>,
    pub extra_wood_kg: Vec<Band>,
    pub season_extra_time_s: Band,
    pub season_extra_wood_kg: Band,
    /// Best interval; no value where cleaning does not pay within the season.
    pub best_interval: Band,
    /// Share of the samples in which it pays.
    pub pays_fraction: f64,
    /// Thickest place of the flue at each burn.
    pub flue_layer_m: Vec<Band>,
    /// Burns until the flue's layer is as thick as where it is swept; no value beyond the season.
    pub sweep_after: Band,
    pub sweep_within_fraction: f64,
}

/// The whole study.
#[allow(non_snake_case)]
#[derive(Debug, Clone, Serialize)]
pub struct SeasonReport {
    pub title: String,
    pub burns: usize,
    /// Costs are of the time to the target; otherwise of the same heat.
    pub to_target: bool,
    pub has_coil: bool,
    pub cleaning_time_s: f64,
    /// What a kilogram of wood is worth, s of work.
    pub wood_worth_s_kg: f64,
    /// Dry wood's solid volume per kilogram as fed, m3.
    pub wood_solid_m3_kg: f64,
    pub bare_time_s: f64,
    pub bare_wood_kg: f64,
    /// Best interval between cleanings in the long run; None where cleaning does not pay within the season.
    pub best_interval: Option<usize>,
    /// sqrt(2 × cleaning / growth), burns: the interval if the cost of a burn grew evenly, as it does up to the best one (or over the first ten
    /// burns). None where it does not grow.
    pub linear_interval: Option<f64>,
    /// Mean cost of a burn in minutes' worth, s, if cleaned every so many burns: interval from 1.
    pub mean_cost_s: Vec<f64>,
    pub never: SeasonRun,
    /// With cleaning: every `--clean-every`, or at the best interval.
    pub cleaned: Option<SeasonRun>,
    pub band: Option<SeasonBand>,
    pub layer: Vec<LayerCell>,
    /// Narrowest clear gap between two tubes of a coil, bare, and the first burn of the season without cleaning that begins with
    /// half of it filled: from there on the model is too kind.
    pub coil_gap_m: Option<f64>,
    pub coil_half_filled_after: Option<usize>,
    pub air_ratio: Option<f64>,
    pub unburnt_fraction: Option<f64>,
    /// Layer at which a flue is swept.
    pub sweep_at_m: f64,
    pub sweep_at_source: String,
    /// First burn that begins with that much in the flue, of the season without cleaning.
    pub sweep_after: Option<usize>,
    /// Thickest place of the flue after the season, and what its deposit would give off, net.
    pub flue_layer_m: Option<f64>,
    pub flue_layer_low_m: Option<f64>,
    pub flue_layer_high_m: Option<f64>,
    pub wall_deposit_J: f64,
    /// Worst residual of all burns: energy, and the masses'.
    pub energy_residual_fraction: f64,
    pub mass_residual_fraction: f64,
}
