//! Walls, vessel and gas ducts on their own, against closed forms.

mod support {
    pub mod parts;
}

use emberloop::components::gas_path::{
    Duct, GasStream, Grown, PathConditions, ReTable, SectionGas, pass_cell,
};
use emberloop::components::wall::{OutsideConvection, Wall, WallShape, outside_loss_w};
use emberloop::correlations::radiation::WsggWeights;
use emberloop::properties::gas::{Composition, GasMix};
use emberloop::properties::water::Water;
use support::parts::{charge, conditions, flue, heated, march, plain, slab, still_air, tank};

/// Plane wall, Bi = 1, full series (Carslaw & Jaeger; computed with numpy 2.4.6): centre and surface at Fo = 0.1, 0.5, 1.
#[test]
fn published_slab_warm_up_matches_the_series_and_refines_towards_it() {
    for (fo, centre, surface) in [
        (0.1, 0.993108, 0.723577),
        (0.5, 0.772526, 0.504522),
        (1.0, 0.533859, 0.348177),
    ] {
        let mut before = f64::INFINITY;
        for (factor, most) in [(1, 0.03), (4, 4e-3), (16, 5e-4)] {
            let (c, s) = slab(1.0, fo, factor);
            let error = (c - centre).abs().max((s - surface).abs());
            println!("Fo {fo}, factor {factor}: {c:.5} {s:.5}, error {error:.1e}");
            assert!(error < most, "Fo {fo}, factor {factor}: {c} {s}");
            assert!(error < before, "Fo {fo}: not finer with {factor}");
            before = error;
        }
    }
}

/// A thin sheet in air: T - T_air = ΔT exp(-h A t/C).
#[test]
fn analytic_a_thin_sheet_cools_as_its_resistance_and_capacity_say() {
    let wall = Wall::new(
        &[plain(0.001, 45.0, 3.85e6, true)],
        WallShape::Box {
            inner_area_m2: 2.0,
            half_width_m: 1e6,
        },
        3,
    );
    assert_eq!(
        wall.len(),
        1,
        "a thin sheet is one node, however fine the rest"
    );
    let air = OutsideConvection::tabulate(|_| 10.0);
    let y0 = [wall.nodes[0].state(400.0)];
    for t_s in [60.0, 300.0, 900.0] {
        let y = march(1, &y0, t_s, |_, y, dy| {
            let t = wall.nodes[0].temperature_k(y[0]);
            dy[0] = wall.nodes[0].rate(-outside_loss_w(&wall, &air, 1.0, t, 300.0));
        });
        let exact = 300.0 + 100.0 * (-10.0 * 2.0 * t_s / (3.85e6 * 0.002)).exp();
        let t = wall.nodes[0].temperature_k(y[0]);
        assert!((t - exact).abs() < 0.02, "{t} against {exact}");
    }
}

/// Steady heat through a cylinder of two layers: q = 2πL ΔT / Σ ln(r_o/r_i)/k.
#[test]
fn analytic_a_layered_cylinder_conducts_by_the_logarithms() {
    let layers = [plain(0.05, 0.12, 1e5, false), plain(0.03, 1.0, 1e5, false)];
    for factor in [1, 3] {
        let wall = Wall::new(
            &layers,
            WallShape::Cylinder {
                inner_radius_m: 0.075,
                length_m: 1.3,
            },
            factor,
        );
        let n = wall.len();
        let (hot, cold) = (900.0, 300.0);
        let into = |t: f64| (hot - t) / wall.nodes[0].resistance_in_k_w(t);
        let out = |t: f64| (t - cold) / wall.nodes[n - 1].resistance_out_k_w(t);
        let t = heated(&wall, cold, 2e5, &into, &out);
        let r = (0.125f64 / 0.075).ln() / 0.12 + (0.155f64 / 0.125).ln() / 1.0;
        let exact = 2.0 * std::f64::consts::PI * 1.3 * 600.0 / r;
        for q in [into(t[0]), out(t[n - 1])] {
            assert!((q / exact - 1.0).abs() < 1e-4, "{q} W against {exact}");
        }
    }
}

/// Enthalpy kept by a wall whose heat capacity grows with temperature: ∫ c dT.
#[test]
fn analytic_a_wall_holds_the_integral_of_its_heat_capacity() {
    let mut layer = plain(0.05, 1.0, 2e6, false);
    layer.heat_capacity_slope_j_kgk2 = 0.4;
    let wall = Wall::new(
        &[layer],
        WallShape::Box {
            inner_area_m2: 1.0,
            half_width_m: 1e6,
        },
        1,
    );
    for t_k in [260.0, 298.15, 600.0, 1200.0] {
        let y: Vec<f64> = wall.nodes.iter().map(|n| n.state(t_k)).collect();
        let th: f64 = t_k - 298.15;
        let exact = 2000.0 * 0.05 * (1000.0 * th + 0.5 * 0.4 * th * th);
        assert!((wall.enthalpy_j(&y) - exact).abs() < 1e-6 * exact.abs().max(1.0) + 1e-2);
        for (n, e) in wall.nodes.iter().zip(&y) {
            assert!((n.temperature_k(*e) - t_k).abs() < 1e-9);
        }
    }
}

/// Step response of N equal stirred layers at one residence time (tanks in series, Levenspiel; Erlang distribution).
#[test]
fn published_a_charged_tank_answers_as_stirred_layers_in_series() {
    for (n, exact) in [(1, 0.632121), (5, 0.559507), (20, 0.5297427)] {
        let m = tank(n);
        // Fast enough that conduction between the layers does not matter.
        let w = 2.0;
        let t = charge(&m, w, 295.15, m.layer_kg * n as f64 / w);
        let share = (t[0] - 293.15) / 2.0;
        assert!(
            (share - exact).abs() < 2e-3,
            "{n} layers: {share} against {exact}"
        );
        assert!(t.windows(2).all(|p| p[1] >= p[0] - 1e-9), "{t:?}");
    }
}

