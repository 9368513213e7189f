//! Gas of the blind trials as a bare thermometer of 3 mm shows it, in the place of the gas's own temperature. Seen cases now; they do not count
//! as blind.

use super::blind_fourth::{MUD, mud};
use super::check::{Check, Tolerance};
use super::sampled::{blind as samples, row};

pub fn rows() -> Vec<Check> {
    let [_, _, _, mud_c] = samples(|d| mud(&d));
    vec![row(
        &MUD,
        "chamber of the mud stove, as a bare thermometer shows it",
        "°C",
        660.9,
        &mud_c,
        Tolerance::Absolute(60.0),
    )]
}
