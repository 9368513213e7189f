//! The scenario that a study varies, and one of its points: values in, summary out.

use crate::analyses::burn::{BurnOptions, RunError, burn};
use crate::components::spec::Rig;
use crate::results::Summary;
use crate::scenario::{self, Diagnostics, Severity};

/// A scenario as text, with what holds for all points.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Base {
    /// File name, for messages.
    pub name: String,
    pub text: String,
    /// Path and value, applied before a point's own.
    pub overrides: Vec<(String, String)>,
}

/// Why a point has no summary.
#[derive(Debug, thiserror::Error)]
pub enum PointError {
    /// The scenario with these values is none.
    #[error("{}", first_problem(.0))]
    Refused(Diagnostics),
    /// The burn broke off.
    #[error(transparent)]
    Failed(#[from] RunError),
}

impl Base {
    /// The rig with these values, path and value as text.
    ///
    /// # Errors
    /// All problems of the scenario with them.
    pub fn rig(&self, values: &[(String, String)]) -> Result<Rig, Diagnostics> {
        let mut overrides = self.overrides.clone();
        overrides.extend_from_slice(values);
        scenario::load_str(&self.name, &self.text, &overrides).map(|loaded| loaded.rig)
    }

    /// Burns with these values; no series is gathered.
    ///
    /// # Errors
    /// [`PointError`].
    pub fn run(&self, values: &[(String, String)]) -> Result<Summary, PointError> {
        let rig = self.rig(values).map_err(PointError::Refused)?;
        let options = BurnOptions {
            series: false,
            ..BurnOptions::default()
        };
        Ok(burn(&rig, &options, &mut |_| true)?.summary)
    }
}

/// The first problem in one line, and how many follow.
fn first_problem(problems: &Diagnostics) -> String {
    let errors: Vec<_> = problems
        .items()
        .iter()
        .filter(|d| d.severity == Severity::Error)
        .collect();
    match errors.as_slice() {
        [] => "refused".into(),
        [one] => format!("{}: {}", one.code, one.message),
        [one, rest @ ..] => format!("{}: {} (and {} more)", one.code, one.message, rest.len()),
    }
}
