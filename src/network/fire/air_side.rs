//! Air on its way in, and what of its oxygen reaches the embers.

use super::Hot;
use crate::components::embers::{self, Heap};
use crate::components::spec::FireboxKind;
use crate::correlations::charring;
use crate::network::Network;
use crate::network::fuel::AIR_O2;
use crate::network::fullness::{mouth_m2, side_by_side};
use crate::network::layout::*;

/// Air that a cold or reversed stove still draws, kg/s: the march never runs on nothing.
const LEAK_AIR_KG_S: f64 = 2e-4;
/// Share of the air from below that comes among the sticks. A third passes below and beside them: what enters low reaches the embers
/// (estimate; wood cribs that burn all the air of their room, Kawagoe 1958, ask for as much).
pub(super) const AMONG_STICKS: f64 = 0.67;
/// Never more than four fifths of the oxygen that comes to the embers is taken (estimate).
const TAKEN_MOST: f64 = 0.8;

/// Air on its way in.
#[derive(Clone, Copy)]
pub(super) struct AirNow {
    pub t_k: f64,
    /// The state itself, which may be negative, and the flow that reaches the fire, kg/s dry.
    pub raw_kg_s: f64,
    pub kg_s: f64,
    /// Of it what enters low, and what enters over the fire.
    pub under_kg_s: f64,
    pub over_kg_s: f64,
    /// kg vapour per kg dry air.
    pub humidity: f64,
    pub rho_kg_m3: f64,
    /// Free area for it, m2.
    pub free_m2: f64,
}

/// Gas that comes to the embers.
#[derive(Clone, Copy)]
pub(super) struct AtEmbers {
    pub gas: charring::CharGas,
    /// Oxygen that they can take of it at most, kg/s.
    pub most_o2_kg_s: f64,
}

impl Network {
    #[inline(always)]
    pub(super) fn air_now(&self, t_k: f64, y: &[f64]) -> AirNow {
        let raw_kg_s = y[self.layout.air] * AIR_SCALE_KG_S;
        // Smooth floor: a reversed or dead draught leaves the leak.
        let kg_s =
            0.5 * (raw_kg_s + (raw_kg_s * raw_kg_s + 4.0 * LEAK_AIR_KG_S * LEAK_AIR_KG_S).sqrt());
        let (free_m2, over_m2) = self.free_inlet_m2(y);
        let over_kg_s = kg_s * (over_m2 / free_m2);
        AirNow {
            t_k,
            raw_kg_s,
            kg_s,
            under_kg_s: kg_s - over_kg_s,
            over_kg_s,
            humidity: 0.622 * self.vapour_pa / (self.p_air_pa - self.vapour_pa),
            rho_kg_m3: self.p_air_pa / (self.air_mix.r_j_kgk() * t_k),
            free_m2,
        }
    }

    /// Free area for air, m2: mouth less sticks and cover, inlets, leaks; and of it what opens over the fire.
    #[inline(always)]
    fn free_inlet_m2(&self, y: &[f64]) -> (f64, f64) {
        let f = &self.rig.firebox;
        let c = &self.rig.closures;
        let leak = c.leakage_share * self.firebox.leaky_m2;
        let mouth = match f.kind {
            FireboxKind::FeedTube => {
                let virgin = &y[self.layout.virgin..self.layout.virgin + COHORTS];
                let sticks: f64 = self
                    .mode
                    .cohorts
                    .iter()
                    .zip(virgin)
                    .map(|(sticks, v)| sticks.mouth_section_m2(*v))
                    .sum();
                let free = mouth_m2(f) - side_by_side(self.rig.fuel.stick.shape) * sticks;
                // Never quite shut: 4 % of the mouth stays open between sticks, reached smoothly.
                let least = 0.04 * f.mouth_area_m2;
                least
                    + 0.5
                        * (free - least
                            + ((free - least).powi(2) + (0.05 * f.mouth_area_m2).powi(2)).sqrt())
            }
            FireboxKind::Door | FireboxKind::DownDraught => 0.0,
        };
        let door = if self.mode.door_open && f.has_door() {
            f.mouth_area_m2
        } else {
            0.0
        };
        let free =
            c.inlet_area * (self.mode.air_inlet * (mouth + f.air_inlet_area_m2) + door) + leak;
        // A door leaks all around, as high and as low as its inlets; a mouth leaks where it was cut, a magazine above its embers.
        let leaks_over = match f.kind {
            FireboxKind::FeedTube | FireboxKind::DownDraught => 0.0,
            FireboxKind::Door => leak,
        };
        let inlets = c.inlet_area * self.mode.air_inlet * f.air_inlet_area_m2;
        (free, f.air_over_share * (inlets + leaks_over))
    }

