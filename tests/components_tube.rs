//! A cell of tube, its film and its tables, each law written out by hand; plain geometry of a rig's parts.

mod support {
    pub mod loops;
}

use emberloop::components::spec::{Bore, Profile};
use emberloop::components::tube::{
    Carriage, DRIVEN, FREE, Film, METAL_FREE_S, NaturalTable, NodeWater, REST_SHARE, Stream,
    TubeCell, TubeTable, WallHeat, end_j_kg, film, pass_cell, temperature_k,
};
use emberloop::properties::water::Water;
use std::f64::consts::PI;
use support::loops::{G, cell, pass, smooth_pipe, unslowed};

fn close(what: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

fn film_at(c: &TubeCell, nu: f64, node_k: f64, over_k: f64, kg: f64, convection: f64) -> Film {
    let water = Water::shared();
    let node = NodeWater::at(water, node_k);
    let natural = NaturalTable::new(water);
    let table = smooth_pipe(nu);
    film(
        c,
        &table,
        &natural,
        convection,
        0.02,
        &node,
        node_k + over_k,
        kg,
    )
}

/// Nu of a laminar horizontal cylinder without its conduction limit, 0.518 Ra^(1/4)/[1 + (0.559/Pr)^(9/16)]^(4/9) (Churchill & Chu 1975), joined with the forced
/// one by third powers (Churchill 1977). The metal follows no faster than 0.3 s: it stands above its face by q · 0.3 s/C.
#[test]
fn published_film_of_water_below_boiling_written_out() {
    let water = Water::shared();
    let c = cell(0.02, 1.0, 0.0, 0.0, 3e5, true);
    for (forced, t_k, over, convection) in [
        (2.0, 320.0, 15.0, 1.0),
        (9.0, 350.0, 30.0, 1.0),
        (11.0, 300.0, 5.0, 1.2),
        (40.0, 360.0, -20.0, 0.9),
        (5.0, 472.0, -30.0, 1.0),
    ] {
        let p = water.liquid(t_k);
        let beta = (water.rho_kg_m3(t_k - 1.0) - water.rho_kg_m3(t_k + 1.0)) / 2.0 / p.rho_kg_m3;
        let nu = p.mu_pa_s / p.rho_kg_m3;
        // That of the face.
        let over_abs = f64::abs(over);
        let ra = G * beta * over_abs * 0.02f64.powi(3) * p.pr() / (nu * nu);
        let pr_part = (1.0 + (0.559 / p.pr()).powf(9.0 / 16.0)).powf(4.0 / 9.0);
        let standing = 0.518 * ra.powf(0.25) / pr_part;
        let joined = (f64::powi(forced, 3) + standing.powi(3)).cbrt();
        let g_w_k = convection * joined * p.k_w_mk / 0.02 * c.inside_area_m2;
        let metal = over * (1.0 + g_w_k * 0.3 / 380.0);
        let f = film_at(&c, forced, t_k, metal, c.water_kg, convection);
        close("heat", f.heat_w, g_w_k * over, 3e-3);
        close("face", f.face_k - t_k, over, 3e-3);
    }
    // Half-dry walls are wetted to 1.05 s/(s + 0.05) of the inventory's share s.
    let c = unslowed(0.02, 3e5);
    let (all, some) = (
        film_at(&c, 40.0, 350.0, 0.1, c.water_kg, 1.0),
        film_at(&c, 40.0, 350.0, 0.1, 0.2 * c.water_kg, 1.0),
    );
    let g = |f: &Film| f.heat_w / (f.face_k - 350.0);
    close("wetted", g(&some) / g(&all), 1.05 * 0.2 / 0.25, 1e-9);
}

/// Boiling adds q = ΔT³ through 880 kW/m2 at 18 K (Rohsenow 1952), bent towards 25 kW/m2K, up to the critical flux of some 1 MW/m2 at 35 to 45 K, and film boiling
/// of 250 W/m2K far beyond (pool boiling curve of water at 1 bar, from memory: minimum some 30 to 60 kW/m2 at 120 to 200 K).
#[test]
fn published_boiling_curve_at_the_wall() {
    let c = unslowed(0.02, 101_325.0);
    let t_sat = c.sat.t_k;
    let flux = |superheat: f64, node_k: f64| {
        let over_k = t_sat + superheat - node_k;
        let f = film_at(&c, 1e-6, node_k, over_k, c.water_kg, 0.0);
        close("face", f.face_k, t_sat + superheat, 1e-12);
        f.heat_w / c.inside_area_m2
    };
    // Convection is off here; 151 W/m2K3 · 18³ = 880 kW/m2.
    for superheat in [2.0f64, 5.0, 10.0] {
        let h = 151.0 * superheat * superheat;
        let bent = h / (1.0 + h / 25e3);
        let x4 = (superheat / 45.0).powi(4);
        let want = (bent + 250.0 * x4) / (1.0 + x4) * superheat;
        close("nucleate", flux(superheat, t_sat), want, 1e-9);
        close("Rohsenow", want, 880e3 * (superheat / 18.0).powi(3), 0.42);
        // Into colder water the bubbles carry the same heat.
        close("subcooled", flux(superheat, t_sat - 30.0), want, 1e-9);
    }
    let most = (1..100)
        .map(|i| flux(f64::from(i), t_sat))
        .fold(0.0, f64::max);
    assert!((0.4e6..1.3e6).contains(&most), "{most}");
    let at = (1..100)
        .max_by(|a, b| flux(f64::from(*a), t_sat).total_cmp(&flux(f64::from(*b), t_sat)))
        .unwrap_or(0);
    assert!((25..=45).contains(&at), "{at} K");
    close("film", flux(600.0, t_sat), 250.0 * 600.0, 0.01);
    assert_eq!(flux(-1.0, t_sat - 5.0), 0.0);
}

/// The metal stands above a boiling face by what passes in its time: both found again by halving, in water below, at and above saturation, below the critical flux.
#[test]
fn analytic_a_slowed_metal_boils_at_its_face() {
    let mut c = cell(0.02, 1.0, 0.0, 0.0, 101_325.0, true);
    let free = unslowed(0.02, 101_325.0);
    let mut compared = 0;
    for metal_s in [0.3, 2.0, 4.0] {
        c.metal_s = metal_s;
        c = c.prepared();
        let lag_k_w = metal_s / c.wall_j_k;
        for (node_k, convection) in [(-40.0, 1.0), (-5.0, 0.5), (0.0, 1.0), (0.5, 1.0)]
            .map(|(over, convection)| (c.sat.t_k + over, convection))
        {
            for metal_k in [2.0f64, 5.0, 10.0, 30.0, 80.0] {
                let of_face = |y: f64| film_at(&free, 30.0, node_k, y, c.water_kg, convection);
                let most = metal_k.min(25.0 + (c.sat.t_k - node_k).max(0.0));
                // Past the critical flux, as no fire gets it there, nothing is asked.
                if most + lag_k_w * of_face(most).heat_w < metal_k {
                    continue;
                }
                compared += 1;
                let (mut low, mut high) = (0.0, most);
                for _ in 0..60 {
                    let y = 0.5 * (low + high);
                    if y + lag_k_w * of_face(y).heat_w < metal_k {
                        low = y;
                    } else {
                        high = y;
                    }
                }
                let f = film_at(&c, 30.0, node_k, metal_k, c.water_kg, convection);
                let off = f.face_k - node_k - low;
                assert!(off.abs() < 0.15, "{metal_s} {node_k} {metal_k}: {off} K");
                close("heat", f.heat_w, of_face(low).heat_w, 0.02);
            }
        }
    }
    assert!(compared >= 50, "{compared}");
}

/// Values between the knots of Reynolds number (straight in an octave) and temperature, whose Prandtl number the water's table has (steam tables: 7.0 at 20, 3.6 at
/// 50, 1.75 at 100 °C).
#[test]
fn published_tables_of_a_tube_follow_reynolds_and_prandtl() {
    let water = Water::shared();
    let t = TubeTable::new(
        water,
        |re, pr| (4.0 + 0.01 * re) * pr,
        |re| 64.0 + 0.02 * re,
    );
    for re in [0.0, 70.0, 200.0, 1234.0, 56_789.0, 409_400.0] {
        let place = TubeTable::place(re);
        close("f Re", t.f_re(place), 64.0 + 0.02 * re, 1e-9);
        for (t_k, pr) in [(293.15, 7.0), (323.15, 3.55), (373.15, 1.75)] {
            close("Nu", t.nu(place, t_k), (4.0 + 0.01 * re) * pr, 0.02);
        }
        // At a knot of temperature exactly the water's own.
        let knot = 273.15 + 8.0 * 7.0;
        let pr = water.liquid(knot).pr();
        close("Nu", t.nu(place, knot), (4.0 + 0.01 * re) * pr, 1e-9);
        assert_eq!(t.nu(place, 200.0), t.nu(place, 273.15));
        let warm = t.nu(place, 273.15 + 8.0 * 24.5);
        let mean = 0.5 * (t.nu(place, 273.15 + 192.0) + t.nu(place, 473.15));
        close("between", warm, mean, 1e-6);
    }
}

/// Enthalpy of metal and water, and the temperature back: within 1e-4 K to 120 °C, 0.03 K to 200 °C, full or not. Critical flux of water at 1 atm on a large
/// face (Lienhard & Dhir's 0.149): 1.26 MW/m2 (Bergman et al., 6th ed., example 10.1).
#[test]
fn identity_a_cell_keeps_temperature_and_enthalpy_apart() {
    let water = Water::shared();
    let c = cell(0.02, 1.0, 0.0, 0.0, 101_325.0, true);
    close("scale", c.scale_j_k(), 20.0 + c.water_kg * 4186.0, 1e-12);
    for t_k in [275.0, 300.0, 350.0, 400.0, 470.0] {
        for kg in [c.water_kg, 0.3 * c.water_kg, 0.0] {
            let h = c.enthalpy_j(water, t_k, kg);
            let by_hand = 20.0 * (t_k - 298.15) + kg * water.h_j_kg(t_k);
            assert!((h - by_hand).abs() < 1e-9 * by_hand.abs().max(1.0));
            let n = c.node(water, h, kg);
            let near_k = if t_k < 393.0 { 1e-4 } else { 0.03 };
            assert!((n.t_k - t_k).abs() < near_k, "{t_k}, {kg}: {}", n.t_k);
            let off = n.h_j_kg - water.h_j_kg(t_k);
            assert!(off.abs() < 4600.0 * near_k, "{t_k}, {kg}: {off}");
        }
    }
    close(
        "critical",
        1.0 / c.per_critical_w,
        1.26e6 * c.inside_area_m2,
        0.01,
    );
    // Wet steam is at saturation, steam beyond warms by 2 kJ/kgK.
    let s = &c.sat;
    close(
        "water",
        temperature_k(water, s, water.h_j_kg(333.0)),
        333.0,
        1e-7,
    );
    assert_eq!(temperature_k(water, s, s.h_f_j_kg + 1e6), s.t_k);
    close(
        "steam",
        temperature_k(water, s, s.h_g_j_kg + 4e4),
        s.t_k + 20.0,
        1e-9,
    );
}

/// Darcy & Weisbach with laminar 64/Re (pipe of 20 mm, 3 m, 4 velocity heads): Δp = (f L/d + K) ½ρv².
#[test]
fn analytic_a_cell_loses_by_friction_and_fittings() {
    let water = Water::shared();
    let c = cell(0.02, 3.0, 0.0, 4.0, 3e5, false);
    for (w, t_k) in [(0.005, 300.0), (0.01, 330.0)] {
        let p = water.liquid(t_k);
        let area = PI / 4.0 * 0.02 * 0.02;
        let v = w / (p.rho_kg_m3 * area);
        let re = v * 0.02 * p.rho_kg_m3 / p.mu_pa_s;
        assert!(re < 2000.0);
        let dp = (64.0 / re * 3.0 / 0.02 + 4.0) * 0.5 * p.rho_kg_m3 * v * v;
        let node = NodeWater::at(water, t_k);
        let s = Stream::liquid(w, node.h_j_kg);
        let wall = WallHeat::default();
        for friction in [1.0, 1.4] {
            let r = pass_cell(
                &c,
                &smooth_pipe(4.0),
                friction,
                &s,
                &node,
                node.h_j_kg,
                c.water_kg,
                wall,
                &FREE,
            );
            close("loss", r.loss_pa, friction * dp, 5e-3);
        }
    }
}

/// A stream past water of another temperature: E/(E + w) of it changes places, F the cell's water over the time of
/// exchange: E = F²/(F + w) while pump or mains drive the loop, else F⁴/(F³/20 + w³) (`docs/model/water.md`); before that the wall's heat warms it by Q most/√(Q² + (most w)²), most up to the wall's enthalpy: never past it.
#[test]
fn analytic_a_stream_changes_places_with_a_cells_water() {
    let water = Water::shared();
    let c = cell(0.02, 1.0, 0.0, 0.0, 3e5, false);
    let table = smooth_pipe(4.36);
    let node = NodeWater::at(water, 350.0);
    let h_in = water.h_j_kg(300.0);
    for (w, heat_w, h_wall, carriage) in [
        (0.001, 0.0, 0.0, &FREE),
        (0.3, 0.0, 0.0, &DRIVEN),
        (0.3, 2000.0, h_in + 2e5, &DRIVEN),
        (0.05, 5e4, h_in + 5e4, &FREE),
        (0.05, -500.0, h_in - 1e4, &FREE),
        (0.05, 500.0, h_in - 1e4, &FREE),
    ] {
        let wall = WallHeat {
            heat_w,
            h_wall_j_kg: h_wall,
        };
        let s = Stream::liquid(w, h_in);
        let r = pass_cell(
            &c,
            &table,
            1.0,
            &s,
            &node,
            node.h_j_kg,
            c.water_kg,
            wall,
            carriage,
        );
        let most = h_wall - h_in;
        let warmed = if heat_w * most > 0.0 {
            f64::signum(most) / (1.0 / (most * most) + (w / heat_w) * (w / heat_w)).sqrt()
        } else {
            0.0
        };
        let full = c.water_kg / carriage.exchange_s;
        let e = if carriage.sharp {
            full.powi(4) / (0.05 * full.powi(3) + w.powi(3))
        } else {
            full * full / (full + w)
        };
        let out = h_in + warmed + e / (e + w) * (node.h_j_kg - h_in - warmed);
        close("enthalpy", r.out.h_j_kg, out, 1e-9);
        close("heat", r.from_node_w, w * (out - h_in), 1e-9);
        close("carried", r.out.enthalpy_w, w * out, 1e-9);
        assert_eq!(r.density_kg_m3, node.rho_kg_m3);
    }
}

/// The straight profile in a cell: half the harmonic mean of the slopes on both sides, a b/(a + b) (van Leer 1974), less where water is soon through; none at a
/// peak, half-dry cells as far as they are wetted. In a loop that moves by itself half of (a + 2 b)/3, at most of 2 a and of 2 b (Koren 1993, from memory).
#[test]
fn published_profile_of_a_cell_is_van_leers_or_korens() {
    let water = Water::shared();
    let c = cell(0.02, 1.0, 0.0, 0.0, 3e5, true);
    let node = NodeWater::at(water, 350.0);
    let kg = c.water_kg;
    let profile_of_a_second = |sharp| Carriage {
        profile_s: 1.0,
        sharp,
        ..DRIVEN
    };
    let (smooth, sharp) = (profile_of_a_second(false), profile_of_a_second(true));
    let end = |kg, w, a, b| end_j_kg(&c, &node, kg, &smooth, w, a, b) - node.h_j_kg;
    let koren = |w, a, b| end_j_kg(&c, &node, kg, &sharp, w, a, b) - node.h_j_kg;
    close("equal slopes", koren(0.0, 800.0, 800.0), 400.0, 1e-9);
    close("third order", koren(0.0, 900.0, 300.0), 250.0, 1e-9);
    close("third order", koren(0.0, -600.0, -900.0), -400.0, 1e-9);
    close("at most", koren(0.0, 300.0, 900.0), 300.0, 1e-9);
    close("at most", koren(0.0, 900.0, 100.0), 100.0, 1e-9);
    close(
        "soon through",
        koren(2.0 * kg, 800.0, 800.0),
        400.0 / 17.0,
        1e-9,
    );
    assert_eq!(koren(0.0, -900.0, 300.0), 0.0);
    close("equal slopes", end(kg, 0.0, 800.0, 800.0), 400.0, 1e-9);
    close("unequal", end(kg, 0.0, 900.0, 300.0), 225.0, 1e-9);
    close("falling", end(kg, 0.0, -900.0, -300.0), -225.0, 1e-9);
    close(
        "soon through",
        end(kg, 2.0 * kg, 800.0, 800.0),
        400.0 / 5.0,
        1e-9,
    );
    assert_eq!(end(kg, 0.0, 900.0, -300.0), 0.0);
    assert_eq!(end(0.0, 0.0, 900.0, 300.0), 0.0);
    let half = 1.05 * 0.5 / 0.55;
    close(
        "half dry",
        end(0.5 * kg, 0.0, 800.0, 800.0),
        400.0 * half,
        1e-9,
    );
}

/// Boiling: a full coil cell above saturation gives F (h - h_f) of heat to its own steam at rest; steam and water drift (Zuber & Findlay 1965: C0 1.2, 0.24 m/s),
/// α = j_g/(1.2 (j_g + j_l) + 0.24); friction grows with the homogeneous density, 1 + x (ρ_l/ρ_g - 1). Pipes: what boils goes with the stream.
#[test]
fn published_steam_drifts_through_the_water() {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let c = cell(0.02, 1.0, 0.0, 3.0, 101_325.0, true);
    let s = &c.sat;
    // At rest: all the heat over saturation in a second.
    let t_node = s.t_k + 3.0;
    let node = NodeWater::at(water, t_node);
    let still = pass(
        &c,
        &table,
        &Stream::liquid(0.0, s.h_f_j_kg),
        t_node,
        c.water_kg,
    );
    let boil_w = c.water_kg * (node.h_j_kg - s.h_f_j_kg);
    close(
        "steam",
        still.steam_kg_s,
        boil_w / (s.h_g_j_kg - node.h_j_kg),
        1e-6,
    );
    close("leaves", still.out.mdot_kg_s, still.steam_kg_s, 1e-9);
    close(
        "heat",
        still.from_node_w,
        still.steam_kg_s * s.h_g_j_kg,
        1e-9,
    );
    let area = PI / 4.0 * 0.02 * 0.02;
    let rho_l = node.rho_kg_m3;
    let void = |vapour: f64, liquid: f64| {
        let (j_g, j_l) = (vapour / area / s.rho_g_kg_m3, liquid / area / rho_l);
        j_g / (1.2 * (j_g + j_l) + 0.24)
    };
    let density = |alpha: f64| rho_l * (1.0 - alpha) + s.rho_g_kg_m3 * alpha;
    let mean = void(0.5 * still.steam_kg_s * still.out.quality, 0.0);
    close("density", still.density_kg_m3, density(mean), 1e-6);
    // A wet stream through a cell at saturation goes on as it came.
    let (w, x) = (0.02, 0.1);
    let mut wet = Stream::liquid(w, s.h_f_j_kg + x * s.h_fg_j_kg);
    wet.quality = x;
    let r = pass(&c, &table, &wet, s.t_k, c.water_kg);
    close("quality", r.out.quality, x, 1e-6);
    let rho_l = NodeWater::at(water, s.t_k).rho_kg_m3;
    let (j_g, j_l) = (w * x / area / s.rho_g_kg_m3, w * (1.0 - x) / area / rho_l);
    let alpha = j_g / (1.2 * (j_g + j_l) + 0.24);
    let want = rho_l * (1.0 - alpha) + s.rho_g_kg_m3 * alpha;
    close("density", r.density_kg_m3, want, 1e-5);
    let liquid = pass(
        &c,
        &table,
        &Stream::liquid(w, s.h_f_j_kg),
        s.t_k,
        c.water_kg,
    );
    close(
        "loss",
        r.loss_pa / liquid.loss_pa,
        1.0 + x * (rho_l / s.rho_g_kg_m3 - 1.0),
        1e-5,
    );
    // Refilled from the stream within a second, as far as it brings liquid: l s/(l + s).
    let kg = 0.6 * c.water_kg;
    let refill = pass(&c, &table, &wet, s.t_k, kg).inventory_kg_s;
    let (l, short) = (w * (1.0 - x), 0.4 * c.water_kg);
    close("refill", refill, l * short / (l + short), 1e-6);
    // Superheated steam is all steam and refills nothing.
    let mut dry = Stream::liquid(w, s.h_g_j_kg + 3e5);
    dry.quality = 1.0;
    let r = pass(&c, &table, &dry, s.t_k, kg);
    assert_eq!((r.out.quality, r.inventory_kg_s), (1.0, 0.0));
    // A pipe boils out of its stream: by the heat over saturation, bounded by what the stream can take.
    let pipe = cell(0.02, 1.0, 0.0, 3.0, 101_325.0, false);
    let r = pass(
        &pipe,
        &table,
        &Stream::liquid(w, s.h_f_j_kg),
        t_node,
        pipe.water_kg,
    );
    // The exchange of half a second, then the rest of a second.
    let full = pipe.water_kg / 0.5;
    let over = node.h_j_kg - s.h_f_j_kg;
    let exchange = |w: f64| full.powi(4) / (0.05 * full.powi(3) + w.powi(3));
    let boils = |rest_w: f64| 1.0 / (1.0 / rest_w + 0.975 / (pipe.water_kg * over));
    let boil = boils(exchange(w) * over);
    let most = w * s.h_fg_j_kg;
    close("pipe", r.from_node_w, boil * most / (boil + most), 1e-6);
    close(
        "quality",
        r.out.quality,
        r.from_node_w / w / s.h_fg_j_kg,
        1e-9,
    );
    // Cold water first takes up what it needs to boil.
    let cold = Stream::liquid(0.001, water.h_j_kg(s.t_k - 5.0));
    let r = pass(&pipe, &table, &cold, t_node, pipe.water_kg);
    let all = exchange(0.001) * over;
    let warming = 0.001 * (s.h_f_j_kg - cold.h_j_kg);
    let most = 0.001 * s.h_fg_j_kg;
    let boil = boils(all - warming);
    close(
        "warms",
        r.from_node_w,
        warming + boil * most / (boil + most),
        1e-6,
    );
}

/// Steam that comes into colder water condenses there: as much as the exchange can take, and the rest of the cell cools the water.
#[test]
fn analytic_steam_condenses_in_cold_water() {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let c = cell(0.02, 1.0, 0.0, 0.0, 101_325.0, false);
    let s = &c.sat;
    let node = NodeWater::at(water, 330.0);
    let full = c.water_kg / 0.5;
    let exchange = |full: f64, w: f64| full.powi(4) / (0.05 * full.powi(3) + w.powi(3));
    let short = s.h_f_j_kg - node.h_j_kg;
    for (w, x) in [(0.02, 0.05), (0.002, 0.3), (0.2, 0.5)] {
        let mut wet = Stream::liquid(w, s.h_f_j_kg + x * s.h_fg_j_kg);
        wet.quality = x;
        let r = pass(&c, &table, &wet, 330.0, c.water_kg);
        let latent = w * x * s.h_fg_j_kg;
        let most = 1.0 / (1.0 / exchange(full, w) + 0.975 / c.water_kg) * short;
        let out = if latent < most {
            let rest = full * (1.0 - latent / most);
            let e = exchange(rest, w);
            s.h_f_j_kg - e / (e + w) * short
        } else {
            wet.h_j_kg - most / w
        };
        close("out", r.out.h_j_kg, out, 1e-6);
        close("to the cell", -r.from_node_w, w * (wet.h_j_kg - out), 1e-6);
    }
}

/// Circle and rectangle, hydraulic diameter 4 A/P; a profile is straight between its points and flat outside.
#[test]
fn analytic_bores_and_profiles() {
    let round = Bore::Round { diameter_m: 0.15 };
    close("area", round.area_m2(), PI * 0.075 * 0.075, 1e-12);
    close("perimeter", round.perimeter_m(), PI * 0.15, 1e-12);
    close("hydraulic", round.hydraulic_diameter_m(), 0.15, 1e-12);
    let rect = Bore::Rect {
        width_m: 0.3,
        depth_m: 0.1,
    };
    close("area", rect.area_m2(), 0.03, 1e-12);
    close("perimeter", rect.perimeter_m(), 0.8, 1e-12);
    close("hydraulic", rect.hydraulic_diameter_m(), 0.15, 1e-12);
    let p = Profile {
        points: vec![(10.0, 1.0), (20.0, 3.0), (40.0, 2.0)],
    };
    for (t, v) in [
        (0.0, 1.0),
        (10.0, 1.0),
        (15.0, 2.0),
        (20.0, 3.0),
        (35.0, 2.25),
        (50.0, 2.0),
    ] {
        close("profile", p.at(t), v, 1e-12);
    }
    assert_eq!(Profile::constant(7.0).at(123.0), 7.0);
}

/// Forced and standing films near each other: (a³ + b³)^(1/3) within 5e-4 wherever one begins to beat the other, at temperatures between
/// which nothing is interpolated; beyond the tables' end, 200 °C, as at it.
#[test]
fn analytic_forced_and_standing_films_join_by_third_powers() {
    let water = Water::shared();
    let c = unslowed(0.02, 3e6);
    let nusselt = |t_k: f64, over: f64, forced: f64| {
        let f = film_at(&c, forced, t_k, over, c.water_kg, 1.0);
        let h = f.heat_w / (c.inside_area_m2 * (f.face_k - t_k));
        h * 0.02 / water.liquid(t_k).k_w_mk
    };
    for t_k in [293.15, 333.15, 393.15] {
        let standing = nusselt(t_k, 10.0, 1e-6);
        assert!(standing > 2.0);
        for ratio in [0.2, 0.5, 0.63, 0.7, 0.85, 1.0, 1.2, 1.5, 2.5] {
            let forced = ratio * standing;
            let joined = (forced.powi(3) + standing.powi(3)).cbrt();
            close("joined", nusselt(t_k, 10.0, forced), joined, 5e-4);
        }
    }
    let (end, beyond) = (nusselt(473.15, -10.0, 1e-6), nusselt(484.0, -10.0, 1e-6));
    close("held", beyond, end, 1e-9);
}

/// The film is that of the cell's own Reynolds number, 4 ṁ/(π d μ), forwards and backwards alike in size.
#[test]
fn analytic_the_film_follows_reynolds() {
    let water = Water::shared();
    let table = TubeTable::new(water, |re, _| 4.0 + 0.01 * re, |_| 64.0);
    let natural = NaturalTable::new(water);
    for (d, w, t_k) in [
        (0.02, 0.02, 320.0),
        (0.02, 0.2, 290.0),
        (0.012, 0.05, 350.0),
    ] {
        let c = cell(d, 1.0, 0.0, 0.0, 3e5, true);
        let node = NodeWater::at(water, t_k);
        let f = film(&c, &table, &natural, 1.0, w, &node, t_k + 1e-6, c.water_kg);
        let re = 4.0 * w / (PI * d * water.liquid(t_k).mu_pa_s);
        let h = (4.0 + 0.01 * re) * node.k_w_mk / d;
        let got = f.heat_w / (c.inside_area_m2 * (f.face_k - t_k));
        close("film", got, h, 1e-4);
    }
    let c = cell(0.02, 2.0, 0.0, 0.0, 3e5, true);
    close("metal", c.per.wall_k_j, 1.0 / 760.0, 1e-12);
    close("lag", c.per.metal_lag_k_w, METAL_FREE_S / 760.0, 1e-12);
}

/// Streams beside a cell's water where steam or refilling may come in: a cell half full takes l s/(l + s) of the water that has come to
/// E/(E + w) of the way; water too fast to boil in a cell over saturation leaves by the same law, and friction's multiplier counts.
#[test]
fn analytic_cold_water_past_a_half_full_or_hot_cell() {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    let coil = cell(0.02, 1.0, 0.0, 2.0, 101_325.0, true);
    let h_in = water.h_j_kg(300.0);
    // The law of a loop that moves by itself: F⁴/(F⁴ + s F³ w + w⁴).
    let share = |full: f64, w: f64| {
        let f = full / FREE.exchange_s;
        f.powi(4) / (f.powi(4) + REST_SHARE * f.powi(3) * w + w.powi(4))
    };
    for (w, filled) in [(0.01, 0.5), (0.3, 0.9), (0.05, 0.1)] {
        let kg = filled * coil.water_kg;
        let node_h = water.h_j_kg(340.0);
        let r = pass(&coil, &table, &Stream::liquid(w, h_in), 340.0, kg);
        let h = h_in + share(kg, w) * (node_h - h_in);
        let short = coil.water_kg - kg;
        let refill = w * short / (w + short);
        close("refill", r.inventory_kg_s, refill, 1e-9);
        close("enthalpy", r.out.h_j_kg, h, 1e-9);
        close("heat", r.from_node_w, w * (h - h_in) - refill * h, 1e-9);
        close("goes on", r.out.mdot_kg_s, w - refill, 1e-9);
    }
    // As in a driven loop, F²/(F² + F w + w²), with an exchange of a second.
    let second = Carriage {
        exchange_s: 1.0,
        ..DRIVEN
    };
    let in_a_second = |full: f64, w: f64| {
        let e = full * full / (full + w);
        e / (e + w)
    };
    let pipe = cell(0.02, 1.0, 0.0, 2.0, 101_325.0, false);
    let hot_k = pipe.sat.t_k + 4.0;
    let node = NodeWater::at(water, hot_k);
    for w in [0.05, 0.3] {
        let loss = |c: &TubeCell, friction: f64| {
            let s = Stream::liquid(w, h_in);
            let wall = WallHeat::default();
            let (kg, h) = (c.water_kg, node.h_j_kg);
            pass_cell(c, &table, friction, &s, &node, h, kg, wall, &second)
        };
        for c in [&pipe, &coil] {
            let r = loss(c, 1.0);
            let out = h_in + in_a_second(c.water_kg, w) * (node.h_j_kg - h_in);
            close("too fast to boil", r.out.h_j_kg, out, 1e-9);
            close("heat", r.from_node_w, w * (out - h_in), 1e-9);
            assert_eq!((r.out.quality, r.steam_kg_s), (0.0, 0.0));
            close("friction", loss(c, 1.7).loss_pa, 1.7 * r.loss_pa, 1e-12);
            // As the same water loses that nothing boils.
            let (input, wall) = (Stream::liquid(w, h_in), WallHeat::default());
            let (kg, h) = (c.water_kg, c.sat.h_f_j_kg);
            let cold = pass_cell(c, &table, 1.0, &input, &node, h, kg, wall, &second);
            close("loss", r.loss_pa, cold.loss_pa, 1e-12);
        }
    }
}

/// A cell that is dry and passed by nothing does nothing; next to nothing that comes into a coil's cell stays there with its enthalpy.
#[test]
fn identity_dry_cells_and_trickles_keep_mass_and_energy() {
    let water = Water::shared();
    let table = smooth_pipe(4.36);
    for inventory in [false, true] {
        let c = cell(0.02, 1.0, 0.0, 0.0, 101_325.0, inventory);
        for t_k in [300.0, c.sat.t_k, c.sat.t_k + 40.0] {
            for (h, quality) in [(water.h_j_kg(290.0), 0.0), (c.sat.h_f_j_kg + 1e6, 0.4)] {
                let still = Stream {
                    quality,
                    ..Stream::liquid(0.0, h)
                };
                let r = pass(&c, &table, &still, t_k, 0.0);
                assert_eq!(r.from_node_w, 0.0, "{t_k}, {h}");
                assert_eq!((r.inventory_kg_s, r.steam_kg_s, r.loss_pa), (0.0, 0.0, 0.0));
                assert!(r.out.h_j_kg.is_finite() && r.density_kg_m3 > 0.0);
            }
        }
    }
    let c = cell(0.02, 1.0, 0.0, 0.0, 101_325.0, true);
    let s = &c.sat;
    let at_sat = NodeWater::at(water, s.t_k);
    // Under a millionth of a milligram a second, from the stream and as steam.
    for (w, boil_w) in [(4e-13, 0.0), (0.0, 4e-7), (2e-13, 1e-6), (7e-13, 2e-7)] {
        for filled in [1.0, 0.999] {
            let kg = filled * c.water_kg;
            let end = s.h_f_j_kg + boil_w / kg;
            let input = Stream::liquid(w, s.h_f_j_kg);
            let wall = WallHeat::default();
            let r = pass_cell(&c, &table, 1.0, &input, &at_sat, end, kg, wall, &FREE);
            assert_eq!(
                (r.out.mdot_kg_s, r.out.enthalpy_w),
                (0.0, 0.0),
                "{w} {boil_w}"
            );
            let mass = r.inventory_kg_s - w;
            assert!(mass.abs() < 1e-20, "{w} {boil_w} {filled}: {mass}");
            let energy = r.from_node_w + input.enthalpy_w;
            assert!(energy.abs() < 1e-12, "{w} {boil_w} {filled}: {energy}");
            assert_eq!(r.steam_kg_s, 0.0);
        }
    }
}
