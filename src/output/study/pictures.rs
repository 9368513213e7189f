//! Which pictures a study has: curves over one quantity, maps over two, side by side where a third has few values, else a matrix of
//! all pairs.

use super::answers::Verdict;
use super::map;
use super::pairs;
use super::words::{Asked, kind, words};
use crate::output::axis::{Axis, Tick};
use crate::output::error::OutputError;
use crate::output::figure::{Area, Curve, Figure, Panel, Row, Spot};
use crate::output::hatch;
use crate::output::show::{self, across, other, unit};
use crate::output::style::{BLUE, DASHES, HATCHED, Hatch, INK, Look, MARKERS, Marker, SOLID};
use crate::results::StudyHead;
use crate::units::{PlotKind, UnitSystem};

/// More curves in one panel cannot be told apart.
const MOST_CURVES: usize = 10;
/// A quantity with so few values is drawn as curves or side by side.
const FEW: usize = 4;
const MOST_PANELS: usize = 9;

/// A point as pictures need it.
#[derive(Debug, Clone)]
pub struct Dot {
    pub point: u64,
    pub labels: Vec<String>,
    /// In the axes' own units.
    pub numbers: Vec<Option<f64>>,
    pub verdict: Verdict,
    /// SI, one per figure shown.
    pub figures: Vec<Option<f64>>,
}

/// A study seen in one system of units.
pub struct View<'a> {
    pub title: &'a str,
    pub head: &'a StudyHead,
    pub shown: &'a [Asked],
    pub dots: &'a [Dot],
    /// Questions and the points that answer them.
    pub marks: Vec<(&'static str, u64)>,
    pub orders: &'a [Vec<String>],
    pub units: UnitSystem,
    /// Each how-manieth point is here.
    pub every: u64,
}

pub const NOTE: &str =
    "Hatching: water boils or a limit is passed. Rings: best of the points without that.";

impl View<'_> {
    pub fn value(&self, asked: Asked, si: f64) -> f64 {
        show::shown(kind(asked.key), si, self.units)
    }

    /// "Time to target, min"
    pub fn figure_title(&self, asked: Asked) -> String {
        match unit(kind(asked.key), self.units) {
            "" => words(asked.key),
            u => format!("{}, {u}", words(asked.key)),
        }
    }

    pub fn axis_title(&self, axis: usize) -> String {
        let a = &self.head.axes[axis];
        if a.unit.is_empty() {
            a.name.clone()
        } else {
            format!("{}, {}", a.name, a.unit)
        }
    }

    fn numeric(&self, axis: usize) -> bool {
        self.dots.iter().all(|d| d.numbers[axis].is_some())
    }

    fn few(&self, axis: usize) -> bool {
        let n = self.orders.get(axis).map_or(0, Vec::len);
        n > 0 && (n <= FEW || !self.numeric(axis))
    }
}

/// All pictures, name and SVG text.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn draw_all(v: &View) -> Result<Vec<(String, String)>, OutputError> {
    let axes: Vec<usize> = (0..v.head.axes.len()).collect();
    let stepped = v.orders.iter().all(|o| !o.is_empty());
    let grid = v.orders.iter().map(|o| o.len() as u64).product::<u64>() == v.head.points
        && v.every == 1
        && stepped;
    let dense: Vec<usize> = axes.iter().copied().filter(|&a| !v.few(a)).collect();
    let few: Vec<usize> = axes.iter().copied().filter(|&a| v.few(a)).collect();
    let combinations = |of: &[usize]| of.iter().map(|&a| v.orders[a].len()).product::<usize>();
    if !grid && axes.len() == 1 {
        return curves(v, 0, &[]);
    }
    if grid {
        match (dense.as_slice(), few.as_slice()) {
            ([x], rest) if combinations(rest) <= MOST_CURVES => return curves(v, *x, rest),
            ([], rest) => {
                // The longest list of numbers, or the longest list.
                let x = rest
                    .iter()
                    .copied()
                    .rev()
                    .max_by_key(|&a| (v.numeric(a), v.orders[a].len()))
                    .unwrap_or(0);
                let others: Vec<usize> = rest.iter().copied().filter(|&a| a != x).collect();
                if combinations(&others) <= MOST_CURVES {
                    return curves(v, x, &others);
                }
            }
            ([y, x], rest) if combinations(rest) <= MOST_PANELS => {
                return map::maps(v, *x, *y, rest);
            }
            ([y, x, z], []) if v.orders[*z].len() <= MOST_PANELS => {
                return map::maps(v, *x, *y, &[*z]);
            }
            _ => {}
        }
    }
    pairs::pairs(v)
}

