//! Draws the parts of a rig: firebox, gas sections, coils, pipes, store, dimension lines, and their keys.

use super::canvas::{Anchor, Canvas, Pen, Px, Rect, Type};
use super::rig_plan::{BENCH_M, OnSheet, Plan, Strip};
use super::show::length;
use super::style::{
    BLUE, BROWN, DOT, GOLD, GREY, INK, LONG, ORANGE, PAPER, RED, Rgb, SKY, SMALL, SOLID, TEXT,
};
use crate::results::{CoilShape, PipeShape, PortKind, RigDrawing, SectionMark, VesselShape};
use crate::units::UnitSystem;

const WALL: Rgb = Rgb(176, 160, 146);
const GAS: Rgb = Rgb(253, 236, 216);
const WATER: Rgb = Rgb(205, 226, 244);

/// One line per numbered part: firebox, sections, coils, vessel, pipes, bench.
pub fn keys(rig: &RigDrawing, u: UnitSystem) -> Vec<String> {
    let f = &rig.firebox;
    let mut out = vec![format!(
        "{}: {} high, {} deep, walls {}",
        f.label,
        length(f.height_m, u),
        length(f.depth_m, u),
        length(f.wall_m, u)
    )];
    for s in &rig.sections {
        let way = if s.rise_m.abs() < 1e-6 {
            "level".to_string()
        } else {
            let word = if s.rise_m > 0.0 { "up" } else { "down" };
            format!("{word} {}", length(s.rise_m.abs(), u))
        };
        out.push(format!(
            "{}: {} wide, {} long, {way}, to {}",
            s.name,
            length(s.width_m, u),
            length(s.length_m, u),
            length(s.start_z_m + s.rise_m, u)
        ));
    }
    for k in rig.sections.iter().flat_map(|s| &s.coils) {
        let form = if k.helix { "turns" } else { "runs" };
        let side = match k.parallel {
            0 | 1 => String::new(),
            n => format!(" ({n} side by side)"),
        };
        out.push(format!(
            "{}: {} of {} tube{side}, {:.1} {form}, {} to {}",
            k.name,
            length(k.length_m, u),
            length(k.tube_outside_m, u),
            k.turns,
            length(k.bottom_z_m, u),
            length(k.top_z_m, u)
        ));
    }
    if let Some(v) = &rig.vessel {
        let ports: Vec<String> = v
            .ports
            .iter()
            .map(|p| format!("{} {}", p.label, length(p.z_m, u)))
            .collect();
        out.push(format!(
            "{}: floor at {}, water {} deep; {}",
            v.label,
            length(v.floor_z_m, u),
            length(v.water_depth_m, u),
            ports.join(", ")
        ));
    }
    for p in &rig.pipes {
        let mut extra = String::new();
        if p.pump {
            extra.push_str(", with the pump");
        }
        if p.check_valve {
            extra.push_str(", with the check valve");
        }
        out.push(format!(
            "{}: {} of {} bore, {} to {}{extra}",
            p.label,
            length(p.length_m, u),
            length(p.inside_m, u),
            length(p.coil_z_m, u),
            length(p.far_z_m, u)
        ));
    }
    if let Some(b) = &rig.bench {
        out.push(format!(
            "{}: at {}, not to scale",
            b.label,
            length(b.z_m, u)
        ));
    }
    out
}

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
    gas_side(c, rig, plan, o, &mut balloons);
    let coil_x = coils(c, rig, plan, o, &mut balloons);
    if let Some(v) = &rig.vessel {
        vessel(c, v, rig, o);
        let w = v.width_m * o.px_per_m();
        let at = (
            o.store_x() + 0.5 * w,
            o.z(v.floor_z_m + 0.5 * v.water_depth_m),
        );
        balloons.push((at, at));
    }
    for (i, p) in rig.pipes.iter().enumerate() {
        let at = pipe(c, p, i, coil_x, rig, o);
        balloons.push((at, at));
    }
    if let Some(b) = &rig.bench {
        let shift = rig.vessel.as_ref().map_or(0.0, |v| v.width_m + 0.3);
        let k = o.px_per_m();
        let r = Rect::new(
            o.store_x() + shift * k,
            o.z(b.z_m + BENCH_M.1),
            BENCH_M.0 * k,
            BENCH_M.1 * k,
        );
        c.fill_rect(r, GOLD, 0.4);
        c.frame(r, Pen::new(INK, 2.5));
        let at = (r.x + r.w / 2.0, r.y - 30.0);
        balloons.push((at, (r.x + r.w / 2.0, r.y)));
    }
    dimensions(c, rig, plan, o, u);
    for (i, (at, to)) in balloons.iter().enumerate() {
        if at != to {
            c.line(&[*at, *to], Pen::new(INK, 2.0));
        }
        balloon(c, *at, i + 1);
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

fn polygon(c: &mut Canvas, corners: &[Px], fill: Rgb) {
    c.fill(corners, fill, 1.0);
}

fn gas_side(
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
    let discs = |s: &Strip| [(s.from, s.section), (s.to, s.section)];
    // All walls first, then all gas: joints open into each other.
    for s in &plan.strips {
        let wall = s.wall_m.max(least / k);
        let corners = s.corners(wall).map(|p| o.path(p));
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
        let corners = s.corners(0.0).map(|p| o.path(p));
        polygon(c, &corners, GAS);
    }
    for pair in plan.strips.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        if a.upright() != b.upright() {
            let r = 0.5 * a.width_m.min(b.width_m);
            c.circle(o.path(a.to), r * k, Pen::new(GAS, 1.0), false);
        }
    }
    let _ = discs;
    mouth(c, rig, inside, k);
    fire(c, inside);
    let at = (inside.x + inside.w / 2.0, inside.y + inside.h * 0.32);
    balloons.push((at, at));
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
        let edge = if s.upright() {
            (mid.0 + half, mid.1)
        } else {
            (mid.0, mid.1 - half)
        };
        balloons.push((spot, edge));
    }
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
        c.fill(&flame(m, half, tall * h), ORANGE, 0.75);
    }
    c.fill_rect(Rect::new(x, y - 7.0, w, 7.0), BROWN, 1.0);
}

