//! What a fit may move: closures with their priors, and scenario values with a range. Inside a fit each is told by how
//! many standard deviations of its prior it lies from where the scenario has it.

use crate::analyses::study::{Axis, Decimal};
use crate::components::priors::{PRIORS, Prior, Scatter, TWENTIETH};
use crate::components::spec::Rig;

/// Search ends here: nothing beyond is believed, whatever a log says.
const FARTHEST: f64 = 3.0;

#[derive(Debug, Clone)]
enum Kind {
    Closure(Prior),
    /// Ends of the range that nine in ten lie in, and the scenario's own value, in the axis' unit.
    Value {
        axis: Axis,
        low: f64,
        high: f64,
        scatter: Scatter,
    },
}

/// One quantity that a fit moves.
#[derive(Debug, Clone)]
pub struct Parameter {
    /// As the person writes it.
    pub name: String,
    /// Scenario path.
    pub path: String,
    pub unit: String,
    /// Where the scenario has it.
    pub median: f64,
    /// Asked for; the rest is carried along because it is not known either.
    pub free: bool,
    kind: Kind,
}

impl Parameter {
    /// A closure of the rig.
    pub fn closure(prior: &Prior, rig: &Rig, free: bool) -> Self {
        let mut closures = rig.closures.clone();
        Self {
            name: prior.name.to_owned(),
            path: format!("closures.{}", prior.name),
            unit: String::new(),
            median: *(prior.value)(&mut closures),
            free,
            kind: Kind::Closure(*prior),
        }
    }

    /// A scenario value whose range holds nine in ten; `None` where the axis is no range or the value lies outside.
    pub fn value(axis: Axis, here: f64) -> Option<Self> {
        let (low, high) = axis.ends()?;
        let (low, high) = (low.min(high), low.max(high));
        (low < here && here < high).then(|| Self {
            name: axis.name.clone(),
            path: axis.name.clone(),
            unit: axis.unit.clone(),
            median: here,
            free: true,
            kind: Kind::Value {
                // A share in percent scatters by differences, a size by ratios.
                scatter: if low > 0.0 && axis.unit != "%" {
                    Scatter::Ratio
                } else {
                    Scatter::Difference
                },
                axis,
                low,
                high,
            },
        })
    }

    /// Closures that a name may mean: `bank_exposure` or `closures.bank_exposure`.
    pub fn find_closure(name: &str) -> Option<&'static Prior> {
        let short = name.strip_prefix("closures.").unwrap_or(name);
        PRIORS.iter().find(|p| p.name == short)
    }

    /// Value `z` standard deviations of the prior from the scenario's.
    pub fn at(&self, z: f64) -> f64 {
        match &self.kind {
            Kind::Closure(prior) => prior.at_deviate(self.median, z),
            Kind::Value {
                low, high, scatter, ..
            } => {
                let end = if z < 0.0 { *low } else { *high };
                let by = z.abs() / TWENTIETH;
                match scatter {
                    Scatter::Ratio => self.median * (end / self.median).powf(by),
                    Scatter::Difference => self.median + (end - self.median) * by,
                }
            }
        }
    }

    /// Between which `z` the search keeps.
    pub fn bounds(&self) -> (f64, f64) {
        match &self.kind {
            // Nothing leaks less than nothing.
            Kind::Closure(p) if p.scatter == Scatter::Difference => (-TWENTIETH, FARTHEST),
            Kind::Closure(_) => (-FARTHEST, FARTHEST),
            Kind::Value { .. } => (-TWENTIETH, TWENTIETH),
        }
    }

    /// Text for an override of the scenario.
    pub fn text(&self, z: f64) -> String {
        let number = Decimal::significant(self.at(z), 5);
        format!("{number} {}", self.unit).trim_end().to_owned()
    }

    /// Paths and texts that put it there; none for a closure, which is set in the rig itself.
    pub(super) fn overrides(&self, z: f64) -> Vec<(String, String)> {
        match &self.kind {
            Kind::Closure(_) => Vec::new(),
            Kind::Value { axis, .. } => axis.at(Decimal::significant(self.at(z), 8)).set,
        }
    }

    pub(super) fn put(&self, rig: &mut Rig, z: f64) {
        if let Kind::Closure(prior) = &self.kind {
            *(prior.value)(&mut rig.closures) = self.at(z);
        }
    }
}
