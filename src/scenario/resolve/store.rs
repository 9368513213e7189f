//! The store: volume, ports, loss, shell, open surface.

use super::closed::closed;
use super::{Cx, Features, si, word};
use crate::components::spec::{OpenSurface, Vessel, VesselKind};
use crate::properties::solids;
use crate::scenario::codes;
use crate::scenario::raw::types::{At, Conductance, HeatCapacity, Length, Mass, Q, Text};
use crate::scenario::raw::{RawInsulation, RawScenario, RawShell, RawStore, StoreKind};
use crate::units::{UnitSystem, format_area, format_conductance, format_length, significant};
use std::f64::consts::PI;
use std::ops::Range;

/// Outside film of a vessel, m2K/W: ISO 6946:2017 table 7, horizontal heat flow (from memory).
pub(super) const FILM_M2K_W: f64 = 0.13;
/// Mean temperature of a vessel's insulation above the reference of the tables, K (about 40 degC).
const INSULATION_EXCESS_K: f64 = 15.0;
/// Draw port as a share of the depth, where none is given.
const DRAW_PORT_SHARE: f64 = 0.9;

/// A quantity as it may be given.
type Given<K> = Option<At<Q<K>>>;

/// Whether a store draws from its port.
fn draws(raw: &RawScenario) -> bool {
    let drawn = raw.draw.as_ref().is_some_and(|d| !d.value.0.is_empty());
    let tap = raw
        .target
        .as_ref()
        .and_then(|t| word(&t.value.probe))
        .is_some_and(|p| p == crate::scenario::raw::RawProbe::Tap);
    drawn || tap
}

/// The vessel.
pub(super) fn vessel(
    raw: &RawScenario,
    s: &At<RawStore>,
    f: &Features,
    cx: &mut Cx<'_>,
) -> Option<Vessel> {
    let v = &s.value;
    let kind = word(&v.kind);
    let tub = f.tub;
    let depth = si(&v.depth);
    let water = si(&v.water);
    let variant = match kind {
        Some(StoreKind::Tank) => "store.layers/tank",
        Some(StoreKind::Tub) => "store.layers/tub",
        _ => "store.layers/barrel",
    };
    let layers = match &v.layers {
        Some(n) => n.value.read,
        None if kind.is_some() => cx.default_text("store.layers", variant).parse().ok(),
        None => None,
    };
    let (hot, cold) = if raw.circuit.is_none() {
        // None is used; they stand where a loop's would.
        (depth, Some(0.0))
    } else {
        for (given, key) in [(&v.hot_port, "hot_port"), (&v.cold_port, "cold_port")] {
            if given.is_none() {
                cx.missing(&s.span, format!("[store] with a [loop] needs \"{key}\""));
            }
        }
        ports_m((&v.hot_port, &v.cold_port), depth, "store", cx)
    };
    let draw = if draws(raw) {
        match &v.draw_port {
            Some(_) => port_m(&v.draw_port, depth, "store.draw_port", cx),
            None => depth.map(|d| {
                cx.echo(
                    "store.draw_port",
                    format_length(DRAW_PORT_SHARE * d, UnitSystem::Metric),
                    "near the top, at nine tenths of the depth",
                );
                DRAW_PORT_SHARE * d
            }),
        }
    } else {
        cx.no_effect(
            &v.draw_port,
            "store.draw_port",
            "nothing is drawn ([[draw]]) and the probe is not \"tap\"",
        );
        depth.map(|d| DRAW_PORT_SHARE * d)
    };
    let surface = if tub {
        Some(open_surface(v, water, depth, cx))
    } else {
        let why = "only a tub has an open surface";
        cx.no_effect(&v.surface, "store.surface", why);
        cx.no_effect(&v.cover, "store.cover", why);
        cx.no_effect(&v.clouds, "store.clouds", why);
        cx.no_effect(&v.wind_share, "store.wind_share", why);
        None
    };
    let shut = v.closed.as_ref().map(|c| closed(raw, v, c, cx));
    let given = (&v.loss, &v.insulation);
    let loss = loss_w_k(&s.span, given, (water, depth), tub, "store", cx);
    let shell = shell_j_k(&v.shell, "store", cx);
    Some(Vessel {
        kind: match kind? {
            StoreKind::Barrel => VesselKind::Barrel,
            StoreKind::Tank => VesselKind::Tank,
            StoreKind::Tub => VesselKind::Tub,
        },
        water_m3: water?,
        water_depth_m: depth?,
        floor_z_m: si(&v.floor_height)?,
        layers: layers?,
        start_temperature_k: si(&v.start)?,
        loss_w_k: loss?,
        shell_heat_capacity_j_k: shell?,
        hot_port_m: hot?,
        cold_port_m: cold?,
        draw_port_m: draw?,
        surface: match surface {
            Some(s) => Some(s?),
            None => None,
        },
        closed: match shut {
            Some(c) => Some(c?),
            None => None,
        },
    })
}

