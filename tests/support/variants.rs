//! Rigs of every kind that the network knows, made from the barrel: for tests that hold on all of them.
#![allow(dead_code)]

use super::rigs::*;
use emberloop::components::spec::*;

pub fn steady<T>(v: T) -> Control<T> {
    Control {
        steps: Steps {
            initial: v,
            moves: vec![],
        },
        rule: None,
    }
}

pub fn vessel(rig: &mut Rig) -> &mut Vessel {
    match &mut rig.water {
        Water::Store { vessel, .. } => vessel,
        _ => panic!("this rig has no vessel"),
    }
}

pub fn circuit(rig: &mut Rig) -> &mut Loop {
    match &mut rig.water {
        Water::Store {
            circuit: Some(circuit),
            ..
        }
        | Water::BenchOnly { circuit, .. } => circuit,
        _ => panic!("this rig has no loop"),
    }
}

pub fn brick(mm: f64) -> Layer {
    layer("fire brick", mm * 1e-3, 2000.0, 900.0, 1.0, false)
}

pub fn bench() -> Bench {
    Bench {
        water_m3: 0.006,
        flow_kg_s: 0.05,
        supply_k: 313.15,
        pipe_w_k: 90.0,
        mass_heat_capacity_j_k: 9e5,
        start_temperature_k: 281.15,
        loss_w_k: 12.0,
        pump_power_w: 12.0,
        on_below_k: 291.15,
        off_above_k: 296.15,
    }
}

/// Raised above the stove, wide pipes, no pump: water moves by its own buoyancy into an open tub.
pub fn tub() -> Rig {
    let mut r = barrel();
    r.title = "Tub on a thermosyphon (invented)".into();
    // A full charge of kindling boils the coil before its water is under way.
    r.lighting.kindling_kg = 0.4;
    r.target.temperature_k = 311.15;
    let wide = Pipe {
        length_m: 2.2,
        inside_m: 0.035,
        wall_heat_capacity_j_mk: 700.0,
        loss_w_mk: 0.9,
        loss_k: 3.0,
        roughness_m: 1.5e-6,
    };
    r.coils[0].tube_outside_m = 0.0286;
    r.coils[0].tube_inside_m = 0.0262;
    r.coils[0].form = CoilForm::Helix {
        coil_diameter_m: 0.34,
        pitch_m: 0.04,
    };
    r.coils[0].water_entry = WaterEntry::GasInlet;
    r.water = Water::Store {
        circuit: Some(Loop {
            pump: None,
            supply: wide.clone(),
            ret: wide,
            check_valve: false,
            bypass: None,
        }),
        vessel: Vessel {
            kind: VesselKind::Tub,
            water_m3: 0.35,
            water_depth_m: 0.7,
            floor_z_m: 1.6,
            layers: 4,
            start_temperature_k: 283.15,
            loss_w_k: 9.0,
            shell_heat_capacity_j_k: 4e4,
            hot_port_m: 0.55,
            cold_port_m: 0.1,
            draw_port_m: 0.5,
            surface: Some(OpenSurface {
                area_m2: 1.4,
                cover_leak: 0.1,
                cover_w_m2k: 2.5,
                cloud_cover: 0.3,
                wind_share: 0.5,
            }),
            closed: None,
        },
        draws: vec![],
        bench: None,
    };
    r.controls.cover.steps = Steps {
        initial: true,
        moves: vec![(3000.0, false), (3600.0, true)],
    };
    r
}

/// Logs behind a door on the same coil and barrel.
pub fn door_stove() -> Rig {
    let mut r = barrel();
    r.title = "Door stove (invented)".into();
    r.firebox = Firebox {
        kind: FireboxKind::Door,
        width_m: 0.3,
        depth_m: 0.45,
        height_m: 0.35,
        mouth_area_m2: 0.05,
        mouth_cover: 0.0,
        air_inlet_area_m2: 0.0025,
        air_over_share: 0.0,
        inlet_loss_k: 1.8,
        burning_length_m: 0.4,
        hearth_mass_kg: 6.0,
        in_water: 0.0,
        wet_wall: vec![],
        wall: vec![brick(30.0), steel(5.0)],
        door: vec![steel(4.0)],
    };
    r.gas_path[0] = Section {
        loss_k: 0.3,
        ..section("throat", SectionKind::Bend, 0.15, 0.25, vec![steel(2.0)])
    };
    r.fuel.stick = Stick {
        shape: StickShape::Square,
        thickness_m: 0.07,
        length_m: 0.4,
    };
    r.lighting.kindling_kg = 1.5;
    r.lighting.kindling_thickness_m = 0.015;
    r.feeding = Feeding {
        list: vec![FeedEvent {
            at_s: 420.0,
            mass_kg: 2.0,
            thickness_m: Some(0.05),
        }],
        every: vec![FeedEvery {
            from_s: 1500.0,
            interval_s: 1800.0,
            until: Until::End,
            mass_kg: 2.5,
        }],
        rules: vec![],
        door_open_s: 40.0,
    };
    r.controls.air_inlet.steps.moves = vec![(1500.0, 0.7)];
    r
}

