//! How far unburnt gas and CO may lie from their estimate: the same moment with one uncertain figure moved at a time.
//!
//! Nothing here enters the right-hand side: it reads what a moment recorded, with temperatures and flows held.

use super::CO_SHARE;
use super::bed_side::co_burns_k;
use crate::components::gas_path::reaction_share;
use crate::components::spec::Closures;
use crate::correlations::combustion;
use crate::network::observe::Instant;

/// Uncertain figures that the band moves.
pub const BAND_FIGURES: usize = 5;

/// Unburnt energy and CO of one moment, relative units of [`Instant::unburnt_w`] and [`Instant::co_dry`].
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct UnburntNow {
    pub unburnt_w: f64,
    pub co_dry: f64,
}

/// Parts of a moment's unburnt gas, as the right-hand side found them, W.
#[derive(Debug, Clone, Copy, Default)]
pub struct UnburntParts {
    /// Net heat of the volatiles; what no mixing burns of it; what burnt in the chamber.
    pub volatile_w: f64,
    pub floor_w: f64,
    pub released_w: f64,
    /// CO of the embers that the chamber is too cold to burn.
    pub char_co_w: f64,
    /// Share of the flame in hot sheets.
    pub sheet_share: f64,
}

/// One set of the uncertain figures, each as a factor on (or a shift of) the value in use.
#[derive(Clone, Copy)]
struct Move {
    mixing_time: f64,
    unmixedness: f64,
    /// Shift of the temperature about which burn-out stops, K.
    burnout_k: f64,
    sheets: f64,
    co_share: f64,
}

const NONE: Move = Move {
    mixing_time: 1.0,
    unmixedness: 1.0,
    burnout_k: 0.0,
    sheets: 1.0,
    co_share: CO_SHARE,
};

/// The ends of each figure: as wide about the value in use as its prior is about the default. Mixing time and
/// unmixedness: docs/closures.md. Burn-out temperature: its middle is common practice, 50 K either way (estimate).
/// Sheets: 0.7 may be 0.5 to 0.85 (estimate). CO in what the volatiles leave: 0.3 to 0.8 (estimate).
const MOVES: [[Move; 2]; BAND_FIGURES] = [
    [
        Move {
            mixing_time: 0.7,
            ..NONE
        },
        Move {
            mixing_time: 2.0,
            ..NONE
        },
    ],
    [
        Move {
            unmixedness: 0.4,
            ..NONE
        },
        Move {
            unmixedness: 2.0,
            ..NONE
        },
    ],
    [
        Move {
            burnout_k: -50.0,
            ..NONE
        },
        Move {
            burnout_k: 50.0,
            ..NONE
        },
    ],
    [
        Move {
            sheets: 0.85 / 0.7,
            ..NONE
        },
        Move {
            sheets: 0.5 / 0.7,
            ..NONE
        },
    ],
    [
        Move {
            co_share: 0.3,
            ..NONE
        },
        Move {
            co_share: 0.8,
            ..NONE
        },
    ],
];

impl Instant {
    /// Unburnt energy and CO with each uncertain figure at its better and at its worse end; the moment itself where
    /// nothing burns.
    pub fn unburnt_alternatives(&self, c: &Closures) -> [[UnburntNow; 2]; BAND_FIGURES] {
        MOVES.map(|ends| ends.map(|m| self.unburnt_if(c, &m)))
    }

    fn unburnt_if(&self, c: &Closures, m: &Move) -> UnburntNow {
        let p = &self.unburnt_parts;
        let mut now = UnburntNow {
            unburnt_w: self.unburnt_w,
            co_dry: self.co_dry,
        };
        if self.unburnt_w < 1.0 || p.volatile_w + p.char_co_w < 1.0 {
            return now;
        }
        // As it is: volumes of mixing in the chamber, and the exponent of burn-out on the way, from what they left.
        let burnable = (p.volatile_w - p.floor_w).max(0.0);
        let left = (1.0 - p.released_w / burnable.max(1e-9)).clamp(1e-12, 1.0);
        let kt = 2.0 * (1.0 / left.sqrt() - 1.0);
        let into_path = burnable * left + p.char_co_w;
        let on_way = ((self.unburnt_w - p.floor_w) / into_path.max(1e-9)).clamp(1e-9, 1.0);
        let exponent = -on_way.ln();
        // As it would be.
        let react = |shift_k: f64, sheets: f64| {
            let s = (p.sheet_share * sheets).min(1.0);
            s + (1.0 - s) * reaction_share(self.flame_k - shift_k)
        };
        let faster = react(m.burnout_k, m.sheets) / (react(0.0, 1.0) * m.mixing_time);
        let floor_w = if m.unmixedness == 1.0 {
            p.floor_w
        } else {
            let lambda = if self.air_ratio.is_nan() {
                50.0
            } else {
                self.air_ratio.min(50.0)
            };
            combustion::shortage(lambda, c.unmixedness * m.unmixedness).min(0.95) * p.volatile_w
        };
        let half = 1.0 + 0.5 * kt * faster;
        let cold =
            |shift_k: f64| 1.0 - reaction_share(co_burns_k(self.embers_k, self.flame_k) - shift_k);
        let char_co_w = p.char_co_w * cold(m.burnout_k) / cold(0.0).max(1e-12);
        let into_path = (p.volatile_w - floor_w).max(0.0) / (half * half) + char_co_w;
        now.unburnt_w = floor_w + into_path * (-exponent * faster).exp();
        let co_part =
            |share: f64, char_w: f64| (share * p.volatile_w + char_w) / (p.volatile_w + char_w);
        now.co_dry *= now.unburnt_w / self.unburnt_w * co_part(m.co_share, char_co_w)
            / co_part(CO_SHARE, p.char_co_w);
        now
    }
}
