//! A bare thermometer among walls of another temperature than its gas.

use emberloop::components::thermometer::{Passing, Thermometer, balanced_k, disc_share};
use emberloop::properties::gas::GasMix;

const SIGMA: f64 = 5.670_374e-8;

fn close(what: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

fn sheath(mm: f64, emissivity: f64) -> Thermometer {
    Thermometer {
        sheath_m: mm * 1e-3,
        emissivity,
        from_coil_m: 0.05,
    }
}

/// J. P. Holman, Heat Transfer, ch. 8, thermometer in a metal building: 20 °C shown, ε 0.9, walls at 5 °C, h 8.3 W/m²K; the air has 28.6 °C
/// (from memory, 10th ed.).
#[test]
fn published_a_thermometer_among_colder_walls_shows_holmans_reading() {
    let shown = balanced_k(273.15 + 28.6, 278.15f64.powi(4), 0.9 * SIGMA / 8.3);
    close("shown", shown - 273.15, 20.0, 0.01);
}

/// Between both ends it obeys its balance, whichever of them is the hotter.
#[test]
fn analytic_the_balance_closes_from_either_side() {
    for (gas, seen) in [
        (1300.0, 400.0),
        (400.0, 1300.0),
        (300.0, 300.0),
        (1000.0f64, 0.0f64),
    ] {
        for per_h in [1e-14, 5e-10, 1e-8] {
            let t = balanced_k(gas, seen.powi(4), per_h);
            let off = gas - t + per_h * (seen.powi(4) - t.powi(4));
            assert!(
                off.abs() < 1e-6 * (gas + seen),
                "{gas} {seen} {per_h}: {off}"
            );
            assert!(
                t <= gas.max(seen) + 1e-9 && t >= gas.min(seen) - 1e-9,
                "{t}"
            );
        }
    }
}

/// Churchill and Bernstein's cylinder in air at its film temperature: air at 600 K has μ 305.8e-7 Pa s, k 46.9e-3 W/mK, Pr 0.685, ρ 0.5804 kg/m³
/// (Bergman et al., 7th ed., table A.4).
#[test]
fn published_the_film_is_that_of_a_cylinder_across_the_stream() {
    let air = GasMix::dry_air();
    let gas = Passing {
        mix: air,
        pressure_pa: 101_325.0,
        temperature_k: 700.0,
        velocity_m_s: -3.0,
    };
    let (mu, k, pr, rho) = (305.8e-7, 46.9e-3, 0.685f64, 0.5804);
    let re: f64 = rho * 3.0 * 0.003 / mu;
    let nu = 0.3
        + 0.62 * re.sqrt() * pr.cbrt() / (1.0 + (0.4 / pr).powf(2.0 / 3.0)).powf(0.25)
            * (1.0 + (re / 282e3).powf(0.625)).powf(0.8);
    close(
        "film",
        sheath(3.0, 0.8).film_w_m2k(&gas, 500.0),
        nu * k / 0.003,
        0.015,
    );
}

/// What it shows obeys the balance with the film at what it shows.
#[test]
fn identity_the_reading_obeys_its_own_balance() {
    let air = GasMix::dry_air();
    for (velocity_m_s, gas_k, seen_k) in [
        (0.0, 600.0, 400.0),
        (2.0, 1200.0, 700.0),
        (3.0, 500.0, 900.0),
    ] {
        let gas = Passing {
            mix: air,
            pressure_pa: 95e3,
            temperature_k: gas_k,
            velocity_m_s,
        };
        let t = sheath(3.0, 0.8);
        let shown = t.shown_k(&gas, seen_k);
        let h = t.film_w_m2k(&gas, shown);
        let (by_gas, by_walls) = (
            h * (gas_k - shown),
            0.8 * SIGMA * (seen_k.powi(4) - shown.powi(4)),
        );
        assert!(
            (by_gas + by_walls).abs() < 0.01 * by_gas.abs(),
            "{by_gas} {by_walls}"
        );
    }
}

/// Thin, bright or fast gas brings it nearer to the gas (handbooks; the reason for fine wires and shields).
#[test]
fn practice_thin_and_bright_thermometers_come_nearer_to_the_gas() {
    let air = GasMix::dry_air();
    let shown = |mm: f64, eps: f64, v: f64| {
        let gas = Passing {
            mix: air,
            pressure_pa: 101_325.0,
            temperature_k: 1000.0,
            velocity_m_s: v,
        };
        sheath(mm, eps).shown_k(&gas, 600.0)
    };
    let usual = shown(3.0, 0.8, 2.0);
    assert!(usual < 960.0 && usual > 700.0, "{usual}");
    assert!(shown(1.0, 0.8, 2.0) > usual + 20.0);
    assert!(shown(3.0, 0.3, 2.0) > usual + 20.0);
    assert!(shown(3.0, 0.8, 8.0) > usual + 20.0);
    assert!(shown(3.0, 0.02, 2.0) > 985.0);
}

/// Solid angle of a disc from a point on its axis over the sphere: half when touched, (1 − cos 45°)/2 a radius away, R²/4x² from afar.
#[test]
fn analytic_a_disc_takes_its_solid_angle_of_the_view() {
    close("touched", disc_share(0.0, 0.075), 0.5, 1e-12);
    close("a radius away", disc_share(0.1, 0.1), 0.146_446_609, 1e-8);
    close(
        "far",
        disc_share(5.0, 0.05),
        0.05f64.powi(2) / (4.0 * 25.0),
        1e-3,
    );
}
