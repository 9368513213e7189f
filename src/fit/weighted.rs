//! Residuals of log against burn, weighted, with the priors as residuals of their own.

use super::Setting;
use super::least_squares::Model;
use super::noise::Noise;
use super::probe::{Curves, Probe};
use nalgebra::DMatrix;
use rayon::prelude::*;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};

/// Step of a difference, in standard deviations of the prior: wide, as the integration's own error is.
const STEP: f64 = 0.3;
/// The burn jumps where one side's step moves the residuals this many times as far as the other's, and by at least
/// `FELT` deviations.
const JUMP: f64 = 4.0;
const FELT: f64 = 1.0;
/// Each residual of a burn that broke off: no search stays there.
const BROKEN: f64 = 1e3;

type Seen = Option<(Vec<f64>, Option<Arc<Curves>>)>;

pub(crate) struct Weighted<'a> {
    pub setting: &'a Setting,
    pub probes: &'a [Probe],
    noise: &'a [Noise],
    done: &'a (dyn Fn() + Sync),
    /// Values that move any probe at all; learnt from the first derivatives.
    active: Mutex<Option<Vec<bool>>>,
    last: Mutex<Seen>,
    burns: AtomicUsize,
}

impl<'a> Weighted<'a> {
    pub fn new(
        setting: &'a Setting,
        probes: &'a [Probe],
        noise: &'a [Noise],
        active: Option<Vec<bool>>,
        done: &'a (dyn Fn() + Sync),
    ) -> Self {
        Self {
            setting,
            probes,
            noise,
            done,
            active: Mutex::new(active),
            last: Mutex::default(),
            burns: AtomicUsize::new(0),
        }
    }

    pub fn burns(&self) -> usize {
        self.burns.load(Ordering::Relaxed)
    }

    pub fn active(&self) -> Option<Vec<bool>> {
        self.active.lock().ok()?.clone()
    }

    fn params(&self) -> usize {
        self.setting.params.len()
    }

    fn burn(&self, z: &[f64]) -> Option<Curves> {
        let curves = self.setting.curves(&z[..self.params()]);
        self.burns.fetch_add(1, Ordering::Relaxed);
        (self.done)();
        curves
    }

    /// Burn at the values, remembered for the probes' own derivatives.
    fn here(&self, z: &[f64]) -> Option<Arc<Curves>> {
        let key = &z[..self.params()];
        if let Ok(last) = self.last.lock()
            && let Some((seen, curves)) = last.as_ref()
            && seen == key
        {
            return curves.clone();
        }
        let curves = self.burn(z).map(Arc::new);
        if let Ok(mut last) = self.last.lock() {
            *last = Some((key.to_vec(), curves.clone()));
        }
        curves
    }

    /// Residuals of the probes, then the values and unknowns themselves.
    fn of(&self, curves: Option<&Curves>, z: &[f64]) -> Vec<f64> {
        let mut all = Vec::new();
        let mut from = self.params();
        for (p, noise) in self.probes.iter().zip(self.noise) {
            let own = &z[from..from + p.unknowns()];
            from += p.unknowns();
            match curves {
                Some(c) => {
                    let scale = noise.scale();
                    let each = p.of(c, own).into_iter().zip(&p.value).zip(&noise.weight);
                    all.extend(each.map(|((m, v), w)| w.sqrt() * (m - v) / scale));
                }
                None => all.extend(std::iter::repeat_n(BROKEN, p.value.len())),
            }
        }
        all.extend_from_slice(z);
        all
    }

    /// Half the sum of squares for a burn that is known.
    pub fn cost(&self, z: &[f64], curves: &Curves) -> f64 {
        0.5 * self.of(Some(curves), z).iter().map(|r| r * r).sum::<f64>()
    }

    fn unknowns_columns(&self, curves: &Curves, z: &[f64], j: &mut DMatrix<f64>) {
        for i in self.params()..z.len() {
            let at = |by: f64| {
                let mut moved = z.to_vec();
                moved[i] += by;
                self.of(Some(curves), &moved)
            };
            let (a, b) = (at(0.1), at(-0.1));
            for (row, (a, b)) in a.iter().zip(&b).enumerate() {
                j[(row, i)] = (a - b) / 0.2;
            }
        }
    }
}

