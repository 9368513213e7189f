//! Stamps as they are written: dates in any order, clocks with or without halves of the day, bare numbers.

use jiff::civil::Date;
use jiff::{Timestamp, Unit, civil};

/// One stamp, as far as the cell itself tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stamp {
    Number(f64),
    Written {
        date: Option<DateParts>,
        /// Seconds since midnight, as written.
        clock_s: Option<f64>,
        half: Option<Half>,
    },
    /// With its offset from UTC: UTC seconds since 1970, and the offset in seconds.
    Zoned(f64, f64),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Half {
    Am,
    Pm,
}

/// Three numbers of a date in the order in which they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct DateParts {
    pub parts: [u32; 3],
    /// The first has four digits: year, month, day.
    pub year_first: bool,
    /// Between the parts.
    pub mark: char,
}

/// Order of the two first numbers of a date with the year at its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    DayFirst,
    MonthFirst,
}

impl DateParts {
    /// Days since 1970-01-01; `None` where there is no such day.
    pub fn day(&self, order: Order) -> Option<i64> {
        let [a, b, c] = self.parts;
        let (y, m, d) = match (self.year_first, order) {
            (true, _) => (a, b, c),
            (false, Order::DayFirst) => (c, b, a),
            (false, Order::MonthFirst) => (c, a, b),
        };
        let y = if y < 100 { 2000 + y } else { y };
        let date = Date::new(
            i16::try_from(y).ok()?,
            i8::try_from(m).ok()?,
            i8::try_from(d).ok()?,
        )
        .ok()?;
        let span = civil::date(1970, 1, 1).until((Unit::Day, date)).ok()?;
        Some(i64::from(span.get_days()))
    }
}

/// Reads a stamp; `None` where the text is none.
pub(super) fn stamp(text: &str, decimal_comma: bool) -> Option<Stamp> {
    let body = text.trim().trim_end_matches(':').trim_start_matches('+');
    if body.is_empty() || body.len() > 48 {
        return None;
    }
    // "3:05 p. m." of Spanish spreadsheets.
    let joined = body.to_lowercase().replace('\u{a0}', " ");
    for (written, plain) in [("a. m.", "am"), ("p. m.", "pm")] {
        if let Some(head) = joined.strip_suffix(written) {
            return stamp(&format!("{head}{plain}"), decimal_comma);
        }
    }
    // "0 days 00:05:00"
    if let Some((days, rest)) = joined
        .split_once("days ")
        .or_else(|| joined.split_once("day "))
        && let (
            Ok(days),
            Some(Stamp::Written {
                date: None,
                clock_s: Some(s),
                half,
            }),
        ) = (days.trim().parse::<u32>(), stamp(rest, decimal_comma))
    {
        return Some(Stamp::Written {
            date: None,
            clock_s: Some(s + 86_400.0 * f64::from(days)),
            half,
        });
    }
    if let super::cell::Cell::Number(v, rest, _) = super::cell::cell(body, decimal_comma) {
        let unit = rest.to_lowercase();
        let digits = body.len() == 14 || body.len() == 12;
        if unit.is_empty() && !(digits && unmarked_date(body).is_some()) {
            return Some(Stamp::Number(v));
        }
        // "90 min": the unit stands with the figure. "5 pm" is a clock.
        if number_unit(&unit).is_some() {
            return Some(Stamp::Number(v));
        }
    }
    if (body.contains('T') || body.ends_with('Z') || body.contains('+'))
        && let Ok(at) = body.replacen(' ', "T", 1).parse::<Timestamp>()
    {
        let offset = offset_s(body);
        return Some(Stamp::Zoned(at.as_millisecond() as f64 / 1e3, offset));
    }
    if let Some(s) = duration(body) {
        return Some(Stamp::Written {
            date: None,
            clock_s: Some(s),
            half: None,
        });
    }
    let body = apart(body);
    let body = in_letters(&body).unwrap_or(body);
    let (mut date, mut clock_s, mut half) = (None, None, None);
    for word in body
        .split([' ', '\u{a0}', '\u{202f}'])
        .filter(|w| !w.is_empty())
    {
        let word = word.trim_end_matches(',');
        let lower = word.to_lowercase();
        if ASIDE.contains(&lower.trim_end_matches('.')) {
            continue;
        }
        if date.is_none()
            && let Some((d, rest)) = unmarked_date(word)
        {
            date = Some(d);
            if !rest.is_empty() {
                clock_s = Some(unmarked_clock(rest)?);
            }
            continue;
        }
        if date.is_some()
            && clock_s.is_none()
            && let Some(s) = unmarked_clock(word)
        {
            clock_s = Some(s);
            continue;
        }
        let (bare, marked) = split_half(&lower);
        if let Some(h) = marked {
            half = Some(h);
            if bare.is_empty() {
                continue;
            }
        }
        if clock_s.is_none() && (bare.contains(':') || (marked.is_some() && !bare.is_empty())) {
            clock_s = Some(clock(bare)?);
        } else if date.is_none()
            && let Some(d) = date_parts(word)
        {
            date = Some(d);
        } else if clock_s.is_none()
            && let Some(s) = clock_with_h(bare)
        {
            clock_s = Some(s);
        } else {
            return None;
        }
    }
    // "5 pm": the hour and its half are two words.
    if half.is_some() && clock_s.is_none() {
        let hour = body.split_whitespace().next()?;
        clock_s = Some(clock(hour)?);
    }
    (date.is_some() || clock_s.is_some()).then_some(Stamp::Written {
        date,
        clock_s,
        half,
    })
}

