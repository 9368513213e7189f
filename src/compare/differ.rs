//! Differences of two entries with their uncertainty, and what forbids a verdict.

use super::level::Plan;
use super::spread::{Figure, LEAST_PAIRS, Part, expanded, sampled};
use super::{Entry, Options, changed, task_words};
use crate::results::{ComparedPair, Difference, EntryKind, Quantity, Span, Verdict};
use crate::units::{format_temperature, format_volume};

/// Moistures of two woods that differ by more are two kinds of fire; nobody can level that.
const MOISTURE_APART: f64 = 0.05;
/// Share of the pairs in which only one gets to the target, over which no figure to the target is given.
const ONE_ALONE: f64 = 0.5;

pub(crate) fn pair(a: &Entry, b: &Entry, plan: &Plan, o: &Options) -> ComparedPair {
    let differences = Quantity::ALL
        .into_iter()
        .map(|q| difference(q, a, b, plan, o))
        .collect();
    let (only_first, only_second) = alone(a, b);
    ComparedPair {
        first: a.shown.label.clone(),
        second: b.shown.label.clone(),
        changed: what_changed(a, b, plan, o),
        method: method(a, b, o),
        differences,
        only_first_fraction: only_first,
        only_second_fraction: only_second,
    }
}

fn both(a: &Entry, b: &Entry, kind: EntryKind) -> bool {
    a.shown.kind == kind && b.shown.kind == kind
}

/// In which share of the common samples only one of the two comes to the target.
fn alone(a: &Entry, b: &Entry) -> (Option<f64>, Option<f64>) {
    let time = Quantity::Time.index();
    let (Figure::Sampled { samples: x, .. }, Figure::Sampled { samples: y, .. }) =
        (&a.figures[time], &b.figures[time])
    else {
        return (None, None);
    };
    let pairs: Vec<(f64, f64)> = x.iter().zip(y).filter_map(|(a, b)| (*a).zip(*b)).collect();
    if pairs.is_empty() {
        return (None, None);
    }
    let share = |f: &dyn Fn(&(f64, f64)) -> bool| {
        Some(pairs.iter().filter(|p| f(p)).count() as f64 / pairs.len() as f64)
    };
    (
        share(&|p| p.0.is_finite() && !p.1.is_finite()),
        share(&|p| !p.0.is_finite() && p.1.is_finite()),
    )
}

