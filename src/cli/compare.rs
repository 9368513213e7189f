//! `compare`: what each argument is, the comparison, its page on standard output, numbers and pictures in the folder.

use serde_json::json;
use std::fs;
use std::path::{Path, PathBuf};

use super::audit;
use super::compare_args::{CompareArgs, LevelWhat};
use super::console::Console;
use super::error::CliError;
use super::plan::{out_dir, parse_override};
use super::ports;
use crate::compare::{CompareError, Given, Levels, Options, Origin, compare};
use crate::output;
use crate::results::{Audit, AuditCurve, Comparison};
use crate::units::{Kind, UnitSystem, parse};

pub fn run(console: &Console, args: &CompareArgs) -> Result<(), CliError> {
    let out = out_dir(args.out.as_deref(), || {
        Ok(Path::new("results").join("compare"))
    })?;
    let options = options(args)?;
    let given = all(console, args)?;
    let bar = console.counter(0, "runs");
    let done = compare(&given, &options, &|more, of| {
        bar.set_length(of as u64);
        bar.inc(more as u64);
    });
    bar.finish_and_clear();
    let c = done.map_err(|e| failed(console, args.shown.json, e))?;
    let files = write(&c, &out, options.units, !args.shown.no_pictures)?;
    if args.shown.json {
        console.result(&format!("{:#}\n", json!(c)))?;
    } else {
        let table = output::compare_table(&c, options.units, console.color_out, console.width());
        console.result(&table)?;
    }
    console.note(&format!("{files} files in {}", out.display()));
    Ok(())
}

fn failed(console: &Console, as_json: bool, e: CompareError) -> CliError {
    match e {
        CompareError::Scenario {
            label,
            diagnostics: d,
        } => {
            if as_json {
                // The error itself follows, whatever becomes of this.
                let _ = console.result(&format!(
                    "{:#}",
                    json!({ "ok": false, "problems": d.to_json() })
                ));
            }
            console.message(&d.render(console.color_err));
            CliError::Scenario {
                name: format!("`{label}`, a scenario to compare"),
                count: d.errors(),
                first_code: d.items().first().map(|d| d.code),
            }
        }
        CompareError::Run { label, error } => CliError::Run(format!("`{label}`: {error}")),
        CompareError::Refused(message) => CliError::Usage {
            message,
            hint: None,
        },
    }
}

fn options(args: &CompareArgs) -> Result<Options, CliError> {
    let quantity = |kind, option: &str, text: &str| {
        let wrong = |message: String| CliError::Usage {
            message,
            hint: None,
        };
        match parse(kind, text) {
            Ok(p) if p.si > 0.0 && p.si.is_finite() => Ok(p.si),
            Ok(_) => Err(wrong(format!(
                "`{option} {text}` is not greater than nothing"
            ))),
            Err(e) => Err(wrong(format!("`{option} {text}`: {e}"))),
        }
    };
    let maybe = |kind, option: &str, text: &Option<String>| {
        text.as_deref()
            .map(|t| quantity(kind, option, t))
            .transpose()
    };
    let has = |w| args.level.contains(&w);
    if has(LevelWhat::None) && args.level.len() > 1 {
        return Err(CliError::Usage {
            message: "`--level none` stands alone".into(),
            hint: None,
        });
    }
    if !(args.burns_per_year > 0.0 && args.burns_per_year.is_finite()) {
        return Err(CliError::Usage {
            message: "`--burns-per-year` is not greater than nothing".into(),
            hint: None,
        });
    }
    Ok(Options {
        samples: args.samples,
        levels: (!args.level.is_empty()).then(|| Levels {
            start: has(LevelWhat::Start),
            target: has(LevelWhat::Target),
            water: has(LevelWhat::Water),
            moisture: has(LevelWhat::Moisture),
        }),
        target_k: maybe(Kind::Temperature, "--target", &args.target)?,
        repeat_spread: maybe(Kind::Fraction, "--repeat-spread", &args.repeat_spread)?,
        visit_s: maybe(Kind::Time, "--visit", &args.visit)?,
        cord_work_s: maybe(Kind::Time, "--cord-work", &args.cord_work)?,
        same_tank: args.same_tank,
        burns_per_year: args.burns_per_year,
        bath_m3: quantity(Kind::Volume, "--bath", &args.bath)?,
        bath_rise_k: quantity(Kind::TemperatureDifference, "--bath-rise", &args.bath_rise)?,
        units: args.shown.units.into(),
    })
}

