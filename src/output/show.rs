//! Numbers as a person reads them: axes in both unit systems, values with their unit, times.

use super::axis::Conversion;
use crate::units::{
    PlotKind, UnitSystem, axis, format_draught, format_energy, format_fraction, format_length,
    format_mass, format_mass_flow, format_power, format_pressure, format_temperature,
    format_temperature_difference, format_time, format_volume, format_volume_flow,
    format_water_flow, significant,
};

pub use crate::units::format_length as length;
pub use crate::units::format_time as duration;

/// The other system of units, for the right-hand axis.
pub fn other(units: UnitSystem) -> UnitSystem {
    match units {
        UnitSystem::Metric => UnitSystem::Us,
        UnitSystem::Us => UnitSystem::Metric,
    }
}

/// Unit as printed on an axis; empty where there is none.
pub fn unit(kind: PlotKind, units: UnitSystem) -> &'static str {
    axis(kind, units).label
}

/// From SI to the drawn unit.
pub fn shown(kind: PlotKind, si: f64, units: UnitSystem) -> f64 {
    (axis(kind, units).to)(si)
}

/// Conversion from the unit drawn in `units` to that of the other system.
pub fn across(kind: PlotKind, units: UnitSystem) -> Conversion {
    // Both axes are affine in the SI value, so two points give the line.
    let (from, to) = (axis(kind, units).to, axis(kind, other(units)).to);
    let (a0, a1) = (from(0.0), from(1.0));
    let (b0, b1) = (to(0.0), to(1.0));
    let factor = (b1 - b0) / (a1 - a0);
    Conversion {
        factor,
        offset: b0 - a0 * factor,
    }
}

/// A value with its unit, in digits that a reader can use ("65.0 °C", "5.02 kW").
pub fn text(kind: PlotKind, si: f64, units: UnitSystem) -> String {
    use PlotKind as P;
    let words = match kind {
        P::Temperature => format_temperature(si, units),
        P::TemperatureDifference => format_temperature_difference(si, units),
        P::Power => format_power(si, units),
        P::Energy => format_energy(si, units),
        P::Mass => format_mass(si, units),
        P::MassFlow => format_mass_flow(si, units),
        P::WaterFlow => format_water_flow(si, units),
        P::VolumeFlow => format_volume_flow(si, units),
        P::Draught => format_draught(si, units),
        P::WaterPressure => format_pressure(si, units),
        P::Length => format_length(si, units),
        P::Volume => format_volume(si, units),
        P::Minutes | P::Hours => format_time(si),
        P::Fraction => format_fraction(si),
        P::Number => significant(si, 3),
    };
    words.replace('-', "−")
}

/// A temperature without needless decimals: "65 °C", "66.5 °C".
pub fn temperature_short(k: f64, units: UnitSystem) -> String {
    text(PlotKind::Temperature, k, units).replace(".0 ", " ")
}

/// "2:41" on the axis of hours and minutes.
pub fn clock(s: f64) -> String {
    let minutes = (s / 60.0).round() as i64;
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_conversion_across_systems() {
        // 0 degC = 32 degF, 100 degC = 212 degF by definition of the scales.
        let c = across(PlotKind::Temperature, UnitSystem::Metric);
        assert!((c.factor - 1.8).abs() < 1e-12 && (c.offset - 32.0).abs() < 1e-9);
        // 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959).
        let c = across(PlotKind::Mass, UnitSystem::Us);
        assert!((c.factor - 0.453_592_37).abs() < 1e-12 && c.offset == 0.0);
    }
}
