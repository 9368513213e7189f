//! `sensitivity`: which values matter for a result, in a table, in words and as a tornado.

use super::console::Console;
use super::error::CliError;
use super::goal::{self, cautions, words};
use super::plan::ScenarioPlan;
use super::solve_args::SensitivityArgs;
use crate::analyses::solve::sensitivity::{Effort, sensitivity};
use crate::analyses::study::{Axis, Base, Decimal};
use crate::components::priors::{PRIORS, TWENTIETH};
use crate::components::spec::Rig;
use crate::output::{self, Bar};
use crate::results::figures::Figure;
use crate::scenario::Diagnostics;
use crate::units::{PlotKind, UnitSystem};
use serde_json::json;

/// Keys that are varied by a fifth of their value either way (shares never up to the whole), where the scenario has them as one
/// number with a unit.
const USUAL: [&str; 14] = [
    "fuel.stick.thickness",
    "lighting.kindling",
    "feeding.every[0].add",
    "feeding.every[0].interval",
    "firebox.mouth_cover",
    "firebox.air_over",
    "firebox.in_water",
    "firebox.width",
    "coil[0].length",
    "coil[0].pitch",
    "store.water",
    "store.loss",
    "site.wind",
    "gas_path.flue.length",
];
/// Bars of the picture and lines of the words.
const MOST_BARS: usize = 14;

pub fn run(console: &Console, args: &SensitivityArgs) -> Result<(), CliError> {
    let mut plan = ScenarioPlan::new(&args.scenario, !args.no_pictures)?;
    if args.scenario.out.is_none() {
        plan.out_dir.push("sensitivity");
    }
    let figure = goal::figure(&args.of)?;
    let (loaded, base) = goal::load(console, &plan)?;
    let axes: Vec<Axis> = if args.vary.is_empty() {
        usual(&base, &loaded.rig)
    } else {
        args.vary
            .iter()
            .map(|v| whole_range(console, &base, v))
            .collect::<Result<_, _>>()?
    };
    if axes.is_empty() {
        return Err(CliError::Usage {
            message: "nothing to vary".into(),
            hint: Some("write `--vary 'coil.length = 6 m .. 30 m'`".into()),
        });
    }
    let at_base = base.run(&[]).map_err(|e| CliError::Run(e.to_string()))?;
    let Some(here) = figure.of(&at_base) else {
        return Err(CliError::Run(format!(
            "the scenario as it stands has no {}",
            words(figure)
        )));
    };
    let effort = Effort {
        paths: usize::from(args.paths),
        few: usize::from(args.few),
        rows: usize::from(args.rows),
        seed: args.seed,
    };
    let bar = console.counter(effort.burns(axes.len()) as u64, "burns");
    let found = sensitivity(&base, &axes, figure, effort, &|| bar.inc(1));
    bar.finish_and_clear();

    let mut order: Vec<usize> = (0..axes.len()).collect();
    let strength = |i: usize| found.inputs[i].effect.mean_abs;
    order.sort_by(|&i, &j| strength(j).total_cmp(&strength(i)));
    let share = |i: usize| {
        let place = found.few.iter().position(|&k| k == i)?;
        found.shares.as_ref()?.inputs.get(place).copied()
    };
    let kind = goal::kind(figure).0;
    let head: Vec<String> = [
        "value",
        "low",
        "high",
        "effect_mean",
        "effect_mean_abs",
        "effect_deviation",
        "first",
        "first_low",
        "first_high",
        "total",
        "total_low",
        "total_high",
        "result_at_low",
        "result_at_high",
    ]
    .map(String::from)
    .to_vec();
    let number = |v: Option<f64>| v.map(|v| v.to_string()).unwrap_or_default();
    let rows: Vec<Vec<String>> = order
        .iter()
        .map(|&i| {
            let (e, input) = (&found.inputs[i].effect, &found.inputs[i]);
            let (lo, hi) = axes[i].ends().unwrap_or_default();
            let mut row = vec![axes[i].heading(), lo.to_string(), hi.to_string()];
            row.extend([e.mean, e.mean_abs, e.deviation].map(|v| v.to_string()));
            let s = share(i);
            row.extend(
                [
                    s.map(|s| s.first.value),
                    s.map(|s| s.first.low),
                    s.map(|s| s.first.high),
                    s.map(|s| s.total.value),
                    s.map(|s| s.total.low),
                    s.map(|s| s.total.high),
                    input.low,
                    input.high,
                ]
                .map(number),
            );
            row
        })
        .collect();
    let mut files = vec![("sensitivity.csv".to_owned(), goal::csv(&head, &rows))];
    if plan.pictures {
        let mut by_span = order.clone();
        let span = |i: usize| {
            let input = &found.inputs[i];
            let off = |v: Option<f64>| v.map_or(0.0, |v| (v - here).abs());
            off(input.low).max(off(input.high))
        };
        by_span.sort_by(|&i, &j| span(j).total_cmp(&span(i)));
        let bars: Vec<Bar> = by_span
            .iter()
            .take(MOST_BARS)
            .map(|&i| Bar {
                label: range_text(&axes[i]),
                low: found.inputs[i].low,
                high: found.inputs[i].high,
            })
            .collect();
        let svg = output::tornado_svg(
            &loaded.rig.title,
            &words(figure),
            kind,
            here,
            &bars,
            plan.units,
        );
        files.extend(goal::picture("tornado", svg)?);
    }
    if plan.json {
        let all: Vec<_> = order
            .iter()
            .map(|&i| {
                let e = &found.inputs[i].effect;
                let s = share(i);
                json!({
                    "value": axes[i].name, "unit": axes[i].unit, "ends": axes[i].ends(),
                    "effect_mean": e.mean, "effect_mean_abs": e.mean_abs, "effect_deviation": e.deviation,
                    "first": s.map(|s| [s.first.low, s.first.value, s.first.high]),
                    "total": s.map(|s| [s.total.low, s.total.value, s.total.high]),
                    "result_at_low": found.inputs[i].low, "result_at_high": found.inputs[i].high,
                })
            })
            .collect();
        console.result(&format!(
            "{:#}",
            json!({ "result": figure.key, "base": here, "inputs": all })
        ))?;
    } else {
        let told = |v: f64| output::quantity(difference(kind), v, plan.units);
        let head = [
            "value and range",
            "mean effect",
            "scatter",
            "pairs with a result",
            "alone (95 %)",
            "with others (95 %)",
        ]
        .map(String::from);
        let band = |s: crate::analyses::methods::sobol::Share| {
            format!("{:.2} ({:.2} to {:.2})", s.value, s.low, s.high)
        };
        let rows: Vec<Vec<String>> = order
            .iter()
            .map(|&i| {
                let e = &found.inputs[i].effect;
                let s = share(i);
                vec![
                    range_text(&axes[i]),
                    if e.count > 0 {
                        told(e.mean_abs)
                    } else {
                        "-".into()
                    },
                    if e.count > 1 {
                        told(e.deviation)
                    } else {
                        "-".into()
                    },
                    format!("{} of {}", e.count, effort.paths),
                    s.map_or("-".into(), |s| band(s.first)),
                    s.map_or("-".into(), |s| band(s.total)),
                ]
            })
            .collect();
        let mut text = format!(
            "{} at the base: {}\n\n{}\n",
            words(figure),
            output::quantity(kind, here, plan.units),
            goal::table(&head, &rows)
        );
        for &i in order.iter().take(6) {
            if let Some(line) = step(&base, &axes[i], figure, here, plan.units) {
                text.push_str(&format!("{line}\n"));
            }
        }
        console.result(&(text + &cautions(Some(&at_base))))?;
    }
    goal::write(console, &plan, files)
}

