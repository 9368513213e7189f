//! `fit`: a scenario learns from a log.

use super::audit;
use super::console::Console;
use super::error::CliError;
use super::fit_args::FitArgs;
use super::goal;
use super::plan::ScenarioPlan;
use super::rehearsal;
use super::sensitivity::value_at;
use crate::analyses::study::{Axis, Base, Decimal};
use crate::components::priors::PRIORS;
use crate::components::spec::Rig;
use crate::fit::{self, Burnt, Drive, Effort, Parameter, Setting};
use crate::logs::{Problem, Reading};
use crate::output;
use crate::results::FitReport;
use crate::units::{Kind, parse};
use serde_json::json;

/// Fitted where nobody says what.
const USUAL: [&str; 6] = [
    "inlet_area",
    "bank_exposure",
    "fouling_rate",
    "bed_rate",
    "casing_loss",
    "moisture",
];
const STICKS: &str = "fuel.stick.thickness";
/// Nine in ten piles' mean thickness lies within this ratio of what the scenario says (judgement).
const STICKS_RATIO: f64 = 1.15;
/// Nine in ten pieces of a pile lie within this of what a meter said, percentage points (common practice, no source).
const MOISTURE_POINTS: f64 = 5.0;

pub fn run(console: &Console, args: &FitArgs) -> Result<(), CliError> {
    let mut plan = ScenarioPlan::new(&args.scenario, !args.no_pictures)?;
    if args.scenario.out.is_none() {
        plan.out_dir.push("fit");
    }
    let (loaded, base) = goal::load(console, &plan)?;
    let params = parameters(console, args, &base, &loaded.rig)?;
    let read = match &args.log {
        Some(_) => Some(log(console, args, &plan, &loaded.rig)?),
        None => None,
    };
    let drive = read.as_ref().map_or_else(
        || Drive {
            end_s: loaded.rig.stop.latest_s,
            keep_draws: true,
            ..Drive::default()
        },
        |(_, b)| b.drive.clone(),
    );
    let mut setting = Setting {
        base,
        rig: loaded.rig,
        params,
        drive,
    };
    let alight = fit::keep_alight(&mut setting);
    if let Some(repeats) = args.rehearse {
        let burnt = read.as_ref().map(|r| &r.1);
        return rehearsal::run(console, args, &plan, &setting, burnt, repeats);
    }
    let Some((reading, burnt)) = read else {
        return Ok(());
    };
    let effort = Effort {
        starts: usize::from(args.starts),
        samples: usize::from(args.bands),
        seed: u64::from(args.seed),
        until_s: until(args, &reading, &burnt)?,
    };
    let bar = console.spinner("burns");
    let report = fit::fit(&setting, &burnt.probes, effort, &|| bar.inc(1));
    bar.finish_and_clear();
    let Some(mut report) = report else {
        return Err(CliError::Run(
            "the scenario cannot be burnt with the log's feeds; `emberloop burn` tells why".into(),
        ));
    };
    report.log = args.log.as_deref().map(audit::name_of).unwrap_or_default();
    report
        .said
        .splice(0..0, burnt.said.iter().cloned().chain(alight));
    if burnt.left_out > 0 {
        report.said.push(format!(
            "{} suspect spans of the log are left out; `emberloop audit` names each",
            burnt.left_out
        ));
    }
    if plan.json {
        console.result(&format!("{:#}", json!(report)))?;
    } else {
        let text = output::fit_table(&report, plan.units);
        console.result(&(text + &goal::cautions(None)))?;
    }
    write(console, &plan, &setting, &report)
}

