//! Damp walls by themselves: closed solutions of slabs that dry, front, plateau and vapour's way out.

mod support {
    pub mod parts;
}

use emberloop::components::drying::{DampRow, Dried, VAPOUR_IN_AIR, WATER_J_KGK};
use emberloop::components::spec::Layer;
use emberloop::components::wall::{Wall, WallShape};
use emberloop::components::wall_row::WallRow;
use emberloop::properties::atmosphere;
use emberloop::properties::water::Water;
use support::parts::plain;

const P_PA: f64 = 101_325.0;
const RHO: f64 = 2000.0;
const C: f64 = 850.0;
const K: f64 = 1.0;

/// Brick of constant properties with water, vapour-tight unless told.
fn damp_brick(thickness_m: f64, moisture: f64) -> Layer {
    Layer {
        moisture,
        density_kg_m3: RHO,
        heat_capacity_j_kgk: C,
        ..plain(thickness_m, K, RHO * C, false)
    }
}

/// A square metre of flat wall with its working space.
struct Slab {
    wall: Wall,
    row: WallRow,
    damp: DampRow,
    e: Vec<f64>,
    share: Vec<f64>,
    left: Dried,
}

impl Slab {
    fn new(layers: &[Layer], cell_factor: usize, t_k: f64) -> Self {
        let flat = WallShape::Box {
            inner_area_m2: 1.0,
            half_width_m: 1e6,
        };
        let wall = Wall::new(layers, flat, cell_factor);
        let mut row = WallRow::default();
        row.push(&wall, 1);
        let mut damp = DampRow::new(Water::shared(), P_PA, 1000.0);
        damp.push(&wall, 1, "wall");
        let mut e: Vec<f64> = wall.nodes.iter().map(|n| n.state(t_k)).collect();
        let share = vec![1.0; damp.len()];
        damp.add_water(&mut e, &share);
        Self {
            wall,
            row,
            damp,
            e,
            share,
            left: Dried::default(),
        }
    }

    fn temperatures(&self) -> Vec<f64> {
        let mut t_k = vec![0.0; self.e.len()];
        self.row.temperatures(&self.e, &mut t_k);
        self.damp.temperatures(&self.e, &self.share, &mut t_k);
        t_k
    }

    /// What leaves at the present state.
    fn dried(&self, t_k: &[f64]) -> (Dried, Vec<f64>, Vec<f64>) {
        let n = self.e.len();
        let (mut open, mut out) = (vec![0.0; self.share.len()], vec![0.0; n]);
        let mut rates = vec![0.0; self.share.len()];
        let d = self.damp.dry(
            Water::shared(),
            t_k,
            &self.share,
            &mut open,
            &mut out,
            &mut rates,
        );
        (d, out, rates)
    }

    /// Short steps of Euler's method: `into_w` of the first node's temperature comes into it.
    fn march(&mut self, for_s: f64, step_s: f64, into_w: &dyn Fn(&Wall, f64) -> f64) -> f64 {
        let n = self.e.len();
        let (mut k, mut passed, mut de) = (vec![0.0; n], vec![0.0; n + 1], vec![0.0; n]);
        let mut heat_j = 0.0;
        for _ in 0..(for_s / step_s).round() as usize {
            let t_k = self.temperatures();
            let (d, out, rates) = self.dried(&t_k);
            let mut into = vec![0.0; n];
            into[0] = into_w(&self.wall, t_k[0]);
            self.row
                .rates(&t_k, &into, &out, &mut k, &mut passed, &mut de);
            for (e, de) in self.e.iter_mut().zip(&de) {
                *e += step_s * de;
            }
            for (s, rate) in self.share.iter_mut().zip(&rates) {
                *s += step_s * rate;
            }
            self.left.kg_s += step_s * d.kg_s;
            self.left.heat_w += step_s * d.heat_w;
            heat_j += step_s * into[0];
        }
        heat_j
    }

    fn energy_j(&self) -> f64 {
        self.wall.enthalpy_j(&self.e)
    }
}

/// Inner face held at a temperature.
fn held_at(t_k: f64) -> impl Fn(&Wall, f64) -> f64 {
    move |wall, first_k| (t_k - first_k) / wall.nodes[0].resistance_in_k_w(first_k)
}

/// Root of λ exp(λ²) erf λ = St/√π by bisection.
fn neumann(stefan: f64) -> f64 {
    // Series of erf, enough for arguments under 3.
    let erf = |x: f64| {
        let (mut term, mut sum) = (x, x);
        for n in 1..80 {
            term *= -x * x / f64::from(n);
            sum += term / f64::from(2 * n + 1);
        }
        2.0 / std::f64::consts::PI.sqrt() * sum
    };
    let (mut low, mut high) = (0.0_f64, 2.0_f64);
    for _ in 0..60 {
        let x = 0.5 * (low + high);
        if x * (x * x).exp() * erf(x) < stefan / std::f64::consts::PI.sqrt() {
            low = x;
        } else {
            high = x;
        }
    }
    0.5 * (low + high)
}

