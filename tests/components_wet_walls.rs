//! Walls beside the store's water, part by part: film, layers, falling level; and the sheet of a water jacket.

mod support {
    pub mod rigs;
}

use emberloop::components::immersed::{Beside, Face, Immersed};
use emberloop::components::jacket::{Jacket, gas_side};
use emberloop::components::spec::*;
use emberloop::components::wall::{Wall, WallShape};
use emberloop::correlations::natural_convection::churchill_chu_plate;
use emberloop::properties::water::Water as WaterTable;
use std::f64::consts::PI;
use support::rigs::{section, steel};

/// A flat sheet of one square metre, half a metre high, in water of this depth.
fn plate(sheet_mm: f64, span_m: (f64, f64), depth_m: f64) -> (Immersed, f64) {
    let shape = WallShape::Box {
        inner_area_m2: 1.0,
        half_width_m: 1e6,
    };
    let wall = Wall::new(&[steel(sheet_mm)], shape, 1);
    let water = WaterTable::shared();
    let full = (depth_m, 101_325.0);
    let face = Face::Upright {
        height_m: span_m.1 - span_m.0,
    };
    let made = Immersed::new(&wall, vec![span_m], face, water, full);
    (made.expect("in the water"), 0.5e-3 * sheet_mm / 45.0)
}

fn heat_w(i: &Immersed, wall_k: f64, layer_m: f64, t_k: &[f64]) -> (f64, f64, Vec<f64>) {
    heat_by(1.0, i, wall_k, layer_m, t_k)
}

fn heat_by(
    convection: f64,
    i: &Immersed,
    wall_k: f64,
    layer_m: f64,
    t_k: &[f64],
) -> (f64, f64, Vec<f64>) {
    let mut into = vec![0.0; t_k.len()];
    let beside = Beside {
        water: WaterTable::shared(),
        layer_m,
        t_k,
        convection,
    };
    let (all, wet) = i.pass(0, wall_k, &beside, &mut into);
    (all, wet, into)
}

/// Water at 315 K (Bergman et al., Introduction to Heat Transfer, 6th ed., Table A.6; from memory): k 0.634 W/mK, ν 6.37e-7 m2/s,
/// Pr 4.16, β 4.0e-4 1/K. An upright plate of 0.5 m, 330 K in water of 300 K: Ra = g β ΔT L³ Pr/ν², Churchill & Chu.
#[test]
fn published_heat_of_an_upright_plate_in_water_is_churchill_and_chus() {
    let (i, half) = plate(1.0, (0.1, 0.6), 1.0);
    let (q, wet, _) = heat_w(&i, 330.0, 1.0, &[300.0]);
    assert_eq!(wet, 1.0);
    let ra = 9.81 * 4.0e-4 * 30.0 * 0.125 * 4.16 / (6.37e-7f64).powi(2);
    let h = churchill_chu_plate(ra, 4.16) * 0.634 / 0.5;
    let expected = 30.0 / (1.0 / h + half);
    eprintln!("{q:.0} W/m2, by the table's figures {expected:.0}; h {h:.0} W/m2K, Ra {ra:.2e}");
    assert!((q / expected - 1.0).abs() < 0.03, "{q} {expected}");
}

/// The same water over a bottom of a quarter of a square metre (length 0.125 m): Ra = g β ΔT L³ Pr/ν² = 2.4e9, Nu = 0.15 Ra^(1/3)
/// (McAdams; Bergman et al., 6th ed., eq. 9.31).
#[test]
fn published_heat_of_a_bottom_over_the_fire_is_mcadams() {
    let shape = WallShape::Box {
        inner_area_m2: 0.25,
        half_width_m: 1e6,
    };
    let wall = Wall::new(&[steel(1.0)], shape, 1);
    let face = Face::Upwards { length_m: 0.125 };
    let spans = vec![(0.0, 0.005)];
    let i = Immersed::new(&wall, spans, face, WaterTable::shared(), (0.5, 101_325.0));
    let (q, wet, into) = heat_w(&i.expect("in the water"), 330.0, 0.25, &[300.0, 300.0]);
    assert!((wet - 1.0).abs() < 1e-12 && into[1] == 0.0);
    let ra = 9.81 * 4.0e-4 * 30.0 * 0.125f64.powi(3) * 4.16 / (6.37e-7f64).powi(2);
    let h = 0.15 * ra.cbrt() * 0.634 / 0.125;
    let expected = 0.25 * 30.0 / (1.0 / h + 0.5e-3 / 45.0);
    eprintln!("{q:.0} W, by the table's figures {expected:.0}");
    assert!((q / expected - 1.0).abs() < 0.03, "{q} {expected}");
}

