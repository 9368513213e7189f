//! What a study answers: the fastest, the thriftiest, the least work, the safest, and what must be paid for what. Rows pass by one
//! at a time; only the best are kept.

use super::words::{self, Asked};
use crate::output::summary_table::CAUTIONS;
use crate::results::figures::FIGURES;
use crate::results::{RowStatus, StudyHead, StudyRow};
use crate::units::{UnitSystem, significant};
use comfy_table::presets::NOTHING;
use comfy_table::{ContentArrangement, Table};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What a row is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Not run.
    None,
    /// Ran, but never got hot.
    Cold,
    /// Got hot, but water boiled, the coil's wall passed its limit or a relief valve would have lifted.
    Over,
    Good,
}

/// The figure of a key in a row.
pub fn figure(row: &StudyRow, key: &str) -> Option<f64> {
    let i = FIGURES.iter().position(|f| f.key == key)?;
    row.figures.get(i).copied().flatten()
}

pub fn boils(row: &StudyRow) -> bool {
    figure(row, "boiling_first_s").is_some()
}

fn beyond(row: &StudyRow) -> bool {
    let wall = figure(row, "coil_wall_max_K").zip(figure(row, "coil_wall_limit_K"));
    boils(row)
        || wall.is_some_and(|(wall, limit)| wall > limit)
        || figure(row, "relief_first_s").is_some()
}

pub fn verdict(row: &StudyRow) -> Verdict {
    match row.status {
        RowStatus::Ok if beyond(row) => Verdict::Over,
        RowStatus::Ok if figure(row, "target_reached") != Some(1.0) => Verdict::Cold,
        RowStatus::Ok => Verdict::Good,
        _ => Verdict::None,
    }
}

const QUESTIONS: [(&str, &str); 4] = [
    ("fastest", "time"),
    ("least wood", "wood"),
    ("least tending", "trips"),
    ("safest", "margin"),
];

/// Best rows among those that passed by.
#[derive(Debug, Default)]
struct Best {
    /// One per question.
    best: [Option<StudyRow>; 4],
    front: Vec<StudyRow>,
}

