//! `size`: one scenario value, the last feed or a feed plan, so that a result is as wanted.

use super::console::Console;
use super::error::CliError;
use super::goal::{self, cautions, told, want_text, words};
use super::plan::ScenarioPlan;
use super::solve_args::SizeArgs;
use crate::analyses::solve::size::{Sizing, Tried, size};
use crate::analyses::solve::{Goal, Want, plan, searched};
use crate::analyses::study::Base;
use crate::components::spec::Feeding;
use crate::output::{self, CurvePicture};
use crate::units::{Kind, format_mass, format_temperature, format_time, parse};
use serde_json::json;

pub fn run(console: &Console, args: &SizeArgs) -> Result<(), CliError> {
    let mut plan = ScenarioPlan::new(&args.scenario, !args.no_pictures)?;
    if args.scenario.out.is_none() {
        plan.out_dir.push("size");
    }
    let (loaded, base) = goal::load(console, &plan)?;
    if let Some(trips) = args.trips {
        let first_s = first_feed_s(&loaded.rig.feeding);
        return feed_plan(console, args, &plan, &base, usize::from(trips), first_s);
    }
    let (base, solve, wants) = match &args.last_feed {
        Some(t) => last_feed(base, t, loaded.rig.stop.latest_s)?,
        None => {
            let wants: Vec<Want> = args
                .wanted
                .iter()
                .map(|w| goal::want(w))
                .collect::<Result<_, _>>()?;
            (base, args.solve.clone().unwrap_or_default(), wants)
        }
    };
    let targets = wants.iter().filter(|w| matches!(w.goal, Goal::Meet(_)));
    if targets.count() > 1 {
        return Err(CliError::Usage {
            message: "one target with `=` can be met, not several".into(),
            hint: Some("write the others as conditions, `>=` or `<=`".into()),
        });
    }
    let axis = goal::range(console, &base, &solve)?;
    let bar = console.counter(u64::from(args.scan) + 20, "burns");
    let found = size(
        &base,
        &axis,
        &wants,
        args.highest,
        usize::from(args.scan),
        &|| bar.inc(1),
    );
    bar.finish_and_clear();
    let Some(found) = found else {
        return Err(CliError::Run("there is no range to look in".into()));
    };
    let mut files = Vec::new();
    let head: Vec<String> = std::iter::once(axis.heading())
        .chain(wants.iter().map(|w| w.figure.key.to_owned()))
        .chain(["problem".to_owned()])
        .collect();
    let rows: Vec<Vec<String>> = found.tried.iter().map(|t| row(t, &wants)).collect();
    files.push(("tried.csv".to_owned(), goal::csv(&head, &rows)));
    let best = found.answers.first().map(|a| &a.at);
    if let Some(best) = best {
        files.push((
            "solved.toml".into(),
            goal::scenario_text(&base, &best.sets)?,
        ));
    }
    if plan.pictures {
        let svg = picture(&loaded.rig.title, &axis.heading(), &found, &wants, &plan);
        files.extend(goal::picture("size", svg)?);
    }
    if plan.json {
        let value = |t: &Tried| {
            json!({ "value": t.value, "number": t.x, "results": wants.iter().map(|w| {
                (w.figure.key.to_owned(), json!(t.outcome.as_ref().ok().and_then(|s| w.figure.of(s))))
            }).collect::<serde_json::Map<_, _>>() })
        };
        console.result(&format!(
            "{:#}",
            json!({
                "met": best.is_some(),
                "solved": axis.name,
                "answers": found.answers.iter().map(|a| json!({
                    "at": value(&a.at), "beside": a.beside.as_ref().map(value), "jump": a.jump,
                })).collect::<Vec<_>>(),
                "nearest": found.nearest.as_ref().map(value),
                "tried": found.tried.iter().map(value).collect::<Vec<_>>(),
            })
        ))?;
    } else {
        let shown = best.or(found.nearest.as_ref());
        let summary = shown.and_then(|t| t.outcome.as_ref().ok());
        let text = report(&axis.name, &found, &wants, &plan) + &cautions(summary);
        console.result(&text)?;
    }
    goal::write(console, &plan, files)?;
    if found.answers.is_empty() {
        return Err(CliError::Run(
            "no value in the range is as wanted; the nearest is told above".into(),
        ));
    }
    Ok(())
}

