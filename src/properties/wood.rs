//! Wood: species table, heating values, moisture bases, thermal properties.

use super::normal_name;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WoodKind {
    Softwood,
    Hardwood,
}

/// Wood as burnt: composition on the dry, ash-free basis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wood {
    pub name: &'static str,
    pub aliases: &'static [&'static str],
    pub kind: WoodKind,
    /// Mass fractions, dry ash-free, sum 1.
    pub carbon_daf: f64,
    pub hydrogen_daf: f64,
    pub oxygen_daf: f64,
    pub nitrogen_daf: f64,
    /// kg ash per kg dry wood.
    pub ash_dry: f64,
    /// Oven-dry mass per volume at 12 % moisture, as the Wood Handbook tabulates it.
    pub density_kg_m3: f64,
    /// kg char left per kg dry wood passing the char front.
    pub char_yield_dry: f64,
    /// Where the row comes from.
    pub source: &'static str,
}

impl Wood {
    /// Mass fractions of C, H, O, N on the dry basis (ash included in the kilogram).
    pub fn dry_basis(&self) -> (f64, f64, f64, f64) {
        let f = 1.0 - self.ash_dry;
        (
            self.carbon_daf * f,
            self.hydrogen_daf * f,
            self.oxygen_daf * f,
            self.nitrogen_daf * f,
        )
    }

    /// Gross heating value of the dry wood by [`gross_heating_value_dry_j_kg`].
    pub fn gross_heating_value_dry_j_kg(&self) -> f64 {
        let (c, h, o, n) = self.dry_basis();
        gross_heating_value_dry_j_kg(c, h, o, n, 0.0, self.ash_dry)
    }
}

/// Volatiles are 0.78 to 0.85 of dry wood passing the front (common practice); the rest is char. Softwood holds
/// more lignin (about 28 % against 22 %, Wood Handbook), which chars more: 0.18 against 0.17.
const CHAR_SOFT: f64 = 0.18;
const CHAR_HARD: f64 = 0.17;

/// A row with the typical composition of its class: ISO 17225-1:2014 Annex B virgin wood, given there as
/// coniferous C 51 H 6.3 O 42 N 0.1, broad-leaved C 49 H 6.2 O 44 N 0.1 % daf (from memory), scaled to sum 1.
const fn class(
    name: &'static str,
    aliases: &'static [&'static str],
    kind: WoodKind,
    density_kg_m3: f64,
    source: &'static str,
) -> Wood {
    let (c, h, o, n, char_yield_dry) = match kind {
        WoodKind::Softwood => (51.0, 6.3, 42.0, 0.1, CHAR_SOFT),
        WoodKind::Hardwood => (49.0, 6.2, 44.0, 0.1, CHAR_HARD),
    };
    analysed(
        name,
        aliases,
        kind,
        [c, h, o, n],
        0.003,
        density_kg_m3,
        char_yield_dry,
        source,
    )
}

#[allow(clippy::too_many_arguments)] // one table row, named at its only use
const fn analysed(
    name: &'static str,
    aliases: &'static [&'static str],
    kind: WoodKind,
    chon_daf: [f64; 4],
    ash_dry: f64,
    density_kg_m3: f64,
    char_yield_dry: f64,
    source: &'static str,
) -> Wood {
    let [c, h, o, n] = chon_daf;
    let sum = c + h + o + n;
    Wood {
        name,
        aliases,
        kind,
        carbon_daf: c / sum,
        hydrogen_daf: h / sum,
        oxygen_daf: o / sum,
        nitrogen_daf: n / sum,
        ash_dry,
        density_kg_m3,
        char_yield_dry,
        source,
    }
}

use WoodKind::{Hardwood, Softwood};

