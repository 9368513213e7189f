//! A second formulation of coil, loop and store: walls and water as separate states, water carried by limited
//! second-order advection through many short cells, the loop with its true inertia, all integrated by an implicit method of
//! another library. Properties, correlations and the content of the tubes are the project's own (they are checked elsewhere); the march
//! round the loop, the lumping of metal and water and the inflated inertia, which this is to judge, are not.
//!
//! The heat into the coil is the same boundary condition in both: fire, gas and stove walls are the project's, seen
//! by walls of this formulation's own temperature.
#![allow(dead_code)]

use super::dynamic_compare::Traced;
use super::dynamic_parts::{Cell, Event, Nusselt, Store, hermite};
use differential_equations::methods::BackwardDifferentiationFormula;
use differential_equations::ode::{ODE, OrdinaryNumericalMethod};
use emberloop::components::spec::*;
use emberloop::correlations::{boiling, friction, natural_convection, nusselt_internal, pump};
use emberloop::integrate::OdeSystem;
use emberloop::network::Network;
use emberloop::properties::water::Water as Properties;
use std::cell::RefCell;
use std::f64::consts::PI;
use std::ops::Range;

const G_M_S2: f64 = 9.80665;
const T_REF_K: f64 = 298.15;
/// Scales of the states: kelvin, J/kg, kg/s.
const T_UNIT_K: f64 = 100.0;
const H_UNIT_J_KG: f64 = 4.186e5;
const W_UNIT_KG_S: f64 = 0.1;
/// Time in which an inverted layer mixes with the one above, s (a closure, so the project's own).
const PLUME_S: f64 = 3.0;
/// Content of coil and pipes over their volume, kg/m3: the project's own (water at 45 degC); that of the cold start is 1 %
/// more, and a front as much later.
const CONTENT_KG_M3: f64 = 990.0;
const STABLE_W_MK: f64 = 1.0;
const FIRST_STEP_S: f64 = 0.01;

/// How fine the second formulation is.
#[derive(Clone, Copy)]
pub struct Fineness {
    /// Water cells to one gas cell of the coil.
    pub coil: usize,
    /// Cells of each pipe.
    pub pipe: usize,
    pub rtol: f64,
}

impl Default for Fineness {
    fn default() -> Self {
        Self {
            coil: 4,
            pipe: 16,
            rtol: 1e-5,
        }
    }
}

pub struct Dynamic {
    rig: Rig,
    /// Fire, gas and stove walls; its water stands still under pressure and only gives the walls' temperatures.
    fire: RefCell<Network>,
    fire_states: usize,
    /// The project's tube cells at every gas cell, in the direction of the water.
    facing: Vec<Range<usize>>,
    cells: Vec<Cell>,
    store: Store,
    inertia_per_m: f64,
    return_m2: f64,
    water: &'static Properties,
    buffers: RefCell<(Vec<f64>, Vec<f64>)>,
    template: RefCell<Vec<f64>>,
    pump: RefCell<Option<usize>>,
    fineness: Fineness,
}

