//! The gravity bypass of a loop: its two pipes and its header tank.

use super::store::{loss_w_k, ports_m, shell_j_k};
use super::water::pipe;
use super::{Cx, si, word};
use crate::components::spec::{Bypass, Vessel, VesselKind};
use crate::scenario::codes;
use crate::scenario::raw::types::At;
use crate::scenario::raw::{RawBypass, RawHeader, RawScenario, StoreKind};
use crate::units::{UnitSystem, format_length};

/// The bypass of a loop.
pub(super) fn bypass(
    scenario: &RawScenario,
    raw: &At<RawBypass>,
    cx: &mut Cx<'_>,
) -> Option<Bypass> {
    let b = &raw.value;
    let riser = b
        .riser
        .as_ref()
        .and_then(|p| pipe(p, "loop.bypass.riser", cx));
    let ret = b
        .ret
        .as_ref()
        .and_then(|p| pipe(p, "loop.bypass.return", cx));
    let key = "loop.bypass.check_valve";
    let check_valve = cx.flag_or(&b.check_valve, key, key);
    let header = b.header.as_ref().and_then(|h| header(h, cx));
    if let Some(store) = &scenario.store
        && word(&store.value.kind) == Some(StoreKind::Tub)
    {
        cx.conflict(
            (&store.span, "an open tub"),
            (&raw.span, "loop.bypass"),
            "the water of a header over an open tub would run out of it",
        );
    }
    if let (Some(h), Some(at)) = (&header, &b.header) {
        check_surface(scenario, h, at, cx);
    }
    Some(Bypass {
        riser: riser?,
        ret: ret?,
        check_valve: check_valve?,
        header: header?,
    })
}

/// The header's water must stand over all other water of the loop, or it would overflow.
fn check_surface(scenario: &RawScenario, h: &Vessel, at: &At<RawHeader>, cx: &mut Cx<'_>) {
    let surface = h.floor_z_m + h.water_depth_m;
    let other = match (&scenario.store, &scenario.bench) {
        (Some(s), _) => si(&s.value.floor_height).zip(si(&s.value.depth)),
        (None, Some(b)) => si(&b.value.height).map(|z| (z, 0.0)),
        (None, None) => None,
    };
    if let Some((floor, depth)) = other
        && surface < floor + depth
    {
        let report = cx
            .at(
                &codes::HEADER_LOW,
                &at.span,
                format!(
                    "the header's water stands at {}, below the other water of the loop at {}",
                    format_length(surface, UnitSystem::Metric),
                    format_length(floor + depth, UnitSystem::Metric)
                ),
            )
            .label("would overflow");
        cx.report(report);
    }
}

fn header(raw: &At<RawHeader>, cx: &mut Cx<'_>) -> Option<Vessel> {
    let h = &raw.value;
    let path = "loop.bypass.header";
    let (water, depth) = (si(&h.water), si(&h.depth));
    let key = "loop.bypass.header.layers";
    let layers = match &h.layers {
        Some(n) => n.value.read,
        None => cx.default_text(key, key).parse().ok(),
    };
    let (hot, cold) = ports_m((&h.hot_port, &h.cold_port), depth, path, cx);
    let given = (&h.loss, &h.insulation);
    let loss = loss_w_k(&raw.span, given, (water, depth), false, path, cx);
    let shell = shell_j_k(&h.shell, path, cx);
    Some(Vessel {
        kind: VesselKind::Tank,
        water_m3: water?,
        water_depth_m: depth?,
        floor_z_m: si(&h.floor_height)?,
        layers: layers?,
        start_temperature_k: si(&h.start)?,
        loss_w_k: loss?,
        shell_heat_capacity_j_k: shell?,
        hot_port_m: hot?,
        cold_port_m: cold?,
        // Nothing is drawn from a header.
        draw_port_m: hot?,
        surface: None,
        closed: None,
    })
}
