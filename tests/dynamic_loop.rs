//! The loop against a fully dynamic second formulation, integrated by another library's implicit method.

mod support {
    pub mod dynamic;
    pub mod dynamic_compare;
    pub mod rigs;
    pub mod variants;
}

use emberloop::components::spec::*;
use support::dynamic::{Dynamic, Fineness};
use support::dynamic_compare::{apart, run, syphon};
use support::{rigs::barrel, variants};

#[test]
fn identity_a_pumped_barrel_warms_as_in_the_fully_dynamic_formulation() {
    let mut rig = barrel();
    rig.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: 3000.0,
    };
    // Fast and slow, and a mixed store beside a layered one.
    rig.controls.pump.steps.moves = vec![(1800.0, Some(0))];
    for layers in [6, 1] {
        variants::vessel(&mut rig).layers = layers;
        let d = Dynamic::new(&rig, Fineness::default()).run(3000.0, 20.0, false);
        // Half a minute after a switch the inflated inertia has died away.
        let a = apart(&run(&rig), &d, |t| {
            t > 20.0 && !(1795.0..1830.0).contains(&t)
        });
        assert!(a.tank_k < 0.5, "{layers} layers: {a:?}");
        assert!(a.flow < 0.02, "{layers} layers: {a:?}");
    }
}

#[test]
fn identity_a_thermosyphon_carries_as_much_water_and_heat_as_in_the_fully_dynamic_formulation() {
    let rig = syphon();
    let d = Dynamic::new(&rig, Fineness::default()).run(3000.0, 20.0, false);
    let r = run(&rig);
    assert_eq!(r.summary.boiling_first_s, None);
    let a = apart(&r, &d, |t| t > 600.0);
    assert!(a.tank_end_k < 0.5, "{a:?}");
    assert!(a.flow_mean.abs() < 0.02, "{a:?}");
}