impl Dynamic {
    /// For a rig with a closed store, helical coils in series and feeds by the clock.
    pub fn new(rig: &Rig, fineness: Fineness) -> Self {
        let water = Properties::shared();
        let mut fire = Network::new(rig).expect("assembles");
        let Water::Store {
            circuit: Some(circuit),
            vessel: v,
            ..
        } = &rig.water
        else {
            panic!("a store is needed");
        };
        let p_air = fire.p_air_pa;
        let surface_z = v.floor_z_m + v.water_depth_m;
        let rho0 = water.rho_kg_m3(v.start_temperature_k);
        let mut cells = Vec::new();
        let add = |cells: &mut Vec<Cell>, mut c: Cell, z: f64| {
            // Hydrostatic column of warm water, as the boiling point needs it.
            c.p_pa = p_air + 985.0 * G_M_S2 * (surface_z - z).max(-8.0);
            let s = water.sat(c.p_pa);
            c.sat_k = s.t_k;
            c.h_f_j_kg = s.h_f_j_kg;
            cells.push(c);
        };
        let pipe = |cells: &mut Vec<Cell>, p: &Pipe, z0: f64, z1: f64| {
            let n = fineness.pipe;
            let l = p.length_m / n as f64;
            let a = PI / 4.0 * p.inside_m * p.inside_m;
            for i in 0..n {
                let z = z0 + (z1 - z0) * (i as f64 + 0.5) / n as f64;
                let c = Cell {
                    kg: CONTENT_KG_M3 * a * l,
                    metal_j_k: p.wall_heat_capacity_j_mk * l,
                    inside_m2: PI * p.inside_m * l,
                    flow_m2: a,
                    inside_m: p.inside_m,
                    length_m: l,
                    rise_m: (z1 - z0) / n as f64,
                    loss_k: p.loss_k / n as f64,
                    roughness: p.roughness_m / p.inside_m,
                    loss_w_k: p.loss_w_mk * l,
                    nusselt: Nusselt::Pipe((p.inside_m / p.length_m).min(1.0)),
                    p_pa: 0.0,
                    sat_k: 0.0,
                    h_f_j_kg: 0.0,
                    heated: None,
                };
                add(cells, c, z);
            }
        };
        let ends = |c: &Coil| {
            let up = rig.gas_path[c.section].rise_m >= 0.0;
            if up == (c.water_entry == WaterEntry::GasInlet) {
                (c.bottom_z_m, c.top_z_m)
            } else {
                (c.top_z_m, c.bottom_z_m)
            }
        };
        let (hot_z, cold_z) = (v.floor_z_m + v.hot_port_m, v.floor_z_m + v.cold_port_m);
        let mut z = ends(&rig.coils[0]).0;
        pipe(&mut cells, &circuit.ret, cold_z, z);
        let mut gas_cell = 0;
        for c in &rig.coils {
            let CoilForm::Helix {
                coil_diameter_m, ..
            } = c.form
            else {
                panic!("helices only");
            };
            let gas_cells = fire.ducts[c.section].cells;
            let n = gas_cells * fineness.coil;
            let par = c.parallel as f64;
            let l = c.length_m / n as f64;
            let a = PI / 4.0 * c.tube_inside_m * c.tube_inside_m;
            let metal = PI / 4.0 * c.tube_outside_m * c.tube_outside_m - a;
            let (z0, z1) = ends(c);
            for i in 0..n {
                let bridge = if i == 0 { z0 - z } else { 0.0 };
                let at = z0 + (z1 - z0) * (i as f64 + 0.5) / n as f64;
                let cell = Cell {
                    kg: par * CONTENT_KG_M3 * a * l,
                    metal_j_k: par
                        * metal
                        * l
                        * c.metal.density_kg_m3
                        * c.metal.heat_capacity_j_kgk,
                    inside_m2: par * PI * c.tube_inside_m * l,
                    flow_m2: par * a,
                    inside_m: c.tube_inside_m,
                    length_m: l,
                    rise_m: (z1 - z0) / n as f64 + bridge,
                    loss_k: 0.0,
                    roughness: 1.5e-6 / c.tube_inside_m,
                    loss_w_k: 0.0,
                    nusselt: Nusselt::Helix(c.tube_inside_m / coil_diameter_m),
                    p_pa: 0.0,
                    sat_k: 0.0,
                    h_f_j_kg: 0.0,
                    heated: Some((gas_cell + i / fineness.coil, 1.0 / fineness.coil as f64)),
                };
                add(&mut cells, cell, at);
            }
            gas_cell += gas_cells;
            z = z1;
        }
        pipe(&mut cells, &circuit.supply, z, hot_z);
        let n = v.layers;
        let layer_h = v.water_depth_m / n as f64;
        let area = v.water_m3 / v.water_depth_m;
        let side = (4.0 * PI * area).sqrt() * v.water_depth_m;
        let port = |z: f64| {
            let x = (z / layer_h - 0.5).clamp(0.0, (n - 1) as f64);
            let up = x - x.floor();
            let low = x as usize;
            [(low, 1.0 - up), ((low + 1).min(n - 1), up)]
        };
        let layer_kg = v.water_m3 * rho0 / n as f64;
        let store = Store {
            layers: n,
            layer_kg,
            shell_j_k: v.shell_heat_capacity_j_k / n as f64,
            loss_w_k: (0..n)
                .map(|i| {
                    let mut m2 = side / n as f64;
                    if i == 0 {
                        m2 += area;
                    }
                    if i + 1 == n {
                        m2 += area;
                    }
                    v.loss_w_k * m2 / (side + 2.0 * area)
                })
                .collect(),
            mixing_w_k: layer_kg * 4186.0 / PLUME_S,
            stable_w_k: STABLE_W_MK * area / layer_h,
            hot: port(v.hot_port_m),
            cold: port(v.cold_port_m),
            height_m: layer_h,
            hot_z_m: hot_z,
            cold_z_m: cold_z,
            floor_z_m: v.floor_z_m,
        };
        let high = water.sat(2e6);
        for t in &mut fire.tubes {
            t.sat = high;
        }
        let mut facing: Vec<Range<usize>> = Vec::new();
        for c in &rig.coils {
            facing.extend(
                fire.ducts[c.section]
                    .bank
                    .as_ref()
                    .expect("coil")
                    .tubes
                    .iter()
                    .cloned(),
            );
        }
        // Gas cells count with the gas, their tubes with the water.
        facing.sort_by_key(|r| r.start);
        let states = fire.state_count();
        let template = fire.initial_state();
        let inertia_per_m = cells.iter().map(|c| c.length_m / c.flow_m2).sum();
        Self {
            rig: rig.clone(),
            fire_states: fire.layout.tubes,
            facing,
            return_m2: PI / 4.0 * circuit.ret.inside_m * circuit.ret.inside_m,
            cells,
            store,
            inertia_per_m,
            water,
            buffers: RefCell::new((template.clone(), vec![0.0; states])),
            template: RefCell::new(template),
            fire: RefCell::new(fire),
            pump: RefCell::new(rig.controls.pump.steps.initial),
            fineness,
        }
    }

