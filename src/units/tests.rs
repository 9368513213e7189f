//! Tests of reading and printing quantities.

use super::*;
use proptest::prelude::*;

fn si(kind: Kind, text: &str) -> f64 {
    match parse(kind, text) {
        Ok(p) => p.si,
        Err(e) => panic!("{e}; {}", e.help()), // invariant: a text written in a test
    }
}

fn close(kind: Kind, text: &str, expected: f64) {
    let got = si(kind, text);
    assert!(
        (got - expected).abs() <= 1e-9 * expected.abs().max(1e-12),
        "{text}: {got} instead of {expected}"
    );
}

/// Factors: NIST SP 811 (2008), appendix B.8 and B.9.
#[test]
fn published_units_as_people_type_them_have_the_factors_of_nist_sp_811() {
    use Kind as K;
    for (kind, text, expected) in [
        (K::Length, "6 in", 0.1524),
        (K::Length, "6in", 0.1524),
        (K::Length, "6\"", 0.1524),
        (K::Length, "5'", 1.524),
        (K::Length, "5' 6\"", 1.6764),
        (K::Length, "5'6\"", 1.6764),
        (K::Length, "1 ft 2 in", 0.3556),
        (K::Length, "1ft2in", 0.3556),
        (K::Length, "-1 ft 2 in", -0.3556),
        (K::Length, "3/4 in", 0.01905),
        (K::Length, "1 1/2 in", 0.0381),
        (K::Length, "6 ft 2 1/2 in", 1.8923),
        (K::Length, "150 mm", 0.15),
        (K::Length, "0.15M", 0.15),
        (K::Area, "195 cm2", 0.0195),
        (K::Area, "195 cm²", 0.0195),
        (K::Area, "30 sq in", 30.0 * 6.4516e-4),
        (K::Volume, "0.4 m3", 0.4),
        (K::Volume, "0.4 m^3", 0.4),
        (K::Volume, "0.4 m³", 0.4),
        (K::Volume, "200 l", 0.2),
        (K::Volume, "55 US gal", 55.0 * 3.785_411_784e-3),
        (K::Volume, "55 us gallons", 55.0 * 3.785_411_784e-3),
        (K::Volume, "55 U.S. gal", 55.0 * 3.785_411_784e-3),
        (K::Volume, "10 imp gal", 0.045_460_9),
        (K::Volume, "55 gal", 55.0 * 3.785_411_784e-3),
        (K::Mass, "12 lb", 12.0 * 0.453_592_37),
        (K::Mass, "1 lb 8 oz", 1.5 * 0.453_592_37),
        (K::Mass, "0.7 kg", 0.7),
        (K::Temperature, "50 degF", 283.15),
        (K::Temperature, "50 F", 283.15),
        (K::Temperature, "50 °F", 283.15),
        (K::Temperature, "50°F", 283.15),
        (K::Temperature, "50 deg F", 283.15),
        (K::Temperature, "20 C", 293.15),
        (K::Temperature, "20 °C", 293.15),
        (K::Temperature, "20 degC", 293.15),
        (K::Temperature, "-2 degrees Celsius", 271.15),
        (K::Temperature, "300 K", 300.0),
        (K::TemperatureDifference, "18 degF", 10.0),
        (K::TemperatureDifference, "10 C", 10.0),
        (K::Time, "2 hr", 7200.0),
        (K::Time, "1 h 30 min", 5400.0),
        (K::Time, "1h30min", 5400.0),
        (K::Time, "90 s", 90.0),
        (K::Time, "1 1/2 hours", 5400.0),
        (K::VolumeFlow, "3 gpm", 3.0 * 3.785_411_784e-3 / 60.0),
        (
            K::VolumeFlow,
            "3 gallons per minute",
            3.0 * 3.785_411_784e-3 / 60.0,
        ),
        (K::VolumeFlow, "12 l/min", 2e-4),
        (K::VolumeFlow, "1 m^3/s", 1.0),
        (K::MassFlow, "360 kg/h", 0.1),
        (K::Power, "100000 Btu/h", 1e5 * 0.293_071_070_172_222_2),
        (K::Power, "100000 BTU / hr", 1e5 * 0.293_071_070_172_222_2),
        (K::Power, "30 kW", 3e4),
        (K::Energy, "1.0 MJ", 1e6),
        (K::Energy, "2 kWh", 7.2e6),
        (K::Pressure, "0.05 inH2O", 0.05 * 249.088_91),
        (K::Pressure, "0.05 in. w.c.", 0.05 * 249.088_91),
        (K::Pressure, "30 psi", 30.0 * 6_894.757_293_168_361),
        (K::Pressure, "10 ft of water", 10.0 * 2_989.066_92),
        (K::Pressure, "12 kPa", 1.2e4),
        (K::Speed, "5 mph", 2.2352),
        (K::Density, "42 lb/ft3", 42.0 * 16.018_463_373_960_14),
        (K::SpecificHeat, "1 Btu/lbF", 4186.8),
        (K::SpecificHeat, "1 Btu/(lb·°F)", 4186.8),
        (K::SpecificHeat, "900 J/(kg K)", 900.0),
        (K::SpecificHeat, "900 J/kg/K", 900.0),
        (K::Conductivity, "1 Btu/(h·ft·°F)", 1.730_734_666_371_39),
        (K::Conductivity, "1 Btu in/(h ft2 F)", 0.144_227_888_864_283),
        (K::Conductance, "4 W/K", 4.0),
        (
            K::ConductancePerArea,
            "1 Btu/(h ft2 °F)",
            5.678_263_341_113_49,
        ),
        (K::ConductancePerArea, "1.5 W/m²K", 1.5),
        (K::ThermalResistance, "0.002 m2K/W", 0.002),
        (K::ThermalResistance, "1 h ft2 F/Btu", 0.176_110_183_682_306),
        (K::HeatingValue, "8200 Btu/lb", 8200.0 * 2326.0),
        (K::HeatingValue, "5 kWh/kg", 1.8e7),
        (K::PerLength, "1.2 1/m", 1.2),
        (K::Fraction, "18 %", 0.18),
        (K::Fraction, "18%", 0.18),
        (K::Fraction, "0.18", 0.18),
        (K::Number, "1.5", 1.5),
    ] {
        close(kind, text, expected);
    }
}

