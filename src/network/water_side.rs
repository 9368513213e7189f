//! Water: the march round the loop, its momentum, the vessel and the bench, and their ledger integrals.

use super::layout::*;
use super::{Drive, Network, Scratch};
use crate::components::tube::{self, Stream, WaterSide};
use crate::components::vessel::{PortFlow, SurfaceAir};
use crate::correlations::{boiling, pump, smoothstep};

const G_M_S2: f64 = 9.80665;
/// A check valve shuts as the flow falls through this, kg/s, and lets what flows back die within a second or two.
const CHECK_KG_S: f64 = 1e-4;
const CHECK_DECAY_S: f64 = 2.0;
/// Shortest time in which friction or steam may turn the loop's flow, s: what a boiling loop does faster is qualitative.
const LEAST_MOMENTUM_S: f64 = 0.5;
/// Flow about zero within which the march is a mixture of both directions, kg/s: standing water that boils sends its
/// steam out of both ends, and the column of either leg must not jump as the flow changes sign.
const BOTH_WAYS_KG_S: f64 = 1e-3;

/// One march round the loop in one direction.
#[derive(Clone, Copy)]
struct March {
    start_w: f64,
    stream: Stream,
    buoyancy: f64,
    loss: f64,
    steam: f64,
    margin: f64,
    point: f64,
    excess: f64,
    wall_excess: f64,
    wall_max: f64,
    coil_a: f64,
    coil_b: f64,
}

