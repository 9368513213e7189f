//! Wood and char on the grate, and how fast the fire releases heat.

use super::view::View;
use crate::output::error::OutputError;
use crate::output::figure::{Curve, Panel, Row};
use crate::output::style::{BROWN, INK, LONG, Look, Marker, ORANGE, SOLID};
use crate::units::PlotKind as Kind;

pub fn paint(v: &View) -> Result<String, OutputError> {
    let mut rows = Vec::new();
    let curves: Vec<Curve> = [
        (
            "bed_wood_kg",
            "wood not yet charred",
            Look::new(BROWN, SOLID, Marker::Circle),
        ),
        ("bed_char_kg", "char", Look::new(INK, LONG, Marker::Square)),
    ]
    .into_iter()
    .filter_map(|(column, label, look)| v.curve(column, label, Kind::Mass, look))
    .collect();
    let axis = v.cover(&curves, &[0.0], 5);
    let (title, right) = v.titles("Mass in the fire", Kind::Mass, &axis);
    let mut panel = Panel::new(axis, title, 430.0);
    panel.right = right;
    panel.curves = curves;
    rows.push(Row::from(panel));
    if let Some(feeds) = v.feeds() {
        rows.push(Row::Strip(vec![feeds]));
    }
    let look = Look::new(ORANGE, SOLID, Marker::None);
    if let Some(curve) = v.curve("firing_rate_W", "", Kind::Power, look) {
        let axis = v.cover(std::slice::from_ref(&curve), &[0.0], 5);
        let (title, right) = v.titles("Firing rate, net", Kind::Power, &axis);
        let mut panel = Panel::new(axis, title, 430.0);
        panel.right = right;
        panel.curves = vec![curve];
        rows.push(Row::from(panel));
    }
    v.over_time("bed", "Fuel on the grate and firing rate", rows)
        .svg()
}
