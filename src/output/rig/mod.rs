//! The parts of the picture of a rig.

mod dimensions;
mod gas;
pub mod keys;
pub mod plan;
mod shut_in;
mod water;

use super::canvas::{Anchor, Canvas, Pen, Px, Rect, Type};
use super::place::Crowd;
use super::style::{BLUE, GOLD, GREY, INK, RED, Rgb, SMALL};
use crate::results::{RigDrawing, VesselShape};
use crate::units::UnitSystem;
use plan::{BENCH_M, OnSheet, Plan, RIGHT_ROOM};

const BROWN_WALL: Rgb = Rgb(176, 160, 146);
const GAS: Rgb = Rgb(253, 236, 216);
const WATER: Rgb = Rgb(205, 226, 244);

/// A numbered disc.
pub fn balloon(c: &mut Canvas, (x, y): Px, number: usize) {
    c.circle((x, y), 22.0, Pen::new(INK, 3.0), true);
    c.text_mid(
        &number.to_string(),
        (x, y),
        Type::new(SMALL).bold().anchor(Anchor::Middle),
    );
}

/// Everything between the rulers.
pub fn paint(c: &mut Canvas, rig: &RigDrawing, plan: &Plan, o: &OnSheet, u: UnitSystem) {
    ground(c, rig, o);
    let mut balloons: Vec<(Px, Px)> = Vec::new();
    if let Some(v) = rig.around() {
        water::vessel(c, v, o.around_x(), rig, o);
    }
    gas::gas_side(c, rig, plan, o, &mut balloons);
    let coil_x = gas::coils(c, rig, plan, o, &mut balloons);
    if let Some(v) = &rig.vessel {
        let mut at = middle(v, o.store_x(), o);
        if v.around_stove {
            at = beside_stove(v, o);
        } else {
            water::vessel(c, v, o.store_x(), rig, o);
        }
        balloons.push((at, at));
    }
    if let Some(h) = &rig.header {
        water::vessel(c, h, o.header_x(), rig, o);
        let at = middle(h, o.header_x(), o);
        balloons.push((at, at));
    }
    if let Some(d) = &rig.drum {
        let at = beside_stove(&d.vessel, o);
        balloons.push((at, at));
    }
    let mut lines = Vec::new();
    for (i, p) in rig.pipes.iter().enumerate() {
        let (line, at) = water::pipe(c, p, i, coil_x, rig, o);
        balloons.push(((at.0, at.1 - 50.0), at));
        lines.push(line);
    }
    if let Some(b) = &rig.bench {
        let k = o.px_per_m();
        // Beside a store, behind its dimension line.
        let shift = rig
            .vessel
            .as_ref()
            .map_or(0.0, |v| v.width_m * k + RIGHT_ROOM);
        let r = Rect::new(
            o.store_x() + shift,
            o.z(b.z_m + BENCH_M.1),
            BENCH_M.0 * k,
            BENCH_M.1 * k,
        );
        if let Some(v) = &rig.vessel {
            let from = o.store_x() + v.width_m * k;
            for (share, color) in [(0.3, RED), (0.7, BLUE)] {
                let y = r.y + share * r.h;
                c.line(&[(from, y), (r.x, y)], Pen::new(color, 3.0));
            }
        }
        c.fill_rect(r, GOLD.tint(0.4), 1.0);
        c.frame(r, Pen::new(INK, 2.5));
        let at = (r.x + r.w / 2.0, r.y - 30.0);
        balloons.push((at, (r.x + r.w / 2.0, r.y)));
    }
    let mut crowd = Crowd::default();
    if let Some(v) = rig.vessel.as_ref().filter(|v| v.closed.is_some()) {
        for (place, number) in shut_in::shut_in(c, v, o.store_x(), o) {
            crowd.add_box(place);
            balloons.push(number);
        }
    }
    for s in &plan.strips {
        crowd.add_line(&[o.path(s.from), o.path(s.to)]);
    }
    for pipe in &lines {
        crowd.add_line(pipe);
    }
    dimensions::dimensions(c, rig, (plan, coil_x), o, u, &mut crowd);
    for (i, (at, to)) in balloons.iter().enumerate() {
        let at = numbered(&mut crowd, *at, *to, o);
        if at != *to {
            c.line(&[at, *to], Pen::new(INK, 2.0));
        }
        balloon(c, at, i + 1);
    }
}

/// Middle of a vessel's water.
fn middle(v: &VesselShape, x: f64, o: &OnSheet) -> Px {
    (
        x + 0.5 * v.width_m * o.px_per_m(),
        o.z(v.floor_z_m + 0.5 * v.water_depth_m),
    )
}

/// In the water of a vessel in whose middle the stove stands.
fn beside_stove(v: &VesselShape, o: &OnSheet) -> Px {
    let (_, y) = middle(v, 0.0, o);
    (o.around_x() + 0.08 * v.width_m * o.px_per_m(), y)
}

/// A free place for a number: where it was wished, or around it.
fn numbered(crowd: &mut Crowd, wish: Px, to: Px, o: &OnSheet) -> Px {
    const R: f64 = 24.0;
    let (dx, dy) = (wish.0 - to.0, wish.1 - to.1);
    let mut spots = vec![wish];
    if wish == to {
        // Inside a large part: a little aside is still inside.
        spots.extend([(wish.0 + 50.0, wish.1), (wish.0 - 50.0, wish.1)]);
    }
    for far in [1.0, 1.8, 2.8] {
        for turn in [
            0.0f64, 0.6, -0.6, 1.2, -1.2, 1.9, -1.9, 2.6, -2.6, 3.0, -3.0,
        ] {
            let (s, k) = turn.sin_cos();
            let way = (dx * k - dy * s, dx * s + dy * k);
            spots.push((to.0 + far * way.0, to.1 + far * way.1));
        }
    }
    // The line to the part crosses no words and no other number.
    let clear: Vec<Px> = spots
        .iter()
        .copied()
        .filter(|&p| !crowd.crosses(p, to))
        .collect();
    let spots = if clear.is_empty() { spots } else { clear };
    let boxes: Vec<Rect> = spots
        .iter()
        .map(|p| Rect::new(p.0 - R, p.1 - R, 2.0 * R, 2.0 * R))
        .collect();
    match crowd.take(&boxes, &o.plot) {
        Some((i, _)) => spots[i],
        None => wish,
    }
}

fn ground(c: &mut Canvas, rig: &RigDrawing, o: &OnSheet) {
    let y = o.z(rig.ground_z_m);
    let (a, b) = (o.plot.x, o.plot.right());
    c.line(&[(a, y), (b, y)], Pen::new(INK, 4.0));
    let mut x = a + 10.0;
    while x < b - 24.0 {
        let low = (y + 18.0).min(o.plot.bottom());
        c.line(&[(x + 18.0, y), (x, low)], Pen::new(GREY, 2.0));
        x += 36.0;
    }
}
