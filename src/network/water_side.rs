//! Water: the march round the loop, its momentum, the vessel and the bench, and their ledger integrals.

use super::layout::*;
use super::{Drive, Network, Scratch};
use crate::components::tube::{self, Stream, WaterSide};
use crate::components::vessel::{PortFlow, SurfaceAir};
use crate::correlations::{boiling, pump};

const G_M_S2: f64 = 9.80665;
/// A check valve shuts as the flow falls through this, kg/s, and lets what flows back die within a second or two.
const CHECK_KG_S: f64 = 1e-4;
const CHECK_DECAY_S: f64 = 2.0;
/// Shortest time in which friction or steam may turn the loop's flow, s: what a boiling loop does faster is qualitative.
const LEAST_MOMENTUM_S: f64 = 1.0;

impl Network {
    pub(super) fn water_side(&self, t_air: f64, y: &[f64], dy: &mut [f64], s: &mut Scratch) {
        let l = &self.layout;
        let water = self.water;
        let Some(circuit) = &self.circuit else { return };
        let w = self.flow_kg_s(y);
        let flow = w.abs();
        let forward = w >= 0.0;
        let n = self.tubes.len();
        let side = WaterSide {
            convection: self.rig.closures.water_convection,
            friction: self.rig.closures.water_friction,
        };

        // Where the march starts.
        let h_start = match (&circuit.drive, &self.vessel) {
            (Drive::Mains { inlet_j_kg, .. }, _) => *inlet_j_kg,
            (_, Some(v)) => {
                water.h_j_kg(s.layer_t_k[if forward { v.cold_layer } else { v.hot_layer }])
            }
            _ => 0.0,
        };
        let mut stream = Stream::liquid(water, flow, h_start);
        let t_start = stream.t_k;
        let (mut buoyancy, mut loss, mut stiffness) = (0.0, 0.0, 0.0);
        let mut steam = 0.0;
        let mut margin = f64::INFINITY;
        let mut point = f64::NAN;
        let mut excess = -1e6_f64;
        let mut wall_excess = f64::NEG_INFINITY;
        let mut wall_max = f64::NEG_INFINITY;
        let (mut coil_a, mut coil_b) = (stream.t_k, stream.t_k);
        let mut pipe_loss = 0.0;
        for step in 0..n {
            let i = if forward { step } else { n - 1 - step };
            let cell = &self.tubes[i];
            let t_node = s.tube_t_k[i];
            let kg = cell
                .inventory
                .map_or(cell.water_kg, |k| y[l.inventory + k] * cell.water_kg);
            if i == circuit.coil_from && forward || i + 1 == circuit.coil_to && !forward {
                coil_a = stream.t_k;
            }
            let r = tube::pass_cell(
                water,
                cell,
                &self.tables[cell.table],
                side,
                &stream,
                t_node,
                kg,
            );
            stream = r.out;
            if i + 1 == circuit.coil_to && forward || i == circuit.coil_from && !forward {
                coil_b = stream.t_k;
            }
            buoyancy -= G_M_S2 * r.density_kg_m3 * cell.rise_m;
            loss += r.loss_pa;
            if r.vapour_kg_s > 0.0 {
                // How hard a change of flow changes this cell's buoyancy: more flow quenches steam.
                let cooling = 4186.0 * (cell.sat.t_k - t_start).max(0.0) / cell.sat.h_fg_j_kg;
                stiffness += G_M_S2
                    * 960.0
                    * cell.rise_m.abs()
                    * r.void
                    * (1.0 - 1.2 * r.void).max(0.0)
                    * cooling
                    / (r.vapour_kg_s + 1e-5);
            }
            let lost = cell.loss_w_k * (t_node - t_air);
            pipe_loss += lost;
            s.tube_heat_w[i] -= r.from_node_w + lost;
            if let Some(k) = cell.inventory {
                dy[l.inventory + k] = r.inventory_kg_s / cell.water_kg;
                steam += r.steam_kg_s;
                // A cell without water left has nothing to boil.
                let dry = kg < 0.02 * cell.water_kg;
                let m = cell.sat.t_k - stream.t_k;
                if m < margin {
                    margin = m;
                    point = cell.sat.t_k;
                }
                if !dry {
                    excess = excess.max(stream.h_j_kg - cell.sat.h_f_j_kg);
                }
                wall_max = wall_max.max(t_node);
                let over = t_node - cell.sat.t_k;
                wall_excess = wall_excess.max(if over > 0.0 {
                    over - boiling::onset_superheat_k(
                        (r.wall_heat_w / cell.inside_area_m2).max(1.0),
                        cell.p_pa,
                    )
                } else {
                    over - 5.0
                });
            }
        }

        // --- Momentum ---
        let mut electric = 0.0;
        let (drive, circuit_loss, pump_to_water) = match &circuit.drive {
            Drive::Mains {
                pressure_pa,
                valve_loss_k,
                ..
            } => {
                let v2 = flow * flow / (circuit.ret_area_m2 * circuit.ret_area_m2 * 1000.0);
                let open = self.mode.valve.clamp(0.0, 1.0);
                (
                    *pressure_pa,
                    loss + 0.5 * valve_loss_k * v2 / (open * open + 1e-8),
                    0.0,
                )
            }
            Drive::Thermosyphon => (buoyancy + self.vessel_column_pa(s), loss, 0.0),
            Drive::Pump(p) => {
                let b = buoyancy + self.vessel_column_pa(s);
                match self.mode.pump.and_then(|i| p.settings.get(i)) {
                    Some(setting) => {
                        electric += setting.power_w;
                        (
                            b + pump::interpolate_curve(&setting.curve, w / 998.0),
                            loss,
                            setting.power_w * p.power_to_water,
                        )
                    }
                    None => {
                        let v2 = flow * flow / (circuit.ret_area_m2 * circuit.ret_area_m2 * 998.0);
                        (b, loss + 0.5 * p.stopped_loss_k * v2, 0.0)
                    }
                }
            }
        };
        let signed_loss = if forward { circuit_loss } else { -circuit_loss };
        let net = drive - signed_loss;
        // Two-phase friction and quenching can turn the flow within milliseconds; here it takes LEAST_MOMENTUM_S.
        let damping = LEAST_MOMENTUM_S * (2.0 * circuit_loss / (flow + 1e-3) + stiffness);
        let mut dw = net / (circuit.inertia_per_m + damping);
        let one_way = circuit.check_valve || matches!(circuit.drive, Drive::Mains { .. });
        if one_way && w < CHECK_KG_S && dw < 0.0 {
            // Shutting: what would flow back only dies away.
            let open = (w / CHECK_KG_S).clamp(0.0, 1.0);
            dw = dw * open - (1.0 - open) * w / CHECK_DECAY_S;
        }
        if let Some(i) = l.flow {
            dy[i] = dw / FLOW_SCALE_KG_S;
        }
        s.tube_heat_w[0] += pump_to_water;

        // --- Vessel ---
        let enthalpy_start = flow * h_start;
        let mut to_store = stream.enthalpy_w - enthalpy_start;
        let mut bench_loss = 0.0;
        if let Some(v) = &self.vessel {
            let mut ports = [PortFlow {
                layer: 0,
                mdot_kg_s: 0.0,
                enthalpy_w: 0.0,
            }; 6];
            let (from, to) = if forward {
                (v.cold_layer, v.hot_layer)
            } else {
                (v.hot_layer, v.cold_layer)
            };
            ports[0] = PortFlow {
                layer: from,
                mdot_kg_s: -flow,
                enthalpy_w: -enthalpy_start,
            };
            ports[1] = PortFlow {
                layer: to,
                mdot_kg_s: stream.mdot_kg_s,
                enthalpy_w: stream.enthalpy_w,
            };
            let mut used = 2;
            if self.mode.draw_kg_s > 0.0 {
                let out = self.mode.draw_kg_s * water.h_j_kg(s.layer_t_k[v.draw_layer]);
                let cold = self.mode.draw_kg_s * water.h_j_kg(self.mode.draw_cold_k);
                ports[2] = PortFlow {
                    layer: v.draw_layer,
                    mdot_kg_s: -self.mode.draw_kg_s,
                    enthalpy_w: -out,
                };
                ports[3] = PortFlow {
                    layer: 0,
                    mdot_kg_s: self.mode.draw_kg_s,
                    enthalpy_w: cold,
                };
                used = 4;
                dy[l.integral(Integral::DrawsOut)] = out / E_SCALE_J;
                dy[l.integral(Integral::WaterIn)] = cold / E_SCALE_J;
            }
            let mut bench_heat = 0.0;
            if let (Some(b), Some(bi)) = (&self.bench, l.bench) {
                let t_mass = T_REF_K + y[bi] * T_SCALE_K;
                if b.direct {
                    // The vessel is the bench's own water.
                    bench_heat = b.spec.pipe_w_k * (s.layer_t_k[0] - t_mass);
                } else if self.mode.bench_on {
                    electric += b.spec.pump_power_w;
                    let cp = 4186.0;
                    let m = b.spec.flow_kg_s;
                    let effect = 1.0 - (-b.spec.pipe_w_k / (m * cp)).exp();
                    let t_top = s.layer_t_k[v.layers - 1];
                    // The mixing valve holds the supply, or gives all the vessel has when that is colder.
                    let t_supply = b.spec.supply_k.min(t_top);
                    bench_heat = m * cp * effect * (t_supply - t_mass);
                    let t_return = t_supply - effect * (t_supply - t_mass);
                    // What is taken from the vessel to hold the mixture; all of it when the vessel is at or below supply.
                    let span = t_top - t_return;
                    let taken = if span > 1e-3 {
                        m * ((t_supply - t_return) / span).clamp(0.0, 1.0)
                    } else {
                        m
                    };
                    let out = taken * water.h_j_kg(t_top);
                    ports[used] = PortFlow {
                        layer: v.layers - 1,
                        mdot_kg_s: -taken,
                        enthalpy_w: -out,
                    };
                    ports[used + 1] = PortFlow {
                        layer: 0,
                        mdot_kg_s: taken,
                        enthalpy_w: out - bench_heat,
                    };
                    used += 2;
                }
                bench_loss = b.spec.loss_w_k * (t_mass - t_air);
                dy[bi] = (bench_heat - bench_loss) / (b.scale_j_k * T_SCALE_K);
                s.instant.bench_k = t_mass;
            }
            let air = SurfaceAir {
                t_air_k: t_air,
                vapour_pa: self.vapour_pa,
                wind_m_s: self.rig.site.wind_m_s,
                sky_emissivity: self.sky_emissivity,
                cover_on: self.mode.cover_on,
                evaporation: self.rig.closures.evaporation,
            };
            let layer_kg = self.layer_kg(y);
            let losses = v.rates(
                water,
                &s.layer_t_k,
                layer_kg,
                &ports[..used],
                &air,
                &mut s.layer_heat_w,
            );
            if self.bench.as_ref().is_some_and(|b| b.direct) {
                s.layer_heat_w[0] -= bench_heat;
            }
            for (i, &q) in s.layer_heat_w.iter().enumerate() {
                dy[l.layers + i] = q / (v.scale_j_k() * T_SCALE_K);
            }
            // Steam made in the coil comes back as water; what refills the coil is missing in the vessel.
            let loop_net = stream.mdot_kg_s - flow;
            if let Some(i) = l.vessel_mass {
                dy[i] = (loop_net - losses.water_out_kg_s) / (v.layer_kg * v.layers as f64);
            }
            dy[l.integral(Integral::LoopWaterNet)] = loop_net;
            dy[l.integral(Integral::VesselWaterOut)] = losses.water_out_kg_s;
            dy[l.integral(Integral::VesselLoss)] = losses.walls_w / E_SCALE_J;
            dy[l.integral(Integral::SurfaceLoss)] = losses.surface_w / E_SCALE_J;
            dy[l.integral(Integral::Evaporation)] = losses.evaporation_w / E_SCALE_J;
            dy[l.integral(Integral::Vented)] = losses.vented_w / E_SCALE_J;
            s.instant.vessel_loss_w =
                losses.walls_w + losses.surface_w + losses.evaporation_w + losses.vented_w;
            s.instant.surface_w = losses.surface_w + losses.evaporation_w;
            s.instant.tank_top_k = s.layer_t_k[v.layers - 1];
            s.instant.tank_bottom_k = s.layer_t_k[0];
            s.instant.tap_k = s.layer_t_k[v.draw_layer];
            s.instant.tank_mean_k = self.tank_mean_k(y);
            s.instant.tank_water_kg = v.layers as f64 * layer_kg;
        } else {
            // Once through: what comes in and what goes out cross the rig's boundary.
            dy[l.integral(Integral::WaterIn)] = enthalpy_start / E_SCALE_J;
            dy[l.integral(Integral::DrawsOut)] = stream.enthalpy_w / E_SCALE_J;
            dy[l.integral(Integral::LoopWaterNet)] = stream.mdot_kg_s - flow;
            s.instant.tank_top_k = stream.t_k;
            s.instant.tank_bottom_k = stream.t_k;
            s.instant.tank_mean_k = stream.t_k;
            s.instant.tap_k = stream.t_k;
        }
        if !forward {
            // Heat carried out of the hot port into the loop and given back lower: still net through the ports.
            to_store = stream.enthalpy_w - enthalpy_start;
        }

        for (i, t) in self.tubes.iter().enumerate() {
            dy[l.tubes + i] = s.tube_heat_w[i] / (t.scale_j_k() * T_SCALE_K);
        }
        dy[l.integral(Integral::PipeLoss)] = pipe_loss / E_SCALE_J;
        dy[l.integral(Integral::BenchLoss)] = bench_loss / E_SCALE_J;
        dy[l.integral(Integral::PumpWork)] = pump_to_water / E_SCALE_J;
        dy[l.integral(Integral::PumpElectric)] = electric / E_SCALE_J;
        dy[l.integral(Integral::HeatToStore)] = to_store / E_SCALE_J;
        dy[l.integral(Integral::Steam)] = steam / Integral::Steam.scale();
        dy[l.integral(Integral::LoopFlow)] = w / Integral::LoopFlow.scale();

        let i = &mut s.instant;
        i.flow_kg_s = w;
        i.coil_in_k = coil_a;
        i.coil_out_k = coil_b;
        i.coil_wall_max_k = wall_max;
        i.boiling_margin_k = margin;
        i.boiling_point_k = point;
        i.boiling_excess_j_kg = excess;
        i.wall_boiling_excess_k = wall_excess;
        i.steam_kg_s = steam;
        i.loop_drive_pa = drive;
        i.loop_loss_pa = circuit_loss;
        i.to_store_w = to_store;
        i.pipe_loss_w = pipe_loss;
        i.bench_loss_w = bench_loss;
    }

