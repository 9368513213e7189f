//! Comparison of simulated and measured burns: what cancels, what is levelled, and when nobody can tell.

mod cli_support;

use cli_support::{Bench, bundled};
use serde_json::Value;

/// One lumped tank at constant power, read each minute; water at 25 °C: 997.05 kg/m3, 4181 J/(kg K) (IAPWS R6-95 tables).
struct Burn {
    litres: f64,
    start_c: f64,
    end_c: f64,
    watt: f64,
    wood_kg: f64,
    moisture: f64,
}

const PLAIN: Burn = Burn {
    litres: 200.0,
    start_c: 10.0,
    end_c: 60.0,
    watt: 5000.0,
    wood_kg: 10.0,
    moisture: 0.20,
};

impl Burn {
    fn minutes(&self) -> f64 {
        self.litres * 1e-3 * 997.05 * 4181.0 * (self.end_c - self.start_c) / self.watt / 60.0
    }

    /// Log and mapping in the bench's folder.
    fn write(&self, bench: &Bench, name: &str) {
        let mut csv = String::from("time,tank_C\n");
        let last = self.minutes().ceil() as usize;
        for m in 0..=last {
            let share = (m as f64 / self.minutes()).min(1.0);
            let t = self.start_c + (self.end_c - self.start_c) * share;
            csv.push_str(&format!("{:02}:{:02}:00,{t:.3}\n", 8 + m / 60, m % 60));
        }
        bench.write(name, &csv);
        let toml = format!(
            "[time]\nlight_up = \"08:00\"\n[[channel]]\ncolumn = \"tank_C\"\nas = \"tank\"\nuncertainty = \"0.01 K\"\n[rig]\nvolume = \"{} L\"\nvolume_uncertainty = \"1 %\"\nstirred = true\nloss = \"0 W/K\"\nambient = \"15 degC\"\n[fuel]\nspecies = \"maple\"\nmoisture = \"{} %\"\nmoisture_basis = \"wet\"\nmoisture_uncertainty = \"1 %\"\nmass = \"{} kg\"\nscale_uncertainty = \"0.01 kg\"\n",
            self.litres,
            100.0 * self.moisture,
            self.wood_kg
        );
        bench.write(&format!("{name}.toml"), &toml);
    }
}

fn compared(bench: &Bench, words: &[&str]) -> Value {
    let mut all = vec!["compare", "--json", "--no-pictures"];
    all.extend(words);
    bench.run(&all).expect_code(0).json()
}

fn difference<'a>(c: &'a Value, pair: usize, quantity: &str) -> &'a Value {
    c["pairs"][pair]["differences"]
        .as_array()
        .and_then(|all| all.iter().find(|d| d["quantity"] == quantity))
        .unwrap_or(&Value::Null)
}

fn span(d: &Value) -> (f64, f64, f64) {
    let of = |k: &str| d["difference"][k].as_f64().unwrap_or(f64::NAN);
    (of("value"), of("low"), of("high"))
}

#[test]
fn identity_a_rig_against_itself_is_the_same_in_all() {
    let bench = Bench::new();
    let file = bundled("wash-up-barrel.toml");
    let file = file.to_str().unwrap_or("");
    let c = compared(
        &bench,
        &[
            &format!("a={file}"),
            &format!("b={file}"),
            "--samples",
            "20",
        ],
    );
    for d in c["pairs"][0]["differences"].as_array().expect("a list") {
        assert_eq!(d["verdict"], "the same", "{d}");
    }
    assert_eq!(
        c["pairs"][0]["changed"]
            .as_str()
            .map(|t| t.starts_with("nothing but the title")),
        Some(true)
    );
    // Without common samples the same pair would scatter by more than half an hour.
    let apart = &difference(&c, 0, "time")["otherwise"];
    assert!(apart["high"].as_f64().unwrap_or(0.0) > 1800.0, "{apart}");
}

