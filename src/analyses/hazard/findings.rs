//! What is worth saying of a fault besides its figures: what a burst or a valve lets out, a raised store, a dry coil, a night.

use super::{FOLLOW_S, Fault, RAISE_M, Record, RunError, Saved, USUAL_RELIEF_PA, follow, record};
use crate::components::spec::{Rig, VesselKind, Water};
use crate::correlations::hazard::{burst_steam_kg, flash_steam_kg};
use crate::results::{Burst, FaultReport};

/// What is worth saying besides the figures.
pub(super) fn findings<'a>(
    f: Fault,
    rig: &'a Rig,
    report: &mut FaultReport,
    r: &Record,
    start: &Saved<'a>,
) -> Result<(), RunError> {
    if let Some(t) = r.trapped.as_ref().filter(|t| t.burst_s.is_some()) {
        let net = start.net();
        let coil = net.tubes.iter().filter(|t| t.inventory.is_some());
        let kg: f64 = coil.map(|t| t.water_kg).sum();
        let sat = net.water.sat(net.p_air_pa);
        let over = net.water.h_j_kg(t.water_k()) - sat.h_f_j_kg;
        report.burst = Some(Burst {
            at_s: start.time_s() + t.burst_s.unwrap_or(0.0),
            pressure_Pa: t.pressure_pa,
            water_kg: kg,
            steam_kg: burst_steam_kg(kg, over, sat.h_fg_j_kg),
        });
    }
    if let Some(b) = &report.burst {
        report.findings.push(format!(
            "the burst lets out up to {:.1} kg of water, {} of it as steam at once; the story ends there",
            b.water_kg,
            match 1e3 * b.steam_kg {
                g if g < 1.0 => "none".to_owned(),
                g if g < 1000.0 => format!("{g:.0} g"),
                g => format!("{:.1} kg", 1e-3 * g),
            }
        ));
    } else if let (Some(n), Some(water), Some(steam)) = (
        report.relief_lifts.filter(|&n| n > 0),
        report.relief_water_kg,
        report.relief_steam_kg,
    ) {
        report.findings.push(format!(
            "the relief valve lifts {} and lets out {water:.1} kg of water and {steam:.2} kg of steam",
            if n == 1 { "once".to_owned() } else { format!("{n} times") },
        ));
    }
    match f {
        Fault::PumpStop => {
            if let Some(words) = raised(f, rig, report, start)? {
                report.findings.push(words);
            }
        }
        Fault::DryCoil => {
            let net = start.net();
            let mut dry = start.clone();
            f.strike(&mut dry, 0.0);
            let sat = net.water.sat(net.p_air_pa);
            for minutes in [5.0, 15.0] {
                dry.advance_to(start.time_s() + 60.0 * minutes, &mut |_, _| true)?;
                let Some((_, mean_k, hottest_k)) = dry.net().coil_means_k(dry.state()) else {
                    break;
                };
                let metal_j_k: f64 = net
                    .tubes
                    .iter()
                    .filter(|t| t.inventory.is_some())
                    .map(|t| t.wall_j_k + t.metal_j_k)
                    .sum();
                let cold = sat.h_f_j_kg - net.water.h_j_kg(283.15);
                let kg = flash_steam_kg(metal_j_k, mean_k - sat.t_k, sat.h_fg_j_kg, cold);
                report.findings.push(format!(
                    "dry for {minutes:.0} min the metal is at {:.0} °C (hottest {:.0} °C): water let in then flashes to up to {:.0} g of steam, \
                     {:.0} L, at once; never put water on a hot dry coil",
                    mean_k - 273.15,
                    hottest_k - 273.15,
                    1e3 * kg,
                    1e3 * kg / sat.rho_g_kg_m3
                ));
            }
        }
        Fault::Overnight => {
            report.findings.push(format!(
                "the store goes from {:.1} to {:.1} °C in ten hours; coldest water of coil and pipes {:.1} °C; strongest backward flow {:.2} L/min",
                r.tank_first_k - 273.15,
                r.tank_last_k - 273.15,
                r.water_min_k - 273.15,
                60.0 * (-r.flow_min_kg_s).max(0.0)
            ));
        }
        _ => {}
    }
    Ok(())
}

/// The same fault with the store raised.
fn raised<'a>(
    f: Fault,
    rig: &'a Rig,
    report: &FaultReport,
    start: &Saved<'a>,
) -> Result<Option<String>, RunError> {
    let mut high = rig.clone();
    let Water::Store { vessel, .. } = &mut high.water else {
        return Ok(None);
    };
    if vessel.kind == VesselKind::Tub || vessel.closed.is_some() {
        return Ok(None);
    }
    vessel.floor_z_m += RAISE_M;
    let after = boiling_with(f, &high, start)?;
    let word = |t: Option<f64>| {
        t.map_or("does not boil within an hour".into(), |t| {
            format!("boils in {t:.0} s")
        })
    };
    Ok(Some(format!(
        "with the store raised by {RAISE_M} m the coil {} (now: {})",
        word(after),
        word(report.boiling_after_s)
    )))
}

/// Seconds to boiling of a fault from a saved state with a rig of the same states in its place.
///
/// # Errors
/// See [`RunError`].
pub fn boiling_with(f: Fault, rig: &Rig, start: &Saved) -> Result<Option<f64>, RunError> {
    let mut s = start.clone();
    s.exchange(rig)?;
    let mut r = record(f, rig, &s, false);
    f.strike(&mut s, USUAL_RELIEF_PA);
    let until = s.time_s() + FOLLOW_S;
    follow(f, &mut s, &mut r, until, &|r, _| r.met("boiling").is_some())?;
    Ok(r.met("boiling"))
}
