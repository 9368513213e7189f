//! Pots on stoves fed with sticks, of the fourth blind trial: see `blind_fourth`.
//!
//! What stands for what: chamber and riser of a stick stove are one box, whose top is the pot's bottom over its
//! mouth (it sees the fire); the gap under the rest of the bottom is a dry duct with the stove's half of its walls and one in the water
//! with the pot's; the channel of a skirt likewise, the skirt's half before and behind the pot's. Without a skirt the gas passes the
//! pot's side in a wide level passage of which the pot is half of the wall and nothing the rest. A round chamber is a square one.

use super::sampled::{Dice, run};
use crate::support::rigs::{barrel, layer, section, steel};
use crate::support::stoves::rocket;
use crate::support::variants::{brick, steady, submerged, vessel};
use emberloop::components::spec::*;
use emberloop::results::{BurnResult, EventKind};
use std::f64::consts::PI;

/// Chamber of a stove for one pot.
pub struct Chamber {
    /// Side of the square with as much cross-section.
    pub side_m: f64,
    /// From its floor to the pot.
    pub high_m: f64,
    pub wall: Vec<Layer>,
    /// Over the shelf of the mouth, where there is one; below it or beside it.
    pub mouth_m2: f64,
    pub inlet_m2: f64,
    pub over_share: f64,
    pub hearth_kg: f64,
}

/// A sheet around the pot.
pub struct Skirt {
    pub gap_m: f64,
    pub high_m: f64,
    pub wall: Vec<Layer>,
}

pub struct Pot {
    pub across_m: f64,
    pub water_kg: f64,
    pub start_c: f64,
    pub gap_m: f64,
    /// The gap widens towards the chamber, so that the gas has as much room at its edge as farther out (common practice).
    pub tapers: bool,
    pub skirt: Option<Skirt>,
    pub lid: bool,
}

/// What is fed: sticks whose ends lie in the chamber.
pub struct Sticks {
    pub thickness_m: f64,
    pub length_m: f64,
    pub burning_m: f64,
    pub moisture_wet: f64,
    /// Side by side in the mouth, fresh.
    pub in_mouth: f64,
    /// Put in at a time, not more often than so.
    pub at_a_time: f64,
    pub not_within_s: f64,
    pub kindling_kg: f64,
    pub starter_j: f64,
}

/// Softwood and hardwood of the other rigs, as dry as the sticks.
pub fn softwood(density_kg_m3: f64) -> Fuel {
    Fuel {
        density_kg_m3,
        ..rocket().fuel
    }
}

pub fn hardwood(density_kg_m3: f64) -> Fuel {
    Fuel {
        density_kg_m3,
        ..barrel().fuel
    }
}

/// Water boils at that height some 3.3 K lower for each kilometre; the target lies half a kelvin under it.
fn nearly_boils_k(altitude_m: f64) -> f64 {
    373.15 - 0.00333 * altitude_m - 0.5
}

pub fn aluminium(mm: f64) -> Layer {
    layer("aluminium", mm * 1e-3, 2700.0, 900.0, 200.0, true)
}

/// Gap of still air between sheets: conduction and radiation across 15 mm of it.
pub fn still_air(mm: f64) -> Layer {
    Layer {
        conductivity_slope_w_mk2: 0.002,
        ..layer("air gap", mm * 1e-3, 1.2, 1000.0, 0.106, false)
    }
}

/// Loose perlite or vermiculite.
pub fn loose_fill(mm: f64) -> Layer {
    layer("loose fill", mm * 1e-3, 130.0, 900.0, 0.1, false)
}

pub fn fibre(mm: f64) -> Layer {
    layer("ceramic fibre", mm * 1e-3, 128.0, 1000.0, 0.12, false)
}

/// Light and slow stoves: sheet with a light fill, insulating ceramic, dense brick.
fn any_wall(share: f64) -> Vec<Layer> {
    if share < 1.0 / 3.0 {
        vec![steel(0.6), loose_fill(30.0), steel(0.5)]
    } else if share < 2.0 / 3.0 {
        vec![
            layer("insulating ceramic", 0.045, 750.0, 1000.0, 0.25, false),
            steel(0.5),
        ]
    } else {
        vec![brick(50.0)]
    }
}

