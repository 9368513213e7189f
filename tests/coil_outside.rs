//! A tube wound on the outside of a flue: contact along a line, not the tube's surface.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::gas_path::Wrap;
use emberloop::components::spec::Rig;
use emberloop::results::BurnResult;
use support::rigs::barrel;
use support::variants::wound_outside;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &BurnOptions::default(), &mut |_| true).expect("the rig burns")
}

fn mean_power_w(r: &BurnResult) -> f64 {
    r.summary.heat_to_tank_J / r.summary.end_s
}

/// Sum over strips of width dx of the circle above the plane, each conducting straight down: 1/(δ + r − √(r² − x²)).
/// The strips neglect sideways spreading, the shape factor does not; they agree where the gap is narrow.
#[test]
fn analytic_shape_factor_of_the_wedge_is_that_of_parallel_strips_for_a_narrow_gap() {
    let (r, gap) = (8e-3, 1e-6);
    let n = 2_000_000;
    let dx = r / f64::from(n);
    let strips: f64 = (0..n)
        .map(|i| {
            let x = (f64::from(i) + 0.5) * dx;
            2.0 * dx / (gap + r - (r * r - x * x).sqrt())
        })
        .sum();
    let exact = Wrap::wedge_shape(r, gap);
    assert!((strips / exact - 1.0).abs() < 0.03, "{strips} {exact}");
}

/// Soft copper wound on a single-wall flue gives a small part of what the same tube gives in the gas, "only ever warm"
/// (common practice, no source).
#[test]
fn practice_a_coil_wound_outside_gives_a_small_part_of_the_same_coil_in_the_gas() {
    let inside = run(&barrel());
    let outside = run(&wound_outside(1e-4, None));
    let share = mean_power_w(&outside) / mean_power_w(&inside);
    eprintln!("share {share:.3}, {:.0} W", mean_power_w(&outside));
    assert!((0.03..0.45).contains(&share), "{share}");
}

#[test]
fn identity_energy_and_mass_close_with_a_coil_wound_outside() {
    let r = run(&wound_outside(1e-4, None));
    assert!(r.ledger.residual_fraction < 1e-10);
    for m in &r.ledger.masses {
        assert!(m.residual_fraction < 1e-9, "{m:?}");
    }
}

/// Contact decides: a tighter tube and a filled wedge give more, and what goes into the tube does not leave as casing loss.
#[test]
fn analytic_contact_decides_what_a_coil_wound_outside_gives() {
    let loose = run(&wound_outside(1e-3, None));
    let tight = run(&wound_outside(1e-4, None));
    let filled = run(&wound_outside(1e-4, Some(1.5)));
    let w = [&loose, &tight, &filled].map(mean_power_w);
    assert!(w[0] < 0.8 * w[1] && w[1] < 0.7 * w[2], "{w:?}");
    let casing = |r: &BurnResult| r.summary.casing_loss_fraction.expect("it burnt");
    assert!(casing(&filled) < casing(&tight) && casing(&tight) < casing(&loose));
}
