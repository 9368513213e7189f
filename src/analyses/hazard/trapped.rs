//! Water shut in between two valves: its pressure from the simulated temperatures of water and metal.

use crate::components::closed::tube_wall;
use crate::components::spec::Coil;
use crate::correlations::hazard::{TubeWall, trapped_rise_pa, water_compressibility_per_pa};
use crate::properties::limits::{self, Strength};
use crate::properties::water::Water;

/// Largest rise of the water over which expansion and compressibility are taken as constant, K.
const STEP_K: f64 = 1.0;

/// Pressure of the shut-in water as the run goes on.
#[derive(Debug, Clone)]
pub struct Trapped {
    tube: TubeWall,
    strength: Option<&'static Strength>,
    /// Water and metal at the last look.
    last_k: Option<(f64, f64)>,
    start: (f64, f64),
    /// Over the air's.
    pub pressure_pa: f64,
    pub rated_s: Option<f64>,
    pub burst_s: Option<f64>,
    /// Pressure at the burst, or so far, and the rises that led to it.
    pub peak_pa: f64,
    pub rise_k: f64,
    pub after_s: f64,
}

/// Volumetric expansion of liquid water, 1/K, from its density.
pub fn expansion_per_k(water: &Water, t_k: f64) -> f64 {
    (water.rho_kg_m3(t_k - 0.5) - water.rho_kg_m3(t_k + 0.5)) / water.rho_kg_m3(t_k)
}

impl Trapped {
    /// Shut in at this pressure over the air's.
    pub fn new(coil: &Coil, start_pa: f64) -> Self {
        Self {
            tube: tube_wall(coil),
            strength: limits::strength_of(&coil.metal.name),
            last_k: None,
            start: (0.0, start_pa),
            pressure_pa: start_pa,
            rated_s: None,
            burst_s: None,
            peak_pa: start_pa,
            rise_k: 0.0,
            after_s: 0.0,
        }
    }

    /// Mean temperatures of water and metal and the hottest metal, `after_s` the fault.
    pub fn step(
        &mut self,
        water: &Water,
        water_k: f64,
        metal_k: f64,
        hottest_k: f64,
        after_s: f64,
    ) {
        if self.burst_s.is_some() || !water_k.is_finite() {
            return;
        }
        let Some((w0, m0)) = self.last_k.replace((water_k, metal_k)) else {
            self.start.0 = water_k;
            return;
        };
        let parts = ((water_k - w0).abs() / STEP_K).ceil().max(1.0);
        for k in 0..parts as u32 {
            let t = w0 + (water_k - w0) * (f64::from(k) + 0.5) / parts;
            self.pressure_pa += trapped_rise_pa(
                &self.tube,
                expansion_per_k(water, t),
                water_compressibility_per_pa(t - 273.15),
                (water_k - w0) / parts,
                (metal_k - m0) / parts,
            );
        }
        // Under a vacuum it would boil; the start is as low as it gets.
        self.pressure_pa = self.pressure_pa.max(0.0);
        if self.pressure_pa > self.peak_pa {
            self.peak_pa = self.pressure_pa;
            self.rise_k = water_k - self.start.0;
            self.after_s = after_s;
        }
        if let Some(s) = self.strength {
            if self.pressure_pa > self.tube.rated_pa(limits::allowable_pa(s, hottest_k)) {
                self.rated_s.get_or_insert(after_s);
            }
            if self.pressure_pa > self.tube.barlow_pa(limits::tensile_pa(s, hottest_k)) {
                self.burst_s = Some(after_s);
            }
        }
    }

    /// Temperature of the water at the last look, K.
    pub fn water_k(&self) -> f64 {
        self.last_k.map_or(self.start.0, |k| k.0)
    }

    /// Mean rise of pressure per kelvin of the water, Pa/K.
    pub fn per_k_pa(&self) -> Option<f64> {
        (self.rise_k > 0.1).then(|| (self.peak_pa - self.start.1) / self.rise_k)
    }

    /// Mean rise of pressure, Pa/s.
    pub fn per_s_pa(&self) -> Option<f64> {
        (self.after_s > 0.0).then(|| (self.peak_pa - self.start.1) / self.after_s)
    }
}
