//! Maps: a figure over two quantities as fields of a grid, with contour lines; side by side for the values of a third.

use super::answers::Verdict;
use super::pictures::{Dot, NOTE, View, groups, marked};
use super::words::Asked;
use crate::output::axis::{Axis, tick_text};
use crate::output::canvas::{Anchor, Canvas, Pen, Px, Rect, Type, draw};
use crate::output::error::OutputError;
use crate::output::figure::Frame;
use crate::output::font;
use crate::output::hatch;
use crate::output::place::Crowd;
use crate::output::style::{GRID, Hatch, INK, MARGIN, Marker, PAPER, Rgb, SMALL, TEXT, WIDTH};

/// From pale to dark: lightness alone tells the order.
const SCALE: [Rgb; 5] = [
    Rgb(252, 246, 220),
    Rgb(168, 212, 190),
    Rgb(84, 156, 188),
    Rgb(46, 84, 150),
    Rgb(26, 26, 74),
];
pub const BAR: f64 = 46.0;

pub fn shade(share: f64) -> Rgb {
    let at = share.clamp(0.0, 1.0) * (SCALE.len() - 1) as f64;
    let i = (at as usize).min(SCALE.len() - 2);
    SCALE[i + 1].over(SCALE[i], at - i as f64)
}

/// A picture for each figure shown: one panel for each combination of the `others`.
pub fn maps(
    v: &View,
    x: usize,
    y: usize,
    others: &[usize],
) -> Result<Vec<(String, String)>, OutputError> {
    let mut all = Vec::new();
    for (f, &asked) in v.shown.iter().enumerate() {
        if v.dots.iter().any(|d| d.figures[f].is_some()) {
            all.push((
                format!("map-{}", asked.key),
                one(v, (x, y), others, f, asked)?,
            ));
        }
    }
    Ok(all)
}

fn one(
    v: &View,
    (x, y): (usize, usize),
    others: &[usize],
    f: usize,
    asked: Asked,
) -> Result<String, OutputError> {
    let value = |d: &Dot| d.figures[f].map(|si| v.value(asked, si));
    let all = || v.dots.iter().filter_map(value);
    let levels = Axis::covering(
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
        6,
    );
    let panels = groups(v, others);
    let columns = if panels.len() > 1 { 2 } else { 1 };
    let subtitle = format!(
        "{} over {} and {}",
        v.figure_title(asked),
        v.head.axes[x].name,
        v.head.axes[y].name
    );
    let frame = Frame::new(
        v.title,
        &subtitle,
        &format!("{NOTE} Empty: not run, or never there."),
    );
    let left = MARGIN + 150.0;
    let cell_w = (WIDTH - MARGIN) / columns as f64 - 40.0;
    let plot_w = cell_w - (left - MARGIN);
    let plot_h = if columns == 1 { 860.0 } else { 480.0 };
    let head = 70.0;
    let row_h = head + plot_h + 150.0;
    let rows = panels.len().div_ceil(columns);
    let bar_y = frame.head();
    let top = bar_y + 130.0;
    let height = (top + rows as f64 * row_h + frame.foot()).ceil();
    draw("map", (WIDTH, height), (v.title, &subtitle), |c| {
        frame.paint(c, height);
        bar(
            c,
            &levels,
            Rect::new(left, bar_y + 20.0, WIDTH - left - 2.0 * MARGIN, BAR),
        );
        for (i, (label, dots)) in panels.iter().enumerate() {
            let (col, row) = (i % columns, i / columns);
            let plot = Rect::new(
                left + col as f64 * (cell_w + 40.0),
                top + row as f64 * row_h + head,
                plot_w,
                plot_h,
            );
            c.text(label, (plot.x, plot.y - 18.0), Type::new(TEXT).bold());
            let grid = Grid::new(v, (x, y), dots, &value);
            let mut crowd = Crowd::default();
            let marks = grid.marks(plot, v, (x, y), &mut crowd);
            grid.paint(c, plot, &levels, &mut crowd);
            paint_marks(c, &marks);
            axes(c, v, (x, y), &grid, plot);
        }
    })
}

/// The scale of the figure.
pub fn bar(c: &mut Canvas, levels: &Axis, r: Rect) {
    let n = 120;
    for i in 0..n {
        let share = (f64::from(i) + 0.5) / f64::from(n);
        c.fill_rect(
            Rect::new(
                r.x + r.w * f64::from(i) / f64::from(n),
                r.y,
                r.w / f64::from(n) + 0.5,
                r.h,
            ),
            shade(share),
            1.0,
        );
    }
    c.frame(r, Pen::new(INK, 2.0));
    for t in &levels.ticks {
        let x = r.x + levels.share(t.at) * r.w;
        c.line(
            &[(x, r.bottom()), (x, r.bottom() + 9.0)],
            Pen::new(INK, 2.5),
        );
        c.text(
            &t.text,
            (x, r.bottom() + 12.0 + TEXT),
            Type::new(TEXT).anchor(Anchor::Middle),
        );
    }
}

