//! Damp masonry in whole burns: the account of energy and water, burns in a row.

mod cli_support;
mod support {
    pub mod account;
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::{burn, in_a_row};
use emberloop::components::spec::Rig;
use emberloop::network::Carried;
use emberloop::results::BurnResult;
use support::rigs::barrel;
use support::variants;

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
    // Short steps: the series lies between them.
    rig.solver.rtol *= 0.2;
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
