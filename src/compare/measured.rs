//! Measured entries: audited burns brought to the common task by their heat, with their uncertainty.
//!
//! A burn's time is moved by ΔQ/P, ΔQ the heat that the task asks more than the burn did, P its own power over the
//! later half of its rise; its wood by Q_task/Q_own and the net values at the two moistures. Both corrections are
//! uncertain themselves, by a quarter (judgement).

use super::level::Plan;
use super::spread::{Figure, Part};
use super::{Entry, Given, NOTHING, Options, Origin, REPEAT_SPREAD, Task, mass_words};
use crate::properties::water::Water;
use crate::properties::wood::MOISTURE_LATENT_J_KG;
use crate::results::{Audit, AuditCurve, CompareCurves, ComparedEntry, EntryKind, Quantity};
use crate::units::{format_energy, format_power, format_temperature, format_time, format_volume};

/// A task that asks for so much more or less of a burn's own heat cannot be told from it.
const TOO_FAR: f64 = 0.5;
const CORRECTION_DOUBT: f64 = 0.25;
/// Where nobody noted the lighting.
const LIGHTING_S: f64 = 300.0;
/// Degrees of freedom of the assumed scatter: known to a quarter (JCGM 100, G.3).
const SCATTER_FREEDOM: f64 = 8.0;
/// Correlation of first and last reading of one probe, as in the audit's budgets.
const SAME_PROBE: f64 = 0.7;
const PROBE_K: f64 = 1.2;

/// A measured burn at the task.
struct Levelled {
    values: [f64; 9],
    parts: Vec<Vec<Part>>,
    corrections: Vec<String>,
    remarks: Vec<String>,
    too_far: Option<String>,
    heat_j: f64,
}

pub(crate) fn entry(label: &str, members: &[&Given], plan: &Plan, o: &Options) -> Entry {
    let burns: Vec<(&str, &Audit)> = members
        .iter()
        .filter_map(|g| match &g.origin {
            Origin::Log(a) => Some((g.source.as_str(), a.as_ref())),
            Origin::Scenario { .. } => None,
        })
        .collect();
    let levelled: Vec<Levelled> = burns
        .iter()
        .map(|(source, a)| level(source, a, &plan.task, o))
        .collect();
    let first = burns.first().map(|b| b.1);
    let figures: Vec<Figure> = Quantity::ALL
        .into_iter()
        .map(|q| figure(q, &levelled, first, o))
        .collect();
    let many = burns.len() > 1;
    let named = |list: fn(&Levelled) -> &Vec<String>| -> Vec<String> {
        burns
            .iter()
            .zip(&levelled)
            .flat_map(|((source, _), l)| {
                list(l).iter().map(move |t| {
                    if many {
                        format!("{source}: {t}")
                    } else {
                        t.clone()
                    }
                })
            })
            .collect()
    };
    let peak = burns
        .iter()
        .map(|(_, a)| a.end_temperature_K)
        .reduce(f64::max);
    let reached = peak.is_some_and(|k| plan.task.target_k.is_none_or(|t| k >= t - 0.05));
    let cord_kg = first.and_then(|a| {
        let per_year = a.fuel_kg? * a.burns_per_year;
        a.cords_per_year.filter(|c| *c > 0.0).map(|c| per_year / c)
    });
    let forbidden: Vec<(Quantity, String)> = levelled
        .iter()
        .filter_map(|l| l.too_far.as_ref().map(|why| format!("{label} is {why}")))
        .flat_map(|why| [(Quantity::Time, why.clone()), (Quantity::Wood, why)])
        .collect();
    let shown = ComparedEntry {
        label: label.to_owned(),
        title: first.map_or(String::new(), |a| a.title.clone()),
        sources: burns.iter().map(|b| b.0.to_owned()).collect(),
        kind: EntryKind::Measured,
        burns: burns.len(),
        start_temperature_K: first.map(|a| a.start_temperature_K),
        target_temperature_K: plan
            .task
            .target_k
            .or(first.map(|a| a.end_temperature_K))
            .unwrap_or(f64::NAN),
        water_m3: first.map(|a| a.water_m3),
        moisture_wet: first.map(|a| a.moisture_wet),
        figures: Quantity::ALL
            .into_iter()
            .map(|q| {
                let told = forbidden.iter().all(|f| f.0 != q);
                let figure = figures.get(q.index()).filter(|_| told);
                (q, figure.map_or(NOTHING, Figure::span))
            })
            .collect(),
        target_reached: reached,
        tank_peak_K: peak,
        boiling_first_s: None,
        boiling_total_s: None,
        boiling_margin_min_K: None,
        visits: None,
        tending_s: None,
        splitting_s: None,
        wood_per_bath_kg: None,
        cords_per_year: None,
        steres_per_year: None,
        corrections: named(|l| &l.corrections),
        remarks: named(|l| &l.remarks),
        curves: first.map(curves).unwrap_or_default(),
    };
    Entry {
        cord_kg,
        heat_j: levelled.first().map(|l| l.heat_j),
        shown,
        figures,
        text: None,
        audit: first.cloned(),
        forbidden,
    }
}