/// The pot's heights from the chamber's top: the gas clears the edge of the chamber, then its parts lie side by side in the water.
const CLEAR_M: f64 = 0.003;
/// Width of the passage that stands for the plume at a bare pot's side, and how far up it clings.
const PLUME_M: f64 = 0.04;
const PLUME_HIGH_M: f64 = 0.1;

pub fn pot_rig(title: &str, altitude_m: f64, c: &Chamber, p: &Pot, s: &Sticks, fuel: Fuel) -> Rig {
    let mut r = submerged();
    r.title = format!("{title} (invented)");
    r.site.altitude_m = altitude_m;
    r.site.wind_m_s = 0.0;
    r.site.air_temperature_k = Profile::constant(293.15);
    r.fuel = Fuel {
        moisture_wet: s.moisture_wet,
        stick: Stick {
            shape: StickShape::Square,
            thickness_m: s.thickness_m,
            length_m: s.length_m,
        },
        ..fuel
    };
    r.firebox = Firebox {
        kind: FireboxKind::FeedTube,
        width_m: c.side_m,
        depth_m: c.side_m,
        height_m: c.high_m,
        mouth_area_m2: c.mouth_m2,
        mouth_cover: 0.0,
        air_inlet_area_m2: c.inlet_m2,
        air_over_share: c.over_share,
        inlet_loss_k: 1.5,
        burning_length_m: s.burning_m,
        hearth_mass_kg: c.hearth_kg,
        wall: c.wall.clone(),
        door: vec![],
        in_water: 0.0,
        wet_wall: vec![aluminium(1.0)],
    };
    r.gas_path = way_past(c, p);
    let mouth_m2 = c.side_m * c.side_m;
    r.firebox.in_water = mouth_m2 / r.firebox.lining_m2(r.gas_path[0].area_m2());
    let stick_kg =
        s.thickness_m.powi(2) * s.length_m * r.fuel.density_kg_m3 / (1.0 - s.moisture_wet);
    r.lighting = Lighting {
        kindling_kg: s.kindling_kg,
        kindling_thickness_m: 0.007,
        kindling_moisture_wet: s.moisture_wet,
        starter_j: s.starter_j,
        starter_s: 60.0,
    };
    // Sticks are pushed in as they burn: those in the mouth are half burnt in the mean, and one more goes in when one has gone. The fire
    // is begun with some of them.
    r.feeding = Feeding {
        list: vec![FeedEvent {
            at_s: 60.0,
            mass_kg: 0.4 * s.in_mouth * stick_kg,
            thickness_m: None,
        }],
        every: vec![],
        rules: vec![FeedRule {
            when: FeedWhen::BedBelow((0.5 * s.in_mouth + 0.5) * stick_kg),
            mass_kg: s.at_a_time * stick_kg,
            not_within_s: s.not_within_s,
            from_s: 90.0,
            until: Until::End,
        }],
        door_open_s: 0.0,
    };
    r.controls.air_inlet = steady(1.0);
    r.controls.cover = steady(false);
    fill(&mut r, c.high_m, p);
    r.target.temperature_k = nearly_boils_k(altitude_m);
    r.stop.at_target = true;
    r.stop.after_target_s = 0.0;
    r.stop.latest_s = 5400.0;
    r.solver.output_interval_s = 10.0;
    r
}

