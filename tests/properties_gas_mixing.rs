//! Mixing of viscosity and conductivity in wood flue gas, dry to very wet, against a kinetics library's full rules; air full of vapour.

mod support {
    pub mod gases;
}

use emberloop::properties::combustion::{Elements, products};
use emberloop::properties::gas::{Composition, GasMix, air_density_kg_m3, humidity_ratio};
use support::gases::pure;

/// Air ratio, moisture on the wet basis, temperature, viscosity, conductivity.
type Row = (f64, f64, f64, f64, f64);

/// Cantera 3.2.0, gri30, mixture-averaged transport (`tests/reference/gas_mixtures.py`).
#[rustfmt::skip]
const FLUE_GAS: [Row; 24] = [
    (1.0, 0.0, 300.0, 1.652181e-05, 2.447931e-02),
    (1.0, 0.0, 600.0, 2.852470e-05, 4.595192e-02),
    (1.0, 0.0, 1200.0, 4.675959e-05, 8.644371e-02),
    (1.0, 0.0, 2000.0, 6.608708e-05, 1.335746e-01),
    (1.0, 0.3, 300.0, 1.600379e-05, 2.462892e-02),
    (1.0, 0.3, 600.0, 2.801227e-05, 4.707897e-02),
    (1.0, 0.3, 1200.0, 4.658234e-05, 9.072683e-02),
    (1.0, 0.3, 2000.0, 6.633902e-05, 1.426537e-01),
    (1.0, 0.5, 300.0, 1.543412e-05, 2.479293e-02),
    (1.0, 0.5, 600.0, 2.743393e-05, 4.832998e-02),
    (1.0, 0.5, 1200.0, 4.636778e-05, 9.553801e-02),
    (1.0, 0.5, 2000.0, 6.660944e-05, 1.528960e-01),
    (1.5, 0.2, 300.0, 1.689381e-05, 2.508565e-02),
    (1.5, 0.2, 600.0, 2.890480e-05, 4.632685e-02),
    (1.5, 0.2, 1200.0, 4.716828e-05, 8.638966e-02),
    (1.5, 0.2, 2000.0, 6.658227e-05, 1.331191e-01),
    (3.0, 0.5, 300.0, 1.728576e-05, 2.571394e-02),
    (3.0, 0.5, 600.0, 2.929972e-05, 4.670650e-02),
    (3.0, 0.5, 1200.0, 4.758913e-05, 8.633543e-02),
    (3.0, 0.5, 2000.0, 6.709058e-05, 1.326627e-01),
    (30.0, 0.2, 300.0, 1.857647e-05, 2.630642e-02),
    (30.0, 0.2, 600.0, 3.053093e-05, 4.564037e-02),
    (30.0, 0.2, 1200.0, 4.834742e-05, 8.059251e-02),
    (30.0, 0.2, 2000.0, 6.735702e-05, 1.201572e-01),
];

fn close(name: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{name}: got {got}, want {want}, relative error {:.2e}",
        got / want - 1.0
    );
}

/// ISO 17225-1 Annex B coniferous, scaled to sum 1.
fn flue_gas(air_ratio: f64, moisture: f64) -> Composition {
    let dry = 1.0 - moisture;
    let fuel = Elements {
        c_kg: 51.0 / 99.3 * dry,
        h_kg: 6.3 / 99.3 * dry,
        o_kg: 42.0 / 99.3 * dry,
        n_kg: 0.0,
        h2o_kg: moisture,
    };
    products(fuel, air_ratio * fuel.stoichiometric_air_kg(), 0.0).composition()
}

/// Wood flue gas of each moisture and air ratio that the mixing rules were fitted for.
fn grid() -> Vec<Composition> {
    let mut all = Vec::new();
    for air_ratio in [1.0, 1.2, 1.5, 2.0, 3.0, 5.0, 10.0, 30.0, 100.0] {
        for moisture in [0.0, 0.1, 0.2, 0.3, 0.4, 0.5] {
            all.push(flue_gas(air_ratio, moisture));
        }
    }
    all
}

