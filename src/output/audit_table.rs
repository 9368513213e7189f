//! The page that a person reads after an audit.

use crate::results::{Audit, Measured};
use crate::units::{
    UnitSystem, format_energy, format_heating_value, format_mass, format_power, format_temperature,
    format_time, significant,
};
use std::fmt::Write;

/// Longest list of suspect spans that is printed whole.
const MOST_FLAGS: usize = 15;

/// The summary as text, one page for a clean log.
pub fn audit_table(a: &Audit, units: UnitSystem) -> String {
    let mut t = String::new();
    let mut line = |name: &str, value: String| {
        // Writing to a string does not fail.
        let _ = writeln!(t, "  {name:<34} {value}");
    };
    let energy = |j: f64| format_energy(j, units);
    let share = |v: f64| format!("{} %", significant(100.0 * v, 3));
    let pm = |m: &Measured| format!("{:.1} ± {:.1} %", 100.0 * m.value, 100.0 * m.expanded);
    let dash = || "not known".to_owned();
    line(
        "start to end of the account",
        format!(
            "{} to {} ({} rows, one in {})",
            format_time(a.begin_s),
            format_time(a.end_s),
            a.rows,
            format_time(a.step_s)
        ),
    );
    line(
        "tank",
        format!(
            "{} to {}, {} probe(s)",
            format_temperature(a.start_temperature_K, units),
            format_temperature(a.end_temperature_K, units),
            a.tank_probes
        ),
    );
    if let Some(q) = &a.heat_to_tank_J {
        line(
            "heat into the tank",
            match q.expanded < q.value.abs() {
                true => format!(
                    "{} ± {} ({:.0} %)",
                    energy(q.value),
                    energy(q.expanded),
                    100.0 * q.expanded / q.value.abs()
                ),
                false => format!(
                    "{} ± {}: cannot be told from none",
                    energy(q.value),
                    energy(q.expanded)
                ),
            },
        );
    }
    if let Some(q) = a.heat_lost_meanwhile_J {
        line("  of it lost meanwhile and made good", energy(q));
    }
    if !a.draws.is_empty() {
        line(
            "  of it drawn",
            format!(
                "{} in {} draw(s)",
                energy(a.draws.iter().map(|d| d.1).sum()),
                a.draws.len()
            ),
        );
    }
    if let Some(q) = a.heat_evaporated_J {
        line("  of it evaporated, estimate", energy(q));
    }
    if let Some(q) = a.heat_by_flow_J {
        line("  for comparison, flow times rise", energy(q));
    }
    if let Some(p) = &a.mean_power_W {
        line(
            "mean power",
            format!(
                "{} ± {}",
                format_power(p.value, units),
                format_power(p.expanded, units)
            ),
        );
    }
    if let (Some(p), Some(at)) = (a.peak_power_W, a.peak_power_at_s) {
        line(
            "peak power",
            format!(
                "{} at {} (slope over {})",
                format_power(p, units),
                format_time(at),
                format_time(a.smoothing_s)
            ),
        );
    }
    line(
        "wood put in",
        a.fuel_kg.map_or_else(dash, |kg| match a.feeds {
            0 => format!("{} weighed as a whole", format_mass(kg, units)),
            n => format!("{} in {n} loads", format_mass(kg, units)),
        }),
    );
    if let (Some(h), Some(e)) = (a.net_heating_value_J_kg, a.fuel_energy_net_J) {
        let gross = a
            .fuel_energy_gross_J
            .map_or(String::new(), |g| format!(", gross {}", energy(g)));
        line(
            "energy of the wood",
            format!(
                "net {} ({}){gross}",
                energy(e),
                format_heating_value(h, units)
            ),
        );
    }
    line(
        "efficiency, net (lower) value",
        a.efficiency_net.as_ref().map_or_else(dash, pm),
    );
    line(
        "efficiency, gross (higher) value",
        a.efficiency_gross.as_ref().map_or_else(dash, pm),
    );
    line(
        "efficiency, flat 20 MJ per kg weighed",
        a.efficiency_flat_20MJ_kg.as_ref().map_or_else(dash, pm),
    );
    if let Some(m) = &a.efficiency_net_char_credited {
        line("efficiency, net, char left credited", pm(m));
    }
    let band = |v: Option<f64>, lo: Option<f64>, hi: Option<f64>, f: &dyn Fn(f64) -> String| match (
        v, lo, hi,
    ) {
        (Some(v), Some(lo), Some(hi)) => Some(format!("{} ({} to {})", f(v), f(lo), f(hi))),
        _ => None,
    };
    if let Some(text) = band(
        a.stack_loss_fraction,
        a.stack_loss_low,
        a.stack_loss_high,
        &share,
    ) {
        line("stack loss, sensible, of net", text);
    }
    if let Some(k) = a.flue_temperature_mean_K {
        line("flue, mean while burning", format_temperature(k, units));
    }
    if let Some(text) = band(
        a.char_left_J,
        a.char_left_low_J,
        a.char_left_high_J,
        &energy,
    ) {
        line("char left at the end", text);
    }
    if let Some(text) = band(
        a.walls_hold_J,
        a.walls_hold_low_J,
        a.walls_hold_high_J,
        &energy,
    ) {
        line("heat still in the walls, estimate", text);
    }
    if let Some(text) = band(
        a.pipe_loss_J,
        a.pipe_loss_low_J,
        a.pipe_loss_high_J,
        &energy,
    ) {
        line("pipes lost, not in the tank, estimate", text);
    }
    if let Some(j) = a.pipe_hold_J {
        line("heat still in the pipes, estimate", energy(j));
    }
    if let Some(k) = a.coil_outlet_max_K {
        line(
            "hottest water at the coil's outlet",
            format_temperature(k, units),
        );
    }
    line(
        "tending",
        format!(
            "{} visits, {:.1} an hour",
            a.tending_actions, a.tending_per_hour
        ),
    );
    for (name, j) in &a.extra {
        line(&format!("extra, at source: {name}"), energy(*j));
    }
    if let Some(kg) = a.wood_per_bath_kg {
        line("wood for one bath", format_mass(kg, units));
    }
    if let (Some(c), Some(s)) = (a.cords_per_year, a.steres_per_year) {
        line(
            &format!("at {:.0} such burns a year", a.burns_per_year),
            format!(
                "{} cords ({} stacked m³)",
                significant(c, 2),
                significant(s, 2)
            ),
        );
    }
    let mut text = format!("{}\n\n{t}", a.title);
    source(&mut text, a);
    budget(&mut text, a);
    flags(&mut text, a);
    list(
        &mut text,
        "taken for want of a figure",
        a.assumed
            .iter()
            .map(|(k, v, why)| format!("{k}: {v} ({why})")),
    );
    list(&mut text, "to be answered", a.questions.iter().cloned());
    list(
        &mut text,
        "remarks",
        a.remarks.iter().cloned().chain(
            (a.stack_loss_fraction.is_some()).then(|| format!("stack loss: {}", a.stack_loss_how)),
        ),
    );
    text.push_str("\nEstimate from one burn, not a clearance to build or run. Hot water scalds; local codes and licensed practice decide.\n");
    text
}

