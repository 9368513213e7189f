//! Corners of the correlations by their closed forms, written out a second time in another way: row factors, touching turns,
//! tails, blends. What they agree with is the form as given in the correlation's own comment (sources there).

use emberloop::correlations::boiling::{Saturated, dryout_quality_katto_ohno, griffith_share};
use emberloop::correlations::combustion::{normal_cdf, shortage};
use emberloop::correlations::evaporation::{MassTransferGas, mass_flux_from_h_kg_m2s};
use emberloop::correlations::friction::f_darcy_pipe;
use emberloop::correlations::nusselt_external::{Arrangement, TubeBank, zukauskas_bank};
use emberloop::correlations::pump::interpolate_curve;
use emberloop::correlations::radiation::sky_emissivity;
use emberloop::correlations::two_phase::void_drift_flux;
use std::f64::consts::PI;

fn close(what: &str, got: f64, expected: f64, relative: f64) {
    assert!(
        (got - expected).abs() <= relative * expected.abs(),
        "{what}: {got} for {expected}"
    );
}

/// Bergman et al., Introduction to Heat Transfer, 6th ed., table 7.6 (from memory), relative to 20 rows.
#[test]
fn published_row_factors_of_zukauskas_bank() {
    let rows = [1.0, 2.0, 3.0, 4.0, 5.0, 7.0, 10.0, 13.0, 16.0, 20.0];
    let inline = [0.70, 0.80, 0.86, 0.90, 0.92, 0.95, 0.97, 0.98, 0.99, 1.0];
    let staggered = [0.64, 0.76, 0.84, 0.89, 0.92, 0.95, 0.97, 0.98, 0.99, 1.0];
    for (arrangement, factors) in [
        (Arrangement::Inline, inline),
        (Arrangement::Staggered, staggered),
    ] {
        let nu = |n: f64| zukauskas_bank(8e3, 0.7, arrangement, 1.0, n);
        for (n, f) in rows.into_iter().zip(factors) {
            close(&format!("{n} rows"), nu(n) / nu(20.0), f, 1e-12);
        }
        // Straight between: six rows lie midway between five and seven; beyond the ends it stays.
        close("6 rows", nu(6.0), 0.5 * (nu(5.0) + nu(7.0)), 1e-12);
        assert_eq!((nu(0.5), nu(40.0)), (nu(1.0), nu(20.0)));
    }
}

