//! Water temperatures in the coil against the local boiling point, and the loop's flow.

use super::view::View;
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Panel, Row};
use crate::output::style::{
    BLUE, BROWN, DASH_DOT, GOLD, Hatch, INK, LONG, Look, Marker, RED, SHORT, SOLID, TEAL,
};
use crate::units::PlotKind as Kind;

pub fn paint(v: &View) -> Result<String, OutputError> {
    let mut rows = vec![Row::from(temperatures(v))];
    if v.has("loop_flow_kg_s") {
        rows.push(Row::from(flow(v)));
    }
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
