//! Whether what is put on at a time goes into the firebox.

use super::Cx;
use crate::components::spec::{Firebox, Fuel};
use crate::network::fullness::{mouth_m2, room_m3, side_by_side};
use crate::scenario::codes;
use crate::scenario::raw::RawScenario;
use crate::scenario::raw::types::{At, Mass, Q};
use crate::units::{UnitSystem, format_area, format_mass, format_volume};

/// Every feed by itself; whether they pile up shows in the run.
pub(super) fn check(raw: &RawScenario, fuel: &Fuel, firebox: &Firebox, cx: &mut Cx<'_>) {
    if let Some(l) = &raw.lighting {
        let kindling = ("lighting.kindling".to_string(), &l.value.kindling);
        one(kindling, false, fuel, firebox, cx);
    }
    let Some(section) = &raw.feeding else { return };
    let f = &section.value;
    let list = f.list.iter().flat_map(|l| &l.value.0).map(|x| &x.value.add);
    let every = f
        .every
        .iter()
        .flat_map(|l| &l.value.0)
        .map(|x| &x.value.add);
    let rules = f
        .rules
        .iter()
        .flat_map(|l| &l.value.0)
        .map(|x| &x.value.add);
    let named = |name: &'static str| move |(i, add)| (format!("feeding.{name}[{i}].add"), add);
    let feeds = (list.enumerate().map(named("list")))
        .chain(every.enumerate().map(named("every")))
        .chain(rules.enumerate().map(named("rules")));
    for feed in feeds {
        one(feed, true, fuel, firebox, cx);
    }
}

/// `long`: sticks of which only an end lies in the fire of a feed tube.
fn one(
    (path, given): (String, &Option<At<Q<Mass>>>),
    long: bool,
    fuel: &Fuel,
    f: &Firebox,
    cx: &mut Cx<'_>,
) {
    let Some((given, kg)) = given.as_ref().and_then(|g| Some((g, g.value.si()?))) else {
        return;
    };
    let solid_m3 = kg * (1.0 - fuel.moisture_wet) / fuel.density_kg_m3;
    let mouth_m2 = mouth_m2(f);
    let reach = if long && mouth_m2 > 0.0 {
        (f.burning_length_m / fuel.stick.length_m).min(1.0)
    } else {
        1.0
    };
    let metric = UnitSystem::Metric;
    // Wood in the fire over the firebox's room, and where an end stays outside the sticks' section over the open mouth.
    let (in_fire_m3, room_m3) = (solid_m3 * reach, room_m3(f));
    let section_m2 = side_by_side(fuel.stick.shape) * solid_m3 / fuel.stick.length_m;
    let in_firebox = in_fire_m3 / room_m3;
    let in_mouth = if reach < 1.0 {
        section_m2 / mouth_m2
    } else {
        0.0
    };
    let what = if in_firebox > 1.0 {
        let (solid, room) = (
            format_volume(in_fire_m3, metric),
            format_volume(room_m3, metric),
        );
        format!("{solid} of solid wood, and the firebox holds {room} of it stacked close")
    } else if in_mouth > 1.0 {
        let (taken, open) = (
            format_area(section_m2, metric),
            format_area(mouth_m2, metric),
        );
        format!("sticks that take {taken} side by side, and the open mouth has {open}")
    } else {
        return;
    };
    let most_kg = kg / in_firebox.max(in_mouth);
    let report = cx
        .at(
            &codes::NO_ROOM,
            &given.span,
            format!("{path}: {} are {what}", format_mass(kg, metric)),
        )
        .label("does not go in")
        .help(format!(
            "at most {} at a time",
            format_mass(most_kg, metric)
        ));
    cx.report(report);
}
