//! The two streams: results to standard output, everything else to standard error.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::ffi::OsStr;
use std::io::{self, IsTerminal, Write};

use super::args::{ColorWhen, Common};
use super::error::CliError;

/// How much goes to standard error.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verbosity {
    /// Errors only.
    Quiet,
    Normal,
    Verbose,
}

/// Where to write, in which colours, and how much.
#[derive(Debug, Clone, Copy)]
pub struct Console {
    pub color_out: bool,
    pub color_err: bool,
    pub verbosity: Verbosity,
}

impl Console {
    /// From the options and the environment.
    pub fn new(common: &Common) -> Self {
        let env = |name| std::env::var_os(name);
        let color = |terminal| {
            wants_color(
                common.color,
                env("NO_COLOR").as_deref(),
                env("TERM").as_deref(),
                terminal,
            )
        };
        Self {
            color_out: color(io::stdout().is_terminal()),
            color_err: color(io::stderr().is_terminal()),
            verbosity: match (common.quiet, common.verbose) {
                (true, _) => Verbosity::Quiet,
                (_, true) => Verbosity::Verbose,
                _ => Verbosity::Normal,
            },
        }
    }

    /// Columns of the terminal under standard output; 100 where there is none.
    pub fn width(&self) -> usize {
        match terminal_size::terminal_size_of(io::stdout()) {
            Some((terminal_size::Width(columns), _)) => usize::from(columns).clamp(40, 140),
            None => 100,
        }
    }

    /// Writes a result; a missing final line end is added.
    pub fn result(&self, text: &str) -> Result<(), CliError> {
        let mut out = io::stdout().lock();
        let line_end: &[u8] = if text.ends_with('\n') { b"" } else { b"\n" };
        out.write_all(text.as_bytes())
            .and_then(|()| out.write_all(line_end))
            .and_then(|()| out.flush())
            .map_err(|e| match e.kind() {
                io::ErrorKind::BrokenPipe => CliError::PipeClosed,
                _ => CliError::Stdout(e),
            })
    }

    /// A remark, unless quiet.
    pub fn note(&self, text: &str) {
        if self.verbosity >= Verbosity::Normal {
            say(text);
        }
    }

    /// A detail, only when verbose.
    pub fn detail(&self, text: &str) {
        if self.verbosity >= Verbosity::Verbose {
            say(text);
        }
    }

    /// An error, always.
    pub fn error(&self, error: &CliError) {
        let label = self.paint_err("1;31", "error:");
        say(&format!("{label} {error}"));
        if let Some(hint) = error.hint() {
            let label = self.paint_err("1;36", "hint:");
            say(&format!("{label} {hint}"));
        }
    }

    /// Text that is complete as it stands, e.g. rendered problems.
    pub fn message(&self, text: &str) {
        say(text.trim_end_matches('\n'));
    }

    /// A bar that shows the share of the burn that is done; invisible where nobody watches.
    pub fn progress(&self) -> ProgressBar {
        if self.verbosity == Verbosity::Quiet || !io::stderr().is_terminal() {
            return ProgressBar::hidden();
        }
        let bar = ProgressBar::with_draw_target(Some(1000), ProgressDrawTarget::stderr_with_hz(10));
        if let Ok(style) = ProgressStyle::with_template("{bar:30} {percent:>3} %  {msg}") {
            bar.set_style(style);
        }
        bar
    }

    /// A bar that counts up to `most` and tells the rate and the time left; invisible where nobody watches.
    pub fn counter(&self, most: u64, what: &str) -> ProgressBar {
        if self.verbosity == Verbosity::Quiet || !io::stderr().is_terminal() {
            return ProgressBar::hidden();
        }
        let bar = ProgressBar::with_draw_target(Some(most), ProgressDrawTarget::stderr_with_hz(10));
        let template = format!("{{bar:30}} {{pos}} of {{len}} {what}, {{per_sec}}, {{eta}} left");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style);
        }
        bar
    }

    /// A count without an end that is known; invisible where nobody watches.
    pub fn spinner(&self, what: &str) -> ProgressBar {
        if self.verbosity == Verbosity::Quiet || !io::stderr().is_terminal() {
            return ProgressBar::hidden();
        }
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr_with_hz(10));
        let template = format!("{{spinner}} {{pos}} {what}, {{per_sec}}, {{elapsed}}");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style);
        }
        bar
    }

    fn paint_err(&self, code: &str, text: &str) -> String {
        if self.color_err {
            format!("\x1b[{code}m{text}\x1b[0m")
        } else {
            text.to_owned()
        }
    }
}

/// A line on standard error. Nobody can be told where standard error itself is gone.
fn say(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// <https://no-color.org>: set to anything but nothing means no colour by default.
fn wants_color(
    when: ColorWhen,
    no_color: Option<&OsStr>,
    term: Option<&OsStr>,
    terminal: bool,
) -> bool {
    match when {
        ColorWhen::Always => true,
        ColorWhen::Never => false,
        ColorWhen::Auto => {
            terminal && no_color.is_none_or(OsStr::is_empty) && term.is_none_or(|t| t != "dumb")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(when: ColorWhen, no_color: Option<&str>, term: Option<&str>, terminal: bool) -> bool {
        wants_color(
            when,
            no_color.map(OsStr::new),
            term.map(OsStr::new),
            terminal,
        )
    }

    #[test]
    fn practice_color_follows_terminal_no_color_and_term() {
        // no-color.org
        use ColorWhen::{Always, Auto, Never};
        assert!(check(Auto, None, Some("xterm"), true));
        assert!(check(Auto, Some(""), None, true));
        assert!(!check(Auto, Some("1"), None, true));
        assert!(!check(Auto, None, Some("dumb"), true));
        assert!(!check(Auto, None, None, false));
        assert!(check(Always, Some("1"), Some("dumb"), false));
        assert!(!check(Never, None, None, true));
    }
}
