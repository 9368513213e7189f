//! A feed sheet that was given as the log.

use super::{NO_UNIT, Reading};
use crate::logs::columns::Role;
use crate::logs::{Channel, Event};

impl Reading {
    /// Words for a table that tells what was fed and no temperature.
    pub fn feed_sheet(&self) -> Option<String> {
        let loads: Vec<&Event> = self.events.iter().filter(|e| e.mass_kg.is_some()).collect();
        let bare = self.problems.iter().any(|p| p.message.contains(NO_UNIT));
        let nameless = self.channels.iter().all(|c| self.like_loads(c));
        let n = match self.channels.len() {
            0 if bare => self.rows,
            0 => loads.len(),
            1 if nameless && loads.is_empty() => self.rows,
            _ => return None,
        };
        (n > 0).then(|| {
            let some: Vec<&str> = loads.iter().take(3).map(|e| e.text.as_str()).collect();
            let named = match some.is_empty() {
                true => String::new(),
                false => format!(
                    " ({}{})",
                    some.join(", "),
                    if n > some.len() { ", …" } else { "" }
                ),
            };
            format!(
                "this looks like a feed sheet: {} of wood{named} and no temperature of the tank",
                if n == 1 {
                    "a load".to_owned()
                } else {
                    format!("{n} loads")
                }
            )
        })
    }

    /// A column without a name, of few small figures that do not rise: weights rather than temperatures.
    fn like_loads(&self, c: &Channel) -> bool {
        let nameless = c.name.starts_with('#') && c.role == Role::Tank;
        let v: Vec<f64> = c.value.iter().map(|k| k - 273.15).collect();
        let up = v.windows(2).filter(|w| w[1] > w[0]).count();
        nameless
            && (3..=60).contains(&v.len())
            && v.iter().all(|v| (0.1..15.0).contains(v))
            && 3 * up < 2 * (v.len() - 1)
    }
}
