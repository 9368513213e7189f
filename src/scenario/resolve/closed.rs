//! A closed store: fill pressure, expansion vessel, relief valve, what it can bear.

use super::{Cx, si, word};
use crate::components::spec::Closed;
use crate::scenario::codes;
use crate::scenario::raw::types::At;
use crate::scenario::raw::{RawClosed, RawScenario, RawStore, StoreKind};
use crate::units::{UnitSystem, format_pressure};

/// Precharge under the fill pressure, Pa: EN 12828 asks for at least 0.3 bar between them (from memory).
const PRECHARGE_UNDER_FILL_PA: f64 = 0.3e5;

/// Share of its setting at which a relief valve shuts again, and of the setting at which a vessel has been tested.
const RESEAT_SHARE: f64 = 0.8;
const TESTED_SHARE: f64 = 1.43;

fn shown(pa: f64) -> String {
    format_pressure(pa, UnitSystem::Metric)
}

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
    let reseat = reseat_pa(v, fill, relief, cx);
    let burst = burst_pa(v, relief, cx);
    let bore = cx.or(
        &v.relief_bore,
        "store.closed.relief_bore",
        "store.closed.relief_bore",
    );
    let discharge = cx.or(
        &v.relief_discharge,
        "store.closed.relief_discharge",
        "store.closed.relief_discharge",
    );
    Some(Closed {
        fill_pa: fill?,
        vessel_m3: vessel?,
        precharge_pa: precharge?,
        relief_pa: relief?,
        reseat_pa: reseat?,
        relief_bore_m: bore?,
        relief_discharge: discharge?,
        burst_pa: burst?,
    })
}

/// Where the valve shuts again: given, or a fifth under its setting, at least halfway up from the fill pressure.
fn reseat_pa(
    v: &RawClosed,
    fill: Option<f64>,
    relief: Option<f64>,
    cx: &mut Cx<'_>,
) -> Option<f64> {
    let Some(at) = &v.reseat_pressure else {
        let (fill, relief) = (fill?, relief?);
        let p = (RESEAT_SHARE * relief).max(0.5 * (fill + relief));
        cx.echo(
            "store.closed.reseat_pressure",
            shown(p),
            "a fifth under the setting, the most that EN ISO 4126-1 allows for water (from memory), but no nearer the fill pressure than halfway",
        );
        return Some(p);
    };
    let p = at.value.si()?;
    if let (Some(fill), Some(relief)) = (fill, relief)
        && relief > fill
        && !(p > fill && p < relief)
    {
        let report = cx
            .at(
                &codes::PRESSURE_ORDER,
                &at.span,
                format!("the relief valve shuts again at {}", shown(p)),
            )
            .label("not between fill pressure and relief pressure")
            .help(format!("over {} and under {}", shown(fill), shown(relief)));
        cx.report(report);
    }
    Some(p)
}

/// Where something gives way: given, or what a vessel for this valve has been tested at.
fn burst_pa(v: &RawClosed, relief: Option<f64>, cx: &mut Cx<'_>) -> Option<f64> {
    let Some(at) = &v.burst_pressure else {
        let p = TESTED_SHARE * relief?;
        cx.echo(
            "store.closed.burst_pressure",
            shown(p),
            "1.43 times the relief setting: what a vessel allowed for this setting has been tested at (2014/68/EU annex I 7.4, from memory); beyond it nothing is known to hold",
        );
        return Some(p);
    };
    let p = at.value.si()?;
    if let Some(relief) = relief
        && p <= relief
    {
        let report = cx
            .at(
                &codes::PRESSURE_ORDER,
                &at.span,
                format!(
                    "store or vessel gives way at {}, before the relief valve opens at {}",
                    shown(p),
                    shown(relief)
                ),
            )
            .label("bursts first")
            .help(format!("more than {}", shown(relief)));
        cx.report(report);
    }
    Some(p)
}
