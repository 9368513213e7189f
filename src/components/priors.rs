//! What a careful person believes of each closure before measuring: mean and the range that nine in ten rigs lie in.
//! The ranges and their reasons stand in `docs/closures.md`; a test keeps both alike.

use super::closures::Closures;
use statrs::function::erf::erf_inv;

/// How a value scatters about its mean.
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
    /// Nine in ten lie between; the mean (of the logarithm, of a difference itself) is the default.
    pub low: f64,
    pub high: f64,
    pub scatter: Scatter,
    pub value: fn(&mut Closures) -> &mut f64,
}

/// Normal deviate that a twentieth lies beyond, a tenth of one side.
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
    /// Share of the draws below the mean. The defaults stand where ordinary rigs come out on average: a range that reaches farther to one
    /// side holds the fewer draws there, or a band of such rigs would lie beside the trade's figures that the defaults meet. Half
    /// a bell to either side, a tenth of each beyond its end: a tenth of all.
    fn share_below(&self) -> f64 {
        let (below, above) = (self.reach(self.low), self.reach(self.high));
        above / (below + above)
    }

    fn default_value(&self) -> f64 {
        *(self.value)(&mut Closures::default())
    }

    /// How far an end lies from the default, in the measure of its scatter.
    fn reach(&self, end: f64) -> f64 {
        let default = self.default_value();
        match self.scatter {
            Scatter::Ratio => (end / default).ln().abs(),
            Scatter::Difference => (end - default).abs(),
        }
    }

    /// Value at a probability between 0 and 1 about a mean: each side reaches its end of the range, moved along with
    /// the mean, where a tenth of that side is left.
    pub fn quantile(&self, mean: f64, probability: f64) -> f64 {
        let below = self.share_below();
        // Place on its own side, from the mean outwards.
        let (place, side) = if probability < below {
            (1.0 - probability / below, -1.0)
        } else {
            ((probability - below) / (1.0 - below), 1.0)
        };
        let z = side * std::f64::consts::SQRT_2 * erf_inv(place);
        self.at_deviate(mean, z.clamp(-FARTHEST, FARTHEST))
    }

    /// Value `z` standard deviations of its side from the mean; nothing is cut.
    pub fn at_deviate(&self, mean: f64, z: f64) -> f64 {
        let default = self.default_value();
        let z = z / TWENTIETH;
        let end = if z < 0.0 { self.low } else { self.high };
        match self.scatter {
            Scatter::Ratio => mean * (end / default).powf(z.abs()),
            Scatter::Difference => (mean + (end - default) * z.abs()).max(0.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_a_tenth_lies_beyond_the_ends_and_the_mean_is_the_default() {
        for p in PRIORS {
            let default = *(p.value)(&mut Closures::default());
            let below = p.share_below();
            for (probability, expected) in [
                (0.1 * below, p.low),
                (below, default),
                (1.0 - 0.1 * (1.0 - below), p.high),
            ] {
                let got = p.quantile(default, probability);
                assert!((got - expected).abs() < 1e-9, "{}: {got}", p.name);
            }
            assert!(p.quantile(default, 1e-12) >= 0.0);
            // Mean over evenly spread draws; of a share that may be nothing the cut at zero lifts it by a hair.
            let n = 4000;
            let sum: f64 = (0..n)
                .map(|i| p.quantile(default, (f64::from(i) + 0.5) / f64::from(n)))
                .map(|v| match p.scatter {
                    Scatter::Ratio => (v / default).ln(),
                    Scatter::Difference => v - default,
                })
                .sum();
            let off = sum / f64::from(n) / (p.reach(p.low) + p.reach(p.high));
            let allowed = match p.scatter {
                Scatter::Ratio => 1e-3,
                Scatter::Difference => 0.02,
            };
            assert!(off.abs() < allowed, "{}: {off}", p.name);
        }
        // One that reaches as far to either side has its mean in the middle: the normal's own deviates there. The tails are cut at 2.24.
        let p = PRIORS[0];
        assert!((p.share_below() - 0.5).abs() < 0.03);
        assert_eq!(p.quantile(1.0, 1e-12), p.at_deviate(1.0, -FARTHEST));
        // Twice the mean, twice the range.
        let ratio = p.quantile(2.0, 0.95) / p.quantile(1.0, 0.95);
        assert!((ratio - 2.0).abs() < 1e-9);
    }

    /// Two halves of bells of spread a below and b above balance about the mean where the shares of the draws are as b to a: of a leakage of
    /// 2 %, from nothing to 10 %, four draws in five lie below it.
    #[test]
    fn analytic_a_mean_near_one_end_has_the_more_draws_on_that_side() -> Result<(), String> {
        let of = |name: &str| {
            PRIORS
                .iter()
                .find(|p| p.name == name)
                .ok_or(format!("no prior {name}"))
        };
        let leakage = of("leakage_share")?;
        assert!((leakage.quantile(0.02, 0.8) - 0.02).abs() < 1e-12);
        assert!(leakage.quantile(0.02, 0.81) > 0.0201 && leakage.quantile(0.02, 0.79) < 0.0199);
        // By logarithms: ln 2 above and ln 1/0.7 below.
        let mixing = of("mixing_time")?;
        let below = 2.0_f64.ln() / (2.0_f64.ln() - 0.7_f64.ln());
        assert!((mixing.quantile(1.0, below) - 1.0).abs() < 1e-12);
        Ok(())
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
