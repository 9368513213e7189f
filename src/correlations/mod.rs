//! Nusselt numbers, friction, radiation, draught, boiling, charring: plain functions without state.
//!
//! Property *values* arrive as arguments; nothing here looks up a material. Every function is finite and
//! continuous for any non-negative Reynolds number, zero included, because the integrator will visit it.
//! Where a closure has parts that depend on geometry alone, a small `Copy` structure holds them
//! ([`friction::Helix`], [`nusselt_external::TubeBank`], [`radiation::WsggWeights`]): build it once, call it often.
//!
//! ```
//! use emberloop::correlations::{friction::Helix, nusselt_external::{Arrangement, TubeBank}};
//!
//! // A 20 mm bore wound on 180 mm, water at Re 8000 and Pr 5; gas over turns at pitch 1.5 d.
//! let coil = Helix::new(20.0 / 180.0, 1e-4);
//! assert!(coil.critical_re() > 8000.0 && coil.nusselt(8000.0, 5.0) > 50.0);
//! let turns = TubeBank::new(3.2, 1.5, Arrangement::Inline, 20.0);
//! assert!(turns.h_w_m2k(1.0, 0.022, 8e-5, 0.055, 0.7) > 15.0);
//! ```

pub mod boiling;
pub mod charring;
pub mod combustion;
pub mod cross_section;
pub mod draught;
pub mod evaporation;
pub mod friction;
pub mod hazard;
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

/// Cube root of a non-negative number to about 1e-12.
///
/// The standard library's costs more than the rest of a Nusselt number; with this one `duct` and `TubeBank::nusselt` took
/// half the time. It starts from a third of the exponent (within 6 %) and takes two Halley steps. Evidence: `analytic_cube_root_matches_the_standard_library`.
#[inline]
pub fn cube_root(x: f64) -> f64 {
    if x < 1e-290 {
        return 0.0;
    }
    let mut y = f64::from_bits(x.to_bits() / 3 + 0x2A9F_84FE_36D2_2425);
    for _ in 0..2 {
        let c = y * y * y;
        y *= (c + 2.0 * x) / (2.0 * c + x);
    }
    y
}

/// `x` to the power `n` for positive `x`, as exp(n ln x): a fifth quicker than `powf`, to about 1e-14.
#[inline]
pub(crate) fn power(x: f64, n: f64) -> f64 {
    (n * x.ln()).exp()
}

