//! Flue gas and humid air: composition, enthalpy, heat capacity, viscosity, conductivity.

mod humid;
mod mix;
pub mod species;

pub use humid::{
    air_density_kg_m3, gas_dew_point_k, humidity_ratio, vapour_partial_pressure_pa,
    water_dew_point_k,
};
pub use mix::GasMix;

use super::T_REF_K;
use species::{
    ARGON, CARBON_DIOXIDE, CARBON_MONOXIDE, NITROGEN, OXYGEN, R_J_MOLK, Species, WATER_VAPOUR,
};

/// Order in which species are stored.
pub(crate) const SPECIES: [Species; 6] = [
    NITROGEN,
    OXYGEN,
    CARBON_DIOXIDE,
    WATER_VAPOUR,
    ARGON,
    CARBON_MONOXIDE,
];

/// Composition of a gas as **mass fractions** (sum 1).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Composition {
    pub n2: f64,
    pub o2: f64,
    pub co2: f64,
    pub h2o: f64,
    pub ar: f64,
    pub co: f64,
}

/// Mole fractions of a [`Composition`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoleFractions {
    pub n2: f64,
    pub o2: f64,
    pub co2: f64,
    pub h2o: f64,
    pub ar: f64,
    pub co: f64,
}

impl Composition {
    /// Dry air: mole fractions 78.08 % N2, 20.95 % O2, 0.97 % Ar (trace gases counted as argon).
    pub const fn dry_air() -> Self {
        let (n2, o2, ar) = (
            0.7808 * NITROGEN.molar_mass_kg_mol,
            0.2095 * OXYGEN.molar_mass_kg_mol,
            0.0097 * ARGON.molar_mass_kg_mol,
        );
        let m = n2 + o2 + ar;
        Self {
            n2: n2 / m,
            o2: o2 / m,
            co2: 0.0,
            h2o: 0.0,
            ar: ar / m,
            co: 0.0,
        }
    }

    /// Air with `humidity_ratio` kg of vapour per kg of dry air.
    #[inline]
    pub fn humid_air(humidity_ratio: f64) -> Self {
        let d = 1.0 / (1.0 + humidity_ratio.max(0.0));
        let a = Self::dry_air();
        Self {
            n2: a.n2 * d,
            o2: a.o2 * d,
            co2: 0.0,
            h2o: 1.0 - d,
            ar: a.ar * d,
            co: 0.0,
        }
    }

    /// Mixture of two streams (any mass unit, or mass flows). Two empty streams give dry air.
    #[inline]
    pub fn mixed(a: &Self, a_kg: f64, b: &Self, b_kg: f64) -> Self {
        let sum = a_kg + b_kg;
        if sum <= 0.0 {
            return Self::dry_air();
        }
        let (x, y) = (a_kg / sum, b_kg / sum);
        Self {
            n2: a.n2 * x + b.n2 * y,
            o2: a.o2 * x + b.o2 * y,
            co2: a.co2 * x + b.co2 * y,
            h2o: a.h2o * x + b.h2o * y,
            ar: a.ar * x + b.ar * y,
            co: a.co * x + b.co * y,
        }
    }

    /// Mass fractions in the order of the species table.
    #[inline]
    pub(crate) fn array(&self) -> [f64; 6] {
        [self.n2, self.o2, self.co2, self.h2o, self.ar, self.co]
    }

    /// Sum of the mass fractions (1 for a complete composition).
    #[inline]
    pub fn sum(&self) -> f64 {
        self.n2 + self.o2 + self.co2 + self.h2o + self.ar + self.co
    }

    /// Mean molar mass.
    #[inline]
    pub fn molar_mass_kg_mol(&self) -> f64 {
        let w = self.array();
        let mut moles = 0.0;
        for (y, s) in w.iter().zip(&SPECIES) {
            moles += y * (1.0 / s.molar_mass_kg_mol);
        }
        self.sum() / moles
    }

    /// Specific gas constant.
    #[inline]
    pub fn r_j_kgk(&self) -> f64 {
        R_J_MOLK / self.molar_mass_kg_mol()
    }

    /// Mole fractions, water vapour included (wet basis).
    #[inline]
    pub fn mole_fractions(&self) -> MoleFractions {
        let w = self.array();
        let n: [f64; 6] = std::array::from_fn(|i| w[i] / SPECIES[i].molar_mass_kg_mol);
        let [n2, o2, co2, h2o, ar, co] = shares(n);
        MoleFractions {
            n2,
            o2,
            co2,
            h2o,
            ar,
            co,
        }
    }
}

/// Parts of a whole that is 1.
#[inline]
fn shares(parts: [f64; 6]) -> [f64; 6] {
    let per_sum = 1.0 / parts.iter().sum::<f64>();
    parts.map(|p| p * per_sum)
}

impl MoleFractions {
    /// The same without water vapour: what a flue-gas meter reads (dry basis). Pure vapour gives zeros.
    pub fn dry(&self) -> Self {
        let rest = 1.0 - self.h2o;
        let f = if rest > 0.0 { 1.0 / rest } else { 0.0 };
        Self {
            n2: self.n2 * f,
            o2: self.o2 * f,
            co2: self.co2 * f,
            h2o: 0.0,
            ar: self.ar * f,
            co: self.co * f,
        }
    }

    /// Back to mass fractions.
    pub fn to_mass(&self) -> Composition {
        let x = [self.n2, self.o2, self.co2, self.h2o, self.ar, self.co];
        let m: [f64; 6] = std::array::from_fn(|i| x[i] * SPECIES[i].molar_mass_kg_mol);
        let [n2, o2, co2, h2o, ar, co] = shares(m);
        Composition {
            n2,
            o2,
            co2,
            h2o,
            ar,
            co,
        }
    }
}
