//! Water in tubes, cell by cell: first and second law, exact approach, rest, reversal, boiling, natural circulation.

mod support {
    pub mod random_rigs;
    pub mod rigs;
    pub mod variants;
}

use emberloop::components::tube::{Stream, TubeCell, TubeTable, WaterSide, pass_cell};
use emberloop::correlations::friction::pipe_f_re;
use emberloop::properties::water::Water;
use std::f64::consts::PI;
use support::random_rigs::Dice;

const G: f64 = 9.80665;
const PLAIN: WaterSide = WaterSide {
    convection: 1.0,
    friction: 1.0,
};

fn cell(d_m: f64, length_m: f64, rise_m: f64, loss_k: f64, p_pa: f64, inventory: bool) -> TubeCell {
    let a = PI / 4.0 * d_m * d_m;
    TubeCell {
        metal_j_k: 400.0 * length_m,
        water_kg: 990.0 * a * length_m,
        inside_area_m2: PI * d_m * length_m,
        flow_area_m2: a,
        inside_m: d_m,
        length_m,
        rise_m,
        loss_k,
        loss_w_k: 0.0,
        p_pa,
        sat: Water::shared().sat(p_pa),
        table: 0,
        inventory: inventory.then_some(0),
    }
}

fn smooth_pipe(nu: f64) -> TubeTable {
    TubeTable::new(move |_, _| nu, |re| pipe_f_re(re, 0.0))
}

/// Energy and mass of one cell balance whatever goes in, and heat never flows uphill: coil cells with their own
/// inventory.
#[test]
fn identity_a_coil_cell_keeps_energy_and_mass_and_stays_between_stream_and_node() {
    random_cells(true);
}

/// The same for pipes, whose water is the stream's.
#[test]
fn identity_a_pipe_cell_keeps_energy_and_mass_and_stays_between_stream_and_node() {
    random_cells(false);
}

fn random_cells(inventory: bool) {
    let water = Water::shared();
    let table = smooth_pipe(40.0);
    let mut d = Dice::new(7);
    let mut boiled = 0usize;
    let (mut worst_k, mut worst_case) = (0.0f64, String::new());
    for _ in 0..20_000 {
        let p = d.between(8e4, 3e5);
        let c = cell(0.014, d.between(0.1, 2.0), 0.1, 0.5, p, inventory);
        let w = if d.chance(0.1) {
            0.0
        } else {
            10f64.powf(d.between(-6.0, -0.3))
        };
        let mut input = Stream::liquid(water, w, water.h_j_kg(d.between(275.0, c.sat.t_k)));
        if d.chance(0.3) {
            let x = d.between(0.0, 0.9);
            input.h_j_kg = c.sat.h_f_j_kg + x * c.sat.h_fg_j_kg;
            input.enthalpy_w = w * input.h_j_kg;
            input.t_k = c.sat.t_k;
            input.quality = x;
        }
        let t_node = d.between(275.0, c.sat.t_k + 60.0);
        let share = if d.chance(0.5) {
            1.0
        } else {
            d.between(0.0, 1.0)
        };
        let r = pass_cell(water, &c, &table, PLAIN, &input, t_node, share * c.water_kg);
        let case = format!("{input:?} node {t_node} inventory {share} p {p} -> {r:?}");
        for v in [
            r.out.mdot_kg_s,
            r.out.enthalpy_w,
            r.out.t_k,
            r.from_node_w,
            r.inventory_kg_s,
            r.density_kg_m3,
            r.loss_pa,
        ] {
            assert!(v.is_finite(), "{case}");
        }
        let scale = input.enthalpy_w.abs() + r.from_node_w.abs() + 1.0;
        let energy = r.out.enthalpy_w - input.enthalpy_w - r.from_node_w;
        assert!(energy.abs() < 1e-9 * scale, "energy {energy}: {case}");
        let mass = r.out.mdot_kg_s - input.mdot_kg_s + r.inventory_kg_s;
        assert!(mass.abs() < 1e-12, "mass {mass}: {case}");
        assert!(r.out.mdot_kg_s >= 0.0 && r.loss_pa >= 0.0, "{case}");
        assert!(r.density_kg_m3 <= 1000.1 && r.density_kg_m3 > 0.2, "{case}");
        boiled += usize::from(r.steam_kg_s > 0.0 || r.out.quality > input.quality);
        // The heat capacity is that of the inlet: up to 2 % of the span over or short.
        let slack = 0.05 + 0.02 * (t_node - input.t_k).abs();
        let over = r.out.t_k - t_node.max(input.t_k) - slack;
        let under = t_node.min(input.t_k) - slack - r.out.t_k;
        if over.max(under) > worst_k {
            worst_k = over.max(under);
            worst_case = case.clone();
        }
    }
    assert!(boiled > 2000, "only {boiled} of the cases boiled");
    assert!(
        worst_k <= 0.0,
        "the stream leaves {worst_k:.1} K outside stream and node: {worst_case}"
    );
}

