//! Water side: which kind it is, loop, pump, pipes, bench, draws, once-through.

use super::bypass::bypass;
use super::gas::curve;
use super::store::{mass_heat_j_k, vessel};
use super::{Cx, Features, si, text, word};
use crate::components::spec::{Bench, Draw, DrawStart, Loop, Pipe, Pump, PumpSetting, Water};
use crate::properties::pipes;
use crate::scenario::codes;
use crate::scenario::raw::types::{At, WordOrSi};
use crate::scenario::raw::{
    Drive, Form, Part, RawBench, RawCoil, RawDraw, RawLoop, RawNameControl, RawOnceThrough,
    RawPipe, RawPump, RawScenario, StoreKind,
};
use crate::units::significant;
use std::ops::Range;

/// Excess of the water over the air at which a pipe's loss is taken from the table, K.
const PIPE_EXCESS_K: f64 = 40.0;
/// Stopped loss of a pump that is never stopped: moves nothing.
const NEVER_STOPPED_LOSS_K: f64 = 10.0;
/// Density at which a bench flow given by volume becomes a mass flow, kg/m3 (water at about 35 degC).
const BENCH_WATER_KG_M3: f64 = 994.0;

/// What the rig has.
pub(super) fn features(raw: &RawScenario) -> Features {
    let once_through = raw.once_through.is_some();
    let store = raw.store.is_some();
    let bench_only = raw.bench.is_some() && !store && !once_through;
    let tub = raw
        .store
        .as_ref()
        .is_some_and(|s| word(&s.value.kind) == Some(StoreKind::Tub));
    let drive = raw.circuit.as_ref().and_then(|l| word(&l.value.drive));
    let forms = || {
        let list = raw.coil.iter().flat_map(|c| &c.value.0);
        let outside = list.filter(|c| !super::drum::is_in_drum(raw, &c.value));
        outside.map(|c| word(&c.value.form))
    };
    let has = |part: Part| {
        let list = raw.gas_path.iter().flat_map(|g| &g.value.0);
        list.into_iter().any(|s| word(&s.value.part) == Some(part))
    };
    let of_path = |c: &&At<RawCoil>| {
        !super::chamber_coil::is_in_firebox(raw, &c.value)
            && !super::drum::is_in_drum(raw, &c.value)
    };
    let in_path = || raw.coil.iter().flat_map(|c| &c.value.0).filter(of_path);
    let coil_in_section = in_path().any(|c| word(&c.value.form) != Some(Form::Around));
    Features {
        damper: has(Part::Damper),
        sooty: coil_in_section || has(Part::Flue),
        coil: raw.coil.as_ref().is_some_and(|c| !c.value.0.is_empty()),
        in_water: raw.drum.is_none() && super::immersed::any(raw),
        drum: raw.drum.is_some(),
        drum_open: super::drum::is_open(raw),
        drum_layered: super::drum::is_layered(raw),
        coil_in_gas: forms().any(|f| !matches!(f, Some(Form::Around | Form::Jacket))),
        coil_in_path: in_path().next().is_some(),
        coil_around: forms().any(|f| f == Some(Form::Around)),
        water: once_through || store || bench_only,
        store,
        tub,
        cover: tub && raw.store.as_ref().is_some_and(|s| s.value.cover.is_some()),
        layered: raw.store.as_ref().is_some_and(|s| match &s.value.layers {
            Some(n) => n.value.read != Some(1),
            None => !tub,
        }),
        pumped: drive == Some(Drive::Pump),
        once_through,
        bench_only,
    }
}

/// Height of the hot port (or bench) above the datum, and where it was given.
pub(super) fn hot_port_z_m(raw: &RawScenario) -> Option<(f64, Range<usize>)> {
    raw.circuit.as_ref()?;
    if let Some(s) = &raw.store {
        let port = s.value.hot_port.as_ref()?;
        Some((
            si(&s.value.floor_height)? + port.value.si()?,
            port.span.clone(),
        ))
    } else {
        let h = raw.bench.as_ref()?.value.height.as_ref()?;
        Some((h.value.si()?, h.span.clone()))
    }
}

