//! What a column is: its role and unit, from its name, from a row of units, from its cells.

use serde::Serialize;

use crate::units::Kind;

/// What a channel measures, and where.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    Tank,
    TankTop,
    TankMiddle,
    TankBottom,
    CoilIn,
    CoilOut,
    GasBelowCoil,
    GasAboveCoil,
    Chamber,
    Flue,
    Ambient,
    FlueO2,
    FlueCo2,
    Flow,
    Feed,
    Damper,
    Pump,
    Note,
    Other,
    Ignore,
    Time,
    Date,
    Probe,
    Value,
}

const WORDS: [(Role, &str); 24] = [
    (Role::Tank, "tank"),
    (Role::TankTop, "tank_top"),
    (Role::TankMiddle, "tank_middle"),
    (Role::TankBottom, "tank_bottom"),
    (Role::CoilIn, "coil_in"),
    (Role::CoilOut, "coil_out"),
    (Role::GasBelowCoil, "gas_below_coil"),
    (Role::GasAboveCoil, "gas_above_coil"),
    (Role::Chamber, "chamber"),
    (Role::Flue, "flue"),
    (Role::Ambient, "ambient"),
    (Role::FlueO2, "flue_o2"),
    (Role::FlueCo2, "flue_co2"),
    (Role::Flow, "flow"),
    (Role::Feed, "feed"),
    (Role::Damper, "damper"),
    (Role::Pump, "pump"),
    (Role::Note, "note"),
    (Role::Other, "other"),
    (Role::Ignore, "ignore"),
    (Role::Time, "time"),
    (Role::Date, "date"),
    (Role::Probe, "probe"),
    (Role::Value, "value"),
];

/// Words that a mapping may use for `as`.
pub fn role_words() -> Vec<&'static str> {
    WORDS.iter().map(|(_, w)| *w).take(20).collect()
}

impl Role {
    pub fn word(self) -> &'static str {
        WORDS
            .iter()
            .find(|(r, _)| *r == self)
            .map_or("", |(_, w)| *w)
    }

    pub(super) fn from_word(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase().replace([' ', '-'], "_");
        WORDS.iter().find(|(_, w)| *w == word).map(|(r, _)| *r)
    }

    /// Kind of quantity; `None` for text.
    pub fn kind(self) -> Option<Kind> {
        match self {
            Self::FlueO2 | Self::FlueCo2 => Some(Kind::Fraction),
            Self::Flow => Some(Kind::VolumeFlow),
            Self::Feed => Some(Kind::Mass),
            Self::Damper | Self::Pump | Self::Note | Self::Ignore => None,
            Self::Time | Self::Date | Self::Probe | Self::Value => None,
            _ => Some(Kind::Temperature),
        }
    }

    /// Liquid water flows past the probe.
    pub fn is_water(self) -> bool {
        self.is_tank() || matches!(self, Self::CoilIn | Self::CoilOut)
    }

    pub fn is_tank(self) -> bool {
        matches!(
            self,
            Self::Tank | Self::TankTop | Self::TankMiddle | Self::TankBottom
        )
    }

    pub fn is_gas(self) -> bool {
        matches!(
            self,
            Self::GasBelowCoil | Self::GasAboveCoil | Self::Chamber | Self::Flue
        )
    }
}