fn chain(n: usize, w: f64, t_in: f64, t_node: f64, nu: f64) -> Stream {
    let water = Water::shared();
    let table = smooth_pipe(nu);
    let c = cell(0.014, 6.0 / n as f64, 0.0, 0.0, 3e5, true);
    let mut s = Stream::liquid(water, w, water.h_j_kg(t_in));
    for _ in 0..n {
        s = pass_cell(water, &c, &table, PLAIN, &s, t_node, c.water_kg).out;
    }
    s
}

/// Flow past a wall of one temperature: T_out = T_w - (T_w - T_in) exp(-h P L/(w c_p)), for any number of cells.
#[test]
fn analytic_water_approaches_a_wall_exponentially_for_any_number_of_cells() {
    let water = Water::shared();
    // A small span, so that properties are those of 300 K.
    let (t_in, t_node) = (299.5, 300.5);
    for w in [0.01, 0.05, 0.3] {
        for nu in [4.36, 60.0] {
            let p = water.liquid(300.0);
            let ntu = nu * p.k_w_mk / 0.014 * PI * 0.014 * 6.0 / (w * p.cp_j_kgk);
            let exact = t_node - (t_node - t_in) * (-ntu).exp();
            for n in [1, 6, 48] {
                let t = chain(n, w, t_in, t_node, nu).t_k;
                assert!(
                    (t - exact).abs() < 2e-3,
                    "{n} cells, {w} kg/s, Nu {nu}: {t} against {exact}"
                );
            }
        }
    }
}

#[test]
fn analytic_standing_water_takes_the_nodes_temperature_and_carries_nothing() {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let c = cell(0.014, 0.5, 0.2, 1.0, 1.1e5, true);
    for t_node in [280.0, 330.0, 370.0] {
        let s = Stream::liquid(water, 0.0, water.h_j_kg(300.0));
        let r = pass_cell(water, &c, &table, PLAIN, &s, t_node, c.water_kg);
        assert!((r.out.t_k - t_node).abs() < 1e-6);
        assert_eq!(r.from_node_w, 0.0);
        assert_eq!(r.loss_pa, 0.0);
        assert_eq!(r.steam_kg_s, 0.0);
    }
    // And nearly standing water tends to it.
    let near = chain(6, 1e-7, 290.0, 340.0, 4.36);
    assert!((near.t_k - 340.0).abs() < 1e-3, "{}", near.t_k);
}

/// Saturated water past a wall above saturation: steam = heat / h_fg as long as the stream keeps the cell full.
#[test]
fn analytic_steam_made_is_heat_over_heat_of_vaporisation() {
    let water = Water::shared();
    let table = smooth_pipe(40.0);
    let p = 101_325.0;
    let c = cell(0.014, 0.5, 0.2, 0.0, p, true);
    let mut s = Stream::liquid(water, 0.05, c.sat.h_f_j_kg);
    s.t_k = c.sat.t_k;
    for superheat_k in [1.0, 4.0, 8.0] {
        let t_node = c.sat.t_k + superheat_k;
        // Run the inventory to where refill and steam agree.
        let mut kg = c.water_kg;
        for _ in 0..200 {
            kg += 0.2 * pass_cell(water, &c, &table, PLAIN, &s, t_node, kg).inventory_kg_s;
        }
        let r = pass_cell(water, &c, &table, PLAIN, &s, t_node, kg);
        assert!(r.inventory_kg_s.abs() < 1e-9, "{r:?}");
        // The whole heat leaves as vapour made from the saturated water that came in.
        let made = r.out.quality * r.out.mdot_kg_s;
        let exact = r.from_node_w / c.sat.h_fg_j_kg;
        assert!(
            (made / exact - 1.0).abs() < 2e-3,
            "{superheat_k} K: {made} kg/s against {exact}"
        );
        assert!(r.steam_kg_s > 0.0 && r.out.quality > 0.0);
    }
}

