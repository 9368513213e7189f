//! Burns in a row over damp walls: each starts cold, with the water that the one before left in each node of them.

use super::burn::{BurnOptions, RunError, burn_watched};
use crate::components::spec::Rig;
use crate::network::Carried;
use crate::results::BurnInRow;

/// A share of a node's water that is none.
const TRACE: f64 = 1e-9;

/// Burns `count` times; `burnt` hears of each. What dries between two burns is left out, and so is soot.
///
/// # Errors
/// See [`RunError`].
pub fn in_a_row(
    rig: &Rig,
    count: usize,
    burnt: &mut dyn FnMut(&BurnInRow),
) -> Result<Vec<BurnInRow>, RunError> {
    let mut water: Vec<f64> = Vec::new();
    let mut row = Vec::with_capacity(count);
    for i in 0..count {
        // Once dry, each is as the one before.
        if let Some(before) = row.last().filter(|b: &&BurnInRow| b.wall_water_kg == 0.0) {
            let b = BurnInRow {
                burn: i + 1,
                ..before.clone()
            };
            burnt(&b);
            row.push(b);
            continue;
        }
        let options = BurnOptions {
            series: false,
            carried: Carried {
                water: water.clone(),
                ..Carried::default()
            },
            ..BurnOptions::default()
        };
        let result = burn_watched(rig, &options, &mut |_| true, &mut |net, seg| {
            let left = net.damp_shares(&seg.y).iter();
            water = left.map(|&s| if s < TRACE { 0.0 } else { s }).collect();
        })?;
        let s = &result.summary;
        let (dried_kg, left_kg) = (
            s.dried_kg.unwrap_or(0.0),
            s.wall_water_left_kg.unwrap_or(0.0),
        );
        let b = BurnInRow {
            burn: i + 1,
            wall_water_kg: dried_kg + left_kg,
            dried_kg,
            drying_heat_J: s.drying_heat_J.unwrap_or(0.0),
            drying_fraction: s.drying_fraction,
            heat_in_walls_J: s.heat_in_walls_J,
            fuel_energy_J: s.fuel_energy_J,
            heat_to_tank_J: s.heat_to_tank_J,
            chamber_mean_K: s.chamber_mean_K,
            stack_temperature_mean_K: s.stack_temperature_mean_K,
            time_to_target_s: s.time_to_target_s,
            energy_residual_fraction: s.energy_residual_fraction,
            mass_residual_fraction: result
                .ledger
                .masses
                .iter()
                .map(|m| m.residual_fraction)
                .fold(0.0, f64::max),
        };
        burnt(&b);
        row.push(b);
    }
    Ok(row)
}
