//! What can go wrong: every fault at the worst moment of a burn, from saved states of that burn.
//!
//! The base burn stops at most two minutes apart to be copied. Each copy gets each fault and is followed until it boils
//! or for a while; around the worst moment it is tried again more finely; from there it is followed for an hour, and
//! the remedies are tried a minute after the first limit was met.

mod blank;
mod faults;
mod findings;
mod metals;
mod moments;
mod pair;
mod record;
mod trapped;
mod valve;

pub use crate::components::closed::tube_wall;
pub use faults::{ALL, Cure, Fault, Strikes, plate_loss_k};
pub use findings::boiling_with;
pub use pair::try_fault;
pub use trapped::{Trapped, expansion_per_k};

use super::burn::RunError;
pub use super::burn::Saved;
use crate::components::spec::{Coil, Rig};
use crate::correlations::hazard::{bore_m, steam_kg_h};
use crate::properties::limits;
use crate::results::{FaultReport, FaultStatus, HazardReport, Remedy};
use blank::empty;
use findings::findings;
use moments::Moments;
use rayon::prelude::*;
use record::Record;
use std::sync::Mutex;
use valve::{closed, relief_setting, valve_kg_h, with_valve};

/// Longest time between two moments at which faults are tried, s.
pub const GAP_S: f64 = 120.0;
/// Spacing around the worst, s.
const FINE_S: f64 = 20.0;
/// A fault is followed for so long when the worst moment is looked for, and when that is found, s.
const SCREEN_S: f64 = 900.0;
pub const FOLLOW_S: f64 = 3600.0;
/// Boiling is looked at for so long before the next moment is tried, s.
const BOIL_LOOK_S: f64 = 60.0;
/// A person acts so long after the first limit, and is given so long for it to help, s.
const REACT_S: f64 = 60.0;
const CURE_S: f64 = 1800.0;
/// Night after the fire, s.
const NIGHT_S: f64 = 36_000.0;
/// Longest time for the fire to burn out before the night, s.
const OUT_S: f64 = 14_400.0;
/// Relief setting where the scenario names none, Pa over the air's: the usual valve of a small heating loop.
pub const USUAL_RELIEF_PA: f64 = 3e5;
/// Discharge coefficient of a small relief valve that is not certified (common practice, no source).
pub const USUAL_DISCHARGE: f64 = 0.7;
/// A fire under this heat into the coil has nothing to try, W.
const LEAST_COIL_W: f64 = 200.0;
/// Raised store of the what-if, m.
pub const RAISE_M: f64 = 0.6;
/// Most moments of a burn that are tried: longer burns are thinned to the hottest.
const MOST_MOMENTS: usize = 400;

/// What to do and how much of it.
#[derive(Debug, Clone)]
pub struct HazardOptions {
    /// Keys of the faults to try; empty: all.
    pub only: Vec<String>,
    /// Flow bore of the fitted relief valve, m.
    pub relief_bore_m: Option<f64>,
    /// Its setting over the air's pressure, Pa; of the scenario, or 3 bar.
    pub relief_pa: Option<f64>,
}

/// One look at a fault from one moment.
struct Trial {
    at_s: f64,
    index: usize,
    severity: u8,
    soon_s: f64,
    margin_k: f64,
}

impl Trial {
    /// Worse first: more severe, sooner, less margin.
    fn worse(&self, other: &Self) -> bool {
        let key = |t: &Self| (f64::from(t.severity), -t.soon_s, -t.margin_k);
        key(self) > key(other)
    }
}