/// Each layer gets its part of the plate; together they get what one mixed layer of their mean would, but for the film.
#[test]
fn identity_layers_share_a_wall_by_height() {
    let (i, _) = plate(3.0, (0.1, 0.6), 0.8);
    let t_k = [300.0, 300.0, 300.0, 300.0];
    let (all, wet, into) = heat_w(&i, 320.0, 0.2, &t_k);
    assert!((wet - 1.0).abs() < 1e-12);
    assert!((into.iter().sum::<f64>() - all).abs() < 1e-9 * all);
    for (got, m) in into.iter().zip([0.1, 0.2, 0.2, 0.0]) {
        assert!((got / all - m / 0.5).abs() < 1e-12, "{into:?}");
    }
    let (one, _, _) = heat_w(&i, 320.0, 0.8, &[300.0]);
    assert!((all / one - 1.0).abs() < 1e-12, "{all} {one}");
}

/// As the level falls under its upper end a wall comes out of the water by height; water swollen over the full depth wets no more.
#[test]
fn identity_a_falling_level_bares_the_wall() {
    let (i, _) = plate(3.0, (0.1, 0.6), 0.6);
    let wet = |depth_m: f64| heat_w(&i, 320.0, depth_m, &[300.0]).1;
    assert_eq!(wet(0.7), 1.0);
    assert!((wet(0.6) - 1.0).abs() < 1e-12);
    assert!((wet(0.35) - 0.5).abs() < 1e-12);
    assert_eq!(wet(0.05), 0.0);
}

/// The share that is asked for beside the heat is the one that the heat goes by, cell by cell.
#[test]
fn identity_the_wet_share_of_a_wall_is_the_one_that_its_heat_goes_by() {
    let (i, _) = plate(3.0, (0.1, 0.6), 0.8);
    for (depth_m, share) in [
        (0.05, 0.0),
        (0.1, 0.0),
        (0.2, 0.2),
        (0.35, 0.5),
        (0.6, 1.0),
        (0.9, 1.0),
    ] {
        let got = i.wet_share(0, depth_m);
        assert!((got - share).abs() < 1e-12, "{depth_m}: {got}");
        let wet = heat_w(&i, 320.0, depth_m, &[300.0]).1;
        assert!((got - wet).abs() < 1e-12, "{depth_m}: {got} {wet}");
    }
}

/// Half out of the water, half the heat; film and half of the sheet in series, 1/q = (1/h + L/k)/ΔT; the multiplier on the film.
#[test]
fn analytic_heat_of_a_wet_wall_goes_by_its_wet_area_film_and_half_sheet() {
    let q = |i: &Immersed, depth_m: f64| heat_w(i, 320.0, depth_m, &[300.0]).0;
    let (thin, thin_half) = plate(0.1, (0.1, 0.6), 0.6);
    assert!((q(&thin, 0.35) / q(&thin, 0.6) - 0.5).abs() < 1e-9);
    let (thick, half) = plate(6.0, (0.1, 0.6), 0.6);
    let between = 20.0 / q(&thick, 0.6) - 20.0 / q(&thin, 0.6);
    assert!(
        (between / (half - thin_half) - 1.0).abs() < 0.02,
        "{between} {half}"
    );
    let more = heat_by(1.2, &thin, 320.0, 0.6, &[300.0]).0 / q(&thin, 0.6);
    assert!((more - 1.2).abs() < 2e-3, "{more}");
}

