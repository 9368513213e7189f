//! `size`, `trade` and `sensitivity` on a bundled scenario: answers against fine scans and burns, refusals.

mod cli_support;

use cli_support::{Bench, bundled};
use serde_json::Value;

fn barrel() -> String {
    bundled("wash-up-barrel.toml").display().to_string()
}

/// Time to target of the barrel with one value set, seconds.
fn time_s(bench: &Bench, scenario: &str, set: &[&str]) -> Option<f64> {
    let mut words = vec![
        "burn",
        scenario,
        "--json",
        "-q",
        "--bands=0",
        "--no-pictures",
        "--out",
        "burnt",
    ];
    words.extend_from_slice(set);
    bench.run(&words).expect_code(0).json()["time_to_target_s"].as_f64()
}

#[test]
fn identity_size_agrees_with_a_fine_scan() {
    let bench = Bench::new();
    let scenario = barrel();
    let found = bench
        .run(&[
            "size",
            &scenario,
            "--solve",
            "coil.length = 3 m .. 14 m",
            "--for",
            "time = 3 h 30 min",
            "--scan",
            "12",
            "--json",
            "-q",
            "--no-pictures",
            "--out",
            "s",
        ])
        .expect_code(0)
        .json();
    let answers = found["answers"].as_array().expect("a list");
    let target = 3.5 * 3600.0;
    // 23 burns of their own: between which neighbours does the time pass the target?
    let times: Vec<(f64, f64)> = (0..23)
        .map(|i| 3.0 + 0.5 * f64::from(i))
        .filter_map(|x| {
            let set = format!("--set=coil.length={x} m");
            Some((x, time_s(&bench, &scenario, &[&set])?))
        })
        .collect();
    let brackets: Vec<(f64, f64)> = times
        .windows(2)
        .filter(|w| (w[0].1 - target) * (w[1].1 - target) < 0.0)
        .map(|w| (w[0].0, w[1].0))
        .collect();
    assert!(!brackets.is_empty(), "the scan has no crossing: {times:?}");
    for (lo, hi) in &brackets {
        let inside = |a: &Value| {
            a["at"]["number"]
                .as_f64()
                .is_some_and(|x| x >= *lo && x <= *hi)
        };
        assert!(
            answers.iter().any(inside),
            "none in {lo}..{hi}: {answers:?}"
        );
    }
    // The scenario that was written comes to the target when burnt.
    let again = time_s(&bench, "s/solved.toml", &[]).expect("reached");
    assert!((again - target).abs() < 60.0, "{again} s");
}

#[test]
fn identity_the_lowest_value_that_keeps_a_condition_has_its_neighbour_outside() {
    let bench = Bench::new();
    let scenario = barrel();
    let found = bench
        .run(&[
            "size",
            &scenario,
            "--solve",
            "coil.length = 3 m .. 14 m",
            "--for",
            "time <= 3 h 30 min",
            "--scan",
            "8",
            "--json",
            "-q",
            "--no-pictures",
            "--out",
            "s",
        ])
        .expect_code(0)
        .json();
    let answer = &found["answers"][0];
    let time = |at: &Value| {
        let set = format!("--set=coil.length={}", at["value"].as_str().expect("text"));
        time_s(&bench, &scenario, &[&set]).unwrap_or(f64::INFINITY)
    };
    assert!(time(&answer["at"]) <= 12_600.0 && time(&answer["beside"]) > 12_600.0);
    let x = |at: &Value| at["number"].as_f64().expect("a number");
    assert!((x(&answer["at"]) - x(&answer["beside"])).abs() < 0.05);
}

#[test]
fn practice_a_target_out_of_reach_is_told_with_the_nearest() {
    let bench = Bench::new();
    let outcome = bench
        .run(&[
            "size",
            &barrel(),
            "--solve",
            "coil.length = 3 m .. 12 m",
            "--for",
            "time = 5 min",
            "--scan",
            "4",
            "--json",
            "-q",
            "--no-pictures",
            "--out",
            "s",
        ])
        .expect_code(1);
    let found = outcome.json();
    assert_eq!(found["met"], false);
    assert!(found["nearest"]["number"].as_f64().is_some());
    assert!(outcome.stderr.contains("nearest"), "{}", outcome.stderr);
}

