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

/// Nodes of several walls and cells, dry ones between them: each layer's masses are its volume × density, what is left of its water is
/// told layer by layer, and the temperatures that were put in come out again, also where heat capacity rises with temperature.
#[test]
fn identity_layers_of_several_walls_keep_their_own_water_and_temperature() {
    let flat = WallShape::Box {
        inner_area_m2: 2.0,
        half_width_m: 1e6,
    };
    let sheet = Layer {
        thin: true,
        ..plain(0.002, 50.0, 4e6, true)
    };
    let rising = |thickness_m: f64, moisture: f64| Layer {
        heat_capacity_slope_j_kgk2: 0.9,
        ..damp_brick(thickness_m, moisture)
    };
    let first = Wall::new(&[sheet, rising(0.03, 0.1)], flat, 1);
    let second = Wall::new(&[rising(0.02, 0.05), rising(0.02, 0.2)], flat, 1);
    let mut damp = DampRow::new(Water::shared(), P_PA, 1000.0);
    damp.push(&first, 3, "a");
    damp.push(&second, 2, "b");
    // The sheet and two nodes a cell, then twice two.
    let places = [1, 2, 4, 5, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16];
    assert_eq!(damp.len(), places.len());
    for (i, node) in places.into_iter().enumerate() {
        assert_eq!(damp.at(node), Some(i));
    }
    assert!([0, 3, 6, 17].iter().all(|&dry| damp.at(dry).is_none()));
    let close = |got: f64, want: f64| assert!((got / want - 1.0).abs() < 1e-6, "{got} {want}");
    let paths: Vec<&str> = damp.layers().iter().map(|l| l.path.as_str()).collect();
    assert_eq!(paths, ["a[1]", "b[0]", "b[1]"]);
    let volumes = [3.0 * 2.0 * 0.03, 2.0 * 2.0 * 0.02, 2.0 * 2.0 * 0.02];
    let moistures = [0.1, 0.05, 0.2];
    for ((l, m3), moisture) in damp.layers().iter().zip(volumes).zip(moistures) {
        close(l.dry_kg, RHO * m3);
        close(l.water_kg, moisture * RHO * m3);
    }
    // Every layer with a share of its own.
    let left = [0.9, 0.4, 0.15];
    let share = [0, 0, 0, 0, 0, 0, 1, 1, 2, 2, 1, 1, 2, 2].map(|l: usize| left[l]);
    let by_layer = damp.water_by_layer_kg(&share);
    for (i, kg) in by_layer.iter().enumerate() {
        close(*kg, left[i] * damp.layers()[i].water_kg);
    }
    close(damp.water_kg(&share), by_layer.iter().sum());
    let nodes: Vec<_> = std::iter::repeat_n(&first, 3)
        .chain(std::iter::repeat_n(&second, 2))
        .flat_map(|w| &w.nodes)
        .collect();
    let given: Vec<f64> = (0..nodes.len()).map(|i| 280.0 + 30.0 * i as f64).collect();
    let dry: Vec<f64> = nodes.iter().zip(&given).map(|(n, t)| n.state(*t)).collect();
    let mut e = dry.clone();
    damp.add_water(&mut e, &share);
    let mut t_k = vec![0.0; nodes.len()];
    damp.temperatures(&e, &share, &mut t_k);
    for (i, node) in places.into_iter().enumerate() {
        assert!(
            (t_k[node] - given[node]).abs() < 1e-9,
            "{node}: {}",
            t_k[node]
        );
        assert_eq!(damp.temperature_k(i, e[node], share[i]), t_k[node]);
        // What it holds over the dry node: water × specific heat × degrees over 25 °C.
        let (n, over_k) = (nodes[node], given[node] - 298.15);
        let water_j = share[i] * n.water_kg * WATER_J_KGK * over_k;
        let held_j = n.enthalpy_j(e[node]) - n.enthalpy_j(dry[node]);
        assert!((held_j - water_j).abs() < 1e-9 * n.enthalpy_j(dry[node]).abs());
    }
}