/// Heights of hot and cold port.
pub(super) fn ports_m(
    given: (&Given<Length>, &Given<Length>),
    depth_m: Option<f64>,
    path: &str,
    cx: &mut Cx<'_>,
) -> (Option<f64>, Option<f64>) {
    let hot = port_m(given.0, depth_m, &format!("{path}.hot_port"), cx);
    let cold = port_m(given.1, depth_m, &format!("{path}.cold_port"), cx);
    if let (Some(h), Some(c), Some(at), Some(other)) = (hot, cold, given.0, given.1)
        && h <= c
    {
        let report = cx
            .at(
                &codes::PORTS_SWAPPED,
                &at.span,
                format!("{path}.hot_port is not above {path}.cold_port"),
            )
            .label("hot port")
            .also(&other.span, "cold port");
        cx.report(report);
    }
    (hot, cold)
}

/// A port's height, under the water.
fn port_m(
    given: &Option<At<Q<Length>>>,
    depth_m: Option<f64>,
    path: &str,
    cx: &mut Cx<'_>,
) -> Option<f64> {
    let (at, z) = (given.as_ref()?, si(given)?);
    if let Some(d) = depth_m
        && z > d
    {
        let report = cx
            .at(
                &codes::PORT,
                &at.span,
                format!(
                    "{path}: {} lies above the water, which is {} deep",
                    format_length(z, UnitSystem::Metric),
                    format_length(d, UnitSystem::Metric)
                ),
            )
            .label("outside the water");
        cx.report(report);
        return None;
    }
    Some(z)
}

fn open_surface(
    v: &RawStore,
    water_m3: Option<f64>,
    depth_m: Option<f64>,
    cx: &mut Cx<'_>,
) -> Option<OpenSurface> {
    let area = match &v.surface {
        Some(q) => q.value.si(),
        None => water_m3.zip(depth_m).map(|(w, d)| {
            cx.echo(
                "store.surface",
                format_area(w / d, UnitSystem::Metric),
                "volume over depth",
            );
            w / d
        }),
    };
    let clouds = cx.or(&v.clouds, "store.clouds", "store.clouds");
    let wind = cx.or(&v.wind_share, "store.wind_share", "store.wind_share");
    let (leak, conductance) = match &v.cover {
        Some(c) => (
            cx.or(&c.value.leak, "store.cover.leak", "store.cover.leak"),
            si(&c.value.conductance),
        ),
        None => (Some(1.0), Some(0.0)),
    };
    Some(OpenSurface {
        area_m2: area?,
        cover_leak: leak?,
        cover_w_m2k: conductance?,
        cloud_cover: clouds?,
        wind_share: wind?,
    })
}

/// Loss of the vessel, given or from its insulation.
pub(super) fn loss_w_k(
    span: &Range<usize>,
    given: (&Given<Conductance>, &Option<At<RawInsulation>>),
    (water_m3, depth_m): (Option<f64>, Option<f64>),
    tub: bool,
    path: &str,
    cx: &mut Cx<'_>,
) -> Option<f64> {
    match given {
        (Some(l), Some(i)) => {
            cx.conflict(
                (&l.span, "loss"),
                (&i.span, "insulation"),
                "the loss follows from the insulation",
            );
            insulation_m2k_w(i, path, cx);
            None
        }
        (Some(l), None) => l.value.si(),
        (None, Some(i)) => {
            let r = insulation_m2k_w(i, path, cx);
            let (w, d) = (water_m3?, depth_m?);
            let base = w / d;
            let side = 2.0 * (PI * base).sqrt() * d;
            let lids = if tub { 1.0 } else { 2.0 };
            let area = side + lids * base;
            let loss = area / (r? + FILM_M2K_W);
            cx.echo(
                format!("{path}.loss"),
                format_conductance(loss, UnitSystem::Metric),
                format!(
                    "from the insulation and {} of upright cylinder, outside film {FILM_M2K_W} m2K/W (ISO 6946)",
                    format_area(area, UnitSystem::Metric)
                ),
            );
            Some(loss)
        }
        (None, None) => {
            let name = shown(path);
            cx.missing(span, format!("{name} needs \"loss\" or \"insulation\""));
            None
        }
    }
}

