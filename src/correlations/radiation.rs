//! Gas, wall and sky radiation.

use std::sync::OnceLock;

/// Stefan-Boltzmann constant, W/(m² K⁴) (CODATA 2018).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Coefficients of Smith, Shen & Friedman (1982), table 1, for one composition.
struct SsfTable {
    /// p_H2O / (p_H2O + p_CO2).
    water_share: f64,
    /// Absorption coefficients, 1/(atm m).
    k: [f64; 3],
    /// Weights: a_i = Σ_j b[i][j] (T/1000 K)^j.
    b: [[f64; 4]; 3],
}

/// Carbon dioxide alone, p_H2O/p_CO2 = 1, = 2, and water vapour alone (p_H2O → 0: flue gas holds about 0.1 atm).
const SSF: [SsfTable; 4] = [
    SsfTable {
        water_share: 0.0,
        k: [0.3966, 15.64, 394.3],
        b: [
            [0.4334e-1, 2.620e-1, -1.560e-1, 2.565e-2],
            [-0.4814e-1, 2.822e-1, -1.794e-1, 3.274e-2],
            [0.5492e-1, 0.1087e-1, -0.3500e-1, 0.9123e-2],
        ],
    },
    SsfTable {
        water_share: 0.5,
        k: [0.4303, 7.055, 178.1],
        b: [
            [5.150e-1, -2.303e-1, 0.9779e-1, -1.494e-2],
            [0.7749e-1, 3.399e-1, -2.297e-1, 3.770e-2],
            [1.907e-1, -1.824e-1, 0.5608e-1, -0.5122e-2],
        ],
    },
    SsfTable {
        water_share: 2.0 / 3.0,
        k: [0.4201, 6.516, 131.9],
        b: [
            [6.508e-1, -5.551e-1, 3.029e-1, -5.353e-2],
            [-0.2504e-1, 6.112e-1, -3.882e-1, 6.528e-2],
            [2.718e-1, -3.118e-1, 1.221e-1, -1.612e-2],
        ],
    },
    SsfTable {
        water_share: 1.0,
        k: [0.4098, 6.325, 120.5],
        b: [
            [5.977e-1, -5.119e-1, 3.042e-1, -5.564e-2],
            [0.5677e-1, 3.333e-1, -1.967e-1, 2.718e-2],
            [1.800e-1, -2.334e-1, 1.008e-1, -1.454e-2],
        ],
    },
];

/// Logarithms of the ratios of neighbouring tables' absorption coefficients.
fn ln_ratios() -> &'static [[f64; 3]; 3] {
    static LN_RATIOS: OnceLock<[[f64; 3]; 3]> = OnceLock::new();
    LN_RATIOS.get_or_init(|| {
        std::array::from_fn(|i| std::array::from_fn(|g| (SSF[i + 1].k[g] / SSF[i].k[g]).ln()))
    })
}

/// Weighted sum of three grey gases for a fixed composition (Smith, Shen & Friedman 1982).
///
/// ε = Σ a_i(T) [1 − exp(−k_i (p_H2O + p_CO2) L)], i = 1..3
///
/// Between the tables (CO2 alone, ratio 1, ratio 2, H2O alone) the weights go linearly and the absorption
/// coefficients geometrically with the water share. Range: 600 to 2400 K, 0.001 to 10 atm m; cooler gas is
/// extrapolated by the same polynomials down to 250 K (weights stay within 0 and 1), hotter gas is held at 2400 K.
/// Scatter: Leckner's model differs by −7 to +29 % (mean 6 %) at flue-gas conditions: a band, not an error bar.
/// Source: T. F. Smith, Z. F. Shen, J. N. Friedman, J. Heat Transfer 104 (1982) 602-608, table 1 (coefficients
/// from memory, and as coded in an open radiation code; both agree).
/// Evidence: `published_wsgg_matches_table_e_and_check_values`, `identity_wsgg_lies_between_its_tables`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WsggWeights {
    /// k_i (p_H2O + p_CO2), 1/m.
    kappa_per_m: [f64; 3],
    b: [[f64; 4]; 3],
}

