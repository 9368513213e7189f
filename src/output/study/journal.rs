//! The durable record of a study: rows are appended to `runs.partial.csv` as they are ready, each in one write, and a study that was
//! broken off goes on from there. When all are there they are written in the order of the points beside `runs.csv`, which is then
//! put in place. Only places of rows are held in memory, eight bytes a point.

use super::record::{head_text, read_first, read_row, row_text};
use crate::output::error::OutputError;
use crate::output::files::hidden;
use crate::results::{StudyHead, StudyRow};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, BufRead, BufReader, BufWriter, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// The finished table.
pub const RUNS: &str = "runs.csv";
/// The table while rows are added.
pub const PARTIAL: &str = "runs.partial.csv";

/// What a folder holds of a study.
pub enum Record {
    /// All rows.
    Complete,
    /// Some or none yet.
    Open(Journal),
}

/// Rows under way.
pub struct Journal {
    dir: PathBuf,
    head: StudyHead,
    inner: Mutex<Inner>,
}

struct Inner {
    file: File,
    /// Behind the last whole row.
    end: u64,
    /// Where the row of each point of the part begins; 0: not there yet.
    places: Vec<u64>,
    broken: bool,
}

/// The first line of a table in a folder, if there is one.
pub fn first_line(path: &Path) -> Result<Option<String>, OutputError> {
    let file = match File::open(path) {
        Ok(file) => file,
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(e) => return Err(OutputError::at("read", path)(e)),
    };
    let mut line = Vec::new();
    // A head is short; a file of another kind may have no line end at all.
    BufReader::new(file)
        .take(10_000)
        .read_until(b'\n', &mut line)
        .map_err(OutputError::at("read", path))?;
    Ok(Some(String::from_utf8_lossy(&line).trim_end().to_owned()))
}

/// Refuses a table that belongs to another study or another part.
fn same_study(path: &Path, head: &StudyHead) -> Result<bool, OutputError> {
    let Some(line) = first_line(path)? else {
        return Ok(false);
    };
    if line.is_empty() {
        // Broken off before anything was written.
        return Ok(false);
    }
    let other = |what: String| {
        Err(OutputError::OtherStudy {
            path: path.to_path_buf(),
            what,
        })
    };
    match read_first(&line) {
        None => other("no table of a study".into()),
        Some((_, _, part)) if part != head.part => {
            other(format!("part {part} and not {}", head.part))
        }
        Some((fingerprint, points, _))
            if fingerprint != head.fingerprint || points != head.points =>
        {
            other(
                "another study, or the same with other values or another version of the program"
                    .into(),
            )
        }
        Some(_) => Ok(true),
    }
}

impl Record {
    /// Opens the record of a study in `dir`, which is made if need be.
    ///
    /// # Errors
    /// [`OutputError::OtherStudy`] where the folder holds another study, [`OutputError::Busy`] where another run is writing there,
    /// [`OutputError::File`].
    pub fn open(dir: &Path, head: &StudyHead) -> Result<Self, OutputError> {
        fs::create_dir_all(dir).map_err(OutputError::at("create the folder", dir))?;
        let path = dir.join(PARTIAL);
        if same_study(&dir.join(RUNS), head)? {
            // Left over where the program ended between putting the table in place and this.
            let _ = fs::remove_file(&path);
            return Ok(Self::Complete);
        }
        let known = same_study(&path, head)?;
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(&path)
            .map_err(OutputError::at("write", &path))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(OutputError::Busy { path }),
            // Not every file system can do this.
            Err(TryLockError::Error(_)) => {}
        }
        let range = head.part.range(head.points);
        let mut places = vec![0; (range.end - range.start) as usize];
        let mut end = 0;
        if known {
            end = index(&file, head, &mut places).map_err(OutputError::at("read", &path))?;
        }
        file.set_len(end).map_err(OutputError::at("write", &path))?;
        file.seek(SeekFrom::Start(end))
            .map_err(OutputError::at("write", &path))?;
        if end == 0 {
            let text = head_text(head);
            file.write_all(text.as_bytes())
                .map_err(OutputError::at("write", &path))?;
            end = text.len() as u64;
        }
        Ok(Self::Open(Journal {
            dir: dir.to_path_buf(),
            head: head.clone(),
            inner: Mutex::new(Inner {
                file,
                end,
                places,
                broken: false,
            }),
        }))
    }
}

