//! Water and steam.

use super::check::{Check, Source};
use emberloop::properties::water::{Water, if97};

const TABLE_5: Source = Source::published(
    "IAPWS R7-97(2012)",
    "Table 5; from memory, reproduced with iapws 1.5.5",
);
const TABLE_15: Source = Source::published(
    "IAPWS R7-97(2012)",
    "Table 15; from memory, reproduced with iapws 1.5.5",
);
const TABLE_35: Source = Source::published(
    "IAPWS R7-97(2012)",
    "Table 35; from memory, reproduced with iapws 1.5.5",
);
const TABLE_36: Source = Source::published(
    "IAPWS R7-97(2012)",
    "Table 36; from memory, reproduced with iapws 1.5.5",
);
const IF97: Source = Source::published("IAPWS-IF97", "iapws 1.5.5");
const IAPWS_95: Source = Source::published("IAPWS-95", "CoolProp 8.0.0");
const TENSION: Source = Source::published("IAPWS R1-76(2014)", "Table 1; from memory");

pub fn rows() -> Vec<Check> {
    let mut rows = formulation();
    rows.extend(tables());
    rows
}

/// The library behind the tables is the real formulation.
fn formulation() -> Vec<Check> {
    let mut rows = Vec::new();
    for (pa, k) in [(1e5, 372.755919), (1e6, 453.035632), (1e7, 584.149488)] {
        rows.push(TABLE_36.absolute(
            format!("saturation temperature, {} bar", pa / 1e5),
            "K",
            k,
            if97::t_sat_k(pa).expect("in range"),
            1e-6,
        ));
    }
    for (k, mpa) in [
        (300.0, 0.00353658941),
        (500.0, 2.63889776),
        (600.0, 12.3443146),
    ] {
        rows.push(TABLE_35.relative(
            format!("saturation pressure, {k} K"),
            "MPa",
            mpa,
            1e-6 * if97::p_sat_pa(k).expect("in range"),
            1e-8,
        ));
    }
    let liquid = if97::liquid(3e6, 300.0).expect("in range");
    let steam = if97::vapour(3500.0, 300.0).expect("in range");
    rows.extend([
        TABLE_5.relative(
            "liquid volume, 300 K, 3 MPa",
            "m³/kg",
            0.00100215168,
            1.0 / liquid.rho_kg_m3,
            1e-8,
        ),
        TABLE_5.relative(
            "liquid enthalpy, 300 K, 3 MPa",
            "kJ/kg",
            115.331273,
            1e-3 * liquid.h_if97_j_kg,
            1e-8,
        ),
        TABLE_5.relative(
            "liquid heat capacity, 300 K, 3 MPa",
            "kJ/kg K",
            4.17301218,
            1e-3 * liquid.cp_j_kgk,
            1e-8,
        ),
        TABLE_15.relative(
            "steam volume, 300 K, 0.0035 MPa",
            "m³/kg",
            39.4913866,
            1.0 / steam.rho_kg_m3,
            1e-8,
        ),
        TABLE_15.relative(
            "steam enthalpy, 300 K, 0.0035 MPa",
            "kJ/kg",
            2549.91145,
            1e-3 * steam.h_if97_j_kg,
            1e-8,
        ),
    ]);
    for (t_c, mn_m) in [(20.0, 72.74), (100.0, 58.91)] {
        rows.push(TENSION.absolute(
            format!("surface tension, {t_c} °C"),
            "mN/m",
            mn_m,
            1e3 * if97::sigma_n_m(t_c + 273.15),
            0.01,
        ));
    }
    rows
}

