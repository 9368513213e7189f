//! A scenario learns from a log: the values that make the simulated burn look like the measured one, how well the log
//! fixes them, and what it cannot tell.
//!
//! The estimate is the largest of the posterior with log-normal priors: each value counts in standard deviations z of its
//! prior, and ½ Σ z² joins the squares of the residuals. Closures that nobody asked for are not known either: they are
//! carried along within their priors, and so widen the intervals. `docs/fit.md` is for users.

mod drive;
mod form;
mod judge;
pub mod least_squares;
mod noise;
mod parameter;
mod probe;
mod rehearse;
mod weighted;

pub use drive::{Burnt, Drive, burnt};
pub use parameter::Parameter;
pub use probe::{Curves, Place, Probe, Unknown};
pub use rehearse::{Plan, plan, rehearse, synthetic};

use crate::analyses::study::Base;
use crate::components::spec::{FeedEvent, Rig};
use crate::results::FitReport;
use least_squares::{Bound, Limits, Minimum, minimise};
use nalgebra::DMatrix;
use noise::Noise;
use rayon::prelude::*;
use weighted::{Centred, Weighted, centred};

/// Evaluations in one search and when it has settled: burns are noisy to about a thousandth.
const LIMITS: Limits = Limits {
    tolerance: 2e-3,
    patience: 1,
};
/// Starts within this many standard deviations, in every free value, came to the same place.
const SAME_PLACE: f64 = 0.7;

/// What is fitted, and by which burn.
#[derive(Debug, Clone)]
pub struct Setting {
    pub base: Base,
    pub rig: Rig,
    /// Those asked for first.
    pub params: Vec<Parameter>,
    pub drive: Drive,
}

impl Setting {
    /// The rig with each value `z` standard deviations of its prior from the scenario's.
    pub fn rig_at(&self, z: &[f64]) -> Option<Rig> {
        let each = || self.params.iter().zip(z);
        let sets: Vec<(String, String)> = each().flat_map(|(p, &z)| p.overrides(z)).collect();
        let mut rig = if sets.is_empty() {
            self.rig.clone()
        } else {
            self.base.rig(&sets).ok()?
        };
        for (p, &z) in each() {
            p.put(&mut rig, z);
        }
        self.drive.apply(&mut rig);
        Some(rig)
    }

    /// The burn as probes could see it.
    pub fn curves(&self, z: &[f64]) -> Option<Curves> {
        Curves::burn(&self.rig_at(z)?)
    }

    pub fn free(&self) -> usize {
        self.params.iter().filter(|p| p.free).count()
    }

    fn bounds(&self, probes: &[Probe]) -> Vec<Bound> {
        let unknowns: usize = probes.iter().map(Probe::unknowns).sum();
        let params = self.params.iter().map(|p| Some(p.bounds()));
        params
            .chain(std::iter::repeat_n(Some((-4.0, 4.0)), unknowns))
            .collect()
    }
}

/// A kindling fire takes a load at the latest then.
const KINDLING_LASTS_S: f64 = 240.0;

/// Where the scenario's fire goes out before the log's first load, that load goes on while the kindling burns: half of it,
/// else all. What was done in words; `None` where nothing was, or nothing helps.
pub fn keep_alight(setting: &mut Setting) -> Option<String> {
    let here = vec![0.0; setting.params.len()];
    let feeds = setting.drive.feeds.clone()?;
    let first = feeds.iter().position(|f| f.at_s > KINDLING_LASTS_S)?;
    let goes_out = |s: &Setting| s.curves(&here).is_none_or(|c| !c.caught);
    if first > 0 || !goes_out(setting) {
        return None;
    }
    let (at_s, mass_kg) = (feeds[0].at_s, feeds[0].mass_kg);
    for share in [0.5, 1.0] {
        let mut moved = feeds.clone();
        moved[0].mass_kg *= 1.0 - share;
        moved.retain(|f| f.mass_kg > 0.0);
        let early = FeedEvent {
            at_s: KINDLING_LASTS_S,
            mass_kg: share * mass_kg,
            thickness_m: None,
        };
        moved.insert(0, early);
        let mut tried = setting.clone();
        tried.drive.feeds = Some(moved);
        if !goes_out(&tried) {
            *setting = tried;
            return Some(format!(
                "the kindling alone would burn out before the first load at {:.0} min: {:.0} % of that load is taken as put on at {:.0} min",
                at_s / 60.0,
                100.0 * share,
                KINDLING_LASTS_S / 60.0
            ));
        }
    }
    None
}

