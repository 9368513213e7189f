//! What a probe shows of the simulated burn: its place, its lag, what radiation and place make of a bare thermocouple in
//! hot gas, and how far off it may be.

use crate::analyses::BurnOptions;
use crate::components::spec::Rig;
use crate::components::thermometer::balanced_k;
use crate::logs::Role;
use crate::properties::water::Water;
use crate::results::Series;

/// Difference of reading and gas under which nothing tells how much of it is radiation's, K.
const ALIKE_K: f64 = 0.05;

/// Where a probe sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    TankMean,
    TankTop,
    TankMiddle,
    TankBottom,
    CoilIn,
    CoilOut,
    GasBelowCoil,
    GasAboveCoil,
    Chamber,
    Flue,
    O2,
    Co2,
    Flow,
}

impl Place {
    pub const ALL: [Place; 13] = [
        Self::TankMean,
        Self::TankTop,
        Self::TankMiddle,
        Self::TankBottom,
        Self::CoilIn,
        Self::CoilOut,
        Self::GasBelowCoil,
        Self::GasAboveCoil,
        Self::Chamber,
        Self::Flue,
        Self::O2,
        Self::Co2,
        Self::Flow,
    ];

    /// Of a log's channel; `None` where the model has no such place.
    pub fn of(role: Role) -> Option<Self> {
        Some(match role {
            Role::Tank => Self::TankMean,
            Role::TankTop => Self::TankTop,
            Role::TankMiddle => Self::TankMiddle,
            Role::TankBottom => Self::TankBottom,
            Role::CoilIn => Self::CoilIn,
            Role::CoilOut => Self::CoilOut,
            Role::GasBelowCoil => Self::GasBelowCoil,
            Role::GasAboveCoil => Self::GasAboveCoil,
            Role::Chamber => Self::Chamber,
            Role::Flue => Self::Flue,
            Role::FlueO2 => Self::O2,
            Role::FlueCo2 => Self::Co2,
            Role::Flow => Self::Flow,
            _ => return None,
        })
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::TankMean => "tank",
            Self::TankTop => "tank top",
            Self::TankMiddle => "tank middle",
            Self::TankBottom => "tank bottom",
            Self::CoilIn => "water into the coil",
            Self::CoilOut => "water out of the coil",
            Self::GasBelowCoil => "gas below the coil",
            Self::GasAboveCoil => "gas above the coil",
            Self::Chamber => "fire chamber",
            Self::Flue => "flue gas temperature",
            Self::O2 => "flue O2",
            Self::Co2 => "flue CO2",
            Self::Flow => "water flow",
        }
    }

    /// In the names of the columns of what a bare thermometer shows; `None` in water and of what is no temperature.
    fn bare_name(self) -> Option<&'static str> {
        Some(match self {
            Self::GasBelowCoil => "below_coil",
            Self::GasAboveCoil => "above_coil",
            Self::Chamber => "firebox",
            Self::Flue => "stack",
            _ => return None,
        })
    }

    fn is_gas(self) -> bool {
        matches!(
            self,
            Self::GasBelowCoil | Self::GasAboveCoil | Self::Chamber | Self::Flue
        )
    }

    pub fn is_tank(self) -> bool {
        matches!(
            self,
            Self::TankMean | Self::TankTop | Self::TankMiddle | Self::TankBottom
        )
    }

    /// A temperature; else a share or a flow.
    pub fn is_temperature(self) -> bool {
        !matches!(self, Self::O2 | Self::Co2 | Self::Flow)
    }

    /// What the model and a usual probe are believed to be off by, one standard deviation, before any log: a part of the
    /// rise and a part of its own (judgement; of validation's gaps in gas temperatures, of strapped-on water probes).
    pub fn usual_error(self, rise: f64) -> f64 {
        let (share, own) = match self {
            p if p.is_tank() => (0.015, 0.5),
            Self::CoilIn | Self::CoilOut => (0.03, 1.0),
            p if p.is_gas() => (0.06, 8.0),
            Self::O2 | Self::Co2 => (0.0, 0.012),
            _ => (0.06, 1e-7),
        };
        let own: f64 = own;
        own.hypot(share * rise)
    }

    /// What is not known of the probe itself: name and scale of each.
    pub fn unknowns(self) -> &'static [Unknown] {
        match self {
            p if p.is_tank() => &[Unknown::Offset(0.5)],
            Self::CoilIn | Self::CoilOut => &[
                Unknown::Offset(0.8),
                Unknown::Lag(15.0),
                Unknown::Gain(0.02),
            ],
            p if p.is_gas() => &[Unknown::Lag(15.0), Unknown::Radiation, Unknown::Gain(0.04)],
            Self::O2 | Self::Co2 => &[Unknown::Offset(0.005), Unknown::Lag(20.0)],
            _ => &[Unknown::Gain(0.05)],
        }
    }
}

