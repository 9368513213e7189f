//! Helpers of the command-line tests: the program in a fresh folder, its exit code and its two streams.

#![allow(dead_code)] // each test file uses its own part

use assert_cmd::Command;
use std::path::PathBuf;
use tempfile::TempDir;

/// The program as cargo built it.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_emberloop");

/// A bundled scenario by its file name.
pub fn bundled(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios")
        .join(name)
}

/// What one run came to.
pub struct Outcome {
    pub code: i32,
    pub stdout: String,
    pub stderr: String,
}

impl Outcome {
    /// Standard output as JSON.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.stdout).expect("standard output is JSON")
    }

    /// Fails unless the exit code is this; shows what was said.
    #[track_caller]
    pub fn expect_code(self, code: i32) -> Self {
        assert_eq!(
            self.code, code,
            "\nstdout:\n{}\nstderr:\n{}",
            self.stdout, self.stderr
        );
        self
    }
}

/// A folder of its own, thrown away at the end, and runs of the program in it.
pub struct Bench {
    pub dir: TempDir,
}

impl Bench {
    pub fn new() -> Self {
        Self {
            dir: tempfile::tempdir().expect("a temporary folder"),
        }
    }

    /// The program in this folder, without the colour settings of whoever runs the tests.
    pub fn command(&self, words: &[&str]) -> Command {
        let mut command = Command::new(PROGRAM);
        command
            .current_dir(self.dir.path())
            .env_remove("NO_COLOR")
            .env_remove("CLICOLOR_FORCE")
            .args(words);
        command
    }

    pub fn run(&self, words: &[&str]) -> Outcome {
        outcome(&mut self.command(words))
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.dir.path().join(name)
    }

    pub fn write(&self, name: &str, text: &str) {
        std::fs::write(self.path(name), text).expect("the folder is writable");
    }

    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).expect("the file is there")
    }
}

pub fn outcome(command: &mut Command) -> Outcome {
    let output = command.output().expect("the program starts");
    Outcome {
        code: output.status.code().expect("it exits by itself"),
        stdout: String::from_utf8(output.stdout).expect("text"),
        stderr: String::from_utf8(output.stderr).expect("text"),
    }
}
