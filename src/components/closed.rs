//! A loop shut in from the air: its pressure follows from the water's expansion against the gas of a vessel.
//!
//! Closed membrane vessel as in EN 12828 annex D (from memory): the water that the heat displaces presses the gas
//! together, slowly enough that it keeps its temperature (Boyle). An algebraic function of the state: no iteration,
//! no state of its own. The gas's own warming, the stretch of pipes and tank and water's compressibility are left out.

use super::spec::Closed;
use crate::properties::water::Water;

/// Temperature of the water at which the fill pressure holds, K: 10 degC (EN 12828 annex D, from memory).
pub const FILL_K: f64 = 283.15;

/// Closed loop, assembled. Pressures are absolute, at the water's top in the store, where the vessel is taken to sit.
#[derive(Debug, Clone)]
pub struct ClosedLoop {
    /// All water of the loop when cold, m3.
    pub cold_m3: f64,
    /// Gas in the vessel then, m3.
    pub gas_m3: f64,
    pub fill_pa: f64,
    pub relief_pa: f64,
    /// Gauge zero: the air's pressure.
    pub air_pa: f64,
}

impl ClosedLoop {
    /// `water_kg`: all water of store, coils and pipes; `air_pa`: local air pressure, absolute.
    pub fn new(c: &Closed, water: &Water, water_kg: f64, air_pa: f64) -> Self {
        let fill_pa = air_pa + c.fill_pa;
        Self {
            cold_m3: water_kg / water.rho_kg_m3(FILL_K),
            gas_m3: c.vessel_m3 * (air_pa + c.precharge_pa) / fill_pa,
            fill_pa,
            relief_pa: air_pa + c.relief_pa,
            air_pa,
        }
    }

    /// How far the water's volume is over that at which the relief setting is reached, as a pressure: 0 there, steady
    /// through it and linear in the volume.
    pub fn relief_excess_pa(&self, volume_m3: f64) -> f64 {
        let gas_m3 = self.gas_m3 - (volume_m3 - self.cold_m3);
        self.fill_pa - self.relief_pa * gas_m3 / self.gas_m3
    }

    /// Pressure with the loop's water, and steam in place of water, taking up `volume_m3`. The relief setting at most:
    /// also where there would be no room for gas left.
    pub fn pressure_pa(&self, volume_m3: f64) -> f64 {
        let gas_m3 = self.gas_m3 - (volume_m3 - self.cold_m3);
        let product = self.fill_pa * self.gas_m3;
        if gas_m3 * self.relief_pa > product {
            product / gas_m3
        } else {
            self.relief_pa
        }
    }
}
