//! Nodes and links: state layout, right-hand side, observation, balances.
//!
//! Nodes hold energy (walls, metal with its water, tank layers, embers), links carry flow (gas, water). The
//! right-hand side is a pure function of (t, y) and of the [`Mode`], which only events change.

mod assemble;
mod balance;
mod closed;
mod damp;
mod deposits;
mod drum;
mod films;
mod fire;
mod fuel;
pub mod fullness;
mod initial;
mod layout;
mod march;
mod mode;
mod observe;
mod path_cells;
mod readings;
mod rhs;
mod water_side;

pub use assemble::{AssembleError, default_cells};
pub use balance::{Fed, WoodLeft};
pub use damp::LayerWater;
pub use deposits::{Carried, FRESH_K_RHO, HARDENED_K_RHO, Surface, TAR_DEW_K, TAR_WIDTH_K};
pub use drum::{DrumIntegral, DrumModel, DrumStates};
pub use fire::band::{BAND_FIGURES, UnburntNow, UnburntParts};
pub use fuel::{CHAR_J_KG, FuelData, LATENT_J_KG};
pub use layout::{COHORTS, Integral, Layout, T_REF_K};
pub use mode::{Blocked, Mode};
pub use observe::Instant;
pub use readings::{Reading, Readings};

use crate::components::closed::{BlownOff, ClosedLoop};
use crate::components::drying::DampRow;
use crate::components::gas_path::Duct;
use crate::components::gas_path::ReTable;
use crate::components::immersed::Immersed;
use crate::components::jacket::Jacket;
use crate::components::outside_table::OutsideTable;
use crate::components::spec::{Bench, Pump, Rig};
use crate::components::tube::{NaturalTable, NodeWater, TubeCell, TubeTable, WallHeat};
use crate::components::vessel::VesselModel;
use crate::components::wall::{OutsideConvection, Wall};
use crate::components::wall_row::WallRow;
use crate::correlations::radiation::GasLayer;
use crate::properties::gas::GasMix;
use crate::properties::water::Water;
use drum::DrumScratch;
use std::cell::RefCell;
use std::ops::Range;

/// The firebox, assembled.
#[derive(Debug, Clone)]
pub struct FireboxModel {
    pub volume_m3: f64,
    pub height_m: f64,
    pub floor_m2: f64,
    /// Room that sticks fill: the mouth carried on over the burning length, or the lower half of a chamber behind a door.
    pub pile_room_m3: f64,
    /// Area that `leakage_share` is a share of.
    pub leaky_m2: f64,
    pub lining_m2: f64,
    pub hydraulic_m: f64,
    pub flow_area_m2: f64,
    pub beam_m: f64,
    pub wall_state: usize,
    pub wall: Wall,
    pub outside: OutsideConvection,
    pub table: ReTable<2>,
    /// Loose ash that glows with the char, and grate, ash and brick under it, J/K.
    pub bits_j_k: f64,
    pub hearth_j_k: f64,
    pub coil: Option<ChamberCoil>,
    /// Water around it.
    pub jacket: Option<Jacket>,
    /// At most [`MAX_PLATES`].
    pub plates: Vec<Plate>,
    /// Lining and plates together.
    pub enclosure_m2: f64,
    /// Share of the lining in what sticks, hearth, openings and coils see of the walls: all but where bands stand in water.
    pub lining_seen: f64,
}

/// Bands into which the part of a firebox's wall is cut that stands in the store's water: as the level falls, each dries by
/// itself. The door is another plate.
pub const BANDS: usize = 3;
pub const MAX_PLATES: usize = BANDS + 1;

/// A part of the firebox's inside that has a temperature of its own beside the lining's: the shut door, or a band of wall that
/// stands in the store's water.
#[derive(Debug, Clone)]
pub struct Plate {
    pub name: &'static str,
    pub wall_state: usize,
    pub wall: Wall,
    /// Of what is not wet.
    pub outside: OutsideTable,
    /// Where its outside stands in water.
    pub immersed: Option<Immersed>,
    /// Area with which it and the lining see each other.
    pub lining_view_m2: f64,
    /// Its share in what sticks, hearth, openings and coils see of the walls: none of the door's.
    pub seen: f64,
}

