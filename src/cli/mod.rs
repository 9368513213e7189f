//! The command line: what was typed (`args`), what was meant (`plan`), one file per command.

mod args;
mod audit;
mod audit_args;
mod burn;
mod check;
mod compare;
mod compare_args;
mod completions;
mod console;
mod describe;
mod error;
mod explain;
mod fit;
mod fit_args;
mod goal;
mod hazard;
mod help;
mod new;
mod plan;
mod ports;
mod rehearsal;
mod schema;
mod season;
mod sensitivity;
mod size;
mod solve_args;
mod solve_help;
mod study_file;
mod sweep;
mod sweep_args;
mod trade;

use clap::{ColorChoice, CommandFactory, FromArgMatches};
use std::ffi::OsString;
use std::io::Write;

use args::{Cli, Command};
use console::Console;
use error::{CliError, exit};
use plan::ScenarioPlan;

/// Runs the program on a whole command line, its own name first; returns the exit code.
pub fn run(words: impl IntoIterator<Item = OsString>) -> u8 {
    let words: Vec<OsString> = words.into_iter().collect();
    let parsed = Cli::command()
        .color(color_of_messages(&words))
        .try_get_matches_from(&words)
        .and_then(|matches| Cli::from_arg_matches(&matches));
    let cli = match parsed {
        Ok(cli) => cli,
        Err(error) => return show_grammar(&error),
    };
    let console = Console::new(&cli.common);
    match dispatch(&console, cli.command) {
        Ok(()) => exit::OK,
        Err(CliError::PipeClosed) => exit::OK,
        Err(error) => {
            console.error(&error);
            error.exit_code()
        }
    }
}

fn dispatch(console: &Console, command: Command) -> Result<(), CliError> {
    match command {
        Command::Burn(args) => burn::run(console, &ScenarioPlan::burn(&args)?),
        Command::Audit(args) => audit::run(console, &args),
        Command::Compare(args) => compare::run(console, &args),
        Command::Fit(args) => fit::run(console, &args),
        Command::Check(args) => check::run(console, &ScenarioPlan::check(&args)?),
        Command::Size(args) => size::run(console, &args),
        Command::Trade(args) => trade::run(console, &args),
        Command::Sensitivity(args) => sensitivity::run(console, &args),
        Command::Hazard(args) => hazard::run(console, &args),
        Command::Season(args) => season::run(console, &args),
        Command::New(args) => new::run(console, &args),
        Command::Sweep(args) => sweep::run(console, &args),
        Command::Gather(args) => sweep::gather(console, &args),
        Command::Schema => schema::run(console),
        Command::Explain(args) => explain::run(console, &args),
        Command::Completions(args) => completions::run(console, &args),
    }
}

/// Help and version go to standard output and are no error; the rest is a bad command line.
fn show_grammar(error: &clap::Error) -> u8 {
    let shown = error.print().and_then(|()| std::io::stdout().flush());
    match (error.use_stderr(), shown) {
        (true, _) => exit::USAGE,
        (false, Err(e)) if e.kind() != std::io::ErrorKind::BrokenPipe => exit::INPUT_OUTPUT,
        (false, _) => exit::OK,
    }
}

/// Colour of help and grammar errors, which are shown before the options are known. `Auto` looks at the
/// terminal and at NO_COLOR by itself.
fn color_of_messages(words: &[OsString]) -> ColorChoice {
    let mut choice = ColorChoice::Auto;
    for (i, word) in words.iter().enumerate() {
        let value = match word.to_str() {
            Some("--") => break,
            Some("--color") => words.get(i + 1).and_then(|w| w.to_str()),
            Some(word) => word.strip_prefix("--color="),
            None => None,
        };
        match value {
            Some("always") => choice = ColorChoice::Always,
            Some("never") => choice = ColorChoice::Never,
            _ => {}
        }
    }
    choice
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn behaves_the_grammar_is_consistent() {
        Cli::command().debug_assert();
    }
}
