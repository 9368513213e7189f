//! Pictures of a comparison: all curves over common axes, and the differences with their intervals.

use super::audit::{panel, time_axis};
use crate::output::axis::Axis;
use crate::output::canvas::{Anchor, Canvas, Pen, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::{Curve, Figure, Frame, Lane, LaneKind, Level, Row};
use crate::output::font;
use crate::output::show::{shown, temperature_short};
use crate::output::style::{
    BLUE, GREY, GRID, INK, Look, MARGIN, Marker, ORANGE, SHORT, TEXT, WIDTH,
};
use crate::results::{ComparedEntry, Comparison, Difference, Verdict};
use crate::units::{PlotKind as Kind, UnitSystem};

/// Most points of a curve that is drawn.
const MOST_POINTS: usize = 1500;

/// Name and SVG text of each picture of a comparison.
///
/// # Errors
/// [`OutputError::Drawing`] when the back end refuses.
pub fn compare_pictures(
    c: &Comparison,
    units: UnitSystem,
) -> Result<Vec<(&'static str, String)>, OutputError> {
    Ok(vec![
        ("overlay", overlay(c, units)?),
        ("differences", differences(c)?),
    ])
}

fn heading(c: &Comparison) -> String {
    let names: Vec<&str> = c.entries.iter().map(|e| e.label.as_str()).collect();
    names.join(" · ")
}

/// Times and kelvins of an entry.
type Pick<'a> = &'a dyn Fn(&ComparedEntry) -> (Vec<f64>, Vec<f64>);

fn overlay(c: &Comparison, units: UnitSystem) -> Result<String, OutputError> {
    let hi = c
        .entries
        .iter()
        .flat_map(|e| &e.curves.time_s)
        .fold(60.0f64, |a, b| a.max(*b));
    let x = time_axis(0.0, hi);
    let of = |pick: Pick| -> Vec<Curve> {
        c.entries
            .iter()
            .enumerate()
            .filter_map(|(i, e)| {
                let (t, k) = pick(e);
                let step = (t.len() / MOST_POINTS).max(1);
                let (xs, ys): (Vec<f64>, Vec<f64>) = t
                    .iter()
                    .zip(&k)
                    .step_by(step)
                    .filter(|(t, _)| **t >= 0.0)
                    .map(|(t, v)| (*t, shown(Kind::Temperature, *v, units)))
                    .unzip();
                (ys.iter().any(|v| v.is_finite())).then(|| Curve {
                    label: e.label.clone(),
                    xs,
                    ys,
                    look: Look::nth(i),
                })
            })
            .collect()
    };
    let mut rows: Vec<Row> = Vec::new();
    let tank = of(&|e| (e.curves.time_s.clone(), e.curves.tank_k.clone()));
    let mut p = panel("Tank, mean", Kind::Temperature, units, tank, 620.0);
    let targets: Vec<f64> = c.entries.iter().map(|e| e.target_temperature_K).collect();
    if let Some(&t) = targets.first()
        && targets.iter().all(|k| (k - t).abs() < 0.05)
    {
        p.levels.push(Level {
            y: shown(Kind::Temperature, t, units),
            label: format!("target {}", temperature_short(t, units)),
            look: Look::new(GREY, SHORT, Marker::None).thin(),
        });
        let y = shown(Kind::Temperature, t, units);
        if y > p.y.hi || y < p.y.lo {
            p.y = Axis::covering(p.y.lo.min(y), p.y.hi.max(y), 7);
        }
    }
    rows.push(p.into());
    for (words, curves) in [
        ("Coil outlet", of(&|e| e.curves.outlet.clone())),
        ("Flue", of(&|e| e.curves.flue.clone())),
    ] {
        if !curves.is_empty() {
            rows.push(panel(words, Kind::Temperature, units, curves, 420.0).into());
        }
    }
    let lanes: Vec<Lane> = c
        .entries
        .iter()
        .enumerate()
        .filter(|(_, e)| !e.curves.feeds_s.is_empty())
        .map(|(i, e)| Lane {
            name: font::shorten(&e.label, TEXT, false, 320.0),
            kind: LaneKind::Strokes(
                e.curves
                    .feeds_s
                    .iter()
                    .copied()
                    .filter(|t| (x.lo..=x.hi).contains(t))
                    .collect(),
            ),
            color: Look::nth(i).color,
        })
        .collect();
    if !lanes.is_empty() {
        rows.push(Row::Strip(lanes));
    }
    Figure {
        name: "overlay",
        title: heading(c),
        subtitle: "Side by side from lighting; strokes: feeds".into(),
        x,
        x_title: "Time since lighting, h:min".into(),
        rows,
        note: "Measured curves are as logged, simulated ones as levelled; the table names every correction.".into(),
    }
    .svg()
}

const NAME_ROOM: f64 = 500.0;
const ROW: f64 = 64.0;
const GROUP: f64 = 84.0;
/// Differences beyond this share are drawn at the edge.
const MOST_SHARE: f64 = 2.0;

/// A difference with value and ends as shares.
type Shares<'a> = (&'a Difference, [Option<f64>; 3]);

