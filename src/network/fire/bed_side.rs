//! Sticks and embers at one moment: what the bed gives off.

use super::{AirNow, Hot};
use crate::components::bed::{self, BedSurroundings};
use crate::components::gas_path::reaction_share;
use crate::correlations::radiation::STEFAN_BOLTZMANN;
use crate::correlations::{charring, quick_exp};
use crate::network::Network;
use crate::network::fuel::*;
use crate::network::layout::*;

/// Share of the flame over burning wood that burns in hot sheets of its own however cold the mean gas is (estimate:
/// with it a small cold fire leaves 10..25 % unburnt, a hot one 1..3 %, common practice, no source).
const SHEET_SHARE: f64 = 0.7;
/// Burning surface at which half of that is reached: a splinter's flame is blown out, a stick's is not, m2.
const SHEET_AREA_M2: f64 = 0.02;
/// Size of glowing char pieces, m, and density, kg/m3.
pub(super) const EMBER_M: f64 = 0.02;
const EMBER_KG_M3: f64 = 250.0;
/// Heat of CO + ½O2 → CO2 per kg of carbon: 282.98 kJ/mol (CODATA) over 12.011 g/mol.
const CO_J_KG_CARBON: f64 = 23.56e6;
/// Share of the char's heat that stays in the embers: the surface reaction C → CO gives 28 % of it, and about
/// half of the CO burns within the boundary layer (estimate; the rest heats the gas).
pub(super) const EMBER_SHARE: f64 = 0.6;
/// That half, 0.44: CO whose heat the embers have kept cannot leave as CO, so that the flame never gives up more than the
/// rest of the char's heat.
const CO_AT_THE_CHAR: f64 =
    (EMBER_SHARE * CHAR_J_KG - (CHAR_J_KG - CO_J_KG_CARBON)) / CO_J_KG_CARBON;

/// What the bed gives off, and how its sticks and embers stand to each other.
#[derive(Clone, Copy)]
pub(super) struct BedNow {
    /// Wood passing the char front, its water, and the starter, kg/s.
    pub dry_kg_s: f64,
    pub moisture_kg_s: f64,
    pub starter_kg_s: f64,
    /// Sensible enthalpy that the wood brings along, W.
    pub sensible_w: f64,
    pub burnt_char_kg_s: f64,
    /// Net heat of the burnt char, and the part of it that leaves the bed as CO, W.
    pub char_w: f64,
    pub char_co_w: f64,
    /// Share of the hearth under sticks, and under embers.
    pub covered: f64,
    pub ember_cover: f64,
    /// Share of a stick's view that the pile's own flames fill.
    pub flame_share: f64,
    /// Share of the flame that burns in hot sheets.
    pub sheet_share: f64,
    /// Velocity of the gas among the embers.
    pub gas_m_s: f64,
}

