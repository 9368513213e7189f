//! A drum of water that stove walls heat and that a coil lies in: a second body of water, which the loop's own never meets.
//!
//! It gives its heat to the coil, to the air and, once it boils, to steam. Only rigs that have one carry its states.

use super::layout::{E_SCALE_J, LayoutBuilder, T_SCALE_K};
use super::{Network, Scratch};
use crate::components::immersed::Beside;
use crate::components::submerged::Submerged;
use crate::components::vessel::{SurfaceAir, VesselModel};
use crate::results::{Ledger, LedgerLine, MassBalance};

/// Time in which a layer above saturation gives its excess off as steam, s: as the drum boils for hours and the coil is as hot as it, it
/// must stand close to saturation; no sooner than its stove's states follow.
const BOILS_S: f64 = 4.0;

/// The drum, assembled.
#[derive(Debug, Clone)]
pub struct DrumModel {
    pub vessel: VesselModel,
    /// Coils in its water, in the order of theirs.
    pub coils: Vec<Submerged>,
    /// Outside of the walls that its water covers when it is full, m2.
    pub wet_m2: f64,
}

impl DrumModel {
    /// Without coils and walls yet.
    pub(super) fn of(mut vessel: VesselModel) -> Self {
        vessel.boil_over_s = BOILS_S;
        Self {
            vessel,
            coils: Vec::new(),
            wet_m2: 0.0,
        }
    }

    fn scale_j(&self) -> f64 {
        self.vessel.scale_j_k() * T_SCALE_K
    }

    /// Water of all its layers when it is full, kg.
    fn full_kg(&self) -> f64 {
        self.vessel.layer_kg * self.vessel.layers as f64
    }
}

/// What is integrated along with the drum's states.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(usize)]
pub enum DrumIntegral {
    /// Through its walls and lid.
    Loss,
    /// Convection and radiation of its open surface.
    Surface,
    /// Enthalpy of the vapour from its open surface.
    Evaporation,
    /// Enthalpy of the steam that it boils off.
    Vented,
    /// Water gone either way, kg.
    WaterOut,
    /// From the walls in its water, and into the coils in it (not lines of the balance: inside the rig).
    FromWalls,
    ToCoils,
}

impl DrumIntegral {
    const KEYS: [&'static str; 7] = [
        "drum_loss_J",
        "drum_surface_J",
        "drum_evaporation_J",
        "drum_vented_J",
        "drum_water_out_kg",
        "heat_to_drum_J",
        "heat_drum_to_coil_J",
    ];

    fn scale(self) -> f64 {
        match self {
            DrumIntegral::WaterOut => 1.0,
            _ => E_SCALE_J,
        }
    }
}

/// Where its states stand.
#[derive(Debug, Clone)]
pub struct DrumStates {
    pub layers: usize,
    pub count: usize,
    pub mass: usize,
    integrals: usize,
}

impl DrumStates {
    pub(super) fn lay_out(drum: &DrumModel, b: &mut LayoutBuilder) -> Self {
        let count = drum.vessel.layers;
        let layers = b.many("drum_layer", count);
        let mass = b.one("drum_water");
        let integrals = b.many("", 0);
        for key in DrumIntegral::KEYS {
            b.one(key);
        }
        Self {
            layers,
            count,
            mass,
            integrals,
        }
    }
}

/// Working space of one right-hand side.
#[derive(Debug, Clone, Default)]
pub struct DrumScratch {
    pub t_k: Vec<f64>,
    heat_w: Vec<f64>,
}

impl Scratch {
    /// Room for a drum, in whose water the walls stand.
    pub(super) fn hold_drum(&mut self, drum: &DrumModel) {
        let n = drum.vessel.layers;
        self.drum = DrumScratch {
            t_k: vec![0.0; n],
            heat_w: vec![0.0; n],
        };
        self.soak_w = vec![0.0; n];
    }
}

impl Network {
    fn drum_parts(&self) -> Option<(&DrumModel, &DrumStates)> {
        self.drum.as_ref().zip(self.layout.drum.as_ref())
    }

    /// Water in each of the drum's layers, kg.
    pub fn drum_layer_kg(&self, y: &[f64]) -> f64 {
        self.drum_parts()
            .map_or(0.0, |(d, at)| y[at.mass] * d.vessel.layer_kg)
    }