/// Under 8.5 m of water it boils where IF97 has saturation at 101.3 kPa and the head of 985 kg/m3.
#[test]
fn identity_a_deep_wall_boils_at_the_pressure_of_its_depth() {
    let sat_k = |head_m: f64| WaterTable::shared().t_sat_k(101_325.0 + 985.0 * 9.80665 * head_m);
    let over =
        |i: &Immersed, sat_k: f64, depth_m: f64| heat_w(i, sat_k + 10.0, depth_m, &[sat_k]).0;
    let shallow = over(&plate(0.1, (0.0, 0.5), 0.5).0, sat_k(0.25), 0.5);
    // As wide apart in height, and partly over the surface: the middle of what is in the water counts.
    let deep = over(&plate(0.1, (1.0, 2.0), 10.0).0, sat_k(8.5), 10.0);
    let out = over(&plate(0.1, (-1.0, 20.0), 10.0).0, sat_k(5.0), 10.0) / (10.0 / 21.0);
    assert!((deep / shallow - 1.0).abs() < 0.05, "{deep} {shallow}");
    assert!((out / shallow - 1.0).abs() < 0.05, "{out} {shallow}");
}

/// A wall over saturation boils: at 10 K it passes some 140 kW/m2 into water at 100 degC (Rohsenow 1952, polished copper at 1 bar:
/// 880 kW/m2 at 18 K, by the third power 151), in colder water no less.
#[test]
fn published_a_wall_over_saturation_boils_as_rohsenow_says() {
    let (i, half) = plate(0.1, (0.0, 0.5), 0.5);
    // Saturation a quarter of a metre under the surface.
    let sat_k = WaterTable::shared()
        .sat(101_325.0 + 985.0 * 9.80665 * 0.25)
        .t_k;
    let (q, ..) = heat_w(&i, sat_k + 10.0, 0.5, &[sat_k]);
    let face_k = q * half;
    let expected = 880e3 * ((10.0 - face_k) / 18.0f64).powi(3);
    eprintln!("{:.0} kW/m2, Rohsenow {:.0}", q / 1e3, expected / 1e3);
    assert!((q / expected - 1.0).abs() < 0.4, "{q} {expected}");
    let (colder, ..) = heat_w(&i, sat_k + 10.0, 0.5, &[sat_k - 50.0]);
    assert!(colder > q);
}

fn given(gap_m: f64) -> JacketGiven {
    JacketGiven {
        name: "jacket".into(),
        gap_m,
        shell_w_m2k: 2.0,
        water_entry: None,
        cells: None,
    }
}

/// Rings: wall π (D + 2t) L, water π/4 ((D + 2t + 2g)² − (D + 2t)²), hydraulic diameter of a ring 2 g.
#[test]
fn analytic_a_jacket_around_a_round_section_is_a_ring() {
    let s = section("flue", SectionKind::Flue, 0.15, 0.9, vec![steel(3.0)]);
    let c = given(0.04).around_section(&s, 0, 1.2).expect("a wall");
    let (inner, outer) = (0.156, 0.236);
    assert!((c.heated_m2() / (PI * inner * 0.9) - 1.0).abs() < 1e-12);
    let ring = PI / 4.0 * (outer * outer - inner * inner);
    assert!((c.water_area_m2() / ring - 1.0).abs() < 1e-12);
    assert!((c.tube_inside_m / 0.08 - 1.0).abs() < 1e-12);
    assert_eq!((c.bottom_z_m, c.top_z_m), (1.2, 2.1));
    // Three passages have three walls.
    let three = Section { passages: 3, ..s };
    let c3 = given(0.04).around_section(&three, 0, 1.2).expect("a wall");
    assert!((c3.heated_m2() / (3.0 * c.heated_m2()) - 1.0).abs() < 1e-12);
}

