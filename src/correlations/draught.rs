//! Draught and losses of a gas path.

const G_M_S2: f64 = 9.80665;

/// Share of the area that stays open round a "closed" damper or choke plate. Common practice, no source.
pub const CLOSED_DAMPER_LEAK_SHARE: f64 = 0.02;

/// Suction coefficient of a plain open flue end in cross wind, on the wind's velocity pressure.
///
/// A pipe's open end measures up to about 0.5 in undisturbed wind; roofs, trees and gusts spoil half of it.
/// EN 13384-1 counts no suction at all, only an adverse wind pressure. (Common practice, no source.)
pub const CAP_SUCTION_COEFFICIENT: f64 = 0.25;

/// Buoyancy of a column, Pa: g H (ρ_out − ρ_in).
///
/// - `height_m` rise of the section, negative where gas goes down
///
/// Source: EN 13384-1, theoretical draught P_H. Evidence: `published_theoretical_draught_matches_en_13384_values`.
#[inline]
pub fn theoretical_draught_pa(height_m: f64, rho_out_kg_m3: f64, rho_in_kg_m3: f64) -> f64 {
    G_M_S2 * height_m * (rho_out_kg_m3 - rho_in_kg_m3)
}

/// Velocity pressure ½ ρ v², Pa.
#[inline]
pub fn velocity_pressure_pa(v_m_s: f64, rho_kg_m3: f64) -> f64 {
    0.5 * rho_kg_m3 * v_m_s * v_m_s
}

/// Loss coefficient of a damper, choke plate or slide, on the velocity in the full section.
///
/// K = {[0.707 √(1 − s) + 1 − s]/s}², s the open share of the area: a sharp-edged orifice in a duct
///
/// - `open_share` [-] 0 (closed, [`CLOSED_DAMPER_LEAK_SHARE`] left) to 1. For a butterfly plate at angle α from
///   the duct's axis, s = 1 − sin α; for a slide the free area
///
/// Source: I. E. Idelchik, Handbook of Hydraulic Resistance, section 4 (from memory). It reproduces Weisbach's
/// butterfly-valve data within 15 % from 20° to 70°. Evidence: `published_damper_matches_weisbach_butterfly`.
#[inline]
pub fn damper_loss_k(open_share: f64) -> f64 {
    damper_loss_with_leak_k(open_share, CLOSED_DAMPER_LEAK_SHARE)
}

/// As [`damper_loss_k`] with its own leakage share (> 0).
#[inline]
pub fn damper_loss_with_leak_k(open_share: f64, leak_share: f64) -> f64 {
    let s = leak_share + (1.0 - leak_share) * open_share.clamp(0.0, 1.0);
    let r = (std::f64::consts::FRAC_1_SQRT_2 * (1.0 - s).sqrt() + 1.0 - s) / s;
    r * r
}

/// Loss coefficient of a mitred bend (Weisbach): K = 0.946 sin²(θ/2) + 2.047 sin⁴(θ/2); 0.98 at 90°.
///
/// - `angle_rad` deflection, 0 to 2. EN 13384-1 annex B gives 1.2 for a 90° mitre (from memory)
///
/// Source: Weisbach, in hydraulics handbooks (from memory). Evidence: `published_fitting_losses_lie_with_the_handbooks`.
pub fn bend_k(angle_rad: f64) -> f64 {
    let s = (0.5 * angle_rad).sin();
    let s2 = s * s;
    s2 * (0.946 + 2.047 * s2)
}

/// Loss coefficient of a curved bend (Weisbach): K = [0.131 + 0.163 (d/R)^3.5] θ/90°.
///
/// - `radius_over_d` [-] R/d, centre-line radius over diameter, > 0.5
///
/// Source: as [`bend_k`]. Evidence: `published_fitting_losses_lie_with_the_handbooks`.
pub fn curved_bend_k(angle_rad: f64, radius_over_d: f64) -> f64 {
    let x = 1.0 / radius_over_d.max(0.5);
    (0.131 + 0.1632 * x * x * x * x.sqrt()) * angle_rad / std::f64::consts::FRAC_PI_2
}

/// Loss coefficient of an inlet: K = 0.03 + 0.47 · 10^(−7.7 r/d); 0.5 sharp-edged, 0.03 well rounded.
///
/// - `rounding_over_d` [-] edge radius over diameter; a pipe that projects into the room: add 0.5
///
/// Source: I. E. Idelchik, Handbook of Hydraulic Resistance, section 3 (from memory).
pub fn entry_k(rounding_over_d: f64) -> f64 {
    0.03 + 0.47 * 10f64.powf(-7.7 * rounding_over_d.max(0.0))
}

/// Loss of a sudden expansion on the velocity in the smaller section (Borda-Carnot): (1 − A1/A2)².
#[inline]
pub fn sudden_expansion_k(area_ratio: f64) -> f64 {
    let x = 1.0 - area_ratio.clamp(0.0, 1.0);
    x * x
}

/// Loss of a sudden contraction on the velocity in the smaller section: 0.5 (1 − A1/A2)^(3/4) (Idelchik, from memory).
pub fn sudden_contraction_k(area_ratio: f64) -> f64 {
    let x = (1.0 - area_ratio.clamp(0.0, 1.0)).sqrt();
    0.5 * x * x.sqrt()
}

/// Suction of the wind at a plain flue end, Pa: [`CAP_SUCTION_COEFFICIENT`] × ½ ρ v².
#[inline]
pub fn cap_wind_suction_pa(v_m_s: f64, rho_kg_m3: f64) -> f64 {
    CAP_SUCTION_COEFFICIENT * velocity_pressure_pa(v_m_s, rho_kg_m3)
}
