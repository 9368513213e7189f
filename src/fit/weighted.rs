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
                [step, -step].iter().find_map(|&step| {
                    moved[i] = z[i] + step;
                    let curves = self.burn(&moved)?;
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
pub(crate) type Steps = Vec<Option<(Curves, Curves, f64)>>;

/// Derivatives by differences from both sides at the end of a search, with the burns behind them.
pub(crate) fn centred(model: &Weighted, z: &[f64]) -> Option<(DMatrix<f64>, Steps)> {
    let count = model.params();
    let active = model.active();
    let here = model.here(z)?;
    let steps: Steps = (0..count)
        .into_par_iter()
        .map(|i| {
            if active.as_ref().is_some_and(|a| !a[i]) {
                return None;
            }
            let at = |by: f64| {
                let mut moved = z.to_vec();
                moved[i] += by;
                model.burn(&moved)
            };
            // Where the fire dies on one side, the other tells.
            match (at(STEP), at(-STEP)) {
                (Some(a), Some(b)) => Some((a, b, 2.0 * STEP)),
                (Some(a), None) => Some((a, (*here).clone(), STEP)),
                (None, Some(b)) => Some(((*here).clone(), b, STEP)),
                _ => None,
            }
        })
        .collect();
    let rows = model.of(Some(&here), z).len();
    let data = rows - z.len();
    let mut j = DMatrix::zeros(rows, z.len());
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
    Some((j, steps))
}
