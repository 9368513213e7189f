//! What a practitioner expects when one thing on the rig is changed.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::results::BurnResult;
use rayon::prelude::*;
use support::{rigs::barrel, variants};

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

/// The barrel for a fixed 40 minutes.
fn forty_minutes() -> Rig {
    let mut r = barrel();
    r.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 2400.0,
    };
    r
}

/// Runs the same rig with one thing changed, for each value.
fn each<T: Copy + Sync + Send>(
    rig: &Rig,
    values: &[T],
    change: fn(&mut Rig, T),
) -> Vec<BurnResult> {
    values
        .par_iter()
        .map(|&v| {
            let mut r = rig.clone();
            change(&mut r, v);
            run(&r)
        })
        .collect()
}

fn mean_between(r: &BurnResult, column: &str, from_s: f64, to_s: f64) -> f64 {
    let t = r.series.get("time_s").expect("time");
    let v = r.series.get(column).expect(column);
    let picked: Vec<f64> = t
        .iter()
        .zip(v)
        .filter(|(t, _)| **t >= from_s && **t <= to_s)
        .map(|(_, v)| *v)
        .collect();
    picked.iter().sum::<f64>() / picked.len() as f64
}

fn falls(name: &str, v: &[f64]) {
    assert!(
        v.windows(2).all(|p| p[1] < p[0]),
        "{name} should fall: {v:?}"
    );
}

fn rises(name: &str, v: &[f64]) {
    assert!(
        v.windows(2).all(|p| p[1] > p[0]),
        "{name} should rise: {v:?}"
    );
}

/// Wood has to heat, dry and char first: twice the feed is not twice the fire at once.
#[test]
fn practice_doubling_a_feed_does_not_double_the_fire_within_its_first_minute() {
    let mut rig = forty_minutes();
    rig.solver.output_interval_s = 2.0;
    rig.feeding.every.clear();
    rig.feeding.list = (0..4)
        .map(|i| FeedEvent {
            at_s: 360.0 + 420.0 * f64::from(i),
            mass_kg: 0.7,
            thickness_m: None,
        })
        .collect();
    let r = each(&rig, &[0.7, 1.4], |r, m| r.feeding.list[3].mass_kg = m);
    let fire = |r: &BurnResult, a: f64, b: f64| mean_between(r, "firing_rate_W", a, b);
    let (one, two) = (fire(&r[0], 1622.0, 1680.0), fire(&r[1], 1622.0, 1680.0));
    assert!(
        two < 1.5 * one,
        "within the minute: {one:.0} W and {two:.0} W"
    );
    // But in the end twice the wood burns.
    let burnt = |r: &BurnResult| r.summary.fuel_burnt_kg;
    assert!(
        burnt(&r[1]) > burnt(&r[0]) + 0.2,
        "{} {}",
        burnt(&r[0]),
        burnt(&r[1])
    );
}

/// Char burns on for minutes after the last feed, and a batch ends in a phase where it burns alone.
#[test]
fn practice_the_char_tail_outlasts_the_last_feed() {
    let mut sticks = forty_minutes();
    sticks.stop.latest_s = 5400.0;
    sticks.feeding.every[0].until = Until::Time(1600.0);
    let mut batch = variants::door_stove();
    batch.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 9000.0,
    };
    batch.feeding.every.clear();
    batch.feeding.list = vec![FeedEvent {
        at_s: 500.0,
        mass_kg: 3.0,
        thickness_m: Some(0.05),
    }];
    for (name, rig, last_feed_s, alone_s) in [
        ("sticks", sticks, 1560.0, 0.0),
        ("batch", batch, 500.0, 240.0),
    ] {
        let r = run(&rig);
        let t = r.series.get("time_s").expect("time");
        let char_w: Vec<f64> = r
            .series
            .get("char_burn_rate_kg_s")
            .expect("char")
            .iter()
            .map(|v| v * 32.8e6)
            .collect();
        let wood = r.series.get("burn_rate_kg_s").expect("wood");
        let end = (0..t.len())
            .rfind(|&i| char_w[i] > 300.0)
            .map_or(0.0, |i| t[i]);
        assert!(
            end - last_feed_s > 600.0,
            "{name}: char glows {} s after the last feed",
            end - last_feed_s
        );
        // Alone: volatiles (some 13 MJ/kg of dry wood) give less than half of what char gives.
        let tail: f64 = (1..t.len())
            .filter(|&i| {
                t[i] > last_feed_s + 300.0 && char_w[i] > 300.0 && wood[i] * 13e6 < 0.5 * char_w[i]
            })
            .map(|i| t[i] - t[i - 1])
            .sum();
        println!("{name}: glows until {end}, alone for {tail} s");
        assert!(tail >= alone_s, "{name}: char alone for {tail} s");
    }
}

