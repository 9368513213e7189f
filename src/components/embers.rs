//! Embers: char that has fallen off the sticks and glows in a heap on the hearth. See `docs/model/firebox.md`.

use crate::correlations::{charring::CharGas, cube_root, lesser, natural_convection, smoothstep};

/// Density of glowing char, kg/m3.
pub const EMBER_KG_M3: f64 = 250.0;
/// Specific heat of hot char, J/kgK.
pub const CHAR_C_J_KGK: f64 = 1500.0;
/// Size of piece in which the state of the embers' surface is counted, m.
pub const REFERENCE_M: f64 = 0.02;
/// Share of solid in a heap of lumps.
const HEAP_SOLID: f64 = 0.5;
/// Surface of a heap at its angle of repose, 35°: a cone of volume V has 4.72 V^(2/3).
const HEAP_FORM: f64 = 4.72;
/// Share of the hearth that a full bed of embers covers; sides and front of it are ash (estimate).
const COVERED_MOST: f64 = 0.7;
/// Time in which the flap over a magazine follows, s.
const FLAP_S: f64 = 30.0;
/// Surface of pieces that air reaches, per surface of the heap: the outermost layer and little under it. With it charcoal on a
/// grill burns 2 to 3 g/s per m2 of bed: 1.5 kg on 0.1 m2 last an hour and a quarter (common practice, no source).
const REACHED: f64 = 2.0;
/// Size of the pieces that thick char cracks into, m (estimate: cracks in charred timber lie 2 to 4 cm apart).
const CRACKED_M: f64 = 0.03;
/// A rod's sphere of the same surface per volume is 3/2 of its thickness; char has shrunk to three quarters of the wood's
/// thickness (from memory: 20 to 30 % across the grain).
const ROD: f64 = 1.5 * 0.75;

/// Difference between embers and gas above them from which the gas rises anyway, K: the flames flicker (estimate).
const FLICKER_K: f64 = 50.0;

/// Mass transfer of oxygen from gas over a hearth of `width_m` x `depth_m` down to it, m/s: a plate that faces up (McAdams; length
/// area/perimeter) and one along which the gas flows (laminar, Pohlhausen, over the depth), by their cubes. `gas` is that of the
/// film, `hotter_k` how much hotter the embers are than the gas over them.
#[inline]
pub fn sinks_m_s((width_m, depth_m): (f64, f64), film_k: f64, hotter_k: f64, gas: &CharGas) -> f64 {
    let (nu, d) = (gas.nu_m2_s, gas.diffusivity_m2_s);
    let rises_k = 0.5 * (hotter_k + (hotter_k * hotter_k + FLICKER_K * FLICKER_K).sqrt());
    let plate_m = width_m * depth_m / (2.0 * (width_m + depth_m));
    let ra = 9.80665 * rises_k / film_k * plate_m.powi(3) / (nu * d);
    let natural = natural_convection::horizontal_plate_up(ra) * d / plate_m;
    let re = gas.velocity_m_s * depth_m / nu;
    let forced = 0.664 * re.sqrt() * cube_root(nu / d) * d / depth_m;
    cube_root(natural.powi(3) + forced.powi(3))
}

/// Size of the pieces that a stick's char falls into, m: rods where it is thin, lumps where it is thick.
#[inline]
pub fn piece_m(stick_m: f64) -> f64 {
    let rod = ROD * stick_m;
    rod / (1.0 + (rod / CRACKED_M).powi(2)).sqrt()
}

/// A heap of embers.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Heap {
    /// Outside of the heap: what sees the chamber, m2.
    pub glow_m2: f64,
    /// Surface of all its pieces, m2.
    pub all_m2: f64,
    /// Its pieces side by side in one layer, m2.
    pub layer_m2: f64,
    /// Surface of its pieces that air reaches, m2.
    pub reached_m2: f64,
}

