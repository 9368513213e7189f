//! The two streams and the exit codes: closed pipes, full disks, missing and unreadable files, interruption.

mod cli_support;

use cli_support::{Bench, PROGRAM, bundled};
use std::process::{Command, Stdio};

#[test]
fn practice_a_reader_that_leaves_early_is_no_error() {
    for words in [
        &["completions", "bash"][..],
        &["schema"],
        &["new", "-"],
        &["--help"],
    ] {
        let mut child = Command::new(PROGRAM)
            .args(words)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("it ends");
        assert_eq!(output.status.code(), Some(0), "{words:?}");
        assert!(
            output.stderr.is_empty(),
            "{words:?}: {}",
            String::from_utf8_lossy(&output.stderr)
        );
    }
}

#[cfg(target_os = "linux")]
#[test]
fn practice_a_full_disk_under_standard_output_is_an_input_output_error() {
    for words in [&["completions", "bash"][..], &["schema"], &["new", "-"]] {
        let full = std::fs::OpenOptions::new()
            .write(true)
            .open("/dev/full")
            .expect("the device is there");
        let output = Command::new(PROGRAM)
            .args(words)
            .stdout(full)
            .output()
            .expect("the program starts");
        assert_eq!(output.status.code(), Some(6), "{words:?}");
        let stderr = String::from_utf8_lossy(&output.stderr);
        assert!(
            stderr.contains("cannot write to standard output"),
            "{words:?}: {stderr}"
        );
    }
}

#[test]
fn practice_a_missing_scenario_is_an_input_output_error_naming_the_file() {
    for command in ["burn", "check"] {
        let outcome = Bench::new().run(&[command, "absent.toml"]).expect_code(6);
        assert!(outcome.stdout.is_empty());
        assert!(outcome.stderr.contains("absent.toml"), "{}", outcome.stderr);
        assert_eq!(outcome.stderr.lines().count(), 1, "{}", outcome.stderr);
    }
}

#[test]
fn practice_a_folder_or_bytes_that_are_no_text_are_refused() {
    let bench = Bench::new();
    std::fs::create_dir(bench.path("folder.toml")).expect("a folder");
    bench.run(&["check", "folder.toml"]).expect_code(6);
    std::fs::write(bench.path("bytes.toml"), [0xff, 0xfe, 0x00, 0x80]).expect("a file");
    let outcome = bench.run(&["check", "bytes.toml"]);
    assert!([3, 6].contains(&outcome.code), "{}", outcome.stderr);
    assert!(outcome.stderr.contains("bytes.toml"), "{}", outcome.stderr);
}

#[test]
fn practice_results_that_cannot_be_written_are_an_input_output_error() {
    let bench = Bench::new();
    // a file stands where the folder should be
    bench.write("taken", "");
    let scenario = bundled("wash-up-barrel.toml");
    let scenario = scenario.to_str().expect("text");
    for words in [
        ["check", scenario, "--out", "taken"],
        ["burn", scenario, "--out", "taken"],
    ] {
        let outcome = bench.run(&words).expect_code(6);
        assert!(outcome.stderr.contains("taken"), "{}", outcome.stderr);
    }
}

#[cfg(unix)]
#[test]
fn practice_an_interrupted_run_leaves_no_half_file_and_no_success() {
    let bench = Bench::new();
    let scenario = bundled("wash-up-barrel.toml");
    let mut child = Command::new(PROGRAM)
        .current_dir(bench.dir.path())
        .args(["burn"])
        .arg(&scenario)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    std::thread::sleep(std::time::Duration::from_millis(15));
    let pid = child.id().to_string();
    let sent = Command::new("kill").args(["-INT", &pid]).status();
    assert!(sent.is_ok());
    let status = child.wait().expect("it ends");
    // Ended by the signal (a shell shows 130), or done before it came.
    use std::os::unix::process::ExitStatusExt;
    assert!(
        status.signal() == Some(2) || status.code() == Some(0),
        "{status:?}"
    );
    let dir = bench.path("results/wash-up-barrel");
    for entry in std::fs::read_dir(dir).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let text = std::fs::read(entry.path()).expect("readable");
        if name == "summary.json" {
            assert!(serde_json::from_slice::<serde_json::Value>(&text).is_ok());
        }
        if name.ends_with(".svg") {
            assert!(text.trim_ascii_end().ends_with(b"</svg>"), "{name}");
        }
    }
}
