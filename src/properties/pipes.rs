//! Pipes and hoses between coil and store: wall heat capacity, loss to the air, temperature limit.

use super::atmosphere::SIGMA_W_M2K4;
use super::normal_name;
use std::f64::consts::PI;

/// What a connecting pipe is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PipeKind {
    pub name: &'static str,
    pub aliases: &'static [&'static str],
    /// Wall thickness = larger of this and `wall_share` of the inside diameter.
    pub wall_min_m: f64,
    pub wall_share: f64,
    pub density_kg_m3: f64,
    pub heat_capacity_j_kgk: f64,
    pub conductivity_w_mk: f64,
    /// Insulation thickness (zero: bare) and its conductivity.
    pub insulation_m: f64,
    pub insulation_w_mk: f64,
    pub emissivity: f64,
    pub roughness_m: f64,
    /// Longest-term water temperature that the material is rated for.
    pub limit_k: f64,
    pub limit_reason: &'static str,
    pub source: &'static str,
}

impl PipeKind {
    /// Wall thickness for an inside diameter.
    pub fn wall_m(&self, inside_m: f64) -> f64 {
        self.wall_min_m.max(self.wall_share * inside_m)
    }

    /// Heat capacity of the pipe's own wall per metre (insulation not counted).
    pub fn wall_heat_capacity_j_mk(&self, inside_m: f64) -> f64 {
        let t = self.wall_m(inside_m);
        PI * (inside_m + t) * t * self.density_kg_m3 * self.heat_capacity_j_kgk
    }

    /// Loss to still air per metre and kelvin between water and air, at `excess_k` above air at 293 K.
    ///
    /// Conduction through wall and insulation, then natural convection (simplified McAdams for a horizontal
    /// cylinder in air, h = 1.32 (dT/d)^(1/4), from memory) and radiation. Typical of `excess_k` 40 K.
    pub fn loss_w_mk(&self, inside_m: f64, excess_k: f64) -> f64 {
        let wall_d_m = inside_m + 2.0 * self.wall_m(inside_m);
        let outside_m = wall_d_m + 2.0 * self.insulation_m;
        let mut r_mk_w = (wall_d_m / inside_m).ln() / (2.0 * PI * self.conductivity_w_mk);
        if self.insulation_m > 0.0 {
            r_mk_w += (outside_m / wall_d_m).ln() / (2.0 * PI * self.insulation_w_mk);
        }
        let air_k = 293.15;
        let excess = excess_k.clamp(1.0, 200.0);
        // The surface excess follows from the coefficient and the other way round: a few fixed-point steps.
        let mut surface_k = 0.5 * excess;
        let mut loss = 0.0;
        for _ in 0..20 {
            let t_mean_k = air_k + 0.5 * surface_k;
            let h = 1.32 * (surface_k / outside_m).powf(0.25)
                + 4.0 * self.emissivity * SIGMA_W_M2K4 * t_mean_k.powi(3);
            let r_out_mk_w = 1.0 / (PI * outside_m * h);
            loss = 1.0 / (r_mk_w + r_out_mk_w);
            surface_k = excess * r_out_mk_w * loss;
        }
        loss
    }
}

/// Celsius zero, K.
const ZERO_C_K: f64 = 273.15;

const BARE: f64 = 0.0;

