//! Two stoves for one short coil and one barrel: a rocket-type stove of 150 mm square fed with sticks, and a gentler
//! conventional stove with logs behind a door. Invented; the sizes are those the trade's figures are told for.
#![allow(dead_code)]

use super::rigs::*;
use super::variants::{brick, door_stove, steady, vessel};
use emberloop::components::spec::*;

/// Square bore.
fn square(s: Section, side_m: f64) -> Section {
    Section {
        bore: Bore::Rect {
            width_m: side_m,
            depth_m: side_m,
        },
        ..s
    }
}

/// 3/4 in copper tube (22.2 mm outside, 19.9 mm inside), wound on 180 mm, in a passage of 220 mm, its core open.
pub fn coil_of(r: &mut Rig, length_m: f64) {
    let turns = length_m / (std::f64::consts::PI * 0.18);
    let height = turns * 0.027;
    let i = r
        .gas_path
        .iter()
        .position(|s| s.kind == SectionKind::Passage)
        .expect("passage");
    let z0: f64 = r.firebox.height_m + r.gas_path[..i].iter().map(|s| s.rise_m).sum::<f64>();
    r.gas_path[i].length_m = height + 0.05;
    r.gas_path[i].rise_m = height + 0.05;
    let c = &mut r.coils[0];
    c.section = i;
    c.form = CoilForm::Helix {
        coil_diameter_m: 0.18,
        pitch_m: 0.027,
    };
    c.tube_outside_m = 0.0222;
    c.tube_inside_m = 0.0199;
    c.length_m = length_m;
    c.core_plug_share = 0.0;
    c.bottom_z_m = z0 + 0.02;
    c.top_z_m = z0 + 0.02 + height;
}

/// Insulating fire brick laid flat: 64 mm (its standard size is 230 x 114 x 64 mm). Rocket-type stoves are lined with light
/// insulation, not with dense brick: what keeps the fire hot is that the wall takes little (common practice, no source).
/// 800 kg/m3 and 0.3 W/mK at 600 °C: a middling grade (data sheets, from memory).
pub fn light_brick() -> Layer {
    layer("insulating brick", 0.064, 800.0, 1000.0, 0.3, false)
}

/// A rocket-type stove of 150 mm square with a short riser, 11 m of coil and 3 m of flue; dry softwood sticks of
/// 22 mm, a little over 4.5 kg/h; 100 L from 12 to 65 °C.
pub fn rocket() -> Rig {
    let mut r = barrel();
    r.title = "Rocket stove under a short coil (invented)".into();
    r.site = Site {
        altitude_m: 100.0,
        air_temperature_k: Profile::constant(288.15),
        wind_m_s: 1.0,
        relative_humidity: 0.6,
    };
    r.target.temperature_k = 338.15;
    r.stop.after_target_s = 60.0;
    // Softwood: ISO 17225-1 Annex B typical coniferous wood, from memory.
    r.fuel = Fuel {
        name: "spruce".into(),
        carbon_daf: 0.51,
        hydrogen_daf: 0.063,
        oxygen_daf: 0.426,
        nitrogen_daf: 0.001,
        ash_dry: 0.003,
        density_kg_m3: 420.0,
        gross_heating_value_dry_j_kg: 20.4e6,
        moisture_wet: 0.15,
        char_yield_dry: 0.18,
        stick: Stick {
            shape: StickShape::Square,
            thickness_m: 0.022,
            length_m: 0.45,
        },
    };
    r.lighting.kindling_kg = 0.5;
    r.feeding.every = vec![FeedEvery {
        from_s: 240.0,
        interval_s: 270.0,
        until: Until::Target,
        mass_kg: 0.345,
    }];
    r.firebox = Firebox {
        width_m: 0.15,
        depth_m: 0.3,
        height_m: 0.25,
        mouth_area_m2: 0.15 * 0.15,
        mouth_cover: 0.5,
        burning_length_m: 0.2,
        hearth_mass_kg: 1.5,
        in_water: 0.0,
        wet_wall: vec![],
        wall: vec![light_brick(), steel(1.0)],
        ..r.firebox
    };
    r.gas_path = vec![
        square(
            section(
                "riser",
                SectionKind::Riser,
                0.15,
                0.6,
                vec![light_brick(), steel(0.8)],
            ),
            0.15,
        ),
        section(
            "coil passage",
            SectionKind::Passage,
            0.22,
            0.6,
            vec![
                steel(1.5),
                layer("mineral wool", 0.03, 80.0, 840.0, 0.06, false),
            ],
        ),
        Section {
            loss_k: 0.5,
            in_wind: true,
            ..section("flue", SectionKind::Flue, 0.15, 3.0, vec![steel(0.8)])
        },
    ];
    coil_of(&mut r, 11.0);
    if let Water::Store {
        circuit: Some(circuit),
        vessel,
        ..
    } = &mut r.water
    {
        vessel.water_m3 = 0.1;
        vessel.water_depth_m = 0.6;
        vessel.hot_port_m = 0.5;
        vessel.cold_port_m = 0.08;
        vessel.draw_port_m = 0.5;
        vessel.layers = 4;
        vessel.start_temperature_k = 285.15;
        vessel.loss_w_k = 4.0;
        let p = circuit.pump.as_mut().expect("pump");
        p.settings.truncate(1);
        p.settings[0].name = "on".into();
    }
    r.controls.pump = steady(Some(0));
    pumps(&mut r, 10.0);
    r
}

