//! Conditions that are looked for while the integration runs: target, boiling, rules, smoke spill.

use crate::components::spec::{FeedWhen, Probe, Rig, Signal};
use crate::integrate::{Crossings, Direction};
use crate::network::{Instant, Network};
use std::cell::RefCell;

/// Flue walls below this collect creosote: 120 °C (folk figures 250..284 °F; common practice, no source).
pub const CREOSOTE_WALL_K: f64 = 393.15;
/// Air flow below which smoke comes out of the mouth, kg/s (a quarter more than the leak that is always assumed).
pub const SPILL_AIR_KG_S: f64 = 2.5e-4;
/// Boiling has ended when the hottest cell is this far below saturation, J/kg (half a kelvin: no flutter).
const BOIL_END_J_KG: f64 = -2.1e3;

/// Which of the controls a rule moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RuleOf {
    Damper,
    AirInlet,
    Pump,
    Valve,
    Cover,
}

/// One condition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Watch {
    Target,
    BoilStart,
    BoilEnd,
    WallBoil,
    ReliefLifts,
    ReliefReseats,
    Burst,
    SpillStart,
    SpillEnd,
    FeedRule(usize),
    RuleHigh(RuleOf, Signal, f64),
    RuleLow(RuleOf, Signal, f64),
    BenchOn,
    BenchOff,
    FlueTurnsCold,
    FlueTurnsWarm,
}

/// How far from zero, in the unit of the condition (K; for the draught g/s, for a pressure kPa), its values at both ends of a step must be for
/// its middle not to matter.
const CLEAR: f64 = 5.0;

/// The active conditions of a segment.
pub struct Watches<'a> {
    pub net: &'a Network,
    pub rig: &'a Rig,
    pub list: &'a [Watch],
    /// Moments that were looked at right after their right-hand side: the segment's start and the ends of its steps.
    pub moments: RefCell<Vec<(f64, Instant)>>,
}

impl Watches<'_> {
    /// Value of one condition; `water` and `full` are filled when first needed.
    fn value(
        &self,
        w: Watch,
        t_s: f64,
        y: &[f64],
        water: &mut Option<Instant>,
        full: &mut Option<Instant>,
    ) -> f64 {
        let net = self.net;
        let mut from_water =
            |f: fn(&Instant) -> f64| f(water.get_or_insert_with(|| net.observe_water(t_s, y)));
        match w {
            Watch::Target => {
                probe_k(net, self.rig.target.probe, t_s, y, water) - self.rig.target.temperature_k
            }
            Watch::BoilStart => from_water(|i| i.boiling_excess_j_kg) / 4186.0,
            Watch::BoilEnd => (from_water(|i| i.boiling_excess_j_kg) - BOIL_END_J_KG) / 4186.0,
            Watch::WallBoil => from_water(|i| i.wall_boiling_excess_k),
            Watch::ReliefLifts => from_water(|i| i.relief_excess_pa) * 1e-3,
            Watch::ReliefReseats => from_water(|i| i.reseat_excess_pa) * 1e-3,
            Watch::Burst => from_water(|i| i.burst_excess_pa) * 1e-3,
            Watch::SpillStart | Watch::SpillEnd => (net.air_kg_s(y) - SPILL_AIR_KG_S) * 1e3,
            Watch::FeedRule(i) => feed_margin(net, self.rig.feeding.rules[i].when, y),
            Watch::RuleHigh(_, s, limit) | Watch::RuleLow(_, s, limit) => {
                signal(net, s, t_s, y, water, full) - limit
            }
            Watch::BenchOn => self.rig_bench(|b| b.on_below_k) - net.bench_k(y),
            Watch::BenchOff => net.bench_k(y) - self.rig_bench(|b| b.off_above_k),
            Watch::FlueTurnsCold => CREOSOTE_WALL_K - net.flue_wall_min_k(y),
            Watch::FlueTurnsWarm => net.flue_wall_min_k(y) - CREOSOTE_WALL_K,
        }
    }

    fn rig_bench(&self, f: fn(&crate::components::spec::Bench) -> f64) -> f64 {
        self.net.bench.as_ref().map_or(f64::NAN, |b| f(&b.spec))
    }
}

