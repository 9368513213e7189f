//! Problems found in a scenario: what, where, what is allowed instead.

use super::codes::Code;
use super::source::{Place, Source, floor_boundary};
use annotate_snippets::renderer::{AnsiColor, Effects};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use std::fmt;
use std::ops::Range;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Severity {
    /// Refuses the scenario.
    Error,
    /// Worth knowing; the scenario loads.
    Note,
}

/// One finding.
#[derive(Debug, Clone)]
pub struct Diagnostic {
    /// `E0102`; `emberloop explain` says more.
    pub code: &'static str,
    pub severity: Severity,
    pub message: String,
    /// Where.
    pub place: Place,
    /// Words at the caret.
    pub label: String,
    /// A second place, where two contradict each other.
    pub secondary: Option<(Place, String)>,
    /// What to do.
    pub help: Option<String>,
    span: Range<usize>,
    secondary_span: Option<Range<usize>>,
}

/// All findings of one pass over a scenario, in the order of the file.
#[derive(Debug, Clone)]
pub struct Diagnostics {
    source: Source,
    items: Vec<Diagnostic>,
}

impl Diagnostics {
    pub(super) fn new(source: Source) -> Self {
        Self {
            source,
            items: Vec::new(),
        }
    }

    pub(super) fn source(&self) -> &Source {
        &self.source
    }

    /// The findings.
    pub fn items(&self) -> &[Diagnostic] {
        &self.items
    }

    /// True where at least one finding refuses the scenario.
    pub fn has_errors(&self) -> bool {
        self.items.iter().any(|d| d.severity == Severity::Error)
    }

    /// Number of findings that refuse.
    pub fn errors(&self) -> usize {
        self.items
            .iter()
            .filter(|d| d.severity == Severity::Error)
            .count()
    }

    pub(super) fn push(&mut self, report: Report) {
        // The same text may be met on two ways through the checks.
        let again = self.items.iter().any(|d| {
            d.code == report.code.id && d.span == report.span && d.message == report.message
        });
        if again {
            return;
        }
        let severity = if report.code.id.starts_with('N') {
            Severity::Note
        } else {
            Severity::Error
        };
        self.items.push(Diagnostic {
            code: report.code.id,
            severity,
            message: report.message,
            place: self.source.place(&report.span),
            label: report.label,
            secondary: report
                .secondary
                .as_ref()
                .map(|(s, l)| (self.source.place(s), l.clone())),
            help: report.help,
            span: report.span,
            secondary_span: report.secondary.map(|(s, _)| s),
        });
    }

    /// Sorts by place: errors of the file from top to bottom, then those of overrides.
    pub(super) fn sort(&mut self) {
        self.items.sort_by_key(|d| (d.span.start, d.span.end));
    }

    /// Takes the notes out.
    pub(super) fn take_notes(&mut self) -> Diagnostics {
        let (notes, rest) = std::mem::take(&mut self.items)
            .into_iter()
            .partition(|d| d.severity == Severity::Note);
        self.items = rest;
        Diagnostics {
            source: self.source.clone(),
            items: notes,
        }
    }

    /// Puts other findings of the same source in.
    pub(super) fn absorb(&mut self, other: Diagnostics) {
        self.items.extend(other.items);
        self.sort();
    }

    /// The findings as text for a terminal, with carets; `color` adds ANSI colours.
    pub fn render(&self, color: bool) -> String {
        let renderer = if color {
            let help = AnsiColor::BrightGreen.on_default().effects(Effects::BOLD);
            Renderer::styled().help(help)
        } else {
            Renderer::plain()
        };
        let mut out = String::new();
        for d in &self.items {
            out.push_str(&renderer.render(&self.groups(d)));
            out.push_str("\n\n");
        }
        let errors = self.errors();
        let notes = self.items.len() - errors;
        let count = |n: usize, what: &str| match n {
            0 => None,
            1 => Some(format!("1 {what}")),
            n => Some(format!("{n} {what}s")),
        };
        let counts: Vec<String> = [count(errors, "error"), count(notes, "note")]
            .into_iter()
            .flatten()
            .collect();
        if !counts.is_empty() {
            out.push_str(&counts.join(", "));
            out.push('\n');
        }
        out
    }

