//! Pictures of an audit: probes with their suspect spans, heat and power, the uncertainty budget.

use crate::output::axis::Axis;
use crate::output::canvas::{Anchor, Canvas, Pen, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Figure, Frame, Lane, LaneKind, Moment, Panel, Row, Side};
use crate::output::font;
use crate::output::show::{across, other, shown, unit};
use crate::output::style::{
    BLUE, BROWN, GREY, Hatch, INK, Look, MARGIN, Marker, RED, SLATE, SOLID, TEXT, WIDTH,
};
use crate::results::{Audit, AuditBudget, AuditCurve};
use crate::units::{PlotKind as Kind, UnitSystem};

/// Name and SVG text of each picture of an audit.
///
/// # Errors
/// [`OutputError::Drawing`] when the back end refuses.
pub fn audit_pictures(
    a: &Audit,
    units: UnitSystem,
) -> Result<Vec<(&'static str, String)>, OutputError> {
    let mut out = vec![("probes", probes(a, units)?), ("heat", heat(a, units)?)];
    if let Some(b) = a.budgets.first() {
        out.push(("budget", bars(a, b)?));
    }
    Ok(out)
}

/// Time axis from shortly before lighting to the last reading.
pub(super) fn time_axis(first_s: f64, last_s: f64) -> Axis {
    let mut x = Axis::time(last_s, 9);
    x.lo = first_s.clamp(-0.1 * x.hi, 0.0);
    x
}

fn span(a: &Audit) -> (f64, f64) {
    let all = a.curves.iter().flat_map(|c| &c.time_s);
    all.fold((0.0f64, 60.0f64), |(lo, hi), &t| (lo.min(t), hi.max(t)))
}

pub(super) fn panel(
    words: &str,
    kind: Kind,
    units: UnitSystem,
    curves: Vec<Curve>,
    height: f64,
) -> Panel {
    let all = curves.iter().flat_map(|c| &c.ys).filter(|v| v.is_finite());
    let (lo, hi) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), &v| {
        (lo.min(v), hi.max(v))
    });
    let axis = Axis::covering(lo, hi, 7);
    let (here, there) = (unit(kind, units), unit(kind, other(units)));
    let mut p = Panel::new(axis, format!("{words}, {here}"), height);
    if here != there {
        p.right = Some(Side {
            ticks: p.y.other_side(across(kind, units), 6),
            title: there.to_string(),
        });
    }
    p.curves = curves;
    p
}

fn probes(a: &Audit, units: UnitSystem) -> Result<String, OutputError> {
    let x = {
        let (lo, hi) = span(a);
        time_axis(lo, hi)
    };
    let water = |c: &AuditCurve| {
        c.role.starts_with("tank") || c.role.starts_with("coil") || c.role == "ambient"
    };
    let top = |c: &AuditCurve| {
        c.value_k
            .iter()
            .copied()
            .filter(|v| v.is_finite())
            .fold(0.0f64, f64::max)
    };
    let curve = |(i, c): (usize, &AuditCurve)| {
        let keep = c.time_s.iter().zip(&c.value_k).filter(|(t, _)| **t >= x.lo);
        let (xs, ys) = keep
            .map(|(t, v)| (*t, shown(Kind::Temperature, *v, units)))
            .unzip();
        Curve {
            label: c.name.clone(),
            xs,
            ys,
            look: Look::nth(i),
        }
    };
    // Probes that nobody named stand with those that are as warm.
    let (cool, hot): (Vec<&AuditCurve>, Vec<&AuditCurve>) = a
        .curves
        .iter()
        .partition(|c| water(c) || (c.role == "other" && top(c) < 393.0));
    let mut rows: Vec<Row> = Vec::new();
    for (words, group) in [("Water and air", cool), ("Gas", hot)] {
        if group.is_empty() {
            continue;
        }
        let mut p = panel(
            words,
            Kind::Temperature,
            units,
            group.iter().copied().enumerate().map(curve).collect(),
            560.0,
        );
        let mut named = false;
        for f in &a.flags {
            // A row that came twice hides nothing.
            let twice = f.kind == "duplicate stamp";
            if twice || !f.channel.is_empty() && !group.iter().any(|c| c.name == f.channel) {
                continue;
            }
            // A single reading still shows.
            let least = 0.004 * (x.hi - x.lo);
            let (from, to) = (f.first_s - least, f.last_s + least);
            if to < x.lo || from > x.hi {
                continue;
            }
            let label = if named {
                String::new()
            } else {
                "suspect span".into()
            };
            named = true;
            let xs = vec![from.max(x.lo), to.min(x.hi)];
            p.areas.push(Area {
                label,
                xs,
                lower: vec![p.y.lo; 2],
                upper: vec![p.y.hi; 2],
                color: SLATE.tint(0.35),
                hatch: Hatch::Up,
            });
        }
        p.moments = marks(a, &x);
        rows.push(p.into());
    }
    let feeds: Vec<f64> = a
        .events
        .iter()
        .filter(|e| e.mass_kg.is_some() && e.time_s >= x.lo && e.time_s <= x.hi)
        .map(|e| e.time_s)
        .collect();
    if !feeds.is_empty() {
        rows.push(Row::Strip(vec![Lane {
            name: "Feeds".into(),
            kind: LaneKind::Strokes(feeds),
            color: BROWN,
        }]));
    }
    let note = match a.flags.iter().filter(|f| f.left_out).count() {
        0 => String::new(),
        n => format!("{n} suspect spans are left out and not filled; the table names each."),
    };
    figure("probes", a, "Probes as logged", x, rows, note).svg()
}

