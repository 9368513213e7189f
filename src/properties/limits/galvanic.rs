//! Metals in contact: galvanic couples in water, and how far a coil grows when it warms.

use crate::properties::metals;

/// Corrosion potential in flowing sea water, V against the saturated calomel electrode.
#[derive(Debug, Clone, Copy)]
pub struct Galvanic {
    pub metal: &'static str,
    pub low_v: f64,
    pub high_v: f64,
}

/// Where the figures come from.
pub(super) const SOURCE: &str = "galvanic series in flowing sea water (ASTM G82), from memory, to 0.05 V; fresh water differs in \
                                 size, hardly in order";

/// Least noble first.
pub static GALVANIC: &[Galvanic] = &[
    of("zinc and galvanising", -1.03, -0.98),
    of("aluminium", -1.00, -0.76),
    of("carbon steel", -0.71, -0.60),
    of("stainless steel, active", -0.57, -0.45),
    of("brass", -0.40, -0.30),
    of("copper", -0.37, -0.30),
    of("bronze", -0.31, -0.24),
    of("stainless steel, passive", -0.10, 0.00),
];

const fn of(metal: &'static str, low_v: f64, high_v: f64) -> Galvanic {
    Galvanic {
        metal,
        low_v,
        high_v,
    }
}

/// Difference from which a couple in fresh water is usually parted, V (common practice, no source).
pub const GALVANIC_CAUTION_V: f64 = 0.25;

/// Difference of the middles of two metals' ranges, V; `None` for a metal not in the series.
pub fn couple_v(a: &str, b: &str) -> Option<f64> {
    let middle = |name: &str| {
        GALVANIC
            .iter()
            .find(|g| g.metal == name)
            .map(|g| 0.5 * (g.low_v + g.high_v))
    };
    Some((middle(a)? - middle(b)?).abs())
}

/// How much longer a metal's length becomes between two temperatures, m (mean expansion 293..473 K of the metals' table).
pub fn thermal_growth_m(metal: &str, length_m: f64, from_k: f64, to_k: f64) -> Option<f64> {
    Some(metals::by_name(metal)?.expansion_per_k * length_m * (to_k - from_k))
}
