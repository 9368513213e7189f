//! What was typed for `sweep` and `gather`, and their long helps.

use clap::{Args, ValueHint};
use std::path::PathBuf;

use super::args::UnitsWhen;
use super::study_file::DesignWord;
use crate::results::Part;

#[derive(Debug, Args)]
pub struct SweepArgs {
    /// Scenario or study file (TOML)
    #[arg(value_name = "SOURCE", value_hint = ValueHint::FilePath)]
    pub source: PathBuf,

    /// What to vary, and over which values; may be repeated
    ///
    /// `coil.length = 6 m .. 30 m in 25 steps` (25 values, both ends among them), `0.1 kg .. 10 kg in 5 log steps`,
    /// `25, 38, 51 mm`, `low, high`. Keys that move together are joined: `loop.supply.inside & loop.return.inside = ...`.
    #[arg(long, value_name = "PATH=VALUES")]
    pub vary: Vec<String>,

    /// Override one scenario value for all points; may be repeated
    #[arg(long = "set", value_name = "PATH=VALUE")]
    pub set: Vec<String>,

    /// How values are put together [default: grid]
    #[arg(long)]
    pub design: Option<DesignWord>,

    /// Samples of a random design
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub samples: Option<u64>,

    /// Seed of a random design [default: 1]
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub seed: Option<u32>,

    /// Run only part K of N equal ones, in a folder of its own; `gather` joins them
    #[arg(long, value_name = "K/N")]
    pub part: Option<Part>,

    /// Threads [default: one a processor]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024), allow_negative_numbers = true)]
    pub threads: Option<u16>,

    #[command(flatten)]
    pub report: ReportArgs,
}

#[derive(Debug, Args)]
pub struct GatherArgs {
    /// Folders of parts, or one folder that holds them
    #[arg(value_name = "DIR", required = true, value_hint = ValueHint::DirPath)]
    pub parts: Vec<PathBuf>,

    #[command(flatten)]
    pub report: ReportArgs,
}

/// What is made of a finished table.
#[derive(Debug, Clone, Args)]
pub struct ReportArgs {
    /// Folder for the results [default: results/<name of the source>; a scenario's with -sweep behind it]
    #[arg(short, long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,

    /// Figures that the pictures show: time, wood, trips, margin, or keys of the summary
    #[arg(long, value_name = "FIGURES", value_delimiter = ',')]
    pub show: Vec<String>,

    /// Two or three figures whose trade-off front is listed [default: time,wood]; `max:KEY` where more is better
    #[arg(long, value_name = "FIGURES", value_delimiter = ',')]
    pub front: Vec<String>,

    /// Units of tables and pictures; runs.csv is always SI
    #[arg(long, value_name = "SYSTEM", default_value = "metric")]
    pub units: UnitsWhen,

    /// Print JSON (SI units) on standard output instead of text
    #[arg(long)]
    pub json: bool,

    /// Write no pictures
    #[arg(long)]
    pub no_pictures: bool,
}

pub const SWEEP: &str = "\
Run many burns of one scenario with some of its values varied.

Any number of scenario values is varied by path: every value with every other (grid), in pairs, or in a random \
design. The burns run in parallel. Each finished one is written at once, so a study that was broken off goes on \
where it stopped when the same command is given again. A point that cannot be run is a row with its reason.";

pub const SWEEP_AFTER: &str = "\
Files in the result folder:
  runs.csv            a row per point: values, status, reason, all figures of the summary (SI)
  runs.partial.csv    the rows so far, while the study runs
  front.csv           the rows of the trade-off front
  study.toml, scenario.toml    what was run
  *.svg, *.png        response curves or maps

Examples:
  emberloop sweep scenarios/wash-up-barrel.toml --vary 'coil.length=6 m .. 30 m in 25 steps'
  emberloop sweep my-heater.toml --vary 'coil.length=6 m .. 24 m in 10 steps' \\
      --vary 'feeding.every[0].add=0.4 kg .. 1.3 kg in 10 steps' --front time,wood
  emberloop sweep my-heater.toml --design latin-hypercube --samples 500 --seed 7 \\
      --vary 'coil.length=6 m .. 30 m' --vary 'fuel.moisture=12 % .. 35 %'
  emberloop sweep scenarios/studies/thermosyphon-or-pump.toml
  emberloop sweep my-study.toml --out results/big --part 3/8
  emberloop gather results/big

Exit codes: 0 all points ran, 5 some could not (runs.csv says why), 2 bad command line, 3 bad scenario or study, \
6 a file cannot be read or written, 130 interrupted: give the same command again.";

pub const GATHER: &str = "\
Join the parts of a study into one table, with its answers and pictures.

The result is the same, byte for byte, as if the study had been run in one piece. Parts of another study, parts that \
are missing and parts that are not finished are refused by name.";

pub const GATHER_AFTER: &str = "\
Examples:
  emberloop gather results/big
  emberloop gather part-a part-b --out results/joined";
