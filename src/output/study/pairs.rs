//! The matrix of all pairs: each quantity against each other with the result as shade, the result itself over each quantity on the
//! diagonal. For random designs and for more quantities than curves and maps can hold.

use super::answers::Verdict;
use super::map::{BAR, bar, shade};
use super::pictures::{Dot, View, marked, place, scale};
use super::words::Asked;
use crate::output::axis::{Axis, Tick};
use crate::output::canvas::{Anchor, Canvas, Pen, Px, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::Frame;
use crate::output::font;
use crate::output::style::{GRID, INK, MARGIN, Marker, PAPER, RED, SMALL, TEXT, WIDTH};
use std::collections::BTreeMap;

/// More columns cannot be read at phone width.
const MOST: usize = 6;
/// Places drawn over all cells: enough to see a pattern, and the file stays small.
const MOST_PLACES: usize = 9_000;
const GAP: f64 = 18.0;
const LINE: f64 = 1.2 * SMALL;
/// Room for the figure's values right of the diagonal.
const SIDE: f64 = 104.0;
/// Height of scale and keys.
const KEYS: f64 = 420.0;

/// A picture for each figure shown.
pub fn pairs(v: &View) -> Result<Vec<(String, String)>, OutputError> {
    let mut all = Vec::new();
    for (f, &asked) in v.shown.iter().enumerate() {
        if v.dots.iter().any(|d| d.figures[f].is_some()) {
            all.push((format!("pairs-{}", asked.key), one(v, f, asked)?));
        }
    }
    Ok(all)
}

/// Points that fall on one place of a cell.
struct Place {
    at: (f64, f64),
    /// Median of the figure.
    value: Option<f64>,
    points: usize,
    over: usize,
}

fn one(v: &View, f: usize, asked: Asked) -> Result<String, OutputError> {
    let value = |d: &Dot| d.figures[f].map(|si| v.value(asked, si));
    let axes = strongest(v, &value);
    let n = axes.len();
    let left_out: Vec<&str> = (0..v.head.axes.len())
        .filter(|a| !axes.contains(a))
        .map(|a| v.head.axes[a].name.as_str())
        .collect();
    let mut note = "Crosses: water boils or a limit is passed; on a dot: at some of its points. Where several points share a place: their median. Numbers: best of the points without that.".to_owned();
    if !left_out.is_empty() {
        note.push_str(&format!(
            " Not drawn, as they go least with it: {}.",
            left_out.join(", ")
        ));
    }
    let subtitle = format!("{} over {n} values, in pairs", v.figure_title(asked));
    let frame = Frame::new(v.title, &subtitle, &note);
    let drawn = || v.dots.iter().filter_map(value);
    let levels = Axis::covering(
        drawn().fold(f64::INFINITY, f64::min),
        drawn().fold(f64::NEG_INFINITY, f64::max),
        3,
    );
    let scales: Vec<Axis> = axes.iter().map(|&a| thinned(v, a)).collect();
    let widest = scales[1..]
        .iter()
        .flat_map(|s| &s.ticks)
        .map(|t| font::width(&t.text, SMALL, false))
        .fold(0.0, f64::max)
        .min(150.0);
    let left = MARGIN + 3.0 * LINE + widest + 22.0;
    let cell = (WIDTH - left - SIDE - MARGIN / 2.0 + GAP) / n as f64 - GAP;
    let top = frame.head() + 10.0;
    let at = |row: usize, column: usize| {
        Rect::new(
            left + column as f64 * (cell + GAP),
            top + row as f64 * (cell + GAP),
            cell,
            cell,
        )
    };
    let below = top + n as f64 * (cell + GAP) - GAP;
    let height = (below + 50.0 + 3.4 * LINE + frame.foot()).ceil();
    let marks = marked(v);
    let missing = v
        .dots
        .iter()
        .any(|d| d.verdict != Verdict::None && value(d).is_none());
    let budget = MOST_PLACES / (n * (n + 1) / 2);
    draw("pairs", (WIDTH, height), (v.title, &subtitle), |c| {
        frame.paint(c, height);
        for (row, &y) in axes.iter().enumerate() {
            for (column, &x) in axes[..=row].iter().enumerate() {
                let sheet = Sheet {
                    r: at(row, column),
                    x: &scales[column],
                    y: if row == column { &levels } else { &scales[row] },
                };
                sheet.ground(c);
                let places = if row == column {
                    over_one(v, x, &value)
                } else {
                    over_two(v, (x, y), &value)
                };
                sheet.places(c, places, &levels, (budget, asked.more));
                // The first on top.
                for (k, (_, d)) in marks.iter().enumerate().rev() {
                    let y = if row == column {
                        value(d).unwrap_or(f64::NAN)
                    } else {
                        place(v, d, y)
                    };
                    numbered(c, k + 1, sheet.px((place(v, d, x), y)));
                }
                c.frame(sheet.r, Pen::new(INK, 2.5));
                if row == column {
                    sheet.right_ticks(c);
                } else if column == 0 {
                    sheet.left_ticks(c);
                    for (k, line) in broken(&v.axis_title(y), cell, 3).iter().enumerate() {
                        let x = MARGIN + 0.5 * LINE + k as f64 * LINE;
                        let mid = sheet.r.y + cell / 2.0;
                        c.text_turned(line, (x, mid), Type::new(SMALL).bold(), false);
                    }
                }
                if row + 1 == n {
                    sheet.bottom_ticks(c);
                    for (k, line) in broken(&v.axis_title(x), cell + GAP - 8.0, 3)
                        .iter()
                        .enumerate()
                    {
                        c.text(
                            line,
                            (
                                sheet.r.x + cell / 2.0,
                                below + 46.0 + (k as f64 + 1.0) * LINE,
                            ),
                            Type::new(SMALL).bold().anchor(Anchor::Middle),
                        );
                    }
                }
            }
        }
        // The corner above the diagonal is free: scale and keys stand there.
        let from = (KEYS / (cell + GAP)).ceil().clamp(1.0, n as f64 - 1.0);
        let x = left + from * (cell + GAP) + SIDE - GAP;
        keys(
            c,
            Rect::new(x, top, WIDTH - MARGIN - x, KEYS),
            &levels,
            &v.figure_title(asked),
            (missing, &marks),
        );
    })
}

/// The axes to draw in their order; where there are too many, those whose values go most with the figure.
fn strongest(v: &View, value: &dyn Fn(&Dot) -> Option<f64>) -> Vec<usize> {
    let mut all: Vec<usize> = (0..v.head.axes.len()).collect();
    if all.len() <= MOST {
        return all;
    }
    let with: Vec<&Dot> = v.dots.iter().filter(|d| value(d).is_some()).collect();
    let ys: Vec<f64> = with.iter().filter_map(|d| value(d)).collect();
    let goes_with: Vec<f64> = all
        .iter()
        .map(|&a| {
            let xs: Vec<f64> = with.iter().map(|d| place(v, d, a)).collect();
            rank_correlation(&xs, &ys).abs()
        })
        .collect();
    all.sort_by(|&a, &b| goes_with[b].total_cmp(&goes_with[a]).then(a.cmp(&b)));
    all.truncate(MOST);
    all.sort_unstable();
    all
}

/// Spearman's rank correlation; ties have their mean rank.
fn rank_correlation(xs: &[f64], ys: &[f64]) -> f64 {
    let ranks = |v: &[f64]| {
        let mut order: Vec<usize> = (0..v.len()).collect();
        order.sort_by(|&i, &j| v[i].total_cmp(&v[j]));
        let mut ranks = vec![0.0; v.len()];
        let mut i = 0;
        while i < order.len() {
            let mut j = i;
            while j < order.len() && v[order[j]] == v[order[i]] {
                j += 1;
            }
            for &k in &order[i..j] {
                ranks[k] = 0.5 * (i + j - 1) as f64;
            }
            i = j;
        }
        ranks
    };
    let (a, b) = (ranks(xs), ranks(ys));
    let middle = 0.5 * (xs.len() as f64 - 1.0);
    let sum = |p: &[f64], q: &[f64]| -> f64 {
        let products = p.iter().zip(q).map(|(p, q)| (p - middle) * (q - middle));
        products.sum()
    };
    let r = sum(&a, &b) / (sum(&a, &a) * sum(&b, &b)).sqrt();
    if r.is_finite() { r } else { 0.0 }
}

/// An axis with so few ticks that a small cell has room for their words.
fn thinned(v: &View, axis: usize) -> Axis {
    let wide = scale(v, axis);
    let numeric = v
        .dots
        .iter()
        .all(|d| d.numbers.get(axis).copied().flatten().is_some());
    if !numeric {
        let ticks = wide.ticks.into_iter().map(|t| Tick {
            text: font::shorten(&t.text, SMALL, false, 150.0),
            ..t
        });
        return Axis {
            ticks: ticks.collect(),
            ..wide
        };
    }
    let all = || v.dots.iter().filter_map(|d| d.numbers[axis]);
    let (lo, hi) = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
    );
    // Dots at the ends stand whole within their cell.
    let pad = 0.04 * (hi - lo);
    let tight = Axis::exact(lo - pad, hi + pad, 3);
    if hi > lo && tight.ticks.len() > 1 {
        tight
    } else {
        Axis::covering(lo, hi, 2)
    }
}