fn until(args: &FitArgs, reading: &Reading, burnt: &Burnt) -> Result<Option<f64>, CliError> {
    let Some(text) = &args.until else {
        return Ok(None);
    };
    let usage = |message: String| CliError::Usage {
        message,
        hint: Some("write `--until '90 min'` since lighting, or `--until 14:30`".into()),
    };
    let at = match parse(Kind::Time, text) {
        Ok(t) => t.si,
        Err(_) => {
            let at = reading.moment_s(text);
            at.map_err(|why| usage(format!("`--until`: {why}")))? - burnt.begin_s
        }
    };
    let end = burnt.drive.end_s;
    if at < 600.0 || at > end {
        return Err(usage(format!(
            "`--until {text}` is {:.0} min after lighting; the log runs to {:.0} min, and ten at least are needed",
            at / 60.0,
            end / 60.0
        )));
    }
    Ok(Some(at))
}

fn log(
    console: &Console,
    args: &FitArgs,
    plan: &ScenarioPlan,
    rig: &Rig,
) -> Result<(Reading, Burnt), CliError> {
    let path = args.log.clone().unwrap_or_default();
    let refuse = |problems: Vec<Problem>| {
        if plan.json {
            let _ = console.result(&format!(
                "{:#}",
                json!({ "ok": false, "problems": problems })
            ));
        }
        audit::refused(console, &path, &problems)
    };
    let read = audit::read_all(
        &path,
        args.beside.mapping.as_deref(),
        args.beside.feeds.as_deref(),
        &args.beside.also,
        &[],
    )?;
    let (map, reading) = read.map_err(refuse)?;
    let burnt = fit::burnt(&reading, &map, rig).map_err(refuse)?;
    if !reading.problems.is_empty() {
        console.note(&audit::shown(&reading.problems));
    }
    Ok((reading, burnt))
}

/// What is asked for, then the closures that are carried along.
fn parameters(
    console: &Console,
    args: &FitArgs,
    base: &Base,
    rig: &Rig,
) -> Result<Vec<Parameter>, CliError> {
    let takes = |name: &str| {
        let set = (format!("closures.{name}"), "1".to_owned());
        base.rig(&[set]).is_ok()
    };
    let mut params: Vec<Parameter> = Vec::new();
    let asked: Vec<&str> = args.free.iter().flat_map(|f| f.split(',')).collect();
    if asked.is_empty() {
        for name in USUAL {
            match Parameter::find_closure(name) {
                Some(prior) if takes(name) => params.push(Parameter::closure(prior, rig, true)),
                Some(_) => {}
                None => params.extend(moisture(base)),
            }
        }
    }
    for text in asked {
        let text = text.trim();
        let known = params.iter().any(|p| p.name == text || p.path == text);
        if known {
            continue;
        }
        params.push(one(console, text, base, rig)?);
    }
    if !args.hold_others {
        let named = |path: &str| params.iter().any(|p| p.path == path);
        let thickness = (!named(STICKS)).then(|| sticks(base)).flatten();
        for prior in &PRIORS {
            let asked = params
                .iter()
                .any(|p| p.path == format!("closures.{}", prior.name));
            if !asked && takes(prior.name) {
                params.push(Parameter::closure(prior, rig, false));
            }
        }
        params.extend(thickness);
    }
    Ok(params)
}

/// Thickness of the sticks, carried along: a pile is never as thick as was written.
fn sticks(base: &Base) -> Option<Parameter> {
    let (v, unit) = value_at(base, STICKS)?;
    let at = |f: f64| Decimal::significant(f * v.value(), 5);
    let (low, high) = (at(1.0 / STICKS_RATIO), at(STICKS_RATIO));
    let axis = Axis::parse(&format!("{STICKS} = {low} {unit} .. {high} {unit}")).ok()?;
    let mut p = Parameter::value(axis, v.value())?;
    p.free = false;
    Some(p)
}

