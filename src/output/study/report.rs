//! From a finished table to answers, front and pictures.

use super::answers::{Answers, Verdict, verdict};
use super::journal::{RUNS, put_in_place};
use super::pictures::{Dot, View, draw_all};
use super::record::{head_text, row_text};
use super::table::each_row;
use super::words::{Asked, asked};
use crate::output::error::OutputError;
use crate::output::{svg_to_png, write_file};
use crate::results::StudyHead;
use crate::units::UnitSystem;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Pictures show at most so many points: no more can be seen, and none are held.
const MOST_DRAWN: u64 = 40_000;

/// What to make of a table.
#[derive(Debug, Clone)]
pub struct ReportOptions {
    pub title: String,
    /// Names of the figures that pictures show; empty: time, wood and margin.
    pub show: Vec<String>,
    /// Names of the figures of the front; empty: time and wood.
    pub front: Vec<String>,
    pub units: UnitSystem,
    pub pictures: bool,
    /// Labels of each axis in their order; empty for an axis without steps.
    pub orders: Vec<Vec<String>>,
    /// Whether the values of each axis are numbers.
    pub numeric: Vec<bool>,
}

/// What was made.
#[derive(Debug)]
pub struct Report {
    pub text: String,
    pub json: serde_json::Value,
    pub rows: u64,
    /// Rows that were refused or failed.
    pub not_run: u64,
    pub pictures: Vec<PathBuf>,
}

fn all_asked(names: &[String], otherwise: &[&str]) -> Result<Vec<Asked>, OutputError> {
    if names.is_empty() {
        return otherwise.iter().map(|n| asked(n)).collect();
    }
    names.iter().map(|n| asked(n)).collect()
}

/// Reads the finished table of `dir` once and writes front and pictures beside it.
///
/// # Errors
/// [`OutputError`]: an unknown figure, a table that cannot be read, a file that cannot be written.
pub fn report(
    dir: &Path,
    head: &StudyHead,
    options: &ReportOptions,
) -> Result<Report, OutputError> {
    let mut answers = Answers::new(all_asked(&options.front, &["time", "wood"])?)?;
    let shown = all_asked(&options.show, &["time", "wood", "margin"])?;
    let every = head.points.div_ceil(MOST_DRAWN);
    let mut dots = Vec::new();
    each_row(&dir.join(RUNS), head.axes.len(), |row| {
        answers.take(&row);
        if options.pictures && row.point % every == 0 {
            dots.push(Dot {
                point: row.point,
                numbers: row.labels.iter().map(|l| l.parse().ok()).collect(),
                verdict: verdict(&row),
                figures: shown.iter().map(|a| row.figures[a.index]).collect(),
                labels: row.labels,
            });
        }
    })?;
    let front = dir.join("front.csv");
    put_in_place(&front, |out| {
        out.write_all(head_text(head).as_bytes())?;
        answers
            .front()
            .iter()
            .try_for_each(|row| out.write_all(row_text(row).as_bytes()))
    })?;
    #[cfg(feature = "parquet")]
    super::parquet::write(dir, head, &options.numeric)?;
    let mut pictures = Vec::new();
    if options.pictures && dots.iter().any(|d| d.verdict != Verdict::None) {
        let view = View {
            title: &options.title,
            head,
            shown: &shown,
            dots: &dots,
            marks: answers.marks(),
            orders: &options.orders,
            units: options.units,
            every,
        };
        for (name, svg) in draw_all(&view)? {
            for (kind, bytes) in [("png", svg_to_png(&svg)?), ("svg", svg.into_bytes())] {
                let path = dir.join(format!("{name}.{kind}"));
                write_file(&path, &bytes)?;
                pictures.push(path);
            }
        }
    }
    Ok(Report {
        text: answers.text(&options.title, head, options.units),
        json: answers.json(&options.title, head),
        rows: answers.rows,
        not_run: answers.not_run,
        pictures,
    })
}
