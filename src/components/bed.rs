//! Sticks in the fire: cohorts with a char front each.
//!
//! States per cohort: virgin share v (mass not yet passed by the front / mass fed) and ignition progress g.
//! See `docs/model/firebox.md`.

use super::embers::Heap;
use crate::correlations::{charring, cube_root, greater, lesser, smoothstep};

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
/// Volume of a cone over that of the cylinder around it.
const CONE: f64 = 1.0 / 3.0;
/// Share of a stick's length from which on it burns as a whole: beyond it a cone would be left before there is one.
const WHOLE: f64 = 0.92;
/// Flux below which a fresh stick does not ignite at all, W/m2 (critical flux for piloted ignition of wood,
/// 10..13 kW/m2; smouldering contact with embers lowers it; from memory: Drysdale ch. 6).
const IGNITION_FLUX_W_M2: f64 = 8e3;

/// A cohort in its fire, with what no state changes: made when it is fed, so that a moment costs few divisions.
#[derive(Debug, Clone, Copy, Default)]
pub struct Laid {
    pub fed: Cohort,
    /// Volume and faces when fresh.
    pub volume_m3: f64,
    fresh_area_m2: f64,
    /// Burning length over the stick's; 1 where all of it lies in the fire.
    reach: f64,
    /// Front speed against that of the reference wood.
    wood_factor: f64,
    /// Over the radius; over the ignition dose of a thick body and of one that heats through.
    per_radius_m: f64,
    per_dose: f64,
    per_thin_m2_j: f64,
    spread_s: f64,
}

/// What is left of a cohort at one moment.
#[derive(Debug, Clone, Copy, Default)]
pub struct Left {
    /// Share that is virgin wood, not negative.
    pub virgin: f64,
    /// Share of the fresh faces that is in the fire, fading to nothing as the wood is spent.
    face: f64,
    /// Share of the fresh sticks that is virgin wood in the fire.
    pub in_fire: f64,
    /// Virgin share of that part of the sticks, and mean depth of its char over their radius.
    pub end: f64,
    depth: f64,
    /// How far the ignition ramp has opened the front.
    pub lit: f64,
}

impl Cohort {
    /// In a fire that takes this much of a stick's length.
    pub fn laid(&self, burning_length_m: f64) -> Laid {
        if self.dry_kg <= 0.0 {
            return Laid::default();
        }
        let volume_m3 = self.dry_kg / self.density_kg_m3;
        // Thermally thick ignition: the dose q² t reaches (π/4) k ρ c ΔT². Moisture raises k ρ c and adds its latent heat.
        let krc = 0.12 * self.density_kg_m3 * 1500.0 * (1.0 + 2.5 * self.water_per_dry);
        let dose = 0.785 * krc * 300.0 * 300.0;
        // Thin sticks heat through before the thick-body dose is reached.
        let thin_j_m2 = 0.5
            * self.radius_m
            * self.density_kg_m3
            * (1500.0 * 300.0 + self.water_per_dry * 2.6e6);
        Laid {
            fed: *self,
            volume_m3,
            fresh_area_m2: 2.0 * volume_m3 / self.radius_m,
            reach: match burning_length_m / self.stick_length_m {
                nearly_all if nearly_all > WHOLE => 1.0,
                end => end,
            },
            wood_factor: charring::wood_factor(
                self.density_kg_m3,
                self.water_per_dry / (1.0 + self.water_per_dry),
            ),
            per_radius_m: 1.0 / self.radius_m,
            per_dose: 1.0 / dose,
            per_thin_m2_j: 1.0 / thin_j_m2,
            spread_s: self.stick_length_m.min(burning_length_m) / SPREAD_M_S,
        }
    }
}

impl Laid {
    /// With the share `v` of virgin wood left, and the ignition progress `g`.
    #[inline]
    pub fn left(&self, v: f64, g: f64) -> Left {
        let virgin = greater(v, 0.0);
        let lit = lit_share(g);
        // A free slot has no sticks.
        if self.reach == 1.0 || self.reach == 0.0 {
            // Faces of a stick that burns over its whole length recede alike.
            return Left {
                virgin,
                face: virgin / (virgin + 1e-3).sqrt(),
                in_fire: virgin,
                end: virgin,
                depth: 1.0 - virgin.sqrt(),
                lit,
            };
        }
        let (face, end, depth) = self.tapering(virgin);
        Left {
            virgin,
            face: self.reach * face,
            // No more than there is.
            in_fire: lesser(self.reach * end, virgin),
            end,
            depth,
            lit,
        }
    }

