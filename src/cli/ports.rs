//! The library as the commands see it: one function per need, failures as [`CliError`].

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::{fs, io};

use super::console::Console;
use super::error::CliError;
use super::plan::{ScenarioPlan, Source};
use crate::analyses::{self, BurnOptions};
use crate::components::spec::Rig;
use crate::output::{self, OutputError, WriteOptions};
use crate::results::{BurnInRow, BurnResult, Echo};
use crate::scenario::{self, Diagnostics, LoadError, Severity};

/// A scenario that can run.
pub struct Loaded {
    pub rig: Rig,
    /// What the scenario left to the program.
    pub defaults: Vec<Echo>,
    /// Findings that do not refuse it, as text; empty where there are none.
    pub notes: String,
    /// The same for machines.
    pub notes_json: Value,
    /// The scenario with the overrides in it.
    pub text: String,
}

/// Everything that is wrong with a scenario.
pub struct Problems {
    /// Text with places and carets, complete.
    pub rendered: String,
    pub json: Value,
    /// Problems that refuse it, notes not counted.
    pub count: usize,
    /// Code of the first.
    pub first_code: Option<&'static str>,
}

impl Problems {
    /// The error that stands for all of them once they have been shown.
    pub fn into_error(self, plan: &ScenarioPlan) -> CliError {
        CliError::Scenario {
            name: plan.name(),
            count: self.count,
            first_code: self.first_code,
        }
    }
}

/// Why there is nothing to run.
pub enum LoadFailure {
    Problems(Problems),
    Other(CliError),
}

/// As [`load`], with problems and notes shown to the person.
pub fn load_aloud(console: &Console, plan: &ScenarioPlan) -> Result<Loaded, CliError> {
    let loaded = load(plan, console.color_err).map_err(|failure| match failure {
        LoadFailure::Other(error) => error,
        LoadFailure::Problems(problems) => {
            console.message(&problems.rendered);
            problems.into_error(plan)
        }
    })?;
    if !loaded.notes.is_empty() {
        console.note(&loaded.notes);
    }
    Ok(loaded)
}

/// Reads the plan's scenario and resolves it.
pub fn load(plan: &ScenarioPlan, color: bool) -> Result<Loaded, LoadFailure> {
    let read_error = |path: PathBuf, source| LoadFailure::Other(CliError::Read { path, source });
    let loaded = match &plan.source {
        Source::File(path) => scenario::load_path(path, &plan.overrides).map_err(|e| match e {
            LoadError::Io { path, error } => read_error(path, error),
            LoadError::Bad(diagnostics) => problems(&diagnostics, color),
        })?,
        Source::StandardInput => {
            let text =
                io::read_to_string(io::stdin()).map_err(|e| read_error(PathBuf::from("-"), e))?;
            scenario::load_str("stdin", &text, &plan.overrides)
                .map_err(|diagnostics| problems(&diagnostics, color))?
        }
    };
    Ok(Loaded {
        rig: loaded.rig,
        defaults: loaded
            .defaults
            .into_iter()
            .map(|d| Echo {
                path: d.path,
                value: d.value,
                reason: d.reason,
            })
            .collect(),
        notes: if loaded.notes.items().is_empty() {
            String::new()
        } else {
            loaded.notes.render(color)
        },
        notes_json: loaded.notes.to_json(),
        text: loaded.text,
    })
}

fn problems(diagnostics: &Diagnostics, color: bool) -> LoadFailure {
    LoadFailure::Problems(Problems {
        rendered: diagnostics.render(color),
        json: diagnostics.to_json(),
        count: diagnostics.errors(),
        first_code: diagnostics
            .items()
            .iter()
            .find(|d| d.severity == Severity::Error)
            .map(|d| d.code),
    })
}

/// An error or warning code at length.
pub fn explain(code: &str) -> Option<String> {
    if let Some(known) = scenario::codes::find(code) {
        return Some(format!("{}: {}\n\n{}", known.id, known.title, known.text));
    }
    // The texts of warnings open with their title.
    analyses::warnings::explain(code).map(|text| format!("{code}: {text}"))
}

/// All codes that [`explain`] knows.
pub fn known_codes() -> Vec<&'static str> {
    let of_scenarios = scenario::codes::TABLE.iter().map(|c| c.id);
    of_scenarios.chain(analyses::warnings::codes()).collect()
}

/// JSON Schema of scenario files.
pub fn schema() -> Value {
    scenario::schema()
}

/// The starter scenario.
pub fn starter() -> &'static str {
    scenario::starter()
}

/// The text of a bundled rig.
pub fn bundled(name: &str) -> Option<&'static str> {
    let found = scenario::bundled().iter().find(|(n, _)| *n == name);
    found.map(|(_, text)| *text)
}