fn fill(r: &mut Rig, floor_z_m: f64, p: &Pot) {
    let top_m2 = 0.25 * PI * p.across_m.powi(2);
    let v = vessel(r);
    v.kind = VesselKind::Tub;
    v.water_m3 = 1e-3 * p.water_kg;
    // As much higher as the parts beside it stand over its floor.
    v.water_depth_m = v.water_m3 / top_m2 + 0.5 * p.gap_m.max(PLUME_M) + 2.0 * CLEAR_M;
    v.floor_z_m = floor_z_m;
    v.hot_port_m = 0.8 * v.water_depth_m;
    v.cold_port_m = 0.2 * v.water_depth_m;
    v.draw_port_m = 0.5 * v.water_depth_m;
    v.layers = 1;
    v.loss_w_k = if p.lid { 10.0 * top_m2 } else { 0.1 };
    v.surface = (!p.lid).then_some(OpenSurface {
        area_m2: top_m2,
        cover_leak: 1.0,
        cover_w_m2k: 0.0,
        cloud_cover: 1.0,
        wind_share: 0.0,
    });
    // A millimetre of aluminium or half of steel.
    v.shell_heat_capacity_j_k = 2700.0 * (top_m2 + PI * p.across_m * v.water_depth_m);
    v.start_temperature_k = 273.15 + p.start_c;
}

/// From the chamber's edge under the pot to its rim, and up its side.
fn way_past(c: &Chamber, p: &Pot) -> Vec<Section> {
    let part = |name: &str, girth_m: f64, deep_m: f64, long_m: f64, wall: Vec<Layer>| Section {
        bore: Bore::Rect {
            width_m: girth_m,
            depth_m: deep_m,
        },
        rise_m: 0.0,
        cells: Some(2),
        ..section(name, SectionKind::Passage, deep_m, long_m, wall)
    };
    let wet = |s: Section| Section {
        in_water: true,
        ..s
    };
    let mouth_m = c.side_m * 2.0 / PI.sqrt();
    let girth_m = 0.5 * PI * (p.across_m + mouth_m);
    let ring_m = 0.5 * (p.across_m - mouth_m);
    // Each of two parts has the whole girth of a duct: half of the length each.
    let (dry_m, wet_m) = (
        ring_m * (0.5 + p.gap_m / girth_m),
        ring_m * 0.5 * girth_m / (girth_m + p.gap_m),
    );
    let depth_m = 1e-3 * p.water_kg / (0.25 * PI * p.across_m.powi(2));
    let lift_m = 0.5 * p.gap_m.max(if p.skirt.is_none() { PLUME_M } else { 0.0 }) + CLEAR_M;
    let under = Section {
        length_m: dry_m.max(lift_m),
        rise_m: lift_m,
        // The gas turns under the pot, where the gap is narrowest unless it tapers, on the chamber's edge.
        loss_k: 0.8
            * if p.tapers {
                1.0
            } else {
                (girth_m / (PI * mouth_m)).powi(2)
            },
        ..part(
            "stove under the pot",
            girth_m,
            p.gap_m,
            dry_m,
            c.wall.clone(),
        )
    };
    let mut way = vec![
        under,
        wet(part(
            "bottom",
            girth_m,
            p.gap_m,
            wet_m,
            vec![aluminium(1.0)],
        )),
    ];
    match &p.skirt {
        Some(k) => {
            let high_m = k.high_m.min(depth_m);
            let around_m = PI * (p.across_m + k.gap_m);
            let upright = |name: &str, share: f64, wall: Vec<Layer>| {
                let long_m = share * high_m;
                Section {
                    rise_m: long_m,
                    ..part(name, around_m, k.gap_m, long_m, wall)
                }
            };
            way.push(Section {
                loss_k: 0.8,
                ..upright("skirt, lower part", 0.25, k.wall.clone())
            });
            way.push(wet(upright("side", 0.5, vec![aluminium(1.0)])));
            way.push(upright("skirt, upper part", 0.25, k.wall.clone()));
        }
        None => {
            let high_m = depth_m.min(PLUME_HIGH_M);
            let around_m = PI * (p.across_m + PLUME_M);
            way.push(wet(part(
                "side",
                around_m,
                PLUME_M,
                0.5 * high_m,
                vec![aluminium(1.0)],
            )));
        }
    }
    way
}

/// Efficiency of a pot's test and what it rests on, in the house's own terms.
pub struct Pots {
    pub useful_j: f64,
    pub burnt_kg: f64,
    pub char_j: f64,
    pub net_j: f64,
}

