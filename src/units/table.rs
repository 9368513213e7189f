//! Unit names and their factors to SI.
//!
//! Factors are the exact definitions of NIST SP 811 (2008), appendix B, built up from
//! inch = 25.4 mm, pound = 0.453 592 37 kg, US gallon = 231 in3, imperial gallon = 4.546 09 L,
//! Btu (International Table) = 1055.055 852 62 J, standard gravity 9.806 65 m/s2.
//! Columns of water are at the conventional 1000 kg/m3.

use super::Kind;

const INCH: f64 = 0.0254;
const FOOT: f64 = 12.0 * INCH;
const POUND: f64 = 0.453_592_37;
const US_GALLON: f64 = 231.0 * INCH * INCH * INCH;
const IMPERIAL_GALLON: f64 = 4.546_09e-3;
const BTU: f64 = 1_055.055_852_62;
const CALORIE: f64 = 4.1868;
const GRAVITY: f64 = 9.806_65;
const PSI: f64 = POUND * GRAVITY / (INCH * INCH);
const WATER_COLUMN: f64 = 1000.0 * GRAVITY;
const FAHRENHEIT: f64 = 5.0 / 9.0;

/// A gallon without its kind is read as the US gallon, and the person is told.
pub(super) const GALLON_NOTE: &str = "\"gal\" is read as the US gallon (3.785 L); write \"US gal\" or \"imp gal\" (4.546 L) to be explicit";

/// One unit of one kind.
#[derive(Debug)]
pub(super) struct Unit {
    pub kind: Kind,
    /// First name: the one that messages suggest.
    pub names: &'static [&'static str],
    /// SI value of one unit (slope where there is an offset).
    pub factor: f64,
    /// Added to the written number before the factor (temperatures).
    pub offset: f64,
    /// Said once when this unit was read.
    pub note: Option<&'static str>,
}

const fn u(kind: Kind, factor: f64, names: &'static [&'static str]) -> Unit {
    Unit {
        kind,
        names,
        factor,
        offset: 0.0,
        note: None,
    }
}

const fn gallons(kind: Kind, factor: f64, names: &'static [&'static str]) -> Unit {
    Unit {
        kind,
        names,
        factor,
        offset: 0.0,
        note: Some(GALLON_NOTE),
    }
}

const fn t(factor: f64, offset: f64, names: &'static [&'static str]) -> Unit {
    Unit {
        kind: Kind::Temperature,
        names,
        factor,
        offset,
        note: None,
    }
}

