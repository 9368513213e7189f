//! Fouling over a season: what is laid down is there at the next burn, energy closes, cleaning brings back the first burn, the best
//! interval against its closed form, how much and what kind of layer against published figures and common practice; the command.

mod cli_support;
mod support {
    pub mod rigs;
    pub mod stoves;
    pub mod variants;
}

use cli_support::bundled;
use emberloop::analyses::season::{
    Heard, SeasonOptions, fingerprint, linear_interval, mean_costs, season,
};
use emberloop::analyses::{BurnOptions, burn_watched};
use emberloop::components::spec::*;
use emberloop::network::{Carried, HARDENED_K_RHO};
use emberloop::output::{
    PieceJournal, season_interval_svg, season_layer_svg, season_svg, season_text,
};
use emberloop::results::{LayerCell, LayerKind, SeasonReport, Summary};
use emberloop::units::UnitSystem;
use rayon::prelude::*;
use std::fs;
use std::sync::Mutex;
use support::rigs::barrel;
use support::stoves::drum;
use support::variants::door_stove;

fn run(rig: &Rig, o: &SeasonOptions) -> SeasonReport {
    season(rig, o, &[], &|_| ()).expect("the season burns")
}

fn burns(n: usize) -> SeasonOptions {
    SeasonOptions {
        burns: n,
        ..SeasonOptions::default()
    }
}

/// One burn from what lies on the surfaces, and what lies there after it.
fn once(rig: &Rig, kg: Vec<f64>) -> (Summary, Vec<f64>) {
    let options = BurnOptions {
        series: false,
        carried: Carried {
            kg,
            tar_k_rho: HARDENED_K_RHO,
            ..Carried::default()
        },
        ..BurnOptions::default()
    };
    let mut after = Vec::new();
    let result = burn_watched(rig, &options, &mut |_| true, &mut |net, seg| {
        after = net.deposits_kg(&seg.y);
    })
    .expect("the rig burns");
    (result.summary, after)
}

/// The layer is the sum of what was laid down, burn by burn, with every burn run by hand beside the season; energy and masses close
/// in each.
#[test]
fn identity_the_layer_is_the_sum_of_what_each_burn_laid_down() {
    let rig = barrel();
    let n = 6;
    let r = run(
        &rig,
        &SeasonOptions {
            all: true,
            ..burns(n)
        },
    );
    let (mut kg, mut laid) = (Vec::new(), [0.0; 2]);
    for b in &r.never.burns {
        assert!(b.burnt);
        assert!((b.coil_deposit_kg - laid[0]).abs() < 1e-12 + 1e-9 * laid[0]);
        assert!((b.wall_deposit_kg - laid[1]).abs() < 1e-12 + 1e-9 * laid[1]);
        let (s, after) = once(&rig, kg);
        laid[0] += s.coil_deposit_kg.expect("a coil");
        laid[1] += s.flue_deposit_kg.expect("a flue");
        assert!(s.energy_residual_fraction < 1e-9, "burn {}", b.burn);
        kg = after;
    }
    let there: f64 = r.layer.iter().map(|c| c.soot_kg + c.tar_kg).sum();
    assert!(laid[0] > 1e-3 && (there / (laid[0] + laid[1]) - 1.0).abs() < 1e-9);
    assert!(r.energy_residual_fraction < 1e-9 && r.mass_residual_fraction < 1e-9);
    // What lies in the flue, by its net heat: 32.76 MJ/kg of carbon.
    let flue: f64 = r
        .layer
        .iter()
        .filter(|c| c.is_flue)
        .map(|c| c.soot_kg + c.tar_kg)
        .sum();
    assert!((r.wall_deposit_J / (32.76e6 * flue) - 1.0).abs() < 1e-3);
}

