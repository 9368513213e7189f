//! A hazard report for people: plain words first, then a table; a timeline for each fault.

mod picture;
mod text;

pub use picture::hazard_svg;
pub use text::{hazard_text, wrap};
