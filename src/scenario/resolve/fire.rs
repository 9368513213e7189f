//! Fuel, lighting, feeding, firebox.

use super::gas::{wall, wall_of};
use super::{Cx, si, text, word};
use crate::components::spec::{
    FeedEvent, FeedEvery, FeedRule, FeedWhen, Feeding, Firebox, FireboxKind, Fuel, Lighting, Stick,
    StickShape, Until,
};
use crate::properties::wood;
use crate::scenario::codes;
use crate::scenario::raw::types::{At, Length, Q, UntilWords, WordOr, WordOrSi};
use crate::scenario::raw::{
    Basis, HeatBasis, RawEvery, RawFeedRule, RawFirebox, RawFireboxKind, RawFuel, RawMouth,
    RawScenario, Shape,
};
use crate::units::{UnitSystem, format_fraction, format_heating_value, format_time, significant};

/// Of a door that is not described.
const PLAIN_DOOR_M: f64 = 4e-3;

/// Moisture on the wet basis.
fn wet(moisture: f64, basis: Basis) -> f64 {
    match basis {
        Basis::Wet => moisture,
        Basis::Dry => wood::wet_from_dry_basis(moisture),
    }
}

/// The wood.
pub(super) fn fuel(raw: &RawScenario, cx: &mut Cx<'_>) -> Option<Fuel> {
    let section = raw.fuel.as_ref()?;
    let f = &section.value;
    let species = match (&f.species, text(&f.species)) {
        (Some(given), Some(name)) => {
            let found = wood::by_name(name);
            if found.is_none() {
                cx.unknown_name(
                    &codes::NO_SUCH_SPECIES,
                    &given.span,
                    "wood",
                    name,
                    &wood::names(),
                );
            }
            found
        }
        _ => None,
    };
    if f.species.is_some() {
        cx.no_effect(&f.name, "fuel.name", "the species names the wood");
    }
    let own = f.species.is_none();
    let composition = composition(f, species, own, &section.span, cx);
    let mut figure =
        |given: Option<f64>, is_given: bool, key: &str, table: Option<f64>, show: String| match (
            is_given, table,
        ) {
            (true, _) => given,
            (false, Some(v)) => {
                cx.echo(format!("fuel.{key}"), show, "of the species table");
                Some(v)
            }
            (false, None) => {
                if own {
                    cx.missing(
                        &section.span,
                        format!("[fuel] without a species needs the key \"{key}\""),
                    );
                }
                None
            }
        };
    let show = |v: Option<f64>| v.map_or_else(String::new, format_fraction);
    let ash_dry = figure(
        si(&f.ash),
        f.ash.is_some(),
        "ash",
        species.map(|w| w.ash_dry),
        species.map_or_else(String::new, |w| {
            format!("{} %", significant(w.ash_dry * 100.0, 2))
        }),
    );
    let density_kg_m3 = figure(
        si(&f.density),
        f.density.is_some(),
        "density",
        species.map(|w| w.density_kg_m3),
        species.map_or_else(String::new, |w| format!("{} kg/m3", w.density_kg_m3)),
    );
    let char_yield_dry = figure(
        si(&f.char_yield),
        f.char_yield.is_some(),
        "char_yield",
        species.map(|w| w.char_yield_dry),
        show(species.map(|w| w.char_yield_dry)),
    );
    let gross = composition
        .zip(ash_dry)
        .and_then(|(c, ash)| gross_heating_value_j_kg(f, c, ash, cx));
    let basis = word(&f.moisture_basis);
    let moisture_wet = si(&f.moisture).zip(basis).map(|(m, b)| wet(m, b));
    if let (Some(m), Some(given)) = (moisture_wet, &f.moisture)
        && m > 0.6
    {
        let report = cx
            .at(
                &codes::OUT_OF_RANGE,
                &given.span,
                format!(
                    "fuel.moisture: {} on the wet basis is too large",
                    format_fraction(m)
                ),
            )
            .label("wetter than fresh wood")
            .help("allowed: up to 60 % on the wet basis (150 % on the dry basis)");
        cx.report(report);
    }
    let stick = stick(f, cx);
    let name = match (species, text(&f.name)) {
        (Some(w), _) => w.name.to_owned(),
        (None, Some(n)) => n.to_owned(),
        (None, None) => {
            if own {
                cx.missing(
                    &section.span,
                    "[fuel] needs a species, or a name with own figures",
                );
            }
            return None;
        }
    };
    let c = composition?;
    Some(Fuel {
        name,
        carbon_daf: c[0],
        hydrogen_daf: c[1],
        oxygen_daf: c[2],
        nitrogen_daf: c[3],
        ash_dry: ash_dry?,
        density_kg_m3: density_kg_m3?,
        gross_heating_value_dry_j_kg: gross?,
        moisture_wet: moisture_wet?,
        char_yield_dry: char_yield_dry?,
        stick: stick?,
    })
}

