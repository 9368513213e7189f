//! Encodings, line ends, delimiters, what stands around the table.

use super::*;

pub fn shapes() -> Vec<Shape> {
    let european = table("Zeit;Kessel oben (°C);Abgas (°C)\n", |i| {
        format!("{};{};{}", clock(840, i), comma(tank(i)), comma(flue(i)))
    });
    vec![
        shape("comma", plain(), Heat(0.01)),
        shape("semicolon, decimal comma", european.clone(), Heat(0.01)),
        shape(
            "tab, decimal comma",
            european.replace(';', "\t"),
            Heat(0.01),
        ),
        shape("UTF-8 with mark", format!("\u{feff}{european}"), Heat(0.01)),
        shape(
            "UTF-16 little, mark",
            utf16(&european, false, true),
            Heat(0.01),
        ),
        shape("UTF-16 big, mark", utf16(&european, true, true), Heat(0.01)),
        shape(
            "UTF-16 big, no mark",
            utf16(&plain(), true, false),
            Heat(0.01),
        ),
        shape("Windows-1252", latin(&european), Heat(0.01)),
        shape(
            "carriage returns only",
            plain().replace('\n', "\r"),
            Heat(0.01),
        ),
        shape("CR and LF", plain().replace('\n', "\r\n"), Heat(0.01)),
        shape("sep= first", format!("sep=;\n{european}"), Heat(0.01)),
        shape(
            "no last line end",
            plain().trim_end().to_owned(),
            Heat(0.01),
        ),
        shape(
            "every cell quoted",
            table("\"time\",\"tank, C\",\"flue, C\"\n", |i| {
                format!(
                    "\"{}\",\"{:.1}\",\"{:.0}\"",
                    clock(840, i),
                    tank(i),
                    flue(i)
                )
            }),
            Heat(0.01),
        ),
        shape(
            "quoted decimal commas parted by commas",
            table("\"time\",\"tank (C)\"\n", |i| {
                format!("\"{}\",\"{}\"", clock(840, i), comma(tank(i)))
            }),
            Heat(0.01),
        ),
        shape(
            "delimiter at each end",
            table("time;tank (C);\n", |i| {
                format!("{};{:.1};", clock(840, i), tank(i))
            }),
            Heat(0.01),
        ),
        shape(
            "aligned by blanks",
            table("time     tank_C   flue_C\n", |i| {
                format!("{}    {:>6.1}   {:>5.0}", clock(840, i), tank(i), flue(i))
            }),
            Heat(0.01),
        ),
        shape(
            "table of a text editor",
            table("| time | tank (C) |\n|------|----------|\n", |i| {
                format!("| {} | {:.1} |", clock(840, i), tank(i))
            }),
            Heat(0.01),
        ),
        shape("blank lines", plain().replace('\n', "\n\n"), Heat(0.01)),
        shape(
            "lines of comment",
            plain()
                .replace("14:30", "# stirred it here\n14:30")
                .replace("15:00", "// wind from the north, cold\n15:00"),
            Heat(0.01),
        ),
        shape(
            "preamble of a logger",
            format!(
                "Logger,X-0\nSerial,000000\nInterval,5 min\nStarted,14:00\n\n{}",
                plain()
            ),
            Heat(0.01),
        ),
        shape(
            "non-breaking blanks in figures",
            table("time;tank (C);draught\n", |i| {
                format!("{};{:.1};1\u{a0}{:03}", clock(840, i), tank(i), 10 + i)
            }),
            Heat(0.01),
        ),
    ]
}
