//! A bare thermometer in hot gas: gas warms its sheath, colder walls cool it, and it shows something between the two.

use crate::correlations::nusselt_external::churchill_bernstein;
use crate::correlations::radiation::STEFAN_BOLTZMANN;
use crate::properties::gas::GasMix;
use serde::Serialize;

/// What is put into the gas.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Thermometer {
    /// Outside diameter of the sheath.
    pub sheath_m: f64,
    pub emissivity: f64,
    /// From the coil's first or last turn, along the stream.
    pub from_coil_m: f64,
}

/// The gas that passes it.
#[derive(Debug, Clone, Copy)]
pub struct Passing<'a> {
    pub mix: &'a GasMix,
    pub pressure_pa: f64,
    pub temperature_k: f64,
    pub velocity_m_s: f64,
}

/// Passes over film temperature and reading at most; the film moves with half of the reading's error, so that each leaves less
/// than a tenth of it.
const ROUNDS: usize = 5;
/// Change under which nothing more is asked of an iteration, K.
const STILL_K: f64 = 0.02;

impl Thermometer {
    /// Convection to the sheath, a cylinder across the stream, with the gas's properties at the mean of both, W/m2K.
    #[inline(always)]
    pub fn film_w_m2k(&self, gas: &Passing, shown_k: f64) -> f64 {
        let film_k = 0.5 * (gas.temperature_k + shown_k);
        let (mu, k) = gas.mix.mu_k(film_k);
        let rho = gas.mix.rho_kg_m3(film_k, gas.pressure_pa);
        let re = rho * gas.velocity_m_s.abs() * self.sheath_m / mu;
        let pr = mu * gas.mix.cp_j_kgk(film_k) / k;
        churchill_bernstein(re, pr) * k / self.sheath_m
    }

    /// What it shows in the gas, where a black body in its place would come to `seen_k` by what shines on it alone.
    ///
    /// h (T_gas − T) + ε σ (T_seen⁴ − T⁴) = 0
    ///
    /// Grey sheath, as deep in the gas as its stem conducts nothing away (ten diameters or more, common practice). Source: the
    /// balance of handbooks (Bergman et al., ch. 1 and 7; Holman, ch. 8). Evidence:
    /// `published_a_thermometer_among_colder_walls_shows_holmans_reading`.
    #[inline(always)]
    pub fn shown_k(&self, gas: &Passing, seen_k: f64) -> f64 {
        let seen4 = seen_k.powi(4);
        let mut t = gas.temperature_k;
        for _ in 0..ROUNDS {
            let before = t;
            let per_h = self.emissivity * STEFAN_BOLTZMANN / self.film_w_m2k(gas, t);
            t = balanced_k(gas.temperature_k, seen4, per_h);
            if (t - before).abs() < STILL_K {
                break;
            }
        }
        t
    }
}

/// Newton's steps from the far end, at most.
const STEPS: usize = 20;

/// T where T_gas − T + p (T_seen⁴ − T⁴) = 0, p emission over convection, 1/K³.
///
/// - `gas_k` temperature of the gas; `seen_k4` fourth power of what shines on it; `per_h_k3` ε σ / h
#[inline(always)]
pub fn balanced_k(gas_k: f64, seen_k4: f64, per_h_k3: f64) -> f64 {
    // The balance bends one way: from the warmer of both ends Newton's steps come down to it without passing it.
    let mut t = gas_k.max(seen_k4.sqrt().sqrt());
    for _ in 0..STEPS {
        let t3 = t * t * t;
        let f = t - gas_k + per_h_k3 * (t3 * t - seen_k4);
        let step = f / (1.0 + 4.0 * per_h_k3 * t3);
        t -= step;
        // What is left is of the order of the step's square over the temperature.
        if step.abs() < STILL_K {
            break;
        }
    }
    t
}

/// Share of a sphere's view, in the middle of a round passage, that the passage's cross-section takes from `distance_m` away.
///
/// F = ½ (1 − x/√(x² + R²)) (solid angle of a disc on its axis)
pub fn disc_share(distance_m: f64, radius_m: f64) -> f64 {
    0.5 * (1.0 - distance_m / distance_m.hypot(radius_m))
}
