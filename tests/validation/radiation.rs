//! Radiation of gas, walls and sky.

use super::check::{Check, Source};
use emberloop::correlations::radiation::{
    STEFAN_BOLTZMANN, grey_gas_to_wall, grey_gas_to_wall_w_m2, leckner_emissivity,
    linearised_h_w_m2k, mean_beam_length, sky_emissivity, two_surface_factor, wsgg_emissivity,
};

const SSF: Source = Source::published(
    "Smith, Shen & Friedman 1982, J. Heat Transfer 104:602",
    "Table 1, p_H2O = p_CO2, 0.2 atm together (numpy 2.4.6); coefficients from memory",
);
const SSF_OTHERS: Source = Source::published(
    "Smith, Shen & Friedman 1982, J. Heat Transfer 104:602",
    "Table 1, another copy of its coefficients, closed form, 0.2 atm together; coefficients from memory",
);
const LECKNER: Source = Source::published(
    "Leckner 1972, Combustion and Flame 19:33",
    "as in Modest, 3rd ed., table 11.4, 0.07 bar each, another hand-coded copy; from memory",
);
const TWO_MODELS: Source = Source::published(
    "Leckner 1972, Combustion and Flame 19:33",
    "against the grey-gas sum in use; known width -7 to +29 %; from memory",
);
const HOTTEL: Source = Source::published(
    "Bergman et al., Introduction to Heat Transfer, 6th ed.",
    "Table 13.4, mean beam lengths; 3.6 V/A is the rule for any body",
);
const BERDAHL: Source = Source::published("Berdahl & Martin 1984", "clear sky; from memory");
const ENCLOSURE: Source = Source::analytic("grey enclosure", "closed form");

pub fn rows() -> Vec<Check> {
    let mut rows = Vec::new();
    for (t, l, e) in [
        (800.0, 0.1, 0.108314),
        (800.0, 0.3, 0.164392),
        (1000.0, 0.1, 0.0903865),
        (1000.0, 0.3, 0.146411),
        (1200.0, 0.1, 0.074432),
        (1200.0, 0.3, 0.128576),
    ] {
        rows.push(SSF.relative(
            format!("gas emissivity, {t} K, {l} m"),
            "",
            e,
            wsgg_emissivity(t, 0.1, 0.1, l),
            0.005,
        ));
    }
    for (name, w, c, figures) in [
        (
            "p_H2O = 2 p_CO2",
            0.2 / 1.5,
            0.1 / 1.5,
            [0.159728, 0.223932],
        ),
        ("CO2 alone", 0.0, 0.2, [0.097232, 0.114789]),
        ("H2O alone", 0.2, 0.0, [0.110606, 0.181092]),
    ] {
        for ((t, l), e) in [(1000.0, 0.3), (1500.0, 1.0)].into_iter().zip(figures) {
            rows.push(SSF_OTHERS.relative(
                format!("gas emissivity, {name}, {t} K, {l} m"),
                "",
                e,
                wsgg_emissivity(t, w, c, l),
                0.005,
            ));
        }
    }
    for (t, l, e) in [
        (500.0, 0.03, 0.04625117),
        (1000.0, 0.1, 0.07236254),
        (1000.0, 0.2, 0.1044665),
        (1600.0, 0.1, 0.04175059),
    ] {
        rows.push(LECKNER.relative(
            format!("the second model, {t} K, {l} m"),
            "",
            e,
            leckner_emissivity(t, 0.07, 0.07, 1.01325, l),
            0.01,
        ));
    }
    for (t, l, e) in [
        (800.0, 0.1, 0.08123077),
        (1000.0, 0.1, 0.07236254),
        (1000.0, 0.2, 0.1044665),
        (1400.0, 0.1, 0.05150324),
        (600.0, 0.1, 0.08813142),
    ] {
        let p = 0.07 / 1.01325;
        rows.push(TWO_MODELS.within(
            format!("gas emissivity, {t} K, {l} m, 0.07 bar each; Leckner {e:.3}"),
            "",
            (significant(0.93 * e), significant(1.29 * e)),
            wsgg_emissivity(t, p, p, l),
        ));
    }
    let pi = std::f64::consts::PI;
    rows.extend([
        HOTTEL.relative(
            "beam length of a slab, of its thickness",
            "",
            1.8,
            mean_beam_length(1.0, 2.0),
            0.01,
        ),
        HOTTEL.relative(
            "beam length of a long cylinder, of its diameter",
            "",
            0.95,
            mean_beam_length(pi / 4.0, pi),
            0.06,
        ),
        HOTTEL.relative(
            "beam length of a sphere, of its diameter",
            "",
            0.65,
            mean_beam_length(pi / 6.0, pi),
            0.08,
        ),
        BERDAHL.relative(
            "clear sky, dew point 0 °C",
            "",
            0.711,
            sky_emissivity(273.15),
            1e-3,
        ),
        BERDAHL.relative(
            "clear sky, dew point 10 °C",
            "",
            0.7743,
            sky_emissivity(283.15),
            1e-3,
        ),
        ENCLOSURE.relative(
            "two plates of emissivity 0.8",
            "",
            2.0 / 3.0,
            two_surface_factor(0.8, 0.8, 1.0),
            1e-9,
        ),
        ENCLOSURE.relative(
            "gas of 0.2 in a black wall",
            "",
            0.2,
            grey_gas_to_wall(0.2, 1.0),
            1e-9,
        ),
        ENCLOSURE.relative(
            "black wall of 400 K round gas of 900 K, emissivity 0.2, absorptivity 0.25",
            "W/m²",
            STEFAN_BOLTZMANN * (0.2 * 900f64.powi(4) - 0.25 * 400f64.powi(4)),
            grey_gas_to_wall_w_m2(0.2, 0.25, 900.0, 400.0, 1.0),
            1e-9,
        ),
        ENCLOSURE.relative(
            "exchange of 350 and 300 K, emissivity 0.9, by a coefficient",
            "W/m²",
            0.9 * STEFAN_BOLTZMANN * (350f64.powi(4) - 300f64.powi(4)),
            50.0 * linearised_h_w_m2k(0.9, 350.0, 300.0),
            1e-9,
        ),
    ]);
    rows
}

/// Ends of a width, to the digits in which they are meant.
fn significant(x: f64) -> f64 {
    (x * 1e4).round() * 1e-4
}
