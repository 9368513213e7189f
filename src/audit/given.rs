//! What the mapping states about tank, wood and surroundings, in SI; what nobody stated, taken by a named default.

use crate::logs::{Mapping, Problem, Reading, Severity};
use crate::properties::{metals, wood};
use crate::units::{Kind, parse};

/// What a scenario knows of the rig, for what the mapping leaves open.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RigFacts {
    pub volume_m3: Option<f64>,
    pub metal_j_k: Option<f64>,
    pub loss_w_k: Option<f64>,
    pub ambient_k: Option<f64>,
    pub species: Option<String>,
    pub moisture_wet: Option<f64>,
    /// Heat capacity of the fire side's walls.
    pub walls_j_k: Option<f64>,
}

/// Wood as burnt.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fuel {
    pub name: String,
    /// Carbon, hydrogen and oxygen, dry basis.
    pub cho: [f64; 3],
    pub gross_dry_j_kg: f64,
    pub gross_standard: f64,
    pub gross_source: String,
    pub moisture_wet: f64,
    pub moisture_standard: f64,
    pub moisture_freedom: f64,
    pub moisture_source: String,
    /// As fired, where it was stated.
    pub net: Option<(f64, f64)>,
    pub density_kg_m3: f64,
    pub char_yield_dry: f64,
    pub scale_kg: f64,
    pub scale_freedom: f64,
    pub total_kg: Option<f64>,
    pub char_left_kg: Option<f64>,
    /// Middle, low, high.
    pub air_ratio: [f64; 3],
    pub air_ratio_given: bool,
}

/// Water drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DrawGiven {
    pub at: String,
    pub volume_m3: f64,
    /// Relative standard uncertainty.
    pub volume_share: f64,
    pub hot_k: Option<f64>,
    pub cold_k: Option<f64>,
}

/// Open water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SurfaceGiven {
    pub area_m2: f64,
    pub open_share: f64,
    pub humidity: f64,
    pub wind_m_s: f64,
}

/// Pipes between coil and tank, both ways together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PipeGiven {
    pub length_m: f64,
    pub inside_m: f64,
    pub loss_w_mk: f64,
    pub loss_source: String,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Given {
    pub volume_m3: f64,
    pub volume_standard: f64,
    pub volume_freedom: f64,
    pub draws: Vec<DrawGiven>,
    pub surface: Option<SurfaceGiven>,
    pub pipe: Option<PipeGiven>,
    pub volume_source: String,
    pub metal_j_k: f64,
    pub metal_source: String,
    pub loss_w_k: Option<f64>,
    pub ambient_k: f64,
    pub stirred: bool,
    pub walls_j_k: Option<f64>,
    pub wall_rise_k: Option<f64>,
    pub pump_w: Option<f64>,
    pub fuel: Fuel,
    pub assumed: Vec<(String, String, String)>,
}

struct Reader<'a> {
    problems: &'a mut Vec<Problem>,
    assumed: Vec<(String, String, String)>,
}

impl Reader<'_> {
    fn si(&mut self, kind: Kind, key: &str, text: Option<&String>) -> Option<f64> {
        match parse(kind, text?) {
            Ok(p) => Some(p.si),
            Err(e) => {
                self.problems
                    .push(Problem::error(format!("`{key}`: {e}"), e.help()));
                None
            }
        }
    }

    /// A figure that must be greater than nothing.
    fn positive(&mut self, kind: Kind, key: &str, text: Option<&String>) -> Option<f64> {
        let v = self.si(kind, key, text)?;
        if v > 0.0 {
            return Some(v);
        }
        self.problems.push(Problem::error(
            format!(
                "`{key}` is \"{}\" and must be greater than nothing",
                text.map_or("", String::as_str)
            ),
            "",
        ));
        None
    }

    /// Degrees of freedom of an uncertainty from `n` repeated readings; without them it is taken as known.
    fn freedom(&mut self, key: &str, n: Option<u32>, stated: bool) -> f64 {
        match n {
            None => f64::INFINITY,
            Some(n) if n >= 2 && stated => f64::from(n - 1),
            Some(n) => {
                self.problems.push(Problem::error(
                    format!("`{key}` is {n}"),
                    "it is the number of repeated readings, two or more, that a stated uncertainty beside it comes from",
                ));
                f64::INFINITY
            }
        }
    }

    fn assume(&mut self, what: &str, value: &str, why: &str) {
        self.assumed
            .push((what.to_owned(), value.to_owned(), why.to_owned()));
    }
}

