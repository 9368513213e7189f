//! What a study varies: one or several scenario values that move together, over a list, over even or logarithmic steps, or
//! anywhere between two ends.
//!
//! | written | means |
//! |---|---|
//! | `6 m .. 30 m in 25 steps` | 25 values, both ends among them: 6 m, 7 m, ... 30 m |
//! | `0.1 kg .. 10 kg in 5 log steps` | 5 values, each the same factor above the last |
//! | `6 m .. 30 m`, `0.1 kg .. 10 kg log` | anywhere between, for random designs and searches |
//! | `6 m, 9 m, 12 m` or `6, 9, 12 m` | these |
//! | `low, high` | these words |

use super::decimal::Decimal;

/// Most steps of one range.
pub const MOST_STEPS: u64 = 1_000_000;
/// Significant digits of values that lie on no round step.
const DIGITS: u32 = 6;

/// Why a text is no axis. The words say what was read and what is wanted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AxisError {
    #[error("`{0}` names no key: write it as `coil.length = 6 m .. 30 m in 25 steps`")]
    NoPath(String),
    #[error(
        "`{path}` is given no values: write a range (`6 m .. 30 m in 25 steps`) or a list (`6 m, 9 m, 12 m`)"
    )]
    Empty { path: String },
    #[error(
        "`{path}`: \"{read}\" is no end of a range; an end is one number with one unit, as in `6 m .. 30 m`"
    )]
    BadEnd { path: String, read: String },
    #[error(
        "`{path}`: the ends have different units, \"{low}\" and \"{high}\"; write both in the same unit"
    )]
    Units {
        path: String,
        low: String,
        high: String,
    },
    #[error(
        "`{path}`: \"{read}\" is no number of steps; write `in 25 steps` (2 to {MOST_STEPS}; both ends are among them)"
    )]
    BadSteps { path: String, read: String },
    #[error("`{path}`: both ends of the range are {end}; write one value, or two different ends")]
    NoWidth { path: String, end: String },
    #[error("`{path}`: logarithmic steps need both ends above zero")]
    LogOfNothing { path: String },
}

/// One value of an axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// As a table shows it: the number alone where the axis has one unit, else the words as written.
    pub label: String,
    /// In the axis' unit; `None` where it is words.
    pub number: Option<f64>,
    /// Path and value of each scenario key that it sets, fit for `scenario::load_str`.
    pub set: Vec<(String, String)>,
}

/// Where the values of an axis lie.
#[derive(Debug, Clone, PartialEq)]
pub enum Span {
    /// Written one by one.
    List(Vec<Level>),
    /// Even or logarithmic steps, both ends among them.
    Steps {
        low: Decimal,
        high: Decimal,
        count: u64,
        log: bool,
    },
    /// Anywhere between.
    Between {
        low: Decimal,
        high: Decimal,
        log: bool,
    },
}

/// A quantity that a study varies.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Heads its column; the first path unless it was named.
    pub name: String,
    /// Scenario keys that take the value, all the same one. Empty where each level brings its own.
    pub paths: Vec<String>,
    /// As written; empty where there is none or the values have several.
    pub unit: String,
    pub span: Span,
}

impl Axis {
    /// Reads `path = values`; several paths that move together are joined by ` & `.
    ///
    /// # Errors
    /// [`AxisError`].
    pub fn parse(text: &str) -> Result<Self, AxisError> {
        let Some((paths, values)) = text.split_once('=') else {
            return Err(AxisError::NoPath(text.trim().to_owned()));
        };
        let paths: Vec<String> = paths.split(" & ").map(|p| p.trim().to_owned()).collect();
        if paths.iter().any(String::is_empty) {
            return Err(AxisError::NoPath(text.trim().to_owned()));
        }
        Self::of(paths, values)
    }

    /// The axis of these paths over `values` as written.
    ///
    /// # Errors
    /// [`AxisError`].
    pub fn of(paths: Vec<String>, values: &str) -> Result<Self, AxisError> {
        let path = paths.first().cloned().unwrap_or_default();
        let values = values.trim();
        if values.is_empty() {
            return Err(AxisError::Empty { path });
        }
        let (unit, span) = match values.split_once("..") {
            // A list in brackets is a value, and so may hold anything.
            Some((low, rest)) if !values.starts_with(['[', '{', '"']) => range(&path, low, rest)?,
            _ => list(&path, &paths, values)?,
        };
        Ok(Self {
            name: path,
            paths,
            unit,
            span,
        })
    }

