//! The kinds of quantity that a person may write, with the words and examples that messages use.

use std::fmt;

/// Kind of a quantity. Values inside the program are in the SI unit named at each variant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// m
    Length,
    /// m2
    Area,
    /// m3
    Volume,
    /// kg
    Mass,
    /// K, absolute
    Temperature,
    /// K, a difference
    TemperatureDifference,
    /// s
    Time,
    /// m3/s
    VolumeFlow,
    /// kg/s
    MassFlow,
    /// W
    Power,
    /// J
    Energy,
    /// Pa
    Pressure,
    /// m/s
    Speed,
    /// kg/m3
    Density,
    /// J/(kg K)
    SpecificHeat,
    /// J/K
    HeatCapacity,
    /// J/(m K)
    HeatCapacityPerLength,
    /// W/(m K), of a material
    Conductivity,
    /// W/K
    Conductance,
    /// W/(m K), of a pipe per metre of its length
    ConductancePerLength,
    /// W/(m2 K)
    ConductancePerArea,
    /// m2 K/W
    ThermalResistance,
    /// J/kg
    HeatingValue,
    /// 1/m
    PerLength,
    /// 1; "18 %" or "0.18"
    Fraction,
    /// 1; a plain number
    Number,
}

impl Kind {
    /// Every kind, for tables and tests.
    pub const ALL: [Kind; 26] = [
        Kind::Length,
        Kind::Area,
        Kind::Volume,
        Kind::Mass,
        Kind::Temperature,
        Kind::TemperatureDifference,
        Kind::Time,
        Kind::VolumeFlow,
        Kind::MassFlow,
        Kind::Power,
        Kind::Energy,
        Kind::Pressure,
        Kind::Speed,
        Kind::Density,
        Kind::SpecificHeat,
        Kind::HeatCapacity,
        Kind::HeatCapacityPerLength,
        Kind::Conductivity,
        Kind::Conductance,
        Kind::ConductancePerLength,
        Kind::ConductancePerArea,
        Kind::ThermalResistance,
        Kind::HeatingValue,
        Kind::PerLength,
        Kind::Fraction,
        Kind::Number,
    ];