fn row(t: &Tried, wants: &[Want]) -> Vec<String> {
    let mut cells = vec![t.x.to_string()];
    for w in wants {
        let v = t.outcome.as_ref().ok().and_then(|s| w.figure.of(s));
        cells.push(v.map(|v| v.to_string()).unwrap_or_default());
    }
    cells.push(t.outcome.as_ref().err().cloned().unwrap_or_default());
    cells
}

/// Feeding until a time that is sought, over the whole of the run.
fn last_feed(
    mut base: Base,
    temperature: &str,
    latest_s: f64,
) -> Result<(Base, String, Vec<Want>), CliError> {
    let want = goal::want(&format!("peak = {temperature}"))?;
    let table: toml::Table = toml::from_str(&base.text).unwrap_or_default();
    let feeding = table.get("feeding").cloned();
    let feeding = feeding.as_ref().and_then(|f| f.as_table());
    let paths: Vec<String> = ["every", "rules"]
        .iter()
        .flat_map(|list| {
            let n = feeding
                .and_then(|f| f.get(*list))
                .and_then(|l| l.as_array())
                .map_or(0, Vec::len);
            (0..n).map(move |i| format!("feeding.{list}[{i}].until"))
        })
        .collect();
    if paths.is_empty() {
        return Err(CliError::Usage {
            message: "the scenario feeds by no `feeding.every` and no `feeding.rules`".into(),
            hint: Some("single feeds of `feeding.list` have their times already".into()),
        });
    }
    // The fire must burn out for the peak to be known.
    let mut table = table;
    let stop = table
        .entry("stop")
        .or_insert_with(|| toml::Value::Table(toml::Table::new()));
    if let Some(stop) = stop.as_table_mut() {
        stop.insert("when".into(), "time".into());
        stop.remove("after_target");
    }
    base.text = toml::to_string(&table).unwrap_or(base.text);
    let minutes = latest_s / 60.0;
    let solve = format!("{} = 1 min .. {minutes:.0} min", paths.join(" & "));
    Ok((base, solve, vec![want]))
}

fn report(name: &str, found: &Sizing, wants: &[Want], plan: &ScenarioPlan) -> String {
    let units = plan.units;
    let results = |t: &Tried| -> String {
        let all: Vec<String> = wants
            .iter()
            .map(|w| match &t.outcome {
                Ok(s) => format!("{} {}", words(w.figure), told(w.figure, s, units)),
                Err(e) => e.clone(),
            })
            .collect();
        all.join(", ")
    };
    let wanted: Vec<String> = wants.iter().map(|w| want_text(w, units)).collect();
    let mut text = format!("wanted: {}\n\n", wanted.join(", "));
    for a in &found.answers {
        text.push_str(&format!("{name} = {}: {}\n", a.at.value, results(&a.at)));
        if let Some(b) = a.beside.as_ref().filter(|b| a.jump || b.x != a.at.x) {
            let why = if a.jump {
                "the result jumps here; beside it"
            } else {
                "beside it"
            };
            text.push_str(&format!("  {why}, {}: {}\n", b.value, results(b)));
        }
    }
    if found.answers.len() > 1 {
        text.push_str("several values meet it; solved.toml has the first\n");
    }
    if let Some(n) = &found.nearest {
        text.push_str(&format!(
            "not met anywhere in the range; nearest at {}: {}\n",
            n.value,
            results(n)
        ));
    }
    let head: Vec<String> = std::iter::once(name.to_owned())
        .chain(wants.iter().map(|w| words(w.figure)))
        .collect();
    let rows: Vec<Vec<String>> = found
        .tried
        .iter()
        .map(|t| match &t.outcome {
            Ok(s) => std::iter::once(t.value.clone())
                .chain(wants.iter().map(|w| told(w.figure, s, units)))
                .collect(),
            Err(e) => vec![t.value.clone(), e.clone()],
        })
        .collect();
    text + "\n" + &goal::table(&head, &rows) + "\n"
}

