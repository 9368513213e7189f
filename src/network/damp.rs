//! Damp walls within the network: their water at the start, what leaves them, what is left.

use super::Network;
use super::layout::*;
use super::observe::Instant;
use crate::components::drying::DampLayer;
use crate::components::wall::WallNode;

/// One damp layer at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct LayerWater {
    pub layer: DampLayer,
    pub left_kg: f64,
}

impl Network {
    /// Some wall was given water.
    pub fn has_damp_walls(&self) -> bool {
        !self.damp.is_empty()
    }

    /// Shares of the damp nodes' water, in their order.
    pub fn damp_shares<'y>(&self, y: &'y [f64]) -> &'y [f64] {
        let l = &self.layout;
        &y[l.damp..l.damp + l.damp_count]
    }

    /// Water left in the walls, kg.
    pub fn damp_kg(&self, y: &[f64]) -> f64 {
        self.damp.water_kg(self.damp_shares(y))
    }

    /// The same by layer.
    pub fn damp_layers(&self, y: &[f64]) -> Vec<LayerWater> {
        let left = self.damp.water_by_layer_kg(self.damp_shares(y));
        let layers = self.damp.layers().iter();
        layers
            .zip(left)
            .map(|(layer, left_kg)| LayerWater {
                layer: layer.clone(),
                left_kg,
            })
            .collect()
    }

    /// Heat that has left with the vapour, J above liquid water at the reference, and its mass, kg.
    pub fn dried(&self, y: &[f64]) -> (f64, f64) {
        if self.damp.is_empty() {
            return (0.0, 0.0);
        }
        let at = self.layout.dried();
        (y[at] * E_SCALE_J, y[at + 1])
    }

    /// Gives the walls their water; their energy states are those of dry walls before.
    pub(super) fn wet_walls(&self, y: &mut [f64]) {
        let l = &self.layout;
        let (before, damp) = y.split_at_mut(l.damp);
        let shares = &mut damp[..l.damp_count];
        shares.fill(1.0);
        if self.carried.water.len() == l.damp_count {
            shares.copy_from_slice(&self.carried.water);
        }
        self.damp.add_water(&mut before[l.walls..], shares);
    }

    /// Temperature of a wall node with its energy state at `at`, K.
    pub(super) fn wall_node_k(&self, node: &WallNode, y: &[f64], at: usize) -> f64 {
        match self.damp.at(at - self.layout.walls) {
            Some(i) => self.damp.temperature_k(i, y[at], y[self.layout.damp + i]),
            None => node.temperature_k(y[at]),
        }
    }

    /// Vapour leaves the walls.
    pub(super) fn dry_walls(
        &self,
        y: &[f64],
        dy: &mut [f64],
        (t_k, open, out_w): (&[f64], &mut [f64], &mut [f64]),
        instant: &mut Instant,
    ) {
        let l = &self.layout;
        let rates = &mut dy[l.damp..l.damp + l.damp_count];
        let dried = self
            .damp
            .dry(self.water, t_k, self.damp_shares(y), open, out_w, rates);
        dy[l.dried()] = dried.heat_w / E_SCALE_J;
        dy[l.dried() + 1] = dried.kg_s;
        instant.drying_w = dried.heat_w;
    }
}
