//! Pressure of a closed loop at one moment, and saturation in its cells there.

use super::layout::{E_SCALE_J, Integral, T_SCALE_K};
use super::{Network, Scratch};
use crate::components::closed::{BlownOff, ClosedLoop};
use crate::components::vessel::PortFlow;

/// Lowest pressure that a cell far above the store is given, Pa.
const LEAST_PA: f64 = 2e3;

impl Network {
    /// The closed loop, where there is one.
    pub fn closed(&self) -> Option<&ClosedLoop> {
        self.circuit.as_ref()?.closed.as_ref()
    }

    /// Sets the cells' pressures and saturation from the temperatures in `s`.
    ///
    /// A cell whose water has turned to steam still fills its room; that water is in the store. Steam carried along by
    /// the stream is not counted. A store hotter than its boiling point makes steam that has no way out but the relief
    /// valve, and presses until the water no longer boils.
    pub(super) fn pressurise(&self, c: &ClosedLoop, y: &[f64], s: &mut Scratch) {
        let water = self.water;
        let mut volume_m3 = 0.0;
        for (t, node) in self.tubes.iter().zip(&s.tube) {
            volume_m3 += t.water_kg / node.rho_kg_m3;
        }
        let layer_kg = self.layer_kg(y);
        let mut hottest_k = 0.0f64;
        for &t_k in &s.layer_t_k {
            volume_m3 += layer_kg / water.rho_kg_m3(t_k);
            hottest_k = hottest_k.max(t_k);
        }
        let top_pa = c
            .pressure_pa(volume_m3)
            .max(water.p_sat_pa(hottest_k))
            .min(c.most_pa());
        let rise_pa = top_pa - c.fill_pa;
        for (cell, t) in s.cells.iter_mut().zip(&self.tubes) {
            cell.p_pa = (t.p_pa + rise_pa).max(LEAST_PA);
            cell.sat = water.sat(cell.p_pa);
        }
        s.instant.loop_pressure_pa = top_pa - c.air_pa;
        let steam_pa = water.p_sat_pa(hottest_k);
        let over = |limit_pa: f64| c.excess_pa(volume_m3, limit_pa).max(steam_pa - limit_pa);
        s.instant.relief_excess_pa = over(c.relief_pa);
        s.instant.reseat_excess_pa = over(c.reseat_pa);
        s.instant.burst_excess_pa = over(c.burst_pa);
        if self.mode.relief_open
            && let Some(&top_k) = s.layer_t_k.last()
        {
            s.blown_off = c.blown_off(water, top_pa, top_k, hottest_k);
        } else {
            s.blown_off = BlownOff::default();
        }
        s.instant.relief_water_kg_s = s.blown_off.water_kg_s;
        s.instant.relief_steam_kg_s = s.blown_off.steam_kg_s;
    }

    /// A closed store that starts so warm that its relief valve has lifted before: what was too much is gone, and the pressure is that
    /// at which the valve shut.
    pub(super) fn let_out_before(&self, y: &mut [f64]) {
        let (Some(c), Some(v), Some(m)) = (self.closed(), &self.vessel, self.layout.vessel_mass)
        else {
            return;
        };
        let layers = |y: &[f64]| {
            (0..v.layers)
                .map(|i| self.layer_k(y, i))
                .collect::<Vec<_>>()
        };
        let volume_m3: f64 = self
            .loop_water(y)
            .iter()
            .map(|&(kg, t_k)| kg / self.water.rho_kg_m3(t_k))
            .sum();
        if c.excess_pa(volume_m3, c.relief_pa) <= 0.0 {
            return;
        }
        // The excess is linear in the volume.
        let over_m3 = c.excess_pa(volume_m3, c.reseat_pa) * c.gas_m3 / c.reseat_pa;
        let t_k = layers(y);
        let store_m3: f64 = t_k
            .iter()
            .map(|&t| self.layer_kg(y) / self.water.rho_kg_m3(t))
            .sum();
        let left = (1.0 - over_m3 / store_m3).max(0.0);
        y[m] *= left;
        let kg = self.layer_kg(y);
        for (i, &t) in t_k.iter().enumerate() {
            y[self.layout.layers + i] =
                v.layer_enthalpy_j(self.water, t, kg) / (v.scale_j_k() * T_SCALE_K);
        }
    }