    /// Noun for messages, without article.
    pub const fn noun(self) -> &'static str {
        match self {
            Kind::Length => "length",
            Kind::Area => "area",
            Kind::Volume => "volume",
            Kind::Mass => "mass",
            Kind::Temperature => "temperature",
            Kind::TemperatureDifference => "temperature difference",
            Kind::Time => "time",
            Kind::VolumeFlow => "volume flow",
            Kind::MassFlow => "mass flow",
            Kind::Power => "power",
            Kind::Energy => "energy",
            Kind::Pressure => "pressure",
            Kind::Speed => "speed",
            Kind::Density => "density",
            Kind::SpecificHeat => "specific heat",
            Kind::HeatCapacity => "heat capacity",
            Kind::HeatCapacityPerLength => "heat capacity per length",
            Kind::Conductivity => "thermal conductivity",
            Kind::Conductance => "conductance",
            Kind::ConductancePerLength => "conductance per length",
            Kind::ConductancePerArea => "conductance per area",
            Kind::ThermalResistance => "thermal resistance",
            Kind::HeatingValue => "heating value",
            Kind::PerLength => "number per length",
            Kind::Fraction => "share",
            Kind::Number => "plain number",
        }
    }

    /// Stable word for schemas and machine output.
    pub const fn word(self) -> &'static str {
        match self {
            Kind::Length => "length",
            Kind::Area => "area",
            Kind::Volume => "volume",
            Kind::Mass => "mass",
            Kind::Temperature => "temperature",
            Kind::TemperatureDifference => "temperature_difference",
            Kind::Time => "time",
            Kind::VolumeFlow => "volume_flow",
            Kind::MassFlow => "mass_flow",
            Kind::Power => "power",
            Kind::Energy => "energy",
            Kind::Pressure => "pressure",
            Kind::Speed => "speed",
            Kind::Density => "density",
            Kind::SpecificHeat => "specific_heat",
            Kind::HeatCapacity => "heat_capacity",
            Kind::HeatCapacityPerLength => "heat_capacity_per_length",
            Kind::Conductivity => "conductivity",
            Kind::Conductance => "conductance",
            Kind::ConductancePerLength => "conductance_per_length",
            Kind::ConductancePerArea => "conductance_per_area",
            Kind::ThermalResistance => "thermal_resistance",
            Kind::HeatingValue => "heating_value",
            Kind::PerLength => "per_length",
            Kind::Fraction => "fraction",
            Kind::Number => "number",
        }
    }

    /// The kind behind [`Kind::word`].
    pub fn from_word(word: &str) -> Option<Kind> {
        Kind::ALL.into_iter().find(|k| k.word() == word)
    }

    /// Noun with its article.
    pub fn a_noun(self) -> String {
        let noun = self.noun();
        let article = if noun.starts_with(['a', 'e', 'i', 'o', 'u']) {
            "an"
        } else {
            "a"
        };
        format!("{article} {noun}")
    }

    /// Units worth naming to a person, metric first.
    pub const fn usual_units(self) -> &'static str {
        match self {
            Kind::Length => "mm, cm, m, in, ft",
            Kind::Area => "cm2, m2, in2, ft2",
            Kind::Volume => "L, m3, US gal, imp gal, ft3",
            Kind::Mass => "g, kg, oz, lb",
            Kind::Temperature => "degC, degF, K",
            Kind::TemperatureDifference => "K, degC, degF",
            Kind::Time => "s, min, h, d",
            Kind::VolumeFlow => "L/min, L/s, m3/h, gpm",
            Kind::MassFlow => "kg/s, kg/h, lb/h",
            Kind::Power => "W, kW, Btu/h",
            Kind::Energy => "J, kJ, MJ, kWh, Btu",
            Kind::Pressure => "Pa, kPa, bar, psi, inH2O, ftH2O, mH2O",
            Kind::Speed => "m/s, km/h, ft/s, mph",
            Kind::Density => "kg/m3, kg/L, lb/ft3",
            Kind::SpecificHeat => "J/kgK, kJ/kgK, Btu/lbF",
            Kind::HeatCapacity => "J/K, kJ/K, MJ/K, Btu/F",
            Kind::HeatCapacityPerLength => "J/mK, kJ/mK, Btu/ftF",
            Kind::Conductivity => "W/mK, Btu/hftF, Btu in/hft2F",
            Kind::Conductance => "W/K, Btu/hF",
            Kind::ConductancePerLength => "W/mK, Btu/hftF",
            Kind::ConductancePerArea => "W/m2K, Btu/hft2F",
            Kind::ThermalResistance => "m2K/W, hft2F/Btu",
            Kind::HeatingValue => "MJ/kg, kWh/kg, Btu/lb",
            Kind::PerLength => "1/m, 1/ft",
            Kind::Fraction => "%, or none for a number from 0 to 1",
            Kind::Number => "none",
        }
    }

    /// One or two well-written values.
    pub const fn examples(self) -> &'static str {
        match self {
            Kind::Length => "\"150 mm\", \"1 ft 2 in\", \"3/4 in\"",
            Kind::Area => "\"195 cm2\", \"30 in2\"",
            Kind::Volume => "\"200 L\", \"55 US gal\"",
            Kind::Mass => "\"0.7 kg\", \"1 lb 8 oz\"",
            Kind::Temperature => "\"65 degC\", \"150 degF\"",
            Kind::TemperatureDifference => "\"10 K\", \"18 degF\"",
            Kind::Time => "\"90 s\", \"20 min\", \"1 h 30 min\"",
            Kind::VolumeFlow => "\"8 L/min\", \"2 gpm\"",
            Kind::MassFlow => "\"0.1 kg/s\", \"13 lb/min\"",
            Kind::Power => "\"18 W\", \"20000 Btu/h\"",
            Kind::Energy => "\"1.0 MJ\", \"950 Btu\"",
            Kind::Pressure => "\"12 kPa\", \"0.05 inH2O\"",
            Kind::Speed => "\"1 m/s\", \"5 mph\"",
            Kind::Density => "\"680 kg/m3\", \"42 lb/ft3\"",
            Kind::SpecificHeat => "\"900 J/kgK\", \"0.21 Btu/lbF\"",
            Kind::HeatCapacity => "\"3.6 MJ/K\", \"1900 Btu/F\"",
            Kind::HeatCapacityPerLength => "\"300 J/mK\", \"0.05 Btu/ftF\"",
            Kind::Conductivity => "\"0.12 W/mK\", \"0.07 Btu/hftF\"",
            Kind::Conductance => "\"4 W/K\", \"7.6 Btu/hF\"",
            Kind::ConductancePerLength => "\"0.5 W/mK\", \"0.3 Btu/hftF\"",
            Kind::ConductancePerArea => "\"1.5 W/m2K\", \"0.26 Btu/hft2F\"",
            Kind::ThermalResistance => "\"0.002 m2K/W\", \"0.011 hft2F/Btu\"",
            Kind::HeatingValue => "\"19.1 MJ/kg\", \"8200 Btu/lb\"",
            Kind::PerLength => "\"1.2 1/m\"",
            Kind::Fraction => "\"18 %\", \"0.18\"",
            Kind::Number => "1.5",
        }
    }

    /// Kinds that may be written as a chain of falling units ("1 ft 2 in").
    pub(super) const fn chains(self) -> bool {
        matches!(self, Kind::Length | Kind::Time | Kind::Mass)
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.noun())
    }
}
