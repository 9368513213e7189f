//! What the segment loop needs of a method: one adaptive step at a time.

use super::OdeSystem;

/// What an attempted step came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Attempt {
    Accepted,
    /// The error was too large.
    Rejected,
    /// A stage's derivative was not finite: state index, time, derivative, state.
    NotFinite {
        state: usize,
        t_s: f64,
        value: f64,
        state_value: f64,
    },
}

/// A one-step method with its error estimate and step-size control.
pub(super) trait OneStep {
    /// Rows of coefficients that one step gives to the dense output.
    const ROWS: usize;
    /// By how much a step may be stretched to land on the end of the segment.
    const STRETCH: f64;
    /// Whether the last two steps of a segment share what is left evenly.
    const SHARES_THE_END: bool;

    /// Present time.
    fn t_s(&self) -> f64;
    /// Present state.
    fn y(&self) -> &[f64];
    /// Derivatives evaluated since the last [`Self::restart`]: all, and those spent on the spectral radius.
    fn rhs_calls(&self) -> (u64, u64);

    /// Goes to `(t_s, y0)` and evaluates the derivative there; must come before the first step.
    fn restart(&mut self, sys: &impl OdeSystem, t_s: f64, y0: &[f64]) -> Attempt;

    /// A first step where nothing better is known.
    fn first_step_s(&mut self, sys: &impl OdeSystem, h_max_s: f64) -> f64;

    /// The step to try first after a restart, when `h_s` was to be next before it: a jump of the derivative may
    /// ask for less.
    fn restart_step_s(&self, h_s: f64) -> f64;

    /// Tries a step of `h_s`; on acceptance time and state move on, and the coefficient rows of the
    /// step ([`Self::ROWS`] times the state) are added to what `rows(t_s, h_s)` hands out. Returns the outcome and the next
    /// step length.
    fn attempt<'a>(
        &mut self,
        sys: &impl OdeSystem,
        h_s: f64,
        t_end_s: f64,
        rows: impl FnOnce(f64, f64) -> &'a mut Vec<f64>,
    ) -> (Attempt, f64);

    /// Longest step that the method can take here at all.
    fn longest_step_s(&self) -> f64;

    /// The step that costs least per second at or below `h_s`.
    fn thrifty_step_s(&self, h_s: f64) -> f64;

    /// The state with the largest error estimate in the last attempt: index, estimate in tolerances.
    fn worst_state(&self, h_s: f64) -> (usize, f64);
}

/// The first derivative that is not finite, if any.
pub(super) fn finite(t_s: f64, dy: &[f64], y: &[f64]) -> Option<Attempt> {
    if super::loops::all_finite(dy) {
        return None;
    }
    let state = dy.iter().position(|v| !v.is_finite())?;
    Some(Attempt::NotFinite {
        state,
        t_s,
        value: dy[state],
        state_value: y[state],
    })
}
