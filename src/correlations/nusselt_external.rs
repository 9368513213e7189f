//! Cross-flow over single tubes and tube banks: Nusselt numbers and pressure drop.

use super::{cube_root, power, smoothstep};
use std::f64::consts::{FRAC_PI_4, PI};

/// Nusselt number of a single cylinder in cross-flow (Churchill & Bernstein 1977).
///
/// Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3) / [1 + (0.4/Pr)^(2/3)]^(1/4) [1 + (Re/282000)^(5/8)]^(4/5)
///
/// - `re` [-] on diameter and approach velocity, film properties; any value >= 0; to 1e7
/// - `pr` [-] film; Re Pr > 0.2
///
/// Stated scatter: 20 %. Source: S. W. Churchill, M. Bernstein, J. Heat Transfer 99 (1977) 300-306.
/// Evidence: `published_churchill_bernstein_matches_incropera_example_7_3`.
#[inline]
pub fn churchill_bernstein(re: f64, pr: f64) -> f64 {
    let c = cube_root(pr);
    let k = 0.736_806_299_728_077_3 / c; // (0.4/Pr)^(1/3)
    let s = (re / 282_000.0).sqrt();
    // (Re/282000)^(5/8) = s * s^(1/4)
    let enhancement = power(1.0 + s * s.sqrt().sqrt(), 0.8);
    0.3 + 0.62 * re.sqrt() * c / (1.0 + k * k).sqrt().sqrt() * enhancement
}

/// Coefficients of one published power law Nu = c Re^m, valid up to `re_to`.
struct Piece {
    re_to: f64,
    c: f64,
    m: f64,
}

/// Power laws joined within ±20 % of each bound by a cubic step in ln Re, because the published tables jump
/// there (by up to 27 %).
fn joined(pieces: &[Piece], re: f64) -> f64 {
    if re <= 0.0 {
        return 0.0;
    }
    const HALF_WIDTH: f64 = 0.182_321_556_793_954_6; // ln 1.2
    let i = pieces
        .iter()
        .position(|p| re < p.re_to)
        .unwrap_or(pieces.len() - 1);
    let value = |j: usize| pieces[j].c * re.powf(pieces[j].m);
    let mine = value(i);
    if i + 1 < pieces.len() {
        let x = (re / pieces[i].re_to).ln();
        if x > -HALF_WIDTH {
            let w = smoothstep(0.5 + 0.5 * x / HALF_WIDTH);
            return mine + w * (value(i + 1) - mine);
        }
    }
    if i > 0 {
        let x = (re / pieces[i - 1].re_to).ln();
        if x < HALF_WIDTH {
            let w = smoothstep(0.5 + 0.5 * x / HALF_WIDTH);
            let below = value(i - 1);
            return below + w * (mine - below);
        }
    }
    mine
}

/// Nusselt number of a single cylinder in cross-flow (Žukauskas 1972).
///
/// Nu = c Re^m Pr^n; (c, m) = (0.75, 0.4) to Re 40, (0.51, 0.5) to 1e3, (0.26, 0.6) to 2e5, (0.076, 0.7) to 1e6;
/// n = 0.37 for Pr <= 10. The factor (Pr/Pr_wall)^(1/4) is left to the caller.
///
/// - `re` [-] on diameter and approach velocity; 1 to 1e6, tends to 0 at rest (use [`churchill_bernstein`] there)
/// - `pr` [-] 0.7 to 500
///
/// Source: A. Žukauskas, Adv. Heat Transfer 8 (1972) 93-160; Bergman et al. 6th ed. table 7.4.
/// Evidence: `published_zukauskas_cylinder_matches_ht_away_from_the_joints`.
pub fn zukauskas_cylinder(re: f64, pr: f64) -> f64 {
    const PIECES: [Piece; 4] = [
        Piece {
            re_to: 40.0,
            c: 0.75,
            m: 0.4,
        },
        Piece {
            re_to: 1e3,
            c: 0.51,
            m: 0.5,
        },
        Piece {
            re_to: 2e5,
            c: 0.26,
            m: 0.6,
        },
        Piece {
            re_to: f64::INFINITY,
            c: 0.076,
            m: 0.7,
        },
    ];
    let n = if pr <= 10.0 { 0.37 } else { 0.36 };
    joined(&PIECES, re) * pr.powf(n)
}

