//! A dry wall across the gas from one that stands in water: brick around a copper.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::burn;
use emberloop::components::spec::*;
use emberloop::results::BurnResult;
use support::rigs::{layer, section, steel};
use support::variants::{brick, submerged};

fn run(r: &Rig) -> BurnResult {
    burn(r, &Default::default(), &mut |_| true).expect("runs")
}

/// A copper of 100 L in a setting of brick, invented: the gas goes once around its side, half wet and half brick.
fn copper(dry_wall: Vec<Layer>) -> Rig {
    let mut r = submerged();
    r.title = "Copper in its setting (invented)".into();
    r.firebox.in_water = 0.2;
    r.firebox.wet_wall = vec![steel(1.5)];
    r.firebox.wall = vec![brick(60.0)];
    let around = Section {
        bore: Bore::Rect {
            width_m: 1.5,
            depth_m: 0.06,
        },
        in_water: true,
        dry_share: 0.5,
        dry_wall,
        ..section(
            "around the copper",
            SectionKind::Passage,
            0.15,
            0.35,
            vec![steel(1.5)],
        )
    };
    r.gas_path[0] = around;
    r.stop.at_target = false;
    r.stop.latest_s = 7200.0;
    r
}

fn light() -> Layer {
    layer("insulating brick", 0.064, 800.0, 1000.0, 0.3, false)
}

/// The setting's brick passes on by radiation what the gas gives it: the copper gets more than from the same walls one after the other, where they do not
/// face each other, and the lighter the brick the more (common practice, no source: settings are lined light). The account closes.
#[test]
fn practice_brick_around_a_copper_shines_at_it() {
    let facing = run(&copper(vec![light()]));
    let dense = run(&copper(vec![brick(110.0)]));
    let mut apart = copper(vec![light()]);
    let mut dry = apart.gas_path[0].clone();
    (dry.name, dry.in_water) = ("brick".into(), false);
    dry.wall = std::mem::take(&mut dry.dry_wall);
    dry.dry_share = 0.0;
    (dry.length_m, dry.rise_m) = (0.175, 0.175);
    let wet = &mut apart.gas_path[0];
    (wet.dry_share, wet.dry_wall) = (0.0, vec![]);
    (wet.length_m, wet.rise_m) = (0.175, 0.175);
    apart.gas_path.insert(0, dry);
    let apart = run(&apart);
    let got = |r: &BurnResult| r.summary.heat_to_tank_J / 1e6;
    println!(
        "facing {:.1} MJ, dense {:.1}, apart {:.1}",
        got(&facing),
        got(&dense),
        got(&apart)
    );
    for r in [&facing, &dense, &apart] {
        assert!(r.ledger.residual_fraction < 1e-10);
    }
    assert!(got(&facing) > 1.05 * got(&apart));
    assert!(got(&facing) > got(&dense));
}

/// Share and every figure of the dry wall's layers move the burn; its outside feels the wind.
#[test]
fn practice_every_number_of_the_dry_wall_moves_a_result() {
    let heat = |r: &Rig| run(r).summary.heat_to_tank_J;
    let base = heat(&copper(vec![light()]));
    type Change = fn(&mut Section);
    let changes: [(&str, Change); 7] = [
        ("share", |s| s.dry_share = 0.45),
        ("thickness", |s| s.dry_wall[0].thickness_m *= 1.3),
        ("conductivity", |s| s.dry_wall[0].conductivity_w_mk *= 1.5),
        ("density", |s| s.dry_wall[0].density_kg_m3 *= 1.2),
        ("heat capacity", |s| {
            s.dry_wall[0].heat_capacity_j_kgk *= 1.2
        }),
        ("emissivity", |s| s.dry_wall[0].emissivity *= 0.8),
        ("wind", |s| s.in_wind = true),
    ];
    for (what, change) in changes {
        let mut r = copper(vec![light()]);
        r.site.wind_m_s = 5.0;
        if what != "wind" {
            r.site.wind_m_s = copper(vec![]).site.wind_m_s;
        }
        let still = heat(&r);
        change(&mut r.gas_path[0]);
        let moved = heat(&r);
        assert!((moved - still).abs() > 1e3, "{what}: {moved} {base}");
    }
}