impl Model for Weighted<'_> {
    fn residuals(&self, z: &[f64]) -> Vec<f64> {
        self.of(self.here(z).as_deref(), z)
    }

    fn jacobian(&self, z: &[f64], at: &[f64]) -> DMatrix<f64> {
        let count = self.params();
        let active = self.active();
        let caught = self.here(z).map(|c| c.caught);
        let wanted = |i: usize| active.as_ref().is_none_or(|a| a[i]);
        let columns: Vec<Option<Vec<f64>>> = (0..count)
            .into_par_iter()
            .map(|i| {
                if !wanted(i) {
                    return None;
                }
                // Away from the bound.
                let (lo, hi) = self.setting.params[i].bounds();
                let step = if z[i] > 0.5 * (lo + hi) { -STEP } else { STEP };
                let mut moved = z.to_vec();
                // A side on which the fire goes out, or catches, is no guide.
                [(step, true), (-step, true), (step, false)]
                    .iter()
                    .find_map(|&(step, alike)| {
                        moved[i] = z[i] + step;
                        let curves = self.burn(&moved)?;
                        if alike && caught.is_some_and(|c| c != curves.caught) {
                            return None;
                        }
                        let there = self.of(Some(&curves), &moved);
                        Some(there.iter().zip(at).map(|(b, a)| (b - a) / step).collect())
                    })
            })
            .collect();
        let mut j = DMatrix::zeros(at.len(), z.len());
        let data = at.len() - z.len();
        let mut moving = vec![false; count];
        for (i, column) in columns.iter().enumerate() {
            if let Some(column) = column {
                moving[i] = column[..data].iter().any(|v| v.abs() > 1e-9);
                for (row, v) in column.iter().enumerate() {
                    j[(row, i)] = *v;
                }
            }
            j[(data + i, i)] = 1.0;
        }
        if active.is_none()
            && let Ok(mut a) = self.active.lock()
        {
            *a = Some(moving);
        }
        if let Some(curves) = self.here(z) {
            self.unknowns_columns(&curves, z, &mut j);
        } else {
            for i in count..z.len() {
                j[(data + i, i)] = 1.0;
            }
        }
        j
    }
}

/// Burns a step above and a step below a value, and how far they lie apart.
pub(crate) type Steps = Vec<Option<Sides>>;
pub(crate) type Sides = (Curves, Curves, f64);

/// Derivatives by differences from both sides at the end of a search, with the burns behind them.
pub(crate) struct Centred {
    pub jacobian: DMatrix<f64>,
    pub residuals: Vec<f64>,
    pub steps: Steps,
    /// Values at which the burn jumps within a step: derivatives are of the flatter side.
    pub jumps: Vec<usize>,
}

pub(crate) fn centred(model: &Weighted, z: &[f64]) -> Option<Centred> {
    let count = model.params();
    let active = model.active();
    let here = model.here(z)?;
    let residuals = model.of(Some(&here), z);
    let data = residuals.len() - z.len();
    let found: Vec<Option<(Sides, bool)>> = (0..count)
        .into_par_iter()
        .map(|i| {
            if active.as_ref().is_some_and(|a| !a[i]) {
                return None;
            }
            [STEP, STEP / 3.0]
                .iter()
                .map(|&step| model.both_sides(z, i, step, &here, &residuals[..data]))
                .reduce(|wide, narrow| match &wide {
                    Some((_, false)) => wide,
                    _ => narrow.or(wide),
                })
                .flatten()
        })
        .collect();
    let jumps = (0..count)
        .filter(|&i| found[i].as_ref().is_some_and(|f| f.1))
        .collect();
    let steps: Steps = found.into_iter().map(|f| f.map(|f| f.0)).collect();
    let mut j = DMatrix::zeros(residuals.len(), z.len());
    for (i, pair) in steps.iter().enumerate() {
        if let Some((a, b, width)) = pair {
            let (a, b) = (model.of(Some(a), z), model.of(Some(b), z));
            for row in 0..data {
                j[(row, i)] = (a[row] - b[row]) / width;
            }
        }
        j[(data + i, i)] = 1.0;
    }
    model.unknowns_columns(&here, z, &mut j);
    Some(Centred {
        jacobian: j,
        residuals,
        steps,
        jumps,
    })
}

impl Weighted<'_> {
    /// Burns on both sides of a value and whether the burn jumps between them; then the flatter side is told.
    ///
    /// Where a fire goes out within a step, the difference is no derivative: it would make the value look known far
    /// better than it is.
    fn both_sides(
        &self,
        z: &[f64],
        i: usize,
        step: f64,
        here: &Curves,
        at: &[f64],
    ) -> Option<(Sides, bool)> {
        let side = |by: f64| {
            let mut moved = z.to_vec();
            moved[i] += by;
            self.burn(&moved).filter(|c| c.caught == here.caught)
        };
        let far = |c: &Curves| {
            let there = self.of(Some(c), z);
            let square: f64 = there.iter().zip(at).map(|(b, a)| (b - a).powi(2)).sum();
            square.sqrt()
        };
        match (side(step), side(-step)) {
            (Some(a), Some(b)) => {
                let (up, down) = (far(&a), far(&b));
                if up.max(down) < FELT || up.max(down) < JUMP * up.min(down) {
                    Some(((a, b, 2.0 * step), false))
                } else if up < down {
                    Some(((a, here.clone(), step), true))
                } else {
                    Some(((here.clone(), b, step), true))
                }
            }
            (Some(a), None) => Some(((a, here.clone(), step), true)),
            (None, Some(b)) => Some(((here.clone(), b, step), true)),
            // Neither side burns as here does: no derivative, and the prior alone holds the value.
            (None, None) => Some(((here.clone(), here.clone(), step), true)),
        }
    }
}
