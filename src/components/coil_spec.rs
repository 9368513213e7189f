//! Coils and jackets as plain data: how they lie, of what tube, where the water enters.

use super::spec::{Firebox, Layer, Section};
use serde::Serialize;
use std::f64::consts::PI;

#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum CoilForm {
    /// Helix with its axis along the passage. Diameter to the tube's centre line; pitch from tube to tube along the
    /// passage, so that each of n parallel tubes climbs n pitches in one turn.
    Helix { coil_diameter_m: f64, pitch_m: f64 },
    /// Straight runs across the passage, `pitch_m` apart along the flow.
    Serpentine { pitch_m: f64 },
    /// Wound on the outside of its section, touching the wall along a line.
    Around {
        coil_diameter_m: f64,
        pitch_m: f64,
        /// From the section's gas inlet to the first turn, and from the first to the last.
        start_m: f64,
        span_m: f64,
        /// Narrowest gap between tube and wall (roughness, waviness, thermal movement).
        gap_m: f64,
        /// What fills the wedge beside the line of contact; `None`: air.
        filler_w_mk: Option<f64>,
    },
    /// In the firebox itself, among the flames.
    Chamber {
        /// Of the turns; zero: straight runs.
        coil_diameter_m: f64,
        /// Length of one run between return bends; zero: turns.
        run_m: f64,
        /// Share of the tube's surface that sees the fire: all of a free-standing tube, half of one against the wall.
        exposed_share: f64,
    },
    /// A water jacket: a shell around the whole length of its section (or the height of the firebox), water between wall and
    /// shell. The coil's inside diameter is then the gap's hydraulic diameter, its length the section's.
    Jacket {
        in_firebox: bool,
        /// Outer face of the section's wall.
        wall_m2: f64,
        /// Cross-section of the water.
        water_m2: f64,
        /// Thickness of the sheet between gas and water, of the wall's own outermost layer; the shell is as thick.
        sheet_m: f64,
        shell_m2: f64,
        /// From the water through shell and insulation to the air, per area of the shell.
        shell_w_m2k: f64,
    },
    /// In the water of the drum that the fire heats: turns about an upright axis, or level runs one above the other.
    Submerged {
        /// Of the turns; zero: straight runs.
        coil_diameter_m: f64,
        /// Length of one run between return bends; zero: turns.
        run_m: f64,
        /// From tube to tube, upwards.
        pitch_m: f64,
    },
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum WaterEntry {
    /// Where the gas enters the section; of a coil in the drum its lower end.
    GasInlet,
    /// Where the gas leaves it (counter-flow).
    GasOutlet,
}

#[derive(Debug, Clone, Serialize)]
pub struct TubeMetal {
    pub name: String,
    pub density_kg_m3: f64,
    pub heat_capacity_j_kgk: f64,
    pub conductivity_w_mk: f64,
    pub emissivity: f64,
    /// Softening, annealing or scaling: wall temperature above which a warning is given.
    pub limit_k: f64,
}

impl Coil {
    /// A water jacket.
    pub fn is_jacket(&self) -> bool {
        matches!(self.form, CoilForm::Jacket { .. })
    }

    /// In the drum's water: `section` says nothing then.
    pub fn in_drum(&self) -> bool {
        matches!(self.form, CoilForm::Submerged { .. })
    }

    /// Among the flames, or around their box: `section` says nothing then.
    pub fn in_firebox(&self) -> bool {
        matches!(
            self.form,
            CoilForm::Chamber { .. }
                | CoilForm::Jacket {
                    in_firebox: true,
                    ..
                }
        )
    }

    /// Cross-section of the water, all parallel tubes together.
    pub fn water_area_m2(&self) -> f64 {
        match self.form {
            CoilForm::Jacket { water_m2, .. } => water_m2,
            _ => self.parallel.max(1) as f64 * PI / 4.0 * self.tube_inside_m * self.tube_inside_m,
        }
    }

    /// Surface between metal and water that is heated, all tubes together.
    pub fn heated_m2(&self) -> f64 {
        match self.form {
            CoilForm::Jacket { wall_m2, .. } => wall_m2,
            _ => self.parallel.max(1) as f64 * PI * self.tube_inside_m * self.length_m,
        }
    }
}

