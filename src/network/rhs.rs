//! The right-hand side: bed → chamber → gas path → draught, then water, vessel and the ledger integrals.

use super::fuel::*;
use super::layout::*;
use super::observe::{Instant, MAX_SECTIONS};
use super::{Network, Scratch};
use crate::components::bed::{self, BedSurroundings};
use crate::components::gas_path::{
    self, GasStream, MIXING_CONSTANT, PathConditions, reaction_share,
};
use crate::components::spec::{FireboxKind, StickShape};
use crate::components::wall::outside_loss_w;
use crate::correlations::radiation::{STEFAN_BOLTZMANN, WsggWeights};
use crate::correlations::{charring, combustion, draught, evaporation, pump};
use crate::integrate::OdeSystem;
use crate::properties::gas::{Composition, GasMix};

/// Air that a cold or reversed stove still draws, kg/s: the march never runs on nothing.
pub const LEAK_AIR_KG_S: f64 = 2e-4;
/// Share of the char's heat that stays in the embers: the surface reaction C → CO gives 28 % of it, and about
/// half of the CO burns within the boundary layer (estimate; the rest heats the gas).
const EMBER_SHARE: f64 = 0.6;
/// Share of the flame over burning wood that burns in hot sheets of its own however cold the mean gas is (estimate:
/// with it a small cold fire leaves 10..25 % unburnt, a hot one 1..3 %, common practice, no source).
const SHEET_SHARE: f64 = 0.7;
/// Burning surface at which half of that is reached: a splinter's flame is blown out, a stick's is not, m2.
const SHEET_AREA_M2: f64 = 0.02;
/// Temperature of flame sheets between burning sticks (measured crib flames 1100..1300 K; from memory: Drysdale ch. 4).
const SHEET_K: f64 = 1150.0;
/// Temperature of char as it falls off a burning stick, and its specific heat.
const FRONT_CHAR_K: f64 = 900.0;
const CHAR_C_J_KGK: f64 = 1500.0;
/// Size of glowing char pieces, m, and density, kg/m3.
const EMBER_M: f64 = 0.02;
const EMBER_KG_M3: f64 = 250.0;
/// Heat of CO + ½O2 → CO2 per kg of carbon: 282.98 kJ/mol (CODATA) over 12.011 g/mol.
const CO_J_KG_CARBON: f64 = 23.56e6;
/// Part of the volatiles' unburnt energy that is CO (rest: hydrocarbons), for the CO estimate.
const CO_SHARE: f64 = 0.5;

impl OdeSystem for Network {
    fn len(&self) -> usize {
        self.layout.len()
    }

    fn state_name(&self, i: usize) -> String {
        self.layout.names[i].clone()
    }

    fn atol_factor(&self, i: usize) -> f64 {
        let l = &self.layout;
        if i == l.flame {
            // It forgets an error within its own few seconds, which are inflated anyway.
            100.0
        } else {
            self.rtol_factor(i)
        }
    }

    fn rtol_factor(&self, i: usize) -> f64 {
        let l = &self.layout;
        // The store is what a run is for, and it forgets nothing.
        if (l.layers..l.layers + l.layer_count).contains(&i) {
            0.1
        } else {
            1.0
        }
    }

    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        let mut guard = self.scratch.borrow_mut();
        let s = &mut *guard;
        s.instant = Instant::default();
        for d in dy.iter_mut() {
            *d = 0.0;
        }
        let t_air = self.rig.site.air_temperature_k.at(t_s);
        self.unpack(y, s);
        self.fire_side(t_s, t_air, y, dy, s);
        self.water_side(t_air, y, dy, s);
        self.wall_rates(t_air, dy, s);
    }
}

