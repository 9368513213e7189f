//! Water in a tube, marched exactly from cell to cell past nodes that carry metal and water together.
//!
//! One formulation covers forward, stagnant, reversed and boiling flow: the stream approaches the node
//! exponentially; where it reaches saturation inside the cell, the rest of the cell boils. At zero flow the
//! stream leaves at node temperature and carries nothing. Steam leaves the cell's own liquid inventory, which
//! the stream refills as far as it can; an inventory that is not refilled runs dry and the metal runs away.

use super::octaves::{from_octaves, octaves};
use crate::properties::water::{SatProps, Water};

const T_REF_K: f64 = 298.15;
/// Time in which a cell short of water takes it from the stream, s (a second of surging; bounded by the stream itself).
const REFILL_S: f64 = 1.0;
/// Flow that counts as none, kg/s: its enthalpy is no longer told from rounding.
const TRICKLE_KG_S: f64 = 1e-12;
/// Share of the inventory under which the wall is no longer fully wetted.
const DRY_SHARE: f64 = 0.05;
/// Drift velocity of steam through water in a tube, m/s, and distribution parameter (churn flow;
/// Zuber & Findlay 1965, from memory).
const DRIFT_M_S: f64 = 0.24;
const DISTRIBUTION: f64 = 1.2;

/// Constant data of one cell of coil or pipe. All figures are for the `parallel` tubes together, except diameters.
#[derive(Debug, Clone)]
pub struct TubeCell {
    pub metal_j_k: f64,
    pub water_kg: f64,
    pub inside_area_m2: f64,
    pub flow_area_m2: f64,
    pub inside_m: f64,
    pub length_m: f64,
    /// Height gained in forward direction.
    pub rise_m: f64,
    /// Velocity heads of fittings in this cell.
    pub loss_k: f64,
    /// To the surroundings (pipes only).
    pub loss_w_k: f64,
    /// Absolute pressure (static), and saturation there.
    pub p_pa: f64,
    pub sat: SatProps,
    /// Index of the coefficient table.
    pub table: usize,
    /// Index of the liquid inventory state (coil cells).
    pub inventory: Option<usize>,
}

impl TubeCell {
    /// Heat capacity that scales the node's state, J/K.
    #[inline]
    pub fn scale_j_k(&self) -> f64 {
        self.metal_j_k + self.water_kg * 4186.0
    }

    /// Node enthalpy above the reference, J.
    pub fn enthalpy_j(&self, water: &Water, t_k: f64, liquid_kg: f64) -> f64 {
        self.metal_j_k * (t_k - T_REF_K) + liquid_kg * water.h_j_kg(t_k)
    }

    /// Node temperature from its enthalpy and liquid inventory: one Newton step from the constant-cp guess
    /// (error < 1e-4 K between 0 and 200 °C; the energy account does not depend on it).
    #[inline]
    pub fn temperature_k(&self, water: &Water, enthalpy_j: f64, liquid_kg: f64) -> f64 {
        let m = liquid_kg.max(0.0);
        let c = self.metal_j_k + m * 4186.0;
        let t = T_REF_K + enthalpy_j / c;
        let (h, cp) = water.h_cp(t);
        t - (self.metal_j_k * (t - T_REF_K) + m * h - enthalpy_j) / (self.metal_j_k + m * cp)
    }
}

/// The stream between two cells.
#[derive(Debug, Clone, Copy)]
pub struct Stream {
    /// kg/s, never negative: the march goes with the flow.
    pub mdot_kg_s: f64,
    /// Enthalpy carried, W above liquid at the reference.
    pub enthalpy_w: f64,
    /// Specific enthalpy, J/kg: carried separately so that it is defined at zero flow.
    pub h_j_kg: f64,
    pub t_k: f64,
    /// Equilibrium vapour share, 0..1.
    pub quality: f64,
}

impl Stream {
    /// A stream of liquid at this enthalpy.
    pub fn liquid(water: &Water, mdot_kg_s: f64, h_j_kg: f64) -> Self {
        Self {
            mdot_kg_s,
            enthalpy_w: mdot_kg_s * h_j_kg,
            h_j_kg,
            t_k: water.t_from_h_k(h_j_kg),
            quality: 0.0,
        }
    }
}

