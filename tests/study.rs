//! Studies through the program: designs, threads, broken off and gone on with, parts, and what is refused.

mod cli_support;

use cli_support::{Bench, PROGRAM, bundled};
use std::collections::BTreeSet;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// The barrel for a quarter of an hour: short burns.
const SHORT: [&str; 2] = ["--set", "stop.latest=15 min"];

fn barrel() -> String {
    bundled("wash-up-barrel.toml")
        .to_string_lossy()
        .into_owned()
}

/// `sweep` of the barrel into `out` with more words.
fn words<'a>(barrel: &'a str, out: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    let mut words = vec!["sweep", barrel, "--out", out, "--no-pictures"];
    words.extend(SHORT);
    words.extend(more);
    words
}

/// Cells of the table below its two head lines, without quotes.
fn rows(bench: &Bench, out: &str) -> Vec<Vec<String>> {
    let text = bench.read(&format!("{out}/runs.csv"));
    text.lines()
        .skip(2)
        .map(|l| l.split(',').map(str::to_owned).collect())
        .collect()
}

#[test]
fn practice_a_grid_is_in_order_whatever_the_threads() {
    let (bench, barrel) = (Bench::new(), barrel());
    let vary = [
        "--vary",
        "coil.length=6 m .. 9 m in 4 steps",
        "--vary",
        "fuel.moisture=15, 25 %",
    ];
    let one: Vec<&str> = [&vary[..], &["--threads", "1"]].concat();
    let three: Vec<&str> = [&vary[..], &["--threads", "3"]].concat();
    bench.run(&words(&barrel, "one", &one)).expect_code(0);
    bench.run(&words(&barrel, "three", &three)).expect_code(0);
    assert_eq!(bench.read("one/runs.csv"), bench.read("three/runs.csv"));
    let values: Vec<String> = rows(&bench, "one")
        .iter()
        .map(|r| format!("{} {} {}", r[0], r[1], r[2]))
        .collect();
    assert_eq!(
        values,
        [
            "0 6 15", "1 6 25", "2 7 15", "3 7 25", "4 8 15", "5 8 25", "6 9 15", "7 9 25"
        ]
    );
    assert!(!bench.path("one/runs.partial.csv").exists());
    // A row is the burn with these values.
    bench
        .run(&[
            "burn",
            &barrel,
            SHORT[0],
            SHORT[1],
            "--set",
            "coil.length=7 m",
            "--set",
            "fuel.moisture=25 %",
            "--bands",
            "0",
            "--no-pictures",
            "--out",
            "burn",
        ])
        .expect_code(0);
    let summary: serde_json::Value =
        serde_json::from_str(&bench.read("burn/summary.json")).expect("JSON");
    let head: Vec<String> = bench
        .read("one/runs.csv")
        .lines()
        .nth(1)
        .expect("columns")
        .split(',')
        .map(str::to_owned)
        .collect();
    let row = &rows(&bench, "one")[3];
    let mut compared = 0;
    for (key, value) in summary.as_object().expect("a table") {
        let number = value
            .as_f64()
            .or(value.as_bool().map(|b| f64::from(u8::from(b))));
        let Some(number) = number else { continue };
        let column = head
            .iter()
            .position(|h| h == key)
            .unwrap_or_else(|| panic!("no column {key}"));
        // The JSON reader may miss the last bit.
        let cell: f64 = row[column].parse().expect("a number");
        assert!(
            (cell - number).abs() <= 1e-15 * number.abs(),
            "{key}: {cell} {number}"
        );
        compared += 1;
    }
    assert!(compared > 30, "{compared}");
}

#[test]
fn practice_pairs_go_together_and_a_bad_point_is_a_row() {
    let (bench, barrel) = (Bench::new(), barrel());
    let vary = [
        "--design",
        "paired",
        "--vary",
        "coil.length=6, 7, -8 m",
        "--vary",
        "fuel.moisture=15, 20, 25 %",
    ];
    let run = bench.run(&words(&barrel, "out", &vary)).expect_code(5);
    assert!(
        run.stderr.contains("1 of 3 points could not be run"),
        "{}",
        run.stderr
    );
    let rows = rows(&bench, "out");
    let states: Vec<&str> = rows.iter().map(|r| r[3].as_str()).collect();
    assert_eq!(states, ["ok", "ok", "refused"]);
    assert!(
        rows[2][4].contains('E'),
        "the reason has a code: {:?}",
        rows[2]
    );
}