/// How the tubes of successive rows stand behind each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arrangement {
    Inline,
    Staggered,
}

/// Mean Nusselt number of a tube bank (Žukauskas 1972), a second model for checks.
///
/// Nu = C_N c Re^m Pr^0.36, in-line: (0.9, 0.4) to Re 100, (0.52, 0.5) to 1e3, (0.27, 0.63) to 2e5, (0.033, 0.8);
/// staggered: (1.04, 0.4) to 500, (0.71, 0.5) to 1e3, (0.35 (a/b)^0.2, 0.6) to 2e5, (0.031 (a/b)^0.2, 0.8).
/// (The in-line exponent 0.5 is 0.05 in `ht` 1.2.0: a slip of that release.)
///
/// - `re_max` [-] on tube diameter and the velocity in the narrowest gap
/// - `pr` [-] 0.7 to 500; `a_over_b` [-] transverse over longitudinal pitch, used by staggered banks above Re 1000
/// - `rows` number of rows in flow direction, >= 1; the row factor is that of the in-line bank of the source's
///   figure, interpolated (from memory)
///
/// Source: as [`zukauskas_cylinder`]; A. Bejan, Convection Heat Transfer, 4th ed.
/// Evidence: `published_zukauskas_bank_matches_ht_with_its_exponent_repaired`.
pub fn zukauskas_bank(
    re_max: f64,
    pr: f64,
    arrangement: Arrangement,
    a_over_b: f64,
    rows: f64,
) -> f64 {
    const INLINE: [Piece; 4] = [
        Piece {
            re_to: 100.0,
            c: 0.9,
            m: 0.4,
        },
        Piece {
            re_to: 1e3,
            c: 0.52,
            m: 0.5,
        },
        Piece {
            re_to: 2e5,
            c: 0.27,
            m: 0.63,
        },
        Piece {
            re_to: f64::INFINITY,
            c: 0.033,
            m: 0.8,
        },
    ];
    let nu = match arrangement {
        Arrangement::Inline => joined(&INLINE, re_max),
        Arrangement::Staggered => {
            let f = a_over_b.powf(0.2);
            joined(
                &[
                    Piece {
                        re_to: 500.0,
                        c: 1.04,
                        m: 0.4,
                    },
                    Piece {
                        re_to: 1e3,
                        c: 0.71,
                        m: 0.5,
                    },
                    Piece {
                        re_to: 2e5,
                        c: 0.35 * f,
                        m: 0.6,
                    },
                    Piece {
                        re_to: f64::INFINITY,
                        c: 0.031 * f,
                        m: 0.8,
                    },
                ],
                re_max,
            )
        }
    };
    nu * pr.powf(0.36) * zukauskas_row_factor(rows, arrangement)
}

/// Žukauskas' correction for few rows (Re > 1000), 1 from 20 rows on.
fn zukauskas_row_factor(rows: f64, arrangement: Arrangement) -> f64 {
    // (rows, factor), from Bergman et al. 6th ed. table 7.6.
    const INLINE: [(f64, f64); 10] = [
        (1.0, 0.70),
        (2.0, 0.80),
        (3.0, 0.86),
        (4.0, 0.90),
        (5.0, 0.92),
        (7.0, 0.95),
        (10.0, 0.97),
        (13.0, 0.98),
        (16.0, 0.99),
        (20.0, 1.0),
    ];
    const STAGGERED: [(f64, f64); 10] = [
        (1.0, 0.64),
        (2.0, 0.76),
        (3.0, 0.84),
        (4.0, 0.89),
        (5.0, 0.92),
        (7.0, 0.95),
        (10.0, 0.97),
        (13.0, 0.98),
        (16.0, 0.99),
        (20.0, 1.0),
    ];
    let t = match arrangement {
        Arrangement::Inline => &INLINE,
        Arrangement::Staggered => &STAGGERED,
    };
    let i = t.partition_point(|&(n, _)| n <= rows);
    if i == 0 {
        return t[0].1;
    }
    if i == t.len() {
        return 1.0;
    }
    let ((n0, f0), (n1, f1)) = (t[i - 1], t[i]);
    f0 + (f1 - f0) * (rows - n0) / (n1 - n0)
}

