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
    if let Some(b) = &r.base_burst {
        wrap(
            &mut s,
            &format!(
                "THE BURN ITSELF BURSTS after {:.0} min at {}, without any fault: do not build it so. Up to {:.0} kg of water come out, {:.1} kg of it as \
                 steam at once. Faults were tried up to that moment only.",
                b.at_s / 60.0,
                pressure(b.pressure_Pa, units),
                b.water_kg,
                b.steam_kg
            ),
            width,
            "",
        );
        s.push('\n');
    }
    let bad: Vec<&FaultReport> = r.faults.iter().filter(|f| f.severity >= 2).collect();
    if bad.is_empty() {
        s.push_str("No limit reached in this model by any of the faults tried. That is no all-clear: see below for what the model leaves out.\n");
    }
    in_short(&mut s, r, &bad, units, width);
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
    let tried = |f: &&FaultReport| {
        !matches!(
            f.status,
            FaultStatus::DoesNotApply(_) | FaultStatus::NotModelled(_)
        )
    };
    for f in r.faults.iter().filter(tried) {
        table.add_row(row(f, units).into_iter().map(Cell::new));
    }
    s.push_str(&table.to_string());
    s.push_str("\n\n");
    wrap(
        &mut s,
        &format!(
            "Rank is severity (1 caution, 2 hot water or steam out of place, 3 damage or danger, 4 over-pressure) times urgency (4 within a \
             minute, 3 within five, 2 within half an hour, 1 later). Relief figures refer to {} over the air's pressure ({}): the most heat \
             into the coil as steam, through a hole by EN ISO 4126-1 with a discharge coefficient of 0.7 where the scenario gives none.{} Tried at {} moments of the burn, \
             at most {:.0} s apart, finer about the worst.",
            pressure(r.relief_set_Pa, units),
            r.relief_set_from,
            r.relief_fitted_kg_h.map_or(
                " The fitted valve was not named (--relief-bore).".to_string(),
                |c| format!(" The fitted valve passes {c:.0} kg/h.")
            ),
            r.moments,
            r.moment_gap_s
        ),
        width,
        "",
    );
    metals(&mut s, r, units, width);
    if r.faults.iter().any(|f| !tried(&f)) {
        s.push_str("\nNot told, and why:\n");
    }
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

/// What a worried person wants first: how long there is, what to do, what to fit, what nobody knows.
fn in_short(
    s: &mut String,
    r: &HazardReport,
    bad: &[&FaultReport],
    units: UnitSystem,
    width: usize,
) {
    s.push_str("In short\n");
    let soonest = bad
        .iter()
        .filter_map(|f| {
            let l = f.limits.iter().find(|l| l.severity >= 2)?;
            Some((f, l))
        })
        .min_by(|a, b| a.1.after_s.total_cmp(&b.1.after_s));
    if let Some((f, l)) = soonest {
        let words = format!(
            "- How long there is: {} at the soonest ({}: {}).",
            match l.after_s {
                t if t < 1.0 => "no time".into(),
                // Never told as more than it is.
                t if t < 10.0 => "less than 10 s".into(),
                t => span(t),
            },
            f.name,
            l.what
        );
        wrap(s, &words, width, "  ");
    }
    let mut helps: Vec<(&str, usize)> = Vec::new();
    for cure in bad.iter().flat_map(|f| &f.remedies) {
        if cure.stops_after_s.is_some() {
            match helps.iter_mut().find(|h| h.0 == cure.what) {
                Some(h) => h.1 += 1,
                None => helps.push((&cure.what, 1)),
            }
        }
    }
    helps.sort_by_key(|h| std::cmp::Reverse(h.1));
    if !helps.is_empty() {
        let of = bad.iter().filter(|f| !f.remedies.is_empty()).count();
        let list: Vec<String> = helps
            .iter()
            .map(|(what, n)| match of {
                1 => (*what).to_owned(),
                _ => format!("{what} ({n} of them)"),
            })
            .collect();
        let faults = match of {
            1 => "the one fault".to_owned(),
            n => format!("the {n} faults"),
        };
        let words = format!(
            "- What to do: of {faults} for which something was tried a minute after the first limit, these ended it: {}. No more wood in any \
             case; stand away from vent, relief and hot pipes; never put water on a hot dry coil.",
            list.join("; ")
        );
        wrap(s, &words, width, "  ");
    } else if !bad.is_empty() {
        wrap(
            s,
            "- What to do: no more wood, shut the air, stand away from vent, relief and hot pipes, let the fire burn out; never put water on a hot dry coil.",
            width,
            "  ",
        );
    }
    let needed = r
        .faults
        .iter()
        .filter_map(|f| Some((f.relief_needed_kg_h?, f.relief_bore_m?)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((kg_h, bore)) = needed {
        let words = format!(
            "- What to have before the first fire: a vent that cannot shut or freeze, or a relief valve at the coil for {kg_h:.0} kg/h of steam or more \
             (a free bore of {:.1} mm at {}, the most of all faults), nothing between it and the coil that can shut; its discharge led where nobody \
             stands. Someone licensed sizes and fits it.",
            1e3 * bore,
            pressure(r.relief_set_Pa, units)
        );
        wrap(s, &words, width, "  ");
    }
    wrap(
        s,
        "- What this does not know: how a boiling loop surges and hammers (figures after the first boiling are rough), how your joints were made, \
         ice, scale in valves, a fire in the flue. Hand feeding moves every second here by 20..30 %.",
        width,
        "  ",
    );
    s.push('\n');
}

/// Growth and pairs of metals.
fn metals(s: &mut String, r: &HazardReport, units: UnitSystem, width: usize) {
    if r.growths.is_empty() {
        return;
    }
    s.push_str("\nThe metal itself:\n");
    for g in &r.growths {
        let words = format!(
            "- {}: grows by {:.0} mm from {} to {}; clamp it so that it can move, and let no joint take the push",
            g.coil,
            1e3 * g.grows_m,
            temperature_short(283.15, units),
            temperature_short(373.15, units)
        );
        wrap(s, &words, width, "  ");
    }
    for c in &r.couples {
        let volts = if c.high_V - c.low_V < 0.01 {
            format!("{:.2} V", c.high_V)
        } else {
            format!("{:.2} to {:.2} V", c.low_V, c.high_V)
        };
        let advice = if c.part {
            "enough that in fresh water such a pair is usually parted (insulating union, lining) or the weaker one watched"
        } else {
            "usually borne in fresh water"
        };
        let words = format!(
            "- {} ({}) with {} ({}): {volts} apart in the galvanic series, {advice}",
            c.places[0], c.metals[0], c.places[1], c.metals[1]
        );
        wrap(s, &words, width, "  ");
    }
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
    } else if f.burst.is_some() && f.key != "valves_both" {
        s.push_str(" It bursts before anyone is likely to have acted.");
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
        // These two stand in a list of their own.
        FaultStatus::DoesNotApply(why) | FaultStatus::NotModelled(why) => say(why.clone()),
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