/// The mean of the repeats, the measurement's parts of the first, and the scatter from burn to burn.
fn figure(q: Quantity, levelled: &[Levelled], first: Option<&Audit>, o: &Options) -> Figure {
    let values: Vec<f64> = levelled
        .iter()
        .map(|l| l.values[q.index()])
        .filter(|v| v.is_finite())
        .collect();
    if values.is_empty() {
        return Figure::Unknown;
    }
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let scatter = if values.len() > 1 {
        let s = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0);
        ((s / n).sqrt(), n - 1.0)
    } else {
        let spread = o.repeat_spread.unwrap_or(REPEAT_SPREAD);
        let of = match q {
            Quantity::EfficiencyNet
            | Quantity::EfficiencyGross
            | Quantity::EfficiencyFlat
            | Quantity::StackLoss => 0.5 * mean.abs(),
            // Its height over the tank follows the fire.
            Quantity::PeakOutlet => (mean - first.map_or(mean, |a| a.end_temperature_K)).max(0.0),
            _ => mean.abs(),
        };
        (spread * of, SCATTER_FREEDOM)
    };
    Figure::Budget {
        value: mean,
        parts: levelled
            .iter()
            .find(|l| l.values[q.index()].is_finite())
            .map(|l| l.parts[q.index()].clone())
            .unwrap_or_default(),
        scatter,
    }
}

/// The parts of one of the audit's budgets; the two temperatures of the same probes are one.
fn parts(a: &Audit, budget: &str, source: &str, same_tank: bool) -> Vec<Part> {
    let Some(b) = a.budgets.iter().find(|b| b.of.starts_with(budget)) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    let (mut start, mut end, mut freedom) = (0.0, 0.0, f64::INFINITY);
    for l in &b.lines {
        let signed = l.sensitivity * l.standard;
        let dof = l.degrees_of_freedom.unwrap_or(f64::INFINITY);
        let key = match l.name.as_str() {
            "start temperature" => {
                start = signed;
                freedom = freedom.min(dof);
                continue;
            }
            "end temperature" => {
                end = signed;
                freedom = freedom.min(dof);
                continue;
            }
            // The table of woods errs alike for both.
            name if name.contains("heating value") => format!("{name}|{}|{}", l.value, l.source),
            "volume of water" if same_tank => "volume of water".to_owned(),
            name => format!("{name}|{source}"),
        };
        out.push(Part {
            key,
            signed,
            freedom: dof,
        });
    }
    let probes = (start * start + end * end + 2.0 * SAME_PROBE * start * end)
        .max(0.0)
        .sqrt();
    if probes > 0.0 {
        out.push(Part {
            key: format!("tank probes|{source}"),
            signed: probes,
            freedom,
        });
    }
    out
}

fn scaled(parts: &[Part], by: f64) -> Vec<Part> {
    parts
        .iter()
        .map(|p| Part {
            signed: p.signed * by,
            ..p.clone()
        })
        .collect()
}

