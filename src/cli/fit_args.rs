//! What was typed for `fit`, and its long texts of `--help`.

use clap::{Args, ValueHint};
use std::path::PathBuf;

use super::args::ScenarioArgs;
use super::audit_args::BesideLog;

/// Options of `fit`.
#[derive(Debug, Args)]
pub struct FitArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Log of a measured burn of this rig (may be left out with --rehearse)
    #[arg(value_name = "LOG", value_hint = ValueHint::FilePath, required_unless_present = "rehearse")]
    pub log: Option<PathBuf>,

    /// Values to fit, parted by commas; may be repeated
    ///
    /// A closure by its name (`bank_exposure`, see docs/closures.md), `moisture`, or any number of the scenario with the
    /// range that nine in ten rigs lie in: `coil.length = 8 m .. 11 m`. Without it: inlet_area, bank_exposure,
    /// fouling_rate, bed_rate, casing_loss and moisture.
    #[arg(long, value_name = "NAME[,NAME]")]
    pub free: Vec<String>,

    /// Hold every other closure where the scenario has it; intervals are then narrower than is honest
    #[arg(long)]
    pub hold_others: bool,

    /// Fit the log up to this time only and predict the rest: `14:30`, or `90 min` since lighting
    #[arg(long, value_name = "TIME")]
    pub until: Option<String>,

    #[command(flatten)]
    pub beside: BesideLog,

    /// Searches from different places
    #[arg(long, value_name = "N", default_value_t = 3, value_parser = clap::value_parser!(u8).range(1..=20), allow_negative_numbers = true)]
    pub starts: u8,

    /// Samples of the bands before and after, 8 to 4096
    #[arg(long, value_name = "N", default_value_t = 48, value_parser = clap::value_parser!(u16).range(8..=4096), allow_negative_numbers = true)]
    pub bands: u16,

    /// Seed of starts and samples
    #[arg(
        long,
        value_name = "N",
        default_value_t = 1,
        allow_negative_numbers = true
    )]
    pub seed: u32,

    /// Instead of fitting, rehearse: fit N made-up logs whose truth is known and count how often the intervals hold it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(2..=10_000), allow_negative_numbers = true)]
    pub rehearse: Option<u16>,

    /// Write no pictures
    #[arg(long)]
    pub no_pictures: bool,
}

pub const FIT: &str = "\
Fit a scenario to a measured burn: values with intervals, what the log cannot tell, a fitted scenario.

The log's own feeds, moves, start temperature and air drive the simulated burn. Several probes are met at once, each \
with its lag, offset and, in hot gas, the radiation error of a bare thermocouple. Priors are those of docs/closures.md; \
closures that are not asked for are carried along within theirs. docs/fit.md says how intervals are made.";

pub const FIT_AFTER: &str = "\
Files written to the result folder:
  fitted.toml     the scenario with the fitted values and where they come from; `emberloop burn` runs it
  as-logged.toml  the same with the log's feeds and moves instead of the scenario's
  fit.json        everything, SI
  fit, residuals, values as .svg and .png

Examples:
  emberloop fit scenarios/wash-up-barrel.toml scenarios/logs/barrel-fahrenheit.csv
  emberloop fit barrel.toml march.csv --free bank_exposure,inlet_area,moisture
  emberloop fit barrel.toml march.csv --free 'coil.length = 8 m .. 11 m' --until '90 min'
      Fits the first hour and a half and tells how the rest lies in the predicted band.
  emberloop fit barrel.toml march.csv --rehearse 50
      With this log's probes and times: how often do the intervals hold a known truth?

Exit codes: 0 done, 1 no fit, 2 command line, 3 scenario, 4 log or mapping (every problem is listed), 6 files.";
