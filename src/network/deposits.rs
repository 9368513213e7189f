//! Soot and tar on cold surfaces in the gas: where they lie, what they resist, what stays of the smoke that passes.

use super::Network;
use super::layout::*;
use crate::components::gas_path::{Bank, Duct};
use crate::components::spec::CoilForm;
use crate::correlations::{exp_within, greater, lesser, smoothstep};

/// Shares of the unburnt hydrocarbons that are particles, and as they leave the wood tar that condenses on a wall (orders of
/// magnitude, from memory: wood smoke; about half of what wood gives off first is heavy enough; the prior of
/// `fouling_rate` covers them).
pub const PARTICLES: f64 = 0.3;
pub const TAR: f64 = 0.4;
/// Thermal cracking of wood tar, 1/s and K: the geometric mean of Lidén, Berruti & Scott 1988 (4.28e6 1/s, 107.5 kJ/mol) and Boroson
/// et al. 1989 (10^4.98 1/s, 93.3 kJ/mol, 773 to 1073 K; from memory). At 1000 K they differ by 8.
const CRACKS_PER_S: f64 = 6.39e5;
const CRACKS_ACTIVATION_K: f64 = 100.4e3 / 8.314_46;
/// Below this gas stays on its way far too shortly to crack.
const CRACKS_FROM_K: f64 = 700.0;
/// exp(−[`CRACKS_ACTIVATION_K`]/[`CRACKS_FROM_K`]), which no constant expression can give.
const CRACKS_AT_FROM: f64 = 3.222_583e-8;
/// Thermophoretic coefficient × Prandtl number for soot in hot gas (Talbot et al. 1980 gives about 0.55; from memory).
pub const THERMOPHORESIS: f64 = 0.4;
/// Temperature of a surface about which wood tar condenses from flue gas, and the width of the change, K (120..150 °C,
/// from memory; sweeps say 250 °F, common practice).
pub const TAR_DEW_K: f64 = 410.0;
pub const TAR_WIDTH_K: f64 = 40.0;
/// Surface temperature from which a deposit burns off as fast as it grows, and where it has stopped growing altogether
/// (soot burns in air without a catalyst from about 550 °C, from memory).
const BURNS_OFF_K: [f64; 2] = [770.0, 870.0];

/// Conductivity × density of a fresh deposit of soot and tar, W kg/(m4 K): loose soot has 5 to 10 (0.07 W/mK and
/// 70..140 kg/m3, from memory); a tarry crust that has hardened over many burns has over 100. Dry soot that thermophoresis lays
/// on cooled tubes goes down to 0.74 (0.033 W/mK, 22 kg/m3; laid into a condensing film its resistance is several times
/// lower: exhaust coolers, SAE 2014-01-0640, abstract): the prior of `fouling_rate` reaches towards it.
pub const FRESH_K_RHO: f64 = 10.0;
/// The same of tar that has baked and sunk together between burns (from memory, see [`FRESH_K_RHO`]).
pub const HARDENED_K_RHO: f64 = 100.0;

/// What earlier burns left.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Carried {
    /// In the order of [`Network::surfaces`]: of each surface the soot on its cells, then the tar, kg as carbon. Empty: bare.
    pub kg: Vec<f64>,
    /// Conductivity × density of that tar, W kg/(m4 K).
    pub tar_k_rho: f64,
    /// Shares of the water of damp walls, as [`Network::damp_shares`]. Empty: all that the scenario gives them.
    pub water: Vec<f64>,
}

/// One surface that smoke settles on: the turns of a coil, or the wall of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Coil or section.
    pub name: String,
    pub is_coil: bool,
    pub is_flue: bool,
    /// In the direction of the gas.
    pub cells: usize,
    pub cell_area_m2: f64,
    /// First of its soot masses among all deposits; its tar follows after `cells`.
    pub first: usize,
}

/// What settles on one cell, W of net heating value.
#[derive(Debug, Clone, Copy)]
pub(super) struct Settled {
    pub soot_w: f64,
    pub tar_w: f64,
}

/// What the gas offers a surface.
#[derive(Debug, Clone, Copy)]
pub(super) struct Offer {
    /// Convective transfer units of the cell.
    pub transfer: f64,
    pub per_gas_k: f64,
    pub surface_k: f64,
    /// `fouling_rate`.
    pub rate: f64,
}

