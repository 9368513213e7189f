//! Parts of the second formulation: its water cells and its store, what happens to it by the clock, values within a step.

pub enum Nusselt {
    Helix(f64),
    Pipe(f64),
}

pub struct Cell {
    pub kg: f64,
    pub metal_j_k: f64,
    pub inside_m2: f64,
    pub flow_m2: f64,
    pub inside_m: f64,
    pub length_m: f64,
    pub rise_m: f64,
    pub loss_k: f64,
    pub roughness: f64,
    pub loss_w_k: f64,
    pub nusselt: Nusselt,
    pub p_pa: f64,
    pub sat_k: f64,
    pub h_f_j_kg: f64,
    /// Which gas cell heats it, and its share of that heat.
    pub heated: Option<(usize, f64)>,
}

/// The store in layers.
pub struct Store {
    pub layers: usize,
    pub layer_kg: f64,
    pub shell_j_k: f64,
    pub loss_w_k: Vec<f64>,
    pub mixing_w_k: f64,
    pub stable_w_k: f64,
    /// Layers of a port and their shares: those whose middles it lies between.
    pub hot: [(usize, f64); 2],
    pub cold: [(usize, f64); 2],
    pub height_m: f64,
    pub hot_z_m: f64,
    pub cold_z_m: f64,
    pub floor_z_m: f64,
}

pub enum Event {
    StarterOut,
    Feed(f64),
    Pump(Option<usize>),
}

/// Cubic through values and slopes at both ends of a step of `h_s`, at share `s` of it.
pub fn hermite(s: f64, h_s: f64, a: (&[f64], &[f64]), b: (&[f64], &[f64])) -> Vec<f64> {
    let (r, q) = (1.0 - s, s * s * (3.0 - 2.0 * s));
    (0..a.0.len())
        .map(|i| {
            let bend = s * r * h_s * (r * a.1[i] - s * b.1[i]);
            (1.0 - q) * a.0[i] + q * b.0[i] + bend
        })
        .collect()
}
