//! What each command does with a scenario: new, check, burn, schema, explain; options; files written.

mod cli_support;

use cli_support::{Bench, Outcome, bundled, outcome};
use std::fs;

/// The starter scenario in a folder of its own.
fn with_starter() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "rig.toml"]).expect_code(0);
    bench
}

fn barrel() -> String {
    bundled("wash-up-barrel.toml")
        .to_string_lossy()
        .into_owned()
}

#[test]
fn practice_new_writes_a_scenario_that_checks_and_runs() {
    let bench = with_starter();
    assert!(bench.read("rig.toml").contains('#'), "commented");
    bench.run(&["check", "rig.toml"]).expect_code(0);
    bench.run(&["burn", "rig.toml"]).expect_code(0);
    assert!(bench.path("results/rig/summary.json").exists());
}

#[test]
fn practice_new_has_a_default_name_and_never_replaces_a_file_unasked() {
    let bench = Bench::new();
    let first = bench.run(&["new"]).expect_code(0);
    assert!(first.stdout.is_empty() && first.stderr.contains("scenario.toml"));
    bench.write("scenario.toml", "mine");
    let second = bench.run(&["new"]).expect_code(2);
    assert!(second.stderr.contains("--force"), "{}", second.stderr);
    assert_eq!(bench.read("scenario.toml"), "mine");
    bench.run(&["new", "--force", "--quiet"]).expect_code(0);
    assert_ne!(bench.read("scenario.toml"), "mine");
    bench.run(&["new", "no/such/folder/a.toml"]).expect_code(6);
}

#[test]
fn practice_new_to_standard_output_is_the_same_text() {
    let bench = with_starter();
    let printed = bench.run(&["new", "-"]).expect_code(0);
    assert_eq!(printed.stdout, bench.read("rig.toml"));
}

#[test]
fn practice_new_begins_from_any_bundled_rig() {
    let bench = Bench::new();
    let help = bench.run(&["new", "--help"]).expect_code(0).stdout;
    let mut count = 0;
    for entry in fs::read_dir(bundled("")).expect("the folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            continue;
        }
        let name = path
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        assert!(help.contains(&name), "{name} is not offered");
        let printed = bench.run(&["new", "-", "--like", &name]).expect_code(0);
        assert_eq!(
            printed.stdout,
            fs::read_to_string(&path).expect("a scenario")
        );
        count += 1;
    }
    assert_eq!(count, 7);
    let wrong = bench
        .run(&["new", "-", "--like", "cedar-tup"])
        .expect_code(2);
    assert!(wrong.stderr.contains("cedar-tub"), "{}", wrong.stderr);
}

#[test]
fn practice_a_scenario_may_come_from_standard_input() {
    let bench = with_starter();
    let text = bench.read("rig.toml");
    let from_stdin = outcome(
        bench
            .command(&["check", "-", "--no-pictures"])
            .write_stdin(text),
    )
    .expect_code(0);
    let from_file = bench
        .run(&["check", "rig.toml", "--no-pictures"])
        .expect_code(0);
    assert_eq!(from_stdin.stdout, from_file.stdout);
}

#[test]
fn practice_check_describes_the_rig_and_draws_it() {
    let bench = Bench::new();
    let outcome = bench.run(&["check", &barrel()]).expect_code(0);
    for word in [
        "Wash-up barrel",
        "outside area",
        "free gas area / flue area",
        "water in it",
        "heat from start to target",
    ] {
        assert!(outcome.stdout.contains(word), "{word}:\n{}", outcome.stdout);
    }
    for name in ["rig.svg", "rig.png"] {
        let file = bench.path("results/wash-up-barrel").join(name);
        assert!(file.exists(), "{name}");
    }
    assert!(
        !bench.path("results/wash-up-barrel/series.csv").exists(),
        "no run"
    );
}

