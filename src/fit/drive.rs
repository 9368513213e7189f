//! What a log makes of the simulated burn: its feeds, moves, start temperature and air take the place of the scenario's.

use super::probe::{Place, Probe};
use crate::components::spec::{Control, FeedEvent, Profile, Rig, Steps, Water};
use crate::logs::{EventKind, Mapping, Problem, Reading, Role};
use crate::properties::wood;
use crate::units::{Kind, parse};

/// Volumes of log and scenario that differ by more are two rigs.
const SAME_VOLUME: f64 = 0.15;
/// A log shorter than this after lighting tells nothing.
const SHORTEST_S: f64 = 600.0;
/// A load within this time of the match is the kindling.
const WITH_THE_MATCH_S: f64 = 90.0;
/// Share left open by an act without a figure ("choked the inlet").
const CHOKED: f64 = 0.5;
/// Smallest share that a shut damper or inlet leaves, as plates do.
const SHUT: f64 = 0.05;

/// What was done during a burn, and what was read.
#[derive(Debug, Clone, Default)]
pub struct Drive {
    /// `None`: the scenario's own feeding.
    pub feeds: Option<Vec<FeedEvent>>,
    pub kindling_kg: Option<f64>,
    pub damper: Option<Vec<(f64, f64)>>,
    pub air_inlet: Option<Vec<(f64, f64)>>,
    pub pump: Option<Vec<(f64, Option<usize>)>>,
    pub start_k: Option<f64>,
    pub air_k: Option<Vec<(f64, f64)>>,
    /// The scenario's draws are kept.
    pub keep_draws: bool,
    pub end_s: f64,
}

impl Drive {
    /// The rig as it was run.
    pub fn apply(&self, rig: &mut Rig) {
        rig.stop.at_target = false;
        rig.stop.latest_s = self.end_s + 60.0;
        if let Some(feeds) = &self.feeds {
            rig.feeding.list.clone_from(feeds);
            rig.feeding.every.clear();
            rig.feeding.rules.clear();
        }
        if let Some(kg) = self.kindling_kg {
            rig.lighting.kindling_kg = kg;
        }
        moved(&mut rig.controls.damper, &self.damper);
        moved(&mut rig.controls.air_inlet, &self.air_inlet);
        moved(&mut rig.controls.pump, &self.pump);
        if let Some(points) = &self.air_k {
            rig.site.air_temperature_k = Profile {
                points: points.clone(),
            };
        }
        if let Water::Store { vessel, draws, .. } = &mut rig.water {
            if let Some(t) = self.start_k {
                vessel.start_temperature_k = t;
            }
            if !self.keep_draws {
                draws.clear();
            }
        }
    }
}

fn moved<T: Clone>(control: &mut Control<T>, moves: &Option<Vec<(f64, T)>>) {
    if let Some(moves) = moves {
        control.steps = Steps {
            initial: control.steps.initial.clone(),
            moves: moves.clone(),
        };
        control.rule = None;
    }
}

/// A log made ready for a fit.
#[derive(Debug, Clone)]
pub struct Burnt {
    pub drive: Drive,
    pub probes: Vec<Probe>,
    /// What was taken from the log, and what of the scenario was replaced.
    pub said: Vec<String>,
    /// Lighting on the log's clock.
    pub begin_s: f64,
    /// Suspect spans whose readings are left out.
    pub left_out: usize,
}

