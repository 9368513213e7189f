//! Stoves without water, tried blind: see `blind`.

use super::blind::kept_up;
use super::check::{Check, Source, Tolerance};
use super::fires::Heater;
use super::sampled::{Dice, blind, mean, row, run};
use crate::support::rigs::{layer, section, steel};
use crate::support::stoves::boards;
use crate::support::variants::{brick, no_water, steady};
use emberloop::components::spec::*;

const TYPE_TEST: Source = Source::published(
    "type tests of log stoves (EN 13240), data plates",
    "load of 2 kg an hour or so, draught held at 12 Pa: flue gas 230 to 330 °C, 75 to 83 %; from memory, plates of many stoves. Open: stove, load, wood, free inlet",
);
const OLD_STOVES: Source = Source::published(
    "EPA AP-42, section 1.10, table of net efficiencies",
    "conventional wood stoves, 54 %; from memory. Open: stoves, wood, how they were tended; taken as on the gross heating value, American practice",
);
const SAUNA: Source = Source::published(
    "comparison of sauna stoves as they are used (Finland, 2019)",
    "flue gas of a stove that is fired throughout, 800 to 863 °C for long; seen. Open: stove, load, wood, draught, where in the flue",
);
pub const CHARCOAL: Source = Source::published(
    "masonry heater tests, cold firebox (heatkit.com, run 1916 of 2019)",
    "23.3 kg with 0.9 kg kindling in 13 pieces, 13 %, air shut at 90 min, charcoal weighed at 210 and 450 min; seen. Open: free inlet, channels, flue, how tight it shuts",
);

pub fn rows() -> Vec<Check> {
    let mut rows = type_test();
    rows.push(old_stove());
    rows.push(sauna());
    rows.extend(charcoal());
    rows
}

/// Suction of `pa` whatever flows: a chimney that is held at a draught.
fn held_draught(pa: f64) -> Section {
    section(
        "draught",
        SectionKind::Fan {
            curve: vec![(0.0, pa + 0.2), (0.5, pa - 0.2)],
        },
        0.2,
        0.1,
        vec![steel(1.0)],
    )
}

/// From where the flue gas is measured to the held draught.
fn stub(bore_m: f64, length_m: f64) -> Section {
    section(
        "flue",
        SectionKind::Flue,
        bore_m,
        length_m,
        vec![steel(1.0)],
    )
}

/// Given: draught, load and time to burn it, two figures. Open: size and inlet of the stove, load, logs, moisture. Judged over the second and third of three loads on
/// embers, as a test is.
fn type_test() -> Vec<Check> {
    let [flue_c, percent] = blind(|d| {
        let mut r = no_water();
        r.title = "Room stove on a test stand (invented)".into();
        r.site.altitude_m = 0.0;
        r.site.air_temperature_k = Profile::constant(293.15);
        let (w, h) = (d.between(0, 0.3, 0.42), d.between(1, 0.35, 0.5));
        r.firebox = Firebox {
            kind: FireboxKind::Door,
            width_m: w,
            depth_m: 0.3,
            height_m: h,
            mouth_area_m2: 0.1,
            mouth_cover: 0.0,
            air_inlet_area_m2: d.between(2, 0.0012, 0.0024),
            air_over_share: 0.0,
            inlet_loss_k: 1.8,
            burning_length_m: 0.28,
            hearth_mass_kg: 5.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![boards(), steel(3.0)],
            door: vec![steel(4.0)],
        };
        // Over the baffle, under the steel top, and up the first half metre of pipe.
        let over = Section {
            bore: Bore::Rect {
                width_m: w,
                depth_m: 0.08,
            },
            rise_m: 0.1,
            ..section(
                "over the baffle",
                SectionKind::Bend,
                0.1,
                0.35,
                vec![steel(4.0)],
            )
        };
        r.gas_path = vec![
            Section {
                loss_k: 1.5,
                ..over
            },
            stub(0.15, 0.6),
            held_draught(12.0),
        ];
        r.fuel.density_kg_m3 = 650.0;
        r.fuel.moisture_wet = d.between(3, 0.12, 0.18);
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: d.between(4, 0.06, 0.09),
            length_m: 0.28,
        };
        let (load_kg, every_s) = (d.between(5, 1.5, 2.2), 3000.0);
        r.lighting.kindling_kg = 0.8;
        r.feeding = Feeding {
            list: vec![FeedEvent {
                at_s: 300.0,
                mass_kg: 1.2,
                thickness_m: Some(0.05),
            }],
            every: vec![FeedEvery {
                from_s: 2400.0,
                interval_s: every_s,
                until: Until::Time(2400.0 + 2.5 * every_s),
                mass_kg: load_kg,
            }],
            rules: vec![],
            door_open_s: 20.0,
        };
        r.controls.air_inlet = steady(1.0);
        r.stop.at_target = false;
        r.stop.latest_s = 2400.0 + 3.0 * every_s;
        let (from, to) = (2400.0 + every_s, r.stop.latest_s);
        let result = run(&d.closures(&r, &[]))?;
        let at = |column| mean(&result, column, from, to);
        let (fire, lost) = (
            at("firing_rate_W"),
            at("heat_stack_sensible_W") + at("unburnt_W"),
        );
        Some([
            at("stack_temperature_K") - 273.15,
            100.0 * (1.0 - lost / fire),
        ])
    });
    vec![
        row(
            &TYPE_TEST,
            "flue gas of a room stove in its type test",
            "°C",
            280.0,
            &flue_c,
            Tolerance::Within(230.0, 330.0),
        ),
        row(
            &TYPE_TEST,
            "efficiency, net, of a room stove in its type test",
            "%",
            79.0,
            &percent,
            Tolerance::Within(75.0, 83.0),
        )
        .because("the inlets sampled, 12 to 24 cm2 for 2 kg an hour, give more air than a tested stove has; the plates tell neither inlet nor heat exchanger. In the first run leaks counted as a share of the door's opening: 29 %"),
    ]
}