/// The role that a name suggests. Common words of a few languages.
pub(super) fn role_of(name: &str) -> Option<Role> {
    let lower = name.to_lowercase();
    let words: Vec<String> = split_words(&lower);
    let is = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    let has = |part: &str| lower.contains(part);

    if is(&["o2", "oxygen"]) {
        return Some(Role::FlueO2);
    }
    if is(&["co2"]) {
        return Some(Role::FlueCo2);
    }
    if is(&[
        "note",
        "notes",
        "remark",
        "remarks",
        "comment",
        "comments",
        "event",
        "events",
        "bemerkung",
        "bemerkungen",
        "what",
        "nota",
        "notas",
        "remarque",
        "remarques",
        "commentaire",
        "observaciones",
        "osservazioni",
        "opmerking",
        "opmerkingen",
        "anmärkning",
        "anmärkningar",
        "merknad",
        "bemærkning",
        "huomautus",
        "uwagi",
        "poznámka",
    ]) {
        return Some(Role::Note);
    }
    if is(&["probe", "sensor", "channel", "kanal", "fühler", "sonde"]) && words.len() == 1 {
        return Some(Role::Probe);
    }
    if is(&["value", "reading", "wert", "valeur", "temperature", "temp"]) && words.len() == 1 {
        return Some(Role::Value);
    }
    if is(&[
        "date", "datum", "day", "fecha", "dato", "jour", "giorno", "päivä",
    ]) && !is(&["time", "zeit", "hora", "heure", "tid", "tijd"])
    {
        return Some(Role::Date);
    }
    if is(&[
        "time",
        "timestamp",
        "datetime",
        "zeit",
        "uhrzeit",
        "clock",
        "elapsed",
        "uptime",
        "millis",
        "heure",
        "epoch",
        "unix",
        "zeitstempel",
        "temps",
        "hora",
        "tiempo",
        "ora",
        "tempo",
        "tijd",
        "tid",
        "klockan",
        "aika",
        "kello",
        "czas",
        "godzina",
        "čas",
        "idő",
        "saat",
    ]) || (words.len() == 1 && is(&["min", "mins", "minutes", "s", "sec", "seconds", "ms", "t"]))
    {
        return Some(Role::Time);
    }
    if is(&[
        "feed", "fed", "wood", "fuel", "load", "holz", "bois", "added", "logs", "leña", "legna",
        "lenha", "hout", "ved", "brænde", "puu", "puut", "drewno", "dřevo",
    ]) {
        return Some(Role::Feed);
    }
    if is(&[
        "damper",
        "choke",
        "klappe",
        "inlet_air",
        "air_inlet",
        "draught",
        "draft",
    ]) {
        return Some(Role::Damper);
    }
    if is(&[
        "flow",
        "gpm",
        "lpm",
        "durchfluss",
        "débit",
        "caudal",
        "portata",
        "flöde",
        "virtaus",
    ]) {
        return Some(Role::Flow);
    }
    let coil = is(&[
        "coil",
        "loop",
        "hose",
        "hx",
        "exchanger",
        "supply",
        "return",
    ]);
    let gas = is(&["gas", "riser", "smoke", "air"]);
    if gas && coil || is(&["riser"]) {
        if is(&["below", "before", "under", "bottom", "unter", "lower"]) {
            return Some(Role::GasBelowCoil);
        }
        if is(&["above", "after", "over", "top", "über", "upper"]) {
            return Some(Role::GasAboveCoil);
        }
    }
    if is(&["below"]) && coil {
        return Some(Role::GasBelowCoil);
    }
    if is(&["above"]) && coil {
        return Some(Role::GasAboveCoil);
    }
    if is(&["pump", "pumpe", "circulator"]) && !is(&["temp", "out", "in"]) {
        return Some(Role::Pump);
    }
    if is(&[
        "flue",
        "stack",
        "chimney",
        "exhaust",
        "abgas",
        "fumée",
        "fumées",
        "fumee",
        "fumees",
        "cheminée",
        "rauchgas",
        "schornstein",
        "ofenrohr",
        "humo",
        "humos",
        "chimenea",
        "fumi",
        "fumo",
        "chaminé",
        "rookgas",
        "schoorsteen",
        "rökgas",
        "skorsten",
        "røggas",
        "røyk",
        "røykgass",
        "savukaasu",
        "hormi",
        "spaliny",
        "komin",
        "komín",
    ]) {
        return Some(Role::Flue);
    }
    if is(&["firebox", "chamber", "combustion", "fire", "brennraum"]) {
        return Some(Role::Chamber);
    }
    if is(&[
        "ambient",
        "outside",
        "outdoor",
        "air",
        "room",
        "aussen",
        "außen",
        "shed",
        "ambiente",
        "aire",
        "aria",
        "extérieur",
        "buiten",
        "utomhus",
        "ulko",
        "omgeving",
        "umgebung",
        "venku",
    ]) {
        return Some(Role::Ambient);
    }
    if coil {
        if is(&["out", "outlet", "hot", "supply", "exit", "leaving"]) || has("outlet") {
            return Some(Role::CoilOut);
        }
        if is(&["in", "inlet", "cold", "return", "entering"]) {
            return Some(Role::CoilIn);
        }
    }
    if is(&["outlet"]) {
        return Some(Role::CoilOut);
    }
    if is(&[
        "tank",
        "tub",
        "store",
        "barrel",
        "water",
        "drum",
        "bath",
        "speicher",
        "cuve",
        "cylinder",
        "bottom",
        "top",
        "pool",
        "oben",
        "unten",
        "mitte",
        "haut",
        "bas",
        "ballon",
        "baignoire",
        "tonneau",
        "kessel",
        "puffer",
        "depósito",
        "deposito",
        "tanque",
        "acumulador",
        "bañera",
        "agua",
        "serbatoio",
        "vasca",
        "acqua",
        "vat",
        "buffervat",
        "boiler",
        "ketel",
        "beholder",
        "akkumulator",
        "tunna",
        "varaaja",
        "säiliö",
        "palju",
        "zbiornik",
        "bufor",
        "woda",
        "nádrž",
        "nadrz",
        "voda",
        "vatten",
        "vand",
        "vann",
        "vesi",
        "água",
        "eau",
    ]) || ["speicher", "wasser", "tank", "kessel"]
        .iter()
        .any(|p| has(p))
    {
        if is(&[
            "top", "upper", "oben", "haut", "surface", "high", "arriba", "superior", "alto",
            "sopra", "boven", "topp", "øverst", "ylä", "góra", "horní", "acima", "uppe",
        ]) {
            return Some(Role::TankTop);
        }
        if is(&[
            "bottom", "lower", "unten", "bas", "low", "abajo", "inferior", "basso", "sotto",
            "onder", "botten", "nederst", "ala", "dół", "dolní", "abaixo", "nere",
        ]) {
            return Some(Role::TankBottom);
        }
        if is(&[
            "middle", "mid", "mitte", "centre", "center", "milieu", "medio", "mezzo", "midden",
            "mitten", "keski", "środek", "střed", "midt",
        ]) {
            return Some(Role::TankMiddle);
        }
        return Some(Role::Tank);
    }
    None
}

