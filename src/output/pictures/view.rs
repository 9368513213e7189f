//! A run seen in one system of units: columns as curves, axes with the other system on the right.

use crate::output::axis::Axis;
use crate::output::figure::{Curve, Figure, Lane, LaneKind, Moment, Row, Side};
use crate::output::show::{across, other, shown, unit};
use crate::output::style::{BROWN, Look, RED};
use crate::results::{BurnResult, EventKind, EventRecord};
use crate::units::{PlotKind as Kind, UnitSystem};

/// Most ticks on the time axis.
const TIME_TICKS: usize = 9;

pub struct View<'a> {
    pub result: &'a BurnResult,
    pub units: UnitSystem,
}

impl View<'_> {
    /// A column in SI; empty when the run lacks it.
    pub fn si(&self, name: &str) -> &[f64] {
        self.result.series.get(name).unwrap_or(&[])
    }

    pub fn has(&self, name: &str) -> bool {
        self.result.series.get(name).is_some()
    }

    pub fn times(&self) -> &[f64] {
        self.si("time_s")
    }

    /// A column in shown units.
    pub fn shown(&self, name: &str, kind: Kind) -> Vec<f64> {
        self.si(name)
            .iter()
            .map(|&v| shown(kind, v, self.units))
            .collect()
    }

    /// A column as a curve over time, if the run has it.
    pub fn curve(&self, name: &str, label: &str, kind: Kind, look: Look) -> Option<Curve> {
        self.has(name).then(|| Curve {
            label: label.to_string(),
            xs: self.times().to_vec(),
            ys: self.shown(name, kind),
            look,
        })
    }

    /// The times of feeding as a lane, if there were any.
    pub fn feeds(&self) -> Option<Lane> {
        let of_feed = |e: &&EventRecord| e.kind == EventKind::Feed;
        let events = &self.result.events;
        let times: Vec<f64> = events.iter().filter(of_feed).map(|e| e.time_s).collect();
        (!times.is_empty()).then(|| Lane {
            name: "Feeds".into(),
            kind: LaneKind::Strokes(times),
            color: BROWN,
        })
    }

    pub fn time_axis(&self) -> Axis {
        let last = self.times().last().copied().unwrap_or(0.0);
        Axis::time(last, TIME_TICKS)
    }

    /// An axis that covers the curves and the extra values (shown units).
    pub fn cover(&self, curves: &[Curve], extra: &[f64], want: usize) -> Axis {
        let (mut lo, mut hi) = (f64::INFINITY, f64::NEG_INFINITY);
        let all = curves.iter().flat_map(|c| c.ys.iter()).chain(extra);
        for &v in all.filter(|v| v.is_finite()) {
            lo = lo.min(v);
            hi = hi.max(v);
        }
        Axis::covering(lo, hi, want)
    }

    /// Left title and right side: the same quantity in both systems.
    pub fn titles(&self, words: &str, kind: Kind, axis: &Axis) -> (String, Option<Side>) {
        let (here, there) = (unit(kind, self.units), unit(kind, other(self.units)));
        let title = match here {
            "" => words.to_string(),
            _ => format!("{words}, {here}"),
        };
        let side = (there != here).then(|| Side {
            ticks: axis.other_side(across(kind, self.units), 6),
            title: there.to_string(),
        });
        (title, side)
    }

    /// First moment of a kind of event.
    pub fn first(&self, kind: EventKind) -> Option<f64> {
        self.result
            .events
            .iter()
            .find(|e| e.kind == kind)
            .map(|e| e.time_s)
    }

    /// First boiling of the water in the coil and at its wall, as marked moments.
    pub fn boiling_moments(&self) -> Vec<Moment> {
        let bulk = self
            .result
            .summary
            .boiling_first_s
            .or_else(|| self.first(EventKind::BoilingStarts));
        let wall = self
            .result
            .summary
            .wall_boiling_first_s
            .or_else(|| self.first(EventKind::WallBoilingStarts));
        let clock = crate::output::show::clock;
        let mut out = Vec::new();
        if let Some(x) = bulk {
            out.push(Moment {
                x,
                label: format!("first boiling {}", clock(x)),
                color: RED,
            });
        }
        if let Some(x) = wall {
            out.push(Moment {
                x,
                label: format!("boiling at the coil wall {}", clock(x)),
                color: BROWN,
            });
        }
        out
    }

    /// The first moment of a warning that the run has.
    pub fn warned(&self, code: &str, words: &str) -> Option<Moment> {
        let w = self
            .result
            .summary
            .warnings
            .iter()
            .find(|w| w.code == code)?;
        Some(Moment {
            x: w.first_s,
            label: format!("{words} {}", crate::output::show::clock(w.first_s)),
            color: RED,
        })
    }

    /// A figure over time.
    pub fn over_time(&self, name: &'static str, subtitle: &str, rows: Vec<Row>) -> Figure {
        Figure {
            name,
            title: self.result.summary.title.clone(),
            subtitle: subtitle.to_string(),
            x: self.time_axis(),
            x_title: "Time since lighting, h:min".into(),
            rows,
            note: String::new(),
        }
    }
}
