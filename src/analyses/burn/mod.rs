//! One burn: segments between events, events applied, results gathered.

mod controls;
mod pressure;
mod saved;

pub use saved::Saved;

use super::gather::Gather;
use super::schedule::{Action, Schedule};
use super::watch::{Watch, Watches};
use crate::components::spec::*;
use crate::integrate::{IntegrateError, Integrator, Method, Segment, SegmentEnd, Tolerances};
use crate::network::{AssembleError, Carried, Fed, Network};
use crate::results::{BurnResult, Echo, EventKind};
use std::cell::RefCell;

/// Why a run ended without a result.
#[derive(Debug, thiserror::Error)]
pub enum RunError {
    #[error("the rig cannot be assembled: {0}")]
    Assemble(#[from] AssembleError),
    #[error("the integration failed: {0}")]
    Integrate(#[from] IntegrateError),
    #[error("the run was cancelled")]
    Cancelled,
}

/// What a run should gather besides the summary.
#[derive(Debug, Clone)]
pub struct BurnOptions {
    /// Time series and pictures' data; sweeps switch it off.
    pub series: bool,
    /// Where no series is asked for, time and mean temperature of the store alone.
    pub tank_curve: bool,
    /// Defaults to echo in the result.
    pub defaults: Vec<Echo>,
    /// Deposits of earlier burns.
    pub carried: Carried,
}

impl Default for BurnOptions {
    fn default() -> Self {
        Self {
            series: true,
            tank_curve: false,
            defaults: Vec::new(),
            carried: Carried::default(),
        }
    }
}

/// Where a run stands, for a progress display.
#[derive(Debug, Clone, Copy)]
pub struct Progress {
    pub time_s: f64,
    pub latest_s: f64,
    pub tank_k: f64,
}

/// Events of one kind after which a flickering condition is no longer looked for.
const MOST_BOILINGS: usize = 60;

/// Below this relative tolerance accuracy limits the steps, not stability, and the method of order 5 needs fewer
/// right-hand sides.
const TIGHT_RTOL: f64 = 3e-6;
/// Longest step: a condition that dips and returns within one is found by its parabola only.
const LONGEST_STEP_S: f64 = 300.0;

/// Runs one burn. `progress` is called at every event; return `false` to cancel.
///
/// # Errors
/// See [`RunError`].
pub fn burn(
    rig: &Rig,
    options: &BurnOptions,
    progress: &mut dyn FnMut(Progress) -> bool,
) -> Result<BurnResult, RunError> {
    burn_watched(rig, options, progress, &mut |_, _| ())
}

/// [`burn`], each segment between two events shown with the network in the mode that held during it.
///
/// # Errors
/// See [`RunError`].
pub fn burn_watched(
    rig: &Rig,
    options: &BurnOptions,
    progress: &mut dyn FnMut(Progress) -> bool,
    watch: &mut dyn FnMut(&Network, &Segment),
) -> Result<BurnResult, RunError> {
    let net = Network::new(rig)?;
    Run::new(rig, net, options).go(progress, watch)
}

/// What a fault takes out of the hands of schedule and rules, and does to the wood.
#[derive(Debug, Clone, Copy)]
struct Hand {
    pump_held: bool,
    air_held: bool,
    /// Nobody feeds any more.
    feeds: bool,
    /// Each feed is this much larger.
    feed_share: f64,
    /// Thickness and moisture of every stick from now on.
    wood: Option<(f64, f64)>,
    /// The relief valve sticks: it never lifts.
    relief_stuck: bool,
    /// The run goes on beyond the end that the scenario names.
    endless: bool,
}

#[derive(Clone)]
struct Run<'a> {
    hand: Hand,
    rig: &'a Rig,
    net: Network,
    y: Vec<f64>,
    t: f64,
    fed: Fed,
    schedule: Schedule,
    gather: Gather,
    armed: Vec<bool>,
    rules_awake: [bool; 5],
    target_s: Option<f64>,
    boiling: bool,
    boilings: usize,
    wall_boiled: bool,
    burst: bool,
    spilling: Option<f64>,
    flue_cold: bool,
    draws_started: Vec<bool>,
    ended: bool,
    door_until_s: f64,
    spill_has_fire: bool,
}

impl<'a> Run<'a> {
    fn new(rig: &'a Rig, mut net: Network, options: &BurnOptions) -> Self {
        net.carry(options.carried.clone());
        let y = net.initial_state();
        let gather = Gather::new(rig, &net, options);
        let draws = match &rig.water {
            Water::Store { draws, .. } => draws.len(),
            _ => 0,
        };
        Self {
            hand: Hand {
                pump_held: false,
                air_held: false,
                feeds: true,
                feed_share: 1.0,
                wood: None,
                relief_stuck: false,
                endless: false,
            },
            rig,
            t: 0.0,
            fed: Fed {
                start: y.clone(),
                ..Fed::default()
            },
            schedule: Schedule::default(),
            gather,
            armed: vec![true; rig.feeding.rules.len()],
            rules_awake: [false; 5],
            target_s: None,
            boiling: false,
            boilings: 0,
            wall_boiled: false,
            burst: false,
            spilling: None,
            flue_cold: true,
            draws_started: vec![false; draws],
            ended: false,
            door_until_s: 0.0,
            spill_has_fire: true,
            y,
            net,
        }
    }

