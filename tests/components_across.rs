//! One gas cell between a wet and a dry wall.

mod support {
    pub mod parts;
}

use emberloop::components::across::Across;
use emberloop::components::gas_path::{Duct, GasStream, Grown, ReTable, SectionGas, pass_cell};
use emberloop::components::outside_table::OutsideTable;
use emberloop::components::spec::Layer;
use emberloop::components::wall::{OutsideConvection, Wall, WallShape};
use emberloop::correlations::radiation::WsggWeights;
use emberloop::properties::gas::GasMix;
use std::f64::consts::PI;
use support::parts::{conditions, flue, plain};

const SIGMA: f64 = 5.670_374e-8;

fn close(what: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

/// Two parallel plates pass A/(1/ε₁ + 1/ε₂ − 1), a small body in a large one ε₁ A₁, concentric cylinders A₁/(1/ε₁ + (1 − ε₂)/ε₂ r₁/r₂) (Incropera &
/// DeWitt, 6th ed., table 13.3).
#[test]
fn published_exchange_of_two_surfaces_is_that_of_the_table() {
    close(
        "plates",
        Across::exchange_m2((2.0, 0.8), (2.0, 0.6)),
        2.0 / (1.0 / 0.8 + 1.0 / 0.6 - 1.0),
        1e-12,
    );
    close(
        "cylinders",
        Across::exchange_m2((3.0, 0.6), (1.0, 0.9)),
        1.0 / (1.0 / 0.9 + 0.4 / 0.6 / 3.0),
        1e-12,
    );
    close(
        "small in large",
        Across::exchange_m2((1.0, 0.3), (1e9, 0.5)),
        0.3,
        1e-6,
    );
}

const M_KG_S: f64 = 0.006;
const CELL_M: f64 = 0.01;

/// A round duct of 150 mm, half of it sheet in water, half brick; so many gas cells to a wall cell.
fn half_and_half(eps_wet: f64, eps_dry: f64, to_a_wall_cell: usize) -> Duct {
    let shape = WallShape::Cylinder {
        inner_radius_m: 0.075,
        length_m: 0.5 * CELL_M * to_a_wall_cell as f64,
    };
    let half_m2 = 0.5 * PI * 0.15 * CELL_M;
    let with = |emissivity: f64, l: Layer| Wall::new(&[Layer { emissivity, ..l }], shape, 1);
    let wall = with(eps_wet, plain(0.002, 0.5, 2e6, true));
    let dry = with(eps_dry, plain(0.05, 0.3, 8e5, false));
    let still = OutsideConvection::tabulate(|_| 0.0);
    let across = Across {
        outside: OutsideTable::new(&dry, &still, 1.0, (250.0, 300.0)),
        wall: dry,
        wall_state: 1,
        area_m2: half_m2,
        view_m2: Across::exchange_m2((half_m2, eps_wet), (half_m2, eps_dry)),
    };
    Duct {
        cell_wall_area_m2: half_m2,
        table: ReTable::new(|_| [8.0, 64.0]),
        across: Some(across),
        wall_cells: 1,
        per_wall_cell: to_a_wall_cell,
        ..flue(wall, to_a_wall_cell, CELL_M)
    }
}

/// Heat to wet and dry node by the network of radiosities of a grey gas between two grey surfaces (gas to each 1/(A ε_g), surface to surface
/// 1/(A F (1 − ε_g)), skins (1 − ε)/(ε A); Incropera & DeWitt, 6th ed., ch. 13.3 and 13.6; Hottel), with convection and what lies between surface and node, solved
/// by relaxation with all fourth powers kept.
fn by_radiosities(
    (area_m2, h, eps_gas): (f64, f64, f64),
    t_gas_k: f64,
    nodes: [(f64, f64, f64); 2],
) -> [f64; 2] {
    let black = |t: f64| SIGMA * t.powi(4);
    let mut face = [nodes[0].0, 0.5 * (t_gas_k + nodes[1].0)];
    for _ in 0..20_000 {
        let skin = nodes.map(|n| n.2 / (1.0 - n.2));
        let mut j = face.map(black);
        for _ in 0..60 {
            for i in 0..2 {
                let (gas, other) = (eps_gas * black(t_gas_k), (1.0 - eps_gas) * j[1 - i]);
                j[i] = (gas + other + skin[i] * black(face[i])) / (1.0 + skin[i]);
            }
        }
        for i in 0..2 {
            let (node_k, behind, _) = nodes[i];
            let net = area_m2 * (skin[i] * (j[i] - black(face[i])) + h * (t_gas_k - face[i]));
            face[i] += 0.02 * (net / behind + node_k - face[i]);
        }
    }
    [0, 1].map(|i| nodes[i].1 * (face[i] - nodes[i].0))
}

/// What wet sheet and hot brick get is within 5 % of the network of radiosities (which keeps the fourth powers that the program takes as straight lines), the wet
/// one more than alone; gas loses what both nodes get.
#[test]
fn published_a_wet_and_a_dry_wall_share_heat_as_by_radiosities() {
    let mix = GasMix::dry_air();
    let c = conditions(mix);
    let weights = WsggWeights::new(0.1, 0.1);
    // The last two under tar: the wet face stands far above its node. Two gas cells share a wall cell in one of them.
    for (t_gas, t_dry, eps, tar_m2k_w, to_a_wall_cell) in [
        (1100.0, 900.0, (0.9, 0.85), 0.0, 1),
        (800.0, 500.0, (0.9, 0.9), 0.0, 1),
        (500.0, 700.0, (0.8, 0.9), 0.0, 1),
        (1300.0, 1000.0, (0.7, 0.9), 0.0, 1),
        (1000.0, 900.0, (0.9, 0.9), 0.02, 1),
        (900.0, 800.0, (0.9, 0.9), 0.01, 2),
    ] {
        let t_wet = 330.0;
        let d = half_and_half(eps.0, eps.1, to_a_wall_cell);
        let grown = Grown {
            wall_m2k_w: tar_m2k_w,
            ..Grown::default()
        };
        let mut gas = GasStream::new(mix, M_KG_S, t_gas, 0.0);
        let s = SectionGas::new(&d, &c, &weights, M_KG_S);
        let r = pass_cell(&d, &c, &s, &mut gas, t_wet, t_dry, grown);
        let a = d.across.as_ref().expect("a dry wall");
        let (_, k) = mix.mu_k(t_gas);
        let eps_gas = weights.over(d.beam_m).emissivity_with_soot(t_gas, 0.0);
        let half = |w: &Wall, t: f64, deposit_m2k_w: f64| {
            let (geo, k) = w.nodes[0].inner_half(t);
            1.0 / (to_a_wall_cell as f64 * geo / k + deposit_m2k_w / a.area_m2)
        };
        let [wet, dry] = by_radiosities(
            (a.area_m2, 8.0 * k / 0.15, eps_gas),
            r.t_mean_k,
            [
                (t_wet, half(&d.wall, t_wet, tar_m2k_w), eps.0),
                (t_dry, half(&a.wall, t_dry, 0.0), eps.1),
            ],
        );
        let (to_wet, to_dry) = (r.to_wall_w + r.across_w, r.to_turns_w - r.across_w);
        println!(
            "gas {t_gas} K, brick {t_dry} K: wet {to_wet:.2} W ({wet:.2}), dry {to_dry:.2} W ({dry:.2})"
        );
        assert!((to_wet - wet).abs() < 0.05 * wet, "{to_wet} {wet}");
        assert!((to_dry - dry).abs() < 0.05 * wet, "{to_dry} {dry}");
        let lost = M_KG_S * (mix.h_cp_slope(t_gas)[0] - gas.h_j_kg);
        close("gas", lost, to_wet + to_dry, 1e-9);
        let mut alone = d.clone();
        alone.across = None;
        let mut gas = GasStream::new(mix, M_KG_S, t_gas, 0.0);
        let by_itself = pass_cell(&alone, &c, &s, &mut gas, t_wet, 0.0, grown);
        assert!(to_wet > 1.1 * by_itself.to_wall_w);
        // The face between its node and what drives it.
        let through = half(&d.wall, t_wet, tar_m2k_w) * (r.wall_surface_k - t_wet);
        close("face", through, to_wet, 0.02);
    }
}

/// Gas that stays long leaves at the temperature at which what it gives one wall it takes from the other: the mean of both nodes by the conductances that the
/// cell's own heats tell.
#[test]
fn identity_slow_gas_comes_to_rest_between_both_walls() {
    let mix = GasMix::dry_air();
    let c = conditions(mix);
    let weights = WsggWeights::new(0.1, 0.1);
    let d = half_and_half(0.9, 0.85, 1);
    let slow_kg_s = 1e-6;
    let (t_wet, t_dry) = (330.0, 900.0);
    let mut gas = GasStream::new(mix, slow_kg_s, 630.0, 0.0);
    let s = SectionGas::new(&d, &c, &weights, slow_kg_s);
    // Between the walls at once, so that the heats are told apart.
    let r = pass_cell(&d, &c, &s, &mut gas, t_wet, t_dry, Grown::default());
    let (wet, dry) = (
        r.to_wall_w / (r.t_mean_k - t_wet),
        r.to_turns_w / (r.t_mean_k - t_dry),
    );
    let rest_k = (wet * t_wet + dry * t_dry) / (wet + dry);
    assert!((400.0..800.0).contains(&rest_k), "{rest_k}");
    assert!((gas.t_k - rest_k).abs() < 0.5, "{} {rest_k}", gas.t_k);
}
