//! Coils: tube, length and turns, fit in the passage, heights.

use super::chamber_coil;
use super::gas::section_name;
use super::jacket;
use super::winding::Winding;
use super::{Cx, Features, mm, si, text, word};
use crate::components::spec::{
    Bore, Coil, CoilForm, Firebox, Section, SectionKind, TubeMetal, Vessel, WaterEntry,
};
use crate::properties::{metals, tubes};
use crate::scenario::codes;
use crate::scenario::raw::types::{At, NameOr};
use crate::scenario::raw::{Enters, Form, RawCoil, RawFireboxKind, RawScenario};
use crate::units::{UnitSystem, format_length};
use std::f64::consts::PI;
use std::ops::Range;

/// All coils, in the order of the water.
#[allow(clippy::too_many_arguments)] // one call, all places of a coil
pub(super) fn coils(
    raw: &RawScenario,
    gas: Option<&[Section]>,
    firebox: Option<&Firebox>,
    drum: Option<&Vessel>,
    hot_port_z_m: Option<(f64, Range<usize>)>,
    f: &Features,
    cx: &mut Cx<'_>,
) -> Option<Vec<Coil>> {
    let Some(list) = &raw.coil else {
        return Some(Vec::new());
    };
    let list = &list.value.0;
    let mut names: Vec<(String, Range<usize>)> = Vec::new();
    let mut taken: Vec<(usize, Range<usize>)> = Vec::new();
    let mut in_firebox: Option<Range<usize>> = None;
    let mut out = Vec::new();
    for (i, c) in list.iter().enumerate() {
        let name = match (&c.value.name, text(&c.value.name)) {
            (Some(_), given) => given.map(str::to_owned),
            (None, _) if list.len() == 1 => Some("coil".to_owned()),
            (None, _) => Some(format!("coil {}", i + 1)),
        };
        if let Some(n) = &name {
            let at = c.value.name.as_ref().map_or(&c.span, |n| &n.span);
            if let Some((_, first)) = names.iter().find(|(m, _)| m == n) {
                let report = cx
                    .at(
                        &codes::DUPLICATE_NAME,
                        at,
                        format!("two coils are named \"{n}\""),
                    )
                    .label("second")
                    .also(&first.clone(), "first");
                cx.report(report);
            }
            names.push((n.clone(), at.clone()));
        }
        let single = list.len() == 1;
        let jacket = word(&c.value.form) == Some(Form::Jacket);
        if super::drum::is_in_drum(raw, &c.value) {
            out.push(super::drum::coil(c, name, single, drum, cx));
            continue;
        }
        if chamber_coil::is_in_firebox(raw, &c.value) {
            if let Some(first) = &in_firebox {
                let report = cx
                    .at(
                        &codes::COIL_CROWDED,
                        &c.span,
                        "the firebox already carries a coil",
                    )
                    .label("second coil")
                    .also(first, "first coil")
                    .help("use `parallel` for tubes side by side");
                cx.report(report);
            }
            in_firebox.get_or_insert(c.span.clone());
            if !jacket && drawn_down(raw) {
                let span = c.value.section.as_ref().map_or(&c.span, |s| &s.span);
                down_draught(name.as_deref(), span, cx);
                out.push(None);
                continue;
            }
            if jacket {
                let place = jacket::Place::Firebox;
                out.push(jacket::coil(c, name, single, place, raw, gas, firebox, cx));
                continue;
            }
            out.push(chamber_coil::coil(c, name, single, firebox, cx));
            continue;
        }
        let section = find_section(raw, &c.value, cx);
        if let Some((s, at)) = &section {
            if let Some((_, first)) = taken.iter().find(|(t, _)| t == s) {
                let report = cx
                    .at(
                        &codes::COIL_CROWDED,
                        at,
                        "this section already carries a coil",
                    )
                    .label("second coil")
                    .also(&first.clone(), "first coil")
                    .help("split the section in two, or use `parallel` for tubes side by side");
                cx.report(report);
            }
            taken.push((*s, at.clone()));
        }
        if jacket {
            out.push(section.and_then(|(s, _)| {
                let place = jacket::Place::Section(s);
                jacket::coil(c, name, single, place, raw, gas, firebox, cx)
            }));
            continue;
        }
        if let Some((0, at)) = &section
            && drawn_down(raw)
            && word(&c.value.form) != Some(Form::Around)
        {
            down_draught(name.as_deref(), at, cx);
            out.push(None);
            continue;
        }
        out.push(coil(
            c,
            name,
            section.map(|(s, _)| s),
            single,
            raw,
            gas,
            firebox,
            cx,
        ));
    }
    let coils: Option<Vec<Coil>> = out.into_iter().collect();
    if let (Some(all), Some((port, span)), false) = (&coils, hot_port_z_m, f.pumped) {
        check_head(all, port, &span, cx);
    }
    coils
}

