//! The whole way from bytes to channels.

mod acts;
mod order;
mod roles;
mod sheet;

use super::cell::{Cell, cell};
use super::clock::{self, Clock};
use super::columns::{Role, unit_in, unit_word};
use super::grid::{self, Row};
use super::layout::{self, Layout};
use super::mapping::is_column;
use super::time::{Stamp, stamp};
use super::{Channel, Decision, Event, Flag, Mapping, Problem, Severity, decode, suspect};
use crate::units::{Kind, parse};

pub use super::clock::ClockBase;

/// Of a load whose unit nothing tells.
pub(super) const NO_UNIT: &str = "in the feed column has no unit";

/// A log as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    pub base: ClockBase,
    pub channels: Vec<Channel>,
    pub events: Vec<Event>,
    pub flags: Vec<Flag>,
    pub decisions: Vec<Decision>,
    pub problems: Vec<Problem>,
    /// Rows of figures and remarks.
    pub rows: usize,
    /// First and last moment on the log's clock.
    pub first_s: f64,
    pub last_s: f64,
    /// Median time between rows.
    pub step_s: f64,
}

impl Reading {
    fn failed(decisions: Vec<Decision>, problems: Vec<Problem>) -> Self {
        Self {
            base: ClockBase::Start,
            channels: Vec::new(),
            events: Vec::new(),
            flags: Vec::new(),
            decisions,
            problems,
            rows: 0,
            first_s: 0.0,
            last_s: 0.0,
            step_s: 0.0,
        }
    }

    /// Problems that refuse the log.
    pub fn errors(&self) -> usize {
        let errors = self.problems.iter();
        errors.filter(|p| p.severity == Severity::Error).count()
    }

    /// A clock time or a time since the first row on this log's axis.
    ///
    /// # Errors
    /// What is wrong with the text.
    pub fn moment_s(&self, text: &str) -> Result<f64, String> {
        if let Ok(t) = parse(Kind::Time, text) {
            return Ok(self.first_s + t.si);
        }
        let alone = |s| clock_of(s, self.base, self.first_s);
        match stamp(text, false).and_then(alone) {
            Some(t) => Ok(t),
            None => Err(format!(
                "\"{text}\" is neither a clock time (17:05) nor a time since the first row (12 min)"
            )),
        }
    }
}

/// Seconds on an axis of a stamp that stands alone.
fn clock_of(s: Stamp, base: ClockBase, first_s: f64) -> Option<f64> {
    let Stamp::Written {
        date,
        clock_s: Some(mut t),
        half,
    } = s
    else {
        return None;
    };
    if let Some(half) = half {
        t = t % 43_200.0
            + if half == super::time::Half::Pm {
                43_200.0
            } else {
                0.0
            };
    }
    match (base, date.and_then(|d| d.day(super::time::Order::DayFirst))) {
        (ClockBase::Date, Some(day)) if date.is_some_and(|d| d.year_first) => {
            Some(day as f64 * 86_400.0 + t)
        }
        (ClockBase::Start, _) => None,
        _ => {
            let at = (first_s / 86_400.0).floor() * 86_400.0 + t;
            // A moment long before the first row is one of the next day.
            Some(if at < first_s - 43_200.0 {
                at + 86_400.0
            } else {
                at
            })
        }
    }
}

