//! Text to rows of cells: which mark parts the cells is found from the text itself.

use super::{Decision, Problem};

/// A row with the line on which it starts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub line: usize,
    pub cells: Vec<String>,
}

const MARKS: [(u8, &str); 4] = [
    (b'\t', "tab"),
    (b';', "semicolon"),
    (b'|', "bar"),
    (b',', "comma"),
];

/// Splits the text into rows, blank ones left out.
pub(super) fn rows(text: &str, forced: Option<&str>) -> Result<(Vec<Row>, Decision), Problem> {
    let (mark, name, reason) = match forced.map(str::trim) {
        None => sniff(text),
        Some("space" | "spaces" | "blank") => (None, "spaces", "the mapping says so".to_owned()),
        Some(word) => {
            let byte = match word {
                "tab" | "\\t" | "" => Some(b'\t'),
                "comma" => Some(b','),
                "semicolon" => Some(b';'),
                "bar" => Some(b'|'),
                w if w.len() == 1 && w.is_ascii() => Some(w.as_bytes()[0]),
                _ => None,
            };
            match byte {
                Some(byte) => (Some(byte), "as mapped", "the mapping says so".to_owned()),
                None => {
                    return Err(Problem::error(
                        format!("`read.delimiter` is \"{word}\", which is no delimiter"),
                        "write one character, or tab, comma, semicolon, bar, spaces",
                    ));
                }
            }
        }
    };
    let rows = match mark {
        Some(mark) => {
            let rows = split(text, mark, true);
            // A stray quote at the start of a note would swallow the lines after it.
            match rows
                .iter()
                .any(|r| r.cells.iter().any(|c| c.matches('\n').count() > 2))
            {
                true => split(text, mark, false),
                false => rows,
            }
        }
        None => by_spaces(text),
    };
    Ok((rows, Decision::new("delimiter", name, reason)))
}

fn split(text: &str, mark: u8, quoting: bool) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(mark)
        .has_headers(false)
        .flexible(true)
        .quoting(quoting)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    let mut record = csv::StringRecord::new();
    // The text is valid UTF-8 and rows may differ in length: nothing is left that could fail but the memory.
    while let Ok(true) = reader.read_record(&mut record) {
        if record.iter().all(str::is_empty) || is_rule(&record) {
            continue;
        }
        rows.push(Row {
            line: record.position().map_or(0, |p| p.line() as usize),
            cells: record.iter().map(|c| bare(c).to_owned()).collect(),
        });
    }
    rows
}

/// A drawn line beneath the names, as in tables of notes: `|---|:--:|`.
fn is_rule(record: &csv::StringRecord) -> bool {
    let mut cells = record.iter().filter(|c| !c.is_empty()).peekable();
    cells.peek().is_some() && cells.all(|c| c.len() >= 3 && c.chars().all(|c| "-=:+".contains(c)))
}

/// A cell without what a spreadsheet puts about text: `'14:00`, `="14:00"`.
fn bare(cell: &str) -> &str {
    match cell.strip_prefix("=\"").and_then(|c| c.strip_suffix('"')) {
        Some(inner) => inner,
        None => match cell.strip_prefix('\'') {
            Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => rest,
            _ => cell,
        },
    }
}

/// Two blanks part cells; where there are none, single ones do as long as cells are short figures: the rest of a
/// hand-written line is its remark.
fn by_spaces(text: &str) -> Vec<Row> {
    let mut rows = Vec::new();
    for (i, line) in text.lines().enumerate() {
        let body = line.trim();
        if body.is_empty() {
            continue;
        }
        let wide: Vec<String> = body
            .replace('\t', "  ")
            .replace(" - ", "  ")
            .replace(" – ", "  ")
            .split("  ")
            .map(|c| c.trim().to_owned())
            .filter(|c| !c.is_empty())
            .collect();
        let cells = if wide.len() > 1 { wide } else { words(body) };
        rows.push(Row { line: i + 1, cells });
    }
    rows
}

fn words(body: &str) -> Vec<String> {
    let mut cells: Vec<String> = Vec::new();
    let all: Vec<&str> = body.split_whitespace().collect();
    for (i, word) in all.iter().enumerate() {
        let half_day = ["am", "pm", "a.m.", "p.m."].contains(&word.to_lowercase().as_str());
        let begun = cells.len();
        match cells.last_mut() {
            Some(last) if half_day => {
                last.push(' ');
                last.push_str(word);
            }
            // A weight and all behind it is a remark: "4 lb at the back".
            _ if begun > 1
                && super::cell::mass_in(&all[i..all.len().min(i + 2)].join(" "), true)
                    .is_some() =>
            {
                cells.push(all[i..].join(" "));
                break;
            }
            _ if i > 0 && !word.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c)) => {
                cells.push(all[i..].join(" "));
                break;
            }
            _ => cells.push((*word).to_owned()),
        }
    }
    cells
}

fn sniff(text: &str) -> (Option<u8>, &'static str, String) {
    let lines: Vec<&str> = text
        .lines()
        .filter(|l| !l.trim().is_empty())
        .take(400)
        .collect();
    // What stands above the table and what is written below it may look otherwise.
    let from = (lines.len() / 4).min(20);
    let body = &lines[from.min(lines.len())..];
    let mut best: Option<(f64, u8, &'static str, usize)> = None;
    // "14:05 10,2 250": the comma stands within figures that blanks part.
    let figure = |w: &str| {
        w.split_once(',').is_some_and(|(a, b)| {
            let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
            digits(a.trim_start_matches(['-', '+'])) && digits(b)
        })
    };
    let words = || body.iter().flat_map(|l| l.split_whitespace());
    let decimal = words().any(figure) && words().filter(|w| w.contains(',')).all(figure);
    let blanks = body.iter().all(|l| l.split_whitespace().count() > 1);
    for (mark, name) in MARKS {
        if mark == b',' && decimal && blanks {
            continue;
        }
        let counts: Vec<usize> = body
            .iter()
            .map(|l| l.bytes().filter(|b| *b == mark).count())
            .collect();
        let Some(common) = most_common(counts.iter().copied().filter(|c| *c > 0)) else {
            continue;
        };
        // Longer lines are remarks with commas in them.
        let fits = counts.iter().filter(|c| **c >= common).count();
        let share = fits as f64 / body.len().max(1) as f64;
        // A comma may be a decimal one: any other mark that fits nearly as well comes first.
        let score = if mark == b',' { share - 0.25 } else { share };
        if share >= 0.5 && best.is_none_or(|b| score > b.0 + 1e-9) {
            best = Some((score, mark, name, common));
        }
    }
    match best {
        Some((_, mark, name, common)) => (
            Some(mark),
            name,
            format!("most lines hold {common} or more of them"),
        ),
        None => (
            None,
            "spaces",
            "no tab, semicolon, bar or comma stands in most lines".to_owned(),
        ),
    }
}

fn most_common(values: impl Iterator<Item = usize>) -> Option<usize> {
    let mut sorted: Vec<usize> = values.collect();
    sorted.sort_unstable();
    let mut best: Option<(usize, usize)> = None;
    for run in sorted.chunk_by(|a, b| a == b) {
        if best.is_none_or(|(n, _)| run.len() > n) {
            best = Some((run.len(), run[0]));
        }
    }
    best.map(|(_, v)| v)
}
