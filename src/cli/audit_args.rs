//! What was typed for `audit`, and its long texts of `--help`.

use clap::{Args, ValueHint};
use std::path::PathBuf;

use super::args::UnitsWhen;

/// Options of `audit`.
#[derive(Debug, Args)]
pub struct AuditArgs {
    /// Log of a burn: CSV, TSV or the like; `-` reads standard input
    #[arg(value_name = "LOG", value_hint = ValueHint::FilePath)]
    pub log: PathBuf,

    #[command(flatten)]
    pub beside: BesideLog,

    /// Scenario of the rig: its tank, wood and walls stand in where the mapping is silent
    #[arg(long, value_name = "SCENARIO", value_hint = ValueHint::FilePath)]
    pub rig: Option<PathBuf>,

    /// Give one value of the mapping; may be repeated
    #[arg(long = "set", value_name = "KEY=VALUE")]
    pub set: Vec<String>,

    /// Print a mapping to edit, with reasons and questions, and do nothing else
    #[arg(long)]
    pub propose: bool,

    /// Folder for the results [default: results/<log name>]
    #[arg(short, long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,

    #[command(flatten)]
    pub shown: ShownArgs,
}

/// Files that belong to a log.
#[derive(Debug, Clone, Args)]
pub struct BesideLog {
    /// Mapping (TOML): what the columns are, tank, wood [default: LOG.toml beside the log, if there]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub mapping: Option<PathBuf>,

    /// A second table of what was fed and when; its own mapping may stand beside it
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub feeds: Option<PathBuf>,

    /// Another logger's file of the same burn; may be repeated
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub also: Vec<PathBuf>,
}

/// How an account of logs is shown.
#[derive(Debug, Clone, Args)]
pub struct ShownArgs {
    /// Units of tables and pictures; files of numbers are always SI
    #[arg(long, value_name = "SYSTEM", default_value = "metric")]
    pub units: UnitsWhen,

    /// Print JSON (SI units) on standard output instead of text
    #[arg(long)]
    pub json: bool,

    /// Write no pictures
    #[arg(long)]
    pub no_pictures: bool,
}

pub const AUDIT: &str = "\
Account for a measured burn: heat into the tank, energy of the wood, efficiency with its uncertainty.

Reads a log as people keep them (docs/logs.md lists the shapes), names every suspect span and leaves it out \
without filling it, and works out heat, power, efficiency on three bases with an uncertainty budget (JCGM 100), \
stack loss, wood and money per bath, and the comparison with electric and gas heaters at source.";

pub const AUDIT_AFTER: &str = "\
Files written to the result folder:
  audit.json      everything, SI
  heat.csv        heat and power against time, SI
  probes.csv      every probe's readings, SI
  probes, heat, budget as .svg and .png

Examples:
  emberloop audit tub.csv --propose > tub.csv.toml
      A mapping to edit: what each column is, how it was found, what is to be answered.
  emberloop audit tub.csv --feeds wood.csv
  emberloop audit barrel.csv --set 'rig.volume=200 L' --set 'fuel.moisture=20 %' --set 'fuel.moisture_basis=wet'
  emberloop audit barrel.csv --rig scenarios/wash-up-barrel.toml --units us

Exit codes: 0 done, 2 command line, 3 scenario of the rig, 4 log or mapping (every problem is listed), 6 files.";
