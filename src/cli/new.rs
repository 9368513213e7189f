//! `new`: writes a commented starter scenario, or a bundled one.

use std::fs;
use std::io::{self, Write};

use super::args::NewArgs;
use super::console::Console;
use super::error::CliError;
use super::ports;

pub fn run(console: &Console, args: &NewArgs) -> Result<(), CliError> {
    let text = match &args.like {
        // Clap lets only names of the list through.
        Some(name) => ports::bundled(name).unwrap_or_else(ports::starter),
        None => ports::starter(),
    };
    if args.path.as_os_str() == "-" {
        return console.result(text);
    }
    let written = if args.force {
        ports::write_file(&args.path, text.as_bytes())
    } else {
        create_new(args, text.as_bytes())
    };
    written?;
    let path = args.path.display();
    console.note(&format!(
        "wrote {path}; next: `emberloop check {path}`, then `emberloop burn {path}`"
    ));
    Ok(())
}

/// Fails where the file exists, without a gap between looking and writing.
fn create_new(args: &NewArgs, bytes: &[u8]) -> Result<(), CliError> {
    let write = || {
        let mut file = fs::OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&args.path)?;
        file.write_all(bytes).inspect_err(|_| {
            // half a file is worse than none
            let _ = fs::remove_file(&args.path);
        })
    };
    write().map_err(|source| match source.kind() {
        io::ErrorKind::AlreadyExists => CliError::Usage {
            message: format!("`{}` exists already", args.path.display()),
            hint: Some("name another file, or replace it with --force".into()),
        },
        _ => CliError::Write {
            path: args.path.clone(),
            source,
        },
    })
}
