//! Gas species: molar masses, NASA polynomials, transport fits, formation enthalpies.
//!
//! Thermodynamic data: the NASA seven-coefficient polynomials distributed with GRI-Mech 3.0 (Smith et al., public
//! data), 200 to 3500 K, ranges joined at 1000 K. Transport data: the Lennard-Jones parameters of the same release.

/// Molar gas constant, J/molK (CODATA 2018, exact).
pub const R_J_MOLK: f64 = 8.31446261815324;

/// Standard atomic masses, kg/mol (IUPAC conventional values).
pub mod atomic {
    pub const C: f64 = 12.011e-3;
    pub const H: f64 = 1.008e-3;
    pub const O: f64 = 15.999e-3;
    pub const N: f64 = 14.007e-3;
    pub const AR: f64 = 39.95e-3;
}

/// One species as published.
#[derive(Debug, Clone, Copy)]
pub struct Species {
    pub formula: &'static str,
    pub molar_mass_kg_mol: f64,
    /// cp/R = a0 + a1 T + a2 T2 + a3 T3 + a4 T4 below 1000 K.
    nasa_low: [f64; 5],
    /// Enthalpy constant of the low range, K.
    nasa_low_h: f64,
    /// The same above 1000 K.
    nasa_high: [f64; 5],
    /// Viscosity in Pa s: polynomial in sqrt(T / 1000 K), lowest power first.
    ///
    /// Fitted (200 to 2500 K, within 0.7 %) to the Chapman-Enskog viscosity with the Lennard-Jones parameters of
    /// GRI-Mech 3.0 and the collision integrals of Neufeld, Janzen & Aziz 1972 with the dipole term of Brokaw 1969.
    pub(super) mu_fit: [f64; 5],
    /// Conductivity in W/mK, the same form; fitted (within 0.9 %) to the Warnatz formula on the same basis.
    pub(super) k_fit: [f64; 5],
}

pub const NITROGEN: Species = Species {
    formula: "N2",
    molar_mass_kg_mol: 2.0 * atomic::N,
    nasa_low: [
        3.298677,
        0.0014082404,
        -3.963222e-06,
        5.641515e-09,
        -2.444854e-12,
    ],
    nasa_low_h: -1020.8999,
    nasa_high: [
        2.92664,
        0.0014879768,
        -5.68476e-07,
        1.0097038e-10,
        -6.753351e-15,
    ],
    mu_fit: [
        -9.792541784e-06,
        5.332998417e-05,
        -7.986526273e-06,
        7.173244171e-06,
        -1.233085229e-06,
    ],
    k_fit: [
        -1.899833254e-02,
        1.146324584e-01,
        -1.164415178e-01,
        1.262484056e-01,
        -3.709168471e-02,
    ],
};

pub const OXYGEN: Species = Species {
    formula: "O2",
    molar_mass_kg_mol: 2.0 * atomic::O,
    nasa_low: [
        3.78245636,
        -0.00299673416,
        9.84730201e-06,
        -9.68129509e-09,
        3.24372837e-12,
    ],
    nasa_low_h: -1063.94356,
    nasa_high: [
        3.28253784,
        0.00148308754,
        -7.57966669e-07,
        2.09470555e-10,
        -2.16717794e-14,
    ],
    mu_fit: [
        -1.112376934e-05,
        5.813361591e-05,
        -1.497469528e-06,
        2.268377777e-06,
        1.439336643e-07,
    ],
    k_fit: [
        1.405728856e-02,
        -6.535453313e-02,
        2.194145696e-01,
        -1.223236035e-01,
        2.775811455e-02,
    ],
};

pub const CARBON_DIOXIDE: Species = Species {
    formula: "CO2",
    molar_mass_kg_mol: atomic::C + 2.0 * atomic::O,
    nasa_low: [
        2.35677352,
        0.00898459677,
        -7.12356269e-06,
        2.45919022e-09,
        -1.43699548e-13,
    ],
    nasa_low_h: -4.83719697e+04,
    nasa_high: [
        3.85746029,
        0.00441437026,
        -2.21481404e-06,
        5.23490188e-10,
        -4.72084164e-14,
    ],
    mu_fit: [
        -3.708997103e-06,
        4.283027296e-06,
        7.886570126e-05,
        -5.041111033e-05,
        1.205252931e-05,
    ],
    k_fit: [
        2.105413248e-02,
        -1.390569872e-01,
        3.277078122e-01,
        -1.759511545e-01,
        3.549480809e-02,
    ],
};

