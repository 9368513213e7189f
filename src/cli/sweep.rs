//! `sweep`: a study from the command line or a study file, run to its end and reported. `gather`: parts joined.

use std::path::{Path, PathBuf};

use super::console::Console;
use super::error::CliError;
use super::plan::parse_override;
use super::ports;
use super::study_file::{self, Set, SourceFile, StudyFile, Vary};
use super::sweep_args::{GatherArgs, ReportArgs, SweepArgs};
use crate::analyses::study::{Axis, Study, run_points};
use crate::output::OutputError;
use crate::output::study::{self as record, Found, RUNS, Record};
use crate::results::{Part, StudyAxis, StudyHead};
use crate::scenario::{Severity, codes};

pub fn run(console: &Console, args: &SweepArgs) -> Result<(), CliError> {
    let (file, scenario_name, text) = read_study(args)?;
    let study = file.study(&scenario_name, text)?;
    check_points(console, &study)?;
    let part = args.part.unwrap_or(Part::WHOLE);
    let whole_dir = match &args.report.out {
        Some(dir) => dir.clone(),
        None => default_dir(&args.source, !args.vary.is_empty()),
    };
    let dir = match args.part {
        Some(part) => whole_dir.join(format!("part-{}-of-{}", part.number, part.of)),
        None => whole_dir,
    };
    let head = head(&study, part);
    let range = part.range(study.points());
    if range.is_empty() {
        return Err(CliError::Study(format!(
            "part {part} of {} points has none: take fewer parts",
            study.points()
        )));
    }
    if let Record::Open(journal) = Record::open(&dir, &head).map_err(from_record)? {
        let of_folder = StudyFile {
            scenario: "scenario.toml".into(),
            ..file.clone()
        };
        ports::write_file(&dir.join("scenario.toml"), study.base.text.as_bytes())?;
        ports::write_file(&dir.join("study.toml"), of_folder.text()?.as_bytes())?;
        let done = journal.done();
        let before = done.iter().filter(|d| **d).count() as u64;
        if before > 0 {
            console.note(&format!(
                "{before} of {} points are there already",
                range.end - range.start
            ));
        }
        let bar = console.counter(range.end - range.start, "burns");
        bar.set_position(before);
        // Rate and time left are those of this run.
        bar.reset_eta();
        let left = done
            .into_iter()
            .zip(range)
            .filter(|(done, _)| !done)
            .map(|(_, i)| i);
        let threads = args.threads.map(usize::from);
        let outcome = run_points(&study, left, threads, &|row| {
            journal.add(&row).inspect(|()| bar.inc(1))
        });
        bar.finish_and_clear();
        outcome.map_err(from_record)?;
        journal.finish().map_err(from_record)?;
    } else {
        console.note(&format!(
            "all points are in {} already",
            dir.join(RUNS).display()
        ));
    }
    report(console, &file, &study, &head, &dir, &args.report)
}

pub fn gather(console: &Console, args: &GatherArgs) -> Result<(), CliError> {
    let (parts, common) = find_parts(&args.parts)?;
    let Some(first) = parts.first() else {
        return Err(usage(
            "there are no parts of a study there".into(),
            "name the folders that `sweep --part` wrote, or the one that holds them",
        ));
    };
    let SourceFile::Study(file) = study_file::read(&first.dir.join("study.toml"))? else {
        return Err(CliError::Study(format!(
            "`{}` is no study file",
            first.dir.join("study.toml").display()
        )));
    };
    let name = first.dir.join("scenario.toml");
    let text = study_file::read_text(&name)?;
    let study = file.study(&name.display().to_string(), text)?;
    let head = head(&study, Part::WHOLE);
    if head.fingerprint != first.fingerprint {
        return Err(usage(
            format!(
                "`{}` was run with other values, or by another version of the program, than its study.toml says",
                first.dir.display()
            ),
            "run its parts anew with this version",
        ));
    }
    let dir = args
        .report
        .out
        .clone()
        .or(common)
        .unwrap_or_else(|| Path::new("results").join("gathered"));
    // Also refuses a folder that holds another study.
    if let Record::Open(journal) = Record::open(&dir, &head).map_err(from_record)? {
        drop(journal);
        record::join(&parts, &head, &dir).map_err(from_record)?;
        let _ = std::fs::remove_file(dir.join(record::PARTIAL));
    }
    ports::write_file(&dir.join("scenario.toml"), study.base.text.as_bytes())?;
    ports::write_file(&dir.join("study.toml"), file.text()?.as_bytes())?;
    report(console, &file, &study, &head, &dir, &args.report)
}

