//! Results by the names that people use, targets as text, and what the study commands share.

use super::console::Console;
use super::error::CliError;
use super::plan::ScenarioPlan;
use super::ports::{self, Loaded};
use crate::analyses::solve::{Goal, Want};
use crate::analyses::study::{Axis, Base};
use crate::output;
use crate::results::Summary;
use crate::results::figures::{self, Figure};
use crate::units::{Kind, PlotKind, UnitSystem, parse};
use std::path::PathBuf;

/// Short names, the summary's keys behind them, and words for tables.
const NAMES: [(&str, &str, &str); 13] = [
    ("time", "time_to_target_s", "time to target"),
    ("wood", "fuel_fed_kg", "wood fed"),
    ("trips", "trips", "trips"),
    ("peak", "tank_peak_K", "store's peak"),
    ("peak_outlet", "coil_outlet_max_K", "peak outlet"),
    ("boiling_margin", "boiling_margin_min_K", "boiling margin"),
    ("boiling", "boiling_total_s", "time boiling"),
    ("coil_wall", "coil_wall_max_K", "coil wall's peak"),
    ("chamber", "chamber_mean_K", "chamber, mean"),
    (
        "efficiency",
        "efficiency_to_target_net",
        "efficiency to target",
    ),
    ("stack_loss", "stack_loss_fraction", "stack loss"),
    ("heat", "mean_heat_to_tank_W", "heat to the store, mean"),
    ("flow", "loop_flow_mean_kg_s", "loop flow, mean"),
];

fn usage(message: String, hint: impl Into<String>) -> CliError {
    CliError::Usage {
        message,
        hint: Some(hint.into()),
    }
}

/// A result by its short name or its key in summary.json.
pub fn figure(name: &str) -> Result<&'static Figure, CliError> {
    let name = name.trim();
    let key = NAMES
        .iter()
        .find(|n| n.0 == name.replace([' ', '-'], "_"))
        .map_or(name, |n| n.1);
    figures::find(key).ok_or_else(|| {
        let short: Vec<&str> = NAMES.iter().map(|n| n.0).collect();
        usage(
            format!("`{name}` is no result of a burn"),
            format!(
                "known: {}; and every key of summary.json that is a number",
                short.join(", ")
            ),
        )
    })
}

/// Words of a result.
pub fn words(figure: &Figure) -> String {
    let known = NAMES.iter().find(|n| n.1 == figure.key);
    known.map_or_else(|| figure.key.replace('_', " "), |n| n.2.to_owned())
}

/// What an axis over it shows, and how its values are read and told.
pub fn kind(figure: &Figure) -> (PlotKind, Kind) {
    let key = figure.key;
    match figure.unit() {
        "K" if key.contains("margin") || key.contains("overshoot") => {
            (PlotKind::TemperatureDifference, Kind::TemperatureDifference)
        }
        "K" => (PlotKind::Temperature, Kind::Temperature),
        "s" => (PlotKind::Minutes, Kind::Time),
        "kg" => (PlotKind::Mass, Kind::Mass),
        "J" => (PlotKind::Energy, Kind::Energy),
        "W" => (PlotKind::Power, Kind::Power),
        "Pa" => (PlotKind::Draught, Kind::Pressure),
        "kg/s" => (PlotKind::WaterFlow, Kind::MassFlow),
        _ if key.contains("fraction") || key.contains("efficiency") => {
            (PlotKind::Fraction, Kind::Fraction)
        }
        _ => (PlotKind::Number, Kind::Number),
    }
}

/// A result as text; a dash where there is none.
pub fn told(figure: &Figure, summary: &Summary, units: UnitSystem) -> String {
    figure
        .of(summary)
        .map_or("-".into(), |v| output::quantity(kind(figure).0, v, units))
}

/// `time = 2 h`, `boiling_margin >= 5 K`, `wood <= 8 kg`.
pub fn want(text: &str) -> Result<Want, CliError> {
    let hint = "write it as `time = 2 h`, `boiling_margin >= 5 K` or `wood <= 8 kg`";
    let (at, sign) = [">=", "<=", "="]
        .iter()
        .find_map(|s| text.find(s).map(|at| (at, *s)))
        .ok_or_else(|| usage(format!("`{text}` has no `=`, `>=` or `<=`"), hint))?;
    let figure = figure(&text[..at])?;
    let value = text[at + sign.len()..].trim();
    let si = parse(kind(figure).1, value)
        .map_err(|e| usage(format!("`{text}`: {e}"), e.help()))?
        .si;
    Ok(Want {
        figure,
        goal: match sign {
            "=" => Goal::Meet(si),
            ">=" => Goal::AtLeast(si),
            _ => Goal::AtMost(si),
        },
    })
}

