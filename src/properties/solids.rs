//! Wall materials: density, heat capacity, conductivity, emissivity, service limit.
//!
//! Heat capacity and conductivity are straight lines about 298.15 K, c(T) = c0 + c1 (T - 298.15 K), fitted over the
//! range in which the material is used in a stove. Building materials scatter by 20 % and more from piece to piece.

use super::atmosphere::SIGMA_W_M2K4;
use super::normal_name;

/// One wall material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solid {
    pub name: &'static str,
    pub aliases: &'static [&'static str],
    pub density_kg_m3: f64,
    /// c0 and c1.
    pub heat_capacity_j_kgk: f64,
    pub heat_capacity_slope_j_kgk2: f64,
    /// k0 and k1. For the air gap: at 20 mm; use [`Solid::conductivity`].
    pub conductivity_w_mk: f64,
    pub conductivity_slope_w_mk2: f64,
    /// Total hemispherical, surface as it is in use (oxidised metal).
    pub emissivity: f64,
    /// Service limit, where one is known.
    pub limit_k: Option<f64>,
    /// What happens at the limit.
    pub limit_reason: &'static str,
    /// A thin metal sheet.
    pub thin: bool,
    pub source: &'static str,
}

impl Solid {
    /// k0 and k1 of a layer of the given thickness; only the air gap depends on it.
    pub fn conductivity(&self, thickness_m: f64) -> (f64, f64) {
        if self.name == AIR_GAP {
            air_gap_conductivity(thickness_m, self.emissivity)
        } else {
            (self.conductivity_w_mk, self.conductivity_slope_w_mk2)
        }
    }
}

const AIR_GAP: &str = "air gap";

/// Conductivity line k0, k1 of a closed air gap between two surfaces of the given emissivity.
///
/// Still air plus radiation across the gap: k = k_air + d h_r with h_r = 4 sigma T3 / (2/e - 1), as the secant from
/// 298.15 to 600 K. Convection in the gap is left out: under about 20 mm it adds little (Rayleigh number below
/// 1e4 at 50 K across 20 mm; common practice).
pub fn air_gap_conductivity(thickness_m: f64, emissivity: f64) -> (f64, f64) {
    let effective = 1.0 / (2.0 / emissivity - 1.0);
    let at = |t_k: f64| {
        // Air: 0.0263 W/mK at 300 K, 0.0469 at 600 K (Incropera, Table A.4, from memory).
        let k_air = 0.0263 + (0.0469 - 0.0263) / 300.0 * (t_k - 300.0);
        k_air + thickness_m * 4.0 * SIGMA_W_M2K4 * t_k.powi(3) * effective
    };
    let (t0, t1) = (super::T_REF_K, 600.0);
    (at(t0), (at(t1) - at(t0)) / (t1 - t0))
}

/// Celsius zero, K.
const ZERO_C_K: f64 = 273.15;

