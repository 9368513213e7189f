//! `hazard`: every fault at the worst moment of the burn; words and a table on standard output, timelines in the folder.

use clap::Args;
use serde_json::json;

use super::args::ScenarioArgs;
use super::console::Console;
use super::error::CliError;
use super::plan::ScenarioPlan;
use super::ports;
use crate::analyses::hazard::{ALL, HazardOptions, hazard};
use crate::output::{hazard_svg, hazard_text, series_csv, svg_to_png};
use crate::results::FaultStatus;
use crate::units::{Kind, parse};
use rayon::prelude::*;

pub const ABOUT: &str = "\
What can go wrong: each fault at the worst moment of the burn, in seconds and kilowatts.

Burns the scenario, stops it at most two minutes apart, and at each stop lets the pump stop, the power fail, \
valves shut, the coil run dry, the flue block and more. Around the worst moment it looks more finely, follows \
that fault for an hour, and tries what a person could do about it. Nothing is ever called safe: the words are \
\"no limit reached in this model\".";

pub const AFTER: &str = "\
Files written to the result folder (an earlier run's are replaced):
  hazard.json                   everything, SI
  hazard-<fault>.csv            each fault against time since it struck, SI
  hazard-<fault>.svg, .png      its timeline

Examples:
  emberloop hazard scenarios/wash-up-barrel.toml
  emberloop hazard my-heater.toml --only pump_stop --only power_cut
  emberloop hazard my-heater.toml --relief-bore '12 mm' --relief-set '3 bar'
  emberloop hazard my-heater.toml --set 'store.floor_height=0.8 m' --json

Exit codes: 0 done (whatever was found), 1 the burn itself failed, 5 done but some fault's run failed.

Cautions: estimates, not a clearance to build or run. Relief valves, vents and distances are for local codes and \
licensed practice.";

#[derive(Debug, Args)]
pub struct HazardArgs {
    #[command(flatten)]
    pub scenario: ScenarioArgs,

    /// Try this fault only; may be repeated
    #[arg(long, value_name = "FAULT", value_parser = clap::builder::PossibleValuesParser::new(ALL.iter().map(|f| f.key())))]
    pub only: Vec<String>,

    /// Flow bore of the relief valve that is fitted, e.g. `12 mm`
    #[arg(long, value_name = "LENGTH")]
    pub relief_bore: Option<String>,

    /// Setting of the relief valve over the air's pressure [default: of the scenario, or 3 bar]
    #[arg(long, value_name = "PRESSURE")]
    pub relief_set: Option<String>,

    /// Write no pictures
    #[arg(long)]
    pub no_pictures: bool,
}

pub fn run(console: &Console, args: &HazardArgs) -> Result<(), CliError> {
    let plan = ScenarioPlan::hazard(args)?;
    let options = HazardOptions {
        only: args.only.clone(),
        relief_bore_m: quantity(&args.relief_bore, "--relief-bore", Kind::Length, 1e-3, 0.2)?,
        relief_pa: quantity(&args.relief_set, "--relief-set", Kind::Pressure, 1e4, 2e6)?,
    };
    let loaded = ports::load_aloud(console, &plan)?;
    let bar = console.counter(1, "moments and faults");
    let outcome = hazard(&loaded.rig, &options, &|n| bar.set_length(n), &|| {
        bar.inc(1)
    });
    bar.finish_and_clear();
    let report = outcome.map_err(|e| CliError::Run(e.to_string()))?;

    let bad = |e: crate::output::OutputError| CliError::Output(e.to_string());
    std::fs::create_dir_all(&plan.out_dir).map_err(|source| CliError::Write {
        path: plan.out_dir.clone(),
        source,
    })?;
    let ran: Vec<_> = report
        .faults
        .iter()
        .filter(|f| f.status == FaultStatus::Ran && f.series.rows() > 1)
        .collect();
    let mut files: Vec<(String, Vec<u8>)> = ran
        .par_iter()
        .map(|f| {
            let name = format!("hazard-{}", f.key.replace('_', "-"));
            let table = series_csv(&f.series).map_err(|e| CliError::Output(e.to_string()))?;
            let mut of_it = vec![(format!("{name}.csv"), table)];
            if plan.pictures {
                let svg = hazard_svg(&report, f, plan.units).map_err(bad)?;
                of_it.push((format!("{name}.png"), svg_to_png(&svg).map_err(bad)?));
                of_it.push((format!("{name}.svg"), svg.into_bytes()));
            }
            Ok(of_it)
        })
        .collect::<Result<Vec<_>, CliError>>()?
        .into_iter()
        .flatten()
        .collect();
    let mut value = json!(report);
    // The series stand in their own files.
    if let Some(list) = value.get_mut("faults").and_then(|f| f.as_array_mut()) {
        for f in list.iter_mut().filter_map(|f| f.as_object_mut()) {
            f.remove("series");
        }
    }
    let text = format!("{value:#}\n");
    files.push(("hazard.json".into(), text.clone().into_bytes()));
    clear_old(&plan.out_dir, &files);
    for (name, bytes) in &files {
        ports::write_file(&plan.out_dir.join(name), bytes)?;
    }
    if plan.json {
        console.result(&text)?;
    } else {
        console.result(&hazard_text(&report, plan.units, console.width()))?;
    }
    console.note(&format!(
        "{} files in {}",
        files.len(),
        plan.out_dir.display()
    ));
    match report.failed() {
        0 => Ok(()),
        n => Err(CliError::SomeRunsFailed(n)),
    }
}

/// Removes an earlier run's timelines that this one does not have.
fn clear_old(dir: &std::path::Path, files: &[(String, Vec<u8>)]) {
    for key in ALL.iter().map(|f| f.key().replace('_', "-")) {
        for end in ["csv", "svg", "png"] {
            let name = format!("hazard-{key}.{end}");
            if !files.iter().any(|(n, _)| *n == name) {
                // Absent in the common case.
                let _ = std::fs::remove_file(dir.join(name));
            }
        }
    }
}

/// A quantity of the command line within a sensible range, SI.
fn quantity(
    text: &Option<String>,
    option: &str,
    kind: Kind,
    low: f64,
    high: f64,
) -> Result<Option<f64>, CliError> {
    let Some(text) = text else { return Ok(None) };
    match parse(kind, text).map(|p| p.si) {
        Ok(v) if (low..=high).contains(&v) => Ok(Some(v)),
        Ok(v) => Err(CliError::Usage {
            message: format!(
                "`{option} {text}` is out of range: {v} (SI), allowed {low} to {high}"
            ),
            hint: None,
        }),
        Err(e) => Err(CliError::Usage {
            message: format!("`{option} {text}`: {e}"),
            hint: None,
        }),
    }
}
