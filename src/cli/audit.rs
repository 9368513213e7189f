//! `audit`: a measured burn accounted for; its page on standard output, numbers and pictures in the result folder.

use serde_json::json;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::{fs, io};

use super::audit_args::AuditArgs;
use super::console::Console;
use super::error::CliError;
use super::plan::{out_dir, parse_override};
use crate::audit::{RigFacts, audit};
use crate::components::spec::{Rig, Water};
use crate::logs::{self, Mapping, Problem, Reading};
use crate::output;
use crate::results::{Audit, Series};
use crate::units::UnitSystem;

/// A log far larger than any burn leaves.
const LARGEST_BYTES: u64 = 200 << 20;

pub fn run(console: &Console, args: &AuditArgs) -> Result<(), CliError> {
    let sets: Vec<(String, String)> = args
        .set
        .iter()
        .map(|s| parse_override(s))
        .collect::<Result<_, _>>()?;
    let out = out_dir(args.out.as_deref(), || {
        let name = args
            .log
            .file_stem()
            .filter(|_| args.log.as_os_str() != "-")
            .unwrap_or("stdin".as_ref());
        Ok(Path::new("results").join(name))
    })?;
    let facts = match &args.rig {
        Some(path) => facts(console, path)?,
        None => RigFacts::default(),
    };
    let refuse = |problems: Vec<Problem>| {
        if args.shown.json {
            let _ = console.result(&format!(
                "{:#}",
                json!({ "ok": false, "problems": problems })
            ));
        }
        refused(console, &args.log, &problems)
    };
    let (map, reading) = match read_all(
        &args.log,
        args.beside.mapping.as_deref(),
        args.beside.feeds.as_deref(),
        &args.beside.also,
        &sets,
    )? {
        Ok(read) => read,
        Err(problems) => return Err(refuse(problems)),
    };
    if args.propose {
        return console.result(&logs::propose(&reading, &name_of(&args.log)));
    }
    let done = match audit(&reading, &map, &facts, &name_of(&args.log)) {
        Ok(done) => done,
        Err(problems) => return Err(refuse(problems)),
    };
    if !reading.problems.is_empty() {
        console.note(&shown(&reading.problems));
    }
    let units = args.shown.units.into();
    let files = write(&done, &out, units, !args.shown.no_pictures)?;
    if args.shown.json {
        console.result(&json_text(&done))?;
    } else {
        console.result(&output::audit_table(&done, units))?;
    }
    console.note(&format!("{files} files in {}", out.display()));
    Ok(())
}

/// The audit of a log for a comparison, its mapping beside it or given.
pub(super) fn of_log(
    console: &Console,
    log: &Path,
    mapping: Option<&Path>,
    as_json: bool,
) -> Result<Audit, CliError> {
    let refuse = |problems: Vec<Problem>| {
        if as_json {
            let _ = console.result(&format!(
                "{:#}",
                json!({ "ok": false, "problems": problems })
            ));
        }
        refused(console, log, &problems)
    };
    let (map, reading) = match read_one(log, mapping, &[])? {
        Ok(read) => read,
        Err(problems) => return Err(refuse(problems)),
    };
    let done = audit(&reading, &map, &RigFacts::default(), &name_of(log)).map_err(refuse)?;
    if !reading.problems.is_empty() {
        console.note(&format!("{}:\n{}", log.display(), shown(&reading.problems)));
    }
    Ok(done)
}

pub(super) fn name_of(path: &Path) -> String {
    path.file_name().map_or_else(
        || path.display().to_string(),
        |n| n.to_string_lossy().into_owned(),
    )
}

/// The error that stands for problems which have been shown.
pub(super) fn refused(console: &Console, path: &Path, problems: &[Problem]) -> CliError {
    console.message(&shown(problems));
    let count = problems
        .iter()
        .filter(|p| p.severity == logs::Severity::Error)
        .count();
    CliError::Log {
        name: format!("`{}`", path.display()),
        count,
    }
}