/// Finds the rows in a table and where its last whole line ends.
fn index(file: &File, head: &StudyHead, places: &mut [u64]) -> io::Result<u64> {
    let first = head.part.range(head.points).start;
    let mut reader = BufReader::with_capacity(1 << 18, file);
    let (mut line, mut at, mut number) = (Vec::new(), 0u64, 0u64);
    loop {
        line.clear();
        let n = reader.read_until(b'\n', &mut line)?;
        if n == 0 || line.last() != Some(&b'\n') {
            // A torn line is written anew.
            break;
        }
        if number == 1
            && head_text(head)
                .split_once('\n')
                .map(|(_, columns)| columns.as_bytes())
                != Some(&line)
        {
            return Ok(0);
        }
        if number > 1
            && let Some(row) = read_row(&line, head.axes.len())
            && let Some(place) = row
                .point
                .checked_sub(first)
                .and_then(|i| places.get_mut(i as usize))
        {
            *place = at;
        }
        at += n as u64;
        number += 1;
    }
    // Without its column names there is nothing to go on from.
    Ok(if number < 2 { 0 } else { at })
}

impl Journal {
    /// Whether each point of the part is there, in order.
    pub fn done(&self) -> Vec<bool> {
        self.lock().places.iter().map(|&p| p > 0).collect()
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Adds a row; it is with the system when this returns.
    ///
    /// # Errors
    /// [`OutputError::File`]; rows added before are safe, and none is taken after.
    pub fn add(&self, row: &StudyRow) -> Result<(), OutputError> {
        let text = row_text(row);
        let first = self.head.part.range(self.head.points).start;
        let mut inner = self.lock();
        if inner.broken {
            // Another thread has told.
            return Ok(());
        }
        if let Err(e) = inner.file.write_all(text.as_bytes()) {
            inner.broken = true;
            let end = inner.end;
            // Half a row is cut off now, or when the study goes on.
            let _ = inner.file.set_len(end);
            return Err(OutputError::at("write", &self.dir.join(PARTIAL))(e));
        }
        let at = inner.end;
        inner.end += text.len() as u64;
        if let Some(place) = row
            .point
            .checked_sub(first)
            .and_then(|i| inner.places.get_mut(i as usize))
        {
            *place = at;
        }
        Ok(())
    }

    /// Writes the rows in order and puts the table in place.
    ///
    /// # Errors
    /// [`OutputError::File`]; the rows stay where they are.
    pub fn finish(self) -> Result<PathBuf, OutputError> {
        let path = self.dir.join(RUNS);
        let partial = self.dir.join(PARTIAL);
        let inner = self
            .inner
            .into_inner()
            .unwrap_or_else(PoisonError::into_inner);
        let write = |out: &mut BufWriter<File>| -> io::Result<()> {
            out.write_all(head_text(&self.head).as_bytes())?;
            let mut reader = BufReader::with_capacity(1 << 18, &inner.file);
            let mut at = reader.stream_position()?;
            let mut line = Vec::new();
            for &place in &inner.places {
                reader.seek_relative(place as i64 - at as i64)?;
                line.clear();
                at = place + reader.read_until(b'\n', &mut line)? as u64;
                out.write_all(&line)?;
            }
            Ok(())
        };
        put_in_place(&path, write)?;
        // What it held stands in the table now.
        let _ = fs::remove_file(&partial);
        Ok(path)
    }
}

/// Writes a file beside its place, flushes it to the disk and renames it; a failure leaves nothing.
pub fn put_in_place(
    path: &Path,
    write: impl FnOnce(&mut BufWriter<File>) -> io::Result<()>,
) -> Result<(), OutputError> {
    let beside = hidden(path);
    let all = || -> io::Result<()> {
        let mut out = BufWriter::with_capacity(1 << 18, File::create(&beside)?);
        write(&mut out)?;
        out.into_inner()
            .map_err(io::IntoInnerError::into_error)?
            .sync_all()?;
        fs::rename(&beside, path)
    };
    all().map_err(|e| {
        let _ = fs::remove_file(&beside);
        OutputError::at("write", path)(e)
    })
}
