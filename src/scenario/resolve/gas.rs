//! Gas path: sections, bores, walls.

use super::{Cx, damp, si, text, word};
use crate::components::spec::{Bore, Layer, Section, SectionKind};
use crate::properties::solids;
use crate::scenario::codes;
use crate::scenario::raw::types::{At, Curve, List, OfKind};
use crate::scenario::raw::{Part, RawLayer, RawScenario, RawSection};
use crate::units::{UnitSystem, format_length};
use std::ops::Range;

/// A metal sheet up to this thickness is one node.
const THIN_SHEET_M: f64 = 6e-3;
/// Own figures above this conductivity make a metal.
const METAL_W_MK: f64 = 10.0;

/// The word of a part, as it stands in the file.
fn part_word(part: Part) -> &'static str {
    match part {
        Part::Riser => "riser",
        Part::Mass => "mass",
        Part::Passage => "passage",
        Part::Bend => "bend",
        Part::Damper => "damper",
        Part::Flue => "flue",
        Part::Fan => "fan",
    }
}

/// Name of a section: its own, or that of its part.
pub(super) fn section_name(s: &RawSection) -> Option<String> {
    match text(&s.name) {
        Some(n) => Some(n.to_owned()),
        None => word(&s.part).map(|p| part_word(p).to_owned()),
    }
}

/// All sections, in order.
pub(super) fn path(raw: &RawScenario, cx: &mut Cx<'_>) -> Option<Vec<Section>> {
    let list = &raw.gas_path.as_ref()?.value.0;
    let mut out = Vec::new();
    let mut seen: Vec<(String, Range<usize>)> = Vec::new();
    let mut damper: Option<Range<usize>> = None;
    for s in list {
        if let Some(name) = section_name(&s.value) {
            let at = s.value.name.as_ref().map_or(&s.span, |n| &n.span);
            if let Some((_, first)) = seen.iter().find(|(n, _)| *n == name) {
                let report = cx
                    .at(
                        &codes::DUPLICATE_NAME,
                        at,
                        format!("two sections of the gas path are named \"{name}\""),
                    )
                    .label("second")
                    .also(&first.clone(), "first")
                    .help("give each section a `name` of its own");
                cx.report(report);
            }
            seen.push((name, at.clone()));
        }
        if word(&s.value.part) == Some(Part::Damper) {
            if let Some(first) = &damper {
                let report = cx
                    .at(
                        &codes::NOT_MODELLED,
                        &s.span,
                        "two damper sections are not modelled yet",
                    )
                    .label("second")
                    .also(&first.clone(), "first");
                cx.report(report);
            } else {
                damper = Some(s.span.clone());
            }
        }
        out.push(section(s, cx));
    }
    if out.is_empty() {
        return None;
    }
    out.into_iter().collect()
}

fn section(raw: &At<RawSection>, cx: &mut Cx<'_>) -> Option<Section> {
    let s = &raw.value;
    let part = word(&s.part);
    let name = section_name(s);
    let path = format!("gas_path.{}", name.as_deref().unwrap_or("?"));
    let bore = bore(raw, &path, cx);
    let length_m = si(&s.length);
    let rise = rise_m(s, part, &path, cx);
    if let (Some(l), Some(r), Some(given)) = (length_m, rise, &s.rise)
        && r.abs() > l * (1.0 + 1e-9)
        && let Some(length) = &s.length
    {
        let report = cx
            .at(
                &codes::RISE,
                &given.span,
                format!("{path}.rise is larger than the length"),
            )
            .label("rise")
            .also(&length.span, "length");
        cx.report(report);
    }
    let loss = match (&s.loss, part) {
        (Some(q), _) => q.value.si(),
        (None, Some(p)) => {
            let key = format!("gas_path.loss/{}", part_word(p));
            cx.or(&s.loss, &format!("{path}.loss"), &key)
        }
        (None, None) => None,
    };
    let wall = wall(&s.wall, &path, cx);
    let roughness = match (&s.roughness, &wall) {
        (Some(q), _) => q.value.si(),
        (None, Some(w)) => {
            let kind = if w.first().is_some_and(|l| l.conductivity_w_mk > METAL_W_MK) {
                "metal"
            } else {
                "masonry"
            };
            let key = format!("gas_path.roughness/{kind}");
            cx.or(&s.roughness, &format!("{path}.roughness"), &key)
        }
        (None, None) => None,
    };
    let in_wind = cx.flag_or(
        &s.outdoors,
        &format!("{path}.outdoors"),
        "gas_path.outdoors",
    );
    let passages = match &s.passages {
        Some(n) => n.value.read,
        None => {
            cx.default_text(&format!("{path}.passages"), "gas_path.passages");
            Some(1)
        }
    };
    let kind = kind(raw, part, &path, cx);
    let in_water = match &s.in_water {
        Some(f) => f.value.read,
        None => Some(false),
    };
    let dry = dry_wall(raw, in_water, &path, cx);
    let (dry_share, dry_wall) = dry?;
    Some(Section {
        name: name?,
        kind: kind?,
        bore: bore?,
        passages: passages?,
        length_m: length_m?,
        rise_m: rise?,
        loss_k: loss?,
        roughness_m: roughness?,
        wall: wall?,
        in_wind: in_wind?,
        in_water: in_water?,
        dry_share,
        dry_wall,
        cells: match &s.cells {
            Some(c) => Some(c.value.read?),
            None => None,
        },
    })
}

