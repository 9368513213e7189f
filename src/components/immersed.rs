//! Walls that stand in water, the store's or a drum's: a stove submerged in its tub, a drum over a fire. They heat it without a loop.

use super::jacket::SHEET_K;
use super::tube_film::{boiling_adds_w_m2k, expansion_per_k};
use super::wall::Wall;
use crate::correlations::natural_convection;
use crate::properties::water::Water;

const G_M_S2: f64 = 9.80665;
/// Density for the head over it, kg/m3: water at some 60 degC.
const HEAD_KG_M3: f64 = 985.0;
/// Between wall and water that are as warm as each other, K: a film still has a coefficient.
const LEAST_K: f64 = 1e-3;

/// How a face stands in the water, with the length that its film's Rayleigh number goes by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Face {
    /// A side, as high as the whole part in the water.
    Upright { height_m: f64 },
    /// The store's bottom over the fire: its area over its perimeter.
    Upwards { length_m: f64 },
}

/// The outside of one part, assembled.
#[derive(Debug, Clone)]
pub struct Immersed {
    /// Lower and upper end of each wall cell over the vessel's floor, m.
    spans_m: Vec<(f64, f64)>,
    face: Face,
    /// Outside of one wall cell, m2.
    cell_m2: f64,
    /// From the outermost node's middle to its face, m2K/W.
    half_sheet_m2k_w: f64,
    /// Saturation in the middle of its height in the water, K.
    sat_k: f64,
}

/// The water of store or drum beside a wall or a coil.
#[derive(Clone, Copy)]
pub struct Beside<'a> {
    pub water: &'a Water,
    /// Height of one layer as it is now, m, and the layers' temperatures from the floor up.
    pub layer_m: f64,
    pub t_k: &'a [f64],
    /// Multiplier of the convection.
    pub convection: f64,
}

/// Height of a span that lies in layer `i`.
#[inline]
pub(super) fn in_layer_m((low_m, up_m): (f64, f64), i: usize, layer_m: f64) -> f64 {
    let floor_m = i as f64 * layer_m;
    (up_m.min(floor_m + layer_m) - low_m.max(floor_m)).max(0.0)
}

impl Immersed {
    /// Outside of one wall cell, m2.
    pub fn cell_m2(&self) -> f64 {
        self.cell_m2
    }

    /// Share of a wall cell's outside that is wet where water stands `depth_m` deep.
    pub fn wet_share(&self, cell: usize, depth_m: f64) -> f64 {
        let span = self.spans_m[cell];
        in_layer_m(span, 0, depth_m) / (span.1 - span.0)
    }

    /// `spans_m` of the wall cells over the vessel's floor, `depth_m` of the full
    /// store and what its surface is pressed by. `None`: nothing of it lies in the water.
    pub fn new(
        wall: &Wall,
        spans_m: Vec<(f64, f64)>,
        face: Face,
        water: &Water,
        (depth_m, surface_pa): (f64, f64),
    ) -> Option<Self> {
        let low_m = spans_m.iter().map(|s| s.0).fold(f64::INFINITY, f64::min);
        let up_m = spans_m
            .iter()
            .map(|s| s.1)
            .fold(f64::NEG_INFINITY, f64::max);
        let last = wall.nodes.last()?;
        let under_m = depth_m - 0.5 * (low_m.max(0.0) + up_m.min(depth_m));
        let any = spans_m.iter().any(|&s| in_layer_m(s, 0, depth_m) > 0.0);
        any.then(|| Self {
            spans_m,
            face,
            cell_m2: wall.outer_area_m2,
            half_sheet_m2k_w: last.resistance_out_k_w(SHEET_K) * wall.outer_area_m2,
            sat_k: water.sat(surface_pa + HEAD_KG_M3 * G_M_S2 * under_m).t_k,
        })
    }

    /// Heat from the outermost node of wall cell `cell` at `t_k` into the layers, added to `into_w`: all of it, W, and the share of
    /// the cell's outside that is wet now.
    #[inline]
    pub fn pass(&self, cell: usize, t_k: f64, beside: &Beside, into_w: &mut [f64]) -> (f64, f64) {
        let span = self.spans_m[cell];
        let (mut wet_m, mut mean_k) = (0.0, 0.0);
        for (i, &layer_k) in beside.t_k.iter().enumerate() {
            let part_m = in_layer_m(span, i, beside.layer_m);
            wet_m += part_m;
            mean_k += part_m * layer_k;
        }
        if wet_m <= 0.0 {
            return (0.0, 0.0);
        }
        mean_k /= wet_m;
        // Where the cell reaches out of the full store, its dry end is left to the air.
        let wet = wet_m / (span.1 - span.0);
        let h = film_w_m2k(beside, (t_k, mean_k, self.sat_k), self.face);
        let per_m = wet * self.cell_m2 * h / (1.0 + h * self.half_sheet_m2k_w) / wet_m;
        let mut all_w = 0.0;
        for (i, (&layer_k, into_w)) in beside.t_k.iter().zip(into_w).enumerate() {
            let q = per_m * in_layer_m(span, i, beside.layer_m) * (t_k - layer_k);
            *into_w += q;
            all_w += q;
        }
        (all_w, wet)
    }
}

/// From a wall to the water beside it, W/m2K: natural convection of an upright plate (Churchill & Chu) or of one under the water
/// (McAdams; at least as standing water conducts), and boiling.
#[inline]
fn film_w_m2k(beside: &Beside, (wall_k, water_k, sat_k): (f64, f64, f64), face: Face) -> f64 {
    let w = beside.water;
    let over_k = wall_k - water_k;
    // Over saturation bubbles stir the film; its properties stay those of water that is there.
    let film_k = 0.5 * (wall_k.min(sat_k) + water_k);
    let p = w.liquid(film_k);
    let beta = expansion_per_k(w, film_k, p.rho_kg_m3);
    let nu_m2_s = p.mu_pa_s / p.rho_kg_m3;
    let length_m = match face {
        Face::Upright { height_m } => height_m,
        Face::Upwards { length_m } => length_m,
    };
    let ra =
        G_M_S2 * beta * over_k.abs().max(LEAST_K) * length_m.powi(3) * p.pr() / (nu_m2_s * nu_m2_s);
    let nu = match face {
        Face::Upright { .. } => natural_convection::churchill_chu_plate(ra, p.pr()),
        // Over a plate colder than its water nothing rises.
        Face::Upwards { .. } if over_k > 0.0 => {
            natural_convection::horizontal_plate_up(ra).max(1.0)
        }
        Face::Upwards { .. } => natural_convection::horizontal_plate_down(ra).max(1.0),
    };
    beside.convection * nu * p.k_w_mk / length_m + boiling_adds_w_m2k(wall_k - sat_k, over_k)
}
