//! Single reports of owners, none instrumented: what each gives is taken, what it leaves open is sampled over what is
//! ordinary, and its figure must lie within the samples or within the width that such a report deserves of them.
//!
//! Sources: public discussions, seen as reports, not verified (common practice, no source). The arch with air above its fire stands in
//! `air_over`.

mod support {
    pub mod rigs;
    pub mod stoves;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::results::BurnResult;
use rayon::prelude::*;
use support::rigs::{layer, section, steel};
use support::stoves::{pumps, rocket};
use support::variants::{brick, circuit, door_stove, steady, tub, vessel, wound_outside};

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

/// Runs the samples, prints each, and gives the figure of each.
fn sampled(
    what: &str,
    rigs: Vec<(String, Rig)>,
    figure: impl Fn(&Rig, &BurnResult) -> f64 + Sync,
) -> Vec<f64> {
    let found: Vec<(String, f64)> = rigs
        .par_iter()
        .map(|(name, rig)| {
            let r = run(rig);
            let v = figure(rig, &r);
            let s = &r.summary;
            let said = format!(
                "{what}, {name}: {v:.2}; {:.1} kg burnt in {:.0} min, {:.1} kW, chamber {:.0} °C, stack {:.0} °C, unburnt {:.0} %, boils {:?}",
                s.fuel_burnt_kg,
                s.end_s / 60.0,
                s.mean_heat_to_tank_W / 1e3,
                s.chamber_mean_K.map_or(f64::NAN, |k| k - 273.15),
                s.stack_temperature_mean_K.map_or(f64::NAN, |k| k - 273.15),
                100.0 * s.unburnt_fraction.unwrap_or(f64::NAN),
                s.boiling_first_s,
            );
            (said, v)
        })
        .collect();
    for (said, _) in &found {
        println!("{said}");
    }
    found.into_iter().map(|f| f.1).collect()
}

/// Whether `reported` lies within the samples, or within `width` (a factor) of the nearest; says so if not.
fn met(what: &str, reported: f64, samples: &[f64], width: f64) -> bool {
    let low = samples.iter().copied().fold(f64::INFINITY, f64::min);
    let high = samples.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let holds = reported > low / width && reported < high * width;
    println!(
        "{}{what}: reported {reported:.2}, sampled {low:.2} to {high:.2}, width {width}",
        if holds { "" } else { "GAP " }
    );
    holds
}

/// "300 gal tank, 50 ft of 1/2 in copper in a barrel stove, large pump, about 3 h."
///
/// Given: water, tube, place, pump. Open: temperatures (a tub's usual 55 to 104 °F), wood, how much of the tube sees the
/// fire, air. A barrel stove is a steel drum on its side with sand or brick on its floor; it is fired hard here, 6 to
/// 12 kg/h. Width 1.5: "about", with neither the temperatures nor the wood told, each of which moves it by a third.
#[test]
fn practice_fifty_feet_of_copper_in_a_barrel_stove_heat_three_hundred_gallons_in_about_three_hours()
{
    let rig = |kg_h: f64, exposed: f64, inlet_m2: f64| {
        let mut r = door_stove();
        r.title = "Barrel stove (invented)".into();
        r.site.air_temperature_k = Profile::constant(288.15);
        r.firebox = Firebox {
            width_m: 0.5,
            depth_m: 0.85,
            height_m: 0.45,
            mouth_area_m2: 0.09,
            air_inlet_area_m2: inlet_m2,
            air_over_share: 0.0,
            burning_length_m: 0.6,
            hearth_mass_kg: 15.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![steel(1.2)],
            ..r.firebox
        };
        r.gas_path = vec![Section {
            loss_k: 1.5,
            in_wind: true,
            ..section("flue", SectionKind::Flue, 0.15, 3.0, vec![steel(0.6)])
        }];
        let c = &mut r.coils[0];
        c.section = 0;
        c.form = CoilForm::Chamber {
            coil_diameter_m: 0.35,
            run_m: 0.0,
            exposed_share: exposed,
        };
        c.tube_outside_m = 0.0159;
        c.tube_inside_m = 0.0138;
        c.length_m = 15.24;
        c.core_plug_share = 0.0;
        c.bottom_z_m = 0.05;
        c.top_z_m = 0.42;
        c.water_entry = WaterEntry::GasInlet;
        r.fuel.stick.length_m = 0.5;
        r.fuel.stick.thickness_m = 0.09;
        r.lighting.kindling_kg = 2.0;
        r.feeding.list = vec![FeedEvent {
            at_s: 300.0,
            mass_kg: kg_h / 3.0,
            thickness_m: Some(0.05),
        }];
        r.feeding.every = vec![FeedEvery {
            from_s: 1200.0,
            interval_s: 1200.0,
            until: Until::Target,
            mass_kg: kg_h / 3.0,
        }];
        r.controls.air_inlet = steady(1.0);
        pumps(&mut r, 20.0);
        let v = vessel(&mut r);
        v.water_m3 = 1.136;
        v.water_depth_m = 0.9;
        v.start_temperature_k = 286.0;
        v.loss_w_k = 15.0;
        v.layers = 2;
        r.controls.pump = steady(Some(0));
        r.target.temperature_k = 313.15;
        r.stop.after_target_s = 0.0;
        r.stop.latest_s = 10.0 * 3600.0;
        r
    };
    let mut rigs = Vec::new();
    for (kg_h, exposed, inlet) in [
        (6.0, 0.7, 0.004),
        (9.0, 0.5, 0.006),
        (9.0, 0.7, 0.006),
        (9.0, 1.0, 0.006),
        (12.0, 0.5, 0.008),
        (12.0, 0.7, 0.008),
        (12.0, 1.0, 0.008),
    ] {
        rigs.push((
            format!("{kg_h} kg/h, {exposed} of the tube exposed"),
            rig(kg_h, exposed, inlet),
        ));
    }
    let hours = sampled("barrel stove, hours", rigs, |_, r| {
        r.summary.time_to_target_s.unwrap_or(f64::INFINITY) / 3600.0
    });
    assert!(met("barrel stove, hours", 3.0, &hours, 1.5));
}

/// "25 ft of 3/8 in copper in a rocket chimney, 3 gpm, 25 °F rise per pass."
///
/// Given: tube (12.7 mm outside), flow, rise: about 11 kW on 0.30 m², near the top of what is believable. Open: bore (150
/// or 200 mm), wood, how close the turns fill the chimney. The best quarter of an hour counts: that is when such a
/// figure is read. Width 1.5: a thermometer at each end of a hose reads the 14 K to 2 K at best, the flow is a rating.
#[test]
fn practice_twenty_five_feet_in_a_rocket_chimney_rise_twenty_five_degrees_at_three_gallons_a_minute()
 {
    let rig = |bore: f64, kg_h: f64, cover: f64| {
        let mut r = rocket();
        let side = |s: &mut Section| {
            s.bore = Bore::Rect {
                width_m: bore,
                depth_m: bore,
            }
        };
        r.firebox.width_m = bore;
        r.firebox.depth_m = 2.0 * bore;
        r.firebox.height_m = bore + 0.1;
        r.firebox.mouth_area_m2 = bore * bore;
        r.firebox.mouth_cover = cover;
        r.feeding.every[0].mass_kg = kg_h * 270.0 / 3600.0;
        side(&mut r.gas_path[0]);
        r.gas_path[0].length_m = 0.5;
        r.gas_path[0].rise_m = 0.5;
        // The coil stands in the chimney right above the riser, in the same light brick.
        let wall = r.gas_path[0].wall.clone();
        r.gas_path[1] = section("chimney with coil", SectionKind::Passage, bore, 0.6, wall);
        side(&mut r.gas_path[1]);
        r.gas_path[2] = Section {
            loss_k: 0.5,
            in_wind: true,
            ..section("flue", SectionKind::Flue, bore, 1.5, vec![steel(0.8)])
        };
        let d = bore - 0.03;
        let turns = 7.62 / (std::f64::consts::PI * d);
        let z0 = r.firebox.height_m + 0.5;
        let c = &mut r.coils[0];
        c.form = CoilForm::Helix {
            coil_diameter_m: d,
            pitch_m: 0.5 / turns,
        };
        c.tube_outside_m = 0.0127;
        c.tube_inside_m = 0.0111;
        c.length_m = 7.62;
        c.bottom_z_m = z0 + 0.02;
        c.top_z_m = z0 + 0.52;
        pumps(&mut r, 11.4);
        let v = vessel(&mut r);
        v.water_m3 = 0.15;
        v.start_temperature_k = 283.15;
        r.target.temperature_k = 333.15;
        r.stop.latest_s = 3600.0;
        r
    };
    let mut rigs = Vec::new();
    for (bore, kg_h, cover) in [
        (0.15, 5.0, 0.75),
        (0.15, 7.0, 0.7),
        (0.15, 7.0, 0.6),
        (0.2, 7.0, 0.8),
        (0.2, 9.0, 0.8),
        (0.2, 12.0, 0.7),
    ] {
        rigs.push((
            format!("{:.0} mm, {kg_h} kg/h, mouth covered {cover}", 1e3 * bore),
            rig(bore, kg_h, cover),
        ));
    }
    let rise_k = sampled("rocket chimney, rise in K", rigs, |_, r| {
        let t = r.series.get("time_s").expect("time");
        let rise: Vec<f64> = {
            let (i, o) = (
                r.series.get("coil_inlet_temperature_K").expect("in"),
                r.series.get("coil_outlet_temperature_K").expect("out"),
            );
            i.iter().zip(o).map(|(i, o)| o - i).collect()
        };
        (0..t.len())
            .filter_map(|a| {
                let picked: Vec<f64> = (a..t.len())
                    .take_while(|&b| t[b] <= t[a] + 900.0)
                    .map(|b| rise[b])
                    .collect();
                (t[t.len() - 1] >= t[a] + 900.0)
                    .then(|| picked.iter().sum::<f64>() / picked.len() as f64)
            })
            .fold(0.0, f64::max)
    });
    assert!(met("rocket chimney, rise in K", 13.9, &rise_k, 1.5));
}

/// A room stove whose flue carries 30 m of tube, pumped into forty gallons.
fn wound_flue(contact: f64, kg_h: f64, tube_m: f64) -> Rig {
    let mut r = wound_outside(3e-4, None);
    let stove = door_stove();
    r.title = "Coil around the flue of a room stove (invented)".into();
    r.site.air_temperature_k = Profile::constant(291.15);
    r.firebox = Firebox {
        wall: vec![brick(30.0), steel(5.0)],
        ..stove.firebox
    };
    r.lighting = stove.lighting;
    r.fuel = stove.fuel;
    r.controls.air_inlet = Control {
        steps: Steps {
            initial: 1.0,
            moves: vec![(1500.0, 0.5)],
        },
        rule: None,
    };
    r.gas_path = vec![Section {
        loss_k: 1.0,
        in_wind: false,
        ..section("flue", SectionKind::Flue, 0.15, 3.0, vec![steel(0.8)])
    }];
    r.closures.contact = contact;
    r.feeding = Feeding {
        list: vec![FeedEvent {
            at_s: 420.0,
            mass_kg: kg_h * 0.75,
            thickness_m: Some(0.05),
        }],
        every: vec![FeedEvery {
            from_s: 2700.0,
            interval_s: 2700.0,
            until: Until::End,
            mass_kg: kg_h * 0.75,
        }],
        rules: vec![],
        door_open_s: 20.0,
    };
    let c = &mut r.coils[0];
    let d = 0.152 + tube_m;
    let turns = 30.5 / (std::f64::consts::PI * d);
    let pitch_m = tube_m * 1.1;
    c.section = 0;
    c.tube_outside_m = tube_m;
    c.tube_inside_m = tube_m - 1.6e-3;
    c.length_m = 30.5;
    c.form = CoilForm::Around {
        coil_diameter_m: d,
        pitch_m,
        start_m: 0.4,
        span_m: turns * pitch_m,
        gap_m: 3e-4,
        filler_w_mk: None,
    };
    c.bottom_z_m = r.firebox.height_m + 0.4;
    c.top_z_m = c.bottom_z_m + turns * pitch_m;
    pumps(&mut r, 4.0);
    let v = vessel(&mut r);
    v.water_m3 = 0.151;
    v.water_depth_m = 1.0;
    v.start_temperature_k = 285.15;
    v.loss_w_k = 3.0;
    r.controls.pump = steady(Some(0));
    r.target.temperature_k = 353.15;
    r.stop.latest_s = 4.0 * 3600.0;
    r
}

/// "100 ft of soft copper wound OUTSIDE a 6 in single-wall flue, 40 gal tank: only ever warm."
///
/// Given: tube length, flue, tank. Open: tube (3/8 to 1/2 in), contact, wood, loss. "Warm" is taken as 25 to 45 °C after an
/// evening's fire of four hours, from 12 °C; hot is 55 °C and more. No further width: the word is wide enough.
#[test]
fn practice_a_hundred_feet_wound_outside_a_flue_make_forty_gallons_only_ever_warm() {
    let mut rigs = Vec::new();
    for (contact, kg_h, tube_m) in [
        (0.3, 1.5, 0.0095),
        (0.3, 2.5, 0.0127),
        (1.0, 1.5, 0.0095),
        (1.0, 2.0, 0.0127),
        (1.0, 2.5, 0.0127),
        (2.0, 2.0, 0.0127),
    ] {
        rigs.push((
            format!("contact {contact}, {kg_h} kg/h, {:.1} mm", 1e3 * tube_m),
            wound_flue(contact, kg_h, tube_m),
        ));
    }
    let warm_c = sampled("outside the flue, °C", rigs, |_, r| {
        r.summary.tank_peak_K.expect("tank") - 273.15
    });
    let within = warm_c.iter().filter(|c| (25.0..45.0).contains(*c)).count();
    println!("{within} of {} end warm (25 to 45 °C)", warm_c.len());
    // Most of them warm, none as hot as a wash needs.
    assert!(2 * within > warm_c.len(), "{warm_c:?}");
    assert!(warm_c.iter().all(|&c| c < 55.0), "{warm_c:?}");
}

/// "A 3 ft water-jacketed flue, about 5 ft2, worked", where another's tube wound outside one had not.
///
/// Given: length and surface of the jacket; the tank of 40 gal and the flue of 6 in are the other's. Open: fire, the jacket's gap
/// and insulation, the loss. "Worked" is taken as hot, 50 °C and more, after the same evening: a fire of 4 kg/h and more does it,
/// the small one of the wound tube (1.5 to 2.5 kg/h) does not. For the same wood a jacket gives here no more than a tube that
/// lies tight, turn by turn, on as much of the flue: what limits both is the gas.
#[test]
fn practice_three_feet_of_water_jacketed_flue_heat_forty_gallons() {
    let rig = |kg_h: f64, gap_m: f64, shell_w_m2k: f64| {
        let mut r = wound_flue(1.0, kg_h, 0.0127);
        r.title = "Flue with a water jacket (invented)".into();
        let jacketed = Section {
            length_m: 0.914,
            rise_m: 0.914,
            loss_k: 0.0,
            ..r.gas_path[0].clone()
        };
        let rest = Section {
            name: "flue above".into(),
            length_m: 3.0 - 0.914,
            rise_m: 3.0 - 0.914,
            ..r.gas_path[0].clone()
        };
        let jacketed = Section {
            wall: vec![steel(3.0)],
            ..jacketed
        };
        let given = JacketGiven {
            name: "jacket".into(),
            gap_m,
            shell_w_m2k,
            water_entry: None,
            cells: None,
        };
        let around = given.around_section(&jacketed, 0, r.firebox.height_m);
        r.coils = vec![around.expect("a wall")];
        r.gas_path = vec![jacketed, rest];
        r
    };
    let m2 = rig(2.0, 0.03, 2.0).coils[0].heated_m2();
    assert!((m2 / (5.0 * 0.0929) - 1.0).abs() < 0.06, "{m2}");
    let mut rigs = Vec::new();
    for (kg_h, gap, shell) in [
        (2.0, 0.025, 7.0),
        (2.0, 0.04, 0.7),
        (4.0, 0.025, 7.0),
        (4.0, 0.04, 0.7),
        (6.0, 0.025, 7.0),
        (6.0, 0.04, 0.7),
    ] {
        rigs.push((
            format!("{kg_h} kg/h, {:.0} mm, shell {shell} W/m2K", 1e3 * gap),
            rig(kg_h, gap, shell),
        ));
    }
    let peak_c = |r: &BurnResult| r.summary.tank_peak_K.expect("tank") - 273.15;
    let hot_c = sampled("jacketed flue, °C", rigs, |_, r| peak_c(r));
    assert!(hot_c[2..].iter().all(|c| *c >= 50.0), "{hot_c:?}");
    assert!(hot_c[..2].iter().all(|c| *c < 50.0), "{hot_c:?}");
    let wound_c = peak_c(&run(&wound_flue(1.0, 2.0, 0.0127)));
    let rises = (hot_c[0] - 12.0) / (wound_c - 12.0);
    println!("jacket over tight tube, same wood: {rises:.2}");
    assert!((0.8..1.4).contains(&rises), "{hot_c:?} {wound_c}");
}

/// "Tub top 110 °F, bottom 60 °F before stirring; overshoots to 106 °F in spite of care."
///
/// Given: the two temperatures; a thermosyphon heater beside a tub, since a pump would have stirred it. Open: water
/// (1,100 to 1,500 L), pipes, wood. The spread top to bottom (28 K) is read when the top stands at 43 °C, the overshoot over
/// 104 °F (1.1 K) with feeding stopped at the target or up to a kelvin before. Width 1.5 for both: a hand's thermometer and
/// unknown depths. The bottom is as cold as the fill, so the first figure says that the fill was not stirred in.
#[test]
fn practice_a_tub_is_hot_on_top_and_cold_below_before_it_is_stirred() {
    let rig = |litres: f64, bore_m: f64, kg: f64| {
        let mut r = tub();
        let c = circuit(&mut r);
        c.supply.inside_m = bore_m;
        c.ret.inside_m = bore_m;
        let v = vessel(&mut r);
        v.water_m3 = 1e-3 * litres;
        v.layers = 12;
        v.start_temperature_k = 287.15;
        v.loss_w_k = 20.0;
        if let Some(s) = &mut v.surface {
            s.area_m2 = 2.0;
        }
        r.controls.cover = steady(true);
        r.site.air_temperature_k = Profile::constant(283.15);
        r.feeding.every[0].mass_kg = kg;
        r.feeding.every[0].until = Until::Target;
        r.target.temperature_k = 313.15;
        r.stop.after_target_s = 3600.0;
        r.stop.latest_s = 12.0 * 3600.0;
        r
    };
    let mut rigs = Vec::new();
    for (litres, bore, kg) in [
        (1100.0, 0.035, 0.7),
        (1100.0, 0.026, 0.7),
        (1500.0, 0.035, 1.0),
        (1500.0, 0.05, 0.7),
    ] {
        rigs.push((
            format!(
                "{litres} L, {:.0} mm pipes, {kg} kg every 10 min",
                1e3 * bore
            ),
            rig(litres, bore, kg),
        ));
    }
    let spread_k = sampled("tub, K from top to bottom", rigs.clone(), |_, r| {
        let layer = |i| {
            r.series
                .get(&format!("tank_layer_{i}_temperature_K"))
                .expect("layer")
        };
        let ends = layer(1).iter().zip(layer(12));
        ends.map(|(a, b)| (a.max(*b), (a - b).abs()))
            .find(|(top, _)| *top >= 316.5)
            .map_or(0.0, |(_, spread)| spread)
    });
    // Care: the last feed goes in when the tub as a whole is still this much short of the target.
    let careful: Vec<(String, Rig)> = rigs
        .par_iter()
        .flat_map_iter(|(name, rig)| {
            let r = run(rig);
            [0.0, 0.5, 1.0].map(|short_k| {
                let t = r.series.get("time_s").expect("time");
                let mean = r.series.get("tank_mean_temperature_K").expect("mean");
                let at = mean
                    .iter()
                    .position(|&k| k >= rig.target.temperature_k - short_k)
                    .expect("gets warm");
                let mut rig = rig.clone();
                rig.feeding.every[0].until = Until::Time(t[at]);
                (format!("{name}, {short_k} K short"), rig)
            })
        })
        .collect();
    let over_k = sampled("tub, K over the target", careful, |_, r| {
        r.summary.overshoot_K.unwrap_or(0.0)
    });
    assert!(met("tub, K from top to bottom", 27.8, &spread_k, 1.5));
    assert!(met("tub, K over the target", 1.1, &over_k, 1.5));
}

/// "A stick-feed heater needs attention about hourly; batch feed far less."
///
/// Given: nothing but the kind. A feed tube of 150 mm is filled half or three quarters with standing sticks, and again when a
/// fifth is left; sticks of 40 to 80 mm, 0.5 to 0.7 m long. Width 2: attention is a look as often as a load.
#[test]
fn practice_a_stick_feed_heater_asks_for_attention_about_hourly() {
    let rig = |mm: f64, length_m: f64, share: f64| {
        let mut r = rocket();
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: 1e-3 * mm,
            length_m,
        };
        r.fuel.density_kg_m3 = 600.0;
        r.firebox.mouth_cover = 0.0;
        let load = share * r.firebox.mouth_area_m2 * length_m * r.fuel.density_kg_m3
            / (1.0 - r.fuel.moisture_wet);
        r.feeding.every.clear();
        r.feeding.list = vec![FeedEvent {
            at_s: 240.0,
            mass_kg: load,
            thickness_m: None,
        }];
        r.feeding.rules = vec![FeedRule {
            when: FeedWhen::BedBelow(0.2 * load),
            mass_kg: 0.8 * load,
            not_within_s: 300.0,
            from_s: 300.0,
            until: Until::End,
        }];
        let v = vessel(&mut r);
        v.water_m3 = 1.0;
        v.water_depth_m = 1.0;
        r.target.temperature_k = 360.0;
        r.stop.latest_s = 5.0 * 3600.0;
        r.firebox.wall = vec![layer("insulating brick", 0.064, 800.0, 1000.0, 0.3, false)];
        r
    };
    let rigs = [
        (40.0, 0.5, 0.75),
        (40.0, 0.6, 0.5),
        (60.0, 0.6, 0.75),
        (60.0, 0.6, 0.5),
        (80.0, 0.7, 0.75),
        (80.0, 0.7, 0.5),
    ]
    .map(|(mm, l, share)| {
        let name = format!("{mm} mm, {l} m, {share} of the mouth full");
        (name, rig(mm, l, share))
    })
    .to_vec();
    let minutes = sampled("stick feed, minutes between loads", rigs, |_, r| {
        r.summary.end_s / 60.0 / r.summary.feeds.max(1) as f64
    });
    assert!(met(
        "stick feed, minutes between loads",
        60.0,
        &minutes,
        2.0
    ));
}

