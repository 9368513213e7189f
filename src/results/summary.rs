//! The numbers of one burn. Field names are the keys of `summary.json`; `docs/summary-keys.md` defines each.

use serde::Serialize;

/// Counters of the integration: a slowdown shows here without timing noise.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct SolverCounters {
    pub steps: u64,
    pub right_hand_sides: u64,
    pub rejected: u64,
    pub segments: u64,
}

/// A finding that the person should know; counted, worst case kept.
#[derive(Debug, Clone, Serialize)]
pub struct Warning {
    /// Stable code, e.g. `W0203`; `emberloop explain W0203` says more.
    pub code: String,
    pub text: String,
    pub first_s: f64,
    /// Worst value, in SI, with its unit in `worst_unit`.
    pub worst: f64,
    pub worst_unit: String,
    /// When and where it was worst, as far as that can be told.
    pub worst_s: Option<f64>,
    pub place: Option<String>,
}

/// A burst ends a run.
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Burst {
    pub at_s: f64,
    /// At the store's top, over the air's.
    pub pressure_Pa: f64,
    /// Water in the loop, most of what can come out.
    pub water_kg: f64,
    /// Share of it that flashes as the pressure falls to the air's.
    pub steam_kg: f64,
}

/// A default that the scenario left unset.
#[derive(Debug, Clone, Serialize)]
pub struct Echo {
    pub path: String,
    pub value: String,
    pub reason: String,
}

/// A layer of a wall that was given water.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LayerMoisture {
    /// Path in the scenario, e.g. `firebox.wall[0]`.
    pub layer: String,
    /// kg per kg dry, mean of the layer.
    pub at_lighting_fraction: f64,
    pub left_fraction: f64,
}

