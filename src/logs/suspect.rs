//! Readings that a probe, its wires or its logger made up: named span by span, never filled.

use super::{Channel, Flag, FlagKind, Role};

/// Codes that converters send when they read nothing: the open or lost probe, the end of the range of a type K
/// converter, the ends of 16-bit numbers (common practice, no source).
const NEVER: [(f64, &str); 19] = [
    (-127.0, "a digital probe that is not there"),
    (-196.6, "a digital probe that is not there, in °F"),
    (
        1372.0,
        "the end of a type K converter's range: an open wire",
    ),
    (
        1370.0,
        "the end of a type K converter's range: an open wire",
    ),
    (
        2501.6,
        "the end of a type K converter's range in °F: an open wire",
    ),
    (1023.75, "the end of a 12-bit converter: an open wire"),
    (2047.75, "the end of a 14-bit converter"),
    (65_535.0, "all bits of 16"),
    (32_767.0, "all bits of 15"),
    (-32_768.0, "all bits of 16"),
    (6_553.5, "all bits of 16, in tenths"),
    (3_276.7, "all bits of 15, in tenths"),
    (-3_276.8, "all bits of 16, in tenths"),
    (-999.0, "a stand-in for nothing"),
    (-999.9, "a stand-in for nothing"),
    (-9_999.0, "a stand-in for nothing"),
    (9_999.0, "a stand-in for nothing"),
    (-273.15, "absolute zero"),
    (-273.1, "absolute zero"),
];
/// Codes that are also good temperatures: suspect only where the neighbours lie elsewhere.
const APART: [(f64, &str); 7] = [
    (999.0, "nothing: a stand-in"),
    (999.9, "nothing: a stand-in"),
    (888.0, "nothing: a stand-in"),
    (850.0, "the end of a platinum probe's range: an open wire"),
    (85.0, "a digital probe that has just got power"),
    (185.0, "a digital probe that has just got power, in °F"),
    (0.0, "a lost reading written as zero"),
];
const APART_K: f64 = 12.0;
/// A stuck probe repeats itself at least so long.
const STUCK_S: f64 = 900.0;
const STUCK_ROWS: usize = 10;

/// Marks the suspect readings of a channel. `raw` are its readings as written.
pub(super) fn mark(ch: &mut Channel, raw: &[f64], usual_step_s: f64, flags: &mut Vec<Flag>) {
    let n = ch.value.len();
    let mut why: Vec<Option<(FlagKind, String)>> = vec![None; n];
    let temperature = ch.role.kind() == Some(crate::units::Kind::Temperature);
    for i in 0..n {
        if let Some((code, what)) = NEVER.iter().find(|(v, _)| (raw[i] - v).abs() < 1e-6) {
            why[i] = Some((
                FlagKind::Sentinel,
                format!("{code} is what the logger writes for {what}"),
            ));
        } else if let Some(reason) = out_of_range(ch.role, ch.value[i]) {
            why[i] = Some((FlagKind::OutOfRange, reason));
        }
    }
    if temperature {
        for i in 0..n {
            let Some((code, what)) = APART.iter().find(|(v, _)| raw[i] == *v) else {
                continue;
            };
            // A run of the code may be as long as the power cut.
            let near = |mut at: Box<dyn Iterator<Item = usize>>| {
                at.find(|&j| why[j].is_none() && raw[j] != *code)
                    .map(|j| ch.value[j])
            };
            let left = near(Box::new((0..i).rev()));
            let right = near(Box::new(i + 1..n));
            let far = |v: Option<f64>| v.is_none_or(|v| (v - ch.value[i]).abs() > APART_K);
            if (left.is_some() || right.is_some()) && far(left) && far(right) {
                why[i] = Some((
                    FlagKind::Sentinel,
                    format!(
                        "{code} is what the logger writes for {what}; the readings around it lie elsewhere"
                    ),
                ));
            }
        }
    }
    if temperature && n >= 8 && usual_step_s <= 330.0 {
        spikes(ch, &mut why);
    }
    stuck(ch, raw, &mut why);
    spans(ch, &why, flags);
}

fn out_of_range(role: Role, v: f64) -> Option<String> {
    let c = v - 273.15;
    match role {
        r if r.is_water() && !(-3.0..=135.0).contains(&c) => Some(format!(
            "{c:.0} °C is no temperature of liquid water in such a rig"
        )),
        Role::Ambient if !(-60.0..=60.0).contains(&c) => Some(format!("{c:.0} °C is no weather")),
        Role::FlueO2 | Role::FlueCo2 if !(0.0..=0.215).contains(&v) => {
            Some(format!("{:.1} % cannot be in flue gas", 100.0 * v))
        }
        r if r.kind() == Some(crate::units::Kind::Temperature)
            && !(-60.0..=1500.0).contains(&c) =>
        {
            Some(format!("{c:.0} °C is out of any probe's reach"))
        }
        _ => None,
    }
}

