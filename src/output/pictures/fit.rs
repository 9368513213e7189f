//! Pictures of a fit: readings with model and bands before and after, residuals, the values with their priors.

use crate::output::axis::Axis;
use crate::output::canvas::{Anchor, Canvas, Pen, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Figure, Frame, Moment, Panel, Row, Side};
use crate::output::font;
use crate::output::show::{across, other, shown, unit};
use crate::output::style::{
    BLUE, GREY, Hatch, INK, LONG, Look, MARGIN, Marker, ORANGE, SLATE, SOLID, TEXT, WIDTH,
};
use crate::results::{FitProbe, FitReport};
use crate::units::{PlotKind as Kind, UnitSystem, significant};

/// Panels of one picture.
const MOST_PANELS: usize = 6;

/// Name and SVG text of each picture of a fit.
///
/// # Errors
/// [`OutputError::Drawing`] when the back end refuses.
pub fn fit_pictures(
    r: &FitReport,
    units: UnitSystem,
) -> Result<Vec<(&'static str, String)>, OutputError> {
    Ok(vec![
        ("fit", fit(r, units)?),
        ("residuals", residuals(r, units)?),
        ("values", values(r)?),
    ])
}

fn kind(p: &FitProbe) -> Kind {
    match p.unit.as_str() {
        "K" => Kind::Temperature,
        "1" => Kind::Fraction,
        _ => Kind::VolumeFlow,
    }
}

fn figure(
    name: &'static str,
    r: &FitReport,
    subtitle: &str,
    x: Axis,
    rows: Vec<Row>,
    note: &str,
) -> Figure {
    Figure {
        name,
        title: r.title.clone(),
        subtitle: subtitle.into(),
        x,
        x_title: "Time since lighting, h:min".into(),
        rows,
        note: note.into(),
    }
}

fn until(r: &FitReport) -> Vec<Moment> {
    r.until_s
        .map(|x| Moment {
            x,
            label: "predicted from here".into(),
            color: GREY,
        })
        .into_iter()
        .collect()
}

fn fit(r: &FitReport, units: UnitSystem) -> Result<String, OutputError> {
    let rows = r
        .probes
        .iter()
        .take(MOST_PANELS)
        .enumerate()
        .map(|(i, p)| {
            let (c, kind) = (&p.curves, kind(p));
            let to = |v: &[f64]| -> Vec<f64> { v.iter().map(|v| shown(kind, *v, units)).collect() };
            let parts = [&c.read, &c.before, &c.after, &c.after_low, &c.after_high];
            let all: Vec<f64> = parts.iter().flat_map(|v| to(v)).collect();
            let (lo, hi) = all
                .iter()
                .filter(|v| v.is_finite())
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
                    (a.min(*v), b.max(*v))
                });
            let (here, there) = (unit(kind, units), unit(kind, other(units)));
            let mut panel = Panel::new(
                Axis::covering(lo, hi, 6),
                format!("{} ({}), {here}", p.name, p.place),
                380.0,
            );
            if here != there {
                panel.right = Some(Side {
                    ticks: panel.y.other_side(across(kind, units), 5),
                    title: there.into(),
                });
            }
            let label = |words: &str| {
                if i == 0 {
                    words.to_owned()
                } else {
                    String::new()
                }
            };
            let clip = |v: &[f64]| -> Vec<f64> {
                to(v)
                    .into_iter()
                    .map(|v| v.clamp(panel.y.lo, panel.y.hi))
                    .collect()
            };
            let areas: Vec<Area> = [
                (
                    &c.before_low,
                    &c.before_high,
                    "80 % before",
                    SLATE.tint(0.25),
                    Hatch::Up,
                ),
                (
                    &c.after_low,
                    &c.after_high,
                    "80 % after",
                    BLUE.tint(0.25),
                    Hatch::None,
                ),
            ]
            .into_iter()
            .filter(|a| !a.0.is_empty())
            .map(|(low, high, words, color, hatch)| Area {
                label: label(words),
                xs: c.time_s.clone(),
                lower: clip(low),
                upper: clip(high),
                color,
                hatch,
            })
            .collect();
            panel.areas = areas;
            panel.curves = [
                (&c.before, "scenario", Look::new(ORANGE, LONG, Marker::None)),
                (&c.after, "fitted", Look::new(BLUE, SOLID, Marker::None)),
                (&c.read, "log", Look::new(INK, SOLID, Marker::None).thin()),
            ]
            .into_iter()
            .map(|(ys, words, look)| Curve {
                label: label(words),
                xs: c.time_s.clone(),
                ys: to(ys),
                look,
            })
            .collect();
            panel.moments = until(r);
            panel.into()
        })
        .collect();
    figure(
        "fit",
        r,
        "Log, scenario and fit, as each probe shows it",
        Axis::time(r.end_s, 9),
        rows,
        "Bands hold eight in ten readings: values drawn from prior and posterior, each probe's lag, offset and radiation error, and the error of the model.",
    )
    .svg()
}

