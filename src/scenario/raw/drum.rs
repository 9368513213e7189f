//! Raw mirror: the drum between fire and coil.

use super::types::{At, Conductance, Count, Flag, Fraction, Length, Q, Temperature, Volume};
use super::water::{RawInsulation, RawShell};
use schemars::JsonSchema;
use serde::Deserialize;

/// Water that the fire heats through stove walls and that a coil takes its heat from (`in = "drum"`). It is open to the air (vented) and boils
/// off when nothing takes its heat; an upright cylinder.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawDrum {
    /// Volume of water.
    #[schemars(required, extend("x-min" = "5 L", "x-max" = "10 m3"))]
    pub water: Option<At<Q<Volume>>>,
    /// Depth of the water.
    #[schemars(required, extend("x-min" = "50 mm", "x-max" = "5 m"))]
    pub depth: Option<At<Q<Length>>>,
    /// Height of the drum's floor above the hearth floor.
    #[schemars(required, extend("x-min" = "-5 m", "x-max" = "20 m"))]
    pub floor_height: Option<At<Q<Length>>>,
    /// Layers of the water, 1: fully mixed.
    #[schemars(extend("x-min" = "1", "x-max" = "30"))]
    pub layers: Option<At<Count>>,
    /// Temperature at lighting.
    #[schemars(required, extend("x-min" = "0.1 degC", "x-max" = "95 degC"))]
    pub start: Option<At<Q<Temperature>>>,
    /// Loss of walls, floor and lid together to air at rest (without the open surface); or give `insulation`.
    #[schemars(extend("x-min" = "0 W/K", "x-max" = "2000 W/K"))]
    pub loss: Option<At<Q<Conductance>>>,
    /// Insulation all round, from which the loss follows; instead of `loss`.
    pub insulation: Option<At<RawInsulation>>,
    /// What heats with the water.
    pub shell: Option<At<RawShell>>,
    /// No lid lies on it: its surface evaporates.
    pub open: Option<At<Flag>>,
    /// Open only: share of the site's wind that the surface feels.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub wind_share: Option<At<Q<Fraction>>>,
}