pub(super) fn given(
    map: &Mapping,
    facts: &RigFacts,
    reading: &Reading,
    problems: &mut Vec<Problem>,
) -> Given {
    let mut r = Reader {
        problems,
        assumed: Vec::new(),
    };
    let rig = &map.rig;
    let stated = r.positive(Kind::Volume, "rig.volume", rig.volume.as_ref());
    let from_rig = |own: bool, other: bool| match (own, other) {
        (true, _) => "mapping".to_owned(),
        (_, true) => "scenario of the rig".to_owned(),
        _ => "assumed".to_owned(),
    };
    let volume_source = from_rig(stated.is_some(), facts.volume_m3.is_some());
    let volume_m3 = stated.or(facts.volume_m3);
    if volume_m3.is_none() && rig.volume.is_none() {
        r.problems.push(Problem::error(
            "how much water the tank holds is not known, and no heat can be reckoned without",
            "write `volume = \"200 L\"` under [rig] of the mapping, or `--set 'rig.volume=200 L'`, or name the rig's scenario with --rig",
        ));
    }
    let volume_m3 = volume_m3.unwrap_or(f64::NAN);
    let volume_standard = match r.si(
        Kind::Fraction,
        "rig.volume_uncertainty",
        rig.volume_uncertainty.as_ref(),
    ) {
        Some(share) => share * volume_m3,
        None => {
            r.assume(
                "volume_uncertainty",
                "2 %",
                "a filled level read to a few millimetres; common practice, no source",
            );
            0.02 * volume_m3
        }
    };
    let volume_freedom = r.freedom(
        "rig.volume_readings",
        rig.volume_readings,
        rig.volume_uncertainty.is_some(),
    );
    let draws = draws(&mut r, map);
    let surface = surface(&mut r, rig);
    let pipe = pipe(&mut r, rig);
    let capacity = r.si(
        Kind::HeatCapacity,
        "rig.metal_heat_capacity",
        rig.metal_heat_capacity.as_ref(),
    );
    let mass = r.si(Kind::Mass, "rig.metal_mass", rig.metal_mass.as_ref());
    let metal = rig.metal.as_deref().unwrap_or("steel");
    let by_mass = match (mass, metals::by_name(metal)) {
        (Some(kg), Some(m)) => Some(kg * m.heat_capacity_j_kgk),
        // Carbon steel of drums and tanks.
        (Some(kg), None) if metal.to_lowercase().contains("steel") => Some(kg * 480.0),
        (Some(_), None) => {
            r.problems.push(Problem::error(
                format!("`rig.metal` is \"{metal}\""),
                format!(
                    "known metals: steel, {}; or give `metal_heat_capacity`",
                    metals::names().join(", ")
                ),
            ));
            None
        }
        (None, _) => None,
    };
    let metal_source = from_rig(capacity.or(by_mass).is_some(), facts.metal_j_k.is_some());
    let metal_j_k = capacity.or(by_mass).or(facts.metal_j_k).unwrap_or_else(|| {
        r.assume(
            "metal",
            "0 kJ/K",
            "no metal was stated: its heat is left out, so the heat is a little low",
        );
        0.0
    });
    let loss_w_k = r
        .si(Kind::Conductance, "rig.loss", rig.loss.as_ref())
        .or(facts.loss_w_k);
    let measured = mean_of(reading, |role| role == crate::logs::Role::Ambient);
    let ambient_k = r.si(Kind::Temperature, "rig.ambient", rig.ambient.as_ref()).or(measured).or(facts.ambient_k).unwrap_or_else(|| {
        r.assume("ambient", "10 °C", "no probe and no figure for the air; moves the stack loss by 0.3 % of it per kelvin or so");
        283.15
    });
    let walls = r
        .positive(Kind::Mass, "rig.wall_mass", rig.wall_mass.as_ref())
        .map(|kg| 900.0 * kg);
    let wall_rise_k = r.si(
        Kind::TemperatureDifference,
        "rig.wall_rise",
        rig.wall_rise.as_ref(),
    );
    let pump_w = r.si(Kind::Power, "rig.pump_power", rig.pump_power.as_ref());
    let fuel = fuel(&mut r, map, facts);
    let assumed = std::mem::take(&mut r.assumed);
    Given {
        volume_m3,
        volume_standard,
        volume_freedom,
        draws,
        surface,
        pipe,
        volume_source,
        metal_j_k,
        metal_source,
        loss_w_k,
        ambient_k,
        stirred: rig.stirred.unwrap_or(false),
        walls_j_k: walls.or(facts.walls_j_k),
        wall_rise_k,
        pump_w,
        fuel,
        assumed,
    }
}

