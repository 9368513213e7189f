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
    let body = text.trim();
    if body.is_empty() || body.len() > 48 {
        return None;
    }
    if let super::cell::Cell::Number(v, rest, _) = super::cell::cell(body, decimal_comma) {
        let unit = rest.to_lowercase();
        if unit.is_empty() {
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
    let body = body.replacen('T', " ", 1);
    let (mut date, mut clock_s, mut half) = (None, None, None);
    for word in body
        .split([' ', '\u{a0}', '\u{202f}'])
        .filter(|w| !w.is_empty())
    {
        let word = word.trim_end_matches(',');
        let lower = word.to_lowercase();
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
    let h = whole(parts[0], 47)?;
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
    let at = MONTHS.iter().position(|m| word.starts_with(m))?;
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