fn over_one(v: &View, x: usize, value: &dyn Fn(&Dot) -> Option<f64>) -> Vec<Place> {
    let with = v.dots.iter().filter(|d| d.verdict != Verdict::None);
    with.filter_map(|d| {
        let y = value(d)?;
        Some(Place {
            at: (place(v, d, x), y),
            value: Some(y),
            points: 1,
            over: usize::from(d.verdict == Verdict::Over),
        })
    })
    .collect()
}

fn over_two(v: &View, (x, y): (usize, usize), value: &dyn Fn(&Dot) -> Option<f64>) -> Vec<Place> {
    let mut shared: BTreeMap<(&str, &str), Vec<&Dot>> = BTreeMap::new();
    for d in v.dots.iter().filter(|d| d.verdict != Verdict::None) {
        let key = (d.labels[x].as_str(), d.labels[y].as_str());
        shared.entry(key).or_default().push(d);
    }
    let of = |dots: Vec<&Dot>| {
        let mut values: Vec<f64> = dots.iter().filter_map(|d| value(d)).collect();
        values.sort_by(f64::total_cmp);
        Place {
            at: (place(v, dots[0], x), place(v, dots[0], y)),
            value: values.get(values.len() / 2).copied(),
            points: dots.len(),
            over: dots.iter().filter(|d| d.verdict == Verdict::Over).count(),
        }
    };
    shared.into_values().map(of).collect()
}

