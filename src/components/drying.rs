//! Free water in the pores of walls: it warms with its node, boils off behind a front, and below boiling diffuses out as vapour.
//!
//! State of a damp node: the share of its water that is left. Its energy state counts wall and water together, so that energy
//! and water stay linear in the states; a node that is dry is the same as one that never was damp.

use super::wall::{NODE_SCALE_K, T_REF_K, Wall, WallNode};
use crate::correlations::{greater, lesser};
use crate::properties::atmosphere::P_STD_PA;
use crate::properties::water::Water;

/// Specific heat of liquid water, J/kgK: between 25 and 100 degC (IF97: 104.8 and 419.1 kJ/kg).
pub const WATER_J_KGK: f64 = 4190.0;
/// Diffusion of vapour in still air at 333 K and standard pressure, kg/(m s Pa): Schirmer's formula, 2.306e-5 m2/s (T/273.15 K)^1.81
/// over the vapour's gas constant and T (EN ISO 12572, from memory); 9 % less at 298 K, 9 % more at 373 K.
pub const VAPOUR_IN_AIR: f64 = 2.15e-10;
/// Conductance from a node's mean temperature to the drying front within it, over the node's own from face to face (estimate): the
/// front lies anywhere in the node, on average where its mean temperature does, and what this stands for vanishes with the nodes' size. The
/// more, the nearer a node keeps to the boiling point and the stiffer it is: with 8 the nodes of a burn lag behind many small ones by 15 %
/// of the water at the worst moment, with 24 by 12 %, with 64 by 10 %, at twice the right-hand sides in a rig with damp fibre.
pub const TO_FRONT: f64 = 24.0;
/// The vapour's share of the pressure is taken as this at most where it diffuses: on top of it the pores breathe freely.
const MOST_VAPOUR: f64 = 0.9;

/// One damp node.
#[derive(Debug, Clone)]
struct DampNode {
    /// Among all nodes of all walls.
    node: usize,
    /// Of the layer that it belongs to, in [`DampRow::layers`].
    layer: usize,
    /// Ends of the row of damp nodes in one wall cell.
    first: bool,
    last: bool,
    wall: WallNode,
    /// Heat capacity of all its water over the dry node's at the reference.
    water_over_dry: f64,
    /// Diffusion from its middle to the inner and to the outer face of the wall, kg/(s Pa); 0 behind something tight.
    inwards: f64,
    outwards: f64,
    /// Conductance to the front over the conductivity, m.
    to_front_m: f64,
    /// Fastest rate at which what is left goes, 1/s: that of the node's own temperature.
    most_per_s: f64,
}

/// One layer of a wall that was given water.
#[derive(Debug, Clone, PartialEq)]
pub struct DampLayer {
    /// Path of the layer in the scenario, e.g. `firebox.wall[0]`.
    pub path: String,
    pub dry_kg: f64,
    /// That it may hold at a share of one.
    pub water_kg: f64,
}

/// All damp nodes of a network in the order of their walls' states; empty where all walls are dry.
#[derive(Debug, Clone)]
pub struct DampRow {
    nodes: Vec<DampNode>,
    layers: Vec<DampLayer>,
    /// Nodes pushed so far, damp or not.
    pushed: usize,
    p_air_pa: f64,
    /// Of the vapour in the air around.
    vapour_pa: f64,
    boils_k: f64,
    latent_j_kg: f64,
}

/// What leaves all damp nodes.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Dried {
    pub kg_s: f64,
    /// Its enthalpy above liquid water at the reference.
    pub heat_w: f64,
}

impl DampRow {
    /// None yet, in air of this pressure with that much vapour.
    pub fn new(water: &Water, p_air_pa: f64, vapour_pa: f64) -> Self {
        let boils_k = water.t_sat_k(p_air_pa);
        Self {
            nodes: Vec::new(),
            layers: Vec::new(),
            pushed: 0,
            p_air_pa,
            vapour_pa,
            boils_k,
            latent_j_kg: water.h_fg_at_t_j_kg(boils_k),
        }
    }

