//! Strength of tube metals against temperature: allowable stress of the pressure tables, tensile strength, elasticity.

use super::{ZERO_C_K, between};
use crate::properties::metals;

/// Copper tube as it is sold and bent, or hardened by drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Temper {
    Annealed,
    Drawn,
}

/// Strength of a metal. Temperatures in degC, stresses in MPa.
#[derive(Debug, Clone, Copy)]
pub struct Strength {
    pub metal: &'static str,
    pub temper: Temper,
    /// Allowable stress; nothing is allowed beyond the last temperature.
    pub allowable: &'static [(f64, f64)],
    pub allowable_source: &'static str,
    /// Short-time tensile strength, down to nothing at the melting point.
    pub tensile: &'static [(f64, f64)],
    pub tensile_source: &'static str,
    /// Temperature at which hardening by drawing is lost within the time of a burn, degC, low end of its range.
    pub softening_c: Option<(f64, &'static str)>,
}

/// 1 psi in MPa.
const PSI: f64 = 6.894_757e-3;

const HANDBOOK: &str = "Copper Tube Handbook, table of rated internal working pressures (types K, L, M), head of columns: \
                        ASME B31 allowable stress, 100 to 400 degF";
const COPPER_TENSILE: &str = "32 ksi at room temperature: usual for burst figures of annealed tube (common practice); fall \
                              with temperature after ASM Handbook vol. 2, from memory, +/-20 %";

static TABLE: &[Strength] = &[
    Strength {
        metal: "copper",
        temper: Temper::Annealed,
        allowable: &[
            (37.8, 6000.0 * PSI),
            (65.6, 5100.0 * PSI),
            (93.3, 4900.0 * PSI),
            (121.1, 4800.0 * PSI),
            (148.9, 4700.0 * PSI),
            (176.7, 4000.0 * PSI),
            (204.4, 3000.0 * PSI),
        ],
        allowable_source: HANDBOOK,
        tensile: &[
            (20.0, 220.0),
            (100.0, 200.0),
            (200.0, 170.0),
            (300.0, 140.0),
            (400.0, 105.0),
            (500.0, 70.0),
            (600.0, 45.0),
            (700.0, 27.0),
            (800.0, 15.0),
            (900.0, 8.0),
            (1083.0, 0.0),
        ],
        tensile_source: COPPER_TENSILE,
        softening_c: None,
    },
    Strength {
        metal: "copper",
        temper: Temper::Drawn,
        allowable: &[
            (37.8, 10_300.0 * PSI),
            (121.1, 10_300.0 * PSI),
            (148.9, 10_000.0 * PSI),
            (176.7, 9700.0 * PSI),
            (204.4, 9400.0 * PSI),
        ],
        allowable_source: HANDBOOK,
        tensile: &[
            (20.0, 310.0),
            (200.0, 260.0),
            (370.0, 115.0),
            (400.0, 105.0),
            (600.0, 45.0),
            (800.0, 15.0),
            (1083.0, 0.0),
        ],
        tensile_source: COPPER_TENSILE,
        softening_c: Some((
            220.0,
            "cold work is lost from 200..250 degC, annealed by 370..650 degC; ASM Handbook vol. 2, from memory",
        )),
    },
    Strength {
        metal: "stainless steel 304",
        temper: Temper::Annealed,
        allowable: &[
            (38.0, 138.0),
            (93.0, 115.0),
            (149.0, 103.0),
            (204.0, 95.0),
            (260.0, 89.0),
            (316.0, 82.0),
            (427.0, 72.0),
            (538.0, 67.0),
        ],
        allowable_source: "ASME BPVC II-D, 304 seamless tube, from memory, +/-10 %",
        tensile: &[
            (20.0, 515.0),
            (200.0, 440.0),
            (400.0, 415.0),
            (600.0, 350.0),
            (800.0, 185.0),
            (1000.0, 70.0),
            (1400.0, 0.0),
        ],
        tensile_source: "minimum of ASTM A269 at room temperature; fall with temperature from memory, +/-20 %",
        softening_c: None,
    },
    Strength {
        metal: "carbon steel",
        temper: Temper::Annealed,
        allowable: &[
            (38.0, 118.0),
            (343.0, 118.0),
            (371.0, 108.0),
            (399.0, 90.0),
            (427.0, 74.0),
        ],
        allowable_source: "ASME BPVC II-D, SA-106 B, from memory, +/-10 %",
        tensile: &[
            (20.0, 415.0),
            (300.0, 415.0),
            (400.0, 370.0),
            (500.0, 280.0),
            (600.0, 190.0),
            (700.0, 100.0),
            (800.0, 46.0),
            (1450.0, 0.0),
        ],
        tensile_source: "SA-106 B at room temperature; fall with temperature as EN 1993-1-2 table 3.1, from memory, +/-20 %",
        softening_c: None,
    },
];

/// The whole table.
pub(super) fn table() -> &'static [Strength] {
    TABLE
}

/// Strength of a metal named as in the metals' table; copper in a coil counts as annealed, since bending and brazing
/// leave it soft. All stainless steels count as 304, other steels as carbon steel; `None` where nothing is known.
pub fn strength_of(metal: &str) -> Option<&'static Strength> {
    let name = metals::by_name(metal).map_or(metal, |m| m.name);
    let key = if name.contains("copper") {
        "copper"
    } else if name.contains("stainless") {
        "stainless steel 304"
    } else if name.contains("steel") {
        "carbon steel"
    } else {
        return None;
    };
    TABLE.iter().find(|s| s.metal == key)
}

/// Allowable stress at a wall temperature, Pa: none beyond the table.
pub fn allowable_pa(s: &Strength, wall_k: f64) -> f64 {
    let t = wall_k - ZERO_C_K;
    if s.allowable.last().is_none_or(|end| t > end.0) {
        return 0.0;
    }
    1e6 * between(s.allowable, t)
}

/// Short-time tensile strength at a wall temperature, Pa.
pub fn tensile_pa(s: &Strength, wall_k: f64) -> f64 {
    1e6 * between(s.tensile, wall_k - ZERO_C_K)
}

/// Elasticity of a tube's metal.
#[derive(Debug, Clone, Copy)]
pub struct Elastic {
    pub metal: &'static str,
    pub young_pa: f64,
    pub poisson: f64,
    pub source: &'static str,
}

pub(super) static ELASTIC: &[Elastic] = &[
    Elastic {
        metal: "copper",
        young_pa: 117e9,
        poisson: 0.34,
        source: "Copper Tube Handbook (17,000 ksi), Poisson's ratio from memory",
    },
    Elastic {
        metal: "stainless",
        young_pa: 193e9,
        poisson: 0.29,
        source: "EN 10088-1 table E.1 (200 GPa), ASM (193 GPa), from memory",
    },
    Elastic {
        metal: "brass",
        young_pa: 105e9,
        poisson: 0.35,
        source: "common practice, no source",
    },
    Elastic {
        metal: "aluminium",
        young_pa: 70e9,
        poisson: 0.33,
        source: "EN 1999-1-1",
    },
    Elastic {
        metal: "steel",
        young_pa: 205e9,
        poisson: 0.29,
        source: "common practice, no source",
    },
];

/// Elasticity of a metal by its name; steel's where nothing nearer is known.
pub fn elastic(metal: &str) -> &'static Elastic {
    ELASTIC
        .iter()
        .find(|e| metal.contains(e.metal))
        .unwrap_or(&ELASTIC[ELASTIC.len() - 1])
}