/// Layered tank with draws and a bench behind a mixing valve, tended by rules, damper and pump by rule.
pub fn tank_and_bench() -> Rig {
    let mut r = barrel();
    r.title = "Tank, draws and bench (invented)".into();
    r.stop.at_target = false;
    r.stop.latest_s = 3.0 * 3600.0;
    if let Water::Store {
        vessel,
        draws,
        bench: b,
        ..
    } = &mut r.water
    {
        vessel.kind = VesselKind::Tank;
        vessel.layers = 8;
        vessel.start_temperature_k = 303.15;
        *b = Some(bench());
        draws.push(Draw {
            starts: DrawStart::At(3000.0),
            every_s: Some(1800.0),
            for_s: 3600.0,
            volume_m3: 0.02,
            flow_m3_s: 1e-4,
            cold_k: 280.15,
        });
    }
    r.feeding = Feeding {
        rules: vec![FeedRule {
            when: FeedWhen::BedBelow(0.35),
            mass_kg: 0.7,
            not_within_s: 240.0,
            from_s: 300.0,
            until: Until::Time(2.0 * 3600.0),
        }],
        ..Feeding::default()
    };
    r.controls.pump = Control {
        steps: Steps {
            initial: Some(0),
            moves: vec![],
        },
        rule: Some(ControlRule {
            signal: Signal::CoilOutlet,
            low: 308.15,
            high: 318.15,
            when_low: Some(0),
            when_high: Some(1),
            from_s: 0.0,
        }),
    };
    r.controls.damper = Control {
        steps: Steps {
            initial: 1.0,
            moves: vec![],
        },
        rule: Some(ControlRule {
            signal: Signal::Chamber,
            low: 750.0,
            high: 1050.0,
            when_low: 1.0,
            when_high: 0.5,
            from_s: 120.0,
        }),
    };
    r
}

/// Mains water passes the coil once.
pub fn once_through() -> Rig {
    let mut r = barrel();
    r.title = "Once through (invented)".into();
    r.target = Target {
        temperature_k: 303.15,
        probe: Probe::Outlet,
    };
    r.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 5400.0,
    };
    r.water = Water::OnceThrough {
        supply: hose(4.0),
        ret: hose(2.0),
        inlet_k: 281.15,
        supply_pressure_pa: 4e4,
        valve_loss_k: 60.0,
    };
    r.controls.valve.steps.moves = vec![(2400.0, 0.6)];
    r
}

/// A stove alone.
pub fn no_water() -> Rig {
    let mut r = barrel();
    r.title = "Stove without water (invented)".into();
    r.coils.clear();
    r.water = Water::None;
    r.stop.latest_s = 5400.0;
    r
}

/// The loop warms a bench, no vessel between.
pub fn bench_only() -> Rig {
    let mut r = barrel();
    r.title = "Bench without a store (invented)".into();
    r.target.temperature_k = 303.15;
    if let Water::Store {
        circuit: Some(circuit),
        ..
    } = r.water
    {
        r.water = Water::BenchOnly {
            circuit,
            bench: Bench {
                pipe_w_k: 400.0,
                ..bench()
            },
            bench_z_m: 0.4,
        };
    }
    r.stop.latest_s = 2.0 * 3600.0;
    r
}