    fn go(
        mut self,
        progress: &mut dyn FnMut(Progress) -> bool,
        watch: &mut dyn FnMut(&Network, &Segment),
    ) -> Result<BurnResult, RunError> {
        let mut integrator = self.begin()?;
        while self.advance(&mut integrator, f64::INFINITY, progress, watch)? {}
        Ok(self.finish())
    }

    /// Plans and lights; then [`Self::advance`] goes from event to event.
    fn begin(&mut self) -> Result<Integrator, RunError> {
        self.plan();
        self.light();
        let s = &self.rig.solver;
        let tol = Tolerances {
            method: if s.rtol < TIGHT_RTOL {
                Method::DormandPrince5
            } else {
                Method::Chebyshev2
            },
            rtol: s.rtol,
            atol: s.atol,
            h_max_s: LONGEST_STEP_S,
            max_steps: 2_000_000,
        };
        let integrator = Integrator::new(&self.net, &tol, 0.0)?;
        self.gather.start(&self.net, self.t, &self.y);
        Ok(integrator)
    }

    /// To the next event, or to `until_s` where that comes first; `false` at the end of the run.
    fn advance(
        &mut self,
        integrator: &mut Integrator,
        until_s: f64,
        progress: &mut dyn FnMut(Progress) -> bool,
        watch: &mut dyn FnMut(&Network, &Segment),
    ) -> Result<bool, RunError> {
        // What is due now; rules may already be met.
        while let Some(a) = self.schedule.take_due(self.t) {
            self.apply(a);
        }
        self.check_standing();
        self.check_pressure();
        if self.ended || self.burst {
            return Ok(false);
        }
        if !progress(Progress {
            time_s: self.t,
            latest_s: self.rig.stop.latest_s,
            tank_k: self.net.tank_mean_k(&self.y),
        }) {
            return Err(RunError::Cancelled);
        }
        let last = if self.hand.endless {
            until_s
        } else {
            self.rig.stop.latest_s
        };
        let stop = self
            .schedule
            .next_time_s()
            .unwrap_or(last)
            .max(self.t)
            .min(until_s);
        let list = self.watches();
        let watches = Watches {
            net: &self.net,
            rig: self.rig,
            list: &list,
            moments: RefCell::default(),
        };
        let seg = integrator.segment(&self.net, &watches, self.t, stop, &self.y)?;
        let moments = watches.moments.into_inner();
        self.gather.segment(&self.net, &seg, &moments);
        watch(&self.net, &seg);
        self.t = seg.t_s;
        self.y = seg.y;
        if let SegmentEnd::Crossed { .. } = seg.end {
            for &i in &seg.fired {
                self.crossed(list[i]);
            }
        }
        Ok(true)
    }

    fn finish(mut self) -> BurnResult {
        if let Some(from) = self.spilling {
            self.gather.spill(from, self.t, self.spill_has_fire);
        }
        self.gather.finish(
            self.rig,
            &self.net,
            &self.fed,
            self.t,
            &self.y,
            self.target_s,
        )
    }