/// Thermal resistance of the insulation, m2K/W.
pub(super) fn insulation_m2k_w(i: &At<RawInsulation>, path: &str, cx: &mut Cx<'_>) -> Option<f64> {
    let v = &i.value;
    let thickness = si(&v.thickness);
    let k = match (&v.material, &v.conductivity) {
        (Some(m), Some(c)) => {
            cx.conflict(
                (&m.span, "material"),
                (&c.span, "conductivity"),
                "the conductivity follows from the material",
            );
            None
        }
        (None, Some(c)) => c.value.si(),
        (Some(m), None) => {
            let (k0, k1) = solid(m, cx)?.conductivity(thickness?);
            Some(k0 + k1 * INSULATION_EXCESS_K)
        }
        (None, None) => {
            cx.missing(
                &i.span,
                format!("{path}.insulation needs \"material\" or \"conductivity\""),
            );
            None
        }
    };
    Some(thickness? / k?)
}

/// How messages name a group: a section of its own in brackets.
fn shown(path: &str) -> String {
    if path.contains('.') {
        path.to_owned()
    } else {
        format!("[{path}]")
    }
}

/// Heat capacity of the shell, given or left out.
pub(super) fn shell_j_k(given: &Option<At<RawShell>>, path: &str, cx: &mut Cx<'_>) -> Option<f64> {
    let key = format!("{path}.shell");
    let Some(s) = given else {
        return cx.or::<HeatCapacity>(&None, &key, &key);
    };
    let v = &s.value;
    mass_heat_j_k(&v.heat_capacity, &v.material, &v.mass, (&s.span, &key), cx)
}

/// Heat capacity of a solid mass: given, or from material and mass. `group` where the three keys stand.
pub(super) fn mass_heat_j_k(
    given: &Given<HeatCapacity>,
    material: &Option<At<Text>>,
    mass: &Given<Mass>,
    (group_span, group): (&Range<usize>, &str),
    cx: &mut Cx<'_>,
) -> Option<f64> {
    let why = "the heat capacity follows from material and mass";
    match (given, material, mass) {
        (Some(h), Some(m), _) => {
            cx.conflict((&h.span, "heat_capacity"), (&m.span, "material"), why);
            None
        }
        (Some(h), None, Some(m)) => {
            cx.conflict((&h.span, "heat_capacity"), (&m.span, "mass"), why);
            None
        }
        (Some(h), None, None) => h.value.si(),
        (None, Some(m), Some(mass)) => {
            let c = solid(m, cx)?.heat_capacity_j_kgk * mass.value.si()?;
            let shown = if c < 1e6 {
                format!("{} kJ/K", significant(c / 1e3, 3))
            } else {
                format!("{} MJ/K", significant(c / 1e6, 3))
            };
            cx.echo(
                format!("{group}.heat_capacity"),
                shown,
                "mass times specific heat of the table",
            );
            Some(c)
        }
        (None, _, _) => {
            cx.missing(
                group_span,
                format!(
                    "{} needs \"material\" and \"mass\", or \"heat_capacity\"",
                    shown(group)
                ),
            );
            None
        }
    }
}

/// A material of the table by its name.
fn solid(m: &At<Text>, cx: &mut Cx<'_>) -> Option<&'static solids::Solid> {
    let name = m.value.read.as_deref()?;
    let found = solids::by_name(name);
    if found.is_none() {
        let known = solids::names();
        cx.unknown_name(&codes::NO_SUCH_MATERIAL, &m.span, "material", name, &known);
    }
    found
}
