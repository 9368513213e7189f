//! What a fit of a scenario to a log leaves, as plain data.

use serde::{Deserialize, Serialize};

/// One value of the fit. In the scenario's own unit; multipliers have none.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FitValue {
    pub name: String,
    pub path: String,
    pub unit: String,
    /// Asked for; else carried along within its prior.
    pub free: bool,
    pub before: f64,
    pub prior_low: f64,
    pub prior_high: f64,
    pub value: f64,
    /// Eight in ten.
    pub low: f64,
    pub high: f64,
    /// Standard deviation after the fit as a share of the prior's: 1 where the log says nothing.
    pub prior_share: f64,
    /// What noise alone would leave of it; the rest is what the log's parts disagree about.
    pub noise_share: f64,
    /// Place of the estimate in standard deviations of the prior.
    pub deviate: f64,
}

/// How one probe was met. SI.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FitProbe {
    pub name: String,
    pub place: String,
    pub unit: String,
    pub readings: usize,
    /// Spans that the readings were gathered in.
    pub spans: usize,
    pub effective_readings: f64,
    /// Over which residuals hang together.
    pub correlation_s: f64,
    pub spread_before: f64,
    pub spread_after: f64,
    /// Error taken for model and probe together, one standard deviation.
    pub error: f64,
    /// Name, value and eight-in-ten ends of what is not known of the probe.
    pub unknowns: Vec<(String, f64, f64, f64)>,
    /// By how much a bare thermocouple reads off at the hottest gas: middle, low, high.
    pub radiation: Option<[f64; 3]>,
    /// Share of the readings of the fitted part, and of the rest, within the eight-in-ten band.
    pub within_fitted: f64,
    pub within_rest: Option<f64>,
    pub rest_readings: usize,
    /// Share of all readings within the band before the fit.
    pub within_before: f64,
    #[serde(skip)]
    pub curves: FitCurves,
}

/// A probe's readings, model before and after, bands of a reading before and after.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct FitCurves {
    pub time_s: Vec<f64>,
    pub read: Vec<f64>,
    pub before: Vec<f64>,
    pub after: Vec<f64>,
    pub before_low: Vec<f64>,
    pub before_high: Vec<f64>,
    pub after_low: Vec<f64>,
    pub after_high: Vec<f64>,
    pub temperature: bool,
}

/// A measurement that would help.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FitAdvice {
    pub measure: String,
    /// Name, and its prior share with the log and with this measurement besides.
    pub value: String,
    pub share_now: f64,
    pub share_then: f64,
}

/// Everything a fit found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FitReport {
    pub title: String,
    pub log: String,
    pub values: Vec<FitValue>,
    pub probes: Vec<FitProbe>,
    /// Names and matrix of all values, free first.
    pub correlation: Vec<Vec<f64>>,
    pub cannot_tell: Vec<String>,
    pub advice: Vec<FitAdvice>,
    pub said: Vec<String>,
    pub until_s: Option<f64>,
    pub end_s: f64,
    pub rest_within: Option<f64>,
    pub starts: usize,
    pub starts_agreeing: usize,
    pub settled: bool,
    pub burns: usize,
    pub seed: u64,
    /// Path and text of each scenario value after the fit.
    pub sets: Vec<(String, String)>,
}

/// One value of a rehearsal.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RehearsedValue {
    pub name: String,
    /// Within the stated eight-in-ten interval: same model, and finer model with other closures.
    pub within_same: usize,
    pub within_other: usize,
    /// Mean over the repeats.
    pub prior_share: f64,
    /// Mean and spread of (fitted − true) over the stated standard deviation.
    pub bias: f64,
    pub scatter: f64,
}

/// One made-up log and what its fit found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RehearsedLog {
    pub repeat: usize,
    /// Made with finer cells and other closures than the fit uses.
    pub other: bool,
    /// The fire would not burn, whatever was drawn.
    pub fire_died: bool,
    /// True value, fitted value and stated standard deviation of each value asked for, in standard deviations of its
    /// prior; empty where the fire died or the fit failed.
    pub values: Vec<[f64; 3]>,
}

/// A rehearsal: fits of logs whose truth is known.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Rehearsal {
    pub repeats_same: usize,
    pub repeats_other: usize,
    pub failed: usize,
    pub fire_died: usize,
    pub values: Vec<RehearsedValue>,
    /// Share of the stated intervals that hold the true value: all, same model, other model.
    pub within: f64,
    pub within_same: f64,
    pub within_other: f64,
    pub probes: Vec<String>,
}
