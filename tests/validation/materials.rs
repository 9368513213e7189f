//! Metals, insulation, tubes.

use super::check::{Check, Source};
use emberloop::properties::{metals, solids, tubes};

const INCROPERA: Source = Source::published(
    "Bergman et al., Introduction to Heat Transfer, 6th ed.",
    "Table A.1, 600 K, straight lines within 8 %; from memory",
);
const SHEETS: Source = Source::practice("makers' data sheets, ± 15 %; from memory");
const ISO_6946: Source = Source::published(
    "EN ISO 6946",
    "unventilated gap, ordinary surfaces, 10 °C; from memory",
);
const B88: Source = Source::published(
    "ASTM B88",
    "dimension table as an engineering handbook reproduces it; seen",
);
const COPPER: Source = Source::published("Copper Tube Handbook", "weights; from memory");
const COPPER_3C: Source = Source::published(
    "Copper Tube Handbook",
    "Table 3c: no rating above 400 °F; seen",
);

const MOODY: Source = Source::published("Moody 1944", "drawn tubing; from memory");

pub fn rows() -> Vec<Check> {
    let mut rows = Vec::new();
    for (name, k, c) in [
        ("stainless steel", 19.8, 557.0),
        ("steel", 48.0, 559.0),
        ("copper", 379.0, 417.0),
    ] {
        let s = solids::by_name(name).expect("listed");
        let d = 600.0 - 298.15;
        rows.push(INCROPERA.relative(
            format!("{name}, conductivity"),
            "W/m K",
            k,
            s.conductivity_w_mk + s.conductivity_slope_w_mk2 * d,
            0.08,
        ));
        rows.push(INCROPERA.relative(
            format!("{name}, heat capacity"),
            "J/kg K",
            c,
            s.heat_capacity_j_kgk + s.heat_capacity_slope_j_kgk2 * d,
            0.08,
        ));
    }
    for (name, t_c, k) in [
        ("ceramic fibre", 400.0, 0.09),
        ("ceramic fibre", 600.0, 0.13),
        ("insulating fire brick", 800.0, 0.17),
        ("mineral wool", 300.0, 0.09),
        ("calcium silicate", 427.0, 0.101),
    ] {
        let s = solids::by_name(name).expect("listed");
        rows.push(SHEETS.relative(
            format!("{name}, conductivity at {t_c} °C"),
            "W/m K",
            k,
            s.conductivity_w_mk + s.conductivity_slope_w_mk2 * (t_c - 25.0),
            0.15,
        ));
    }
    rows.push(ISO_6946.relative(
        "resistance of a 5 mm air gap",
        "m² K/W",
        0.11,
        0.005 / solids::air_gap_w_mk(283.15, 0.005, 0.9),
        0.02,
    ));
    for (name, outside_mm, wall_mm) in [
        ("1/2 in type L", 15.875, 1.016),
        ("3/4 in type M", 22.225, 0.8128),
        ("1 in type K", 28.575, 1.651),
    ] {
        let t = tubes::by_name(name).expect("listed");
        rows.push(B88.absolute(
            format!("{name}, outside"),
            "mm",
            outside_mm,
            1e3 * t.outside_m,
            1e-3,
        ));
        rows.push(B88.absolute(
            format!("{name}, wall"),
            "mm",
            wall_mm,
            1e3 * t.wall_m(),
            1e-3,
        ));
    }
    let copper = metals::by_name("copper").expect("listed");
    let lb_ft = |name: &str| {
        let t = tubes::by_name(name).expect("listed");
        let area = std::f64::consts::FRAC_PI_4 * (t.outside_m.powi(2) - t.inside_m.powi(2));
        area * copper.density_kg_m3 * 0.3048 / 0.45359237
    };
    for (name, weight) in [("3/4 in type L", 0.455), ("1/2 in type M", 0.204)] {
        rows.push(COPPER.relative(
            format!("{name}, weight"),
            "lb/ft",
            weight,
            lb_ft(name),
            5e-3,
        ));
    }
    rows.push(MOODY.relative(
        "roughness of drawn copper tube",
        "µm",
        1.5,
        1e6 * copper.roughness_m,
        0.01,
    ));
    rows.push(COPPER_3C.absolute(
        "temperature beyond which copper tube has no rating",
        "°C",
        204.4,
        copper.limit_k - 273.15,
        1.0,
    ));
    rows
}