/// Draws all coils; returns the right edge of the rightmost, where pipes start.
fn coils(
    c: &mut Canvas,
    rig: &RigDrawing,
    plan: &Plan,
    o: &OnSheet,
    balloons: &mut Vec<(Px, Px)>,
) -> f64 {
    let mut right = o.path((plan.x_range.1, 0.0)).0;
    for s in plan.strips.iter().filter(|s| !s.link) {
        let Some(section) = rig.sections.get(s.section) else {
            continue;
        };
        for k in &section.coils {
            let edge = coil(c, k, s, o);
            right = edge;
            let at = (edge + 40.0, o.z(0.5 * (k.bottom_z_m + k.top_z_m)) + 52.0);
            balloons.push((at, (edge, o.z(0.5 * (k.bottom_z_m + k.top_z_m)))));
        }
    }
    right
}

fn coil(c: &mut Canvas, k: &CoilShape, s: &Strip, o: &OnSheet) -> f64 {
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
        return x + half + r;
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
    b + r
}

fn vessel(c: &mut Canvas, v: &VesselShape, rig: &RigDrawing, o: &OnSheet) {
    let k = o.px_per_m();
    let x = o.store_x();
    let w = v.width_m * k;
    let (floor, surface) = (o.z(v.floor_z_m), o.z(v.floor_z_m + v.water_depth_m));
    let rim = o.z(v.floor_z_m + 1.08 * v.water_depth_m);
    c.fill_rect(Rect::new(x, surface, w, floor - surface), WATER, 1.0);
    for i in 1..v.layers {
        let y = floor - (floor - surface) * i as f64 / v.layers as f64;
        c.line(&[(x, y), (x + w, y)], Pen::new(SKY, 2.0).dash(DOT));
    }
    c.line(&[(x, surface), (x + w, surface)], Pen::new(BLUE, 4.0));
    let shell = Pen::new(INK, 6.0);
    c.line(&[(x, rim), (x, floor), (x + w, floor), (x + w, rim)], shell);
    if !v.open_top {
        c.line(&[(x - 10.0, rim), (x + w + 10.0, rim)], shell);
    }
    // A stand under a raised floor.
    let ground = o.z(rig.ground_z_m);
    if ground - floor > 8.0 {
        for s in [0.12, 0.88] {
            c.line(
                &[(x + s * w, floor), (x + s * w, ground)],
                Pen::new(GREY, 7.0),
            );
        }
    }
    for p in &v.ports {
        let y = o.z(p.z_m);
        match p.kind {
            PortKind::Draw => {
                c.line(&[(x + w, y), (x + w + 34.0, y)], Pen::new(INK, 9.0));
                c.text_mid("draw", (x + w + 42.0, y), Type::new(SMALL));
            }
            PortKind::Hot | PortKind::Cold => {
                c.line(&[(x - 18.0, y), (x + 18.0, y)], Pen::new(INK, 9.0));
            }
        }
    }
}

