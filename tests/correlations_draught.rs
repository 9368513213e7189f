//! Draught, losses, pump curve and evaporation against standards and handbooks.

use emberloop::correlations::draught::{
    bend_k, cap_wind_suction_pa, curved_bend_k, damper_loss_k, damper_loss_with_leak_k, entry_k,
    sudden_contraction_k, sudden_expansion_k, theoretical_draught_pa, velocity_pressure_pa,
};
use emberloop::correlations::evaporation::{
    MassTransferGas, ashrae_flux_kg_m2s, mass_flux_from_h_kg_m2s, smith_flux_kg_m2s,
};
use emberloop::correlations::pump::interpolate_curve;

fn assert_close(what: &str, got: f64, expected: f64, rel: f64) {
    assert!(
        (got / expected - 1.0).abs() <= rel,
        "{what}: {got} against {expected}, allowed {rel}"
    );
}

/// EN 13384-1, P_H = H g (rho_L - rho_m), R_L 288, R 300 J/(kg K), 101325 Pa, air 15 °C: (H, gas °C, Pa) by
/// closed form; the standard rounds g to 9.81.
#[test]
fn published_theoretical_draught_matches_en_13384_values() {
    for (h, t_c, pa) in [
        (3.0, 150.0, 12.4427),
        (3.0, 250.0, 16.9329),
        (5.0, 200.0, 24.8751),
    ] {
        let rho_out = 101_325.0 / (288.0 * 288.15);
        let rho_in = 101_325.0 / (300.0 * (t_c + 273.15));
        assert_close("P_H", theoretical_draught_pa(h, rho_out, rho_in), pa, 5e-4);
    }
    assert!(theoretical_draught_pa(-1.0, 1.2, 0.5) < 0.0);
}

/// Weisbach's butterfly valve, loss against plate angle (from memory; hydraulics handbooks), open share 1 - sin(angle).
#[test]
fn published_damper_matches_weisbach_butterfly() {
    for (degrees, k) in [
        (20.0f64, 1.54),
        (30.0, 3.91),
        (40.0, 10.8),
        (50.0, 32.6),
        (60.0, 118.0),
    ] {
        let share = 1.0 - degrees.to_radians().sin();
        assert_close("K", damper_loss_with_leak_k(share, 1e-9), k, 0.15);
    }
}

#[test]
fn identity_damper_loss_is_finite_and_falls_with_opening() {
    let mut last = damper_loss_k(0.0);
    assert!(last.is_finite() && last > 1e3);
    for i in 1..=1000 {
        let k = damper_loss_k(1e-3 * f64::from(i));
        assert!(k < last);
        last = k;
    }
    assert_eq!(damper_loss_k(1.0), 0.0);
    assert_eq!(damper_loss_k(2.0), 0.0);
}

/// Handbook values (EN 13384-1 annex B and general, from memory): mitre 1.2 and entry 0.5 ± 0.2; Weisbach curved bend
/// R/d 1: 0.29; exit 1; contraction from a large space 0.5.
#[test]
fn published_fitting_losses_lie_with_the_handbooks() {
    let right = std::f64::consts::FRAC_PI_2;
    assert!((bend_k(right) - 1.2).abs() < 0.25, "{}", bend_k(right));
    assert_close("45 mitre", bend_k(0.5 * right), 0.18, 0.05);
    assert_close("curved", curved_bend_k(right, 1.0), 0.294, 0.01);
    assert_close("entry", entry_k(0.0), 0.5, 1e-9);
    assert!(entry_k(0.2) < 0.05);
    assert_close("exit", sudden_expansion_k(0.0), 1.0, 1e-12);
    assert_eq!(sudden_expansion_k(1.0), 0.0);
    assert_close("contraction", sudden_contraction_k(0.0), 0.5, 1e-12);
    assert_eq!(bend_k(0.0), 0.0);
}

/// A wind of 10 m/s carries 61 Pa; half of that is the most that an open pipe end measures.
#[test]
fn practice_wind_suction_is_modest() {
    assert_close(
        "velocity pressure",
        velocity_pressure_pa(10.0, 1.225),
        61.25,
        1e-9,
    );
    let s = cap_wind_suction_pa(10.0, 1.225);
    assert!(s > 5.0 && s < 31.0);
    assert_eq!(cap_wind_suction_pa(0.0, 1.2), 0.0);
}