impl Network {
    /// Temperatures of all nodes.
    pub(super) fn unpack(&self, y: &[f64], s: &mut Scratch) {
        let l = &self.layout;
        let w0 = l.walls;
        let fw = self.firebox.wall.len();
        self.firebox
            .wall
            .temperatures(&y[w0..w0 + fw], &mut s.wall_t_k[..fw]);
        for d in &self.ducts {
            let n = d.wall.len();
            for c in 0..d.wall_cells {
                let at = d.wall_state + c * n;
                d.wall
                    .temperatures(&y[at..at + n], &mut s.wall_t_k[at - w0..at - w0 + n]);
            }
        }
        for h in s.wall_heat_w.iter_mut() {
            *h = 0.0;
        }
        for (i, tube) in self.tubes.iter().enumerate() {
            let kg = tube
                .inventory
                .map_or(tube.water_kg, |k| y[l.inventory + k] * tube.water_kg);
            s.tube_t_k[i] = tube.temperature_k(
                self.water,
                y[l.tubes + i] * tube.scale_j_k() * T_SCALE_K,
                kg,
            );
            s.tube_heat_w[i] = 0.0;
        }
        for i in 0..l.layer_count {
            s.layer_t_k[i] = self.layer_k(y, i);
        }
    }

    /// Free area for air, m2: mouth less sticks and cover, inlets, leaks.
    fn free_inlet_m2(&self, y: &[f64]) -> f64 {
        let f = &self.rig.firebox;
        let c = &self.rig.closures;
        let leak = c.leakage_share * (f.mouth_area_m2 + f.air_inlet_area_m2);
        let mouth = match f.kind {
            FireboxKind::FeedTube => {
                // Round sticks take up the corners between them too (4/π, less what their leaning closes), square ones lie
                // close (common practice, no source).
                let packing = match self.rig.fuel.stick.shape {
                    StickShape::Round => 1.2,
                    StickShape::Square => 1.05,
                };
                let sticks: f64 = (0..COHORTS)
                    .map(|k| {
                        self.mode.cohorts[k]
                            .mouth_section_m2(y[self.layout.virgin + k], f.burning_length_m)
                    })
                    .sum();
                let free = f.mouth_area_m2 * (1.0 - f.mouth_cover) - packing * sticks;
                // Never quite shut: 4 % of the mouth stays open between sticks, reached smoothly.
                let least = 0.04 * f.mouth_area_m2;
                least
                    + 0.5
                        * (free - least
                            + ((free - least).powi(2) + (0.05 * f.mouth_area_m2).powi(2)).sqrt())
            }
            FireboxKind::Door => 0.0,
        };
        let door = if self.mode.door_open && f.kind == FireboxKind::Door {
            f.mouth_area_m2
        } else {
            0.0
        };
        c.inlet_area * (self.mode.air_inlet * (mouth + f.air_inlet_area_m2) + door) + leak
    }