fn one(console: &Console, text: &str, base: &Base, rig: &Rig) -> Result<Parameter, CliError> {
    let usage = |message: String, hint: String| CliError::Usage {
        message,
        hint: Some(hint),
    };
    let shape = "write a closure (`bank_exposure`), `moisture`, or a value with its range (`coil.length = 8 m .. 11 m`)";
    if let Some((path, _)) = text.split_once('=') {
        let axis = goal::range(console, base, text)?;
        let path = path.trim();
        let (low, high) = axis.ends().unwrap_or_default();
        let here = value_at(base, path).filter(|(_, unit)| *unit == axis.unit);
        let here = match here {
            Some((v, _)) if low < v.value() && v.value() < high => v.value(),
            Some((v, unit)) => {
                return Err(usage(
                    format!(
                        "`--free {text}`: the scenario has {v} {unit}, which is not inside the range"
                    ),
                    "write a range with the scenario's value inside; nine in ten should lie in it"
                        .into(),
                ));
            }
            None => 0.5 * (low + high),
        };
        return Parameter::value(axis, here)
            .ok_or_else(|| usage(format!("`--free {text}` is no range"), shape.into()));
    }
    if ["moisture", "fuel.moisture"].contains(&text)
        && let Some(p) = moisture(base)
    {
        return Ok(p);
    }
    if let Some(prior) = Parameter::find_closure(text) {
        let set = [(format!("closures.{}", prior.name), "1".to_owned())];
        return match base.rig(&set) {
            Ok(_) => Ok(Parameter::closure(prior, rig, true)),
            Err(d) => {
                console.message(&d.render(console.color_err));
                Err(CliError::Scenario {
                    name: format!("`--free {text}`"),
                    count: d.errors(),
                    first_code: None,
                })
            }
        };
    }
    if value_at(base, text).is_some() {
        return Err(usage(
            format!("`--free {text}`: how far may it lie from the scenario's?"),
            format!(
                "give the range that nine in ten lie in: `--free '{text} = LOW .. HIGH'` with units"
            ),
        ));
    }
    let near = PRIORS
        .iter()
        .map(|p| (strsim::jaro_winkler(text, p.name), p.name))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .filter(|n| n.0 > 0.75);
    Err(usage(
        format!("`--free {text}` is no closure and no value of the scenario"),
        match near {
            Some((_, name)) => format!("did you mean `{name}`? Else {shape}"),
            None => format!("{shape}; docs/closures.md lists the closures"),
        },
    ))
}

fn moisture(base: &Base) -> Option<Parameter> {
    let (v, unit) = value_at(base, "fuel.moisture")?;
    let by = if unit == "%" {
        MOISTURE_POINTS
    } else {
        0.01 * MOISTURE_POINTS
    };
    let low = Decimal::significant((v.value() - by).max(0.2 * v.value()), 4);
    let high = Decimal::significant(v.value() + by, 4);
    let axis = Axis::parse(&format!("fuel.moisture = {low} {unit} .. {high} {unit}")).ok()?;
    let mut p = Parameter::value(axis, v.value())?;
    p.name = "moisture".into();
    Some(p)
}

fn write(
    console: &Console,
    plan: &ScenarioPlan,
    setting: &Setting,
    report: &FitReport,
) -> Result<(), CliError> {
    let mut files = vec![(
        "fit.json".to_owned(),
        format!("{:#}\n", json!(report)).into_bytes(),
    )];
    let fitted = scenario(setting, report, &[])?;
    files.push(("fitted.toml".into(), fitted));
    files.push((
        "as-logged.toml".into(),
        scenario(setting, report, &as_logged(&setting.drive, &setting.rig))?,
    ));
    if plan.pictures {
        for (name, svg) in
            output::fit_pictures(report, plan.units).map_err(|e| CliError::Output(e.to_string()))?
        {
            files.extend(goal::picture(name, Ok(svg))?);
        }
    }
    goal::write(console, plan, files)
}