/// How far a feeding rule is from acting, > 0: not yet.
pub fn feed_margin(net: &Network, when: FeedWhen, y: &[f64]) -> f64 {
    match when {
        FeedWhen::BedBelow(kg) => net.bed_wood_kg(y) - kg,
        FeedWhen::ChamberBelow(k) => net.flame_k(y) - k,
    }
}

/// Temperature that counts for the target.
pub fn probe_k(
    net: &Network,
    probe: Probe,
    t_s: f64,
    y: &[f64],
    water: &mut Option<Instant>,
) -> f64 {
    match (&net.vessel, probe) {
        (_, Probe::Outlet) | (None, _) => {
            if net.circuit.is_none() {
                return net.flame_k(y);
            }
            water
                .get_or_insert_with(|| net.observe_water(t_s, y))
                .coil_out_k
        }
        (Some(_), Probe::Mean) => match &net.bench {
            Some(b) if b.direct => net.bench_k(y),
            _ => net.tank_mean_k(y),
        },
        (Some(v), Probe::Top) => net.layer_k(y, v.layers - 1),
        (Some(_), Probe::Bottom) => net.layer_k(y, 0),
        (Some(v), Probe::Tap) => v.draw_port.mix(|i| net.layer_k(y, i)),
    }
}

/// What a control rule looks at.
pub fn signal(
    net: &Network,
    s: Signal,
    t_s: f64,
    y: &[f64],
    water: &mut Option<Instant>,
    full: &mut Option<Instant>,
) -> f64 {
    match s {
        Signal::Chamber => net.flame_k(y),
        Signal::Stack => full.get_or_insert_with(|| net.observe(t_s, y)).stack_k,
        Signal::CoilOutlet => {
            water
                .get_or_insert_with(|| net.observe_water(t_s, y))
                .coil_out_k
        }
        Signal::TankTop => net
            .vessel
            .as_ref()
            .map_or(f64::NAN, |v| net.layer_k(y, v.layers - 1)),
        Signal::TankMean => net.tank_mean_k(y),
    }
}

impl Crossings for Watches<'_> {
    fn count(&self) -> usize {
        self.list.len()
    }

    fn direction(&self, i: usize) -> Direction {
        match self.list[i] {
            Watch::Target
            | Watch::BoilStart
            | Watch::WallBoil
            | Watch::ReliefLifts
            | Watch::Burst
            | Watch::SpillEnd
            | Watch::RuleHigh(..)
            | Watch::BenchOn
            | Watch::BenchOff
            | Watch::FlueTurnsCold
            | Watch::FlueTurnsWarm => Direction::Rising,
            Watch::BoilEnd
            | Watch::ReliefReseats
            | Watch::SpillStart
            | Watch::FeedRule(_)
            | Watch::RuleLow(..) => Direction::Falling,
        }
    }

    fn values(&self, t_s: f64, y: &[f64], out: &mut [f64]) {
        let mut full = self.net.seen(t_s, y);
        if let Some(i) = &full {
            let mut moments = self.moments.borrow_mut();
            if moments.last().is_none_or(|m| m.0 < t_s) {
                moments.push((t_s, *i));
            }
        }
        let mut water = full;
        for (o, &w) in out.iter_mut().zip(self.list) {
            *o = self.value(w, t_s, y, &mut water, &mut full);
        }
    }

    fn some_values(&self, wanted: &dyn Fn(usize) -> bool, t_s: f64, y: &[f64], out: &mut [f64]) {
        let (mut water, mut full) = (None, None);
        for (i, (o, &w)) in out.iter_mut().zip(self.list).enumerate() {
            if wanted(i) {
                *o = self.value(w, t_s, y, &mut water, &mut full);
            }
        }
    }

    fn stays_clear(&self, i: usize, a: f64, b: f64) -> bool {
        match self.list[i] {
            // Between two feeds the bed only gets less.
            Watch::FeedRule(r)
                if matches!(self.rig.feeding.rules[r].when, FeedWhen::BedBelow(_)) =>
            {
                true
            }
            _ => a.abs().min(b.abs()) > CLEAR.max((a - b).abs()),
        }
    }
}
