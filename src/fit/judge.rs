//! What a fit is worth: intervals, what the log cannot tell, what else to measure, bands before and after.

use super::probe::{Curves, Place, Probe, Unknown};
use super::{Effort, Fitted, Setting};
use crate::results::{FitAdvice, FitCurves, FitProbe, FitReport, FitValue};
use crate::units::significant;
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;
use statrs::distribution::{ContinuousCDF, Normal};

/// Eight in ten lie within this many standard deviations.
pub(crate) const EIGHT_IN_TEN: f64 = 1.281_551_565_544_6;
/// A standard deviation that is still this share of the prior's: the log says nothing, or little.
const NOTHING: f64 = 0.93;
const LITTLE: f64 = 0.75;
/// Correlation from which two values are not told apart.
const TOGETHER: f64 = 0.8;
/// A further measurement is worth a word where it takes the share below this part of what it is.
const WORTH: f64 = 0.85;
/// Spacing of a measurement that was not made, and over which its errors hang together.
const ADVISED_S: f64 = 600.0;

/// Standard normal deviates from a seed.
pub(crate) fn deviates(rng: &mut fastrand::Rng, n: usize) -> Vec<f64> {
    // invariant: the standard normal distribution exists
    let normal = Normal::standard();
    (0..n)
        .map(|_| normal.inverse_cdf(rng.f64().clamp(1e-4, 1.0 - 1e-4)))
        .collect()
}

/// Draws of the prior: values, then the probes' unknowns.
pub(crate) fn draws(setting: &Setting, probes: &[Probe], count: usize, seed: u64) -> Vec<Vec<f64>> {
    let unknowns: usize = probes.iter().map(Probe::unknowns).sum();
    (0..count)
        .map(|i| {
            let mut rng = fastrand::Rng::with_seed(seed.wrapping_mul(1_000_003) + i as u64);
            let mut z = deviates(&mut rng, setting.params.len() + unknowns);
            for (z, p) in z.iter_mut().zip(&setting.params) {
                let (lo, hi) = p.bounds();
                *z = z.clamp(lo.max(-2.24), hi.min(2.24));
            }
            z
        })
        .collect()
}

pub(crate) struct Judge<'a> {
    pub setting: &'a Setting,
    /// The whole log, and the part that was fitted.
    pub probes: &'a [Probe],
    pub part: &'a [Probe],
    pub fitted: &'a Fitted,
    pub effort: Effort,
}

type Sampled = (Vec<f64>, Option<Curves>);