/// Particles and tar as shares of the volatiles' unburnt heat. Burning on leaves the shares alone; what cracks or settles does not.
#[derive(Debug, Clone, Copy)]
pub(super) struct Smoke {
    particles: f64,
    tar: f64,
    /// Over the net heat of the volatiles, 1/W.
    per_volatile_w: f64,
}

impl Smoke {
    /// `hydrocarbons`: the part of the unburnt that is no CO.
    pub fn new(hydrocarbons: f64, per_volatile_w: f64) -> Self {
        Self {
            particles: PARTICLES * hydrocarbons,
            tar: TAR * hydrocarbons,
            per_volatile_w,
        }
    }

    /// Tar cracks to gas while the smoke stays `stay_s` in a mixed volume at 1/`per_t_k`.
    #[inline]
    pub fn crack(&mut self, per_t_k: f64, stay_s: f64) {
        if per_t_k < 1.0 / CRACKS_FROM_K {
            // Begins at zero, for the step at the threshold.
            let rate_s =
                CRACKS_PER_S * (exp_within(-CRACKS_ACTIVATION_K * per_t_k) - CRACKS_AT_FROM);
            self.tar /= 1.0 + rate_s * stay_s;
        }
    }

    /// What stays on one cell of the `unburnt_w` that pass: particles drift down the temperature gradient (share K Pr ΔT/T of them
    /// while the gas cools by ΔT), tar diffuses like heat to surfaces below its dew point. Never more than there is. Particles are
    /// soot as far as the volatiles have burnt in flames, the rest are droplets: tar where the wall is cold, coke where it is hot.
    #[inline(always)]
    pub fn settle(&mut self, unburnt_w: f64, o: &Offer) -> Settled {
        let mut stays = o.rate;
        if o.surface_k > BURNS_OFF_K[0] {
            const PER_K: f64 = 1.0 / (BURNS_OFF_K[1] - BURNS_OFF_K[0]);
            stays *= 1.0 - smoothstep((o.surface_k - BURNS_OFF_K[0]) * PER_K);
        }
        let fell = greater(o.transfer * (1.0 - o.surface_k * o.per_gas_k), 0.0);
        // As shares of what passes.
        let fell = self.particles * lesser(stays * THERMOPHORESIS * fell, 1.0);
        let (mut cold, mut condensed) = (0.0, 0.0);
        if o.surface_k < TAR_DEW_K + TAR_WIDTH_K {
            cold = smoothstep(0.5 + (TAR_DEW_K - o.surface_k) * (0.5 / TAR_WIDTH_K));
            condensed = self.tar * lesser(stays * cold * o.transfer / (1.0 + o.transfer), 1.0);
        }
        let left = 1.0 - fell - condensed;
        if left > 0.0 {
            let per_left = 1.0 / left;
            self.particles = (self.particles - fell) * per_left;
            self.tar = (self.tar - condensed) * per_left;
        }
        let (fell_w, condensed_w) = (fell * unburnt_w, condensed * unburnt_w);
        let droplets_w = fell_w * cold * lesser(unburnt_w * self.per_volatile_w, 1.0);
        Settled {
            soot_w: fell_w - droplets_w,
            tar_w: condensed_w + droplets_w,
        }
    }
}

/// Gives the states to all surfaces in the order of the gas; returns how many. Walls before the first cold surface are hot and stay clean.
pub(super) fn lay_out(ducts: &mut [Duct], b: &mut LayoutBuilder) -> usize {
    let mut count = 0;
    let mut behind_coil = false;
    for d in ducts {
        behind_coil |= d.bank.is_some() || d.wall_is_wet();
        let mut two = |stem: &str, n: usize| {
            let first = b.many(&format!("{stem}_soot"), n);
            b.many(&format!("{stem}_tar"), n);
            count += 2 * n;
            first
        };
        if let Some(bank) = &mut d.bank {
            bank.deposit_state = two("coil", d.cells);
        }
        if behind_coil || d.is_flue {
            d.wall_deposit = Some(two(&d.name.replace(' ', "_"), d.wall_cells));
        }
    }
    count
}

impl Network {
    /// Begins with what earlier burns left, for [`Network::initial_state`]. A list of another length is left out.
    pub fn carry(&mut self, carried: Carried) {
        let Carried {
            kg,
            tar_k_rho,
            water,
        } = carried;
        if kg.len() == self.layout.deposit_count {
            (self.carried.kg, self.carried.tar_k_rho) = (kg, tar_k_rho);
        }
        if water.len() == self.layout.damp_count {
            self.carried.water = water;
        }
    }