/// The lesser and the greater of two numbers that are none of them NaN: the standard library's take care of NaN, at
/// four times the cost.
#[inline]
pub fn lesser(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// See [`lesser`].
#[inline]
pub fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// The whole number under `x` (not negative, under 2^31) and what `x` is above it: a conversion that takes care of all other
/// numbers costs three times as much. A billionth under a whole number counts as that number.
#[inline]
pub fn whole_and_rest(x: f64) -> (usize, f64) {
    // Adding this leaves the nearest whole number in the lowest bits of the mantissa.
    const TO_WHOLE: f64 = 6_755_399_441_055_744.0;
    const LOW: u64 = (1 << 31) - 1;
    let whole = (x - 0.499_999_999) + TO_WHOLE;
    ((whole.to_bits() & LOW) as usize, x - (whole - TO_WHOLE))
}

/// e to the power `x`, relative error under 2e-11; `x` beyond ±700 is held there.
///
/// The library's is a call, before which every value in flight goes to memory; this one stays in the line and takes a
/// third of the time. 2^n times the Taylor sum of degree 9 over |r| <= ln 2 / 2. Evidence: `analytic_quick_exponential_matches_the_standard_library`.
#[inline]
pub fn quick_exp(x: f64) -> f64 {
    exp_within(x.clamp(-700.0, 700.0))
}

/// [`quick_exp`] of what lies within ±700.
#[inline]
pub fn exp_within(x: f64) -> f64 {
    // Adding this leaves the nearest whole number in the lowest bits of the mantissa.
    const TO_WHOLE: f64 = 6_755_399_441_055_744.0;
    const ONE: u64 = 1023 << 52;
    let shifted = x.mul_add(std::f64::consts::LOG2_E, TO_WHOLE);
    let r = (shifted - TO_WHOLE).mul_add(-std::f64::consts::LN_2, x);
    // Terms in pairs: half as long to wait as for one after the other.
    let r2 = r * r;
    let r4 = r2 * r2;
    let a = r2.mul_add(r.mul_add(1.0 / 6.0, 1.0 / 2.0), 1.0 + r);
    let b = r2.mul_add(
        r.mul_add(1.0 / 5_040.0, 1.0 / 720.0),
        r.mul_add(1.0 / 120.0, 1.0 / 24.0),
    );
    let c = r.mul_add(1.0 / 362_880.0, 1.0 / 40_320.0);
    r4.mul_add(r4.mul_add(c, b), a) * f64::from_bits((shifted.to_bits() << 52).wrapping_add(ONE))
}

/// e^−x of an `x` that is not negative.
#[inline]
fn fading(x: f64) -> f64 {
    // What is no number stays none.
    exp_within(-(if x > 700.0 { 700.0 } else { x }))
}

/// (1 − e^−x)/x: what is left on average of a difference that decays by e^−x; 1 at zero. `x` not negative.
#[inline]
pub fn mean_left(x: f64) -> f64 {
    if x < 0.25 {
        mean_left_near_zero(x)
    } else {
        (1.0 - fading(x)) / x
    }
}

/// 1 − e^−x without cancellation; `x` not negative.
#[inline]
pub fn gone(x: f64) -> f64 {
    if x < 0.25 {
        x * mean_left_near_zero(x)
    } else {
        1.0 - fading(x)
    }
}

/// Taylor to the sixth degree: 2e-9 at a quarter.
#[inline]
fn mean_left_near_zero(x: f64) -> f64 {
    let x2 = x * x;
    let a = x.mul_add(-1.0 / 2.0, 1.0);
    let b = x.mul_add(-1.0 / 24.0, 1.0 / 6.0);
    let c = x2.mul_add(1.0 / 5_040.0, x.mul_add(-1.0 / 720.0, 1.0 / 120.0));
    x2.mul_add(x2.mul_add(c, b), a)
}

#[cfg(test)]
mod tests {
    #[test]
    fn analytic_quick_exponential_matches_the_standard_library() {
        let mut x = -600.0f64;
        while x < 600.0 {
            let error = super::quick_exp(x) / x.exp() - 1.0;
            assert!(error.abs() < 2e-11 + 2e-16 * x.abs(), "{x}: {error:e}");
            x += 0.037;
        }
        assert_eq!(super::quick_exp(0.0), 1.0);
        assert!(super::quick_exp(-1e9) < 1e-300 && super::quick_exp(f64::NAN).is_nan());
        for i in 0..4000 {
            let x = 1e-3 * f64::from(i) + 1e-9;
            let error = super::mean_left(x) / (-(-x).exp_m1() / x) - 1.0;
            assert!(error.abs() < 3e-9, "{x}: {error:e}");
            assert!((super::gone(x) / (x * super::mean_left(x)) - 1.0).abs() < 1e-10);
        }
        assert_eq!((super::mean_left(0.0), super::gone(0.0)), (1.0, 0.0));
    }

    #[test]
    fn analytic_whole_number_and_rest_add_up_to_the_number() {
        for i in 0..4000 {
            let x = 0.0625 * f64::from(i);
            let (whole, rest) = super::whole_and_rest(x);
            assert_eq!((whole, rest), (x as usize, x.fract()), "{x}");
        }
        assert_eq!(super::whole_and_rest(7.999_99).0, 7);
    }

    #[test]
    fn analytic_cube_root_matches_the_standard_library() {
        let mut x = 1e-280f64;
        while x < 1e280 {
            assert!((super::cube_root(x) / x.cbrt() - 1.0).abs() < 2e-12, "{x}");
            x *= 1.37;
        }
        assert_eq!(super::cube_root(0.0), 0.0);
    }
}