fn range_text(axis: &Axis) -> String {
    let (lo, hi) = axis.ends().unwrap_or_default();
    format!("{} {lo} .. {hi} {}", axis.name, axis.unit)
        .trim_end()
        .to_owned()
}

/// The kind of a difference of such values.
fn difference(kind: PlotKind) -> PlotKind {
    match kind {
        PlotKind::Temperature => PlotKind::TemperatureDifference,
        k => k,
    }
}

/// "coil[0].length 1 m more: time to target 4 min less", by one step of a tenth of the range from the base.
fn step(base: &Base, axis: &Axis, figure: &Figure, here: f64, units: UnitSystem) -> Option<String> {
    let (lo, hi) = axis.ends()?;
    let now = now(base, axis)?;
    let width = (hi - lo).abs() / 10.0;
    let step = Decimal::significant(width, 1);
    let scale = (-(width / 100.0).log10()).ceil().clamp(0.0, 12.0) as u32;
    let level = axis.at(Decimal::nearest(now + step.value(), scale));
    let there = figure.of(&base.run(&level.set).ok()?)?;
    let change = there - here;
    let unit = if axis.unit == "%" {
        "percentage points"
    } else {
        &axis.unit
    };
    let words_of = if change < 0.0 { "less" } else { "more" };
    let told = output::quantity(difference(goal::kind(figure).0), change.abs(), units);
    let more = format!("{step} {unit}").trim_end().to_owned();
    Some(format!(
        "{more} more of {}: {} {told} {words_of}",
        axis.name,
        words(figure)
    ))
}

