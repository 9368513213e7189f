//! Acts and remarks: loads of wood, the match, damper and pump.

use super::cell::{Cell, cell, mass_in, mass_unit};
use super::{Event, EventKind, Problem};

const NOT_FED: [&str; 10] = [
    "ash",
    "ashes",
    "left",
    "char",
    "coals",
    "unburnt",
    "unburned",
    "remaining",
    "out",
    "bucket",
];

pub(super) struct Stand<'a> {
    pub time_s: f64,
    pub line: usize,
    pub column: usize,
    pub text: &'a str,
    pub decimal_comma: bool,
}

/// A cell of the feed column; `unit` is that of the column. `Ok(None)`: nothing was fed.
pub(super) fn feed(at: &Stand, unit: Option<&str>) -> Result<Option<Event>, Problem> {
    let made = |kg: f64, half: f64| {
        (kg > 0.0).then(|| Event {
            kind: EventKind::Feed,
            time_s: at.time_s,
            line: at.line,
            text: at.text.trim().to_owned(),
            mass_kg: Some(kg),
            mass_half_digit_kg: half,
        })
    };
    match cell(at.text, at.decimal_comma) {
        Cell::Empty | Cell::Missing => Ok(None),
        Cell::Number(v, rest, decimals) => {
            let word = rest.split_whitespace().next().unwrap_or("");
            let Some(one) = mass_unit(word).or_else(|| unit.and_then(mass_unit)) else {
                return match v == 0.0 {
                    true => Ok(None),
                    false => Err(Problem::error(
                        format!("\"{}\" {}", at.text.trim(), super::read::NO_UNIT),
                        "put kg or lb into the column's name, or write `feed_unit = \"kg\"` under [events] of the mapping",
                    )
                    .at(at.line, Some(at.column))),
                };
            };
            if v < 0.0 {
                return Err(Problem::error(
                    format!("a load of \"{}\" is less than nothing", at.text.trim()),
                    "loads are weights of wood put in",
                )
                .at(at.line, Some(at.column)));
            }
            Ok(made(v * one, 0.5 * one * 10f64.powi(-i32::from(decimals))))
        }
        Cell::Text(text) => match mass_in(text, at.decimal_comma) {
            Some((kg, half)) => Ok(made(kg, half)),
            None => Ok(Some(remark(at, false))),
        },
    }
}

/// A remark; with `feeds`, a mass in it is a load unless the words say that it was taken out.
pub(super) fn remark(at: &Stand, feeds: bool) -> Event {
    let lower = at.text.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    let has = |list: &[&str]| words.iter().any(|w| list.contains(w));
    let mass = mass_in(at.text, at.decimal_comma).filter(|_| feeds && !has(&NOT_FED));
    let kind = if mass.is_some() && !has(&["lit", "light", "lighting", "ignition", "match"]) {
        EventKind::Feed
    } else if has(&["lit", "light", "lighting", "ignition", "match", "kindled"]) {
        EventKind::Lit
    } else if has(&["pump", "circulator"]) {
        EventKind::Pump
    } else if has(&["damper", "choke", "choked", "inlet", "flap"]) {
        EventKind::Damper
    } else {
        EventKind::Note
    };
    let (mass_kg, half) = mass.map_or((None, 0.0), |(kg, half)| (Some(kg), half));
    Event {
        kind,
        time_s: at.time_s,
        line: at.line,
        text: at.text.trim().to_owned(),
        mass_kg,
        mass_half_digit_kg: half,
    }
}