    fn len(&self) -> usize {
        self.fire_states + 2 * self.cells.len() + 1 + self.store.layers
    }

    fn start(&self) -> Vec<f64> {
        let mut z = vec![0.0; self.len()];
        let template = self.template.borrow();
        z[..self.fire_states].copy_from_slice(&template[..self.fire_states]);
        let Water::Store { vessel, .. } = &self.rig.water else {
            return z;
        };
        let t_air = self.rig.site.air_temperature_k.at(0.0);
        let t0 = vessel
            .start_temperature_k
            .min(t_air.max(274.15) + 10.0)
            .max(274.15);
        let n = self.cells.len();
        for i in 0..n {
            z[self.fire_states + i] = (t0 - T_REF_K) / T_UNIT_K;
            z[self.fire_states + n + i] = self.water.h_j_kg(t0) / H_UNIT_J_KG;
        }
        for l in 0..self.store.layers {
            z[self.fire_states + 2 * n + 1 + l] = (vessel.start_temperature_k - T_REF_K) / T_UNIT_K;
        }
        z
    }

    fn layer_k(&self, z: &[f64], l: usize) -> f64 {
        T_REF_K + z[self.fire_states + 2 * self.cells.len() + 1 + l] * T_UNIT_K
    }

    /// Temperature of the whole store if mixed (heat capacity nearly constant: error below 0.02 K).
    fn tank_k(&self, z: &[f64]) -> f64 {
        let n = self.store.layers;
        let h: f64 = (0..n)
            .map(|l| self.water.h_j_kg(self.layer_k(z, l)))
            .sum::<f64>()
            / n as f64;
        self.water.t_from_h_k(h)
    }

    fn flow_kg_s(&self, z: &[f64]) -> f64 {
        z[self.fire_states + 2 * self.cells.len()] * W_UNIT_KG_S
    }

    fn outlet_k(&self, z: &[f64]) -> f64 {
        let last = self
            .cells
            .iter()
            .rposition(|c| c.heated.is_some())
            .expect("coil");
        self.water
            .t_from_h_k(z[self.fire_states + self.cells.len() + last] * H_UNIT_J_KG)
    }