/// All burns that were named, with the changes of the first.
fn all(console: &Console, args: &CompareArgs) -> Result<Vec<Given>, CliError> {
    let mut given: Vec<Given> = Vec::new();
    for word in &args.burns {
        let (label, path) = labelled(word);
        let origin = origin(console, args, &path)?;
        let label = match label {
            Some(l) => l,
            None => own_label(&path, &given),
        };
        given.push(Given {
            label,
            source: path.display().to_string(),
            origin,
        });
    }
    if args.with.is_empty() {
        return Ok(given);
    }
    let first = given
        .iter()
        .find(|g| matches!(g.origin, Origin::Scenario { .. }))
        .cloned()
        .ok_or_else(|| CliError::Usage {
            message: "`--with` changes the first scenario, and there is none".into(),
            hint: None,
        })?;
    for text in &args.with {
        let (label, text) = match text.split_once(':') {
            Some((l, rest)) if !l.contains(['=', '.', '[']) => (l.trim().to_owned(), rest),
            _ => (text.trim().to_owned(), text.as_str()),
        };
        let sets = text
            .split(';')
            .filter(|t| !t.trim().is_empty())
            .map(parse_override)
            .collect::<Result<Vec<_>, _>>()?;
        let mut with = first.clone();
        with.label = label;
        if let Origin::Scenario {
            overrides,
            finished_s,
            ..
        } = &mut with.origin
        {
            overrides.extend(sets);
            *finished_s = None;
        }
        if given.iter().any(|g| g.label == with.label) {
            return Err(CliError::Usage {
                message: format!("two burns are called `{}`", with.label),
                hint: Some("name it: --with 'LABEL:PATH=VALUE'".into()),
            });
        }
        given.push(with);
    }
    Ok(given)
}

/// Label and path of an argument; what exists as it stands is a path.
fn labelled(word: &str) -> (Option<String>, PathBuf) {
    match word.split_once('=') {
        Some((label, path)) if !Path::new(word).exists() && !label.trim().is_empty() => {
            (Some(label.trim().to_owned()), PathBuf::from(path))
        }
        _ => (None, PathBuf::from(word)),
    }
}

/// The file's name, told apart from those before it.
fn own_label(path: &Path, before: &[Given]) -> String {
    let stem = path.file_stem().map_or_else(
        || path.display().to_string(),
        |s| s.to_string_lossy().into_owned(),
    );
    let taken = |l: &str| before.iter().any(|g| g.label == l);
    if !taken(&stem) {
        return stem;
    }
    (2..)
        .map(|n| format!("{stem} ({n})"))
        .find(|l| !taken(l))
        .unwrap_or(stem)
}

fn read_text(path: &Path) -> Result<String, CliError> {
    fs::read_to_string(path).map_err(|source| CliError::Read {
        path: path.to_path_buf(),
        source,
    })
}

fn origin(console: &Console, args: &CompareArgs, path: &Path) -> Result<Origin, CliError> {
    if path.is_dir() {
        return folder(path);
    }
    let name = path.to_string_lossy().to_lowercase();
    let beside = name
        .strip_suffix(".toml")
        .is_some_and(|log| [".csv", ".tsv", ".txt"].iter().any(|e| log.ends_with(e)));
    if beside {
        return Err(CliError::Usage {
            message: format!("`{}` is the mapping of a log", path.display()),
            hint: Some("name the log itself; the mapping beside it is found".into()),
        });
    }
    if name.ends_with(".toml") {
        return Ok(Origin::Scenario {
            text: read_text(path)?,
            overrides: Vec::new(),
            finished_s: None,
        });
    }
    Ok(Origin::Log(Box::new(audit::of_log(
        console,
        path,
        args.mapping.as_deref(),
        args.shown.json,
    )?)))
}