    /// What comes to the embers once the volatiles have burnt that want `volatile_air_kg_s`.
    ///
    /// What enters low comes to them with the oxygen that the volatiles leave. What enters over the fire must come down to the
    /// heap as to a plate: natural and forced convection at the chamber's gas, never more than enters. Of the share `down` of the gas,
    /// which is drawn through the embers, it enters below them, and nothing comes up.
    #[inline(always)]
    pub(super) fn at_embers(
        &self,
        air: &AirNow,
        hot: &Hot,
        heap: &Heap,
        volatile_air_kg_s: f64,
        down: f64,
    ) -> AtEmbers {
        let fb = &self.firebox;
        let chamber_m_s = air.kg_s / (air.rho_kg_m3 * fb.flow_area_m2) * hot.flame_k / air.t_k;
        // Film between embers and gas: ν ~ T^1.7, D(O2) ~ T^1.75 from 293 K (handbook fits, within 5 %). By square roots, which
        // are quicker than powers; T^-0.05 as a fraction of the fourth root, within 0.1 % to 1500 K.
        let film_k = 0.5 * (hot.embers_k + hot.flame_k);
        let warm = film_k * (1.0 / 293.0);
        let second = warm.sqrt();
        let fourth = second.sqrt();
        let diffuses = warm * second * fourth;
        let pressure = 101_325.0 / self.p_air_pa;
        let mut gas = charring::CharGas {
            y_o2: 0.0,
            rho_kg_m3: self.p_air_pa / (287.05 * film_k),
            // Half of a heap is voids.
            velocity_m_s: chamber_m_s * (1.0 + down),
            nu_m2_s: 1.51e-5 * diffuses * (0.6 + 0.4 * fourth) / (0.4 + 0.6 * fourth) * pressure,
            diffusivity_m2_s: 2.0e-5 * diffuses * pressure,
        };
        // Volatiles burn first; what oxygen they leave reaches the embers.
        let low = |kg_s: f64| {
            AIR_O2 * (1.0 - AMONG_STICKS * volatile_air_kg_s / (volatile_air_kg_s + kg_s))
        };
        if air.over_kg_s == 0.0 {
            gas.y_o2 = low(air.kg_s);
            return AtEmbers {
                gas,
                most_o2_kg_s: TAKEN_MOST * gas.y_o2 * air.kg_s,
            };
        }
        let f = &self.rig.firebox;
        let (hearth_m, hotter_k) = ((f.width_m, f.depth_m), hot.embers_k - hot.flame_k);
        let sinks =
            heap.glow_m2 * gas.rho_kg_m3 * embers::sinks_m_s(hearth_m, film_k, hotter_k, &gas);
        let sinks_kg_s = (1.0 - down) * sinks * air.over_kg_s / (sinks + air.over_kg_s);
        let left_above = AIR_O2 * air.kg_s / (air.kg_s + volatile_air_kg_s);
        let comes_kg_s = air.under_kg_s + sinks_kg_s + 1e-12;
        let o2_kg_s = low(air.under_kg_s + 1e-12) * air.under_kg_s + left_above * sinks_kg_s;
        gas.y_o2 = o2_kg_s / comes_kg_s;
        gas.velocity_m_s *= comes_kg_s / air.kg_s;
        AtEmbers {
            gas,
            most_o2_kg_s: TAKEN_MOST * o2_kg_s,
        }
    }
}
