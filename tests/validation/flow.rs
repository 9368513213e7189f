//! Friction of tubes and coils; loops that their own buoyancy drives.

use super::check::{Check, Source};
use crate::support::loops::{G, loop_balance, steady_flow};
use emberloop::correlations::friction::{critical_re_helix, f_darcy_helix, f_darcy_pipe};
use emberloop::properties::water::Water;
use std::f64::consts::PI;

const COLEBROOK: Source = Source::published(
    "Colebrook 1939",
    "fluids 1.3.1; ours is Churchill's fit of it, stated 0.5 % above Re 4000",
);
const CHURCHILL: Source = Source::published("Churchill 1977", "fluids 1.3.1");
const WHITE: Source = Source::published(
    "White 1929",
    "fluids 1.3.1; ours is Mishra & Gupta 1979 (from memory)",
);
const MORI_LAMINAR: Source = Source::published(
    "Mori & Nakayama 1964",
    "fluids 1.3.1; ours is Mishra & Gupta 1979 (from memory)",
);
const MORI: Source = Source::published(
    "Mori & Nakayama 1967",
    "fluids 1.3.1; ours is Mishra & Gupta 1979; the two sources leave 8 %",
);
const MANDAL: Source = Source::published(
    "Mandal & Nigam 2009",
    "fluids 1.3.1; ours is Mishra & Gupta 1979; the two sources leave 8 %",
);
const CRITICAL: Source = Source::published("Schmidt 1967", "fluids 1.3.1, d/D 1/7");
const CRITERIA: Source = Source::published(
    "Ito 1959; Seth & Stahel 1969",
    "fluids 1.3.1, d/D 1/7; ours is Schmidt 1967; published criteria differ by 40 %",
);
const ROOTS: Source = Source::analytic(
    "momentum balance of a rectangular loop",
    "exact root (brentq), CoolProp 8.0.0 at 3 bar, fluids 1.3.1 smooth pipe",
);
const VIJAYAN: Source = Source::published(
    "Vijayan & Austregesilo 1994, NED 152:331",
    "Re = C (Gr/N)^r; constants from memory, re-derived",
);

pub fn rows() -> Vec<Check> {
    let mut rows = vec![
        COLEBROOK.relative(
            "pipe, Re 1e5, e/D 1e-4",
            "f",
            0.0185139,
            f_darcy_pipe(1e5, 1e-4),
            0.005,
        ),
        CHURCHILL.relative(
            "pipe, Re 1e5, e/D 1e-4",
            "f",
            0.0184626,
            f_darcy_pipe(1e5, 1e-4),
            1e-3,
        ),
        CHURCHILL.relative(
            "pipe, Re 3000, smooth (transition)",
            "f",
            0.042974656,
            f_darcy_pipe(3000.0, 0.0),
            1e-3,
        ),
        CHURCHILL.relative(
            "pipe, Re 1e5, e/D 0.01",
            "f",
            0.038733558,
            f_darcy_pipe(1e5, 1e-2),
            1e-3,
        ),
    ];
    // Colebrook's figures of the same library, rough and smooth.
    for (re, e, f) in [
        (6000.0, 0.01, 0.04596389),
        (2e4, 0.01, 0.04070545),
        (1e5, 0.01, 0.03850354),
    ] {
        rows.push(
            Source::published(
                "Colebrook 1939",
                "fluids 1.3.1 (Clamond); ours is Churchill's fit of it; Moody 1944 states ± 10 % for rough pipe (from memory)",
            )
            .relative(
                format!("pipe, Re {re:.0}, e/D {e}"),
                "f",
                f,
                f_darcy_pipe(re, e),
                0.10,
            ),
        );
    }
    for (re, r, white, mori) in [
        (250.0, 0.2, 0.406328, 0.422246),
        (1000.0, 0.05, 0.1295289, 0.1320945),
        (3000.0, 0.11, 0.07748997, 0.08103276),
    ] {
        let f = f_darcy_helix(re, r, 0.0);
        let case = format!("coil, laminar, Re {re:.0}, d/D {r}");
        // White's figures are data within 2 %; Mori and Nakayama's theory lies up to 8 % above them.
        rows.push(WHITE.relative(case.clone(), "f", white, f, 0.02));
        rows.push(MORI_LAMINAR.relative(case, "f", mori, f, 0.08));
    }
    for (re, r, mori, mandal) in [
        (1e4, 0.05, 0.037312, 0.038317),
        (2e4, 0.11, 0.0344339, 0.0342392),
        (5e4, 0.11, 0.0284951, 0.0295292),
    ] {
        let f = f_darcy_helix(re, r, 0.0);
        let case = format!("coil, turbulent, Re {re:.0}, d/D {r}");
        rows.push(MORI.relative(case.clone(), "f", mori, f, 0.10));
        rows.push(MANDAL.relative(case, "f", mandal, f, 0.08));
    }
    let critical = critical_re_helix(1.0 / 7.0);
    rows.push(CRITICAL.relative(
        "critical Reynolds number of a coil",
        "",
        10540.1,
        critical,
        1e-3,
    ));
    for (who, re) in [("Ito", 10730.0), ("Seth & Stahel", 7645.1)] {
        rows.push(CRITERIA.relative(
            format!("critical Reynolds number of a coil, against {who}"),
            "",
            re,
            critical,
            0.4,
        ));
    }
    rows.extend(roots());
    rows.extend(generalised());
    rows
}