/// What one cell does to stream and node.
#[derive(Debug, Clone, Copy)]
pub struct CellPass {
    pub out: Stream,
    /// Heat leaving the node with the water: to the stream, with steam, less refill water, W.
    pub from_node_w: f64,
    /// Heat through the wetted wall into the water, W.
    pub wall_heat_w: f64,
    /// Rate of the liquid inventory, kg/s.
    pub inventory_kg_s: f64,
    pub steam_kg_s: f64,
    /// Mean density in the cell, kg/m3.
    pub density_kg_m3: f64,
    /// Pressure loss by friction and fittings at the stream's flow, Pa.
    pub loss_pa: f64,
}

/// Nusselt number and friction of one kind of tube, tabulated at assembly over Reynolds and Prandtl number:
/// helix correlations cost several powers a cell, a lookup one logarithm.
#[derive(Debug, Clone)]
pub struct TubeTable {
    nu: Vec<[f64; Self::N_PR]>,
    f_re: Vec<f64>,
}

impl TubeTable {
    /// Of 1 + Re/200: up to Re = 409,400.
    const RE_OCTAVES: usize = 11;
    const RE_PER_OCTAVE: usize = 9;
    const RE0: f64 = 200.0;
    /// Of Pr/0.875: 0.875 to 14.
    const PR_OCTAVES: usize = 4;
    const PR_PER_OCTAVE: usize = 4;
    const N_PR: usize = Self::PR_OCTAVES * Self::PR_PER_OCTAVE + 1;
    const PR0: f64 = 0.875;

    /// Fills the tables from the correlations.
    pub fn new(nu: impl Fn(f64, f64) -> f64, f_re: impl Fn(f64) -> f64) -> Self {
        let re = |i: usize| Self::RE0 * (from_octaves(i as f64 / Self::RE_PER_OCTAVE as f64) - 1.0);
        let pr = |j: usize| Self::PR0 * from_octaves(j as f64 / Self::PR_PER_OCTAVE as f64);
        let rows = 0..=Self::RE_OCTAVES * Self::RE_PER_OCTAVE;
        Self {
            nu: rows
                .clone()
                .map(|i| std::array::from_fn(|j| nu(re(i), pr(j))))
                .collect(),
            f_re: rows.map(|i| f_re(re(i))).collect(),
        }
    }

    /// (Nu, Darcy f × Re).
    #[inline]
    pub fn at(&self, re: f64, pr: f64) -> (f64, f64) {
        let place = |octaves: f64, per: usize, count: usize| {
            (octaves * per as f64).clamp(0.0, (count * per) as f64 - 1e-9)
        };
        let x = place(
            octaves(1.0 + re / Self::RE0),
            Self::RE_PER_OCTAVE,
            Self::RE_OCTAVES,
        );
        let z = place(
            octaves(pr / Self::PR0),
            Self::PR_PER_OCTAVE,
            Self::PR_OCTAVES,
        );
        let (i, j) = (x as usize, z as usize);
        let (u, v) = (x - i as f64, z - j as f64);
        let (a, b) = (&self.nu[i], &self.nu[i + 1]);
        let lo = a[j] + (a[j + 1] - a[j]) * v;
        let hi = b[j] + (b[j + 1] - b[j]) * v;
        (
            lo + (hi - lo) * u,
            self.f_re[i] + (self.f_re[i + 1] - self.f_re[i]) * u,
        )
    }
}

/// Multipliers on the water side.
#[derive(Debug, Clone, Copy)]
pub struct WaterSide {
    pub convection: f64,
    pub friction: f64,
}

/// Boiling coefficient at a wall superheat, W/m2K: q ~ ΔT³ through 880 kW/m2 at 18 K (Rohsenow 1952, water on
/// polished copper at 1 bar), bent towards 25 kW/m2K so that the node stays slower than half a second;
/// past the critical flux (about 1 MW/m2 at 35..45 K) it falls off to film boiling, 250 W/m2K (pool boiling curve, from memory).
#[inline]
fn boiling_w_m2k(superheat_k: f64) -> f64 {
    let h = 151.0 * superheat_k * superheat_k;
    let nucleate = h / (1.0 + h / 25e3);
    let x = superheat_k / 45.0;
    let x4 = x * x * x * x;
    nucleate / (1.0 + x4) + 250.0 * x4 / (1.0 + x4)
}