static TABLE: &[Solid] = &[
    Solid {
        name: "fire brick",
        aliases: &[
            "firebrick",
            "dense fire brick",
            "chamotte",
            "fireclay brick",
            "heavy fire brick",
        ],
        density_kg_m3: 2050.0,
        heat_capacity_j_kgk: 850.0,
        heat_capacity_slope_j_kgk2: 0.25,
        conductivity_w_mk: 1.0,
        conductivity_slope_w_mk2: 0.0003,
        emissivity: 0.8,
        limit_k: Some(1400.0 + ZERO_C_K),
        limit_reason: "softens under load",
        thin: false,
        source: "Incropera Table A.3 (fireclay brick 2050 kg/m3, 1.0 W/mK at 478 K, 960 J/kgK) and makers' sheets, from memory",
    },
    Solid {
        name: "insulating fire brick",
        aliases: &[
            "light fire brick",
            "ifb",
            "insulating firebrick",
            "soft fire brick",
        ],
        density_kg_m3: 550.0,
        heat_capacity_j_kgk: 900.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.105,
        conductivity_slope_w_mk2: 8.5e-05,
        emissivity: 0.8,
        limit_k: Some(1260.0 + ZERO_C_K),
        limit_reason: "shrinks",
        thin: false,
        source: "ASTM C155 group 23 brick, makers' sheets (0.14 W/mK at 400 degC, 0.17 at 800 degC), from memory",
    },
    Solid {
        name: "refractory castable",
        aliases: &["dense castable", "refractory concrete", "castable"],
        density_kg_m3: 2200.0,
        heat_capacity_j_kgk: 850.0,
        heat_capacity_slope_j_kgk2: 0.25,
        conductivity_w_mk: 1.1,
        conductivity_slope_w_mk2: 0.0002,
        emissivity: 0.8,
        limit_k: Some(1400.0 + ZERO_C_K),
        limit_reason: "softens under load",
        thin: false,
        source: "makers' sheets of 45 % alumina castables, from memory",
    },
    Solid {
        name: "insulating castable",
        aliases: &["light castable", "lightweight castable"],
        density_kg_m3: 950.0,
        heat_capacity_j_kgk: 850.0,
        heat_capacity_slope_j_kgk2: 0.25,
        conductivity_w_mk: 0.2,
        conductivity_slope_w_mk2: 8e-05,
        emissivity: 0.8,
        limit_k: Some(1100.0 + ZERO_C_K),
        limit_reason: "shrinks",
        thin: false,
        source: "makers' sheets, from memory",
    },
    Solid {
        name: "ceramic fibre",
        aliases: &[
            "ceramic fiber",
            "ceramic blanket",
            "ceramic fibre blanket",
            "ceramic fiber blanket",
            "ceramic wool",
            "aluminosilicate wool",
        ],
        density_kg_m3: 128.0,
        heat_capacity_j_kgk: 850.0,
        heat_capacity_slope_j_kgk2: 0.3,
        conductivity_w_mk: 0.04,
        conductivity_slope_w_mk2: 0.00015,
        emissivity: 0.85,
        limit_k: Some(1150.0 + ZERO_C_K),
        limit_reason: "crystallises and shrinks",
        thin: false,
        source: "ASTM C201 sheets of 128 kg/m3 blanket (0.09 W/mK at 400 degC, 0.13 at 600 degC), from memory; linear, low above 800 degC",
    },
    Solid {
        name: "vermiculite board",
        aliases: &["vermiculite", "vermiculite brick"],
        density_kg_m3: 600.0,
        heat_capacity_j_kgk: 900.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.15,
        conductivity_slope_w_mk2: 8e-05,
        emissivity: 0.9,
        limit_k: Some(1100.0 + ZERO_C_K),
        limit_reason: "shrinks and cracks",
        thin: false,
        source: "makers' sheets (0.15 to 0.20 W/mK), from memory",
    },
    Solid {
        name: "perlite clay",
        aliases: &["perlite", "perlite and clay", "clay perlite", "perlite mix"],
        density_kg_m3: 500.0,
        heat_capacity_j_kgk: 900.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.14,
        conductivity_slope_w_mk2: 0.0001,
        emissivity: 0.9,
        limit_k: Some(1000.0 + ZERO_C_K),
        limit_reason: "crumbles",
        thin: false,
        source: "common practice, no source: rammed perlite with clay slip",
    },
    Solid {
        name: "loose perlite",
        aliases: &["dry perlite", "perlite fill"],
        density_kg_m3: 100.0,
        heat_capacity_j_kgk: 840.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.045,
        conductivity_slope_w_mk2: 0.00015,
        emissivity: 0.9,
        limit_k: Some(900.0 + ZERO_C_K),
        limit_reason: "sinters",
        thin: false,
        source: "makers' sheets, from memory",
    },
    Solid {
        name: "mineral wool",
        aliases: &["rock wool", "stone wool", "stonewool"],
        density_kg_m3: 100.0,
        heat_capacity_j_kgk: 840.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.036,
        conductivity_slope_w_mk2: 0.00018,
        emissivity: 0.9,
        limit_k: Some(650.0 + ZERO_C_K),
        limit_reason: "fibres sinter; binder goes from 250 degC",
        thin: false,
        source: "EN 14303 declared curves of 100 kg/m3 slabs (0.09 W/mK at 300 degC), from memory",
    },
    Solid {
        name: "glass wool",
        aliases: &["fibreglass", "fiberglass", "glasswool"],
        density_kg_m3: 24.0,
        heat_capacity_j_kgk: 840.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.035,
        conductivity_slope_w_mk2: 0.00022,
        emissivity: 0.9,
        limit_k: Some(230.0 + ZERO_C_K),
        limit_reason: "binder and fibres fail",
        thin: false,
        source: "EN 14303 declared curves, from memory",
    },
    Solid {
        name: "calcium silicate",
        aliases: &["calcium silicate board", "calsil", "cal sil"],
        density_kg_m3: 240.0,
        heat_capacity_j_kgk: 840.0,
        heat_capacity_slope_j_kgk2: 0.25,
        conductivity_w_mk: 0.054,
        conductivity_slope_w_mk2: 0.00011,
        emissivity: 0.9,
        limit_k: Some(649.0 + ZERO_C_K),
        limit_reason: "shrinks (ASTM C533 type I)",
        thin: false,
        source: "ASTM C533 type I (0.059 W/mK at 38 degC to 0.101 at 427 degC), from memory",
    },
    Solid {
        name: "clay",
        aliases: &["cob", "clay straw", "earth", "adobe"],
        density_kg_m3: 1600.0,
        heat_capacity_j_kgk: 900.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.7,
        conductivity_slope_w_mk2: 0.0,
        emissivity: 0.9,
        limit_k: None,
        limit_reason: "",
        thin: false,
        source: "DIN 4108-4 earth building 1600 kg/m3 (0.73 W/mK), from memory",
    },
    Solid {
        name: "clay plaster",
        aliases: &["light clay", "clay render"],
        density_kg_m3: 1200.0,
        heat_capacity_j_kgk: 900.0,
        heat_capacity_slope_j_kgk2: 0.2,
        conductivity_w_mk: 0.47,
        conductivity_slope_w_mk2: 0.0,
        emissivity: 0.9,
        limit_k: None,
        limit_reason: "",
        thin: false,
        source: "DIN 4108-4 earth building 1200 kg/m3 (0.47 W/mK), from memory",
    },
    Solid {
        name: "sand",
        aliases: &["dry sand"],
        density_kg_m3: 1515.0,
        heat_capacity_j_kgk: 800.0,
        heat_capacity_slope_j_kgk2: 0.5,
        conductivity_w_mk: 0.27,
        conductivity_slope_w_mk2: 0.0002,
        emissivity: 0.9,
        limit_k: None,
        limit_reason: "",
        thin: false,
        source: "Incropera Table A.3 (1515 kg/m3, 0.27 W/mK, 800 J/kgK), from memory",
    },
    Solid {
        name: "gravel",
        aliases: &["stone fill", "pebbles"],
        density_kg_m3: 1700.0,
        heat_capacity_j_kgk: 840.0,
        heat_capacity_slope_j_kgk2: 0.3,
        conductivity_w_mk: 0.4,
        conductivity_slope_w_mk2: 0.0003,
        emissivity: 0.9,
        limit_k: None,
        limit_reason: "",
        thin: false,
        source: "common practice, no source: dry gravel",
    },
    Solid {
        name: "red brick",
        aliases: &["brick", "common brick", "clay brick"],
        density_kg_m3: 1920.0,
        heat_capacity_j_kgk: 835.0,
        heat_capacity_slope_j_kgk2: 0.25,
        conductivity_w_mk: 0.72,
        conductivity_slope_w_mk2: 0.0002,
        emissivity: 0.93,
        limit_k: Some(1000.0 + ZERO_C_K),
        limit_reason: "softens",
        thin: false,
        source: "Incropera Table A.3 (1920 kg/m3, 0.72 W/mK, 835 J/kgK), from memory",
    },
    Solid {
        name: "concrete",
        aliases: &["stone concrete", "cement"],
        density_kg_m3: 2300.0,
        heat_capacity_j_kgk: 880.0,
        heat_capacity_slope_j_kgk2: 0.3,
        conductivity_w_mk: 1.4,
        conductivity_slope_w_mk2: -0.0008,
        emissivity: 0.9,
        limit_k: Some(300.0 + ZERO_C_K),
        limit_reason: "loses strength (EN 1992-1-2)",
        thin: false,
        source: "Incropera Table A.3 (2300 kg/m3, 1.4 W/mK, 880 J/kgK), from memory",
    },
    Solid {
        name: "soapstone",
        aliases: &["steatite"],
        density_kg_m3: 2900.0,
        heat_capacity_j_kgk: 900.0,
        heat_capacity_slope_j_kgk2: 0.4,
        conductivity_w_mk: 3.3,
        conductivity_slope_w_mk2: -0.002,
        emissivity: 0.9,
        limit_k: Some(1000.0 + ZERO_C_K),
        limit_reason: "dehydrates",
        thin: false,
        source: "makers' sheets (3 to 6 W/mK, 2900 to 3000 kg/m3), from memory",
    },
    Solid {
        name: "granite",
        aliases: &["stone", "field stone"],
        density_kg_m3: 2630.0,
        heat_capacity_j_kgk: 775.0,
        heat_capacity_slope_j_kgk2: 0.5,
        conductivity_w_mk: 2.79,
        conductivity_slope_w_mk2: -0.0018,
        emissivity: 0.9,
        limit_k: Some(550.0 + ZERO_C_K),
        limit_reason: "cracks where quartz turns (573 degC)",
        thin: false,
        source: "Incropera Table A.3 (2630 kg/m3, 2.79 W/mK, 775 J/kgK), from memory",
    },
    Solid {
        name: "plasterboard",
        aliases: &["gypsum board", "drywall"],
        density_kg_m3: 800.0,
        heat_capacity_j_kgk: 1000.0,
        heat_capacity_slope_j_kgk2: 0.0,
        conductivity_w_mk: 0.25,
        conductivity_slope_w_mk2: 0.0,
        emissivity: 0.9,
        limit_k: Some(80.0 + ZERO_C_K),
        limit_reason: "loses its water",
        thin: false,
        source: "EN ISO 10456 (gypsum board 0.25 W/mK), from memory",
    },
    Solid {
        name: "wood wall",
        aliases: &["wood staves", "staves", "timber", "lumber", "plywood"],
        density_kg_m3: 450.0,
        heat_capacity_j_kgk: 1600.0,
        heat_capacity_slope_j_kgk2: 0.0,
        conductivity_w_mk: 0.12,
        conductivity_slope_w_mk2: 0.0,
        emissivity: 0.9,
        limit_k: Some(100.0 + ZERO_C_K),
        limit_reason: "chars slowly",
        thin: false,
        source: "EN ISO 10456 (timber 450 kg/m3: 0.12 W/mK, 1600 J/kgK), from memory",
    },
    Solid {
        name: "polyurethane foam",
        aliases: &["pu foam", "pur", "pir", "polyurethane", "spray foam"],
        density_kg_m3: 32.0,
        heat_capacity_j_kgk: 1400.0,
        heat_capacity_slope_j_kgk2: 0.0,
        conductivity_w_mk: 0.025,
        conductivity_slope_w_mk2: 0.0001,
        emissivity: 0.9,
        limit_k: Some(110.0 + ZERO_C_K),
        limit_reason: "softens",
        thin: false,
        source: "EN ISO 10456 and EN 13165 (0.022 to 0.028 W/mK), from memory",
    },
    Solid {
        name: "polystyrene foam",
        aliases: &["eps", "xps", "polystyrene"],
        density_kg_m3: 25.0,
        heat_capacity_j_kgk: 1450.0,
        heat_capacity_slope_j_kgk2: 0.0,
        conductivity_w_mk: 0.035,
        conductivity_slope_w_mk2: 0.00012,
        emissivity: 0.9,
        limit_k: Some(75.0 + ZERO_C_K),
        limit_reason: "softens",
        thin: false,
        source: "EN ISO 10456 and EN 13163 (0.035 W/mK), from memory",
    },
    Solid {
        name: "steel",
        aliases: &["mild steel", "carbon steel", "sheet steel", "black steel"],
        density_kg_m3: 7850.0,
        heat_capacity_j_kgk: 450.0,
        heat_capacity_slope_j_kgk2: 0.45,
        conductivity_w_mk: 58.0,
        conductivity_slope_w_mk2: -0.04,
        emissivity: 0.8,
        limit_k: Some(550.0 + ZERO_C_K),
        limit_reason: "scales",
        thin: true,
        source: "Incropera Table A.1 (plain carbon: 60.5 W/mK at 300 K, 39.2 at 800 K; 434 to 685 J/kgK), from memory; oxidised",
    },
    Solid {
        name: "stainless steel",
        aliases: &["stainless", "304", "aisi 304", "inox"],
        density_kg_m3: 7900.0,
        heat_capacity_j_kgk: 480.0,
        heat_capacity_slope_j_kgk2: 0.18,
        conductivity_w_mk: 14.9,
        conductivity_slope_w_mk2: 0.015,
        emissivity: 0.6,
        limit_k: Some(870.0 + ZERO_C_K),
        limit_reason: "scales where it heats and cools",
        thin: true,
        source: "Incropera Table A.1 (AISI 304: 14.9 W/mK at 300 K, 25.4 at 1000 K; 477 to 611 J/kgK), from memory; oxidised",
    },
    Solid {
        name: "cast iron",
        aliases: &["iron", "grey iron", "gray iron"],
        density_kg_m3: 7200.0,
        heat_capacity_j_kgk: 500.0,
        heat_capacity_slope_j_kgk2: 0.35,
        conductivity_w_mk: 50.0,
        conductivity_slope_w_mk2: -0.02,
        emissivity: 0.8,
        limit_k: Some(650.0 + ZERO_C_K),
        limit_reason: "grows and cracks",
        thin: true,
        source: "handbook grey iron (about 50 W/mK), from memory; oxidised",
    },
    Solid {
        name: "copper",
        aliases: &["copper sheet"],
        density_kg_m3: 8933.0,
        heat_capacity_j_kgk: 385.0,
        heat_capacity_slope_j_kgk2: 0.1,
        conductivity_w_mk: 401.0,
        conductivity_slope_w_mk2: -0.07,
        emissivity: 0.6,
        limit_k: Some(204.0 + ZERO_C_K),
        limit_reason: "softens; no rating above 204 degC in the copper tube tables",
        thin: true,
        source: "Incropera Table A.1 (401 W/mK at 300 K, 379 at 600 K), from memory; oxidised",
    },
    Solid {
        name: "aluminium",
        aliases: &["aluminum", "alu"],
        density_kg_m3: 2702.0,
        heat_capacity_j_kgk: 903.0,
        heat_capacity_slope_j_kgk2: 0.45,
        conductivity_w_mk: 237.0,
        conductivity_slope_w_mk2: -0.01,
        emissivity: 0.2,
        limit_k: Some(200.0 + ZERO_C_K),
        limit_reason: "loses its strength",
        thin: true,
        source: "Incropera Table A.1 (237 W/mK, 903 J/kgK at 300 K), from memory",
    },
    Solid {
        name: "galvanised steel",
        aliases: &[
            "galvanized steel",
            "galvanised",
            "galvanized",
            "zinc coated steel",
        ],
        density_kg_m3: 7850.0,
        heat_capacity_j_kgk: 450.0,
        heat_capacity_slope_j_kgk2: 0.45,
        conductivity_w_mk: 58.0,
        conductivity_slope_w_mk2: -0.04,
        emissivity: 0.3,
        limit_k: Some(200.0 + ZERO_C_K),
        limit_reason: "zinc peels and, hotter, gives harmful fume",
        thin: true,
        source: "as steel; limit ASTM A653 practice 200 degC, from memory",
    },
    Solid {
        name: "air gap",
        aliases: &["air", "still air", "cavity"],
        density_kg_m3: 1.18,
        heat_capacity_j_kgk: 1007.0,
        heat_capacity_slope_j_kgk2: 0.05,
        conductivity_w_mk: 0.1107,
        conductivity_slope_w_mk2: 0.0006,
        emissivity: 0.8,
        limit_k: None,
        limit_reason: "",
        thin: false,
        source: "Incropera Table A.4 air plus radiation across the gap, from memory; no convection in the gap",
    },
];

/// Looks a material up by name or alias; case, `-` and `_` do not matter.
pub fn by_name(name: &str) -> Option<&'static Solid> {
    let n = normal_name(name);
    TABLE
        .iter()
        .find(|s| s.name == n || s.aliases.contains(&n.as_str()))
}

/// All names, without aliases.
pub fn names() -> Vec<&'static str> {
    TABLE.iter().map(|s| s.name).collect()
}

/// The whole table.
pub fn table() -> &'static [Solid] {
    TABLE
}
