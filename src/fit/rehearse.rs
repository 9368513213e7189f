//! Fits of logs whose truth is known: how often the stated intervals hold it.
//!
//! Half of the logs come from the model that the fit uses, with every closure drawn from its prior. The other half come
//! from finer cells and from what the fit has no value for: another kindling, inlet loss and hearth.

use super::judge::{EIGHT_IN_TEN, deviates};
use super::probe::{Curves, Place, Probe};
use super::{Effort, Setting, search};
use crate::results::{Rehearsal, RehearsedLog, RehearsedValue};
use rayon::prelude::*;

/// Probes of a rehearsal without a log, and the time between readings.
const PLACES: [Place; 6] = [
    Place::TankTop,
    Place::TankBottom,
    Place::CoilOut,
    Place::GasBelowCoil,
    Place::GasAboveCoil,
    Place::Flue,
];
const EVERY_S: f64 = 30.0;
/// Share of the wood that must have burnt for a log to be of a burn.
const CAUGHT: f64 = 0.3;

/// Where a rehearsed log's probes sit and when they are read.
#[derive(Debug, Clone)]
pub struct Plan {
    pub name: String,
    pub place: Place,
    pub time_s: Vec<f64>,
}

/// Probes of the usual places over the whole burn.
pub fn plan(end_s: f64) -> Vec<Plan> {
    let time_s: Vec<f64> = (0..)
        .map(|i| f64::from(i) * EVERY_S)
        .take_while(|t| *t <= end_s)
        .collect();
    PLACES
        .iter()
        .map(|&place| Plan {
            name: place.words().to_owned(),
            place,
            time_s: time_s.clone(),
        })
        .collect()
}

/// Readings of a burn whose values lie at `z`, with the noise, lag, radiation, offsets and drop-outs of usual probes.
/// `other`: finer cells, and things that the fit has no value for.
pub fn synthetic(
    setting: &Setting,
    z: &[f64],
    plan: &[Plan],
    other: bool,
    seed: u64,
) -> Option<Vec<Probe>> {
    let mut rng = fastrand::Rng::with_seed(seed);
    let mut rig = setting.rig_at(z)?;
    if other {
        let x = deviates(&mut rng, 3);
        rig.solver.cell_factor *= 2;
        rig.lighting.kindling_thickness_m *= (0.15 * x[0]).exp();
        rig.firebox.inlet_loss_k *= (0.15 * x[1]).exp();
        rig.firebox.hearth_mass_kg *= (0.3 * x[2]).exp();
    }
    let curves = Curves::burn(&rig)?;
    let air_k = rig.site.air_temperature_k.at(0.0);
    let mut probes = Vec::new();
    for p in plan {
        curves.at(p.place)?;
        let unknowns = deviates(&mut rng, p.place.unknowns().len());
        let shown = curves.shown(p.place, &unknowns);
        let (own, share) = match p.place {
            q if q.is_tank() => (0.1, 0.0),
            Place::CoilIn | Place::CoilOut => (0.2, 0.0),
            Place::O2 | Place::Co2 => (0.002, 0.0),
            Place::Flow => (0.0, 0.02),
            _ => (2.0, 0.01),
        };
        // Two drop-outs of a few minutes.
        let last = p.time_s.last().copied().unwrap_or(0.0);
        let gaps: Vec<(f64, f64)> = (0..2)
            .map(|_| (rng.f64() * last, 120.0 + 360.0 * rng.f64()))
            .collect();
        let mut readings = Vec::new();
        for &t in &p.time_s {
            let noise = deviates(&mut rng, 1)[0];
            let spike = rng.f64() < 0.005;
            if p.time_s.len() > 20 && gaps.iter().any(|g| t >= g.0 && t <= g.0 + g.1) {
                continue;
            }
            let truth = super::probe::interpolated(&curves.time_s, &shown, t);
            let base = if p.place.is_temperature() { air_k } else { 0.0 };
            let off = if spike { 30.0 } else { 1.0 };
            readings.push((
                t,
                truth + off * noise * (own + share * (truth - base).abs()),
            ));
        }
        probes.push(Probe::gather(&p.name, p.place, &readings, air_k, None)?);
    }
    Some(probes)
}

