//! Figures of a run's time series.

use emberloop::results::BurnResult;

/// Mean of a column between two times.
pub fn mean(r: &BurnResult, column: &str, from_s: f64, to_s: f64) -> f64 {
    let t = r.series.get("time_s").expect("time");
    let v = r.series.get(column).expect(column);
    let picked: Vec<f64> = (0..t.len())
        .filter(|&i| (from_s..=to_s).contains(&t[i]))
        .map(|i| v[i])
        .collect();
    picked.iter().sum::<f64>() / picked.len() as f64
}
