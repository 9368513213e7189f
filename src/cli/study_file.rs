//! Study files: which scenario, what is varied, how. The command line's options become the same thing, so that a study can be
//! written into its result folder and read again.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::error::CliError;
use crate::analyses::study::{Axis, Base, Design, Level, Span, Study};

/// A study as written.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StudyFile {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// Relative to the study file.
    pub scenario: PathBuf,
    #[serde(default)]
    pub design: DesignWord,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub samples: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seed: Option<u32>,
    /// Figures that the pictures show.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub show: Vec<String>,
    /// Figures of the trade-off front.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub front: Vec<String>,
    /// Scenario values that hold for all points, in the order of the command line.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub set: Vec<Set>,
    #[serde(default)]
    pub vary: Vec<Vary>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Set {
    pub key: String,
    pub value: String,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "kebab-case")]
pub enum DesignWord {
    /// Every value with every other
    #[default]
    Grid,
    /// First with first, second with second
    Paired,
    /// Random, each axis cut into as many parts as there are samples
    LatinHypercube,
    /// Scrambled Sobol points
    Sobol,
}

/// One axis as written: keys that move together over values, or named cases of several settings.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Vary {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub keys: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub values: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub case: Vec<Case>,
    /// File, line and column of the axis, where it stands in a file.
    #[serde(skip)]
    pub place: Option<String>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    pub name: String,
    /// Key and value as text.
    pub set: BTreeMap<String, String>,
}

/// What a command line's source was: a scenario, or a study that names one.
pub enum SourceFile {
    Scenario(String),
    Study(Box<StudyFile>),
}

/// Reads a file and tells by its content what it is: only a study has a key `scenario`.
pub fn read(path: &Path) -> Result<SourceFile, CliError> {
    let text = read_text(path)?;
    let is_study = text
        .parse::<toml::Table>()
        .is_ok_and(|t| t.contains_key("scenario"));
    if !is_study {
        return Ok(SourceFile::Scenario(text));
    }
    match toml::from_str::<StudyFile>(&text) {
        Ok(mut study) => {
            for (k, vary) in study.vary.iter_mut().enumerate() {
                vary.place = Some(place_of_axis(path, &text, k));
            }
            Ok(SourceFile::Study(Box::new(study)))
        }
        Err(e) => Err(CliError::Study(format!(
            "`{}` is no study file: {}",
            path.display(),
            e.to_string().trim_end()
        ))),
    }
}

/// Where the study file at `path` names its scenario: file, line and column, both from 1.
pub fn place_of_scenario(path: &Path) -> String {
    let text = read_text(path).unwrap_or_default();
    let start = toml::de::DeTable::parse(&text)
        .ok()
        .and_then(|table| Some(table.get_ref().get("scenario")?.span().start));
    place(path, &text, start)
}

/// Where its axis number `k` has its values, or begins.
fn place_of_axis(path: &Path, text: &str, k: usize) -> String {
    let start = toml::de::DeTable::parse(text).ok().and_then(|table| {
        let axis = table.get_ref().get("vary")?.get_ref().as_array()?.get(k)?;
        let values = axis.get_ref().as_table().and_then(|a| a.get("values"));
        Some(values.map_or(axis.span().start, |v| v.span().start))
    });
    place(path, text, start)
}

fn place(path: &Path, text: &str, start: Option<usize>) -> String {
    let at = start.and_then(|start| {
        let before = text.get(..start)?;
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        let line = before.matches('\n').count() + 1;
        let column = before.get(line_start..)?.chars().count() + 1;
        Some(format!(":{line}:{column}"))
    });
    format!("{}{}", path.display(), at.unwrap_or_default())
}

/// The text of a scenario or study.
pub fn read_text(path: &Path) -> Result<String, CliError> {
    let failed = |source| CliError::Read {
        path: path.to_path_buf(),
        source,
    };
    let bytes = std::fs::read(path).map_err(failed)?;
    String::from_utf8(bytes)
        .map_err(|_| CliError::Study(format!("`{}` is not UTF-8 text", path.display())))
}

impl StudyFile {
    /// As TOML, for the result folder.
    pub fn text(&self) -> Result<String, CliError> {
        let body = toml::to_string(self).map_err(|e| CliError::Study(e.to_string()))?;
        Ok(format!("# The study of this folder.\n\n{body}"))
    }

    /// The study over a scenario's text; all problems of its axes at once.
    pub fn study(&self, name: &str, text: String) -> Result<Study, CliError> {
        let (axes, problems): (Vec<_>, Vec<_>) =
            self.vary.iter().map(placed_axis).partition(Result::is_ok);
        let problems: Vec<String> = problems.into_iter().filter_map(Result::err).collect();
        if !problems.is_empty() {
            return Err(CliError::Study(problems.join("\n")));
        }
        let samples = || {
            self.samples.ok_or_else(|| CliError::Study("a random design needs a number of samples: --samples 200, or `samples = 200` in a study file".into()))
        };
        let seed = self.seed.unwrap_or(1);
        let design = match self.design {
            DesignWord::Grid | DesignWord::Paired if self.samples.is_some() => {
                return Err(CliError::Study(
                    "samples belong to a random design: choose latin-hypercube or sobol".into(),
                ));
            }
            DesignWord::Grid => Design::Grid,
            DesignWord::Paired => Design::Paired,
            DesignWord::LatinHypercube => Design::LatinHypercube {
                samples: samples()?,
                seed,
            },
            DesignWord::Sobol => Design::Sobol {
                samples: samples()?,
                seed,
            },
        };
        let base = Base {
            name: name.to_owned(),
            text,
            overrides: self
                .set
                .iter()
                .map(|s| (s.key.clone(), s.value.clone()))
                .collect(),
        };
        Study::new(
            base,
            axes.into_iter().filter_map(Result::ok).collect(),
            design,
        )
        .map_err(|e| CliError::Study(e.to_string()))
    }
}

fn placed_axis(vary: &Vary) -> Result<Axis, String> {
    axis(vary).map_err(|e| match &vary.place {
        Some(place) => format!("{place}: {e}"),
        None => e,
    })
}

fn axis(vary: &Vary) -> Result<Axis, String> {
    let mut axis = match (&vary.values, vary.case.as_slice()) {
        (Some(values), []) if !vary.keys.is_empty() => {
            Axis::of(vary.keys.clone(), values).map_err(|e| e.to_string())?
        }
        (None, cases @ [_, ..]) if vary.keys.is_empty() => {
            let Some(name) = vary.name.clone() else {
                return Err("an axis of cases needs a `name`".into());
            };
            let level = |c: &Case| Level {
                label: c.name.clone(),
                number: None,
                set: c.set.iter().map(|(k, v)| (k.clone(), v.clone())).collect(),
            };
            Axis {
                name,
                paths: Vec::new(),
                unit: String::new(),
                span: Span::List(cases.iter().map(level).collect()),
            }
        }
        _ => return Err(
            "each [[vary]] has either `keys` and `values`, or a `name` and [[vary.case]] entries"
                .into(),
        ),
    };
    if let Some(name) = &vary.name {
        axis.name.clone_from(name);
    }
    Ok(axis)
}
