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
    high * r.mul_add(r.mul_add(r.mul_add(0.0294, -0.1028), 1.0 / 3.0), 1.0)
}

/// Boiling coefficient at a wall superheat, W/m2K: q ~ ΔT³ through 880 kW/m2 at 18 K (Rohsenow 1952, water on
/// polished copper at 1 bar), bent towards 25 kW/m2K so that the wall stays slower than a tenth of a second;
/// past the critical flux (about 1 MW/m2 at 35..45 K) it falls off to film boiling, 250 W/m2K (pool boiling curve, from memory).
/// The second figure is its slope, W/m2K2.
#[inline]
fn boiling_w_m2k(superheat_k: f64) -> [f64; 2] {
    let h = ROHSENOW_W_M2K3 * superheat_k * superheat_k;
    let bent = 1.0 / (1.0 + h / BENT_W_M2K);
    let nucleate = h * bent;
    let x = superheat_k / 45.0;
    let x3 = x * x * x;
    let x4 = x3 * x;
    let past = 1.0 / (1.0 + x4);
    let both = (nucleate + 250.0 * x4) * past;
    let slope = (2.0 * ROHSENOW_W_M2K3 * superheat_k * bent * bent
        + (250.0 - both) * (4.0 / 45.0) * x3)
        * past;
    [both, slope]
}
const ROHSENOW_W_M2K3: f64 = 151.0;
const BENT_W_M2K: f64 = 25e3;
/// Superheat below that of the critical flux, where the curve still rises.
const BELOW_CRITICAL_K: f64 = 25.0;

/// Heat of boiling at a wall that lies `over_k` above its water and `superheat_k` above saturation, W/m2, and its slope, W/m2K: into colder water
/// the superheat drives it, into water over saturation the whole excess.
#[inline(always)]
fn boiling_w_m2(superheat_k: f64, over_k: f64) -> [f64; 2] {
    let [h, slope] = boiling_w_m2k(superheat_k);
    let drive = lesser(superheat_k, over_k);
    [h * drive, h + slope * drive]
}