/// Sections that call for each other or exclude each other.
pub(super) fn check_presence(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) {
    if let Some(once) = &raw.once_through {
        let others = [
            (raw.store.as_ref().map(|s| &s.span), "[store]"),
            (raw.circuit.as_ref().map(|s| &s.span), "[loop]"),
            (raw.pump.as_ref().map(|s| &s.span), "[pump]"),
            (raw.bench.as_ref().map(|s| &s.span), "[bench]"),
            (raw.draw.as_ref().map(|s| &s.span), "[[draw]]"),
        ];
        for (span, name) in others {
            if let Some(span) = span {
                cx.conflict(
                    (&once.span, "[once_through]"),
                    (span, name),
                    "water that passes once has no loop and no store",
                );
            }
        }
    }
    let mut needs = |span: &Range<usize>, message: &str| {
        let report = cx.at(&codes::NEEDS, span, message).label("here");
        cx.report(report);
    };
    let coils = raw.coil.as_ref().filter(|c| !c.value.0.is_empty());
    if let (Some(c), false) = (coils, f.water) {
        needs(
            &c.span,
            "a coil needs a place for its water: [store] with [loop], [once_through], or [bench] with [loop]",
        );
    }
    if !f.coil {
        let holders = [
            (raw.store.as_ref().map(|s| &s.span), "[store]"),
            (raw.once_through.as_ref().map(|s| &s.span), "[once_through]"),
            (raw.circuit.as_ref().map(|s| &s.span), "[loop]"),
        ];
        // Walls in its water heat a store without coil and loop.
        let heated = |name: &str| name == "[store]" && f.in_water;
        if let Some((Some(span), name)) = holders
            .into_iter()
            .find(|(s, name)| s.is_some() && !heated(name))
        {
            needs(
                span,
                &format!("{name} needs a [[coil]] that heats its water"),
            );
        }
    }
    if !f.once_through {
        let alone = f.in_water && !f.coil;
        if (f.store && !alone || f.bench_only) && raw.circuit.is_none() {
            let (span, name) = match (&raw.store, &raw.bench) {
                (Some(s), _) => (&s.span, "[store]"),
                (None, Some(b)) => (&b.span, "[bench]"),
                (None, None) => return,
            };
            needs(span, &format!("{name} needs a [loop] from the coil"));
        }
        if let Some(l) = &raw.circuit
            && !f.water
            && f.coil
        {
            needs(
                &l.span,
                "[loop] needs a [store] or a [bench] at its other end",
            );
        }
        if let Some(d) = &raw.draw
            && !f.store
        {
            needs(&d.span, "[[draw]] needs a [store] to draw from");
        }
        match (&raw.pump, &raw.circuit) {
            (Some(p), None) => needs(&p.span, "[pump] needs a [loop] to drive"),
            (Some(p), Some(l)) => {
                if let Some(d) = &l.value.drive
                    && word(&l.value.drive) == Some(Drive::Thermosyphon)
                {
                    let report = cx
                        .at(
                            &codes::NO_EFFECT,
                            &p.span,
                            "[pump] has no effect in this rig: the loop is a thermosyphon",
                        )
                        .label("no effect")
                        .also(&d.span, "no pump drives it")
                        .help("leave [pump] out, or write drive = \"pump\"");
                    cx.report(report);
                }
            }
            (None, Some(l)) if f.pumped => {
                needs(&l.span, "a pumped [loop] needs a [pump]");
            }
            _ => {}
        }
    }
}

