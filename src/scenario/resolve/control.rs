//! Controls: positions, moves, two-point rules.

use super::{Cx, Features, si, text, word};
use crate::components::spec::{Control, ControlRule, Controls, Signal, Steps};
use crate::scenario::codes;
use crate::scenario::raw::types::{At, Q, Temperature, Text, Time, Word};
use crate::scenario::raw::{
    OnOff, RawCoverControl, RawNameControl, RawScenario, RawShareControl, RawSignal,
};
use std::ops::Range;

/// A control that nothing moves.
fn fixed<T>(initial: T) -> Control<T> {
    Control {
        steps: Steps {
            initial,
            moves: Vec::new(),
        },
        rule: None,
    }
}

/// All controls.
pub(super) fn controls(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) -> Option<Controls> {
    let none = Default::default();
    let c = raw.controls.as_ref().map_or(&none, |c| &c.value);
    if !f.damper && raw.gas_path.is_some() {
        cx.no_effect(
            &c.damper,
            "controls.damper",
            "the gas path has no section with part = \"damper\"",
        );
    }
    if !f.once_through {
        cx.no_effect(
            &c.valve,
            "controls.valve",
            "only once-through water passes a valve",
        );
    }
    if !f.pumped {
        cx.no_effect(&c.pump, "controls.pump", "no pump drives the loop");
    }
    if !f.tub {
        cx.no_effect(&c.cover, "controls.cover", "only a tub has a cover");
    } else if !f.cover
        && let Some(given) = &c.cover
    {
        let report = cx
            .at(
                &codes::NEEDS,
                &given.span,
                "controls.cover needs the cover's figures in [store]",
            )
            .label("which cover?")
            .help("write cover = { conductance = \"1.2 W/m2K\" } in [store]");
        cx.report(report);
    }
    let damper = if f.damper {
        share(&c.damper, "damper", f, cx)
    } else {
        Some(fixed(1.0))
    };
    let air_inlet = share(&c.air_inlet, "air_inlet", f, cx);
    let valve = if f.once_through {
        share(&c.valve, "valve", f, cx)
    } else {
        Some(fixed(1.0))
    };
    let pump = if f.pumped {
        pump(&c.pump, raw, f, cx)
    } else {
        Some(fixed(None))
    };
    let cover = if f.cover {
        cover(&c.cover, cx)
    } else {
        Some(fixed(false))
    };
    Some(Controls {
        damper: damper?,
        air_inlet: air_inlet?,
        pump: pump?,
        valve: valve?,
        cover: cover?,
    })
}

/// Refuses a move that is not later than the one before.
fn check_order(last: &mut f64, at_s: f64, span: &Range<usize>, path: &str, cx: &mut Cx<'_>) {
    if at_s <= *last {
        let report = cx
            .at(
                &codes::TIME_ORDER,
                span,
                format!("{path}.moves: each move must be later than the one before"),
            )
            .label("not later");
        cx.report(report);
    }
    *last = at_s;
}

/// Signal and thresholds of a rule.
fn band(
    given: &Option<At<Word<RawSignal>>>,
    above: &Option<At<Q<Temperature>>>,
    below: &Option<At<Q<Temperature>>>,
    path: &str,
    f: &Features,
    cx: &mut Cx<'_>,
) -> Option<(Signal, f64, f64)> {
    let signal = word(given);
    if let (Some(at), Some(s)) = (given, signal) {
        let lack = match s {
            RawSignal::CoilOutlet if !f.coil => Some("there is no coil"),
            RawSignal::TankTop | RawSignal::TankMean if !f.store => Some("there is no [store]"),
            _ => None,
        };
        if let Some(why) = lack {
            let report = cx
                .at(
                    &codes::NEEDS,
                    &at.span,
                    format!("{path}.rule.signal: {why}"),
                )
                .label("nothing to look at");
            cx.report(report);
        }
    }
    let (high, low) = (si(above), si(below));
    if let (Some(h), Some(l), Some(at)) = (high, low, above)
        && h <= l
    {
        let mut report = cx
            .at(
                &codes::BAND,
                &at.span,
                format!("{path}.rule: \"above\" must be higher than \"below\""),
            )
            .label("upper threshold");
        if let Some(b) = below {
            report = report.also(&b.span, "lower threshold");
        }
        cx.report(report);
    }
    let signal = match signal? {
        RawSignal::Chamber => Signal::Chamber,
        RawSignal::Stack => Signal::Stack,
        RawSignal::CoilOutlet => Signal::CoilOutlet,
        RawSignal::TankTop => Signal::TankTop,
        RawSignal::TankMean => Signal::TankMean,
    };
    Some((signal, low?, high?))
}

