//! One cell: a number with or without unit, a word for a missing reading, or text.

use crate::units::{Kind, parse};

/// What a cell holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cell<'a> {
    Empty,
    /// The number, what stands after it, and its decimals.
    Number(f64, &'a str, u8),
    /// "NaN", "Open", "---": the logger says that it read nothing.
    Missing,
    Text(&'a str),
}

const MISSING: [&str; 22] = [
    "nan",
    "na",
    "n/a",
    "n.a.",
    "null",
    "none",
    "nil",
    "open",
    "err",
    "error",
    "fault",
    "fail",
    "ol",
    "o.l.",
    "over",
    "overload",
    "inf",
    "-inf",
    "disconnected",
    "nc",
    "#n/a",
    "#div/0!",
];

/// Reads a cell.
pub(super) fn cell(text: &str, decimal_comma: bool) -> Cell<'_> {
    let body = text.trim();
    if body.is_empty() {
        return Cell::Empty;
    }
    let dashes = body.chars().all(|c| "-–—.?*".contains(c));
    if dashes || (body.len() <= 12 && MISSING.contains(&body.to_ascii_lowercase().as_str())) {
        return Cell::Missing;
    }
    match number(body, decimal_comma) {
        Some((value, rest, decimals)) => Cell::Number(value, rest, decimals),
        None => Cell::Text(body),
    }
}

/// A number at the start; the rest must not go on like a number, a clock or a date.
fn number(body: &str, decimal_comma: bool) -> Option<(f64, &str, u8)> {
    let mut end = 0;
    let mut digits = false;
    let (mut dot, mut comma) = (None, None);
    for (i, c) in body.char_indices() {
        match c {
            '+' | '-' | '−' if i == 0 => {}
            '0'..='9' => digits = true,
            '.' if dot.is_none() => dot = Some(i),
            ',' if comma.is_none() => comma = Some(i),
            'e' | 'E' if digits => {
                // An exponent, or the first letter of a word.
                let tail = &body[i + 1..];
                let sign = usize::from(tail.starts_with(['+', '-']));
                let exponent = tail[sign..].bytes().take_while(u8::is_ascii_digit).count();
                if exponent > 0 {
                    end = i + 1 + sign + exponent;
                }
                break;
            }
            _ => break,
        }
        end = i + c.len_utf8();
    }
    if !digits {
        return None;
    }
    let (head, mut rest) = body.split_at(end);
    let mut head = head.trim_end_matches([',', '.']).to_owned();
    if head.len() < end {
        // "65," at the end of a phrase
        rest = &body[head.len()..];
        rest = rest.trim_start_matches([',', '.']);
    }
    if rest.starts_with([':', '/']) || rest.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return None;
    }
    if rest.starts_with('-') && rest[1..].starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    head = head.replace('−', "-");
    let plain = match (dot, comma) {
        (Some(d), Some(c)) if d < c => head.replace('.', "").replace(',', "."),
        (Some(_), Some(_)) => head.replace(',', ""),
        (None, Some(c)) => {
            // "1,234" with decimal points elsewhere is a thousand.
            let after = head.len().saturating_sub(c + 1);
            match decimal_comma || after != 3 {
                true => head.replace(',', "."),
                false => head.replace(',', ""),
            }
        }
        _ => head,
    };
    let decimals = plain
        .split_once('.')
        .map_or(0, |(_, d)| d.bytes().take_while(u8::is_ascii_digit).count());
    let value: f64 = plain.parse().ok()?;
    value
        .is_finite()
        .then(|| (value, rest.trim(), decimals.min(12) as u8))
}

/// A mass with its unit somewhere in a text, and half its last digit: "fed 1.8 kg", "3 lb birch".
pub(super) fn mass_in(text: &str, decimal_comma: bool) -> Option<(f64, f64)> {
    let starts = text.char_indices().filter(|(i, c)| {
        let before = text[..*i].chars().next_back();
        c.is_ascii_digit() && before.is_none_or(|b| !b.is_ascii_digit() && !".,:/".contains(b))
    });
    for (i, _) in starts {
        let Some((value, rest, decimals)) = number(&text[i..], decimal_comma) else {
            continue;
        };
        let unit: String = rest.chars().take_while(|c| c.is_alphabetic()).collect();
        if let Some(one) = mass_unit(&unit) {
            return Some((value * one, 0.5 * one * 10f64.powi(-i32::from(decimals))));
        }
    }
    None
}

/// Kilograms in one of this unit.
pub(super) fn mass_unit(unit: &str) -> Option<f64> {
    match unit.trim().trim_end_matches('.') {
        "" => None,
        unit => parse(Kind::Mass, &format!("1 {unit}")).ok().map(|p| p.si),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_cells_are_numbers_missing_or_text() {
        let value = |text, comma| match cell(text, comma) {
            Cell::Number(v, unit, d) => Some((v, unit.to_owned(), d)),
            _ => None,
        };
        assert_eq!(value("65.25", false), Some((65.25, String::new(), 2)));
        assert_eq!(value("65,2 °C", true), Some((65.2, "°C".into(), 1)));
        assert_eq!(value("1.234,5", true), Some((1234.5, String::new(), 1)));
        assert_eq!(value("1,234.5", false), Some((1234.5, String::new(), 1)));
        assert_eq!(value("1,234", false), Some((1234.0, String::new(), 0)));
        assert_eq!(value("-127", false), Some((-127.0, String::new(), 0)));
        assert_eq!(value("1.5e3", false), Some((1500.0, String::new(), 1)));
        assert_eq!(value("52F", false), Some((52.0, "F".into(), 0)));
        for text in ["NaN", "Open", "---", "#N/A"] {
            assert_eq!(cell(text, false), Cell::Missing, "{text}");
        }
        for text in ["14:05", "03/04/2026", "2026-03-04", "1.2.2026", "lit"] {
            assert!(matches!(cell(text, false), Cell::Text(_)), "{text}");
        }
    }

    #[test]
    fn behaves_masses_are_found_in_remarks() {
        assert_eq!(mass_in("fed 1.8 kg at the back", false), Some((1.8, 0.05)));
        let (kg, half) = mass_in("3 lb, dry", false).unwrap_or_default();
        assert!((kg - 3.0 * 0.453_592_37).abs() < 1e-9 && (half - 0.226_796_185).abs() < 1e-9);
        assert_eq!(mass_in("pump to high at 14:05", false), None);
        assert_eq!(mass_in("3 logs", false), None);
    }
}