/// After a cleaning of the coil and a sweeping of the flue the burn is the first one again, to the last digit; with the coil
/// alone cleaned it is nearly so, and never quicker than it was bare.
#[test]
fn identity_cleaning_brings_the_first_burn_back() {
    let rig = barrel();
    let both = run(
        &rig,
        &SeasonOptions {
            clean_every: Some(3),
            sweep_every: Some(3),
            ..burns(8)
        },
    );
    let cleaned = both.cleaned.expect("a season with cleaning").burns;
    for i in [3, 6] {
        assert!(cleaned[i].coil_cleaned && cleaned[i].flue_swept);
        assert_eq!(cleaned[i].time_s, cleaned[0].time_s);
        assert_eq!(cleaned[i].coil_deposit_kg + cleaned[i].wall_deposit_kg, 0.0);
        assert_eq!(cleaned[i + 1].time_s, cleaned[1].time_s);
    }
    let coil = run(
        &rig,
        &SeasonOptions {
            clean_every: Some(3),
            ..burns(8)
        },
    );
    let coil = coil.cleaned.expect("a season with cleaning").burns;
    assert_eq!(coil[3].coil_deposit_kg, 0.0);
    assert!(coil[3].wall_deposit_kg > 0.0);
    assert!((coil[3].time_s / coil[0].time_s - 1.0).abs() < 0.005);
}

/// Burns left between two others give what burning each gives.
#[test]
fn identity_burns_between_two_others_add_up_to_each_in_full() {
    let rig = barrel();
    let quick = run(&rig, &burns(30));
    let all = run(
        &rig,
        &SeasonOptions {
            all: true,
            ..burns(30)
        },
    );
    assert!(quick.never.burnt_in_full < 15 && all.never.burnt_in_full == 30);
    let (q, a) = (&quick.never.burns[29], &all.never.burns[29]);
    assert!((q.coil_deposit_kg / a.coil_deposit_kg - 1.0).abs() < 0.02);
    assert!((q.flue_layer_m / a.flue_layer_m - 1.0).abs() < 0.02);
    let (q, a) = (quick.never.total, all.never.total);
    assert!(
        (q.extra_time_s / a.extra_time_s - 1.0).abs() < 0.05,
        "{q:?} {a:?}"
    );
    assert!(
        (q.extra_wood_kg / a.extra_wood_kg - 1.0).abs() < 0.05,
        "{q:?} {a:?}"
    );
}

/// The cost of a burn grows nearly evenly at first: the best interval is then sqrt(2 C/a) (own derivation: the zero of the derivative of
/// C/n + a (n − 1)/2; the same form as the economic order quantity, F. W. Harris 1913, from memory). The bottom is flat, so
/// the closed form's cost is the sharper check. And the season burnt with cleaning costs what renewal says.
#[test]
fn analytic_the_best_interval_is_the_root_of_twice_the_cleaning_over_the_growth() {
    let rig = barrel();
    let mut last = 0;
    for minutes in [4.0, 16.0, 40.0] {
        let o = SeasonOptions {
            cleaning_s: 60.0 * minutes,
            ..burns(40)
        };
        let r = run(&rig, &o);
        let best = r.best_interval.expect("cleaning pays");
        let root = r.linear_interval.expect("it grows");
        assert!(best >= last, "a dearer cleaning is done no more often");
        last = best;
        assert!(
            (best as f64 - root).abs() <= 1.0 + 0.15 * root,
            "{best} against {root}"
        );
        let at_root = r.mean_cost_s[(root.round() as usize).clamp(1, 40) - 1];
        let least = r.mean_cost_s[best - 1];
        assert!(at_root < 1.02 * least, "{at_root} {least}");
        // Whole intervals of the season with cleaning against the renewal of the one without.
        let c = r.cleaned.expect("a season with cleaning");
        let whole = c.burns.len() / best * best;
        let spent: f64 = c.burns[..whole]
            .iter()
            .map(|b| b.extra_time_s + o.wood_worth_s_kg * b.extra_wood_kg)
            .sum();
        let mean = spent / whole as f64 + o.cleaning_s / best as f64;
        assert!((mean / least - 1.0).abs() < 0.1, "{mean} {least}");
    }
}

