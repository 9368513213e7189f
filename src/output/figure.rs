//! A picture as a description: panels over one common horizontal axis, with curves, areas, levels and moments.
//!
//! Pictures state what to show; this file and `paint.rs` decide where everything stands, so that all look alike.

use super::axis::{Axis, Tick};
use super::canvas::{Anchor, Canvas, Rect, Type, draw};
use super::error::OutputError;
use super::font;
use super::legend::{Key, Legend, Swatch};
use super::paint;
use super::style::{GREY, Hatch, Look, MARGIN, Marker, Rgb, SMALL, SUBTITLE, TEXT, TITLE, WIDTH};

/// Printed at the bottom of every picture.
pub const CAUTION: &str = "Estimate, not a clearance to build or run.";

/// A curve over the common axis.
#[derive(Debug, Clone)]
pub struct Curve {
    pub label: String,
    pub xs: Vec<f64>,
    pub ys: Vec<f64>,
    pub look: Look,
}

/// A filled stretch between two edges.
#[derive(Debug, Clone)]
pub struct Area {
    /// Empty: no key.
    pub label: String,
    pub xs: Vec<f64>,
    pub lower: Vec<f64>,
    pub upper: Vec<f64>,
    pub color: Rgb,
    pub hatch: Hatch,
}

/// A horizontal line with its words on it.
#[derive(Debug, Clone)]
pub struct Level {
    pub y: f64,
    pub label: String,
    pub look: Look,
}

/// A vertical line with its words beside it.
#[derive(Debug, Clone)]
pub struct Moment {
    pub x: f64,
    pub label: String,
    pub color: Rgb,
}

/// A marked point with its words beside it.
#[derive(Debug, Clone)]
pub struct Spot {
    pub x: f64,
    pub y: f64,
    pub label: String,
    pub marker: Marker,
    pub color: Rgb,
}

/// Ticks and unit on the right side.
#[derive(Debug, Clone)]
pub struct Side {
    pub ticks: Vec<Tick>,
    pub title: String,
}

/// One plot.
#[derive(Debug, Clone)]
pub struct Panel {
    pub y: Axis,
    pub y_title: String,
    pub right: Option<Side>,
    pub height: f64,
    /// Zero parts two different things (heat given and taken), so it gets a strong line.
    pub zero_line: bool,
    pub areas: Vec<Area>,
    pub curves: Vec<Curve>,
    pub levels: Vec<Level>,
    pub moments: Vec<Moment>,
    pub spots: Vec<Spot>,
}

impl Panel {
    pub fn new(y: Axis, y_title: impl Into<String>, height: f64) -> Self {
        Self {
            y,
            y_title: y_title.into(),
            right: None,
            height,
            zero_line: false,
            areas: Vec::new(),
            curves: Vec::new(),
            levels: Vec::new(),
            moments: Vec::new(),
            spots: Vec::new(),
        }
    }
}

/// What a lane of a strip shows.
#[derive(Debug, Clone)]
pub enum LaneKind {
    /// A stroke at each moment.
    Strokes(Vec<f64>),
    /// A bar as high as the share; `(from, to, share 0..1, words)`.
    Bars(Vec<(f64, f64, f64, String)>),
}

#[derive(Debug, Clone)]
pub struct Lane {
    pub name: String,
    pub kind: LaneKind,
    pub color: Rgb,
}

#[derive(Debug, Clone)]
pub enum Row {
    Panel(Box<Panel>),
    Strip(Vec<Lane>),
}

impl From<Panel> for Row {
    fn from(panel: Panel) -> Self {
        Row::Panel(Box::new(panel))
    }
}

/// A whole picture.
#[derive(Debug, Clone)]
pub struct Figure {
    pub name: &'static str,
    /// The scenario's title.
    pub title: String,
    pub subtitle: String,
    pub x: Axis,
    pub x_title: String,
    pub rows: Vec<Row>,
    /// A remark above the caution; empty for none.
    pub note: String,
}

pub const LANE: f64 = 58.0;
const AXIS_TITLE_ROW: f64 = 52.0;
const TICK_ROW: f64 = 52.0;
const ROW_GAP: f64 = 26.0;

/// Title, subtitle and caution: the same on every picture.
pub struct Frame {
    title: Vec<String>,
    subtitle: String,
    note: Vec<String>,
}

impl Frame {
    pub fn new(title: &str, subtitle: &str, note: &str) -> Self {
        let room = WIDTH - 2.0 * MARGIN;
        Self {
            title: font::wrap(title, TITLE, true, room, 2),
            subtitle: font::shorten(subtitle, SUBTITLE, false, room),
            note: font::wrap(note, SMALL, false, room, 3),
        }
    }

    /// Height taken above the body.
    pub fn head(&self) -> f64 {
        MARGIN + self.title.len() as f64 * 1.22 * TITLE + 1.45 * SUBTITLE + 6.0
    }

    /// Height taken below the body.
    pub fn foot(&self) -> f64 {
        (self.note.len() + 1) as f64 * 1.3 * SMALL + MARGIN * 0.7
    }