/// Heat in the water, sensible and in what has gone as steam, over a whole run.
pub fn pots(r: &Rig, result: &BurnResult, water_kg: f64) -> Pots {
    let s = &result.summary;
    let column = |name| result.series.get(name).expect("a column");
    let t = column("tank_mean_temperature_K");
    let gone_kg = result
        .ledger
        .masses
        .iter()
        .find(|m| m.name == "loop_and_store_water")
        .map_or(0.0, |m| m.out_kg);
    let rise_k = t[t.len() - 1].min(nearly_boils_k(r.site.altitude_m) + 0.5) - t[0];
    let char_kg = column("bed_char_kg").last().copied().unwrap_or(0.0);
    Pots {
        useful_j: water_kg * 4187.0 * rise_k + gone_kg * 2.26e6,
        burnt_kg: s.fuel_burnt_kg,
        char_j: 29e6 * char_kg,
        net_j: s.fuel_energy_J * s.fuel_burnt_kg / s.fuel_fed_kg,
    }
}

/// The same fire with no more than so much wood, until none is left, as the second of two runs: the first tells when the last stick
/// goes in.
pub fn burn_out(r: &Rig, total_kg: f64) -> Option<BurnResult> {
    let mut r = r.clone();
    r.stop.at_target = false;
    let first = run(&r)?;
    let one_kg = r.feeding.rules[0].mass_kg;
    let laid_kg = r.lighting.kindling_kg + r.feeding.list[0].mass_kg;
    let feeds = ((total_kg - laid_kg) / one_kg).round().max(0.0) as usize;
    let at_s: Vec<f64> = first
        .events
        .iter()
        .filter(|e| e.kind == EventKind::Feed && e.time_s > 60.5)
        .map(|e| e.time_s)
        .collect();
    let last_s = match feeds {
        0 => 61.0,
        n => at_s.get(n - 1).copied()? + 1.0,
    };
    r.feeding.rules[0].until = Until::Time(last_s);
    let second = run(&r)?;
    let column = |name| second.series.get(name).expect("a column");
    let (t, wood) = (column("time_s"), column("bed_wood_kg"));
    let out_s = (0..t.len())
        .find(|&i| t[i] > last_s && wood[i] < 0.01)
        .map(|i| t[i])?;
    r.stop.latest_s = out_s;
    run(&r)
}

/// Chamber over a shelf at a third of its mouth, by side and cross-section and the least of its heights.
fn laboratory_chamber(d: &Dice, (side_m, area_m2): (f64, f64), low_m: f64) -> Chamber {
    Chamber {
        side_m,
        high_m: d.between(0, low_m, 0.31),
        wall: any_wall(d.between(1, 0.0, 1.0)),
        mouth_m2: 0.71 * area_m2,
        inlet_m2: 0.29 * area_m2,
        over_share: 0.0,
        hearth_kg: d.between(16, 0.5, 2.0),
    }
}

/// Sawn sticks, kiln-dried, pushed in one at a time.
fn laboratory_sticks(d: &Dice) -> Sticks {
    Sticks {
        thickness_m: 0.0144,
        length_m: 0.457,
        burning_m: d.between(9, 0.08, 0.11),
        moisture_wet: d.between(10, 0.05, 0.1),
        in_mouth: d.between(8, 4.0, 6.5),
        at_a_time: 1.0,
        not_within_s: 20.0,
        kindling_kg: d.between(11, 0.05, 0.1),
        starter_j: d.between(12, 0.1e6, 0.3e6),
    }
}