fn drawn_down(raw: &RawScenario) -> bool {
    let f = raw.firebox.as_ref();
    f.and_then(|f| word(&f.value.kind)) == Some(RawFireboxKind::DownDraught)
}

/// A coil where the flames of a firebox with down-draught burn.
fn down_draught(name: Option<&str>, span: &Range<usize>, cx: &mut Cx<'_>) {
    let message = format!(
        "coil \"{}\": the flames of a down-draught firebox leave by its embers and burn out in the first section",
        name.unwrap_or("coil")
    );
    let report = cx
        .at(&codes::NO_SUCH_SECTION, span, message)
        .label("no coil here")
        .help("put it into a later section; a jacket may lie around the firebox and around any section");
    cx.report(report);
}

/// A thermosyphon needs its cooled water above its heated water.
fn check_head(coils: &[Coil], port_z_m: f64, span: &Range<usize>, cx: &mut Cx<'_>) {
    let Some(top) = coils.iter().max_by(|a, b| a.top_z_m.total_cmp(&b.top_z_m)) else {
        return;
    };
    let middle = 0.5 * (top.bottom_z_m + top.top_z_m);
    if port_z_m <= middle {
        let report = cx
            .at(
                &codes::LOW_STORE,
                span,
                format!(
                    "the hot port, {} above the hearth, is not above the middle of coil \"{}\" at {}",
                    format_length(port_z_m, UnitSystem::Metric),
                    top.name,
                    format_length(middle, UnitSystem::Metric)
                ),
            )
            .label("too low to be driven by buoyancy");
        cx.report(report);
    }
}

/// The section that a coil names.
fn find_section(raw: &RawScenario, c: &RawCoil, cx: &mut Cx<'_>) -> Option<(usize, Range<usize>)> {
    let (given, name) = (c.section.as_ref()?, text(&c.section)?);
    let sections = &raw.gas_path.as_ref()?.value.0;
    let names: Vec<String> = sections
        .iter()
        .filter_map(|s| section_name(&s.value))
        .collect();
    let found = sections
        .iter()
        .position(|s| section_name(&s.value).as_deref() == Some(name));
    if found.is_none() {
        let mut known: Vec<&str> = names.iter().map(String::as_str).collect();
        known.extend(["firebox", "drum"]);
        cx.unknown_name(
            &codes::NO_SUCH_SECTION,
            &given.span,
            "section of the gas path",
            name,
            &known,
        );
    }
    found.map(|i| (i, given.span.clone()))
}

/// Outside, inside, metal name of the tube.
fn tube(c: &At<RawCoil>, path: &str, cx: &mut Cx<'_>) -> Option<(f64, f64, Option<String>)> {
    let given = c.value.tube.as_ref()?;
    match &given.value {
        NameOr::Name(name) => match tubes::by_name(name) {
            Some(t) => Some((t.outside_m, t.inside_m, Some(t.metal.to_owned()))),
            None => {
                let names = tubes::names();
                let known: Vec<&str> = names.iter().map(String::as_str).collect();
                let report = cx
                    .at(
                        &codes::NO_SUCH_TUBE,
                        &given.span,
                        format!("unknown tube \"{}\"", crate::scenario::walk::clip(name)),
                    )
                    .label("not in the table");
                let help = "write the size with its type (\"1/2 in type L\", \"1/2 in ACR\", \"22x1 copper\", \"DN20\"), \
                            or { outside = \"15.9 mm\", inside = \"13.8 mm\" }";
                let near = crate::scenario::diagnostic::nearest(name, known.iter().copied());
                let report = match near {
                    Some(near) => report.help(format!("did you mean \"{near}\"? {help}")),
                    None => report.help(help),
                };
                cx.report(report);
                None
            }
        },
        NameOr::Group(t) => {
            let (o, i) = (si(&t.outside)?, si(&t.inside)?);
            if i >= o {
                let (outside, inside) = (t.outside.as_ref()?, t.inside.as_ref()?);
                let report = cx
                    .at(
                        &codes::TUBE_WALL,
                        &inside.span,
                        format!("{path}.tube: the inside is not smaller than the outside"),
                    )
                    .label("inside")
                    .also(&outside.span, "outside");
                cx.report(report);
                return None;
            }
            Some((o, i, None))
        }
        NameOr::Neither => None,
    }
}

