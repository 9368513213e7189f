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
    // The last line of Bergman et al., 6th ed., table 7.4, up to its end and beyond: (c, m) = (0.076, 0.7).
    for re in [0.95e6f64, 1.1e6, 3e6] {
        let last = 0.076 * re.powf(0.7) * 0.7f64.powf(0.37);
        assert_close("last law", zukauskas_cylinder(re, 0.7), last, 1e-6);
    }
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

/// Žukauskas 1972 (Bergman et al., 6th ed., tables 7.4 and 7.5; staggered: Bejan, 4th ed.): every power law in its own range, and
/// where two meet the step between them: half at the bound, 0.84375 at half the width of the joint above it.
#[test]
fn published_zukauskas_tables_law_by_law() {
    let (a_over_b, pr): (f64, f64) = (1.5, 0.7);
    let f = a_over_b.powf(0.2);
    let far = f64::INFINITY;
    let cylinder = [
        (40.0, 0.75, 0.4),
        (1e3, 0.51, 0.5),
        (2e5, 0.26, 0.6),
        (far, 0.076, 0.7),
    ];
    let inline = [
        (100.0, 0.9, 0.4),
        (1e3, 0.52, 0.5),
        (2e5, 0.27, 0.63),
        (far, 0.033, 0.8),
    ];
    let staggered = [
        (500.0, 1.04, 0.4),
        (1e3, 0.71, 0.5),
        (2e5, 0.35 * f, 0.6),
        (far, 0.031 * f, 0.8),
    ];
    type Law = (f64, f64, f64);
    let hold = |what: &str, laws: [Law; 4], nu: &dyn Fn(f64) -> f64| {
        let value = |j: usize, re: f64| laws[j].1 * re.powf(laws[j].2);
        for i in 0..4 {
            let from = if i == 0 { 5.0 } else { 1.21 * laws[i - 1].0 };
            let to = if i == 3 { 1e6 } else { laws[i].0 / 1.21 };
            for re in [from, (from * to).sqrt(), to] {
                assert_close(what, nu(re), value(i, re), 1e-9);
            }
        }
        for (i, law) in laws.iter().enumerate().take(3) {
            for (part, w) in [(-0.5f64, 0.15625), (0.0, 0.5), (0.5, 0.84375)] {
                let re = law.0 * 1.2f64.powf(part);
                let expected = (1.0 - w) * value(i, re) + w * value(i + 1, re);
                assert_close(what, nu(re), expected, 1e-9);
            }
        }
        assert_eq!((nu(0.0), nu(-5.0)), (0.0, 0.0));
    };
    hold("cylinder", cylinder, &|re| {
        zukauskas_cylinder(re, pr) / pr.powf(0.37)
    });
    let bank =
        |re, arrangement| zukauskas_bank(re, pr, arrangement, a_over_b, 25.0) / pr.powf(0.36);
    hold("in line", inline, &|re| bank(re, Arrangement::Inline));
    hold("staggered", staggered, &|re| {
        bank(re, Arrangement::Staggered)
    });
    // Exponent of the Prandtl number: 0.37 to Pr 10, 0.36 above.
    let liquid = |pr: f64| zukauskas_cylinder(1e4, pr) / zukauskas_cylinder(1e4, 1.0);
    assert_close("Pr 9.9", liquid(9.9), 9.9f64.powf(0.37), 1e-12);
    assert_close("Pr 10.5", liquid(10.5), 10.5f64.powf(0.36), 1e-12);
}

