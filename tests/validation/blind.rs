//! Whole systems tried blind: measured burns that were not known while the model was built. Each scenario, with what its
//! source gives and the ranges of what it leaves open, was written down before its first run and not changed after it.

use super::blind_stoves;
use super::check::{Check, Source, Tolerance};
use super::sampled::{Dice, blind, mean, row, run};
use super::whole::{LogBoiler, jacket};
use crate::support::rigs::{section, steel};
use crate::support::stoves::{light_brick, pumps, rocket};
use crate::support::variants::{brick, circuit, door_stove, steady, tub, vessel};
use emberloop::components::spec::*;
use emberloop::results::Summary;

pub const LOGGED_TUB: Source = Source::published(
    "a tub maker's log (four-channel logger)",
    "1,100 L from 6 to 37 °C in around 3 h, external heater, thermosyphon; seen. Open: heater, wood, weather, lid",
);
pub const SUBMERGED: Source = Source::published(
    "a tub maker's figure",
    "tub of 6 ft x 3 ft with submerged stove, well-dried softwood, covered, about 31 °F an hour; seen. Open: stove, wood, weather; no log shown",
);
const DRUM_TUB: Source = Source::published(
    "builders of a drum-stove tub (instructables.com)",
    "55 gal drum on a door kit, 50 ft of 1/2 in copper inside, 1/2 hp pump, 300 gal, about 3 h; seen. Open: start, target, air, flow, wood, cover",
);
const STICK_HEATER: Source = Source::published(
    "a builder of a stick-fed water heater (survivalblog.com)",
    "25 ft of 3/8 in type L copper in the stove's chimney, pump of 3 gpm, water 25 °F warmer in one pass, thermometers in the pipes; seen. Open: stove, chimney, wood",
);
pub const NINE_BOILERS: Source = Source::published(
    "test of nine log boilers by a national energy agency (Sweden, 2014)",
    "full power into a store, wood at 15 to 20 %, 79 to 93 %, seven of nine at 85 % or more; seen. Open: boilers, air ratio",
);
pub const WET_WOOD: Source = Source::published(
    "a log boiler's owner (hearth.com 11773)",
    "94 lb at 30 % moisture into house, store and tub, 316,805 Btu, 56 % of the dry wood's gross 8,600 Btu/lb; heat left in the boiler not counted; seen. Open: boiler, time, air ratio, what the boiler kept",
);

/// Of wood at 30 %, and its heat at 8,600 Btu/lb of dry wood.
const WET_KG: f64 = 42.6;
pub const WET_GROSS_J: f64 = 0.7 * WET_KG * 20.0e6;

pub fn rows() -> Vec<Check> {
    let mut rows = vec![
        logged_tub(),
        submerged(),
        drum_tub(),
        stick_heater(),
        nine_boilers(),
        wet_wood(),
    ];
    rows.extend(blind_stoves::rows());
    rows
}

/// Hours to the target; the run's length where it was not reached.
pub fn hours(s: &Summary) -> f64 {
    s.time_to_target_s.unwrap_or(s.end_s) / 3600.0
}

/// The fire is kept up: half a load whenever half of it has charred, not more often than every ten minutes.
pub fn kept_up(load_kg: f64) -> Feeding {
    Feeding {
        list: vec![FeedEvent {
            at_s: 300.0,
            mass_kg: 0.5 * load_kg,
            thickness_m: Some(0.04),
        }],
        every: vec![],
        rules: vec![FeedRule {
            when: FeedWhen::BedBelow(0.5 * load_kg),
            mass_kg: 0.5 * load_kg,
            not_within_s: 600.0,
            from_s: 900.0,
            until: Until::End,
        }],
        door_open_s: 20.0,
    }
}