/// A welded stove in the water of its tub: no coil, no loop.
pub fn submerged() -> Rig {
    let mut r = door_stove();
    r.title = "Stove submerged in its tub (invented)".into();
    r.firebox.wall = vec![steel(4.0)];
    r.firebox.in_water = 0.85;
    r.firebox.height_m = 0.5;
    let flue = r.gas_path.last().expect("a flue").clone();
    let neck = Section {
        in_water: true,
        ..section("neck", SectionKind::Passage, 0.15, 0.25, vec![steel(3.0)])
    };
    r.gas_path = vec![neck, flue];
    r.coils.clear();
    r.controls.pump = steady(None);
    r.target.temperature_k = 311.15;
    r.water = tub().water;
    if let Water::Store {
        circuit, vessel, ..
    } = &mut r.water
    {
        *circuit = None;
        vessel.water_m3 = 0.6;
        vessel.water_depth_m = 0.82;
        vessel.floor_z_m = -0.06;
    }
    r
}

/// Straight runs across a square passage, three tubes side by side.
pub fn serpentine() -> Rig {
    let mut r = barrel();
    r.title = "Serpentine (invented)".into();
    r.gas_path[1].bore = Bore::Rect {
        width_m: 0.3,
        depth_m: 0.3,
    };
    r.coils[0].form = CoilForm::Serpentine { pitch_m: 0.04 };
    r.coils[0].core_plug_share = 0.0;
    r.coils[0].length_m = 4.0;
    r.coils[0].parallel = 2;
    r
}

/// One coil in the passage and one in the flue behind it, in series.
pub fn two_coils() -> Rig {
    let mut r = barrel();
    r.title = "Two coils (invented)".into();
    r.gas_path.insert(
        2,
        section(
            "upper passage",
            SectionKind::Passage,
            0.36,
            0.2,
            vec![steel(1.5)],
        ),
    );
    let mut second = r.coils[0].clone();
    second.name = "upper coil".into();
    second.section = 2;
    second.length_m = 4.0;
    second.form = CoilForm::Helix {
        coil_diameter_m: 0.28,
        pitch_m: 0.035,
    };
    second.core_plug_share = 0.4;
    second.bottom_z_m = 1.6;
    second.top_z_m = 1.75;
    second.fouling_m2k_w = 0.002;
    r.coils[0].length_m = 6.0;
    // The water enters above and comes down past the hotter gas.
    r.coils.insert(0, second);
    r
}

/// A suction fan behind the coil.
pub fn fan() -> Rig {
    let mut r = barrel();
    r.title = "Suction fan (invented)".into();
    let i = r.gas_path.len() - 1;
    r.gas_path.insert(
        i,
        section(
            "fan",
            SectionKind::Fan {
                curve: vec![(0.0, 18.0), (0.04, 12.0), (0.08, 0.0)],
            },
            0.15,
            0.2,
            vec![steel(1.0)],
        ),
    );
    r
}

/// Heavy masonry between riser and coil, running level.
pub fn masonry() -> Rig {
    let mut r = barrel();
    r.title = "Masonry before the coil (invented)".into();
    r.gas_path.insert(
        1,
        Section {
            rise_m: 0.0,
            ..section("bench", SectionKind::Mass, 0.2, 2.0, vec![brick(80.0)])
        },
    );
    r.coils[0].section = 2;
    r.stop.latest_s = 3.0 * 3600.0;
    r.stop.at_target = false;
    r.feeding.every[0].until = Until::Time(3600.0);
    r
}

/// The barrel on the ground, the coil above it, and a pump that stops at full fire.
pub fn pump_stops() -> Rig {
    let mut r = barrel();
    r.title = "Pump stops (invented)".into();
    r.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 3600.0,
    };
    // Two loads while the embers build up: the pump stops at full fire.
    let every = r.feeding.every[0].clone();
    r.feeding.every.push(FeedEvery {
        from_s: 120.0,
        interval_s: 240.0,
        until: Until::Time(400.0),
        ..every
    });
    r.feeding.every[0].until = Until::Time(2000.0);
    r.controls.pump.steps.moves = vec![(2100.0, None)];
    r
}

/// A wide pipe of copper.
pub fn riser(length_m: f64) -> Pipe {
    Pipe {
        length_m,
        inside_m: 0.026,
        wall_heat_capacity_j_mk: 260.0,
        loss_w_mk: 0.4,
        loss_k: 3.0,
        roughness_m: 1.5e-6,
    }
}