#[test]
fn analytic_a_latin_hypercube_has_one_sample_in_each_part_of_each_axis() {
    let (bench, barrel) = (Bench::new(), barrel());
    let n = 16;
    let vary = [
        "--design",
        "latin-hypercube",
        "--samples",
        "16",
        "--vary",
        "coil.length=5 m .. 13 m",
        "--vary",
        "feeding.every[0].add=0.1 kg .. 1.6 kg log",
    ];
    bench.run(&words(&barrel, "a", &vary)).expect_code(0);
    let rows = rows(&bench, "a");
    assert_eq!(rows.len(), n);
    let parts = |share: &dyn Fn(f64) -> f64, column: usize| -> BTreeSet<usize> {
        rows.iter()
            .map(|r| (share(r[column].parse().expect("a number")) * n as f64) as usize)
            .collect()
    };
    assert_eq!(parts(&|v| (v - 5.0) / 8.0, 1).len(), n);
    assert_eq!(parts(&|v| (v / 0.1f64).ln() / 16f64.ln(), 2).len(), n);
    // Another seed, other points; the same seed, the same.
    let again: Vec<&str> = [&vary[..], &["--seed", "1"]].concat();
    let other: Vec<&str> = [&vary[..], &["--seed", "2"]].concat();
    bench.run(&words(&barrel, "b", &again)).expect_code(0);
    bench.run(&words(&barrel, "c", &other)).expect_code(0);
    assert_eq!(bench.read("a/runs.csv"), bench.read("b/runs.csv"));
    assert_ne!(bench.read("a/runs.csv"), bench.read("c/runs.csv"));
}

#[test]
fn published_sobol_points_fill_each_binary_part_once() {
    // A property of (0, m, 1)-nets in base 2: Sobol 1967, USSR Comput. Math. Math. Phys. 7(4); scrambling keeps it (Owen 1995).
    let (bench, barrel) = (Bench::new(), barrel());
    let vary = [
        "--design",
        "sobol",
        "--samples",
        "16",
        "--vary",
        "coil.length=5 m .. 13 m",
    ];
    bench.run(&words(&barrel, "a", &vary)).expect_code(0);
    let parts: BTreeSet<usize> = rows(&bench, "a")
        .iter()
        .map(|r| (2.0 * (r[1].parse::<f64>().expect("a number") - 5.0)) as usize)
        .collect();
    assert_eq!(parts.len(), 16);
}

fn start(dir: &Path, words: &[&str]) -> Child {
    Command::new(PROGRAM)
        .current_dir(dir)
        .args(words)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts")
}

/// Whole rows in the table under way.
fn so_far(path: &Path) -> usize {
    std::fs::read_to_string(path).map_or(0, |t| t.matches('\n').count().saturating_sub(2))
}

