//! Open water: evaporation.

use super::check::{Check, Source};
use emberloop::correlations::evaporation::{
    MassTransferGas, ashrae_flux_kg_m2s, mass_flux_from_h_kg_m2s, smith_flux_kg_m2s,
};
use emberloop::properties::water::Water;

const ASHRAE: Source = Source::published(
    "ASHRAE Handbook, HVAC Applications (natatoriums); Carrier 1918",
    "water 40 °C, air 20 °C 50 %, Y 2406 kJ/kg; formula from memory",
);
const SMITH: Source = Source::published(
    "Smith et al. 1994",
    "about 0.74 of the ASHRAE form over still water; from memory",
);
const STEFAN: Source = Source::analytic(
    "Chilton-Colburn analogy",
    "dilute limit, h/(cp Le^2/3) of the humidity difference",
);

pub fn rows() -> Vec<Check> {
    let w = Water::shared();
    let (p_w, p_a) = (w.p_sat_pa(313.15), 0.5 * w.p_sat_pa(293.15));
    let mut rows = Vec::new();
    for (wind, flux) in [(0.0, 0.827609), (0.5, 1.1912), (2.0, 2.28197)] {
        rows.push(ASHRAE.relative(
            format!("open tub, wind {wind} m/s"),
            "kg/m² h",
            flux,
            3600.0 * ashrae_flux_kg_m2s(p_w, p_a, wind, 2406e3),
            1e-3,
        ));
    }
    let still = ashrae_flux_kg_m2s(p_w, p_a, 0.0, 2406e3);
    rows.push(SMITH.relative(
        "still water: measured over the handbook's form",
        "",
        0.74,
        smith_flux_kg_m2s(p_w, p_a, 0.0, 2406e3) / still,
        0.05,
    ));
    rows.push(
        SMITH
            .relative(
                "still water: what the tub loses over what was measured",
                "",
                1.0,
                still / smith_flux_kg_m2s(p_w, p_a, 0.0, 2406e3),
                0.3,
            )
            .because("the handbook's form lies 0.4 above what was measured over still pools; its multiplier `evaporation` has 0.65 to 1.3 for that"),
    );
    let air = MassTransferGas {
        cp_j_kgk: 1007.0,
        molar_mass_kg_mol: 0.028_96,
        lewis: 0.87,
        p_total_pa: 101_325.0,
    };
    let linear = 10.0 / (1007.0 * 0.87f64.powf(2.0 / 3.0)) * 0.622 * 100.0 / 101_325.0;
    rows.push(STEFAN.relative(
        "condensation on a cold wall, h 10 W/m² K, 300 against 200 Pa",
        "g/m² h",
        3.6e6 * linear,
        3.6e6 * mass_flux_from_h_kg_m2s(10.0, 300.0, 200.0, &air),
        5e-3,
    ));
    rows
}