/// ASHRAE form at water 40 °C, air 20 °C 50 % RH, Y 2406 kJ/kg (saturation by IAPWS-IF97): (m/s, kg/(m² h)).
#[test]
fn published_ashrae_evaporation_check_values() {
    let (p_w, p_a) = (7384.9, 0.5 * 2339.2);
    for (v, flux) in [(0.0, 0.827_609), (0.5, 1.1912), (2.0, 2.281_97)] {
        assert_close(
            "flux",
            3600.0 * ashrae_flux_kg_m2s(p_w, p_a, v, 2406e3),
            flux,
            1e-3,
        );
    }
    assert!(ashrae_flux_kg_m2s(1000.0, 2000.0, 0.0, 2.4e6) < 0.0);
}

/// Smith et al. 1994: about 0.74 of the ASHRAE form over still water (from memory).
#[test]
fn published_smith_evaporation_is_about_0_74_of_ashrae() {
    let r = smith_flux_kg_m2s(7000.0, 1000.0, 0.0, 2.4e6)
        / ashrae_flux_kg_m2s(7000.0, 1000.0, 0.0, 2.4e6);
    assert_close("ratio", r, 0.74, 0.05);
}

const AIR: MassTransferGas = MassTransferGas {
    cp_j_kgk: 1007.0,
    molar_mass_kg_mol: 0.028_96,
    lewis: 0.87,
    p_total_pa: 101_325.0,
};

/// For small vapour pressures the flux is h/(c_p Le^(2/3)) times the difference of humidity ratios 0.622 p_v/p.
#[test]
fn analytic_condensation_tends_to_the_linear_analogy() {
    let (b, s) = (300.0, 200.0);
    let linear = 10.0 / (1007.0 * 0.87f64.powf(2.0 / 3.0)) * 0.622 * (b - s) / 101_325.0;
    assert_close(
        "linear",
        mass_flux_from_h_kg_m2s(10.0, b, s, &AIR),
        linear,
        5e-3,
    );
    // Nearly in balance: the logarithm is the relative difference itself.
    assert_close(
        "balance",
        mass_flux_from_h_kg_m2s(10.0, 200.1, 200.0, &AIR),
        linear / 1000.0,
        5e-3,
    );
    assert_eq!(mass_flux_from_h_kg_m2s(10.0, 500.0, 500.0, &AIR), 0.0);
    assert!(mass_flux_from_h_kg_m2s(10.0, 100.0, 500.0, &AIR) < 0.0);
    assert!(mass_flux_from_h_kg_m2s(10.0, 2e5, 500.0, &AIR).is_finite());
    // Stefan flow: with much vapour the flux exceeds the linear one.
    let rich = mass_flux_from_h_kg_m2s(10.0, 30e3, 2e3, &AIR);
    let plain = 10.0 / (1007.0 * 0.87f64.powf(2.0 / 3.0)) * 0.622 * 28e3 / 101_325.0;
    assert!(rich > 1.1 * plain && rich < 1.4 * plain);
}

/// The analogy with natural convection over a warm tub, h about 4 W/(m² K), against the still-pool formula: factor 1.5.
#[test]
fn practice_lewis_analogy_and_pool_formula_agree() {
    let (p_w, p_a) = (7384.9, 1169.6);
    let analogy = -mass_flux_from_h_kg_m2s(4.5, p_a, p_w, &AIR);
    let pool = smith_flux_kg_m2s(p_w, p_a, 0.0, 2406e3);
    assert!(
        (0.67..1.5).contains(&(analogy / pool)),
        "{}",
        analogy / pool
    );
}

const CURVE: [(f64, f64); 4] = [(0.0, 60e3), (2e-4, 50e3), (5e-4, 25e3), (7e-4, 0.0)];

