//! Cross-flow and natural convection, against reference libraries and textbook examples.

use emberloop::correlations::natural_convection::{
    churchill_chu_cylinder, churchill_chu_plate, horizontal_plate_down, horizontal_plate_up,
    mixed_with_wind, vertical_slender_cylinder,
};
use emberloop::correlations::nusselt_external::{
    Arrangement, TubeBank, Turns, bank_gnielinski, bank_loss_per_row, churchill_bernstein,
    turns_crossflow, zukauskas_bank, zukauskas_cylinder,
};
use std::f64::consts::PI;

fn assert_close(what: &str, got: f64, expected: f64, rel: f64) {
    assert!(
        (got / expected - 1.0).abs() <= rel,
        "{what}: {got} against {expected}, allowed {rel}"
    );
}

fn largest_step(from: f64, to: f64, n: usize, f: impl Fn(f64) -> f64) -> f64 {
    let at = |i: usize| f(from * (to / from).powf(i as f64 / n as f64));
    (0..n)
        .map(|i| (at(i + 1) / at(i) - 1.0).abs())
        .fold(0.0, f64::max)
}

/// Bergman et al., Introduction to Heat Transfer, 6th ed., example 7.3 (Nu 40.6), and `ht` 1.2.0 `Nu_cylinder_Churchill_Bernstein`.
#[test]
fn published_churchill_bernstein_matches_incropera_example_7_3() {
    assert_close("Nu", churchill_bernstein(6071.0, 0.70), 40.6371, 1e-5);
    assert_close("Nu", churchill_bernstein(100.0, 0.70), 5.156_132, 1e-5);
    assert_close("Nu", churchill_bernstein(1000.0, 0.72), 16.107_139, 1e-5);
    assert_close("rest", churchill_bernstein(0.0, 0.7), 0.3, 1e-12);
}

/// `ht` 1.2.0, `Nu_cylinder_Zukauskas`; example 7.3 with (Pr/Pr_wall)^(1/4) = 1.0061 gives 50.5236.
#[test]
fn published_zukauskas_cylinder_matches_ht_away_from_the_joints() {
    for (re, nu) in [
        (20.0, 2.178_510),
        (200.0, 6.320_791),
        (7992.0, 50.032_581),
        (5e5, 649.7987),
    ] {
        assert_close("Nu", zukauskas_cylinder(re, 0.7), nu, 1e-6);
    }
    let wall = (0.707f64 / 0.69).powf(0.25);
    assert_close(
        "Nu",
        zukauskas_cylinder(7992.0, 0.707) * wall,
        50.5236,
        1e-5,
    );
    let step = largest_step(1.0, 1e6, 100_000, |re| zukauskas_cylinder(re, 0.7));
    assert!(step < 1e-3, "jump of {step}");
}

/// `ht` 1.2.0, `Nu_Zukauskas_Bejan`, Pr 0.7; in-line rows between Re 100 and 1000 times Re^0.45, since the release has the
/// exponent 0.05 for 0.5. 4 % allowed: the row factors are two readings of one figure.
#[test]
fn published_zukauskas_bank_matches_ht_with_its_exponent_repaired() {
    use Arrangement::{Inline, Staggered};
    for (kind, a_over_b, re, rows, nu) in [
        (Inline, 1.0, 50.0, 4.0, 3.426_938),
        (Inline, 1.0, 500.0, 4.0, 9.259_001),
        (Inline, 1.0, 500.0, 16.0, 10.161_994),
        (Inline, 1.0, 3000.0, 16.0, 36.596_6),
        (Inline, 1.0, 1e4, 1.0, 53.218_1),
        (Inline, 1.0, 4e5, 16.0, 874.284),
        (Staggered, 4.0 / 3.0, 3000.0, 16.0, 39.544_1),
        (Staggered, 4.0 / 3.0, 4e5, 16.0, 870.463),
    ] {
        assert_close(
            "Nu",
            zukauskas_bank(re, 0.7, kind, a_over_b, rows),
            nu,
            0.04,
        );
    }
}