/// Hot water let in below: within minutes nothing warm is left under anything cold by more than what drives the plume.
#[test]
fn practice_warm_water_let_in_below_rises() {
    let m = tank(8);
    let water = Water::shared();
    let n = m.layers;
    let y0: Vec<f64> = (0..n)
        .map(|_| m.layer_enthalpy_j(water, 293.15, m.layer_kg) / m.scale_j_k() / 100.0)
        .collect();
    let temperatures = |y: &[f64]| -> Vec<f64> {
        y.iter()
            .map(|e| m.layer_temperature_k(water, e * m.scale_j_k() * 100.0, m.layer_kg))
            .collect()
    };
    // 7 kW into the lowest layer but one, as from a coil at its port.
    let y = march(n, &y0, 3600.0, |_, y, dy| {
        let t = temperatures(y);
        let mut q = vec![0.0; n];
        m.rates(water, &t, m.layer_kg, &[], &still_air(), &mut q);
        q[1] += 7000.0;
        for (d, q) in dy.iter_mut().zip(&q) {
            *d = q / (m.scale_j_k() * 100.0);
        }
    });
    let t = temperatures(&y);
    assert!(t[n - 1] > 310.0, "{t:?}");
    for p in t.windows(2) {
        assert!(
            p[0] - p[1] < 2.0,
            "a warmer layer lies under a colder one: {t:?}"
        );
    }
}

/// A duct that takes no heat: `cells` cells, height, wall at gas temperature.
fn duct(height_m: f64, cells: usize) -> Duct {
    let wall = Wall::new(
        &[plain(0.001, 45.0, 3.8e6, true)],
        WallShape::Cylinder {
            inner_radius_m: 0.075,
            length_m: height_m / cells as f64,
        },
        1,
    );
    Duct {
        table: ReTable::new(|re| [3.66, emberloop::correlations::friction::pipe_f_re(re, 0.0)]),
        sheets: 1.0,
        ..flue(wall, cells, height_m / cells as f64)
    }
}

/// `(buoyancy, loss)` of the duct with gas of one temperature.
fn pass(d: &Duct, mix: &GasMix, t_gas_k: f64, rho_air: f64, mdot_kg_s: f64) -> (f64, f64) {
    let wsgg = WsggWeights::new(0.1, 0.1);
    let c = PathConditions {
        pressure_pa: 101_325.0,
        density_air_kg_m3: rho_air,
        per_volatile_w: 1.0,
        ..conditions(mix)
    };
    let mut gas = GasStream::new(mix, mdot_kg_s, t_gas_k, 0.0);
    let section = SectionGas::new(d, &c, &wsgg, mdot_kg_s);
    let (mut up, mut loss) = (0.0, 0.0);
    for _ in 0..d.cells {
        let r = pass_cell(d, &c, &section, &mut gas, t_gas_k, 0.0, Grown::default());
        up += r.buoyancy_pa;
        loss += r.loss_pa;
    }
    assert!((gas.t_k - t_gas_k).abs() < 1e-6);
    (up, loss)
}

/// Theoretical draught H g (ρ_L - ρ_m) with R_L = 288 and R = 300 J/kgK, air at 15 °C, 101,325 Pa: EN 13384-1 (equation
/// for P_H, from memory).
#[test]
fn published_draught_without_flow_is_that_of_the_chimney_standard() {
    // Moist air whose gas constant is 300 J/kgK stands for the flue gas.
    let (mut lo, mut hi) = (0.0, 0.5);
    for _ in 0..60 {
        let mid = 0.5 * (lo + hi);
        if GasMix::new(&Composition::humid_air(mid)).r_j_kgk() < 300.0 {
            lo = mid;
        } else {
            hi = mid;
        }
    }
    let mix = GasMix::new(&Composition::humid_air(lo));
    assert!((mix.r_j_kgk() - 300.0).abs() < 1e-6);
    let rho_air = 101_325.0 / (288.0 * 288.15);
    for (h, t_c, exact) in [
        (3.0, 150.0, 12.4427),
        (3.0, 250.0, 16.9329),
        (5.0, 200.0, 24.8751),
    ] {
        for cells in [1, 5] {
            let (up, loss) = pass(&duct(h, cells), &mix, t_c + 273.15, rho_air, 1e-9);
            assert!(
                (up / exact - 1.0).abs() < 0.01,
                "{h} m, {t_c} °C: {up} Pa against {exact}"
            );
            assert!(loss < 1e-4, "{loss}");
        }
    }
}

/// Friction of the duct: f L/D ½ρv² (Darcy-Weisbach), laminar 64/Re and turbulent.
#[test]
fn analytic_gas_friction_is_darcy_weisbachs() {
    let mix = GasMix::dry_air();
    let d = duct(3.0, 4);
    let t = 500.0;
    let rho = 101_325.0 / (mix.r_j_kgk() * t);
    for m in [0.001, 0.004, 0.02] {
        let (_, loss) = pass(&d, mix, t, 1.2, m);
        let v = m / (rho * d.area_m2);
        let re = m * 0.15 / (d.area_m2 * mix.mu_pa_s(t));
        let f = emberloop::correlations::friction::f_darcy_pipe(re, 0.0);
        let exact = f * 3.0 / 0.15 * 0.5 * rho * v * v;
        assert!(
            (loss / exact - 1.0).abs() < 0.01,
            "{m} kg/s: {loss} against {exact}"
        );
    }
}
