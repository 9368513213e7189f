//! Heat from a wall's outermost node to the air as a table: the surface's own temperature, found by passes, costs three
//! divisions one after the other each time.

use crate::correlations::{greater, lesser, whole_and_rest};

use super::wall::{OutsideConvection, Wall, outside_loss_w};

/// Conductance from the outermost node to the air, W/K, over the node's excess above the air and the air's temperature.
#[derive(Debug, Clone)]
pub struct OutsideTable {
    first_air_k: f64,
    per_air_step: f64,
    air_steps: usize,
    /// One row of excesses per air temperature.
    g_w_k: Vec<f64>,
}

/// Place of an air temperature among the rows.
#[derive(Debug, Clone, Copy)]
pub struct AirPlace {
    row: usize,
    u: f64,
}

impl OutsideTable {
    const STEP_K: f64 = 8.0;
    const LEAST_K: f64 = -96.0;
    const STEPS: usize = 162;
    const AIR_STEP_K: f64 = 5.0;

    /// Of one wall cell with its multiplier, for air between these temperatures. Evidence:
    /// `identity_the_table_of_outside_losses_matches_its_passes`.
    pub fn new(
        wall: &Wall,
        convection: &OutsideConvection,
        multiplier: f64,
        (least_k, most_k): (f64, f64),
    ) -> Self {
        let air_steps = ((most_k - least_k) / Self::AIR_STEP_K).ceil() as usize;
        let air_step_k = (most_k - least_k) / air_steps.max(1) as f64;
        let mut g_w_k = Vec::new();
        for j in 0..=air_steps {
            let air_k = least_k + air_step_k * j as f64;
            for i in 0..=Self::STEPS {
                let excess = Self::LEAST_K + Self::STEP_K * i as f64;
                // Conductance of an excess too small to matter where there is none.
                let excess = if excess == 0.0 { 1e-3 } else { excess };
                let loss = outside_loss_w(wall, convection, multiplier, air_k + excess, air_k);
                g_w_k.push(loss / excess);
            }
        }
        Self {
            first_air_k: least_k,
            per_air_step: if air_steps > 0 { 1.0 / air_step_k } else { 0.0 },
            air_steps,
            g_w_k,
        }
    }

    /// Place of an air temperature; held at the ends.
    pub fn place(&self, air_k: f64) -> AirPlace {
        let x = ((air_k - self.first_air_k) * self.per_air_step).clamp(0.0, self.air_steps as f64);
        let row = (x as usize).min(self.air_steps.saturating_sub(1));
        AirPlace {
            row,
            u: x - row as f64,
        }
    }

    /// Heat to the air, W; the conductance is held beyond the table's ends.
    #[inline]
    pub fn loss_w(&self, air: AirPlace, excess_k: f64) -> f64 {
        const N: usize = OutsideTable::STEPS + 1;
        // Just within the last step; what is no number lies there too.
        const LAST: f64 = OutsideTable::STEPS as f64 - 1e-6;
        let x = (excess_k - Self::LEAST_K) * (1.0 / Self::STEP_K);
        let (i, u) = whole_and_rest(greater(lesser(x, LAST), 0.0));
        let row = |j: usize| {
            let g = &self.g_w_k[j * N + i..j * N + i + 2];
            (g[1] - g[0]).mul_add(u, g[0])
        };
        let mut g_w_k = row(air.row);
        if air.u > 0.0 {
            g_w_k += (row(air.row + 1) - g_w_k) * air.u;
        }
        excess_k * g_w_k
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::components::spec::Layer;
    use crate::components::wall::WallShape;

    fn layer(thickness_m: f64, k: f64, thin: bool) -> Layer {
        Layer {
            material: "test".into(),
            thickness_m,
            density_kg_m3: 1000.0,
            heat_capacity_j_kgk: 1000.0,
            heat_capacity_slope_j_kgk2: 0.0,
            conductivity_w_mk: k,
            conductivity_slope_w_mk2: 0.0,
            emissivity: 0.9,
            limit_k: None,
            thin,
            moisture: 0.0,
            vapour_resistance: None,
        }
    }

    #[test]
    fn identity_the_table_of_outside_losses_matches_its_passes() {
        let convection = OutsideConvection::tabulate(|excess| 1.3 * excess.cbrt() + 2.0);
        let shape = WallShape::Cylinder {
            inner_radius_m: 0.1,
            length_m: 1.0,
        };
        for layers in [
            vec![layer(1e-3, 45.0, true)],
            vec![layer(0.05, 0.08, false)],
            vec![layer(0.1, 1.0, false)],
        ] {
            let wall = Wall::new(&layers, shape, 1);
            for air in [(283.15, 283.15), (263.15, 303.15)] {
                let table = OutsideTable::new(&wall, &convection, 1.2, air);
                for (t_air, t_last) in [
                    (283.15, 283.15),
                    (283.15, 268.4),
                    (283.15, 291.7),
                    (283.15, 340.0),
                    (283.15, 517.3),
                    (283.15, 1100.0),
                    // Between rows, at the range's ends and (held) beyond.
                    (285.9, 340.0),
                    (285.9, 900.0),
                    (264.0, 300.0),
                    (302.9, 320.0),
                    (303.15, 1450.0),
                ] {
                    let t_air = f64::clamp(t_air, air.0, air.1);
                    let exact = outside_loss_w(&wall, &convection, 1.2, t_last, t_air);
                    let got = table.loss_w(table.place(t_air), t_last - t_air);
                    let off = (got - exact).abs();
                    assert!(
                        off < 3e-3 * exact.abs() + 0.05,
                        "{t_last}: {got} for {exact}"
                    );
                }
                // Beyond the hottest step the conductance stays.
                for t_air in [air.0, air.1] {
                    let at = table.place(t_air);
                    let (end, far) = (table.loss_w(at, 1200.0), table.loss_w(at, 2400.0));
                    assert!((far / end - 2.0).abs() < 1e-12, "{far} {end}");
                }
            }
        }
    }
}
