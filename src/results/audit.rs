//! What an audit of a measured burn leaves, as plain data.

use serde::{Deserialize, Serialize};

/// A quantity with its uncertainty. SI.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    pub value: f64,
    /// Combined standard uncertainty.
    pub standard: f64,
    /// Half the interval that holds the value in 95 of 100.
    pub expanded: f64,
}

/// One row of an uncertainty budget.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BudgetLine {
    pub name: String,
    pub value: f64,
    pub unit: String,
    pub standard: f64,
    /// Change of the result per unit of the input.
    pub sensitivity: f64,
    pub contribution: f64,
    /// `null`: infinitely many.
    pub degrees_of_freedom: Option<f64>,
    pub source: String,
}

/// The budget of one result.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AuditBudget {
    pub of: String,
    pub result: Measured,
    pub degrees_of_freedom: Option<f64>,
    pub coverage_factor: f64,
    pub lines: Vec<BudgetLine>,
}

/// A probe's readings for the picture.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AuditCurve {
    pub name: String,
    pub role: String,
    pub time_s: Vec<f64>,
    #[serde(rename = "value_K")]
    pub value_k: Vec<f64>,
}

/// A suspect span.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AuditFlag {
    pub kind: String,
    pub channel: String,
    pub first_line: usize,
    pub last_line: usize,
    pub first_s: f64,
    pub last_s: f64,
    pub readings: usize,
    pub reason: String,
    pub left_out: bool,
}

/// Another way to the same heat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SourceRow {
    pub name: String,
    /// Useful heat per primary (source) energy.
    pub source_efficiency: f64,
    pub source_low: f64,
    pub source_high: f64,
    /// Cost of this burn's heat, in the currency given.
    pub cost: Option<f64>,
}

/// An act with its time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AuditEvent {
    pub time_s: f64,
    pub kind: String,
    pub text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_kg: Option<f64>,
}

/// Everything an audit found. SI; times from lighting.
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Audit {
    pub title: String,
    pub log: String,
    pub rows: usize,
    pub step_s: f64,
    pub begin_s: f64,
    pub end_s: f64,
    pub start_temperature_K: f64,
    pub end_temperature_K: f64,
    pub tank_probes: usize,
    /// Where the moment of lighting comes from: stated, noted, first feed, first row.
    pub lighting: String,
    pub water_m3: f64,
    /// Heat capacity of the tank's metal.
    pub metal_J_K: f64,
    pub species: String,
    pub moisture_wet: f64,
    /// Nobody stated it.
    pub moisture_assumed: bool,
    pub heat_to_tank_J: Option<Measured>,
    pub heat_lost_meanwhile_J: Option<f64>,
    /// Draws within the account: s from lighting, J.
    pub draws: Vec<(f64, f64)>,
    pub heat_evaporated_J: Option<f64>,
    /// Not counted as heat into the tank.
    pub pipe_loss_J: Option<f64>,
    pub pipe_loss_low_J: Option<f64>,
    pub pipe_loss_high_J: Option<f64>,
    pub pipe_hold_J: Option<f64>,
    pub pipe_how: String,
    pub heat_by_flow_J: Option<f64>,
    pub mean_power_W: Option<Measured>,
    pub peak_power_W: Option<f64>,
    pub peak_power_at_s: Option<f64>,
    pub smoothing_s: f64,
    pub fuel_kg: Option<f64>,
    pub fuel_after_end_kg: f64,
    pub net_heating_value_J_kg: Option<f64>,
    pub fuel_energy_net_J: Option<f64>,
    pub fuel_energy_gross_J: Option<f64>,
    pub efficiency_net: Option<Measured>,
    pub efficiency_gross: Option<Measured>,
    pub efficiency_flat_20MJ_kg: Option<Measured>,
    pub efficiency_net_char_credited: Option<Measured>,
    pub stack_loss_fraction: Option<f64>,
    pub stack_loss_low: Option<f64>,
    pub stack_loss_high: Option<f64>,
    pub stack_loss_how: String,
    pub flue_temperature_mean_K: Option<f64>,
    pub char_left_J: Option<f64>,
    pub char_left_low_J: Option<f64>,
    pub char_left_high_J: Option<f64>,
    pub walls_hold_J: Option<f64>,
    pub walls_hold_low_J: Option<f64>,
    pub walls_hold_high_J: Option<f64>,
    pub extra_energy_J: Option<f64>,
    pub extra: Vec<(String, f64)>,
    pub coil_outlet_max_K: Option<f64>,
    pub feeds: usize,
    pub tending_actions: usize,
    pub tending_per_hour: f64,
    pub sources: Vec<SourceRow>,
    pub currency: String,
    pub wood_cost: Option<f64>,
    pub wood_per_bath_kg: Option<f64>,
    pub cords_per_year: Option<f64>,
    pub steres_per_year: Option<f64>,
    pub burns_per_year: f64,
    pub budgets: Vec<AuditBudget>,
    pub flags: Vec<AuditFlag>,
    pub events: Vec<AuditEvent>,
    /// Figures that nobody gave, with the value taken and why.
    pub assumed: Vec<(String, String, String)>,
    /// How the log was read.
    pub decisions: Vec<String>,
    pub questions: Vec<String>,
    pub remarks: Vec<String>,
    #[serde(skip)]
    pub curves: Vec<AuditCurve>,
    #[serde(skip)]
    pub heat_time_s: Vec<f64>,
    #[serde(skip)]
    pub tank_mean_k: Vec<f64>,
    #[serde(skip)]
    pub heat_j: Vec<f64>,
    #[serde(skip)]
    pub power_w: Vec<f64>,
}
