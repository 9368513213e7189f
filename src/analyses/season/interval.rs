//! When cleaning pays: the renewal of a cost that grows from burn to burn.

/// Mean cost of a burn where everything is cleaned every `n` burns, for n = 1 to the number of burns: the cleaning and what
/// the first `n` burns after one cost more, over n (renewal–reward). `extra[j]` is that of the burn j burns after a cleaning.
pub fn mean_costs(cleaning: f64, extra: &[f64]) -> Vec<f64> {
    let mut sum = cleaning;
    extra
        .iter()
        .enumerate()
        .map(|(j, e)| {
            sum += e;
            sum / (j + 1) as f64
        })
        .collect()
}

/// The interval with the least mean cost. None where the least lies at the end: cleaning has not paid by then.
pub fn best_interval(costs: &[f64]) -> Option<usize> {
    let best = (0..costs.len()).min_by(|&a, &b| costs[a].total_cmp(&costs[b]))?;
    (best + 1 < costs.len()).then_some(best + 1)
}

/// Where the extra cost of a burn grows evenly, C/n + a (n − 1)/2 is least at n = sqrt(2 C/a): from d/dn = −C/n² + a/2 = 0 (own derivation; the
/// same form as the economic order quantity, Harris 1913). `a` is the mean growth over the first `over` burns; None where there is none.
pub fn linear_interval(cleaning: f64, extra: &[f64], over: usize) -> Option<f64> {
    let last = over.min(extra.len()).checked_sub(1).filter(|n| *n > 0)?;
    let growth = (extra[last] - extra[0]) / last as f64;
    (growth > 0.0).then(|| (2.0 * cleaning / growth).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cost that grows by `a` a burn: C/n + a (n − 1)/2 is least at sqrt(2 C/a). Own derivation (zero of the derivative); the same form as
    /// the economic order quantity (F. W. Harris, How many parts to make at once, Factory 10(2), 1913, from memory).
    #[test]
    fn analytic_linear_growth_is_cleaned_every_root_of_twice_cost_over_rate() {
        for (cleaning, a) in [
            (30.0, 0.5),
            (45.0, 0.1),
            (20.0, 2.0),
            (100.0, 0.02),
            (60.0, 1.0),
        ] {
            let extra: Vec<f64> = (0..400).map(|j| a * f64::from(j)).collect();
            let costs = mean_costs(cleaning, &extra);
            let root: f64 = (2.0 * cleaning / a).sqrt();
            let best = best_interval(&costs).unwrap_or(0) as f64;
            assert!((best - root).abs() <= 0.5 + 1e-9, "{best} against {root}");
            let closed = linear_interval(cleaning, &extra, 10).unwrap_or(0.0);
            assert!((closed - root).abs() < 1e-9 * root);
            // Its cost: C/n + a n/2 − a/2 = sqrt(2 C a) − a/2.
            let least = (2.0 * cleaning * a).sqrt() - 0.5 * a;
            assert!((costs[best as usize - 1] - least).abs() < 0.02 * least);
        }
    }

    /// A cost that soon stays the same is never worth a cleaning that costs more than all it can save.
    #[test]
    fn analytic_a_layer_that_stops_growing_is_left() {
        let extra: Vec<f64> = (0..200)
            .map(|j| 2.0 * (1.0 - (-f64::from(j) / 5.0).exp()))
            .collect();
        // Saved at most: the sum of 2 exp(−j/5) = 11.0.
        assert_eq!(best_interval(&mean_costs(12.0, &extra)), None);
        assert!(best_interval(&mean_costs(6.0, &extra)).is_some());
        assert_eq!(best_interval(&mean_costs(1.0, &[0.0; 50])), None);
    }
}
