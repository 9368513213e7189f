//! Raw mirror: fuel, lighting, feeding, firebox, layers of a wall.

use super::types::{
    Area, At, Conductivity, Count, Density, Energy, Fraction, HeatingValue, Length, List, Mass,
    Number, Q, SpecificHeat, Temperature, Text, Time, UntilWords, Word, WordOr, words,
};
use schemars::JsonSchema;
use serde::Deserialize;

words!(
    /// Basis of a moisture content.
    Basis { Wet = "wet", Dry = "dry" }
);
words!(
    /// Basis of a heating value.
    HeatBasis { Net = "net", Gross = "gross" }
);
words!(
    /// Cross-section of a stick.
    Shape { Round = "round", Square = "square" }
);
words!(
    /// How the firebox is fed.
    RawFireboxKind { FeedTube = "feed tube", Door = "door", DownDraught = "down-draught" }
);

/// The wood: a species of the table, or own figures. Own figures also override single ones of a species.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawFuel {
    /// Species of the table (maple, birch, spruce, ...); without it all own figures must be given.
    pub species: Option<At<Text>>,
    /// Name of a wood with own figures.
    pub name: Option<At<Text>>,
    /// Water content as burnt, on the basis that `moisture_basis` names.
    #[schemars(required, extend("x-min" = "0 %", "x-max" = "150 %"))]
    pub moisture: Option<At<Q<Fraction>>>,
    /// wet: water per kilogram of moist wood; dry: water per kilogram of dry wood, as many firewood meters show it.
    #[schemars(required)]
    pub moisture_basis: Option<At<Word<Basis>>>,
    /// Carbon, share of dry ash-free wood.
    #[schemars(extend("x-min" = "40 %", "x-max" = "60 %"))]
    pub carbon: Option<At<Q<Fraction>>>,
    /// Hydrogen, share of dry ash-free wood.
    #[schemars(extend("x-min" = "4 %", "x-max" = "8 %"))]
    pub hydrogen: Option<At<Q<Fraction>>>,
    /// Oxygen, share of dry ash-free wood.
    #[schemars(extend("x-min" = "30 %", "x-max" = "50 %"))]
    pub oxygen: Option<At<Q<Fraction>>>,
    /// Nitrogen, share of dry ash-free wood.
    #[schemars(extend("x-min" = "0 %", "x-max" = "3 %"))]
    pub nitrogen: Option<At<Q<Fraction>>>,
    /// Ash, share of dry wood.
    #[schemars(extend("x-min" = "0 %", "x-max" = "10 %"))]
    pub ash: Option<At<Q<Fraction>>>,
    /// Oven-dry density.
    #[schemars(extend("x-min" = "150 kg/m3", "x-max" = "1200 kg/m3"))]
    pub density: Option<At<Q<Density>>>,
    /// Char left per dry wood that the char front has passed.
    #[schemars(extend("x-min" = "5 %", "x-max" = "40 %"))]
    pub char_yield: Option<At<Q<Fraction>>>,
    /// Heating value of dry wood; without it, it follows from the composition.
    #[schemars(extend("x-min" = "12 MJ/kg", "x-max" = "26 MJ/kg"))]
    pub heating_value: Option<At<Q<HeatingValue>>>,
    /// Whether `heating_value` is net (lower) or gross (higher).
    pub heating_value_basis: Option<At<Word<HeatBasis>>>,
    /// The pieces that are fed.
    #[schemars(required)]
    pub stick: Option<At<RawStick>>,
}

/// A piece of wood.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawStick {
    /// Cross-section.
    pub shape: Option<At<Word<Shape>>>,
    /// Diameter, or side of the square.
    #[schemars(required, extend("x-min" = "3 mm", "x-max" = "400 mm"))]
    pub thickness: Option<At<Q<Length>>>,
    /// Length of the piece.
    #[schemars(required, extend("x-min" = "30 mm", "x-max" = "2 m"))]
    pub length: Option<At<Q<Length>>>,
}

/// How the fire is lit.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawLighting {
    /// Mass of kindling, moist; zero: the fire is never lit.
    #[schemars(required, extend("x-min" = "0 kg", "x-max" = "20 kg"))]
    pub kindling: Option<At<Q<Mass>>>,
    /// Thickness of the kindling.
    #[schemars(extend("x-min" = "1 mm", "x-max" = "60 mm"))]
    pub thickness: Option<At<Q<Length>>>,
    /// Moisture of the kindling, on the basis that `fuel.moisture_basis` names.
    #[schemars(extend("x-min" = "0 %", "x-max" = "60 %"))]
    pub moisture: Option<At<Q<Fraction>>>,
    /// Gross energy of paper or firelighter.
    #[schemars(extend("x-min" = "0 MJ", "x-max" = "20 MJ"))]
    pub starter: Option<At<Q<Energy>>>,
    /// Time over which the starter burns.
    #[schemars(extend("x-min" = "10 s", "x-max" = "20 min"))]
    pub starter_burns: Option<At<Q<Time>>>,
}

