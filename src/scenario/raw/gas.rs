//! Raw mirror: sections of the gas path, coils.

use super::fire::{Cells, RawLayer};
use super::types::{
    At, Conductivity, Count, Curve, Flag, Fraction, Length, List, NameOr, Number, Pressure, Q,
    Text, ThermalResistance, VolumeFlow, Word, words,
};
use super::water::RawInsulation;
use schemars::JsonSchema;
use serde::Deserialize;

words!(
    /// What a section is.
    Part {
        Riser = "riser",
        Mass = "mass",
        Passage = "passage",
        Bend = "bend",
        Damper = "damper",
        Flue = "flue",
        Fan = "fan",
    }
);
words!(
    /// How a coil is wound.
    Form { Helix = "helix", Serpentine = "serpentine", Around = "around", Jacket = "jacket" }
);
words!(
    /// At which end of its section the water enters.
    Enters { GasInlet = "gas inlet", GasOutlet = "gas outlet" }
);

/// One section of the gas path; round by `bore`, rectangular by `width` and `depth`.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawSection {
    /// riser: insulated burn-out duct; mass: masonry bench or bell; passage: where a coil sits; bend: a turn; damper: a
    /// plate that closes, moved by `controls.damper`; flue; fan: with a curve.
    #[schemars(required)]
    pub part: Option<At<Word<Part>>>,
    /// Name that coils and results refer to.
    pub name: Option<At<Text>>,
    /// Inside diameter of a round section.
    #[schemars(extend("x-min" = "30 mm", "x-max" = "2 m"))]
    pub bore: Option<At<Q<Length>>>,
    /// Inside width of a rectangular section.
    #[schemars(extend("x-min" = "30 mm", "x-max" = "3 m"))]
    pub width: Option<At<Q<Length>>>,
    /// Inside depth of a rectangular section.
    #[schemars(extend("x-min" = "30 mm", "x-max" = "3 m"))]
    pub depth: Option<At<Q<Length>>>,
    /// Identical passages of this cross-section side by side that share the gas, as the fire tubes of a boiler.
    #[schemars(extend("x-min" = "1", "x-max" = "200"))]
    pub passages: Option<At<Count>>,
    /// Length along the gas.
    #[schemars(required, extend("x-min" = "10 mm", "x-max" = "30 m"))]
    pub length: Option<At<Q<Length>>>,
    /// Height gained along the section; negative where the gas goes down.
    #[schemars(extend("x-min" = "-30 m", "x-max" = "30 m"))]
    pub rise: Option<At<Q<Length>>>,
    /// Fittings in the section (cap, bends, baffles), velocity heads on its own area; the changes from section to section
    /// follow from their areas.
    #[schemars(extend("x-min" = "0", "x-max" = "100"))]
    pub loss: Option<At<Q<Number>>>,
    /// Roughness of the inner surface.
    #[schemars(extend("x-min" = "0.001 mm", "x-max" = "20 mm"))]
    pub roughness: Option<At<Q<Length>>>,
    /// Layers of the wall, from the gas outwards.
    #[schemars(required, extend("minItems" = 1, "maxItems" = 8))]
    pub wall: Option<At<List<At<RawLayer>>>>,
    /// The outside stands in the water of the [drum], or without one of the [store], as far as that reaches by its height; it heats that water.
    pub in_water: Option<At<Flag>>,
    /// Share of the section's inner surface that is dry, across the gas from `wall` in the water: the brick of a setting around a copper, a skirt
    /// around a pot. It shines at the wet wall.
    #[schemars(extend("x-min" = "2 %", "x-max" = "95 %"))]
    pub dry_share: Option<At<Q<Fraction>>>,
    /// Layers of that dry wall, from the gas outwards.
    #[schemars(extend("minItems" = 1, "maxItems" = 8))]
    pub dry_wall: Option<At<List<At<RawLayer>>>>,
    /// The outside feels the wind.
    pub outdoors: Option<At<Flag>>,
    /// Gas cells along the section; without it, the default for the part.
    #[schemars(extend("x-min" = "1", "x-max" = "200"))]
    pub cells: Cells,
    /// Fan only: points [volume flow, pressure rise], flow rising, pressure falling.
    #[schemars(extend("minItems" = 2))]
    pub curve: Option<Curve<VolumeFlow, Pressure>>,
}

