//! Metals of the rig: which pairs the water joins, and how far each coil grows as it warms.

use crate::components::spec::Rig;
use crate::properties::limits;
use crate::results::{Couple, Growth};

/// Every pair of different metals in the loop's water, the largest difference first.
pub(super) fn couples(rig: &Rig) -> Vec<Couple> {
    let coils = rig
        .coils
        .iter()
        .map(|c| (c.name.clone(), c.metal.name.clone()));
    let parts: Vec<(String, String)> = coils
        .chain(
            rig.wetted
                .iter()
                .map(|w| (w.place.clone(), w.material.clone())),
        )
        .collect();
    let mut list: Vec<Couple> = Vec::new();
    for (i, a) in parts.iter().enumerate() {
        for b in &parts[i + 1..] {
            let Some((low, high)) = limits::couple_of_v(&a.1, &b.1) else {
                continue;
            };
            let known = |c: &Couple| {
                let of = |m: &str| limits::in_series(m);
                of(&c.metals[0]) == of(&a.1) && of(&c.metals[1]) == of(&b.1)
            };
            // The same pair of metals is told once.
            if list.iter().any(known) {
                continue;
            }
            list.push(Couple {
                places: [a.0.clone(), b.0.clone()],
                metals: [a.1.clone(), b.1.clone()],
                low_V: low,
                high_V: high,
                part: high >= limits::GALVANIC_CAUTION_V,
            });
        }
    }
    list.sort_by(|a, b| b.high_V.total_cmp(&a.high_V));
    list
}

/// Each coil from cold to boiling: 10 to 100 degC.
pub(super) fn growths(rig: &Rig) -> Vec<Growth> {
    rig.coils
        .iter()
        .filter_map(|c| {
            Some(Growth {
                coil: c.name.clone(),
                length_m: c.length_m,
                grows_m: limits::thermal_growth_m(&c.metal.name, c.length_m, 283.15, 373.15)?,
            })
        })
        .collect()
}
