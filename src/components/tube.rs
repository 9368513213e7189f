//! Water in a tube: cells that hold their own water, and a stream that passes them one after the other.
//!
//! The stream and a cell's water change places within a fixed short time. Slow water is thus what the cell holds and
//! moves on with the delay of the cell's volume; fast water is through before it has changed places and is not
//! delayed beyond its residence; in both the mean delay is the residence time, and no cell is stiffer than the
//! exchange. One formulation covers forward, stagnant, reversed and boiling flow. At zero flow the stream leaves with
//! the cell's enthalpy and carries nothing. Water hotter than saturation turns to steam out of the cell's own liquid
//! inventory, which the stream refills as far as it can; an inventory that is not refilled runs dry and the metal
//! runs away.

pub use super::tube_film::{Film, NaturalTable, film};
pub use super::tube_table::TubeTable;

use super::tube_film::wetted;
use crate::correlations::{boiling, greater, lesser};
use crate::properties::water::{SatProps, Water};

const T_REF_K: f64 = 298.15;
/// How far liquid is followed over saturation where it gives its steam, J/kg: some 30 K. Water flashes before that; without an
/// end a wild trial state would make steam of nothing.
const SUPERHEATED_J_KG: f64 = 1.3e5;
/// Time in which a cell short of water takes it from the stream, s (a second of surging; bounded by the stream itself).
const REFILL_S: f64 = 1.0;
/// Flow that counts as none, kg/s: its enthalpy is no longer told from rounding.
const TRICKLE_KG_S: f64 = 1e-12;
/// Drift velocity of steam through water in a tube, m/s, and distribution parameter (churn flow;
/// Zuber & Findlay 1965, from memory).
const DRIFT_M_S: f64 = 0.24;
const DISTRIBUTION: f64 = 1.2;

/// How water changes places with the stream that passes it.
///
/// F the cell's water over `exchange_s`, w the stream: F²/(F² + F w + w²) of the stream changes places, so that no cell
/// follows it faster than a third of the inverse of `exchange_s`; but a slow front is smeared by twice `exchange_s` times the
/// time that it spends in the cell. Where that must not be, F⁴/(F⁴ + s F³ w + w⁴), s next to nothing: slow water moves on as
/// the cells hold it, and a cell follows six tenths as fast as the inverse at most.
#[derive(Debug, Clone, Copy)]
pub struct Carriage {
    /// Time in which a stream changes places with a cell's water, s.
    pub exchange_s: f64,
    /// What a cell's water needs to give heat to steam or take it from it, besides the exchange, s: together a second at rest.
    pub boiling_s: f64,
    /// Residence in a cell from which on it has a profile along its length, s.
    pub profile_s: f64,
    /// Fronts stay sharp: the second law above, and a profile of third order.
    pub sharp: bool,
}

/// s of [`Carriage`]: at rest the sharp exchange takes that share of its time.
pub const REST_SHARE: f64 = 0.05;
/// In a loop that moves by itself: how soon its columns warm, and where in them a front is, decides its flow.
pub const FREE: Carriage = Carriage {
    exchange_s: 0.5,
    boiling_s: 0.975,
    profile_s: 0.5,
    sharp: true,
};
/// In one that is built to be driven and stands, as after its pump's stop: its cells are too long for sharp fronts, which would come
/// to boiling a tenth sooner than with shorter ones.
pub const STOPPED: Carriage = Carriage {
    exchange_s: 1.0,
    boiling_s: 0.0,
    profile_s: 1.5,
    sharp: false,
};
/// In one that is driven: anything faster or sharper only makes the cells stiffer.
pub const DRIVEN: Carriage = Carriage {
    exchange_s: 4.0,
    boiling_s: 0.0,
    profile_s: 20.0,
    sharp: false,
};
/// Time in which a coil's metal follows its film at the least, s, by what the loop is built for: turbulent water takes copper's
/// heat in a quarter of a second. It makes the metal store as if it were warmer by its heat over this time; the face that gas
/// and water meet is not touched by it.
pub const METAL_FREE_S: f64 = 0.3;
pub const METAL_DRIVEN_S: f64 = 4.0;

