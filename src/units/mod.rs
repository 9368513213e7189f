//! Quantities as people write them, and their printing.
//!
//! Reading: [`parse`] with a [`Kind`] gives an SI number; `parse_length` and its neighbours give a
//! `uom` quantity, so that a mass never lands where a length is wanted. Printing: [`UnitSystem`] and
//! the `format_*` functions; [`axis`] serves plots.

mod axis;
mod error;
mod format;
mod kind;
mod number;
mod parse;
mod quantity;
mod table;
#[cfg(test)]
mod tests;

pub use axis::{Axis, PlotKind, axis};
pub use error::{Problem, UnitError};
pub use format::*;
pub use kind::Kind;
pub use parse::{Parsed, parse};
pub use quantity::*;
