//! What changes only at events: positions of controls, the feeds that lie in the bed, open taps.
//! Constant while a segment is integrated, so that the right-hand side is a pure function of time and state.

use super::layout::COHORTS;
use crate::components::bed::Laid;

/// What stands in the way of the loop's own branch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blocked {
    No,
    /// No water passes; steam may leave at both of the coil's ends.
    Standing,
    /// Shut at the coil's outlet: steam leaves by the inlet.
    HotSide,
    /// Shut at the coil's inlet: steam leaves by the outlet.
    ColdSide,
}

/// Discrete state of the rig.
#[derive(Debug, Clone)]
pub struct Mode {
    /// 0..1
    pub damper: f64,
    /// 0..1
    pub air_inlet: f64,
    /// Index of the pump's setting; `None` stopped.
    pub pump: Option<usize>,
    /// 0..1
    pub valve: f64,
    pub cover_on: bool,
    pub door_open: bool,
    /// The starter (paper, firelighter) burns.
    pub starter_on: bool,
    /// Water drawn from the vessel, kg/s and the temperature of its make-up.
    pub draw_kg_s: f64,
    pub draw_cold_k: f64,
    pub bench_on: bool,
    /// Fans in the gas path have power.
    pub fan_on: bool,
    /// The relief valve of a closed loop has lifted and not yet shut again.
    pub relief_open: bool,
    /// Of the loop's own branch; its flow is then nothing.
    pub blocked: Blocked,
    /// Velocity heads on the return pipe's bore besides the rig's own.
    pub obstruction_k: f64,
    pub cohorts: [Laid; COHORTS],
}

impl Mode {
    /// Everything shut and empty.
    pub fn idle() -> Self {
        Self {
            damper: 1.0,
            air_inlet: 1.0,
            pump: None,
            valve: 1.0,
            cover_on: false,
            door_open: false,
            starter_on: false,
            draw_kg_s: 0.0,
            draw_cold_k: 283.15,
            bench_on: false,
            fan_on: true,
            relief_open: false,
            blocked: Blocked::No,
            obstruction_k: 0.0,
            cohorts: [Laid::default(); COHORTS],
        }
    }
}