/// McAdams' two laws of the hot plate, as the sixteenth-power mean of both; no convection where nothing drives it.
#[test]
fn published_hot_plate_is_the_greater_of_mcadams_laws() {
    for ra in [1e4f64, 1e6, 1e7, 2.2e7, 3e7, 1e8, 1e10] {
        let (laminar, turbulent) = (0.54 * ra.powf(0.25), 0.15 * ra.cbrt());
        let mean = (laminar.powi(16) + turbulent.powi(16)).powf(1.0 / 16.0);
        assert_close("Nu", horizontal_plate_up(ra), mean, 1e-9);
    }
    assert_eq!(
        (horizontal_plate_up(-1.0), horizontal_plate_down(-1.0)),
        (0.0, 0.0)
    );
    assert_eq!(
        churchill_chu_plate(-1.0, 0.7),
        churchill_chu_plate(0.0, 0.7)
    );
    assert_eq!(
        churchill_chu_cylinder(-1.0, 0.7),
        churchill_chu_cylinder(0.0, 0.7)
    );
}

/// Popiel, Wojtkowiak & Bober 2007 written out, for metals' and gases' Prandtl numbers too.
#[test]
fn published_popiel_slender_cylinder_written_out() {
    for pr in [0.01f64, 0.05, 0.7, 7.0, 80.0] {
        for (gr, l_over_d) in [(1e5f64, 20.0), (1e7, 100.0)] {
            let b = 0.0571322 + 0.20305 * pr.powf(-0.43);
            let c = 0.9165 - 0.0043 * pr.sqrt() + 0.01333 * pr.ln() + 0.0004809 / pr;
            let factor = 1.0 + b * (32f64.sqrt() * gr.powf(-0.25) * l_over_d).powf(c);
            let ours = vertical_slender_cylinder(gr, pr, l_over_d);
            assert_close("Nu", ours, churchill_chu_plate(gr * pr, pr) * factor, 1e-9);
        }
    }
    assert_eq!(
        vertical_slender_cylinder(0.01, 0.7, 5.0),
        vertical_slender_cylinder(1.0, 0.7, 5.0)
    );
}

/// Gaddis & Gnielinski 1983 (VDI Heat Atlas, L1.4), written out for both arrangements, slow flow, tight rows and wide ones; 4ab - π
/// held at 0.3, staggered turbulent loss at 0.5, (b - 0.94) and (b - 1) at 0.
#[test]
fn published_bank_loss_is_gaddis_and_gnielinskis_written_out() {
    for (a, b) in [
        (1.25f64, 1.2f64),
        (2.0, 1.5),
        (2.5, 2.5),
        (1.6, 0.9),
        (3.0, 0.8),
        (1.02, 0.8),
        (4.0, 0.5),
    ] {
        for arrangement in [Arrangement::Inline, Arrangement::Staggered] {
            let bank = TubeBank::new(a, b, arrangement, 8.0);
            let staggered = arrangement == Arrangement::Staggered;
            let diagonal = (0.25 * a * a + b * b).sqrt().max(1.02);
            let tight = staggered && b < 0.5 * (2.0 * a + 1.0).sqrt();
            let pitch = if tight { diagonal } else { a };
            let gap = if tight {
                a / (2.0 * (diagonal - 1.0))
            } else {
                a / (a - 1.0)
            };
            assert_close("gap", bank.contraction(), gap, 1e-12);
            let laminar = 280.0 * PI * ((b.sqrt() - 0.6).powi(2) + 0.75)
                / (pitch.powf(1.6) * (4.0 * a * b - PI).max(0.3));
            let (f, n, onset): (f64, f64, (f64, f64)) = if staggered {
                let f = 2.5 + 1.2 / (a - 0.85).powf(1.08) + 0.4 * (b / a - 1.0).powi(3)
                    - 0.01 * (a / b - 1.0).powi(3);
                (f.max(0.5), 0.25, (200.0, 1000.0))
            } else {
                let rise = if b > 0.94 {
                    (1.0 - 0.94 / b).powf(0.6)
                } else {
                    0.0
                };
                let f = (0.22 + 1.2 * rise / (a - 0.85).powf(1.3))
                    * 10f64.powf(0.47 * (b / a - 1.5))
                    + 0.03 * (a - 1.0) * (b - 1.0).max(0.0);
                (f, 0.1 * b / a, (1000.0, 2000.0))
            };
            assert_close("laminar", bank.loss_re(0.0), laminar, 1e-9);
            assert_eq!(bank.loss_re(-5.0), bank.loss_re(0.0));
            for re in [3.0f64, 150.0, 1000.0, 4e4] {
                let turbulent = f * re.powf(-n) * (1.0 - (-(re + onset.0) / onset.1).exp());
                assert_close(
                    "loss",
                    bank.loss_per_row(re),
                    laminar / re + turbulent,
                    1e-9,
                );
            }
            assert_eq!(bank.loss_per_row(0.0), bank.loss_per_row(1e-9));
            assert_close("at rest", bank.loss_per_row(0.0), laminar / 1e-9, 1e-8);
        }
    }
    // The diagonal gaps are the narrower below b = √(2a + 1)/2: 1.3229 at a = 3.
    let gap = |b| TubeBank::new(3.0, b, Arrangement::Staggered, 8.0).contraction();
    assert_close(
        "diagonal",
        gap(1.32),
        3.0 / (2.0 * ((2.25f64 + 1.7424).sqrt() - 1.0)),
        1e-12,
    );
    assert_close("across", gap(1.33), 1.5, 1e-12);
}

