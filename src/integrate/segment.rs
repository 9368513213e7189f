//! From one scheduled moment towards the next: steps until the end, an event, or a named failure.

use super::chebyshev::Chebyshev;
use super::crossing::Watcher;
use super::dormand_prince::DormandPrince;
use super::step::{Attempt, OneStep};
use super::{Crossings, DenseSegment, IntegrateError, Method, OdeSystem, Tolerances};

/// Attempts that run into a derivative that is not finite, without getting past the time where it was met,
/// before it is called a failure. Each is a fifth of the one before: an overlong step that leaves the model's
/// domain is back inside long before twenty of them.
const NOT_FINITE_ATTEMPTS: u32 = 20;

/// Why a segment ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SegmentEnd {
    /// The scheduled end.
    Reached,
    /// Condition `index` crossed zero at `t_s`; [`Segment::fired`] lists all that did.
    Crossed { index: usize, t_s: f64 },
}

/// Work done.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counters {
    /// Accepted steps.
    pub steps: u64,
    /// Derivative evaluations, those of `radius_rhs` among them.
    pub rhs: u64,
    /// Derivative evaluations spent on the spectral radius.
    pub radius_rhs: u64,
    /// Attempts that were thrown away.
    pub rejected: u64,
}

/// An integrated piece of the solution.
#[derive(Debug, Clone)]
pub struct Segment {
    pub end: SegmentEnd,
    /// All conditions that crossed at the end, ascending; empty where the scheduled end was reached.
    pub fired: Vec<usize>,
    /// Where it ended: the scheduled end exactly, or the event.
    pub t_s: f64,
    /// The state there. At an event: the dense output just past the root, each fired condition on its far
    /// side (or exactly zero), so that a restart from here does not fire it again.
    pub y: Vec<f64>,
    pub dense: DenseSegment,
    pub counters: Counters,
    /// What the step control would try next: the `h0_s` of the following segment.
    pub h_next_s: f64,
}

/// Carries one system through a run of segments. Between them it keeps the step length, the error's trend and the
/// spectral radius, so that a restart after an event costs little; the right-hand side may change in between.
#[derive(Clone)]
pub struct Integrator {
    tol: Tolerances,
    engine: Engine,
    h_s: f64,
}

#[derive(Clone)]
enum Engine {
    Chebyshev(Box<Chebyshev>),
    DormandPrince(Box<DormandPrince>),
}

impl Integrator {
    /// Makes room for the states of `sys`; evaluates nothing. `h0_s` is the first step to try; zero (or less, or
    /// NaN) lets the routine choose.
    ///
    /// # Errors
    /// [`IntegrateError::BadTolerance`].
    pub fn new(sys: &impl OdeSystem, tol: &Tolerances, h0_s: f64) -> Result<Self, IntegrateError> {
        check_tolerances(tol)?;
        let engine = match tol.method {
            Method::Chebyshev2 => {
                Engine::Chebyshev(Box::new(Chebyshev::new(sys, tol.rtol, tol.atol)))
            }
            Method::DormandPrince5 => {
                Engine::DormandPrince(Box::new(DormandPrince::new(sys, tol.rtol, tol.atol)))
            }
        };
        Ok(Self {
            tol: *tol,
            engine,
            h_s: h0_s,
        })
    }

    /// Integrates from `t0_s` to `t1_s`, or to the earliest crossing before or at it. Where `t1_s` equals `t0_s`,
    /// nothing is done and the end is reached. `sys` has the states of the system that this was made for.
    ///
    /// # Errors
    /// See [`IntegrateError`]. Nothing partial is returned.
    pub fn segment(
        &mut self,
        sys: &impl OdeSystem,
        crossings: &impl Crossings,
        t0_s: f64,
        t1_s: f64,
        y0: &[f64],
    ) -> Result<Segment, IntegrateError> {
        check_input(sys, t0_s, t1_s, y0)?;
        let (tol, span_s) = (&self.tol, (t0_s, t1_s));
        let segment = match &mut self.engine {
            Engine::Chebyshev(m) => run(&mut **m, sys, crossings, span_s, y0, self.h_s, tol)?,
            Engine::DormandPrince(m) => run(&mut **m, sys, crossings, span_s, y0, self.h_s, tol)?,
        };
        self.h_s = segment.h_next_s;
        Ok(segment)
    }
}

/// One segment by itself: [`Integrator::segment`] with nothing known from before.
///
/// `h0_s` is the first step to try, e.g. the last segment's [`Segment::h_next_s`]; zero (or less, or NaN)
/// lets the routine choose.
///
/// # Errors
/// See [`IntegrateError`]. Nothing partial is returned.
pub fn integrate_segment(
    sys: &impl OdeSystem,
    crossings: &impl Crossings,
    t0_s: f64,
    t1_s: f64,
    y0: &[f64],
    h0_s: f64,
    tol: &Tolerances,
) -> Result<Segment, IntegrateError> {
    Integrator::new(sys, tol, h0_s)?.segment(sys, crossings, t0_s, t1_s, y0)
}