    /// Enthalpy with which water leaves a cell: a straight profile through it, its slope the average of the slopes on both
    /// sides by van Albada, van Leer & Roberts (1982, from memory), so that a front is smeared by its curvature alone.
    fn leaves_j_kg(&self, h: &impl Fn(usize) -> f64, port: f64, i: usize, forward: bool) -> f64 {
        let n = self.cells.len();
        let kg = self.cells[i].kg;
        let (before, after) = if forward {
            (i.checked_sub(1), (i + 1 < n).then_some(i + 1))
        } else {
            ((i + 1 < n).then_some(i + 1), i.checked_sub(1))
        };
        let rise = |j: usize| (h(j) - h(i)) * 2.0 * kg / (kg + self.cells[j].kg);
        // Both over this cell's length.
        let from = before.map_or(2.0 * (h(i) - port), |j| -rise(j));
        let to = after.map_or(0.0, rise);
        if from * to <= 0.0 {
            return h(i);
        }
        h(i) + 0.5 * from * to * (from + to) / (from * from + to * to)
    }

    /// Largest enthalpy of coil water above saturated liquid, J/kg.
    fn boiling_j_kg(&self, z: &[f64]) -> f64 {
        let at = self.fire_states + self.cells.len();
        self.cells
            .iter()
            .enumerate()
            .filter(|(_, c)| c.heated.is_some())
            .map(|(i, c)| z[at + i] * H_UNIT_J_KG - c.h_f_j_kg)
            .fold(f64::NEG_INFINITY, f64::max)
    }

