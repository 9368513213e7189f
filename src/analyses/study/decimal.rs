//! Decimal numbers as people write them, so that the steps of a range print cleanly: 0.1 .. 0.5 in 5 steps is 0.1, 0.2, 0.3 and
//! not 0.30000000000000004.

use std::fmt;

/// `digits` / 10^`scale`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Decimal {
    digits: i128,
    scale: u32,
}

/// Longest number of decimals that a value may have.
const MOST_DECIMALS: u32 = 12;
/// Digits before the point that still leave room for sums and products.
const MOST_DIGITS: usize = 15;

impl Decimal {
    /// Reads a number at the start of a text: `6`, `-0.5`, `1e3`, `3/4`, `1 1/2`. Returns it and the bytes used; `None` where
    /// there is none, or none that a decimal of 12 places holds exactly (1/3).
    pub fn read(text: &str) -> Option<(Self, usize)> {
        let b = text.as_bytes();
        let digits = |at: usize| {
            b[at.min(b.len())..]
                .iter()
                .take_while(|c| c.is_ascii_digit())
                .count()
        };
        let whole_number = |at: usize, n: usize| -> Option<i128> {
            if n == 0 || n > MOST_DIGITS {
                None
            } else {
                text[at..at + n].parse().ok()
            }
        };
        let (negative, start) = match b.first()? {
            b'-' => (true, 1),
            b'+' => (false, 1),
            _ if text.starts_with('\u{2212}') => (true, '\u{2212}'.len_utf8()),
            _ => (false, 0),
        };
        let signed = |v: Self| {
            if negative {
                Self {
                    digits: -v.digits,
                    ..v
                }
            } else {
                v
            }
        };
        let n = digits(start);
        // a/b, and a b/c
        let fraction = |at: usize| -> Option<(Self, usize)> {
            let top = digits(at);
            if b.get(at + top) != Some(&b'/') {
                return None;
            }
            let low = digits(at + top + 1);
            let v = Self::ratio(whole_number(at, top)?, whole_number(at + top + 1, low)?)?;
            Some((v, at + top + 1 + low))
        };
        if b.get(start + n) == Some(&b'/') && digits(start + n + 1) > 0 {
            return fraction(start).map(|(v, end)| (signed(v), end));
        }
        if n > 0
            && matches!(b.get(start + n), Some(b' ' | b'-'))
            && digits(start + n + 1) > 0
            && let Some((v, end)) = fraction(start + n + 1)
        {
            let whole = Self::from(i64::try_from(whole_number(start, n)?).ok()?);
            return Some((signed(whole.plus(v)), end));
        }
        let mut at = start + n;
        let mut written = text[start..at].to_owned();
        let mut scale = 0;
        if b.get(at) == Some(&b'.') && b.get(at + 1) != Some(&b'.') {
            let decimals = digits(at + 1);
            if n + decimals == 0 {
                return None;
            }
            written.push_str(&text[at + 1..at + 1 + decimals]);
            scale = decimals;
            at += 1 + decimals;
        }
        if written.is_empty() || written.len() > MOST_DIGITS {
            return None;
        }
        let mut v: i128 = written.parse().ok()?;
        if matches!(b.get(at), Some(b'e' | b'E')) {
            let sign = usize::from(matches!(b.get(at + 1), Some(b'+' | b'-')));
            let m = digits(at + 1 + sign);
            if m > 0 {
                let power: i32 = text[at + 1..at + 1 + sign + m].parse().ok()?;
                let down = scale as i32 - power;
                if !(-12..=MOST_DECIMALS as i32).contains(&down) {
                    return None;
                }
                if down < 0 {
                    v *= 10i128.pow(down.unsigned_abs());
                }
                scale = down.max(0) as usize;
                at += 1 + sign + m;
            }
        }
        if scale > MOST_DECIMALS as usize {
            return None;
        }
        Some((
            signed(Self {
                digits: v,
                scale: scale as u32,
            }),
            at,
        ))
    }

    /// `top` / `low` where it has an end within 12 decimals.
    fn ratio(top: i128, low: i128) -> Option<Self> {
        (0..=MOST_DECIMALS).find_map(|scale| {
            let scaled = top * 10i128.pow(scale);
            (low != 0 && scaled % low == 0).then(|| Self {
                digits: scaled / low,
                scale,
            })
        })
    }

    fn at_scale(self, scale: u32) -> i128 {
        self.digits * 10i128.pow(scale - self.scale)
    }

    fn plus(self, o: Self) -> Self {
        let scale = self.scale.max(o.scale);
        Self {
            digits: self.at_scale(scale) + o.at_scale(scale),
            scale,
        }
    }

