//! Draws store and pipes.

use super::WATER;
use super::plan::OnSheet;
use crate::output::canvas::{Canvas, Pen, Px, Rect, Type};
use crate::output::style::{BLUE, DOT, GREY, INK, LONG, PAPER, RED, SKY, SMALL, SOLID};
use crate::results::{PipeShape, PortKind, RigDrawing, VesselShape};

/// A vessel with its left edge at `x`.
pub fn vessel(c: &mut Canvas, v: &VesselShape, x: f64, rig: &RigDrawing, o: &OnSheet) {
    let k = o.px_per_m();
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

/// Draws one pipe; returns its course and where its number points.
pub fn pipe(
    c: &mut Canvas,
    p: &PipeShape,
    i: usize,
    coil_x: f64,
    rig: &RigDrawing,
    o: &OnSheet,
) -> ([Px; 4], Px) {
    let k = o.px_per_m();
    let width = (p.inside_m * k).clamp(6.0, 26.0);
    let open_end = rig.vessel.is_none() && rig.bench.is_none();
    let far_x = if open_end {
        coil_x + 200.0
    } else if p.to_header {
        o.header_x()
    } else {
        o.store_x()
    };
    let (y0, y1) = (o.z(p.coil_z_m), o.z(p.far_z_m));
    // The pipes of a header bend left of it, the others between it and the store.
    let bend_x = far_x - 70.0 - 80.0 * (i % 2) as f64;
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
    // Where a header's pipes share the first stretch, the store's are numbered behind it.
    let share = match (rig.header.is_some() && !p.to_header, p.hot) {
        (true, _) => 0.9,
        (false, true) => 0.6,
        (false, false) => 0.35,
    };
    (points, along(points[0], points[1], share))
}
