//! Draws firebox, gas sections and coils.

use super::plan::{self, OnSheet, Plan, Strip};
use super::{BROWN_WALL as WALL, GAS};
use crate::output::canvas::{Canvas, Pen, Px, Rect};
use crate::output::style::{BLUE, BROWN, INK, ORANGE, PAPER, Rgb};
use crate::results::{CoilShape, RigDrawing, SectionMark, VesselShape};

/// How far the floor of what stands on the firebox may lie under its top, m.
const ON_TOP_M: f64 = 0.03;

fn polygon(c: &mut Canvas, corners: &[Px], fill: Rgb) {
    c.fill(corners, fill, 1.0);
}

/// Firebox and sections; adds where each number is wished and what it points at.
pub fn gas_side(
    c: &mut Canvas,
    rig: &RigDrawing,
    plan: &Plan,
    o: &OnSheet,
    balloons: &mut Vec<(Px, Px)>,
) {
    let f = &rig.firebox;
    let k = o.px_per_m();
    let (x, y) = o.path((0.0, f.height_m));
    let inside = Rect::new(x, y, f.depth_m * k, f.height_m * k);
    let least = 3.0;
    c.fill_rect(inside.grown((f.wall_m * k).max(least)), WALL, 1.0);
    // All walls first, then all gas: joints open into each other.
    for (i, s) in plan.strips.iter().enumerate() {
        let wall = s.wall_m.max(least / k);
        // A section wider than its neighbour is closed by its own wall; the last end is open.
        let end = if i + 1 == plan.strips.len() {
            0.0
        } else {
            wall
        };
        // The first section stands in the firebox.
        let start = if i == 0 { 0.0 } else { wall };
        let corners = s.corners(wall, (start, end)).map(|p| o.path(p));
        polygon(c, &corners, WALL);
    }
    for pair in plan.strips.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        if a.upright() != b.upright() {
            let r = 0.5 * a.width_m.min(b.width_m) + a.wall_m.min(b.wall_m).max(least / k);
            c.circle(o.path(a.to), r * k, Pen::new(WALL, 1.0), false);
        }
    }
    c.fill_rect(inside, GAS, 1.0);
    for s in &plan.strips {
        let corners = s.corners(0.0, (0.0, 0.0)).map(|p| o.path(p));
        polygon(c, &corners, GAS);
    }
    for pair in plan.strips.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        if a.upright() != b.upright() {
            let r = 0.5 * a.width_m.min(b.width_m);
            c.circle(o.path(a.to), r * k, Pen::new(GAS, 1.0), false);
        }
    }
    mouth(c, rig, inside, k);
    if f.drawn_down {
        logs_on_embers(c, inside);
    } else {
        fire(c, inside);
    }
    if f.air_over > 0.0 {
        // Through the wall, into the flames.
        let y = inside.y + if f.drawn_down { 1.0 } else { 0.3 } * inside.h;
        let wall = (f.wall_m * k).max(least);
        c.arrow(
            (inside.x - wall - 16.0, y),
            (inside.x + 0.35 * inside.w, y),
            BLUE,
            4.0,
        );
    }
    if f.coils.is_empty() {
        let at = (inside.x + inside.w / 2.0, inside.y + inside.h * 0.32);
        balloons.push((at, at));
    } else {
        // Beside it: inside stands the coil.
        let y = inside.y + 0.1 * inside.h;
        let out = f.wall_m * k + 46.0;
        balloons.push(((inside.right() + out, y), (inside.right(), y)));
    }
    for s in plan.strips.iter().filter(|s| !s.link) {
        let (a, b) = (o.path(s.at(0.15)), o.path(s.at(0.85)));
        if (b.0 - a.0).hypot(b.1 - a.1) > 70.0 {
            c.arrow(a, b, ORANGE, 4.0);
        }
        let mark = rig.sections.get(s.section).map(|x| x.mark);
        let mid = o.path(s.middle());
        let half = 0.5 * s.width_m * k;
        match mark {
            Some(SectionMark::Damper) => {
                let d = if s.upright() {
                    (half, 0.25 * half)
                } else {
                    (0.25 * half, half)
                };
                c.line(
                    &[(mid.0 - d.0, mid.1 + d.1), (mid.0 + d.0, mid.1 - d.1)],
                    Pen::new(INK, 6.0),
                );
            }
            Some(SectionMark::Fan) => {
                let r = half.max(14.0);
                c.circle(mid, r, Pen::new(INK, 3.0), true);
                c.line(
                    &[(mid.0 - r, mid.1), (mid.0 + r, mid.1)],
                    Pen::new(INK, 3.0),
                );
                c.line(
                    &[(mid.0, mid.1 - r), (mid.0, mid.1 + r)],
                    Pen::new(INK, 3.0),
                );
            }
            _ => {}
        }
        // The number stands beside the section, joined by a line.
        let out = half + s.wall_m * k + 44.0;
        let spot = if s.upright() {
            (mid.0 + out, mid.1)
        } else {
            (mid.0, mid.1 - out)
        };
        let (mid, spot) = match rig.sections.get(s.section) {
            Some(x) if s.upright() => {
                let y = o.path(s.at(beside_coils(s, &x.coils))).1;
                ((mid.0, y), (spot.0, y))
            }
            _ => (mid, spot),
        };
        let edge = if s.upright() {
            (mid.0 + half, mid.1)
        } else {
            (mid.0, mid.1 - half)
        };
        balloons.push((spot, edge));
    }
}

