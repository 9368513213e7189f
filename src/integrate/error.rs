//! Why an integration could not go on: always with the time and the state that stopped it.

use thiserror::Error;

/// Failure of [`super::integrate_segment`].
#[derive(Debug, Clone, PartialEq, Error)]
pub enum IntegrateError {
    /// The interval does not run forward between finite times.
    #[error("cannot integrate from {t0_s} s to {t1_s} s")]
    BadInterval { t0_s: f64, t1_s: f64 },

    /// `rtol`, `atol` or `h_max_s` out of range.
    #[error("tolerance `{name}` = {value} is not usable")]
    BadTolerance { name: &'static str, value: f64 },

    /// The starting state has the wrong length.
    #[error("the state has {got} values, the system {expected}")]
    WrongLength { expected: usize, got: usize },

    /// A starting value is not a finite number.
    #[error("at {t_s} s the state `{state}` starts as {value}")]
    BadStart { t_s: f64, state: String, value: f64 },

    /// A derivative is not a finite number, also with far shorter steps.
    #[error(
        "at {t_s} s the rate of change of `{state}` is {value} (the state itself is {state_value})"
    )]
    NotFinite {
        t_s: f64,
        state: String,
        /// The derivative.
        value: f64,
        /// The state.
        state_value: f64,
    },

    /// An event condition is not a finite number.
    #[error("at {t_s} s event condition {index} is {value}")]
    CrossingNotFinite { t_s: f64, index: usize, value: f64 },

    /// The step shrank to the resolution of the time.
    #[error(
        "at {t_s} s the step shrank to {h_s} s: `{state}` = {state_value} changes too abruptly (error {scaled_error} tolerances)"
    )]
    StepUnderflow {
        t_s: f64,
        h_s: f64,
        /// The state with the largest error estimate.
        state: String,
        state_value: f64,
        /// That estimate in tolerances.
        scaled_error: f64,
    },

    /// The allowed number of steps was used up.
    #[error(
        "{steps} steps were not enough: at {t_s} s the step is {h_s} s, limited by `{state}` = {state_value}"
    )]
    TooManySteps {
        t_s: f64,
        steps: u64,
        h_s: f64,
        /// The state with the largest error estimate in the last step.
        state: String,
        state_value: f64,
    },
}

impl IntegrateError {
    /// The time at which the integration stopped, where there is one.
    pub fn time_s(&self) -> Option<f64> {
        match *self {
            Self::BadTolerance { .. } | Self::WrongLength { .. } => None,
            Self::BadInterval { t0_s: t_s, .. }
            | Self::BadStart { t_s, .. }
            | Self::NotFinite { t_s, .. }
            | Self::CrossingNotFinite { t_s, .. }
            | Self::StepUnderflow { t_s, .. }
            | Self::TooManySteps { t_s, .. } => Some(t_s),
        }
    }
}
