//! Sticks in the fire: cohorts with a char front each.
//!
//! States per cohort: virgin share v (mass not yet passed by the front / mass fed) and ignition progress g.
//! See `docs/model/firebox.md`.

use crate::correlations::charring;

/// One feed that still holds virgin wood. Constants between events; the states are in the state vector.
#[derive(Debug, Clone, Copy, Default)]
pub struct Cohort {
    /// Dry mass fed, kg; zero: the slot is free.
    pub dry_kg: f64,
    /// kg water per kg dry wood.
    pub water_per_dry: f64,
    /// Half thickness, m.
    pub radius_m: f64,
    /// Dry density, kg/m3.
    pub density_kg_m3: f64,
    /// Cross-section of all its sticks together, m2.
    pub cross_section_m2: f64,
    pub stick_length_m: f64,
    /// Surface of its char per kilogram, against pieces of [`embers::REFERENCE_M`](super::embers::REFERENCE_M).
    pub char_surface: f64,
    /// Sensible enthalpy when fed, J per kg dry (with its water).
    pub sensible_j_kg: f64,
}

/// What the bed sees at one moment.
#[derive(Debug, Clone, Copy)]
pub struct BedSurroundings {
    /// Radiation and convection of flame, lining and embers on the face of a stick that catches first, W/m2.
    pub lighting_w_m2: f64,
    /// What the char front makes of the flux on all its faces.
    pub front: charring::Front,
    /// Length of stick in the fire, m.
    pub burning_length_m: f64,
    /// Share of the sticks' surface that no neighbour hides, 0..1.
    pub exposed_share: f64,
}

/// Flux on a stick inside a dense burning pile, W/m2: the one at which the char front gives the free-burning
/// speed of wood cribs, 2.2e-6 D^-0.6 m/s (Babrauskas, SFPE Handbook, wood cribs), for 38 mm sticks: 0.94 mm/min.
pub const PILE_FLUX_W_M2: f64 = 90e3;
/// Burning surface per volume of chamber at which a stick sees its neighbours' flames and the chamber alike, 1/m:
/// cribs have 20..40, a single stick under 1 (estimate; covered by the prior of `bed_rate`).
const PILE_HALF_PER_M: f64 = 8.0;
/// Speed at which flames spread along sticks in a fire, m/s: a few millimetres a second (from memory: Drysdale ch. 7).
const SPREAD_M_S: f64 = 3e-3;
/// A pile does not spread over a large chamber: its sticks stay within this volume of each other, m3 (estimate).
const PILE_M3: f64 = 0.02;
/// Flux below which a fresh stick does not ignite at all, W/m2 (critical flux for piloted ignition of wood,
/// 10..13 kW/m2; smouldering contact with embers lowers it; from memory: Drysdale ch. 6).
const IGNITION_FLUX_W_M2: f64 = 8e3;

impl Cohort {
    /// Surface exposed to the fire, m2: shrinks with the virgin radius, and for long sticks only the burning length counts.
    #[inline]
    pub fn burning_area_m2(&self, v: f64, burning_length_m: f64) -> f64 {
        let root = v.max(0.0) / (v.max(0.0) + 1e-3).sqrt();
        4.0 * self.dry_kg / (self.density_kg_m3 * 2.0 * self.radius_m)
            * root
            * self.share_in_fire(v, burning_length_m)
    }

    /// Share of what is left that lies in the fire, 0..1.
    #[inline]
    pub fn share_in_fire(&self, v: f64, burning_length_m: f64) -> f64 {
        (burning_length_m / (self.stick_length_m * v.max(1e-9))).min(1.0)
    }

    /// Cross-section of sticks still standing in the mouth, m2: those longer than the burning length.
    #[inline]
    pub fn mouth_section_m2(&self, v: f64, burning_length_m: f64) -> f64 {
        let over = (self.stick_length_m * v - burning_length_m) / (0.25 * self.stick_length_m);
        let s = over.clamp(0.0, 1.0);
        self.cross_section_m2 * s * s * (3.0 - 2.0 * s)
    }

