//! The time in every way that people and loggers write it.

use super::*;

pub fn shapes() -> Vec<Shape> {
    let at = |head: &str, f: &dyn Fn(usize) -> String| {
        table(head, |i| format!("{};{:.1};{:.0}", f(i), tank(i), flue(i)))
    };
    let t = "time;tank_C;flue_C\n";
    let date = |i: usize| {
        let m = 23 * 60 + minute(i);
        (7 + m / 1440, m % 1440 / 60, m % 60)
    };
    vec![
        shape("over midnight", at(t, &|i| clock(1380, i)), Heat(0.01)),
        shape(
            "halves of the day over midnight",
            at(t, &|i| clock12(1380, i)),
            Heat(0.01),
        ),
        shape(
            "halves of the day over noon",
            at(t, &|i| {
                clock12(660, i).replace(" AM", "am").replace(" PM", "pm")
            }),
            Heat(0.01),
        ),
        shape(
            "14h05",
            at(t, &|i| clock(840, i).replace(':', "h")),
            Heat(0.01),
        ),
        shape(
            "0h05 from the start",
            at("temps;ballon_C;fumees_C\n", &|i| {
                format!("{}h{:02}", minute(i) / 60, minute(i) % 60)
            }),
            Heat(0.01),
        ),
        shape(
            "1h05min",
            at(t, &|i| {
                format!("{}h{:02}min", minute(i) / 60, minute(i) % 60)
            }),
            Heat(0.01),
        ),
        shape(
            "1 h 5 min",
            at(t, &|i| {
                format!("{} h {} min", minute(i) / 60, minute(i) % 60)
            }),
            Heat(0.01),
        ),
        shape(
            "95 min",
            at(t, &|i| format!("{} min", minute(i))),
            Heat(0.01),
        ),
        shape(
            "minutes and seconds from the start",
            at("elapsed (mm:ss);tank_C;flue_C\n", &|i| {
                format!("{}:00", minute(i))
            }),
            Heat(0.01),
        ),
        shape(
            "minutes from the start, some before lighting",
            at("min;tank_C;flue_C\n", &|i| {
                format!("{}", minute(i) as i64 - 10)
            }),
            Heat(0.01),
        ),
        shape(
            "seconds since power-on",
            at("seconds;tank_C;flue_C\n", &|i| {
                format!("{}", 4711 + 60 * minute(i))
            }),
            Heat(0.01),
        ),
        shape(
            "milliseconds since power-on",
            at("millis;tank_C;flue_C\n", &|i| {
                format!("{}", 4_711_003 + 60_000 * minute(i))
            }),
            Heat(0.01),
        ),
        shape(
            "seconds of a counter without a telling name",
            at("t;tank_C;flue_C\n", &|i| format!("{}", 60 * minute(i))),
            Heat(0.01),
        ),
        shape(
            "power lost once",
            at("millis;tank_C;flue_C\n", &|i| {
                format!(
                    "{}",
                    if i < 12 {
                        4_711_003 + 60_000 * minute(i)
                    } else {
                        60_000 * minute(i - 12)
                    }
                )
            }),
            HeatAnd(0.01, "clock jump"),
        ),
        shape(
            "seconds since 1970",
            at("epoch;tank_C;flue_C\n", &|i| {
                format!("{}", 1_770_000_000 + 60 * minute(i))
            }),
            Heat(0.01),
        ),
        shape(
            "milliseconds since 1970",
            at("ts;tank_C;flue_C\n", &|i| {
                format!("{}", 1_770_000_000_000i64 + 60_000 * minute(i) as i64)
            }),
            Heat(0.01),
        ),
        shape(
            "seconds since 1970, exponent",
            at("time;tank_C;flue_C\n", &|i| {
                format!(
                    "{:.6}E+09",
                    (1_770_000_000.0 + 60.0 * minute(i) as f64) / 1e9
                )
            }),
            Heat(0.2),
        ),
        shape(
            "days of a spreadsheet",
            at("Date;tank_C;flue_C\n", &|i| {
                format!("{:.6}", 46_060.75 + minute(i) as f64 / 1440.0)
            }),
            Heat(0.01),
        ),
        shape(
            "share of a day of a spreadsheet",
            at(t, &|i| format!("{:.8}", 0.7 + minute(i) as f64 / 1440.0)),
            Heat(0.01),
        ),
        shape(
            "share of a day, decimal comma",
            at(t, &|i| format!("{:.8}", 0.7 + minute(i) as f64 / 1440.0)).replace('.', ","),
            Heat(0.01),
        ),
        shape(
            "ISO",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("2026-03-{d:02}T{h:02}:{m:02}:00")
            }),
            Heat(0.01),
        ),
        shape(
            "ISO, Z and thousandths",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("2026-03-{d:02}T{h:02}:{m:02}:00.123Z")
            }),
            Heat(0.01),
        ),
        shape(
            "ISO with offset",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("2026-03-{d:02} {h:02}:{m:02}:00+0100")
            }),
            Heat(0.01),
        ),
        shape(
            "UTC behind it",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("2026-03-{d:02} {h:02}:{m:02}:00 UTC")
            }),
            Heat(0.01),
        ),
        shape(
            "month first, halves of the day",
            at(t, &|i| {
                let (d, ..) = date(i);
                format!("03/{d:02}/2026 {}", clock12(1380, i))
            }),
            Heat(0.01),
        ),
        shape(
            "dots",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("{d}.3.2026 {h}:{m:02}")
            }),
            Heat(0.01),
        ),
        shape(
            "dots, year of two digits, comma",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("{d:02}.03.26, {h:02}:{m:02}")
            }),
            Heat(0.01),
        ),
        shape(
            "month in letters",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("{d} Mar 2026 {h:02}:{m:02}")
            }),
            Heat(0.01),
        ),
        shape(
            "day of the week",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("{} {h:02}:{m:02}", if d == 7 { "Sat" } else { "Sun" })
            }),
            Heat(0.01),
        ),
        shape(
            "no marks at all",
            at(t, &|i| {
                let (d, h, m) = date(i);
                format!("202603{d:02} {h:02}{m:02}00")
            }),
            Heat(0.01),
        ),
        shape(
            "date and clock apart",
            at("Datum;Zeit;tank_C;flue_C\n", &|i| {
                let (d, h, m) = date(i);
                format!("{d:02}.03.2026;{h:02}:{m:02}:00")
            }),
            Heat(0.01),
        ),
        shape(
            "date in the first row only",
            at("date;time;tank_C;flue_C\n", &|i| {
                format!(
                    "{};{}",
                    if i == 0 { "2026-03-07" } else { "" },
                    clock(1380, i)
                )
            }),
            Heat(0.01),
        ),
        shape(
            "tenths of seconds with a comma",
            at(t, &|i| format!("{}:30,2", clock(840, i))),
            Heat(0.01),
        ),
        shape(
            "newest first",
            {
                let text = at(t, &|i| clock(840, i));
                let mut l: Vec<&str> = text.lines().collect();
                l[1..].reverse();
                l.join("\n")
            },
            Heat(0.01),
        ),
        shape(
            "newest first, dates",
            {
                let text = at(t, &|i| {
                    let (d, h, m) = date(i);
                    format!("2026-03-{d:02} {h:02}:{m:02}")
                });
                let mut l: Vec<&str> = text.lines().collect();
                l[1..].reverse();
                l.join("\n")
            },
            Heat(0.01),
        ),
        shape(
            "minute stamps of many rows",
            {
                let mut text = String::from("time,tank_C\n");
                for i in 0..480 {
                    let _ = writeln!(
                        text,
                        "{:02}:{:02},{:.2}",
                        14 + i / 4 / 60,
                        i / 4 % 60,
                        10.0 + 50.0 * i as f64 / 479.0
                    );
                }
                text
            },
            Heat(0.02),
        ),
        shape(
            "a stamp twice",
            plain().replace("15:05", "15:00"),
            HeatAnd(0.01, "duplicate stamp"),
        ),
        shape(
            "clock with dots",
            at("Uhrzeit;tank_C;flue_C\n", &|i| {
                clock(840, i).replace(':', ".")
            }),
            Heat(0.01),
        ),
    ]
}
