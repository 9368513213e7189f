//! Pots of the fourth trial on stoves that face them across the gas, in the place of stove and pot one after the other. Seen cases now; they do not count
//! as blind.

use super::blind_fourth::{BRICK_STOVE, LABORATORY, SKIRT, laboratory, preserving, skirted};
use super::check::{Check, Tolerance};
use super::sampled::{blind as samples, row};
use emberloop::components::spec::{Rig, Section};

/// The sections from `first` on, so many, as one: the wet one's wall across from the dry ones'.
fn as_one(path: &mut Vec<Section>, first: usize, count: usize) {
    let parts: Vec<Section> = path.drain(first..first + count).collect();
    let sum = |of: fn(&Section) -> f64| parts.iter().map(of).sum::<f64>();
    let (Some(wet), Some(dry)) = (
        parts.iter().find(|s| s.in_water),
        parts.iter().find(|s| !s.in_water),
    ) else {
        return path.extend(parts);
    };
    let one = Section {
        length_m: sum(|s| s.length_m),
        rise_m: sum(|s| s.rise_m),
        loss_k: sum(|s| s.loss_k),
        dry_share: 1.0 - wet.length_m / sum(|s| s.length_m),
        dry_wall: dry.wall.clone(),
        cells: Some(4),
        ..wet.clone()
    };
    path.insert(first, one);
}

/// The stove's top across from the pot's bottom, the skirt across from its side.
fn facing(mut r: Rig) -> Rig {
    as_one(&mut r.gas_path, 0, 2);
    if r.gas_path[1].name.starts_with("skirt") {
        as_one(&mut r.gas_path, 1, 3);
    }
    r
}

pub fn rows() -> Vec<Check> {
    let [lab_min, lab_percent] = samples(|d| laboratory(&d, facing));
    let [bare, points, _] = samples(|d| skirted(&d, facing));
    let [brick_min] = samples(|d| preserving(&d, facing));
    vec![
        row(
            &LABORATORY,
            "time to boil 2.27 kg on small stick stoves, their top across from the pot",
            "min",
            15.5,
            &lab_min,
            Tolerance::Within(12.0, 19.0),
        ),
        row(
            &LABORATORY,
            "efficiency of those stoves after 680 g of wood, the same",
            "%",
            24.0,
            &lab_percent,
            Tolerance::Within(22.0, 26.0),
        )
        .because("how many sticks were burnt is not told: hot fires among the samples reach 30 %"),
        row(
            &SKIRT,
            "efficiency, net, of a light stick stove, its skirt across from the pot",
            "%",
            51.3,
            &bare,
            Tolerance::Absolute(4.0),
        )
        .because("eight points more than with stove and pot one after the other; light walls and a third more convection would add as many again, and the figure is the best of its kind, from its maker"),
        row(
            &SKIRT,
            "points that a centimetre of fibre around that skirt adds",
            "points",
            6.0,
            &points,
            Tolerance::Within(4.0, 8.0),
        )
        .because("a thin bare skirt loses little here: it is cooled by the pot that it shines at"),
        row(
            &BRICK_STOVE,
            "time to bring a preserving boiler to the boil, the brick across from it",
            "min",
            30.0,
            &brick_min,
            Tolerance::Relative(0.15),
        )
        .because("a weak fire with the sticks sampled, and much of its heat stays in the brick"),
    ]
}