#[test]
fn practice_wetter_wood_heats_slower_and_cooler() {
    let r = each(&forty_minutes(), &[0.10, 0.20, 0.30, 0.40], |r, m| {
        r.fuel.moisture_wet = m;
    });
    falls(
        "heat into the tank",
        &r.iter()
            .map(|r| r.summary.heat_to_tank_J)
            .collect::<Vec<_>>(),
    );
    falls(
        "mean chamber temperature",
        &r.iter()
            .map(|r| r.summary.chamber_mean_K.expect("mean"))
            .collect::<Vec<_>>(),
    );
    falls(
        "wood burnt",
        &r.iter()
            .map(|r| r.summary.fuel_burnt_kg)
            .collect::<Vec<_>>(),
    );
}

#[test]
fn practice_thinner_sticks_burn_faster() {
    let mut rig = variants::door_stove();
    rig.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 1800.0,
    };
    rig.feeding.every.clear();
    let r = each(&rig, &[0.02, 0.04, 0.08], |r, d| {
        r.feeding.list[0].thickness_m = Some(d);
    });
    let peak = |r: &BurnResult| {
        r.series
            .get("firing_rate_W")
            .expect("fire")
            .iter()
            .zip(r.series.get("time_s").expect("time"))
            .filter(|(_, t)| **t > 430.0)
            .fold(0.0f64, |a, (b, _)| a.max(*b))
    };
    falls("peak fire", &r.iter().map(peak).collect::<Vec<_>>());
    falls(
        "wood burnt",
        &r.iter()
            .map(|r| r.summary.fuel_burnt_kg)
            .collect::<Vec<_>>(),
    );
}

/// Same wood and tending; thin sticks need more trips where they are added as the bed falls low.
#[test]
fn practice_thinner_sticks_need_more_feeds() {
    let mut rig = forty_minutes();
    rig.feeding = Feeding {
        rules: vec![FeedRule {
            when: FeedWhen::BedBelow(0.5),
            mass_kg: 0.5,
            not_within_s: 60.0,
            from_s: 200.0,
            until: Until::End,
        }],
        ..Feeding::default()
    };
    let r = each(&rig, &[0.02, 0.045], |r, d| r.fuel.stick.thickness_m = d);
    let feeds: Vec<f64> = r.iter().map(|r| r.summary.feeds as f64).collect();
    falls("feeds", &feeds);
}

#[test]
fn practice_a_mouth_stuffed_full_starves_the_fire_and_makes_unburnt_loss() {
    let mut rig = forty_minutes();
    rig.firebox.mouth_cover = 0.2;
    let r = each(&rig, &[0.4, 1.2, 3.0], |r, m| {
        r.feeding.every[0].mass_kg = m
    });
    let s = |f: fn(&BurnResult) -> f64| r.iter().map(f).collect::<Vec<_>>();
    falls(
        "air ratio",
        &s(|r| r.summary.air_ratio_mean.expect("ratio")),
    );
    // From the first feed on: the kindling's minutes are the same for all. Against the middle feed: the smallest burns in
    // twelve times its air, and a chilled fire loses to cold what a starved one loses for want of air.
    let unburnt = |r: &BurnResult, counts: fn(f64, f64) -> bool| {
        let column = |name: &str| r.series.get(name).expect("a column");
        let (t, ratio) = (column("time_s"), column("air_ratio"));
        let sum = |name: &str| -> f64 {
            let v = column(name);
            (0..t.len())
                .filter(|&i| counts(t[i], ratio[i]))
                .map(|i| v[i])
                .sum()
        };
        sum("unburnt_W") / sum("firing_rate_W")
    };
    let fed: Vec<f64> = r.iter().map(|r| unburnt(r, |t, _| t >= 360.0)).collect();
    assert!(fed[2] > 1.5 * fed[1], "unburnt {fed:?}");
    // While the air is short the loss rises to several times that. The trade's range for it is a row of the validation page.
    let starved = unburnt(&r[2], |t, ratio| t >= 960.0 && ratio < 1.4);
    assert!(starved > 4.0 * fed[1], "starved {starved} of {fed:?}");
    let inlet = s(|r| mean_between(r, "free_inlet_m2", 600.0, 2400.0));
    falls("free inlet", &inlet);
    let air = s(|r| mean_between(r, "air_flow_kg_s", 600.0, 2400.0));
    assert!(air[2] < air[1], "air {air:?}");
}