    /// Everything known beforehand.
    fn plan(&mut self) {
        let rig = self.rig;
        let end = rig.stop.latest_s;
        let s = &mut self.schedule;
        for f in &rig.feeding.list {
            s.add(
                f.at_s,
                Action::Feed {
                    mass_kg: f.mass_kg,
                    thickness_m: f.thickness_m,
                    until: Until::End,
                },
            );
        }
        for f in &rig.feeding.every {
            let last = match f.until {
                Until::Time(t) => t.min(end),
                _ => end,
            };
            let mut n = 0u32;
            loop {
                let t = f.from_s + f64::from(n) * f.interval_s;
                if t > last {
                    break;
                }
                s.add(
                    t,
                    Action::Feed {
                        mass_kg: f.mass_kg,
                        thickness_m: None,
                        until: f.until,
                    },
                );
                n += 1;
            }
        }
        for (i, r) in rig.feeding.rules.iter().enumerate() {
            if r.from_s > 0.0 {
                self.armed[i] = false;
                s.add(r.from_s, Action::RearmFeedRule(i));
            }
            if let Until::Time(t) = r.until
                && t < end
            {
                // Stops there: the rule is no longer looked for.
                s.add(t, Action::Weather);
            }
        }
        let c = &rig.controls;
        for &(t, v) in &c.damper.steps.moves {
            s.add(t, Action::Damper(v));
        }
        for &(t, v) in &c.air_inlet.steps.moves {
            s.add(t, Action::AirInlet(v));
        }
        for &(t, v) in &c.pump.steps.moves {
            s.add(t, Action::Pump(v));
        }
        for &(t, v) in &c.valve.steps.moves {
            s.add(t, Action::Valve(v));
        }
        for &(t, v) in &c.cover.steps.moves {
            s.add(t, Action::Cover(v));
        }
        for from in [
            c.damper.rule.as_ref().map(|r| r.from_s),
            c.air_inlet.rule.as_ref().map(|r| r.from_s),
            c.pump.rule.as_ref().map(|r| r.from_s),
            c.valve.rule.as_ref().map(|r| r.from_s),
            c.cover.rule.as_ref().map(|r| r.from_s),
        ]
        .into_iter()
        .flatten()
        {
            s.add(from, Action::WakeRules);
        }
        for &(t, _) in &rig.site.air_temperature_k.points {
            if t > 0.0 && t < end {
                s.add(t, Action::Weather);
            }
        }
        s.add(end, Action::End);
        self.plan_draws(|d| match d {
            DrawStart::At(t) => Some(t),
            DrawStart::AtTarget => None,
        });
    }

    fn plan_draws(&mut self, start: impl Fn(DrawStart) -> Option<f64>) {
        let Water::Store { draws, .. } = &self.rig.water else {
            return;
        };
        for (i, d) in draws.iter().enumerate() {
            let Some(t0) = start(d.starts) else { continue };
            if self.draws_started[i] {
                continue;
            }
            self.draws_started[i] = true;
            let mut n = 0u32;
            loop {
                let t = t0 + d.every_s.unwrap_or(0.0) * f64::from(n);
                if t > self.rig.stop.latest_s
                    || (n > 0 && (d.every_s.is_none() || t - t0 > d.for_s))
                {
                    break;
                }
                self.schedule.add(
                    t,
                    Action::DrawOpen {
                        draw: i,
                        until_s: t + d.volume_m3 / d.flow_m3_s,
                    },
                );
                n += 1;
            }
        }
    }

    fn light(&mut self) {
        let l = &self.rig.lighting;
        if l.kindling_kg <= 0.0 {
            return;
        }
        self.put_wood(
            l.kindling_kg,
            l.kindling_thickness_m,
            l.kindling_moisture_wet,
            true,
        );
        if l.starter_j > 0.0 {
            self.net.mode.starter_on = true;
            self.schedule.add(l.starter_s, Action::StarterOut);
        }
        self.spilling = Some(0.0);
        self.gather.event(
            self.t,
            EventKind::Lit,
            format!("lit with {:.2} kg of kindling", l.kindling_kg),
        );
        self.gather.visit(self.t);
    }