fn metal(c: &At<RawCoil>, of_tube: Option<&str>, path: &str, cx: &mut Cx<'_>) -> Option<TubeMetal> {
    let name = match (&c.value.metal, of_tube) {
        (Some(_), _) => text(&c.value.metal)?.to_owned(),
        (None, Some(m)) => {
            cx.echo(format!("{path}.metal"), m, "the metal of this trade size");
            m.to_owned()
        }
        (None, None) => {
            if matches!(
                c.value.tube.as_ref().map(|t| &t.value),
                Some(NameOr::Group(_))
            ) {
                cx.missing(
                    &c.span,
                    format!("{path} needs \"metal\" where the tube is given by diameters"),
                );
            }
            return None;
        }
    };
    let Some(m) = metals::by_name(&name) else {
        let span = c.value.metal.as_ref().map_or(&c.span, |m| &m.span);
        cx.unknown_name(
            &codes::NO_SUCH_METAL,
            span,
            "tube metal",
            &name,
            &metals::names(),
        );
        return None;
    };
    Some(TubeMetal {
        name: m.name.to_owned(),
        density_kg_m3: m.density_kg_m3,
        heat_capacity_j_kgk: m.heat_capacity_j_kgk,
        conductivity_w_mk: m.conductivity_w_mk,
        emissivity: m.emissivity,
        limit_k: m.limit_k,
    })
}

/// How messages name a coil.
pub(super) fn path_of(name: Option<&str>, single: bool) -> String {
    if single {
        "coil".to_owned()
    } else {
        format!("coil.{}", name.unwrap_or("?"))
    }
}

/// What coils in the gas path and in the firebox have in common.
pub(super) struct Basics {
    pub path: String,
    /// Outside, inside, metal name.
    pub tube: Option<(f64, f64, Option<String>)>,
    pub metal: Option<TubeMetal>,
    pub parallel: Option<usize>,
    pub entry: Option<WaterEntry>,
    pub pitch_m: Option<f64>,
}

/// `in_gas`: its water enters at one of the gas's ends.
pub(super) fn basics(
    c: &At<RawCoil>,
    name: Option<&str>,
    single: bool,
    in_gas: bool,
    cx: &mut Cx<'_>,
) -> Basics {
    let v = &c.value;
    let path = path_of(name, single);
    // A form that cannot be read was reported: nothing is known of what it needs.
    let known = v.form.is_none() || word(&v.form).is_some();
    if known && v.tube.is_none() {
        cx.missing(&c.span, format!("{path} needs \"tube\""));
    }
    let tube = tube(c, &path, cx);
    let metal = metal(c, tube.as_ref().and_then(|t| t.2.as_deref()), &path, cx);
    let parallel = match &v.parallel {
        Some(p) => p.value.read,
        None => {
            cx.default_text(&format!("{path}.parallel"), "coil.parallel");
            Some(1)
        }
    };
    let key = format!("{path}.water_enters");
    let entry = match in_gas {
        true => cx.word_or(&v.water_enters, &key, "coil.water_enters"),
        false => None,
    };
    let pitch_m = match (&v.pitch, tube.as_ref()) {
        (Some(q), _) => q.value.si(),
        (None, Some((outside, ..))) => {
            cx.echo(
                format!("{path}.pitch"),
                mm(2.0 * outside),
                "two tube diameters (common practice)",
            );
            Some(2.0 * outside)
        }
        (None, None) => None,
    };
    if word(&v.form) == Some(Form::Helix) && v.diameter.is_none() {
        cx.missing(&c.span, format!("{path}: a helix needs its \"diameter\""));
    }
    if known && v.length.is_none() && v.turns.is_none() {
        cx.missing(&c.span, format!("{path} needs \"length\" or \"turns\""));
    }
    if let (Some(l), Some(t)) = (&v.length, &v.turns) {
        let why = "one follows from the other";
        cx.conflict((&l.span, "length"), (&t.span, "turns"), why);
    }
    Basics {
        path,
        tube,
        metal,
        parallel,
        entry: entry.map(|e| match e {
            Enters::GasInlet => WaterEntry::GasInlet,
            Enters::GasOutlet => WaterEntry::GasOutlet,
        }),
        pitch_m,
    }
}

