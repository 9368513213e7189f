//! `schema`: the JSON Schema of scenario files.

use super::console::Console;
use super::error::CliError;
use super::ports;

pub fn run(console: &Console) -> Result<(), CliError> {
    console.result(&format!("{:#}", ports::schema()))
}