/// Scenario keys that make `burn` repeat the logged burn.
fn as_logged(drive: &Drive, rig: &Rig) -> Vec<(String, String)> {
    let mut sets = vec![
        ("stop.latest".to_owned(), format!("{:.0} s", drive.end_s)),
        (
            "stop.after_target".to_owned(),
            format!("{:.0} s", drive.end_s),
        ),
    ];
    let mut set = |path: &str, value: String| sets.push((path.to_owned(), value));
    if !drive.keep_draws {
        set("draw", "[]".into());
    }
    if let Some(feeds) = &drive.feeds {
        let each: Vec<String> = feeds
            .iter()
            .map(|f| {
                format!(
                    "{{ at = \"{:.0} s\", add = \"{:.3} kg\" }}",
                    f.at_s, f.mass_kg
                )
            })
            .collect();
        set("feeding.list", format!("[{}]", each.join(", ")));
        set("feeding.every", "[]".into());
        set("feeding.rules", "[]".into());
    }
    if let Some(kg) = drive.kindling_kg {
        set("lighting.kindling", format!("{kg:.3} kg"));
    }
    if let Some(k) = drive.start_k {
        set("store.start", format!("{:.2} degC", k - 273.15));
    }
    for (path, moves) in [
        ("controls.damper.moves", &drive.damper),
        ("controls.air_inlet.moves", &drive.air_inlet),
    ] {
        if let Some(moves) = moves {
            let each: Vec<String> = moves
                .iter()
                .map(|(t, v)| format!("{{ at = \"{t:.0} s\", to = \"{:.1} %\" }}", 100.0 * v))
                .collect();
            set(path, format!("[{}]", each.join(", ")));
        }
    }
    if let (Some(moves), Some(circuit)) = (&drive.pump, rig.circuit())
        && let Some(pump) = &circuit.pump
    {
        let each: Vec<String> = moves
            .iter()
            .map(|(t, i)| {
                let name = i
                    .and_then(|i| pump.settings.get(i))
                    .map_or("off", |s| &s.name);
                format!("{{ at = \"{t:.0} s\", to = \"{name}\" }}")
            })
            .collect();
        set("controls.pump.moves", format!("[{}]", each.join(", ")));
    }
    sets
}

/// The scenario with these values, its head telling where they come from.
fn scenario(
    setting: &Setting,
    report: &FitReport,
    more: &[(String, String)],
) -> Result<Vec<u8>, CliError> {
    let mut sets = report.sets.clone();
    let full = [&sets[..], more].concat();
    let text = goal::scenario_text(&setting.base, &full);
    let text = match text {
        Ok(text) => text,
        // A value that the scenario's own schedule does not bear is left out one by one.
        Err(first) => {
            let bearable = |s: &Vec<(String, String)>| goal::scenario_text(&setting.base, s).ok();
            let mut kept: Vec<(String, String)> = Vec::new();
            sets.extend_from_slice(more);
            for s in sets {
                kept.push(s);
                if bearable(&kept).is_none() {
                    kept.pop();
                }
            }
            bearable(&kept).ok_or(first)?
        }
    };
    let text = String::from_utf8_lossy(&text).into_owned();
    let body = text.split_once("\n\n").map_or(text.as_str(), |t| t.1);
    let mut head = format!(
        "# Fitted by `emberloop fit` (version {}) to the log {}, seed {}.\n",
        env!("CARGO_PKG_VERSION"),
        report.log,
        report.seed
    );
    if let Some(until) = report.until_s {
        head.push_str(&format!(
            "# Only the readings of the first {:.0} min were used.\n",
            until / 60.0
        ));
    }
    head.push_str(
        "# Value: before -> after (80 % interval; share of the prior's spread that is left).\n",
    );
    for v in report.values.iter().filter(|v| v.free) {
        let unit = if v.unit.is_empty() {
            String::new()
        } else {
            format!(" {}", v.unit)
        };
        head.push_str(&format!(
            "#   {}: {:.4} -> {:.4}{unit} ({:.4} to {:.4}; {:.0} %)\n",
            v.path,
            v.before,
            v.value,
            v.low,
            v.high,
            100.0 * v.prior_share
        ));
    }
    head.push_str("# Carried along within their priors, not told by the log alone:\n");
    for v in report
        .values
        .iter()
        .filter(|v| !v.free && v.deviate.abs() > 0.02)
    {
        head.push_str(&format!(
            "#   {}: {:.4} -> {:.4}\n",
            v.path, v.before, v.value
        ));
    }
    head.push_str("# Estimates, not a clearance to build or run.\n\n");
    Ok((head + body).into_bytes())
}
