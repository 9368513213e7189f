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

/// How much more critical flux colder water allows in pool boiling (Ivey & Morris 1962): a factor of at least 1.
///
/// 1 + 0.1 (ρ_f/ρ_g)^0.75 c_p ΔT_sub/h_fg
///
/// - `subcooling_k` T_sat − T_bulk, 0 to 70; at or below 0 the factor is 1
///
/// Range: water 0.3 to 34 bar. Source: H. J. Ivey, D. J. Morris, report AEEW-R 137 (1962) (from memory).
/// Evidence: `published_subcooling_raises_the_critical_flux_alike_in_two_models`.
pub fn subcooled_pool_factor(subcooling_k: f64, s: &Saturated) -> f64 {
    let ratio = (s.rho_f_kg_m3 / s.rho_g_kg_m3).sqrt();
    1.0 + 0.1 * ratio * ratio.sqrt() * s.cp_f_j_kgk * subcooling_k.max(0.0) / s.h_fg_j_kg
}

/// Share of the pool's critical flux that steam at the wall leaves (Griffith, Pearson & Lepkowski 1977): 0.96 − α, 0.04
/// at least.
///
/// - `void` local void fraction 0..1
///
/// For mass fluxes under 100 kg/(m² s), on Zuber's constant of 0.131. The corner at α = 0.92 is rounded over ±0.04.
/// Source: ASME paper 77-HT-39; as system codes use it (from memory).
/// Evidence: `published_steam_at_the_wall_takes_the_pools_critical_flux_away`.
pub fn griffith_share(void: f64) -> f64 {
    let over = 0.92 - void.clamp(0.0, 1.0);
    // Half of a hyperbola: within 0.02 of its two straight lines, at most at the corner.
    0.04 + 0.5 * (over + (over * over + 0.04 * 0.04).sqrt()) - 4.3e-4
}

/// Quality at which a tube fed at low mass flux dries out (Katto & Ohno 1984, long tubes), 0 to 1.
///
/// x = 4 C [σ ρ_f/(G² L)]^0.043; C = 0.25 for L/D < 50, 0.34 for L/D > 150, linear between
///
/// - `g_kg_m2s` mass flux > 0 (at rest the result is 1); `d_m` bore; `heated_m` heated length
///
/// The correlation's critical flux of a uniformly heated tube, q = C G h_fg [..]^0.043 D/L for saturated inlet, put as what
/// it says of the outlet: nearly all water has evaporated. Range: ρ_g/ρ_f 0.0003 to 0.41, D 1 to 38 mm, L/D 5 to 880.
/// Scatter: about 20 %. Straight tubes: coils hold their film longer. Where the tube is short (L/D < 50) or the flux high,
/// other branches of the correlation give less. Source: Int. J. Heat Mass Transfer 27 (1984) 1641-1648 (from memory).
/// Evidence: `identity_katto_and_ohno_evaporate_nearly_all_water_in_a_long_tube`.
pub fn dryout_quality_katto_ohno(g_kg_m2s: f64, d_m: f64, heated_m: f64, s: &Saturated) -> f64 {
    let c = 0.25 + 0.0009 * (heated_m / d_m - 50.0).clamp(0.0, 100.0);
    let weber = s.sigma_n_m * s.rho_f_kg_m3 / (g_kg_m2s * g_kg_m2s * heated_m).max(1e-12);
    (4.0 * c * weber.powf(0.043)).min(1.0)
}

/// Local state for [`critical_heat_flux_w_m2`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CriticalState {
    /// Coefficient of the flow as liquid, W/(m² K): what the bore's correlation gives, standing water included.
    pub h_liquid_w_m2k: f64,
    /// T_sat − T_bulk; at or below 0 where the water is saturated.
    pub subcooling_k: f64,
    /// Local void fraction, 0..1.
    pub void: f64,
    pub p_pa: f64,
}

/// Local critical heat flux in a tube at low pressure and low flow, W/m²: above it the wall is no longer wetted.
///
/// q = q_pool + h_l (1 − α) (T_w − T_b): what boiling carries off at its limit plus what the stream takes by convection
/// (Gambill's superposition), with
/// q_pool = 0.131/0.149 q_Zuber · (0.96 − α) · (1 + 0.1 (ρ_f/ρ_g)^0.75 c_p ΔT_sub/h_fg)
/// and T_w the wall that boils at q_pool by [`pool_cooper_w_m2k`].
///
/// Smooth in flow, subcooling and void; at rest and without steam 96 % of Zuber's pool. Copper and steel tubes of 10 to
/// 30 mm, 1 to 10 bar, G 0 to 2,000 kg/(m² s), ΔT_sub 0 to 70 K. Scatter: 40 % where water flows (96 % of 878 points lay
/// within it); a factor of 2 at rest in a tube, where steam has to leave by the way the water comes. It says nothing of
/// the stream running dry: see [`dryout_quality_katto_ohno`].
/// Source: W. R. Gambill, Chem. Eng. Progr. Symp. Ser. 59, no. 41 (1963) 71-87 (superposition and scatter, from memory);
/// [`zuber_chf_w_m2`], [`griffith_share`], [`subcooled_pool_factor`].
/// Evidence: `published_critical_flux_of_water_at_rest_is_zubers`, `practice_critical_flux_in_a_tube_rises_with_flow_and_subcooling`.
pub fn critical_heat_flux_w_m2(c: &CriticalState, s: &Saturated) -> f64 {
    const ZUBER_OVER_LIENHARD: f64 = 0.131 / 0.149;
    let pool = ZUBER_OVER_LIENHARD
        * zuber_chf_w_m2(s)
        * griffith_share(c.void)
        * subcooled_pool_factor(c.subcooling_k, s);
    let superheat_k = pool / pool_cooper_w_m2k(pool, c.p_pa);
    let wetted = 1.0 - c.void.clamp(0.0, 1.0);
    pool + c.h_liquid_w_m2k * wetted * (superheat_k + c.subcooling_k.max(0.0))
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
