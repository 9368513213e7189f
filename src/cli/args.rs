//! What was typed, exactly: options as text and flags, nothing checked beyond the grammar.

use clap::{Args, Parser, Subcommand, ValueEnum, ValueHint};
use std::path::PathBuf;

use super::audit_args::{self, AuditArgs};
use super::compare_args::{self, CompareArgs};
use super::fit_args::{self, FitArgs};
use super::help;
use super::solve_args::{SensitivityArgs, SizeArgs, TradeArgs};
use super::solve_help;
use super::sweep_args::{self, GatherArgs, SweepArgs};
use crate::units::UnitSystem;

/// The whole command line.
#[derive(Debug, Parser)]
#[command(
    name = "emberloop",
    version,
    about = help::ABOUT,
    long_about = help::LONG_ABOUT,
    after_help = help::AFTER,
    after_long_help = help::AFTER_LONG,
    max_term_width = 100,
    subcommand_required = true,
    arg_required_else_help = true,
    infer_subcommands = false
)]
pub struct Cli {
    #[command(flatten)]
    pub common: Common,
    #[command(subcommand)]
    pub command: Command,
}

/// Options that every command takes.
#[derive(Debug, Args)]
pub struct Common {
    /// Colour in messages and tables
    ///
    /// `auto` colours what goes to a terminal, unless the environment variable NO_COLOR is set to anything
    /// but nothing, or TERM is `dumb`. `always` and `never` overrule both.
    #[arg(
        long,
        global = true,
        value_name = "WHEN",
        default_value = "auto",
        help_heading = "Messages"
    )]
    pub color: ColorWhen,

    /// Only errors on standard error: no progress, notes, timings
    #[arg(
        short,
        long,
        global = true,
        conflicts_with = "verbose",
        help_heading = "Messages"
    )]
    pub quiet: bool,

    /// More on standard error: events, defaults taken, solver counters
    #[arg(short, long, global = true, help_heading = "Messages")]
    pub verbose: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ColorWhen {
    Auto,
    Always,
    Never,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Simulate one burn: how long, how much wood, where the heat goes
    #[command(long_about = help::BURN, after_long_help = help::BURN_AFTER)]
    Burn(BurnArgs),

    /// Check a scenario without running it, and draw the rig to scale
    #[command(long_about = help::CHECK, after_long_help = help::CHECK_AFTER)]
    Check(CheckArgs),

    /// Run many burns with some values varied: tables, maps, answers
    #[command(long_about = sweep_args::SWEEP, after_long_help = sweep_args::SWEEP_AFTER)]
    Sweep(SweepArgs),

    /// Join the parts of a study that was run in pieces
    #[command(long_about = sweep_args::GATHER, after_long_help = sweep_args::GATHER_AFTER)]
    Gather(GatherArgs),

    /// Find the scenario value, last feed or feed plan that meets a target
    #[command(long_about = solve_help::SIZE, after_long_help = solve_help::SIZE_AFTER)]
    Size(SizeArgs),

    /// Search the trade-off between results over several scenario values
    #[command(long_about = solve_help::TRADE, after_long_help = solve_help::TRADE_AFTER)]
    Trade(TradeArgs),

    /// Tell which inputs matter for a result
    #[command(long_about = solve_help::SENSITIVITY, after_long_help = solve_help::SENSITIVITY_AFTER)]
    Sensitivity(SensitivityArgs),

    /// Account for a measured burn from its log: heat, efficiency with its uncertainty, losses
    #[command(long_about = audit_args::AUDIT, after_long_help = audit_args::AUDIT_AFTER)]
    Audit(AuditArgs),

    /// Compare simulated and measured burns: differences with their uncertainty, or "cannot tell"
    #[command(long_about = compare_args::COMPARE, after_long_help = compare_args::COMPARE_AFTER)]
    Compare(CompareArgs),
    /// Fit a scenario to a measured burn: values with intervals, and what the log cannot tell
    #[command(long_about = fit_args::FIT, after_long_help = fit_args::FIT_AFTER)]
    Fit(FitArgs),

    /// What can go wrong: each fault at the worst moment, in seconds
    #[command(long_about = super::hazard::ABOUT, after_long_help = super::hazard::AFTER)]
    Hazard(super::hazard::HazardArgs),

    /// What fouling costs over many burns, and when cleaning pays
    #[command(long_about = super::season::ABOUT, after_long_help = super::season::AFTER)]
    Season(super::season::SeasonArgs),

    /// Write a commented starter scenario
    #[command(long_about = help::NEW, after_long_help = help::NEW_AFTER)]
    New(NewArgs),

    /// Print the JSON Schema of scenario files, for editors
    #[command(long_about = help::SCHEMA, after_long_help = help::SCHEMA_AFTER)]
    Schema,

    /// Explain an error or warning code at length
    #[command(long_about = help::EXPLAIN, after_long_help = help::EXPLAIN_AFTER)]
    Explain(ExplainArgs),

    /// Print a completion script for a shell
    #[command(long_about = help::COMPLETIONS, after_long_help = help::COMPLETIONS_AFTER)]
    Completions(CompletionsArgs),
}