/// The water side.
pub(super) fn water(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) -> Option<Water> {
    let pump = raw.pump.as_ref().map(|p| pump(raw, p, f, cx));
    if let Some(o) = &raw.once_through {
        return once_through(&o.value, cx);
    }
    let circuit = raw.circuit.as_ref().map(|l| circuit(raw, l, pump, cx));
    let draws: Vec<Option<Draw>> = raw
        .draw
        .iter()
        .flat_map(|d| &d.value.0)
        .enumerate()
        .map(|(i, d)| draw(i, d, raw, cx))
        .collect();
    let bench = raw.bench.as_ref().map(|b| bench(b, f, cx));
    if let Some(s) = &raw.store {
        let vessel = vessel(raw, s, f, cx);
        return Some(Water::Store {
            circuit: match circuit {
                Some(c) => Some(c?),
                None => None,
            },
            vessel: vessel?,
            draws: draws.into_iter().collect::<Option<Vec<_>>>()?,
            bench: match bench {
                Some(b) => Some(b?.0),
                None => None,
            },
        });
    }
    match bench {
        Some(b) => {
            let (bench, z) = b?;
            Some(Water::BenchOnly {
                circuit: circuit??,
                bench,
                bench_z_m: z?,
            })
        }
        None => Some(Water::None),
    }
}

/// The control of the pump, where there is one.
fn pump_control(raw: &RawScenario) -> Option<&RawNameControl> {
    Some(&raw.controls.as_ref()?.value.pump.as_ref()?.value)
}

/// Whether the setting at lighting is given.
fn has_initial(raw: &RawScenario) -> bool {
    pump_control(raw).is_some_and(|c| c.initial.is_some())
}

/// Every setting that `controls.pump` names.
fn picked(raw: &RawScenario) -> Vec<String> {
    let Some(c) = pump_control(raw) else {
        return Vec::new();
    };
    let moves = c
        .moves
        .iter()
        .flat_map(|l| &l.value.0)
        .filter_map(|m| text(&m.value.to));
    let rule = c
        .rule
        .iter()
        .flat_map(|r| [text(&r.value.then), text(&r.value.otherwise)])
        .flatten();
    text(&c.initial)
        .into_iter()
        .chain(moves)
        .chain(rule)
        .map(str::to_owned)
        .collect()
}

/// A pipe or hose.
pub(super) fn pipe(raw: &At<RawPipe>, path: &str, cx: &mut Cx<'_>) -> Option<Pipe> {
    let p = &raw.value;
    let fittings = cx.or(
        &p.fittings,
        &format!("{path}.fittings"),
        &format!("{path}.fittings"),
    );
    let kind = match (&p.kind, text(&p.kind)) {
        (Some(given), Some(name)) => {
            let found = pipes::kind_by_name(name);
            if found.is_none() {
                cx.unknown_name(
                    &codes::NO_SUCH_PIPE,
                    &given.span,
                    "pipe kind",
                    name,
                    &pipes::names(),
                );
            }
            found
        }
        _ => None,
    };
    let inside = si(&p.inside);
    let (kind, inside_m) = (kind?, inside?);
    let why = format!("of the table, kind \"{}\"", kind.name);
    let loss = match &p.loss {
        Some(q) => q.value.si(),
        None => {
            let v = kind.loss_w_mk(inside_m, PIPE_EXCESS_K);
            cx.echo(
                format!("{path}.loss"),
                format!("{} W/mK", significant(v, 3)),
                why.as_str(),
            );
            Some(v)
        }
    };
    let capacity = match &p.heat_capacity {
        Some(q) => q.value.si(),
        None => {
            let v = kind.wall_heat_capacity_j_mk(inside_m);
            cx.echo(
                format!("{path}.heat_capacity"),
                format!("{} J/mK", significant(v, 3)),
                why.as_str(),
            );
            Some(v)
        }
    };
    let roughness = match &p.roughness {
        Some(q) => q.value.si(),
        None => {
            cx.echo(
                format!("{path}.roughness"),
                format!("{} mm", significant(kind.roughness_m * 1e3, 2)),
                why.as_str(),
            );
            Some(kind.roughness_m)
        }
    };
    Some(Pipe {
        length_m: si(&p.length)?,
        inside_m,
        wall_heat_capacity_j_mk: capacity?,
        loss_w_mk: loss?,
        loss_k: fittings?,
        roughness_m: roughness?,
    })
}