fn picture(
    title: &str,
    x_title: &str,
    found: &Sizing,
    wants: &[Want],
    plan: &ScenarioPlan,
) -> Result<String, output::OutputError> {
    let want = &wants[0];
    let y = |t: &Tried| {
        t.outcome
            .as_ref()
            .map_or(f64::NAN, |s| searched(want.figure, s))
    };
    let spots: Vec<(f64, f64, String)> = found
        .answers
        .iter()
        .map(|a| &a.at)
        .chain(found.nearest.as_ref())
        .map(|t| (t.x, y(t), t.value.clone()))
        .collect();
    output::curve_svg(
        &CurvePicture {
            title,
            subtitle: &want_text(want, plan.units),
            x_title,
            y_title: &words(want.figure),
            kind: goal::kind(want.figure).0,
            points: &found.tried.iter().map(|t| (t.x, y(t))).collect::<Vec<_>>(),
            level: want.level(),
            spots: &spots,
            met: !found.answers.is_empty(),
        },
        plan.units,
    )
}

/// When the scenario's own first feed goes on; 5 min where rules alone decide it (house rule: while kindling still flames).
fn first_feed_s(feeding: &Feeding) -> f64 {
    let list = feeding.list.iter().map(|f| f.at_s);
    let first = list
        .chain(feeding.every.iter().map(|f| f.from_s))
        .fold(f64::INFINITY, f64::min);
    if first.is_finite() { first } else { 300.0 }
}

fn feed_plan(
    console: &Console,
    args: &SizeArgs,
    plan: &ScenarioPlan,
    base: &Base,
    trips: usize,
    first_s: f64,
) -> Result<(), CliError> {
    let read = |kind, text: &str| {
        parse(kind, text)
            .map(|p| p.si)
            .map_err(|e| CliError::Usage {
                message: e.to_string(),
                hint: Some(e.help()),
            })
    };
    let by_s = read(Kind::Time, args.ready_by.as_deref().unwrap_or_default())?;
    let most_kg = read(Kind::Mass, &args.charge)?;
    if by_s < 60.0 || most_kg < 0.02 {
        return Err(CliError::Usage {
            message: "a plan needs a minute and 20 g at least".into(),
            hint: None,
        });
    }
    let bar = console.counter(150, "burns");
    let found = plan::plan(base, trips, first_s, by_s, most_kg, &|| bar.inc(1));
    bar.finish_and_clear();
    let line = |p: &plan::Plan| {
        format!(
            "{trips} x {}, the first {} after lighting, then every {}: ready after {}, {} of wood in all",
            format_mass(p.charge_kg, plan.units),
            format_time(first_s),
            format_time(p.interval_s),
            p.summary
                .time_to_target_s
                .map_or("never".into(), format_time),
            format_mass(p.summary.fuel_fed_kg, plan.units),
        )
    };
    let best = found.good.first();
    if plan.json {
        let value = |p: &plan::Plan| {
            json!({ "first_s": first_s, "interval_s": p.interval_s, "charge_kg": p.charge_kg,
                "time_to_target_s": p.summary.time_to_target_s, "fuel_fed_kg": p.summary.fuel_fed_kg })
        };
        console.result(&format!(
            "{:#}",
            json!({ "met": best.is_some(), "trips": trips,
                "plans": found.good.iter().map(value).collect::<Vec<_>>(),
                "nearest": found.soonest.as_ref().map(value) })
        ))?;
    } else {
        let mut text = format!("ready by {} with {trips} charges\n\n", format_time(by_s));
        for p in &found.good {
            text.push_str(&format!("  {}\n", line(p)));
        }
        if let Some(p) = &found.soonest {
            text.push_str(&format!(
                "no plan is ready in time; the nearest:\n  {}, store's peak {}\n",
                line(p),
                p.summary
                    .tank_peak_K
                    .map_or("unknown".into(), |k| format_temperature(k, plan.units))
            ));
        }
        let summary = best.or(found.soonest.as_ref()).map(|p| &p.summary);
        console.result(&(text + &cautions(summary)))?;
    }
    let Some(best) = best else {
        return Err(CliError::Run(
            "no feed plan reaches the target in time".into(),
        ));
    };
    let solved = goal::scenario_text(base, &best.sets)?;
    goal::write(console, plan, vec![("solved.toml".into(), solved)])
}
