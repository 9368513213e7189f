//! Darcy friction factors of straight and coiled tubes over all flow regimes.

use super::{nusselt_internal, power};

/// Product of Darcy friction factor and Reynolds number, straight pipe, all regimes (Churchill 1977).
///
/// f Re = 64 [1 + (Re/8)^12 (A + B)^(-3/2)]^(1/12), A = {2.457 ln[1/((7/Re)^0.9 + 0.27 e/D)]}^16, B = (37530/Re)^16
///
/// - `re` [-] on inside diameter; any value >= 0. At 0 the result is 64, so that a laminar pressure
///   drop Δp/L = (f Re) μ w / (2 D²) needs no division by Re
/// - `rel_roughness` [-] e/D; 0 to 0.05
///
/// Within 0.5 % of Colebrook at e/D 1e-4, 2.6 % at e/D 0.01 and Re 6000; transition band indicative only.
/// Source: S. W. Churchill, Chem. Eng. 84 (1977) 91-92.
/// Evidence: `published_churchill_pipe_friction_matches_fluids`, `identity_pipe_friction_is_continuous_from_rest`.
#[inline]
pub fn pipe_f_re(re: f64, rel_roughness: f64) -> f64 {
    // Below this the turbulent term is under 1e-12 of the laminar one.
    if re < 900.0 {
        return 64.0;
    }
    churchill_blend(re, 1.0, turbulent_straight(re, rel_roughness), re)
}

/// Darcy friction factor, straight pipe, all regimes (Churchill 1977). See [`pipe_f_re`].
///
/// - `re` [-] > 0; below 1e-9 the value at 1e-9 is returned, so the result is finite
/// - `rel_roughness` [-] e/D
#[inline]
pub fn f_darcy_pipe(re: f64, rel_roughness: f64) -> f64 {
    pipe_f_re(re, rel_roughness) / re.max(1e-9)
}

/// Fully turbulent Darcy factor of a straight pipe: the turbulent branch A of Churchill (1977).
///
/// f = 8 / {2.457 ln[(7/Re)^0.9 + 0.27 e/D]}²
#[inline]
fn turbulent_straight(re: f64, rel_roughness: f64) -> f64 {
    let l = 2.457 * (power(7.0 / re, 0.9) + 0.27 * rel_roughness).ln();
    8.0 / (l * l)
}

/// Churchill's blend, with the laminar branch multiplied by `laminar_factor` and the transition found at
/// `re_scaled` = 2300 instead of `re` = 2300. Returns f Re.
///
/// His 8 [(8/Re)^12 + (A + B)^(-3/2)]^(1/12) is the twelfth-power mean of f_lam = 64/Re and
/// f_t = 8 (A + B)^(-1/8) = f_turb (1 + B/A)^(-1/8); written so, roots are taken only where they matter.
#[inline]
fn churchill_blend(re: f64, laminar_factor: f64, f_turbulent: f64, re_scaled: f64) -> f64 {
    let square = |x: f64| x * x;
    // t = (B/A)^(1/8)
    let t = square(37530.0 / re_scaled) * 0.125 * f_turbulent;
    let t8 = square(square(square(t)));
    // Below 1e-3 two terms of the binomial series are exact to 4e-11 and spare a root.
    let turbulent = if t8 < 1e-3 {
        re * f_turbulent * (1.0 - t8 * (1.0 / 8.0 - t8 * (9.0 / 128.0)))
    } else {
        re * f_turbulent * power(1.0 + t8, -1.0 / 8.0)
    };
    let laminar = 64.0 * laminar_factor;
    let (hi, lo) = if laminar > turbulent {
        (laminar, turbulent)
    } else {
        (turbulent, laminar)
    };
    let q4 = square(square(lo / hi));
    let q12 = q4 * q4 * q4;
    if q12 < 1e-3 {
        hi * (1.0 + q12 * (1.0 / 12.0 - q12 * (11.0 / 288.0)))
    } else {
        hi * power(1.0 + q12, 1.0 / 12.0)
    }
}

/// Critical Reynolds number of a coiled tube (Schmidt 1967).
///
/// Re_crit = 2300 [1 + 8.6 (d/D)^0.45]
///
/// - `d_over_coil_d` [-] tube inside diameter over coil diameter (to the tube's centre line); 0 to 0.14 in
///   the source, tends to the straight tube at 0
///
/// Stated scatter: published criteria differ by 40 % (Ito 10,730, Schmidt 10,540, Seth & Stahel 7,645 at d/D = 1/7).
/// Source: E. F. Schmidt, Chem.-Ing.-Tech. 39 (1967) 781-789; recommended by the VDI Heat Atlas.
/// Evidence: `published_helix_critical_re_matches_fluids`.
#[inline]
pub fn critical_re_helix(d_over_coil_d: f64) -> f64 {
    2300.0 * (1.0 + 8.6 * d_over_coil_d.max(0.0).powf(0.45))
}