/// One cell.
struct Sheet<'a> {
    r: Rect,
    x: &'a Axis,
    y: &'a Axis,
}

impl Sheet<'_> {
    fn px(&self, (x, y): (f64, f64)) -> Px {
        (
            self.r.x + self.x.share(x) * self.r.w,
            self.r.bottom() - self.y.share(y) * self.r.h,
        )
    }

    fn ground(&self, c: &mut Canvas) {
        for t in &self.x.ticks {
            let (x, _) = self.px((t.at, 0.0));
            c.line(&[(x, self.r.y), (x, self.r.bottom())], Pen::new(GRID, 1.5));
        }
        for t in &self.y.ticks {
            let (_, y) = self.px((0.0, t.at));
            c.line(&[(self.r.x, y), (self.r.right(), y)], Pen::new(GRID, 1.5));
        }
    }

    /// Best last, so that it lies on top.
    fn places(
        &self,
        c: &mut Canvas,
        places: Vec<Place>,
        levels: &Axis,
        (budget, more): (usize, bool),
    ) {
        let step = places.len().div_ceil(budget).max(1);
        let mut places: Vec<Place> = places.into_iter().step_by(step).collect();
        places.sort_by(|a, b| match (a.value, b.value) {
            (Some(a), Some(b)) if more => a.total_cmp(&b),
            (Some(a), Some(b)) => b.total_cmp(&a),
            (a, b) => a.is_some().cmp(&b.is_some()),
        });
        let r = (self.r.w / (3.2 * (places.len().max(1) as f64).sqrt())).clamp(5.5, 20.0);
        for p in places {
            let at = self.px(p.at);
            if p.over < p.points {
                c.circle(at, r, Pen::new(INK, 1.0).alpha(0.55), false);
                let color = p.value.map_or(PAPER, |v| shade(levels.share(v)));
                c.circle(at, r - 1.6, Pen::new(color, 1.0), false);
            }
            if p.over > 0 {
                let r = if p.over == p.points {
                    r.max(7.0)
                } else {
                    0.6 * r
                };
                c.marker(at, Marker::Cross, RED, r);
            }
        }
    }

    fn right_ticks(&self, c: &mut Canvas) {
        for t in &self.y.ticks {
            let (_, y) = self.px((0.0, t.at));
            let x = self.r.right();
            c.line(&[(x, y), (x + 8.0, y)], Pen::new(INK, 2.5));
            c.text_mid(&t.text, (x + 13.0, y), Type::new(SMALL));
        }
    }

    fn left_ticks(&self, c: &mut Canvas) {
        for t in &self.y.ticks {
            let (_, y) = self.px((0.0, t.at));
            c.line(&[(self.r.x - 8.0, y), (self.r.x, y)], Pen::new(INK, 2.5));
            c.text_mid(
                &t.text,
                (self.r.x - 13.0, y),
                Type::new(SMALL).anchor(Anchor::End),
            );
        }
    }

    fn bottom_ticks(&self, c: &mut Canvas) {
        let room = self.r.w / self.x.ticks.len().max(1) as f64 - 6.0;
        for t in &self.x.ticks {
            let (x, _) = self.px((t.at, 0.0));
            let y = self.r.bottom();
            c.line(&[(x, y), (x, y + 8.0)], Pen::new(INK, 2.5));
            c.text(
                &font::shorten(&t.text, SMALL, false, room.max(40.0)),
                (x, y + 12.0 + SMALL),
                Type::new(SMALL).anchor(Anchor::Middle),
            );
        }
    }
}

