//! `trade`: the front between results, as table, picture and scenarios.

use super::console::Console;
use super::error::CliError;
use super::goal::{self, cautions, words};
use super::plan::ScenarioPlan;
use super::solve_args::TradeArgs;
use crate::analyses::methods::nsga::Search;
use crate::analyses::methods::spread::spread;
use crate::analyses::solve::trade::{Point, trade};
use crate::output;
use serde_json::json;

/// Points of the front that the table shows, and how near they may lie: of the range of each result.
const SHOWN: usize = 16;
const SHOWN_APART: f64 = 0.02;

pub fn run(console: &Console, args: &TradeArgs) -> Result<(), CliError> {
    let mut plan = ScenarioPlan::new(&args.scenario, !args.no_pictures)?;
    if args.scenario.out.is_none() {
        plan.out_dir.push("trade");
    }
    let usage = |message: &str, hint: &str| CliError::Usage {
        message: message.into(),
        hint: Some(hint.into()),
    };
    let aims: Vec<_> = args
        .least
        .iter()
        .map(|n| goal::figure(n))
        .collect::<Result<_, _>>()?;
    if !(2..=3).contains(&aims.len()) {
        return Err(usage(
            "a trade-off is between two or three results",
            "write `--least time,wood`",
        ));
    }
    let keep: Vec<_> = args
        .keep
        .iter()
        .map(|k| goal::want(k))
        .collect::<Result<_, _>>()?;
    let chosen: Option<usize> = match args.choose.as_deref() {
        None | Some("all") => None,
        Some(n) => match n.parse() {
            Ok(n) if n > 0 => Some(n),
            _ => {
                return Err(usage(
                    "`--choose` wants a number from 1, or `all`",
                    "the table numbers the points",
                ));
            }
        },
    };
    let (loaded, base) = goal::load(console, &plan)?;
    let axes: Vec<_> = args
        .vary
        .iter()
        .map(|v| goal::range(console, &base, v))
        .collect::<Result<_, _>>()?;
    let how = Search {
        population: usize::from(args.population),
        generations: usize::from(args.generations),
        seed: args.seed,
    };
    let burns = how.population * (how.generations + 1);
    let bar = console.counter(burns as u64, "burns");
    let found = trade(&base, &axes, &aims, &keep, how, &|| bar.inc(1));
    bar.finish_and_clear();
    if found.front.is_empty() {
        return Err(CliError::Run(format!(
            "none of {burns} points has all results and keeps the conditions"
        )));
    }
    let front: Vec<&Point> = found.front.iter().map(|&i| &found.tried[i]).collect();
    if chosen.is_some_and(|n| n > front.len()) {
        return Err(usage(
            &format!("the front has {} points only", front.len()),
            "choose one of them",
        ));
    }
    let mut head: Vec<String> = axes.iter().map(|a| a.heading()).collect();
    head.extend(aims.iter().map(|f| f.key.to_owned()));
    let cells = |p: &Point| -> Vec<String> {
        let aims = p.aims.iter().map(|v| v.to_string());
        p.labels.iter().cloned().chain(aims).collect()
    };
    let numbered = |rows: Vec<Vec<String>>| -> Vec<Vec<String>> {
        rows.into_iter()
            .enumerate()
            .map(|(i, mut r)| {
                r.insert(0, (i + 1).to_string());
                r
            })
            .collect()
    };
    let mut front_head = head.clone();
    front_head.insert(0, "point".into());
    head.push("violation".into());
    let all: Vec<Vec<String>> = found
        .tried
        .iter()
        .map(|p| {
            let mut r = cells(p);
            r.push(p.violation.to_string());
            r
        })
        .collect();
    let rows = numbered(front.iter().map(|p| cells(p)).collect());
    let mut files = vec![
        ("front.csv".to_owned(), goal::csv(&front_head, &rows)),
        ("tried.csv".to_owned(), goal::csv(&head, &all)),
    ];
    for (i, p) in front.iter().enumerate() {
        if args.choose.as_deref() == Some("all") || chosen == Some(i + 1) {
            let text = goal::scenario_text(&base, &p.sets)?;
            files.push((format!("chosen-{}.toml", i + 1), text));
        }
    }
    if plan.pictures {
        let of = |p: &Point| (p.aims[0], p.aims[1]);
        let others: Vec<(f64, f64)> = found
            .tried
            .iter()
            .filter(|p| p.violation == 0.0)
            .map(of)
            .collect();
        let on: Vec<(f64, f64)> = front.iter().map(|p| of(p)).collect();
        let names = [words(aims[0]), words(aims[1])];
        let kinds = [goal::kind(aims[0]).0, goal::kind(aims[1]).0];
        let svg = output::front_svg(&loaded.rig.title, &names, kinds, &on, &others, plan.units);
        files.extend(goal::picture("trade", svg)?);
    }
    if plan.json {
        let value = |p: &&Point| {
            json!({
                "values": p.sets.iter().map(|(k, v)| (k.clone(), json!(v))).collect::<serde_json::Map<_, _>>(),
                "results": aims.iter().zip(&p.aims).map(|(f, v)| (f.key.to_owned(), json!(v))).collect::<serde_json::Map<_, _>>(),
            })
        };
        console.result(&format!(
            "{:#}",
            json!({ "burns": burns, "front": front.iter().map(value).collect::<Vec<_>>() })
        ))?;
    } else {
        let mut head: Vec<String> = vec!["point".into()];
        head.extend(axes.iter().map(|a| a.heading()));
        head.extend(aims.iter().map(|f| words(f)));
        let rows = front
            .iter()
            .map(|p| {
                let told = p.aims.iter().zip(&aims);
                let told = told.map(|(&v, f)| output::quantity(goal::kind(f).0, v, plan.units));
                p.labels.iter().cloned().chain(told).collect()
            })
            .collect();
        let of_front: Vec<&[f64]> = front.iter().map(|p| &p.aims[..]).collect();
        let shown = spread(&of_front, SHOWN, SHOWN_APART);
        let rows = numbered(rows);
        let rows: Vec<Vec<String>> = shown.iter().map(|&i| rows[i].clone()).collect();
        let between = match front.len() - rows.len() {
            0 => String::new(),
            n => format!("\n{n} more lie between them: front.csv has all\n"),
        };
        let text = format!(
            "{} points of {burns} that none beats\n\n{}{between}",
            front.len(),
            goal::table(&head, &rows)
        );
        let kept = if keep.is_empty() {
            "\nno condition was set: points may boil (`--keep 'boiling_margin >= 5 K'`)\n"
        } else {
            ""
        };
        console.result(&(text + kept + &cautions(None)))?;
    }
    goal::write(console, &plan, files)
}
