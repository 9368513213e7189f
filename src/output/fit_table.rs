//! The page that a person reads after a fit.

use crate::results::{FitProbe, FitReport};
use crate::units::{UnitSystem, significant};
use std::fmt::Write;

/// Lines of what the log cannot tell.
const MOST_LINES: usize = 8;

/// Values, probes, and what the log cannot tell.
pub fn fit_table(r: &FitReport, units: UnitSystem) -> String {
    let mut t = format!("{}\nfitted to {}", r.title, r.log);
    // Writing to a string does not fail.
    let _ = match r.until_s {
        Some(s) => writeln!(
            t,
            ", its first {:.0} of {:.0} min",
            s / 60.0,
            r.end_s / 60.0
        ),
        None => writeln!(t, ", {:.0} min", r.end_s / 60.0),
    };
    let _ = writeln!(
        t,
        "\n  {:<24} {:>9} {:>9}   {:<22} the log's say",
        "value", "before", "fitted", "8 in 10 lie in"
    );
    for v in r.values.iter().filter(|v| v.free) {
        let unit = if v.unit.is_empty() {
            String::new()
        } else {
            format!(" {}", v.unit)
        };
        let say = match v.prior_share {
            s if s > 0.93 => "nothing beyond the prior",
            s if s > 0.75 => "little",
            s if s > 0.45 => "some",
            _ => "much",
        };
        let _ = writeln!(
            t,
            "  {:<24} {:>9} {:>9}   {:<22} {say} ({:.0} % of the prior's spread left)",
            v.name,
            significant(v.before, 3),
            significant(v.value, 3),
            format!(
                "{} to {}{unit}",
                significant(v.low, 3),
                significant(v.high, 3)
            ),
            100.0 * v.prior_share
        );
    }
    let _ = writeln!(
        t,
        "\n  {:<24} {:>13} {:>11}   {:<30} in the 80 % band",
        "spread of log from model", "before", "after", "readings"
    );
    for p in &r.probes {
        let rest = p.within_rest.map_or(String::new(), |w| {
            format!(", of the rest {:.0} %", 100.0 * w)
        });
        let _ = writeln!(
            t,
            "  {:<24} {:>13} {:>11}   {:<30} {:.0} %{rest}",
            shorten(&p.name, 24),
            difference(p, p.spread_before, units),
            difference(p, p.spread_after, units),
            format!("{} that count as {:.0}", p.readings, p.effective_readings),
            100.0 * p.within_fitted
        );
    }
    for p in &r.probes {
        if let Some([at, low, high]) = p.radiation {
            let d = |k: f64| difference(p, k.abs(), units);
            let _ = writeln!(
                t,
                "  {}: a bare thermocouple there reads about {} {} by radiation at the hottest ({} to {})",
                p.name,
                d(at),
                if at < 0.0 { "low" } else { "high" },
                d(low.abs().min(high.abs())),
                d(low.abs().max(high.abs()))
            );
        }
    }
    if let (Some(within), Some(until)) = (r.rest_within, r.until_s) {
        let _ = writeln!(
            t,
            "\nFitted to the first {:.0} min; of the readings after that {:.0} % lie in the predicted 80 % band{}.",
            until / 60.0,
            100.0 * within,
            if within < 0.6 {
                ": the rest went otherwise than predicted"
            } else {
                ""
            }
        );
    }
    if !r.cannot_tell.is_empty() {
        let _ = writeln!(t, "\nWhat this log cannot tell");
        for line in r.cannot_tell.iter().take(MOST_LINES) {
            let _ = writeln!(t, "  - {line}");
        }
        if r.cannot_tell.len() > MOST_LINES {
            let _ = writeln!(
                t,
                "  - and {} more in fit.json",
                r.cannot_tell.len() - MOST_LINES
            );
        }
    }
    for a in &r.advice {
        let _ = writeln!(
            t,
            "  + measure {}: {} would be left with {:.0} % of its prior's spread instead of {:.0} %",
            a.measure,
            a.value,
            100.0 * a.share_then,
            100.0 * a.share_now
        );
    }
    let counted: f64 = r.probes.iter().map(|p| p.effective_readings).sum();
    if counted < 30.0 {
        let _ = writeln!(
            t,
            "  - all readings together count as {counted:.0}: most of what stands above is the prior"
        );
    }
    let _ = writeln!(t, "\nHow it was done");
    for line in &r.said {
        let _ = writeln!(t, "  {line}");
    }
    let carried = r.values.iter().filter(|v| !v.free).count();
    if carried > 0 {
        let _ = writeln!(
            t,
            "  {carried} other values are carried along within their priors (docs/closures.md)"
        );
    }
    let _ = writeln!(
        t,
        "  {} starts, {} of them ended in the same place; {} burns{}",
        r.starts,
        r.starts_agreeing,
        r.burns,
        if r.settled {
            ""
        } else {
            "; the search was stopped before it had settled"
        }
    );
    if r.starts > r.starts_agreeing {
        let _ = writeln!(
            t,
            "  other starts ended elsewhere with a worse fit: there may be more than one answer"
        );
    }
    t
}

fn shorten(name: &str, most: usize) -> String {
    match name.chars().count() > most {
        true => name.chars().take(most - 1).chain(['…']).collect(),
        false => name.to_owned(),
    }
}

fn difference(p: &FitProbe, v: f64, units: UnitSystem) -> String {
    match (p.unit.as_str(), units) {
        ("K", UnitSystem::Metric) => format!("{} K", significant(v, 2)),
        ("K", UnitSystem::Us) => format!("{} °F", significant(1.8 * v, 2)),
        ("1", _) => format!("{} points", significant(100.0 * v, 2)),
        _ => format!("{} L/min", significant(6e4 * v, 2)),
    }
}
