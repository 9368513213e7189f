//! The account of a measured burn: heat into the tank, energy of the wood, efficiency with its uncertainty, losses.
//!
//! Q = ρ(T₀) V [h(T₁) − h(T₀)] + C (T₁ − T₀) + L + D + E, with L what the tank lost meanwhile where its loss is known, D what
//! was drawn and E what evaporated, where those are stated;
//! η = Q / (m H). Uncertainties by [`mod@budget`]. `docs/logs.md` says where each default comes from.

mod beside;
pub mod budget;
mod costs;
mod curve;
mod given;
mod inputs;
mod losses;

pub use given::RigFacts;

use crate::logs::{Event, EventKind, Mapping, Problem, Reading, Role};
use crate::properties::water::Water;
use crate::properties::wood;
use crate::results::{Audit, AuditBudget, AuditCurve, AuditEvent, AuditFlag, BudgetLine, Measured};
use budget::{Budget, budget};
use curve::Grid;
use given::{Given, given, refused};

const COVERAGE: f64 = 0.95;
/// Standard uncertainty of a probe that nobody described: the limits of a type K thermocouple with its converter,
/// ± 2 K or so, taken as evenly likely.
const PROBE_K: f64 = 1.2;
/// First and last readings of one probe share its offset: correlation of their errors (judgement, no source).
const SAME_PROBE: f64 = 0.7;
/// One probe in a tank that nobody stirred: how far it may lie from the mean, as a share of the rise (judgement: tubs
/// have been found 28 K apart between top and floor).
const ONE_PROBE: f64 = 0.10;

/// Accounts for a burn.
///
/// # Errors
/// All that is missing or wrong in log and mapping, in one pass.
pub fn audit(
    reading: &Reading,
    map: &Mapping,
    facts: &RigFacts,
    log_name: &str,
) -> Result<Audit, Vec<Problem>> {
    let mut problems = reading.problems.clone();
    // Where the log itself could not be read, what else is missing is no help.
    if refused(&problems) && reading.rows == 0 {
        return Err(problems);
    }
    if let Some(words) = reading.feed_sheet() {
        return Err(vec![Problem::error(
            words,
            format!("give it beside the log of the tank: `emberloop audit LOG --feeds {log_name}`"),
        )]);
    }
    let g = given(map, facts, reading, &mut problems);
    let tanks: Vec<_> = reading
        .channels
        .iter()
        .filter(|c| c.role.is_tank() && c.kept().count() >= 2)
        .collect();
    let lone = reading.channels.iter().find(|c| c.role.is_tank());
    if let (true, 0, Some(c)) = (tanks.is_empty(), reading.errors(), lone) {
        let mut problem = Problem::error(
            match c.kept().count() {
                1 => format!(
                    "{} has one reading only: heat needs a first and a last one",
                    c.name
                ),
                _ => format!("{} has no good reading", c.name),
            },
            "see the suspect spans, or name another column of the tank",
        );
        problem.line = c.line.first().copied();
        problems.push(problem);
    } else if tanks.is_empty() && reading.errors() == 0 {
        let have: Vec<String> = reading
            .channels
            .iter()
            .map(|c| format!("{} ({})", c.name, c.role.word()))
            .collect();
        problems.push(Problem::error(
            match have.is_empty() {
                true => "no column of the log is a temperature that could be the tank's".to_owned(),
                false => format!("no column is known to be the water in the tank; the log has: {}", have.join(", ")),
            },
            "write a [[channel]] with `column = \"...\"` and `as = \"tank\"` (or tank_top, tank_middle, tank_bottom) in the mapping; `--propose` writes one to edit",
        ));
    }
    let moment = |key: &str, text: &Option<String>, problems: &mut Vec<Problem>| {
        text.as_deref().and_then(|t| match reading.moment_s(t) {
            Ok(at) => Some(at),
            Err(why) => {
                problems.push(Problem::error(
                    format!("`time.{key}`: {why}"),
                    "write `light_up = \"17:05\"`",
                ));
                None
            }
        })
    };
    let lit = moment("light_up", &map.time.light_up, &mut problems);
    let stated_end = moment("end", &map.time.end, &mut problems);
    let draws = beside::placed(&g.draws, reading, &mut problems);
    if refused(&problems) {
        return Err(problems);
    }
    let within = |e: &&Event| e.time_s <= reading.last_s;
    let first_of = |kind| {
        reading
            .events
            .iter()
            .filter(within)
            .find(|e| e.kind == kind)
            .map(|e| e.time_s)
    };
    let (begin_s, lighting) = lit
        .map(|s| (s, "stated"))
        .or(first_of(EventKind::Lit).map(|s| (s, "noted")))
        .or(first_of(EventKind::Feed).map(|s| (s, "first feed")))
        .unwrap_or((reading.first_s, "first row"));
    // A first load long after the tank began to warm is not the lighting.
    let (begin_s, lighting) = match lighting {
        "first feed" if warmed(&tanks, begin_s) => (reading.first_s, "first row"),
        other => (begin_s, other),
    };
    let begin_s = begin_s.clamp(reading.first_s, reading.last_s);
    Burn {
        reading,
        map,
        g,
        begin_s,
        lighting,
        stated_end,
        draws,
        log_name,
        problems,
    }
    .account()
}

