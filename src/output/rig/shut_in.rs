//! Draws expansion vessel and relief valve on a closed store.
//!
//! Symbols as on common piping diagrams (common practice, no source): a drum divided by its membrane, and an angle valve
//! under a spring with its discharge turned down. Their size is fixed, not to scale.

use super::WATER;
use super::plan::OnSheet;
use crate::output::canvas::{Canvas, Pen, Px, Rect};
use crate::output::style::{INK, PAPER};
use crate::results::VesselShape;
use std::f64::consts::PI;

/// Radius of the drum and half the width of the valve, pixels.
const DRUM: f64 = 32.0;
const VALVE: f64 = 15.0;
/// Height of the valve's middle over the lid.
const VALVE_UP: f64 = 44.0;

/// What one symbol covers; where its number is wished and what that points at.
type Placed = (Rect, (Px, Px));

/// Draws both on the store with its left edge at `x`: first the vessel, then the valve.
pub fn shut_in(c: &mut Canvas, v: &VesselShape, x: f64, o: &OnSheet) -> [Placed; 2] {
    let w = v.width_m * o.px_per_m();
    let lid = o.z(v.floor_z_m + 1.08 * v.water_depth_m);
    let valve_x = x + (0.25 * w).max(30.0);
    let drum_x = (x + 0.72 * w).max(valve_x + 90.0);
    [
        drum(c, (drum_x, lid - 64.0), (x + w - 12.0, lid)),
        valve(c, valve_x, lid),
    ]
}

/// A drum around `at`, joined to the lid whose right end is `end`.
fn drum(c: &mut Canvas, at: Px, end: Px) -> Placed {
    let (foot, joint) = (at.0.min(end.0), end.1 - 16.0);
    let pipe = [
        (foot, end.1),
        (foot, joint),
        (at.0, joint),
        (at.0, at.1 + DRUM),
    ];
    c.line(&pipe, Pen::new(INK, 6.0));
    c.circle(at, DRUM, Pen::new(PAPER, 1.0), true);
    let arc = |from: f64, parts: u32| -> Vec<Px> {
        (0..=parts)
            .map(|i| {
                let (s, k) = (from + PI * f64::from(i) / 24.0).sin_cos();
                (at.0 + DRUM * k, at.1 + DRUM * s)
            })
            .collect()
    };
    // Water below the membrane, gas above.
    c.fill(&arc(0.0, 24), WATER, 1.0);
    c.line(&arc(0.0, 48), Pen::new(INK, 4.0));
    c.line(
        &[(at.0 - DRUM, at.1), (at.0 + DRUM, at.1)],
        Pen::new(INK, 4.0),
    );
    let place = Rect::new(at.0 - DRUM, at.1 - DRUM, 2.0 * DRUM, end.1 - at.1 + DRUM);
    let to = (at.0 + 0.5 * DRUM, at.1 - 0.5 * DRUM);
    (place, ((to.0 + 62.0, to.1 - 34.0), to))
}

/// A relief valve on the lid; it blows off to the left.
fn valve(c: &mut Canvas, x: f64, lid: f64) -> Placed {
    let y = lid - VALVE_UP;
    let long = 24.0;
    let pen = Pen::new(INK, 4.0);
    c.line(&[(x, lid), (x, y + long)], Pen::new(INK, 6.0));
    c.fill(
        &[(x - VALVE, y + long), (x + VALVE, y + long), (x, y)],
        INK,
        1.0,
    );
    c.fill(
        &[(x - long, y - VALVE), (x - long, y + VALVE), (x, y)],
        INK,
        1.0,
    );
    // Blown-off water is led down.
    c.line(&[(x - long, y), (x - long - 22.0, y)], pen);
    c.arrow((x - long - 22.0, y), (x - long - 22.0, y + 34.0), INK, 4.0);
    let mut spring = vec![(x, y), (x, y - 8.0)];
    spring.extend((0..6).map(|i| {
        let side = if i % 2 == 0 { 10.0 } else { -10.0 };
        (x + side, y - 12.0 - 6.0 * f64::from(i))
    }));
    spring.push((x, y - 46.0));
    c.line(&spring, Pen::new(INK, 3.0));
    c.line(&[(x - 12.0, y - 48.0), (x + 12.0, y - 48.0)], pen);
    let left = x - long - 32.0;
    let place = Rect::new(left, y - 52.0, x + VALVE - left, lid - y + 52.0);
    (place, ((x - 64.0, y - 64.0), (x - 8.0, y - 40.0)))
}
