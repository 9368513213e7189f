//! Band of the unburnt share and of the CO estimate over a run, from the prior ranges of what they rest on.

use crate::network::{BAND_FIGURES, Instant, UnburntNow};

/// Scatter between burns alike in all that the model knows, as factors on unburnt energy and on CO: repeated burns of
/// one stove by one person differ by about that (from memory: emission tests of hand-fed stoves).
const REPEAT_UNBURNT: f64 = 1.3;
const REPEAT_CO: f64 = 1.7;

/// Estimate and alternatives of a moment, or their sums over time.
#[derive(Debug, Clone, Copy, Default)]
struct All {
    middle: UnburntNow,
    ends: [[UnburntNow; 2]; BAND_FIGURES],
}

impl All {
    fn add(&mut self, dt_s: f64, now: &All) {
        let add = |sum: &mut UnburntNow, now: &UnburntNow| {
            sum.unburnt_w += dt_s * now.unburnt_w;
            sum.co_dry += dt_s * now.co_dry;
        };
        add(&mut self.middle, &now.middle);
        for (sums, ends) in self.ends.iter_mut().zip(&now.ends) {
            for (sum, end) in sums.iter_mut().zip(ends) {
                add(sum, end);
            }
        }
    }
}

/// Integrals of the estimate and of each alternative by the trapezoidal rule. The first moment, a match in dead air, does
/// not count.
#[derive(Debug, Clone, Default)]
pub(super) struct UnburntBand {
    last: Option<(f64, All)>,
    sum: All,
}

impl UnburntBand {
    pub fn sample(&mut self, t_s: f64, i: &Instant) {
        let now = All {
            middle: UnburntNow {
                unburnt_w: i.unburnt_w,
                co_dry: i.co_dry,
            },
            ends: i.unburnt_alternatives(),
        };
        if t_s <= 0.0 {
            return;
        }
        let (before_s, before) = self.last.unwrap_or((0.0, now));
        let half_s = 0.5 * (t_s - before_s).max(0.0);
        self.sum.add(half_s, &before);
        self.sum.add(half_s, &now);
        self.last = Some((t_s, now));
    }

    /// Factors on the estimates: `[[low, high] of unburnt, [low, high] of CO]`.
    pub fn factors(&self) -> [[f64; 2]; 2] {
        let factors = |of: fn(&UnburntNow) -> f64, repeat: f64| {
            let ends: Vec<[f64; 2]> = self.sum.ends.iter().map(|e| e.map(|u| of(&u))).collect();
            combined(of(&self.sum.middle), &ends, repeat)
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
