//! How far model and probe are off, how long an error lasts, and how many readings a probe's readings are worth.

use super::probe::{Curves, Probe};

/// Errors of the model last at least this long, whatever the residuals look like (a flame grows and falls in minutes).
const SHORTEST_S: f64 = 300.0;
/// Before any residual is known: about the time between two loads.
const USUAL_S: f64 = 900.0;
/// Weight of the usual error, in readings.
const PRIOR_READINGS: f64 = 3.0;
/// Residuals beyond this many deviations count by their size, not by its square: 95 % efficient for normal errors
/// (Huber 1964, Ann. Math. Statist. 35, 73).
const HUBER: f64 = 1.345;

/// Error of one probe.
#[derive(Debug, Clone)]
pub(crate) struct Noise {
    /// One standard deviation of model and probe together.
    pub error: f64,
    pub correlation_s: f64,
    pub effective: f64,
    /// Weight of each span, at most 1.
    pub weight: Vec<f64>,
}

impl Noise {
    pub fn usual(probe: &Probe) -> Self {
        Self {
            error: probe.usual,
            correlation_s: USUAL_S,
            effective: effective(probe, USUAL_S),
            weight: vec![1.0; probe.value.len()],
        }
    }

    /// What each residual is divided by, its robust weight apart: n readings count as the effective number.
    pub fn scale(&self) -> f64 {
        self.error * (self.weight.len() as f64 / self.effective).sqrt()
    }
}

/// Readings that hang together over a time τ count as span / τ.
fn effective(probe: &Probe, correlation_s: f64) -> f64 {
    let n = probe.value.len() as f64;
    let span = probe.time_s.last().unwrap_or(&0.0) - probe.time_s.first().unwrap_or(&0.0);
    (1.0 + span / correlation_s).min(n).max(1.0)
}

/// Learns error, correlation and robust weights from the residuals of a fit.
pub(crate) fn learn(probes: &[Probe], curves: &Curves, z: &[f64], last: &[Noise]) -> Vec<Noise> {
    let mut from = 0;
    probes
        .iter()
        .zip(last)
        .map(|(p, last)| {
            let z = &z[from..from + p.unknowns()];
            from += p.unknowns();
            let shown = p.of(curves, z);
            let residuals: Vec<f64> = shown.iter().zip(&p.value).map(|(m, v)| v - m).collect();
            one(p, &residuals, last)
        })
        .collect()
}

fn one(probe: &Probe, residuals: &[f64], last: &Noise) -> Noise {
    let mut size: Vec<f64> = residuals.iter().map(|r| r.abs()).collect();
    size.sort_by(f64::total_cmp);
    // A normal error's median size is 0.6745 deviations.
    let robust = size.get(size.len() / 2).copied().unwrap_or(0.0) / 0.6745;
    let robust = robust.max(0.2 * last.error);
    let weight: Vec<f64> = residuals
        .iter()
        .map(|r| (HUBER * robust / r.abs().max(1e-12)).min(1.0))
        .collect();
    let square: f64 = residuals.iter().zip(&weight).map(|(r, w)| w * r * r).sum();
    let square = square / weight.iter().sum::<f64>().max(1e-9);
    let correlation_s = correlation_s(probe, residuals, robust);
    let effective = effective(probe, correlation_s);
    let error = ((PRIOR_READINGS * probe.usual.powi(2) + effective * square)
        / (PRIOR_READINGS + effective))
        .sqrt();
    Noise {
        error,
        correlation_s,
        effective,
        weight,
    }
}

/// Integrated time over which residuals hang together: 1 + 2 Σ ρ up to the first lag without correlation.
fn correlation_s(probe: &Probe, residuals: &[f64], robust: f64) -> f64 {
    let n = residuals.len();
    let span = probe.time_s.last().unwrap_or(&0.0) - probe.time_s.first().unwrap_or(&0.0);
    if n < 8 || span <= 0.0 {
        return USUAL_S;
    }
    let r: Vec<f64> = residuals
        .iter()
        .map(|r| r.clamp(-3.0 * robust, 3.0 * robust))
        .collect();
    // Not about their mean: a lasting offset is an error that lasts.
    let total: f64 = r.iter().map(|r| r * r).sum();
    let mut sum = 1.0;
    for lag in 1..n / 2 {
        let rho = r.windows(lag + 1).map(|w| w[0] * w[lag]).sum::<f64>() / total.max(1e-12);
        if rho < 0.05 {
            break;
        }
        sum += 2.0 * rho;
    }
    (sum * span / (n - 1) as f64).clamp(SHORTEST_S, (0.3 * span).max(SHORTEST_S))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::Place;

    #[test]
    fn analytic_correlation_time_of_a_first_order_process() {
        // AR(1) with ρ = exp(−1/k) has 1 + 2 Σ ρ^i = (1 + ρ) / (1 − ρ).
        let mut rng = fastrand::Rng::with_seed(3);
        let rho = (-1.0f64 / 8.0).exp();
        let mut x = 0.0;
        let readings: Vec<(f64, f64)> = (0..6000)
            .map(|i| {
                let kick: f64 = (0..12).map(|_| rng.f64()).sum::<f64>() - 6.0;
                x = rho * x + (1.0 - rho * rho).sqrt() * kick;
                (60.0 * f64::from(i), x)
            })
            .collect();
        let probe = Probe {
            name: String::new(),
            place: Place::Flue,
            time_s: readings.iter().map(|r| r.0).collect(),
            value: vec![0.0; readings.len()],
            half_s: vec![0.0; readings.len()],
            readings: readings.len(),
            stated: None,
            usual: 1.0,
        };
        let r: Vec<f64> = readings.iter().map(|r| r.1).collect();
        let got = correlation_s(&probe, &r, 1.0);
        let exact = 60.0 * (1.0 + rho) / (1.0 - rho);
        assert!((got / exact - 1.0).abs() < 0.2, "{got} {exact}");
    }
}
