//! Limits at which something softens, melts, bursts, burns or grows: each value with its source. Screening figures,
//! never a clearance; local codes and licensed practice decide.

mod cautions;
mod galvanic;
mod joints;
mod page;
mod scald;
mod strength;

pub use cautions::{CAUTIONS, Caution};
pub use galvanic::{
    GALVANIC, GALVANIC_CAUTION_V, Galvanic, couple_of_v, couple_v, in_series, thermal_growth_m,
};
pub use joints::{JOINTS, Joint, SOFT_SOLDER_K, by_name as joint};
pub use page::markdown;
pub use scald::{SCALD, ScaldPoint, deep_burn_s, scald_s};
pub use strength::{Elastic, Strength, Temper, allowable_pa, elastic, strength_of, tensile_pa};

/// Celsius zero, K.
const ZERO_C_K: f64 = 273.15;

/// Value at `x` of points with rising first figure: straight between, flat outside.
fn between(points: &[(f64, f64)], x: f64) -> f64 {
    let i = points.partition_point(|p| p.0 <= x);
    match (i.checked_sub(1).and_then(|k| points.get(k)), points.get(i)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0),
        (Some(end), None) | (None, Some(end)) => end.1,
        (None, None) => f64::NAN,
    }
}
