//! One mixture polynomial per composition: enthalpy, heat capacity and transport in a few multiplications.

use super::species::{JOIN_K, R_J_MOLK};
use super::{Composition, SPECIES};
use std::sync::LazyLock;

/// Range of the polynomials, K. Outside, cp, viscosity and conductivity stay flat and h goes straight.
pub const RANGE_K: (f64, f64) = (200.0, 2500.0);

/// (M / (kg/mol))^0.2 per species, the weights of the viscosity rule; powers cannot be formed in a constant.
///
/// Mixing rule: property = sum(x M^p prop) / sum(x M^p), x mole fractions. The form is that of Herning & Zipperer
/// 1936 (p = 1/2). Here p = 0.2 for viscosity and 0.6 for conductivity: fitted so that the rule stays within 1.1 %
/// of Wilke's rule (1.6 % at 250 K) and within 1.5 % of the mean of the arithmetic and harmonic averages, for wood flue
/// gas at air ratio 1 to 100, 0 to 50 % moisture, 300 to 2400 K.
const M_POW_MU: [f64; 6] = [
    0.489187132455970,
    0.502371006428838,
    0.535436903069278,
    0.447844096079173,
    0.525174168778048,
    0.489173161867709,
];
/// (M / (kg/mol))^0.6, the weights of the conductivity rule.
const M_POW_K: [f64; 6] = [
    0.117064462278787,
    0.126786700657876,
    0.153505839195699,
    0.089821553041941,
    0.144847188590884,
    0.117054432910140,
];

// Layout of the summed row: one flat array, so that summing the species is a single straight loop.
const H_LOW: usize = 0;
const H_HIGH: usize = 6;
const MU: usize = 12;
const K: usize = 17;
/// 1/M, and the divisors of the two mixing rules.
const MOLES: usize = 22;
const W_MU: usize = 23;
const W_K: usize = 24;
/// Row length, padded to an even number.
const LEN: usize = 26;

/// What one kilogram of each species adds to the row.
static ROWS: [[f64; LEN]; 6] = [row(0), row(1), row(2), row(3), row(4), row(5)];

const fn row(i: usize) -> [f64; LEN] {
    let s = SPECIES[i];
    let (low, high) = s.sensible();
    let moles = 1.0 / s.molar_mass_kg_mol;
    let (w_mu, w_k) = (moles * M_POW_MU[i], moles * M_POW_K[i]);
    let mut r = [0.0; LEN];
    let mut j = 0;
    while j < 6 {
        r[H_LOW + j] = low[j];
        r[H_HIGH + j] = high[j];
        if j < 5 {
            r[MU + j] = w_mu * s.mu_fit[j];
            r[K + j] = w_k * s.k_fit[j];
        }
        j += 1;
    }
    r[MOLES] = moles;
    r[W_MU] = w_mu;
    r[W_K] = w_k;
    r
}

/// Mixture of fixed composition, made from a [`Composition`] once and then asked at many temperatures.
#[derive(Debug, Clone, Copy)]
pub struct GasMix {
    row: [f64; LEN],
    r_j_kgk: f64,
}

impl GasMix {
    /// Sums the species; the mass fractions should add to 1.
    #[inline(always)]
    pub fn new(composition: &Composition) -> Self {
        let y = composition.array();
        let mut row = [0.0; LEN];
        for (y, r) in y.iter().zip(&ROWS) {
            for (sum, term) in row.iter_mut().zip(r) {
                *sum = y.mul_add(*term, *sum);
            }
        }
        let (per_mu, per_k) = (1.0 / row[W_MU], 1.0 / row[W_K]);
        for i in 0..5 {
            row[MU + i] *= per_mu;
            row[K + i] *= per_k;
        }
        let r_j_kgk = R_J_MOLK * row[MOLES];
        Self { row, r_j_kgk }
    }