impl Network {
    pub(super) fn bed_now(&self, air: &AirNow, hot: &Hot, y: &[f64], dy: &mut [f64]) -> BedNow {
        let l = &self.layout;
        let c = &self.rig.closures;
        let fb = &self.firebox;
        let fuel = &self.fuel;
        let lb = self.rig.firebox.burning_length_m;
        let mut lit_area = 0.0;
        let mut plan_area = 0.0;
        let mut in_fire_m3 = 0.0;
        for k in 0..COHORTS {
            let co = &self.mode.cohorts[k];
            if co.dry_kg <= 0.0 {
                continue;
            }
            let v = y[l.virgin + k];
            let a = co.burning_area_m2(v, lb);
            in_fire_m3 += co.dry_kg * v.max(0.0) * co.share_in_fire(v, lb) / co.density_kg_m3;
            plan_area += 0.3 * a;
            lit_area += a * bed::lit_share(y[l.kindled + k]);
        }
        let exposed = bed::exposed_share(in_fire_m3 / fb.pile_room_m3);
        lit_area *= exposed;
        plan_area *= exposed;
        let covered = plan_area / (plan_area + fb.floor_m2);
        // Air reaching the sticks against what their burning area would use at 8 g/m2s of volatiles: a pile
        // with less air than that loses its own flames.
        let wanted = 0.008 * lit_area * fuel.stoich_air_volatile;
        let oxygen = air.kg_s * air.kg_s / (air.kg_s * air.kg_s + 0.25 * wanted * wanted);
        let flame_share = bed::pile_share(lit_area, fb.volume_m3, oxygen);
        let sheet_share = SHEET_SHARE * oxygen * lit_area / (lit_area + SHEET_AREA_M2);
        // Emissivity of the chamber for the sticks' view: nominal wood gas (10 % CO2, 12 % H2O); their flux hardly
        // depends on it, since what the gas does not send the lining does.
        let eps_view = (c.emissivity
            * self
                .nominal_gas
                .emissivity_with_soot(hot.flame_k, c.flame_soot_per_m))
        .min(0.95);
        let chamber_flux = STEFAN_BOLTZMANN
            * (eps_view * hot.flame_k.powi(4) + (1.0 - eps_view) * hot.lining_k.powi(4));
        let ember_cover = hot.char_kg / (hot.char_kg + 0.15 * fb.floor_m2 / 0.045);
        let ember_flux = STEFAN_BOLTZMANN * hot.embers_k.powi(4);
        // Sticks lie on the hearth: it is part of their view whether glowing, hot brick or cold.
        let view_embers = 0.4;
        let around_pile = (1.0 - view_embers) * chamber_flux + view_embers * ember_flux;
        let flux = bed::PILE_FLUX_W_M2 * flame_share
            + (1.0 - flame_share) * around_pile
            + 15.0 * (hot.flame_k - 600.0).max(0.0)
            - 0.3 * STEFAN_BOLTZMANN * air.t_k.powi(4);
        let around = BedSurroundings {
            flux_w_m2: flux.max(0.0),
            front: charring::Front::new(flux),
            burning_length_m: lb,
            exposed_share: exposed,
        };
        let (mut dry, mut moisture, mut sensible) = (0.0, 0.0, 0.0);
        for k in 0..COHORTS {
            let co = &self.mode.cohorts[k];
            let r = bed::cohort_rates(co, y[l.virgin + k], y[l.kindled + k], &around, c.bed_rate);
            dy[l.virgin + k] = r.dv_per_s;
            dy[l.kindled + k] = r.dg_per_s;
            dry += r.dry_kg_s;
            moisture += r.dry_kg_s * co.water_per_dry;
            sensible += r.dry_kg_s * co.sensible_j_kg;
        }
        let starter = if self.mode.starter_on {
            let lighting = &self.rig.lighting;
            lighting.starter_j / lighting.starter_s / fuel.gross_j_kg
        } else {
            0.0
        };

        // --- Embers ---
        let air_volatile = fuel.stoich_air_volatile * dry + fuel.stoich_air * starter;
        // Volatiles burn first; what oxygen they leave reaches the embers (a third always does: air enters low).
        let y_o2 = AIR_O2 * (1.0 - 0.67 * air_volatile / (air_volatile + air.kg_s));
        let gas_m_s = air.kg_s / (air.rho_kg_m3 * fb.flow_area_m2) * hot.embers_k / air.t_k;
        // Air at ember temperature: ν ~ T^1.7, D(O2) ~ T^1.75 from 293 K (handbook fits, within 5 %).
        let warmth = (hot.embers_k / 293.0).ln();
        let pressure = 101_325.0 / self.p_air_pa;
        let ember_gas = charring::CharGas {
            y_o2,
            rho_kg_m3: self.p_air_pa / (287.05 * hot.embers_k),
            velocity_m_s: gas_m_s,
            nu_m2_s: 1.51e-5 * quick_exp(1.7 * warmth) * pressure,
            diffusivity_m2_s: 2.0e-5 * quick_exp(1.75 * warmth) * pressure,
        };
        let flux_char = charring::char_burn_flux_kg_m2s(hot.embers_k, EMBER_M, &ember_gas);
        // Ember surface that air reaches: at most three layers over the hearth.
        let reach = 3.0 * fb.floor_m2;
        let all = 6.0 * hot.char_kg / (EMBER_KG_M3 * EMBER_M);
        let char_free = c.char_rate * flux_char * all * reach / (all + reach);
        // Never more than four fifths of the oxygen that comes in.
        let char_cap = 0.8 * y_o2 * air.kg_s / O2_PER_C;
        let burnt_char = char_free * char_cap / (char_free + char_cap + 1e-12);
        dy[l.char_kg] = fuel.char_yield * dry - burnt_char;
        // Char gives off CO first; what its boundary layer leaves and the chamber is too cold to burn goes on as unburnt gas.
        let co_ratio = charring::co_to_co2_ratio(hot.embers_k);
        let char_co_w = (1.0 - CO_AT_THE_CHAR) * CO_J_KG_CARBON * burnt_char * co_ratio
            / (1.0 + co_ratio)
            * (1.0 - reaction_share(0.5 * (hot.embers_k + hot.flame_k)));
        BedNow {
            dry_kg_s: dry,
            moisture_kg_s: moisture,
            starter_kg_s: starter,
            sensible_w: sensible,
            burnt_char_kg_s: burnt_char,
            char_w: CHAR_J_KG * burnt_char,
            char_co_w,
            covered,
            ember_cover,
            flame_share,
            sheet_share,
            gas_m_s,
        }
    }
}
