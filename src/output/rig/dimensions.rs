//! Dimension lines of the picture of a rig.

use super::keys::short;
use super::plan::{OnSheet, Plan};
use crate::output::canvas::{Anchor, Canvas, Pen, Rect, Type};
use crate::output::font;
use crate::output::place::Crowd;
use crate::output::style::{GREY, INK, PAPER, TEXT};
use crate::results::{PortKind, RigDrawing};
use crate::units::UnitSystem;

/// Heights of firebox, flue end and water.
pub fn dimensions(
    c: &mut Canvas,
    rig: &RigDrawing,
    (plan, coil_x): (&Plan, f64),
    o: &OnSheet,
    u: UnitSystem,
    crowd: &mut Crowd,
) {
    let left = o.path((plan.x_range.0, 0.0)).0;
    let f = &rig.firebox;
    let mut put = |x, z, right| dimension(c, x, z, (o, u, right), crowd);
    put((left - 46.0, left), (0.0, f.height_m), false);
    if let Some(last) = plan.strips.last() {
        let x = o.path(last.to).0;
        put((left - 246.0, x), (0.0, last.to.1), false);
    }
    let Some(v) = &rig.vessel else {
        return;
    };
    let right = o.store_x() + v.width_m * o.px_per_m();
    let water = (v.floor_z_m, v.floor_z_m + v.water_depth_m);
    put((right + 150.0, right), water, true);
    // What drives a loop without a pump: the store's hot port over the middle of the coil.
    let coils: Vec<_> = rig.sections.iter().flat_map(|s| &s.coils).collect();
    let hot = v.ports.iter().find(|p| p.kind == PortKind::Hot);
    if let (Some(hot), false, false) = (hot, coils.is_empty(), rig.pipes.iter().any(|p| p.pump)) {
        let low = coils
            .iter()
            .map(|k| k.bottom_z_m)
            .fold(f64::INFINITY, f64::min);
        let high = coils
            .iter()
            .map(|k| k.top_z_m)
            .fold(f64::NEG_INFINITY, f64::max);
        let x = o.store_x() - 215.0;
        put((x, coil_x), (0.5 * (low + high), hot.z_m), false);
    }
}

/// An upright dimension line at `x` with thin lines to the object at `object_x`.
fn dimension(
    c: &mut Canvas,
    (x, object_x): (f64, f64),
    (z0, z1): (f64, f64),
    (o, u, on_right): (&OnSheet, UnitSystem, bool),
    crowd: &mut Crowd,
) {
    let (a, b) = (o.z(z0), o.z(z1));
    if (a - b).abs() < 24.0 {
        return;
    }
    for y in [a, b] {
        c.line(&[(x - 8.0, y), (object_x, y)], Pen::new(GREY, 1.5));
    }
    let mid = (a + b) / 2.0;
    c.arrow((x, mid), (x, a), INK, 2.5);
    c.arrow((x, mid), (x, b), INK, 2.5);
    let text = short((z1 - z0).abs(), u);
    let w = font::width(&text, TEXT, false) + 12.0;
    if w + 50.0 < (a - b).abs() {
        let place = Rect::new(x - 20.0, mid - w / 2.0, 40.0, w);
        c.fill_rect(place, PAPER, 1.0);
        c.text_turned(&text, (x, mid), Type::new(TEXT), false);
        crowd.add_box(place);
        return;
    }
    // Too short to hold its words: they stand beside, above or below it, where nothing is.
    let (h, top, low) = (40.0, a.min(b), a.max(b));
    let right = Rect::new(x + 12.0, mid - h / 2.0, w, h);
    let left = Rect::new(x - 12.0 - w, mid - h / 2.0, w, h);
    let above = Rect::new(x - w / 2.0, top - 6.0 - h, w, h);
    let below = Rect::new(x - w / 2.0, low + 6.0, w, h);
    let places = if on_right {
        [right, left, above, below]
    } else {
        [left, right, above, below]
    };
    if let Some((i, _)) = crowd.take(&places, &o.plot) {
        let r = places[i];
        c.fill_rect(r, PAPER, 1.0);
        let look = Type::new(TEXT).anchor(Anchor::Middle);
        c.text_mid(&text, (r.x + r.w / 2.0, r.y + r.h / 2.0), look);
    }
}
