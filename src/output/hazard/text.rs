//! What a worried person reads: the worst faults in words with what to do, then the table, then what the model does
//! not know.

use super::picture::after;
use crate::output::show::temperature_short;
use crate::results::{FaultReport, FaultStatus, HazardReport};
use crate::units::UnitSystem;
use comfy_table::{Cell, ContentArrangement, Table, presets};
use std::fmt::Write;

/// Faults told in words.
const WORDS: usize = 4;
const CAUTION: &str = "Estimates, not a clearance to build or run. A coil in a fire can boil and burst; hot water scalds; \
fires make carbon monoxide. Relief valves, vents, discharge pipes and distances are for local codes and licensed practice.";

/// The whole answer.
pub fn hazard_text(r: &HazardReport, units: UnitSystem, width: usize) -> String {
    let mut s = format!(
        "{}\nWhat can go wrong, each fault at the worst moment of the burn\n\n",
        r.title
    );
    let bad: Vec<&FaultReport> = r.faults.iter().filter(|f| f.severity >= 2).collect();
    if bad.is_empty() {
        s.push_str("No limit reached in this model by any of the faults tried. That is no all-clear: see below for what the model leaves out.\n");
    }
    let mut told: Vec<String> = Vec::new();
    // What happens most often comes first, whatever its rank.
    let (often, rest): (Vec<_>, Vec<_>) = bad.iter().copied().partition(|f| f.key == "pump_stop");
    for f in often.iter().chain(&rest) {
        let words = words(f, units);
        // Faults that the model takes alike are told once.
        let same = |t: &String| t.split(':').nth(1) == words.split(':').nth(1);
        if told.len() < WORDS && !told.iter().any(same) {
            told.push(words);
        }
    }
    for w in &told {
        wrap(&mut s, w, width, "  ");
        s.push('\n');
    }
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(width as u16)
        .set_header([
            "rank",
            "fault",
            "first limit",
            "boils",
            "steam",
            "hottest wall",
            "relief needed",
            "what stops it",
        ]);
    for f in &r.faults {
        table.add_row(row(f, units).into_iter().map(Cell::new));
    }
    s.push_str(&table.to_string());
    s.push_str("\n\n");
    wrap(
        &mut s,
        &format!(
            "Rank is severity (1 caution, 2 hot water or steam out of place, 3 damage or danger, 4 over-pressure) times urgency (4 within a \
             minute, 3 within five, 2 within half an hour, 1 later). Relief figures refer to {} over the air's pressure ({}): the most heat \
             into the coil as steam, through a hole by EN ISO 4126-1 with a discharge coefficient of 0.7.{}{} Tried at {} moments of the burn, \
             at most {:.0} s apart, finer about the worst.",
            pressure(r.relief_set_Pa, units),
            r.relief_set_from,
            r.relief_fitted_kg_h.map_or(
                " The fitted valve was not named (--relief-bore).".to_string(),
                |c| format!(" The fitted valve passes {c:.0} kg/h.")
            ),
            r.thermal_growth_m.map_or(String::new(), |m| format!(
                " From 10 to 100 °C the longest coil grows by {:.0} mm.",
                1e3 * m
            )),
            r.moments,
            r.moment_gap_s
        ),
        width,
        "",
    );
    s.push_str("\nNot told, and why:\n");
    for f in &r.faults {
        let why = match &f.status {
            FaultStatus::DoesNotApply(why) | FaultStatus::NotModelled(why) => why,
            _ => continue,
        };
        wrap(&mut s, &format!("- {}: {why}", f.name), width, "  ");
    }
    s.push_str("\nWhat the model leaves out:\n");
    for l in &r.left_out {
        wrap(&mut s, &format!("- {l}"), width, "  ");
    }
    s.push('\n');
    wrap(&mut s, CAUTION, width, "");
    s
}