    pub fn paint(&self, c: &mut Canvas, height: f64) {
        let mut y = MARGIN;
        for line in &self.title {
            c.text(line, (MARGIN, y + 0.95 * TITLE), Type::new(TITLE).bold());
            y += 1.22 * TITLE;
        }
        c.text(
            &self.subtitle,
            (MARGIN, y + SUBTITLE),
            Type::new(SUBTITLE).color(GREY),
        );
        let mut y = height - self.foot() + SMALL;
        for line in &self.note {
            c.text(line, (MARGIN, y), Type::new(SMALL).color(GREY));
            y += 1.3 * SMALL;
        }
        c.text(CAUTION, (MARGIN, y), Type::new(SMALL).color(GREY));
    }
}

/// Where one row of a figure stands.
struct Place {
    legend_y: f64,
    legend: Option<Legend>,
    plot: Rect,
}

impl Figure {
    /// Draws the figure.
    ///
    /// # Errors
    /// [`OutputError::Drawing`] when the back end refuses.
    pub fn svg(&self) -> Result<String, OutputError> {
        let frame = Frame::new(&self.title, &self.subtitle, &self.note);
        let (left, right) = self.margins();
        let plot_w = WIDTH - left - right;
        let mut y = frame.head();
        let mut places = Vec::with_capacity(self.rows.len());
        for row in &self.rows {
            match row {
                Row::Panel(p) => {
                    let legend = Legend::new(keys(p), WIDTH - 2.0 * MARGIN);
                    let legend_y = y;
                    y += legend.height() + AXIS_TITLE_ROW;
                    let plot = Rect::new(left, y, plot_w, p.height);
                    y += p.height + ROW_GAP;
                    places.push(Place {
                        legend_y,
                        legend: Some(legend),
                        plot,
                    });
                }
                Row::Strip(lanes) => {
                    let plot = Rect::new(left, y, plot_w, lanes.len() as f64 * LANE);
                    y += plot.h + ROW_GAP;
                    places.push(Place {
                        legend_y: y,
                        legend: None,
                        plot,
                    });
                }
            }
        }
        // Tick labels and the title of the common axis.
        let axis_y = y - ROW_GAP;
        y = axis_y + TICK_ROW + 1.3 * TEXT + 20.0;
        let height = (y + frame.foot()).ceil();
        draw(
            self.name,
            (WIDTH, height),
            (&self.title, &self.subtitle),
            |c| {
                frame.paint(c, height);
                for (row, place) in self.rows.iter().zip(&places) {
                    if let Some(legend) = &place.legend {
                        legend.paint(c, MARGIN, place.legend_y);
                    }
                    match row {
                        Row::Panel(p) => paint::panel(c, p, &self.x, place.plot),
                        Row::Strip(lanes) => paint::strip(c, lanes, &self.x, place.plot),
                    }
                }
                self.common_axis(c, left, plot_w, axis_y);
            },
        )
    }

    fn common_axis(&self, c: &mut Canvas, left: f64, plot_w: f64, y: f64) {
        let words = Type::new(TEXT).anchor(Anchor::Middle);
        for t in &self.x.ticks {
            let x = left + self.x.share(t.at) * plot_w;
            c.text(&t.text, (x, y + 14.0 + TEXT), words);
        }
        c.text(
            &self.x_title,
            (left + plot_w / 2.0, y + TICK_ROW + 14.0 + TEXT),
            words,
        );
    }

    /// Room for tick labels on both sides.
    fn margins(&self) -> (f64, f64) {
        let widest = |ticks: &mut dyn Iterator<Item = &str>| {
            ticks
                .map(|t| font::width(t, TEXT, false))
                .fold(0.0f64, f64::max)
        };
        let (mut left, mut right) = (0.0f64, 0.0f64);
        for row in &self.rows {
            match row {
                Row::Panel(p) => {
                    left = left.max(widest(&mut p.y.ticks.iter().map(|t| t.text.as_str())));
                    if let Some(side) = &p.right {
                        right = right.max(widest(&mut side.ticks.iter().map(|t| t.text.as_str())));
                    }
                }
                Row::Strip(lanes) => {
                    left = left.max(widest(&mut lanes.iter().map(|l| l.name.as_str())));
                }
            }
        }
        // The last tick of the common axis is centred on the right edge.
        let half_tick = self
            .x
            .ticks
            .last()
            .map_or(0.0, |t| font::width(&t.text, TEXT, false) / 2.0);
        let gap = 18.0;
        (
            MARGIN + left + gap,
            MARGIN + (right + if right > 0.0 { gap } else { 0.0 }).max(half_tick),
        )
    }
}

fn keys(p: &Panel) -> Vec<Key> {
    let areas = p.areas.iter().filter(|a| !a.label.is_empty()).map(|a| Key {
        swatch: Swatch::Area(a.color, a.hatch),
        label: a.label.clone(),
    });
    let curves = p
        .curves
        .iter()
        .filter(|k| !k.label.is_empty())
        .map(|k| Key {
            swatch: Swatch::Line(k.look),
            label: k.label.clone(),
        });
    curves.chain(areas).collect()
}