    fn put_wood(&mut self, moist_kg: f64, thickness_m: f64, moisture_wet: f64, lit: bool) {
        let wpd = moisture_wet / (1.0 - moisture_wet);
        let dry = moist_kg / (1.0 + wpd);
        let t_air = self.rig.site.air_temperature_k.at(self.t);
        self.fed.moist_kg += moist_kg;
        self.fed.dry_kg += dry;
        self.fed.water_kg += dry * wpd;
        self.fed.sensible_j += dry * self.net.fuel.sensible_j_kg_dry(t_air, wpd);
        self.fed.net_j += dry * self.net.fuel.net_moist_j_kg_dry(wpd);
        let t = self.t;
        self.net
            .add_wood(&mut self.y, t, moist_kg, thickness_m, moisture_wet, lit);
    }

    fn feed(&mut self, mass_kg: f64, thickness_m: Option<f64>) {
        if !self.hand.feeds {
            return;
        }
        let f = &self.rig.fuel;
        let mass_kg = mass_kg * self.hand.feed_share;
        let usual = thickness_m.unwrap_or(f.stick.thickness_m);
        let (thickness_m, moisture_wet) = match self.hand.wood {
            Some((thickness_m, moisture_wet)) => (thickness_m.min(usual), moisture_wet),
            None => (usual, f.moisture_wet),
        };
        self.put_wood(mass_kg, thickness_m, moisture_wet, false);
        self.gather
            .event(self.t, EventKind::Feed, format!("added {mass_kg:.2} kg"));
        self.gather.fed(self.t, self.net.fullness(&self.y));
        self.gather.visit(self.t);
        if self.rig.firebox.has_door() && self.rig.feeding.door_open_s > 0.0 {
            self.net.mode.door_open = true;
            self.door_until_s = self.t + self.rig.feeding.door_open_s;
            self.schedule
                .add(self.t + self.rig.feeding.door_open_s, Action::DoorShut);
        }
    }

    fn wants(&self, until: Until) -> bool {
        match until {
            Until::Target => self.target_s.is_none(),
            Until::Time(t) => self.t <= t,
            Until::End => true,
        }
    }

    fn apply(&mut self, a: Action) {
        match a {
            Action::StarterOut => {
                self.net.mode.starter_on = false;
                self.fed.starter_j = self.rig.lighting.starter_j;
            }
            Action::Feed {
                mass_kg,
                thickness_m,
                until,
            } => {
                if self.wants(until) {
                    self.feed(mass_kg, thickness_m);
                }
            }
            // A later visit may have opened it again.
            Action::DoorShut if self.t < self.door_until_s => {}
            Action::DoorShut => {
                self.net.mode.door_open = false;
                self.gather
                    .event(self.t, EventKind::DoorClosed, "door shut".into());
            }
            Action::RearmFeedRule(i) => self.armed[i] = true,
            Action::Damper(v) => self.set_damper(v, true),
            Action::AirInlet(v) => self.set_air_inlet(v, true),
            Action::Pump(v) => self.set_pump(v, true),
            Action::Valve(v) => self.set_valve(v, true),
            Action::Cover(v) => self.set_cover(v, true),
            Action::WakeRules => {
                let c = &self.rig.controls;
                let due = |r: Option<f64>| r.is_some_and(|f| f <= self.t);
                self.rules_awake = [
                    due(c.damper.rule.as_ref().map(|r| r.from_s)),
                    due(c.air_inlet.rule.as_ref().map(|r| r.from_s)),
                    due(c.pump.rule.as_ref().map(|r| r.from_s)),
                    due(c.valve.rule.as_ref().map(|r| r.from_s)),
                    due(c.cover.rule.as_ref().map(|r| r.from_s)),
                ];
            }
            Action::DrawOpen { draw, until_s } => {
                let Water::Store { draws, .. } = &self.rig.water else {
                    return;
                };
                let d = &draws[draw];
                self.net.mode.draw_kg_s += d.flow_m3_s * 990.0;
                self.net.mode.draw_cold_k = d.cold_k;
                self.gather.event(
                    self.t,
                    EventKind::Draw,
                    format!("drew {:.0} L", d.volume_m3 * 1000.0),
                );
                self.schedule.add(
                    until_s,
                    Action::DrawShut {
                        kg_s: d.flow_m3_s * 990.0,
                    },
                );
            }
            Action::DrawShut { kg_s } => {
                // Overlapping draws add up; the last one leaves nothing behind.
                let left = self.net.mode.draw_kg_s - kg_s;
                self.net.mode.draw_kg_s = if left > 1e-9 { left } else { 0.0 };
            }
            Action::Weather => {}
            Action::End => {
                self.ended = !self.hand.endless;
            }
        }
    }