/// Keys of jackets.
pub(super) fn no_jacket(v: &RawCoil, path: &str, cx: &mut Cx<'_>) {
    if word(&v.form).is_none() {
        return;
    }
    let why = "only a jacket has a shell";
    cx.no_effect(&v.water_gap, &format!("{path}.water_gap"), why);
    cx.no_effect(&v.insulation, &format!("{path}.insulation"), why);
}

/// Keys of coils wound on the outside.
pub(super) fn not_wound(v: &RawCoil, path: &str, cx: &mut Cx<'_>) {
    let why = "only a coil wound around a section touches its wall";
    cx.no_effect(&v.gap, &format!("{path}.gap"), why);
    cx.no_effect(&v.filler, &format!("{path}.filler"), why);
}

/// Cells along the gas, where given.
pub(super) fn cells(c: &RawCoil) -> Option<Option<usize>> {
    match &c.cells {
        Some(n) => n.value.read.map(Some),
        None => Some(None),
    }
}

#[allow(clippy::too_many_arguments)] // one call, everything that a coil refers to
fn coil(
    c: &At<RawCoil>,
    name: Option<String>,
    section: Option<usize>,
    single: bool,
    raw: &RawScenario,
    gas: Option<&[Section]>,
    firebox: Option<&Firebox>,
    cx: &mut Cx<'_>,
) -> Option<Coil> {
    let v = &c.value;
    let Basics {
        path,
        tube,
        metal,
        parallel,
        entry,
        pitch_m: pitch,
    } = basics(c, name.as_deref(), single, true, cx);
    let form = word(&v.form);
    let around = form == Some(Form::Around);
    no_jacket(v, &path, cx);
    let why = "only a coil in the firebox is exposed to the fire on a side of it";
    cx.no_effect(&v.exposed, &format!("{path}.exposed"), why);
    if !around {
        not_wound(v, &path, cx);
    }
    let fouling = if around {
        let why = "no gas reaches a coil wound on the outside";
        cx.no_effect(&v.fouling, &format!("{path}.fouling"), why);
        Some(0.0)
    } else {
        cx.or(&v.fouling, &format!("{path}.fouling"), "coil.fouling")
    };
    let plug = if around {
        let why = "the coil is wound on the outside";
        cx.no_effect(&v.core_plug, &format!("{path}.core_plug"), why);
        let why = "it follows from the section";
        cx.no_effect(&v.diameter, &format!("{path}.diameter"), why);
        Some(0.0)
    } else if form == Some(Form::Serpentine) {
        let why = "a serpentine has no core";
        cx.no_effect(&v.core_plug, &format!("{path}.core_plug"), why);
        cx.no_effect(
            &v.diameter,
            &format!("{path}.diameter"),
            "a serpentine has straight runs",
        );
        Some(0.0)
    } else {
        cx.or(&v.core_plug, &format!("{path}.core_plug"), "coil.core_plug")
    };
    let (outside_m, inside_m, _) = tube?;
    let (section, parallel, pitch, form) = (section?, parallel?, pitch?, form?);
    let place = gas?.get(section)?;
    let carries = !matches!(
        place.kind,
        SectionKind::Bend | SectionKind::Damper | SectionKind::Fan { .. }
    );
    if !carries && let Some(given) = &v.section {
        let report = cx
            .at(
                &codes::NO_SUCH_SECTION,
                &given.span,
                format!("{path}: section \"{}\" cannot carry a coil", place.name),
            )
            .label("a bend, damper or fan")
            .help("put the coil into a passage, riser, mass or flue");
        cx.report(report);
        return None;
    }
    if place.passages > 1
        && let Some(given) = &v.section
    {
        let report = cx
            .at(
                &codes::NO_SUCH_SECTION,
                &given.span,
                format!(
                    "{path}: section \"{}\" has {} passages side by side",
                    place.name, place.passages
                ),
            )
            .label("no place for a coil")
            .help("a section with one passage; around many passages only a jacket fits");
        cx.report(report);
        return None;
    }
    let w = Winding {
        c,
        path: &path,
        outside_m,
        pitch_m: pitch,
        parallel,
        place,
    };
    let (coil_form, length_m, span_m) = match form {
        Form::Helix => w.helix(plug?, cx)?,
        Form::Serpentine => w.serpentine(cx)?,
        Form::Around => w.around(cx)?,
        // Made elsewhere.
        Form::Jacket => return None,
    };
    let start_m = w.start_m(span_m, cx)?;
    let coil_form = w.placed(coil_form, start_m, cx)?;
    let (bottom_z_m, top_z_m) = heights_z_m(
        raw, firebox, gas?, section, &coil_form, outside_m, start_m, span_m,
    )?;
    let free_m2 = free_area_m2(place, &coil_form, outside_m, parallel, plug?);
    if !around {
        w.check_free(free_m2, gas?, cx);
    }
    Some(Coil {
        name: name?,
        section,
        form: coil_form,
        metal: metal?,
        tube_outside_m: outside_m,
        tube_inside_m: inside_m,
        length_m,
        parallel,
        water_entry: entry?,
        core_plug_share: plug?,
        cells: cells(v)?,
        bottom_z_m,
        top_z_m,
        fouling_m2k_w: fouling?,
    })
}

