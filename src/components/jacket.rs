//! A water jacket around a section or the firebox: the wall's outermost sheet, cut in its middle between wall and water.
//!
//! Half of the sheet is the wall's last node, half the metal of the jacket's tube cells. Steel passes heat from one half to
//! the other within a tenth of a second, which nothing outside notices and which would make the network stiff: the halves
//! store as if that took [`super::tube::METAL_DRIVEN_S`] or its like, while what lies before them meets the wall as it is.

use super::spec::{Coil, CoilForm, Layer};
use super::wall::Wall;
use std::borrow::Cow;

/// Temperature at which the sheet's conductivity is taken, K: water side of a heated sheet.
pub(super) const SHEET_K: f64 = 380.0;

/// A jacket, assembled: its tube cells lie on wall cells one after the other.
#[derive(Debug, Clone)]
pub struct Jacket {
    pub first_tube_cell: usize,
    /// Wall cell that tube cell `i` of the jacket lies on.
    pub wall_cell: Vec<usize>,
    /// Conductance from the wall's outermost node to one tube cell's metal as the states follow it, W/K.
    pub w_k: f64,
    /// Share of the difference between both that stands for the slowed storage, not for a resistance; over the number of tube
    /// cells on one wall cell.
    pub stored_share: f64,
}

/// The layers of a wall that stay with it: all, or with half of its sheet where water stands behind it.
pub fn gas_side(wall: &[Layer], jacketed: bool) -> Cow<'_, [Layer]> {
    if !jacketed {
        return Cow::Borrowed(wall);
    }
    let mut layers = wall.to_vec();
    if let Some(sheet) = layers.last_mut() {
        sheet.thickness_m *= 0.5;
    }
    Cow::Owned(layers)
}

impl Jacket {
    /// `wall` of one of `wall_cells` wall cells, without the half of its sheet that belongs to the `tubes` tube cells of
    /// `tube_wall_j_k` each; `metal_s` the time in which they may follow each other.
    pub fn new(
        c: &Coil,
        wall: &Wall,
        wall_cells: usize,
        (first_tube_cell, tubes): (usize, usize),
        (tube_wall_j_k, metal_s): (f64, f64),
        enters_at_gas_inlet: bool,
    ) -> Option<Self> {
        let CoilForm::Jacket {
            wall_m2, sheet_m, ..
        } = c.form
        else {
            return None;
        };
        let last = wall.nodes.last()?;
        let on_one = (tubes / wall_cells).max(1) as f64;
        let half_k_w = last.resistance_out_k_w(SHEET_K) * on_one
            + 0.25 * sheet_m * tubes as f64 / (c.metal.conductivity_w_mk * wall_m2);
        let slowed_k_w = metal_s * (on_one / last.capacity_j_k + 1.0 / tube_wall_j_k);
        let k_w = half_k_w.max(slowed_k_w);
        Some(Self {
            first_tube_cell,
            wall_cell: (0..tubes)
                .map(|i| {
                    let i = if enters_at_gas_inlet {
                        i
                    } else {
                        tubes - 1 - i
                    };
                    i * wall_cells / tubes
                })
                .collect(),
            w_k: 1.0 / k_w,
            stored_share: (1.0 - half_k_w / k_w) / on_one,
        })
    }

    /// Heat from wall to tube cells, added to both sides' accounts; takes from `wall_t_k` what only stands for slowed storage.
    /// `node` gives the place of a wall cell's outermost node. W, all tube cells together.
    #[inline]
    pub fn pass(
        &self,
        node: impl Fn(usize) -> usize,
        wall_t_k: &mut [f64],
        outer_heat_w: &mut [f64],
        tube_face_k: &[f64],
        tube_heat_w: &mut [f64],
    ) -> f64 {
        let (mut all, mut at) = (0.0, usize::MAX);
        let (mut t_k, mut stored_k) = (0.0, 0.0);
        for (i, &w) in self.wall_cell.iter().enumerate() {
            let n = node(w);
            if n != at {
                if at != usize::MAX {
                    wall_t_k[at] -= stored_k;
                }
                (at, t_k, stored_k) = (n, wall_t_k[n], 0.0);
            }
            let tube = self.first_tube_cell + i;
            let over_k = t_k - tube_face_k[tube];
            let q = self.w_k * over_k;
            stored_k += self.stored_share * over_k;
            outer_heat_w[n] += q;
            tube_heat_w[tube] += q;
            all += q;
        }
        if at != usize::MAX {
            wall_t_k[at] -= stored_k;
        }
        all
    }
}