fn draws(r: &mut Reader, map: &Mapping) -> Vec<DrawGiven> {
    let mut out = Vec::new();
    for (i, d) in map.draw.iter().enumerate() {
        let key = |k: &str| format!("draw {}: {k}", i + 1);
        let volume_m3 = r.positive(Kind::Volume, &key("volume"), Some(&d.volume));
        let share = r.si(
            Kind::Fraction,
            &key("volume_uncertainty"),
            d.volume_uncertainty.as_ref(),
        );
        let hot_k = r.si(
            Kind::Temperature,
            &key("temperature"),
            d.temperature.as_ref(),
        );
        let cold_k = r.si(Kind::Temperature, &key("cold"), d.cold.as_ref());
        out.extend(volume_m3.map(|volume_m3| DrawGiven {
            at: d.at.clone(),
            volume_m3,
            volume_share: share.unwrap_or(super::beside::DRAW_VOLUME),
            hot_k,
            cold_k,
        }));
    }
    if map.draw.iter().any(|d| d.volume_uncertainty.is_none()) {
        r.assume(
            "volume_uncertainty of draws",
            "5 %",
            "a bucket or a timed tap; common practice, no source",
        );
    }
    out
}

fn surface(r: &mut Reader, rig: &crate::logs::RigMap) -> Option<SurfaceGiven> {
    let open = r.si(
        Kind::Fraction,
        "rig.surface_open",
        rig.surface_open.as_ref(),
    );
    let humidity = r.si(Kind::Fraction, "rig.humidity", rig.humidity.as_ref());
    let wind = r.si(Kind::Speed, "rig.wind", rig.wind.as_ref());
    let area_m2 = r.positive(Kind::Area, "rig.surface", rig.surface.as_ref());
    if rig.surface.is_none() && (open.is_some() || humidity.is_some() || wind.is_some()) {
        r.problems.push(Problem::error(
            "`surface_open`, `humidity` and `wind` tell nothing without the water's surface",
            "write `surface = \"2 m2\"` under [rig]",
        ));
    }
    let area_m2 = area_m2?;
    for (key, v) in [("surface_open", open), ("humidity", humidity)] {
        if v.is_some_and(|v| !(0.0..=1.0).contains(&v)) {
            r.problems.push(Problem::error(
                format!("`rig.{key}` lies outside 0 to 100 %"),
                "",
            ));
        }
    }
    if open.is_none() {
        r.assume("surface_open", "100 %", "no lid was stated");
    }
    if humidity.is_none() {
        r.assume(
            "humidity",
            "70 %",
            "not stated; matters little over warm water",
        );
    }
    if wind.is_none() {
        r.assume(
            "wind",
            "0 m/s",
            "not stated: still air, so the evaporation is a little low",
        );
    }
    Some(SurfaceGiven {
        area_m2,
        open_share: open.unwrap_or(1.0),
        humidity: humidity.unwrap_or(0.7),
        wind_m_s: wind.unwrap_or(0.0).max(0.0),
    })
}

/// Wall of a hose or pipe, and film of bare pipe with radiation (common practice, no source).
const PIPE_WALL_M: f64 = 0.002;
const BARE_W_M2K: f64 = 10.0;

