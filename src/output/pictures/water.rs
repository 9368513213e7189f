//! Water temperatures in the coil against the local boiling point, and the loop's flow.

use super::view::View;
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Level, Panel, Row, Spot};
use crate::output::show::{shown, text};
use crate::output::style::{
    BLUE, BROWN, DASH_DOT, GOLD, Hatch, INK, LONG, Look, Marker, RED, SHORT, SOLID, TEAL,
};
use crate::units::PlotKind as Kind;

pub fn paint(v: &View) -> Result<String, OutputError> {
    let mut rows = vec![Row::from(temperatures(v))];
    if v.has("loop_flow_kg_s") {
        rows.push(Row::from(flow(v)));
    }
    rows.extend(pressure(v).map(Row::from));
    let mut figure = v.over_time("water", "Water in the coil and its margin to boiling", rows);
    if v.has("loop_flow_kg_s") {
        figure.note =
            "Flow by volume: 1 kg of water taken as 1 L. Below zero the loop runs backwards."
                .into();
    }
    figure.svg()
}

fn temperatures(v: &View) -> Panel {
    let kind = Kind::Temperature;
    let boiling = Look::new(INK, LONG, Marker::None);
    let wanted = [
        ("boiling_point_K", "local boiling point", boiling),
        (
            "coil_wall_max_temperature_K",
            "coil wall, hottest",
            Look::new(BROWN, DASH_DOT, Marker::Diamond).thin(),
        ),
        (
            "coil_outlet_temperature_K",
            "coil outlet",
            Look::new(RED, SOLID, Marker::Circle),
        ),
        (
            "coil_inlet_temperature_K",
            "coil inlet",
            Look::new(BLUE, SHORT, Marker::Square),
        ),
    ];
    let mut curves: Vec<Curve> = wanted
        .into_iter()
        .filter_map(|(column, label, look)| v.curve(column, label, kind, look))
        .collect();
    let top = (1..)
        .map(|i| format!("tank_layer_{i}_temperature_K"))
        .take_while(|n| v.has(n))
        .last();
    if let Some(n) = top {
        let look = Look::new(TEAL, LONG, Marker::HollowTriangle).thin();
        curves.extend(v.curve(&n, "tank top", kind, look));
    }
    let axis = v.cover(&curves, &[], 6);
    let (title, right) = v.titles("Temperature", kind, &axis);
    let mut areas = Vec::new();
    if v.has("boiling_point_K") && v.has("coil_outlet_temperature_K") {
        let upper = v.shown("boiling_point_K", kind);
        let outlet = v.shown("coil_outlet_temperature_K", kind);
        areas.push(Area {
            label: "margin to boiling".into(),
            xs: v.times().to_vec(),
            lower: outlet.iter().zip(&upper).map(|(o, b)| o.min(*b)).collect(),
            upper,
            color: GOLD.tint(0.22),
            hatch: Hatch::None,
        });
    }
    let mut panel = Panel::new(axis, title, 640.0);
    panel.right = right;
    panel.curves = curves;
    panel.areas = areas;
    panel.moments = v.boiling_moments();
    panel
        .moments
        .extend(v.warned("W0204", "coil over its limit"));
    panel.moments.extend(v.warned("W0208", "scalds at the tap"));
    panel.spots = least_margin(v);
    panel
}

/// The smallest margin, on the curve of the boiling point less it; after boiling it says nothing.
fn least_margin(v: &View) -> Vec<Spot> {
    let s = &v.result.summary;
    let (Some(margin_k), Some(at_s), None) = (
        s.boiling_margin_min_K,
        s.boiling_margin_min_s,
        s.boiling_first_s,
    ) else {
        return Vec::new();
    };
    let i = v.times().partition_point(|&t| t < at_s);
    let Some(&point_k) = v.si("boiling_point_K").get(i) else {
        return Vec::new();
    };
    let margin = text(Kind::TemperatureDifference, margin_k, v.units);
    vec![Spot {
        x: at_s,
        y: shown(Kind::Temperature, point_k - margin_k, v.units),
        label: format!("least margin {margin}"),
        marker: Marker::Circle,
        color: RED,
    }]
}

/// Pressure of a closed loop, with the relief valve's setting.
fn pressure(v: &View) -> Option<Panel> {
    let kind = Kind::WaterPressure;
    let look = Look::new(BLUE, SOLID, Marker::None);
    let curve = v.curve("loop_pressure_Pa", "", kind, look)?;
    let set = v
        .result
        .rig
        .as_ref()
        .and_then(|r| r.vessel.as_ref())
        .and_then(|x| x.closed.as_ref())
        .map(|c| c.relief_pa);
    let line = set.map(|p| shown(kind, p, v.units));
    let extra: Vec<f64> = line.iter().map(|l| 1.15 * l).chain([0.0]).collect();
    let axis = v.cover(std::slice::from_ref(&curve), &extra, 4);
    let (title, right) = v.titles("Pressure over the air's", kind, &axis);
    let mut panel = Panel::new(axis, title, 280.0);
    panel.right = right;
    panel.curves = vec![curve];
    panel.levels = line
        .map(|y| Level {
            y,
            label: "relief valve lifts".into(),
            look: Look::new(INK, LONG, Marker::None).thin(),
        })
        .into_iter()
        .collect();
    panel.moments.extend(v.warned("W0232", "first lift"));
    panel.moments.extend(v.warned("W0240", "bursts"));
    Some(panel)
}

fn flow(v: &View) -> Panel {
    let kind = Kind::WaterFlow;
    let look = Look::new(BLUE, SOLID, Marker::None);
    let curves: Vec<Curve> = v
        .curve("loop_flow_kg_s", "", kind, look)
        .into_iter()
        .collect();
    let axis = v.cover(&curves, &[0.0], 4);
    let (title, right) = v.titles("Flow through the coil", kind, &axis);
    let mut panel = Panel::new(axis, title, 280.0);
    panel.zero_line = true;
    panel.right = right;
    panel.curves = curves;
    panel
}
