//! Where each state stands in the flat vector, its name, and the scale that makes it of order one.
//!
//! The integrator has one scalar tolerance, so every state is stored divided by its scale:
//! thermal states as enthalpy over heat capacity in units of 100 K, ledger states in MJ.

use super::drum::DrumStates;

/// Reference temperature of every enthalpy in the model, K.
pub const T_REF_K: f64 = 298.15;
/// One scaled unit of a thermal state, K.
pub const T_SCALE_K: f64 = 100.0;
/// One scaled unit of a ledger energy, J.
pub const E_SCALE_J: f64 = 1e6;
/// One scaled unit of the air flow, kg/s.
pub const AIR_SCALE_KG_S: f64 = 0.01;
/// One scaled unit of the loop flow, kg/s.
pub const FLOW_SCALE_KG_S: f64 = 0.1;
/// One scaled unit of a deposit on one cell of a coil or a wall, kg.
pub const DEPOSIT_SCALE_KG: f64 = 0.01;
/// One scaled unit of a time integral of temperature, K s.
pub const TINT_SCALE_KS: f64 = 1e6;

/// Slots for feeds that still hold wood that has not charred; burnt-out slots are used again.
pub const COHORTS: usize = 12;

macro_rules! integrals {
    ($($(#[$doc:meta])* $name:ident = $key:literal, $scale:expr;)*) => {
        /// Cumulative quantities integrated with the states, by the same method and the same steps.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        #[repr(usize)]
        pub enum Integral { $($(#[$doc])* $name,)* }
        impl Integral {
            /// All, in order of their states.
            pub const ALL: &'static [Integral] = &[$(Integral::$name,)*];
            /// Stable key, used as state name.
            pub fn key(self) -> &'static str { match self { $(Integral::$name => $key,)* } }
            /// Size of one scaled unit, SI.
            pub fn scale(self) -> f64 { match self { $(Integral::$name => $scale,)* } }
        }
    };
}

integrals! {
    /// Enthalpy of the combustion air at ambient, above the reference.
    AirEnthalpy = "air_enthalpy_J", E_SCALE_J;
    /// Sensible enthalpy of the gas leaving the flue.
    StackSensible = "stack_sensible_J", E_SCALE_J;
    /// Latent heat of the fuel's water leaving the flue as vapour.
    StackLatent = "stack_latent_J", E_SCALE_J;
    /// Net heating value of what leaves unburnt.
    Unburnt = "unburnt_J", E_SCALE_J;
    /// Through the walls of firebox and gas path to the surroundings.
    Casing = "casing_J", E_SCALE_J;
    /// Radiated out of the mouth or the open door.
    Opening = "opening_J", E_SCALE_J;
    /// From supply and return pipe to the air.
    PipeLoss = "pipe_loss_J", E_SCALE_J;
    /// Through walls and lid of the vessel.
    VesselLoss = "vessel_loss_J", E_SCALE_J;
    /// Through walls and lid of the bypass's header.
    HeaderLoss = "header_loss_J", E_SCALE_J;
    /// Convection and radiation of an open water surface.
    SurfaceLoss = "surface_loss_J", E_SCALE_J;
    /// Enthalpy of the vapour evaporated from an open surface.
    Evaporation = "evaporation_J", E_SCALE_J;
    /// Enthalpy of the steam leaving a boiling vessel.
    Vented = "vented_J", E_SCALE_J;
    /// Enthalpy of water and steam leaving through the relief valve.
    Relief = "relief_J", E_SCALE_J;
    /// Enthalpy of water drawn.
    DrawsOut = "draws_out_J", E_SCALE_J;
    /// Enthalpy of make-up (or once-through) water coming in.
    WaterIn = "water_in_J", E_SCALE_J;
    /// Pump power that ends in the water.
    PumpWork = "pump_work_J", E_SCALE_J;
    /// From the bench mass to the air.
    BenchLoss = "bench_loss_J", E_SCALE_J;
    /// Condensate of the flue gas, sensible part neglected; latent part given to the coil.
    CondensateLatent = "condensate_latent_J", E_SCALE_J;
    /// Net enthalpy through the storage's ports (not a line of the balance: inside the rig).
    HeatToStore = "heat_to_store_J", E_SCALE_J;
    /// Net enthalpy through the header's ports (not a line of the balance: inside the rig).
    HeatToHeader = "heat_to_header_J", E_SCALE_J;
    /// Net energy released or released unburnt: wood and char consumed, net basis.
    NetBurnt = "net_burnt_J", E_SCALE_J;
    /// Electrical energy of the pumps.
    PumpElectric = "pump_electric_J", E_SCALE_J;
    /// Air drawn in.
    AirIn = "air_in_kg", 1.0;
    /// Air drawn in while at least a kilowatt of wood burns.
    FireAir = "fire_air_kg", 1.0;
    /// Stoichiometric air of what was consumed.
    StoichAir = "stoich_air_kg", 1.0;
    /// Flue gas out, before condensation.
    GasOut = "gas_out_kg", 1.0;
    /// Carbon leaving with the gas, burnt or not.
    CarbonOut = "carbon_out_kg", 1.0;
    /// Water of the fuel (moisture and hydrogen) leaving as vapour, before condensation.
    FuelWaterOut = "fuel_water_out_kg", 1.0;
    /// Condensate on cold turns.
    Condensate = "condensate_kg", 1.0;
    /// Steam made in the coil.
    Steam = "steam_kg", 0.1;
    /// Water evaporated or vented from the vessel.
    VesselWaterOut = "vessel_water_out_kg", 1.0;
    /// Water, and steam, through the relief valve of a closed loop.
    ReliefWater = "relief_water_kg", 1.0;
    ReliefSteam = "relief_steam_kg", 0.1;
    /// Water drawn in with the loop to refill boiling cells, less steam and water given back.
    LoopWaterNet = "loop_water_net_kg", 1.0;
    StackT = "stack_temperature_Ks", TINT_SCALE_KS;
    ChamberT = "chamber_temperature_Ks", TINT_SCALE_KS;
    BelowT = "gas_below_coil_Ks", TINT_SCALE_KS;
    AboveT = "gas_above_coil_Ks", TINT_SCALE_KS;
    LoopFlow = "loop_flow_kg", 1000.0;
    BypassFlow = "bypass_flow_kg", 1000.0;
    CoTime = "co_dry_s", 1.0;
}

/// Index of every state.
#[derive(Debug, Clone)]
pub struct Layout {
    pub names: Vec<String>,
    pub air: usize,
    pub flame: usize,
    pub embers: usize,
    /// Hearth under the embers.
    pub hearth: usize,
    pub char_kg: usize,
    /// Char as pieces of one size that would show the surface of those that are there.
    pub char_surface: usize,
    /// `virgin + k` virgin share, `kindled + k` ignition progress of cohort k.
    pub virgin: usize,
    pub kindled: usize,
    /// How far the flap over a magazine is shut, 0..1; none where the flames are not drawn down.
    pub flap: Option<usize>,
    /// First wall node; walls know their own offsets.
    pub walls: usize,
    /// First enthalpy of a tube cell's water, in the order of forward flow.
    pub tubes: usize,
    pub tube_cells: usize,
    /// First liquid inventory (coil cells only).
    pub inventory: usize,
    /// First temperature of metal: the coil's cells, then pipes that have one.
    pub tube_walls: usize,
    pub wall_cells: usize,
    /// Deposits on coils and walls in the gas: of each surface the soot on all its cells, then the tar; each knows its own.
    pub deposits: usize,
    pub deposit_count: usize,
    pub flow: Option<usize>,
    /// Flow of the bypass to the header.
    pub bypass_flow: Option<usize>,
    pub layers: usize,
    pub layer_count: usize,
    pub vessel_mass: Option<usize>,
    pub header_layers: usize,
    pub header_count: usize,
    pub header_mass: Option<usize>,
    pub bench: Option<usize>,
    pub drum: Option<DrumStates>,
    /// First share of water of the damp wall nodes; what left them follows. None where all walls are dry.
    pub damp: usize,
    pub damp_count: usize,
    pub integrals: usize,
}

impl Layout {
    /// Number of states.
    pub fn len(&self) -> usize {
        self.names.len()
    }

    /// No states at all (never for an assembled network).
    pub fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// Heat that left damp walls with their vapour, and after it the vapour in kg; only where there are any.
    pub fn dried(&self) -> usize {
        self.damp + self.damp_count
    }

    /// Index of a cumulative quantity.
    pub fn integral(&self, q: Integral) -> usize {
        self.integrals + q as usize
    }

    /// Value of a cumulative quantity in SI.
    pub fn integral_value(&self, y: &[f64], q: Integral) -> f64 {
        y[self.integral(q)] * q.scale()
    }
}

/// Hands out state indices in order.
#[derive(Default)]
pub struct LayoutBuilder {
    names: Vec<String>,
}

impl LayoutBuilder {
    /// One state.
    pub fn one(&mut self, name: impl Into<String>) -> usize {
        self.names.push(name.into());
        self.names.len() - 1
    }

    /// `n` states named `stem_1 ..`; returns the first index (valid even for n = 0).
    pub fn many(&mut self, stem: &str, n: usize) -> usize {
        let first = self.names.len();
        for i in 0..n {
            self.names.push(format!("{stem}_{}", i + 1));
        }
        first
    }

    /// The names, in order.
    pub fn finish(self) -> Vec<String> {
        self.names
    }
}
