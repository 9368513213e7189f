//! One gas cell with its wall, turns, deposits and flame, and a coil wound on a wall: each law written out by hand.

mod support {
    pub mod parts;
}

use emberloop::components::gas_path::{
    Bank, Duct, GasCell, GasStream, Grown, MIXING_CONSTANT, PathConditions, ReTable, SectionGas,
    Wrap, grey_exchange, pass_cell, reaction_share,
};
use emberloop::components::spec::Layer;
use emberloop::components::wall::{OutsideConvection, Wall, WallShape, outside_loss_w};
use emberloop::correlations::radiation::WsggWeights;
use emberloop::properties::gas::GasMix;
use std::f64::consts::PI;
use support::parts::{conditions, flue, plain};

const SIGMA: f64 = 5.670_374e-8;

fn close(what: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

/// Round duct of 150 mm, two cells of 0.4 m, a sheet 2 mm thick of 0.5 W/mK around it.
fn duct(emissivity: f64) -> Duct {
    let layer = Layer {
        emissivity,
        ..plain(0.002, 0.5, 2e6, true)
    };
    let wall = Wall::new(
        &[layer],
        WallShape::Cylinder {
            inner_radius_m: 0.075,
            length_m: 0.4,
        },
        1,
    );
    Duct {
        cell_rise_m: 0.3,
        loss_k: 3.0,
        table: ReTable::new(|re| [0.02 * re, 64.0]),
        ..flue(wall, 2, 0.4)
    }
}

fn bank() -> Bank {
    Bank {
        tubes: Vec::new(),
        tube_outside_m: 0.022,
        area_m2: 0.12,
        free_area_m2: 0.008,
        exposure: 0.7,
        rows: 2.5,
        table: ReTable::new(|re| [0.1 * re, 300.0 + 0.4 * re]),
        emissivity: 0.9,
        fouling_m2k_w: 0.01,
        deposit_state: 0,
        beam_m: 0.02,
        shell_view_m2: 0.0,
        mouth_views_m2: Vec::new(),
    }
}

const M_KG_S: f64 = 0.006;

fn pass(
    d: &Duct,
    c: &PathConditions,
    t_gas_k: f64,
    unburnt_w: f64,
    t_wall_k: f64,
    t_turns_k: f64,
    grown: Grown,
) -> (GasCell, GasStream) {
    let weights = WsggWeights::new(0.1, 0.1);
    let mut gas = GasStream::new(c.mix, M_KG_S, t_gas_k, unburnt_w);
    let section = SectionGas::new(d, c, &weights, M_KG_S);
    let cell = pass_cell(d, c, &section, &mut gas, t_wall_k, t_turns_k, grown);
    (cell, gas)
}

/// Values between the knots, straight in Re within an octave of 1 + Re/100: a straight function comes back as it is; held beyond 204,700.
#[test]
fn identity_a_table_over_reynolds_keeps_a_straight_line() {
    let t = ReTable::<2>::new(|re| [3.0 + 0.01 * re, -re]);
    for re in [0.0, 1.0, 99.0, 150.0, 2300.0, 77_777.0, 204_700.0] {
        let [a, b] = t.at(re);
        close("rising", a, 3.0 + 0.01 * re, 1e-12);
        assert!((b + re).abs() < 1e-9 * re.max(1.0));
    }
    assert_eq!(t.at(1e9), t.at(204_700.0));
    // Twelve knots in each octave: no step is wider than a twelfth of it.
    let bent = ReTable::<1>::new(|re| [(1.0 + re / 100.0).sqrt()]);
    for i in 0..2000 {
        let re = 100.0 * f64::from(i);
        close("bent", bent.at(re)[0], (1.0 + re / 100.0).sqrt(), 1e-3);
    }
}

/// A gas that cools against a wall: T_out - T_w = (T_in - T_w) exp(-U A/(m cp)), U of film, half the sheet and deposit in series; what the gas loses
/// the wall gets; face temperature, draught, Darcy friction and fittings by hand (dry air; Nu 0.02 Re, f Re 64).
#[test]
fn analytic_a_gas_cell_is_a_heat_exchanger() {
    let mix = GasMix::dry_air();
    for (convection, friction, grown) in [(1.0, 1.0, 0.0), (1.3, 0.8, 0.05)] {
        let c = PathConditions {
            duct_convection: convection,
            gas_friction: friction,
            ..conditions(mix)
        };
        let d = duct(0.0);
        let (t_in, t_wall) = (500.0, 400.0);
        let grown = Grown {
            wall_m2k_w: grown,
            turns_m2k_w: 0.0,
        };
        let (cell, gas) = pass(&d, &c, t_in, 0.0, t_wall, 0.0, grown);
        let (mu, k) = mix.mu_k(t_in);
        let re = M_KG_S * 0.15 / (d.area_m2 * mu);
        let h = convection * 0.02 * re * k / 0.15;
        close("film", cell.wall_h_w_m2k, h, 1e-9);
        let area = d.cell_wall_area_m2;
        // Half of the sheet: from 75 to 76 mm.
        let half = (76.0f64 / 75.0).ln() / (2.0 * PI * 0.4 * 0.5);
        let ua = 1.0 / (1.0 / (h * area) + half + grown.wall_m2k_w / area);
        let ntu = ua / (M_KG_S * mix.cp_j_kgk(t_in));
        let t_out = t_wall + (t_in - t_wall) * (-ntu).exp();
        assert!(ntu > 0.1);
        assert!((gas.t_k - t_out).abs() < 0.1, "{} {t_out}", gas.t_k);
        let t_mean = t_wall + (t_in - t_wall) * (1.0 - (-ntu).exp()) / ntu;
        close("mean", cell.t_mean_k, t_mean, 1e-4);
        let lost = M_KG_S * (mix.h_j_kg(t_in) - gas.h_j_kg);
        close("heat", cell.to_wall_w, lost, 1e-9);
        close("heat", cell.to_wall_w, ua * (t_mean - t_wall), 2e-3);
        let face = t_wall + cell.to_wall_w * (half + grown.wall_m2k_w / area);
        close("face", cell.wall_surface_k, face, 1e-9);
        assert_eq!(cell.to_turns_w, 0.0);
        let rho = 100_000.0 / (mix.r_j_kgk() * cell.t_mean_k);
        close(
            "draught",
            cell.buoyancy_pa,
            9.80665 * 0.3 * (1.2 - rho),
            1e-9,
        );
        let v = M_KG_S / (rho * d.area_m2);
        let darcy = 64.0 / re * 0.4 / 0.15 * 0.5 * rho * v * v;
        let fittings = 3.0 / 2.0 * 0.5 * rho * v * v;
        close("loss", cell.loss_pa, friction * (darcy + fittings), 1e-6);
    }
    // A wall cell that faces two gas cells gives each half of its face.
    let shared = Duct {
        wall_cells: 1,
        per_wall_cell: 2,
        ..duct(0.0)
    };
    let c = conditions(mix);
    let one = pass(&shared, &c, 500.0, 0.0, 400.0, 0.0, Grown::default()).0;
    let half = 2.0 * (76.0f64 / 75.0).ln() / (2.0 * PI * 0.4 * 0.5);
    close(
        "shared",
        one.wall_surface_k - 400.0,
        one.to_wall_w * half,
        1e-9,
    );
}

/// Radiation of a grey gas to a grey wall around it: exchange factor 1/(1/ε_g + 1/ε_w - 1) (Hottel & Sarofim); emissivity of the gas with soot as the
/// correlation has it, times its multiplier.
#[test]
fn published_a_hot_gas_radiates_to_its_wall() {
    for (a, b) in [(0.2f64, 0.8f64), (0.5, 0.5), (1.0, 0.3)] {
        let hottel = 1.0 / (1.0 / a + 1.0 / b - 1.0);
        close("exchange", grey_exchange(a, b), hottel, 1e-12);
    }
    let mix = GasMix::dry_air();
    let (t_in, t_wall) = (1100.0f64, 700.0f64);
    let weights = WsggWeights::new(0.1, 0.1);
    // Soot follows what still burns of the volatiles' 4 kW, here half or (at most) all of it.
    // However thick, no more than 0.95 (house rule).
    for (multiplier, soot, unburnt) in [
        (1.0, 0.0, 0.0),
        (1.1, 0.6, 2000.0),
        (1.0, 0.6, 9000.0),
        (1.0, 500.0, 4000.0),
    ] {
        let c = PathConditions {
            emissivity: multiplier,
            flame_soot_per_m: soot,
            duct_convection: 0.0,
            ..conditions(mix)
        };
        let d = duct(0.8);
        let cell = pass(&d, &c, t_in, unburnt, t_wall, 0.0, Grown::default()).0;
        assert_eq!(cell.released_w, 0.0);
        let left = (unburnt / 4000.0f64).min(1.0);
        let gas_emits = multiplier * weights.over(0.14).emissivity_with_soot(t_in, soot * left);
        let gas_emits = gas_emits.min(0.95);
        let exchange = 1.0 / (1.0 / gas_emits + 1.0 / 0.8 - 1.0);
        let h = exchange * SIGMA * (t_in * t_in + t_wall * t_wall) * (t_in + t_wall);
        let half = (76.0f64 / 75.0).ln() / (2.0 * PI * 0.4 * 0.5);
        let ua = 1.0 / (1.0 / (h * d.cell_wall_area_m2) + half);
        close("heat", cell.to_wall_w, ua * (cell.t_mean_k - t_wall), 1e-5);
        assert_eq!(cell.wall_h_w_m2k, 0.0);
    }
}

/// Burn-out: of what is left above the local shortage of air a share 1 - exp(-L/(C D) · reaction) burns in a cell, its heat goes into the gas; the hot
/// sheets burn in full, the rest as temperature allows.
#[test]
fn analytic_flames_burn_out_by_diameters() {
    let mix = GasMix::dry_air();
    for (sheets, floor_w, mixing, flame) in [
        (0.0, 0.0, 1.0, 1.0),
        (0.5, 300.0, 1.5, 1.0),
        (1.0, 100.0, 1.0, 0.4),
    ] {
        let c = PathConditions {
            sheet_share: sheets,
            unburnt_floor_w: floor_w,
            mixing_time: mixing,
            duct_convection: 0.0,
            ..conditions(mix)
        };
        let d = Duct {
            flame,
            sheets: 1.0,
            ..duct(0.0)
        };
        let t = 900.0;
        let (cell, gas) = pass(&d, &c, t, 700.0, t, 0.0, Grown::default());
        let react = sheets + (1.0 - sheets) * reaction_share(t);
        let share = 1.0 - (-0.4 / 0.15 * flame / (MIXING_CONSTANT * mixing) * react).exp();
        close("burnt", cell.released_w, (700.0 - floor_w) * share, 1e-4);
        close("left", gas.unburnt_w, 700.0 - cell.released_w, 1e-12);
        let warmed = M_KG_S * (gas.h_j_kg - mix.h_j_kg(t));
        close("warms", warmed, cell.released_w - cell.to_wall_w, 1e-9);
        assert!((gas.t_k - mix.t_from_h_k(gas.h_j_kg, t)).abs() < 0.5);
    }
    // Sheets reach only the sections that say so; among quenching turns nothing burns.
    let c = PathConditions {
        sheet_share: 1.0,
        ..conditions(mix)
    };
    let cold = |flame, sheets| {
        let d = Duct {
            flame,
            sheets,
            ..duct(0.0)
        };
        pass(&d, &c, 400.0, 2000.0, 400.0, 0.0, Grown::default())
            .0
            .released_w
    };
    assert!(cold(1.0, 0.0) < 0.01 * cold(1.0, 1.0));
    assert_eq!(cold(0.0, 1.0), 0.0);
}

/// A coil's turns in the gas beside its wall: both take heat in proportion to their conductances, film and radiation behind fouling and deposit, from a
/// mean gas temperature that tends to their weighted mean; each row costs ξ ½ρv² at the narrowest section.
#[test]
fn analytic_turns_and_wall_share_the_gas() {
    let mix = GasMix::dry_air();
    let weights = WsggWeights::new(0.1, 0.1);
    let (t_in, t_wall, t_turns) = (800.0f64, 500.0, 350.0f64);
    for (exposure, deposit, soot, emissivity) in [
        (1.0, 0.0, 0.0, 1.0),
        (1.2, 0.02, 0.0, 1.0),
        (1.0, 0.0, 3e3, 1.0),
        (1.0, 0.01, 2.0, 1.4),
    ] {
        let c = PathConditions {
            emissivity,
            flame_soot_per_m: soot,
            bank_exposure: exposure,
            gas_friction: 1.1,
            ..conditions(mix)
        };
        let d = Duct {
            bank: Some(bank()),
            ..duct(0.0)
        };
        let grown = Grown {
            turns_m2k_w: deposit,
            wall_m2k_w: 0.0,
        };
        let (cell, gas) = pass(&d, &c, t_in, 5000.0, t_wall, t_turns, grown);
        let (mu, k) = mix.mu_k(t_in);
        let re = M_KG_S * 0.022 / (0.008 * mu);
        let h_conv = exposure * 0.7 * 0.1 * re * k / 0.022;
        close("film", cell.turns_h_w_m2k, h_conv, 1e-9);
        let eps = emissivity * weights.over(0.02).emissivity_with_soot(t_in, soot);
        let eps = eps.min(0.95);
        let exchange = 1.0 / (1.0 / eps + 1.0 / 0.9 - 1.0);
        let h = h_conv + exchange * SIGMA * (t_in * t_in + t_turns * t_turns) * (t_in + t_turns);
        let g_turns = 0.12 / (1.0 / h + 0.01 + deposit);
        let half = (76.0f64 / 75.0).ln() / (2.0 * PI * 0.4 * 0.5);
        let g_wall = 1.0 / (1.0 / (cell.wall_h_w_m2k * d.cell_wall_area_m2) + half);
        close(
            "turns",
            cell.to_turns_w,
            g_turns * (cell.t_mean_k - t_turns),
            1e-5,
        );
        close(
            "wall",
            cell.to_wall_w,
            g_wall * (cell.t_mean_k - t_wall),
            1e-5,
        );
        let towards = (g_turns * t_turns + g_wall * t_wall) / (g_turns + g_wall);
        let ntu = (g_turns + g_wall) / (M_KG_S * mix.cp_j_kgk(t_in));
        let mean = towards + (t_in - towards) * (1.0 - (-ntu).exp()) / ntu;
        close("mean", cell.t_mean_k, mean, 1e-4);
        let lost = M_KG_S * (mix.h_j_kg(t_in) - gas.h_j_kg);
        close("energy", cell.to_wall_w + cell.to_turns_w, lost, 1e-9);
        let face = t_turns + cell.to_turns_w * (0.01 + deposit) / 0.12;
        close("face", cell.turns_surface_k, face, 1e-9);
        let face = t_wall + cell.to_wall_w * half;
        close("wall's face", cell.wall_surface_k, face, 1e-9);
        let section = SectionGas::new(&d, &c, &weights, M_KG_S);
        close("over the turns", section.per_turns_m2, 1.0 / 0.12, 1e-12);
        // Rows at the temperature of the gas that comes; the bore at the mean one.
        let rho = 100_000.0 / (mix.r_j_kgk() * t_in);
        let v = M_KG_S / (rho * 0.008);
        let rows = 2.5 * (300.0 + 0.4 * re) / re * 0.5 * rho * v * v;
        let without = pass(
            &duct(0.0),
            &c,
            cell.t_mean_k,
            0.0,
            cell.t_mean_k,
            0.0,
            Grown::default(),
        );
        let scale = mix.mu_k(t_in).0 / mix.mu_k(cell.t_mean_k).0;
        let fittings = {
            let rho = 100_000.0 / (mix.r_j_kgk() * cell.t_mean_k);
            let v = M_KG_S / (rho * d.area_m2);
            1.1 * 1.5 * 0.5 * rho * v * v
        };
        let bore = (without.0.loss_pa - fittings) * scale + fittings;
        close("rows", cell.loss_pa - bore, 1.1 * rows, 1e-4);
    }
}

/// Heat capacity of the stream at hand, and heat taken in one go or in many steps.
#[test]
fn identity_a_stream_keeps_its_enthalpy() {
    let mix = GasMix::dry_air();
    let mut gas = GasStream::new(mix, M_KG_S, 600.0, 0.0);
    close("per cp", gas.per_cp(), 1.0 / mix.cp_j_kgk(600.0), 1e-12);
    close(
        "per m cp",
        gas.per_mcp_k_w(),
        1.0 / (M_KG_S * mix.cp_j_kgk(600.0)),
        1e-12,
    );
    let h = gas.h_j_kg;
    for _ in 0..20 {
        gas.add_heat(mix, 60.0);
    }
    close("enthalpy", gas.h_j_kg - h, 1200.0 / M_KG_S, 1e-12);
    assert!((gas.t_k - mix.t_from_h_k(gas.h_j_kg, 700.0)).abs() < 1e-3);
    // Two terms of the series: within 0.1 K over 150 K in one go.
    let mut once = GasStream::new(mix, M_KG_S, 600.0, 0.0);
    once.add_heat(mix, 150.0 * M_KG_S * mix.cp_j_kgk(600.0));
    assert!((once.t_k - mix.t_from_h_k(once.h_j_kg, 700.0)).abs() < 0.1);
}

/// Cylinder beside a plane: conduction shape factor 2π/arcosh(z/r) (Incropera & DeWitt, table 4.1, from memory); air of 0.0263, 0.0373, 0.0469, 0.0549, 0.0620
/// W/mK at 300, 450, 600, 750, 900 K (table A.4, from memory) within 5 %; radiation as area × exchange × σ (T_w⁴ - T_t⁴).
#[test]
fn published_a_coil_on_a_wall_takes_heat_through_wedge_and_radiation() {
    let shape = Wrap::wedge_shape(0.011, 0.001);
    let z_r: f64 = 12.0 / 11.0;
    let arcosh = (z_r + (z_r * z_r - 1.0).sqrt()).ln();
    close("shape", shape, 2.0 * PI / arcosh, 1e-9);
    let mut wrap = Wrap {
        first_tube_cell: 0,
        wall_cell: vec![0],
        wedge_m: 5.0,
        filler_w_mk: None,
        radiating_m2: 0.0,
        hidden: vec![0.0],
    };
    for (t, k) in [
        (300.0, 0.0263),
        (450.0, 0.0373),
        (600.0, 0.0469),
        (750.0, 0.0549),
        (900.0, 0.0620),
    ] {
        close(
            "air",
            wrap.heat_w(1.0, t + 10.0, t - 10.0),
            20.0 * 5.0 * k,
            0.05,
        );
    }
    wrap.filler_w_mk = Some(0.8);
    close(
        "filler",
        wrap.heat_w(0.5, 500.0, 350.0),
        0.5 * 0.8 * 5.0 * 150.0,
        1e-9,
    );
    close(
        "back",
        wrap.heat_w(0.5, 350.0, 500.0),
        -0.5 * 0.8 * 5.0 * 150.0,
        1e-9,
    );
    wrap.filler_w_mk = Some(0.0);
    wrap.radiating_m2 = 0.03;
    let black = 0.03 * SIGMA * (500f64.powi(4) - 350f64.powi(4));
    close("radiation", wrap.heat_w(1.0, 500.0, 350.0), black, 1e-6);
}

/// Heat from a wall's outermost node: through half its layer, then off the surface by convection and radiation, 0.9 σ (T_s⁴ - T_a⁴); the surface temperature
/// closes both. Areas of a cylinder and of a box that grows by its thickness on all sides.
#[test]
fn analytic_a_wall_loses_what_its_surface_gives_off() {
    let layer = Layer {
        emissivity: 0.9,
        limit_k: Some(900.0),
        ..plain(0.03, 0.3, 2e6, false)
    };
    let inner = Layer {
        limit_k: Some(1300.0),
        ..plain(0.05, 1.0, 2e6, false)
    };
    for (shape, area, inside) in [
        (
            WallShape::Cylinder {
                inner_radius_m: 0.1,
                length_m: 0.7,
            },
            2.0 * PI * 0.18 * 0.7,
            2.0 * PI * 0.1 * 0.7,
        ),
        (
            WallShape::Box {
                inner_area_m2: 0.96,
                half_width_m: 0.2,
            },
            0.96 * 1.4 * 1.4,
            0.96,
        ),
    ] {
        let wall = Wall::new(&[inner.clone(), layer.clone()], shape, 1);
        close("outside", wall.outer_area_m2, area, 1e-9);
        close("inside", wall.inner_area_m2, inside, 1e-9);
        assert_eq!(wall.len(), 5);
        // Volume of all nodes: ∫ area dx.
        let heat: f64 = wall.nodes.iter().map(|n| n.capacity_j_k).sum();
        let volume = match shape {
            WallShape::Cylinder { .. } => PI * (0.18f64.powi(2) - 0.01) * 0.7,
            WallShape::Box { .. } => 0.96 * 0.2 / 3.0 * (1.4f64.powi(3) - 1.0),
        };
        close("volume", heat, 2e6 * volume, 1e-9);
        let limit = wall.limit.clone().map(|l| (l.0, l.2));
        assert_eq!(limit, Some((900.0, 3)));
        // Resistance of all nodes: ∫ dx / (k area), with k = k0 + k1 (T - 298.15 K), at least a tenth of k0.
        let path = match shape {
            WallShape::Cylinder { .. } => 1.8f64.ln() / (2.0 * PI * 0.7),
            WallShape::Box { .. } => 0.2 / 0.96 * (1.0 - 1.0 / 1.4),
        };
        let sloped = Layer {
            conductivity_w_mk: 0.4,
            conductivity_slope_w_mk2: -5e-4,
            ..plain(0.08, 0.4, 2e6, false)
        };
        for (t_k, k) in [
            (298.15, 0.4),
            (398.15, 0.35),
            (798.15, 0.15),
            (1500.0, 0.04),
        ] {
            let wall = Wall::new(std::slice::from_ref(&sloped), shape, 2);
            let all: f64 = wall
                .nodes
                .iter()
                .map(|n| n.resistance_in_k_w(t_k) + n.resistance_out_k_w(t_k))
                .sum();
            close("resistance", all, path / k, 1e-9);
        }
        let air = OutsideConvection::tabulate(|x| 3.0 + 0.01 * x);
        for (t_last, t_air, multiplier) in [
            (420.0f64, 290.0f64, 1.0),
            (600.0, 270.0, 1.2),
            (1000.0, 290.0, 1.0),
        ] {
            let q = outside_loss_w(&wall, &air, multiplier, t_last, t_air);
            let last = wall.nodes.last().unwrap();
            let t_s = t_last - q * last.resistance_out_k_w(t_last);
            let by_hand = multiplier
                * area
                * ((3.0 + 0.01 * (t_s - t_air)) * (t_s - t_air)
                    + 0.9 * SIGMA * (t_s.powi(4) - t_air.powi(4)));
            close("loss", q, by_hand, 1e-4);
        }
        close("table", air.at(-20.0), 3.2, 1e-9);
        close("end", air.at(1e4), 15.0, 1e-9);
    }
}

/// A row of cells against the equation they stand for, m cp dT/dx = -U' (T - T_w) with laminar film 3.66 k/d and half the sheet, by fine
/// Runge-Kutta steps. From the second cell on the film is taken where the middle of the cell turns out to be; halving the cells
/// quarters the error.
#[test]
fn analytic_a_row_of_gas_cells_follows_the_gas() {
    let mix = GasMix::dry_air();
    let c = conditions(mix);
    let (length_m, t_in, t_wall) = (6.4, 1200.0, 400.0);
    let half_mk_w = (76.0f64 / 75.0).ln() / (2.0 * PI * 0.5);
    let per_m = |t: f64| {
        let film = 3.66 * mix.k_w_mk(t) * PI;
        -(t - t_wall) / ((1.0 / film + half_mk_w) * M_KG_S * mix.cp_j_kgk(t))
    };
    let (mut exact, dx) = (t_in, length_m / 2000.0);
    for _ in 0..2000 {
        let k1 = per_m(exact);
        let k2 = per_m(exact + 0.5 * dx * k1);
        let k3 = per_m(exact + 0.5 * dx * k2);
        let k4 = per_m(exact + dx * k3);
        exact += dx / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
    }
    let row = |cells: usize, length_m: f64, near: f64| {
        let l = length_m / cells as f64;
        let shape = WallShape::Cylinder {
            inner_radius_m: 0.075,
            length_m: l,
        };
        let wall = Wall::new(&[plain(0.002, 0.5, 2e6, true)], shape, 1);
        let d = flue(wall, cells, l);
        let section = SectionGas::new(&d, &c, &WsggWeights::new(0.1, 0.1), M_KG_S);
        let mut gas = GasStream::new(mix, M_KG_S, t_in, 0.0);
        for i in 0..cells {
            let came = gas.t_k;
            let cell = pass_cell(&d, &c, &section, &mut gas, t_wall, 0.0, Grown::default());
            let film_k = if i == 0 { came } else { 0.5 * (came + gas.t_k) };
            let film = 3.66 * mix.k_w_mk(film_k) / 0.15;
            close("film", cell.wall_h_w_m2k, film, near);
        }
        // Into another section, of which the last one tells nothing.
        gas.enter();
        let came = gas.t_k;
        let cell = pass_cell(&d, &c, &section, &mut gas, t_wall, 0.0, Grown::default());
        close(
            "new section",
            cell.wall_h_w_m2k,
            3.66 * mix.k_w_mk(came) / 0.15,
            1e-9,
        );
        came
    };
    let off = [4, 8, 16].map(|n| row(n, length_m, 0.128 / (n * n) as f64) - exact);
    assert!(off[0].abs() < 6.0, "{off:?}");
    for pair in off.windows(2) {
        close("of second order", pair[0] / pair[1], 4.0, 0.12);
    }
    // Cells as long as several transfer units look no further than the wall that the gas tends to.
    row(4, 200.0, 0.05);
}

/// What burns in a cell first warms the gas, which then cools against the wall from there: T_out - T_w = (T_burnt - T_w) e^-NTU, with the heat capacity
/// of the burnt gas.
#[test]
fn analytic_a_gas_cell_burns_then_cools() {
    let mix = GasMix::dry_air();
    let c = PathConditions {
        sheet_share: 1.0,
        ..conditions(mix)
    };
    let d = Duct {
        flame: 1.0,
        sheets: 1.0,
        table: ReTable::new(|_| [40.0, 64.0]),
        ..duct(0.0)
    };
    let (t_in, t_wall) = (900.0, 500.0);
    for unburnt_w in [200.0, 500.0, 700.0] {
        let (cell, gas) = pass(&d, &c, t_in, unburnt_w, t_wall, 0.0, Grown::default());
        let burnt_h = mix.h_j_kg(t_in) + cell.released_w / M_KG_S;
        let burnt_k = mix.t_from_h_k(burnt_h, t_in);
        let half = (76.0f64 / 75.0).ln() / (2.0 * PI * 0.4 * 0.5);
        let ua = 1.0 / (1.0 / (cell.wall_h_w_m2k * d.cell_wall_area_m2) + half);
        let ntu = ua / (M_KG_S * mix.cp_j_kgk(burnt_k));
        let mean = t_wall + (burnt_k - t_wall) * (1.0 - (-ntu).exp()) / ntu;
        assert!(
            (cell.t_mean_k - mean).abs() < 0.2,
            "{} {mean}",
            cell.t_mean_k
        );
        let out_h = burnt_h - ua * (mean - t_wall) / M_KG_S;
        close("out", gas.h_j_kg, out_h, 1e-3);
    }
}
