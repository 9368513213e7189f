//! Tank temperature and stack loss against time: the picture that answers "when is it hot".

use super::view::View;
use crate::output::axis::Axis;
use crate::output::error::OutputError;
use crate::output::figure::{Area, Lane, LaneKind, Level, Panel, Row, Spot};
use crate::output::show::{self, duration, shown};
use crate::output::style::{
    BLUE, Hatch, INK, LONG, Look, Marker, ORANGE, RED, SHORT, SKY, SLATE, SOLID, TEAL,
};
use crate::results::EventKind;
use crate::units::PlotKind as Kind;

/// Share of the peak firing rate under which no stack loss is drawn.
const LITTLE_FIRE: f64 = 0.01;

pub fn paint(v: &View) -> Result<String, OutputError> {
    let mut rows = vec![Row::from(temperature(v))];
    let lanes = lanes(v);
    if !lanes.is_empty() {
        rows.push(Row::Strip(lanes));
    }
    if v.has("stack_loss_fraction") {
        rows.push(Row::from(stack_loss(v)));
    }
    v.over_time("tank", "Tank temperature and stack loss", rows)
        .svg()
}

fn temperature(v: &View) -> Panel {
    let kind = Kind::Temperature;
    let mut curves: Vec<_> = v
        .curve(
            "tank_mean_temperature_K",
            "tank, mean",
            kind,
            Look::new(INK, SOLID, Marker::None),
        )
        .into_iter()
        .collect();
    let top = (1..)
        .take_while(|i| v.has(&layer(*i)))
        .last()
        .filter(|&n| n > 1);
    if let Some(n) = top {
        let top = Look::new(RED, LONG, Marker::TriangleDown).thin();
        let bottom = Look::new(BLUE, SHORT, Marker::Square).thin();
        curves.extend(v.curve(&layer(n), "top layer", kind, top));
        curves.extend(v.curve(&layer(1), "bottom layer", kind, bottom));
    }
    let drum = Look::new(ORANGE, LONG, Marker::Diamond).thin();
    curves.extend(v.curve("drum_mean_temperature_K", "drum, mean", kind, drum));
    let band = band(v);
    let s = &v.result.summary;
    let target = shown(kind, v.result.target_k, v.units);
    let span = curves
        .iter()
        .flat_map(|c| c.ys.iter().copied())
        .chain(
            band.iter()
                .flat_map(|b| b.lower.iter().chain(&b.upper).copied()),
        )
        .filter(|y| y.is_finite())
        .fold((target, target), |(a, b), y| (a.min(y), b.max(y)));
    // Head room, so that the words of the target line stand clear.
    let room = 0.13 * (span.1 - span.0);
    let axis = v.cover(&curves, &[span.0, target, target + room], 6);
    let (title, right) = v.titles("Temperature", kind, &axis);
    let target_text = show::temperature_short(v.result.target_k, v.units);
    let mut panel = Panel::new(axis, title, 620.0);
    panel.right = right;
    panel.areas.extend(band);
    panel.curves = curves;
    panel.levels.push(Level {
        y: target,
        label: match s.time_to_target_s {
            Some(_) => format!("target {target_text}"),
            None => format!("target {target_text}, not reached"),
        },
        look: Look::new(TEAL, LONG, Marker::None).thin(),
    });
    if let Some(t) = s.time_to_target_s {
        panel.spots.push(Spot {
            x: t,
            y: target,
            label: format!("{target_text} at {}", duration(t)),
            marker: Marker::HollowCircle,
            color: TEAL,
        });
    }
    panel.moments = v.boiling_moments();
    panel
}

/// Where four in five of the samples lie.
fn band(v: &View) -> Option<Area> {
    let b = v.result.bands.as_ref()?;
    if b.tank.time_s.len() < 2 {
        return None;
    }
    let y = |ks: &[f64]| {
        ks.iter()
            .map(|&k| shown(Kind::Temperature, k, v.units))
            .collect()
    };
    Some(Area {
        label: format!("tank, mean: 10 to 90 % of {} samples", b.used()),
        xs: b.tank.time_s.clone(),
        lower: y(&b.tank.low_k),
        upper: y(&b.tank.high_k),
        color: SKY.tint(0.35),
        hatch: Hatch::None,
    })
}

fn layer(i: usize) -> String {
    format!("tank_layer_{i}_temperature_K")
}

