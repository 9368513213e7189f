//! Columns of what an account has no use for: volts of a battery, pressure, humidity, a radio's signal.

/// Units of quantities that are no temperature, share of gas, flow or weight, in lower case without degree signs.
const UNITS: [&str; 44] = [
    "v", "mv", "volt", "volts", "a", "ma", "amp", "amps", "ah", "mah", "w", "kw", "wh", "kwh",
    "pa", "kpa", "hpa", "mbar", "bar", "psi", "inhg", "inh2o", "inwc", "mmh2o", "mmhg", "%rh",
    "rh%", "%r.h.", "rh", "% rh", "ppm", "rpm", "hz", "dbm", "db", "lux", "lx", "ohm", "kohm",
    "m/s", "mph", "cm", "mm", "µs/cm",
];

/// Words for such quantities where no unit stands in the name.
const WORDS: [&str; 24] = [
    "battery",
    "batt",
    "vbat",
    "vbatt",
    "vcc",
    "akku",
    "batterie",
    "batería",
    "voltage",
    "volts",
    "spannung",
    "tension",
    "current",
    "rssi",
    "signal",
    "humidity",
    "feuchte",
    "luftfeuchte",
    "humedad",
    "pressure",
    "luftdruck",
    "barometer",
    "dewpoint",
    "snr",
];

/// Words that say a temperature is meant all the same ("battery temp").
const BUT: [&str; 6] = [
    "temp",
    "temperature",
    "temperatur",
    "degc",
    "degf",
    "celsius",
];

/// Whether a unit as written is of no use to an account.
pub(super) fn is_foreign(unit: &str) -> bool {
    let lower = unit.trim().to_lowercase();
    UNITS.contains(&lower.as_str())
}

/// What makes a column one of no use: its unit, or what stands in its name.
pub(super) fn foreign(name: Option<&str>, unit: Option<&str>) -> Option<String> {
    unit.filter(|u| is_foreign(u))
        .map(str::to_owned)
        .or_else(|| foreign_in(name?))
}

/// The foreign unit, or the word for such a quantity, that stands in a name.
fn foreign_in(name: &str) -> Option<String> {
    for (open, close) in [('(', ')'), ('[', ']'), ('{', '}')] {
        if let (Some(a), Some(b)) = (name.rfind(open), name.rfind(close))
            && a < b
        {
            let inner = name[a + open.len_utf8()..b].trim();
            return is_foreign(inner).then(|| inner.to_owned());
        }
    }
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric() && c != '%' && c != '/')
        .filter(|w| !w.is_empty())
        .collect();
    let telling = words.iter().any(|w| WORDS.contains(w));
    if words.iter().any(|w| BUT.contains(w)) {
        return None;
    }
    let tail = name
        .rsplit(|c: char| c.is_whitespace() || "_,".contains(c))
        .next()
        .unwrap_or_default();
    // "sensor A" is a sensor; "battery A" are amperes.
    let unit = tail.len() < name.len() && is_foreign(tail) && (telling || tail.chars().count() > 1);
    match (unit, telling) {
        (true, _) => Some(tail.to_owned()),
        (false, true) => words
            .iter()
            .find(|w| WORDS.contains(w))
            .map(|w| (*w).to_owned()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_units_of_no_use_are_seen_and_temperatures_left() {
        for (name, wanted) in [
            ("battery V", Some("V")),
            ("Batt (V)", Some("V")),
            ("flue draught [Pa]", Some("Pa")),
            ("humidity %RH", Some("%RH")),
            ("baro hPa", Some("hPa")),
            ("rssi", Some("rssi")),
            ("sensor A", None),
            ("T_A", None),
            ("battery temp", None),
            ("tank (F)", None),
            ("tank top", None),
            ("Flue", None),
        ] {
            assert_eq!(foreign_in(name).as_deref(), wanted, "{name}");
        }
    }
}
