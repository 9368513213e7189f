//! What bare thermometers show in the mean, against the gas itself.

use crate::network::{Instant, Network, Reading};

/// Readings follow the gas, which the integrals average exactly; how far they are from it changes slowly.
const EVERY_S: f64 = 20.0;
/// Chamber, below the coil, above it, stack.
const PLACES: usize = 4;

/// Mean of what they show less what the gas has, by the trapezoidal rule.
#[derive(Debug, Clone, Default)]
pub(super) struct Shown {
    last: Option<(f64, [f64; PLACES])>,
    sum_ks: [f64; PLACES],
    time_s: f64,
}

impl Shown {
    pub fn sample(&mut self, net: &Network, t_s: f64, y: &[f64], i: &Instant) {
        if self.last.is_some_and(|(before, _)| t_s < before + EVERY_S) {
            return;
        }
        let r = net.readings(y, i);
        let off = |r: Option<Reading>| r.map_or(f64::NAN, |r| r.shown_k - r.gas_k);
        let now = [
            off(Some(r.chamber)),
            off(r.below_coil),
            off(r.above_coil),
            off(Some(r.stack)),
        ];
        if let Some((before_s, before)) = self.last {
            let dt = t_s - before_s;
            for (sum, (a, b)) in self.sum_ks.iter_mut().zip(before.iter().zip(&now)) {
                *sum += 0.5 * dt * (a + b);
            }
            self.time_s += dt;
        }
        self.last = Some((t_s, now));
    }

    /// Mean at a place, from the gas's own; `None` where there is no such place.
    pub fn mean_k(&self, place: usize, gas_mean_k: Option<f64>) -> Option<f64> {
        let off = self.sum_ks[place] / self.time_s;
        gas_mean_k.map(|k| k + off).filter(|k| k.is_finite())
    }
}