#[test]
fn practice_common_samples_tell_what_separate_ones_cannot() {
    let bench = Bench::new();
    let file = bundled("wash-up-barrel.toml");
    let c = compared(
        &bench,
        &[
            file.to_str().unwrap_or(""),
            "--with",
            "long:coil.length=12 m",
            "--with",
            "wet:fuel.moisture=30 %",
            "--samples",
            "40",
        ],
    );
    let time = difference(&c, 0, "time");
    assert_eq!(time["verdict"], "differs");
    let (value, low, high) = span(time);
    assert!(value < 0.0 && high < 0.0 && low < value, "{time}");
    let apart = &time["otherwise"];
    assert!(apart["low"].as_f64() < Some(0.0) && apart["high"].as_f64() > Some(0.0));
    // Value of the table: one less the other.
    let of = |e: usize| {
        c["entries"][e]["figures"][0][1]["value"]
            .as_f64()
            .unwrap_or(f64::NAN)
    };
    assert!((of(1) - of(0) - value).abs() < 1e-6);
    let words = |p: usize| c["pairs"][p]["changed"].as_str().unwrap_or("").to_owned();
    assert!(
        words(0).starts_with("coil: length 12 m instead of 9.1 m."),
        "{}",
        words(0)
    );
    // Damp wood is what is asked about, so it is not levelled; it takes longer and more wood.
    assert!(
        words(1).starts_with("fuel: moisture 30 % instead of 18 %."),
        "{}",
        words(1)
    );
    for q in ["time", "wood"] {
        let d = difference(&c, 1, q);
        assert!(d["verdict"] == "differs" && span(d).0 > 0.0, "{d}");
    }
}

/// t = ρ V c ΔT / P and wood in proportion to the heat, worked by hand for the common task.
#[test]
fn analytic_logs_are_levelled_by_their_heat() {
    let bench = Bench::new();
    PLAIN.write(&bench, "a.csv");
    // The same fire and wood per heat on more water, from another start to another end.
    let b = Burn {
        litres: 240.0,
        start_c: 14.0,
        end_c: 62.0,
        wood_kg: 10.0 * 240.0 * 48.0 / (200.0 * 50.0),
        ..PLAIN
    };
    b.write(&bench, "b.csv");
    let strong = Burn {
        watt: 6500.0,
        ..PLAIN
    };
    strong.write(&bench, "c.csv");
    let c = compared(
        &bench,
        &["a.csv", "b.csv", "c.csv", "--repeat-spread", "1 %"],
    );
    let (time, ..) = span(difference(&c, 0, "time"));
    assert!(time.abs() < 60.0, "{time}");
    let (wood, ..) = span(difference(&c, 0, "wood"));
    assert!(wood.abs() < 0.05, "{wood}");
    assert_eq!(difference(&c, 0, "time")["verdict"], "cannot tell");
    let all = c["entries"][1]["corrections"].to_string();
    for words in [
        "start of 14.0 °C taken as 10.0 °C",
        "240 L of water taken as 200 L",
        "in all",
    ] {
        assert!(all.contains(words), "{all}");
    }
    let faster = difference(&c, 1, "time");
    let by_hand = 60.0 * (strong.minutes() - PLAIN.minutes());
    assert_eq!(faster["verdict"], "differs");
    let (value, low, high) = span(faster);
    assert!((value - by_hand).abs() < 45.0, "{value} {by_hand}");
    assert!(low < by_hand && by_hand < high, "{faster}");
    // The usual scatter of fires hides so little no longer: 32 of 139 min against 10 % of each.
    let c = compared(&bench, &["a.csv", "c.csv", "--repeat-spread", "12 %"]);
    let d = difference(&c, 0, "time");
    assert_eq!(d["verdict"], "cannot tell", "{d}");
    assert!(
        d["reasons"].to_string().contains("fed by hand scatters"),
        "{d}"
    );
}

