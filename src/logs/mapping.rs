//! The mapping beside a log: what each column is, and what the log itself cannot know (tank, wood, prices).
//!
//! Values are texts with their unit, as in a scenario. `docs/logs.md` lists every key.

use serde::{Deserialize, Serialize};

use super::Problem;

/// A whole mapping; an empty one leaves everything to what the log shows.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct Mapping {
    /// One line for pictures and tables.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    pub read: ReadMap,
    pub time: TimeMap,
    pub channel: Vec<ChannelMap>,
    pub events: EventMap,
    pub feed: Vec<FeedLine>,
    pub draw: Vec<DrawLine>,
    pub rig: RigMap,
    pub fuel: FuelMap,
    pub account: Account,
}

/// How the text is built.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct ReadMap {
    pub encoding: Option<String>,
    pub delimiter: Option<String>,
    /// "," or "."
    pub decimal: Option<String>,
    /// Line of the column names, 0: none.
    pub header_line: Option<usize>,
    /// "wide" or "long".
    pub shape: Option<String>,
    /// Long shape: names of the columns of probe and value.
    pub probe_column: Option<String>,
    pub value_column: Option<String>,
}

/// The time axis.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct TimeMap {
    pub column: Option<String>,
    pub date_column: Option<String>,
    pub unit: Option<String>,
    pub date_order: Option<String>,
    /// Added to this file's clock.
    pub offset: Option<String>,
    /// Clock of the first row where the log counts from an unknown moment.
    pub start: Option<String>,
    /// Clock of lighting and of the end of the burn.
    pub light_up: Option<String>,
    pub end: Option<String>,
}

/// One channel.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct ChannelMap {
    /// Name of the column or, in a long log, of the probe; `#3` is the third column.
    pub column: String,
    #[serde(rename = "as", skip_serializing_if = "Option::is_none")]
    pub role: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Correction added to every reading.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub offset: Option<String>,
    /// Standard uncertainty of one reading.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<String>,
    /// Repeated readings that the uncertainty comes from: their number less one are its degrees of freedom.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub readings: Option<u32>,
}

/// Where acts stand.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct EventMap {
    /// Unit of masses written without one.
    pub feed_unit: Option<String>,
    /// Masses in remarks are loads of wood.
    pub feeds_in_notes: Option<bool>,
}

/// A load written in the mapping.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct FeedLine {
    pub at: String,
    pub mass: String,
}

/// Water drawn from the store.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct DrawLine {
    pub at: String,
    pub volume: String,
    /// Standard, as share.
    pub volume_uncertainty: Option<String>,
    /// Of the water drawn; else that of the tank's top probe or mean at the moment.
    pub temperature: Option<String>,
    /// Of the water that took its place; none: nothing did.
    pub cold: Option<String>,
}

/// The water and what heats with it.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct RigMap {
    pub volume: Option<String>,
    pub volume_uncertainty: Option<String>,
    pub metal_mass: Option<String>,
    pub metal: Option<String>,
    pub metal_heat_capacity: Option<String>,
    /// Standing loss of the store.
    pub loss: Option<String>,
    pub ambient: Option<String>,
    /// The store was stirred before the first and last reading.
    pub stirred: Option<bool>,
    /// Masonry and iron of the fire side, for the estimate of what they still hold.
    pub wall_mass: Option<String>,
    pub wall_rise: Option<String>,
    pub pump_power: Option<String>,
    /// Repeated readings behind `volume_uncertainty`.
    pub volume_readings: Option<u32>,
    /// Open water surface, for its evaporation.
    pub surface: Option<String>,
    /// Share of it that lies open under a lid; 100 %: no lid.
    pub surface_open: Option<String>,
    pub humidity: Option<String>,
    /// Over the water.
    pub wind: Option<String>,
    /// Both ways together.
    pub pipe_length: Option<String>,
    pub pipe_inside: Option<String>,
    pub pipe_loss: Option<String>,
}

/// The wood.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct FuelMap {
    pub species: Option<String>,
    pub moisture: Option<String>,
    /// "wet" or "dry".
    pub moisture_basis: Option<String>,
    pub moisture_uncertainty: Option<String>,
    /// Repeated readings behind `moisture_uncertainty`.
    pub moisture_readings: Option<u32>,
    /// Total, where no feeds were written down.
    pub mass: Option<String>,
    /// Standard uncertainty of one weighing.
    pub scale_uncertainty: Option<String>,
    /// Repeated weighings behind `scale_uncertainty`.
    pub scale_readings: Option<u32>,
    /// Gross heating value of dry wood.
    pub gross_dry: Option<String>,
    /// Net heating value as fired; stands for species and moisture.
    pub net: Option<String>,
    pub net_uncertainty: Option<String>,
    pub char_left: Option<String>,
    /// Air ratio of the flue gas, and its range "low to high".
    pub air_ratio: Option<String>,
    pub air_ratio_low: Option<String>,
    pub air_ratio_high: Option<String>,
}

