//! Boiling at the tube wall: onset, pool and flow boiling, critical heat flux.

const G_M_S2: f64 = 9.80665;
/// Critical pressure of water, Pa (IAPWS).
const P_CRIT_PA: f64 = 22.064e6;

/// Wall superheat at which bubbles appear in flowing water (Bergles & Rohsenow 1964).
///
/// ΔT = 0.556 [q/(1082 p^1.156)]^(0.463 p^0.0234), p in bar
///
/// - `q_w_m2` wall heat flux >= 0; `p_pa` 1 to 138 bar
///
/// Geometry: clean commercial surfaces, flowing water. Source: J. Heat Transfer 86 (1964) 365-372 (SI form from memory).
/// Evidence: `published_onset_of_boiling_check_value`.
pub fn onset_superheat_k(q_w_m2: f64, p_pa: f64) -> f64 {
    let p = p_pa * 1e-5;
    0.556 * (q_w_m2.max(0.0) / (1082.0 * p.powf(1.156))).powf(0.463 * p.powf(0.0234))
}

/// Heat flux at which bubbles appear at a given wall superheat: the explicit inverse of [`onset_superheat_k`].
///
/// - `superheat_k` T_wall − T_sat; at or below 0 the result is 0
pub fn onset_flux_w_m2(superheat_k: f64, p_pa: f64) -> f64 {
    let p = p_pa * 1e-5;
    1082.0 * p.powf(1.156) * (superheat_k.max(0.0) / 0.556).powf(1.0 / (0.463 * p.powf(0.0234)))
}

/// Pool boiling coefficient of water at a given flux (Cooper 1984), W/(m² K).
///
/// h = 55 p_r^(0.12 − 0.2 log10 R_p) (−log10 p_r)^(−0.55) M^(−0.5) q^0.67, R_p = 1 µm, M = 18.015
///
/// - `q_w_m2` >= 0; `p_pa` 0.1 to 20 bar (p_r 0.001 to 0.9)
///
/// Scatter: 30 % and more; surfaces differ. Source: M. G. Cooper, IChemE Symp. Ser. 86 (1984) 785-793.
/// Evidence: `published_cooper_pool_boiling_matches_ht`.
pub fn pool_cooper_w_m2k(q_w_m2: f64, p_pa: f64) -> f64 {
    cooper_constant(p_pa) * q_w_m2.max(0.0).powf(0.67)
}

/// Pool boiling coefficient of water at a given wall superheat: [`pool_cooper_w_m2k`] solved for the superheat.
pub fn pool_cooper_at_superheat_w_m2k(superheat_k: f64, p_pa: f64) -> f64 {
    // h = C (h ΔT)^0.67
    let c = cooper_constant(p_pa);
    (c * superheat_k.max(0.0).powf(0.67)).powf(1.0 / 0.33)
}

#[inline]
fn cooper_constant(p_pa: f64) -> f64 {
    let pr = (p_pa / P_CRIT_PA).clamp(1e-5, 0.99);
    55.0 * pr.powf(0.12) * (-pr.log10()).powf(-0.55) / 18.015_f64.sqrt()
}

/// Pool boiling coefficient of water at a given flux (Gorenflo, VDI Heat Atlas), W/(m² K): a second model.
///
/// h = 5600 F(p_r) (q/20,000)^n, F = 1.73 p_r^0.27 + [6.1 + 0.68/(1 − p_r)] p_r², n = 0.9 − 0.3 p_r^0.15
///
/// Surface roughness 0.4 µm. Source: VDI Heat Atlas, section Hab (1993), as in `ht` 1.2.0.
/// Evidence: `published_gorenflo_matches_ht`.
pub fn gorenflo_w_m2k(q_w_m2: f64, p_pa: f64) -> f64 {
    let pr = (p_pa / P_CRIT_PA).clamp(1e-5, 0.99);
    let n = 0.9 - 0.3 * pr.powf(0.15);
    let f = 1.73 * pr.powf(0.27) + (6.1 + 0.68 / (1.0 - pr)) * pr * pr;
    5600.0 * f * (q_w_m2.max(0.0) / 20_000.0).powf(n)
}

/// Saturated water and steam at one pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Saturated {
    pub rho_f_kg_m3: f64,
    pub rho_g_kg_m3: f64,
    pub mu_f_pa_s: f64,
    pub cp_f_j_kgk: f64,
    pub k_f_w_mk: f64,
    pub h_fg_j_kg: f64,
    pub sigma_n_m: f64,
}

/// Nucleate pool boiling flux (Rohsenow 1952), W/m².
///
/// q = μ h_fg √[g (ρ_f − ρ_g)/σ] [c_p ΔT/(C_sf h_fg Pr^n)]³
///
/// - `superheat_k` >= 0; `c_sf` [-] surface: 0.0128 polished copper, 0.0068 scored copper, 0.0080 ground and
///   polished stainless steel; `n` 1 for water
///
/// Scatter: 100 % in flux at given superheat. Goes with Pr^(−3): fix Pr first (880 kW/m² with c_p μ/k = 1.73,
/// 836 with the tabulated 1.76, at 18 K on copper).
/// Source: Bergman et al., 6th ed., eq. 10.5. Evidence: `published_rohsenow_copper_at_18_k`.
pub fn rohsenow_flux_w_m2(superheat_k: f64, s: &Saturated, c_sf: f64, n: f64) -> f64 {
    let pr = s.cp_f_j_kgk * s.mu_f_pa_s / s.k_f_w_mk;
    let x = s.cp_f_j_kgk * superheat_k.max(0.0) / (c_sf * s.h_fg_j_kg * pr.powf(n));
    s.mu_f_pa_s
        * s.h_fg_j_kg
        * (G_M_S2 * (s.rho_f_kg_m3 - s.rho_g_kg_m3) / s.sigma_n_m).sqrt()
        * x
        * x
        * x
}

