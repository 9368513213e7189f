//! The saturation line of water against pressure (ln p) and against temperature.

use super::if97::{self, If97Error};
use crate::properties::cubic::Cubic;

/// Both phases at saturation. Enthalpies are above liquid water at 298.15 K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SatProps {
    pub t_k: f64,
    pub h_f_j_kg: f64,
    pub h_g_j_kg: f64,
    pub h_fg_j_kg: f64,
    pub rho_f_kg_m3: f64,
    pub rho_g_kg_m3: f64,
    pub cp_f_j_kgk: f64,
    pub cp_g_j_kgk: f64,
    pub mu_f_pa_s: f64,
    pub mu_g_pa_s: f64,
    pub k_f_w_mk: f64,
    pub k_g_w_mk: f64,
    /// Surface tension.
    pub sigma_n_m: f64,
}

/// The vapour's half of [`SatProps`].
pub(super) struct VapourSide {
    pub t_k: f64,
    pub h_fg_j_kg: f64,
    pub rho_g_kg_m3: f64,
    pub cp_g_j_kgk: f64,
    pub mu_g_pa_s: f64,
    pub k_g_w_mk: f64,
    pub sigma_n_m: f64,
}

pub(super) struct Saturation {
    /// Against ln(p/Pa): T, h_fg, rho_g, cp_g, mu_g, k_g, sigma.
    by_ln_p: Cubic<7>,
    /// Against T: p_sat, h_fg.
    by_t: Cubic<2>,
}

const P_MIN_PA: f64 = 60.0;
const P_MAX_PA: f64 = 2.5e6;
const T_MIN_K: f64 = 248.15;
const T_MAX_K: f64 = 498.15;
/// Cells across ln p and across T.
const CELLS_LN_P: usize = 320;
const CELLS_T: usize = 250;
/// IF97 begins here; below it the vapour over supercooled liquid is continued.
const T_ICE_K: f64 = 273.15;

impl Saturation {
    pub(super) fn build() -> Result<Self, If97Error> {
        let cold = Cold::new()?;
        // Fail here, before the infallible sampling below, if the range ever leaves IF97.
        point(if97::t_sat_k(P_MAX_PA)?, &cold)?;
        point(T_MAX_K, &cold)?;
        let by_t = Cubic::<2>::sample(T_MIN_K, T_MAX_K, CELLS_T, |t_k| {
            point(t_k, &cold)
                .map(|s| [s.p_pa, s.side.h_fg_j_kg])
                .unwrap_or([f64::NAN; 2])
        });
        let by_ln_p = Cubic::<7>::sample(P_MIN_PA.ln(), P_MAX_PA.ln(), CELLS_LN_P, |ln_p| {
            invert_p(ln_p.exp(), &cold)
                .and_then(|t_k| point(t_k, &cold))
                .map(|s| {
                    let v = s.side;
                    [
                        v.t_k,
                        v.h_fg_j_kg,
                        v.rho_g_kg_m3,
                        v.cp_g_j_kgk,
                        v.mu_g_pa_s,
                        v.k_g_w_mk,
                        v.sigma_n_m,
                    ]
                })
                .unwrap_or([f64::NAN; 7])
        });
        Ok(Self { by_ln_p, by_t })
    }

    #[inline]
    pub(super) fn t_sat_k(&self, p_pa: f64) -> f64 {
        self.by_ln_p.straight(self.by_ln_p.place(ln_p(p_pa)), 0)
    }

    #[inline]
    pub(super) fn p_sat_pa(&self, t_k: f64) -> f64 {
        self.by_t.flat(self.by_t.place(t_k), 0)
    }

    #[inline]
    pub(super) fn h_fg_at_t_j_kg(&self, t_k: f64) -> f64 {
        self.by_t.flat(self.by_t.place(t_k), 1)
    }

    #[inline]
    pub(super) fn vapour(&self, p_pa: f64) -> VapourSide {
        let p = self.by_ln_p.place(ln_p(p_pa));
        let v = self.by_ln_p.all_flat(p);
        VapourSide {
            t_k: self.by_ln_p.straight(p, 0),
            h_fg_j_kg: v[1],
            rho_g_kg_m3: v[2],
            cp_g_j_kgk: v[3],
            mu_g_pa_s: v[4],
            k_g_w_mk: v[5],
            sigma_n_m: v[6],
        }
    }
}

/// ln p, kept finite for a pressure of zero or below.
#[inline]
fn ln_p(p_pa: f64) -> f64 {
    p_pa.max(1e-3).ln()
}

struct Point {
    p_pa: f64,
    side: VapourSide,
}

/// How the vapour is continued below 273.15 K: values and slopes there.
struct Cold {
    p_ice_pa: f64,
    at: if97::State,
    cp_slope: f64,
    mu_slope: f64,
    k_slope: f64,
    h_fg: f64,
    h_fg_slope: f64,
    /// Compressibility factor p / (rho R T) of the saturated vapour at 273.15 K.
    z: f64,
}

