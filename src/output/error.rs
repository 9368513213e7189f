//! What can go wrong when results are written or drawn.

use std::io;
use std::path::{Path, PathBuf};

/// A file that could not be written, or a picture that could not be drawn.
#[derive(Debug, thiserror::Error)]
pub enum OutputError {
    /// The folder or file cannot be written: full disk, read-only place, missing right.
    #[error("cannot {action} `{}`: {source}", path.display())]
    File {
        /// What was tried: "create the folder", "write", "rename".
        action: &'static str,
        path: PathBuf,
        source: io::Error,
    },
    /// A table could not be put into text.
    #[error("cannot write the table for `{}`: {reason}", path.display())]
    Table { path: PathBuf, reason: String },
    /// A folder that holds something else must not be written to.
    #[error("`{}` holds {what}", path.display())]
    OtherStudy { path: PathBuf, what: String },
    /// A figure that no summary has.
    #[error("there is no figure `{name}`; did you mean {near}?")]
    NoSuchFigure { name: String, near: String },
    /// Two runs must not write the same table.
    #[error("another run is writing `{}`", path.display())]
    Busy { path: PathBuf },
    /// The picture has no such name, or this run does not have it.
    #[error("this run has no picture `{name}`; it has: {have}")]
    NoSuchPicture { name: String, have: String },
    /// The drawing library refused.
    #[error("cannot draw `{name}`: {reason}")]
    Drawing { name: String, reason: String },
}

impl OutputError {
    /// What an error of the system at `path` becomes, for `map_err`.
    pub(super) fn at(action: &'static str, path: &Path) -> impl Fn(io::Error) -> Self {
        move |source| Self::File {
            action,
            path: path.to_path_buf(),
            source,
        }
    }

    /// Exit code of the program for this error: 6, input or output.
    pub fn exit_code(&self) -> i32 {
        6
    }
}