/// Share and layers of a dry wall across the gas from the one in water; none where none is given.
fn dry_wall(
    raw: &At<RawSection>,
    in_water: Option<bool>,
    path: &str,
    cx: &mut Cx<'_>,
) -> Option<(f64, Vec<Layer>)> {
    let s = &raw.value;
    let (share, wall) = (format!("{path}.dry_share"), format!("{path}.dry_wall"));
    if in_water == Some(false) {
        let why = "no wall of this section stands in water; the section's one wall is `wall`";
        cx.no_effect(&s.dry_share, &share, why);
        cx.no_effect(&s.dry_wall, &wall, why);
        return Some((0.0, Vec::new()));
    }
    match (&s.dry_share, &s.dry_wall) {
        (None, None) => Some((0.0, Vec::new())),
        (Some(q), Some(_)) => {
            let layers = wall_of(&s.dry_wall, &wall, cx);
            Some((q.value.si()?, layers?))
        }
        (Some(q), None) => {
            cx.missing(
                &raw.span,
                format!("{wall} is missing: the layers of the dry part"),
            );
            q.value.si().map(|_| (0.0, Vec::new()))
        }
        (None, Some(_)) => {
            cx.missing(
                &raw.span,
                format!("{share} is missing: how much of the section's surface is dry"),
            );
            Some((0.0, Vec::new()))
        }
    }
}

fn rise_m(s: &RawSection, part: Option<Part>, path: &str, cx: &mut Cx<'_>) -> Option<f64> {
    if let Some(q) = &s.rise {
        return q.value.si();
    }
    let length_m = si(&s.length)?;
    let (rise_m, reason) = match part? {
        Part::Mass => (0.0, "a mass runs level unless said"),
        Part::Bend => (0.0, "a bend gains no height unless said"),
        _ => (length_m, "upright: as much as its length"),
    };
    cx.echo(
        format!("{path}.rise"),
        format_length(rise_m, UnitSystem::Metric),
        reason,
    );
    Some(rise_m)
}

fn bore(raw: &At<RawSection>, path: &str, cx: &mut Cx<'_>) -> Option<Bore> {
    let s = &raw.value;
    match (&s.bore, &s.width, &s.depth) {
        (Some(b), None, None) => b.value.si().map(|d| Bore::Round { diameter_m: d }),
        (Some(b), Some(o), _) | (Some(b), None, Some(o)) => {
            let name = if s.width.is_some() { "width" } else { "depth" };
            cx.conflict(
                (&b.span, "bore"),
                (&o.span, name),
                "a section is round or rectangular",
            );
            None
        }
        (None, Some(w), Some(d)) => Some(Bore::Rect {
            width_m: w.value.si()?,
            depth_m: d.value.si()?,
        }),
        (None, Some(_), None) => {
            cx.missing(
                &raw.span,
                format!("{path} needs \"depth\" beside \"width\""),
            );
            None
        }
        (None, None, Some(_)) => {
            cx.missing(
                &raw.span,
                format!("{path} needs \"width\" beside \"depth\""),
            );
            None
        }
        (None, None, None) => {
            cx.missing(
                &raw.span,
                format!("{path} needs \"bore\", or \"width\" and \"depth\""),
            );
            None
        }
    }
}

