//! The gas on its way through the sections: burn-out, heat to walls and turns, condensation, buoyancy and loss.

use super::bed_side::BedNow;
use super::chamber::Chamber;
use super::fuel_gas::FuelGas;
use super::{AirNow, CO_SHARE};
use crate::components::gas_path::{self, Bank, Duct, GasStream, Grown, PathConditions, SectionGas};
use crate::correlations::radiation::{GasLayer, STEFAN_BOLTZMANN};
use crate::correlations::{draught, evaporation, greater, pump};
use crate::network::deposits::{Offer, Settled, Smoke};
use crate::network::fuel::{CHAR_J_KG, LATENT_J_KG};
use crate::network::layout::DEPOSIT_SCALE_KG;
use crate::network::observe::MAX_SECTIONS;
use crate::network::path_cells::{faces, shine, warm_and_shine};
use crate::network::{Network, Scratch};
use crate::properties::gas::GasMix;

/// Vapour of the gas before any of it has condensed.
struct Dew {
    /// Dew point.
    t_k: f64,
    /// Vapour pressure over vapour flow.
    pa_per_kg_s: f64,
    /// With a heat capacity of one.
    side: evaporation::MassTransferGas,
}

/// Where smoke meets one cell of a surface: the states of its soot and tar, and what the gas does there.
struct Site {
    soot: usize,
    tar: usize,
    h_area_w_k: f64,
    surface_k: f64,
    per_gas_k: f64,
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
    /// Soot and tar that stay on turns and walls, as carbon, kg/s.
    pub deposit_kg_s: f64,
    /// Gas below and above the coils; NaN without one.
    pub below_k: f64,
    pub above_k: f64,
    /// Unburnt there, W.
    pub below_w: f64,
    pub above_w: f64,
}