#[test]
fn identity_pump_curve_is_monotone_smooth_and_through_its_points() {
    for (q, h) in CURVE {
        assert!((interpolate_curve(&CURVE, q) - h).abs() < 1e-6);
    }
    let (mut last, mut last_slope) = (f64::MAX, None);
    let step = 1e-6;
    for i in -500i32..1500 {
        let h = interpolate_curve(&CURVE, f64::from(i) * step);
        assert!(h < last, "not falling at {i}");
        if last < f64::MAX {
            let slope = (h - last) / step;
            if let Some(before) = last_slope {
                // The steepest bend of a cubic through these points, times the step.
                let change: f64 = slope - before;
                assert!(change.abs() < 5e6, "kink at {i}: {change}");
            }
            last_slope = Some(slope);
        }
        last = h;
    }
    // Pushed back or pushed through, a running pump resists more steeply than along its curve.
    assert!(interpolate_curve(&CURVE, -5e-4) > 60e3 + 25e3);
    assert!(interpolate_curve(&CURVE, 1.2e-3) < -60e3);
}

#[test]
fn identity_pump_curve_of_two_points_is_their_line() {
    let line = [(0.0, 40e3), (1e-3, 0.0)];
    assert_close("middle", interpolate_curve(&line, 2.5e-4), 30e3, 1e-9);
    assert_eq!(interpolate_curve(&[(0.0, 5.0)], 3.0), 5.0);
    assert_eq!(interpolate_curve(&[], 3.0), 0.0);
}

/// Borda-Carnot (1 - A1/A2)² and Idelchik's 0.5 (1 - A1/A2)^(3/4): the handbooks' tables, three figures.
#[test]
fn published_sudden_changes_of_section() {
    for (ratio, wider, narrower) in [
        (0.0, 1.0, 0.5),
        (0.2, 0.64, 0.423),
        (0.4, 0.36, 0.341),
        (0.6, 0.16, 0.2515),
        (0.8, 0.04, 0.1495),
    ] {
        assert_close("expansion", sudden_expansion_k(ratio), wider, 1e-9);
        assert_close("contraction", sudden_contraction_k(ratio), narrower, 2e-3);
    }
    for (beyond, end) in [(-0.3, 0.0), (1.4, 1.0)] {
        assert_eq!(sudden_expansion_k(beyond), sudden_expansion_k(end));
        assert_eq!(sudden_contraction_k(beyond), sudden_contraction_k(end));
    }
    assert_eq!(entry_k(-0.2), 0.5);
    assert_eq!(curved_bend_k(1.0, 0.1), curved_bend_k(1.0, 0.5));
}

/// Smith, Löf & Jones 1994 in their units: (30.6 + 32.1 V) Δp/h_fg, kg/(m² h), mmHg, kJ/kg (from memory).
#[test]
fn published_smith_evaporation_in_wind_in_its_own_units() {
    for (v_m_s, mmhg) in [(0.0, 12.0), (0.5, 20.0), (2.0, 35.0)] {
        let kg_m2h = (30.6 + 32.1 * v_m_s) * mmhg / 2430.0;
        let ours = smith_flux_kg_m2s(133.322 * (mmhg + 10.0), 133.322 * 10.0, v_m_s, 2.43e6);
        assert_close("kg/m2h", 3600.0 * ours, kg_m2h, 1e-9);
    }
}

/// The logarithm's series keeps eight figures up to where the library's logarithm takes over.
#[test]
fn analytic_the_logarithm_of_pressures_keeps_its_figures() {
    let gas = MassTransferGas {
        cp_j_kgk: 1000.0,
        molar_mass_kg_mol: 0.018_015_28,
        lewis: 1.0,
        p_total_pa: 1e5,
    };
    for z in [-0.199f64, -0.15, 0.05, 0.19, 0.1999, 0.21] {
        // (a - b)/(a + b) = z at b = 80 kPa.
        let (a, b) = (80e3 * (1.0 + z) / (1.0 - z), 80e3);
        let flux = mass_flux_from_h_kg_m2s(10.0, 1e5 - b, 1e5 - a, &gas);
        assert_close("flux", flux, 0.01 * (a / b).ln(), 1e-8);
    }
    // Vapour pressures are held at 0.999 of the total.
    let at = |bulk, surface| mass_flux_from_h_kg_m2s(10.0, bulk, surface, &gas);
    assert_eq!(
        (at(2e5, 1e4), at(1e4, 2e5)),
        (at(99.9e3, 1e4), at(1e4, 99.9e3))
    );
}