impl Heap {
    /// From char (kg), size of its pieces and the hearth's area: few pieces lie apart in one layer, more of them in a heap, a
    /// full bed is bounded by the hearth.
    #[inline]
    pub fn new(char_kg: f64, piece_m: f64, floor_m2: f64) -> Self {
        // Under a microgram the squares below could vanish against each other.
        if char_kg <= 1e-9 {
            return Self::default();
        }
        let all_m2 = 6.0 * char_kg / (EMBER_KG_M3 * piece_m);
        let layer_m2 = all_m2 / std::f64::consts::PI;
        let side_m = cube_root(char_kg / (HEAP_SOLID * EMBER_KG_M3));
        let heap_m2 = HEAP_FORM * side_m * side_m;
        let bed_m2 = COVERED_MOST * floor_m2;
        // 1/√(1/l² + 1/h² + 1/b²) with one division.
        let (l2, h2, b2) = (layer_m2 * layer_m2, heap_m2 * heap_m2, bed_m2 * bed_m2);
        let glow_m2 = (l2 * h2 * b2 / (h2 * b2 + l2 * b2 + l2 * h2)).sqrt();
        let outer_m2 = REACHED * glow_m2;
        Self {
            glow_m2,
            all_m2,
            layer_m2,
            reached_m2: all_m2 * outer_m2 / (all_m2 * all_m2 + outer_m2 * outer_m2).sqrt(),
        }
    }
}

/// Share of the wood of a magazine that burns as it lies on its embers: none while they cover less than a seventh of the hearth they
/// can, all from a little over half of it on, by a cubic step. Until then the flames of the pile burn what does not.
#[inline]
pub fn through_share(glow_m2: f64, floor_m2: f64) -> f64 {
    smoothstep((glow_m2 / (COVERED_MOST * floor_m2) - 0.15) * (1.0 / 0.4))
}

/// How fast the flap over a magazine goes shut, or open again, 1/s; `shut` its place, 0..1. It is shut once the embers cover some 0.45 of the hearth that they
/// can, and stays so while they sink, until hardly any are left: from then on the fire burns upwards again (common practice: the flap is shut once the embers
/// glow, and a person who finds the fire out opens it).
#[inline]
pub fn flap_per_s(shut: f64, glow_m2: f64, floor_m2: f64) -> f64 {
    let covered = glow_m2 / (COVERED_MOST * floor_m2);
    let shuts = smoothstep((covered - 0.35) * (1.0 / 0.2));
    let opens = smoothstep((0.1 - covered) * (1.0 / 0.05));
    ((1.0 - shut) * shuts - shut * opens) * (1.0 / FLAP_S)
}

/// Depth of charred wood that still sits on a stick of this radius and virgin share, m: what the stick has left of its own,
/// never much more than half of what it cracks into, since thicker char falls off.
#[inline]
pub fn on_wood_m(radius_m: f64, virgin: f64) -> f64 {
    let own = 0.5 * radius_m * (1.0 - virgin).max(0.0);
    own / (1.0 + own * (1.0 / (0.5 * CRACKED_M)))
}

/// Depth of char on the face of a log that lies on embers, m: it grows to half of what it cracks into and breaks off into them, half of that in
/// the mean; on thin sticks half of their radius.
#[inline]
pub fn on_coals_m(radius_m: f64) -> f64 {
    lesser(0.25 * CRACKED_M, 0.5 * radius_m)
}

