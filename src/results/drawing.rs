//! The geometry of a rig in one vertical plane, for drawing it to scale. SI; heights (`*_z_m`) are
//! measured from the hearth floor.

use serde::Serialize;

/// What the picture of the rig needs to know, and nothing more.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RigDrawing {
    pub title: String,
    pub firebox: FireboxShape,
    /// In the order in which the gas passes.
    pub sections: Vec<SectionShape>,
    pub vessel: Option<VesselShape>,
    /// Header tank of a bypass.
    pub header: Option<VesselShape>,
    /// Water around parts of the stove in which a coil lies, beside the store.
    pub drum: Option<DrumShape>,
    /// Between coil and store, hot side first; then those of a bypass.
    pub pipes: Vec<PipeShape>,
    pub bench: Option<BenchShape>,
    /// Height of the ground or floor that the rig stands on, where it is not the hearth floor.
    pub ground_z_m: f64,
}

impl RigDrawing {
    /// The vessel around parts of the stove: the drum, or a store without a loop.
    pub fn around(&self) -> Option<&VesselShape> {
        let store = self.vessel.as_ref().filter(|v| v.around_stove);
        self.drum.as_ref().map(|d| &d.vessel).or(store)
    }
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FireboxShape {
    /// Words, e.g. "firebox, feed tube".
    pub label: String,
    /// Horizontal extent along the gas.
    pub depth_m: f64,
    pub height_m: f64,
    pub wall_m: f64,
    /// The fuel stands in an open mouth on top rather than behind a door.
    pub open_mouth: bool,
    /// Extent of mouth or door opening in the plane of the drawing.
    pub mouth_m: f64,
    /// Coils among the flames.
    pub coils: Vec<CoilShape>,
    /// Share of its wall that stands in water.
    pub in_water: f64,
    /// Share of its air inlets that opens over the fire.
    pub air_over: f64,
    /// The flames leave through the embers.
    pub drawn_down: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SectionMark {
    Plain,
    Damper,
    Fan,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SectionShape {
    pub name: String,
    pub mark: SectionMark,
    /// Clear width in the plane of the drawing; of many passages that of their bundle.
    pub width_m: f64,
    pub passages: usize,
    /// Thickness of all wall layers together.
    pub wall_m: f64,
    pub length_m: f64,
    /// Height gained; negative where the gas goes down.
    pub rise_m: f64,
    /// Height of the gas inlet's centre.
    pub start_z_m: f64,
    pub coils: Vec<CoilShape>,
    /// Its outside stands in water.
    pub in_water: bool,
    /// Share of it that is a dry wall across the gas.
    pub dry_share: f64,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoilShape {
    pub name: String,
    /// Of a jacket the width of its water.
    pub tube_outside_m: f64,
    /// Water around the part instead of a tube.
    pub jacket: bool,
    /// Length of tube, all parallel tubes together.
    pub length_m: f64,
    pub bottom_z_m: f64,
    pub top_z_m: f64,
    /// Width over the tube's centre lines.
    pub width_m: f64,
    /// Turns of the helix or runs of the serpentine.
    pub turns: f64,
    pub helix: bool,
    pub parallel: usize,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VesselShape {
    /// Words, e.g. "barrel, 200 L".
    pub label: String,
    pub width_m: f64,
    pub floor_z_m: f64,
    pub water_depth_m: f64,
    /// Open to the air on top.
    pub open_top: bool,
    pub layers: usize,
    pub ports: Vec<PortMark>,
    /// Shut in from the air.
    pub closed: Option<ClosedShape>,
    /// Parts of the stove stand in it, and no pipe comes to it.
    pub around_stove: bool,
}

/// A drum around parts of the stove, with the coils in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrumShape {
    pub vessel: VesselShape,
    pub coils: Vec<CoilShape>,
}

/// Expansion vessel and relief valve of a closed store; pressures over the air's.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClosedShape {
    pub vessel_m3: f64,
    pub fill_pa: f64,
    pub relief_pa: f64,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PortMark {
    /// "hot", "cold", "draw".
    pub label: String,
    pub z_m: f64,
    pub kind: PortKind,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PortKind {
    Hot,
    Cold,
    Draw,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PipeShape {
    /// "hot pipe" or "cold pipe".
    pub label: String,
    pub hot: bool,
    pub length_m: f64,
    pub inside_m: f64,
    /// Where it leaves or enters the coil.
    pub coil_z_m: f64,
    /// Where it meets the store (or the open end).
    pub far_z_m: f64,
    pub pump: bool,
    pub check_valve: bool,
    /// Leads to the header instead of the store.
    pub to_header: bool,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BenchShape {
    pub label: String,
    pub z_m: f64,
}