/// The table against an independent library of units (uom); its factors carry seven digits.
#[test]
fn published_factors_agree_with_an_independent_units_library() {
    use uom::si::f64 as q;
    use uom::si::{
        area, available_energy, energy, heat_capacity, length, mass, mass_density, power, pressure,
        specific_heat_capacity, thermodynamic_temperature as tt, velocity, volume, volume_rate,
    };
    for (text, kind, other) in [
        (
            "1 in",
            Kind::Length,
            q::Length::new::<length::inch>(1.0).value,
        ),
        (
            "1 yd",
            Kind::Length,
            q::Length::new::<length::yard>(1.0).value,
        ),
        (
            "1 mil",
            Kind::Length,
            q::Length::new::<length::mil>(1.0).value,
        ),
        (
            "1 ft2",
            Kind::Area,
            q::Area::new::<area::square_foot>(1.0).value,
        ),
        (
            "1 ft3",
            Kind::Volume,
            q::Volume::new::<volume::cubic_foot>(1.0).value,
        ),
        (
            "1 US gal",
            Kind::Volume,
            q::Volume::new::<volume::gallon>(1.0).value,
        ),
        (
            "1 imp gal",
            Kind::Volume,
            q::Volume::new::<volume::gallon_imperial>(1.0).value,
        ),
        (
            "1 US qt",
            Kind::Volume,
            q::Volume::new::<volume::quart_liquid>(1.0).value,
        ),
        ("1 oz", Kind::Mass, q::Mass::new::<mass::ounce>(1.0).value),
        ("1 lb", Kind::Mass, q::Mass::new::<mass::pound>(1.0).value),
        (
            "50 degF",
            Kind::Temperature,
            q::ThermodynamicTemperature::new::<tt::degree_fahrenheit>(50.0).value,
        ),
        (
            "500 degR",
            Kind::Temperature,
            q::ThermodynamicTemperature::new::<tt::degree_rankine>(500.0).value,
        ),
        (
            "1 gpm",
            Kind::VolumeFlow,
            q::VolumeRate::new::<volume_rate::gallon_per_minute>(1.0).value,
        ),
        (
            "1 cfm",
            Kind::VolumeFlow,
            q::VolumeRate::new::<volume_rate::cubic_foot_per_minute>(1.0).value,
        ),
        (
            "1 hp",
            Kind::Power,
            q::Power::new::<power::horsepower>(1.0).value,
        ),
        (
            "1 Btu",
            Kind::Energy,
            q::Energy::new::<energy::btu_it>(1.0).value,
        ),
        (
            "1 kcal",
            Kind::Energy,
            q::Energy::new::<energy::kilocalorie_it>(1.0).value,
        ),
        (
            "1 psi",
            Kind::Pressure,
            q::Pressure::new::<pressure::psi>(1.0).value,
        ),
        (
            "1 inH2O",
            Kind::Pressure,
            q::Pressure::new::<pressure::inch_of_water>(1.0).value,
        ),
        (
            "1 ftH2O",
            Kind::Pressure,
            q::Pressure::new::<pressure::foot_of_water>(1.0).value,
        ),
        (
            "1 mph",
            Kind::Speed,
            q::Velocity::new::<velocity::mile_per_hour>(1.0).value,
        ),
        (
            "1 kn",
            Kind::Speed,
            q::Velocity::new::<velocity::knot>(1.0).value,
        ),
        (
            "1 lb/ft3",
            Kind::Density,
            q::MassDensity::new::<mass_density::pound_per_cubic_foot>(1.0).value,
        ),
        (
            "1 Btu/lbF",
            Kind::SpecificHeat,
            q::SpecificHeatCapacity::new::<
                specific_heat_capacity::btu_it_per_pound_degree_fahrenheit,
            >(1.0)
            .value,
        ),
        (
            "1 Btu/F",
            Kind::HeatCapacity,
            q::HeatCapacity::new::<heat_capacity::btu_it_per_degree_fahrenheit>(1.0).value,
        ),
        (
            "1 Btu/lb",
            Kind::HeatingValue,
            q::AvailableEnergy::new::<available_energy::btu_it_per_pound>(1.0).value,
        ),
    ] {
        let ours = si(kind, text);
        assert!(
            (ours / other - 1.0).abs() < 1e-6,
            "{text}: {ours} against {other}"
        );
    }
}

