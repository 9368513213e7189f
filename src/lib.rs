//! Emberloop: heating water with a wood fire, simulated from the lit match to the hot tank.
//!
//! A scenario (TOML) becomes a [`components::spec::Rig`], the rig a [`network`] of nodes that hold energy and
//! links that carry flow, the network a set of ordinary differential equations that [`integrate`] solves, and
//! the solution a [`results::BurnResult`] that [`output`] writes and draws.

pub mod analyses;
pub mod audit;
pub mod cli;
pub mod compare;
pub mod components;
pub mod correlations;
pub mod fit;
pub mod integrate;
pub mod logs;
pub mod network;
pub mod output;
pub mod properties;
pub mod results;
pub mod scenario;
pub mod units;