static TABLE: &[Wood] = &[
    class(
        "softwood",
        &["conifer", "coniferous", "generic softwood"],
        Softwood,
        430.0,
        "ISO 17225-1 Annex B, coniferous (from memory); density: middle of the Wood Handbook softwoods",
    ),
    class(
        "hardwood",
        &["broadleaf", "broad leaved", "deciduous", "generic hardwood"],
        Hardwood,
        600.0,
        "ISO 17225-1 Annex B, broad-leaved (from memory); density: middle of the Wood Handbook fuel hardwoods",
    ),
    class(
        "pine",
        &["red pine", "scots pine"],
        Softwood,
        460.0,
        "ISO 17225-1 Annex B, coniferous; density Wood Handbook (red pine 0.46), from memory",
    ),
    class(
        "spruce",
        &["norway spruce", "white spruce", "picea"],
        Softwood,
        400.0,
        "ISO 17225-1 Annex B, coniferous; density Wood Handbook (Sitka 0.40, white 0.36), from memory",
    ),
    class(
        "larch",
        &["western larch", "tamarack"],
        Softwood,
        520.0,
        "ISO 17225-1 Annex B, coniferous; density Wood Handbook (western larch 0.52), from memory",
    ),
    class(
        "fir",
        &["white fir", "silver fir"],
        Softwood,
        390.0,
        "ISO 17225-1 Annex B, coniferous; density Wood Handbook (white fir 0.39), from memory",
    ),
    class(
        "douglas fir",
        &["doug fir", "douglas"],
        Softwood,
        480.0,
        "ISO 17225-1 Annex B, coniferous; density Wood Handbook (coast Douglas-fir 0.48), from memory",
    ),
    class(
        "cedar",
        &["western redcedar", "western red cedar", "redcedar"],
        Softwood,
        320.0,
        "ISO 17225-1 Annex B, coniferous; density Wood Handbook (western redcedar 0.32), from memory",
    ),
    class(
        "hemlock",
        &["western hemlock"],
        Softwood,
        450.0,
        "ISO 17225-1 Annex B, coniferous; density Wood Handbook (western hemlock 0.45), from memory",
    ),
    class(
        "birch",
        &["paper birch", "silver birch", "white birch"],
        Hardwood,
        550.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (paper birch 0.55), from memory",
    ),
    class(
        "beech",
        &["european beech", "american beech"],
        Hardwood,
        640.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (American beech 0.64), from memory",
    ),
    class(
        "oak",
        &["white oak", "red oak"],
        Hardwood,
        650.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (white 0.68, northern red 0.63), from memory",
    ),
    class(
        "maple",
        &["sugar maple", "hard maple"],
        Hardwood,
        630.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (sugar maple 0.63), from memory",
    ),
    class(
        "ash",
        &["white ash", "european ash"],
        Hardwood,
        600.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (white ash 0.60), from memory",
    ),
    class(
        "alder",
        &["red alder", "black alder"],
        Hardwood,
        410.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (red alder 0.41), from memory",
    ),
    class(
        "elm",
        &["american elm"],
        Hardwood,
        500.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (American elm 0.50), from memory",
    ),
    class(
        "hickory",
        &["shagbark hickory"],
        Hardwood,
        720.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (shagbark hickory 0.72), from memory",
    ),
    class(
        "black locust",
        &["locust", "robinia"],
        Hardwood,
        690.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (black locust 0.69), from memory",
    ),
    class(
        "cherry",
        &["black cherry"],
        Hardwood,
        500.0,
        "ISO 17225-1 Annex B, broad-leaved; density Wood Handbook (black cherry 0.50), from memory",
    ),
    class(
        "apple",
        &["orchard", "apple wood", "fruit wood", "fruitwood"],
        Hardwood,
        660.0,
        "ISO 17225-1 Annex B, broad-leaved; density: common practice, no source",
    ),
    analysed(
        "poplar",
        &["aspen", "cottonwood"],
        Hardwood,
        [48.0, 6.2, 43.0, 0.4],
        0.02,
        400.0,
        CHAR_HARD,
        "ISO 17225-1 Annex B, short-rotation poplar (from memory); density Wood Handbook (cottonwood 0.40, aspen 0.38), from memory",
    ),
    analysed(
        "willow",
        &["black willow"],
        Hardwood,
        [48.0, 6.1, 43.0, 0.5],
        0.02,
        390.0,
        CHAR_HARD,
        "ISO 17225-1 Annex B, short-rotation willow (from memory); density Wood Handbook (black willow 0.39), from memory",
    ),
];

/// Looks a wood up by name or alias; case, `-` and `_` do not matter.
pub fn by_name(name: &str) -> Option<&'static Wood> {
    let n = normal_name(name);
    TABLE
        .iter()
        .find(|w| w.name == n || w.aliases.contains(&n.as_str()))
}

/// All names, without aliases.
pub fn names() -> Vec<&'static str> {
    TABLE.iter().map(|w| w.name).collect()
}

/// The whole table.
pub fn table() -> &'static [Wood] {
    TABLE
}

/// Heat of vaporisation of water at 25 degC at constant pressure, J/kg (ISO 18125: 2.443 MJ/kg).
pub const MOISTURE_LATENT_J_KG: f64 = 2.443e6;

/// Gross heating value of dry fuel from mass fractions on the dry basis (ash included), J/kg.
///
/// q = 34.91 C + 117.83 H + 10.05 S - 10.34 O - 1.51 N - 2.11 ash MJ/kg; C 0..0.92, H 0.0043..0.25, O 0..0.50.
/// Stated mean absolute error 1.45 %.
/// Source: Channiwala & Parikh 2002, Fuel 81:1051 (from memory).
pub fn gross_heating_value_dry_j_kg(c: f64, h: f64, o: f64, n: f64, s: f64, ash: f64) -> f64 {
    1e6 * (34.91 * c + 117.83 * h + 10.05 * s - 10.34 * o - 1.51 * n - 2.11 * ash)
}

