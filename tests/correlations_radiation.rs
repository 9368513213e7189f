//! Gas, wall and sky radiation against check values and an independent model.

use emberloop::correlations::radiation::{
    STEFAN_BOLTZMANN, WsggWeights, cloudy_sky_emissivity, grey_gas_to_wall, grey_gas_to_wall_w_m2,
    grey_wall_factor, leckner_emissivity, linearised_h_w_m2k, mean_beam_length, sky_emissivity,
    sky_temperature_k, two_surface_factor, wsgg_emissivity,
};

fn assert_close(what: &str, got: f64, expected: f64, rel: f64) {
    assert!(
        (got / expected - 1.0).abs() <= rel,
        "{what}: {got} against {expected}, allowed {rel}"
    );
}

const ATM_PER_BAR: f64 = 1.0 / 1.01325;

/// Smith, Shen and Friedman 1982, table 1, p_H2O/p_CO2 = 1, evaluated independently (closed form, numpy): T, L at
/// p_H2O + p_CO2 = 0.2 atm; then at 0.07 bar each, L 0.1 m, through another hand-coded copy of the table.
#[test]
fn published_wsgg_matches_table_e_and_check_values() {
    for (t, l, e) in [
        (800.0, 0.1, 0.108_314),
        (800.0, 0.3, 0.164_392),
        (1000.0, 0.1, 0.090_386_5),
        (1000.0, 0.3, 0.146_411),
        (1200.0, 0.1, 0.074_432),
        (1200.0, 0.3, 0.128_576),
    ] {
        assert_close("eps", wsgg_emissivity(t, 0.1, 0.1, l), e, 1e-5);
    }
    let p = 0.07 * ATM_PER_BAR;
    for (t, e) in [
        (500.0, 0.123_833_5),
        (1000.0, 0.077_311_86),
        (1600.0, 0.039_038_96),
    ] {
        assert_close("eps", wsgg_emissivity(t, p, p, 0.1), e, 1e-4);
    }
}

/// Leckner 1972 with pressure and overlap corrections, through another hand-coded copy: 0.07 bar each, 1.013 bar in all.
#[test]
fn published_leckner_matches_table_e() {
    for (t, l, e) in [
        (500.0, 0.03, 0.046_251_17),
        (800.0, 0.05, 0.055_070_69),
        (1000.0, 0.1, 0.072_362_54),
        (1600.0, 0.1, 0.041_750_59),
        (1000.0, 0.2, 0.104_466_5),
    ] {
        assert_close(
            "eps",
            leckner_emissivity(t, 0.07, 0.07, 1.01325, l),
            e,
            0.01,
        );
    }
}

/// The two models at flue-gas conditions: the known width is -7 to +29 %, worst for cool thin gas.
#[test]
fn published_wsgg_and_leckner_agree_within_their_known_width() {
    for t in [800.0, 1000.0, 1200.0, 1400.0] {
        for l in [0.1, 0.2] {
            for (w, c) in [(0.07, 0.07), (0.12, 0.08), (0.10, 0.05)] {
                let a = wsgg_emissivity(t, w * ATM_PER_BAR, c * ATM_PER_BAR, l);
                let b = leckner_emissivity(t, w, c, 1.01325, l);
                let r = a / b - 1.0;
                assert!((-0.12..0.30).contains(&r), "{t} K, {l} m, {w}/{c} bar: {r}");
            }
        }
    }
}

#[test]
fn identity_wsgg_lies_between_its_tables() {
    let p = 0.2;
    let at = |y: f64, t: f64| wsgg_emissivity(t, p * y, p * (1.0 - y), 0.2);
    for t in [600.0, 1000.0, 1500.0] {
        for (lo, hi) in [(0.0, 0.5), (0.5, 2.0 / 3.0), (2.0 / 3.0, 1.0)] {
            let (a, b) = (at(lo, t), at(hi, t));
            for i in 1..10 {
                let e = at(lo + (hi - lo) * f64::from(i) / 10.0, t);
                // Not exactly convex, since the absorption coefficients move too: 5 % beyond an end is allowed.
                assert!(
                    e > 0.95 * a.min(b) && e < 1.05 * a.max(b),
                    "{t} K: {e} {a} {b}"
                );
            }
        }
        // No jump at a table.
        for y in [0.5, 2.0 / 3.0] {
            assert_close("table", at(y - 1e-9, t), at(y + 1e-9, t), 1e-6);
        }
    }
}