impl Cold {
    fn new() -> Result<Self, If97Error> {
        let d = 0.5;
        let p_ice_pa = if97::p_sat_pa(T_ICE_K)?;
        let at = if97::vapour(p_ice_pa, T_ICE_K)?;
        let h_fg_at = |t_k: f64| -> Result<(f64, if97::State), If97Error> {
            let p = if97::p_sat_pa(t_k)?;
            let g = if97::vapour(p, t_k)?;
            Ok((g.h_if97_j_kg - if97::liquid(p, t_k)?.h_if97_j_kg, g))
        };
        let (h0, _) = h_fg_at(T_ICE_K)?;
        let (h1, g1) = h_fg_at(T_ICE_K + d)?;
        Ok(Self {
            p_ice_pa,
            at,
            cp_slope: (g1.cp_j_kgk - at.cp_j_kgk) / d,
            mu_slope: (g1.mu_pa_s - at.mu_pa_s) / d,
            k_slope: (g1.k_w_mk - at.k_w_mk) / d,
            h_fg: h0,
            h_fg_slope: (h1 - h0) / d,
            z: p_ice_pa / (at.rho_kg_m3 * R_WATER_J_KGK * T_ICE_K),
        })
    }
}

/// Gas constant of water, J/kgK (IAPWS R7-97, equation 1).
pub(super) const R_WATER_J_KGK: f64 = 461.526;

/// The saturation state at `t_k`: IF97 from 273.15 K up, continued below it.
fn point(t_k: f64, cold: &Cold) -> Result<Point, If97Error> {
    let sigma_n_m = if97::sigma_n_m(t_k);
    if t_k >= T_ICE_K {
        let p_pa = if97::p_sat_pa(t_k)?;
        let g = if97::vapour(p_pa, t_k)?;
        let f = if97::liquid(p_pa, t_k)?;
        return Ok(Point {
            p_pa,
            side: VapourSide {
                t_k,
                h_fg_j_kg: g.h_if97_j_kg - f.h_if97_j_kg,
                rho_g_kg_m3: g.rho_kg_m3,
                cp_g_j_kgk: g.cp_j_kgk,
                mu_g_pa_s: g.mu_pa_s,
                k_g_w_mk: g.k_w_mk,
                sigma_n_m,
            },
        });
    }
    let d = t_k - T_ICE_K;
    let p_pa = cold.p_ice_pa * supercooled_p_sat_pa(t_k) / supercooled_p_sat_pa(T_ICE_K);
    Ok(Point {
        p_pa,
        side: VapourSide {
            t_k,
            h_fg_j_kg: cold.h_fg + cold.h_fg_slope * d,
            rho_g_kg_m3: p_pa / (cold.z * R_WATER_J_KGK * t_k),
            cp_g_j_kgk: cold.at.cp_j_kgk + cold.cp_slope * d,
            mu_g_pa_s: cold.at.mu_pa_s + cold.mu_slope * d,
            k_g_w_mk: cold.at.k_w_mk + cold.k_slope * d,
            sigma_n_m,
        },
    })
}

/// Vapour pressure over supercooled liquid water, Pa; 123 to 332 K.
///
/// Source: Murphy & Koop 2005, Q. J. R. Meteorol. Soc. 131:1539, equation 10.
pub(super) fn supercooled_p_sat_pa(t_k: f64) -> f64 {
    let ln_t = t_k.ln();
    (54.842763 - 6763.22 / t_k - 4.210 * ln_t
        + 0.000367 * t_k
        + (0.0415 * (t_k - 218.8)).tanh()
            * (53.878 - 1331.22 / t_k - 9.44523 * ln_t + 0.014025 * t_k))
        .exp()
}

/// Temperature whose saturation pressure is `p_pa`.
fn invert_p(p_pa: f64, cold: &Cold) -> Result<f64, If97Error> {
    if p_pa >= cold.p_ice_pa {
        return Ok(if97::t_sat_k(p_pa.max(611.213))?.max(T_ICE_K));
    }
    let scale = cold.p_ice_pa / supercooled_p_sat_pa(T_ICE_K);
    // d ln p / d(1/T) is nearly constant: secant in those variables converges in a few steps.
    let mut inv_t = 1.0 / T_ICE_K;
    let slope = -6100.0;
    for _ in 0..60 {
        let err = (p_pa / (scale * supercooled_p_sat_pa(1.0 / inv_t))).ln();
        inv_t += err / slope;
        if err.abs() < 1e-13 {
            break;
        }
    }
    Ok(1.0 / inv_t)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The formula as published, before it is joined to IF97: 611.657 Pa at the triple point (IAPWS R6-95), region 4 of IAPWS
    /// R7-97 up to its end (Murphy & Koop: 332 K), 37.667 Pa at 240 K (their table of check values, from memory).
    #[test]
    fn published_formula_over_supercooled_water_meets_the_steam_tables() {
        let near = |t_k: f64, p_pa: f64, rel: f64| {
            let got = supercooled_p_sat_pa(t_k);
            assert!((got / p_pa - 1.0).abs() < rel, "{t_k} K: {got}, {p_pa}");
        };
        near(273.16, 611.657, 1e-4);
        near(240.0, 37.667, 1e-4);
        for t_k in [275.0, 285.0, 300.0, 315.0, 330.0] {
            near(t_k, if97::p_sat_pa(t_k).unwrap_or(f64::NAN), 1e-3);
        }
    }
}