fn stack_loss(v: &View) -> Panel {
    let mut curves: Vec<_> = v
        .curve(
            "stack_loss_fraction",
            "",
            Kind::Fraction,
            Look::new(ORANGE, SOLID, Marker::None),
        )
        .into_iter()
        .collect();
    // With hardly any fire left the share means nothing: a gap.
    let rate = v.si("firing_rate_W");
    let peak = rate.iter().copied().fold(0.0f64, f64::max);
    for curve in &mut curves {
        for (y, &w) in curve.ys.iter_mut().zip(rate) {
            if w < LITTLE_FIRE * peak {
                *y = f64::NAN;
            }
        }
    }
    let top = curves
        .iter()
        .flat_map(|c| c.ys.iter().copied())
        .filter(|y| y.is_finite())
        .fold(10.0f64, f64::max)
        .min(100.0);
    let mut panel = Panel::new(
        Axis::covering(0.0, top, 4),
        "Stack loss (warmth of the gas, of net energy burnt), %",
        300.0,
    );
    panel.curves = curves;
    panel
}

/// Feeds, and each control that ever moves.
fn lanes(v: &View) -> Vec<Lane> {
    let mut lanes: Vec<Lane> = v.feeds().into_iter().collect();
    let controls = [
        ("pump_setting", "Pump", EventKind::Pump, BLUE),
        ("damper_fraction", "Damper", EventKind::Damper, SLATE),
        ("air_inlet_fraction", "Air", EventKind::AirInlet, SKY),
    ];
    for (column, name, kind, color) in controls {
        if let Some(bars) = bars(v, column, kind) {
            lanes.push(Lane {
                name: name.into(),
                kind: LaneKind::Bars(bars),
                color,
            });
        }
    }
    let draws: Vec<f64> = v
        .result
        .events
        .iter()
        .filter(|e| e.kind == EventKind::Draw)
        .map(|e| e.time_s)
        .collect();
    if !draws.is_empty() {
        lanes.push(Lane {
            name: "Draws".into(),
            kind: LaneKind::Strokes(draws),
            color: TEAL,
        });
    }
    lanes
}

/// "high" from "pump to high" or "pump high".
fn pump_word(text: &str) -> Option<&str> {
    let rest = text.strip_prefix("pump ")?;
    Some(rest.strip_prefix("to ").unwrap_or(rest))
}

/// A control as bars, cut at its events (exact moments); `None` when it never moves.
fn bars(v: &View, column: &str, kind: EventKind) -> Option<Vec<(f64, f64, f64, String)>> {
    let (ts, ys) = (v.times(), v.si(column));
    let (first, last) = (*ys.first()?, *ts.last()?);
    let full = match kind {
        EventKind::Pump => ys.iter().copied().fold(1.0f64, f64::max),
        _ => 1.0,
    };
    let mut starts: Vec<(f64, f64)> = vec![(0.0, first)];
    // What the events call the settings of the pump ("pump to high").
    let mut called: Vec<(f64, String)> = Vec::new();
    for (i, pair) in ys.windows(2).enumerate() {
        let (before, now) = (pair[0], pair[1]);
        if (now - before).abs() < 1e-9 {
            continue;
        }
        // The event that made this move lies between the two rows.
        let event = v
            .result
            .events
            .iter()
            .filter(|e| e.kind == kind)
            .find(|e| e.time_s > ts[i] - 1e-6 && e.time_s <= ts[i + 1] + 1e-6);
        if let Some(name) = event.and_then(|e| pump_word(&e.text)) {
            called.push((now, name.to_string()));
        }
        starts.push((event.map_or(ts[i + 1], |e| e.time_s), now));
    }
    if starts.len() < 2 {
        return None;
    }
    let words = |y: f64| match kind {
        EventKind::Pump if y <= 0.0 => "off".to_string(),
        EventKind::Pump => match called.iter().find(|(value, _)| *value == y) {
            Some((_, name)) => name.clone(),
            None if full <= 1.0 => "on".to_string(),
            None => format!("setting {y:.0}"),
        },
        _ => format!("{:.0} %", 100.0 * y),
    };
    let ends = starts.iter().skip(1).map(|s| s.0).chain([last]);
    Some(
        starts
            .iter()
            .zip(ends)
            .map(|(&(from, y), to)| (from, to.max(from), y / full, words(y)))
            .collect(),
    )
}
