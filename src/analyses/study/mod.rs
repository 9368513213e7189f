//! Studies: many burns of one scenario with some of its values varied.
//!
//! [`Axis`] reads what is varied and over which values; [`Base`] is the scenario, and turns a point's values into a summary,
//! whose figures [`crate::results::figures`] gives by name.

mod axis;
mod base;
mod decimal;

pub use axis::{Axis, AxisError, Level, MOST_STEPS, Span};
pub use base::{Base, PointError};
pub use decimal::Decimal;