/// A tube bank's dimensionless geometry with everything that does not depend on the flow worked out once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TubeBank {
    /// Void fraction ψ.
    void: f64,
    /// f_N: arrangement and row-number factor on the Nusselt number.
    nusselt_factor: f64,
    /// ξ_lam Re.
    loss_laminar: f64,
    /// ξ_turb = c Re^(-n).
    loss_turbulent: f64,
    loss_exponent: f64,
    /// Re offset and scale of the exponential that brings the turbulent part in.
    loss_onset: (f64, f64),
    /// u_max / u_free.
    contraction: f64,
}

impl TubeBank {
    /// - `a` [-] transverse pitch over tube outside diameter, > 1.02 (clamped)
    /// - `b` [-] longitudinal pitch over tube outside diameter, > 0.5; touching rows (b = 1) are allowed
    /// - `rows` number of rows in flow direction, >= 1; real, since coils have broken turns
    pub fn new(a: f64, b: f64, arrangement: Arrangement, rows: f64) -> Self {
        let a = a.max(1.02);
        let b = b.max(0.5);
        let rows = rows.max(1.0);
        let void = if b >= 1.0 {
            1.0 - FRAC_PI_4 / a
        } else {
            (1.0 - FRAC_PI_4 / (a * b)).max(0.05)
        };
        let arrangement_factor = match arrangement {
            Arrangement::Inline => {
                let r = b / a;
                1.0 + 0.7 / (void * void.sqrt()) * (r - 0.3) / ((r + 0.7) * (r + 0.7))
            }
            Arrangement::Staggered => 1.0 + 2.0 / (3.0 * b),
        };
        let nusselt_factor = if rows < 10.0 {
            (1.0 + (rows - 1.0) * arrangement_factor) / rows
        } else {
            // The source uses f_A itself from ten rows on; 0.9 f_A + 0.1 there would be a jump of up to 5 %.
            let at_ten = (1.0 + 9.0 * arrangement_factor) / 10.0;
            let w = smoothstep((rows - 10.0) / 5.0);
            at_ten + w * (arrangement_factor - at_ten)
        };
        let (contraction, pitch) = match arrangement {
            Arrangement::Staggered if b < 0.5 * (2.0 * a + 1.0).sqrt() => {
                let c = (0.25 * a * a + b * b).sqrt().max(1.02);
                (a / (2.0 * (c - 1.0)), c)
            }
            _ => (a / (a - 1.0), a),
        };
        let sb = b.sqrt() - 0.6;
        let loss_laminar =
            280.0 * PI * (sb * sb + 0.75) / (pitch.powf(1.6) * (4.0 * a * b - PI).max(0.3));
        let (loss_turbulent, loss_exponent, loss_onset) = match arrangement {
            Arrangement::Inline => {
                let f = (0.22 + 1.2 * (1.0 - 0.94 / b).max(0.0).powf(0.6) / (a - 0.85).powf(1.3))
                    * 10f64.powf(0.47 * (b / a - 1.5))
                    + 0.03 * (a - 1.0) * (b - 1.0).max(0.0);
                (f, 0.1 * b / a, (1000.0, 2000.0))
            }
            Arrangement::Staggered => {
                let (p, q) = (b / a - 1.0, a / b - 1.0);
                let f = 2.5 + 1.2 / (a - 0.85).powf(1.08) + 0.4 * p * p * p - 0.01 * q * q * q;
                (f.max(0.5), 0.25, (200.0, 1000.0))
            }
        };
        Self {
            void,
            nusselt_factor,
            loss_laminar,
            loss_turbulent,
            loss_exponent,
            loss_onset,
            contraction,
        }
    }

