//! Band of the unburnt share and of the CO estimate over a run, from the prior ranges of what they rest on.

use crate::network::{BAND_FIGURES, Instant, Network, UnburntNow};

/// Scatter between burns alike in all that the model knows, as factors on unburnt energy and on CO: repeated burns of
/// one stove by one person differ by about that (from memory: emission tests of hand-fed stoves).
const REPEAT_UNBURNT: f64 = 1.3;
const REPEAT_CO: f64 = 1.7;

/// Running integrals (trapezoids over the samples) of the estimate and of each alternative.
#[derive(Debug, Clone, Default)]
pub(super) struct UnburntBand {
    last: Option<(f64, [[UnburntNow; 2]; BAND_FIGURES], UnburntNow)>,
    middle: UnburntNow,
    ends: [[UnburntNow; 2]; BAND_FIGURES],
}

fn add(sum: &mut UnburntNow, a: &UnburntNow, b: &UnburntNow, dt_s: f64) {
    sum.unburnt_w += 0.5 * dt_s * (a.unburnt_w + b.unburnt_w);
    sum.co_dry += 0.5 * dt_s * (a.co_dry + b.co_dry);
}

impl UnburntBand {
    pub fn sample(&mut self, net: &Network, t_s: f64, i: &Instant) {
        let ends = i.unburnt_alternatives(&net.rig.closures);
        let now = UnburntNow {
            unburnt_w: i.unburnt_w,
            co_dry: i.co_dry,
        };
        if let Some((t0_s, ends0, now0)) = &self.last {
            let dt_s = (t_s - t0_s).max(0.0);
            add(&mut self.middle, now0, &now, dt_s);
            for (sums, (from, to)) in self.ends.iter_mut().zip(ends0.iter().zip(&ends)) {
                for k in 0..2 {
                    add(&mut sums[k], &from[k], &to[k], dt_s);
                }
            }
        }
        self.last = Some((t_s, ends, now));
    }

    /// Factors on the estimates: `[[low, high] of unburnt, [low, high] of CO]`.
    pub fn factors(&self) -> [[f64; 2]; 2] {
        let both: [(fn(&UnburntNow) -> f64, f64); 2] =
            [(|u| u.unburnt_w, REPEAT_UNBURNT), (|u| u.co_dry, REPEAT_CO)];
        both.map(|(of, repeat)| {
            let middle = of(&self.middle);
            let ends: Vec<[f64; 2]> = self.ends.iter().map(|e| e.map(|u| of(&u))).collect();
            combined(middle, &ends, repeat)
        })
    }
}

/// Independent figures: their logarithms add in quadrature, below and above the middle apart.
fn combined(middle: f64, ends: &[[f64; 2]], repeat: f64) -> [f64; 2] {
    let start = repeat.ln() * repeat.ln();
    let (mut below, mut above) = (start, start);
    if middle > 0.0 {
        for pair in ends {
            let mut logs = pair.map(|v| (v.max(1e-6 * middle) / middle).ln());
            logs.sort_by(f64::total_cmp);
            below += logs[0].min(0.0).powi(2);
            above += logs[1].max(0.0).powi(2);
        }
    }
    [(-below.sqrt()).exp(), above.sqrt().exp()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_independent_figures_add_in_quadrature() {
        let [low, high] = combined(2.0, &[[1.0, 4.0], [1.0, 4.0]], 1.0);
        let both = (std::f64::consts::SQRT_2 * 2f64.ln()).exp();
        assert!((high - both).abs() < 1e-12 && (low * both - 1.0).abs() < 1e-12);
        // One that only makes it worse widens no lower end.
        let [low, high] = combined(1.0, &[[1.5, 3.0]], 1.0);
        assert!(low == 1.0 && (high - 3.0).abs() < 1e-12);
    }
}
