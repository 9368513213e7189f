//! Tubes by trade size: outside and inside diameter.
//!
//! The trap: North American copper plumbing tube is named by a nominal size that is neither diameter. "1/2 in"
//! plumbing tube is 5/8 in (15.9 mm) outside; refrigeration tube of "1/2 in" is 1/2 in (12.7 mm) outside.

use super::normal_name;

const INCH_M: f64 = 0.0254;

/// A tube of a standard size.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// Name in the form that [`by_name`] reads back.
    pub name: String,
    pub outside_m: f64,
    pub inside_m: f64,
    pub standard: &'static str,
    /// Name of the usual metal in `metals`.
    pub metal: &'static str,
}

impl Tube {
    /// Wall thickness.
    pub fn wall_m(&self) -> f64 {
        0.5 * (self.outside_m - self.inside_m)
    }
}

/// ASTM B88 water tube, from memory: nominal, outside, walls of types K, L, M, all in inches (0: not made).
const B88: &[(&str, f64, [f64; 3])] = &[
    ("1/4", 0.375, [0.035, 0.030, 0.0]),
    ("3/8", 0.500, [0.049, 0.035, 0.025]),
    ("1/2", 0.625, [0.049, 0.040, 0.028]),
    ("5/8", 0.750, [0.049, 0.042, 0.0]),
    ("3/4", 0.875, [0.065, 0.045, 0.032]),
    ("1", 1.125, [0.065, 0.050, 0.035]),
    ("1-1/4", 1.375, [0.065, 0.055, 0.042]),
    ("1-1/2", 1.625, [0.072, 0.060, 0.049]),
    ("2", 2.125, [0.083, 0.070, 0.058]),
];
const B88_TYPES: [&str; 3] = ["K", "L", "M"];

/// ASTM B280 refrigeration tube, coils, from memory: outside diameter and wall, inches.
const B280: &[(&str, f64, f64)] = &[
    ("1/4", 0.250, 0.030),
    ("5/16", 0.3125, 0.032),
    ("3/8", 0.375, 0.032),
    ("1/2", 0.500, 0.032),
    ("5/8", 0.625, 0.035),
    ("3/4", 0.750, 0.035),
    ("7/8", 0.875, 0.045),
    ("1-1/8", 1.125, 0.050),
    ("1-3/8", 1.375, 0.055),
];

/// EN 1057 copper, from memory: outside and wall, mm.
const EN1057: &[(f64, f64)] = &[
    (8.0, 1.0),
    (10.0, 1.0),
    (12.0, 1.0),
    (15.0, 0.7),
    (15.0, 1.0),
    (18.0, 1.0),
    (22.0, 0.9),
    (22.0, 1.0),
    (22.0, 1.2),
    (22.0, 1.5),
    (28.0, 0.9),
    (28.0, 1.0),
    (28.0, 1.2),
    (28.0, 1.5),
    (35.0, 1.2),
    (35.0, 1.5),
    (42.0, 1.2),
    (42.0, 1.5),
    (54.0, 1.5),
    (54.0, 2.0),
];

/// EN 10312 stainless press-fit tube, from memory: outside and wall, mm.
const EN10312: &[(f64, f64)] = &[
    (15.0, 1.0),
    (18.0, 1.0),
    (22.0, 1.2),
    (28.0, 1.2),
    (35.0, 1.5),
    (42.0, 1.5),
    (54.0, 1.5),
];

/// One size of steel pipe: outside and wall in mm.
struct SteelSize {
    dn: &'static str,
    inch: &'static str,
    /// ISO 65 medium.
    iso: (f64, f64),
    /// Schedule 40 of ASME B36.10M.
    sch40: (f64, f64),
}

const fn steel(
    dn: &'static str,
    inch: &'static str,
    iso: (f64, f64),
    sch40: (f64, f64),
) -> SteelSize {
    SteelSize {
        dn,
        inch,
        iso,
        sch40,
    }
}

/// Steel pipe, from memory.
const STEEL: &[SteelSize] = &[
    steel("DN10", "3/8", (17.2, 2.3), (17.1, 2.31)),
    steel("DN15", "1/2", (21.3, 2.6), (21.3, 2.77)),
    steel("DN20", "3/4", (26.9, 2.6), (26.7, 2.87)),
    steel("DN25", "1", (33.7, 3.2), (33.4, 3.38)),
    steel("DN32", "1-1/4", (42.4, 3.2), (42.2, 3.56)),
    steel("DN40", "1-1/2", (48.3, 3.2), (48.3, 3.68)),
    steel("DN50", "2", (60.3, 3.6), (60.3, 3.91)),
];

fn tube(
    name: String,
    outside_m: f64,
    wall_m: f64,
    standard: &'static str,
    metal: &'static str,
) -> Tube {
    Tube {
        name,
        outside_m,
        inside_m: outside_m - 2.0 * wall_m,
        standard,
        metal,
    }
}