/// Tries all faults on a rig. `done` hears of each piece of work, `total` how many there will be.
///
/// # Errors
/// [`RunError`] where the burn itself fails; a fault that fails is a row of the report.
pub fn hazard(
    rig: &Rig,
    options: &HazardOptions,
    total: &dyn Fn(u64),
    done: &(dyn Fn() + Sync),
) -> Result<HazardReport, RunError> {
    let (relief_pa, relief_set_from) = relief_setting(rig, options);
    let fitted = with_valve(rig, options);
    let rig = &fitted;
    let options = &HazardOptions {
        relief_bore_m: options
            .relief_bore_m
            .or_else(|| closed(rig).map(|c| c.relief_bore_m)),
        ..options.clone()
    };
    let wanted = |f: &Fault| options.only.is_empty() || options.only.iter().any(|k| k == f.key());
    let tried: Vec<Fault> = ALL.iter().copied().filter(wanted).collect();
    let at_any: Vec<Fault> = tried
        .iter()
        .copied()
        .filter(|f| f.strikes() == Strikes::Any && f.excuse(rig).is_none())
        .collect();
    let Moments {
        list: moments,
        end: last,
        heat_peak_w,
    } = moments::moments(rig)?;
    let base_burst = last.burst();
    let last = Mutex::new(last);
    total((moments.len() + tried.len()) as u64);
    // Worst trial of each fault over all moments.
    let trials: Vec<Vec<Option<Trial>>> = moments
        .par_iter()
        .enumerate()
        .map(|(index, saved)| {
            let list = at_any
                .iter()
                .map(|&f| screen(f, rig, &copy(saved), index, relief_pa))
                .collect();
            done();
            list
        })
        .collect();
    let faults: Vec<FaultReport> = tried
        .par_iter()
        .map(|&f| {
            let report = match f.excuse(rig) {
                Some(why) => empty(f, FaultStatus::DoesNotApply(why.into())),
                None => {
                    let mine = at_any.iter().position(|&a| a == f);
                    let of_mine = mine.map(|k| trials.iter().filter_map(move |t| t[k].as_ref()));
                    let worst = of_mine.and_then(|all| {
                        all.reduce(|a, b| if b.worse(a) { b } else { a })
                            .map(|t| (t.index, t.severity, t.soon_s, t.margin_k, t.at_s))
                    });
                    one(
                        f,
                        rig,
                        &moments,
                        worst,
                        &last,
                        (relief_pa, heat_peak_w),
                        options,
                    )
                    .unwrap_or_else(|e| empty(f, FaultStatus::Failed(e.to_string())))
                }
            };
            done();
            report
        })
        .collect();
    let mut faults = faults;
    if options.only.is_empty() {
        faults.extend(faults::NOT_MODELLED.iter().map(|&(key, name, why)| {
            let mut r = empty(Fault::PumpStop, FaultStatus::NotModelled(why.into()));
            r.key = key.into();
            r.name = name.into();
            r.how = String::new();
            r
        }));
    }
    for f in &mut faults {
        f.moments_tried = if f.worst_at_s.is_some() {
            moments.len()
        } else {
            0
        };
    }
    // Worst first; of equal rank the more severe, then the sooner; what did not run last, in its own order.
    let soonest = |f: &FaultReport| {
        f.limits
            .iter()
            .filter(|l| l.severity == f.severity)
            .map(|l| l.after_s)
            .fold(f64::INFINITY, f64::min)
    };
    faults.sort_by(|a, b| {
        (b.rank, b.severity)
            .cmp(&(a.rank, a.severity))
            .then(soonest(a).total_cmp(&soonest(b)))
            .then((a.status != FaultStatus::Ran).cmp(&(b.status != FaultStatus::Ran)))
    });
    let first = copy_of_first(&moments);
    Ok(HazardReport {
        title: rig.title.clone(),
        moments: moments.len(),
        moment_gap_s: GAP_S,
        followed_s: FOLLOW_S,
        relief_set_Pa: relief_pa,
        relief_set_from,
        relief_fitted_kg_h: options
            .relief_bore_m
            .and_then(|d| first.as_ref().map(|s| valve_kg_h(s.net(), relief_pa, d))),
        growths: metals::growths(rig),
        couples: metals::couples(rig),
        base_burst,
        faults,
        left_out: LEFT_OUT.iter().map(|s| (*s).to_string()).collect(),
    })
}

const LEFT_OUT: &[&str] = &[
    "surging, hammering and geysering of a boiling loop: after the first boiling flows and steam are qualitative",
    "hot water that flashes in a relief valve (it passes less than cold), scale in valve or vent, a vent that freezes or is shut",
    "joints, bends and welds weaker than the plain tube; the place of a joint in the fire",
    "ice, creep, corrosion, fire in the flue, carbon monoxide where people are",
    "the fire itself to better than 20..30 % (hand feeding), so no second here is exact",
];

