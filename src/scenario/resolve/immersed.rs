//! Walls that stand in water: the drum's where there is one, else the store's.

use super::jacket::{GivenWall, check_hidden_face, check_sheet, refuse_closed};
use super::{Cx, Features, damp};
use crate::components::spec::{Coil, CoilForm, Rig};
use crate::scenario::codes;
use crate::scenario::raw::RawScenario;
use crate::units::{UnitSystem, format_length};
use std::ops::Range;

/// Heights that count as the same, m.
const LEVEL_M: f64 = 1e-6;

/// One part whose wall stands in water, as it was written.
struct Given<'a> {
    path: String,
    /// Where that is said.
    span: Range<usize>,
    wall: &'a GivenWall,
    /// Index in the gas path; `None`: the firebox.
    section: Option<usize>,
}

fn all(raw: &RawScenario) -> Vec<Given<'_>> {
    let mut list = Vec::new();
    if let Some(f) = &raw.firebox
        && let Some(share) = &f.value.in_water
    {
        list.push(Given {
            path: "firebox".into(),
            span: share.span.clone(),
            wall: match &f.value.wet_wall {
                Some(_) => &f.value.wet_wall,
                None => &f.value.wall,
            },
            section: None,
        });
    }
    let sections = raw.gas_path.iter().flat_map(|g| &g.value.0);
    for (i, s) in sections.enumerate() {
        if let Some(flag) = &s.value.in_water
            && flag.value.read == Some(true)
        {
            let name = super::gas::section_name(&s.value);
            list.push(Given {
                path: format!("gas_path.{}", name.as_deref().unwrap_or("?")),
                span: flag.span.clone(),
                wall: &s.value.wall,
                section: Some(i),
            });
        }
    }
    list
}

/// Whether any wall stands in water.
pub(super) fn any(raw: &RawScenario) -> bool {
    !all(raw).is_empty()
}

/// What can be said before the rig is complete.
pub(super) fn check(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) {
    for g in all(raw) {
        if f.drum {
            break;
        }
        let Some(store) = &raw.store else {
            let message = format!(
                "{}.in_water needs the [store] or [drum] in whose water it stands",
                g.path
            );
            let report = cx.at(&codes::NEEDS, &g.span, message).label("no water");
            cx.report(report);
            continue;
        };
        if let Some(closed) = &store.value.closed {
            let what = format!("{}: a wall in the water of a closed store", g.path);
            refuse_closed((&g.span, "in the water"), &closed.span, &what, cx);
        }
    }
    if let (Some(s), None, true) = (&raw.store, &raw.circuit, f.in_water && !f.coil) {
        let why = "no [loop] comes to the store";
        cx.no_effect(&s.value.hot_port, "store.hot_port", why);
        cx.no_effect(&s.value.cold_port, "store.cold_port", why);
    }
}

/// What only the complete rig tells: metal against the water, heights, coils on the same outside.
pub(super) fn check_rig(raw: &RawScenario, rig: &Rig, cx: &mut Cx<'_>) {
    let Some(vessel) = rig.bath() else {
        return;
    };
    let whose = match &rig.drum {
        Some(_) => "the drum's",
        None => "the store's",
    };
    let water_m = (vessel.floor_z_m, vessel.floor_z_m + vessel.water_depth_m);
    for g in all(raw) {
        let (layers, reach_m) = match g.section {
            None => (rig.firebox.wetted_wall(), (0.0, rig.firebox.height_m)),
            Some(i) => (&rig.gas_path[i].wall[..], rig.reach_m(i, (0, 1))),
        };
        check_sheet(layers, g.wall, (&g.path, whose), cx);
        damp::refuse_in_water(g.wall, (&g.path, whose), &g.span, cx);
        // A store that stands on the firebox has its bottom over the fire.
        if g.section.is_some() || !rig.fire_is_under_store(water_m.0) {
            check_height(&g, raw, reach_m, (water_m, whose), cx);
        }
        if reach_m.0 >= water_m.0 - LEVEL_M && reach_m.1 <= water_m.1 + LEVEL_M {
            check_dry_face(&g, raw, cx);
        }
        check_coils(&g, raw, rig, cx);
    }
}

/// Something of it is as low and as high as the water.
fn check_height(
    g: &Given,
    raw: &RawScenario,
    reach_m: (f64, f64),
    (water_m, whose): ((f64, f64), &str),
    cx: &mut Cx<'_>,
) {
    if reach_m.1 > water_m.0 && reach_m.0 < water_m.1 {
        return;
    }
    let show = |m: f64| format_length(m, UnitSystem::Metric);
    let message = format!(
        "{} stands from {} to {} above the hearth floor, {whose} water from {} to {}: it is not in the water",
        g.path,
        show(reach_m.0),
        show(reach_m.1),
        show(water_m.0),
        show(water_m.1)
    );
    let floor = match (&raw.drum, &raw.store) {
        (Some(d), _) => d.value.floor_height.as_ref(),
        (None, Some(s)) => s.value.floor_height.as_ref(),
        (None, None) => None,
    };
    let report = cx
        .at(&codes::NOT_IN_WATER, &g.span, message)
        .label("not in the water");
    let report = match floor {
        Some(at) => report.also(&at.span, "height of its floor"),
        None => report,
    };
    cx.report(report);
}

/// No wind and no view reach a section that is wholly under water.
fn check_dry_face(g: &Given, raw: &RawScenario, cx: &mut Cx<'_>) {
    let section = |i: usize| raw.gas_path.as_ref()?.value.0.get(i);
    let Some(s) = g.section.and_then(section) else {
        return;
    };
    let why = "all of it stands in water";
    if s.value.dry_share.is_none() {
        cx.no_effect(&s.value.outdoors, &format!("{}.outdoors", g.path), why);
    }
    check_hidden_face(g.wall, cx);
}

/// One outside carries one thing.
fn check_coils(g: &Given, raw: &RawScenario, rig: &Rig, cx: &mut Cx<'_>) {
    let on_it = |c: &Coil| match g.section {
        None => c.in_firebox(),
        Some(i) => !c.in_firebox() && c.section == i,
    };
    if let Some(i) = g.section.filter(|&i| rig.gas_path[i].dry_share > 0.0)
        && rig.coils.iter().any(&on_it)
    {
        let name = &rig.gas_path[i].name;
        let message = format!(
            "a coil in \"{name}\", between a wall in the water and a dry one, is not modelled yet"
        );
        let report = cx.at(&codes::NOT_MODELLED, &g.span, message);
        cx.report(report.label("in the water").help("leave out dry_share"));
        return;
    }
    let outside = |c: &Coil| c.is_jacket() || matches!(c.form, CoilForm::Around { .. });
    let Some(i) = rig.coils.iter().position(|c| on_it(c) && outside(c)) else {
        return;
    };
    let Some(coil) = raw.coil.as_ref().and_then(|c| c.value.0.get(i)) else {
        return;
    };
    cx.conflict(
        (&g.span, &format!("{}.in_water", g.path)),
        (&coil.span, &format!("coil \"{}\"", rig.coils[i].name)),
        "one outside cannot carry a coil and stand in water",
    );
}
