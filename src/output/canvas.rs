//! A drawing sheet in pixels on top of the SVG back end of the plotting library.
//!
//! The back end knows whole pixels only and guesses text heights; here coordinates are `f64`, drawn on a
//! grid four times finer and scaled back by the view box, and text is placed by its base line.

use super::error::OutputError;
use super::font;
use super::style::{Dash, INK, Marker, PAPER, Rgb, SOLID};
use plotters::prelude::{DrawingBackend, RGBAColor, SVGBackend, ShapeStyle};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontDesc, FontFamily, FontStyle, FontTransform, TextStyle};

/// Grid points per pixel.
const FINE: f64 = 4.0;
/// The back end prints `size / 1.24` as font size and lowers text anchored on top by 0.76 of that.
const BACKEND_SIZE: f64 = 1.24;
const BACKEND_DROP: f64 = 0.76;
/// Half the height of a capital letter, in em, of the bundled typeface (1493 / 2048 / 2).
pub const HALF_CAP: f64 = 0.3645;

/// The words of a drawing error.
fn message(e: impl std::error::Error) -> String {
    e.to_string()
}

/// A point in pixels, y downwards.
pub type Px = (f64, f64);

/// An upright rectangle in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    pub x: f64,
    pub y: f64,
    pub w: f64,
    pub h: f64,
}

impl Rect {
    pub fn new(x: f64, y: f64, w: f64, h: f64) -> Self {
        Self { x, y, w, h }
    }
    pub fn right(&self) -> f64 {
        self.x + self.w
    }
    pub fn bottom(&self) -> f64 {
        self.y + self.h
    }
    /// Grown by `by` on all sides.
    pub fn grown(&self, by: f64) -> Self {
        Self::new(
            self.x - by,
            self.y - by,
            self.w + 2.0 * by,
            self.h + 2.0 * by,
        )
    }
    pub fn holds(&self, (x, y): Px) -> bool {
        x >= self.x && x <= self.right() && y >= self.y && y <= self.bottom()
    }
    pub fn meets(&self, o: &Rect) -> bool {
        self.x < o.right() && o.x < self.right() && self.y < o.bottom() && o.y < self.bottom()
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// How a text is set.
#[derive(Debug, Clone, Copy)]
pub struct Type {
    pub size: f64,
    pub bold: bool,
    pub color: Rgb,
    pub anchor: Anchor,
}

impl Type {
    pub fn new(size: f64) -> Self {
        Self {
            size,
            bold: false,
            color: INK,
            anchor: Anchor::Start,
        }
    }
    pub fn bold(mut self) -> Self {
        self.bold = true;
        self
    }
    pub fn color(mut self, color: Rgb) -> Self {
        self.color = color;
        self
    }
    pub fn anchor(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy)]
pub struct Pen {
    pub color: Rgb,
    pub alpha: f64,
    pub width: f64,
    pub dash: Dash,
}

impl Pen {
    pub fn new(color: Rgb, width: f64) -> Self {
        Self {
            color,
            alpha: 1.0,
            width,
            dash: SOLID,
        }
    }
    pub fn dash(mut self, dash: Dash) -> Self {
        self.dash = dash;
        self
    }
    pub fn alpha(mut self, alpha: f64) -> Self {
        self.alpha = alpha;
        self
    }
}

/// The sheet.
pub struct Canvas<'a> {
    svg: SVGBackend<'a>,
    failed: Option<String>,
}

/// Draws a picture of `width` x `height` pixels and returns it as SVG text.
///
/// `title` and `desc` go into the file for screen readers.
///
/// # Errors
/// [`OutputError::Drawing`] when the back end refuses an element.
pub fn draw(
    name: &str,
    (width, height): (f64, f64),
    (title, desc): (&str, &str),
    paint: impl FnOnce(&mut Canvas),
) -> Result<String, OutputError> {
    let (w, h) = (width.ceil(), height.ceil());
    let mut text = String::new();
    let failed = {
        let svg = SVGBackend::with_string(&mut text, ((w * FINE) as u32, (h * FINE) as u32));
        let mut canvas = Canvas { svg, failed: None };
        canvas.fill_rect(Rect::new(0.0, 0.0, w, h), PAPER, 1.0);
        paint(&mut canvas);
        if let Err(e) = canvas.svg.present() {
            canvas.note(message(e));
        }
        canvas.failed
    };
    if let Some(reason) = failed {
        return Err(OutputError::Drawing {
            name: name.to_string(),
            reason,
        });
    }
    // The opening tag: real size outside, fine grid inside, round joins (a pointed join would add
    // spikes to a curve), words for screen readers.
    let Some(end) = text.find('>') else {
        return Err(OutputError::Drawing {
            name: name.to_string(),
            reason: "the back end wrote no opening tag".into(),
        });
    };
    let head = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {} {}\" \
         stroke-linejoin=\"round\" role=\"img\">\n<title>{}</title>\n<desc>{}</desc>",
        w * FINE,
        h * FINE,
        escape(title),
        escape(desc)
    );
    text.replace_range(..=end, &head);
    Ok(text)
}