impl FireboxModel {
    /// A coil among its flames, or a jacket around it.
    pub fn heats_water(&self) -> bool {
        self.coil.is_some() || self.jacket.is_some()
    }
}

/// A coil among the flames, as the chamber sees it.
#[derive(Debug, Clone)]
pub struct ChamberCoil {
    pub first_tube_cell: usize,
    pub cells: usize,
    pub tube_outside_m: f64,
    /// Outside surface per tube cell, and the share of it that sees the fire.
    pub area_m2: f64,
    pub exposed_share: f64,
    pub emissivity: f64,
    /// With the tube's own wall: on its outside area.
    pub fouling_m2k_w: f64,
}

/// What moves the water.
#[derive(Debug, Clone)]
pub enum Drive {
    Pump(Pump),
    Thermosyphon,
    Mains {
        pressure_pa: f64,
        valve_loss_k: f64,
        inlet_j_kg: f64,
    },
}

/// A branch between the coil's two ends: its cells from vessel to coil inlet and from coil outlet to vessel, both in
/// forward order.
#[derive(Debug, Clone)]
pub struct BranchModel {
    pub cold: Range<usize>,
    pub hot: Range<usize>,
    /// Σ L/A of both legs, inflated where the drive is forced, 1/m.
    pub inertia_per_m: f64,
    pub check_valve: bool,
}

/// The gravity bypass to a header tank, assembled.
#[derive(Debug, Clone)]
pub struct BypassModel {
    pub branch: BranchModel,
    pub header: VesselModel,
}

/// The loop, assembled: tube cells of return pipe, coils and supply pipe in forward order, then those of the bypass.
#[derive(Debug, Clone)]
pub struct LoopModel {
    pub drive: Drive,
    pub ret_area_m2: f64,
    pub coil: Range<usize>,
    /// Σ L/A of the coils, 1/m.
    pub coil_inertia_per_m: f64,
    /// Inertia added to the driven branch while pump or mains drive it, 1/m.
    pub forced_inertia_per_m: f64,
    pub main: BranchModel,
    pub bypass: Option<BypassModel>,
    /// Cells before and after each in forward direction.
    pub neighbours: Vec<Neighbours>,
    /// Shut in from the air; the cells' own pressures are then those of the cold fill.
    pub closed: Option<ClosedLoop>,
}

/// The cells on both sides of one, each with what turns a difference of enthalpy into the rise over this cell's length.
#[derive(Debug, Clone, Copy, Default)]
pub struct Neighbours {
    pub before: Option<(usize, f64)>,
    pub after: Option<(usize, f64)>,
    /// Conductance through standing water to the cell before, W/K: next to nothing, but it is what starts a loop whose
    /// flow is exactly nothing.
    pub conductance_w_k: f64,
}

/// The bench, assembled.
#[derive(Debug, Clone)]
pub struct BenchModel {
    pub spec: Bench,
    /// The loop warms the bench itself, without a vessel between.
    pub direct: bool,
    pub scale_j_k: f64,
}

/// Working space of one right-hand side; nothing in it is carried from call to call but the last moment's record, which
/// no right-hand side reads.
#[derive(Debug, Clone)]
pub struct Scratch {
    pub wall_t_k: Vec<f64>,
    pub wall_heat_w: Vec<f64>,
    /// From outermost nodes to coils wound on them, jackets and air.
    pub outer_heat_w: Vec<f64>,
    pub wall_k_w_mk: Vec<f64>,
    /// Through the faces before each wall node, and after the last.
    pub wall_passed_w: Vec<f64>,
    /// The cells of a closed loop at its present pressure; empty where it is vented.
    pub cells: Vec<TubeCell>,
    /// Through the relief valve of a closed loop.
    pub blown_off: BlownOff,
    /// Water of coil and pipe cells, and heat into it.
    pub tube: Vec<NodeWater>,
    pub tube_heat_w: Vec<f64>,
    /// Metal of the coil's cells, and heat into it; pipe cells' are not used.
    pub face_t_k: Vec<f64>,
    pub face_heat_w: Vec<f64>,
    /// From the coil's metal into its water; none in pipes.
    pub film: Vec<WallHeat>,
    pub layer_t_k: Vec<f64>,
    pub layer_heat_w: Vec<f64>,
    /// From walls in water into the layers of store or drum, and the wet share of the walls' outside, in the place of their outermost
    /// nodes.
    pub soak_w: Vec<f64>,
    pub wet_share: Vec<f64>,
    /// Ways of vapour out of damp nodes.
    pub damp_open: Vec<f64>,
    pub header_t_k: Vec<f64>,
    pub header_heat_w: Vec<f64>,
    pub drum: DrumScratch,
    pub gas_t_k: Vec<f64>,
    /// Faces that the gas touches, in the place of their soot among the deposits.
    pub surface_k: Vec<f64>,
    pub derivative: Vec<f64>,
    pub instant: Instant,
    /// The moment that `instant` is of; not a number where it is of the water alone.
    pub seen_t_s: f64,
    pub seen_y: Vec<f64>,
}