fn copy<'a>(saved: &Mutex<Saved<'a>>) -> Saved<'a> {
    // A poisoned lock still holds the state: nothing here changes it.
    match saved.lock() {
        Ok(s) => s.clone(),
        Err(e) => e.into_inner().clone(),
    }
}

fn copy_of_first<'a>(moments: &[Mutex<Saved<'a>>]) -> Option<Saved<'a>> {
    moments.first().map(copy)
}

fn coil(rig: &Rig) -> Option<&Coil> {
    rig.coils.first()
}

/// A record of a fault at this moment.
fn record(f: Fault, rig: &Rig, s: &Saved, series: bool) -> Record {
    let trapped = if f.shut_in() {
        coil(rig).map(|c| {
            let p = s
                .net()
                .tubes
                .first()
                .map_or(0.0, |t| t.p_pa - s.net().p_air_pa);
            Trapped::new(c, p.max(0.0))
        })
    } else {
        None
    };
    let mut r = Record::new(rig, s.time_s(), trapped, series);
    r.before(s.net(), s.state());
    r
}

/// Follows a faulted burn; an air lock clears when it boils. `stop` ends it sooner.
fn follow(
    f: Fault,
    s: &mut Saved,
    r: &mut Record,
    until_s: f64,
    stop: &dyn Fn(&Record, f64) -> bool,
) -> Result<(), RunError> {
    let mut cleared = !f.boiling_clears_it();
    while s.time_s() < until_s {
        let mut boils = false;
        let more = s.advance_to(until_s, &mut |net, seg| {
            r.segment(net, seg);
            boils = r.met("boiling").is_some();
            !stop(r, seg.t_s) && (cleared || !boils)
        })?;
        if let Some(b) = s.burst() {
            r.bursts(b);
            break;
        }
        if boils && !cleared {
            s.block(crate::network::Blocked::No);
            cleared = true;
        } else if !more || stop(r, s.time_s()) {
            break;
        }
    }
    Ok(())
}

fn screen(f: Fault, rig: &Rig, base: &Saved, index: usize, relief_pa: f64) -> Option<Trial> {
    let at_s = base.time_s();
    let mut s = base.clone();
    let mut r = record(f, rig, &s, false);
    f.strike(&mut s, relief_pa);
    // Segments end at events only: short ones, so that it can stop soon after boiling.
    let mut until = at_s;
    while until < at_s + SCREEN_S {
        until += BOIL_LOOK_S;
        follow(f, &mut s, &mut r, until, &|_, _| false).ok()?;
        let over = r
            .limits
            .iter()
            .filter(|l| l.severity >= 2)
            .any(|l| l.after_s + BOIL_LOOK_S <= until - at_s);
        if over {
            break;
        }
    }
    let severity = r.severity();
    // Of two bursts the sooner is the worse; else what boils or breaks first.
    let counts = if severity >= 4 { 4 } else { severity.min(2) };
    Some(Trial {
        at_s,
        index,
        severity,
        soon_s: r
            .limits
            .iter()
            .filter(|l| l.severity >= counts)
            .map(|l| l.after_s)
            .fold(f64::INFINITY, f64::min),
        margin_k: r.margin_min_k,
    })
}

type Worst = (usize, u8, f64, f64, f64);

/// The whole report of one fault.
#[allow(clippy::too_many_arguments)] // the fault, the burn and what is asked
fn one<'a>(
    f: Fault,
    rig: &'a Rig,
    moments: &[Mutex<Saved<'a>>],
    worst: Option<Worst>,
    last: &Mutex<Saved<'a>>,
    (relief_pa, heat_peak_w): (f64, f64),
    options: &HazardOptions,
) -> Result<FaultReport, RunError> {
    let own = f.rig(rig);
    let mut report = empty(f, FaultStatus::Ran);
    let mut from = match f.strikes() {
        Strikes::FromTheStart => Saved::new(&own)?,
        Strikes::AfterTheEnd => burnt_out(copy(last))?,
        Strikes::Any => match worst {
            Some(w) => refine(f, rig, moments, w, relief_pa)?,
            None => {
                report.status = FaultStatus::DoesNotApply("the fire never heats the coil".into());
                return Ok(report);
            }
        },
    };
    if f.strikes() == Strikes::Any {
        report.worst_at_s = Some(from.time_s());
    }
    let start = from.clone();
    let mut r = record(f, rig, &from, true);
    let at_s = from.time_s();
    let for_s = match f.strikes() {
        Strikes::Any => FOLLOW_S,
        Strikes::FromTheStart => rig.stop.latest_s,
        Strikes::AfterTheEnd => NIGHT_S,
    };
    if f.strikes() == Strikes::FromTheStart {
        from.go_on();
    }
    f.strike(&mut from, relief_pa);
    // Where the tube bursts the story ends.
    follow(f, &mut from, &mut r, at_s + for_s, &|r, _| {
        r.met("burst").is_some()
    })?;
    fill(
        &mut report,
        &r,
        &from,
        start.let_out(),
        (relief_pa, heat_peak_w),
        options,
    );
    findings(f, rig, &mut report, &r, &start)?;
    if f.strikes() == Strikes::Any && r.severity() >= 2 && !f.shut_in() {
        report.remedies = remedies(f, rig, &start, &r, relief_pa)?;
    }
    Ok(report)
}

