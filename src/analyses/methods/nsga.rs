//! Search for a front of several aims within bounds and under constraints: NSGA-II.
//!
//! Deb, Pratap, Agarwal & Meyarivan 2002, IEEE Trans. Evol. Comput. 6(2) 182-197: fast sorting into fronts, crowding distance,
//! binary tournaments, constrained domination (section VI); simulated binary crossover and polynomial mutation with
//! distribution indices of 20 (section IV). The first generation are Sobol points. The packages of this method at hand were
//! weighed: each brings a C library, some dozens of further packages, a random source shared by the whole process, or none of
//! the constraints and the real-valued operators.

use super::{Unit, sobol_point};
use rayon::prelude::*;
use std::cmp::Ordering;

/// What a point is worth: aims, all to be small, and by how much it breaks the constraints, 0 where it keeps them.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    pub aims: Vec<f64>,
    pub violation: f64,
}

/// A point that was tried.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    pub x: Unit,
    pub worth: Worth,
}

/// How long to search.
#[derive(Debug, Clone, Copy)]
pub struct Search {
    pub population: usize,
    pub generations: usize,
    pub seed: u64,
}

const CROSSOVER: f64 = 0.9;
const INDEX: f64 = 20.0;

/// Whether `a` is better in one aim and worse in none, constraints first.
pub fn dominates(a: &Worth, b: &Worth) -> bool {
    if a.violation > 0.0 || b.violation > 0.0 {
        return a.violation < b.violation;
    }
    let mut better = false;
    for (x, y) in a.aims.iter().zip(&b.aims) {
        if x > y {
            return false;
        }
        better |= x < y;
    }
    better
}

/// Places in `all` of those that keep the constraints and that none dominates, equal ones once, in order of the first aim.
pub fn front(all: &[Tried]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..all.len())
        .filter(|&i| {
            let w = &all[i].worth;
            w.violation <= 0.0 && w.aims.iter().all(|v| v.is_finite())
        })
        .collect();
    // What dominates a point stands before it in this order.
    order.sort_by(|&i, &j| by_aims(&all[i].worth, &all[j].worth));
    let mut found: Vec<usize> = Vec::new();
    for i in order {
        let w = &all[i].worth;
        let beaten = |&j: &usize| dominates(&all[j].worth, w) || all[j].worth.aims == w.aims;
        if !found.iter().any(beaten) {
            found.push(i);
        }
    }
    found
}

fn by_aims(a: &Worth, b: &Worth) -> Ordering {
    let mut pairs = a.aims.iter().zip(&b.aims);
    pairs
        .find_map(|(x, y)| Some(x.total_cmp(y)).filter(|o| o.is_ne()))
        .unwrap_or(Ordering::Equal)
}

/// Tries points of `d` coordinates; returns all of them, in order. Each generation is tried side by side; the outcome depends
/// on the seed, not on the threads.
pub fn search(d: usize, how: Search, f: &(dyn Fn(&[f64]) -> Worth + Sync)) -> Vec<Tried> {
    let size = how.population.max(4);
    let mut random = fastrand::Rng::with_seed(how.seed);
    let try_all = |points: Vec<Unit>| -> Vec<Tried> {
        points
            .into_par_iter()
            .map(|x| Tried { worth: f(&x), x })
            .collect()
    };
    let mut parents = try_all(
        (0..size)
            .map(|i| sobol_point(i, d, how.seed as u32))
            .collect(),
    );
    let mut all = parents.clone();
    for _ in 0..how.generations {
        let ranks = ranked(&parents);
        let mut children = Vec::with_capacity(size + 1);
        while children.len() < size {
            let mut pick = || {
                let (i, j) = (random.usize(..parents.len()), random.usize(..parents.len()));
                let (a, b) = (ranks[i], ranks[j]);
                if a.0 < b.0 || (a.0 == b.0 && a.1 >= b.1) {
                    i
                } else {
                    j
                }
            };
            let (a, b) = (pick(), pick());
            let (mut a, mut b) = (parents[a].x.clone(), parents[b].x.clone());
            cross(&mut a, &mut b, &mut random);
            mutate(&mut a, &mut random);
            mutate(&mut b, &mut random);
            children.push(a);
            children.push(b);
        }
        children.truncate(size);
        let children = try_all(children);
        all.extend(children.iter().cloned());
        parents.extend(children);
        let ranks = ranked(&parents);
        let mut order: Vec<usize> = (0..parents.len()).collect();
        order.sort_by(|&i, &j| {
            ranks[i]
                .0
                .cmp(&ranks[j].0)
                .then(ranks[j].1.total_cmp(&ranks[i].1))
        });
        order.truncate(size);
        parents = order.into_iter().map(|i| parents[i].clone()).collect();
    }
    all
}

/// Number of the front of each, from 0, and its crowding distance in it.
fn ranked(all: &[Tried]) -> Vec<(usize, f64)> {
    let n = all.len();
    let mut beaten_by = vec![0usize; n];
    let mut beats = vec![Vec::new(); n];
    for i in 0..n {
        for j in 0..n {
            if dominates(&all[i].worth, &all[j].worth) {
                beats[i].push(j);
                beaten_by[j] += 1;
            }
        }
    }
    let mut ranks = vec![(0, 0.0); n];
    let mut now: Vec<usize> = (0..n).filter(|&i| beaten_by[i] == 0).collect();
    let mut rank = 0;
    while !now.is_empty() {
        let crowding = crowded(all, &now);
        let mut next = Vec::new();
        for (&i, distance) in now.iter().zip(crowding) {
            ranks[i] = (rank, distance);
            for &j in &beats[i] {
                beaten_by[j] -= 1;
                if beaten_by[j] == 0 {
                    next.push(j);
                }
            }
        }
        next.sort_unstable();
        now = next;
        rank += 1;
    }
    ranks
}

