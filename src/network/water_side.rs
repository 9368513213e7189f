//! Water: the momentum of the branches, the vessels and the bench, and their ledger integrals.

use super::layout::*;
use super::march::{BRANCHES, Marched, Transport};
use super::{Blocked, Drive, LoopModel, Network, Scratch};
use crate::components::vessel::{MAX_LAYERS, PortFlow, SurfaceAir, VesselModel};
use crate::correlations::{pump, smoothstep};

/// Shortest time in which a check valve takes the flow to nothing, s.
const CHECK_DECAY_S: f64 = 2.0;
/// Shortest time in which friction may stop a flow, s: it bounds the stiffness of a loop full of fittings whose pump stops.
const LEAST_FRICTION_S: f64 = 0.05;
/// Shortest time in which steam may turn the loop's flow, s: what a boiling loop does faster is qualitative.
const LEAST_MOMENTUM_S: f64 = 0.5;
/// Density in the return pipe, kg/m3.
const RETURN_KG_M3: f64 = 998.0;
/// Flow added where a loss is divided by its flow, kg/s.
const LEAST_FLOW_KG_S: f64 = 1e-3;

/// What drives the loop's own branch besides buoyancy.
struct Driven {
    drive_pa: f64,
    /// Loss of the stopped pump or the valve, with the flow's sign.
    loss_pa: f64,
    electric_w: f64,
    to_water_w: f64,
    /// Pump running or mains: the flow follows within the inflated inertia.
    forced: bool,
}