fn difference(q: Quantity, a: &Entry, b: &Entry, plan: &Plan, o: &Options) -> Difference {
    let (fa, fb) = (&a.figures[q.index()], &b.figures[q.index()]);
    let (span, otherwise) = match (fa, fb) {
        (Figure::Unknown, _) | (_, Figure::Unknown) => (Span::default(), None),
        (
            Figure::Sampled {
                value: va,
                samples: x,
            },
            Figure::Sampled {
                value: vb,
                samples: y,
            },
        ) => {
            let paired = x
                .iter()
                .zip(y)
                .filter_map(|(a, b)| Some((*b)? - (*a)?))
                .collect();
            // Each sample of the one against another of the other: nothing in common.
            let n = x.len();
            let apart = (0..n)
                .flat_map(|i| (1..n).step_by(7).map(move |k| (i, (i + k) % n)))
                .filter_map(|(i, j)| Some(y[j]? - x[i]?))
                .collect();
            (sampled(vb - va, paired), Some(sampled(vb - va, apart)))
        }
        (
            Figure::Budget {
                value: va,
                parts: pa,
                scatter: sa,
            },
            Figure::Budget {
                value: vb,
                parts: pb,
                scatter: sb,
            },
        ) => {
            let parts = subtracted(pa, pb);
            let terms = || parts.iter().map(|p| (p.signed, p.freedom));
            let wide = expanded(terms().chain([*sa, *sb]));
            let d = vb - va;
            let about = |half: f64| Span {
                value: Some(d),
                low: Some(d - half),
                high: Some(d + half),
            };
            (about(wide), Some(about(expanded(terms()))))
        }
        (sampled_one, budget_one) => {
            let d = fb.value().unwrap_or(f64::NAN) - fa.value().unwrap_or(f64::NAN);
            (
                mixed(d, side(sampled_one, true), side(budget_one, true)),
                Some(mixed(d, side(sampled_one, false), side(budget_one, false))),
            )
        }
    };
    let mut reasons = Vec::new();
    if span.value.is_none() && span.low.is_none() && span.high.is_none() {
        for (e, f) in [(a, fa), (b, fb)] {
            if let Some(why) = missing(q, e, f) {
                reasons.push(why);
            }
        }
        return Difference {
            quantity: q,
            difference: span,
            verdict: Verdict::NoFigure,
            otherwise: None,
            reasons,
        };
    }
    for e in [a, b] {
        let of_it = e.forbidden.iter().filter(|f| f.0 == q);
        reasons.extend(of_it.map(|f| f.1.clone()));
    }
    if !reasons.is_empty() {
        return Difference {
            quantity: q,
            difference: Span::default(),
            verdict: Verdict::CannotTell,
            otherwise: None,
            reasons,
        };
    }
    if q == Quantity::Time && plan.any_log {
        reasons.extend(other_wood(a, b));
    }
    let (only_first, only_second) = alone(a, b);
    if matches!(q, Quantity::Time | Quantity::Wood)
        && only_first.unwrap_or(0.0) + only_second.unwrap_or(0.0) > ONE_ALONE
    {
        reasons.push(format!(
            "in {:.0} % of the samples only one of the two comes to the target",
            100.0 * (only_first.unwrap_or(0.0) + only_second.unwrap_or(0.0))
        ));
    }
    let same = span.value == Some(0.0) && span.low == Some(0.0) && span.high == Some(0.0);
    let parted = span.low.is_some_and(|v| v > 0.0) || span.high.is_some_and(|v| v < 0.0);
    if !parted && !same && reasons.is_empty() {
        reasons.push(spread_words(q, a, b, &span, otherwise.as_ref(), o));
    }
    let verdict = match (same, parted && reasons.is_empty()) {
        (true, _) if reasons.is_empty() => Verdict::Same,
        (_, true) => Verdict::Differs,
        _ => Verdict::CannotTell,
    };
    Difference {
        quantity: q,
        difference: span,
        verdict,
        otherwise,
        reasons,
    }
}

/// Parts with one key in both have one error.
fn subtracted(a: &[Part], b: &[Part]) -> Vec<Part> {
    let mut parts: Vec<Part> = b.to_vec();
    for p in a {
        match parts.iter_mut().find(|q| q.key == p.key) {
            Some(q) => {
                q.signed -= p.signed;
                q.freedom = q.freedom.min(p.freedom);
            }
            None => parts.push(Part {
                signed: -p.signed,
                ..p.clone()
            }),
        }
    }
    parts
}

/// How far a figure reaches below and above its value.
fn side(f: &Figure, with_scatter: bool) -> (f64, f64) {
    match f {
        Figure::Unknown => (f64::NAN, f64::NAN),
        Figure::Sampled { value, .. } => {
            let s = f.span();
            let reach = |end: Option<f64>| end.map_or(f64::INFINITY, |e| (e - value).abs());
            (reach(s.low), reach(s.high))
        }
        Figure::Budget { parts, scatter, .. } => {
            let all = parts.iter().map(|p| (p.signed, p.freedom));
            let half = if with_scatter {
                expanded(all.chain([*scatter]))
            } else {
                expanded(all)
            };
            (half, half)
        }
    }
}

/// Sides of independent figures add as squares.
fn mixed(d: f64, a: (f64, f64), b: (f64, f64)) -> Span {
    let finite = |v: f64| v.is_finite().then_some(v);
    Span {
        value: finite(d),
        low: finite(d - b.0.hypot(a.1)),
        high: finite(d + b.1.hypot(a.0)),
    }
}

/// Why an entry has no such figure.
fn missing(q: Quantity, e: &Entry, f: &Figure) -> Option<String> {
    let label = &e.shown.label;
    match f {
        Figure::Unknown => Some(match (q, e.shown.kind) {
            (Quantity::Wood, EntryKind::Measured)
            | (Quantity::EfficiencyFlat, EntryKind::Measured)
            | (Quantity::EfficiencyNet, EntryKind::Measured) => {
                format!("no wood was weighed in {label}")
            }
            (Quantity::EfficiencyGross, EntryKind::Measured) => {
                format!("the gross value of the wood of {label} is not known")
            }
            (Quantity::PeakOutlet, EntryKind::Measured) => {
                format!("{label} has no probe at the coil's outlet")
            }
            (Quantity::StackLoss, EntryKind::Measured) => {
                format!("{label} has no probe in the flue")
            }
            _ => format!("{label} has none"),
        }),
        Figure::Sampled { value, .. } if !value.is_finite() => {
            Some(format!("{label} does not come to the target"))
        }
        _ => None,
    }
}

