//! The account of a measured burn: draws, evaporation, pipes, degrees of freedom; keys of a mapping; the guide's examples.

mod cli_support;

use cli_support::Bench;
use emberloop::audit::{RigFacts, audit};
use emberloop::logs::{Mapping, Reading, read};
use emberloop::results::Audit;
use std::collections::BTreeSet;

/// Water at 25 °C (IAPWS tables): kg/m3, J/(kg K).
const RHO: f64 = 997.05;
const C: f64 = 4181.0;

fn mapped(toml: &str) -> Mapping {
    Mapping::from_toml(toml, &[]).unwrap_or_else(|p| panic!("{}", p.message))
}

fn account(csv: &str, toml: &str) -> Audit {
    let map = mapped(toml);
    let reading = read(csv.as_bytes(), &map);
    audit(&reading, &map, &RigFacts::default(), "log").unwrap_or_else(|p| panic!("{p:?}"))
}

/// One row a minute from 08:00.
fn log(minutes: usize, t: impl Fn(f64) -> f64) -> String {
    let mut csv = String::from("time,tank_C\n");
    for m in 0..=minutes {
        csv.push_str(&format!(
            "{:02}:{:02}:00,{:.4}\n",
            8 + m / 60,
            m % 60,
            t(m as f64)
        ));
    }
    csv
}

const TANK: &str = "[rig]\nvolume = \"200 L\"\nstirred = true\nmetal_heat_capacity = \"0 kJ/K\"\nambient = \"5 degC\"\n";

/// 5 kW into 200 L for 100 min; at minute 60, 20 L leave hot and come back at 10 °C: the heat is 5 kW times 100 min all the same.
#[test]
fn analytic_draws_are_part_of_the_heat() {
    let capacity = 0.2 * RHO * C;
    let rate = 5000.0 * 60.0 / capacity;
    let hot = 10.0 + 60.0 * rate;
    let after = hot - 0.1 * (hot - 10.0);
    let csv = log(100, |m| {
        if m <= 60.0 {
            10.0 + rate * m
        } else {
            after + rate * (m - 60.0)
        }
    });
    let with = |draw: &str| {
        let a = account(&csv, &format!("{TANK}{draw}"));
        a.heat_to_tank_J.map_or(f64::NAN, |q| q.value)
    };
    let made = 5000.0 * 6000.0;
    let draw = "[[draw]]\nat = \"09:00\"\nvolume = \"20 L\"\ncold = \"10 degC\"\n";
    assert!(
        (with(draw) / made - 1.0).abs() < 0.01,
        "{}",
        with(draw) / made
    );
    assert!(with("") < 0.95 * made, "{}", with(""));
    // Nobody filled it up: 180 L at the end, and the tank does not cool by the draw.
    let rate2 = rate / 0.9;
    let csv = log(100, |m| {
        if m <= 60.0 {
            10.0 + rate * m
        } else {
            hot + rate2 * (m - 60.0)
        }
    });
    let a = account(
        &csv,
        &format!("{TANK}[[draw]]\nat = \"09:00\"\nvolume = \"20 L\"\n"),
    );
    let q = a.heat_to_tank_J.map_or(f64::NAN, |q| q.value);
    assert!((q / made - 1.0).abs() < 0.01, "{}", q / made);
}

/// 2 m² at 39 °C under air of 5 °C and 70 %: (0.089 + 0.0782 v)(6997 − 0.7 · 873) Pa a square metre (ASHRAE Handbook HVAC
/// Applications, natatoriums; saturation pressures of the IAPWS-IF97 tables), for one hour.
#[test]
fn published_evaporation_is_counted_by_the_pool_formula() {
    let csv = log(60, |m| 38.95 + 0.1 * m / 60.0);
    for (wind, still) in [("0 m/s", 0.089), ("2 m/s", 0.089 + 2.0 * 0.0782)] {
        let a = account(
            &csv,
            &format!("{TANK}surface = \"2 m2\"\nhumidity = \"70 %\"\nwind = \"{wind}\"\n"),
        );
        let by_hand = 2.0 * still * (6997.0 - 0.7 * 872.6) * 3600.0;
        let e = a.heat_evaporated_J.unwrap_or(f64::NAN);
        assert!((e / by_hand - 1.0).abs() < 0.01, "{e} {by_hand}");
        let line = a.budgets[0]
            .lines
            .iter()
            .find(|l| l.name == "evaporation")
            .map(|l| l.standard);
        assert!(line.is_some_and(|u| (u / e - 0.25).abs() < 1e-6));
    }
    let lid = account(
        &csv,
        &format!(
            "{TANK}surface = \"2 m2\"\nsurface_open = \"5 %\"\nwind = \"0 m/s\"\nhumidity = \"70 %\"\n"
        ),
    );
    let by_hand = 0.1 * 0.089 * (6997.0 - 0.7 * 872.6) * 3600.0;
    assert!((lid.heat_evaporated_J.unwrap_or(0.0) / by_hand - 1.0).abs() < 0.01);
}

