//! All walls of a network as one row of nodes, in the order of their states: what every moment asks of each node stands side
//! by side, so that one straight loop serves them all.

use super::wall::{NODE_SCALE_K, T_REF_K, Wall};
use crate::correlations::greater;

/// Nodes of all walls. The formulas are those of [`super::wall::WallNode`], which the tests hold it to.
#[derive(Debug, Clone, Default)]
pub struct WallRow {
    /// Twice the relative slope of the heat capacity over a scaled state.
    bend: Vec<f64>,
    k0_w_mk: Vec<f64>,
    k1_w_mk2: Vec<f64>,
    geo_in_per_m: Vec<f64>,
    geo_out_per_m: Vec<f64>,
    /// 1 where the next node belongs to the same wall, else 0.
    joined: Vec<f64>,
    rate_per_w: Vec<f64>,
}

impl WallRow {
    /// Appends a wall of so many cells like this one.
    pub fn push(&mut self, wall: &Wall, cells: usize) {
        for _ in 0..cells {
            for (i, n) in wall.nodes.iter().enumerate() {
                self.bend.push(2.0 * n.capacity_slope_per_k * NODE_SCALE_K);
                self.k0_w_mk.push(n.k0_w_mk);
                self.k1_w_mk2.push(n.k1_w_mk2);
                self.geo_in_per_m.push(n.geo_in_per_m);
                self.geo_out_per_m.push(n.geo_out_per_m);
                let last = i + 1 == wall.nodes.len();
                self.joined.push(if last { 0.0 } else { 1.0 });
                self.rate_per_w.push(n.rate_per_w);
            }
        }
    }

    /// Temperatures from the scaled states.
    #[inline(always)]
    pub fn temperatures(&self, e: &[f64], t_k: &mut [f64]) {
        for ((&bend, &e), t_k) in self.bend.iter().zip(e).zip(t_k) {
            let d = bend.mul_add(e, 1.0);
            *t_k = T_REF_K + 2.0 * NODE_SCALE_K * e / (1.0 + greater(d, 0.01).sqrt());
        }
    }

    /// Rates of the scaled states. `in_w` comes to the nodes from one side, `out_w` leaves them on the other; `passed_w` is
    /// working space, one longer than there are nodes.
    #[inline(always)]
    pub fn rates(
        &self,
        t_k: &[f64],
        in_w: &[f64],
        out_w: &[f64],
        k_w_mk: &mut [f64],
        passed_w: &mut [f64],
        de: &mut [f64],
    ) {
        let n = self.bend.len();
        let (t_k, in_w, out_w) = (&t_k[..n], &in_w[..n], &out_w[..n]);
        let (k_w_mk, passed_w, de) = (&mut k_w_mk[..n], &mut passed_w[..n + 1], &mut de[..n]);
        let (k0, k1) = (&self.k0_w_mk[..n], &self.k1_w_mk2[..n]);
        let (geo_in, geo_out) = (&self.geo_in_per_m[..n], &self.geo_out_per_m[..n]);
        let (joined, rate_per_w) = (&self.joined[..n], &self.rate_per_w[..n]);
        for i in 0..n {
            k_w_mk[i] = greater(k1[i].mul_add(t_k[i] - T_REF_K, k0[i]), 0.1 * k0[i]);
        }
        // Through the face after each node; one quotient for two half-resistances.
        for i in 1..n {
            let (a, b) = (k_w_mk[i - 1], k_w_mk[i]);
            passed_w[i] = joined[i - 1] * (t_k[i - 1] - t_k[i]) * a * b
                / geo_out[i - 1].mul_add(b, geo_in[i] * a);
        }
        (passed_w[0], passed_w[n]) = (0.0, 0.0);
        for i in 0..n {
            de[i] = (in_w[i] - out_w[i] + passed_w[i] - passed_w[i + 1]) * rate_per_w[i];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::components::spec::Layer;
    use crate::components::wall::WallShape;

    fn layer(thickness_m: f64, conductivity_w_mk: f64, slope: f64, thin: bool) -> Layer {
        Layer {
            material: "sample".into(),
            thickness_m,
            conductivity_w_mk,
            conductivity_slope_w_mk2: slope,
            density_kg_m3: 800.0,
            heat_capacity_j_kgk: 900.0,
            heat_capacity_slope_j_kgk2: if thin { 0.0 } else { 0.4 },
            emissivity: 0.9,
            limit_k: None,
            thin,
            moisture: 0.0,
            vapour_resistance: None,
        }
    }

    /// The row gives what each wall by itself gives, a wall of one node and one whose conductivity would vanish among them.
    #[test]
    fn identity_the_row_of_walls_is_its_walls_one_by_one() {
        let shape = WallShape::Cylinder {
            inner_radius_m: 0.075,
            length_m: 0.3,
        };
        let walls = [
            (Wall::new(&[layer(0.06, 1.1, -1e-3, false)], shape, 1), 1),
            (Wall::new(&[layer(0.001, 45.0, 0.0, true)], shape, 1), 2),
            (
                Wall::new(
                    &[
                        layer(0.05, 0.1, 2e-4, false),
                        layer(0.001, 45.0, -0.3, true),
                    ],
                    shape,
                    1,
                ),
                3,
            ),
        ];
        let mut row = WallRow::default();
        for (wall, cells) in &walls {
            row.push(wall, *cells);
        }
        let n = row.bend.len();
        let e: Vec<f64> = (0..n).map(|i| 9.0 * (1.0 + 3.0 * i as f64).sin()).collect();
        let mut t_k = vec![0.0; n];
        row.temperatures(&e, &mut t_k);
        let (mut in_w, mut out_w) = (vec![0.0; n], vec![0.0; n]);
        let (mut expected_k, mut expected) = (vec![0.0; n], vec![0.0; n]);
        let mut at = 0;
        for (wall, cells) in &walls {
            for _ in 0..*cells {
                let end = at + wall.len();
                in_w[at] = 40.0 + 7.0 * at as f64;
                out_w[end - 1] = 30.0 - 5.0 * at as f64;
                for (i, node) in (at..).zip(&wall.nodes) {
                    expected_k[i] = node.temperature_k(e[i]);
                }
                let t = &expected_k[at..end];
                // Between neighbours two half-resistances in series.
                let passed = |i: usize| match (wall.nodes.get(i), wall.nodes.get(i + 1)) {
                    (Some(a), Some(b)) => {
                        (t[i] - t[i + 1])
                            / (a.resistance_out_k_w(t[i]) + b.resistance_in_k_w(t[i + 1]))
                    }
                    _ => out_w[end - 1],
                };
                for (i, node) in wall.nodes.iter().enumerate() {
                    let from_w = if i == 0 { in_w[at] } else { passed(i - 1) };
                    expected[at + i] = node.rate(from_w - passed(i));
                }
                at = end;
            }
        }
        let (mut k, mut passed, mut de) = (vec![0.0; n], vec![9.0; n + 1], vec![0.0; n]);
        row.rates(&t_k, &in_w, &out_w, &mut k, &mut passed, &mut de);
        for i in 0..n {
            assert!((t_k[i] - expected_k[i]).abs() < 1e-10, "{i}");
            assert!(
                (de[i] - expected[i]).abs() < 1e-12 * (1.0 + expected[i].abs()),
                "{i}"
            );
        }
    }
}