/// Problems as lines.
pub(super) fn shown(problems: &[Problem]) -> String {
    let mut text = String::new();
    for p in problems {
        let kind = if p.severity == logs::Severity::Error {
            "error"
        } else {
            "warning"
        };
        let place = match (p.line, p.column) {
            (Some(l), Some(c)) => format!("line {l}, column {c}: "),
            (Some(l), None) => format!("line {l}: "),
            _ => String::new(),
        };
        text.push_str(&format!("{kind}: {place}{}\n", p.message));
        if !p.hint.is_empty() {
            text.push_str(&format!("  hint: {}\n", p.hint));
        }
    }
    text.trim_end().to_owned()
}

fn bytes(path: &Path) -> Result<Vec<u8>, CliError> {
    let failed = |source| CliError::Read {
        path: path.to_path_buf(),
        source,
    };
    if path.as_os_str() == "-" {
        let mut all = Vec::new();
        io::stdin()
            .take(LARGEST_BYTES)
            .read_to_end(&mut all)
            .map_err(failed)?;
        return Ok(all);
    }
    if path.is_dir() {
        return Err(failed(io::Error::other("it is a folder")));
    }
    if fs::metadata(path).map_err(failed)?.len() > LARGEST_BYTES {
        return Err(failed(io::Error::other("it is larger than 200 MB")));
    }
    fs::read(path).map_err(failed)
}

/// The mapping named, or the one beside the log, or an empty one; and the reading of the log with it.
fn read_one(
    path: &Path,
    mapping: Option<&Path>,
    sets: &[(String, String)],
) -> Result<Result<(Mapping, Reading), Vec<Problem>>, CliError> {
    let data = bytes(path)?;
    let beside = {
        let mut name = path.as_os_str().to_owned();
        name.push(".toml");
        PathBuf::from(name)
    };
    let place = mapping
        .map(Path::to_path_buf)
        .or_else(|| beside.is_file().then_some(beside));
    let text = match &place {
        Some(file) => fs::read_to_string(file).map_err(|source| CliError::Read {
            path: file.clone(),
            source,
        })?,
        None => String::new(),
    };
    Ok(match Mapping::from_toml(&text, sets) {
        Ok(map) => {
            let reading = logs::read(&data, &map);
            Ok((map, reading))
        }
        Err(mut problem) => {
            if let Some(file) = &place {
                problem.message = format!("{}: {}", file.display(), problem.message);
            }
            Err(vec![problem])
        }
    })
}

pub(super) fn read_all(
    log: &Path,
    mapping: Option<&Path>,
    feeds: Option<&Path>,
    also: &[PathBuf],
    sets: &[(String, String)],
) -> Result<Result<(Mapping, Reading), Vec<Problem>>, CliError> {
    let mut main = read_one(log, mapping, sets)?;
    for path in feeds.into_iter().chain(also.iter().map(PathBuf::as_path)) {
        match (&mut main, read_one(path, None, &[])?) {
            (Ok((_, reading)), Ok((_, other))) => logs::merge(reading, other, &name_of(path)),
            (Err(problems), Err(more)) => problems.extend(more),
            (Ok(_), Err(more)) => main = Err(more),
            (Err(_), Ok(_)) => {}
        }
    }
    Ok(main)
}

/// What a scenario knows of the rig.
fn facts(console: &Console, path: &Path) -> Result<RigFacts, CliError> {
    let loaded = crate::scenario::load_path(path, &[]).map_err(|e| match e {
        crate::scenario::LoadError::Io { path, error } => CliError::Read {
            path,
            source: error,
        },
        crate::scenario::LoadError::Bad(diagnostics) => {
            console.message(&diagnostics.render(console.color_err));
            CliError::Scenario {
                name: format!("`{}`", path.display()),
                count: diagnostics.errors(),
                first_code: None,
            }
        }
    })?;
    Ok(of_rig(&loaded.rig))
}