/// L q (T − T_air) t, and the water that the pipe holds: π d²/4 L ρ c ΔT.
#[test]
fn analytic_pipes_stand_beside_the_account() {
    let csv = log(100, |m| 20.0 + 0.4 * m);
    let plain = account(&csv, TANK);
    let a = account(
        &csv,
        &format!(
            "{TANK}pipe_length = \"6 m\"\npipe_inside = \"20 mm\"\npipe_loss = \"0.5 W/(m K)\"\n"
        ),
    );
    let lost = 6.0 * 0.5 * 35.0 * 6000.0;
    assert!(
        (a.pipe_loss_J.unwrap_or(0.0) / lost - 1.0).abs() < 0.01,
        "{:?}",
        a.pipe_loss_J
    );
    let held = 6.0 * std::f64::consts::FRAC_PI_4 * 4e-4 * RHO * C * 40.0;
    assert!(
        (a.pipe_hold_J.unwrap_or(0.0) / held - 1.0).abs() < 0.01,
        "{:?}",
        a.pipe_hold_J
    );
    assert_eq!(plain.heat_to_tank_J, a.heat_to_tank_J);
    // Without a figure of its own: bare, 10 W/(m² K) on 24 mm.
    let bare = account(
        &csv,
        &format!("{TANK}pipe_length = \"6 m\"\npipe_inside = \"20 mm\"\n"),
    );
    let ratio = bare.pipe_loss_J.unwrap_or(0.0) / a.pipe_loss_J.unwrap_or(1.0);
    assert!((ratio - std::f64::consts::PI * 0.024 * 10.0 / 0.5).abs() < 1e-6);
}

/// ν = u⁴ / Σ (c u)⁴/ν_i (JCGM 100, G.2b) and Student's factor at its whole part (table G.2: 2.57 at 5, 2.13 at 15).
#[test]
fn published_degrees_of_freedom_follow_welch_and_satterthwaite() {
    let csv = log(100, |m| 10.0 + 0.5 * m + 1e-4 * m * m);
    let wood = "[fuel]\nspecies = \"maple\"\nmoisture = \"20 %\"\nmoisture_basis = \"wet\"\nmass = \"9 kg\"\nmoisture_uncertainty = \"3 %\"\n";
    let channel = |n: &str| {
        format!("[[channel]]\ncolumn = \"tank_C\"\nas = \"tank\"\nuncertainty = \"0.5 K\"\n{n}")
    };
    let toml = format!(
        "{TANK}volume_uncertainty = \"4 %\"\nvolume_readings = 4\n{wood}moisture_readings = 3\nscale_uncertainty = \"0.3 kg\"\nscale_readings = 6\n{}",
        channel("readings = 5\n")
    );
    let a = account(&csv, &toml);
    let b = &a.budgets[0];
    let lost: f64 = b
        .lines
        .iter()
        .filter_map(|l| Some(l.contribution.powi(4) / l.degrees_of_freedom?))
        .sum();
    let by_hand = b.result.standard.powi(4) / lost;
    let nu = b.degrees_of_freedom.unwrap_or(f64::INFINITY);
    assert!((nu / by_hand - 1.0).abs() < 1e-9, "{nu} {by_hand}");
    let stated: Vec<(&str, f64)> = b
        .lines
        .iter()
        .filter_map(|l| Some((l.name.as_str(), l.degrees_of_freedom?)))
        .collect();
    assert_eq!(stated.len(), 5, "{stated:?}");
    for (name, least) in [("volume of water", 3.0), ("moisture, wet basis", 2.0)] {
        assert!(
            stated.iter().any(|s| s.0 == name && s.1 == least),
            "{stated:?}"
        );
    }
    // The last digit of the probe and the scale's half per cent are known: more than 4 and 5.
    assert!(
        stated
            .iter()
            .any(|s| s.0 == "end temperature" && (4.0..4.2).contains(&s.1)),
        "{stated:?}"
    );
    assert!(
        stated
            .iter()
            .any(|s| s.0 == "wood put in" && (5.0..5.5).contains(&s.1)),
        "{stated:?}"
    );
    // One input that rules all: the factor is nearly its own.
    let one = account(
        &csv,
        &format!(
            "{TANK}volume_uncertainty = \"30 %\"\nvolume_readings = 6\n{}",
            channel("")
        ),
    );
    let k = one.budgets[0].coverage_factor;
    assert!((k - 2.571).abs() < 0.001, "{k}");
    let known = account(
        &csv,
        &format!("{TANK}volume_uncertainty = \"30 %\"\n{}", channel("")),
    );
    assert!((known.budgets[0].coverage_factor - 1.96).abs() < 1e-3);
}