/// The whole table, in a fixed order.
pub fn table() -> Vec<Tube> {
    let mut all = Vec::new();
    for &(nominal, outside, walls) in B88 {
        for (kind, wall) in B88_TYPES.iter().zip(walls) {
            if wall > 0.0 {
                all.push(tube(
                    format!("{nominal} in type {kind}"),
                    outside * INCH_M,
                    wall * INCH_M,
                    "ASTM B88",
                    "copper",
                ));
            }
        }
    }
    for &(outside_name, outside, wall) in B280 {
        all.push(tube(
            format!("{outside_name} in ACR"),
            outside * INCH_M,
            wall * INCH_M,
            "ASTM B280",
            "copper",
        ));
    }
    for &(outside, wall) in EN1057 {
        all.push(tube(
            format!("{outside}x{wall} copper"),
            outside * 1e-3,
            wall * 1e-3,
            "EN 1057",
            "copper",
        ));
    }
    for &(outside, wall) in EN10312 {
        all.push(tube(
            format!("{outside}x{wall} stainless"),
            outside * 1e-3,
            wall * 1e-3,
            "EN 10312",
            "stainless steel 316",
        ));
    }
    for s in STEEL {
        all.push(tube(
            format!("{} steel", s.dn),
            s.iso.0 * 1e-3,
            s.iso.1 * 1e-3,
            "ISO 65 medium",
            "carbon steel",
        ));
        all.push(tube(
            format!("{} in schedule 40", s.inch),
            s.sch40.0 * 1e-3,
            s.sch40.1 * 1e-3,
            "ASME B36.10M",
            "carbon steel",
        ));
    }
    all
}

/// Names that [`by_name`] knows, one spelling each.
pub fn names() -> Vec<String> {
    table().into_iter().map(|t| t.name).collect()
}

/// Finds a tube by its trade name.
///
/// `1/2 in type L`, `type L 1/2"`, `1/2 inch L copper`, `1/2 in ACR`, `22x1`, `22 x 1.0 mm copper`, `DN20`,
/// `3/4 in schedule 40`, `sch 40 3/4` are all read. A bare inch size is ambiguous and gives `None`: plumbing
/// tube needs its type (K, L, M), refrigeration tube the word ACR. A bare metric size is EN 1057 copper.
pub fn by_name(name: &str) -> Option<Tube> {
    let wanted = key(name);
    if wanted.is_empty() {
        return None;
    }
    table().into_iter().find(|t| {
        let full = key(&t.name);
        full == wanted || short_keys(&full).contains(&wanted)
    })
}

/// Order-free form of a tube name: its telling words, sorted.
fn key(name: &str) -> String {
    let spaced = normal_name(
        &name
            .replace(['"', '\u{2033}', '\u{201d}'], " in ")
            .replace('\u{d7}', "x")
            .replace(',', "."),
    );
    let mut words: Vec<String> = Vec::new();
    for w in spaced.split(' ').map(|w| w.trim_end_matches('.')) {
        match w {
            "in" | "inch" | "inches" | "type" | "tube" | "tubing" | "pipe" | "od" | "mm"
            | "nominal" | "medium" => {}
            "sch" | "sch40" | "schedule" => words.push("schedule".into()),
            "refrigeration" => words.push("acr".into()),
            "black" | "galvanised" | "galvanized" => words.push("steel".into()),
            _ => words.push(w.strip_suffix("mm").unwrap_or(w).to_string()),
        }
    }
    // "1 1/4" (also from "1-1/4") is one size; "22 x 1" is one size.
    let mut joined: Vec<String> = Vec::new();
    let mut i = 0;
    while i < words.len() {
        let next = words.get(i + 1).map(String::as_str);
        if matches!(words[i].as_str(), "1" | "2") && next.is_some_and(|n| n.contains('/')) {
            joined.push(format!("{}-{}", words[i], words[i + 1]));
            i += 2;
        } else if next == Some("x") && i + 2 < words.len() {
            joined.push(metric(&words[i], &words[i + 2]));
            i += 3;
        } else if let Some((a, b)) = words[i].split_once('x').filter(|(a, _)| !a.is_empty()) {
            joined.push(metric(a, b));
            i += 1;
        } else if words[i] == "dn" && next.is_some() {
            joined.push(format!("dn{}", words[i + 1]));
            i += 2;
        } else {
            joined.push(words[i].clone());
            i += 1;
        }
    }
    // "schedule 40" and "sch40" alike; the number says nothing more.
    if joined.iter().any(|w| w == "schedule") {
        joined.retain(|w| w != "40" && w != "steel");
    }
    joined.sort();
    joined.join(" ")
}

/// `22` and `1.0` to `22x1`; words that are no numbers stay as they are.
fn metric(a: &str, b: &str) -> String {
    match (a.parse::<f64>(), b.parse::<f64>()) {
        (Ok(a), Ok(b)) => format!("{a}x{b}"),
        _ => format!("{a}x{b}"),
    }
}

/// Other sufficient forms of a full key: plumbing tube with "copper", metric copper and DN without the metal.
fn short_keys(full: &str) -> Vec<String> {
    let mut keys = Vec::new();
    let words: Vec<&str> = full.split(' ').collect();
    let with = |extra: &str| {
        let mut w = words.clone();
        w.push(extra);
        w.sort_unstable();
        w.join(" ")
    };
    let without = |gone: &str| {
        words
            .iter()
            .filter(|w| **w != gone)
            .copied()
            .collect::<Vec<_>>()
            .join(" ")
    };
    let is = |w: &str| words.contains(&w);
    if is("k") || is("l") || is("m") || is("acr") {
        keys.push(with("copper"));
    } else if is("copper") {
        keys.push(without("copper"));
    } else if is("steel") && words.iter().any(|w| w.starts_with("dn")) {
        keys.push(without("steel"));
    } else if is("stainless") {
        keys.push(with("steel"));
    }
    keys
}