/// Words beside a stamp that tell nothing of it here: zones, which all rows share, days of the week, "o'clock".
const ASIDE: [&str; 37] = [
    "utc",
    "gmt",
    "cet",
    "cest",
    "bst",
    "est",
    "edt",
    "cst",
    "cdt",
    "mst",
    "mdt",
    "pst",
    "pdt",
    "mez",
    "mesz",
    "uhr",
    "klo",
    "kl",
    "mon",
    "tue",
    "wed",
    "thu",
    "fri",
    "sat",
    "sun",
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "sa",
    "so",
    "mo",
    "mi",
    "fr",
];

/// The T between date and clock made a blank; that of UTC stays.
fn apart(text: &str) -> String {
    let b = text.as_bytes();
    let between = |i: usize| {
        i > 0 && b[i - 1].is_ascii_digit() && b.get(i + 1).is_some_and(u8::is_ascii_digit)
    };
    match text.char_indices().find(|(i, c)| *c == 'T' && between(*i)) {
        Some((i, _)) => format!("{} {}", &text[..i], &text[i + 1..]),
        None => text.to_owned(),
    }
}

/// "1h05min", "1 h 5 min 30 s", "95m 10s": hours, minutes, seconds in this order, two of them at least.
fn duration(text: &str) -> Option<f64> {
    let (mut rest, mut total, mut last, mut parts) = (text.trim(), 0.0, f64::INFINITY, 0);
    while !rest.is_empty() {
        let end = rest.find(|c: char| !c.is_ascii_digit())?;
        let value: f64 = rest[..end].parse().ok()?;
        rest = rest[end..].trim_start();
        let end = rest
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(rest.len());
        let one = number_unit(&rest[..end].to_lowercase()).filter(|u| *u < last)?;
        total += value * one;
        last = one;
        parts += 1;
        rest = rest[end..].trim_start_matches([' ', '.', ',']);
    }
    (parts >= 2).then_some(total)
}

