//! The energy and mass account of a run: what came in, where it went, what is left over.

use serde::Serialize;

/// One line of the account. Positive: as the side that it stands on says.
#[derive(Debug, Clone, Serialize)]
pub struct LedgerLine {
    /// Stable key, e.g. `stack_sensible`.
    pub key: String,
    /// Words for a person, e.g. "Up the stack, sensible".
    pub label: String,
    pub energy_j: f64,
}

/// One conserved mass.
#[derive(Debug, Clone, Serialize)]
pub struct MassBalance {
    pub name: String,
    pub in_kg: f64,
    pub out_kg: f64,
    pub stored_kg: f64,
    /// |in - out - stored| / max(in, 1 g)
    pub residual_fraction: f64,
}

/// Gross basis, reference 298.15 K, liquid water at the reference carries nothing.
#[derive(Debug, Clone, Serialize)]
pub struct Ledger {
    /// What came in: fuel (gross), enthalpy of fuel and air at ambient, pump work.
    pub inputs: Vec<LedgerLine>,
    /// What left for good: stack sensible and latent, unburnt, casing, pipes, vessel, evaporation, draws.
    pub outputs: Vec<LedgerLine>,
    /// What is still in the rig at the end, over the start: water, walls, metal, char, wood.
    pub stored: Vec<LedgerLine>,
    /// Inputs - outputs - stored.
    pub unaccounted_j: f64,
    /// |unaccounted| / max(fuel energy, 1 MJ)
    pub residual_fraction: f64,
    pub masses: Vec<MassBalance>,
}