    /// Void fraction ψ: the mean velocity in the bank is the free one over ψ.
    pub fn void(&self) -> f64 {
        self.void
    }

    /// Velocity in the narrowest gap over the free velocity (before the bank, in the empty cross-section).
    pub fn contraction(&self) -> f64 {
        self.contraction
    }

    /// Mean Nusselt number on the streamed length l = π d / 2. See [`bank_gnielinski`].
    #[inline]
    pub fn nusselt(&self, re_psi: f64, pr: f64) -> f64 {
        let c = cube_root(pr);
        let re = re_psi.max(0.0);
        let r01 = power(re.max(1e-30), 0.1);
        let r02 = r01 * r01;
        let r04 = r02 * r02;
        let laminar = 0.664 * re.sqrt() * c;
        // 0.037 Re^0.8 Pr / (1 + 2.443 Re^-0.1 (Pr^(2/3) - 1)), times r01/r01. For Pr < 1 and Re under about
        // 1 the denominator turns negative; it is held above 0.3, where the term is negligible.
        let turbulent =
            0.037 * r04 * r04 * r01 * pr / (r01 + 2.443 * (c * c - 1.0)).max(0.3 * r01 + 1e-9);
        self.nusselt_factor * (0.3 + (laminar * laminar + turbulent * turbulent).sqrt())
    }

    /// Heat transfer coefficient over the turns, from the free velocity.
    ///
    /// - `u_free_m_s` velocity in the empty cross-section; `d_m` tube outside diameter;
    ///   `nu_m2_s`, `k_w_mk`, `pr` gas at the mean of bulk and wall temperature or at bulk temperature
    #[inline]
    pub fn h_w_m2k(&self, u_free_m_s: f64, d_m: f64, nu_m2_s: f64, k_w_mk: f64, pr: f64) -> f64 {
        let l = 0.5 * PI * d_m;
        let re_psi = u_free_m_s.abs() * l / (self.void * nu_m2_s);
        self.nusselt(re_psi, pr) * k_w_mk / l
    }

    /// Loss coefficient per row times Re, finite at rest. See [`bank_loss_per_row`].
    #[inline]
    pub fn loss_re(&self, re_max: f64) -> f64 {
        let re = re_max.max(0.0);
        let (offset, scale) = self.loss_onset;
        let onset = 1.0 - (-(re + offset) / scale).exp();
        self.loss_laminar
            + self.loss_turbulent * power(re.max(1e-30), 1.0 - self.loss_exponent) * onset
    }

    /// Loss coefficient per row on the gap velocity; finite (value at 1e-9) at rest.
    #[inline]
    pub fn loss_per_row(&self, re_max: f64) -> f64 {
        let re = re_max.max(1e-9);
        self.loss_re(re) / re
    }
}

/// Mean Nusselt number of a tube bank in cross-flow (Gnielinski 1978), on the streamed length l = π d / 2.
///
/// Nu_0 = 0.3 + √(Nu_lam² + Nu_turb²), Nu_lam = 0.664 Re^(1/2) Pr^(1/3), Nu_turb = 0.037 Re^0.8 Pr / [1 + 2.443 Re^(−0.1) (Pr^(2/3) − 1)];
/// Nu = Nu_0 [1 + (n − 1) f_A]/n; in-line f_A = 1 + 0.7 ψ^(−1.5) (b/a − 0.3)/(b/a + 0.7)², staggered f_A = 1 + 2/(3b)
///
/// - `re_psi` [-] = u l/(ψ ν), u the velocity in the empty cross-section, ψ = 1 − π/(4a); 10 to 1e6; any value >= 0
/// - `pr` [-] 0.6 to 1000
/// - `a`, `b` [-] transverse and longitudinal pitch over outside diameter; `rows` in flow direction
///
/// Stated scatter: about 15 %. Against Žukauskas' in-line bank (gap Reynolds number, pitches 1.5 to 3): within 9 % from 2000
/// up, 19-43 % above it from 300 to 1000, which is where a coil in slow flue gas works: the multiplier's prior must cover it.
/// Source: V. Gnielinski, Forsch. Ing.-Wes. 44 (1978) 15-25; VDI Heat Atlas G7;
/// Heat Exchanger Design Handbook (as in `ht` 1.2.0, `Nu_HEDH_tube_bank`).
/// Evidence: `published_gnielinski_bank_matches_ht`, `published_gnielinski_and_zukauskas_banks_agree`.
pub fn bank_gnielinski(
    re_psi: f64,
    pr: f64,
    a: f64,
    b: f64,
    arrangement: Arrangement,
    rows: f64,
) -> f64 {
    TubeBank::new(a, b, arrangement, rows).nusselt(re_psi, pr)
}

