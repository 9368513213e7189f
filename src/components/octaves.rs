//! A cheap stand-in for the logarithm as the axis of a table.

use crate::correlations::greater;

/// What lies so many octaves above one: whole octaves by the exponent, straight within each. Continuous, strictly rising,
/// and 2^n at whole numbers; a table over it needs no logarithm to find its place.
#[inline]
pub fn from_octaves(octaves: f64) -> f64 {
    let whole = octaves.floor();
    (1.0 + octaves - whole) * whole.exp2()
}

/// Where an argument stands on an axis of `per_octave` steps an octave that begins at 1 and has `steps` of them: step and
/// position in it, 0..1. Held at both ends. Whole-number arithmetic throughout: a conversion would cost as much again.
#[inline]
pub fn step_of<const PER_OCTAVE: u64, const STEPS: usize>(x: f64) -> (usize, f64) {
    const ONE: u64 = 1023 << 52;
    const FRACTION: u64 = (1 << 52) - 1;
    let v = greater(x, 1.0)
        .to_bits()
        .wrapping_sub(ONE)
        .wrapping_mul(PER_OCTAVE);
    let i = (v >> 52) as usize;
    if i >= STEPS {
        return (STEPS - 1, 1.0);
    }
    (i, f64::from_bits(v & FRACTION | ONE) - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Inverse of [`from_octaves`].
    fn octaves(x: f64) -> f64 {
        const ONE: i64 = 1023 << 52;
        (x.to_bits() as i64 - ONE) as f64 * (1.0 / (1u64 << 52) as f64)
    }

    #[test]
    fn identity_a_step_and_the_position_in_it_are_the_place_in_octaves() {
        for x in [1.0, 1.03, 1.9, 2.0, 77.7, 511.0] {
            let (i, u) = step_of::<9, 81>(x);
            assert!((i as f64 + u - 9.0 * octaves(x)).abs() < 1e-12, "{x}");
        }
        for (x, place) in [(0.2, (0, 0.0)), (512.0, (80, 1.0)), (1e9, (80, 1.0))] {
            assert_eq!(step_of::<9, 81>(x), place);
        }
    }

    #[test]
    fn identity_octaves_are_log2_at_powers_of_two_and_invert() {
        for e in -3..12 {
            assert_eq!(octaves(2f64.powi(e)), f64::from(e));
        }
        for x in [0.3, 1.0, 1.7, 2.5, 1e3, 2.047e5] {
            assert!((from_octaves(octaves(x)) / x - 1.0).abs() < 1e-14);
        }
    }
}
