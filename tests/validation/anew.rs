//! Cases of the blind trial whose water-cooled fire had no part of its own in the model when they were written down: the same
//! samples with a water jacket in the place of what stood for it. They are seen cases now and do not count as blind.

use super::blind;
use super::check::{Check, Tolerance};
use super::sampled::{Dice, blind as samples, row, run};
use crate::support::rigs::{section, steel};
use crate::support::variants::brick;
use emberloop::components::spec::*;

pub fn rows() -> Vec<Check> {
    vec![
        logged_tub(),
        submerged(),
        nine_boilers(),
        wet_wood(),
    ]
}

/// Steel with water around it, `shell_w_m2k` from that water to the air, in the place of the tube along insulated walls.
fn wet_box(r: &mut Rig, shell_w_m2k: f64) {
    r.firebox.wall = vec![steel(4.0)];
    let given = JacketGiven {
        name: "jacket".into(),
        gap_m: 0.06,
        shell_w_m2k,
        water_entry: None,
        cells: None,
    };
    let outlet_m2 = r.gas_path[0].area_m2();
    let around = given.around_firebox(&r.firebox, outlet_m2);
    r.coils = vec![around.expect("a wall")];
}

/// A boiler's firebox and fire tubes in water: the tubes have the surface that the coil had, the duct between is brick.
fn wet_boiler(mut r: Rig) -> Rig {
    let surface_m2 = std::f64::consts::PI * r.coils[0].tube_outside_m * r.coils[0].length_m;
    let (bore_m, length_m) = (0.057, 1.0);
    let tubes = (surface_m2 / (std::f64::consts::PI * bore_m * length_m)).round() as usize;
    wet_box(&mut r, 0.7);
    r.gas_path[0].wall = vec![brick(50.0), brick(50.0)];
    r.gas_path[1] = Section {
        passages: tubes,
        ..section("fire tubes", SectionKind::Passage, bore_m, length_m, vec![steel(4.0)])
    };
    let given = JacketGiven {
        name: "tubes in water".into(),
        gap_m: 0.025,
        shell_w_m2k: 0.3,
        water_entry: None,
        cells: None,
    };
    let z_m = r.firebox.height_m + r.gas_path[0].rise_m;
    let around = given.around_section(&r.gas_path[1], 1, z_m);
    r.coils.push(around.expect("a wall"));
    r
}

fn hours(rig: impl Fn(&Dice) -> Rig + Sync, shell_w_m2k: f64) -> Vec<f64> {
    let [time] = samples(|d| {
        let mut r = rig(&d);
        wet_box(&mut r, shell_w_m2k);
        Some([blind::hours(&run(&d.closures(&r, &[]))?.summary)])
    });
    time
}

/// The heater's shell is a bare sheet.
fn logged_tub() -> Check {
    row(
        &blind::LOGGED_TUB,
        "time to heat 1,100 L by 31 K, external heater with a jacket",
        "h",
        3.0,
        &hours(blind::logged_tub_rig, 8.0),
        Tolerance::Relative(0.15),
    )
}

/// The stove stands in the tub: what passes its shell stays in the water.
fn submerged() -> Check {
    row(
        &blind::SUBMERGED,
        "time to heat a tub of 6 ft by 20 K, submerged stove in water all round",
        "h",
        1.16,
        &hours(blind::submerged_rig, 0.0),
        Tolerance::Relative(0.15),
    )
}

fn nine_boilers() -> Check {
    let [percent] = samples(|d| {
        let r = wet_boiler(blind::nine_boilers_rig(&d));
        let s = run(&d.closures(&r, &[]))?.summary;
        Some([100.0 * s.efficiency_net_char_credited?])
    });
    row(
        &blind::NINE_BOILERS,
        "efficiency, net, of log boilers with wet walls at full power",
        "%",
        86.0,
        &percent,
        Tolerance::Within(79.0, 93.0),
    )
}

fn wet_wood() -> Check {
    let [percent] = samples(|d| {
        let r = wet_boiler(blind::wet_wood_rig(&d));
        let s = run(&d.closures(&r, &[]))?.summary;
        let kept_j = 1e6 * d.between(3, 10.0, 30.0);
        Some([100.0 * (s.heat_to_tank_J - kept_j) / blind::WET_GROSS_J])
    });
    row(
        &blind::WET_WOOD,
        "efficiency, gross, of a log boiler with wet walls on wood of 30 %",
        "%",
        56.0,
        &percent,
        Tolerance::Absolute(4.0),
    )
}
