//! The fire's side of the right-hand side: air → bed → fuel gas → chamber → gas path → draught.
//!
//! Each step is a plain value computed from the state and from the steps before it; nothing is kept from call to call.

mod air_side;
pub mod band;
mod bed_side;
mod chamber;
mod fuel_gas;
mod path;

use super::fuel::LATENT_J_KG;
use super::layout::*;
use super::{Network, Scratch};
use crate::components::embers;
use crate::components::gas_path::GasStream;
use air_side::AirNow;
use bed_side::BedNow;
use chamber::Chamber;
pub(super) use chamber::EMBER_EMISSION;
use fuel_gas::FuelGas;
use path::PathNow;

/// Part of the volatiles' unburnt energy that is CO (rest: hydrocarbons), for the CO estimate.
const CO_SHARE: f64 = 0.5;

/// Temperatures of the firebox.
#[derive(Clone, Copy)]
struct Hot {
    flame_k: f64,
    embers_k: f64,
    hearth_k: f64,
    lining_k: f64,
    /// Of all walls that sticks, hearth, openings and coils see, by their fourth powers.
    seen_k: f64,
    char_kg: f64,
    /// Size of its pieces.
    piece_m: f64,
}

impl Network {
    #[inline(always)]
    pub(super) fn fire_side(&self, t_air_k: f64, y: &[f64], dy: &mut [f64], s: &mut Scratch) {
        let l = &self.layout;
        let air = self.air_now(t_air_k, y);
        let hot = Hot {
            flame_k: (T_REF_K + y[l.flame] * T_SCALE_K).clamp(200.0, 2800.0),
            embers_k: self.embers_k(y).clamp(200.0, 2800.0),
            hearth_k: (T_REF_K + y[l.hearth] * T_SCALE_K).clamp(200.0, 2800.0),
            lining_k: s.wall_t_k[0],
            seen_k: self.seen_k(s),
            char_kg: y[l.char_kg].max(0.0),
            piece_m: embers::REFERENCE_M * (y[l.char_kg].max(0.0) + 1e-6)
                / (y[l.char_surface].max(0.0) + 1e-6),
        };
        let bed = self.bed_now(&air, &hot, y, dy);
        let gas = FuelGas::new(self, &air, &bed);
        let chamber = self.chamber(&air, &hot, &bed, &gas, dy, s);
        let mut stream = GasStream::new(
            &gas.mix,
            gas.m_kg_s,
            hot.flame_k,
            gas.volatile_w - chamber.released_w + gas.char_co_w,
        );
        stream.add_heat(&gas.mix, chamber.beyond_state_w);
        let path = self.gas_path(&air, &bed, &gas, &chamber, &mut stream, y, dy, s);

        // Draught: the air column follows its balance within its inflated inertia.
        let resistance = path.loss_pa / (air.kg_s * air.kg_s);
        let m_eq = path.drive_pa / (resistance * (path.drive_pa.abs() + 0.05)).sqrt();
        dy[l.air] =
            (m_eq.max(0.0) - air.raw_kg_s) / (self.rig.solver.air_inertia_s * AIR_SCALE_KG_S);

        self.record_fire(&air, &hot, &bed, &gas, &chamber, &path, &stream, dy, s);
    }

    /// Temperature of the embers: their enthalpy, counted in units of the bits' own heat, over that and the char's.
    fn embers_k(&self, y: &[f64]) -> f64 {
        let l = &self.layout;
        let bits = self.firebox.bits_j_k;
        T_REF_K
            + y[l.embers] * T_SCALE_K * bits / (bits + embers::CHAR_C_J_KGK * y[l.char_kg].max(0.0))
    }

    /// Temperature of the firebox's walls as they are seen from within.
    fn seen_k(&self, s: &Scratch) -> f64 {
        let fb = &self.firebox;
        if fb.lining_seen == 1.0 {
            return s.wall_t_k[0];
        }
        let mut sum = fb.lining_seen * s.wall_t_k[0].powi(4);
        for p in &fb.plates {
            sum += p.seen * s.wall_t_k[p.wall_state - self.layout.walls].powi(4);
        }
        sum.sqrt().sqrt()
    }

