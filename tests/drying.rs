//! Damp masonry that dries: closed solutions of slabs, the account of energy and water, burns in a row.

mod cli_support;
mod support {
    pub mod account;
    pub mod parts;
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::{burn, in_a_row};
use emberloop::components::drying::{DampRow, Dried, VAPOUR_IN_AIR, WATER_J_KGK};
use emberloop::components::spec::{Layer, Rig};
use emberloop::components::wall::{Wall, WallShape};
use emberloop::components::wall_row::WallRow;
use emberloop::network::Carried;
use emberloop::properties::atmosphere;
use emberloop::properties::water::Water;
use emberloop::results::BurnResult;
use support::parts::plain;
use support::rigs::barrel;
use support::variants;

const P_PA: f64 = 101_325.0;
const RHO: f64 = 2000.0;
const C: f64 = 850.0;
const K: f64 = 1.0;

/// Brick of constant properties with water, vapour-tight unless told.
fn damp_brick(thickness_m: f64, moisture: f64) -> Layer {
    Layer {
        moisture,
        density_kg_m3: RHO,
        heat_capacity_j_kgk: C,
        ..plain(thickness_m, K, RHO * C, false)
    }
}

/// A square metre of flat wall with its working space.
struct Slab {
    wall: Wall,
    row: WallRow,
    damp: DampRow,
    e: Vec<f64>,
    share: Vec<f64>,
    left: Dried,
}

impl Slab {
    fn new(layers: &[Layer], cell_factor: usize, t_k: f64) -> Self {
        let flat = WallShape::Box {
            inner_area_m2: 1.0,
            half_width_m: 1e6,
        };
        let wall = Wall::new(layers, flat, cell_factor);
        let mut row = WallRow::default();
        row.push(&wall, 1);
        let mut damp = DampRow::new(Water::shared(), P_PA, 1000.0);
        damp.push(&wall, 1, "wall");
        let mut e: Vec<f64> = wall.nodes.iter().map(|n| n.state(t_k)).collect();
        let share = vec![1.0; damp.len()];
        damp.add_water(&mut e, &share);
        Self {
            wall,
            row,
            damp,
            e,
            share,
            left: Dried::default(),
        }
    }

    fn temperatures(&self) -> Vec<f64> {
        let mut t_k = vec![0.0; self.e.len()];
        self.row.temperatures(&self.e, &mut t_k);
        self.damp.temperatures(&self.e, &self.share, &mut t_k);
        t_k
    }

    /// What leaves at the present state.
    fn dried(&self, t_k: &[f64]) -> (Dried, Vec<f64>, Vec<f64>) {
        let n = self.e.len();
        let (mut open, mut out) = (vec![0.0; self.share.len()], vec![0.0; n]);
        let mut rates = vec![0.0; self.share.len()];
        let d = self.damp.dry(
            Water::shared(),
            t_k,
            &self.share,
            &mut open,
            &mut out,
            &mut rates,
        );
        (d, out, rates)
    }

    /// Short steps of Euler's method: `into_w` of the first node's temperature comes into it.
    fn march(&mut self, for_s: f64, step_s: f64, into_w: &dyn Fn(&Wall, f64) -> f64) -> f64 {
        let n = self.e.len();
        let (mut k, mut passed, mut de) = (vec![0.0; n], vec![0.0; n + 1], vec![0.0; n]);
        let mut heat_j = 0.0;
        for _ in 0..(for_s / step_s).round() as usize {
            let t_k = self.temperatures();
            let (d, out, rates) = self.dried(&t_k);
            let mut into = vec![0.0; n];
            into[0] = into_w(&self.wall, t_k[0]);
            self.row
                .rates(&t_k, &into, &out, &mut k, &mut passed, &mut de);
            for (e, de) in self.e.iter_mut().zip(&de) {
                *e += step_s * de;
            }
            for (s, rate) in self.share.iter_mut().zip(&rates) {
                *s += step_s * rate;
            }
            self.left.kg_s += step_s * d.kg_s;
            self.left.heat_w += step_s * d.heat_w;
            heat_j += step_s * into[0];
        }
        heat_j
    }