fn circuit(
    scenario: &RawScenario,
    raw: &At<RawLoop>,
    pump: Option<Option<Pump>>,
    cx: &mut Cx<'_>,
) -> Option<Loop> {
    let l = &raw.value;
    let supply = l.supply.as_ref().and_then(|p| pipe(p, "loop.supply", cx));
    let ret = l.ret.as_ref().and_then(|p| pipe(p, "loop.return", cx));
    let check_valve = cx.flag_or(&l.check_valve, "loop.check_valve", "loop.check_valve");
    let bypass = l.bypass.as_ref().map(|b| bypass(scenario, b, cx));
    let pump = match word(&l.drive)? {
        Drive::Pump => Some(pump??),
        Drive::Thermosyphon => None,
    };
    Some(Loop {
        pump,
        supply: supply?,
        ret: ret?,
        check_valve: check_valve?,
        bypass: match bypass {
            Some(b) => Some(b?),
            None => None,
        },
    })
}

fn pump(scenario: &RawScenario, raw: &At<RawPump>, f: &Features, cx: &mut Cx<'_>) -> Option<Pump> {
    let p = &raw.value;
    let picked = picked(scenario);
    let names: Vec<&str> = p
        .settings
        .iter()
        .flat_map(|l| &l.value.0)
        .filter_map(|s| text(&s.value.name))
        .collect();
    // A misspelt name is reported where it stands; the setting that it meant is then not unused.
    let misspelt = picked
        .iter()
        .any(|n| n != "off" && !names.contains(&n.as_str()));
    let stopped = if picked.iter().any(|n| n == "off") {
        cx.or(&p.stopped_loss, "pump.stopped_loss", "pump.stopped_loss")
    } else {
        if f.pumped {
            cx.no_effect(
                &p.stopped_loss,
                "pump.stopped_loss",
                "no position, move or rule of controls.pump is \"off\"",
            );
        }
        Some(NEVER_STOPPED_LOSS_K)
    };
    let share = cx.or(
        &p.power_to_water,
        "pump.power_to_water",
        "pump.power_to_water",
    );
    let mut settings = Vec::new();
    let mut seen: Vec<(String, Range<usize>)> = Vec::new();
    let mut complete = true;
    for s in p.settings.iter().flat_map(|l| &l.value.0) {
        let v = &s.value;
        let name = text(&v.name);
        if let (Some(n), Some(at)) = (name, &v.name) {
            if n == "off" {
                let report = cx
                    .at(
                        &codes::DUPLICATE_NAME,
                        &at.span,
                        "\"off\" always means a stopped pump",
                    )
                    .label("choose another name");
                cx.report(report);
            }
            if let Some((_, first)) = seen.iter().find(|(m, _)| m == n) {
                let report = cx
                    .at(
                        &codes::DUPLICATE_NAME,
                        &at.span,
                        format!("two pump settings are named \"{n}\""),
                    )
                    .label("second")
                    .also(&first.clone(), "first");
                cx.report(report);
            }
            seen.push((n.to_owned(), at.span.clone()));
        }
        let shown = name.unwrap_or("?");
        let first = settings.is_empty() && complete;
        if let (Some(n), Some(at), true) = (name, &v.name, f.pumped && !misspelt)
            && !picked.iter().any(|p| p == n)
            && (!first || has_initial(scenario))
        {
            let report = cx
                .at(
                    &codes::UNUSED_SETTING,
                    &at.span,
                    format!("pump setting \"{n}\" is never used in this run"),
                )
                .label("no position, move or rule of controls.pump picks it");
            cx.report(report);
        }
        let points = v.curve.as_ref().and_then(|c| {
            let path = format!("pump.settings.{shown}.curve");
            let points = curve(c, &path, cx)?;
            let first = points.first().is_some_and(|p| p.0 == 0.0);
            let last = points.last().is_some_and(|p| p.1 == 0.0);
            let fault = match (first, last) {
                (true, true) => return Some(points),
                (false, _) => (0, "must begin at zero flow"),
                (true, false) => (c.value.0.len() - 1, "must end at zero head"),
            };
            let at = c.value.0.get(fault.0).map_or(&c.span, |p| &p.span);
            let report = cx
                .at(&codes::CURVE, at, format!("{path} {}", fault.1))
                .label("this point");
            cx.report(report);
            None
        });
        let speed = cx.or(
            &v.speed,
            &format!("pump.settings.{shown}.speed"),
            "pump.settings.speed",
        );
        match (name, si(&v.power), points, speed) {
            (Some(name), Some(power_w), Some(curve), Some(speed)) => {
                settings.push(at_speed(name, &curve, power_w, speed));
            }
            _ => complete = false,
        }
    }
    (complete && !settings.is_empty()).then_some(())?;
    Some(Pump {
        settings,
        stopped_loss_k: stopped?,
        power_to_water: share?,
    })
}

