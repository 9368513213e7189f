//! Axes: round tick values, and the matching ticks of a second unit on the other side.

/// One tick: position in the axis' own unit, and its words.
#[derive(Debug, Clone, PartialEq)]
pub struct Tick {
    pub at: f64,
    pub text: String,
}

/// A linear axis from `lo` to `hi`, `lo < hi`.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    pub lo: f64,
    pub hi: f64,
    pub ticks: Vec<Tick>,
}

/// A straight conversion `b = factor a + offset` between the units of the two sides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conversion {
    pub factor: f64,
    pub offset: f64,
}

/// Smallest of 1, 2, 5 x 10^n that is not below `raw`.
fn round_step(raw: f64) -> f64 {
    let power = 10f64.powf(raw.log10().floor());
    for m in [1.0, 2.0, 5.0] {
        if m * power >= raw * (1.0 - 1e-9) {
            return m * power;
        }
    }
    10.0 * power
}

/// `value` with as many decimals as ticks `step` apart need.
pub fn tick_text(value: f64, step: f64) -> String {
    let decimals = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
    let text = format!("{value:.decimals$}");
    // A zero that came out of rounding has no sign.
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_string(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

fn ticks_within(lo: f64, hi: f64, step: f64) -> Vec<Tick> {
    let (first, last) = (
        (lo / step - 1e-6).ceil() as i64,
        (hi / step + 1e-6).floor() as i64,
    );
    (first..=last)
        .map(|i| Tick {
            at: i as f64 * step,
            text: tick_text(i as f64 * step, step),
        })
        .collect()
}

impl Axis {
    /// Covers `lo..hi` with about `want` steps, widened to quarter steps; ticks at whole steps.
    pub fn covering(lo: f64, hi: f64, want: usize) -> Self {
        let (mut lo, mut hi) = (lo.min(hi), lo.max(hi));
        if !(lo.is_finite() && hi.is_finite()) {
            (lo, hi) = (0.0, 1.0);
        }
        if hi - lo < 1e-9 * (1.0 + hi.abs().max(lo.abs())) {
            let pad = if hi == 0.0 { 1.0 } else { 0.1 * hi.abs() };
            (lo, hi) = if lo >= 0.0 {
                ((lo - pad).max(0.0), hi + pad)
            } else {
                (lo - pad, hi + pad)
            };
        }
        let step = round_step((hi - lo) / want.max(1) as f64);
        let part = 0.25 * step;
        let lo = (lo / part + 1e-6).floor() * part;
        let hi = (hi / part - 1e-6).ceil() * part;
        Self {
            lo,
            hi,
            ticks: ticks_within(lo, hi, step),
        }
    }

    /// Covers `lo..hi` exactly, ticks at round values inside.
    pub fn exact(lo: f64, hi: f64, want: usize) -> Self {
        let step = round_step((hi - lo) / want.max(1) as f64);
        Self {
            lo,
            hi,
            ticks: ticks_within(lo, hi, step),
        }
    }

    /// Time from lighting to `end_s`, labelled h:min, at most `most` ticks.
    pub fn time(end_s: f64, most: usize) -> Self {
        let hi = if end_s.is_finite() {
            end_s.max(60.0)
        } else {
            60.0
        };
        const STEPS_MIN: [f64; 13] = [
            1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 60.0, 120.0, 180.0, 240.0, 360.0, 720.0,
        ];
        let most = most.max(2) as f64;
        let step_s = STEPS_MIN
            .iter()
            .map(|m| 60.0 * m)
            .find(|s| hi / s <= most)
            .unwrap_or_else(|| 86_400.0 * (hi / 86_400.0 / most).ceil());
        let count = (hi / step_s + 1e-9).floor() as i64;
        let ticks = (0..=count)
            .map(|i| {
                let at = i as f64 * step_s;
                let minutes = (at / 60.0).round() as i64;
                Tick {
                    at,
                    text: format!("{}:{:02}", minutes / 60, minutes % 60),
                }
            })
            .collect();
        Self { lo: 0.0, hi, ticks }
    }

    /// The same stretch in the other unit: ticks at round values there, positions in this axis' unit.
    pub fn other_side(&self, to: Conversion, want: usize) -> Vec<Tick> {
        let (a, b) = (
            self.lo * to.factor + to.offset,
            self.hi * to.factor + to.offset,
        );
        let (lo, hi) = (a.min(b), a.max(b));
        let step = round_step((hi - lo) / want.max(1) as f64);
        ticks_within(lo, hi, step)
            .into_iter()
            .map(|t| Tick {
                at: (t.at - to.offset) / to.factor,
                text: t.text,
            })
            .collect()
    }

    /// 0 at `lo`, 1 at `hi`.
    pub fn share(&self, v: f64) -> f64 {
        (v - self.lo) / (self.hi - self.lo)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(a: &Axis) -> Vec<&str> {
        a.ticks.iter().map(|t| t.text.as_str()).collect()
    }

    #[test]
    fn behaves_axis_widens_to_round_values() {
        let a = Axis::covering(3.2, 67.0, 6);
        assert_eq!((a.lo, a.hi), (0.0, 70.0));
        assert_eq!(words(&a), ["0", "20", "40", "60"]);
        let b = Axis::covering(-0.31, 0.1, 4);
        assert!((b.lo + 0.35).abs() < 1e-12 && (b.hi - 0.1).abs() < 1e-12);
        assert_eq!(words(&b), ["−0.2", "0.0"]);
    }

    #[test]
    fn behaves_axis_survives_flat_and_empty_data() {
        for (lo, hi) in [
            (5.0, 5.0),
            (0.0, 0.0),
            (f64::NAN, 1.0),
            (f64::INFINITY, f64::NEG_INFINITY),
        ] {
            let a = Axis::covering(lo, hi, 5);
            assert!(a.lo < a.hi && a.ticks.len() >= 2, "{lo} {hi}: {a:?}");
        }
    }

    #[test]
    fn behaves_time_axis_reads_hours_and_minutes() {
        assert_eq!(
            words(&Axis::time(9000.0, 8)),
            [
                "0:00", "0:20", "0:40", "1:00", "1:20", "1:40", "2:00", "2:20"
            ]
        );
        assert_eq!(words(&Axis::time(14.0 * 3600.0, 8)).last(), Some(&"14:00"));
        assert_eq!(words(&Axis::time(0.0, 8)), ["0:00", "0:01"]);
    }

    #[test]
    fn analytic_other_side_marks_the_same_temperatures() {
        // 100 degC = 212 degF, 0 degC = 32 degF.
        let a = Axis::covering(0.0, 100.0, 5);
        let f = a.other_side(
            Conversion {
                factor: 1.8,
                offset: 32.0,
            },
            5,
        );
        let at = |t: &str| f.iter().find(|x| x.text == t).map(|x| x.at);
        assert!(at("50").is_some_and(|x| (x - 10.0).abs() < 1e-9));
        assert!(at("200").is_some_and(|x| (x - 280.0 / 3.0).abs() < 1e-9));
    }
}