/// A property of a probe that a fit carries along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unknown {
    /// Standard deviation of a constant error, SI.
    Offset(f64),
    /// Median time constant; nine in ten within a factor of four.
    Lag(f64),
    /// Radiation to colder walls against convection: nine in ten within a quarter and two and a half of the usual.
    Radiation,
    /// Standard deviation of a factor on the rise over the air: place in the stream, lead, amplifier.
    Gain(f64),
}

impl Unknown {
    pub fn words(self) -> &'static str {
        match self {
            Self::Offset(_) => "offset",
            Self::Lag(_) => "lag",
            Self::Radiation => "radiation",
            Self::Gain(_) => "gain",
        }
    }

    /// Value at `z` standard deviations of its prior.
    pub fn at(self, z: f64) -> f64 {
        use crate::components::priors::TWENTIETH;
        match self {
            Self::Offset(s) => s * z,
            Self::Lag(median_s) => median_s * 4f64.powf(z / TWENTIETH),
            Self::Radiation if z < 0.0 => 0.25f64.powf(-z / TWENTIETH),
            Self::Radiation => 2.5f64.powf(z / TWENTIETH),
            Self::Gain(s) => (1.0 + s * z).max(0.5),
        }
    }
}

/// A simulated burn as probes could see it.
#[derive(Debug, Clone)]
pub struct Curves {
    pub time_s: Vec<f64>,
    of: Vec<Option<Vec<f64>>>,
    /// Of the gas's places: what a thermometer of the scenario shows there, and what it sees.
    bare: Vec<Option<[Vec<f64>; 2]>>,
    air_k: f64,
    /// The fire caught: most of the wood burnt, as in any burn that is worth a log.
    pub caught: bool,
}

/// Share of the wood fed that must have burnt for the fire to have caught.
const CAUGHT: f64 = 0.3;

impl Curves {
    /// Burns the rig; `None` where the burn breaks off.
    pub fn burn(rig: &Rig) -> Option<Self> {
        let options = BurnOptions::default();
        let result = crate::analyses::burn(rig, &options, &mut |_| true).ok()?;
        let caught = result.summary.fuel_burnt_kg >= CAUGHT * result.summary.fuel_fed_kg;
        let air_k = rig.site.air_temperature_k.at(0.0);
        Some(Self::from(result.series, air_k, caught))
    }

    fn from(s: Series, air_k: f64, caught: bool) -> Self {
        let get = |name: &str| s.get(name).map(<[f64]>::to_vec);
        let layers = s
            .names
            .iter()
            .filter(|n| n.starts_with("tank_layer_"))
            .count();
        let layer = |i: usize| match layers {
            0 => get("tank_mean_temperature_K"),
            _ => get(&format!("tank_layer_{i}_temperature_K")),
        };
        let of = Place::ALL
            .iter()
            .map(|p| match p {
                Place::TankMean => get("tank_mean_temperature_K"),
                Place::TankTop => layer(layers),
                Place::TankMiddle => layer(layers.div_ceil(2)),
                Place::TankBottom => layer(1),
                Place::CoilIn => get("coil_inlet_temperature_K"),
                Place::CoilOut => get("coil_outlet_temperature_K"),
                Place::GasBelowCoil => get("gas_below_coil_temperature_K"),
                Place::GasAboveCoil => get("gas_above_coil_temperature_K"),
                Place::Chamber => get("gas_firebox_temperature_K"),
                Place::Flue => get("stack_temperature_K"),
                Place::O2 => get("flue_o2_dry_fraction"),
                Place::Co2 => get("flue_co2_dry_fraction"),
                Place::Flow => get("loop_flow_kg_s").map(|f| {
                    let water = Water::shared();
                    let cold = get("coil_inlet_temperature_K").unwrap_or_default();
                    let at = |i: usize| water.rho_kg_m3(cold.get(i).copied().unwrap_or(300.0));
                    f.iter().enumerate().map(|(i, kg)| kg / at(i)).collect()
                }),
            })
            .map(|c| c.filter(|c: &Vec<f64>| c.iter().all(|v| v.is_finite())))
            .collect();
        Self {
            bare: Place::ALL
                .iter()
                .map(|p| {
                    let column =
                        |what: &str| get(&format!("{what}_{}_temperature_K", p.bare_name()?));
                    Some([column("shown")?, column("seen")?])
                })
                .collect(),
            time_s: get("time_s").unwrap_or_default(),
            of,
            air_k,
            caught,
        }
    }