fn run<M: OneStep>(
    stepper: &mut M,
    sys: &impl OdeSystem,
    crossings: &impl Crossings,
    (t0_s, t1_s): (f64, f64),
    y0: &[f64],
    h0_s: f64,
    tol: &Tolerances,
) -> Result<Segment, IntegrateError> {
    let mut dense = DenseSegment::new(M::ROWS, t0_s, y0);
    let mut counters = Counters::default();
    if t1_s == t0_s || y0.is_empty() {
        return Ok(Segment {
            end: SegmentEnd::Reached,
            fired: Vec::new(),
            t_s: t1_s,
            y: y0.to_vec(),
            dense,
            counters,
            h_next_s: h0_s,
        });
    }

    if let Some(error) = named(sys, stepper.restart(sys, t0_s, y0)) {
        return Err(error);
    }
    let mut watcher = Watcher::new(crossings, t0_s, y0)?;
    let span_s = t1_s - t0_s;
    let mut h_s = if h0_s > 0.0 {
        stepper.restart_step_s(h0_s)
    } else {
        stepper.first_step_s(sys, tol.h_max_s.min(span_s))
    }
    .min(tol.h_max_s);

    // Attempts stopped by a derivative that is not finite, the last of them, and how far they reached.
    let (mut not_finite, mut wall, mut wall_s) = (0, None, f64::NEG_INFINITY);
    loop {
        if counters.steps + counters.rejected >= tol.max_steps {
            let (i, _) = stepper.worst_state(h_s);
            return Err(IntegrateError::TooManySteps {
                t_s: stepper.t_s(),
                steps: tol.max_steps,
                h_s,
                state: sys.state_name(i),
                state_value: stepper.y()[i],
            });
        }
        let start_s = stepper.t_s();
        // Below this the stages' times run together.
        if h_s <= 16.0 * f64::EPSILON * start_s.abs().max(t1_s.abs()) {
            if let Some(error) = wall.and_then(|attempt| named(sys, attempt)) {
                return Err(error);
            }
            let (i, scaled_error) = stepper.worst_state(h_s);
            return Err(IntegrateError::StepUnderflow {
                t_s: start_s,
                h_s,
                state: sys.state_name(i),
                state_value: stepper.y()[i],
                scaled_error,
            });
        }
        // A last sliver costs a whole step: stretch a little instead, or share what is left.
        let (left_s, wanted_s) = (t1_s - start_s, h_s);
        let last = M::STRETCH * h_s >= left_s && left_s <= stepper.longest_step_s();
        h_s = if last {
            left_s
        } else if M::SHARES_THE_END && 2.0 * h_s >= left_s {
            0.5 * left_s
        } else {
            stepper.thrifty_step_s(h_s)
        };
        let end_s = if last { t1_s } else { start_s + h_s };
        let (attempt, next_s) =
            stepper.attempt(sys, h_s, end_s, |t_s, h_s| dense.push_step(t_s, h_s, end_s));
        match attempt {
            Attempt::Accepted => {}
            Attempt::Rejected => {
                counters.rejected += 1;
                h_s = next_s;
                continue;
            }
            Attempt::NotFinite { t_s, .. } => {
                not_finite += 1;
                wall = Some(attempt);
                wall_s = t_s;
                counters.rejected += 1;
                if not_finite >= NOT_FINITE_ATTEMPTS
                    && let Some(error) = named(sys, attempt)
                {
                    return Err(error);
                }
                h_s = next_s;
                continue;
            }
        }
        if stepper.t_s() >= wall_s {
            (not_finite, wall) = (0, None);
        }
        counters.steps += 1;
        // A step cut short by the schedule says little about the next one.
        let cut = h_s < wanted_s;
        let h_next_s = if cut { next_s.max(wanted_s) } else { next_s }.min(tol.h_max_s);

        let found = watcher.look(crossings, &dense, (start_s, h_s, end_s), stepper.y())?;
        (counters.rhs, counters.radius_rhs) = stepper.rhs_calls();
        if let Some(found) = found {
            let mut y = stepper.y().to_vec();
            if found.theta < 1.0 {
                dense.eval_step_into(dense.steps() - 1, found.theta, &mut y);
                dense.truncate(found.t_s);
            }
            return Ok(Segment {
                end: SegmentEnd::Crossed {
                    index: found.fired.first().copied().unwrap_or_default(),
                    t_s: found.t_s,
                },
                fired: found.fired,
                t_s: found.t_s,
                y,
                dense,
                counters,
                h_next_s,
            });
        }
        if last {
            return Ok(Segment {
                end: SegmentEnd::Reached,
                fired: Vec::new(),
                t_s: t1_s,
                y: stepper.y().to_vec(),
                dense,
                counters,
                h_next_s,
            });
        }
        h_s = h_next_s;
    }
}

fn check_tolerances(tol: &Tolerances) -> Result<(), IntegrateError> {
    for (name, value, good) in [
        ("rtol", tol.rtol, tol.rtol > 0.0 && tol.rtol.is_finite()),
        ("atol", tol.atol, tol.atol >= 0.0 && tol.atol.is_finite()),
        ("h_max_s", tol.h_max_s, tol.h_max_s > 0.0),
    ] {
        if !good {
            return Err(IntegrateError::BadTolerance { name, value });
        }
    }
    Ok(())
}

fn check_input(
    sys: &impl OdeSystem,
    t0_s: f64,
    t1_s: f64,
    y0: &[f64],
) -> Result<(), IntegrateError> {
    if !(t0_s.is_finite() && t1_s.is_finite() && t0_s <= t1_s) {
        return Err(IntegrateError::BadInterval { t0_s, t1_s });
    }
    if y0.len() != sys.len() {
        return Err(IntegrateError::WrongLength {
            expected: sys.len(),
            got: y0.len(),
        });
    }
    match y0.iter().position(|v| !v.is_finite()) {
        None => Ok(()),
        Some(i) => Err(IntegrateError::BadStart {
            t_s: t0_s,
            state: sys.state_name(i),
            value: y0[i],
        }),
    }
}

/// The error for a derivative that is not finite.
fn named(sys: &impl OdeSystem, attempt: Attempt) -> Option<IntegrateError> {
    match attempt {
        Attempt::NotFinite {
            state,
            t_s,
            value,
            state_value,
        } => Some(IntegrateError::NotFinite {
            t_s,
            state: sys.state_name(state),
            value,
            state_value,
        }),
        Attempt::Accepted | Attempt::Rejected => None,
    }
}
