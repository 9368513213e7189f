//! Liquid water and its saturation line, from tables made once out of IAPWS-IF97.
//!
//! Liquid properties depend on temperature only. They are taken along 3 bar absolute, and along the saturation
//! line where water at 3 bar would boil (above 406.67 K); between 1 and 4 bar the neglected pressure effect is
//! below 0.02 % on density and 0.2 kJ/kg on enthalpy. The heat capacity is the exact slope of the tabulated
//! enthalpy along that path, so that an energy balance in h and one in cp dT agree.

pub mod if97;
mod saturation;
mod steam;

pub use saturation::SatProps;
pub use steam::SteamProps;

use super::T_REF_K;
use super::cubic::{Cubic, Place};
use if97::If97Error;
use std::sync::LazyLock;

/// Pressure of the liquid table, Pa.
pub const TABLE_PRESSURE_PA: f64 = 3.0e5;
/// Range of the liquid table, K; outside it density, viscosity and conductivity stay flat, enthalpy goes straight.
pub const LIQUID_RANGE_K: (f64, f64) = (273.15, 501.15);
/// Table spacing, K.
const SPACING_K: f64 = 2.0;

const RHO: usize = 0;
const H: usize = 1;
const MU: usize = 2;
const K: usize = 3;

/// Liquid water at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LiquidProps {
    pub rho_kg_m3: f64,
    pub cp_j_kgk: f64,
    pub mu_pa_s: f64,
    pub k_w_mk: f64,
}

impl LiquidProps {
    /// Prandtl number.
    #[inline]
    pub fn pr(&self) -> f64 {
        self.mu_pa_s * self.cp_j_kgk / self.k_w_mk
    }
}

/// The tables. Build once, keep the reference: every look-up is a few multiplications.
pub struct Water {
    liquid: Cubic<4>,
    /// T against h, for the inverse.
    t_of_h: Cubic<1>,
    sat: saturation::Saturation,
    steam: steam::Steam,
}

static SHARED: LazyLock<Water> = LazyLock::new(|| {
    Water::build().expect("table range lies inside IF97") // invariant: constant ranges, see the tests
});