/// Answers under way.
#[derive(Debug)]
pub struct Answers {
    questions: Vec<(&'static str, Asked)>,
    axes: Vec<Asked>,
    good: Best,
    /// Where nothing is good: what got hot all the same.
    over: Best,
    pub rows: u64,
    pub not_run: u64,
    counts: [u64; 3],
    /// Code of each reason that kept points from running, how many there were and the words of the first.
    reasons: BTreeMap<String, (u64, String)>,
}

fn time(row: &StudyRow) -> f64 {
    figure(row, "time_to_target_s").unwrap_or(f64::INFINITY)
}

fn better(asked: Asked, a: f64, b: f64) -> bool {
    if asked.more { a > b } else { a < b }
}

impl Best {
    fn take(&mut self, row: &StudyRow, questions: &[(&'static str, Asked)], axes: &[Asked]) {
        for ((_, q), best) in questions.iter().zip(&mut self.best) {
            let Some(v) = row.figures[q.index] else {
                continue;
            };
            let takes = match best.as_ref().and_then(|b| b.figures[q.index]) {
                None => true,
                // Ties fall to the faster point, then to the earlier.
                Some(b) if v == b => {
                    let faster = |old: &StudyRow| time(row) < time(old);
                    best.as_ref().is_some_and(faster)
                }
                Some(b) => better(*q, v, b),
            };
            if takes {
                *best = Some(row.clone());
            }
        }
        let at = |r: &StudyRow| -> Option<Vec<f64>> {
            axes.iter().map(|a| r.figures[a.index]).collect()
        };
        let Some(new) = at(row) else { return };
        // No worse in anything.
        let covers = |a: &[f64], b: &[f64]| {
            axes.iter()
                .zip(a.iter().zip(b))
                .all(|(&q, (&x, &y))| !better(q, y, x))
        };
        if self
            .front
            .iter()
            .filter_map(at)
            .any(|old| covers(&old, &new))
        {
            return;
        }
        self.front
            .retain(|r| at(r).is_none_or(|old| !covers(&new, &old)));
        self.front.push(row.clone());
    }
}

impl Answers {
    /// For a front over these figures.
    ///
    /// # Errors
    /// A figure that there is not.
    pub fn new(axes: Vec<Asked>) -> Result<Self, crate::output::OutputError> {
        let questions = QUESTIONS
            .iter()
            .map(|&(q, name)| Ok((q, words::asked(name)?)))
            .collect::<Result<_, _>>()?;
        Ok(Self {
            questions,
            axes,
            good: Best::default(),
            over: Best::default(),
            rows: 0,
            not_run: 0,
            counts: [0; 3],
            reasons: BTreeMap::new(),
        })
    }

    pub fn take(&mut self, row: &StudyRow) {
        self.rows += 1;
        match verdict(row) {
            Verdict::None => {
                self.not_run += 1;
                let code = row.reason.split(':').next().unwrap_or_default();
                let words = || (0, row.reason.clone());
                self.reasons.entry(code.to_owned()).or_insert_with(words).0 += 1;
            }
            Verdict::Cold => self.counts[0] += 1,
            Verdict::Over => {
                self.counts[1] += 1;
                self.over.take(row, &self.questions, &self.axes);
            }
            Verdict::Good => {
                self.counts[2] += 1;
                self.good.take(row, &self.questions, &self.axes);
            }
        }
    }

    fn chosen(&self) -> &Best {
        if self.counts[2] > 0 {
            &self.good
        } else {
            &self.over
        }
    }

    /// The best rows with the question that each answers, for marks in pictures. None where every point boils: no mark then.
    pub fn marks(&self) -> Vec<(&'static str, u64)> {
        let best = self.questions.iter().zip(&self.good.best);
        best.filter_map(|((q, _), row)| Some((*q, row.as_ref()?.point)))
            .collect()
    }

    /// Rows of the front, best first in its first figure.
    pub fn front(&self) -> Vec<&StudyRow> {
        let mut rows: Vec<&StudyRow> = self.chosen().front.iter().collect();
        if let Some(a) = self.axes.first() {
            let key = |r: &StudyRow| r.figures[a.index].unwrap_or(f64::INFINITY);
            rows.sort_by(|x, y| {
                if a.more {
                    key(y).total_cmp(&key(x))
                } else {
                    key(x).total_cmp(&key(y))
                }
                .then(x.point.cmp(&y.point))
            });
        }
        rows
    }

    /// For the screen.
    pub fn text(&self, title: &str, head: &StudyHead, units: UnitSystem) -> String {
        let [cold, over, good] = self.counts;
        let mut text = format!(
            "{title}\n\n{} points: {good} reach the target without boiling",
            self.rows
        );
        for (n, what) in [
            (over, "boil or pass a limit"),
            (cold, "never get hot"),
            (self.not_run, "could not be run"),
        ] {
            if n > 0 {
                text.push_str(&format!(", {n} {what}"));
            }
        }
        text.push_str(".\n");
        let mut reasons: Vec<&(u64, String)> = self.reasons.values().collect();
        reasons.sort_by_key(|r| std::cmp::Reverse(r.0));
        for (n, words) in reasons.iter().take(3) {
            text.push_str(&format!("Not run, {n} points, the first: {words}\n"));
        }
        if good == 0 && over > 0 {
            text.push_str("\nNO POINT IS WITHOUT BOILING OR WITHIN THE LIMITS. What follows is the best of what boils, and not to be built so.\n");
        }
        let columns: Vec<Asked> = self.questions.iter().map(|(_, a)| *a).collect();
        let answers: Vec<(String, &StudyRow)> = self
            .questions
            .iter()
            .zip(&self.chosen().best)
            .filter_map(|((q, _), row)| Some(((*q).to_owned(), row.as_ref()?)))
            .collect();
        if !answers.is_empty() {
            text.push_str(&format!(
                "\n{}\n",
                table("answer", &answers, head, &columns, units)
            ));
        }
        let front = self.front();
        if !front.is_empty() {
            let names: Vec<String> = self
                .axes
                .iter()
                .map(|a| words::words(a.key).to_lowercase())
                .collect();
            let names = names.join(", ");
            text.push_str(&format!("\nTrade-off front ({names}): nothing here is better in one without being worse in another\n\n"));
            let shown: Vec<(String, &StudyRow)> = front
                .iter()
                .take(12)
                .enumerate()
                .map(|(i, r)| ((i + 1).to_string(), *r))
                .collect();
            let mut columns = columns;
            let new: Vec<Asked> = self
                .axes
                .iter()
                .filter(|a| columns.iter().all(|c| c.key != a.key))
                .copied()
                .collect();
            columns.extend(new);
            text.push_str(&table("", &shown, head, &columns, units));
            if front.len() > shown.len() {
                text.push_str(&format!(
                    "\nand {} more in front.csv",
                    front.len() - shown.len()
                ));
            }
            text.push('\n');
        }
        text.push_str("\nMind\n");
        for line in CAUTIONS {
            text.push_str(&format!("  {line}\n"));
        }
        text
    }

    /// For programs, SI.
    pub fn json(&self, title: &str, head: &StudyHead) -> Value {
        let row = |r: &StudyRow| {
            let values: serde_json::Map<_, _> = head
                .axes
                .iter()
                .zip(&r.labels)
                .map(|(a, l)| (a.heading(), json!(l)))
                .collect();
            let figures: serde_json::Map<_, _> = FIGURES
                .iter()
                .zip(&r.figures)
                .map(|(f, v)| (f.key.to_owned(), json!(v)))
                .collect();
            json!({ "point": r.point, "values": values, "figures": figures, "warnings": r.warnings })
        };
        let best = self
            .questions
            .iter()
            .zip(&self.chosen().best)
            .map(|((q, _), r)| (q.replace(' ', "_"), r.as_ref().map_or(Value::Null, row)));
        json!({
            "title": title,
            "fingerprint": head.fingerprint,
            "points": self.rows,
            "good": self.counts[2],
            "boil_or_pass_a_limit": self.counts[1],
            "never_hot": self.counts[0],
            "not_run": self.not_run,
            "answers_are_within_limits": self.counts[2] > 0,
            "answers": best.collect::<serde_json::Map<_, _>>(),
            "front_of": self.axes.iter().map(|a| a.key).collect::<Vec<_>>(),
            "front": self.front().into_iter().map(row).collect::<Vec<_>>(),
            "caution": CAUTIONS[0],
        })
    }
}

/// A value of a random design with four significant digits; a value that was written stays as it is.
fn readable(label: &str) -> String {
    match label.parse::<f64>() {
        Ok(v) if label.contains('.') && label.len() > 7 => significant(v, 4),
        _ => label.to_owned(),
    }
}

fn table(
    first: &str,
    rows: &[(String, &StudyRow)],
    head: &StudyHead,
    columns: &[Asked],
    units: UnitSystem,
) -> String {
    let mut table = Table::new();
    table
        .load_style(NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled)
        .force_no_tty();
    let mut heads = vec![first.to_owned()];
    heads.extend(head.axes.iter().map(|a| a.heading()));
    heads.extend(columns.iter().map(|c| words::words(c.key)));
    table.set_header(heads);
    for (name, row) in rows {
        let mut cells = vec![name.clone()];
        cells.extend(row.labels.iter().map(|l| readable(l)));
        cells.extend(
            columns
                .iter()
                .map(|c| words::value(c.key, row.figures[c.index], units)),
        );
        table.add_row(cells);
    }
    let lines: Vec<String> = table
        .to_string()
        .lines()
        .map(|l| l.trim_end().to_owned())
        .collect();
    lines.join("\n") + "\n"
}