/// Net value at 30 % against 20 % of water for maple: (q (1-M) - 2.443 M) of ISO 18125; wood in inverse proportion.
#[test]
fn published_wood_of_another_moisture_is_taken_by_its_net_value() {
    let bench = Bench::new();
    PLAIN.write(&bench, "a.csv");
    let damp = Burn {
        moisture: 0.30,
        ..PLAIN
    };
    damp.write(&bench, "b.csv");
    let c = compared(&bench, &["a.csv", "b.csv"]);
    let net_dry = 18.5;
    let net = |m: f64| net_dry * (1.0 - m) - 2.443 * m;
    let (wood, ..) = span(difference(&c, 0, "wood"));
    let by_hand = 10.0 * (net(0.30) / net(0.20) - 1.0);
    assert!((wood - by_hand).abs() < 0.05, "{wood} {by_hand}");
    // A slower fire on damp wood cannot be told from a worse rig.
    let time = difference(&c, 0, "time");
    assert_eq!(time["verdict"], "cannot tell");
    assert!(
        time["reasons"]
            .to_string()
            .contains("damp wood burns slower"),
        "{time}"
    );
}

/// Three repeats each, s 1 and 4 min. Beside the scatter stand 0.3 K of stirred water at start and end (docs/logs.md) and the
/// minute between rows. Effective degrees of freedom by JCGM 100 G.2b, rounded down to 4; t = 2.776 (table G.2: 2.78).
#[test]
fn published_repeats_are_told_apart_by_their_own_scatter() {
    let bench = Bench::new();
    let mut words: Vec<String> = Vec::new();
    for (label, minutes) in [
        ("old", [154.0, 155.0, 156.0]),
        ("new", [100.0, 104.0, 108.0]),
    ] {
        for (i, m) in minutes.into_iter().enumerate() {
            let watt = PLAIN.watt * PLAIN.minutes() / m;
            let name = format!("{label}{i}.csv");
            Burn { watt, ..PLAIN }.write(&bench, &name);
            words.push(format!("{label}={name}"));
        }
    }
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let c = compared(&bench, &words);
    assert_eq!(c["entries"][0]["burns"], 3);
    let d = difference(&c, 0, "time");
    let (value, low, high) = span(d);
    assert!((value / 60.0 + 51.0).abs() < 0.2, "{d}");
    let half = 0.5 * (high - low) / 60.0;
    let scatter = [1.0f64 / 3.0, 16.0 / 3.0];
    let stirred = |minutes: f64| 2.0 * (0.3 / 50.0 * minutes).powi(2);
    let square = scatter[0] + scatter[1] + stirred(154.0) + stirred(100.0) + 2.0 / 12.0;
    let freedom = square * square / (scatter[0].powi(2) / 2.0 + scatter[1].powi(2) / 2.0);
    assert_eq!(freedom as usize, 4);
    let by_hand = 2.776 * square.sqrt();
    assert!((half / by_hand - 1.0).abs() < 0.01, "{half} {by_hand}");
    assert_eq!(d["verdict"], "differs");
}

/// u²(b-a) of efficiency with one tank and with two: they part by the covariance 2 c_a c_b u² of the volume (JCGM 100, eq. 13).
#[test]
fn identity_one_tank_takes_its_volume_out_of_the_difference() {
    let bench = Bench::new();
    PLAIN.write(&bench, "a.csv");
    Burn {
        wood_kg: 8.0,
        ..PLAIN
    }
    .write(&bench, "b.csv");
    let half = |words: &[&str]| {
        let c = compared(&bench, words);
        let d = difference(&c, 0, "efficiency_net").clone();
        let end = |k: &str| d["otherwise"][k].as_f64().unwrap_or(f64::NAN);
        let of = |e: usize| {
            c["entries"][e]["figures"][2][1]["value"]
                .as_f64()
                .unwrap_or(f64::NAN)
        };
        (0.5 * (end("high") - end("low")), of(0), of(1))
    };
    let (two, a, b) = half(&["a.csv", "b.csv"]);
    let (one, ..) = half(&["a.csv", "b.csv", "--same-tank"]);
    let covariance = 2.0 * a * b * 0.01f64.powi(2) * 1.959_96f64.powi(2);
    assert!(
        ((two * two - one * one) / covariance - 1.0).abs() < 0.02,
        "{two} {one} {covariance}"
    );
}

