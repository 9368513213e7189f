//! Studies: many burns of one scenario with some of its values varied.
//!
//! [`Axis`] reads what is varied and over which values; [`Base`] is the scenario, and turns a point's values into a summary,
//! whose figures [`crate::results::figures`] gives by name. [`Study`] puts axes together to points, [`run_points`] runs them.

mod axis;
mod base;
mod decimal;
mod design;
mod run;

pub use axis::{Axis, AxisError, Level, MOST_STEPS, Span};
pub use base::{Base, PointError};
pub use decimal::Decimal;
pub use design::{Design, MOST_POINTS, Study, StudyError};
pub use run::{run_point, run_points};