/// Each difference as share of the first entry's figure.
fn differences(c: &Comparison) -> Result<String, OutputError> {
    let first = &c.entries[0];
    let mut groups: Vec<(String, Vec<Shares>)> = Vec::new();
    for p in &c.pairs {
        let rows: Vec<_> = p
            .differences
            .iter()
            .filter(|d| d.verdict != Verdict::NoFigure)
            // A temperature has no share.
            .filter(|d| d.quantity != crate::results::Quantity::PeakOutlet)
            .filter_map(|d| {
                let base = first.figures[d.quantity.index()].1.value?.abs();
                let share = |v: Option<f64>| v.map(|v| v / base).filter(|v| v.is_finite());
                let s = &d.difference;
                Some((d, [share(s.value), share(s.low), share(s.high)]))
            })
            .collect();
        groups.push((format!("{} against {}", p.second, p.first), rows));
    }
    let all = groups.iter().flat_map(|g| &g.1).flat_map(|r| r.1).flatten();
    let reach = all.fold(0.05f64, |m, v| m.max(v.abs())).min(MOST_SHARE);
    let axis = Axis::covering(-100.0 * reach, 100.0 * reach, 7);
    let title = heading(c);
    let frame = Frame::new(
        &title,
        "Differences as share of the first",
        "Whiskers hold 95 of 100. Hollow: cannot tell; the table says why.",
    );
    let top = frame.head() + 30.0;
    let n: usize = groups.iter().map(|g| g.1.len()).sum();
    let body = groups.len() as f64 * GROUP + n as f64 * ROW;
    let height = top + body + 120.0 + frame.foot();
    let (left, right) = (MARGIN + NAME_ROOM, WIDTH - MARGIN - 40.0);
    let at = |percent: f64| left + axis.share(percent.clamp(axis.lo, axis.hi)) * (right - left);
    draw(
        "differences",
        (WIDTH, height),
        (&title, "Differences"),
        |k| {
            frame.paint(k, height);
            for t in &axis.ticks {
                k.line(
                    &[(at(t.at), top), (at(t.at), top + body)],
                    Pen::new(
                        if t.at == 0.0 { INK } else { GRID },
                        if t.at == 0.0 { 3.0 } else { 2.0 },
                    ),
                );
                let words = if t.at > 0.0 {
                    format!("+{}", t.text)
                } else {
                    t.text.clone()
                };
                k.text(
                    &words,
                    (at(t.at), top + body + 14.0 + TEXT),
                    Type::new(TEXT).anchor(Anchor::Middle),
                );
            }
            k.text(
                "Difference, % of the first",
                (0.5 * (left + right), top + body + 66.0 + TEXT),
                Type::new(TEXT).anchor(Anchor::Middle),
            );
            let mut y = top;
            for (words, rows) in &groups {
                let words = font::shorten(words, TEXT, true, WIDTH - 2.0 * MARGIN);
                let band = Rect::new(MARGIN, y - 2.0, WIDTH - 2.0 * MARGIN, GROUP - 10.0);
                k.fill_rect(band, crate::output::style::PAPER, 1.0);
                k.text_mid(&words, (MARGIN, y + 0.5 * GROUP), Type::new(TEXT).bold());
                y += GROUP;
                for (d, [value, low, high]) in rows {
                    row(k, d, (*value, *low, *high), y, left, &at);
                    y += ROW;
                }
            }
        },
    )
}

fn row(
    k: &mut Canvas,
    d: &Difference,
    (value, low, high): (Option<f64>, Option<f64>, Option<f64>),
    y: f64,
    left: f64,
    at: &dyn Fn(f64) -> f64,
) {
    let mid = y + 0.5 * ROW;
    let name = font::shorten(d.quantity.name(), TEXT, false, NAME_ROOM - 24.0);
    k.text_mid(
        &name,
        (left - 20.0, mid),
        Type::new(TEXT).anchor(Anchor::End),
    );
    let sure = d.verdict != Verdict::CannotTell;
    let color = if sure { BLUE } else { ORANGE };
    let edge = |v: Option<f64>, far: f64| at(100.0 * v.unwrap_or(far));
    let (from, to) = (edge(low, -1e3), edge(high, 1e3));
    k.line(&[(from, mid), (to, mid)], Pen::new(color, 5.0));
    for (x, end) in [(from, low), (to, high)] {
        // No bar where the picture ends before the whisker.
        if end.is_some_and(|v| (at(100.0 * v) - at(99.0 * v)).abs() > 0.0) {
            k.line(&[(x, mid - 12.0), (x, mid + 12.0)], Pen::new(color, 5.0));
        }
    }
    if let Some(v) = value {
        let marker = if sure {
            Marker::Circle
        } else {
            Marker::HollowCircle
        };
        k.marker((at(100.0 * v), mid), marker, color, 13.0);
    }
}
