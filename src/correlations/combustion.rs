//! Mixing shortage, burn-out and the flue-gas meter's short formula.

/// Standard normal distribution function Φ(x), absolute error < 1e-14.
///
/// Source: J. F. Hart et al., Computer Approximations (1968), algorithm 5666, as given by G. West,
/// Wilmott Magazine, May 2005. Evidence: `published_normal_distribution_matches_tables`.
#[inline]
pub fn normal_cdf(x: f64) -> f64 {
    normal_cdf_from(x, (-0.5 * x * x).exp())
}

/// The same where e^(−x²/2) is known.
#[inline]
fn normal_cdf_from(x: f64, e: f64) -> f64 {
    let z = x.abs();
    let tail = if z > 37.0 {
        0.0
    } else {
        if z < 7.071_067_811_865_47 {
            let n = ((((((3.526_249_659_989_11e-2 * z + 0.700_383_064_443_688) * z
                + 6.373_962_203_531_65)
                * z
                + 33.912_866_078_383)
                * z
                + 112.079_291_497_871)
                * z
                + 221.213_596_169_931)
                * z)
                + 220.206_867_912_376;
            let d = (((((((8.838_834_764_831_84e-2 * z + 1.755_667_163_182_64) * z
                + 16.064_177_579_207)
                * z
                + 86.780_732_202_946_1)
                * z
                + 296.564_248_779_674)
                * z
                + 637.333_633_378_831)
                * z
                + 793.826_512_519_948)
                * z)
                + 440.413_735_824_752;
            e * n / d
        } else {
            let c = z + 1.0 / (z + 2.0 / (z + 3.0 / (z + 4.0 / (z + 0.65))));
            e / c / 2.506_628_274_631
        }
    };
    if x > 0.0 { 1.0 - tail } else { tail }
}

/// Error function by [`normal_cdf`]: erf x = 2 Φ(x √2) − 1.
pub fn erf(x: f64) -> f64 {
    2.0 * normal_cdf(x * std::f64::consts::SQRT_2) - 1.0
}

/// Mean shortage of air where the local air ratio scatters: E[max(0, 1 − λ ξ)], ξ normal with mean 1 and deviation `spread`.
///
/// With μ = 1 − λ and σ = λ · spread: μ Φ(μ/σ) + σ φ(μ/σ)
///
/// - `lambda` [-] mean air ratio >= 0; `spread` [-] relative standard deviation of mixing; 0: perfectly mixed
///
/// The share of fuel that finds no oxygen however hot the gas: near λ = 1 it is 0.4 λ spread, above 1 + 2 spread nothing.
/// Source: the closed form is elementary. Evidence: `analytic_shortage_matches_numerical_integration`.
#[inline]
pub fn shortage(lambda: f64, spread: f64) -> f64 {
    let mu = 1.0 - lambda;
    let sigma = lambda * spread;
    if sigma < 1e-9 {
        return mu.max(0.0);
    }
    let z = mu / sigma;
    const INV_SQRT_2PI: f64 = 0.398_942_280_401_432_7;
    let e = (-0.5 * z * z).exp();
    (mu * normal_cdf_from(z, e) + sigma * INV_SQRT_2PI * e).max(0.0)
}

/// Middle and width of [`arrhenius_like_temperature_factor`], K.
pub const BURNOUT_TEMPERATURE_K: f64 = 870.0;
pub const BURNOUT_WIDTH_K: f64 = 45.0;

/// Share of combustible gas that burns out at gas temperature `t_k`: 1/{1 + exp[−(T − 870)/45]}.
///
/// Stands for the freezing of CO oxidation: its rate has an activation temperature near 20,000 K, so at 870 K
/// it changes e-fold in T²/20,000 = 38 K; half burnt at about 600 °C, which is where stoves' losses start to
/// climb. 0.95 at 1000 K, 0.5 at 870 K, 0.05 at 740 K.
/// Source: form by the argument above; activation from F. L. Dryer, I. Glassman, 14th Symp. (Int.) Combustion
/// (1973) 987-1003, E = 167 kJ/mol (from memory); middle: common practice, no source. Below 30,000 K.
#[inline]
pub fn arrhenius_like_temperature_factor(t_k: f64) -> f64 {
    1.0 / (1.0 + super::exp_within((BURNOUT_TEMPERATURE_K - t_k) * (1.0 / BURNOUT_WIDTH_K)))
}

/// Equivalence ratio at which wood gas in air of 25 °C stops carrying a flame, and the temperature at which none is needed, K: carbon
/// monoxide 12.5 of 29.5 vol%, ethylene 2.7 of 6.5, methane 5.0 of 9.5, at limit flames of 1,400 to 1,600 K (Zabetakis 1965, US Bureau of
/// Mines Bulletin 627, from memory); gas of wood is mostly the first.
const LEAN_LIMIT_25C: f64 = 0.42;
const LIMIT_FLAME_K: f64 = 1500.0;