/// All ways of feeding add up.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawFeeding {
    /// Single feeds.
    pub list: Option<At<List<At<RawFeed>>>>,
    /// Repeated feeds.
    pub every: Option<At<List<At<RawEvery>>>>,
    /// Feeds when something is seen at the stove.
    pub rules: Option<At<List<At<RawFeedRule>>>>,
    /// How long the door stands open at each visit (door firebox only).
    #[schemars(extend("x-min" = "0 s", "x-max" = "10 min"))]
    pub door_open: Option<At<Q<Time>>>,
}

/// One feed.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawFeed {
    /// Time since lighting.
    #[schemars(required, extend("x-min" = "0 s", "x-max" = "7 d"))]
    pub at: Option<At<Q<Time>>>,
    /// Moist mass added.
    #[schemars(required, extend("x-min" = "1 g", "x-max" = "200 kg"))]
    pub add: Option<At<Q<Mass>>>,
    /// Thickness of these pieces, where it differs from `fuel.stick.thickness`.
    #[schemars(extend("x-min" = "3 mm", "x-max" = "400 mm"))]
    pub thickness: Option<At<Q<Length>>>,
}

/// A feed that repeats.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawEvery {
    /// First time, since lighting.
    #[schemars(extend("x-min" = "0 s", "x-max" = "7 d"))]
    pub from: Option<At<Q<Time>>>,
    /// Time from feed to feed.
    #[schemars(required, extend("x-min" = "10 s", "x-max" = "2 d"))]
    pub interval: Option<At<Q<Time>>>,
    /// Moist mass added each time.
    #[schemars(required, extend("x-min" = "1 g", "x-max" = "200 kg"))]
    pub add: Option<At<Q<Mass>>>,
    /// target, end, or a time since lighting.
    pub until: Option<At<WordOr<UntilWords>>>,
}

/// A tending rule; exactly one of `bed_below` and `chamber_below`.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawFeedRule {
    /// Feed when the moist wood not yet charred falls under this.
    #[schemars(extend("x-min" = "0 kg", "x-max" = "100 kg"))]
    pub bed_below: Option<At<Q<Mass>>>,
    /// Feed when the chamber falls under this temperature.
    #[schemars(extend("x-min" = "50 degC", "x-max" = "1300 degC"))]
    pub chamber_below: Option<At<Q<Temperature>>>,
    /// Moist mass added each time.
    #[schemars(required, extend("x-min" = "1 g", "x-max" = "200 kg"))]
    pub add: Option<At<Q<Mass>>>,
    /// Shortest time between two visits that the person accepts.
    #[schemars(required, extend("x-min" = "30 s", "x-max" = "1 d"))]
    pub not_within: Option<At<Q<Time>>>,
    /// The rule sleeps before this time.
    #[schemars(extend("x-min" = "0 s", "x-max" = "7 d"))]
    pub from: Option<At<Q<Time>>>,
    /// target, end, or a time since lighting.
    pub until: Option<At<WordOr<UntilWords>>>,
}