    /// Appends a wall of so many cells like this one, as [`super::wall_row::WallRow::push`]; `path` is the scenario's name of it.
    pub fn push(&mut self, wall: &Wall, cells: usize, path: &str) {
        let through = |n: &WallNode| n.vapour_in_per_m + n.vapour_out_per_m;
        let air = VAPOUR_IN_AIR * P_STD_PA / self.p_air_pa;
        let damp: Vec<usize> = (0..wall.len())
            .filter(|&i| wall.nodes[i].water_kg > 0.0)
            .collect();
        for _ in 0..cells {
            for &i in &damp {
                let n = &wall.nodes[i];
                let inwards = wall.nodes[..i].iter().map(through).sum::<f64>() + n.vapour_in_per_m;
                let outwards =
                    wall.nodes[i + 1..].iter().map(through).sum::<f64>() + n.vapour_out_per_m;
                let to_front_m = TO_FRONT / (n.geo_in_per_m + n.geo_out_per_m);
                let layer = self.layer(&format!("{path}[{}]", n.layer), n);
                self.nodes.push(DampNode {
                    node: self.pushed + i,
                    layer,
                    first: damp.first() == Some(&i),
                    last: damp.last() == Some(&i),
                    wall: n.clone(),
                    water_over_dry: n.water_kg * WATER_J_KGK / n.capacity_j_k,
                    inwards: air / inwards,
                    outwards: air / outwards,
                    to_front_m,
                    most_per_s: to_front_m * n.k0_w_mk / n.capacity_j_k,
                });
            }
            self.pushed += wall.len();
        }
    }