/// One per cent: the fit of each species (0.7 % for the viscosity) and the short mixing rule together.
#[test]
fn published_cantera_transport_of_wet_flue_gas() {
    for (air_ratio, moisture, t_k, mu, k) in FLUE_GAS {
        let gas = GasMix::new(&flue_gas(air_ratio, moisture));
        let what = format!("air ratio {air_ratio}, moisture {moisture}, {t_k} K");
        close(&format!("mu, {what}"), gas.mu_pa_s(t_k), mu, 0.01);
        close(&format!("k, {what}"), gas.k_w_mk(t_k), k, 0.01);
    }
}

/// Molar masses in g/mol, by the order of [`parts`].
const M_G_MOL: [f64; 6] = [28.014, 31.998, 44.009, 18.015, 39.95, 28.010];

fn parts(of: impl Fn(&Composition) -> f64) -> [f64; 6] {
    std::array::from_fn(|i| of(&pure(i)))
}

/// Wilke 1950, J. Chem. Phys. 18:517: the mixture's viscosity from those of its species. At 250 K the short rule gives
/// up to 1.6 % more; from 300 K on it is within 1.1 %, which it would not be without its weights.
#[test]
fn published_viscosity_of_flue_gas_follows_wilke() {
    for t_k in [
        250.0, 300.0, 400.0, 500.0, 600.0, 800.0, 1200.0, 1800.0, 2400.0,
    ] {
        let mu = parts(|c| GasMix::new(c).mu_pa_s(t_k));
        let within = if t_k < 300.0 { 0.016 } else { 0.011 };
        for c in grid() {
            let x = c.mole_fractions();
            let x = [x.n2, x.o2, x.co2, x.h2o, x.ar, x.co];
            let mut wilke = 0.0;
            for i in 0..6 {
                let mut phi = 0.0;
                for j in 0..6 {
                    let ratio = M_G_MOL[i] / M_G_MOL[j];
                    let root = 1.0 + (mu[i] / mu[j]).sqrt() * ratio.powf(-0.25);
                    phi += x[j] * root * root / (8.0 * (1.0 + ratio)).sqrt();
                }
                wilke += x[i] * mu[i] / phi;
            }
            let what = format!("{t_k} K, {x:?}");
            close(&what, GasMix::new(&c).mu_pa_s(t_k), wilke, within);
        }
    }
}

/// Half the sum of arithmetic and harmonic mean (Mathur, Tondon & Saxena 1967, Mol. Phys. 12:569).
#[test]
fn published_conductivity_of_flue_gas_follows_mathur() {
    for t_k in [300.0, 400.0, 600.0, 800.0, 1200.0, 1800.0, 2400.0] {
        let k = parts(|c| GasMix::new(c).k_w_mk(t_k));
        for c in grid() {
            let x = c.mole_fractions();
            let x = [x.n2, x.o2, x.co2, x.h2o, x.ar, x.co];
            let sum: f64 = x.iter().zip(k).map(|(x, k)| x * k).sum();
            let inverse: f64 = x.iter().zip(k).map(|(x, k)| x / k).sum();
            let both = 0.5 * (sum + 1.0 / inverse);
            let what = format!("{t_k} K, {x:?}");
            close(&what, GasMix::new(&c).k_w_mk(t_k), both, 0.015);
        }
    }
}

/// Psychrometrics of ideal gases: W = 0.62198 p_w/(p - p_w) (ASHRAE Handbook Fundamentals, from memory). At 70 °C saturated air of
/// 1 atm holds p_w 31.2 kPa (steam tables, from memory), 0.277 kg/kg; over half of the pressure, 81.7 °C, nothing more comes in.
#[test]
fn published_air_is_filled_with_vapour_to_half_its_pressure() {
    let p = 101_325.0;
    close("70 degC", humidity_ratio(343.15, 1.0, p), 0.277, 3e-3);
    // No air holds more than saturated air (or less than none).
    assert_eq!(
        humidity_ratio(343.15, 1.3, p),
        humidity_ratio(343.15, 1.0, p)
    );
    assert_eq!(humidity_ratio(343.15, -0.1, p), 0.0);
    for (t_k, rh) in [(360.0, 1.0), (373.15, 1.0), (420.0, 0.5)] {
        close("half", humidity_ratio(t_k, rh, p), 0.62198, 3e-4);
        let per_mol = 0.5 * (28.965e-3 + 18.015e-3);
        let rho = p * per_mol / (8.314_462_6 * t_k);
        close("density", air_density_kg_m3(t_k, rh, p), rho, 3e-4);
    }
}
