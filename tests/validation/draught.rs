//! Draught and losses of the gas path; the air around it.

use super::check::{Check, Source};
use emberloop::correlations::draught::{
    bend_k, curved_bend_k, damper_loss_with_leak_k, entry_k, sudden_contraction_k,
    sudden_expansion_k, theoretical_draught_pa, velocity_pressure_pa,
};
use emberloop::properties::atmosphere;
use emberloop::properties::gas::humidity_ratio;

const EN_13384: Source = Source::published(
    "EN 13384-1",
    "equation for P_H, R 288 and 300 J/kg K, air 15 °C, 101,325 Pa; formula from memory",
);
const FITTINGS: Source = Source::published(
    "EN 13384-1",
    "annex B and general handbooks, ± 0.2; from memory",
);
const WEISBACH: Source = Source::published(
    "Weisbach, butterfly valve and bends",
    "as hydraulics handbooks give it; from memory",
);
const IDELCHIK: Source = Source::published(
    "Idelchik, Handbook of Hydraulic Resistance",
    "section 3, rounded entries, table; from memory",
);
const ISA: Source = Source::published("ISO 2533 / U.S. Standard Atmosphere 1976", "from memory");
const ASHRAE: Source = Source::published(
    "ASHRAE Handbook, Fundamentals",
    "psychrometrics, 101.325 kPa; from memory",
);

pub fn rows() -> Vec<Check> {
    let mut rows = Vec::new();
    for (height, t_c, pa) in [
        (3.0, 150.0, 12.4427),
        (3.0, 250.0, 16.9329),
        (5.0, 200.0, 24.8751),
    ] {
        let outside = 101_325.0 / (288.0 * 288.15);
        let inside = 101_325.0 / (300.0 * (t_c + 273.15));
        rows.push(EN_13384.relative(
            format!("theoretical draught, {height} m, gas at {t_c} °C"),
            "Pa",
            pa,
            theoretical_draught_pa(height, outside, inside),
            0.01,
        ));
    }
    let right = std::f64::consts::FRAC_PI_2;
    for (what, expected, got) in [
        ("mitre bend of 90°", 1.2, bend_k(right)),
        ("sharp entry", 0.5, entry_k(0.0)),
        ("exit", 1.0, sudden_expansion_k(0.0)),
        (
            "contraction from a large space",
            0.5,
            sudden_contraction_k(0.0),
        ),
    ] {
        let row = FITTINGS.absolute(format!("loss coefficient, {what}"), "", expected, got, 0.2);
        rows.push(if what.starts_with("mitre") {
            row.because("Weisbach's formula, made for smooth pipe, gives 0.98; no rig uses it: the default of a bend section is the standard's 1.2")
        } else {
            row
        });
    }
    rows.push(WEISBACH.relative(
        "loss coefficient, curved bend of 90°, radius = bore",
        "",
        0.294,
        curved_bend_k(right, 1.0),
        0.01,
    ));
    // His table goes by pipe radius over bend radius, 0.3 and 0.4.
    for (ratio, k) in [(0.3, 0.158), (0.4, 0.206)] {
        rows.push(WEISBACH.relative(
            format!("loss coefficient, curved bend of 90°, pipe radius {ratio} of bend radius"),
            "",
            k,
            curved_bend_k(right, 0.5 / ratio),
            0.01,
        ));
    }
    for (rounding, k) in [(0.02, 0.36), (0.04, 0.26), (0.08, 0.15)] {
        rows.push(IDELCHIK.relative(
            format!("loss coefficient, entry rounded by {rounding} of the bore"),
            "",
            k,
            entry_k(rounding),
            0.08,
        ));
    }
    for (degrees, k) in [(20.0f64, 1.54), (40.0, 10.8), (60.0, 118.0)] {
        rows.push(WEISBACH.relative(
            format!("butterfly plate at {degrees}°"),
            "",
            k,
            damper_loss_with_leak_k(1.0 - degrees.to_radians().sin(), 1e-9),
            0.15,
        ));
    }
    rows.push(Source::analytic("Bernoulli", "½ρv², 1.225 kg/m³").relative(
        "velocity pressure of 10 m/s",
        "Pa",
        61.25,
        velocity_pressure_pa(10.0, 1.225),
        1e-6,
    ));
    for (m, pa) in [(500.0, 95_461.0), (1000.0, 89_876.0), (3000.0, 70_121.0)] {
        rows.push(ISA.relative(
            format!("pressure at {m} m"),
            "Pa",
            pa,
            atmosphere::pressure_pa(m),
            1e-4,
        ));
    }
    for (t_c, rh, w) in [(20.0, 1.0, 14.7), (30.0, 0.5, 13.33)] {
        rows.push(ASHRAE.relative(
            format!("humidity of air, {t_c} °C, {} %", 100.0 * rh),
            "g/kg",
            w,
            1e3 * humidity_ratio(t_c + 273.15, rh, 101_325.0),
            6e-3,
        ));
    }
    rows
}
