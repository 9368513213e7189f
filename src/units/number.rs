//! Numbers as people write them: decimals, fractions, mixed numbers.

use std::ops::Range;

/// A number read at the start of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Read {
    pub value: f64,
    /// Bytes used.
    pub len: usize,
    pub signed: bool,
}

/// Why no number was read. Ranges are byte ranges of the text given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Bad {
    /// There is none.
    None,
    /// A comma stands in it.
    Comma(Range<usize>),
    /// `1/0`, two points, a value too large for the machine.
    Malformed(Range<usize>),
}

/// Bytes of the run of ASCII digits at `at`.
fn digits(text: &[u8], at: usize) -> usize {
    text[at.min(text.len())..]
        .iter()
        .take_while(|c| c.is_ascii_digit())
        .count()
}

fn spaces(text: &[u8], at: usize) -> usize {
    text[at.min(text.len())..]
        .iter()
        .take_while(|c| **c == b' ')
        .count()
}

/// Vulgar fraction characters.
fn vulgar(text: &str) -> Option<(f64, usize)> {
    let c = text.chars().next()?;
    let v = match c {
        '¼' => 0.25,
        '½' => 0.5,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        _ => return None,
    };
    Some((v, c.len_utf8()))
}

/// `a/b` at `at`, both runs of digits, `b` not zero: value and length.
fn fraction(text: &str, at: usize) -> Option<Result<(f64, usize), Bad>> {
    let b = text.as_bytes();
    let n = digits(b, at);
    if n == 0 || b.get(at + n) != Some(&b'/') {
        return None;
    }
    let m = digits(b, at + n + 1);
    if m == 0 {
        return None; // "3/h": a number and a unit that begins with "/"
    }
    let len = n + 1 + m;
    let (top, low) = (
        text[at..at + n].parse::<f64>().ok()?,
        text[at + n + 1..at + len].parse::<f64>().ok()?,
    );
    if low == 0.0 {
        return Some(Err(Bad::Malformed(at..at + len)));
    }
    Some(Ok((top / low, len)))
}

/// Reads the number at the start of `text`: `2`, `-0.5`, `1e3`, `3/4`, `1 1/2`, `1-1/2`, `1½`.
pub(super) fn read(text: &str) -> Result<Read, Bad> {
    let b = text.as_bytes();
    let mut at = 0;
    let mut sign = 1.0;
    let mut signed = false;
    if let Some(rest) = text.strip_prefix('\u{2212}') {
        (sign, signed, at) = (-1.0, true, text.len() - rest.len());
    } else if matches!(b.first(), Some(b'+' | b'-')) {
        (sign, signed, at) = (if b[0] == b'-' { -1.0 } else { 1.0 }, true, 1);
    }
    if let Some((v, n)) = vulgar(&text[at..]) {
        return Ok(Read {
            value: sign * v,
            len: at + n,
            signed,
        });
    }
    if let Some(f) = fraction(text, at) {
        let (v, n) = f?;
        return Ok(Read {
            value: sign * v,
            len: at + n,
            signed,
        });
    }
    let start = at;
    let whole = digits(b, at);
    at += whole;
    let mut decimals = 0;
    if b.get(at) == Some(&b'.') {
        decimals = digits(b, at + 1);
        if whole + decimals > 0 {
            at += 1 + decimals;
        }
    }
    if whole + decimals == 0 {
        return Err(Bad::None);
    }
    if b.get(at) == Some(&b',') && b.get(at + 1).is_some_and(u8::is_ascii_digit) {
        let mut end = at + 1;
        while b
            .get(end)
            .is_some_and(|c| c.is_ascii_digit() || *c == b',' || *c == b'.')
        {
            end += 1;
        }
        return Err(Bad::Comma(start..end));
    }
    if b.get(at) == Some(&b'.') && b.get(at + 1).is_some_and(u8::is_ascii_digit) {
        return Err(Bad::Malformed(start..at + 1 + digits(b, at + 1)));
    }
    let mut plain = true;
    if matches!(b.get(at), Some(b'e' | b'E')) {
        let sign_len = usize::from(matches!(b.get(at + 1), Some(b'+' | b'-')));
        let exponent = digits(b, at + 1 + sign_len);
        if exponent > 0 {
            at += 1 + sign_len + exponent;
            plain = false;
        }
    }
    let mut value: f64 = text[start..at]
        .parse()
        .map_err(|_| Bad::Malformed(start..at))?;
    if plain && decimals == 0 {
        // Mixed numbers: "1 1/2", "1-1/2", "1½", "1 ½".
        let gap = spaces(b, at);
        let hyphen = usize::from(gap == 0 && b.get(at) == Some(&b'-'));
        if let Some((v, n)) = vulgar(&text[at + gap..]) {
            value += v;
            at += gap + n;
        } else if gap + hyphen > 0
            && let Some(f) = fraction(text, at + gap + hyphen)
        {
            let (v, n) = f?;
            if v < 1.0 {
                value += v;
                at += gap + hyphen + n;
            } else {
                return Err(Bad::Malformed(start..at + gap + hyphen + n));
            }
        }
    }
    if !value.is_finite() {
        return Err(Bad::Malformed(start..at));
    }
    Ok(Read {
        value: sign * value,
        len: at,
        signed,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> f64 {
        read(text).map(|r| r.value).unwrap_or(f64::NAN)
    }

    #[test]
    fn identity_numbers_as_people_write_them() {
        for (text, expected) in [
            ("2", 2.0),
            ("-2.5", -2.5),
            ("\u{2212}4", -4.0),
            (".5", 0.5),
            ("5.", 5.0),
            ("1e3", 1000.0),
            ("1.5E-3", 0.0015),
            ("3/4", 0.75),
            ("1 1/2", 1.5),
            ("1-1/2", 1.5),
            ("-1 1/2", -1.5),
            ("1½", 1.5),
            ("1 ½", 1.5),
            ("¾", 0.75),
        ] {
            assert_eq!(value(text), expected, "{text}");
        }
    }

    #[test]
    fn behaves_what_is_no_number_is_refused() {
        assert_eq!(read("abc"), Err(Bad::None));
        assert_eq!(read("."), Err(Bad::None));
        assert_eq!(read("-"), Err(Bad::None));
        assert!(matches!(read("1,5 m"), Err(Bad::Comma(_))));
        assert!(matches!(read("100,000 Btu/h"), Err(Bad::Comma(_))));
        assert!(matches!(read("1/0 in"), Err(Bad::Malformed(_))));
        assert!(matches!(read("1.2.3"), Err(Bad::Malformed(_))));
        assert!(matches!(read("1e999"), Err(Bad::Malformed(_))));
        assert!(matches!(read("1 5/2 in"), Err(Bad::Malformed(_))));
    }

    #[test]
    fn identity_a_slash_before_a_unit_is_no_fraction() {
        assert_eq!(read("3/h").map(|r| r.len), Ok(1));
    }
}
