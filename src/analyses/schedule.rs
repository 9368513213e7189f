//! What happens at known times, in order.

use crate::components::spec::Until;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// One thing that happens at a known time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Action {
    StarterOut,
    /// A feed of moist wood; thickness overrides the fuel's.
    Feed {
        mass_kg: f64,
        thickness_m: Option<f64>,
        until: Until,
    },
    DoorShut,
    /// A feeding rule may act again.
    RearmFeedRule(usize),
    Damper(f64),
    AirInlet(f64),
    Pump(Option<usize>),
    Valve(f64),
    Cover(bool),
    /// Control rules wake up.
    WakeRules,
    DrawOpen {
        draw: usize,
        until_s: f64,
    },
    /// Ends a draw of this flow.
    DrawShut {
        kg_s: f64,
    },
    /// A kink of the weather: nothing to do but to stop exactly there.
    Weather,
    End,
}

#[derive(Debug, Clone, Copy)]
struct Entry {
    t_s: f64,
    order: u64,
    action: Action,
}

impl PartialEq for Entry {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Entry {}
impl PartialOrd for Entry {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Entry {
    // Reversed: the heap gives the largest first, we want the earliest; equal times in order of entry.
    fn cmp(&self, other: &Self) -> Ordering {
        other
            .t_s
            .total_cmp(&self.t_s)
            .then(other.order.cmp(&self.order))
    }
}

/// A queue of actions by time; those of equal time come out as they went in.
#[derive(Debug, Default, Clone)]
pub struct Schedule {
    heap: BinaryHeap<Entry>,
    count: u64,
}

impl Schedule {
    /// Adds an action.
    pub fn add(&mut self, t_s: f64, action: Action) {
        self.heap.push(Entry {
            t_s,
            order: self.count,
            action,
        });
        self.count += 1;
    }

    /// Time of the next action.
    pub fn next_time_s(&self) -> Option<f64> {
        self.heap.peek().map(|e| e.t_s)
    }

    /// Takes the next action if it is due at `t_s`.
    pub fn take_due(&mut self, t_s: f64) -> Option<Action> {
        if self.heap.peek().is_some_and(|e| e.t_s <= t_s) {
            self.heap.pop().map(|e| e.action)
        } else {
            None
        }
    }
}