/// Values of one map, fields between the halves of the steps.
struct Grid<'a> {
    columns: &'a [String],
    rows: &'a [String],
    dots: Vec<Option<&'a Dot>>,
    values: Vec<Option<f64>>,
}

impl<'a> Grid<'a> {
    fn new(
        v: &'a View,
        (x, y): (usize, usize),
        dots: &[&'a Dot],
        value: &dyn Fn(&Dot) -> Option<f64>,
    ) -> Self {
        let (columns, rows) = (v.orders[x].as_slice(), v.orders[y].as_slice());
        let mut grid = Self {
            columns,
            rows,
            dots: vec![None; columns.len() * rows.len()],
            values: vec![None; columns.len() * rows.len()],
        };
        for &d in dots {
            let at = |order: &[String], label: &String| order.iter().position(|l| l == label);
            if let (Some(i), Some(j)) = (at(columns, &d.labels[x]), at(rows, &d.labels[y])) {
                let k = j * columns.len() + i;
                grid.dots[k] = Some(d);
                grid.values[k] = value(d);
            }
        }
        grid
    }

    /// Middle of a field; the first row lies below.
    fn middle(&self, plot: Rect, i: f64, j: f64) -> Px {
        let (w, h) = (
            plot.w / self.columns.len() as f64,
            plot.h / self.rows.len() as f64,
        );
        (plot.x + (i + 0.5) * w, plot.bottom() - (j + 0.5) * h)
    }

    fn field(&self, plot: Rect, i: usize, j: usize) -> Rect {
        let (w, h) = (
            plot.w / self.columns.len() as f64,
            plot.h / self.rows.len() as f64,
        );
        let (x, y) = self.middle(plot, i as f64, j as f64);
        Rect::new(x - w / 2.0, y - h / 2.0, w, h)
    }

    fn paint(&self, c: &mut Canvas, plot: Rect, levels: &Axis, crowd: &mut Crowd) {
        c.fill_rect(plot, GRID, 0.5);
        for j in 0..self.rows.len() {
            for i in 0..self.columns.len() {
                let k = j * self.columns.len() + i;
                let r = self.field(plot, i, j);
                let color = self.values[k].map(|v| shade(levels.share(v)));
                if let Some(color) = color {
                    c.fill_rect(r, color, 1.0);
                }
                if self.dots[k].is_some_and(|d| d.verdict == Verdict::Over) {
                    let under = color.unwrap_or(PAPER);
                    hatch::paint(
                        c,
                        &[r.x, r.right()],
                        &[r.y; 2],
                        &[r.bottom(); 2],
                        Hatch::Up,
                        under,
                    );
                    hatch::paint(
                        c,
                        &[r.x, r.right()],
                        &[r.y; 2],
                        &[r.bottom(); 2],
                        Hatch::Down,
                        under,
                    );
                }
            }
        }
        let step = match levels.ticks.as_slice() {
            [a, b, ..] => b.at - a.at,
            _ => 1.0,
        };
        let mut labels = Vec::new();
        for t in &levels.ticks {
            let pieces = self.contour(plot, t.at);
            for &(a, b) in &pieces {
                c.line(&[a, b], Pen::new(PAPER, 7.0).alpha(0.8));
            }
            for &(a, b) in &pieces {
                c.line(&[a, b], Pen::new(INK, 3.0));
            }
            labels.push((tick_text(t.at, step), pieces));
        }
        for (text, pieces) in labels {
            let (w, h) = (font::width(&text, SMALL, true), SMALL);
            let spots: Vec<Rect> = pieces
                .iter()
                .map(|(a, b)| Rect::new((a.0 + b.0 - w) / 2.0, (a.1 + b.1 - h) / 2.0, w, h))
                .collect();
            if let Some((i, true)) = crowd.take(&spots, &plot) {
                c.fill_rect(spots[i].grown(5.0), PAPER, 0.92);
                c.text_mid(
                    &text,
                    (spots[i].x, spots[i].y + h / 2.0),
                    Type::new(SMALL).bold(),
                );
            }
        }
        c.frame(plot, Pen::new(INK, 2.5));
    }

    /// Pieces of the line on which the figure has this value: straight across each triangle of four neighbouring middles.
    fn contour(&self, plot: Rect, level: f64) -> Vec<(Px, Px)> {
        let mut pieces = Vec::new();
        for j in 0..self.rows.len().saturating_sub(1) {
            for i in 0..self.columns.len().saturating_sub(1) {
                let corner = |di: usize, dj: usize| {
                    let v = self.values[(j + dj) * self.columns.len() + i + di]?;
                    Some((self.middle(plot, (i + di) as f64, (j + dj) as f64), v))
                };
                let Some(corners) = [corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)]
                    .into_iter()
                    .collect::<Option<Vec<_>>>()
                else {
                    continue;
                };
                let mean = corners.iter().fold(((0.0, 0.0), 0.0), |m, c| {
                    ((m.0.0 + c.0.0 / 4.0, m.0.1 + c.0.1 / 4.0), m.1 + c.1 / 4.0)
                });
                for k in 0..4 {
                    let triangle = [corners[k], corners[(k + 1) % 4], mean];
                    let cuts: Vec<Px> = (0..3)
                        .filter_map(|e| {
                            let ((p, a), (q, b)) = (triangle[e], triangle[(e + 1) % 3]);
                            let s = (level - a) / (b - a);
                            ((a < level) != (b < level))
                                .then_some((p.0 + (q.0 - p.0) * s, p.1 + (q.1 - p.1) * s))
                        })
                        .collect();
                    if let [a, b] = cuts[..] {
                        pieces.push((a, b));
                    }
                }
            }
        }
        pieces
    }

