//! What each burn costs over the season with and without cleaning, and what a burn costs in the mean over the interval.

use super::text::layer_text;
use crate::output::axis::Axis;
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Figure, Lane, LaneKind, Level, Moment, Panel, Row, Spot};
use crate::output::show::{shown, unit};
use crate::output::style::{BLUE, Hatch, INK, LONG, Look, Marker, ORANGE, PLUM, RED, SKY, SOLID};
use crate::results::{Band, SeasonBurn, SeasonReport, SeasonRun};
use crate::units::{PlotKind as P, UnitSystem};

fn numbers(run: &SeasonRun) -> Vec<f64> {
    run.burns.iter().map(|b| b.burn as f64).collect()
}

/// Millimetres or inches.
fn thin(m: f64, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => 1e3 * m,
        UnitSystem::Us => m / 0.0254,
    }
}

pub(super) fn thin_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Metric => "mm",
        UnitSystem::Us => "in",
    }
}

/// Value from SI onto the axis.
type Onto<'a> = &'a dyn Fn(f64) -> f64;

fn panel(
    r: &SeasonReport,
    title: String,
    height: f64,
    onto: Onto,
    of: fn(&SeasonBurn) -> f64,
    band: Option<&[Band]>,
) -> Panel {
    let ys = |run: &SeasonRun| -> Vec<f64> { run.burns.iter().map(|b| onto(of(b))).collect() };
    let mut curves = vec![Curve {
        label: "never cleaned".into(),
        xs: numbers(&r.never),
        ys: ys(&r.never),
        look: Look::new(ORANGE, SOLID, Marker::Circle),
    }];
    if let Some(c) = &r.cleaned {
        curves.push(Curve {
            label: c
                .clean_every
                .map_or(String::new(), |n| format!("coil cleaned every {n} burns")),
            xs: numbers(c),
            ys: ys(c),
            look: Look::new(BLUE, LONG, Marker::None),
        });
    }
    let mut areas = Vec::new();
    if let Some(band) = band {
        let edge = |pick: fn(&Band) -> Option<f64>| -> Vec<f64> {
            band.iter()
                .map(|b| pick(b).map_or(f64::NAN, onto))
                .collect()
        };
        let (lower, upper) = (edge(|b| b.low), edge(|b| b.high));
        if lower.iter().chain(&upper).all(|v| v.is_finite()) && !lower.is_empty() {
            areas.push(Area {
                label: "eight samples in ten, never cleaned".into(),
                xs: numbers(&r.never),
                lower,
                upper,
                color: SKY,
                hatch: Hatch::None,
            });
        }
    }
    let all = curves
        .iter()
        .flat_map(|c| c.ys.iter())
        .chain(areas.iter().flat_map(|a| a.lower.iter().chain(&a.upper)))
        .copied();
    let (lo, hi) = all.fold((0.0f64, 0.0f64), |(l, h), v| (l.min(v), h.max(v)));
    let mut p = Panel::new(Axis::covering(lo, 1.04 * hi, 5), title, height);
    p.areas = areas;
    p.curves = curves;
    p
}

/// The flue's layer where it is thickest, with the band and the figure at which flues are swept.
fn flue_panel(r: &SeasonReport, units: UnitSystem) -> Panel {
    let mut p = panel(
        r,
        format!("flue, thickest place, {}", thin_unit(units)),
        380.0,
        &|m| thin(m, units),
        |b| b.flue_layer_m,
        r.band.as_ref().map(|b| b.flue_layer_m.as_slice()),
    );
    for c in &mut p.curves {
        c.label.clear();
    }
    for a in &mut p.areas {
        a.label.clear();
    }
    let at = thin(r.sweep_at_m, units);
    p.y = Axis::covering(0.0, p.y.hi.max(1.1 * at), 4);
    p.levels = vec![Level {
        y: at,
        label: format!("swept at {}", layer_text(r.sweep_at_m, units)),
        look: Look::new(RED, LONG, Marker::None),
    }];
    p
}