impl Judge<'_> {
    pub fn report(&self, before: &[Sampled], done: &(dyn Fn() + Sync)) -> Option<FitReport> {
        let (s, f) = (self.setting, self.fitted);
        let count = s.params.len();
        let values: Vec<FitValue> = (0..count).map(|i| self.value(i)).collect();
        let base = s.curves(&vec![0.0; count])?;
        let here = s.curves(&f.minimum.x[..count])?;
        let after = self.sampled(done);
        let burning = here.caught;
        let mut said = Vec::new();
        if burning && !base.caught {
            said.push("with the log's feeds the scenario's fire goes out, the log's did not: the fit first of all keeps it alive, and its values are doubtful for it. Look at times and weights of the first loads, kindling and stick thickness".into());
        }
        let died = |s: &[Sampled]| {
            s.iter()
                .filter(|(_, c)| c.as_ref().is_some_and(|c| !c.caught))
                .count()
        };
        if burning && died(before) + died(&after) > 0 {
            said.push(format!(
                "left out of the bands, because the fire goes out in them: {} of {} samples before the fit, {} of {} after",
                died(before), before.len(), died(&after), after.len()
            ));
        }
        let probes = self.judged(&base, &here, before, &after);
        let free = s.free();
        let correlation = (0..free)
            .map(|i| (0..free).map(|k| self.correlation(i, k)).collect())
            .collect();
        let rest: Vec<(f64, usize)> = probes
            .iter()
            .filter_map(|p| Some((p.within_rest?, p.rest_readings)))
            .collect();
        let all: usize = rest.iter().map(|r| r.1).sum();
        Some(FitReport {
            title: s.rig.title.clone(),
            log: String::new(),
            cannot_tell: self.cannot_tell(here.caught),
            advice: self.advice(&here),
            correlation,
            said,
            until_s: self.effort.until_s,
            end_s: s.drive.end_s,
            rest_within: (all > 0)
                .then(|| rest.iter().map(|r| r.0 * r.1 as f64).sum::<f64>() / all as f64),
            starts: self.effort.starts,
            starts_agreeing: f.starts_agreeing,
            settled: f.minimum.settled,
            burns: f.burns + before.len() + after.len(),
            seed: self.effort.seed,
            sets: self.sets(),
            values,
            probes,
        })
    }

    fn deviation(&self, i: usize) -> f64 {
        self.fitted.covariance[(i, i)].max(0.0).sqrt()
    }

    fn correlation(&self, i: usize, k: usize) -> f64 {
        self.fitted.covariance[(i, k)] / (self.deviation(i) * self.deviation(k)).max(1e-12)
    }

    fn value(&self, i: usize) -> FitValue {
        let (p, z, s) = (
            &self.setting.params[i],
            self.fitted.minimum.x[i],
            self.deviation(i),
        );
        FitValue {
            name: p.name.clone(),
            path: p.path.clone(),
            unit: p.unit.clone(),
            free: p.free,
            before: p.median,
            prior_low: p.at(-EIGHT_IN_TEN),
            prior_high: p.at(EIGHT_IN_TEN),
            value: p.at(z),
            low: p.at(z - EIGHT_IN_TEN * s),
            high: p.at(z + EIGHT_IN_TEN * s),
            prior_share: s,
            noise_share: self.fitted.by_noise[i].max(0.0).sqrt(),
            deviate: z,
        }
    }

    /// The scenario's values after the fit: all that moved.
    fn sets(&self) -> Vec<(String, String)> {
        let each = self.setting.params.iter().zip(&self.fitted.minimum.x);
        each.filter(|(p, z)| p.free || z.abs() > 0.02)
            .map(|(p, &z)| (p.path.clone(), p.text(z)))
            .collect()
    }

    /// Draws of the posterior with their burns.
    fn sampled(&self, done: &(dyn Fn() + Sync)) -> Vec<Sampled> {
        if self.effort.samples == 0 {
            return Vec::new();
        }
        let Some(root) = self.fitted.covariance.clone().cholesky() else {
            return Vec::new();
        };
        let root: DMatrix<f64> = root.l();
        let x = DVector::from_column_slice(&self.fitted.minimum.x);
        let bounds = self.setting.bounds(self.part);
        let count = self.setting.params.len();
        (0..self.effort.samples)
            .into_par_iter()
            .map(|i| {
                let seed = self.effort.seed.wrapping_mul(7_000_003) + i as u64;
                let mut rng = fastrand::Rng::with_seed(seed);
                let xi = DVector::from_vec(deviates(&mut rng, x.len()));
                let mut z: Vec<f64> = (&x + &root * xi).iter().copied().collect();
                for (z, b) in z.iter_mut().zip(&bounds) {
                    if let Some((lo, hi)) = b {
                        *z = z.clamp(*lo, *hi);
                    }
                }
                let curves = self.setting.curves(&z[..count]);
                done();
                (z, curves)
            })
            .collect()
    }

    fn judged(
        &self,
        base: &Curves,
        here: &Curves,
        before: &[Sampled],
        after: &[Sampled],
    ) -> Vec<FitProbe> {
        let mut from = self.setting.params.len();
        let mut found = Vec::new();
        for (part, noise) in self.part.iter().zip(&self.fitted.noise) {
            let own = from..from + part.unknowns();
            from = own.end;
            let Some(p) = self.probes.iter().find(|p| p.name == part.name) else {
                continue;
            };
            let z = &self.fitted.minimum.x[own.clone()];
            let curve_before = p.of(base, &vec![0.0; own.len()]);
            let curve_after = p.of(here, z);
            let band = |samples: &[Sampled], error: f64, salt: u64| {
                band(p, samples, own.clone(), (error, here.caught), salt)
            };
            let (before_low, before_high) = band(before, p.usual, 11);
            let (after_low, after_high) = band(after, noise.error, 12);
            let n = part.value.len();
            let within = |low: &[f64], high: &[f64], range: std::ops::Range<usize>| {
                let of = range.len().max(1) as f64;
                let inside = range.filter(|&i| {
                    low.get(i).is_some_and(|l| *l <= p.value[i])
                        && high.get(i).is_some_and(|h| p.value[i] <= *h)
                });
                inside.count() as f64 / of
            };
            let all = p.value.len();
            let spread = |model: &[f64]| {
                let sum: f64 = (0..n).map(|i| (p.value[i] - model[i]).powi(2)).sum();
                (sum / n.max(1) as f64).sqrt()
            };
            let unknowns: Vec<(String, f64, f64, f64)> = part
                .place
                .unknowns()
                .iter()
                .zip(own.clone())
                .map(|(u, i)| {
                    let (z, s) = (self.fitted.minimum.x[i], self.deviation(i));
                    let at = |z: f64| u.at(z);
                    (
                        u.words().to_owned(),
                        at(z),
                        at(z - EIGHT_IN_TEN * s),
                        at(z + EIGHT_IN_TEN * s),
                    )
                })
                .collect();
            found.push(FitProbe {
                name: p.name.clone(),
                place: p.place.words().to_owned(),
                unit: match p.place {
                    Place::O2 | Place::Co2 => "1",
                    Place::Flow => "m3/s",
                    _ => "K",
                }
                .to_owned(),
                readings: p.readings,
                spans: n,
                effective_readings: noise.effective,
                correlation_s: noise.correlation_s,
                spread_before: spread(&curve_before),
                spread_after: spread(&curve_after),
                error: noise.error,
                unknowns,
                radiation: self.radiation(p, here, own.clone()),
                within_fitted: within(&after_low, &after_high, 0..n),
                within_rest: (all > n).then(|| within(&after_low, &after_high, n..all)),
                rest_readings: all - n,
                within_before: within(&before_low, &before_high, 0..all),
                curves: FitCurves {
                    time_s: p.time_s.clone(),
                    read: p.value.clone(),
                    before: curve_before,
                    after: curve_after,
                    before_low,
                    before_high,
                    after_low,
                    after_high,
                    temperature: p.place.is_temperature(),
                },
            });
        }
        found
    }

    /// Reading less truth at the hottest gas, by radiation alone.
    fn radiation(&self, p: &Probe, here: &Curves, own: std::ops::Range<usize>) -> Option<[f64; 3]> {
        let at = p
            .place
            .unknowns()
            .iter()
            .position(|u| *u == Unknown::Radiation)?;
        let truth = here.at(p.place)?;
        let hottest = (0..truth.len()).max_by(|a, b| truth[*a].total_cmp(&truth[*b]))?;
        let i = own.start + at;
        let (z, s) = (self.fitted.minimum.x[i], self.deviation(i));
        let off = |z: f64| {
            let x = Unknown::Radiation.at(z);
            here.radiation_error(p.place, hottest, x)
        };
        Some([off(z), off(z + EIGHT_IN_TEN * s), off(z - EIGHT_IN_TEN * s)])
    }

    fn cannot_tell(&self, caught: bool) -> Vec<String> {
        let s = self.setting;
        let free = s.free();
        let mut words = Vec::new();
        if !caught {
            words.push("anything of the fire: with the log's feeds the simulated fire goes out, fitted or not. Unless the log's did too, no figure here is of use; look at times and weights of the first loads, kindling and stick thickness".to_owned());
        }
        for i in 0..free {
            let name = &s.params[i].name;
            words.extend(self.disagreement(i));
            if self.fitted.jumps.contains(&i) {
                words.push(format!(
                    "close to the answer a small change of {name} changes the whole burn (a fire that goes out, or catches): its interval is of the calmer side and rough"
                ));
            }
            match self.deviation(i) {
                _ if self.fitted.steps[i].is_none() => words.push(format!(
                    "{name} moves none of these probes in this burn: the log says nothing about it"
                )),
                d if d > NOTHING => words.push(format!(
                    "this log says nothing about {name} beyond the prior ({:.0} % of its spread is left)",
                    100.0 * d
                )),
                d if d > LITTLE => words.push(format!(
                    "this log says little about {name} ({:.0} % of the prior's spread is left)",
                    100.0 * d
                )),
                _ => {}
            }
        }
        // Pairs within those asked for, then with what is carried along.
        let count = s.params.len();
        for i in 0..free {
            for k in i + 1..count {
                let r = self.correlation(i, k);
                // Two values that the log leaves alone cannot be correlated by it.
                if r.abs() < TOGETHER && (k >= free || r.abs() < TOGETHER - 0.1) {
                    continue;
                }
                let how = if r > 0.0 {
                    "a larger one with a larger other does as well"
                } else {
                    "a larger one with a smaller other does as well"
                };
                words.push(format!(
                    "{} and {} cannot be told apart from this log (correlation {r:.2}): {how}",
                    s.params[i].name, s.params[k].name
                ));
            }
        }
        for i in 0..free {
            // What leans most on something that is not asked for.
            let lean = (free..count)
                .map(|k| (k, self.correlation(i, k)))
                .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
            if let Some((k, r)) = lean
                && (0.45..TOGETHER).contains(&r.abs())
            {
                words.push(format!(
                    "{} leans on {}, which is only known from its prior (correlation {r:.2})",
                    s.params[i].name, s.params[k].name
                ));
            }
        }
        words
    }

    /// Parts of the log that ask for another value, where they widen the interval more than noise does.
    fn disagreement(&self, i: usize) -> Option<String> {
        let f = self.fitted;
        if f.form.covariance[(i, i)] < f.by_noise[i] {
            return None;
        }
        let part = f
            .form
            .parts
            .iter()
            .max_by(|a, b| a.moves[i].abs().total_cmp(&b.moves[i].abs()))?;
        let p = &self.setting.params[i];
        let z = f.minimum.x[i];
        let (lo, hi) = p.bounds();
        let text = |z: f64| format!("{} {}", significant(p.at(z), 3), p.unit);
        Some(format!(
            "the parts of the log disagree about {}: without {} it would be about {} instead of {}; the model is not quite this rig, and the interval allows for it",
            p.name,
            part.what,
            text((z + part.moves[i]).clamp(lo, hi)).trim_end(),
            text(z).trim_end()
        ))
    }

    /// What each measurement that was not made would leave of the widest values.
    fn advice(&self, here: &Curves) -> Vec<FitAdvice> {
        let s = self.setting;
        let (free, count) = (s.free(), s.params.len());
        let Some(information) = self
            .fitted
            .covariance
            .clone()
            .cholesky()
            .map(|c| c.inverse())
        else {
            return Vec::new();
        };
        let mut found: Vec<FitAdvice> = Vec::new();
        let has_tank = self.part.iter().any(|p| p.place.is_tank());
        let end_s = self.effort.until_s.unwrap_or(s.drive.end_s);
        for place in Place::ALL {
            let told = self.part.iter().any(|p| p.place == place)
                || (place == Place::TankMean && has_tank)
                || here.at(place).is_none()
                // O2 and CO2 tell the same.
                || place == Place::Co2;
            if told {
                continue;
            }
            let times: Vec<f64> = (1..)
                .map(|i| f64::from(i) * ADVISED_S)
                .take_while(|t| *t <= end_s)
                .collect();
            let readings: Vec<(f64, f64)> = {
                let at =
                    |t| super::probe::interpolated(&here.time_s, here.at(place).unwrap_or(&[]), t);
                times.iter().map(|t| (*t, at(*t))).collect()
            };
            let air_k = s.rig.site.air_temperature_k.at(0.0);
            let Some(probe) = Probe::gather("", place, &readings, air_k, None) else {
                continue;
            };
            let unknowns = probe.unknowns();
            let width = information.nrows() + unknowns;
            let none = vec![0.0; unknowns];
            let mut j = DMatrix::zeros(probe.value.len(), width);
            for i in 0..count {
                if let Some((a, b, width)) = &self.fitted.steps[i] {
                    let (a, b) = (probe.of(a, &none), probe.of(b, &none));
                    for row in 0..a.len() {
                        j[(row, i)] = (a[row] - b[row]) / (width * probe.usual);
                    }
                }
            }
            for u in 0..unknowns {
                let at = |by: f64| {
                    let mut z = none.clone();
                    z[u] = by;
                    probe.of(here, &z)
                };
                let (a, b) = (at(0.1), at(-0.1));
                for row in 0..a.len() {
                    j[(row, information.nrows() + u)] = (a[row] - b[row]) / (0.2 * probe.usual);
                }
            }
            let mut h = DMatrix::identity(width, width);
            h.view_mut((0, 0), information.shape())
                .copy_from(&information);
            h += j.transpose() * &j;
            let Some(then) = h.cholesky().map(|c| c.inverse()) else {
                continue;
            };
            for i in 0..free {
                let (now, then) = (self.deviation(i), then[(i, i)].max(0.0).sqrt());
                if now > 0.4 && then < WORTH * now {
                    found.push(FitAdvice {
                        measure: place.words().to_owned(),
                        value: s.params[i].name.clone(),
                        share_now: now,
                        share_then: then,
                    });
                }
            }
        }
        // The best measurement for each value.
        found.sort_by(|a, b| (a.share_then / a.share_now).total_cmp(&(b.share_then / b.share_now)));
        let mut seen: Vec<String> = Vec::new();
        found.retain(|a| {
            let new = !seen.contains(&a.value);
            seen.push(a.value.clone());
            new
        });
        found.truncate(4);
        found
    }
}

