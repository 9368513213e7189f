//! From written text to an SI value: number, unit, chains of falling units.

use super::Kind;
use super::error::{Problem, UnitError};
use super::number::{self, Bad};
use super::table::{UNITS, Unit};
use std::ops::Range;

/// A quantity that was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parsed {
    /// Value in the SI unit of its kind.
    pub si: f64,
    /// Something that the person should know about how it was read (which gallon).
    pub note: Option<&'static str>,
}

/// Spelling under which units are looked up: no spaces, product dots and brackets, plain digits
/// for powers, `deg` for the degree sign, one slash.
fn canonical(unit: &str) -> String {
    let spaced = unit
        .split_whitespace()
        .map(|w| {
            if w.eq_ignore_ascii_case("per") {
                "/"
            } else {
                w
            }
        })
        .collect::<Vec<_>>()
        .concat();
    let mut s = String::with_capacity(spaced.len() + 4);
    let mut slashed = false;
    for c in spaced.chars() {
        match c {
            '²' | '₂' => s.push('2'),
            '³' => s.push('3'),
            '°' | 'º' | '˚' => s.push_str("deg"),
            '℃' => s.push_str("degC"),
            '℉' => s.push_str("degF"),
            'µ' | 'μ' => s.push('u'),
            'ℓ' => s.push('L'),
            '′' | '’' => s.push('\''),
            '″' | '”' | '“' => s.push('"'),
            '^' | '.' | '·' | '⋅' | '*' | '(' | ')' | '[' | ']' => {}
            '/' if slashed => {}
            '/' => {
                slashed = true;
                s.push('/');
            }
            c => s.push(c),
        }
    }
    let s = s.replace("''", "\"");
    match s.split_once('/') {
        Some((top, low)) if !top.is_empty() => {
            let bare = |t: &str| t.replace("deg", "");
            format!("{}/{}", bare(top), bare(low))
        }
        _ => s,
    }
}

/// The unit of this kind with this canonical name. Case is forgiven, except that a small "m" never
/// becomes the mega of a large one.
fn lookup(kind: Kind, name: &str) -> Option<&'static Unit> {
    let of_kind = || UNITS.iter().filter(move |u| u.kind == kind);
    if let Some(unit) = of_kind().find(|u| u.names.contains(&name)) {
        return Some(unit);
    }
    let first = name.chars().next()?;
    let loose = of_kind().filter_map(|u| {
        let hit = u.names.iter().find(|n| n.eq_ignore_ascii_case(name))?;
        let same_first = hit.starts_with(first);
        (same_first || !(first == 'm' && hit.starts_with('M'))).then_some((u, same_first))
    });
    loose
        .max_by_key(|&(_, same_first)| same_first)
        .map(|(u, _)| u)
}

/// Nearest unit name of this kind, if any is near.
fn nearest(kind: Kind, name: &str) -> Option<&'static str> {
    let allowed = (name.chars().count() / 3).max(1);
    UNITS
        .iter()
        .filter(|u| u.kind == kind)
        .flat_map(|u| u.names.iter().map(move |n| (u.names[0], n)))
        .map(|(first, n)| {
            let d = strsim::damerau_levenshtein(&n.to_lowercase(), &name.to_lowercase());
            (d, n.len(), first, *n)
        })
        .filter(|&(d, ..)| d <= allowed)
        .min_by_key(|&(d, len, ..)| (d, usize::MAX - len))
        .map(|(_, _, first, n)| if n.len() <= 2 { n } else { first })
}

/// The reason why `unit` is no unit of `kind`.
fn why_not(kind: Kind, unit: &str) -> Problem {
    let name = canonical(unit);
    if name.is_empty() {
        return Problem::NoUnit;
    }
    if kind == Kind::Time && name.starts_with(':') {
        return Problem::ClockTime;
    }
    // Exact spellings of another kind first; never a long unknown text against every name.
    if name.len() > 40 {
        return Problem::UnknownUnit {
            unit: unit.to_owned(),
            nearest: None,
        };
    }
    if let Some(u) = UNITS
        .iter()
        .find(|u| u.kind != kind && u.names.contains(&name.as_str()))
    {
        return Problem::OtherKind {
            unit: unit.to_owned(),
            is: u.kind,
        };
    }
    Problem::UnknownUnit {
        unit: unit.to_owned(),
        nearest: nearest(kind, &name),
    }
}

