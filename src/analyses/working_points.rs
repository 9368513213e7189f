//! Moments at which the water loop was at work, thinly spread over the run: for the picture of what drives it.

use crate::network::{Instant, Network};

/// Heat into the store from which on the loop counts as at work, W.
const AT_WORK_W: f64 = 500.0;
/// Time between two moments kept, s; doubled whenever [`MOST`] are kept.
const FIRST_GAP_S: f64 = 10.0;
const MOST: usize = 64;

/// One moment.
#[derive(Debug, Clone)]
pub struct Moment {
    pub t_s: f64,
    pub to_store_w: f64,
    pub y: Vec<f64>,
    /// Setting of the pump; `None`: no pump, or stopped.
    pub pump: Option<usize>,
}

/// Moments evenly spread over the time at work.
#[derive(Debug, Clone)]
pub struct WorkingPoints {
    kept: Vec<Moment>,
    gap_s: f64,
}

impl Default for WorkingPoints {
    fn default() -> Self {
        Self {
            kept: Vec::new(),
            gap_s: FIRST_GAP_S,
        }
    }
}

impl WorkingPoints {
    pub fn look(&mut self, net: &Network, t_s: f64, y: &[f64], i: &Instant) {
        let due = self.kept.last().is_none_or(|m| t_s >= m.t_s + self.gap_s);
        if i.to_store_w < AT_WORK_W || !due {
            return;
        }
        if self.kept.len() == MOST {
            let mut every_other = false;
            self.kept.retain(|_| {
                every_other = !every_other;
                every_other
            });
            self.gap_s *= 2.0;
        }
        self.kept.push(Moment {
            t_s,
            to_store_w: i.to_store_w,
            y: y.to_vec(),
            pump: net.mode.pump,
        });
    }

    /// The typical moment: of the pump setting that was at work longest, the median by heat into the store. Neither the
    /// kindling's flare nor the last embers.
    pub fn typical(&self) -> Option<&Moment> {
        let count = |m: &Moment| self.kept.iter().filter(|n| n.pump == m.pump).count();
        let pump = self.kept.iter().max_by_key(|m| count(m))?.pump;
        let mut of: Vec<&Moment> = self.kept.iter().filter(|m| m.pump == pump).collect();
        of.sort_by(|a, b| a.to_store_w.total_cmp(&b.to_store_w));
        of.get(of.len() / 2).copied()
    }
}
