//! Humid air: humidity ratio, density, dew point.

use super::species::{R_J_MOLK, WATER_VAPOUR};
use super::{Composition, SPECIES};
use crate::properties::water::Water;

/// kg of vapour per kg of dry air at relative humidity `rh` (0..1, over liquid water) and total pressure `p_pa`.
///
/// Ideal gases; where the vapour would fill more than half of the pressure (boiling hot air) it is held there.
/// Source: ASHRAE Handbook Fundamentals, Psychrometrics, W = 0.62198 pw / (p - pw) (from memory); the factor is
/// formed here from the molar masses.
pub fn humidity_ratio(t_k: f64, rh: f64, p_pa: f64) -> f64 {
    let pw_pa = vapour_pressure_pa(t_k, rh, p_pa);
    let m_air = Composition::dry_air().molar_mass_kg_mol();
    WATER_VAPOUR.molar_mass_kg_mol / m_air * pw_pa / (p_pa - pw_pa)
}

/// Density of humid air.
pub fn air_density_kg_m3(t_k: f64, rh: f64, p_pa: f64) -> f64 {
    let pw_pa = vapour_pressure_pa(t_k, rh, p_pa);
    let m_air = Composition::dry_air().molar_mass_kg_mol();
    ((p_pa - pw_pa) * m_air + pw_pa * WATER_VAPOUR.molar_mass_kg_mol) / (R_J_MOLK * t_k)
}

fn vapour_pressure_pa(t_k: f64, rh: f64, p_pa: f64) -> f64 {
    (rh.clamp(0.0, 1.0) * Water::shared().p_sat_pa(t_k)).min(0.5 * p_pa)
}

/// Temperature at which vapour of partial pressure `p_h2o_pa` begins to condense as water.
///
/// Valid from 60 Pa (248 K, over supercooled water) to 2.5 MPa; a lower pressure continues the line.
#[inline]
pub fn water_dew_point_k(p_h2o_pa: f64) -> f64 {
    Water::shared().t_sat_k(p_h2o_pa)
}

/// Partial pressure of the vapour in a gas of composition `c` at total pressure `p_pa`.
#[inline]
pub fn vapour_partial_pressure_pa(c: &Composition, p_pa: f64) -> f64 {
    let w = c.array();
    let mut moles = 0.0;
    for (y, s) in w.iter().zip(&SPECIES) {
        moles += y * (1.0 / s.molar_mass_kg_mol);
    }
    p_pa * c.h2o / (WATER_VAPOUR.molar_mass_kg_mol * moles)
}

/// Water dew point of a gas of composition `c` at total pressure `p_pa`.
#[inline]
pub fn gas_dew_point_k(c: &Composition, p_pa: f64) -> f64 {
    water_dew_point_k(vapour_partial_pressure_pa(c, p_pa))
}
