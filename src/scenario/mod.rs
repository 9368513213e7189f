//! From the person's TOML file to a resolved rig, with every problem pointed at.
//!
//! [`load_str`] and [`load_path`] read; [`Diagnostics`] tells what is wrong, where, and what is allowed;
//! [`schema`] serves editors, [`starter`] a first file, [`codes::explain`] the long explanations.
//!
//! Stages: text to a table with places (`toml`), overrides spliced in, the walk with the schema (keys, types,
//! units, ranges), the raw mirror (serde), and the resolution into a [`Rig`] (references, geometry, defaults).

pub mod codes;
mod defaults;
mod diagnostic;
mod overrides;
mod raw;
mod reference;
mod resolve;
mod schema;
mod source;
mod walk;

pub use diagnostic::{Diagnostic, Diagnostics, Severity};
pub use reference::reference;
pub use schema::schema;
pub use source::Place;

use crate::components::spec::Rig;
use diagnostic::Report;
use raw::RawScenario;
use serde::{Deserialize, Serialize};
use source::Source;
use std::fmt;
use std::ops::Range;
use std::path::{Path, PathBuf};
use toml::de::DeTable;

/// Larger texts are refused unread.
const LARGEST_BYTES: usize = 1 << 20;

/// A default that the scenario left unset, or a value worked out from others.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Defaulted {
    /// Key, as an override would name it.
    pub path: String,
    /// As it would be written.
    pub value: String,
    pub reason: String,
}

/// A scenario that loaded.
#[derive(Debug)]
pub struct Loaded {
    pub rig: Rig,
    /// File name without its ending; names the results folder.
    pub stem: String,
    pub defaults: Vec<Defaulted>,
    /// Findings that do not refuse.
    pub notes: Diagnostics,
    /// The scenario as it was run, overrides applied.
    pub text: String,
}

/// Why a file did not load.
#[derive(Debug)]
pub enum LoadError {
    /// The file could not be read.
    Io {
        path: PathBuf,
        error: std::io::Error,
    },
    /// Its content was refused.
    Bad(Diagnostics),
}

impl fmt::Display for LoadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LoadError::Io { path, error } => write!(f, "cannot read {}: {error}", path.display()),
            LoadError::Bad(d) => d.fmt(f),
        }
    }
}

impl std::error::Error for LoadError {}

/// Loads a scenario from text. `name` stands in messages and gives the stem; `overrides` are pairs of
/// path and value, applied in order.
///
/// # Errors
/// All problems found in one pass.
pub fn load_str(
    name: &str,
    text: &str,
    overrides: &[(String, String)],
) -> Result<Loaded, Diagnostics> {
    if text.len() > LARGEST_BYTES {
        let mut diags = Diagnostics::new(Source::new(name, "", &[]));
        diags.push(Report::new(
            &codes::TOO_LARGE,
            &(0..0),
            format!(
                "the file has {} bytes, a scenario at most {LARGEST_BYTES}",
                text.len()
            ),
        ));
        return Err(diags);
    }
    // A byte-order mark is no part of the scenario.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let source = Source::new(name, text, overrides);
    let mut diags = Diagnostics::new(source.clone());
    let (root, problems) = DeTable::parse_recoverable(source.file());
    // All that is left open at one place, as where a file was cut off, is one finding.
    let mut places: Vec<(Range<usize>, Vec<&str>)> = Vec::new();
    for e in &problems {
        let span = e.span().unwrap_or(0..0);
        match places.iter_mut().find(|(at, _)| at.start == span.start) {
            Some((_, said)) => said.push(e.message()),
            None => places.push((span, vec![e.message()])),
        }
    }
    for (span, said) in places {
        let message = format!("not readable as TOML: {}", said.join("; "));
        let report = Report::new(&codes::SYNTAX, &span, message).label("here");
        let at_end = text
            .get(span.start..)
            .is_none_or(|rest| rest.trim().is_empty());
        diags.push(if at_end && said.len() > 1 {
            report.help("the file ends here: was it cut off?")
        } else {
            report
        });
    }
    if problems
        .iter()
        .any(|e| !e.message().contains("duplicate key"))
    {
        // What follows a broken quote is noise: the syntax comes first. A key given twice hides nothing.
        diags.sort();
        return Err(diags);
    }
    let mut root = root;
    overrides::apply(root.get_mut(), &source, schema::shared(), &mut diags);
    let as_run = if overrides.is_empty() {
        text.to_owned()
    } else {
        overrides::to_text(root.get_ref())
    };
    walk::scenario(root.get_mut(), schema::shared(), &mut diags);
    let raw = match RawScenario::deserialize(toml::de::Deserializer::from(root)) {
        Ok(raw) => raw,
        Err(e) => {
            let span = e.span().unwrap_or(0..0);
            diags.push(Report::new(
                &codes::WRONG_TYPE,
                &span,
                format!("this value could not be taken: {}", e.message()),
            ));
            diags.sort();
            return Err(diags);
        }
    };
    let mut defaults = Vec::new();
    let rig = resolve::rig(&raw, &mut diags, &mut defaults);
    diags.sort();
    let notes = diags.take_notes();
    match rig {
        Some(rig) if !diags.has_errors() => Ok(Loaded {
            rig,
            stem: stem(name),
            defaults,
            notes,
            text: as_run,
        }),
        rig => {
            if rig.is_none() && !diags.has_errors() {
                diags.push(Report::new(
                    &codes::MISSING_KEY,
                    &(0..0),
                    "the scenario is incomplete",
                ));
            }
            diags.absorb(notes);
            Err(diags)
        }
    }
}

/// Loads a scenario file.
///
/// # Errors
/// [`LoadError::Io`] where the file cannot be read, else [`LoadError::Bad`] with all problems.
pub fn load_path(path: &Path, overrides: &[(String, String)]) -> Result<Loaded, LoadError> {
    let io = |error| LoadError::Io {
        path: path.to_owned(),
        error,
    };
    let bytes = std::fs::read(path).map_err(io)?;
    let name = path.display().to_string();
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(e) => {
            let at = e.utf8_error().valid_up_to();
            let lossy = String::from_utf8_lossy(e.as_bytes()).into_owned();
            let mut diags = Diagnostics::new(Source::new(&name, &lossy, &[]));
            diags.push(
                Report::new(&codes::SYNTAX, &(at..at + 1), "the file is not UTF-8 text")
                    .label("first unreadable byte")
                    .help("save the file as UTF-8"),
            );
            return Err(LoadError::Bad(diags));
        }
    };
    load_str(&name, &text, overrides).map_err(LoadError::Bad)
}

/// A commented, complete first scenario, for `emberloop new`.
pub fn starter() -> &'static str {
    include_str!("starter.toml")
}

/// The bundled rigs by name, each a commented, complete scenario.
pub fn bundled() -> &'static [(&'static str, &'static str)] {
    macro_rules! rigs {
        ($($name:literal),*) => {
            &[$(($name, include_str!(concat!("../../scenarios/", $name, ".toml")))),*]
        };
    }
    rigs!(
        "wash-up-barrel",
        "wash-up-barrel-stove",
        "cedar-tub",
        "orchard-tub",
        "workshop-boiler",
        "boatyard-boiler",
        "night-store-bench"
    )
}

fn stem(name: &str) -> String {
    Path::new(name)
        .file_stem()
        .map(|s| s.to_string_lossy().into_owned())
        .filter(|s| !s.is_empty())
        .unwrap_or_else(|| "scenario".to_owned())
}
