//! A checked door to the IAPWS-IF97 library: the domain is tested before the call.
//!
//! The library answers a bad argument with an ordinary number (such as -2101), so nothing else in the program
//! calls it. Only the table builder and the tests come through here; never a right-hand side.

use thiserror::Error;

/// Celsius zero, K.
const ZERO_C_K: f64 = 273.15;
/// Upper end of region 1 and of the saturation line used here, K.
pub(super) const T_SAT_MAX_K: f64 = 623.15;
/// Upper end of region 2, K.
const T_VAPOUR_MAX_K: f64 = 1073.15;
/// Upper pressure of region 1, Pa.
const P_MAX_PA: f64 = 100.0e6;

/// An argument outside the part of IAPWS-IF97 that this program uses.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum If97Error {
    #[error("temperature {0} K is outside IAPWS-IF97 (273.15 to 623.15 K, vapour to 1073.15 K)")]
    Temperature(f64),
    #[error("pressure {p_pa} Pa is not a {phase} state at {t_k} K")]
    Phase {
        p_pa: f64,
        t_k: f64,
        phase: &'static str,
    },
    #[error("pressure {0} Pa is outside the saturation line, 611.213 Pa to 16.5 MPa")]
    Pressure(f64),
}

/// Single-phase state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State {
    pub rho_kg_m3: f64,
    /// IF97 reference (liquid at the triple point), not the program's 298.15 K.
    pub h_if97_j_kg: f64,
    pub cp_j_kgk: f64,
    pub mu_pa_s: f64,
    pub k_w_mk: f64,
}

/// Saturation pressure (region 4), Pa; 273.15 to 623.15 K.
pub fn p_sat_pa(t_k: f64) -> Result<f64, If97Error> {
    if !(ZERO_C_K..=T_SAT_MAX_K).contains(&t_k) {
        return Err(If97Error::Temperature(t_k));
    }
    Ok(seuif97::tx(t_k - ZERO_C_K, 0.0, seuif97::OP) * 1e6)
}

/// Saturation temperature (region 4), K; 611.213 Pa to 16.529 MPa.
pub fn t_sat_k(p_pa: f64) -> Result<f64, If97Error> {
    if !(611.213..=16.529e6).contains(&p_pa) {
        return Err(If97Error::Pressure(p_pa));
    }
    Ok(seuif97::px(p_pa * 1e-6, 0.0, seuif97::OT) + ZERO_C_K)
}

/// Liquid (region 1): 273.15 to 623.15 K, saturation pressure to 100 MPa.
pub fn liquid(p_pa: f64, t_k: f64) -> Result<State, If97Error> {
    let ps = p_sat_pa(t_k)?;
    // Saturated states arrive with the rounding of their own pressure.
    if !(ps * (1.0 - 1e-6)..=P_MAX_PA).contains(&p_pa) {
        return Err(If97Error::Phase {
            p_pa,
            t_k,
            phase: "liquid",
        });
    }
    Ok(state(p_pa, t_k, 1))
}

/// Vapour (region 2): 273.15 to 1073.15 K, 1 Pa to saturation pressure, above 623.15 K to 10 MPa.
pub fn vapour(p_pa: f64, t_k: f64) -> Result<State, If97Error> {
    if !(ZERO_C_K..=T_VAPOUR_MAX_K).contains(&t_k) {
        return Err(If97Error::Temperature(t_k));
    }
    let ps = if t_k <= T_SAT_MAX_K {
        p_sat_pa(t_k)?
    } else {
        10.0e6
    };
    if !(1.0..=ps * (1.0 + 1e-6)).contains(&p_pa) {
        return Err(If97Error::Phase {
            p_pa,
            t_k,
            phase: "vapour",
        });
    }
    Ok(state(p_pa, t_k, 2))
}

fn state(p_pa: f64, t_k: f64, region: i32) -> State {
    let (p, t) = (p_pa * 1e-6, t_k - ZERO_C_K);
    State {
        rho_kg_m3: 1.0 / seuif97::pt(p, t, (seuif97::OV, region)),
        h_if97_j_kg: 1e3 * seuif97::pt(p, t, (seuif97::OH, region)),
        cp_j_kgk: 1e3 * seuif97::pt(p, t, (seuif97::OCP, region)),
        mu_pa_s: seuif97::pt(p, t, (seuif97::ODV, region)),
        k_w_mk: seuif97::pt(p, t, (seuif97::OTC, region)),
    }
}

/// Surface tension of water, N/m; 248.15 to 647.096 K.
///
/// Source: IAPWS R1-76(2014), equation 1.
pub fn sigma_n_m(t_k: f64) -> f64 {
    let tau = (1.0 - t_k / 647.096).clamp(0.0, 1.0);
    0.2358 * tau.powf(1.256) * (1.0 - 0.625 * tau)
}
