//! The drum between fire and coil, and the coil in its water.

use super::coil::{Basics, basics, cells, no_jacket, not_wound};
use super::store::{loss_w_k, shell_j_k};
use super::{Cx, mm, si, text, word};
use crate::components::spec::{Coil, CoilForm, OpenSurface, Vessel, VesselKind, WaterEntry};
use crate::scenario::codes;
use crate::scenario::raw::types::At;
use crate::scenario::raw::{Form, RawCoil, RawDrum, RawScenario};
use std::f64::consts::PI;

/// The word for the drum where a coil names its section.
const DRUM: &str = "drum";
/// One run of a serpentine as a share of the drum's width.
const RUN_SHARE: f64 = 0.8;

/// Names the drum, and no section of the gas path has that name.
pub(super) fn is_in_drum(raw: &RawScenario, c: &RawCoil) -> bool {
    let sections = raw.gas_path.iter().flat_map(|g| &g.value.0);
    let taken = |s: &At<_>| super::gas::section_name(&s.value).as_deref() == Some(DRUM);
    text(&c.section) == Some(DRUM) && !sections.into_iter().any(taken)
}

/// Whether its surface is open to the air.
pub(super) fn is_open(raw: &RawScenario) -> bool {
    let open = raw.drum.as_ref().and_then(|d| d.value.open.as_ref());
    open.and_then(|f| f.value.read) == Some(true)
}

/// Whether its water stands in layers.
pub(super) fn is_layered(raw: &RawScenario) -> bool {
    let layers = raw.drum.as_ref().map(|d| &d.value.layers);
    layers.is_some_and(|n| n.as_ref().is_none_or(|n| n.value.read != Some(1)))
}

/// Drum, coil in it and walls in its water call for each other.
pub(super) fn check_presence(raw: &RawScenario, cx: &mut Cx<'_>) {
    let coils = raw.coil.iter().flat_map(|c| &c.value.0);
    let inside = coils
        .into_iter()
        .find(|c| is_in_drum(raw, &c.value))
        .and_then(|c| c.value.section.as_ref());
    let mut needs = |span, message: &str, help: &str| {
        let report = cx.at(&codes::NEEDS, span, message).label("here").help(help);
        cx.report(report);
    };
    match (&raw.drum, inside) {
        (None, Some(at)) => needs(
            &at.span,
            "a coil in the drum needs the [drum] in whose water it lies",
            "add [drum] with water, depth, floor_height, start and loss",
        ),
        (Some(d), None) => needs(
            &d.span,
            "[drum] needs a [[coil]] in its water (in = \"drum\") that takes its heat",
            "water that is heated for itself is a [store]",
        ),
        _ => {}
    }
    if let Some(d) = &raw.drum
        && !super::immersed::any(raw)
    {
        needs(
            &d.span,
            "[drum] needs a wall that heats its water",
            "firebox.in_water, or in_water = true of a section of the gas path",
        );
    }
}

/// The drum.
pub(super) fn drum(d: &At<RawDrum>, cx: &mut Cx<'_>) -> Option<Vessel> {
    let v = &d.value;
    let (water, depth) = (si(&v.water), si(&v.depth));
    let layers = match &v.layers {
        Some(n) => n.value.read,
        None => cx.default_text("drum.layers", "drum.layers").parse().ok(),
    };
    let open = cx.flag_or(&v.open, "drum.open", "drum.open");
    let wind = if open == Some(true) {
        cx.or(&v.wind_share, "drum.wind_share", "drum.wind_share")
    } else {
        let why = "only an open surface feels the wind";
        cx.no_effect(&v.wind_share, "drum.wind_share", why);
        Some(0.0)
    };
    let given = (&v.loss, &v.insulation);
    let is_open = open == Some(true);
    let loss = loss_w_k(&d.span, given, (water, depth), is_open, "drum", cx);
    let shell = shell_j_k(&v.shell, "drum", cx);
    let (water_m3, depth_m) = (water?, depth?);
    Some(Vessel {
        kind: VesselKind::Barrel,
        water_m3,
        water_depth_m: depth_m,
        floor_z_m: si(&v.floor_height)?,
        layers: layers?,
        start_temperature_k: si(&v.start)?,
        loss_w_k: loss?,
        shell_heat_capacity_j_k: shell?,
        // It has none.
        hot_port_m: depth_m,
        cold_port_m: 0.0,
        draw_port_m: depth_m,
        surface: match open? {
            true => Some(OpenSurface {
                area_m2: water_m3 / depth_m,
                cover_leak: 1.0,
                cover_w_m2k: 0.0,
                cloud_cover: 1.0,
                wind_share: wind?,
            }),
            false => None,
        },
        closed: None,
    })
}