    fn watches(&self) -> Vec<Watch> {
        let mut list = Vec::new();
        if self.target_s.is_none() && self.net.has_water() {
            list.push(Watch::Target);
        }
        if self.net.circuit.is_some()
            && !self.rig.coils.is_empty()
            && (self.boiling || self.boilings < MOST_BOILINGS)
        {
            list.push(if self.boiling {
                Watch::BoilEnd
            } else {
                Watch::BoilStart
            });
            if !self.wall_boiled {
                list.push(Watch::WallBoil);
            }
        }
        if self.net.closed().is_some() {
            list.push(Watch::Burst);
            if self.net.mode.relief_open {
                list.push(Watch::ReliefReseats);
            } else if !self.hand.relief_stuck {
                list.push(Watch::ReliefLifts);
            }
        }
        list.push(if self.spilling.is_some() {
            Watch::SpillEnd
        } else {
            Watch::SpillStart
        });
        for (i, r) in self.rig.feeding.rules.iter().enumerate() {
            if self.armed[i] && self.wants(r.until) {
                list.push(Watch::FeedRule(i));
            }
        }
        list.extend(self.rule_watches());
        if let Some(b) = &self.net.bench
            && !b.direct
        {
            list.push(if self.net.mode.bench_on {
                Watch::BenchOff
            } else {
                Watch::BenchOn
            });
        }
        if self.net.ducts.iter().any(|d| d.is_flue) {
            list.push(if self.flue_cold {
                Watch::FlueTurnsWarm
            } else {
                Watch::FlueTurnsCold
            });
        }
        list
    }

    fn target_reached(&mut self) {
        self.target_s = Some(self.t);
        self.gather
            .event(self.t, EventKind::TargetReached, "target reached".into());
        self.gather.target(&self.net, &self.fed, self.t, &self.y);
        if self.rig.stop.at_target {
            self.schedule
                .add(self.t + self.rig.stop.after_target_s, Action::End);
        }
        let t = self.t;
        self.plan_draws(|d| match d {
            DrawStart::AtTarget => Some(t),
            DrawStart::At(_) => None,
        });
    }

    fn crossed(&mut self, w: Watch) {
        match w {
            Watch::Target => self.target_reached(),
            Watch::BoilStart => {
                self.boiling = true;
                self.boilings += 1;
                self.gather.boiling(self.t, true);
                self.gather.event(
                    self.t,
                    EventKind::BoilingStarts,
                    "water boils in the coil".into(),
                );
            }
            Watch::BoilEnd => {
                self.boiling = false;
                self.gather.boiling(self.t, false);
                self.gather
                    .event(self.t, EventKind::BoilingEnds, "boiling ends".into());
            }
            Watch::WallBoil => {
                self.wall_boiled = true;
                self.gather.wall_boiling(self.t);
                self.gather.event(
                    self.t,
                    EventKind::WallBoilingStarts,
                    "boiling starts at the tube wall".into(),
                );
            }
            Watch::ReliefLifts => self.set_relief(true),
            Watch::ReliefReseats => self.set_relief(false),
            Watch::Burst => self.bursts(),
            Watch::SpillStart => {
                // Only a fire spills; a cold stove at night does not.
                self.spilling = Some(self.t);
                self.spill_has_fire = self.net.observe(self.t, &self.y).net_burnt_w > 500.0;
            }
            Watch::SpillEnd => {
                if let Some(from) = self.spilling.take() {
                    self.gather.spill(from, self.t, self.spill_has_fire);
                }
            }
            // The segment may have begun before the rule's end.
            Watch::FeedRule(i) if self.wants(self.rig.feeding.rules[i].until) => self.feed_rule(i),
            Watch::FeedRule(_) => {}
            Watch::RuleHigh(of, ..) => self.rule_acts(of, true),
            Watch::RuleLow(of, ..) => self.rule_acts(of, false),
            Watch::BenchOn => self.set_bench(true),
            Watch::BenchOff => self.set_bench(false),
            Watch::FlueTurnsCold => {
                self.flue_cold = true;
                self.gather.flue_cold(self.t, true);
            }
            Watch::FlueTurnsWarm => {
                self.flue_cold = false;
                self.gather.flue_cold(self.t, false);
            }
        }
    }
}
