//! Burns in a row: some in full, those between from the growth and cost of the two beside them.

use super::SeasonOptions;
use super::layer::thickest_m;
use super::one::{One, one};
use crate::analyses::burn::RunError;
use crate::components::spec::Rig;
use crate::network::{Carried, Surface};
use crate::results::{SeasonBurn, SeasonRun, SeasonTotal};

/// The growth between two burns in full may bend by this share of all that lies there.
const BEND: f64 = 0.02;
/// Most burns from one in full to the next.
const LONGEST: usize = 16;
/// A burn that gives nearly no heat is not counted as more than so many.
const MOST_BURNS: f64 = 20.0;

/// What changes from one walk to another of the same season.
#[derive(Debug, Clone, Copy)]
pub(super) struct Habit {
    pub clean_every: Option<usize>,
    /// Conductivity × density of tar after its burn.
    pub tar_k_rho: f64,
}

pub(super) struct Walked {
    pub run: SeasonRun,
    /// With bare surfaces.
    pub first: One,
    /// After the last burn.
    pub kg: Vec<f64>,
    pub energy_residual: f64,
    pub mass_residual: f64,
}

/// Time and wood of a burn for what the bare one gives: the target, or the same heat.
fn cost(x: &One, bare: &One) -> (f64, f64) {
    if bare.target_reached && x.target_reached {
        return (x.time_s, x.wood_kg);
    }
    let more = bare.heat_j / x.heat_j.max(bare.heat_j / MOST_BURNS).max(1.0);
    // Without a target, more heat than from the bare surfaces counts too.
    let more = if bare.target_reached {
        more.max(1.0)
    } else {
        more
    };
    (x.time_s * more, x.wood_kg * more)
}

/// Takes off what a cleaning of the coil, or a sweeping of the flue, takes off.
fn take_off(surfaces: &[Surface], kg: &mut [f64], which: impl Fn(&Surface) -> bool) {
    for s in surfaces.iter().filter(|s| which(s)) {
        kg[s.first..s.first + 2 * s.cells].fill(0.0);
    }
}

/// Growth of `j` burns from one that adds `a` towards one that adds `b` and is `k` burns later.
fn grown(from: &[f64], a: &[f64], b: &[f64], j: usize, k: usize) -> Vec<f64> {
    let (j, k) = (j as f64, k as f64);
    let bend = 0.5 * j * (j - 1.0) / k;
    from.iter()
        .zip(a.iter().zip(b))
        .map(|(d, (a, b))| (d + j * a + bend * (b - a)).max(0.0))
        .collect()
}

fn sum(kg: &[f64]) -> f64 {
    kg.iter().sum()
}

/// A burn in full: what it adds, and what it costs.
struct Point {
    growth: Vec<f64>,
    time_s: f64,
    wood_kg: f64,
    fouling_m2k_w: f64,
    target_reached: bool,
}

impl Point {
    fn new(x: &One, from: &[f64], bare: &One) -> Self {
        let (time_s, wood_kg) = cost(x, bare);
        Self {
            growth: x.kg.iter().zip(from).map(|(b, a)| b - a).collect(),
            time_s,
            wood_kg,
            fouling_m2k_w: x.fouling_m2k_w,
            target_reached: x.target_reached,
        }
    }

    /// At a share of the way to `next`; what it adds is left out.
    fn towards(&self, next: &Self, share: f64) -> Self {
        let at = |a: f64, b: f64| a + (b - a) * share;
        Self {
            growth: Vec::new(),
            time_s: at(self.time_s, next.time_s),
            wood_kg: at(self.wood_kg, next.wood_kg),
            fouling_m2k_w: at(self.fouling_m2k_w, next.fouling_m2k_w),
            target_reached: self.target_reached && next.target_reached,
        }
    }
}

