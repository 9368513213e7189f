//! A finished table as Parquet: one column for each of the CSV's, numbers as numbers. Snappy compression, which needs no C library.

use super::table::each_row;
use crate::output::error::OutputError;
use crate::output::files::hidden;
use crate::results::figures::FIGURES;
use crate::results::{StudyHead, StudyRow};
use parquet::basic::{Compression, ConvertedType, LogicalType, Repetition, Type as Physical};
use parquet::data_type::{ByteArray, ByteArrayType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::Type;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The table for programs that read columns.
pub const PARQUET: &str = "runs.parquet";
/// Rows held at once.
const GROUP: usize = 8192;

/// What a column holds.
#[derive(Debug, Clone, Copy)]
enum Column {
    Point,
    /// Of an axis whose values are numbers.
    Number(usize),
    /// Of an axis of words.
    Word(usize),
    Status,
    Reason,
    Warnings,
    Figure(usize),
}

/// Writes the finished table of `dir` beside it; `numeric` tells of each axis whether its values are numbers.
///
/// # Errors
/// [`OutputError`]; a failure leaves nothing.
pub fn write(dir: &Path, head: &StudyHead, numeric: &[bool]) -> Result<PathBuf, OutputError> {
    let path = dir.join(PARQUET);
    let beside = hidden(&path);
    let done = write_to(&beside, dir, head, numeric)
        .and_then(|()| fs::rename(&beside, &path).map_err(OutputError::at("write", &path)));
    match done {
        Ok(()) => Ok(path),
        Err(e) => {
            let _ = fs::remove_file(&beside);
            Err(e)
        }
    }
}

fn columns(head: &StudyHead, numeric: &[bool]) -> Vec<(String, Column)> {
    let mut all = vec![("point".to_owned(), Column::Point)];
    for (i, axis) in head.axes.iter().enumerate() {
        let kind = if numeric.get(i) == Some(&true) {
            Column::Number(i)
        } else {
            Column::Word(i)
        };
        all.push((axis.heading(), kind));
    }
    for (name, kind) in [
        ("status", Column::Status),
        ("reason", Column::Reason),
        ("warnings", Column::Warnings),
    ] {
        all.push((name.to_owned(), kind));
    }
    let figures = FIGURES.iter().enumerate();
    all.extend(figures.map(|(i, f)| (f.key.to_owned(), Column::Figure(i))));
    all
}

fn schema(columns: &[(String, Column)]) -> Result<Arc<Type>, ParquetError> {
    let field = |(name, kind): &(String, Column)| {
        let (physical, repetition) = match kind {
            Column::Point => (Physical::INT64, Repetition::REQUIRED),
            Column::Number(_) => (Physical::DOUBLE, Repetition::REQUIRED),
            Column::Figure(_) => (Physical::DOUBLE, Repetition::OPTIONAL),
            _ => (Physical::BYTE_ARRAY, Repetition::REQUIRED),
        };
        let mut builder = Type::primitive_type_builder(name, physical).with_repetition(repetition);
        if physical == Physical::BYTE_ARRAY {
            builder = builder
                .with_logical_type(Some(LogicalType::String))
                .with_converted_type(ConvertedType::UTF8);
        }
        builder.build().map(Arc::new)
    };
    let fields = columns.iter().map(field).collect::<Result<_, _>>()?;
    Ok(Arc::new(
        Type::group_type_builder("runs")
            .with_fields(fields)
            .build()?,
    ))
}

fn write_to(to: &Path, dir: &Path, head: &StudyHead, numeric: &[bool]) -> Result<(), OutputError> {
    let path = dir.join(PARQUET);
    let file = File::create(to).map_err(OutputError::at("write", &path))?;
    let failed = |e: ParquetError| OutputError::Table {
        path: dir.join(PARQUET),
        reason: e.to_string(),
    };
    let columns = columns(head, numeric);
    let about = [
        ("emberloop.study", head.fingerprint.clone()),
        (
            "emberloop.units",
            "SI, as the column names say; axes in the unit of their heading".into(),
        ),
        (
            "emberloop.caution",
            "estimates, not a clearance to build or run".into(),
        ),
    ];
    let properties = WriterProperties::builder()
        .set_compression(Compression::SNAPPY)
        .set_created_by(format!("emberloop {}", env!("CARGO_PKG_VERSION")))
        .set_key_value_metadata(Some(
            about
                .map(|(key, value)| KeyValue::new(key.to_owned(), value))
                .to_vec(),
        ))
        .build();
    let schema = schema(&columns).map_err(failed)?;
    let mut writer =
        SerializedFileWriter::new(file, schema, Arc::new(properties)).map_err(failed)?;
    let mut rows: Vec<StudyRow> = Vec::with_capacity(GROUP);
    let mut broken = None;
    each_row(&dir.join(super::journal::RUNS), head.axes.len(), |row| {
        rows.push(row);
        if rows.len() == GROUP && broken.is_none() {
            broken = group(&mut writer, &columns, &rows).err();
            rows.clear();
        }
    })?;
    if !rows.is_empty() && broken.is_none() {
        broken = group(&mut writer, &columns, &rows).err();
    }
    if let Some(e) = broken {
        return Err(failed(e));
    }
    let file = writer.into_inner().map_err(failed)?;
    file.sync_all().map_err(OutputError::at("write", &path))
}

/// Writes rows, column by column.
fn group(
    writer: &mut SerializedFileWriter<File>,
    columns: &[(String, Column)],
    rows: &[StudyRow],
) -> Result<(), ParquetError> {
    let mut group = writer.next_row_group()?;
    for (_, column) in columns {
        match *column {
            Column::Point => {
                let points: Vec<i64> = rows.iter().map(|r| r.point as i64).collect();
                let Some(mut out) = group.next_column()? else {
                    break;
                };
                out.typed::<Int64Type>().write_batch(&points, None, None)?;
                out.close()?;
            }
            Column::Number(i) => {
                let of = |r: &StudyRow| r.labels.get(i).and_then(|l| l.parse().ok());
                let values: Vec<f64> = rows.iter().map(|r| of(r).unwrap_or(f64::NAN)).collect();
                numbers(&mut group, &values, None)?;
            }
            Column::Figure(i) => {
                let all = || rows.iter().map(|r| r.figures.get(i).copied().flatten());
                let there: Vec<i16> = all().map(|v| i16::from(v.is_some())).collect();
                let values: Vec<f64> = all().flatten().collect();
                numbers(&mut group, &values, Some(&there))?;
            }
            Column::Word(i) => words(&mut group, rows, |r| {
                r.labels.get(i).cloned().unwrap_or_default()
            })?,
            Column::Status => words(&mut group, rows, |r| r.status.word().to_owned())?,
            Column::Reason => words(&mut group, rows, |r| r.reason.clone())?,
            Column::Warnings => words(&mut group, rows, |r| r.warnings.join(" "))?,
        }
    }
    group.close()?;
    Ok(())
}

fn numbers(
    group: &mut SerializedRowGroupWriter<'_, File>,
    values: &[f64],
    there: Option<&[i16]>,
) -> Result<(), ParquetError> {
    if let Some(mut out) = group.next_column()? {
        out.typed::<DoubleType>().write_batch(values, there, None)?;
        out.close()?;
    }
    Ok(())
}

fn words(
    group: &mut SerializedRowGroupWriter<'_, File>,
    rows: &[StudyRow],
    of: impl Fn(&StudyRow) -> String,
) -> Result<(), ParquetError> {
    let values: Vec<ByteArray> = rows
        .iter()
        .map(|r| ByteArray::from(of(r).into_bytes()))
        .collect();
    if let Some(mut out) = group.next_column()? {
        out.typed::<ByteArrayType>()
            .write_batch(&values, None, None)?;
        out.close()?;
    }
    Ok(())
}
