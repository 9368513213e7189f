//! Without a fire: nothing happens, or the warm vessel cools as its resistance and capacity say.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use support::variants::{self, at_rest};

#[test]
fn identity_a_rig_at_ambient_without_fire_stays_there() {
    const T_K: f64 = 288.15;
    for (name, rig) in [
        ("barrel", support::rigs::barrel()),
        ("door stove", variants::door_stove()),
        ("tank and bench", variants::tank_and_bench()),
        ("once through", variants::once_through()),
        ("no water", variants::no_water()),
        ("bench only", variants::bench_only()),
        ("two coils", variants::two_coils()),
        ("serpentine", variants::serpentine()),
        ("masonry", variants::masonry()),
    ] {
        let mut rig = at_rest(rig, T_K);
        rig.stop.latest_s = 7200.0;
        rig.solver.output_interval_s = 600.0;
        let r = burn(&rig, &Default::default(), &mut |_| true).expect(name);
        let mut seen = 0;
        for (column, values) in r.series.names.iter().zip(&r.series.columns) {
            if !column.ends_with("_temperature_K") {
                continue;
            }
            seen += 1;
            for v in values {
                assert!((v - T_K).abs() < 1e-6, "{name}: {column} is {v}");
            }
        }
        assert!(seen > 5, "{name}: only {seen} temperatures looked at");
        assert!(r.summary.heat_to_tank_J.abs() < 1.0, "{name}");
        assert_eq!(r.summary.fuel_fed_kg, 0.0);
        assert_eq!(r.summary.boiling_first_s, None, "{name}");
        assert_eq!(r.summary.trips, 0, "{name}");
    }
}

/// A vessel alone: the check valve shuts the loop, whose coil stands above it.
fn cooling(layers: usize, hours: f64) -> Rig {
    let mut r = at_rest(support::rigs::barrel(), 293.15);
    let c = variants::circuit(&mut r);
    c.check_valve = true;
    let v = variants::vessel(&mut r);
    v.water_m3 = 0.3;
    v.layers = layers;
    v.loss_w_k = 3.0;
    v.shell_heat_capacity_j_k = 0.0;
    v.start_temperature_k = 333.15;
    r.target.temperature_k = 372.0;
    r.stop.latest_s = hours * 3600.0;
    r.solver.output_interval_s = 3600.0;
    r
}

fn last(r: &emberloop::results::BurnResult, column: &str) -> f64 {
    *r.series.get(column).and_then(<[f64]>::last).expect("rows")
}

/// Lumped cooling, closed form: 300 L (of water at 60 °C, 983.2 kg/m3, 4,182 J/kgK), 3 W/K, 60 °C in air of 20 °C,
/// after 24 h: 20 + 40 exp(-3 · 86,400 / (0.3 · 983.2 · 4,182)) = 52.4194 °C.
#[test]
fn analytic_a_warm_vessel_cools_as_its_resistance_and_capacity_say() {
    let r = burn(&cooling(1, 24.0), &Default::default(), &mut |_| true).expect("runs");
    let t = last(&r, "tank_mean_temperature_K") - 273.15;
    assert!((t - 52.4194).abs() < 0.02, "{t}");
    // The whole curve, with the heat capacity of water at the mean temperature.
    let time = r.series.get("time_s").expect("time");
    let tank = r.series.get("tank_mean_temperature_K").expect("tank");
    for (t_s, t_k) in time.iter().zip(tank) {
        let exact = 293.15 + 40.0 * (-3.0 * t_s / (0.3 * 983.2 * 4182.0)).exp();
        assert!((t_k - exact).abs() < 0.02, "{t_s} s: {t_k} against {exact}");
    }
    assert!(r.summary.energy_residual_fraction < 1e-5);
}

/// With layers the cold rim water sinks: the mean follows the same curve within what the layers' spread costs.
#[test]
fn analytic_a_layered_vessel_cools_alike() {
    let r = burn(&cooling(8, 12.0), &Default::default(), &mut |_| true).expect("runs");
    let t = last(&r, "tank_mean_temperature_K");
    let exact = 293.15 + 40.0 * (-3.0 * 43_200.0f64 / (0.3 * 983.2 * 4182.0)).exp();
    assert!((t - exact).abs() < 0.1, "{t} against {exact}");
}

/// Walls at ambient inside a warm spell: an unlit stove follows the weather, between its extremes.
#[test]
fn practice_an_unlit_stove_follows_the_weather() {
    let mut r = at_rest(variants::no_water(), 273.15);
    r.site.air_temperature_k = Profile {
        points: vec![(0.0, 273.15), (7200.0, 293.15)],
    };
    r.stop.latest_s = 6.0 * 3600.0;
    let b = burn(&r, &Default::default(), &mut |_| true).expect("runs");
    let lining = b.series.get("lining_temperature_K").expect("lining");
    for v in lining {
        assert!((273.149..293.151).contains(v), "{v}");
    }
    let end = lining[lining.len() - 1];
    assert!(end > 285.0, "{end}");
}