#[test]
fn practice_what_cannot_be_told_says_why() {
    let bench = Bench::new();
    PLAIN.write(&bench, "a.csv");
    Burn {
        start_c: 45.0,
        ..PLAIN
    }
    .write(&bench, "warm.csv");
    bench.write(
        "bare.csv",
        "time,tank_C\n12:00,10\n12:30,20\n13:00,30\n13:30,42\n14:00,58\n",
    );
    bench.write("bare.csv.toml", "[rig]\nvolume = \"200 L\"\n");
    let c = compared(&bench, &["a.csv", "warm.csv", "bare.csv"]);
    let far = difference(&c, 0, "time");
    assert_eq!(far["verdict"], "cannot tell");
    assert!(
        far["reasons"]
            .to_string()
            .contains("too far from the common task"),
        "{far}"
    );
    assert!(far["difference"]["value"].is_null());
    let none = difference(&c, 1, "wood");
    assert_eq!(none["verdict"], "no figure");
    assert!(
        none["reasons"]
            .to_string()
            .contains("no wood was weighed in bare"),
        "{none}"
    );
    let remarks = c["entries"][2]["remarks"].to_string();
    assert!(remarks.contains("nobody noted the lighting"), "{remarks}");
    let text = bench
        .run(&["compare", "a.csv", "warm.csv"])
        .expect_code(0)
        .stdout;
    assert!(text.contains("cannot tell which is faster"), "{text}");
    assert!(!text.contains('\u{1b}'));
    let color = bench
        .run(&[
            "compare",
            "a.csv",
            "warm.csv",
            "--color",
            "always",
            "--no-pictures",
        ])
        .expect_code(0);
    assert!(color.stdout.contains('\u{1b}'));
}

#[test]
fn identity_result_folders_are_as_good_as_what_made_them() {
    let bench = Bench::new();
    PLAIN.write(&bench, "a.csv");
    let file = bundled("wash-up-barrel.toml");
    let file = file.to_str().unwrap_or("");
    bench
        .run(&["audit", "a.csv", "--out", "audited", "--no-pictures"])
        .expect_code(0);
    bench
        .run(&[
            "burn",
            file,
            "--out",
            "burnt",
            "--no-pictures",
            "--bands",
            "0",
        ])
        .expect_code(0);
    let figures = |words: &[&str]| {
        let c = compared(&bench, words);
        assert!(
            c["entries"][1]["remarks"]
                .to_string()
                .find("another version")
                .is_none()
        );
        (
            c["entries"][0]["figures"].clone(),
            c["pairs"][0]["differences"].clone(),
        )
    };
    let (model, log) = (format!("y={file}"), "x=a.csv");
    let fresh = figures(&[log, &model, "--samples", "20"]);
    let folders = figures(&["x=audited", "y=burnt", "--samples", "20"]);
    for (a, b) in [(&fresh.0, &folders.0), (&fresh.1, &folders.1)] {
        let (a, b) = (numbers(a), numbers(b));
        assert_eq!(a.len(), b.len());
        for (x, y) in a.iter().zip(&b) {
            assert!((x - y).abs() <= 1e-9 * x.abs().max(1e-9), "{x} {y}");
        }
    }
}

