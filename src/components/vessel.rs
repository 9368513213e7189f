//! A vessel of water in layers: ports, buoyant mixing, standing loss, open surface, boiling over.
//!
//! States: enthalpy of each layer with its share of the shell (scaled), and the water mass (evaporation and
//! venting lower the level; all layers keep equal masses).

use super::spec::{OpenSurface, Vessel};
use crate::correlations::evaporation;
use crate::correlations::radiation::STEFAN_BOLTZMANN;
use crate::properties::water::{SatProps, Water};

const T_REF_K: f64 = 298.15;
/// Largest number of layers, so that scratch space is fixed.
pub const MAX_LAYERS: usize = 40;
/// Time in which a lower, warmer layer mixes with the colder one above, s: plumes rise at some 0.1 m/s, so a layer of
/// 0.1..0.2 m is crossed within seconds (common practice, no source; multiplier `tank_mixing`).
const PLUME_MIXING_S: f64 = 3.0;
/// Effective conductivity between stable layers: water with wall conduction and slight stirring, W/mK.
const STABLE_CONDUCTIVITY_W_MK: f64 = 1.0;
/// [`VesselModel::boil_over_s`] of a store that may boil over.
const BOIL_OVER_S: f64 = 20.0;

/// A vessel, assembled.
#[derive(Debug, Clone)]
pub struct VesselModel {
    pub layers: usize,
    /// Water in each layer at the start, kg.
    pub layer_kg: f64,
    pub layer_shell_j_k: f64,
    pub layer_loss_w_k: Vec<f64>,
    pub hot_port: Port,
    pub cold_port: Port,
    pub draw_port: Port,
    pub mixing_w_k: f64,
    pub stable_w_k: f64,
    pub surface: Option<OpenSurface>,
    /// Time in which a layer above saturation gives its excess off as steam, s.
    pub boil_over_s: f64,
    /// Saturation at the water's surface.
    pub sat: SatProps,
    /// Height of the water's surface above the datum, and of the ports.
    pub surface_z_m: f64,
    pub hot_port_z_m: f64,
    pub cold_port_z_m: f64,
    pub layer_height_m: f64,
    pub floor_z_m: f64,
    /// Height of each layer that lies between the ports, negative where the hot one is the lower.
    pub column_m: Vec<f64>,
}

/// A flow of water into (positive) or out of a layer, with the enthalpy that it carries.
#[derive(Debug, Clone, Copy, Default)]
pub struct PortFlow {
    pub layer: usize,
    pub mdot_kg_s: f64,
    pub enthalpy_w: f64,
}

/// Weather at the water's surface.
#[derive(Debug, Clone, Copy)]
pub struct SurfaceAir {
    pub t_air_k: f64,
    pub vapour_pa: f64,
    pub wind_m_s: f64,
    pub sky_emissivity: f64,
    pub cover_on: bool,
    pub evaporation: f64,
}

/// A port between the middles of two layers: it shares its flow out by its height, so that finer layers do not move it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Port {
    pub low: usize,
    pub up: usize,
    /// Share of its flow that belongs to the upper one.
    pub up_share: f64,
}

impl Port {
    /// At a height given in layers, 0 the floor, of `n` layers.
    fn at(height: f64, n: usize) -> Self {
        let x = (height - 0.5).clamp(0.0, (n - 1) as f64);
        let low = x as usize;
        Self {
            low,
            up: (low + 1).min(n - 1),
            up_share: x - low as f64,
        }
    }

    /// Mean of a quantity of the layers, as the port takes it.
    #[inline]
    pub fn mix(&self, of_layer: impl Fn(usize) -> f64) -> f64 {
        if self.up_share > 0.0 {
            self.up_share * of_layer(self.up) + (1.0 - self.up_share) * of_layer(self.low)
        } else {
            of_layer(self.low)
        }
    }

    /// Flow out of the vessel through it, each layer giving its own water; two entries.
    pub fn out(&self, kg_s: f64, h_j_kg: impl Fn(usize) -> f64) -> [PortFlow; 2] {
        [(self.low, 1.0 - self.up_share), (self.up, self.up_share)].map(|(layer, share)| PortFlow {
            layer,
            mdot_kg_s: -share * kg_s,
            enthalpy_w: -share * kg_s * h_j_kg(layer),
        })
    }

