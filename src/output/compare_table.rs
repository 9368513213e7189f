//! The page that a person reads after a comparison: the answer first, then the figures, then what they rest on.

use super::show::{duration, text};
use crate::results::{
    ComparedEntry, ComparedPair, Comparison, Difference, EntryKind, Quantity, Span, Verdict,
};
use crate::units::{PlotKind, UnitSystem, axis, format_temperature, format_time, significant};
use comfy_table::presets::NOTHING;
use comfy_table::{
    Attribute, Cell, CellAlignment, Color, ColumnConstraint, ContentArrangement, Table, Width,
};
use std::fmt::Write;

/// Name column of the table.
const NAME_COLUMNS: u16 = 27;

/// The comparison as text, at most `width` columns wide, with colours where `color` is set.
pub fn compare_table(c: &Comparison, units: UnitSystem, color: bool, width: usize) -> String {
    let width = width.clamp(40, 140);
    let mut out = String::new();
    let paint = |code: &str, t: &str| {
        if color {
            format!("\x1b[{code}m{t}\x1b[0m")
        } else {
            t.to_owned()
        }
    };
    for p in &c.pairs {
        paragraph(&mut out, "", &paint("1", &answer(p, units)), width);
    }
    out.push('\n');
    out.push_str(&figures(c, units, color, width));
    for p in &c.pairs {
        let _ = writeln!(
            out,
            "\n{}",
            paint("1;36", &format!("{} against {}", p.second, p.first))
        );
        paragraph(
            &mut out,
            "  ",
            &format!("what changed: {}", p.changed),
            width,
        );
        for d in &p.differences {
            difference(&mut out, d, units, width, &paint);
        }
        if let (Some(x), Some(y)) = (p.only_first_fraction, p.only_second_fraction)
            && x + y > 0.0
        {
            paragraph(
                &mut out,
                "  ",
                &format!(
                    "in {:.0} % of the common samples only {} comes to the target, in {:.0} % only {}",
                    100.0 * x,
                    p.first,
                    100.0 * y,
                    p.second
                ),
                width,
            );
        }
        paragraph(&mut out, "  ", &format!("how sure: {}", p.method), width);
    }
    let mut list = |title: &str, lines: Vec<String>| {
        if lines.is_empty() {
            return;
        }
        let _ = writeln!(out, "\n{}", paint("1;36", title));
        for line in lines {
            paragraph(&mut out, "  - ", &line, width);
        }
    };
    let of = |f: fn(&ComparedEntry) -> &Vec<String>| {
        c.entries
            .iter()
            .flat_map(|e| f(e).iter().map(|t| format!("{}: {t}", e.label)))
            .collect()
    };
    list("Corrections made", of(|e| &e.corrections));
    list("Remarks", of(|e| &e.remarks));
    list("Taken for want of a figure", c.assumed.clone());
    out.push('\n');
    paragraph(
        &mut out,
        "",
        "Estimates, not a clearance to build or run. Hot water scalds, a coil can boil, fires make carbon monoxide; local codes and licensed practice decide.",
        width,
    );
    out
}

