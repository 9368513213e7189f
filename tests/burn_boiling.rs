//! A loop that loses its flow at full fire: it boils, the run ends, and nothing is lost on the way.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::results::{BurnResult, EventKind};
use support::variants;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).expect("runs")
}

/// Attempted steps that a burn of an hour with boiling may cost: a stall takes hundreds of thousands.
const MOST_ATTEMPTS: u64 = 20_000;

#[test]
fn practice_a_pump_that_stops_at_full_fire_boils_the_coil_and_the_run_ends() {
    let rig = variants::pump_stops();
    let r = run(&rig);
    let s = &r.summary;
    let first = s.boiling_first_s.expect("boils");
    println!(
        "boils {:.0} s after the stop, {:.3} kg of steam, {:?}",
        first - 2100.0,
        s.steam_total_kg,
        s.solver
    );
    assert!(first > 2100.0 && first < 2100.0 + 600.0, "{first}");
    assert!(s.wall_boiling_first_s.expect("wall") <= first + 1.0);
    assert!(s.steam_total_kg > 0.01);
    assert!(s.boiling_total_s > 10.0);
    assert!(s.energy_residual_fraction < 1e-5);
    for m in &r.ledger.masses {
        assert!(
            m.residual_fraction < 1e-5,
            "{}: {:e}",
            m.name,
            m.residual_fraction
        );
    }
    assert!(s.warnings.iter().any(|w| w.code == "W0201"));
    assert!(
        s.solver.steps + s.solver.rejected < MOST_ATTEMPTS,
        "stalls: {:?}",
        s.solver
    );
    assert_eq!(s.end_s, 3600.0);
    assert!(r.events.iter().any(|e| e.kind == EventKind::BoilingStarts));
    // No water is hotter than the hottest metal that could have heated it.
    let out = r.series.get("coil_outlet_temperature_K").expect("outlet");
    let wall = r.series.get("coil_wall_max_temperature_K").expect("wall");
    let inlet = r.series.get("coil_inlet_temperature_K").expect("inlet");
    for i in 0..out.len() {
        assert!(
            out[i] < wall[i].max(inlet[i]) + 1.0,
            "water at {} K past metal at {} K",
            out[i],
            wall[i]
        );
    }
    let margin = r.series.get("boiling_margin_K").expect("margin");
    let point = r.series.get("boiling_point_K").expect("point");
    for i in 0..margin.len() {
        let hottest = point[i] - margin[i];
        assert!(
            hottest < wall[i].max(inlet[i]) + 1.0,
            "water at {hottest} K past metal at {} K",
            wall[i]
        );
    }
}

/// The run of a pump that goes on does not boil, and one that comes back in time does not either.
#[test]
fn practice_a_running_pump_keeps_the_coil_from_boiling() {
    let mut on = variants::pump_stops();
    on.controls.pump.steps.moves.clear();
    let on = run(&on);
    assert_eq!(on.summary.boiling_first_s, None);
    assert_eq!(on.summary.steam_total_kg, 0.0);
    let mut pause = variants::pump_stops();
    pause.controls.pump.steps.moves = vec![(2100.0, None), (2120.0, Some(1))];
    assert_eq!(run(&pause).summary.boiling_first_s, None);
}

/// Steam that leaves the coil is missing there as long as nothing refills it: valve shut, boiling, inventory down by
/// exactly the steam less what came in.
#[test]
fn identity_the_water_of_loop_and_store_is_all_accounted_for() {
    let mut rig = variants::pump_stops();
    rig.stop.latest_s = 2700.0;
    variants::vessel(&mut rig).start_temperature_k = 340.0;
    let r = run(&rig);
    assert!(r.summary.steam_total_kg > 0.0);
    let m = r
        .ledger
        .masses
        .iter()
        .find(|m| m.name == "loop_and_store_water")
        .expect("water");
    assert!(m.residual_fraction < 1e-9, "{m:?}");
    // Nothing leaves a covered vessel below boiling: what left the coil as steam stands in the store.
    assert!(m.out_kg.abs() < 1e-9, "{m:?}");
}

#[test]
fn identity_boiling_starts_at_the_same_time_with_finer_cells_and_tolerances() {
    let mut rig = variants::pump_stops();
    rig.stop.latest_s = 2400.0;
    let base = run(&rig).summary.boiling_first_s.expect("boils");
    rig.solver.cell_factor = 2;
    rig.solver.rtol *= 0.1;
    rig.solver.atol *= 0.1;
    let fine = run(&rig).summary.boiling_first_s.expect("boils");
    let (a, b) = (base - 2100.0, fine - 2100.0);
    println!("{a:.1} s, fine {b:.1} s");
    assert!(
        (b / a - 1.0).abs() < 0.05,
        "{a} s against {b} s after the stop"
    );
}

