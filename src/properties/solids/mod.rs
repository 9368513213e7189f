//! Wall materials: density, heat capacity, conductivity, emissivity, service limit.
//!
//! Heat capacity and conductivity are straight lines about 298.15 K, c(T) = c0 + c1 (T - 298.15 K), fitted over the
//! range in which the material is used in a stove. Building materials scatter by 20 % and more from piece to piece.

mod pores;
mod table;

pub use pores::{OWN_VAPOUR_RESISTANCE, Pores, most_water};

use super::atmosphere::SIGMA_W_M2K4;
use super::normal_name;

/// One wall material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solid {
    pub name: &'static str,
    pub aliases: &'static [&'static str],
    pub density_kg_m3: f64,
    /// c0 and c1.
    pub heat_capacity_j_kgk: f64,
    pub heat_capacity_slope_j_kgk2: f64,
    /// k0 and k1. For the air gap: at 20 mm; use [`Solid::conductivity`].
    pub conductivity_w_mk: f64,
    pub conductivity_slope_w_mk2: f64,
    /// Total hemispherical, surface as it is in use (oxidised metal).
    pub emissivity: f64,
    /// Service limit, where one is known.
    pub limit_k: Option<f64>,
    /// What happens at the limit.
    pub limit_reason: &'static str,
    /// A thin metal sheet.
    pub thin: bool,
    pub source: &'static str,
}

impl Solid {
    /// k0 and k1 of a layer of the given thickness; only the air gap depends on it.
    pub fn conductivity(&self, thickness_m: f64) -> (f64, f64) {
        if self.name == AIR_GAP {
            air_gap_conductivity(thickness_m, self.emissivity)
        } else {
            (self.conductivity_w_mk, self.conductivity_slope_w_mk2)
        }
    }
}

const AIR_GAP: &str = "air gap";

/// Effective conductivity of a closed air gap at `t_k` between two surfaces of the given emissivity, W/mK.
///
/// Still air plus radiation across the gap: k = k_air + d h_r with h_r = 4 sigma T3 / (2/e - 1). Convection in the gap
/// is left out: it adds nothing below about 10 mm (Rayleigh number 3e3 at 50 K) and up to a third of the still-air part at
/// 20 mm (2.6e4), while radiation carries three quarters of the heat there.
pub fn air_gap_w_mk(t_k: f64, thickness_m: f64, emissivity: f64) -> f64 {
    // Air: 0.0263 W/mK at 300 K, 0.0469 at 600 K (Incropera, Table A.4, from memory).
    let k_air = 0.0263 + (0.0469 - 0.0263) / 300.0 * (t_k - 300.0);
    k_air + thickness_m * 4.0 * SIGMA_W_M2K4 * t_k.powi(3) / (2.0 / emissivity - 1.0)
}

/// The line k0, k1 about 298.15 K that stands for [`air_gap_w_mk`]: the secant to 600 K.
pub fn air_gap_conductivity(thickness_m: f64, emissivity: f64) -> (f64, f64) {
    let (t0_k, t1_k) = (super::T_REF_K, 600.0);
    let k0 = air_gap_w_mk(t0_k, thickness_m, emissivity);
    let k1 = (air_gap_w_mk(t1_k, thickness_m, emissivity) - k0) / (t1_k - t0_k);
    (k0, k1)
}

/// Looks a material up by name or alias; case, `-` and `_` do not matter.
pub fn by_name(name: &str) -> Option<&'static Solid> {
    let n = normal_name(name);
    table::TABLE
        .iter()
        .find(|s| s.name == n || s.aliases.contains(&n.as_str()))
}

/// All names, without aliases.
pub fn names() -> Vec<&'static str> {
    table::TABLE.iter().map(|s| s.name).collect()
}

/// The whole table.
pub fn table() -> &'static [Solid] {
    table::TABLE
}
