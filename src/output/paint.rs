//! Draws one panel or strip of a figure into its rectangle.

use super::axis::Axis;
use super::canvas::{Anchor, Canvas, HALF_CAP, Pen, Px, Rect, Type};
use super::figure::{Area, Curve, LANE, Lane, LaneKind, Level, Moment, Panel, Spot};
use super::font;
use super::hatch;
use super::place::Crowd;
use super::style::{DOT, GREY, GRID, INK, Marker, PAPER, TEXT};

const NOTE: f64 = 31.0;

/// Maps data to pixels.
struct Map<'a> {
    x: &'a Axis,
    y: &'a Axis,
    plot: Rect,
}

impl Map<'_> {
    fn px(&self, x: f64) -> f64 {
        self.plot.x + self.x.share(x) * self.plot.w
    }
    fn py(&self, y: f64) -> f64 {
        self.plot.bottom() - self.y.share(y) * self.plot.h
    }
}

/// A panel with everything in it.
pub fn panel(c: &mut Canvas, p: &Panel, x: &Axis, plot: Rect) {
    let m = Map { x, y: &p.y, plot };
    let title_y = plot.y - 16.0;
    c.text(&p.y_title, (plot.x, title_y), Type::new(TEXT).bold());
    if let Some(side) = &p.right {
        c.text(
            &side.title,
            (plot.right(), title_y),
            Type::new(TEXT).bold().anchor(Anchor::End),
        );
    }
    for a in &p.areas {
        area(c, a, &m);
    }
    grid(c, p, &m);
    let mut crowd = Crowd::default();
    let chains: Vec<Vec<Vec<Px>>> = p.curves.iter().map(|k| chains(k, &m)).collect();
    for level in &p.levels {
        let y = m.py(level.y);
        let line = [(plot.x, y), (plot.right(), y)];
        c.line(
            &line,
            Pen::new(level.look.color, level.look.width).dash(level.look.dash),
        );
    }
    for moment in &p.moments {
        let x = m.px(moment.x);
        let line = [(x, plot.y), (x, plot.bottom())];
        c.line(&line, Pen::new(moment.color, 3.0).dash(DOT));
    }
    for (k, pieces) in p.curves.iter().zip(&chains) {
        for piece in pieces {
            c.line(
                piece,
                Pen::new(k.look.color, k.look.width).dash(k.look.dash),
            );
            crowd.add_line(piece);
        }
    }
    let n = p.curves.len();
    for (i, (k, pieces)) in p.curves.iter().zip(&chains).enumerate() {
        markers(c, k, pieces, plot, (i, n), &mut crowd);
    }
    for level in &p.levels {
        let y = m.py(level.y);
        crowd.add_line(&[(plot.x, y), (plot.right(), y)]);
    }
    for moment in &p.moments {
        let x = m.px(moment.x);
        crowd.add_line(&[(x, plot.y), (x, plot.bottom())]);
    }
    c.frame(plot, Pen::new(INK, 2.5));
    for s in &p.spots {
        let at = (m.px(s.x), m.py(s.y));
        c.marker(at, s.marker, s.color, 15.0);
        crowd.add_box(Rect::new(at.0 - 15.0, at.1 - 15.0, 30.0, 30.0));
    }
    for s in &p.spots {
        spot_words(c, s, &m, &mut crowd);
    }
    for moment in &p.moments {
        let near = p
            .moments
            .iter()
            .map(|o| m.px(o.x) - m.px(moment.x))
            .filter(|d| *d != 0.0)
            .min_by(|a, b| a.abs().total_cmp(&b.abs()));
        moment_words(c, moment, near, &m, &mut crowd);
    }
    for level in &p.levels {
        level_words(c, level, &m, &mut crowd);
    }
    c.frame(plot, Pen::new(INK, 2.5));
}