/// Reads a quantity of a kind. Never panics, whatever the text.
///
/// # Errors
/// [`UnitError`] says what was read, what is wrong with it and which units are allowed.
pub fn parse(kind: Kind, text: &str) -> Result<Parsed, UnitError> {
    let error = |span: Range<usize>, problem| UnitError {
        kind,
        read: text.trim().to_owned(),
        span,
        problem,
    };
    let body = text.trim();
    if body.is_empty() {
        return Err(error(0..0, Problem::Empty));
    }
    let first = number::read(body).map_err(|bad| match bad {
        Bad::None => error(0..body.len(), Problem::NoNumber),
        Bad::Comma(r) => error(r, Problem::Comma),
        Bad::Malformed(r) => error(r, Problem::BadNumber),
    })?;
    let rest = &body[first.len..];
    let unit_at = first.len + (rest.len() - rest.trim_start().len());
    let rest = rest.trim();
    if let Some(unit) = lookup(kind, &canonical(rest)) {
        let si = (first.value + unit.offset) * unit.factor;
        if !si.is_finite() {
            return Err(error(0..first.len, Problem::BadNumber));
        }
        if kind == Kind::Temperature && si < 0.0 {
            return Err(error(0..body.len(), Problem::BelowAbsoluteZero));
        }
        return Ok(Parsed {
            si,
            note: unit.note,
        });
    }
    if kind.chains() {
        // A failed chain may be one unit of another kind: "3 m2" where a length is wanted.
        chain(kind, body).map_err(|(span, problem)| match why_not(kind, rest) {
            other @ (Problem::OtherKind { .. } | Problem::ClockTime) => {
                error(unit_at..body.len(), other)
            }
            _ => error(span, problem),
        })
    } else {
        Err(error(unit_at..body.len(), why_not(kind, rest)))
    }
}

/// `1 ft 2 in`, `5'6"`, `1 h 30 min`.
fn chain(kind: Kind, body: &str) -> Result<Parsed, (Range<usize>, Problem)> {
    let mut at = 0;
    let mut total = 0.0;
    let mut sign = 1.0;
    let mut last_factor = f64::INFINITY;
    let mut parts = 0;
    while at < body.len() {
        let read = number::read(&body[at..]).map_err(|bad| match bad {
            Bad::None => (at..body.len(), Problem::BadChain),
            Bad::Comma(r) => (at + r.start..at + r.end, Problem::Comma),
            Bad::Malformed(r) => (at + r.start..at + r.end, Problem::BadNumber),
        })?;
        if parts > 0 && read.signed {
            return Err((at..at + read.len, Problem::BadChain));
        }
        let from = at + read.len;
        let tail = &body[from..];
        let len = tail
            .find(|c: char| c.is_ascii_digit() || "-+¼½¾⅛⅜⅝⅞⅓⅔".contains(c))
            .unwrap_or(tail.len());
        let unit_text = tail[..len].trim();
        let lead = tail[..len].len() - tail[..len].trim_start().len();
        let Some(unit) = lookup(kind, &canonical(unit_text)) else {
            return Err((
                from + lead..from + lead + unit_text.len(),
                why_not(kind, unit_text),
            ));
        };
        if unit.factor >= last_factor {
            return Err((at..body.len(), Problem::BadChain));
        }
        if parts == 0 && read.value.is_sign_negative() {
            sign = -1.0;
        }
        total += read.value.abs() * unit.factor;
        last_factor = unit.factor;
        parts += 1;
        at = from + len;
    }
    let si = sign * total;
    if si.is_finite() {
        Ok(Parsed { si, note: None })
    } else {
        Err((0..body.len(), Problem::BadNumber))
    }
}