fn pipe(r: &mut Reader, rig: &crate::logs::RigMap) -> Option<PipeGiven> {
    let inside = r.positive(Kind::Length, "rig.pipe_inside", rig.pipe_inside.as_ref());
    let loss = r.positive(
        Kind::ConductancePerLength,
        "rig.pipe_loss",
        rig.pipe_loss.as_ref(),
    );
    let length = r.positive(Kind::Length, "rig.pipe_length", rig.pipe_length.as_ref());
    if rig.pipe_length.is_none() && (rig.pipe_inside.is_some() || rig.pipe_loss.is_some()) {
        r.problems.push(Problem::error(
            "`pipe_inside` and `pipe_loss` tell nothing without the pipe's length",
            "write `pipe_length = \"6 m\"` (both ways together) under [rig]",
        ));
    }
    let length_m = length?;
    let inside_m = inside.unwrap_or_else(|| {
        r.assume("pipe_inside", "20 mm", "not stated; a common hose or pipe");
        0.020
    });
    let bare = std::f64::consts::PI * (inside_m + 2.0 * PIPE_WALL_M) * BARE_W_M2K;
    Some(PipeGiven {
        length_m,
        inside_m,
        loss_w_mk: loss.unwrap_or(bare),
        loss_source: if loss.is_some() {
            "as stated".into()
        } else {
            "bare pipe, 10 W/(m² K) of its outside; common practice, no source".into()
        },
    })
}

