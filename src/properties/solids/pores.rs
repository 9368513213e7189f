//! What pores of wall materials do with water: whether they hold any, how much at most, how hard vapour passes.
//!
//! Vapour resistance factor μ: how many times worse than still air vapour diffuses through it. Dry values of EN ISO 10456:2007, tables 3
//! and 4, from memory, where the row names no other source; rows marked estimate have none of their own.

use super::Solid;

/// One material of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pores {
    /// As [`Solid::name`].
    pub name: &'static str,
    /// μ; `None`: vapour-tight.
    pub vapour_resistance: Option<f64>,
    /// It can hold free water that dries.
    pub hold_water: bool,
    pub source: &'static str,
}

/// μ of a mineral material that the table does not hold, as of brick (estimate).
pub const OWN_VAPOUR_RESISTANCE: f64 = 16.0;
/// Density of the grains of burnt clay, sand and stone, kg/m3: quartz has 2650 (handbook value, from memory).
pub const GRAIN_KG_M3: f64 = 2650.0;
const WATER_KG_M3: f64 = 1000.0;

const fn row(name: &'static str, mu: f64, source: &'static str) -> Pores {
    Pores {
        name,
        vapour_resistance: Some(mu),
        hold_water: true,
        source,
    }
}

const fn dry(name: &'static str, mu: f64, source: &'static str) -> Pores {
    Pores {
        hold_water: false,
        ..row(name, mu, source)
    }
}

const fn tight(name: &'static str) -> Pores {
    Pores {
        name,
        vapour_resistance: None,
        hold_water: false,
        source: "metal",
    }
}

const BRICK: &str = "EN ISO 10456 table 3, fired clay";
const WOOL: &str = "EN ISO 10456 table 4, mineral wool";
const ESTIMATE: &str = "estimate, between light aggregate and brick";

static TABLE: &[Pores] = &[
    row("fire brick", 16.0, BRICK),
    row("insulating fire brick", 5.0, ESTIMATE),
    row(
        "refractory castable",
        50.0,
        "estimate, half of dense concrete's",
    ),
    row(
        "insulating castable",
        15.0,
        "EN ISO 10456 table 3, concrete with light aggregates",
    ),
    row("ceramic fibre", 1.0, WOOL),
    row(
        "vermiculite board",
        5.0,
        "EN ISO 10456 table 4, expanded perlite board (estimate)",
    ),
    row("perlite clay", 5.0, ESTIMATE),
    row(
        "loose perlite",
        2.0,
        "EN ISO 10456 table 4, loose-fill expanded perlite",
    ),
    row("mineral wool", 1.0, WOOL),
    row("glass wool", 1.0, WOOL),
    row(
        "calcium silicate",
        5.0,
        "makers' sheets of light boards (3 to 6), from memory",
    ),
    row(
        "clay",
        10.0,
        "DIN 18945 earth blocks (5 to 10), from memory",
    ),
    row(
        "clay plaster",
        10.0,
        "DIN 18947 earth plasters (5 to 10), from memory",
    ),
    row("sand", 50.0, "EN ISO 10456 table 3, sand and gravel"),
    row("gravel", 50.0, "EN ISO 10456 table 3, sand and gravel"),
    row("red brick", 16.0, BRICK),
    row(
        "concrete",
        130.0,
        "EN ISO 10456 table 3, high-density concrete",
    ),
    row(
        "soapstone",
        10_000.0,
        "EN ISO 10456 table 3, crystalline rock",
    ),
    row(
        "granite",
        10_000.0,
        "EN ISO 10456 table 3, crystalline rock",
    ),
    row(
        "plasterboard",
        10.0,
        "EN ISO 10456 table 3, gypsum plasterboard",
    ),
    dry(
        "wood wall",
        50.0,
        "EN ISO 10456 table 3, timber of 450 kg/m3",
    ),
    dry(
        "polyurethane foam",
        60.0,
        "EN ISO 10456 table 4, rigid polyurethane",
    ),
    dry(
        "polystyrene foam",
        60.0,
        "EN ISO 10456 table 4, expanded polystyrene",
    ),
    tight("steel"),
    tight("stainless steel"),
    tight("cast iron"),
    tight("copper"),
    tight("aluminium"),
    tight("galvanised steel"),
    dry("air gap", 1.0, "still air, by definition"),
];

impl Solid {
    /// What its pores do; `None` for a row that lacks it (none does: `identity_every_material_says_what_its_pores_do`).
    pub fn pores(&self) -> Option<&'static Pores> {
        TABLE.iter().find(|p| p.name == self.name)
    }
}

/// Free water that the pores of a material of this density have room for, kg per kg dry.
pub fn most_water(density_kg_m3: f64) -> f64 {
    (WATER_KG_M3 * (1.0 / density_kg_m3 - 1.0 / GRAIN_KG_M3)).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::super::table;
    use super::*;

    #[test]
    fn identity_every_material_says_what_its_pores_do() {
        for s in table() {
            let tight = s.pores().map(|p| p.vapour_resistance.is_none());
            assert_eq!(tight, Some(s.thin), "{}: metal alone is tight", s.name);
            let mu = s.pores().and_then(|p| p.vapour_resistance);
            assert!(
                mu.is_none_or(|mu| mu >= 1.0),
                "{}: none passes vapour better than still air",
                s.name
            );
        }
        assert_eq!(TABLE.len(), table().len());
    }

    /// Dense fire brick has 20 to 25 % of pores, brick of walls takes up 15 to 20 % of its mass, granite a third of a per
    /// cent (common practice, no source).
    #[test]
    fn practice_bricks_have_room_for_a_tenth_of_their_mass_and_granite_for_next_to_nothing() {
        assert!((0.10..0.125).contains(&most_water(2050.0)));
        assert!((0.12..0.20).contains(&most_water(1920.0)));
        assert!(most_water(2630.0) < 0.004);
        assert_eq!(most_water(2900.0), 0.0);
    }
}
