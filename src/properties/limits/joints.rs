//! What joints melt at: soft solders and brazing alloys.

use super::ZERO_C_K;

/// Melting range of a joint's filler, degC.
#[derive(Debug, Clone, Copy)]
pub struct Joint {
    pub name: &'static str,
    pub solidus_c: f64,
    pub liquidus_c: f64,
    pub source: &'static str,
    pub remark: &'static str,
}

/// Lowest solidus of the common soft solders, K: a joint of unknown filler lets go from here.
pub const SOFT_SOLDER_K: f64 = 183.0 + ZERO_C_K;

/// Ordered by solidus.
pub static JOINTS: &[Joint] = &[
    Joint {
        name: "tin-lead 50/50",
        solidus_c: 183.0,
        liquidus_c: 216.0,
        source: "ASTM B32, from memory",
        remark: "not for drinking water",
    },
    Joint {
        name: "tin-silver 96/4",
        solidus_c: 221.0,
        liquidus_c: 229.0,
        source: "ASTM B32, from memory",
        remark: "",
    },
    Joint {
        name: "tin-copper 97/3",
        solidus_c: 227.0,
        liquidus_c: 310.0,
        source: "EN ISO 9453, from memory",
        remark: "",
    },
    Joint {
        name: "tin-antimony 95/5",
        solidus_c: 232.0,
        liquidus_c: 240.0,
        source: "ASTM B32, from memory",
        remark: "",
    },
    Joint {
        name: "silver braze, 56 % Ag",
        solidus_c: 618.0,
        liquidus_c: 652.0,
        source: "AWS A5.8 BAg-7, from memory",
        remark: "",
    },
    Joint {
        name: "phosphor-copper-silver braze, 15 % Ag",
        solidus_c: 643.0,
        liquidus_c: 802.0,
        source: "AWS A5.8 BCuP-5, from memory",
        remark: "copper to copper; not on steel",
    },
    Joint {
        name: "phosphor-copper braze",
        solidus_c: 710.0,
        liquidus_c: 793.0,
        source: "AWS A5.8 BCuP-2, from memory",
        remark: "copper to copper; not on steel",
    },
];

/// A joint by its name.
pub fn by_name(name: &str) -> Option<&'static Joint> {
    JOINTS.iter().find(|j| j.name == name)
}
