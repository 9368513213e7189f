//! `season`: burns in a row over one growing deposit; whether and when to clean, and what gathers in the flue.

use clap::Args;
use serde_json::json;
use std::sync::Mutex;

use super::args::ScenarioArgs;
use super::console::Console;
use super::error::CliError;
use super::plan::ScenarioPlan;
use super::ports;
use crate::analyses::season::{Heard, SeasonOptions, fingerprint, season};
use crate::output::{
    BurnTable, OutputError, PieceJournal, SEASON_LAYER, layer_csv, season_interval_svg,
    season_layer_svg, season_svg, season_text, svg_to_png,
};
use crate::units::{Kind, parse};

pub const ABOUT: &str = "\
What fouling costs over a season, when cleaning the coil pays, and what gathers in the flue.

Burns the scenario again and again: the soot and tar that one burn leaves on coil and flue is where the next begins. \
Says what each burn costs more in minutes and wood, finds the interval at which cleaning the coil costs least, and tells how \
thick the flue's layer is and where it is powdery, flaky or tarry. Walls are taken as dry, whatever `moisture` they are given. Only some burns are integrated, closely enough that the \
growth between them hardly bends; the others lie between.";

pub const AFTER: &str = "\
Files written to the result folder (an earlier season's are replaced):
  season-burns.csv          each burn of the season without cleaning (`never`) and with it, SI
  season-layer.csv          the layer on each cell of coil and walls after the season without cleaning, SI
  season.json               everything, SI
  season.svg, .png          minutes and wood of each burn, cleanings, the flue's layer
  season-interval.svg, .png mean cost of a burn over the interval between cleanings
  season-layer.svg, .png    where the layer lies, soot and tar
A season that was broken off leaves its finished samples in season-samples.partial.jsonl: the same command goes on from there.

Examples:
  emberloop season scenarios/cedar-tub.toml
  emberloop season scenarios/cedar-tub.toml --burns 60 --cleaning '45 min' --wood-worth '3 min'
  emberloop season my-heater.toml --clean-every 10 --sweep-every 40
  emberloop season my-heater.toml --bands 64 --set 'fuel.moisture=30 %' --json

Cautions: an estimate, not a clearance to burn. Deposits in a flue burn; inspection and sweeping are for local codes and \
licensed practice.";

/// Samples that are ready, one a line.
const SAMPLES: &str = "season-samples.partial.jsonl";
/// Most burns of a season.
const MOST_BURNS: i64 = 5000;

#[derive(Debug, Args)]
pub struct SeasonArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Burns of the season, 2 to 5000
    #[arg(long, value_name = "N", default_value_t = 120, value_parser = clap::value_parser!(u32).range(2..=MOST_BURNS), allow_negative_numbers = true)]
    pub burns: u32,

    /// Clean the coil every so many burns [default: at the interval that costs least]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=MOST_BURNS), allow_negative_numbers = true)]
    pub clean_every: Option<u32>,

    /// Sweep the flue every so many burns [default: never, to see how thick it gets]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=MOST_BURNS), allow_negative_numbers = true)]
    pub sweep_every: Option<u32>,

    /// Work of one cleaning of the coil; default: half an hour to open, brush and close (common practice)
    #[arg(long, value_name = "TIME", default_value = "30 min")]
    pub cleaning: String,

    /// Work that a kilogram of wood is worth; default: 1 min to cut, split, stack and carry (common practice)
    #[arg(long, value_name = "TIME", default_value = "1 min")]
    pub wood_worth: String,

    /// Samples for the bands: 0 (none), or 8 to 65536
    #[arg(long, value_name = "N", default_value_t = 16, value_parser = super::args::samples, allow_negative_numbers = true)]
    pub bands: usize,

    /// Integrate every burn, none between two others
    #[arg(long)]
    pub all_burns: bool,

    /// Write no pictures
    #[arg(long)]
    pub no_pictures: bool,
}

