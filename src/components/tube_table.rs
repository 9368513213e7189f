//! Heat transfer and friction of one kind of tube as tables, filled from the correlations at assembly.

use super::octaves::{from_octaves, octaves};

/// Nusselt number and friction of one kind of tube, tabulated at assembly over Reynolds and Prandtl number:
/// helix correlations cost several powers a cell, a lookup one logarithm.
#[derive(Debug, Clone)]
pub struct TubeTable {
    nu: Vec<[f64; Self::N_PR]>,
    f_re: Vec<f64>,
}

impl TubeTable {
    /// Of 1 + Re/200: up to Re = 409,400.
    const RE_OCTAVES: usize = 11;
    const RE_PER_OCTAVE: usize = 9;
    const RE0: f64 = 200.0;
    /// Of Pr/0.875: 0.875 to 14.
    const PR_OCTAVES: usize = 4;
    const PR_PER_OCTAVE: usize = 4;
    const N_PR: usize = Self::PR_OCTAVES * Self::PR_PER_OCTAVE + 1;
    const PR0: f64 = 0.875;

    /// Fills the tables from the correlations.
    pub fn new(nu: impl Fn(f64, f64) -> f64, f_re: impl Fn(f64) -> f64) -> Self {
        let re = |i: usize| Self::RE0 * (from_octaves(i as f64 / Self::RE_PER_OCTAVE as f64) - 1.0);
        let pr = |j: usize| Self::PR0 * from_octaves(j as f64 / Self::PR_PER_OCTAVE as f64);
        let rows = 0..=Self::RE_OCTAVES * Self::RE_PER_OCTAVE;
        Self {
            nu: rows
                .clone()
                .map(|i| std::array::from_fn(|j| nu(re(i), pr(j))))
                .collect(),
            f_re: rows.map(|i| f_re(re(i))).collect(),
        }
    }

    /// Place of a Reynolds number on the table's axis.
    #[inline]
    pub fn place(re: f64) -> f64 {
        const LAST: f64 = (TubeTable::RE_OCTAVES * TubeTable::RE_PER_OCTAVE) as f64 - 1e-9;
        (octaves(1.0 + re * (1.0 / Self::RE0)) * Self::RE_PER_OCTAVE as f64).clamp(0.0, LAST)
    }

    /// Darcy f × Re at a place.
    #[inline]
    pub fn f_re(&self, place: f64) -> f64 {
        let i = place as usize;
        self.f_re[i] + (self.f_re[i + 1] - self.f_re[i]) * (place - i as f64)
    }

    /// Nusselt number at a place and a Prandtl number.
    #[inline]
    pub fn nu(&self, place: f64, pr: f64) -> f64 {
        const LAST: f64 = (TubeTable::PR_OCTAVES * TubeTable::PR_PER_OCTAVE) as f64 - 1e-9;
        let z = (octaves(pr * (1.0 / Self::PR0)) * Self::PR_PER_OCTAVE as f64).clamp(0.0, LAST);
        let (i, j) = (place as usize, z as usize);
        let (u, v) = (place - i as f64, z - j as f64);
        let (a, b) = (&self.nu[i], &self.nu[i + 1]);
        let lo = a[j] + (a[j + 1] - a[j]) * v;
        let hi = b[j] + (b[j + 1] - b[j]) * v;
        lo + (hi - lo) * u
    }
}
