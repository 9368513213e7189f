//! The gas that the bed and its air become: flow, composition, what it could burn.

use super::air_side::AirNow;
use super::bed_side::BedNow;
use crate::correlations::combustion;
use crate::correlations::radiation::WsggWeights;
use crate::network::Network;
use crate::network::fuel::*;
use crate::properties::gas::{Composition, GasMix};

/// Heat that a kilogram of air gives, whatever burns with it: 13.1 MJ/kg of oxygen (Huggett 1980, Fire and Materials 4:61; from
/// memory), W over kg/s.
const PER_AIR_J_KG: f64 = 3.04e6;
/// Share of that at which half of the flame's soot is there: a flame fainter than this no longer fills the chamber with glowing
/// soot, and embers alone have none (estimate).
const FAINT: f64 = 0.02;

/// What of that scatter is gone where all of the fire goes down through one bed of embers and meets its other air below it (estimate: log boilers
/// that draw down must leave under half a per cent at air ratios of 1.4 to 1.6, EN 303-5 class 5, 700 mg/m3 of CO at 10 % O2; from memory).
const ONE_THROAT: f64 = 0.5;

/// Flue gas of one moment, as burnt as its oxygen allows.
pub(super) struct FuelGas {
    pub m_kg_s: f64,
    pub mix: GasMix,
    pub weights: WsggWeights,
    pub x_h2o: f64,
    pub x_co2: f64,
    pub x_o2: f64,
    /// Vapour in it, kg/s; water of the fuel (moisture and hydrogen), kg/s.
    pub vapour_kg_s: f64,
    pub fuel_water_kg_s: f64,
    pub carbon_kg_s: f64,
    pub stoich_kg_s: f64,
    pub lambda: f64,
    /// Net heat of the volatiles, W.
    pub volatile_w: f64,
    /// Oxygen that all of the fuel needs over what the gas among it needs; share of the gas that finds none.
    pub need_over_gas: f64,
    pub short: f64,
    /// Scatter of the local air ratio.
    pub unmixedness: f64,
    /// What no mixing would burn, W.
    pub unburnt_floor_w: f64,
    /// Absorption coefficient of the soot where the flame burns, 1/m.
    pub soot_per_m: f64,
    /// CO of the embers that leaves the chamber, for want of oxygen or of heat, W.
    pub char_co_w: f64,
    /// Moisture is evaporated at the front: its latent heat is part of what leaves up the stack.
    pub latent_moisture_w: f64,
}

/// Share of the gas that finds no oxygen, from the air ratio of all fuel; at most 95 %.
#[inline]
pub(super) fn short_of_air(lambda: f64, unmixedness: f64, need_over_gas: f64) -> f64 {
    (combustion::shortage(lambda.min(50.0), unmixedness) * need_over_gas).min(0.95)
}

impl FuelGas {
    #[inline(always)]
    pub fn new(net: &Network, air: &AirNow, bed: &BedNow) -> Self {
        let fuel = &net.fuel;
        let (dry, starter) = (bed.dry_kg_s, bed.starter_kg_s);
        let carbon = fuel.carbon_volatile * dry + fuel.carbon * starter + bed.burnt_char_kg_s;
        let hydrogen = fuel.hydrogen * (dry + starter);
        let oxygen_fuel = fuel.oxygen * (dry + starter);
        let o2_need = carbon * O2_PER_C + hydrogen * O2_PER_H - oxygen_fuel;
        let stoich = o2_need / AIR_O2;
        let o2_air = AIR_O2 * air.kg_s;
        // Share of the fuel gas that the oxygen present could burn; composition follows it.
        let possible = if o2_need > 0.95 * o2_air {
            1.0 / (1.0 + ((o2_need / o2_air) - 0.95))
        } else {
            1.0
        };
        let m_fuel_gas =
            fuel.volatile_mass * dry + (1.0 - fuel.ash) * starter + bed.burnt_char_kg_s;
        let from_hydrogen = fuel.water_from_hydrogen * (dry + starter);
        let vapour_kg_s = bed.moisture_kg_s + air.humidity * air.kg_s + possible * from_hydrogen;
        let m_kg_s = air.kg_s * (1.0 + air.humidity) + m_fuel_gas + bed.moisture_kg_s;
        let per_m = 1.0 / m_kg_s;
        let co2 = (possible * carbon * CO2_PER_C + AIR_CO2 * air.kg_s) * per_m;
        let o2 = ((o2_air - possible * o2_need) * per_m).max(0.0);
        let h2o = vapour_kg_s * per_m;
        let ar = AIR_AR * air.kg_s * per_m;
        let mix = GasMix::new(&Composition {
            n2: (1.0 - co2 - o2 - h2o - ar).max(0.0),
            o2,
            co2,
            h2o,
            ar,
            co: 0.0,
        });
        // Mole fractions from mass fractions: x = w R_i / R.
        let per_r = 1.0 / mix.r_j_kgk();
        let x_h2o = h2o * 461.52 * per_r;
        let x_co2 = co2 * 188.92 * per_r;
        let atm = net.p_air_pa / 101_325.0;
        let lambda = air.kg_s / stoich.max(1e-9);
        let volatile_w = fuel.volatile_net_j_kg * dry + fuel.net_j_kg * starter;
        // Air comes in low: the embers take their oxygen first, so the gas bears the whole shortage.
        let need_over_gas = o2_need / ((o2_need - bed.char_o2_kg_s).max(0.0) + 1e-12);
        let unmixedness = net.rig.closures.unmixedness * (1.0 - ONE_THROAT * bed.drawn.shut);
        let short = short_of_air(lambda, unmixedness, need_over_gas);
        let faint_w = FAINT * PER_AIR_J_KG * air.kg_s;
        Self {
            m_kg_s,
            soot_per_m: net.rig.closures.flame_soot_per_m * volatile_w / (volatile_w + faint_w),
            weights: WsggWeights::new((x_h2o * atm).max(1e-4), (x_co2 * atm).max(1e-4)),
            x_h2o,
            x_co2,
            x_o2: o2 * 259.84 * per_r,
            mix,
            vapour_kg_s,
            fuel_water_kg_s: bed.moisture_kg_s + from_hydrogen,
            carbon_kg_s: carbon,
            stoich_kg_s: stoich,
            lambda,
            volatile_w,
            need_over_gas,
            short,
            unmixedness,
            unburnt_floor_w: short * (volatile_w + bed.co_w),
            char_co_w: bed.co_w * (short + (1.0 - short) * bed.co_frozen),
            latent_moisture_w: LATENT_J_KG * bed.moisture_kg_s,
        }
    }
}
