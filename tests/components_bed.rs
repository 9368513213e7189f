//! The bed on its own, each law written out by hand.

use emberloop::components::bed::{
    Cohort, Laid, Left, burning_share, exposed_share, inside_share, kindling_per_s, lit_share,
    on_coals_m2, taken_per_m,
};
use emberloop::components::embers::Heap;
use emberloop::correlations::charring::Front;
use std::f64::consts::PI;

fn close(what: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

/// Six sticks of 40 x 40 x 300 mm.
fn sticks() -> Cohort {
    Cohort {
        dry_kg: 6.0 * 0.04 * 0.04 * 0.3 * 450.0,
        water_per_dry: 0.2,
        radius_m: 0.02,
        density_kg_m3: 450.0,
        cross_section_m2: 6.0 * 0.04 * 0.04,
        stick_length_m: 0.3,
        char_surface: 1.0,
        sensible_j_kg: 0.0,
    }
}

/// A fire that takes so much of a stick's length.
struct Fire {
    lighting_w_m2: f64,
    front: Front,
    exposed_share: f64,
    length_m: f64,
}

fn fire(lighting_w_m2: f64, length_m: f64, exposed_share: f64) -> Fire {
    Fire {
        lighting_w_m2,
        front: Front::new(50e3),
        exposed_share,
        length_m,
    }
}

fn left(c: &Cohort, v: f64, length_m: f64) -> (Laid, Left) {
    let laid = c.laid(length_m);
    (laid, laid.left(v, 1.0))
}

fn area_m2(c: &Cohort, v: f64, length_m: f64) -> f64 {
    let (laid, left) = left(c, v, length_m);
    laid.burning_area_m2(&left)
}

fn in_fire(c: &Cohort, v: f64, length_m: f64) -> f64 {
    left(c, v, length_m).1.in_fire
}

fn depth_of_char_m(c: &Cohort, v: f64) -> f64 {
    let (laid, left) = left(c, v, 1.0);
    laid.char_depth_m(&left)
}

struct Rates {
    dv_per_s: f64,
    dg_per_s: f64,
}

fn burns(c: &Cohort, v: f64, g: f64, fire: &Fire, bed_rate: f64) -> Rates {
    let laid = c.laid(fire.length_m);
    let left = laid.left(v, g);
    let speed_m_s = fire.front.reference_speed_m_s(laid.char_depth_m(&left));
    Rates {
        dv_per_s: -speed_m_s * taken_per_m(&laid, &left, fire.exposed_share, bed_rate),
        dg_per_s: kindling_per_s(&laid, g, fire.lighting_w_m2),
    }
}

/// A square stick whose four faces recede at one speed s keeps the share v = (1 - s t/r)² of its section: dv/dt = -2 s √v/r, and its faces are
/// 4 · 2r · length. Half exposed, or with half its length in the fire, it burns half as fast; unlit or spent it does not.
#[test]
fn analytic_a_square_stick_burns_from_its_faces() {
    let c = sticks();
    close("faces", area_m2(&c, 1.0, 1.0), 6.0 * 4.0 * 0.04 * 0.3, 1e-3);
    close(
        "at a quarter",
        area_m2(&c, 0.25, 1.0),
        6.0 * 4.0 * 0.02 * 0.3,
        3e-3,
    );
    close("half the length", in_fire(&c, 1.0, 0.15), 0.5, 1e-12);
    close(
        "half the faces",
        area_m2(&c, 1.0, 0.15),
        6.0 * 4.0 * 0.04 * 0.15,
        1e-3,
    );
    assert_eq!(in_fire(&c, 0.5, 0.3), 0.5);
    for spent in [0.0, -1e-9] {
        assert_eq!(area_m2(&c, spent, 1.0), 0.0);
        assert_eq!(
            burns(&c, spent, 1.0, &fire(40e3, 1.0, 1.0), 1.0)
                .dv_per_s
                .abs(),
            0.0
        );
    }
    for v in [1.0f64, 0.49, 0.09] {
        close(
            "depth",
            depth_of_char_m(&c, v),
            0.02 * (1.0 - v.sqrt()),
            1e-12,
        );
        let speed = fire(0.0, 1.0, 1.0)
            .front
            .speed_m_s(depth_of_char_m(&c, v), 450.0, 0.2 / 1.2);
        let r = burns(&c, v, 1.0, &fire(40e3, 1.0, 1.0), 1.0);
        close("dv", r.dv_per_s, -2.0 * speed * v.sqrt() / 0.02, 0.01);
        // The front eats its way through the faces: mass = density · area · speed.
        let by_area = 450.0 * area_m2(&c, v, 1.0) * speed;
        close("mass", -r.dv_per_s * c.dry_kg, by_area, 1e-9);
        let half = burns(&c, v, 1.0, &fire(40e3, 1.0, 0.5), 1.0);
        close("half exposed", half.dv_per_s, 0.5 * r.dv_per_s, 1e-12);
        let slow = burns(&c, v, 1.0, &fire(40e3, 1.0, 1.0), 0.7);
        close("multiplier", slow.dv_per_s, 0.7 * r.dv_per_s, 1e-12);
        assert_eq!(burns(&c, v, 0.5, &fire(40e3, 1.0, 1.0), 1.0).dv_per_s, 0.0);
    }
    // Marched, the faces stand where a front of that speed has come to.
    let (mut v, mut depth_m) = (1.0, 0.0);
    let lit = fire(40e3, 1.0, 1.0);
    while v > 0.04 {
        v += burns(&c, v, 1.0, &lit, 1.0).dv_per_s;
        depth_m += lit.front.speed_m_s(depth_m, 450.0, 0.2 / 1.2);
    }
    close("depth", depth_of_char_m(&c, v), depth_m, 0.01);
    assert_eq!(
        burns(&Cohort::default(), 1.0, 1.0, &fire(40e3, 1.0, 1.0), 1.0).dv_per_s,
        0.0
    );
}

/// Ignition by hand: a thick body's dose (π/4) k ρ c ΔT² (Quintiere, Fundamentals of Fire Phenomena, ch. 7) with k 0.12, c 1500, ΔT 300 K, moisture
/// raising k ρ c by 2.5 of its share; a thin one heats through to ΔT and dries; flames spread at 3 mm/s (common practice, no source).
#[test]
fn analytic_ignition_is_dose_and_spread() {
    let pi_4_krc =
        |rho: f64, m: f64| PI / 4.0 * 0.12 * rho * 1500.0 * 300.0 * 300.0 * (1.0 + 2.5 * m);
    for (flux, m, radius_m, length_m) in [
        (30e3, 0.0, 0.05, 0.3),
        (30e3, 0.2, 0.02, 0.3),
        (50e3, 0.25, 0.001, 0.2),
        (15e3, 0.5, 0.03, 0.001),
    ] {
        let c = Cohort {
            water_per_dry: m,
            radius_m,
            stick_length_m: length_m,
            ..sticks()
        };
        let q: f64 = flux - 8e3;
        let thick = q * q / pi_4_krc(450.0, m);
        // Half the thickness from either side: ρ r/2 a face of a square stick, its wood and its water's latent heat and warming, 2.6 MJ/kg.
        let thin = q / (450.0 * 0.5 * radius_m * (1500.0 * 300.0 + m * 2.6e6));
        let time_s = 1.0 / (thick + thin) + length_m / 3e-3;
        for g in [0.0, 0.3, 0.9] {
            let r = burns(&c, 1.0, g, &fire(flux, 1.0, 1.0), 1.0);
            close("dg", r.dg_per_s, (1.2 - g) / 1.2 / time_s, 2e-3);
        }
        // Flames need not run along what lies outside the fire.
        let short = burns(&c, 1.0, 0.0, &fire(flux, 0.5 * length_m, 1.0), 1.0);
        let time_s = 1.0 / (thick + thin) + 0.5 * length_m / 3e-3;
        close("short", short.dg_per_s, 1.0 / time_s, 2e-3);
    }
    // Under the critical flux of 8 kW/m2 what was begun goes back, the faster the colder.
    let back = |flux| burns(&sticks(), 1.0, 0.5, &fire(flux, 1.0, 1.0), 1.0).dg_per_s;
    close("cold", back(0.0), -0.002 * 0.5, 1e-12);
    close("cool", back(4e3), -0.001 * 0.5, 1e-12);
    assert_eq!(back(8e3), 0.0);
    assert!(back(8.5e3) > 0.0);
    // The front opens between 0.6 of the dose and the whole of it, half way in the middle.
    for (g, share) in [
        (0.5, 0.0),
        (0.6, 0.0),
        (0.7, 0.156_25),
        (0.8, 0.5),
        (1.0, 1.0),
        (1.1, 1.0),
    ] {
        assert!((lit_share(g) - share).abs() < 1e-9, "{g}");
    }
}

/// n square sticks packed without gaps show 1/√n of their faces, ten of them 0.316; cribs filled to a third or a half burn over all faces, and
/// have 20 to 40 m2 of burning wood per m3 (Babrauskas, SFPE Handbook, from memory).
#[test]
fn practice_sticks_hide_and_light_each_other() {
    close("packed", exposed_share(1.0), 1.0 / 10f64.sqrt(), 0.06);
    assert!(exposed_share(0.33) > 0.97 && exposed_share(0.5) > 0.85);
    assert_eq!(exposed_share(0.0), 1.0);
    let shares: Vec<f64> = (0..=20)
        .map(|i| exposed_share(0.05 * f64::from(i)))
        .collect();
    assert!(shares.windows(2).all(|p| p[1] < p[0]));
    // A crib of 30 1/m sees mostly flames, a single stick of 1 1/m mostly the chamber; half at 8 1/m (estimate).
    let crib = inside_share(0.3, 0.01);
    assert!(crib > 0.7 && crib < 0.9, "{crib}");
    assert!(inside_share(0.01, 0.01) < 0.15);
    close("half", inside_share(0.08, 0.01), 0.5, 1e-12);
    // Flames that find all the air they want burn; where little comes, as much as comes; both alike: 2^(-1/4).
    close("air", burning_share(0.1, 0.01), 1.0, 1e-4);
    close("no air", burning_share(0.01, 0.1), 0.1, 1e-4);
    close("both", burning_share(0.02, 0.02), 0.840_896, 1e-6);
    assert_eq!(burning_share(0.01, 0.0), 1.0);
    // Sticks lie together however large the chamber.
    assert_eq!(inside_share(0.3, 0.1), inside_share(0.3, 0.02));
    // Long sticks stand in the mouth until a quarter of their length sticks out no more.
    let c = sticks();
    assert_eq!(c.laid(0.3).mouth_section_m2(1.0), 0.0);
    close(
        "half",
        c.laid(0.2625).mouth_section_m2(1.0),
        0.5 * 0.0096,
        1e-9,
    );
    close(
        "some",
        c.laid(0.27).mouth_section_m2(1.0),
        0.352 * 0.0096,
        1e-9,
    );
    close("all", c.laid(0.2).mouth_section_m2(1.0), 0.0096, 1e-9);
    // Burnt down to 0.325 of it, a cone of 20 cm in the fire and an eighth of the length outside.
    close(
        "left",
        c.laid(0.2).mouth_section_m2(0.125 + 0.2 / 0.9),
        0.5 * 0.0096,
        1e-9,
    );
    assert_eq!(c.laid(0.2).mouth_section_m2(0.2), 0.0);
}

/// A stick of which 0.4 lies in the fire, against sticks marched in slices: each slice thins at one speed s while it is in the fire, and the stick is pushed on
/// as its tip burns away. Pushed in without a break such an end is a cone, with half of the faces and a third of the volume of a
/// whole end: mean rate of ten sticks in all states, and time from the first to the last wood.
#[test]
fn analytic_an_end_that_is_pushed_in_tapers_to_half_its_faces() {
    let (reach, slices) = (0.4, 400);
    let c = Cohort {
        char_surface: 1.0,
        ..sticks()
    };
    // Marched: radius of each slice over the stick's, from the tip on; time in units of radius over speed.
    let mut radius = vec![1.0f64; slices];
    let in_fire = (reach * slices as f64).round() as usize;
    let step = 1e-3;
    let (mut time, mut tip) = (0.0, 0);
    let mut marched = Vec::new();
    while tip < slices {
        let volume: f64 = radius.iter().map(|r| r * r).sum::<f64>() / slices as f64;
        marched.push((time, volume));
        let end = (tip + in_fire).min(slices);
        for r in &mut radius[tip..end] {
            *r = (*r - step).max(0.0);
        }
        while tip < slices && radius[tip] == 0.0 {
            tip += 1;
        }
        time += step;
    }
    let whole = time;
    // By the law: dv/dt = -2 × share of the faces, in the same unit.
    let laid = c.laid(reach * c.stick_length_m);
    let (mut v, mut t) = (1.0, 0.0);
    let mut half_at = 0.0;
    while v > 0.01 {
        v -= step * taken_per_m(&laid, &laid.left(v, 1.0), 1.0, 1.0) * c.radius_m / laid_factor(&c);
        t += step;
        if v > 0.5 {
            half_at = t;
        }
    }
    let marched_half = marched.iter().find(|m| m.1 < 0.5).expect("burns down").0;
    println!("half {half_at:.3} against {marched_half:.3}, all {t:.3} against {whole:.3}");
    assert!(
        (half_at / marched_half - 1.0).abs() < 0.35,
        "{half_at} {marched_half}"
    );
    assert!((t / whole - 1.0).abs() < 0.2, "{t} {whole}");
    // A cone: half of the faces, a third of the volume, char a third of the radius deep in the mean.
    let cone = laid.left(0.5, 1.0);
    let faces = 2.0 * c.dry_kg / c.density_kg_m3 / c.radius_m;
    close(
        "faces",
        laid.burning_area_m2(&cone),
        0.5 * reach * faces,
        1e-12,
    );
    close("volume", cone.in_fire, reach / 3.0, 1e-12);
    close("depth", laid.char_depth_m(&cone), c.radius_m / 3.0, 1e-12);
    // A fresh end thinned evenly to 0.8 of its radius: so much of its faces, char over them 0.2 of the radius deep less what a thinner core has
    // of surface, and of its wood what lies, as the radius does, between the whole end and the cone that it will be.
    let thinned = laid.left(1.0 - reach * (1.0 - 0.64), 1.0);
    close(
        "faces",
        laid.burning_area_m2(&thinned),
        0.8 * reach * faces,
        1e-12,
    );
    close(
        "wood",
        thinned.in_fire,
        reach * (1.0 + 2.0 * 0.6) / 3.0,
        1e-12,
    );
    close("share", thinned.end, (1.0 + 2.0 * 0.6) / 3.0, 1e-12);
    let deep = 0.2 * (1.0 - 2.0 * 0.2 / 3.0);
    close(
        "depth",
        laid.char_depth_m(&thinned),
        deep * c.radius_m,
        1e-12,
    );
    // The last cone shrinks alike in all directions: at an eighth of its volume a quarter of its faces, and a char over the lost half.
    let last = laid.left(reach / 24.0, 1.0);
    let size = (0.125f64 + 1e-3).cbrt();
    close(
        "last",
        laid.burning_area_m2(&last),
        0.125 * reach * faces,
        0.02,
    );
    close(
        "last, rounded",
        laid.burning_area_m2(&last),
        0.5 * 0.125 / size * reach * faces,
        1e-12,
    );
    close("its wood", last.in_fire, reach / 24.0, 1e-12);
    close("of the whole end", last.end, 1.0 / 24.0, 1e-12);
    close(
        "its char",
        laid.char_depth_m(&last),
        (1.0 - 2.0 * size / 3.0) * c.radius_m,
        1e-12,
    );
    // No jumps from one to the next: at half of the radius, and once nothing is left to push (but for the rounding).
    for (v, most) in [(1.0 - 0.75 * reach, 1e-4), (reach / 3.0, 1e-3)] {
        let [a, b] = [v - 1e-6, v + 1e-6].map(|v| laid.left(v, 1.0));
        close(
            "faces",
            laid.burning_area_m2(&a),
            laid.burning_area_m2(&b),
            most,
        );
        close("wood", a.in_fire, b.in_fire, 1e-4);
        close("depth", laid.char_depth_m(&a), laid.char_depth_m(&b), most);
    }
    // Most of the length in the fire: it burns as a whole.
    let whole = |reach: f64| c.laid(reach * c.stick_length_m).left(0.5, 1.0).in_fire;
    assert_eq!((whole(0.93), whole(1.4)), (0.5, 0.5));
    // An end hardly shorter than its stick has no more in the fire than there is, one of two thirds has some outside.
    assert_eq!(whole(0.91), 0.5);
    assert!(whole(0.67) < 0.4, "{}", whole(0.67));
    // What lies on the embers shows them its lower half.
    let heap = Heap {
        glow_m2: 0.02,
        ..Heap::default()
    };
    close("on coals", on_coals_m2(&heap), 0.01 * PI, 1e-12);
}

/// Front speed in this wood over the reference's.
fn laid_factor(c: &Cohort) -> f64 {
    let whole = c.laid(c.stick_length_m);
    taken_per_m(&whole, &whole.left(1.0, 1.0), 1.0, 1.0) * c.radius_m / 2.0
}