/// What a value is at the base, in the axis's unit: as it was overridden, as it was written, or a closure's default. Nothing where another key is
/// left to its default, or is written in another unit.
fn now(base: &Base, axis: &Axis) -> Option<f64> {
    let path = &axis.name;
    let overridden = base.overrides.iter().rev().find(|(key, _)| key == path);
    let written = match overridden {
        Some((_, text)) => number_and_unit(text),
        None => value_at(base, path),
    };
    if let Some((v, unit)) = written {
        return (unit == axis.unit).then(|| v.value());
    }
    let name = path.strip_prefix("closures.")?;
    let prior = PRIORS.iter().find(|p| p.name == name)?;
    let mut closures = base.rig(&[]).ok()?.closures;
    Some(*(prior.value)(&mut closures))
}

/// A number of the scenario by its path, with its unit.
pub(super) fn value_at(base: &Base, path: &str) -> Option<(Decimal, String)> {
    let table: toml::Table = toml::from_str(&base.text).ok()?;
    let mut at = toml::Value::Table(table);
    for part in path.split('.') {
        let (key, index) = match part.split_once('[') {
            Some((key, rest)) => (key, rest.trim_end_matches(']').parse().ok()?),
            None => (part, 0usize),
        };
        if let toml::Value::Array(list) = &at {
            // By name.
            at = list
                .iter()
                .find(|e| e.get("name").and_then(|n| n.as_str()) == Some(key))?
                .clone();
            continue;
        }
        at = at.get(key)?.clone();
        let list_of_one = matches!(&at, toml::Value::Array(l) if l.len() == 1);
        if part.contains('[') || list_of_one {
            at = at.get(index)?.clone();
        }
    }
    let text = match at {
        toml::Value::String(s) => s,
        toml::Value::Float(v) => v.to_string(),
        toml::Value::Integer(v) => v.to_string(),
        _ => return None,
    };
    number_and_unit(&text)
}

/// One number and its unit.
fn number_and_unit(text: &str) -> Option<(Decimal, String)> {
    let (number, used) = Decimal::read(text)?;
    let unit = text[used..].trim().to_owned();
    let plain = !unit.contains(|c: char| c.is_ascii_digit() && c != '2' && c != '3');
    plain.then_some((number, unit))
}

/// What the scenario has against an end of a range.
fn end_refused(base: &Base, axis: &Axis) -> Option<Diagnostics> {
    let ends = [0.0, 1.0].into_iter().filter_map(|u| axis.at_share(u, 1));
    ends.filter_map(|end| base.rig(&end.set).err()).next()
}

/// A range that the scenario takes to both ends: paths of the screening run from end to end.
fn whole_range(console: &Console, base: &Base, text: &str) -> Result<Axis, CliError> {
    let axis = goal::range(console, base, text)?;
    let Some(problems) = end_refused(base, &axis) else {
        return Ok(axis);
    };
    console.message(&problems.render(console.color_err));
    Err(CliError::Scenario {
        name: format!("`{}`, at an end of its range", text.trim()),
        count: problems.errors(),
        first_code: None,
    })
}

/// The usual values and the closures, those that the scenario takes.
fn usual(base: &Base, rig: &Rig) -> Vec<Axis> {
    let mut texts = Vec::new();
    if let Some((v, unit)) = value_at(base, "fuel.moisture") {
        let by = if unit == "%" { 5.0 } else { 0.05 };
        let lo = (v.value() - by).max(0.0);
        texts.push(format!(
            "fuel.moisture = {lo} {unit} .. {} {unit}",
            v.value() + by
        ));
    }
    for path in USUAL {
        if let Some((v, unit)) = value_at(base, path) {
            let (low, mut high) = (0.8 * v.value(), 1.2 * v.value());
            if unit == "%" {
                // A share ends before the whole.
                high = high.min(v.value() + 0.8 * (100.0 - v.value()));
            }
            let [low, high] = [low, high].map(|x| Decimal::significant(x, 4));
            texts.push(format!("{path} = {low} {unit} .. {high} {unit}"));
        }
    }
    let mut closures = rig.closures.clone();
    for p in PRIORS {
        let given = *(p.value)(&mut closures);
        let at = |z| Decimal::significant(p.at_deviate(given, z), 4);
        texts.push(format!(
            "closures.{} = {} .. {}",
            p.name,
            at(-TWENTIETH),
            at(TWENTIETH)
        ));
    }
    texts
        .iter()
        .filter_map(|t| Axis::parse(t).ok())
        .filter(|a| end_refused(base, a).is_none())
        .collect()
}
