//! Water jackets around sections and firebox.

use super::store::{FILM_M2K_W, insulation_m2k_w};
use super::{Cx, word};
use crate::components::spec::{
    Coil, Firebox, JacketGiven, Layer, Section, SectionKind, WaterEntry,
};
use crate::scenario::codes;
use crate::scenario::raw::types::{At, List};
use crate::scenario::raw::{Enters, Form, RawCoil, RawLayer, RawScenario};
use crate::units::{UnitSystem, format_area};
use std::ops::Range;

/// Layers as they were written.
pub(super) type GivenWall = Option<At<List<At<RawLayer>>>>;

/// What a jacket lies around.
#[derive(Clone, Copy)]
pub(super) enum Place {
    Firebox,
    /// By its index.
    Section(usize),
}

#[allow(clippy::too_many_arguments)] // one call, everything that a jacket refers to
pub(super) fn coil(
    c: &At<RawCoil>,
    name: Option<String>,
    single: bool,
    place: Place,
    raw: &RawScenario,
    gas: Option<&[Section]>,
    firebox: Option<&Firebox>,
    cx: &mut Cx<'_>,
) -> Option<Coil> {
    let v = &c.value;
    let path = super::coil::path_of(name.as_deref(), single);
    let at = |key: &str| format!("{path}.{key}");
    let why = "a jacket has no tube: it lies around the whole wall of its part";
    cx.no_effect(&v.tube, &at("tube"), why);
    cx.no_effect(&v.length, &at("length"), why);
    cx.no_effect(&v.turns, &at("turns"), why);
    cx.no_effect(&v.diameter, &at("diameter"), why);
    cx.no_effect(&v.pitch, &at("pitch"), why);
    cx.no_effect(&v.parallel, &at("parallel"), why);
    cx.no_effect(&v.offset, &at("offset"), why);
    cx.no_effect(&v.exposed, &at("exposed"), why);
    cx.no_effect(&v.core_plug, &at("core_plug"), why);
    cx.no_effect(&v.gap, &at("gap"), "its water's width is `water_gap`");
    cx.no_effect(&v.filler, &at("filler"), why);
    let why = "its metal is the outermost layer of the wall that it lies around";
    cx.no_effect(&v.metal, &at("metal"), why);
    let why = "what settles on the wall inside is followed from a clean wall on";
    cx.no_effect(&v.fouling, &at("fouling"), why);
    let gap_m = cx.or(&v.water_gap, &at("water_gap"), "coil.water_gap");
    let insulation = match &v.insulation {
        Some(i) => insulation_m2k_w(i, &path, cx),
        None => {
            cx.default_text(&at("insulation"), "coil.insulation");
            Some(0.0)
        }
    };
    let water_entry = match &v.water_enters {
        Some(w) => Some(match w.value.read? {
            Enters::GasInlet => WaterEntry::GasInlet,
            Enters::GasOutlet => WaterEntry::GasOutlet,
        }),
        None => {
            cx.default_text(&at("water_enters"), "coil.jacket.water_enters");
            None
        }
    };
    let cells = super::coil::cells(v);
    let sections = raw.gas_path.as_ref().map(|g| &g.value.0);
    let (layers, wall): (Option<&[Layer]>, &GivenWall) = match place {
        Place::Firebox => (
            firebox.map(|f| &f.wall[..]),
            &raw.firebox.as_ref()?.value.wall,
        ),
        Place::Section(i) => {
            let s = &sections?.get(i)?.value;
            let why = "a jacket keeps the wind off its wall";
            cx.no_effect(
                &s.outdoors,
                &format!("{path}: outdoors of its section"),
                why,
            );
            (gas.and_then(|g| g.get(i)).map(|s| &s.wall[..]), &s.wall)
        }
    };
    if let Some(layers) = layers {
        check_sheet(layers, wall, (&path, "a jacket's"), cx);
    }
    check_hidden_face(wall, cx);
    check_closed(c, raw, &path, cx);
    let given = JacketGiven {
        name: name?,
        gap_m: gap_m?,
        shell_w_m2k: 1.0 / (insulation? + FILM_M2K_W),
        water_entry,
        cells: cells?,
    };
    let f = firebox?;
    let made = match place {
        Place::Firebox => given.around_firebox(f, gas?.first()?.area_m2()),
        Place::Section(i) => {
            let s = gas?.get(i)?;
            if matches!(
                s.kind,
                SectionKind::Bend | SectionKind::Damper | SectionKind::Fan { .. }
            ) {
                let span = v.section.as_ref().map_or(&c.span, |s| &s.span);
                let message = format!("{path}: section \"{}\" cannot carry a jacket", s.name);
                let report = cx
                    .at(&codes::NO_SUCH_SECTION, span, message)
                    .label("a bend, damper or fan")
                    .help("name a passage, riser, mass or flue, or the firebox");
                cx.report(report);
                return None;
            }
            let below: f64 = gas?[..i].iter().map(|s| s.rise_m).sum();
            given.around_section(s, i, f.outlet_z_m() + below)
        }
    }?;
    cx.echo(
        at("surface"),
        format_area(made.heated_m2(), UnitSystem::Metric),
        "outside of the wall that the jacket lies around",
    );
    Some(made)
}

