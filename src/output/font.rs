//! The one bundled typeface: measuring, breaking and shortening text, and the font set for PNG.
//!
//! DejaVu Sans (free licence, see the `dejavu` package). No font of the machine is looked at, so that
//! a picture has the same bytes everywhere.

use plotters::style::{FontDesc, FontFamily, FontStyle, register_font};
use resvg::usvg::fontdb;
use std::sync::{Arc, OnceLock};

/// Families named in the SVG. The first is bundled; the others stand in where a viewer lacks it
/// (the second has the same widths, the last is commonly narrower, so nothing gets clipped).
pub const FAMILY: &str = "DejaVu Sans, Verdana, sans-serif";

/// (ascent + descent) / em of DejaVu Sans: the drawing library's font size counts this height.
const HEIGHT_PER_EM: f64 = 2384.0 / 2048.0;

static REGISTERED: OnceLock<()> = OnceLock::new();

fn register() {
    REGISTERED.get_or_init(|| {
        // A refused font shows as the fallback width in `width`; the bundled files are well-formed.
        let _ = register_font(FAMILY, FontStyle::Normal, dejavu::sans::regular());
        let _ = register_font(FAMILY, FontStyle::Bold, dejavu::sans::bold());
    });
}

/// Width of `text` in pixels at `size` pixels per em.
pub fn width(text: &str, size: f64, bold: bool) -> f64 {
    register();
    let style = if bold {
        FontStyle::Bold
    } else {
        FontStyle::Normal
    };
    // Measured at 1000 px per em, because the library rounds to whole pixels.
    let font = FontDesc::new(FontFamily::Name(FAMILY), 1000.0 * HEIGHT_PER_EM, style);
    match font.layout_box(text) {
        Ok(((x0, _), (x1, _))) => f64::from(x1 - x0) / 1000.0 * size,
        Err(_) => text.chars().count() as f64 * 0.7 * size,
    }
}

/// `text`, shortened with an ellipsis where it is wider than `max_px`.
pub fn shorten(text: &str, size: f64, bold: bool, max_px: f64) -> String {
    if width(text, size, bold) <= max_px {
        return text.to_string();
    }
    let chars: Vec<char> = text.chars().collect();
    // Widths grow with length, so the longest head that fits can be bisected.
    let fits = |n: usize| {
        let head: String = chars[..n].iter().collect();
        width(&format!("{}…", head.trim_end()), size, bold) <= max_px
    };
    let (mut low, mut high) = (0, chars.len());
    while low < high {
        let mid = (low + high).div_ceil(2);
        if fits(mid) { low = mid } else { high = mid - 1 }
    }
    let head: String = chars[..low].iter().collect();
    format!("{}…", head.trim_end())
}

/// Breaks `text` at blanks into at most `max_lines` lines of `max_px`; the last is shortened if need be.
pub fn wrap(text: &str, size: f64, bold: bool, max_px: f64, max_lines: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    // A no-break space holds a number and its unit together.
    let mut words = text.split(' ').filter(|w| !w.is_empty()).peekable();
    while words.peek().is_some() {
        let mut line = String::new();
        if lines.len() + 1 == max_lines {
            line = words.by_ref().collect::<Vec<_>>().join(" ");
        }
        while let Some(word) = words.peek() {
            let longer = if line.is_empty() {
                (*word).to_string()
            } else {
                format!("{line} {word}")
            };
            if !line.is_empty() && width(&longer, size, bold) > max_px {
                break;
            }
            line = longer;
            words.next();
        }
        lines.push(shorten(&line, size, bold, max_px));
    }
    lines
}

/// The font set handed to the PNG renderer.
pub fn database() -> Arc<fontdb::Database> {
    static DATABASE: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    DATABASE
        .get_or_init(|| {
            let mut db = fontdb::Database::new();
            for face in [dejavu::sans::regular(), dejavu::sans::bold()] {
                db.load_font_source(fontdb::Source::Binary(Arc::new(face)));
            }
            Arc::new(db)
        })
        .clone()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_digit_width_is_that_of_the_typeface() {
        // DejaVu Sans: every digit is 1303 units of 2048 wide (table `hmtx` of the font file).
        for digits in ["0", "1234567890"] {
            let want = digits.len() as f64 * 1303.0 / 2048.0 * 40.0;
            assert!((width(digits, 40.0, false) - want).abs() < 0.1);
        }
    }

    #[test]
    fn behaves_wrap_keeps_within_the_width_and_line_count() {
        let long = "a barrel of water warmed by a very long stove ".repeat(8);
        let lines = wrap(&long, 44.0, true, 1500.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines.iter().all(|l| width(l, 44.0, true) <= 1500.0));
        assert!(lines[1].ends_with('…'));
        assert_eq!(wrap("short", 44.0, true, 1500.0, 2), vec!["short"]);
        let unbroken = "x".repeat(400);
        assert!(width(&wrap(&unbroken, 44.0, true, 1500.0, 2)[0], 44.0, true) <= 1500.0);
    }
}
