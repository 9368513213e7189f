//! Files of a run: complete, repeatable, whole or not at all; and the screen summary.

mod support;

use emberloop::output::{WriteOptions, summary_json, summary_table, write_all};
use emberloop::units::UnitSystem;
use std::collections::BTreeMap;
use std::path::Path;

fn contents(dir: &Path) -> BTreeMap<String, Vec<u8>> {
    std::fs::read_dir(dir)
        .unwrap()
        .map(|e| e.unwrap())
        .map(|e| {
            (
                e.file_name().to_string_lossy().into_owned(),
                std::fs::read(e.path()).unwrap(),
            )
        })
        .collect()
}

#[test]
fn practice_the_folder_of_a_run_is_complete_and_clean() {
    let dir = tempfile::tempdir().unwrap();
    let result = support::burn(&support::Case::default());
    let written = write_all(
        dir.path(),
        &result,
        UnitSystem::Metric,
        WriteOptions::default(),
    )
    .unwrap();
    let names: Vec<String> = contents(dir.path()).into_keys().collect();
    let mut want: Vec<String> = vec!["series.csv".into(), "summary.json".into()];
    for p in [
        "tank",
        "gas-temperatures",
        "water",
        "heat-flows",
        "energy",
        "draught",
        "bed",
        "operating-point",
        "rig",
    ] {
        want.push(format!("{p}.svg"));
        want.push(format!("{p}.png"));
    }
    want.sort();
    assert_eq!(names, want);
    assert_eq!(written.len(), want.len());
    for (name, bytes) in contents(dir.path()) {
        if name.ends_with(".png") {
            assert!(bytes.starts_with(b"\x89PNG\r\n\x1a\n"), "{name}");
        }
    }
}

#[test]
fn identity_same_result_gives_the_same_bytes_for_any_thread_count() {
    let result = support::burn(&support::Case::default());
    let write = |threads: usize| {
        let dir = tempfile::tempdir().unwrap();
        rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap()
            .install(|| write_all(dir.path(), &result, UnitSystem::Us, WriteOptions::default()))
            .unwrap();
        contents(dir.path())
    };
    let one = write(1);
    for threads in [1, 4] {
        let again = write(threads);
        for (name, bytes) in &one {
            assert!(
                again[name] == *bytes,
                "{name} differs with {threads} threads"
            );
        }
    }
}

#[test]
fn practice_pictures_of_an_earlier_run_do_not_stay() {
    let dir = tempfile::tempdir().unwrap();
    let mut result = support::burn(&support::Case::default());
    let write = |r: &_, png| {
        let options = WriteOptions {
            png,
            ..WriteOptions::default()
        };
        write_all(dir.path(), r, UnitSystem::Metric, options)
    };
    write(&result, true).unwrap();
    std::fs::write(dir.path().join("notes.txt"), "mine").unwrap();
    result.operating = None;
    write(&result, false).unwrap();
    let names = contents(dir.path());
    assert!(!names.contains_key("operating-point.svg"));
    assert!(!names.contains_key("operating-point.png"));
    assert!(names.contains_key("notes.txt"));
}

#[test]
fn practice_a_place_that_cannot_be_written_names_path_and_cause_and_leaves_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let result = support::burn(&support::Case::default());
    // A file stands where the folder should be.
    let blocked = dir.path().join("blocked");
    std::fs::write(&blocked, "x").unwrap();
    let error = write_all(
        &blocked,
        &result,
        UnitSystem::Metric,
        WriteOptions::default(),
    )
    .unwrap_err();
    assert_eq!(error.exit_code(), 6);
    assert!(error.to_string().contains("blocked"), "{error}");
    // A folder stands where a file should be: the renaming fails after all was written.
    let taken = dir.path().join("taken");
    std::fs::create_dir_all(taken.join("tank.svg/inside")).unwrap();
    let error = write_all(
        &taken,
        &result,
        UnitSystem::Metric,
        WriteOptions {
            png: false,
            ..WriteOptions::default()
        },
    )
    .unwrap_err();
    assert!(error.to_string().contains("tank.svg"), "{error}");
    let left: Vec<_> = std::fs::read_dir(&taken)
        .unwrap()
        .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|n| n.starts_with('.'))
        .collect();
    assert!(left.is_empty(), "left behind: {left:?}");
}

