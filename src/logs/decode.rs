//! Bytes to text: byte-order marks, UTF-16 without a mark, Windows-1252 where UTF-8 does not fit.

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::{Decision, Problem};

/// The text and how it was found to be coded.
pub(super) fn decode(
    bytes: &[u8],
    forced: Option<&str>,
) -> Result<(String, Vec<Decision>), Problem> {
    let mut notes = Vec::new();
    let (encoding, reason) = match forced {
        Some(name) => match Encoding::for_label(name.trim().as_bytes()) {
            Some(encoding) => (encoding, "the mapping says so"),
            None => {
                return Err(Problem::error(
                    format!("`read.encoding` is \"{name}\", which is no known encoding"),
                    "write utf-8, utf-16le, utf-16be, windows-1252 or another WHATWG label",
                ));
            }
        },
        None => guess(bytes),
    };
    let (text, encoding, broken) = encoding.decode(bytes);
    if encoding != UTF_8 {
        notes.push(Decision::new("encoding", encoding.name(), reason));
    }
    if broken {
        notes.push(Decision::new(
            "encoding",
            encoding.name(),
            "some characters do not fit and were read as �",
        ));
    }
    let controls = text
        .chars()
        .take(4096)
        .filter(|c| c.is_control() && !"\n\r\t\u{c}".contains(*c))
        .count();
    if controls * 10 > text.chars().take(4096).count() {
        return Err(Problem::error(
            "this is not a text file: more than a tenth of it are control characters",
            "export the log as CSV text; a spreadsheet file (.xlsx, .ods) or a database is none",
        ));
    }
    // A degree sign that was coded twice.
    let text = match text.contains("Â°") {
        true => text.replace("Â°", "°"),
        false => text.into_owned(),
    };
    Ok((text, notes))
}

/// Text of another kind that people take for a log.
pub(super) fn foreign(text: &str) -> Option<Problem> {
    let head = text.trim_start();
    let lower: String = head.chars().take(400).collect::<String>().to_lowercase();
    let page = [
        "<!doctype",
        "<html",
        "<?xml",
        "<table",
        "<body",
        "<div",
        "<head",
    ];
    if page.iter().any(|p| lower.starts_with(p)) {
        return Some(Problem::error(
            "this is a web page or XML, not a table of readings",
            "open it in a browser or spreadsheet and export the log as CSV; a download that needs a login often gives such a page",
        ));
    }
    let mut marks = head.chars().filter(|c| !c.is_whitespace());
    let json = matches!(
        (marks.next(), marks.next()),
        (Some('{'), Some('"')) | (Some('['), Some('{' | '['))
    );
    json.then(|| {
        Problem::error(
            "this is JSON, not a table of readings",
            "export the log as CSV: one reading a row, the time in front",
        )
    })
}

fn guess(bytes: &[u8]) -> (&'static Encoding, &'static str) {
    if let Some((encoding, _)) = Encoding::for_bom(bytes) {
        return (encoding, "the byte-order mark says so");
    }
    let head = &bytes[..bytes.len().min(4096)];
    let zeros = |odd: usize| {
        let at = head.iter().skip(odd).step_by(2);
        at.filter(|b| **b == 0).count()
    };
    let (even, odd) = (zeros(0), zeros(1));
    // ASCII text in UTF-16 has a zero in every second byte.
    if odd * 5 > head.len() && even * 20 <= head.len() {
        return (UTF_16LE, "every second byte is zero");
    }
    if even * 5 > head.len() && odd * 20 <= head.len() {
        return (UTF_16BE, "every second byte is zero");
    }
    if std::str::from_utf8(bytes).is_ok() {
        (UTF_8, "it is valid UTF-8")
    } else {
        (
            WINDOWS_1252,
            "it is not UTF-8; single bytes as in Windows and Latin-1",
        )
    }
}