/// Whether a tank has come a twentieth of its way at a moment.
fn warmed(tanks: &[&crate::logs::Channel], at_s: f64) -> bool {
    tanks.iter().any(|c| {
        let Some((_, first)) = c.kept().next() else {
            return false;
        };
        let most = c.kept().map(|p| p.1).fold(first, f64::max);
        let then = c
            .kept()
            .filter(|p| p.0 <= at_s)
            .last()
            .map_or(first, |p| p.1);
        then - first > 0.05 * (most - first) + 0.5
    })
}

struct Burn<'a> {
    reading: &'a Reading,
    map: &'a Mapping,
    g: Given,
    begin_s: f64,
    lighting: &'static str,
    stated_end: Option<f64>,
    /// On the log's axis.
    draws: Vec<(f64, given::DrawGiven)>,
    log_name: &'a str,
    problems: Vec<Problem>,
}

/// The water's heat over time and what marks its ends.
struct Tank {
    grid: Grid,
    mean_k: Vec<f64>,
    heat_j: Vec<f64>,
    power_w: Vec<f64>,
    half_s: f64,
    start: usize,
    end: usize,
    probes: usize,
    /// Half the distance between the hottest and the coldest probe.
    half_spread_k: [f64; 2],
    resolution_k: f64,
    probe_standard_k: f64,
    probe_freedom: f64,
    /// Within the account.
    drawn: Vec<beside::Drawn>,
    /// J, and its standard uncertainty.
    evaporated: Option<(f64, f64)>,
    /// Lost on the way, held at the end, and how that was found.
    pipes: Option<(losses::Band, losses::Band, String)>,
}