    fn rhs(&self, t_s: f64, z: &[f64], dz: &mut [f64]) {
        let nf = self.fire_states;
        let n = self.cells.len();
        let t_air = self.rig.site.air_temperature_k.at(t_s);
        let fire = self.fire.borrow();
        let mut guard = self.buffers.borrow_mut();
        let (y, dy) = &mut *guard;
        y.copy_from_slice(&self.template.borrow());
        y[..nf].copy_from_slice(&z[..nf]);
        // Mean wall temperature of every gas cell.
        let mut wall_k = vec![0.0; self.facing.len()];
        for (i, c) in self.cells.iter().enumerate() {
            if let Some((g, share)) = c.heated {
                wall_k[g] += share * (T_REF_K + z[nf + i] * T_UNIT_K);
            }
        }
        for (g, &t) in wall_k.iter().enumerate() {
            // Water as warm as the metal takes nothing from it.
            for i in self.facing[g].clone() {
                fire.set_tube(y, i, t);
            }
        }
        if let Some(f) = fire.layout.flow {
            y[f] = 0.0;
        }
        fire.rhs(t_s, y, dy);
        dz[..nf].copy_from_slice(&dy[..nf]);
        let gas_w = |g: usize| {
            self.facing[g]
                .clone()
                .map(|i| {
                    let t = &fire.tubes[i];
                    dy[fire.layout.tube_walls + t.wall.expect("coil")] * t.wall_j_k * 100.0
                })
                .sum::<f64>()
        };

        let w = z[nf + 2 * n] * W_UNIT_KG_S;
        let speed = w.abs();
        let at_port = |p: &[(usize, f64); 2]| -> f64 {
            p.iter()
                .map(|&(l, share)| share * self.water.h_j_kg(self.layer_k(z, l)))
                .sum()
        };
        let (cold, hot) = (at_port(&self.store.cold), at_port(&self.store.hot));
        let h = |i: usize| z[nf + n + i] * H_UNIT_J_KG;
        let (mut buoyancy, mut loss) = (0.0, 0.0);
        for (i, c) in self.cells.iter().enumerate() {
            let t_wall = T_REF_K + z[nf + i] * T_UNIT_K;
            let t = self.water.t_from_h_k(h(i)).min(c.sat_k);
            let p = self.water.liquid(t);
            let re = speed * c.inside_m / (c.flow_m2 * p.mu_pa_s);
            let pr = p.pr();
            let (forced, f_re) = match c.nusselt {
                Nusselt::Helix(ratio) => (
                    nusselt_internal::helix(re, pr, ratio),
                    friction::helix_f_re(re, ratio, c.roughness),
                ),
                Nusselt::Pipe(d_l) => (
                    nusselt_internal::duct(re, pr, d_l),
                    friction::pipe_f_re(re, c.roughness),
                ),
            };
            let over = t_wall - t;
            // Water that stands turns over in the tube: natural convection on the bore (Churchill & Chu's cylinder).
            let beta =
                0.5 * (self.water.rho_kg_m3(t - 1.0) - self.water.rho_kg_m3(t + 1.0)) / p.rho_kg_m3;
            let nu = p.mu_pa_s / p.rho_kg_m3;
            let ra = G_M_S2 * beta.max(0.0) * (over * over + 1e-4).sqrt() * c.inside_m.powi(3) * pr
                / (nu * nu);
            let natural =
                0.518 * ra.sqrt().sqrt() / (1.0 + (0.559 / pr).powf(9.0 / 16.0)).powf(4.0 / 9.0);
            let nusselt = natural_convection::mixed_with_wind(natural, forced)
                * self.rig.closures.water_convection;
            let mut to_water = nusselt * p.k_w_mk / c.inside_m * c.inside_m2 * over;
            // A wall above saturation boils into water that is still colder.
            let superheat = t_wall - c.sat_k;
            if superheat > 0.0 {
                to_water += boiling::pool_cooper_at_superheat_w_m2k(superheat, c.p_pa)
                    * superheat
                    * c.inside_m2;
            }
            let outside = match c.heated {
                Some((g, share)) => gas_w(g) * share,
                None => -c.loss_w_k * (t_wall - t_air),
            };
            dz[nf + i] = (outside - to_water) / (c.metal_j_k * T_UNIT_K);
            let came = match (w >= 0.0, i) {
                (true, 0) => cold,
                (true, _) => self.leaves_j_kg(&h, cold, i - 1, true),
                (false, _) if i + 1 == n => hot,
                (false, _) => self.leaves_j_kg(&h, hot, i + 1, false),
            };
            let leaves = self.leaves_j_kg(&h, if w >= 0.0 { cold } else { hot }, i, w >= 0.0);
            dz[nf + n + i] = (speed * (came - leaves) + to_water) / (c.kg * H_UNIT_J_KG);
            let g_flux = w / c.flow_m2;
            buoyancy -= G_M_S2 * p.rho_kg_m3 * c.rise_m;
            loss += self.rig.closures.water_friction
                * (f_re * p.mu_pa_s * g_flux / (2.0 * p.rho_kg_m3 * c.inside_m * c.inside_m)
                    * c.length_m
                    + c.loss_k * 0.5 * g_flux * g_flux.abs() / p.rho_kg_m3);
        }

        // Loop.
        let s = &self.store;
        for l in 0..s.layers {
            let z0 = s.floor_z_m + l as f64 * s.height_m;
            let part = (s.hot_z_m.min(z0 + s.height_m) - s.cold_z_m.max(z0)).max(0.0);
            buoyancy += G_M_S2 * part * self.water.rho_kg_m3(self.layer_k(z, l));
        }
        let mut head = 0.0;
        let mut heat = 0.0;
        if let Some(p) = self.rig.circuit().and_then(|c| c.pump.as_ref()) {
            match self.pump.borrow().and_then(|i| p.settings.get(i)) {
                Some(setting) => {
                    head = pump::interpolate_curve(&setting.curve, w / 998.0);
                    heat = setting.power_w * p.power_to_water;
                }
                None => {
                    head = -0.5 * p.stopped_loss_k * w * speed / (self.return_m2.powi(2) * 998.0);
                }
            }
        }
        dz[nf + n] += heat / (self.cells[0].kg * H_UNIT_J_KG);
        dz[nf + 2 * n] = (head + buoyancy - loss) / (self.inertia_per_m * W_UNIT_KG_S);

        // Store.
        let base = nf + 2 * n + 1;
        let mut q = vec![0.0; s.layers];
        let (from, to, returned) = if w >= 0.0 {
            (s.cold, s.hot, self.leaves_j_kg(&h, cold, n - 1, true))
        } else {
            (s.hot, s.cold, self.leaves_j_kg(&h, hot, 0, false))
        };
        // Water that comes into a layer less what leaves it by the ports, kg/s.
        let mut gained = vec![0.0; s.layers];
        for (l, share) in from {
            q[l] -= share * speed * self.water.h_j_kg(self.layer_k(z, l));
            gained[l] -= share * speed;
        }
        for (l, share) in to {
            q[l] += share * speed * returned;
            gained[l] += share * speed;
        }
        // The surplus moves on to the layer above, or is drawn from it.
        let mut up = 0.0;
        for l in 0..s.layers - 1 {
            up += gained[l];
            let upstream = if up > 0.0 { l } else { l + 1 };
            let carried = up * self.water.h_j_kg(self.layer_k(z, upstream));
            q[l] -= carried;
            q[l + 1] += carried;
        }
        for l in 0..s.layers - 1 {
            let d = self.layer_k(z, l) - self.layer_k(z, l + 1);
            let unstable = if d > 0.0 { d * d / (d + 0.2) } else { 0.0 };
            let mix = s.mixing_w_k * unstable + s.stable_w_k * d;
            q[l] -= mix;
            q[l + 1] += mix;
        }
        for l in 0..s.layers {
            let t = self.layer_k(z, l);
            q[l] -= s.loss_w_k[l] * (t - t_air);
            let c = s.layer_kg * self.water.liquid(t).cp_j_kgk + s.shell_j_k;
            dz[base + l] = q[l] / (c * T_UNIT_K);
        }
    }

