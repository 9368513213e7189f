//! Tube metals: properties and the wall temperature above which a warning is due, with its reason.

use super::normal_name;

/// Metal of a coil or pipe wall; constant properties near 400 K, where a water-cooled tube lives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Metal {
    pub name: &'static str,
    pub aliases: &'static [&'static str],
    pub density_kg_m3: f64,
    pub heat_capacity_j_kgk: f64,
    pub conductivity_w_mk: f64,
    /// Total hemispherical emissivity of the surface as it is in use: oxidised, not sooted.
    pub emissivity: f64,
    /// Wall temperature above which a warning is given.
    pub limit_k: f64,
    pub limit_reason: &'static str,
    /// End of the melting range (solidus).
    pub melting_k: f64,
    /// Inside surface roughness of new drawn tube (steel: commercial pipe).
    pub roughness_m: f64,
    /// Mean linear expansion 293 to 473 K, 1/K.
    pub expansion_per_k: f64,
    pub source: &'static str,
}

/// Celsius zero, K.
const ZERO_C_K: f64 = 273.15;

static TABLE: &[Metal] = &[
    Metal {
        name: "copper",
        aliases: &["cu", "copper tube", "cu dhp", "c12200"],
        density_kg_m3: 8940.0,
        heat_capacity_j_kgk: 390.0,
        conductivity_w_mk: 340.0,
        emissivity: 0.60,
        limit_k: 204.0 + ZERO_C_K,
        limit_reason: "no pressure rating above 204 degC (400 degF) in the copper tube tables; hard tube softens, \
                       soft-soldered joints melt from about 183 degC",
        melting_k: 1083.0 + ZERO_C_K,
        roughness_m: 1.5e-6,
        expansion_per_k: 17.0e-6,
        source: "phosphorus-deoxidised copper C12200 (340 W/mK), Copper Tube Handbook table 3c (ratings end at \
                 400 degF), oxidised emissivity Incropera Table A.11; from memory but for the ratings",
    },
    Metal {
        name: "stainless steel 304",
        aliases: &[
            "304",
            "304l",
            "stainless",
            "stainless steel",
            "inox",
            "aisi 304",
            "1.4301",
            "1.4307",
        ],
        density_kg_m3: 7900.0,
        heat_capacity_j_kgk: 510.0,
        conductivity_w_mk: 16.3,
        emissivity: 0.60,
        limit_k: 425.0 + ZERO_C_K,
        limit_reason: "sensitised between 425 and 860 degC: later corrosion along grain boundaries",
        melting_k: 1400.0 + ZERO_C_K,
        roughness_m: 1.5e-6,
        expansion_per_k: 16.8e-6,
        source: "EN 10088-1, Incropera Table A.1 (16.6 W/mK, 515 J/kgK at 400 K), from memory",
    },
    Metal {
        name: "stainless steel 316",
        aliases: &[
            "316",
            "316l",
            "316 stainless",
            "aisi 316",
            "1.4401",
            "1.4404",
        ],
        density_kg_m3: 8000.0,
        heat_capacity_j_kgk: 510.0,
        conductivity_w_mk: 15.2,
        emissivity: 0.60,
        limit_k: 425.0 + ZERO_C_K,
        limit_reason: "sensitised between 425 and 860 degC: later corrosion along grain boundaries",
        melting_k: 1375.0 + ZERO_C_K,
        roughness_m: 1.5e-6,
        expansion_per_k: 16.5e-6,
        source: "EN 10088-1, Incropera Table A.1 (AISI 316: 15.2 W/mK, 504 J/kgK at 400 K), from memory",
    },
    Metal {
        name: "carbon steel",
        aliases: &[
            "steel",
            "black steel",
            "mild steel",
            "steel pipe",
            "black iron",
            "black pipe",
        ],
        density_kg_m3: 7850.0,
        heat_capacity_j_kgk: 487.0,
        conductivity_w_mk: 56.7,
        emissivity: 0.80,
        limit_k: 427.0 + ZERO_C_K,
        limit_reason: "long service above 427 degC (800 degF) turns the carbides to graphite (note in ASME B31.1)",
        melting_k: 1430.0 + ZERO_C_K,
        roughness_m: 45e-6,
        expansion_per_k: 12.0e-6,
        source: "Incropera Table A.1 (plain carbon steel at 400 K); roughness of commercial steel, Moody 1944; from memory",
    },
    Metal {
        name: "brass",
        aliases: &["red brass", "c23000"],
        density_kg_m3: 8750.0,
        heat_capacity_j_kgk: 385.0,
        conductivity_w_mk: 159.0,
        emissivity: 0.60,
        limit_k: 204.0 + ZERO_C_K,
        limit_reason: "strength falls fast above 204 degC; ratings of brass pipe end near there",
        melting_k: 990.0 + ZERO_C_K,
        roughness_m: 1.5e-6,
        expansion_per_k: 18.7e-6,
        source: "red brass C23000 (159 W/mK), alloy data sheets, from memory",
    },
    Metal {
        name: "aluminium",
        aliases: &["aluminum", "alu", "6063", "al"],
        density_kg_m3: 2700.0,
        heat_capacity_j_kgk: 930.0,
        conductivity_w_mk: 201.0,
        emissivity: 0.20,
        limit_k: 177.0 + ZERO_C_K,
        limit_reason: "heat-treated alloys overage and lose their strength above about 177 degC (350 degF)",
        melting_k: 615.0 + ZERO_C_K,
        roughness_m: 1.5e-6,
        expansion_per_k: 24.0e-6,
        source: "alloy 6063 (201 W/mK), alloy data sheets, from memory",
    },
];

/// Looks a metal up by name or alias; case, `-` and `_` do not matter.
pub fn by_name(name: &str) -> Option<&'static Metal> {
    let n = normal_name(name);
    TABLE
        .iter()
        .find(|m| m.name == n || m.aliases.contains(&n.as_str()))
}

/// All names, without aliases.
pub fn names() -> Vec<&'static str> {
    TABLE.iter().map(|m| m.name).collect()
}

/// The whole table.
pub fn table() -> &'static [Metal] {
    TABLE
}