/// The coil in its water.
pub(super) fn coil(
    c: &At<RawCoil>,
    name: Option<String>,
    single: bool,
    drum: Option<&Vessel>,
    cx: &mut Cx<'_>,
) -> Option<Coil> {
    let v = &c.value;
    let Basics {
        path,
        tube,
        metal,
        parallel,
        pitch_m,
        ..
    } = basics(c, name.as_deref(), single, false, cx);
    let at = |key: &str| format!("{path}.{key}");
    let fouling = cx.or(&v.fouling, &at("fouling"), "coil.fouling");
    let why = "the water enters a coil in the drum at its lower end";
    cx.no_effect(&v.water_enters, &at("water_enters"), why);
    let why = "no gas reaches a coil in the drum";
    cx.no_effect(&v.exposed, &at("exposed"), why);
    cx.no_effect(&v.core_plug, &at("core_plug"), why);
    not_wound(v, &path, cx);
    no_jacket(v, &path, cx);
    let form = word(&v.form);
    match form {
        Some(Form::Serpentine) => {
            let why = "a serpentine has straight runs";
            cx.no_effect(&v.diameter, &at("diameter"), why);
        }
        Some(Form::Around | Form::Jacket) => {
            let span = v.form.as_ref().map_or(&c.span, |f| &f.span);
            let message = format!("{path}: a coil in the drum is a helix or a serpentine");
            let report = cx
                .at(&codes::NO_SUCH_SECTION, span, message)
                .label("not in the drum")
                .help("choose helix or serpentine, or name the section that it lies around");
            cx.report(report);
            return None;
        }
        _ => {}
    }
    let (outside_m, inside_m, _) = tube?;
    let (d, form, parallel, pitch_m) = (drum?, form?, parallel?, pitch_m?);
    let width_m = (4.0 * d.water_m3 / (PI * d.water_depth_m)).sqrt();
    let lead_m = pitch_m * parallel as f64;
    let (per_turn_m, diameter_m, run_m) = match form {
        Form::Helix => {
            let turn_m = v.diameter.as_ref()?.value.si()?;
            ((PI * turn_m).hypot(lead_m), turn_m, 0.0)
        }
        _ => (RUN_SHARE * width_m, 0.0, RUN_SHARE * width_m),
    };
    let mut refuse = |key, message: String, label: &str, help: String| {
        let report = cx
            .at(&codes::COIL_SPAN, key, format!("{path}: {message}"))
            .label(label)
            .help(help);
        cx.report(report);
    };
    if pitch_m < outside_m * (1.0 - 1e-9) {
        let span = v.pitch.as_ref().map_or(&c.span, |p| &p.span);
        let message = format!(
            "the pitch {} is smaller than the tube {}",
            mm(pitch_m),
            mm(outside_m)
        );
        let help = format!("at least {}", mm(outside_m));
        refuse(span, message, "tubes would overlap", help);
        return None;
    }
    let length_m = match (&v.length, &v.turns) {
        (Some(l), _) => l.value.si()?,
        (None, Some(t)) => t.value.si()? * per_turn_m,
        (None, None) => return None,
    };
    // The first turn or run lies at the bottom, the last one at the top.
    let climbs_m = match form {
        Form::Helix => length_m / per_turn_m * lead_m,
        _ => (length_m / per_turn_m - 1.0).max(0.0) * lead_m,
    };
    let height_m = climbs_m + outside_m;
    if height_m > d.water_depth_m || diameter_m + outside_m > width_m {
        let span = v.length.as_ref().map_or(&c.span, |l| &l.span);
        let message = format!(
            "the coil is {} high and {} wide, the drum's water {} deep and {} wide",
            mm(height_m),
            mm(diameter_m.max(run_m - outside_m) + outside_m),
            mm(d.water_depth_m),
            mm(width_m)
        );
        let help = "a smaller diameter or pitch, or a shorter tube".into();
        refuse(span, message, "does not go into the drum", help);
        return None;
    }
    let low_m = match &v.offset {
        Some(o) => o.value.si()?,
        None => 0.5 * (d.water_depth_m - height_m),
    };
    if low_m + height_m > d.water_depth_m * (1.0 + 1e-9) {
        let span = v.offset.as_ref().map_or(&c.span, |o| &o.span);
        let most_m = ((d.water_depth_m - height_m) * 1e3).floor() / 1e3;
        let message = "with this offset the coil ends above the drum's water".into();
        refuse(span, message, "too high", format!("at most {}", mm(most_m)));
        return None;
    }
    let bottom_z_m = d.floor_z_m + low_m;
    Some(Coil {
        name: name?,
        section: 0,
        form: CoilForm::Submerged {
            coil_diameter_m: diameter_m,
            run_m,
            pitch_m,
        },
        metal: metal?,
        tube_outside_m: outside_m,
        tube_inside_m: inside_m,
        length_m,
        parallel,
        // Its lower end.
        water_entry: WaterEntry::GasInlet,
        core_plug_share: 0.0,
        cells: cells(v)?,
        bottom_z_m,
        top_z_m: bottom_z_m + height_m,
        fouling_m2k_w: fouling?,
    })
}