static TABLE: &[PipeKind] = &[
    PipeKind {
        name: "hose",
        aliases: &["rubber hose", "epdm hose", "heater hose", "garden hose"],
        wall_min_m: 3.0e-3,
        wall_share: 0.20,
        density_kg_m3: 1200.0,
        heat_capacity_j_kgk: 1700.0,
        conductivity_w_mk: 0.25,
        insulation_m: BARE,
        insulation_w_mk: 0.04,
        emissivity: 0.92,
        roughness_m: 10e-6,
        limit_k: 95.0 + ZERO_C_K,
        limit_reason: "EPDM hose for hot water; a garden hose softens far below",
        source: "makers' sheets of EPDM hose, from memory",
    },
    PipeKind {
        name: "copper",
        aliases: &["copper pipe", "copper tube"],
        wall_min_m: 1.0e-3,
        wall_share: 0.045,
        density_kg_m3: 8940.0,
        heat_capacity_j_kgk: 385.0,
        conductivity_w_mk: 340.0,
        insulation_m: BARE,
        insulation_w_mk: 0.04,
        emissivity: 0.30,
        roughness_m: 1.5e-6,
        limit_k: 110.0 + ZERO_C_K,
        limit_reason: "soft-soldered joints (EN 1254-1 gives 110 degC)",
        source: "EN 1057 walls, tarnished surface; from memory",
    },
    PipeKind {
        name: "steel",
        aliases: &[
            "steel pipe",
            "black pipe",
            "carbon steel",
            "galvanised",
            "galvanized",
        ],
        wall_min_m: 2.6e-3,
        wall_share: 0.08,
        density_kg_m3: 7850.0,
        heat_capacity_j_kgk: 460.0,
        conductivity_w_mk: 54.0,
        insulation_m: BARE,
        insulation_w_mk: 0.04,
        emissivity: 0.80,
        roughness_m: 45e-6,
        limit_k: 110.0 + ZERO_C_K,
        limit_reason: "thread sealants and gaskets of water fittings",
        source: "ISO 65 walls; roughness of commercial steel, Moody 1944; from memory",
    },
    PipeKind {
        name: "stainless",
        aliases: &["stainless steel", "stainless pipe", "inox"],
        wall_min_m: 1.0e-3,
        wall_share: 0.05,
        density_kg_m3: 7900.0,
        heat_capacity_j_kgk: 500.0,
        conductivity_w_mk: 15.0,
        insulation_m: BARE,
        insulation_w_mk: 0.04,
        emissivity: 0.30,
        roughness_m: 1.5e-6,
        limit_k: 120.0 + ZERO_C_K,
        limit_reason: "seal rings of press fittings (EPDM)",
        source: "EN 10312 walls; from memory",
    },
    PipeKind {
        name: "pex",
        aliases: &[
            "pe x",
            "cross linked polyethylene",
            "plastic",
            "plastic pipe",
        ],
        wall_min_m: 2.0e-3,
        wall_share: 0.185,
        density_kg_m3: 940.0,
        heat_capacity_j_kgk: 2300.0,
        conductivity_w_mk: 0.38,
        insulation_m: BARE,
        insulation_w_mk: 0.04,
        emissivity: 0.90,
        roughness_m: 7e-6,
        limit_k: 90.0 + ZERO_C_K,
        limit_reason: "ISO 15875 class 5: 90 degC highest operating, 100 degC malfunction",
        source: "ISO 15875 series S 3.2 walls (16x2.2, 20x2.8), from memory",
    },
    PipeKind {
        name: "insulated copper",
        aliases: &["copper insulated", "lagged copper"],
        wall_min_m: 1.0e-3,
        wall_share: 0.045,
        density_kg_m3: 8940.0,
        heat_capacity_j_kgk: 385.0,
        conductivity_w_mk: 340.0,
        insulation_m: 20e-3,
        insulation_w_mk: 0.040,
        emissivity: 0.90,
        roughness_m: 1.5e-6,
        limit_k: 110.0 + ZERO_C_K,
        limit_reason: "soft-soldered joints and foam insulation",
        source: "as copper, with 20 mm of foam or mineral wool at 0.040 W/mK (common practice)",
    },
    PipeKind {
        name: "insulated steel",
        aliases: &["steel insulated", "lagged steel"],
        wall_min_m: 2.6e-3,
        wall_share: 0.08,
        density_kg_m3: 7850.0,
        heat_capacity_j_kgk: 460.0,
        conductivity_w_mk: 54.0,
        insulation_m: 20e-3,
        insulation_w_mk: 0.040,
        emissivity: 0.90,
        roughness_m: 45e-6,
        limit_k: 110.0 + ZERO_C_K,
        limit_reason: "thread sealants, gaskets and foam insulation",
        source: "as steel, with 20 mm of foam or mineral wool at 0.040 W/mK (common practice)",
    },
    PipeKind {
        name: "insulated stainless",
        aliases: &["stainless insulated", "insulated stainless steel"],
        wall_min_m: 1.0e-3,
        wall_share: 0.05,
        density_kg_m3: 7900.0,
        heat_capacity_j_kgk: 500.0,
        conductivity_w_mk: 15.0,
        insulation_m: 20e-3,
        insulation_w_mk: 0.040,
        emissivity: 0.90,
        roughness_m: 1.5e-6,
        limit_k: 120.0 + ZERO_C_K,
        limit_reason: "seal rings of press fittings and foam insulation",
        source: "as stainless, with 20 mm of foam or mineral wool at 0.040 W/mK (common practice)",
    },
    PipeKind {
        name: "insulated pex",
        aliases: &["pex insulated", "insulated plastic"],
        wall_min_m: 2.0e-3,
        wall_share: 0.185,
        density_kg_m3: 940.0,
        heat_capacity_j_kgk: 2300.0,
        conductivity_w_mk: 0.38,
        insulation_m: 20e-3,
        insulation_w_mk: 0.040,
        emissivity: 0.90,
        roughness_m: 7e-6,
        limit_k: 90.0 + ZERO_C_K,
        limit_reason: "ISO 15875 class 5: 90 degC highest operating, 100 degC malfunction",
        source: "as pex, with 20 mm of foam or mineral wool at 0.040 W/mK (common practice)",
    },
    PipeKind {
        name: "insulated hose",
        aliases: &["hose insulated"],
        wall_min_m: 3.0e-3,
        wall_share: 0.20,
        density_kg_m3: 1200.0,
        heat_capacity_j_kgk: 1700.0,
        conductivity_w_mk: 0.25,
        insulation_m: 20e-3,
        insulation_w_mk: 0.040,
        emissivity: 0.90,
        roughness_m: 10e-6,
        limit_k: 95.0 + ZERO_C_K,
        limit_reason: "EPDM hose for hot water; a garden hose softens far below",
        source: "as hose, with 20 mm of foam or mineral wool at 0.040 W/mK (common practice)",
    },
];

/// Looks a pipe up by name or alias; case, `-` and `_` do not matter.
pub fn kind_by_name(name: &str) -> Option<&'static PipeKind> {
    let n = normal_name(name);
    TABLE
        .iter()
        .find(|p| p.name == n || p.aliases.contains(&n.as_str()))
}

/// All names, without aliases.
pub fn names() -> Vec<&'static str> {
    TABLE.iter().map(|p| p.name).collect()
}

/// The whole table.
pub fn table() -> &'static [PipeKind] {
    TABLE
}