/// The worst moment between the two neighbours of the worst one tried.
fn refine<'a>(
    f: Fault,
    rig: &'a Rig,
    moments: &[Mutex<Saved<'a>>],
    (index, severity, soon_s, margin_k, at_s): Worst,
    relief_pa: f64,
) -> Result<Saved<'a>, RunError> {
    let mut best = copy(&moments[index]);
    let mut trial = Trial {
        at_s,
        index,
        severity,
        soon_s,
        margin_k,
    };
    let mut walk = copy(&moments[index.saturating_sub(1)]);
    let end = at_s + GAP_S;
    let mut t = walk.time_s().max(at_s - GAP_S);
    while t + FINE_S < end {
        t += FINE_S;
        if !walk.advance_to(t, &mut |_, _| true)? {
            break;
        }
        if let Some(next) = screen(f, rig, &walk, index, relief_pa)
            && next.worse(&trial)
        {
            trial = next;
            best = walk.clone();
        }
    }
    Ok(best)
}

/// Nobody feeds any more, and the pump runs on until the coil gives no heat.
fn burnt_out(mut s: Saved) -> Result<Saved, RunError> {
    s.go_on();
    s.stop_feeding();
    let end = s.time_s() + OUT_S;
    while s.time_s() < end && s.net().observe(s.time_s(), s.state()).to_coil_w > LEAST_COIL_W {
        let next = s.time_s() + GAP_S;
        if !s.advance_to(next, &mut |_, _| true)? {
            break;
        }
    }
    Ok(s)
}

fn fill(
    report: &mut FaultReport,
    r: &Record,
    s: &Saved,
    before: (u64, f64, f64),
    (relief_pa, burn_heat_w): (f64, f64),
    options: &HazardOptions,
) {
    let net = s.net();
    let water = net.has_water();
    let finite = |v: f64| (water && v.is_finite()).then_some(v);
    report.limits = r.limits.clone();
    report.boiling_after_s = r.met("boiling");
    report.steam_peak_kg_s = r.steam_peak_kg_s();
    report.coil_heat_peak_W = r.heat_peak_w();
    let dry = report.key == Fault::DryCoil.key();
    // The valve is there all through the burn: it must pass the most that this fire ever makes, and more where the fault
    // makes more.
    let heat_w = r.heat_peak_w().max(burn_heat_w);
    if let Some(b) = s.burst() {
        report.burst = Some(b);
    }
    let (lifts, water_kg, steam_kg) = s.let_out();
    if net.closed().is_some() {
        report.relief_lifts = Some(lifts - before.0);
        report.relief_water_kg = Some(water_kg - before.1);
        report.relief_steam_kg = Some(steam_kg - before.2);
    }
    if water && !net.rig.coils.is_empty() && heat_w > 0.0 && !dry {
        let p = net.p_air_pa + relief_pa;
        let needed = steam_kg_h(heat_w, net.water.sat(p).h_fg_j_kg);
        let per_m2 = valve_kg_h(net, relief_pa, 1.0) / (std::f64::consts::PI / 4.0);
        report.relief_needed_kg_h = Some(needed);
        report.relief_bore_m = Some(bore_m(needed / per_m2));
        if let Some(fitted) = options.relief_bore_m.map(|d| valve_kg_h(net, relief_pa, d))
            && fitted < needed
            && let Some(t) = report.boiling_after_s
            && r.met("burst").is_none()
        {
            report.limits.push(crate::results::LimitMet {
                key: "relief_small".into(),
                what: "the fitted relief valve passes less steam than the fire makes".into(),
                after_s: t,
                severity: 4,
            });
        }
    }
    if let Some(t) = &r.trapped {
        report.pressure_peak_Pa = Some(t.peak_pa);
        report.pressure_rate_Pa_K = t.per_k_pa();
        report.pressure_rate_Pa_s = t.per_s_pa();
    } else {
        report.pressure_peak_Pa = finite(r.loop_pressure_peak_pa);
    }
    report.outlet_max_K = finite(r.outlet_max_k).filter(|_| !dry);
    report.outlet_scald_s = report
        .outlet_max_K
        .map(limits::scald_s)
        .filter(|s| s.is_finite());
    report.tap_max_K = finite(r.tap_max_k).filter(|_| net.vessel.is_some());
    report.tap_scald_s = report
        .tap_max_K
        .map(limits::scald_s)
        .filter(|s| s.is_finite());
    report.coil_wall_max_K = finite(r.wall_max_k);
    report.outside_max_K = r.outside.0;
    report.outside_place = r.outside.1.clone();
    report.flow_min_kg_s = finite(r.flow_min_kg_s);
    report.energy_residual_fraction = s.ledger().residual_fraction;
    report.series = r.series.clone().unwrap_or_default();
    report
        .limits
        .sort_by(|a, b| a.after_s.total_cmp(&b.after_s));
    report.severity = report.limits.iter().map(|l| l.severity).max().unwrap_or(0);
    report.rank = report
        .limits
        .iter()
        .map(|l| l.severity * urgency(l.after_s))
        .max()
        .unwrap_or(0);
}