/// Tenth and nine tenths of a reading over samples, its own error in it.
fn band(
    p: &Probe,
    samples: &[Sampled],
    own: std::ops::Range<usize>,
    (error, burning): (f64, bool),
    salt: u64,
) -> (Vec<f64>, Vec<f64>) {
    let mut rng = fastrand::Rng::with_seed(salt);
    let all: Vec<Vec<f64>> = samples
        .iter()
        // What the log shows burning has not gone out.
        .filter_map(|(z, c)| Some((z, c.as_ref().filter(|c| c.caught || !burning)?)))
        .map(|(z, c)| p.of(c, &z[own.clone()]))
        .collect();
    if all.len() < 8 {
        return (Vec::new(), Vec::new());
    }
    // Several errors a sample: the tenths are smoother for it.
    let errors: Vec<Vec<f64>> = all.iter().map(|_| deviates(&mut rng, 8)).collect();
    (0..p.value.len())
        .map(|i| {
            let mut now: Vec<f64> = all
                .iter()
                .zip(&errors)
                .flat_map(|(c, e)| e.iter().map(|e| c[i] + error * e))
                .collect();
            now.sort_by(f64::total_cmp);
            let at = |q: f64| now[((now.len() - 1) as f64 * q).round() as usize];
            (at(0.1), at(0.9))
        })
        .unzip()
}