    /// How many values there are; `None` where they lie anywhere between two ends.
    pub fn count(&self) -> Option<u64> {
        match &self.span {
            Span::List(levels) => Some(levels.len() as u64),
            Span::Steps { count, .. } => Some(*count),
            Span::Between { .. } => None,
        }
    }

    /// Whether all its values are numbers in one unit.
    pub fn is_numeric(&self) -> bool {
        match &self.span {
            Span::List(levels) => levels.iter().all(|l| l.number.is_some()),
            Span::Steps { .. } | Span::Between { .. } => true,
        }
    }

    /// Value `i`, from 0; `None` beyond the last, and where values lie anywhere.
    pub fn level(&self, i: u64) -> Option<Level> {
        match &self.span {
            Span::List(levels) => levels.get(usize::try_from(i).ok()?).cloned(),
            &Span::Steps {
                low,
                high,
                count,
                log,
            } if i < count => {
                let number = match i {
                    0 => low,
                    _ if i + 1 == count => high,
                    _ if log => {
                        let share = i as f64 / (count - 1) as f64;
                        Decimal::significant(between(low, high, true, share), DIGITS)
                    }
                    _ => Decimal::step(low, high, i, count),
                };
                Some(self.at(number))
            }
            _ => None,
        }
    }

    /// Both ends in the axis' unit, `None` for a list.
    pub fn ends(&self) -> Option<(f64, f64)> {
        match self.span {
            Span::List(_) => None,
            Span::Steps { low, high, .. } | Span::Between { low, high, .. } => {
                Some((low.value(), high.value()))
            }
        }
    }

    /// The value at a share from 0 to 1 of the way: of a list and of steps the one in whose equal part the share lies, else
    /// rounded to a thousandth of a `1 / parts`-th of the way, and to six digits at least.
    pub fn at_share(&self, share: f64, parts: u64) -> Option<Level> {
        match self.span {
            Span::Between { low, high, log } => {
                let v = between(low, high, log, share.clamp(0.0, 1.0));
                let width = if log {
                    v.abs() * (high.value() / low.value()).ln().abs()
                } else {
                    (high.value() - low.value()).abs()
                };
                let quantum = width / (1000.0 * (parts.max(1000) as f64));
                let scale = (-quantum.log10()).ceil().clamp(0.0, 12.0) as u32;
                Some(self.at(Decimal::nearest(v, scale)))
            }
            _ => {
                let n = self.count()?;
                self.level(((share.clamp(0.0, 1.0) * n as f64) as u64).min(n - 1))
            }
        }
    }

    /// The level at a number in the axis' unit.
    pub fn at(&self, number: Decimal) -> Level {
        let label = number.to_string();
        let value = with_unit(&label, &self.unit);
        Level {
            number: Some(number.value()),
            set: self
                .paths
                .iter()
                .map(|p| (p.clone(), value.clone()))
                .collect(),
            label,
        }
    }

    /// The name with the unit, as a column or a picture is headed: `coil.length (m)`.
    pub fn heading(&self) -> String {
        if self.unit.is_empty() {
            self.name.clone()
        } else {
            format!("{} ({})", self.name, self.unit)
        }
    }
}

fn between(low: Decimal, high: Decimal, log: bool, share: f64) -> f64 {
    let (a, b) = (low.value(), high.value());
    if log {
        a * (b / a).powf(share)
    } else {
        a + (b - a) * share
    }
}

fn with_unit(number: &str, unit: &str) -> String {
    if unit.is_empty() {
        number.to_owned()
    } else {
        format!("{number} {unit}")
    }
}

/// One number and what stands behind it.
fn quantity(text: &str) -> Option<(Decimal, &str)> {
    let text = text.trim();
    let (number, used) = Decimal::read(text)?;
    let unit = text[used..].trim();
    // "1 ft 2 in" is two numbers, and "5,5 m" none.
    let second_number = unit
        .split_whitespace()
        .skip(1)
        .any(|w| w.starts_with(|c: char| c.is_ascii_digit()));
    (!second_number && !unit.starts_with(|c: char| c.is_ascii_digit() || c == ',' || c == '.'))
        .then_some((number, unit))
}

