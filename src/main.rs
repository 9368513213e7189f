//! The `emberloop` program: parses the command line and calls the library.

fn main() {}
