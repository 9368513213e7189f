//! Water, flue gas, wood, metals, masonry: data with range and source.
//!
//! Everything here is a plain value: tables are built once and then only read, so that a right-hand side may
//! ask for a hundred properties without an allocation or a lock. Property functions never return NaN for a
//! finite argument: outside their range they are continued flat or in a straight line, as each one says.

pub mod atmosphere;
pub mod combustion;
mod cubic;
pub mod gas;
pub mod limits;
pub mod metals;
pub mod pipes;
pub mod solids;
pub mod tubes;
pub mod water;
pub mod wood;

/// Reference temperature of every enthalpy in the program, K (25 degC).
pub const T_REF_K: f64 = 298.15;

/// Lower case, single spaces: how names of the tables are compared (`-` and `_` count as spaces).
pub(crate) fn normal_name(name: &str) -> String {
    name.to_lowercase()
        .replace(['-', '_'], " ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}
