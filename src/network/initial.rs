//! The state before the match: everything at ambient, the store at its own temperature; feeds entering the bed.

use super::Network;
use super::layout::*;
use crate::components::bed::Cohort;
use crate::components::embers;
use crate::components::spec::{FireboxKind, StickShape};

/// Ignition progress of kindling that a match has just caught: a tenth of it burns.
const LIT_BY_MATCH: f64 = 0.68;

impl Network {
    /// Puts the full water of a tube cell and its metal at one temperature.
    pub fn set_tube(&self, y: &mut [f64], i: usize, t_k: f64) {
        let (l, t) = (&self.layout, &self.tubes[i]);
        y[l.tubes + i] = t.enthalpy_j(self.water, t_k, t.water_kg) / (t.scale_j_k() * T_SCALE_K);
        if let Some(k) = t.wall {
            y[l.tube_walls + k] = (t_k - T_REF_K) / T_SCALE_K;
        }
    }

    /// State at time zero.
    pub fn initial_state(&self) -> Vec<f64> {
        let l = &self.layout;
        let mut y = vec![0.0; l.len()];
        let t_air = self.rig.site.air_temperature_k.at(0.0);
        y[l.flame] = (t_air - T_REF_K) / T_SCALE_K;
        y[l.embers] = (t_air - T_REF_K) / T_SCALE_K;
        y[l.hearth] = (t_air - T_REF_K) / T_SCALE_K;
        let mut set_wall =
            |first: usize, cells: usize, wall: &crate::components::wall::Wall, t_k: f64| {
                for c in 0..cells {
                    for (i, n) in wall.nodes.iter().enumerate() {
                        y[first + c * wall.len() + i] = n.state(t_k);
                    }
                }
            };
        set_wall(self.firebox.wall_state, 1, &self.firebox.wall, t_air);
        // Walls in water are as warm as that.
        let beside = |immersed: bool| match self.rig.bath() {
            Some(v) if immersed => v.start_temperature_k,
            _ => t_air,
        };
        for p in &self.firebox.plates {
            let at_k = beside(p.immersed.is_some());
            set_wall(p.wall_state, 1, &p.wall, at_k);
        }
        for d in &self.ducts {
            let at_k = beside(d.immersed.is_some());
            set_wall(d.wall_state, d.wall_cells, &d.wall, at_k);
            if let Some(a) = &d.across {
                set_wall(a.wall_state, d.wall_cells, &a.wall, t_air);
            }
        }
        self.wet_walls(&mut y);
        // The loop is filled with the store's water; pipes of a store kept warm have cooled to near ambient.
        // Never below freezing: a rig that is lit is not frozen.
        let filled = match &self.rig.water {
            crate::components::spec::Water::Store { vessel, .. } => vessel.start_temperature_k,
            crate::components::spec::Water::OnceThrough { inlet_k, .. } => *inlet_k,
            _ => t_air,
        };
        let t_water = filled.min(t_air.max(274.15) + 10.0).max(274.15);
        for (i, t) in self.tubes.iter().enumerate() {
            if let Some(k) = t.inventory {
                y[l.inventory + k] = 1.0;
            }
            self.set_tube(&mut y, i, t_water);
        }
        if let (Some(v), Some(m)) = (&self.vessel, l.vessel_mass) {
            let t0 = match &self.rig.water {
                crate::components::spec::Water::Store { vessel, .. } => vessel.start_temperature_k,
                _ => self
                    .bench
                    .as_ref()
                    .map_or(t_air, |b| b.spec.start_temperature_k),
            };
            for i in 0..v.layers {
                y[l.layers + i] =
                    v.layer_enthalpy_j(self.water, t0, v.layer_kg) / (v.scale_j_k() * T_SCALE_K);
            }
            y[m] = 1.0;
        }
        if let (Some(h), Some(m), Some(start)) =
            (self.header(), l.header_mass, self.header_start_k())
        {
            for i in 0..h.layers {
                y[l.header_layers + i] =
                    h.layer_enthalpy_j(self.water, start, h.layer_kg) / (h.scale_j_k() * T_SCALE_K);
            }
            y[m] = 1.0;
        }
        if let Some(drum) = &self.rig.drum {
            self.fill_drum(&mut y, drum.start_temperature_k);
        }
        for (kg, y) in self.carried.kg.iter().zip(&mut y[l.deposits..]) {
            *y = kg / DEPOSIT_SCALE_KG;
        }
        if let (Some(b), Some(i)) = (&self.bench, l.bench) {
            y[i] = (b.spec.start_temperature_k - T_REF_K) / T_SCALE_K;
        }
        self.let_out_before(&mut y);
        y
    }

