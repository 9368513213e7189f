//! Natural convection at plates and cylinders, and its sum with wind.

use super::{cube_root, power};

/// The Prandtl factor of Churchill & Chu: [1 + (c/Pr)^(9/16)]^(-8/27).
#[inline]
fn prandtl_factor(c: f64, pr: f64) -> f64 {
    // (c/Pr)^(9/16) = x^(1/2) x^(1/16), by square roots only.
    let s = (c / pr).sqrt();
    let x = 1.0 + s * s.sqrt().sqrt().sqrt();
    power(x, -8.0 / 27.0)
}

/// Nusselt number on height, vertical isothermal plate, all Rayleigh numbers (Churchill & Chu 1975).
///
/// Nu = {0.825 + 0.387 Ra^(1/6) / [1 + (0.492/Pr)^(9/16)]^(8/27)}²
///
/// - `ra` [-] on height, film properties; 0 to 1e12
/// - `pr` [-] any
///
/// Stated scatter: 10-20 %. Also for vertical cylinders with D/L > 35/Gr^(1/4).
/// Source: S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329.
/// Evidence: `published_churchill_chu_plate_matches_incropera_example_9_2`.
#[inline]
pub fn churchill_chu_plate(ra: f64, pr: f64) -> f64 {
    let t = 0.825 + 0.387 * cube_root(ra.max(0.0).sqrt()) * prandtl_factor(0.492, pr);
    t * t
}

/// Nusselt number on diameter, horizontal isothermal cylinder (Churchill & Chu 1975).
///
/// Nu = {0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}²
///
/// - `ra` [-] on diameter; 1e-5 to 1e12, any value >= 0
///
/// Source: S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1049-1053.
/// Evidence: `published_churchill_chu_cylinder_matches_ht`.
#[inline]
pub fn churchill_chu_cylinder(ra: f64, pr: f64) -> f64 {
    let t = 0.6 + 0.387 * cube_root(ra.max(0.0).sqrt()) * prandtl_factor(0.559, pr);
    t * t
}

/// (x^16 + y^16)^(1/16) by multiplications and square roots: a maximum without a kink, at most 4.4 % above it.
#[inline]
fn soft_max(x: f64, y: f64) -> f64 {
    let (hi, lo) = if x > y { (x, y) } else { (y, x) };
    if hi <= 0.0 {
        return 0.0;
    }
    let r = lo / hi;
    let r2 = r * r;
    let r4 = r2 * r2;
    let r8 = r4 * r4;
    hi * (1.0 + r8 * r8).sqrt().sqrt().sqrt().sqrt()
}

/// Nusselt number, hot plate facing up or cold plate facing down (McAdams).
///
/// Nu = 0.54 Ra^(1/4) (1e4 to 1e7), 0.15 Ra^(1/3) (1e7 to 1e11), joined smoothly; tends to 0 with Ra
///
/// - `ra` [-] on length = area/perimeter
///
/// Source: Bergman et al., 6th ed., eqs. 9.30-9.31. Evidence: `published_horizontal_plates_match_ht_mcadams`.
#[inline]
pub fn horizontal_plate_up(ra: f64) -> f64 {
    let ra = ra.max(0.0);
    soft_max(0.54 * ra.sqrt().sqrt(), 0.15 * cube_root(ra))
}

/// Nusselt number, hot plate facing down or cold plate facing up (McAdams).
///
/// Nu = 0.27 Ra^(1/4), 1e5 to 1e10
///
/// - `ra` [-] on length = area/perimeter
///
/// Source: Bergman et al., 6th ed., eq. 9.32. Evidence: `published_horizontal_plates_match_ht_mcadams`.
#[inline]
pub fn horizontal_plate_down(ra: f64) -> f64 {
    0.27 * ra.max(0.0).sqrt().sqrt()
}

/// Nusselt number on height, vertical slender cylinder (Popiel, Wojtkowiak & Bober 2007).
///
/// Nu/Nu_plate = 1 + B [32^(1/2) Gr^(−1/4) L/D]^C, B = 0.0571322 + 0.20305 Pr^(−0.43),
/// C = 0.9165 − 0.0043 Pr^(1/2) + 0.01333 ln Pr + 0.0004809/Pr
///
/// - `gr` [-] Grashof number on height; held at or above 1, below which conduction alone acts
/// - `pr` [-] 0.01 to 100; `l_over_d` [-] height over diameter
///
/// Source: Exp. Thermal Fluid Sci. 32 (2007) 607-613. Evidence: `published_popiel_slender_cylinder_matches_ht`.
pub fn vertical_slender_cylinder(gr: f64, pr: f64, l_over_d: f64) -> f64 {
    let gr = gr.max(1.0);
    let b = 0.0571322 + 0.20305 * pr.powf(-0.43);
    let c = 0.9165 - 0.0043 * pr.sqrt() + 0.01333 * pr.ln() + 0.0004809 / pr;
    let curvature = 32f64.sqrt() / gr.sqrt().sqrt() * l_over_d;
    churchill_chu_plate(gr * pr, pr) * (1.0 + b * curvature.powf(c))
}

/// Natural and forced convection together: Nu³ = Nu_nat³ + Nu_forced³.
///
/// Both on the same length. Exponent 3 for assisting or cross flow. Source: Bergman et al., 6th ed., section 9.9.
/// Evidence: `identity_mixed_convection_is_bounded_by_its_parts`.
#[inline]
pub fn mixed_with_wind(nu_nat: f64, nu_forced: f64) -> f64 {
    cube_root(nu_nat * nu_nat * nu_nat + nu_forced * nu_forced * nu_forced)
}
