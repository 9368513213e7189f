//! Site, target, stop.

use super::{Cx, Features, si};
use crate::components::spec::{Probe, Profile, Site, Stop, Target, Thermometer};
use crate::properties::atmosphere;
use crate::properties::water::Water;
use crate::scenario::codes;
use crate::scenario::raw::types::OneOrList;
use crate::scenario::raw::{RawProbe, RawScenario, StopWhen};
use crate::units::{UnitSystem, format_temperature};

/// Weather and place.
pub(super) fn site(raw: &RawScenario, cx: &mut Cx<'_>) -> Option<Site> {
    let s = &raw.site.as_ref()?.value;
    let altitude_m = cx.or(&s.altitude, "site.altitude", "site.altitude");
    let wind_m_s = cx.or(&s.wind, "site.wind", "site.wind");
    let relative_humidity = cx.or(&s.humidity, "site.humidity", "site.humidity");
    let air_temperature_k = match &s.air.as_ref()?.value {
        OneOrList::One(q) => q.si().map(Profile::constant),
        OneOrList::List(list) => {
            let mut points: Vec<(f64, f64)> = Vec::new();
            let mut complete = !list.is_empty();
            for p in list {
                let (Some(at), Some(value)) = (si(&p.value.at), si(&p.value.value)) else {
                    complete = false;
                    continue;
                };
                if points.last().is_some_and(|&(last, _)| at <= last) {
                    let report = cx
                        .at(
                            &codes::TIME_ORDER,
                            &p.span,
                            "site.air: each point must be later than the one before",
                        )
                        .label("not later");
                    cx.report(report);
                }
                points.push((at, value));
            }
            complete.then_some(Profile { points })
        }
    };
    Some(Site {
        altitude_m: altitude_m?,
        air_temperature_k: air_temperature_k?,
        wind_m_s: wind_m_s?,
        relative_humidity: relative_humidity?,
    })
}

/// The thermometer in the gas.
pub(super) fn thermometer(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) -> Option<Thermometer> {
    let given = raw.thermometer.as_ref().map(|t| &t.value);
    let from_coil = given.map_or(&None, |t| &t.from_coil);
    let mut or = |given, key| cx.or(given, key, key);
    let sheath_m = or(given.map_or(&None, |t| &t.sheath), "thermometer.sheath");
    let from_coil_m = if f.coil_in_path {
        or(from_coil, "thermometer.from_coil")
    } else {
        let why = "no coil or jacket meets the gas of a section";
        cx.no_effect(from_coil, "thermometer.from_coil", why);
        Some(0.0)
    };
    let emissivity = cx.or(
        given.map_or(&None, |t| &t.emissivity),
        "thermometer.emissivity",
        "thermometer.emissivity",
    );
    Some(Thermometer {
        sheath_m: sheath_m?,
        emissivity: emissivity?,
        from_coil_m: from_coil_m?,
    })
}