/// Gnielinski 1978 and Gaddis & Gnielinski 1983 (VDI Heat Atlas G7, L1.4), from memory.
#[test]
fn published_bank_geometry_of_wide_touching_and_staggered_rows() {
    // Void: 1 − π/4a from b = 1 on, 1 − π/4ab below, never under 0.05.
    close(
        "wide",
        TubeBank::new(2.0, 1.5, Arrangement::Inline, 4.0).void(),
        1.0 - PI / 8.0,
        1e-12,
    );
    close(
        "touching",
        TubeBank::new(1.5, 0.8, Arrangement::Inline, 4.0).void(),
        1.0 - PI / 4.8,
        1e-12,
    );
    close(
        "held",
        TubeBank::new(1.02, 0.5, Arrangement::Inline, 4.0).void(),
        0.05,
        1e-12,
    );
    // One row is a single row whatever the arrangement; the factor of the arrangement comes in with the rows.
    let nu = |b: &TubeBank| b.nusselt(5e3, 0.7);
    let of = |a: f64, b: f64, arrangement, rows| nu(&TubeBank::new(a, b, arrangement, rows));
    let (a, b) = (1.6, 1.2);
    let void: f64 = 1.0 - PI / (4.0 * a);
    let r = b / a;
    let inline = 1.0 + 0.7 / void.powf(1.5) * (r - 0.3) / (r + 0.7).powi(2);
    let staggered = 1.0 + 2.0 / (3.0 * b);
    for (arrangement, factor) in [
        (Arrangement::Inline, inline),
        (Arrangement::Staggered, staggered),
    ] {
        let one = of(a, b, arrangement, 1.0);
        close(
            "5 rows",
            of(a, b, arrangement, 5.0) / one,
            (1.0 + 4.0 * factor) / 5.0,
            1e-12,
        );
        close("20 rows", of(a, b, arrangement, 20.0) / one, factor, 1e-12);
    }
    // Contraction: gap across, or the diagonal gaps of a tight staggered bank.
    close(
        "gap",
        TubeBank::new(1.6, 1.2, Arrangement::Inline, 5.0).contraction(),
        1.6 / 0.6,
        1e-12,
    );
    let c = (0.25 * 9.0 + 0.36f64).sqrt();
    close(
        "diagonal",
        TubeBank::new(3.0, 0.6, Arrangement::Staggered, 5.0).contraction(),
        3.0 / (2.0 * (c - 1.0)),
        1e-12,
    );
    // Loss of rows in line at high Re: turbulent part alone is left but for the laminar one over Re.
    let (a, b, re): (f64, f64, f64) = (2.0, 1.5, 3e4);
    let laminar =
        280.0 * PI * ((b.sqrt() - 0.6f64).powi(2) + 0.75) / (a.powf(1.6) * (4.0 * a * b - PI)) / re;
    let f = (0.22 + 1.2 * (1.0 - 0.94 / b).powf(0.6) / (a - 0.85).powf(1.3))
        * 10f64.powf(0.47 * (b / a - 1.5))
        + 0.03 * (a - 1.0) * (b - 1.0);
    let turbulent = f / re.powf(0.1 * b / a);
    close(
        "in line",
        TubeBank::new(a, b, Arrangement::Inline, 10.0).loss_per_row(re),
        laminar + turbulent * (1.0 - (-(re + 1000.0) / 2000.0).exp()),
        1e-9,
    );
}

/// Tail of the normal distribution: 1 − Φ(7.5) = 3.190892e-14 and 1 − Φ(8) = 6.220961e-16 (tables, from memory), by its
/// asymptotic series.
#[test]
fn analytic_far_tail_of_the_normal_distribution() {
    for z in [7.2f64, 7.5, 8.0, 10.0] {
        let z2 = z * z;
        let series = 1.0 - 1.0 / z2 + 3.0 / z2.powi(2) - 15.0 / z2.powi(3) + 105.0 / z2.powi(4)
            - 945.0 / z2.powi(5);
        let tail = (-0.5 * z2).exp() / (2.0 * PI).sqrt() / z * series;
        close(&format!("{z}"), normal_cdf(-z), tail, 1e-4);
    }
    close("7.5", normal_cdf(-7.5), 3.190892e-14, 1e-5);
    // Symmetric, half in the middle.
    assert!((normal_cdf(1.3) + normal_cdf(-1.3) - 1.0).abs() < 1e-15 && normal_cdf(0.0) == 0.5);
    // Perfectly mixed gas lacks exactly what is missing, with and without air enough.
    assert_eq!((shortage(0.6, 0.0), shortage(1.4, 0.0)), (0.4, 0.0));
}

/// Griffith's share of the pool's critical flux: 0.96 − α but for the rounding at the corner (0.92).
#[test]
fn published_griffith_share_is_a_straight_line_with_an_end() {
    for (void, expected) in [(0.0, 0.96), (0.3, 0.66), (0.6, 0.36)] {
        assert!(
            (griffith_share(void) - expected).abs() < 1.5e-3,
            "{void}: {}",
            griffith_share(void)
        );
    }
    assert!((griffith_share(1.0) - 0.04).abs() < 6e-3);
    // Half of the hyperbola's width at the corner.
    assert!((griffith_share(0.92) - (0.06 - 4.3e-4)).abs() < 1e-9);
}

