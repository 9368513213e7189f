//! From stamps to one rising time axis: midnight, resets, clock changes, repeated stamps, each named.

use super::time::{Half, Order, Stamp};
use super::{Decision, Flag, FlagKind, Mapping, Problem};

const DAY_S: f64 = 86_400.0;

/// What zero of the time axis means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ClockBase {
    /// 1970-01-01 in the log's own zone.
    Date,
    /// Midnight before the first row.
    Midnight,
    /// An unknown moment: the logger's power-up or the person's watch.
    Start,
}

pub(super) struct Axis {
    pub base: ClockBase,
    /// One per row; not a number where the stamp could not be read.
    pub time_s: Vec<f64>,
    /// Rows that repeat a stamp and say the same, or run before the last one; left out.
    pub drop: Vec<bool>,
}

/// Stamps of one column (and of a date column beside it) on one axis.
pub(super) struct Clock<'a> {
    pub stamps: &'a [Option<Stamp>],
    pub lines: &'a [usize],
    /// Words of the column's name, lower case.
    pub name: &'a str,
    pub map: &'a Mapping,
    pub decisions: &'a mut Vec<Decision>,
    pub problems: &'a mut Vec<Problem>,
    pub flags: &'a mut Vec<Flag>,
}

impl Clock<'_> {
    pub fn axis(&mut self) -> Axis {
        let numbers = self.count(|s| matches!(s, Stamp::Number(_)));
        let written = self.count(|s| !matches!(s, Stamp::Number(_)));
        let (base, mut raw) = if numbers > written {
            self.numbers()
        } else {
            self.written()
        };
        for (row, t) in raw.iter_mut().enumerate() {
            if self.stamps[row].is_none() {
                *t = f64::NAN;
            }
        }
        self.spread(&mut raw);
        let drop = self.unwrap(base, &mut raw);
        Axis {
            base,
            time_s: raw,
            drop,
        }
    }

    fn count(&self, of: impl Fn(&Stamp) -> bool) -> usize {
        self.stamps.iter().flatten().filter(|s| of(s)).count()
    }

    fn numbers(&mut self) -> (ClockBase, Vec<f64>) {
        let raw: Vec<f64> = self
            .stamps
            .iter()
            .map(|s| match s {
                Some(Stamp::Number(v)) => *v,
                _ => f64::NAN,
            })
            .collect();
        let first = raw.iter().copied().find(|v| v.is_finite()).unwrap_or(0.0);
        let (base, factor, taken, reason) = match self.map.time.unit.as_deref() {
            Some(unit) => match unit.trim().to_lowercase().as_str() {
                "epoch s" | "epoch" | "unix" => (
                    ClockBase::Date,
                    1.0,
                    "seconds since 1970",
                    "the mapping says so".to_owned(),
                ),
                "epoch ms" => (
                    ClockBase::Date,
                    1e-3,
                    "milliseconds since 1970",
                    "the mapping says so".to_owned(),
                ),
                word => match super::time::number_unit(word) {
                    Some(factor) => (
                        ClockBase::Start,
                        factor,
                        "as mapped",
                        "the mapping says so".to_owned(),
                    ),
                    None => {
                        self.problems.push(Problem::error(
                            format!("`time.unit` is \"{unit}\", which is no unit of time"),
                            "write ms, s, min, h, day, epoch s or epoch ms",
                        ));
                        (ClockBase::Start, 1.0, "", String::new())
                    }
                },
            },
            None => self.number_kind(first, &raw),
        };
        if !taken.is_empty() {
            self.decisions.push(Decision::new("time", taken, reason));
        }
        let shift = if taken == "days of a spreadsheet" {
            25_569.0
        } else {
            0.0
        };
        (base, raw.iter().map(|v| (v - shift) * factor).collect())
    }

    fn number_kind(&mut self, first: f64, raw: &[f64]) -> (ClockBase, f64, &'static str, String) {
        if (1e9..2.3e9).contains(&first) {
            return (
                ClockBase::Date,
                1.0,
                "seconds since 1970",
                format!("the first is {first}"),
            );
        }
        if (1e12..2.3e12).contains(&first) {
            return (
                ClockBase::Date,
                1e-3,
                "milliseconds since 1970",
                format!("the first is {first}"),
            );
        }
        for (scale, taken) in [
            (1e-6, "microseconds since 1970"),
            (1e-9, "nanoseconds since 1970"),
        ] {
            if (1e9..2.3e9).contains(&(first * scale)) {
                return (
                    ClockBase::Date,
                    scale,
                    taken,
                    format!("the first is {first}"),
                );
            }
        }
        if (30_000.0..60_000.0).contains(&first)
            && raw.iter().any(|v| v.fract() != 0.0 && v.is_finite())
        {
            return (
                ClockBase::Date,
                DAY_S,
                "days of a spreadsheet",
                format!("the first is {first}"),
            );
        }
        let words: Vec<&str> = self.name.split(|c: char| !c.is_alphanumeric()).collect();
        for (word, factor, taken) in [
            ("ms", 1e-3, "milliseconds"),
            ("millis", 1e-3, "milliseconds"),
            ("msec", 1e-3, "milliseconds"),
            ("min", 60.0, "minutes"),
            ("mins", 60.0, "minutes"),
            ("minutes", 60.0, "minutes"),
            ("minute", 60.0, "minutes"),
            ("h", 3600.0, "hours"),
            ("hours", 3600.0, "hours"),
            ("hour", 3600.0, "hours"),
            ("s", 1.0, "seconds"),
            ("sec", 1.0, "seconds"),
            ("seconds", 1.0, "seconds"),
            ("second", 1.0, "seconds"),
        ] {
            if words.contains(&word) {
                return (
                    ClockBase::Start,
                    factor,
                    taken,
                    format!("the column's name says \"{word}\""),
                );
            }
        }
        // A burn takes from twenty minutes to a day: only one unit may fit what the rows span.
        let steps = raw.windows(2).map(|w| w[1] - w[0]).filter(|d| *d > 0.0);
        let span: f64 = steps.sum();
        let fits: Vec<(f64, &'static str)> = [
            (1e-3, "milliseconds"),
            (1.0, "seconds"),
            (60.0, "minutes"),
            (3600.0, "hours"),
        ]
        .into_iter()
        .filter(|(f, _)| (1200.0..=DAY_S).contains(&(span * f)))
        .collect();
        // Times without date of a spreadsheet are shares of a day.
        let within = raw.iter().filter(|v| v.is_finite());
        if fits.is_empty()
            && raw.len() > 2
            && span > 0.0
            && within.clone().all(|v| (0.0..2.0).contains(v))
            && within.clone().any(|v| v.fract() != 0.0)
        {
            return (
                ClockBase::Midnight,
                DAY_S,
                "shares of a day, as a spreadsheet exports clock times",
                format!("all lie between 0 and 2; the first is {first}"),
            );
        }
        match fits[..] {
            [(factor, taken)] => (
                ClockBase::Start,
                factor,
                taken,
                format!("only then the {span} that the rows span are a burn of 20 min to 24 h"),
            ),
            _ => {
                self.problems.push(Problem::error(
                    format!("the time column holds bare numbers that span {span}, and nothing says in which unit"),
                    "put the unit into the column's name, or write `unit = \"min\"` (ms, s, min, h, epoch s) under [time] of the mapping",
                ));
                (ClockBase::Start, 1.0, "", String::new())
            }
        }
    }

    fn written(&mut self) -> (ClockBase, Vec<f64>) {
        let dated =
            self.count(|s| matches!(s, Stamp::Written { date: Some(_), .. } | Stamp::Zoned(..)));
        let order = self.order();
        let halves = self.count(|s| matches!(s, Stamp::Written { half: Some(_), .. })) > 0;
        let offset_s = self.stamps.iter().flatten().find_map(|s| match s {
            Stamp::Zoned(_, offset) => Some(*offset),
            _ => None,
        });
        let mut last_half = None;
        let mut last_day: Option<i64> = None;
        let mut out = Vec::with_capacity(self.stamps.len());
        for (row, stamp) in self.stamps.iter().enumerate() {
            let t = match *stamp {
                Some(Stamp::Zoned(utc, _)) => utc + offset_s.unwrap_or(0.0),
                Some(Stamp::Written {
                    date,
                    clock_s,
                    half,
                }) => {
                    let day = match date {
                        Some(parts) => {
                            match parts.day(order) {
                                Some(day) => Some(day),
                                None => {
                                    self.problems.push(
                                    Problem::warning(
                                        format!("there is no day {:?} in this order of day and month", parts.parts),
                                        "the row was left out",
                                    )
                                    .at(self.lines[row], None),
                                );
                                    out.push(f64::NAN);
                                    continue;
                                }
                            }
                        }
                        // Only the first row of a day carries its date.
                        None => last_day,
                    };
                    last_day = day;
                    if half.is_some() {
                        last_half = half;
                    }
                    let mut s = clock_s.unwrap_or(0.0);
                    if halves {
                        let twelve = s >= 43_200.0;
                        match (half.or(last_half), twelve) {
                            (Some(Half::Pm), false) => s += 43_200.0,
                            (Some(Half::Am), true) if s < 46_800.0 => s -= 43_200.0,
                            _ => {}
                        }
                    }
                    day.unwrap_or(0) as f64 * DAY_S + s
                }
                _ => f64::NAN,
            };
            out.push(t);
        }
        (
            if dated > 0 {
                ClockBase::Date
            } else {
                ClockBase::Midnight
            },
            out,
        )
    }

    /// Day before month or the other way round: by a number over 12, else by which reading keeps the rows together.
    fn order(&mut self) -> Order {
        let parts: Vec<_> = self
            .stamps
            .iter()
            .flatten()
            .filter_map(|s| match s {
                Stamp::Written { date: Some(d), .. } if !d.year_first => Some(*d),
                _ => None,
            })
            .collect();
        let Some(first) = parts.first() else {
            return Order::DayFirst;
        };
        let about = "order of day and month";
        match self.map.time.date_order.as_deref().map(str::trim) {
            Some("day first" | "DD/MM" | "dmy" | "DMY") => return Order::DayFirst,
            Some("month first" | "MM/DD" | "mdy" | "MDY") => return Order::MonthFirst,
            Some(other) => self.problems.push(Problem::error(
                format!("`time.date_order` is \"{other}\""),
                "write \"day first\" or \"month first\"",
            )),
            None => {}
        }
        let over = |i: usize| parts.iter().find(|p| p.parts[i] > 12);
        if first.mark == '.' {
            self.decisions.push(Decision::new(
                about,
                "day first",
                "dates are written with points",
            ));
            return Order::DayFirst;
        }
        match (over(0), over(1)) {
            (Some(p), None) => {
                self.decisions.push(Decision::new(
                    about,
                    "day first",
                    format!("{} cannot be a month", p.parts[0]),
                ));
                return Order::DayFirst;
            }
            (None, Some(p)) => {
                self.decisions.push(Decision::new(
                    about,
                    "month first",
                    format!("{} cannot be a month", p.parts[1]),
                ));
                return Order::MonthFirst;
            }
            _ => {}
        }
        let question = format!(
            "is {}{m}{}{m}{} day first or month first? `date_order` under [time] of the mapping says so",
            first.parts[0],
            first.parts[1],
            first.parts[2],
            m = first.mark
        );
        let span = |order| {
            let days = parts.iter().filter_map(|p| p.day(order));
            let (lo, hi) = days.fold((i64::MAX, i64::MIN), |(lo, hi), d| (lo.min(d), hi.max(d)));
            hi.saturating_sub(lo)
        };
        let (d, m) = (span(Order::DayFirst), span(Order::MonthFirst));
        let (order, taken) = if d <= m {
            (Order::DayFirst, "day first")
        } else {
            (Order::MonthFirst, "month first")
        };
        self.decisions.push(if d == m {
            Decision::new(
                about,
                format!("not known, read as {taken}"),
                "all rows lie on one date, so elapsed times do not depend on it",
            )
            .asking(question)
        } else {
            let reason = format!(
                "the rows then span {} days, otherwise {}",
                d.min(m) + 1,
                d.max(m) + 1
            );
            Decision::new(about, taken, reason)
        });
        order
    }

    /// Stamps to the minute on rows that come faster: spread evenly, since each of them repeats.
    fn spread(&mut self, time_s: &mut [f64]) {
        let n = time_s.len();
        let same = time_s.windows(2).filter(|w| w[0] == w[1]).count();
        if n < 12 || 2 * same < n {
            return;
        }
        let runs: Vec<(usize, usize)> = {
            let mut runs = Vec::new();
            let mut i = 0;
            while i < n {
                let mut j = i + 1;
                while j < n && time_s[j] == time_s[i] {
                    j += 1;
                }
                runs.push((i, j));
                i = j;
            }
            runs
        };
        if runs.len() < 2 {
            return;
        }
        let longest = runs.iter().map(|(i, j)| j - i).max().unwrap_or(1);
        for (k, &(i, j)) in runs.iter().enumerate() {
            let Some(next) = runs.get(k + 1).map(|r| time_s[r.0]) else {
                // The last minute may be cut short: at the pace of the fullest one.
                let step = 60.0 / longest as f64;
                for (m, t) in time_s[i..j].iter_mut().enumerate() {
                    *t += m as f64 * step;
                }
                continue;
            };
            let start = time_s[i];
            // The minute before midnight is followed by a smaller figure.
            let next = if next < start { next + DAY_S } else { next };
            let step = (next - start) / (j - i) as f64;
            if step > 0.0 && step <= 60.0 {
                // The first minute may have begun before the log did.
                let skip = if k == 0 {
                    longest.saturating_sub(j - i)
                } else {
                    0
                };
                let step = (next - start) / (j - i + skip) as f64;
                for (m, t) in time_s[i..j].iter_mut().enumerate() {
                    *t = start + (m + skip) as f64 * step;
                }
            }
        }
        self.decisions.push(Decision::new(
            "time",
            "rows spread evenly over each minute",
            format!("stamps are to the minute and up to {longest} rows share one"),
        ));
    }

    /// Makes the axis rise. What it adds is always said.
    fn unwrap(&mut self, base: ClockBase, time_s: &mut [f64]) -> Vec<bool> {
        let mut drop = vec![false; time_s.len()];
        let step = median_step(time_s);
        let mut shift = 0.0;
        let mut last: Option<(usize, f64, f64)> = None; // row, raw, unwrapped
        let mut repeated: Option<(usize, usize)> = None;
        for row in 0..time_s.len() {
            let raw = time_s[row];
            if !raw.is_finite() {
                continue;
            }
            let Some((before, raw_before, t_before)) = last else {
                last = Some((row, raw, raw));
                continue;
            };
            let back = raw_before - raw;
            if back > 0.0 {
                let named = |this: &mut Self, reason: String, first: usize| {
                    this.flags.push(Flag {
                        kind: FlagKind::ClockJump,
                        channel: String::new(),
                        first_line: this.lines[first],
                        last_line: this.lines[row],
                        first_s: t_before,
                        last_s: t_before + step,
                        readings: 1,
                        reason,
                        left_out: false,
                    });
                };
                if base == ClockBase::Midnight && back > 0.5 * DAY_S {
                    shift += DAY_S;
                    self.decisions.push(Decision::new(
                        "time",
                        "midnight passed",
                        format!(
                            "the clock falls back by {} h at line {}",
                            (back / 3600.0).round(),
                            self.lines[row]
                        ),
                    ));
                } else if base == ClockBase::Midnight
                    && (back - 43_200.0).abs() < 3600.0 + 2.0 * step
                {
                    // A watch of twelve hours without halves of the day.
                    shift += 43_200.0;
                    self.decisions.push(Decision::new(
                        "time",
                        "noon or midnight passed",
                        format!(
                            "a clock of twelve hours falls back at line {}",
                            self.lines[row]
                        ),
                    ));
                } else if base == ClockBase::Start && raw < 0.05 * raw_before.abs() + 2.0 * step {
                    shift = t_before + step - raw;
                    named(
                        self,
                        format!(
                            "the counter starts again: the time without power is unknown and one usual step of {step:.0} s was put in"
                        ),
                        before,
                    );
                } else if base != ClockBase::Start
                    && (back - 3600.0).abs() <= (2.0 * step).max(120.0)
                {
                    shift += 3600.0;
                    named(
                        self,
                        "the hour repeats: clock change in autumn, read as time going on".into(),
                        before,
                    );
                } else if row + 1 < time_s.len()
                    && time_s[row + 1] > raw_before
                    && time_s[row + 1] - raw_before < 20.0 * step
                {
                    // A single row out of order.
                    drop[row] = true;
                    named(
                        self,
                        format!(
                            "one stamp lies {back:.0} s before the one above it; the row was left out"
                        ),
                        row,
                    );
                    if let Some(flag) = self.flags.last_mut() {
                        flag.left_out = true;
                    }
                    continue;
                } else {
                    shift += back + step;
                    named(
                        self,
                        format!(
                            "the clock is set back by {back:.0} s: read as time going on after one usual step of {step:.0} s"
                        ),
                        before,
                    );
                }
            }
            let t = raw + shift;
            if raw == raw_before {
                drop[row] = true;
                repeated = Some(match repeated {
                    Some((first, _)) => (first, row),
                    None => (before, row),
                });
                continue;
            }
            if let Some((first, end)) = repeated.take() {
                self.duplicate(first, end, t_before);
            }
            let ahead = t - t_before;
            if ahead > (8.0 * step).max(150.0) && step > 0.0 && time_s.len() > 12 {
                let hour = (ahead - 3600.0 - step).abs() <= (2.0 * step).max(60.0)
                    && base != ClockBase::Start;
                let reason = match hour {
                    true => format!(
                        "no rows for {ahead:.0} s, just an hour: clock change in spring, or the logger stood still"
                    ),
                    false => format!("no rows for {ahead:.0} s; the usual step is {step:.0} s"),
                };
                self.flags.push(Flag {
                    kind: if hour {
                        FlagKind::ClockJump
                    } else {
                        FlagKind::Gap
                    },
                    channel: String::new(),
                    first_line: self.lines[before],
                    last_line: self.lines[row],
                    first_s: t_before,
                    last_s: t,
                    readings: 0,
                    reason,
                    left_out: false,
                });
            }
            time_s[row] = t;
            last = Some((row, raw, t));
        }
        if let (Some((first, end)), Some((_, _, t))) = (repeated, last) {
            self.duplicate(first, end, t);
        }
        drop
    }

    fn duplicate(&mut self, first: usize, last: usize, at_s: f64) {
        self.flags.push(Flag {
            kind: FlagKind::DuplicateStamp,
            channel: String::new(),
            first_line: self.lines[first],
            last_line: self.lines[last],
            first_s: at_s,
            last_s: at_s,
            readings: last - first,
            reason: "the same stamp again; the first row stands".into(),
            left_out: true,
        });
    }
}