/// Given: chamber of 126 cm2, shelf at a third of its mouth, sticks of 16 x 13 x 457 mm, kiln-dried Douglas fir, one layer with gaps, 2.265 kg of water, 680 g of wood all
/// burnt. Open: the chamber's height, wall, pot, gap, skirt or none, lid or none, start.
pub fn laboratory_rig(d: &Dice) -> Rig {
    let skirt = (d.between(4, 0.0, 1.0) < 0.5).then(|| Skirt {
        gap_m: d.between(5, 0.008, 0.014),
        high_m: 0.1,
        wall: vec![steel(0.4)],
    });
    let c = laboratory_chamber(d, (0.1123, 0.0126), 0.25);
    let p = Pot {
        across_m: d.between(2, 0.2, 0.24),
        water_kg: 2.265,
        start_c: d.between(7, 15.0, 22.0),
        gap_m: d.between(3, 0.01, 0.02),
        tapers: false,
        skirt,
        lid: d.between(6, 0.0, 1.0) < 0.3,
    };
    let s = laboratory_sticks(d);
    pot_rig(
        "Laboratory's stick stove",
        100.0,
        &c,
        &p,
        &s,
        softwood(480.0),
    )
}

/// Given: riser in a cylinder with 15 mm of still air, some 3 kg in all, skirt 6 mm from the pot and 10 cm high or more, pot of 24 cm or more, 5 L, sticks of 1 x 2 cm, kiln-dried, up
/// to 5 or 6 kW. Open: bore, height, mouth, lid, place.
pub fn skirt_rig(d: &Dice, insulated: bool) -> Rig {
    let side_m = 0.886 * d.between(0, 0.095, 0.11);
    let mouth_m2 = side_m * side_m * d.between(1, 0.8, 1.2);
    let c = Chamber {
        side_m,
        high_m: d.between(2, 0.22, 0.29),
        wall: vec![steel(0.6), still_air(15.0), steel(0.4)],
        mouth_m2: 0.67 * mouth_m2,
        inlet_m2: 0.33 * mouth_m2,
        over_share: 0.0,
        hearth_kg: d.between(3, 0.2, 0.6),
    };
    let mut skirt = vec![steel(0.5)];
    if insulated {
        skirt.push(fibre(10.0));
    }
    let p = Pot {
        across_m: d.between(4, 0.24, 0.28),
        water_kg: 5.0,
        start_c: d.between(5, 15.0, 25.0),
        gap_m: d.between(6, 0.006, 0.009),
        tapers: true,
        skirt: Some(Skirt {
            gap_m: d.between(7, 0.006, 0.007),
            high_m: d.between(8, 0.1, 0.14),
            wall: skirt,
        }),
        lid: d.between(9, 0.0, 1.0) < 0.5,
    };
    let s = Sticks {
        thickness_m: 0.0141,
        length_m: 0.3,
        burning_m: d.between(10, 0.08, 0.1),
        moisture_wet: d.between(11, 0.05, 0.1),
        in_mouth: d.between(12, 2.5, 5.0),
        at_a_time: 1.0,
        not_within_s: 20.0,
        kindling_kg: d.between(13, 0.04, 0.1),
        starter_j: d.between(14, 0.1e6, 0.3e6),
    };
    let altitude_m = if d.between(15, 0.0, 1.0) < 0.5 {
        1500.0
    } else {
        100.0
    };
    let fuel = softwood(d.between(16, 420.0, 500.0));
    pot_rig(
        "Light stick stove with a skirt",
        altitude_m,
        &c,
        &p,
        &s,
        fuel,
    )
}