/// C, H, O, N of the dry, ash-free wood, sum 1.
fn composition(
    f: &RawFuel,
    species: Option<&wood::Wood>,
    own: bool,
    section: &std::ops::Range<usize>,
    cx: &mut Cx<'_>,
) -> Option<[f64; 4]> {
    let given = [&f.carbon, &f.hydrogen, &f.oxygen, &f.nitrogen];
    let names = ["carbon", "hydrogen", "oxygen", "nitrogen"];
    let count = given.iter().filter(|g| g.is_some()).count();
    if count == 0 {
        if own {
            cx.missing(
                section,
                "[fuel] without a species needs \"carbon\", \"hydrogen\", \"oxygen\" and \"nitrogen\"",
            );
        }
        return species.map(|w| [w.carbon_daf, w.hydrogen_daf, w.oxygen_daf, w.nitrogen_daf]);
    }
    if count < 4 {
        let lack: Vec<&str> = given
            .iter()
            .zip(names)
            .filter(|(g, _)| g.is_none())
            .map(|(_, n)| n)
            .collect();
        cx.missing(
            section,
            format!(
                "[fuel]: a composition takes all four shares; missing: {}",
                lack.join(", ")
            ),
        );
        return None;
    }
    let shares: Vec<f64> = given.iter().filter_map(|g| si(g)).collect();
    let [c, h, o, n] = shares.as_slice() else {
        return None;
    };
    let sum = c + h + o + n;
    if (sum - 1.0).abs() > 0.01
        && let Some(first) = &f.carbon
    {
        let report = cx
            .at(
                &codes::SHARES,
                &first.span,
                format!(
                    "fuel: carbon, hydrogen, oxygen and nitrogen add up to {} %, not 100 %",
                    significant(sum * 100.0, 4)
                ),
            )
            .label("first of the four shares");
        cx.report(report);
        return None;
    }
    Some([c / sum, h / sum, o / sum, n / sum])
}

/// Gross heating value of the dry wood.
fn gross_heating_value_j_kg(f: &RawFuel, daf: [f64; 4], ash: f64, cx: &mut Cx<'_>) -> Option<f64> {
    let [c, h, o, n] = daf.map(|x| x * (1.0 - ash));
    let Some(given) = &f.heating_value else {
        cx.no_effect(
            &f.heating_value_basis,
            "fuel.heating_value_basis",
            "no heating_value is given",
        );
        let gross = wood::gross_heating_value_dry_j_kg(c, h, o, n, 0.0, ash);
        cx.echo(
            "fuel.heating_value",
            format!(
                "{} gross, dry",
                format_heating_value(gross, UnitSystem::Metric)
            ),
            "from the composition (Channiwala and Parikh 2002)",
        );
        return Some(gross);
    };
    let Some(basis) = &f.heating_value_basis else {
        let report = cx
            .at(
                &codes::MISSING_KEY,
                &given.span,
                "fuel.heating_value needs \"heating_value_basis\": \"net\" or \"gross\"",
            )
            .label("net or gross?");
        cx.report(report);
        return None;
    };
    let value = given.value.si()?;
    Some(match basis.value.read? {
        HeatBasis::Gross => value,
        HeatBasis::Net => value + wood::MOISTURE_LATENT_J_KG * wood::WATER_PER_HYDROGEN * h,
    })
}

fn stick(f: &RawFuel, cx: &mut Cx<'_>) -> Option<Stick> {
    let s = &f.stick.as_ref()?.value;
    let shape = cx.word_or(&s.shape, "fuel.stick.shape", "fuel.stick.shape");
    Some(Stick {
        shape: match shape? {
            Shape::Round => StickShape::Round,
            Shape::Square => StickShape::Square,
        },
        thickness_m: si(&s.thickness)?,
        length_m: si(&s.length)?,
    })
}

