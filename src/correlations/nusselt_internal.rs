//! Nusselt numbers inside straight ducts and coiled tubes.

use super::cross_section::CrossSection;
use super::{cube_root, friction::Helix, power, smoothstep};

/// Mean Nusselt number, turbulent flow in a round tube (Gnielinski 1976).
///
/// Nu = (f/8)(Re − 1000) Pr / [1 + 12.7 √(f/8) (Pr^(2/3) − 1)]
///
/// - `re` [-] on inside diameter, bulk properties; 2300 to 5e6. Below 1000 the result is 0
/// - `pr` [-] bulk; 0.5 to 2000
/// - `f_darcy` [-] Darcy friction factor, not Fanning
///
/// Geometry: straight tube, fully developed. Stated scatter: 20 % for 90 % of the data.
/// Source: V. Gnielinski, Int. Chem. Eng. 16 (1976) 359-368.
/// Evidence: `published_gnielinski_matches_ht`.
#[inline]
pub fn gnielinski(re: f64, pr: f64, f_darcy: f64) -> f64 {
    let f8 = 0.125 * f_darcy;
    let c = cube_root(pr);
    f8 * (re - 1000.0).max(0.0) * pr / (1.0 + 12.7 * f8.sqrt() * (c * c - 1.0))
}

/// Mean Nusselt number, turbulent flow in a smooth tube (Dittus & Boelter, as McAdams writes it).
///
/// Nu = 0.023 Re^0.8 Pr^n, n = 0.4 for heating the fluid, 0.3 for cooling it
///
/// - `re` [-] 1e4 to 1.2e5; `pr` [-] 0.7 to 120
///
/// Stated scatter: 25 %. Source: Bergman et al., Introduction to Heat Transfer, 6th ed., eq. 8.60.
/// Evidence: `published_dittus_boelter_matches_ht`.
pub fn dittus_boelter(re: f64, pr: f64, fluid_is_heated: bool) -> f64 {
    let n = if fluid_is_heated { 0.4 } else { 0.3 };
    0.023 * re.max(0.0).powf(0.8) * pr.powf(n)
}

/// Mean Nusselt number, laminar flow with developing temperature profile (Hausen 1943), constant wall temperature.
///
/// Nu = 3.66 + 0.0668 Gz / (1 + 0.04 Gz^(2/3)), Gz = Re Pr D/L
///
/// Geometry: round tube, velocity profile developed (for Pr ≈ 0.7 the developing profile adds up to a
/// tenth near the inlet; see [`laminar_developing`]).
/// Source: H. Hausen, VDI-Z Beih. Verfahrenstechnik 4 (1943) 91-98; Bergman et al. 6th ed. eq. 8.57.
/// Evidence: `published_hausen_matches_ht`.
pub fn hausen(re: f64, pr: f64, d_over_l: f64) -> f64 {
    let gz = re * pr * d_over_l;
    let c = cube_root(gz);
    3.66 + 0.0668 * gz / (1.0 + 0.04 * c * c)
}

/// Mean Nusselt number, laminar flow with both profiles developing, constant wall temperature (Gnielinski, VDI).
///
/// Nu = {3.66³ + 0.7³ + (1.615 Gz^(1/3) − 0.7)³ + [(2/(1 + 22 Pr))^(1/6) Gz^(1/2)]³}^(1/3)
///
/// - `re` [-] < 2300; `pr` [-] > 0.1; `d_over_l` [-] <= 1
///
/// Source: VDI Heat Atlas, section G1, "Hydrodynamically and thermally developing laminar flow" (from memory).
/// Evidence: `identity_laminar_duct_tends_to_366`, `published_hausen_and_vdi_agree_when_developed`.
#[inline]
pub fn laminar_developing(re: f64, pr: f64, d_over_l: f64) -> f64 {
    CrossSection::ROUND.nusselt_laminar(re, pr, d_over_l)
}