    /// The number nearest to `v` that has `scale` decimals (12 at most).
    pub fn nearest(v: f64, scale: u32) -> Self {
        let scale = scale.min(MOST_DECIMALS);
        Self {
            digits: (v * 10f64.powi(scale as i32)).round() as i128,
            scale,
        }
    }

    /// `v` rounded to so many significant digits.
    pub fn significant(v: f64, digits: u32) -> Self {
        let magnitude = if v == 0.0 {
            0
        } else {
            v.abs().log10().floor() as i32
        };
        let decimals = digits as i32 - 1 - magnitude;
        if decimals >= 0 {
            Self::nearest(v, decimals as u32)
        } else {
            let step = 10f64.powi(-decimals);
            Self {
                digits: ((v / step).round() * step) as i128,
                scale: 0,
            }
        }
    }

    /// Value `i` of `n` even steps from `low` to `high`, both ends among them; exact where it has an end, else rounded to a
    /// hundred-thousandth of a step. `n` is 2 or more.
    pub fn step(low: Self, high: Self, i: u64, n: u64) -> Self {
        let scale = low.scale.max(high.scale);
        let (a, b) = (low.at_scale(scale), high.at_scale(scale));
        let parts = i128::from(n.max(2) - 1);
        let mut top = a * parts + (b - a) * i128::from(i);
        let mut step = (b - a).abs();
        let mut scale = scale;
        // The same scale for all values of the range, so that they round alike.
        while step % parts != 0 && step / parts < 100_000 && scale < MOST_DECIMALS {
            (top, step, scale) = (top * 10, step * 10, scale + 1);
        }
        let half = if top < 0 { -parts / 2 } else { parts / 2 };
        Self {
            digits: (top + half) / parts,
            scale,
        }
    }

    /// The number itself.
    pub fn value(self) -> f64 {
        // Through the text, which is rounded correctly.
        self.to_string().parse().unwrap_or(f64::NAN)
    }
}

impl From<i64> for Decimal {
    fn from(v: i64) -> Self {
        Self {
            digits: i128::from(v),
            scale: 0,
        }
    }
}

impl fmt::Display for Decimal {
    /// Without trailing zeros.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (mut d, mut scale) = (self.digits, self.scale);
        while scale > 0 && d % 10 == 0 {
            (d, scale) = (d / 10, scale - 1);
        }
        let sign = if d < 0 { "-" } else { "" };
        let one = 10u128.pow(scale);
        let (whole, rest) = (d.unsigned_abs() / one, d.unsigned_abs() % one);
        if scale == 0 {
            write!(f, "{sign}{whole}")
        } else {
            write!(f, "{sign}{whole}.{rest:0width$}", width = scale as usize)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Option<(String, usize)> {
        Decimal::read(text).map(|(v, n)| (v.to_string(), n))
    }

    #[test]
    fn identity_numbers_as_people_write_them() {
        for (text, value, used) in [
            ("6 m", "6", 1),
            ("-0.50 m", "-0.5", 5),
            (".25", "0.25", 3),
            ("1e3 W", "1000", 3),
            ("2.5e-3", "0.0025", 6),
            ("3/4 in", "0.75", 3),
            ("1 1/2 in", "1.5", 5),
            ("1-1/2 in", "1.5", 5),
            ("6..30 m", "6", 1),
            ("1 ft", "1", 1),
        ] {
            assert_eq!(read(text), Some((value.to_owned(), used)), "{text}");
        }
        for bad in ["", "m", "-", ".", "1/3 in", "1/0 in", "12345678901234567"] {
            assert_eq!(read(bad), None, "{bad}");
        }
    }

    #[test]
    fn analytic_steps_have_no_binary_dust() {
        let steps = |low: &str, high: &str, n: u64| -> Vec<String> {
            let (Some((low, _)), Some((high, _))) = (Decimal::read(low), Decimal::read(high))
            else {
                return Vec::new();
            };
            (0..n)
                .map(|i| Decimal::step(low, high, i, n).to_string())
                .collect()
        };
        assert_eq!(steps("0.1", "0.5", 5), ["0.1", "0.2", "0.3", "0.4", "0.5"]);
        assert_eq!(steps("-1", "1", 5), ["-1", "-0.5", "0", "0.5", "1"]);
        assert_eq!(steps("1", "2", 4), ["1", "1.333333", "1.666667", "2"]);
        assert_eq!(steps("30", "6", 3), ["30", "18", "6"]);
        assert_eq!(
            Decimal::significant(0.316_227_766, 6).to_string(),
            "0.316228"
        );
        assert_eq!(
            Decimal::significant(31_622_776.6, 6).to_string(),
            "31622800"
        );
    }
}
