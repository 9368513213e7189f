//! The burn from which faults start: its copies, its end, the most heat into its coil.

use super::faults::Fault;
use super::{GAP_S, LEAST_COIL_W, MOST_MOMENTS, Rig, RunError, Saved, record};
use std::sync::Mutex;

/// The burn without a fault.
pub(super) struct Moments<'a> {
    /// Copies while a fire heats the coil (or burns, without water).
    pub list: Vec<Mutex<Saved<'a>>>,
    pub end: Saved<'a>,
    /// Most heat into the coil, W.
    pub heat_peak_w: f64,
}

pub(super) fn moments(rig: &Rig) -> Result<Moments<'_>, RunError> {
    let mut burn = Saved::new(rig)?;
    let mut all = record(Fault::PumpStop, rig, &burn, false);
    let mut list: Vec<(f64, Saved)> = Vec::new();
    let mut n = 0.0;
    loop {
        let i = burn.net().observe(burn.time_s(), burn.state());
        let heat_w = if rig.coils.is_empty() && !rig.heats_store_by_walls() {
            i.net_burnt_w
        } else {
            i.to_coil_w
        };
        if heat_w > LEAST_COIL_W {
            list.push((heat_w, burn.clone()));
            if list.len() > 2 * MOST_MOMENTS {
                thin(&mut list);
            }
        }
        n += 1.0;
        let more = burn.advance_to(n * GAP_S, &mut |net, seg| {
            all.segment(net, seg);
            true
        })?;
        if !more {
            break;
        }
    }
    if list.len() > MOST_MOMENTS {
        thin(&mut list);
    }
    Ok(Moments {
        list: list.into_iter().map(|(_, s)| Mutex::new(s)).collect(),
        end: burn,
        heat_peak_w: all.heat_peak_w(),
    })
}

/// Keeps the hottest half, in their order.
fn thin(list: &mut Vec<(f64, Saved)>) {
    let mut heats: Vec<f64> = list.iter().map(|l| l.0).collect();
    heats.sort_by(f64::total_cmp);
    let middle = heats[heats.len() / 2];
    list.retain(|l| l.0 >= middle);
}
