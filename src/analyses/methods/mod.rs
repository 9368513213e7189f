//! Methods over plain functions of numbers: brackets and roots, elementary effects, variance shares, fronts and a few points of them. They know no rig.

pub mod bracket;
pub mod morris;
pub mod nsga;
pub mod sobol;
pub mod spread;

/// Coordinates of one point, each from 0 to 1.
pub type Unit = Vec<f64>;

/// Point `i` of an Owen-scrambled Sobol sequence in `d` dimensions (Burley 2020, J. Comput. Graph. Tech. 9(4)).
pub fn sobol_point(i: usize, d: usize, seed: u32) -> Unit {
    (0..d)
        .map(|k| f64::from(sobol_burley::sample(i as u32, k as u32, seed)))
        .collect()
}

/// Most points of a sequence and most dimensions.
pub const MOST_POINTS: usize = 1 << 16;
pub const MOST_DIMENSIONS: usize = 256;