/// A wanted level as text.
pub fn want_text(want: &Want, units: UnitSystem) -> String {
    let sign = match want.goal {
        Goal::Meet(_) => "=",
        Goal::AtLeast(_) => ">=",
        Goal::AtMost(_) => "<=",
    };
    let level = output::quantity(kind(want.figure).0, want.level(), units);
    format!("{} {sign} {level}", words(want.figure))
}

/// A scenario that can be varied.
pub fn load(console: &Console, plan: &ScenarioPlan) -> Result<(Loaded, Base), CliError> {
    let loaded = ports::load_aloud(console, plan)?;
    let base = Base {
        name: plan.name().trim_matches('`').to_owned(),
        text: loaded.text.clone(),
        overrides: Vec::new(),
    };
    Ok((loaded, base))
}

/// An axis whose values lie between two ends; refused where the scenario takes none of them.
pub fn range(console: &Console, base: &Base, text: &str) -> Result<Axis, CliError> {
    let hint = "write it as `coil.length = 6 m .. 30 m`";
    let axis = Axis::parse(text).map_err(|e| usage(e.to_string(), hint))?;
    if axis.ends().is_none() {
        return Err(usage(format!("`{text}` is no range"), hint));
    }
    let mut refused = None;
    for share in [0.0, 0.5, 1.0] {
        let sets = axis.at_share(share, 1).map(|l| l.set).unwrap_or_default();
        match base.rig(&sets) {
            Ok(_) => return Ok(axis),
            Err(d) => refused = Some(d),
        }
    }
    let count = refused.as_ref().map_or(1, |d| d.errors());
    if let Some(d) = refused {
        console.message(&d.render(console.color_err));
    }
    Err(CliError::Scenario {
        name: format!("`{}`, over its whole range", text.trim()),
        count,
        first_code: None,
    })
}

/// Writes files into the plan's folder; tells how many.
pub fn write(
    console: &Console,
    plan: &ScenarioPlan,
    files: Vec<(String, Vec<u8>)>,
) -> Result<(), CliError> {
    std::fs::create_dir_all(&plan.out_dir).map_err(|source| CliError::Write {
        path: plan.out_dir.clone(),
        source,
    })?;
    let n = files.len();
    for (name, bytes) in files {
        let path: PathBuf = plan.out_dir.join(name);
        ports::write_file(&path, &bytes)?;
    }
    console.note(&format!("{n} files in {}", plan.out_dir.display()));
    Ok(())
}

/// A picture as SVG and PNG.
pub fn picture(
    name: &str,
    svg: Result<String, output::OutputError>,
) -> Result<Vec<(String, Vec<u8>)>, CliError> {
    let bad = |e: output::OutputError| CliError::Output(e.to_string());
    let svg = svg.map_err(bad)?;
    let png = output::svg_to_png(&svg).map_err(bad)?;
    Ok(vec![
        (format!("{name}.svg"), svg.into_bytes()),
        (format!("{name}.png"), png),
    ])
}

/// The scenario with these values in it.
pub fn scenario_text(base: &Base, sets: &[(String, String)]) -> Result<Vec<u8>, CliError> {
    crate::scenario::load_str(&base.name, &base.text, sets)
        .map(|l| l.text.into_bytes())
        .map_err(|d| CliError::Run(d.to_string()))
}

/// What a run of these values warns of, and the standing caution.
pub fn cautions(summary: Option<&Summary>) -> String {
    let mut text = String::new();
    for w in summary.iter().flat_map(|s| &s.warnings) {
        text.push_str(&format!("  {}  {}\n", w.code, w.text));
    }
    text + "\nEstimates, not a clearance to build or run. A coil in a fire can boil and hot water scalds: an open vent or a \
relief valve sized by someone licensed, local codes and licensed practice decide.\n"
}

/// Rows as a table in text, columns padded.
pub fn table(head: &[String], rows: &[Vec<String>]) -> String {
    let width = |i: usize| {
        let all = rows.iter().filter_map(|r| r.get(i)).chain(head.get(i));
        all.map(|c| c.chars().count()).max().unwrap_or(0)
    };
    let line = |cells: &[String]| {
        let padded: Vec<String> = cells
            .iter()
            .enumerate()
            .map(|(i, c)| format!("{c:<w$}", w = width(i)))
            .collect();
        format!("  {}\n", padded.join("  ").trim_end())
    };
    std::iter::once(line(head))
        .chain(rows.iter().map(|r| line(r)))
        .collect()
}

/// Rows as CSV.
pub fn csv(head: &[String], rows: &[Vec<String>]) -> Vec<u8> {
    let mut out = csv::Writer::from_writer(Vec::new());
    // Writing to memory does not fail.
    let _ = out.write_record(head);
    for row in rows {
        let _ = out.write_record(row);
    }
    out.into_inner().unwrap_or_default()
}
