//! What a right-hand side knows besides the derivatives: temperatures along the way, flows, coefficients.

use super::Network;
use super::fire::band::UnburntParts;
use super::layout::*;
use crate::components::vessel::VesselModel;
use crate::integrate::OdeSystem;

/// Largest number of gas-path sections that an instant records.
pub const MAX_SECTIONS: usize = 16;

/// One moment of the rig, SI. Filled by every right-hand side.
#[derive(Debug, Clone, Copy, Default)]
pub struct Instant {
    pub air_kg_s: f64,
    pub air_ratio: f64,
    pub stoich_air_kg_s: f64,
    /// Flue gas: flow, and mole fractions of what radiates and of oxygen, wet.
    pub gas_kg_s: f64,
    pub x_h2o: f64,
    pub x_co2: f64,
    pub x_o2: f64,
    /// Absorption coefficient of soot in the chamber, 1/m.
    pub flame_soot_per_m: f64,
    pub flame_k: f64,
    pub embers_k: f64,
    pub hearth_k: f64,
    /// Embers side by side in the hearth.
    pub glow_m2: f64,
    pub section_exit_k: [f64; MAX_SECTIONS],
    pub below_coil_k: f64,
    pub above_coil_k: f64,
    /// Net heat that the gas still carries there, W.
    pub below_coil_unburnt_w: f64,
    pub above_coil_unburnt_w: f64,
    pub stack_k: f64,
    pub flue_wall_min_k: f64,
    pub draught_pa: f64,
    pub drive_pa: f64,
    pub dry_wood_kg_s: f64,
    pub char_kg_s: f64,
    /// Net energy consumed (released or leaving unburnt), W.
    pub net_burnt_w: f64,
    pub unburnt_w: f64,
    pub unburnt_parts: UnburntParts,
    pub stack_sensible_w: f64,
    /// Enthalpy that the air brings in at ambient.
    pub air_enthalpy_w: f64,
    pub stack_latent_w: f64,
    pub casing_w: f64,
    /// Leaving damp walls with their vapour.
    pub drying_w: f64,
    pub opening_w: f64,
    pub into_walls_w: f64,
    pub to_coil_w: f64,
    pub to_store_w: f64,
    pub pipe_loss_w: f64,
    pub vessel_loss_w: f64,
    pub bench_loss_w: f64,
    pub condensate_kg_s: f64,
    /// Dew point of the flue gas.
    pub dew_point_k: f64,
    pub o2_dry: f64,
    pub co2_dry: f64,
    pub co_dry: f64,
    pub flow_kg_s: f64,
    pub coil_in_k: f64,
    pub coil_out_k: f64,
    pub coil_wall_max_k: f64,
    /// Largest heat flux of the coil's cells as a share of the critical flux of standing water.
    pub critical_flux_share: f64,
    /// Saturation at the cell with the smallest margin.
    pub boiling_point_k: f64,
    pub boiling_margin_k: f64,
    /// The tube cell of that margin.
    pub boiling_cell: usize,
    /// Largest (h − h_f), J/kg: bulk boiling where positive.
    pub boiling_excess_j_kg: f64,
    /// Largest superheat of a wall over the onset of nucleate boiling, K.
    pub wall_boiling_excess_k: f64,
    pub steam_kg_s: f64,
    /// Deposit grown on the most fouled coil since the start, m2K/W.
    pub coil_fouling_m2k_w: f64,
    pub loop_drive_pa: f64,
    pub loop_loss_pa: f64,
    pub free_inlet_m2: f64,
    pub tank_top_k: f64,
    pub tank_bottom_k: f64,
    pub tank_mean_k: f64,
    pub tap_k: f64,
    pub bench_k: f64,
    pub free_lining_k: f64,
    pub tank_water_kg: f64,
    pub surface_w: f64,
    pub bypass_flow_kg_s: f64,
    pub to_header_w: f64,
    pub header_loss_w: f64,
    pub header_top_k: f64,
    pub header_mean_k: f64,
    pub drum_mean_k: f64,
    /// Of its hottest layer.
    pub drum_max_k: f64,
    pub drum_water_kg: f64,
    /// From the walls in the drum's water, and from that into the coils in it.
    pub to_drum_w: f64,
    pub drum_to_coil_w: f64,
    pub drum_loss_w: f64,
    /// Of a closed loop at the store's top, over the air's.
    pub loop_pressure_pa: f64,
    /// Of a closed loop: positive over the relief setting, over that at which the valve shuts again, over the burst
    /// pressure; each zero at it.
    pub relief_excess_pa: f64,
    pub reseat_excess_pa: f64,
    pub burst_excess_pa: f64,
    /// Through the relief valve.
    pub relief_water_kg_s: f64,
    pub relief_steam_kg_s: f64,
}

