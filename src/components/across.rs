//! A dry wall across the gas from one in water: how gas and both walls share heat.

use super::gas_path::grey_exchange;
use super::outside_table::OutsideTable;
use super::wall::Wall;
use crate::correlations::lesser;
use crate::correlations::radiation::{STEFAN_BOLTZMANN, linearised_h_w_m2k};

/// A dry wall across the gas from one that stands in water: both see each other through the gas. In a section without turns.
#[derive(Debug, Clone)]
pub struct Across {
    /// Of one wall cell.
    pub wall: Wall,
    /// First wall state; as many wall cells as the section has.
    pub wall_state: usize,
    /// Per gas cell.
    pub area_m2: f64,
    /// Area × view × emissivities between both, per gas cell, m2.
    pub view_m2: f64,
    pub outside: OutsideTable,
}

impl Across {
    /// Area × exchange factor of two grey surfaces that close a section, the smaller of which sees the other alone: 1/(1/(A F) + (1 − ε₁)/(ε₁ A₁) +
    /// (1 − ε₂)/(ε₂ A₂)) (handbook, e.g. Incropera & DeWitt, 6th ed., eq. 13.18).
    pub fn exchange_m2((a_m2, eps_a): (f64, f64), (b_m2, eps_b): (f64, f64)) -> f64 {
        let skin = |m2: f64, eps: f64| (1.0 - eps) / (eps * m2);
        1.0 / (1.0 / lesser(a_m2, b_m2) + skin(a_m2, eps_a) + skin(b_m2, eps_b))
    }
}

/// Conductances between the gas, the innermost node of a wall and that of a dry wall across.
pub(super) struct Facing {
    pub gas_to_wall: f64,
    pub gas_to_across: f64,
    pub across_to_wall: f64,
    /// Share of the way from node to gas at which the wall's surface is, and what the brick adds to that, K.
    pub wall_behind: f64,
    pub wall_over_k: f64,
}

/// Both walls' surfaces, which store nothing, are eliminated from the network of gas, surfaces and nodes (star to triangle). Of the wall: its area, exchange factor with the
/// gas and the convection that both have; `(geo, k_w_mk)` the way to its node; `cells_per_gas_cell` gas cells to a wall cell.
#[inline(never)]
pub(super) fn facing(
    a: &Across,
    cells_per_gas_cell: f64,
    (t_gas_k, eps_gas): (f64, f64),
    (t_wall_k, t_across_k): (f64, f64),
    (wall_m2, eps_wall, h_conv_w_m2k): (f64, f64, f64),
    (geo, k_w_mk): (f64, f64),
) -> Facing {
    let eps = grey_exchange(eps_gas, a.wall.inner_emissivity);
    let (geo_in, k_in) = a.wall.nodes[0].inner_half(t_across_k);
    let behind_w_k = k_in / (geo_in * cells_per_gas_cell);
    let view_m2 = a.view_m2 * (1.0 - eps_gas);
    // Insulating bricks shine with their face, far above their node; a wall under tar meets it with its own.
    let (mut face_k, mut wet_k) = (t_across_k, t_wall_k);
    let (mut film_w_k, mut from_gas, mut between) = (0.0, 0.0, 0.0);
    for _ in 0..3 {
        film_w_k = wall_m2 * (h_conv_w_m2k + linearised_h_w_m2k(eps_wall, t_gas_k, wet_k));
        from_gas = a.area_m2 * (h_conv_w_m2k + linearised_h_w_m2k(eps, t_gas_k, face_k));
        between = view_m2 * linearised_h_w_m2k(1.0, face_k, wet_k);
        let net = from_gas * (t_gas_k - face_k) + behind_w_k * (t_across_k - face_k)
            - between * (face_k - wet_k);
        let tangent = 4.0 * view_m2 * STEFAN_BOLTZMANN * face_k * face_k * face_k;
        face_k += net / (from_gas + behind_w_k + tangent);
        let onto = film_w_k * (t_gas_k - t_wall_k) + between * (face_k - t_wall_k);
        wet_k = t_wall_k + geo * onto / (film_w_k + between).mul_add(geo, k_w_mk);
    }
    let per = 1.0 / (from_gas + between + behind_w_k);
    let (film, shone) = (
        film_w_k + from_gas * between * per,
        between * behind_w_k * per,
    );
    let resists = 1.0 / ((film + shone).mul_add(geo, k_w_mk));
    Facing {
        gas_to_wall: film * k_w_mk * resists,
        gas_to_across: from_gas * behind_w_k * per + film * shone * geo * resists,
        across_to_wall: shone * k_w_mk * resists,
        wall_behind: film * geo * resists,
        wall_over_k: shone * geo * resists * (t_across_k - t_wall_k),
    }
}