/// Draws one pipe; returns where its number stands.
fn pipe(c: &mut Canvas, p: &PipeShape, i: usize, coil_x: f64, rig: &RigDrawing, o: &OnSheet) -> Px {
    let k = o.px_per_m();
    let width = (p.inside_m * k).clamp(6.0, 26.0);
    let open_end = rig.vessel.is_none() && rig.bench.is_none();
    let far_x = if open_end {
        coil_x + 200.0
    } else {
        o.store_x()
    };
    let (y0, y1) = (o.z(p.coil_z_m), o.z(p.far_z_m));
    let bend_x = far_x - 70.0 - 80.0 * i as f64;
    let points = [(coil_x, y0), (bend_x, y0), (bend_x, y1), (far_x, y1)];
    let (color, dash) = if p.hot { (RED, SOLID) } else { (BLUE, LONG) };
    c.line(&points, Pen::new(PAPER, width + 8.0));
    c.line(&points, Pen::new(color, width).dash(dash));
    let along = |a: Px, b: Px, s: f64| (a.0 + (b.0 - a.0) * s, a.1 + (b.1 - a.1) * s);
    if p.pump {
        let at = along(points[1], points[2], 0.5);
        c.circle(at, 26.0, Pen::new(INK, 4.0), true);
        let up = y0 < y1;
        let tip = if up { -18.0 } else { 18.0 };
        c.fill(
            &[
                (at.0, at.1 + tip),
                (at.0 - 17.0, at.1 - 0.6 * tip),
                (at.0 + 17.0, at.1 - 0.6 * tip),
            ],
            INK,
            1.0,
        );
    }
    along(points[0], points[1], if p.hot { 0.45 } else { 0.3 })
}

fn dimensions(c: &mut Canvas, rig: &RigDrawing, plan: &Plan, o: &OnSheet, u: UnitSystem) {
    let left = o.path((plan.x_range.0, 0.0)).0;
    let f = &rig.firebox;
    dimension(c, (left - 50.0, left), (0.0, f.height_m), o, u);
    if let Some(top) = plan.strips.last() {
        let x = o.path(top.to).0;
        dimension(c, (left - 110.0, x), (0.0, top.to.1), o, u);
    }
    if let Some(v) = &rig.vessel {
        let right = o.store_x() + v.width_m * o.px_per_m();
        let x = right + 128.0;
        dimension(
            c,
            (x, right),
            (v.floor_z_m, v.floor_z_m + v.water_depth_m),
            o,
            u,
        );
    }
}

/// An upright dimension line at `x` with thin lines to the object at `object_x`.
fn dimension(
    c: &mut Canvas,
    (x, object_x): (f64, f64),
    (z0, z1): (f64, f64),
    o: &OnSheet,
    u: UnitSystem,
) {
    let (a, b) = (o.z(z0), o.z(z1));
    if (a - b).abs() < 60.0 {
        return;
    }
    for y in [a, b] {
        c.line(&[(x - 8.0, y), (object_x, y)], Pen::new(GREY, 1.5));
    }
    let mid = (a + b) / 2.0;
    c.arrow((x, mid), (x, a), INK, 2.5);
    c.arrow((x, mid), (x, b), INK, 2.5);
    let text = length(z1 - z0, u);
    let w = super::font::width(&text, TEXT, false) + 12.0;
    c.fill_rect(Rect::new(x - 20.0, mid - w / 2.0, 40.0, w), PAPER, 1.0);
    c.text_turned(&text, (x, mid), Type::new(TEXT), false);
}