    /// Runs to `end_s`, or to the first boiling where `until_boiling`; samples every `every_s`.
    pub fn run(&self, end_s: f64, every_s: f64, until_boiling: bool) -> Traced {
        let mut z = self.start();
        let mut events = self.events(end_s);
        events.sort_by(|a, b| a.0.total_cmp(&b.0));
        events.push((end_s, Event::StarterOut));
        let mut out = Traced {
            t_s: vec![],
            tank_k: vec![],
            flow_kg_s: vec![],
            outlet_k: vec![],
            boiling_s: None,
            states: self.len(),
            steps: 0,
        };
        self.with_fire(&mut z, |fire, y| {
            let l = &self.rig.lighting;
            if l.kindling_kg > 0.0 {
                fire.add_wood(
                    y,
                    0.0,
                    l.kindling_kg,
                    l.kindling_thickness_m,
                    l.kindling_moisture_wet,
                    true,
                );
                fire.mode.starter_on = l.starter_j > 0.0;
            }
        });
        let mut t = 0.0;
        let mut due = 0.0;
        for (at, event) in events {
            if at > t {
                let stopped =
                    self.segment(t, at, &mut z, every_s, &mut due, until_boiling, &mut out);
                t = at;
                if stopped {
                    break;
                }
            }
            self.with_fire(&mut z, |fire, y| match event {
                Event::StarterOut => fire.mode.starter_on = false,
                Event::Feed(kg) => {
                    let f = &self.rig.fuel;
                    fire.add_wood(y, at, kg, f.stick.thickness_m, f.moisture_wet, false);
                }
                Event::Pump(p) => *self.pump.borrow_mut() = p,
            });
        }
        out
    }

    fn with_fire(&self, z: &mut [f64], act: impl FnOnce(&mut Network, &mut [f64])) {
        let mut y = self.template.borrow().clone();
        y[..self.fire_states].copy_from_slice(&z[..self.fire_states]);
        act(&mut self.fire.borrow_mut(), &mut y);
        z[..self.fire_states].copy_from_slice(&y[..self.fire_states]);
    }

    fn events(&self, end_s: f64) -> Vec<(f64, Event)> {
        let rig = &self.rig;
        let mut list = vec![(rig.lighting.starter_s, Event::StarterOut)];
        assert!(rig.feeding.rules.is_empty() && rig.feeding.list.is_empty());
        for f in &rig.feeding.every {
            let last = match f.until {
                Until::Time(t) => t.min(end_s),
                _ => end_s,
            };
            let mut t = f.from_s;
            while t <= last {
                list.push((t, Event::Feed(f.mass_kg)));
                t += f.interval_s;
            }
        }
        for &(t, p) in &rig.controls.pump.steps.moves {
            list.push((t, Event::Pump(p)));
        }
        list.retain(|e| e.0 < end_s);
        list
    }