fn problems(csv: &str, toml: &str) -> String {
    let map = mapped(toml);
    let reading = read(csv.as_bytes(), &map);
    match audit(&reading, &map, &RigFacts::default(), "log") {
        Ok(_) => String::new(),
        Err(all) => all
            .iter()
            .map(|p| format!("{} {}\n", p.message, p.hint))
            .collect(),
    }
}

#[test]
fn practice_figures_that_tell_nothing_are_refused() {
    let csv = log(30, |m| 10.0 + m);
    for (toml, words) in [
        ("volume_readings = 5\n", "volume_readings"),
        (
            "volume_uncertainty = \"2 %\"\nvolume_readings = 1\n",
            "two or more",
        ),
        ("wind = \"2 m/s\"\n", "without the water's surface"),
        ("pipe_loss = \"1 W/(m K)\"\n", "without the pipe's length"),
        (
            "surface = \"2 m2\"\nhumidity = \"140 %\"\n",
            "outside 0 to 100 %",
        ),
        (
            "[[draw]]\nat = \"noon\"\nvolume = \"20 L\"\n",
            "neither a clock time",
        ),
        (
            "[[draw]]\nat = \"08:10\"\nvolume = \"20 km\"\n",
            "draw 1: volume",
        ),
        (
            "[[channel]]\ncolumn = \"tank_C\"\nreadings = 4\n",
            "that a stated `uncertainty` comes from",
        ),
    ] {
        let got = problems(&csv, &format!("{TANK}{toml}"));
        assert!(got.contains(words), "{toml}: {got}");
    }
    let late = account(
        &csv,
        &format!("{TANK}[[draw]]\nat = \"11:00\"\nvolume = \"20 L\"\n"),
    );
    assert!(
        late.remarks
            .iter()
            .any(|r| r.contains("1 of 1 draws lie outside")),
        "{:?}",
        late.remarks
    );
}

#[test]
fn practice_a_feed_sheet_is_known_for_one() {
    let bench = Bench::new();
    for (i, text) in [
        "14:05, 1.8 kg\n14:22, 1.6 kg\n14:40, 2 kg\n",
        "time,wood\n14:05,1.8\n14:22,1.6\n14:40,2\n",
        "Zeit;Holz (kg)\n14:05;1,8\n14:22;1,6\n",
        "14:05 1.8\n14:22 1.6\n14:40 2.0\n15:01 1.7\n",
        "time,note\n14:05,fed 1.8 kg\n14:22,1.6 kg more\n14:40,choked the inlet\n",
    ]
    .into_iter()
    .enumerate()
    {
        let name = format!("s{i}.csv");
        bench.write(&name, text);
        let got = bench.run(&["audit", &name]).expect_code(4);
        assert!(
            got.stderr.contains("this looks like a feed sheet"),
            "{text}: {}",
            got.stderr
        );
        assert!(got.stderr.contains("--feeds"), "{}", got.stderr);
        assert!(got.stderr.contains("1 problem"), "{}", got.stderr);
    }
    // A tank that hardly warms is no feed sheet.
    let r = read(
        b"14:05 8.1\n14:22 8.4\n14:40 8.9\n15:01 9.7\n",
        &Mapping::default(),
    );
    assert_eq!(r.feed_sheet(), None);
}

fn blocks(kind: &str) -> Vec<String> {
    let guide = include_str!("../docs/logs.md");
    let fence = format!("```{kind}\n");
    guide
        .split(&fence)
        .skip(1)
        .filter_map(|t| t.split_once("```").map(|(body, _)| body.to_owned()))
        .collect()
}