/// Net heating value as fired, per kg of moist fuel.
///
/// - `gross_dry_j_kg` gross value of dry fuel
/// - `h_dry` kg hydrogen per kg dry fuel
/// - `moisture_wet` kg water per kg moist fuel
///
/// Source: ISO 18125 (formula from memory), with 8.937 kg water per kg hydrogen. The standard's constant-volume
/// work term (about 0.1 %) is left out: the gross value is taken as one at constant pressure.
pub fn net_heating_value_j_kg(gross_dry_j_kg: f64, h_dry: f64, moisture_wet: f64) -> f64 {
    let net_dry = gross_dry_j_kg - MOISTURE_LATENT_J_KG * WATER_PER_HYDROGEN * h_dry;
    net_from_net_dry_j_kg(net_dry, moisture_wet)
}

/// Net heating value as fired from that of dry fuel: q (1 - M) - 2.443 M MJ/kg (ISO 18125).
pub fn net_from_net_dry_j_kg(net_dry_j_kg: f64, moisture_wet: f64) -> f64 {
    net_dry_j_kg * (1.0 - moisture_wet) - MOISTURE_LATENT_J_KG * moisture_wet
}

/// A cord, 128 ft³ stacked, m3.
pub const CORD_M3: f64 = 128.0 * 0.028_316_846_592;
/// Solid wood in a stack: 80 to 85 ft³ of a cord (common practice, no source).
pub const SOLID_SHARE: f64 = 82.5 / 128.0;

/// Mass of stacked wood, kg moist.
///
/// - `stacked_m3` volume of the stack with its gaps
/// - `density_kg_m3` dry mass per volume of the solid wood
/// - `moisture_wet` kg water per kg moist wood
pub fn stacked_kg(stacked_m3: f64, density_kg_m3: f64, moisture_wet: f64) -> f64 {
    SOLID_SHARE * stacked_m3 * density_kg_m3 / (1.0 - moisture_wet)
}

/// kg of water from a kilogram of hydrogen.
pub const WATER_PER_HYDROGEN: f64 = 18.015 / 2.016;

/// Moisture on the wet basis (kg/kg moist) from the dry basis (kg/kg dry wood).
pub fn wet_from_dry_basis(moisture_dry: f64) -> f64 {
    moisture_dry / (1.0 + moisture_dry)
}

/// Moisture on the dry basis from the wet basis; grows without bound as the wet basis nears 1.
pub fn dry_from_wet_basis(moisture_wet: f64) -> f64 {
    moisture_wet / (1.0 - moisture_wet)
}

/// Conductivity across the grain near room temperature, W/mK.
///
/// k = G (0.1941 + 0.4064 m) + 0.01864 with G = oven-dry density / 1000 kg/m3 and m on the dry basis; G > 0.3,
/// m < 0.25. Scatter 20 %. Source: USDA Wood Handbook FPL-GTR-190, chapter 4 (from memory).
pub fn conductivity_w_mk(density_kg_m3: f64, moisture_dry: f64) -> f64 {
    density_kg_m3 * 1e-3 * (0.1941 + 0.4064 * moisture_dry) + 0.01864
}

/// Heat capacity of moist wood, J per kg of moist wood and kelvin.
///
/// c = (c0 + 4180 m)/(1 + m) + bound-water term, c0 = 103.1 + 3.867 T; 280 to 420 K, m up to fibre saturation
/// (0.26), where the bound-water term is held. Source: as [`conductivity_w_mk`].
pub fn heat_capacity_j_kgk(t_k: f64, moisture_dry: f64) -> f64 {
    let t = t_k.clamp(250.0, 450.0);
    let dry = 103.1 + 3.867 * t;
    let bound_percent = 100.0 * moisture_dry.clamp(0.0, 0.26);
    let bound = 1e3 * bound_percent * (-0.06191 + 2.36e-4 * t - 1.33e-4 * bound_percent);
    (dry + 4180.0 * moisture_dry) / (1.0 + moisture_dry) + bound
}

/// Net heating value of wood char, J/kg (common practice 30 to 33; carbon itself 32.8).
pub const CHAR_NET_J_KG: f64 = 32.0e6;
/// Heat of burning carbon to CO2, J/kg: 393.51 kJ/mol (CODATA key values 1989) over 12.011 g/mol.
pub const CARBON_J_KG: f64 = 393.51e3 / 12.011e-3;
