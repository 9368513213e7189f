//! Hand formulas of hazards against their standards written out in the standards' own units, and closed solutions.

use emberloop::correlations::hazard::*;
use std::f64::consts::PI;

fn close(what: &str, got: f64, expected: f64, relative: f64) {
    assert!(
        (got - expected).abs() <= relative * expected.abs(),
        "{what}: {got} for {expected}"
    );
}

/// 22 x 20 mm copper (EN 1057).
const TUBE: TubeWall = TubeWall {
    outside_m: 0.022,
    inside_m: 0.020,
    young_pa: 117e9,
    poisson: 0.34,
    expansion_per_k: 17e-6,
};

/// Kell 1975 as in the Handbook of Chemistry and Physics, 1e-11/Pa (from memory), four figures, and held beyond 250 °C.
#[test]
fn published_compressibility_of_water_by_kells_polynomial() {
    for (t, expected) in [
        (0.0, 50.88),
        (10.0, 47.81),
        (20.0, 45.89),
        (25.0, 45.25),
        (45.0, 44.14),
        (100.0, 49.02),
    ] {
        close(
            "1e-11/Pa",
            1e11 * water_compressibility_per_pa(t),
            expected,
            5e-4,
        );
    }
    assert_eq!(
        water_compressibility_per_pa(-20.0),
        water_compressibility_per_pa(0.0)
    );
    assert_eq!(
        water_compressibility_per_pa(400.0),
        water_compressibility_per_pa(250.0)
    );
    // IAPWS-95 at 200 °C and 1.6 MPa: 88e-11/Pa (from memory).
    close(
        "200 °C",
        1e11 * water_compressibility_per_pa(200.0),
        88.0,
        0.06,
    );
}

/// Lamé's displacement of the bore under inner pressure with closed ends: du/dp = r/E [(1 - 2ν) + (1 + ν) K²]/(K² - 1) across,
/// the strain along (1 - 2ν)/(E (K² - 1)); volume grows by twice the one over r and the other.
#[test]
fn analytic_bore_grows_as_lame_has_it() {
    for (outside_m, inside_m) in [(0.022, 0.020), (0.0159, 0.0138), (0.04, 0.02)] {
        let tube = TubeWall {
            outside_m,
            inside_m,
            ..TUBE
        };
        let (k, nu): (f64, f64) = (outside_m / inside_m, 0.34);
        let across = ((1.0 - 2.0 * nu) + (1.0 + nu) * k * k) / (117e9 * (k * k - 1.0));
        let along = (1.0 - 2.0 * nu) / (117e9 * (k * k - 1.0));
        close(
            "stretch",
            tube.stretch_per_pa(),
            2.0 * across + along,
            1e-12,
        );
    }
    // Thin: D/(t E) (5/4 - ν), mean diameter.
    let thin = TubeWall {
        outside_m: 1.001,
        inside_m: 0.999,
        ..TUBE
    };
    close(
        "thin",
        thin.stretch_per_pa(),
        1.0 / (1e-3 * 117e9) * (1.25 - 0.34),
        3e-3,
    );
}

/// A cylinder's wall: force balance of the half tube for Barlow's mean diameter, p (D - t) = 2 S t; Lamé's stress at the bore
/// p (K² + 1)/(K² - 1); ASME B31's p (D - 0.8 t) = 2 S t.
#[test]
fn published_pressures_of_a_tube_wall() {
    for (outside_m, inside_m) in [(0.022, 0.020), (0.0159, 0.0138), (0.04, 0.02)] {
        let tube = TubeWall {
            outside_m,
            inside_m,
            ..TUBE
        };
        let t = 0.5 * (outside_m - inside_m);
        let k = outside_m / inside_m;
        close(
            "Barlow",
            tube.barlow_pa(60e6) * (outside_m - t),
            2.0 * 60e6 * t,
            1e-12,
        );
        close(
            "Lamé",
            tube.lame_pa(60e6) * (k * k + 1.0) / (k * k - 1.0),
            60e6,
            1e-12,
        );
        close(
            "rated",
            tube.rated_pa(60e6) * (outside_m - 0.8 * t),
            2.0 * 60e6 * t,
            1e-12,
        );
    }
}

/// Volumes stay equal: water grows by β ΔT - κ Δp, the bore by 3 α ΔT + stretch Δp.
#[test]
fn identity_trapped_water_fills_its_bore() {
    for (water_k, metal_k) in [(1.0, 1.0), (10.0, 4.0), (0.0, 5.0), (-3.0, 2.0)] {
        let (beta, kappa) = (5.2e-4, 4.45e-10);
        let rise = trapped_rise_pa(&TUBE, beta, kappa, water_k, metal_k);
        let water = beta * water_k - kappa * rise;
        let bore = 3.0 * 17e-6 * metal_k + TUBE.stretch_per_pa() * rise;
        assert!((water - bore).abs() < 1e-15, "{water} in {bore}");
    }
}

/// Napier: W = 51.5 A P K_d, lb/h, in², psia (API 520-1): 3/4 in valve of 0.196 in² at 60 psia, K_d 0.975: 590.5 lb/h.
#[test]
fn published_napier_in_its_own_units() {
    let kg_h = napier_kg_h(0.196 * 0.0254 * 0.0254, 60.0 * 6894.757, 0.975);
    close(
        "lb/h",
        kg_h / 0.453_592_37,
        51.5 * 0.196 * 60.0 * 0.975,
        1e-9,
    );
    // The metric form, 5.25 A P K_d with mm² and MPa.
    close(
        "kg/h",
        napier_kg_h(1e-4, 0.4e6, 0.7),
        5.25 * 100.0 * 0.4 * 0.7,
        2e-3,
    );
}

