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

/// Names in the series of a material of the tables; stainless steel may be either, by the water. Empty for what is no metal of it.
pub fn in_series(material: &str) -> &'static [&'static str] {
    let m = material.to_lowercase();
    let has = |word: &str| m.contains(word);
    if has("galvan") || has("zinc") {
        &["zinc and galvanising"]
    } else if has("stainless") {
        &["stainless steel, active", "stainless steel, passive"]
    } else if has("steel") || has("iron") {
        &["carbon steel"]
    } else if has("alumin") {
        &["aluminium"]
    } else if has("copper") {
        &["copper"]
    } else if has("brass") {
        &["brass"]
    } else if has("bronze") {
        &["bronze"]
    } else {
        &[]
    }
}

/// Least and largest difference of two materials of the tables, V; `None` where one is no metal of the series, or both are the
/// same.
pub fn couple_of_v(a: &str, b: &str) -> Option<(f64, f64)> {
    let (a, b) = (in_series(a), in_series(b));
    if a == b {
        return None;
    }
    let all = a
        .iter()
        .flat_map(|x| b.iter().filter_map(move |y| couple_v(x, y)));
    all.fold(None, |ends: Option<(f64, f64)>, v| {
        Some(ends.map_or((v, v), |(lo, hi)| (lo.min(v), hi.max(v))))
    })
}

/// How much longer a metal's length becomes between two temperatures, m (mean expansion 293..473 K of the metals' table).
pub fn thermal_growth_m(metal: &str, length_m: f64, from_k: f64, to_k: f64) -> Option<f64> {
    Some(metals::by_name(metal)?.expansion_per_k * length_m * (to_k - from_k))
}
