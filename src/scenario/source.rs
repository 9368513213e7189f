//! The texts that a scenario is made of: the file, and the overrides of the command line.
//!
//! Both live in one string, so that a byte range alone says where a value came from.

use std::ops::Range;

/// Name under which overrides appear in messages.
const SET_NAME: &str = "--set";

/// One override as given: where its parts lie in the whole text.
#[derive(Debug, Clone)]
pub(super) struct SetSpan {
    pub path: Range<usize>,
    pub value: Range<usize>,
}

/// File text and overrides, one behind the other.
#[derive(Debug, Clone)]
pub struct Source {
    name: String,
    text: String,
    file_len: usize,
    sets: Vec<SetSpan>,
}

/// A place in a source as a person counts: lines and columns from 1, columns in characters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    pub file: String,
    pub line: usize,
    pub column: usize,
    /// Characters marked, at least 1, within the line.
    pub length: usize,
}

impl Source {
    /// Joins a file's text and its overrides.
    pub(super) fn new(name: &str, text: &str, overrides: &[(String, String)]) -> Self {
        let mut whole = text.to_owned();
        let mut sets = Vec::new();
        for (path, value) in overrides {
            whole.push_str("\n--set ");
            let p = whole.len()..whole.len() + path.len();
            whole.push_str(path);
            whole.push('=');
            let v = whole.len()..whole.len() + value.len();
            whole.push_str(value);
            sets.push(SetSpan { path: p, value: v });
        }
        Self {
            name: name.to_owned(),
            text: whole,
            file_len: text.len(),
            sets,
        }
    }

    /// Text of the file alone.
    pub(super) fn file(&self) -> &str {
        &self.text[..self.file_len]
    }

    pub(super) fn sets(&self) -> &[SetSpan] {
        &self.sets
    }

    /// The written text of a range.
    pub(super) fn slice(&self, span: &Range<usize>) -> &str {
        self.text.get(span.clone()).unwrap_or("")
    }

    /// The text that a range lies in (file, or overrides), its name and its offset in the whole.
    pub(super) fn part(&self, span: &Range<usize>) -> (&str, &str, usize) {
        if span.start > self.file_len && !self.sets.is_empty() {
            let from = self.file_len + 1;
            (SET_NAME, &self.text[from..], from)
        } else {
            (&self.name, self.file(), 0)
        }
    }

    /// Line and column of a range.
    pub(super) fn place(&self, span: &Range<usize>) -> Place {
        let (name, text, from) = self.part(span);
        let start = floor_boundary(text, span.start.saturating_sub(from));
        let end = floor_boundary(text, span.end.saturating_sub(from)).max(start);
        let line_start = text[..start].rfind('\n').map_or(0, |i| i + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |i| start + i);
        Place {
            file: name.to_owned(),
            line: text[..start].matches('\n').count() + 1,
            column: text[line_start..start].chars().count() + 1,
            length: text[start..end.min(line_end)].chars().count().max(1),
        }
    }
}

/// The largest character boundary not beyond `at`.
pub(super) fn floor_boundary(text: &str, at: usize) -> usize {
    let mut i = at.min(text.len());
    while !text.is_char_boundary(i) {
        i -= 1;
    }
    i
}