/// Reads acts and probes of a log against the scenario's rig.
///
/// # Errors
/// All that keeps log and scenario apart, in one pass.
pub fn burnt(reading: &Reading, map: &Mapping, rig: &Rig) -> Result<Burnt, Vec<Problem>> {
    let mut problems: Vec<Problem> = Vec::new();
    if reading.errors() > 0 {
        return Err(reading.problems.clone());
    }
    let mut said = Vec::new();
    let begin_s = begin(reading, map, &mut problems);
    let end_s = match map.time.end.as_deref().map(|t| reading.moment_s(t)) {
        Some(Ok(at)) => at,
        Some(Err(why)) => {
            problems.push(Problem::error(
                format!("`time.end`: {why}"),
                "write `end = \"20:30\"`",
            ));
            reading.last_s
        }
        None => reading.last_s,
    } - begin_s;
    if end_s < SHORTEST_S {
        problems.push(Problem::error(
            format!(
                "the log ends {:.0} s after lighting: too short to learn from",
                end_s
            ),
            "`light_up = \"17:05\"` under [time] of the mapping says when it was lit",
        ));
    }
    mismatch(map, rig, &mut problems, &mut said);
    let air_k = rig.site.air_temperature_k.at(0.0);
    let mut probes = Vec::new();
    for c in &reading.channels {
        let Some(place) = Place::of(c.role) else {
            continue;
        };
        if c.role.is_water() && matches!(rig.water, Water::None) {
            problems.push(
                Problem::error(
                    format!(
                        "column {} is read as \"{}\", but the scenario has no water",
                        c.name,
                        c.role.word()
                    ),
                    "fit the scenario of the rig that the log is of, or write `as = \"other\"` for this column",
                )
                .at(c.line.first().copied().unwrap_or(1), None),
            );
            continue;
        }
        let readings: Vec<(f64, f64)> = c
            .kept()
            .map(|(t, v)| (t - begin_s, v))
            .filter(|(t, _)| (-60.0..=end_s + 1.0).contains(t))
            .collect();
        if readings.len() >= 2 {
            probes.extend(Probe::gather(
                &c.name,
                place,
                &readings,
                air_k,
                c.uncertainty,
            ));
        }
    }
    if probes.is_empty() && problems.is_empty() {
        let have: Vec<String> = reading
            .channels
            .iter()
            .map(|c| format!("{} ({})", c.name, c.role.word()))
            .collect();
        problems.push(Problem::error(
            format!(
                "no probe of the log is of a place that the model knows; it has: {}",
                if have.is_empty() { "no column of readings".into() } else { have.join(", ") }
            ),
            "name one in the mapping: [[channel]] with `column = \"...\"` and `as = \"tank\"` (or coil_out, gas_above_coil, flue, ...); `emberloop audit LOG --propose` writes one to edit",
        ));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut drive = Drive {
        end_s,
        ..Drive::default()
    };
    feeds(reading, rig, begin_s, end_s, &mut drive, &mut said);
    moves(reading, rig, begin_s, &mut drive, &mut said);
    start(reading, rig, begin_s, &mut drive, &mut said);
    air(reading, begin_s, end_s, &mut drive, &mut said);
    if let Water::Store { draws, .. } = &rig.water
        && !draws.is_empty()
    {
        said.push("the scenario's draws are left out: the log tells of none".into());
    }
    Ok(Burnt {
        drive,
        probes,
        said,
        begin_s,
        left_out: reading.flags.iter().filter(|f| f.left_out).count(),
    })
}

fn begin(reading: &Reading, map: &Mapping, problems: &mut Vec<Problem>) -> f64 {
    if let Some(text) = &map.time.light_up {
        match reading.moment_s(text) {
            Ok(at) => return at,
            Err(why) => problems.push(Problem::error(
                format!("`time.light_up`: {why}"),
                "write `light_up = \"17:05\"`",
            )),
        }
    }
    let first = |kind| {
        reading
            .events
            .iter()
            .find(|e| e.kind == kind)
            .map(|e| e.time_s)
    };
    first(EventKind::Lit)
        .or(first(EventKind::Feed))
        .unwrap_or(reading.first_s)
}

/// Signs that the log is of another rig or wood.
fn mismatch(map: &Mapping, rig: &Rig, problems: &mut Vec<Problem>, said: &mut Vec<String>) {
    if let (Some(text), Water::Store { vessel, .. }) = (&map.rig.volume, &rig.water)
        && let Ok(stated) = parse(Kind::Volume, text)
        && (stated.si / vessel.water_m3 - 1.0).abs() > SAME_VOLUME
    {
        problems.push(Problem::error(
            format!(
                "the log's mapping says `rig.volume = \"{text}\"`, the scenario's store holds {:.0} L: these are two rigs",
                1e3 * vessel.water_m3
            ),
            "fit the scenario of this rig, or correct one of them (`--set store.water=...`)",
        ));
    }
    if let Some(name) = &map.fuel.species
        && let Some(known) = wood::by_name(name)
        && !known.name.eq_ignore_ascii_case(&rig.fuel.name)
    {
        said.push(format!(
            "the mapping says {}, the scenario burns {}: the scenario's was taken (`--set fuel.species={}`)",
            known.name, rig.fuel.name, known.name
        ));
    }
    if let (Some(text), Some(basis)) = (&map.fuel.moisture, &map.fuel.moisture_basis)
        && let Ok(m) = parse(Kind::Fraction, text)
    {
        let wet = if basis.trim() == "dry" {
            m.si / (1.0 + m.si)
        } else {
            m.si
        };
        if (wet - rig.fuel.moisture_wet).abs() > 0.02 {
            said.push(format!(
                "the mapping says {:.0} % moisture (wet), the scenario {:.0} %: the fit starts from the scenario's",
                100.0 * wet,
                100.0 * rig.fuel.moisture_wet
            ));
        }
    }
}

fn feeds(
    reading: &Reading,
    rig: &Rig,
    begin_s: f64,
    end_s: f64,
    drive: &mut Drive,
    said: &mut Vec<String>,
) {
    let loads: Vec<(f64, f64)> = reading
        .events
        .iter()
        .filter_map(|e| Some((e.time_s - begin_s, e.mass_kg?)))
        .filter(|(t, _)| (-WITH_THE_MATCH_S..=end_s).contains(t))
        .collect();
    if loads.is_empty() {
        said.push(
            "the log tells of no weighed wood: the scenario's own feeding was kept, so all that is said of the fire leans on it"
                .into(),
        );
        return;
    }
    let mut list = Vec::new();
    let usual = rig.lighting.kindling_kg;
    let mut kindling = 0.0;
    for (t, kg) in loads {
        if t.abs() <= WITH_THE_MATCH_S {
            // Sticks lit together with the kindling are sticks still.
            let lit = kg.min((1.25 * usual - kindling).max(0.0));
            kindling += lit;
            if kg - lit > 0.01 {
                list.push(feed(t.max(1.0), kg - lit));
            }
        } else {
            list.push(feed(t, kg));
        }
    }
    if kindling > 0.0 {
        drive.kindling_kg = Some(kindling);
    }
    let total: f64 = list.iter().map(|f| f.mass_kg).sum();
    said.push(format!(
        "feeds are the log's ({} loads, {total:.1} kg{}), not the scenario's schedule",
        list.len(),
        if kindling > 0.0 {
            format!(", lit with {kindling:.2} kg")
        } else {
            format!(", lit with the scenario's {usual:.2} kg of kindling")
        }
    ));
    drive.feeds = Some(list);
}

fn feed(at_s: f64, mass_kg: f64) -> FeedEvent {
    FeedEvent {
        at_s,
        mass_kg,
        thickness_m: None,
    }
}

fn moves(reading: &Reading, rig: &Rig, begin_s: f64, drive: &mut Drive, said: &mut Vec<String>) {
    let has_damper = rig
        .gas_path
        .iter()
        .any(|s| s.kind == crate::components::spec::SectionKind::Damper);
    let pump = rig.circuit().and_then(|c| c.pump.as_ref());
    let settings: Vec<String> = pump.map_or_else(Vec::new, |p| {
        p.settings.iter().map(|s| s.name.to_lowercase()).collect()
    });
    for e in &reading.events {
        let at = (e.time_s - begin_s).max(0.0);
        let lower = e.text.to_lowercase();
        match e.kind {
            EventKind::Damper => {
                let (share, known) = share_of(&lower);
                let inlet = ["inlet", "choke", "choked", "air"]
                    .iter()
                    .any(|w| lower.contains(w))
                    || !has_damper;
                let list = if inlet {
                    &mut drive.air_inlet
                } else {
                    &mut drive.damper
                };
                list.get_or_insert_default().push((at, share));
                let part = if inlet { "air inlet" } else { "damper" };
                said.push(if known {
                    format!("{part} to {:.0} % at {:.0} min (line {}: \"{}\")", 100.0 * share, at / 60.0, e.line, e.text)
                } else {
                    format!("{part} taken as half shut at {:.0} min: \"{}\" (line {}) names no share; write \"inlet 60 %\"", at / 60.0, e.text, e.line)
                });
            }
            EventKind::Pump => {
                let setting = settings.iter().position(|name| {
                    lower
                        .split(|c: char| !c.is_alphanumeric())
                        .any(|w| w == name)
                });
                let off = lower
                    .split(|c: char| !c.is_alphanumeric())
                    .any(|w| ["off", "stopped", "stop", "0"].contains(&w));
                let on = lower
                    .split(|c: char| !c.is_alphanumeric())
                    .any(|w| w == "on");
                match (setting, off, on && !settings.is_empty()) {
                    (Some(i), ..) => drive.pump.get_or_insert_default().push((at, Some(i))),
                    (None, true, _) => drive.pump.get_or_insert_default().push((at, None)),
                    (None, _, true) => drive.pump.get_or_insert_default().push((at, Some(0))),
                    _ => {
                        said.push(format!(
                            "\"{}\" (line {}) names no setting of the scenario's pump ({}): left out",
                            e.text,
                            e.line,
                            if settings.is_empty() { "it has none".into() } else { settings.join(", ") }
                        ));
                        continue;
                    }
                }
                said.push(format!(
                    "pump as the log has it at {:.0} min (line {}: \"{}\")",
                    at / 60.0,
                    e.line,
                    e.text
                ));
            }
            _ => {}
        }
    }
}

/// Open share that an act tells, and whether it tells one.
fn share_of(lower: &str) -> (f64, bool) {
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || c == ',' || c == ';')
        .collect();
    for (i, w) in words.iter().enumerate() {
        let percent = w.strip_suffix('%').or_else(|| {
            words
                .get(i + 1)
                .is_some_and(|n| *n == "%" || n.starts_with("percent"))
                .then_some(*w)
        });
        if let Some(v) = percent.and_then(|p| p.parse::<f64>().ok()) {
            return ((v / 100.0).clamp(SHUT, 1.0), true);
        }
    }
    let has = |list: &[&str]| {
        words
            .iter()
            .any(|w| list.contains(&w.trim_matches(|c: char| !c.is_alphanumeric())))
    };
    if has(&["half"]) {
        (0.5, true)
    } else if has(&["open", "opened", "full"]) {
        (1.0, true)
    } else if has(&["shut", "closed", "close"]) {
        (SHUT, true)
    } else {
        (CHOKED, false)
    }
}

