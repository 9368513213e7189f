//! A report of a fault before anything is known of it.

use super::Fault;
use crate::results::{FaultReport, FaultStatus};

pub(super) fn empty(f: Fault, status: FaultStatus) -> FaultReport {
    FaultReport {
        key: f.key().into(),
        name: f.name().into(),
        status,
        how: f.how().into(),
        worst_at_s: None,
        moments_tried: 0,
        limits: Vec::new(),
        severity: 0,
        rank: 0,
        boiling_after_s: None,
        steam_peak_kg_s: 0.0,
        coil_heat_peak_W: 0.0,
        relief_needed_kg_h: None,
        relief_bore_m: None,
        relief_lifts: None,
        relief_water_kg: None,
        relief_steam_kg: None,
        burst: None,
        pressure_peak_Pa: None,
        pressure_rate_Pa_K: None,
        pressure_rate_Pa_s: None,
        outlet_max_K: None,
        outlet_scald_s: None,
        tap_max_K: None,
        tap_scald_s: None,
        coil_wall_max_K: None,
        outside_max_K: f64::NAN,
        outside_place: String::new(),
        flow_min_kg_s: None,
        remedies: Vec::new(),
        findings: Vec::new(),
        energy_residual_fraction: 0.0,
        series: Default::default(),
    }
}