impl Burn<'_> {
    fn account(mut self) -> Result<Audit, Vec<Problem>> {
        let mut remarks = Vec::new();
        let mut assumed = std::mem::take(&mut self.g.assumed);
        let Some(tank) = self.tank(&mut assumed) else {
            self.problems.push(match self.only_cools() {
                Some(k) => Problem::error(
                    format!("the tank never gets warmer than its {:.1} °C at lighting: this log holds no heating", k - 273.15),
                    "a wrong column, rows in the wrong order, or a log of the cooling; `light_up` and `end` under [time] say where the burn lies",
                ),
                None => Problem::error(
                    "the probes of the tank have no two good moments in common between lighting and the end",
                    "see the suspect spans; `as = \"ignore\"` leaves a broken probe aside",
                ),
            });
            return Err(self.problems);
        };
        let (t0, t1) = (tank.mean_k[tank.start], tank.mean_k[tank.end]);
        let (start_s, end_s) = (tank.grid.time_s[tank.start], tank.grid.time_s[tank.end]);
        if start_s - self.begin_s > 300.0 {
            remarks.push(format!(
                "the tank was first read {:.0} min after lighting: heat before that is missing",
                (start_s - self.begin_s) / 60.0
            ));
        }
        if self.lighting == "first row"
            && self
                .reading
                .events
                .iter()
                .any(|e| e.mass_kg.is_some() && e.time_s > self.begin_s + 300.0)
        {
            remarks.push("nobody noted the lighting, and the tank warmed before the first load that was written down: the first row stands for the lighting, and wood laid before is missing".into());
        }
        if tank.probes == 1 && !self.g.stirred {
            remarks.push("one probe in the tank: it tells the mean only if the water is mixed. Stir before the first and last reading (`stirred = true`), or add a probe at the other end".into());
        }
        let feeds: Vec<&Event> = self
            .reading
            .events
            .iter()
            .filter(|e| e.mass_kg.is_some())
            .collect();
        let (counted, later): (Vec<&Event>, Vec<&Event>) =
            feeds.iter().partition(|e| e.time_s <= end_s + 1.0);
        let weighed: f64 = counted.iter().filter_map(|e| e.mass_kg).sum();
        let after: f64 = later.iter().filter_map(|e| e.mass_kg).sum();
        let fuel_kg = self.g.fuel.total_kg.or((weighed > 0.0).then_some(weighed));
        if let Some(total) = self.g.fuel.total_kg
            && weighed > 0.0
            && (total - weighed).abs() > 0.02 * total
        {
            remarks.push(format!("`fuel.mass` says {total:.2} kg, the feeds add up to {weighed:.2} kg; the former was taken"));
        }
        if fuel_kg.is_none() {
            remarks.push("no wood was weighed: heat only, no efficiency. Write feeds into the log, a feed sheet (--feeds) or `mass` under [fuel]".into());
        }
        if after > 0.0 {
            remarks.push(format!(
                "{after:.2} kg were fed after the tank's warmest moment and are not counted"
            ));
        }
        let lost_j = self.lost_j(&tank);
        if tank.drawn.len() < self.draws.len() {
            remarks.push(format!(
                "{} of {} draws lie outside the account and are not counted",
                self.draws.len() - tank.drawn.len(),
                self.draws.len()
            ));
        }
        if lost_j.is_none() {
            remarks.push("what the tank lost meanwhile is left out (no `loss` under [rig])".into());
        }
        let (inputs, related) = self.inputs(&tank, lost_j, fuel_kg, &counted);
        let f = &self.g.fuel;
        let h_dry = f.cho[1];
        let net = move |x: &[f64]| wood::net_heating_value_j_kg(x[8], h_dry, x[7]);
        let stated_net = f.net;
        let lower = move |x: &[f64]| if stated_net.is_some() { x[8] } else { net(x) };
        let heat = budget(&inputs, &related, COVERAGE, heat_j);
        let (char_band, char_how) = losses::char_left(&self.g, &counted, end_s);
        let effective = |of: &dyn Fn(&[f64]) -> f64| {
            fuel_kg.map(|_| budget(&inputs, &related, COVERAGE, |x| of(x)))
        };
        let eta_net = effective(&|x| heat_j(x) / (x[6] * lower(x)));
        let eta_gross = (f.net.is_none())
            .then(|| effective(&|x| heat_j(x) / (x[6] * x[8] * (1.0 - x[7]))))
            .flatten();
        let eta_flat = effective(&|x| heat_j(x) / (x[6] * 20e6));
        let eta_char = effective(&|x| heat_j(x) / (x[6] * lower(x) - x[9]));
        let net_j_kg = lower(&inputs.iter().map(|i| i.value).collect::<Vec<_>>());
        let fuel_net_j = fuel_kg.map(|kg| kg * net_j_kg);
        let lasted_s = end_s - start_s;
        let heat_m = measured(&heat);
        let stack = losses::stack(self.reading, &tank.grid, end_s, &self.g);
        let walls = losses::walls(&self.g, self.reading);
        let costs = costs::costs(
            &self.map.account,
            &self.g,
            fuel_kg,
            fuel_net_j,
            heat_m,
            lasted_s,
            &mut assumed,
        );
        if !costs.problems.is_empty() {
            self.problems.extend(costs.problems);
            return Err(self.problems);
        }
        if let Some(e) = eta_net.as_ref().filter(|e| e.value > 1.0) {
            remarks.push(format!(
                "an efficiency of {:.0} % cannot be: look at volume, probes and weights",
                100.0 * e.value
            ));
        }
        if heat.value < 2.0 * heat.standard {
            remarks.push(
                "the heat is hardly larger than its uncertainty: this log says little".into(),
            );
        }
        if self.reading.rows < 15 {
            remarks.push(format!(
                "{} rows only: times and the peak of power are no finer than the time between them",
                self.reading.rows
            ));
        }
        if fuel_kg.is_some() && f.total_kg.is_none() {
            remarks.push(format!("char left at the end: {char_how}"));
        }
        if let Some((.., how)) = &tank.pipes {
            remarks.push(format!("pipes: {how}"));
        }
        let peak = (0..tank.power_w.len())
            .filter(|i| tank.power_w[*i].is_finite() && *i <= tank.end)
            .max_by(|a, b| tank.power_w[*a].total_cmp(&tank.power_w[*b]));
        let acts = self.acts(end_s);
        let wanted: Vec<(&str, &Option<Budget>)> = vec![
            ("efficiency, net", &eta_net),
            ("efficiency, gross", &eta_gross),
            ("efficiency, flat 20 MJ/kg", &eta_flat),
        ];
        let mut budgets: Vec<AuditBudget> = wanted
            .into_iter()
            .filter_map(|(name, b)| b.as_ref().map(|b| written(name, b)))
            .collect();
        budgets.push(written("heat into the tank, J", &heat));
        let part = |b: &Option<Budget>| b.as_ref().map(measured);
        let t = |s: f64| s - self.begin_s;
        let coil_outlet = self
            .reading
            .channels
            .iter()
            .filter(|c| c.role == Role::CoilOut)
            .flat_map(|c| c.kept())
            .map(|p| p.1)
            .fold(f64::NEG_INFINITY, f64::max);
        Ok(Audit {
            title: self
                .map
                .title
                .clone()
                .unwrap_or_else(|| self.log_name.to_owned()),
            log: self.log_name.to_owned(),
            rows: self.reading.rows,
            step_s: self.reading.step_s,
            begin_s: t(start_s),
            end_s: t(end_s),
            start_temperature_K: t0,
            end_temperature_K: t1,
            tank_probes: tank.probes,
            lighting: self.lighting.into(),
            water_m3: self.g.volume_m3,
            metal_J_K: self.g.metal_j_k,
            species: f.name.clone(),
            moisture_wet: f.moisture_wet,
            moisture_assumed: f.moisture_source.starts_with("assumed"),
            heat_to_tank_J: Some(heat_m),
            heat_lost_meanwhile_J: lost_j,
            draws: tank.drawn.iter().map(|d| (t(d.at_s), d.joule)).collect(),
            heat_evaporated_J: tank.evaporated.map(|e| e.0),
            pipe_loss_J: tank.pipes.as_ref().map(|p| p.0.value),
            pipe_loss_low_J: tank.pipes.as_ref().map(|p| p.0.low),
            pipe_loss_high_J: tank.pipes.as_ref().map(|p| p.0.high),
            pipe_hold_J: tank.pipes.as_ref().map(|p| p.1.value),
            pipe_how: tank.pipes.as_ref().map_or(String::new(), |p| p.2.clone()),
            heat_by_flow_J: self.by_flow_j(&tank.grid, end_s),
            mean_power_W: (lasted_s > 0.0).then(|| scaled(heat_m, 1.0 / lasted_s)),
            peak_power_W: peak.map(|i| tank.power_w[i]),
            peak_power_at_s: peak.map(|i| t(tank.grid.time_s[i])),
            smoothing_s: 2.0 * tank.half_s,
            fuel_kg,
            fuel_after_end_kg: after,
            net_heating_value_J_kg: fuel_kg.map(|_| net_j_kg),
            fuel_energy_net_J: fuel_net_j,
            fuel_energy_gross_J: fuel_kg
                .filter(|_| f.net.is_none())
                .map(|kg| kg * f.gross_dry_j_kg * (1.0 - f.moisture_wet)),
            efficiency_net: part(&eta_net),
            efficiency_gross: part(&eta_gross),
            efficiency_flat_20MJ_kg: part(&eta_flat),
            efficiency_net_char_credited: part(&eta_char).filter(|_| char_band.high > 0.0),
            stack_loss_fraction: stack.as_ref().map(|s| s.loss.value),
            stack_loss_low: stack.as_ref().map(|s| s.loss.low),
            stack_loss_high: stack.as_ref().map(|s| s.loss.high),
            stack_loss_how: stack.as_ref().map_or_else(
                || "no flue temperature in the log".to_owned(),
                |s| s.how.clone(),
            ),
            flue_temperature_mean_K: stack.as_ref().map(|s| s.flue_k),
            char_left_J: (char_band.high > 0.0).then_some(char_band.value),
            char_left_low_J: (char_band.high > 0.0).then_some(char_band.low),
            char_left_high_J: (char_band.high > 0.0).then_some(char_band.high),
            walls_hold_J: walls.map(|w| w.value),
            walls_hold_low_J: walls.map(|w| w.low),
            walls_hold_high_J: walls.map(|w| w.high),
            extra_energy_J: (!costs.extra.is_empty())
                .then(|| costs.extra.iter().map(|e| e.1).sum()),
            extra: costs.extra,
            coil_outlet_max_K: coil_outlet.is_finite().then_some(coil_outlet),
            feeds: counted.len(),
            tending_actions: acts,
            tending_per_hour: if lasted_s > 0.0 {
                acts as f64 / lasted_s * 3600.0
            } else {
                0.0
            },
            sources: costs.sources,
            currency: costs.currency,
            wood_cost: costs.wood_cost,
            wood_per_bath_kg: costs.wood_per_bath_kg,
            cords_per_year: costs.cords_per_year,
            steres_per_year: costs.steres_per_year,
            burns_per_year: costs.burns_per_year,
            budgets,
            flags: self
                .reading
                .flags
                .iter()
                .map(|f| AuditFlag {
                    kind: f.kind.words().into(),
                    channel: f.channel.clone(),
                    first_line: f.first_line,
                    last_line: f.last_line,
                    first_s: t(f.first_s),
                    last_s: t(f.last_s),
                    readings: f.readings,
                    reason: f.reason.clone(),
                    left_out: f.left_out,
                })
                .collect(),
            events: self
                .reading
                .events
                .iter()
                .map(|e| AuditEvent {
                    time_s: t(e.time_s),
                    kind: format!("{:?}", e.kind).to_lowercase(),
                    text: e.text.clone(),
                    mass_kg: e.mass_kg,
                })
                .collect(),
            assumed,
            decisions: self
                .reading
                .decisions
                .iter()
                .map(|d| format!("{}: {} ({})", d.about, d.taken, d.reason))
                .collect(),
            questions: self
                .reading
                .decisions
                .iter()
                .filter_map(|d| d.question.clone())
                .collect(),
            remarks,
            curves: self
                .reading
                .channels
                .iter()
                .filter(|c| c.role.kind() == Some(crate::units::Kind::Temperature))
                .map(|c| {
                    let (time_s, value_k) = self.broken(c);
                    AuditCurve {
                        name: c.name.clone(),
                        role: c.role.word().into(),
                        time_s,
                        value_k,
                    }
                })
                .collect(),
            heat_time_s: tank.grid.time_s.iter().map(|s| t(*s)).collect(),
            heat_j: tank
                .heat_j
                .iter()
                .map(|q| q - tank.heat_j[tank.start])
                .collect(),
            tank_mean_k: tank.mean_k,
            power_w: tank.power_w,
        })
    }

    /// First temperature of a tank that only falls from lighting on.
    fn only_cools(&self) -> Option<f64> {
        let probe = self.reading.channels.iter().find(|c| c.role.is_tank())?;
        let after = || probe.kept().filter(|p| p.0 >= self.begin_s - 1.0);
        let (first, count) = (after().next()?.1, after().count());
        (count > 1 && after().all(|p| p.1 <= first + 0.2)).then_some(first)
    }

    /// Heat lost from the tank between start and end.
    fn lost_j(&self, tank: &Tank) -> Option<f64> {
        let w_k = self.g.loss_w_k?;
        let t = &tank.grid.time_s;
        let points: Vec<(f64, f64)> = (tank.start..=tank.end)
            .filter(|i| tank.mean_k[*i].is_finite())
            .map(|i| (t[i], tank.mean_k[i] - self.g.ambient_k))
            .collect();
        Some(
            w_k * points
                .windows(2)
                .map(|w| (w[1].0 - w[0].0) * 0.5 * (w[0].1 + w[1].1))
                .sum::<f64>(),
        )
    }

    /// Heat through the coil by flow and its two water temperatures, where all three were read.
    fn by_flow_j(&self, grid: &Grid, end_s: f64) -> Option<f64> {
        let find = |role| {
            self.reading
                .channels
                .iter()
                .find(|c| c.role == role)
                .map(|c| grid.of(c))
        };
        let (flow, cold, hot) = (find(Role::Flow)?, find(Role::CoilIn)?, find(Role::CoilOut)?);
        let water = Water::shared();
        let power: Vec<f64> = (0..flow.len())
            .map(|i| {
                flow[i] * water.rho_kg_m3(cold[i]) * (water.h_j_kg(hot[i]) - water.h_j_kg(cold[i]))
            })
            .collect();
        let mut sum = 0.0;
        for i in 1..power.len() {
            if grid.time_s[i] <= end_s + 1.0 && power[i].is_finite() && power[i - 1].is_finite() {
                sum += 0.5 * (power[i] + power[i - 1]) * (grid.time_s[i] - grid.time_s[i - 1]);
            }
        }
        Some(sum)
    }

    /// A channel as it is drawn: no line through readings that are left out, nor over long silences.
    fn broken(&self, c: &crate::logs::Channel) -> (Vec<f64>, Vec<f64>) {
        let silence_s = (5.0 * self.reading.step_s).max(300.0);
        let (mut time_s, mut value_k) = (Vec::new(), Vec::new());
        let mut last = None;
        for ((&t, &v), &good) in c.time_s.iter().zip(&c.value).zip(&c.good) {
            let at = t - self.begin_s;
            if last.is_some_and(|l| t - l > silence_s) {
                time_s.push(at);
                value_k.push(f64::NAN);
            }
            time_s.push(at);
            value_k.push(if good { v } else { f64::NAN });
            last = Some(t);
        }
        (time_s, value_k)
    }

    /// Visits: what was done within one minute counts once.
    fn acts(&self, end_s: f64) -> usize {
        let mut last = f64::NEG_INFINITY;
        let mut acts = 0;
        for e in self
            .reading
            .events
            .iter()
            .filter(|e| e.kind != EventKind::Note && e.time_s <= end_s)
        {
            if e.time_s - last > 60.0 {
                acts += 1;
                last = e.time_s;
            }
        }
        acts
    }
}