fn grid(c: &mut Canvas, p: &Panel, m: &Map) {
    let plot = m.plot;
    let over_areas = if p.areas.iter().any(|a| a.color.luminance() < 0.5) {
        0.45
    } else {
        1.0
    };
    for t in &m.x.ticks {
        let x = m.px(t.at);
        c.line(
            &[(x, plot.y), (x, plot.bottom())],
            Pen::new(GRID, 1.5).alpha(over_areas),
        );
        c.line(
            &[(x, plot.bottom()), (x, plot.bottom() + 9.0)],
            Pen::new(INK, 2.5),
        );
    }
    for t in &p.y.ticks {
        let y = m.py(t.at);
        c.line(
            &[(plot.x, y), (plot.right(), y)],
            Pen::new(GRID, 1.5).alpha(over_areas),
        );
        c.line(&[(plot.x - 9.0, y), (plot.x, y)], Pen::new(INK, 2.5));
        c.text_mid(
            &t.text,
            (plot.x - 16.0, y),
            Type::new(TEXT).anchor(Anchor::End),
        );
    }
    if p.zero_line && p.y.lo < 0.0 && p.y.hi > 0.0 {
        let y = m.py(0.0);
        c.line(&[(plot.x, y), (plot.right(), y)], Pen::new(INK, 2.0));
    }
    if let Some(side) = &p.right {
        for t in &side.ticks {
            let y = m.py(t.at);
            c.line(
                &[(plot.right(), y), (plot.right() + 9.0, y)],
                Pen::new(INK, 2.5),
            );
            c.text_mid(&t.text, (plot.right() + 16.0, y), Type::new(TEXT));
        }
    }
}

fn area(c: &mut Canvas, a: &Area, m: &Map) {
    let clamp = |y: f64| m.py(y.clamp(m.y.lo, m.y.hi));
    let keep = thin_out(&a.xs, &[&a.lower, &a.upper], m);
    let xs: Vec<f64> = keep.iter().map(|&i| m.px(a.xs[i])).collect();
    let top: Vec<f64> = keep.iter().map(|&i| clamp(a.upper[i])).collect();
    let bottom: Vec<f64> = keep.iter().map(|&i| clamp(a.lower[i])).collect();
    if xs.len() < 2 {
        return;
    }
    let mut points: Vec<Px> = xs.iter().copied().zip(top.iter().copied()).collect();
    points.extend(xs.iter().copied().zip(bottom.iter().copied()).rev());
    c.fill(&points, a.color, 1.0);
    hatch::paint(c, &xs, &top, &bottom, a.hatch, a.color);
}

/// Indices worth drawing: finite, and per pixel column only first, extremes and last.
fn thin_out(xs: &[f64], ys: &[&[f64]], m: &Map) -> Vec<usize> {
    let finite = |i: usize| xs[i].is_finite() && ys.iter().all(|y| y[i].is_finite());
    let mut keep = Vec::new();
    let mut i = 0;
    while i < xs.len() {
        let column = m.px(xs[i]).floor();
        let mut j = i;
        while j < xs.len() && m.px(xs[j]).floor() == column {
            j += 1;
        }
        let j = j.max(i + 1);
        let mut picks = vec![i, j - 1];
        for y in ys {
            let by = |&a: &usize, &b: &usize| y[a].total_cmp(&y[b]);
            picks.extend((i..j).filter(|&k| finite(k)).min_by(by));
            picks.extend((i..j).filter(|&k| finite(k)).max_by(by));
        }
        picks.sort_unstable();
        picks.dedup();
        keep.extend(picks.into_iter().filter(|&k| finite(k)));
        i = j;
    }
    keep
}

/// The curve as unbroken chains of pixels inside the plot.
fn chains(k: &Curve, m: &Map) -> Vec<Vec<Px>> {
    let mut out: Vec<Vec<Px>> = Vec::new();
    let mut open = false;
    let keep = thin_out(&k.xs, &[&k.ys], m);
    for pair in keep.windows(2) {
        let (i, j) = (pair[0], pair[1]);
        // A gap in the data is a gap in the curve.
        let gap = (i + 1..j).any(|n| !k.ys[n].is_finite());
        let a = (m.px(k.xs[i]), m.py(k.ys[i]));
        let b = (m.px(k.xs[j]), m.py(k.ys[j]));
        match (!gap).then(|| clip(a, b, m.plot)).flatten() {
            Some((p, q)) => {
                if open && out.last().and_then(|l| l.last()) == Some(&p) {
                    if let Some(l) = out.last_mut() {
                        l.push(q);
                    }
                } else {
                    out.push(vec![p, q]);
                }
                open = q == b;
            }
            None => open = false,
        }
    }
    if out.is_empty() {
        // A single row still shows as a point.
        out.extend(keep.first().map(|&i| {
            let y = k.ys[i].clamp(m.y.lo, m.y.hi);
            vec![(m.px(k.xs[i]), m.py(y))]
        }));
    }
    out
}