#[test]
fn identity_emissivity_stays_between_zero_and_one() {
    let g = WsggWeights::new(0.12, 0.1);
    let mut last = 0.0;
    for i in 0..200 {
        let l = 0.001 * 1.1f64.powi(i);
        let e = g.emissivity(900.0, l);
        assert!(e >= last, "falling with the path: {e}");
        assert!((0.0..=1.0).contains(&e));
        last = e;
    }
    for t in [200.0, 300.0, 500.0, 2400.0, 5000.0] {
        let e = g.emissivity(t, 1e6);
        assert!((0.0..=1.0).contains(&e), "weights add to {e} at {t} K");
    }
    assert_eq!(wsgg_emissivity(1000.0, 0.0, 0.0, 1.0), 0.0);
    assert_eq!(leckner_emissivity(1000.0, 0.0, 0.0, 1.0, 1.0), 0.0);
}

#[test]
fn analytic_soot_adds_as_a_grey_gas_in_series() {
    // The layer's exponential is good to 2e-11.
    let clear = WsggWeights::new(0.0, 0.0).over(0.2);
    assert_close(
        "soot alone",
        clear.emissivity_with_soot(1200.0, 2.0),
        1.0 - f64::exp(-0.4),
        1e-10,
    );
    let g = WsggWeights::new(0.1, 0.1).over(0.2);
    let (e, s) = (g.emissivity(1200.0), 1.0 - f64::exp(-0.4));
    assert_close(
        "both",
        g.emissivity_with_soot(1200.0, 2.0),
        e + s - e * s,
        1e-10,
    );
}

/// Gas as hot as its wall exchanges nothing, whatever the emissivities (second law).
#[test]
fn identity_gas_and_wall_at_one_temperature_exchange_nothing() {
    let g = WsggWeights::new(0.1, 0.1);
    let t = 900.0;
    let (e, a) = (g.emissivity(t, 0.15), g.absorptivity(t, t, 0.15));
    assert!(grey_gas_to_wall_w_m2(e, a, t, t, 0.8).abs() < 1e-9);
    assert!(grey_gas_to_wall_w_m2(e, g.absorptivity(t, 400.0, 0.15), t, 400.0, 0.8) > 0.0);
}

#[test]
fn analytic_enclosure_limits() {
    assert_close("black wall", grey_gas_to_wall(0.2, 1.0), 0.2, 1e-12);
    assert_eq!(grey_gas_to_wall(0.0, 0.8), 0.0);
    assert_close("opaque gas", grey_wall_factor(1.0, 0.7), 0.7, 1e-12);
    assert_close(
        "plates",
        two_surface_factor(0.8, 0.8, 1.0),
        1.0 / 1.5,
        1e-12,
    );
    assert_close(
        "small in large",
        two_surface_factor(0.8, 0.3, 0.0),
        0.8,
        1e-12,
    );
    let (t1, t2) = (350.0f64, 300.0f64);
    assert_close(
        "linear",
        linearised_h_w_m2k(0.9, t1, t2) * (t1 - t2),
        0.9 * STEFAN_BOLTZMANN * (t1.powi(4) - t2.powi(4)),
        1e-12,
    );
}

/// Bergman et al., 6th ed., table 13.4: sphere 0.65 D, long cylinder 0.95 D, slab 1.8 L; 3.6 V/A gives 0.60, 0.90, 1.8.
#[test]
fn published_mean_beam_lengths() {
    let pi = std::f64::consts::PI;
    assert_close("slab", mean_beam_length(1.0, 2.0), 1.8, 1e-12);
    assert_close("cylinder", mean_beam_length(pi / 4.0, pi), 0.95, 0.06);
    assert_close("sphere", mean_beam_length(pi / 6.0, pi), 0.65, 0.08);
}