fn of_rig(rig: &Rig) -> RigFacts {
    let vessel = match &rig.water {
        Water::Store { vessel, .. } => Some(vessel),
        _ => None,
    };
    let box_ = &rig.firebox;
    let round =
        2.0 * (box_.width_m + box_.depth_m) * box_.height_m + 2.0 * box_.width_m * box_.depth_m;
    let layers = |wall: &[crate::components::spec::Layer], area_m2: f64| -> f64 {
        wall.iter()
            .map(|l| area_m2 * l.thickness_m * l.density_kg_m3 * l.heat_capacity_j_kgk)
            .sum()
    };
    let mut walls = layers(&box_.wall, (1.0 - box_.in_water) * round)
        + layers(box_.wetted_wall(), box_.in_water * round)
        + 900.0 * box_.hearth_mass_kg;
    for s in &rig.gas_path {
        let m2 = s.perimeter_m() * s.length_m;
        walls += layers(&s.wall, (1.0 - s.dry_share) * m2) + layers(&s.dry_wall, s.dry_share * m2);
    }
    RigFacts {
        volume_m3: vessel.map(|v| v.water_m3),
        metal_j_k: vessel.map(|v| v.shell_heat_capacity_j_k),
        loss_w_k: vessel.map(|v| v.loss_w_k),
        ambient_k: Some(rig.site.air_temperature_k.at(0.0)),
        species: Some(rig.fuel.name.clone()),
        moisture_wet: Some(rig.fuel.moisture_wet),
        walls_j_k: Some(walls),
    }
}

fn json_text(a: &Audit) -> String {
    // The audit is plain data with text keys: nothing in it can refuse to become JSON.
    serde_json::to_string_pretty(a).unwrap_or_default() + "\n"
}

/// Every probe's readings, one a line.
fn probes_csv(a: &Audit) -> Result<Vec<u8>, CliError> {
    let failed = |e: csv::Error| CliError::Output(e.to_string());
    let mut table = csv::Writer::from_writer(Vec::new());
    table
        .write_record(["probe", "role", "time_s", "value_K"])
        .map_err(failed)?;
    for c in &a.curves {
        for (t, v) in c.time_s.iter().zip(&c.value_k) {
            table
                .write_record([&c.name, &c.role, &t.to_string(), &v.to_string()])
                .map_err(failed)?;
        }
    }
    table
        .into_inner()
        .map_err(|e| CliError::Output(e.to_string()))
}

fn write(a: &Audit, out: &Path, units: UnitSystem, pictures: bool) -> Result<usize, CliError> {
    let failed = |e: output::OutputError| CliError::Output(e.to_string());
    fs::create_dir_all(out).map_err(|source| CliError::Write {
        path: out.to_path_buf(),
        source,
    })?;
    let series = Series {
        names: [
            "time_s",
            "tank_mean_temperature_K",
            "heat_J",
            "heat_to_tank_W",
        ]
        .map(str::to_owned)
        .to_vec(),
        columns: vec![
            a.heat_time_s.clone(),
            a.tank_mean_k.clone(),
            a.heat_j.clone(),
            a.power_w.clone(),
        ],
    };
    let table = output::series_csv(&series).map_err(|e| CliError::Output(e.to_string()))?;
    let mut files = vec![
        (out.join("audit.json"), json_text(a).into_bytes()),
        (out.join("heat.csv"), table),
        (out.join("probes.csv"), probes_csv(a)?),
    ];
    if pictures {
        for (name, svg) in output::audit_pictures(a, units).map_err(failed)? {
            files.push((
                out.join(format!("{name}.png")),
                output::svg_to_png(&svg).map_err(failed)?,
            ));
            files.push((out.join(format!("{name}.svg")), svg.into_bytes()));
        }
    }
    output::write_together(&files).map_err(failed)?;
    for name in ["probes", "heat", "budget"] {
        for kind in ["svg", "png"] {
            let old = out.join(format!("{name}.{kind}"));
            if !files.iter().any(|(path, _)| *path == old) {
                // A picture of an earlier audit; absent in the common case.
                let _ = fs::remove_file(old);
            }
        }
    }
    Ok(files.len())
}