    /// Char depth, m.
    #[inline]
    pub fn char_depth_m(&self, v: f64) -> f64 {
        self.radius_m * (1.0 - v.max(0.0).sqrt())
    }
}

/// How far the ignition ramp has opened the front: 0 below 0.6 of the ignition dose, 1 from the whole.
#[inline]
pub fn lit_share(g: f64) -> f64 {
    let s = ((g - 0.6) / 0.4).clamp(0.0, 1.0);
    s * s * (3.0 - 2.0 * s)
}

/// Share of a stick's view that the pile's own flames fill, 0..1, from what is alight (states only, so that it is no implicit loop).
#[inline]
pub fn pile_share(lit_area_m2: f64, chamber_m3: f64, oxygen_share: f64) -> f64 {
    let density = lit_area_m2 / chamber_m3.min(PILE_M3);
    density / (density + PILE_HALF_PER_M) * oxygen_share
}

/// Share of the sticks' surface that no neighbour hides, from the share of their room that wood fills.
///
/// n square sticks side by side without gaps show 1/√n of their faces to the outside, 0.3 for ten; cribs whose layers are
/// filled to a third or a half burn over all faces (Babrauskas, SFPE Handbook, wood cribs; from memory). So 0.3 at 1 and
/// hardly less than 1 up to a half (estimate between; covered by the prior of `bed_rate`).
#[inline]
pub fn exposed_share(filled: f64) -> f64 {
    let f2 = filled * filled;
    1.0 / (1.0 + f2 * f2 * (0.7 / 0.3))
}

/// Rates of one cohort.
#[derive(Debug, Clone, Copy, Default)]
pub struct CohortRates {
    pub dv_per_s: f64,
    pub dg_per_s: f64,
    /// Dry wood passing the front, kg/s.
    pub dry_kg_s: f64,
}

/// Front speed and ignition progress of one cohort.
#[inline]
pub fn cohort_rates(c: &Cohort, v: f64, g: f64, s: &BedSurroundings, bed_rate: f64) -> CohortRates {
    if c.dry_kg <= 0.0 {
        return CohortRates::default();
    }
    let q = s.lighting_w_m2;
    let moisture_wet = c.water_per_dry / (1.0 + c.water_per_dry);
    let front_m_s = bed_rate
        * s.front
            .speed_m_s(c.char_depth_m(v), c.density_kg_m3, moisture_wet)
        * lit_share(g);
    let root = v.max(0.0) / (v.max(0.0) + 1e-3).sqrt();
    let dv = -2.0 * front_m_s / c.radius_m
        * root
        * c.share_in_fire(v, s.burning_length_m)
        * s.exposed_share;
    // Thermally thick ignition: the dose q² t reaches (π/4) k ρ c ΔT². Moisture raises k ρ c and adds its latent heat.
    let excess = (q - IGNITION_FLUX_W_M2).max(0.0);
    let krc = 0.12 * c.density_kg_m3 * 1500.0 * (1.0 + 2.5 * c.water_per_dry);
    let dose = 0.785 * krc * 300.0 * 300.0;
    // Thin sticks heat through before the thick-body dose is reached.
    let thin_j_m2 = 0.5 * c.radius_m * c.density_kg_m3 * (1500.0 * 300.0 + c.water_per_dry * 2.6e6);
    let heated = excess * excess / dose + excess / thin_j_m2;
    // However strong the flux, flames take time to spread along the sticks.
    let spread_s = c.stick_length_m.min(s.burning_length_m) / SPREAD_M_S;
    let rate = heated / (1.0 + heated * spread_s);
    let dg = rate * (1.2 - g).max(0.0) / 1.2
        - if q < IGNITION_FLUX_W_M2 {
            0.002 * g * (1.0 - q / IGNITION_FLUX_W_M2)
        } else {
            0.0
        };
    CohortRates {
        dv_per_s: dv,
        dg_per_s: dg,
        dry_kg_s: -dv * c.dry_kg,
    }
}
