//! Walls and vessels on their own, marched in time by the program's integrator.
#![allow(dead_code)]

use emberloop::components::gas_path::{Duct, PathConditions, ReTable};
use emberloop::components::spec::{Layer, Vessel, VesselKind};
use emberloop::components::vessel::{PortFlow, SurfaceAir, VesselModel};
use emberloop::components::wall::{OutsideConvection, Wall, WallShape};
use emberloop::components::wall_row::WallRow;
use emberloop::integrate::{NoCrossings, OdeSystem, Tolerances, integrate_segment};
use emberloop::properties::gas::GasMix;
use emberloop::properties::water::Water;

pub fn plain(thickness_m: f64, k: f64, rho_c: f64, thin: bool) -> Layer {
    Layer {
        material: "test".into(),
        thickness_m,
        density_kg_m3: rho_c / 1000.0,
        heat_capacity_j_kgk: 1000.0,
        heat_capacity_slope_j_kgk2: 0.0,
        conductivity_w_mk: k,
        conductivity_slope_w_mk2: 0.0,
        emissivity: 0.0,
        limit_k: None,
        thin,
        moisture: 0.0,
        vapour_resistance: None,
    }
}

/// Nothing burns in the gas; all closures at one.
pub fn conditions(mix: &GasMix) -> PathConditions<'_> {
    PathConditions {
        mix,
        pressure_pa: 100_000.0,
        density_air_kg_m3: 1.2,
        unburnt_floor_w: 0.0,
        per_volatile_w: 1.0 / 4000.0,
        sheet_share: 0.0,
        mixing_time: 1.0,
        duct_convection: 1.0,
        bank_exposure: 1.0,
        emissivity: 1.0,
        flame_soot_per_m: 0.0,
        gas_friction: 1.0,
    }
}

/// Round flue of 150 mm, laminar, without fittings or anything in it; `wall` is that of one cell.
pub fn flue(wall: Wall, cells: usize, cell_length_m: f64) -> Duct {
    let d = 0.15;
    Duct {
        name: "flue".into(),
        cells,
        area_m2: std::f64::consts::PI / 4.0 * d * d,
        hydraulic_m: d,
        cell_length_m,
        cell_rise_m: cell_length_m,
        cell_wall_area_m2: std::f64::consts::PI * d * cell_length_m,
        beam_m: 0.14,
        loss_k: 0.0,
        table: ReTable::new(|_| [3.66, 64.0]),
        wall,
        wall_cells: cells,
        per_wall_cell: 1,
        wall_state: 0,
        outside: OutsideConvection::tabulate(|_| 0.0),
        bank: None,
        across: None,
        wall_deposit: None,
        wrap: None,
        jacket: None,
        immersed: None,
        is_damper: false,
        fan: None,
        flame: 0.0,
        sheets: 0.0,
        is_flue: true,
    }
}

pub struct System<F: Fn(f64, &[f64], &mut [f64])>(usize, F);

impl<F: Fn(f64, &[f64], &mut [f64])> OdeSystem for System<F> {
    fn len(&self) -> usize {
        self.0
    }
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        (self.1)(t_s, y, dy);
    }
    fn state_name(&self, i: usize) -> String {
        format!("y{i}")
    }
}

pub fn march(n: usize, y0: &[f64], t_s: f64, f: impl Fn(f64, &[f64], &mut [f64])) -> Vec<f64> {
    let tol = Tolerances {
        rtol: 1e-9,
        atol: 1e-10,
        ..Tolerances::default()
    };
    integrate_segment(&System(n, f), &NoCrossings, 0.0, t_s, y0, 0.0, &tol)
        .expect("integrates")
        .y
}

/// Temperatures of a wall at `t0_k` at first: its inner face takes `into_w` of its first node's temperature, its outer gives
/// `out_w` of its last one's.
pub fn heated(
    wall: &Wall,
    t0_k: f64,
    t_end_s: f64,
    into_w: &dyn Fn(f64) -> f64,
    out_w: &dyn Fn(f64) -> f64,
) -> Vec<f64> {
    let n = wall.len();
    let mut row = WallRow::default();
    row.push(wall, 1);
    let y0: Vec<f64> = wall.nodes.iter().map(|w| w.state(t0_k)).collect();
    let y = march(n, &y0, t_end_s, |_, y, dy| {
        let (mut t, mut k, mut passed) = (vec![0.0; n], vec![0.0; n], vec![0.0; n + 1]);
        row.temperatures(y, &mut t);
        let (mut into, mut out) = (vec![0.0; n], vec![0.0; n]);
        (into[0], out[n - 1]) = (into_w(t[0]), out_w(t[n - 1]));
        row.rates(&t, &into, &out, &mut k, &mut passed, dy);
    });
    let mut t = vec![0.0; n];
    row.temperatures(&y, &mut t);
    t
}