/// Names of the bundled rigs.
pub fn bundled_names() -> Vec<&'static str> {
    scenario::bundled().iter().map(|(n, _)| *n).collect()
}

/// Runs the burn; `progress` hears the share of the longest time and the time burnt.
pub fn burn(loaded: &Loaded, progress: &mut dyn FnMut(f64, f64)) -> Result<BurnResult, CliError> {
    let options = BurnOptions {
        defaults: loaded.defaults.clone(),
        ..BurnOptions::default()
    };
    analyses::burn(&loaded.rig, &options, &mut |at| {
        progress(at.time_s / at.latest_s, at.time_s);
        true
    })
    .map_err(|e| CliError::Run(e.to_string()))
}

/// Some wall of it holds water.
pub fn has_damp_walls(loaded: &Loaded) -> bool {
    loaded
        .rig
        .walls()
        .any(|w| w.iter().any(|l| l.moisture > 0.0))
}

/// Burns so many times in a row over damp walls; `done` hears of each.
pub fn in_a_row(
    loaded: &Loaded,
    count: usize,
    done: &mut dyn FnMut(),
) -> Result<Vec<BurnInRow>, CliError> {
    analyses::in_a_row(&loaded.rig, count, &mut |_| done())
        .map_err(|e| CliError::Run(e.to_string()))
}

/// Writes table and picture of burns in a row to the plan's folder.
pub fn write_in_a_row(
    title: &str,
    row: &[BurnInRow],
    plan: &ScenarioPlan,
) -> Result<Vec<PathBuf>, CliError> {
    let bytes = output::in_a_row_csv(row).map_err(|e| CliError::Output(e.to_string()))?;
    let mut files = vec![(output::BURNS_IN_A_ROW, bytes)];
    if plan.pictures {
        let svg = output::in_a_row_svg(title, row, plan.units).map_err(from_output)?;
        let png = output::svg_to_png(&svg).map_err(from_output)?;
        files.push(("burns-in-a-row.svg", svg.into_bytes()));
        files.push(("burns-in-a-row.png", png));
    }
    let mut written = Vec::new();
    for (name, bytes) in files {
        let path = plan.out_dir.join(name);
        write_file(&path, &bytes)?;
        written.push(path);
    }
    Ok(written)
}

/// What a person reads of them.
pub fn in_a_row_text(row: &[BurnInRow], plan: &ScenarioPlan) -> String {
    output::in_a_row_text(row, plan.units)
}

/// Adds the bands over `samples` samples; `done` hears of each.
pub fn add_bands(
    loaded: &Loaded,
    result: &mut BurnResult,
    samples: usize,
    done: &(dyn Fn() + Sync),
) {
    result.bands = Some(analyses::bands::bands(&loaded.rig, result, samples, done));
}

/// Writes numbers and pictures of a run to the plan's folder.
pub fn write_results(result: &BurnResult, plan: &ScenarioPlan) -> Result<Vec<PathBuf>, CliError> {
    let options = WriteOptions {
        pictures: plan.pictures,
        ..WriteOptions::default()
    };
    output::write_all(&plan.out_dir, result, plan.units, options).map_err(from_output)
}

/// Writes one file beside its place and renames it.
pub fn write_file(path: &Path, bytes: &[u8]) -> Result<(), CliError> {
    output::write_file(path, bytes).map_err(from_output)
}

/// The text of `summary.json`.
pub fn summary_json(result: &BurnResult) -> String {
    format!("{:#}\n", output::summary_json(result))
}

/// What a person reads after a run.
pub fn summary_table(
    result: &BurnResult,
    plan: &ScenarioPlan,
    color: bool,
    width: usize,
) -> String {
    output::summary_table(result, plan.units, color, width)
}

/// Draws the rig to scale into the plan's folder.
pub fn draw_rig(rig: &Rig, plan: &ScenarioPlan) -> Result<Vec<PathBuf>, CliError> {
    let drawing = analyses::drawing::rig_drawing(rig);
    let svg = output::rig_svg(&drawing, plan.units).map_err(from_output)?;
    let png = output::svg_to_png(&svg).map_err(from_output)?;
    fs::create_dir_all(&plan.out_dir).map_err(|source| CliError::Write {
        path: plan.out_dir.clone(),
        source,
    })?;
    let mut written = Vec::new();
    for (name, bytes) in [("rig.svg", svg.into_bytes()), ("rig.png", png)] {
        let path = plan.out_dir.join(name);
        write_file(&path, &bytes)?;
        written.push(path);
    }
    Ok(written)
}

fn from_output(error: OutputError) -> CliError {
    CliError::Output(error.to_string())
}