/// EN ISO 4126-1, clause 8, in its own units (from memory): C is 2.51 at k = 1.14 in the standard's table, and
/// below the critical ratio the flow of a nozzle by its enthalpy (St Venant & Wantzel).
#[test]
fn published_steam_through_a_nozzle() {
    let k: f64 = 1.135;
    let (p, v) = (3e5, 0.6058);
    let free = steam_flow_kg_h(1e-4, p, v, 1e5, 0.7);
    let c = free / (0.2883 * 100.0 * 0.7 * (3.0f64 / v).sqrt());
    close("C", c, 2.51, 3e-3);
    // St Venant: G² = 2 k/(k - 1) p/v (r^(2/k) - r^((k+1)/k)), largest at the critical ratio 0.577.
    let nozzle = |r: f64| {
        3600.0
            * 0.7e-4
            * (2.0 * k / (k - 1.0) * p / v * (r.powf(2.0 / k) - r.powf((k + 1.0) / k))).sqrt()
    };
    for r in [0.6, 0.75, 0.9, 0.98] {
        close(
            "subcritical",
            steam_flow_kg_h(1e-4, p, v, r * p, 0.7),
            nozzle(r),
            1e-3,
        );
    }
    let critical = (2.0 / (k + 1.0)).powf(k / (k - 1.0));
    close("critical", critical, 0.577, 1e-3);
    close("choked", free, nozzle(critical), 1e-3);
    for r in [0.0, 0.2, 0.5, 0.576] {
        assert_eq!(steam_flow_kg_h(1e-4, p, v, r * p, 0.7), free);
    }
    assert_eq!(steam_flow_kg_h(1e-4, p, v, 1.3 * p, 0.7), 0.0);
}

/// EN ISO 4126-1: Q_m = 1.61 A K_dr √(Δp/v), mm², bar, m³/kg (from memory), which is Torricelli's.
#[test]
fn published_water_through_a_nozzle_in_its_own_units() {
    let (bar, v): (f64, f64) = (2.5, 1.001e-3);
    let ours = water_flow_kg_h(1e-4, 1e5 * (bar + 1.0), 1.0 / v, 1e5, 0.65);
    close("kg/h", ours, 1.61 * 100.0 * 0.65 * (bar / v).sqrt(), 2e-3);
    assert_eq!(water_flow_kg_h(1e-4, 1e5, 998.0, 2e5, 0.65), 0.0);
}

/// Heat balances by hand, in joules and seconds.
#[test]
fn analytic_heat_balances_of_boiling_and_dry_coils() {
    // 10 kW over 2257 kJ/kg for an hour.
    close("steam", steam_kg_h(10e3, 2257e3), 15.9504, 1e-5);
    // A hundred kilograms 50 kJ/kg over boiling give 2.2 kg; no more than there is, none below boiling.
    close("burst", burst_steam_kg(100.0, 50e3, 2257e3), 2.215_33, 1e-5);
    assert_eq!(burst_steam_kg(100.0, 5e6, 2257e3), 100.0);
    assert_eq!(burst_steam_kg(100.0, -5e3, 2257e3), 0.0);
    close("bore", PI / 4.0 * bore_m(3e-4).powi(2), 3e-4, 1e-12);
    let seconds = time_to_boil_s(3.0, 4186.0, 2e3, 40.0, 5e3);
    close("heat", seconds * 5e3, (3.0 * 4186.0 + 2e3) * 40.0, 1e-12);
    assert_eq!(time_to_boil_s(3.0, 4186.0, 2e3, -1.0, 5e3), 0.0);
    // One time constant takes 63.2 % of the way.
    close(
        "lump",
        dry_coil_k(300.0, 900.0, 1000.0, 8.0, 125.0),
        300.0 + 600.0 * 0.632_120_6,
        1e-6,
    );
    close(
        "lump",
        dry_coil_time_s(300.0, 900.0, 1000.0, 8.0, 300.0 + 600.0 * 0.632_120_558_8),
        125.0,
        1e-8,
    );
    // Three quarters of the way takes two half-lives.
    close(
        "half-lives",
        dry_coil_time_s(300.0, 900.0, 1000.0, 8.0, 750.0),
        125.0 * 2.0 * 2f64.ln(),
        1e-12,
    );
    assert_eq!(dry_coil_time_s(300.0, 900.0, 1000.0, 8.0, 290.0), 0.0);
    assert!(dry_coil_time_s(300.0, 900.0, 1000.0, 8.0, 900.0).is_infinite());
    let flashed = flash_steam_kg(975.0, 500.0, 2257e3, 377e3);
    close("flash", flashed * (2257e3 + 377e3), 975.0 * 500.0, 1e-12);
    assert_eq!(flash_steam_kg(975.0, -5.0, 2257e3, 377e3), 0.0);
    close(
        "saturated",
        flash_steam_kg(975.0, 500.0, 2257e3, -1e3) * 2257e3,
        975.0 * 500.0,
        1e-12,
    );
}
