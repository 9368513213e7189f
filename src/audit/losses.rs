//! What went elsewhere: up the stack, into walls, left as embers.

use super::curve::Grid;
use super::given::{Given, mean_of};
use crate::correlations::combustion::{
    WOOD_CO2_MAX_PERCENT, siegert_constants, siegert_loss_fraction,
};
use crate::logs::{Event, Reading, Role};
use crate::properties::wood::CHAR_NET_J_KG;

/// A figure with its band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Band {
    pub value: f64,
    pub low: f64,
    pub high: f64,
}

pub(super) struct Stack {
    pub loss: Band,
    pub flue_k: f64,
    pub how: String,
}

/// Oxygen in dry flue gas of an air ratio, in per cent (20.95 (1 − 1/λ); the fuel's own gas volume left out).
fn oxygen(air_ratio: f64) -> f64 {
    (20.95 * (1.0 - 1.0 / air_ratio.max(1.0))).min(20.0)
}

/// Sensible loss by the short formula with this wood's constants, as the mean over the time in which the flue was at
/// least 40 K over the air.
pub(super) fn stack(reading: &Reading, grid: &Grid, end_s: f64, given: &Given) -> Option<Stack> {
    let flue = reading
        .channels
        .iter()
        .find(|c| c.role == Role::Flue)
        .or_else(|| {
            reading
                .channels
                .iter()
                .find(|c| c.role == Role::GasAboveCoil)
        })?;
    let [c, h, o] = given.fuel.cho;
    let k = siegert_constants(c, h, o, given.fuel.gross_dry_j_kg, given.fuel.moisture_wet);
    let meter = reading
        .channels
        .iter()
        .find(|c| matches!(c.role, Role::FlueO2 | Role::FlueCo2));
    let measured = meter.map(|m| grid.of(m));
    let co2 = meter.is_some_and(|m| m.role == Role::FlueCo2);
    let flue_k = grid.of(flue);
    let mut sums = [0.0; 4];
    let mut n = 0usize;
    for (i, &t) in grid.time_s.iter().enumerate() {
        let over = flue_k[i] - given.ambient_k;
        if t > end_s || !over.is_finite() || over < 40.0 {
            continue;
        }
        // Middle, low and high oxygen.
        let o2 = match &measured {
            Some(m) => {
                let percent = 100.0 * m[i];
                let o2 = if co2 {
                    20.95 * (1.0 - percent / WOOD_CO2_MAX_PERCENT)
                } else {
                    percent
                };
                if !o2.is_finite() || o2 > 19.0 {
                    continue;
                }
                [o2, o2 - 0.5, o2 + 0.5]
            }
            None => given.fuel.air_ratio.map(oxygen),
        };
        // A bare probe in a flue is some per cent of its rise off (radiation, depth): ± 7 %.
        for (sum, (o2, off)) in sums
            .iter_mut()
            .zip([(o2[0], 1.0), (o2[1], 0.93), (o2[2], 1.07)])
        {
            *sum += siegert_loss_fraction(given.ambient_k + off * over, given.ambient_k, o2, k);
        }
        sums[3] += flue_k[i];
        n += 1;
    }
    if n == 0 {
        return None;
    }
    let mean = |s: f64| s / n as f64;
    let place = if flue.role == Role::Flue {
        ""
    } else {
        " (above the coil: the flue beyond it is left out)"
    };
    let how = match meter {
        Some(_) => format!(
            "short formula of the trade with this wood's constants, flue temperature {}{place} and {} measured; ± 0.5 points of oxygen, ± 7 % of the probe's rise",
            flue.name,
            if co2 { "CO2" } else { "O2" }
        ),
        None => format!(
            "short formula of the trade with this wood's constants, flue temperature {}{place}; no O2 or CO2 was measured, so an air ratio of {:.1} ({:.1} to {:.1}) {}",
            flue.name,
            given.fuel.air_ratio[0],
            given.fuel.air_ratio[1],
            given.fuel.air_ratio[2],
            if given.fuel.air_ratio_given {
                "as stated"
            } else {
                "was assumed: open stoves in practice, no source"
            }
        ),
    };
    Some(Stack {
        loss: Band {
            value: mean(sums[0]),
            low: mean(sums[1]),
            high: mean(sums[2]),
        },
        flue_k: mean(sums[3]),
        how,
    })
}

/// Net energy of the char still in the fire at the end. Weighed, or estimated: each load leaves its char yield, which
/// burns away evenly within two hours (common practice, no source); from nothing to all char of those loads.
pub(super) fn char_left(given: &Given, feeds: &[&Event], end_s: f64) -> (Band, String) {
    if let Some(kg) = given.fuel.char_left_kg {
        let value = kg * CHAR_NET_J_KG;
        return (
            Band {
                value,
                low: 0.9 * value,
                high: 1.1 * value,
            },
            "weighed".into(),
        );
    }
    const BURNS_S: f64 = 7200.0;
    let (mut value, mut high) = (0.0, 0.0);
    for feed in feeds {
        let age_s = end_s - feed.time_s;
        if (0.0..BURNS_S).contains(&age_s) {
            let char_kg = feed.mass_kg.unwrap_or(0.0)
                * (1.0 - given.fuel.moisture_wet)
                * given.fuel.char_yield_dry;
            value += char_kg * (1.0 - age_s / BURNS_S) * CHAR_NET_J_KG;
            high += char_kg * CHAR_NET_J_KG;
        }
    }
    (
        Band {
            value,
            low: 0.0,
            high,
        },
        "estimated from the loads of the last two hours; weigh the embers to know".into(),
    )
}

/// What walls of the fire side still hold.
pub(super) fn walls(given: &Given, reading: &Reading) -> Option<Band> {
    let capacity = given.walls_j_k?;
    if let Some(rise) = given.wall_rise_k {
        let value = capacity * rise;
        return Some(Band {
            value,
            low: 0.7 * value,
            high: 1.3 * value,
        });
    }
    // Their mean lies somewhere between the air and the gas.
    let gas_k = mean_of(reading, Role::is_gas)?;
    let rise = (gas_k - given.ambient_k).max(0.0);
    Some(Band {
        value: 0.5 * capacity * rise,
        low: 0.2 * capacity * rise,
        high: 0.9 * capacity * rise,
    })
}
