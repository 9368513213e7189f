//! Sticks and embers at one moment: what the bed gives off.

use super::Hot;
use super::air_side::{AMONG_STICKS, AirNow};
use crate::components::bed::{self, Left};
use crate::components::embers::{self, Heap};
use crate::components::gas_path::reaction_share;
use crate::correlations::radiation::STEFAN_BOLTZMANN;
use crate::correlations::{charring, greater};
use crate::network::Network;
use crate::network::fuel::*;
use crate::network::layout::*;

/// Share of a feed's wood below which it counts as burnt out: most slots are then passed over. It keeps that billionth.
const SPENT: f64 = 1e-9;
/// Share of the flame over burning wood that burns in hot sheets of its own however cold the mean gas is (estimate:
/// with it a small cold fire leaves 10..25 % unburnt, a hot one 1..3 %, common practice, no source).
const SHEET_SHARE: f64 = 0.7;
/// Burning surface at which half of that is reached: a splinter's flame is blown out, a stick's is not, m2.
const SHEET_AREA_M2: f64 = 0.02;
/// Views of a stick, and of its face below, onto what it lies on (estimates).
const VIEW_EMBERS: f64 = 0.4;
const VIEW_EMBERS_BELOW: f64 = 0.8;
/// Of a fire that is drawn down, what eddies of its gas still bring to the walls above it (estimate; the slope of an exchange that is
/// nothing would not be defined).
const EDDIES: f64 = 0.05;
/// Through a centimetre of loose wood ash at 0.1 W/mK (0.07 to 0.15 W/mK, from memory; a stove's floor keeps 1 to 3 cm of ash,
/// common practice).
const ASH_W_M2K: f64 = 10.0;
/// Heat of CO + ½O2 → CO2 per kg of carbon: 282.98 kJ/mol (CODATA) over 12.011 g/mol.
const CO_J_KG_CARBON: f64 = 23.56e6;
/// Share of the char's heat that stays in the embers: the surface reaction C → CO gives 28 % of it, and about
/// half of the CO burns within the boundary layer (estimate; the rest heats the gas).
pub(super) const EMBER_SHARE: f64 = 0.6;
/// That half, 0.44: CO whose heat the embers have kept cannot leave as CO, so that the flame never gives up more than the
/// rest of the char's heat.
const CO_AT_THE_CHAR: f64 =
    (EMBER_SHARE * CHAR_J_KG - (CHAR_J_KG - CO_J_KG_CARBON)) / CO_J_KG_CARBON;

/// Where the embers' CO burns or freezes: right over them, before it has mixed with the chamber, K. Three parts embers to one
/// of gas (estimate: glowing beds under a cool chamber leave a tenth of their carbon as CO, from memory).
#[inline]
pub(super) fn co_burns_k(embers_k: f64, flame_k: f64) -> f64 {
    0.75 * embers_k + 0.25 * flame_k
}

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
    /// Oxygen that the embers and their boundary layer take for it, kg/s.
    pub char_o2_kg_s: f64,
    /// Net heat of the burnt char, and the part of it that leaves the boundary layer as CO, W.
    pub char_w: f64,
    pub co_w: f64,
    /// Share of that CO that stays too cold to burn right over the embers.
    pub co_frozen: f64,
    /// Share of the hearth under sticks.
    pub covered: f64,
    pub heap: Heap,
    /// Share of the embers under sticks.
    pub over_embers: f64,
    /// From embers and ash to the hearth, W/m2K; of the radiation that falls on the bare hearth, what it takes.
    pub ash_w_m2k: f64,
    pub hearth_takes: f64,
    /// Share of a stick's view that the pile's own flames fill.
    pub flame_share: f64,
    /// Share of the flame that burns in hot sheets.
    pub sheet_share: f64,
    /// Velocity of the gas among the embers, m/s.
    pub gas_m_s: f64,
    /// How the fire is drawn.
    pub drawn: Drawn,
    /// A stick's view of what it lies on.
    pub view_below: f64,
}

