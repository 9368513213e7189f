//! A coil in the firebox itself.

use super::coil::{Basics, basics, cells};
use super::{Cx, mm, text, word};
use crate::components::spec::{Coil, CoilForm, Firebox};
use crate::scenario::codes;
use crate::scenario::raw::types::At;
use crate::scenario::raw::{Form, RawCoil, RawScenario};
use std::f64::consts::PI;

/// The word for the firebox where a coil names its section.
const FIREBOX: &str = "firebox";

/// Names the firebox, and no section of the gas path has that name.
pub(super) fn is_in_firebox(raw: &RawScenario, c: &RawCoil) -> bool {
    let sections = raw.gas_path.iter().flat_map(|g| &g.value.0);
    let taken = |s: &At<_>| super::gas::section_name(&s.value).as_deref() == Some(FIREBOX);
    text(&c.section) == Some(FIREBOX) && !sections.into_iter().any(taken)
}

pub(super) fn coil(
    c: &At<RawCoil>,
    name: Option<String>,
    single: bool,
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
        pitch_m,
    } = basics(c, name.as_deref(), single, true, cx);
    let at = |key: &str| format!("{path}.{key}");
    let exposed = cx.or(&v.exposed, &at("exposed"), "coil.exposed");
    let fouling = cx.or(&v.fouling, &at("fouling"), "coil.fouling");
    cx.no_effect(&v.core_plug, &at("core_plug"), "no plug steers the fire");
    super::coil::not_wound(v, &path, cx);
    super::coil::no_jacket(v, &path, cx);
    let form = word(&v.form);
    match form {
        Some(Form::Serpentine) => {
            let why = "a serpentine has straight runs";
            cx.no_effect(&v.diameter, &at("diameter"), why);
        }
        Some(Form::Around) => {
            let span = v.form.as_ref().map_or(&c.span, |f| &f.span);
            let message = format!("{path}: a coil is wound around a section of the gas path");
            let report = cx
                .at(&codes::NO_SUCH_SECTION, span, message)
                .label("not around the firebox")
                .help("name the section, e.g. the flue, or choose helix or serpentine");
            cx.report(report);
            return None;
        }
        _ => {}
    }
    let (outside_m, inside_m, _) = tube?;
    let (f, form, parallel) = (firebox?, form?, parallel?);
    let pitch_m = pitch_m?;
    let (per_turn_m, diameter_m, run_m) = match form {
        Form::Helix => {
            let d = v.diameter.as_ref()?.value.si()?;
            ((PI * d).hypot(pitch_m * parallel as f64), d, 0.0)
        }
        _ => (f.width_m, 0.0, f.width_m),
    };
    let length_m = match (&v.length, &v.turns) {
        (Some(l), _) => l.value.si()?,
        (None, Some(t)) => t.value.si()? * per_turn_m,
        (None, None) => return None,
    };
    let height_m = (length_m / per_turn_m) * pitch_m * parallel as f64 + outside_m;
    let room = (f.height_m, f.width_m.min(f.depth_m));
    if height_m > room.0 || diameter_m + outside_m > room.1 {
        let at = v.length.as_ref().map(|l| &l.span);
        let message = format!(
            "{path}: the coil is {} high and {} wide, the firebox {} and {}",
            mm(height_m),
            mm(diameter_m.max(run_m - outside_m) + outside_m),
            mm(room.0),
            mm(room.1)
        );
        let report = cx
            .at(&codes::COIL_SPAN, at.unwrap_or(&c.span), message)
            .label("does not go into the firebox")
            .help("a smaller diameter or pitch, or a shorter tube");
        cx.report(report);
        return None;
    }
    let bottom_z_m = match &v.offset {
        Some(o) => o.value.si()?,
        None => 0.5 * (f.height_m - height_m),
    };
    if bottom_z_m + height_m > f.height_m * (1.0 + 1e-9) {
        let span = v.offset.as_ref().map_or(&c.span, |o| &o.span);
        let message = format!("{path}: with this offset the coil ends above the firebox");
        let most_m = ((f.height_m - height_m) * 1e3).floor() / 1e3;
        let report = cx
            .at(&codes::COIL_SPAN, span, message)
            .label("too far")
            .help(format!("at most {}", mm(most_m)));
        cx.report(report);
        return None;
    }
    Some(Coil {
        name: name?,
        section: 0,
        form: CoilForm::Chamber {
            coil_diameter_m: diameter_m,
            run_m,
            exposed_share: exposed?,
        },
        metal: metal?,
        tube_outside_m: outside_m,
        tube_inside_m: inside_m,
        length_m,
        parallel,
        water_entry: entry?,
        core_plug_share: 0.0,
        cells: cells(v)?,
        bottom_z_m,
        top_z_m: bottom_z_m + height_m,
        fouling_m2k_w: fouling?,
    })
}