/// Price and worth are the user's: each moves the answer.
#[test]
fn practice_wood_that_is_worth_more_is_cleaned_for_sooner() {
    let rig = barrel();
    let at = |wood_worth_s_kg: f64| {
        let r = run(
            &rig,
            &SeasonOptions {
                wood_worth_s_kg,
                ..burns(40)
            },
        );
        (
            r.best_interval.expect("it pays"),
            r.linear_interval.expect("it grows"),
        )
    };
    let (cheap, dear) = (at(0.0), at(3600.0));
    assert!(dear.0 < cheap.0 && dear.1 < cheap.1, "{cheap:?} {dear:?}");
    // No growth, no cleaning.
    let mut clean = barrel();
    clean.closures.fouling_rate = 0.0;
    let r = run(&clean, &burns(5));
    assert_eq!((r.best_interval, r.linear_interval), (None, None));
    assert!(
        r.never.total.extra_time_s.abs() < 1e-6
            && r.layer.iter().all(|c| c.kind == LayerKind::Bare)
    );
    assert_eq!(linear_interval(1.0, &[0.0], 10), None);
    assert_eq!(mean_costs(1.0, &[]), Vec::<f64>::new());
}

/// Deposit of the flue per kilogram of wood, and tar's share of it.
fn in_flue(rig: &Rig) -> (f64, f64) {
    let s = once(rig, Vec::new()).0;
    let r = run(rig, &burns(2));
    let of = |f: fn(&LayerCell) -> f64| r.layer.iter().filter(|c| c.is_flue).map(f).sum::<f64>();
    (
        s.flue_deposit_kg.expect("a flue") / s.fuel_burnt_kg,
        of(|c| c.tar_kg) / of(|c| c.tar_kg + c.soot_kg),
    )
}

/// "Up to 48 times more creosote was observed with a smoldering fire than a brightly burning fire" (Creosote accumulation as a function of
/// moisture content, wood species, and fire intensity in an airtight stove, SERI/TR-00192-1, OSTI 5695219, abstract). A stove with
/// plenty of air against itself with far too little, and against a choked drum: more than five times, and no more than twice that figure.
#[test]
fn published_a_smouldering_fire_lays_up_to_fifty_times_as_much() {
    let mut bright = barrel();
    bright.closures.inlet_area = 0.6;
    let mut choked = barrel();
    choked.closures.inlet_area = 0.05;
    let times = in_flue(&choked).0 / in_flue(&bright).0;
    assert!((5.0..96.0).contains(&times), "{times}");
    let smouldering = in_flue(&drum(12.0, 0.0019, 1.0)).0 / in_flue(&bright).0;
    assert!((5.0..96.0).contains(&smouldering), "{smouldering}");
}

/// Flues of smoky stoves are swept about once a cord or two (common practice, no source): 3 mm of layer after a third of a cord to three cords,
/// a cord weighing some 1500 kg.
#[test]
fn practice_a_smoky_stoves_flue_is_due_after_about_a_cord() {
    let mut rig = drum(12.0, 0.0031, 1.0);
    rig.title = "Smoky drum (invented)".into();
    let r = run(&rig, &burns(400));
    let due = r.sweep_after.expect("it is due within the season");
    let kg: f64 = r.never.burns[..due - 1].iter().map(|b| b.wood_kg).sum();
    assert!((500.0..4500.0).contains(&kg), "{kg} kg, burn {due}");
}

/// Engine exhaust and flue gas are given a fouling resistance of 0.0018 m2K/W by designers (0.010 h ft2 F/Btu, TEMA RGP-T-2.4, from memory): a coil over a
/// fire that burns cleanly gets there between a few burns and a season.
#[test]
fn published_a_coil_reaches_the_designers_fouling_within_a_season() {
    let r = run(&barrel(), &burns(100));
    let at = r.never.burns.iter().find(|b| b.coil_fouling_m2K_W > 0.0018);
    let burn = at.expect("within the season").burn;
    assert!((3..100).contains(&burn), "{burn}");
}

