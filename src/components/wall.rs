//! A wall of layers, divided into nodes that hold enthalpy; cylindrical where the duct is round.
//!
//! Node state: e = H / (C T_s), H = C (θ + s θ²/2), θ = T − 298.15 K, so that energies stay linear in the
//! states and close to rounding. Conduction between nodes: two half-resistances with k at each node's temperature.

use super::spec::Layer;
use crate::correlations::greater;

pub(super) const T_REF_K: f64 = 298.15;
/// One scaled unit of a node's state, K.
pub const NODE_SCALE_K: f64 = 100.0;

/// One node of a wall (all cells of a section share geometry; each has its own state).
#[derive(Debug, Clone)]
pub struct WallNode {
    /// Heat capacity at the reference temperature, J/K.
    pub capacity_j_k: f64,
    /// Relative slope of the heat capacity, 1/K.
    pub capacity_slope_per_k: f64,
    /// Geometric resistance (times k) from the inner face to the node's centre, and from there to the outer face, 1/m.
    pub geo_in_per_m: f64,
    pub geo_out_per_m: f64,
    pub k0_w_mk: f64,
    pub k1_w_mk2: f64,
    /// Rate of the scaled state per watt.
    pub rate_per_w: f64,
    /// Index of its layer, its dry mass, and the free water that it may hold.
    pub layer: usize,
    pub dry_kg: f64,
    pub water_kg: f64,
    /// As `geo_in_per_m` and `geo_out_per_m`, times the vapour resistance factor; infinite where no vapour passes.
    pub vapour_in_per_m: f64,
    pub vapour_out_per_m: f64,
}

impl WallNode {
    /// Temperature from the scaled state.
    #[inline]
    pub fn temperature_k(&self, e: f64) -> f64 {
        let w = e * NODE_SCALE_K;
        if self.capacity_slope_per_k == 0.0 {
            return T_REF_K + w;
        }
        let d = 1.0 + 2.0 * self.capacity_slope_per_k * w;
        // Below zero heat capacity would have vanished; only a rejected trial step can get there.
        T_REF_K + 2.0 * w / (1.0 + greater(d, 0.01).sqrt())
    }

    /// Scaled state from temperature.
    pub fn state(&self, t_k: f64) -> f64 {
        let th = t_k - T_REF_K;
        (th + 0.5 * self.capacity_slope_per_k * th * th) / NODE_SCALE_K
    }

    /// Enthalpy above the reference, J.
    pub fn enthalpy_j(&self, e: f64) -> f64 {
        e * NODE_SCALE_K * self.capacity_j_k
    }

    /// Rate of the scaled state for a heat flow into the node.
    #[inline]
    pub fn rate(&self, heat_w: f64) -> f64 {
        heat_w * self.rate_per_w
    }

    #[inline]
    pub(super) fn conductivity_w_mk(&self, t_k: f64) -> f64 {
        greater(
            self.k0_w_mk + self.k1_w_mk2 * (t_k - T_REF_K),
            0.1 * self.k0_w_mk,
        )
    }

    /// From the inner face to the node's centre: geometric resistance, 1/m, and conductivity, W/mK.
    #[inline]
    pub fn inner_half(&self, t_k: f64) -> (f64, f64) {
        (self.geo_in_per_m, self.conductivity_w_mk(t_k))
    }

    /// Resistance from inner face to centre, K/W.
    #[inline]
    pub fn resistance_in_k_w(&self, t_k: f64) -> f64 {
        self.geo_in_per_m / self.conductivity_w_mk(t_k)
    }

    /// Resistance from centre to outer face, K/W.
    #[inline]
    pub fn resistance_out_k_w(&self, t_k: f64) -> f64 {
        self.geo_out_per_m / self.conductivity_w_mk(t_k)
    }
}

/// Shape of the wall's inner face.
#[derive(Debug, Clone, Copy)]
pub enum WallShape {
    /// A tube of this inner radius and length; other cross-sections by perimeter / 2π.
    Cylinder { inner_radius_m: f64, length_m: f64 },
    /// Flat walls of a box: area of the inner face and the half-width that the outer face gains with thickness.
    Box {
        inner_area_m2: f64,
        half_width_m: f64,
    },
}

/// A wall as a chain of nodes from the fire outwards.
#[derive(Debug, Clone)]
pub struct Wall {
    pub nodes: Vec<WallNode>,
    pub inner_area_m2: f64,
    pub outer_area_m2: f64,
    pub inner_emissivity: f64,
    pub outer_emissivity: f64,
    /// Lowest service limit among the layers, with the material's name and the node where that layer begins.
    pub limit: Option<(f64, String, usize)>,
}

/// Shares of a layer's thickness for its nodes: thin towards the fire, where temperatures move fastest.
fn shares(layer: &Layer, cell_factor: usize) -> Vec<f64> {
    if layer.thin {
        return vec![1.0];
    }
    let base: &[f64] = if layer.thickness_m > 0.04 {
        &[0.15, 0.35, 0.5]
    } else {
        &[0.35, 0.65]
    };
    let f = cell_factor.max(1);
    base.iter()
        .flat_map(|s| std::iter::repeat_n(s / f as f64, f))
        .collect()
}

