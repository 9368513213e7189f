//! What each channel measures and in which unit: by mapping, name, neighbours or evidence; otherwise asked.

use super::super::columns::{Role, role_of, unit_word};
use super::super::foreign::foreign;
use super::super::{Decision, Problem, role_words};
use super::{Raw, Reading, Table};
use crate::units::{Kind, parse};

impl Table<'_> {
    pub(super) fn roles(&self, raws: &mut [Raw], reading: &mut Reading) {
        for raw in raws.iter_mut() {
            let map = self.map.channel(&raw.name, raw.column);
            if let Some(map) = map {
                if let Some(word) = &map.role {
                    match Role::from_word(word) {
                        Some(role) => {
                            raw.role = role;
                            raw.asked = true;
                        }
                        None => reading.problems.push(Problem::error(
                            format!("[[channel]] \"{}\": `as` is \"{word}\"", map.column),
                            format!("write one of: {}", role_words().join(", ")),
                        )),
                    }
                }
                if let Some(unit) = &map.unit {
                    raw.unit = Some(unit_word(unit).unwrap_or_else(|| unit.clone()));
                }
                let mut difference = |text: &Option<String>, key: &str| {
                    text.as_deref()
                        .and_then(|t| match parse(Kind::TemperatureDifference, t) {
                            Ok(p) => Some(p.si),
                            Err(e) => {
                                reading.problems.push(Problem::error(
                                    format!("[[channel]] \"{}\": `{key}`: {e}", map.column),
                                    e.help(),
                                ));
                                None
                            }
                        })
                };
                raw.offset = difference(&map.offset, "offset").unwrap_or(0.0);
                raw.uncertainty = difference(&map.uncertainty, "uncertainty");
                match map.readings {
                    Some(n) if n < 2 || map.uncertainty.is_none() => {
                        reading.problems.push(Problem::error(
                            format!("[[channel]] \"{}\": `readings` is {n}", map.column),
                            "it is the number of repeated readings, two or more, that a stated `uncertainty` comes from",
                        ));
                    }
                    n => raw.freedom = n.map(|n| f64::from(n - 1)),
                }
            }
            let strange = foreign(Some(&raw.name), raw.unit.as_deref());
            if let (false, Some(what)) = (raw.asked, strange)
                && map.is_none_or(|m| m.unit.is_none())
            {
                raw.role = Role::Ignore;
                reading.decisions.push(Decision::new(
                    format!("column {}", raw.name),
                    "left out",
                    format!("{what} is no temperature, share of gas, flow or weight"),
                ));
                continue;
            }
            if !raw.asked
                && let Some(role) =
                    role_of(&raw.name).filter(|r| r.kind().is_some() && *r != Role::Feed)
            {
                raw.role = role;
                reading.decisions.push(Decision::new(
                    format!("column {}", raw.name),
                    role.word(),
                    "by its name",
                ));
            }
        }
        // A log with one nameless temperature: that of the water, if it stays below boiling.
        let tank = raws.iter().any(|r| r.role.is_tank());
        let mut nameless: Vec<&mut Raw> = raws
            .iter_mut()
            .filter(|r| r.role == Role::Other && !r.asked)
            .collect();
        if let ([only], false) = (&mut nameless[..], tank) {
            let mut sorted: Vec<f64> = only.readings.iter().map(|r| r.1).collect();
            sorted.sort_by(f64::total_cmp);
            let high = sorted[(sorted.len() - 1) * 19 / 20];
            if high < 215.0 {
                only.role = Role::Tank;
                reading.decisions.push(
                    Decision::new(
                        format!("column {}", only.name),
                        "tank",
                        "it is the only temperature without a telling name and stays below boiling",
                    )
                    .asking(format!(
                        "is {} the water in the tank? `as` in its [[channel]] says what it is",
                        only.name
                    )),
                );
            }
        } else if !nameless.is_empty() {
            for raw in nameless {
                reading.decisions.push(
                    Decision::new(
                        format!("column {}", raw.name),
                        "not known",
                        "its name says nothing",
                    )
                    .asking(format!(
                        "what does {} measure? {}",
                        raw.name,
                        role_words_short()
                    )),
                );
            }
        }
    }

    /// °C or °F, decided only where something says so.
    pub(super) fn units(&self, raws: &mut [Raw], reading: &mut Reading) {
        let temperature = |r: &Raw| r.role.kind() == Some(Kind::Temperature);
        let stated = raws
            .iter()
            .filter(|r| temperature(r))
            .find_map(|r| r.unit.clone());
        let evidence = || {
            for raw in raws.iter().filter(|r| r.role.is_water()) {
                let mut sorted: Vec<f64> = raw
                    .readings
                    .iter()
                    .map(|r| r.1)
                    .filter(|v| (-50.0..250.0).contains(v) && *v != 85.0 && *v != 0.0)
                    .collect();
                sorted.sort_by(f64::total_cmp);
                let (Some(low), Some(high)) = (
                    sorted.get(sorted.len() / 20),
                    sorted.get((sorted.len().max(1) - 1) * 19 / 20),
                ) else {
                    continue;
                };
                if *high > 110.0 {
                    return Some((
                        "degF",
                        format!("{} reaches {high:.0}, which water does not in °C", raw.name),
                    ));
                }
                if *low < 31.0 {
                    return Some((
                        "degC",
                        format!("{} begins at {low:.0}, which would be ice in °F", raw.name),
                    ));
                }
            }
            None
        };
        let found = match &stated {
            Some(unit) => Some((
                unit.clone(),
                "the other temperatures of the log are in it".to_owned(),
            )),
            None => evidence().map(|(u, why)| (u.to_owned(), why)),
        };
        let mut asked: Vec<String> = Vec::new();
        for raw in raws.iter_mut().filter(|r| r.role != Role::Ignore) {
            if raw.unit.is_some() {
                continue;
            }
            match raw.role.kind() {
                Some(Kind::Temperature) => match &found {
                    Some((unit, why)) => {
                        raw.unit = Some(unit.clone());
                        reading.decisions.push(Decision::new(
                            format!("unit of {}", raw.name),
                            unit.clone(),
                            why.clone(),
                        ));
                    }
                    None => asked.push(raw.name.clone()),
                },
                Some(Kind::Fraction) => raw.unit = Some("%".into()),
                Some(kind) => {
                    let example = if kind == Kind::VolumeFlow {
                        "L/min"
                    } else {
                        "kg"
                    };
                    reading.problems.push(Problem::error(format!("column {} has no unit", raw.name), format!("write `unit = \"{example}\"` in its [[channel]], or put it into the column's name")));
                }
                None => {}
            }
        }
        if !asked.is_empty() {
            let names = asked.join(", ");
            let question = format!("are the temperatures in °C or in °F? ({names})");
            reading.decisions.push(
                Decision::new(
                    "unit of temperatures",
                    "not known",
                    "the figures fit either",
                )
                .asking(question.clone()),
            );
            reading.problems.push(Problem::error(question, "put (C) or (F) into the columns' names, or write `unit = \"degF\"` in a [[channel]] of the mapping"));
        }
    }
}

fn role_words_short() -> &'static str {
    "write `as = \"tank_top\"` (tank, tank_middle, tank_bottom, coil_in, coil_out, flue, ambient, other, …) in a [[channel]] of the mapping"
}