/// Words and camel-case parts of a lower- or mixed-case name.
fn split_words(lower: &str) -> Vec<String> {
    lower
        .split(|c: char| !c.is_alphanumeric())
        .flat_map(|w| {
            // "ttop", "tbot": a leading t as in T_top
            let short = w.strip_prefix('t').filter(|r| {
                [
                    "top", "bot", "bottom", "mid", "flue", "tank", "amb", "in", "out",
                ]
                .contains(r)
            });
            let long = match short.unwrap_or(w) {
                "bot" => "bottom",
                "amb" => "ambient",
                other => other,
            };
            [long.to_owned()]
        })
        .filter(|w| !w.is_empty())
        .collect()
}

/// The unit that stands in a name: "Tank Top (F)", "T1 [°C]", "flue_degF", "feed / kg", "temp C".
pub(super) fn unit_in(name: &str) -> Option<String> {
    for (open, close) in [('(', ')'), ('[', ']'), ('{', '}')] {
        if let (Some(a), Some(b)) = (name.rfind(open), name.rfind(close))
            && a < b
        {
            return unit_word(&name[a + open.len_utf8()..b]);
        }
    }
    let tail = name
        .rsplit(|c: char| c.is_whitespace() || "_/,".contains(c))
        .next()?;
    if tail.len() == name.len() {
        return None;
    }
    unit_word(tail)
}

/// A unit as a word of its own, in the spelling of `units`; `None` where it is none.
pub(super) fn unit_word(text: &str) -> Option<String> {
    let bare: String = text
        .trim()
        .chars()
        .filter(|c| !"°º˚\u{fffd}?¡".contains(*c))
        .collect();
    let bare = bare.trim().trim_end_matches('.');
    let lower = bare.to_lowercase();
    let found = match lower.as_str() {
        "c" | "degc" | "deg c" | "celsius" | "degrees c" | "cel" => "degC",
        "f" | "degf" | "deg f" | "fahrenheit" | "degrees f" => "degF",
        "k" | "kelvin" => "K",
        "%" | "percent" | "vol%" | "vol.%" | "vol-%" | "vol %" => "%",
        _ => {
            let known = |kind| crate::units::parse(kind, &format!("1 {bare}")).is_ok();
            let kinds = [Kind::Mass, Kind::VolumeFlow, Kind::Power, Kind::Time];
            return (!bare.is_empty() && kinds.into_iter().any(known)).then(|| bare.to_owned());
        }
    };
    Some(found.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_names_tell_role_and_unit() {
        for (name, role, unit) in [
            ("Tank Top (F)", Some(Role::TankTop), Some("degF")),
            ("Speicher unten [°C]", Some(Role::TankBottom), Some("degC")),
            ("tub_bottom_C", Some(Role::TankBottom), Some("degC")),
            ("Flue Temp (\u{fffd}C)", Some(Role::Flue), Some("degC")),
            ("gas below coil", Some(Role::GasBelowCoil), None),
            ("above coil", Some(Role::GasAboveCoil), None),
            ("coil out, degF", Some(Role::CoilOut), Some("degF")),
            ("O2 (%)", Some(Role::FlueO2), Some("%")),
            ("wood (lb)", Some(Role::Feed), Some("lb")),
            ("Notes", Some(Role::Note), None),
            ("flow gpm", Some(Role::Flow), Some("gpm")),
            ("Ambient", Some(Role::Ambient), None),
            ("Elapsed (min)", Some(Role::Time), Some("min")),
            ("T1", None, None),
            ("sensor", Some(Role::Probe), None),
        ] {
            assert_eq!(role_of(name), role, "{name}");
            assert_eq!(unit_in(name).as_deref(), unit, "{name}");
        }
    }
}