    /// Temperature of the header's water at lighting.
    fn header_start_k(&self) -> Option<f64> {
        let bypass = self.rig.circuit()?.bypass.as_ref()?;
        Some(bypass.header.start_temperature_k)
    }

    /// Puts wood into the bed. `lit`: it is kindling already alight.
    ///
    /// The slot with the least virgin wood is used; what is left in it joins the new feed (masses add, so nothing is lost).
    pub fn add_wood(
        &mut self,
        y: &mut [f64],
        t_s: f64,
        moist_kg: f64,
        thickness_m: f64,
        moisture_wet: f64,
        lit: bool,
    ) {
        let l = &self.layout;
        let water_per_dry = moisture_wet / (1.0 - moisture_wet);
        let dry = moist_kg / (1.0 + water_per_dry);
        let f = &self.rig.fuel;
        let length = f.stick.length_m;
        let section_of_one = match f.stick.shape {
            StickShape::Round => std::f64::consts::PI / 4.0 * thickness_m * thickness_m,
            StickShape::Square => thickness_m * thickness_m,
        };
        let pieces = dry / (f.density_kg_m3 * section_of_one * length);
        let slot = self.free_slot(y);
        let l_virgin = l.virgin;
        let left = self.mode.cohorts[slot].fed;
        let left_dry = left.dry_kg * y[l_virgin + slot];
        let t_air = self.rig.site.air_temperature_k.at(t_s);
        // What was left in the slot joins the new feed, with its own water and enthalpy.
        let total = dry + left_dry;
        let mix = |new: f64, old: f64| {
            if total > 0.0 {
                (new * dry + old * left_dry) / total
            } else {
                new
            }
        };
        let lit_share_old = y[l.kindled + slot];
        let fed = Cohort {
            dry_kg: total,
            water_per_dry: mix(water_per_dry, left.water_per_dry),
            radius_m: 0.5 * thickness_m,
            char_surface: embers::REFERENCE_M
                / (self.rig.closures.ember_size * embers::piece_m(thickness_m)),
            density_kg_m3: f.density_kg_m3,
            cross_section_m2: if self.rig.firebox.kind == FireboxKind::FeedTube && !lit {
                pieces * section_of_one
            } else {
                0.0
            },
            stick_length_m: if lit {
                self.rig.firebox.burning_length_m.min(length)
            } else {
                length
            },
            sensible_j_kg: mix(
                self.fuel.sensible_j_kg_dry(t_air, water_per_dry),
                left.sensible_j_kg,
            ),
        };
        self.mode.cohorts[slot] = fed.laid(self.rig.firebox.burning_length_m);
        y[l_virgin + slot] = 1.0;
        y[l.kindled + slot] = if lit {
            // A match lights a corner of the kindling; its own flames light the rest within a minute or two.
            LIT_BY_MATCH
        } else {
            mix(0.0, lit_share_old)
        };
    }

    /// An empty slot, or the one with the least virgin wood left.
    fn free_slot(&self, y: &[f64]) -> usize {
        let left = |k: usize| self.mode.cohorts[k].fed.dry_kg * y[self.layout.virgin + k].max(0.0);
        (0..COHORTS)
            .min_by(|&a, &b| left(a).total_cmp(&left(b)))
            .unwrap_or(0)
    }
}
