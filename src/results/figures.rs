//! The figures of a summary by name: every key that is one number, for tables, targets and pictures.

use super::Summary;

/// A key of the summary that is one number.
#[derive(Debug, Clone, Copy)]
pub struct Figure {
    /// Key as in `summary.json`.
    pub key: &'static str,
    get: fn(&Summary) -> Option<f64>,
}

impl Figure {
    /// Its value in SI; `None` where it did not happen or is no number.
    pub fn of(&self, summary: &Summary) -> Option<f64> {
        (self.get)(summary).filter(|v| v.is_finite())
    }

    /// Its SI unit, empty where it has none.
    pub fn unit(&self) -> &'static str {
        unit(self.key)
    }
}

/// The SI unit that a key's ending names; empty where it names none.
pub fn unit(key: &str) -> &'static str {
    // Longest endings first.
    const ENDINGS: [(&str, &str); 8] = [
        ("_m2K_W", "m2K/W"),
        ("_kg_s", "kg/s"),
        ("_kg", "kg"),
        ("_Pa", "Pa"),
        ("_J", "J"),
        ("_K", "K"),
        ("_W", "W"),
        ("_s", "s"),
    ];
    // Its ending belongs to the 20 MJ/kg that it rests on.
    if key == "efficiency_flat_20MJ_kg" {
        return "";
    }
    ENDINGS
        .iter()
        .find(|(end, _)| key.ends_with(end))
        .map_or("", |(_, unit)| unit)
}

/// The figure of a key.
pub fn find(key: &str) -> Option<&'static Figure> {
    FIGURES.iter().find(|f| f.key == key)
}

/// What a summary holds, as a number; a yes is 1 and a no 0.
trait Number {
    fn number(self) -> Option<f64>;
}

impl Number for f64 {
    fn number(self) -> Option<f64> {
        Some(self)
    }
}

impl Number for Option<f64> {
    fn number(self) -> Option<f64> {
        self
    }
}

impl Number for Option<u64> {
    fn number(self) -> Option<f64> {
        self.map(|n| n as f64)
    }
}

impl Number for u64 {
    fn number(self) -> Option<f64> {
        Some(self as f64)
    }
}

impl Number for bool {
    fn number(self) -> Option<f64> {
        Some(f64::from(u8::from(self)))
    }
}

macro_rules! figures {
    ($($key:ident),* $(,)?) => {
        /// All of them, in the order of the summary; solver counters and lists are none.
        pub const FIGURES: &[Figure] = &[$(Figure { key: stringify!($key), get: |s| s.$key.number() }),*];
    };
}

figures! {
    target_reached, time_to_target_s, end_s, fuel_fed_kg, fuel_burnt_kg, fuel_energy_J, fuel_energy_gross_J, heat_to_tank_J,
    efficiency_net, efficiency_gross, efficiency_flat_20MJ_kg, efficiency_to_target_net, efficiency_net_char_credited,
    efficiency_gross_char_credited, mean_heat_to_tank_W, stack_loss_fraction, stack_latent_fraction,
    stack_loss_short_formula_fraction, stack_loss_while_read_fraction, meter_o2_dry_fraction, meter_co2_dry_fraction,
    meter_stack_temperature_K, unburnt_fraction, unburnt_fraction_low, unburnt_fraction_high, casing_loss_fraction,
    heat_in_walls_J, drying_heat_J, drying_fraction, dried_kg, wall_water_left_kg,
    stack_temperature_mean_K, gas_below_coil_mean_K, gas_above_coil_mean_K, chamber_mean_K, chamber_max_K,
    chamber_shown_mean_K, gas_below_coil_shown_mean_K, gas_above_coil_shown_mean_K, stack_shown_mean_K, coil_outlet_max_K,
    coil_wall_max_K, coil_wall_limit_K, coil_critical_flux_share_max, coil_deposit_kg, flue_deposit_kg, coil_fouling_grown_m2K_W,
    boiling_margin_min_K, boiling_margin_min_s, boiling_margin_min_at_m, relief_lifts, relief_open_s, relief_water_kg,
    relief_steam_kg, wall_boiling_first_s, boiling_first_s, boiling_total_s, steam_total_kg, air_ratio_mean, draught_max_Pa,
    loop_flow_mean_kg_s, heat_to_header_J, header_peak_K, bypass_flow_mean_kg_s, heat_to_drum_J,
    heat_drum_to_coil_J, drum_peak_K, drum_boils_first_s, drum_water_gone_kg, drum_bare_first_s, pressure_peak_Pa, relief_first_s, feeds, trips,
    tank_peak_K, overshoot_K, flue_wall_below_393K_s, flue_wall_below_dew_s, storage_content_rise_J, condensate_kg, pump_energy_J, co_estimate_fraction,
    co_estimate_fraction_low, co_estimate_fraction_high, energy_residual_fraction,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_units_follow_from_the_key() {
        for (key, expected) in [
            ("time_to_target_s", "s"),
            ("loop_flow_mean_kg_s", "kg/s"),
            ("coil_fouling_grown_m2K_W", "m2K/W"),
            ("flue_wall_below_393K_s", "s"),
            ("efficiency_flat_20MJ_kg", ""),
            ("stack_loss_fraction", ""),
            ("trips", ""),
        ] {
            assert_eq!(unit(key), expected, "{key}");
        }
        assert!(find("no_such_key").is_none());
    }
}