/// A full disk: a device that accepts nothing stands in for it.
#[cfg(target_os = "linux")]
#[test]
fn practice_a_full_disk_is_named() {
    let dir = tempfile::tempdir().unwrap();
    let hidden = format!(".out.txt.tmp-{}", std::process::id());
    std::os::unix::fs::symlink("/dev/full", dir.path().join(hidden)).unwrap();
    let error =
        emberloop::output::write_file(&dir.path().join("out.txt"), b"some bytes").unwrap_err();
    let words = error.to_string();
    assert!(
        words.contains("out.txt") && words.contains("space"),
        "{words}"
    );
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 0);
}

#[test]
fn practice_series_csv_has_si_columns_and_reads_back() {
    let result = support::burn(&support::Case::default());
    let bytes = emberloop::output::series_csv(&result.series).unwrap();
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let head: Vec<String> = reader.headers().unwrap().iter().map(String::from).collect();
    assert_eq!(head, result.series.names);
    let mut rows = 0;
    for (i, row) in reader.records().enumerate() {
        for (cell, column) in row.unwrap().iter().zip(&result.series.columns) {
            let back: f64 = cell.parse().unwrap();
            assert!(back == column[i]);
        }
        rows += 1;
    }
    assert_eq!(rows, result.series.rows());
}

#[test]
fn practice_summary_json_has_the_promised_keys() {
    let result = support::burn(&support::Case::default());
    let value = summary_json(&result);
    // The list that users of the file rely on.
    let keys = "title target_reached time_to_target_s fuel_fed_kg fuel_burnt_kg fuel_energy_J \
        heat_to_tank_J efficiency_net efficiency_gross efficiency_flat_20MJ_kg \
        efficiency_to_target_net mean_heat_to_tank_W stack_loss_fraction stack_loss_short_formula_fraction \
        stack_loss_while_read_fraction meter_o2_dry_fraction meter_co2_dry_fraction meter_stack_temperature_K unburnt_fraction \
        casing_loss_fraction stack_temperature_mean_K gas_below_coil_mean_K gas_above_coil_mean_K \
        chamber_mean_K chamber_max_K chamber_shown_mean_K \
        gas_below_coil_shown_mean_K gas_above_coil_shown_mean_K stack_shown_mean_K coil_outlet_max_K coil_wall_max_K coil_wall_limit_K coil_critical_flux_share_max \
        boiling_margin_min_K boiling_margin_min_s boiling_margin_min_at_m relief_lifts relief_water_kg burst wall_boiling_first_s boiling_first_s boiling_total_s steam_total_kg \
        air_ratio_mean draught_max_Pa loop_flow_mean_kg_s feeds trips tank_peak_K overshoot_K \
        flue_wall_below_393K_s flue_wall_below_dew_s storage_content_rise_J energy_residual_fraction solver warnings \
        ledger bands events defaults";
    for key in keys.split_whitespace() {
        assert!(value.get(key).is_some(), "{key} is missing");
    }
    assert!(value["boiling_first_s"].is_null() || value["boiling_first_s"].is_number());
    let page = include_str!("../docs/summary-keys.md");
    for key in value.as_object().unwrap().keys() {
        assert!(
            page.contains(&format!("`{key}`")),
            "the page does not define {key}"
        );
    }
}

#[test]
fn practice_summary_table_answers_first_and_fits_the_width() {
    for (name, case) in support::cases() {
        let result = support::burn(&case);
        for width in [40, 60, 80, 120] {
            for units in [UnitSystem::Metric, UnitSystem::Us] {
                let text = summary_table(&result, units, false, width);
                for line in text.lines() {
                    assert!(line.chars().count() <= width, "{name} {width}: {line}");
                }
                assert!(!text.contains('\u{1b}'));
                let words: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
                for must in [
                    "not a clearance",
                    "relief valve",
                    "monoxide",
                    "Scald",
                    "Local codes",
                ] {
                    assert!(
                        width < 80 || words.contains(must),
                        "{name}: {must} missing in\n{text}"
                    );
                }
            }
        }
        assert!(summary_table(&result, UnitSystem::Metric, true, 80).contains('\u{1b}'));
    }
}

#[test]
fn practice_summary_table_tells_what_was_not_reached() {
    let cases = support::cases();
    let case = |name: &str| &cases.iter().find(|c| c.0 == name).unwrap().1;
    let text =
        |name: &str| summary_table(&support::burn(case(name)), UnitSystem::Metric, false, 100);
    assert!(text("never-reached").contains("not reached"));
    assert!(text("plain").contains("65 °C after"));
    assert!(text("boiling").contains("yes, from"));
    if std::env::var_os("SHOW").is_some() {
        eprintln!("{}", text("boiling"));
        eprintln!(
            "{}",
            summary_table(&support::burn(case("plain")), UnitSystem::Us, true, 80)
        );
    }
}
