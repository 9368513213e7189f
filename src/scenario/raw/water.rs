//! Raw mirror: loop, pump, store, once-through, bench, draws.

use super::types::{
    Area, At, Conductance, ConductancePerArea, ConductancePerLength, Conductivity, Count, Curve,
    DrawWords, Flag, Fraction, HeatCapacity, HeatCapacityPerLength, Length, List, Mass, Number,
    Power, Pressure, Q, Temperature, Text, Time, Volume, VolumeFlow, Word, WordOr, words,
};
use schemars::JsonSchema;
use serde::Deserialize;

words!(
    /// What drives the loop.
    Drive { Pump = "pump", Thermosyphon = "thermosyphon" }
);
words!(
    /// What the store is.
    StoreKind { Barrel = "barrel", Tank = "tank", Tub = "tub" }
);

/// The loop between coil and store.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawLoop {
    /// pump, or thermosyphon (no pump; heights decide).
    #[schemars(required)]
    pub drive: Option<At<Word<Drive>>>,
    /// Hot side, coil to store.
    #[schemars(required)]
    pub supply: Option<At<RawPipe>>,
    /// Cold side, store to coil.
    #[serde(rename = "return")]
    #[schemars(required)]
    pub ret: Option<At<RawPipe>>,
    /// A valve that keeps the water from flowing backwards.
    pub check_valve: Option<At<Flag>>,
    /// A second way for the coil's water, by gravity to a header tank: it carries the heat when the pump stops.
    pub bypass: Option<At<RawBypass>>,
}

/// A branch beside the loop's own: from a tee at the coil's outlet up to a header tank, and back to a tee at its inlet.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawBypass {
    /// From the coil's outlet up to the header.
    #[schemars(required)]
    pub riser: Option<At<RawPipe>>,
    /// From the header back to the coil's inlet.
    #[serde(rename = "return")]
    #[schemars(required)]
    pub ret: Option<At<RawPipe>>,
    /// A valve that keeps the pump from driving cold water backwards through the header.
    pub check_valve: Option<At<Flag>>,
    /// The header tank.
    #[schemars(required)]
    pub header: Option<At<RawHeader>>,
}

/// A vented tank over the loop. The store below it is then full and shut, and stands under the header's pressure.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawHeader {
    /// Volume of water.
    #[schemars(required, extend("x-min" = "1 L", "x-max" = "10 m3"))]
    pub water: Option<At<Q<Volume>>>,
    /// Depth of the water.
    #[schemars(required, extend("x-min" = "50 mm", "x-max" = "5 m"))]
    pub depth: Option<At<Q<Length>>>,
    /// Height of the header's floor above the hearth floor.
    #[schemars(required, extend("x-min" = "-10 m", "x-max" = "20 m"))]
    pub floor_height: Option<At<Q<Length>>>,
    /// Layers of the water, 1: fully mixed.
    #[schemars(extend("x-min" = "1", "x-max" = "60"))]
    pub layers: Option<At<Count>>,
    /// Temperature at lighting.
    #[schemars(required, extend("x-min" = "0.1 degC", "x-max" = "95 degC"))]
    pub start: Option<At<Q<Temperature>>>,
    /// Loss of walls, floor and lid together to air at rest; or give `insulation`.
    #[schemars(extend("x-min" = "0 W/K", "x-max" = "2000 W/K"))]
    pub loss: Option<At<Q<Conductance>>>,
    /// Insulation all round, from which the loss follows; instead of `loss`.
    pub insulation: Option<At<RawInsulation>>,
    /// What heats with the water.
    pub shell: Option<At<RawShell>>,
    /// Height of the riser's port above the header's floor.
    #[schemars(required, extend("x-min" = "0 mm", "x-max" = "5 m"))]
    pub hot_port: Option<At<Q<Length>>>,
    /// Height of the return's port above the header's floor.
    #[schemars(required, extend("x-min" = "0 mm", "x-max" = "5 m"))]
    pub cold_port: Option<At<Q<Length>>>,
}