#[derive(Debug, Clone, Serialize)]
pub struct Coil {
    pub name: String,
    /// Index into `gas_path`.
    pub section: usize,
    pub form: CoilForm,
    pub metal: TubeMetal,
    pub tube_outside_m: f64,
    pub tube_inside_m: f64,
    /// Length of one tube inside the passage.
    pub length_m: f64,
    /// Identical tubes side by side, sharing the flow.
    pub parallel: usize,
    pub water_entry: WaterEntry,
    /// Share of the passage's cross-section filled by a core plug inside the helix, 0: open core.
    pub core_plug_share: f64,
    /// Cells along the tube; `None`: default.
    pub cells: Option<usize>,
    /// Height of the coil's lowest and highest point, from the datum.
    pub bottom_z_m: f64,
    pub top_z_m: f64,
    /// Deposit on the outside at the start, m2 K/W.
    pub fouling_m2k_w: f64,
}

/// What a jacket is besides the part that it lies around.
#[derive(Debug, Clone)]
pub struct JacketGiven {
    pub name: String,
    /// Clear width between wall and shell.
    pub gap_m: f64,
    /// From the water through shell and insulation to the air, per area of the shell.
    pub shell_w_m2k: f64,
    /// `None`: at the lower end.
    pub water_entry: Option<WaterEntry>,
    pub cells: Option<usize>,
}

impl JacketGiven {
    /// Around a section whose gas inlet's centre lies at `start_z_m`; `index` its place in the gas path. `None`: the wall has
    /// no layer.
    pub fn around_section(self, s: &Section, index: usize, start_z_m: f64) -> Option<Coil> {
        let wall_m: f64 = s.wall.iter().map(|l| l.thickness_m).sum();
        let girth_m = s.perimeter_m() + s.passages.max(1) as f64 * 2.0 * PI * wall_m;
        let z = (start_z_m, start_z_m + s.rise_m);
        let lower = if s.rise_m >= 0.0 {
            WaterEntry::GasInlet
        } else {
            WaterEntry::GasOutlet
        };
        self.around(
            s.wall.last()?,
            (girth_m, s.length_m),
            z,
            (index, false),
            lower,
        )
    }

    /// Around the firebox, whose gas leaves by an opening of `outlet_m2`.
    pub fn around_firebox(self, f: &Firebox, outlet_m2: f64) -> Option<Coil> {
        let wall_m: f64 = f.wall.iter().map(|l| l.thickness_m).sum();
        let half_m = f.half_width_m();
        let outer_m2 = f.lining_m2(outlet_m2) * ((half_m + wall_m) / half_m).powi(2);
        let size = (outer_m2 / f.height_m, f.height_m);
        let z = (0.0, f.height_m);
        self.around(f.wall.last()?, size, z, (0, true), WaterEntry::GasInlet)
    }

    fn around(
        self,
        sheet: &Layer,
        (girth_m, length_m): (f64, f64),
        z_m: (f64, f64),
        (section, in_firebox): (usize, bool),
        lower: WaterEntry,
    ) -> Option<Coil> {
        let shell_girth_m = girth_m + 2.0 * PI * self.gap_m;
        let water_m2 = 0.5 * (girth_m + shell_girth_m) * self.gap_m;
        let inside_m = 4.0 * water_m2 / (girth_m + shell_girth_m);
        Some(Coil {
            name: self.name,
            section,
            form: CoilForm::Jacket {
                in_firebox,
                wall_m2: girth_m * length_m,
                water_m2,
                sheet_m: sheet.thickness_m,
                shell_m2: shell_girth_m * length_m,
                shell_w_m2k: self.shell_w_m2k,
            },
            metal: TubeMetal {
                name: sheet.material.clone(),
                density_kg_m3: sheet.density_kg_m3,
                heat_capacity_j_kgk: sheet.heat_capacity_j_kgk,
                conductivity_w_mk: sheet.conductivity_w_mk,
                emissivity: sheet.emissivity,
                limit_k: sheet.limit_k.unwrap_or(f64::INFINITY),
            },
            tube_outside_m: inside_m + 2.0 * sheet.thickness_m,
            tube_inside_m: inside_m,
            length_m,
            parallel: 1,
            water_entry: self.water_entry.unwrap_or(lower),
            core_plug_share: 0.0,
            cells: self.cells,
            bottom_z_m: z_m.0.min(z_m.1),
            top_z_m: z_m.0.max(z_m.1),
            fouling_m2k_w: 0.0,
        })
    }
}
