//! The command line: what was typed, what was meant, one file per command.