/// Given: mud, chamber a cylinder 12 cm high, four fifths of the air under the fire, natural draught. Open: bore, wall, mouth, inlets, pot, water, gap, wood, firing.
pub fn mud_rig(d: &Dice) -> Rig {
    let side_m = 0.886 * d.between(0, 0.15, 0.2);
    let mouth_m2 = d.between(1, 0.009, 0.015);
    let filled = d.between(2, 0.33, 0.67);
    let inlet_m2 = mouth_m2 * d.between(3, 0.25, 0.4);
    let free_m2 = mouth_m2 * (1.0 - 1.05 * filled) + inlet_m2;
    let clay = layer("clay", d.between(4, 0.04, 0.08), 1600.0, 900.0, 0.6, false);
    let c = Chamber {
        side_m,
        high_m: 0.12,
        wall: vec![clay],
        mouth_m2,
        inlet_m2,
        over_share: 0.2 * free_m2 / inlet_m2,
        hearth_kg: d.between(5, 1.0, 3.0),
    };
    let p = Pot {
        across_m: d.between(6, 0.22, 0.28),
        water_kg: d.between(7, 3.0, 6.0),
        start_c: d.between(8, 22.0, 29.0),
        gap_m: d.between(9, 0.01, 0.025),
        tapers: false,
        skirt: None,
        lid: d.between(10, 0.0, 1.0) < 0.5,
    };
    let thickness_m = d.between(11, 0.02, 0.04);
    let s = Sticks {
        thickness_m,
        length_m: 0.4,
        burning_m: d.between(12, 0.8, 1.0) * side_m,
        moisture_wet: d.between(13, 0.08, 0.14),
        in_mouth: filled * mouth_m2 / thickness_m.powi(2),
        at_a_time: 1.0,
        not_within_s: 60.0,
        kindling_kg: d.between(14, 0.1, 0.2),
        starter_j: d.between(15, 0.2e6, 0.5e6),
    };
    let fuel = hardwood(d.between(16, 550.0, 700.0));
    let mut r = pot_rig("Mud stove for one pot", 400.0, &c, &p, &s, fuel);
    r.site.air_temperature_k = Profile::constant(301.15);
    r
}

/// Given: stick-fed from the side, 5 L, 750 g of wood laid ready, pot on the flame five minutes after lighting, fed with little care. Open: the stove, pot, lid, start, wood.
pub fn portable_rig(d: &Dice) -> Rig {
    let side_m = 0.886 * d.between(0, 0.095, 0.115);
    let mouth_m2 = side_m * side_m;
    let wall = any_wall(d.between(1, 0.0, 0.66));
    let c = Chamber {
        side_m,
        high_m: d.between(2, 0.24, 0.3),
        wall,
        mouth_m2: 0.67 * mouth_m2,
        inlet_m2: 0.33 * mouth_m2,
        over_share: 0.0,
        hearth_kg: d.between(3, 0.3, 1.0),
    };
    let p = Pot {
        across_m: d.between(4, 0.22, 0.27),
        water_kg: 5.0,
        start_c: d.between(5, 10.0, 20.0),
        gap_m: d.between(6, 0.01, 0.02),
        tapers: false,
        skirt: None,
        lid: d.between(7, 0.0, 1.0) < 0.5,
    };
    let thickness_m = d.between(8, 0.015, 0.03);
    let s = Sticks {
        thickness_m,
        length_m: 0.3,
        burning_m: d.between(9, 0.08, 0.11),
        moisture_wet: d.between(10, 0.12, 0.18),
        in_mouth: d.between(11, 0.33, 0.67) * c.mouth_m2 / thickness_m.powi(2),
        at_a_time: 2.0,
        not_within_s: d.between(12, 60.0, 180.0),
        kindling_kg: d.between(13, 0.08, 0.15),
        starter_j: d.between(14, 0.2e6, 0.5e6),
    };
    let fuel = softwood(d.between(15, 420.0, 550.0));
    pot_rig(
        "Portable stick stove",
        d.between(16, 50.0, 600.0),
        &c,
        &p,
        &s,
        fuel,
    )
}

/// Minutes from the moment the pot is put on: the water starts so much colder that it has its temperature then.
pub const PUT_ON_S: f64 = 300.0;

pub fn put_on_min(r: &Rig) -> Option<f64> {
    let mut r = r.clone();
    let start_k = vessel(&mut r).start_temperature_k;
    for _ in 0..2 {
        let result = run(&r)?;
        let column = |name| result.series.get(name).expect("a column");
        let t = column("time_s");
        let at = t.partition_point(|&t| t < PUT_ON_S - 1.0);
        let over_k = column("tank_mean_temperature_K").get(at)? - start_k;
        let v = vessel(&mut r);
        v.start_temperature_k = (v.start_temperature_k - over_k).max(273.65);
    }
    let s = run(&r)?.summary;
    Some((s.time_to_target_s.unwrap_or(s.end_s) - PUT_ON_S) / 60.0)
}