/// Katto & Ohno 1984: 4 C (σ ρ_f/(G² L))^0.043, C from 0.25 at L/D = 50 to 0.34 at 150.
#[test]
fn published_katto_and_ohno_in_closed_form() {
    let s = Saturated {
        rho_f_kg_m3: 958.0,
        rho_g_kg_m3: 0.597,
        mu_f_pa_s: 2.8e-4,
        cp_f_j_kgk: 4216.0,
        k_f_w_mk: 0.68,
        h_fg_j_kg: 2.257e6,
        sigma_n_m: 0.0589,
    };
    for (g, d, l, c) in [
        (300.0, 0.02, 2.0, 0.295),
        (300.0, 0.02, 0.5, 0.25),
        (300.0, 0.02, 6.0, 0.34),
        (1500.0, 0.01, 1.2, 0.313),
    ] {
        let weber: f64 = 0.0589 * 958.0 / (g * g * l);
        close(
            &format!("{l} m"),
            dryout_quality_katto_ohno(g, d, l, &s),
            4.0 * c * weber.powf(0.043),
            1e-9,
        );
    }
}

/// Clear sky by Berdahl & Martin 1984 at dew points of −20, 0 and 15 °C, held at its range.
#[test]
fn published_sky_emissivity_in_closed_form() {
    for (dew_c, expected) in [
        (-20.0, 0.6282),
        (0.0, 0.711),
        (15.0, 0.811_425),
        (-60.0, 0.603_612),
    ] {
        close(
            &format!("{dew_c}"),
            sky_emissivity(dew_c + 273.15),
            expected,
            1e-9,
        );
    }
    assert_eq!(sky_emissivity(373.15), 1.0);
}

/// The curve through points of a falling parabola: exact at the ends' slopes, where three points fix a parabola, and no
/// higher than its points.
#[test]
fn analytic_pump_curve_ends_like_its_parabola() {
    let h = |q: f64| 40e3 - 3e10 * q * q;
    let points: Vec<(f64, f64)> = [0.0, 2e-4, 5e-4, 1e-3].map(|q| (q, h(q))).to_vec();
    let slope =
        |q: f64, dq: f64| (interpolate_curve(&points, q + dq) - interpolate_curve(&points, q)) / dq;
    // −6e10 q at the last point; 0 at the first.
    close("last", slope(1e-3, -1e-9), -6e7, 1e-4);
    close("beyond", slope(1e-3, 1e-9), -6e7, 1e-4);
    assert!(slope(0.0, 1e-9).abs() < 60.0);
    // Beyond it falls off further: the mean square of the curve.
    let beyond = interpolate_curve(&points, 1.2e-3);
    close("beyond", beyond, h(1e-3) - 6e7 * 2e-4 - 3e10 * 4e-8, 1e-9);
    // A steep end slope is held at three times the secant, where the curve would overshoot.
    let steep = [(0.0, 10.0), (1.0, 9.0), (1.2, 0.0)];
    let at_start = (interpolate_curve(&steep, 1e-7) - 10.0) / 1e-7;
    assert!((-3.0..=0.0).contains(&at_start), "{at_start}");
}

/// Drift flux with Rouhani's coefficients (from memory): closed form at one tenth quality.
#[test]
fn published_drift_flux_void_in_closed_form() {
    let (x, g, rf, rg, sigma): (f64, f64, f64, f64, f64) = (0.1, 200.0, 958.0, 0.597, 0.0589);
    let drift = 1.18 * 0.9 * (9.80665 * sigma * (rf - rg)).powf(0.25) / rf.sqrt();
    let c0 = 1.0 + 0.12 * 0.9;
    let expected = x / rg / (c0 * (x / rg + 0.9 / rf) + drift / g);
    close(
        "void",
        void_drift_flux(x, g, rf, rg, sigma),
        expected,
        1e-12,
    );
    assert_eq!(void_drift_flux(0.0, g, rf, rg, sigma), 0.0);
}

