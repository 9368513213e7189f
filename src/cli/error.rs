//! Why a command ended badly, and the exit code that says so.

use std::path::PathBuf;
use thiserror::Error;

/// Exit codes of the program; `--help` lists them for the person.
pub mod exit {
    pub const OK: u8 = 0;
    pub const RUN_FAILED: u8 = 1;
    pub const USAGE: u8 = 2;
    pub const SCENARIO: u8 = 3;
    pub const LOG: u8 = 4;
    pub const SOME_FAILED: u8 = 5;
    pub const INPUT_OUTPUT: u8 = 6;
}

/// Failure of a command.
#[derive(Debug, Error)]
pub enum CliError {
    /// The reader of standard output has gone: nothing is wrong, and nothing more to say.
    #[error("standard output was closed")]
    PipeClosed,

    #[error("cannot write to standard output: {0}")]
    Stdout(std::io::Error),

    /// A well-formed command line that makes no sense.
    #[error("{message}")]
    Usage {
        message: String,
        hint: Option<String>,
    },

    #[error("cannot read {}: {source}", shown(.path))]
    Read {
        path: PathBuf,
        source: std::io::Error,
    },

    /// A study names a scenario that cannot be read.
    #[error("{place}: cannot read the scenario {}: {source}", shown(.path))]
    NamedScenario {
        place: String,
        path: PathBuf,
        source: std::io::Error,
    },

    #[error("cannot write {}: {source}", shown(.path))]
    Write {
        path: PathBuf,
        source: std::io::Error,
    },

    /// A result could not be drawn or written; the text names the file.
    #[error("{0}")]
    Output(String),

    /// The problems themselves have been shown already.
    #[error("{} in {name}", counted(*.count))]
    Scenario {
        name: String,
        count: usize,
        first_code: Option<&'static str>,
    },

    /// What is varied makes no study.
    #[error("{0}")]
    Study(String),

    /// The table is complete, but some of its rows are no results.
    #[error("{count} of {of} points could not be run; {} says why", shown(.table))]
    SomeFailed { count: u64, of: u64, table: PathBuf },

    /// The problems themselves have been shown already.
    #[error("{} in {name}", counted(*.count))]
    Log { name: String, count: usize },

    #[error("the run failed: {0}")]
    Run(String),

    /// The rest is done and written.
    #[error("{0} of the runs failed; the table says why")]
    SomeRunsFailed(usize),
}

impl CliError {
    /// The program's exit code for this failure.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::PipeClosed => exit::OK,
            Self::Run(_) => exit::RUN_FAILED,
            Self::Usage { .. } => exit::USAGE,
            Self::Scenario { .. } | Self::Study(_) => exit::SCENARIO,
            Self::SomeFailed { .. } | Self::SomeRunsFailed(_) => exit::SOME_FAILED,
            Self::Log { .. } => exit::LOG,
            Self::Stdout(_)
            | Self::Read { .. }
            | Self::NamedScenario { .. }
            | Self::Write { .. }
            | Self::Output(_) => exit::INPUT_OUTPUT,
        }
    }

    /// What to do about it, where that is not obvious.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Usage { hint, .. } => hint.clone(),
            Self::Scenario { first_code, .. } => {
                first_code.map(|code| format!("`emberloop explain {code}` says more"))
            }
            _ => None,
        }
    }
}

fn shown(path: &std::path::Path) -> String {
    if path.as_os_str() == "-" {
        "standard input".to_owned()
    } else {
        format!("`{}`", path.display())
    }
}

fn counted(count: usize) -> String {
    match count {
        1 => "1 problem".to_owned(),
        n => format!("{n} problems"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_a_closed_pipe_is_no_failure() {
        assert_eq!(CliError::PipeClosed.exit_code(), 0);
    }

    #[test]
    fn behaves_problems_are_counted_in_words() {
        let error = |count| CliError::Scenario {
            name: "`a.toml`".into(),
            count,
            first_code: None,
        };
        assert_eq!(error(1).to_string(), "1 problem in `a.toml`");
        assert_eq!(error(3).to_string(), "3 problems in `a.toml`");
        assert_eq!(error(3).exit_code(), 3);
    }
}