/// One coil, in one section.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawCoil {
    /// Name that results refer to.
    pub name: Option<At<Text>>,
    /// Name of the section that carries it, or "firebox": among the flames; or "drum": in the water of the [drum].
    #[serde(rename = "in")]
    #[schemars(required)]
    pub section: Option<At<Text>>,
    /// helix: axis along the passage; serpentine: straight runs across a rectangular passage, along its width; around: wound
    /// on the outside of the section, touching it along a line; jacket: water between the wall of the section (or of the
    /// firebox) and a shell around it.
    #[schemars(required)]
    pub form: Option<At<Word<Form>>>,
    /// Trade size ("1/2 in type L", "22x1 copper"), or { outside, inside }. All forms but a jacket need it.
    pub tube: Option<At<NameOr<RawTube>>>,
    /// Metal of the tube (copper, stainless steel 304, ...); a trade size knows its own.
    pub metal: Option<At<Text>>,
    /// Length of one tube inside the passage; or give `turns`.
    #[schemars(extend("x-min" = "0.2 m", "x-max" = "100 m"))]
    pub length: Option<At<Q<Length>>>,
    /// Turns of one tube (helix), or runs (serpentine), instead of `length`.
    #[schemars(extend("x-min" = "0.5", "x-max" = "200"))]
    pub turns: Option<At<Q<Number>>>,
    /// Helix: diameter to the tube's centre line.
    #[schemars(extend("x-min" = "40 mm", "x-max" = "2 m"))]
    pub diameter: Option<At<Q<Length>>>,
    /// Distance from tube to tube along the gas, centre to centre.
    #[schemars(extend("x-min" = "5 mm", "x-max" = "500 mm"))]
    pub pitch: Option<At<Q<Length>>>,
    /// gas outlet: counter-flow; gas inlet: the water enters where the gas does.
    pub water_enters: Option<At<Word<Enters>>>,
    /// Share of the passage's cross-section that a round plug inside the helix fills.
    #[schemars(extend("x-min" = "0 %", "x-max" = "90 %"))]
    pub core_plug: Option<At<Q<Fraction>>>,
    /// Identical tubes side by side, sharing the flow.
    #[schemars(extend("x-min" = "1", "x-max" = "20"))]
    pub parallel: Option<At<Count>>,
    /// Distance from the section's gas inlet to the coil's near end, in a drum from its floor to the lowest tube; without it the coil sits in the middle.
    #[schemars(extend("x-min" = "0 mm", "x-max" = "30 m"))]
    pub offset: Option<At<Q<Length>>>,
    /// Deposit on the outside at the start; in a drum, scale.
    #[schemars(extend("x-min" = "0 m2K/W", "x-max" = "0.2 m2K/W"))]
    pub fouling: Option<At<Q<ThermalResistance>>>,
    /// In the firebox: share of the tube's surface that sees the fire; half for a tube against the wall.
    #[schemars(extend("x-min" = "5 %", "x-max" = "100 %"))]
    pub exposed: Option<At<Q<Fraction>>>,
    /// Around: narrowest gap between tube and wall, from roughness, waviness and thermal movement.
    #[schemars(extend("x-min" = "0.01 mm", "x-max" = "5 mm"))]
    pub gap: Option<At<Q<Length>>>,
    /// Around: conductivity of what fills the wedge between tube and wall (solder, heat-conducting cement); without it, air.
    #[schemars(extend("x-min" = "0.1 W/(m K)", "x-max" = "100 W/(m K)"))]
    pub filler: Option<At<Q<Conductivity>>>,
    /// Jacket: clear width between wall and shell.
    #[schemars(extend("x-min" = "5 mm", "x-max" = "300 mm"))]
    pub water_gap: Option<At<Q<Length>>>,
    /// Jacket: what covers its shell.
    pub insulation: Option<At<RawInsulation>>,
    /// Cells along the tube; without it, the default.
    #[schemars(extend("x-min" = "3", "x-max" = "200"))]
    pub cells: Cells,
}

/// Diameters of a tube.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawTube {
    /// Outside diameter.
    #[schemars(required, extend("x-min" = "4 mm", "x-max" = "120 mm"))]
    pub outside: Option<At<Q<Length>>>,
    /// Inside diameter.
    #[schemars(required, extend("x-min" = "2 mm", "x-max" = "118 mm"))]
    pub inside: Option<At<Q<Length>>>,
}
