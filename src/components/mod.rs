//! The parts of a rig. `spec` describes a rig as plain SI data; the other files turn each part's
//! description into what the network marches through. Parts know properties and correlations,
//! never the file that a rig was read from.

pub mod across;
pub mod bed;
pub mod closed;
mod closures;
mod coil_spec;
pub mod drying;
pub mod embers;
pub mod gas_path;
pub mod immersed;
pub mod jacket;
mod octaves;
pub mod outside_table;
pub mod priors;
mod rig_shape;
pub mod spec;
pub mod submerged;
pub mod thermometer;
pub mod tube;
mod tube_film;
mod tube_table;
pub mod vessel;
pub mod wall;
pub mod wall_row;
