//! Where the table begins, what its columns are called and which of them tells the time.

use super::cell::{Cell, cell};
use super::columns::{Role, role_of, unit_in, unit_word};
use super::foreign::{foreign, is_foreign};
use super::grid::Row;
use super::mapping::{Mapping, is_column};
use super::time::{Stamp, stamp};
use super::{Decision, Problem};

/// One column as far as its head tells.
#[derive(Debug, Clone)]
pub(super) struct Head {
    pub name: String,
    pub unit: Option<String>,
    pub guess: Option<Role>,
}

pub(super) struct Layout {
    pub heads: Vec<Head>,
    /// First row of figures.
    pub first: usize,
    pub time: Option<usize>,
    pub date: Option<usize>,
    /// AM and PM in a column of their own.
    pub half: Option<usize>,
    /// Columns of probe and value in a long log.
    pub long: Option<(usize, usize)>,
}

pub(super) fn find(
    rows: &[Row],
    comma: bool,
    map: &Mapping,
    decisions: &mut Vec<Decision>,
    problems: &mut Vec<Problem>,
) -> Option<Layout> {
    let first = match map.read.header_line {
        Some(0) => 0,
        Some(line) => rows.iter().position(|r| r.line > line)?,
        None => first_of_data(rows, comma)?,
    };
    let width = rows[first..]
        .iter()
        .take(200)
        .map(|r| r.cells.len())
        .max()?;
    // A row of units may stand between names and figures.
    let unit_row = first
        .checked_sub(1)
        .map(|i| &rows[i])
        .filter(|r| is_units(r));
    let units_above = usize::from(unit_row.is_some());
    let head_row = match map.read.header_line {
        Some(0) => None,
        _ => first
            .checked_sub(1 + units_above)
            .map(|i| &rows[i])
            .filter(|r| r.cells.len() >= 2 || width == 1)
            .filter(|r| is_names(r, comma)),
    };
    let heads: Vec<Head> = (0..width)
        .map(|i| {
            let name = head_row.and_then(|r| r.cells.get(i)).map(|c| c.trim());
            let name = name.filter(|n| !n.is_empty());
            let unit = name.and_then(unit_in).or_else(|| {
                let cell = unit_row.and_then(|r| r.cells.get(i))?;
                let cell = cell.trim_matches(['(', ')', '[', ']']).trim();
                unit_word(cell).or_else(|| is_foreign(cell).then(|| cell.to_owned()))
            });
            let strange = foreign(name, unit.as_deref());
            let guess = name.and_then(role_of);
            Head {
                // A draught in pascals is no move of the damper.
                guess: guess.filter(|g| {
                    strange.is_none() || !g.is_water() && !g.is_gas() && *g != Role::Damper
                }),
                name: name.map_or_else(|| format!("#{}", i + 1), str::to_owned),
                unit: unit.or(strange),
            }
        })
        .collect();
    match head_row {
        Some(row) => decisions.push(Decision::new(
            "names",
            format!("line {}", row.line),
            "the row before the first figures",
        )),
        None => decisions.push(Decision::new(
            "names",
            "none",
            "no row of names stands before the figures; columns are #1, #2, …",
        )),
    }
    if let Some(row) = unit_row {
        decisions.push(Decision::new(
            "units",
            format!("line {}", row.line),
            "a row of units beneath the names",
        ));
    }
    let mut layout = Layout {
        heads,
        first,
        time: None,
        date: None,
        half: None,
        long: None,
    };
    times(&mut layout, rows, comma, map, problems);
    layout.long = long_shape(&layout, rows, comma, map, decisions, problems);
    Some(layout)
}

/// The column that the mapping names; a name that fits none is a problem.
fn named(
    layout: &Layout,
    wanted: Option<&str>,
    key: &str,
    problems: &mut Vec<Problem>,
) -> Option<usize> {
    let wanted = wanted?;
    let at = layout
        .heads
        .iter()
        .enumerate()
        .position(|(i, h)| is_column(wanted, &h.name, i));
    if at.is_none() {
        let have: Vec<&str> = layout.heads.iter().map(|h| h.name.as_str()).collect();
        problems.push(Problem::error(
            format!("`{key}` names \"{wanted}\", which is no column of the log"),
            format!("the log has: {}", have.join(", ")),
        ));
    }
    at
}

