//! `fit --rehearse`: how often intervals hold a known truth; kept log by log, so that a run may be taken up again.

use super::console::Console;
use super::error::CliError;
use super::fit_args::FitArgs;
use super::goal;
use super::plan::ScenarioPlan;
use crate::fit::{self, Burnt, Plan, Setting};
use crate::output;
use crate::results::{Rehearsal, RehearsedLog};
use serde_json::{Value, json};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::Path;
use std::sync::Mutex;

/// One log a line, under a first line that says what they are of.
const KEPT: &str = "rehearsal.jsonl";
/// Raised whenever logs are made up or fitted in another way: what an older one found does not count.
const METHOD: u32 = 2;

pub fn run(
    console: &Console,
    args: &FitArgs,
    plan: &ScenarioPlan,
    setting: &Setting,
    burnt: Option<&Burnt>,
    repeats: u16,
) -> Result<(), CliError> {
    let probes: Vec<Plan> = match burnt {
        Some(b) => b
            .probes
            .iter()
            .map(|p| Plan {
                name: p.name.clone(),
                place: p.place,
                time_s: p.time_s.clone(),
            })
            .collect(),
        None => fit::plan(setting.drive.end_s),
    };
    let path = plan.out_dir.join(KEPT);
    let of = subject(args, setting, &probes);
    let earlier = kept(&path, &of);
    let (all, known) = (usize::from(repeats), earlier.len());
    if known > 0 {
        console.note(&format!(
            "{} of {all} logs are taken from {}, made with the same scenario, log and seed; delete it to begin anew",
            earlier.iter().filter(|l| l.repeat < all).count(),
            path.display()
        ));
    }
    std::fs::create_dir_all(&plan.out_dir)
        .map_err(|e| CliError::Output(format!("{}: {e}", plan.out_dir.display())))?;
    let bar = console.counter(u64::from(repeats), "logs");
    bar.inc(earlier.iter().filter(|l| l.repeat < all).count() as u64);
    let kept = Mutex::new((earlier.clone(), None));
    let done = fit::rehearse(
        setting,
        &probes,
        all,
        u64::from(args.seed),
        &earlier,
        &|log| {
            if let Ok(mut kept) = kept.lock() {
                kept.0.push(log.clone());
                kept.0.sort_by_key(|l| l.repeat);
                if let Err(e) = output::write_file(&path, text(&of, &kept.0).as_bytes()) {
                    kept.1 = Some(e);
                }
            }
            bar.inc(1);
        },
    );
    bar.finish_and_clear();
    if plan.json {
        console.result(&format!("{:#}", json!(done)))?;
    } else {
        console.result(&told(&done))?;
    }
    match kept.into_inner() {
        Ok((_, Some(e))) => Err(CliError::Output(e.to_string())),
        _ => Ok(()),
    }
}

/// What the logs of a rehearsal depend on; the burn of the scenario as it is stands for the whole model.
fn subject(args: &FitArgs, setting: &Setting, probes: &[Plan]) -> Value {
    let mut hash = DefaultHasher::new();
    if let Some(curves) = setting.curves(&vec![0.0; setting.params.len()]) {
        for p in probes {
            for v in curves.at(p.place).unwrap_or_default() {
                v.to_bits().hash(&mut hash);
            }
            for t in &p.time_s {
                t.to_bits().hash(&mut hash);
            }
        }
    }
    let values: Vec<(&str, bool)> = setting
        .params
        .iter()
        .map(|p| (p.name.as_str(), p.free))
        .collect();
    let names: Vec<&str> = probes.iter().map(|p| p.name.as_str()).collect();
    json!({
        "rehearsal": setting.rig.title,
        "version": env!("CARGO_PKG_VERSION"),
        "method": METHOD,
        "seed": args.seed,
        "values": values,
        "probes": names,
        "burn": format!("{:016x}", hash.finish()),
    })
}

/// Logs that an earlier run of the same rehearsal left; a line cut short is left out.
fn kept(path: &Path, of: &Value) -> Vec<RehearsedLog> {
    let text = std::fs::read_to_string(path).unwrap_or_default();
    let mut lines = text.lines();
    let head = lines.next().and_then(|l| serde_json::from_str(l).ok());
    if head.as_ref() != Some(of) {
        return Vec::new();
    }
    lines.filter_map(|l| serde_json::from_str(l).ok()).collect()
}

fn text(of: &Value, logs: &[RehearsedLog]) -> String {
    let lines = logs.iter().map(|l| format!("{}\n", json!(l)));
    format!("{of}\n") + &lines.collect::<String>()
}

fn told(r: &Rehearsal) -> String {
    let head = [
        "value",
        "same model",
        "other model, finer cells",
        "both",
        "of the prior's spread left",
        "mean and spread of the miss, in stated deviations",
    ]
    .map(String::from);
    let share = |k: usize, n: usize| {
        let percent = 100.0 * k as f64 / n.max(1) as f64;
        format!("{k} of {n} ({percent:.0} %)")
    };
    let (same, other) = (r.repeats_same, r.repeats_other);
    let mut rows: Vec<Vec<String>> = r
        .values
        .iter()
        .map(|v| {
            vec![
                v.name.clone(),
                share(v.within_same, same),
                share(v.within_other, other),
                share(v.within_same + v.within_other, same + other),
                format!("{:.0} %", 100.0 * v.prior_share),
                format!("{:+.2}, {:.2}", v.bias, v.scatter),
            ]
        })
        .collect();
    let percent = |x: f64| format!("{:.0} %", 100.0 * x);
    rows.push(vec![
        "all".into(),
        percent(r.within_same),
        percent(r.within_other),
        percent(r.within),
        String::new(),
        String::new(),
    ]);
    format!(
        "The true value lies in the stated 80 % interval in {:.0} % of {} fits of made-up logs (70 to 90 % is the aim).\n\
         Probes: {}. Logs whose fire would not burn: {}, fits that failed: {}.\n\n{}",
        100.0 * r.within,
        same + other,
        r.probes.join(", "),
        r.fire_died,
        r.failed,
        goal::table(&head, &rows)
    )
}
