//! `check`: problems of a scenario, or what follows from it, and the rig drawn to scale.

use serde_json::json;

use super::console::{Console, Verbosity};
use super::describe::Description;
use super::error::CliError;
use super::plan::ScenarioPlan;
use super::ports::{self, LoadFailure, Loaded};
use crate::results::Echo;

pub fn run(console: &Console, plan: &ScenarioPlan) -> Result<(), CliError> {
    let loaded = match ports::load(plan, console.color_err) {
        Ok(loaded) => loaded,
        Err(LoadFailure::Problems(problems)) => {
            if plan.json {
                console.result(&format!(
                    "{:#}",
                    json!({ "ok": false, "problems": problems.json })
                ))?;
            } else {
                console.message(&problems.rendered);
            }
            return Err(problems.into_error(plan));
        }
        Err(LoadFailure::Other(error)) => return Err(error),
    };
    let description = Description::of(&loaded.rig);
    let pictures = if plan.pictures {
        ports::draw_rig(&loaded.rig, plan)?
    } else {
        Vec::new()
    };
    if plan.json {
        let report = json!({
            "ok": true,
            "title": loaded.rig.title,
            "notes": loaded.notes_json,
            "derived": description.json(),
            "defaults": loaded.defaults,
            "pictures": pictures,
        });
        console.result(&format!("{report:#}"))?;
    } else {
        console.result(&text(console, plan, &loaded, &description))?;
        if !loaded.notes.is_empty() {
            console.note(&loaded.notes);
        }
    }
    for path in pictures {
        console.note(&format!("drew {}", path.display()));
    }
    Ok(())
}

fn text(console: &Console, plan: &ScenarioPlan, loaded: &Loaded, of: &Description) -> String {
    let mut text = format!("{}\n\n{}\n", loaded.rig.title, of.text(plan.units));
    // Multipliers and numerics are many and rarely what a slip of the pen is about.
    let (inner, outer): (Vec<&Echo>, Vec<&Echo>) = loaded
        .defaults
        .iter()
        .partition(|d| d.path.starts_with("closures.") || d.path.starts_with("solver."));
    if !loaded.defaults.is_empty() {
        text.push_str("\ndefaults taken\n");
        text.push_str(&defaults_text(&outer));
        if console.verbosity == Verbosity::Verbose {
            text.push_str(&defaults_text(&inner));
        } else if !inner.is_empty() {
            let n = inner.len();
            text.push_str(&format!(
                "  and {n} of [closures] and [solver]; --verbose lists them\n"
            ));
        }
    }
    text.push_str("\nno problems found\n");
    text
}

/// One line per default: path, value, reason.
pub fn defaults_text(defaults: &[&Echo]) -> String {
    let width = |of: fn(&Echo) -> &str| {
        let widths = defaults.iter().map(|d| of(d).chars().count());
        widths.max().unwrap_or(0)
    };
    let (path, value) = (width(|d| &d.path), width(|d| &d.value));
    defaults
        .iter()
        .map(|d| format!("  {:path$}  {:value$}  {}\n", d.path, d.value, d.reason))
        .collect()
}
