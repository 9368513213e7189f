//! Rarer habits: pencil and paper, exports of other programs, crashed loggers.

use super::*;

fn pencil(f: impl Fn(usize) -> String) -> String {
    let mut text = String::new();
    for i in (0..ROWS).step_by(3) {
        let _ = writeln!(text, "{}", f(i));
    }
    text
}

pub fn shapes() -> Vec<Shape> {
    let t = "time;tank_C;flue_C\n";
    let at = |head: &str, f: &dyn Fn(usize) -> String| {
        table(head, |i| format!("{};{:.1};{:.0}", f(i), tank(i), flue(i)))
    };
    let date = |i: usize| {
        let m = 23 * 60 + minute(i);
        (7 + m / 1440, m % 1440 / 60, m % 60)
    };
    let cut = |text: &str, mark: &str| text.replace(';', mark);
    let mut all = vec![
        shape(
            "pencil, Fahrenheit and remarks",
            pencil(|i| {
                let remark = match i {
                    0 => " lit with bark",
                    6 => " 4 lb on",
                    _ => "",
                };
                format!(
                    "{} {:.0}F{remark}",
                    clock12(840, i).to_lowercase(),
                    fahrenheit(tank(i))
                )
            }),
            Heat(0.02),
        ),
        shape(
            "pencil, dashes",
            pencil(|i| {
                format!(
                    "{} - {:.1} C - {}",
                    clock(840, i),
                    tank(i),
                    if i == 6 { "stirred" } else { "ok" }
                )
            }),
            Heat(0.02),
        ),
        shape(
            "pencil, colon behind the time",
            pencil(|i| format!("{}: {:.1} °C", clock(840, i), tank(i))),
            Heat(0.02),
        ),
        shape(
            "pencil, decimal comma",
            pencil(|i| format!("{} {}", clock(840, i), comma(tank(i)))),
            Heat(0.02),
        ),
        shape(
            "hours and decimals",
            at("Time (h);tank_C;flue_C\n", &|i| {
                format!("{:.4}", minute(i) as f64 / 60.0)
            }),
            Heat(0.01),
        ),
        shape(
            "elapsed with hours",
            at("elapsed;tank_C;flue_C\n", &|i| {
                format!("{:02}:{:02}:00.000", minute(i) / 60, minute(i) % 60)
            }),
            Heat(0.01),
        ),
        shape(
            "elapsed with days",
            at("elapsed;tank_C;flue_C\n", &|i| {
                format!("0 days {:02}:{:02}:00", minute(i) / 60, minute(i) % 60)
            }),
            Heat(0.01),
        ),
        shape(
            "plus before the time",
            at(t, &|i| {
                format!("+{:02}:{:02}:00", minute(i) / 60, minute(i) % 60)
            }),
            Heat(0.01),
        ),
        shape(
            "year first, slashes",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("2026/03/{d:02} {h:02}:{m:02}")
            }),
            Heat(0.01),
        ),
        shape(
            "year of two digits, slashes",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("{d:02}/03/26 {h:02}:{m:02}")
            }),
            Heat(0.01),
        ),
        shape(
            "p. m.",
            at(t, &|i| {
                let (d, ..) = date(i);
                format!(
                    "2026-03-{d:02} {}",
                    clock12(1380, i)
                        .replace("AM", "a. m.")
                        .replace("PM", "p.\u{a0}m.")
                )
            }),
            Heat(0.01),
        ),
        shape(
            "PM glued on",
            at(t, &|i| clock12(660, i).replace(' ', "")),
            Heat(0.01),
        ),
        shape(
            "AM and PM in a column of their own",
            at("time;half;tank_C;flue_C\n", &|i| {
                clock12(660, i).replace(' ', ";")
            }),
            Heat(0.01),
        ),
        shape(
            "offset behind, negative",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("2026-03-{d:02}T{h:02}:{m:02}:00-08:00")
            }),
            Heat(0.01),
        ),
        shape(
            "microseconds since 1970",
            at("ts;tank_C;flue_C\n", &|i| {
                format!(
                    "{}",
                    1_770_000_000_000_000i64 + 60_000_000 * minute(i) as i64
                )
            }),
            Heat(0.01),
        ),
        shape(
            "apostrophe of a spreadsheet",
            at(t, &|i| format!("'{}", clock(840, i))),
            Heat(0.01),
        ),
        shape(
            "formula of a spreadsheet",
            at(t, &|i| format!("=\"{}\"", clock(840, i))),
            Heat(0.01),
        ),
        shape(
            "degree and letter in one character",
            plain().replace("tank_C,flue_C", "tank (℃),flue (℃)"),
            Heat(0.01),
        ),
        shape(
            "Fahrenheit in one character",
            table("time,tank ℉\n", |i| {
                format!("{},{:.1}", clock(840, i), fahrenheit(tank(i)))
            }),
            Heat(0.01),
        ),
        shape(
            "name over two lines in quotes",
            plain().replace("tank_C", "\"Tank\n(°C)\""),
            Heat(0.01),
        ),
        shape(
            "index without a name",
            table(",time,tank_C\n", |i| {
                format!("{i},{},{:.1}", clock(840, i), tank(i))
            }),
            Heat(0.01),
        ),
        shape(
            "comma for both",
            table("time,tank_C,flue_C\n", |i| {
                format!("{},{},{}", clock(840, i), comma(tank(i)), comma(flue(i)))
            }),
            Says(&["decimal comma", "semicolon"]),
        ),
        shape(
            "mean and most below",
            format!("{}Average,35.2,180\nMax,60.0,252\n", plain()),
            HeatAnd(0.01, "line 27, column 1"),
        ),
        shape(
            "zeros of a power failure",
            plain().replace("15:00", "\0\0\0\0\0\0\0\0\n15:00"),
            Heat(0.01),
        ),
        shape(
            "#REF! and hashes",
            plain()
                .replace("14:20,", "14:20,#REF!,")
                .replace("14:30,", "14:30,#####,"),
            Heat(0.01),
        ),
        shape(
            "tab and blanks mixed",
            cut(&at(t, &|i| clock(840, i)), " \t "),
            Heat(0.01),
        ),
        shape(
            "cooled for hours after",
            {
                let mut text = plain();
                for i in 0..60 {
                    let _ = writeln!(
                        text,
                        "{},{:.1},20",
                        clock(960, i + 1),
                        60.0 - 0.05 * i as f64
                    );
                }
                text
            },
            Heat(0.01),
        ),
        shape(
            "stood for hours before the match",
            {
                let mut text = String::from("time,tank_C,notes\n");
                for i in 0..36 {
                    let _ = writeln!(text, "{},10.0,", clock(660, i));
                }
                for i in 0..ROWS {
                    let _ = writeln!(
                        text,
                        "{},{:.1},{}",
                        clock(840, i),
                        tank(i),
                        if i == 0 { "lit" } else { "" }
                    );
                }
                text
            },
            Heat(0.01),
        ),
        shape(
            "clock put on in spring",
            at(t, &|i| {
                let m = 60 + minute(i) + if minute(i) >= 60 { 60 } else { 0 };
                format!("2026-03-29 {:02}:{:02}", m / 60, m % 60)
            }),
            HeatAnd(0.01, "clock jump"),
        ),
        shape(
            "wet fingers: one stamp mistyped",
            swapped(&plain(), 12, &format!("41:50,{:.1},250", tank(10))),
            Heat(0.01),
        ),
        shape(
            "two tables, one under the other",
            format!("{}\nSummary\nmean,35\nwood,12 kg\n", plain()),
            Heat(0.01),
        ),
        shape(
            "probes without names",
            table("time,T1,T2,T3\n", |i| {
                format!("{},{:.1},{:.0},5", clock(840, i), tank(i), flue(i))
            }),
            Says(&["°C or in °F"]),
        ),
    ];
    all.push(shape(
        "a hundred thousand rows",
        {
            let mut text = String::from("Zeit;Speicher (°C);Abgas (°C)\n");
            for i in 0..100_000u32 {
                let s = f64::from(i) * 0.072;
                let _ = writeln!(
                    text,
                    "{};{};{}",
                    comma(s),
                    comma(10.0 + 50.0 * f64::from(i) / 99_999.0),
                    200 + i % 50
                );
            }
            text.replace("Zeit;", "Zeit (s);")
        },
        Heat(0.02),
    ));
    all
}