impl Network {
    #[allow(clippy::too_many_arguments)] // the path stands on every step before it
    #[inline(always)]
    pub(super) fn gas_path(
        &self,
        air: &AirNow,
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
            flame_soot_per_m: fuel_gas.soot_per_m,
            gas_friction: c.gas_friction,
        };
        let rho_flame = self.p_air_pa / (rgas * chamber.flame_k);
        let v_in = air.kg_s / (air.rho_kg_m3 * air.free_m2);
        let in_flames_k = if self.firebox.heats_water() {
            chamber.flame_k
        } else {
            f64::NAN
        };
        let mut now = PathNow {
            drive_pa: 9.80665
                * self.firebox.height_m
                * (1.0 - bed.drawn.shut)
                * (air.rho_kg_m3 - rho_flame)
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
            below_k: in_flames_k,
            above_k: in_flames_k,
            below_w: gas.unburnt_w,
            above_w: gas.unburnt_w,
        };
        let mut vapour_left = fuel_gas.vapour_kg_s;
        let dew = self.dew(fuel_gas);
        now.dew_k = dew.t_k;
        let mut smoke = Smoke::new(1.0 - CO_SHARE, cond.per_volatile_w);
        // The flame rises through the chamber: two mixed volumes in series.
        let stay_per_m3_s_k = self.p_air_pa / (m_gas * rgas);
        let per_flame_k = 1.0 / chamber.flame_k;
        for _ in 0..2 {
            let flames_m3 = (1.0 - bed.drawn.down) * self.firebox.volume_m3;
            let stay_s = 0.5 * flames_m3 * stay_per_m3_s_k * per_flame_k;
            smoke.crack(per_flame_k, stay_s);
        }
        let mut gi = 0;
        let first_bore = fuel_gas.weights.over(self.ducts[0].beam_m);
        let mut bore = first_bore;
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
            let per = d.per_wall_cell;
            let nodes = d.wall.len();
            if d.heats_water() && now.below_k.is_nan() {
                (now.below_k, now.below_w) = (gas.t_k, gas.unburnt_w);
            }
            if let (Some(b), true) = (&d.bank, di > 0) {
                self.look_back(&self.ducts[di - 1], b, &bore, mix, gas, &mut now, s);
            }
            // A flue often has the riser's bore.
            bore = match d.beam_m {
                m if m == bore.beam_m() => bore,
                m if m == first_bore.beam_m() => first_bore,
                m => fuel_gas.weights.over(m),
            };
            let section = SectionGas::with_bore(d, &cond, &fuel_gas.weights, m_gas, bore);
            gas.enter();
            let mut on_turns = 0.0;
            let stay_s_k = d.area_m2 * d.cell_length_m * stay_per_m3_s_k;
            // Wall cell, its inner node, and gas cells that still face it.
            let (mut wall_cell, mut wall_at, mut facing) = (0, d.wall_state - w0, per);
            let mut grown = Grown {
                turns_m2k_w: 0.0,
                wall_m2k_w: self.on_wall_m2k_w(d, 0, per, y),
            };
            for j in 0..d.cells {
                if facing == 0 {
                    (wall_cell, wall_at, facing) = (wall_cell + 1, wall_at + nodes, per);
                    grown.wall_m2k_w = self.on_wall_m2k_w(d, wall_cell, per, y);
                }
                facing -= 1;
                let t_wall = s.wall_t_k[wall_at];
                let (mut t_turns, mut turns_k4) = (0.0, 0.0);
                if let Some(b) = &d.bank {
                    (t_turns, turns_k4) = faces(&s.face_t_k, &b.tubes[j]);
                    grown.turns_m2k_w = self.on_turns_m2k_w(b, section.per_turns_m2, d.cells, j, y);
                    on_turns += grown.turns_m2k_w;
                }
                // Innermost node of the dry wall across.
                let across_at = d
                    .across
                    .as_ref()
                    .map(|a| a.wall_state - w0 + wall_cell * a.wall.len());
                if let Some(at) = across_at {
                    t_turns = s.wall_t_k[at];
                }
                let r = gas_path::pass_cell(d, &cond, &section, gas, t_wall, t_turns, grown);
                now.drive_pa += r.buoyancy_pa;
                now.loss_pa += r.loss_pa;
                smoke.crack(r.per_t_mean, stay_s_k * r.per_t_mean);
                let mut wall_heat = r.to_wall_w + r.across_w;
                if let Some(at) = across_at {
                    let heat = r.to_turns_w - r.across_w;
                    s.wall_heat_w[at] += heat;
                    now.into_walls_w += heat;
                }
                if let Some(b) = &d.bank {
                    let g = c.coil_radiation * b.shell_view_m2 * STEFAN_BOLTZMANN;
                    let q = g * (fourth(r.wall_surface_k) - turns_k4);
                    wall_heat -= q;
                    let m = self.condensing_kg_s(
                        b.area_m2,
                        &dew,
                        r.turns_h_w_m2k,
                        gas.per_cp(),
                        t_turns,
                        vapour_left,
                    );
                    vapour_left -= m;
                    now.condensate_kg_s += m;
                    let on_turns = Site {
                        soot: b.deposit_state + j,
                        tar: b.deposit_state + j + d.cells,
                        h_area_w_k: r.turns_h_w_m2k * b.area_m2,
                        surface_k: r.turns_surface_k,
                        per_gas_k: r.per_t_mean,
                    };
                    now.deposit_kg_s +=
                        self.settle(&mut smoke, &on_turns, fuel_gas.char_co_w, gas, dy, s);
                    let turns = r.to_turns_w + m * LATENT_J_KG;
                    let (means, from_gas) = ((t_turns, turns_k4), (turns, r.turns_w_k));
                    warm_and_shine(s, &b.tubes[j], means, from_gas, (q, g));
                    now.to_coil_w += turns + q;
                }
                // Walls without water behind them are wet for minutes after lighting at most.
                if d.wall_is_wet() {
                    let m = self.condensing_kg_s(
                        d.cell_wall_area_m2,
                        &dew,
                        r.wall_h_w_m2k,
                        gas.per_cp(),
                        r.wall_surface_k,
                        vapour_left,
                    );
                    vapour_left -= m;
                    now.condensate_kg_s += m;
                    wall_heat += m * LATENT_J_KG;
                }
                if let Some(first) = d.wall_deposit {
                    let on_wall = Site {
                        soot: first + wall_cell,
                        tar: first + wall_cell + d.wall_cells,
                        h_area_w_k: r.wall_h_w_m2k * d.cell_wall_area_m2,
                        surface_k: r.wall_surface_k,
                        per_gas_k: r.per_t_mean,
                    };
                    now.deposit_kg_s +=
                        self.settle(&mut smoke, &on_wall, fuel_gas.char_co_w, gas, dy, s);
                }
                s.wall_heat_w[wall_at] += wall_heat;
                now.into_walls_w += wall_heat;
                s.gas_t_k[gi] = r.t_mean_k;
                gi += 1;
            }
            if d.heats_water() {
                (now.above_k, now.above_w) = (gas.t_k, gas.unburnt_w);
            }
            let mean = on_turns / d.cells as f64;
            s.instant.coil_fouling_m2k_w = s.instant.coil_fouling_m2k_w.max(mean);
            if di < MAX_SECTIONS {
                s.instant.section_exit_k[di] = gas.t_k;
            }
        }
        now
    }

    /// One cell of a surface: what stays leaves the gas with its energy and carbon, kg/s.
    #[inline(always)]
    fn settle(
        &self,
        smoke: &mut Smoke,
        site: &Site,
        char_co_w: f64,
        gas: &mut GasStream,
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> f64 {
        let offer = Offer {
            transfer: site.h_area_w_k * gas.per_mcp_k_w(),
            per_gas_k: site.per_gas_k,
            surface_k: site.surface_k,
            rate: self.rig.closures.fouling_rate,
        };
        let Settled { soot_w, tar_w } =
            smoke.settle(greater(gas.unburnt_w - char_co_w, 0.0), &offer);
        gas.unburnt_w -= soot_w + tar_w;
        let (soot_kg_s, tar_kg_s) = (soot_w * (1.0 / CHAR_J_KG), tar_w * (1.0 / CHAR_J_KG));
        dy[site.soot] += soot_kg_s * (1.0 / DEPOSIT_SCALE_KG);
        dy[site.tar] += tar_kg_s * (1.0 / DEPOSIT_SCALE_KG);
        s.surface_k[site.soot - self.layout.deposits] = site.surface_k;
        soot_kg_s + tar_kg_s
    }

    /// The section before radiates into the first turns: gas share from the stream, the rest from its last wall cell.
    #[allow(clippy::too_many_arguments)] // two sections, the gas and the account of both
    #[inline(always)]
    fn look_back(
        &self,
        before: &Duct,
        b: &Bank,
        bore: &GasLayer,
        mix: &GasMix,
        gas: &mut GasStream,
        now: &mut PathNow,
        s: &mut Scratch,
    ) {
        let c = &self.rig.closures;
        let wall_at =
            before.wall_state - self.layout.walls + (before.wall_cells - 1) * before.wall.len();
        let wall4 = s.wall_t_k[wall_at].powi(4);
        let gas4 = gas.t_k.powi(4);
        let eps = (c.emissivity * bore.emissivity(gas.t_k)).min(0.95);
        let mut from_gas = 0.0;
        for (j, view_m2) in b.mouth_views_m2.iter().enumerate() {
            let g = c.coil_radiation * view_m2 * STEFAN_BOLTZMANN;
            let (_, t4) = shine(s, &b.tubes[j], g, eps * gas4 + (1.0 - eps) * wall4);
            let qg = g * eps * (gas4 - t4);
            let qw = g * (1.0 - eps) * (wall4 - t4);
            s.wall_heat_w[wall_at] -= qw;
            now.into_walls_w -= qw;
            from_gas += qg;
            now.to_coil_w += qg + qw;
        }
        gas.add_heat(mix, -from_gas);
    }

    /// What condensation needs of the gas as it comes.
    #[inline(always)]
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

    /// Water of the gas condensing on a surface below its dew point, kg/s (Lewis analogy). `per_cp` over the gas's heat capacity.
    #[inline(always)]
    fn condensing_kg_s(
        &self,
        area_m2: f64,
        dew: &Dew,
        h_w_m2k: f64,
        per_cp: f64,
        surface_k: f64,
        vapour_left_kg_s: f64,
    ) -> f64 {
        if surface_k >= dew.t_k || vapour_left_kg_s <= 0.0 {
            return 0.0;
        }
        let p_s = self.water.p_sat_pa(surface_k);
        let p_v = dew.pa_per_kg_s * vapour_left_kg_s;
        if p_v <= p_s {
            return 0.0;
        }
        let want =
            evaporation::mass_flux_from_h_kg_m2s(h_w_m2k * per_cp, p_v, p_s, &dew.side) * area_m2;
        want * vapour_left_kg_s / (want + vapour_left_kg_s)
    }
}
