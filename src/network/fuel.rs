//! Figures of the fuel that the balances need, per kilogram of dry wood passing the char front.

use super::layout::T_REF_K;
use crate::components::spec::Fuel;

/// Latent heat of water at the reference temperature, J/kg (ISO 18125: 2.443 MJ/kg at 25 °C).
pub const LATENT_J_KG: f64 = 2.443e6;
/// Heating value of char as carbon: formation enthalpy of CO2, 393.51 kJ/mol (CODATA), over 12.011 g/mol.
pub const CHAR_J_KG: f64 = 32.762e6;
/// Oxygen needed per kg carbon and hydrogen (molar masses).
pub const O2_PER_C: f64 = 31.998 / 12.011;
pub const O2_PER_H: f64 = 31.998 / (4.0 * 1.008);
pub const CO2_PER_C: f64 = 44.009 / 12.011;
pub const H2O_PER_H: f64 = 18.015 / (2.0 * 1.008);
/// Mass shares of dry air.
pub const AIR_O2: f64 = 0.2314;
pub const AIR_AR: f64 = 0.0129;
pub const AIR_CO2: f64 = 0.0006;
/// Mean specific heat of wood between ambient and the reference, J/kgK (Wood Handbook, dry wood near 300 K).
const WOOD_C_J_KGK: f64 = 1260.0;

/// Per kg dry wood.
#[derive(Debug, Clone)]
pub struct FuelData {
    pub carbon: f64,
    pub hydrogen: f64,
    pub oxygen: f64,
    pub ash: f64,
    /// Char (as carbon) left behind the front.
    pub char_yield: f64,
    /// Carbon leaving with the volatiles.
    pub carbon_volatile: f64,
    /// Whole mass leaving as volatiles (ash and char stay).
    pub volatile_mass: f64,
    pub gross_j_kg: f64,
    pub net_j_kg: f64,
    /// Net heat of the volatiles: the whole less the char's.
    pub volatile_net_j_kg: f64,
    pub water_from_hydrogen: f64,
    pub stoich_air: f64,
    pub stoich_air_volatile: f64,
}

impl FuelData {
    /// From the rig's fuel.
    pub fn new(f: &Fuel) -> Self {
        let daf = 1.0 - f.ash_dry;
        let (carbon, hydrogen, oxygen) =
            (f.carbon_daf * daf, f.hydrogen_daf * daf, f.oxygen_daf * daf);
        let char_yield = f.char_yield_dry.min(0.95 * carbon);
        let carbon_volatile = carbon - char_yield;
        let water_from_hydrogen = hydrogen * H2O_PER_H;
        let net = f.gross_heating_value_dry_j_kg - LATENT_J_KG * water_from_hydrogen;
        let air = |c: f64| (c * O2_PER_C + hydrogen * O2_PER_H - oxygen) / AIR_O2;
        Self {
            carbon,
            hydrogen,
            oxygen,
            ash: f.ash_dry,
            char_yield,
            carbon_volatile,
            volatile_mass: 1.0 - f.ash_dry - char_yield,
            gross_j_kg: f.gross_heating_value_dry_j_kg,
            net_j_kg: net,
            volatile_net_j_kg: net - char_yield * CHAR_J_KG,
            water_from_hydrogen,
            stoich_air: air(carbon),
            stoich_air_volatile: air(carbon_volatile),
        }
    }

    /// Net heating value of moist wood per kg dry: less the latent heat of its moisture.
    pub fn net_moist_j_kg_dry(&self, water_per_dry: f64) -> f64 {
        self.net_j_kg - LATENT_J_KG * water_per_dry
    }

    /// Sensible enthalpy of wood with its water at a temperature, J per kg dry.
    pub fn sensible_j_kg_dry(&self, t_k: f64, water_per_dry: f64) -> f64 {
        (WOOD_C_J_KGK + 4186.0 * water_per_dry) * (t_k - T_REF_K)
    }
}