fn escape(s: &str) -> String {
    s.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .chars()
        .filter(|c| !c.is_control())
        .collect()
}

fn fine(v: f64) -> i32 {
    (v * FINE).round() as i32
}

fn style(color: Rgb, alpha: f64, width: f64, filled: bool) -> ShapeStyle {
    ShapeStyle {
        color: RGBAColor(color.0, color.1, color.2, alpha),
        filled,
        stroke_width: (width * FINE).round().max(1.0) as u32,
    }
}

impl Canvas<'_> {
    fn note(&mut self, reason: String) {
        self.failed.get_or_insert(reason);
    }

    /// A line through the points, dashed as the pen says.
    pub fn line(&mut self, points: &[Px], pen: Pen) {
        if pen.dash.is_empty() {
            self.path(points, pen);
        } else {
            for piece in dashes(points, pen.dash) {
                self.path(&piece, pen);
            }
        }
    }

    fn path(&mut self, points: &[Px], pen: Pen) {
        let mut grid: Vec<(i32, i32)> = points.iter().map(|&(x, y)| (fine(x), fine(y))).collect();
        grid.dedup();
        if grid.len() < 2 {
            return;
        }
        let style = style(pen.color, pen.alpha, pen.width, false);
        let done = self.svg.draw_path(grid, &style);
        if let Err(e) = done {
            self.note(message(e));
        }
    }

    /// A filled polygon.
    pub fn fill(&mut self, points: &[Px], color: Rgb, alpha: f64) {
        let mut grid: Vec<(i32, i32)> = points.iter().map(|&(x, y)| (fine(x), fine(y))).collect();
        grid.dedup();
        if grid.len() < 3 {
            return;
        }
        let done = self.svg.fill_polygon(grid, &style(color, alpha, 1.0, true));
        if let Err(e) = done {
            self.note(message(e));
        }
    }

    pub fn fill_rect(&mut self, r: Rect, color: Rgb, alpha: f64) {
        let done = self.svg.draw_rect(
            (fine(r.x), fine(r.y)),
            (fine(r.right()), fine(r.bottom())),
            &style(color, alpha, 1.0, true),
            true,
        );
        if let Err(e) = done {
            self.note(message(e));
        }
    }

    /// The outline of a rectangle.
    pub fn frame(&mut self, r: Rect, pen: Pen) {
        self.line(
            &[
                (r.x, r.y),
                (r.right(), r.y),
                (r.right(), r.bottom()),
                (r.x, r.bottom()),
                (r.x, r.y),
            ],
            pen,
        );
    }

    /// A disc (`width` zero) or a ring filled with paper.
    pub fn circle(&mut self, (x, y): Px, radius: f64, pen: Pen, hollow: bool) {
        let at = (fine(x), fine(y));
        let r = fine(radius).max(1) as u32;
        let fill = if hollow { PAPER } else { pen.color };
        let mut done = self
            .svg
            .draw_circle(at, r, &style(fill, pen.alpha, 1.0, true), true);
        if hollow && done.is_ok() {
            done =
                self.svg
                    .draw_circle(at, r, &style(pen.color, pen.alpha, pen.width, false), false);
        }
        if let Err(e) = done {
            self.note(message(e));
        }
    }

    /// Text with its base line at `y`.
    pub fn text(&mut self, text: &str, (x, y): Px, look: Type) {
        let y = y - BACKEND_DROP * look.size;
        self.set(text, (x, y), look, FontTransform::None);
    }

    /// Text centred vertically on `y`.
    pub fn text_mid(&mut self, text: &str, (x, y): Px, look: Type) {
        self.text(text, (x, y + HALF_CAP * look.size), look);
    }

    /// Text turned a quarter, its middle at the point; reads upwards, or downwards with `down`.
    pub fn text_turned(&mut self, text: &str, (x, y): Px, look: Type, down: bool) {
        let shift = (BACKEND_DROP - HALF_CAP) * look.size;
        let (x, turn) = if down {
            (x + shift, FontTransform::Rotate90)
        } else {
            (x - shift, FontTransform::Rotate270)
        };
        self.set(text, (x, y), look.anchor(Anchor::Middle), turn);
    }

    fn set(&mut self, text: &str, (x, y): Px, look: Type, turn: FontTransform) {
        if text.trim().is_empty() {
            return;
        }
        let weight = if look.bold {
            FontStyle::Bold
        } else {
            FontStyle::Normal
        };
        let font = FontDesc::new(
            FontFamily::Name(font::FAMILY),
            look.size * FINE * BACKEND_SIZE,
            weight,
        )
        .transform(turn);
        let h_pos = match look.anchor {
            Anchor::Start => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::End => HPos::Right,
        };
        let style = TextStyle {
            font,
            color: RGBAColor(look.color.0, look.color.1, look.color.2, 1.0).to_backend_color(),
            pos: Pos::new(h_pos, VPos::Top),
        };
        let clean: String = text.chars().filter(|c| !c.is_control()).collect();
        let done = self.svg.draw_text(&clean, &style, (fine(x), fine(y)));
        if let Err(e) = done {
            self.note(message(e));
        }
    }

    /// A marker of about 2 `r` across, with a rim of paper so that it stands out from its line.
    pub fn marker(&mut self, (x, y): Px, shape: Marker, color: Rgb, r: f64) {
        let polygon = |k: f64| -> Vec<Px> {
            let r = r * k;
            match shape {
                Marker::Square | Marker::HollowSquare => {
                    let a = 0.88 * r;
                    vec![
                        (x - a, y - a),
                        (x + a, y - a),
                        (x + a, y + a),
                        (x - a, y + a),
                    ]
                }
                Marker::Triangle | Marker::HollowTriangle => vec![
                    (x, y - 1.15 * r),
                    (x + 1.05 * r, y + 0.75 * r),
                    (x - 1.05 * r, y + 0.75 * r),
                ],
                Marker::TriangleDown => vec![
                    (x, y + 1.15 * r),
                    (x + 1.05 * r, y - 0.75 * r),
                    (x - 1.05 * r, y - 0.75 * r),
                ],
                _ => vec![
                    (x, y - 1.25 * r),
                    (x + 1.1 * r, y),
                    (x, y + 1.25 * r),
                    (x - 1.1 * r, y),
                ],
            }
        };
        match shape {
            Marker::None => {}
            Marker::Circle => {
                self.circle((x, y), r + 2.0, Pen::new(PAPER, 1.0), false);
                self.circle((x, y), r, Pen::new(color, 1.0), false);
            }
            Marker::HollowCircle => self.circle((x, y), r, Pen::new(color, 3.5), true),
            Marker::Cross => {
                let a = 0.9 * r;
                for pen in [Pen::new(PAPER, 8.0), Pen::new(color, 4.5)] {
                    self.line(&[(x - a, y - a), (x + a, y + a)], pen);
                    self.line(&[(x - a, y + a), (x + a, y - a)], pen);
                }
            }
            Marker::HollowSquare | Marker::HollowTriangle | Marker::HollowDiamond => {
                let mut p = polygon(1.0);
                self.fill(&p, PAPER, 1.0);
                p.push(p[0]);
                self.line(&p, Pen::new(color, 3.5));
            }
            _ => {
                self.fill(&polygon(1.25), PAPER, 1.0);
                self.fill(&polygon(1.0), color, 1.0);
            }
        }
    }

    /// A straight arrow with a filled head at `to`.
    pub fn arrow(&mut self, from: Px, to: Px, color: Rgb, width: f64) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = dx.hypot(dy);
        if length < 1.0 {
            return;
        }
        let (ux, uy) = (dx / length, dy / length);
        let head = (4.5 * width).min(length);
        let base = (to.0 - ux * head, to.1 - uy * head);
        self.line(&[from, base], Pen::new(color, width));
        let half = 0.45 * head;
        self.fill(
            &[
                to,
                (base.0 - uy * half, base.1 + ux * half),
                (base.0 + uy * half, base.1 - ux * half),
            ],
            color,
            1.0,
        );
    }
}

