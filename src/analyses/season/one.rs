//! One burn of a season: from what lies on the surfaces to what it costs and adds.

use crate::analyses::burn::{BurnOptions, RunError, burn_watched};
use crate::components::spec::Rig;
use crate::network::{Carried, Integral, Network, Surface};
use crate::results::Summary;

/// Gap between two looks at the surfaces.
const LOOK_EVERY_S: f64 = 60.0;
/// A fire worth looking at.
const FIRE_W: f64 = 1000.0;

/// Time means over the fire of each surface's cells; in the place of their soot.
#[derive(Debug, Clone, Default)]
pub(super) struct Seen {
    fire_s: f64,
    pub surface_k: Vec<f64>,
    pub wet_share: Vec<f64>,
}

impl Seen {
    fn look(&mut self, net: &Network, t_s: f64, y: &[f64], span_s: f64) {
        let now = net.observe(t_s, y);
        if now.net_burnt_w < FIRE_W {
            return;
        }
        let k = net.surface_k(t_s, y);
        self.surface_k.resize(k.len(), 0.0);
        self.wet_share.resize(k.len(), 0.0);
        for (i, k) in k.iter().enumerate() {
            self.surface_k[i] += k * span_s;
            if *k < now.dew_point_k {
                self.wet_share[i] += span_s;
            }
        }
        self.fire_s += span_s;
    }

    fn mean(&mut self) {
        for v in self.surface_k.iter_mut().chain(&mut self.wet_share) {
            *v /= self.fire_s;
        }
    }
}

pub(super) struct One {
    pub target_reached: bool,
    /// To the target, or the whole run.
    pub time_s: f64,
    pub wood_kg: f64,
    /// Into the store by then.
    pub heat_j: f64,
    /// At the start.
    pub fouling_m2k_w: f64,
    /// Deposits at the end.
    pub kg: Vec<f64>,
    pub summary: Summary,
    pub mass_residual: f64,
    pub seen: Seen,
    pub surfaces: Vec<Surface>,
}

/// Burns from `carried`; looks at the surfaces where asked.
pub(super) fn one(rig: &Rig, carried: &Carried, look: bool) -> Result<One, RunError> {
    let options = BurnOptions {
        series: false,
        carried: carried.clone(),
        ..BurnOptions::default()
    };
    let mut kg = Vec::new();
    let mut fouling_m2k_w = 0.0;
    let mut surfaces = Vec::new();
    let mut seen = Seen::default();
    // What had burnt, and what the store had, at the end of each segment: the target is one.
    let mut ends: Vec<(f64, f64, f64)> = Vec::new();
    let mut state = Vec::new();
    let result = burn_watched(rig, &options, &mut |_| true, &mut |net, seg| {
        state.resize(seg.y.len(), 0.0);
        if ends.is_empty() {
            seg.dense.eval_into(seg.dense.t0(), &mut state);
            fouling_m2k_w = net.fouling_grown_m2k_w(&state);
            surfaces = net.surfaces();
        }
        let of = |q| net.layout.integral_value(&seg.y, q);
        ends.push((
            seg.t_s,
            of(Integral::NetBurnt),
            of(Integral::HeatToStore) + of(Integral::HeatToHeader),
        ));
        kg = net.deposits_kg(&seg.y);
        if look {
            let (a, b) = (seg.dense.t0(), seg.t_s);
            let parts = ((b - a) / LOOK_EVERY_S).ceil().max(1.0);
            for k in 0..parts as u32 {
                let t = a + (b - a) * (f64::from(k) + 0.5) / parts;
                seg.dense.eval_into(t, &mut state);
                seen.look(net, t, &state, (b - a) / parts);
            }
        }
    })?;
    seen.mean();
    let s = result.summary;
    let until_s = s.time_to_target_s.unwrap_or(s.end_s);
    let (_, burnt_j, heat_j) = ends
        .iter()
        .rev()
        .find(|e| e.0 <= until_s)
        .copied()
        .unwrap_or_default();
    let per_kg_j = s.fuel_energy_J / s.fuel_fed_kg.max(1e-9);
    Ok(One {
        target_reached: s.target_reached,
        time_s: until_s,
        wood_kg: burnt_j / per_kg_j.max(1.0),
        heat_j,
        fouling_m2k_w,
        kg,
        mass_residual: result
            .ledger
            .masses
            .iter()
            .map(|m| m.residual_fraction)
            .fold(0.0, f64::max),
        summary: s,
        seen,
        surfaces,
    })
}
