//! The library as the commands see it: one function per need, errors as [`CliError`].

use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};

use super::error::CliError;
use super::plan::ScenarioPlan;
use crate::components::spec::Rig;
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

pub fn explain(_code: &str) -> Option<String> {
    None
}

pub fn known_codes() -> Vec<String> {
    Vec::new()
}

pub fn schema() -> Value {
    json!({})
}

pub fn starter() -> String {
    String::new()
}

pub fn burn(_loaded: &Loaded, _progress: &mut dyn FnMut(f64, f64)) -> Result<BurnResult, CliError> {
    Err(CliError::Run("not wired".into()))
}

pub fn write_results(_result: &BurnResult, _plan: &ScenarioPlan) -> Result<Vec<PathBuf>, CliError> {
    Ok(Vec::new())
}

pub fn write_file(path: &Path, bytes: &[u8]) -> Result<(), CliError> {
    fs::write(path, bytes).map_err(|source| CliError::Write {
        path: path.into(),
        source,
    })
}

pub fn summary_json(_result: &BurnResult) -> String {
    String::new()
}

pub fn summary_table(_result: &BurnResult, _plan: &ScenarioPlan, _color: bool) -> String {
    String::new()
}

pub fn draw_rig(_rig: &Rig, _plan: &ScenarioPlan) -> Result<Vec<PathBuf>, CliError> {
    Ok(Vec::new())
}