impl Network {
    #[inline(always)]
    pub(super) fn water_side(&self, t_air: f64, y: &[f64], dy: &mut [f64], s: &mut Scratch) {
        if !self.has_water() {
            return;
        }
        let l = &self.layout;
        let water = self.water;
        for i in 0..l.header_count {
            s.header_t_k[i] = self.header_layer_k(y, i);
        }
        let m = match &self.circuit {
            Some(circuit) => self.loop_side(circuit, t_air, y, dy, s),
            None => Marched::default(),
        };
        let mut electric_w = 0.0;

        // --- Vessel ---
        let (mut loop_net, mut to_store) = m.branch[0].net();
        let mut bench_loss = 0.0;
        let air = SurfaceAir {
            t_air_k: t_air,
            vapour_pa: self.vapour_pa,
            wind_m_s: self.rig.site.wind_m_s,
            sky_emissivity: self.sky_emissivity,
            cover_on: self.mode.cover_on,
            evaporation: self.rig.closures.evaporation,
        };
        if let Some(v) = &self.vessel {
            // Loop, draw and bench; then the relief valve, at most once a layer and once more.
            let mut ports = [PortFlow::default(); 16 + MAX_LAYERS + 1];
            let h_layer = |i: usize| water.h_j_kg(s.layer_t_k[i]);
            let mut used = loop_ports(v, &m.branch[0], h_layer, &mut ports);
            if self.mode.draw_kg_s > 0.0 {
                let out = self.mode.draw_kg_s * v.draw_port.mix(h_layer);
                let cold = self.mode.draw_kg_s * water.h_j_kg(self.mode.draw_cold_k);
                ports[used..used + 2]
                    .copy_from_slice(&v.draw_port.out(self.mode.draw_kg_s, h_layer));
                ports[used + 2] = PortFlow {
                    layer: 0,
                    mdot_kg_s: self.mode.draw_kg_s,
                    enthalpy_w: cold,
                };
                used += 3;
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
                    electric_w += b.spec.pump_power_w;
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
            let relief = s.blown_off;
            let relief_kg_s = relief.water_kg_s + relief.steam_kg_s;
            if relief_kg_s > 0.0 {
                let (n, relief_w) = self.relief_ports(s, &mut ports[used..]);
                used += n;
                dy[l.integral(Integral::Relief)] = relief_w / E_SCALE_J;
                dy[l.integral(Integral::ReliefWater)] = relief.water_kg_s;
                dy[l.integral(Integral::ReliefSteam)] =
                    relief.steam_kg_s / Integral::ReliefSteam.scale();
            }
            let layer_kg = self.layer_kg(y);
            let mut losses = v.rates(
                water,
                &s.layer_t_k,
                layer_kg,
                &ports[..used],
                &air,
                &mut s.layer_heat_w,
            );
            losses.water_out_kg_s += relief_kg_s;
            if self.bench.as_ref().is_some_and(|b| b.direct) {
                s.layer_heat_w[0] -= bench_heat;
            }
            if self.has_immersed {
                for (heat_w, soak_w) in s.layer_heat_w.iter_mut().zip(&s.soak_w) {
                    *heat_w += soak_w;
                    to_store += soak_w;
                }
            }
            for (i, &q) in s.layer_heat_w.iter().enumerate() {
                dy[l.layers + i] = q / (v.scale_j_k() * T_SCALE_K);
            }
            // Steam made in the coil comes back as water; what refills the coil is missing in the vessel.
            if let Some(i) = l.vessel_mass {
                dy[i] = (loop_net - losses.water_out_kg_s) / (v.layer_kg * v.layers as f64);
            }
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
            s.instant.tap_k = v.draw_port.mix(|i| s.layer_t_k[i]);
            s.instant.tank_mean_k = self.tank_mean_k(y);
            s.instant.tank_water_kg = v.layers as f64 * layer_kg;
        } else {
            // Once through: what comes in and what goes out cross the rig's boundary.
            let sum = |p: &[(f64, f64); 2]| p[0].1 + p[1].1;
            dy[l.integral(Integral::WaterIn)] = sum(&m.branch[0].taken) / E_SCALE_J;
            dy[l.integral(Integral::DrawsOut)] = sum(&m.branch[0].given) / E_SCALE_J;
            let t = m.branch[0].end_t_k;
            s.instant.tank_top_k = t;
            s.instant.tank_bottom_k = t;
            s.instant.tank_mean_k = t;
            s.instant.tap_k = t;
        }
        loop_net += self.header_rates(&m.branch[1], &air, y, dy, s);
        self.drum_side(&air, y, dy, s);
        dy[l.integral(Integral::LoopWaterNet)] = loop_net;
        let heats = s.tube_heat_w.iter().zip(&s.face_heat_w);
        let (of_water, of_walls) = dy[l.tubes..].split_at_mut(l.tube_walls - l.tubes);
        for ((t, d), (water_w, face_w)) in self.tubes.iter().zip(of_water).zip(heats) {
            *d = water_w * t.per.scale_k_j * (1.0 / T_SCALE_K);
            if let Some(k) = t.wall {
                of_walls[k] = face_w * t.per.wall_k_j * (1.0 / T_SCALE_K);
            }
        }
        dy[l.integral(Integral::BenchLoss)] = bench_loss / E_SCALE_J;
        dy[l.integral(Integral::PumpElectric)] += electric_w / E_SCALE_J;
        dy[l.integral(Integral::HeatToStore)] = to_store / E_SCALE_J;
        s.instant.to_store_w = to_store;
        s.instant.bench_loss_w = bench_loss;
    }

    /// Pipes, coil and what moves their water.
    #[inline(always)]
    fn loop_side(
        &self,
        circuit: &LoopModel,
        t_air: f64,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> Marched {
        let l = &self.layout;
        let w = [self.flow_kg_s(y), self.bypass_kg_s(y)];
        let mut pipe_loss = 0.0;
        for (i, cell) in self.tubes.iter().enumerate() {
            if cell.loss_w_k > 0.0 {
                let (t_k, heat_w) = match cell.wall {
                    Some(_) if !cell.shelled => (s.face_t_k[i], &mut s.face_heat_w[i]),
                    _ => (s.tube[i].t_k, &mut s.tube_heat_w[i]),
                };
                let lost = cell.loss_w_k * (t_k - t_air);
                pipe_loss += lost;
                *heat_w -= lost;
            }
        }
        for (i, n) in circuit.neighbours.iter().enumerate() {
            if let Some((before, _)) = n.before {
                let q = n.conductance_w_k * (s.tube[before].t_k - s.tube[i].t_k);
                s.tube_heat_w[i] += q;
                s.tube_heat_w[before] -= q;
            }
        }
        let m = self.march_all(w, true, y, dy, s);
        let driven = self.driven(circuit, w[0]);
        self.momentum(circuit, w, &m, &driven, y, dy, s);
        s.tube_heat_w[0] += driven.to_water_w;
        dy[l.integral(Integral::PipeLoss)] = pipe_loss / E_SCALE_J;
        dy[l.integral(Integral::PumpWork)] = driven.to_water_w / E_SCALE_J;
        dy[l.integral(Integral::PumpElectric)] = driven.electric_w / E_SCALE_J;
        dy[l.integral(Integral::Steam)] = m.steam_kg_s / Integral::Steam.scale();
        dy[l.integral(Integral::LoopFlow)] = w[0] / Integral::LoopFlow.scale();
        dy[l.integral(Integral::BypassFlow)] = w[1] / Integral::BypassFlow.scale();

        let i = &mut s.instant;
        i.flow_kg_s = w[0];
        i.bypass_flow_kg_s = w[1];
        i.coil_in_k = m.coil_in_k;
        i.coil_out_k = m.coil_out_k;
        i.boiling_margin_k = m.margin_k;
        i.boiling_cell = m.cell;
        i.boiling_point_k = m.point_k;
        i.boiling_excess_j_kg = m.excess_j_kg;
        // The profile along a cell ends above its mean, which the wall's face knows; where water boils the wall boils.
        i.coil_wall_max_k = i.coil_wall_max_k.max(m.point_k - m.margin_k);
        i.wall_boiling_excess_k = i.wall_boiling_excess_k.max(m.excess_j_kg / 4186.0);
        i.steam_kg_s = m.steam_kg_s;
        i.pipe_loss_w = pipe_loss;
        m
    }

    /// A running pump or mains press the loop's water.
    pub(super) fn is_driven(&self) -> bool {
        match self.circuit.as_ref().map(|c| &c.drive) {
            Some(Drive::Pump(p)) => self.mode.pump.is_some_and(|i| i < p.settings.len()),
            Some(Drive::Mains { .. }) => true,
            _ => false,
        }
    }

    /// Nothing but buoyancy can ever move the loop's water.
    pub(super) fn moves_by_itself(&self) -> bool {
        self.circuit
            .as_ref()
            .is_some_and(|c| matches!(c.drive, Drive::Thermosyphon))
    }

    /// Pump, mains or stopped pump at a flow of the loop's own branch.
    #[inline(always)]
    fn driven(&self, circuit: &LoopModel, w: f64) -> Driven {
        let mut d = Driven {
            drive_pa: 0.0,
            loss_pa: 0.0,
            electric_w: 0.0,
            to_water_w: 0.0,
            forced: self.is_driven(),
        };
        // One velocity head on the return pipe's bore, with the flow's sign.
        let head_pa =
            0.5 * w * w.abs() / (circuit.ret_area_m2 * circuit.ret_area_m2 * RETURN_KG_M3);
        d.loss_pa = self.mode.obstruction_k * head_pa;
        match &circuit.drive {
            Drive::Mains {
                pressure_pa,
                valve_loss_k,
                ..
            } => {
                let open = self.mode.valve.clamp(0.0, 1.0);
                d.drive_pa = *pressure_pa;
                d.loss_pa += valve_loss_k * head_pa / (open * open + 1e-8);
            }
            Drive::Thermosyphon => {}
            Drive::Pump(p) => match self.mode.pump.and_then(|i| p.settings.get(i)) {
                Some(setting) => {
                    d.electric_w = setting.power_w;
                    d.drive_pa = pump::interpolate_curve(&setting.curve, w / RETURN_KG_M3);
                    d.to_water_w = setting.power_w * p.power_to_water;
                }
                None => d.loss_pa += p.stopped_loss_k * head_pa,
            },
        }
        d
    }

    /// Rates of the branches' flows. With the tees' pressure difference eliminated, each branch with the coil is a
    /// loop of its own, and the coil's inertia couples them:
    ///
    /// (I_b + I_c) dw_b/dt + I_c Σ dw_other/dt = drive of branch and coil − loss of branch and coil
    #[allow(clippy::too_many_arguments)] // the state, its rates and the scratch space always go together
    #[inline(always)]
    fn momentum(
        &self,
        circuit: &LoopModel,
        w: [f64; BRANCHES],
        m: &Marched,
        driven: &Driven,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) {
        let mains = matches!(circuit.drive, Drive::Mains { .. });
        let coil_inertia = circuit.coil_inertia_per_m;
        let coil_flow = (w[0] + w[1]).abs();
        let mut net = [0.0; BRANCHES];
        let mut inertia = [1.0; BRANCHES];
        let mut one_way = [false; BRANCHES];
        let mut count = 0;
        for b in 0..BRANCHES {
            let Some(branch) = self.branch(b) else { break };
            count = b + 1;
            let own = b == 0;
            let buoyancy = if own && mains {
                0.0
            } else {
                m.branch_buoyancy_pa[b] + m.coil_buoyancy_pa + self.vessel_column_pa(b, s)
            };
            let drive = buoyancy + if own { driven.drive_pa } else { 0.0 };
            let branch_loss = m.branch_loss_pa[b] + if own { driven.loss_pa } else { 0.0 };
            let loss = branch_loss + m.coil_loss_pa;
            net[b] = drive - loss;
            let friction = 2.0
                * (branch_loss.abs() / (w[b].abs() + LEAST_FLOW_KG_S)
                    + m.coil_loss_pa.abs() / (coil_flow + LEAST_FLOW_KG_S));
            let damping = (LEAST_FRICTION_S * friction)
                .max(LEAST_MOMENTUM_S * self.steam_slope(b, w, m, y, dy, s));
            let forced = if own && driven.forced {
                circuit.forced_inertia_per_m
            } else {
                0.0
            };
            inertia[b] = branch.inertia_per_m + coil_inertia + forced + damping;
            one_way[b] = branch.check_valve;
            if own {
                s.instant.loop_drive_pa = drive;
                s.instant.loop_loss_pa = loss.abs();
            }
        }
        let mut dw = if count == 1 {
            [net[0] / inertia[0], 0.0]
        } else {
            let det = inertia[0] * inertia[1] - coil_inertia * coil_inertia;
            [
                (inertia[1] * net[0] - coil_inertia * net[1]) / det,
                (inertia[0] * net[1] - coil_inertia * net[0]) / det,
            ]
        };
        // Check valves: flow dies away behind a closing one, and does not turn. The time that this takes is bounded, so
        // that no branch pressed shut by a pump is stiffer than the rest; the other branch moves against what is left.
        let free = dw;
        for b in 0..count {
            let shutting = -w[b] / CHECK_DECAY_S;
            if one_way[b] && free[b] < shutting {
                dw[b] = shutting;
                let other = 1 - b;
                let other_shut = one_way[other] && free[other] < -w[other] / CHECK_DECAY_S;
                if count == 2 && !other_shut {
                    dw[other] = (net[other] - coil_inertia * dw[b]) / inertia[other];
                }
            }
        }
        if self.mode.blocked != Blocked::No {
            // What the main branch cannot take, the bypass has alone.
            dw[0] = -w[0] / CHECK_DECAY_S;
            if count == 2 {
                let shut = one_way[1] && net[1] / inertia[1] < -w[1] / CHECK_DECAY_S;
                dw[1] = if shut {
                    -w[1] / CHECK_DECAY_S
                } else {
                    (net[1] - coil_inertia * dw[0]) / inertia[1]
                };
            }
        }
        for (i, d) in [self.layout.flow, self.layout.bypass_flow].iter().zip(dw) {
            if let Some(i) = *i {
                dy[i] = d / FLOW_SCALE_KG_S;
            }
        }
    }

    /// How fast the net drive of a branch's loop falls with rising flow where water boils, Pa s/kg: steam makes it
    /// steeper than explicit steps could follow, and what follows is qualitative anyway.
    #[inline(never)] // rarely needed, and it marches the loop once more
    fn steam_slope(
        &self,
        b: usize,
        w: [f64; BRANCHES],
        m: &Marched,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> f64 {
        // Looked for from some 7 K under boiling; grows in over another 5 K.
        let near = smoothstep((m.excess_j_kg + 3e4) / 2e4);
        if near <= 0.0 {
            return 0.0;
        }
        let step = 2e-5 + 2e-3 * w[b].abs();
        let mut next = w;
        next[b] += step;
        let n = self.march_all(next, false, y, dy, s);
        let net = |m: &Marched| {
            m.branch_buoyancy_pa[b] + m.coil_buoyancy_pa - m.branch_loss_pa[b] - m.coil_loss_pa
        };
        near * ((net(m) - net(&n)) / step).max(0.0)
    }

    /// The header's layers, water and losses; what water it got less what it gave, kg/s.
    fn header_rates(
        &self,
        t: &Transport,
        air: &SurfaceAir,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> f64 {
        let (Some(v), Some(mass)) = (self.header(), self.layout.header_mass) else {
            return 0.0;
        };
        let l = &self.layout;
        let mut ports = [PortFlow::default(); 8];
        let used = loop_ports(v, t, |i| self.water.h_j_kg(s.header_t_k[i]), &mut ports);
        let losses = v.rates(
            self.water,
            &s.header_t_k,
            self.header_layer_kg(y),
            &ports[..used],
            air,
            &mut s.header_heat_w,
        );
        for (i, &q) in s.header_heat_w.iter().enumerate() {
            dy[l.header_layers + i] = q / (v.scale_j_k() * T_SCALE_K);
        }
        let (net_kg_s, net_w) = t.net();
        dy[mass] = (net_kg_s - losses.water_out_kg_s) / (v.layer_kg * v.layers as f64);
        dy[l.integral(Integral::VesselWaterOut)] += losses.water_out_kg_s;
        dy[l.integral(Integral::HeaderLoss)] = losses.walls_w / E_SCALE_J;
        dy[l.integral(Integral::Vented)] += losses.vented_w / E_SCALE_J;
        dy[l.integral(Integral::HeatToHeader)] = net_w / E_SCALE_J;
        s.instant.to_header_w = net_w;
        s.instant.header_loss_w = losses.walls_w + losses.vented_w;
        s.instant.header_top_k = s.header_t_k[v.layers - 1];
        s.instant.header_mean_k = self.header_mean_k(y);
        net_kg_s
    }
}

/// Flows through the loop's ports of a vessel: taken and given, forward and backward.
#[inline(always)]
fn loop_ports(
    v: &VesselModel,
    t: &Transport,
    h_layer: impl Fn(usize) -> f64,
    ports: &mut [PortFlow],
) -> usize {
    let mut used = 0;
    for (i, from, to) in [(0, v.cold_port, v.hot_port), (1, v.hot_port, v.cold_port)] {
        let (taken_kg_s, given) = (t.taken[i].0, t.given[i]);
        if taken_kg_s != 0.0 {
            ports[used..used + 2].copy_from_slice(&from.out(taken_kg_s, &h_layer));
            used += 2;
        }
        if given.0 != 0.0 || given.1 != 0.0 {
            ports[used..used + 2].copy_from_slice(&to.into_layers(given.0, given.1));
            used += 2;
        }
    }
    used
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
        s.seen_t_s = f64::NAN;
        self.unpack(y, s);
        self.water_side(self.rig.site.air_temperature_k.at(t_s), y, &mut d, s);
        s.derivative = d;
        s.instant
    }
}