/// Where the wood burns.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawFirebox {
    /// feed tube: sticks stand in an open mouth through which the air also comes; door: logs lie behind a shut door; down-draught: logs lie behind
    /// a shut door on a bed of embers, and the flames are drawn down through it into the first section, where they burn out.
    #[schemars(required)]
    pub kind: Option<At<Word<RawFireboxKind>>>,
    /// Inside width.
    #[schemars(required, extend("x-min" = "40 mm", "x-max" = "2 m"))]
    pub width: Option<At<Q<Length>>>,
    /// Inside depth.
    #[schemars(required, extend("x-min" = "40 mm", "x-max" = "2 m"))]
    pub depth: Option<At<Q<Length>>>,
    /// Inside height, from the hearth to where the gas leaves (down-draught: to its top; the gas leaves by the hearth).
    #[schemars(required, extend("x-min" = "40 mm", "x-max" = "3 m"))]
    pub height: Option<At<Q<Length>>>,
    /// Feed mouth, or door opening.
    #[schemars(required)]
    pub mouth: Option<At<RawMouth>>,
    /// Share of the mouth that a brick or plate covers (feed tube only; a door is shut between feeds).
    #[schemars(extend("x-min" = "0 %", "x-max" = "99 %"))]
    pub mouth_cover: Option<At<Q<Fraction>>>,
    /// Air inlets besides the mouth, fully open.
    #[schemars(extend("x-min" = "0 cm2", "x-max" = "1 m2"))]
    pub air_inlet: Option<At<Q<Area>>>,
    /// Share of `air_inlet` that opens over the fire, into the flames, instead of below or beside the wood. The embers get little of it: they
    /// last, and the wood burns slower. A shut door leaks at the same heights. Down-draught: opens into the flames below the embers, and the
    /// wood burns as fast as the rest of the air lets it.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub air_over: Option<At<Q<Fraction>>>,
    /// Velocity heads lost at inlet and mouth together, on their free area.
    #[schemars(extend("x-min" = "0.1", "x-max" = "50"))]
    pub inlet_loss: Option<At<Q<Number>>>,
    /// Length of each stick that lies in the fire (feed tube only).
    #[schemars(extend("x-min" = "20 mm", "x-max" = "2 m"))]
    pub burning_length: Option<At<Q<Length>>>,
    /// Grate, brick and ash under the embers that heat and cool with them.
    #[schemars(extend("x-min" = "0.1 kg", "x-max" = "500 kg"))]
    pub hearth_mass: Option<At<Q<Mass>>>,
    /// Layers of the wall, from the fire outwards.
    #[schemars(required, extend("minItems" = 1, "maxItems" = 8))]
    pub wall: Option<At<List<At<RawLayer>>>>,
    /// Share of the wall's outside that stands in the water of the [drum], or without one of the [store], while that is full: a stove submerged
    /// in its tub; or, where drum or store stand on the firebox, their bottom over the fire. It heats that water.
    #[schemars(extend("x-min" = "1 %", "x-max" = "98 %"))]
    pub in_water: Option<At<Q<Fraction>>>,
    /// Layers of the part that stands in the water, from the fire outwards; built as `wall` unless given. A store of sheet over a fire in brick.
    #[schemars(extend("minItems" = 1, "maxItems" = 8))]
    pub wet_wall: Option<At<List<At<RawLayer>>>>,
    /// Layers of the shut door, from the fire outwards, over the whole of its opening (door only).
    #[schemars(extend("minItems" = 1, "maxItems" = 8))]
    pub door: Option<At<List<At<RawLayer>>>>,
}

/// An opening: width and depth (feed tube) or width and height (door), or its area.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawMouth {
    /// Width of the opening.
    #[schemars(extend("x-min" = "20 mm", "x-max" = "2 m"))]
    pub width: Option<At<Q<Length>>>,
    /// Depth of a feed mouth.
    #[schemars(extend("x-min" = "20 mm", "x-max" = "2 m"))]
    pub depth: Option<At<Q<Length>>>,
    /// Height of a door opening.
    #[schemars(extend("x-min" = "20 mm", "x-max" = "2 m"))]
    pub height: Option<At<Q<Length>>>,
    /// Area, instead of the two sides.
    #[schemars(extend("x-min" = "4 cm2", "x-max" = "2 m2"))]
    pub area: Option<At<Q<Area>>>,
}

/// One layer of a wall: a material of the table, or own figures; own figures override single ones of the table.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawLayer {
    /// Name of the material.
    #[schemars(required)]
    pub material: Option<At<Text>>,
    /// Thickness.
    #[schemars(required, extend("x-min" = "0.1 mm", "x-max" = "2 m"))]
    pub thickness: Option<At<Q<Length>>>,
    /// Thermal conductivity, held constant.
    #[schemars(extend("x-min" = "0.005 W/mK", "x-max" = "500 W/mK"))]
    pub conductivity: Option<At<Q<Conductivity>>>,
    /// Density.
    #[schemars(extend("x-min" = "0.5 kg/m3", "x-max" = "20000 kg/m3"))]
    pub density: Option<At<Q<Density>>>,
    /// Specific heat, held constant.
    #[schemars(extend("x-min" = "100 J/kgK", "x-max" = "5000 J/kgK"))]
    pub heat_capacity: Option<At<Q<SpecificHeat>>>,
    /// Total hemispherical emissivity; only of the first and the last layer.
    #[schemars(extend("x-min" = "0.02", "x-max" = "1"))]
    pub emissivity: Option<At<Q<Fraction>>>,
    /// Service limit, above which the run warns.
    #[schemars(extend("x-min" = "40 degC", "x-max" = "2000 degC"))]
    pub limit: Option<At<Q<Temperature>>>,
    /// Free water in its pores at lighting, of its dry mass: it warms with the wall, boils off and leaves as vapour. Left out: dry.
    /// Brick laid in mortar some days ago has some 5 %, a fresh castable 6 %, clay laid a week ago 10 to 20 % (common practice).
    #[schemars(extend("x-min" = "0 %", "x-max" = "30 %"))]
    pub moisture: Option<At<Q<Fraction>>>,
}

/// Cells along something.
pub type Cells = Option<At<Count>>;