impl Scratch {
    #[allow(clippy::too_many_arguments)] // one count for each kind of space
    fn new(
        gas: usize,
        wall: usize,
        tubes: usize,
        layers: usize,
        header: usize,
        deposits: usize,
        damp: usize,
        cells: Vec<TubeCell>,
    ) -> Self {
        Self {
            wall_t_k: vec![0.0; wall],
            wall_heat_w: vec![0.0; wall],
            outer_heat_w: vec![0.0; wall],
            wall_k_w_mk: vec![0.0; wall],
            wall_passed_w: vec![0.0; wall + 1],
            cells,
            blown_off: BlownOff::default(),
            tube: vec![NodeWater::default(); tubes],
            tube_heat_w: vec![0.0; tubes],
            face_t_k: vec![0.0; tubes],
            face_heat_w: vec![0.0; tubes],
            film: vec![WallHeat::default(); tubes],
            layer_t_k: vec![0.0; layers],
            layer_heat_w: vec![0.0; layers],
            soak_w: vec![0.0; layers],
            wet_share: vec![0.0; wall],
            damp_open: vec![0.0; damp],
            header_t_k: vec![0.0; header],
            header_heat_w: vec![0.0; header],
            drum: DrumScratch::default(),
            gas_t_k: vec![0.0; gas],
            surface_k: vec![0.0; deposits],
            derivative: Vec::new(),
            instant: Instant::default(),
            seen_t_s: f64::NAN,
            seen_y: Vec::new(),
        }
    }
}

/// A rig as a network with its present mode.
#[derive(Clone)]
pub struct Network {
    pub rig: Rig,
    pub fuel: FuelData,
    pub water: &'static Water,
    pub p_air_pa: f64,
    /// Emissivity of wood gas at 12 % H2O and 10 % CO2.
    pub nominal_gas: GasLayer,
    /// Outside air with its humidity.
    pub air_mix: GasMix,
    pub vapour_pa: f64,
    pub sky_emissivity: f64,
    pub firebox: FireboxModel,
    pub ducts: Vec<Duct>,
    /// Walls of the firebox and of all sections.
    pub wall_row: WallRow,
    /// Those of their nodes that hold water.
    pub damp: DampRow,
    /// Losses of the firebox's outside and of each section's wall cells.
    pub outside_losses: Vec<OutsideTable>,
    pub tubes: Vec<TubeCell>,
    pub tables: Vec<TubeTable>,
    pub natural: NaturalTable,
    pub circuit: Option<LoopModel>,
    pub vessel: Option<VesselModel>,
    /// Walls stand in the vessel's water.
    pub has_immersed: bool,
    /// Water between fire and coil; walls stand in this one then.
    pub drum: Option<DrumModel>,
    pub bench: Option<BenchModel>,
    pub layout: Layout,
    pub mode: Mode,
    /// What earlier burns left.
    carried: Carried,
    scratch: RefCell<Scratch>,
}

impl Network {
    /// Water that a run heats.
    pub fn has_water(&self) -> bool {
        self.circuit.is_some() || self.vessel.is_some()
    }

    /// Number of states.
    pub fn state_count(&self) -> usize {
        self.layout.len()
    }
}