/// The part of a straight line between the upper and lower edge of the plot.
fn clip(a: Px, b: Px, plot: Rect) -> Option<(Px, Px)> {
    let (lo, hi) = (plot.y, plot.bottom());
    if (a.1 < lo && b.1 < lo) || (a.1 > hi && b.1 > hi) {
        return None;
    }
    let cut = |p: Px, q: Px| -> Px {
        if p.1 < lo {
            (p.0 + (q.0 - p.0) * (lo - p.1) / (q.1 - p.1), lo)
        } else if p.1 > hi {
            (p.0 + (q.0 - p.0) * (hi - p.1) / (q.1 - p.1), hi)
        } else {
            p
        }
    };
    Some((cut(a, b), cut(b, a)))
}

/// Markers at even distances, shifted from curve to curve so that they do not coincide.
fn markers(
    c: &mut Canvas,
    k: &Curve,
    pieces: &[Vec<Px>],
    plot: Rect,
    (i, n): (usize, usize),
    crowd: &mut Crowd,
) {
    if let [[p]] = pieces.iter().map(Vec::as_slice).collect::<Vec<_>>()[..] {
        // A single row has no line: a point in any case.
        let shape = match k.look.marker {
            Marker::None => Marker::Circle,
            shape => shape,
        };
        c.marker(*p, shape, k.look.color, 10.0);
        return;
    }
    if k.look.marker == Marker::None {
        return;
    }
    let every = plot.w / 6.0;
    let mut x = plot.x + every * (i as f64 + 0.5) / n as f64;
    while x < plot.right() {
        for piece in pieces {
            let (Some(first), Some(last)) = (piece.first(), piece.last()) else {
                continue;
            };
            if x >= first.0 && x <= last.0 {
                let xs: Vec<f64> = piece.iter().map(|p| p.0).collect();
                let ys: Vec<f64> = piece.iter().map(|p| p.1).collect();
                let at = (x, hatch::at(&xs, &ys, x));
                c.marker(at, k.look.marker, k.look.color, 10.0);
                crowd.add_line(&[(at.0 - 10.0, at.1 - 10.0), (at.0 + 10.0, at.1 + 10.0)]);
                break;
            }
        }
        x += every;
    }
}

fn box_of(label: &str) -> (f64, f64) {
    (font::width(label, NOTE, false), 1.15 * NOTE)
}

/// Words on a faint patch of paper, in a box of `box_of` size.
fn words(c: &mut Canvas, label: &str, r: Rect, color: super::style::Rgb) {
    c.fill_rect(r.grown(3.0), PAPER, 0.85);
    let mid = r.y + r.h / 2.0;
    c.text(
        label,
        (r.x, mid + HALF_CAP * NOTE),
        // Darker than its line, so that it reads on paper.
        Type::new(NOTE).color(color.over(INK, 0.55)),
    );
}

fn spot_words(c: &mut Canvas, s: &Spot, m: &Map, crowd: &mut Crowd) {
    if s.label.is_empty() {
        return;
    }
    let (w, h) = box_of(&s.label);
    let (x, y) = (m.px(s.x), m.py(s.y));
    let mut spots = Vec::new();
    for away in [26.0, 60.0, 110.0, 170.0] {
        for (dx, dy) in [
            (-w - away, -h - 14.0),
            (away, -h - 14.0),
            (away, 14.0),
            (-w - away, 14.0),
            (-w / 2.0, -h - away),
            (-w / 2.0, away),
            (away, -h / 2.0),
            (-w - away, -h / 2.0),
        ] {
            spots.push(Rect::new(x + dx, y + dy, w, h));
        }
    }
    if let Some((i, _)) = crowd.take(&spots, &m.plot) {
        words(c, &s.label, spots[i], INK);
    }
}