/// How the fire is lit.
pub(super) fn lighting(raw: &RawScenario, cx: &mut Cx<'_>) -> Option<Lighting> {
    let l = &raw.lighting.as_ref()?.value;
    let basis = raw
        .fuel
        .as_ref()
        .and_then(|f| word(&f.value.moisture_basis));
    let thickness = cx.or(&l.thickness, "lighting.thickness", "lighting.thickness");
    let moisture = match &l.moisture {
        Some(q) => q.value.si().zip(basis).map(|(m, b)| wet(m, b)),
        None => {
            cx.default_text("lighting.moisture", "lighting.moisture");
            Some(0.12)
        }
    };
    let starter = cx.or(&l.starter, "lighting.starter", "lighting.starter");
    let burns = cx.or(
        &l.starter_burns,
        "lighting.starter_burns",
        "lighting.starter_burns",
    );
    Some(Lighting {
        kindling_kg: si(&l.kindling)?,
        kindling_thickness_m: thickness?,
        kindling_moisture_wet: moisture?,
        starter_j: starter?,
        starter_s: burns?,
    })
}

/// What is put on the fire, and when.
pub(super) fn feeding(raw: &RawScenario, cx: &mut Cx<'_>) -> Option<Feeding> {
    let door = raw
        .firebox
        .as_ref()
        .and_then(|f| word(&f.value.kind))
        .map(|k| k != RawFireboxKind::FeedTube);
    let Some(section) = &raw.feeding else {
        return Some(Feeding::default());
    };
    let f = &section.value;
    let mut complete = true;
    let mut list = Vec::new();
    let mut last_s = f64::NEG_INFINITY;
    for x in f.list.iter().flat_map(|l| &l.value.0) {
        let (Some(at_s), Some(mass_kg)) = (si(&x.value.at), si(&x.value.add)) else {
            complete = false;
            continue;
        };
        if at_s < last_s {
            let report = cx
                .at(
                    &codes::TIME_ORDER,
                    &x.span,
                    "feeding.list: each feed must not be earlier than the one before",
                )
                .label("earlier");
            cx.report(report);
        }
        last_s = at_s;
        list.push(FeedEvent {
            at_s,
            mass_kg,
            thickness_m: si(&x.value.thickness),
        });
    }
    let mut every = Vec::new();
    for (i, x) in f.every.iter().flat_map(|l| &l.value.0).enumerate() {
        match self::every(i, &x.value, cx) {
            Some(e) => every.push(e),
            None => complete = false,
        }
    }
    let mut rules = Vec::new();
    for (i, x) in f.rules.iter().flat_map(|l| &l.value.0).enumerate() {
        match rule(i, x, cx) {
            Some(r) => rules.push(r),
            None => complete = false,
        }
    }
    let door_open_s = if door == Some(false) {
        cx.no_effect(&f.door_open, "feeding.door_open", "a feed tube has no door");
        Some(0.0)
    } else if list.is_empty() && every.is_empty() && rules.is_empty() && complete {
        cx.no_effect(&f.door_open, "feeding.door_open", "nothing is fed");
        Some(0.0)
    } else {
        cx.or(&f.door_open, "feeding.door_open", "feeding.door_open")
    };
    complete.then_some(())?;
    Some(Feeding {
        list,
        every,
        rules,
        door_open_s: door_open_s?,
    })
}

fn until(
    given: &Option<At<WordOr<UntilWords>>>,
    path: String,
    key: &str,
    cx: &mut Cx<'_>,
) -> Option<Until> {
    let read = match given {
        Some(u) => u.value.read()?,
        None => {
            cx.default_text(&path, key);
            WordOrSi::Word("end")
        }
    };
    Some(match read {
        WordOrSi::Word("target") => Until::Target,
        WordOrSi::Word(_) => Until::End,
        WordOrSi::Si(s) => Until::Time(s),
    })
}

fn every(i: usize, e: &RawEvery, cx: &mut Cx<'_>) -> Option<FeedEvery> {
    let interval_s = si(&e.interval);
    let from_s = match &e.from {
        Some(q) => q.value.si(),
        None => {
            if let Some(t) = interval_s {
                cx.echo(
                    format!("feeding.every[{i}].from"),
                    format_time(t),
                    "the first feed comes one interval after lighting",
                );
            }
            interval_s
        }
    };
    let until = until(
        &e.until,
        format!("feeding.every[{i}].until"),
        "feeding.every.until",
        cx,
    );
    Some(FeedEvery {
        from_s: from_s?,
        interval_s: interval_s?,
        until: until?,
        mass_kg: si(&e.add)?,
    })
}

