//! The gas on its way through the sections: burn-out, heat to walls and turns, condensation, buoyancy and loss.

use super::bed_side::BedNow;
use super::chamber::Chamber;
use super::fuel_gas::FuelGas;
use super::{AirNow, CO_SHARE, Hot};
use crate::components::gas_path::{
    self, Bank, Duct, GasCell, GasStream, PathConditions, SectionGas,
};
use crate::correlations::radiation::STEFAN_BOLTZMANN;
use crate::correlations::{draught, evaporation, greater, pump, smoothstep};
use crate::network::fuel::{CHAR_J_KG, LATENT_J_KG};
use crate::network::layout::DEPOSIT_SCALE_KG;
use crate::network::observe::MAX_SECTIONS;
use crate::network::path_cells::{face_k, warm};
use crate::network::{Network, Scratch};

/// Shares of unburnt hydrocarbons that pass the coil as particles and as tar that condenses (orders of magnitude, from
/// memory: wood smoke; the prior of `fouling_rate` covers them).
const PARTICLES: f64 = 0.3;
const TAR: f64 = 0.2;
/// Thermophoretic coefficient × Prandtl number for soot in hot gas (Talbot et al. 1980 gives about 0.55; from memory).
const THERMOPHORESIS: f64 = 0.4;
/// Wall temperature about which wood tar condenses from flue gas, and the width of the change, K (120..150 °C, from memory).
const TAR_DEW_K: f64 = 410.0;
const TAR_WIDTH_K: f64 = 40.0;

/// Share of the hydrocarbons passing one cell that stay on its turns: particles drift down the temperature gradient
/// (share K Pr ΔT/T of them while the gas cools by ΔT at the turns), tar diffuses like heat to walls below its dew point.
#[inline]
fn deposit_share(r: &GasCell, b: &Bank, per_mcp_k_w: f64, t_turns_k: f64) -> f64 {
    let cooled = greater(r.to_turns_w * per_mcp_k_w / r.t_mean_k, 0.0);
    let cold = smoothstep(0.5 + (TAR_DEW_K - t_turns_k) * (0.5 / TAR_WIDTH_K));
    let transfer = r.turns_h_w_m2k * b.area_m2 * per_mcp_k_w;
    PARTICLES * THERMOPHORESIS * cooled + TAR * cold * transfer / (1.0 + transfer)
}

/// Vapour of the gas before any of it has condensed.
struct Dew {
    /// Dew point.
    t_k: f64,
    /// Vapour pressure over vapour flow.
    pa_per_kg_s: f64,
    /// With a heat capacity of one.
    side: evaporation::MassTransferGas,
}

#[inline]
fn fourth(t_k: f64) -> f64 {
    let t2 = t_k * t_k;
    t2 * t2
}

/// The whole path at one moment.
pub(super) struct PathNow {
    pub drive_pa: f64,
    pub loss_pa: f64,
    /// Heat into the walls of the sections, and into coils (with what they get from chamber and walls), W.
    pub into_walls_w: f64,
    pub to_coil_w: f64,
    pub condensate_kg_s: f64,
    /// Dew point of the gas as it comes.
    pub dew_k: f64,
    /// Soot and tar that stay on the turns, as carbon, kg/s.
    pub deposit_kg_s: f64,
    /// Gas below and above the coils; NaN without one.
    pub below_k: f64,
    pub above_k: f64,
}