    /// The truth at a place; `None` where the rig has no such place.
    pub fn at(&self, place: Place) -> Option<&[f64]> {
        let i = Place::ALL.iter().position(|p| *p == place)?;
        self.of[i].as_deref()
    }

    /// What a thermometer shows and sees there, row by row; `None` in water.
    fn bare_at(&self, place: Place) -> Option<&[Vec<f64>; 2]> {
        let i = Place::ALL.iter().position(|p| *p == place)?;
        self.bare[i].as_ref()
    }

    /// Reading less truth of a bare sheath at row `i`.
    pub fn radiation_error(&self, place: Place, i: usize, radiation: f64) -> f64 {
        match (self.at(place).and_then(|t| t.get(i)), self.bare_at(place)) {
            (Some(&t), Some([shown, seen])) => bare(t, [shown[i], seen[i]], radiation) - t,
            _ => 0.0,
        }
    }

    /// What a probe there shows, its unknowns at `z`.
    pub fn shown(&self, place: Place, z: &[f64]) -> Vec<f64> {
        let Some(truth) = self.at(place) else {
            return vec![f64::NAN; self.time_s.len()];
        };
        let (mut offset, mut lag_s, mut gain, mut radiation) = (0.0, 0.0, 1.0, 0.0);
        for (u, &z) in place.unknowns().iter().zip(z) {
            match u {
                Unknown::Offset(_) => offset = u.at(z),
                Unknown::Lag(_) => lag_s = u.at(z),
                Unknown::Gain(_) => gain = u.at(z),
                Unknown::Radiation => radiation = u.at(z),
            }
        }
        let base = if place.is_temperature() {
            self.air_k
        } else {
            0.0
        };
        let readings = self.bare_at(place).filter(|_| radiation > 0.0);
        let mut shown: Vec<f64> = truth
            .iter()
            .enumerate()
            .map(|(i, &t)| {
                let read = match readings {
                    Some([shown, seen]) => bare(t, [shown[i], seen[i]], radiation),
                    None => t,
                };
                base + gain * (read - base) + offset
            })
            .collect();
        lagged(&self.time_s, &mut shown, lag_s);
        shown
    }
}

/// What the thermometer would show with `x` times its radiation against convection, from what it shows and sees.
fn bare(gas_k: f64, [shown_k, seen_k]: [f64; 2], x: f64) -> f64 {
    if (shown_k - gas_k).abs() < ALIKE_K {
        return shown_k;
    }
    let seen_k4 = seen_k.powi(4);
    let per_h_k3 = (shown_k - gas_k) / (seen_k4 - shown_k.powi(4));
    // A thermometer that shows hardly anything but its surroundings goes on doing so.
    if !(per_h_k3.is_finite() && per_h_k3 > 0.0) {
        return shown_k;
    }
    balanced_k(gas_k, seen_k4, x * per_h_k3)
}

/// First order, exact for straight lines between the points.
fn lagged(time_s: &[f64], v: &mut [f64], lag_s: f64) {
    if lag_s <= 0.0 || v.is_empty() {
        return;
    }
    let (mut before, mut y) = (v[0], v[0]);
    for i in 1..v.len() {
        let dt = time_s[i] - time_s[i - 1];
        if dt <= 0.0 {
            before = v[i];
            v[i] = y;
            continue;
        }
        let (now, slope) = (v[i], (v[i] - before) / dt);
        let e = (-dt / lag_s).exp();
        y = now - slope * lag_s + (y - before + slope * lag_s) * e;
        before = now;
        v[i] = y;
    }
}

/// Readings of a log, gathered over short spans.
#[derive(Debug, Clone)]
pub struct Probe {
    /// Name in the log.
    pub name: String,
    pub place: Place,
    /// Middle of each span and the median of its readings, from lighting.
    pub time_s: Vec<f64>,
    pub value: Vec<f64>,
    /// Half the time that a span's readings cover.
    pub half_s: Vec<f64>,
    pub readings: usize,
    /// Standard uncertainty of one reading, where the mapping states it.
    pub stated: Option<f64>,
    /// Usual error, SI.
    pub usual: f64,
}

/// Most spans of one probe, and the shortest.
const MOST_SPANS: f64 = 150.0;
const SHORTEST_S: f64 = 60.0;