#[test]
fn practice_the_guides_examples_work() {
    let (maps, logs) = (blocks("toml"), blocks("csv"));
    assert_eq!((maps.len(), logs.len()), (1, 2));
    let map = mapped(&maps[0]);
    let reading: Reading = read(logs[0].as_bytes(), &map);
    assert_eq!(reading.errors(), 0, "{:?}", reading.problems);
    let a = audit(&reading, &map, &RigFacts::default(), "log").unwrap_or_else(|p| panic!("{p:?}"));
    assert_eq!((a.feeds, a.draws.len()), (2, 1));
    assert!((a.fuel_kg.unwrap_or(0.0) - 4.0).abs() < 1e-9);
    assert!(
        read(logs[1].as_bytes(), &Mapping::default())
            .feed_sheet()
            .is_some()
    );
}

/// Keys of the guide's table are those of the mapping, no more and no fewer.
#[test]
fn identity_the_guide_names_every_key() {
    let all = emberloop::logs::Mapping {
        channel: vec![emberloop::logs::ChannelMap {
            role: Some("tank".into()),
            unit: Some("K".into()),
            offset: Some("0 K".into()),
            uncertainty: Some("1 K".into()),
            readings: Some(2),
            ..Default::default()
        }],
        feed: vec![Default::default()],
        draw: vec![Default::default()],
        title: Some("t".into()),
        ..Default::default()
    };
    let mut real = BTreeSet::new();
    if let serde_json::Value::Object(tables) = serde_json::to_value(&all).unwrap_or_default() {
        for (table, body) in tables {
            let body = match body {
                serde_json::Value::Array(list) => list[0].clone(),
                other => other,
            };
            match body {
                serde_json::Value::Object(keys) => {
                    real.extend(keys.keys().map(|k| format!("{table}.{k}")))
                }
                _ => {
                    real.insert(format!("top.{table}"));
                }
            }
        }
    }
    let mut told = BTreeSet::new();
    for line in include_str!("../docs/logs.md").lines() {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let ["", table, keys, ""] = cells[..] else {
            continue;
        };
        let table = table.trim_matches(['`', '[', ']', '(', ')']);
        if ![
            "top", "read", "time", "channel", "events", "feed", "draw", "rig", "fuel", "account",
        ]
        .contains(&table)
        {
            continue;
        }
        for key in keys
            .split('`')
            .skip(1)
            .step_by(2)
            .filter(|k| !k.starts_with('#'))
        {
            told.insert(format!("{table}.{key}"));
        }
    }
    let missing: Vec<_> = real.difference(&told).collect();
    let invented: Vec<_> = told.difference(&real).collect();
    assert!(
        missing.is_empty() && invented.is_empty(),
        "missing {missing:?}, invented {invented:?}"
    );
}

