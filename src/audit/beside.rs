//! What the water gave beside its walls: water drawn, evaporation; and what the pipes took, which is not the tank's.

use super::given::{DrawGiven, PipeGiven, SurfaceGiven};
use super::losses::Band;
use crate::correlations::evaporation::ashrae_flux_kg_m2s;
use crate::logs::{Problem, Reading, Role};
use crate::properties::water::Water;

/// Relative standard uncertainty of the volume of a draw nobody described: a bucket or a timed tap (common practice, no
/// source).
pub(super) const DRAW_VOLUME: f64 = 0.05;
/// Temperature of drawn water, between top and mean.
const DRAW_K: f64 = 2.0;
/// Relative standard uncertainty of the evaporation: scatter of the form 30 % (ASHRAE's against still pools), evenly
/// likely on either side, and the air over a tub is not that of the weather.
const EVAPORATION: f64 = 0.25;
/// Half width of the estimate of what pipes lose.
const PIPE: f64 = 0.4;

/// Heat that left with water, from one draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Drawn {
    pub at_s: f64,
    pub joule: f64,
    pub standard_j: f64,
}

/// Moments of the draws on the log's axis; those that cannot be placed are problems.
pub(super) fn placed(
    draws: &[DrawGiven],
    reading: &Reading,
    problems: &mut Vec<Problem>,
) -> Vec<(f64, DrawGiven)> {
    let mut out = Vec::new();
    for (i, d) in draws.iter().enumerate() {
        match reading.moment_s(&d.at) {
            Ok(s) => out.push((s, d.clone())),
            Err(why) => problems.push(Problem::error(
                format!("[[draw]] {}: {why}", i + 1),
                "write `at = \"17:05\"`",
            )),
        }
    }
    out.sort_by(|a, b| a.0.total_cmp(&b.0));
    out
}

/// Heat of each draw that lies on the grid: as hot as stated, else as the tank's top or mean at the moment; less the cold
/// water that took its place, or less what it would hold at the end where none did.
pub(super) fn drawn(
    draws: &[(f64, DrawGiven)],
    time_s: &[f64],
    top_k: &[f64],
    end_k: f64,
) -> Vec<Drawn> {
    let water = Water::shared();
    draws
        .iter()
        .filter_map(|(at_s, d)| {
            let known = d.hot_k.or_else(|| {
                // The last moment before the draw at which the tank is known.
                let i = time_s
                    .iter()
                    .zip(top_k)
                    .rposition(|(t, k)| *t <= at_s + 1.0 && k.is_finite())?;
                Some(top_k[i])
            })?;
            if *at_s < time_s.first().copied()? - 1.0 {
                return None;
            }
            let kg = d.volume_m3 * water.rho_kg_m3(known);
            let back_k = d.cold_k.unwrap_or(end_k);
            let joule = kg * (water.h_j_kg(known) - water.h_j_kg(back_k));
            let per_k = kg * water.dh_dt_j_kgk(known);
            let doubt_k = if d.hot_k.is_some() {
                0.5 * DRAW_K
            } else {
                DRAW_K
            };
            Some(Drawn {
                at_s: *at_s,
                joule,
                standard_j: (d.volume_share * joule).hypot(doubt_k * per_k),
            })
        })
        .collect()
}

/// Heat that open water gave to the air as vapour between two moments of the grid, with its standard uncertainty.
pub(super) fn evaporated(
    s: &SurfaceGiven,
    ambient_k: f64,
    time_s: &[f64],
    surface_k: &[f64],
) -> (f64, f64) {
    let water = Water::shared();
    let vapour_pa = s.humidity * water.p_sat_pa(ambient_k.max(273.16));
    let power = |k: f64| {
        let h_fg = water.h_fg_at_t_j_kg(k);
        let flux = ashrae_flux_kg_m2s(water.p_sat_pa(k), vapour_pa, s.wind_m_s, h_fg).max(0.0);
        s.open_share * s.area_m2 * flux * h_fg
    };
    let points: Vec<(f64, f64)> = time_s
        .iter()
        .zip(surface_k)
        .filter(|(_, k)| k.is_finite())
        .map(|(t, k)| (*t, power(*k)))
        .collect();
    let joule = over_time(&points);
    (joule, EVAPORATION * joule)
}

fn over_time(points: &[(f64, f64)]) -> f64 {
    points
        .windows(2)
        .map(|w| (w[1].0 - w[0].0) * 0.5 * (w[0].1 + w[1].1))
        .sum()
}

/// What the pipes lost to the air, and what their water holds at the end over its start.
pub(super) fn pipes(
    p: &PipeGiven,
    reading: &Reading,
    ambient_k: f64,
    time_s: &[f64],
    tank_k: &[f64],
    outlet_k: Option<&[f64]>,
) -> (Band, Band, String) {
    // Half of the pipe carries the outlet's water, half the tank's.
    let mean_k: Vec<f64> = tank_k
        .iter()
        .enumerate()
        .map(
            |(i, t)| match outlet_k.map(|o| o[i]).filter(|k| k.is_finite()) {
                Some(hot) => 0.5 * (t + hot),
                None => *t,
            },
        )
        .collect();
    let points: Vec<(f64, f64)> = time_s
        .iter()
        .zip(&mean_k)
        .filter(|(_, k)| k.is_finite())
        .map(|(t, k)| (*t, p.length_m * p.loss_w_mk * (k - ambient_k)))
        .collect();
    let lost = over_time(&points).max(0.0);
    let water = Water::shared();
    let inside_m3 = p.length_m * std::f64::consts::FRAC_PI_4 * p.inside_m.powi(2);
    let good = || mean_k.iter().filter(|k| k.is_finite());
    let held = match (good().next(), good().next_back()) {
        (Some(a), Some(b)) => {
            inside_m3 * water.rho_kg_m3(*a) * (water.h_j_kg(*b) - water.h_j_kg(*a))
        }
        _ => 0.0,
    };
    let band = |v: f64, by: f64| Band {
        value: v,
        low: v - by * v.abs(),
        high: v + by * v.abs(),
    };
    let probe = reading.channels.iter().any(|c| c.role == Role::CoilOut);
    let how = format!(
        "{:.1} m of pipe at {:.2} W/(m K) over the air ({}), {}; ± {:.0} %",
        p.length_m,
        p.loss_w_mk,
        p.loss_source,
        if probe {
            "half of it as hot as the outlet probe, half as the tank"
        } else {
            "as warm as the tank for want of an outlet probe"
        },
        100.0 * PIPE
    );
    (band(lost, PIPE), band(held, 0.2), how)
}