impl Network {
    /// Everything about one moment.
    pub fn observe(&self, t_s: f64, y: &[f64]) -> Instant {
        let n = self.state_count();
        let mut d = std::mem::take(&mut self.scratch.borrow_mut().derivative);
        d.resize(n, 0.0);
        self.rhs(t_s, y, &mut d);
        let mut s = self.scratch.borrow_mut();
        s.derivative = d;
        s.instant
    }

    /// What the last right-hand side recorded, if it was that of this very moment. For a caller that has not changed
    /// the mode since.
    pub(crate) fn seen(&self, t_s: f64, y: &[f64]) -> Option<Instant> {
        let s = self.scratch.borrow();
        (s.seen_t_s == t_s && s.seen_y == y).then_some(s.instant)
    }

    /// Temperature of the flame zone, K.
    pub fn flame_k(&self, y: &[f64]) -> f64 {
        T_REF_K + y[self.layout.flame] * T_SCALE_K
    }

    /// Moist wood not yet passed by a front, kg (with what clings to the tail of burnt-out cohorts).
    pub fn bed_wood_kg(&self, y: &[f64]) -> f64 {
        (0..COHORTS)
            .map(|k| {
                let c = &self.mode.cohorts[k].fed;
                c.dry_kg * (1.0 + c.water_per_dry) * y[self.layout.virgin + k]
            })
            .sum()
    }

    /// Water in each layer, kg.
    pub fn layer_kg(&self, y: &[f64]) -> f64 {
        match (&self.vessel, self.layout.vessel_mass) {
            (Some(v), Some(i)) => y[i] * v.layer_kg,
            _ => 0.0,
        }
    }

    /// Water in each layer of the header, kg.
    pub fn header_layer_kg(&self, y: &[f64]) -> f64 {
        match (self.header(), self.layout.header_mass) {
            (Some(v), Some(i)) => y[i] * v.layer_kg,
            _ => 0.0,
        }
    }

    /// Temperature of a tank layer, K (0 at the bottom).
    pub fn layer_k(&self, y: &[f64], layer: usize) -> f64 {
        self.vessel.as_ref().map_or(f64::NAN, |v| {
            let state = y[self.layout.layers + layer];
            self.layer_of(v, state, self.layer_kg(y))
        })
    }

    /// Temperature of a layer of the header, K (0 at the bottom).
    pub fn header_layer_k(&self, y: &[f64], layer: usize) -> f64 {
        self.header().map_or(f64::NAN, |v| {
            let state = y[self.layout.header_layers + layer];
            self.layer_of(v, state, self.header_layer_kg(y))
        })
    }

    #[inline(always)]
    pub(super) fn layer_of(&self, v: &VesselModel, state: f64, kg: f64) -> f64 {
        v.layer_temperature_k(self.water, state * v.scale_j_k() * T_SCALE_K, kg)
    }

    /// Energy-mean temperature of the storage: the temperature that its water and shell would have if mixed.
    pub fn tank_mean_k(&self, y: &[f64]) -> f64 {
        self.vessel.as_ref().map_or(f64::NAN, |v| {
            self.mean_of(v, y, self.layout.layers, self.layer_kg(y))
        })
    }