    /// Best points of this map with their words and where these find room.
    fn marks(&self, plot: Rect, v: &View, (x, y): (usize, usize), crowd: &mut Crowd) -> Vec<Mark> {
        let at = |order: &[String], label: &String| {
            order.iter().position(|l| l == label).unwrap_or(0) as f64
        };
        let here: Vec<(String, Px)> = marked(v)
            .into_iter()
            .filter(|(_, d)| self.dots.iter().flatten().any(|o| o.point == d.point))
            .map(|(question, d)| {
                let (i, j) = (at(self.columns, &d.labels[x]), at(self.rows, &d.labels[y]));
                (question, self.middle(plot, i, j))
            })
            .collect();
        for (_, p) in &here {
            crowd.add_box(Rect::new(p.0 - 18.0, p.1 - 18.0, 36.0, 36.0));
        }
        here.into_iter()
            .map(|(words, at)| {
                let (w, h) = (font::width(&words, SMALL, true), SMALL);
                let (right, left, up, down) = (26.0, -w - 26.0, -h - 26.0, 26.0);
                let spots = [
                    (right, -h / 2.0),
                    (left, -h / 2.0),
                    (-w / 2.0, up),
                    (-w / 2.0, down),
                    (right, down),
                    (left, up),
                    (right, up),
                    (left, down),
                ]
                .map(|(dx, dy)| Rect::new(at.0 + dx, at.1 + dy, w, h));
                let place = crowd.take(&spots, &plot).map(|(i, _)| spots[i]);
                Mark { words, at, place }
            })
            .collect()
    }
}

/// A best point and its words.
struct Mark {
    words: String,
    at: Px,
    place: Option<Rect>,
}

fn paint_marks(c: &mut Canvas, marks: &[Mark]) {
    for mark in marks {
        c.marker(mark.at, Marker::HollowCircle, INK, 16.0);
        if let Some(r) = mark.place {
            c.fill_rect(r.grown(5.0), PAPER, 0.92);
            let words = Type::new(SMALL).bold();
            c.text_mid(&mark.words, (r.x, r.y + r.h / 2.0), words);
        }
    }
}

/// Values written along both sides, thinned where they would run into each other.
fn axes(c: &mut Canvas, v: &View, (x, y): (usize, usize), grid: &Grid, plot: Rect) {
    let widest = |labels: &[String]| {
        labels
            .iter()
            .map(|l| font::width(l, TEXT, false))
            .fold(1.0, f64::max)
    };
    let every = ((widest(grid.columns) + 24.0) / (plot.w / grid.columns.len() as f64))
        .ceil()
        .max(1.0) as usize;
    for (i, label) in grid.columns.iter().enumerate().step_by(every) {
        let (px, _) = grid.middle(plot, i as f64, 0.0);
        c.line(
            &[(px, plot.bottom()), (px, plot.bottom() + 9.0)],
            Pen::new(INK, 2.5),
        );
        c.text(
            label,
            (px, plot.bottom() + 14.0 + TEXT),
            Type::new(TEXT).anchor(Anchor::Middle),
        );
    }
    let every = (1.3 * TEXT / (plot.h / grid.rows.len() as f64))
        .ceil()
        .max(1.0) as usize;
    for (j, label) in grid.rows.iter().enumerate().step_by(every) {
        let (_, py) = grid.middle(plot, 0.0, j as f64);
        c.line(&[(plot.x - 9.0, py), (plot.x, py)], Pen::new(INK, 2.5));
        let label = font::shorten(label, TEXT, false, 110.0);
        c.text_mid(
            &label,
            (plot.x - 16.0, py),
            Type::new(TEXT).anchor(Anchor::End),
        );
    }
    c.text(
        &v.axis_title(x),
        (plot.x + plot.w / 2.0, plot.bottom() + 14.0 + 2.3 * TEXT),
        Type::new(TEXT).anchor(Anchor::Middle),
    );
    c.text_turned(
        &v.axis_title(y),
        (plot.x - 150.0 + TEXT / 2.0, plot.y + plot.h / 2.0),
        Type::new(TEXT),
        false,
    );
}