/// An axis over the values of a quantity; words stand at 0, 1, 2, ...
pub fn scale(v: &View, axis: usize) -> Axis {
    if v.numeric(axis) {
        let all = || v.dots.iter().filter_map(|d| d.numbers[axis]);
        return Axis::covering(
            all().fold(f64::INFINITY, f64::min),
            all().fold(f64::NEG_INFINITY, f64::max),
            8,
        );
    }
    let order = &v.orders[axis];
    let ticks = order.iter().enumerate().map(|(i, text)| Tick {
        at: i as f64,
        text: text.clone(),
    });
    Axis {
        lo: -0.4,
        hi: order.len() as f64 - 0.6,
        ticks: ticks.collect(),
    }
}

pub fn place(v: &View, d: &Dot, axis: usize) -> f64 {
    let at = || {
        v.orders
            .get(axis)
            .and_then(|o| o.iter().position(|l| *l == d.labels[axis]))
    };
    match d.numbers[axis] {
        Some(n) if v.numeric(axis) => n,
        _ => at().map_or(f64::NAN, |i| i as f64),
    }
}

/// Label of a combination of values: "38 mm, pump".
pub fn group_label(v: &View, d: &Dot, of: &[usize]) -> String {
    let words = of.iter().map(|&a| match v.head.axes[a].unit.as_str() {
        "" => d.labels[a].clone(),
        u => format!("{} {u}", d.labels[a]),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// Points by their combination of values, in the order in which these come up.
pub fn groups<'a>(v: &'a View, of: &[usize]) -> Vec<(String, Vec<&'a Dot>)> {
    let mut all: Vec<(String, Vec<&Dot>)> = Vec::new();
    for d in v.dots {
        let label = group_label(v, d, of);
        match all.iter_mut().find(|(l, _)| *l == label) {
            Some((_, dots)) => dots.push(d),
            None => all.push((label, vec![d])),
        }
    }
    all
}

fn vertical(
    v: &View,
    asked: Asked,
    ys: impl Iterator<Item = f64> + Clone,
) -> (Axis, String, Option<crate::output::figure::Side>) {
    let ys = ys.filter(|y| y.is_finite());
    let low = ys.clone().fold(f64::INFINITY, f64::min);
    let high = ys.fold(f64::NEG_INFINITY, f64::max);
    let axis = Axis::covering(low, high, 5);
    let kind = kind(asked.key);
    let (here, there) = (unit(kind, v.units), unit(kind, other(v.units)));
    let side = (here != there && kind != PlotKind::Minutes).then(|| crate::output::figure::Side {
        ticks: axis.other_side(across(kind, v.units), 5),
        title: there.to_owned(),
    });
    (axis, v.figure_title(asked), side)
}

/// One panel a figure over one quantity, a curve for each combination of the others.
fn curves(v: &View, x: usize, others: &[usize]) -> Result<Vec<(String, String)>, OutputError> {
    let axis = scale(v, x);
    let groups = groups(v, others);
    let mut rows = Vec::new();
    for (f, &asked) in v.shown.iter().enumerate() {
        let value = |d: &Dot| d.figures[f].map_or(f64::NAN, |si| v.value(asked, si));
        let (y, title, right) = vertical(v, asked, v.dots.iter().map(value));
        let mut panel = Panel::new(y, title, if v.shown.len() > 2 { 430.0 } else { 600.0 });
        panel.right = right;
        panel.zero_line = true;
        for (i, (label, dots)) in groups.iter().enumerate() {
            let mut dots = dots.clone();
            dots.sort_by(|a, b| place(v, a, x).total_cmp(&place(v, b, x)));
            let look = if groups.len() == 1 {
                Look::new(BLUE, SOLID, Marker::None)
            } else {
                Look {
                    dash: DASHES[i % 5],
                    marker: MARKERS[i % 10],
                    ..Look::nth(i)
                }
            };
            // The keys stand once.
            let label = if f == 0 { label.clone() } else { String::new() };
            panel.curves.push(Curve {
                label,
                xs: dots.iter().map(|d| place(v, d, x)).collect(),
                ys: dots.iter().map(|d| value(d)).collect(),
                look,
            });
        }
        panel.areas = beyond(v, x, &axis, &groups, &panel);
        for (question, d) in marked(v) {
            if value(d).is_finite() && answers(&question, asked) {
                panel.spots.push(Spot {
                    x: place(v, d, x),
                    y: value(d),
                    label: question,
                    marker: Marker::HollowCircle,
                    color: INK,
                });
            }
        }
        rows.push(Row::from(panel));
    }
    let figure = Figure {
        name: "curves",
        title: v.title.to_owned(),
        subtitle: format!("Over {}", v.head.axes[x].name),
        x: axis,
        x_title: v.axis_title(x),
        rows,
        note: NOTE.into(),
    };
    Ok(vec![("curves".to_owned(), figure.svg()?)])
}

/// Hatched: the whole height where all curves boil or pass a limit, else a ribbon along each curve that does.
fn beyond(
    v: &View,
    x: usize,
    axis: &Axis,
    groups: &[(String, Vec<&Dot>)],
    panel: &Panel,
) -> Vec<Area> {
    const RIBBON: f64 = 26.0;
    let stretches = |over: &dyn Fn(f64) -> bool, mut xs: Vec<f64>| {
        xs.retain(|x| x.is_finite());
        xs.sort_by(f64::total_cmp);
        xs.dedup();
        let holds: Vec<bool> = xs.iter().map(|&x| over(x)).collect();
        hatch::stretches(&xs, &holds, (axis.lo, axis.hi))
    };
    let at = |d: &Dot| place(v, d, x);
    let verdicts = |x: f64| {
        let here = v.dots.iter().filter(move |d| at(d) == x).map(|d| d.verdict);
        here.filter(|v| *v != Verdict::None)
    };
    let all_over = |x: f64| verdicts(x).count() > 0 && verdicts(x).all(|v| v == Verdict::Over);
    let area = |xs: Vec<f64>, lower, upper| Area {
        label: String::new(),
        xs,
        lower,
        upper,
        color: HATCHED,
        hatch: Hatch::Crossed,
    };
    let mut areas: Vec<Area> = stretches(&all_over, v.dots.iter().map(at).collect())
        .into_iter()
        .map(|(from, to)| area(vec![from, to], vec![panel.y.lo; 2], vec![panel.y.hi; 2]))
        .collect();
    if groups.len() < 2 {
        return areas;
    }
    let half = RIBBON * (panel.y.hi - panel.y.lo) / panel.height;
    for ((_, dots), curve) in groups.iter().zip(&panel.curves) {
        let over = |x: f64| {
            dots.iter()
                .any(|d| at(d) == x && d.verdict == Verdict::Over)
                && !all_over(x)
        };
        for (from, to) in stretches(&over, dots.iter().map(|d| at(d)).collect()) {
            // Corners of the curve inside, and its height at both ends.
            let finite: Vec<usize> = (0..curve.xs.len())
                .filter(|&i| curve.ys[i].is_finite())
                .collect();
            let xs_of: Vec<f64> = finite.iter().map(|&i| curve.xs[i]).collect();
            let ys_of: Vec<f64> = finite.iter().map(|&i| curve.ys[i]).collect();
            let (Some(&first), Some(&last)) = (xs_of.first(), xs_of.last()) else {
                continue;
            };
            let ends = [from.max(first), to.min(last)];
            let mut xs: Vec<f64> = xs_of
                .iter()
                .copied()
                .filter(|x| *x > ends[0] && *x < ends[1])
                .chain(ends)
                .collect();
            xs.sort_by(f64::total_cmp);
            let middle: Vec<f64> = xs.iter().map(|&x| hatch::at(&xs_of, &ys_of, x)).collect();
            let lower = middle.iter().map(|y| y - half).collect();
            let upper = middle.iter().map(|y| y + half).collect();
            areas.push(area(xs, lower, upper));
        }
    }
    areas
}

/// Whether a mark belongs into the panel of a figure.
fn answers(questions: &str, asked: Asked) -> bool {
    let own = match asked.key {
        "time_to_target_s" => "fastest",
        "fuel_fed_kg" => "least wood",
        "trips" => "least tending",
        "boiling_margin_min_K" => "safest",
        _ => return false,
    };
    questions.contains(own)
}

/// Best points with all the questions that each answers.
pub fn marked<'a>(v: &'a View) -> Vec<(String, &'a Dot)> {
    let mut all: Vec<(String, &Dot)> = Vec::new();
    for (question, point) in &v.marks {
        let Some(d) = v.dots.iter().find(|d| d.point == *point) else {
            continue;
        };
        match all.iter_mut().find(|(_, o)| o.point == *point) {
            Some((words, _)) => *words = format!("{words}, {question}"),
            None => all.push(((*question).to_owned(), d)),
        }
    }
    all
}
