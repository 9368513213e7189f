//! Pictures of searches: a curve with its target, a front, a tornado.

use super::axis::Axis;
use super::canvas::{Anchor, Pen, Rect, Type, draw};
use super::error::OutputError;
use super::figure::{Curve, Figure, Frame, Level, Panel, Row, Spot};
use super::font;
use super::show::{self, shown, unit};
use super::style::{
    BLUE, GREY, GRID, INK, LONG, Look, MARGIN, Marker, ORANGE, RED, SKY, SLATE, SMALL, SOLID, TEXT,
    WIDTH,
};
use crate::units::{PlotKind, UnitSystem};

/// A result over one scenario value; `points` in order, y in SI and not finite where there is none.
pub struct CurvePicture<'a> {
    pub title: &'a str,
    pub subtitle: &'a str,
    pub x_title: &'a str,
    pub y_title: &'a str,
    pub kind: PlotKind,
    pub points: &'a [(f64, f64)],
    pub level: f64,
    /// Found values, with their words.
    pub spots: &'a [(f64, f64, String)],
    /// Whether the spots meet the target.
    pub met: bool,
}

/// A value with its unit as a person reads it.
pub fn quantity(kind: PlotKind, si: f64, units: UnitSystem) -> String {
    show::text(kind, si, units)
}

fn titled(words: &str, kind: PlotKind, units: UnitSystem) -> String {
    match unit(kind, units) {
        "" => words.to_owned(),
        unit => format!("{words}, {unit}"),
    }
}

fn covering(values: impl Iterator<Item = f64>) -> Axis {
    let (lo, hi) = values
        .filter(|v| v.is_finite())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| {
            (l.min(v), h.max(v))
        });
    let pad = 0.04 * (hi - lo).max(0.0);
    Axis::covering(lo - pad, hi + pad, 6)
}

/// Draws the curve with the target's line and the found values.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn curve_svg(p: &CurvePicture, units: UnitSystem) -> Result<String, OutputError> {
    let y = |si: f64| shown(p.kind, si, units);
    let curve = Curve {
        label: String::new(),
        xs: p.points.iter().map(|p| p.0).collect(),
        ys: p.points.iter().map(|p| y(p.1)).collect(),
        look: Look::new(BLUE, SOLID, Marker::Circle),
    };
    let mut panel = Panel::new(
        covering(curve.ys.iter().copied().chain([y(p.level)])),
        titled(p.y_title, p.kind, units),
        760.0,
    );
    panel.levels = vec![Level {
        y: y(p.level),
        label: format!("wanted {}", quantity(p.kind, p.level, units)),
        look: Look::new(RED, LONG, Marker::None),
    }];
    panel.spots = p
        .spots
        .iter()
        .filter(|s| s.1.is_finite())
        .map(|s| Spot {
            x: s.0,
            y: y(s.1),
            label: format!("{}{}", if p.met { "" } else { "nearest: " }, s.2),
            marker: Marker::HollowCircle,
            color: INK,
        })
        .collect();
    let x = covering(curve.xs.iter().copied());
    panel.curves = vec![curve];
    Figure {
        name: "size",
        title: p.title.to_owned(),
        subtitle: p.subtitle.to_owned(),
        x,
        x_title: p.x_title.to_owned(),
        rows: vec![Row::from(panel)],
        note: String::new(),
    }
    .svg()
}

/// Draws the front of two results among all points tried that keep the conditions.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn front_svg(
    title: &str,
    names: &[String; 2],
    kinds: [PlotKind; 2],
    front: &[(f64, f64)],
    others: &[(f64, f64)],
    units: UnitSystem,
) -> Result<String, OutputError> {
    let at = |p: &(f64, f64)| (shown(kinds[0], p.0, units), shown(kinds[1], p.1, units));
    // Numbers of the table at the ends and between, as far as they have room.
    let step = front.len().div_ceil(8).max(1);
    let mut numbers: Vec<usize> = (0..front.len()).step_by(step).collect();
    if numbers.last().is_some_and(|&l| l + 1 < front.len()) {
        numbers.push(front.len() - 1);
    }
    let spot = |p: &(f64, f64), label: String, marker, color| {
        let (x, y) = at(p);
        Spot {
            x,
            y,
            label,
            marker,
            color,
        }
    };
    let shown_others: Vec<(f64, f64)> = others.iter().map(at).collect();
    let all = |of: fn(&(f64, f64)) -> f64| {
        let mut sorted: Vec<f64> = shown_others.iter().map(of).collect();
        sorted.sort_by(f64::total_cmp);
        // Far-off points would press the front into a corner.
        let most = sorted.get(sorted.len() * 9 / 10).copied();
        front
            .iter()
            .map(at)
            .map(|p| of(&p))
            .chain(
                sorted
                    .into_iter()
                    .filter(move |v| most.is_some_and(|m| *v <= m)),
            )
            .collect::<Vec<f64>>()
    };
    let x = covering(all(|p| p.0).into_iter());
    let y = covering(all(|p| p.1).into_iter());
    let inside: Vec<(f64, f64)> = shown_others
        .into_iter()
        .filter(|p| p.0 <= x.hi && p.1 <= y.hi && p.0 >= x.lo && p.1 >= y.lo)
        .collect();
    let mut panel = Panel::new(y, titled(&names[1], kinds[1], units), 860.0);
    panel.spots = inside
        .into_iter()
        .map(|(x, y)| Spot {
            x,
            y,
            label: String::new(),
            marker: Marker::Cross,
            color: SLATE,
        })
        .collect();
    panel.spots.extend(front.iter().enumerate().map(|(i, p)| {
        let label = if numbers.contains(&i) {
            (i + 1).to_string()
        } else {
            String::new()
        };
        spot(p, label, Marker::Circle, BLUE)
    }));
    Figure {
        name: "trade",
        title: title.to_owned(),
        subtitle: format!("{} against {}", names[1], names[0]),
        x,
        x_title: titled(&names[0], kinds[0], units),
        rows: vec![Row::from(panel)],
        note: "Dots: no tried point beats these; numbers as in the table. Crosses: other points that keep the conditions.".into(),
    }
    .svg()
}

