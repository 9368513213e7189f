//! What a study leaves: a row per point, and a head that says which study they belong to.

use std::fmt;
use std::ops::Range;
use std::str::FromStr;

/// A varied quantity as a table shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StudyAxis {
    pub name: String,
    /// As the person wrote it; empty where there is none.
    pub unit: String,
}

impl StudyAxis {
    /// `coil.length (m)`
    pub fn heading(&self) -> String {
        if self.unit.is_empty() {
            self.name.clone()
        } else {
            format!("{} ({})", self.name, self.unit)
        }
    }
}

/// Which of equal parts of a study, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    pub number: u64,
    pub of: u64,
}

impl Part {
    /// The whole study.
    pub const WHOLE: Part = Part { number: 1, of: 1 };

    /// The points of this part, in one stretch.
    pub fn range(self, points: u64) -> Range<u64> {
        let edge = |k: u64| (u128::from(points) * u128::from(k) / u128::from(self.of)) as u64;
        edge(self.number - 1)..edge(self.number)
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.number, self.of)
    }
}

impl FromStr for Part {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let wrong = || format!("\"{text}\" is no part: write 3/8 for the third of eight");
        let (number, of) = text.split_once('/').ok_or_else(wrong)?;
        let (number, of) = (
            number.trim().parse().map_err(|_| wrong())?,
            of.trim().parse().map_err(|_| wrong())?,
        );
        if (1..=of).contains(&number) && of <= 100_000 {
            Ok(Self { number, of })
        } else {
            Err(wrong())
        }
    }
}

/// Which study a table belongs to, and which part of it it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StudyHead {
    pub fingerprint: String,
    pub axes: Vec<StudyAxis>,
    /// Of the whole study.
    pub points: u64,
    pub part: Part,
}

/// How a point ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowStatus {
    Ok,
    /// The scenario with these values is none.
    Refused,
    /// The burn broke off.
    Failed,
}

impl RowStatus {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ok => "ok",
            Self::Refused => "refused",
            Self::Failed => "failed",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        [Self::Ok, Self::Refused, Self::Failed]
            .into_iter()
            .find(|s| s.word() == word)
    }
}

/// One point of a study.
#[derive(Debug, Clone, PartialEq)]
pub struct StudyRow {
    pub point: u64,
    /// One per axis: the number in the axis' unit, or the words.
    pub labels: Vec<String>,
    pub status: RowStatus,
    /// Why it did not end well, in one line.
    pub reason: String,
    /// Codes of its warnings.
    pub warnings: Vec<String>,
    /// SI, in the order of [`super::figures::FIGURES`].
    pub figures: Vec<Option<f64>>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_parts_cover_all_points_once() {
        for (points, of) in [(100, 1), (100, 7), (3, 8), (10_000_000, 999)] {
            let mut next = 0;
            for number in 1..=of {
                let r = Part { number, of }.range(points);
                assert_eq!(r.start, next);
                next = r.end;
            }
            assert_eq!(next, points);
        }
        for bad in ["", "3", "0/8", "9/8", "a/8", "1/0", "3/8/2", "-1/8"] {
            assert!(bad.parse::<Part>().is_err(), "{bad}");
        }
    }
}
