//! The table of a study as text: a line that says which study it is, the names of the columns, a line per point. SI, but for the
//! axes, which stand in the unit that their heading names.

use crate::output::table_csv::number;
use crate::results::figures::FIGURES;
use crate::results::{Part, RowStatus, StudyHead, StudyRow};

/// Opens the first line.
const MARK: &str = "# emberloop study ";

/// First line and column names.
pub fn head_text(head: &StudyHead) -> String {
    let first = format!(
        "{MARK}{} points {} part {}\n",
        head.fingerprint, head.points, head.part
    );
    let axes = head.axes.iter().map(|a| a.heading());
    let mut columns = vec!["point".to_owned()];
    columns.extend(axes);
    columns.extend(["status", "reason", "warnings"].map(str::to_owned));
    columns.extend(FIGURES.iter().map(|f| f.key.to_owned()));
    first + &line(columns.iter().map(String::as_str))
}

/// Fingerprint, points and part of a first line.
pub fn read_first(line: &str) -> Option<(String, u64, Part)> {
    let mut words = line.strip_prefix(MARK)?.split_whitespace();
    let fingerprint = words.next()?.to_owned();
    let points = (words.next()? == "points").then(|| words.next()?.parse().ok())??;
    let part = (words.next()? == "part").then(|| words.next()?.parse().ok())??;
    Some((fingerprint, points, part))
}

/// One row, its line end included.
pub fn row_text(row: &StudyRow) -> String {
    let mut cells = vec![row.point.to_string()];
    cells.extend(row.labels.iter().cloned());
    cells.push(row.status.word().to_owned());
    cells.push(row.reason.clone());
    cells.push(row.warnings.join(" "));
    cells.extend(
        row.figures
            .iter()
            .map(|v| v.map_or_else(String::new, number)),
    );
    line(cells.iter().map(String::as_str))
}

/// Reads a row of a study with so many axes; `None` where the line is torn or of something else.
pub fn read_row(line: &[u8], axes: usize) -> Option<StudyRow> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(line);
    let mut record = csv::StringRecord::new();
    if !reader.read_record(&mut record).ok()? || record.len() != axes + 4 + FIGURES.len() {
        return None;
    }
    let figure = |text: &str| match text {
        "" => Some(None),
        text => text.parse().ok().map(Some),
    };
    Some(StudyRow {
        point: record[0].parse().ok()?,
        labels: (1..=axes).map(|i| record[i].to_owned()).collect(),
        status: RowStatus::from_word(&record[axes + 1])?,
        reason: record[axes + 2].to_owned(),
        warnings: record[axes + 3]
            .split_whitespace()
            .map(str::to_owned)
            .collect(),
        figures: record
            .iter()
            .skip(axes + 4)
            .map(figure)
            .collect::<Option<_>>()?,
    })
}

/// Cells as one line of CSV (RFC 4180 quoting, line feed). No cell holds a line end.
fn line<'a>(cells: impl Iterator<Item = &'a str>) -> String {
    let mut text = String::with_capacity(512);
    for (i, cell) in cells.enumerate() {
        if i > 0 {
            text.push(',');
        }
        if cell.contains([',', '"']) {
            text.push('"');
            text.push_str(&cell.replace('"', "\"\""));
            text.push('"');
        } else {
            text.push_str(cell);
        }
    }
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::results::StudyAxis;

    #[test]
    fn identity_rows_and_heads_read_back() {
        let mut figures = vec![None; FIGURES.len()];
        figures[1] = Some(0.1 + 0.2);
        let row = StudyRow {
            point: 7,
            labels: vec!["6".into(), "a \"b\", c".into()],
            status: RowStatus::Refused,
            reason: "E0203: no, not this".into(),
            warnings: vec!["W0101".into(), "W0203".into()],
            figures,
        };
        let text = row_text(&row);
        assert_eq!(read_row(text.as_bytes(), 2), Some(row));
        assert_eq!(
            read_row(&text.as_bytes()[..text.len() / 2], 2),
            None,
            "torn"
        );
        assert_eq!(read_row(text.as_bytes(), 3), None, "another study");
        let head = StudyHead {
            fingerprint: "0af3".into(),
            axes: vec![StudyAxis {
                name: "coil.length".into(),
                unit: "m".into(),
            }],
            points: 12,
            part: Part { number: 2, of: 3 },
        };
        let text = head_text(&head);
        let (first, columns) = text.split_once('\n').unwrap_or_default();
        assert_eq!(read_first(first), Some(("0af3".into(), 12, head.part)));
        assert!(
            columns.starts_with("point,coil.length (m),status,reason,warnings,target_reached,")
        );
        assert_eq!(read_first("point,a"), None);
    }
}