/// Answers, front and pictures of a finished table; the exit code tells of points that did not run.
fn report(
    console: &Console,
    file: &StudyFile,
    study: &Study,
    head: &StudyHead,
    dir: &Path,
    args: &ReportArgs,
) -> Result<(), CliError> {
    let pick = |typed: &[String], written: &[String]| {
        if typed.is_empty() {
            written.to_vec()
        } else {
            typed.to_vec()
        }
    };
    let title = file.title.clone().unwrap_or_else(|| scenario_title(study));
    let options = record::ReportOptions {
        title,
        show: pick(&args.show, &file.show),
        front: pick(&args.front, &file.front),
        units: args.units.into(),
        pictures: !args.no_pictures,
        orders: level_orders(study),
        numeric: study.axes.iter().map(Axis::is_numeric).collect(),
    };
    let made = record::report(dir, head, &options).map_err(from_record)?;
    console.result(&if args.json {
        format!("{:#}", made.json)
    } else {
        made.text
    })?;
    console.note(&format!(
        "{} points and {} pictures in {}",
        head.points,
        made.pictures.len(),
        dir.display()
    ));
    match made.not_run {
        0 => Ok(()),
        count => Err(CliError::SomeFailed {
            count,
            of: made.rows,
            table: dir.join(RUNS),
        }),
    }
}

/// Labels of each axis in the order in which they were written; empty where there are too many to be a picture's.
fn level_orders(study: &Study) -> Vec<Vec<String>> {
    let labels = |a: &Axis| match a.count() {
        Some(n) if n <= 1000 => (0..n).filter_map(|i| a.level(i)).map(|l| l.label).collect(),
        _ => Vec::new(),
    };
    study.axes.iter().map(labels).collect()
}

fn scenario_title(study: &Study) -> String {
    let title = study
        .base
        .text
        .parse::<toml::Table>()
        .ok()
        .and_then(|t| Some(t.get("title")?.as_str()?.to_owned()));
    title.unwrap_or_else(|| "Study".into())
}

fn head(study: &Study, part: Part) -> StudyHead {
    StudyHead {
        fingerprint: study.fingerprint(),
        axes: study
            .axes
            .iter()
            .map(|a| StudyAxis {
                name: a.name.clone(),
                unit: a.unit.clone(),
            })
            .collect(),
        points: study.points(),
        part,
    }
}

/// The study that is meant, its scenario's name and text.
fn read_study(args: &SweepArgs) -> Result<(StudyFile, String, String), CliError> {
    let (mut file, name, text) = match study_file::read(&args.source)? {
        SourceFile::Scenario(text) => (StudyFile::default(), args.source.clone(), text),
        SourceFile::Study(file) => {
            if !args.vary.is_empty() {
                return Err(usage(
                    "a study file says itself what is varied".into(),
                    "leave --vary out, or name the scenario",
                ));
            }
            let name = args
                .source
                .parent()
                .unwrap_or(Path::new(""))
                .join(&file.scenario);
            let text = match study_file::read_text(&name) {
                Err(CliError::Read { path, source }) => {
                    return Err(CliError::NamedScenario {
                        place: study_file::place_of_scenario(&args.source),
                        path,
                        source,
                    });
                }
                read => read?,
            };
            (*file, name, text)
        }
    };
    let mut problems = Vec::new();
    for written in &args.vary {
        match Axis::parse(written) {
            Ok(axis) => {
                let (_, values) = written.split_once('=').unwrap_or_default();
                file.vary.push(Vary {
                    keys: axis.paths,
                    values: Some(values.trim().to_owned()),
                    ..Vary::default()
                });
            }
            Err(e) => problems.push(e.to_string()),
        }
    }
    if !problems.is_empty() {
        return Err(usage(
            problems.join("\n"),
            "write it as --vary 'coil.length=6 m .. 30 m in 25 steps'",
        ));
    }
    if file.vary.is_empty() {
        return Err(usage(
            "the study varies nothing".into(),
            "say what to vary: --vary 'coil.length=6 m .. 30 m in 25 steps'",
        ));
    }
    for written in &args.set {
        let (key, value) = parse_override(written)?;
        file.set.push(Set { key, value });
    }
    file.design = args.design.unwrap_or(file.design);
    file.samples = args.samples.or(file.samples);
    file.seed = args.seed.or(file.seed);
    Ok((file, name.display().to_string(), text))
}