    /// Water in the drum, kg.
    pub fn drum_kg(&self, y: &[f64]) -> f64 {
        self.drum_parts()
            .map_or(0.0, |(d, at)| y[at.mass] * d.full_kg())
    }

    /// Temperature of a layer of the drum, K (0 at the bottom).
    pub fn drum_layer_k(&self, y: &[f64], layer: usize) -> f64 {
        self.drum_parts().map_or(f64::NAN, |(d, at)| {
            self.layer_of(&d.vessel, y[at.layers + layer], self.drum_layer_kg(y))
        })
    }

    /// Energy-mean temperature of the drum.
    pub fn drum_mean_k(&self, y: &[f64]) -> f64 {
        self.drum_parts().map_or(f64::NAN, |(d, at)| {
            self.mean_of(&d.vessel, y, at.layers, self.drum_layer_kg(y))
        })
    }

    /// Energy of the drum's water and shell, J above the reference.
    pub fn drum_j(&self, y: &[f64]) -> f64 {
        self.drum_parts().map_or(0.0, |(d, at)| {
            y[at.layers..at.layers + at.count].iter().sum::<f64>() * d.scale_j()
        })
    }

    /// What was integrated along with it, SI.
    pub fn drum_integral(&self, y: &[f64], q: DrumIntegral) -> f64 {
        self.drum_parts()
            .map_or(0.0, |(_, at)| y[at.integrals + q as usize] * q.scale())
    }

    /// Fills it at one temperature.
    pub(super) fn fill_drum(&self, y: &mut [f64], t_k: f64) {
        if let Some((d, at)) = self.drum_parts() {
            let v = &d.vessel;
            let h = v.layer_enthalpy_j(self.water, t_k, v.layer_kg);
            y[at.layers..at.layers + at.count].fill(h / d.scale_j());
            y[at.mass] = 1.0;
        }
    }

    /// Temperatures of its layers.
    pub(super) fn unpack_drum(&self, y: &[f64], s: &mut Scratch) {
        if let Some((d, at)) = self.drum_parts() {
            let kg = self.drum_layer_kg(y);
            for (t_k, state) in s.drum.t_k.iter_mut().zip(&y[at.layers..]) {
                *t_k = self.layer_of(&d.vessel, *state, kg);
            }
        }
    }

    /// Its rates; what its coils take enters their metal. After the walls have given it theirs, before the metal's rates are told.
    pub(super) fn drum_side(&self, air: &SurfaceAir, y: &[f64], dy: &mut [f64], s: &mut Scratch) {
        let Some((d, at)) = self.drum_parts() else {
            return;
        };
        let v = &d.vessel;
        let kg = self.drum_layer_kg(y);
        // Its surface sees what is as warm as the air: it stands over a stove, under smoke or a roof.
        let air = SurfaceAir {
            sky_emissivity: 1.0,
            cover_on: false,
            ..*air
        };
        let losses = v.rates(self.water, &s.drum.t_k, kg, &[], &air, &mut s.drum.heat_w);
        let mut from_walls_w = 0.0;
        for (heat_w, soak_w) in s.drum.heat_w.iter_mut().zip(&s.soak_w) {
            *heat_w += soak_w;
            from_walls_w += soak_w;
        }
        let beside = Beside {
            water: self.water,
            layer_m: v.layer_height_m * kg / v.layer_kg,
            t_k: &s.drum.t_k,
            convection: self.rig.closures.water_convection,
        };
        let mut to_coils_w = 0.0;
        for c in &d.coils {
            to_coils_w += c.pass(&beside, &s.face_t_k, &mut s.face_heat_w, &mut s.drum.heat_w);
        }
        for (rate, q) in dy[at.layers..].iter_mut().zip(&s.drum.heat_w) {
            *rate = q / d.scale_j();
        }
        dy[at.mass] = -losses.water_out_kg_s / d.full_kg();
        for (q, rate) in [
            (DrumIntegral::Loss, losses.walls_w),
            (DrumIntegral::Surface, losses.surface_w),
            (DrumIntegral::Evaporation, losses.evaporation_w),
            (DrumIntegral::Vented, losses.vented_w),
            (DrumIntegral::WaterOut, losses.water_out_kg_s),
            (DrumIntegral::FromWalls, from_walls_w),
            (DrumIntegral::ToCoils, to_coils_w),
        ] {
            dy[at.integrals + q as usize] = rate / q.scale();
        }
        let i = &mut s.instant;
        i.drum_mean_k = self.drum_mean_k(y);
        i.drum_max_k = s.drum.t_k.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        i.drum_water_kg = y[at.mass] * d.full_kg();
        i.to_drum_w = from_walls_w;
        i.drum_to_coil_w = to_coils_w;
        i.drum_loss_w = losses.walls_w + losses.surface_w + losses.evaporation_w + losses.vented_w;
    }

