//! Samples that are ready, one a line, so that a season that was broken off goes on from there.

use crate::output::error::OutputError;
use crate::results::SeasonSample;
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

const NAME: &str = "season-samples.partial.jsonl";

/// Lines under way: the first is the fingerprint of the season, each other one sample.
pub struct SampleJournal {
    path: PathBuf,
    file: File,
}

impl SampleJournal {
    /// Opens the journal in a folder that exists, with the samples that it holds of this season; those of another are dropped, and so is
    /// a line that was cut off.
    ///
    /// # Errors
    /// [`OutputError::File`].
    pub fn open(dir: &Path, fingerprint: &str) -> Result<(Self, Vec<SeasonSample>), OutputError> {
        let path = dir.join(NAME);
        let old = fs::read_to_string(&path).unwrap_or_default();
        let mut lines = old.lines();
        let known: Vec<SeasonSample> = if lines.next() == Some(fingerprint) {
            lines.filter_map(|l| serde_json::from_str(l).ok()).collect()
        } else {
            Vec::new()
        };
        let file = File::create(&path).map_err(OutputError::at("write", &path))?;
        let mut journal = Self { path, file };
        journal.line(fingerprint)?;
        for sample in &known {
            journal.add(sample)?;
        }
        Ok((journal, known))
    }

    fn line(&mut self, text: &str) -> Result<(), OutputError> {
        self.file
            .write_all(format!("{text}\n").as_bytes())
            .map_err(OutputError::at("write", &self.path))
    }

    /// One sample, in one write.
    ///
    /// # Errors
    /// [`OutputError::File`].
    pub fn add(&mut self, sample: &SeasonSample) -> Result<(), OutputError> {
        let text = serde_json::to_string(sample)
            .map_err(|e| OutputError::at("write", &self.path)(std::io::Error::other(e)))?;
        self.line(&text)
    }

    /// The season is whole: the journal has done its work.
    pub fn close(self) {
        // One that stays is of no harm: its samples are those of the same season.
        let _ = fs::remove_file(&self.path);
    }
}