/// Refuses a study before it begins where a path names nothing, or where neither the first, the middle nor the last point is a
/// scenario.
fn check_points(console: &Console, study: &Study) -> Result<(), CliError> {
    let mut first = None;
    let mut good = 0;
    for i in [0, study.points() / 2, study.points() - 1] {
        let Err(problems) = study.base.rig(&Study::values(&study.point(i))) else {
            good += 1;
            continue;
        };
        let lost = problems
            .items()
            .iter()
            .any(|d| d.code == codes::UNKNOWN_PATH.id);
        let first = first.get_or_insert(problems);
        if lost {
            good = 0;
            break;
        }
        let _ = first;
    }
    match first {
        Some(problems) if good == 0 => {
            console.message(&problems.render(console.color_err));
            Err(CliError::Scenario {
                name: format!("the points of the study over `{}`", study.base.name),
                count: problems.errors(),
                first_code: problems
                    .items()
                    .iter()
                    .find(|d| d.severity == Severity::Error)
                    .map(|d| d.code),
            })
        }
        _ => Ok(()),
    }
}

/// Parts in order, checked against each other; and the folder that holds them all, if one was named.
fn find_parts(dirs: &[PathBuf]) -> Result<(Vec<Found>, Option<PathBuf>), CliError> {
    let mut parts: Vec<Found> = Vec::new();
    let mut common = None;
    for dir in dirs {
        let read = |source| CliError::Read {
            path: dir.clone(),
            source,
        };
        let mut below: Vec<PathBuf> = std::fs::read_dir(dir)
            .map_err(read)?
            .filter_map(|e| Some(e.ok()?.path()))
            .filter(|p| {
                p.is_dir()
                    && p.file_name()
                        .is_some_and(|n| n.to_string_lossy().starts_with("part-"))
            })
            .collect();
        if below.is_empty() {
            below.push(dir.clone());
        } else if dirs.len() == 1 {
            common = Some(dir.clone());
        }
        for part in below {
            match record::find(&part).map_err(from_record)? {
                Some(found) => parts.push(found),
                None => {
                    return Err(usage(
                        format!("`{}` holds no table of a study", part.display()),
                        "leave it out, or run that part",
                    ));
                }
            }
        }
    }
    parts.sort_by_key(|p| p.part.number);
    let Some(first) = parts.first().cloned() else {
        return Ok((parts, common));
    };
    for p in &parts {
        if p.fingerprint != first.fingerprint
            || p.points != first.points
            || p.part.of != first.part.of
        {
            return Err(usage(
                format!(
                    "`{}` and `{}` are parts of different studies",
                    first.dir.display(),
                    p.dir.display()
                ),
                "gather the parts of one study, all run by one version of the program and cut into the same number",
            ));
        }
    }
    if let Some(twice) = parts.windows(2).find(|w| w[0].part == w[1].part) {
        return Err(usage(
            format!(
                "part {} is there twice: `{}` and `{}`",
                twice[0].part,
                twice[0].dir.display(),
                twice[1].dir.display()
            ),
            "name one of them",
        ));
    }
    let unfinished: Vec<String> = parts
        .iter()
        .filter(|p| !p.complete)
        .map(|p| p.part.to_string())
        .collect();
    // A part may have no points where there are more parts than points.
    let missing: Vec<String> = (1..=first.part.of)
        .map(|number| Part {
            number,
            of: first.part.of,
        })
        .filter(|p| {
            !p.range(first.points).is_empty() && !parts.iter().any(|found| found.part == *p)
        })
        .map(|p| p.to_string())
        .collect();
    for (what, list) in [("not finished", unfinished), ("missing", missing)] {
        if !list.is_empty() {
            let shown = list.iter().take(20).cloned().collect::<Vec<_>>().join(", ");
            let more = if list.len() > 20 {
                format!(" and {} more", list.len() - 20)
            } else {
                String::new()
            };
            return Err(usage(
                format!("these parts are {what}: {shown}{more}"),
                "run them: `sweep ... --part K/N` goes on where it stopped",
            ));
        }
    }
    Ok((parts, common))
}

fn default_dir(source: &Path, of_scenario: bool) -> PathBuf {
    let stem = source.file_stem().unwrap_or_default().to_string_lossy();
    Path::new("results").join(if of_scenario {
        format!("{stem}-sweep")
    } else {
        stem.into_owned()
    })
}

fn usage(message: String, hint: &str) -> CliError {
    CliError::Usage {
        message,
        hint: Some(hint.into()),
    }
}

fn from_record(error: OutputError) -> CliError {
    match error {
        e @ OutputError::OtherStudy { .. } => {
            usage(e.to_string(), "name another folder with --out")
        }
        e @ (OutputError::Busy { .. } | OutputError::NoSuchFigure { .. }) => CliError::Usage {
            message: e.to_string(),
            hint: None,
        },
        e => CliError::Output(e.to_string()),
    }
}
