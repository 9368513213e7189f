//! Boiling water and its steam at 1 atm, on their own and in a tube.

use emberloop::correlations::boiling::Saturated;
use emberloop::correlations::two_phase::TwoPhaseFlow;

pub const ATM: f64 = 101_325.0;
pub const RHO_F: f64 = 957.9;
pub const RHO_G: f64 = 0.5956;

/// Saturated water at 1 atm as in Bergman et al., 6th ed., table A.6.
pub const WATER: Saturated = Saturated {
    rho_f_kg_m3: RHO_F,
    rho_g_kg_m3: RHO_G,
    mu_f_pa_s: 279e-6,
    cp_f_j_kgk: 4217.0,
    k_f_w_mk: 0.68,
    h_fg_j_kg: 2257e3,
    sigma_n_m: 58.9e-3,
};

/// In a 20 mm tube; the last by the reference library's friction factors.
pub const STEAM_AND_WATER: TwoPhaseFlow = TwoPhaseFlow {
    rho_f_kg_m3: RHO_F,
    rho_g_kg_m3: RHO_G,
    mu_f_pa_s: 279e-6,
    mu_g_pa_s: 12.02e-6,
    sigma_n_m: 58.9e-3,
    g_kg_m2s: 300.0,
    d_m: 0.02,
    f_go_over_f_lo: 0.517_608_83,
};