/// One fault in a sentence or three.
fn words(f: &FaultReport, units: UnitSystem) -> String {
    let mut s = format!("{}{}: ", f.name[..1].to_uppercase(), &f.name[1..]);
    let bad: Vec<String> = f
        .limits
        .iter()
        .filter(|l| l.severity >= 2)
        .take(3)
        .map(|l| format!("{} {}", l.what, after(l.after_s)))
        .collect();
    s.push_str(&bad.join("; "));
    s.push('.');
    if f.boiling_after_s.is_some() && f.steam_peak_kg_s > 0.0 {
        let _ = write!(
            s,
            " Then up to {} of steam an hour.",
            match 3600.0 * f.steam_peak_kg_s {
                kg if kg < 1.0 => "a kilogram".to_owned(),
                kg => format!("{kg:.0} kg"),
            }
        );
    }
    if let (Some(k), Some(p)) = (f.pressure_rate_Pa_K, f.pressure_peak_Pa) {
        let _ = write!(
            s,
            " Shut-in water gains {} for each degree it warms, up to {}.",
            pressure(k, units),
            pressure(p, units)
        );
    }
    let helped: Vec<String> = f
        .remedies
        .iter()
        .filter_map(|r| {
            let t = r.stops_after_s?;
            Some(format!("{} (over within {})", r.what, span(t)))
        })
        .collect();
    if !helped.is_empty() {
        let _ = write!(s, " Do this: {}.", helped.join("; or "));
    } else if f.key == "valves_both" {
        s.push_str(" Nothing done afterwards is quick enough: no valve may be able to shut the coil off from its vent or relief.");
    } else if !f.remedies.is_empty() {
        let tried: Vec<&str> = f.remedies.iter().map(|r| r.what.as_str()).collect();
        let _ = write!(
            s,
            " Nothing tried ended it within {:.0} min ({}): keep away and let the fire burn out.",
            f.remedies[0].tried_for_s / 60.0,
            tried.join("; ")
        );
    }
    for x in &f.findings {
        let _ = write!(s, " {}{}.", x[..1].to_uppercase(), &x[1..]);
    }
    s
}

fn span(s: f64) -> String {
    match s {
        s if s < 10.0 => "10 s".into(),
        s if s < 120.0 => format!("{s:.0} s"),
        s => format!("{:.0} min", s / 60.0),
    }
}

fn row(f: &FaultReport, units: UnitSystem) -> [String; 8] {
    let dash = || "–".to_string();
    let say = |what: String| {
        let mut r = [
            dash(),
            f.name.clone(),
            what,
            dash(),
            dash(),
            dash(),
            dash(),
            dash(),
        ];
        r[0] = String::new();
        r
    };
    match &f.status {
        FaultStatus::DoesNotApply(_) => say("does not apply".into()),
        FaultStatus::NotModelled(_) => say("not modelled".into()),
        FaultStatus::Failed(why) => say(format!("the run failed: {why}")),
        FaultStatus::Ran => {
            let worst = f
                .limits
                .iter()
                .find(|l| l.severity >= 2)
                .or(f.limits.first())
                .map_or("no limit reached in this model".into(), |l| {
                    format!("{} {}", l.what, after(l.after_s))
                });
            let cure = f
                .remedies
                .iter()
                .filter_map(|r| Some((r.stops_after_s?, &r.what)))
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .map(|(t, what)| format!("{what}: {}", span(t)));
            [
                f.rank.to_string(),
                f.name.clone(),
                worst,
                f.boiling_after_s.map_or_else(dash, span),
                if f.steam_peak_kg_s > 1e-5 {
                    format!("{:.0} kg/h", 3600.0 * f.steam_peak_kg_s)
                } else {
                    dash()
                },
                f.coil_wall_max_K
                    .map_or_else(dash, |k| temperature_short(k, units)),
                match (f.relief_needed_kg_h, f.relief_bore_m) {
                    (Some(w), Some(d)) => format!("{w:.0} kg/h, bore {:.1} mm", 1e3 * d),
                    _ => dash(),
                },
                cure.unwrap_or_else(|| {
                    if f.remedies.is_empty() {
                        dash()
                    } else {
                        "none of those tried".into()
                    }
                }),
            ]
        }
    }
}

/// High pressures as people have them on their gauges.
fn pressure(pa: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{} bar", digits(pa * 1e-5)),
        UnitSystem::Us => format!("{:.0} psi", pa / 6894.757),
    }
}

fn digits(v: f64) -> String {
    if v < 10.0 {
        format!("{v:.1}")
    } else {
        format!("{v:.0}")
    }
}

/// Breaks a paragraph; further lines are indented.
pub fn wrap(to: &mut String, paragraph: &str, width: usize, indent: &str) {
    let mut line = String::new();
    let mut first = true;
    for word in paragraph.split_whitespace() {
        let room = width - if first { 0 } else { indent.len() };
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > room {
            let _ = writeln!(to, "{}{line}", if first { "" } else { indent });
            line.clear();
            first = false;
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    let _ = writeln!(to, "{}{line}", if first { "" } else { indent });
}
