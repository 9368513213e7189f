//! Pictures: present, repeatable, all text on the sheet and none over another.

mod support;

use emberloop::output::{draw_one, picture_names};
use emberloop::units::UnitSystem;

fn folder(case: &str, units: &str) -> std::path::PathBuf {
    let dir = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("pictures")
        .join(format!("{case}-{units}"));
    std::fs::create_dir_all(&dir).unwrap();
    dir
}

#[test]
fn behaves_every_case_draws_every_picture() {
    for (name, case) in support::cases() {
        let result = support::burn(&case);
        for (units, words) in [(UnitSystem::Metric, "metric"), (UnitSystem::Us, "us")] {
            for picture in picture_names(&result) {
                let svg = draw_one(picture, &result, units).unwrap();
                let file = folder(name, words).join(format!("{picture}.svg"));
                std::fs::write(&file, &svg).unwrap();
                if name == "plain" || std::env::var_os("ALL_PNG").is_some() {
                    let png = emberloop::output::svg_to_png(&svg).unwrap();
                    std::fs::write(file.with_extension("png"), png).unwrap();
                }
            }
        }
    }
}