fn first_of_data(rows: &[Row], comma: bool) -> Option<usize> {
    let stamps = |r: &Row| -> Vec<bool> {
        r.cells
            .iter()
            .map(|c| {
                matches!(
                    stamp(c, comma),
                    Some(Stamp::Written { .. } | Stamp::Zoned(..))
                )
            })
            .collect()
    };
    let numbers = |r: &Row| {
        r.cells
            .iter()
            .filter(|c| matches!(cell(c, comma), Cell::Number(..)))
            .count()
    };
    let n = rows.len();
    let begins = |r: &Row| {
        let first = r.cells.first().map(|c| cell(c, comma));
        r.cells.len() >= 2 && matches!(first, Some(Cell::Number(..)))
    };
    (0..n.min(200))
        .find(|&i| {
            // A broken row may stand among the next ones.
            let next = &rows[i + 1..n.min(i + 5)];
            let most =
                |of: &dyn Fn(&Row) -> bool| 2 * next.iter().filter(|r| of(r)).count() >= next.len();
            let by_stamp = rows[i].cells.len() >= 2
                && stamps(&rows[i])
                    .iter()
                    .enumerate()
                    .any(|(c, s)| *s && most(&|r| stamps(r).get(c).copied().unwrap_or(false)));
            by_stamp || begins(&rows[i]) && most(&begins)
        })
        .or_else(|| {
            // Fewer rows than that, or a table whose time is not in front.
            (0..n).find(|&i| {
                rows[i].cells.len() >= 2
                    && (numbers(&rows[i]) >= 1 && stamps(&rows[i]).contains(&true)
                        || numbers(&rows[i]) >= 2)
            })
        })
}

/// A table whose times run along a line instead of down a column.
pub(super) fn on_its_side(rows: &[Row], comma: bool) -> Option<Problem> {
    let row = rows.iter().take(5).find(|r| {
        let stamps = r.cells.iter().filter(|c| {
            matches!(
                stamp(c, comma),
                Some(Stamp::Written { .. } | Stamp::Zoned(..))
            )
        });
        r.cells.len() >= 4 && stamps.count() + 1 >= r.cells.len()
    })?;
    Some(
        Problem::error(
            "the table lies on its side: times stand along this line instead of down a column",
            "transpose it in a spreadsheet (paste special), so that each line is one reading",
        )
        .at(row.line, None),
    )
}

fn is_units(row: &Row) -> bool {
    let full: Vec<&String> = row.cells.iter().filter(|c| !c.trim().is_empty()).collect();
    let units = full
        .iter()
        .filter(|c| {
            let bare = c.trim_matches(['(', ')', '[', ']']);
            unit_word(bare).is_some()
                || is_foreign(bare)
                || super::time::number_unit(&c.to_lowercase()).is_some()
                || c.contains(':')
                || c.trim() == "-"
        })
        .count();
    !full.is_empty() && units * 4 >= full.len() * 3
}

fn is_names(row: &Row, comma: bool) -> bool {
    let full = row.cells.iter().filter(|c| !c.trim().is_empty());
    let texts = full
        .clone()
        .filter(|c| matches!(cell(c, comma), Cell::Text(_)) && stamp(c, comma).is_none())
        .count();
    2 * texts > full.count()
}

fn times(
    layout: &mut Layout,
    rows: &[Row],
    comma: bool,
    map: &Mapping,
    problems: &mut Vec<Problem>,
) {
    let sample = &rows[layout.first..rows.len().min(layout.first + 200)];
    let count = |column: usize, of: &dyn Fn(&Stamp) -> bool| {
        let cells = sample.iter().filter_map(|r| r.cells.get(column));
        cells
            .filter_map(|c| stamp(c, comma))
            .filter(|s| of(s))
            .count()
    };
    let clock_only = |c| {
        count(c, &|s| {
            matches!(
                s,
                Stamp::Written {
                    date: None,
                    clock_s: Some(_),
                    ..
                }
            )
        })
    };
    let date_only = |c| {
        count(c, &|s| {
            matches!(
                s,
                Stamp::Written {
                    date: Some(_),
                    clock_s: None,
                    ..
                }
            )
        })
    };
    let written = |c| count(c, &|s| !matches!(s, Stamp::Number(_)));
    let n = layout.heads.len();
    layout.time =
        named(layout, map.time.column.as_deref(), "time.column", problems).or_else(|| {
            let titled = |role| (0..n).find(|i| layout.heads[*i].guess == Some(role));
            let best = (0..n)
                .filter(|c| 2 * written(*c) > sample.len() && 2 * date_only(*c) < sample.len())
                .max_by_key(|c| written(*c) * 64 + 63 - (*c).min(63));
            best.or_else(|| titled(Role::Time))
                .or_else(|| titled(Role::Date))
                .or_else(|| {
                    // Bare figures that only rise, in front.
                    let first: Vec<f64> = sample
                        .iter()
                        .filter_map(|r| match cell(r.cells.first()?, comma) {
                            Cell::Number(v, "", _) => Some(v),
                            _ => None,
                        })
                        .collect();
                    (first.len() > 2
                        && first.windows(2).all(|w| w[1] >= w[0])
                        && first.last() > first.first())
                    .then_some(0)
                })
        });
    let halves = |c: usize| {
        let cells = sample.iter().filter_map(|r| r.cells.get(c));
        let is =
            |t: &&String| ["am", "pm", "a.m.", "p.m."].contains(&t.trim().to_lowercase().as_str());
        cells.filter(is).count()
    };
    layout.half = (0..n).find(|c| Some(*c) != layout.time && 10 * halves(*c) > 9 * sample.len());
    layout.date = named(
        layout,
        map.time.date_column.as_deref(),
        "time.date_column",
        problems,
    )
    .or_else(|| {
        let time = layout.time?;
        if 2 * clock_only(time) < sample.len() {
            return None;
        }
        (0..n).find(|c| {
            *c != time
                && date_only(*c) >= 1
                && (layout.heads[*c].guess == Some(Role::Date) || 2 * date_only(*c) > sample.len())
        })
    });
}