/// `ht` 1.2.0, `Nu_HEDH_tube_bank(Re, Pr, Do=1, tube_rows, pitch_parallel, pitch_normal)`, Pr 0.7, in-line; its Re is ours times ψ.
#[test]
fn published_gnielinski_bank_matches_ht() {
    for (re, a, rows, nu) in [
        (500.0, 1.5, 4.0, 29.762_102),
        (5000.0, 2.0, 20.0, 94.893_581),
    ] {
        let psi = 1.0 - PI / 4.0 / a;
        let got = bank_gnielinski(re / psi, 0.7, a, a, Arrangement::Inline, rows);
        assert_close("Nu", got, nu, 1e-6);
    }
}

/// Heat transfer coefficients of one in-line bank by two unrelated correlations (Gnielinski, Žukauskas), Pr 0.7: 10 % from
/// a gap Reynolds number of 2000 up. Below they part (Gnielinski 43 % higher at Re 500), and the test holds them to that.
#[test]
fn published_gnielinski_and_zukauskas_banks_agree() {
    for a in [1.5, 2.0] {
        let bank = TubeBank::new(a, a, Arrangement::Inline, 20.0);
        for (re_gap, width) in [
            (500.0, 0.45),
            (1e3, 0.30),
            (2e3, 0.10),
            (5e3, 0.10),
            (2e4, 0.10),
        ] {
            // Gap velocity = free * a/(a-1); Re_psi on l = pi d/2 and free velocity / psi.
            let re_free_d = re_gap / bank.contraction();
            let h1 = bank.nusselt(re_free_d * 0.5 * PI / bank.void(), 0.7) / (0.5 * PI);
            let h2 = zukauskas_bank(re_gap, 0.7, Arrangement::Inline, 1.0, 20.0);
            assert_close("h", h1, h2, width);
        }
    }
}

/// `ht` 1.2.0, `dP_Zukauskas` for one row at square pitch: an independent pressure-drop chart.
/// Above Re 3000 within 8 %. Below, the two differ by up to 50 % (0.409 against 0.275 at Re 500, pitch 1.5), which the
/// bank's multiplier has to cover.
#[test]
fn published_bank_loss_lies_with_zukauskas() {
    for (a, re, xi, tol) in [
        (1.5, 3000.0, 0.348_713, 0.08),
        (1.5, 1e4, 0.333_051, 0.08),
        (1.5, 3e4, 0.301_418, 0.08),
        (2.0, 3000.0, 0.228_170, 0.08),
        (2.0, 1e4, 0.232_426, 0.08),
        (2.0, 3e4, 0.208_856, 0.08),
        (1.5, 500.0, 0.275_495, 0.50),
        (2.0, 500.0, 0.225_421, 0.50),
    ] {
        assert_close(
            "xi",
            bank_loss_per_row(re, a, a, Arrangement::Inline),
            xi,
            tol,
        );
    }
}

#[test]
fn identity_bank_loss_is_continuous_from_rest() {
    for (a, b, kind) in [
        (1.2, 1.0, Arrangement::Inline),
        (3.4, 1.5, Arrangement::Inline),
        (2.0, 2.0, Arrangement::Staggered),
        (1.5, 0.8, Arrangement::Staggered),
    ] {
        let bank = TubeBank::new(a, b, kind, 8.0);
        assert!(bank.loss_re(0.0).is_finite() && bank.loss_re(0.0) > 0.0);
        assert!(bank.loss_per_row(0.0).is_finite());
        let step = largest_step(1e-3, 1e6, 100_000, |re| bank.loss_re(re));
        assert!(step < 1e-3, "jump of {step}");
        let step = largest_step(1e-3, 1e6, 100_000, |re| bank.nusselt(re, 0.7));
        assert!(step < 1e-3, "Nusselt jump of {step}");
        assert!(bank.nusselt(0.0, 0.7) > 0.0);
    }
}

#[test]
fn identity_bank_factors_have_no_jump_in_pitch_or_rows() {
    let nu =
        |b: f64, rows: f64| TubeBank::new(2.5, b, Arrangement::Inline, rows).nusselt(2000.0, 0.7);
    for i in 0..2000 {
        let b = 0.6 + 0.002 * f64::from(i);
        assert_close("pitch", nu(b + 0.002, 8.0), nu(b, 8.0), 0.01);
        let n = 1.0 + 0.02 * f64::from(i);
        assert_close("rows", nu(1.5, n + 0.02), nu(1.5, n), 0.01);
    }
}