fn kind(
    raw: &At<RawSection>,
    part: Option<Part>,
    path: &str,
    cx: &mut Cx<'_>,
) -> Option<SectionKind> {
    let s = &raw.value;
    if part != Some(Part::Fan) && part.is_some() {
        cx.no_effect(
            &s.curve,
            &format!("{path}.curve"),
            "only a section with part = \"fan\" has a curve",
        );
    }
    Some(match part? {
        Part::Riser => SectionKind::Riser,
        Part::Mass => SectionKind::Mass,
        Part::Passage => SectionKind::Passage,
        Part::Bend => SectionKind::Bend,
        Part::Damper => SectionKind::Damper,
        Part::Flue => SectionKind::Flue,
        Part::Fan => {
            let Some(list) = &s.curve else {
                cx.missing(&raw.span, format!("{path}: a fan needs its \"curve\""));
                return None;
            };
            SectionKind::Fan {
                curve: curve(list, &format!("{path}.curve"), cx)?,
            }
        }
    })
}

/// A curve with rising first and falling second values.
pub(super) fn curve<A: OfKind, B: OfKind>(
    list: &Curve<A, B>,
    path: &str,
    cx: &mut Cx<'_>,
) -> Option<Vec<(f64, f64)>> {
    let mut points: Vec<(f64, f64)> = Vec::new();
    let mut sound = true;
    for p in &list.value.0 {
        let (a, b) = (p.value.0.value.si()?, p.value.1.value.si()?);
        if a < 0.0 || b < 0.0 {
            let report = cx
                .at(
                    &codes::CURVE,
                    &p.span,
                    format!("{path}: values must not be negative"),
                )
                .label("negative");
            cx.report(report);
            sound = false;
        }
        if let Some(&(a0, b0)) = points.last() {
            let fault = match (a > a0, b < b0) {
                (false, _) => Some("the flow must rise from point to point"),
                (_, false) => Some("the pressure must fall from point to point"),
                _ => None,
            };
            if let Some(fault) = fault {
                let report = cx
                    .at(&codes::CURVE, &p.span, format!("{path}: {fault}"))
                    .label("this point");
                cx.report(report);
                sound = false;
            }
        }
        points.push((a, b));
    }
    (sound && !points.is_empty()).then_some(points)
}

/// A bare sheet of a material of the table.
pub(super) fn sheet(material: &str, thickness_m: f64) -> Option<Layer> {
    let s = solids::by_name(material)?;
    let (k0, k1) = s.conductivity(thickness_m);
    Some(Layer {
        material: s.name.to_owned(),
        thickness_m,
        density_kg_m3: s.density_kg_m3,
        heat_capacity_j_kgk: s.heat_capacity_j_kgk,
        heat_capacity_slope_j_kgk2: s.heat_capacity_slope_j_kgk2,
        conductivity_w_mk: k0,
        conductivity_slope_w_mk2: k1,
        emissivity: s.emissivity,
        limit_k: s.limit_k,
        thin: s.thin && thickness_m <= THIN_SHEET_M,
        moisture: 0.0,
        vapour_resistance: s.pores().and_then(|p| p.vapour_resistance),
    })
}

/// The layers of a part's wall.
pub(super) fn wall(
    given: &Option<At<List<At<RawLayer>>>>,
    owner: &str,
    cx: &mut Cx<'_>,
) -> Option<Vec<Layer>> {
    wall_of(given, &format!("{owner}.wall"), cx)
}