/// The setting at another speed than the one of its curve, by the affinity laws (IEC 60193 and pump handbooks, from memory).
fn at_speed(name: &str, curve: &[(f64, f64)], power_w: f64, speed: f64) -> PumpSetting {
    PumpSetting {
        name: name.to_owned(),
        curve: curve
            .iter()
            .map(|&(flow, head)| (flow * speed, head * speed * speed))
            .collect(),
        power_w: power_w * speed.powi(3),
    }
}

fn once_through(o: &RawOnceThrough, cx: &mut Cx<'_>) -> Option<Water> {
    let supply = o
        .supply
        .as_ref()
        .and_then(|p| pipe(p, "once_through.supply", cx));
    let ret = o
        .ret
        .as_ref()
        .and_then(|p| pipe(p, "once_through.return", cx));
    let valve = cx.or(
        &o.valve_loss,
        "once_through.valve_loss",
        "once_through.valve_loss",
    );
    Some(Water::OnceThrough {
        supply: supply?,
        ret: ret?,
        inlet_k: si(&o.inlet)?,
        supply_pressure_pa: si(&o.supply_pressure)?,
        valve_loss_k: valve?,
    })
}

/// The bench, and its height where it stands alone.
fn bench(raw: &At<RawBench>, f: &Features, cx: &mut Cx<'_>) -> Option<(Bench, Option<f64>)> {
    let b = &raw.value;
    let mass_heat_capacity_j_k = bench_mass_j_k(raw, cx);
    let alone = f.bench_only;
    let (mut flow, mut supply, mut power, mut band) = (None, None, None, None);
    if alone {
        let why = "without a [store] the loop itself warms the bench";
        cx.no_effect(&b.flow, "bench.flow", why);
        cx.no_effect(&b.supply, "bench.supply", why);
        cx.no_effect(&b.pump_power, "bench.pump_power", why);
        cx.no_effect(&b.on_below, "bench.on_below", why);
        cx.no_effect(&b.off_above, "bench.off_above", why);
        if b.height.is_none() {
            cx.missing(
                &raw.span,
                "[bench] without a [store] needs its \"height\" above the hearth floor",
            );
        }
        if b.water.is_none() {
            cx.missing(
                &raw.span,
                "[bench] without a [store] needs the \"water\" in its pipes",
            );
        }
    } else {
        cx.no_effect(
            &b.water,
            "bench.water",
            "beside a store, the bench pipes' own water is not modelled",
        );
        cx.no_effect(
            &b.height,
            "bench.height",
            "the bench has a pump of its own; its height does not matter",
        );
        for (is, key) in [
            (b.flow.is_some(), "flow"),
            (b.supply.is_some(), "supply"),
            (b.on_below.is_some(), "on_below"),
            (b.off_above.is_some(), "off_above"),
        ] {
            if !is {
                cx.missing(
                    &raw.span,
                    format!("[bench] with a [store] needs the key \"{key}\""),
                );
            }
        }
        flow = si(&b.flow).map(|v| v * BENCH_WATER_KG_M3);
        supply = si(&b.supply);
        power = cx.or(&b.pump_power, "bench.pump_power", "bench.pump_power");
        band = si(&b.on_below).zip(si(&b.off_above));
        if let (Some((on, off)), Some(at)) = (band, &b.off_above)
            && off <= on
        {
            let report = cx
                .at(
                    &codes::BAND,
                    &at.span,
                    "bench.off_above must lie above bench.on_below",
                )
                .label("not above");
            cx.report(report);
        }
    }
    let start = si(&b.start)?;
    let (on, off) = if alone {
        (f64::INFINITY, f64::INFINITY)
    } else {
        band?
    };
    Some((
        Bench {
            water_m3: if alone { si(&b.water)? } else { 0.0 },
            flow_kg_s: if alone { 0.0 } else { flow? },
            supply_k: if alone { start } else { supply? },
            pipe_w_k: si(&b.pipes)?,
            mass_heat_capacity_j_k: mass_heat_capacity_j_k?,
            start_temperature_k: start,
            loss_w_k: si(&b.loss)?,
            pump_power_w: if alone { 0.0 } else { power? },
            on_below_k: on,
            off_above_k: off,
        },
        si(&b.height),
    ))
}