/// Berdahl and Martin 1984 (from memory): 0.711 at a dew point of 0 °C, 0.774 at 10 °C.
#[test]
fn published_clear_sky_emissivity() {
    assert_close("0 C", sky_emissivity(273.15), 0.711, 1e-12);
    assert_close("10 C", sky_emissivity(283.15), 0.7743, 1e-12);
    assert!(sky_emissivity(200.0) >= 0.6 && sky_emissivity(400.0) <= 1.0);
    let e = sky_emissivity(278.15);
    assert_close("clear", cloudy_sky_emissivity(e, 0.0), e, 1e-12);
    assert!(cloudy_sky_emissivity(e, 1.0) > 0.95 && cloudy_sky_emissivity(e, 1.0) < 1.0);
    let t = sky_temperature_k(e, 283.15);
    assert!(t > 255.0 && t < 283.15, "sky at {t} K");
}

/// Share between a gas and its grey wall by multiple reflection: ε Σ (1−ε)ⁿ (1−α)ⁿ = ε/(α + ε − α ε).
#[test]
fn analytic_grey_wall_by_multiple_reflection() {
    for (alpha, eps) in [(0.1, 0.8), (0.3, 0.6), (0.6, 0.3)] {
        let (mut share, mut left) = (0.0, eps);
        for _ in 0..500 {
            share += left;
            left *= (1.0 - eps) * (1.0 - alpha);
        }
        assert_close("share", grey_wall_factor(alpha, eps), share, 1e-9);
    }
}

/// Hottel (McAdams, Heat Transmission, 3rd ed., ch. 4): α = ε(T_w, p L T_w/T_g) (T_g/T_w)^½; at equal temperatures Kirchhoff's.
#[test]
fn published_absorptivity_by_hottels_scaling() {
    let gas = WsggWeights::new(0.09, 0.13);
    for (t_gas_k, t_wall_k) in [(1200.0f64, 500.0f64), (700.0, 1100.0), (900.0, 900.0)] {
        let seen = gas.emissivity(t_wall_k, 0.4 * t_wall_k / t_gas_k);
        let expected = seen * (t_gas_k / t_wall_k).sqrt();
        assert_close(
            "alpha",
            gas.absorptivity(t_gas_k, t_wall_k, 0.4),
            expected,
            1e-12,
        );
    }
    assert_eq!(WsggWeights::new(-0.1, 0.1), WsggWeights::new(0.0, 0.1));
    assert_eq!(WsggWeights::new(0.1, -0.1), WsggWeights::new(0.1, 0.0));
    for (beyond, end) in [(100.0, 250.0), (4000.0, 2400.0)] {
        assert_eq!(gas.emissivity(beyond, 0.3), gas.emissivity(end, 0.3));
    }
    assert!(gas.emissivity(260.0, 0.3) != gas.emissivity(250.0, 0.3));
    assert!(gas.emissivity(2500.0, 0.3) != gas.emissivity(2300.0, 0.3));
}

