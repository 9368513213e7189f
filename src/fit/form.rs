//! What a wrong model adds to a covariance.
//!
//! The inverse of JᵀJ supposes a model that is right in form. Where it is not, the parts of a log disagree about the
//! values: each probe, and each stretch of time, asks for others. How far the answer moves when one of them is left out
//! tells by how much (delete-a-group jackknife: Tukey 1958; Wu 1986, Ann. Statist. 14, 1261). Errors of a model hang
//! together along a probe and across probes at one time, so both ways of grouping count, as in covariances clustered two
//! ways (Cameron, Gelbach and Miller 2011, J. Bus. Econ. Stat. 29, 238; both from memory); what they share is not taken
//! off again. It adds to what noise alone leaves, as the spread between studies adds to that within them.

use super::probe::Probe;
use nalgebra::{DMatrix, DVector};

/// Length of a stretch: about the time between two loads, over which errors of a model of the fire change.
const STRETCH_S: f64 = 900.0;
const MOST_STRETCHES: usize = 10;

/// What is left out, and how far the answer moves without it.
#[derive(Debug, Clone)]
pub(crate) struct Without {
    pub what: String,
    pub moves: DVector<f64>,
}

/// Covariance of the model's form, of an unfinished search, and each part's pull.
#[derive(Debug, Clone)]
pub(crate) struct Form {
    pub covariance: DMatrix<f64>,
    pub parts: Vec<Without>,
}

/// From the derivatives and residuals at the end of a search; rows are the probes' spans, then the priors.
pub(crate) fn form(probes: &[Probe], jacobian: &DMatrix<f64>, residuals: &[f64]) -> Option<Form> {
    let information = jacobian.transpose() * jacobian;
    let r = DVector::from_column_slice(residuals);
    let pull = jacobian.transpose() * &r;
    // What a last step would still move: the search ends where burns are as noisy as its gain.
    let rest = -information.clone().cholesky()?.solve(&pull);
    let mut covariance = &rest * rest.transpose();
    let mut parts = Vec::new();
    for groups in [by_probe(probes), by_time(probes)] {
        if groups.len() < 2 {
            continue;
        }
        let share = (groups.len() - 1) as f64 / groups.len() as f64;
        for (what, rows) in groups {
            let j = jacobian.select_rows(&rows);
            let own = r.select_rows(&rows);
            let without = &information - j.transpose() * &j;
            let left = &pull - j.transpose() * own;
            // The priors stay, so that it can be solved whatever is left out.
            let moves = -without.cholesky()?.solve(&left) - &rest;
            covariance += share * &moves * moves.transpose();
            parts.push(Without { what, moves });
        }
    }
    Some(Form { covariance, parts })
}

type Groups = Vec<(String, Vec<usize>)>;

fn by_probe(probes: &[Probe]) -> Groups {
    let mut from = 0;
    probes
        .iter()
        .map(|p| {
            let rows = (from..from + p.value.len()).collect();
            from += p.value.len();
            (p.name.clone(), rows)
        })
        .collect()
}

fn by_time(probes: &[Probe]) -> Groups {
    let times: Vec<f64> = probes.iter().flat_map(|p| p.time_s.clone()).collect();
    let first = times.iter().copied().fold(f64::INFINITY, f64::min);
    let last = times.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if times.len() < 2 || last <= first {
        return Vec::new();
    }
    let count = (((last - first) / STRETCH_S).round() as usize).clamp(2, MOST_STRETCHES);
    let width = (last - first) / count as f64;
    (0..count)
        .map(|k| {
            let begin = first + k as f64 * width;
            let rows = (0..times.len())
                .filter(|&i| (((times[i] - first) / width) as usize).min(count - 1) == k)
                .collect();
            let name = format!("{:.0} to {:.0} min", begin / 60.0, (begin + width) / 60.0);
            (name, rows)
        })
        .filter(|(_, rows): &(String, Vec<usize>)| !rows.is_empty())
        .collect()
}

/// Sum of both, with no value less known than its prior says.
pub(crate) fn together(noise: &DMatrix<f64>, form: &DMatrix<f64>) -> DMatrix<f64> {
    let mut sum = noise + form;
    let shrink: Vec<f64> = (0..sum.nrows())
        .map(|i| (1.0 / sum[(i, i)].max(1e-12).sqrt()).min(1.0))
        .collect();
    for i in 0..sum.nrows() {
        for k in 0..sum.ncols() {
            sum[(i, k)] *= shrink[i] * shrink[k];
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::Place;

    fn probe(name: &str, value: Vec<f64>) -> Probe {
        Probe {
            name: name.into(),
            place: Place::Flue,
            time_s: (0..value.len()).map(|i| 10.0 * i as f64).collect(),
            half_s: vec![0.0; value.len()],
            readings: value.len(),
            value,
            stated: None,
            usual: 1.0,
        }
    }

    /// The mean of groups of one size, without a prior to speak of: the jackknife gives the variance of a mean,
    /// Σ (m − mean)² / (G (G − 1)), exactly (Tukey 1958).
    #[test]
    fn analytic_probes_that_disagree_give_the_variance_of_their_mean() {
        let means = [1.0, 4.0, 2.0, -3.0];
        let probes: Vec<Probe> = means.iter().map(|m| probe("p", vec![*m; 5])).collect();
        let mean = means.iter().sum::<f64>() / 4.0;
        // The prior's row, weak.
        let mut j = DMatrix::from_element(21, 1, 1.0);
        j[(20, 0)] = 1e-6;
        let mut r: Vec<f64> = probes
            .iter()
            .flat_map(|p| p.value.iter().map(|v| mean - v))
            .collect();
        r.push(0.0);
        let found = form(&probes, &j, &r).map(|f| f.covariance[(0, 0)]);
        let exact = means.iter().map(|m| (m - mean).powi(2)).sum::<f64>() / 12.0;
        // At one time all probes are there alike: leaving out a stretch moves nothing.
        assert!(
            found.is_some_and(|v| (v - exact).abs() < 1e-6),
            "{found:?} {exact}"
        );
    }
}