/// All the heat that a slab took is in the dry brick, and in its water's warming and evaporation: water × (c ΔT + latent).
#[test]
fn analytic_drying_a_slab_takes_its_water_times_warming_and_latent_heat() {
    let mut s = Slab::new(&[damp_brick(0.06, 0.08)], 2, 288.15);
    let kg = s.damp.water_kg(&s.share);
    // Flat to a millionth.
    assert!((kg / (0.08 * 0.06 * RHO) - 1.0).abs() < 1e-6, "{kg}");
    let start_j = s.energy_j();
    let heat_j = s.march(6.0 * 3600.0, 0.5, &|_, _| 3000.0);
    assert!(s.damp.water_kg(&s.share) < 1e-4 * kg, "{:?}", s.share);
    assert!((s.left.kg_s / kg - 1.0).abs() < 1e-4);
    // Energy closes to rounding.
    let stored_j = s.energy_j() - start_j;
    assert!((heat_j - stored_j - s.left.heat_w).abs() < 1e-6 * heat_j);
    // IAPWS-IF97 steam at 100 degC: 2675.6 kJ/kg over liquid at 25 degC of 104.8; from 15 degC the liquid brings -42 kJ/kg.
    let per_kg = s.left.heat_w / s.left.kg_s;
    assert!((per_kg / 2570.8e3 - 1.0).abs() < 2e-3, "{per_kg}");
    let warming = WATER_J_KGK * (s.damp.boils_k() - 288.15);
    let latent = Water::shared().h_fg_at_t_j_kg(s.damp.boils_k());
    let brick_j: f64 = s
        .temperatures()
        .iter()
        .zip(&s.wall.nodes)
        .map(|(t, n)| n.capacity_j_k * (t - 288.15))
        .sum();
    let expected_j = brick_j + kg * (warming + latent);
    assert!(
        (heat_j / expected_j - 1.0).abs() < 1e-3,
        "{heat_j} for {expected_j}"
    );
}

/// One-phase problem of Stefan (Neumann's solution; Carslaw & Jaeger, Conduction of Heat in Solids, ch. 11, from memory): half-space
/// at the boiling point, face held hotter, the front at 2 λ √(α t) with λ exp(λ²) erf λ = St/√π, St = c ΔT/(u L).
#[test]
fn analytic_the_drying_front_moves_as_neumann_says() {
    let latent = Water::shared().h_fg_at_t_j_kg(373.124);
    let alpha = K / (RHO * C);
    for (moisture, over_k) in [(0.08, 200.0), (0.15, 200.0), (0.05, 100.0)] {
        let lambda = neumann(C * over_k / (moisture * latent));
        let mut s = Slab::new(&[damp_brick(0.25, moisture)], 24, 373.124);
        let face = held_at(373.124 + over_k);
        let mut fronts = Vec::new();
        for _ in 0..2 {
            let hours = if fronts.is_empty() { 1.0 } else { 3.0 };
            s.march(hours * 3600.0, 0.25, &face);
            fronts.push(s.left.kg_s / (moisture * RHO));
        }
        for (front_m, hours) in fronts.iter().zip([1.0, 4.0f64]) {
            let exact_m = 2.0 * lambda * (alpha * hours * 3600.0).sqrt();
            println!("u {moisture} dT {over_k} h {hours}: {front_m} exact {exact_m}");
            assert!(
                (front_m / exact_m - 1.0).abs() < 0.04,
                "{moisture} {over_k} {hours} h: {front_m} for {exact_m}"
            );
        }
        // As the root of time.
        assert!((fronts[1] / fronts[0] - 2.0).abs() < 0.04, "{fronts:?}");
    }
}

/// The three nodes of a burn tell how much has dried to an eighth of the water at the worst moment, and when all has.
#[test]
fn analytic_few_nodes_dry_a_brick_about_as_fast_as_many() {
    let dried = |factor: usize, hours: f64| {
        let mut s = Slab::new(&[damp_brick(0.06, 0.08)], factor, 288.15);
        let step_s = 4.0 / (factor * factor) as f64;
        s.march(hours * 3600.0, step_s, &held_at(773.15));
        s.left.kg_s / (0.08 * 0.06 * RHO)
    };
    for hours in [0.5, 1.0, 2.0] {
        let (few, many) = (dried(1, hours), dried(8, hours));
        println!("{hours} h: {few} of {many}");
        assert!((few - many).abs() < 0.125, "{hours}: {few} of {many}");
    }
}