/// As `pump_stops`, the water rising through the coil, with a gravity bypass to a header above it.
pub fn bypass() -> Rig {
    let mut r = pump_stops();
    r.title = "Gravity bypass (invented)".into();
    r.coils[0].water_entry = WaterEntry::GasInlet;
    // A coil for gravity is wide: a narrow one is full of steam before its water is under way.
    r.coils[0].tube_inside_m = 0.0199;
    r.coils[0].tube_outside_m = 0.0222;
    circuit(&mut r).check_valve = true;
    circuit(&mut r).bypass = Some(Bypass {
        riser: riser(1.2),
        ret: riser(1.4),
        check_valve: true,
        header: Vessel {
            kind: VesselKind::Tank,
            water_m3: 0.06,
            water_depth_m: 0.4,
            floor_z_m: 1.9,
            layers: 3,
            start_temperature_k: 281.15,
            loss_w_k: 6.0,
            shell_heat_capacity_j_k: 5e3,
            hot_port_m: 0.35,
            cold_port_m: 0.05,
            draw_port_m: 0.35,
            surface: None,
            closed: None,
        },
    });
    r
}

/// The barrel as a tank shut in from the air, with an expansion vessel.
pub fn closed() -> Rig {
    let mut r = barrel();
    r.title = "Closed store (invented)".into();
    let v = vessel(&mut r);
    v.kind = VesselKind::Tank;
    v.closed = Some(Closed {
        fill_pa: 1.0e5,
        vessel_m3: 0.025,
        precharge_pa: 0.7e5,
        relief_pa: 2.5e5,
        reseat_pa: 2.0e5,
        relief_bore_m: 0.012,
        relief_discharge: 0.7,
        burst_pa: 3.6e5,
    });
    r
}

/// Its vessel is far too small: the relief valve lifts early and often.
pub fn blows_off() -> Rig {
    let mut r = closed();
    r.title = "Closed store that blows off (invented)".into();
    let c = vessel(&mut r).closed.as_mut().expect("closed");
    c.vessel_m3 = 1e-3;
    (c.relief_pa, c.reseat_pa, c.burst_pa) = (1.3e5, 1.15e5, 2.0e5);
    r
}

/// Every kind, by name.
/// The same laid last week.
pub fn damp() -> Rig {
    let mut r = masonry();
    r.title = "Damp masonry (invented)".into();
    r.firebox.wall[0].moisture = 0.06;
    r.firebox.wall[0].vapour_resistance = Some(16.0);
    r
}

pub fn all() -> Vec<(&'static str, Rig)> {
    vec![
        ("barrel", barrel()),
        ("tub", tub()),
        ("door stove", door_stove()),
        ("tank and bench", tank_and_bench()),
        ("once through", once_through()),
        ("no water", no_water()),
        ("bench only", bench_only()),
        ("serpentine", serpentine()),
        ("two coils", two_coils()),
        ("fan", fan()),
        ("masonry", masonry()),
        ("damp masonry", damp()),
        ("pump stops", pump_stops()),
        ("bypass", bypass()),
        ("wound outside", wound_outside(1e-4, None)),
        ("coil in the firebox", coil_in_firebox(0.6)),
        ("closed store", closed()),
        ("closed store that blows off", blows_off()),
    ]
}

/// A little hot water on a large fire: the vessel itself boils over.
pub fn boils_over() -> Rig {
    let mut r = barrel();
    r.title = "Boils over (invented)".into();
    r.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 3000.0,
    };
    let v = vessel(&mut r);
    v.water_m3 = 0.03;
    v.water_depth_m = 0.4;
    v.hot_port_m = 0.35;
    v.cold_port_m = 0.05;
    v.draw_port_m = 0.3;
    v.layers = 2;
    v.start_temperature_k = 358.15;
    r
}

/// Nothing is lit, fed or moved; water, walls and air have one temperature.
pub fn at_rest(mut r: Rig, t_k: f64) -> Rig {
    r.site.air_temperature_k = Profile::constant(t_k);
    r.lighting.kindling_kg = 0.0;
    r.feeding = Feeding::default();
    r.controls = Controls {
        damper: steady(1.0),
        air_inlet: steady(1.0),
        pump: steady(None),
        valve: steady(1.0),
        cover: steady(false),
    };
    match &mut r.water {
        Water::Store {
            vessel,
            bench,
            draws,
            ..
        } => {
            draws.clear();
            vessel.start_temperature_k = t_k;
            if let Some(b) = bench {
                b.start_temperature_k = t_k;
            }
        }
        Water::BenchOnly { bench, .. } => bench.start_temperature_k = t_k,
        Water::OnceThrough { inlet_k, .. } => *inlet_k = t_k,
        Water::None => {}
    }
    r.target.temperature_k = t_k + 30.0;
    r.stop.at_target = false;
    r
}