/// The layers that a key of this path lists.
pub(super) fn wall_of(
    given: &Option<At<List<At<RawLayer>>>>,
    path: &str,
    cx: &mut Cx<'_>,
) -> Option<Vec<Layer>> {
    let list = &given.as_ref()?.value.0;
    let n = list.len();
    let layers: Vec<Option<Layer>> = list
        .iter()
        .enumerate()
        .map(|(i, l)| {
            let surface = i == 0 || i + 1 == n;
            layer(l, &format!("{path}[{i}]"), surface, cx)
        })
        .collect();
    if layers.is_empty() {
        return None;
    }
    layers.into_iter().collect()
}

/// Emissivity of a layer that no one sees; it moves nothing.
const HIDDEN_EMISSIVITY: f64 = 0.9;

fn layer(raw: &At<RawLayer>, path: &str, surface: bool, cx: &mut Cx<'_>) -> Option<Layer> {
    let l = &raw.value;
    let (Some(given), Some(name)) = (&l.material, text(&l.material)) else {
        return None;
    };
    let solid = solids::by_name(name);
    let own = [
        ("conductivity", l.conductivity.is_some()),
        ("density", l.density.is_some()),
        ("heat_capacity", l.heat_capacity.is_some()),
        ("emissivity", l.emissivity.is_some() || !surface),
    ];
    if solid.is_none() {
        if own[..3].iter().all(|(_, is)| !is) {
            cx.unknown_name(
                &codes::NO_SUCH_MATERIAL,
                &given.span,
                "material",
                name,
                &solids::names(),
            );
            return None;
        }
        let lack: Vec<&str> = own.iter().filter(|(_, is)| !is).map(|&(k, _)| k).collect();
        if !lack.is_empty() {
            let report = cx
                .at(
                    &codes::NO_SUCH_MATERIAL,
                    &given.span,
                    format!(
                        "\"{name}\" is not in the table, and its own figures lack: {}",
                        lack.join(", ")
                    ),
                )
                .label("own material")
                .help(format!("known: {}", solids::names().join(", ")));
            cx.report(report);
            return None;
        }
    }
    if !surface {
        cx.no_effect(
            &l.emissivity,
            &format!("{path}.emissivity"),
            "only the first and the last layer of a wall have a surface that radiates",
        );
    }
    let thickness_m = si(&l.thickness)?;
    let line = |own: Option<f64>, is_given: bool, table: Option<(f64, f64)>| {
        if is_given {
            own.map(|v| (v, 0.0))
        } else {
            table
        }
    };
    let (k0, k1) = line(
        si(&l.conductivity),
        l.conductivity.is_some(),
        solid.map(|s| s.conductivity(thickness_m)),
    )?;
    let (c0, c1) = line(
        si(&l.heat_capacity),
        l.heat_capacity.is_some(),
        solid.map(|s| (s.heat_capacity_j_kgk, s.heat_capacity_slope_j_kgk2)),
    )?;
    let density_kg_m3 = match &l.density {
        Some(q) => q.value.si()?,
        None => solid?.density_kg_m3,
    };
    let emissivity = match &l.emissivity {
        Some(q) => q.value.si()?,
        None => solid.map_or(HIDDEN_EMISSIVITY, |s| s.emissivity),
    };
    let limit_k = match &l.limit {
        Some(q) => Some(q.value.si()?),
        None => solid.and_then(|s| s.limit_k),
    };
    let metal = solid.map_or(k0 > METAL_W_MK, |s| s.thin);
    let vapour_resistance = match solid {
        Some(s) => s.pores().and_then(|p| p.vapour_resistance),
        None => (!metal).then_some(solids::OWN_VAPOUR_RESISTANCE),
    };
    let moisture = match &l.moisture {
        Some(q) => damp::moisture(q, (solid, density_kg_m3), &format!("{path}.moisture"), cx)?,
        None => 0.0,
    };
    Some(Layer {
        material: solid.map_or_else(|| name.to_owned(), |s| s.name.to_owned()),
        thickness_m,
        density_kg_m3,
        heat_capacity_j_kgk: c0,
        heat_capacity_slope_j_kgk2: c1,
        conductivity_w_mk: k0,
        conductivity_slope_w_mk2: k1,
        emissivity,
        limit_k,
        thin: metal && thickness_m <= THIN_SHEET_M,
        moisture,
        vapour_resistance,
    })
}