impl Probe {
    /// Gathers readings `(time from lighting, value)` in order of time.
    pub fn gather(
        name: &str,
        place: Place,
        readings: &[(f64, f64)],
        air_k: f64,
        stated: Option<f64>,
    ) -> Option<Self> {
        let (first, last) = (readings.first()?.0, readings.last()?.0);
        let width = ((last - first) / MOST_SPANS).max(SHORTEST_S);
        let (mut time_s, mut value, mut half_s) = (Vec::new(), Vec::new(), Vec::new());
        let mut from = 0;
        while from < readings.len() {
            let end = readings[from].0 + width;
            let to = readings.partition_point(|r| r.0 < end).max(from + 1);
            let part = &readings[from..to];
            let mut values: Vec<f64> = part.iter().map(|r| r.1).collect();
            values.sort_by(f64::total_cmp);
            let n = values.len();
            let (a, b) = (part[0].0, part[n - 1].0);
            time_s.push(0.5 * (a + b));
            half_s.push(0.5 * (b - a));
            value.push(0.5 * (values[(n - 1) / 2] + values[n / 2]));
            from = to;
        }
        let base = if place.is_temperature() { air_k } else { 0.0 };
        let rise = value.iter().map(|v| v - base).fold(0.0f64, f64::max);
        Some(Self {
            name: name.to_owned(),
            place,
            readings: readings.len(),
            usual: place.usual_error(rise).hypot(stated.unwrap_or(0.0)),
            time_s,
            value,
            half_s,
            stated,
        })
    }

    /// The same up to a time; `None` where nothing is left.
    pub fn until(&self, end_s: f64) -> Option<Self> {
        let n = self.time_s.partition_point(|t| *t <= end_s);
        (n > 0).then(|| Self {
            time_s: self.time_s[..n].to_vec(),
            value: self.value[..n].to_vec(),
            half_s: self.half_s[..n].to_vec(),
            ..self.clone()
        })
    }

    /// What the model shows at the probe's spans.
    pub fn of(&self, curves: &Curves, z: &[f64]) -> Vec<f64> {
        let shown = curves.shown(self.place, z);
        let at = |t: f64| interpolated(&curves.time_s, &shown, t);
        self.time_s
            .iter()
            .zip(&self.half_s)
            .map(|(&t, &h)| {
                if h > 0.0 {
                    (at(t - h) + at(t) + at(t + h)) / 3.0
                } else {
                    at(t)
                }
            })
            .collect()
    }

    pub fn unknowns(&self) -> usize {
        self.place.unknowns().len()
    }
}

/// Straight lines between points, flat outside.
pub fn interpolated(xs: &[f64], ys: &[f64], x: f64) -> f64 {
    let i = xs.partition_point(|&t| t <= x);
    if i == 0 {
        return ys.first().copied().unwrap_or(f64::NAN);
    }
    if i >= xs.len() {
        return ys.last().copied().unwrap_or(f64::NAN);
    }
    let width = xs[i] - xs[i - 1];
    if width <= 0.0 {
        return ys[i];
    }
    ys[i - 1] + (ys[i] - ys[i - 1]) * (x - xs[i - 1]) / width
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_lag_of_a_ramp_and_of_a_step() {
        // A ramp of slope a after a long time lags by a τ.
        let t: Vec<f64> = (0..200).map(|i| f64::from(i) * 10.0).collect();
        let mut v: Vec<f64> = t.iter().map(|t| 0.5 * t).collect();
        lagged(&t, &mut v, 60.0);
        assert!((v[199] - (0.5 * 1990.0 - 30.0)).abs() < 1e-6, "{}", v[199]);
        // A ramp over one step, then flat: what is missing falls by e in each τ.
        let t = [0.0, 1e-6, 60.0];
        let mut v = [0.0, 1.0, 1.0];
        lagged(&t, &mut v, 60.0);
        assert!((v[2] - (1.0 - (-1.0f64).exp())).abs() < 1e-5, "{}", v[2]);
    }

    /// Twice the ratio of radiation to convection, worked out anew, and once again what it was.
    #[test]
    fn identity_a_reading_follows_its_ratio_of_radiation_to_convection() {
        for (gas, seen) in [(900.0, 330.0), (500.0, 350.0), (350.0, 420.0f64)] {
            let per_h = 5e-10;
            let at = |x: f64| balanced_k(gas, seen.powi(4), x * per_h);
            let reading = [at(1.0), seen];
            for x in [0.25, 1.0, 2.5] {
                let (got, want) = (bare(gas, reading, x), at(x));
                assert!((got - want).abs() < 1e-2, "{gas} {seen} {x}: {got} {want}");
            }
        }
        assert_eq!(bare(400.0, [400.0, 400.0], 2.0), 400.0);
        // All but alike to its surroundings, on either side of them.
        for shown in [300.0, 300.01, 299.99] {
            assert!((bare(320.0, [shown, 300.0], 2.0) - 300.0).abs() < 0.02);
        }
    }
}