/// A wrong key of `--with` is told with the name of its burn.
#[test]
fn practice_a_wrong_key_names_its_burn() {
    let bench = Bench::new();
    let file = bundled("wash-up-barrel.toml").display().to_string();
    let got = bench
        .run(&[
            "compare",
            &file,
            "--with",
            "long coil:coil.lenght=12 m",
            "--no-pictures",
        ])
        .expect_code(3);
    assert!(got.stderr.contains("`long coil`"), "{}", got.stderr);
    assert!(
        got.stderr.contains("did you mean \"length\""),
        "{}",
        got.stderr
    );
}

/// What a folder of `audit` keeps of each probe is what the log had.
#[test]
fn identity_an_audit_folder_keeps_its_probes() {
    let bench = Bench::new();
    let log = bundled("logs/barrel-six-probes.csv").display().to_string();
    bench
        .run(&["audit", &log, "--out", "kept", "--no-pictures"])
        .expect_code(0);
    let mut table = csv::Reader::from_path(bench.path("kept/probes.csv")).expect("a table");
    let mut roles: Vec<String> = table
        .records()
        .map(|r| r.expect("a row")[1].to_owned())
        .collect();
    roles.dedup();
    for role in ["flue", "coil_out", "tank_top"] {
        assert!(roles.iter().any(|r| r == role), "{roles:?}");
    }
    let pictures = |what: &str, out: &str| {
        let other = bundled("logs/barrel-fahrenheit.csv").display().to_string();
        bench
            .run(&["compare", what, &other, "--out", out])
            .expect_code(0);
        let svg = bench.read(&format!("{out}/overlay.svg"));
        svg.matches("<path").count() + svg.matches("<polyline").count()
    };
    let log = format!("a={log}");
    assert_eq!(pictures("a=kept", "x"), pictures(&log, "y"));
}

fn numbers(v: &Value) -> Vec<f64> {
    match v {
        Value::Number(n) => n.as_f64().into_iter().collect(),
        Value::Array(all) => all.iter().flat_map(numbers).collect(),
        Value::Object(all) => all.values().flat_map(numbers).collect(),
        _ => Vec::new(),
    }
}

#[test]
fn practice_pictures_files_and_exit_codes() {
    let bench = Bench::new();
    PLAIN.write(&bench, "a.csv");
    Burn {
        watt: 6000.0,
        ..PLAIN
    }
    .write(&bench, "b.csv");
    bench
        .run(&["compare", "a.csv", "b.csv", "--out", "o"])
        .expect_code(0);
    for file in [
        "compare.json",
        "overlay.svg",
        "overlay.png",
        "differences.svg",
        "differences.png",
    ] {
        assert!(bench.path("o").join(file).is_file(), "{file}");
    }
    bench
        .run(&["compare", "a.csv", "b.csv", "--out", "o", "--no-pictures"])
        .expect_code(0);
    assert!(!bench.path("o").join("overlay.svg").exists());
    bench.write("bad.toml", "[fuel]\nmoistur = \"20 %\"\n");
    bench.write("bad.csv", "once upon a time\n");
    std::fs::create_dir(bench.path("bare")).expect("a folder");
    for (words, code, says) in [
        (&["a.csv"][..], 2, "two burns are needed"),
        (&["a.csv", "absent.csv"], 6, "absent.csv"),
        (&["a.csv", "bad.csv"], 4, "no row with a time"),
        (&["a.csv", "bad.toml"], 3, "moistur"),
        (&["a.csv", "a.csv.toml"], 2, "mapping of a log"),
        (&["a.csv", "bare"], 2, "neither a burn"),
        (&["a.csv", "--with", "coil.length=1 m"], 2, "first scenario"),
        (
            &["a.csv", "b.csv", "--target", "5 degC"],
            2,
            "not above the common start",
        ),
        (&["a.csv", "b.csv", "--target", "tepid"], 2, "--target"),
    ] {
        let mut all = vec!["compare"];
        all.extend(words);
        let got = bench.run(&all).expect_code(code);
        assert!(got.stderr.contains(says), "{words:?}: {}", got.stderr);
    }
}
