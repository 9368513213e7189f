//! A cheap stand-in for the logarithm as the axis of a table.

/// Octaves above one: whole octaves by the exponent, straight within each. Continuous, strictly rising, and equal to
/// log2 at powers of two; a table over it needs no logarithm to find its place.
#[inline]
pub fn octaves(x: f64) -> f64 {
    const ONE: i64 = 1023 << 52;
    (x.to_bits() as i64 - ONE) as f64 * (1.0 / (1u64 << 52) as f64)
}

/// Inverse of [`octaves`].
#[inline]
pub fn from_octaves(octaves: f64) -> f64 {
    let whole = octaves.floor();
    (1.0 + octaves - whole) * whole.exp2()
}

#[cfg(test)]
mod tests {
    use super::*;

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
