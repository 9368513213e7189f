//! Logs of measured burns: bytes → rows → typed channels, every doubt and every flaw named.
//!
//! [`read`] takes the bytes of a log and a [`Mapping`] and gives a [`Reading`]: channels in SI on a time axis, events,
//! what was decided and why, and the suspect spans. Nothing is filled in and nothing is dropped without a word.
//! Files are opened by the caller; `docs/logs.md` says what may stand in them.

mod cell;
mod clock;
mod columns;
mod decode;
mod events;
mod foreign;
mod grid;
mod layout;
mod mapping;
mod merge;
mod propose;
mod read;
mod suspect;
mod time;

pub use columns::{Role, role_words};
pub use mapping::{
    Account, ChannelMap, DrawLine, EventMap, FeedLine, FuelMap, Mapping, RigMap, TimeMap,
};
pub use merge::merge;
pub use propose::propose;
pub use read::{ClockBase, Reading, read};

use serde::Serialize;

/// How bad a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// The log cannot be used as it is.
    Error,
    /// Something was left out or is doubtful; the rest stands.
    Warning,
}

/// Something in a log or its mapping that cannot be read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Problem {
    pub severity: Severity,
    /// Line of the file, from 1.
    pub line: Option<usize>,
    /// Column of the table, from 1.
    pub column: Option<usize>,
    pub message: String,
    /// What to write instead; empty where that is plain.
    pub hint: String,
}

impl Problem {
    pub(crate) fn error(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            severity: Severity::Error,
            line: None,
            column: None,
            message: message.into(),
            hint: hint.into(),
        }
    }

    pub(crate) fn warning(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            severity: Severity::Warning,
            ..Self::error(message, hint)
        }
    }

    pub(crate) fn at(mut self, line: usize, column: Option<usize>) -> Self {
        self.line = Some(line);
        self.column = column.map(|c| c + 1);
        self
    }
}

/// How something was read, and on what evidence.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Decision {
    pub about: String,
    pub taken: String,
    pub reason: String,
    /// Where the evidence does not decide: what to ask the person.
    pub question: Option<String>,
}

impl Decision {
    pub(crate) fn new(
        about: impl Into<String>,
        taken: impl Into<String>,
        reason: impl Into<String>,
    ) -> Self {
        Self {
            about: about.into(),
            taken: taken.into(),
            reason: reason.into(),
            question: None,
        }
    }

    pub(crate) fn asking(mut self, question: impl Into<String>) -> Self {
        self.question = Some(question.into());
        self
    }
}

/// Why a span is suspect.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FlagKind {
    DropOut,
    Sentinel,
    Spike,
    Stuck,
    ClockJump,
    DuplicateStamp,
    Gap,
    OutOfRange,
}

impl FlagKind {
    /// Plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::DropOut => "drop-out",
            Self::Sentinel => "sentinel value",
            Self::Spike => "spike",
            Self::Stuck => "stuck probe",
            Self::ClockJump => "clock jump",
            Self::DuplicateStamp => "duplicate stamp",
            Self::Gap => "gap",
            Self::OutOfRange => "out of range",
        }
    }
}

/// A suspect span.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Flag {
    pub kind: FlagKind,
    /// Name of the channel; empty for the time axis.
    pub channel: String,
    /// Lines of the file.
    pub first_line: usize,
    pub last_line: usize,
    pub first_s: f64,
    pub last_s: f64,
    pub readings: usize,
    pub reason: String,
    /// The readings of the span are left out of what is computed.
    pub left_out: bool,
}

/// One column of readings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Channel {
    pub name: String,
    pub role: Role,
    /// Seconds on the log's clock.
    pub time_s: Vec<f64>,
    /// SI; temperatures in kelvin, shares from 0 to 1.
    pub value: Vec<f64>,
    /// Line of each reading.
    pub line: Vec<usize>,
    /// Not within a span that is left out.
    pub good: Vec<bool>,
    /// Smallest step between readings, SI: what the logger resolves.
    pub resolution: f64,
    /// Standard uncertainty that the mapping states, SI.
    pub uncertainty: Option<f64>,
    /// Its degrees of freedom; `None`: taken as known.
    pub freedom: Option<f64>,
}

impl Channel {
    /// Times and values that are not left out.
    pub fn kept(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let readings = self.time_s.iter().zip(&self.value).zip(&self.good);
        readings
            .filter(|(_, good)| **good)
            .map(|((t, v), _)| (*t, *v))
    }
}

/// What somebody did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum EventKind {
    Lit,
    Feed,
    Damper,
    Pump,
    Note,
}

/// An act or remark in a log or a second table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Event {
    pub kind: EventKind,
    pub time_s: f64,
    pub line: usize,
    pub text: String,
    pub mass_kg: Option<f64>,
    /// Half the last digit of the mass as written.
    pub mass_half_digit_kg: f64,
}
