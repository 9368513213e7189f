//! PNG from SVG: one drawing path, the bundled typeface only.

use super::error::OutputError;
use super::font;
use resvg::{tiny_skia, usvg};

/// Renders an SVG text at its own size, one pixel per unit.
///
/// # Errors
/// [`OutputError::Drawing`] when the text is no SVG or too large to render.
pub fn svg_to_png(svg: &str) -> Result<Vec<u8>, OutputError> {
    let fail = |reason: String| OutputError::Drawing {
        name: "png".into(),
        reason,
    };
    let options = usvg::Options {
        fontdb: font::database(),
        font_family: "DejaVu Sans".into(),
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_str(svg, &options).map_err(|e| fail(e.to_string()))?;
    let size = tree.size().to_int_size();
    let mut pixels = tiny_skia::Pixmap::new(size.width(), size.height())
        .ok_or_else(|| fail("the picture has no area".into()))?;
    resvg::render(&tree, tiny_skia::Transform::default(), &mut pixels.as_mut());
    pixels.encode_png().map_err(|e| fail(e.to_string()))
}