/// One bar of a tornado: words, and the result at the low and high end of the value, in SI.
pub struct Bar {
    pub label: String,
    pub low: Option<f64>,
    pub high: Option<f64>,
}

/// Draws how far each value carries the result from its base.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn tornado_svg(
    title: &str,
    result: &str,
    kind: PlotKind,
    base: f64,
    bars: &[Bar],
    units: UnitSystem,
) -> Result<String, OutputError> {
    const ROW: f64 = 62.0;
    let at = |si: f64| shown(kind, si, units);
    let ends = bars.iter().flat_map(|b| [b.low, b.high]).flatten();
    let axis = covering(ends.map(at).chain([at(base)]));
    let frame = Frame::new(
        title,
        &format!("What carries {result} from {}", quantity(kind, base, units)),
        "Each value alone at the ends of its range, the others at the base. No bar: no such result there (the target is not reached).",
    );
    let left = MARGIN + 560.0;
    let plot = Rect::new(
        left,
        frame.head() + TEXT * 1.6,
        WIDTH - left - MARGIN - 30.0,
        bars.len() as f64 * ROW,
    );
    let height = plot.bottom() + 3.6 * TEXT + frame.foot();
    let px = |v: f64| plot.x + axis.share(v) * plot.w;
    draw("tornado", (WIDTH, height.ceil()), (title, result), |c| {
        frame.paint(c, height.ceil());
        for (x, color, words) in [(left, SKY, "low end"), (left + 260.0, ORANGE, "high end")] {
            c.fill_rect(Rect::new(x, plot.y - 46.0, 34.0, 28.0), color, 1.0);
            c.text(words, (x + 46.0, plot.y - 22.0), Type::new(SMALL));
        }
        for t in &axis.ticks {
            let x = px(t.at);
            c.line(&[(x, plot.y), (x, plot.bottom())], Pen::new(GRID, 1.5));
            c.text(
                &t.text,
                (x, plot.bottom() + 1.2 * TEXT),
                Type::new(TEXT).anchor(Anchor::Middle),
            );
        }
        for (i, b) in bars.iter().enumerate() {
            let y = plot.y + i as f64 * ROW;
            c.text(
                &font::shorten(&b.label, SMALL, false, left - MARGIN - 16.0),
                (MARGIN, y + ROW / 2.0 + 0.35 * SMALL),
                Type::new(SMALL),
            );
            // Both ends on one side of the base share their row: each has half of it.
            for (v, color, part) in [(b.low, SKY, 0.0), (b.high, ORANGE, 1.0)] {
                let Some(v) = v else { continue };
                let (a, z) = (px(at(base)).min(px(at(v))), px(at(base)).max(px(at(v))));
                let bar = Rect::new(
                    a,
                    y + 6.0 + part * (ROW - 12.0) / 2.0,
                    z - a,
                    (ROW - 12.0) / 2.0,
                );
                c.fill_rect(bar, color, 1.0);
            }
        }
        let x = px(at(base));
        c.line(&[(x, plot.y), (x, plot.bottom())], Pen::new(INK, 3.0));
        c.frame(plot, Pen::new(GREY, 2.0));
        c.text(
            &titled(result, kind, units),
            (plot.x + plot.w / 2.0, plot.bottom() + 2.7 * TEXT),
            Type::new(TEXT).anchor(Anchor::Middle),
        );
    })
}