/// e^-N, and its mean over the way, (1 - e^-N)/N, safe at small N.
#[inline]
fn approach(ntu: f64) -> (f64, f64) {
    let decay = (-ntu).exp();
    let mean = if ntu > 1e-6 {
        (1.0 - decay) / ntu
    } else {
        1.0 - 0.5 * ntu
    };
    (decay, mean)
}

/// Passes a stream through one cell.
///
/// `t_node_k` is the node (metal with its water), `liquid_kg` its inventory.
#[inline]
pub fn pass_cell(
    water: &Water,
    cell: &TubeCell,
    table: &TubeTable,
    side: WaterSide,
    input: &Stream,
    t_node_k: f64,
    liquid_kg: f64,
) -> CellPass {
    let sat = &cell.sat;
    let w = input.mdot_kg_s;
    let liq = water.liquid(if input.t_k < sat.t_k {
        input.t_k
    } else {
        sat.t_k
    });
    let re = 4.0 * w / cell.flow_area_m2 * cell.inside_m * 0.25 / liq.mu_pa_s;
    let pr = liq.cp_j_kgk * liq.mu_pa_s / liq.k_w_mk;
    let (nu, f_re) = table.at(re, pr);
    let wet = {
        let s = (liquid_kg / cell.water_kg).max(0.0);
        (1.0 + DRY_SHARE) * s / (s + DRY_SHARE)
    };
    let ua = side.convection * nu * liq.k_w_mk / cell.inside_m * cell.inside_area_m2 * wet;

    // Liquid part: exact approach to the node, as far as saturation.
    let c_flow = w * (1.0 - input.quality) * liq.cp_j_kgk;
    let excess = t_node_k - sat.t_k;
    let subcooled = input.t_k < sat.t_k - 1e-9 && input.quality <= 0.0;
    let (to_stream_w, boil_share, t_mean_k);
    if subcooled {
        let d = t_node_k - input.t_k;
        let ntu = ua / (c_flow + 1e-9);
        let (decay, mean_share) = approach(ntu);
        let t_end = t_node_k - d * decay;
        t_mean_k = (t_node_k - d * mean_share).min(sat.t_k);
        if t_end <= sat.t_k {
            to_stream_w = c_flow * d * (1.0 - decay);
            boil_share = 0.0;
        } else {
            to_stream_w = c_flow * (sat.t_k - input.t_k);
            boil_share = (1.0 - (d / excess).ln() / ntu).clamp(0.0, 1.0);
        }
    } else {
        boil_share = if excess >= 0.0 { 1.0 } else { 0.0 };
        if excess >= 0.0 {
            t_mean_k = sat.t_k;
            to_stream_w = 0.0;
        } else {
            // A colder wall condenses what steam there is along a share of the cell; the rest cools the liquid.
            let latent_w = (input.h_j_kg - sat.h_f_j_kg).max(0.0) * w;
            let most_w = -ua * excess;
            let condensing = if latent_w < most_w {
                latent_w / most_w
            } else {
                1.0
            };
            let c = w * liq.cp_j_kgk;
            let ntu = ua * (1.0 - condensing) / (c + 1e-9);
            let (decay, mean_share) = approach(ntu);
            to_stream_w = -(condensing * most_w) + c * excess * (1.0 - decay);
            t_mean_k = condensing * sat.t_k + (1.0 - condensing) * (t_node_k - excess * mean_share);
        }
    }
    let mut boil_w = if boil_share > 0.0 && excess > 0.0 {
        boil_share * (ua + boiling_w_m2k(excess) * cell.inside_area_m2 * wet) * excess
    } else {
        0.0
    };

    // What stays to refill the cell leaves the stream at the enthalpy that it has reached.
    let h_heated = if w > TRICKLE_KG_S {
        input.h_j_kg + to_stream_w / w
    } else {
        water.h_j_kg(t_node_k)
    };
    let h_liquid = h_heated.min(sat.h_f_j_kg);
    let (mut steam, mut refill, mut from_node_w);
    if cell.inventory.is_some() {
        let h_node = water.h_j_kg(t_node_k.min(sat.t_k + 30.0));
        steam = boil_w / (sat.h_g_j_kg - h_node);
        let short = (cell.water_kg - liquid_kg).max(0.0) / REFILL_S;
        let x_after = ((h_heated - sat.h_f_j_kg) / sat.h_fg_j_kg).clamp(0.0, 1.0);
        let l = w * (1.0 - x_after);
        refill = l * short / (l + short + 1e-12);
        from_node_w = to_stream_w + steam * sat.h_g_j_kg - refill * h_liquid;
    } else {
        // A pipe has no inventory of its own: what boils is carried by the stream, at most all of it.
        steam = 0.0;
        refill = 0.0;
        let most = w * (sat.h_g_j_kg - h_heated).max(0.0);
        boil_w = boil_w * most / (boil_w + most + 1e-12);
        from_node_w = to_stream_w + boil_w;
    }
    let mut w_out = (w + steam - refill).max(0.0);
    let mut enthalpy_w = input.enthalpy_w + from_node_w;
    let h_out = if w_out > TRICKLE_KG_S {
        enthalpy_w / w_out
    } else {
        // Next to nothing goes on. A cell with an inventory keeps it, mass and enthalpy, so that no stream carries
        // an enthalpy that its mass does not account for: the next cell would give the difference to what it passes on.
        if cell.inventory.is_some() {
            let kept = w_out.min(steam);
            steam -= kept;
            refill += w_out - kept;
            from_node_w -= enthalpy_w;
            w_out = 0.0;
            enthalpy_w = 0.0;
        }
        if boil_w > 0.0 {
            sat.h_f_j_kg
        } else {
            water.h_j_kg(t_node_k.min(sat.t_k))
        }
    };
    let quality = ((h_out - sat.h_f_j_kg) / sat.h_fg_j_kg).clamp(0.0, 1.0);
    let t_out = if h_out < sat.h_f_j_kg {
        water.t_from_h_k(h_out)
    } else if h_out > sat.h_g_j_kg {
        sat.t_k + (h_out - sat.h_g_j_kg) / 2000.0
    } else {
        sat.t_k
    };

    let x = 0.5 * (input.quality + quality);
    let rho_l = water.rho_kg_m3(t_mean_k);
    let g_flux = w / cell.flow_area_m2;
    // Mean of what comes in and what goes out: a cell that boils at rest sends steam up without any inflow.
    let vapour = 0.5 * (w * input.quality + w_out * quality);
    let (density_kg_m3, two_phase) = if vapour > 0.0 {
        let j_g = vapour / cell.flow_area_m2 / sat.rho_g_kg_m3;
        let j_l =
            0.5 * (w * (1.0 - input.quality) + w_out * (1.0 - quality)) / cell.flow_area_m2 / rho_l;
        let void = j_g / (DISTRIBUTION * (j_g + j_l) + DRIFT_M_S);
        (
            rho_l * (1.0 - void) + sat.rho_g_kg_m3 * void,
            1.0 + x * (rho_l / sat.rho_g_kg_m3 - 1.0),
        )
    } else {
        (rho_l, 1.0)
    };
    // f L/D ½ρv² with f = (f Re)/Re stays finite at rest.
    let laminar_like =
        f_re * liq.mu_pa_s * g_flux / (2.0 * rho_l * cell.inside_m * cell.inside_m) * cell.length_m;
    let fittings = cell.loss_k * 0.5 * g_flux * g_flux / rho_l;
    let loss_pa = side.friction * two_phase * (laminar_like + fittings);

    CellPass {
        out: Stream {
            mdot_kg_s: w_out,
            enthalpy_w,
            h_j_kg: h_out,
            t_k: t_out,
            quality,
        },
        from_node_w,
        wall_heat_w: to_stream_w + boil_w,
        inventory_kg_s: refill - steam,
        steam_kg_s: steam,
        density_kg_m3,
        loss_pa,
    }
}