    /// What leaves the store's layers through the relief valve: water from the top one, steam from all that boil. Fills `ports`;
    /// how many, and their enthalpy, W.
    pub(super) fn relief_ports(&self, s: &Scratch, ports: &mut [PortFlow]) -> (usize, f64) {
        let out = s.blown_off;
        let Some(top) = s.layer_t_k.len().checked_sub(1) else {
            return (0, 0.0);
        };
        let mut used = 0;
        let mut total_w = 0.0;
        let mut take = |layer: usize, kg_s: f64, h_j_kg: f64| {
            ports[used] = PortFlow {
                layer,
                mdot_kg_s: -kg_s,
                enthalpy_w: -kg_s * h_j_kg,
            };
            used += 1;
            total_w += kg_s * h_j_kg;
        };
        if out.water_kg_s > 0.0 {
            take(top, out.water_kg_s, self.water.h_j_kg(s.layer_t_k[top]));
        }
        let all: f64 = s.layer_t_k.iter().map(|&t| out.boils(t)).sum();
        if out.steam_kg_s > 0.0 && all > 0.0 {
            for (i, &t) in s.layer_t_k.iter().enumerate() {
                let share = out.boils(t) / all;
                if share > 0.0 {
                    let h = self.water.h_j_kg(t) + self.water.h_fg_at_t_j_kg(t);
                    take(i, share * out.steam_kg_s, h);
                }
            }
        }
        (used, total_w)
    }

    /// Shuts the coil and the pipes in at a pressure that the rest of the loop does not have: their water boils at that.
    /// The loop's own pressure is no longer followed.
    pub fn shut_in(&mut self, p_pa: f64) {
        let sat = self.water.sat(p_pa);
        for t in &mut self.tubes {
            t.p_pa = p_pa;
            t.sat = sat;
        }
        if let Some(c) = &mut self.circuit {
            c.closed = None;
        }
        self.mode.relief_open = false;
        let s = self.scratch.get_mut();
        s.cells.clear();
        s.blown_off = BlownOff::default();
    }

    /// Lets the drum's water out, or without one the store's, until this share of its mass is left, its layers as warm as they were: what
    /// it carried counts as drawn, of a drum as boiled off.
    pub fn lower_level(&self, share: f64, y: &mut [f64]) {
        if self.drum.is_some() {
            self.lower_drum(share, y);
            return;
        }
        let (Some(v), Some(mass)) = (&self.vessel, self.layout.vessel_mass) else {
            return;
        };
        let l = &self.layout;
        let before_kg = self.layer_kg(y);
        let kg = share * before_kg;
        let mut out_j = 0.0;
        for i in 0..v.layers {
            let t_k = self.layer_k(y, i);
            let before = y[l.layers + i];
            y[l.layers + i] = v.layer_enthalpy_j(self.water, t_k, kg) / (v.scale_j_k() * T_SCALE_K);
            out_j += (before - y[l.layers + i]) * v.scale_j_k() * T_SCALE_K;
        }
        y[mass] = kg / v.layer_kg;
        y[l.integral(Integral::DrawsOut)] += out_j / E_SCALE_J;
        y[l.integral(Integral::VesselWaterOut)] +=
            (before_kg - kg) * v.layers as f64 / Integral::VesselWaterOut.scale();
    }

    /// Empties the coil, as by a drain: what its water carried counts as drawn. Leaves the metal as warm as it was.
    pub fn drain_coil(&self, y: &mut [f64]) {
        let Some(c) = &self.circuit else { return };
        let l = &self.layout;
        let mut drained_kg = 0.0;
        let mut drained_j = 0.0;
        for i in c.coil.clone() {
            let t = &self.tubes[i];
            let Some(k) = t.inventory else { continue };
            let kg = y[l.inventory + k] * t.water_kg;
            let node = t.node(self.water, y[l.tubes + i] * t.scale_j_k() * T_SCALE_K, kg);
            let before = y[l.tubes + i];
            y[l.tubes + i] = t.enthalpy_j(self.water, node.t_k, 0.0) / (t.scale_j_k() * T_SCALE_K);
            y[l.inventory + k] = 0.0;
            drained_kg += kg;
            // What the state lost, not kg h(T): the temperature is known to a few joules only.
            drained_j += (before - y[l.tubes + i]) * t.scale_j_k() * T_SCALE_K;
        }
        y[l.integral(Integral::DrawsOut)] += drained_j / E_SCALE_J;
        y[l.integral(Integral::VesselWaterOut)] += drained_kg / Integral::VesselWaterOut.scale();
    }
}