pub fn run(console: &Console, args: &SeasonArgs) -> Result<(), CliError> {
    let plan = ScenarioPlan::new(&args.scenario, !args.no_pictures)?;
    let whole = |n: u32| n as usize;
    let options = SeasonOptions {
        burns: whole(args.burns),
        clean_every: args.clean_every.map(whole),
        sweep_every: args.sweep_every.map(whole),
        cleaning_s: time(&args.cleaning, "--cleaning", 86_400.0)?,
        wood_worth_s_kg: time(&args.wood_worth, "--wood-worth", 7200.0)?,
        samples: args.bands,
        all: args.all_burns,
    };
    let loaded = ports::load_aloud(console, &plan)?;
    std::fs::create_dir_all(&plan.out_dir).map_err(|source| CliError::Write {
        path: plan.out_dir.clone(),
        source,
    })?;
    let bad = |e: OutputError| CliError::Output(e.to_string());
    let table = BurnTable::begin(&plan.out_dir).map_err(bad)?;
    let (journal, known) = PieceJournal::open(
        &plan.out_dir.join(SAMPLES),
        &fingerprint(&loaded.text, &options),
    )
    .map_err(bad)?;
    if !known.is_empty() {
        console.note(&format!("{} samples are ready from before", known.len()));
    }
    let rows = Mutex::new((table, journal, None));
    let bar = console.counter(
        u64::from(args.burns) + args.bands as u64,
        "burns and samples",
    );
    let outcome = season(&loaded.rig, &options, &known, &|heard| {
        let Ok(mut rows) = rows.lock() else { return };
        let (table, journal, failed) = &mut *rows;
        let added = match heard {
            Heard::Never(b) => {
                bar.inc(1);
                table.add("never", b)
            }
            Heard::Cleaned(b) => table.add("cleaned", b),
            Heard::Sample(s) => {
                bar.inc(1);
                match known.iter().any(|k| k.index == s.index) {
                    true => Ok(()),
                    false => journal.add(s),
                }
            }
        };
        if let (Err(e), None) = (added, &failed) {
            *failed = Some(e);
        }
    });
    bar.finish_and_clear();
    let report = outcome.map_err(|e| CliError::Run(e.to_string()))?;
    if let Ok((table, journal, failed)) = rows.into_inner() {
        if let Some(e) = failed {
            return Err(bad(e));
        }
        table.finish().map_err(bad)?;
        journal.close();
    }
    let text = format!("{:#}\n", json!(report));
    let layer = layer_csv(&report.layer).map_err(|e| CliError::Output(e.to_string()))?;
    let mut files: Vec<(String, Vec<u8>)> = vec![
        (SEASON_LAYER.into(), layer),
        ("season.json".into(), text.clone().into_bytes()),
    ];
    if plan.pictures {
        let mut pictures = vec![
            ("season", season_svg(&report, plan.units)),
            ("season-layer", season_layer_svg(&report, plan.units)),
        ];
        if report.has_coil {
            pictures.push(("season-interval", season_interval_svg(&report)));
        }
        for (name, svg) in pictures {
            let svg = svg.map_err(bad)?;
            files.push((format!("{name}.png"), svg_to_png(&svg).map_err(bad)?));
            files.push((format!("{name}.svg"), svg.into_bytes()));
        }
    }
    for (name, bytes) in &files {
        ports::write_file(&plan.out_dir.join(name), bytes)?;
    }
    if plan.json {
        console.result(&text)?;
    } else {
        console.result(&season_text(&report, plan.units, console.width()))?;
    }
    console.note(&format!(
        "{} files in {}",
        files.len() + 1,
        plan.out_dir.display()
    ));
    Ok(())
}

/// A time of the command line up to `most_s`, s.
fn time(text: &str, option: &str, most_s: f64) -> Result<f64, CliError> {
    let wrong = |message: String| CliError::Usage {
        message,
        hint: Some(format!("write it as `{option} '20 min'`")),
    };
    match parse(Kind::Time, text).map(|p| p.si) {
        Ok(v) if (0.0..=most_s).contains(&v) => Ok(v),
        Ok(v) => Err(wrong(format!(
            "`{option} {text}` is out of range: {v} s, allowed 0 to {most_s} s"
        ))),
        Err(e) => Err(wrong(format!("`{option} {text}`: {e}"))),
    }
}