impl WsggWeights {
    /// - `p_h2o_atm`, `p_co2_atm` partial pressures; both 0 gives a transparent gas
    #[inline(always)]
    pub fn new(p_h2o_atm: f64, p_co2_atm: f64) -> Self {
        let (w, c) = (p_h2o_atm.max(0.0), p_co2_atm.max(0.0));
        let p = w + c;
        let y = if p > 0.0 { w / p } else { 0.5 };
        let i = SSF[1..3].iter().filter(|t| y >= t.water_share).count();
        let (lo, hi) = (&SSF[i], &SSF[i + 1]);
        let f = (y - lo.water_share) / (hi.water_share - lo.water_share);
        let mut out = Self {
            kappa_per_m: [0.0; 3],
            b: [[0.0; 4]; 3],
        };
        for (g, ln_ratio) in ln_ratios()[i].iter().enumerate() {
            out.kappa_per_m[g] = p * lo.k[g] * super::quick_exp(f * ln_ratio);
            for j in 0..4 {
                out.b[g][j] = f.mul_add(hi.b[g][j] - lo.b[g][j], lo.b[g][j]);
            }
        }
        out
    }

    /// The same gas over one mean beam length, m: its emissivity is then a cubic in temperature.
    #[inline(always)]
    pub fn over(&self, beam_m: f64) -> GasLayer {
        let mut cubic = [0.0; 4];
        for (kappa, b) in self.kappa_per_m.iter().zip(&self.b) {
            let absorbed = super::gone(kappa * beam_m);
            for (c, b) in cubic.iter_mut().zip(b) {
                *c = absorbed.mul_add(*b, *c);
            }
        }
        GasLayer { cubic, beam_m }
    }

    /// Total emissivity. `beam_m` mean beam length, see [`mean_beam_length`]; for many temperatures take [`Self::over`] once.
    pub fn emissivity(&self, t_k: f64, beam_m: f64) -> f64 {
        self.over(beam_m).emissivity(t_k)
    }

    /// Absorptivity of the gas at `t_gas_k` for black radiation of a wall at `t_wall_k` (Hottel's scaling).
    ///
    /// α = ε(T_w, L T_w/T_g) (T_g/T_w)^0.5; the exponents are 0.65 for CO2 and 0.45 for H2O, 0.5 stands for both.
    /// Source: H. C. Hottel in McAdams, Heat Transmission, 3rd ed., ch. 4 (from memory).
    #[inline]
    pub fn absorptivity(&self, t_gas_k: f64, t_wall_k: f64, beam_m: f64) -> f64 {
        let r = t_wall_k / t_gas_k;
        self.emissivity(t_wall_k, beam_m * r) / r.sqrt()
    }
}

/// A layer of flue gas of one composition and one mean beam length ([`WsggWeights::over`]): no power or exponential per
/// temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasLayer {
    cubic: [f64; 4],
    beam_m: f64,
}

impl GasLayer {
    /// Its mean beam length.
    #[inline]
    pub fn beam_m(&self) -> f64 {
        self.beam_m
    }

    /// Emissivity at a gas temperature; same range as [`WsggWeights::emissivity`].
    #[inline]
    pub fn emissivity(&self, t_k: f64) -> f64 {
        let t = t_k.clamp(250.0, 2400.0) * 1e-3;
        let c = &self.cubic;
        (t * t).mul_add(t.mul_add(c[3], c[2]), t.mul_add(c[1], c[0]))
    }

    /// With grey soot of this absorption coefficient in every grey gas of the layer and in its clear window.
    ///
    /// ε = 1 − exp(−κ L) (1 − ε_gas)
    #[inline]
    pub fn emissivity_with_soot(&self, t_k: f64, kappa_soot_per_m: f64) -> f64 {
        let e = self.emissivity(t_k);
        super::gone(kappa_soot_per_m * self.beam_m).mul_add(1.0 - e, e)
    }
}

