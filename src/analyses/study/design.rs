//! Which points a study has. Point `i` follows from the study and `i` alone: nothing is stored, and any part of a study can be run
//! anywhere.

use super::axis::{Axis, Level};
use super::base::Base;
use siphasher::sip128::{Hasher128, SipHasher13};
use std::hash::Hasher;

/// More points are refused.
pub const MOST_POINTS: u64 = 10_000_000;
/// Length of the Sobol sequence.
pub const MOST_SOBOL: u64 = 1 << 16;
/// Dimensions of the Sobol sequence.
const MOST_SOBOL_AXES: usize = sobol_burley::NUM_DIMENSIONS as usize;

/// How the axes' values are put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Design {
    /// Every value with every other; the last axis runs fastest.
    Grid,
    /// First with first, second with second, ...
    Paired,
    /// Each axis cut into as many equal parts as there are samples, one sample in each part, parts of different axes shuffled
    /// against each other (McKay, Beckman & Conover 1979, Technometrics 21, 239-245).
    LatinHypercube { samples: u64, seed: u32 },
    /// Owen-scrambled Sobol points (Burley 2020, J. Comput. Graph. Tech. 9(4)).
    Sobol { samples: u64, seed: u32 },
}

/// Why a study has no points to run.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StudyError {
    #[error("the study varies nothing")]
    NoAxes,
    #[error("the study has no points")]
    NoPoints,
    #[error(
        "the study has {0} points; at most {MOST_POINTS} can be run: take fewer steps, or samples of a latin hypercube"
    )]
    TooMany(u128),
    #[error("`{0}` has no steps: write `in 25 steps` behind the range, or choose a random design")]
    NeedsSteps(String),
    #[error(
        "paired axes need equally many values, but `{one}` has {one_count} and `{other}` has {other_count}"
    )]
    Unequal {
        one: String,
        one_count: u64,
        other: String,
        other_count: u64,
    },
    #[error(
        "a Sobol design has at most {MOST_SOBOL} samples and {MOST_SOBOL_AXES} axes: take a latin hypercube"
    )]
    BeyondSobol,
    #[error("`{0}` is varied twice")]
    Twice(String),
}

/// A scenario, what is varied, and how.
#[derive(Debug, Clone)]
pub struct Study {
    pub base: Base,
    pub axes: Vec<Axis>,
    pub design: Design,
    points: u64,
}

impl Study {
    /// Checks that there is something to run.
    ///
    /// # Errors
    /// [`StudyError`].
    pub fn new(base: Base, axes: Vec<Axis>, design: Design) -> Result<Self, StudyError> {
        if axes.is_empty() {
            return Err(StudyError::NoAxes);
        }
        let names = axes.iter().map(|a| &a.name);
        let mut all: Vec<&String> = axes
            .iter()
            .flat_map(|a| &a.paths)
            .chain(names.filter(|n| !axes.iter().any(|a| a.paths.contains(n))))
            .collect();
        all.sort_unstable();
        if let Some(pair) = all.windows(2).find(|pair| pair[0] == pair[1]) {
            return Err(StudyError::Twice(pair[0].clone()));
        }
        let points = match design {
            Design::Grid => {
                let mut points = 1u128;
                for axis in &axes {
                    points = points.saturating_mul(u128::from(steps(axis)?));
                }
                points
            }
            Design::Paired => {
                let count = steps(&axes[0])?;
                for axis in &axes[1..] {
                    let other_count = steps(axis)?;
                    if other_count != count {
                        return Err(StudyError::Unequal {
                            one: axes[0].name.clone(),
                            one_count: count,
                            other: axis.name.clone(),
                            other_count,
                        });
                    }
                }
                u128::from(count)
            }
            Design::LatinHypercube { samples, .. } => u128::from(samples),
            Design::Sobol { samples, .. }
                if samples > MOST_SOBOL || axes.len() > MOST_SOBOL_AXES =>
            {
                return Err(StudyError::BeyondSobol);
            }
            Design::Sobol { samples, .. } => u128::from(samples),
        };
        match u64::try_from(points) {
            Ok(0) => Err(StudyError::NoPoints),
            Ok(points) if points <= MOST_POINTS => Ok(Self {
                base,
                axes,
                design,
                points,
            }),
            _ => Err(StudyError::TooMany(points)),
        }
    }

    /// How many points there are.
    pub fn points(&self) -> u64 {
        self.points
    }

    /// The values of point `i`, one per axis; fewer where `i` is no point.
    pub fn point(&self, i: u64) -> Vec<Level> {
        match self.design {
            Design::Grid => {
                let mut rest = i;
                let mut levels: Vec<Level> = self
                    .axes
                    .iter()
                    .rev()
                    .filter_map(|axis| {
                        let n = axis.count()?.max(1);
                        let level = axis.level(rest % n);
                        rest /= n;
                        level
                    })
                    .collect();
                levels.reverse();
                levels
            }
            Design::Paired => self.axes.iter().filter_map(|axis| axis.level(i)).collect(),
            Design::LatinHypercube { samples, seed } => self
                .axes
                .iter()
                .zip(0u64..)
                .filter_map(|(axis, j)| {
                    let key = mix(u64::from(seed) ^ mix(j + 1));
                    let part = shuffled(i, samples, key);
                    let jitter = unit(mix(key ^ mix(i.wrapping_add(0x5851_f42d))));
                    // Off the edges of its part, so that rounding does not carry it into the next.
                    axis.at_share(
                        (part as f64 + 0.002 + 0.996 * jitter) / samples as f64,
                        samples,
                    )
                })
                .collect(),
            Design::Sobol { seed, .. } => self
                .axes
                .iter()
                .zip(0u32..)
                .filter_map(|(axis, j)| {
                    axis.at_share(
                        f64::from(sobol_burley::sample(i as u32, j, seed)),
                        MOST_SOBOL,
                    )
                })
                .collect(),
        }
    }

