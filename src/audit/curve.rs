//! Readings of several probes on one grid of moments; nothing is put where a probe was silent for long.

use crate::logs::{Channel, Reading};

/// Most moments of the grid.
const MOST: usize = 800;

#[derive(Debug, Clone)]
pub(super) struct Grid {
    pub time_s: Vec<f64>,
    /// Longest silence that a straight line may bridge.
    pub bridge_s: f64,
}

impl Grid {
    pub fn new(reading: &Reading, begin_s: f64) -> Self {
        let (from, to) = (begin_s, reading.last_s.max(begin_s + 1.0));
        let step = reading.step_s.max((to - from) / MOST as f64).max(1.0);
        let n = (((to - from) / step).ceil() as usize).clamp(1, MOST);
        Self {
            time_s: (0..=n)
                .map(|i| from + (to - from) * i as f64 / n as f64)
                .collect(),
            bridge_s: (5.0 * reading.step_s).max(300.0),
        }
    }

    fn step_s(&self) -> f64 {
        match self.time_s[..] {
            [a, b, ..] => b - a,
            _ => 0.0,
        }
    }

    /// A channel on the grid: the mean of the readings about each moment, or the straight line between two that are
    /// near enough; not a number elsewhere.
    pub fn of(&self, channel: &Channel) -> Vec<f64> {
        let kept: Vec<(f64, f64)> = channel.kept().collect();
        let half = 0.5 * self.step_s();
        // A sparse log's own pace counts, not that of the densest column.
        let pace = match kept.len() {
            0 | 1 => 0.0,
            n => {
                let mut steps: Vec<f64> = kept.windows(2).map(|w| w[1].0 - w[0].0).collect();
                steps.sort_by(f64::total_cmp);
                steps[(n - 1) * 4 / 5]
            }
        };
        let bridge = self.bridge_s.max(2.5 * pace);
        let mut a = 0;
        self.time_s
            .iter()
            .map(|&t| {
                while a < kept.len() && kept[a].0 < t - half {
                    a += 1;
                }
                let near = kept[a..].iter().take_while(|k| k.0 <= t + half);
                let (n, sum) = near.fold((0usize, 0.0), |(n, s), k| (n + 1, s + k.1));
                if n > 0 {
                    return sum / n as f64;
                }
                match (a.checked_sub(1).map(|i| kept[i]), kept.get(a)) {
                    (Some((t0, v0)), Some(&(t1, v1))) if t1 - t0 <= bridge => {
                        v0 + (v1 - v0) * (t - t0) / (t1 - t0)
                    }
                    // The ends: the nearest reading, if it is near.
                    (None, Some(&(t1, v1))) if t1 - t <= bridge => v1,
                    (Some((t0, v0)), None) if t - t0 <= 0.5 * bridge => v0,
                    _ => f64::NAN,
                }
            })
            .collect()
    }
}

/// Straight line through the points within `half_s` of each moment: its value and slope there. Not a number with fewer
/// than three points or where the window hangs over by more than a third.
pub(super) fn local_lines(time_s: &[f64], y: &[f64], half_s: f64) -> Vec<(f64, f64)> {
    let n = time_s.len();
    let (mut a, mut b) = (0, 0);
    (0..n)
        .map(|i| {
            while time_s[a] < time_s[i] - half_s {
                a += 1;
            }
            while b < n && time_s[b] <= time_s[i] + half_s {
                b += 1;
            }
            let points = || {
                (a..b)
                    .filter(|j| y[*j].is_finite())
                    .map(|j| (time_s[j] - time_s[i], y[j]))
            };
            let m = points().count() as f64;
            let (first, last) = points().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| {
                (lo.min(p.0), hi.max(p.0))
            });
            if m < 2.0 || first > 0.5 * half_s || last < -0.5 * half_s {
                return (f64::NAN, f64::NAN);
            }
            let (sx, sy) = points().fold((0.0, 0.0), |s, p| (s.0 + p.0, s.1 + p.1));
            let (mx, my) = (sx / m, sy / m);
            let (sxx, sxy) = points().fold((0.0, 0.0), |s, p| {
                (s.0 + (p.0 - mx).powi(2), s.1 + (p.0 - mx) * (p.1 - my))
            });
            if sxx <= 0.0 {
                return (f64::NAN, f64::NAN);
            }
            let slope = sxy / sxx;
            (my - slope * mx, slope)
        })
        .collect()
}