impl Wall {
    /// Divides the layers into nodes.
    pub fn new(layers: &[Layer], shape: WallShape, cell_factor: usize) -> Self {
        let pi2 = 2.0 * std::f64::consts::PI;
        let mut nodes = Vec::new();
        let mut limit: Option<(f64, String, usize)> = None;
        let mut x = 0.0;
        // Inner face at depth x: resistance and volume of a slice x..x+dx.
        let slice = |x: f64, dx: f64| -> (f64, f64, f64) {
            match shape {
                WallShape::Cylinder {
                    inner_radius_m: r,
                    length_m: l,
                } => {
                    let (a, m, b) = (r + x, r + x + 0.5 * dx, r + x + dx);
                    (
                        (m / a).ln() / (pi2 * l),
                        (b / m).ln() / (pi2 * l),
                        0.5 * pi2 * l * (b * b - a * a),
                    )
                }
                WallShape::Box {
                    inner_area_m2: area,
                    half_width_m: w,
                } => {
                    // Area grows as the square of the distance from the centre (a box growing in three directions).
                    let at = |z: f64| area * ((w + z) / w).powi(2);
                    let (a, m, b) = (at(x), at(x + 0.5 * dx), at(x + dx));
                    (
                        0.5 * dx / (a * m).sqrt(),
                        0.5 * dx / (m * b).sqrt(),
                        dx * (a + 4.0 * m + b) / 6.0,
                    )
                }
            }
        };
        for (index, layer) in layers.iter().enumerate() {
            if let Some(l) = layer.limit_k
                && limit.as_ref().is_none_or(|(v, _, _)| l < *v)
            {
                limit = Some((l, layer.material.clone(), nodes.len()));
            }
            for share in shares(layer, cell_factor) {
                let dx = share * layer.thickness_m;
                let (gi, go, vol) = slice(x, dx);
                let capacity_j_k = vol * layer.density_kg_m3 * layer.heat_capacity_j_kgk;
                let dry_kg = vol * layer.density_kg_m3;
                let resistance = layer.vapour_resistance.unwrap_or(f64::INFINITY);
                nodes.push(WallNode {
                    capacity_j_k,
                    capacity_slope_per_k: layer.heat_capacity_slope_j_kgk2
                        / layer.heat_capacity_j_kgk,
                    geo_in_per_m: gi,
                    geo_out_per_m: go,
                    k0_w_mk: layer.conductivity_w_mk,
                    k1_w_mk2: layer.conductivity_slope_w_mk2,
                    rate_per_w: 1.0 / (capacity_j_k * NODE_SCALE_K),
                    layer: index,
                    dry_kg,
                    water_kg: layer.moisture * dry_kg,
                    vapour_in_per_m: resistance * gi,
                    vapour_out_per_m: resistance * go,
                });
                x += dx;
            }
        }
        let (inner_area_m2, outer_area_m2) = match shape {
            WallShape::Cylinder {
                inner_radius_m: r,
                length_m: l,
            } => (pi2 * r * l, pi2 * (r + x) * l),
            WallShape::Box {
                inner_area_m2: a,
                half_width_m: w,
            } => (a, a * ((w + x) / w).powi(2)),
        };
        Self {
            nodes,
            inner_area_m2,
            outer_area_m2,
            inner_emissivity: layers.first().map_or(0.9, |l| l.emissivity),
            outer_emissivity: layers.last().map_or(0.9, |l| l.emissivity),
            limit,
        }
    }

    /// Number of nodes.
    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// A wall without layers.
    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }

    /// Enthalpy of all nodes above the reference, J.
    pub fn enthalpy_j(&self, e: &[f64]) -> f64 {
        self.nodes
            .iter()
            .zip(e)
            .map(|(n, &e)| n.enthalpy_j(e))
            .sum()
    }
}

/// Convective coefficient of an outside surface against its excess over the air, tabulated once at assembly:
/// natural convection and wind cost a dozen powers, a lookup none.
#[derive(Debug, Clone)]
pub struct OutsideConvection {
    h_w_m2k: Vec<f64>,
}

impl OutsideConvection {
    const STEP_K: f64 = 8.0;
    const MAX_K: f64 = 1200.0;

    /// Tabulates `h(excess temperature)` for 0..1200 K.
    pub fn tabulate(h_w_m2k: impl Fn(f64) -> f64) -> Self {
        let n = (Self::MAX_K / Self::STEP_K) as usize + 1;
        Self {
            h_w_m2k: (0..n)
                .map(|i| h_w_m2k((i as f64 * Self::STEP_K).max(0.25)))
                .collect(),
        }
    }

    /// Coefficient at this excess (either sign), W/m2K.
    #[inline]
    pub fn at(&self, excess_k: f64) -> f64 {
        let x = excess_k.abs() / Self::STEP_K;
        let last = self.h_w_m2k.len() - 1;
        if x.is_nan() || x >= last as f64 {
            return self.h_w_m2k[last];
        }
        let i = x as usize;
        self.h_w_m2k[i] + (self.h_w_m2k[i + 1] - self.h_w_m2k[i]) * (x - i as f64)
    }
}

/// Heat from the outermost node to the air, W: half layer, then convection and radiation in parallel.
#[inline]
pub fn outside_loss_w(
    wall: &Wall,
    conv: &OutsideConvection,
    multiplier: f64,
    t_last_k: f64,
    t_air_k: f64,
) -> f64 {
    const SIGMA: f64 = 5.670374419e-8;
    let Some(last) = wall.nodes.last() else {
        return 0.0;
    };
    let (k, geo) = (last.conductivity_w_mk(t_last_k), last.geo_out_per_m);
    let dt_k = t_last_k - t_air_k;
    let coefficient = |ts: f64| {
        multiplier
            * wall.outer_area_m2
            * (conv.at(ts - t_air_k)
                + wall.outer_emissivity * SIGMA * (ts * ts + t_air_k * t_air_k) * (ts + t_air_k))
    };
    // The surface of an insulated wall is much colder than its last node. Passes lie on either side of the root in turn, so
    // that their means come to it fast; all this is tabulated at assembly and costs a burn nothing.
    let mut g = coefficient(t_last_k);
    for _ in 0..10 {
        g = 0.5 * (g + coefficient(t_air_k + dt_k * k / (k + g * geo)));
    }
    dt_k * g * k / (k + g * geo)
}
