//! Reading a finished table row by row, and joining the tables of parts.

use super::journal::{PARTIAL, RUNS, first_line, put_in_place};
use super::record::{head_text, read_first, read_row};
use crate::output::error::OutputError;
use crate::results::{Part, StudyHead, StudyRow};
use std::fs::File;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};

/// Hands over each row of a finished table.
///
/// # Errors
/// [`OutputError::File`], [`OutputError::Table`] naming the line.
pub fn each_row(
    path: &Path,
    axes: usize,
    mut take: impl FnMut(StudyRow),
) -> Result<(), OutputError> {
    each_line(path, |number, line| {
        let row = read_row(line, axes).ok_or_else(|| OutputError::Table {
            path: path.to_path_buf(),
            reason: format!("line {number} is no row of this study"),
        })?;
        take(row);
        Ok(())
    })
}

/// Lines behind the head, with their numbers.
fn each_line(
    path: &Path,
    mut take: impl FnMut(u64, &[u8]) -> Result<(), OutputError>,
) -> Result<(), OutputError> {
    let failed = OutputError::at("read", path);
    let mut reader = BufReader::with_capacity(1 << 18, File::open(path).map_err(&failed)?);
    let mut line = Vec::new();
    for number in 1u64.. {
        line.clear();
        if reader.read_until(b'\n', &mut line).map_err(&failed)? == 0 {
            break;
        }
        if number > 2 {
            take(number, &line)?;
        }
    }
    Ok(())
}

/// What a folder holds of a study, by its first line.
#[derive(Debug, Clone)]
pub struct Found {
    pub dir: PathBuf,
    pub fingerprint: String,
    pub points: u64,
    pub part: Part,
    /// False where rows are still missing.
    pub complete: bool,
}

/// Looks into a folder; `None` where it holds no table of a study.
///
/// # Errors
/// [`OutputError::File`].
pub fn find(dir: &Path) -> Result<Option<Found>, OutputError> {
    for (name, complete) in [(RUNS, true), (PARTIAL, false)] {
        let first = first_line(&dir.join(name))?;
        if let Some((fingerprint, points, part)) = first.as_deref().and_then(read_first) {
            return Ok(Some(Found {
                dir: dir.to_path_buf(),
                fingerprint,
                points,
                part,
                complete,
            }));
        }
    }
    Ok(None)
}

/// Joins complete parts, given in order, into the table of the whole study.
///
/// # Errors
/// [`OutputError::Table`] where a part lacks rows, [`OutputError::File`].
pub fn join(parts: &[Found], head: &StudyHead, out: &Path) -> Result<PathBuf, OutputError> {
    let path = out.join(RUNS);
    let mut refused = None;
    let written = put_in_place(&path, |file| {
        file.write_all(head_text(head).as_bytes())?;
        for part in parts {
            let source = part.dir.join(RUNS);
            let range = part.part.range(part.points);
            let mut next = range.start;
            let read = each_line(&source, |number, line| {
                let row = read_row(line, head.axes.len()).filter(|r| r.point == next);
                if row.is_none() {
                    return Err(OutputError::Table {
                        path: source.clone(),
                        reason: format!("line {number} should be point {next}"),
                    });
                }
                next += 1;
                file.write_all(line)
                    .map_err(OutputError::at("write", &path))
            });
            let read = read.and_then(|()| {
                let short = OutputError::Table {
                    path: source.clone(),
                    reason: format!("it ends before point {next}"),
                };
                if next == range.end {
                    Ok(())
                } else {
                    Err(short)
                }
            });
            if let Err(e) = read {
                refused = Some(e);
                return Err(std::io::Error::other("a part is damaged"));
            }
        }
        Ok(())
    });
    match refused {
        Some(e) => Err(e),
        None => written.map(|()| path),
    }
}