/// Mean Nusselt number of a straight duct on its hydraulic diameter, laminar to turbulent, with inlet effects.
///
/// Laminar branch: [`laminar_developing`]. Turbulent branch: [`gnielinski`] with f = (0.79 ln Re − 1.64)^(−2)
/// and the inlet factor 1 + (D/L)^(2/3). Joined by a cubic step in Re from 2300 to 4000 (the band of Gnielinski
/// 2013), so value and slope are continuous.
///
/// - `re` [-] any value >= 0; to 1e6
/// - `pr` [-] 0.6 to 1000
/// - `d_over_l` [-] hydraulic diameter over the length over which the mean is wanted; 0: developed
///
/// Geometry: smooth, round; [`CrossSection`] has rectangles. Rough masonry transfers more: cover it by the closure's multiplier.
/// Gas that is cooled needs no temperature-ratio correction (exponent 0, VDI Heat Atlas G1).
/// Stated scatter: 10-20 %, transition worse.
/// Evidence: `published_duct_turbulent_branch_matches_gnielinski_rows`, `identity_duct_nusselt_has_no_jump`.
#[inline]
pub fn duct(re: f64, pr: f64, d_over_l: f64) -> f64 {
    CrossSection::ROUND.nusselt(re, pr, d_over_l)
}

/// Mean Nusselt number inside a coiled tube, laminar to turbulent.
///
/// Laminar (Schmidt 1967): Nu = 3.66 + 0.08 [1 + 0.8 (d/D)^0.9] Re^m Pr^(1/3), m = 0.5 + 0.2903 (d/D)^0.194.
/// Turbulent (Gnielinski 1986): Nu = (ζ/8) Re Pr / [1 + 12.7 √(ζ/8) (Pr^(2/3) − 1)], ζ = 0.3164 Re^(−1/4) + 0.03 √(d/D).
/// Joined by a cubic step from Re_crit to 2.2 Re_crit. The atlas draws a chord from Re_crit to 22,000; the
/// step stays within 7 % of it and has no kinks.
///
/// - `re` [-] on tube inside diameter, any value >= 0; to 1e5
/// - `pr` [-] 0.7 to 200
/// - `d_over_coil_d` [-] 0.01 to 0.14
///
/// Stated scatter: 15 %. Laminar models part ways near the transition: at d/D 0.11, Re 5000, Pr 3 this one gives 49,
/// Xin & Ebadian (1997) 48, Manlapaz & Churchill (1981) 40. Turbulent, it lies up to 20 % above Schmidt, Mori &
/// Nakayama, and Xin & Ebadian for water, whose straight-tube base (0.023 Re^0.8 Pr^(1/3)) is as far below Gnielinski.
/// Properties at bulk temperature; (Pr/Pr_wall)^0.14 is left to the caller.
/// Source: VDI Heat Atlas, section G3 (formulas also as printed in an open Modelica library's notes on VDI 2002, Gc).
/// Evidence: `published_helix_nusselt_lies_with_the_ht_family`, `published_helix_laminar_lies_with_independent_models`,
/// `published_helix_transition_stays_near_the_atlas_chord`.
pub fn helix(re: f64, pr: f64, d_over_coil_d: f64) -> f64 {
    Helix::new(d_over_coil_d, 0.0).nusselt(re, pr)
}

/// The body of [`helix`] with the geometry worked out beforehand.
#[inline]
pub(crate) fn helix_blend(
    re: f64,
    pr: f64,
    sqrt_ratio: f64,
    re_crit: f64,
    lam_coefficient: f64,
    lam_exponent: f64,
) -> f64 {
    let c = cube_root(pr);
    let w = smoothstep((re - re_crit) / (1.2 * re_crit));
    let mut nu = 0.0;
    if w < 1.0 {
        nu += (1.0 - w) * (3.66 + lam_coefficient * power(re.max(1e-30), lam_exponent) * c);
    }
    if w > 0.0 {
        let z8 = 0.125 * (0.3164 / re.sqrt().sqrt() + 0.03 * sqrt_ratio);
        nu += w * z8 * re * pr / (1.0 + 12.7 * z8.sqrt() * (c * c - 1.0));
    }
    nu
}

/// Laminar Nusselt number of a coiled tube at constant wall temperature (Manlapaz & Churchill 1981).
///
/// Nu = {[3.657 + 4.343/(1 + 957/(Pr De²))²]³ + 1.158 [De/(1 + 0.477/Pr)]^(3/2)}^(1/3)
///
/// A second model for checks. Source: R. L. Manlapaz, S. W. Churchill, Chem. Eng. Commun. 9 (1981) 185-200 (from memory).
pub fn helix_laminar_manlapaz_churchill(de: f64, pr: f64) -> f64 {
    let x = pr * de * de;
    let t = x / (x + 957.0);
    let a = 3.657 + 4.343 * t * t;
    let y = de / (1.0 + 0.477 / pr);
    cube_root(a * a * a + 1.158 * y * y.sqrt())
}
