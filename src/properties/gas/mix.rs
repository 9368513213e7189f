//! One mixture polynomial per composition: enthalpy, heat capacity and transport in a few multiplications.

use super::species::{JOIN_K, R_J_MOLK};
use super::{Composition, SPECIES};

/// Range of the polynomials, K. Outside, cp, viscosity and conductivity stay flat and h goes straight.
pub const RANGE_K: (f64, f64) = (200.0, 2500.0);

/// (M / (kg/mol))^0.2 per species, the weights of the viscosity rule; powers cannot be formed in a constant.
///
/// Mixing rule: property = sum(x M^p prop) / sum(x M^p), x mole fractions. The form is that of Herning & Zipperer
/// 1936 (p = 1/2). Here p = 0.2 for viscosity and 0.6 for conductivity: fitted so that the rule stays within 1.5 %
/// of Wilke's rule and of the mean of the arithmetic and harmonic averages, for wood flue gas at air ratio 1 to
/// 100, 0 to 50 % moisture, 250 to 2400 K.
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

/// What one kilogram of a species adds to the sums of a mixture.
struct Terms {
    h_low: [f64; 6],
    h_high: [f64; 6],
    mu: [f64; 5],
    k: [f64; 5],
    moles: f64,
    w_mu: f64,
    w_k: f64,
}

static TERMS: [Terms; 6] = [term(0), term(1), term(2), term(3), term(4), term(5)];

const fn term(i: usize) -> Terms {
    let s = SPECIES[i];
    let (h_low, h_high) = s.sensible();
    let moles = 1.0 / s.molar_mass_kg_mol;
    let (w_mu, w_k) = (moles * M_POW_MU[i], moles * M_POW_K[i]);
    Terms {
        h_low,
        h_high,
        mu: scaled(&s.mu_fit, w_mu),
        k: scaled(&s.k_fit, w_k),
        moles,
        w_mu,
        w_k,
    }
}

const fn scaled(a: &[f64; 5], f: f64) -> [f64; 5] {
    [a[0] * f, a[1] * f, a[2] * f, a[3] * f, a[4] * f]
}

/// Mixture of fixed composition, made from a [`Composition`] once and then asked at many temperatures.
#[derive(Debug, Clone, Copy)]
pub struct GasMix {
    h_low: [f64; 6],
    h_high: [f64; 6],
    mu: [f64; 5],
    k: [f64; 5],
    r_j_kgk: f64,
}

impl GasMix {
    /// Sums the species; the mass fractions should add to 1.
    pub fn new(composition: &Composition) -> Self {
        let y = composition.array();
        let mut m = Self {
            h_low: [0.0; 6],
            h_high: [0.0; 6],
            mu: [0.0; 5],
            k: [0.0; 5],
            r_j_kgk: 0.0,
        };
        let (mut moles, mut w_mu, mut w_k) = (0.0, 0.0, 0.0);
        for (y, t) in y.iter().zip(&TERMS) {
            for i in 0..6 {
                m.h_low[i] += y * t.h_low[i];
                m.h_high[i] += y * t.h_high[i];
            }
            for i in 0..5 {
                m.mu[i] += y * t.mu[i];
                m.k[i] += y * t.k[i];
            }
            moles += y * t.moles;
            w_mu += y * t.w_mu;
            w_k += y * t.w_k;
        }
        let (per_mu, per_k) = (1.0 / w_mu, 1.0 / w_k);
        for i in 0..5 {
            m.mu[i] *= per_mu;
            m.k[i] *= per_k;
        }
        m.r_j_kgk = R_J_MOLK * moles;
        m
    }

    /// Sensible enthalpy above 298.15 K (water as vapour) and heat capacity, in one evaluation.
    #[inline]
    pub fn h_cp(&self, t_k: f64) -> (f64, f64) {
        let t = t_k.clamp(RANGE_K.0, RANGE_K.1);
        let c = if t < JOIN_K {
            &self.h_low
        } else {
            &self.h_high
        };
        let cp = c[1] + t * (2.0 * c[2] + t * (3.0 * c[3] + t * (4.0 * c[4] + t * (5.0 * c[5]))));
        let h = c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5]))));
        (h + cp * (t_k - t), cp)
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
        poly(&self.mu, root(t_k))
    }

    /// Thermal conductivity.
    #[inline]
    pub fn k_w_mk(&self, t_k: f64) -> f64 {
        poly(&self.k, root(t_k))
    }

    /// Viscosity and conductivity with one square root.
    #[inline]
    pub fn mu_k(&self, t_k: f64) -> (f64, f64) {
        let u = root(t_k);
        (poly(&self.mu, u), poly(&self.k, u))
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
fn poly(c: &[f64; 5], u: f64) -> f64 {
    c[0] + u * (c[1] + u * (c[2] + u * (c[3] + u * c[4])))
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
