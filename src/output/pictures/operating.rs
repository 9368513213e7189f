//! What drives the loop against what the loop costs, with the point where the run worked.

use super::view::View;
use crate::output::error::OutputError;
use crate::output::figure::{Curve, Figure, Panel, Row, Spot};
use crate::output::show::{self, shown, unit};
use crate::output::style::{BLUE, BROWN, INK, LONG, Look, Marker, SOLID};
use crate::units::PlotKind as Kind;

pub fn paint(v: &View) -> Result<String, OutputError> {
    let Some(o) = &v.result.operating else {
        return Err(OutputError::NoSuchPicture {
            name: "operating-point".into(),
            have: String::new(),
        });
    };
    let (flow, head) = (Kind::WaterFlow, Kind::WaterPressure);
    // Heads of a thermosyphon are a few hundred pascal: a finer unit then.
    let peak = o
        .driving
        .iter()
        .chain([&o.point])
        .fold(0.0f64, |m, p| m.max(p.1));
    let head = if peak < 3000.0 { Kind::Draught } else { head };
    let curve = |label: &str, points: &[(f64, f64)], look: Look| Curve {
        label: label.to_string(),
        xs: points.iter().map(|p| shown(flow, p.0, v.units)).collect(),
        ys: points.iter().map(|p| shown(head, p.1, v.units)).collect(),
        look,
    };
    let driving = curve(
        &o.driving_label,
        &o.driving,
        Look::new(BLUE, SOLID, Marker::Circle),
    );
    let system = curve(
        &o.system_label,
        &o.system,
        Look::new(BROWN, LONG, Marker::Square),
    );
    let at = (
        shown(flow, o.point.0, v.units),
        shown(head, o.point.1, v.units),
    );
    // The system curve may climb far beyond what drives it: the axis ends a little above the driving curve.
    let top = driving
        .ys
        .iter()
        .copied()
        .chain([at.1])
        .filter(|y| y.is_finite())
        .fold(0.0f64, f64::max);
    let x_end = driving
        .xs
        .iter()
        .copied()
        .chain([at.0])
        .filter(|y| y.is_finite())
        .fold(0.0f64, f64::max);
    let x = v.cover(&[], &[0.0, x_end], 6);
    let y = v.cover(&[], &[0.0, 1.15 * top], 6);
    let (title, right) = v.titles("Pressure difference", head, &y);
    let flow_unit = unit(flow, v.units);
    let mut panel = Panel::new(y, title, 760.0);
    panel.right = right;
    panel.curves = vec![driving, within(system, &x)];
    panel.spots = vec![Spot {
        x: at.0,
        y: at.1,
        label: format!(
            "{} at {}",
            show::text(flow, o.point.0, v.units),
            show::text(head, o.point.1, v.units)
        ),
        marker: Marker::HollowCircle,
        color: INK,
    }];
    Figure {
        name: "operating-point",
        title: v.result.summary.title.clone(),
        subtitle: "Where the water loop works".into(),
        x,
        x_title: format!("Flow through the coil, {flow_unit}"),
        rows: vec![Row::from(panel)],
        note: "The ring is a typical moment: the median heat into the store while the loop ran in this way. 1 kg of water taken as 1 L.".into(),
    }
    .svg()
}

/// Only the points on the axis.
fn within(mut c: Curve, x: &crate::output::axis::Axis) -> Curve {
    let keep: Vec<usize> = (0..c.xs.len())
        .filter(|&i| c.xs[i] >= x.lo && c.xs[i] <= x.hi)
        .collect();
    c.ys = keep.iter().map(|&i| c.ys[i]).collect();
    c.xs = keep.iter().map(|&i| c.xs[i]).collect();
    c
}