/// Minutes and wood of each burn more than with bare surfaces, and the layer in the flue.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn season_svg(r: &SeasonReport, units: UnitSystem) -> Result<String, OutputError> {
    let band = r.band.as_ref();
    let minutes = panel(
        r,
        "more time a burn, min".into(),
        520.0,
        &|s| s / 60.0,
        |b| b.extra_time_s,
        band.map(|b| b.extra_time_s.as_slice()),
    );
    let mut wood = panel(
        r,
        format!("more wood a burn, {}", unit(P::Mass, units)),
        430.0,
        &|kg| shown(P::Mass, kg, units),
        |b| b.extra_wood_kg,
        band.map(|b| b.extra_wood_kg.as_slice()),
    );
    // The keys stand over the panel above.
    for c in &mut wood.curves {
        c.label.clear();
    }
    for a in &mut wood.areas {
        a.label.clear();
    }
    let mut rows = vec![Row::from(minutes), Row::from(wood)];
    if r.flue_layer_m.is_some() {
        rows.push(flue_panel(r, units).into());
    }
    let strokes = |run: &SeasonRun, of: fn(&SeasonBurn) -> bool| -> Vec<f64> {
        run.burns
            .iter()
            .filter(|b| of(b))
            .map(|b| b.burn as f64)
            .collect()
    };
    let mut lanes = Vec::new();
    if let Some(c) = &r.cleaned {
        lanes.push(Lane {
            name: "coil cleaned".into(),
            kind: LaneKind::Strokes(strokes(c, |b| b.coil_cleaned)),
            color: BLUE,
        });
    }
    let swept = strokes(&r.never, |b| b.flue_swept);
    if !swept.is_empty() {
        lanes.push(Lane {
            name: "flue swept".into(),
            kind: LaneKind::Strokes(swept),
            color: PLUM,
        });
    }
    if !lanes.is_empty() {
        rows.push(Row::Strip(lanes));
    }
    Figure {
        name: "season",
        title: r.title.clone(),
        subtitle: "What each burn costs more than with bare surfaces".into(),
        x: Axis::exact(1.0, r.burns.max(2) as f64, 8),
        x_title: "burn".into(),
        rows,
        note: String::new(),
    }
    .svg()
}

/// Mean cost of a burn over the interval between cleanings.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn season_interval_svg(r: &SeasonReport) -> Result<String, OutputError> {
    let ys: Vec<f64> = r.mean_cost_s.iter().map(|s| s / 60.0).collect();
    let xs: Vec<f64> = (1..=ys.len()).map(|n| n as f64).collect();
    let best = r.best_interval.and_then(|n| Some((n, *ys.get(n - 1)?)));
    let least = ys.iter().copied().fold(f64::INFINITY, f64::min);
    let last = ys.last().copied().unwrap_or(0.0);
    // The steep left end says only that cleaning before every burn is dear.
    let top = (3.0 * least.max(0.0)).max(1.15 * last).max(1.0);
    let mut p = Panel::new(
        Axis::covering(0.0, top, 6),
        "mean cost of a burn, minutes of work",
        760.0,
    );
    p.curves = vec![Curve {
        label: String::new(),
        xs: xs
            .iter()
            .zip(&ys)
            .filter(|(_, y)| **y <= top)
            .map(|(x, _)| *x)
            .collect(),
        ys: ys.iter().copied().filter(|y| *y <= top).collect(),
        look: Look::new(BLUE, SOLID, Marker::None),
    }];
    p.spots = best
        .map(|(n, y)| Spot {
            x: n as f64,
            y,
            label: format!("least: every {n} burns, {y:.1} min"),
            marker: Marker::HollowCircle,
            color: INK,
        })
        .into_iter()
        .collect();
    if let Some(n) = r.linear_interval.filter(|n| *n <= r.burns as f64) {
        p.moments = vec![Moment {
            x: n,
            label: format!("rule of thumb {n:.1}"),
            color: PLUM,
        }];
    }
    Figure {
        name: "season-interval",
        title: r.title.clone(),
        subtitle: "When cleaning the coil pays".into(),
        x: Axis::exact(1.0, r.burns.max(2) as f64, 8),
        x_title: "burns between two cleanings".into(),
        rows: vec![p.into()],
        note: format!(
            "Time more at the fire, wood more at {:.1} min/kg, and {:.0} min a cleaning, shared by the burns between two.",
            r.wood_worth_s_kg / 60.0,
            r.cleaning_time_s / 60.0
        ),
    }
    .svg()
}