/// A box of water-cooled sheet: its inner surface is that half of a tube along the walls that sees the fire, what lies
/// behind keeps the rest in. The door is not cooled.
fn water_box(r: &mut Rig, width_m: f64, depth_m: f64, height_m: f64, inlet_m2: f64) {
    let door_m2 = 0.06;
    r.firebox = Firebox {
        kind: FireboxKind::Door,
        width_m,
        depth_m,
        height_m,
        mouth_area_m2: door_m2,
        mouth_cover: 0.0,
        air_inlet_area_m2: inlet_m2,
        air_over_share: 0.0,
        inlet_loss_k: 1.8,
        burning_length_m: 0.33,
        hearth_mass_kg: 6.0,
        in_water: 0.0,
        wet_wall: vec![],
        wall: jacket(),
        door: vec![steel(4.0)],
    };
    let cooled_m2 = 2.0 * (width_m + depth_m) * height_m + width_m * depth_m - door_m2;
    let (outside, exposed_share) = (0.06, 0.5);
    let c = &mut r.coils[0];
    c.section = 0;
    c.form = CoilForm::Chamber {
        coil_diameter_m: 0.0,
        run_m: width_m,
        exposed_share,
    };
    c.tube_outside_m = outside;
    c.tube_inside_m = 0.056;
    c.length_m = cooled_m2 / (std::f64::consts::PI * outside * exposed_share);
    c.core_plug_share = 0.0;
    c.bottom_z_m = 0.08;
    c.top_z_m = height_m - 0.02;
    c.water_entry = WaterEntry::GasInlet;
}

fn flue(bore_m: f64, length_m: f64) -> Section {
    Section {
        loss_k: 0.5,
        in_wind: true,
        ..section(
            "flue",
            SectionKind::Flue,
            bore_m,
            length_m,
            vec![steel(0.8)],
        )
    }
}

/// Given: water, temperatures, thermosyphon. Open: size of the heater's box, inlet, load, wood, air, losses.
pub fn logged_tub_rig(d: &Dice) -> Rig {
    let mut r = tub();
    r.title = "Tub on an external water-cooled heater (invented)".into();
    r.site.air_temperature_k = Profile::constant(273.15 + d.between(0, 0.0, 12.0));
    let (w, h) = (d.between(1, 0.33, 0.45), d.between(2, 0.45, 0.6));
    water_box(&mut r, w, 0.5, h, d.between(3, 0.004, 0.01));
    r.gas_path = vec![flue(d.between(4, 0.12, 0.15), 2.3)];
    r.fuel.moisture_wet = d.between(5, 0.14, 0.22);
    r.fuel.stick = Stick {
        shape: StickShape::Square,
        thickness_m: d.between(6, 0.05, 0.09),
        length_m: 0.33,
    };
    r.lighting.kindling_kg = 1.0;
    r.feeding = kept_up(d.between(7, 4.0, 8.0));
    r.controls.air_inlet = steady(1.0);
    let l = circuit(&mut r);
    for p in [&mut l.supply, &mut l.ret] {
        p.inside_m = 0.05;
        p.length_m = 0.6;
    }
    let v = vessel(&mut r);
    v.water_m3 = 1.1;
    v.water_depth_m = 0.85;
    v.floor_z_m = 0.1;
    v.hot_port_m = 0.65;
    v.cold_port_m = 0.1;
    v.loss_w_k = d.between(8, 8.0, 20.0);
    v.start_temperature_k = 279.15;
    if let Some(s) = &mut v.surface {
        s.area_m2 = 1.6;
    }
    r.controls.cover = steady(true);
    r.target.temperature_k = 310.15;
    r.stop.after_target_s = 0.0;
    r.stop.latest_s = 10.0 * 3600.0;
    r
}

fn logged_tub() -> Check {
    let [time] = blind(|d| {
        let r = logged_tub_rig(&d);
        Some([hours(&run(&d.closures(&r, &[]))?.summary)])
    });
    row(
        &LOGGED_TUB,
        "time to heat 1,100 L by 31 K, external heater",
        "h",
        3.0,
        &time,
        Tolerance::Relative(0.15),
    )
}

