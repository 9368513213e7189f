//! The account of energy and masses closes on every kind of rig, and would not if a line were missing.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::Rig;
use emberloop::results::{BurnResult, Ledger};
use std::collections::BTreeMap;
use support::variants;

/// Acceptable share of the fuel's energy (or 1 MJ) that is unaccounted for.
const MOST: f64 = 1e-5;

fn run(name: &str, rig: &Rig) -> BurnResult {
    burn(rig, &Default::default(), &mut |_| true).unwrap_or_else(|e| panic!("{name}: {e}"))
}

fn fuel_j(l: &Ledger) -> f64 {
    l.inputs
        .iter()
        .find(|x| x.key == "fuel_gross")
        .map_or(0.0, |x| x.energy_j)
        .max(1e6)
}

/// Every kind of rig, the boiling one cut short soon after it boils.
fn rigs() -> Vec<(&'static str, Rig)> {
    let mut all = variants::all();
    all.push(("boils over", variants::boils_over()));
    for (name, rig) in &mut all {
        if *name == "pump stops" {
            rig.stop.latest_s = 2310.0;
        }
    }
    all
}

#[test]
fn identity_energy_and_masses_close_on_every_kind_of_rig_and_every_line_is_needed() {
    let mut worst = Vec::new();
    // Largest share that each line has on any of the rigs.
    let mut largest: BTreeMap<String, f64> = BTreeMap::new();
    for (name, rig) in rigs() {
        let r = run(name, &rig);
        let l = &r.ledger;
        assert!(
            l.residual_fraction <= MOST,
            "{name}: {:e} of the energy is unaccounted for",
            l.residual_fraction
        );
        assert_eq!(l.residual_fraction, r.summary.energy_residual_fraction);
        let fuel = fuel_j(l);
        // The residual as printed is the sum of its lines.
        let side = |v: &[emberloop::results::LedgerLine]| v.iter().map(|x| x.energy_j).sum::<f64>();
        let sum = side(&l.inputs) - side(&l.outputs) - side(&l.stored);
        assert!(
            ((sum.abs() / fuel) - l.residual_fraction).abs() < 1e-9,
            "{name}"
        );
        for (sign, lines) in [(1.0, &l.inputs), (-1.0, &l.outputs), (-1.0, &l.stored)] {
            for line in lines {
                assert!(line.energy_j.is_finite(), "{name}: {}", line.key);
                let share = line.energy_j.abs() / fuel;
                let e = largest.entry(line.key.clone()).or_default();
                *e = e.max(share);
                // A line that carries more than twice what may be missing cannot be left out unnoticed.
                if share > 2.0 * MOST {
                    let without = (sum - sign * line.energy_j).abs() / fuel;
                    assert!(without > MOST, "{name}: {} is not needed", line.key);
                }
            }
        }
        for m in &l.masses {
            assert!(
                m.residual_fraction <= MOST,
                "{name}: {} {:e}: in {} out {} stored {}",
                m.name,
                m.residual_fraction,
                m.in_kg,
                m.out_kg,
                m.stored_kg
            );
        }
        worst.push((name, l.residual_fraction));
    }
    println!("{worst:?}");
    // The loop over lines says something only where each line is seen to carry energy on at least one rig.
    for (key, share) in largest {
        assert!(
            share > 2.0 * MOST,
            "{key} carries nothing on any rig: {share:e}"
        );
    }
}

/// Columns of the series and cumulative quantities are two records of the same flow.
#[test]
fn identity_the_series_adds_up_to_the_account() {
    for (name, mut rig) in [
        ("barrel", support::rigs::barrel()),
        ("tank and bench", variants::tank_and_bench()),
        ("door stove", variants::door_stove()),
    ] {
        rig.solver.output_interval_s = 0.25;
        rig.stop.latest_s = 2500.0;
        rig.stop.at_target = false;
        let r = run(name, &rig);
        let t = r.series.get("time_s").expect("time");
        let sum = |column: &str| {
            let v = r.series.get(column).expect(column);
            (1..t.len())
                .map(|i| 0.5 * (v[i] + v[i - 1]) * (t[i] - t[i - 1]))
                .sum::<f64>()
        };
        let line = |key: &str| {
            r.ledger
                .outputs
                .iter()
                .chain(&r.ledger.inputs)
                .find(|l| l.key == key)
                .map_or(f64::NAN, |l| l.energy_j)
        };
        let checks = [
            ("heat_to_tank_W", r.summary.heat_to_tank_J),
            (
                "heat_stack_sensible_W",
                line("stack_sensible") - line("air_enthalpy"),
            ),
            ("heat_casing_W", line("casing") + line("opening")),
            ("heat_pipe_loss_W", line("pipe_loss")),
            ("heat_vessel_loss_W", line("vessel_loss")),
            (
                "heat_stack_latent_W",
                line("stack_latent") + line("condensate_latent"),
            ),
            ("unburnt_W", line("unburnt")),
        ];
        for (column, account_j) in checks {
            let series_j = sum(column);
            // Feeds and switches make jumps that the trapezoid smears over one interval: 1 % of the sum.
            let scale = account_j.abs().max(2e4);
            assert!(
                (series_j - account_j).abs() < 0.01 * scale,
                "{name}: {column} sums to {series_j:.0} J, the account says {account_j:.0} J"
            );
        }
    }
}

/// What enters the store through its ports is what it holds, loses and gives.
#[test]
fn identity_the_store_holds_what_came_through_its_ports() {
    for (name, rig) in [
        ("barrel", support::rigs::barrel()),
        ("tub", variants::tub()),
        ("boils over", variants::boils_over()),
    ] {
        let r = run(name, &rig);
        let l = &r.ledger;
        let get = |key: &str| {
            l.outputs
                .iter()
                .chain(&l.stored)
                .chain(&l.inputs)
                .find(|x| x.key == key)
                .map_or(0.0, |x| x.energy_j)
        };
        let out = get("vessel")
            + get("vessel_loss")
            + get("surface_loss")
            + get("evaporation")
            + get("vented")
            + get("draws_out")
            - get("water_in");
        let gap = (r.summary.heat_to_tank_J - out).abs() / r.summary.heat_to_tank_J.abs().max(1e6);
        assert!(gap < 1e-6, "{name}: {gap:e}");
        assert!(
            (r.summary.storage_content_rise_J - get("vessel")).abs() < 1.0,
            "{name}"
        );
    }
}