    /// The end in the fire of a stick that is pushed in as it burns: its faces over those of a whole end, its virgin share, and the mean depth of
    /// its char over the radius.
    ///
    /// A fresh end thins evenly to half of its radius; by then it has a tip, and from there on it is a cone: all faces recede at one speed s, each place
    /// since it came into the fire, so a stick of radius r that is consumed over a length l moves by s l/r a second and loses half of what
    /// a whole end would (a third of its volume is left in it). Once nothing is left to push, the cone shrinks.
    #[inline]
    fn tapering(&self, virgin: f64) -> (f64, f64, f64) {
        let thinned = 1.0 - (1.0 - virgin) / self.reach;
        if thinned > 0.25 {
            let x = thinned.sqrt();
            let gone = 1.0 - x;
            return (
                x,
                (1.0 / 3.0) + (2.0 / 3.0) * (2.0 * x - 1.0),
                gone * (1.0 - (2.0 / 3.0) * gone),
            );
        }
        let cone = virgin / (self.reach * CONE);
        if cone > 1.0 {
            return (0.5, CONE, 1.0 / 3.0);
        }
        let size = cube_root(cone + 1e-3);
        (0.5 * cone / size, CONE * cone, 1.0 - (2.0 / 3.0) * size)
    }

    /// Surface exposed to the fire, m2: shrinks with the virgin radius, and for long sticks only their ends count.
    #[inline]
    pub fn burning_area_m2(&self, left: &Left) -> f64 {
        self.fresh_area_m2 * left.face
    }

    /// Cross-section of sticks still standing in the mouth, m2: those longer than the burning length. All that is left but the cone in the fire
    /// stands out of it, and never more than did at first.
    #[inline]
    pub fn mouth_section_m2(&self, v: f64) -> f64 {
        let outside = lesser(1.0 - self.reach, v - CONE * self.reach);
        if outside <= 0.0 {
            return 0.0;
        }
        self.fed.cross_section_m2 * smoothstep(4.0 * outside)
    }

    /// Char depth, m.
    #[inline]
    pub fn char_depth_m(&self, left: &Left) -> f64 {
        self.fed.radius_m * left.depth
    }
}

/// How far the ignition ramp has opened the front: 0 below 0.6 of the ignition dose, 1 from the whole.
#[inline]
pub fn lit_share(g: f64) -> f64 {
    smoothstep((g - 0.6) * (1.0 / 0.4))
}

/// Share of a stick's view that its neighbours in the pile fill, 0..1, from what is alight (states only, so that it is no implicit
/// loop).
#[inline]
pub fn inside_share(lit_area_m2: f64, chamber_m3: f64) -> f64 {
    let density = lit_area_m2 / chamber_m3.min(PILE_M3);
    density / (density + PILE_HALF_PER_M)
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

/// Face of the wood that lies on a bed of embers, m2: the lower halves of round logs side by side, π/2 of the plan.
#[inline]
pub fn on_coals_m2(heap: &Heap) -> f64 {
    std::f64::consts::FRAC_PI_2 * heap.glow_m2
}

/// Share of a cohort's virgin wood that a front in the reference wood takes per metre of its way.
#[inline]
pub fn taken_per_m(c: &Laid, left: &Left, exposed_share: f64, bed_rate: f64) -> f64 {
    2.0 * bed_rate * c.wood_factor * left.lit * c.per_radius_m * left.face * exposed_share
}

/// How fast the ignition progress `g` of a cohort grows, or falls back, under the flux on the face that catches first, 1/s.
#[inline]
pub fn kindling_per_s(c: &Laid, g: f64, lighting_w_m2: f64) -> f64 {
    let q = lighting_w_m2;
    let excess = greater(q - IGNITION_FLUX_W_M2, 0.0);
    let heated = excess * (excess * c.per_dose + c.per_thin_m2_j);
    // However strong the flux, flames take time to spread along the sticks.
    let rate = heated / (1.0 + heated * c.spread_s);
    rate * greater(1.2 - g, 0.0) * (1.0 / 1.2)
        - if q < IGNITION_FLUX_W_M2 {
            0.002 * g * (1.0 - q * (1.0 / IGNITION_FLUX_W_M2))
        } else {
            0.0
        }
}

/// Share of their flames that burn where `comes_kg_s` of air come to those who want `wanted_kg_s`, 0..1: the smaller of both, joined
/// by their fourth powers.
#[inline]
pub fn burning_share(comes_kg_s: f64, wanted_kg_s: f64) -> f64 {
    let (c2, w2) = (comes_kg_s * comes_kg_s, wanted_kg_s * wanted_kg_s);
    (c2 * c2 / (c2 * c2 + w2 * w2)).sqrt().sqrt()
}