/// Heat into the tank from the inputs in their order.
fn heat_j(x: &[f64]) -> f64 {
    let water = Water::shared();
    water.rho_kg_m3(x[1]) * x[0] * (water.h_j_kg(x[2] + x[4]) - water.h_j_kg(x[1] + x[3]))
        + x[5]
        + x[10]
        + x[11]
}

fn measured(b: &Budget) -> Measured {
    Measured {
        value: b.value,
        standard: b.standard,
        expanded: b.expanded,
    }
}

fn scaled(m: Measured, by: f64) -> Measured {
    Measured {
        value: m.value * by,
        standard: m.standard * by,
        expanded: m.expanded * by,
    }
}

fn written(name: &str, b: &Budget) -> AuditBudget {
    let finite = |v: f64| v.is_finite().then_some(v);
    AuditBudget {
        of: name.to_owned(),
        result: measured(b),
        degrees_of_freedom: finite(b.freedom),
        coverage_factor: b.coverage_factor,
        lines: b
            .lines
            .iter()
            .filter(|l| l.contribution > 0.0)
            .map(|l| BudgetLine {
                name: l.input.name.clone(),
                value: l.input.value,
                unit: l.input.unit.to_owned(),
                standard: l.input.standard,
                sensitivity: l.sensitivity,
                contribution: l.contribution,
                degrees_of_freedom: finite(l.input.freedom),
                source: l.input.source.clone(),
            })
            .collect(),
    }
}