/// Each node stays at the boiling point until its water has gone, and one after the other leaves it.
#[test]
fn identity_the_plateau_at_the_boiling_point_moves_inwards() {
    let mut s = Slab::new(&[damp_brick(0.08, 0.08)], 2, 288.15);
    let n = s.share.len();
    // When each node came to the boiling point, and when it was 15 K over it.
    let (mut came, mut left) = (vec![f64::NAN; n], vec![f64::NAN; n]);
    let mut when_left = vec![f64::NAN; n];
    for minute in 0..200 {
        s.march(60.0, 0.5, &held_at(873.15));
        for (i, t) in s.temperatures().iter().enumerate() {
            if came[i].is_nan() && *t > 372.5 {
                came[i] = f64::from(minute);
            }
            if left[i].is_nan() && *t > 388.15 {
                left[i] = f64::from(minute);
                when_left[i] = s.share[i];
            }
        }
    }
    println!("{came:?} {left:?} {when_left:?}");
    // The first is there within the first minute.
    for i in 1..n {
        assert!(left[i] > came[i], "{i}");
        assert!(left[i] > left[i - 1], "{i}: {left:?}");
        assert!(when_left[i] < 0.2, "{i}: it leaves wet: {when_left:?}");
    }
    // The deeper the longer.
    assert!(left[n - 1] - came[n - 1] > 3.0 * (left[1] - came[1]));
}

/// A node without water is the node that it is in a dry wall, bit for bit.
#[test]
fn identity_dried_nodes_are_dry_nodes() {
    let wet = Layer {
        heat_capacity_slope_j_kgk2: 0.3,
        conductivity_slope_w_mk2: 2e-4,
        vapour_resistance: Some(16.0),
        ..damp_brick(0.05, 0.1)
    };
    let mut a = Slab::new(std::slice::from_ref(&wet), 1, 700.0);
    let dry = Layer {
        moisture: 0.0,
        ..wet
    };
    let b = Slab::new(&[dry], 1, 700.0);
    a.share.fill(0.0);
    a.e.clone_from(&b.e);
    assert_eq!(a.temperatures(), b.temperatures());
    let (d, out, rates) = a.dried(&a.temperatures());
    assert_eq!(d, Dried::default());
    assert!(out.iter().chain(&rates).all(|v| *v == 0.0));
}

/// Saturation at altitude: 93.4 degC at 2000 m, 86.9 at 4000 m (boiling point over altitude by ICAO's atmosphere and the steam
/// tables; common kitchen tables, from memory, to half a degree).
#[test]
fn published_walls_dry_at_the_boiling_point_of_the_altitude() {
    for (altitude_m, boils_c) in [(0.0, 100.0), (2000.0, 93.4), (4000.0, 86.9)] {
        let p = atmosphere::pressure_pa(altitude_m);
        let damp = DampRow::new(Water::shared(), p, 800.0);
        assert!(
            (damp.boils_k() - 273.15 - boils_c).abs() < 0.5,
            "{altitude_m}"
        );
    }
}

/// Below boiling a layer of dry brick passes δ A/(μ d) × the Stefan-flow difference of pressures, and nothing where both
/// faces are tight. Stefan's law: Bird, Stewart & Lightfoot, Transport Phenomena, ch. 18 (from memory).
#[test]
fn analytic_below_boiling_vapour_diffuses_through_what_is_dry() {
    let dry = Layer {
        vapour_resistance: Some(10.0),
        ..damp_brick(0.03, 0.0)
    };
    let wet = Layer {
        vapour_resistance: Some(10.0),
        ..damp_brick(0.02, 0.05)
    };
    let tight = Layer {
        thin: true,
        ..plain(0.001, 50.0, 4e6, true)
    };
    let t_k = 333.15;
    let s = Slab::new(&[dry, wet, tight], 1, t_k);
    let (d, _, rates) = s.dried(&s.temperatures());
    // Of the two nodes of the wet layer the second cannot get past the first.
    assert!(rates[0] < 0.0 && rates[1] == 0.0, "{rates:?}");
    let node = 0.5 * 0.35 * 0.02;
    let p = Water::shared().p_sat_pa(t_k);
    let stefan = P_PA * ((P_PA - 1000.0) / (P_PA - p)).ln();
    let expected = VAPOUR_IN_AIR / (10.0 * (0.03 + node)) * stefan;
    // The limit of the node's own rate takes a little of it.
    assert!(
        d.kg_s <= expected && d.kg_s > 0.97 * expected,
        "{} for {expected}",
        d.kg_s
    );
    // 60 degC: 19.9 kPa (steam tables).
    assert!((p / 19_946.0 - 1.0).abs() < 1e-3);
    let shut = Slab::new(&[damp_brick(0.05, 0.05)], 1, t_k);
    assert_eq!(shut.dried(&shut.temperatures()).0, Dried::default());
}