/// Boiling water by a wall nobody refills: the inventory only falls, and what leaves is what it loses.
#[test]
fn identity_a_cell_without_inflow_boils_dry_and_then_stops_boiling() {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let c = cell(0.014, 0.5, 0.2, 0.0, 101_325.0, true);
    let t_node = c.sat.t_k + 8.0;
    let s = Stream::liquid(water, 0.0, c.sat.h_f_j_kg);
    let (mut kg, mut steam_kg) = (c.water_kg, 0.0);
    let first = pass_cell(water, &c, &table, PLAIN, &s, t_node, kg).steam_kg_s;
    for _ in 0..20_000 {
        let r = pass_cell(water, &c, &table, PLAIN, &s, t_node, kg);
        assert!(r.steam_kg_s >= 0.0 && r.inventory_kg_s <= 0.0);
        kg += 0.1 * r.inventory_kg_s;
        steam_kg += 0.1 * r.steam_kg_s;
    }
    assert!((c.water_kg - kg - steam_kg).abs() < 1e-12);
    assert!(kg > -1e-6 && kg < 0.02 * c.water_kg, "{kg}");
    let end = pass_cell(water, &c, &table, PLAIN, &s, t_node, kg).steam_kg_s;
    assert!(end < 0.05 * first, "{end} of {first}");
}

/// Second law along a whole coil: no stream is hotter than the hottest thing that it has met, however little of it is
/// left beside boiling, refilling and dry cells.
#[test]
fn identity_a_stream_is_never_hotter_than_what_heated_it_along_a_coil_that_runs_dry() {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let cells: Vec<TubeCell> = (0..12)
        .map(|i| cell(0.0138, 0.76, 0.02, 0.0, 101_325.0 + 1e3 * i as f64, true))
        .collect();
    let mut d = Dice::new(3);
    for _ in 0..20_000 {
        let flow = 10f64.powf(d.between(-9.0, -1.0));
        let mut s = Stream::liquid(water, flow, water.h_j_kg(d.between(280.0, 370.0)));
        let mut hottest_k = s.t_k;
        for c in &cells {
            let t_node = 280.0 + 300.0 * d.between(0.0, 1.0).powi(2);
            let share = if d.between(0.0, 1.0) < 0.3 { 1e-6 } else { 1.0 };
            let kg = c.water_kg * share * d.between(0.0, 1.0);
            hottest_k = hottest_k.max(t_node).max(c.sat.t_k);
            s = pass_cell(water, c, &table, PLAIN, &s, t_node, kg).out;
            assert!(s.t_k <= hottest_k + 1e-6, "{s:?} after {hottest_k} K");
        }
    }
}

/// Loss of a loop of two legs at two temperatures, and the buoyancy between heater and cooler at height `h_m`.
/// Half the length is cold, half hot; fittings on the cold density.
fn loop_balance(d_m: f64, h_m: f64, l_m: f64, k: f64, tc: f64, th: f64, w: f64) -> (f64, f64) {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let n = 10;
    let (mut loss, mut drive) = (0.0, 0.0);
    for (t, rise, fittings) in [(tc, -h_m, k), (th, h_m, 0.0)] {
        let c = cell(
            d_m,
            0.5 * l_m / n as f64,
            rise / n as f64,
            fittings / n as f64,
            3e5,
            false,
        );
        let mut s = Stream::liquid(water, w, water.h_j_kg(t));
        for _ in 0..n {
            // Adiabatic: the node is as warm as the stream.
            let r = pass_cell(water, &c, &table, PLAIN, &s, t, c.water_kg);
            loss += r.loss_pa;
            drive -= G * r.density_kg_m3 * c.rise_m;
            s = r.out;
        }
    }
    (drive, loss)
}

/// Steady flow of a loop with heat `q_w`: root of drive = loss, the hot side from the enthalpy balance.
fn steady_flow(d_m: f64, h_m: f64, l_m: f64, k: f64, tc: f64, q_w: f64) -> (f64, f64) {
    let water = Water::shared();
    let (mut lo, mut hi) = (1e-4f64, 5.0f64);
    for _ in 0..100 {
        let w = (lo * hi).sqrt();
        let th = water.t_from_h_k(water.h_j_kg(tc) + q_w / w).min(480.0);
        let (drive, loss) = loop_balance(d_m, h_m, l_m, k, tc, th, w);
        if drive > loss {
            lo = w;
        } else {
            hi = w;
        }
    }
    let w = (lo * hi).sqrt();
    (w, water.t_from_h_k(water.h_j_kg(tc) + q_w / w))
}

