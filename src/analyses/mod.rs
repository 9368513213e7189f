//! Whole runs: one burn from a rig. The only place with threads.

pub mod bands;
mod burn;
mod flue_meter;
mod gather;
pub mod hazard;
mod in_a_row;
pub mod methods;
mod schedule;
pub mod season;
mod series_columns;
mod shown;
pub mod solve;
pub mod study;
mod summarise;
mod unburnt_band;
pub mod warnings;
mod watch;
mod working_points;

pub use burn::{BurnOptions, Progress, RunError, burn, burn_watched};
pub use in_a_row::in_a_row;
pub mod drawing;