/// Loss coefficient per row of a tube bank: Δp = ξ rows ρ u_max²/2 (Gaddis & Gnielinski 1983).
///
/// In-line: ξ = ξ_l + ξ_t {1 − exp[−(Re + 1000)/2000]},
/// ξ_l = 280 π [(√b − 0.6)² + 0.75] / [a^1.6 (4ab − π) Re],
/// ξ_t = {[0.22 + 1.2 (1 − 0.94/b)^0.6/(a − 0.85)^1.3] 10^[0.47 (b/a − 1.5)] + 0.03 (a − 1)(b − 1)} Re^(−0.1 b/a).
/// Staggered: ξ_t = [2.5 + 1.2/(a − 0.85)^1.08 + 0.4 (b/a − 1)³ − 0.01 (a/b − 1)³] Re^(−1/4), {1 − exp[−(Re + 200)/1000]}.
///
/// - `re_max` [-] on tube diameter and the velocity in the narrowest gap; 1 to 3e5; any value >= 0
/// - `a` 1.25 to 3, `b` 1.2 to 3 [-]; five rows or more (fewer: entry and exit losses, up to (1/n − 0.1)/a² each, are left out)
///
/// Stated scatter: 10-15 %. Source: E. S. Gaddis, V. Gnielinski, vt 17 (1983) 410-418; VDI Heat Atlas L1.4
/// (formulas seen as coded in the open TORCHE collection).
/// Evidence: `published_bank_loss_lies_with_zukauskas`, `identity_bank_loss_is_continuous_from_rest`.
pub fn bank_loss_per_row(re_max: f64, a: f64, b: f64, arrangement: Arrangement) -> f64 {
    TubeBank::new(a, b, arrangement, 10.0).loss_per_row(re_max)
}

/// A helical coil in a passage, seen by gas that flows along the helix's axis: each turn is one in-line row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turns {
    pub tube_outside_m: f64,
    /// To the tube's centre line.
    pub coil_diameter_m: f64,
    /// Tube centre to tube centre along the axis.
    pub pitch_m: f64,
    /// Cross-section of the passage, less a core plug.
    pub passage_area_m2: f64,
    pub turns: f64,
}

impl Turns {
    /// The in-line bank that stands for the turns.
    ///
    /// a = passage area per tube length and diameter, A/(π D d): for a bank of straight tubes this is the
    /// transverse pitch ratio. b = pitch/d. In-line rather than staggered because every turn stands exactly
    /// behind the one before; a single-cylinder correlation would miss the wake between close turns.
    /// How much gas really crosses the turns (core bypass) is a matter for the caller's multiplier.
    pub fn bank(&self) -> TubeBank {
        let a = self.passage_area_m2 / (PI * self.coil_diameter_m * self.tube_outside_m);
        let b = self.pitch_m / self.tube_outside_m;
        TubeBank::new(a, b, Arrangement::Inline, self.turns)
    }
}

/// Mean Nusselt number, on l = π d/2, of a helix's turns in axial flow: [`bank_gnielinski`] for [`Turns::bank`].
///
/// - `re_psi` [-] as in [`bank_gnielinski`]; `pr` [-]
///
/// In a loop build `turns.bank()` once and call [`TubeBank::nusselt`] or [`TubeBank::h_w_m2k`].
pub fn turns_crossflow(re_psi: f64, pr: f64, turns: &Turns) -> f64 {
    turns.bank().nusselt(re_psi, pr)
}