/// Leckner 1972 as printed (Modest, 3rd ed., eqs. 11.177-11.181 and table 11.4, from memory), powers of log10(p L) in bar cm and of
/// T/1000 K: each gas alone, both, thin and thick, cold and hot, at other total pressures.
#[test]
fn published_leckner_as_printed() {
    let series = |c: &[&[f64]], t: f64, pl: f64| {
        let mut sum = 0.0;
        for (i, row) in c.iter().enumerate() {
            for (j, c) in row.iter().enumerate() {
                sum += c * t.powi(j as i32) * pl.log10().powi(i as i32);
            }
        }
        sum.exp()
    };
    let water: [&[f64]; 3] = [
        &[-2.2118, -1.1987, 0.035596],
        &[0.85667, 0.93048, -0.14391],
        &[-0.10838, -0.17156, 0.045915],
    ];
    let dioxide: [&[f64]; 3] = [
        &[-3.9893, 2.7669, -2.1081, 0.39163],
        &[1.2710, -1.1090, 1.0195, -0.21897],
        &[-0.23678, 0.19731, -0.19544, 0.044644],
    ];
    let ratio = |pe: f64, a: f64, b: f64, c: f64, pl_m: f64, pl: f64| {
        1.0 - (a - 1.0) * (1.0 - pe) / (a + b - 1.0 + pe) * (-c * (pl_m / pl).log10().powi(2)).exp()
    };
    for t_k in [500.0f64, 690.0, 720.0, 740.0, 760.0, 1100.0, 1700.0] {
        let t = t_k / 1000.0;
        for (pw, pc) in [(0.1, 0.0), (0.0, 0.12), (0.12, 0.1), (0.05, 0.15)] {
            for (p, l) in [(1.01325, 0.05), (1.01325, 1.5), (2.5, 0.3), (0.7, 0.3)] {
                let (w, c): (f64, f64) = (100.0 * pw * l, 100.0 * pc * l);
                let mut sum = 0.0;
                if w > 0.0 {
                    let a = if t < 0.75 {
                        2.144
                    } else {
                        1.888 - 2.053 * t.log10()
                    };
                    let (pe, b) = (p + 2.56 * pw / t.sqrt(), 1.1 * t.powf(-1.4));
                    sum += series(&water, t, w) * ratio(pe, a, b, 0.5, 13.2 * t * t, w);
                }
                if c > 0.0 {
                    let pl_m = if t < 0.7 {
                        0.054 / (t * t)
                    } else {
                        0.225 * t * t
                    };
                    let a = 1.0 + 0.1 * t.powf(-1.45);
                    sum += series(&dioxide, t, c) * ratio(p + 0.28 * pc, a, 0.23, 1.47, pl_m, c);
                }
                if w > 0.0 && c > 0.0 && w + c > 1.0 {
                    let z = w / (w + c);
                    sum -= (z / (10.7 + 101.0 * z) - 0.0089 * z.powf(10.4))
                        * (w + c).log10().powf(2.76);
                }
                assert_close("eps", leckner_emissivity(t_k, pw, pc, p, l), sum, 1e-9);
            }
        }
    }
    assert_eq!(
        leckner_emissivity(100.0, 0.1, 0.1, 1.0, 0.3),
        leckner_emissivity(300.0, 0.1, 0.1, 1.0, 0.3)
    );
    assert_eq!(leckner_emissivity(900.0, 0.0, 0.0, 1.0, 0.3), 0.0);
}

/// Unsworth & Monteith 1975: ε + 0.84 C (1 - ε); a black sky radiates ε σ T⁴.
#[test]
fn published_cloudy_sky_written_out() {
    for (clear, cover) in [(0.7, 0.3), (0.8, 0.9)] {
        assert_close(
            "cloudy",
            cloudy_sky_emissivity(clear, cover),
            clear + 0.84 * cover * (1.0 - clear),
            1e-12,
        );
    }
    assert_eq!(
        cloudy_sky_emissivity(0.7, -1.0),
        cloudy_sky_emissivity(0.7, 0.0)
    );
    assert_eq!(
        cloudy_sky_emissivity(0.7, 2.0),
        cloudy_sky_emissivity(0.7, 1.0)
    );
    let t = sky_temperature_k(0.8, 283.15);
    assert_close("sky", t.powi(4), 0.8 * 283.15f64.powi(4), 1e-12);
}

/// VDI Heat Atlas, K3 (from memory): ε_w σ (ε_g T_g⁴ - α T_w⁴)/(α + ε_w - α ε_w), and with α = ε_g its effective emissivity.
#[test]
fn published_gas_to_grey_wall_written_out() {
    for (eps, alpha, t_gas, t_wall, wall) in [
        (0.15, 0.2, 1100.0f64, 400.0f64, 0.8),
        (0.3, 0.25, 700.0, 900.0, 0.6),
    ] {
        let flux = wall * 5.670_374_419e-8 * (eps * t_gas.powi(4) - alpha * t_wall.powi(4))
            / (alpha + wall - alpha * wall);
        assert_close(
            "flux",
            grey_gas_to_wall_w_m2(eps, alpha, t_gas, t_wall, wall),
            flux,
            1e-12,
        );
        assert_close(
            "share",
            grey_gas_to_wall(eps, wall),
            1.0 / (1.0 / eps + 1.0 / wall - 1.0),
            1e-12,
        );
    }
}