/// Steady natural circulation in a rectangle of 20 or 26 mm bore against roots of the same momentum balance with the
/// friction of a reference library (fluids 1.3.1, smooth pipe) and its properties (CoolProp 8.0.0 at 3 bar): rows
/// whose two Reynolds numbers lie away from the transition, where that library's friction jumps.
#[test]
fn published_thermosyphon_flow_matches_the_reference_roots() {
    // d, H, L, K, T cold in °C, W, kg/s, T hot in °C
    let rows = [
        (0.02, 1.0, 6.0, 8.0, 10.0, 500.0, 0.009546084, 22.5094),
        (0.02, 1.0, 6.0, 8.0, 10.0, 2000.0, 0.02062646, 33.17581),
        (0.02, 0.5, 6.0, 8.0, 10.0, 1000.0, 0.01102691, 31.67407),
        (0.02, 1.0, 6.0, 8.0, 40.0, 5000.0, 0.03852397, 71.02547),
        (0.02, 1.0, 6.0, 8.0, 40.0, 10000.0, 0.05094278, 86.87718),
        (0.026, 1.0, 6.0, 8.0, 10.0, 500.0, 0.01411725, 18.45508),
        (0.026, 1.0, 6.0, 8.0, 40.0, 7000.0, 0.06423591, 66.05603),
        (0.026, 1.0, 6.0, 8.0, 40.0, 20000.0, 0.09741705, 89.01957),
        (0.02, 1.0, 14.0, 20.0, 10.0, 1000.0, 0.01039185, 33.00026),
        (0.02, 1.0, 14.0, 20.0, 40.0, 7000.0, 0.03320845, 90.32458),
    ];
    for (d, h, l, k, tc, q, w, th) in rows {
        let (w_ours, th_ours) = steady_flow(d, h, l, k, tc + 273.15, q);
        assert!(
            (w_ours / w - 1.0).abs() < 0.02,
            "{d} {h} {l} {q}: {w_ours} kg/s against {w}"
        );
        assert!(
            (th_ours - 273.15 - th).abs() < 0.02 * (th - tc) + 0.1,
            "{th_ours}"
        );
    }
}

/// Re = C (Gr_m/N_G)^r, laminar C = 0.1768, r = 1/2; turbulent (Blasius) C = 1.956, r = 1/2.75: Vijayan & Austregesilo
/// 1994, Nucl. Eng. Des. 152:331 (constants from memory, re-derived from the momentum balance).
#[test]
fn published_natural_circulation_follows_the_generalised_correlation() {
    let water = Water::shared();
    let t0 = 323.15;
    let p = water.liquid(t0);
    let beta = -(water.rho_kg_m3(t0 + 1.0) - water.rho_kg_m3(t0 - 1.0)) / (2.0 * p.rho_kg_m3);
    // (bore, height, length, heat): spans under 2 K, so that properties are those of 50 °C.
    for (d, h, l, q, c, r, most) in [
        (0.02, 1.0, 12.0, 4.0, 0.1768, 0.5, 0.02),
        (0.02, 0.5, 8.0, 10.0, 0.1768, 0.5, 0.02),
        (0.02, 1.0, 6.0, 20.0, 0.1768, 0.5, 0.02),
        (0.1, 1.0, 12.0, 1500.0, 1.956, 1.0 / 2.75, 0.03),
        (0.1, 2.0, 20.0, 3000.0, 1.956, 1.0 / 2.75, 0.03),
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
        assert!(span(w) < 3.0, "span {}", span(w));
        let area = PI / 4.0 * d * d;
        let re = w * d / (area * p.mu_pa_s);
        let gr_m = d.powi(3) * p.rho_kg_m3.powi(2) * beta * G * q * h
            / (area * p.mu_pa_s.powi(3) * p.cp_j_kgk);
        let published = c * (gr_m / (l / d)).powf(r);
        // The hot and cold legs stand h_m apart, heater and cooler as points.
        println!("d {d} Re {re:.0} against {published:.0}");
        assert!(
            (re / published - 1.0).abs() < most,
            "Re {re} against {published}"
        );
        assert!(
            if r == 0.5 { re < 1800.0 } else { re > 4000.0 },
            "regime, Re {re}"
        );
    }
}

/// Two-phase buoyancy and loss: a steaming cell is lighter and costs more than a liquid one.
#[test]
fn practice_steam_makes_the_column_lighter_and_the_loss_larger() {
    let water = Water::shared();
    let table = smooth_pipe(40.0);
    let c = cell(0.014, 0.5, 0.2, 0.5, 101_325.0, true);
    let (mut rho, mut loss) = (f64::INFINITY, 0.0);
    for x in [0.0, 0.001, 0.01, 0.05, 0.2] {
        let mut s = Stream::liquid(water, 0.03, c.sat.h_f_j_kg + x * c.sat.h_fg_j_kg);
        s.t_k = c.sat.t_k;
        s.quality = x;
        let r = pass_cell(water, &c, &table, PLAIN, &s, c.sat.t_k, c.water_kg);
        assert!(r.density_kg_m3 < rho && r.loss_pa > loss, "x {x}: {r:?}");
        rho = r.density_kg_m3;
        loss = r.loss_pa;
    }
}
