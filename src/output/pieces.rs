//! Finished pieces of a long run, one a line, so that one that was broken off goes on from there.

use super::error::OutputError;
use super::files::write_file;
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::fs::{self, File};
use std::io::Write;
use std::marker::PhantomData;
use std::path::{Path, PathBuf};

/// A table under way: its first line says what the pieces are of, each other one is a piece.
pub struct PieceJournal<T> {
    path: PathBuf,
    head: String,
    file: File,
    of: PhantomData<fn(T)>,
}

impl<T: Serialize + DeserializeOwned> PieceJournal<T> {
    /// Opens the table in a folder that exists, with the pieces that it holds under the same `head` line; those of another are
    /// dropped, and so is a line that was cut off.
    ///
    /// # Errors
    /// [`OutputError::File`]; what was there before is still there.
    pub fn open(path: &Path, head: &str) -> Result<(Self, Vec<T>), OutputError> {
        let old = fs::read_to_string(path).unwrap_or_default();
        let mut lines = old.lines();
        let known: Vec<T> = if lines.next() == Some(head) {
            lines.filter_map(|l| serde_json::from_str(l).ok()).collect()
        } else {
            Vec::new()
        };
        let file = begin(path, head, &known)?;
        let journal = Self {
            path: path.to_path_buf(),
            head: head.to_owned(),
            file,
            of: PhantomData,
        };
        Ok((journal, known))
    }

    /// One piece, in one write.
    ///
    /// # Errors
    /// [`OutputError::File`].
    pub fn add(&mut self, piece: &T) -> Result<(), OutputError> {
        let line = line(piece, &self.path)?;
        self.file
            .write_all(line.as_bytes())
            .map_err(OutputError::at("write", &self.path))
    }

    /// The run is whole: the pieces stay, in this order.
    ///
    /// # Errors
    /// [`OutputError::File`]; the pieces added are still there.
    pub fn keep(self, pieces: &[T]) -> Result<(), OutputError> {
        begin(&self.path, &self.head, pieces).map(drop)
    }

    /// The run is whole: the table has done its work.
    pub fn close(self) {
        // One that stays is of no harm: its pieces are those of the same run.
        let _ = fs::remove_file(&self.path);
    }
}

fn line<T: Serialize>(piece: &T, path: &Path) -> Result<String, OutputError> {
    serde_json::to_string(piece)
        .map(|text| text + "\n")
        .map_err(|e| OutputError::at("write", path)(std::io::Error::other(e)))
}

/// The table anew, put in place as a whole, and open for more.
fn begin<T: Serialize>(path: &Path, head: &str, pieces: &[T]) -> Result<File, OutputError> {
    let mut text = format!("{head}\n");
    for piece in pieces {
        text += &line(piece, path)?;
    }
    write_file(path, text.as_bytes())?;
    File::options()
        .append(true)
        .open(path)
        .map_err(OutputError::at("write", path))
}