/// Given: tub, cover, dry softwood, 17.2 K an hour, here over 20 K. Open: size of the stove's box, inlet, load, moisture, water over the
/// bench, air. The stove stands in the water: short wide ways instead of pipes.
pub fn submerged_rig(d: &Dice) -> Rig {
    let mut r = tub();
    r.title = "Tub with a submerged stove (invented)".into();
    r.site.air_temperature_k = Profile::constant(273.15 + d.between(0, 0.0, 20.0));
    r.fuel = rocket().fuel;
    let (w, h) = (d.between(1, 0.35, 0.5), d.between(2, 0.55, 0.75));
    water_box(&mut r, w, 0.6, h, d.between(3, 0.005, 0.012));
    r.gas_path = vec![flue(0.15, 2.0)];
    r.fuel.moisture_wet = d.between(4, 0.12, 0.18);
    r.fuel.stick = Stick {
        shape: StickShape::Square,
        thickness_m: d.between(5, 0.05, 0.09),
        length_m: 0.4,
    };
    r.lighting.kindling_kg = 1.5;
    r.feeding = kept_up(d.between(6, 5.0, 10.0));
    r.controls.air_inlet = steady(1.0);
    let l = circuit(&mut r);
    for p in [&mut l.supply, &mut l.ret] {
        p.inside_m = 0.1;
        p.length_m = 0.3;
        p.loss_w_mk = 0.1;
    }
    let v = vessel(&mut r);
    v.water_m3 = d.between(7, 1.4, 1.75);
    v.water_depth_m = 0.76;
    v.floor_z_m = 0.0;
    v.hot_port_m = 0.65;
    v.cold_port_m = 0.05;
    v.loss_w_k = d.between(8, 8.0, 20.0);
    v.start_temperature_k = 310.15 - 20.0;
    if let Some(s) = &mut v.surface {
        s.area_m2 = 2.3;
    }
    r.controls.cover = steady(true);
    r.target.temperature_k = 310.15;
    r.stop.after_target_s = 0.0;
    r.stop.latest_s = 8.0 * 3600.0;
    r
}

fn submerged() -> Check {
    let [time] = blind(|d| {
        let r = submerged_rig(&d);
        Some([hours(&run(&d.closures(&r, &[]))?.summary)])
    });
    row(
        &SUBMERGED,
        "time to heat a tub of 6 ft by 20 K, submerged stove",
        "h",
        1.16,
        &time,
        Tolerance::Relative(0.15),
    )
    .because("a maker's round figure for a stove and a fire that are not told; a tenth of the fire's heat leaves by the outside of the box, which under water it cannot: a tube along insulated walls stands for the jacket that the model had not when this was written down (with one: below)")
}

