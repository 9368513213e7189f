//! Controls moved by hand or by rule, feeding rules, the bench's thermostat.

use super::Run;
use crate::analyses::schedule::Action;
use crate::analyses::watch::{RuleOf, Watch, feed_margin, probe_k, signal};
use crate::components::spec::Signal;
use crate::results::EventKind;

impl Run<'_> {
    pub(super) fn set_damper(&mut self, v: f64, by_hand: bool) {
        if self.net.mode.damper != v && !self.hand.air_held {
            self.net.mode.damper = v;
            self.gather.event(
                self.t,
                EventKind::Damper,
                format!("damper to {:.0} % open", v * 100.0),
            );
            if by_hand {
                self.gather.visit(self.t);
            }
        }
    }

    pub(super) fn set_air_inlet(&mut self, v: f64, by_hand: bool) {
        if self.net.mode.air_inlet != v && !self.hand.air_held {
            self.net.mode.air_inlet = v;
            self.gather.event(
                self.t,
                EventKind::AirInlet,
                format!("air inlet to {:.0} % open", v * 100.0),
            );
            if by_hand {
                self.gather.visit(self.t);
            }
        }
    }

    pub(super) fn set_pump(&mut self, v: Option<usize>, by_hand: bool) {
        if self.net.mode.pump != v && !self.hand.pump_held {
            self.net.mode.pump = v;
            let name = match (&self.net.circuit, v) {
                (Some(c), Some(i)) => match &c.drive {
                    crate::network::Drive::Pump(p) => {
                        p.settings.get(i).map_or("on".into(), |s| s.name.clone())
                    }
                    _ => "on".into(),
                },
                _ => "off".to_string(),
            };
            self.gather
                .event(self.t, EventKind::Pump, format!("pump {name}"));
            if by_hand {
                self.gather.visit(self.t);
            }
        }
    }

    pub(super) fn set_valve(&mut self, v: f64, by_hand: bool) {
        if self.net.mode.valve != v {
            self.net.mode.valve = v;
            self.gather.event(
                self.t,
                EventKind::Valve,
                format!("valve to {:.0} % open", v * 100.0),
            );
            if by_hand {
                self.gather.visit(self.t);
            }
        }
    }

    pub(super) fn set_cover(&mut self, on: bool, by_hand: bool) {
        if self.net.mode.cover_on != on {
            self.net.mode.cover_on = on;
            self.gather.event(
                self.t,
                EventKind::Cover,
                if on { "cover on" } else { "cover off" }.into(),
            );
            if by_hand {
                self.gather.visit(self.t);
            }
        }
    }

    /// Conditions that hold already, after something changed: rules that would act at once, the target met at the start.
    pub(super) fn check_standing(&mut self) {
        if self.ended {
            return;
        }
        let mut water = None;
        if self.target_s.is_none()
            && self.t == 0.0
            && self.net.has_water()
            && probe_k(
                &self.net,
                self.rig.target.probe,
                self.t,
                &self.y,
                &mut water,
            ) >= self.rig.target.temperature_k
        {
            self.target_reached();
        }
        for i in 0..self.rig.feeding.rules.len() {
            let r = &self.rig.feeding.rules[i];
            if self.armed[i]
                && self.wants(r.until)
                && feed_margin(&self.net, r.when, &self.y) <= 0.0
            {
                self.feed_rule(i);
            }
        }
        for w in self.rule_watches() {
            let (mut a, mut b) = (None, None);
            match w {
                Watch::RuleHigh(of, s, limit)
                    if signal(&self.net, s, self.t, &self.y, &mut a, &mut b) >= limit =>
                {
                    self.rule_acts(of, true)
                }
                Watch::RuleLow(of, s, limit)
                    if signal(&self.net, s, self.t, &self.y, &mut a, &mut b) <= limit =>
                {
                    self.rule_acts(of, false)
                }
                _ => {}
            }
        }
        if let Some(b) = &self.net.bench
            && !b.direct
        {
            let t = self.net.bench_k(&self.y);
            if !self.net.mode.bench_on && t <= b.spec.on_below_k {
                self.set_bench(true);
            } else if self.net.mode.bench_on && t >= b.spec.off_above_k {
                self.set_bench(false);
            }
        }
    }

    pub(super) fn set_bench(&mut self, on: bool) {
        // Without power its pump does not start.
        if on && !self.net.mode.fan_on {
            return;
        }
        self.net.mode.bench_on = on;
        self.gather.event(
            self.t,
            EventKind::Bench,
            if on { "bench on" } else { "bench off" }.into(),
        );
    }

    pub(super) fn feed_rule(&mut self, i: usize) {
        let r = self.rig.feeding.rules[i].clone();
        self.feed(r.mass_kg, None);
        self.armed[i] = false;
        self.schedule
            .add(self.t + r.not_within_s, Action::RearmFeedRule(i));
    }

    pub(super) fn rule_watches(&self) -> Vec<Watch> {
        let c = &self.rig.controls;
        let mut list = Vec::new();
        let mut add = |of: RuleOf,
                       awake: bool,
                       r: Option<(Signal, f64, f64)>,
                       at_high: bool,
                       at_low: bool| {
            if let (true, Some((s, low, high))) = (awake, r) {
                if !at_high {
                    list.push(Watch::RuleHigh(of, s, high));
                }
                if !at_low {
                    list.push(Watch::RuleLow(of, s, low));
                }
            }
        };
        let m = &self.net.mode;
        let a = &self.rules_awake;
        macro_rules! rule {
            ($of:ident, $field:ident, $value:expr, $i:expr) => {
                if let Some(r) = &c.$field.rule {
                    add(
                        RuleOf::$of,
                        a[$i],
                        Some((r.signal, r.low, r.high)),
                        $value == r.when_high,
                        $value == r.when_low,
                    );
                }
            };
        }
        rule!(Damper, damper, m.damper, 0);
        rule!(AirInlet, air_inlet, m.air_inlet, 1);
        rule!(Pump, pump, m.pump, 2);
        rule!(Valve, valve, m.valve, 3);
        rule!(Cover, cover, m.cover_on, 4);
        list
    }

    pub(super) fn rule_acts(&mut self, of: RuleOf, high: bool) {
        let c = &self.rig.controls;
        macro_rules! act {
            ($field:ident, $set:ident) => {
                if let Some(r) = &c.$field.rule {
                    let v = if high { r.when_high } else { r.when_low };
                    self.$set(v, false);
                }
            };
        }
        match of {
            RuleOf::Damper => act!(damper, set_damper),
            RuleOf::AirInlet => act!(air_inlet, set_air_inlet),
            RuleOf::Pump => act!(pump, set_pump),
            RuleOf::Valve => act!(valve, set_valve),
            RuleOf::Cover => act!(cover, set_cover),
        }
    }
}