/// A stiff pump that gives about this flow whatever the loop asks.
pub fn pumps(r: &mut Rig, l_min: f64) {
    let q = l_min / 60_000.0;
    if let Water::Store {
        circuit: Some(circuit),
        ..
    } = &mut r.water
        && let Some(p) = &mut circuit.pump
    {
        p.settings[0].curve = vec![(0.0, 2e5), (q, 1e5), (2.0 * q, 0.0)];
        // A hundred kilopascals against the loop's few: throttled at the valve, so the loss is the fittings'.
        let v2 = (q / (std::f64::consts::PI / 4.0 * 0.019f64.powi(2))).powi(2);
        circuit.ret.loss_k = 1e5 / (0.5 * 998.0 * v2);
    }
}

/// A conventional stove on the same coil, flue and barrel: logs in batches behind a door, air through an iron grate, half
/// closed once the fire has caught (common practice). Two logs of a kilogram to a load; how often and how thick is the
/// person's pace.
pub fn conventional(lining: Layer, load_every_s: f64, log_m: f64) -> Rig {
    let mut r = rocket();
    r.title = "Conventional stove under the same coil (invented)".into();
    r.firebox = Firebox {
        kind: FireboxKind::Door,
        width_m: 0.28,
        depth_m: 0.42,
        height_m: 0.32,
        mouth_area_m2: 0.045,
        mouth_cover: 0.0,
        air_inlet_area_m2: 0.0025,
        air_over_share: 0.0,
        inlet_loss_k: 1.8,
        burning_length_m: 0.33,
        // A grate of 20 cm x 30 cm: 3.5 kg of iron, 1.8 kJ/K, as much as 2 kg of brick.
        hearth_mass_kg: 2.0,
        in_water: 0.0,
        wet_wall: vec![],
        wall: vec![lining, steel(4.0)],
        door: vec![steel(4.0)],
    };
    r.gas_path[0] = Section {
        loss_k: 0.3,
        ..section("throat", SectionKind::Bend, 0.15, 0.15, vec![steel(2.0)])
    };
    coil_of(&mut r, 11.0);
    r.fuel.stick = Stick {
        shape: StickShape::Square,
        thickness_m: log_m,
        length_m: 0.33,
    };
    r.lighting.kindling_kg = 0.8;
    r.lighting.kindling_thickness_m = 0.015;
    r.controls.air_inlet.steps.moves = vec![(900.0, 0.5)];
    r.feeding = Feeding {
        // Thinner splits on the kindling.
        list: vec![FeedEvent {
            at_s: 360.0,
            mass_kg: 2.0,
            thickness_m: Some(0.05),
        }],
        every: vec![FeedEvery {
            from_s: load_every_s,
            interval_s: load_every_s,
            until: Until::Target,
            mass_kg: 2.0,
        }],
        rules: vec![],
        door_open_s: 20.0,
    };
    r
}

/// Boards that line most room stoves of today: 25 mm of vermiculite (600 kg/m3, 0.2 W/mK; common practice, data sheets from memory).
pub fn boards() -> Layer {
    layer("vermiculite", 0.025, 600.0, 1000.0, 0.2, false)
}

/// Dense fire brick of the older build: splits of 32 mm.
pub fn splits() -> Layer {
    brick(32.0)
}

/// A stove made of a steel drum, its coil in the smoke right above the fire, unlined: logs on the floor, a cold barrel
/// of water that keeps the coil cold.
pub fn drum(kg_h: f64, inlet_m2: f64, fouling_rate: f64) -> Rig {
    let mut r = door_stove();
    r.title = "Drum stove (invented)".into();
    r.firebox = Firebox {
        width_m: 0.5,
        depth_m: 0.5,
        height_m: 0.5,
        mouth_area_m2: 0.06,
        air_inlet_area_m2: inlet_m2,
        air_over_share: 0.0,
        burning_length_m: 0.4,
        hearth_mass_kg: 5.0,
        in_water: 0.0,
        wet_wall: vec![],
        wall: vec![steel(1.2)],
        ..r.firebox
    };
    r.gas_path = vec![
        section(
            "drum's upper part",
            SectionKind::Passage,
            0.5,
            0.35,
            vec![steel(1.2)],
        ),
        Section {
            loss_k: 0.5,
            in_wind: true,
            ..section("flue", SectionKind::Flue, 0.15, 2.0, vec![steel(0.6)])
        },
    ];
    let c = &mut r.coils[0];
    c.section = 0;
    c.form = CoilForm::Helix {
        coil_diameter_m: 0.42,
        pitch_m: 0.03,
    };
    c.tube_outside_m = 0.022;
    c.tube_inside_m = 0.02;
    c.length_m = 13.0;
    c.core_plug_share = 0.0;
    c.bottom_z_m = 0.53;
    c.top_z_m = 0.83;
    r.lighting.kindling_kg = 2.0;
    r.feeding.list = vec![FeedEvent {
        at_s: 240.0,
        mass_kg: kg_h / 3.0,
        thickness_m: Some(0.04),
    }];
    r.feeding.every = vec![FeedEvery {
        from_s: 900.0,
        interval_s: 600.0,
        until: Until::End,
        mass_kg: kg_h / 6.0,
    }];
    r.fuel.stick.thickness_m = 0.05;
    r.controls.air_inlet = steady(1.0);
    pumps(&mut r, 15.0);
    r.controls.pump = steady(Some(0));
    let v = vessel(&mut r);
    v.water_m3 = 1.5;
    v.water_depth_m = 0.9;
    v.layers = 1;
    v.start_temperature_k = 283.15;
    r.target.temperature_k = 350.0;
    r.closures.fouling_rate = fouling_rate;
    r.stop.latest_s = 3000.0;
    r
}