/// Median of the steps forward.
pub(super) fn median_step(time_s: &[f64]) -> f64 {
    let mut steps: Vec<f64> = time_s
        .windows(2)
        .map(|w| w[1] - w[0])
        .filter(|d| *d > 0.0 && d.is_finite())
        .collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len() / 2).copied().unwrap_or(0.0)
}

impl Clock<'_> {
    /// The axis of a long log, where rows of several probes share a stamp: made from the rows whose stamp is new.
    pub fn axis_of_long(&mut self) -> Axis {
        let mut keys: Vec<usize> = Vec::new();
        let mut key_of = Vec::with_capacity(self.stamps.len());
        for (row, stamp) in self.stamps.iter().enumerate() {
            if keys.last().is_none_or(|k| self.stamps[*k] != *stamp) {
                keys.push(row);
            }
            key_of.push(keys.len() - 1);
        }
        let stamps: Vec<Option<Stamp>> = keys.iter().map(|k| self.stamps[*k]).collect();
        let lines: Vec<usize> = keys.iter().map(|k| self.lines[*k]).collect();
        let axis = Clock {
            stamps: &stamps,
            lines: &lines,
            name: self.name,
            map: self.map,
            decisions: self.decisions,
            problems: self.problems,
            flags: self.flags,
        }
        .axis();
        Axis {
            base: axis.base,
            time_s: key_of.iter().map(|k| axis.time_s[*k]).collect(),
            drop: key_of.iter().map(|k| axis.drop[*k]).collect(),
        }
    }
}
