//! `burn`: one run, its summary on standard output, its numbers and pictures in the result folder.

use serde_json::json;
use std::time::{Duration, Instant};

use super::check::defaults_text;
use super::console::{Console, Verbosity};
use super::error::CliError;
use super::plan::ScenarioPlan;
use super::ports;
use crate::results::BurnResult;
use crate::units::format_time;

pub fn run(console: &Console, plan: &ScenarioPlan) -> Result<(), CliError> {
    let mut clock = Clock::start();
    let loaded = ports::load_aloud(console, plan)?;
    clock.lap("load_s");

    if plan.in_a_row > 0 && !ports::has_damp_walls(&loaded) {
        return Err(CliError::Usage {
            message: "`--in-a-row`: no wall holds water, so every burn would be the first again".into(),
            hint: Some("give a layer of a wall its `moisture`; `season` has burns in a row with their soot".into()),
        });
    }
    let bar = console.progress();
    let outcome = ports::burn(&loaded, &mut |share, t_s| {
        bar.set_position((share * 1000.0) as u64);
        bar.set_message(format!("burnt for {}", format_time(t_s)));
    });
    bar.finish_and_clear();
    let mut result = outcome?;
    clock.lap("run_s");
    if plan.bands > 0 {
        let bar = console.counter(plan.bands as u64, "samples for the bands");
        ports::add_bands(&loaded, &mut result, plan.bands, &|| bar.inc(1));
        bar.finish_and_clear();
        clock.lap("bands_s");
    }

    let mut row = Vec::new();
    if plan.in_a_row > 0 {
        let bar = console.counter(plan.in_a_row as u64, "burns in a row");
        row = ports::in_a_row(&loaded, plan.in_a_row, &mut || bar.inc(1))?;
        bar.finish_and_clear();
        clock.lap("row_s");
    }

    let mut files = ports::write_results(&result, plan)?;
    if !row.is_empty() {
        files.extend(ports::write_in_a_row(&loaded.rig.title, &row, plan)?);
    }
    let as_run = plan.out_dir.join("as-run.toml");
    ports::write_file(&as_run, loaded.text.as_bytes())?;
    clock.lap("write_s");
    let timing = plan.out_dir.join("timing.json");
    ports::write_file(&timing, format!("{:#}\n", clock.json()).as_bytes())?;

    if plan.json {
        console.result(&ports::summary_json(&result))?;
    } else {
        console.result(&ports::summary_table(
            &result,
            plan,
            console.color_out,
            console.width(),
        ))?;
        if !row.is_empty() {
            console.result(&ports::in_a_row_text(&row, plan))?;
        }
    }
    if console.verbosity == Verbosity::Verbose {
        console.detail(&details(&result));
    }
    console.note(&format!(
        "{} files in {} ({})",
        files.len() + 2,
        plan.out_dir.display(),
        clock.text()
    ));
    Ok(())
}

/// Events, defaults and counters, for the curious.
fn details(result: &BurnResult) -> String {
    let mut text = String::from("events\n");
    for event in &result.events {
        text.push_str(&format!(
            "  {:>11}  {}\n",
            format_time(event.time_s),
            event.text
        ));
    }
    if !result.defaults.is_empty() {
        text.push_str("defaults taken\n");
        text.push_str(&defaults_text(&result.defaults.iter().collect::<Vec<_>>()));
    }
    let s = &result.summary.solver;
    text.push_str(&format!(
        "solver: {} steps, {} rejected, {} right-hand sides, {} segments; energy residual {:.1e}",
        s.steps,
        s.rejected,
        s.right_hand_sides,
        s.segments,
        result.summary.energy_residual_fraction
    ));
    text
}

/// Wall-clock time of each stage. Never part of the summary, which is the same on every run.
struct Clock {
    last: Instant,
    laps: Vec<(&'static str, Duration)>,
}

impl Clock {
    fn start() -> Self {
        Self {
            last: Instant::now(),
            laps: Vec::new(),
        }
    }

    fn lap(&mut self, key: &'static str) {
        let now = Instant::now();
        self.laps.push((key, now - self.last));
        self.last = now;
    }

    fn json(&self) -> serde_json::Value {
        self.laps
            .iter()
            .map(|(key, lap)| ((*key).to_owned(), json!(lap.as_secs_f64())))
            .collect()
    }

    /// "loaded in 0.8 ms, ran in 12.1 ms, ..."
    fn text(&self) -> String {
        let words: Vec<String> = self
            .laps
            .iter()
            .map(|(key, lap)| {
                let stage = key.trim_end_matches("_s");
                format!("{stage} {:.1} ms", lap.as_secs_f64() * 1e3)
            })
            .collect();
        words.join(", ")
    }
}
