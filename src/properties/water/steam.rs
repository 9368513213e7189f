//! Superheated steam at low pressure, joined without a step to the saturation line.

use super::if97::{self, If97Error};
use super::saturation::{R_WATER_J_KGK, Saturation};
use crate::properties::cubic::{Cubic, Place};

/// Superheated steam (or saturated, at the saturation temperature).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteamProps {
    pub rho_kg_m3: f64,
    /// Above liquid water at 298.15 K.
    pub h_j_kg: f64,
    pub cp_j_kgk: f64,
    pub mu_pa_s: f64,
    pub k_w_mk: f64,
}

/// Range of the table, K.
const T_MIN_K: f64 = 273.15;
const T_MAX_K: f64 = 1073.15;
const SPACING_K: f64 = 4.0;
/// Highest pressure of the fit, Pa.
const P_FIT_PA: f64 = 2.0e6;
/// Pressure above which the expansion is held, Pa.
const P_MAX_PA: f64 = 2.5e6;

// Functions of temperature in the table.
/// h = H0 + H1 p + H2 p2 in J/kg, p in MPa.
const H0: usize = 0;
const H1: usize = 1;
const H2: usize = 2;
/// Compressibility Z = 1 + Z1 p + Z2 p2.
const Z1: usize = 3;
const Z2: usize = 4;
/// Viscosity and conductivity at the low-pressure end.
const MU: usize = 5;
const K: usize = 6;

/// Virial-like expansion in pressure at each temperature, fitted to IF97 region 2 up to saturation or 2 MPa.
pub(super) struct Steam {
    table: Cubic<7>,
}

impl Steam {
    pub(super) fn build() -> Result<Self, If97Error> {
        // Fail here, before the infallible sampling below, if the range ever leaves IF97.
        expansion(T_MIN_K)?;
        expansion(T_MAX_K)?;
        let n = ((T_MAX_K - T_MIN_K) / SPACING_K).round() as usize;
        Ok(Self {
            table: Cubic::<7>::sample(T_MIN_K, T_MAX_K, n, |t_k| {
                expansion(t_k).unwrap_or([f64::NAN; 7])
            }),
        })
    }

    /// Raw enthalpy and its slope at constant pressure, on an arbitrary zero.
    #[inline]
    fn h_cp(&self, place: Place, p_mpa: f64) -> (f64, f64) {
        let at = |k| self.table.straight(place, k);
        let slope = |k| self.table.slope(place, k);
        (
            at(H0) + p_mpa * (at(H1) + p_mpa * at(H2)),
            slope(H0) + p_mpa * (slope(H1) + p_mpa * slope(H2)),
        )
    }

    #[inline]
    fn z(&self, place: Place, p_mpa: f64) -> f64 {
        1.0 + p_mpa * (self.table.flat(place, Z1) + p_mpa * self.table.flat(place, Z2))
    }

    /// Properties at `t_k`, counted from the saturated vapour of the same pressure.
    pub(super) fn props(
        &self,
        sat: &Saturation,
        h_g_j_kg: impl Fn(f64) -> f64,
        p_pa: f64,
        t_k: f64,
    ) -> SteamProps {
        let g = sat.vapour(p_pa);
        // Steam is never colder than saturation; above the fit's pressure the expansion is held.
        let t_k = t_k.max(g.t_k);
        let p_mpa = p_pa.clamp(0.0, P_MAX_PA) * 1e-6;
        let (here, there) = (self.table.place(t_k), self.table.place(g.t_k));
        let (h, cp_j_kgk) = self.h_cp(here, p_mpa);
        let (h_sat, _) = self.h_cp(there, p_mpa);
        let per_rho = |t_k: f64, place: Place| t_k * self.z(place, p_mpa);
        let mu = self.table.flat(here, MU) - self.table.flat(there, MU);
        let k = self.table.flat(here, K) - self.table.flat(there, K);
        SteamProps {
            rho_kg_m3: g.rho_g_kg_m3 * per_rho(g.t_k, there) / per_rho(t_k, here),
            h_j_kg: h_g_j_kg(g.t_k) + g.h_fg_j_kg + h - h_sat,
            cp_j_kgk,
            mu_pa_s: g.mu_g_pa_s + mu,
            k_w_mk: g.k_g_w_mk + k,
        }
    }
}

/// Coefficients of the expansion at one temperature: exact at three pressures.
fn expansion(t_k: f64) -> Result<[f64; 7], If97Error> {
    let p_max_pa = if t_k < if97::T_SAT_MAX_K {
        if97::p_sat_pa(t_k)?.min(P_FIT_PA)
    } else {
        P_FIT_PA
    };
    let p_pa = [0.1 * p_max_pa, 0.55 * p_max_pa, p_max_pa];
    let mut h = [0.0; 3];
    let mut z = [0.0; 3];
    let mut low = None;
    for i in 0..3 {
        let s = if97::vapour(p_pa[i], t_k)?;
        h[i] = s.h_if97_j_kg;
        z[i] = (p_pa[i] / (s.rho_kg_m3 * R_WATER_J_KGK * t_k) - 1.0) / (p_pa[i] * 1e-6);
        low.get_or_insert((s.mu_pa_s, s.k_w_mk));
    }
    let p = p_pa.map(|p| p * 1e-6);
    let [h0, h1, h2] = parabola(p, h);
    let z2 = (z[2] - z[0]) / (p[2] - p[0]);
    let (mu, k) = low.unwrap_or_default();
    Ok([h0, h1, h2, z[0] - z2 * p[0], z2, mu, k])
}

/// Coefficients of the parabola through three points.
fn parabola(x: [f64; 3], y: [f64; 3]) -> [f64; 3] {
    let d01 = (y[1] - y[0]) / (x[1] - x[0]);
    let d12 = (y[2] - y[1]) / (x[2] - x[1]);
    let c = (d12 - d01) / (x[2] - x[0]);
    let b = d01 - c * (x[0] + x[1]);
    [y[0] - x[0] * (b + c * x[0]), b, c]
}
