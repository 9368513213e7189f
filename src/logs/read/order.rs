//! What only the whole column of stamps tells: newest first, minutes and seconds.

use super::Table;
use crate::logs::Decision;
use crate::logs::grid::Row;
use crate::logs::time::{Half, Stamp, stamp};

/// Whether stamps fall from row to row, nearly all of them.
pub(super) fn newest_first(rows: &[Row], time: usize, comma: bool) -> bool {
    let place = |r: &Row| match stamp(r.cells.get(time)?, comma)? {
        Stamp::Number(v) | Stamp::Zoned(v, _) => Some(v),
        Stamp::Written { clock_s, half, .. } => {
            let s = clock_s?;
            Some(match half {
                Some(Half::Am) => s % 43_200.0,
                Some(Half::Pm) => s % 43_200.0 + 43_200.0,
                None => s,
            })
        }
    };
    let all: Vec<f64> = rows.iter().filter_map(place).collect();
    let steps = || all.windows(2).map(|w| w[1] - w[0]);
    let fall = steps().filter(|d| *d < 0.0).count();
    let rise = steps().filter(|d| *d > 0.0).count();
    fall >= 2 && fall >= 8 * rise
}

impl Table<'_> {
    /// "65:00" is no clock time: then the whole column tells minutes and seconds.
    pub(super) fn minutes_and_seconds(
        &self,
        stamps: &mut [Option<Stamp>],
        decisions: &mut Vec<Decision>,
    ) {
        let two = |r: &Row| {
            let text = r.cells.get(self.time).map_or("", String::as_str);
            text.matches(':').count() == 1
        };
        let long = |s: &Option<Stamp>| matches!(s, Some(Stamp::Written { date: None, clock_s: Some(t), .. }) if *t >= 90_000.0);
        let beyond = stamps.iter().filter(|s| long(s)).count();
        if beyond == 0 {
            return;
        }
        let clocks: Vec<f64> = stamps
            .iter()
            .filter_map(|s| match s {
                Some(Stamp::Written { clock_s, .. }) => *clock_s,
                _ => None,
            })
            .collect();
        let all_two = (self.rows.iter().zip(stamps.iter())).all(|(r, s)| s.is_none() || two(r));
        // Of twenty minutes at least, and rising to its end; otherwise a slip of the pen, or hours past midnight.
        let span = clocks
            .last()
            .zip(clocks.first())
            .map_or(0.0, |(b, a)| b - a);
        if !all_two || beyond < 3 || span < 60.0 * 1200.0 {
            for s in stamps.iter_mut() {
                if matches!(s, Some(Stamp::Written { clock_s: Some(t), .. }) if *t >= 172_800.0)
                    || beyond < 3 && long(s)
                {
                    *s = None;
                }
            }
            return;
        }
        for s in stamps.iter_mut() {
            if let Some(Stamp::Written {
                clock_s: Some(t), ..
            }) = s
            {
                *t /= 60.0;
            }
        }
        decisions.push(
            Decision::new("time", "minutes and seconds", "the first figure passes 24")
                .asking("are the times minutes:seconds? With hours:minutes write them with seconds, 26:10:00"),
        );
    }
}