    /// One stretch without events. True where the run ends at its first boiling.
    #[allow(clippy::too_many_arguments)]
    fn segment(
        &self,
        t0_s: f64,
        t1_s: f64,
        z: &mut [f64],
        every_s: f64,
        due_s: &mut f64,
        until_boiling: bool,
        out: &mut Traced,
    ) -> bool {
        let mut solver = BackwardDifferentiationFormula::adaptive()
            .h0(FIRST_STEP_S.min(t1_s - t0_s))
            .rtol(self.fineness.rtol)
            .atol(1e-2 * self.fineness.rtol)
            .max_steps(usize::MAX);
        let system = Ordered::new(self);
        let mut y = z.to_vec();
        solver
            .init(&system, t0_s, t1_s, &system.ordered(&y))
            .expect("starts");
        let mut t = t0_s;
        let mut slope = vec![0.0; y.len()];
        self.rhs(t, &y, &mut slope);
        let mut before = self.boiling_j_kg(z);
        while t1_s - t > 1e-9 {
            // No crumb of a step is left before the end.
            if t + 1.01 * solver.h() > t1_s {
                solver.set_h(t1_s - t);
            }
            solver.step(&system).expect("steps");
            out.steps += 1;
            let (t_before, y_before, slope_before) = (t, y, slope.clone());
            t = solver.t();
            y = system.usual(solver.y());
            self.rhs(t, &y, &mut slope);
            while *due_s <= t + 1e-9 {
                let s = ((*due_s - t_before) / (t - t_before)).clamp(0.0, 1.0);
                let y = hermite(s, t - t_before, (&y_before, &slope_before), (&y, &slope));
                out.t_s.push(*due_s);
                out.tank_k.push(self.tank_k(&y));
                out.flow_kg_s.push(self.flow_kg_s(&y));
                out.outlet_k.push(self.outlet_k(&y));
                *due_s += every_s;
            }
            let now = self.boiling_j_kg(&y);
            if out.boiling_s.is_none() && now > 0.0 {
                let share = if before < 0.0 {
                    -before / (now - before)
                } else {
                    0.0
                };
                out.boiling_s = Some(t_before + share * (t - t_before));
                if until_boiling {
                    return true;
                }
            }
            before = now;
        }
        z.copy_from_slice(&y);
        false
    }
}

/// The states in an order that elimination fills little: the pipes' walls and water, each joined to its neighbours only,
/// before coil, store, loop and fire, which are joined to nearly all.
struct Ordered<'a> {
    of: &'a Dynamic,
    /// Which state stands at each place.
    states: Vec<usize>,
}

impl<'a> Ordered<'a> {
    fn new(of: &'a Dynamic) -> Self {
        let (nf, n) = (of.fire_states, of.cells.len());
        let pipe = |i: &usize| of.cells[*i].heated.is_none();
        let walls = (0..n).filter(pipe).map(|i| nf + i);
        let waters = (0..n).filter(pipe).map(|i| nf + n + i);
        let mut states: Vec<usize> = walls.chain(waters).collect();
        let rest: Vec<usize> = (0..of.len()).filter(|i| !states.contains(i)).collect();
        states.extend(rest);
        Self { of, states }
    }

    fn ordered(&self, z: &[f64]) -> Vec<f64> {
        self.states.iter().map(|&i| z[i]).collect()
    }

    fn usual(&self, y: &[f64]) -> Vec<f64> {
        let mut z = vec![0.0; y.len()];
        for (&i, &v) in self.states.iter().zip(y) {
            z[i] = v;
        }
        z
    }
}

impl ODE<f64, Vec<f64>> for Ordered<'_> {
    fn diff(&self, t_s: f64, y: &Vec<f64>, dydt: &mut Vec<f64>) {
        let mut dz = vec![0.0; y.len()];
        self.of.rhs(t_s, &self.usual(y), &mut dz);
        // The library hands over an empty vector at its start.
        *dydt = self.ordered(&dz);
    }
}