fn share(
    given: &Option<At<RawShareControl>>,
    name: &str,
    f: &Features,
    cx: &mut Cx<'_>,
) -> Option<Control<f64>> {
    let none = Default::default();
    let c = given.as_ref().map_or(&none, |c| &c.value);
    let path = format!("controls.{name}");
    let initial = cx.or(
        &c.initial,
        &format!("{path}.initial"),
        &format!("{path}.initial"),
    );
    let mut moves = Vec::new();
    let mut last = f64::NEG_INFINITY;
    let mut complete = true;
    for m in c.moves.iter().flat_map(|l| &l.value.0) {
        match (si(&m.value.at), si(&m.value.to)) {
            (Some(at), Some(to)) => {
                check_order(&mut last, at, &m.span, &path, cx);
                moves.push((at, to));
            }
            _ => complete = false,
        }
    }
    let rule = c.rule.as_ref().map(|r| {
        let v = &r.value;
        let band = band(&v.signal, &v.above, &v.below, &path, f, cx);
        let from = from_s(&v.from, &path, cx);
        let (signal, low, high) = band?;
        Some(ControlRule {
            signal,
            low,
            high,
            when_low: si(&v.otherwise)?,
            when_high: si(&v.then)?,
            from_s: from?,
        })
    });
    complete.then_some(())?;
    Some(Control {
        steps: Steps {
            initial: initial?,
            moves,
        },
        rule: match rule {
            Some(r) => Some(r?),
            None => None,
        },
    })
}

fn from_s(given: &Option<At<Q<Time>>>, path: &str, cx: &mut Cx<'_>) -> Option<f64> {
    let key = format!("{path}.rule.from");
    cx.or(given, &key, &key)
}

/// A setting by name: `Some(None)` is a stopped pump.
fn setting(given: &Option<At<Text>>, names: &[&str], cx: &mut Cx<'_>) -> Option<Option<usize>> {
    let (at, name) = (given.as_ref()?, text(given)?);
    if name == "off" {
        return Some(None);
    }
    match names.iter().position(|n| *n == name) {
        Some(i) => Some(Some(i)),
        None => {
            let mut known = names.to_vec();
            known.push("off");
            cx.unknown_name(
                &codes::NO_SUCH_SETTING,
                &at.span,
                "pump setting",
                name,
                &known,
            );
            None
        }
    }
}

fn pump(
    given: &Option<At<RawNameControl>>,
    raw: &RawScenario,
    f: &Features,
    cx: &mut Cx<'_>,
) -> Option<Control<Option<usize>>> {
    let none = Default::default();
    let c = given.as_ref().map_or(&none, |c| &c.value);
    let pump = raw.pump.as_ref()?;
    let settings: Vec<&str> = pump
        .value
        .settings
        .iter()
        .flat_map(|l| &l.value.0)
        .filter_map(|s| text(&s.value.name))
        .collect();
    let initial = match &c.initial {
        Some(_) => setting(&c.initial, &settings, cx),
        None => {
            let first = *settings.first()?;
            cx.echo(
                "controls.pump.initial",
                first,
                "the first setting, running from lighting",
            );
            Some(Some(0))
        }
    };
    let mut moves = Vec::new();
    let mut last = f64::NEG_INFINITY;
    let mut complete = true;
    for m in c.moves.iter().flat_map(|l| &l.value.0) {
        match (si(&m.value.at), setting(&m.value.to, &settings, cx)) {
            (Some(at), Some(to)) => {
                check_order(&mut last, at, &m.span, "controls.pump", cx);
                moves.push((at, to));
            }
            _ => complete = false,
        }
    }
    let rule = c.rule.as_ref().map(|r| {
        let v = &r.value;
        let band = band(&v.signal, &v.above, &v.below, "controls.pump", f, cx);
        let from = from_s(&v.from, "controls.pump", cx);
        let when_high = setting(&v.then, &settings, cx);
        let when_low = setting(&v.otherwise, &settings, cx);
        let (signal, low, high) = band?;
        Some(ControlRule {
            signal,
            low,
            high,
            when_low: when_low?,
            when_high: when_high?,
            from_s: from?,
        })
    });
    complete.then_some(())?;
    Some(Control {
        steps: Steps {
            initial: initial?,
            moves,
        },
        rule: match rule {
            Some(r) => Some(r?),
            None => None,
        },
    })
}

fn cover(given: &Option<At<RawCoverControl>>, cx: &mut Cx<'_>) -> Option<Control<bool>> {
    let none = Default::default();
    let c = given.as_ref().map_or(&none, |c| &c.value);
    let initial = cx.word_or(
        &c.initial,
        "controls.cover.initial",
        "controls.cover.initial",
    );
    let mut moves = Vec::new();
    let mut last = f64::NEG_INFINITY;
    let mut complete = true;
    for m in c.moves.iter().flat_map(|l| &l.value.0) {
        match (si(&m.value.at), word(&m.value.to)) {
            (Some(at), Some(to)) => {
                check_order(&mut last, at, &m.span, "controls.cover", cx);
                moves.push((at, to == OnOff::On));
            }
            _ => complete = false,
        }
    }
    complete.then_some(())?;
    Some(Control {
        steps: Steps {
            initial: initial? == OnOff::On,
            moves,
        },
        rule: None,
    })
}
