//! Named multipliers of the closures; priors and reasons in `docs/closures.md`.

use serde::Serialize;

/// Named multipliers on closures, default 1 unless said.
#[derive(Debug, Clone, Serialize)]
pub struct Closures {
    /// Free area of mouth and inlets.
    pub inlet_area: f64,
    /// Speed of the char front.
    pub bed_rate: f64,
    /// Char burning rate.
    pub char_rate: f64,
    /// Mixing time of the flame (larger: longer flame).
    pub mixing_time: f64,
    /// Relative spread of the local air ratio (unmixedness); default 0.25, absolute.
    pub unmixedness: f64,
    /// Gas and soot emissivity.
    pub emissivity: f64,
    /// Soot absorption coefficient where the flame burns, 1/m; default 1.0, absolute.
    pub flame_soot_per_m: f64,
    /// Gas-side convection of plain ducts.
    pub duct_convection: f64,
    /// Share of the bank correlation that the turns really see.
    pub bank_exposure: f64,
    /// Water-side convection.
    pub water_convection: f64,
    /// Water-side friction.
    pub water_friction: f64,
    /// Gas-side friction and fittings.
    pub gas_friction: f64,
    /// Outside loss of hot walls.
    pub casing_loss: f64,
    /// Radiation of shell and mouth to the coil.
    pub coil_radiation: f64,
    /// Conductance between a wall and a tube wound on its outside.
    pub contact: f64,
    /// Growth of the deposit on coils in the gas.
    pub fouling_rate: f64,
    /// Evaporation from an open surface.
    pub evaporation: f64,
    /// Standing loss of the vessel.
    pub vessel_loss: f64,
    /// Mixing of a tank whose lower layer is warmer.
    pub tank_mixing: f64,
    /// Air drawn in through leaks of the firebox, share of the mouth (of a door: of 15 mm along its joint) and inlet area; default
    /// 0.02, absolute.
    pub leakage_share: f64,
    /// Size of ember pieces.
    pub ember_size: f64,
    /// Emission of the embers' surface.
    pub ember_emission: f64,
    /// Conductance from embers through ash to the hearth.
    pub hearth_contact: f64,
}

impl Default for Closures {
    fn default() -> Self {
        Self {
            inlet_area: 1.0,
            bed_rate: 1.0,
            char_rate: 1.0,
            mixing_time: 1.0,
            unmixedness: 0.25,
            emissivity: 1.0,
            flame_soot_per_m: 1.0,
            duct_convection: 1.0,
            bank_exposure: 1.0,
            water_convection: 1.0,
            water_friction: 1.0,
            gas_friction: 1.0,
            casing_loss: 1.0,
            coil_radiation: 1.0,
            contact: 1.0,
            fouling_rate: 1.0,
            evaporation: 1.0,
            vessel_loss: 1.0,
            tank_mixing: 1.0,
            leakage_share: 0.02,
            ember_size: 1.0,
            ember_emission: 1.0,
            hearth_contact: 1.0,
        }
    }
}