/// The tables that a run reads.
fn tables() -> Vec<Check> {
    let w = Water::shared();
    let mut rows = Vec::new();
    for (mpa, t_c, h_fg, ratio) in [
        (0.09, 96.687, 2265.19, 1796.0),
        (0.101325, 99.974, 2256.54, 1603.6),
        (0.2, 120.212, 2201.56, 835.2),
        (0.3, 133.525, 2163.44, 564.5),
    ] {
        let s = w.sat(1e6 * mpa);
        rows.push(IF97.absolute(
            format!("boiling point, {mpa} MPa"),
            "°C",
            t_c,
            s.t_k - 273.15,
            0.01,
        ));
        rows.push(IF97.absolute(
            format!("heat of vaporisation, {mpa} MPa"),
            "kJ/kg",
            h_fg,
            1e-3 * s.h_fg_j_kg,
            0.1,
        ));
        rows.push(IF97.relative(
            format!("steam over liquid volume, {mpa} MPa"),
            "",
            ratio,
            s.rho_f_kg_m3 / s.rho_g_kg_m3,
            1e-3,
        ));
    }
    let rise = |t_c: f64| 100.0 * (w.rho_kg_m3(283.15) / w.rho_kg_m3(t_c + 273.15) - 1.0);
    for (t_c, percent) in [(80.0, 2.871), (60.0, 1.677)] {
        rows.push(IF97.absolute(
            format!("expansion, 10 to {t_c} °C"),
            "%",
            percent,
            rise(t_c),
            0.02,
        ));
    }
    // 3 bar; enthalpy above 25 °C. The two formulations lie up to 0.08 % apart in heat capacity.
    for (t_c, rho, cp, mu, k, h) in [
        (20.0, 998.2981, 4183.43, 1001.535, 0.5981294, -20.9099),
        (60.0, 983.2827, 4184.512, 466.0829, 0.6511042, 146.3114),
        (120.0, 943.1574, 4243.251, 232.0607, 0.6823035, 398.7788),
    ] {
        let p = w.liquid(t_c + 273.15);
        for (what, unit, expected, got, share) in [
            ("density", "kg/m³", rho, p.rho_kg_m3, 2e-4),
            ("heat capacity", "J/kg K", cp, p.cp_j_kgk, 1e-3),
            ("viscosity", "µPa s", mu, 1e6 * p.mu_pa_s, 1e-3),
            ("conductivity", "W/m K", k, p.k_w_mk, 1e-3),
            (
                "enthalpy above 25 °C",
                "kJ/kg",
                h,
                1e-3 * w.h_j_kg(t_c + 273.15),
                1e-3,
            ),
        ] {
            rows.push(IAPWS_95.relative(
                format!("liquid {what}, {t_c} °C, 3 bar"),
                unit,
                expected,
                got,
                share,
            ));
        }
    }
    for (bar, t_c, h_fg, rho_f, rho_g, sigma, mu_g, k_g) in [
        (
            1.0, 99.60593, 2257.444, 958.6315, 0.590344, 58.99725, 12.21846, 24.5317,
        ),
        (
            4.0, 143.6084, 2133.398, 922.8906, 2.16271, 50.01542, 13.74177, 29.47654,
        ),
    ] {
        let s = w.sat(1e5 * bar);
        for (what, unit, expected, got, share) in [
            ("boiling point", "°C", t_c, s.t_k - 273.15, 1e-4),
            (
                "heat of vaporisation",
                "kJ/kg",
                h_fg,
                1e-3 * s.h_fg_j_kg,
                1e-3,
            ),
            ("liquid density", "kg/m³", rho_f, s.rho_f_kg_m3, 1e-3),
            ("steam density", "kg/m³", rho_g, s.rho_g_kg_m3, 1e-3),
            ("surface tension", "mN/m", sigma, 1e3 * s.sigma_n_m, 2e-3),
            ("steam viscosity", "µPa s", mu_g, 1e6 * s.mu_g_pa_s, 1e-3),
            ("steam conductivity", "mW/m K", k_g, 1e3 * s.k_g_w_mk, 1e-3),
        ] {
            rows.push(IAPWS_95.relative(
                format!("saturated {what}, {bar} bar"),
                unit,
                expected,
                got,
                share,
            ));
        }
    }
    rows
}