/// Constant data of one cell of coil or pipe. All figures are for the `parallel` tubes together, except diameters.
#[derive(Debug, Clone)]
pub struct TubeCell {
    /// Metal that is as warm as the water: all of a pipe's without a wall state, the inner skin of a coil's.
    pub metal_j_k: f64,
    /// Metal with a temperature of its own (coils, and pipes of a loop that moves by itself).
    pub wall_j_k: f64,
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
    /// [`METAL_FREE_S`] or [`METAL_DRIVEN_S`].
    pub metal_s: f64,
    /// What flow makes Reynolds number × viscosity, and losses × density: d/A, L/(2 d² A), K/(2 A²).
    pub re_per: f64,
    pub skin_per: f64,
    pub fittings_per: f64,
    /// Inverses of what every moment divides by.
    pub per: Inverses,
    /// Heat through the wetted wall at the critical flux of standing water, inverse, 1/W.
    pub per_critical_w: f64,
    /// What it loses goes through a shell that the water touches, not through its heated wall.
    pub shelled: bool,
    /// Index of the coefficient table.
    pub table: usize,
    /// Index of the liquid inventory (coil cells).
    pub inventory: Option<usize>,
    /// Index of the metal's temperature, where it has one: a coil's cells, then the pipes'.
    pub wall: Option<usize>,
}

/// Inverses of a cell's figures: node state per watt, metal's rate per watt, of its bore.
#[derive(Debug, Clone, Copy, Default)]
pub struct Inverses {
    pub scale_k_j: f64,
    pub wall_k_j: f64,
    pub inside_per_m: f64,
    /// [`TubeCell::metal_s`] over the metal's heat capacity, s K/J.
    pub metal_lag_k_w: f64,
}

/// Water of a cell at one moment.
#[derive(Debug, Clone, Copy, Default)]
pub struct NodeWater {
    pub t_k: f64,
    /// J/kg above the reference.
    pub h_j_kg: f64,
    pub rho_kg_m3: f64,
    pub cp_j_kgk: f64,
    pub mu_pa_s: f64,
    /// Over the viscosity.
    pub per_mu: f64,
    pub k_w_mk: f64,
}

impl NodeWater {
    /// Water at this temperature.
    #[inline]
    pub fn at(water: &Water, t_k: f64) -> Self {
        let (p, h_j_kg) = water.liquid_and_h(t_k);
        Self {
            t_k,
            h_j_kg,
            rho_kg_m3: p.rho_kg_m3,
            cp_j_kgk: p.cp_j_kgk,
            mu_pa_s: p.mu_pa_s,
            per_mu: 1.0 / p.mu_pa_s,
            k_w_mk: p.k_w_mk,
        }
    }
}

impl TubeCell {
    /// With the figures that follow from the others.
    pub fn prepared(mut self) -> Self {
        let (a, d) = (self.flow_area_m2, self.inside_m);
        self.re_per = d / a;
        self.skin_per = self.length_m / (2.0 * d * d * a);
        self.fittings_per = self.loss_k / (2.0 * a * a);
        self.per = Inverses {
            scale_k_j: 1.0 / self.scale_j_k(),
            wall_k_j: 1.0 / self.wall_j_k,
            inside_per_m: 1.0 / d,
            metal_lag_k_w: self.metal_s / self.wall_j_k,
        };
        let s = &self.sat;
        self.per_critical_w = 1.0
            / (self.inside_area_m2
                * boiling::zuber_chf_w_m2(&boiling::Saturated {
                    rho_f_kg_m3: s.rho_f_kg_m3,
                    rho_g_kg_m3: s.rho_g_kg_m3,
                    mu_f_pa_s: s.mu_f_pa_s,
                    cp_f_j_kgk: s.cp_f_j_kgk,
                    k_f_w_mk: s.k_f_w_mk,
                    h_fg_j_kg: s.h_fg_j_kg,
                    sigma_n_m: s.sigma_n_m,
                }));
        self
    }

    /// Heat capacity that scales the node's state, J/K.
    #[inline]
    pub fn scale_j_k(&self) -> f64 {
        self.metal_j_k + self.water_kg * 4186.0
    }

