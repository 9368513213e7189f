//! Writing results so that an interruption or a full disk leaves no half file.
//!
//! Every file is first written whole under a hidden name beside its place and flushed to the disk; only when
//! all are there are they renamed. A failure removes what was begun.

use super::error::OutputError;
use super::pictures::{all_names, draw_one, picture_names};
use super::png::svg_to_png;
use super::summary_json::summary_bytes;
use super::table_csv::series_csv;
use crate::results::BurnResult;
use crate::units::UnitSystem;
use rayon::prelude::*;
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

const BANDS: &str = "bands.csv";

/// What to write.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WriteOptions {
    /// Pictures at all.
    pub pictures: bool,
    /// A PNG beside each SVG.
    pub png: bool,
}

impl Default for WriteOptions {
    fn default() -> Self {
        Self {
            pictures: true,
            png: true,
        }
    }
}

/// Writes `series.csv`, `bands.csv` where there are bands of a store, `summary.json` and all pictures of a run into `dir`, which is made if need be.
///
/// Pictures of an earlier run in the same folder that this run does not have are removed, so that nothing
/// there belongs to another run. Returns the paths written, in a fixed order.
///
/// # Errors
/// [`OutputError`] naming the path and the cause. No file is then left half written.
pub fn write_all(
    dir: &Path,
    result: &BurnResult,
    units: UnitSystem,
    options: WriteOptions,
) -> Result<Vec<PathBuf>, OutputError> {
    fs::create_dir_all(dir).map_err(OutputError::at("create the folder", dir))?;
    let series = dir.join("series.csv");
    let table = series_csv(&result.series).map_err(|e| OutputError::Table {
        path: series.clone(),
        reason: e.to_string(),
    })?;
    let mut files = vec![
        (series, table),
        (dir.join("summary.json"), summary_bytes(result)),
    ];
    let bands = dir.join(BANDS);
    if let Some(b) = result.bands.as_ref().filter(|b| !b.tank.time_s.is_empty()) {
        let table = series_csv(&b.tank.table()).map_err(|e| OutputError::Table {
            path: bands.clone(),
            reason: e.to_string(),
        })?;
        files.push((bands.clone(), table));
    }
    if options.pictures {
        for (name, svg, png) in pictures(result, units, options.png)? {
            files.push((dir.join(format!("{name}.svg")), svg.into_bytes()));
            files.extend(png.map(|bytes| (dir.join(format!("{name}.png")), bytes)));
        }
    }
    write_together(&files)?;
    let written: Vec<PathBuf> = files.into_iter().map(|(path, _)| path).collect();
    if !written.contains(&bands) {
        // Absent in the common case.
        let _ = fs::remove_file(&bands);
    }
    for name in all_names() {
        for kind in ["svg", "png"] {
            let old = dir.join(format!("{name}.{kind}"));
            if !written.contains(&old) {
                // Absent in the common case.
                let _ = fs::remove_file(&old);
            }
        }
    }
    Ok(written)
}

type Drawn = (&'static str, String, Option<Vec<u8>>);

/// All pictures, drawn side by side; each depends on the result alone, so the bytes do not depend on threads.
fn pictures(result: &BurnResult, units: UnitSystem, png: bool) -> Result<Vec<Drawn>, OutputError> {
    let named = |name: &str, e: OutputError| match e {
        OutputError::Drawing { reason, .. } => OutputError::Drawing {
            name: name.to_string(),
            reason,
        },
        other => other,
    };
    picture_names(result)
        .into_par_iter()
        .map(|name| {
            let svg = draw_one(name, result, units)?;
            let png = match png {
                true => Some(svg_to_png(&svg).map_err(|e| named(name, e))?),
                false => None,
            };
            Ok((name, svg, png))
        })
        .collect()
}

/// Writes one file under a hidden name, flushes it and renames it.
///
/// # Errors
/// [`OutputError::File`]; nothing is left behind.
pub fn write_file(path: &Path, bytes: &[u8]) -> Result<(), OutputError> {
    write_together(&[(path.to_path_buf(), bytes.to_vec())])
}

/// Writes files that belong together: all of them, or none where one cannot be written.
///
/// # Errors
/// [`OutputError::File`]; nothing is left half written.
pub fn write_together(files: &[(PathBuf, Vec<u8>)]) -> Result<(), OutputError> {
    let mut begun = Begun(Vec::with_capacity(files.len()));
    for (path, bytes) in files {
        let beside = hidden(path);
        begun.0.push(beside.clone());
        put(&beside, bytes).map_err(OutputError::at("write", path))?;
    }
    for (path, _) in files {
        fs::rename(hidden(path), path).map_err(OutputError::at("rename to", path))?;
    }
    // The names themselves reach the disk with their folder. Not every file system can do this.
    let dir = files.first().and_then(|(path, _)| path.parent());
    if let Some(Ok(folder)) = dir.map(File::open) {
        let _ = folder.sync_all();
    }
    Ok(())
}

/// Hidden files of this process; whatever of them is still there at the end is removed.
struct Begun(Vec<PathBuf>);

impl Drop for Begun {
    fn drop(&mut self) {
        for path in &self.0 {
            // Gone when it was renamed.
            let _ = fs::remove_file(path);
        }
    }
}

/// Where a file is written before it is put in place.
pub fn hidden(path: &Path) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}.tmp-{}", std::process::id()))
}

fn put(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = File::create(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}
