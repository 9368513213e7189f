//! Keys of curves and areas, in rows outside the plot so that they hide nothing.

use super::canvas::{Canvas, Pen, Rect, Type};
use super::font;
use super::hatch::{self, shade};
use super::style::{GREY, Hatch, Look, Rgb, TEXT};

/// What the key shows before the words.
#[derive(Debug, Clone, Copy)]
pub enum Swatch {
    Line(Look),
    Area(Rgb, f64, Hatch),
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
    pub fn new(keys: Vec<Key>, width: f64) -> Self {
        let (mut row, mut x) = (0usize, 0.0);
        let mut placed = Vec::with_capacity(keys.len());
        let many = keys.len() > 5;
        let widest = keys
            .iter()
            .map(|k| key_width(k, width))
            .fold(0.0f64, f64::max);
        // Many keys stand in columns, a few flow one after the other.
        let columns = ((width + GAP) / (widest + GAP)).floor().max(1.0);
        let column = width / columns;
        for mut key in keys {
            key.label = font::shorten(&key.label, TEXT, false, width - SWATCH_W - PAD);
            let w = key_width(&key, width);
            if x > 0.0 && x + w > width + 0.5 {
                row += 1;
                x = 0.0;
            }
            placed.push((key, row, x));
            x += if many { column } else { w + GAP };
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
                Swatch::Area(color, alpha, pattern) => {
                    let r = Rect::new(x, y - 15.0, SWATCH_W, 30.0);
                    c.fill_rect(r, color, alpha);
                    let xs = [r.x, r.right()];
                    hatch::paint(
                        c,
                        &xs,
                        &[r.y; 2],
                        &[r.bottom(); 2],
                        pattern,
                        shade(color, alpha),
                    );
                    c.frame(r, Pen::new(GREY, 1.5));
                }
            }
            c.text_mid(&key.label, (x + SWATCH_W + PAD, y), Type::new(TEXT));
        }
    }
}

fn key_width(key: &Key, width: f64) -> f64 {
    (SWATCH_W + PAD + font::width(&key.label, TEXT, false)).min(width)
}