/// The barrel rig, its coil taken out of the passage and wound on the flue: as much tube, touching the steel.
pub fn wound_outside(gap_m: f64, filler_w_mk: Option<f64>) -> Rig {
    let mut r = barrel();
    let flue = r.gas_path.len() - 1;
    let c = &mut r.coils[0];
    let diameter = r.gas_path[flue].bore.perimeter_m() / std::f64::consts::PI + c.tube_outside_m;
    let pitch_m = 0.035;
    c.section = flue;
    c.form = CoilForm::Around {
        coil_diameter_m: diameter,
        pitch_m,
        start_m: 0.2,
        span_m: c.length_m / (std::f64::consts::PI * diameter) * pitch_m,
        gap_m,
        filler_w_mk,
    };
    c.core_plug_share = 0.0;
    r
}

/// A door stove whose coil stands among the flames, against the back wall.
pub fn coil_in_firebox(exposed_share: f64) -> Rig {
    let mut r = door_stove();
    let top = r.firebox.height_m;
    let run_m = r.firebox.width_m;
    let c = &mut r.coils[0];
    c.section = 0;
    c.form = CoilForm::Chamber {
        coil_diameter_m: 0.0,
        run_m,
        exposed_share,
    };
    c.length_m = 2.4;
    c.core_plug_share = 0.0;
    c.bottom_z_m = 0.1;
    c.top_z_m = top - 0.02;
    c.water_entry = WaterEntry::GasInlet;
    r
}

/// A door stove of bare steel with water around its firebox and around fire tubes behind it, pumped or by itself into the
/// barrel's store.
pub fn jacketed(pumped: bool) -> Rig {
    let mut r = door_stove();
    r.title = "Boiler with a water jacket (invented)".into();
    r.firebox.wall = vec![steel(5.0)];
    let flue = r.gas_path.last().expect("a flue").clone();
    let tubes = Section {
        bore: Bore::Round { diameter_m: 0.057 },
        passages: 12,
        ..section(
            "fire tubes",
            SectionKind::Passage,
            0.057,
            0.8,
            vec![steel(4.0)],
        )
    };
    r.gas_path = vec![tubes, flue];
    let given = |name: &str, gap_m: f64| JacketGiven {
        name: name.into(),
        gap_m,
        shell_w_m2k: 1.5,
        water_entry: None,
        cells: None,
    };
    let outlet_m2 = r.gas_path[0].area_m2();
    let of_firebox = given("firebox jacket", 0.05).around_firebox(&r.firebox, outlet_m2);
    let of_tubes =
        given("tube jacket", 0.025).around_section(&r.gas_path[0], 0, r.firebox.height_m);
    r.coils = [of_firebox, of_tubes].map(|c| c.expect("walls")).into();
    let v = vessel(&mut r);
    v.water_m3 = 0.5;
    v.floor_z_m = 1.3;
    if !pumped {
        let c = circuit(&mut r);
        c.pump = None;
        for p in [&mut c.supply, &mut c.ret] {
            p.inside_m = 0.035;
            p.loss_k = 3.0;
        }
        r.controls.pump = steady(None);
    }
    r
}

/// A dry wall of brick, so much of it, across from the first section's where that stands in water and has no coil.
pub fn faced(r: &mut Rig, dry_share: f64) {
    let in_first = |c: &Coil| c.section == 0 && !c.in_firebox() && !c.in_drum();
    if r.gas_path[0].in_water && dry_share > 0.0 && !r.coils.iter().any(in_first) {
        r.gas_path[0].dry_share = dry_share;
        r.gas_path[0].dry_wall = vec![brick(60.0)];
    }
}

/// A door whose fire could as well be drawn down: no coil stands among the flames.
pub fn may_be_drawn_down(r: &Rig) -> bool {
    let wound = |c: &Coil| matches!(c.form, CoilForm::Around { .. } | CoilForm::Jacket { .. });
    let clear = |c: &Coil| wound(c) || c.in_drum() || c.section > 0;
    r.firebox.kind == FireboxKind::Door && r.coils.iter().all(clear)
}
