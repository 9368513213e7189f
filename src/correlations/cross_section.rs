//! What the shape of a straight duct's cross-section is to laminar flow in it.

use super::nusselt_internal::gnielinski;
use super::{cube_root, friction, smoothstep};

/// Limits of the blend from laminar to turbulent.
const RE_LAMINAR: f64 = 2300.0;
const RE_TURBULENT: f64 = 4000.0;
/// Lévêque's coefficient over the cube root of f Re: Nu = 0.40377 (f Re Gz)^(1/3), 1.615 Gz^(1/3) in a tube with f Re = 64.
const LEVEQUE: f64 = 0.403_77;
/// f Re of laminar flow in a round tube.
const ROUND_F_RE: f64 = 64.0;

/// Laminar constants of a cross-section; build once, call often.
///
/// Source of rectangles: R. K. Shah & A. L. London, Laminar Flow Forced Convection in Ducts (1978), their polynomials in the ratio of the sides (from
/// memory; within 0.5 % of Bergman et al., Introduction to Heat Transfer, 6th ed., table 8.1).
/// Evidence: `published_rectangles_have_the_laminar_constants_of_the_table`, `published_a_slot_is_a_channel_of_parallel_plates`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrossSection {
    /// Developed Nusselt number at constant wall temperature, on the hydraulic diameter.
    pub nu_developed: f64,
    /// Darcy friction factor × Reynolds number.
    pub f_re: f64,
    /// Of the cube root of Graetz's number where the profile of temperature develops, and what is taken off it.
    leveque: f64,
    off: f64,
}

impl CrossSection {
    /// A round tube (VDI Heat Atlas, section G1).
    pub const ROUND: Self = Self {
        nu_developed: 3.66,
        f_re: ROUND_F_RE,
        leveque: 1.615,
        off: 0.7,
    };

    /// A rectangle; `aspect` [-] the shorter side over the longer, 0 (parallel plates) to 1.
    ///
    /// Nu = 7.541 (1 − 2.610 α + 4.970 α² − 5.119 α³ + 2.702 α⁴ − 0.548 α⁵), all four sides at one temperature;
    /// f Re = 96 (1 − 1.3553 α + 1.9467 α² − 1.7012 α³ + 0.9564 α⁴ − 0.2537 α⁵)
    pub fn rectangle(aspect: f64) -> Self {
        let a = aspect.clamp(0.0, 1.0);
        let of = |c: [f64; 6]| c.iter().rev().fold(0.0, |sum, c| sum * a + c);
        let f_re = 96.0 * of([1.0, -1.3553, 1.9467, -1.7012, 0.9564, -0.2537]);
        Self {
            nu_developed: 7.541 * of([1.0, -2.610, 4.970, -5.119, 2.702, -0.548]),
            f_re,
            leveque: LEVEQUE * cube_root(f_re),
            off: 0.0,
        }
    }

    /// Mean Nusselt number, laminar, both profiles developing, constant wall temperature.
    ///
    /// Nu = {Nu∞³ + o³ + (c Gz^(1/3) − o)³ + [(2/(1 + 22 Pr))^(1/6) Gz^(1/2)]³}^(1/3), Gz = Re Pr D/L. Of a round tube c = 1.615 and o = 0.7,
    /// else c = 0.40377 (f Re)^(1/3) and o = 0: 1.85 between parallel plates (1.841 in VDI Heat Atlas, section G2).
    #[inline]
    pub fn nusselt_laminar(&self, re: f64, pr: f64, d_over_l: f64) -> f64 {
        let gz = (re * pr * d_over_l).max(0.0);
        let developing = self.leveque * cube_root(gz) - self.off;
        // [(2/(1+22Pr))^(1/6) Gz^(1/2)]^3 = (2/(1+22Pr))^(1/2) Gz^(3/2)
        let inlet = (2.0 / (1.0 + 22.0 * pr)).sqrt() * gz * gz.sqrt();
        let cubed = |x: f64| x * x * x;
        cube_root(cubed(self.nu_developed) + cubed(self.off) + cubed(developing) + inlet)
    }

    /// Mean Nusselt number on the hydraulic diameter, all regimes: see [`super::nusselt_internal::duct`], which is that of a round tube.
    #[inline]
    pub fn nusselt(&self, re: f64, pr: f64, d_over_l: f64) -> f64 {
        if re <= RE_LAMINAR {
            return self.nusselt_laminar(re, pr, d_over_l);
        }
        let l = 0.79 * re.ln() - 1.64;
        let inlet = cube_root(d_over_l.max(0.0));
        let turbulent = gnielinski(re, pr, 1.0 / (l * l)) * (1.0 + inlet * inlet);
        if re >= RE_TURBULENT {
            return turbulent;
        }
        let w = smoothstep((re - RE_LAMINAR) / (RE_TURBULENT - RE_LAMINAR));
        let laminar = self.nusselt_laminar(re, pr, d_over_l);
        laminar + w * (turbulent - laminar)
    }

    /// Darcy friction factor × Reynolds number, all regimes: that of a pipe at the Reynolds number at which it has the same laminar friction (O. C. Jones,
    /// J. Fluids Eng. 98 (1976) 173-181, from memory; within 5 % of data for rectangles).
    #[inline]
    pub fn friction_f_re(&self, re: f64, rel_roughness: f64) -> f64 {
        let like = ROUND_F_RE / self.f_re;
        friction::pipe_f_re(re * like, rel_roughness) / like
    }
}