    /// Share of the walls in its water that have come out of it, 0..1.
    pub fn drum_bare_share(&self, y: &[f64]) -> f64 {
        self.drum_parts().map_or(0.0, |(d, at)| {
            let v = &d.vessel;
            let depth_m = v.layer_height_m * v.layers as f64 * y[at.mass];
            (1.0 - self.wet_walls_m2(depth_m) / d.wet_m2.max(1e-9)).clamp(0.0, 1.0)
        })
    }

    /// Outside of all walls in water that stands `depth_m` deep, m2.
    pub(super) fn wet_walls_m2(&self, depth_m: f64) -> f64 {
        let plates = self.firebox.plates.iter();
        let plates = plates.filter_map(|p| Some((p.immersed.as_ref()?, 1)));
        let ducts = self.ducts.iter();
        let ducts = ducts.filter_map(|d| Some((d.immersed.as_ref()?, d.wall_cells)));
        plates
            .chain(ducts)
            .map(|(i, cells)| {
                let wet: f64 = (0..cells).map(|c| i.wet_share(c, depth_m)).sum();
                wet * i.cell_m2()
            })
            .sum()
    }

    /// Its lines of the account and its balance of water, from the start `y0`.
    pub(super) fn drum_account(&self, y0: &[f64], y: &[f64], ledger: &mut Ledger) {
        if self.drum.is_none() {
            return;
        }
        let line = |key: &str, label: &str, energy_j: f64| LedgerLine {
            key: key.into(),
            label: label.into(),
            energy_j,
        };
        let of = |q: DrumIntegral| self.drum_integral(y, q);
        ledger.outputs.extend([
            line("drum_loss", "From the drum's walls", of(DrumIntegral::Loss)),
            line(
                "drum_surface_loss",
                "From the drum's open surface",
                of(DrumIntegral::Surface),
            ),
            line(
                "drum_evaporation",
                "Evaporated from the drum",
                of(DrumIntegral::Evaporation),
            ),
            line(
                "drum_vented",
                "Boiled off from the drum",
                of(DrumIntegral::Vented),
            ),
        ]);
        ledger.stored.push(line(
            "drum",
            "In the drum",
            self.drum_j(y) - self.drum_j(y0),
        ));
        let (in_kg, out_kg, stored_kg) = (
            self.drum_kg(y0),
            of(DrumIntegral::WaterOut),
            self.drum_kg(y),
        );
        ledger.masses.push(MassBalance {
            name: "drum_water".into(),
            in_kg,
            out_kg,
            stored_kg,
            residual_fraction: (in_kg - out_kg - stored_kg).abs() / in_kg.abs().max(1e-3),
        });
    }

    /// Lets its water out until this share of it is left, its layers as warm as they were: what it carried counts as boiled off.
    pub(super) fn lower_drum(&self, share: f64, y: &mut [f64]) {
        let Some((d, at)) = self.drum_parts() else {
            return;
        };
        let v = &d.vessel;
        let (before_j, before_kg) = (self.drum_j(y), self.drum_kg(y));
        let t_k: Vec<f64> = (0..v.layers).map(|i| self.drum_layer_k(y, i)).collect();
        y[at.mass] *= share;
        let kg = self.drum_layer_kg(y);
        for (i, &t) in t_k.iter().enumerate() {
            y[at.layers + i] = v.layer_enthalpy_j(self.water, t, kg) / d.scale_j();
        }
        let (out_j, out_kg) = (before_j - self.drum_j(y), before_kg - self.drum_kg(y));
        for (q, out) in [
            (DrumIntegral::Vented, out_j),
            (DrumIntegral::WaterOut, out_kg),
        ] {
            y[at.integrals + q as usize] += out / q.scale();
        }
    }
}