/// Reads a log. Never fails outright: what cannot be read is among the problems.
pub fn read(bytes: &[u8], map: &Mapping) -> Reading {
    let mut problems = Vec::new();
    let (text, mut decisions) = match decode::decode(bytes, map.read.encoding.as_deref()) {
        Ok(done) => done,
        Err(problem) => return Reading::failed(Vec::new(), vec![problem]),
    };
    if text.trim().is_empty() {
        return Reading::failed(decisions, vec![Problem::error("the file is empty", "")]);
    }
    if let Some(problem) = decode::foreign(&text) {
        return Reading::failed(decisions, vec![problem]);
    }
    let mut rows = match grid::rows(&text, map.read.delimiter.as_deref()) {
        Ok((rows, decision)) => {
            decisions.push(decision);
            rows
        }
        Err(problem) => return Reading::failed(decisions, vec![problem]),
    };
    let comma = decimal_comma(&rows, map, &mut decisions, &mut problems);
    let Some(layout) = layout::find(&rows, comma, map, &mut decisions, &mut problems) else {
        problems.push(Problem::error(
            "no row with a time and a figure was found",
            "a log has one reading a row, for example `17:05, 52.3, lit`; `header_line` under [read] of the mapping tells where the names stand",
        ));
        return Reading::failed(decisions, problems);
    };
    let Some(time) = layout.time else {
        if let Some(problem) = layout::on_its_side(&rows, comma) {
            problems.push(problem);
            return Reading::failed(decisions, problems);
        }
        problems.push(Problem::error(
            "no column of the log looks like a time",
            "name it: `column = \"...\"` under [time] of the mapping",
        ));
        return Reading::failed(decisions, problems);
    };
    if let Some(problem) = layout::comma_for_both(&layout, &rows, &decisions) {
        problems.push(problem);
        return Reading::failed(decisions, problems);
    }
    if order::newest_first(&rows[layout.first..], time, comma) {
        rows[layout.first..].reverse();
        decisions.push(Decision::new(
            "order of rows",
            "newest first, read from the end",
            "the clock runs backwards from row to row",
        ));
    }
    Table {
        rows: &rows[layout.first..],
        layout: &layout,
        comma,
        map,
        time,
    }
    .read(decisions, problems)
}

fn decimal_comma(
    rows: &[Row],
    map: &Mapping,
    decisions: &mut Vec<Decision>,
    problems: &mut Vec<Problem>,
) -> bool {
    match map.read.decimal.as_deref().map(str::trim) {
        Some("," | "comma") => return true,
        Some("." | "point") => return false,
        Some(other) => problems.push(Problem::error(
            format!("`read.decimal` is \"{other}\""),
            "write \",\" or \".\"",
        )),
        None => {}
    }
    let (mut commas, mut points) = (0, 0);
    for text in rows.iter().take(2000).flat_map(|r| &r.cells) {
        let mark = |m: char| {
            text.split_once(m).is_some_and(|(a, b)| {
                let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
                digits(a.trim_start_matches(['-', '+'])) && digits(b)
            })
        };
        commas += usize::from(mark(','));
        points += usize::from(mark('.'));
    }
    if commas > 0 {
        decisions.push(Decision::new(
            "decimal mark",
            if commas > points { "comma" } else { "point" },
            format!("{commas} figures with a comma, {points} with a point"),
        ));
    }
    commas > points
}

struct Table<'a> {
    rows: &'a [Row],
    layout: &'a Layout,
    comma: bool,
    map: &'a Mapping,
    time: usize,
}

/// What a column resolves, in its own unit: the largest step of which all its readings are whole multiples, the last
/// written digit at least.
fn step_of(raw: &Raw) -> f64 {
    let digit = 10f64.powi(i32::from(raw.decimals.min(6)));
    let whole = |v: f64| (v * digit).round().abs().min(1e15) as u64;
    let Some(&(_, first)) = raw.readings.first() else {
        return 0.0;
    };
    let gcd = |mut a: u64, mut b: u64| {
        while b > 0 {
            (a, b) = (b, a % b);
        }
        a
    };
    let steps = raw.readings.iter().map(|r| whole(r.1 - first));
    match steps.fold(0, gcd) {
        0 => 1.0 / digit,
        n => n as f64 / digit,
    }
}

/// A channel while it is read.
struct Raw {
    name: String,
    column: usize,
    role: Role,
    unit: Option<String>,
    asked: bool,
    /// Row, raw reading.
    readings: Vec<(usize, f64)>,
    /// Most decimals that were written.
    decimals: u8,
    missing: Vec<(usize, String)>,
    offset: f64,
    uncertainty: Option<f64>,
    freedom: Option<f64>,
}

