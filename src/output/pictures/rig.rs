//! The rig in one vertical plane, to scale, with its heights.

use super::view::View;
use crate::output::axis::Axis;
use crate::output::canvas::{Anchor, Canvas, Pen, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::Frame;
use crate::output::font;
use crate::output::rig as parts;
use crate::output::rig::plan::plan;
use crate::output::show::{across, other, shown, unit};
use crate::output::style::{GRID, INK, MARGIN, TEXT, WIDTH};
use crate::results::RigDrawing;
use crate::units::{PlotKind as Kind, UnitSystem};

pub fn paint(v: &View) -> Result<String, OutputError> {
    match &v.result.rig {
        Some(rig) => rig_svg(rig, v.units),
        None => Err(OutputError::NoSuchPicture {
            name: "rig".into(),
            have: String::new(),
        }),
    }
}

/// Draws a rig to scale as SVG text.
///
/// # Errors
/// [`OutputError::Drawing`] when drawing fails.
pub fn rig_svg(rig: &RigDrawing, units: UnitSystem) -> Result<String, OutputError> {
    let kind = Kind::Length;
    let plan = plan(rig);
    let frame = Frame::new(
        &rig.title,
        "The rig to scale, side view",
        "Heights, bores and lengths to scale; how columns stand beside each other is not. Pipes are drawn without their real length.",
    );
    // The vertical axis is in the person's unit; the drawing is in metres.
    let (lo, hi) = plan.z_range;
    let pad = 0.03 * (hi - lo);
    let axis = Axis::exact(
        shown(kind, lo - pad, units),
        shown(kind, hi + 2.0 * pad, units),
        9,
    );
    let far_ticks = axis.other_side(across(kind, units), 9);
    let width_of = |t: &str| font::width(t, TEXT, false);
    let left = axis
        .ticks
        .iter()
        .map(|t| width_of(&t.text))
        .fold(0.0, f64::max);
    let right = far_ticks
        .iter()
        .map(|t| width_of(&t.text))
        .fold(0.0, f64::max);
    let x0 = MARGIN + left + 18.0;
    let x1 = WIDTH - MARGIN - right - 18.0;
    let view = plan.fit((x0, x1), (lo - pad, hi + 2.0 * pad));
    let keys = parts::keys::keys(rig, units);
    let key_lines: Vec<(usize, String)> = keys
        .iter()
        .enumerate()
        .flat_map(|(i, k)| {
            font::wrap(k, TEXT, false, WIDTH - 2.0 * MARGIN - 70.0, 2)
                .into_iter()
                .enumerate()
                .map(move |(n, line)| (if n == 0 { i + 1 } else { 0 }, line))
        })
        .collect();
    let top = frame.head() + 1.6 * TEXT;
    let plot = Rect::new(x0, top, x1 - x0, view.height);
    let keys_y = plot.bottom() + 40.0;
    let height = keys_y + key_lines.len() as f64 * 50.0 + 20.0 + frame.foot();
    draw(
        "rig",
        (WIDTH, height),
        (&rig.title, "The rig to scale"),
        |c| {
            frame.paint(c, height);
            heights(c, plot, &axis, &far_ticks, units);
            parts::paint(c, rig, &plan, &view.at(plot), units);
            let mut y = keys_y;
            for (number, line) in &key_lines {
                if *number > 0 {
                    parts::balloon(c, (MARGIN + 26.0, y + 25.0), *number);
                }
                c.text_mid(line, (MARGIN + 70.0, y + 25.0), Type::new(TEXT));
                y += 50.0;
            }
        },
    )
}

/// Rulers on both sides with light lines across.
fn heights(
    c: &mut Canvas,
    plot: Rect,
    axis: &Axis,
    far_ticks: &[crate::output::axis::Tick],
    units: UnitSystem,
) {
    let words = |u: UnitSystem| format!("Height, {}", unit(Kind::Length, u));
    let y = plot.y - 16.0;
    c.text(&words(units), (MARGIN, y), Type::new(TEXT).bold());
    c.text(
        &words(other(units)),
        (WIDTH - MARGIN, y),
        Type::new(TEXT).bold().anchor(Anchor::End),
    );
    let py = |v: f64| plot.bottom() - axis.share(v) * plot.h;
    for t in &axis.ticks {
        let y = py(t.at);
        c.line(&[(plot.x, y), (plot.right(), y)], Pen::new(GRID, 1.5));
        c.line(&[(plot.x - 9.0, y), (plot.x, y)], Pen::new(INK, 2.5));
        c.text_mid(
            &t.text,
            (plot.x - 16.0, y),
            Type::new(TEXT).anchor(Anchor::End),
        );
    }
    for t in far_ticks {
        let y = py(t.at);
        c.line(
            &[(plot.right(), y), (plot.right() + 9.0, y)],
            Pen::new(INK, 2.5),
        );
        c.text_mid(&t.text, (plot.right() + 16.0, y), Type::new(TEXT));
    }
    c.line(
        &[(plot.x, plot.y), (plot.x, plot.bottom())],
        Pen::new(INK, 2.5),
    );
    c.line(
        &[(plot.right(), plot.y), (plot.right(), plot.bottom())],
        Pen::new(INK, 2.5),
    );
}
