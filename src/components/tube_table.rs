//! Heat transfer and friction of one kind of tube as tables, filled from the correlations at assembly.

use super::octaves::{from_octaves, step_of};
use crate::correlations::{greater, lesser, whole_and_rest};
use crate::properties::water::Water;

/// Nusselt number and friction of one kind of tube, tabulated at assembly over Reynolds number and
/// temperature: helix correlations cost several powers a cell.
#[derive(Debug, Clone)]
pub struct TubeTable {
    nu: Vec<[f64; Self::N_T]>,
    f_re: Vec<f64>,
}

impl TubeTable {
    /// Of 1 + Re/200: up to Re = 409,400.
    const RE_OCTAVES: usize = 11;
    const RE_PER_OCTAVE: usize = 9;
    const RE0: f64 = 200.0;
    /// Over the water's temperature, which has the Prandtl number: 273 to 473 K.
    const T0_K: f64 = 273.15;
    const STEP_K: f64 = 8.0;
    const N_T: usize = 26;

    /// Fills the tables from the correlations.
    ///
    /// `nu` over Reynolds and Prandtl number, `f_re` the Darcy factor × Re over Reynolds number.
    pub fn new(water: &Water, nu: impl Fn(f64, f64) -> f64, f_re: impl Fn(f64) -> f64) -> Self {
        let pr: [f64; Self::N_T] =
            std::array::from_fn(|j| water.liquid(Self::T0_K + Self::STEP_K * j as f64).pr());
        let rows = 0..=Self::RE_OCTAVES * Self::RE_PER_OCTAVE;
        Self {
            nu: rows
                .clone()
                .map(|i| std::array::from_fn(|j| nu(Self::re(i), pr[j])))
                .collect(),
            f_re: rows.map(|i| f_re(Self::re(i))).collect(),
        }
    }

    /// Friction alone, for a tube whose metal is as warm as its water.
    pub fn of_friction(f_re: impl Fn(f64) -> f64) -> Self {
        let rows = 0..=Self::RE_OCTAVES * Self::RE_PER_OCTAVE;
        Self {
            nu: Vec::new(),
            f_re: rows.map(|i| f_re(Self::re(i))).collect(),
        }
    }

    /// Reynolds number of a row.
    fn re(row: usize) -> f64 {
        Self::RE0 * (from_octaves(row as f64 / Self::RE_PER_OCTAVE as f64) - 1.0)
    }

    /// Place of a Reynolds number on the table's axis: step and position in it.
    #[inline]
    pub fn place(re: f64) -> (usize, f64) {
        const PER_OCTAVE: u64 = TubeTable::RE_PER_OCTAVE as u64;
        const STEPS: usize = TubeTable::RE_OCTAVES * TubeTable::RE_PER_OCTAVE;
        step_of::<PER_OCTAVE, STEPS>(1.0 + re * (1.0 / Self::RE0))
    }

    /// Darcy f × Re at a place.
    #[inline]
    pub fn f_re(&self, (i, u): (usize, f64)) -> f64 {
        let f = &self.f_re[i..i + 2];
        (f[1] - f[0]).mul_add(u, f[0])
    }

    /// Nusselt number at a place and a temperature of the water, of a table that was made with it.
    #[inline]
    pub fn nu(&self, (i, u): (usize, f64), t_k: f64) -> f64 {
        // Just within the last step; what is no number lies there too.
        const LAST: f64 = (TubeTable::N_T - 1) as f64 - 1e-6;
        let z = (t_k - Self::T0_K) * (1.0 / Self::STEP_K);
        let (j, v) = whole_and_rest(greater(lesser(z, LAST), 0.0));
        let rows = &self.nu[i..i + 2];
        let (a, b) = (&rows[0][j..j + 2], &rows[1][j..j + 2]);
        let lo = (a[1] - a[0]).mul_add(v, a[0]);
        let hi = (b[1] - b[0]).mul_add(v, b[0]);
        (hi - lo).mul_add(u, lo)
    }
}
