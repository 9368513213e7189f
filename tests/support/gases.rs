//! Species of the flue gas, each alone.

use emberloop::properties::gas::Composition;

/// Nothing but the species `i`, by the order N2, O2, CO2, H2O, Ar, CO.
pub fn pure(i: usize) -> Composition {
    let mut y = [0.0; 6];
    y[i] = 1.0;
    let [n2, o2, co2, h2o, ar, co] = y;
    Composition {
        n2,
        o2,
        co2,
        h2o,
        ar,
        co,
    }
}