/// Powder on hot walls, tar on cold ones (sweeps say below 250 °F, common practice): tar's share falls with the surface's temperature, and the
/// band of the name always holds the name.
#[test]
fn practice_hot_walls_are_powdery_and_cold_ones_tarry() {
    let r = run(&door_stove(), &burns(10));
    let hot = r
        .layer
        .iter()
        .max_by(|a, b| a.surface_bare_K.total_cmp(&b.surface_bare_K));
    let cold = r
        .layer
        .iter()
        .min_by(|a, b| a.surface_bare_K.total_cmp(&b.surface_bare_K));
    let (hot, cold) = (hot.expect("cells"), cold.expect("cells"));
    assert!(hot.surface_bare_K > cold.surface_bare_K + 50.0);
    assert!(hot.tar_share < cold.tar_share, "{hot:?} {cold:?}");
    for c in &r.layer {
        assert!(c.kind_low <= c.kind && c.kind <= c.kind_high, "{c:?}");
        assert!(c.thickness_low_m <= c.thickness_m && c.thickness_m <= c.thickness_high_m);
    }
}

/// A fire cooled by far too much air leaves its tar whole, a hot one cracks it: the layer is tarrier (smouldering wood gives organic smoke, flames
/// give soot; common practice, no source).
#[test]
fn practice_a_fire_blown_cold_lays_tar_and_a_hot_one_soot() {
    let tar = |inlet_area: f64| {
        let mut r = barrel();
        r.closures.inlet_area = inlet_area;
        in_flue(&r).1
    };
    assert!(tar(2.0) > tar(0.2) + 0.1, "{} {}", tar(2.0), tar(0.2));
}

fn command(dir: &std::path::Path, more: &[&str]) -> (i32, String, String) {
    let out = std::process::Command::new(cli_support::PROGRAM)
        .arg("season")
        .arg(bundled("wash-up-barrel.toml"))
        .arg("--out")
        .arg(dir)
        .args(more)
        .output()
        .expect("the program starts");
    let text = |b: &[u8]| String::from_utf8_lossy(b).into_owned();
    (
        out.status.code().unwrap_or(-1),
        text(&out.stdout),
        text(&out.stderr),
    )
}

