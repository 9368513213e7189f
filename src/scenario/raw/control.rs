//! Raw mirror: site, target, stop, controls, closures, solver.

use super::types::{
    At, Count, Fraction, Length, List, Number, OneOrList, PerLength, Q, Speed, Temperature, Text,
    Time, Word, words,
};
use schemars::JsonSchema;
use serde::Deserialize;

words!(
    /// Which temperature is compared with the target.
    RawProbe {
        Mean = "mean",
        Top = "top",
        Bottom = "bottom",
        Outlet = "outlet",
        Tap = "tap",
    }
);
words!(
    /// What ends the run.
    StopWhen { Target = "target", Time = "time" }
);
words!(
    /// What a control rule looks at.
    RawSignal {
        Chamber = "chamber",
        Stack = "stack",
        CoilOutlet = "coil outlet",
        TankTop = "tank top",
        TankMean = "tank mean",
    }
);
words!(
    /// A cover's place.
    OnOff { On = "on", Off = "off" }
);

/// Weather and place.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawSite {
    /// Height above the sea; sets air pressure, and with it draught and boiling point.
    #[schemars(extend("x-min" = "-430 m", "x-max" = "5500 m"))]
    pub altitude: Option<At<Q<Length>>>,
    /// Air temperature, or a list of { at, value } joined by straight lines.
    #[schemars(required, extend("x-min" = "-60 degC", "x-max" = "55 degC"))]
    pub air: Option<At<OneOrList<Q<Temperature>, At<RawAirPoint>>>>,
    /// Wind at the height of the flue's top.
    #[schemars(extend("x-min" = "0 m/s", "x-max" = "30 m/s"))]
    pub wind: Option<At<Q<Speed>>>,
    /// Relative humidity of the air.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub humidity: Option<At<Q<Fraction>>>,
}

/// A bare thermometer in hot gas: colder walls and coils cool it, and it shows less than the gas has.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawThermometer {
    /// Outside diameter of its sheath, or of a bare bead.
    #[schemars(extend("x-min" = "0.2 mm", "x-max" = "30 mm"))]
    pub sheath: Option<At<Q<Length>>>,
    /// Emissivity of the sheath.
    #[schemars(extend("x-min" = "0.02", "x-max" = "1"))]
    pub emissivity: Option<At<Q<Fraction>>>,
    /// How far below or above the coil it sits, along the stream.
    #[schemars(extend("x-min" = "0 mm", "x-max" = "2 m"))]
    pub from_coil: Option<At<Q<Length>>>,
}

/// One point of a temperature that changes.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawAirPoint {
    /// Time since lighting.
    #[schemars(required, extend("x-min" = "0 s", "x-max" = "30 d"))]
    pub at: Option<At<Q<Time>>>,
    /// Air temperature at that time.
    #[schemars(required, extend("x-min" = "-60 degC", "x-max" = "55 degC"))]
    pub value: Option<At<Q<Temperature>>>,
}

/// Which temperature counts as hot.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawTarget {
    /// The temperature to reach.
    #[schemars(required, extend("x-min" = "1 degC", "x-max" = "120 degC"))]
    pub temperature: Option<At<Q<Temperature>>>,
    /// mean: energy mean of the store; top, bottom: its layers; outlet: water leaving the coil; tap: at the draw port.
    pub probe: Option<At<Word<RawProbe>>>,
}

/// When the run ends; at `latest` at the latest.
#[derive(Debug, Default, Deserialize, JsonSchema)]
pub struct RawStop {
    /// target: at the target, or `after_target` later; time: at `latest`.
    pub when: Option<At<Word<StopWhen>>>,
    /// How long the run goes on after the target was reached.
    #[schemars(extend("x-min" = "0 s", "x-max" = "7 d"))]
    pub after_target: Option<At<Q<Time>>>,
    /// Time since lighting at which the run ends in any case.
    #[schemars(extend("x-min" = "10 s", "x-max" = "30 d"))]
    pub latest: Option<At<Q<Time>>>,
}

/// Things that are moved during the burn, at times or by a rule.
#[derive(Debug, Default, Deserialize, JsonSchema)]
pub struct RawControls {
    /// Open share of the damper section.
    pub damper: Option<At<RawShareControl>>,
    /// Open share of mouth and air inlets.
    pub air_inlet: Option<At<RawShareControl>>,
    /// Pump setting by name, or off.
    pub pump: Option<At<RawNameControl>>,
    /// Open share of the once-through valve.
    pub valve: Option<At<RawShareControl>>,
    /// Tub cover: on or off.
    pub cover: Option<At<RawCoverControl>>,
}