fn source(text: &mut String, a: &Audit) {
    if a.sources.is_empty() {
        return;
    }
    text.push_str(
        "\nheat per source energy (source: what was taken from nature; says nothing of smoke)\n",
    );
    for s in &a.sources {
        let band = match s.source_high - s.source_low > 1e-9 {
            true => format!(" ({:.2} to {:.2})", s.source_low, s.source_high),
            false => String::new(),
        };
        let cost = s.cost.map_or(String::new(), |c| {
            format!("   this heat costs {}{:.2}", a.currency, c)
        });
        let _ = writeln!(
            text,
            "  {:<34} {:.2}{band}{cost}",
            s.name, s.source_efficiency
        );
    }
}

fn budget(text: &mut String, a: &Audit) {
    let Some(b) = a.budgets.first() else {
        return;
    };
    let _ = writeln!(
        text,
        "\nuncertainty budget of {} (JCGM 100; coverage factor {:.2}{})",
        b.of,
        b.coverage_factor,
        b.degrees_of_freedom
            .filter(|n| *n < 1e4)
            .map_or(String::new(), |n| format!(
                " at {n:.1} effective degrees of freedom"
            ))
    );
    let _ = writeln!(
        text,
        "  {:<28} {:>12} {:>12} {:>13} {:>12}  source",
        "input", "value", "std. unc.", "sensitivity", "contribution"
    );
    let g = |v: f64| {
        if v != 0.0 && (v.abs() >= 1e5 || v.abs() < 1e-2) {
            format!("{v:.2e}")
        } else {
            significant(v, 4)
        }
    };
    for l in &b.lines {
        let _ = writeln!(
            text,
            "  {:<28} {:>12} {:>12} {:>13} {:>12}  {}",
            format!("{}, {}", l.name, l.unit),
            g(l.value),
            g(l.standard),
            g(l.sensitivity),
            g(l.contribution),
            l.source
        );
    }
    let _ = writeln!(
        text,
        "  {:<28} {:>12} {:>12}",
        "combined",
        g(b.result.value),
        g(b.result.standard)
    );
}

fn flags(text: &mut String, a: &Audit) {
    let shown = a.flags.iter().take(MOST_FLAGS).map(|f| {
        let place = if f.channel.is_empty() {
            "clock".to_owned()
        } else {
            f.channel.clone()
        };
        let out = if f.left_out { "left out" } else { "kept" };
        format!(
            "lines {} to {}, {place}: {}, {} ({out})",
            f.first_line, f.last_line, f.kind, f.reason
        )
    });
    let more = a.flags.len().saturating_sub(MOST_FLAGS);
    let rest = (more > 0).then(|| format!("and {more} more, all of them in audit.json"));
    list(text, "suspect spans", shown.chain(rest));
}

fn list(text: &mut String, title: &str, items: impl Iterator<Item = String>) {
    let mut items = items.peekable();
    if items.peek().is_some() {
        let _ = writeln!(text, "\n{title}");
        for item in items {
            let _ = writeln!(text, "  - {item}");
        }
    }
}