/// Decimal commas in a table whose cells commas part: each figure then takes two cells.
pub(super) fn comma_for_both(
    layout: &Layout,
    rows: &[Row],
    decisions: &[Decision],
) -> Option<Problem> {
    let by_comma = decisions
        .iter()
        .any(|d| d.about == "delimiter" && d.taken == "comma");
    let named = layout
        .heads
        .iter()
        .take_while(|h| !h.name.starts_with('#'))
        .count();
    if !by_comma || named < 2 {
        return None;
    }
    let body = &rows[layout.first..];
    let whole = |c: &String| {
        !c.is_empty()
            && c.trim_start_matches('-')
                .bytes()
                .all(|b| b.is_ascii_digit())
    };
    let split = |r: &Row| r.cells.len() == 2 * named - 1 && r.cells[1..].iter().all(whole);
    let (first, n) = (
        body.iter().find(|r| split(r))?,
        body.iter().filter(|r| split(r)).count(),
    );
    (2 * n > body.len()).then(|| {
        Problem::error(
            format!(
                "{named} columns have names, but the rows hold {} cells: the figures seem to have a decimal comma, and commas part the cells too",
                2 * named - 1
            ),
            "export the log with semicolons or tabs between the cells, with a decimal point, or with quotes about the figures",
        )
        .at(first.line, None)
    })
}

fn long_shape(
    layout: &Layout,
    rows: &[Row],
    comma: bool,
    map: &Mapping,
    decisions: &mut Vec<Decision>,
    problems: &mut Vec<Problem>,
) -> Option<(usize, usize)> {
    let n = layout.heads.len();
    if map
        .read
        .shape
        .as_deref()
        .is_some_and(|s| s.trim() == "wide")
    {
        return None;
    }
    if let (Some(p), Some(v)) = (&map.read.probe_column, &map.read.value_column) {
        let p = named(layout, Some(p), "read.probe_column", problems);
        let v = named(layout, Some(v), "read.value_column", problems);
        return p.zip(v);
    }
    let other = |c: &usize| ![layout.time, layout.date, layout.half].contains(&Some(*c));
    let body = &rows[layout.first..];
    let sample = &body[..body.len().min(400)];
    let count = |c: usize, of: &dyn Fn(Cell) -> bool| {
        sample
            .iter()
            .filter_map(|r| r.cells.get(c))
            .filter(|t| of(cell(t, comma)))
            .count()
    };
    let numbers: Vec<usize> = (0..n)
        .filter(other)
        .filter(|c| 2 * count(*c, &|k| matches!(k, Cell::Number(..))) > sample.len())
        .collect();
    let texts: Vec<usize> = (0..n)
        .filter(other)
        .filter(|c| 10 * count(*c, &|k| matches!(k, Cell::Text(_))) > 9 * sample.len())
        .collect();
    let (&value, &probe) = (numbers.first()?, texts.first()?);
    if numbers.len() > 2 || sample.len() < 6 {
        return None;
    }
    let mut names: Vec<&str> = sample
        .iter()
        .filter_map(|r| r.cells.get(probe))
        .map(String::as_str)
        .collect();
    names.sort_unstable();
    // Probes come again and again; a remark that stands once is none.
    let mut often: Vec<usize> = names.chunk_by(|a, b| a == b).map(<[_]>::len).collect();
    often.sort_unstable_by(|a, b| b.cmp(a));
    if often.get(1).is_none_or(|n| *n < 3 || 20 * n < sample.len()) {
        return None;
    }
    names.dedup();
    let titled = layout.heads[probe].guess == Some(Role::Probe)
        || layout.heads[value].guess == Some(Role::Value);
    let few = 4 * names.len() <= sample.len() && names.len() >= 2;
    (few && (titled || layout.heads[probe].guess != Some(Role::Note))).then(|| {
        decisions.push(Decision::new(
            "shape",
            "long",
            format!(
                "one reading a row; {} names in column {}",
                names.len(),
                layout.heads[probe].name
            ),
        ));
        (probe, value)
    })
}