    /// Flow into the vessel through it, shared alike; two entries.
    pub fn into_layers(&self, kg_s: f64, enthalpy_w: f64) -> [PortFlow; 2] {
        [(self.low, 1.0 - self.up_share), (self.up, self.up_share)].map(|(layer, share)| PortFlow {
            layer,
            mdot_kg_s: share * kg_s,
            enthalpy_w: share * enthalpy_w,
        })
    }
}

/// Losses of the vessel at one moment, W and kg/s.
#[derive(Debug, Clone, Copy, Default)]
pub struct VesselLosses {
    pub walls_w: f64,
    pub surface_w: f64,
    pub evaporation_w: f64,
    pub vented_w: f64,
    pub water_out_kg_s: f64,
}

impl VesselModel {
    /// Builds the model; `surface_pressure_pa` is the air's.
    pub fn new(
        v: &Vessel,
        water: &Water,
        surface_pressure_pa: f64,
        layers: usize,
        loss: f64,
        mixing: f64,
    ) -> Self {
        let n = layers.clamp(1, MAX_LAYERS);
        let rho = water.rho_kg_m3(v.start_temperature_k);
        let layer_kg = v.water_m3 * rho / n as f64;
        let h = v.water_depth_m / n as f64;
        let area = v.water_m3 / v.water_depth_m;
        let side = (4.0 * std::f64::consts::PI * area).sqrt() * v.water_depth_m;
        let total = side + 2.0 * area;
        let layer_loss_w_k = (0..n)
            .map(|i| {
                let ends = if i == 0 { area } else { 0.0 } + if i + 1 == n { area } else { 0.0 };
                loss * v.loss_w_k * (side / n as f64 + ends) / total
            })
            .collect();
        let at = |z: f64| Port::at(z / h, n);
        let (low_m, high_m, sign) = if v.hot_port_m >= v.cold_port_m {
            (v.cold_port_m, v.hot_port_m, 1.0)
        } else {
            (v.hot_port_m, v.cold_port_m, -1.0)
        };
        let column_m = (0..n)
            .map(|i| {
                let from_m = i as f64 * h;
                sign * (high_m.min(from_m + h) - low_m.max(from_m)).max(0.0)
            })
            .collect();
        Self {
            layers: n,
            layer_kg,
            layer_shell_j_k: v.shell_heat_capacity_j_k / n as f64,
            layer_loss_w_k,
            hot_port: at(v.hot_port_m),
            cold_port: at(v.cold_port_m),
            draw_port: at(v.draw_port_m),
            mixing_w_k: mixing * layer_kg * 4186.0 / PLUME_MIXING_S,
            stable_w_k: STABLE_CONDUCTIVITY_W_MK * area / h,
            surface: v.surface.clone(),
            boil_over_s: BOIL_OVER_S,
            sat: water.sat(surface_pressure_pa),
            surface_z_m: v.floor_z_m + v.water_depth_m,
            hot_port_z_m: v.floor_z_m + v.hot_port_m,
            cold_port_z_m: v.floor_z_m + v.cold_port_m,
            layer_height_m: h,
            floor_z_m: v.floor_z_m,
            column_m,
        }
    }

    /// Heat capacity that scales a layer's state, J/K.
    pub fn scale_j_k(&self) -> f64 {
        self.layer_kg * 4186.0 + self.layer_shell_j_k
    }

    /// Enthalpy of a layer at a temperature, J above the reference.
    pub fn layer_enthalpy_j(&self, water: &Water, t_k: f64, kg: f64) -> f64 {
        self.layer_shell_j_k * (t_k - T_REF_K) + kg * water.h_j_kg(t_k)
    }

    /// Temperature of a layer from its enthalpy.
    #[inline(always)]
    pub fn layer_temperature_k(&self, water: &Water, enthalpy_j: f64, kg: f64) -> f64 {
        let t = T_REF_K + enthalpy_j / (self.layer_shell_j_k + kg * 4186.0);
        let (h, cp) = water.h_cp(t);
        t - (self.layer_shell_j_k * (t - T_REF_K) + kg * h - enthalpy_j)
            / (self.layer_shell_j_k + kg * cp)
    }

    /// Layer at this height above the vessel's floor.
    pub fn layer_at(&self, z_m: f64) -> usize {
        ((z_m / self.layer_height_m).floor().max(0.0) as usize).min(self.layers - 1)
    }

