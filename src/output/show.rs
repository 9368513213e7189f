//! Numbers as a person reads them: the unit of each kind of quantity in both systems, and their words.

use super::axis::Conversion;

/// Which units a person wants to read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitSystem {
    Metric,
    Us,
}

impl UnitSystem {
    pub fn other(self) -> Self {
        match self {
            Self::Metric => Self::Us,
            Self::Us => Self::Metric,
        }
    }
}

/// A kind of quantity that is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Temperature,
    TemperatureDifference,
    Power,
    Energy,
    Mass,
    /// Gas flow, per hour.
    GasFlow,
    /// Water flow; 1 kg is taken as 1 L.
    WaterFlow,
    /// Draught: pascal or inches of water column.
    Draught,
    /// Head of the water loop: kilopascal or feet of water.
    Head,
    Length,
    Fraction,
    Plain,
}

impl Kind {
    /// Unit symbol and conversion from SI.
    pub fn unit(self, units: UnitSystem) -> (&'static str, Conversion) {
        use Kind::*;
        use UnitSystem::*;
        let c = |factor: f64| Conversion {
            factor,
            offset: 0.0,
        };
        match (self, units) {
            (Temperature, Metric) => (
                "°C",
                Conversion {
                    factor: 1.0,
                    offset: -273.15,
                },
            ),
            (Temperature, Us) => (
                "°F",
                Conversion {
                    factor: 1.8,
                    offset: -459.67,
                },
            ),
            (TemperatureDifference, Metric) => ("K", c(1.0)),
            (TemperatureDifference, Us) => ("°F", c(1.8)),
            (Power, Metric) => ("kW", c(1e-3)),
            (Power, Us) => ("1000 Btu/h", c(3.412_141_633e-3)),
            (Energy, Metric) => ("MJ", c(1e-6)),
            (Energy, Us) => ("1000 Btu", c(1e-3 / 1055.055_852_62)),
            (Mass, Metric) => ("kg", c(1.0)),
            (Mass, Us) => ("lb", c(1.0 / 0.453_592_37)),
            (GasFlow, Metric) => ("kg/h", c(3600.0)),
            (GasFlow, Us) => ("lb/h", c(3600.0 / 0.453_592_37)),
            (WaterFlow, Metric) => ("L/min", c(60.0)),
            (WaterFlow, Us) => ("US gal/min", c(60.0 / 3.785_411_784)),
            (Draught, Metric) => ("Pa", c(1.0)),
            (Draught, Us) => ("in. water", c(1.0 / 249.088_91)),
            (Head, Metric) => ("kPa", c(1e-3)),
            (Head, Us) => ("ft water", c(1.0 / 2989.066_92)),
            (Length, Metric) => ("m", c(1.0)),
            (Length, Us) => ("ft", c(1.0 / 0.3048)),
            (Fraction, _) => ("%", c(100.0)),
            (Plain, _) => ("", c(1.0)),
        }
    }

    /// From SI to the shown unit.
    pub fn shown(self, si: f64, units: UnitSystem) -> f64 {
        let (_, c) = self.unit(units);
        si * c.factor + c.offset
    }

    /// A value with its unit, about three significant digits ("65 °C", "5.02 kW").
    pub fn text(self, si: f64, units: UnitSystem) -> String {
        let (unit, _) = self.unit(units);
        let v = self.shown(si, units);
        let n = match self {
            Kind::Temperature | Kind::TemperatureDifference => decimals(v, 0),
            Kind::Fraction => decimals(v, usize::from(v.abs() < 10.0)),
            _ => significant(v, 3),
        };
        match unit {
            "" => n,
            "%" => format!("{n} %"),
            _ => format!("{n} {unit}"),
        }
    }
}

/// Conversion from the unit shown in `units` to that of the other system.
pub fn across(kind: Kind, units: UnitSystem) -> Conversion {
    let (_, from) = kind.unit(units);
    let (_, to) = kind.unit(units.other());
    Conversion {
        factor: to.factor / from.factor,
        offset: to.offset - from.offset * to.factor / from.factor,
    }
}

fn decimals(v: f64, n: usize) -> String {
    if !v.is_finite() {
        return "?".into();
    }
    let text = format!("{v:.n$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_string(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

/// `v` to `digits` significant digits, without exponent and without digits below the unit for large values.
pub fn significant(v: f64, digits: i32) -> String {
    if v == 0.0 || !v.is_finite() {
        return decimals(v, 0);
    }
    let after = (digits - 1 - v.abs().log10().floor() as i32).clamp(0, 6);
    decimals(v, after as usize)
}

/// "2 h 41 min", "41 min", "38 s".
pub fn duration(s: f64) -> String {
    if !s.is_finite() {
        return "?".into();
    }
    if s < 59.5 {
        return format!("{s:.0} s");
    }
    let minutes = (s / 60.0).round() as i64;
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m} min"),
        (h, m) => format!("{h} h {m:02} min"),
    }
}

/// "2:41" on the axis of hours and minutes.
pub fn clock(s: f64) -> String {
    let minutes = (s / 60.0).round() as i64;
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

/// A length as it is told: millimetres or metres, inches or feet.
pub fn length(m: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric if m.abs() < 1.0 => format!("{} mm", decimals(m * 1e3, 0)),
        UnitSystem::Metric => format!("{} m", significant(m, 3)),
        UnitSystem::Us if m.abs() < 0.6096 => format!("{} in", significant(m / 0.0254, 3)),
        UnitSystem::Us => format!("{} ft", significant(m / 0.3048, 3)),
    }
}