fn range(path: &str, low: &str, rest: &str) -> Result<(String, Span), AxisError> {
    let path = || path.to_owned();
    let rest = rest.trim();
    let (high, steps) = match rest.strip_suffix("steps").or(rest.strip_suffix("step")) {
        Some(head) => match head.rsplit_once(" in ") {
            Some((high, steps)) => (high, Some(steps.trim())),
            None => {
                return Err(AxisError::BadSteps {
                    path: path(),
                    read: rest.to_owned(),
                });
            }
        },
        None => (rest, None),
    };
    let (high, count, log) = match steps {
        Some(steps) => {
            let (number, log) = match steps.strip_suffix("log") {
                Some(number) => (number.trim(), true),
                None => (steps, false),
            };
            let count = number.parse().ok().filter(|n| (2..=MOST_STEPS).contains(n));
            let Some(count) = count else {
                return Err(AxisError::BadSteps {
                    path: path(),
                    read: steps.to_owned(),
                });
            };
            (high, Some(count), log)
        }
        None => match high.strip_suffix(" log") {
            Some(high) => (high, None, true),
            None => (high, None, false),
        },
    };
    let bad = |read: &str| AxisError::BadEnd {
        path: path(),
        read: read.trim().to_owned(),
    };
    let (low_number, low_unit) = quantity(low).ok_or_else(|| bad(low))?;
    let (high_number, high_unit) = quantity(high).ok_or_else(|| bad(high))?;
    if low_unit != high_unit && !low_unit.is_empty() {
        return Err(AxisError::Units {
            path: path(),
            low: low_unit.to_owned(),
            high: high_unit.to_owned(),
        });
    }
    if low_number.value() == high_number.value() {
        return Err(AxisError::NoWidth {
            path: path(),
            end: high.trim().to_owned(),
        });
    }
    if log && (low_number.value() <= 0.0 || high_number.value() <= 0.0) {
        return Err(AxisError::LogOfNothing { path: path() });
    }
    let (low, high) = (low_number, high_number);
    let span = match count {
        Some(count) => Span::Steps {
            low,
            high,
            count,
            log,
        },
        None => Span::Between { low, high, log },
    };
    Ok((high_unit.to_owned(), span))
}

/// Commas outside brackets and quotes part the values.
fn split(values: &str) -> Vec<&str> {
    let (mut depth, mut quoted, mut from) = (0i32, false, 0);
    let mut parts = Vec::new();
    for (i, c) in values.char_indices() {
        match c {
            // A mark of inches is no quote: it follows a number.
            '"' if quoted || values[from..i].trim().is_empty() || depth > 0 => quoted = !quoted,
            '[' | '{' if !quoted => depth += 1,
            ']' | '}' if !quoted => depth -= 1,
            ',' if !quoted && depth == 0 => {
                parts.push(values[from..i].trim());
                from = i + 1;
            }
            _ => {}
        }
    }
    parts.push(values[from..].trim());
    parts
}