/// A control that takes a share from 0 to 100 %.
#[derive(Debug, Default, Deserialize, JsonSchema)]
pub struct RawShareControl {
    /// Position at lighting.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub initial: Option<At<Q<Fraction>>>,
    /// Moves at given times, in order.
    pub moves: Option<At<List<At<RawShareMove>>>>,
    /// Two-point rule.
    pub rule: Option<At<RawShareRule>>,
}

/// A move to a share.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawShareMove {
    /// Time since lighting.
    #[schemars(required, extend("x-min" = "0 s", "x-max" = "30 d"))]
    pub at: Option<At<Q<Time>>>,
    /// New position.
    #[schemars(required, extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub to: Option<At<Q<Fraction>>>,
}

/// Above one temperature take one position, below a lower one the other, between keep.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawShareRule {
    /// What the rule looks at.
    #[schemars(required)]
    pub signal: Option<At<Word<RawSignal>>>,
    /// Upper threshold.
    #[schemars(required, extend("x-min" = "-40 degC", "x-max" = "1400 degC"))]
    pub above: Option<At<Q<Temperature>>>,
    /// Position above the upper threshold.
    #[schemars(required, extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub then: Option<At<Q<Fraction>>>,
    /// Lower threshold.
    #[schemars(required, extend("x-min" = "-40 degC", "x-max" = "1400 degC"))]
    pub below: Option<At<Q<Temperature>>>,
    /// Position below the lower threshold.
    #[serde(rename = "else")]
    #[schemars(required, extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub otherwise: Option<At<Q<Fraction>>>,
    /// The rule sleeps before this time.
    #[schemars(extend("x-min" = "0 s", "x-max" = "30 d"))]
    pub from: Option<At<Q<Time>>>,
}

/// The pump: a setting by name, or off.
#[derive(Debug, Default, Deserialize, JsonSchema)]
pub struct RawNameControl {
    /// Setting at lighting.
    pub initial: Option<At<Text>>,
    /// Moves at given times, in order.
    pub moves: Option<At<List<At<RawNameMove>>>>,
    /// Two-point rule.
    pub rule: Option<At<RawNameRule>>,
}

/// A move to a pump setting.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawNameMove {
    /// Time since lighting.
    #[schemars(required, extend("x-min" = "0 s", "x-max" = "30 d"))]
    pub at: Option<At<Q<Time>>>,
    /// New setting, or off.
    #[schemars(required)]
    pub to: Option<At<Text>>,
}

/// Above one temperature take one setting, below a lower one the other, between keep.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawNameRule {
    /// What the rule looks at.
    #[schemars(required)]
    pub signal: Option<At<Word<RawSignal>>>,
    /// Upper threshold.
    #[schemars(required, extend("x-min" = "-40 degC", "x-max" = "1400 degC"))]
    pub above: Option<At<Q<Temperature>>>,
    /// Setting above the upper threshold.
    #[schemars(required)]
    pub then: Option<At<Text>>,
    /// Lower threshold.
    #[schemars(required, extend("x-min" = "-40 degC", "x-max" = "1400 degC"))]
    pub below: Option<At<Q<Temperature>>>,
    /// Setting below the lower threshold.
    #[serde(rename = "else")]
    #[schemars(required)]
    pub otherwise: Option<At<Text>>,
    /// The rule sleeps before this time.
    #[schemars(extend("x-min" = "0 s", "x-max" = "30 d"))]
    pub from: Option<At<Q<Time>>>,
}

/// The tub's cover.
#[derive(Debug, Default, Deserialize, JsonSchema)]
pub struct RawCoverControl {
    /// Place at lighting.
    pub initial: Option<At<Word<OnOff>>>,
    /// Moves at given times, in order.
    pub moves: Option<At<List<At<RawCoverMove>>>>,
}

/// A move of the cover.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RawCoverMove {
    /// Time since lighting.
    #[schemars(required, extend("x-min" = "0 s", "x-max" = "30 d"))]
    pub at: Option<At<Q<Time>>>,
    /// on or off.
    #[schemars(required)]
    pub to: Option<At<Word<OnOff>>>,
}