#[test]
fn practice_killed_at_five_moments_the_table_is_the_same() {
    // EMBERLOOP_KILL_RUNS=2000 for the long version.
    let n: usize = std::env::var("EMBERLOOP_KILL_RUNS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(60);
    let (bench, barrel) = (Bench::new(), barrel());
    let samples = n.to_string();
    let vary = [
        "--design",
        "latin-hypercube",
        "--samples",
        &samples,
        "--vary",
        "coil.length=5 m .. 13 m",
        "--vary",
        "fuel.moisture=12 % .. 30 %",
    ];
    bench.run(&words(&barrel, "whole", &vary)).expect_code(0);
    let words = words(&barrel, "killed", &vary);
    let partial = bench.path("killed/runs.partial.csv");
    let mut seen = 0;
    for k in 1..=5 {
        let mut child = start(bench.dir.path(), &words);
        let wanted = n * k / 6;
        let since = Instant::now();
        while so_far(&partial) < wanted && since.elapsed() < Duration::from_secs(300) {
            std::thread::sleep(Duration::from_millis(1));
        }
        child.kill().expect("it still runs"); // SIGKILL
        child.wait().expect("it ends");
        let rows = so_far(&partial);
        assert!(
            rows >= wanted.max(seen),
            "{rows} rows after kill {k}, {seen} before"
        );
        assert!(!bench.path("killed/runs.csv").exists());
        seen = rows;
        // What a write that was cut short leaves.
        let torn = std::fs::read(&partial).expect("there");
        std::fs::write(&partial, [&torn[..], b"7,12.5,ok,,W01"].concat()).expect("writable");
    }
    let last = bench.run(&words).expect_code(0);
    assert!(
        last.stderr.contains("points are there already"),
        "{}",
        last.stderr
    );
    assert_eq!(bench.read("whole/runs.csv"), bench.read("killed/runs.csv"));
    // Nothing is run again, and the answers come again.
    let again = bench.run(&words).expect_code(0);
    assert!(
        again.stderr.contains("all points are in"),
        "{}",
        again.stderr
    );
    assert_eq!(again.stdout, last.stdout);
}

#[test]
fn practice_parts_gathered_are_the_whole() {
    let (bench, barrel) = (Bench::new(), barrel());
    let vary = ["--vary", "coil.length=6 m .. 12 m in 7 steps"];
    let part = |out: &str, k: &str| {
        let more: Vec<&str> = [&vary[..], &["--part", k]].concat();
        bench.run(&words(&barrel, out, &more)).expect_code(0);
    };
    bench.run(&words(&barrel, "whole", &vary)).expect_code(0);
    part("pieces", "1/3");
    part("pieces", "3/3");
    let early = bench.run(&["gather", "pieces"]).expect_code(2);
    assert!(early.stderr.contains("missing: 2/3"), "{}", early.stderr);
    part("pieces", "2/3");
    bench.run(&["gather", "pieces"]).expect_code(0);
    assert_eq!(bench.read("whole/runs.csv"), bench.read("pieces/runs.csv"));
    assert!(bench.path("pieces/curves.png").exists());
    // A part of another study.
    let other: Vec<&str> = [
        "--vary",
        "coil.length=6 m .. 13 m in 7 steps",
        "--part",
        "2/3",
    ]
    .to_vec();
    bench.run(&words(&barrel, "others", &other)).expect_code(0);
    let mixed = bench
        .run(&[
            "gather",
            "pieces/part-1-of-3",
            "others/part-2-of-3",
            "pieces/part-3-of-3",
            "--out",
            "mixed",
        ])
        .expect_code(2);
    assert!(
        mixed.stderr.contains("different studies") && mixed.stderr.contains("others/part-2-of-3"),
        "{}",
        mixed.stderr
    );
    assert!(!bench.path("mixed").exists());
    // A part that was broken off.
    let done = bench.read("pieces/part-2-of-3/runs.csv");
    std::fs::remove_file(bench.path("pieces/part-2-of-3/runs.csv")).expect("there");
    bench.write("pieces/part-2-of-3/runs.partial.csv", &done);
    let open = bench
        .run(&["gather", "pieces", "--out", "open"])
        .expect_code(2);
    assert!(open.stderr.contains("not finished: 2/3"), "{}", open.stderr);
    let twice = bench
        .run(&["gather", "pieces/part-1-of-3", "pieces/part-1-of-3"])
        .expect_code(2);
    assert!(twice.stderr.contains("twice"), "{}", twice.stderr);
    bench.run(&["gather", "nowhere"]).expect_code(6);
}

#[test]
fn practice_what_cannot_be_run_gets_one_clear_message() {
    let (bench, barrel) = (Bench::new(), barrel());
    let refused = |more: &[&str], code: i32, words_wanted: &[&str]| {
        let run = bench.run(&words(&barrel, "out", more)).expect_code(code);
        for word in words_wanted {
            assert!(
                run.stderr.contains(word),
                "{more:?}: no `{word}` in\n{}",
                run.stderr
            );
        }
        assert!(
            run.stdout.is_empty() && !bench.path("out").exists(),
            "{more:?}"
        );
    };
    refused(&[], 2, &["varies nothing", "--vary"]);
    refused(
        &["--vary", "coil.lenght=6, 7 m"],
        3,
        &["lenght", "did you mean \"length\""],
    );
    refused(
        &["--vary", "coil.length=6 furlong, 7 furlong"],
        3,
        &["furlong"],
    );
    refused(
        &["--vary", "coil.length=6 m .. 900 cm in 3 steps"],
        2,
        &["different units"],
    );
    refused(
        &["--vary", "coil.length=6 m .. 9 m in 0 steps"],
        2,
        &["number of steps"],
    );
    refused(&["--vary", "coil.length=6 m .. 9 m"], 3, &["has no steps"]);
    refused(
        &["--design", "sobol", "--vary", "coil.length=6 m .. 9 m"],
        3,
        &["number of samples"],
    );
    refused(
        &[
            "--design",
            "sobol",
            "--samples",
            "0",
            "--vary",
            "coil.length=6 m .. 9 m",
        ],
        3,
        &["no points"],
    );
    refused(
        &[
            "--vary",
            "coil.length=6 m .. 9 m in 1000 steps",
            "--vary",
            "fuel.moisture=10 .. 20 % in 1000 steps",
            "--vary",
            "site.altitude=0 .. 900 m in 1000 steps",
        ],
        3,
        &["1000000000 points", "at most 10000000"],
    );
    refused(
        &["--vary", "coil.length=6, 7 m", "--part", "9/8"],
        2,
        &["9/8"],
    );
    refused(
        &["--vary", "coil.length=6, 7 m", "--part", "1/8"],
        3,
        &["has none"],
    );
    bench
        .run(&["sweep", "no.toml", "--vary", "a=1, 2"])
        .expect_code(6);
    bench.write("bad.toml", "scenario = \"x.toml\"\nvery = 3\n");
    let bad = bench.run(&["sweep", "bad.toml"]).expect_code(3);
    assert!(
        bad.stderr.contains("very") && bad.stderr.contains("vary"),
        "{}",
        bad.stderr
    );
    bench.write("lost.toml", "design = \"grid\"\nscenario = \"gone.toml\"\n");
    let lost = bench.run(&["sweep", "lost.toml"]).expect_code(6);
    assert!(lost.stderr.contains("lost.toml:2:12"), "{}", lost.stderr);
    bench.write(
        "mixed.toml",
        &format!(
            "scenario = {:?}\n[[vary]]\nkeys = [\"coil.length\"]\nvalues = \"6 m .. 9 kg in 4 steps\"\n",
            barrel
        ),
    );
    let mixed = bench.run(&["sweep", "mixed.toml"]).expect_code(3);
    assert!(mixed.stderr.contains("mixed.toml:4:10"), "{}", mixed.stderr);
}

#[test]
fn practice_another_study_in_the_folder_and_a_full_disk_lose_nothing() {
    let (bench, barrel) = (Bench::new(), barrel());
    bench
        .run(&words(&barrel, "out", &["--vary", "coil.length=6, 7 m"]))
        .expect_code(0);
    let before = bench.read("out/runs.csv");
    let other = bench
        .run(&words(&barrel, "out", &["--vary", "coil.length=6, 8 m"]))
        .expect_code(2);
    assert!(
        other.stderr.contains("another study") && other.stderr.contains("--out"),
        "{}",
        other.stderr
    );
    assert_eq!(bench.read("out/runs.csv"), before);
    let figure = bench
        .run(&words(
            &barrel,
            "out",
            &["--vary", "coil.length=6, 7 m", "--front", "tiem,wood"],
        ))
        .expect_code(2);
    assert!(
        figure.stderr.contains("did you mean time"),
        "{}",
        figure.stderr
    );
    bench.write("file", "no folder");
    bench
        .run(&words(
            &barrel,
            "file/out",
            &["--vary", "coil.length=6, 7 m"],
        ))
        .expect_code(6);
}

#[cfg(target_os = "linux")]
#[test]
fn practice_a_disk_that_fills_up_costs_nothing_that_was_written() {
    let (bench, barrel) = (Bench::new(), barrel());
    let vary = ["--vary", "coil.length=6 m .. 13 m in 15 steps"];
    bench.run(&words(&barrel, "whole", &vary)).expect_code(0);
    let words = words(&barrel, "out", &vary);
    // A limit on the size of files stands for the disk: the write fails in the same way.
    let limited = Command::new("sh")
        .current_dir(bench.dir.path())
        .args([
            "-c",
            "trap '' XFSZ; ulimit -f 12; exec \"$@\"",
            "sh",
            PROGRAM,
        ])
        .args(&words)
        .output()
        .expect("it starts");
    let said = String::from_utf8_lossy(&limited.stderr);
    assert_eq!(limited.status.code(), Some(6), "{said}");
    assert!(
        said.contains("runs.partial.csv") && !said.contains("panicked"),
        "{said}"
    );
    assert!(!bench.path("out/runs.csv").exists());
    let kept = so_far(&bench.path("out/runs.partial.csv"));
    assert!((1..15).contains(&kept), "{kept}");
    let rest = bench.run(&words).expect_code(0);
    assert!(
        rest.stderr
            .contains(&format!("{kept} of 15 points are there already")),
        "{}",
        rest.stderr
    );
    assert_eq!(bench.read("whole/runs.csv"), bench.read("out/runs.csv"));
}

#[cfg(feature = "parquet")]
#[test]
fn identity_the_parquet_table_holds_what_the_csv_holds() {
    use parquet::file::reader::{FileReader, SerializedFileReader};
    use parquet::record::{Field, RowAccessor};
    let (bench, barrel) = (Bench::new(), barrel());
    let vary = [
        "--design",
        "paired",
        "--vary",
        "coil.length=6, 7.5, -8 m",
        "--vary",
        "loop.check_valve=false, true, false",
    ];
    bench.run(&words(&barrel, "out", &vary)).expect_code(5);
    let csv = bench.read("out/runs.csv");
    let mut lines = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(csv.as_bytes());
    let head = lines.headers().expect("columns").clone();
    let rows: Vec<csv::StringRecord> = lines.records().map(|r| r.expect("a row")).collect();
    let file = std::fs::File::open(bench.path("out/runs.parquet")).expect("it was written");
    let reader = SerializedFileReader::new(file).expect("Parquet");
    let about = reader.metadata().file_metadata();
    let of = |key: &str| {
        let pairs = about.key_value_metadata()?;
        pairs.iter().find(|p| p.key == key)?.value.clone()
    };
    assert!(csv.contains(&of("emberloop.study").expect("which study")));
    let mut read = 0;
    for (row, cells) in reader.get_row_iter(None).expect("rows").zip(&rows) {
        let row = row.expect("a row");
        let names: Vec<&str> = row
            .get_column_iter()
            .map(|(name, _)| name.as_str())
            .collect();
        assert_eq!(names, head.iter().collect::<Vec<_>>());
        assert_eq!(row.get_long(0).expect("a point"), i64::from(read));
        for ((name, field), cell) in row.get_column_iter().zip(cells) {
            if *name == "coil.length (m)" {
                assert!(matches!(field, Field::Double(_)), "{field:?}");
            }
            match field {
                Field::Double(v) => assert_eq!(cell.parse::<f64>().ok(), Some(*v), "{name}"),
                Field::Null => assert!(cell.is_empty(), "{name}: {cell}"),
                Field::Str(s) => assert_eq!(s, cell, "{name}"),
                Field::Long(v) => assert_eq!(v.to_string(), *cell, "{name}"),
                other => panic!("{name}: {other:?}"),
            }
        }
        read += 1;
    }
    assert_eq!((read, rows.len()), (3, 3));
}