/// `near`: way to the nearest other moment, so that the words stand on the far side of their line.
fn moment_words(c: &mut Canvas, s: &Moment, near: Option<f64>, m: &Map, crowd: &mut Crowd) {
    if s.label.is_empty() {
        return;
    }
    let (w, h) = box_of(&s.label);
    let x = m.px(s.x);
    let mut spots = Vec::new();
    let rows = ((m.plot.h - h - 20.0) / (0.5 * h)).floor().max(0.0) as u32;
    for row in 0..=rows {
        let y = m.plot.y + 10.0 + f64::from(row) * 0.5 * h;
        let (right, left) = (14.0, -w - 14.0);
        let fits_left = x + left > m.plot.x;
        let fits_right = x + right + w < m.plot.right();
        let sides: &[f64] = match near {
            Some(d) if d > 0.0 && d < w + 40.0 && fits_left => &[left],
            Some(d) if d < 0.0 && -d < w + 40.0 && fits_right => &[right],
            _ => &[right, left],
        };
        for dx in sides {
            spots.push(Rect::new(x + dx, y, w, h));
        }
    }
    if let Some((i, _)) = crowd.take(&spots, &m.plot) {
        words(c, &s.label, spots[i], s.color);
    }
}

fn level_words(c: &mut Canvas, l: &Level, m: &Map, crowd: &mut Crowd) {
    if l.label.is_empty() {
        return;
    }
    let (w, h) = box_of(&l.label);
    let y = m.py(l.y);
    let room = (m.plot.w - w - 28.0).max(0.0);
    let mut spots = Vec::new();
    for i in [0, 1, 2, 3, 4, 5, 6, 7, 8] {
        for dy in [-h - 8.0, 10.0] {
            let x = m.plot.x + 14.0 + room * f64::from(i) / 8.0;
            spots.push(Rect::new(x, y + dy, w, h));
        }
    }
    // No place at the line: anywhere clear, the words name their level.
    for i in 0..=8 {
        for j in 1..8 {
            let x = m.plot.x + 14.0 + room * f64::from(i) / 8.0;
            let y = m.plot.y + (m.plot.h - h) * f64::from(j) / 8.0;
            spots.push(Rect::new(x, y, w, h));
        }
    }
    if let Some((i, _)) = crowd.take(&spots, &m.plot) {
        words(c, &l.label, spots[i], l.look.color);
    }
}

/// Lanes under each other: strokes or bars over the common axis.
pub fn strip(c: &mut Canvas, lanes: &[Lane], x: &Axis, plot: Rect) {
    for (i, lane) in lanes.iter().enumerate() {
        let r = Rect::new(plot.x, plot.y + i as f64 * LANE, plot.w, LANE);
        let inner = Rect::new(r.x, r.y + 7.0, r.w, r.h - 14.0);
        c.text_mid(
            &lane.name,
            (r.x - 16.0, r.y + r.h / 2.0),
            Type::new(TEXT).anchor(Anchor::End),
        );
        let px = |t: f64| plot.x + x.share(t.clamp(x.lo, x.hi)) * plot.w;
        match &lane.kind {
            LaneKind::Strokes(moments) => {
                for &t in moments {
                    let x = px(t);
                    c.line(
                        &[(x, inner.y), (x, inner.bottom())],
                        Pen::new(lane.color, 5.0),
                    );
                }
            }
            LaneKind::Bars(bars) => {
                let base = inner.bottom();
                for (from, to, share, _) in bars {
                    let h = inner.h * share.clamp(0.0, 1.0);
                    let (a, b) = (px(*from), px(*to));
                    c.fill_rect(Rect::new(a, base - h, b - a, h), lane.color.tint(0.35), 1.0);
                    c.line(&[(a, base - h), (b, base - h)], Pen::new(lane.color, 4.0));
                }
                for pair in bars.windows(2) {
                    let x = px(pair[0].1);
                    c.line(
                        &[(x, inner.y), (x, inner.bottom())],
                        Pen::new(lane.color, 3.0),
                    );
                }
                for (from, to, _, label) in bars {
                    let (a, b) = (px(*from), px(*to));
                    let w = font::width(label, NOTE, false);
                    if w + 24.0 <= b - a {
                        let patch = Rect::new(a + 6.0, inner.y + 4.0, w + 12.0, inner.h - 8.0);
                        c.fill_rect(patch, PAPER, 0.8);
                        c.text_mid(label, (a + 12.0, r.y + r.h / 2.0), Type::new(NOTE));
                    }
                }
            }
        }
        c.line(
            &[(r.x, r.bottom()), (r.right(), r.bottom())],
            Pen::new(GRID, 2.0),
        );
    }
    for t in &x.ticks {
        let x = plot.x + x.share(t.at) * plot.w;
        c.line(
            &[(x, plot.bottom()), (x, plot.bottom() + 9.0)],
            Pen::new(INK, 2.5),
        );
    }
    c.frame(plot, Pen::new(GREY, 1.5));
}