    /// Dry air, built once.
    pub fn dry_air() -> &'static Self {
        static AIR: LazyLock<GasMix> = LazyLock::new(|| GasMix::new(&Composition::dry_air()));
        &AIR
    }

    /// Sensible enthalpy above 298.15 K (water as vapour) and heat capacity, in one evaluation.
    #[inline]
    pub fn h_cp(&self, t_k: f64) -> (f64, f64) {
        let [h, cp, _] = self.h_cp_slope(t_k);
        (h, cp)
    }

    /// [`Self::h_cp`] and the slope of the heat capacity, J/kgK2.
    #[inline]
    pub fn h_cp_slope(&self, t_k: f64) -> [f64; 3] {
        let t = t_k.clamp(RANGE_K.0, RANGE_K.1);
        let from = if t < JOIN_K { H_LOW } else { H_HIGH };
        let c = &self.row[from..from + 6];
        // Terms in pairs: half as long to wait as for one after the other.
        let t2 = t * t;
        let h = t2.mul_add(
            t2.mul_add(t.mul_add(c[5], c[4]), t.mul_add(c[3], c[2])),
            t.mul_add(c[1], c[0]),
        );
        let cp = t2.mul_add(
            t2.mul_add(5.0 * c[5], t.mul_add(4.0 * c[4], 3.0 * c[3])),
            t.mul_add(2.0 * c[2], c[1]),
        );
        let slope = t2.mul_add(
            t.mul_add(20.0 * c[5], 12.0 * c[4]),
            t.mul_add(6.0 * c[3], 2.0 * c[2]),
        );
        [cp.mul_add(t_k - t, h), cp, slope]
    }

    /// Sensible enthalpy above 298.15 K, water as vapour.
    #[inline]
    pub fn h_j_kg(&self, t_k: f64) -> f64 {
        self.h_cp(t_k).0
    }

    /// Heat capacity at constant pressure; the exact slope of [`Self::h_j_kg`].
    #[inline]
    pub fn cp_j_kgk(&self, t_k: f64) -> f64 {
        self.h_cp(t_k).1
    }

    /// Temperature at which the sensible enthalpy is `h_j_kg`: Newton from `guess_k`, to 1e-9 K.
    ///
    /// Always converges: cp is positive and h convex but for the slightest bend; a bad guess only costs steps.
    #[inline]
    pub fn t_from_h_k(&self, h_j_kg: f64, guess_k: f64) -> f64 {
        let mut t_k = guess_k;
        for _ in 0..50 {
            let (h, cp) = self.h_cp(t_k);
            let step = (h_j_kg - h) / cp;
            t_k += step;
            // Newton squares the error: below 1e-4 K the next step would be under 1e-11 K.
            if step.abs() < 1e-4 {
                break;
            }
        }
        t_k
    }

    /// Specific gas constant.
    #[inline]
    pub fn r_j_kgk(&self) -> f64 {
        self.r_j_kgk
    }

    /// Ideal-gas density.
    #[inline]
    pub fn rho_kg_m3(&self, t_k: f64, p_pa: f64) -> f64 {
        p_pa / (self.r_j_kgk * t_k)
    }

    /// Dynamic viscosity.
    #[inline]
    pub fn mu_pa_s(&self, t_k: f64) -> f64 {
        poly(&self.row[MU..MU + 5], root(t_k))
    }

    /// Thermal conductivity.
    #[inline]
    pub fn k_w_mk(&self, t_k: f64) -> f64 {
        poly(&self.row[K..K + 5], root(t_k))
    }

    /// Viscosity and conductivity with one square root.
    #[inline]
    pub fn mu_k(&self, t_k: f64) -> (f64, f64) {
        let u = root(t_k);
        (poly(&self.row[MU..MU + 5], u), poly(&self.row[K..K + 5], u))
    }

    /// Prandtl number.
    #[inline]
    pub fn pr(&self, t_k: f64) -> f64 {
        let (mu, k) = self.mu_k(t_k);
        mu * self.cp_j_kgk(t_k) / k
    }
}

/// Variable of the transport fits.
#[inline]
fn root(t_k: f64) -> f64 {
    (t_k.clamp(RANGE_K.0, RANGE_K.1) * 1e-3).sqrt()
}

#[inline]
fn poly(c: &[f64], u: f64) -> f64 {
    let u2 = u * u;
    u2.mul_add(
        u2.mul_add(c[4], u.mul_add(c[3], c[2])),
        u.mul_add(c[1], c[0]),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identity_molar_mass_powers_match_the_molar_masses() {
        for (i, s) in SPECIES.iter().enumerate() {
            assert!((M_POW_MU[i] / s.molar_mass_kg_mol.powf(0.2) - 1.0).abs() < 1e-12);
            assert!((M_POW_K[i] / s.molar_mass_kg_mol.powf(0.6) - 1.0).abs() < 1e-12);
        }
    }
}
