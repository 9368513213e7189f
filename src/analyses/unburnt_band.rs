//! Band of the unburnt share and of the CO estimate over a run, from the prior ranges of what they rest on.

use crate::network::{BAND_FIGURES, Instant, Network, UnburntNow};

/// Scatter between burns alike in all that the model knows, as factors on unburnt energy and on CO: repeated burns of
/// one stove by one person differ by about that (from memory: emission tests of hand-fed stoves).
const REPEAT_UNBURNT: f64 = 1.3;
const REPEAT_CO: f64 = 1.7;

/// Running sums over the samples of the estimate and of each alternative, each sample standing for the time before it
/// (not a trapezoid: the first instant, a match in dead air, would count for half an interval).
#[derive(Debug, Clone, Default)]
pub(super) struct UnburntBand {
    last_s: f64,
    middle: UnburntNow,
    ends: [[UnburntNow; 2]; BAND_FIGURES],
}

impl UnburntBand {
    pub fn sample(&mut self, net: &Network, t_s: f64, i: &Instant) {
        let dt_s = (t_s - self.last_s).max(0.0);
        self.last_s = t_s;
        let add = |sum: &mut UnburntNow, now: &UnburntNow| {
            sum.unburnt_w += dt_s * now.unburnt_w;
            sum.co_dry += dt_s * now.co_dry;
        };
        let now = UnburntNow {
            unburnt_w: i.unburnt_w,
            co_dry: i.co_dry,
        };
        add(&mut self.middle, &now);
        let ends = i.unburnt_alternatives(&net.rig.closures);
        for (sums, ends) in self.ends.iter_mut().zip(&ends) {
            for (sum, end) in sums.iter_mut().zip(ends) {
                add(sum, end);
            }
        }
    }

    /// Factors on the estimates: `[[low, high] of unburnt, [low, high] of CO]`.
    pub fn factors(&self) -> [[f64; 2]; 2] {
        let factors = |of: fn(&UnburntNow) -> f64, repeat: f64| {
            let ends: Vec<[f64; 2]> = self.ends.iter().map(|e| e.map(|u| of(&u))).collect();
            combined(of(&self.middle), &ends, repeat)
        };
        [
            factors(|u| u.unburnt_w, REPEAT_UNBURNT),
            factors(|u| u.co_dry, REPEAT_CO),
        ]
    }
}

/// Independent figures in quadrature. Above the middle their excesses add (what each leaves unburnt stands beside the
/// other's); below it their logarithms do, since nothing can fall under zero.
fn combined(middle: f64, ends: &[[f64; 2]], repeat: f64) -> [f64; 2] {
    let mut below = repeat.ln().powi(2);
    let mut above = (repeat - 1.0).powi(2);
    if middle > 0.0 {
        for [a, b] in ends {
            let low = (a.min(*b) / middle).max(1e-6);
            below += low.ln().min(0.0).powi(2);
            above += (a.max(*b) / middle - 1.0).max(0.0).powi(2);
        }
    }
    [(-below.sqrt()).exp(), 1.0 + above.sqrt()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_independent_figures_add_in_quadrature() {
        let [low, high] = combined(2.0, &[[1.0, 4.0], [4.0, 1.0]], 1.0);
        let root = std::f64::consts::SQRT_2;
        assert!((high - 1.0 - root).abs() < 1e-12);
        assert!((low - (-root * 2f64.ln()).exp()).abs() < 1e-12);
        // One that only makes it worse widens no lower end.
        let [low, high] = combined(1.0, &[[1.5, 3.0]], 1.0);
        assert!(low == 1.0 && (high - 3.0).abs() < 1e-12);
    }
}