/// Rows whose two Reynolds numbers lie away from the reference's jump at 2040, and one that does not.
fn roots() -> Vec<Check> {
    let mut rows = Vec::new();
    for (d, h, l, k, tc, q, w, th) in [
        (0.02, 1.0, 6.0, 8.0, 10.0, 500.0, 0.009546084, 22.5094),
        (0.02, 1.0, 6.0, 8.0, 10.0, 2000.0, 0.02062646, 33.17581),
        (0.02, 0.5, 6.0, 8.0, 10.0, 1000.0, 0.01102691, 31.67407),
        (0.02, 1.0, 6.0, 8.0, 40.0, 10000.0, 0.05094278, 86.87718),
        (0.026, 1.0, 6.0, 8.0, 40.0, 20000.0, 0.09741705, 89.01957),
        (0.02, 1.0, 14.0, 20.0, 40.0, 7000.0, 0.03320845, 90.32458),
        (0.02, 1.0, 6.0, 8.0, 10.0, 7000.0, 0.03750855, 54.62669),
    ] {
        let (got_w, got_k) = steady_flow(d, h, l, k, tc + 273.15, q);
        let case = format!(
            "{:.0} mm, {h} m high, {l} m long, K {k}, cold {tc} °C, {q:.0} W",
            1e3 * d
        );
        rows.push(ROOTS.relative(format!("flow: {case}"), "kg/s", w, got_w, 0.02));
        rows.push(ROOTS.relative(
            format!("rise: {case}"),
            "K",
            th - tc,
            got_k - 273.15 - tc,
            0.02,
        ));
    }
    rows
}

/// Small spans, so that properties are those of 50 °C; heater and cooler as points.
fn generalised() -> Vec<Check> {
    let water = Water::shared();
    let t0 = 323.15;
    let p = water.liquid(t0);
    let beta = -(water.rho_kg_m3(t0 + 1.0) - water.rho_kg_m3(t0 - 1.0)) / (2.0 * p.rho_kg_m3);
    let mut rows = Vec::new();
    for (name, d, h, l, q, c, r) in [
        ("laminar, r 0.5", 0.02, 1.0, 12.0, 4.0, 0.176777, 0.5),
        (
            "turbulent, r 0.3636",
            0.1,
            1.0,
            12.0,
            1500.0,
            1.95613,
            1.0 / 2.75,
        ),
    ] {
        let span = |w: f64| q / (w * p.cp_j_kgk);
        let (mut lo, mut hi) = (1e-5f64, 50.0f64);
        for _ in 0..100 {
            let w = (lo * hi).sqrt();
            let dt = span(w);
            let (drive, loss) = loop_balance(d, h, l, 0.0, t0 - 0.5 * dt, t0 + 0.5 * dt, w);
            if drive > loss {
                lo = w;
            } else {
                hi = w;
            }
        }
        let w = (lo * hi).sqrt();
        let area = PI / 4.0 * d * d;
        let re = w * d / (area * p.mu_pa_s);
        let grashof = d.powi(3) * p.rho_kg_m3.powi(2) * beta * G * q * h
            / (area * p.mu_pa_s.powi(3) * p.cp_j_kgk);
        // The turbulent constant stands for Blasius' friction, ours is Churchill's.
        rows.push(VIJAYAN.relative(
            format!("constant of natural circulation, {name}"),
            "C",
            c,
            re / (grashof * d / l).powf(r),
            0.03,
        ));
    }
    rows
}