    /// All surfaces in the order of the gas.
    pub fn surfaces(&self) -> Vec<Surface> {
        let l = &self.layout;
        let mut list = Vec::new();
        // A section holds one coil at most.
        let coil_of = |section: usize| {
            self.rig.coils.iter().find(|c| {
                c.section == section
                    && matches!(c.form, CoilForm::Helix { .. } | CoilForm::Serpentine { .. })
            })
        };
        for (i, d) in self.ducts.iter().enumerate() {
            if let Some(b) = &d.bank {
                list.push(Surface {
                    name: coil_of(i).map_or_else(|| "coil".into(), |c| c.name.clone()),
                    is_coil: true,
                    is_flue: false,
                    cells: d.cells,
                    cell_area_m2: b.area_m2,
                    first: b.deposit_state - l.deposits,
                });
            }
            if let Some(first) = d.wall_deposit {
                list.push(Surface {
                    name: d.name.clone(),
                    is_coil: false,
                    is_flue: d.is_flue,
                    cells: d.wall_cells,
                    cell_area_m2: d.cell_wall_area_m2 * d.per_wall_cell as f64,
                    first: first - l.deposits,
                });
            }
        }
        list
    }

    /// All deposits of a state, kg as carbon, as [`Carried::kg`].
    pub fn deposits_kg(&self, y: &[f64]) -> Vec<f64> {
        let l = &self.layout;
        y[l.deposits..l.deposits + l.deposit_count]
            .iter()
            .map(|v| v * DEPOSIT_SCALE_KG)
            .collect()
    }

    /// Temperature of each surface's cells as the gas finds them, K, in the place of its soot; other places are not used.
    pub fn surface_k(&self, t_s: f64, y: &[f64]) -> Vec<f64> {
        // The right-hand side leaves them behind.
        self.observe(t_s, y);
        self.scratch.borrow().surface_k.clone()
    }

    /// Resistance of `soot` and `tar` at these places of the state over one cell of 1/`per_m2`, m2K/W.
    #[inline]
    fn grown_m2k_w(&self, y: &[f64], soot: usize, tar: usize, per_m2: f64) -> f64 {
        let (soot_kg, tar_kg) = (y[soot] * DEPOSIT_SCALE_KG, y[tar] * DEPOSIT_SCALE_KG);
        let (hard_kg, per_hard) = match self.carried.kg.get(tar - self.layout.deposits) {
            Some(kg) => (
                lesser(*kg, greater(tar_kg, 0.0)),
                1.0 / self.carried.tar_k_rho,
            ),
            None => (0.0, 0.0),
        };
        greater(
            (soot_kg + tar_kg - hard_kg) * (1.0 / FRESH_K_RHO) + hard_kg * per_hard,
            0.0,
        ) * per_m2
    }

    /// Resistance on the turns of gas cell `j` of a section of so many, each of 1/`per_m2`, m2K/W.
    #[inline]
    pub(super) fn on_turns_m2k_w(
        &self,
        b: &Bank,
        per_m2: f64,
        cells: usize,
        j: usize,
        y: &[f64],
    ) -> f64 {
        let at = b.deposit_state + j;
        self.grown_m2k_w(y, at, at + cells, per_m2)
    }

    /// Resistance on wall cell `i` of a section, which `per` gas cells face, m2K/W.
    #[inline]
    pub(super) fn on_wall_m2k_w(&self, d: &Duct, i: usize, per: usize, y: &[f64]) -> f64 {
        let Some(first) = d.wall_deposit else {
            return 0.0;
        };
        let at = first + i;
        let per_m2 = 1.0 / (d.cell_wall_area_m2 * per as f64);
        self.grown_m2k_w(y, at, at + d.wall_cells, per_m2)
    }

    /// Soot and tar on coils and on walls, kg as carbon.
    pub fn deposit_kg(&self, y: &[f64]) -> [f64; 2] {
        let mut sums = [0.0; 2];
        let mut add = |k: usize, first: usize, cells: usize| {
            sums[k] += DEPOSIT_SCALE_KG * y[first..first + 2 * cells].iter().sum::<f64>();
        };
        for d in &self.ducts {
            if let Some(b) = &d.bank {
                add(0, b.deposit_state, d.cells);
            }
            if let Some(first) = d.wall_deposit {
                add(1, first, d.wall_cells);
            }
        }
        sums
    }

