//! Laws that property sets and balances must keep among themselves.

use super::check::{Check, Source};
use super::gas::burnt;
use emberloop::correlations::radiation::{WsggWeights, grey_gas_to_wall_w_m2};
use emberloop::properties::gas::GasMix;
use emberloop::properties::water::Water;

const FIRST_LAW: Source = Source::identity("first law", "cp = dh/dT, central difference of 1 K");
const CLAUSIUS: Source = Source::identity("Clausius-Clapeyron", "dp/dT = h_fg/[T (v_g - v_f)]");
const MASS: Source = Source::identity("conservation of mass", "fuel + air = products");
const SECOND_LAW: Source = Source::identity("second law", "no exchange at one temperature");

pub fn rows() -> Vec<Check> {
    let w = Water::shared();
    let mut rows = Vec::new();
    for t_k in [290.0, 330.0, 370.0] {
        rows.push(FIRST_LAW.relative(
            format!("heat capacity of water, {t_k} K"),
            "J/kg K",
            w.h_j_kg(t_k + 0.5) - w.h_j_kg(t_k - 0.5),
            w.liquid(t_k).cp_j_kgk,
            1e-4,
        ));
    }
    for t_k in [400.0, 900.0, 1400.0] {
        let g = GasMix::new(&burnt(0.2, 2.0).0.composition());
        rows.push(FIRST_LAW.relative(
            format!("heat capacity of flue gas, {t_k} K"),
            "J/kg K",
            g.h_j_kg(t_k + 0.5) - g.h_j_kg(t_k - 0.5),
            g.cp_j_kgk(t_k),
            1e-4,
        ));
    }
    for pa in [9e4, 2e5, 4e5] {
        let s = w.sat(pa);
        let slope = w.p_sat_pa(s.t_k + 0.5) - w.p_sat_pa(s.t_k - 0.5);
        let volume = 1.0 / s.rho_g_kg_m3 - 1.0 / s.rho_f_kg_m3;
        rows.push(CLAUSIUS.relative(
            format!("heat of vaporisation, {} bar", 1e-5 * pa),
            "kJ/kg",
            1e-3 * slope * s.t_k * volume,
            1e-3 * s.h_fg_j_kg,
            1e-3,
        ));
    }
    for lambda in [1.0, 2.5] {
        let (p, _) = burnt(0.2, lambda);
        // The wood's composition is scaled to sum 1 and has no ash: a kilogram fired.
        let air = lambda * 0.8 * burnt_air_kg();
        rows.push(MASS.relative(
            format!("products of a kilogram of wood, air ratio {lambda}"),
            "kg",
            1.0 + air,
            p.total_kg(),
            1e-9,
        ));
    }
    let gas = WsggWeights::new(0.1, 0.1);
    let (e, a) = (
        gas.emissivity(900.0, 0.15),
        gas.absorptivity(900.0, 900.0, 0.15),
    );
    rows.push(SECOND_LAW.absolute(
        "radiation of gas to a wall, both at 900 K",
        "W/m²",
        0.0,
        grey_gas_to_wall_w_m2(e, a, 900.0, 900.0, 0.8),
        1e-6,
    ));
    rows
}

/// Stoichiometric air of a kilogram of the dry wood.
fn burnt_air_kg() -> f64 {
    emberloop::properties::combustion::stoichiometric_air_kg_kg_dry(
        51.0 / 99.3,
        6.3 / 99.3,
        42.0 / 99.3,
    )
}