/// Stefan's logarithm, near one by a series and far from it by the library, and its divisors.
#[test]
fn analytic_condensation_flux_in_closed_form() {
    let gas = MassTransferGas {
        cp_j_kgk: 1050.0,
        molar_mass_kg_mol: 0.0285,
        lewis: 0.87,
        p_total_pa: 101_325.0,
    };
    for (bulk, surface) in [(12e3f64, 11.9e3), (12e3, 4e3), (60e3, 2e3), (4e3, 12e3)] {
        let expected = 40.0 / (1050.0 * 0.87f64.powf(2.0 / 3.0))
            * (18.01528e-3 / 0.0285)
            * ((101_325.0 - surface) / (101_325.0 - bulk)).ln();
        close(
            &format!("{bulk}"),
            mass_flux_from_h_kg_m2s(40.0, bulk, surface, &gas),
            expected,
            1e-6,
        );
    }
}

/// Churchill 1977 as he wrote it, 8 [(8/Re)^12 + (A + B)^(−3/2)]^(1/12), over laminar, transition and turbulent flow.
#[test]
fn published_churchill_friction_as_written() {
    for rough in [0.0f64, 1e-4, 5e-3] {
        for re in [300.0f64, 1800.0, 2300.0, 2800.0, 3500.0, 6e3, 3e4, 1e5, 3e6] {
            let a = (2.457 * (1.0 / ((7.0 / re).powf(0.9) + 0.27 * rough)).ln()).powi(16);
            let b = (37530.0 / re).powi(16);
            let f = 8.0 * ((8.0 / re).powi(12) + (a + b).powf(-1.5)).powf(1.0 / 12.0);
            close(
                &format!("Re {re}, {rough}"),
                f_darcy_pipe(re, rough),
                f,
                1e-8,
            );
        }
    }
}

/// Deep tail of the normal distribution: Q(8) = 6.2210e-16 (Abramowitz & Stegun, table 26.2, from memory), and nothing
/// jumps where one expression hands over to the other.
#[test]
fn published_the_normal_distributions_tail() {
    let q = normal_cdf(-8.0);
    assert!((q / 6.220_96e-16 - 1.0).abs() < 1e-3, "{q:e}");
    let mut before = normal_cdf(-7.5);
    for i in 1..100 {
        let x = -7.5 + 0.01 * f64::from(i);
        let here = normal_cdf(x);
        // φ/Q is about |x| there: e^(0.01 |x|) a step.
        let ratio = (here / before).ln() / (0.01 * x.abs());
        assert!((1.0..1.03).contains(&ratio), "{x}: {ratio}");
        before = here;
    }
}

/// Between two states of one gas flux goes with ln((p − p_surface)/(p − p_bulk)), also where a series stands for it.
#[test]
fn analytic_condensing_flux_goes_with_the_logarithm() {
    let gas = MassTransferGas {
        cp_j_kgk: 1100.0,
        molar_mass_kg_mol: 0.029,
        lewis: 0.87,
        p_total_pa: 101_325.0,
    };
    let flux = |bulk: f64| mass_flux_from_h_kg_m2s(20.0, bulk, 2_000.0, &gas);
    let log = |bulk: f64| ((101_325.0 - 2_000.0f64) / (101_325.0 - bulk)).ln();
    for bulk in [8_000.0, 20_000.0, 30_000.0, 34_500.0] {
        let (got, want) = (flux(bulk) / flux(60_000.0), log(bulk) / log(60_000.0));
        assert!(
            (got / want - 1.0).abs() < 1e-7,
            "{bulk}: {got} against {want}"
        );
    }
}

/// Slope of a monotone curve at an inner point with unequal spacing: Fritsch & Butland 1984, SIAM J. Sci. Stat. Comput. 5:300,
/// 3 (h0 + h1)/((2 h1 + h0)/d0 + (h1 + 2 h0)/d1); here 9/(5/1 + 4/0.5) = 9/13.
#[test]
fn published_slope_of_a_monotone_curve() {
    let curve = [(0.0, 0.0), (1.0, 1.0), (3.0, 2.0)];
    for d in [-1e-6, 1e-6] {
        let slope = (interpolate_curve(&curve, 1.0 + d) - 1.0) / d;
        assert!((slope - 9.0 / 13.0).abs() < 1e-4, "{slope}");
    }
}

