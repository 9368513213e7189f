//! What a flue-gas meter at the stack's end would have shown, and the exact loss of the same moments.

use crate::components::spec::{Fuel, Rig};
use crate::correlations::combustion::{
    SiegertConstants, WOOD_CO2_MAX_PERCENT, co2_from_o2_percent, siegert_constants,
    siegert_loss_fraction,
};
use crate::network::{Instant, Network};

/// Oxygen in dry gas above which no reading is taken: the formula divides by what is left to 21 %.
const MOST_O2: f64 = 0.19;
/// Fire under which there is nothing to measure, W.
const LEAST_FIRE_W: f64 = 500.0;

/// Sums over the readable moments.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    time_s: f64,
    o2_s: f64,
    stack_k_s: f64,
    burnt_j: f64,
    short_j: f64,
    exact_j: f64,
}

/// Means over the time in which the meter could be read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reading {
    pub o2_dry: f64,
    /// From the oxygen, as meters do it.
    pub co2_dry: f64,
    pub stack_k: f64,
    pub short: f64,
    pub exact: f64,
}

/// Time integrals by the trapezoidal rule, between neighbours that can both be read.
#[derive(Debug, Clone)]
pub(super) struct FlueMeter {
    constants: SiegertConstants,
    last: Option<(f64, Sums)>,
    sum: Sums,
}

impl FlueMeter {
    pub fn new(rig: &Rig) -> Self {
        Self {
            constants: of_fuel(&rig.fuel),
            last: None,
            sum: Sums::default(),
        }
    }

    pub fn sample(&mut self, net: &Network, t_s: f64, i: &Instant) {
        if i.o2_dry > MOST_O2 || i.net_burnt_w < LEAST_FIRE_W {
            self.last = None;
            return;
        }
        let air_k = net.rig.site.air_temperature_k.at(t_s);
        let short = siegert_loss_fraction(i.stack_k, air_k, 100.0 * i.o2_dry, self.constants);
        let now = Sums {
            time_s: 1.0,
            o2_s: i.o2_dry,
            stack_k_s: i.stack_k,
            burnt_j: i.net_burnt_w,
            short_j: i.net_burnt_w * short,
            exact_j: i.stack_sensible_w - i.air_enthalpy_w,
        };
        if let Some((before_s, before)) = self.last {
            let half_s = 0.5 * (t_s - before_s).max(0.0);
            self.sum.add(half_s, &before);
            self.sum.add(half_s, &now);
        }
        self.last = Some((t_s, now));
    }

    /// `None` where it never burnt well enough for a reading.
    pub fn reading(&self) -> Option<Reading> {
        let s = &self.sum;
        (s.time_s > 0.0).then(|| {
            let o2_dry = s.o2_s / s.time_s;
            Reading {
                o2_dry,
                co2_dry: 0.01 * co2_from_o2_percent(100.0 * o2_dry, WOOD_CO2_MAX_PERCENT),
                stack_k: s.stack_k_s / s.time_s,
                short: s.short_j / s.burnt_j,
                exact: s.exact_j / s.burnt_j,
            }
        })
    }
}

impl Sums {
    fn add(&mut self, dt_s: f64, rate: &Sums) {
        self.time_s += dt_s * rate.time_s;
        self.o2_s += dt_s * rate.o2_s;
        self.stack_k_s += dt_s * rate.stack_k_s;
        self.burnt_j += dt_s * rate.burnt_j;
        self.short_j += dt_s * rate.short_j;
        self.exact_j += dt_s * rate.exact_j;
    }
}

/// The formula's constants for the rig's own wood.
fn of_fuel(f: &Fuel) -> SiegertConstants {
    let organic = 1.0 - f.ash_dry;
    siegert_constants(
        organic * f.carbon_daf,
        organic * f.hydrogen_daf,
        organic * f.oxygen_daf,
        f.gross_heating_value_dry_j_kg,
        f.moisture_wet,
    )
}
