//! A boiler whose fire is drawn down through its embers.

use super::rigs::{section, steel};
use super::variants::{brick, jacketed, steady, vessel};
use emberloop::components::spec::*;

/// The jacketed boiler with a magazine whose fire a fan draws down through the embers into a chamber of brick; half an hour after lighting filled with
/// `load_kg`.
pub fn drawn_down(load_kg: f64) -> Rig {
    let mut r = jacketed(true);
    r.title = "Boiler with down-draught (invented)".into();
    r.firebox.kind = FireboxKind::DownDraught;
    r.firebox.height_m = 0.5;
    r.firebox.air_inlet_area_m2 = 0.005;
    r.firebox.air_over_share = 0.4;
    let burn_out = Section {
        rise_m: 0.0,
        ..section(
            "burn-out chamber",
            SectionKind::Passage,
            0.25,
            0.6,
            vec![brick(50.0), steel(4.0)],
        )
    };
    let fan = section(
        "fan",
        SectionKind::Fan {
            curve: vec![(0.0, 30.0), (0.01, 20.0), (0.016, 0.0)],
        },
        0.15,
        0.2,
        vec![steel(2.0)],
    );
    r.gas_path.insert(0, burn_out);
    r.gas_path.insert(2, fan);
    let given = |name: &str, gap_m: f64| JacketGiven {
        name: name.into(),
        gap_m,
        shell_w_m2k: 0.5,
        water_entry: None,
        cells: None,
    };
    let outlet_m2 = r.gas_path[0].area_m2();
    let of_firebox = given("firebox jacket", 0.05).around_firebox(&r.firebox, outlet_m2);
    let of_tubes = given("tube jacket", 0.025).around_section(&r.gas_path[1], 1, 0.0);
    r.coils = [of_firebox, of_tubes].map(|c| c.expect("walls")).into();
    r.fuel.stick.thickness_m = 0.08;
    r.feeding = Feeding {
        list: [(420.0, 3.0, Some(0.05)), (1800.0, load_kg, None)]
            .map(|(at_s, mass_kg, thickness_m)| FeedEvent {
                at_s,
                mass_kg,
                thickness_m,
            })
            .into(),
        door_open_s: 20.0,
        ..Feeding::default()
    };
    r.controls.air_inlet = steady(1.0);
    vessel(&mut r).water_m3 = 1.5;
    r.stop.at_target = false;
    r.stop.latest_s = 4.0 * 3600.0;
    r
}
