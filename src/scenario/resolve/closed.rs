//! A closed store: fill pressure, expansion vessel, relief setting.

use super::{Cx, si, word};
use crate::components::spec::Closed;
use crate::scenario::codes;
use crate::scenario::raw::types::At;
use crate::scenario::raw::{RawClosed, RawScenario, RawStore, StoreKind};
use crate::units::{UnitSystem, format_pressure};

/// Precharge under the fill pressure, Pa: EN 12828 asks for at least 0.3 bar between them (from memory).
const PRECHARGE_UNDER_FILL_PA: f64 = 0.3e5;

/// What shuts the store in.
pub(super) fn closed(
    raw: &RawScenario,
    store: &RawStore,
    c: &At<RawClosed>,
    cx: &mut Cx<'_>,
) -> Option<Closed> {
    let v = &c.value;
    let fill = si(&v.fill_pressure);
    let relief = si(&v.relief_pressure);
    let vessel = si(&v.vessel_volume);
    let precharge = match &v.vessel_precharge {
        Some(q) => q.value.si(),
        None => fill.map(|f| {
            let p = (f - PRECHARGE_UNDER_FILL_PA).max(0.0);
            cx.echo(
                "store.closed.vessel_precharge",
                format_pressure(p, UnitSystem::Metric),
                "0.3 bar under the fill pressure, so that the cold vessel holds some water (EN 12828, from memory)",
            );
            p
        }),
    };
    if let Some(k) = &store.kind
        && word(&store.kind) == Some(StoreKind::Tub)
    {
        cx.conflict(
            (&k.span, "store.kind = \"tub\""),
            (&c.span, "store.closed"),
            "a tub is open to the air",
        );
    }
    let bypass = raw.circuit.as_ref().and_then(|l| l.value.bypass.as_ref());
    if let Some(b) = bypass {
        cx.conflict(
            (&b.span, "loop.bypass"),
            (&c.span, "store.closed"),
            "the header of a bypass is vented, and its water's surface sets the pressure",
        );
    }
    let shown = |p: f64| format_pressure(p, UnitSystem::Metric);
    if let (Some(f), Some(r), Some(at)) = (fill, relief, &v.relief_pressure)
        && r <= f
    {
        let report = cx
            .at(
                &codes::PRESSURE_ORDER,
                &at.span,
                format!(
                    "the relief valve opens at {}, not above the fill pressure of {}",
                    shown(r),
                    shown(f)
                ),
            )
            .label("opens when cold")
            .help(format!("more than {}", shown(f)));
        cx.report(report);
    }
    if let (Some(f), Some(p), Some(at)) = (fill, precharge, &v.vessel_precharge)
        && p > f
    {
        let report = cx
            .at(
                &codes::PRESSURE_ORDER,
                &at.span,
                format!(
                    "the vessel's precharge of {} lies above the fill pressure of {}",
                    shown(p),
                    shown(f)
                ),
            )
            .label("no water enters the vessel")
            .help(format!("at most {}", shown(f)));
        cx.report(report);
    }
    Some(Closed {
        fill_pa: fill?,
        vessel_m3: vessel?,
        precharge_pa: precharge?,
        relief_pa: relief?,
    })
}