/// Rehearses `repeats` times, those in `earlier` apart; `done` hears of each new one.
///
/// A repeat is fixed by seed and number alone, so that a rehearsal may be stopped, taken up again and lengthened.
pub fn rehearse(
    setting: &Setting,
    plan: &[Plan],
    repeats: usize,
    seed: u64,
    earlier: &[RehearsedLog],
    done: &(dyn Fn(&RehearsedLog) + Sync),
) -> Rehearsal {
    let logs: Vec<RehearsedLog> = (0..repeats)
        .into_par_iter()
        .map(|i| {
            if let Some(known) = earlier.iter().find(|l| l.repeat == i) {
                return known.clone();
            }
            let log = one(setting, plan, i, seed);
            done(&log);
            log
        })
        .collect();
    counted(setting, plan, &logs)
}

/// How often the intervals held the truth.
fn counted(setting: &Setting, plan: &[Plan], logs: &[RehearsedLog]) -> Rehearsal {
    let fitted = |l: &&RehearsedLog| !l.values.is_empty();
    let of = |other: bool| {
        logs.iter()
            .filter(fitted)
            .filter(move |l| l.other == other)
            .map(|l| &l.values)
    };
    let (same, others) = (of(false).count(), of(true).count());
    let inside =
        |[truth, found, deviation]: &[f64; 3]| (found - truth).abs() <= EIGHT_IN_TEN * deviation;
    let values: Vec<RehearsedValue> = (0..setting.free())
        .map(|k| {
            let all = || of(false).chain(of(true)).map(move |v| v[k]);
            let off: Vec<f64> = all().map(|[t, f, d]| (f - t) / d.max(1e-12)).collect();
            let n = off.len().max(1) as f64;
            let bias = off.iter().sum::<f64>() / n;
            RehearsedValue {
                name: setting.params[k].name.clone(),
                within_same: of(false).filter(|v| inside(&v[k])).count(),
                within_other: of(true).filter(|v| inside(&v[k])).count(),
                prior_share: all().map(|v| v[2]).sum::<f64>() / n,
                bias,
                scatter: (off.iter().map(|o| (o - bias).powi(2)).sum::<f64>() / n).sqrt(),
            }
        })
        .collect();
    let share = |within: usize, logs: usize| within as f64 / (logs * values.len()).max(1) as f64;
    let in_same: usize = values.iter().map(|v| v.within_same).sum();
    let in_other: usize = values.iter().map(|v| v.within_other).sum();
    let died = logs.iter().filter(|l| l.fire_died).count();
    Rehearsal {
        repeats_same: same,
        repeats_other: others,
        failed: logs.len() - same - others - died,
        fire_died: died,
        within: share(in_same + in_other, same + others),
        within_same: share(in_same, same),
        within_other: share(in_other, others),
        values,
        probes: plan.iter().map(|p| p.name.clone()).collect(),
    }
}

fn one(setting: &Setting, plan: &[Plan], repeat: usize, seed: u64) -> RehearsedLog {
    let other = repeat % 2 == 1;
    let seed = seed.wrapping_mul(100_003) + repeat as u64;
    let mut rng = fastrand::Rng::with_seed(seed);
    let count = setting.params.len();
    let mut log = RehearsedLog {
        repeat,
        other,
        fire_died: false,
        values: Vec::new(),
    };
    // A fire that goes out leaves no log worth a fit: a person lights it again.
    let truth = (0..20).find_map(|_| {
        let mut z = deviates(&mut rng, count);
        for (z, p) in z.iter_mut().zip(&setting.params) {
            let (lo, hi) = p.bounds();
            *z = z.clamp(lo.max(-2.24), hi.min(2.24));
        }
        let rig = setting.rig_at(&z)?;
        let options = crate::analyses::BurnOptions {
            series: false,
            ..Default::default()
        };
        let s = crate::analyses::burn(&rig, &options, &mut |_| true)
            .ok()?
            .summary;
        (s.fuel_burnt_kg >= CAUGHT * s.fuel_fed_kg).then_some(z)
    });
    let Some(truth) = truth else {
        log.fire_died = true;
        return log;
    };
    let Some(probes) = synthetic(setting, &truth, plan, other, seed ^ 0x5eed) else {
        return log;
    };
    let effort = Effort {
        starts: 1,
        samples: 0,
        seed,
        until_s: None,
    };
    if let Some(f) = search(setting, &probes, effort, &[], &|| ()) {
        log.values = (0..setting.free())
            .map(|i| {
                let deviation = f.covariance[(i, i)].max(0.0).sqrt();
                [truth[i], f.minimum.x[i], deviation]
            })
            .collect();
    }
    log
}
