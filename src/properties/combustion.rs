//! Element balance of burning wood: stoichiometric air and products of complete combustion.

use super::gas::Composition;
use super::gas::species::{CARBON_DIOXIDE, CARBON_MONOXIDE, OXYGEN, WATER_VAPOUR, atomic};

/// kg O2 to burn 1 kg of carbon to CO2, and of hydrogen to water.
const O2_PER_C: f64 = OXYGEN.molar_mass_kg_mol / atomic::C;
const O2_PER_H: f64 = OXYGEN.molar_mass_kg_mol / (4.0 * atomic::H);
const CO2_PER_C: f64 = CARBON_DIOXIDE.molar_mass_kg_mol / atomic::C;
const H2O_PER_H: f64 = WATER_VAPOUR.molar_mass_kg_mol / (2.0 * atomic::H);

/// Elements of what burns, as masses or mass flows; `h2o_kg` is moisture that only evaporates.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Elements {
    pub c_kg: f64,
    pub h_kg: f64,
    pub o_kg: f64,
    pub n_kg: f64,
    pub h2o_kg: f64,
}

impl Elements {
    /// Sum of the masses.
    #[inline]
    pub fn total_kg(&self) -> f64 {
        self.c_kg + self.h_kg + self.o_kg + self.n_kg + self.h2o_kg
    }

    /// Oxygen that complete combustion needs from the air; negative for an oxygen-rich mix.
    #[inline]
    pub fn o2_need_kg(&self) -> f64 {
        self.c_kg * O2_PER_C + self.h_kg * O2_PER_H - self.o_kg
    }

    /// Dry air that complete combustion needs.
    #[inline]
    pub fn stoichiometric_air_kg(&self) -> f64 {
        self.o2_need_kg() / Composition::dry_air().o2
    }
}

/// Products of complete combustion, in the unit of the input (kg or kg/s).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Products {
    pub co2_kg: f64,
    pub h2o_kg: f64,
    pub n2_kg: f64,
    pub o2_kg: f64,
    pub ar_kg: f64,
    pub co_kg: f64,
    /// Oxygen that was missing: the products hold this much more oxygen than fuel and air brought.
    ///
    /// Zero with enough air. Where it is not, the caller either holds back fuel or calls
    /// [`Products::with_co_for_deficit`]; masses close as fuel + air + deficit = products.
    pub o2_deficit_kg: f64,
}

/// Burns `fuel` completely with `air_kg` of dry air that carries `humidity_ratio` kg vapour per kg.
///
/// Free oxygen stops at zero when air is short; the shortage is reported, not hidden.
#[inline]
pub fn products(fuel: Elements, air_kg: f64, humidity_ratio: f64) -> Products {
    const AIR: Composition = Composition::dry_air();
    let left = air_kg * AIR.o2 - fuel.o2_need_kg();
    Products {
        co2_kg: fuel.c_kg * CO2_PER_C,
        h2o_kg: fuel.h_kg * H2O_PER_H + fuel.h2o_kg + air_kg * humidity_ratio,
        n2_kg: fuel.n_kg + air_kg * AIR.n2,
        o2_kg: left.max(0.0),
        ar_kg: air_kg * AIR.ar,
        co_kg: 0.0,
        o2_deficit_kg: (-left).max(0.0),
    }
}

impl Products {
    /// Sum of the species.
    #[inline]
    pub fn total_kg(&self) -> f64 {
        self.co2_kg + self.h2o_kg + self.n2_kg + self.o2_kg + self.ar_kg + self.co_kg
    }

    /// Mass fractions; nothing at all counts as dry air.
    #[inline]
    pub fn composition(&self) -> Composition {
        let sum = self.total_kg();
        if sum <= 0.0 {
            return Composition::dry_air();
        }
        let f = 1.0 / sum;
        Composition {
            n2: self.n2_kg * f,
            o2: self.o2_kg * f,
            co2: self.co2_kg * f,
            h2o: self.h2o_kg * f,
            ar: self.ar_kg * f,
            co: self.co_kg * f,
        }
    }

    /// Turns CO2 into CO until the missing oxygen is found, as far as there is carbon.
    ///
    /// What is still missing after that stays in `o2_deficit_kg`.
    #[inline]
    pub fn with_co_for_deficit(mut self) -> Self {
        const CO2_PER_O2: f64 = 2.0 * CARBON_DIOXIDE.molar_mass_kg_mol / OXYGEN.molar_mass_kg_mol;
        const CO_PER_CO2: f64 =
            CARBON_MONOXIDE.molar_mass_kg_mol / CARBON_DIOXIDE.molar_mass_kg_mol;
        let turned = (self.o2_deficit_kg * CO2_PER_O2).min(self.co2_kg);
        self.co2_kg -= turned;
        self.co_kg += turned * CO_PER_CO2;
        self.o2_deficit_kg -= turned / CO2_PER_O2;
        self
    }
}

/// Dry air for complete combustion of 1 kg of dry wood with mass fractions `c`, `h`, `o` (dry basis, ash included
/// in the kilogram), kg/kg.
pub fn stoichiometric_air_kg_kg_dry(c: f64, h: f64, o: f64) -> f64 {
    Elements {
        c_kg: c,
        h_kg: h,
        o_kg: o,
        ..Elements::default()
    }
    .stoichiometric_air_kg()
}

/// Volume of 1 kg of dry air at 0 degC and 101 325 Pa, m3(n)/kg (ideal gas).
pub fn dry_air_normal_volume_m3_kg() -> f64 {
    super::gas::species::R_J_MOLK * 273.15
        / (101_325.0 * Composition::dry_air().molar_mass_kg_mol())
}