/// Given: firebrick laid dry, some thirty of 22 x 11 x 5.5 cm, grate, preserving boiler of stainless steel, gathered sticks. Open: volume, start, gap, mouth, moisture.
pub fn brick_rig(d: &Dice) -> Rig {
    let c = Chamber {
        side_m: d.between(0, 0.105, 0.115),
        high_m: d.between(1, 0.33, 0.41),
        wall: vec![brick(110.0)],
        mouth_m2: d.between(2, 0.006, 0.012),
        inlet_m2: d.between(3, 0.003, 0.006),
        over_share: 0.0,
        hearth_kg: d.between(4, 2.0, 5.0),
    };
    let p = Pot {
        across_m: d.between(5, 0.34, 0.38),
        water_kg: d.between(6, 25.0, 28.0),
        start_c: d.between(7, 12.0, 18.0),
        gap_m: d.between(8, 0.012, 0.03),
        tapers: false,
        skirt: None,
        lid: true,
    };
    let thickness_m = d.between(9, 0.015, 0.035);
    let s = Sticks {
        thickness_m,
        length_m: 0.35,
        burning_m: d.between(10, 0.09, 0.12),
        moisture_wet: d.between(11, 0.13, 0.2),
        in_mouth: d.between(12, 0.33, 0.67) * c.mouth_m2 / thickness_m.powi(2),
        at_a_time: 1.0,
        not_within_s: 60.0,
        kindling_kg: d.between(13, 0.1, 0.25),
        starter_j: d.between(14, 0.3e6, 1e6),
    };
    let fuel = hardwood(d.between(15, 500.0, 680.0));
    let mut r = pot_rig(
        "Preserving boiler on a stick stove of brick",
        200.0,
        &c,
        &p,
        &s,
        fuel,
    );
    r.site.air_temperature_k = Profile::constant(273.15 + d.between(16, 8.0, 18.0));
    r.stop.latest_s = 4.0 * 3600.0;
    r
}

/// Given: as the laboratory's chamber, 5 L to the boil and half an hour at the simmer, with and without a skirt. Open: all else.
pub fn camp_rig(d: &Dice, skirted: bool) -> Rig {
    let skirt = skirted.then(|| Skirt {
        gap_m: d.between(4, 0.007, 0.012),
        high_m: d.between(5, 0.08, 0.14),
        wall: vec![steel(0.4)],
    });
    let area_m2 = d.between(17, 0.0079, 0.0126);
    let c = laboratory_chamber(d, (area_m2.sqrt(), area_m2), 0.24);
    let p = Pot {
        across_m: d.between(2, 0.22, 0.27),
        water_kg: 5.0,
        start_c: d.between(7, 15.0, 22.0),
        gap_m: d.between(3, 0.01, 0.02),
        tapers: false,
        skirt,
        lid: d.between(6, 0.0, 1.0) < 0.3,
    };
    let s = laboratory_sticks(d);
    pot_rig(
        "Stick stove of a stove camp",
        100.0,
        &c,
        &p,
        &s,
        softwood(480.0),
    )
}

/// Brought to the boil, then half an hour on a fraction of the sticks: minutes to the boil, and wood for it all.
pub fn boil_and_simmer(d: &Dice, r: &Rig) -> Option<(f64, BurnResult)> {
    let boils_s = run(r)?.summary.time_to_target_s?;
    let mut r = r.clone();
    let quick = r.feeding.rules[0].clone();
    let FeedWhen::BedBelow(kg) = quick.when else {
        return None;
    };
    r.feeding.rules[0].until = Until::Time(boils_s);
    r.feeding.rules.push(FeedRule {
        when: FeedWhen::BedBelow(kg * d.between(18, 0.35, 0.6)),
        from_s: boils_s,
        ..quick
    });
    r.stop.after_target_s = 1800.0;
    Some((boils_s / 60.0, run(&r)?))
}