/// Where along a section its number meets no coil that is wound on its outside.
fn beside_coils(s: &Strip, coils: &[CoilShape]) -> f64 {
    let covered = |z_m: f64, k: &CoilShape| {
        k.width_m > s.width_m && (k.bottom_z_m - 0.1..=k.top_z_m + 0.1).contains(&z_m)
    };
    [0.5, 0.75, 0.25, 0.9, 0.1]
        .into_iter()
        .find(|&t| !coils.iter().any(|k| covered(s.at(t).1, k)))
        .unwrap_or(0.5)
}

fn mouth(c: &mut Canvas, rig: &RigDrawing, inside: Rect, k: f64) {
    let f = &rig.firebox;
    let m = f.mouth_m * k;
    let wall = (f.wall_m * k).max(3.0);
    if f.open_mouth {
        let opening = Rect::new(inside.x, inside.y - wall - 1.0, m, wall + 2.0);
        c.fill_rect(opening, GAS, 1.0);
        // Sticks standing in the mouth.
        for i in 0..3 {
            let x = inside.x + m * (0.25 + 0.25 * f64::from(i));
            let top = inside.y - wall - 60.0;
            c.line(
                &[(x, inside.bottom() - 6.0), (x + 6.0, top)],
                Pen::new(BROWN, 9.0),
            );
        }
    } else if f.in_water > 0.0 && !rig.around().is_some_and(|v| stands_on(v, f.height_m)) {
        // Fed from over the water, down a chute beside the gas's way.
        let surface_m = rig
            .around()
            .map_or(f.height_m, |v| v.floor_z_m + v.water_depth_m);
        let up = ((surface_m + 0.08 - f.height_m) * k).max(wall + 20.0);
        let wide = m.min(0.25 * inside.w);
        let (x, top) = (inside.x, inside.y - up);
        c.fill_rect(Rect::new(x - wall, top, wide + 2.0 * wall, up), WALL, 1.0);
        c.fill_rect(Rect::new(x, top, wide, up + 1.0), GAS, 1.0);
        let lid = [(x - wall, top), (x + wide + wall, top)];
        c.line(&lid, Pen::new(INK, 6.0));
    } else {
        let y = inside.bottom() - m - 6.0;
        let opening = Rect::new(inside.x - wall, y, wall, m);
        c.fill_rect(opening, PAPER, 1.0);
        c.line(
            &[(opening.x, opening.y), (opening.x, opening.bottom())],
            Pen::new(INK, 6.0),
        );
    }
}

/// On a firebox of this height: its door is not in the water.
fn stands_on(v: &VesselShape, height_m: f64) -> bool {
    v.floor_z_m > height_m - ON_TOP_M
}

fn fire(c: &mut Canvas, inside: Rect) {
    let h = 0.45 * inside.h;
    let (x, w, y) = (inside.x, inside.w, inside.bottom());
    let flame = |m: f64, half: f64, h: f64| -> Vec<Px> {
        vec![
            (x + w * (m - half), y),
            (x + w * (m - 0.5 * half), y - 0.55 * h),
            (x + w * m, y - h),
            (x + w * (m + 0.4 * half), y - 0.5 * h),
            (x + w * (m + half), y),
        ]
    };
    for (m, half, tall) in [(0.3, 0.16, 0.8), (0.55, 0.2, 1.0), (0.78, 0.14, 0.7)] {
        c.fill(&flame(m, half, tall * h), ORANGE.tint(0.75), 1.0);
    }
    c.fill_rect(Rect::new(x, y - 7.0, w, 7.0), BROWN, 1.0);
}

/// Logs in a magazine, on embers through which the flames leave.
fn logs_on_embers(c: &mut Canvas, inside: Rect) {
    let (x, w, y) = (inside.x, inside.w, inside.bottom());
    let thick = 0.11 * inside.h;
    for row in 0..3 {
        let level = y - 0.14 * inside.h - thick * (0.5 + 1.25 * f64::from(row));
        let pen = Pen::new(BROWN.tint(0.8), thick);
        c.line(&[(x + 0.1 * w, level), (x + 0.9 * w, level)], pen);
    }
    c.fill_rect(
        Rect::new(x, y - 0.12 * inside.h, w, 0.12 * inside.h),
        ORANGE.tint(0.75),
        1.0,
    );
    c.arrow(
        (x + 0.5 * w, y - 0.1 * inside.h),
        (x + 0.5 * w, y + 0.12 * inside.h),
        ORANGE,
        5.0,
    );
}