/// A helix whose passage is as wide per tube as a bank's pitch is that bank.
#[test]
fn identity_turns_in_a_passage_are_an_inline_bank() {
    let turns = Turns {
        tube_outside_m: 0.022,
        coil_diameter_m: 0.16,
        pitch_m: 0.033,
        passage_area_m2: 2.0 * 0.022 * PI * 0.16,
        turns: 12.0,
    };
    let expected = bank_gnielinski(900.0, 0.7, 2.0, 1.5, Arrangement::Inline, 12.0);
    assert_close("Nu", turns_crossflow(900.0, 0.7, &turns), expected, 1e-12);
    let l = 0.5 * PI * 0.022;
    let bank = turns.bank();
    let u = 900.0 * bank.void() * 1e-4 / l;
    assert_close(
        "h",
        bank.h_w_m2k(u, 0.022, 1e-4, 0.07, 0.7),
        expected * 0.07 / l,
        1e-12,
    );
}

/// Bergman et al., 6th ed., example 9.2 (book Nu 147), and `ht` 1.2.0 `Nu_vertical_plate_Churchill(Pr, Gr)`.
#[test]
fn published_churchill_chu_plate_matches_incropera_example_9_2() {
    assert_close(
        "Nu",
        churchill_chu_plate(0.69 * 2.63e9, 0.69),
        147.162,
        1e-5,
    );
    assert_close("Nu", churchill_chu_plate(0.7e6, 0.7), 15.044_471, 1e-6);
    assert_close("rest", churchill_chu_plate(0.0, 0.7), 0.680_625, 1e-9);
}

/// `ht` 1.2.0, `Nu_horizontal_cylinder_Churchill_Chu(Pr, Gr)`.
#[test]
fn published_churchill_chu_cylinder_matches_ht() {
    assert_close(
        "Nu",
        churchill_chu_cylinder(0.69 * 2.63e9, 0.69),
        139.135,
        1e-5,
    );
    assert_close("Nu", churchill_chu_cylinder(0.7e5, 0.7), 7.076_842, 1e-6);
}

/// `ht` 1.2.0, `Nu_horizontal_plate_McAdams(Pr, Gr, buoyancy)`.
#[test]
fn published_horizontal_plates_match_ht_mcadams() {
    for (ra, nu) in [
        (1e5, 9.602_709),
        (1e6, 17.076_299),
        (1e8, 69.623_83),
        (1e9, 150.0),
    ] {
        // 1 % for the smooth joint, which ends at 4.4 % where the lines cross.
        assert_close("up", horizontal_plate_up(ra), nu, 0.01);
    }
    assert_close("joint", horizontal_plate_up(1e7), 32.3, 0.05);
    for (ra, nu) in [(1e5, 4.801_354), (1e8, 27.0)] {
        assert_close("down", horizontal_plate_down(ra), nu, 1e-6);
    }
    assert_eq!(horizontal_plate_up(0.0), 0.0);
}

/// `ht` 1.2.0, `Nu_vertical_cylinder_Popiel_Churchill(Pr, Gr, L, D)`.
#[test]
fn published_popiel_slender_cylinder_matches_ht() {
    assert_close(
        "Nu",
        vertical_slender_cylinder(1e10, 0.7, 2.5),
        228.898,
        1e-5,
    );
    assert_close(
        "Nu",
        vertical_slender_cylinder(1e7, 0.7, 15.0),
        40.195_802,
        1e-5,
    );
    assert!(vertical_slender_cylinder(0.0, 0.7, 2.5).is_finite());
}

#[test]
fn identity_mixed_convection_is_bounded_by_its_parts() {
    assert_close("still", mixed_with_wind(20.0, 0.0), 20.0, 1e-12);
    assert_close("wind", mixed_with_wind(0.0, 30.0), 30.0, 1e-12);
    let both = mixed_with_wind(20.0, 30.0);
    assert!(both > 30.0 && both < 50.0);
}