#[test]
fn practice_covering_the_mouth_raises_the_chamber_temperature_until_it_starves() {
    let r = each(&forty_minutes(), &[0.2, 0.5, 0.8], |r, v| {
        r.firebox.mouth_cover = v
    });
    falls(
        "air ratio",
        &r.iter()
            .map(|r| r.summary.air_ratio_mean.expect("ratio"))
            .collect::<Vec<_>>(),
    );
    rises(
        "chamber",
        &r.iter()
            .map(|r| mean_between(r, "gas_firebox_temperature_K", 900.0, 2400.0))
            .collect::<Vec<_>>(),
    );
}

#[test]
fn practice_a_higher_flue_draws_more_air_and_past_an_optimum_loses_more_up_the_stack() {
    let r = each(&forty_minutes(), &[0.6, 1.5, 3.0, 6.0, 10.0], |r, h| {
        let flue = r.gas_path.last_mut().expect("flue");
        flue.length_m = h;
        flue.rise_m = h;
        // Insulated alike, so that the longer flue is no larger radiator.
        flue.wall = vec![support::rigs::layer(
            "mineral wool",
            0.05,
            80.0,
            840.0,
            0.05,
            false,
        )];
    });
    let s = |f: fn(&BurnResult) -> f64| r.iter().map(f).collect::<Vec<_>>();
    rises(
        "air",
        &s(|r| mean_between(r, "air_flow_kg_s", 600.0, 2400.0)),
    );
    rises("draught", &s(|r| r.summary.draught_max_Pa));
    let loss = s(|r| r.summary.stack_loss_fraction.expect("burnt"));
    println!("stack loss {loss:?}");
    let heat = s(|r| r.summary.heat_to_tank_J);
    println!("heat {heat:?}");
    assert!(
        loss[4] > loss[2] && loss[3] > loss[1],
        "stack loss {loss:?}"
    );
}

#[test]
fn practice_closing_the_damper_cuts_the_air() {
    let mut rig = forty_minutes();
    rig.controls.damper.steps.moves = vec![(1500.0, 0.0)];
    let r = run(&rig);
    let open = mean_between(&r, "air_flow_kg_s", 1300.0, 1490.0);
    let shut = mean_between(&r, "air_flow_kg_s", 1560.0, 1700.0);
    assert!(shut < 0.3 * open, "{open} then {shut} kg/s");
    assert!(shut >= 0.0);
    let part = each(&forty_minutes(), &[1.0, 0.6, 0.3, 0.1], |r, v| {
        r.controls.damper.steps.initial = v
    });
    falls(
        "air",
        &part
            .iter()
            .map(|r| mean_between(r, "air_flow_kg_s", 600.0, 2400.0))
            .collect::<Vec<_>>(),
    );
}

