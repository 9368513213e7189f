//! Runs points of a study side by side.

use super::base::PointError;
use super::design::Study;
use crate::results::figures::FIGURES;
use crate::results::{RowStatus, StudyRow};
use rayon::prelude::*;

/// One point: its burn and the row that it leaves. A point that cannot be burnt is a row too.
pub fn run_point(study: &Study, point: u64) -> StudyRow {
    let levels = study.point(point);
    let labels = levels.iter().map(|l| l.label.clone()).collect();
    let row = |status, reason: String| StudyRow {
        point,
        labels,
        status,
        // A row is one line.
        reason: reason.split_whitespace().collect::<Vec<_>>().join(" "),
        warnings: Vec::new(),
        figures: vec![None; FIGURES.len()],
    };
    match study.base.run(&Study::values(&levels)) {
        Ok(summary) => StudyRow {
            warnings: summary.warnings.iter().map(|w| w.code.clone()).collect(),
            figures: FIGURES.iter().map(|f| f.of(&summary)).collect(),
            ..row(RowStatus::Ok, String::new())
        },
        Err(e @ PointError::Refused(_)) => row(RowStatus::Refused, e.to_string()),
        Err(e @ PointError::Failed(_)) => row(RowStatus::Failed, e.to_string()),
    }
}

/// Runs points in parallel, on `threads` threads or as many as there are processors, and hands each row over as it is ready: roughly in order, and
/// the rows themselves do not depend on the threads. Stops at the first row that `take` cannot take.
///
/// # Errors
/// That of `take`.
pub fn run_points<E: Send>(
    study: &Study,
    points: impl Iterator<Item = u64> + Send,
    threads: Option<usize>,
    take: &(dyn Fn(StudyRow) -> Result<(), E> + Sync),
) -> Result<(), E> {
    let all = || {
        points
            .par_bridge()
            .try_for_each(|i| take(run_point(study, i)))
    };
    match rayon::ThreadPoolBuilder::new()
        .num_threads(threads.unwrap_or(0))
        .build()
    {
        Ok(pool) => pool.install(all),
        // No threads to be had: those that are there must do.
        Err(_) => all(),
    }
}
