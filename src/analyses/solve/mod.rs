//! Questions to a scenario that one burn does not answer: which value meets a target ([`size`]), which feed plan is ready in
//! time ([`plan`]), which values trade one aim for another ([`trade`]), which values matter ([`sensitivity`]).

pub mod plan;
pub mod sensitivity;
pub mod size;
pub mod trade;

use super::study::Base;
use crate::results::Summary;
use crate::results::figures::Figure;

/// Path and value of scenario keys.
pub type Sets = Vec<(String, String)>;

/// What a result should be, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goal {
    Meet(f64),
    AtLeast(f64),
    AtMost(f64),
}

/// A result and what it should be.
#[derive(Debug, Clone, Copy)]
pub struct Want {
    pub figure: &'static Figure,
    pub goal: Goal,
}

impl Want {
    /// By how much the result misses the goal; 0 where it keeps it, endless where there is no result.
    pub fn miss(&self, summary: &Summary) -> f64 {
        let Some(v) = self.figure.of(summary) else {
            return f64::INFINITY;
        };
        match self.goal {
            Goal::Meet(g) => (v - g).abs(),
            Goal::AtLeast(g) => (g - v).max(0.0),
            Goal::AtMost(g) => (v - g).max(0.0),
        }
    }

    /// The level that it speaks of.
    pub fn level(&self) -> f64 {
        match self.goal {
            Goal::Meet(g) | Goal::AtLeast(g) | Goal::AtMost(g) => g,
        }
    }
}

/// The result for a search: a target not reached counts as the whole time that was waited.
pub fn searched(figure: &Figure, summary: &Summary) -> f64 {
    match figure.of(summary) {
        Some(v) => v,
        None if figure.key == "time_to_target_s" => summary.end_s,
        None => f64::NAN,
    }
}

/// One burn of the base, its problems as text.
fn burnt(base: &Base, sets: &Sets) -> Result<Summary, String> {
    base.run(sets).map_err(|e| e.to_string())
}
