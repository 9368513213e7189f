//! Draught, air ratio and air flow, one above the other.

use super::view::View;
use crate::output::axis::Axis;
use crate::output::error::OutputError;
use crate::output::figure::{Curve, Level, Moment, Panel, Row};
use crate::output::show::clock;
use crate::output::style::{BLUE, BROWN, INK, LONG, Look, Marker, RED, SOLID, TEAL};
use crate::results::EventKind;
use crate::units::PlotKind as Kind;

/// Most spells of spilling smoke that are marked.
const MOST_SPILLS: usize = 3;

pub fn paint(v: &View) -> Result<String, OutputError> {
    let mut rows = Vec::new();
    rows.extend(plain(v, "draught_Pa", "Draught", Kind::Draught, BROWN));
    rows.extend(air_ratio(v));
    rows.extend(plain(v, "air_flow_kg_s", "Air flow", Kind::MassFlow, BLUE));
    let spills = v
        .result
        .events
        .iter()
        .filter(|e| e.kind == EventKind::SmokeSpill)
        .map(|e| Moment {
            x: e.time_s,
            label: format!("smoke spills {}", clock(e.time_s)),
            color: RED,
        });
    if let Some(Row::Panel(p)) = rows.first_mut() {
        p.moments = spills.take(MOST_SPILLS).collect();
    }
    v.over_time("draught", "Draught and air", rows).svg()
}

fn plain(
    v: &View,
    column: &str,
    words: &str,
    kind: Kind,
    color: crate::output::style::Rgb,
) -> Option<Row> {
    let curve = v.curve(column, "", kind, Look::new(color, SOLID, Marker::None))?;
    let axis = v.cover(std::slice::from_ref(&curve), &[0.0], 4);
    let (title, right) = v.titles(words, kind, &axis);
    let mut panel = Panel::new(axis, title, 290.0);
    panel.zero_line = true;
    panel.right = right;
    panel.curves = vec![curve];
    Some(Row::from(panel))
}

/// The air ratio runs away when the fire is out: the axis ends at the 90th percentile, at most at 10.
fn air_ratio(v: &View) -> Option<Row> {
    let column = "air_ratio";
    let look = Look::new(TEAL, SOLID, Marker::None);
    let curve = v.curve(column, "", Kind::Number, look)?;
    let mut sorted: Vec<f64> = curve.ys.iter().copied().filter(|y| y.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let high = sorted
        .get(sorted.len() * 9 / 10)
        .copied()
        .unwrap_or(2.0)
        .clamp(2.0, 10.0);
    let axis = Axis::covering(0.0, 1.15 * high, 4);
    let beyond = sorted.last().is_some_and(|&y| y > axis.hi);
    let title = if beyond {
        "Air ratio (runs off the top with little fire)"
    } else {
        "Air ratio"
    };
    let mut panel = Panel::new(axis, title, 290.0);
    panel.curves = vec![Curve { ..curve }];
    panel.levels = vec![Level {
        y: 1.0,
        label: "1: just enough air".into(),
        look: Look::new(INK, LONG, Marker::None).thin(),
    }];
    Some(Row::from(panel))
}