/// A coil of a length, in a passage high enough for its turns.
fn with_coil_length(r: &mut Rig, length_m: f64) {
    // A pump that pushes through it: else the longest coils boil in the kindling's flare and stay locked by steam.
    for s in &mut variants::circuit(r).pump.as_mut().expect("pump").settings {
        for c in &mut s.curve {
            c.1 *= (length_m / 9.0).max(1.0);
        }
    }
    let turns = length_m / (std::f64::consts::PI * 0.36);
    let height = (turns * 0.03).max(0.26);
    let p = &mut r.gas_path[1];
    p.length_m = height;
    p.rise_m = height;
    // The passage takes no heat of its own, so that the coil alone cools the gas.
    p.wall = vec![support::rigs::layer(
        "ceramic fibre",
        0.1,
        128.0,
        1000.0,
        0.02,
        false,
    )];
    let c = &mut r.coils[0];
    c.length_m = length_m;
    c.bottom_z_m = 1.31;
    c.top_z_m = 1.31 + turns * 0.03;
    // Heights change little in what matters here: the flue makes up for them.
    let f = r.gas_path.last_mut().expect("flue");
    f.length_m = 4.0 - height;
    f.rise_m = f.length_m;
}

#[test]
fn analytic_a_coil_of_no_length_takes_no_heat_and_a_long_one_tends_to_the_limit() {
    let r = each(
        &forty_minutes(),
        &[0.02, 3.0, 9.0, 27.0, 60.0, 90.0],
        with_coil_length,
    );
    let q: Vec<f64> = r
        .iter()
        .map(|r| mean_between(r, "heat_to_coil_W", 600.0, 2400.0))
        .collect();
    let above: Vec<f64> = r
        .iter()
        .map(|r| mean_between(r, "gas_above_coil_temperature_K", 900.0, 2400.0))
        .collect();
    println!("heat {q:.0?} above {above:.0?}");
    assert!(
        q[0] < 0.03 * q[2],
        "a coil of 2 cm takes {:.0} of {:.0} W",
        q[0],
        q[2]
    );
    falls("gas above the coil", &above);
    // The longest coil brings the gas near the water; what is left to gain is small.
    assert!(above[5] < 310.0, "{above:?}");
    assert!((q[5] / q[4] - 1.0).abs() < 0.05, "{q:?}");
}

#[test]
fn practice_twice_the_flow_halves_the_outlet_rise_and_takes_hardly_more_heat() {
    let mut rig = forty_minutes();
    if let Water::Store {
        circuit: Some(circuit),
        ..
    } = &mut rig.water
        && let Some(p) = &mut circuit.pump
    {
        // A steep pump: its flow hardly depends on the loop.
        p.settings[1].curve = vec![(0.0, 6e4), (2e-4, 0.0)];
    }
    let r = each(&rig, &[1.0, 2.0], |r, f| {
        if let Water::Store {
            circuit: Some(circuit),
            ..
        } = &mut r.water
            && let Some(p) = &mut circuit.pump
        {
            for c in &mut p.settings[1].curve {
                c.0 *= f;
                c.1 *= f * f;
            }
        }
    });
    let rise = |r: &BurnResult| {
        mean_between(r, "coil_outlet_temperature_K", 900.0, 2400.0)
            - mean_between(r, "coil_inlet_temperature_K", 900.0, 2400.0)
    };
    let flow = |r: &BurnResult| mean_between(r, "loop_flow_kg_s", 900.0, 2400.0);
    let (f, d) = (flow(&r[1]) / flow(&r[0]), rise(&r[1]) / rise(&r[0]));
    assert!((1.8..2.3).contains(&f), "flow × {f}");
    assert!((f * d - 1.0).abs() < 0.06, "flow × {f}, rise × {d}");
    let heat = r[1].summary.heat_to_tank_J / r[0].summary.heat_to_tank_J;
    assert!((0.98..1.08).contains(&heat), "heat × {heat}");
}

/// Pump curve = system curve at the working point, and the run sits on it.
#[test]
fn identity_the_pumped_loop_works_where_pump_and_system_meet() {
    let r = run(&forty_minutes());
    let o = r.operating.as_ref().expect("picture");
    let at = |c: &[(f64, f64)], x: f64| {
        let i = c.partition_point(|p| p.0 <= x).clamp(1, c.len() - 1);
        let ((x0, y0), (x1, y1)) = (c[i - 1], c[i]);
        y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    };
    let (w, p) = o.point;
    let (drive, loss) = (at(&o.driving, w), at(&o.system, w));
    assert!(
        (drive - loss).abs() < 0.01 * drive,
        "{drive} Pa against {loss} Pa at {w} kg/s"
    );
    assert!((p / loss - 1.0).abs() < 0.01);
    let mean = mean_between(&r, "loop_flow_kg_s", 1800.0, 2400.0);
    assert!((mean / w - 1.0).abs() < 0.05, "{mean} against {w}");
    assert!(o.driving.windows(2).all(|p| p[1].1 <= p[0].1 + 1e-9));
    assert!(o.system.windows(2).all(|p| p[1].1 >= p[0].1 - 1e-9));
}

