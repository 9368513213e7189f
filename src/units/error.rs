//! What can be wrong with a written quantity, in words that help.

use super::Kind;
use std::fmt;
use std::ops::Range;

/// A text that is not a quantity of the wanted kind.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitError {
    /// What was wanted.
    pub kind: Kind,
    /// What was read.
    pub read: String,
    /// Byte range of the culprit within `read`.
    pub span: Range<usize>,
    pub problem: Problem,
}

/// The reason of a [`UnitError`].
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// Nothing but spaces.
    Empty,
    /// No number at the start.
    NoNumber,
    /// A comma in the number.
    Comma,
    /// A number that cannot be read (two points, division by zero, too large).
    BadNumber,
    /// A number without a unit where one is needed.
    NoUnit,
    /// A unit that is known for no kind.
    UnknownUnit {
        unit: String,
        nearest: Option<&'static str>,
    },
    /// A unit of another kind.
    OtherKind { unit: String, is: Kind },
    /// "2 in 1 ft", "1 ft -2 in".
    BadChain,
    /// A time of day.
    ClockTime,
    /// Below 0 K.
    BelowAbsoluteZero,
}

impl UnitError {
    /// What to write instead.
    pub fn help(&self) -> String {
        let units = self.kind.usual_units();
        let examples = self.kind.examples();
        match &self.problem {
            Problem::Comma => {
                "write decimals with a point (\"0.4\") and thousands without a mark (\"100000\")"
                    .into()
            }
            Problem::ClockTime => {
                "times count from lighting the fire: write \"2 h 5 min\", not a time of day".into()
            }
            Problem::UnknownUnit {
                nearest: Some(near),
                ..
            } => format!("did you mean {near}? units of {}: {units}", self.kind),
            Problem::BadChain => format!("write falling units, the sign in front only: {examples}"),
            _ => match self.kind {
                Kind::Fraction => format!("write a share as {examples}"),
                Kind::Number => "write a plain number without a unit".into(),
                _ => format!("units of {}: {units} (for example {examples})", self.kind),
            },
        }
    }
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let read = shorten(&self.read);
        let kind = self.kind.a_noun();
        match &self.problem {
            Problem::Empty => write!(f, "an empty text is not {kind}"),
            Problem::NoNumber => write!(
                f,
                "\"{read}\" is not {kind}: it does not begin with a number"
            ),
            Problem::Comma => write!(
                f,
                "\"{read}\" is not {kind}: a comma is read neither as a decimal point nor as a thousands mark"
            ),
            Problem::BadNumber => write!(f, "\"{read}\" is not {kind}: the number cannot be read"),
            Problem::NoUnit => write!(f, "\"{read}\" has no unit; {kind} needs one"),
            Problem::UnknownUnit { unit, .. } => write!(
                f,
                "\"{read}\" is not {kind}: unknown unit \"{}\"",
                shorten(unit)
            ),
            Problem::OtherKind { unit, is } => {
                write!(f, "\"{read}\" is not {kind}: \"{unit}\" is a unit of {is}")
            }
            Problem::BadChain => write!(
                f,
                "\"{read}\" is not {kind}: the parts do not follow each other from large to small"
            ),
            Problem::ClockTime => {
                write!(f, "\"{read}\" is not {kind}: it looks like a time of day")
            }
            Problem::BelowAbsoluteZero => write!(f, "\"{read}\" lies below absolute zero"),
        }
    }
}

impl std::error::Error for UnitError {}

/// At most 60 characters, for messages.
fn shorten(text: &str) -> String {
    if text.chars().count() <= 60 {
        return text.to_owned();
    }
    let mut s: String = text.chars().take(57).collect();
    s.push_str("...");
    s
}
