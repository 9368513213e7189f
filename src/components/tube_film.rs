//! Heat from the wall of a coil to the water in it: forced and natural convection, boiling, a wall that runs dry.

use super::tube::{NodeWater, TubeCell};
use super::tube_table::TubeTable;
use crate::correlations::{greater, lesser, whole_and_rest};
use crate::properties::water::Water;

/// Share of the inventory under which the wall is no longer fully wetted.
const DRY_SHARE: f64 = 0.05;
const G_M_S2: f64 = 9.80665;

/// Share of a cell's wall that is wetted.
#[inline]
pub fn wetted(cell: &TubeCell, liquid_kg: f64) -> f64 {
    if liquid_kg == cell.water_kg {
        return 1.0;
    }
    let s = (liquid_kg / cell.water_kg).max(0.0);
    (1.0 + DRY_SHARE) * s / (s + DRY_SHARE)
}

/// Natural convection in a tube whose water stands: (Nu^4)/(ΔT d^3) of the laminar cylinder against temperature
/// (Churchill & Chu 1975, Int. J. Heat Mass Transfer 18:1049, the laminar form, without its conduction limit, which
/// the forced side has already).
#[derive(Debug, Clone)]
pub struct NaturalTable {
    per_k_m3: [f64; Self::N + 1],
}

impl NaturalTable {
    const T0_K: f64 = 273.15;
    const STEP_K: f64 = 5.0;
    const N: usize = 40;

    pub fn new(water: &Water) -> Self {
        Self {
            per_k_m3: std::array::from_fn(|i| {
                let t = Self::T0_K + Self::STEP_K * i as f64;
                let p = water.liquid(t);
                let beta = expansion_per_k(water, t, p.rho_kg_m3);
                let nu = p.mu_pa_s / p.rho_kg_m3;
                let ra_per = G_M_S2 * beta * p.pr() / (nu * nu);
                let pr_part = (1.0 + (0.559 / p.pr()).powf(9.0 / 16.0)).powf(16.0 / 9.0);
                0.518f64.powi(4) * ra_per / pr_part
            }),
        }
    }

    /// Nu^4 per kelvin between wall and water and cubic metre of bore.
    #[inline]
    fn at(&self, t_k: f64) -> f64 {
        const LAST: f64 = NaturalTable::N as f64 - 1e-6;
        let x = (t_k - Self::T0_K) * (1.0 / Self::STEP_K);
        let (i, u) = whole_and_rest(greater(lesser(x, LAST), 0.0));
        let steps = &self.per_k_m3[i..i + 2];
        steps[0] + (steps[1] - steps[0]) * u
    }
}

/// (a³ + b³)^(1/3) by a cubic in the ratio's cube, to 5e-4.
#[inline]
fn third_powers(a: f64, b: f64) -> f64 {
    let (low, high) = if a < b { (a, b) } else { (b, a) };
    let t = low / high;
    let r = t * t * t;
    high * (1.0 + r * (1.0 / 3.0 + r * (-0.1028 + r * 0.0294)))
}

/// Boiling coefficient at a wall superheat, W/m2K: q ~ ΔT³ through 880 kW/m2 at 18 K (Rohsenow 1952, water on
/// polished copper at 1 bar), bent towards 25 kW/m2K so that the wall stays slower than a tenth of a second;
/// past the critical flux (about 1 MW/m2 at 35..45 K) it falls off to film boiling, 250 W/m2K (pool boiling curve, from memory).
#[inline]
fn boiling_w_m2k(superheat_k: f64) -> f64 {
    let h = 151.0 * superheat_k * superheat_k;
    let nucleate = h / (1.0 + h / 25e3);
    let x = superheat_k / 45.0;
    let x4 = x * x * x * x;
    (nucleate + 250.0 * x4) / (1.0 + x4)
}

/// What boiling adds to a film's coefficient, W/m2K: a wall above saturation boils also into water that is still colder, where its
/// bubbles collapse. `over_k` the wall's excess over the water.
#[inline(always)]
pub(super) fn boiling_adds_w_m2k(superheat_k: f64, over_k: f64) -> f64 {
    if superheat_k > 0.0 && over_k > 0.0 {
        boiling_w_m2k(superheat_k) * superheat_k / over_k.max(superheat_k)
    } else {
        0.0
    }
}

/// Expansion of water of this temperature and density, 1/K. It does not rise when it is warmed below 4 degC; what it does there is
/// as weak.
pub(super) fn expansion_per_k(water: &Water, t_k: f64, rho_kg_m3: f64) -> f64 {
    ((water.rho_kg_m3(t_k - 1.0) - water.rho_kg_m3(t_k + 1.0)) / (2.0 * rho_kg_m3)).max(0.0)
}

/// What a wall does at one moment.
#[derive(Debug, Clone, Copy)]
pub struct Film {
    pub heat_w: f64,
    /// Temperature of the wall's face.
    pub face_k: f64,
}

/// Heat from a cell's metal at `t_metal_k` into its water, and the wall's face, at a flow in either direction.
///
/// Forced and natural convection join by their third powers (Churchill 1977, AIChE J. 23:10, for aiding flow). A wall
/// above saturation boils also into water that is still colder: its bubbles collapse there.
#[inline(always)]
#[allow(clippy::too_many_arguments)] // a cell, its tables and its state
pub fn film(
    cell: &TubeCell,
    table: &TubeTable,
    natural: &NaturalTable,
    convection: f64,
    mdot_kg_s: f64,
    node: &NodeWater,
    t_metal_k: f64,
    liquid_kg: f64,
) -> Film {
    let over = t_metal_k - node.t_k;
    let re = mdot_kg_s * cell.re_per * node.per_mu;
    let forced = table.nu(TubeTable::place(re), node.t_k);
    let d = cell.inside_m;
    let standing = (natural.at(node.t_k) * over.abs() * d * d * d)
        .sqrt()
        .sqrt();
    let mut h_w_m2k =
        convection * third_powers(forced, standing) * node.k_w_mk * cell.per.inside_per_m;
    h_w_m2k += boiling_adds_w_m2k(t_metal_k - cell.sat.t_k, over);
    let g_w_k = h_w_m2k * cell.inside_area_m2 * wetted(cell, liquid_kg);
    let slowed = 1.0 + g_w_k * cell.per.metal_lag_k_w;
    let face_over = over / slowed;
    Film {
        heat_w: g_w_k * face_over,
        face_k: node.t_k + face_over,
    }
}