/// Buoyancy = friction where the thermosyphon works; raising the tank raises flow and margin.
#[test]
fn practice_raising_the_tub_raises_flow_and_boiling_margin() {
    let mut rig = variants::tub();
    rig.stop.at_target = false;
    rig.stop.latest_s = 2400.0;
    // Little at a time: an even fire, which the water's inertia follows.
    for f in &mut rig.feeding.every {
        (f.mass_kg, f.interval_s) = (0.5 * f.mass_kg, 0.5 * f.interval_s);
    }
    let r = each(&rig, &[1.2, 1.6, 2.2, 3.0], |r, z| {
        let v = variants::vessel(r);
        v.floor_z_m = z;
    });
    rises(
        "flow",
        &r.iter()
            .map(|r| r.summary.loop_flow_mean_kg_s.expect("flow"))
            .collect::<Vec<_>>(),
    );
    rises(
        "margin",
        &r.iter()
            .map(|r| r.summary.boiling_margin_min_K.expect("margin"))
            .collect::<Vec<_>>(),
    );
    for b in &r {
        let o = b.operating.as_ref().expect("picture");
        let at = |c: &[(f64, f64)]| {
            let i = c
                .partition_point(|p| p.0 <= o.point.0)
                .clamp(1, c.len() - 1);
            let ((x0, y0), (x1, y1)) = (c[i - 1], c[i]);
            y0 + (y1 - y0) * (o.point.0 - x0) / (x1 - x0)
        };
        let (drive, loss) = (at(&o.driving), at(&o.system));
        assert!(
            (drive - loss).abs() < 0.05 * drive,
            "{drive} Pa against {loss} Pa"
        );
    }
}

/// Layers stay in order while the store is heated.
#[test]
fn practice_a_heated_tank_never_stands_on_its_head() {
    for (name, mut rig) in [
        ("barrel", barrel()),
        ("tub", variants::tub()),
        ("tank and bench", variants::tank_and_bench()),
    ] {
        rig.stop.latest_s = 4000.0;
        let n = variants::vessel(&mut rig).layers;
        let r = run(&rig);
        let layer = |i: usize| {
            r.series
                .get(&format!("tank_layer_{i}_temperature_K"))
                .expect("layer")
        };
        let mut worst = 0.0f64;
        for i in 1..n {
            for (lower, upper) in layer(i).iter().zip(layer(i + 1)) {
                worst = worst.max(lower - upper);
            }
        }
        println!("{name}: {worst:.3} K");
        assert!(
            worst < 0.3,
            "{name}: a layer is {worst} K warmer than the one above it"
        );
    }
}

#[test]
fn practice_masonry_before_the_coil_lowers_the_peak_and_lengthens_the_tail() {
    let mut with = variants::masonry();
    with.stop.latest_s = 2.5 * 3600.0;
    let mut without = with.clone();
    // The same path, height and resistance in light insulation.
    without.gas_path[1].wall = vec![support::rigs::layer(
        "ceramic fibre",
        0.08,
        128.0,
        1000.0,
        0.12,
        false,
    )];
    let (a, b) = (run(&with), run(&without));
    let peak = |r: &BurnResult| {
        r.series
            .get("heat_to_coil_W")
            .expect("coil")
            .iter()
            .fold(0.0f64, |a, &b| a.max(b))
    };
    assert!(peak(&a) < 0.9 * peak(&b), "peaks {} {}", peak(&a), peak(&b));
    // Once the embers are all but out: as long as they burn, the masonry takes its share of their heat.
    let out_s = |r: &BurnResult| {
        let (t, w) = (r.series.get("time_s"), r.series.get("firing_rate_W"));
        let (t, w) = (t.expect("time"), w.expect("fire"));
        t[w.iter().rposition(|w| *w > 1000.0).expect("burns")]
    };
    let from_s = out_s(&a).max(out_s(&b));
    assert!(from_s < 8000.0, "burns until {from_s} s");
    let late = |r: &BurnResult| mean_between(r, "heat_to_coil_W", from_s, 9000.0);
    assert!(late(&a) > 1.1 * late(&b), "late {} {}", late(&a), late(&b));
}