/// What leaves each node of a wall that lets vapour out at both faces, 60 °C in thinner air: δ p₀/p over the sum of μ d on its way × the Stefan-flow
/// difference, each way by what of the nodes before it is dry (Bird, Stewart & Lightfoot, ch. 18, from memory), beside what the node
/// itself follows: 1/ṁ = 1/ṁ_d + 1/(ν w m₀).
#[test]
fn analytic_vapour_leaves_by_both_faces_through_what_is_dry_of_the_way() {
    let p_pa = 80_000.0;
    let flat = WallShape::Box {
        inner_area_m2: 1.0,
        half_width_m: 1e6,
    };
    let open = |thickness_m: f64, moisture: f64, mu: f64| Layer {
        vapour_resistance: Some(mu),
        ..damp_brick(thickness_m, moisture)
    };
    let layers = [
        open(0.03, 0.0, 8.0),
        open(0.02, 0.05, 20.0),
        open(0.01, 0.0, 5.0),
    ];
    let wall = Wall::new(&layers, flat, 1);
    let mut damp = DampRow::new(Water::shared(), p_pa, 1500.0);
    damp.push(&wall, 1, "wall");
    let t_k = vec![333.15; wall.len()];
    let p = Water::shared().p_sat_pa(333.15);
    let stefan = p_pa * ((p_pa - 1500.0) / (p_pa - p)).ln();
    let delta = VAPOUR_IN_AIR * P_PA / p_pa;
    // μ d from the middles of both nodes, 7 and 13 mm thick, to the faces.
    let (in0, in1) = (8.0 * 0.03 + 20.0 * 0.0035, 8.0 * 0.03 + 20.0 * 0.0135);
    let (out0, out1) = (5.0 * 0.01 + 20.0 * 0.0165, 5.0 * 0.01 + 20.0 * 0.0065);
    for share in [
        [1.0, 1.0],
        [0.4, 1.0],
        [1.0, 0.3],
        [0.6, 0.7],
        [0.0, 0.5],
        [0.5, 0.0],
    ] {
        let (mut way, mut out, mut rates) = ([0.0; 2], vec![0.0; wall.len()], [0.0; 2]);
        let d = damp.dry(
            Water::shared(),
            &t_k,
            &share,
            &mut way,
            &mut out,
            &mut rates,
        );
        let wants = [
            delta * stefan * (1.0 / in0 + (1.0 - share[1]) / out0),
            delta * stefan * ((1.0 - share[0]) / in1 + 1.0 / out1),
        ];
        let mut all = 0.0;
        for (i, (wants, thickness_m)) in wants.into_iter().zip([0.007, 0.013]).enumerate() {
            let water_kg = 0.05 * RHO * thickness_m;
            // 24 k/(d C), C = ρ c d: how soon the node's temperature follows.
            let most = 24.0 * K / (RHO * C * thickness_m * thickness_m) * share[i] * water_kg;
            let expected = if most > 0.0 {
                1.0 / (1.0 / wants + 1.0 / most)
            } else {
                0.0
            };
            let got = -rates[i] * water_kg;
            assert!(
                (got - expected).abs() <= 1e-5 * expected,
                "{share:?} {i}: {got} {expected}"
            );
            all += expected;
            // Vapour at 60 °C over liquid at 25: 2608.8 - 104.8 kJ/kg (IF97).
            let j_kg = out[2 + i] / got;
            assert!(
                expected == 0.0 || (j_kg / 2504.0e3 - 1.0).abs() < 2e-3,
                "{j_kg}"
            );
        }
        assert!((d.kg_s / all - 1.0).abs() < 1e-5 && out[0] + out[1] + out[4] + out[5] == 0.0);
    }
}