/// How much work a fit may be.
#[derive(Debug, Clone, Copy)]
pub struct Effort {
    pub starts: usize,
    /// Samples of each band; zero for none.
    pub samples: usize,
    pub seed: u64,
    /// Readings after it are predicted, not fitted.
    pub until_s: Option<f64>,
}

/// A fit before it is put into words.
pub(crate) struct Fitted {
    pub minimum: Minimum,
    pub noise: Vec<Noise>,
    pub covariance: DMatrix<f64>,
    /// Variance of each value that noise alone leaves.
    pub by_noise: Vec<f64>,
    pub form: form::Form,
    /// Values whose burns jump within a step.
    pub jumps: Vec<usize>,
    /// Burns one step of each value to either side, for what a further probe would tell.
    pub steps: weighted::Steps,
    pub starts_agreeing: usize,
    pub burns: usize,
}

/// Fits and judges; `done` hears of each burn.
pub fn fit(
    setting: &Setting,
    probes: &[Probe],
    effort: Effort,
    done: &(dyn Fn() + Sync),
) -> Option<FitReport> {
    let part: Vec<Probe> = match effort.until_s {
        Some(end) => probes.iter().filter_map(|p| p.until(end)).collect(),
        None => probes.to_vec(),
    };
    let draws = judge::draws(setting, &part, effort.samples.max(8), effort.seed);
    let count = setting.params.len();
    let before: Vec<(Vec<f64>, Option<Curves>)> = draws
        .into_par_iter()
        .map(|z| {
            let curves = setting.curves(&z[..count]);
            done();
            (z, curves)
        })
        .collect();
    let fitted = search(setting, &part, effort, &before, done)?;
    let judged = judge::Judge {
        setting,
        probes,
        part: &part,
        fitted: &fitted,
        effort,
    };
    judged.report(&before, done)
}

/// The least squares alone.
pub(crate) fn search(
    setting: &Setting,
    part: &[Probe],
    effort: Effort,
    before: &[(Vec<f64>, Option<Curves>)],
    done: &(dyn Fn() + Sync),
) -> Option<Fitted> {
    let first: Vec<Noise> = part.iter().map(Noise::usual).collect();
    let model = Weighted::new(setting, part, &first, None, done);
    let width = setting.params.len() + part.iter().map(Probe::unknowns).sum::<usize>();
    // The scenario as it is, and the samples of the prior that come nearest.
    let mut starts = vec![vec![0.0; width]];
    let mut near: Vec<(f64, &Vec<f64>)> = before
        .iter()
        .filter_map(|(z, c)| Some((model.cost(z, c.as_ref()?), z)))
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    starts.extend(
        near.iter()
            .take(effort.starts.saturating_sub(1))
            .map(|n| n.1.clone()),
    );
    let bounds = setting.bounds(part);
    let mut ends: Vec<Minimum> = starts
        .iter()
        .map(|s| minimise(&model, s, &bounds, LIMITS))
        .collect();
    ends.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let free = setting.free();
    let best = ends.first()?.clone();
    let near = |m: &&Minimum| (0..free).all(|i| (m.x[i] - best.x[i]).abs() < SAME_PLACE);
    let starts_agreeing = ends.iter().filter(near).count();
    let mut minimum = best;
    let mut noise = first.clone();
    let mut burns = model.burns();
    let active = model.active();
    for _ in 0..2 {
        let curves = setting.curves(&minimum.x[..setting.params.len()])?;
        noise = noise::learn(part, &curves, &minimum.x[setting.params.len()..], &noise);
        let model = Weighted::new(setting, part, &noise, active.clone(), done);
        minimum = minimise(&model, &minimum.x, &bounds, LIMITS);
        burns += model.burns();
    }
    let model = Weighted::new(setting, part, &noise, active, done);
    let Centred {
        jacobian,
        residuals,
        steps,
        jumps,
    } = centred(&model, &minimum.x)?;
    burns += model.burns();
    let noise_alone = least_squares::covariance(&jacobian)?;
    let form = form::form(part, &jacobian, &residuals)?;
    Some(Fitted {
        covariance: form::together(&noise_alone, &form.covariance),
        by_noise: noise_alone.diagonal().iter().copied().collect(),
        form,
        jumps,
        minimum,
        noise,
        steps,
        starts_agreeing,
        burns,
    })
}