/// Total emissivity of a mixture of water vapour and carbon dioxide. See [`WsggWeights`]; in a loop build that once.
///
/// - `t_k` gas temperature; `p_h2o_atm`, `p_co2_atm` partial pressures; `beam_m` mean beam length
pub fn wsgg_emissivity(t_k: f64, p_h2o_atm: f64, p_co2_atm: f64, beam_m: f64) -> f64 {
    WsggWeights::new(p_h2o_atm, p_co2_atm).emissivity(t_k, beam_m)
}

/// Emissivity of one gas by Leckner's polynomial, at zero partial pressure and 1 bar total.
fn leckner_zero<const N: usize>(c: &[[f64; N]; 3], t: f64, pl_bar_cm: f64) -> f64 {
    let l = pl_bar_cm.log10();
    let mut sum = 0.0;
    let mut li = 1.0;
    for row in c {
        sum += li * row.iter().rev().fold(0.0, |acc, &x| acc * t + x);
        li *= l;
    }
    sum.exp()
}

/// Total emissivity of H2O and CO2 by Leckner (1972): a second, independent model for checks.
///
/// - `t_k` > 400; `p_h2o_bar`, `p_co2_bar` partial pressures; `p_total_bar`; `beam_m`. A gas with p L under
///   1e-5 bar m counts as absent
///
/// Stated scatter: 5 % (H2O) and 10 % (CO2) against spectral data above 400 K.
/// Source: B. Leckner, Combustion and Flame 19 (1972) 33-48; coefficients as in M. F. Modest, Radiative Heat
/// Transfer, 3rd ed., table 11.4 (from memory; they reproduce an independently coded table).
/// Evidence: `published_leckner_matches_table_e`.
pub fn leckner_emissivity(
    t_k: f64,
    p_h2o_bar: f64,
    p_co2_bar: f64,
    p_total_bar: f64,
    beam_m: f64,
) -> f64 {
    const H2O: [[f64; 3]; 3] = [
        [-2.2118, -1.1987, 0.035596],
        [0.85667, 0.93048, -0.14391],
        [-0.10838, -0.17156, 0.045915],
    ];
    const CO2: [[f64; 4]; 3] = [
        [-3.9893, 2.7669, -2.1081, 0.39163],
        [1.2710, -1.1090, 1.0195, -0.21897],
        [-0.23678, 0.19731, -0.19544, 0.044644],
    ];
    let t = t_k.max(300.0) / 1000.0;
    let pressure = |pe: f64, a: f64, b: f64, c: f64, pl_m: f64, pl: f64| {
        let x = (pl_m / pl).log10();
        1.0 - (a - 1.0) * (1.0 - pe) / (a + b - 1.0 + pe) * (-c * x * x).exp()
    };
    let (w, c) = (100.0 * p_h2o_bar * beam_m, 100.0 * p_co2_bar * beam_m);
    let e_w = if w > 1e-3 {
        let a = if t < 0.75 {
            2.144
        } else {
            1.888 - 2.053 * t.log10()
        };
        let pe = p_total_bar + 2.56 * p_h2o_bar / t.sqrt();
        leckner_zero(&H2O, t, w) * pressure(pe, a, 1.10 * t.powf(-1.4), 0.5, 13.2 * t * t, w)
    } else {
        0.0
    };
    let e_c = if c > 1e-3 {
        let pl_m = if t < 0.7 {
            0.054 / (t * t)
        } else {
            0.225 * t * t
        };
        let pe = p_total_bar + 0.28 * p_co2_bar;
        leckner_zero(&CO2, t, c) * pressure(pe, 1.0 + 0.1 * t.powf(-1.45), 0.23, 1.47, pl_m, c)
    } else {
        0.0
    };
    let sum = w + c;
    let overlap = if e_w > 0.0 && e_c > 0.0 && sum > 1.0 {
        let z = w / sum;
        (z / (10.7 + 101.0 * z) - 0.0089 * z.powf(10.4)) * sum.log10().powf(2.76)
    } else {
        0.0
    };
    (e_w + e_c - overlap).clamp(0.0, 1.0)
}

/// Mean beam length of a gas volume radiating to its whole boundary, m: L = 3.6 V/A.
///
/// Source: H. C. Hottel, A. F. Sarofim, Radiative Transfer (1967); Bergman et al. 6th ed. section 13.6.
#[inline]
pub fn mean_beam_length(volume_m3: f64, area_m2: f64) -> f64 {
    3.6 * volume_m3 / area_m2
}

