//! How long skin bears hot water.

use super::{ZERO_C_K, between};

/// Times at one temperature of the skin's surface.
#[derive(Debug, Clone, Copy)]
pub struct ScaldPoint {
    pub t_c: f64,
    /// Burn of second degree, s: no irreversible damage.
    pub second_degree_s: f64,
    /// Burn through the skin's whole thickness, s.
    pub full_depth_s: f64,
    pub source: &'static str,
}

const AFTER: &str = "after Moritz & Henriques 1947, Am. J. Pathol. 23:695, adult skin under running water, as in the \
                     anti-scald table of the plumbing trade";
const MEMORY: &str =
    "Moritz & Henriques 1947, from memory, times of about a second to a factor of two";

/// Adults; children's and old people's skin burns in a fraction of these times.
pub static SCALD: &[ScaldPoint] = &[
    point(45.0, 7200.0, 10_800.0, AFTER),
    point(47.0, 1200.0, 2700.0, AFTER),
    point(48.0, 900.0, 1200.0, AFTER),
    point(49.0, 480.0, 600.0, AFTER),
    point(51.0, 120.0, 252.0, AFTER),
    point(55.0, 17.0, 30.0, AFTER),
    point(60.0, 3.0, 5.0, AFTER),
    point(65.0, 1.0, 2.0, MEMORY),
    point(70.0, 0.5, 1.0, MEMORY),
];

const fn point(
    t_c: f64,
    second_degree_s: f64,
    full_depth_s: f64,
    source: &'static str,
) -> ScaldPoint {
    ScaldPoint {
        t_c,
        second_degree_s,
        full_depth_s,
        source,
    }
}

/// Time in which water of this temperature burns to second degree, s: straight in the time's logarithm between the
/// points, infinite below the first, that of the last above it.
pub fn scald_s(water_k: f64) -> f64 {
    time_s(water_k, |p| p.second_degree_s)
}

/// The same for a burn of full depth.
pub fn deep_burn_s(water_k: f64) -> f64 {
    time_s(water_k, |p| p.full_depth_s)
}

fn time_s(water_k: f64, of: fn(&ScaldPoint) -> f64) -> f64 {
    let t = water_k - ZERO_C_K;
    if t < SCALD[0].t_c {
        return f64::INFINITY;
    }
    let mut points = [(0.0, 0.0); 9];
    for (to, p) in points.iter_mut().zip(SCALD) {
        *to = (p.t_c, of(p).ln());
    }
    between(&points[..SCALD.len().min(9)], t).exp()
}