    fn energy_j(&self) -> f64 {
        self.wall.enthalpy_j(&self.e)
    }
}

/// Inner face held at a temperature.
fn held_at(t_k: f64) -> impl Fn(&Wall, f64) -> f64 {
    move |wall, first_k| (t_k - first_k) / wall.nodes[0].resistance_in_k_w(first_k)
}

/// Root of λ exp(λ²) erf λ = St/√π by bisection.
fn neumann(stefan: f64) -> f64 {
    // Series of erf, enough for arguments under 3.
    let erf = |x: f64| {
        let (mut term, mut sum) = (x, x);
        for n in 1..80 {
            term *= -x * x / f64::from(n);
            sum += term / f64::from(2 * n + 1);
        }
        2.0 / std::f64::consts::PI.sqrt() * sum
    };
    let (mut low, mut high) = (0.0_f64, 2.0_f64);
    for _ in 0..60 {
        let x = 0.5 * (low + high);
        if x * (x * x).exp() * erf(x) < stefan / std::f64::consts::PI.sqrt() {
            low = x;
        } else {
            high = x;
        }
    }
    0.5 * (low + high)
}

/// All the heat that a slab took is in the dry brick, and in its water's warming and evaporation: water × (c ΔT + latent).
#[test]
fn analytic_drying_a_slab_takes_its_water_times_warming_and_latent_heat() {
    let mut s = Slab::new(&[damp_brick(0.06, 0.08)], 2, 288.15);
    let kg = s.damp.water_kg(&s.share);
    // Flat to a millionth.
    assert!((kg / (0.08 * 0.06 * RHO) - 1.0).abs() < 1e-6, "{kg}");
    let start_j = s.energy_j();
    let heat_j = s.march(6.0 * 3600.0, 0.5, &|_, _| 3000.0);
    assert!(s.damp.water_kg(&s.share) < 1e-4 * kg, "{:?}", s.share);
    assert!((s.left.kg_s / kg - 1.0).abs() < 1e-4);
    // Energy closes to rounding.
    let stored_j = s.energy_j() - start_j;
    assert!((heat_j - stored_j - s.left.heat_w).abs() < 1e-6 * heat_j);
    // IAPWS-IF97 steam at 100 degC: 2675.6 kJ/kg over liquid at 25 degC of 104.8; from 15 degC the liquid brings -42 kJ/kg.
    let per_kg = s.left.heat_w / s.left.kg_s;
    assert!((per_kg / 2570.8e3 - 1.0).abs() < 2e-3, "{per_kg}");
    let warming = WATER_J_KGK * (s.damp.boils_k() - 288.15);
    let latent = Water::shared().h_fg_at_t_j_kg(s.damp.boils_k());
    let brick_j: f64 = s
        .temperatures()
        .iter()
        .zip(&s.wall.nodes)
        .map(|(t, n)| n.capacity_j_k * (t - 288.15))
        .sum();
    let expected_j = brick_j + kg * (warming + latent);
    assert!(
        (heat_j / expected_j - 1.0).abs() < 1e-3,
        "{heat_j} for {expected_j}"
    );
}

/// One-phase problem of Stefan (Neumann's solution; Carslaw & Jaeger, Conduction of Heat in Solids, ch. 11, from memory): half-space
/// at the boiling point, face held hotter, the front at 2 λ √(α t) with λ exp(λ²) erf λ = St/√π, St = c ΔT/(u L).
#[test]
fn analytic_the_drying_front_moves_as_neumann_says() {
    let latent = Water::shared().h_fg_at_t_j_kg(373.124);
    let alpha = K / (RHO * C);
    for (moisture, over_k) in [(0.08, 200.0), (0.15, 200.0), (0.05, 100.0)] {
        let lambda = neumann(C * over_k / (moisture * latent));
        let mut s = Slab::new(&[damp_brick(0.25, moisture)], 24, 373.124);
        let face = held_at(373.124 + over_k);
        let mut fronts = Vec::new();
        for _ in 0..2 {
            let hours = if fronts.is_empty() { 1.0 } else { 3.0 };
            s.march(hours * 3600.0, 0.25, &face);
            fronts.push(s.left.kg_s / (moisture * RHO));
        }
        for (front_m, hours) in fronts.iter().zip([1.0, 4.0f64]) {
            let exact_m = 2.0 * lambda * (alpha * hours * 3600.0).sqrt();
            println!("u {moisture} dT {over_k} h {hours}: {front_m} exact {exact_m}");
            assert!(
                (front_m / exact_m - 1.0).abs() < 0.04,
                "{moisture} {over_k} {hours} h: {front_m} for {exact_m}"
            );
        }
        // As the root of time.
        assert!((fronts[1] / fronts[0] - 2.0).abs() < 0.04, "{fronts:?}");
    }
}

/// The three nodes of a burn tell how much has dried to an eighth of the water at the worst moment, and when all has.
#[test]
fn analytic_few_nodes_dry_a_brick_about_as_fast_as_many() {
    let dried = |factor: usize, hours: f64| {
        let mut s = Slab::new(&[damp_brick(0.06, 0.08)], factor, 288.15);
        let step_s = 4.0 / (factor * factor) as f64;
        s.march(hours * 3600.0, step_s, &held_at(773.15));
        s.left.kg_s / (0.08 * 0.06 * RHO)
    };
    for hours in [0.5, 1.0, 2.0] {
        let (few, many) = (dried(1, hours), dried(8, hours));
        println!("{hours} h: {few} of {many}");
        assert!((few - many).abs() < 0.125, "{hours}: {few} of {many}");
    }
}

/// Each node stays at the boiling point until its water has gone, and one after the other leaves it.
#[test]
fn identity_the_plateau_at_the_boiling_point_moves_inwards() {
    let mut s = Slab::new(&[damp_brick(0.08, 0.08)], 2, 288.15);
    let n = s.share.len();
    // When each node came to the boiling point, and when it was 15 K over it.
    let (mut came, mut left) = (vec![f64::NAN; n], vec![f64::NAN; n]);
    let mut when_left = vec![f64::NAN; n];
    for minute in 0..200 {
        s.march(60.0, 0.5, &held_at(873.15));
        for (i, t) in s.temperatures().iter().enumerate() {
            if came[i].is_nan() && *t > 372.5 {
                came[i] = f64::from(minute);
            }
            if left[i].is_nan() && *t > 388.15 {
                left[i] = f64::from(minute);
                when_left[i] = s.share[i];
            }
        }
    }
    println!("{came:?} {left:?} {when_left:?}");
    // The first is there within the first minute.
    for i in 1..n {
        assert!(left[i] > came[i], "{i}");
        assert!(left[i] > left[i - 1], "{i}: {left:?}");
        assert!(when_left[i] < 0.2, "{i}: it leaves wet: {when_left:?}");
    }
    // The deeper the longer.
    assert!(left[n - 1] - came[n - 1] > 3.0 * (left[1] - came[1]));
}

/// A node without water is the node that it is in a dry wall, bit for bit.
#[test]
fn identity_dried_nodes_are_dry_nodes() {
    let wet = Layer {
        heat_capacity_slope_j_kgk2: 0.3,
        conductivity_slope_w_mk2: 2e-4,
        vapour_resistance: Some(16.0),
        ..damp_brick(0.05, 0.1)
    };
    let mut a = Slab::new(std::slice::from_ref(&wet), 1, 700.0);
    let dry = Layer {
        moisture: 0.0,
        ..wet
    };
    let b = Slab::new(&[dry], 1, 700.0);
    a.share.fill(0.0);
    a.e.clone_from(&b.e);
    assert_eq!(a.temperatures(), b.temperatures());
    let (d, out, rates) = a.dried(&a.temperatures());
    assert_eq!(d, Dried::default());
    assert!(out.iter().chain(&rates).all(|v| *v == 0.0));
}

/// Saturation at altitude: 93.4 degC at 2000 m, 86.9 at 4000 m (boiling point over altitude by ICAO's atmosphere and the steam
/// tables; common kitchen tables, from memory, to half a degree).
#[test]
fn published_walls_dry_at_the_boiling_point_of_the_altitude() {
    for (altitude_m, boils_c) in [(0.0, 100.0), (2000.0, 93.4), (4000.0, 86.9)] {
        let p = atmosphere::pressure_pa(altitude_m);
        let damp = DampRow::new(Water::shared(), p, 800.0);
        assert!(
            (damp.boils_k() - 273.15 - boils_c).abs() < 0.5,
            "{altitude_m}"
        );
    }
}

/// Below boiling a layer of dry brick passes δ A/(μ d) × the Stefan-flow difference of pressures, and nothing where both
/// faces are tight. Stefan's law: Bird, Stewart & Lightfoot, Transport Phenomena, ch. 18 (from memory).
#[test]
fn analytic_below_boiling_vapour_diffuses_through_what_is_dry() {
    let dry = Layer {
        vapour_resistance: Some(10.0),
        ..damp_brick(0.03, 0.0)
    };
    let wet = Layer {
        vapour_resistance: Some(10.0),
        ..damp_brick(0.02, 0.05)
    };
    let tight = Layer {
        thin: true,
        ..plain(0.001, 50.0, 4e6, true)
    };
    let t_k = 333.15;
    let s = Slab::new(&[dry, wet, tight], 1, t_k);
    let (d, _, rates) = s.dried(&s.temperatures());
    // Of the two nodes of the wet layer the second cannot get past the first.
    assert!(rates[0] < 0.0 && rates[1] == 0.0, "{rates:?}");
    let node = 0.5 * 0.35 * 0.02;
    let p = Water::shared().p_sat_pa(t_k);
    let stefan = P_PA * ((P_PA - 1000.0) / (P_PA - p)).ln();
    let expected = VAPOUR_IN_AIR / (10.0 * (0.03 + node)) * stefan;
    // The limit of the node's own rate takes a little of it.
    assert!(
        d.kg_s <= expected && d.kg_s > 0.97 * expected,
        "{} for {expected}",
        d.kg_s
    );
    // 60 degC: 19.9 kPa (steam tables).
    assert!((p / 19_946.0 - 1.0).abs() < 1e-3);
    let shut = Slab::new(&[damp_brick(0.05, 0.05)], 1, t_k);
    assert_eq!(shut.dried(&shut.temperatures()).0, Dried::default());
}

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

/// The barrel's stove with water in its fire brick.
fn damp_barrel(moisture: f64) -> Rig {
    let mut r = barrel();
    r.stop.at_target = false;
    r.stop.latest_s = 5400.0;
    r.firebox.wall[0].vapour_resistance = Some(16.0);
    r.firebox.wall[0].moisture = moisture;
    r
}

#[test]
fn identity_energy_and_water_of_damp_walls_close_and_need_their_line() {
    let mut door = variants::door_stove();
    door.firebox.door.clear();
    let mut mass = variants::masonry();
    for s in &mut mass.gas_path {
        for l in &mut s.wall {
            if !l.thin {
                (l.moisture, l.vapour_resistance) = (0.05, Some(10.0));
            }
        }
    }
    for (name, rig) in [
        ("barrel", damp_barrel(0.08)),
        ("damp masonry", variants::damp()),
        ("all of it damp", mass),
    ] {
        let r = run(&rig);
        support::account::assert_closes(name, &r);
        let s = &r.summary;
        let fuel = s.fuel_energy_gross_J;
        let line = r.ledger.outputs.iter().find(|l| l.key == "drying");
        let drying_j = line.map_or(0.0, |l| l.energy_j);
        assert_eq!(Some(drying_j), s.drying_heat_J);
        assert!(drying_j > 1e-3 * fuel, "{name}: {drying_j}");
        let water = r.ledger.masses.iter().find(|m| m.name == "wall_water");
        let water = water.unwrap_or_else(|| panic!("{name}: no account of water"));
        assert!(water.out_kg > 0.05 && water.stored_kg >= 0.0, "{water:?}");
        assert_eq!(s.wall_water_left_kg, Some(water.stored_kg));
        println!(
            "{name}: {:.2} MJ, {:.2} of {:.2} kg, {:?}, residual {:e} steps {} rhs {}",
            drying_j * 1e-6,
            water.out_kg,
            water.in_kg,
            s.drying_fraction,
            r.ledger.residual_fraction,
            s.solver.steps,
            s.solver.right_hand_sides
        );
    }
}

/// Wet walls take heat that the gas then lacks; the next burn, with what water is left, lies between. Common practice, no source: new
/// masonry runs cool for its first burns.
#[test]
fn practice_a_wet_stove_runs_cooler_and_the_second_burn_lies_between() {
    let (wet, dry) = (damp_barrel(0.08), damp_barrel(0.0));
    let row = in_a_row(&wet, 3, &mut |_| ()).expect("burns");
    let bare = run(&dry).summary;
    for b in &row {
        println!("{b:?}");
        assert!(b.energy_residual_fraction < 1e-10 && b.mass_residual_fraction < 1e-9);
    }
    println!(
        "{:?} {:?}",
        bare.stack_temperature_mean_K, bare.chamber_mean_K
    );
    let stack = |k: Option<f64>| k.expect("it burnt");
    let order = [
        stack(row[0].stack_temperature_mean_K),
        stack(row[1].stack_temperature_mean_K),
        stack(bare.stack_temperature_mean_K),
    ];
    assert!(order[0] < order[1] && order[1] < order[2], "{order:?}");
    assert!(row[0].heat_to_tank_J < row[1].heat_to_tank_J);
    assert!(row[1].heat_to_tank_J < bare.heat_to_tank_J);
    assert!(row[0].drying_heat_J > row[1].drying_heat_J);
    // Each goes on from what the one before left.
    for pair in row.windows(2) {
        let left = pair[0].wall_water_kg - pair[0].dried_kg;
        assert!((pair[1].wall_water_kg - left).abs() < 1e-9);
    }
    assert!(row[2].wall_water_kg < row[1].wall_water_kg);
}

/// A burn that begins with given shares begins with that water.
#[test]
fn identity_a_burn_goes_on_from_the_water_that_is_left() {
    let rig = damp_barrel(0.06);
    let net = emberloop::network::Network::new(&rig).expect("assembles");
    let n = net.damp_shares(&net.initial_state()).len();
    let options = emberloop::analyses::BurnOptions {
        carried: Carried {
            water: vec![0.25; n],
            ..Carried::default()
        },
        ..Default::default()
    };
    let s = burn(&rig, &options, &mut |_| true).expect("runs").summary;
    let of = |s: &emberloop::results::Summary| {
        s.dried_kg.unwrap_or(f64::NAN) + s.wall_water_left_kg.unwrap_or(f64::NAN)
    };
    let full = run(&rig).summary;
    assert!((of(&s) / of(&full) - 0.25).abs() < 1e-9);
    assert!((s.wall_moisture[0].at_lighting_fraction - 0.015).abs() < 1e-12);
    assert_eq!(s.wall_moisture[0].layer, "firebox.wall[0]");
}

/// Vapour's ways and a key of nothing change no bit of a dry rig.
#[test]
fn identity_dry_rigs_are_as_they_were() {
    let a = serde_json::to_string(&run(&damp_barrel(0.0)).summary).expect("serializes");
    let mut rig = damp_barrel(0.0);
    rig.firebox.wall[0].vapour_resistance = None;
    let b = serde_json::to_string(&run(&rig).summary).expect("serializes");
    assert_eq!(a, b);
    assert!(a.contains("\"drying_heat_J\":null"));
}

/// Every number of a damp layer moves what a person reads.
#[test]
fn practice_every_number_of_a_damp_layer_moves_a_result() {
    let reads = |rig: &Rig| {
        let s = run(rig).summary;
        (s.dried_kg, s.stack_temperature_mean_K, s.heat_in_walls_J)
    };
    let base = reads(&damp_barrel(0.05));
    let mut more = damp_barrel(0.05);
    more.firebox.wall[0].moisture *= 1.05;
    assert_ne!(reads(&more), base);
    let mut tighter = damp_barrel(0.05);
    tighter.firebox.wall[0].vapour_resistance = Some(20.0);
    assert_ne!(reads(&tighter), base);
    let mut higher = damp_barrel(0.05);
    higher.site.altitude_m += 500.0;
    assert!(reads(&higher).0 != base.0);
}

/// The tolerance of a burn is tight enough for its drying.
#[test]
fn identity_a_tighter_run_dries_as_much() {
    let rig = damp_barrel(0.08);
    let mut tight = rig.clone();
    tight.solver.rtol *= 0.05;
    let (a, b) = (run(&rig).summary, run(&tight).summary);
    let (a_kg, b_kg) = (a.dried_kg.unwrap_or(0.0), b.dried_kg.unwrap_or(1.0));
    println!("{a_kg} {b_kg} {} {}", a.solver.steps, b.solver.steps);
    assert!((a_kg / b_kg - 1.0).abs() < 5e-3, "{a_kg} {b_kg}");
}

/// Random damp rigs: the account closes, water only leaves, and never more than there was.
#[test]
fn identity_random_damp_rigs_close() {
    let mut seed = 7_u64;
    let mut next = || {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 11) as f64 / (1_u64 << 53) as f64
    };
    for i in 0..24 {
        let mut rig = match i % 3 {
            0 => barrel(),
            1 => variants::masonry(),
            _ => variants::door_stove(),
        };
        rig.stop.at_target = false;
        rig.stop.latest_s = 600.0 + 4000.0 * next();
        rig.site.altitude_m = 3000.0 * next();
        rig.site.relative_humidity = next();
        let f = &mut rig.firebox.wall;
        if next() < 0.5 {
            f[0].thickness_m *= 0.3 + 1.5 * next();
        }
        let sections = rig.gas_path.iter_mut().map(|s| &mut s.wall);
        for l in [&mut rig.firebox.wall]
            .into_iter()
            .chain(sections)
            .flatten()
        {
            if !l.thin && next() < 0.7 {
                l.moisture = 0.30 * next();
                l.vapour_resistance = (next() < 0.8).then(|| 1.0 + 100.0 * next());
            }
        }
        let b = run(&rig);
        support::account::assert_closes(&format!("{i}: {}", rig.title), &b);
        let s = &b.summary;
        let (Some(dried), Some(left)) = (s.dried_kg, s.wall_water_left_kg) else {
            continue;
        };
        assert!(dried >= 0.0 && left > -1e-4, "{i}: {dried} {left}");
        for l in &s.wall_moisture {
            assert!(l.left_fraction <= l.at_lighting_fraction + 1e-12, "{l:?}");
            assert!(l.left_fraction > -1e-5, "{l:?}");
        }
        assert!(s.drying_heat_J.is_some_and(|j| j >= 2.4e6 * dried));
    }
}

