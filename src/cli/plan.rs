//! What was meant: every option checked and complete, nothing left to decide in the commands.

use std::path::{Path, PathBuf};

use super::args::{BurnArgs, CheckArgs, ScenarioArgs};
use super::error::CliError;
use crate::units::UnitSystem;

/// Where the scenario comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    File(PathBuf),
    StandardInput,
}

/// The scenario, where its results go, and how to speak of it.
#[derive(Debug, Clone, PartialEq)]
pub struct ScenarioPlan {
    pub source: Source,
    /// Path and value of each `--set`, well formed; whether the scenario has such a key, loading it tells.
    pub overrides: Vec<(String, String)>,
    pub out_dir: PathBuf,
    pub units: UnitSystem,
    pub json: bool,
    pub pictures: bool,
    /// Samples for the bands.
    pub bands: usize,
    /// Burns in a row; 0: only the one.
    pub in_a_row: usize,
}

impl ScenarioPlan {
    /// Plan of `burn`.
    pub fn burn(args: &BurnArgs) -> Result<Self, CliError> {
        Ok(Self {
            bands: args.bands,
            in_a_row: args.in_a_row.map_or(0, |n| n as usize),
            ..Self::new(&args.scenario, !args.no_pictures)?
        })
    }

    /// Plan of `check`.
    pub fn check(args: &CheckArgs) -> Result<Self, CliError> {
        Self::new(&args.scenario, !args.no_pictures)
    }

    /// Plan of `hazard`.
    pub fn hazard(args: &super::hazard::HazardArgs) -> Result<Self, CliError> {
        Self::new(&args.scenario, !args.no_pictures)
    }

    pub fn new(args: &ScenarioArgs, pictures: bool) -> Result<Self, CliError> {
        let source = if args.scenario.as_os_str() == "-" {
            Source::StandardInput
        } else {
            Source::File(args.scenario.clone())
        };
        let out_dir = out_dir(args.out.as_deref(), || default_out_dir(&source))?;
        Ok(Self {
            overrides: args
                .set
                .iter()
                .map(|text| parse_override(text))
                .collect::<Result<_, _>>()?,
            source,
            out_dir,
            units: args.units.into(),
            json: args.json,
            pictures,
            bands: 0,
            in_a_row: 0,
        })
    }

    /// The scenario's name for messages.
    pub fn name(&self) -> String {
        match &self.source {
            Source::File(path) => format!("`{}`", path.display()),
            Source::StandardInput => "standard input".into(),
        }
    }
}

/// The folder that `--out` names, or the usual one.
pub(super) fn out_dir(
    given: Option<&Path>,
    usual: impl FnOnce() -> Result<PathBuf, CliError>,
) -> Result<PathBuf, CliError> {
    match given {
        Some(dir) if dir.as_os_str().is_empty() => Err(CliError::Usage {
            message: "`--out` names no folder".into(),
            hint: None,
        }),
        Some(dir) => Ok(dir.to_path_buf()),
        None => usual(),
    }
}

fn default_out_dir(source: &Source) -> Result<PathBuf, CliError> {
    let name = match source {
        Source::StandardInput => "stdin".as_ref(),
        Source::File(path) => path.file_stem().ok_or_else(|| CliError::Usage {
            message: format!("`{}` is not the name of a file", path.display()),
            hint: Some("name a scenario file; `emberloop new` writes one".into()),
        })?,
    };
    Ok(Path::new("results").join(name))
}

/// Path and value of a `--set`.
pub(super) fn parse_override(text: &str) -> Result<(String, String), CliError> {
    let wrong = |message: String| CliError::Usage {
        message,
        hint: Some("write it as `--set 'fuel.moisture=25 %'`".into()),
    };
    let Some((path, value)) = text.split_once('=') else {
        return Err(wrong(format!("`--set {text}` has no `=`")));
    };
    let path = path.trim();
    if path.is_empty() {
        return Err(wrong(format!("`--set {text}` names no key")));
    }
    let value = value.trim();
    if value.is_empty() {
        return Err(wrong(format!("`--set {text}` gives no value")));
    }
    Ok((path.into(), value.into()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_overrides_split_at_the_first_equals_sign() {
        let wanted = ("coil[0].tube".to_owned(), "1/2 in type=L".to_owned());
        assert_eq!(
            parse_override("coil[0].tube = 1/2 in type=L").ok(),
            Some(wanted)
        );
        for bad in ["fuel.moisture", "=3", " = 3", "a=", "a= "] {
            let error = parse_override(bad).err();
            assert_eq!(error.as_ref().map(CliError::exit_code), Some(2), "{bad}");
            assert!(error.and_then(|e| e.hint()).is_some(), "{bad}");
        }
    }

    #[test]
    fn behaves_results_go_to_a_folder_named_after_the_scenario() {
        let dir = |path: &str| default_out_dir(&Source::File(path.into()));
        assert_eq!(dir("a/b/tub.toml").ok(), Some("results/tub".into()));
        assert_eq!(dir("tub.v2.toml").ok(), Some("results/tub.v2".into()));
        assert_eq!(
            default_out_dir(&Source::StandardInput).ok(),
            Some("results/stdin".into())
        );
        assert!(dir("..").is_err());
    }
}