/// SI; `None` (JSON null) where it did not happen.
/// Means run from lighting to target, or to the end where the target was not reached.
#[allow(non_snake_case)] // the keys carry their units as the symbols are written
#[derive(Debug, Clone, Serialize)]
pub struct Summary {
    pub title: String,
    pub target_reached: bool,
    pub time_to_target_s: Option<f64>,
    pub end_s: f64,
    pub fuel_fed_kg: f64,
    pub fuel_burnt_kg: f64,
    /// Net energy of the fuel fed.
    pub fuel_energy_J: f64,
    pub fuel_energy_gross_J: f64,
    pub heat_to_tank_J: f64,
    pub efficiency_net: Option<f64>,
    pub efficiency_gross: Option<f64>,
    pub efficiency_flat_20MJ_kg: Option<f64>,
    pub efficiency_to_target_net: Option<f64>,
    /// As `efficiency_net`, the energy of wood and char left credited.
    pub efficiency_net_char_credited: Option<f64>,
    pub efficiency_gross_char_credited: Option<f64>,
    pub mean_heat_to_tank_W: f64,
    pub stack_loss_fraction: Option<f64>,
    pub stack_latent_fraction: Option<f64>,
    /// What a flue-gas meter would find (Siegert-type short formula with the wood's own constants), weighted with the fire
    /// over the moments in which one could be read (O2 at most 19 %).
    pub stack_loss_short_formula_fraction: Option<f64>,
    /// The exact loss of those moments.
    pub stack_loss_while_read_fraction: Option<f64>,
    /// Means over their time; CO2 from O2, as meters do it.
    pub meter_o2_dry_fraction: Option<f64>,
    pub meter_co2_dry_fraction: Option<f64>,
    pub meter_stack_temperature_K: Option<f64>,
    pub unburnt_fraction: Option<f64>,
    /// Ends of its band: prior ranges of mixing, burn-out and repetition, combined in quadrature.
    pub unburnt_fraction_low: Option<f64>,
    pub unburnt_fraction_high: Option<f64>,
    pub casing_loss_fraction: Option<f64>,
    /// Over the start, what their water holds with them.
    pub heat_in_walls_J: f64,
    /// Damp walls: heat that left with the vapour, over liquid water at 25 °C; also of the net energy burnt.
    pub drying_heat_J: Option<f64>,
    pub drying_fraction: Option<f64>,
    pub dried_kg: Option<f64>,
    pub wall_water_left_kg: Option<f64>,
    pub wall_moisture: Vec<LayerMoisture>,
    pub stack_temperature_mean_K: Option<f64>,
    pub gas_below_coil_mean_K: Option<f64>,
    pub gas_above_coil_mean_K: Option<f64>,
    pub chamber_mean_K: Option<f64>,
    pub chamber_max_K: f64,
    /// What a bare thermometer shows there (`thermometer` of the scenario), means.
    pub chamber_shown_mean_K: Option<f64>,
    pub gas_below_coil_shown_mean_K: Option<f64>,
    pub gas_above_coil_shown_mean_K: Option<f64>,
    pub stack_shown_mean_K: Option<f64>,
    pub coil_outlet_max_K: Option<f64>,
    pub coil_wall_max_K: Option<f64>,
    pub coil_wall_limit_K: Option<f64>,
    /// Largest heat flux through the coil's wall over the critical flux of standing water at its pressure (Zuber).
    pub coil_critical_flux_share_max: Option<f64>,
    pub coil_deposit_kg: Option<f64>,
    /// Soot and tar that settled on the walls from the coil on, as carbon.
    pub flue_deposit_kg: Option<f64>,
    pub coil_fouling_grown_m2K_W: Option<f64>,
    pub boiling_margin_min_K: Option<f64>,
    /// When, and how far along the coils' tube from the end where the water enters.
    pub boiling_margin_min_s: Option<f64>,
    pub boiling_margin_min_at_m: Option<f64>,
    pub wall_boiling_first_s: Option<f64>,
    pub boiling_first_s: Option<f64>,
    pub boiling_total_s: f64,
    pub steam_total_kg: f64,
    pub air_ratio_mean: Option<f64>,
    pub draught_max_Pa: f64,
    pub loop_flow_mean_kg_s: Option<f64>,
    /// Net enthalpy through the ports of the bypass's header.
    pub heat_to_header_J: Option<f64>,
    pub header_peak_K: Option<f64>,
    pub bypass_flow_mean_kg_s: Option<f64>,
    /// Drum between fire and coil: through the walls in its water, and from it into the coil.
    pub heat_to_drum_J: Option<f64>,
    pub heat_drum_to_coil_J: Option<f64>,
    pub drum_peak_K: Option<f64>,
    pub drum_boils_first_s: Option<f64>,
    /// Boiled off and evaporated.
    pub drum_water_gone_kg: Option<f64>,
    /// A tenth of the walls in its water has come out of it.
    pub drum_bare_first_s: Option<f64>,
    /// Closed loop: highest pressure at the store's top over the air's.
    pub pressure_peak_Pa: Option<f64>,
    /// The relief valve lifts for the first time.
    pub relief_first_s: Option<f64>,
    pub relief_lifts: Option<u64>,
    pub relief_open_s: Option<f64>,
    /// Let out by it.
    pub relief_water_kg: Option<f64>,
    pub relief_steam_kg: Option<f64>,
    /// Something burst, and the run ended there.
    pub burst: Option<Burst>,
    pub feeds: u64,
    /// Visits to the stove: lighting, feeds and hand-made control moves, those within one minute counted once.
    pub trips: u64,
    pub tank_peak_K: Option<f64>,
    pub overshoot_K: Option<f64>,
    pub flue_wall_below_393K_s: f64,
    pub storage_content_rise_J: f64,
    /// Condensate of the flue gas on cold turns.
    pub condensate_kg: f64,
    /// Time for which the flue's coldest wall stood below the gas's dew point while the fire burnt.
    pub flue_wall_below_dew_s: f64,
    /// Electrical energy of pumps.
    pub pump_energy_J: f64,
    /// CO in the dry flue gas, mean: an estimate, never a safety figure.
    pub co_estimate_fraction: Option<f64>,
    /// Ends of its band.
    pub co_estimate_fraction_low: Option<f64>,
    pub co_estimate_fraction_high: Option<f64>,
    pub energy_residual_fraction: f64,
    pub solver: SolverCounters,
    pub warnings: Vec<Warning>,
}