impl Water {
    /// The one table of the program, built at first use (about a millisecond).
    pub fn shared() -> &'static Water {
        &SHARED
    }

    fn build() -> Result<Self, If97Error> {
        let (t0, t1) = LIQUID_RANGE_K;
        let n = ((t1 - t0) / SPACING_K).round() as usize;
        // Fail here, before the infallible sampling below, if the range ever leaves IF97.
        liquid_on_path(t0)?;
        liquid_on_path(t1)?;
        let mut liquid = Cubic::<4>::sample(t0, t1, n, |t_k| {
            liquid_on_path(t_k)
                .map(|s| [s.rho_kg_m3, s.h_if97_j_kg, s.mu_pa_s, s.k_w_mk])
                .unwrap_or([f64::NAN; 4])
        });
        // The path has a kink in slope where it leaves 3 bar: differences across it would smear over four cells.
        liquid.set_slopes(H, |t_k| path_slope_j_kgk(t_k).unwrap_or(f64::NAN));
        let h_ref = liquid.flat(liquid.place(T_REF_K), H);
        liquid.shift(H, -h_ref);
        let h_at = |t_k: f64| liquid.flat(liquid.place(t_k), H);
        let t_of_h = Cubic::<1>::sample(h_at(t0), h_at(t1), n, |h| [solve_t(&liquid, h)]);
        let sat = saturation::Saturation::build()?;
        let steam = steam::Steam::build()?;
        Ok(Self {
            liquid,
            t_of_h,
            sat,
            steam,
        })
    }

    /// All liquid properties at `t_k` in one look-up.
    #[inline]
    pub fn liquid(&self, t_k: f64) -> LiquidProps {
        let p = self.liquid.place(t_k);
        let v = self.liquid.all_flat(p);
        LiquidProps {
            rho_kg_m3: v[RHO],
            cp_j_kgk: self.liquid.slope(p, H),
            mu_pa_s: v[MU],
            k_w_mk: v[K],
        }
    }

    /// [`Self::liquid`] and [`Self::h_j_kg`] in one look-up.
    #[inline(always)]
    pub fn liquid_and_h(&self, t_k: f64) -> (LiquidProps, f64) {
        let p = self.liquid.place(t_k);
        let v = self.liquid.all_flat(p);
        let cp_j_kgk = self.liquid.slope(p, H);
        let props = LiquidProps {
            rho_kg_m3: v[RHO],
            cp_j_kgk,
            mu_pa_s: v[MU],
            k_w_mk: v[K],
        };
        (props, v[H] + p.beyond * cp_j_kgk)
    }

    /// Liquid density.
    #[inline]
    pub fn rho_kg_m3(&self, t_k: f64) -> f64 {
        self.liquid.flat(self.liquid.place(t_k), RHO)
    }

    /// Liquid enthalpy above liquid at 298.15 K; rises strictly with temperature.
    #[inline(always)]
    pub fn h_j_kg(&self, t_k: f64) -> f64 {
        self.liquid.straight(self.liquid.place(t_k), H)
    }

    /// Slope of [`Self::h_j_kg`]; equals `liquid(t_k).cp_j_kgk`.
    #[inline]
    pub fn dh_dt_j_kgk(&self, t_k: f64) -> f64 {
        self.liquid.slope(self.liquid.place(t_k), H)
    }

    /// Enthalpy and its slope in one look-up.
    #[inline(always)]
    pub fn h_cp(&self, t_k: f64) -> (f64, f64) {
        let p = self.liquid.place(t_k);
        (self.liquid.straight(p, H), self.liquid.slope(p, H))
    }

    /// Temperature of liquid with enthalpy `h_j_kg`: inverse of [`Self::h_j_kg`] to 1e-9 K.
    #[inline(always)]
    pub fn t_from_h_k(&self, h_j_kg: f64) -> f64 {
        let first = self.t_of_h.straight(self.t_of_h.place(h_j_kg), 0);
        let (h, cp) = self.h_cp(first);
        first - (h - h_j_kg) / cp
    }

    /// Saturation temperature at absolute pressure `p_pa`.
    ///
    /// 60 Pa to 2.5 MPa; below the triple point over supercooled liquid. Outside: straight in ln p.
    #[inline]
    pub fn t_sat_k(&self, p_pa: f64) -> f64 {
        self.sat.t_sat_k(p_pa)
    }

    /// Saturation pressure over liquid, 248.15 to 498.15 K (over supercooled liquid below 273.15 K); flat outside.
    #[inline]
    pub fn p_sat_pa(&self, t_k: f64) -> f64 {
        self.sat.p_sat_pa(t_k)
    }

    /// Heat of vaporisation at `t_k`, 248.15 to 498.15 K; flat outside.
    #[inline]
    pub fn h_fg_at_t_j_kg(&self, t_k: f64) -> f64 {
        self.sat.h_fg_at_t_j_kg(t_k)
    }

    /// Both phases at saturation pressure `p_pa`, enthalpies above liquid at 298.15 K.
    ///
    /// The liquid is that of [`Self::liquid`] at the saturation temperature, so that nothing jumps where
    /// liquid begins to boil.
    #[inline]
    pub fn sat(&self, p_pa: f64) -> SatProps {
        let v = self.sat.vapour(p_pa);
        let p: Place = self.liquid.place(v.t_k);
        let liquid = self.liquid.all_flat(p);
        let h_f_j_kg = self.liquid.straight(p, H);
        SatProps {
            t_k: v.t_k,
            h_f_j_kg,
            h_g_j_kg: h_f_j_kg + v.h_fg_j_kg,
            h_fg_j_kg: v.h_fg_j_kg,
            rho_f_kg_m3: liquid[RHO],
            rho_g_kg_m3: v.rho_g_kg_m3,
            cp_f_j_kgk: self.liquid.slope(p, H),
            cp_g_j_kgk: v.cp_g_j_kgk,
            mu_f_pa_s: liquid[MU],
            mu_g_pa_s: v.mu_g_pa_s,
            k_f_w_mk: liquid[K],
            k_g_w_mk: v.k_g_w_mk,
            sigma_n_m: v.sigma_n_m,
        }
    }

    /// Steam of pressure `p_pa` at `t_k`, saturated or superheated: 60 Pa to 2 MPa, up to 1073 K.
    ///
    /// At the saturation temperature this is the vapour of [`Self::sat`]; enthalpy above liquid at 298.15 K.
    pub fn steam(&self, p_pa: f64, t_k: f64) -> SteamProps {
        self.steam.props(&self.sat, |t| self.h_j_kg(t), p_pa, t_k)
    }

    /// Temperature of superheated steam of enthalpy `h_j_kg`; the saturation temperature at or below saturation.
    pub fn steam_t_from_h_k(&self, p_pa: f64, h_j_kg: f64) -> f64 {
        let g = self.sat(p_pa);
        if h_j_kg <= g.h_g_j_kg {
            return g.t_k;
        }
        let mut t_k = g.t_k + (h_j_kg - g.h_g_j_kg) / 2000.0;
        for _ in 0..50 {
            let s = self.steam(p_pa, t_k);
            let step = (h_j_kg - s.h_j_kg) / s.cp_j_kgk;
            t_k = (t_k + step).max(g.t_k);
            if step.abs() < 1e-7 {
                break;
            }
        }
        t_k
    }
}

/// IF97 liquid at 3 bar, or saturated where 3 bar is not enough.
fn liquid_on_path(t_k: f64) -> Result<if97::State, If97Error> {
    let p_pa = if97::p_sat_pa(t_k)?.max(TABLE_PRESSURE_PA);
    if97::liquid(p_pa, t_k)
}

/// dh/dT along the path: cp at 3 bar, beyond it the slope of the saturated liquid's enthalpy.
fn path_slope_j_kgk(t_k: f64) -> Result<f64, If97Error> {
    if if97::p_sat_pa(t_k)? < TABLE_PRESSURE_PA {
        return Ok(if97::liquid(TABLE_PRESSURE_PA, t_k)?.cp_j_kgk);
    }
    let d_k = 0.01;
    let (a, b) = (liquid_on_path(t_k - d_k)?, liquid_on_path(t_k + d_k)?);
    Ok((b.h_if97_j_kg - a.h_if97_j_kg) / (2.0 * d_k))
}

/// Newton on the enthalpy table; the slope never vanishes.
fn solve_t(liquid: &Cubic<4>, h_j_kg: f64) -> f64 {
    let mut t_k = T_REF_K + h_j_kg / 4200.0;
    for _ in 0..30 {
        let p = liquid.place(t_k);
        let step = (liquid.straight(p, H) - h_j_kg) / liquid.slope(p, H);
        t_k -= step;
        if step.abs() < 1e-11 {
            break;
        }
    }
    t_k
}
