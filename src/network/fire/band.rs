//! How far unburnt gas and CO may lie from their estimate: the same moment with one uncertain figure moved at a time.
//!
//! Nothing here enters the right-hand side: it reads what a moment recorded, with temperatures and flows held.

use super::CO_SHARE;
use super::bed_side::co_burns_k;
use super::fuel_gas::short_of_air;
use crate::components::gas_path::reaction_share;
use crate::correlations::combustion::too_lean_share;
use crate::correlations::quick_exp;
use crate::network::observe::Instant;

/// Uncertain figures that the band moves.
pub const BAND_FIGURES: usize = 6;

/// Unburnt energy and CO of one moment, relative units of [`Instant::unburnt_w`] and [`Instant::co_dry`].
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct UnburntNow {
    pub unburnt_w: f64,
    pub co_dry: f64,
}

/// Parts of a moment's unburnt gas, as the right-hand side found them, W.
#[derive(Debug, Clone, Copy, Default)]
pub struct UnburntParts {
    /// Net heat of the volatiles, and what of it burnt in the chamber.
    pub volatile_w: f64,
    pub released_w: f64,
    /// CO that leaves the embers' boundary layer.
    pub co_w: f64,
    /// Oxygen that all of the fuel needs over what the gas needs; share of the gas that finds none.
    pub need_over_gas: f64,
    pub short: f64,
    /// Share of the flame in hot sheets.
    pub sheet_share: f64,
    /// Scatter of the local air ratio.
    pub unmixedness: f64,
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
    /// Of the gas that mixes with air until it is too thin for a flame, what is lost for good.
    too_lean: f64,
}

const NONE: Move = Move {
    mixing_time: 1.0,
    unmixedness: 1.0,
    burnout_k: 0.0,
    sheets: 1.0,
    co_share: CO_SHARE,
    too_lean: 0.0,
};

/// The ends of each figure: as wide about the value in use as its prior is about the default. Mixing time and
/// unmixedness: docs/closures.md. Burn-out temperature: its middle is common practice, 50 K either way (estimate).
/// Sheets: 0.7 may be 0.5 to 0.85 (estimate). CO in what the volatiles leave: 0.3 to 0.8 (estimate). Gas too thin for a flame: none of it lost, as
/// in the estimate, or all (docs/model/firebox.md, at its end): the trade and the laboratories lie a factor of five apart.
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
    [
        NONE,
        Move {
            too_lean: 1.0,
            ..NONE
        },
    ],
];

/// The moment as it is: what every alternative is set against.
struct AsItIs {
    cold: f64,
    kt: f64,
    exponent: f64,
    react: f64,
    lambda: f64,
    /// Share of gas and air mixed without burning that is too thin for a flame, and of it what no hot mean gas burns.
    too_lean: f64,
    chilled: f64,
}

/// With fused instructions where the processor has them, as the right-hand side: the same bits.
#[multiversion::multiversion(targets("x86_64+avx2+fma"))]
fn alternatives_by_processor(i: &Instant) -> [[UnburntNow; 2]; BAND_FIGURES] {
    i.alternatives()
}

impl Instant {
    /// Unburnt energy and CO with each uncertain figure at its better and at its worse end; the moment itself where
    /// nothing burns.
    pub fn unburnt_alternatives(&self) -> [[UnburntNow; 2]; BAND_FIGURES] {
        alternatives_by_processor(self)
    }

    #[inline(always)]
    fn alternatives(&self) -> [[UnburntNow; 2]; BAND_FIGURES] {
        let p = &self.unburnt_parts;
        if self.unburnt_w < 1.0 || p.volatile_w + p.co_w < 1.0 {
            let now = UnburntNow {
                unburnt_w: self.unburnt_w,
                co_dry: self.co_dry,
            };
            return [[now; 2]; BAND_FIGURES];
        }
        // Volumes of mixing in the chamber, and the exponent of burn-out on the way, from what they left.
        let cold = self.cold(0.0);
        let burnable = (1.0 - p.short) * p.volatile_w;
        let floor_w = p.short * (p.volatile_w + p.co_w);
        let left = (1.0 - p.released_w / burnable.max(1e-9)).clamp(1e-12, 1.0);
        let into_path = burnable * left + (1.0 - p.short) * p.co_w * cold;
        let on_way = ((self.unburnt_w - floor_w) / into_path.max(1e-9)).clamp(1e-9, 1.0);
        let lambda = if self.air_ratio.is_nan() {
            50.0
        } else {
            self.air_ratio.min(50.0)
        };
        let is = AsItIs {
            cold,
            lambda,
            too_lean: too_lean_share(lambda, self.flame_k),
            chilled: 1.0 - reaction_share(self.flame_k),
            kt: 2.0 * (1.0 / left.sqrt() - 1.0),
            exponent: -on_way.ln(),
            react: self.react(0.0, 1.0),
        };
        // A closure would not take part in the wider instructions.
        let mut out = [[UnburntNow::default(); 2]; BAND_FIGURES];
        for (alternatives, moves) in out.iter_mut().zip(&MOVES) {
            for (now, m) in alternatives.iter_mut().zip(moves) {
                *now = self.unburnt_if(m, &is);
            }
        }
        out
    }

    /// Share of the embers' CO that stays too cold to burn over them.
    #[inline(always)]
    fn cold(&self, shift_k: f64) -> f64 {
        1.0 - reaction_share(co_burns_k(self.embers_k, self.flame_k) - shift_k)
    }

    /// Share of the reaction that sheets and the mean gas allow.
    #[inline(always)]
    fn react(&self, shift_k: f64, sheets: f64) -> f64 {
        let s = (self.unburnt_parts.sheet_share * sheets).min(1.0);
        s + (1.0 - s) * reaction_share(self.flame_k - shift_k)
    }

    #[inline(always)]
    fn unburnt_if(&self, m: &Move, is: &AsItIs) -> UnburntNow {
        let p = &self.unburnt_parts;
        let burns = self.react(m.burnout_k, m.sheets);
        // What mixes with its air burns, or is from then on too thin for a flame; then only a hot mean gas burns it.
        let mixes = burns + (1.0 - burns) * m.too_lean * is.too_lean;
        let faster = mixes / (is.react * m.mixing_time);
        let lost = (1.0 - burns / mixes) * is.chilled;
        let short = if m.unmixedness == 1.0 {
            p.short
        } else {
            short_of_air(is.lambda, p.unmixedness * m.unmixedness, p.need_over_gas)
        };
        let half = 1.0 + 0.5 * is.kt * faster;
        let frozen_w = (1.0 - short) * p.co_w * self.cold(m.burnout_k);
        let past_chamber_w = (1.0 - short) * p.volatile_w / (half * half);
        let into_path = past_chamber_w + frozen_w;
        let left_w = into_path * quick_exp(-is.exponent * faster);
        let mixed_w = (1.0 - short) * p.volatile_w - past_chamber_w + into_path - left_w;
        let unburnt_w = short * (p.volatile_w + p.co_w) + left_w + lost * mixed_w;
        let co_part =
            |share: f64, char_w: f64| (share * p.volatile_w + char_w) / (p.volatile_w + char_w);
        let was_w = (p.short + (1.0 - p.short) * is.cold) * p.co_w;
        let co_dry = self.co_dry * unburnt_w / self.unburnt_w
            * co_part(m.co_share, short * p.co_w + frozen_w)
            / co_part(CO_SHARE, was_w);
        UnburntNow { unburnt_w, co_dry }
    }
}