/// Which scenario, and in which units to speak.
#[derive(Debug, Args)]
pub struct ScenarioArgs {
    /// Scenario file (TOML); `-` reads standard input
    #[arg(value_name = "SCENARIO", value_hint = ValueHint::FilePath)]
    pub scenario: PathBuf,

    /// Override one scenario value; may be repeated
    ///
    /// PATH is the dotted path of the key, with a number (from 0) or a name in brackets for an entry of a
    /// list: `fuel.moisture`, `coil[0].length`. VALUE is text as in the file, with its unit: `"25 %"`, `12 m`.
    #[arg(long = "set", value_name = "PATH=VALUE")]
    pub set: Vec<String>,

    /// Folder for the results [default: results/<scenario name>]
    #[arg(short, long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,

    /// Units of tables and pictures; files of numbers are always SI
    #[arg(long, value_name = "SYSTEM", default_value = "metric")]
    pub units: UnitsWhen,

    /// Print JSON (SI units) on standard output instead of text
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum UnitsWhen {
    Metric,
    Us,
}

impl From<UnitsWhen> for UnitSystem {
    fn from(when: UnitsWhen) -> Self {
        match when {
            UnitsWhen::Metric => Self::Metric,
            UnitsWhen::Us => Self::Us,
        }
    }
}

#[derive(Debug, Args)]
pub struct BurnArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Samples for the prediction bands: 0 (none), or 8 to 65536
    ///
    /// Each is the same burn with the closures drawn from their priors (docs/closures.md). Summary, summary.json
    /// and the tank's picture then show 10, 50 and 90 % of them. They run in parallel and do not depend on the
    /// number of processors.
    #[arg(long, value_name = "N", default_value_t = 64, value_parser = samples, allow_negative_numbers = true)]
    pub bands: usize,

    /// Burn so many times in a row over walls that hold water, 2 to 60
    ///
    /// Each burn starts cold, with the water that the one before left in the walls (`moisture` of a layer). A table shows the
    /// heat into drying and into the walls burn by burn; the other results are the first burn's.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(2..=60), allow_negative_numbers = true)]
    pub in_a_row: Option<u32>,

    /// Write no pictures
    #[arg(long)]
    pub no_pictures: bool,
}

/// Fewer than eight say nothing of a tenth.
pub fn samples(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(n) if n == 0 || (8..=65_536).contains(&n) => Ok(n),
        _ => Err("a whole number is wanted: 0, or 8 to 65536".into()),
    }
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Draw no picture of the rig; nothing is written
    #[arg(long)]
    pub no_pictures: bool,
}

#[derive(Debug, Args)]
pub struct NewArgs {
    /// File to write; `-` prints to standard output
    #[arg(value_name = "PATH", default_value = "scenario.toml", value_hint = ValueHint::FilePath)]
    pub path: PathBuf,

    /// Begin from a bundled rig that is like yours, instead of the starter
    #[arg(long, value_name = "RIG", value_parser = clap::builder::PossibleValuesParser::new(super::ports::bundled_names()))]
    pub like: Option<String>,

    /// Replace the file where it exists
    #[arg(long)]
    pub force: bool,
}

#[derive(Debug, Args)]
pub struct ExplainArgs {
    /// Code as printed, e.g. E0203 or W0102
    #[arg(value_name = "CODE")]
    pub code: String,

    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// Shell to write for
    #[arg(value_name = "SHELL")]
    pub shell: clap_complete::Shell,
}
