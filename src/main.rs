//! The `emberloop` program: parses the command line and calls the library.

fn main() -> std::process::ExitCode {
    emberloop::cli::run(std::env::args_os()).into()
}
