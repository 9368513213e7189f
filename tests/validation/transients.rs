//! Warming walls, stirred and layered vessels, cooling water.

use super::check::{Check, Source};
use crate::support::parts::{charge, heated, march, plain, slab, still_air, tank};
use emberloop::components::spec::{Vessel, VesselKind};
use emberloop::components::vessel::VesselModel;
use emberloop::components::wall::{Wall, WallShape};
use emberloop::properties::water::Water;

const ONE_TERM: Source = Source::analytic(
    "Bergman et al., Introduction to Heat Transfer, 6th ed.",
    "Table 5.1, one-term series at Fo 0.5; entry from memory",
);
const SERIES: Source = Source::analytic(
    "Carslaw & Jaeger, Conduction of Heat in Solids",
    "plane wall, full series (numpy 2.4.6)",
);
const CASCADE: Source = Source::analytic(
    "Levenspiel, Chemical Reaction Engineering",
    "tanks in series, Erlang distribution (numpy 2.4.6)",
);
const LUMPED: Source = Source::analytic("lumped body", "exponential (numpy 2.4.6)");

/// Nodes a layer of the wall is divided into, times three: fine enough that the grid's error is under the tolerances.
const FINE: usize = 48;

pub fn rows() -> Vec<Check> {
    let mut rows = Vec::new();
    for (bi, theta) in [
        (0.1, 0.96811),
        (0.5, 0.86450),
        (1.0, 0.77296),
        (5.0, 0.52321),
        (10.0, 0.45468),
        (100.0, 0.37986),
    ] {
        rows.push(ONE_TERM.absolute(
            format!("centre of a plane wall, Bi {bi}, Fo 0.5"),
            "",
            theta,
            slab(bi, 0.5, FINE).0,
            1e-3,
        ));
    }
    for (fo, centre, surface) in [
        (0.1, 0.993108, 0.723577),
        (0.5, 0.772526, 0.504522),
        (1.0, 0.533859, 0.348177),
    ] {
        let (c, s) = slab(1.0, fo, FINE);
        rows.push(SERIES.absolute(
            format!("centre of a plane wall, Bi 1, Fo {fo}"),
            "",
            centre,
            c,
            1e-4,
        ));
        rows.push(SERIES.absolute(
            format!("surface of a plane wall, Bi 1, Fo {fo}"),
            "",
            surface,
            s,
            1e-4,
        ));
    }
    rows.extend(hot_face());
    for (n, share) in [(1, 0.632121), (5, 0.559507), (20, 0.5297427)] {
        let m = tank(n);
        let w = 200.0;
        let t = charge(&m, w, 295.15, m.layer_kg * n as f64 / w);
        rows.push(CASCADE.absolute(
            format!("outlet of {n} stirred layers after one residence time"),
            "",
            share,
            (t[0] - 293.15) / 2.0,
            1e-3,
        ));
    }
    rows.extend(lumped());
    rows
}

/// A face brought to another temperature at once, or heated by 1000 W/m²; 50 mm, k 0.13, back insulated.
fn hot_face() -> Vec<Check> {
    let layer = plain(0.05, 0.13, 315_000.0, false);
    let flat = WallShape::Box {
        inner_area_m2: 1.0,
        half_width_m: 1e6,
    };
    let wall = Wall::new(&[layer], flat, FINE);
    let at = |t_end: f64, heat_w: &dyn Fn(f64) -> f64| -> Vec<f64> {
        let t = heated(&wall, 298.15, t_end, heat_w, &|_| 0.0);
        t.iter().map(|t| t - 298.15).collect()
    };
    let step = |t_first: f64| (398.15 - t_first) / wall.nodes[0].resistance_in_k_w(t_first);
    // x/(2 sqrt(alpha t)) = 0.5 at a quarter of the depth: the back has not been reached.
    let x = 0.0125;
    let early = at(x * x * 315_000.0 / 0.13, &step);
    let late = at(7200.0, &step);
    let flux = at(7200.0, &|_| 1000.0);
    vec![
        SERIES.absolute(
            "step at the face of a thick wall, x = sqrt(alpha t)",
            "",
            0.4795,
            0.01 * at_depth(&wall, &early, x),
            1e-3,
        ),
        SERIES.absolute(
            "back of 50 mm refractory 2 h after a step at the face",
            "",
            0.9321949,
            0.01 * late[wall.len() - 1],
            1e-3,
        ),
        SERIES.relative(
            "rise of the back of 50 mm refractory after 2 h of 1000 W/m²",
            "K",
            393.0409,
            flux[wall.len() - 1],
            1e-3,
        ),
    ]
}

/// Between the centres of the nodes on both sides; the wall has 1 m² and conductivity 0.13.
fn at_depth(wall: &Wall, rise_k: &[f64], x_m: f64) -> f64 {
    let mut start = 0.0;
    let mut before = (0.0, 100.0);
    for (node, &rise) in wall.nodes.iter().zip(rise_k) {
        let centre = start + node.geo_in_per_m;
        start = centre + node.geo_out_per_m;
        if centre >= x_m {
            let f = (x_m - before.0) / (centre - before.0);
            return before.1 + f * (rise - before.1);
        }
        before = (centre, rise);
    }
    before.1
}

/// One stirred vessel: its mean temperature after `t_s` with heat into it and its loss to air.
fn vessel_c(kg: f64, loss_w_k: f64, from_c: f64, air_c: f64, heat_w: f64, t_s: f64) -> f64 {
    let water = Water::shared();
    let v = Vessel {
        kind: VesselKind::Tank,
        water_m3: kg / water.rho_kg_m3(from_c + 273.15),
        water_depth_m: 1.0,
        floor_z_m: 0.0,
        layers: 1,
        start_temperature_k: from_c + 273.15,
        loss_w_k,
        shell_heat_capacity_j_k: 0.0,
        hot_port_m: 0.9,
        cold_port_m: 0.1,
        draw_port_m: 0.9,
        surface: None,
        closed: None,
    };
    let m = VesselModel::new(&v, water, 101_325.0, 1, 1.0, 1.0);
    let scale = m.scale_j_k() * 100.0;
    let mut air = still_air();
    air.t_air_k = air_c + 273.15;
    let y0 = [m.layer_enthalpy_j(water, from_c + 273.15, m.layer_kg) / scale];
    let y = march(1, &y0, t_s, |_, y, dy| {
        let t = [m.layer_temperature_k(water, y[0] * scale, m.layer_kg)];
        let mut q = [0.0];
        m.rates(water, &t, m.layer_kg, &[], &air, &mut q);
        dy[0] = (q[0] + heat_w) / scale;
    });
    m.layer_temperature_k(water, y[0] * scale, m.layer_kg) - 273.15
}

fn lumped() -> Vec<Check> {
    vec![
        LUMPED.absolute(
            "300 L (295 kg) at 60 °C, 3 W/K, air 20 °C, after 24 h",
            "°C",
            52.4194,
            vessel_c(0.3 * 983.2, 3.0, 60.0, 20.0, 0.0, 86_400.0),
            0.02,
        ),
        LUMPED.absolute(
            // The closed form has 4186 J/kg K throughout; water has 4202 at 7 °C and 4178 at 35 °C.
            "106 kg from 7 °C with 7 kW, 10 W/K, air 10 °C, after 30 min",
            "°C",
            34.94754,
            vessel_c(106.0, 10.0, 7.0, 10.0, 7000.0, 1800.0),
            0.1,
        ),
    ]
}