/// Gnielinski 1978 (VDI Heat Atlas, G7): from ten rows on the factor of the arrangement itself, reached here by 15; slow gas of a
/// small Prandtl number; pitches and rows held at their ends.
#[test]
fn published_bank_rows_and_slow_gas_written_out() {
    let (a, b, pr) = (2.0f64, 1.5f64, 0.7f64);
    let f = 1.0 + 2.0 / (3.0 * b);
    let one = TubeBank::new(a, b, Arrangement::Staggered, 1.0).nusselt(3e3, pr);
    let at_ten = (1.0 + 9.0 * f) / 10.0;
    for (rows, factor) in [
        (1.05, (1.0 + 0.05 * f) / 1.05),
        (9.0, (1.0 + 8.0 * f) / 9.0),
        (10.0, at_ten),
        (10.5, at_ten + 0.028 * (f - at_ten)),
        (12.5, 0.5 * (at_ten + f)),
        (14.0, at_ten + 0.896 * (f - at_ten)),
        (15.0, f),
        (40.0, f),
    ] {
        let nu = TubeBank::new(a, b, Arrangement::Staggered, rows).nusselt(3e3, pr);
        assert_close("rows", nu / one, factor, 1e-9);
    }
    for (re, pr) in [(0.3f64, 0.1f64), (2.0, 0.3), (50.0, 0.7), (1e5, 5.0)] {
        let laminar = 0.664 * re.sqrt() * pr.cbrt();
        let wall = (1.0 + 2.443 * re.powf(-0.1) * (pr.powf(2.0 / 3.0) - 1.0)).max(0.3);
        let turbulent = 0.037 * re.powf(0.8) * pr / wall;
        let ours = TubeBank::new(a, b, Arrangement::Inline, 1.0).nusselt(re, pr);
        assert_close("Nu", ours, 0.3 + laminar.hypot(turbulent), 1e-7);
    }
    let bank = |a, b, rows| TubeBank::new(a, b, Arrangement::Inline, rows);
    assert_eq!(
        bank(2.0, 1.5, 4.0).nusselt(-3.0, 0.7),
        bank(2.0, 1.5, 4.0).nusselt(0.0, 0.7)
    );
    assert_eq!(bank(0.9, 1.5, 4.0), bank(1.02, 1.5, 4.0));
    assert_eq!(bank(2.0, 0.3, 4.0), bank(2.0, 0.5, 4.0));
    assert_eq!(bank(2.0, 1.5, 0.2), bank(2.0, 1.5, 1.0));
    assert_close(
        "close",
        bank(1.03, 1.5, 4.0).contraction(),
        1.03 / 0.03,
        1e-12,
    );
    assert_close(
        "nested",
        bank(2.0, 0.52, 4.0).void(),
        1.0 - PI / (8.0 * 0.52),
        1e-12,
    );
}