#[test]
fn identity_every_name_in_the_table_reads_back_as_its_own_unit() {
    for unit in table::UNITS {
        for name in unit.names {
            let got = parse(unit.kind, &format!("2 {name}"));
            let expected = (2.0 + unit.offset) * unit.factor;
            assert!(
                got.as_ref().is_ok_and(|p| p.si == expected),
                "{name} of {}: {got:?}",
                unit.kind
            );
        }
    }
}

#[test]
fn identity_every_usual_unit_and_example_of_a_kind_is_readable() {
    for kind in Kind::ALL {
        for example in kind.examples().split(", ") {
            let text = example.trim_matches('"');
            assert!(parse(kind, text).is_ok(), "{kind}: {text}");
        }
        if !matches!(kind, Kind::Fraction | Kind::Number) {
            for unit in kind.usual_units().split(", ") {
                assert!(parse(kind, &format!("1 {unit}")).is_ok(), "{kind}: {unit}");
            }
        }
        assert_eq!(Kind::from_word(kind.word()), Some(kind));
    }
}

#[test]
fn behaves_a_bare_gallon_is_read_as_us_and_said_so() {
    assert!(parse(Kind::Volume, "55 gal").is_ok_and(|p| p.note.is_some()));
    assert!(parse(Kind::VolumeFlow, "2 gpm").is_ok_and(|p| p.note.is_some()));
    assert!(parse(Kind::Volume, "55 US gal").is_ok_and(|p| p.note.is_none()));
}

#[test]
fn behaves_errors_name_what_was_read_and_what_is_allowed() {
    for (kind, text, part) in [
        (Kind::Length, "400 furlong", "unknown unit \"furlong\""),
        (Kind::Length, "0,4 m", "comma"),
        (Kind::Power, "100,000 Btu/h", "comma"),
        (Kind::Length, "12", "has no unit"),
        (Kind::Length, "3 m2", "\"m2\" is a unit of area"),
        (Kind::Length, "3 kg", "\"kg\" is a unit of mass"),
        (Kind::Time, "14:05", "time of day"),
        (Kind::Time, "5 m", "\"m\" is a unit of length"),
        (Kind::Length, "2 in 1 ft", "large to small"),
        (Kind::Length, "1 ft -2 in", "large to small"),
        (Kind::Length, "", "empty"),
        (Kind::Length, "wide", "does not begin with a number"),
        (Kind::Temperature, "-300 degC", "absolute zero"),
        (Kind::Number, "2 m", "unit of length"),
        (Kind::Energy, "1e999 J", "cannot be read"),
        (Kind::HeatingValue, "19 mJ/kg", "unknown unit"),
    ] {
        let e = parse(kind, text).err();
        let said = e.as_ref().map(ToString::to_string).unwrap_or_default();
        assert!(said.contains(part), "{text}: {said}");
        let help = e.map(|e| e.help()).unwrap_or_default();
        assert!(!help.is_empty());
    }
    let help = |kind, text| {
        parse(kind, text)
            .err()
            .map(|e| e.help())
            .unwrap_or_default()
    };
    assert!(help(Kind::VolumeFlow, "3 L/mim").contains("did you mean L/min"));
    assert!(help(Kind::Length, "3 metters").contains("did you mean m?"));
    assert!(help(Kind::HeatingValue, "19 mJ/kg").contains("MJ/kg"));
}

