//! The inputs of the account with their standard uncertainties, and the tank's course from which they come.

use super::budget::Input;
use super::curve::{Grid, local_lines};
use super::{Burn, ONE_PROBE, PROBE_K, SAME_PROBE, Tank, beside, losses};
use crate::logs::{Event, Role};
use crate::properties::water::Water;

impl Burn<'_> {
    pub(super) fn tank(&self, assumed: &mut Vec<(String, String, String)>) -> Option<Tank> {
        let grid = Grid::new(self.reading, self.begin_s);
        let probes: Vec<_> = self
            .reading
            .channels
            .iter()
            .filter(|c| c.role.is_tank() && c.kept().count() >= 2)
            .collect();
        let columns: Vec<Vec<f64>> = probes.iter().map(|c| grid.of(c)).collect();
        let n = columns.len() as f64;
        // Each probe stands for an equal share of the water; where one is silent, there is no mean.
        let mean_k: Vec<f64> = (0..grid.time_s.len())
            .map(|i| columns.iter().map(|c| c[i]).sum::<f64>() / n)
            .collect();
        let start = mean_k.iter().position(|t| t.is_finite())?;
        // The top gives what is drawn and evaporates.
        let top_k = probes
            .iter()
            .position(|c| c.role == Role::TankTop)
            .map_or_else(|| mean_k.clone(), |i| columns[i].clone());
        let last_k = mean_k.iter().rev().find(|t| t.is_finite()).copied()?;
        let drawn = beside::drawn(&self.draws, &grid.time_s, &top_k, last_k);
        let before =
            |t: f64| -> f64 { drawn.iter().filter(|d| d.at_s <= t).map(|d| d.joule).sum() };
        let water = Water::shared();
        let mass_kg = self.g.volume_m3 * water.rho_kg_m3(mean_k[start]);
        let heat_j: Vec<f64> = mean_k
            .iter()
            .zip(&grid.time_s)
            .map(|(&t, &s)| {
                if t.is_finite() {
                    mass_kg * water.h_j_kg(t) + self.g.metal_j_k * t + before(s)
                } else {
                    f64::NAN
                }
            })
            .collect();
        let half_s = (1.6 * self.reading.step_s).max(300.0);
        let lines = local_lines(&grid.time_s, &heat_j, half_s);
        let end = match self.stated_end {
            Some(at) => mean_k
                .iter()
                .zip(&grid.time_s)
                .rposition(|(t, s)| t.is_finite() && *s <= at + 1.0)?,
            None => (start..mean_k.len())
                .filter(|i| mean_k[*i].is_finite())
                .max_by(|a, b| {
                    let at = |i: &usize| {
                        if lines[*i].0.is_finite() {
                            lines[*i].0
                        } else {
                            heat_j[*i]
                        }
                    };
                    at(a).total_cmp(&at(b))
                })?,
        };
        if end <= start {
            return None;
        }
        let spread = |i: usize| {
            let (lo, hi) = columns
                .iter()
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), c| {
                    (a.min(c[i]), b.max(c[i]))
                });
            0.5 * (hi - lo)
        };
        let end_s = grid.time_s[end];
        let drawn: Vec<_> = beside::drawn(&self.draws, &grid.time_s, &top_k, mean_k[end])
            .into_iter()
            .filter(|d| d.at_s <= end_s + 1.0 && d.at_s >= grid.time_s[start] - 1.0)
            .collect();
        let evaporated = self.g.surface.as_ref().map(|s| {
            beside::evaporated(
                s,
                self.g.ambient_k,
                &grid.time_s[start..=end],
                &top_k[start..=end],
            )
        });
        let outlet = self
            .reading
            .channels
            .iter()
            .find(|c| c.role == Role::CoilOut)
            .map(|c| grid.of(c));
        let pipes = self.g.pipe.as_ref().map(|p| {
            beside::pipes(
                p,
                self.reading,
                self.g.ambient_k,
                &grid.time_s[start..=end],
                &mean_k[start..=end],
                outlet.as_ref().map(|o| &o[start..=end]),
            )
        });
        let stated: Vec<f64> = probes.iter().filter_map(|c| c.uncertainty).collect();
        if stated.len() < probes.len() {
            assumed.push(("uncertainty of tank probes".into(), format!("{PROBE_K} K"), "kind unknown: ± 2 K as of a type K thermocouple with its converter, evenly likely; `uncertainty` in a [[channel]] states better".into()));
        }
        let square: f64 = probes
            .iter()
            .map(|c| c.uncertainty.unwrap_or(PROBE_K).powi(2))
            .sum();
        // Effective degrees of freedom of the mean of the probes (JCGM 100, G.2b).
        let lost: f64 = probes
            .iter()
            .filter_map(|c| Some(c.uncertainty?.powi(4) / c.freedom?))
            .sum();
        Some(Tank {
            drawn,
            evaporated,
            pipes,
            probe_freedom: if lost > 0.0 {
                square * square / lost
            } else {
                f64::INFINITY
            },
            half_spread_k: [spread(start), spread(end)],
            resolution_k: probes.iter().map(|c| c.resolution).fold(0.0, f64::max),
            probe_standard_k: square.sqrt() / n,
            probes: probes.len(),
            // A draw within the line is a jump, no power.
            power_w: lines
                .iter()
                .zip(&grid.time_s)
                .map(|(l, t)| {
                    let jump = self.draws.iter().any(|d| (d.0 - t).abs() <= half_s);
                    if jump { f64::NAN } else { l.1 }
                })
                .collect(),
            grid,
            mean_k,
            heat_j,
            half_s,
            start,
            end,
        })
    }

    /// Inputs in a fixed order: volume, start and end temperature, their distance from the true mean, metal, loss,
    /// wood, moisture, heating value, char, water drawn, evaporation.
    pub(super) fn inputs(
        &self,
        tank: &Tank,
        lost_j: Option<f64>,
        fuel_kg: Option<f64>,
        feeds: &[&Event],
    ) -> (Vec<Input>, Vec<(usize, usize, f64)>) {
        let g = &self.g;
        let (t0, t1) = (tank.mean_k[tank.start], tank.mean_k[tank.end]);
        let rise = (t1 - t0).abs();
        let n = tank.probes as f64;
        let apart = |i: usize| match (tank.probes, g.stirred) {
            (_, true) => 0.3,
            (1, false) if i == 0 => 0.5,
            (1, false) => (ONE_PROBE * rise).max(0.5),
            // The course between probes is unknown.
            _ => (tank.half_spread_k[i] / (3f64.sqrt() * n)).max(0.2),
        };
        let how = match (tank.probes, g.stirred) {
            (_, true) => "stirred".to_owned(),
            (1, false) => {
                "one probe in water that was not stirred: a tenth of the rise at the end".to_owned()
            }
            (k, false) => format!("{k} probes, the course between them unknown"),
        };
        let u_t = tank
            .probe_standard_k
            .hypot(tank.resolution_k / 12f64.sqrt());
        let shared = |whole: f64, part: f64, freedom: f64| match part > 0.0 {
            true => freedom * (whole / part).powi(4),
            false => f64::INFINITY,
        };
        let t_freedom = shared(u_t, tank.probe_standard_k, tank.probe_freedom);
        let input =
            |name: &str, value: f64, standard: f64, unit: &'static str, source: String| Input {
                name: name.to_owned(),
                value,
                standard,
                freedom: f64::INFINITY,
                unit,
                source,
            };
        let f = &g.fuel;
        let weighings = if f.total_kg.is_some() {
            1
        } else {
            feeds.len().max(1)
        };
        let digits: f64 = if f.total_kg.is_some() {
            0.0
        } else {
            feeds
                .iter()
                .map(|e| e.mass_half_digit_kg.powi(2) / 3.0)
                .sum()
        };
        let u_mass = (weighings as f64 * f.scale_kg.powi(2) + digits)
            .sqrt()
            .hypot(0.005 * fuel_kg.unwrap_or(0.0));
        let mass_freedom = shared(
            u_mass,
            (weighings as f64).sqrt() * f.scale_kg,
            f.scale_freedom,
        );
        let drawn_j: f64 = tank.drawn.iter().map(|d| d.joule).sum();
        // One bucket for all: their errors hang together.
        let u_drawn: f64 = tank.drawn.iter().map(|d| d.standard_j).sum();
        let (evaporated_j, u_evaporated) = tank.evaporated.unwrap_or((0.0, 0.0));
        let (heating, u_heating, heating_source, u_moisture) = match f.net {
            Some((v, u)) => (v, u, "net value as fired, from the mapping".to_owned(), 0.0),
            None => (
                f.gross_dry_j_kg,
                f.gross_standard,
                f.gross_source.clone(),
                f.moisture_standard,
            ),
        };
        let (char_band, char_how) = losses::char_left(g, feeds, tank.grid.time_s[tank.end]);
        let mut inputs = vec![
            input(
                "volume of water",
                g.volume_m3,
                g.volume_standard,
                "m3",
                g.volume_source.clone(),
            ),
            input(
                "start temperature",
                t0,
                u_t,
                "K",
                format!("{} probe(s), kind and last digit", tank.probes),
            ),
            input(
                "end temperature",
                t1,
                u_t,
                "K",
                format!("as the start; errors of the same probe hang together, r = {SAME_PROBE}"),
            ),
            input("stratification at start", 0.0, apart(0), "K", how.clone()),
            input("stratification at end", 0.0, apart(1), "K", how),
            input(
                "metal and losses meanwhile",
                g.metal_j_k * (t1 - t0) + lost_j.unwrap_or(0.0),
                0.2 * (g.metal_j_k * rise).hypot(lost_j.unwrap_or(0.0)),
                "J",
                format!("{}, 20 %", g.metal_source),
            ),
            input(
                "wood put in",
                fuel_kg.unwrap_or(1.0),
                u_mass,
                "kg",
                format!(
                    "{weighings} weighing(s) of {} kg each, scale 0.5 %",
                    f.scale_kg
                ),
            ),
            input(
                "moisture, wet basis",
                f.moisture_wet,
                u_moisture,
                "1",
                f.moisture_source.clone(),
            ),
            input(
                if f.net.is_some() {
                    "net heating value"
                } else {
                    "gross heating value, dry"
                },
                heating,
                u_heating,
                "J/kg",
                heating_source,
            ),
            // Evenly likely between its ends.
            input(
                "char left",
                char_band.value,
                (char_band.high - char_band.low) / 12f64.sqrt(),
                "J",
                char_how,
            ),
        ];
        inputs.push(input(
            "water drawn",
            drawn_j,
            u_drawn,
            "J",
            format!("{} draw(s) as stated", tank.drawn.len()),
        ));
        inputs.push(input(
            "evaporation",
            evaporated_j,
            u_evaporated,
            "J",
            "surface as stated, ASHRAE's form for pools, 25 %".into(),
        ));
        for (i, freedom) in [
            (0, g.volume_freedom),
            (1, t_freedom),
            (2, t_freedom),
            (6, mass_freedom),
            (7, f.moisture_freedom),
        ] {
            inputs[i].freedom = freedom;
        }
        (inputs, vec![(1, 2, SAME_PROBE)])
    }
}