/// Exchange factor on area 1 between two grey surfaces, the first wholly enclosed by the second.
///
/// F = 1 / [1/ε1 + (A1/A2)(1/ε2 − 1)]; flux on area 1 = F σ (T1⁴ − T2⁴)
#[inline]
pub fn two_surface_factor(eps1: f64, eps2: f64, area_ratio: f64) -> f64 {
    1.0 / (1.0 / eps1 + area_ratio * (1.0 / eps2 - 1.0))
}

/// Share of the black exchange between a gas and its grey enclosure: ε_w / (α + ε_w − α ε_w).
///
/// Multiply by σ (ε_gas T_gas⁴ − α T_wall⁴). With a black wall it is 1. Source: VDI Heat Atlas, section K3 (from memory).
#[inline]
pub fn grey_wall_factor(alpha_gas: f64, eps_wall: f64) -> f64 {
    eps_wall / (alpha_gas + eps_wall - alpha_gas * eps_wall)
}

/// Net radiation from gas to its grey enclosure, W/m², positive towards the wall.
///
/// q = ε_w σ (ε_g T_g⁴ − α_g T_w⁴) / (α_g + ε_w − α_g ε_w)
#[inline]
pub fn grey_gas_to_wall_w_m2(
    eps_gas: f64,
    alpha_gas: f64,
    t_gas_k: f64,
    t_wall_k: f64,
    eps_wall: f64,
) -> f64 {
    let (g, w) = (t_gas_k * t_gas_k, t_wall_k * t_wall_k);
    grey_wall_factor(alpha_gas, eps_wall) * STEFAN_BOLTZMANN * (eps_gas * g * g - alpha_gas * w * w)
}

/// Effective emissivity between a grey gas (α = ε) and its grey wall: ε_g ε_w / (ε_g + ε_w − ε_g ε_w); 0 for a clear gas.
#[inline]
pub fn grey_gas_to_wall(eps_gas: f64, eps_wall: f64) -> f64 {
    eps_gas * grey_wall_factor(eps_gas, eps_wall)
}

/// Radiation as a heat transfer coefficient: h = ε σ (T1² + T2²)(T1 + T2).
#[inline]
pub fn linearised_h_w_m2k(eps: f64, t1_k: f64, t2_k: f64) -> f64 {
    eps * STEFAN_BOLTZMANN * t1_k.mul_add(t1_k, t2_k * t2_k) * (t1_k + t2_k)
}

/// Emissivity of the clear sky against air temperature (Berdahl & Martin 1984), monthly mean without the daily swing.
///
/// ε = 0.711 + 0.56 (t_d/100) + 0.73 (t_d/100)², t_d in °C
///
/// - `dew_point_k` 260 to 303; clamped to give 0.6 to 1
///
/// Source: P. Berdahl, M. Martin, Solar Energy 32 (1984) 663-664 (from memory). Evidence: `published_clear_sky_emissivity`.
pub fn sky_emissivity(dew_point_k: f64) -> f64 {
    let d = (dew_point_k - 273.15).max(-38.0) / 100.0;
    (0.711 + d * (0.56 + 0.73 * d)).clamp(0.6, 1.0)
}

/// Emissivity of a sky with `cloud_cover` 0..1 (Unsworth & Monteith 1975): ε_c = ε + 0.84 C (1 − ε).
///
/// Source: Quart. J. Roy. Met. Soc. 101 (1975) 13-24 (from memory).
pub fn cloudy_sky_emissivity(clear_emissivity: f64, cloud_cover: f64) -> f64 {
    clear_emissivity + 0.84 * cloud_cover.clamp(0.0, 1.0) * (1.0 - clear_emissivity)
}

/// Temperature of a black sky that radiates as much as the real one, K.
pub fn sky_temperature_k(emissivity: f64, air_temperature_k: f64) -> f64 {
    air_temperature_k * emissivity.sqrt().sqrt()
}