/// Given: the kind. Open: all else, as such stoves are built and tended: a steel box with bricks halfway up, fed every hour or two, air set low.
fn old_stove() -> Check {
    let [percent] = blind(|d| {
        let mut r = no_water();
        r.title = "Conventional stove (invented)".into();
        r.site.altitude_m = 0.0;
        r.site.air_temperature_k = Profile::constant(273.15 + d.between(0, -5.0, 10.0));
        r.firebox = Firebox {
            kind: FireboxKind::Door,
            width_m: d.between(1, 0.38, 0.5),
            depth_m: 0.55,
            height_m: d.between(2, 0.38, 0.5),
            mouth_area_m2: 0.09,
            mouth_cover: 0.0,
            air_inlet_area_m2: d.between(3, 0.001, 0.003),
            air_over_share: 0.0,
            inlet_loss_k: 1.8,
            burning_length_m: 0.45,
            hearth_mass_kg: 20.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![brick(15.0), steel(6.0)],
            door: vec![steel(4.0)],
        };
        r.gas_path = vec![
            section("pipe", SectionKind::Flue, 0.15, 1.5, vec![steel(0.8)]),
            section(
                "flue",
                SectionKind::Flue,
                0.15,
                d.between(4, 3.0, 5.0),
                vec![
                    steel(0.6),
                    layer("mineral wool", 0.03, 120.0, 840.0, 0.05, false),
                ],
            ),
        ];
        r.fuel.moisture_wet = d.between(5, 0.16, 0.24);
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: d.between(6, 0.08, 0.13),
            length_m: 0.45,
        };
        let every_s = 5400.0;
        r.lighting.kindling_kg = 1.5;
        r.feeding = Feeding {
            list: vec![FeedEvent {
                at_s: 420.0,
                mass_kg: 2.0,
                thickness_m: Some(0.06),
            }],
            every: vec![FeedEvery {
                from_s: 3000.0,
                interval_s: every_s,
                until: Until::Time(3000.0 + 3.5 * every_s),
                mass_kg: every_s / 3600.0 * d.between(7, 1.2, 2.5),
            }],
            rules: vec![],
            door_open_s: 20.0,
        };
        r.controls.air_inlet = steady(1.0);
        // Air open until the fire is up.
        r.firebox.air_inlet_area_m2 *= 2.5;
        r.controls.air_inlet.steps.moves = vec![(2400.0, 0.4)];
        r.stop.at_target = false;
        r.stop.latest_s = 3000.0 + 4.0 * every_s;
        r.solver.output_interval_s = 60.0;
        let s = run(&d.closures(&r, &[]))?.summary;
        let kept = 1.0 - s.stack_loss_fraction? - s.unburnt_fraction?;
        Some([100.0 * kept * s.fuel_energy_J / s.fuel_energy_gross_J])
    });
    row(
        &OLD_STOVES,
        "efficiency, gross, of conventional stoves",
        "%",
        54.0,
        &percent,
        Tolerance::Absolute(4.0),
    )
    .because("15 % unburnt, and more air than the wood needs at the inlets sampled, of which the table tells nothing. In the first run leaks counted as a share of the door's opening: 34 %")
}