impl Network {
    pub(super) fn water_side(&self, t_air: f64, y: &[f64], dy: &mut [f64], s: &mut Scratch) {
        let l = &self.layout;
        let water = self.water;
        let Some(circuit) = &self.circuit else { return };
        let w = self.flow_kg_s(y);
        let flow = w.abs();
        let forward = w >= 0.0;
        // Share of the march in forward direction.
        let share = smoothstep(0.5 + 0.5 * w / BOTH_WAYS_KG_S);
        let mut pipe_loss = 0.0;
        for (i, cell) in self.tubes.iter().enumerate() {
            let lost = cell.loss_w_k * (s.tube_t_k[i] - t_air);
            pipe_loss += lost;
            s.tube_heat_w[i] -= lost;
        }
        let one = |forward: bool, share: f64, s: &mut Scratch, dy: &mut [f64]| {
            (share > 0.0).then(|| self.march(flow, forward, share, y, dy, s))
        };
        let f = one(true, share, s, dy);
        let r = one(false, 1.0 - share, s, dy);
        let (f, r) = match (f, r) {
            (Some(f), Some(r)) => (f, r),
            (Some(f), None) => (f, f),
            (None, Some(r)) => (r, r),
            (None, None) => return,
        };
        let mix = |g: fn(&March) -> f64| share * g(&f) + (1.0 - share) * g(&r);
        let buoyancy = mix(|m| m.buoyancy);
        let loss = share * f.loss - (1.0 - share) * r.loss;
        let steam = mix(|m| m.steam);
        let (margin, excess) = (mix(|m| m.margin), mix(|m| m.excess));
        let point = if forward { f.point } else { r.point };
        let wall_excess = mix(|m| m.wall_excess);
        let wall_max = mix(|m| m.wall_max);
        let (coil_a, coil_b) = (mix(|m| m.coil_a), mix(|m| m.coil_b));

        // --- Momentum ---
        let mut electric = 0.0;
        let sign = if forward { 1.0 } else { -1.0 };
        let (drive, signed_loss, pump_to_water) = match &circuit.drive {
            Drive::Mains {
                pressure_pa,
                valve_loss_k,
                ..
            } => {
                let v2 = flow * flow / (circuit.ret_area_m2 * circuit.ret_area_m2 * 1000.0);
                let open = self.mode.valve.clamp(0.0, 1.0);
                (
                    *pressure_pa,
                    loss + sign * 0.5 * valve_loss_k * v2 / (open * open + 1e-8),
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
                        (b, loss + sign * 0.5 * p.stopped_loss_k * v2, 0.0)
                    }
                }
            }
        };
        let circuit_loss = signed_loss.abs();
        let net = drive - signed_loss;
        let damping = LEAST_MOMENTUM_S
            * (2.0 * circuit_loss / (flow + 1e-3)).max(self.steam_slope(
                w,
                excess,
                buoyancy - loss,
                y,
                dy,
                s,
            ));
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
        let to_store = mix(|m| m.stream.enthalpy_w - m.start_w);
        let mut bench_loss = 0.0;
        if let Some(v) = &self.vessel {
            let mut ports = [PortFlow {
                layer: 0,
                mdot_kg_s: 0.0,
                enthalpy_w: 0.0,
            }; 8];
            let mut used = 0;
            for (share, m, from, to) in [
                (share, &f, v.cold_layer, v.hot_layer),
                (1.0 - share, &r, v.hot_layer, v.cold_layer),
            ] {
                if share > 0.0 {
                    ports[used] = PortFlow {
                        layer: from,
                        mdot_kg_s: -share * flow,
                        enthalpy_w: -share * m.start_w,
                    };
                    ports[used + 1] = PortFlow {
                        layer: to,
                        mdot_kg_s: share * m.stream.mdot_kg_s,
                        enthalpy_w: share * m.stream.enthalpy_w,
                    };
                    used += 2;
                }
            }
            if self.mode.draw_kg_s > 0.0 {
                let out = self.mode.draw_kg_s * water.h_j_kg(s.layer_t_k[v.draw_layer]);
                let cold = self.mode.draw_kg_s * water.h_j_kg(self.mode.draw_cold_k);
                ports[used] = PortFlow {
                    layer: v.draw_layer,
                    mdot_kg_s: -self.mode.draw_kg_s,
                    enthalpy_w: -out,
                };
                ports[used + 1] = PortFlow {
                    layer: 0,
                    mdot_kg_s: self.mode.draw_kg_s,
                    enthalpy_w: cold,
                };
                used += 2;
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
            let loop_net = mix(|m| m.stream.mdot_kg_s) - flow;
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
            dy[l.integral(Integral::WaterIn)] = mix(|m| m.start_w) / E_SCALE_J;
            dy[l.integral(Integral::DrawsOut)] = mix(|m| m.stream.enthalpy_w) / E_SCALE_J;
            dy[l.integral(Integral::LoopWaterNet)] = mix(|m| m.stream.mdot_kg_s) - flow;
            let t = mix(|m| m.stream.t_k);
            s.instant.tank_top_k = t;
            s.instant.tank_bottom_k = t;
            s.instant.tank_mean_k = t;
            s.instant.tap_k = t;
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
        d.clear();
        d.resize(self.state_count(), 0.0);
        s.instant = super::Instant::default();
        self.unpack(y, s);
        self.water_side(self.rig.site.air_temperature_k.at(t_s), y, &mut d, s);
        s.derivative = d;
        s.instant
    }
}

impl Network {
    /// How fast the tubes' net drive falls with rising flow where water boils, Pa s/kg: steam makes it steeper than
    /// explicit steps could follow, and what follows is qualitative anyway.
    fn steam_slope(
        &self,
        w: f64,
        excess_j_kg: f64,
        net_pa: f64,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> f64 {
        if excess_j_kg < -2e4 {
            return 0.0;
        }
        let step = 2e-5 + 2e-3 * w.abs();
        let next = w + step;
        let share = smoothstep(0.5 + 0.5 * next / BOTH_WAYS_KG_S);
        let mut net = 0.0;
        for (forward, share, sign) in [(true, share, 1.0), (false, 1.0 - share, -1.0)] {
            if share > 0.0 {
                let m = self.march(next.abs(), forward, 0.0, y, dy, s);
                net += share * (m.buoyancy - sign * m.loss);
            }
        }
        ((net_pa - net) / step).max(0.0)
    }

    /// Passes all cells in one direction with `flow` kg/s; heat and inventories count with `share`.
    fn march(
        &self,
        flow: f64,
        forward: bool,
        share: f64,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> March {
        let l = &self.layout;
        let water = self.water;
        let n = self.tubes.len();
        let side = WaterSide {
            convection: self.rig.closures.water_convection,
            friction: self.rig.closures.water_friction,
        };
        let (from, to) = self
            .circuit
            .as_ref()
            .map_or((0, n), |c| (c.coil_from, c.coil_to));
        let h_start = match (self.circuit.as_ref().map(|c| &c.drive), &self.vessel) {
            (Some(Drive::Mains { inlet_j_kg, .. }), _) => *inlet_j_kg,
            (_, Some(v)) => {
                water.h_j_kg(s.layer_t_k[if forward { v.cold_layer } else { v.hot_layer }])
            }
            _ => 0.0,
        };
        let mut stream = Stream::liquid(water, flow, h_start);
        let mut m = March {
            start_w: flow * h_start,
            stream,
            buoyancy: 0.0,
            loss: 0.0,
            steam: 0.0,
            margin: f64::INFINITY,
            point: f64::NAN,
            excess: -1e6,
            wall_excess: f64::NEG_INFINITY,
            wall_max: f64::NEG_INFINITY,
            coil_a: stream.t_k,
            coil_b: stream.t_k,
        };
        for step in 0..n {
            let i = if forward { step } else { n - 1 - step };
            let cell = &self.tubes[i];
            let t_node = s.tube_t_k[i];
            let kg = cell
                .inventory
                .map_or(cell.water_kg, |k| y[l.inventory + k] * cell.water_kg);
            if i == from && forward || i + 1 == to && !forward {
                m.coil_a = stream.t_k;
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
            if i + 1 == to && forward || i == from && !forward {
                m.coil_b = stream.t_k;
            }
            m.buoyancy -= G_M_S2 * r.density_kg_m3 * cell.rise_m;
            m.loss += r.loss_pa;
            s.tube_heat_w[i] -= share * r.from_node_w;
            if let Some(k) = cell.inventory {
                dy[l.inventory + k] += share * r.inventory_kg_s / cell.water_kg;
                m.steam += r.steam_kg_s;
                let margin = cell.sat.t_k - stream.t_k;
                if margin < m.margin {
                    m.margin = margin;
                    m.point = cell.sat.t_k;
                }
                // A cell without water left has nothing to boil.
                if kg > 0.02 * cell.water_kg {
                    m.excess = m.excess.max(stream.h_j_kg - cell.sat.h_f_j_kg);
                }
                m.wall_max = m.wall_max.max(t_node);
                let over = t_node - cell.sat.t_k;
                m.wall_excess = m.wall_excess.max(if over > 0.0 {
                    over - boiling::onset_superheat_k(
                        (r.wall_heat_w / cell.inside_area_m2).max(1.0),
                        cell.p_pa,
                    )
                } else {
                    over - 5.0
                });
            }
        }
        m.stream = stream;
        m
    }
}
