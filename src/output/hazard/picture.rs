//! Timeline of one fault: temperatures against the boiling point, and steam (or the trapped pressure), with the limits
//! marked where they are met.

use crate::output::axis::Axis;
use crate::output::error::OutputError;
use crate::output::figure::{Curve, Figure, Moment, Panel, Row};
use crate::output::show::{clock, shown, unit};
use crate::output::style::{
    BLUE, BROWN, DASH_DOT, INK, LONG, Look, Marker, ORANGE, PLUM, RED, SOLID, TEAL,
};
use crate::results::{FaultReport, HazardReport};
use crate::units::{PlotKind as Kind, UnitSystem};

/// The picture shows this long after the fault where all limits are met by then, s.
const SHORT_S: f64 = 1200.0;
/// Most moments marked.
const MOST_MARKS: usize = 4;

/// Draws the timeline of a fault that ran.
///
/// # Errors
/// [`OutputError::Drawing`] when the back end refuses.
pub fn hazard_svg(
    report: &HazardReport,
    fault: &FaultReport,
    units: UnitSystem,
) -> Result<String, OutputError> {
    let series = &fault.series;
    let times = series.get("time_s").unwrap_or(&[]);
    let last = times.last().copied().unwrap_or(0.0);
    let bad: Vec<_> = fault.limits.iter().filter(|l| l.severity >= 2).collect();
    let end = match bad.last() {
        Some(l) if l.after_s < 0.7 * SHORT_S => last.min(SHORT_S),
        _ => last,
    };
    let n = times.partition_point(|&t| t <= end);
    let curve = |name: &str, label: &str, kind: Kind, factor: f64, look: Look| {
        let ys: Vec<f64> = series.get(name)?[..n]
            .iter()
            .map(|&v| shown(kind, v, units) * factor)
            .collect();
        ys.iter().any(|v| v.is_finite()).then(|| Curve {
            label: label.into(),
            xs: times[..n].to_vec(),
            ys,
            look,
        })
    };
    let t = Kind::Temperature;
    let mut temperatures = Vec::new();
    let dry = fault.key == "dry_coil";
    if fault.pressure_rate_Pa_K.is_none() && !dry {
        temperatures.extend(curve(
            "boiling_point_K",
            "local boiling point",
            t,
            1.0,
            Look::new(INK, LONG, Marker::None),
        ));
    }
    for (name, label, look) in [
        (
            "coil_wall_max_temperature_K",
            "coil wall, hottest",
            Look::new(BROWN, DASH_DOT, Marker::Diamond),
        ),
        (
            "coil_outlet_temperature_K",
            "coil outlet",
            Look::new(RED, SOLID, Marker::Circle),
        ),
        (
            "tank_top_temperature_K",
            "store's top",
            Look::new(TEAL, LONG, Marker::HollowTriangle).thin(),
        ),
        (
            "outside_surface_max_temperature_K",
            "hottest outside of stove and flue",
            Look::new(ORANGE, SOLID, Marker::None).thin(),
        ),
    ] {
        let wall_of_nothing = name.starts_with("outside") && !temperatures.is_empty();
        if !(wall_of_nothing || dry && name == "coil_outlet_temperature_K") {
            temperatures.extend(curve(name, label, t, 1.0, look));
        }
    }
    let mut rows = Vec::new();
    let mut first = panel(
        temperatures,
        format!("Temperature, {}", unit(t, units)),
        560.0,
    );
    let mut marked: Vec<_> = bad.iter().filter(|l| l.after_s <= end).collect();
    marked.truncate(MOST_MARKS);
    first.moments = marked
        .iter()
        .map(|l| Moment {
            x: l.after_s,
            label: format!("{} {}", short(&l.key), after(l.after_s)),
            color: if l.severity >= 4 { PLUM } else { RED },
        })
        .collect();
    rows.push(Row::from(first));
    let pressure = curve(
        "trapped_pressure_Pa",
        "",
        Kind::WaterPressure,
        1.0,
        Look::new(PLUM, SOLID, Marker::None),
    );
    let steam = series.get("steam_kg_s").map(|v| Curve {
        label: String::new(),
        xs: times[..n].to_vec(),
        ys: v[..n].iter().map(|k| 3600.0 * k).collect(),
        look: Look::new(BLUE, SOLID, Marker::None),
    });
    match pressure {
        Some(mut p) => {
            let pa = series.get("trapped_pressure_Pa").unwrap_or(&[]);
            p.ys = pa[..n].iter().map(|v| v * 1e-5).collect();
            rows.push(Row::from(panel(
                vec![p],
                "Pressure in the coil, bar over the air's".into(),
                320.0,
            )));
        }
        None => rows.extend(steam.filter(|c| c.ys.iter().any(|v| *v > 0.0)).map(|c| {
            Row::from(panel(
                vec![c],
                "Steam, kg/h (after the first qualitative)".into(),
                300.0,
            ))
        })),
    }
    Figure {
        name: "hazard",
        title: report.title.clone(),
        subtitle: match fault.worst_at_s {
            Some(s) => format!("{}, {} after lighting", fault.name, clock(s)),
            None => fault.name.clone(),
        },
        x: Axis::time(end, 9),
        x_title: "Time since the fault, h:min".into(),
        rows,
        note: format!("{}.", fault.how),
    }
    .svg()
}

/// "after 43 s", "after 12 min".
pub fn after(s: f64) -> String {
    match s {
        s if s < 1.0 => "at once".into(),
        s if s < 120.0 => format!("after {s:.0} s"),
        s if s < 7200.0 => format!("after {:.0} min", s / 60.0),
        s => format!("after {:.1} h", s / 3600.0),
    }
}

fn short(key: &str) -> &'static str {
    match key {
        "boiling" => "boils",
        "solder" => "solder melts",
        "coil_wall" => "coil over its limit",
        "coil_weak" => "coil weak",
        "wall" => "wall over its limit",
        "spill" => "smoke spills",
        "over_pressure" => "over rated pressure",
        "burst" => "bursts",
        "freezing" => "below 0 °C",
        "store_boils" => "store boils",
        "relief" => "relief lifts",
        "relief_small" => "relief too small",
        "tub" => "tub too hot",
        _ => "limit",
    }
}

fn panel(curves: Vec<Curve>, title: String, height: f64) -> Panel {
    let (mut lo, mut hi) = (f64::INFINITY, f64::NEG_INFINITY);
    for v in curves.iter().flat_map(|c| &c.ys).filter(|v| v.is_finite()) {
        lo = lo.min(*v);
        hi = hi.max(*v);
    }
    let mut p = Panel::new(Axis::covering(lo, hi, 5), title, height);
    p.curves = curves;
    p
}
