//! Loads, moves and remarks of a table of readings.

use super::super::cell::{Cell, cell, mass_unit};
use super::super::columns::Role;
use super::super::events::{self, Stand};
use super::super::{Decision, Event, EventKind, Problem, clock};
use super::{NO_UNIT, Reading, Table};
use crate::units::{Kind, parse};

impl Table<'_> {
    pub(super) fn events(&self, axis: &clock::Axis, reading: &mut Reading) {
        let heads = &self.layout.heads;
        let role = |i: usize| {
            self.mapped_role(&heads[i].name, i)
                .or_else(|| self.text_role(i))
        };
        let columns: Vec<(usize, Role)> = (0..heads.len())
            .filter(|i| {
                Some(*i) != self.layout.date
                    && Some(*i) != self.layout.half
                    && *i != self.time
                    && self.layout.long.is_none_or(|(p, v)| *i != p && *i != v)
            })
            .filter_map(|i| role(i).map(|r| (i, r)))
            .filter(|(_, r)| matches!(r, Role::Feed | Role::Note | Role::Damper | Role::Pump))
            .collect();
        let has_feed = columns.iter().any(|(_, r)| *r == Role::Feed);
        let in_notes = self.map.events.feeds_in_notes.unwrap_or(!has_feed);
        let mut told = false;
        let mut bare = 0;
        let mut last: Vec<String> = vec![String::new(); heads.len()];
        for (i, row) in self.rows.iter().enumerate() {
            let time_s = axis.time_s[i];
            if !time_s.is_finite() {
                continue;
            }
            for &(column, role) in &columns {
                // A remark with the delimiter in it runs over several cells.
                let joined = match column + 1 == heads.len().min(row.cells.len())
                    || row.cells.len() <= column
                {
                    true => String::new(),
                    false
                        if role == Role::Note
                            && columns.iter().all(|(c, _)| *c <= column)
                            && (column + 1..row.cells.len()).all(|c| c >= self.named_columns()) =>
                    {
                        row.cells[column..].join(", ")
                    }
                    false => String::new(),
                };
                let text = match joined.is_empty() {
                    true => row.cells.get(column).map_or("", String::as_str),
                    false => joined.trim_end_matches([',', ' ']),
                };
                let at = Stand {
                    time_s,
                    line: row.line,
                    column,
                    text,
                    decimal_comma: self.comma,
                };
                match role {
                    Role::Feed => {
                        let unit = self
                            .map
                            .events
                            .feed_unit
                            .as_deref()
                            .or(heads[column].unit.as_deref());
                        let unit = self
                            .map
                            .channel(&heads[column].name, column)
                            .and_then(|c| c.unit.as_deref())
                            .or(unit);
                        match events::feed(&at, unit) {
                            Ok(event) => reading.events.extend(event),
                            // The same want in every row is told once.
                            Err(problem) if problem.message.contains(NO_UNIT) => {
                                bare += 1;
                                if bare == 1 {
                                    reading.problems.push(problem);
                                }
                            }
                            Err(problem) => reading.problems.push(problem),
                        }
                    }
                    Role::Note if !text.trim().is_empty() => {
                        let event = events::remark(&at, in_notes);
                        if event.mass_kg.is_some() && !told {
                            told = true;
                            reading.decisions.push(Decision::new("feeds", "taken from the remarks", format!("no column of feeds; line {}: \"{}\"", row.line, event.text)).asking("are all weights in the remarks wood that was put in? `feeds_in_notes = false` under [events] says no"));
                        }
                        reading.events.push(event);
                    }
                    Role::Damper | Role::Pump
                        if !text.trim().is_empty() && text != last[column] =>
                    {
                        // The first row tells how it stood, not that somebody moved it.
                        if i > 0 {
                            let kind = if role == Role::Pump {
                                EventKind::Pump
                            } else {
                                EventKind::Damper
                            };
                            let text = format!("{} {}", heads[column].name, text.trim());
                            reading.events.push(Event {
                                kind,
                                time_s,
                                line: row.line,
                                text,
                                mass_kg: None,
                                mass_half_digit_kg: 0.0,
                            });
                        }
                        last[column] = text.to_owned();
                    }
                    _ => {}
                }
            }
        }
        for &(column, role) in &columns {
            if role == Role::Feed && self.mapped_role(&heads[column].name, column).is_none() {
                reading.problems.extend(self.scale_reading(column));
            }
        }
        if bare > 1
            && let Some(p) = reading
                .problems
                .iter_mut()
                .find(|p| p.message.contains(NO_UNIT))
        {
            p.message
                .push_str(&format!(", nor in {} more rows", bare - 1));
        }
        for (i, line) in self.map.feed.iter().enumerate() {
            let at = reading.moment_s(&line.at).map_err(|why| {
                Problem::error(format!("feed {}: {why}", i + 1), "write `at = \"17:05\"`")
            });
            let mass = parse(Kind::Mass, &line.mass)
                .map_err(|e| Problem::error(format!("feed {}: {e}", i + 1), e.help()));
            match (at, mass) {
                (Ok(time_s), Ok(m)) => reading.events.push(Event {
                    kind: EventKind::Feed,
                    time_s,
                    line: 0,
                    text: line.mass.clone(),
                    mass_kg: Some(m.si),
                    mass_half_digit_kg: 0.0,
                }),
                (a, m) => reading
                    .problems
                    .extend([a.err(), m.err()].into_iter().flatten()),
            }
        }
        reading.events.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    }

    /// A weight in nearly every row that only falls, or only rises: what a scale shows, or a sum, and no loads.
    fn scale_reading(&self, column: usize) -> Option<Problem> {
        let shown: Vec<f64> = self
            .rows
            .iter()
            .filter_map(|r| match cell(r.cells.get(column)?, self.comma) {
                Cell::Number(v, _, _) => Some(v),
                _ => None,
            })
            .collect();
        let steps = |up: bool| {
            shown
                .windows(2)
                .all(|w| if up { w[1] >= w[0] } else { w[1] <= w[0] })
        };
        let mut distinct = shown.clone();
        distinct.sort_by(f64::total_cmp);
        distinct.dedup();
        let always = shown.len() >= 10 && 10 * shown.len() >= 9 * self.rows.len();
        let how = match (always && distinct.len() >= 3, steps(false), steps(true)) {
            (true, true, _) => "only falls",
            (true, _, true) => "only rises",
            _ => return None,
        };
        Some(Problem::error(
            format!(
                "column {} has a weight in every row and {how}: that is what a scale shows or a running sum, not the loads",
                self.layout.heads[column].name
            ),
            "write each load in the row where it was put in; or, if these are loads, `as = \"feed\"` in a [[channel]] of the mapping; `as = \"ignore\"` leaves the column out",
        ))
    }

    /// Columns that have a name of their own.
    pub(super) fn named_columns(&self) -> usize {
        self.layout
            .heads
            .iter()
            .rposition(|h| !h.name.starts_with('#'))
            .map_or(0, |i| i + 1)
    }

    pub(super) fn mapped_role(&self, name: &str, index: usize) -> Option<Role> {
        self.map
            .channel(name, index)?
            .role
            .as_deref()
            .and_then(Role::from_word)
    }

    /// A column of text or of masses, by its name or by what its cells hold.
    pub(super) fn text_role(&self, i: usize) -> Option<Role> {
        let guess = self.layout.heads[i].guess;
        if matches!(
            guess,
            Some(Role::Feed | Role::Note | Role::Damper | Role::Pump)
        ) {
            return guess;
        }
        if guess.is_some() {
            return None;
        }
        let (mut masses, mut texts, mut full) = (0, 0, 0);
        for row in self.rows.iter().take(2000) {
            match row.cells.get(i).map(|c| cell(c, self.comma)) {
                Some(Cell::Number(_, rest, _)) => {
                    full += 1;
                    masses +=
                        usize::from(rest.split_whitespace().next().and_then(mass_unit).is_some());
                }
                Some(Cell::Text(_)) => {
                    full += 1;
                    texts += 1;
                }
                _ => {}
            }
        }
        if full > 0 && 2 * masses > full {
            Some(Role::Feed)
        } else if full > 0 && (2 * texts > full || texts > 0 && masses + texts == full) {
            Some(Role::Note)
        } else {
            None
        }
    }
}