/// Which temperature counts as hot.
pub(super) fn target(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) -> Option<Target> {
    if !f.water {
        cx.no_effect(&raw.target, "[target]", "there is no water to heat");
        return Some(Target {
            temperature_k: f64::INFINITY,
            probe: Probe::Mean,
        });
    }
    let Some(t) = &raw.target else {
        cx.missing(&(0..0), "section [target] is missing");
        return None;
    };
    let key = if f.once_through {
        "target.probe/once_through"
    } else {
        "target.probe"
    };
    let probe = cx.word_or(&t.value.probe, "target.probe", key);
    let allowed: &[RawProbe] = if f.once_through {
        &[RawProbe::Outlet]
    } else if f.bench_only {
        &[RawProbe::Mean, RawProbe::Outlet]
    } else if !f.coil {
        &[
            RawProbe::Mean,
            RawProbe::Top,
            RawProbe::Bottom,
            RawProbe::Tap,
        ]
    } else {
        &[
            RawProbe::Mean,
            RawProbe::Top,
            RawProbe::Bottom,
            RawProbe::Outlet,
            RawProbe::Tap,
        ]
    };
    if let (Some(given), Some(read)) = (&t.value.probe, probe)
        && !allowed.contains(&read)
    {
        let (why, help) = if f.once_through {
            ("water that passes once has no store", "use \"outlet\"")
        } else if !f.coil {
            (
                "there is no coil",
                "use \"mean\", \"top\", \"bottom\" or \"tap\"",
            )
        } else {
            (
                "there is no [store]",
                "use \"mean\" (of the bench) or \"outlet\"",
            )
        };
        let report = cx
            .at(
                &codes::NO_EFFECT,
                &given.span,
                format!("target.probe: {why}"),
            )
            .label("nothing to measure")
            .help(help);
        cx.report(report);
    }
    note_reachable(raw, cx);
    Some(Target {
        temperature_k: si(&t.value.temperature)?,
        probe: match probe? {
            RawProbe::Mean => Probe::Mean,
            RawProbe::Top => Probe::Top,
            RawProbe::Bottom => Probe::Bottom,
            RawProbe::Outlet => Probe::Outlet,
            RawProbe::Tap => Probe::Tap,
        },
    })
}

/// Notes a target that the water has at lighting, or never gets to.
fn note_reachable(raw: &RawScenario, cx: &mut Cx<'_>) {
    let given = raw
        .target
        .as_ref()
        .and_then(|t| t.value.temperature.as_ref());
    let (Some(given), Some(store)) = (given, &raw.store) else {
        return;
    };
    let Some(target_k) = given.value.si() else {
        return;
    };
    let altitude_m = raw
        .site
        .as_ref()
        .and_then(|s| si(&s.value.altitude))
        .unwrap_or(0.0);
    let relief_pa = store
        .value
        .closed
        .as_ref()
        .and_then(|c| si(&c.value.relief_pressure));
    let p_pa = atmosphere::pressure_pa(altitude_m) + relief_pa.unwrap_or(0.0);
    let boiling_k = Water::shared().t_sat_k(p_pa);
    let place = match relief_pa {
        Some(_) => "a closed store at its relief pressure",
        None => "an open store",
    };
    if target_k > boiling_k {
        let report = cx
            .at(
                &codes::ABOVE_BOILING,
                &given.span,
                format!(
                    "the target lies above the boiling point of {place}, {} here",
                    format_temperature(boiling_k, UnitSystem::Metric)
                ),
            )
            .label("never reached");
        cx.report(report);
    }
    if let Some(start) = &store.value.start
        && start.value.si().is_some_and(|s| s >= target_k)
    {
        let report = cx
            .at(
                &codes::ALREADY_HOT,
                &given.span,
                "the store is as hot as the target at lighting",
            )
            .label("target")
            .also(&start.span, "start");
        cx.report(report);
    }
}

/// When the run ends.
pub(super) fn stop(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) -> Option<Stop> {
    let none = Default::default();
    let s = raw.stop.as_ref().map_or(&none, |s| &s.value);
    let key = if f.water {
        "stop.when"
    } else {
        "stop.when/dry"
    };
    let when = cx.word_or(&s.when, "stop.when", key);
    if when == Some(StopWhen::Target) && !f.water {
        cx.no_effect(
            &s.when,
            "stop.when",
            "there is no water, and so no target; write \"time\"",
        );
    }
    let latest_s = cx.or(&s.latest, "stop.latest", "stop.latest");
    let after_target_s = if when == Some(StopWhen::Time) {
        cx.no_effect(
            &s.after_target,
            "stop.after_target",
            "the run ends at `latest`, not at the target",
        );
        Some(0.0)
    } else {
        cx.or(&s.after_target, "stop.after_target", "stop.after_target")
    };
    Some(Stop {
        at_target: when? == StopWhen::Target,
        after_target_s: after_target_s?,
        latest_s: latest_s?,
    })
}
