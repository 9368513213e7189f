//! Printing: SI values as text in the person's units, with digits that a reader can use.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// In which units a person reads results.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum UnitSystem {
    #[default]
    Metric,
    /// US customary: °F, ft, lb, US gal, Btu.
    Us,
}

impl fmt::Display for UnitSystem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            UnitSystem::Metric => "metric",
            UnitSystem::Us => "us",
        })
    }
}

impl FromStr for UnitSystem {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        match text.trim().to_lowercase().as_str() {
            "metric" | "si" => Ok(UnitSystem::Metric),
            "us" => Ok(UnitSystem::Us),
            _ => Err(format!("\"{text}\" is no unit system; write metric or us")),
        }
    }
}

use UnitSystem::{Metric, Us};

const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 0.3048;
const POUND_KG: f64 = 0.453_592_37;
const US_GALLON_M3: f64 = 3.785_411_784e-3;
const BTU_J: f64 = 1_055.055_852_62;
const PSI_PA: f64 = 6_894.757_293_168;
const INCH_WATER_PA: f64 = 249.088_91;

/// `value` rounded to `digits` significant digits, without exponent, integers kept whole.
pub fn significant(value: f64, digits: u32) -> String {
    if !value.is_finite() {
        return "n/a".into();
    }
    if value == 0.0 {
        return "0".into();
    }
    let magnitude = value.abs().log10().floor() as i32;
    let decimals = digits as i32 - 1 - magnitude;
    if decimals >= 0 {
        let text = format!("{value:.*}", decimals.min(12) as usize);
        // Rounding may have added a digit (9.996 to 10.00).
        let shorter = text
            .parse::<f64>()
            .map_or(magnitude, |v| v.abs().log10().floor() as i32);
        if value != 0.0 && shorter > magnitude && decimals > 0 {
            return format!("{value:.*}", (decimals - 1).min(12) as usize);
        }
        text
    } else {
        let step = 10f64.powi(-decimals);
        format!("{:.0}", (value / step).round() * step)
    }
}

/// Fixed decimals, "-0" avoided.
fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "n/a".into();
    }
    let text = format!("{value:.decimals$}");
    if text.starts_with('-') && text.parse::<f64>() == Ok(0.0) {
        text[1..].to_owned()
    } else {
        text
    }
}

/// Absolute temperature from kelvin: `"65.0 °C"`, `"149 °F"`; whole degrees from 100 on.
pub fn format_temperature(k: f64, sys: UnitSystem) -> String {
    let (v, unit) = match sys {
        Metric => (k - 273.15, "°C"),
        Us => (k * 1.8 - 459.67, "°F"),
    };
    format!("{} {unit}", fixed(v, usize::from(v.abs() < 99.95)))
}

/// Temperature difference from kelvin: `"8.2 K"`, `"14.8 °F"`.
pub fn format_temperature_difference(k: f64, sys: UnitSystem) -> String {
    let (v, unit) = match sys {
        Metric => (k, "K"),
        Us => (k * 1.8, "°F"),
    };
    format!("{} {unit}", fixed(v, usize::from(v.abs() < 99.95)))
}

/// Length from metres: `"150 mm"`, `"9.10 m"`; `"5.91 in"`, `"29.9 ft"`.
pub fn format_length(m: f64, sys: UnitSystem) -> String {
    match sys {
        Metric if m.abs() < 0.9995 => format!("{} mm", significant(m * 1e3, 3)),
        Metric => format!("{} m", significant(m, 3)),
        Us if m.abs() < FOOT_M * 2.0 => format!("{} in", significant(m / INCH_M, 3)),
        Us => format!("{} ft", significant(m / FOOT_M, 3)),
    }
}

/// Area from square metres: `"195 cm2"`, `"2.01 m2"`; `"30.2 in2"`, `"21.6 ft2"`.
pub fn format_area(m2: f64, sys: UnitSystem) -> String {
    match sys {
        Metric if m2.abs() < 0.0995 => format!("{} cm²", significant(m2 * 1e4, 3)),
        Metric => format!("{} m²", significant(m2, 3)),
        Us if m2.abs() < 0.0929 => format!("{} in²", significant(m2 / (INCH_M * INCH_M), 3)),
        Us => format!("{} ft²", significant(m2 / (FOOT_M * FOOT_M), 3)),
    }
}

/// Volume from cubic metres: `"200 L"`, `"52.8 US gal"`.
pub fn format_volume(m3: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} L", significant(m3 * 1e3, 3)),
        Us => format!("{} US gal", significant(m3 / US_GALLON_M3, 3)),
    }
}

/// Mass from kilograms: `"0.70 kg"`, `"1.54 lb"`.
pub fn format_mass(kg: f64, sys: UnitSystem) -> String {
    let (v, unit) = match sys {
        Metric => (kg, "kg"),
        Us => (kg / POUND_KG, "lb"),
    };
    if v.abs() < 9.995 {
        format!("{} {unit}", fixed(v, 2))
    } else {
        format!("{} {unit}", significant(v, 3))
    }
}