/// Every unit. Names are in the canonical spelling of `parse::canonical`: no spaces, no product dots,
/// plain digits for powers, no brackets, one slash.
#[rustfmt::skip]
pub(super) static UNITS: &[Unit] = &[
    // length
    u(Kind::Length, 1e-3, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
    u(Kind::Length, 1e-2, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"]),
    u(Kind::Length, 1e-1, &["dm"]),
    u(Kind::Length, 1.0, &["m", "metre", "metres", "meter", "meters"]),
    u(Kind::Length, 1e3, &["km", "kilometre", "kilometres", "kilometer", "kilometers"]),
    u(Kind::Length, 1e-6, &["um", "µm", "micron", "microns"]),
    u(Kind::Length, INCH, &["in", "inch", "inches", "\""]),
    u(Kind::Length, FOOT, &["ft", "foot", "feet", "'"]),
    u(Kind::Length, 3.0 * FOOT, &["yd", "yard", "yards"]),
    u(Kind::Length, 1e-3 * INCH, &["mil", "mils", "thou"]),
    // area
    u(Kind::Area, 1e-6, &["mm2", "sqmm"]),
    u(Kind::Area, 1e-4, &["cm2", "sqcm"]),
    u(Kind::Area, 1.0, &["m2", "sqm"]),
    u(Kind::Area, INCH * INCH, &["in2", "sqin", "inch2", "squareinch", "squareinches"]),
    u(Kind::Area, FOOT * FOOT, &["ft2", "sqft", "squarefoot", "squarefeet"]),
    // volume
    u(Kind::Volume, 1e-6, &["mL", "millilitre", "millilitres", "milliliter", "milliliters"]),
    u(Kind::Volume, 1e-6, &["cm3", "cc", "ccm"]),
    u(Kind::Volume, 1e-5, &["cL"]),
    u(Kind::Volume, 1e-4, &["dL"]),
    u(Kind::Volume, 1e-3, &["L", "litre", "litres", "liter", "liters", "ltr"]),
    u(Kind::Volume, 1e-3, &["dm3"]),
    u(Kind::Volume, 0.1, &["hL"]),
    u(Kind::Volume, 1.0, &["m3", "cubicmetre", "cubicmetres", "cubicmeter", "cubicmeters"]),
    u(Kind::Volume, INCH * INCH * INCH, &["in3", "cuin", "cubicinch", "cubicinches"]),
    u(Kind::Volume, FOOT * FOOT * FOOT, &["ft3", "cuft", "cubicfoot", "cubicfeet"]),
    u(Kind::Volume, US_GALLON, &["USgal", "USgallon", "USgallons", "galUS", "gallonsUS", "usg"]),
    u(Kind::Volume, IMPERIAL_GALLON, &["impgal", "imperialgallon", "imperialgallons", "impgallon", "impgallons",
        "UKgal", "UKgallon", "UKgallons", "galimp", "galUK"]),
    gallons(Kind::Volume, US_GALLON, &["gal", "gallon", "gallons", "gals"]),
    u(Kind::Volume, US_GALLON / 4.0, &["USqt", "USquart", "USquarts"]),
    u(Kind::Volume, IMPERIAL_GALLON / 4.0, &["impqt", "UKqt"]),
    // mass
    u(Kind::Mass, 1e-6, &["mg"]),
    u(Kind::Mass, 1e-3, &["g", "gram", "grams", "gramme", "grammes"]),
    u(Kind::Mass, 1.0, &["kg", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"]),
    u(Kind::Mass, 1e3, &["t", "tonne", "tonnes"]),
    u(Kind::Mass, POUND, &["lb", "lbs", "pound", "pounds", "lbm"]),
    u(Kind::Mass, POUND / 16.0, &["oz", "ounce", "ounces"]),
    // temperature
    t(1.0, 273.15, &["degC", "C", "celsius", "degcelsius", "degreesC", "degreesCelsius", "degreeC", "centigrade"]),
    t(FAHRENHEIT, 459.67, &["degF", "F", "fahrenheit", "degfahrenheit", "degreesF", "degreesFahrenheit", "degreeF"]),
    t(1.0, 0.0, &["K", "kelvin", "kelvins", "degK"]),
    t(FAHRENHEIT, 0.0, &["degR", "R", "rankine"]),
    // temperature difference
    u(Kind::TemperatureDifference, 1.0, &["K", "kelvin", "kelvins", "degK", "degC", "C", "celsius", "degreesC", "degreesCelsius"]),
    u(Kind::TemperatureDifference, FAHRENHEIT, &["degF", "F", "fahrenheit", "degreesF", "degreesFahrenheit", "degR", "R"]),
    // time
    u(Kind::Time, 1e-3, &["ms"]),
    u(Kind::Time, 1.0, &["s", "sec", "secs", "second", "seconds"]),
    u(Kind::Time, 60.0, &["min", "mins", "minute", "minutes"]),
    u(Kind::Time, 3600.0, &["h", "hr", "hrs", "hour", "hours"]),
    u(Kind::Time, 86_400.0, &["d", "day", "days"]),
    // volume flow
    u(Kind::VolumeFlow, 1e-3 / 60.0, &["L/min", "lpm", "litres/min", "liters/min", "litre/min", "liter/min", "L/minute", "litres/minute", "liters/minute"]),
    u(Kind::VolumeFlow, 1e-3, &["L/s", "lps", "L/sec", "litres/s", "liters/s"]),
    u(Kind::VolumeFlow, 1e-3 / 3600.0, &["L/h", "lph", "L/hr", "litres/h", "liters/h", "L/hour"]),
    u(Kind::VolumeFlow, 1e-6, &["mL/s"]),
    u(Kind::VolumeFlow, 1e-6 / 60.0, &["mL/min"]),
    u(Kind::VolumeFlow, 1.0, &["m3/s", "m3/sec"]),
    u(Kind::VolumeFlow, 1.0 / 60.0, &["m3/min"]),
    u(Kind::VolumeFlow, 1.0 / 3600.0, &["m3/h", "m3/hr", "m3/hour"]),
    gallons(Kind::VolumeFlow, US_GALLON / 60.0, &["gpm", "gal/min", "gallons/min", "gallon/min", "gal/minute", "gallons/minute"]),
    gallons(Kind::VolumeFlow, US_GALLON / 3600.0, &["gph", "gal/h", "gal/hr", "gallons/h", "gallons/hour", "gal/hour"]),
    u(Kind::VolumeFlow, US_GALLON / 60.0, &["USgpm", "USgal/min", "USgallons/min"]),
    u(Kind::VolumeFlow, US_GALLON / 3600.0, &["USgph", "USgal/h", "USgal/hr"]),
    u(Kind::VolumeFlow, IMPERIAL_GALLON / 60.0, &["impgpm", "impgal/min", "UKgal/min", "igpm"]),
    u(Kind::VolumeFlow, IMPERIAL_GALLON / 3600.0, &["impgph", "impgal/h", "impgal/hr", "UKgal/h"]),
    u(Kind::VolumeFlow, FOOT * FOOT * FOOT / 60.0, &["ft3/min", "cfm", "cuft/min"]),
    u(Kind::VolumeFlow, FOOT * FOOT * FOOT, &["ft3/s", "cfs"]),
    // mass flow
    u(Kind::MassFlow, 1.0, &["kg/s", "kg/sec"]),
    u(Kind::MassFlow, 1.0 / 60.0, &["kg/min"]),
    u(Kind::MassFlow, 1.0 / 3600.0, &["kg/h", "kg/hr", "kg/hour"]),
    u(Kind::MassFlow, 1e-3, &["g/s"]),
    u(Kind::MassFlow, 1e-3 / 60.0, &["g/min"]),
    u(Kind::MassFlow, POUND, &["lb/s"]),
    u(Kind::MassFlow, POUND / 60.0, &["lb/min"]),
    u(Kind::MassFlow, POUND / 3600.0, &["lb/h", "lb/hr", "lbs/h", "lbs/hr", "lb/hour"]),
    // power
    u(Kind::Power, 1e-3, &["mW"]),
    u(Kind::Power, 1.0, &["W", "watt", "watts"]),
    u(Kind::Power, 1e3, &["kW", "kilowatt", "kilowatts"]),
    u(Kind::Power, 1e6, &["MW"]),
    u(Kind::Power, BTU / 3600.0, &["Btu/h", "Btu/hr", "Btuh", "Btu/hour"]),
    u(Kind::Power, 1e3 * BTU / 3600.0, &["kBtu/h", "kBtu/hr", "MBH"]),
    u(Kind::Power, 1e3 * CALORIE / 3600.0, &["kcal/h"]),
    u(Kind::Power, 550.0 * FOOT * POUND * GRAVITY, &["hp", "horsepower"]),
    // energy
    u(Kind::Energy, 1e-3, &["mJ"]),
    u(Kind::Energy, 1.0, &["J", "joule", "joules"]),
    u(Kind::Energy, 1e3, &["kJ"]),
    u(Kind::Energy, 1e6, &["MJ"]),
    u(Kind::Energy, 1e9, &["GJ"]),
    u(Kind::Energy, 3.6e3, &["Wh"]),
    u(Kind::Energy, 3.6e6, &["kWh"]),
    u(Kind::Energy, 3.6e9, &["MWh"]),
    u(Kind::Energy, BTU, &["Btu", "Btus"]),
    u(Kind::Energy, 1e3 * BTU, &["kBtu"]),
    u(Kind::Energy, 1e5 * BTU, &["therm", "therms"]),
    u(Kind::Energy, 1e3 * CALORIE, &["kcal"]),
    // pressure
    u(Kind::Pressure, 1e-3, &["mPa"]),
    u(Kind::Pressure, 1.0, &["Pa", "pascal", "pascals", "N/m2"]),
    u(Kind::Pressure, 1e2, &["hPa"]),
    u(Kind::Pressure, 1e3, &["kPa"]),
    u(Kind::Pressure, 1e6, &["MPa"]),
    u(Kind::Pressure, 1e5, &["bar", "bars"]),
    u(Kind::Pressure, 1e2, &["mbar", "millibar", "millibars"]),
    u(Kind::Pressure, 101_325.0, &["atm"]),
    u(Kind::Pressure, PSI, &["psi", "lbf/in2", "psig"]),
    u(Kind::Pressure, WATER_COLUMN * INCH, &["inH2O", "inwater", "inofwater", "inwc", "inwg", "\"H2O",
        "\"wc", "\"wg", "iwc", "inchesofwater", "inchofwater", "inchesH2O", "incheswatercolumn"]),
    u(Kind::Pressure, WATER_COLUMN * FOOT, &["ftH2O", "ftwater", "ftofwater", "feetofwater", "ftwc", "fthd", "ftofhead",
        "fthead", "feetofhead", "feethead"]),
    u(Kind::Pressure, WATER_COLUMN, &["mH2O", "mwater", "mofwater", "mwc", "mhead", "mofhead", "metresofwater", "metersofwater"]),
    u(Kind::Pressure, WATER_COLUMN * 1e-2, &["cmH2O"]),
    u(Kind::Pressure, WATER_COLUMN * 1e-3, &["mmH2O", "mmwc", "mmwater"]),
    // speed
    u(Kind::Speed, 1.0, &["m/s", "m/sec"]),
    u(Kind::Speed, 1.0 / 3.6, &["km/h", "kph", "kmh", "km/hr"]),
    u(Kind::Speed, FOOT, &["ft/s", "fps", "ft/sec"]),
    u(Kind::Speed, FOOT / 60.0, &["ft/min", "fpm"]),
    u(Kind::Speed, 5280.0 * FOOT / 3600.0, &["mph", "mi/h", "miles/hour", "miles/h"]),
    u(Kind::Speed, 1852.0 / 3600.0, &["kn", "kt", "knot", "knots"]),
    // density
    u(Kind::Density, 1.0, &["kg/m3"]),
    u(Kind::Density, 1e3, &["kg/L", "kg/dm3"]),
    u(Kind::Density, 1e3, &["g/cm3", "g/cc", "g/mL"]),
    u(Kind::Density, 1.0, &["g/L"]),
    u(Kind::Density, POUND / (FOOT * FOOT * FOOT), &["lb/ft3", "lb/cuft", "pcf", "lbs/ft3"]),
    // specific heat
    u(Kind::SpecificHeat, 1.0, &["J/kgK", "J/kgC"]),
    u(Kind::SpecificHeat, 1e3, &["kJ/kgK", "kJ/kgC"]),
    u(Kind::SpecificHeat, 1e3, &["J/gK", "J/gC"]),
    u(Kind::SpecificHeat, BTU / (POUND * FAHRENHEIT), &["Btu/lbF"]),
    u(Kind::SpecificHeat, 1e3 * CALORIE, &["kcal/kgK", "kcal/kgC", "cal/gK", "cal/gC"]),
    u(Kind::SpecificHeat, 3.6e3, &["Wh/kgK", "Wh/kgC"]),
    // heat capacity
    u(Kind::HeatCapacity, 1.0, &["J/K", "J/C"]),
    u(Kind::HeatCapacity, 1e3, &["kJ/K", "kJ/C"]),
    u(Kind::HeatCapacity, 1e6, &["MJ/K", "MJ/C"]),
    u(Kind::HeatCapacity, 3.6e3, &["Wh/K"]),
    u(Kind::HeatCapacity, 3.6e6, &["kWh/K"]),
    u(Kind::HeatCapacity, BTU / FAHRENHEIT, &["Btu/F"]),
    // heat capacity per length
    u(Kind::HeatCapacityPerLength, 1.0, &["J/mK", "J/mC"]),
    u(Kind::HeatCapacityPerLength, 1e3, &["kJ/mK", "kJ/mC"]),
    u(Kind::HeatCapacityPerLength, BTU / (FAHRENHEIT * FOOT), &["Btu/ftF"]),
    // conductivity
    u(Kind::Conductivity, 1.0, &["W/mK", "W/mC"]),
    u(Kind::Conductivity, 1e-3, &["mW/mK"]),
    u(Kind::Conductivity, BTU / (3600.0 * FOOT * FAHRENHEIT), &["Btu/hftF", "Btu/hrftF", "Btu/fthF"]),
    u(Kind::Conductivity, BTU * INCH / (3600.0 * FOOT * FOOT * FAHRENHEIT), &["Btuin/hft2F", "Btuin/hrft2F"]),
    // conductance
    u(Kind::Conductance, 1.0, &["W/K", "W/C"]),
    u(Kind::Conductance, 1e3, &["kW/K", "kW/C"]),
    u(Kind::Conductance, BTU / (3600.0 * FAHRENHEIT), &["Btu/hF", "Btu/hrF", "Btuh/F"]),
    // conductance per length
    u(Kind::ConductancePerLength, 1.0, &["W/mK", "W/mC"]),
    u(Kind::ConductancePerLength, BTU / (3600.0 * FOOT * FAHRENHEIT), &["Btu/hftF", "Btu/hrftF", "Btu/fthF"]),
    // conductance per area
    u(Kind::ConductancePerArea, 1.0, &["W/m2K", "W/m2C"]),
    u(Kind::ConductancePerArea, 1e3, &["kW/m2K"]),
    u(Kind::ConductancePerArea, BTU / (3600.0 * FOOT * FOOT * FAHRENHEIT), &["Btu/hft2F", "Btu/hrft2F", "Btu/ft2hF"]),
    // thermal resistance
    u(Kind::ThermalResistance, 1.0, &["m2K/W", "m2C/W"]),
    u(Kind::ThermalResistance, 3600.0 * FOOT * FOOT * FAHRENHEIT / BTU, &["hft2F/Btu", "hrft2F/Btu", "ft2hF/Btu", "ft2Fh/Btu"]),
    // heating value
    u(Kind::HeatingValue, 1.0, &["J/kg"]),
    u(Kind::HeatingValue, 1e3, &["kJ/kg", "J/g"]),
    u(Kind::HeatingValue, 1e6, &["MJ/kg", "kJ/g"]),
    u(Kind::HeatingValue, 3.6e6, &["kWh/kg"]),
    u(Kind::HeatingValue, BTU / POUND, &["Btu/lb"]),
    u(Kind::HeatingValue, 1e3 * CALORIE, &["kcal/kg", "cal/g"]),
    // per length
    u(Kind::PerLength, 1.0, &["1/m", "/m"]),
    u(Kind::PerLength, 1.0 / FOOT, &["1/ft", "/ft"]),
    // fraction and number
    u(Kind::Fraction, 1e-2, &["%", "percent", "pct"]),
    u(Kind::Fraction, 1.0, &[""]),
    u(Kind::Number, 1.0, &[""]),
];
