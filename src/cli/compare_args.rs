//! What was typed for `compare`, and its long texts of `--help`.

use clap::{Args, ValueEnum, ValueHint};
use std::path::PathBuf;

use super::audit_args::ShownArgs;

/// Options of `compare`.
#[derive(Debug, Args)]
pub struct CompareArgs {
    /// Scenario file, finished result folder (of `burn` or `audit`), or log of a measured burn; LABEL=PATH names it.
    /// All are set against the first
    ///
    /// Logs under one label are repeats of one rig: their scatter then counts, not an assumed one.
    #[arg(value_name = "[LABEL=]PATH", required = true, value_hint = ValueHint::AnyPath)]
    pub burns: Vec<String>,

    /// Also the first scenario with some values changed; parted by `;`; may be repeated
    #[arg(long = "with", value_name = "[LABEL:]PATH=VALUE[;...]")]
    pub with: Vec<String>,

    /// Mapping for the logs that have none beside them
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub mapping: Option<PathBuf>,

    /// Samples of the closures for simulated burns, the same for all
    #[arg(long, value_name = "N", default_value_t = 64, value_parser = samples, allow_negative_numbers = true)]
    pub samples: usize,

    /// What is made alike before burns are set side by side; several parted by commas [default: start,target; with a
    /// log also water,moisture; not what alone differs]
    #[arg(long, value_name = "WHAT", value_delimiter = ',')]
    pub level: Vec<LevelWhat>,

    /// Common target temperature, e.g. `60 degC`
    #[arg(long, value_name = "TEMPERATURE")]
    pub target: Option<String>,

    /// Standard deviation of a fire fed by hand from burn to burn, for logs without repeats [default: 10 %]
    #[arg(long, value_name = "SHARE")]
    pub repeat_spread: Option<String>,

    /// The logs are of one tank: the error of its volume is the same in all
    #[arg(long)]
    pub same_tank: bool,

    /// Time that one visit to the stove takes [default: 105 s]
    #[arg(long, value_name = "TIME")]
    pub visit: Option<String>,

    /// Time to cut, split and stack a cord [default: 9 h]
    #[arg(long, value_name = "TIME")]
    pub cord_work: Option<String>,

    /// Water of one bath
    #[arg(long, value_name = "VOLUME", default_value = "150 L")]
    pub bath: String,

    /// How much warmer a bath's water is made
    #[arg(long, value_name = "DIFFERENCE", default_value = "30 K")]
    pub bath_rise: String,

    /// Burns of this kind a year
    #[arg(
        long,
        value_name = "N",
        default_value_t = 52.0,
        allow_negative_numbers = true
    )]
    pub burns_per_year: f64,

    /// Folder for the results [default: results/compare]
    #[arg(short, long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,

    #[command(flatten)]
    pub shown: ShownArgs,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LevelWhat {
    /// Each burn as it was
    None,
    Start,
    Target,
    Water,
    Moisture,
}

/// Fewer leave nothing near one in forty at either end.
fn samples(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(n) if (20..=65_536).contains(&n) => Ok(n),
        _ => Err("a whole number from 20 to 65536 is wanted".into()),
    }
}

pub const COMPARE: &str = "\
Compare simulated and measured burns: which is faster, on less wood, with less work, and how sure that is.

Takes scenarios (run now), finished result folders and logs of measured burns (audited now) in any mix. All are \
brought to one task first: start and target temperature, and with a measured burn also water and moisture of the \
wood; each correction is told. Two simulated burns share their samples of the model's closures, so that what the model \
does not know of both cancels. Measured ones bring their uncertainty budgets (JCGM 100) and the scatter of fires from \
burn to burn. Where start, wood or spread do not allow a verdict, the answer is \"cannot tell\", with the reason. \
docs/compare.md says how.";

pub const COMPARE_AFTER: &str = "\
Files written to the result folder:
  compare.json         everything, SI
  overlay              tank, coil outlet and flue of all over common axes, .svg and .png
  differences          each difference with its interval, .svg and .png

Examples:
  emberloop compare scenarios/wash-up-barrel.toml scenarios/wash-up-barrel-stove.toml
  emberloop compare my-heater.toml --with 'coil.length=12 m' --with 'wet:fuel.moisture=30 %'
      What one change does, everything else the same.
  emberloop compare before=march.csv after=april.csv
      Two measured burns; each with its mapping beside it (docs/logs.md).
  emberloop compare old=m1.csv old=m2.csv old=m3.csv new=a1.csv new=a2.csv new=a3.csv
      Repeats under one label: their own scatter decides.
  emberloop compare measured=march.csv model=scenarios/wash-up-barrel.toml --target '60 degC'
  emberloop audit march.csv --feeds wood.csv --out results/march && emberloop compare results/march my-heater.toml
      A log with a second table: audit it first, then name the folder.

Exit codes: 0 done (whatever the verdict), 1 a run failed, 2 command line, 3 scenario, 4 log or mapping, 6 files.";
