//! Void fraction and friction of water and steam flowing together.

/// Void fraction from mass quality at a given slip ratio.
///
/// α = x / [x + S (1 − x) ρ_g/ρ_f]
///
/// - `x` [-] flow quality, clamped to 0..1; `slip` [-] u_g/u_f, 1: homogeneous
///
/// Evidence: `analytic_void_fraction_of_homogeneous_flow`.
#[inline]
pub fn void_fraction(x: f64, rho_f_kg_m3: f64, rho_g_kg_m3: f64, slip: f64) -> f64 {
    let x = x.clamp(0.0, 1.0);
    x / (x + slip * (1.0 - x) * rho_g_kg_m3 / rho_f_kg_m3)
}

/// Slip ratio of least entropy production, annular flow (Zivi 1964): S = (ρ_f/ρ_g)^(1/3); an upper bound.
///
/// Source: S. M. Zivi, J. Heat Transfer 86 (1964) 247-252. Evidence: `published_void_fractions_match_fluids`.
pub fn slip_zivi(rho_f_kg_m3: f64, rho_g_kg_m3: f64) -> f64 {
    (rho_f_kg_m3 / rho_g_kg_m3).cbrt()
}

/// Slip ratio (Chisholm 1972): S = √[1 − x (1 − ρ_f/ρ_g)]; 1 at x = 0, so a coil that starts to boil sees no jump.
///
/// Source: D. Chisholm, NEL report 1972, as in `fluids` 1.3.1. Evidence: `published_void_fractions_match_fluids`.
#[inline]
pub fn slip_chisholm(x: f64, rho_f_kg_m3: f64, rho_g_kg_m3: f64) -> f64 {
    (1.0 + x.clamp(0.0, 1.0) * (rho_f_kg_m3 / rho_g_kg_m3 - 1.0)).sqrt()
}

/// Void fraction by drift flux (Rouhani & Axelsson 1970, vertical): steam rises through slow water.
///
/// α = (x/ρ_g) / {C0 [x/ρ_g + (1 − x)/ρ_f] + u_gj/G}, C0 = 1 + 0.12 (1 − x), u_gj = 1.18 (1 − x) [g σ (ρ_f − ρ_g)]^(1/4)/√ρ_f
///
/// - `g_kg_m2s` mass flux; tends to 0 void at rest (steam escapes upwards). Use it for a thermosyphon's riser;
///   a pumped coil with G > 300 is close to [`slip_chisholm`]
///
/// Source: Int. J. Heat Mass Transfer 13 (1970) 383-393 (from memory).
/// Evidence: `published_void_fractions_match_fluids`.
pub fn void_drift_flux(
    x: f64,
    g_kg_m2s: f64,
    rho_f_kg_m3: f64,
    rho_g_kg_m3: f64,
    sigma_n_m: f64,
) -> f64 {
    let x = x.clamp(0.0, 1.0);
    let g = g_kg_m2s.abs();
    let drift =
        1.18 * (1.0 - x) * (9.80665 * sigma_n_m * (rho_f_kg_m3 - rho_g_kg_m3).max(0.0)).powf(0.25)
            / rho_f_kg_m3.sqrt();
    let jg = x / rho_g_kg_m3;
    let c0 = 1.0 + 0.12 * (1.0 - x);
    let den = g * c0 * (jg + (1.0 - x) / rho_f_kg_m3) + drift;
    if den > 0.0 { g * jg / den } else { 0.0 }
}

/// Two-phase friction multiplier on the all-liquid gradient, homogeneous with McAdams' viscosity.
///
/// φ² = [1 + x (ρ_f/ρ_g − 1)] [1 + x (μ_f/μ_g − 1)]^(−1/4)
///
/// - exact limits: 1 at x = 0; ratio of the all-vapour to the all-liquid Blasius drop at x = 1
///
/// Scatter: 30-50 %. Source: J. G. Collier, J. R. Thome, Convective Boiling and Condensation, 3rd ed., ch. 2.
/// Evidence: `analytic_homogeneous_multiplier_limits`.
#[inline]
pub fn friction_multiplier_homogeneous(
    x: f64,
    rho_f_kg_m3: f64,
    rho_g_kg_m3: f64,
    mu_f_pa_s: f64,
    mu_g_pa_s: f64,
) -> f64 {
    let x = x.clamp(0.0, 1.0);
    (1.0 + x * (rho_f_kg_m3 / rho_g_kg_m3 - 1.0))
        / (1.0 + x * (mu_f_pa_s / mu_g_pa_s - 1.0)).sqrt().sqrt()
}

/// State of the mixture for [`friction_multiplier_friedel`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoPhaseFlow {
    pub rho_f_kg_m3: f64,
    pub rho_g_kg_m3: f64,
    pub mu_f_pa_s: f64,
    pub mu_g_pa_s: f64,
    pub sigma_n_m: f64,
    /// Mass flux.
    pub g_kg_m2s: f64,
    /// Tube inside diameter.
    pub d_m: f64,
    /// Darcy factor of the whole flow as vapour over that of the whole flow as liquid.
    pub f_go_over_f_lo: f64,
}

/// Two-phase friction multiplier on the all-liquid gradient (Friedel 1979): a second model.
///
/// φ² = (1−x)² + x² (ρ_f f_go)/(ρ_g f_lo) + 3.24 x^0.78 (1−x)^0.224 H / (Fr^0.0454 We^0.035)
///
/// - mass flux held at or above 1 kg/(m² s), where the multiplier no longer matters
///
/// Stated scatter: 40 %. Source: as in `fluids` 1.3.1 (`two_phase.Friedel`). Evidence: `published_friedel_matches_fluids`.
pub fn friction_multiplier_friedel(x: f64, s: &TwoPhaseFlow) -> f64 {
    let x = x.clamp(0.0, 1.0);
    let rho_h = 1.0 / (x / s.rho_g_kg_m3 + (1.0 - x) / s.rho_f_kg_m3);
    let g = s.g_kg_m2s.abs().max(1.0);
    let fr = g * g / (9.80665 * s.d_m * rho_h * rho_h);
    let we = g * g * s.d_m / (s.sigma_n_m * rho_h);
    let r = s.mu_g_pa_s / s.mu_f_pa_s;
    let h = (s.rho_f_kg_m3 / s.rho_g_kg_m3).powf(0.91) * r.powf(0.19) * (1.0 - r).powf(0.7);
    let e = (1.0 - x) * (1.0 - x) + x * x * s.rho_f_kg_m3 * s.f_go_over_f_lo / s.rho_g_kg_m3;
    e + 3.24 * x.powf(0.78) * (1.0 - x).powf(0.224) * h / (fr.powf(0.0454) * we.powf(0.035))
}