/// Char that lies loose, kg, of all the char and of what still sits on burning wood.
#[inline]
pub fn loose_kg(char_kg: f64, on_wood_kg: f64) -> f64 {
    let loose = char_kg - on_wood_kg;
    0.5 * (loose + (loose * loose + 0.01 * char_kg * char_kg).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_few_pieces_lie_in_one_layer_and_many_fill_the_hearth() {
        // A touching sphere takes the plan of its square: surface over plan is π; one piece of 2 cm weighs a gram.
        let one = std::f64::consts::PI / 6.0 * 0.02f64.powi(3) * EMBER_KG_M3;
        let few = Heap::new(1e-5 * one, 0.02, 0.1);
        let layer = 1e-5 * 0.02 * 0.02;
        assert!((few.glow_m2 / layer - 1.0).abs() < 0.02, "{few:?}");
        let many = Heap::new(1e3, 0.02, 0.1);
        assert!((many.glow_m2 / 0.07 - 1.0).abs() < 0.01, "{many:?}");
        assert_eq!(Heap::new(0.0, 0.02, 0.1), Heap::default());
    }

    #[test]
    fn analytic_a_heap_has_the_surface_of_its_cone() {
        // Radius r, slope 35°: V = π/3 r³ tan 35°, lateral surface π r²/cos 35°.
        let (r, slope) = (0.1f64, 35f64.to_radians());
        let volume = std::f64::consts::PI / 3.0 * r.powi(3) * slope.tan();
        let surface = std::f64::consts::PI * r * r / slope.cos();
        let ours = HEAP_FORM * volume.powf(2.0 / 3.0);
        assert!((ours / surface - 1.0).abs() < 0.01, "{ours} {surface}");
    }

    #[test]
    fn analytic_fine_char_on_a_wide_floor_is_a_cone() {
        // One kilogram at half solid fills 8 litres: r³ = 3 V/(π tan 35°).
        let slope = 35f64.to_radians();
        let volume = 1.0 / (0.5 * EMBER_KG_M3);
        let r = (3.0 * volume / (std::f64::consts::PI * slope.tan())).cbrt();
        let surface = std::f64::consts::PI * r * r / slope.cos();
        let fine = Heap::new(1.0, 1e-4, 1e6);
        assert!((fine.glow_m2 / surface - 1.0).abs() < 0.01, "{fine:?}");
        // Of its many pieces air reaches two layers; of a few apart, with surface π times their plan, nearly all.
        let reached = fine.reached_m2 / (2.0 * fine.glow_m2);
        assert!((reached - 1.0).abs() < 1e-4, "{fine:?}");
        let few = Heap::new(1e-8, 0.02, 0.1);
        let plan = 6e-8 / (EMBER_KG_M3 * 0.02) / std::f64::consts::PI;
        let both = (std::f64::consts::PI.powi(-2) + 0.25).powf(-0.5);
        assert!((few.reached_m2 / plan / both - 1.0).abs() < 0.02, "{few:?}");
    }

    #[test]
    fn analytic_char_on_wood_is_the_sticks_own_until_it_cracks_off() {
        // A stick of half its section keeps 1 - 0.5 of half its radius; thick char at most half a piece of 3 cm; both equal: half.
        assert!((on_wood_m(1e-4, 0.5) / 2.5e-5 - 1.0).abs() < 5e-3);
        assert!((on_wood_m(1e-4, 0.2) / 4e-5 - 1.0).abs() < 5e-3);
        assert!((on_wood_m(1e3, 0.2) / 0.015 - 1.0).abs() < 1e-3);
        assert!((on_wood_m(0.06, 0.5) / 0.0075 - 1.0).abs() < 1e-12);
        assert_eq!(on_wood_m(0.06, 1.1), 0.0);
    }

    #[test]
    fn analytic_the_flap_shuts_over_embers_and_char_on_coals_is_half_of_what_breaks_off() {
        // 0.15, half way and 0.55 of the 0.7 m2 that a full bed covers of 1 m2.
        for (glow_m2, share) in [(0.1, 0.0), (0.105, 0.0), (0.245, 0.5), (0.385, 1.0)] {
            let got = through_share(glow_m2, 1.0);
            assert!((got - share).abs() < 1e-9, "{glow_m2}: {got}");
            assert!((through_share(0.2 * glow_m2, 0.2) - got).abs() < 1e-9);
        }
        // Of the 0.7 m2 that a full bed covers of 1 m2: bare, a tenth, a quarter, 0.45 and 0.55 of it.
        for (covered, from_open, from_shut) in [
            (0.04, 0.0, -1.0),
            (0.075, 0.0, -0.5),
            (0.1, 0.0, 0.0),
            (0.25, 0.0, 0.0),
            (0.45, 0.5, 0.0),
            (0.55, 1.0, 0.0),
        ] {
            let per = |shut: f64| 30.0 * flap_per_s(shut, 0.7 * covered, 1.0);
            assert!(
                (per(0.0) - from_open).abs() < 1e-9,
                "{covered}: {}",
                per(0.0)
            );
            assert!(
                (per(1.0) - from_shut).abs() < 1e-9,
                "{covered}: {}",
                per(1.0)
            );
            let half = 0.5 * (from_open + from_shut);
            assert!((per(0.5) - half).abs() < 1e-9);
            let small = 30.0 * flap_per_s(0.5, 0.14 * covered, 0.2);
            assert!((small - half).abs() < 1e-9);
        }
        assert_eq!(on_coals_m(0.05), 0.0075);
        assert_eq!(on_coals_m(0.006), 0.003);
    }

    #[test]
    fn analytic_a_thin_sticks_char_is_a_rod_and_a_thick_ones_cracks() {
        assert!((piece_m(1e-4) / 1e-4 - 1.125).abs() < 1e-4);
        assert!((piece_m(1.0) - 0.03).abs() < 1e-4);
        assert!(piece_m(0.05) > piece_m(0.025));
    }

    /// Bergman et al., 6th ed., eqs. 9.30, 9.31 and 7.31, heat and mass alike: each alone, and both together by their cubes.
    #[test]
    fn published_oxygen_sinks_to_a_hearth_as_to_a_plate() {
        let gas = |velocity_m_s| CharGas {
            y_o2: 0.2,
            rho_kg_m3: 0.4,
            velocity_m_s,
            nu_m2_s: 1e-4,
            diffusivity_m2_s: 1.4e-4,
        };
        // Still gas 300 K colder: L = 0.2/1.8 m, Ra = g 0.3 L³/(ν D) = 2.9e5, Sh = 0.54 Ra^(1/4).
        let l: f64 = 0.4 * 0.5 / 1.8;
        let ra = 9.80665 * 300.0 / 1000.0 * l.powi(3) / 1.4e-8;
        let still = sinks_m_s((0.4, 0.5), 1000.0, 300.0, &gas(0.0));
        // What the flicker adds to 300 K: 2 K.
        assert!((still / (0.54 * ra.powf(0.25) * 1.4e-4 / l) - 1.0).abs() < 5e-3);
        // A hundred times the area: Sh = 0.15 Ra^(1/3), whatever the size.
        let ra = ra * 1000.0;
        let wide = sinks_m_s((4.0, 5.0), 1000.0, 300.0, &gas(0.0));
        assert!((wide / (0.15 * ra.cbrt() * 1.4e-4 / (10.0 * l)) - 1.0).abs() < 5e-3);
        // Gas 2000 K hotter than the embers hardly moves by itself: Re = 2500, Sh = 0.664 Re^(1/2) Sc^(1/3).
        let along = sinks_m_s((0.4, 0.5), 1000.0, -2000.0, &gas(0.5));
        let forced = 0.664 * 50.0 * (1.0f64 / 1.4).cbrt() * 1.4e-4 / 0.5;
        assert!((along / forced - 1.0).abs() < 0.03, "{along} {forced}");
        let both = sinks_m_s((0.4, 0.5), 1000.0, 300.0, &gas(0.5));
        let cubes = (still.powi(3) + forced.powi(3)).cbrt();
        assert!((both / cubes - 1.0).abs() < 1e-9);
        // Embers as hot as the gas: half of the flicker's 50 K.
        let even = sinks_m_s((4.0, 5.0), 1000.0, 0.0, &gas(0.0));
        assert!((even / wide / (25.0f64 / 302.07).cbrt() - 1.0).abs() < 0.01);
    }

    #[test]
    fn identity_loose_char_is_positive_and_at_most_all_of_it() {
        assert!((loose_kg(0.2, 0.0) / 0.2 - 1.0).abs() < 0.01);
        for on_wood in [0.0, 0.05, 0.2, 0.5] {
            let loose = loose_kg(0.2, on_wood);
            assert!(loose > 0.0 && loose < 0.201, "{loose}");
        }
        assert!((loose_kg(0.2, 0.05) - 0.15).abs() < 0.002);
        assert_eq!(loose_kg(0.0, 0.0), 0.0);
    }
}