/// "7 Mar 2026 23:00", "Mar 7, 2026 11:00 PM" with the date's three words made one.
fn in_letters(text: &str) -> Option<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let at = words.iter().position(|w| {
        w.len() >= 3 && w.chars().all(|c| c.is_alphabetic() || c == '.') && month(w).is_some()
    })?;
    let number = |i: usize| {
        let w = words.get(i)?.trim_end_matches([',', '.']);
        (!w.is_empty() && w.len() <= 4 && w.bytes().all(|b| b.is_ascii_digit())).then_some(w)
    };
    let m = month(words[at])?;
    let (day, year, from, to) = match at.checked_sub(1).and_then(number) {
        Some(day) => (day, number(at + 1)?, at - 1, at + 2),
        None => (number(at + 1)?, number(at + 2)?, at, at + 3),
    };
    let mut out = words[..from].join(" ");
    // Written with points it is day first.
    out.push_str(&format!(" {day}.{m}.{year} "));
    out.push_str(&words[to..].join(" "));
    Some(out.trim().to_owned())
}

/// "20260307" and what follows it.
fn unmarked_date(word: &str) -> Option<(DateParts, &str)> {
    if ![8, 12, 14].contains(&word.len()) || !word.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let part = |r: std::ops::Range<usize>| word[r].parse::<u32>().ok();
    let parts = [part(0..4)?, part(4..6)?, part(6..8)?];
    let sound = (1970..2100).contains(&parts[0])
        && (1..=12).contains(&parts[1])
        && (1..=31).contains(&parts[2]);
    sound.then_some((
        DateParts {
            parts,
            year_first: true,
            mark: '-',
        },
        &word[8..],
    ))
}

/// "230500", "2305" after a date.
fn unmarked_clock(word: &str) -> Option<f64> {
    if ![4, 6].contains(&word.len()) || !word.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let seconds = if word.len() == 6 { &word[4..] } else { "00" };
    clock(&format!("{}:{}:{seconds}", &word[..2], &word[2..4]))
}

/// Seconds in one unit of time as it stands in a name or beside a figure.
pub(super) fn number_unit(unit: &str) -> Option<f64> {
    match unit.trim().trim_end_matches('.') {
        "ms" | "msec" | "millis" | "milliseconds" => Some(1e-3),
        "s" | "sec" | "secs" | "second" | "seconds" | "sek" => Some(1.0),
        "min" | "mins" | "minute" | "minutes" | "m" => Some(60.0),
        "h" | "hr" | "hrs" | "hour" | "hours" | "std" => Some(3600.0),
        "d" | "day" | "days" => Some(86_400.0),
        _ => None,
    }
}

fn split_half(word: &str) -> (&str, Option<Half>) {
    for (end, half) in [
        ("a.m.", Half::Am),
        ("p.m.", Half::Pm),
        ("am", Half::Am),
        ("pm", Half::Pm),
    ] {
        if let Some(bare) = word.strip_suffix(end) {
            return (bare, Some(half));
        }
    }
    (word, None)
}

/// "14:05", "14:05:30.25", "14".
fn clock(text: &str) -> Option<f64> {
    let parts: Vec<&str> = text.split(':').collect();
    if parts.len() > 3 {
        return None;
    }
    let whole = |t: &str, most: u32| t.parse::<u32>().ok().filter(|v| *v <= most);
    // Two parts may be minutes and seconds; the whole column tells.
    let h = whole(parts[0], if parts.len() == 2 { 9999 } else { 47 })?;
    let m = match parts.get(1) {
        Some(m) => whole(m, 59)?,
        None => 0,
    };
    let s = match parts.get(2) {
        Some(s) => {
            let s: f64 = s.replace(',', ".").parse().ok()?;
            (0.0..61.0).contains(&s).then_some(s)?
        }
        None => 0.0,
    };
    Some(f64::from(h * 3600 + m * 60) + s)
}

/// "14h05", "14h", "14.05 Uhr" without its word is a number and not read here.
fn clock_with_h(text: &str) -> Option<f64> {
    let (h, m) = text.split_once('h')?;
    let m = if m.is_empty() { "0" } else { m };
    clock(&format!("{h}:{m}"))
}

fn date_parts(word: &str) -> Option<DateParts> {
    let mark = word.chars().find(|c| "-/.".contains(*c))?;
    let pieces: Vec<&str> = word.trim_end_matches('.').split(mark).collect();
    if pieces.len() != 3 {
        return None;
    }
    let mut parts = [0u32; 3];
    for (part, piece) in parts.iter_mut().zip(&pieces) {
        *part = piece.parse().ok().or_else(|| month(piece))?;
    }
    Some(DateParts {
        parts,
        year_first: pieces[0].len() == 4,
        mark,
    })
}