/// Burns the whole season; `burnt` hears of each burn in order.
pub(super) fn walk(
    rig: &Rig,
    o: &SeasonOptions,
    habit: Habit,
    burnt: &mut dyn FnMut(&SeasonBurn),
) -> Result<Walked, RunError> {
    let due = |every: Option<usize>, i: usize| every.is_some_and(|n| i > 0 && i.is_multiple_of(n));
    let (mut full, mut energy_residual, mut mass_residual) = (0, 0.0f64, 0.0f64);
    let mut burn = |kg: &[f64], look: bool| {
        let carried = Carried {
            kg: kg.to_vec(),
            tar_k_rho: habit.tar_k_rho,
            ..Carried::default()
        };
        let x = one(rig, &carried, look)?;
        full += 1;
        energy_residual = energy_residual.max(x.summary.energy_residual_fraction);
        mass_residual = mass_residual.max(x.mass_residual);
        Ok::<One, RunError>(x)
    };
    let first = burn(&[], true)?;
    let surfaces = &first.surfaces;
    let mut kg = vec![0.0; first.kg.len()];
    let mut burns: Vec<SeasonBurn> = Vec::new();
    let mut add = |i: usize, in_full: bool, p: &Point, kg: &[f64]| {
        let of = |coil: bool| -> f64 {
            surfaces
                .iter()
                .filter(|s| s.is_coil == coil)
                .map(|s| sum(&kg[s.first..s.first + 2 * s.cells]))
                .sum()
        };
        let b = SeasonBurn {
            burn: i + 1,
            burnt: in_full,
            coil_cleaned: due(habit.clean_every, i),
            flue_swept: due(o.sweep_every, i),
            target_reached: p.target_reached,
            time_s: p.time_s,
            wood_kg: p.wood_kg,
            extra_time_s: p.time_s - burns.first().map_or(p.time_s, |f| f.time_s),
            extra_wood_kg: p.wood_kg - burns.first().map_or(p.wood_kg, |f| f.wood_kg),
            coil_deposit_kg: of(true),
            wall_deposit_kg: of(false),
            coil_fouling_m2K_W: p.fouling_m2k_w,
            coil_layer_m: thickest_m(surfaces, kg, |s| s.is_coil).map_or(0.0, |t| t[1]),
            flue_layer_m: thickest_m(surfaces, kg, |s| s.is_flue).map_or(0.0, |t| t[1]),
        };
        burnt(&b);
        burns.push(b);
    };
    let mut here = Some(Point::new(&first, &kg, &first));
    let (mut i, mut step) = (0, 1);
    while i < o.burns {
        if due(habit.clean_every, i) {
            // The passage is open when its coil is brushed.
            take_off(surfaces, &mut kg, |s| !s.is_flue);
        }
        if due(o.sweep_every, i) {
            take_off(surfaces, &mut kg, |s| s.is_flue);
        }
        let a = match here.take() {
            Some(p) => p,
            None => {
                step = 1;
                Point::new(&burn(&kg, false)?, &kg, &first)
            }
        };
        add(i, true, &a, &kg);
        let stop = (i + 1..o.burns)
            .find(|&n| due(habit.clean_every, n) || due(o.sweep_every, n))
            .unwrap_or(o.burns);
        let left = stop - 1 - i;
        if left == 0 {
            kg = grown(&kg, &a.growth, &a.growth, 1, 1);
            i += 1;
            continue;
        }
        loop {
            let k = if o.all {
                1
            } else {
                step.min(left).min(LONGEST)
            };
            let guess = grown(&kg, &a.growth, &a.growth, k, 1);
            let b = Point::new(&burn(&guess, false)?, &guess, &first);
            let differ: f64 = a
                .growth
                .iter()
                .zip(&b.growth)
                .map(|(a, b)| (a - b).abs())
                .sum();
            let bend = 0.5 * (k - 1) as f64 * differ / sum(&guess).max(1e-9);
            if k > 1 && bend > BEND {
                step = k / 2;
                continue;
            }
            for j in 1..k {
                let between = a.towards(&b, j as f64 / k as f64);
                add(
                    i + j,
                    false,
                    &between,
                    &grown(&kg, &a.growth, &b.growth, j, k),
                );
            }
            kg = grown(&kg, &a.growth, &b.growth, k, k);
            i += k;
            if bend < 0.3 * BEND {
                step = 2 * k;
            }
            here = Some(b);
            break;
        }
    }
    let total = |of: fn(&SeasonBurn) -> f64| burns.iter().map(of).sum::<f64>();
    let cleanings = burns.iter().filter(|b| b.coil_cleaned).count();
    let total = SeasonTotal {
        cleanings,
        cleaning_time_s: o.cleaning_s * cleanings as f64,
        time_s: total(|b| b.time_s),
        wood_kg: total(|b| b.wood_kg),
        extra_time_s: total(|b| b.extra_time_s),
        extra_wood_kg: total(|b| b.extra_wood_kg),
    };
    Ok(Walked {
        run: SeasonRun {
            clean_every: habit.clean_every,
            burns,
            total,
            burnt_in_full: full,
        },
        first,
        kg,
        energy_residual,
        mass_residual,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The jump is the sum of the burns where growth changes evenly.
    #[test]
    fn analytic_a_jump_adds_up_the_burns_between() {
        let (a, b, k) = (2.0, 0.5, 6);
        let one_by_one: f64 = (0..k).map(|j| a + (b - a) * j as f64 / k as f64).sum();
        let jump = grown(&[1.0], &[a], &[b], k, k);
        assert!((jump[0] - 1.0 - one_by_one).abs() < 1e-12);
        assert_eq!(grown(&[1.0], &[a], &[b], 1, 1), vec![3.0]);
    }
}