/// A pipe or hose.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawPipe {
    /// Length.
    #[schemars(required, extend("x-min" = "10 mm", "x-max" = "200 m"))]
    pub length: Option<At<Q<Length>>>,
    /// Inside diameter.
    #[schemars(required, extend("x-min" = "4 mm", "x-max" = "150 mm"))]
    pub inside: Option<At<Q<Length>>>,
    /// Kind of the table (hose, copper, steel, stainless, pex, each also insulated); gives wall, loss and roughness.
    #[schemars(required)]
    pub kind: Option<At<Text>>,
    /// Velocity heads of bends, valves, entries.
    #[schemars(extend("x-min" = "0", "x-max" = "500"))]
    pub fittings: Option<At<Q<Number>>>,
    /// Loss to the air per metre and kelvin, instead of the table's.
    #[schemars(extend("x-min" = "0 W/mK", "x-max" = "20 W/mK"))]
    pub loss: Option<At<Q<ConductancePerLength>>>,
    /// Heat capacity of the pipe's wall per metre, instead of the table's.
    #[schemars(extend("x-min" = "1 J/mK", "x-max" = "20 kJ/mK"))]
    pub heat_capacity: Option<At<Q<HeatCapacityPerLength>>>,
    /// Roughness of the inside, instead of the table's.
    #[schemars(extend("x-min" = "0 mm", "x-max" = "2 mm"))]
    pub roughness: Option<At<Q<Length>>>,
}

/// The circulator.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawPump {
    /// Speed settings; `controls.pump` picks one by name.
    #[schemars(required, extend("minItems" = 1, "maxItems" = 20))]
    pub settings: Option<At<List<At<RawSetting>>>>,
    /// Velocity heads, on the return pipe's bore, that the stopped pump costs.
    #[schemars(extend("x-min" = "0", "x-max" = "1000"))]
    pub stopped_loss: Option<At<Q<Number>>>,
    /// Share of the electrical power that ends in the water.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub power_to_water: Option<At<Q<Fraction>>>,
}

/// One speed of the pump.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawSetting {
    /// Name of the setting.
    #[schemars(required)]
    pub name: Option<At<Text>>,
    /// Electrical power.
    #[schemars(required, extend("x-min" = "0 W", "x-max" = "3 kW"))]
    pub power: Option<At<Q<Power>>>,
    /// Points [flow, head], from zero flow to zero head.
    #[schemars(required, extend("minItems" = 2, "maxItems" = 50))]
    pub curve: Option<Curve<VolumeFlow, Pressure>>,
    /// Speed as a share of the one that curve and power were taken at: flow goes with it, head with its square, power with
    /// its cube.
    #[schemars(extend("x-min" = "5 %", "x-max" = "150 %"))]
    pub speed: Option<At<Q<Fraction>>>,
}

/// A vessel of water.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawStore {
    /// barrel, tank, or tub (open surface).
    #[schemars(required)]
    pub kind: Option<At<Word<StoreKind>>>,
    /// Volume of water.
    #[schemars(required, extend("x-min" = "1 L", "x-max" = "100 m3"))]
    pub water: Option<At<Q<Volume>>>,
    /// Depth of the water.
    #[schemars(required, extend("x-min" = "50 mm", "x-max" = "10 m"))]
    pub depth: Option<At<Q<Length>>>,
    /// Height of the vessel's floor above the hearth floor.
    #[schemars(required, extend("x-min" = "-10 m", "x-max" = "20 m"))]
    pub floor_height: Option<At<Q<Length>>>,
    /// Layers of the water, 1: fully mixed.
    #[schemars(extend("x-min" = "1", "x-max" = "60"))]
    pub layers: Option<At<Count>>,
    /// Temperature at lighting.
    #[schemars(required, extend("x-min" = "0.1 degC", "x-max" = "95 degC"))]
    pub start: Option<At<Q<Temperature>>>,
    /// Loss of walls, floor and lid together to air at rest (tub: without the open surface); or give `insulation`.
    #[schemars(extend("x-min" = "0 W/K", "x-max" = "2000 W/K"))]
    pub loss: Option<At<Q<Conductance>>>,
    /// Insulation all round, from which the loss follows; instead of `loss`.
    pub insulation: Option<At<RawInsulation>>,
    /// What heats with the water.
    pub shell: Option<At<RawShell>>,
    /// Height of the hot port above the vessel's floor; needed where a [loop] comes to the store.
    #[schemars(extend("x-min" = "0 mm", "x-max" = "10 m"))]
    pub hot_port: Option<At<Q<Length>>>,
    /// Height of the cold port above the vessel's floor; needed where a [loop] comes to the store.
    #[schemars(extend("x-min" = "0 mm", "x-max" = "10 m"))]
    pub cold_port: Option<At<Q<Length>>>,
    /// Height of the port from which water is drawn, above the vessel's floor.
    #[schemars(extend("x-min" = "0 mm", "x-max" = "10 m"))]
    pub draw_port: Option<At<Q<Length>>>,
    /// Tub only: area of the open surface.
    #[schemars(extend("x-min" = "0.05 m2", "x-max" = "50 m2"))]
    pub surface: Option<At<Q<Area>>>,
    /// Tub only: the cover that `controls.cover` puts on.
    pub cover: Option<At<RawCover>>,
    /// Tub only: share of the sky hidden by clouds.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub clouds: Option<At<Q<Fraction>>>,
    /// Tub only: share of the site's wind that the surface feels.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub wind_share: Option<At<Q<Fraction>>>,
    /// The store and its loop are shut in from the air, with an expansion vessel; without this group they are vented. Not for a tub, nor beside a bypass.
    pub closed: Option<At<RawClosed>>,
}

