//! Pictures: present, repeatable, all text on the sheet and none over another.

mod support;

use emberloop::output::{draw_one, picture_names, svg_to_png};
use emberloop::units::UnitSystem;
use resvg::usvg;
use std::path::PathBuf;
use std::sync::Arc;

/// Where the pictures of these tests stay, to be looked at.
fn folder(case: &str, units: UnitSystem) -> PathBuf {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR"))
        .join("pictures")
        .join(format!("{case}-{units}"));
    std::fs::create_dir_all(&dir).unwrap();
    dir
}

const BOTH: [UnitSystem; 2] = [UnitSystem::Metric, UnitSystem::Us];

/// Words and box of every text of a picture, as the renderer sets it with the bundled typeface.
fn texts(svg: &str) -> (usvg::Size, Vec<(String, usvg::Rect)>) {
    let mut fonts = usvg::fontdb::Database::new();
    for face in [dejavu::sans::regular(), dejavu::sans::bold()] {
        fonts.load_font_source(usvg::fontdb::Source::Binary(Arc::new(face)));
    }
    let options = usvg::Options {
        fontdb: Arc::new(fonts),
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_str(svg, &options).unwrap();
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    (tree.size(), found)
}

fn collect(group: &usvg::Group, found: &mut Vec<(String, usvg::Rect)>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(g) => collect(g, found),
            usvg::Node::Text(t) => {
                let words: String = t.chunks().iter().map(|c| c.text()).collect();
                found.push((words.trim().to_string(), t.abs_bounding_box()));
            }
            _ => {}
        }
    }
}

fn meets(a: &usvg::Rect, b: &usvg::Rect) -> bool {
    // Boxes reach from ascent to descent; letters fill less.
    let v = 0.16 * a.height().min(b.height());
    a.left() < b.right()
        && b.left() < a.right()
        && a.top() + v < b.bottom() - v
        && b.top() + v < a.bottom() - v
}

#[test]
fn practice_all_text_stays_on_the_sheet_and_clear_of_other_text() {
    let mut wrong = Vec::new();
    for (name, case) in support::cases() {
        let result = support::burn(&case);
        for units in BOTH {
            for picture in picture_names(&result) {
                let svg = draw_one(picture, &result, units).unwrap();
                let file = folder(name, units).join(format!("{picture}.svg"));
                std::fs::write(&file, &svg).unwrap();
                if std::env::var_os("ALL_PNG").is_some() {
                    std::fs::write(file.with_extension("png"), svg_to_png(&svg).unwrap()).unwrap();
                    // As a phone shows it.
                    let small = svg.replacen("width=\"1600\"", "width=\"400\"", 1);
                    let tall = small.find(" height=\"").unwrap() + 9;
                    let end = tall + small[tall..].find('"').unwrap();
                    let h: f64 = small[tall..end].parse().unwrap();
                    let small = format!("{}{}{}", &small[..tall], h / 4.0, &small[end..]);
                    let file = file.with_file_name(format!("{picture}-400.png"));
                    std::fs::write(file, svg_to_png(&small).unwrap()).unwrap();
                }
                let (size, texts) = texts(&svg);
                assert!(texts.len() > 3, "{name} {picture}: hardly any text");
                for (i, (words, r)) in texts.iter().enumerate() {
                    if r.left() < 2.0
                        || r.top() < 2.0
                        || r.right() > size.width() - 2.0
                        || r.bottom() > size.height() - 2.0
                    {
                        wrong.push(format!(
                            "{name} {units} {picture}: `{words}` leaves the sheet"
                        ));
                    }
                    for (other, o) in &texts[..i] {
                        if meets(r, o) {
                            wrong.push(format!(
                                "{name} {units} {picture}: `{words}` over `{other}`"
                            ));
                        }
                    }
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} faults:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn practice_each_case_has_the_pictures_that_fit_it() {
    let names = |case: &str| {
        let cases = support::cases();
        let case = &cases.iter().find(|c| c.0 == case).unwrap().1;
        picture_names(&support::burn(case))
    };
    assert_eq!(
        names("plain"),
        [
            "tank",
            "gas-temperatures",
            "water",
            "heat-flows",
            "energy",
            "draught",
            "bed",
            "operating-point",
            "rig"
        ]
    );
    let dry = names("no-coil");
    assert!(!dry.contains(&"water") && !dry.contains(&"operating-point"));
    assert!(dry.contains(&"gas-temperatures"));
    let result = support::burn(&support::Case::default());
    let error = draw_one("nonsense", &result, UnitSystem::Metric).unwrap_err();
    assert!(error.to_string().contains("operating-point"), "{error}");
}

#[test]
fn identity_drawing_twice_gives_the_same_bytes() {
    for (_, case) in support::cases() {
        let result = support::burn(&case);
        for picture in picture_names(&result) {
            let draw = || draw_one(picture, &result, UnitSystem::Metric).unwrap();
            assert!(draw() == draw(), "{picture}");
        }
    }
}

#[test]
fn practice_the_answer_stands_in_the_tank_picture() {
    let case = support::Case::default();
    let result = support::burn(&case);
    let svg = draw_one("tank", &result, UnitSystem::Metric).unwrap();
    let t = result.summary.time_to_target_s.unwrap();
    let words = format!("65 °C at {}", emberloop::units::format_time(t));
    assert!(svg.contains(&words), "{words}");
    assert!(svg.contains("not a clearance"));
    let cold = support::Case {
        target_c: 99.0,
        ..case
    };
    let svg = draw_one("tank", &support::burn(&cold), UnitSystem::Us).unwrap();
    assert!(svg.contains("target 210 °F, not reached"));
}

#[test]
fn practice_odd_numbers_do_not_stop_the_drawing() {
    let mut result = support::burn(&support::Case::default());
    // What a failed run might leave behind: gaps, infinities, an account full of zeros.
    let names = result.series.names.clone();
    for (name, column) in names.iter().zip(&mut result.series.columns) {
        if name != "time_s" {
            for (i, v) in column.iter_mut().enumerate() {
                match i % 7 {
                    3 => *v = f64::NAN,
                    5 => *v = f64::INFINITY,
                    _ => {}
                }
            }
        }
    }
    for line in &mut result.ledger.inputs {
        line.energy_j = 0.0;
    }
    for picture in picture_names(&result) {
        let svg = draw_one(picture, &result, UnitSystem::Metric).unwrap();
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{picture}");
        svg_to_png(&svg).unwrap();
    }
}
