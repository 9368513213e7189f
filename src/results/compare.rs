//! What a comparison of runs and measured burns leaves, as plain data.

use serde::Serialize;

/// What is compared. The order is that of the tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// s from lighting to the target.
    Time,
    /// kg put in up to the target.
    Wood,
    EfficiencyNet,
    EfficiencyGross,
    #[serde(rename = "efficiency_flat_20MJ_kg")]
    EfficiencyFlat,
    /// W into the tank.
    MeanPower,
    /// K, hottest water at the coil's outlet.
    PeakOutlet,
    /// Share of the wood's net energy.
    StackLoss,
    /// Visits to the stove per hour.
    Tending,
}

impl Quantity {
    pub const ALL: [Quantity; 9] = [
        Quantity::Time,
        Quantity::Wood,
        Quantity::EfficiencyNet,
        Quantity::EfficiencyGross,
        Quantity::EfficiencyFlat,
        Quantity::MeanPower,
        Quantity::PeakOutlet,
        Quantity::StackLoss,
        Quantity::Tending,
    ];

    /// Place in [`Quantity::ALL`] and in lists of values.
    pub fn index(self) -> usize {
        self as usize
    }

    pub fn name(self) -> &'static str {
        match self {
            Self::Time => "time to the target",
            Self::Wood => "wood put in",
            Self::EfficiencyNet => "efficiency, net",
            Self::EfficiencyGross => "efficiency, gross",
            Self::EfficiencyFlat => "efficiency, flat 20 MJ/kg",
            Self::MeanPower => "mean power into the tank",
            Self::PeakOutlet => "hottest coil outlet",
            Self::StackLoss => "stack loss, of net",
            Self::Tending => "visits an hour",
        }
    }

    /// Words for more and for less of it.
    pub fn words(self) -> [&'static str; 2] {
        match self {
            Self::Time => ["slower by", "faster by"],
            Self::Wood => ["more wood by", "less wood by"],
            Self::MeanPower => ["stronger by", "weaker by"],
            Self::PeakOutlet => ["hotter by", "cooler by"],
            _ => ["higher by", "lower by"],
        }
    }
}

/// A figure with the ends of the interval that holds it in 95 of 100; `None`: no such figure, or no end.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Span {
    pub value: Option<f64>,
    pub low: Option<f64>,
    pub high: Option<f64>,
}

/// Where the figures of an entry come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum EntryKind {
    Simulated,
    Measured,
}

/// One of the things compared.
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
#[derive(Debug, Clone, Serialize)]
pub struct ComparedEntry {
    pub label: String,
    pub title: String,
    /// Files as they were named.
    pub sources: Vec<String>,
    pub kind: EntryKind,
    /// Measured burns of the same rig that the figures are the mean of.
    pub burns: usize,
    pub start_temperature_K: Option<f64>,
    pub target_temperature_K: f64,
    pub water_m3: Option<f64>,
    pub moisture_wet: Option<f64>,
    /// In the order of [`Quantity::ALL`].
    pub figures: Vec<(Quantity, Span)>,
    pub target_reached: bool,
    /// Warmest mean of the tank.
    pub tank_peak_K: Option<f64>,
    pub boiling_first_s: Option<f64>,
    pub boiling_total_s: Option<f64>,
    pub boiling_margin_min_K: Option<f64>,
    pub visits: Option<f64>,
    pub tending_s: Option<f64>,
    pub splitting_s: Option<f64>,
    pub wood_per_bath_kg: Option<f64>,
    pub cords_per_year: Option<f64>,
    pub steres_per_year: Option<f64>,
    /// What was done so that the burns can be set side by side.
    pub corrections: Vec<String>,
    pub remarks: Vec<String>,
    #[serde(skip)]
    pub curves: CompareCurves,
}

/// Curves for the pictures, times from lighting.
#[derive(Debug, Clone, Default)]
pub struct CompareCurves {
    pub time_s: Vec<f64>,
    pub tank_k: Vec<f64>,
    pub flue: (Vec<f64>, Vec<f64>),
    pub outlet: (Vec<f64>, Vec<f64>),
    pub feeds_s: Vec<f64>,
}

/// What can be said of a difference.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Verdict {
    #[serde(rename = "differs")]
    Differs,
    #[serde(rename = "the same")]
    Same,
    #[serde(rename = "cannot tell")]
    CannotTell,
    #[serde(rename = "no figure")]
    NoFigure,
}

/// The second less the first.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Difference {
    pub quantity: Quantity,
    pub difference: Span,
    pub verdict: Verdict,
    /// The same interval without what makes it narrower (shared samples) or wider (scatter from burn to burn).
    pub otherwise: Option<Span>,
    pub reasons: Vec<String>,
}

/// One entry against the first.
#[derive(Debug, Clone, Serialize)]
pub struct ComparedPair {
    pub first: String,
    pub second: String,
    /// What differs between the two, in words.
    pub changed: String,
    /// How the uncertainty was reckoned.
    pub method: String,
    pub differences: Vec<Difference>,
    /// In this share of the common samples only the first, or only the second, comes to the target.
    pub only_first_fraction: Option<f64>,
    pub only_second_fraction: Option<f64>,
}

/// A whole comparison.
#[derive(Debug, Clone, Serialize)]
pub struct Comparison {
    pub entries: Vec<ComparedEntry>,
    pub pairs: Vec<ComparedPair>,
    /// Samples of the closures behind simulated figures.
    pub samples: usize,
    /// Figures taken for want of better ones, with the reason.
    pub assumed: Vec<String>,
}