/// Draws all coils; returns the right edge of the last, where pipes start.
pub fn coils(
    c: &mut Canvas,
    rig: &RigDrawing,
    plan: &Plan,
    o: &OnSheet,
    balloons: &mut Vec<(Px, Px)>,
) -> f64 {
    let mut right = o.path((plan.x_range.1, 0.0)).0;
    for k in &rig.firebox.coils {
        let (left, edge) = coil(c, k, &Strip::firebox(rig), o);
        right = edge;
        let y = o.z(0.5 * (k.bottom_z_m + k.top_z_m));
        balloons.push(((left - 70.0, y), (left, y)));
    }
    for s in plan.strips.iter().filter(|s| !s.link) {
        let Some(section) = rig.sections.get(s.section) else {
            continue;
        };
        for k in &section.coils {
            let (left, edge) = coil(c, k, s, o);
            right = edge;
            let y = o.z(0.5 * (k.bottom_z_m + k.top_z_m));
            let out = (0.5 * (s.width_m - k.width_m) + s.wall_m).max(0.0) * o.px_per_m() + 46.0;
            balloons.push(((left - out, y), (left, y)));
        }
    }
    if let Some(d) = &rig.drum {
        let middle_m = plan::middle_in_water_m(rig, &plan.strips);
        for k in &d.coils {
            let (left, edge) = coil(c, k, &Strip::drum(&d.vessel, middle_m), o);
            right = edge;
            let y = o.z(0.5 * (k.bottom_z_m + k.top_z_m));
            balloons.push(((left - 46.0, y), (left, y)));
        }
    }
    right
}

/// Water on both sides of a part: two bands along it.
fn jacket(c: &mut Canvas, k: &CoilShape, s: &Strip, o: &OnSheet) -> (f64, f64) {
    let scale = o.px_per_m();
    let (half, wide) = (0.5 * k.width_m * scale, (k.tube_outside_m * scale).max(4.0));
    let (a, b) = (o.path(s.at(0.0)), o.path(s.at(1.0)));
    for side in [-half, half] {
        let (from, to) = if s.upright() {
            ((a.0 + side, a.1), (b.0 + side, b.1))
        } else {
            ((a.0, a.1 + side), (b.0, b.1 + side))
        };
        c.line(&[from, to], Pen::new(BLUE, wide).alpha(0.6));
    }
    let reach = if s.upright() { half + 0.5 * wide } else { 0.0 };
    (a.0.min(b.0) - reach, a.0.max(b.0) + reach)
}

fn coil(c: &mut Canvas, k: &CoilShape, s: &Strip, o: &OnSheet) -> (f64, f64) {
    if k.jacket {
        return jacket(c, k, s, o);
    }
    let scale = o.px_per_m();
    let half = 0.5 * k.width_m * scale;
    let r = (0.5 * k.tube_outside_m * scale).max(4.0);
    let (x, _) = o.path(s.middle());
    let (low, high) = (o.z(k.bottom_z_m) - r, o.z(k.top_z_m) + r);
    let n = (k.turns.round() as usize).clamp(2, 60);
    let pen = Pen::new(BLUE, (1.2 * r).clamp(3.0, 9.0));
    if s.upright() {
        let level = |i: f64| low + (high - low) * i / (n as f64 - 1.0);
        for i in 0..n {
            let y = level(i as f64);
            if k.helix {
                if i + 1 < n {
                    c.line(
                        &[(x + half, y), (x - half, level(i as f64 + 0.5))],
                        Pen::new(BLUE, 2.0),
                    );
                }
                for side in [-half, half] {
                    c.circle((x + side, y), r, Pen::new(BLUE, 3.0), true);
                }
            } else {
                c.line(&[(x - half, y), (x + half, y)], pen);
                if i + 1 < n {
                    let side = if i % 2 == 0 { half } else { -half };
                    c.line(&[(x + side, y), (x + side, level(i as f64 + 1.0))], pen);
                }
            }
        }
        return (x - half - r, x + half + r);
    }
    // Axis along a level section.
    let (a, b) = (o.path(s.at(0.12)).0, o.path(s.at(0.88)).0);
    let at = |i: f64| a + (b - a) * i / (n as f64 - 1.0);
    for i in 0..n {
        let x = at(i as f64);
        if k.helix {
            if i + 1 < n {
                c.line(&[(x, high), (at(i as f64 + 0.5), low)], Pen::new(BLUE, 2.0));
            }
            for y in [low, high] {
                c.circle((x, y), r, Pen::new(BLUE, 3.0), true);
            }
        } else {
            c.line(&[(x, low), (x, high)], pen);
            if i + 1 < n {
                let y = if i % 2 == 0 { high } else { low };
                c.line(&[(x, y), (at(i as f64 + 1.0), y)], pen);
            }
        }
    }
    (a - r, b + r)
}