/// What boiling adds to a film's coefficient, W/m2K: a wall above saturation boils also into water that is still colder, where its
/// bubbles collapse. `over_k` the wall's excess over the water.
#[inline(always)]
pub(super) fn boiling_adds_w_m2k(superheat_k: f64, over_k: f64) -> f64 {
    if superheat_k > 0.0 && over_k > 0.0 {
        boiling_w_m2(superheat_k, over_k)[0] / over_k
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
/// The metal's state stands above its face by what passes in [`TubeCell::metal_s`]: film and boiling belong to the face, which
/// follows from y + λ q(y) = T_metal − T_water, λ that time over the metal's heat per wetted area.
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
    let per_k = natural.at(node.t_k) * d * d * d;
    let wet_m2 = cell.inside_area_m2 * wetted(cell, liquid_kg);
    let lag = wet_m2 * cell.per.metal_lag_k_w;
    let per_nu = convection * node.k_w_mk * cell.per.inside_per_m;
    let conv_w_m2k = |y: f64| per_nu * third_powers(forced, (per_k * y.abs()).sqrt().sqrt());
    // A fourth root hardly feels what it is of: two rounds leave a fiftieth of the coefficient where water stands, nothing where it flows.
    let h_w_m2k = conv_w_m2k(over / lag.mul_add(conv_w_m2k(over), 1.0));
    let mut y = over / lag.mul_add(h_w_m2k, 1.0);
    let mut heat_w_m2 = h_w_m2k * y;
    let subcooled_k = cell.sat.t_k - node.t_k;
    if y > subcooled_k && y > 0.0 {
        (y, heat_w_m2) = boiling_face(over, h_w_m2k, lag, subcooled_k);
    }
    Film {
        heat_w: wet_m2 * heat_w_m2,
        face_k: node.t_k + y,
    }
}

/// Excess of a boiling face over its water and the heat through it, W/m2: y + λ [h y + q_b(y − y_s)] = over, by five of Newton's
/// steps. The critical flux lies ten times above what fires give: of several solutions the one below it is meant.
#[cold]
fn boiling_face(over: f64, h_w_m2k: f64, lag: f64, subcooled_k: f64) -> (f64, f64) {
    let starts_k = greater(subcooled_k, 0.0);
    let flux = |y: f64| {
        let [boiling, slope] = boiling_w_m2(greater(y - subcooled_k, 0.0), y);
        (h_w_m2k * y + boiling, h_w_m2k + slope)
    };
    let mut y = over;
    if lag > 0.0 {
        // From above, by the heat that would pass if the face were saturated, yet below the critical flux.
        let most = greater(over - starts_k, 0.0) / lag;
        let superheat = (most * (1.0 / ROHSENOW_W_M2K3)).cbrt() + most / BENT_W_M2K;
        y = lesser(over, starts_k + lesser(superheat, BELOW_CRITICAL_K));
        for _ in 0..5 {
            let (q, slope) = flux(y);
            y -= (y + lag * q - over) / (1.0 + lag * greater(slope, h_w_m2k));
        }
    }
    (y, flux(y).0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Newton's steps go by the slopes: each is the derivative of what it stands beside, by central differences, from the first bubbles over the
    /// critical flux to film boiling.
    #[test]
    fn analytic_slopes_of_boiling_are_its_derivatives() {
        let d_k = 1e-4;
        for superheat_k in [0.5, 2.0, 8.0, 18.0, 30.0, 38.0, 45.0, 70.0, 150.0, 400.0] {
            let at = |x: f64| boiling_w_m2k(x)[0];
            let by_difference = (at(superheat_k + d_k) - at(superheat_k - d_k)) / (2.0 * d_k);
            let slope = boiling_w_m2k(superheat_k)[1];
            let off = (slope - by_difference).abs();
            assert!(
                off < 1e-5 * (1.0 + slope.abs()),
                "{superheat_k}: {slope} {by_difference}"
            );
            // Into water under saturation the superheat drives it, the face and its water alike.
            for subcooled_k in [0.0, 30.0] {
                let at = |x: f64| boiling_w_m2(x, x + subcooled_k)[0];
                let by_difference = (at(superheat_k + d_k) - at(superheat_k - d_k)) / (2.0 * d_k);
                let slope = boiling_w_m2(superheat_k, superheat_k + subcooled_k)[1];
                let off = (slope - by_difference).abs();
                assert!(
                    off < 1e-5 * (1.0 + slope.abs()),
                    "{superheat_k}: {slope} {by_difference}"
                );
            }
        }
    }

    /// The face between metal and water, y + λ q(y) = T_metal − T_water, by its own residual; and its heat convection and boiling together (superposition of
    /// Rohsenow 1952: q = h y + q_b), below the critical flux wherever a face below it carries the heat.
    #[test]
    fn identity_five_steps_find_the_boiling_face() {
        let mut compared = 0;
        for lag in [1e-5, 5e-5, 1.2e-4, 3e-4, 1e-3, 1.2e-2] {
            for h in [50.0, 300.0, 1500.0, 6000.0] {
                for subcooled_k in [-3.0, -0.5, 0.0, 2.0, 5.0, 20.0, 40.0, 80.0] {
                    for over in [0.5, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0, 90.0, 120.0] {
                        let heat = |y: f64| {
                            let superheat_k = f64::max(y - subcooled_k, 0.0);
                            h * y + boiling_w_m2k(superheat_k)[0] * superheat_k.min(y)
                        };
                        let most = f64::min(over, f64::max(subcooled_k, 0.0) + BELOW_CRITICAL_K);
                        let boils = over / (1.0 + lag * h) > f64::max(subcooled_k, 0.0);
                        if !boils || most + lag * heat(most) < over {
                            continue;
                        }
                        compared += 1;
                        let (y, q) = boiling_face(over, h, lag, subcooled_k);
                        let off = (y + lag * heat(y) - over) / over;
                        let case = format!("{lag} {h} {subcooled_k} {over}: {y}");
                        assert!(off.abs() < 1e-7, "{case} {off:e}");
                        assert!(y > 0.0 && y < most + 1e-9, "{case}");
                        assert!((q / heat(y) - 1.0).abs() < 1e-12, "{case}");
                    }
                }
            }
        }
        assert!(compared > 600, "{compared}");
    }
}