    /// What this moment adds to the instant and to the integrals.
    #[allow(clippy::too_many_arguments)] // every step of the side has something to record
    #[inline(always)]
    fn record_fire(
        &self,
        air: &AirNow,
        hot: &Hot,
        bed: &BedNow,
        gas: &FuelGas,
        chamber: &Chamber,
        path: &PathNow,
        out: &GasStream,
        dy: &mut [f64],
        s: &mut Scratch,
    ) {
        let l = &self.layout;
        let moist_air = air.kg_s * (1.0 + air.humidity);
        let stack_sensible_w = gas.m_kg_s * out.h_j_kg;
        let i = &mut s.instant;
        i.air_kg_s = air.kg_s;
        i.stoich_air_kg_s = gas.stoich_kg_s;
        i.air_ratio = if gas.stoich_kg_s > 1e-6 {
            gas.lambda
        } else {
            f64::NAN
        };
        i.gas_kg_s = gas.m_kg_s;
        (i.x_h2o, i.x_co2, i.x_o2) = (gas.x_h2o, gas.x_co2, gas.x_o2);
        i.flame_soot_per_m = gas.soot_per_m;
        i.flame_k = chamber.flame_k;
        i.embers_k = hot.embers_k;
        i.hearth_k = hot.hearth_k;
        i.glow_m2 = bed.heap.glow_m2;
        i.below_coil_k = path.below_k;
        i.above_coil_k = path.above_k;
        (i.below_coil_unburnt_w, i.above_coil_unburnt_w) = (path.below_w, path.above_w);
        i.stack_k = out.t_k;
        i.draught_pa = path.drive_pa;
        i.drive_pa = path.drive_pa;
        i.dry_wood_kg_s = bed.dry_kg_s;
        i.char_kg_s = bed.burnt_char_kg_s;
        i.net_burnt_w = gas.volatile_w - gas.latent_moisture_w + bed.char_w;
        i.unburnt_w = out.unburnt_w;
        i.unburnt_parts = band::UnburntParts {
            volatile_w: gas.volatile_w,
            co_w: bed.co_w,
            need_over_gas: gas.need_over_gas,
            short: gas.short,
            released_w: chamber.released_w,
            sheet_share: bed.sheet_share,
            unmixedness: gas.unmixedness,
        };
        i.stack_sensible_w = stack_sensible_w;
        i.air_enthalpy_w = chamber.air_enthalpy_w;
        i.stack_latent_w = LATENT_J_KG * (gas.fuel_water_kg_s - path.condensate_kg_s);
        i.opening_w = chamber.opening_w;
        i.into_walls_w = chamber.into_lining_w + path.into_walls_w;
        i.to_coil_w = path.to_coil_w;
        i.condensate_kg_s = path.condensate_kg_s;
        i.dew_point_k = path.dew_k;
        i.free_inlet_m2 = air.free_m2;
        i.free_lining_k = hot.lining_k;
        let dry_share = (1.0 - gas.x_h2o).max(1e-3);
        i.o2_dry = gas.x_o2 / dry_share;
        i.co2_dry = gas.x_co2 / dry_share;
        // CO from the unburnt energy: 10.1 MJ/kg net, R = 296.8 J/kgK.
        let co_part =
            (CO_SHARE * gas.volatile_w + gas.char_co_w) / (gas.volatile_w + gas.char_co_w + 1e-9);
        i.co_dry =
            co_part * out.unburnt_w / 10.1e6 / gas.m_kg_s * 296.8 / gas.mix.r_j_kgk() / dry_share;

        let kelvin = |t_k: f64| if t_k.is_nan() { 0.0 } else { t_k } / TINT_SCALE_KS;
        for (q, rate) in [
            (Integral::AirEnthalpy, chamber.air_enthalpy_w / E_SCALE_J),
            (Integral::StackSensible, stack_sensible_w / E_SCALE_J),
            (
                Integral::StackLatent,
                LATENT_J_KG * gas.fuel_water_kg_s / E_SCALE_J,
            ),
            (
                Integral::CondensateLatent,
                LATENT_J_KG * path.condensate_kg_s / E_SCALE_J,
            ),
            (Integral::Unburnt, out.unburnt_w / E_SCALE_J),
            (Integral::Opening, chamber.opening_w / E_SCALE_J),
            (Integral::NetBurnt, i.net_burnt_w / E_SCALE_J),
            (Integral::AirIn, moist_air),
            // Air while wood burns: the hours of cooling afterwards say nothing about the fire.
            (
                Integral::FireAir,
                moist_air * (i.net_burnt_w / 1e3).clamp(0.0, 1.0),
            ),
            (Integral::StoichAir, gas.stoich_kg_s.max(0.0)),
            (Integral::GasOut, gas.m_kg_s - path.deposit_kg_s),
            (Integral::CarbonOut, gas.carbon_kg_s - path.deposit_kg_s),
            (Integral::FuelWaterOut, gas.fuel_water_kg_s),
            (Integral::Condensate, path.condensate_kg_s),
            (Integral::StackT, kelvin(out.t_k)),
            (Integral::ChamberT, kelvin(chamber.flame_k)),
            (Integral::BelowT, kelvin(path.below_k)),
            (Integral::AboveT, kelvin(path.above_k)),
            (Integral::CoTime, i.co_dry),
        ] {
            dy[l.integral(q)] = rate;
        }
    }
}