fn rule(i: usize, r: &At<RawFeedRule>, cx: &mut Cx<'_>) -> Option<FeedRule> {
    let path = format!("feeding.rules[{i}]");
    let when = match (&r.value.bed_below, &r.value.chamber_below) {
        (Some(b), Some(c)) => {
            cx.conflict(
                (&b.span, "bed_below"),
                (&c.span, "chamber_below"),
                "a rule looks at one thing; write two rules",
            );
            None
        }
        (Some(b), None) => b.value.si().map(FeedWhen::BedBelow),
        (None, Some(c)) => c.value.si().map(FeedWhen::ChamberBelow),
        (None, None) => {
            cx.missing(
                &r.span,
                format!("{path} needs \"bed_below\" or \"chamber_below\""),
            );
            None
        }
    };
    let from = cx.or(&r.value.from, &format!("{path}.from"), "feeding.rules.from");
    let until = until(
        &r.value.until,
        format!("{path}.until"),
        "feeding.rules.until",
        cx,
    );
    Some(FeedRule {
        when: when?,
        mass_kg: si(&r.value.add)?,
        not_within_s: si(&r.value.not_within)?,
        from_s: from?,
        until: until?,
    })
}

/// Where the wood burns.
pub(super) fn firebox(raw: &RawScenario, cx: &mut Cx<'_>) -> Option<Firebox> {
    let section = raw.firebox.as_ref()?;
    let f = &section.value;
    let kind = word(&f.kind);
    let tube = kind == Some(RawFireboxKind::FeedTube);
    let door = kind.is_some_and(|k| k != RawFireboxKind::FeedTube);
    let mouth = f
        .mouth
        .as_ref()
        .and_then(|m| mouth_area_m2(m, door, tube, cx));
    let air_inlet = cx.or(&f.air_inlet, "firebox.air_inlet", "firebox.air_inlet");
    let over = if tube && air_inlet == Some(0.0) {
        cx.no_effect(
            &f.air_over,
            "firebox.air_over",
            "all air comes in by the mouth; give air_inlet",
        );
        Some(0.0)
    } else {
        cx.or(&f.air_over, "firebox.air_over", "firebox.air_over")
    };
    let inlet_loss = cx.or(&f.inlet_loss, "firebox.inlet_loss", "firebox.inlet_loss");
    let hearth = cx.or(&f.hearth_mass, "firebox.hearth_mass", "firebox.hearth_mass");
    let stick = raw
        .fuel
        .as_ref()
        .and_then(|f| f.value.stick.as_ref())
        .and_then(|s| s.value.length.as_ref());
    let stick_m = stick.and_then(|s| s.value.si());
    let cover = if door {
        cx.no_effect(
            &f.mouth_cover,
            "firebox.mouth_cover",
            "a door is shut between feeds; only a feed tube has a mouth to cover",
        );
        cx.no_effect(
            &f.burning_length,
            "firebox.burning_length",
            "logs behind a door burn over their whole length",
        );
        if air_inlet == Some(0.0) {
            let span = f.air_inlet.as_ref().map_or(&section.span, |a| &a.span);
            let report = cx
                .at(
                    &codes::NO_AIR,
                    span,
                    "a door firebox needs an air_inlet larger than zero",
                )
                .label("no air comes in here");
            cx.report(report);
        }
        Some(0.0)
    } else {
        cx.or(&f.mouth_cover, "firebox.mouth_cover", "firebox.mouth_cover")
    };
    let burning_m = if tube {
        if f.burning_length.is_none() {
            cx.missing(
                &section.span,
                "a feed tube needs \"burning_length\": how much of each stick lies in the fire",
            );
        }
        si(&f.burning_length)
    } else {
        stick_m
    };
    check_stick(f, stick.zip(stick_m), tube, cx);
    check_mouth(f, mouth, door, tube, cx);
    let door_wall = if tube {
        cx.no_effect(&f.door, "firebox.door", "a feed tube's mouth is open");
        Some(Vec::new())
    } else if f.door.is_some() {
        wall_of(&f.door, "firebox.door", cx)
    } else {
        cx.default_text("firebox.door", "firebox.door");
        super::gas::sheet("steel", PLAIN_DOOR_M).map(|l| vec![l])
    };
    let wall = wall(&f.wall, "firebox", cx);
    let in_water = match &f.in_water {
        Some(q) => q.value.si(),
        None => Some(0.0),
    };
    let wet_wall = match &f.wet_wall {
        Some(_) if in_water == Some(0.0) => {
            let why = "no part of the firebox stands in water; give in_water";
            cx.no_effect(&f.wet_wall, "firebox.wet_wall", why);
            Some(Vec::new())
        }
        Some(_) => wall_of(&f.wet_wall, "firebox.wet_wall", cx),
        None => Some(Vec::new()),
    };
    Some(Firebox {
        kind: match kind? {
            RawFireboxKind::FeedTube => FireboxKind::FeedTube,
            RawFireboxKind::Door => FireboxKind::Door,
            RawFireboxKind::DownDraught => FireboxKind::DownDraught,
        },
        width_m: si(&f.width)?,
        depth_m: si(&f.depth)?,
        height_m: si(&f.height)?,
        mouth_area_m2: mouth?,
        mouth_cover: cover?,
        air_inlet_area_m2: air_inlet?,
        air_over_share: over?,
        inlet_loss_k: inlet_loss?,
        burning_length_m: burning_m?,
        hearth_mass_kg: hearth?,
        wall: wall?,
        door: door_wall?,
        in_water: in_water?,
        wet_wall: wet_wall?,
    })
}

