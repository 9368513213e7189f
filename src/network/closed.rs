//! Pressure of a closed loop at one moment, and saturation in its cells there.

use super::{Network, Scratch};
use crate::components::closed::ClosedLoop;

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
    /// the stream is not counted. A store hotter than its boiling point makes steam that has no way out, and presses
    /// until the water no longer boils; at the relief setting it may boil over.
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
            .min(c.relief_pa);
        let rise_pa = top_pa - c.fill_pa;
        for (cell, t) in s.cells.iter_mut().zip(&self.tubes) {
            cell.p_pa = (t.p_pa + rise_pa).max(LEAST_PA);
            cell.sat = water.sat(cell.p_pa);
        }
        s.instant.loop_pressure_pa = top_pa - c.air_pa;
        s.instant.relief_excess_pa = c
            .relief_excess_pa(volume_m3)
            .max(water.p_sat_pa(hottest_k) - c.relief_pa);
    }
}