/// A finished result folder of `burn` or `audit`.
fn folder(dir: &Path) -> Result<Origin, CliError> {
    let unreadable = |file: &str, why: String| CliError::Read {
        path: dir.join(file),
        source: std::io::Error::other(why),
    };
    let other = "it was written by another version: make it anew";
    if dir.join("audit.json").is_file() {
        let text = read_text(&dir.join("audit.json"))?;
        let mut a: Audit = serde_json::from_str(&text)
            .map_err(|e| unreadable("audit.json", format!("{other} ({e})")))?;
        curves(&mut a, dir).map_err(|why| unreadable("heat.csv", why))?;
        probes(&mut a, dir).map_err(|why| unreadable("probes.csv", why))?;
        return Ok(Origin::Log(Box::new(a)));
    }
    if dir.join("as-run.toml").is_file() {
        let summary: serde_json::Value =
            serde_json::from_str(&read_text(&dir.join("summary.json"))?)
                .map_err(|e| unreadable("summary.json", format!("{other} ({e})")))?;
        return Ok(Origin::Scenario {
            text: read_text(&dir.join("as-run.toml"))?,
            overrides: Vec::new(),
            finished_s: summary["time_to_target_s"].as_f64(),
        });
    }
    Err(CliError::Usage {
        message: format!(
            "`{}` holds neither a burn (as-run.toml) nor an audit (audit.json)",
            dir.display()
        ),
        hint: Some("name a scenario, a log, or a result folder of `burn` or `audit`".into()),
    })
}

/// The probes' courses, where the folder has them (older ones have not).
fn probes(a: &mut Audit, dir: &Path) -> Result<(), String> {
    let path = dir.join("probes.csv");
    if !path.is_file() {
        return Ok(());
    }
    let mut table = csv::Reader::from_path(path).map_err(|e| e.to_string())?;
    for row in table.deserialize() {
        let (name, role, time_s, value_k): (String, String, f64, f64) =
            row.map_err(|e| e.to_string())?;
        let known = a.curves.iter().position(|c| c.name == name);
        let i = known.unwrap_or_else(|| {
            a.curves.push(AuditCurve {
                name,
                role,
                time_s: Vec::new(),
                value_k: Vec::new(),
            });
            a.curves.len() - 1
        });
        a.curves[i].time_s.push(time_s);
        a.curves[i].value_k.push(value_k);
    }
    Ok(())
}

/// The tank's course from the folder's table.
fn curves(a: &mut Audit, dir: &Path) -> Result<(), String> {
    let mut table = csv::Reader::from_path(dir.join("heat.csv")).map_err(|e| e.to_string())?;
    let mut columns: [Vec<f64>; 4] = Default::default();
    for row in table.records() {
        let row = row.map_err(|e| e.to_string())?;
        for (i, column) in columns.iter_mut().enumerate() {
            column.push(row.get(i).and_then(|c| c.parse().ok()).unwrap_or(f64::NAN));
        }
    }
    let [time_s, tank_k, heat_j, power_w] = columns;
    (a.heat_time_s, a.tank_mean_k, a.heat_j, a.power_w) = (time_s, tank_k, heat_j, power_w);
    Ok(())
}

fn write(c: &Comparison, out: &Path, units: UnitSystem, pictures: bool) -> Result<usize, CliError> {
    let bad = |e: output::OutputError| CliError::Output(e.to_string());
    fs::create_dir_all(out).map_err(|source| CliError::Write {
        path: out.to_path_buf(),
        source,
    })?;
    let mut files = vec![(
        out.join("compare.json"),
        format!("{:#}\n", json!(c)).into_bytes(),
    )];
    if pictures {
        for (name, svg) in output::compare_pictures(c, units).map_err(bad)? {
            files.push((
                out.join(format!("{name}.png")),
                output::svg_to_png(&svg).map_err(bad)?,
            ));
            files.push((out.join(format!("{name}.svg")), svg.into_bytes()));
        }
    }
    for (path, bytes) in &files {
        ports::write_file(path, bytes)?;
    }
    for name in ["overlay", "differences"] {
        for end in ["svg", "png"] {
            let old = out.join(format!("{name}.{end}"));
            if !files.iter().any(|(path, _)| *path == old) {
                // A picture of an earlier comparison; absent in the common case.
                let _ = fs::remove_file(old);
            }
        }
    }
    Ok(files.len())
}
