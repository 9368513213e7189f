//! Where the layer lies: one bar a cell along the gas, soot and tar, with the band of its thickness and the surface's temperature.

use super::pictures::thin_unit;
use crate::output::axis::Axis;
use crate::output::canvas::{Anchor, Pen, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::Frame;
use crate::output::font;
use crate::output::show::{shown, temperature_short};
use crate::output::style::{
    BROWN, GREY, GRID, INK, LONG, MARGIN, PAPER, RED, SLATE, SMALL, TEXT, WIDTH,
};
use crate::results::{LayerCell, SeasonReport};
use crate::units::{PlotKind as P, UnitSystem, axis};

const HEIGHT: f64 = 620.0;
/// About which tar condenses on a surface, as the model has it.
const CONDENSES_K: f64 = 413.15;
/// Gap between two surfaces, in bars.
const GAP: f64 = 0.8;

/// Draws the layer after the season without cleaning.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn season_layer_svg(r: &SeasonReport, units: UnitSystem) -> Result<String, OutputError> {
    let onto = |m: f64| match units {
        UnitSystem::Metric => 1e3 * m,
        UnitSystem::Us => m / 0.0254,
    };
    let same = |a: &LayerCell, b: &LayerCell| a.surface == b.surface && a.is_coil == b.is_coil;
    // Left edge of each bar, in bars.
    let mut at = Vec::new();
    let mut x = 0.0;
    for (i, c) in r.layer.iter().enumerate() {
        if i > 0 && !same(&r.layer[i - 1], c) {
            x += GAP;
        }
        at.push(x);
        x += 1.0;
    }
    let bars = x.max(1.0);
    let any_flue = r.layer.iter().any(|c| c.is_flue);
    let most = r
        .layer
        .iter()
        .map(|c| onto(c.thickness_high_m))
        .fold(if any_flue { onto(r.sweep_at_m) } else { 0.0 }, f64::max);
    let y = Axis::covering(0.0, 1.05 * most, 5);
    let degree = axis(P::Temperature, units).label;
    let frame = Frame::new(
        &r.title,
        &format!("The layer after {} burns without cleaning", r.burns),
        &format!(
            "Thin lines: the same mass laid more densely or more loosely. Figures over the bars: temperature of the bare surface, {degree}. \
             Below about {} tar condenses.",
            temperature_short(CONDENSES_K, units)
        ),
    );
    let left = MARGIN + 130.0;
    let plot = Rect::new(
        left,
        frame.head() + 4.2 * TEXT,
        WIDTH - left - MARGIN,
        HEIGHT,
    );
    let height = (plot.bottom() + 4.6 * TEXT + frame.foot()).ceil();
    let px = |bar: f64| plot.x + bar / bars * plot.w;
    let py = |v: f64| plot.bottom() - y.share(v) * plot.h;
    let wide = plot.w / bars;
    draw("season-layer", (WIDTH, height), (&r.title, "layer"), |c| {
        frame.paint(c, height);
        let keys = [(left, SLATE, "soot"), (left + 240.0, BROWN, "tar")];
        for (x, color, words) in keys {
            c.fill_rect(Rect::new(x, frame.head() + 14.0, 34.0, 28.0), color, 1.0);
            c.text(words, (x + 46.0, frame.head() + 38.0), Type::new(SMALL));
        }
        for t in &y.ticks {
            c.line(
                &[(plot.x, py(t.at)), (plot.right(), py(t.at))],
                Pen::new(GRID, 1.5),
            );
            c.text_mid(
                &t.text,
                (plot.x - 12.0, py(t.at)),
                Type::new(TEXT).anchor(Anchor::End),
            );
        }
        for (cell, x) in r.layer.iter().zip(&at) {
            let (x0, w) = (px(*x) + 0.1 * wide, 0.8 * wide);
            let whole = onto(cell.thickness_m);
            let tar = whole * cell.tar_thickness_share;
            let (top, mid) = (py(whole), py(tar));
            c.fill_rect(Rect::new(x0, mid, w, plot.bottom() - mid), BROWN, 1.0);
            c.fill_rect(Rect::new(x0, top, w, mid - top), SLATE, 1.0);
            let centre = x0 + 0.5 * w;
            let (lo, hi) = (
                py(onto(cell.thickness_low_m)),
                py(onto(cell.thickness_high_m)),
            );
            c.line(&[(centre, lo), (centre, hi)], Pen::new(INK, 3.0));
            if cell.surface_bare_K.is_finite() && wide > 44.0 {
                let words = format!("{:.0}", shown(P::Temperature, cell.surface_bare_K, units));
                c.text(
                    &words,
                    (centre, hi - 10.0),
                    Type::new(SMALL).anchor(Anchor::Middle).color(GREY),
                );
            }
        }
        // Names under each surface.
        let mut from = 0;
        for i in 0..r.layer.len() {
            let ends = i + 1 == r.layer.len() || !same(&r.layer[i], &r.layer[i + 1]);
            if !ends {
                continue;
            }
            let (a, b) = (px(at[from]), px(at[i] + 1.0));
            let first = &r.layer[from];
            let words = if first.is_coil {
                first.surface.clone()
            } else {
                format!("{}, wall", first.surface)
            };
            let (x_mid, last) = (0.5 * (a + b), &r.layer[i]);
            let kinds = if first.kind == last.kind {
                first.kind.word().to_owned()
            } else {
                format!("{} … {}", first.kind.word(), last.kind.word())
            };
            let room = (b - a + GAP * wide - 8.0).max(130.0);
            for (k, line) in font::wrap(&words, SMALL, false, room, 2).iter().enumerate() {
                c.text(
                    line,
                    (x_mid, plot.bottom() + (1.2 + 1.2 * k as f64) * SMALL),
                    Type::new(SMALL).anchor(Anchor::Middle),
                );
            }
            c.text(
                &kinds,
                (x_mid, plot.bottom() + 3.7 * SMALL),
                Type::new(SMALL).anchor(Anchor::Middle).color(GREY),
            );
            if first.is_flue {
                let v = py(onto(r.sweep_at_m));
                c.line(&[(a, v), (b, v)], Pen::new(RED, 4.0).dash(LONG));
                c.fill_rect(
                    Rect::new(a, v - 10.0 - SMALL, 4.4 * SMALL, 1.2 * SMALL),
                    PAPER,
                    1.0,
                );
                c.text("swept at", (a + 4.0, v - 10.0), Type::new(SMALL).color(RED));
            }
            from = i + 1;
        }
        c.frame(plot, Pen::new(GREY, 2.0));
        c.text(
            &format!("layer, {}", thin_unit(units)),
            (MARGIN, plot.y - 1.0 * TEXT),
            Type::new(TEXT),
        );
        c.text(
            "along the gas",
            (plot.x + 0.5 * plot.w, plot.bottom() + 4.3 * TEXT),
            Type::new(TEXT).anchor(Anchor::Middle),
        );
    })
}