fn list(path: &str, paths: &[String], values: &str) -> Result<(String, Span), AxisError> {
    let parts = split(values);
    if parts.iter().any(|p| p.is_empty()) {
        return Err(AxisError::Empty {
            path: path.to_owned(),
        });
    }
    let numbers: Option<Vec<(Decimal, &str)>> = parts.iter().map(|p| quantity(p)).collect();
    // One unit for all: each has it, or the last alone.
    let one_unit = numbers.as_ref().and_then(|n| {
        let (_, last) = n.last()?;
        let rest = &n[..n.len() - 1];
        (rest.iter().all(|(_, u)| u == last) || rest.iter().all(|(_, u)| u.is_empty()))
            .then_some(*last)
    });
    let set = |value: String| paths.iter().map(|p| (p.clone(), value.clone())).collect();
    let levels = match (numbers, one_unit) {
        (Some(numbers), Some(unit)) => numbers
            .iter()
            .map(|(v, _)| Level {
                label: v.to_string(),
                number: Some(v.value()),
                set: set(with_unit(&v.to_string(), unit)),
            })
            .collect(),
        _ => parts
            .iter()
            .map(|p| Level {
                label: p.trim_matches('"').to_owned(),
                number: None,
                set: set((*p).to_owned()),
            })
            .collect(),
    };
    Ok((one_unit.unwrap_or("").to_owned(), Span::List(levels)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(text: &str) -> Vec<String> {
        let Ok(axis) = Axis::parse(text) else {
            return Vec::new();
        };
        (0..axis.count().unwrap_or(0))
            .filter_map(|i| axis.level(i))
            .filter_map(|l| l.set.first().map(|s| s.1.clone()))
            .collect()
    }

    #[test]
    fn identity_ranges_and_lists_as_people_write_them() {
        assert_eq!(
            values("coil.length = 6 m .. 30 m in 4 steps"),
            ["6 m", "14 m", "22 m", "30 m"]
        );
        assert_eq!(
            values("a=1 in .. 3 in in 3 steps"),
            ["1 in", "2 in", "3 in"]
        );
        assert_eq!(values("a=6 .. 8 m in 3 steps"), ["6 m", "7 m", "8 m"]);
        assert_eq!(
            values("a=0.1 kg .. 10 kg in 5 log steps"),
            ["0.1 kg", "0.316228 kg", "1 kg", "3.16228 kg", "10 kg"]
        );
        assert_eq!(values("a=6, 9, 12 m"), ["6 m", "9 m", "12 m"]);
        assert_eq!(values("a=6 m, 30 ft"), ["6 m", "30 ft"]);
        assert_eq!(values("a=low, high"), ["low", "high"]);
        assert_eq!(values("a=0.18, 0.25"), ["0.18", "0.25"]);
        assert_eq!(values("a=[1, 2], [3, 4]"), ["[1, 2]", "[3, 4]"]);
        assert_eq!(
            values("a=1/2 in .. 1 in in 3 steps"),
            ["0.5 in", "0.75 in", "1 in"]
        );
        assert_eq!(values("a=9 m"), ["9 m"]);
        assert_eq!(values("coil.length=25 steps").len(), 1, "words stay words");
    }

    #[test]
    fn behaves_paths_move_together_and_headings_name_the_unit() {
        let axis = Axis::parse("loop.supply.inside & loop.return.inside = 25, 38 mm");
        let heading = axis.as_ref().map(Axis::heading);
        assert_eq!(heading, Ok("loop.supply.inside (mm)".to_owned()));
        let level = axis.ok().and_then(|a| a.level(1));
        let set = level.map(|l| l.set).unwrap_or_default();
        assert_eq!(
            set,
            [
                ("loop.supply.inside".into(), "38 mm".into()),
                ("loop.return.inside".into(), "38 mm".into())
            ]
        );
    }

    #[test]
    fn behaves_what_is_no_axis_is_refused_with_its_reason() {
        let path = || "a".to_owned();
        let check = |text: &str, expected: AxisError| {
            assert_eq!(Axis::parse(text), Err(expected), "{text}")
        };
        check("coil.length", AxisError::NoPath("coil.length".into()));
        check(" = 6 m", AxisError::NoPath("= 6 m".into()));
        check("a=", AxisError::Empty { path: path() });
        check("a=6 m,,", AxisError::Empty { path: path() });
        check(
            "a=6 m .. 900 cm in 3 steps",
            AxisError::Units {
                path: path(),
                low: "m".into(),
                high: "cm".into(),
            },
        );
        check(
            "a=x .. 3 m in 3 steps",
            AxisError::BadEnd {
                path: path(),
                read: "x".into(),
            },
        );
        check(
            "a=1 ft 2 in .. 3 ft in 3 steps",
            AxisError::BadEnd {
                path: path(),
                read: "1 ft 2 in".into(),
            },
        );
        check(
            "a=1 m .. 3 m in 1 steps",
            AxisError::BadSteps {
                path: path(),
                read: "1".into(),
            },
        );
        check(
            "a=1 m .. 3 m in many steps",
            AxisError::BadSteps {
                path: path(),
                read: "many".into(),
            },
        );
        check(
            "a=1 m .. 3 m in 2000000 steps",
            AxisError::BadSteps {
                path: path(),
                read: "2000000".into(),
            },
        );
        check(
            "a=3 m .. 3 m",
            AxisError::NoWidth {
                path: path(),
                end: "3 m".into(),
            },
        );
        check(
            "a=0 m .. 3 m in 3 log steps",
            AxisError::LogOfNothing { path: path() },
        );
    }

    #[test]
    fn analytic_shares_of_a_range_lie_between_its_ends() {
        let at = |text: &str, share: f64| {
            Axis::parse(text)
                .ok()
                .and_then(|a| a.at_share(share, 1))
                .and_then(|l| l.number)
        };
        assert_eq!(at("a=6 m .. 30 m", 0.25), Some(12.0));
        assert_eq!(at("a=30 m .. 6 m", 1.0), Some(6.0));
        assert_eq!(at("a=1 .. 100 log", 0.5), Some(10.0));
        assert_eq!(at("a=1, 2, 3", 0.5), Some(2.0));
        assert_eq!(at("a=1, 2, 3", 1.0), Some(3.0));
    }
}