/// Given: drum, door kit, two lengths of 6 in pipe of 2 ft, 15.2 m of 1/2 in soft copper, 1,135 L, pump. Open: temperatures, flow, inlet, load, wood,
/// how free the coil stands, lid or none.
fn drum_tub() -> Check {
    let [time] = blind(|d| {
        let mut r = tub();
        r.title = "Tub on a drum stove (invented)".into();
        r.site.air_temperature_k = Profile::constant(273.15 + d.between(0, 5.0, 22.0));
        r.firebox = Firebox {
            kind: FireboxKind::Door,
            width_m: 0.5,
            depth_m: 0.85,
            height_m: 0.5,
            mouth_area_m2: 0.08,
            mouth_cover: 0.0,
            air_inlet_area_m2: d.between(1, 0.004, 0.01),
            air_over_share: 0.0,
            inlet_loss_k: 1.8,
            burning_length_m: 0.4,
            // Fourteen split bricks on the floor.
            hearth_mass_kg: 28.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![steel(1.2)],
            door: vec![steel(4.0)],
        };
        r.gas_path = vec![flue(0.15, 1.2)];
        r.fuel.moisture_wet = d.between(2, 0.14, 0.22);
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: d.between(3, 0.06, 0.1),
            length_m: 0.4,
        };
        r.lighting.kindling_kg = 2.0;
        r.feeding = kept_up(d.between(4, 6.0, 12.0));
        r.controls.air_inlet = steady(1.0);
        let store = door_stove().water;
        if let (
            Water::Store {
                circuit: Some(circuit),
                ..
            },
            Water::Store {
                circuit: Some(pumped),
                ..
            },
        ) = (&mut r.water, store)
        {
            *circuit = pumped;
        }
        pumps(&mut r, d.between(5, 10.0, 25.0));
        r.controls.pump = steady(Some(0));
        let c = &mut r.coils[0];
        c.section = 0;
        c.form = CoilForm::Chamber {
            coil_diameter_m: 0.45,
            run_m: 0.0,
            exposed_share: d.between(6, 0.5, 1.0),
        };
        c.tube_outside_m = 0.0159;
        c.tube_inside_m = 0.0138;
        c.length_m = 15.2;
        c.core_plug_share = 0.0;
        c.bottom_z_m = 0.2;
        c.top_z_m = 0.48;
        let v = vessel(&mut r);
        v.water_m3 = 1.135;
        v.water_depth_m = 0.55;
        v.floor_z_m = 0.0;
        v.hot_port_m = 0.45;
        v.cold_port_m = 0.08;
        v.loss_w_k = d.between(7, 8.0, 25.0);
        v.start_temperature_k = 273.15 + d.between(8, 8.0, 20.0);
        if let Some(s) = &mut v.surface {
            s.area_m2 = 2.2;
        }
        r.controls.cover = steady(d.between(9, 0.0, 1.0) < 0.5);
        r.target.temperature_k = 273.15 + d.between(10, 37.0, 40.0);
        r.stop.after_target_s = 0.0;
        r.stop.latest_s = 12.0 * 3600.0;
        Some([hours(&run(&d.closures(&r, &[]))?.summary)])
    });
    row(
        &DRUM_TUB,
        "time to heat 1,135 L, coil in a drum stove",
        "h",
        3.0,
        &time,
        Tolerance::Relative(0.15),
    )
    .because("start, target, lid, fire and wood are not told; a third of the heat leaves by the bare drum. Half of the samples lie between 3.2 and 4.6 h")
}

/// Given: tube, its length and place, the pump's rating, the rise. Open: stove, lining, chimney, wood, how near the pump comes to its rating.
fn stick_heater() -> Check {
    let [kelvin] = blind(|d| {
        let mut r = rocket();
        let side = d.between(0, 0.13, 0.18);
        let lining = || {
            vec![
                if d.between(1, 0.0, 1.0) < 0.5 {
                    light_brick()
                } else {
                    brick(60.0)
                },
                steel(1.0),
            ]
        };
        r.firebox = Firebox {
            width_m: side,
            depth_m: 2.0 * side,
            height_m: 1.7 * side,
            mouth_area_m2: side * side,
            mouth_cover: d.between(2, 0.3, 0.8),
            wall: lining(),
            ..r.firebox
        };
        let bore = d.between(3, 0.15, 0.2);
        let riser = Section {
            bore: Bore::Rect {
                width_m: side,
                depth_m: side,
            },
            ..section(
                "riser",
                SectionKind::Riser,
                side,
                d.between(4, 0.15, 0.5),
                lining(),
            )
        };
        let coil_m = 7.62;
        let around = bore - 0.03;
        let pitch_m = d.between(5, 0.014, 0.03);
        let high = coil_m / (std::f64::consts::PI * around) * pitch_m;
        let z0 = r.firebox.height_m + riser.rise_m + 0.02;
        r.gas_path = vec![
            riser,
            section(
                "chimney with coil",
                SectionKind::Passage,
                bore,
                high + 0.05,
                vec![steel(1.0)],
            ),
            flue(bore, d.between(6, 0.3, 1.5)),
        ];
        let c = &mut r.coils[0];
        c.section = 1;
        c.form = CoilForm::Helix {
            coil_diameter_m: around,
            pitch_m,
        };
        c.tube_outside_m = 0.0127;
        c.tube_inside_m = 0.0109;
        c.length_m = coil_m;
        c.core_plug_share = 0.0;
        c.bottom_z_m = z0;
        c.top_z_m = z0 + high;
        r.fuel.moisture_wet = d.between(7, 0.1, 0.18);
        r.feeding.every[0].mass_kg *= d.between(8, 0.65, 1.3) * (side / 0.15).powi(2);
        r.feeding.every[0].until = Until::End;
        pumps(&mut r, d.between(9, 8.0, 11.4));
        let v = vessel(&mut r);
        v.water_m3 = 0.15;
        v.start_temperature_k = 273.15 + d.between(10, 12.0, 40.0);
        r.stop.at_target = false;
        r.stop.latest_s = 1800.0;
        let result = run(&d.closures(&r, &[]))?;
        let at = |column| mean(&result, column, 900.0, 1800.0);
        Some([at("coil_outlet_temperature_K") - at("coil_inlet_temperature_K")])
    });
    row(
        &STICK_HEATER,
        "rise of the water in one pass, 25 ft of coil in a stick-fed stove's chimney",
        "K",
        13.9,
        &kelvin,
        Tolerance::Relative(0.15),
    )
    .because("11 kW out of 0.3 m2 of tube, 36 kW/m2: hardly a sample reaches it. The fires sampled take several times the air that they need; the builder's wood and mouth are not told, nor whether 25 °F is the rise at its best")
}

