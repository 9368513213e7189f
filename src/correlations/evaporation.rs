//! Evaporation from open water and condensation on cold turns.

/// Molar mass of water, kg/mol.
const M_WATER_KG_MOL: f64 = 0.018_015_28;

/// Evaporation from an open water surface (Carrier; ASHRAE Handbook, natatoriums), kg/(m² s).
///
/// m = (0.089 + 0.0782 V)(p_w − p_a)/Y
///
/// - `p_w_pa` saturation pressure at the water's surface temperature; `p_a_pa` vapour pressure of the air
/// - `v_m_s` air speed over the water; `h_fg_j_kg` latent heat at the surface temperature (ASHRAE takes 2.4 MJ/kg)
///
/// Negative when the air is damper than the surface: condensation. Overstates still pools by about a third
/// (see [`smith_flux_kg_m2s`]). Scatter: 30 %.
/// Source: ASHRAE Handbook HVAC Applications, natatoriums; W. H. Carrier 1918. Evidence: `published_ashrae_evaporation_check_values`.
pub fn ashrae_flux_kg_m2s(p_w_pa: f64, p_a_pa: f64, v_m_s: f64, h_fg_j_kg: f64) -> f64 {
    (0.089 + 0.0782 * v_m_s) * (p_w_pa - p_a_pa) / h_fg_j_kg
}

/// Evaporation from an undisturbed pool (Smith, Löf & Jones 1994), kg/(m² s).
///
/// m = (30.6 + 32.1 V) Δp/h_fg in kg/(m² h), mmHg, kJ/kg; in SI (0.0638 + 0.0669 V) Δp/h_fg: 0.72 of [`ashrae_flux_kg_m2s`] in still air
///
/// Source: Solar Energy 53 (1994) 3-7 (from memory). Evidence: `published_smith_evaporation_is_about_0_74_of_ashrae`.
pub fn smith_flux_kg_m2s(p_w_pa: f64, p_a_pa: f64, v_m_s: f64, h_fg_j_kg: f64) -> f64 {
    // 1000 (J/kJ) / 133.322 (Pa/mmHg) / 3600 (s/h)
    const TO_SI: f64 = 1000.0 / 133.322 / 3600.0;
    TO_SI * (30.6 + 32.1 * v_m_s) * (p_w_pa - p_a_pa) / h_fg_j_kg
}

/// Gas side of a mass-transfer problem.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassTransferGas {
    pub cp_j_kgk: f64,
    pub molar_mass_kg_mol: f64,
    /// Lewis number of vapour in the gas, thermal over mass diffusivity; 0.87 for water vapour in air.
    pub lewis: f64,
    pub p_total_pa: f64,
}

/// Vapour flux from bulk to surface by the heat/mass analogy with Stefan's correction, kg/(m² s); positive: condensation.
///
/// m = h/(c_p Le^(2/3)) (M_v/M_g) ln[(p − p_s)/(p − p_b)]
///
/// - `h_w_m2k` convective coefficient without radiation; `p_v_bulk_pa`, `p_v_surface_pa` vapour pressures (at a
///   wet surface: saturation at its temperature), held at or below 0.999 of the total pressure
///
/// A cold dry turn in gas with p_b < p_s would give evaporation: the caller decides whether there is anything to evaporate.
/// Source: Bergman et al., 6th ed., section 6.7 (analogy), 14.2 (Stefan flow). Evidence: `analytic_condensation_tends_to_the_linear_analogy`.
#[inline]
pub fn mass_flux_from_h_kg_m2s(
    h_w_m2k: f64,
    p_v_bulk_pa: f64,
    p_v_surface_pa: f64,
    gas: &MassTransferGas,
) -> f64 {
    let p = gas.p_total_pa;
    let b = p_v_bulk_pa.min(0.999 * p);
    let s = p_v_surface_pa.min(0.999 * p);
    let c = super::cube_root(gas.lewis);
    h_w_m2k * M_WATER_KG_MOL / (gas.cp_j_kgk * c * c * gas.molar_mass_kg_mol)
        * ln_ratio(p - s, p - b)
}

/// ln(a/b) of positive numbers: near 1 by the series of the inverse hyperbolic tangent, to 1e-8.
#[inline]
fn ln_ratio(a: f64, b: f64) -> f64 {
    let z = (a - b) / (a + b);
    if z.abs() > 0.2 {
        return (a / b).ln();
    }
    let z2 = z * z;
    z * (2.0 + z2 * (2.0 / 3.0 + z2 * (2.0 / 5.0 + z2 * (2.0 / 7.0 + z2 * (2.0 / 9.0)))))
}