/// Free cross-section beside tubes and plug, where the tubes stand.
fn free_area_m2(
    place: &Section,
    form: &CoilForm,
    outside_m: f64,
    parallel: usize,
    plug: f64,
) -> f64 {
    let area = place.bore.area_m2();
    let tubes = match *form {
        CoilForm::Helix {
            coil_diameter_m, ..
        } => PI * coil_diameter_m * outside_m,
        CoilForm::Serpentine { .. } => {
            let width = match place.bore {
                Bore::Rect { width_m, .. } => width_m,
                Bore::Round { diameter_m } => diameter_m,
            };
            width * outside_m * parallel as f64
        }
        CoilForm::Around { .. }
        | CoilForm::Chamber { .. }
        | CoilForm::Jacket { .. }
        | CoilForm::Submerged { .. } => 0.0,
    };
    area * (1.0 - plug) - tubes
}

/// Lowest and highest point of the coil above the hearth floor.
#[allow(clippy::too_many_arguments)] // one call
fn heights_z_m(
    raw: &RawScenario,
    firebox: Option<&Firebox>,
    gas: &[Section],
    section: usize,
    form: &CoilForm,
    outside_m: f64,
    start_m: f64,
    span_m: f64,
) -> Option<(f64, f64)> {
    let outlet_z = match firebox {
        Some(f) => f.outlet_z_m(),
        None => {
            let f = &raw.firebox.as_ref()?.value;
            match word(&f.kind)? {
                RawFireboxKind::DownDraught => 0.0,
                _ => si(&f.height)?,
            }
        }
    };
    let below: f64 = gas[..section].iter().map(|s| s.rise_m).sum();
    let s = &gas[section];
    let slope = s.rise_m / s.length_m;
    let z0 = outlet_z + below + slope * (start_m + 0.5 * outside_m);
    let z1 = outlet_z + below + slope * (start_m + span_m - 0.5 * outside_m);
    let across = match *form {
        CoilForm::Helix {
            coil_diameter_m, ..
        }
        | CoilForm::Around {
            coil_diameter_m, ..
        } => 0.5 * coil_diameter_m * (1.0 - slope * slope).max(0.0).sqrt(),
        CoilForm::Serpentine { .. }
        | CoilForm::Chamber { .. }
        | CoilForm::Jacket { .. }
        | CoilForm::Submerged { .. } => 0.0,
    };
    let half = across + 0.5 * outside_m;
    Some((z0.min(z1) - half, z0.max(z1) + half))
}