/// A ring with a number in it.
fn numbered(c: &mut Canvas, number: usize, at: Px) {
    if at.0.is_finite() && at.1.is_finite() {
        c.marker(at, Marker::HollowCircle, INK, 20.0);
        let words = Type::new(SMALL).bold().anchor(Anchor::Middle);
        c.text_mid(&number.to_string(), at, words);
    }
}

fn keys(
    c: &mut Canvas,
    r: Rect,
    levels: &Axis,
    title: &str,
    (missing, marks): (bool, &[(String, &Dot)]),
) {
    let title = font::shorten(title, TEXT, true, r.w);
    c.text(&title, (r.x, r.y + TEXT), Type::new(TEXT).bold());
    let scale = Rect::new(r.x + 30.0, r.y + 1.5 * TEXT, r.w - 60.0, BAR);
    bar(c, levels, scale);
    let mut y = scale.bottom() + 2.9 * TEXT;
    let cross = (r.x + 22.0, y);
    c.marker(cross, Marker::Cross, RED, 13.0);
    let words = font::shorten("boils or passes a limit", TEXT, false, r.w - 56.0);
    c.text_mid(&words, (r.x + 56.0, y), Type::new(TEXT));
    if missing {
        y += 1.4 * TEXT;
        c.circle((r.x + 22.0, y), 13.0, Pen::new(INK, 3.0), true);
        let words = font::shorten(
            "no such result: target not reached",
            TEXT,
            false,
            r.w - 56.0,
        );
        c.text_mid(&words, (r.x + 56.0, y), Type::new(TEXT));
    }
    for (k, (question, _)) in marks.iter().enumerate() {
        y += 1.4 * TEXT;
        numbered(c, k + 1, (r.x + 22.0, y));
        let words = font::shorten(question, TEXT, false, r.w - 56.0);
        c.text_mid(&words, (r.x + 56.0, y), Type::new(TEXT));
    }
}

/// A name in lines: broken behind dots as well as at blanks, for the paths of keys have no blanks.
fn broken(name: &str, max_px: f64, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for piece in name.split_inclusive(['.', ' ']) {
        let fits = lines.last().is_some_and(|line| {
            line.is_empty() || font::width(&format!("{line}{piece}"), SMALL, true) <= max_px
        });
        let full = lines.len() == most;
        match lines.last_mut() {
            Some(line) if fits || full => line.push_str(piece),
            _ => lines.push(piece.to_owned()),
        }
    }
    lines
        .iter()
        .map(|l| font::shorten(l.trim(), SMALL, true, max_px))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_rank_correlation_of_orders_and_ties() {
        let xs = [1.0, 2.0, 3.0, 4.0, 5.0];
        assert_eq!(rank_correlation(&xs, &[2.0, 4.0, 9.0, 10.0, 99.0]), 1.0);
        assert_eq!(rank_correlation(&xs, &[5.0, 4.0, 3.0, 2.0, 1.0]), -1.0);
        // One swap of neighbours among five: 1 - 6 * 2 / (5 * 24).
        let r = rank_correlation(&xs, &[2.0, 1.0, 3.0, 4.0, 5.0]);
        assert!((r - 0.9).abs() < 1e-12, "{r}");
        assert_eq!(rank_correlation(&xs, &[7.0; 5]), 0.0);
    }

    #[test]
    fn behaves_paths_break_behind_their_dots() {
        let lines = broken("feeding.every[0].interval, min", 320.0, 3);
        assert_eq!(lines, ["feeding.every[0].", "interval, min"]);
        let one = broken(&"x".repeat(200), 300.0, 3);
        assert!(one.len() == 1 && one[0].ends_with('…'), "{one:?}");
    }
}
