//! `completions`: a completion script for a shell.

use clap::CommandFactory;

use super::args::{Cli, CompletionsArgs};
use super::console::Console;
use super::error::CliError;

pub fn run(console: &Console, args: &CompletionsArgs) -> Result<(), CliError> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "emberloop", &mut script);
    console.result(&String::from_utf8_lossy(&script))
}