pub const WATER_VAPOUR: Species = Species {
    formula: "H2O",
    molar_mass_kg_mol: 2.0 * atomic::H + atomic::O,
    nasa_low: [
        4.19864056,
        -0.0020364341,
        6.52040211e-06,
        -5.48797062e-09,
        1.77197817e-12,
    ],
    nasa_low_h: -3.02937267e+04,
    nasa_high: [
        3.03399249,
        0.00217691804,
        -1.64072518e-07,
        -9.7041987e-11,
        1.68200992e-14,
    ],
    mu_fit: [
        1.194986735e-05,
        -6.340738505e-05,
        1.421830430e-04,
        -6.408326932e-05,
        1.087472854e-05,
    ],
    k_fit: [
        -6.048366479e-03,
        5.962937965e-02,
        -1.251735729e-01,
        2.731971966e-01,
        -8.200198605e-02,
    ],
};

pub const ARGON: Species = Species {
    formula: "Ar",
    molar_mass_kg_mol: atomic::AR,
    nasa_low: [2.5, 0.0, 0.0, 0.0, 0.0],
    nasa_low_h: -745.375,
    nasa_high: [2.5, 0.0, 0.0, 0.0, 0.0],
    mu_fit: [
        -1.210728141e-05,
        5.600089533e-05,
        2.197500793e-05,
        -1.468240511e-05,
        4.442523146e-06,
    ],
    k_fit: [
        -9.449205762e-03,
        4.370625946e-02,
        1.715053648e-02,
        -1.145897764e-02,
        3.467195803e-03,
    ],
};

pub const CARBON_MONOXIDE: Species = Species {
    formula: "CO",
    molar_mass_kg_mol: atomic::C + atomic::O,
    nasa_low: [
        3.57953347,
        -0.00061035368,
        1.01681433e-06,
        9.07005884e-10,
        -9.04424499e-13,
    ],
    nasa_low_h: -1.4344086e+04,
    nasa_high: [
        2.71518561,
        0.00206252743,
        -9.98825771e-07,
        2.30053008e-10,
        -2.03647716e-14,
    ],
    mu_fit: [
        -9.621930345e-06,
        5.227473948e-05,
        -7.478994557e-06,
        6.756173863e-06,
        -1.133933351e-06,
    ],
    k_fit: [
        -8.426853118e-03,
        6.318349985e-02,
        -3.443827604e-02,
        7.123123629e-02,
        -2.422634875e-02,
    ],
};

/// Where the two ranges of a NASA polynomial meet, K.
pub(super) const JOIN_K: f64 = 1000.0;

impl Species {
    /// Specific gas constant.
    pub const fn r_j_kgk(&self) -> f64 {
        R_J_MOLK / self.molar_mass_kg_mol
    }

    /// Standard enthalpy of formation at 298.15 K, J/mol, from the same polynomial.
    pub const fn formation_enthalpy_j_mol(&self) -> f64 {
        R_J_MOLK * (poly_h(&self.nasa_low, super::T_REF_K) + self.nasa_low_h)
    }

    /// Coefficients of the sensible enthalpy in J/kg (constant first) below and above 1000 K.
    ///
    /// The published ranges miss each other at 1000 K by up to 4e-7 in cp and 0.2 J/kg in h (N2); here the upper
    /// range is shifted by those constants, so that cp is continuous and h its exact integral.
    pub(super) const fn sensible(&self) -> ([f64; 6], [f64; 6]) {
        let r = self.r_j_kgk();
        let lo = self.nasa_low;
        let mut hi = self.nasa_high;
        hi[0] += poly_cp(&lo, JOIN_K) - poly_cp(&hi, JOIN_K);
        let c_lo = -poly_h(&lo, super::T_REF_K);
        let c_hi = c_lo + poly_h(&lo, JOIN_K) - poly_h(&hi, JOIN_K);
        (integrated(&lo, c_lo, r), integrated(&hi, c_hi, r))
    }
}

const fn poly_cp(a: &[f64; 5], t_k: f64) -> f64 {
    a[0] + t_k * (a[1] + t_k * (a[2] + t_k * (a[3] + t_k * a[4])))
}

const fn poly_h(a: &[f64; 5], t_k: f64) -> f64 {
    t_k * (a[0] + t_k * (a[1] / 2.0 + t_k * (a[2] / 3.0 + t_k * (a[3] / 4.0 + t_k * (a[4] / 5.0)))))
}

const fn integrated(a: &[f64; 5], constant_k: f64, r: f64) -> [f64; 6] {
    [
        r * constant_k,
        r * a[0],
        r * a[1] / 2.0,
        r * a[2] / 3.0,
        r * a[3] / 4.0,
        r * a[4] / 5.0,
    ]
}

/// Heat of burning CO to CO2 at 298.15 K, J/kg of CO (283 kJ/mol).
pub const CO_HEAT_OF_COMBUSTION_J_KG: f64 = (CARBON_MONOXIDE.formation_enthalpy_j_mol()
    - CARBON_DIOXIDE.formation_enthalpy_j_mol())
    / CARBON_MONOXIDE.molar_mass_kg_mol;