/// Water touches a sheet of metal, so that heat meets nothing else on its way; `whose` water says the message.
pub(super) fn check_sheet(
    layers: &[Layer],
    wall: &GivenWall,
    (path, whose): (&str, &str),
    cx: &mut Cx<'_>,
) {
    let given = wall.as_ref().and_then(|w| w.value.0.last());
    let (Some(last), Some(given)) = (layers.last().filter(|l| !l.thin), given) else {
        return;
    };
    let message = format!(
        "{path}: {whose} water touches the outermost layer, and {} is no metal sheet of up to 6 mm",
        last.material
    );
    let report = cx
        .at(&codes::JACKET_SHEET, &given.span, message)
        .label("outermost layer")
        .help("end the wall with a metal sheet of up to 6 mm, for example { material = \"steel\", thickness = \"4 mm\" }");
    cx.report(report);
}

/// Behind an outermost layer that water covers no emissivity counts; that of a single layer is the gas's side too.
pub(super) fn check_hidden_face(wall: &GivenWall, cx: &mut Cx<'_>) {
    let list = wall.as_ref().map_or(&[][..], |w| &w.value.0);
    if let [_, .., last] = list {
        cx.no_effect(
            &last.value.emissivity,
            "emissivity of the outermost layer",
            "water covers this face",
        );
    }
}

/// Sheets under pressure: strength is known of tubes only. `what` is refused at `span`, which is labelled.
pub(super) fn refuse_closed(
    (span, label): (&Range<usize>, &str),
    closed: &Range<usize>,
    what: &str,
    cx: &mut Cx<'_>,
) {
    let message =
        format!("{what} is not modelled: nothing is known of what pressure its sheets hold");
    let report = cx
        .at(&codes::NOT_MODELLED, span, message)
        .label(label)
        .also(closed, "closed loop")
        .help("leave the store open to the air (vented)");
    cx.report(report);
}

/// No jacket in a closed loop.
fn check_closed(c: &At<RawCoil>, raw: &RawScenario, path: &str, cx: &mut Cx<'_>) {
    let Some(closed) = raw.store.as_ref().and_then(|s| s.value.closed.as_ref()) else {
        return;
    };
    // Told once.
    let is_jacket = |c: &&At<RawCoil>| word(&c.value.form) == Some(Form::Jacket);
    let first = raw.coil.iter().flat_map(|c| &c.value.0).find(is_jacket);
    if first.is_some_and(|first| first.span != c.span) {
        return;
    }
    let what = format!("{path}: a jacket in a closed loop");
    refuse_closed((&c.span, "jacket"), &closed.span, &what, cx);
}