/// Temperature of the store at lighting.
fn start(reading: &Reading, rig: &Rig, begin_s: f64, drive: &mut Drive, said: &mut Vec<String>) {
    if !matches!(rig.water, Water::Store { .. }) {
        return;
    }
    let mut firsts = Vec::new();
    for c in reading.channels.iter().filter(|c| c.role.is_tank()) {
        let all: Vec<(f64, f64)> = c.kept().collect();
        let before: Vec<f64> = all
            .iter()
            .filter(|(t, _)| *t <= begin_s + 30.0)
            .map(|r| r.1)
            .collect();
        // Without a reading before the match, the first stands in while the water can hardly have warmed.
        let soon = all.first().filter(|r| r.0 <= begin_s + 600.0).map(|r| r.1);
        match before.len() {
            0 => firsts.extend(soon),
            n => firsts.push(before[n.saturating_sub(10)..].iter().sum::<f64>() / n.min(10) as f64),
        }
    }
    if !firsts.is_empty() {
        let t = firsts.iter().sum::<f64>() / firsts.len() as f64;
        said.push(format!(
            "the store starts at {:.1} °C, as the log has it",
            t - 273.15
        ));
        drive.start_k = Some(t);
    }
}

/// Air from the log's own probe, in means of a quarter of an hour.
fn air(reading: &Reading, begin_s: f64, end_s: f64, drive: &mut Drive, said: &mut Vec<String>) {
    let Some(c) = reading.channels.iter().find(|c| c.role == Role::Ambient) else {
        return;
    };
    let all: Vec<(f64, f64)> = c
        .kept()
        .map(|(t, v)| (t - begin_s, v))
        .filter(|(t, _)| (0.0..=end_s).contains(t))
        .collect();
    let mut points = Vec::new();
    let mut from = 0;
    while from < all.len() {
        let to = all.partition_point(|r| r.0 < all[from].0 + 900.0);
        let n = (to - from) as f64;
        let mean = |f: fn(&(f64, f64)) -> f64| all[from..to].iter().map(f).sum::<f64>() / n;
        points.push((mean(|r| r.0), mean(|r| r.1)));
        from = to;
    }
    if let (Some(first), Some(last)) = (points.first().copied(), points.last().copied()) {
        said.push(format!(
            "air as the log has it, {:.0} to {:.0} °C from first to last",
            first.1 - 273.15,
            last.1 - 273.15
        ));
        drive.air_k = Some(points);
    }
}