#[test]
fn analytic_check_figures_follow_from_the_scenario() {
    let report = Bench::new()
        .run(&["check", &barrel(), "--json", "--no-pictures"])
        .expect_code(0)
        .json();
    assert_eq!(report["ok"], true);
    let part = |name: &str| {
        let parts = report["derived"].as_array().expect("a list");
        parts
            .iter()
            .find(|p| p["part"] == name)
            .expect("the part")
            .clone()
    };
    let near = |value: &serde_json::Value, expected: f64| {
        let value = value.as_f64().expect("a number");
        assert!(
            (value / expected - 1.0).abs() < 1e-3,
            "{value} against {expected}"
        );
    };
    // 9.1 m of 15.9/13.8 mm tube
    let coil = part("coil");
    near(
        &coil["outside_area_m2"],
        std::f64::consts::PI * 0.0159 * 9.1,
    );
    near(
        &coil["water_m3"],
        std::f64::consts::PI / 4.0 * 0.0138f64.powi(2) * 9.1,
    );
    // 420 mm bore less 60 % plug less one turn of 360 mm seen from below, over a 150 mm flue
    let area = |d: f64| std::f64::consts::PI / 4.0 * d * d;
    let free = 0.4 * area(0.42) - std::f64::consts::PI * 0.36 * 0.0159;
    near(&coil["free_gas_area_over_flue"], free / area(0.15));
    // 200 L from 4 to 65 degC: enthalpies of liquid water 16.8 and 272.1 kJ/kg (steam tables, IAPWS-IF97),
    // and an 18 kg drum at 0.46 to 0.50 kJ/kgK
    let heat = part("store")["heat_to_target_J"]
        .as_f64()
        .expect("a number");
    let water = 200.0 * (272.1 - 16.8) * 1e3;
    assert!((heat - water) > 18.0 * 430.0 * 61.0 && (heat - water) < 18.0 * 520.0 * 61.0);
}

#[test]
fn practice_units_change_tables_but_not_files_of_numbers() {
    let bench = Bench::new();
    let metric = bench
        .run(&["check", &barrel(), "--no-pictures"])
        .expect_code(0);
    let us = bench
        .run(&["check", &barrel(), "--no-pictures", "--units", "us"])
        .expect_code(0);
    assert!(metric.stdout.contains("°C") && !metric.stdout.contains("°F"));
    assert!(us.stdout.contains("°F") && !us.stdout.contains("°C"));
    let json = |units: &str| {
        bench
            .run(&[
                "check",
                &barrel(),
                "--no-pictures",
                "--json",
                "--units",
                units,
            ])
            .expect_code(0)
            .stdout
    };
    assert_eq!(json("metric"), json("us"));
}

#[test]
fn practice_problems_are_all_listed_on_standard_error_with_their_place() {
    let bench = with_starter();
    let broken = bench
        .read("rig.toml")
        .replacen("[fuel]", "[fuel]\nspecies_colour = \"red\"", 1)
        .replacen("[target]", "[target]\nnonsense = 3", 1);
    bench.write("rig.toml", &broken);
    for command in ["check", "burn"] {
        let outcome = bench.run(&[command, "rig.toml"]).expect_code(3);
        assert!(outcome.stdout.is_empty());
        for word in [
            "species_colour",
            "nonsense",
            "rig.toml:",
            "2 problems in `rig.toml`",
        ] {
            assert!(
                outcome.stderr.contains(word),
                "{command}: {word}:\n{}",
                outcome.stderr
            );
        }
    }
    assert!(!bench.path("results").exists(), "nothing is written");
    let report = bench
        .run(&["check", "rig.toml", "--json"])
        .expect_code(3)
        .json();
    assert_eq!(report["ok"], false);
    let problems = report["problems"].as_array().expect("a list");
    let errors = problems.iter().filter(|p| p["severity"] == "error");
    assert_eq!(errors.count(), 2);
}

#[test]
fn practice_overrides_change_the_run_and_wrong_ones_are_problems_of_the_scenario() {
    let bench = Bench::new();
    let area = |extra: &[&str]| {
        let scenario = barrel();
        let mut words = vec!["check", &scenario, "--json", "--no-pictures"];
        words.extend(extra);
        let report = bench.run(&words).expect_code(0).json();
        let parts = report["derived"].as_array().expect("a list").clone();
        let coil = parts
            .into_iter()
            .find(|p| p["part"] == "coil")
            .expect("a coil");
        coil["outside_area_m2"].as_f64().expect("a number")
    };
    let (base, shorter) = (area(&[]), area(&["--set", "coil[0].length=8.6 m"]));
    assert!((shorter / base - 8.6 / 9.1).abs() < 1e-6);

    let wrong = bench
        .run(&["check", &barrel(), "--set", "coil[0].lenght=12 m"])
        .expect_code(3);
    assert!(wrong.stderr.contains("lenght"), "{}", wrong.stderr);
    assert!(
        wrong.stderr.contains("length"),
        "suggests: {}",
        wrong.stderr
    );
}