/// All files that the help names, figures as JSON, cautions on the first screen, nothing half written (house rules).
#[test]
fn practice_the_command_writes_what_its_help_names() {
    let dir = tempfile::tempdir().expect("a folder");
    let (code, out, err) = command(
        dir.path(),
        &["--burns", "12", "--bands", "8", "--cleaning", "10 min"],
    );
    assert_eq!(code, 0, "{err}");
    for word in [
        "Clean the coil every",
        "not a clearance",
        "local codes",
        "licensed",
        "carbon monoxide",
    ] {
        assert!(
            out.split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
                .contains(word),
            "{word} in\n{out}"
        );
    }
    let mut names: Vec<String> = fs::read_dir(dir.path())
        .expect("the folder")
        .map(|e| {
            e.expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    let wanted = [
        "season-burns.csv",
        "season-interval.png",
        "season-interval.svg",
        "season-layer.csv",
        "season-layer.png",
        "season-layer.svg",
        "season.json",
        "season.png",
        "season.svg",
    ];
    assert_eq!(names, wanted);
    let table = fs::read_to_string(dir.path().join("season-burns.csv")).expect("the table");
    assert_eq!(
        table.lines().filter(|l| l.starts_with("never,")).count(),
        12
    );
    assert_eq!(
        table.lines().filter(|l| l.starts_with("cleaned,")).count(),
        12
    );
    let (code, out, _) = command(
        dir.path(),
        &["--burns", "3", "--bands", "0", "--no-pictures", "--json"],
    );
    assert_eq!(code, 0);
    let json: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(json["never"]["burns"].as_array().map(Vec::len), Some(3));
    assert_eq!(json["cleaning_time_s"], 1800.0);
}

#[test]
fn practice_a_wrong_price_is_a_wrong_command_line() {
    let dir = tempfile::tempdir().expect("a folder");
    for more in [
        ["--cleaning", "5 kg"],
        ["--cleaning", "25 h"],
        ["--wood-worth", "3 d"],
        ["--burns", "1"],
        ["--clean-every", "0"],
        ["--bands", "3"],
    ] {
        let (code, out, err) = command(dir.path(), &more);
        assert_eq!(code, 2, "{more:?} {err}");
        assert!(out.is_empty() && err.contains(more[1]), "{more:?} {err}");
    }
}

/// A season that was broken off goes on with the samples that were ready, and says the same; those of another season are dropped, and so is
/// a line that was cut off (house rule).
#[test]
fn practice_a_season_that_was_broken_off_goes_on() {
    let dir = tempfile::tempdir().expect("a folder");
    let args = ["--burns", "4", "--bands", "8", "--no-pictures", "--json"];
    let (_, whole, err) = command(dir.path(), &args);
    assert!(!err.contains("from before"), "{err}");
    let loaded = emberloop::scenario::load_path(&bundled("wash-up-barrel.toml"), &[]);
    let loaded = loaded.expect("the bundled barrel");
    let o = SeasonOptions {
        samples: 8,
        ..burns(4)
    };
    let heard = Mutex::new(Vec::new());
    season(&loaded.rig, &o, &[], &|h| {
        if let (Heard::Sample(s), Ok(mut heard)) = (h, heard.lock()) {
            heard.push(s.clone());
        }
    })
    .expect("the season burns");
    let samples = heard.into_inner().expect("samples");
    assert_eq!(samples.len(), 8);
    let path = dir.path().join("season-samples.partial.jsonl");
    let broken_off = |of: &SeasonOptions| {
        let stands_for = fingerprint(&loaded.text, of);
        let (mut journal, known) = PieceJournal::open(&path, &stands_for).expect("a journal");
        assert!(known.is_empty());
        for s in &samples[..3] {
            journal.add(s).expect("a line");
        }
        drop(journal);
        let text = fs::read_to_string(&path).expect("the journal");
        fs::write(&path, &text[..text.len() - 9]).expect("cut off");
    };
    broken_off(&o);
    let (code, again, err) = command(dir.path(), &args);
    assert!(
        code == 0 && err.contains("2 samples are ready from before"),
        "{err}"
    );
    assert_eq!(again, whole);
    assert!(!path.exists());
    broken_off(&burns(5));
    let (code, again, err) = command(dir.path(), &args);
    assert!(code == 0 && !err.contains("from before"), "{err}");
    assert_eq!(again, whole);
}

/// Every kind of rig has a season that closes, with words and pictures: with no coil in the gas, with none at all, with two, once-through, bench alone (house rule).
#[test]
fn identity_every_kind_of_rig_has_a_season_that_closes() {
    let mut rigs = support::variants::all();
    rigs.push(("around", support::variants::wound_outside(1e-4, None)));
    rigs.push(("firebox", support::variants::coil_in_firebox(1.0)));
    rigs.push(("no water", support::variants::no_water()));
    rigs.into_par_iter().for_each(|(name, rig)| {
        let r = match season(&rig, &burns(4), &[], &|_| ()) {
            Ok(r) => r,
            Err(e) => panic!("{name}: {e}"),
        };
        assert!(
            r.energy_residual_fraction < 1e-7,
            "{name}: {}",
            r.energy_residual_fraction
        );
        assert!(
            r.mass_residual_fraction < 1e-7,
            "{name}: {}",
            r.mass_residual_fraction
        );
        for b in &r.never.burns {
            assert!(
                b.time_s.is_finite() && b.extra_wood_kg.is_finite(),
                "{name}: {b:?}"
            );
        }
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let words = season_text(&r, units, 80);
            assert!(
                words.contains("not a clearance") && !words.contains("NaN"),
                "{name}: {words}"
            );
            season_svg(&r, units).expect(name);
            season_layer_svg(&r, units).expect(name);
        }
        season_interval_svg(&r).expect(name);
    });
}