/// Over the boiling point a node gives what heat boils off at its front, 24 k/(d L) × the degrees over it at its own conductivity there, and
/// beside it diffuses as at nine tenths of the air's pressure; both no faster than the node itself follows.
#[test]
fn analytic_above_the_boiling_point_heat_at_the_front_decides() {
    let mut brick = damp_brick(0.02, 0.06);
    (brick.conductivity_w_mk, brick.conductivity_slope_w_mk2) = (0.7, 1e-3);
    let boils_k = Slab::new(&[damp_brick(0.02, 0.06)], 1, 300.0)
        .damp
        .boils_k();
    // IF97 at 101325 Pa.
    assert!((boils_k - 373.124).abs() < 1e-3, "{boils_k}");
    let latent = Water::shared().h_fg_at_t_j_kg(boils_k);
    for (mu, over_k) in [
        (None, 2.0),
        (None, 30.0),
        (Some(15.0), 3.0),
        (Some(15.0), 40.0),
    ] {
        let layer = Layer {
            vapour_resistance: mu,
            ..brick.clone()
        };
        let t_k = boils_k + over_k;
        let s = Slab::new(&[layer], 1, t_k);
        let (d, out, rates) = s.dried(&[t_k; 2]);
        let mut all = (0.0, 0.0);
        for (i, thickness_m) in [0.007, 0.013].into_iter().enumerate() {
            let per_m = 24.0 / thickness_m;
            let boils = per_m * (0.7 + 1e-3 * (t_k - 298.15)) * over_k / latent;
            // To the face that is nearer; the other node is wet.
            let stefan = P_PA * ((P_PA - 1000.0) / (0.1 * P_PA)).ln();
            let diffuses = mu.map_or(0.0, |mu| VAPOUR_IN_AIR / (mu * 0.5 * thickness_m) * stefan);
            let water_kg = 0.06 * RHO * thickness_m;
            let most = per_m * 0.7 / (RHO * C * thickness_m) * water_kg;
            let expected = 1.0 / (1.0 / (boils + diffuses) + 1.0 / most);
            let got = -rates[i] * water_kg;
            assert!(
                (got / expected - 1.0).abs() < 1e-5,
                "{mu:?} {over_k} {i}: {got} {expected}"
            );
            // Steam of 100 °C over liquid at 25: 2675.6 - 104.8 kJ/kg (IF97).
            assert!((out[i] / got / 2570.8e3 - 1.0).abs() < 2e-3);
            all = (all.0 + got, all.1 + out[i]);
        }
        assert!((d.kg_s / all.0 - 1.0).abs() < 1e-6 && (d.heat_w / all.1 - 1.0).abs() < 1e-6);
    }
}

/// A bound that is met: one damp node between sheets that conduct without loss, its front at the boiling point, answers at
/// (4 + 24) α/d² but for the heat that its water holds besides (α of the dry brick); of several walls the fastest node counts.
#[test]
fn analytic_the_fastest_answer_of_a_damp_node_is_its_bound() {
    let thickness_m = 0.01;
    let wet = Layer {
        thin: true,
        conductivity_w_mk: 0.8,
        ..damp_brick(thickness_m, 0.01)
    };
    let sheet = Layer {
        thin: true,
        ..plain(0.001, 1e9, 1e9, true)
    };
    let boils_k = 373.124;
    let mut s = Slab::new(&[sheet.clone(), wet, sheet], 1, boils_k);
    let bound = 28.0 * 0.8 / (RHO * C * thickness_m * thickness_m);
    let got = s.damp.fastest_per_s();
    assert!((got / bound - 1.0).abs() < 1e-6, "{got} {bound}");
    // Degrees per second lost a tenth of a degree over the boiling point, the sheets held there.
    let t_k = [boils_k, boils_k + 0.1, boils_k];
    let (_, out, rates) = s.dried(&t_k);
    let (mut k, mut passed, mut de) = ([0.0; 3], [0.0; 4], [0.0; 3]);
    s.row
        .rates(&t_k, &[0.0; 3], &out, &mut k, &mut passed, &mut de);
    let n = &s.wall.nodes[1];
    let e = n.state(t_k[1]) + n.water_kg * WATER_J_KGK / n.capacity_j_k * (t_k[1] - 298.15) / 100.0;
    let after = s
        .damp
        .temperature_k(0, e + 1e-3 * de[1], 1.0 + 1e-3 * rates[0]);
    let answers = (t_k[1] - after) / 1e-3 / 0.1;
    assert!(
        answers < bound && answers > 0.9 * bound,
        "{answers} {bound}"
    );
    // A slower wall changes nothing, a faster one does.
    let fine = Wall::new(
        &[damp_brick(0.002, 0.02)],
        WallShape::Box {
            inner_area_m2: 1.0,
            half_width_m: 1e6,
        },
        1,
    );
    let coarse = Slab::new(&[damp_brick(0.1, 0.02)], 1, boils_k).wall;
    s.damp.push(&coarse, 1, "coarse");
    assert_eq!(s.damp.fastest_per_s(), got);
    s.damp.push(&fine, 1, "fine");
    let finest = 28.0 * K / (RHO * C * (0.35f64 * 0.002).powi(2));
    let got = s.damp.fastest_per_s();
    assert!((got / finest - 1.0).abs() < 1e-6, "{got} {finest}");
}