#[test]
fn identity_a_feed_plan_reaches_the_target_when_burnt() {
    let bench = Bench::new();
    let found = bench
        .run(&[
            "size",
            &barrel(),
            "--trips",
            "12",
            "--ready-by",
            "4 h",
            "--json",
            "-q",
            "--out",
            "s",
        ])
        .expect_code(0)
        .json();
    let planned = found["plans"][0]["time_to_target_s"]
        .as_f64()
        .expect("a time");
    let burnt = time_s(&bench, "s/solved.toml", &[]).expect("the target is reached");
    assert!(burnt <= 4.0 * 3600.0, "{burnt} s");
    assert!((burnt - planned).abs() < 1e-6 * planned);
}

#[test]
fn identity_the_last_feed_lands_the_store_on_its_peak_or_tells_the_jump() {
    let bench = Bench::new();
    let found = bench
        .run(&[
            "size",
            &barrel(),
            "--last-feed",
            "40 degC",
            "--scan",
            "12",
            "--json",
            "-q",
            "--no-pictures",
            "--out",
            "s",
        ])
        .expect_code(0)
        .json();
    let answer = &found["answers"][0];
    let peak = |at: &Value| at["results"]["tank_peak_K"].as_f64().expect("a peak");
    let (at, beside) = (peak(&answer["at"]), peak(&answer["beside"]));
    // One charge more or less lies between both sides.
    assert!(
        (at - 313.15) * (beside - 313.15) <= 0.0,
        "{at} K, {beside} K"
    );
    assert!((at - 313.15).abs() < 8.0, "{at} K");
}

#[test]
fn identity_the_front_holds_points_that_no_other_beats_whatever_the_threads() {
    let bench = Bench::new();
    let run = |threads: &str| {
        let scenario = barrel();
        let words = [
            "trade",
            &scenario,
            "--vary",
            "coil.length = 6 m .. 16 m",
            "--vary",
            "feeding.every[0].interval = 6 min .. 20 min",
            "--least",
            "time,wood",
            "--population",
            "8",
            "--generations",
            "2",
            "--choose",
            "1",
            "--json",
            "-q",
            "--no-pictures",
            "--out",
            "t",
        ];
        let mut command = bench.command(&words);
        command.env("RAYON_NUM_THREADS", threads);
        let out = command.output().expect("it runs");
        assert!(
            out.status.success(),
            "{}",
            String::from_utf8_lossy(&out.stderr)
        );
        serde_json::from_slice::<Value>(&out.stdout).expect("JSON")
    };
    let found = run("2");
    assert_eq!(found, run("1"));
    let front: Vec<(f64, f64)> = found["front"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|p| {
            let r = |k: &str| p["results"][k].as_f64().expect("a number");
            (r("time_to_target_s"), r("fuel_fed_kg"))
        })
        .collect();
    for w in front.windows(2) {
        assert!(w[0].0 < w[1].0 && w[0].1 > w[1].1, "{front:?}");
    }
    let burnt = time_s(&bench, "t/chosen-1.toml", &[]).expect("reached");
    assert!((burnt - front[0].0).abs() < 1e-6 * burnt);
}

#[test]
fn practice_wetter_wood_takes_longer_and_a_value_without_influence_has_no_share() {
    let bench = Bench::new();
    let found = bench
        .run(&[
            "sensitivity",
            &barrel(),
            "--vary",
            "fuel.moisture = 12 % .. 30 %",
            "--vary",
            "controls.damper.initial = 99 % .. 100 %",
            "--paths",
            "3",
            "--rows",
            "16",
            "--json",
            "-q",
            "--no-pictures",
            "--out",
            "s",
        ])
        .expect_code(0)
        .json();
    let inputs = &found["inputs"];
    assert_eq!(inputs[0]["value"], "fuel.moisture");
    assert!(inputs[0]["effect_mean"].as_f64() > Some(60.0), "{inputs}");
    let share = |i: usize| inputs[i]["total"][1].as_f64().expect("a share");
    assert!(share(0) > 0.9 && share(1) < 0.05, "{inputs}");
}