/// Factor on the straight laminar friction of a coiled tube (Mishra & Gupta 1979).
///
/// F = 1 + 0.033 (log10 De)^4, De = Re √(d/D)
///
/// - `de` [-] Dean number; 1 to 3000, below 1 the factor is 1 (joined with three continuous derivatives)
///
/// Chosen over Schmidt, which lies 28-50 % above both White (1929) and Mori & Nakayama at Re 3000-9000; this
/// one stays within 2 % of White and 8 % of Mori & Nakayama, reaches De = 3000 and d/D = 0.15, and comes from one data set with the
/// turbulent term used here. Stated range: d/D 0.003 to 0.15.
/// Source: P. Mishra, S. N. Gupta, Ind. Eng. Chem. Process Des. Dev. 18 (1979) 130-137 (from memory; also VDI Heat Atlas).
/// Evidence: `published_helix_laminar_friction_lies_with_white_and_mori_nakayama`.
#[inline]
pub fn helix_laminar_factor(de: f64) -> f64 {
    let l = de.max(1.0).ln() * std::f64::consts::LOG10_E;
    let l2 = l * l;
    1.0 + 0.033 * l2 * l2
}

/// A coiled tube's dimensionless geometry, with everything that does not depend on the flow worked out once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Helix {
    /// √(d/D).
    sqrt_ratio: f64,
    rel_roughness: f64,
    re_crit: f64,
    /// 0.08 [1 + 0.8 (d/D)^0.9], laminar Nusselt number (Schmidt).
    nu_lam_coefficient: f64,
    /// 0.5 + 0.2903 (d/D)^0.194.
    nu_lam_exponent: f64,
}

impl Helix {
    /// - `d_over_coil_d` [-] tube inside diameter over coil diameter (centre line); 0 (straight) to 0.2
    /// - `rel_roughness` [-] e/d
    pub fn new(d_over_coil_d: f64, rel_roughness: f64) -> Self {
        let x = d_over_coil_d.max(0.0);
        Self {
            sqrt_ratio: x.sqrt(),
            rel_roughness,
            re_crit: critical_re_helix(x),
            nu_lam_coefficient: 0.08 * (1.0 + 0.8 * x.powf(0.9)),
            nu_lam_exponent: 0.5 + 0.2903 * x.powf(0.194),
        }
    }

    /// Critical Reynolds number, see [`critical_re_helix`].
    pub fn critical_re(&self) -> f64 {
        self.re_crit
    }

    /// f Re of the coiled tube, all regimes; 64 at rest. See [`helix_f_re`].
    #[inline]
    pub fn f_re(&self, re: f64) -> f64 {
        let laminar = helix_laminar_factor(re * self.sqrt_ratio);
        // The turbulent term is under 1e-12 of the laminar one, whatever the curvature.
        if re < 900.0 {
            return 64.0 * laminar;
        }
        let turbulent = turbulent_straight(re, self.rel_roughness) + 0.03 * self.sqrt_ratio;
        churchill_blend(re, laminar, turbulent, re * (2300.0 / self.re_crit))
    }

    /// Darcy friction factor, all regimes; finite (value at 1e-9) at rest.
    #[inline]
    pub fn f_darcy(&self, re: f64) -> f64 {
        self.f_re(re) / re.max(1e-9)
    }

    /// Mean Nusselt number on the tube inside diameter, all regimes. See [`nusselt_internal::helix`].
    #[inline]
    pub fn nusselt(&self, re: f64, pr: f64) -> f64 {
        nusselt_internal::helix_blend(
            re,
            pr,
            self.sqrt_ratio,
            self.re_crit,
            self.nu_lam_coefficient,
            self.nu_lam_exponent,
        )
    }
}

/// Product of Darcy friction factor and Reynolds number of a coiled tube, all regimes.
///
/// Laminar: 64 (1 + 0.033 (log10 De)^4). Turbulent: straight pipe of the same roughness + 0.03 √(d/D)
/// (Mishra & Gupta 1979; Ito 1959 gives 0.029). Joined by Churchill's twelfth-power blend with the transition
/// moved from 2300 to [`critical_re_helix`]; at d/D = 0 this *is* Churchill's equation.
///
/// - `re` [-] on tube inside diameter, any value >= 0
/// - `d_over_coil_d` [-] 0 to 0.15
/// - `rel_roughness` [-] e/d
///
/// Scatter: laminar 2 % against White and 8 % against Mori & Nakayama; turbulent 10 % against Mori & Nakayama and
/// 8 % against Mandal & Nigam (which differ from each other by 8 %); the blend adds up to 6 % where the branches cross.
/// Evidence: `published_helix_turbulent_friction_lies_with_mori_nakayama_and_mandal_nigam`,
/// `identity_helix_friction_tends_to_the_straight_pipe`, `identity_helix_friction_has_no_jump_and_no_dip_in_pressure_drop`.
pub fn helix_f_re(re: f64, d_over_coil_d: f64, rel_roughness: f64) -> f64 {
    Helix::new(d_over_coil_d, rel_roughness).f_re(re)
}

/// Darcy friction factor of a coiled tube, all regimes. See [`helix_f_re`]; in a loop build a [`Helix`] once.
pub fn f_darcy_helix(re: f64, d_over_coil_d: f64, rel_roughness: f64) -> f64 {
    Helix::new(d_over_coil_d, rel_roughness).f_darcy(re)
}
