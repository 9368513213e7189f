//! From the coil's metal into its water, cell by cell.

use super::layout::{T_REF_K, T_SCALE_K};
use super::march::BRANCHES;
use super::{Network, Scratch};
use crate::components::tube::{self, NodeWater, WallHeat};
use crate::correlations::{boiling, greater};

impl Network {
    /// Faces of the coil's cells and the heat through them, from the temperatures of metal and water alone: fire and
    /// march both need them.
    #[inline(always)]
    pub(super) fn coil_films(&self, y: &[f64], s: &mut Scratch) {
        let Some(circuit) = &self.circuit else { return };
        let l = &self.layout;
        let flow_kg_s = (self.flow_kg_s(y) + self.bypass_kg_s(y)).abs();
        let (mut hottest, mut excess) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        let mut critical = 0.0f64;
        let (metal, inventory) = (&y[l.tube_walls..], &y[l.inventory..]);
        let coil = circuit.coil.clone();
        let pressed = s.cells.get(coil.clone());
        let cells = pressed.unwrap_or(&self.tubes[coil.clone()]);
        let nodes = s.tube[coil.clone()].iter();
        let through = s.film[coil.clone()].iter_mut();
        let faces = s.face_t_k[coil.clone()].iter_mut();
        let of_metal = s.face_heat_w[coil.clone()].iter_mut();
        let of_water = s.tube_heat_w[coil].iter_mut();
        for (((((cell, node), through), face_k), of_metal_w), of_water_w) in cells
            .iter()
            .zip(nodes)
            .zip(through)
            .zip(faces)
            .zip(of_metal)
            .zip(of_water)
        {
            let Some(k) = cell.inventory else { continue };
            let film = tube::film(
                cell,
                &self.tables[cell.table],
                &self.natural,
                self.rig.closures.water_convection,
                flow_kg_s,
                node,
                T_REF_K + metal[k] * T_SCALE_K,
                inventory[k] * cell.water_kg,
            );
            hottest = greater(hottest, film.face_k);
            critical = greater(critical, film.heat_w * cell.per_critical_w);
            let over = film.face_k - cell.sat.t_k;
            let near = if over > 0.0 {
                let flux = (film.heat_w / cell.inside_area_m2).max(1.0);
                over - boiling::onset_superheat_k(flux, cell.p_pa)
            } else {
                over - 5.0
            };
            excess = greater(excess, near);
            *through = wall_heat(node, &film);
            *face_k = film.face_k;
            *of_metal_w = -film.heat_w;
            *of_water_w = film.heat_w;
        }
        self.pipe_films(y, s);
        s.instant.coil_wall_max_k = hottest;
        s.instant.wall_boiling_excess_k = excess;
        s.instant.critical_flux_share = critical;
    }

    /// The same for pipes whose metal has a temperature of its own.
    #[inline(always)]
    fn pipe_films(&self, y: &[f64], s: &mut Scratch) {
        if !self.moves_by_itself() {
            return;
        }
        for b in 0..BRANCHES {
            let Some(branch) = self.branch(b) else { break };
            let flow_kg_s = if b == 0 {
                self.flow_kg_s(y)
            } else {
                self.bypass_kg_s(y)
            };
            for i in branch.cold.clone().chain(branch.hot.clone()) {
                let cell = s.cells.get(i).unwrap_or(&self.tubes[i]);
                let Some(k) = cell.wall else { continue };
                let film = tube::film(
                    cell,
                    &self.tables[cell.table],
                    &self.natural,
                    self.rig.closures.water_convection,
                    flow_kg_s.abs(),
                    &s.tube[i],
                    T_REF_K + y[self.layout.tube_walls + k] * T_SCALE_K,
                    cell.water_kg,
                );
                self.heat_water(i, &film, s);
            }
        }
    }

    /// Heat through a face into a cell's water.
    fn heat_water(&self, i: usize, film: &tube::Film, s: &mut Scratch) {
        s.film[i] = wall_heat(&s.tube[i], film);
        s.face_t_k[i] = film.face_k;
        s.face_heat_w[i] = -film.heat_w;
        s.tube_heat_w[i] = film.heat_w;
    }
}

/// What the stream past a cell's wall needs to know of it.
#[inline]
fn wall_heat(node: &NodeWater, film: &tube::Film) -> WallHeat {
    WallHeat {
        heat_w: film.heat_w,
        h_wall_j_kg: node.h_j_kg + node.cp_j_kgk * (film.face_k - node.t_k),
    }
}