/// Wood that makes another fire.
fn other_wood(a: &Entry, b: &Entry) -> Option<String> {
    let (x, y) = (own_moisture(a)?, own_moisture(b)?);
    if (x - y).abs() > MOISTURE_APART {
        return Some(format!(
            "the woods had {:.0} % and {:.0} % water: damp wood burns slower, and that cannot be taken off",
            100.0 * x,
            100.0 * y
        ));
    }
    None
}

/// A simulated burn is run on wood of the task's moisture; a measured one has its own.
fn own_moisture(e: &Entry) -> Option<f64> {
    e.shown.moisture_wet
}

fn spread_words(
    q: Quantity,
    a: &Entry,
    b: &Entry,
    span: &Span,
    otherwise: Option<&Span>,
    o: &Options,
) -> String {
    let enough = |e: &Entry| match &e.figures[q.index()] {
        Figure::Sampled { samples, .. } => samples.iter().flatten().count() >= LEAST_PAIRS,
        _ => true,
    };
    if span.low.is_none() && span.high.is_none() && !(enough(a) && enough(b)) {
        return "too few samples came to anything".into();
    }
    let lone = |e: &Entry| e.shown.kind == EntryKind::Measured && e.shown.burns < 2;
    let parted = otherwise
        .is_some_and(|s| s.low.is_some_and(|v| v > 0.0) || s.high.is_some_and(|v| v < 0.0));
    if (lone(a) || lone(b)) && parted {
        let spread = 100.0 * o.repeat_spread.unwrap_or(super::REPEAT_SPREAD);
        return format!(
            "these burns differ, but a fire fed by hand scatters ({spread:.0} % taken for time and wood): repeat each, or state --repeat-spread"
        );
    }
    if both(a, b, EntryKind::Simulated) {
        "the common samples of the closures scatter to both sides".into()
    } else {
        "the uncertainty reaches to both sides".into()
    }
}

fn method(a: &Entry, b: &Entry, o: &Options) -> String {
    if both(a, b, EntryKind::Simulated) {
        return format!(
            "{} samples of the model's closures, each the same for both: what the model does not know of both cancels. Intervals hold 95 of 100 samples.",
            o.samples
        );
    }
    let scatter = "the scatter of fires fed by hand from burn to burn";
    if both(a, b, EntryKind::Measured) {
        return format!(
            "the audits' budgets (JCGM 100), the error of one table of woods taken as common to both, and {scatter}. Intervals hold the difference in 95 of 100."
        );
    }
    format!(
        "samples of the model's closures against the audit's budget (JCGM 100) with {scatter}. Intervals hold the difference in 95 of 100."
    )
}

fn what_changed(a: &Entry, b: &Entry, plan: &Plan, o: &Options) -> String {
    let level = task_words(&plan.task, o.units);
    let level = if level.is_empty() {
        String::new()
    } else {
        format!(" Both brought to: {level}.")
    };
    if let (Some(x), Some(y)) = (&a.text, &b.text) {
        return format!("{}.{level}", changed::sentence(x, y));
    }
    let of = |e: &Entry| {
        let s = &e.shown;
        let what = match s.kind {
            EntryKind::Simulated => "simulated".to_owned(),
            EntryKind::Measured if s.burns > 1 => format!("measured {} times", s.burns),
            EntryKind::Measured => "measured".to_owned(),
        };
        let mut words = vec![what];
        if let Some(audit) = &e.audit {
            words.push(format!(
                "{} to {}",
                format_temperature(audit.start_temperature_K, o.units),
                format_temperature(audit.end_temperature_K, o.units)
            ));
            words.push(format_volume(audit.water_m3, o.units));
            words.push(format!(
                "{} with {:.0} % water",
                audit.species,
                100.0 * audit.moisture_wet
            ));
        }
        words.join(", ")
    };
    format!(
        "{} is {}; {} is {}.{level}",
        a.shown.label,
        of(a),
        b.shown.label,
        of(b)
    )
}