/// Burns in a row on the command line: table, CSV and picture; refused where no wall holds water.
#[test]
fn practice_burns_in_a_row_are_told_burn_by_burn() {
    let bench = cli_support::Bench::new();
    let scenario = cli_support::bundled("wash-up-barrel.toml");
    let scenario = scenario.to_string_lossy();
    let moist = "firebox.wall[0].moisture=8 %";
    let out = bench
        .run(&[
            "burn",
            &scenario,
            "--set",
            moist,
            "--in-a-row",
            "3",
            "--bands",
            "0",
            "--out",
            "wet",
        ])
        .expect_code(0);
    assert!(
        out.stdout.contains("Burns in a row") && out.stdout.contains("W0250"),
        "{}",
        out.stdout
    );
    let csv = bench.read("wet/burns-in-a-row.csv");
    assert_eq!(csv.lines().count(), 4, "{csv}");
    assert!(bench.path("wet/burns-in-a-row.svg").exists());
    let summary: serde_json::Value =
        serde_json::from_str(&bench.read("wet/summary.json")).expect("JSON");
    let dried = summary["dried_kg"].as_f64().expect("damp");
    let first: Vec<&str> = csv.lines().nth(1).expect("a burn").split(',').collect();
    assert_eq!(first[2].parse::<f64>().expect("a number"), dried);
    let series = bench.read("wet/series.csv");
    let head = series.lines().next().expect("a head");
    assert!(head.contains("heat_drying_W") && head.contains("wall_water_kg"));
    let dry = bench
        .run(&["burn", &scenario, "--in-a-row", "3", "--bands", "0"])
        .expect_code(2);
    assert!(dry.stderr.contains("no wall holds water"), "{}", dry.stderr);
}

/// Series and account are two records of the same flow, with the walls' heat on its own side.
#[test]
fn identity_the_series_of_drying_adds_up_to_the_account() {
    let mut rig = damp_barrel(0.08);
    rig.solver.output_interval_s = 0.5;
    let r = run(&rig);
    let t = r.series.get("time_s").expect("time");
    let sum = |column: &str| {
        let v = r.series.get(column).expect(column);
        (1..t.len())
            .map(|i| 0.5 * (v[i] + v[i - 1]) * (t[i] - t[i - 1]))
            .sum::<f64>()
    };
    let s = &r.summary;
    let drying = s.drying_heat_J.expect("damp");
    println!(
        "{} {drying} {} {}",
        sum("heat_drying_W"),
        sum("heat_into_walls_W"),
        s.heat_in_walls_J
    );
    // Between steps a node's temperature is interpolated, and a tenth of a kelvin at its front is a fiftieth of what it dries by.
    assert!((sum("heat_drying_W") / drying - 1.0).abs() < 1e-2);
    let walls = s.heat_in_walls_J;
    assert!((sum("heat_into_walls_W") / walls - 1.0).abs() < 1e-2);
}
