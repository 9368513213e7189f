//! Laminar flow and heat in ducts that are not round.

use emberloop::correlations::cross_section::CrossSection;
use emberloop::correlations::{friction, nusselt_internal};

fn close(what: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

/// Bergman et al., Introduction to Heat Transfer, 6th ed., table 8.1: ratio of the sides, Nu at constant wall temperature, f Re (rounded there to
/// two or three digits), and the polynomials of Shah & London evaluated with numpy 2.4.6.
#[test]
fn published_rectangles_have_the_laminar_constants_of_the_table() {
    for (ratio, nu, f_re) in [
        (1.0, 2.98, 57.0),
        (1.43, 3.08, 59.0),
        (2.0, 3.39, 62.0),
        (3.0, 3.96, 69.0),
        (4.0, 4.44, 73.0),
        (8.0, 5.60, 82.0),
        (f64::INFINITY, 7.54, 96.0),
    ] {
        let s = CrossSection::rectangle(1.0 / ratio);
        close("Nu", s.nu_developed, nu, 0.005);
        close("f Re", s.f_re, f_re, 0.011);
        // Far from the inlet both are what a flow at rest has.
        close(
            "developed",
            s.nusselt(100.0, 0.7, 0.0),
            s.nu_developed,
            1e-12,
        );
        close("friction", s.friction_f_re(10.0, 1e-3), s.f_re, 1e-12);
    }
    for (aspect, nu, f_re) in [
        (1.0, 2.978_695, 56.918_4),
        (0.5, 3.388_736_875, 62.229_3),
        (0.125, 5.595_807_703, 82.359_147_361),
        (0.05, 6.645_897_184_866, 89.941_919_829),
    ] {
        let s = CrossSection::rectangle(aspect);
        close("Nu", s.nu_developed, nu, 1e-6);
        close("f Re", s.f_re, f_re, 1e-6);
    }
    let (round, table) = (CrossSection::ROUND, (3.66, 64.0));
    assert_eq!((round.nu_developed, round.f_re), table);
}

/// Between parallel plates Nu = {7.541³ + (1.841 Gz^(1/3))³ + [(2/(1 + 22 Pr))^(1/6) Gz^(1/2)]³}^(1/3) (VDI Heat Atlas, section G2, from memory); in a tube the
/// formula of section G1, written out.
#[test]
fn published_a_slot_is_a_channel_of_parallel_plates() {
    let slot = CrossSection::rectangle(0.0);
    for (re, pr, d_l) in [(300.0, 0.7, 0.2), (1000.0, 0.7, 0.05), (2000.0, 5.0, 0.01)] {
        let gz: f64 = re * pr * d_l;
        let inlet = (2.0 / (1.0 + 22.0 * pr)).powf(1.0 / 6.0) * gz.sqrt();
        let plates = (7.541f64.powi(3) + (1.841 * gz.cbrt()).powi(3) + inlet.powi(3)).cbrt();
        close("slot", slot.nusselt(re, pr, d_l), plates, 0.005);
        let tube =
            (3.66f64.powi(3) + 0.7f64.powi(3) + (1.615 * gz.cbrt() - 0.7).powi(3) + inlet.powi(3))
                .cbrt();
        close("tube", nusselt_internal::duct(re, pr, d_l), tube, 1e-9);
    }
}

/// Turbulent flow does not know the shape; value and slope have no jump on the way there.
#[test]
fn identity_shapes_meet_in_turbulent_flow() {
    for aspect in [0.02, 0.3, 1.0] {
        let s = CrossSection::rectangle(aspect);
        for re in [4000.0, 20_000.0, 1e5] {
            let tube = nusselt_internal::duct(re, 0.7, 0.02);
            assert_eq!(s.nusselt(re, 0.7, 0.02), tube);
        }
        let mut before = (s.nusselt(1.0, 0.7, 0.05), s.friction_f_re(1.0, 1e-3));
        for i in 1..2000 {
            let re = 5.0 * f64::from(i);
            let now = (s.nusselt(re, 0.7, 0.05), s.friction_f_re(re, 1e-3));
            assert!(
                (now.0 - before.0).abs() < 0.12 && now.1 >= 0.999 * before.1,
                "{re}"
            );
            before = now;
        }
        // At the Reynolds number of the same laminar friction (Jones).
        let like = 64.0 / s.f_re;
        close(
            "Jones",
            s.friction_f_re(3e4, 2e-3) / 3e4,
            friction::f_darcy_pipe(3e4 * like, 2e-3),
            1e-12,
        );
    }
}
