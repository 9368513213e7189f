//! Heat flows in time, stacked, under the line of what the fire releases.

use super::view::View;
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Panel, Row};
use crate::output::style::{
    BLUE, BROWN, GOLD, Hatch, INK, Look, Marker, ORANGE, PLUM, Rgb, SKY, SLATE, SOLID, TEAL,
};
use crate::units::PlotKind as Kind;

/// Column, words, colour, pattern; stacked from below. The latent heat stands last, above the net release.
const STREAMS: [(&str, &str, Rgb, Hatch); 8] = [
    ("heat_to_tank_W", "into the tank", BLUE, Hatch::None),
    ("heat_pipe_loss_W", "lost by pipes", TEAL, Hatch::Dots),
    ("heat_into_walls_W", "into walls", BROWN, Hatch::Up),
    ("heat_drying_W", "into drying walls", SLATE, Hatch::Dots),
    ("heat_casing_W", "off the casing", GOLD, Hatch::Upright),
    (
        "heat_stack_sensible_W",
        "stack, sensible",
        ORANGE,
        Hatch::Down,
    ),
    ("unburnt_W", "unburnt gas", PLUM, Hatch::Crossed),
    ("heat_stack_latent_W", "stack, latent", SKY, Hatch::Level),
];

pub fn paint(v: &View) -> Result<String, OutputError> {
    let kind = Kind::Power;
    let n = v.times().len();
    let (mut above, mut below) = (vec![0.0; n], vec![0.0; n]);
    let mut areas = Vec::new();
    for (column, label, color, hatch) in STREAMS {
        if !v.has(column) {
            continue;
        }
        let mut lower = Vec::with_capacity(n);
        let mut upper = Vec::with_capacity(n);
        for (i, y) in v.shown(column, kind).into_iter().enumerate() {
            let y = if y.is_finite() { y } else { 0.0 };
            // What walls or tank give back stands below zero.
            if y >= 0.0 {
                lower.push(above[i]);
                above[i] += y;
                upper.push(above[i]);
            } else {
                upper.push(below[i]);
                below[i] += y;
                lower.push(below[i]);
            }
        }
        areas.push(Area {
            label: label.into(),
            xs: v.times().to_vec(),
            lower,
            upper,
            color: color.tint(0.85),
            hatch,
        });
    }
    let fire = Look::new(INK, SOLID, Marker::None).thin();
    let curves: Vec<Curve> = v
        .curve("firing_rate_W", "released by the fire, net", kind, fire)
        .into_iter()
        .collect();
    let mut extra = above;
    extra.extend(below);
    extra.push(0.0);
    let axis = v.cover(&curves, &extra, 7);
    let (title, right) = v.titles("Heat flow", kind, &axis);
    let mut panel = Panel::new(axis, title, 760.0);
    panel.zero_line = true;
    panel.right = right;
    panel.areas = areas;
    panel.curves = curves;
    let mut figure = v.over_time(
        "heat-flows",
        "Where the heat goes, moment by moment",
        vec![Row::from(panel)],
    );
    figure.note = "Stacked. Below zero: heat that walls or water give back. The line is net: it leaves out the latent heat, which stands on top. Any other gap is heat held on the way.".into();
    figure.svg()
}
