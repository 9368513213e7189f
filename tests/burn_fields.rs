//! Every number in a rig matters: moved by a few per cent, it changes what a run reports.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use rayon::prelude::*;
use support::{rigs::barrel, variants};

type Move = (&'static str, fn(&mut Rig));

/// The summary without title and counters of the solver: what a person reads.
fn reads(rig: &Rig) -> String {
    let r = burn(rig, &Default::default(), &mut |_| true).expect("runs");
    let mut v = serde_json::to_value(&r.summary).expect("serializes");
    if let Some(o) = v.as_object_mut() {
        o.remove("title");
        o.remove("solver");
        o.remove("energy_residual_fraction");
    }
    v.to_string()
}

fn dead(rig: &Rig, moves: &[Move]) -> Vec<String> {
    let base = reads(rig);
    moves
        .par_iter()
        .filter_map(|(name, change)| {
            let mut r = rig.clone();
            change(&mut r);
            (reads(&r) == base).then(|| format!("{}: {name}", rig.title))
        })
        .collect()
}

/// `field` on the rig times a factor.
macro_rules! scaled {
    ($($field:ident).+ , $f:expr) => {
        (stringify!($($field).+), (|r: &mut Rig| r.$($field).+ *= $f) as fn(&mut Rig))
    };
}

fn short(mut r: Rig, s: f64) -> Rig {
    r.stop.at_target = false;
    r.stop.latest_s = s;
    r
}

fn pump(r: &mut Rig) -> &mut Pump {
    variants::circuit(r).pump.as_mut().expect("pump")
}

fn surface(r: &mut Rig) -> &mut OpenSurface {
    variants::vessel(r).surface.as_mut().expect("surface")
}

fn draw(r: &mut Rig) -> &mut Draw {
    match &mut r.water {
        Water::Store { draws, .. } => &mut draws[0],
        _ => panic!("no draws"),
    }
}

fn bench_of(r: &mut Rig) -> &mut Bench {
    match &mut r.water {
        Water::Store { bench: Some(b), .. } => b,
        Water::BenchOnly { bench, .. } => bench,
        _ => panic!("no bench"),
    }
}

fn helix(r: &mut Rig) -> (&mut f64, &mut f64) {
    match &mut r.coils[0].form {
        CoilForm::Helix {
            coil_diameter_m,
            pitch_m,
        } => (coil_diameter_m, pitch_m),
        _ => panic!("no helix"),
    }
}

#[test]
fn practice_every_number_of_stove_and_fuel_moves_a_result() {
    let rig = short(barrel(), 1200.0);
    let moves: Vec<Move> = vec![
        ("site.altitude_m", |r| r.site.altitude_m += 100.0),
        ("site.air_temperature_k", |r| {
            r.site.air_temperature_k.points[0].1 += 3.0
        }),
        scaled!(site.wind_m_s, 1.1),
        scaled!(site.relative_humidity, 1.1),
        scaled!(thermometer.sheath_m, 1.2),
        scaled!(thermometer.emissivity, 0.8),
        scaled!(thermometer.from_coil_m, 1.2),
        scaled!(fuel.carbon_daf, 1.03),
        scaled!(fuel.hydrogen_daf, 1.05),
        scaled!(fuel.oxygen_daf, 1.05),
        scaled!(fuel.ash_dry, 1.5),
        scaled!(fuel.density_kg_m3, 1.05),
        scaled!(fuel.gross_heating_value_dry_j_kg, 1.05),
        scaled!(fuel.moisture_wet, 1.1),
        scaled!(fuel.char_yield_dry, 1.1),
        scaled!(fuel.stick.thickness_m, 1.1),
        scaled!(fuel.stick.length_m, 1.1),
        ("fuel.stick.shape", |r| {
            r.fuel.stick.shape = StickShape::Square
        }),
        scaled!(lighting.kindling_kg, 1.1),
        scaled!(lighting.kindling_thickness_m, 1.1),
        scaled!(lighting.kindling_moisture_wet, 1.1),
        scaled!(lighting.starter_j, 1.1),
        scaled!(lighting.starter_s, 1.1),
        ("feeding.every.from_s", |r| {
            r.feeding.every[0].from_s += 30.0
        }),
        ("feeding.every.interval_s", |r| {
            r.feeding.every[0].interval_s *= 1.1
        }),
        ("feeding.every.mass_kg", |r| {
            r.feeding.every[0].mass_kg *= 1.1
        }),
        ("feeding.every.until", |r| {
            r.feeding.every[0].until = Until::Time(900.0)
        }),
        scaled!(firebox.width_m, 1.05),
        scaled!(firebox.depth_m, 1.05),
        scaled!(firebox.height_m, 1.05),
        scaled!(firebox.mouth_area_m2, 1.05),
        scaled!(firebox.mouth_cover, 1.05),
        ("firebox.air_inlet_area_m2", |r| {
            r.firebox.air_inlet_area_m2 = 0.001
        }),
        scaled!(firebox.inlet_loss_k, 1.1),
        scaled!(firebox.burning_length_m, 1.1),
        scaled!(firebox.hearth_mass_kg, 1.1),
        ("stop.latest_s", |r| r.stop.latest_s += 10.0),
    ];
    let found = dead(&rig, &moves);
    assert!(found.is_empty(), "move nothing: {found:#?}");
}

#[test]
fn practice_every_number_of_walls_and_gas_path_moves_a_result() {
    let mut rig = short(variants::fan(), 1200.0);
    rig.gas_path[2].bore = Bore::Rect {
        width_m: 0.13,
        depth_m: 0.14,
    };
    rig.controls.damper.steps.initial = 0.7;
    // A material limit under what it sees, so that the limit shows in a warning.
    rig.firebox.wall[0].limit_k = Some(320.0);
    // Kept over the surroundings: emissivity outside counts on the steel of the flue, inside on the first layer.
    let moves: Vec<Move> = vec![
        ("firebox.wall.thickness_m", |r| {
            r.firebox.wall[0].thickness_m *= 1.05
        }),
        ("firebox.wall.density_kg_m3", |r| {
            r.firebox.wall[0].density_kg_m3 *= 1.05
        }),
        ("firebox.wall.heat_capacity_j_kgk", |r| {
            r.firebox.wall[0].heat_capacity_j_kgk *= 1.05
        }),
        ("firebox.wall.heat_capacity_slope_j_kgk2", |r| {
            r.firebox.wall[0].heat_capacity_slope_j_kgk2 = 0.3
        }),
        ("firebox.wall.conductivity_w_mk", |r| {
            r.firebox.wall[0].conductivity_w_mk *= 1.05
        }),
        ("firebox.wall.conductivity_slope_w_mk2", |r| {
            r.firebox.wall[0].conductivity_slope_w_mk2 = 1e-3
        }),
        ("firebox.wall.emissivity", |r| {
            r.firebox.wall[0].emissivity *= 0.9
        }),
        ("firebox.wall.limit_k", |r| {
            r.firebox.wall[0].limit_k = Some(360.0)
        }),
        ("flue.wall.thickness_m", |r| {
            r.gas_path[4].wall[0].thickness_m *= 1.1
        }),
        ("flue.wall.emissivity", |r| {
            r.gas_path[4].wall[0].emissivity *= 0.9
        }),
        ("passage.wall.thin", |r| {
            r.gas_path[1].wall[0].thin = false;
        }),
        ("riser.bore.diameter_m", |r| {
            r.gas_path[0].bore = Bore::Round { diameter_m: 0.155 }
        }),
        ("damper.bore.width_m", |r| {
            r.gas_path[2].bore = Bore::Rect {
                width_m: 0.135,
                depth_m: 0.14,
            }
        }),
        ("damper.bore.depth_m", |r| {
            r.gas_path[2].bore = Bore::Rect {
                width_m: 0.13,
                depth_m: 0.145,
            }
        }),
        ("riser.length_m", |r| r.gas_path[0].length_m *= 1.05),
        ("riser.rise_m", |r| r.gas_path[0].rise_m *= 0.95),
        ("flue.loss_k", |r| r.gas_path[4].loss_k *= 1.1),
        ("flue.roughness_m", |r| r.gas_path[4].roughness_m *= 1.5),
        ("flue.in_wind", |r| r.gas_path[4].in_wind = false),
        ("flue.cells", |r| r.gas_path[4].cells = Some(6)),
        ("fan.curve pressure", |r| {
            r.gas_path[3].kind = SectionKind::Fan {
                curve: vec![(0.0, 18.0), (0.04, 13.0), (0.08, 0.0)],
            }
        }),
        ("controls.damper.initial", |r| {
            r.controls.damper.steps.initial = 0.75
        }),
        ("controls.damper.move", |r| {
            r.controls.damper.steps.moves = vec![(900.0, 0.5)]
        }),
        ("controls.air_inlet.initial", |r| {
            r.controls.air_inlet.steps.initial = 0.9
        }),
        ("controls.air_inlet.move", |r| {
            r.controls.air_inlet.steps.moves = vec![(900.0, 0.8)]
        }),
    ];
    let found = dead(&rig, &moves);
    assert!(found.is_empty(), "move nothing: {found:#?}");
}

#[test]
fn practice_every_number_of_coil_loop_and_barrel_moves_a_result() {
    let mut rig = short(barrel(), 1200.0);
    rig.controls.pump.steps.moves = vec![(900.0, None), (960.0, Some(1))];
    // A limit under what the metal sees shows in the summary by itself.
    let moves: Vec<Move> = vec![
        ("coil.form.coil_diameter_m", |r| *helix(r).0 *= 0.97),
        ("coil.form.pitch_m", |r| *helix(r).1 *= 1.05),
        ("coil.metal.density_kg_m3", |r| {
            r.coils[0].metal.density_kg_m3 *= 1.05
        }),
        ("coil.metal.heat_capacity_j_kgk", |r| {
            r.coils[0].metal.heat_capacity_j_kgk *= 1.05
        }),
        ("coil.metal.conductivity_w_mk", |r| {
            r.coils[0].metal.conductivity_w_mk *= 0.1
        }),
        ("coil.metal.emissivity", |r| {
            r.coils[0].metal.emissivity *= 0.95
        }),
        ("coil.metal.limit_k", |r| r.coils[0].metal.limit_k *= 1.05),
        ("coil.tube_outside_m", |r| r.coils[0].tube_outside_m *= 1.05),
        ("coil.tube_inside_m", |r| r.coils[0].tube_inside_m *= 0.97),
        ("coil.length_m", |r| r.coils[0].length_m *= 1.05),
        ("coil.parallel", |r| r.coils[0].parallel = 2),
        ("coil.water_entry", |r| {
            r.coils[0].water_entry = WaterEntry::GasInlet
        }),
        ("coil.core_plug_share", |r| {
            r.coils[0].core_plug_share *= 0.9
        }),
        ("coil.cells", |r| r.coils[0].cells = Some(10)),
        ("coil.bottom_z_m", |r| r.coils[0].bottom_z_m -= 0.05),
        ("coil.top_z_m", |r| r.coils[0].top_z_m += 0.05),
        ("coil.fouling_m2k_w", |r| r.coils[0].fouling_m2k_w = 1e-3),
        ("supply.length_m", |r| {
            variants::circuit(r).supply.length_m *= 1.1
        }),
        ("supply.inside_m", |r| {
            variants::circuit(r).supply.inside_m *= 1.05
        }),
        ("supply.wall_heat_capacity_j_mk", |r| {
            variants::circuit(r).supply.wall_heat_capacity_j_mk *= 1.2
        }),
        ("supply.loss_w_mk", |r| {
            variants::circuit(r).supply.loss_w_mk *= 1.1
        }),
        ("supply.loss_k", |r| {
            variants::circuit(r).supply.loss_k *= 1.1
        }),
        ("supply.roughness_m", |r| {
            variants::circuit(r).supply.roughness_m *= 3.0
        }),
        ("ret.length_m", |r| variants::circuit(r).ret.length_m *= 1.1),
        ("ret.inside_m", |r| {
            variants::circuit(r).ret.inside_m *= 1.05
        }),
        ("pump.curve head", |r| {
            pump(r).settings[1].curve[0].1 *= 1.05
        }),
        ("pump.curve flow", |r| {
            pump(r).settings[1].curve[2].0 *= 1.05
        }),
        ("pump.power_w", |r| pump(r).settings[1].power_w *= 1.1),
        ("pump.stopped_loss_k", |r| pump(r).stopped_loss_k *= 1.2),
        ("pump.power_to_water", |r| pump(r).power_to_water *= 1.1),
        ("controls.pump.initial", |r| {
            r.controls.pump.steps.initial = Some(0)
        }),
        ("controls.pump.move", |r| {
            r.controls.pump.steps.moves[0].0 = 910.0
        }),
        ("vessel.water_m3", |r| variants::vessel(r).water_m3 *= 1.05),
        ("vessel.water_depth_m", |r| {
            variants::vessel(r).water_depth_m *= 1.05
        }),
        ("vessel.floor_z_m", |r| variants::vessel(r).floor_z_m += 0.1),
        ("vessel.layers", |r| variants::vessel(r).layers = 8),
        ("vessel.start_temperature_k", |r| {
            variants::vessel(r).start_temperature_k += 2.0
        }),
        ("vessel.loss_w_k", |r| variants::vessel(r).loss_w_k *= 1.1),
        ("vessel.shell_heat_capacity_j_k", |r| {
            variants::vessel(r).shell_heat_capacity_j_k *= 1.1
        }),
        ("vessel.hot_port_m", |r| {
            variants::vessel(r).hot_port_m -= 0.2
        }),
        ("vessel.cold_port_m", |r| {
            variants::vessel(r).cold_port_m += 0.2
        }),
        ("target.temperature_k", |r| r.target.temperature_k = 279.15),
        ("target.probe", |r| {
            r.target.temperature_k = 279.15;
            r.target.probe = Probe::Top;
        }),
    ];
    let found = dead(&rig, &moves);
    assert!(found.is_empty(), "move nothing: {found:#?}");
    // What ends a run shows only where the target is reached.
    let mut rig = barrel();
    rig.target.temperature_k = 284.15;
    rig.stop.after_target_s = 60.0;
    let moves: Vec<Move> = vec![
        ("stop.after_target_s", |r| r.stop.after_target_s = 120.0),
        ("stop.at_target", |r| {
            r.stop.at_target = false;
            r.stop.latest_s = 3000.0;
        }),
        ("feeding.every.until target", |r| {
            r.stop.after_target_s = 900.0;
            r.feeding.every[0].until = Until::Target;
        }),
    ];
    let found = dead(&rig, &moves);
    assert!(found.is_empty(), "move nothing: {found:#?}");
}

#[test]
fn practice_every_number_of_tub_tank_bench_and_draws_moves_a_result() {
    let mut tub = short(variants::tub(), 1500.0);
    tub.controls.cover.steps.moves = vec![(700.0, false)];
    let moves: Vec<Move> = vec![
        ("surface.area_m2", |r| surface(r).area_m2 *= 1.05),
        ("surface.cover_leak", |r| surface(r).cover_leak *= 1.5),
        ("surface.cover_w_m2k", |r| surface(r).cover_w_m2k *= 1.1),
        ("surface.cloud_cover", |r| surface(r).cloud_cover *= 1.2),
        ("surface.wind_share", |r| surface(r).wind_share *= 1.1),
        ("controls.cover.initial", |r| {
            r.controls.cover.steps.initial = false
        }),
        ("controls.cover.move", |r| {
            r.controls.cover.steps.moves[0].0 = 800.0
        }),
        ("vessel.floor_z_m", |r| variants::vessel(r).floor_z_m += 0.1),
        ("vessel.hot_port_m", |r| {
            variants::vessel(r).hot_port_m -= 0.05
        }),
        ("supply.loss_k", |r| {
            variants::circuit(r).supply.loss_k *= 1.1
        }),
    ];
    let mut found = dead(&tub, &moves);
    let mut tank = short(variants::tank_and_bench(), 3700.0);
    // Set so that every rule, draw and thermostat comes to act within the run.
    bench_of(&mut tank).on_below_k = 283.15;
    bench_of(&mut tank).off_above_k = 284.65;
    draw(&mut tank).starts = DrawStart::At(600.0);
    draw(&mut tank).every_s = Some(900.0);
    draw(&mut tank).for_s = 1200.0;
    tank.controls.damper.rule = Some(ControlRule {
        signal: Signal::Chamber,
        low: 400.0,
        high: 450.0,
        when_low: 1.0,
        when_high: 0.6,
        from_s: 120.0,
    });
    let moves: Vec<Move> = vec![
        ("bench.flow_kg_s", |r| bench_of(r).flow_kg_s *= 1.1),
        ("bench.supply_k", |r| bench_of(r).supply_k = 296.15),
        ("bench.pipe_w_k", |r| bench_of(r).pipe_w_k *= 1.1),
        ("bench.mass_heat_capacity_j_k", |r| {
            bench_of(r).mass_heat_capacity_j_k *= 1.1
        }),
        ("bench.start_temperature_k", |r| {
            bench_of(r).start_temperature_k += 2.0
        }),
        ("bench.loss_w_k", |r| bench_of(r).loss_w_k *= 1.1),
        ("bench.pump_power_w", |r| bench_of(r).pump_power_w *= 1.1),
        ("bench.on_below_k", |r| bench_of(r).on_below_k = 280.0),
        ("bench.off_above_k", |r| bench_of(r).off_above_k = 284.15),
        ("draw.starts", |r| draw(r).starts = DrawStart::At(700.0)),
        ("draw.every_s", |r| draw(r).every_s = Some(500.0)),
        ("draw.for_s", |r| draw(r).for_s = 2500.0),
        ("draw.volume_m3", |r| draw(r).volume_m3 *= 1.1),
        ("draw.flow_m3_s", |r| draw(r).flow_m3_s *= 1.3),
        ("draw.cold_k", |r| draw(r).cold_k += 2.0),
        ("vessel.draw_port_m", |r| {
            variants::vessel(r).draw_port_m -= 0.3
        }),
        ("rule.when", |r| {
            r.feeding.rules[0].when = FeedWhen::BedBelow(0.5)
        }),
        ("rule.mass_kg", |r| r.feeding.rules[0].mass_kg *= 1.1),
        ("rule.not_within_s", |r| {
            r.feeding.rules[0].when = FeedWhen::BedBelow(1.5);
            r.feeding.rules[0].not_within_s = 500.0;
        }),
        ("rule.from_s", |r| r.feeding.rules[0].from_s = 500.0),
        ("rule.until", |r| {
            r.feeding.rules[0].until = Until::Time(1000.0)
        }),
        ("pump rule.low", |r| {
            r.controls.pump.rule.as_mut().expect("rule").low -= 3.0
        }),
        ("pump rule.high", |r| {
            r.controls.pump.rule.as_mut().expect("rule").high -= 3.0
        }),
        ("pump rule.when_high", |r| {
            r.controls.pump.rule.as_mut().expect("rule").when_high = Some(0)
        }),
        ("pump rule.from_s", |r| {
            r.controls.pump.rule.as_mut().expect("rule").from_s = 100.0
        }),
        ("damper rule.low", |r| {
            r.controls.damper.rule.as_mut().expect("rule").low = 420.0
        }),
        ("damper rule.when_high", |r| {
            r.controls.damper.rule.as_mut().expect("rule").when_high = 0.4
        }),
        ("damper rule.high", |r| {
            r.controls.damper.rule.as_mut().expect("rule").high = 430.0
        }),
    ];
    found.extend(dead(&tank, &moves));
    let bench_only = short(variants::bench_only(), 1500.0);
    let moves: Vec<Move> = vec![
        ("bench_z_m", |r| match &mut r.water {
            Water::BenchOnly { bench_z_m, .. } => *bench_z_m += 0.5,
            _ => panic!("no bench"),
        }),
        ("direct bench.water_m3", |r| bench_of(r).water_m3 *= 1.2),
        ("direct bench.pipe_w_k", |r| bench_of(r).pipe_w_k *= 1.1),
    ];
    found.extend(dead(&bench_only, &moves));
    assert!(found.is_empty(), "move nothing: {found:#?}");
}

#[test]
fn practice_every_number_of_door_stove_and_once_through_moves_a_result() {
    let door = short(variants::door_stove(), 1800.0);
    let moves: Vec<Move> = vec![
        ("feeding.list.at_s", |r| r.feeding.list[0].at_s += 30.0),
        ("feeding.list.mass_kg", |r| r.feeding.list[0].mass_kg *= 1.1),
        ("feeding.list.thickness_m", |r| {
            r.feeding.list[0].thickness_m = Some(0.055)
        }),
        ("feeding.door_open_s", |r| r.feeding.door_open_s = 60.0),
        ("firebox.mouth_area_m2", |r| r.firebox.mouth_area_m2 *= 1.1),
        scaled!(firebox.air_inlet_area_m2, 1.1),
        ("firebox.air_over_share", |r| r.firebox.air_over_share = 0.1),
        scaled!(firebox.burning_length_m, 0.8),
    ];
    let mut found = dead(&door, &moves);
    let once = short(variants::once_through(), 2700.0);
    let moves: Vec<Move> = vec![
        ("inlet_k", |r| match &mut r.water {
            Water::OnceThrough { inlet_k, .. } => *inlet_k += 2.0,
            _ => panic!("no mains"),
        }),
        ("supply_pressure_pa", |r| match &mut r.water {
            Water::OnceThrough {
                supply_pressure_pa, ..
            } => *supply_pressure_pa *= 1.1,
            _ => panic!("no mains"),
        }),
        ("valve_loss_k", |r| match &mut r.water {
            Water::OnceThrough { valve_loss_k, .. } => *valve_loss_k *= 1.1,
            _ => panic!("no mains"),
        }),
        ("controls.valve.initial", |r| {
            r.controls.valve.steps.initial = 0.9
        }),
        ("controls.valve.move", |r| {
            r.controls.valve.steps.moves[0].1 = 0.5
        }),
    ];
    found.extend(dead(&once, &moves));
    assert!(found.is_empty(), "move nothing: {found:#?}");
}

#[test]
fn practice_every_multiplier_moves_a_result() {
    let rig = short(barrel(), 1200.0);
    let moves: Vec<Move> = vec![
        scaled!(closures.inlet_area, 1.05),
        scaled!(closures.bed_rate, 1.05),
        scaled!(closures.char_rate, 1.1),
        scaled!(closures.mixing_time, 1.1),
        scaled!(closures.unmixedness, 1.1),
        scaled!(closures.emissivity, 1.1),
        scaled!(closures.flame_soot_per_m, 1.2),
        scaled!(closures.duct_convection, 1.1),
        scaled!(closures.bank_exposure, 1.1),
        scaled!(closures.water_convection, 1.1),
        scaled!(closures.water_friction, 1.1),
        scaled!(closures.gas_friction, 1.1),
        scaled!(closures.casing_loss, 1.1),
        scaled!(closures.coil_radiation, 1.1),
        scaled!(closures.fouling_rate, 1.5),
        scaled!(closures.vessel_loss, 1.1),
        scaled!(closures.tank_mixing, 1.5),
        scaled!(closures.leakage_share, 1.5),
        scaled!(closures.ember_size, 1.1),
        scaled!(closures.ember_emission, 1.1),
        scaled!(closures.hearth_contact, 1.1),
    ];
    let mut found = dead(&rig, &moves);
    let mut tub = short(variants::tub(), 1500.0);
    tub.controls.cover.steps.initial = false;
    found.extend(dead(&tub, &[scaled!(closures.evaporation, 1.1)]));
    let outside = short(variants::wound_outside(1e-4, Some(0.5)), 1500.0);
    fn wound(r: &mut Rig) -> (&mut f64, &mut f64, &mut f64, &mut Option<f64>) {
        match &mut r.coils[0].form {
            CoilForm::Around {
                start_m,
                span_m,
                gap_m,
                filler_w_mk,
                ..
            } => (start_m, span_m, gap_m, filler_w_mk),
            _ => panic!("wound outside"),
        }
    }
    let moves: Vec<Move> = vec![
        scaled!(closures.contact, 1.2),
        ("around.start_m", |r| *wound(r).0 += 0.6),
        ("around.span_m", |r| *wound(r).1 *= 1.6),
        ("around.gap_m", |r| *wound(r).2 *= 1.5),
        ("around.filler_w_mk", |r| *wound(r).3 = Some(0.7)),
        ("around.tube_outside_m", |r| {
            r.coils[0].tube_outside_m *= 1.05
        }),
    ];
    found.extend(dead(&outside, &moves));
    let inside = short(variants::coil_in_firebox(0.6), 1500.0);
    fn exposed(r: &mut Rig) -> (&mut f64, &mut f64) {
        match &mut r.coils[0].form {
            CoilForm::Chamber {
                run_m,
                exposed_share,
                ..
            } => (run_m, exposed_share),
            _ => panic!("in the firebox"),
        }
    }
    let moves: Vec<Move> = vec![
        ("chamber.run_m", |r| *exposed(r).0 *= 0.7),
        ("chamber.exposed_share", |r| *exposed(r).1 *= 1.1),
        ("chamber.fouling", |r| r.coils[0].fouling_m2k_w += 0.003),
    ];
    found.extend(dead(&inside, &moves));
    let jacket = short(variants::jacketed(true), 1500.0);
    fn sizes(r: &mut Rig) -> [&mut f64; 5] {
        match &mut r.coils[1].form {
            CoilForm::Jacket {
                wall_m2,
                water_m2,
                sheet_m,
                shell_m2,
                shell_w_m2k,
                ..
            } => [wall_m2, water_m2, sheet_m, shell_m2, shell_w_m2k],
            _ => panic!("a jacket"),
        }
    }
    let moves: Vec<Move> = vec![
        ("jacket.wall_m2", |r| *sizes(r)[0] *= 1.1),
        ("jacket.water_m2", |r| *sizes(r)[1] *= 1.1),
        ("jacket.sheet_m", |r| *sizes(r)[2] *= 1.1),
        ("jacket.shell_m2", |r| *sizes(r)[3] *= 1.1),
        ("jacket.shell_w_m2k", |r| *sizes(r)[4] *= 1.1),
        ("passages", |r| r.gas_path[0].passages += 1),
        ("door.thickness_m", |r| r.firebox.door[0].thickness_m *= 1.1),
        ("door.density_kg_m3", |r| {
            r.firebox.door[0].density_kg_m3 *= 1.1
        }),
        ("door.conductivity_w_mk", |r| {
            r.firebox.door[0].conductivity_w_mk *= 0.5
        }),
        ("door.emissivity", |r| r.firebox.door[0].emissivity *= 0.9),
    ];
    found.extend(dead(&jacket, &moves));
    let submerged = short(variants::submerged(), 1500.0);
    let moves: Vec<Move> = vec![
        ("firebox.in_water", |r| r.firebox.in_water *= 0.9),
        ("section.in_water", |r| r.gas_path[0].in_water = false),
        ("store.floor_z_m", |r| variants::vessel(r).floor_z_m -= 0.3),
        ("water_convection", |r| r.closures.water_convection = 1.2),
    ];
    found.extend(dead(&submerged, &moves));
    assert!(found.is_empty(), "move nothing: {found:#?}");
}

fn bypass(r: &mut Rig) -> &mut Bypass {
    variants::circuit(r).bypass.as_mut().expect("bypass")
}

#[test]
fn practice_every_number_of_a_bypass_moves_a_result() {
    let rig = short(variants::bypass(), 2500.0);
    let moves: Vec<Move> = vec![
        ("bypass.riser.length_m", |r| bypass(r).riser.length_m *= 1.1),
        ("bypass.riser.inside_m", |r| {
            bypass(r).riser.inside_m *= 1.05
        }),
        ("bypass.riser.wall_heat_capacity_j_mk", |r| {
            bypass(r).riser.wall_heat_capacity_j_mk *= 1.2
        }),
        ("bypass.riser.loss_w_mk", |r| {
            bypass(r).riser.loss_w_mk *= 1.1
        }),
        ("bypass.riser.loss_k", |r| bypass(r).riser.loss_k *= 1.1),
        ("bypass.riser.roughness_m", |r| {
            bypass(r).riser.roughness_m *= 30.0
        }),
        ("bypass.ret.length_m", |r| bypass(r).ret.length_m *= 1.1),
        ("bypass.ret.inside_m", |r| bypass(r).ret.inside_m *= 1.05),
        ("bypass.check_valve", |r| bypass(r).check_valve = false),
        ("header.water_m3", |r| bypass(r).header.water_m3 *= 1.05),
        ("header.water_depth_m", |r| {
            bypass(r).header.water_depth_m *= 1.05
        }),
        ("header.floor_z_m", |r| bypass(r).header.floor_z_m += 0.1),
        ("header.layers", |r| bypass(r).header.layers = 4),
        ("header.start_temperature_k", |r| {
            bypass(r).header.start_temperature_k += 2.0
        }),
        ("header.loss_w_k", |r| bypass(r).header.loss_w_k *= 1.1),
        ("header.shell_heat_capacity_j_k", |r| {
            bypass(r).header.shell_heat_capacity_j_k *= 1.1
        }),
        ("header.hot_port_m", |r| bypass(r).header.hot_port_m -= 0.15),
        ("header.cold_port_m", |r| {
            bypass(r).header.cold_port_m += 0.1
        }),
    ];
    let found = dead(&rig, &moves);
    assert!(found.is_empty(), "move nothing: {found:#?}");
}

fn closed(r: &mut Rig) -> &mut Closed {
    variants::vessel(r).closed.as_mut().expect("closed")
}

#[test]
fn practice_every_number_of_a_closed_loop_moves_a_result() {
    let rig = short(variants::closed(), 2400.0);
    let moves: Vec<Move> = vec![
        ("closed.fill_pa", |r| closed(r).fill_pa *= 1.05),
        ("closed.vessel_m3", |r| closed(r).vessel_m3 *= 1.05),
        ("closed.precharge_pa", |r| closed(r).precharge_pa *= 1.05),
        // A threshold: it acts where the pressure comes to it.
        ("closed.relief_pa", |r| closed(r).relief_pa = 1.003e5),
    ];
    let mut found = dead(&rig, &moves);
    let mut lifting = rig.clone();
    let c = closed(&mut lifting);
    c.vessel_m3 = 1e-3;
    (c.relief_pa, c.reseat_pa, c.burst_pa) = (1.3e5, 1.15e5, 1.45e5);
    lifting.stop.latest_s = 3600.0;
    let moves: Vec<Move> = vec![
        ("closed.reseat_pa", |r| closed(r).reseat_pa *= 1.05),
        ("closed.relief_bore_m", |r| closed(r).relief_bore_m *= 0.9),
        ("closed.relief_discharge", |r| {
            closed(r).relief_discharge *= 0.9
        }),
    ];
    found.extend(dead(&lifting, &moves));
    // A threshold too: moved where a valve that is too small lets it be reached.
    closed(&mut lifting).relief_bore_m = 1e-4;
    found.extend(dead(
        &lifting,
        &[("closed.burst_pa", |r| closed(r).burst_pa *= 0.95)],
    ));
    assert!(found.is_empty(), "move nothing: {found:#?}");
}