fn burn(bench: &Bench, extra: &[&str]) -> Outcome {
    let scenario = barrel();
    let mut words = vec!["burn", &scenario];
    words.extend(extra);
    bench.run(&words)
}

#[test]
fn practice_burn_prints_a_summary_and_writes_numbers_and_pictures() {
    let bench = Bench::new();
    let outcome = burn(&bench, &[]).expect_code(0);
    assert!(!outcome.stdout.is_empty());
    assert!(
        outcome.stderr.contains("results/wash-up-barrel"),
        "{}",
        outcome.stderr
    );
    let dir = bench.path("results/wash-up-barrel");
    for name in [
        "series.csv",
        "summary.json",
        "timing.json",
        "tank.svg",
        "tank.png",
        "energy.svg",
        "rig.svg",
    ] {
        let size = fs::metadata(dir.join(name)).map(|m| m.len());
        assert!(size.is_ok_and(|n| n > 0), "{name}");
    }
    for entry in fs::read_dir(&dir).expect("a folder").flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        assert!(
            !name.starts_with('.') && !name.contains("tmp"),
            "left over: {name}"
        );
    }
}

#[test]
fn practice_every_bundled_scenario_checks_and_burns() {
    let bench = Bench::new();
    let mut count = 0;
    for entry in fs::read_dir(bundled("")).expect("the folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            // Studies and logs stand in folders of their own.
            continue;
        }
        let scenario = path.to_str().expect("text");
        bench.run(&["check", scenario, "-q"]).expect_code(0);
        let outcome = bench
            .run(&["burn", scenario, "--json", "--no-pictures", "-q"])
            .expect_code(0);
        let summary = outcome.json();
        let number = |key: &str| summary[key].as_f64().unwrap_or(f64::NAN);
        assert!(number("fuel_burnt_kg") > 0.5, "{scenario}");
        // of max(fuel energy, 1 MJ)
        assert!(number("energy_residual_fraction") <= 1e-5, "{scenario}");
        count += 1;
    }
    assert!(count >= 6, "{count} scenarios");
}

#[test]
fn practice_burn_with_json_prints_exactly_the_summary_file() {
    let bench = Bench::new();
    let outcome = burn(&bench, &["--json", "--no-pictures", "--out", "here"]).expect_code(0);
    assert_eq!(outcome.stdout, bench.read("here/summary.json"));
    assert!(!bench.path("here/tank.svg").exists());
    let summary = outcome.json();
    assert!(summary["title"].is_string());
    assert!(summary.get("time_to_target_s").is_some());
}

#[test]
fn identity_the_same_scenario_gives_the_same_bytes_and_only_timing_differs() {
    let bench = Bench::new();
    let mut printed = Vec::new();
    for (out, threads) in [("a", "1"), ("b", "2")] {
        let scenario = barrel();
        let mut command = bench.command(&["burn", &scenario, "--out", out]);
        let outcome = outcome(command.env("RAYON_NUM_THREADS", threads)).expect_code(0);
        printed.push(outcome.stdout);
    }
    assert_eq!(printed[0], printed[1]);
    let mut names: Vec<_> = fs::read_dir(bench.path("a"))
        .expect("a folder")
        .flatten()
        .map(|e| e.file_name())
        .collect();
    names.sort();
    assert!(names.len() > 10);
    for name in names {
        if name == "timing.json" {
            continue;
        }
        let bytes = |out: &str| fs::read(bench.path(out).join(&name)).expect("in both");
        assert!(bytes("a") == bytes("b"), "{name:?} differs");
    }
}

#[test]
fn practice_wall_clock_times_are_beside_the_summary_not_in_it() {
    let bench = Bench::new();
    burn(&bench, &["--no-pictures", "--out", "here"]).expect_code(0);
    let timing: serde_json::Value =
        serde_json::from_str(&bench.read("here/timing.json")).expect("JSON");
    for key in ["load_s", "run_s", "write_s"] {
        assert!(timing[key].as_f64().is_some_and(|s| s > 0.0), "{key}");
        assert!(!bench.read("here/summary.json").contains(key));
    }
}