    /// Energy-mean temperature of the header.
    pub fn header_mean_k(&self, y: &[f64]) -> f64 {
        self.header().map_or(f64::NAN, |v| {
            self.mean_of(v, y, self.layout.header_layers, self.header_layer_kg(y))
        })
    }

    pub(super) fn mean_of(&self, v: &VesselModel, y: &[f64], first: usize, layer_kg: f64) -> f64 {
        let h: f64 = y[first..first + v.layers].iter().sum::<f64>() * v.scale_j_k() * T_SCALE_K;
        let kg = v.layers as f64 * layer_kg;
        let c = v.layer_shell_j_k * v.layers as f64;
        let t = T_REF_K + h / (c + kg * 4186.0);
        let (hw, cp) = self.water.h_cp(t);
        t - (c * (t - T_REF_K) + kg * hw - h) / (c + kg * cp)
    }

    /// The bypass's header tank.
    pub fn header(&self) -> Option<&VesselModel> {
        Some(&self.circuit.as_ref()?.bypass.as_ref()?.header)
    }

    /// Temperature of the bench mass, K.
    pub fn bench_k(&self, y: &[f64]) -> f64 {
        self.layout
            .bench
            .map_or(f64::NAN, |i| T_REF_K + y[i] * T_SCALE_K)
    }

    /// Flow of the bypass, kg/s, positive up to the header.
    pub fn bypass_kg_s(&self, y: &[f64]) -> f64 {
        self.layout
            .bypass_flow
            .map_or(0.0, |i| y[i] * FLOW_SCALE_KG_S)
    }

    /// Loop flow, kg/s, with sign.
    pub fn flow_kg_s(&self, y: &[f64]) -> f64 {
        self.layout.flow.map_or(0.0, |i| y[i] * FLOW_SCALE_KG_S)
    }
}

impl Network {
    /// Air flow state, kg/s (may be negative; the march uses its floored value).
    pub fn air_kg_s(&self, y: &[f64]) -> f64 {
        y[self.layout.air] * AIR_SCALE_KG_S
    }

    /// Coldest inner wall of the flue sections, K.
    pub fn flue_wall_min_k(&self, y: &[f64]) -> f64 {
        let mut least = f64::INFINITY;
        for d in self.ducts.iter().filter(|d| d.is_flue) {
            for c in 0..d.wall_cells {
                let at = d.wall_state + c * d.wall.len();
                least = least.min(self.wall_node_k(&d.wall.nodes[0], y, at));
            }
        }
        least
    }

    /// Highest wall temperature against its material's limit: `(excess_k, limit_k, material, section)`.
    pub fn wall_over_limit(&self, y: &[f64]) -> Option<(f64, f64, &str, &str)> {
        let f = &self.firebox;
        let of_ducts = self.ducts.iter().flat_map(|d| {
            d.walls()
                .map(|(wall, first)| (d.name.as_str(), wall, first, d.wall_cells))
        });
        let mut worst: Option<(f64, f64, &str, &str)> = None;
        for (name, wall, first, cells) in std::iter::once(("firebox", &f.wall, f.wall_state, 1))
            .chain(f.plates.iter().map(|p| (p.name, &p.wall, p.wall_state, 1)))
            .chain(of_ducts)
        {
            let Some((limit, material, node)) = &wall.limit else {
                continue;
            };
            for c in 0..cells {
                let i = first + c * wall.len() + node;
                let over = self.wall_node_k(&wall.nodes[*node], y, i) - limit;
                if worst.is_none_or(|w| over > w.0) {
                    worst = Some((over, *limit, material, name));
                }
            }
        }
        worst
    }

    /// Hottest outside surface of stove and flue: temperature and section.
    pub fn outside_max_k(&self, y: &[f64]) -> (f64, &str) {
        let last = |w: &crate::components::wall::Wall, first: usize| {
            let i = w.len() - 1;
            self.wall_node_k(&w.nodes[i], y, first + i)
        };
        let mut worst = (last(&self.firebox.wall, self.firebox.wall_state), "firebox");
        for p in &self.firebox.plates {
            let t = last(&p.wall, p.wall_state);
            if t > worst.0 {
                worst = (t, p.name);
            }
        }
        for d in &self.ducts {
            for (wall, first) in d.walls() {
                for c in 0..d.wall_cells {
                    let t = last(wall, first + c * wall.len());
                    if t > worst.0 {
                        worst = (t, &d.name);
                    }
                }
            }
        }
        worst
    }