/// Given: fired throughout, the flue gas. Open: size, inlet, load, wood, draught (12 Pa of the test to 30 Pa of a warm chimney).
fn sauna() -> Check {
    let [flue_c] = blind(|d| {
        let mut r = no_water();
        r.title = "Sauna stove (invented)".into();
        r.site.altitude_m = 0.0;
        r.site.air_temperature_k = Profile::constant(293.15);
        let (w, h) = (d.between(0, 0.25, 0.35), d.between(1, 0.3, 0.45));
        // Sheet of 5 mm with stones around and on it.
        let wall = || vec![steel(5.0), layer("stones", 0.06, 1600.0, 900.0, 1.0, false)];
        r.firebox = Firebox {
            kind: FireboxKind::Door,
            width_m: w,
            depth_m: 0.42,
            height_m: h,
            mouth_area_m2: 0.05,
            mouth_cover: 0.0,
            air_inlet_area_m2: d.between(2, 0.003, 0.008),
            air_over_share: 0.0,
            inlet_loss_k: 1.8,
            burning_length_m: 0.33,
            hearth_mass_kg: 5.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: wall(),
            door: vec![steel(4.0)],
        };
        r.gas_path = vec![
            Section {
                loss_k: 1.0,
                ..section("way among the stones", SectionKind::Bend, 0.13, 0.2, wall())
            },
            stub(0.12, 0.3),
            held_draught(d.between(3, 12.0, 30.0)),
        ];
        r.fuel.density_kg_m3 = 550.0;
        r.fuel.moisture_wet = d.between(4, 0.12, 0.18);
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: d.between(5, 0.04, 0.07),
            length_m: 0.33,
        };
        r.lighting.kindling_kg = 0.8;
        r.feeding = kept_up(d.between(6, 3.0, 5.0));
        r.controls.air_inlet = steady(1.0);
        r.stop.at_target = false;
        r.stop.latest_s = 4500.0;
        let result = run(&d.closures(&r, &[]))?;
        Some([mean(&result, "stack_temperature_K", 1800.0, 4500.0) - 273.15])
    });
    row(
        &SAUNA,
        "flue gas of a sauna stove fired throughout",
        "°C",
        831.0,
        &flue_c,
        Tolerance::Within(800.0, 863.0),
    )
    .because("the stove and its draught are not told, and the range measured is that of the height of the fire, the mean here takes in the minutes after each load. In the first run leaks counted as a share of the door's opening: 690 °C")
}

/// Given: load, pieces, moisture, when the air is shut, what was left. Open: firebox, inlet, flue, tightness, wood between birch and oak. Shut air leaves a tenth to a
/// hundredth of the inlet, the leaks of the closure apart.
fn charcoal() -> Vec<Check> {
    let [at_210, at_450] = blind(|d| charcoal_left(&d, charcoal_rig(&d)));
    vec![
        row(
            &CHARCOAL,
            "charcoal left of 23.3 kg two hours after the air was shut",
            "kg",
            2.52,
            &at_210,
            Tolerance::Relative(0.3),
        )
        .because("three quarters of the charcoal are burnt when the air is shut, where in the heater more than 2.5 of some 4 kg were left: there the air enters over the fire and passes no embers, in this description a third of the oxygen reaches them. In the first run leaks counted as a share of the door's opening: 0.08 kg"),
        row(
            &CHARCOAL,
            "charcoal left of 23.3 kg six hours after the air was shut",
            "kg",
            1.18,
            &at_450,
            Tolerance::Relative(0.3),
        )
        .because("as two hours after"),
    ]
}

pub fn charcoal_rig(d: &Dice) -> Rig {
    let mut r = Heater {
        load_kg: 22.4,
        kindling_kg: 0.9,
        pieces: 13.0,
        moisture: 0.13,
        dry_kg_m3: d.between(0, 550.0, 680.0),
        length_m: d.between(1, 0.4, 0.5),
        width_m: d.between(2, 0.4, 0.55),
        height_m: d.between(3, 0.5, 0.7),
        inlet_m2: d.between(4, 0.008, 0.016),
        flue_m: d.between(5, 5.0, 7.0),
    }
    .rig();
    r.controls.air_inlet.steps.moves = vec![(5400.0, d.between(6, 0.01, 0.1))];
    r.stop.latest_s = 450.0 * 60.0;
    r
}

/// Wood and charcoal two and six hours after the air was shut, kg.
pub fn charcoal_left(d: &Dice, r: Rig) -> Option<[f64; 2]> {
    let result = run(&d.closures(&r, &[]))?;
    let left = |minute: f64| {
        let at = |column| mean(&result, column, 60.0 * minute - 31.0, 60.0 * minute + 31.0);
        at("bed_wood_kg") + at("bed_char_kg")
    };
    Some([left(210.0), left(449.0)])
}