    /// Counts a node to its layer, and gives the layer's place.
    fn layer(&mut self, path: &str, n: &WallNode) -> usize {
        let at = self.layers.iter().position(|l| l.path == path);
        let at = at.unwrap_or_else(|| {
            self.layers.push(DampLayer {
                path: path.to_owned(),
                dry_kg: 0.0,
                water_kg: 0.0,
            });
            self.layers.len() - 1
        });
        self.layers[at].dry_kg += n.dry_kg;
        self.layers[at].water_kg += n.water_kg;
        at
    }

    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }

    /// Boiling point of the site, K.
    pub fn boils_k(&self) -> f64 {
        self.boils_k
    }

    /// Layers that were given water.
    pub fn layers(&self) -> &[DampLayer] {
        &self.layers
    }

    /// Water left in each of them, kg.
    pub fn water_by_layer_kg(&self, share: &[f64]) -> Vec<f64> {
        let mut kg = vec![0.0; self.layers.len()];
        for (n, share) in self.nodes.iter().zip(share) {
            kg[n.layer] += share * n.wall.water_kg;
        }
        kg
    }

    /// Water left in all, kg.
    pub fn water_kg(&self, share: &[f64]) -> f64 {
        let kg = self.nodes.iter().zip(share);
        kg.map(|(n, share)| share * n.wall.water_kg).sum()
    }

    /// The damp node at a place among all walls' nodes.
    pub fn at(&self, node: usize) -> Option<usize> {
        self.nodes.binary_search_by_key(&node, |n| n.node).ok()
    }

    /// Temperature of damp node `i` from its energy state and the share of its water.
    pub fn temperature_k(&self, i: usize, e: f64, share: f64) -> f64 {
        self.nodes[i].temperature_k(e, share)
    }

    /// Adds to the energy states of all walls, made for dry nodes at `t_k` each, what their water holds.
    pub fn add_water(&self, e: &mut [f64], share: &[f64]) {
        for (n, share) in self.nodes.iter().zip(share) {
            let t_k = n.wall.temperature_k(e[n.node]);
            e[n.node] += share * n.water_over_dry * (t_k - T_REF_K) / NODE_SCALE_K;
        }
    }

    /// Puts right the temperatures of damp nodes among those of all walls.
    #[inline]
    pub fn temperatures(&self, e: &[f64], share: &[f64], t_k: &mut [f64]) {
        for (n, share) in self.nodes.iter().zip(share) {
            t_k[n.node] = n.temperature_k(e[n.node], *share);
        }
    }

    /// Water that leaves: its heat is added to what leaves the nodes, the rates of the shares are set. `open` is working space of
    /// as many places as there are damp nodes.
    #[inline]
    pub fn dry(
        &self,
        water: &Water,
        t_k: &[f64],
        share: &[f64],
        open: &mut [f64],
        out_w: &mut [f64],
        share_per_s: &mut [f64],
    ) -> Dried {
        self.open_ways(share, open);
        let mut all = Dried::default();
        for (i, n) in self.nodes.iter().enumerate() {
            let t_k = t_k[n.node];
            let most_kg_s = n.most_per_s * share[i] * n.wall.water_kg;
            let wants_kg_s = self.wants_kg_s(n, water, t_k, open[i]);
            // Both smoothly: as much as heat and ways allow, and never faster than the node itself follows. Where a step has taken a
            // trace too much, it comes back.
            let kg_s = if most_kg_s <= 0.0 {
                most_kg_s
            } else {
                wants_kg_s * most_kg_s / (wants_kg_s + most_kg_s)
            };
            let front_k = lesser(t_k, self.boils_k);
            let heat_w = kg_s * (WATER_J_KGK * (front_k - T_REF_K) + water.h_fg_at_t_j_kg(front_k));
            out_w[n.node] += heat_w;
            share_per_s[i] = -kg_s / n.wall.water_kg;
            all.kg_s += kg_s;
            all.heat_w += heat_w;
        }
        all
    }

    /// Conductance for vapour of each node to both faces together, kg/(s Pa): water that lies in the way shuts it, as the vapour
    /// over it is no less.
    #[inline]
    fn open_ways(&self, share: &[f64], open: &mut [f64]) {
        let dry = |share: f64| 1.0 - lesser(greater(share, 0.0), 1.0);
        let mut way = 1.0;
        for (i, n) in self.nodes.iter().enumerate() {
            if n.first {
                way = 1.0;
            }
            open[i] = way * n.inwards;
            way *= dry(share[i]);
        }
        for (i, n) in self.nodes.iter().enumerate().rev() {
            if n.last {
                way = 1.0;
            }
            open[i] += way * n.outwards;
            way *= dry(share[i]);
        }
    }

    /// Water that would leave a node with plenty of it, kg/s: by diffusion through air that does not move (Stefan's law), and what
    /// heat boils off at the front.
    #[inline]
    fn wants_kg_s(&self, n: &DampNode, water: &Water, t_k: f64, open: f64) -> f64 {
        let p_pa = self.p_air_pa;
        let mut kg_s = 0.0;
        if open > 0.0 {
            let over = lesser(water.p_sat_pa(t_k), MOST_VAPOUR * p_pa);
            if over > self.vapour_pa {
                kg_s = open * p_pa * ((p_pa - self.vapour_pa) / (p_pa - over)).ln();
            }
        }
        if t_k > self.boils_k {
            let front_w_k = n.to_front_m * n.wall.conductivity_w_mk(t_k);
            kg_s += front_w_k * (t_k - self.boils_k) / self.latent_j_kg;
        }
        kg_s
    }

    /// A bound of how fast a damp node answers, 1/s: heat to both neighbours and to its front.
    pub fn fastest_per_s(&self) -> f64 {
        let of = |n: &DampNode| {
            let through_m = 1.0 / n.wall.geo_in_per_m + 1.0 / n.wall.geo_out_per_m;
            (through_m + n.to_front_m) * n.wall.k0_w_mk / n.wall.capacity_j_k
        };
        self.nodes.iter().map(of).fold(0.0, f64::max)
    }
}

impl DampNode {
    /// The wall's own formula with the water's heat capacity beside the node's.
    #[inline]
    fn temperature_k(&self, e: f64, share: f64) -> f64 {
        let per = 1.0 / (1.0 + greater(share, 0.0) * self.water_over_dry);
        let bend = 2.0 * self.wall.capacity_slope_per_k * NODE_SCALE_K;
        let d = 1.0 + bend * e * per * per;
        T_REF_K + 2.0 * NODE_SCALE_K * e * per / (1.0 + greater(d, 0.01).sqrt())
    }
}
