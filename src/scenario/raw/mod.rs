//! The scenario file as it is written: a serde mirror with the place of every value.
//!
//! Doc comments of the fields become the descriptions of the JSON Schema and of the reference page;
//! `x-min` and `x-max` are the ranges that the walk over the file enforces.

mod control;
mod drum;
mod fire;
mod gas;
pub(super) mod types;
mod water;

pub(super) use control::*;
pub(super) use drum::*;
pub(super) use fire::*;
pub(super) use gas::*;
pub(super) use water::*;

use schemars::JsonSchema;
use serde::Deserialize;
use types::{At, List, Text};

/// A rig and one burn on it.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(title = "Emberloop scenario")]
pub struct RawScenario {
    /// One line for the person; it stands on every picture.
    #[schemars(required)]
    pub title: Option<At<Text>>,
    /// Weather and place.
    #[schemars(required)]
    pub site: Option<At<RawSite>>,
    /// Which temperature counts as hot.
    pub target: Option<At<RawTarget>>,
    /// When the run ends.
    pub stop: Option<At<RawStop>>,
    /// The wood.
    #[schemars(required)]
    pub fuel: Option<At<RawFuel>>,
    /// How the fire is lit, at time zero.
    #[schemars(required)]
    pub lighting: Option<At<RawLighting>>,
    /// What is put on the fire, and when. All three ways add up.
    pub feeding: Option<At<RawFeeding>>,
    /// Where the wood burns. Its floor, the hearth, is the datum of all heights.
    #[schemars(required)]
    pub firebox: Option<At<RawFirebox>>,
    /// Sections in the order in which the gas passes them, the firebox excluded.
    #[schemars(required, extend("minItems" = 1))]
    pub gas_path: Option<At<List<At<RawSection>>>>,
    /// Coils in the order in which the water passes them.
    pub coil: Option<At<List<At<RawCoil>>>>,
    /// Water between fire and coil: stove walls heat it, the coil takes its heat.
    pub drum: Option<At<RawDrum>>,
    /// The loop between coil and store (or bench).
    #[serde(rename = "loop")]
    pub circuit: Option<At<RawLoop>>,
    /// The circulator of a pumped loop.
    pub pump: Option<At<RawPump>>,
    /// The vessel that is heated.
    pub store: Option<At<RawStore>>,
    /// Cold water passes the coil once and leaves; instead of `loop` and `store`.
    pub once_through: Option<At<RawOnceThrough>>,
    /// A floor or bench warmed from the store, or, without a store, by the loop itself.
    pub bench: Option<At<RawBench>>,
    /// Water drawn from the store and made up with cold water.
    pub draw: Option<At<List<At<RawDraw>>>>,
    /// The thermometer in the gas whose reading is foretold.
    pub thermometer: Option<At<RawThermometer>>,
    /// Things that are moved during the burn.
    pub controls: Option<At<RawControls>>,
    /// Multipliers on the model's closures, for fitting and for bands; 1 unless said.
    pub closures: Option<At<RawClosures>>,
    /// Numerical settings; the physics must not depend on them.
    pub solver: Option<At<RawSolver>>,
}
