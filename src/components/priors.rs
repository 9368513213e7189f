//! What a careful person believes of each closure before measuring: median and the range that nine in ten rigs lie in.
//! The ranges and their reasons stand in `docs/closures.md`; a test keeps both alike.

use super::closures::Closures;
use statrs::function::erf::erf_inv;

/// How a value scatters about its median.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scatter {
    /// Its logarithm is normal on either side: multipliers.
    Ratio,
    /// Itself is normal on either side and never negative: a share that may be nothing.
    Difference,
}

/// Prior of one closure.
#[derive(Debug, Clone, Copy)]
pub struct Prior {
    pub name: &'static str,
    /// Lower and upper twentieth; the median is the default.
    pub low: f64,
    pub high: f64,
    pub scatter: Scatter,
    pub value: fn(&mut Closures) -> &mut f64,
}

/// Normal deviate that a twentieth lies beyond.
pub const TWENTIETH: f64 = 1.644_853_626_951_472_2;
/// Tails are cut here: one in eighty on either side, where a range from judgement says nothing any more.
const FARTHEST: f64 = 2.24;

macro_rules! prior {
    ($field:ident, $name:literal, $low:literal, $high:literal, $scatter:ident) => {
        Prior {
            name: $name,
            low: $low,
            high: $high,
            scatter: Scatter::$scatter,
            value: |c| &mut c.$field,
        }
    };
}

/// All, in the order of [`Closures`].
pub const PRIORS: [Prior; 23] = [
    prior!(inlet_area, "inlet_area", 0.7, 1.4, Ratio),
    prior!(bed_rate, "bed_rate", 0.6, 1.6, Ratio),
    prior!(char_rate, "char_rate", 0.5, 2.0, Ratio),
    prior!(mixing_time, "mixing_time", 0.7, 2.0, Ratio),
    prior!(unmixedness, "unmixedness", 0.1, 0.5, Ratio),
    prior!(emissivity, "emissivity", 0.75, 1.15, Ratio),
    prior!(flame_soot_per_m, "flame_soot", 0.3, 2.0, Ratio),
    prior!(duct_convection, "duct_convection", 0.8, 1.4, Ratio),
    prior!(bank_exposure, "bank_exposure", 0.6, 1.4, Ratio),
    prior!(water_convection, "water_convection", 0.8, 1.2, Ratio),
    prior!(water_friction, "water_friction", 0.8, 1.5, Ratio),
    prior!(gas_friction, "gas_friction", 0.7, 1.5, Ratio),
    prior!(casing_loss, "casing_loss", 0.7, 1.4, Ratio),
    prior!(coil_radiation, "coil_radiation", 0.5, 1.5, Ratio),
    prior!(contact, "contact", 0.3, 2.0, Ratio),
    prior!(fouling_rate, "fouling_rate", 0.3, 3.0, Ratio),
    prior!(evaporation, "evaporation", 0.65, 1.3, Ratio),
    prior!(vessel_loss, "vessel_loss", 0.8, 1.6, Ratio),
    prior!(tank_mixing, "tank_mixing", 0.3, 3.0, Ratio),
    prior!(leakage_share, "leakage_share", 0.0, 0.1, Difference),
    prior!(ember_size, "ember_size", 0.6, 1.6, Ratio),
    prior!(ember_emission, "ember_emission", 0.6, 1.6, Ratio),
    prior!(hearth_contact, "hearth_contact", 0.3, 3.0, Ratio),
];

impl Prior {
    /// Value at a probability between 0 and 1 about a median: each side reaches its end of the range, moved along with
    /// the median, at a twentieth from the end.
    pub fn quantile(&self, median: f64, probability: f64) -> f64 {
        let z = std::f64::consts::SQRT_2 * erf_inv(2.0 * probability - 1.0);
        self.at_deviate(median, z.clamp(-FARTHEST, FARTHEST))
    }

    /// Value `z` standard deviations from a median; nothing is cut.
    pub fn at_deviate(&self, median: f64, z: f64) -> f64 {
        let default = *(self.value)(&mut Closures::default());
        let z = z / TWENTIETH;
        let end = if z < 0.0 { self.low } else { self.high };
        match self.scatter {
            Scatter::Ratio => median * (end / default).powf(z.abs()),
            Scatter::Difference => (median + (end - default) * z.abs()).max(0.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_quantiles_pass_through_median_and_ends() {
        for p in PRIORS {
            let default = *(p.value)(&mut Closures::default());
            for (probability, expected) in [(0.05, p.low), (0.5, default), (0.95, p.high)] {
                let got = p.quantile(default, probability);
                assert!((got - expected).abs() < 1e-9, "{}: {got}", p.name);
            }
            assert!(p.quantile(default, 1e-12) >= 0.0);
        }
        // Of the normal distribution's values one in eighty lies beyond 2.2414 deviations.
        let p = PRIORS[0];
        let (cut, eightieth) = (p.quantile(1.0, 1e-12), p.quantile(1.0, 1.0 / 80.0));
        assert!((cut / eightieth - 1.0).abs() < 1e-3);
        // Twice the median, twice the range.
        let p = PRIORS[0];
        assert!((p.quantile(2.0, 0.95) - 2.8).abs() < 1e-9);
    }

    #[test]
    fn identity_every_closure_has_its_prior() {
        let as_map = |c: &Closures| match serde_json::to_value(c) {
            Ok(serde_json::Value::Object(map)) => map,
            _ => serde_json::Map::new(),
        };
        let fields = as_map(&Closures::default());
        let names: Vec<_> = fields
            .keys()
            .map(|k| k.trim_end_matches("_per_m"))
            .collect();
        assert_eq!(names, PRIORS.map(|p| p.name));
        for (i, p) in PRIORS.iter().enumerate() {
            let mut c = Closures::default();
            *(p.value)(&mut c) = 7.25 + i as f64;
            let changed = as_map(&c);
            let different: Vec<_> = fields.iter().filter(|(k, v)| &changed[*k] != *v).collect();
            assert_eq!(different.len(), 1, "{}", p.name);
            assert!(different[0].0.starts_with(p.name));
        }
    }
}