    /// Pressure that the vessel's column between its ports gives the loop in forward direction, Pa.
    fn vessel_column_pa(&self, s: &Scratch) -> f64 {
        let Some(v) = &self.vessel else { return 0.0 };
        let (lo, hi, sign) = if v.hot_port_z_m >= v.cold_port_z_m {
            (v.cold_port_z_m, v.hot_port_z_m, 1.0)
        } else {
            (v.hot_port_z_m, v.cold_port_z_m, -1.0)
        };
        let mut sum = 0.0;
        for (i, &t) in s.layer_t_k.iter().enumerate() {
            let z0 = v.floor_z_m + i as f64 * v.layer_height_m;
            let part = (hi.min(z0 + v.layer_height_m) - lo.max(z0)).max(0.0);
            if part > 0.0 {
                sum += self.water.rho_kg_m3(t) * part;
            }
        }
        sign * G_M_S2 * sum
    }
}

impl Network {
    /// Water side alone at one moment (no fire): what the boiling and outlet conditions need, at a third of the cost.
    pub fn observe_water(&self, t_s: f64, y: &[f64]) -> super::Instant {
        let mut guard = self.scratch.borrow_mut();
        let s = &mut *guard;
        let mut d = std::mem::take(&mut s.derivative);
        d.resize(self.state_count(), 0.0);
        s.instant = super::Instant::default();
        self.unpack(y, s);
        self.water_side(self.rig.site.air_temperature_k.at(t_s), y, &mut d, s);
        s.derivative = d;
        s.instant
    }
}