/// Sticks that do not go into their firebox.
fn check_stick(f: &RawFirebox, stick: Option<(&At<Q<Length>>, f64)>, tube: bool, cx: &mut Cx<'_>) {
    let Some((given, stick_m)) = stick else {
        return;
    };
    if tube {
        if let Some(burning) = &f.burning_length
            && burning.value.si().is_some_and(|b| b > stick_m)
        {
            let report = cx
                .at(
                    &codes::STICK,
                    &burning.span,
                    "firebox.burning_length is longer than the stick",
                )
                .label("longer")
                .also(&given.span, "length of the stick");
            cx.report(report);
        }
    } else if let (Some(w), Some(d), Some(h)) = (si(&f.width), si(&f.depth), si(&f.height)) {
        let room = w.max(d).max(h);
        if stick_m > room {
            let report = cx
                .at(
                    &codes::STICK,
                    &given.span,
                    format!(
                        "fuel.stick.length: the log does not go into the firebox, whose longest side is {} mm",
                        significant(room * 1e3, 3)
                    ),
                )
                .label("longer than the firebox");
            cx.report(report);
        }
    }
}

/// An opening that is larger than the side of the firebox in which it lies.
fn check_mouth(f: &RawFirebox, area_m2: Option<f64>, door: bool, tube: bool, cx: &mut Cx<'_>) {
    let Some(m) = &f.mouth else { return };
    let second = if door { si(&f.height) } else { si(&f.depth) };
    let (Some(width_m), Some(second_m), true) = (si(&f.width), second, door || tube) else {
        return;
    };
    let across = if door {
        &m.value.height
    } else {
        &m.value.depth
    };
    let too_large = |given: &Option<At<Q<Length>>>, room_m: f64| {
        given
            .as_ref()
            .filter(|g| g.value.si().is_some_and(|v| v > room_m * (1.0 + 1e-9)))
            .map(|g| g.span.clone())
    };
    let span = too_large(&m.value.width, width_m)
        .or_else(|| too_large(across, second_m))
        .or_else(|| {
            let area = m.value.area.as_ref()?;
            (area_m2? > width_m * second_m * (1.0 + 1e-9)).then(|| area.span.clone())
        });
    if let Some(span) = span {
        let side = if door { "front" } else { "plan" };
        let report = cx
            .at(
                &codes::MOUTH,
                &span,
                format!("firebox.mouth is larger than the {side} of the firebox"),
            )
            .label("too large");
        cx.report(report);
    }
}

/// Area of the feed mouth or door opening.
fn mouth_area_m2(m: &At<RawMouth>, door: bool, tube: bool, cx: &mut Cx<'_>) -> Option<f64> {
    let v = &m.value;
    if door {
        cx.no_effect(
            &v.depth,
            "firebox.mouth.depth",
            "a door opening has a width and a height",
        );
    }
    if tube {
        cx.no_effect(
            &v.height,
            "firebox.mouth.height",
            "a feed mouth has a width and a depth",
        );
    }
    let other = if door { &v.height } else { &v.depth };
    let name = if door { "height" } else { "depth" };
    match (&v.area, &v.width) {
        (Some(a), Some(w)) => {
            cx.conflict(
                (&a.span, "area"),
                (&w.span, "width"),
                "the opening is given twice",
            );
            None
        }
        (Some(a), None) => {
            if let Some(o) = other {
                cx.conflict(
                    (&a.span, "area"),
                    (&o.span, name),
                    "the opening is given twice",
                );
            }
            a.value.si()
        }
        (None, Some(w)) => {
            if other.is_none() && (door || tube) {
                cx.missing(
                    &m.span,
                    format!("firebox.mouth needs \"{name}\" beside \"width\""),
                );
            }
            Some(w.value.si()? * si(other)?)
        }
        (None, None) => {
            if door || tube {
                cx.missing(
                    &m.span,
                    format!("firebox.mouth needs \"width\" and \"{name}\", or \"area\""),
                );
            }
            None
        }
    }
}