/// Tank below the coil, no pump: no circulation, and the coil boils; raised, it does neither.
#[test]
fn practice_a_thermosyphon_with_its_tank_below_the_coil_stands_still_and_boils() {
    let mut low = variants::tub();
    (low.lighting.kindling_kg, low.lighting.kindling_thickness_m) = (0.4, 0.02);
    low.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 1500.0,
    };
    variants::vessel(&mut low).floor_z_m = 0.0;
    low.solver.output_interval_s = 5.0;
    let mut high = low.clone();
    variants::vessel(&mut high).floor_z_m = 1.8;
    let mut rig = low.clone();
    let (low, high) = (run(&low), run(&high));
    let boils = low.summary.boiling_first_s.expect("boils");
    assert_eq!(high.summary.boiling_first_s, None);
    // The coil's own height of 0.24 m pushes water until as much of the pipe behind it is warm, then the two columns hold each
    // other: a start, not a circulation. So until it boils no more moves than that pipe holds, however long that takes (a
    // bound on the mean flow would ask how soon it boils). The flow is the same with four times the cells.
    let moved_kg = |r: &BurnResult| {
        let t = r.series.get("time_s").expect("time");
        let w = r.series.get("loop_flow_kg_s").expect("flow");
        (1..t.len())
            .filter(|&i| t[i] < boils)
            .map(|i| w[i].abs() * (t[i] - t[i - 1]))
            .sum::<f64>()
    };
    let pipe = &variants::circuit(&mut rig).ret;
    let pipe_kg = 990.0 * std::f64::consts::FRAC_PI_4 * pipe.inside_m.powi(2) * pipe.length_m;
    let (stands, goes_round) = (moved_kg(&low), moved_kg(&high));
    println!(
        "{stands:.2} kg until {boils:.0} s, {goes_round:.2} kg raised; the pipe holds {pipe_kg:.2}"
    );
    assert!(stands < pipe_kg, "{stands} kg of {pipe_kg}");
    assert!(goes_round > 3.0 * pipe_kg, "{goes_round} kg of {pipe_kg}");
    let solver = low.summary.solver;
    assert!(
        solver.steps + solver.rejected < MOST_ATTEMPTS,
        "stalls: {solver:?}"
    );
    assert!(low.summary.energy_residual_fraction < 1e-5);
}

/// Over a small fire the start is long past before the coil boils: then nothing but the small difference of two warm columns
/// moves the water, under a twentieth of what goes round at the same time where the tank is raised.
#[test]
fn practice_a_small_fire_under_a_low_tank_boils_water_that_hardly_moves() {
    let mut low = variants::tub();
    low.lighting.kindling_kg = 0.2;
    for f in &mut low.feeding.every {
        f.mass_kg = 0.3;
    }
    low.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 5400.0,
    };
    low.solver.output_interval_s = 5.0;
    variants::vessel(&mut low).floor_z_m = 0.0;
    let mut high = low.clone();
    variants::vessel(&mut high).floor_z_m = 1.8;
    let (low, high) = (run(&low), run(&high));
    let boils = low.summary.boiling_first_s.expect("boils");
    assert!(boils > 1800.0 && high.summary.boiling_first_s.is_none());
    // Ten minutes are more than the start takes.
    let moved_kg = |r: &BurnResult| {
        let t = r.series.get("time_s").expect("time");
        let w = r.series.get("loop_flow_kg_s").expect("flow");
        (1..t.len())
            .filter(|&i| t[i] > 600.0 && t[i] < boils)
            .map(|i| w[i].abs() * (t[i] - t[i - 1]))
            .sum::<f64>()
    };
    let share = moved_kg(&low) / moved_kg(&high);
    println!(
        "boils after {boils:.0} s; {:.2} % of the raised flow",
        100.0 * share
    );
    assert!(share < 0.05, "{share}");
}

/// A coil that runs dry gets hotter than its water ever was.
#[test]
fn practice_a_coil_that_boils_dry_overheats_its_metal() {
    let mut rig = variants::pump_stops();
    rig.feeding.every[0].until = Until::End;
    rig.stop.latest_s = 5400.0;
    // A check valve and a tall column keep water from coming back.
    let c = variants::circuit(&mut rig);
    c.check_valve = true;
    let r = run(&rig);
    let wall = r.summary.coil_wall_max_K.expect("wall");
    println!("wall {wall:.0} K, steam {:.2} kg", r.summary.steam_total_kg);
    assert!(wall > 400.0, "{wall}");
    assert!(r.summary.energy_residual_fraction < 1e-5);
    let solver = r.summary.solver;
    assert!(
        solver.steps + solver.rejected < 2 * MOST_ATTEMPTS,
        "stalls: {solver:?}"
    );
}
