//! What bare thermometers show in a burning rig.

mod support {
    pub mod rigs;
    pub mod series;
    pub mod stoves;
    pub mod variants;
}

use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::spec::Rig;
use emberloop::results::BurnResult;
use support::rigs::barrel;
use support::series::mean;
use support::stoves::rocket;
use support::variants::wound_outside;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &BurnOptions::default(), &mut |_| true).expect("the rig burns")
}

fn column<'a>(r: &'a BurnResult, name: &str) -> &'a [f64] {
    r.series.get(name).unwrap_or_else(|| panic!("{name}"))
}

const PLACES: [(&str, &str); 4] = [
    ("firebox", "gas_firebox_temperature_K"),
    ("below_coil", "gas_below_coil_temperature_K"),
    ("above_coil", "gas_above_coil_temperature_K"),
    ("stack", "stack_temperature_K"),
];

/// Gas warms the sheath, what it sees cools or warms it: the reading lies between both, at every place and moment.
#[test]
fn identity_every_reading_lies_between_the_gas_and_what_it_sees() {
    for rig in [barrel(), rocket(), wound_outside(0.5e-3, None)] {
        let r = run(&rig);
        for (place, gas) in PLACES {
            let gas = column(&r, gas);
            let shown = column(&r, &format!("shown_{place}_temperature_K"));
            let seen = column(&r, &format!("seen_{place}_temperature_K"));
            for i in 0..gas.len() {
                let (low, high) = (gas[i].min(seen[i]), gas[i].max(seen[i]));
                assert!(
                    shown[i] > low - 0.01 && shown[i] < high + 0.01,
                    "{place}, row {i}: {} outside {low} to {high}",
                    shown[i]
                );
            }
        }
    }
}

/// A hand's breadth from the turns a sheath sees a good part of them; a wire among hot gas of a riser is near to it.
#[test]
fn practice_cold_turns_and_thick_sheaths_take_from_the_reading() {
    let shown = |sheath_m: f64, from_coil_m: f64| {
        let mut r = rocket();
        r.firebox.mouth_cover = 0.7;
        (r.thermometer.sheath_m, r.thermometer.from_coil_m) = (sheath_m, from_coil_m);
        let r = run(&r);
        let off = |place: &str, gas: &str| {
            mean(&r, &format!("shown_{place}_temperature_K"), 900.0, 2400.0)
                - mean(&r, gas, 900.0, 2400.0)
        };
        PLACES.map(|(place, gas)| off(place, gas))
    };
    let usual = shown(0.003, 0.05);
    println!("3 mm, 50 mm from the coil: {usual:?}");
    // Radiation errors of tens to over 100 degC (common practice, no source).
    for (place, off) in PLACES.iter().zip(usual) {
        assert!((-200.0..-5.0).contains(&off), "{place:?}: {off}");
    }
    let (thin, near, far) = (shown(0.0005, 0.05), shown(0.003, 0.01), shown(0.003, 0.3));
    for k in 0..4 {
        assert!(thin[k] > 0.7 * usual[k], "thin: {} {}", thin[k], usual[k]);
    }
    println!("near {near:?} far {far:?}");
    // Away from the coil its distance is nothing.
    assert!((near[3] - usual[3]).abs() < 0.5);
}

/// Gas that has cooled over a masonry that is still hot reads high.
#[test]
fn practice_a_hot_lining_shines_at_a_thermometer_in_cooler_gas() {
    let mut r = barrel();
    r.stop.at_target = false;
    r.stop.latest_s = 3.0 * 3600.0;
    r.feeding.every.clear();
    let r = run(&r);
    let (gas, lining) = (
        column(&r, "gas_firebox_temperature_K"),
        column(&r, "lining_temperature_K"),
    );
    let shown = column(&r, "shown_firebox_temperature_K");
    let hot: Vec<usize> = (0..gas.len())
        .filter(|&i| lining[i] > gas[i] + 40.0)
        .collect();
    assert!(hot.len() > 20, "{}", hot.len());
    for i in hot {
        assert!(shown[i] > gas[i] + 5.0, "{} {}", shown[i], gas[i]);
    }
}

/// The summary's means are those of the columns, to the target, but for a flare between two looks 20 s apart.
#[test]
fn identity_the_means_are_those_of_the_columns() {
    let mut rig = rocket();
    rig.firebox.mouth_cover = 0.7;
    rig.solver.output_interval_s = 5.0;
    let r = run(&rig);
    let end_s = r.summary.time_to_target_s.expect("target");
    let s = &r.summary;
    let means = [
        s.chamber_shown_mean_K,
        s.gas_below_coil_shown_mean_K,
        s.gas_above_coil_shown_mean_K,
        s.stack_shown_mean_K,
    ];
    for ((place, _), got) in PLACES.iter().zip(means) {
        let (t, v) = (
            column(&r, "time_s"),
            column(&r, &format!("shown_{place}_temperature_K")),
        );
        let rows = t.iter().position(|&t| t >= end_s).expect("a row");
        let want = (0..rows)
            .map(|i| 0.5 * (v[i] + v[i + 1]) * (t[i + 1] - t[i]))
            .sum::<f64>()
            / t[rows];
        let got = got.expect("a mean");
        println!("{place}: {got:.2} {want:.2}");
        assert!((got - want).abs() < 3.0, "{place}: {got} {want}");
    }
}
