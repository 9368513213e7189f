//! The loop against a fully dynamic second formulation, at every moment: thermosyphon and stopped pump.

mod support {
    pub mod dynamic;
    pub mod dynamic_compare;
    pub mod rigs;
    pub mod variants;
}

use support::dynamic::{Dynamic, Fineness};
use support::dynamic_compare::{apart, run, syphon};
use support::variants;

#[test]
fn identity_a_thermosyphon_flows_at_every_moment_as_in_the_fully_dynamic_formulation() {
    let rig = syphon();
    let d = Dynamic::new(&rig, Fineness::default()).run(3000.0, 20.0, false);
    let a = apart(&run(&rig), &d, |t| t > 600.0);
    assert!(a.tank_k < 0.5, "{a:?}");
    assert!(a.flow < 0.02, "{a:?}");
}

#[test]
fn identity_a_stopped_pump_boils_the_coil_as_soon_as_in_the_fully_dynamic_formulation() {
    let mut rig = variants::pump_stops();
    rig.stop.latest_s = 2700.0;
    rig.solver.output_interval_s = 5.0;
    let fine = Fineness {
        coil: 8,
        ..Fineness::default()
    };
    let d = Dynamic::new(&rig, fine).run(2700.0, 5.0, true);
    let own = run(&rig).summary.boiling_first_s.expect("boils") - 2100.0;
    let dynamic = d.boiling_s.expect("boils") - 2100.0;
    println!(
        "boils {own:.1} s after the stop, {dynamic:.1} s in the dynamic formulation ({:+.1} %)",
        100.0 * (own / dynamic - 1.0)
    );
    assert!(
        (own / dynamic - 1.0).abs() < 0.05,
        "{own} against {dynamic} s"
    );
}