    /// Where along the coils' tube, from the end where the water enters, the middle of a cell lies, and their whole length, m.
    pub fn along_coil_m(&self, cell: usize) -> Option<(f64, f64)> {
        let coil = self.circuit.as_ref()?.coil.clone();
        if !coil.contains(&cell) {
            return None;
        }
        let length = |r: std::ops::Range<usize>| r.map(|i| self.tubes[i].length_m).sum::<f64>();
        let before = length(coil.start..cell);
        Some((before + 0.5 * self.tubes[cell].length_m, length(coil)))
    }

    /// Every water node of coil, pipes and store: kg and K.
    pub fn loop_water(&self, y: &[f64]) -> Vec<(f64, f64)> {
        let l = &self.layout;
        let tubes = self.tubes.iter().enumerate().map(|(i, t)| {
            let kg = t
                .inventory
                .map_or(t.water_kg, |k| y[l.inventory + k] * t.water_kg);
            let node = t.node(self.water, y[l.tubes + i] * t.scale_j_k() * T_SCALE_K, kg);
            (kg, node.t_k)
        });
        let layers = (0..l.layer_count).map(|i| (self.layer_kg(y), self.layer_k(y, i)));
        tubes.chain(layers).collect()
    }

    /// Coldest water of coil and pipes, K.
    pub fn loop_water_min_k(&self, y: &[f64]) -> f64 {
        let l = &self.layout;
        let mut least = f64::INFINITY;
        for (i, t) in self.tubes.iter().enumerate() {
            let kg = t
                .inventory
                .map_or(t.water_kg, |k| y[l.inventory + k] * t.water_kg);
            let node = t.node(self.water, y[l.tubes + i] * t.scale_j_k() * T_SCALE_K, kg);
            least = least.min(node.t_k);
        }
        least
    }

    /// Mean temperature of the coil's water by its mass, and of the coil's metal, K; hottest metal last.
    pub fn coil_means_k(&self, y: &[f64]) -> Option<(f64, f64, f64)> {
        let l = &self.layout;
        let (mut kg, mut kg_k, mut j_k, mut j) = (0.0, 0.0, 0.0, 0.0);
        let mut hottest = f64::NEG_INFINITY;
        for i in self.circuit.as_ref()?.coil.clone() {
            let t = &self.tubes[i];
            let Some(k) = t.inventory else { continue };
            let m = (y[l.inventory + k] * t.water_kg).max(0.0);
            let node = t.node(self.water, y[l.tubes + i] * t.scale_j_k() * T_SCALE_K, m);
            let wall = t
                .wall
                .map_or(node.t_k, |k| T_REF_K + y[l.tube_walls + k] * T_SCALE_K);
            kg += m;
            kg_k += m * node.t_k;
            j_k += t.wall_j_k;
            j += t.wall_j_k * wall;
            hottest = hottest.max(wall);
        }
        let water = if kg > 1e-6 { kg_k / kg } else { f64::NAN };
        (j_k > 0.0).then_some((water, j / j_k, hottest))
    }

    /// Driving and loss pressure of the loop against flow at the temperatures of a state: `(kg/s, Pa, Pa)`.
    pub fn loop_curves(&self, t_s: f64, y: &[f64], flows_kg_s: &[f64]) -> Vec<(f64, f64, f64)> {
        let Some(fi) = self.layout.flow else {
            return Vec::new();
        };
        let mut y = y.to_vec();
        flows_kg_s
            .iter()
            .map(|&w| {
                y[fi] = w / FLOW_SCALE_KG_S;
                let i = self.observe_water(t_s, &y);
                (w, i.loop_drive_pa, i.loop_loss_pa)
            })
            .collect()
    }
}