    fn groups<'a>(&'a self, d: &'a Diagnostic) -> Vec<Group<'a>> {
        let level = match d.severity {
            Severity::Error => Level::ERROR,
            Severity::Note => Level::NOTE,
        };
        let (name, text, from) = self.source.part(&d.span);
        let local = |s: &Range<usize>| {
            let start = floor_boundary(text, s.start.saturating_sub(from));
            let end = floor_boundary(text, s.end.saturating_sub(from)).max(start);
            start..end
        };
        let mut snippet = Snippet::source(text)
            .path(name)
            .annotation(AnnotationKind::Primary.span(local(&d.span)).label(&d.label));
        let mut other = None;
        if let (Some(span), Some((_, label))) = (&d.secondary_span, &d.secondary) {
            let (name2, text2, from2) = self.source.part(span);
            if from2 == from {
                snippet =
                    snippet.annotation(AnnotationKind::Context.span(local(span)).label(label));
            } else {
                let start = floor_boundary(text2, span.start.saturating_sub(from2));
                let end = floor_boundary(text2, span.end.saturating_sub(from2)).max(start);
                other = Some(
                    Snippet::source(text2)
                        .path(name2)
                        .annotation(AnnotationKind::Context.span(start..end).label(label)),
                );
            }
        }
        let mut group = level
            .primary_title(d.message.as_str())
            .id(d.code)
            .element(snippet);
        if let Some(other) = other {
            group = group.element(other);
        }
        if let Some(help) = &d.help {
            group = group.element(Level::HELP.message(help.as_str()));
        }
        vec![group]
    }

    /// The findings for machines: a list of objects with code, severity, message, place, help.
    pub fn to_json(&self) -> serde_json::Value {
        let place = |p: &Place| {
            serde_json::json!({
                "file": p.file, "line": p.line, "column": p.column, "length": p.length,
            })
        };
        self.items
            .iter()
            .map(|d| {
                serde_json::json!({
                    "code": d.code,
                    "severity": match d.severity { Severity::Error => "error", Severity::Note => "note" },
                    "message": d.message,
                    "place": place(&d.place),
                    "label": d.label,
                    "secondary": d.secondary.as_ref().map(|(p, l)| serde_json::json!({ "place": place(p), "label": l })),
                    "help": d.help,
                })
            })
            .collect()
    }
}

impl fmt::Display for Diagnostics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(false))
    }
}

impl std::error::Error for Diagnostics {}

/// A finding under construction.
#[derive(Debug)]
pub(super) struct Report {
    code: &'static Code,
    span: Range<usize>,
    message: String,
    label: String,
    secondary: Option<(Range<usize>, String)>,
    help: Option<String>,
}

impl Report {
    /// A finding at a place.
    pub fn new(code: &'static Code, span: &Range<usize>, message: impl Into<String>) -> Self {
        Self {
            code,
            span: span.clone(),
            message: message.into(),
            label: String::new(),
            secondary: None,
            help: None,
        }
    }

    /// Words at the caret.
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// A second place.
    pub fn also(mut self, span: &Range<usize>, label: impl Into<String>) -> Self {
        self.secondary = Some((span.clone(), label.into()));
        self
    }

    /// What to do.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// The nearest of some names, if one is near enough to be meant.
pub(super) fn nearest<'a>(
    name: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    if name.chars().count() > 80 {
        return None;
    }
    let plain = |s: &str| s.to_lowercase().replace(['-', ' '], "_");
    let wanted = plain(name);
    candidates
        .into_iter()
        .filter_map(|c| {
            let have = plain(c);
            let d = strsim::damerau_levenshtein(&wanted, &have);
            let allowed = (have.chars().count().max(wanted.chars().count()) / 3).max(1);
            let begins = wanted.len() >= 3
                && have.len() >= 3
                && (have.starts_with(&wanted) || wanted.starts_with(&have));
            match (d <= allowed, begins) {
                (true, _) => Some((2 * d, c)),
                (false, true) => Some((3, c)),
                (false, false) => None,
            }
        })
        .min_by_key(|&(d, _)| d)
        .map(|(_, c)| c)
}