impl Table<'_> {
    fn read(&self, mut decisions: Vec<Decision>, mut problems: Vec<Problem>) -> Reading {
        let lines: Vec<usize> = self.rows.iter().map(|r| r.line).collect();
        let mut stamps: Vec<Option<Stamp>> = self.rows.iter().map(|r| self.stamp(r)).collect();
        self.minutes_and_seconds(&mut stamps, &mut decisions);
        let stamps = stamps;
        let unread: Vec<usize> = (0..stamps.len()).filter(|i| stamps[*i].is_none()).collect();
        for &i in unread.iter().take(20) {
            let what = self.rows[i].cells.get(self.time).map_or("", String::as_str);
            problems.push(
                Problem::warning(format!("\"{what}\" is no time; the row was left out"), "")
                    .at(lines[i], Some(self.time)),
            );
        }
        if unread.len() > 20 {
            problems.push(Problem::warning(
                format!(
                    "and {} more rows without a readable time",
                    unread.len() - 20
                ),
                "",
            ));
        }
        if 2 * unread.len() > stamps.len() {
            problems.push(Problem::error(
                format!(
                    "{} of {} rows have no readable time in column {}",
                    unread.len(),
                    stamps.len(),
                    self.layout.heads[self.time].name
                ),
                "name the right column: `column = \"...\"` under [time] of the mapping",
            ));
        }
        let mut flags = Vec::new();
        let name = self.layout.heads[self.time].name.to_lowercase();
        let name = match &self.layout.heads[self.time].unit {
            Some(unit) => format!("{name} {}", unit.to_lowercase()),
            None => name,
        };
        let mut long_step = false;
        let mut axis = {
            // In a long log many rows share a stamp, so it is unrolled over distinct stamps only.
            let mut clock = Clock {
                stamps: &stamps,
                lines: &lines,
                name: &name,
                map: self.map,
                decisions: &mut decisions,
                problems: &mut problems,
                flags: &mut flags,
            };
            if self.layout.long.is_some() {
                long_step = true;
                clock.axis_of_long()
            } else {
                clock.axis()
            }
        };
        let shift_s = self.shift(&mut axis.base, &mut axis.time_s, &mut problems);
        for flag in &mut flags {
            flag.first_s += shift_s;
            flag.last_s += shift_s;
        }
        let finite: Vec<f64> = axis
            .time_s
            .iter()
            .zip(&axis.drop)
            .filter(|(t, d)| t.is_finite() && !**d)
            .map(|(t, _)| *t)
            .collect();
        let (first_s, last_s) = finite
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), t| {
                (a.min(*t), b.max(*t))
            });
        let stamped = axis.time_s.iter().filter(|t| t.is_finite()).count();
        if stamped > 1 && last_s <= first_s {
            let what = self.rows[0].cells.get(self.time).map_or("", String::as_str);
            problems.push(Problem::error(
                format!("the time never moves: all rows say \"{what}\""),
                "name another column under [time] of the mapping, or export the log with its clock",
            ));
        }
        let mut distinct = finite;
        if long_step {
            distinct.dedup();
        }
        let step_s = clock::median_step(&distinct);
        let mut reading = Reading {
            base: axis.base,
            rows: self.rows.len(),
            first_s: if first_s.is_finite() { first_s } else { 0.0 },
            last_s: if last_s.is_finite() { last_s } else { 0.0 },
            step_s,
            flags,
            ..Reading::failed(decisions, problems)
        };
        self.events(&axis, &mut reading);
        let mut raws = self.raw_channels(&axis, &mut reading);
        self.roles(&mut raws, &mut reading);
        self.units(&mut raws, &mut reading);
        for raw in raws {
            self.channel(raw, &axis, &mut reading);
        }
        reading
            .flags
            .sort_by(|a, b| a.first_s.total_cmp(&b.first_s));
        let known: Vec<&str> = self
            .layout
            .heads
            .iter()
            .map(|h| h.name.as_str())
            .chain(reading.channels.iter().map(|c| c.name.as_str()))
            .collect();
        for c in &self.map.channel {
            let found = known
                .iter()
                .enumerate()
                .any(|(i, n)| is_column(&c.column, n, i));
            if !found {
                reading.problems.push(Problem::error(
                    format!(
                        "[[channel]] names \"{}\", which is no column of the log",
                        c.column
                    ),
                    format!("the log has: {}", known.join(", ")),
                ));
            }
        }
        reading
    }

    fn stamp(&self, row: &Row) -> Option<Stamp> {
        let time = row.cells.get(self.time)?;
        let beside = |c: Option<usize>| c.and_then(|c| row.cells.get(c)).filter(|t| !t.is_empty());
        let half = beside(self.layout.half).map_or("", String::as_str);
        match (beside(self.layout.date), half) {
            (None, "") => stamp(time, self.comma),
            (None, half) => stamp(&format!("{time} {half}"), self.comma),
            (Some(date), half) => stamp(format!("{date} {time} {half}").trim(), self.comma),
        }
    }

    /// The mapping's offset and the clock of a log that knows none.
    fn shift(&self, base: &mut ClockBase, time_s: &mut [f64], problems: &mut Vec<Problem>) -> f64 {
        let mut shift = 0.0;
        if let Some(text) = &self.map.time.offset {
            match parse(Kind::Time, text) {
                Ok(t) => shift = t.si,
                Err(e) => problems.push(Problem::error(format!("`time.offset`: {e}"), e.help())),
            }
        }
        if let (ClockBase::Start, Some(text)) = (*base, &self.map.time.start) {
            match stamp(text, false).and_then(|s| clock_of(s, ClockBase::Midnight, 0.0)) {
                Some(t) => {
                    let first = time_s
                        .iter()
                        .copied()
                        .find(|t| t.is_finite())
                        .unwrap_or(0.0);
                    shift += t - first;
                    *base = ClockBase::Midnight;
                }
                None => problems.push(Problem::error(
                    format!("`time.start` is \"{text}\", which is no clock time"),
                    "write it as \"17:05\"",
                )),
            }
        }
        for t in time_s {
            *t += shift;
        }
        shift
    }

    fn raw_channels(&self, axis: &clock::Axis, reading: &mut Reading) -> Vec<Raw> {
        let heads = &self.layout.heads;
        let mut raws: Vec<Raw> = Vec::new();
        let fresh = |name: &str, column: usize, unit: Option<String>| Raw {
            name: name.to_owned(),
            column,
            role: Role::Other,
            unit,
            asked: false,
            readings: Vec::new(),
            decimals: 0,
            missing: Vec::new(),
            offset: 0.0,
            uncertainty: None,
            freedom: None,
        };
        if self.layout.long.is_none() {
            for (i, head) in heads.iter().enumerate() {
                let text = self.mapped_role(&head.name, i).map_or_else(
                    || self.text_role(i),
                    |r| {
                        r.kind()
                            .is_none()
                            .then_some(r)
                            .or((r == Role::Feed).then_some(r))
                    },
                );
                if [Some(self.time), self.layout.date, self.layout.half].contains(&Some(i))
                    || text.is_some()
                {
                    continue;
                }
                raws.push(fresh(&head.name, i, head.unit.clone()));
            }
        }
        let mut bad = 0;
        for (i, row) in self.rows.iter().enumerate() {
            if !axis.time_s[i].is_finite() || axis.drop[i] {
                continue;
            }
            if let Some((probe, value)) = self.layout.long {
                let (Some(name), Some(text)) = (row.cells.get(probe), row.cells.get(value)) else {
                    continue;
                };
                let k = match raws.iter().position(|r| r.name == *name) {
                    Some(k) => k,
                    None if raws.len() < 64 => {
                        raws.push(fresh(
                            name,
                            value,
                            unit_in(name).or_else(|| heads[value].unit.clone()),
                        ));
                        raws.len() - 1
                    }
                    None => continue,
                };
                self.take(&mut raws[k], i, text, &mut bad, reading);
            } else {
                for raw in &mut raws {
                    let text = row.cells.get(raw.column).map_or("", String::as_str);
                    self.take(raw, i, text, &mut bad, reading);
                }
            }
        }
        if bad > 20 {
            reading.problems.push(Problem::warning(
                format!("and {} more cells that are no numbers", bad - 20),
                "",
            ));
        }
        raws.retain(|r| !r.readings.is_empty());
        raws
    }

    fn take(&self, raw: &mut Raw, row: usize, text: &str, bad: &mut usize, reading: &mut Reading) {
        match cell(text, self.comma) {
            // "26.O": what hangs on a figure is its unit or a slip of the pen.
            Cell::Number(_, rest, _)
                if rest.starts_with(char::is_alphabetic)
                    && text.trim().len() < 12
                    && unit_word(rest).is_none() =>
            {
                self.bad_cell(raw, row, text.trim(), bad, reading);
            }
            Cell::Number(v, rest, decimals) => {
                raw.decimals = raw.decimals.max(decimals);
                if raw.unit.is_none() && !rest.is_empty() {
                    raw.unit = unit_word(rest);
                }
                raw.readings.push((row, v));
            }
            Cell::Empty | Cell::Missing => raw.missing.push((row, text.trim().to_owned())),
            Cell::Text(word) => self.bad_cell(raw, row, word, bad, reading),
        }
    }

    fn bad_cell(
        &self,
        raw: &mut Raw,
        row: usize,
        word: &str,
        bad: &mut usize,
        reading: &mut Reading,
    ) {
        *bad += 1;
        if *bad <= 20 {
            let name = &raw.name;
            reading.problems.push(
                Problem::warning(
                    format!("\"{word}\" in column {name} is no number; the cell was left out"),
                    "",
                )
                .at(self.rows[row].line, Some(raw.column)),
            );
        }
        raw.missing.push((row, word.to_owned()));
    }

    fn channel(&self, raw: Raw, axis: &clock::Axis, reading: &mut Reading) {
        if raw.role == Role::Ignore {
            return;
        }
        let (Some(kind), Some(unit)) = (raw.role.kind(), &raw.unit) else {
            return;
        };
        // Straight lines between the written unit and SI: two readings of the parser fix them.
        let si = |v: f64| parse(kind, &format!("{v} {unit}")).map(|p| p.si);
        let (a, b) = match (si(100.0), si(200.0)) {
            (Ok(x), Ok(y)) => ((y - x) / 100.0, x - (y - x)),
            (Err(e), _) | (_, Err(e)) => {
                // A column whose unit is of another kind and that nobody asked for is left aside.
                if raw.asked || raw.role != Role::Other {
                    reading.problems.push(Problem::error(
                        format!("column {}: {e}", raw.name),
                        e.help(),
                    ));
                }
                return;
            }
        };
        let step = a.abs() * step_of(&raw);
        let mut channel = Channel {
            name: raw.name.clone(),
            role: raw.role,
            time_s: raw.readings.iter().map(|r| axis.time_s[r.0]).collect(),
            value: raw
                .readings
                .iter()
                .map(|r| a * r.1 + b + raw.offset)
                .collect(),
            line: raw.readings.iter().map(|r| self.rows[r.0].line).collect(),
            good: vec![true; raw.readings.len()],
            resolution: step,
            uncertainty: raw.uncertainty,
            freedom: raw.freedom,
        };
        let values: Vec<f64> = raw.readings.iter().map(|r| r.1).collect();
        suspect::mark(&mut channel, &values, reading.step_s, &mut reading.flags);
        // A column that is filled now and then has no drop-outs.
        let usual = raw.readings.len() > 4 * raw.missing.len().min(usize::MAX / 4)
            || raw.missing.iter().any(|m| !m.1.is_empty());
        if usual {
            let missing: Vec<(usize, usize, f64, String)> = raw
                .missing
                .iter()
                .filter(|m| raw.readings.len() > 4 * raw.missing.len() || !m.1.is_empty())
                .map(|m| (m.0, self.rows[m.0].line, axis.time_s[m.0], m.1.clone()))
                .collect();
            // In a long log the rows of other probes stand between.
            let ordinal = |row: usize| match self.layout.long {
                Some(_) => {
                    raw.readings.partition_point(|r| r.0 < row)
                        + raw.missing.partition_point(|m| m.0 < row)
                }
                None => row,
            };
            let missing: Vec<_> = missing
                .into_iter()
                .map(|m| (ordinal(m.0), m.1, m.2, m.3))
                .collect();
            suspect::drop_outs(&raw.name, &missing, &mut reading.flags);
        }
        reading.channels.push(channel);
    }
}