/// Heat through half of a half sheet, and half of the other half: L/(k A) each. Slowed storage must not resist: what the fire
/// meets stands over the water's face by the sheet's resistance alone, however slow the halves are.
#[test]
fn analytic_a_jackets_sheet_resists_by_its_thickness_alone() {
    let sheet_m = 5e-3;
    let s = section(
        "flat",
        SectionKind::Flue,
        4.0,
        0.5,
        vec![steel(1e3 * sheet_m)],
    );
    let c = given(0.05).around_section(&s, 0, 0.0).expect("a wall");
    let layers = gas_side(&s.wall, true);
    assert!((layers[0].thickness_m / (0.5 * sheet_m) - 1.0).abs() < 1e-12);
    let shape = WallShape::Cylinder {
        inner_radius_m: 2.0,
        length_m: 0.25,
    };
    let wall = Wall::new(&layers, shape, 1);
    let area_m2 = 2.0 * PI * 2.0 * 0.5;
    let half_sheet_j_k = 0.5 * sheet_m * area_m2 * 7850.0 * 490.0;
    for slow_s in [0.0, 0.3, 4.0] {
        let (cells, tubes) = (2, 6);
        let j = Jacket::new(
            &c,
            &wall,
            cells,
            (0, tubes),
            (half_sheet_j_k / tubes as f64, slow_s),
            true,
        )
        .expect("a jacket");
        let (mut seen_k, mut out_w) = (vec![500.0; cells], vec![0.0; cells]);
        let (face_k, mut in_w) = (vec![360.0; tubes], vec![0.0; tubes]);
        let q = j.pass(|w| w, &mut seen_k, &mut out_w, &face_k, &mut in_w);
        assert!((out_w.iter().sum::<f64>() / q - 1.0).abs() < 1e-12);
        assert!((in_w.iter().sum::<f64>() / q - 1.0).abs() < 1e-12);
        let sheet_k_w = 0.5 * sheet_m / (45.0 * area_m2);
        for t in seen_k {
            let found = (t - 360.0) / q;
            // The cylinder is nearly flat: 0.2 % of 2 m.
            assert!(
                (found / sheet_k_w - 1.0).abs() < 5e-3,
                "{slow_s}: {found} {sheet_k_w}"
            );
        }
    }
}

/// Both halves together forget a difference within the time given, where that is the slower: the rate w (n/C_wall + 1/C_tube) of n
/// tube cells on one wall cell. A jacket whose water enters at the gas's outlet lies on the wall cells the other way round, and its cells
/// begin where it is told.
#[test]
fn identity_a_slow_sheet_follows_within_its_time_and_a_jacket_may_run_backwards() {
    let s = section("flat", SectionKind::Flue, 4.0, 0.5, vec![steel(5.0)]);
    let c = given(0.05).around_section(&s, 0, 0.0).expect("a wall");
    let shape = WallShape::Cylinder {
        inner_radius_m: 2.0,
        length_m: 0.25,
    };
    let wall = Wall::new(&gas_side(&s.wall, true), shape, 1);
    let (first, tubes, tube_j_k) = (5, 6, 7000.0);
    let with = |slow_s: f64, forwards: bool| {
        let made = Jacket::new(&c, &wall, 2, (first, tubes), (tube_j_k, slow_s), forwards);
        made.expect("a jacket")
    };
    let own_j_k = wall.nodes[0].capacity_j_k;
    for slow_s in [2.0, 5.0] {
        let rate = with(slow_s, true).w_k * (3.0 / own_j_k + 1.0 / tube_j_k);
        assert!((rate * slow_s - 1.0).abs() < 1e-12, "{slow_s}: {rate}");
    }
    assert_eq!(with(2.0, true).wall_cell, [0, 0, 0, 1, 1, 1]);
    let j = with(2.0, false);
    assert_eq!(j.wall_cell, [1, 1, 1, 0, 0, 0]);
    let (mut seen_k, mut out_w) = (vec![400.0, 500.0], vec![0.0; 2]);
    let (face_k, mut in_w) = (vec![360.0; first + tubes], vec![0.0; first + tubes]);
    j.pass(|w| w, &mut seen_k, &mut out_w, &face_k, &mut in_w);
    assert!(in_w[..first].iter().all(|q| *q == 0.0));
    // The first three lie on the hotter cell.
    for (i, over_k) in [140.0, 140.0, 140.0, 40.0, 40.0, 40.0].iter().enumerate() {
        assert!((in_w[first + i] / (j.w_k * over_k) - 1.0).abs() < 1e-12);
    }
}
