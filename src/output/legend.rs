//! Keys of curves and areas, in rows outside the plot so that they hide nothing.

use super::canvas::{Canvas, Pen, Rect, Type};
use super::font;
use super::hatch;
use super::style::{GREY, Hatch, Look, Rgb, TEXT};

/// What the key shows before the words.
#[derive(Debug, Clone, Copy)]
pub enum Swatch {
    Line(Look),
    Area(Rgb, Hatch),
}

/// One key.
#[derive(Debug, Clone)]
pub struct Key {
    pub swatch: Swatch,
    pub label: String,
}

const SWATCH_W: f64 = 84.0;
const PAD: f64 = 14.0;
const GAP: f64 = 44.0;
pub const ROW: f64 = 48.0;

/// Keys put into rows of a width; `(row, x, label)` per key.
pub struct Legend {
    keys: Vec<(Key, usize, f64)>,
    rows: usize,
}

impl Legend {
    pub fn new(mut keys: Vec<Key>, width: f64) -> Self {
        for key in &mut keys {
            key.label = font::shorten(&key.label, TEXT, false, width - SWATCH_W - PAD);
        }
        let widths: Vec<f64> = keys.iter().map(key_width).collect();
        // Many keys stand in the most columns that fit, a few flow one after the other.
        let columns = match keys.len() {
            0..=5 => None,
            n => (2..=4.min(n))
                .rev()
                .find_map(|n| columns(&widths, n, width)),
        };
        let (mut row, mut x) = (0usize, 0.0);
        let mut placed = Vec::with_capacity(keys.len());
        for (i, (key, w)) in keys.into_iter().zip(widths).enumerate() {
            match &columns {
                Some(starts) => {
                    row = i / starts.len();
                    placed.push((key, row, starts[i % starts.len()]));
                }
                None => {
                    if x > 0.0 && x + w > width + 0.5 {
                        row += 1;
                        x = 0.0;
                    }
                    placed.push((key, row, x));
                    x += w + GAP;
                }
            }
        }
        let rows = if placed.is_empty() { 0 } else { row + 1 };
        Self { keys: placed, rows }
    }

    pub fn height(&self) -> f64 {
        self.rows as f64 * ROW
    }

    pub fn paint(&self, c: &mut Canvas, x0: f64, y0: f64) {
        for (key, row, x) in &self.keys {
            let (x, y) = (x0 + x, y0 + (*row as f64 + 0.5) * ROW);
            match key.swatch {
                Swatch::Line(look) => {
                    c.line(
                        &[(x, y), (x + SWATCH_W, y)],
                        Pen::new(look.color, look.width).dash(look.dash),
                    );
                    c.marker((x + SWATCH_W / 2.0, y), look.marker, look.color, 10.0);
                }
                Swatch::Area(color, pattern) => {
                    let r = Rect::new(x, y - 15.0, SWATCH_W, 30.0);
                    c.fill_rect(r, color, 1.0);
                    let xs = [r.x, r.right()];
                    hatch::paint(c, &xs, &[r.y; 2], &[r.bottom(); 2], pattern, color);
                    c.frame(r, Pen::new(GREY, 1.5));
                }
            }
            c.text_mid(&key.label, (x + SWATCH_W + PAD, y), Type::new(TEXT));
        }
    }
}

fn key_width(key: &Key) -> f64 {
    SWATCH_W + PAD + font::width(&key.label, TEXT, false)
}

/// Where `n` columns start when keys fill them row by row; `None` where they are too wide together.
fn columns(widths: &[f64], n: usize, width: f64) -> Option<Vec<f64>> {
    let mut x = 0.0;
    let mut starts = Vec::with_capacity(n);
    for column in 0..n {
        starts.push(x);
        x += widths
            .iter()
            .skip(column)
            .step_by(n)
            .fold(0.0f64, |a, &b| a.max(b))
            + GAP;
    }
    (x - GAP <= width).then_some(starts)
}
