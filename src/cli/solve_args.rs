//! What was typed after `size`, `trade` and `sensitivity`.

use super::args::ScenarioArgs;
use clap::Args;

#[derive(Debug, Args)]
pub struct SizeArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Scenario value to find, and where to look: `coil.length = 3 m .. 40 m`
    #[arg(
        long,
        value_name = "PATH=RANGE",
        required_unless_present_any = ["last_feed", "trips"],
        conflicts_with_all = ["last_feed", "trips"],
        requires = "wanted"
    )]
    pub solve: Option<String>,

    /// What a result should be: `time = 2 h`, `boiling_margin >= 5 K`; may be repeated
    ///
    /// Names: time, wood, trips, peak, peak_outlet, boiling_margin, boiling, coil_wall, chamber, efficiency,
    /// stack_loss, heat, flow, and every number of summary.json by its key. One `=` at most.
    #[arg(long = "for", value_name = "RESULT=VALUE", id = "wanted")]
    pub wanted: Vec<String>,

    /// The highest value that keeps the conditions instead of the lowest
    #[arg(long)]
    pub highest: bool,

    /// Values tried over the range before the search
    #[arg(long, value_name = "N", default_value_t = 24, value_parser = clap::value_parser!(u16).range(3..=1000), allow_negative_numbers = true)]
    pub scan: u16,

    /// When to feed last so that the store peaks at this temperature
    #[arg(long, value_name = "TEMPERATURE", conflicts_with = "trips")]
    pub last_feed: Option<String>,

    /// Feed plan of so many charges after lighting, on the least wood
    #[arg(long, value_name = "N", requires = "ready_by", value_parser = clap::value_parser!(u16).range(1..=50), allow_negative_numbers = true)]
    pub trips: Option<u16>,

    /// Time since lighting at which the target must be reached
    #[arg(long, value_name = "TIME", requires = "trips")]
    pub ready_by: Option<String>,

    /// Largest charge of a feed plan
    #[arg(long, value_name = "MASS", default_value = "4 kg", requires = "trips")]
    pub charge: String,

    /// Write no picture
    #[arg(long)]
    pub no_pictures: bool,
}

#[derive(Debug, Args)]
pub struct TradeArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Scenario value to vary, and its bounds; may be repeated
    #[arg(long, value_name = "PATH=RANGE", required = true)]
    pub vary: Vec<String>,

    /// Results that should be small, two or three
    #[arg(long, value_name = "NAMES", value_delimiter = ',', required = true)]
    pub least: Vec<String>,

    /// Condition to keep: `boiling_margin >= 5 K`; may be repeated
    #[arg(long, value_name = "RESULT>=VALUE")]
    pub keep: Vec<String>,

    /// Points of a generation
    #[arg(long, value_name = "N", default_value_t = 32, value_parser = clap::value_parser!(u16).range(4..=1000), allow_negative_numbers = true)]
    pub population: u16,

    /// Generations after the first
    #[arg(long, value_name = "N", default_value_t = 12, value_parser = clap::value_parser!(u16).range(0..=1000), allow_negative_numbers = true)]
    pub generations: u16,

    /// Seed of the search
    #[arg(
        long,
        value_name = "N",
        default_value_t = 1,
        allow_negative_numbers = true
    )]
    pub seed: u64,

    /// Write the scenario of point N of the front, or of `all`
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub choose: Option<String>,

    /// Write no picture
    #[arg(long)]
    pub no_pictures: bool,
}

#[derive(Debug, Args)]
pub struct SensitivityArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Scenario value and its range; may be repeated. Without any: the usual ones and the closures' priors
    #[arg(long, value_name = "PATH=RANGE")]
    pub vary: Vec<String>,

    /// Result to explain
    #[arg(long, value_name = "NAME", default_value = "time")]
    pub of: String,

    /// Paths of the screening
    #[arg(long, value_name = "N", default_value_t = 6, value_parser = clap::value_parser!(u16).range(2..=1000), allow_negative_numbers = true)]
    pub paths: u16,

    /// How many of the strongest go on to variance shares
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..=60), allow_negative_numbers = true)]
    pub few: u16,

    /// Rows for the variance shares; 0: none
    #[arg(long, value_name = "N", default_value_t = 128, value_parser = clap::value_parser!(u16).range(0..=32768), allow_negative_numbers = true)]
    pub rows: u16,

    /// Seed of paths and rows
    #[arg(
        long,
        value_name = "N",
        default_value_t = 1,
        allow_negative_numbers = true
    )]
    pub seed: u32,

    /// Write no picture
    #[arg(long)]
    pub no_pictures: bool,
}
