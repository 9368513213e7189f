//! The chamber: heat release over the bed, exchange of flame, embers, sticks, lining and openings.

use super::Hot;
use super::air_side::AirNow;
use super::bed_side::{BedNow, EMBER_SHARE, co_burns_k};
use super::fuel_gas::FuelGas;
use crate::components::bed;
use crate::components::embers::CHAR_C_J_KGK;
use crate::components::gas_path::{MIXING_CONSTANT, grey_exchange, reaction_share};
use crate::components::wall::Wall;
use crate::correlations::radiation::STEFAN_BOLTZMANN;
use crate::correlations::{lesser, nusselt_external};
use crate::network::layout::*;
use crate::network::path_cells::{shine, warm};
use crate::network::{MAX_PLATES, Network, Scratch};

/// Temperature of flame sheets between burning sticks (measured crib flames 1100..1300 K; from memory: Drysdale ch. 4).
const SHEET_K: f64 = 1150.0;
/// Temperature of char as it falls off a burning stick.
const FRONT_CHAR_K: f64 = 900.0;
/// Emission of embers against a black body as hot as the char that burns in them: 0.9, under a grey coat of ash that is 100 to
/// 150 K colder (charcoal that burns at 50 kW/m2 on a grill shows some 950 K, its cracks 1100 K: common practice, estimate).
pub(in crate::network) const EMBER_EMISSION: f64 = 0.55;

/// All gas over what passes the embers of a fire that is drawn down, at most, where their surroundings are reckoned.
const MOST_BELOW: f64 = 3.0;

/// The chamber at one moment.
pub(super) struct Chamber {
    pub air_enthalpy_w: f64,
    /// Heat of the volatiles released in it.
    pub released_w: f64,
    /// Radiated out of mouth or door.
    pub opening_w: f64,
    /// Heat into lining and plates, before what a coil right behind takes of it.
    pub into_lining_w: f64,
    /// Radiated to the first turns of a coil right behind it.
    pub to_turns_w: f64,
    /// Into a coil in the chamber itself.
    pub to_coil_w: f64,
    /// Heat that the gas leaves with besides its enthalpy at the flame's state, W, and the temperature that the chamber
    /// thus comes to.
    pub beyond_state_w: f64,
    pub flame_k: f64,
}

/// Heat that a coil in the chamber takes from flame and from lining, W.
#[derive(Default)]
struct CoilHeat {
    from_flame_w: f64,
    from_lining_w: f64,
    /// Slope of the first against the flame's temperature, W/K.
    slope_w_k: f64,
}

/// Heat of the flame onto a wall, and its slope against the flame's temperature.
#[derive(Clone, Copy, Default)]
struct OntoWall {
    heat_w: f64,
    slope_w_k: f64,
}

/// By convection and radiation of a grey gas, in series with half of the wall's first node at `face_k`.
#[inline]
fn onto_wall(
    wall: &Wall,
    face_k: f64,
    flame_k: f64,
    eps_flame: f64,
    convection_w_m2k: f64,
) -> OntoWall {
    let grey = grey_exchange(eps_flame, wall.inner_emissivity) * STEFAN_BOLTZMANN;
    let h = convection_w_m2k + grey * (flame_k * flame_k + face_k * face_k) * (flame_k + face_k);
    let film = h * wall.inner_area_m2;
    let conductance = film / (1.0 + film * wall.nodes[0].resistance_in_k_w(face_k));
    let heat_w = (flame_k - face_k) * conductance;
    let bend = flame_k * (3.0 * flame_k + 2.0 * face_k) + face_k * face_k;
    OntoWall {
        heat_w,
        slope_w_k: conductance + heat_w * conductance / film * (grey / h) * bend,
    }
}

/// Heat into a plate, W, and what it needs of the moment.
#[derive(Clone, Copy, Default)]
struct PlateNow {
    from_flame: OntoWall,
    from_lining_w: f64,
    from_embers_w: f64,
    /// Fourth power of its temperature.
    t4: f64,
}