/// Small functions by what defines them: (x + √(x² + w²))/2, the lesser and the greater, e to a power held at ±700.
#[test]
fn analytic_small_functions_by_their_definitions() {
    use emberloop::correlations::{greater, lesser, quick_exp, smooth_positive, smoothstep};
    for x in [-50.0f64, -3.0, -0.1, 0.0, 0.1, 3.0, 50.0] {
        close(
            "half",
            smooth_positive(x, 4.0),
            0.5 * (x + x.hypot(4.0)),
            1e-9,
        );
        // Odd part x/2, whatever the width.
        let odd = smooth_positive(x, 4.0) - smooth_positive(-x, 4.0);
        assert!((odd - x).abs() < 1e-12, "{x}: {odd}");
        assert_eq!((lesser(x, 1.0), greater(x, 1.0)), (x.min(1.0), x.max(1.0)));
        assert_eq!((lesser(1.0, x), greater(1.0, x)), (x.min(1.0), x.max(1.0)));
    }
    assert!(smooth_positive(-1e9, 1.0) > 0.0);
    assert_eq!(
        (quick_exp(900.0), quick_exp(-900.0)),
        (quick_exp(700.0), quick_exp(-700.0))
    );
    // Worst where the argument lies midway between two multiples of ln 2.
    for n in -20..20 {
        let x = (f64::from(n) + 0.4999) * std::f64::consts::LN_2;
        close("e^x", quick_exp(x), x.exp(), 8e-12);
    }
    assert_eq!(
        (smoothstep(-2.0), smoothstep(0.25), smoothstep(3.0)),
        (0.0, 0.15625, 1.0)
    );
}

/// Fritsch & Butland 1984 at unequal steps that are not one, 3 (h0 + h1)/((2 h1 + h0)/d0 + (h1 + 2 h0)/d1), and Fritsch & Carlson's
/// limit at the ends: three times the secant.
#[test]
fn published_slopes_of_a_monotone_curve_at_any_step() {
    let slope = |curve: &[(f64, f64)], at: f64, d: f64| {
        (interpolate_curve(curve, at + d) - interpolate_curve(curve, at)) / d
    };
    for (h0, h1, d0, d1) in [
        (2.0, 3.0, -1.0, -4.0),
        (0.5, 0.2, -3.0, -0.5),
        (4.0, 1.5, -1.0, -2.0),
    ] {
        let first = 7.0;
        let curve = [
            (first, 20.0),
            (first + h0, 20.0 + h0 * d0),
            (first + h0 + h1, 20.0 + h0 * d0 + h1 * d1),
        ];
        let inner = 3.0 * (h0 + h1) / ((2.0 * h1 + h0) / d0 + (h1 + 2.0 * h0) / d1);
        for d in [-1e-7, 1e-7] {
            close("inner", slope(&curve, first + h0, d), inner, 1e-5);
        }
        // Beyond the ends: end slope and a square term, the chord's.
        let square = (h0 * d0 + h1 * d1).abs() / (h0 + h1).powi(2);
        let before = slope(&curve, first, -1e-7);
        close(
            "before",
            interpolate_curve(&curve, first - 2.0),
            20.0 - 2.0 * before + 4.0 * square,
            1e-5,
        );
    }
    // The end slope of three points, where the parabola through them falls too steeply or rises.
    let steep = [(0.0, 10.0), (2.0, 6.0), (4.0, 30.0)];
    close("limited", slope(&steep, 0.0, 1e-7), -6.0, 1e-5);
    let mirrored = [(0.0, 30.0), (2.0, 6.0), (4.0, 10.0)];
    close("limited", slope(&mirrored, 4.0, -1e-7), 6.0, 1e-5);
}