/// 4 within a minute, 3 within five, 2 within half an hour, 1 later.
pub fn urgency(after_s: f64) -> u8 {
    match after_s {
        t if t < 60.0 => 4,
        t if t < 300.0 => 3,
        t if t < 1800.0 => 2,
        _ => 1,
    }
}

/// Tries the remedies, a minute after the first limit.
fn remedies<'a>(
    f: Fault,
    rig: &'a Rig,
    start: &Saved<'a>,
    r: &Record,
    relief_pa: f64,
) -> Result<Vec<Remedy>, RunError> {
    let first = r
        .limits
        .iter()
        .filter(|l| l.severity >= 2)
        .map(|l| l.after_s)
        .fold(f64::INFINITY, f64::min);
    let at_s = first + REACT_S;
    let mut ill = start.clone();
    let mut skip = record(f, rig, &ill, false);
    f.strike(&mut ill, relief_pa);
    let until = start.time_s() + at_s;
    follow(f, &mut ill, &mut skip, until, &|_, _| false)?;
    if skip.met("burst").is_some() {
        return Ok(Vec::new());
    }
    let limit_k = rig
        .coils
        .iter()
        .map(|c| c.metal.limit_k)
        .fold(f64::INFINITY, f64::min);
    f.remedies(rig)
        .into_iter()
        .map(|cure| {
            let mut s = ill.clone();
            cure.apply(&mut s)?;
            let mut bad_until = 0.0f64;
            let from = s.time_s();
            let mut t = from;
            // Looked at every five seconds: the last bad moment is what counts.
            while t < from + CURE_S {
                t += 5.0;
                if !s.advance_to(t, &mut |_, _| true)? {
                    bad_until = CURE_S;
                    break;
                }
                let i = s.net().observe(s.time_s(), s.state());
                let bad = i.steam_kg_s > 1e-5
                    || (s.net().circuit.is_some()
                        && record::wall_k(s.net(), s.state(), &i) > limit_k)
                    || s.spills() && i.net_burnt_w > 500.0
                    || record::drum_is_bad(s.net(), s.state(), &i)
                    || s.net()
                        .wall_over_limit(s.state())
                        .is_some_and(|w| w.0 > 0.0);
                if bad {
                    bad_until = t - from;
                }
            }
            Ok(Remedy {
                what: cure.what().into(),
                at_s,
                stops_after_s: (bad_until < CURE_S - 60.0).then_some(bad_until),
                tried_for_s: CURE_S,
            })
        })
        .collect()
}