/// One or two readings that leave their neighbours and come back (a Hampel filter with a floor).
fn spikes(ch: &Channel, why: &mut [Option<(FlagKind, String)>]) {
    let good: Vec<usize> = (0..why.len()).filter(|i| why[*i].is_none()).collect();
    let floor_k: f64 = match ch.role {
        r if r.is_gas() => 120.0,
        Role::CoilOut | Role::Other => 25.0,
        _ => 4.0,
    };
    let median = |mut v: Vec<f64>| {
        v.sort_by(f64::total_cmp);
        v.get(v.len() / 2).copied().unwrap_or(f64::NAN)
    };
    for k in 2..good.len().saturating_sub(2) {
        let side = |range: std::ops::Range<usize>| {
            median(good[range].iter().map(|i| ch.value[*i]).collect())
        };
        let left = side(k.saturating_sub(3)..k);
        let right = side(k + 1..(k + 4).min(good.len()));
        let v = ch.value[good[k]];
        let away = (v - left).abs().min((v - right).abs());
        // Scatter about the line from one side to the other: a climb is none.
        let per_row = (right - left) / 4.0;
        let spread = median(
            (k.saturating_sub(4)..(k + 5).min(good.len()))
                .map(|j| {
                    let line = 0.5 * (left + right) + per_row * (j as f64 - k as f64);
                    (ch.value[good[j]] - line).abs()
                })
                .collect(),
        );
        let same_side = (v - left) * (v - right) > 0.0;
        if same_side && away > floor_k.max(8.0 * spread) && (left - right).abs() < 0.5 * away {
            why[good[k]] = Some((
                FlagKind::Spike,
                format!("{away:.0} K away from the readings before and after it"),
            ));
        }
    }
}

/// The same figure for a long time, and then a jump, or in the midst of a steady climb.
fn stuck(ch: &Channel, raw: &[f64], why: &mut [Option<(FlagKind, String)>]) {
    let good: Vec<usize> = (0..why.len()).filter(|i| why[*i].is_none()).collect();
    let (jump, text) = match ch.role.kind() {
        Some(crate::units::Kind::Temperature) => ((6.0 * ch.resolution).max(3.0), "K"),
        _ => return,
    };
    let mut a = 0;
    while a < good.len() {
        let mut b = a + 1;
        while b < good.len() && raw[good[b]] == raw[good[a]] {
            b += 1;
        }
        let (first, last) = (good[a], good[b - 1]);
        let lasts_s = ch.time_s[last] - ch.time_s[first];
        if b - a >= STUCK_ROWS && lasts_s >= STUCK_S {
            let after = good.get(b).map(|j| (ch.value[*j] - ch.value[first]).abs());
            // Climb over as long a time before, as it would have gone on.
            let from = ch.time_s[first] - lasts_s.min(1800.0);
            let earlier = good[..a].iter().find(|j| ch.time_s[**j] >= from);
            let climb = earlier.map(|j| {
                let slope =
                    (ch.value[first] - ch.value[*j]) / (ch.time_s[first] - ch.time_s[*j]).max(1.0);
                (slope * lasts_s).abs()
            });
            let reason = match (after, climb) {
                (Some(j), _) if j > jump => Some(format!(
                    "the same figure for {:.0} min, then a jump of {j:.1} {text}",
                    lasts_s / 60.0
                )),
                (_, Some(c)) if c > 5.0 * jump => Some(format!(
                    "the same figure for {:.0} min in the midst of a climb that would have made {c:.0} {text}",
                    lasts_s / 60.0
                )),
                _ => None,
            };
            if let Some(reason) = reason {
                // The first of them may be the last good one.
                for i in &good[a + 1..b] {
                    why[*i] = Some((FlagKind::Stuck, reason.clone()));
                }
            }
        }
        a = b;
    }
}

fn spans(ch: &mut Channel, why: &[Option<(FlagKind, String)>], flags: &mut Vec<Flag>) {
    let mut i = 0;
    while i < why.len() {
        let Some((kind, reason)) = &why[i] else {
            i += 1;
            continue;
        };
        let mut j = i;
        while j + 1 < why.len() && why[j + 1].as_ref().is_some_and(|(k, _)| k == kind) {
            j += 1;
        }
        for good in &mut ch.good[i..=j] {
            *good = false;
        }
        flags.push(Flag {
            kind: *kind,
            channel: ch.name.clone(),
            first_line: ch.line[i],
            last_line: ch.line[j],
            first_s: ch.time_s[i],
            last_s: ch.time_s[j],
            readings: j - i + 1,
            reason: reason.clone(),
            left_out: true,
        });
        i = j + 1;
    }
}

/// Missing readings of a channel as spans: `(row, line, time, what was written)` in order of rows.
pub(super) fn drop_outs(
    name: &str,
    missing: &[(usize, usize, f64, String)],
    flags: &mut Vec<Flag>,
) {
    for run in missing.chunk_by(|a, b| b.0 == a.0 + 1) {
        let (Some(first), Some(last)) = (run.first(), run.last()) else {
            continue;
        };
        let what = match first.3.as_str() {
            "" => "an empty cell".to_owned(),
            word => format!("\"{word}\""),
        };
        flags.push(Flag {
            kind: FlagKind::DropOut,
            channel: name.to_owned(),
            first_line: first.1,
            last_line: last.1,
            first_s: first.2,
            last_s: last.2,
            readings: run.len(),
            reason: format!("{what} where a reading should be"),
            left_out: true,
        });
    }
}