/// "The coil in the cookstove raises its wood use by about 10 %."
///
/// Given: that. The stove's own duty is what its body gives to pots and kitchen (through its walls here); asked is how much more wood
/// gives as much of it once the coil takes its share. Open: stove, wood, how much tube sees the fire (0.7 to 2 m of 22 mm tube against
/// the back of the firebox, half of it seen: 0.025 to 0.07 m2). Width 2: an owner's woodpile.
#[test]
fn practice_a_coil_in_a_cookstove_takes_about_a_tenth_more_wood_for_the_same_cooking() {
    let rig = |kg: f64, coil_m: Option<f64>| {
        let mut r = door_stove();
        r.title = "Cookstove with a coil (invented)".into();
        r.firebox = Firebox {
            width_m: 0.22,
            depth_m: 0.4,
            height_m: 0.3,
            mouth_area_m2: 0.03,
            air_inlet_area_m2: 0.0025,
            air_over_share: 0.0,
            wall: vec![brick(30.0), steel(5.0)],
            ..r.firebox
        };
        // Gas goes under the hot plate and round the oven before the flue.
        r.gas_path = vec![
            section(
                "under plate and round oven",
                SectionKind::Passage,
                0.16,
                1.8,
                vec![steel(3.0)],
            ),
            Section {
                loss_k: 0.5,
                ..section("flue", SectionKind::Flue, 0.13, 3.5, vec![steel(0.8)])
            },
        ];
        r.gas_path[0].rise_m = 0.3;
        r.controls.air_inlet = steady(1.0);
        r.feeding.list[0].mass_kg = kg;
        r.feeding.every[0].mass_kg = kg;
        r.stop.at_target = false;
        r.stop.latest_s = 4.0 * 3600.0;
        match coil_m {
            Some(length_m) => {
                let c = &mut r.coils[0];
                c.section = 0;
                c.form = CoilForm::Chamber {
                    coil_diameter_m: 0.0,
                    run_m: 0.2,
                    exposed_share: 0.5,
                };
                c.tube_outside_m = 0.0222;
                c.tube_inside_m = 0.0199;
                c.length_m = length_m;
                c.core_plug_share = 0.0;
                c.bottom_z_m = 0.1;
                c.top_z_m = 0.25;
                pumps(&mut r, 5.0);
                r.controls.pump = steady(Some(0));
                vessel(&mut r).water_m3 = 0.6;
            }
            None => {
                r.coils.clear();
                r.water = Water::None;
                r.controls.pump = steady(None);
                r.target.temperature_k = f64::INFINITY;
            }
        }
        r
    };
    let duty_and_wood = |kg: f64, coil_m: Option<f64>| {
        let r = run(&rig(kg, coil_m));
        let casing = r.ledger.outputs.iter().find(|l| l.key == "casing");
        (casing.expect("a line").energy_j, r.summary.fuel_burnt_kg)
    };
    let mut more = Vec::new();
    for kg in [0.9, 1.4] {
        let (duty_j, wood_kg) = duty_and_wood(kg, None);
        for coil_m in [0.7, 1.3, 2.0] {
            let (a, b) = (
                duty_and_wood(kg, Some(coil_m)),
                duty_and_wood(1.4 * kg, Some(coil_m)),
            );
            // Straight between two feeds: the wood at which the stove does its own duty again.
            let wood = a.1 + (b.1 - a.1) * (duty_j - a.0) / (b.0 - a.0);
            println!(
                "{kg} kg, {coil_m} m: {wood_kg:.2} kg without, {wood:.2} kg with; duty {:.1} MJ, with as much wood {:.1} MJ",
                duty_j / 1e6,
                a.0 / 1e6
            );
            more.push(100.0 * (wood / wood_kg - 1.0));
        }
    }
    assert!(met("cookstove, % more wood", 10.0, &more, 2.0));
}
