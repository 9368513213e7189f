//! The validation table: every area's rows pass or are declared gaps, and `docs/validation.md` shows them.

#[path = "../support"]
mod support {
    pub mod loops;
    pub mod parts;
    pub mod rigs;
    pub mod series;
    pub mod steam;
    pub mod stoves;
    pub mod variants;
}

mod anew;
mod anew_pots;
mod anew_read;
mod blind;
mod blind_fourth;
mod blind_kettles;
mod blind_pots;
mod blind_second;
mod blind_stoves;
mod blind_third;
mod boiling;
mod check;
mod convection;
mod draught;
mod evaporation;
mod fires;
mod flow;
mod fuel;
mod gas;
mod identities;
mod materials;
mod radiation;
mod sampled;
mod transients;
mod water;
mod whole;

use check::{Check, hold, page};
use std::path::Path;
use std::sync::LazyLock;

/// An area's rows are worked out once, for its own test and for the page.
type Area = LazyLock<Vec<Check>>;

static FUEL: Area = LazyLock::new(fuel::rows);
static GAS: Area = LazyLock::new(gas::rows);
static DRAUGHT: Area = LazyLock::new(draught::rows);
static RADIATION: Area = LazyLock::new(radiation::rows);
static CONVECTION: Area = LazyLock::new(convection::rows);
static BOILING: Area = LazyLock::new(boiling::rows);
static WATER: Area = LazyLock::new(water::rows);
static FLOW: Area = LazyLock::new(flow::rows);
static TRANSIENTS: Area = LazyLock::new(transients::rows);
static EVAPORATION: Area = LazyLock::new(evaporation::rows);
static IDENTITIES: Area = LazyLock::new(identities::rows);
static MATERIALS: Area = LazyLock::new(materials::rows);
static WHOLE: Area = LazyLock::new(whole::rows);
static BLIND: Area = LazyLock::new(blind::rows);
static SECOND: Area = LazyLock::new(blind_second::rows);
static THIRD: Area = LazyLock::new(blind_third::rows);
static FOURTH: Area = LazyLock::new(blind_fourth::rows);
static ANEW: Area = LazyLock::new(anew::rows);

#[test]
fn published_wood_and_charring() {
    hold(&FUEL);
}

#[test]
fn published_combustion_gas() {
    hold(&GAS);
}

#[test]
fn published_draught_and_air() {
    hold(&DRAUGHT);
}

#[test]
fn published_radiation() {
    hold(&RADIATION);
}

#[test]
fn published_convection() {
    hold(&CONVECTION);
}

#[test]
fn published_boiling() {
    hold(&BOILING);
}

#[test]
fn published_water_and_steam() {
    hold(&WATER);
}

#[test]
fn published_friction_and_loops() {
    hold(&FLOW);
}

#[test]
fn analytic_transients() {
    hold(&TRANSIENTS);
}

#[test]
fn published_evaporation() {
    hold(&EVAPORATION);
}

#[test]
fn identity_laws_hold() {
    hold(&IDENTITIES);
}

#[test]
fn published_materials() {
    hold(&MATERIALS);
}

/// Samples over what the sources leave open: half a minute on two cores.
#[test]
fn published_whole_systems() {
    hold(&WHOLE);
}

/// As many samples again and more, over burns that were not known while the model was built.
#[test]
fn published_whole_systems_tried_blind() {
    hold(&BLIND);
}

#[test]
fn published_whole_systems_of_the_second_blind_trial() {
    hold(&SECOND);
}

#[test]
fn published_whole_systems_of_the_third_blind_trial() {
    hold(&THIRD);
}

#[test]
fn published_whole_systems_of_the_fourth_blind_trial() {
    hold(&FOURTH);
}

#[test]
fn published_whole_systems_described_anew() {
    hold(&ANEW);
}

/// With `EMBERLOOP_WRITE_DOCS` set, the page is written anew instead.
#[test]
fn regress_the_validation_page_is_in_step_with_its_checks() {
    let areas: [(&str, &[Check]); 18] = [
        ("Wood and charring", &FUEL),
        ("Combustion gas", &GAS),
        ("Draught and air", &DRAUGHT),
        ("Radiation", &RADIATION),
        ("Convection", &CONVECTION),
        ("Boiling and two-phase flow", &BOILING),
        ("Water and steam", &WATER),
        ("Friction and loops", &FLOW),
        ("Transients", &TRANSIENTS),
        ("Evaporation", &EVAPORATION),
        ("Materials", &MATERIALS),
        ("Laws", &IDENTITIES),
        ("Whole systems", &WHOLE),
        (check::BLIND, &BLIND),
        (check::SECOND, &SECOND),
        (check::THIRD, &THIRD),
        (check::FOURTH, &FOURTH),
        (check::ANEW, &ANEW),
    ];
    let text = page(&areas);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/validation.md");
    if std::env::var_os("EMBERLOOP_WRITE_DOCS").is_some() {
        std::fs::write(&path, &text).expect("docs/validation.md");
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        written == text,
        "docs/validation.md is out of date; run this test with EMBERLOOP_WRITE_DOCS=1"
    );
}
