//! Sizes that follow from a rig's description, each by plain geometry: firebox, sections, tubes, jackets, walls in water.

mod support {
    pub mod rigs;
}

use emberloop::components::spec::*;
use std::f64::consts::PI;
use support::rigs::{barrel, section, steel};

fn close(what: &str, got: f64, want: f64) {
    assert!(
        (got - want).abs() <= 1e-12 * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

/// A cube of half a metre without openings, in steel of 10 mm.
fn cube() -> Firebox {
    Firebox {
        width_m: 0.5,
        depth_m: 0.5,
        height_m: 0.5,
        mouth_area_m2: 0.0,
        wall: vec![steel(10.0)],
        ..barrel().firebox
    }
}

fn rect(width_m: f64, depth_m: f64, wall: Vec<Layer>) -> Section {
    Section {
        bore: Bore::Rect { width_m, depth_m },
        ..section("flat", SectionKind::Flue, 0.1, 2.0, wall)
    }
}

/// Box 2 (w d + w h + d h), its wall that less mouth and outlet, four tenths of it at least; 3 V/S is half a cube's edge, and a ball's radius.
#[test]
fn analytic_a_firebox_is_a_box_less_its_openings() {
    let f = Firebox {
        width_m: 0.2,
        depth_m: 0.3,
        height_m: 0.5,
        mouth_area_m2: 0.04,
        ..cube()
    };
    close("box", f.box_m2(), 2.0 * (0.06 + 0.10 + 0.15));
    close("lining", f.lining_m2(0.05), 0.62 - 0.04 - 0.05);
    close("at least", f.lining_m2(0.5), 0.4 * 0.62);
    close("half-width", f.half_width_m(), 3.0 * 0.03 / 0.62);
    close("cube", cube().half_width_m(), 0.25);
    close("cube", cube().box_m2(), 6.0 * 0.25);
}

/// Passages side by side: area and perimeter of each, together.
#[test]
fn analytic_passages_side_by_side_add_up() {
    let three = Section {
        passages: 3,
        ..rect(0.3, 0.1, vec![steel(1.0)])
    };
    close("area", three.area_m2(), 3.0 * 0.03);
    close("perimeter", three.perimeter_m(), 3.0 * 0.8);
}

/// A cube of edge a in a wall t has an outside of 6 (a + 2 t)². A round duct π (d + 2 t) L; around any other bore the outside
/// grows by 2π t (Steiner's formula of parallel curves).
#[test]
fn analytic_walls_in_water_have_the_outside_of_cube_and_ducts() {
    let mut rig = barrel();
    rig.firebox = cube();
    rig.gas_path.clear();
    assert!(!rig.has_walls_in_water());
    close("dry", rig.in_water_m2(), 0.0);
    rig.firebox.in_water = 0.7;
    assert!(rig.has_walls_in_water());
    close("cube", rig.in_water_m2(), 0.7 * 6.0 * 0.52 * 0.52);
    // Another wall where it is wet.
    rig.firebox.wet_wall = vec![steel(4.0), steel(1.0)];
    let box_m2 = 0.7 * 6.0 * 0.51 * 0.51;
    close("wet wall", rig.in_water_m2(), box_m2);
    // Its outlet, as large as the first section's bore, and its mouth are open, and their wall is not there.
    rig.firebox.mouth_area_m2 = 0.02;
    let mut duct = section("duct", SectionKind::Flue, 0.2, 1.5, vec![steel(3.0)]);
    rig.gas_path.push(duct.clone());
    let open_m2 = PI / 4.0 * 0.04 + 0.02;
    let holed_m2 = 0.7 * (1.5 - open_m2) * (0.51f64 / 0.5).powi(2);
    close("holes", rig.in_water_m2(), holed_m2);
    duct.in_water = true;
    duct.passages = 2;
    let flat = Section {
        in_water: true,
        ..rect(0.3, 0.1, vec![steel(2.0), steel(4.0)])
    };
    rig.gas_path.extend([duct, flat]);
    let round_m2 = 2.0 * PI * 0.206 * 1.5;
    let flat_m2 = 2.0 * (0.8 + 2.0 * PI * 0.006);
    close("ducts", rig.in_water_m2(), holed_m2 + round_m2 + flat_m2);
}

/// From the firebox's top on each section begins where the one before it ends. A cell of an upright duct reaches from its lower to its upper
/// end, of a level one from underside to top, of a sloping one by the tilted end: r √(1 − sin²) beyond its middle.
#[test]
fn analytic_a_duct_reaches_as_high_as_its_axis_and_tilted_end() {
    let mut rig = barrel();
    rig.firebox.height_m = 0.4;
    let rises = |rise_m: f64, s: Section| Section { rise_m, ..s };
    let round = |length_m: f64| {
        section(
            "round",
            SectionKind::Flue,
            0.18,
            length_m,
            vec![steel(4.0), steel(6.0)],
        )
    };
    rig.gas_path = vec![
        rises(1.0, round(1.0)),
        rises(0.0, round(2.0)),
        rises(1.2, round(2.0)),
        rises(-0.9, round(0.9)),
        rises(0.0, rect(0.3, 0.1, vec![steel(5.0)])),
    ];
    let reach = |i: usize, cell: usize, want: (f64, f64)| {
        let (low_m, up_m) = rig.reach_m(i, (cell, 4));
        let off = (low_m - want.0).abs().max((up_m - want.1).abs());
        assert!(off < 1e-12, "{i} {cell}: {low_m} to {up_m}, want {want:?}");
    };
    reach(0, 0, (0.4, 0.65));
    reach(0, 3, (1.15, 1.4));
    // Outside 0.2 m.
    reach(1, 2, (1.3, 1.5));
    // Slope 0.6, its end tilted by cos = 0.8: 0.08 m to either side.
    reach(2, 1, (1.4 + 0.3 - 0.08, 1.4 + 0.6 + 0.08));
    // Downwards.
    reach(3, 0, (2.6 - 0.225, 2.6));
    reach(3, 3, (2.6 - 0.9, 2.6 - 0.675));
    // By its depth, outside 0.11 m.
    reach(4, 0, (1.7 - 0.055, 1.7 + 0.055));
}

/// A store stands on the firebox where its floor lies at the firebox's top, give or take a sheet and a bed of sand: three centimetres.
#[test]
fn practice_a_store_stands_on_the_firebox_within_centimetres() {
    let mut rig = barrel();
    rig.firebox.height_m = 0.5;
    for (floor_m, stands) in [
        (0.5, true),
        (0.528, true),
        (0.472, true),
        (0.535, false),
        (0.465, false),
        (0.0, false),
        (1.0, false),
    ] {
        assert_eq!(rig.fire_is_under_store(floor_m), stands, "{floor_m}");
    }
}

/// Bores and insides of tubes side by side: n π/4 d², n π d L.
#[test]
fn analytic_a_coils_tubes_add_up() {
    let mut c = barrel().coils.remove(0);
    (c.tube_inside_m, c.length_m, c.parallel) = (0.02, 7.0, 3);
    close("area", c.water_area_m2(), 3.0 * PI / 4.0 * 0.02 * 0.02);
    close("heated", c.heated_m2(), 3.0 * PI * 0.02 * 7.0);
}

/// A jacket's shell is as long as its section and goes around wall and water, π (D + 2 t + 2 g) L; the sheet that counts is the
/// outermost. Around a cube's wall it is as high as the cube and touches 6 (a + 2 t)².
#[test]
fn analytic_a_jackets_shell_goes_around_wall_and_water() {
    let given = |gap_m: f64| JacketGiven {
        name: "jacket".into(),
        gap_m,
        shell_w_m2k: 2.0,
        water_entry: None,
        cells: None,
    };
    let sizes = |c: &Coil| match c.form {
        CoilForm::Jacket {
            wall_m2, shell_m2, ..
        } => (wall_m2, shell_m2),
        _ => (f64::NAN, f64::NAN),
    };
    let two = vec![steel(5.0), steel(3.0)];
    let s = section("flue", SectionKind::Flue, 0.15, 0.9, two);
    let c = given(0.04).around_section(&s, 0, 1.2).expect("a wall");
    let (wall_m2, shell_m2) = sizes(&c);
    close("wall", wall_m2, PI * 0.166 * 0.9);
    close("shell", shell_m2, PI * 0.246 * 0.9);
    close("sheet", c.tube_outside_m, 0.08 + 2.0 * 0.003);
    let c = given(0.03).around_firebox(&cube(), 0.0).expect("a wall");
    let (wall_m2, shell_m2) = sizes(&c);
    close("wall", wall_m2, 6.0 * 0.52 * 0.52);
    // As if its girth, wall over height, were a ring's: 2π g more.
    close("shell", shell_m2, wall_m2 + 2.0 * PI * 0.03 * 0.5);
    close("hydraulic diameter", c.tube_inside_m, 0.06);
    close("length", c.length_m, 0.5);
    assert_eq!((c.bottom_z_m, c.top_z_m), (0.0, 0.5));
    // Where the gas leaves there is no wall.
    let c = given(0.03).around_firebox(&cube(), 0.2).expect("a wall");
    close("outlet", sizes(&c).0, 1.3 * (0.26f64 / 0.25).powi(2));
}
