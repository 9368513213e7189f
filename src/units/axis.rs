//! Axis helpers for plots: what unit a quantity is drawn in, and how an SI value gets there.

use super::UnitSystem;

/// What an axis shows. Values handed to the axis are in the SI unit named at each variant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PlotKind {
    /// K, absolute
    Temperature,
    /// K
    TemperatureDifference,
    /// W
    Power,
    /// J
    Energy,
    /// kg
    Mass,
    /// kg/s, wood or gas, drawn per hour
    MassFlow,
    /// kg/s of water, drawn as a volume flow at 1 kg/L
    WaterFlow,
    /// m3/s
    VolumeFlow,
    /// Pa, gas side
    Draught,
    /// Pa, water side
    WaterPressure,
    /// m
    Length,
    /// m3
    Volume,
    /// s, drawn in minutes
    Minutes,
    /// s, drawn in hours
    Hours,
    /// 0..1, drawn in per cent
    Fraction,
    /// dimensionless
    Number,
}

/// Unit label of an axis and the map from SI onto it.
#[derive(Debug, Clone, Copy)]
pub struct Axis {
    /// Unit as printed in the axis title; empty where there is none.
    pub label: &'static str,
    /// From SI to the drawn unit; affine and rising.
    pub to: fn(f64) -> f64,
}

/// The axis of a kind in a unit system.
///
/// ```
/// use emberloop::units::{PlotKind, UnitSystem, axis};
/// let a = axis(PlotKind::Temperature, UnitSystem::Us);
/// assert_eq!(a.label, "°F");
/// assert!(((a.to)(273.15) - 32.0).abs() < 1e-9);
/// ```
pub fn axis(kind: PlotKind, sys: UnitSystem) -> Axis {
    use PlotKind as P;
    use UnitSystem::{Metric, Us};
    let (label, to): (&'static str, fn(f64) -> f64) = match (kind, sys) {
        (P::Temperature, Metric) => ("°C", |v| v - 273.15),
        (P::Temperature, Us) => ("°F", |v| v * 1.8 - 459.67),
        (P::TemperatureDifference, Metric) => ("K", |v| v),
        (P::TemperatureDifference, Us) => ("°F", |v| v * 1.8),
        (P::Power, Metric) => ("kW", |v| v * 1e-3),
        (P::Power, Us) => ("kBtu/h", |v| v * 3.6 / 1_055.055_852_62),
        (P::Energy, Metric) => ("MJ", |v| v * 1e-6),
        (P::Energy, Us) => ("kBtu", |v| v * 1e-3 / 1_055.055_852_62),
        (P::Mass, Metric) => ("kg", |v| v),
        (P::Mass, Us) => ("lb", |v| v / 0.453_592_37),
        (P::MassFlow, Metric) => ("kg/h", |v| v * 3600.0),
        (P::MassFlow, Us) => ("lb/h", |v| v * 3600.0 / 0.453_592_37),
        (P::WaterFlow, Metric) => ("L/min", |v| v * 60.0),
        (P::WaterFlow, Us) => ("gpm", |v| v * 0.06 / 3.785_411_784e-3),
        (P::VolumeFlow, Metric) => ("L/min", |v| v * 6e4),
        (P::VolumeFlow, Us) => ("gpm", |v| v * 60.0 / 3.785_411_784e-3),
        (P::Draught, Metric) => ("Pa", |v| v),
        (P::Draught, Us) => ("inH2O", |v| v / 249.088_91),
        (P::WaterPressure, Metric) => ("kPa", |v| v * 1e-3),
        (P::WaterPressure, Us) => ("psi", |v| v / 6_894.757_293_168),
        (P::Length, Metric) => ("m", |v| v),
        (P::Length, Us) => ("ft", |v| v / 0.3048),
        (P::Volume, Metric) => ("L", |v| v * 1e3),
        (P::Volume, Us) => ("US gal", |v| v / 3.785_411_784e-3),
        (P::Minutes, _) => ("min", |v| v / 60.0),
        (P::Hours, _) => ("h", |v| v / 3600.0),
        (P::Fraction, _) => ("%", |v| v * 100.0),
        (P::Number, _) => ("", |v| v),
    };
    Axis { label, to }
}