    fn fire_side(&self, _t_s: f64, t_air: f64, y: &[f64], dy: &mut [f64], s: &mut Scratch) {
        let l = &self.layout;
        let c = &self.rig.closures;
        let fb = &self.firebox;
        let rig = &self.rig;
        let fuel = &self.fuel;
        let w0 = l.walls;

        let m_raw = y[l.air] * AIR_SCALE_KG_S;
        // Smooth floor: a reversed or dead draught leaves the leak.
        let m_air = 0.5 * (m_raw + (m_raw * m_raw + 4.0 * LEAK_AIR_KG_S * LEAK_AIR_KG_S).sqrt());
        let t_flame = (T_REF_K + y[l.flame] * T_SCALE_K).clamp(200.0, 2800.0);
        let t_embers = (T_REF_K + y[l.embers] * T_SCALE_K).clamp(200.0, 2800.0);
        let t_lining = s.wall_t_k[0];
        let char_kg = y[l.char_kg].max(0.0);
        let humidity = 0.622 * self.vapour_pa / (self.p_air_pa - self.vapour_pa);
        let rho_air = self.p_air_pa / (self.air_mix.r_j_kgk() * t_air);

        // --- Bed ---
        let lb = rig.firebox.burning_length_m;
        let mut lit_area = 0.0;
        let mut plan_area = 0.0;
        for k in 0..COHORTS {
            let co = &self.mode.cohorts[k];
            if co.dry_kg <= 0.0 {
                continue;
            }
            let a = co.burning_area_m2(y[l.virgin + k], lb);
            plan_area += 0.3 * a;
            lit_area += a * bed::lit_share(y[l.kindled + k]);
        }
        let covered = plan_area / (plan_area + fb.floor_m2);
        // Air reaching the sticks against what their burning area would use at 8 g/m2s of volatiles: a pile
        // with less air than that loses its own flames.
        let wanted = 0.008 * lit_area * fuel.stoich_air_volatile;
        let oxygen = m_air * m_air / (m_air * m_air + 0.25 * wanted * wanted);
        let flame_share = bed::pile_share(lit_area, fb.volume_m3, oxygen);
        let sheet_share = SHEET_SHARE * oxygen * lit_area / (lit_area + SHEET_AREA_M2);
        // Emissivity of the chamber for the sticks' view: nominal wood gas (10 % CO2, 12 % H2O); their flux hardly
        // depends on it, since what the gas does not send the lining does.
        let eps_view = (c.emissivity
            * self
                .nominal_gas
                .emissivity_with_soot(t_flame, fb.beam_m, c.flame_soot_per_m))
        .min(0.95);
        let chamber_flux =
            STEFAN_BOLTZMANN * (eps_view * t_flame.powi(4) + (1.0 - eps_view) * t_lining.powi(4));
        let ember_cover = char_kg / (char_kg + 0.15 * fb.floor_m2 / 0.045);
        let ember_flux = STEFAN_BOLTZMANN * t_embers.powi(4);
        // Sticks lie on the hearth: it is part of their view whether glowing, hot brick or cold.
        let view_embers = 0.4;
        let around_pile = (1.0 - view_embers) * chamber_flux + view_embers * ember_flux;
        let flux = bed::PILE_FLUX_W_M2 * flame_share
            + (1.0 - flame_share) * around_pile
            + 15.0 * (t_flame - 600.0).max(0.0)
            - 0.3 * STEFAN_BOLTZMANN * t_air.powi(4);
        let around = BedSurroundings {
            flux_w_m2: flux.max(0.0),
            burning_length_m: lb,
        };
        let mut dry = 0.0;
        let mut moisture = 0.0;
        let mut fuel_sensible = 0.0;
        for k in 0..COHORTS {
            let co = &self.mode.cohorts[k];
            let r = bed::cohort_rates(co, y[l.virgin + k], y[l.kindled + k], &around, c.bed_rate);
            dy[l.virgin + k] = r.dv_per_s;
            dy[l.kindled + k] = r.dg_per_s;
            dry += r.dry_kg_s;
            moisture += r.dry_kg_s * co.water_per_dry;
            fuel_sensible += r.dry_kg_s * co.sensible_j_kg;
        }
        let starter = if self.mode.starter_on {
            rig.lighting.starter_j / rig.lighting.starter_s / fuel.gross_j_kg
        } else {
            0.0
        };

        // --- Embers ---
        let air_volatile = fuel.stoich_air_volatile * dry + fuel.stoich_air * starter;
        // Volatiles burn first; what oxygen they leave reaches the embers (a third always does: air enters low).
        let y_o2 = AIR_O2 * (1.0 - 0.67 * air_volatile / (air_volatile + m_air));
        let gas_velocity = m_air / (rho_air * fb.flow_area_m2) * t_embers / t_air;
        let ember_gas = charring::CharGas {
            y_o2,
            rho_kg_m3: self.p_air_pa / (287.05 * t_embers),
            velocity_m_s: gas_velocity,
            // Air at ember temperature: ν ~ T^1.7, D(O2) ~ T^1.75 from 293 K (handbook fits, within 5 %).
            nu_m2_s: 1.51e-5 * (t_embers / 293.0).powf(1.7) * 101_325.0 / self.p_air_pa,
            diffusivity_m2_s: 2.0e-5 * (t_embers / 293.0).powf(1.75) * 101_325.0 / self.p_air_pa,
        };
        let flux_char = charring::char_burn_flux_kg_m2s(t_embers, EMBER_M, &ember_gas);
        // Ember surface that air reaches: at most three layers over the hearth.
        let reach = 3.0 * fb.floor_m2;
        let all = 6.0 * char_kg / (EMBER_KG_M3 * EMBER_M);
        let char_free = c.char_rate * flux_char * all * reach / (all + reach);
        // Never more than four fifths of the oxygen that comes in.
        let char_cap = 0.8 * y_o2 * m_air / O2_PER_C;
        let burnt_char = char_free * char_cap / (char_free + char_cap + 1e-12);
        dy[l.char_kg] = fuel.char_yield * dry - burnt_char;

        // --- Gas ---
        let carbon = fuel.carbon_volatile * dry + fuel.carbon * starter + burnt_char;
        let hydrogen = fuel.hydrogen * (dry + starter);
        let oxygen_fuel = fuel.oxygen * (dry + starter);
        let o2_need = carbon * O2_PER_C + hydrogen * O2_PER_H - oxygen_fuel;
        let stoich = o2_need / AIR_O2;
        let o2_air = AIR_O2 * m_air;
        // Share of the fuel gas that the oxygen present could burn; composition follows it.
        let possible = if o2_need > 0.95 * o2_air {
            1.0 / (1.0 + ((o2_need / o2_air) - 0.95))
        } else {
            1.0
        };
        let m_fuel_gas = fuel.volatile_mass * dry + (1.0 - fuel.ash) * starter + burnt_char;
        let m_h2o_fuel = moisture + fuel.water_from_hydrogen * (dry + starter);
        let m_h2o_gas =
            moisture + humidity * m_air + possible * fuel.water_from_hydrogen * (dry + starter);
        let m_dry_air = m_air;
        let m_gas = m_dry_air * (1.0 + humidity) + m_fuel_gas + moisture;
        let co2 = (possible * carbon * CO2_PER_C + AIR_CO2 * m_dry_air) / m_gas;
        let o2 = ((o2_air - possible * o2_need) / m_gas).max(0.0);
        let h2o = m_h2o_gas / m_gas;
        let ar = AIR_AR * m_dry_air / m_gas;
        let comp = Composition {
            n2: (1.0 - co2 - o2 - h2o - ar).max(0.0),
            o2,
            co2,
            h2o,
            ar,
            co: 0.0,
        };
        let mix = GasMix::new(&comp);
        let rgas = mix.r_j_kgk();
        // Mole fractions from mass fractions: x = w R_mix... (R_i / R)
        let x_h2o = h2o * 461.52 / rgas;
        let x_co2 = co2 * 188.92 / rgas;
        let x_o2 = o2 * 259.84 / rgas;
        let atm = self.p_air_pa / 101_325.0;
        let wsgg = WsggWeights::new((x_h2o * atm).max(1e-4), (x_co2 * atm).max(1e-4));
        let lambda = m_air / stoich.max(1e-9);

        // --- Heat release ---
        let volatile_w = fuel.volatile_net_j_kg * dry + fuel.net_j_kg * starter;
        // Moisture is evaporated at the front: its latent heat is part of what leaves up the stack.
        let char_w = CHAR_J_KG * burnt_char;
        // Char gives off CO first; what the chamber is too cold to burn of it goes on as unburnt gas.
        let co_ratio = charring::co_to_co2_ratio(t_embers);
        let char_co_w = CO_J_KG_CARBON * burnt_char * co_ratio / (1.0 + co_ratio)
            * (1.0 - reaction_share(0.5 * (t_embers + t_flame)));
        let floor_share = combustion::shortage(lambda.min(50.0), c.unmixedness).min(0.95);
        let unburnt_floor_w = floor_share * volatile_w;
        let react = sheet_share + (1.0 - sheet_share) * reaction_share(t_flame);
        // In the chamber fuel comes off all over the floor, between sticks: it mixes over a quarter of the width.
        let kt = fb.volume_m3
            / (MIXING_CONSTANT * c.mixing_time * 0.25 * fb.hydraulic_m * fb.flow_area_m2)
            * react;
        // The flame rises through the chamber: two mixed volumes in series, between stirred tank and plug flow.
        let left = 1.0 / (1.0 + 0.5 * kt);
        let released_chamber = (volatile_w - unburnt_floor_w) * (1.0 - left * left);

        // --- Chamber balance ---
        let air_enthalpy_w = m_air * (1.0 + humidity) * self.air_mix.h_j_kg(t_air);
        let h_flame = mix.h_j_kg(t_flame);
        let mu = mix.mu_pa_s(t_flame);
        let re = m_gas * fb.hydraulic_m / (fb.flow_area_m2 * mu);
        let [nu, _] = fb.table.at(re);
        let soot = c.flame_soot_per_m * volatile_w / (volatile_w + 1.0);
        let eps_f = (c.emissivity * wsgg.emissivity_with_soot(t_flame, fb.beam_m, soot)).min(0.95);
        let k_gas = mix.k_w_mk(t_flame);
        let h_lining = c.duct_convection * nu * k_gas / fb.hydraulic_m
            + gas_path::grey_exchange(eps_f, fb.wall.inner_emissivity)
                * STEFAN_BOLTZMANN
                * (t_flame * t_flame + t_lining * t_lining)
                * (t_flame + t_lining);
        let r_in = fb.wall.nodes[0].resistance_in_k_w(t_lining);
        let flame_to_lining = (t_flame - t_lining) / (1.0 / (h_lining * fb.lining_m2) + r_in);
        // Embers: convection to the gas, radiation to sticks above them and to the lining.
        let h_embers = mix.k_w_mk(t_flame) / EMBER_M
            * (2.0
                + 0.6
                    * (gas_velocity * EMBER_M * self.p_air_pa / (rgas * t_flame) / mu).sqrt()
                    * 0.89);
        // Only the embers that lie open lose heat; ash and neighbours shield the rest.
        let glow_m2 = fb.floor_m2 * (0.1 + 0.6 * ember_cover);
        let a_embers = 2.0 * glow_m2;
        // Under a burning pile the embers sit in its flames, not in the mean gas of the chamber.
        let t_local = t_flame + flame_share * (SHEET_K - t_flame).max(0.0);
        let embers_to_gas = h_embers * a_embers * (t_embers - t_local);
        // Char falls off the sticks as hot as its front left it.
        let hot_char_w = fuel.char_yield * dry * CHAR_C_J_KGK * (FRONT_CHAR_K - T_REF_K);
        let emit = 0.9 * STEFAN_BOLTZMANN * glow_m2;
        // Stick surfaces at the temperature of charring wood.
        let embers_to_sticks =
            emit * covered * 0.4 * (t_embers.powi(4) - 650.0f64.powi(4)).max(0.0);
        let embers_to_lining =
            emit * (1.0 - 0.4 * covered) * (1.0 - eps_f) * (t_embers.powi(4) - t_lining.powi(4));
        let embers_to_flame =
            emit * (1.0 - 0.4 * covered) * eps_f * (t_embers.powi(4) - t_flame.powi(4));
        // The pile's own flames light and keep the embers under them.
        let flames_to_embers = 0.3
            * flame_share
            * glow_m2
            * (bed::PILE_FLUX_W_M2 - STEFAN_BOLTZMANN * t_embers.powi(4));
        // Mouth and open door radiate out.
        let free_m2 = self.free_inlet_m2(y);
        let out4 = STEFAN_BOLTZMANN * free_m2 * 0.5;
        let opening_flame = out4 * eps_f * (t_flame.powi(4) - t_air.powi(4));
        let opening_lining = out4 * (1.0 - eps_f) * (t_lining.powi(4) - t_air.powi(4));

        let latent_moisture_w = LATENT_J_KG * moisture;
        let mut gas = GasStream {
            mdot_kg_s: m_gas,
            h_j_kg: h_flame,
            t_k: t_flame,
            unburnt_w: volatile_w - released_chamber + char_co_w,
        };

        // Radiation of the chamber to a coil that stands right behind it.
        let mut chamber_to_turns = 0.0;
        let mut path_first_turns = [0.0f64; 2];
        if let Some(b) = &self.ducts[0].bank {
            for (j, q) in path_first_turns.iter_mut().enumerate() {
                let cell = tube_of(b, self.ducts[0].cells, j.min(self.ducts[0].cells - 1));
                let t = s.tube_t_k[cell];
                *q = 0.5
                    * c.coil_radiation
                    * b.mouth_view_m2
                    * STEFAN_BOLTZMANN
                    * (eps_f * t_flame.powi(4) + (1.0 - eps_f) * t_lining.powi(4) - t.powi(4));
                s.tube_heat_w[cell] += *q;
                chamber_to_turns += *q;
            }
        }

        let flame_heat_w = air_enthalpy_w + fuel_sensible + released_chamber - latent_moisture_w
            + (1.0 - EMBER_SHARE) * char_w
            - char_co_w
            + embers_to_gas
            + embers_to_sticks
            + embers_to_flame
            - flames_to_embers
            - hot_char_w
            - flame_to_lining
            - opening_flame
            - eps_f * chamber_to_turns
            - m_gas * h_flame;
        dy[l.flame] = flame_heat_w / (fb.flame_j_k * T_SCALE_K);
        dy[l.embers] = (EMBER_SHARE * char_w + flames_to_embers + hot_char_w
            - embers_to_gas
            - embers_to_sticks
            - embers_to_lining
            - embers_to_flame)
            / (fb.embers_j_k * T_SCALE_K);
        s.wall_heat_w[0] +=
            flame_to_lining + embers_to_lining - opening_lining - (1.0 - eps_f) * chamber_to_turns;

        // --- Gas path ---
        let cond = PathConditions {
            mix: &mix,
            wsgg: &wsgg,
            pressure_pa: self.p_air_pa,
            density_air_kg_m3: rho_air,
            unburnt_floor_w,
            volatile_w,
            sheet_share,
            mixing_time: c.mixing_time,
            duct_convection: c.duct_convection,
            bank_exposure: c.bank_exposure,
            emissivity: c.emissivity,
            flame_soot_per_m: c.flame_soot_per_m,
            gas_friction: c.gas_friction,
        };
        let rho_flame = self.p_air_pa / (rgas * t_flame);
        let v_in = m_air / (rho_air * free_m2);
        let inlet_loss = c.gas_friction * rig.firebox.inlet_loss_k * 0.5 * rho_air * v_in * v_in;
        let mut drive = 9.80665 * fb.height_m * (rho_air - rho_flame)
            + draught::cap_wind_suction_pa(rig.site.wind_m_s, rho_air);
        let mut loss = inlet_loss;
        let mut into_walls = flame_to_lining + embers_to_lining - opening_lining;
        let mut to_coil = chamber_to_turns;
        let mut condensate = 0.0;
        let mut vapour_left = h2o * m_gas;
        let (mut below, mut above) = (f64::NAN, f64::NAN);
        let mut gi = 0;
        for (di, d) in self.ducts.iter().enumerate() {
            if d.is_damper {
                let k = draught::damper_loss_k(self.mode.damper);
                let v = m_gas * rgas * gas.t_k / (self.p_air_pa * d.area_m2);
                loss += c.gas_friction * k * 0.5 * self.p_air_pa / (rgas * gas.t_k) * v * v;
            }
            if let Some(curve) = &d.fan {
                drive += pump::interpolate_curve(curve, m_gas * rgas * gas.t_k / self.p_air_pa);
            }
            let per = d.cells / d.wall_cells;
            let nodes = d.wall.len();
            if let Some(b) = &d.bank {
                if below.is_nan() {
                    below = gas.t_k;
                }
                // The section before radiates into the first turns: gas share from the stream, the rest from its last wall cell.
                if di > 0 {
                    let before = &self.ducts[di - 1];
                    let wall_at =
                        before.wall_state - w0 + (before.wall_cells - 1) * before.wall.len();
                    let t_wall = s.wall_t_k[wall_at];
                    let eps = (c.emissivity
                        * wsgg.emissivity_with_soot(gas.t_k, before.beam_m, 0.0))
                    .min(0.95);
                    let mut from_gas = 0.0;
                    for j in 0..2usize.min(d.cells) {
                        let cell = tube_of(b, d.cells, j);
                        let t4 = s.tube_t_k[cell].powi(4);
                        let g = 0.5 * c.coil_radiation * b.mouth_view_m2 * STEFAN_BOLTZMANN;
                        let qg = g * eps * (gas.t_k.powi(4) - t4);
                        let qw = g * (1.0 - eps) * (t_wall.powi(4) - t4);
                        s.tube_heat_w[cell] += qg + qw;
                        s.wall_heat_w[wall_at] -= qw;
                        into_walls -= qw;
                        from_gas += qg;
                        to_coil += qg + qw;
                    }
                    let cp = mix.cp_j_kgk(gas.t_k);
                    gas.add_heat(&mix, -from_gas, cp);
                }
            }
            for j in 0..d.cells {
                let wall_at = d.wall_state - w0 + (j / per) * nodes;
                let t_wall = s.wall_t_k[wall_at];
                let (tube, t_turns) = match &d.bank {
                    Some(b) => {
                        let cell = tube_of(b, d.cells, j);
                        (cell, s.tube_t_k[cell])
                    }
                    None => (0, 0.0),
                };
                let r = gas_path::pass_cell(d, &cond, &mut gas, t_wall, t_turns);
                drive += r.buoyancy_pa;
                loss += r.loss_pa;
                let mut wall_heat = r.to_wall_w;
                if let Some(b) = &d.bank {
                    let q = c.coil_radiation
                        * b.shell_view_m2
                        * STEFAN_BOLTZMANN
                        * (r.wall_surface_k.powi(4) - t_turns.powi(4));
                    wall_heat -= q;
                    let mut turns = r.to_turns_w + q;
                    // Water of the gas condenses on turns below its dew point (Lewis analogy).
                    if t_turns < 340.0 && vapour_left > 0.0 {
                        let p_s = self.water.p_sat_pa(t_turns);
                        let p_v = x_h2o * self.p_air_pa * vapour_left / (h2o * m_gas).max(1e-12);
                        if p_v > p_s {
                            let side = evaporation::MassTransferGas {
                                cp_j_kgk: mix.cp_j_kgk(gas.t_k),
                                molar_mass_kg_mol: 8.314_462_6 / rgas,
                                lewis: 0.87,
                                p_total_pa: self.p_air_pa,
                            };
                            let flux = evaporation::mass_flux_from_h_kg_m2s(
                                r.turns_h_w_m2k,
                                p_v,
                                p_s,
                                &side,
                            );
                            let want = flux * b.area_m2;
                            let m = want * vapour_left / (want + vapour_left);
                            vapour_left -= m;
                            condensate += m;
                            turns += m * LATENT_J_KG;
                        }
                    }
                    s.tube_heat_w[tube] += turns;
                    to_coil += turns;
                }
                s.wall_heat_w[wall_at] += wall_heat;
                into_walls += wall_heat;
                s.gas_t_k[gi] = r.t_mean_k;
                gi += 1;
            }
            if d.bank.is_some() {
                above = gas.t_k;
            }
            if di < MAX_SECTIONS {
                s.instant.section_exit_k[di] = gas.t_k;
            }
        }

        // --- Draught: the air column follows its balance within its inflated inertia ---
        let resistance = loss / (m_air * m_air);
        let m_eq = drive / (resistance * (drive.abs() + 0.05)).sqrt();
        dy[l.air] = (m_eq.max(0.0) - m_raw) / (rig.solver.air_inertia_s * AIR_SCALE_KG_S);

        // --- Record ---
        let i = &mut s.instant;
        i.air_kg_s = m_air;
        i.stoich_air_kg_s = stoich;
        i.air_ratio = if stoich > 1e-6 { lambda } else { f64::NAN };
        i.flame_k = t_flame;
        i.embers_k = t_embers;
        i.below_coil_k = below;
        i.above_coil_k = above;
        i.stack_k = gas.t_k;
        i.draught_pa = drive;
        i.drive_pa = drive;
        i.dry_wood_kg_s = dry;
        i.char_kg_s = burnt_char;
        i.net_burnt_w = volatile_w - latent_moisture_w + char_w;
        i.unburnt_w = gas.unburnt_w;
        i.stack_sensible_w = m_gas * gas.h_j_kg;
        i.air_enthalpy_w = air_enthalpy_w;
        i.stack_latent_w = LATENT_J_KG * (m_h2o_fuel - condensate);
        i.opening_w = opening_flame + opening_lining;
        i.into_walls_w = into_walls;
        i.to_coil_w = to_coil;
        i.condensate_kg_s = condensate;
        i.free_inlet_m2 = free_m2;
        i.free_lining_k = t_lining;
        let dry_share = (1.0 - x_h2o).max(1e-3);
        i.o2_dry = x_o2 / dry_share;
        i.co2_dry = x_co2 / dry_share;
        // CO from the unburnt energy: 10.1 MJ/kg net, R = 296.8 J/kgK.
        let co_part = (CO_SHARE * volatile_w + char_co_w) / (volatile_w + char_co_w + 1e-9);
        i.co_dry = co_part * gas.unburnt_w / 10.1e6 / m_gas * 296.8 / rgas / dry_share;

        let q = |x: Integral| l.integral(x);
        dy[q(Integral::AirEnthalpy)] = air_enthalpy_w / E_SCALE_J;
        dy[q(Integral::StackSensible)] = m_gas * gas.h_j_kg / E_SCALE_J;
        dy[q(Integral::StackLatent)] = LATENT_J_KG * m_h2o_fuel / E_SCALE_J;
        dy[q(Integral::CondensateLatent)] = LATENT_J_KG * condensate / E_SCALE_J;
        dy[q(Integral::Unburnt)] = gas.unburnt_w / E_SCALE_J;
        dy[q(Integral::Opening)] = (opening_flame + opening_lining) / E_SCALE_J;
        dy[q(Integral::NetBurnt)] = i.net_burnt_w / E_SCALE_J;
        dy[q(Integral::AirIn)] = m_air * (1.0 + humidity);
        // Air while wood burns: the hours of cooling afterwards say nothing about the fire.
        dy[q(Integral::FireAir)] = m_air * (1.0 + humidity) * (i.net_burnt_w / 1e3).clamp(0.0, 1.0);
        dy[q(Integral::StoichAir)] = stoich.max(0.0);
        dy[q(Integral::GasOut)] = m_gas;
        dy[q(Integral::CarbonOut)] = carbon;
        dy[q(Integral::FuelWaterOut)] = m_h2o_fuel;
        dy[q(Integral::Condensate)] = condensate;
        dy[q(Integral::StackT)] = gas.t_k / TINT_SCALE_KS;
        dy[q(Integral::ChamberT)] = t_flame / TINT_SCALE_KS;
        dy[q(Integral::BelowT)] = if below.is_nan() {
            0.0
        } else {
            below / TINT_SCALE_KS
        };
        dy[q(Integral::AboveT)] = if above.is_nan() {
            0.0
        } else {
            above / TINT_SCALE_KS
        };
        dy[q(Integral::OxygenTime)] = i.o2_dry / Integral::OxygenTime.scale();
        dy[q(Integral::CoTime)] = i.co_dry;
    }