fn bench_mass_j_k(raw: &At<RawBench>, cx: &mut Cx<'_>) -> Option<f64> {
    let b = &raw.value;
    let group = (&raw.span, "bench");
    mass_heat_j_k(&b.heat_capacity, &b.material, &b.mass, group, cx)
}

fn draw(i: usize, raw: &At<RawDraw>, scenario: &RawScenario, cx: &mut Cx<'_>) -> Option<Draw> {
    let d = &raw.value;
    let path = format!("draw[{i}]");
    let starts = match d.from.as_ref().and_then(|w| w.value.read()) {
        Some(WordOrSi::Word(_)) => Some(DrawStart::AtTarget),
        Some(WordOrSi::Si(s)) => Some(DrawStart::At(s)),
        None => None,
    };
    let for_s = match (&d.every, &d.span) {
        (None, Some(_)) => {
            cx.no_effect(
                &d.span,
                &format!("{path}.for"),
                "without \"every\" the draw happens once",
            );
            None
        }
        (None, None) => Some(0.0),
        (Some(_), Some(q)) => q.value.si(),
        (Some(_), None) => {
            let latest = scenario.stop.as_ref().and_then(|s| si(&s.value.latest));
            cx.echo(
                format!("{path}.for"),
                "to the end",
                "no end of the draws is given",
            );
            Some(latest.unwrap_or(30.0 * 86_400.0))
        }
    };
    let volume = si(&d.volume);
    let flow = si(&d.flow);
    if let (Some(every), Some(v), Some(q)) = (&d.every, volume, flow)
        && every.value.si().is_some_and(|e| v / q > e)
    {
        let report = cx
            .at(
                &codes::TIME_ORDER,
                &every.span,
                format!("{path}: one draw is not finished when the next begins"),
            )
            .label("shorter than a draw takes");
        cx.report(report);
    }
    Some(Draw {
        starts: starts?,
        every_s: match &d.every {
            Some(q) => Some(q.value.si()?),
            None => None,
        },
        for_s: for_s?,
        volume_m3: volume?,
        flow_m3_s: flow?,
        cold_k: si(&d.cold)?,
    })
}
