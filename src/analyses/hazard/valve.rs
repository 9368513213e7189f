//! The relief valve of a hazard report: the scenario's own, the one asked for, or the usual.

use super::{HazardOptions, USUAL_DISCHARGE, USUAL_RELIEF_PA};
use crate::components::spec::{Closed, Rig, Water};
use crate::correlations::hazard::steam_flow_kg_h;
use crate::network::Network;

pub(super) fn relief_setting(rig: &Rig, options: &HazardOptions) -> (f64, String) {
    let of_rig = closed(rig).map(|c| c.relief_pa);
    match (options.relief_pa, of_rig) {
        (Some(p), _) => (p, "as asked for".into()),
        (None, Some(p)) => (p, "of the scenario".into()),
        (None, None) => (
            USUAL_RELIEF_PA,
            "assumed: the scenario names no valve".into(),
        ),
    }
}

pub(super) fn closed(rig: &Rig) -> Option<&Closed> {
    match &rig.water {
        Water::Store { vessel, .. } => vessel.closed.as_ref(),
        _ => None,
    }
}

/// A closed rig with the valve that was asked for in place of its own; its other pressures in proportion.
pub(super) fn with_valve(rig: &Rig, options: &HazardOptions) -> Rig {
    let mut rig = rig.clone();
    if let Water::Store { vessel, .. } = &mut rig.water
        && let Some(c) = &mut vessel.closed
    {
        if let Some(bore) = options.relief_bore_m {
            c.relief_bore_m = bore;
        }
        if let Some(p) = options.relief_pa.filter(|&p| p > c.fill_pa) {
            let share = (p - c.fill_pa) / (c.relief_pa - c.fill_pa);
            c.reseat_pa = c.fill_pa + share * (c.reseat_pa - c.fill_pa);
            c.burst_pa = c.burst_pa.max(1.01 * p);
            c.relief_pa = p;
        }
    }
    rig
}

/// Steam that a valve of this bore passes at a setting, kg/h, without overpressure.
pub(super) fn valve_kg_h(net: &Network, relief_pa: f64, bore: f64) -> f64 {
    let p = net.p_air_pa + relief_pa;
    let v = 1.0 / net.water.sat(p).rho_g_kg_m3;
    let area = std::f64::consts::PI / 4.0 * bore * bore;
    let discharge = closed(&net.rig).map_or(USUAL_DISCHARGE, |c| c.relief_discharge);
    steam_flow_kg_h(area, p, v, net.p_air_pa, discharge)
}