/// A closed loop. All pressures over the air's, at the height of the water's top in the store.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawClosed {
    /// Pressure with all water at 10 degC.
    #[schemars(required, extend("x-min" = "0.1 bar", "x-max" = "6 bar"))]
    pub fill_pressure: Option<At<Q<Pressure>>>,
    /// Whole volume of the expansion vessel, gas and water.
    #[schemars(required, extend("x-min" = "0.1 L", "x-max" = "5 m3"))]
    pub vessel_volume: Option<At<Q<Volume>>>,
    /// Pressure of the vessel's gas before the loop is filled; at most the fill pressure.
    #[schemars(extend("x-min" = "0 bar", "x-max" = "6 bar"))]
    pub vessel_precharge: Option<At<Q<Pressure>>>,
    /// Pressure at which the relief valve opens; above the fill pressure. It sits on the store's top.
    #[schemars(required, extend("x-min" = "0.2 bar", "x-max" = "10 bar"))]
    pub relief_pressure: Option<At<Q<Pressure>>>,
    /// Pressure at which the relief valve shuts again; between fill pressure and relief pressure.
    #[schemars(extend("x-min" = "0.1 bar", "x-max" = "10 bar"))]
    pub reseat_pressure: Option<At<Q<Pressure>>>,
    /// Narrowest flow bore of the relief valve: the smaller of seat and inlet, not the thread's size.
    #[schemars(extend("x-min" = "1 mm", "x-max" = "50 mm"))]
    pub relief_bore: Option<At<Q<Length>>>,
    /// Its discharge coefficient (EN ISO 4126-1), as certified; 0 would pass nothing, 1 is the ideal nozzle.
    #[schemars(extend("x-min" = "0.05", "x-max" = "1"))]
    pub relief_discharge: Option<At<Q<Number>>>,
    /// Pressure at which store or vessel gives way: the run ends there. No figure to rely on.
    #[schemars(extend("x-min" = "0.3 bar", "x-max" = "15 bar"))]
    pub burst_pressure: Option<At<Q<Pressure>>>,
}

/// Insulation of a vessel.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawInsulation {
    /// Material of the table; or give `conductivity`.
    pub material: Option<At<Text>>,
    /// Conductivity, instead of a material.
    #[schemars(extend("x-min" = "0.005 W/mK", "x-max" = "5 W/mK"))]
    pub conductivity: Option<At<Q<Conductivity>>>,
    /// Thickness.
    #[schemars(required, extend("x-min" = "1 mm", "x-max" = "1 m"))]
    pub thickness: Option<At<Q<Length>>>,
}

/// The shell of a vessel: a material of the table with its mass, or a heat capacity.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawShell {
    /// Material of the table.
    pub material: Option<At<Text>>,
    /// Mass that heats with the water.
    #[schemars(extend("x-min" = "0.1 kg", "x-max" = "20 t"))]
    pub mass: Option<At<Q<Mass>>>,
    /// Heat capacity, instead of material and mass.
    #[schemars(extend("x-min" = "0 J/K", "x-max" = "50 MJ/K"))]
    pub heat_capacity: Option<At<Q<HeatCapacity>>>,
}

/// A cover on a tub.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawCover {
    /// Share of the open surface's evaporation and convection that is left under the cover.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub leak: Option<At<Q<Fraction>>>,
    /// Conductance of the cover, air to air.
    #[schemars(required, extend("x-min" = "0.1 W/m2K", "x-max" = "50 W/m2K"))]
    pub conductance: Option<At<Q<ConductancePerArea>>>,
}