    /// Node enthalpy above the reference, J.
    pub fn enthalpy_j(&self, water: &Water, t_k: f64, liquid_kg: f64) -> f64 {
        self.metal_j_k * (t_k - T_REF_K) + liquid_kg * water.h_j_kg(t_k)
    }

    /// The node from its enthalpy and liquid inventory: one Newton step from the constant-cp guess
    /// (error < 1e-4 K between 0 and 120 °C, 0.03 K at 200 °C; the energy account does not depend on it). Density, viscosity and
    /// conductivity are those of the guess, half a kelvin off at most.
    #[inline(always)]
    pub fn node(&self, water: &Water, enthalpy_j: f64, liquid_kg: f64) -> NodeWater {
        let m = greater(liquid_kg, 0.0);
        let per_j = if liquid_kg == self.water_kg {
            self.per.scale_k_j
        } else {
            1.0 / (self.metal_j_k + m * 4186.0)
        };
        let guess = enthalpy_j.mul_add(per_j, T_REF_K);
        let mut n = NodeWater::at(water, guess);
        let short_j = m.mul_add(
            -n.h_j_kg,
            self.metal_j_k.mul_add(T_REF_K - guess, enthalpy_j),
        );
        // 1/(metal + m cp) to first order in cp - 4186.
        let step = short_j * per_j * (m * per_j).mul_add(4186.0 - n.cp_j_kgk, 1.0);
        n.t_k += step;
        n.h_j_kg = n.cp_j_kgk.mul_add(step, n.h_j_kg);
        n
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
    /// Equilibrium vapour share, 0..1.
    pub quality: f64,
}

impl Stream {
    /// A stream of liquid at this enthalpy.
    pub fn liquid(mdot_kg_s: f64, h_j_kg: f64) -> Self {
        Self {
            mdot_kg_s,
            enthalpy_w: mdot_kg_s * h_j_kg,
            h_j_kg,
            quality: 0.0,
        }
    }
}

/// Temperature of water, wet steam or steam (2 kJ/kgK) of an enthalpy, K.
#[inline(always)]
pub fn temperature_k(water: &Water, sat: &SatProps, h_j_kg: f64) -> f64 {
    if h_j_kg < sat.h_f_j_kg {
        water.t_from_h_k(h_j_kg)
    } else {
        sat.t_k + (h_j_kg - sat.h_g_j_kg).max(0.0) / 2000.0
    }
}

/// What one cell does to stream and node.
#[derive(Debug, Clone, Copy)]
pub struct CellPass {
    pub out: Stream,
    /// Heat leaving the node with the water: to the stream, with steam, less refill water, W.
    pub from_node_w: f64,
    /// Rate of the liquid inventory, kg/s.
    pub inventory_kg_s: f64,
    pub steam_kg_s: f64,
    /// Mean density in the cell, kg/m3.
    pub density_kg_m3: f64,
    /// Pressure loss by friction and fittings at the stream's flow, Pa.
    pub loss_pa: f64,
}

/// Enthalpy of a cell's water at the end where the stream leaves, J/kg: a straight profile through the cell, and none at a
/// peak, on a drying wall or where water is through within seconds: there a profile has nothing to say, and it would let
/// waves through that long explicit steps do not follow. Its slope is the harmonic mean of those on both sides (van Leer
/// 1974), or where fronts must stay sharp a third of that before and two thirds of that after, at most twice either (Koren
/// 1993, from memory).
///
/// `from_j_kg` rise from the cell before (or the stream) to this one, `to_j_kg` from this one to the next, both over
/// one cell's length.
#[inline]
pub fn end_j_kg(
    cell: &TubeCell,
    node: &NodeWater,
    liquid_kg: f64,
    carriage: &Carriage,
    mdot_kg_s: f64,
    from_j_kg: f64,
    to_j_kg: f64,
) -> f64 {
    let both = from_j_kg * to_j_kg;
    if both <= 0.0 || liquid_kg <= 0.0 {
        return node.h_j_kg;
    }
    let kg2 = liquid_kg * liquid_kg;
    let passes_kg = carriage.profile_s * mdot_kg_s;
    let passes2 = passes_kg * passes_kg;
    let half = if carriage.sharp {
        let (from, to) = (from_j_kg.abs(), to_j_kg.abs());
        let half = lesser(lesser(from, to), (from + 2.0 * to) * (1.0 / 6.0)).copysign(from_j_kg);
        // By fourth powers: slow water has all of its profile.
        half * kg2 * kg2 / (kg2 * kg2 + passes2 * passes2)
    } else {
        both * kg2 / ((from_j_kg + to_j_kg) * (kg2 + passes2))
    };
    node.h_j_kg
        + if liquid_kg < cell.water_kg {
            half * wetted(cell, liquid_kg)
        } else {
            half
        }
}

/// Heat from a cell's wall, and the enthalpy that water would have at the wall's temperature.
#[derive(Debug, Clone, Copy, Default)]
pub struct WallHeat {
    pub heat_w: f64,
    pub h_wall_j_kg: f64,
}

/// Pressure loss of liquid × its density, Pa kg/m3: f L/D ½ρv² with f = (f Re)/Re stays finite at rest.
#[inline]
fn friction_loss(cell: &TubeCell, table: &TubeTable, node: &NodeWater, w: f64) -> f64 {
    let re = w * cell.re_per * node.per_mu;
    let f_re = table.f_re(TubeTable::place(re));
    w * (f_re * node.mu_pa_s).mul_add(cell.skin_per, w * cell.fittings_per)
}

/// Passes a stream through one cell whose water is `node` and leaves it at `h_end_j_kg`; `liquid_kg` its inventory,
/// `friction` a multiplier, `wall` what heats the cell's water and the stream that goes by, `carriage` [`FREE`], [`STOPPED`] or [`DRIVEN`].
#[inline(always)]
#[allow(clippy::too_many_arguments)] // a cell, its state and what passes it
pub fn pass_cell(
    cell: &TubeCell,
    table: &TubeTable,
    friction: f64,
    input: &Stream,
    node: &NodeWater,
    h_end_j_kg: f64,
    liquid_kg: f64,
    wall: WallHeat,
    carriage: &Carriage,
) -> CellPass {
    let sat = &cell.sat;
    let w = input.mdot_kg_s;
    let full_kg_s = greater(liquid_kg, 0.0) / carriage.exchange_s;
    // The part of the wall's heat that belongs to water which is through before it has changed places goes into the
    // stream: fast water is then as warm as the cell's, not behind it. No more than the wall can warm it; where that is far
    // from it next to nothing is held back, or a cell that fast water hardly changes places with would be left hot.
    let most = wall.h_wall_j_kg - input.h_j_kg;
    let h_came = input.h_j_kg
        + if wall.heat_w * most > 0.0 {
            let carried_w = most * w;
            wall.heat_w * most.abs() / (wall.heat_w * wall.heat_w + carried_w * carried_w).sqrt()
        } else {
            0.0
        };
    let excess = h_end_j_kg - sat.h_f_j_kg;
    let below = sat.h_f_j_kg - h_came;
    // What changes places, E = a/b kg/s: full²/(full + w), or where fronts stay sharp full⁴/(rest share × full³ + w³).
    let law = |full: f64| {
        if carriage.sharp {
            let full3 = full * full * full;
            (full3 * full, REST_SHARE * full3 + w * w * w)
        } else {
            (full * full, full + w)
        }
    };
    let exchange = |full: f64| {
        let (a, b) = law(full);
        a / (b + 1e-300)
    };
    // The stream's share of it, E/(E + w).
    let changed = |full: f64| {
        let (a, b) = law(full);
        a / (a + w * b + 1e-300)
    };
    if excess <= 0.0
        && below >= 0.0
        && input.quality <= 0.0
        && w > TRICKLE_KG_S
        && (cell.inventory.is_none() || liquid_kg >= cell.water_kg)
    {
        // Liquid through a full cell, by far the most frequent, without what steam and refilling need.
        let h_out = changed(full_kg_s).mul_add(h_end_j_kg - h_came, h_came);
        let from_node_w = w * (h_out - input.h_j_kg);
        let loss = friction_loss(cell, table, node, w);
        return CellPass {
            out: Stream {
                mdot_kg_s: w,
                enthalpy_w: input.enthalpy_w + from_node_w,
                h_j_kg: h_out,
                quality: 0.0,
            },
            from_node_w,
            inventory_kg_s: 0.0,
            steam_kg_s: 0.0,
            density_kg_m3: node.rho_kg_m3,
            loss_pa: friction * loss / node.rho_kg_m3,
        };
    }
    // Steam comes and goes no faster than in a second, or it would be the stiffest of all.
    let slowed = |w: f64| {
        w / (1.0 + w * carriage.boiling_s / (greater(liquid_kg, 0.0) * excess.abs() + 1e-300))
    };
    // Share of the cell in which its water boils, and enthalpy that the stream comes to.
    let (mut boil_w, mut h_heated) = (0.0, h_came);
    if excess <= 0.0 && below >= 0.0 {
        h_heated += changed(full_kg_s) * (h_end_j_kg - h_came);
    } else if excess <= 0.0 {
        // Steam that comes in condenses in water below saturation; the rest of the cell cools the liquid.
        let latent_w = -below * w;
        let most_w = slowed(-excess * exchange(full_kg_s));
        h_heated = if latent_w < most_w {
            let rest = full_kg_s * (1.0 - latent_w / most_w);
            sat.h_f_j_kg + changed(rest) * excess
        } else {
            h_came - most_w / w
        };
    } else if below <= 0.0 {
        boil_w = exchange(full_kg_s) * excess;
    } else {
        // As much of the cell as the stream needs to reach saturation.
        let all_w = exchange(full_kg_s) * excess;
        let warming_w = w * below;
        if warming_w < all_w {
            boil_w = all_w - warming_w;
            h_heated = sat.h_f_j_kg;
        } else {
            h_heated += changed(full_kg_s) * (h_end_j_kg - h_came);
        }
    }
    if boil_w > 0.0 {
        boil_w = slowed(boil_w);
    }
    let to_stream_w = if w > TRICKLE_KG_S {
        w * (h_heated - input.h_j_kg)
    } else {
        h_heated = h_end_j_kg;
        0.0
    };

    // What stays to refill the cell leaves the stream at the enthalpy that it has reached.
    let h_liquid = lesser(h_heated, sat.h_f_j_kg);
    let (mut steam, mut refill, mut from_node_w);
    if cell.inventory.is_some() {
        steam = if boil_w > 0.0 {
            boil_w / (sat.h_g_j_kg - node.h_j_kg.min(sat.h_f_j_kg + SUPERHEATED_J_KG))
        } else {
            0.0
        };
        let short = (cell.water_kg - liquid_kg).max(0.0) / REFILL_S;
        refill = if short > 0.0 {
            let x_after = ((h_heated - sat.h_f_j_kg) / sat.h_fg_j_kg).clamp(0.0, 1.0);
            let l = w * (1.0 - x_after);
            l * short / (l + short + 1e-12)
        } else {
            0.0
        };
        from_node_w = to_stream_w + steam * sat.h_g_j_kg - refill * h_liquid;
    } else {
        // A pipe has no inventory of its own: what boils is carried by the stream, at most all of it.
        steam = 0.0;
        refill = 0.0;
        if boil_w > 0.0 {
            let most = w * (sat.h_g_j_kg - h_heated).max(0.0);
            boil_w = boil_w * most / (boil_w + most + 1e-12);
        }
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
        h_end_j_kg.min(sat.h_f_j_kg)
    };
    let quality = if h_out > sat.h_f_j_kg {
        ((h_out - sat.h_f_j_kg) / sat.h_fg_j_kg).min(1.0)
    } else {
        0.0
    };

    let rho_l = node.rho_kg_m3;
    // Mean of what comes in and what goes out: a cell that boils at rest sends steam up without any inflow.
    let vapour = 0.5 * (w * input.quality + w_out * quality);
    let (density_kg_m3, two_phase) = if vapour > 0.0 {
        let x = 0.5 * (input.quality + quality);
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
    let loss_pa = friction * two_phase * friction_loss(cell, table, node, w) / rho_l;

    CellPass {
        out: Stream {
            mdot_kg_s: w_out,
            enthalpy_w,
            h_j_kg: h_out,
            quality,
        },
        from_node_w,
        inventory_kg_s: refill - steam,
        steam_kg_s: steam,
        density_kg_m3,
        loss_pa,
    }
}
