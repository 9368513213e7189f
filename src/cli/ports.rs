//! The library as the commands see it: one function per need, failures as [`CliError`].

use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};

use super::error::CliError;
use super::plan::ScenarioPlan;
use crate::analyses::{self, BurnOptions};
use crate::components::spec::Rig;
use crate::output::{self, OutputError, WriteOptions};
use crate::results::{BurnResult, Echo};

/// A scenario that can run.
pub struct Loaded {
    pub rig: Rig,
    /// What the scenario left to the program.
    pub defaults: Vec<Echo>,
}

/// Everything that is wrong with a scenario.
pub struct Problems {
    /// Text with places and carets, complete.
    pub rendered: String,
    pub json: Value,
    pub count: usize,
}

pub enum LoadFailure {
    Problems(Problems),
    Other(CliError),
}

pub fn load(_plan: &ScenarioPlan, _color: bool) -> Result<Loaded, LoadFailure> {
    Err(LoadFailure::Other(CliError::Run("not wired".into())))
}

/// An error or warning code at length.
pub fn explain(code: &str) -> Option<String> {
    analyses::warnings::explain(code).map(str::to_owned)
}

/// All codes that [`explain`] knows.
pub fn known_codes() -> Vec<String> {
    analyses::warnings::codes().map(str::to_owned).collect()
}

pub fn schema() -> Value {
    json!({})
}

pub fn starter() -> String {
    String::new()
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
