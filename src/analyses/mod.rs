//! Whole runs: one burn from a rig. The only place with threads.

pub mod drawing;
