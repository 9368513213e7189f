//! A coil in a drum's water by itself: its film against handbooks, deposit, layers, a falling level.

use emberloop::components::immersed::Beside;
use emberloop::components::submerged::Submerged;
use emberloop::properties::water::Water;
use std::f64::consts::PI;

/// Bergman et al., Fundamentals of Heat and Mass Transfer, 7th ed., eqs. 9.25 and 9.34 (Churchill & Chu), saturated water of table A.6 at
/// 340 K (from memory): v 1.021e-3 m3/kg, cp 4188, mu 420e-6, k 0.660, Pr 2.66, beta 566.0e-6. A tube of 22 mm at 330 K in water of
/// 350 K: Ra 1.714e7, Nu 38.5, 1155 W/m2K. Morgan's power law (their eq. 9.33 and table 9.1, 0.125 Ra^0.333) gives 32: the scatter of such laws.
#[test]
fn published_the_film_on_the_tube_is_that_of_a_horizontal_cylinder_in_water() {
    let (nu, alpha) = (420e-6 * 1.021e-3, 0.660 * 1.021e-3 / 4188.0);
    let ra: f64 = 9.81 * 566.0e-6 * 20.0 * 0.022f64.powi(3) / (nu * alpha);
    let pr: f64 = 2.66;
    let by_hand = (0.60
        + 0.387 * ra.powf(1.0 / 6.0) / (1.0 + (0.559 / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0))
    .powi(2);
    assert!((by_hand - 38.5).abs() < 0.1, "{by_hand}");
    let bare = tube(0.0);
    let h = bare.through_w_m2k(&water_of(&[350.0]), 350.0, 330.0);
    eprintln!("{h:.1} against {:.1}", by_hand * 0.660 / 0.022);
    assert!((h / (by_hand * 0.660 / 0.022) - 1.0).abs() < 0.01, "{h}");
    let morgan = 0.125 * ra.powf(0.333) * 0.660 / 0.022;
    assert!((h / morgan - 1.0).abs() < 0.25, "{h} {morgan}");
}

fn water_of(t_k: &[f64]) -> Beside<'_> {
    Beside {
        water: Water::shared(),
        layer_m: 0.5,
        t_k,
        convection: 1.0,
    }
}

/// One metre of 22 mm tube, level, in two cells.
fn tube(wall_m2k_w: f64) -> Submerged {
    Submerged {
        first_tube_cell: 0,
        spans_m: vec![(0.1, 0.2), (0.2, 0.3)],
        cell_m2: PI * 0.022 * 0.5,
        outside_m: 0.022,
        wall_m2k_w,
    }
}

/// Deposit and film share the difference: q (R + 1/h(ΔT - q R)) = ΔT, both ways.
#[test]
fn identity_deposit_and_film_in_series_take_one_flux() {
    let t = [350.0];
    let beside = water_of(&t);
    for r in [0.0, 1e-5, 1e-3, 2e-2, 0.2] {
        for metal_k in [300.0, 340.0, 349.9, 352.0, 370.0] {
            let u = tube(r).through_w_m2k(&beside, 350.0, metal_k);
            let q = u * (350.0 - metal_k);
            let h = tube(0.0).through_w_m2k(&beside, 350.0, metal_k + q * r);
            let error = u * (r + 1.0 / h) - 1.0;
            assert!(error.abs() < 1e-4, "{r} {metal_k}: {error:e}");
        }
    }
}

/// As the level falls past a cell its heat goes in proportion to what is wet of it, and to nothing without a jump.
#[test]
fn identity_turns_above_the_water_give_nothing() {
    let t = [350.0];
    let metal = [320.0, 320.0];
    let at = |layer_m: f64| {
        let (mut into, mut of) = ([0.0; 2], [0.0]);
        let beside = Beside {
            layer_m,
            ..water_of(&t)
        };
        let q = tube(0.0).pass(&beside, &metal, &mut into, &mut of);
        assert!((into[0] + into[1] - q).abs() < 1e-9 && (of[0] + q).abs() < 1e-9);
        q
    };
    let full = at(0.5);
    assert!(full > 1000.0);
    for (level_m, share) in [
        (0.3, 1.0),
        (0.25, 0.75),
        (0.2, 0.5),
        (0.101, 0.005),
        (0.1, 0.0),
        (0.0, 0.0),
    ] {
        let q = at(level_m);
        assert!((q / full - share).abs() < 1e-9, "{level_m}: {q} of {full}");
    }
}

/// q = u A ΔT of each cell of tube for itself: between layers of two temperatures by its height in either, and into its own place among all
/// tube cells; the film that counts is that of the mean of the water beside it.
#[test]
fn analytic_each_cell_takes_film_times_area_times_difference_of_its_own_layers() {
    // 0.1 to 0.2 m: 4/5 in the lower of layers of 0.18 m; 0.2 to 0.3 m: the upper alone.
    let layers = [330.0, 350.0];
    let beside = Beside {
        layer_m: 0.18,
        ..water_of(&layers)
    };
    let coil = Submerged {
        first_tube_cell: 3,
        ..tube(1e-4)
    };
    let metal = [400.0, 400.0, 400.0, 310.0, 325.0, 400.0];
    let (mut into, mut of) = ([5.0; 6], [7.0; 2]);
    let all = coil.pass(&beside, &metal, &mut into, &mut of);
    let m2 = PI * 0.022 * 0.5;
    let lower_u = coil.through_w_m2k(&beside, 334.0, 310.0);
    let upper_u = coil.through_w_m2k(&beside, 350.0, 325.0);
    let lower = [
        0.8 * lower_u * m2 * (330.0 - 310.0),
        0.2 * lower_u * m2 * (350.0 - 310.0),
    ];
    let upper = upper_u * m2 * (350.0 - 325.0);
    let close = |got: f64, want: f64| assert!((got / want - 1.0).abs() < 1e-9, "{got} {want}");
    close(into[3] - 5.0, lower[0] + lower[1]);
    close(into[4] - 5.0, upper);
    close(7.0 - of[0], lower[0]);
    close(7.0 - of[1], lower[1] + upper);
    close(all, lower[0] + lower[1] + upper);
    assert!([0, 1, 2, 5].iter().all(|&i| into[i] == 5.0), "{into:?}");
}

/// The multiplier is on the film alone: 1/u = 1/(m h) + R, the film by itself m times as good.
#[test]
fn analytic_the_multiplier_of_convection_is_on_the_film() {
    let t = [350.0];
    let better = Beside {
        convection: 1.3,
        ..water_of(&t)
    };
    let bare = tube(0.0).through_w_m2k(&water_of(&t), 350.0, 330.0);
    let more = tube(0.0).through_w_m2k(&better, 350.0, 330.0);
    assert!((more / bare - 1.3).abs() < 1e-9, "{more} {bare}");
    // Behind a deposit ten times as tight as the film: 1/11 of the whole resistance is the film's, and 0.3/1.3 of that goes; a film at a
    // smaller difference is the weaker and its share the larger.
    let r = 10.0 / bare;
    let behind = |b: &Beside| tube(r).through_w_m2k(b, 350.0, 330.0);
    let gain = behind(&better) / behind(&water_of(&t)) - 1.0;
    assert!((0.01..0.04).contains(&gain), "{gain}");
}