#[test]
fn practice_quiet_says_nothing_and_verbose_says_more() {
    let bench = Bench::new();
    let quiet = burn(&bench, &["--no-pictures", "-q"]).expect_code(0);
    let normal = burn(&bench, &["--no-pictures"]).expect_code(0);
    let verbose = burn(&bench, &["--no-pictures", "-v"]).expect_code(0);
    assert!(quiet.stderr.is_empty(), "{}", quiet.stderr);
    assert_eq!(quiet.stdout, normal.stdout);
    assert_eq!(verbose.stdout, normal.stdout);
    assert!(verbose.stderr.len() > normal.stderr.len());
    assert!(
        verbose.stderr.contains("right-hand sides"),
        "{}",
        verbose.stderr
    );
    assert!(
        verbose.stderr.contains("added"),
        "events: {}",
        verbose.stderr
    );
}

#[test]
fn practice_progress_is_silent_off_a_terminal() {
    let outcome = burn(&Bench::new(), &["--no-pictures"]).expect_code(0);
    assert!(!outcome.stderr.contains('\r') && !outcome.stderr.contains('\x1b'));
}

#[test]
fn practice_schema_is_a_json_schema() {
    let schema = Bench::new().run(&["schema"]).expect_code(0).json();
    assert!(
        schema["$schema"]
            .as_str()
            .is_some_and(|s| s.contains("json-schema.org"))
    );
    let text = schema.to_string();
    for key in ["firebox", "gas_path", "moisture", "mouth_cover"] {
        assert!(text.contains(key), "{key}");
    }
}

#[test]
fn practice_explain_knows_every_code_that_a_message_shows() {
    let bench = with_starter();
    let broken = bench
        .read("rig.toml")
        .replacen("[fuel]", "[fuel]\nmoistur = 3", 1);
    bench.write("rig.toml", &broken);
    let report = bench
        .run(&["check", "rig.toml", "--json"])
        .expect_code(3)
        .json();
    let code = report["problems"][0]["code"]
        .as_str()
        .expect("a code")
        .to_owned();
    let text = bench.run(&["explain", &code.to_lowercase()]).expect_code(0);
    assert!(text.stdout.contains(&code), "{}", text.stdout);
    assert!(
        text.stdout.lines().count() > 2,
        "at length: {}",
        text.stdout
    );
    let json = bench
        .run(&["explain", &code, "--json"])
        .expect_code(0)
        .json();
    assert_eq!(json["code"], code.as_str());
}

#[test]
fn practice_explain_of_an_unknown_code_is_a_bad_command_line() {
    let outcome = Bench::new().run(&["explain", "E9999"]).expect_code(2);
    assert!(outcome.stderr.contains("E9999"), "{}", outcome.stderr);
    assert!(
        outcome.stderr.contains("nearest code"),
        "{}",
        outcome.stderr
    );
}

#[test]
fn practice_bands_are_part_of_a_burn_and_can_be_left_out() {
    let bench = with_starter();
    let read = |out: &str| -> serde_json::Value {
        serde_json::from_str(&bench.read(&format!("{out}/summary.json"))).expect("JSON")
    };
    let shown = bench
        .run(&[
            "burn",
            "rig.toml",
            "--no-pictures",
            "--bands",
            "32",
            "--out",
            "with",
        ])
        .expect_code(0);
    assert!(
        shown.stdout.contains("How sure: 10 / 50 / 90 %"),
        "{}",
        shown.stdout
    );
    let with = read("with");
    assert_eq!(with["bands"]["samples"], 32);
    let table = bench.read("with/bands.csv");
    assert!(
        table.starts_with("time_s,tank_mean_temperature_low_K,"),
        "{table}"
    );
    let shown = bench
        .run(&[
            "burn",
            "rig.toml",
            "--no-pictures",
            "--bands",
            "0",
            "--out",
            "without",
        ])
        .expect_code(0);
    assert!(!shown.stdout.contains("samples"), "{}", shown.stdout);
    let without = read("without");
    assert!(without["bands"].is_null() && !bench.path("without/bands.csv").exists());
    // The run itself is not touched by them.
    assert_eq!(with["time_to_target_s"], without["time_to_target_s"]);
    for wrong in ["3", "-1", "many", "65537"] {
        let bad = bench
            .run(&["burn", "rig.toml", &format!("--bands={wrong}")])
            .expect_code(2);
        assert!(bad.stderr.contains("8 to 65536"), "{}", bad.stderr);
    }
}
