//! Sentinels, slips, cut lines; files that are no log.

use super::*;

pub fn shapes() -> Vec<Shape> {
    let flawed = |bad: &'static str| {
        table("time,tank_C,flue_C\n", move |i| match i {
            8 => format!("{},{bad},{:.0}", clock(840, i), flue(i)),
            _ => format!("{},{:.1},{:.0}", clock(840, i), tank(i), flue(i)),
        })
    };
    let zip = {
        let mut b = b"PK\x03\x04\x14\x00\x06\x00\x08\x00\x00\x00!\x00".to_vec();
        b.extend((0..2000u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8));
        b
    };
    vec![
        shape(
            "sentinel 999",
            flawed("999"),
            HeatAnd(0.01, "sentinel value"),
        ),
        shape(
            "sentinel 999.9",
            flawed("999.9"),
            HeatAnd(0.01, "sentinel value"),
        ),
        shape(
            "sentinel -999",
            flawed("-999"),
            HeatAnd(0.01, "sentinel value"),
        ),
        shape(
            "sentinel -127",
            flawed("-127.00"),
            HeatAnd(0.01, "sentinel value"),
        ),
        shape("sentinel 85", flawed("85"), HeatAnd(0.01, "sentinel value")),
        shape(
            "sentinel 1372",
            flawed("1372"),
            HeatAnd(0.01, "sentinel value"),
        ),
        shape("sentinel 0", flawed("0"), HeatAnd(0.01, "sentinel value")),
        shape(
            "sentinel 65535",
            flawed("6553.5"),
            HeatAnd(0.01, "sentinel value"),
        ),
        shape("NaN", flawed("NaN"), HeatAnd(0.01, "drop-out")),
        shape("Open", flawed("Open"), HeatAnd(0.01, "drop-out")),
        shape("#VALUE!", flawed("#VALUE!"), HeatAnd(0.01, "drop-out")),
        shape(
            "no sensor",
            flawed("no sensor"),
            HeatAnd(0.01, "\"no sensor\" in column tank_C"),
        ),
        shape("spike", flawed("74.2"), HeatAnd(0.01, "spike")),
        shape(
            "a letter for a figure",
            flawed("26.O"),
            HeatAnd(0.01, "column tank_C"),
        ),
        shape(
            "last line cut off",
            plain()
                .trim_end()
                .rsplit_once(',')
                .map_or(String::new(), |p| p.0.to_owned()),
            Heat(0.01),
        ),
        shape(
            "last line cut within the stamp",
            format!("{}16:0", plain()),
            Heat(0.01),
        ),
        shape(
            "a row of noise",
            swapped(&plain(), 12, "\u{1}\u{2}garbage,,,"),
            HeatAnd(0.01, "line 12, column 1"),
        ),
        shape(
            "a row too long",
            swapped(
                &plain(),
                12,
                &format!("{},{:.1},250,7,8,9", clock(840, 10), tank(10)),
            ),
            Heat(0.01),
        ),
        shape(
            "remarks with commas",
            table("time,tank_C,notes\n", |i| {
                format!(
                    "{},{:.1},{}",
                    clock(840, i),
                    tank(i),
                    match i {
                        3 => "caught well, choked the inlet, windy",
                        9 => "fed 1.8 kg, two of them thick",
                        _ => "",
                    }
                )
            }),
            Heat(0.01),
        ),
        shape(
            "remarks quoted over two lines",
            table("time,tank_C,notes\n", |i| {
                format!(
                    "{},{:.1},{}",
                    clock(840, i),
                    tank(i),
                    if i == 3 {
                        "\"caught well\nand windy\""
                    } else {
                        ""
                    }
                )
            }),
            Heat(0.01),
        ),
        shape(
            "a stray quote in a remark",
            table("time,tank_C,notes\n", |i| {
                format!(
                    "{},{:.1},{}",
                    clock(840, i),
                    tank(i),
                    if i == 3 { "\"6 in flue" } else { "" }
                )
            }),
            Heat(0.01),
        ),
        shape(
            "stuck column beside",
            table("time,tank_C,spare_C\n", |i| {
                format!("{},{:.1},21.0", clock(840, i), tank(i))
            }),
            Heat(0.01),
        ),
        shape(
            "empty column beside",
            table("time,tank_C,spare,flue_C\n", |i| {
                format!("{},{:.1},,{:.0}", clock(840, i), tank(i), flue(i))
            }),
            Heat(0.01),
        ),
        shape("empty", "", Says(&["the file is empty"])),
        shape(
            "blank lines only",
            "\n \n\t\n",
            Says(&["the file is empty"]),
        ),
        shape(
            "names only",
            "time,tank_C,flue_C\n",
            Says(&["no row with a time"]),
        ),
        shape(
            "one reading",
            "time,tank_C\n14:00,10.2\n",
            Says(&["one reading"]),
        ),
        shape(
            "one row of several probes",
            "time,tank_C,flue_C\n14:00,10.2,30\n",
            Says(&["one reading"]),
        ),
        shape("spreadsheet file", zip, Says(&["not a text file", "xlsx"])),
        shape(
            "picture",
            b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02\0\0\0\x01\0\x08\x02\0\0\0".repeat(40),
            Says(&["not a text file"]),
        ),
        shape(
            "page of the web",
            "<!DOCTYPE html>\n<html><head><title>Login</title></head>\n<body><p>Please log in, then export 14:00, 10.</p></body></html>\n",
            Says(&["web page"]),
        ),
        shape(
            "JSON",
            "[\n{\"time\": \"14:00\", \"tank\": 10.2},\n{\"time\": \"14:05\", \"tank\": 12.1},\n{\"time\": \"14:10\", \"tank\": 14.3}\n]\n",
            Says(&["JSON"]),
        ),
        shape(
            "prose",
            "We lit it at two, and by four it was hot.\nNext time with dry wood.\n",
            Says(&["no row with a time"]),
        ),
        shape(
            "time never moves",
            table("time,tank_C\n", |i| format!("14:00:00,{:.1}", tank(i))),
            Says(&["time"]),
        ),
        shape(
            "falls all the while",
            table("time,tank_C\n", |i| {
                format!("{},{:.1}", clock(840, i), 70.0 - tank(i))
            }),
            Says(&["warm"]),
        ),
    ]
}
