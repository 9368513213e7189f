//! A loop shut in from the air: its pressure follows from the water's expansion against the gas of a vessel, and a relief
//! valve lets out what is too much.
//!
//! Closed membrane vessel as in EN 12828 annex D (from memory): the water that the heat displaces presses the gas
//! together, slowly enough that it keeps its temperature (Boyle). Where hardly any gas is left the water's compressibility
//! and the stretch of the tube take over, as in a section shut in between two valves. An algebraic function of the
//! state: no iteration, no state of its own. The gas's own warming and the growth of the warm metal are left out.

use super::spec::{Closed, Coil};
use crate::correlations::hazard::{
    TubeWall, steam_flow_kg_h, water_compressibility_per_pa, water_flow_kg_h,
};
use crate::correlations::smoothstep;
use crate::properties::water::Water;
use crate::properties::{limits, metals};

/// Temperature of the water at which the fill pressure holds, K: 10 degC (EN 12828 annex D, from memory).
pub const FILL_K: f64 = 283.15;
/// Temperature at which the water's compressibility is taken, degC: it lies within 4 % of this from 10 to 90 degC.
const STIFF_C: f64 = 60.0;
/// Pressures are followed up to this over the burst pressure: the run ends at that.
const BEYOND_BURST: f64 = 1.2;
/// Water within this of its boiling point at the valve turns from water to steam in the flow, K.
const STEAM_NEAR_K: f64 = 2.0;

/// Closed loop, assembled. Pressures are absolute, at the water's top in the store, where vessel and valve are taken to sit.
#[derive(Debug, Clone)]
pub struct ClosedLoop {
    /// All water of the loop when cold, m3.
    pub cold_m3: f64,
    /// Gas in the vessel then, m3.
    pub gas_m3: f64,
    /// Room that the water's compressibility and the tubes' stretch give, m3/Pa.
    pub give_m3_pa: f64,
    pub fill_pa: f64,
    pub relief_pa: f64,
    pub reseat_pa: f64,
    pub burst_pa: f64,
    /// Flow area of the relief valve, and its discharge coefficient.
    pub relief_m2: f64,
    pub discharge: f64,
    /// Gauge zero: the air's pressure.
    pub air_pa: f64,
}

/// What leaves through an open relief valve, kg/s.
#[derive(Debug, Clone, Copy, Default)]
pub struct BlownOff {
    pub water_kg_s: f64,
    pub steam_kg_s: f64,
    /// Boiling point at the valve, K.
    pub sat_k: f64,
}

impl BlownOff {
    /// How much water of `t_k` takes part in making the steam: none 2 K under its boiling point, all from that on.
    pub fn boils(&self, t_k: f64) -> f64 {
        smoothstep(1.0 + (t_k - self.sat_k) / STEAM_NEAR_K)
    }
}

/// Elastic data of a coil's tube.
pub fn tube_wall(c: &Coil) -> TubeWall {
    let e = limits::elastic(&c.metal.name);
    TubeWall {
        outside_m: c.tube_outside_m,
        inside_m: c.tube_inside_m,
        young_pa: e.young_pa,
        poisson: e.poisson,
        expansion_per_k: metals::by_name(&c.metal.name).map_or(12e-6, |m| m.expansion_per_k),
    }
}

impl ClosedLoop {
    /// `water_kg`: all water of store, coils and pipes; `stretch_per_pa`: of their walls, taken as the coil's; `air_pa`:
    /// local air pressure, absolute.
    pub fn new(c: &Closed, water: &Water, water_kg: f64, stretch_per_pa: f64, air_pa: f64) -> Self {
        let fill_pa = air_pa + c.fill_pa;
        let cold_m3 = water_kg / water.rho_kg_m3(FILL_K);
        Self {
            cold_m3,
            gas_m3: c.vessel_m3 * (air_pa + c.precharge_pa) / fill_pa,
            give_m3_pa: cold_m3 * (water_compressibility_per_pa(STIFF_C) + stretch_per_pa),
            fill_pa,
            relief_pa: air_pa + c.relief_pa,
            reseat_pa: air_pa + c.reseat_pa,
            burst_pa: air_pa + c.burst_pa,
            relief_m2: std::f64::consts::PI / 4.0 * c.relief_bore_m * c.relief_bore_m,
            discharge: c.relief_discharge,
            air_pa,
        }
    }

    /// How far the water's volume is over that at which a pressure is reached, as a pressure: 0 there, steady through it
    /// and linear in the volume.
    pub fn excess_pa(&self, volume_m3: f64, limit_pa: f64) -> f64 {
        let room_m3 = self.room_m3(volume_m3) + self.give_m3_pa * (limit_pa - self.fill_pa);
        self.fill_pa - limit_pa * room_m3 / self.gas_m3
    }

    /// Gas left if neither water nor walls gave way.
    fn room_m3(&self, volume_m3: f64) -> f64 {
        self.gas_m3 - (volume_m3 - self.cold_m3)
    }

    /// Highest pressure that is followed.
    pub fn most_pa(&self) -> f64 {
        BEYOND_BURST * self.burst_pa
    }

    /// Pressure with the loop's water, and steam in place of water, taking up `volume_m3`: the root of
    /// p (V_gas + E (p − p_fill)) = p_fill V_gas,fill, E the give of water and walls. Without gas it is the stiff rise of
    /// trapped water, ΔV/E.
    pub fn pressure_pa(&self, volume_m3: f64) -> f64 {
        let b = self.room_m3(volume_m3) - self.give_m3_pa * self.fill_pa;
        let product = self.fill_pa * self.gas_m3;
        let root = (b * b + 4.0 * self.give_m3_pa * product).sqrt();
        // The form without a difference of nearly equal numbers.
        let p = if b > 0.0 {
            2.0 * product / (b + root)
        } else {
            (root - b) / (2.0 * self.give_m3_pa)
        };
        p.min(self.most_pa())
    }

    /// Through the open valve at the store's top: water of `top_k`, or steam where the hottest water boils. EN ISO 4126-1.
    pub fn blown_off(&self, water: &Water, p_pa: f64, top_k: f64, hottest_k: f64) -> BlownOff {
        let sat = water.sat(p_pa);
        let mut out = BlownOff {
            sat_k: sat.t_k,
            ..BlownOff::default()
        };
        let steam = out.boils(hottest_k);
        let rho = water.rho_kg_m3(top_k.min(sat.t_k));
        let liquid = water_flow_kg_h(self.relief_m2, p_pa, rho, self.air_pa, self.discharge);
        let vapour = steam_flow_kg_h(
            self.relief_m2,
            p_pa,
            1.0 / sat.rho_g_kg_m3,
            self.air_pa,
            self.discharge,
        );
        out.water_kg_s = (1.0 - steam) * liquid / 3600.0;
        out.steam_kg_s = steam * vapour / 3600.0;
        out
    }
}
