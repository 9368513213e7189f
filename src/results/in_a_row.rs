//! Burns in a row over damp walls that dry, as plain data.

use serde::Serialize;

/// One burn. SI.
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct BurnInRow {
    /// From 1.
    pub burn: usize,
    /// In the walls at lighting.
    pub wall_water_kg: f64,
    pub dried_kg: f64,
    pub drying_heat_J: f64,
    /// Of the net energy burnt.
    pub drying_fraction: Option<f64>,
    /// Stored in the walls at the end, over the start.
    pub heat_in_walls_J: f64,
    pub fuel_energy_J: f64,
    pub heat_to_tank_J: f64,
    pub chamber_mean_K: Option<f64>,
    pub stack_temperature_mean_K: Option<f64>,
    pub time_to_target_s: Option<f64>,
    pub energy_residual_fraction: f64,
    /// Worst of all masses.
    pub mass_residual_fraction: f64,
}