/// Volume flow from m3/s: `"7.60 L/min"`, `"2.01 gpm"`.
pub fn format_volume_flow(m3_s: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} L/min", significant(m3_s * 6e4, 3)),
        Us => format!("{} gpm", significant(m3_s * 60.0 / US_GALLON_M3, 3)),
    }
}

/// Flow of water from kg/s, printed as a volume at 1 kg/L: `"7.60 L/min"`, `"2.01 gpm"`.
pub fn format_water_flow(kg_s: f64, sys: UnitSystem) -> String {
    format_volume_flow(kg_s / 1000.0, sys)
}

/// Mass flow from kg/s per hour, as wood and air are told: `"4.20 kg/h"`, `"9.26 lb/h"`.
pub fn format_mass_flow(kg_s: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} kg/h", significant(kg_s * 3600.0, 3)),
        Us => format!("{} lb/h", significant(kg_s * 3600.0 / POUND_KG, 3)),
    }
}

/// Power from watts: `"18 W"`, `"5.01 kW"`; `"17100 Btu/h"`.
pub fn format_power(w: f64, sys: UnitSystem) -> String {
    match sys {
        Metric if w.abs() < 999.5 => format!("{} W", fixed(w, 0)),
        Metric => format!("{} kW", significant(w / 1e3, 3)),
        Us => format!("{} Btu/h", significant(w * 3600.0 / BTU_J, 3)),
    }
}

/// Energy from joules: `"51.3 MJ"`, `"850 kJ"`; `"48600 Btu"`.
pub fn format_energy(j: f64, sys: UnitSystem) -> String {
    match sys {
        Metric if j.abs() < 999.5e3 => format!("{} kJ", significant(j / 1e3, 3)),
        Metric => format!("{} MJ", significant(j / 1e6, 3)),
        Us => format!("{} Btu", significant(j / BTU_J, 3)),
    }
}

/// Draught from pascals: `"9.4 Pa"`, `"0.038 inH2O"`.
pub fn format_draught(pa: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} Pa", fixed(pa, 1)),
        Us => format!("{} inH2O", fixed(pa / INCH_WATER_PA, 3)),
    }
}

/// Pressure of water or of a pump from pascals: `"12.0 kPa"`, `"1.74 psi"`.
pub fn format_pressure(pa: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} kPa", significant(pa / 1e3, 3)),
        Us => format!("{} psi", significant(pa / PSI_PA, 3)),
    }
}

/// Speed from m/s: `"1.0 m/s"`, `"2.2 mph"`.
pub fn format_speed(m_s: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} m/s", fixed(m_s, 1)),
        Us => format!("{} mph", fixed(m_s / 0.447_04, 1)),
    }
}

/// Share from 0 to 1: `"18 %"`, `"3.2 %"`.
pub fn format_fraction(share: f64) -> String {
    let v = share * 100.0;
    format!("{} %", fixed(v, usize::from(v.abs() < 9.95)))
}

/// Conductance from W/K: `"4.00 W/K"`, `"7.58 Btu/hF"`.
pub fn format_conductance(w_k: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} W/K", significant(w_k, 3)),
        Us => format!("{} Btu/hF", significant(w_k * 3600.0 / BTU_J / 1.8, 3)),
    }
}

/// Heating value from J/kg: `"18.9 MJ/kg"`, `"8130 Btu/lb"`.
pub fn format_heating_value(j_kg: f64, sys: UnitSystem) -> String {
    match sys {
        Metric => format!("{} MJ/kg", significant(j_kg / 1e6, 3)),
        Us => format!("{} Btu/lb", significant(j_kg / BTU_J * POUND_KG, 3)),
    }
}

/// Time from seconds: `"45 s"`, `"4 min 20 s"`, `"14 min"`, `"2 h 14 min"`.
pub fn format_time(s: f64) -> String {
    if !s.is_finite() {
        return "n/a".into();
    }
    let sign = if s <= -0.5 { "-" } else { "" };
    let t = s.abs();
    if t < 9.95 && t.fract() > 1e-9 {
        return format!("{sign}{} s", fixed(t, 1));
    }
    let whole = t.round();
    if whole < 60.0 {
        return format!("{sign}{whole:.0} s");
    }
    if whole < 600.0 {
        let (m, r) = ((whole / 60.0).floor(), whole % 60.0);
        return if r == 0.0 {
            format!("{sign}{m:.0} min")
        } else {
            format!("{sign}{m:.0} min {r:.0} s")
        };
    }
    let minutes = (t / 60.0).round();
    if minutes < 60.0 {
        return format!("{sign}{minutes:.0} min");
    }
    let (h, m) = ((minutes / 60.0).floor(), minutes % 60.0);
    if m == 0.0 {
        format!("{sign}{h:.0} h")
    } else {
        format!("{sign}{h:.0} h {m:.0} min")
    }
}