fn residuals(r: &FitReport, units: UnitSystem) -> Result<String, OutputError> {
    let rows = r
        .probes
        .iter()
        .take(MOST_PANELS)
        .enumerate()
        .map(|(i, p)| {
            let factor = match (p.unit.as_str(), units) {
                ("K", UnitSystem::Metric) => (1.0, "K"),
                ("K", UnitSystem::Us) => (1.8, "°F"),
                ("1", _) => (100.0, "points"),
                _ => (6e4, "L/min"),
            };
            let c = &p.curves;
            let less = |model: &[f64]| -> Vec<f64> {
                c.read
                    .iter()
                    .zip(model)
                    .map(|(r, m)| factor.0 * (r - m))
                    .collect()
            };
            let (before, after) = (less(&c.before), less(&c.after));
            let most = before
                .iter()
                .chain(&after)
                .filter(|v| v.is_finite())
                .fold(1e-6f64, |a, v| a.max(v.abs()));
            let mut panel = Panel::new(
                Axis::covering(-most, most, 5),
                format!("{}, log less model, {}", p.name, factor.1),
                260.0,
            );
            panel.zero_line = true;
            let e = factor.0 * p.error * 1.2816;
            let label = |words: &str| {
                if i == 0 {
                    words.to_owned()
                } else {
                    String::new()
                }
            };
            panel.areas.push(Area {
                label: label("80 % of the error of model and probe"),
                xs: vec![0.0, r.end_s],
                lower: vec![(-e).max(panel.y.lo); 2],
                upper: vec![e.min(panel.y.hi); 2],
                color: SLATE.tint(0.25),
                hatch: Hatch::None,
            });
            for (ys, words, look) in [
                (before, "scenario", Look::new(ORANGE, LONG, Marker::None)),
                (after, "fitted", Look::new(BLUE, SOLID, Marker::None)),
            ] {
                panel.curves.push(Curve {
                    label: label(words),
                    xs: c.time_s.clone(),
                    ys,
                    look,
                });
            }
            panel.moments = until(r);
            panel.into()
        })
        .collect();
    figure(
        "residuals",
        r,
        "What the model misses, before and after the fit",
        Axis::time(r.end_s, 9),
        rows,
        "A curve that stays on one side for long is an error of the model, not of the probe; such readings count as few.",
    )
    .svg()
}

const NAME_ROOM: f64 = 420.0;
const ROW: f64 = 84.0;

/// Each value in standard deviations of its prior.
fn values(r: &FitReport) -> Result<String, OutputError> {
    let subtitle = "Fitted values against their priors, eight in ten";
    let frame = Frame::new(
        &r.title,
        subtitle,
        "Grey: prior. Blue: after the fit. As long as the blue bar is nearly as wide as the grey one, the log says nothing of the value.",
    );
    let rows: Vec<_> = r.values.iter().filter(|v| v.free).collect();
    let top = frame.head() + 40.0;
    let height = top + rows.len() as f64 * ROW + 60.0 + frame.foot();
    let (left, right) = (MARGIN + NAME_ROOM, WIDTH - MARGIN - 420.0);
    let most = rows
        .iter()
        .map(|v| v.deviate.abs() + 1.2816 * v.prior_share)
        .fold(1.6f64, f64::max);
    let at = |z: f64| left + (right - left) * (0.5 + 0.5 * z / most);
    draw("values", (WIDTH, height), (&r.title, subtitle), |c| {
        frame.paint(c, height);
        let mut y = top;
        let bar = |c: &mut Canvas, from: f64, to: f64, y: f64, h: f64, color| {
            c.fill_rect(Rect::new(at(from), y, at(to) - at(from), h), color, 1.0);
        };
        for v in &rows {
            let name = font::shorten(&v.name, TEXT, false, NAME_ROOM - 20.0);
            let end = Type::new(TEXT).anchor(Anchor::End);
            c.text_mid(&name, (left - 18.0, y + 0.5 * ROW), end);
            bar(c, -1.2816, 1.2816, y + 14.0, ROW - 28.0, SLATE.tint(0.35));
            let half = 1.2816 * v.prior_share;
            bar(
                c,
                v.deviate - half,
                v.deviate + half,
                y + 26.0,
                ROW - 52.0,
                BLUE,
            );
            let x = at(v.deviate);
            c.line(&[(x, y + 10.0), (x, y + ROW - 10.0)], Pen::new(INK, 4.0));
            let words = format!(
                "{} ({} to {}) {}",
                significant(v.value, 3),
                significant(v.low, 3),
                significant(v.high, 3),
                v.unit
            );
            c.text_mid(
                words.trim_end(),
                (right + 18.0, y + 0.5 * ROW),
                Type::new(TEXT),
            );
            y += ROW;
        }
        c.line(&[(at(0.0), top), (at(0.0), y)], Pen::new(GREY, 2.5));
        let middle = Type::new(TEXT).anchor(Anchor::Middle).color(GREY);
        c.text("scenario", (at(0.0), y + 40.0), middle);
    })
}
