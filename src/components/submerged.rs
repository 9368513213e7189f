//! A coil that lies in the water of a drum: from that water through film, deposit and tube wall to the tube's metal.

use super::immersed::{Beside, in_layer_m};
use super::tube_film::expansion_per_k;
use crate::correlations::natural_convection;

const G_M_S2: f64 = 9.80665;
/// Between tube and water that are as warm as each other, K: a film still has a coefficient.
const LEAST_K: f64 = 1e-3;
/// How the film's coefficient goes with its own temperature difference, for Newton's steps: between the fourth and the third root.
const EXPONENT: f64 = 0.3;

/// The outside of one coil, assembled.
#[derive(Debug, Clone)]
pub struct Submerged {
    pub first_tube_cell: usize,
    /// Lower and upper end of each tube cell over the drum's floor, m, in the order of the water.
    pub spans_m: Vec<(f64, f64)>,
    /// Outside of one tube cell, all parallel tubes together, m2.
    pub cell_m2: f64,
    /// Outside diameter.
    pub outside_m: f64,
    /// Tube wall and deposit, on the outside, m2K/W.
    pub wall_m2k_w: f64,
}

impl Submerged {
    /// Heat from the drum's layers into the metal of the coil's tube cells, added to `into_metal_w` and taken from `of_layer_w`:
    /// all of it, W. `metal_k` and `into_metal_w` hold all tube cells.
    pub fn pass(
        &self,
        beside: &Beside,
        metal_k: &[f64],
        into_metal_w: &mut [f64],
        of_layer_w: &mut [f64],
    ) -> f64 {
        let mut all_w = 0.0;
        for (cell, &span) in self.spans_m.iter().enumerate() {
            let (mut wet_m, mut mean_k) = (0.0, 0.0);
            for (i, &layer_k) in beside.t_k.iter().enumerate() {
                let part_m = in_layer_m(span, i, beside.layer_m);
                wet_m += part_m;
                mean_k += part_m * layer_k;
            }
            if wet_m <= 0.0 {
                continue;
            }
            mean_k /= wet_m;
            let tube = self.first_tube_cell + cell;
            let t_k = metal_k[tube];
            let u_w_m2k = self.through_w_m2k(beside, mean_k, t_k);
            // What the falling level has bared gives nothing.
            let per_m = u_w_m2k * self.cell_m2 / (span.1 - span.0);
            for (i, (&layer_k, of_w)) in beside.t_k.iter().zip(&mut *of_layer_w).enumerate() {
                let q = per_m * in_layer_m(span, i, beside.layer_m) * (layer_k - t_k);
                *of_w -= q;
                into_metal_w[tube] += q;
                all_w += q;
            }
        }
        all_w
    }

    /// From water to metal, W/m2K on the outside. The film takes the share x of the difference that film, deposit and wall leave
    /// it: x (1 + R h(x)) = 1, by three of Newton's steps.
    pub fn through_w_m2k(&self, beside: &Beside, water_k: f64, metal_k: f64) -> f64 {
        let r = self.wall_m2k_w;
        let mut h = self.film_w_m2k(beside, water_k, metal_k);
        let mut x = 1.0 / (1.0 + r * h);
        for _ in 0..3 {
            h = self.film_w_m2k(beside, water_k, water_k + x * (metal_k - water_k));
            x -= (x * (1.0 + r * h) - 1.0) / (1.0 + (1.0 + EXPONENT) * r * h);
        }
        h / (1.0 + r * h)
    }

    /// Natural convection of a horizontal tube in water (Churchill & Chu), properties at the film's mean temperature, W/m2K.
    fn film_w_m2k(&self, beside: &Beside, water_k: f64, face_k: f64) -> f64 {
        let w = beside.water;
        let film_k = 0.5 * (water_k + face_k);
        let p = w.liquid(film_k);
        let beta = expansion_per_k(w, film_k, p.rho_kg_m3);
        let nu_m2_s = p.mu_pa_s / p.rho_kg_m3;
        let over_k = (water_k - face_k).abs().max(LEAST_K);
        let ra = G_M_S2 * beta * over_k * self.outside_m.powi(3) * p.pr() / (nu_m2_s * nu_m2_s);
        beside.convection * natural_convection::churchill_chu_cylinder(ra, p.pr()) * p.k_w_mk
            / self.outside_m
    }
}
