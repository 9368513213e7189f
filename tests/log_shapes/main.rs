//! One burn written down in many ways: each shape gives the same heat, or one clear message that names the place.
//!
//! The burn is made here: 200 L from 10 to 60 °C in two hours, a reading in five minutes.

mod flaws;
mod heads;
mod more;
mod texts;
mod times;

use emberloop::audit::{RigFacts, audit};
use emberloop::logs::{Mapping, Problem, read};
use emberloop::results::Audit;
use std::fmt::Write;

const ROWS: usize = 25;
const STEP_MIN: usize = 5;
/// ρ V c ΔT with water at 25 °C (IAPWS tables: 997.05 kg/m3, 4181 J/(kg K)).
const HEAT_J: f64 = 0.2 * 997.05 * 4181.0 * 50.0;

/// Tank, °C.
fn tank(i: usize) -> f64 {
    let x = i as f64 / (ROWS - 1) as f64;
    10.0 + 50.0 * (0.9 * x + 0.1 * x * x)
}

/// Flue, °C.
fn flue(i: usize) -> f64 {
    20.0 + 230.0 * (1.0 - (-(i as f64) / 3.0).exp()) + (i % 3) as f64
}

fn minute(i: usize) -> usize {
    STEP_MIN * i
}

/// "14:05" of a start and minutes after it.
fn clock(start_min: usize, i: usize) -> String {
    let m = (start_min + minute(i)) % 1440;
    format!("{:02}:{:02}", m / 60, m % 60)
}

/// Clock of halves of the day.
fn clock12(start_min: usize, i: usize) -> String {
    let m = (start_min + minute(i)) % 1440;
    let (h, half) = (m / 60, if m < 720 { "AM" } else { "PM" });
    format!(
        "{}:{:02} {half}",
        if h % 12 == 0 { 12 } else { h % 12 },
        m % 60
    )
}

fn comma(v: f64) -> String {
    format!("{v:.1}").replace('.', ",")
}

fn fahrenheit(c: f64) -> f64 {
    1.8 * c + 32.0
}

/// A head and one line a row.
fn table(head: &str, row: impl Fn(usize) -> String) -> String {
    let mut text = String::from(head);
    for i in 0..ROWS {
        let _ = writeln!(text, "{}", row(i));
    }
    text
}

fn plain() -> String {
    table("time,tank_C,flue_C\n", |i| {
        format!("{},{:.1},{:.0}", clock(840, i), tank(i), flue(i))
    })
}

enum Want {
    /// The heat within this share, and the two hours.
    Heat(f64),
    /// The same, and a suspect span or remark that says so.
    HeatAnd(f64, &'static str),
    /// One problem of which these words are part.
    Says(&'static [&'static str]),
}
use Want::{Heat, HeatAnd, Says};

struct Shape {
    name: &'static str,
    bytes: Vec<u8>,
    /// What a person would have to say beside it.
    map: &'static str,
    want: Want,
}

fn shape(name: &'static str, text: impl Into<Vec<u8>>, want: Want) -> Shape {
    Shape {
        name,
        bytes: text.into(),
        map: "",
        want,
    }
}

fn with(mut s: Shape, map: &'static str) -> Shape {
    s.map = map;
    s
}

fn utf16(text: &str, big: bool, mark: bool) -> Vec<u8> {
    let mark = if mark { "\u{feff}" } else { "" };
    format!("{mark}{text}")
        .encode_utf16()
        .flat_map(|u| {
            if big {
                u.to_be_bytes()
            } else {
                u.to_le_bytes()
            }
        })
        .collect()
}

fn latin(text: &str) -> Vec<u8> {
    text.chars().map(|c| c as u32 as u8).collect()
}

/// Line `at` (from 1) replaced.
fn swapped(text: &str, at: usize, line: &str) -> String {
    let lines: Vec<&str> = text.lines().collect();
    let mut out: Vec<&str> = lines.clone();
    out[at - 1] = line;
    out.join("\n") + "\n"
}

fn run(s: &Shape) -> Result<(Audit, String), Vec<Problem>> {
    let toml = format!(
        "{}\n[rig]\nvolume = \"200 L\"\nstirred = true\nmetal_heat_capacity = \"0 kJ/K\"\nambient = \"5 degC\"\n",
        s.map
    );
    let map = Mapping::from_toml(&toml, &[]).map_err(|p| vec![p])?;
    let reading = read(&s.bytes, &map);
    let mut told = String::new();
    for p in &reading.problems {
        let _ = writeln!(
            told,
            "line {}, column {}: {}",
            p.line.unwrap_or(0),
            p.column.unwrap_or(0),
            p.message
        );
    }
    for f in &reading.flags {
        let _ = writeln!(
            told,
            "line {}, {}: {} {}",
            f.first_line,
            f.channel,
            f.kind.words(),
            f.reason
        );
    }
    audit(&reading, &map, &RigFacts::default(), s.name).map(|a| (a, told))
}

fn check(s: &Shape) -> Result<(), String> {
    let got = run(s);
    let (within, words) = match s.want {
        Heat(within) => (within, ""),
        HeatAnd(within, words) => (within, words),
        Says(all) => {
            return match got {
                Ok((a, told)) => Err(format!(
                    "an account came out: {:?} {told}",
                    a.heat_to_tank_J
                )),
                Err(problems) => {
                    let errors: Vec<String> = problems
                        .iter()
                        .filter(|p| p.severity == emberloop::logs::Severity::Error)
                        .map(|p| format!("{} {}", p.message, p.hint))
                        .collect();
                    match (
                        errors.len(),
                        all.iter().find(|w| !errors.join("\n").contains(*w)),
                    ) {
                        (1, None) => Ok(()),
                        (n, missing) => {
                            Err(format!("{n} messages, wanting {missing:?}: {errors:#?}"))
                        }
                    }
                }
            };
        }
    };
    let (a, told) = got.map_err(|all| {
        let lines: Vec<String> = all
            .iter()
            .take(4)
            .map(|p| format!("line {:?}: {}", p.line, p.message))
            .collect();
        format!("{} problems: {}", all.len(), lines.join(" / "))
    })?;
    let q = a.heat_to_tank_J.map_or(f64::NAN, |q| q.value);
    if (q / HEAT_J - 1.0).abs() > within {
        return Err(format!(
            "heat {:.3} of what was made; {told} {:?}",
            q / HEAT_J,
            a.decisions
        ));
    }
    let lasted = a.end_s - a.begin_s;
    // A jump without power hides its time; a minute's rows are spread.
    if !words.contains("jump") && (lasted / 7200.0 - 1.0).abs() > 0.05 {
        return Err(format!("lasted {lasted} s; {told} {:?}", a.decisions));
    }
    if !told.contains(words) {
        return Err(format!("\"{words}\" is not told: {told}"));
    }
    Ok(())
}

#[test]
fn practice_a_burn_written_in_many_ways_is_one_burn() {
    let all: Vec<Shape> = [
        texts::shapes(),
        heads::shapes(),
        times::shapes(),
        flaws::shapes(),
        more::shapes(),
    ]
    .into_iter()
    .flatten()
    .collect();
    assert!(all.len() >= 100, "{}", all.len());
    let mut wrong = String::new();
    for s in &all {
        if let Err(why) = check(s) {
            let _ = writeln!(wrong, "{}: {why}\n", s.name);
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}