    /// The scenario values of a point.
    pub fn values(levels: &[Level]) -> Vec<(String, String)> {
        levels.iter().flat_map(|l| l.set.iter().cloned()).collect()
    }

    /// Stands for the study: the scenario's text, what is varied, the design with its seed and the program's version. Two
    /// studies with the same one have the same results.
    pub fn fingerprint(&self) -> String {
        let mut hash = SipHasher13::new();
        let mut put = |text: &str| {
            hash.write_usize(text.len());
            hash.write(text.as_bytes());
        };
        put(env!("CARGO_PKG_VERSION"));
        put(&self.base.text);
        for (path, value) in &self.base.overrides {
            put(path);
            put(value);
        }
        for axis in &self.axes {
            put(&axis.heading());
            put(&axis.paths.join("\n"));
            put(&format!("{:?}", axis.span));
        }
        put(&format!("{:?}", self.design));
        let h = hash.finish128();
        format!("{:016x}{:016x}", h.h1, h.h2)
    }
}

fn steps(axis: &Axis) -> Result<u64, StudyError> {
    axis.count()
        .ok_or_else(|| StudyError::NeedsSteps(axis.name.clone()))
}

/// The finaliser of the SplitMix64 generator (Steele, Lea & Flood 2014, OOPSLA).
fn mix(v: u64) -> u64 {
    let mut z = v.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// From 0 to below 1.
fn unit(v: u64) -> f64 {
    (v >> 11) as f64 / (1u64 << 53) as f64
}

/// Where `i` of `0..n` goes under the shuffling of this key: a Feistel network over the next even number of bits, walked until it
/// falls below `n` (Black & Rogaway 2002, CT-RSA, "cycle walking").
fn shuffled(i: u64, n: u64, key: u64) -> u64 {
    let half = (64 - n.saturating_sub(1).leading_zeros())
        .div_ceil(2)
        .max(1);
    let mask = (1u64 << half) - 1;
    let mut v = i;
    loop {
        let (mut left, mut right) = (v >> half, v & mask);
        for round in 0..6u64 {
            let next = left ^ (mix(right ^ mix(key.wrapping_add(round))) & mask);
            (left, right) = (right, next);
        }
        v = (left << half) | right;
        if v < n {
            return v;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn study(axes: &[&str], design: Design) -> Result<Study, StudyError> {
        let base = Base {
            name: "a".into(),
            text: String::new(),
            overrides: Vec::new(),
        };
        Study::new(
            base,
            axes.iter().filter_map(|a| Axis::parse(a).ok()).collect(),
            design,
        )
    }

    fn labels(study: &Study, i: u64) -> Vec<String> {
        study.point(i).into_iter().map(|l| l.label).collect()
    }

    #[test]
    fn analytic_a_shuffling_takes_every_place_once() {
        for n in [1u64, 2, 3, 7, 64, 100, 1000] {
            let mut places: Vec<u64> = (0..n).map(|i| shuffled(i, n, 42)).collect();
            places.sort_unstable();
            assert!(places.iter().copied().eq(0..n), "{n}");
        }
    }

    #[test]
    fn behaves_a_grid_runs_through_the_last_axis_fastest() {
        let s = study(&["a=1, 2", "b=x, y, z"], Design::Grid);
        let all: Vec<String> = s
            .iter()
            .flat_map(|s| (0..s.points()).map(|i| labels(s, i).join("")))
            .collect();
        assert_eq!(all, ["1x", "1y", "1z", "2x", "2y", "2z"]);
        let s = study(&["a=1, 2, 3", "b=x, y, z"], Design::Paired);
        let all: Vec<String> = s
            .iter()
            .flat_map(|s| (0..s.points()).map(|i| labels(s, i).join("")))
            .collect();
        assert_eq!(all, ["1x", "2y", "3z"]);
    }

    #[test]
    fn behaves_what_cannot_be_run_is_refused() {
        let refused = |axes: &[&str], design| study(axes, design).err();
        assert_eq!(refused(&[], Design::Grid), Some(StudyError::NoAxes));
        assert_eq!(
            refused(&["a=1 .. 2"], Design::Grid),
            Some(StudyError::NeedsSteps("a".into()))
        );
        let none = Design::LatinHypercube {
            samples: 0,
            seed: 1,
        };
        assert_eq!(refused(&["a=1 .. 2"], none), Some(StudyError::NoPoints));
        let thousand = |a: &str| format!("{a}=1 .. 2 in 1000 steps");
        let (a, b, c) = (thousand("a"), thousand("b"), thousand("c"));
        assert_eq!(
            refused(&[&a, &b, &c], Design::Grid),
            Some(StudyError::TooMany(1_000_000_000))
        );
        let sobol = Design::Sobol {
            samples: 70_000,
            seed: 1,
        };
        assert_eq!(refused(&["a=1 .. 2"], sobol), Some(StudyError::BeyondSobol));
        assert_eq!(
            refused(&["a=1, 2", "a=3, 4"], Design::Grid),
            Some(StudyError::Twice("a".into()))
        );
        assert!(matches!(
            refused(&["a=1, 2", "b=3"], Design::Paired),
            Some(StudyError::Unequal { .. })
        ));
    }
}
