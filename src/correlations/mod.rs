//! Nusselt numbers, friction, radiation, draught, boiling, charring: plain functions without state.
//!
//! Property *values* arrive as arguments; nothing here looks up a material. Every function is finite and
//! continuous for any non-negative Reynolds number, zero included, because the integrator will visit it.
//! Where a closure has parts that depend on geometry alone, a small `Copy` structure holds them
//! ([`friction::Helix`], [`nusselt_external::TubeBank`], [`radiation::WsggWeights`]): build it once, call it often.

pub mod boiling;
pub mod charring;
pub mod combustion;
pub mod draught;
pub mod evaporation;
pub mod friction;
pub mod natural_convection;
pub mod nusselt_external;
pub mod nusselt_internal;
pub mod pump;
pub mod radiation;
pub mod two_phase;

/// Cubic step from 0 (at `x <= 0`) to 1 (at `x >= 1`), with zero slope at both ends.
#[inline]
pub fn smoothstep(x: f64) -> f64 {
    let x = x.clamp(0.0, 1.0);
    x * x * (3.0 - 2.0 * x)
}

/// Smooth positive part of `x`: tends to `x` far above zero and to 0 far below, `width/2` at zero.
#[inline]
pub fn smooth_positive(x: f64, width: f64) -> f64 {
    // The plain form 0.5 (x + sqrt(x^2 + w^2)) loses all digits far below zero.
    let root = (x * x + width * width).sqrt();
    if x >= 0.0 {
        0.5 * (x + root)
    } else {
        0.5 * width * width / (root - x)
    }
}