#[test]
fn behaves_the_culprit_within_the_text_is_marked() {
    let span = |kind, text| parse(kind, text).err().map(|e| e.span);
    assert_eq!(span(Kind::Length, "400 furlong"), Some(4..11));
    assert_eq!(span(Kind::Length, "1 ft 2 furlong"), Some(7..14));
    assert_eq!(span(Kind::Length, "0,4 m"), Some(0..3));
}

#[test]
fn behaves_printing_gives_readable_digits() {
    use UnitSystem::{Metric, Us};
    for (got, expected) in [
        (format_temperature(338.15, Metric), "65.0 °C"),
        (format_temperature(338.15, Us), "149 °F"),
        (format_temperature(273.15 - 0.01, Metric), "0.0 °C"),
        (format_temperature(1000.0, Metric), "727 °C"),
        (format_length(0.15, Metric), "150 mm"),
        (format_length(9.1, Metric), "9.10 m"),
        (format_length(9.144, Us), "30.0 ft"),
        (format_length(0.1524, Us), "6.00 in"),
        (format_mass(0.7, Metric), "0.70 kg"),
        (format_mass(28.34, Metric), "28.3 kg"),
        (format_volume(0.2, Metric), "200 L"),
        (format_volume(0.2, Us), "52.8 US gal"),
        (format_volume_flow(7.6e-3 / 60.0, Metric), "7.60 L/min"),
        (format_power(18.0, Metric), "18 W"),
        (format_power(5012.0, Metric), "5.01 kW"),
        (format_power(5012.0, Us), "17100 Btu/h"),
        (format_energy(51.3e6, Metric), "51.3 MJ"),
        (format_draught(9.41, Metric), "9.4 Pa"),
        (format_pressure(12e3, Metric), "12.0 kPa"),
        (format_fraction(0.184), "18 %"),
        (format_fraction(0.034), "3.4 %"),
        (format_time(45.2), "45 s"),
        (format_time(0.5), "0.5 s"),
        (format_time(260.0), "4 min 20 s"),
        (format_time(859.0), "14 min"),
        (format_time(3599.0), "1 h"),
        (format_time(8040.0), "2 h 14 min"),
        (format_time(-60.0), "-1 min"),
        (format_power(f64::NAN, Metric), "n/a kW"),
        (significant(9.996, 3), "10.0"),
        (significant(99.96, 3), "100"),
        (significant(12345.0, 3), "12300"),
        (significant(0.0, 3), "0"),
    ] {
        assert_eq!(got, expected);
    }
}

#[test]
fn identity_axes_rise_and_are_affine_in_both_systems() {
    use PlotKind as P;
    for kind in [
        P::Temperature,
        P::TemperatureDifference,
        P::Power,
        P::Energy,
        P::Mass,
        P::MassFlow,
        P::WaterFlow,
        P::VolumeFlow,
        P::Draught,
        P::WaterPressure,
        P::Length,
        P::Volume,
        P::Minutes,
        P::Hours,
        P::Fraction,
        P::Number,
    ] {
        for sys in [UnitSystem::Metric, UnitSystem::Us] {
            let to = axis(kind, sys).to;
            let (a, b, c) = (to(0.0), to(1.0), to(2.0));
            assert!(
                b > a && ((c - b) - (b - a)).abs() <= 1e-9 * c.abs().max(1.0),
                "{kind:?} {sys}"
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(100_000) })]

    #[test]
    fn behaves_no_text_makes_the_reader_panic(text in "\\PC{0,24}", i in 0usize..26) {
        let _ = parse(Kind::ALL[i], &text).map_err(|e| (e.to_string(), e.help(), e.read[e.span.clone()].len()));
    }

    #[test]
    fn behaves_no_near_miss_makes_the_reader_panic(
        text in "[-+−]?[0-9½¾., /e']{0,8}[ ]?[a-zA-Z°²³/%\"'. ]{0,6}[0-9 /½]{0,4}[a-z\"']{0,3}",
        i in 0usize..26
    ) {
        let _ = parse(Kind::ALL[i], &text).map_err(|e| (e.to_string(), e.help(), e.read[e.span.clone()].len()));
    }
}

proptest! {
    #[test]
    fn identity_a_written_number_with_a_unit_reads_back(v in -1e6f64..1e6) {
        let p = parse(Kind::Length, &format!("{v} m"));
        prop_assert!(p.is_ok_and(|p| p.si == v));
    }
}