/// Water that passes the coil once.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawOnceThrough {
    /// Hot side, coil to the open end.
    #[schemars(required)]
    pub supply: Option<At<RawPipe>>,
    /// Cold side, from the mains or the header tank to the coil.
    #[serde(rename = "return")]
    #[schemars(required)]
    pub ret: Option<At<RawPipe>>,
    /// Temperature of the cold water.
    #[schemars(required, extend("x-min" = "0.1 degC", "x-max" = "60 degC"))]
    pub inlet: Option<At<Q<Temperature>>>,
    /// Pressure of the cold water against the open end.
    #[schemars(required, extend("x-min" = "100 Pa", "x-max" = "10 bar"))]
    pub supply_pressure: Option<At<Q<Pressure>>>,
    /// Velocity heads of the valve, fully open, on the cold pipe's bore.
    #[schemars(extend("x-min" = "0", "x-max" = "100000"))]
    pub valve_loss: Option<At<Q<Number>>>,
}

/// A floor or bench that is warmed.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawBench {
    /// Without a store: water in the bench pipes.
    #[schemars(extend("x-min" = "0.5 L", "x-max" = "2 m3"))]
    pub water: Option<At<Q<Volume>>>,
    /// With a store: flow through the bench pipes.
    #[schemars(extend("x-min" = "0.1 L/min", "x-max" = "200 L/min"))]
    pub flow: Option<At<Q<VolumeFlow>>>,
    /// With a store: temperature to which the flow is mixed down.
    #[schemars(extend("x-min" = "10 degC", "x-max" = "80 degC"))]
    pub supply: Option<At<Q<Temperature>>>,
    /// Conductance from the bench's water to its mass.
    #[schemars(required, extend("x-min" = "1 W/K", "x-max" = "10000 W/K"))]
    pub pipes: Option<At<Q<Conductance>>>,
    /// Heat capacity of the mass; or give `material` and `mass`.
    #[schemars(extend("x-min" = "1 kJ/K", "x-max" = "500 MJ/K"))]
    pub heat_capacity: Option<At<Q<HeatCapacity>>>,
    /// Material of the table.
    pub material: Option<At<Text>>,
    /// Mass of that material.
    #[schemars(extend("x-min" = "1 kg", "x-max" = "500 t"))]
    pub mass: Option<At<Q<Mass>>>,
    /// Temperature of the mass at lighting.
    #[schemars(required, extend("x-min" = "-30 degC", "x-max" = "60 degC"))]
    pub start: Option<At<Q<Temperature>>>,
    /// Loss of the mass to the air.
    #[schemars(required, extend("x-min" = "0 W/K", "x-max" = "5000 W/K"))]
    pub loss: Option<At<Q<Conductance>>>,
    /// With a store: electrical power of the bench pump.
    #[schemars(extend("x-min" = "0 W", "x-max" = "1 kW"))]
    pub pump_power: Option<At<Q<Power>>>,
    /// With a store: the thermostat turns the bench on when its mass is colder.
    #[schemars(extend("x-min" = "-10 degC", "x-max" = "60 degC"))]
    pub on_below: Option<At<Q<Temperature>>>,
    /// With a store: the thermostat turns the bench off when its mass is warmer.
    #[schemars(extend("x-min" = "-10 degC", "x-max" = "60 degC"))]
    pub off_above: Option<At<Q<Temperature>>>,
    /// Without a store: height of the bench pipes above the hearth floor.
    #[schemars(extend("x-min" = "-10 m", "x-max" = "20 m"))]
    pub height: Option<At<Q<Length>>>,
}

/// Water drawn and made up.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawDraw {
    /// target, or a time since lighting: when the first draw begins.
    #[schemars(required)]
    pub from: Option<At<WordOr<DrawWords>>>,
    /// Time from draw to draw; without it the draw happens once.
    #[schemars(extend("x-min" = "10 s", "x-max" = "7 d"))]
    pub every: Option<At<Q<Time>>>,
    /// How long draws repeat, counted from the first.
    #[serde(rename = "for")]
    #[schemars(extend("x-min" = "1 s", "x-max" = "30 d"))]
    pub span: Option<At<Q<Time>>>,
    /// Volume of one draw.
    #[schemars(required, extend("x-min" = "0.1 L", "x-max" = "10 m3"))]
    pub volume: Option<At<Q<Volume>>>,
    /// Flow while drawing.
    #[schemars(required, extend("x-min" = "0.1 L/min", "x-max" = "200 L/min"))]
    pub flow: Option<At<Q<VolumeFlow>>>,
    /// Temperature of the cold water that takes its place.
    #[schemars(required, extend("x-min" = "0.1 degC", "x-max" = "60 degC"))]
    pub cold: Option<At<Q<Temperature>>>,
}