fn crowded(all: &[Tried], members: &[usize]) -> Vec<f64> {
    let mut distance = vec![0.0; members.len()];
    let aims = members.first().map_or(0, |&i| all[i].worth.aims.len());
    for m in 0..aims {
        let aim = |k: usize| all[members[k]].worth.aims[m];
        let mut order: Vec<usize> = (0..members.len()).collect();
        order.sort_by(|&a, &b| aim(a).total_cmp(&aim(b)));
        let (first, last) = (order[0], order[order.len() - 1]);
        let width = aim(last) - aim(first);
        (distance[first], distance[last]) = (f64::INFINITY, f64::INFINITY);
        if width > 0.0 && width.is_finite() {
            for w in order.windows(3) {
                distance[w[1]] += (aim(w[2]) - aim(w[0])) / width;
            }
        }
    }
    distance
}

/// Simulated binary crossover, each coordinate with probability one half.
fn cross(a: &mut [f64], b: &mut [f64], random: &mut fastrand::Rng) {
    if random.f64() > CROSSOVER {
        return;
    }
    for (x, y) in a.iter_mut().zip(b.iter_mut()) {
        if random.bool() || (*x - *y).abs() < 1e-14 {
            continue;
        }
        let u = random.f64();
        let spread = if u <= 0.5 {
            (2.0 * u).powf(1.0 / (INDEX + 1.0))
        } else {
            (0.5 / (1.0 - u)).powf(1.0 / (INDEX + 1.0))
        };
        let (mid, half) = (0.5 * (*x + *y), 0.5 * spread * (*y - *x));
        let (c, d) = ((mid - half).clamp(0.0, 1.0), (mid + half).clamp(0.0, 1.0));
        // Either child may have either: without this nothing is recombined.
        (*x, *y) = if random.bool() { (c, d) } else { (d, c) };
    }
}

/// Polynomial mutation, one coordinate in the mean.
fn mutate(x: &mut [f64], random: &mut fastrand::Rng) {
    let odds = 1.0 / x.len().max(1) as f64;
    for v in x {
        if random.f64() < odds {
            let u = random.f64();
            let by = if u < 0.5 {
                (2.0 * u).powf(1.0 / (INDEX + 1.0)) - 1.0
            } else {
                1.0 - (2.0 * (1.0 - u)).powf(1.0 / (INDEX + 1.0))
            };
            *v = (*v + by).clamp(0.0, 1.0);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(aims: Vec<f64>) -> Worth {
        Worth {
            aims,
            violation: 0.0,
        }
    }

    /// Zitzler, Deb & Thiele 2000, Evol. Comput. 8(2) 173-195, test function 1, 30 inputs.
    fn zdt1(x: &[f64]) -> Worth {
        let g = 1.0 + 9.0 * x[1..].iter().sum::<f64>() / (x.len() - 1) as f64;
        kept(vec![x[0], g * (1.0 - (x[0] / g).sqrt())])
    }

    fn run(threads: usize, generations: usize) -> Vec<Tried> {
        let how = Search {
            population: 100,
            generations,
            seed: 1,
        };
        match rayon::ThreadPoolBuilder::new().num_threads(threads).build() {
            Ok(pool) => pool.install(|| search(30, how, &zdt1)),
            Err(_) => Vec::new(),
        }
    }

    #[test]
    fn published_zdt1_front_is_reproduced_whatever_the_threads() {
        // Population and generations as in Deb et al. 2002, table II, whose mean distance is 0.0335 for real-coded NSGA-II.
        let all = run(2, 250);
        let front = front(&all);
        assert!(front.len() > 80, "{}", front.len());
        // Distance of a point to the front f2 = 1 - sqrt(f1), over 2000 points of it.
        let distance = |w: &Worth| {
            (0..=2000)
                .map(|i| f64::from(i) / 2000.0)
                .map(|f1| (w.aims[0] - f1).hypot(w.aims[1] - (1.0 - f1.sqrt())))
                .fold(f64::INFINITY, f64::min)
        };
        let mean = front.iter().map(|&i| distance(&all[i].worth)).sum::<f64>() / front.len() as f64;
        assert!(mean < 0.01, "generational distance {mean}");
        let ends = (&all[front[0]].worth, &all[front[front.len() - 1]].worth);
        assert!(ends.0.aims[0] < 0.02 && ends.1.aims[0] > 0.95, "{ends:?}");
        assert!(run(1, 9) == all[..1000], "the threads changed the outcome");
    }

    #[test]
    fn analytic_constraints_cut_the_front() {
        // x and 1 - x with x of at least 0.4: the front is 0.4 to 1.
        let how = Search {
            population: 20,
            generations: 20,
            seed: 2,
        };
        let all = search(1, how, &|x| Worth {
            aims: vec![x[0], 1.0 - x[0]],
            violation: (0.4 - x[0]).max(0.0),
        });
        let front = front(&all);
        let lowest = all[front[0]].worth.aims[0];
        assert!((0.4..0.42).contains(&lowest), "{lowest}");
        assert!(front.iter().all(|&i| all[i].x[0] >= 0.4));
    }
}
