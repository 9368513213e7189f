//! `fit --rehearse`: how often intervals hold a known truth; kept log by log, so that a run may be taken up again.

use super::console::Console;
use super::error::CliError;
use super::fit_args::FitArgs;
use super::goal;
use super::plan::ScenarioPlan;
use crate::fit::{self, Burnt, Plan, Setting};
use crate::output::{OutputError, PieceJournal};
use crate::results::{Rehearsal, RehearsedLog};
use serde_json::{Value, json};
use siphasher::sip128::{Hasher128, SipHasher13};
use std::hash::Hasher;
use std::sync::Mutex;

/// One log a line, under a first line that says what they are of.
const KEPT: &str = "rehearsal.jsonl";
/// Raised whenever logs are made up or fitted in another way: what an older one found does not count.
const METHOD: u32 = 3;

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
    std::fs::create_dir_all(&plan.out_dir).map_err(|source| CliError::Write {
        path: plan.out_dir.clone(),
        source,
    })?;
    let path = plan.out_dir.join(KEPT);
    let bad = |e: OutputError| CliError::Output(e.to_string());
    let (journal, known) =
        PieceJournal::<RehearsedLog>::open(&path, &subject(args, setting, &probes).to_string())
            .map_err(bad)?;
    let all = usize::from(repeats);
    let ready = known.iter().filter(|l| l.repeat < all).count();
    if ready > 0 {
        console.note(&format!(
            "{ready} of {all} logs are taken from {}, made with the same scenario, log and seed; delete it to begin anew",
            path.display()
        ));
    }
    let bar = console.counter(u64::from(repeats), "logs");
    bar.inc(ready as u64);
    let kept = Mutex::new((journal, known.clone(), None));
    let seed = u64::from(args.seed);
    let done = fit::rehearse(setting, &probes, all, seed, &known, &|log| {
        bar.inc(1);
        let Ok(mut kept) = kept.lock() else { return };
        let (journal, logs, failed) = &mut *kept;
        logs.push(log.clone());
        if let (Err(e), None) = (journal.add(log), &failed) {
            *failed = Some(e);
        }
    });
    bar.finish_and_clear();
    if plan.json {
        console.result(&format!("{:#}", json!(done)))?;
    } else {
        console.result(&told(&done))?;
    }
    if let Ok((journal, mut logs, failed)) = kept.into_inner() {
        if let Some(e) = failed {
            return Err(bad(e));
        }
        logs.sort_by_key(|l| l.repeat);
        journal.keep(&logs).map_err(bad)?;
    }
    Ok(())
}

/// What the logs of a rehearsal depend on; the burn of the scenario as it is stands for the whole model.
fn subject(args: &FitArgs, setting: &Setting, probes: &[Plan]) -> Value {
    let mut hash = SipHasher13::new();
    if let Some(curves) = setting.curves(&vec![0.0; setting.params.len()]) {
        for p in probes {
            for v in curves.at(p.place).unwrap_or_default() {
                hash.write_u64(v.to_bits());
            }
            for t in &p.time_s {
                hash.write_u64(t.to_bits());
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
        "burn": format!("{:016x}", hash.finish128().h1),
    })
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