/// A figure of the mapping that moved no figure of the account would be a dead key.
#[test]
fn identity_every_figure_of_a_mapping_moves_the_account() {
    let mut csv = String::from("time,tank_C,out_C,flue_C,wood\n");
    for m in 0..=120 {
        let wood = if m % 30 == 0 { "2" } else { "" };
        csv.push_str(&format!(
            "{:02}:{:02}:00,{:.3},{:.3},{},{wood}\n",
            8 + m / 60,
            m % 60,
            10.0 + 0.4 * f64::from(m),
            20.0 + 0.4 * f64::from(m),
            250 + m % 5
        ));
    }
    let base = "title = \"t\"\n[time]\nlight_up = \"08:02\"\nend = \"09:50\"\noffset = \"0 min\"\n[events]\nfeed_unit = \"kg\"\n\
[[channel]]\ncolumn = \"tank_C\"\nas = \"tank\"\noffset = \"0.2 K\"\nuncertainty = \"0.5 K\"\nreadings = 5\n\
[[feed]]\nat = \"08:10\"\nmass = \"0.8 kg\"\n\
[[draw]]\nat = \"08:50\"\nvolume = \"10 L\"\nvolume_uncertainty = \"4 %\"\ntemperature = \"30 degC\"\ncold = \"8 degC\"\n\
[rig]\nvolume = \"200 L\"\nvolume_uncertainty = \"2 %\"\nvolume_readings = 4\nmetal_mass = \"20 kg\"\nloss = \"4 W/K\"\nambient = \"5 degC\"\nwall_mass = \"100 kg\"\nwall_rise = \"200 K\"\npump_power = \"20 W\"\nsurface = \"1 m2\"\nsurface_open = \"50 %\"\nhumidity = \"60 %\"\nwind = \"1 m/s\"\npipe_length = \"5 m\"\npipe_inside = \"20 mm\"\npipe_loss = \"0.8 W/(m K)\"\n\
[fuel]\nspecies = \"maple\"\nmoisture = \"20 %\"\nmoisture_basis = \"wet\"\nmoisture_uncertainty = \"2 %\"\nmoisture_readings = 4\nscale_uncertainty = \"0.05 kg\"\nscale_readings = 5\ngross_dry = \"20 MJ/kg\"\nchar_left = \"0.2 kg\"\nair_ratio = \"2.5\"\nair_ratio_low = \"2\"\nair_ratio_high = \"3\"\n\
[account]\nsaw_petrol_per_cord = \"2 L\"\nhauling_petrol_per_cord = \"2 L\"\nelectricity_source_factor = 2.8\ngas_source_factor = 1.05\nwood_source_factor = 1.0\npetrol_source_factor = 1.2\nresistance_efficiency = 0.92\nheat_pump_performance = 3.3\ngas_tank_efficiency = 0.6\ngas_condensing_efficiency = 0.93\nbath_volume = \"150 L\"\nbath_rise = \"30 K\"\nburns_per_year = 52.0\nwood_price_per_cord = 300.0\nelectricity_price_per_kwh = 0.17\ngas_price_per_kwh = 0.1\n";
    let json = |toml: &str| {
        let mut v = serde_json::to_value(account(&csv, toml)).unwrap_or_default();
        // Words that merely repeat what was written.
        for key in [
            "assumed",
            "decisions",
            "remarks",
            "stack_loss_how",
            "pipe_how",
        ] {
            v[key] = serde_json::Value::Null;
        }
        v.to_string()
    };
    let plain = json(base);
    let mut tried = 0;
    for line in base.lines() {
        let Some((key, value)) = line.split_once(" = ") else {
            continue;
        };
        let bare = value.trim_matches('"');
        let other = match bare.split_once(' ') {
            Some((number, unit)) => number
                .parse::<f64>()
                .ok()
                .map(|v| format!("\"{} {unit}\"", if v == 0.0 { 3.0 } else { 1.1 * v })),
            None => match bare.parse::<f64>() {
                Ok(v) if key.ends_with("readings") => Some(format!("{}", v as u32 + 3)),
                Ok(v) if value.starts_with('"') => Some(format!("\"{}\"", 1.1 * v)),
                Ok(v) => Some(format!("{}", 1.1 * v)),
                Err(_) if bare.contains(':') => Some(format!(
                    "\"{}\"",
                    bare.replacen(":0", ":1", 1)
                        .replacen(":5", ":4", 1)
                        .replacen(":10", ":20", 1)
                )),
                Err(_) => None,
            },
        };
        // The same key may stand in several tables: change this line only.
        let Some(other) = other.filter(|o| o != value) else {
            continue;
        };
        let changed = base.replacen(line, &format!("{key} = {other}"), 1);
        assert_ne!(changed, base, "{line}");
        tried += 1;
        assert_ne!(json(&changed), plain, "{line} -> {other} moves nothing");
    }
    assert!(tried > 50, "{tried}");
    // The net value stands for species and moisture.
    let net = base.replace(
        "gross_dry = \"20 MJ/kg\"",
        "net = \"14 MJ/kg\"\nnet_uncertainty = \"3 %\"\nmass = \"8 kg\"",
    );
    let plain = json(&net);
    for (from, to) in [
        ("14 MJ/kg", "15 MJ/kg"),
        ("net_uncertainty = \"3 %\"", "net_uncertainty = \"5 %\""),
        ("mass = \"8 kg\"", "mass = \"9 kg\""),
    ] {
        assert_ne!(json(&net.replace(from, to)), plain, "{from}");
    }
    let capacity = base.replace(
        "metal_mass = \"20 kg\"",
        "metal_heat_capacity = \"12 kJ/K\"",
    );
    assert_ne!(
        json(&capacity),
        json(&capacity.replace("12 kJ/K", "15 kJ/K"))
    );
    assert_ne!(
        json(base),
        json(&base.replace("metal_mass", "metal = \"copper\"\nmetal_mass"))
    );
}