/// Critical heat flux of pool boiling (Zuber; Lienhard & Dhir's 0.149), W/m².
///
/// q = 0.149 h_fg √ρ_g [σ g (ρ_f − ρ_g)]^(1/4)
///
/// The bound for a coil whose flow has stopped. Source: Bergman et al., 6th ed., eq. 10.6.
/// Evidence: `published_zuber_critical_flux_at_one_atmosphere`.
pub fn zuber_chf_w_m2(s: &Saturated) -> f64 {
    0.149
        * s.h_fg_j_kg
        * s.rho_g_kg_m3.sqrt()
        * (s.sigma_n_m * G_M_S2 * (s.rho_f_kg_m3 - s.rho_g_kg_m3))
            .sqrt()
            .sqrt()
}

/// What [`flow_boiling_h_w_m2k`] needs to know of the stream.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoilingStream {
    /// Flow quality; below 0 (subcooled) counts as 0.
    pub x: f64,
    /// Reynolds number of the whole flow as liquid.
    pub re_lo: f64,
    pub pr_f: f64,
    /// ρ_f/ρ_g.
    pub density_ratio: f64,
}

impl BoilingStream {
    /// Forced-convection enhancement F = [1 + x Pr (ρ_f/ρ_g − 1)]^0.35; 1 at x = 0.
    #[inline]
    pub fn enhancement(&self) -> f64 {
        (1.0 + self.x.clamp(0.0, 1.0) * self.pr_f * (self.density_ratio - 1.0)).powf(0.35)
    }

    /// Suppression of bubbles S = 1/(1 + 0.055 F^0.1 Re^0.16); 1 at rest.
    #[inline]
    pub fn suppression(&self, enhancement: f64) -> f64 {
        1.0 / (1.0 + 0.055 * enhancement.powf(0.1) * self.re_lo.max(0.0).powf(0.16))
    }
}

/// Wall coefficient of saturated flow boiling (Liu & Winterton 1991), W/(m² K).
///
/// h = √[(F h_l)² + (S h_pool)²], F = [1 + x Pr (ρ_f/ρ_g − 1)]^0.35, S = 1/(1 + 0.055 F^0.1 Re^0.16)
///
/// - `h_liquid_w_m2k` single-phase coefficient of the whole flow as liquid (helix correlation: the coil's
///   secondary flow stays); `h_pool_w_m2k` [`pool_cooper_w_m2k`] at the wall flux
///
/// Smooth in x from 0; at rest it is pool boiling. Stated scatter: 20 % saturated. Not valid after dry-out: see [`dryout_share`].
/// Source: Int. J. Heat Mass Transfer 34 (1991) 2759-2766. Evidence: `published_liu_winterton_matches_ht`.
pub fn flow_boiling_h_w_m2k(h_liquid_w_m2k: f64, h_pool_w_m2k: f64, s: &BoilingStream) -> f64 {
    let f = s.enhancement();
    let (a, b) = (f * h_liquid_w_m2k, s.suppression(f) * h_pool_w_m2k);
    (a * a + b * b).sqrt()
}

/// Wall flux with boiling in water that may be subcooled (Liu & Winterton 1991), W/m²; continuous through onset.
///
/// q = √{[F h_l (T_w − T_b)]² + [S h_pool (T_w − T_sat)]²}; the boiling part counts only above saturation
///
/// - `wall_minus_bulk_k` T_w − T_b, any sign (a cooled wall gives the plain convective flux);
///   `superheat_k` T_w − T_sat; `h_pool_w_m2k` at that superheat, e.g. [`pool_cooper_at_superheat_w_m2k`]
///
/// Evidence: `identity_subcooled_boiling_flux_has_no_jump_at_saturation`.
pub fn flow_boiling_flux_w_m2(
    h_liquid_w_m2k: f64,
    wall_minus_bulk_k: f64,
    h_pool_w_m2k: f64,
    superheat_k: f64,
    s: &BoilingStream,
) -> f64 {
    let f = s.enhancement();
    let convective = f * h_liquid_w_m2k * wall_minus_bulk_k;
    let boiling = s.suppression(f) * h_pool_w_m2k * superheat_k.max(0.0);
    let positive = convective.max(0.0);
    (positive * positive + boiling * boiling).sqrt() + convective.min(0.0)
}

/// Share of the wall that is dry, 0 to 1: a cubic step in quality from `x_start` to `x_end`.
///
/// In coils the film holds longer than in straight tubes (centrifugal wetting); 0.7 to 0.95 is a common range
/// at 1 bar and low flux (common practice, no source). Blend: h = (1 − s) h_boiling + s h_steam.
#[inline]
pub fn dryout_share(x: f64, x_start: f64, x_end: f64) -> f64 {
    super::smoothstep((x - x_start) / (x_end - x_start))
}
