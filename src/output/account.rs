//! The account of energy as a person follows it: reference terms taken together with what they belong to.
//!
//! The ledger counts enthalpy from 25 °C, so cold air and cold water come in with less than nothing. A person
//! asks how much warmer gas or water left than it came. Sums and the residual stay as they are.

use crate::results::{Ledger, LedgerLine};

/// A side of the account line, what it takes up from the inputs or outputs, and its words then.
const TOGETHER: [(&str, &[&str], &str); 3] = [
    (
        "stack_sensible",
        &["air_enthalpy", "fuel_sensible"],
        "Up the stack, over outdoor air",
    ),
    (
        "draws_out",
        &["water_in"],
        "Hot water drawn, over the cold water let in",
    ),
    (
        "stack_latent",
        &["condensate_latent"],
        "Up the stack, latent",
    ),
];

/// One line of either side.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    pub key: String,
    pub label: String,
    pub energy_j: f64,
    /// Warm water, or a bench warmed by it: what the fire was for.
    pub useful: bool,
}

/// Where the energy came from and where it went; lines without energy left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Account {
    pub from: Vec<Line>,
    /// Useful lines first, then by size.
    pub to: Vec<Line>,
}

/// The account of a ledger.
pub fn account(ledger: &Ledger) -> Account {
    let lines = |list: &[LedgerLine], stored: bool| -> Vec<Line> {
        list.iter()
            .filter(|l| l.energy_j.is_finite())
            .map(|l| Line {
                key: l.key.clone(),
                label: l.label.clone(),
                energy_j: l.energy_j,
                useful: is_useful(&l.key, stored),
            })
            .collect()
    };
    let mut from = lines(&ledger.inputs, false);
    let mut to = lines(&ledger.outputs, false);
    to.extend(lines(&ledger.stored, true));
    for (key, others, label) in TOGETHER {
        let Some(at) = to.iter().position(|l| l.key == key) else {
            continue;
        };
        let mut taken = 0.0;
        let mut any = false;
        for (list, sign) in [(&mut from, -1.0), (&mut to, 1.0)] {
            for l in list.iter_mut().filter(|l| others.contains(&l.key.as_str())) {
                any |= l.energy_j != 0.0;
                taken += sign * std::mem::take(&mut l.energy_j);
            }
        }
        to[at].energy_j += taken;
        if any {
            to[at].label = label.into();
        }
    }
    from.retain(|l| l.energy_j != 0.0);
    to.retain(|l| l.energy_j != 0.0);
    to.sort_by(|a, b| {
        b.useful
            .cmp(&a.useful)
            .then(b.energy_j.total_cmp(&a.energy_j))
    });
    Account { from, to }
}

fn is_useful(key: &str, stored: bool) -> bool {
    match key {
        "draws_out" | "bench_loss" => true,
        "vessel" | "bench" => stored,
        _ => stored && (key.contains("water") || key.contains("store")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(key: &str, energy_j: f64) -> LedgerLine {
        LedgerLine {
            key: key.into(),
            label: key.into(),
            energy_j,
        }
    }

    #[test]
    fn identity_taking_lines_together_keeps_the_sums() {
        let ledger = Ledger {
            inputs: vec![
                line("fuel_gross", 100.0),
                line("air_enthalpy", -4.0),
                line("water_in", -3.0),
                line("pump_work", 1.0),
            ],
            outputs: vec![
                line("stack_sensible", 30.0),
                line("stack_latent", 9.0),
                line("condensate_latent", -2.0),
                line("draws_out", 12.0),
                line("evaporation", 0.0),
            ],
            stored: vec![line("vessel", 40.0), line("walls", 5.0)],
            unaccounted_j: 0.0,
            residual_fraction: 0.0,
            masses: Vec::new(),
        };
        let a = account(&ledger);
        let sum = |l: &[Line]| l.iter().map(|x| x.energy_j).sum::<f64>();
        assert_eq!(sum(&a.from) - sum(&a.to), 94.0 - 94.0);
        let of = |key: &str| a.to.iter().find(|l| l.key == key).map(|l| l.energy_j);
        assert_eq!(of("stack_sensible"), Some(34.0));
        assert_eq!(of("draws_out"), Some(15.0));
        assert_eq!(of("stack_latent"), Some(7.0));
        assert_eq!(of("evaporation"), None);
        let order: Vec<&str> = a.to.iter().map(|l| l.key.as_str()).collect();
        assert_eq!(order[..2], ["vessel", "draws_out"]);
    }
}
