//! Figures as a person names and reads them: short names, words, the kind of quantity, which way is better.

use crate::output::error::OutputError;
use crate::output::show;
use crate::results::figures::{FIGURES, unit};
use crate::units::{PlotKind, UnitSystem};

/// Short names on the command line.
const SHORT: [(&str, &str); 7] = [
    ("time", "time_to_target_s"),
    ("wood", "fuel_fed_kg"),
    ("trips", "trips"),
    ("margin", "boiling_margin_min_K"),
    ("flow", "loop_flow_mean_kg_s"),
    ("outlet", "coil_outlet_max_K"),
    ("efficiency", "efficiency_net"),
];

/// Words for the figures that come up most; others are their key.
const WORDS: [(&str, &str); 12] = [
    ("time_to_target_s", "Time to target"),
    ("fuel_fed_kg", "Wood fed"),
    ("fuel_burnt_kg", "Wood burnt"),
    ("trips", "Trips to the stove"),
    ("boiling_margin_min_K", "Least margin to boiling"),
    ("loop_flow_mean_kg_s", "Mean flow of the loop"),
    ("coil_outlet_max_K", "Hottest water leaving the coil"),
    ("coil_wall_max_K", "Hottest coil wall"),
    ("efficiency_net", "Efficiency, net"),
    ("stack_temperature_mean_K", "Stack temperature, mean"),
    ("mean_heat_to_tank_W", "Heat into the store, mean"),
    ("steam_total_kg", "Steam made"),
];

/// A figure that was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked {
    /// Place among all figures.
    pub index: usize,
    pub key: &'static str,
    /// More is better.
    pub more: bool,
}

/// A figure by short name or key, with `max:` or `min:` where its usual direction is not meant.
///
/// # Errors
/// [`OutputError::NoSuchFigure`] with the nearest name.
pub fn asked(text: &str) -> Result<Asked, OutputError> {
    let text = text.trim();
    let (name, forced) = match (text.strip_prefix("max:"), text.strip_prefix("min:")) {
        (Some(name), _) => (name, Some(true)),
        (_, Some(name)) => (name, Some(false)),
        _ => (text, None),
    };
    let key = SHORT
        .iter()
        .find(|(short, _)| *short == name)
        .map_or(name, |(_, key)| key);
    let Some(index) = FIGURES.iter().position(|f| f.key == key) else {
        let names = SHORT
            .iter()
            .map(|s| s.0)
            .chain(FIGURES.iter().map(|f| f.key));
        let near = names
            .min_by_key(|n| strsim::damerau_levenshtein(n, name))
            .unwrap_or("time");
        return Err(OutputError::NoSuchFigure {
            name: name.to_owned(),
            near: near.to_owned(),
        });
    };
    let key = FIGURES[index].key;
    let more = [
        "boiling_margin",
        "efficiency",
        "heat_to",
        "mean_heat",
        "target_reached",
        "loop_flow",
        "storage",
    ];
    Ok(Asked {
        index,
        key,
        more: forced.unwrap_or(more.iter().any(|m| key.starts_with(m))),
    })
}

/// What it is called.
pub fn words(key: &str) -> String {
    match WORDS.iter().find(|w| w.0 == key) {
        Some((_, words)) => (*words).to_owned(),
        None => key.to_owned(),
    }
}

/// In which unit it is shown.
pub fn kind(key: &str) -> PlotKind {
    match (unit(key), key) {
        ("s", _) => PlotKind::Minutes,
        ("kg", _) => PlotKind::Mass,
        ("kg/s", _) => PlotKind::WaterFlow,
        ("K", "boiling_margin_min_K" | "overshoot_K") => PlotKind::TemperatureDifference,
        ("K", _) => PlotKind::Temperature,
        ("W", _) => PlotKind::Power,
        ("J", _) => PlotKind::Energy,
        ("Pa", "pressure_peak_Pa") => PlotKind::WaterPressure,
        ("Pa", _) => PlotKind::Draught,
        (_, key) if key.contains("_fraction") || key.starts_with("efficiency") => {
            PlotKind::Fraction
        }
        _ => PlotKind::Number,
    }
}

/// A value with its unit; a dash where there is none.
pub fn value(key: &str, v: Option<f64>, units: UnitSystem) -> String {
    match v {
        None => "-".into(),
        Some(v) if kind(key) == PlotKind::Number && v.fract() == 0.0 => format!("{v:.0}"),
        Some(v) => show::text(kind(key), v, units),
    }
}
