//! From the coil's metal into its water, cell by cell.

use super::layout::{T_REF_K, T_SCALE_K};
use super::march::BRANCHES;
use super::{Network, Scratch};
use crate::components::tube::{self, WallHeat};
use crate::correlations::{boiling, greater};

impl Network {
    /// Faces of the coil's cells and the heat through them, from the temperatures of metal and water alone: fire and
    /// march both need them.
    pub(super) fn coil_films(&self, y: &[f64], s: &mut Scratch) {
        let Some(circuit) = &self.circuit else { return };
        let l = &self.layout;
        let flow_kg_s = (self.flow_kg_s(y) + self.bypass_kg_s(y)).abs();
        let (mut hottest, mut excess) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        let mut critical = 0.0f64;
        for i in circuit.coil.clone() {
            let cell = s.cells.get(i).unwrap_or(&self.tubes[i]);
            let Some(k) = cell.inventory else { continue };
            let node = &s.tube[i];
            let film = tube::film(
                cell,
                &self.tables[cell.table],
                &self.natural,
                self.rig.closures.water_convection,
                flow_kg_s,
                node,
                T_REF_K + y[l.tube_walls + k] * T_SCALE_K,
                y[l.inventory + k] * cell.water_kg,
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
            self.heat_water(i, &film, s);
        }
        self.pipe_films(y, s);
        s.instant.coil_wall_max_k = hottest;
        s.instant.wall_boiling_excess_k = excess;
        s.instant.critical_flux_share = critical;
    }

    /// The same for pipes whose metal has a temperature of its own.
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
        let node = &s.tube[i];
        s.film[i] = WallHeat {
            heat_w: film.heat_w,
            h_wall_j_kg: node.h_j_kg + node.cp_j_kgk * (film.face_k - node.t_k),
        };
        s.face_t_k[i] = film.face_k;
        s.face_heat_w[i] = -film.heat_w;
        s.tube_heat_w[i] = film.heat_w;
    }
}
