//! Cells of water-filled tube on their own, and the momentum balance of a loop of two legs made of them.
#![allow(dead_code)]

use emberloop::components::tube::{
    CellPass, FREE, METAL_FREE_S, NodeWater, Stream, TubeCell, TubeTable, WallHeat, pass_cell,
};
use emberloop::correlations::friction::pipe_f_re;
use emberloop::properties::water::Water;
use std::f64::consts::PI;

pub const G: f64 = 9.80665;

pub fn cell(
    d_m: f64,
    length_m: f64,
    rise_m: f64,
    loss_k: f64,
    p_pa: f64,
    inventory: bool,
) -> TubeCell {
    let a = PI / 4.0 * d_m * d_m;
    TubeCell {
        metal_j_k: 20.0 * length_m,
        wall_j_k: 380.0 * length_m,
        water_kg: 990.0 * a * length_m,
        inside_area_m2: PI * d_m * length_m,
        flow_area_m2: a,
        inside_m: d_m,
        length_m,
        rise_m,
        loss_k,
        loss_w_k: 0.0,
        p_pa,
        sat: Water::shared().sat(p_pa),
        metal_s: METAL_FREE_S,
        re_per: 0.0,
        skin_per: 0.0,
        fittings_per: 0.0,
        per: Default::default(),
        per_critical_w: 0.0,
        shelled: false,
        table: 0,
        inventory: inventory.then_some(0),
        wall: inventory.then_some(0),
    }
    .prepared()
}

/// A cell of 1 m whose metal is as warm as its face.
pub fn unslowed(d_m: f64, p_pa: f64) -> TubeCell {
    TubeCell {
        metal_s: 0.0,
        ..cell(d_m, 1.0, 0.0, 0.0, p_pa, true)
    }
    .prepared()
}

pub fn smooth_pipe(nu: f64) -> TubeTable {
    TubeTable::new(Water::shared(), move |_, _| nu, |re| pipe_f_re(re, 0.0))
}

/// One cell whose water is at `t_k` throughout.
pub fn pass(c: &TubeCell, table: &TubeTable, s: &Stream, t_k: f64, kg: f64) -> CellPass {
    let node = NodeWater::at(Water::shared(), t_k);
    pass_node(c, table, s, &node, node.h_j_kg, kg, WallHeat::default())
}

/// One cell of a loop that moves by itself, whose water ends at `h_end_j_kg`.
pub fn pass_node(
    c: &TubeCell,
    table: &TubeTable,
    s: &Stream,
    node: &NodeWater,
    h_end_j_kg: f64,
    kg: f64,
    wall: WallHeat,
) -> CellPass {
    pass_cell(c, table, 1.0, s, node, h_end_j_kg, kg, wall, &FREE)
}

/// Loss of a loop of two legs at two temperatures, and the buoyancy between heater and cooler at height `h_m`.
/// Half the length is cold, half hot; fittings on the cold density.
pub fn loop_balance(d_m: f64, h_m: f64, l_m: f64, k: f64, tc: f64, th: f64, w: f64) -> (f64, f64) {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let n = 10;
    let (mut loss, mut drive) = (0.0, 0.0);
    for (t, rise, fittings) in [(tc, -h_m, k), (th, h_m, 0.0)] {
        let c = cell(
            d_m,
            0.5 * l_m / n as f64,
            rise / n as f64,
            fittings / n as f64,
            3e5,
            false,
        );
        let mut s = Stream::liquid(w, water.h_j_kg(t));
        for _ in 0..n {
            // Adiabatic: the node is as warm as the stream.
            let r = pass(&c, &table, &s, t, c.water_kg);
            loss += r.loss_pa;
            drive -= G * r.density_kg_m3 * c.rise_m;
            s = r.out;
        }
    }
    (drive, loss)
}

/// Steady flow of a loop with heat `q_w`: root of drive = loss, the hot side from the enthalpy balance.
pub fn steady_flow(d_m: f64, h_m: f64, l_m: f64, k: f64, tc: f64, q_w: f64) -> (f64, f64) {
    let water = Water::shared();
    let (mut lo, mut hi) = (1e-4f64, 5.0f64);
    for _ in 0..100 {
        let w = (lo * hi).sqrt();
        let th = water.t_from_h_k(water.h_j_kg(tc) + q_w / w).min(480.0);
        let (drive, loss) = loop_balance(d_m, h_m, l_m, k, tc, th, w);
        if drive > loss {
            lo = w;
        } else {
            hi = w;
        }
    }
    let w = (lo * hi).sqrt();
    (w, water.t_from_h_k(water.h_j_kg(tc) + q_w / w))
}