/// Words within the width; later lines stand under the first word.
fn paragraph(out: &mut String, mark: &str, words: &str, width: usize) {
    let indent = mark.chars().count();
    let mut line = mark.to_owned();
    let mut used = indent;
    for word in words.split_whitespace() {
        let n = word.chars().count();
        if used > indent && used + 1 + n > width {
            let _ = writeln!(out, "{line}");
            line = " ".repeat(indent);
            used = indent;
        }
        if used > indent {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += n;
    }
    let _ = writeln!(out, "{line}");
}

/// "long is faster by 38 ± 6 min than short, with less wood by 2.1 ± 0.4 kg."
fn answer(p: &ComparedPair, units: UnitSystem) -> String {
    let part = |q: Quantity| p.differences.iter().find(|d| d.quantity == q);
    let one = |q: Quantity, lead: &str, same: &str, which: &str| {
        let d = part(q)?;
        match d.verdict {
            Verdict::Differs => Some(format!("{lead}{}", difference_words(d, units)?)),
            Verdict::Same => Some(same.to_owned()),
            Verdict::CannotTell => Some(format!("cannot tell which {which}")),
            Verdict::NoFigure if q == Quantity::Time => Some(d.reasons.join(", ")),
            Verdict::NoFigure => None,
        }
    };
    let said: Vec<String> = [
        one(Quantity::Time, "", "the same time", "is faster"),
        one(Quantity::Wood, "", "the same wood", "takes less wood"),
        one(
            Quantity::EfficiencyNet,
            "efficiency (net) ",
            "the same efficiency",
            "is more efficient",
        ),
    ]
    .into_iter()
    .flatten()
    .collect();
    let said = if said.is_empty() {
        "no figure in common".to_owned()
    } else {
        said.join(", ")
    };
    format!("{} against {}: {said}.", p.second, p.first)
}

/// What a difference is told in: factor from SI and unit.
fn scale(q: Quantity, size: f64, units: UnitSystem) -> (f64, &'static str) {
    match (q, units) {
        (Quantity::Time, _) if size.abs() >= 3.0 * 3600.0 => (1.0 / 3600.0, "h"),
        (Quantity::Time, _) => (1.0 / 60.0, "min"),
        (Quantity::Wood, UnitSystem::Metric) => (1.0, "kg"),
        (Quantity::MeanPower, UnitSystem::Metric) => (1e-3, "kW"),
        (Quantity::PeakOutlet, UnitSystem::Metric) => (1.0, "K"),
        (Quantity::PeakOutlet, UnitSystem::Us) => (1.8, "°F"),
        (Quantity::Wood | Quantity::MeanPower, UnitSystem::Us) => {
            let kind = if q == Quantity::Wood {
                PlotKind::Mass
            } else {
                PlotKind::Power
            };
            let a = axis(kind, units);
            ((a.to)(1.0) - (a.to)(0.0), a.label)
        }
        (Quantity::Tending, _) => (1.0, "an hour"),
        _ => (100.0, "points"),
    }
}

/// "faster by 38 ± 6 min", "faster by 38 min (20 to 61 min)", "slower by at least 12 min".
fn difference_words(d: &Difference, units: UnitSystem) -> Option<String> {
    let s = &d.difference;
    let lead = s.value.or(s.low).or(s.high)?;
    let words = d.quantity.words()[usize::from(lead < 0.0)];
    let sign = if lead < 0.0 { -1.0 } else { 1.0 };
    let (factor, unit) = scale(d.quantity, lead, units);
    // Ends in the direction of the words.
    let (near, far) = if sign > 0.0 {
        (s.low, s.high)
    } else {
        (s.high, s.low)
    };
    let told = |v: f64| sign * factor * v;
    Some(match (s.value, near, far) {
        (Some(v), Some(n), Some(f)) => {
            let (v, n, f) = (told(v), told(n), told(f));
            let (below, above) = (v - n, f - v);
            if below.max(above) < 1e-9 {
                format!("{words} {} {unit}", significant(v, 3))
            } else if below > 0.0 && above > 0.0 && (above / below).max(below / above) < 1.5 {
                let half = 0.5 * (above + below);
                let places = places(half);
                format!("{words} {v:.places$} ± {half:.places$} {unit}")
            } else {
                let places = places(0.5 * (above + below));
                format!("{words} {v:.places$} {unit} ({n:.places$} to {f:.places$})")
                    .replace("(-", "(−")
                    .replace("-0 ", "0 ")
            }
        }
        (None, Some(n), _) if told(n) > 0.0 => {
            format!("{words} at least {} {unit}", significant(told(n), 2))
        }
        (Some(v), Some(n), None) => format!(
            "{words} {} {unit} or more (at least {})",
            significant(told(v), 2),
            significant(told(n), 2)
        ),
        (Some(v), ..) => format!("{words} {} {unit}", significant(told(v), 3)),
        _ => return None,
    })
}

/// Decimals that show an uncertainty with two digits at most.
fn places(half: f64) -> usize {
    if half <= 0.0 || !half.is_finite() {
        return 1;
    }
    (1 - half.log10().floor() as i32 - i32::from(half >= 10.0)).clamp(0, 3) as usize
}

fn difference(
    out: &mut String,
    d: &Difference,
    units: UnitSystem,
    width: usize,
    paint: &dyn Fn(&str, &str) -> String,
) {
    let name = format!("  {:<26}", d.quantity.name());
    let (factor, unit) = scale(d.quantity, d.difference.value.unwrap_or(0.0), units);
    let inside = |s: &Span| match (s.low, s.high) {
        (Some(lo), Some(hi)) => {
            let (lo, hi) = (factor * lo, factor * hi);
            let places = places(0.5 * (hi - lo));
            format!("{lo:+.places$} to {hi:+.places$} {unit}").replace('-', "−")
        }
        (Some(lo), None) => format!("{:+.0} {unit} or more", factor * lo).replace('-', "−"),
        (None, Some(hi)) => format!("{:+.0} {unit} or less", factor * hi).replace('-', "−"),
        (None, None) => "open".to_owned(),
    };
    let words = match d.verdict {
        Verdict::NoFigure => format!("not compared: {}", d.reasons.join("; ")),
        Verdict::Same => "the same".into(),
        Verdict::Differs => difference_words(d, units).unwrap_or_default(),
        Verdict::CannotTell => {
            let range = match (d.difference.low, d.difference.high) {
                (None, None) => String::new(),
                _ => format!(" ({})", inside(&d.difference)),
            };
            format!(
                "{}{range}: {}",
                paint("1;33", "cannot tell"),
                d.reasons.join("; ")
            )
        }
    };
    paragraph(out, &name, &words, width);
    if let Some(other) = d
        .otherwise
        .as_ref()
        .filter(|o| o.low.is_some() && o.high.is_some())
        && matches!(d.verdict, Verdict::Differs | Verdict::CannotTell)
        && matches!(d.quantity, Quantity::Time | Quantity::Wood)
    {
        let what = if d
            .difference
            .low
            .is_some_and(|lo| other.low.is_some_and(|o| o < lo))
        {
            "with nothing in common"
        } else {
            "these burns alone, by measurement"
        };
        paragraph(
            out,
            &" ".repeat(28),
            &format!("({what}: {})", inside(other)),
            width,
        );
    }
}

/// A figure with its interval.
fn figure(q: Quantity, e: &ComparedEntry, units: UnitSystem) -> String {
    let s = &e.figures[q.index()].1;
    let Some(v) = s.value else {
        // A log always has a time, unless it is too far from the common task.
        let far =
            e.kind == EntryKind::Measured && e.figures[Quantity::Time.index()].1.value.is_none();
        return match (q, s.low) {
            (Quantity::Time | Quantity::Wood, _) if far => "cannot tell".into(),
            (Quantity::Time, Some(lo)) => format!("not reached ({} at best)", format_time(lo)),
            (Quantity::Time | Quantity::Wood, _) if e.kind == EntryKind::Simulated => {
                "not reached".into()
            }
            _ => "not known".into(),
        };
    };
    let point = |v: f64| match q {
        Quantity::Time => format_time(v),
        Quantity::Wood => text(PlotKind::Mass, v, units),
        Quantity::MeanPower => text(PlotKind::Power, v, units),
        Quantity::PeakOutlet => format_temperature(v, units),
        Quantity::Tending => significant(v, 2),
        _ => format!("{:.1} %", 100.0 * v),
    };
    let short = |v: f64| match q {
        Quantity::Time => super::show::clock(v),
        Quantity::Tending => significant(v, 2),
        Quantity::Wood | Quantity::MeanPower | Quantity::PeakOutlet => {
            let t = point(v);
            t.split(' ').next().unwrap_or_default().to_owned()
        }
        _ => format!("{:.0}", 100.0 * v),
    };
    match (s.low, s.high) {
        (Some(lo), Some(hi)) if hi - lo > 1e-9 => {
            format!("{}\n{} to {}", point(v), short(lo), short(hi))
        }
        (Some(lo), None) => format!("{}\n{} to never", point(v), short(lo)),
        _ => point(v),
    }
}

fn figures(c: &Comparison, units: UnitSystem, color: bool, width: usize) -> String {
    let mut t = Table::new();
    t.load_style(NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(width as u16);
    if color {
        t.enforce_styling();
    } else {
        t.force_no_tty();
    }
    let name = |s: &str| Cell::new(s);
    let head = |s: &str| {
        let cell = Cell::new(s).set_alignment(CellAlignment::Right);
        if color {
            cell.add_attribute(Attribute::Bold).fg(Color::Cyan)
        } else {
            cell
        }
    };
    t.add_row(std::iter::once(name("")).chain(c.entries.iter().map(|e| head(&e.label))));
    let mut row = |title: &str, f: &dyn Fn(&ComparedEntry) -> String| {
        t.add_row(
            std::iter::once(name(title)).chain(
                c.entries
                    .iter()
                    .map(|e| Cell::new(f(e)).set_alignment(CellAlignment::Right)),
            ),
        );
    };
    row("", &|e| match e.kind {
        EntryKind::Simulated => "simulated".into(),
        EntryKind::Measured if e.burns > 1 => format!("measured, {} burns", e.burns),
        EntryKind::Measured => "measured".into(),
    });
    row("target", &|e| {
        format_temperature(e.target_temperature_K, units)
    });
    row("warmest tank, mean", &|e| {
        e.tank_peak_K
            .map_or("not known".into(), |k| format_temperature(k, units))
    });
    for q in Quantity::ALL {
        row(q.name(), &|e| figure(q, e, units));
        if q == Quantity::PeakOutlet {
            row("boiling", &|e| boiling(e, units));
        }
    }
    let some = |v: Option<f64>, f: &dyn Fn(f64) -> String| v.map_or("not known".into(), f);
    row("visits to the stove", &|e| {
        some(e.visits, &|v| format!("{v:.0}"))
    });
    row("time at the stove", &|e| some(e.tending_s, &duration));
    row("cutting and splitting", &|e| some(e.splitting_s, &duration));
    row("wood for one bath", &|e| {
        some(e.wood_per_bath_kg, &|v| text(PlotKind::Mass, v, units))
    });
    row("a year: cords", &|e| {
        some(e.cords_per_year, &|v| significant(v, 2))
    });
    row("a year: steres", &|e| {
        some(e.steres_per_year, &|v| significant(v, 2))
    });
    if let Some(column) = t.column_mut(0) {
        column.set_constraint(ColumnConstraint::Absolute(Width::Fixed(NAME_COLUMNS)));
    }
    t.trim_fmt() + "\n"
}

fn boiling(e: &ComparedEntry, units: UnitSystem) -> String {
    match (e.kind, e.boiling_first_s, e.boiling_total_s) {
        (EntryKind::Measured, ..) => "not seen by a log".into(),
        (_, Some(first), total) => format!(
            "from {}, {} in all",
            format_time(first),
            format_time(total.unwrap_or(0.0))
        ),
        _ => e.boiling_margin_min_K.map_or("none".into(), |k| {
            format!(
                "none, {} short of it",
                crate::units::format_temperature_difference(k, units)
            )
        }),
    }
}
