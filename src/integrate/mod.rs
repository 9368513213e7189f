//! Time integration: tolerances, events, dense output. Knows no physics.
//!
//! [`Integrator`] carries a system from one scheduled moment to the next and stops early, exactly, where one of the
//! caller's [`Crossings`] happens. What happens at scheduled moments and crossings is the caller's business: it
//! changes its state or its switches and starts the next segment there; step size and spectral radius carry over.
//! [`integrate_segment`] is one segment by itself.
//!
//! Two methods, see [`Method`]. `ode_solvers` is not used here but as the tests' reference, because it has no method
//! for damped modes and no events: the pair of its Dopri5 takes 566 right-hand sides at the default tolerance for a
//! twenty-minute fire that the stabilised method passes in 253, the store within 0.03 K (`tests/integrate_stiff.rs`).

mod chebyshev;
mod crossing;
mod dense;
mod dormand_prince;
mod error;
mod loops;
mod root;
mod segment;
mod step;
mod tableau;

pub use dense::DenseSegment;
pub use error::IntegrateError;
pub use segment::{Counters, Integrator, Segment, SegmentEnd, integrate_segment};

/// A set of ordinary differential equations dy/dt = f(t, y).
pub trait OdeSystem {
    /// Number of states.
    fn len(&self) -> usize;

    /// True where there is nothing to integrate.
    fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Writes f(t, y) to `dy`. Pure: the same `(t_s, y)` gives the same `dy` bit for bit.
    /// A value that cannot be computed is a NaN: the step is retried shorter and, where that does not help,
    /// the integration ends with [`IntegrateError::NotFinite`].
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]);

    /// Name of state `i` for messages, e.g. `tank.layer_3.temperature`.
    fn state_name(&self, i: usize) -> String;

    /// Absolute tolerance of state `i` in multiples of [`Tolerances::atol`], for systems whose states differ
    /// in size. Positive.
    fn atol_factor(&self, _i: usize) -> f64 {
        1.0
    }

    /// Rate of a fast mode that the system is known to have, 1/s: an estimate of the spectral radius that has missed it is raised to
    /// this. Zero where nothing is known.
    fn known_rate_per_s(&self) -> f64 {
        0.0
    }

    /// Relative tolerance of state `i` in multiples of [`Tolerances::rtol`], for systems whose states differ
    /// in worth. Not negative.
    fn rtol_factor(&self, _i: usize) -> f64 {
        1.0
    }
}

/// How a step is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Method {
    /// Runge-Kutta-Chebyshev, order 2: as many stages as the fastest decaying mode needs. For loose tolerances on
    /// systems whose fast modes are heavily damped.
    #[default]
    Chebyshev2,
    /// Dormand-Prince, order 5(4). For tight tolerances, and for oscillations.
    DormandPrince5,
}

/// Accuracy and limits of an integration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerances {
    /// How a step is made.
    pub method: Method,
    /// Relative tolerance per step, > 0.
    pub rtol: f64,
    /// Absolute tolerance per step in the unit of the state, >= 0.
    pub atol: f64,
    /// Longest step, > 0; may be infinite.
    pub h_max_s: f64,
    /// Attempted steps allowed in one segment.
    pub max_steps: u64,
}

impl Default for Tolerances {
    fn default() -> Self {
        Self {
            method: Method::default(),
            rtol: 1e-5,
            atol: 1e-5,
            h_max_s: f64::INFINITY,
            max_steps: 1_000_000,
        }
    }
}

/// Which way a condition must pass through zero to count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// From negative to positive.
    Rising,
    /// From positive to negative.
    Falling,
    /// Either way.
    Any,
}

/// Conditions g(t, y), continuous in time along a solution; an event is where one of them passes through zero.
///
/// A condition that is exactly zero at the start of a segment is undecided until it leaves zero, and leaving
/// is no event. A condition that already has its far sign at the start does not fire either: whoever changes
/// the state between two segments checks for that.
pub trait Crossings {
    /// Number of conditions.
    fn count(&self) -> usize;
    /// Which way condition `i` counts.
    fn direction(&self, i: usize) -> Direction;
    /// Writes all conditions at `(t_s, y)` to `out`. Pure. After an accepted step its end is asked for first: the last
    /// right-hand side was taken there.
    fn values(&self, t_s: f64, y: &[f64], out: &mut [f64]);
    /// Writes at least the `wanted` conditions at `(t_s, y)`, for a caller that needs no others: most of them may share
    /// nothing with what the rest costs.
    fn some_values(&self, _wanted: &dyn Fn(usize) -> bool, t_s: f64, y: &[f64], out: &mut [f64]) {
        self.values(t_s, y, out);
    }
    /// Whether condition `i`, which is `a` at one end of a step and `b` at the other, both of one sign, is known not to
    /// have touched zero between: the middle of a step where all are is not looked at.
    fn stays_clear(&self, _i: usize, _a: f64, _b: f64) -> bool {
        false
    }
}

/// No conditions: a segment always runs to its end.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoCrossings;

impl Crossings for NoCrossings {
    fn count(&self) -> usize {
        0
    }
    fn direction(&self, _i: usize) -> Direction {
        Direction::Any
    }
    fn values(&self, _t_s: f64, _y: &[f64], _out: &mut [f64]) {}
}