/// Share of gas and air that are mixed without having burnt which is below the lean limit of flammability, at a mean
/// air ratio `lambda` and temperature `t_k`: x⁴/(1 + x⁴), x = λ φ_L(T).
///
/// The limit falls straight with temperature, to nothing at that of the limit flame: φ_L = 0.42 (1500 − T)/(1500 − 298) (Burgess and Wheeler's
/// law). The fourth power stands for the scatter of the local air ratio about its mean, a quarter either way (estimate).
/// Source: M. G. Zabetakis, Flammability Characteristics of Combustible Gases and Vapors, US Bureau of Mines Bulletin 627 (1965), from
/// memory. Evidence: `published_thin_gas_carries_no_flame`.
#[inline]
pub fn too_lean_share(lambda: f64, t_k: f64) -> f64 {
    let limit = (LEAN_LIMIT_25C / (LIMIT_FLAME_K - 298.15)) * (LIMIT_FLAME_K - t_k);
    // Beyond this all is too thin.
    let x = super::lesser(lambda, 50.0) * super::greater(limit, 0.0);
    let x2 = x * x;
    let x4 = x2 * x2;
    x4 / (1.0 + x4)
}

/// Constants of the flue-gas meter's formula q = (T_f − T_a)(A2/(21 − O2) + B), q in per cent of the net value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SiegertConstants {
    /// % · vol% / K.
    pub a2: f64,
    /// % / K.
    pub b: f64,
}

/// What flue-gas meters hold for wood (from memory).
///
/// Against the exact sensible loss (Cantera 3.2.0, typical softwood, flue 150-400 °C, λ 1 to 4) it reads +5 to
/// −21 % (relative) at 0-20 % moisture and down to −39 % at 50 %: it has no term for the wood's vapour.
pub const SIEGERT_WOOD_TRADE: SiegertConstants = SiegertConstants { a2: 0.765, b: 0.0 };

/// Largest CO2 in dry flue gas of wood, vol% (element balance of typical softwood, ISO 17225-1: 20.07).
pub const WOOD_CO2_MAX_PERCENT: f64 = 20.1;

/// Constants for one wood from its element balance: unlike the meter's, they know the vapour.
///
/// The dry gas (per CO2, so ∝ 1/(21 − O2)) and the vapour (constant per fuel) are separate in the formula:
/// A2 = 21 V_dry c_p,dry / H, B = V_H2O c_p,H2O / H, with the volumes at air ratio 1, c_p of dry gas 1.38 and of
/// vapour 1.54 kJ/(m³ K) (0 to 200 °C means), H the net value as fired. Within 4.5 % (relative) of the exact sensible
/// loss of complete combustion from 150 to 400 °C, λ 1 to 4, 0 to 50 % moisture.
///
/// - `c`, `h`, `o` [-] mass fractions of dry wood; `gross_dry_j_kg` its gross heating value; `moisture_wet` [-] 0 to 0.6
///
/// Source: element balance. Evidence: `analytic_the_short_formula_keeps_its_stated_accuracy`.
pub fn siegert_constants(
    c: f64,
    h: f64,
    o: f64,
    gross_dry_j_kg: f64,
    moisture_wet: f64,
) -> SiegertConstants {
    let w = moisture_wet.clamp(0.0, 0.9);
    let u = w / (1.0 - w);
    // Per kg dry wood, m3(n): 22.414 to the kmol; N2 and argon come with the oxygen at 79.05/20.95.
    let (c_kmol, h2_kmol) = (c / 12.011, h / 2.016);
    let air_o2_kmol = c_kmol + 0.5 * h2_kmol - o / 31.998;
    let dry_m3 = 22.414 * (c_kmol + air_o2_kmol * (79.05 / 20.95));
    let vapour_m3 = 22.414 * (h2_kmol + u / 18.015);
    let net_kj = 1e-3 * gross_dry_j_kg - 2443.0 * (18.015 * h2_kmol + u);
    SiegertConstants {
        a2: 100.0 * 21.0 * dry_m3 * 1.38 / net_kj,
        b: 100.0 * vapour_m3 * 1.54 / net_kj,
    }
}

/// [`siegert_constants`] of typical softwood (ISO 17225-1 Annex B, from memory), gross 20.5 MJ/kg.
///
/// Evidence: `published_siegert_for_moist_wood_matches_exact_losses`.
pub fn siegert_constants_moist_wood(moisture_wet: f64) -> SiegertConstants {
    siegert_constants(0.5136, 0.06344, 0.42296, 20.5e6, moisture_wet)
}

/// Sensible stack loss as a share of the net heat by the short formula of the trade (Siegert), from O2 in dry flue gas.
///
/// - `o2_dry_percent` 0 to 20.5 (held there); temperatures where the meter's probes sit
///
/// Evidence: `published_siegert_for_moist_wood_matches_exact_losses`.
pub fn siegert_loss_fraction(
    t_flue_k: f64,
    t_air_k: f64,
    o2_dry_percent: f64,
    c: SiegertConstants,
) -> f64 {
    let o2 = o2_dry_percent.clamp(0.0, 20.5);
    0.01 * (t_flue_k - t_air_k) * (c.a2 / (21.0 - o2) + c.b)
}

/// CO2 in dry flue gas from O2, vol%: CO2max (1 − O2/20.95).
#[inline]
pub fn co2_from_o2_percent(o2_dry_percent: f64, co2_max_percent: f64) -> f64 {
    co2_max_percent * (1.0 - o2_dry_percent.clamp(0.0, 20.95) / 20.95)
}