/// What one step changes is told from where the rig stands, a closure that the file leaves to its default (1.0, not the middle of its range) among
/// them: against two burns.
#[test]
fn identity_a_step_is_told_from_the_base() {
    let bench = Bench::new();
    let words = [
        "sensitivity",
        &barrel(),
        "--vary",
        "closures.mixing_time = 0.7 .. 2",
        "--set",
        "fuel.moisture=24 %",
        "--vary",
        "fuel.moisture = 12 % .. 32 %",
        "--paths",
        "2",
        "--rows",
        "0",
        "--no-pictures",
        "--out",
        "s",
    ];
    let told = bench.run(&words).expect_code(0).stdout;
    let at = |values: &[&str]| {
        let set: Vec<&str> = values.iter().flat_map(|v| ["--set", *v]).collect();
        time_s(&bench, &barrel(), &set).expect("reached")
    };
    let base = at(&["fuel.moisture=24 %"]);
    for (step, value) in [
        (
            "0.1 more of closures.mixing_time",
            &["fuel.moisture=24 %", "closures.mixing_time=1.1"][..],
        ),
        (
            "2 percentage points more of fuel.moisture",
            &["fuel.moisture=26 %"][..],
        ),
    ] {
        let line = told.lines().find(|l| l.starts_with(step)).expect(step);
        let change_s = at(value) - base;
        assert!(
            change_s.abs() > 5.0 && line.ends_with(if change_s > 0.0 { "more" } else { "less" }),
            "{line} {change_s}"
        );
        let told = line.split(": ").nth(1).expect("a change");
        let words: Vec<&str> = told.split(' ').collect();
        let got_s: f64 = words
            .windows(2)
            .filter_map(|w| Some((w[0].parse::<f64>().ok()?, w[1])))
            .map(|(v, unit)| if unit == "min" { 60.0 * v } else { v })
            .sum();
        assert!((got_s - change_s.abs()).abs() < 31.0, "{line} {change_s}");
    }
}

#[test]
fn practice_what_makes_no_sense_is_refused_with_one_message() {
    let bench = Bench::new();
    let s = barrel();
    let size = |rest: &[&str], code: i32| {
        let mut words = vec!["size", s.as_str(), "-q"];
        words.extend_from_slice(rest);
        bench.run(&words).expect_code(code)
    };
    let solve = "coil.length = 3 m .. 12 m";
    size(&[], 2);
    size(&["--solve", solve], 2);
    size(&["--solve", solve, "--for", "nonsense = 3"], 2);
    size(&["--solve", solve, "--for", "time = 3 kg"], 2);
    size(&["--solve", solve, "--for", "time"], 2);
    size(&["--solve", "coil.length = 3 m", "--for", "time = 2 h"], 2);
    size(
        &[
            "--solve",
            "coil.lenght = 3 m .. 12 m",
            "--for",
            "time = 2 h",
        ],
        3,
    );
    size(
        &[
            "--solve",
            "coil.length = 3 kg .. 12 kg",
            "--for",
            "time = 2 h",
        ],
        3,
    );
    size(&["--solve", solve, "--for", "time = 2 h", "--scan", "0"], 2);
    size(
        &[
            "--solve",
            solve,
            "--for",
            "time = 2 h",
            "--for",
            "wood = 2 kg",
        ],
        2,
    );
    size(&["--trips", "3"], 2);
    size(&["--trips", "0", "--ready-by", "3 h"], 2);
    bench
        .run(&["size", "none.toml", "--solve", solve, "--for", "time = 2 h"])
        .expect_code(6);
    bench
        .run(&["trade", &s, "--vary", solve, "--least", "time"])
        .expect_code(2);
    bench
        .run(&["sensitivity", &s, "--of", "nonsense"])
        .expect_code(2);
    bench
        .run(&["sensitivity", &s, "--vary", "a.b = 1 .. 2"])
        .expect_code(3);
    // The screening runs from end to end: one that the scenario refuses is told before any burn.
    let wide = "fuel.moisture = 12 % .. 400 %";
    let refused = bench
        .run(&["sensitivity", &s, "--vary", wide, "--out", "refused"])
        .expect_code(3);
    assert!(refused.stderr.contains("E0203"), "{}", refused.stderr);
    assert!(!bench.path("refused").exists());
}