impl Network {
    #[allow(clippy::too_many_arguments)] // the path stands on every step before it
    pub(super) fn gas_path(
        &self,
        air: &AirNow,
        hot: &Hot,
        bed: &BedNow,
        fuel_gas: &FuelGas,
        chamber: &Chamber,
        gas: &mut GasStream,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> PathNow {
        let c = &self.rig.closures;
        let mix = &fuel_gas.mix;
        let m_gas = fuel_gas.m_kg_s;
        let rgas = mix.r_j_kgk();
        let w0 = self.layout.walls;
        let cond = PathConditions {
            mix,
            pressure_pa: self.p_air_pa,
            density_air_kg_m3: air.rho_kg_m3,
            unburnt_floor_w: fuel_gas.unburnt_floor_w,
            per_volatile_w: 1.0 / (fuel_gas.volatile_w + 1.0),
            sheet_share: bed.sheet_share,
            mixing_time: c.mixing_time,
            duct_convection: c.duct_convection,
            bank_exposure: c.bank_exposure,
            emissivity: c.emissivity,
            flame_soot_per_m: c.flame_soot_per_m,
            gas_friction: c.gas_friction,
        };
        let rho_flame = self.p_air_pa / (rgas * hot.flame_k);
        let v_in = air.kg_s / (air.rho_kg_m3 * air.free_m2);
        let mut now = PathNow {
            drive_pa: 9.80665 * self.firebox.height_m * (air.rho_kg_m3 - rho_flame)
                + draught::cap_wind_suction_pa(self.rig.site.wind_m_s, air.rho_kg_m3),
            loss_pa: c.gas_friction
                * self.rig.firebox.inlet_loss_k
                * 0.5
                * air.rho_kg_m3
                * v_in
                * v_in,
            into_walls_w: 0.0,
            to_coil_w: chamber.to_turns_w + chamber.to_coil_w,
            condensate_kg_s: 0.0,
            dew_k: 0.0,
            deposit_kg_s: 0.0,
            // A coil in the chamber sits in the flame; behind it the gas leaves as hot as that.
            below_k: self.firebox.coil.as_ref().map_or(f64::NAN, |_| hot.flame_k),
            above_k: self.firebox.coil.as_ref().map_or(f64::NAN, |_| hot.flame_k),
        };
        let mut vapour_left = fuel_gas.vapour_kg_s;
        let dew = self.dew(fuel_gas);
        now.dew_k = dew.t_k;
        let mut gi = 0;
        for (di, d) in self.ducts.iter().enumerate() {
            if d.is_damper {
                let k = draught::damper_loss_k(self.mode.damper);
                let v = m_gas * rgas * gas.t_k / (self.p_air_pa * d.area_m2);
                now.loss_pa += c.gas_friction * k * 0.5 * self.p_air_pa / (rgas * gas.t_k) * v * v;
            }
            if let Some(curve) = d.fan.as_ref().filter(|_| self.mode.fan_on) {
                now.drive_pa +=
                    pump::interpolate_curve(curve, m_gas * rgas * gas.t_k / self.p_air_pa);
            }
            let per = d.cells / d.wall_cells;
            let nodes = d.wall.len();
            if (d.bank.is_some() || d.wrap.is_some()) && now.below_k.is_nan() {
                now.below_k = gas.t_k;
            }
            if let (Some(b), true) = (&d.bank, di > 0) {
                self.look_back(&self.ducts[di - 1], b, fuel_gas, gas, &mut now, s);
            }
            let grown = d.bank.as_ref().map_or(0.0, |b| {
                b.deposit_m2k_w(d.cells, y[b.deposit_state] * DEPOSIT_SCALE_KG)
            });
            let section = SectionGas::new(d, &cond, &fuel_gas.weights, m_gas, grown);
            let mut deposit = 0.0;
            s.instant.coil_fouling_m2k_w = s.instant.coil_fouling_m2k_w.max(grown);
            for j in 0..d.cells {
                let wall_at = d.wall_state - w0 + (j / per) * nodes;
                let t_wall = s.wall_t_k[wall_at];
                let t_turns = match &d.bank {
                    Some(b) => face_k(&s.face_t_k, &b.tubes[j]),
                    None => 0.0,
                };
                let r = gas_path::pass_cell(d, &cond, &section, gas, t_wall, t_turns);
                now.drive_pa += r.buoyancy_pa;
                now.loss_pa += r.loss_pa;
                let mut wall_heat = r.to_wall_w;
                if let Some(b) = &d.bank {
                    let q = c.coil_radiation
                        * b.shell_view_m2
                        * STEFAN_BOLTZMANN
                        * (fourth(r.wall_surface_k) - fourth(t_turns));
                    wall_heat -= q;
                    let m = self.condensing_kg_s(
                        b,
                        &dew,
                        r.turns_h_w_m2k,
                        gas.per_cp(),
                        t_turns,
                        vapour_left,
                    );
                    vapour_left -= m;
                    now.condensate_kg_s += m;
                    let stays = c.fouling_rate
                        * deposit_share(&r, b, gas.per_mcp_k_w(), t_turns)
                        * (1.0 - CO_SHARE)
                        * greater(gas.unburnt_w - bed.char_co_w, 0.0);
                    gas.unburnt_w -= stays;
                    deposit += stays / CHAR_J_KG;
                    let turns = r.to_turns_w + q + m * LATENT_J_KG;
                    warm(&mut s.face_heat_w, &b.tubes[j], turns);
                    now.to_coil_w += turns;
                }
                s.wall_heat_w[wall_at] += wall_heat;
                now.into_walls_w += wall_heat;
                s.gas_t_k[gi] = r.t_mean_k;
                gi += 1;
            }
            if d.bank.is_some() || d.wrap.is_some() {
                now.above_k = gas.t_k;
            }
            if let Some(b) = &d.bank {
                now.deposit_kg_s += deposit;
                dy[b.deposit_state] = deposit / DEPOSIT_SCALE_KG;
            }
            if di < MAX_SECTIONS {
                s.instant.section_exit_k[di] = gas.t_k;
            }
        }
        now
    }

    /// The section before radiates into the first turns: gas share from the stream, the rest from its last wall cell.
    #[allow(clippy::too_many_arguments)] // two sections, the gas and the account of both
    fn look_back(
        &self,
        before: &Duct,
        b: &Bank,
        fuel_gas: &FuelGas,
        gas: &mut GasStream,
        now: &mut PathNow,
        s: &mut Scratch,
    ) {
        let c = &self.rig.closures;
        let wall_at =
            before.wall_state - self.layout.walls + (before.wall_cells - 1) * before.wall.len();
        let wall4 = s.wall_t_k[wall_at].powi(4);
        let gas4 = gas.t_k.powi(4);
        let eps =
            (c.emissivity * fuel_gas.weights.over(before.beam_m).emissivity(gas.t_k)).min(0.95);
        let mut from_gas = 0.0;
        for (j, view_m2) in b.mouth_views_m2.iter().enumerate() {
            let g = c.coil_radiation * view_m2 * STEFAN_BOLTZMANN;
            let t4 = face_k(&s.face_t_k, &b.tubes[j]).powi(4);
            let qg = g * eps * (gas4 - t4);
            let qw = g * (1.0 - eps) * (wall4 - t4);
            warm(&mut s.face_heat_w, &b.tubes[j], qg + qw);
            s.wall_heat_w[wall_at] -= qw;
            now.into_walls_w -= qw;
            from_gas += qg;
            now.to_coil_w += qg + qw;
        }
        gas.add_heat(&fuel_gas.mix, -from_gas);
    }

    /// What condensation needs of the gas as it comes.
    fn dew(&self, gas: &FuelGas) -> Dew {
        let pa_per_kg_s = gas.x_h2o * self.p_air_pa / gas.vapour_kg_s.max(1e-12);
        let side = evaporation::MassTransferGas {
            cp_j_kgk: 1.0,
            molar_mass_kg_mol: 8.314_462_6 / gas.mix.r_j_kgk(),
            lewis: 0.87,
            p_total_pa: self.p_air_pa,
        };
        Dew {
            t_k: self.water.t_sat_k(gas.x_h2o * self.p_air_pa),
            pa_per_kg_s,
            side,
        }
    }

    /// Water of the gas condensing on turns below its dew point, kg/s (Lewis analogy). `per_cp` over the gas's heat capacity.
    #[inline]
    fn condensing_kg_s(
        &self,
        b: &Bank,
        dew: &Dew,
        h_w_m2k: f64,
        per_cp: f64,
        t_turns_k: f64,
        vapour_left_kg_s: f64,
    ) -> f64 {
        if t_turns_k >= dew.t_k || vapour_left_kg_s <= 0.0 {
            return 0.0;
        }
        let p_s = self.water.p_sat_pa(t_turns_k);
        let p_v = dew.pa_per_kg_s * vapour_left_kg_s;
        if p_v <= p_s {
            return 0.0;
        }
        let want =
            evaporation::mass_flux_from_h_kg_m2s(h_w_m2k * per_cp, p_v, p_s, &dew.side) * b.area_m2;
        want * vapour_left_kg_s / (want + vapour_left_kg_s)
    }
}
