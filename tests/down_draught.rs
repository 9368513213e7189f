//! A fire that is drawn down through its embers: what drives it, what it leaves, and that its account closes.

mod support {
    pub mod account;
    pub mod magazine;
    pub mod rigs;
    pub mod series;
    pub mod variants;
}

use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::embers::Heap;
use emberloop::components::spec::*;
use emberloop::correlations::charring::front_speed_m_s;
use emberloop::network::{COHORTS, Instant, Network};
use emberloop::results::BurnResult;
use support::account::assert_closes;
use support::magazine::drawn_down;
use support::rigs::steel;
use support::series::mean;
use support::variants::brick;

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &BurnOptions::default(), &mut |_| true).expect("the rig burns")
}

/// From half an hour after the load on, while there is plenty.
fn steady_mean(r: &BurnResult, column: &str) -> f64 {
    mean(r, column, 3600.0, 7200.0)
}

/// A fan with this share of the boiler's pressure and flow.
fn blown(r: &mut Rig, share: f64) {
    for s in &mut r.gas_path {
        if let SectionKind::Fan { curve } = &mut s.kind {
            curve
                .iter_mut()
                .for_each(|p| *p = (share * p.0, share * share * p.1));
        }
    }
}

/// The boiler with this much charcoal and one load of burning wood, at one moment.
fn glowing(kind: FireboxKind, char_kg: f64, embers_k: f64) -> Instant {
    let mut r = drawn_down(12.0);
    r.firebox.kind = kind;
    r.firebox.air_over_share = 0.0;
    r.closures.leakage_share = 0.0;
    let mut net = Network::new(&r).expect("assembles");
    let mut y = net.initial_state();
    net.add_wood(&mut y, 0.0, 6.0, 0.08, 0.16, false);
    let l = &net.layout;
    for k in 0..COHORTS {
        if y[l.virgin + k] > 0.0 {
            (y[l.virgin + k], y[l.kindled + k]) = (0.8, 1.1);
        }
    }
    y[l.char_kg] = char_kg;
    y[l.char_surface] = char_kg;
    y[l.flame] = (1000.0 - 298.15) / 100.0;
    y[l.air] = 0.008 / 0.01;
    let bits_j_k = net.firebox.bits_j_k;
    y[l.embers] = (embers_k - 298.15) / 100.0 * (bits_j_k + 1500.0 * char_kg) / bits_j_k;
    net.observe(0.0, &y)
}

#[test]
fn identity_without_embers_it_burns_as_behind_any_door() {
    let [door, down] =
        [FireboxKind::Door, FireboxKind::DownDraught].map(|kind| glowing(kind, 0.0, 900.0));
    assert!(door.dry_wood_kg_s > 1e-4, "{}", door.dry_wood_kg_s);
    for (what, a, b) in [
        ("wood", door.dry_wood_kg_s, down.dry_wood_kg_s),
        ("flame", door.flame_k, down.flame_k),
        ("walls", door.into_walls_w, down.into_walls_w),
        ("unburnt", door.unburnt_w, down.unburnt_w),
        ("draught", door.drive_pa, down.drive_pa),
    ] {
        assert_eq!(a, b, "{what}");
    }
}

/// Over a full bed the front stands in the embers' own radiation: wood = density x front x (lower halves of the logs), q = 0.8 sigma T^4 and what
/// is cold around; nothing else of the chamber reaches the logs.
#[test]
fn analytic_logs_on_a_full_bed_burn_at_their_lower_halves() {
    for embers_k in [1050.0, 1250.0] {
        let (char_kg, floor_m2) = (4.0, 0.3 * 0.45);
        let now = glowing(FireboxKind::DownDraught, char_kg, embers_k);
        let heap = Heap::new(char_kg, 0.02, floor_m2);
        let r = drawn_down(1.0);
        let density = r.fuel.density_kg_m3;
        // 6 kg of logs, square, a fifth of each charred away: their faces, of which char hides none here.
        let dry_kg = 6.0 * 0.84;
        let faces_m2 = 4.0 * dry_kg / (density * 0.08) * 0.8f64.sqrt();
        let lies_m2 = 0.5 * std::f64::consts::PI * heap.glow_m2;
        let burning_m2 = faces_m2 * lies_m2 / faces_m2.hypot(lies_m2);
        let sigma = 5.670374419e-8;
        let q = 0.8 * sigma * f64::powi(embers_k, 4);
        // 15 mm at most, half of it in the mean.
        let front = front_speed_m_s(q, 0.0075, density, 0.16);
        let expected = density * front * burning_m2;
        println!(
            "{embers_k} K: {:.3e}, {expected:.3e} kg/s",
            now.dry_wood_kg_s
        );
        assert!((now.dry_wood_kg_s / expected - 1.0).abs() < 0.05);
    }
}