/// Given: full power into a store, moisture. Open: rate, heat exchanger, air ratio, all within what such boilers are sold with.
pub fn nine_boilers_rig(d: &Dice) -> Rig {
    let burn_s = 4.5 * 3600.0;
    LogBoiler {
        wood_kg: burn_s / 3600.0 * d.between(0, 6.0, 9.0),
        burn_s,
        moisture_wet: d.between(1, 0.15, 0.2),
        air_ratio: d.between(2, 1.4, 1.9),
        coil_m: d.between(3, 30.0, 50.0),
    }
    .rig()
}

fn nine_boilers() -> Check {
    let [percent] = blind(|d| {
        let r = nine_boilers_rig(&d);
        let s = run(&d.closures(&r, &[]))?.summary;
        Some([100.0 * s.efficiency_net_char_credited?])
    });
    row(
        &NINE_BOILERS,
        "efficiency, net, of log boilers at full power",
        "%",
        86.0,
        &percent,
        Tolerance::Within(79.0, 93.0),
    )
    .because("in the minutes after a load, two fifths of the heat, the air ratio falls under 1.1, since walls that are insulated here drive the pile from outside: 7 of the 10 % unburnt; in such boilers they are wet, and the fire is drawn down through the embers, which then follows the air and leaves under 1 % (from memory). Another 12 % go off the outside of what stands for the jacket (with one: below). Drawn down: below. In the run before 66 %")
}

/// Given: wood, its moisture and heating value, heat delivered. Open: time, air ratio, heat exchanger, what stayed in steel, bricks and water of the boiler.
pub fn wet_wood_rig(d: &Dice) -> Rig {
    LogBoiler {
        wood_kg: WET_KG,
        burn_s: 3600.0 * d.between(0, 4.0, 6.0),
        moisture_wet: 0.3,
        air_ratio: d.between(1, 1.4, 2.2),
        coil_m: d.between(2, 25.0, 45.0),
    }
    .rig()
}

fn wet_wood() -> Check {
    let [percent] = blind(|d| {
        let r = wet_wood_rig(&d);
        let s = run(&d.closures(&r, &[]))?.summary;
        let kept_j = 1e6 * d.between(3, 10.0, 30.0);
        let gross_j = WET_GROSS_J;
        Some([100.0 * (s.heat_to_tank_J - kept_j) / gross_j])
    });
    row(
        &WET_WOOD,
        "efficiency, gross, of a log boiler on wood of 30 %",
        "%",
        56.0,
        &percent,
        Tolerance::Absolute(4.0),
    )
}
