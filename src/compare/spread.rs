//! A figure with all that is known of its uncertainty, and quantiles of samples.

use crate::audit::budget::student;
use crate::results::Span;

pub(crate) const COVERAGE: f64 = 0.95;
/// Fewer pairs say nothing of a twentieth.
pub(crate) const LEAST_PAIRS: usize = 8;

/// One independent contribution to the standard uncertainty, with its sign.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Part {
    /// Parts of two burns with the same key have the same error.
    pub key: String,
    /// Sensitivity times standard uncertainty.
    pub signed: f64,
    pub freedom: f64,
}

impl Part {
    pub fn own(key: &str, signed: f64) -> Self {
        Self {
            key: key.into(),
            signed,
            freedom: f64::INFINITY,
        }
    }
}

/// What is known of a quantity of one entry.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Figure {
    Unknown,
    /// Value of the run itself and of each sample, `None` where that sample came to nothing; infinite: never.
    Sampled {
        value: f64,
        samples: Vec<Option<f64>>,
    },
    /// `scatter`: standard deviation from burn to burn with its degrees of freedom.
    Budget {
        value: f64,
        parts: Vec<Part>,
        scatter: (f64, f64),
    },
}

impl Figure {
    pub fn value(&self) -> Option<f64> {
        match self {
            Self::Unknown => None,
            Self::Sampled { value, .. } | Self::Budget { value, .. } => Some(*value),
        }
    }

    /// With its interval.
    pub fn span(&self) -> Span {
        match self {
            Self::Unknown => Span::default(),
            Self::Sampled { value, samples } => {
                sampled(*value, samples.iter().flatten().copied().collect())
            }
            // Of the burn itself: measurement alone.
            Self::Budget { value, parts, .. } => {
                let half = expanded(parts.iter().map(|p| (p.signed, p.freedom)));
                Span {
                    value: Some(*value),
                    low: Some(value - half),
                    high: Some(value + half),
                }
            }
        }
    }
}

/// k u_c with k from Student's t at the effective degrees of freedom (JCGM 100, G.2b).
pub(crate) fn expanded(parts: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (mut square, mut lost) = (0.0, 0.0);
    for (c, freedom) in parts {
        square += c * c;
        lost += c.powi(4) / freedom;
    }
    let freedom = if lost > 0.0 {
        square * square / lost
    } else {
        f64::INFINITY
    };
    student(COVERAGE, freedom) * square.sqrt()
}

/// Value with the quantiles of samples that leave out one in forty at either end; an end that is never reached is no end.
/// The interval is widened to hold the value itself.
pub(crate) fn sampled(value: f64, mut samples: Vec<f64>) -> Span {
    samples.retain(|v| !v.is_nan());
    let finite = |v: f64| v.is_finite().then_some(v);
    if samples.len() < LEAST_PAIRS {
        return Span {
            value: finite(value),
            ..Span::default()
        };
    }
    samples.sort_by(f64::total_cmp);
    let tail = 0.5 * (1.0 - COVERAGE);
    let (low, high) = (at(&samples, tail), at(&samples, 1.0 - tail));
    let (low, high) = if value.is_nan() {
        (low, high)
    } else {
        (low.min(value), high.max(value))
    };
    Span {
        value: finite(value),
        low: finite(low),
        high: finite(high),
    }
}

/// Linear between the order statistics (definition 7 of Hyndman & Fan 1996).
fn at(sorted: &[f64], p: f64) -> f64 {
    let place = p * (sorted.len() - 1) as f64;
    let (i, u) = (place as usize, place.fract());
    match sorted.get(i + 1) {
        Some(&high) if u > 0.0 => {
            if sorted[i].is_finite() && high.is_finite() {
                sorted[i] + (high - sorted[i]) * u
            } else if sorted[i].is_finite() {
                high
            } else {
                sorted[i]
            }
        }
        _ => sorted[i],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_interval_of_forty_one_numbers_and_of_some_that_never_come() {
        let s = sampled(20.0, (0..=40).map(f64::from).collect());
        let near = |a: Option<f64>, b: f64| a.is_some_and(|a| (a - b).abs() < 1e-9);
        assert!(near(s.low, 1.0) && near(s.high, 39.0), "{s:?}");
        let mut never: Vec<f64> = (0..38).map(f64::from).collect();
        never.extend([f64::INFINITY; 3]);
        let s = sampled(20.0, never);
        assert!(near(s.low, 1.0) && s.high.is_none(), "{s:?}");
        assert_eq!(sampled(3.0, vec![1.0; 7]).low, None);
    }

    #[test]
    fn published_expanded_uncertainty_of_two_parts() {
        // JCGM 100, G.4.2 with t_95: equal parts of 4 degrees of freedom each have 8 together, t = 2.306 (table G.2).
        let u = expanded([(3.0, 4.0), (3.0, 4.0)].into_iter());
        assert!((u - 2.306 * 18f64.sqrt()).abs() < 2e-3, "{u}");
    }
}