impl Network {
    #[inline(always)]
    pub(super) fn chamber(
        &self,
        air: &AirNow,
        hot: &Hot,
        bed: &BedNow,
        gas: &FuelGas,
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> Chamber {
        let l = &self.layout;
        let c = &self.rig.closures;
        let fb = &self.firebox;
        let (t_flame, t_embers, t_lining) = (hot.flame_k, hot.embers_k, hot.lining_k);
        let (flame4, embers4, lining4) = (t_flame.powi(4), t_embers.powi(4), t_lining.powi(4));
        let seen4 = hot.seen_k.powi(4);

        // --- Heat release ---
        let react = bed.sheet_share + (1.0 - bed.sheet_share) * reaction_share(t_flame);
        // In the chamber fuel comes off all over the floor, between sticks: it mixes over a quarter of the width.
        let kt = fb.volume_m3
            / (MIXING_CONSTANT * c.mixing_time * 0.25 * fb.hydraulic_m * fb.flow_area_m2)
            * react;
        // The flame rises through the chamber: two mixed volumes in series, between stirred tank and plug flow.
        let left = 1.0 / (1.0 + 0.5 * kt);
        let mut share = 1.0 - left * left;
        if bed.drawn.down > 0.0 {
            // Among glowing pieces gas and air mix over their size: what finds air burns as far as it is hot enough there.
            let through = bed.drawn.burns * reaction_share(co_burns_k(t_embers, t_flame));
            share += bed.drawn.down * (through - share);
        }
        let released_w = gas.volatile_w * (1.0 - gas.short) * share;

        // --- Exchange ---
        let air_enthalpy_w = air.kg_s * (1.0 + air.humidity) * self.air_mix.h_j_kg(air.t_k);
        let (h_flame, cp_flame) = gas.mix.h_cp(t_flame);
        let (mu, k_gas) = gas.mix.mu_k(t_flame);
        let re = gas.m_kg_s * fb.hydraulic_m / (fb.flow_area_m2 * mu);
        let [nu, _] = fb.table.at(re);
        let layer = gas.weights.over(fb.beam_m);
        let above = bed.drawn.on_walls();
        let eps_f =
            above * (c.emissivity * layer.emissivity_with_soot(t_flame, gas.soot_per_m)).min(0.95);
        let film_w_m2k = above * c.duct_convection * nu * k_gas / fb.hydraulic_m;
        let onto = |wall: &Wall, face_k: f64| -> OntoWall {
            onto_wall(wall, face_k, t_flame, eps_f, film_w_m2k)
        };
        let OntoWall {
            heat_w: flame_to_lining,
            slope_w_k: lining_slope,
        } = onto(&fb.wall, t_lining);
        let mut plates = [PlateNow::default(); MAX_PLATES];
        let (mut flame_to_plates, mut plates_slope, mut lining_to_plates) = (0.0, 0.0, 0.0);
        for (p, now) in fb.plates.iter().zip(&mut plates) {
            let t = s.wall_t_k[p.wall_state - l.walls];
            now.from_flame = onto(&p.wall, t);
            now.t4 = t.powi(4);
            now.from_lining_w = (1.0 - eps_f)
                * p.wall.inner_emissivity
                * STEFAN_BOLTZMANN
                * p.lining_view_m2
                * (lining4 - now.t4);
            flame_to_plates += now.from_flame.heat_w;
            plates_slope += now.from_flame.slope_w_k;
            lining_to_plates += now.from_lining_w;
        }
        // Embers: convection to the gas, radiation to sticks above them and to the lining.
        let rho_flame = self.p_air_pa / (gas.mix.r_j_kgk() * t_flame);
        let h_embers = k_gas / hot.piece_m
            * (2.0 + 0.6 * (bed.gas_m_s * hot.piece_m * rho_flame / mu).sqrt() * 0.89);
        // The ash among them at least loses heat.
        let glow_m2 = bed.heap.glow_m2 + 0.02 * fb.floor_m2;
        let a_embers = bed.heap.reached_m2 + 0.02 * fb.floor_m2;
        // Under a burning pile the embers sit in its flames, not in the mean gas of the chamber.
        let mut t_local = t_flame + bed.flame_share * (SHEET_K - t_flame).max(0.0);
        let mut local_slope = if t_flame < SHEET_K {
            1.0 - bed.flame_share
        } else {
            1.0
        };
        if bed.drawn.down > 0.0 {
            // What is drawn through them has not met the air from below yet; hardly any boiler takes more than two thirds there.
            let before = gas.m_kg_s - air.over_kg_s * (1.0 + air.humidity);
            let hotter = lesser(gas.m_kg_s, MOST_BELOW * before) / before;
            t_local += bed.drawn.down * (air.t_k + (t_flame - air.t_k) * hotter - t_local);
            local_slope += bed.drawn.down * (hotter - local_slope);
        }
        let embers_to_gas = h_embers * a_embers * (t_embers - t_local);
        // Char falls off the sticks as hot as its front left it.
        let hot_char_w = CHAR_C_J_KGK
            * (self.fuel.char_yield * bed.dry_kg_s * (FRONT_CHAR_K - T_REF_K)
                - bed.burnt_char_kg_s * (t_embers - T_REF_K));
        let emit = EMBER_EMISSION * c.ember_emission * STEFAN_BOLTZMANN * glow_m2;
        // Stick surfaces at the temperature of charring wood.
        let embers_to_sticks =
            emit * bed.over_embers * bed.view_below * (embers4 - 650.0f64.powi(4)).max(0.0);
        let open = emit * (1.0 - bed.view_below * bed.over_embers);
        // Lining and plates share what the flame lets through.
        let through = open * (1.0 - eps_f) / fb.enclosure_m2;
        let embers_to_lining = fb.lining_m2 * through * (embers4 - lining4);
        let mut embers_to_plates = 0.0;
        for (p, now) in fb.plates.iter().zip(&mut plates) {
            now.from_embers_w = p.wall.inner_area_m2 * through * (embers4 - now.t4);
            embers_to_plates += now.from_embers_w;
        }
        let embers_to_flame = open * eps_f * (embers4 - flame4);
        // Through ash into grate and brick.
        let (t_hearth, hearth4) = (hot.hearth_k, hot.hearth_k.powi(4));
        let embers_to_hearth = bed.ash_w_m2k * glow_m2 * (t_embers - t_hearth);
        let bare = STEFAN_BOLTZMANN
            * bed.hearth_takes
            * (fb.floor_m2 - bed.heap.glow_m2)
            * (1.0 - bed.view_below * bed.covered);
        let flame_to_hearth = bare * eps_f * (flame4 - hearth4);
        let walls_to_hearth = bare * (1.0 - eps_f) * (seen4 - hearth4);
        // The pile's own flames light and keep the embers under them, as far as they find air to burn with.
        let flames_to_embers = 0.3
            * bed.flame_share
            * (released_w / (gas.volatile_w + 1.0))
            * glow_m2
            * (bed::PILE_FLUX_W_M2 - STEFAN_BOLTZMANN * embers4);
        // Mouth and open door radiate out.
        let out4 = STEFAN_BOLTZMANN * air.free_m2 * 0.5;
        let air4 = air.t_k.powi(4);
        let opening_flame = out4 * eps_f * (flame4 - air4);
        let opening_walls = out4 * (1.0 - eps_f) * (seen4 - air4);

        // Radiation of the chamber to a coil that stands right behind it.
        let mut to_turns_w = 0.0;
        let mut turns_view_m2 = 0.0;
        if let Some(b) = &self.ducts[0].bank {
            for (j, view_m2) in b.mouth_views_m2.iter().enumerate() {
                let g = c.coil_radiation * view_m2 * STEFAN_BOLTZMANN;
                let source4 = eps_f * flame4 + (1.0 - eps_f) * seen4;
                to_turns_w += shine(s, &b.tubes[j], g, source4).0;
                turns_view_m2 += c.coil_radiation * view_m2;
            }
        }

        let inside = self.coil_in_chamber(hot, gas, eps_f, (mu, k_gas), s);

        let excess_w = air_enthalpy_w + bed.sensible_w + released_w - gas.latent_moisture_w
            + (1.0 - EMBER_SHARE) * bed.char_w
            - gas.char_co_w
            + embers_to_gas
            + embers_to_sticks
            + embers_to_flame
            - flames_to_embers
            - hot_char_w
            - flame_to_lining
            - flame_to_plates
            - flame_to_hearth
            - opening_flame
            - eps_f * to_turns_w
            - inside.from_flame_w
            - gas.m_kg_s * h_flame;

        // --- The flame's own temperature ---
        // It keeps no heat: what the balance at its state leaves over goes with the gas and, by their slopes, to all that
        // the flame exchanges heat with. The state only says about which temperature that is, and follows it.
        let radiant = 4.0 * t_flame * t_flame * t_flame;
        let gas_slope = gas.m_kg_s * cp_flame;
        let embers_gas_slope = h_embers * a_embers * local_slope;
        let embers_flame_slope = open * eps_f * radiant;
        let hearth_slope = bare * eps_f * radiant;
        let opening_slope = out4 * eps_f * radiant;
        let turns_slope = turns_view_m2 * STEFAN_BOLTZMANN * eps_f * radiant;
        let moved_k = excess_w
            / (gas_slope
                + lining_slope
                + plates_slope
                + embers_gas_slope
                + embers_flame_slope
                + hearth_slope
                + opening_slope
                + eps_f * turns_slope
                + inside.slope_w_k);
        let flame_to_lining = flame_to_lining + lining_slope * moved_k;
        let embers_to_gas = embers_to_gas - embers_gas_slope * moved_k;
        let embers_to_flame = embers_to_flame - embers_flame_slope * moved_k;
        let flame_to_hearth = flame_to_hearth + hearth_slope * moved_k;
        let opening_flame = opening_flame + opening_slope * moved_k;
        let to_turns_w = to_turns_w + turns_slope * moved_k;
        if let Some(b) = &self.ducts[0].bank {
            let per_m2 = turns_slope * moved_k / (turns_view_m2 + 1e-12);
            for (j, view_m2) in b.mouth_views_m2.iter().enumerate() {
                let q = c.coil_radiation * view_m2 * per_m2;
                warm(s, &b.tubes[j], q, 0.0);
            }
        }
        let inside_flame_w = inside.from_flame_w + inside.slope_w_k * moved_k;
        if let Some(coil) = &self.firebox.coil {
            let each_w = inside.slope_w_k * moved_k / coil.cells as f64;
            let first = coil.first_tube_cell;
            for q in &mut s.face_heat_w[first..first + coil.cells] {
                *q += each_w;
            }
        }
        dy[l.flame] = moved_k / (self.rig.solver.flame_inertia_s * T_SCALE_K);

        dy[l.embers] = (EMBER_SHARE * bed.char_w + flames_to_embers + hot_char_w
            - embers_to_gas
            - embers_to_sticks
            - embers_to_lining
            - embers_to_plates
            - embers_to_flame
            - embers_to_hearth)
            / (fb.bits_j_k * T_SCALE_K);
        dy[l.hearth] =
            (embers_to_hearth + flame_to_hearth + walls_to_hearth) / (fb.hearth_j_k * T_SCALE_K);
        // What the walls give to hearth, openings and coils comes off each by its share, hot ones more than cold ones.
        let given_w =
            walls_to_hearth + opening_walls + (1.0 - eps_f) * to_turns_w + inside.from_lining_w;
        let pull = (1.0 - eps_f) * (bare + out4);
        for (p, now) in fb.plates.iter().zip(&plates) {
            s.wall_heat_w[p.wall_state - l.walls] += now.from_flame.heat_w
                + now.from_flame.slope_w_k * moved_k
                + now.from_embers_w
                + now.from_lining_w
                - p.seen * (given_w + pull * (now.t4 - seen4));
        }
        s.wall_heat_w[0] += flame_to_lining + embers_to_lining
            - lining_to_plates
            - fb.lining_seen * (given_w + pull * (lining4 - seen4));
        let into_walls_w = flame_to_lining
            + flame_to_plates
            + plates_slope * moved_k
            + embers_to_lining
            + embers_to_plates
            - walls_to_hearth
            - opening_walls;
        Chamber {
            air_enthalpy_w,
            released_w,
            opening_w: opening_flame + opening_walls,
            into_lining_w: into_walls_w,
            to_turns_w,
            to_coil_w: inside_flame_w + inside.from_lining_w,
            beyond_state_w: gas_slope * moved_k,
            flame_k: (t_flame + moved_k).clamp(200.0, 2800.0),
        }
    }

    /// A coil among the flames: cross-flow at the chamber's mean velocity, radiation of flame and of lining through it.
    #[inline(always)]
    fn coil_in_chamber(
        &self,
        hot: &Hot,
        gas: &FuelGas,
        eps_f: f64,
        (mu_pa_s, k_w_mk): (f64, f64),
        s: &mut Scratch,
    ) -> CoilHeat {
        let Some(coil) = &self.firebox.coil else {
            return CoilHeat::default();
        };
        let c = &self.rig.closures;
        let re = gas.m_kg_s * coil.tube_outside_m / (self.firebox.flow_area_m2 * mu_pa_s);
        let h = c.bank_exposure * nusselt_external::churchill_bernstein(re, 0.71) * k_w_mk
            / coil.tube_outside_m;
        let sees = c.coil_radiation * coil.emissivity * STEFAN_BOLTZMANN;
        let (t_flame, t_walls) = (hot.flame_k, hot.seen_k);
        let mut heat = CoilHeat::default();
        for tube in coil.first_tube_cell..coil.first_tube_cell + coil.cells {
            let t = s.face_t_k[tube];
            let t4 = t.powi(4);
            let to_films = h + sees * (t_flame * t_flame + t * t) * (t_flame + t);
            let exposed = coil.area_m2 * coil.exposed_share / (1.0 + to_films * coil.fouling_m2k_w);
            let flame = exposed * (h * (t_flame - t) + sees * eps_f * (t_flame.powi(4) - t4));
            let lining = exposed * sees * (1.0 - eps_f) * (t_walls.powi(4) - t4);
            s.face_heat_w[tube] += flame + lining;
            heat.from_flame_w += flame;
            heat.from_lining_w += lining;
            heat.slope_w_k += exposed * (h + sees * eps_f * 4.0 * t_flame * t_flame * t_flame);
        }
        heat
    }
}