/// Moment at which the tank passes a temperature, s from lighting.
fn passes_s(a: &Audit, k: f64) -> Option<f64> {
    let t = &a.heat_time_s;
    let within = |i: &usize| t[*i] >= a.begin_s - 1.0 && t[*i] <= a.end_s + 1.0;
    let known: Vec<usize> = (0..t.len().min(a.tank_mean_k.len()))
        .filter(within)
        .filter(|i| a.tank_mean_k[*i].is_finite())
        .collect();
    let between = |(i, j): (usize, usize)| {
        let (y0, y1) = (a.tank_mean_k[i], a.tank_mean_k[j]);
        let share = if y1 > y0 {
            ((k - y0) / (y1 - y0)).clamp(0.0, 1.0)
        } else {
            1.0
        };
        t[i] + share * (t[j] - t[i])
    };
    let above = known.iter().position(|i| a.tank_mean_k[*i] >= k)?;
    if above == 0 {
        return Some(t[known[0]]);
    }
    let first = between((known[above - 1], known[above]));
    // Noise may touch it early: halfway to the last moment below.
    let last = known
        .windows(2)
        .rev()
        .find(|w| a.tank_mean_k[w[0]] < k && a.tank_mean_k[w[1]] >= k)
        .map(|w| between((w[0], w[1])));
    Some(0.5 * (first + last.unwrap_or(first)))
}

