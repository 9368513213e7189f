//! Standard atmosphere and gravity.

/// Standard acceleration of gravity, m/s2 (CGPM 1901, exact).
pub const G_M_S2: f64 = 9.80665;
/// Standard atmosphere, Pa (exact).
pub const P_STD_PA: f64 = 101_325.0;
/// Stefan-Boltzmann constant, W/m2K4 (CODATA 2018, exact).
pub const SIGMA_W_M2K4: f64 = 5.670_374_419e-8;

/// Air pressure at `altitude_m` above sea level, Pa.
///
/// Troposphere of ISO 2533 / U.S. Standard Atmosphere 1976: 288.15 K at sea level, 6.5 K/km; -500 m to 11 km,
/// held at the ends outside.
pub fn pressure_pa(altitude_m: f64) -> f64 {
    // g0 M / (R* L) with the standard's own constants: 9.80665 * 28.9644 / (8314.32 * 6.5e-3).
    const EXPONENT: f64 = 5.255_88;
    let h = geopotential_m(altitude_m.clamp(-500.0, 11_019.0));
    P_STD_PA * (1.0 - 6.5e-3 * h / 288.15).powf(EXPONENT)
}

/// Temperature of the standard atmosphere, K; same range as [`pressure_pa`].
pub fn temperature_k(altitude_m: f64) -> f64 {
    288.15 - 6.5e-3 * geopotential_m(altitude_m.clamp(-500.0, 11_019.0))
}

/// Geopotential altitude (earth radius 6 356 766 m as in the standard).
fn geopotential_m(altitude_m: f64) -> f64 {
    const R_EARTH_M: f64 = 6_356_766.0;
    R_EARTH_M * altitude_m / (R_EARTH_M + altitude_m)
}