    /// Mean resistance of the deposit on the most fouled coil, m2K/W, besides the one given.
    pub fn fouling_grown_m2k_w(&self, y: &[f64]) -> f64 {
        self.ducts
            .iter()
            .filter_map(|d| {
                let b = d.bank.as_ref()?;
                let sum: f64 = (0..d.cells)
                    .map(|j| self.on_turns_m2k_w(b, 1.0 / b.area_m2, d.cells, j, y))
                    .sum();
                Some(sum / d.cells as f64)
            })
            .fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However fast it settles, all that stays is at most the particles and tar that came, and the rest goes on.
    #[test]
    fn identity_no_more_settles_than_is_there() {
        for rate in [0.0, 0.3, 1.0, 20.0] {
            let mut smoke = Smoke::new(0.5, 1e-3);
            let mut unburnt_w = 1000.0;
            let mut stayed_w = 0.0;
            for i in 0..200 {
                let s = smoke.settle(
                    unburnt_w,
                    &Offer {
                        transfer: 0.2,
                        per_gas_k: 1.0 / 600.0,
                        surface_k: 320.0 + f64::from(i),
                        rate,
                    },
                );
                assert!(s.soot_w >= 0.0 && s.tar_w >= 0.0);
                stayed_w += s.soot_w + s.tar_w;
                unburnt_w -= s.soot_w + s.tar_w;
            }
            let most_w = 0.5 * (PARTICLES + TAR) * 1000.0;
            assert!(stayed_w <= most_w * (1.0 + 1e-12), "{rate}: {stayed_w}");
            assert!((unburnt_w + stayed_w - 1000.0).abs() < 1e-9);
            if rate == 20.0 {
                assert!(stayed_w > 0.99 * most_w, "{stayed_w}");
            }
        }
    }

    /// Nothing settles on a wall that glows; soot alone on a hot dry one; both on a cold one.
    #[test]
    fn practice_cold_walls_get_tar_hot_ones_soot_and_glowing_ones_nothing() {
        let at = |surface_k| {
            Smoke::new(0.5, 1e-4).settle(
                1000.0,
                &Offer {
                    transfer: 0.2,
                    per_gas_k: 1e-3,
                    surface_k,
                    rate: 1.0,
                },
            )
        };
        assert!(at(330.0).tar_w > at(330.0).soot_w);
        assert!(at(500.0).tar_w == 0.0 && at(500.0).soot_w > 0.0);
        assert!(at(900.0).soot_w == 0.0);
    }

    /// Rate of cracking between the two sets of kinetics (Lidén et al. 1988; Boroson et al. 1989), and none in cold gas.
    #[test]
    fn published_wood_tar_cracks_within_a_second_in_a_hot_fire() {
        let left = |t_k: f64| {
            let mut s = Smoke::new(0.5, 1e-3);
            s.crack(1.0 / t_k, 1.0);
            s.tar / (0.5 * TAR)
        };
        for t_k in [900.0f64, 1000.0, 1073.0] {
            let rate = 1.0 / left(t_k) - 1.0;
            let liden = 4.28e6 * (-107.5e3 / (8.314 * t_k)).exp();
            let boroson = 10f64.powf(4.98) * (-93.3e3 / (8.314 * t_k)).exp();
            assert!(rate > boroson && rate < liden, "{t_k}: {rate}");
        }
        assert_eq!(left(650.0), 1.0);
    }

    /// Smouldering lays tar, flames lay soot (wood smoke: organic carbon against black; common practice, no source).
    #[test]
    fn practice_smoke_that_has_not_burnt_lays_more_tar_than_soot() {
        let tar_share = |unburnt_w: f64, chamber_k: f64| {
            let mut smoke = Smoke::new(0.5, 1e-3);
            smoke.crack(1.0 / chamber_k, 0.7);
            let s = smoke.settle(
                unburnt_w,
                &Offer {
                    transfer: 0.2,
                    per_gas_k: 1.0 / 500.0,
                    surface_k: 360.0,
                    rate: 1.0,
                },
            );
            s.tar_w / (s.tar_w + s.soot_w)
        };
        assert!(tar_share(800.0, 650.0) > 0.9);
        assert!(tar_share(30.0, 1150.0) < 0.5);
    }
}