fn level(source: &str, a: &Audit, task: &Task, o: &Options) -> Levelled {
    let units = o.units;
    let parts = |budget: &str| parts(a, budget, source, o.same_tank);
    let kelvin = |k| format_temperature(k, units);
    let more = |j: f64| {
        let word = if j < 0.0 { "less" } else { "more" };
        format!("{} {word} to heat", format_energy(j.abs(), units))
    };
    let (mut corrections, mut remarks) = (Vec::new(), Vec::new());
    let water = Water::shared();
    let (t0, t1) = (a.start_temperature_K, a.end_temperature_K);
    let per_k = |m3: f64| {
        let mean = (water.h_j_kg(t1.max(t0 + 0.1)) - water.h_j_kg(t0)) / (t1 - t0).max(0.1);
        m3 * water.rho_kg_m3(t0) * mean + a.metal_J_K
    };
    let own = per_k(a.water_m3);
    let target = task.target_k.unwrap_or(t1);
    let start = task.start_k.unwrap_or(t0);
    let there_k = target.min(t1);
    let passed_s = passes_s(a, there_k).unwrap_or(a.end_s);
    let half_k = t0 + 0.5 * (there_k - t0);
    let half_s = passes_s(a, half_k).unwrap_or(a.begin_s);
    let mean_w = a.mean_power_W.map_or(0.0, |p| p.value);
    let late_w = match own * (there_k - half_k) / (passed_s - half_s) {
        w if w.is_finite() && w > 0.2 * mean_w => w,
        _ => mean_w,
    };
    // Heat that the task asks beyond what was heated when the clock was read, and all that was moved for it.
    let (mut extra_j, mut moved_j) = (0.0, 0.0);
    if (start - t0).abs() > 0.05 {
        let j = own * (t0 - start);
        corrections.push(format!(
            "start of {} taken as {}: {}",
            kelvin(t0),
            kelvin(start),
            more(j)
        ));
        extra_j += j;
        moved_j += f64::abs(j);
    }
    if target > t1 + 0.05 {
        let j = own * (target - t1);
        corrections.push(format!(
            "warmest at {}, the target of {} never reached: {}",
            kelvin(t1),
            kelvin(target),
            more(j)
        ));
        extra_j += j;
        moved_j += f64::abs(j);
    } else if target < t1 - 0.05 {
        corrections.push(format!(
            "read where the tank passed {}, {} after lighting; the burn went on to {}",
            kelvin(target),
            format_time(passed_s),
            kelvin(t1)
        ));
    }
    let want_m3 = task.water_m3.unwrap_or(a.water_m3);
    let other_water = (want_m3 / a.water_m3 - 1.0).abs() > 0.002;
    if other_water {
        let j = (per_k(want_m3) - own) * (target - start);
        corrections.push(format!(
            "{} of water taken as {}: {}",
            format_volume(a.water_m3, units),
            format_volume(want_m3, units),
            more(j)
        ));
        extra_j += j;
        moved_j += f64::abs(j);
    }
    let lost_j = a.heat_lost_meanwhile_J.unwrap_or(0.0);
    let drawn_j: f64 = a.draws.iter().map(|d| d.1).sum();
    let drawn_before_j: f64 = a
        .draws
        .iter()
        .filter(|d| d.0 <= passed_s)
        .map(|d| d.1)
        .sum();
    if drawn_before_j > 0.0 {
        corrections.push(format!(
            "water drawn before that taken off: {}",
            more(-drawn_before_j)
        ));
        extra_j -= drawn_before_j;
        moved_j += drawn_before_j;
    }
    let own_j = own * (t1 - t0) + drawn_j;
    let task_j = per_k(want_m3) * (target - start);
    let moved_s = if late_w > 0.0 {
        extra_j / late_w
    } else {
        f64::NAN
    };
    let time_s = passed_s + if extra_j == 0.0 { 0.0 } else { moved_s };
    // Net value at the task's moisture: linear in it, and -2.443 MJ/kg for water alone (ISO 18125).
    let dampness = a
        .net_heating_value_J_kg
        .zip(task.moisture_wet)
        .map_or(1.0, |(net, m)| {
            let dry = (net + MOISTURE_LATENT_J_KG) / (1.0 - a.moisture_wet);
            net / (dry * (1.0 - m) - MOISTURE_LATENT_J_KG)
        });
    let m = a.fuel_kg.unwrap_or(f64::NAN);
    let share = if own_j > 0.0 {
        task_j / own_j
    } else {
        f64::NAN
    };
    let wood_kg = m * share * dampness;
    if let Some(want) = task.moisture_wet
        && (want - a.moisture_wet).abs() > 0.002
        && m.is_finite()
    {
        corrections.push(format!(
            "wood with {:.1} % water taken as {:.1} % by its net value: {}",
            100.0 * a.moisture_wet,
            100.0 * want,
            if dampness > 1.0 {
                format!("{:.0} % more wood", 100.0 * (dampness - 1.0))
            } else {
                format!("{:.0} % less wood", 100.0 * (1.0 - dampness))
            }
        ));
    }
    if (extra_j != 0.0 || (wood_kg - m).abs() > 1e-3 * m) && late_w > 0.0 {
        let of_time = match extra_j == 0.0 {
            true => "no time".to_owned(),
            false => format!(
                "{} {} at its later power of {}",
                format_time(moved_s.abs()),
                if moved_s < 0.0 { "off" } else { "added" },
                format_power(late_w, units)
            ),
        };
        let of_wood = match m.is_finite() {
            true => format!(
                "; {} of wood for {}",
                mass_words(wood_kg, units),
                mass_words(m, units)
            ),
            false => String::new(),
        };
        corrections.push(format!("in all {of_time}{of_wood}"));
    }
    let too_far = (moved_j > TOO_FAR * own_j.abs().max(1.0)).then(|| {
        format!(
            "too far from the common task: it took in {}, and the corrections come to {}",
            format_energy(own_j, units),
            format_energy(moved_j, units)
        )
    });
    if a.lighting == "first row" {
        remarks.push(format!(
            "nobody noted the lighting: the first row stands for it, ± {} (standard)",
            format_time(LIGHTING_S)
        ));
    }
    if a.tank_probes == 1 {
        remarks.push("one probe in the tank: see its audit".into());
    }
    if a.heat_lost_meanwhile_J.is_none() {
        remarks.push(
            "what its tank lost meanwhile is left out of heat and efficiency (no `loss` under [rig])"
                .into(),
        );
    }
    if a.moisture_assumed {
        remarks.push("the moisture of its wood was assumed".into());
    }
    let heat = parts("heat into the tank");
    let of_tank: Vec<Part> = heat
        .iter()
        .filter(|p| {
            p.key.starts_with("tank probes")
                || p.key.starts_with("stratification")
                || (other_water && p.key.starts_with("volume"))
        })
        .cloned()
        .collect();
    let own_part = |name: &str, u: f64| Part::own(&format!("{name}|{source}"), u);
    let mut time_parts = scaled(&of_tank, if late_w > 0.0 { -1.0 / late_w } else { 0.0 });
    time_parts.push(own_part("time between rows", a.step_s / 12f64.sqrt()));
    if a.lighting == "first row" {
        time_parts.push(own_part("lighting", LIGHTING_S));
    }
    if extra_j != 0.0 {
        time_parts.push(own_part("correction", CORRECTION_DOUBT * moved_s));
    }
    let mut wood_parts = scaled(&heat, -wood_kg / (own_j + lost_j).max(1.0));
    let scale = a
        .budgets
        .iter()
        .flat_map(|b| &b.lines)
        .find(|l| l.name == "wood put in")
        .map_or(0.0, |l| l.standard / l.value);
    wood_parts.push(own_part("wood put in", scale * wood_kg));
    wood_parts.push(own_part("correction", CORRECTION_DOUBT * (wood_kg - m)));
    if let (Some(net), Some(_)) = (a.net_heating_value_J_kg, task.moisture_wet) {
        // At a common moisture the doubt of its own counts: d ln H / dM.
        let slope = (net + MOISTURE_LATENT_J_KG) / (1.0 - a.moisture_wet) / net;
        let doubt = a
            .budgets
            .iter()
            .flat_map(|b| &b.lines)
            .find(|l| l.name.starts_with("moisture"))
            .map_or(0.0, |l| l.standard);
        wood_parts.push(own_part("moisture", slope * doubt * wood_kg));
    }
    let lasted_s = (a.end_s - a.begin_s).max(1.0);
    let stack = a.stack_loss_fraction.unwrap_or(f64::NAN);
    let stack_u = a
        .stack_loss_high
        .zip(a.stack_loss_low)
        .map_or(0.0, |(h, l)| (h - l) / 12f64.sqrt());
    let of = |m: &Option<crate::results::Measured>| m.map_or(f64::NAN, |m| m.value);
    Levelled {
        values: [
            time_s,
            wood_kg,
            of(&a.efficiency_net),
            of(&a.efficiency_gross),
            of(&a.efficiency_flat_20MJ_kg),
            mean_w,
            a.coil_outlet_max_K.unwrap_or(f64::NAN),
            stack,
            a.tending_per_hour,
        ],
        parts: vec![
            time_parts,
            wood_parts,
            parts("efficiency, net"),
            parts("efficiency, gross"),
            parts("efficiency, flat"),
            scaled(&heat, 1.0 / lasted_s),
            vec![own_part("outlet probe", PROBE_K)],
            vec![own_part("stack loss", stack_u)],
            Vec::new(),
        ],
        corrections,
        remarks,
        too_far,
        heat_j: task_j,
    }
}

fn curves(a: &Audit) -> CompareCurves {
    let role = |wanted: &[&str]| {
        let found = wanted
            .iter()
            .find_map(|w| a.curves.iter().find(|c: &&AuditCurve| c.role == *w));
        found.map_or((Vec::new(), Vec::new()), |c| {
            (c.time_s.clone(), c.value_k.clone())
        })
    };
    CompareCurves {
        time_s: a.heat_time_s.clone(),
        tank_k: a.tank_mean_k.clone(),
        flue: role(&["flue", "gas_above_coil"]),
        outlet: role(&["coil_out"]),
        feeds_s: a
            .events
            .iter()
            .filter(|e| e.mass_kg.is_some())
            .map(|e| e.time_s)
            .collect(),
    }
}