    /// Net heat into every layer, W, and the water that leaves; `t_k` are the layers' temperatures.
    #[inline(always)]
    pub fn rates(
        &self,
        water: &Water,
        t_k: &[f64],
        layer_kg: f64,
        ports: &[PortFlow],
        air: &SurfaceAir,
        heat_w: &mut [f64],
    ) -> VesselLosses {
        let n = self.layers;
        let mut losses = VesselLosses::default();
        let mut inject = [0.0; MAX_LAYERS];
        for h in heat_w.iter_mut() {
            *h = 0.0;
        }
        for p in ports {
            inject[p.layer] += p.mdot_kg_s;
            heat_w[p.layer] += p.enthalpy_w;
        }
        self.surface_losses(water, t_k, layer_kg, air, heat_w, &mut inject, &mut losses);
        // All layers keep equal masses as the level falls: the vertical flow follows from what is put in or
        // taken out below, less the layers' own share of the change; upwind enthalpy.
        let change: f64 = inject[..n].iter().sum::<f64>() / n as f64;
        let mut up = 0.0;
        for i in 0..n.saturating_sub(1) {
            up += inject[i] - change;
            let h = up * water.h_j_kg(if up >= 0.0 { t_k[i] } else { t_k[i + 1] });
            let d = t_k[i] - t_k[i + 1];
            // Unstable when the lower layer is warmer; the kink at equal temperatures is rounded over 0.2 K.
            let unstable = if d > 0.0 { d * d / (d + 0.2) } else { 0.0 };
            let q = h + self.mixing_w_k * unstable + self.stable_w_k * d;
            heat_w[i] -= q;
            heat_w[i + 1] += q;
        }
        for i in 0..n {
            let q = self.layer_loss_w_k[i] * (t_k[i] - air.t_air_k);
            heat_w[i] -= q;
            losses.walls_w += q;
        }
        losses
    }

    /// Open surface and boiling over: heat and water that leave upwards.
    #[allow(clippy::too_many_arguments)] // one call site; a struct would only rename the same values
    #[inline(always)]
    fn surface_losses(
        &self,
        water: &Water,
        t_k: &[f64],
        layer_kg: f64,
        air: &SurfaceAir,
        heat_w: &mut [f64],
        inject: &mut [f64; MAX_LAYERS],
        losses: &mut VesselLosses,
    ) {
        let top = self.layers - 1;
        let t = t_k[top];
        if let Some(s) = &self.surface {
            let wind = air.wind_m_s * s.wind_share;
            let share = if air.cover_on { s.cover_leak } else { 1.0 };
            let h_fg = water.h_fg_at_t_j_kg(t);
            let m = air.evaporation
                * share
                * s.area_m2
                * evaporation::ashrae_flux_kg_m2s(water.p_sat_pa(t), air.vapour_pa, wind, h_fg)
                    .max(0.0);
            let e = m * (water.h_j_kg(t) + h_fg);
            // Still-air and wind convection of a warm horizontal surface (McAdams: 5.7 + 3.8 v, less its radiation share of about 3).
            let conv = (2.8 + 3.0 * wind) * (t - air.t_air_k);
            let sky =
                0.95 * STEFAN_BOLTZMANN * (t.powi(4) - air.sky_emissivity * air.t_air_k.powi(4));
            let mut q = share * s.area_m2 * (conv + sky);
            if air.cover_on {
                q += s.cover_w_m2k * s.area_m2 * (t - air.t_air_k);
            }
            heat_w[top] -= e + q;
            losses.evaporation_w = e;
            losses.surface_w = q;
            losses.water_out_kg_s += m;
            inject[top] -= m;
        }
        // Boiling over: what a layer holds above saturation leaves as steam.
        let scale =
            (layer_kg * 4186.0 + self.layer_shell_j_k) / (self.boil_over_s * self.sat.h_fg_j_kg);
        for (i, &t) in t_k[..self.layers].iter().enumerate() {
            let excess = t - self.sat.t_k;
            if excess > 0.0 {
                let m = excess * scale;
                heat_w[i] -= m * self.sat.h_g_j_kg;
                inject[i] -= m;
                losses.vented_w += m * self.sat.h_g_j_kg;
                losses.water_out_kg_s += m;
            }
        }
    }
}