/// Cuts a line into the "on" pieces of a dash pattern.
fn dashes(points: &[Px], pattern: &[f64]) -> Vec<Vec<Px>> {
    let mut out = Vec::new();
    let (mut index, mut left) = (0usize, pattern[0]);
    let mut piece: Vec<Px> = points.first().map(|&p| vec![p]).unwrap_or_default();
    for pair in points.windows(2) {
        let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
        let length = (x1 - x0).hypot(y1 - y0);
        let mut done = 0.0;
        while length - done > left {
            done += left;
            let s = done / length;
            let at = (x0 + (x1 - x0) * s, y0 + (y1 - y0) * s);
            if index % 2 == 0 {
                piece.push(at);
                out.push(std::mem::take(&mut piece));
            } else {
                piece = vec![at];
            }
            index = (index + 1) % pattern.len();
            left = pattern[index];
        }
        left -= length - done;
        if index % 2 == 0 {
            piece.push((x1, y1));
        }
    }
    if index % 2 == 0 && piece.len() > 1 {
        out.push(piece);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_dashes_cover_their_share_of_the_line() {
        let pieces = dashes(&[(0.0, 0.0), (60.0, 0.0), (60.0, 40.0)], &[10.0, 10.0]);
        let on: f64 = pieces
            .iter()
            .flat_map(|p| p.windows(2))
            .map(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1))
            .sum();
        assert_eq!(pieces.len(), 5);
        assert!((on - 50.0).abs() < 1e-9);
    }

    #[test]
    fn behaves_markup_in_words_is_escaped() {
        let svg = draw("x", (100.0, 50.0), ("a<b & c", "d"), |c| {
            c.text("1 < 2 & \"3\"", (5.0, 20.0), Type::new(12.0));
        })
        .unwrap_or_default();
        assert!(svg.contains("a&lt;b &amp; c") && svg.contains("1 &lt; 2 &amp;"));
        assert!(svg.starts_with("<svg xmlns"));
    }
}