fn month(word: &str) -> Option<u32> {
    const MONTHS: [&str; 12] = [
        "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
    ];
    let word = word.to_lowercase();
    let other = [("mär", 2), ("mrz", 2), ("mai", 4), ("okt", 9), ("dez", 11)];
    let at = MONTHS
        .iter()
        .position(|m| word.starts_with(m))
        .or_else(|| {
            other
                .iter()
                .find(|(m, _)| word.starts_with(m))
                .map(|(_, i)| *i)
        })?;
    Some(at as u32 + 1)
}

/// Offset from UTC at the end of an ISO stamp.
fn offset_s(text: &str) -> f64 {
    let Some(at) = text.rfind(['+', '-']).filter(|at| *at > 10) else {
        return 0.0;
    };
    let sign = if text[at..].starts_with('-') {
        -1.0
    } else {
        1.0
    };
    let digits: String = text[at + 1..]
        .chars()
        .filter(char::is_ascii_digit)
        .collect();
    let number = |r: std::ops::Range<usize>| {
        digits
            .get(r)
            .and_then(|d| d.parse::<f64>().ok())
            .unwrap_or(0.0)
    };
    sign * (3600.0 * number(0..2) + 60.0 * number(2..4))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(text: &str) -> (Option<[u32; 3]>, Option<f64>, Option<Half>) {
        match stamp(text, false) {
            Some(Stamp::Written {
                date,
                clock_s,
                half,
            }) => (date.map(|d| d.parts), clock_s, half),
            _ => (None, None, None),
        }
    }

    #[test]
    fn behaves_stamps_are_read_as_people_write_them() {
        let s = 14.0 * 3600.0 + 300.0;
        assert_eq!(written("14:05"), (None, Some(s), None));
        assert_eq!(written("14h05"), (None, Some(s), None));
        assert_eq!(
            written("2:05 PM"),
            (None, Some(s - 43_200.0), Some(Half::Pm))
        );
        assert_eq!(
            written("2:05pm"),
            (None, Some(s - 43_200.0), Some(Half::Pm))
        );
        assert_eq!(
            written("03/04/2026 02:05:00 PM"),
            (Some([3, 4, 2026]), Some(s - 43_200.0), Some(Half::Pm))
        );
        assert_eq!(
            written("3.4.2026 14:05"),
            (Some([3, 4, 2026]), Some(s), None)
        );
        assert_eq!(
            written("2026-04-03T14:05:00"),
            (Some([2026, 4, 3]), Some(s), None)
        );
        assert_eq!(written("4-Mar-26"), (Some([4, 3, 26]), None, None));
        assert_eq!(
            stamp("1775222100", false),
            Some(Stamp::Number(1_775_222_100.0))
        );
        assert_eq!(
            stamp("2026-04-03T14:05:00+02:00", false),
            Some(Stamp::Zoned(1_775_217_900.0, 7200.0))
        );
        for text in ["", "lit", "25:99", "65.2 °C hot", "1/2"] {
            assert_eq!(written(text), (None, None, None), "{text}");
        }
    }

    #[test]
    fn analytic_days_count_from_1970() {
        // 2026-04-03 is day 20546: 56 years and 14 leap days to 1 January 2026 (20454), then 92.
        let parts = |parts, year_first| DateParts {
            parts,
            year_first,
            mark: '/',
        };
        assert_eq!(
            parts([2026, 4, 3], true).day(Order::MonthFirst),
            Some(20_546)
        );
        assert_eq!(parts([3, 4, 26], false).day(Order::DayFirst), Some(20_546));
        assert_eq!(
            parts([4, 3, 2026], false).day(Order::MonthFirst),
            Some(20_546)
        );
        assert_eq!(parts([13, 13, 2026], false).day(Order::DayFirst), None);
    }
}