/// Multipliers on the closures of the model. They express what is not known well.
#[derive(Debug, Default, Deserialize, JsonSchema)]
pub struct RawClosures {
    /// Free area of mouth and inlets.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub inlet_area: Option<At<Q<Number>>>,
    /// Speed of the char front.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub bed_rate: Option<At<Q<Number>>>,
    /// Burning rate of char.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub char_rate: Option<At<Q<Number>>>,
    /// Mixing time of the flame; larger: a longer flame.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub mixing_time: Option<At<Q<Number>>>,
    /// Relative spread of the local air ratio; an absolute value, not a multiplier.
    #[schemars(extend("x-min" = "0.01", "x-max" = "1"))]
    pub unmixedness: Option<At<Q<Number>>>,
    /// Emissivity of gas and soot.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub emissivity: Option<At<Q<Number>>>,
    /// Soot absorption coefficient where the flame burns; an absolute value.
    #[schemars(extend("x-min" = "0 1/m", "x-max" = "20 1/m"))]
    pub flame_soot: Option<At<Q<PerLength>>>,
    /// Gas-side convection of plain ducts.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub duct_convection: Option<At<Q<Number>>>,
    /// Share of the bank correlation that the turns really see.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub bank_exposure: Option<At<Q<Number>>>,
    /// Water-side convection.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub water_convection: Option<At<Q<Number>>>,
    /// Water-side friction.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub water_friction: Option<At<Q<Number>>>,
    /// Gas-side friction and fittings.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub gas_friction: Option<At<Q<Number>>>,
    /// Outside loss of hot walls.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub casing_loss: Option<At<Q<Number>>>,
    /// Radiation of shell and mouth to the coil.
    #[schemars(extend("x-min" = "0", "x-max" = "20"))]
    pub coil_radiation: Option<At<Q<Number>>>,
    /// Conductance between a wall and a tube wound on its outside.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub contact: Option<At<Q<Number>>>,
    /// Growth of the deposit on coils in the gas and on flues; 0: they stay as they are.
    #[schemars(extend("x-min" = "0", "x-max" = "20"))]
    pub fouling_rate: Option<At<Q<Number>>>,
    /// Evaporation from an open surface.
    #[schemars(extend("x-min" = "0", "x-max" = "20"))]
    pub evaporation: Option<At<Q<Number>>>,
    /// Standing loss of the vessel.
    #[schemars(extend("x-min" = "0", "x-max" = "20"))]
    pub vessel_loss: Option<At<Q<Number>>>,
    /// Mixing of a store whose lower layer is warmer.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub tank_mixing: Option<At<Q<Number>>>,
    /// Air drawn in through leaks, share of mouth and inlet area (of a door: of 15 mm along its joint); an absolute value.
    #[schemars(extend("x-min" = "0 %", "x-max" = "100 %"))]
    pub leakage_share: Option<At<Q<Fraction>>>,
    /// Size of ember pieces; larger: they burn longer.
    #[schemars(extend("x-min" = "0.05", "x-max" = "20"))]
    pub ember_size: Option<At<Q<Number>>>,
    /// Emission of the embers' surface; lower: more ash on them.
    #[schemars(extend("x-min" = "0.05", "x-max" = "1.8"))]
    pub ember_emission: Option<At<Q<Number>>>,
    /// Conductance from embers through ash to the hearth.
    #[schemars(extend("x-min" = "0", "x-max" = "20"))]
    pub hearth_contact: Option<At<Q<Number>>>,
}

/// Numerical settings.
#[derive(Debug, Default, Deserialize, JsonSchema)]
pub struct RawSolver {
    /// Relative tolerance.
    #[schemars(extend("x-min" = "1e-10", "x-max" = "1e-2"))]
    pub rtol: Option<At<Q<Number>>>,
    /// Absolute tolerance, on states scaled to order one.
    #[schemars(extend("x-min" = "1e-12", "x-max" = "1e-2"))]
    pub atol: Option<At<Q<Number>>>,
    /// Multiplies every default cell and layer count.
    #[schemars(extend("x-min" = "1", "x-max" = "8"))]
    pub cell_factor: Option<At<Count>>,
    /// Spacing of the rows of series.csv.
    #[schemars(extend("x-min" = "0.5 s", "x-max" = "1 h"))]
    pub output_interval: Option<At<Q<Time>>>,
    /// Time constant given to the air column.
    #[schemars(extend("x-min" = "0.05 s", "x-max" = "60 s"))]
    pub air_inertia: Option<At<Q<Time>>>,
    /// Time constant given to the flame zone.
    #[schemars(extend("x-min" = "0.05 s", "x-max" = "60 s"))]
    pub flame_inertia: Option<At<Q<Time>>>,
    /// Time constant given to a pumped loop.
    #[schemars(extend("x-min" = "0.05 s", "x-max" = "60 s"))]
    pub pump_inertia: Option<At<Q<Time>>>,
}
