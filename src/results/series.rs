//! Time series: one table, SI, unit suffix in each column name.

use serde::Serialize;

/// Column-major table. Column 0 is `time_s`; all columns have the same length.
///
/// Names end in their unit (`_K`, `_W`, `_kg`, `_kg_s`, `_Pa`, `_fraction`, `_ratio`). Always present:
/// `tank_mean_temperature_K`, `gas_firebox_temperature_K`, `gas_after_<section>_temperature_K` for each section,
/// `stack_temperature_K`, `flue_wall_min_temperature_K`, `stack_loss_fraction`, `air_flow_kg_s`, `air_ratio`,
/// `draught_Pa`, `bed_wood_kg`, `bed_char_kg`, `burn_rate_kg_s`, `firing_rate_W`, `unburnt_W`,
/// `heat_to_coil_W`, `heat_to_tank_W`, `heat_stack_sensible_W`, `heat_stack_latent_W`, `heat_casing_W`,
/// `heat_into_walls_W`, `heat_pipe_loss_W`, `heat_vessel_loss_W`, `flue_o2_dry_fraction`, `flue_co2_dry_fraction`,
/// `flue_gas_dew_point_K`; `shown_<place>_temperature_K`, what a bare thermometer shows in `firebox` and `stack`, and what it sees of
/// its surroundings by radiation, `seen_<place>_temperature_K`.
/// With a coil: `gas_below_coil_temperature_K`, `gas_above_coil_temperature_K`, `shown_` and `seen_` of both, `loop_flow_kg_s`,
/// `coil_inlet_temperature_K`, `coil_outlet_temperature_K`, `coil_wall_max_temperature_K`, `coil_fouling_grown_m2K_W`, `boiling_point_K`,
/// `boiling_margin_K`, `steam_kg_s`. With a layered vessel: `tank_layer_<i>_temperature_K`, 1 at the bottom.
/// With a bypass: `bypass_flow_kg_s`, `header_mean_temperature_K`, `header_top_temperature_K`, `heat_to_header_W`,
/// `heat_header_loss_W`. With a drum: `drum_mean_temperature_K`, `drum_max_temperature_K`, `drum_water_kg`, `heat_to_drum_W`,
/// `heat_drum_to_coil_W`, `heat_drum_loss_W`. With a closed store: `loop_pressure_Pa`, over the air's, at the store's top.
/// With damp walls: `heat_drying_W`, `wall_water_kg`.
/// With controls: `damper_fraction`, `air_inlet_fraction`, `pump_setting` (0 stopped, 1.. settings).
#[derive(Debug, Clone, Default, Serialize)]
pub struct Series {
    pub names: Vec<String>,
    pub columns: Vec<Vec<f64>>,
}

impl Series {
    /// An empty table with these columns.
    pub fn with_names(names: Vec<String>) -> Self {
        let columns = names.iter().map(|_| Vec::new()).collect();
        Self { names, columns }
    }

    /// Column by name.
    pub fn get(&self, name: &str) -> Option<&[f64]> {
        self.names
            .iter()
            .position(|n| n == name)
            .map(|i| self.columns[i].as_slice())
    }

    /// Appends one row; `row` is as long as `names`.
    pub fn push(&mut self, row: &[f64]) {
        debug_assert_eq!(row.len(), self.columns.len());
        for (c, &v) in self.columns.iter_mut().zip(row) {
            c.push(v);
        }
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.columns.first().map_or(0, Vec::len)
    }
}