/// A fire that is drawn down through its embers, in part while they are few: until then a flap lets it burn upwards.
#[derive(Clone, Copy)]
pub(super) struct Drawn {
    /// Share that leaves through the embers, 0..1; 0 behind a door that is not a magazine's.
    pub down: f64,
    /// Share that leaves at the hearth, through the embers or past them.
    pub shut: f64,
    /// Share of the volatiles that finds air from above for it.
    pub burns: f64,
}

impl Drawn {
    /// Share of the sticks' exchange with gas of the chamber that is left.
    #[inline]
    pub fn on_sticks(&self) -> f64 {
        1.0 - (1.0 - EDDIES) * self.down
    }

    /// The same of the chamber's walls.
    #[inline]
    pub fn on_walls(&self) -> f64 {
        1.0 - (1.0 - EDDIES) * self.shut
    }
}

impl Network {
    #[inline(always)]
    pub(super) fn bed_now(&self, air: &AirNow, hot: &Hot, y: &[f64], dy: &mut [f64]) -> BedNow {
        let l = &self.layout;
        let c = &self.rig.closures;
        let fb = &self.firebox;
        let fuel = &self.fuel;
        let mut lit_area = 0.0;
        let mut plan_area = 0.0;
        let mut in_fire_m3 = 0.0;
        let mut on_wood_kg = 0.0;
        let kindled = &y[l.kindled..l.kindled + COHORTS];
        let virgin = &y[l.virgin..l.virgin + COHORTS];
        let mut left = [Left::default(); COHORTS];
        for (k, (co, left)) in self.mode.cohorts.iter().zip(&mut left).enumerate() {
            // A free slot has none.
            if virgin[k] < SPENT {
                continue;
            }
            *left = co.left(virgin[k], kindled[k]);
            let a = co.burning_area_m2(left);
            in_fire_m3 += co.volume_m3 * left.in_fire;
            plan_area += 0.3 * a;
            let lit = a * left.lit;
            lit_area += lit;
            on_wood_kg += fuel.char_yield
                * lit
                * co.fed.density_kg_m3
                * embers::on_wood_m(co.fed.radius_m, left.end);
        }
        let mut exposed = bed::exposed_share(in_fire_m3 / fb.pile_room_m3);
        plan_area *= exposed;
        // Char that still sits on burning wood lies behind the wood's flame: it is neither reached by oxygen nor part of the heap.
        let mut heap = Heap::new(
            embers::loose_kg(hot.char_kg, on_wood_kg),
            hot.piece_m,
            fb.floor_m2,
        );
        let mut drawn = Drawn {
            down: 0.0,
            shut: 0.0,
            burns: 0.0,
        };
        let mut view_below = VIEW_EMBERS;
        if let Some(flap) = l.flap {
            // Only wood that lies on the embers burns.
            let on_coals_m2 = bed::on_coals_m2(&heap);
            let coals =
                on_coals_m2 / (lit_area * lit_area + on_coals_m2 * on_coals_m2 + 1e-12).sqrt();
            let down = embers::through_share(heap.glow_m2, fb.floor_m2);
            // Under a shut flap flames of the pile bend down too: they leave past the embers, not along the walls.
            dy[flap] = embers::flap_per_s(y[flap], heap.glow_m2, fb.floor_m2);
            drawn.shut = greater(y[flap].clamp(0.0, 1.0), down);
            drawn.down = down;
            exposed += (coals - exposed) * down;
            // Gas that goes through the heap passes all of its pieces.
            heap.reached_m2 += down * (heap.all_m2 - heap.reached_m2);
            view_below += (VIEW_EMBERS_BELOW - VIEW_EMBERS) * down;
        }
        lit_area *= exposed;
        let covered = plan_area / (plan_area + fb.floor_m2);
        let inside = (1.0 - drawn.down) * bed::inside_share(lit_area, fb.volume_m3);
        // Emissivity of the chamber for the sticks' view: nominal wood gas (10 % CO2, 12 % H2O); their flux hardly
        // depends on it, since what the gas does not send the lining does.
        let eps_view = drawn.on_sticks()
            * (c.emissivity
                * self
                    .nominal_gas
                    .emissivity_with_soot(hot.flame_k, c.flame_soot_per_m))
            .min(0.95);
        let chamber_flux = STEFAN_BOLTZMANN
            * (eps_view * hot.flame_k.powi(4) + (1.0 - eps_view) * hot.seen_k.powi(4));
        // Elsewhere the hearth lies under ash, which passes little: most of what falls on it comes back.
        let ash_w_m2k = ASH_W_M2K * c.hearth_contact;
        let chamber_k = (chamber_flux / STEFAN_BOLTZMANN).sqrt().sqrt();
        let hearth_k = hot.hearth_k;
        let to_ash_w_m2k = STEFAN_BOLTZMANN
            * (chamber_k * chamber_k + hearth_k * hearth_k)
            * (chamber_k + hearth_k);
        let hearth_takes = ash_w_m2k / (ash_w_m2k + to_ash_w_m2k);
        let hearth_flux =
            chamber_flux - hearth_takes * (chamber_flux - STEFAN_BOLTZMANN * hearth_k.powi(4));
        // Sticks are laid onto the embers, and their char falls below them.
        let plan = covered * fb.floor_m2;
        let on_embers =
            heap.layer_m2 / (plan * plan + heap.layer_m2 * heap.layer_m2 + 1e-12).sqrt();
        let over_embers = plan / (plan * plan + heap.glow_m2 * heap.glow_m2 + 1e-12).sqrt();
        let ember_flux =
            on_embers * STEFAN_BOLTZMANN * hot.embers_k.powi(4) + (1.0 - on_embers) * hearth_flux;
        let around_pile = (1.0 - view_below) * chamber_flux + view_below * ember_flux;
        let convected = drawn.on_sticks() * 15.0 * (hot.flame_k - 600.0).max(0.0);
        let cold = 0.3 * STEFAN_BOLTZMANN * air.t_k.powi(4);
        let around = (1.0 - inside) * around_pile + convected - cold;
        // Fronts with all of the pile's flames, and with what reaches the sticks from outside the pile.
        let with_flames = charring::Front::new(bed::PILE_FLUX_W_M2 * inside + around);
        let alone = charring::Front::new((1.0 - inside) * (around_pile + convected) - cold);
        let mut taken_per_s = [(0.0, 0.0); COHORTS];
        let mut with_air_kg_s = 0.0;
        for ((co, left), taken) in self.mode.cohorts.iter().zip(&left).zip(&mut taken_per_s) {
            if left.virgin > 0.0 {
                let per_m = bed::taken_per_m(co, left, exposed, c.bed_rate);
                let own_m = co.char_depth_m(left);
                let depth_m = own_m + drawn.down * (embers::on_coals_m(co.fed.radius_m) - own_m);
                *taken = (
                    per_m * with_flames.reference_speed_m_s(depth_m),
                    per_m * alone.reference_speed_m_s(depth_m),
                );
                with_air_kg_s += taken.0 * co.fed.dry_kg;
            }
        }
        // Within the pile sticks only pass on to each other what they radiate: what chars them is a share of what burns between
        // them, and that is as much as its air allows. Of the air over the fire they get what the flames there leave of it: gas of
        // the chamber comes back to the pile from the sides (estimate: once).
        let want_kg_s = fuel.stoich_air_volatile * with_air_kg_s;
        let comes_back_kg_s = air.over_kg_s * (air.kg_s / (air.kg_s + want_kg_s));
        let among_kg_s = AMONG_STICKS * (air.under_kg_s + comes_back_kg_s);
        let oxygen = bed::burning_share(among_kg_s, want_kg_s);
        let flame_share = inside * oxygen;
        // Sheets burn wherever their air meets them, above the pile too.
        let in_sheets = if air.over_kg_s == 0.0 {
            oxygen
        } else {
            bed::burning_share(AMONG_STICKS * air.under_kg_s + air.over_kg_s, want_kg_s)
        };
        let sheet_share = SHEET_SHARE * in_sheets * lit_area / (lit_area + SHEET_AREA_M2);
        // A stick catches where it lies on the embers, and flames spread from there.
        let lighting_w_m2 = (bed::PILE_FLUX_W_M2 * flame_share
            + around
            + (1.0 - inside)
                * (VIEW_EMBERS_BELOW - view_below)
                * (ember_flux - chamber_flux).max(0.0))
        .max(0.0);
        let (mut dry, mut moisture, mut sensible) = (0.0, 0.0, 0.0);
        let mut surface = 0.0;
        for (k, (co, left)) in self.mode.cohorts.iter().zip(&left).enumerate() {
            if left.virgin <= 0.0 {
                continue;
            }
            let (with_flames, alone) = taken_per_s[k];
            let taken_per_s = oxygen * with_flames + (1.0 - oxygen) * alone;
            let dry_kg_s = taken_per_s * co.fed.dry_kg;
            dy[l.virgin + k] = -taken_per_s;
            dy[l.kindled + k] = bed::kindling_per_s(co, kindled[k], lighting_w_m2);
            dry += dry_kg_s;
            moisture += dry_kg_s * co.fed.water_per_dry;
            sensible += dry_kg_s * co.fed.sensible_j_kg;
            surface += dry_kg_s * co.fed.char_surface;
        }
        let starter = if self.mode.starter_on {
            let lighting = &self.rig.lighting;
            lighting.starter_j / lighting.starter_s / fuel.gross_j_kg
        } else {
            0.0
        };

        // --- Embers ---
        let air_volatile = fuel.stoich_air_volatile * dry + fuel.stoich_air * starter;
        let at_embers = self.at_embers(air, hot, &heap, air_volatile, drawn.down);
        let char_free = c.char_rate
            * charring::heap_burn_kg_s(
                hot.embers_k,
                hot.piece_m,
                heap.reached_m2,
                heap.all_m2,
                &at_embers.gas,
            );
        // Char gives off CO first; what its boundary layer leaves of it takes half of its oxygen from the chamber's gas.
        let co_ratio = charring::co_to_co2_ratio(hot.embers_k);
        let co_share = (1.0 - CO_AT_THE_CHAR) * co_ratio / (1.0 + co_ratio);
        let o2_per_char = O2_PER_C * (1.0 - 0.5 * co_share);
        let char_cap = at_embers.most_o2_kg_s / o2_per_char;
        let burnt_char =
            char_free * char_cap / (char_free * char_free + char_cap * char_cap + 1e-20).sqrt();
        dy[l.char_kg] = fuel.char_yield * dry - burnt_char;
        dy[l.char_surface] =
            fuel.char_yield * surface - burnt_char * embers::REFERENCE_M / hot.piece_m;
        if l.flap.is_some() {
            let left_kg_s = air.under_kg_s - o2_per_char * burnt_char * (1.0 / AIR_O2);
            drawn.burns = bed::burning_share(left_kg_s.max(0.0) + 1e-12, air_volatile);
        }
        BedNow {
            dry_kg_s: dry,
            moisture_kg_s: moisture,
            starter_kg_s: starter,
            sensible_w: sensible,
            burnt_char_kg_s: burnt_char,
            char_o2_kg_s: o2_per_char * burnt_char,
            char_w: CHAR_J_KG * burnt_char,
            co_w: CO_J_KG_CARBON * co_share * burnt_char,
            co_frozen: 1.0 - reaction_share(co_burns_k(hot.embers_k, hot.flame_k)),
            covered,
            heap,
            over_embers,
            ash_w_m2k,
            hearth_takes,
            flame_share,
            sheet_share,
            gas_m_s: at_embers.gas.velocity_m_s,
            drawn,
            view_below,
        }
    }
}