#[test]
fn identity_energy_and_mass_close_with_the_fire_drawn_down() {
    let b = run(&drawn_down(12.0));
    assert_closes("down-draught", &b);
}

/// Short of air the wood follows it; with plenty of it the bed burns at a rate of its own and the rest is excess (common practice, no source: such boilers
/// are governed by their fan).
#[test]
fn practice_the_wood_follows_scarce_air() {
    let of = |share: f64, slide: f64| {
        let mut r = drawn_down(14.0);
        blown(&mut r, share);
        r.closures.leakage_share = 0.0;
        r.controls.air_inlet.steps.moves = vec![(2400.0, slide)];
        let b = run(&r);
        let at = |column| steady_mean(&b, column);
        let (rate, air) = (3600.0 * at("burn_rate_kg_s"), at("air_flow_kg_s"));
        println!(
            "fan {share}, slide {slide}: {rate:.2} kg/h on {air:.5} kg/s, air ratio {:.2}, embers {:.2} kg, {:.0} K, unburnt {:?}, net {:?}",
            at("air_ratio"),
            at("bed_char_kg"),
            at("ember_temperature_K"),
            b.summary.unburnt_fraction,
            b.summary.efficiency_net
        );
        (rate, air)
    };
    let step = |(r0, a0): (f64, f64), (r1, a1): (f64, f64)| (r1 / r0).ln() / (a1 / a0).ln();
    let (scarce, little, usual, much) = (of(1.0, 0.03), of(1.0, 0.06), of(1.0, 1.0), of(1.5, 1.0));
    println!(
        "{:.2} and {:.2} per air",
        step(scarce, little),
        step(usual, much)
    );
    assert!(step(scarce, little) > 0.6);
    assert!((0.0..0.5).contains(&step(usual, much)));
}

/// Against the same box whose fire burns upwards: less unburnt, for the same air (common practice, no source).
#[test]
fn practice_drawn_down_burns_out_better_than_upwards() {
    let [door, down] = [FireboxKind::Door, FireboxKind::DownDraught].map(|kind| {
        let mut r = drawn_down(14.0);
        r.firebox.kind = kind;
        let b = run(&r);
        let s = &b.summary;
        println!(
            "{kind:?}: unburnt {:?}, net {:?}, air ratio {:?}",
            s.unburnt_fraction, s.efficiency_net, s.air_ratio_mean
        );
        b
    });
    // Once the flap has shut: it is lit upwards.
    let unburnt = |b: &BurnResult| steady_mean(b, "unburnt_W") / steady_mean(b, "firing_rate_W");
    println!("{} {}", unburnt(&door), unburnt(&down));
    assert!(unburnt(&down) < 0.02 && unburnt(&down) < 0.5 * unburnt(&door));
}

/// What surrounds the magazine hardly matters to the wood in it; behind a door that burns upwards hot walls drive the pile (common practice,
/// no source).
#[test]
fn practice_the_magazines_walls_do_not_drive_its_wood() {
    let rate = |kind: FireboxKind, dry: bool| {
        let mut r = drawn_down(14.0);
        r.firebox.kind = kind;
        if dry {
            r.coils.remove(0);
            r.firebox.wall = vec![brick(60.0), steel(3.0)];
        }
        let b = run(&r);
        3600.0 * steady_mean(&b, "burn_rate_kg_s")
    };
    let of = |kind| (rate(kind, false), rate(kind, true));
    let (wet, dry) = of(FireboxKind::DownDraught);
    let (wet_up, dry_up) = of(FireboxKind::Door);
    println!("drawn down {wet:.2} and {dry:.2}, upwards {wet_up:.2} and {dry_up:.2} kg/h");
    assert!((dry / wet).ln().abs() < 0.15);
}