/// Fouling, plug, more radiation, finer settings: signs only.
#[test]
fn practice_soot_costs_heat_and_dirt_shows_in_the_stack() {
    let r = each(&forty_minutes(), &[0.0, 0.005, 0.02], |r, v| {
        r.coils[0].fouling_m2k_w = v
    });
    falls(
        "heat",
        &r.iter()
            .map(|r| r.summary.heat_to_tank_J)
            .collect::<Vec<_>>(),
    );
    rises(
        "stack temperature",
        &r.iter()
            .map(|r| r.summary.stack_temperature_mean_K.expect("stack"))
            .collect::<Vec<_>>(),
    );
    let plug = each(&forty_minutes(), &[0.0, 0.3, 0.6], |r, v| {
        r.coils[0].core_plug_share = v
    });
    rises(
        "heat with a plug",
        &plug
            .iter()
            .map(|r| r.summary.heat_to_tank_J)
            .collect::<Vec<_>>(),
    );
}

/// A lid saves evaporation and radiation of an open tub.
#[test]
fn practice_a_lid_on_the_tub_keeps_its_heat() {
    let mut rig = variants::tub();
    variants::vessel(&mut rig).start_temperature_k = 311.15;
    rig.lighting.kindling_kg = 0.0;
    rig.feeding = Feeding::default();
    variants::circuit(&mut rig).check_valve = true;
    rig.target.temperature_k = 340.0;
    rig.stop.latest_s = 4.0 * 3600.0;
    rig.controls.cover.steps.moves.clear();
    let r = each(&rig, &[true, false], |r, on| {
        r.controls.cover.steps.initial = on
    });
    let left: Vec<f64> = r
        .iter()
        .map(|r| {
            *r.series
                .get("tank_mean_temperature_K")
                .and_then(<[f64]>::last)
                .expect("tank")
        })
        .collect();
    assert!(left[0] > left[1] + 2.0, "{left:?}");
    let evaporated = |r: &BurnResult| {
        r.ledger
            .outputs
            .iter()
            .find(|l| l.key == "evaporation")
            .map_or(0.0, |l| l.energy_j)
    };
    assert!(evaporated(&r[0]) < 0.25 * evaporated(&r[1]));
}

/// Hot tub above, fire out: water runs back down the hot pipe unless a check valve is fitted.
#[test]
fn practice_at_night_the_loop_runs_back_unless_a_check_valve_is_fitted() {
    let mut rig = variants::tub();
    rig.site.air_temperature_k = Profile::constant(263.15);
    variants::vessel(&mut rig).start_temperature_k = 323.15;
    // The coil hangs above the ports: cold passage above, warm tub below would be the other way round.
    variants::vessel(&mut rig).floor_z_m = 0.9;
    rig.lighting.kindling_kg = 0.0;
    rig.feeding = Feeding::default();
    rig.target.temperature_k = 360.0;
    rig.stop.latest_s = 3.0 * 3600.0;
    let r = each(&rig, &[false, true], |r, v| {
        variants::circuit(r).check_valve = v
    });
    let least = |r: &BurnResult| {
        r.series
            .get("loop_flow_kg_s")
            .expect("flow")
            .iter()
            .fold(f64::INFINITY, |a, &b| a.min(b))
    };
    assert!(least(&r[0]) < -1e-3, "without a valve: {}", least(&r[0]));
    assert!(least(&r[1]) > -2e-4, "with a valve: {}", least(&r[1]));
    let left = |r: &BurnResult| {
        *r.series
            .get("tank_mean_temperature_K")
            .and_then(<[f64]>::last)
            .expect("tank")
    };
    assert!(left(&r[1]) > left(&r[0]), "{} {}", left(&r[1]), left(&r[0]));
}
