//! The screen that a person reads after a burn.

use crate::results::BurnResult;
use crate::units::UnitSystem;

/// Placeholder until the lines are written.
pub fn summary_table(r: &BurnResult, _u: UnitSystem, _color: bool, _width: usize) -> String {
    r.summary.title.clone()
}