    /// Conduction through the walls and loss outside, once all heat into their inner faces is known.
    fn wall_rates(&self, t_air: f64, dy: &mut [f64], s: &mut Scratch) {
        let w0 = self.layout.walls;
        let loss_multiplier = self.rig.closures.casing_loss;
        let mut casing = 0.0;
        let mut flue_min = f64::INFINITY;
        let fw = &self.firebox.wall;
        let n = fw.len();
        let out = outside_loss_w(
            fw,
            &self.firebox.outside,
            loss_multiplier,
            s.wall_t_k[n - 1],
            t_air,
        );
        casing += out;
        fw.rates(&s.wall_t_k[..n], s.wall_heat_w[0], out, &mut dy[w0..w0 + n]);
        for d in &self.ducts {
            let n = d.wall.len();
            for c in 0..d.wall_cells {
                let at = d.wall_state - w0 + c * n;
                let out = outside_loss_w(
                    &d.wall,
                    &d.outside,
                    loss_multiplier,
                    s.wall_t_k[at + n - 1],
                    t_air,
                );
                casing += out;
                d.wall.rates(
                    &s.wall_t_k[at..at + n],
                    s.wall_heat_w[at],
                    out,
                    &mut dy[w0 + at..w0 + at + n],
                );
                if d.is_flue {
                    flue_min = flue_min.min(s.wall_t_k[at]);
                }
            }
        }
        s.instant.casing_w = casing;
        s.instant.flue_wall_min_k = flue_min;
        dy[self.layout.integral(Integral::Casing)] = casing / E_SCALE_J;
    }
}

/// Tube cell that gas cell `j` faces.
#[inline]
pub(super) fn tube_of(b: &gas_path::Bank, cells: usize, j: usize) -> usize {
    b.first_tube_cell + if b.reversed { cells - 1 - j } else { j }
}