/// Flat slab of half-thickness L, insulated at its centre, Bi = h L/k: `(θ at the centre, θ at the surface)`.
pub fn slab(bi: f64, fo: f64, cell_factor: usize) -> (f64, f64) {
    const L_M: f64 = 0.05;
    let layer = plain(L_M, 0.13, 315_000.0, false);
    // A box much wider than its wall is flat.
    let wall = Wall::new(
        &[layer],
        WallShape::Box {
            inner_area_m2: 1.0,
            half_width_m: 1e6,
        },
        cell_factor,
    );
    let n = wall.len();
    let h = bi * 0.13 / L_M;
    let (t0, t_air) = (298.15, 398.15);
    let surface_w = |t_first: f64| {
        let r = wall.nodes[0].resistance_in_k_w(t_first);
        (t_air - t_first) / (1.0 / (h * wall.inner_area_m2) + r)
    };
    let t_end = fo * L_M * L_M * 315_000.0 / 0.13;
    let t = heated(&wall, t0, t_end, &surface_w, &|_| 0.0);
    let theta = |t: f64| (t_air - t) / (t_air - t0);
    let t_surface = t_air - surface_w(t[0]) / h;
    // Profile flat at the centre: value there from the last node, half a cell away, and the one before.
    (theta(t[n - 1]), theta(t_surface))
}

pub fn tank(layers: usize) -> VesselModel {
    let v = Vessel {
        kind: VesselKind::Tank,
        water_m3: 0.2,
        water_depth_m: 1.0,
        floor_z_m: 0.0,
        layers,
        start_temperature_k: 293.15,
        loss_w_k: 0.0,
        shell_heat_capacity_j_k: 0.0,
        hot_port_m: 0.99,
        cold_port_m: 0.01,
        draw_port_m: 0.99,
        surface: None,
        closed: None,
    };
    VesselModel::new(&v, Water::shared(), 101_325.0, layers, 1.0, 1.0)
}

pub fn still_air() -> SurfaceAir {
    SurfaceAir {
        t_air_k: 293.15,
        vapour_pa: 1000.0,
        wind_m_s: 0.0,
        sky_emissivity: 0.8,
        cover_on: false,
        evaporation: 1.0,
    }
}

/// Layers' temperatures after `t_s` with `w` kg/s at `t_in_k` let in at the top and taken out at the bottom.
pub fn charge(model: &VesselModel, w: f64, t_in_k: f64, t_s: f64) -> Vec<f64> {
    let water = Water::shared();
    let n = model.layers;
    let y0: Vec<f64> = (0..n)
        .map(|_| model.layer_enthalpy_j(water, 293.15, model.layer_kg) / model.scale_j_k() / 100.0)
        .collect();
    let temperatures = |y: &[f64]| -> Vec<f64> {
        y.iter()
            .map(|e| {
                model.layer_temperature_k(water, e * model.scale_j_k() * 100.0, model.layer_kg)
            })
            .collect()
    };
    let y = march(n, &y0, t_s, |_, y, dy| {
        let t = temperatures(y);
        let ports = [
            PortFlow {
                layer: n - 1,
                mdot_kg_s: w,
                enthalpy_w: w * water.h_j_kg(t_in_k),
            },
            PortFlow {
                layer: 0,
                mdot_kg_s: -w,
                enthalpy_w: -w * water.h_j_kg(t[0]),
            },
        ];
        let mut q = vec![0.0; n];
        model.rates(water, &t, model.layer_kg, &ports, &still_air(), &mut q);
        for (d, q) in dy.iter_mut().zip(&q) {
            *d = q / (model.scale_j_k() * 100.0);
        }
    });
    temperatures(&y)
}
