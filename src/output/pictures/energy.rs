//! Where the fuel's energy went: bands as wide as the energy that they stand for.

use super::view::View;
use crate::output::account::account;
use crate::output::canvas::{Anchor, Canvas, Pen, Px, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::Frame;
use crate::output::font;
use crate::output::show;
use crate::output::style::{
    BLUE, BROWN, GOLD, INK, MARGIN, ORANGE, PAPER, PLUM, Rgb, SKY, SLATE, SMALL, TEAL, TEXT, WIDTH,
};
use crate::units::PlotKind as Kind;

/// Pixels for all energy that came in.
const FLOW: f64 = 560.0;
/// Height of one line of words.
const LINE: f64 = 1.2 * TEXT;
const GAP: f64 = 14.0;
/// Streams under this share of the whole are put together.
const SMALLEST: f64 = 0.004;

#[derive(Debug, Clone)]
struct Stream {
    label: String,
    energy_j: f64,
    color: Rgb,
    useful: bool,
}

pub fn paint(v: &View) -> Result<String, OutputError> {
    let (inputs, outputs) = streams(v);
    let total: f64 = inputs.iter().map(|s| s.energy_j).sum();
    if total.is_nan() || total <= 0.0 {
        return blank(v);
    }
    let basis = fuel_gross_j(v).unwrap_or(total);
    let scale = FLOW / total;
    let body = need(&inputs, true, scale)
        .max(need(&outputs, false, scale))
        .max(FLOW);
    let residual = v.result.ledger.residual_fraction;
    let note = format!(
        "Shares of the fuel's gross energy. Not accounted for: {} of it.",
        tiny_percent(residual)
    );
    let frame = Frame::new(
        &v.result.summary.title,
        "Where the fuel's energy went over the whole run",
        &note,
    );
    let top = frame.head() + 16.0;
    let height = top + body + 30.0 + frame.foot();
    let title = (
        v.result.summary.title.as_str(),
        "Where the fuel's energy went",
    );
    draw("energy", (WIDTH, height), title, |c| {
        frame.paint(c, height);
        bands(c, v, (&inputs, &outputs), (top, body, scale, basis));
    })
}

/// The label of a stream as it is broken on its side.
fn label_lines(s: &Stream, left: bool) -> Vec<String> {
    let room = if left {
        LEFT_WORDS - MARGIN
    } else {
        WIDTH - MARGIN - RIGHT_WORDS
    };
    font::wrap(&s.label, TEXT, true, room, if left { 3 } else { 2 })
}

/// Height of a stream's place: its own width or that of its words.
fn slot(s: &Stream, left: bool, scale: f64) -> f64 {
    let lines = label_lines(s, left).len() + 1;
    (s.energy_j * scale).max(lines as f64 * LINE + 6.0)
}

/// Height that streams need under each other.
fn need(list: &[Stream], left: bool, scale: f64) -> f64 {
    list.iter().map(|s| slot(s, left, scale) + GAP).sum::<f64>() - GAP
}

fn blank(v: &View) -> Result<String, OutputError> {
    let frame = Frame::new(
        &v.result.summary.title,
        "Where the fuel's energy went",
        "No energy came in: there is nothing to draw.",
    );
    let height = frame.head() + 120.0 + frame.foot();
    draw(
        "energy",
        (WIDTH, height),
        (&v.result.summary.title, ""),
        |c| {
            frame.paint(c, height);
        },
    )
}

/// "0.0004 %": small residuals in full.
fn tiny_percent(share: f64) -> String {
    let p = 100.0 * share;
    if !p.is_finite() {
        "unknown".into()
    } else if p < 1e-7 {
        "less than 0.0000001 %".into()
    } else if p >= 0.01 {
        format!("{p:.2} %")
    } else {
        let places = (1.0 - p.log10().floor()).clamp(0.0, 12.0) as usize;
        format!("{p:.places$} %")
    }
}

fn fuel_gross_j(v: &View) -> Option<f64> {
    let s = v.result.summary.fuel_energy_gross_J;
    (s.is_finite() && s > 0.0).then_some(s)
}

/// Left and right streams, all positive; a negative line stands on the other side.
fn streams(v: &View) -> (Vec<Stream>, Vec<Stream>) {
    let account = account(&v.result.ledger);
    let (mut left, mut right) = (Vec::new(), Vec::new());
    for (line, on_left) in account
        .from
        .iter()
        .map(|l| (l, true))
        .chain(account.to.iter().map(|l| (l, false)))
    {
        let s = Stream {
            label: line.label.clone(),
            energy_j: line.energy_j.abs(),
            color: color(&line.key, line.useful),
            useful: line.useful,
        };
        if on_left == (line.energy_j > 0.0) {
            left.push(s);
        } else {
            right.push(s);
        }
    }
    let total: f64 = left.iter().map(|s| s.energy_j).sum();
    let rest: f64 = right.iter().map(|s| s.energy_j).sum();
    // A visible residual is a stream of its own, never hidden.
    if (total - rest).abs() > SMALLEST * total {
        let s = Stream {
            label: "unaccounted for".into(),
            energy_j: (total - rest).abs(),
            color: INK,
            useful: false,
        };
        if total > rest {
            right.push(s);
        } else {
            left.push(s);
        }
    }
    left.sort_by(|a, b| b.energy_j.total_cmp(&a.energy_j));
    right.sort_by(|a, b| {
        b.useful
            .cmp(&a.useful)
            .then(b.energy_j.total_cmp(&a.energy_j))
    });
    (gather(left), gather(right))
}

/// Puts the smallest streams together.
fn gather(list: Vec<Stream>) -> Vec<Stream> {
    let total: f64 = list.iter().map(|s| s.energy_j).sum();
    let (mut big, small): (Vec<_>, Vec<_>) = list
        .into_iter()
        .partition(|s| s.energy_j >= SMALLEST * total);
    match small.len() {
        0 => {}
        1 => big.extend(small),
        n => big.push(Stream {
            label: format!("{n} smaller streams together"),
            energy_j: small.iter().map(|s| s.energy_j).sum(),
            color: SLATE,
            useful: false,
        }),
    }
    big
}

fn color(key: &str, useful: bool) -> Rgb {
    let has = |w: &str| key.contains(w);
    if useful {
        BLUE
    } else if has("fuel") || has("wood") {
        BROWN
    } else if has("latent") || has("evap") || has("drying") {
        SKY
    } else if has("stack") {
        ORANGE
    } else if has("unburnt") || has("char") {
        PLUM
    } else if has("casing") || has("wall") || has("mass") || has("fire_bed") || has("opening") {
        GOLD
    } else if has("pipe") || has("vessel") || has("loop") || has("surface") {
        TEAL
    } else {
        SLATE
    }
}

const LEFT_BAR: f64 = 356.0;
const TRUNK_FROM: f64 = 500.0;
const TRUNK_TO: f64 = 560.0;
const RIGHT_BAR: f64 = 900.0;
const BAR: f64 = 14.0;
const LEFT_WORDS: f64 = LEFT_BAR - BAR - 14.0;
const RIGHT_WORDS: f64 = RIGHT_BAR + BAR + 18.0;

fn bands(
    c: &mut Canvas,
    v: &View,
    (inputs, outputs): (&[Stream], &[Stream]),
    (top, body, scale, basis): (f64, f64, f64, f64),
) {
    let places = |list: &[Stream], left: bool| -> Vec<(f64, f64)> {
        let mut y = top + (body - need(list, left, scale)) / 2.0;
        list.iter()
            .map(|s| {
                let w = s.energy_j * scale;
                let slot = slot(s, left, scale);
                let at = y + (slot - w) / 2.0;
                y += slot + GAP;
                (at, w)
            })
            .collect()
    };
    let trunk = top + (body - FLOW) / 2.0;
    let (left, right) = (places(inputs, true), places(outputs, false));
    let mut y = trunk;
    for (s, &(at, w)) in inputs.iter().zip(&left) {
        band(c, (LEFT_BAR, at), (TRUNK_FROM, y), w, s.color);
        c.fill_rect(bar(LEFT_BAR - BAR, at, w), s.color, 1.0);
        y += w;
        words(c, v, s, basis, at + w / 2.0, true);
    }
    c.fill_rect(
        Rect::new(TRUNK_FROM, trunk, TRUNK_TO - TRUNK_FROM, y - trunk),
        BROWN.tint(0.55),
        1.0,
    );
    let mut y = trunk;
    for (s, &(at, w)) in outputs.iter().zip(&right) {
        band(c, (TRUNK_TO, y), (RIGHT_BAR, at), w, s.color);
        c.fill_rect(bar(RIGHT_BAR, at, w), s.color, 1.0);
        y += w;
        words(c, v, s, basis, at + w / 2.0, false);
    }
    // Thin seams of paper, so that neighbouring bands part without colour.
    let mut y = trunk;
    for s in &outputs[..outputs.len().saturating_sub(1)] {
        y += s.energy_j * scale;
        c.line(&[(TRUNK_TO, y), (TRUNK_TO + 30.0, y)], Pen::new(PAPER, 2.5));
    }
}

fn bar(x: f64, y: f64, w: f64) -> Rect {
    // A stream too small to see still shows as a hair line.
    Rect::new(x, y, BAR, w.max(1.5))
}

/// A band of constant height between two places.
fn band(c: &mut Canvas, (x0, y0): Px, (x1, y1): Px, w: f64, color: Rgb) {
    const N: usize = 28;
    let edge = |dy: f64| {
        (0..=N).map(move |i| {
            let s = i as f64 / N as f64;
            let ease = s * s * (3.0 - 2.0 * s);
            (x0 + (x1 - x0) * s, y0 + (y1 - y0) * ease + dy)
        })
    };
    let mut points: Vec<Px> = edge(0.0).collect();
    points.extend(edge(w.max(1.0)).collect::<Vec<_>>().into_iter().rev());
    c.fill(&points, color.tint(0.55), 1.0);
}

fn words(c: &mut Canvas, v: &View, s: &Stream, basis: f64, mid: f64, left: bool) {
    let share = show::text(Kind::Fraction, s.energy_j / basis, v.units);
    let figure = format!("{}, {share}", show::text(Kind::Energy, s.energy_j, v.units));
    let (x, room, anchor) = if left {
        (LEFT_WORDS, LEFT_WORDS - MARGIN, Anchor::End)
    } else {
        (RIGHT_WORDS, WIDTH - MARGIN - RIGHT_WORDS, Anchor::Start)
    };
    let lines = label_lines(s, left);
    let all = (lines.len() + 1) as f64 * LINE;
    let mut y = mid - all / 2.0 + 0.85 * TEXT;
    for line in &lines {
        c.text(line, (x, y), Type::new(TEXT).bold().anchor(anchor));
        y += LINE;
    }
    let size = if font::width(&figure, TEXT, false) > room {
        SMALL
    } else {
        TEXT
    };
    c.text(&figure, (x, y), Type::new(size).anchor(anchor));
}
