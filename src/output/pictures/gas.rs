//! Temperatures along the gas path, what bare thermometers show of them, and the coldest flue wall against the condensation line.

use super::view::View;
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Level, Panel, Row};
use crate::output::show::{self, duration, shown};
use crate::output::style::{BLUE, BROWN, Hatch, INK, LONG, Look, Marker, SHORT, SLATE, SOLID};
use crate::units::PlotKind as Kind;

/// 120 degC: below this wall temperature tar and water from wood smoke settle in the flue
/// (common practice, no source).
const TAR_LINE_K: f64 = 393.15;

pub fn paint(v: &View) -> Result<String, OutputError> {
    let mut rows = vec![Row::from(gas(v))];
    rows.extend(bare(v).map(Row::from));
    if let Some(p) = wall(v) {
        rows.push(Row::from(p));
    }
    v.over_time("gas-temperatures", "Temperatures along the gas path", rows)
        .svg()
}

fn gas(v: &View) -> Panel {
    let kind = Kind::Temperature;
    let chamber = Look::new(INK, SOLID, Marker::None);
    let mut curves: Vec<Curve> = v
        .curve(
            "gas_firebox_temperature_K",
            "chamber (flame)",
            kind,
            chamber,
        )
        .into_iter()
        .collect();
    let stack = v.si("stack_temperature_K");
    let sections: Vec<&str> = v
        .result
        .series
        .names
        .iter()
        .filter_map(|n| n.strip_prefix("gas_after_")?.strip_suffix("_temperature_K"))
        .collect();
    for (i, section) in sections.iter().enumerate() {
        let column = format!("gas_after_{section}_temperature_K");
        // The last section's end is the stack: one curve is enough.
        let same = v.si(&column) == stack;
        if same && !stack.is_empty() {
            continue;
        }
        let label = format!("after {}", section.replace('_', " "));
        curves.extend(v.curve(&column, &label, kind, Look::nth(i).thin()));
    }
    let look = Look::new(SLATE, LONG, Marker::Square);
    curves.extend(v.curve("stack_temperature_K", "stack", kind, look));
    let axis = v.cover(&curves, &[shown(kind, 273.15, v.units).min(0.0)], 6);
    let (title, right) = v.titles("Gas temperature", kind, &axis);
    let mut panel = Panel::new(axis, title, 620.0);
    panel.right = right;
    panel.curves = curves;
    panel.moments = v
        .warned("W0205", "a wall over its limit")
        .into_iter()
        .collect();
    panel
}

/// What a person's own log can be laid over.
fn bare(v: &View) -> Option<Panel> {
    let kind = Kind::Temperature;
    let places = [
        ("firebox", "in the chamber", INK, SOLID, Marker::None),
        ("below_coil", "below the coil", BROWN, SOLID, Marker::None),
        ("above_coil", "above the coil", BLUE, SHORT, Marker::None),
        ("stack", "in the stack", SLATE, LONG, Marker::Square),
    ];
    let curves: Vec<Curve> = places
        .into_iter()
        .filter_map(|(place, label, color, dash, marker)| {
            let column = format!("shown_{place}_temperature_K");
            v.curve(&column, label, kind, Look::new(color, dash, marker))
        })
        .collect();
    if curves.is_empty() {
        return None;
    }
    let axis = v.cover(&curves, &[shown(kind, 273.15, v.units).min(0.0)], 5);
    let (title, right) = v.titles("A bare thermometer shows", kind, &axis);
    let mut panel = Panel::new(axis, title, 420.0);
    panel.right = right;
    panel.curves = curves;
    Some(panel)
}

fn wall(v: &View) -> Option<Panel> {
    let kind = Kind::Temperature;
    let column = "flue_wall_min_temperature_K";
    let below = v.result.summary.flue_wall_below_393K_s;
    let look = Look::new(BROWN, SOLID, Marker::None);
    let curve = v.curve(column, "coldest flue wall, gas side", kind, look)?;
    let line = shown(kind, TAR_LINE_K, v.units);
    let area = Area {
        label: format!("below the line for {}", duration(below)),
        xs: curve.xs.clone(),
        lower: curve.ys.iter().map(|&y| y.min(line)).collect(),
        upper: vec![line; curve.ys.len()],
        color: BLUE.tint(0.25),
        hatch: Hatch::Up,
    };
    let low = shown(kind, 273.15, v.units);
    let high = curve.ys.iter().copied().filter(|y| y.is_finite());
    let high = high.fold(line, f64::max);
    // Room for the words of the line.
    let axis = v.cover(
        std::slice::from_ref(&curve),
        &[low, line + 0.25 * (high - low)],
        4,
    );
    let (title, right) = v.titles("Flue wall", kind, &axis);
    let mut panel = Panel::new(axis, title, 330.0);
    panel.right = right;
    panel.areas = vec![area];
    panel.curves = vec![curve];
    let thin = Look::new(BLUE, SHORT, Marker::None).thin();
    panel
        .curves
        .extend(v.curve("flue_gas_dew_point_K", "dew point of the gas", kind, thin));
    panel.moments = v.warned("W0242", "flue sweats").into_iter().collect();
    panel.levels = vec![Level {
        y: line,
        label: format!(
            "{}: tar and water settle below",
            show::temperature_short(TAR_LINE_K, v.units)
        ),
        look: Look::new(INK, LONG, Marker::None).thin(),
    }];
    Some(panel)
}