/// Energy and money around the burn. All figures can be edited; defaults are named in the audit.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct Account {
    pub saw_petrol_per_cord: Option<String>,
    pub hauling_petrol_per_cord: Option<String>,
    pub electricity_source_factor: Option<f64>,
    pub gas_source_factor: Option<f64>,
    pub wood_source_factor: Option<f64>,
    pub petrol_source_factor: Option<f64>,
    pub resistance_efficiency: Option<f64>,
    pub heat_pump_performance: Option<f64>,
    pub gas_tank_efficiency: Option<f64>,
    pub gas_condensing_efficiency: Option<f64>,
    pub bath_volume: Option<String>,
    pub bath_rise: Option<String>,
    pub burns_per_year: Option<f64>,
    pub wood_price_per_cord: Option<f64>,
    pub electricity_price_per_kwh: Option<f64>,
    pub gas_price_per_kwh: Option<f64>,
    pub currency: Option<String>,
}

impl Mapping {
    /// Reads a mapping; `sets` are pairs of dotted key and value laid over it.
    ///
    /// # Errors
    /// What is wrong, with its line.
    pub fn from_toml(text: &str, sets: &[(String, String)]) -> Result<Self, Problem> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        // Straight from the text first, so that a mistake shows its line.
        let wrong = |e: toml::de::Error| {
            let line = e
                .span()
                .map(|s| text[..s.start.min(text.len())].matches('\n').count() + 1);
            let mut problem = Problem::error(
                e.message().trim(),
                "docs/logs.md lists the keys of a mapping",
            );
            problem.line = line;
            problem
        };
        let plain: Self = toml::from_str(text).map_err(wrong)?;
        if sets.is_empty() {
            return Ok(plain);
        }
        let mut table: toml::Table = toml::from_str(text).map_err(wrong)?;
        for (path, value) in sets {
            set(&mut table, path, value).map_err(|why| {
                Problem::error(
                    format!("`--set {path}={value}`: {why}"),
                    "write it as `--set 'rig.volume=200 L'`",
                )
            })?;
        }
        table.try_into().map_err(|e: toml::de::Error| {
            Problem::error(
                format!("with the values of `--set`: {}", e.message().trim()),
                "docs/logs.md lists the keys of a mapping",
            )
        })
    }

    /// The mapping of a column by its name or number.
    pub(super) fn channel(&self, name: &str, index: usize) -> Option<&ChannelMap> {
        self.channel
            .iter()
            .find(|c| is_column(&c.column, name, index))
    }
}

/// Whether a text of the mapping means this column.
pub(super) fn is_column(wanted: &str, name: &str, index: usize) -> bool {
    let plain = |t: &str| t.trim().to_lowercase();
    match wanted.trim().strip_prefix('#').map(str::parse::<usize>) {
        Some(Ok(number)) => number == index + 1,
        _ => plain(wanted) == plain(name),
    }
}

fn set(table: &mut toml::Table, path: &str, value: &str) -> Result<(), String> {
    let mut keys: Vec<&str> = path.split('.').map(str::trim).collect();
    let last = keys.pop().filter(|k| !k.is_empty()).ok_or("no key")?;
    let mut at = table;
    for key in keys {
        let entry = at
            .entry(key.to_owned())
            .or_insert_with(|| toml::Value::Table(toml::Table::new()));
        at = entry
            .as_table_mut()
            .ok_or_else(|| format!("`{key}` is no table"))?;
    }
    // Bare numbers and truth values as such, all else as text.
    let typed = match last.ends_with("factor")
        || last.ends_with("efficiency")
        || last.ends_with("performance")
        || last.contains("price")
        || last.ends_with("readings")
        || ["burns_per_year", "header_line"].contains(&last)
    {
        true => value
            .parse::<i64>()
            .ok()
            .filter(|_| last == "header_line" || last.ends_with("readings"))
            .map(toml::Value::Integer)
            .or_else(|| value.parse().ok().map(toml::Value::Float)),
        false => match value {
            "true" => Some(toml::Value::Boolean(true)),
            "false" => Some(toml::Value::Boolean(false)),
            _ => None,
        },
    };
    at.insert(
        last.to_owned(),
        typed.unwrap_or_else(|| toml::Value::String(value.to_owned())),
    );
    Ok(())
}
