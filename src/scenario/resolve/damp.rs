//! Layers of a wall that hold free water at lighting.

use super::Cx;
use super::jacket::GivenWall;
use crate::properties::solids::{self, Solid};
use crate::scenario::codes;
use crate::scenario::raw::types::{At, Fraction, Q};
use std::ops::Range;

/// The water of one layer, kg per kg dry; refused where its material holds none, or not so much.
pub(super) fn moisture(
    given: &At<Q<Fraction>>,
    (solid, density_kg_m3): (Option<&'static Solid>, f64),
    path: &str,
    cx: &mut Cx<'_>,
) -> Option<f64> {
    let moisture = given.value.si()?;
    if moisture == 0.0 {
        return Some(moisture);
    }
    let most = solids::most_water(density_kg_m3);
    let (message, help) = match solid {
        None => (
            format!(
                "{path}: how hard vapour passes is known of the table's materials only"
            ),
            "name the nearest material of the table and override its conductivity, density and heat_capacity"
                .to_owned(),
        ),
        Some(s) if !s.pores().is_some_and(|p| p.hold_water) => (
            format!("{path}: {} holds no free water that dries", s.name),
            "leave it out".to_owned(),
        ),
        Some(s) if moisture > most => (
            format!(
                "{path}: the pores of {} of {} kg/m3 have room for {:.1} % of its dry mass, not for {:.1} %",
                s.name,
                crate::units::significant(density_kg_m3, 4),
                100.0 * most,
                100.0 * moisture
            ),
            format!("at most {:.1} %", (1000.0 * most).floor() / 10.0),
        ),
        Some(_) => return Some(moisture),
    };
    let report = cx
        .at(&codes::DAMP, &given.span, message)
        .label("water at lighting")
        .help(help);
    cx.report(report);
    None
}

/// A wall that stands in the water of store or drum (`whose`) cannot be given water to dry.
pub(super) fn refuse_in_water(
    wall: &GivenWall,
    (path, whose): (&str, &str),
    in_water: &Range<usize>,
    cx: &mut Cx<'_>,
) {
    for layer in wall.iter().flat_map(|w| &w.value.0) {
        let Some(given) = &layer.value.moisture else {
            continue;
        };
        let report = cx
            .at(
                &codes::DAMP,
                &given.span,
                format!("{path}: a wall that stands in {whose} water does not dry"),
            )
            .label("water at lighting")
            .also(in_water, "in the water here")
            .help("leave it out");
        cx.report(report);
    }
}