fn fuel(r: &mut Reader, map: &Mapping, facts: &RigFacts) -> Fuel {
    let f = &map.fuel;
    let named = f.species.clone().or_else(|| facts.species.clone());
    let found = named.as_deref().and_then(wood::by_name);
    if let (Some(name), None, true) = (&named, found, f.species.is_some()) {
        r.problems.push(Problem::error(
            format!("`fuel.species` is \"{name}\", which is not in the table of woods"),
            format!("write one of: {}", wood::names().join(", ")),
        ));
    }
    let known = found.is_some();
    let species = found
        .or_else(|| wood::by_name("hardwood"))
        .or_else(|| wood::table().first());
    let (cho, table_gross, h_name, density, char_yield) = match species {
        Some(w) => {
            let (c, h, o, _) = w.dry_basis();
            (
                [c, h, o],
                w.gross_heating_value_dry_j_kg(),
                w.name,
                w.density_kg_m3,
                w.char_yield_dry,
            )
        }
        None => ([0.49, 0.062, 0.44], 19.8e6, "wood", 600.0, 0.17),
    };
    let net = r.positive(Kind::HeatingValue, "fuel.net", f.net.as_ref());
    let net_share = r.si(
        Kind::Fraction,
        "fuel.net_uncertainty",
        f.net_uncertainty.as_ref(),
    );
    if !known && net.is_none() {
        r.assume(
            "species",
            h_name,
            "no species was stated; woods differ by some 3 % per dry kilogram",
        );
    }
    let gross = r.positive(Kind::HeatingValue, "fuel.gross_dry", f.gross_dry.as_ref());
    let (gross_dry_j_kg, share, gross_source) = match gross {
        Some(v) => (v, 0.01, "mapping, 1 %".to_owned()),
        None if known => (
            table_gross,
            0.02,
            format!("{h_name} by its elements (Channiwala and Parikh 2002), 2 %"),
        ),
        None => (table_gross, 0.03, format!("{h_name}, assumed, 3 %")),
    };
    let basis = f.moisture_basis.as_deref().map(|b| b.trim().to_lowercase());
    let figure = r.si(Kind::Fraction, "fuel.moisture", f.moisture.as_ref());
    let moisture = match (figure, basis.as_deref()) {
        (Some(m), Some("wet")) => Some(m),
        (Some(m), Some("dry")) => Some(wood::wet_from_dry_basis(m)),
        (Some(m), None) => {
            r.problems.push(Problem::error(
                format!("the moisture of {:.0} % has no basis", 100.0 * m),
                format!(
                    "write `moisture_basis = \"wet\"` (share of the moist weight) or \"dry\" (of the dry weight, as meters for timber show): {:.0} % dry is {:.1} % wet",
                    100.0 * m,
                    100.0 * wood::wet_from_dry_basis(m)
                ),
            ));
            None
        }
        (_, Some(other)) if other != "wet" && other != "dry" => {
            r.problems.push(Problem::error(
                format!("`fuel.moisture_basis` is \"{other}\""),
                "write \"wet\" or \"dry\"",
            ));
            None
        }
        _ => None,
    };
    if moisture.is_some_and(|m| !(0.0..0.7).contains(&m)) {
        r.problems.push(Problem::error(
            "the moisture of the wood lies outside 0 to 70 % of the moist weight",
            "",
        ));
    }
    let u_moisture = r.si(
        Kind::Fraction,
        "fuel.moisture_uncertainty",
        f.moisture_uncertainty.as_ref(),
    );
    let (moisture_wet, moisture_standard, moisture_source) = match moisture {
        Some(m) => (
            m.clamp(0.0, 0.7),
            u_moisture.unwrap_or(0.02),
            format!(
                "mapping{}",
                if u_moisture.is_some() {
                    ""
                } else {
                    "; a meter's 2 points"
                }
            ),
        ),
        None => match facts.moisture_wet {
            Some(m) => (
                m,
                u_moisture.unwrap_or(0.03),
                "scenario of the rig, 3 points".to_owned(),
            ),
            None => {
                if net.is_none() {
                    r.assume(
                        "moisture",
                        "20 % wet basis ± 5 points",
                        "not stated; air-dry wood lies between 12 and 28 %",
                    );
                }
                (0.20, 0.05, "assumed: air-dry".to_owned())
            }
        },
    };
    let scale = r.si(
        Kind::Mass,
        "fuel.scale_uncertainty",
        f.scale_uncertainty.as_ref(),
    );
    let scale_kg = scale.unwrap_or_else(|| {
        r.assume(
            "scale_uncertainty",
            "0.05 kg",
            "a hanging or kitchen scale; common practice, no source",
        );
        0.05
    });
    let moisture_freedom = r.freedom(
        "fuel.moisture_readings",
        f.moisture_readings,
        u_moisture.is_some(),
    );
    let scale_freedom = r.freedom("fuel.scale_readings", f.scale_readings, scale.is_some());
    let ratio = |r: &mut Reader, key, text: Option<&String>| r.positive(Kind::Number, key, text);
    let mid = ratio(r, "fuel.air_ratio", f.air_ratio.as_ref());
    let low = ratio(r, "fuel.air_ratio_low", f.air_ratio_low.as_ref());
    let high = ratio(r, "fuel.air_ratio_high", f.air_ratio_high.as_ref());
    let middle = mid.unwrap_or(2.8);
    Fuel {
        name: if known {
            h_name.to_owned()
        } else {
            format!("{h_name} (assumed)")
        },
        cho,
        gross_dry_j_kg,
        gross_standard: share * gross_dry_j_kg,
        gross_source,
        moisture_wet,
        moisture_standard,
        moisture_freedom,
        moisture_source,
        net: net.map(|v| (v, net_share.unwrap_or(0.03) * v)),
        density_kg_m3: density,
        char_yield_dry: char_yield,
        scale_kg,
        scale_freedom,
        total_kg: r.positive(Kind::Mass, "fuel.mass", f.mass.as_ref()),
        char_left_kg: r.si(Kind::Mass, "fuel.char_left", f.char_left.as_ref()),
        air_ratio: [
            middle,
            low.unwrap_or(if mid.is_some() { 0.8 * middle } else { 1.8 }),
            high.unwrap_or(if mid.is_some() { 1.25 * middle } else { 4.5 }),
        ],
        air_ratio_given: mid.is_some(),
    }
}

/// Mean of all good readings of the channels with such a role.
pub(super) fn mean_of(reading: &Reading, of: impl Fn(crate::logs::Role) -> bool) -> Option<f64> {
    let (mut sum, mut n) = (0.0, 0usize);
    for channel in reading.channels.iter().filter(|c| of(c.role)) {
        for (_, v) in channel.kept() {
            sum += v;
            n += 1;
        }
    }
    (n > 0).then(|| sum / n as f64)
}

/// Whether problems refuse the audit.
pub(super) fn refused(problems: &[Problem]) -> bool {
    problems.iter().any(|p| p.severity == Severity::Error)
}
