//! Typed readers: text to `uom` quantities, for the edges of the program.

use super::{Kind, UnitError, parse};
use uom::si;
use uom::si::f64::{
    Area, AvailableEnergy, Energy, HeatCapacity, HeatTransfer, Length, Mass, MassDensity, MassRate,
    Power, Pressure, Ratio, SpecificHeatCapacity, TemperatureInterval, ThermalConductance,
    ThermalConductivity, ThermodynamicTemperature, Time, Velocity, Volume, VolumeRate,
};

macro_rules! reader {
    ($(#[$doc:meta])* $name:ident, $kind:ident, $quantity:ty, $unit:ty) => {
        $(#[$doc])*
        ///
        /// # Errors
        /// [`UnitError`] where the text is no such quantity.
        pub fn $name(text: &str) -> Result<$quantity, UnitError> {
            parse(Kind::$kind, text).map(|p| <$quantity>::new::<$unit>(p.si))
        }
    };
}

reader!(
    /// A length: `"1 ft 2 in"`, `"150 mm"`, `"3/4 in"`.
    parse_length, Length, Length, si::length::meter
);
reader!(
    /// An area: `"195 cm2"`.
    parse_area, Area, Area, si::area::square_meter
);
reader!(
    /// A volume: `"200 L"`, `"55 US gal"`.
    parse_volume, Volume, Volume, si::volume::cubic_meter
);
reader!(
    /// A mass: `"12 lb"`, `"1 lb 8 oz"`.
    parse_mass, Mass, Mass, si::mass::kilogram
);
reader!(
    /// An absolute temperature: `"50 degF"`, `"20 °C"`, `"323 K"`.
    parse_temperature,
    Temperature,
    ThermodynamicTemperature,
    si::thermodynamic_temperature::kelvin
);
reader!(
    /// A temperature difference: `"10 K"`, `"18 degF"`.
    parse_temperature_difference,
    TemperatureDifference,
    TemperatureInterval,
    si::temperature_interval::kelvin
);
reader!(
    /// A time: `"90 s"`, `"1 h 30 min"`.
    parse_time, Time, Time, si::time::second
);
reader!(
    /// A volume flow: `"3 gpm"`, `"12 l/min"`.
    parse_volume_flow,
    VolumeFlow,
    VolumeRate,
    si::volume_rate::cubic_meter_per_second
);
reader!(
    /// A mass flow: `"0.1 kg/s"`.
    parse_mass_flow,
    MassFlow,
    MassRate,
    si::mass_rate::kilogram_per_second
);
reader!(
    /// A power: `"18 W"`, `"100000 Btu/h"`.
    parse_power, Power, Power, si::power::watt
);
reader!(
    /// An energy: `"1.0 MJ"`, `"2 kWh"`.
    parse_energy, Energy, Energy, si::energy::joule
);
reader!(
    /// A pressure: `"12 kPa"`, `"0.05 inH2O"`.
    parse_pressure, Pressure, Pressure, si::pressure::pascal
);
reader!(
    /// A speed: `"1 m/s"`, `"5 mph"`.
    parse_speed, Speed, Velocity, si::velocity::meter_per_second
);
reader!(
    /// A density: `"680 kg/m3"`.
    parse_density,
    Density,
    MassDensity,
    si::mass_density::kilogram_per_cubic_meter
);
reader!(
    /// A specific heat: `"900 J/kgK"`.
    parse_specific_heat,
    SpecificHeat,
    SpecificHeatCapacity,
    si::specific_heat_capacity::joule_per_kilogram_kelvin
);
reader!(
    /// A heat capacity: `"3.6 MJ/K"`.
    parse_heat_capacity,
    HeatCapacity,
    HeatCapacity,
    si::heat_capacity::joule_per_kelvin
);
reader!(
    /// A thermal conductivity: `"0.12 W/mK"`.
    parse_conductivity,
    Conductivity,
    ThermalConductivity,
    si::thermal_conductivity::watt_per_meter_kelvin
);
reader!(
    /// A conductance: `"4 W/K"`.
    parse_conductance,
    Conductance,
    ThermalConductance,
    si::thermal_conductance::watt_per_kelvin
);
reader!(
    /// A conductance per area: `"1.5 W/m2K"`.
    parse_conductance_per_area,
    ConductancePerArea,
    HeatTransfer,
    si::heat_transfer::watt_per_square_meter_kelvin
);
reader!(
    /// A heating value: `"19.1 MJ/kg"`, `"8200 Btu/lb"`.
    parse_heating_value,
    HeatingValue,
    AvailableEnergy,
    si::available_energy::joule_per_kilogram
);
reader!(
    /// A share: `"18 %"`, `"0.18"`.
    parse_fraction, Fraction, Ratio, si::ratio::ratio
);

/// A flow of water, by volume or by mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Flow {
    Volume(VolumeRate),
    Mass(MassRate),
}

/// A flow by volume (`"3 gpm"`) or by mass (`"0.1 kg/s"`).
///
/// # Errors
/// [`UnitError`] where the text is neither.
pub fn parse_flow(text: &str) -> Result<Flow, UnitError> {
    match parse_volume_flow(text) {
        Ok(v) => Ok(Flow::Volume(v)),
        Err(e) => parse_mass_flow(text).map(Flow::Mass).map_err(|_| e),
    }
}

/// A plain number without a unit.
///
/// # Errors
/// [`UnitError`] where the text is no number or carries a unit.
pub fn parse_number(text: &str) -> Result<f64, UnitError> {
    parse(Kind::Number, text).map(|p| p.si)
}