fn marks(a: &Audit, x: &Axis) -> Vec<Moment> {
    let mark = |at: f64, label: &str| {
        (at > x.lo && at < x.hi).then(|| Moment {
            x: at,
            label: label.into(),
            color: GREY,
        })
    };
    [
        mark(a.begin_s, "start"),
        mark(a.end_s, "end of the account"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn figure(
    name: &'static str,
    a: &Audit,
    subtitle: &str,
    x: Axis,
    rows: Vec<Row>,
    note: String,
) -> Figure {
    Figure {
        name,
        title: a.title.clone(),
        subtitle: subtitle.into(),
        x,
        x_title: "Time since lighting, h:min".into(),
        rows,
        note,
    }
}

fn heat(a: &Audit, units: UnitSystem) -> Result<String, OutputError> {
    let hi = a.heat_time_s.last().copied().unwrap_or(60.0);
    let x = time_axis(0.0, hi);
    let curve = |kind, ys: &[f64], look| Curve {
        label: String::new(),
        xs: a.heat_time_s.clone(),
        ys: ys.iter().map(|v| shown(kind, *v, units)).collect(),
        look,
    };
    let mut q = panel(
        "Heat in the tank since the start",
        Kind::Energy,
        units,
        vec![curve(
            Kind::Energy,
            &a.heat_j,
            Look::new(BLUE, SOLID, Marker::None),
        )],
        480.0,
    );
    q.moments = marks(a, &x);
    let mut p = panel(
        "Power into the tank",
        Kind::Power,
        units,
        vec![curve(
            Kind::Power,
            &a.power_w,
            Look::new(RED, SOLID, Marker::None),
        )],
        480.0,
    );
    p.zero_line = true;
    let note = format!(
        "Power: slope of straight lines through {:.0} min of readings. Losses of the tank are not added.",
        a.smoothing_s / 60.0
    );
    figure(
        "heat",
        a,
        "Heat and power into the tank",
        x,
        vec![q.into(), p.into()],
        note,
    )
    .svg()
}

const NAME_ROOM: f64 = 520.0;
const BAR_ROW: f64 = 74.0;

fn bars(a: &Audit, b: &AuditBudget) -> Result<String, OutputError> {
    let mut lines: Vec<_> = b.lines.iter().collect();
    lines.sort_by(|p, q| q.contribution.total_cmp(&p.contribution));
    let share = b.of.starts_with("efficiency");
    let figure = |v: f64| {
        if share {
            format!("{:.2}", 100.0 * v)
        } else {
            format!("{:.2}", v * 1e-6)
        }
    };
    let unit = if share { "percentage points" } else { "MJ" };
    let result = if share {
        format!(
            "{}: {:.1} ± {:.1} % (95 of 100, k = {:.2})",
            b.of,
            100.0 * b.result.value,
            100.0 * b.result.expanded,
            b.coverage_factor
        )
    } else {
        format!(
            "heat into the tank: {:.1} ± {:.1} MJ (95 of 100, k = {:.2})",
            b.result.value * 1e-6,
            b.result.expanded * 1e-6,
            b.coverage_factor
        )
    };
    let frame = Frame::new(
        &a.title,
        &result,
        "Bars: what each input alone adds to the standard uncertainty. They add up as squares (JCGM 100), with the correlation of the two temperatures taken off.",
    );
    let top = frame.head() + 70.0;
    let height = top + (lines.len() + 1) as f64 * BAR_ROW + 40.0 + frame.foot();
    let (left, right) = (MARGIN + NAME_ROOM, WIDTH - MARGIN - 150.0);
    let most = lines
        .iter()
        .map(|l| l.contribution)
        .fold(b.result.standard, f64::max)
        .max(1e-30);
    draw("budget", (WIDTH, height), (&a.title, &result), |c| {
        frame.paint(c, height);
        c.text(
            &format!("Standard uncertainty, {unit}"),
            (left, top - 24.0),
            Type::new(TEXT).bold(),
        );
        let mut y = top;
        let mut row = |c: &mut Canvas, name: &str, v: f64, strong: bool| {
            let color = if strong { INK } else { BLUE };
            let words = font::shorten(name, TEXT, strong, NAME_ROOM - 20.0);
            let mut look = Type::new(TEXT).anchor(Anchor::End);
            look.bold = strong;
            c.text_mid(&words, (left - 18.0, y + 0.5 * BAR_ROW), look);
            let w = (right - left) * v / most;
            c.fill_rect(
                Rect::new(left, y + 14.0, w.max(1.5), BAR_ROW - 28.0),
                color,
                1.0,
            );
            c.text_mid(
                &figure(v),
                (left + w + 14.0, y + 0.5 * BAR_ROW),
                Type::new(TEXT),
            );
            y += BAR_ROW;
        };
        row(c, "combined", b.result.standard, true);
        for l in &lines {
            row(c, &l.name, l.contribution, false);
        }
        c.line(&[(left, top), (left, y)], Pen::new(INK, 2.5));
    })
}
