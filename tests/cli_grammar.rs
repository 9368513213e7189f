//! The command line itself: help, version, wrong words, colour, completions.

mod cli_support;

use cli_support::{Bench, outcome};

const COMMANDS: [&str; 9] = [
    "burn",
    "check",
    "size",
    "trade",
    "sensitivity",
    "new",
    "schema",
    "explain",
    "completions",
];

#[test]
fn practice_help_lists_every_command_and_goes_to_standard_output() {
    for flag in ["--help", "-h", "help"] {
        let help = Bench::new().run(&[flag]).expect_code(0);
        for command in COMMANDS {
            assert!(help.stdout.contains(command), "{flag}: {command}");
        }
        assert!(help.stderr.is_empty());
    }
}

#[test]
fn practice_long_help_tells_examples_exit_codes_environment_and_cautions() {
    let help = Bench::new().run(&["--help"]).expect_code(0).stdout;
    for word in [
        "Examples:",
        "Exit codes:",
        "NO_COLOR",
        "Cautions:",
        "130",
        "Local codes",
    ] {
        assert!(help.contains(word), "{word}");
    }
}

#[test]
fn practice_every_command_explains_itself_with_an_example() {
    for command in COMMANDS {
        let help = Bench::new().run(&[command, "--help"]).expect_code(0);
        assert!(help.stdout.contains("Example"), "{command}");
        assert!(
            help.stdout.contains(&format!("emberloop {command}")),
            "{command}"
        );
        assert!(help.stdout.contains("Usage:"), "{command}");
    }
}

#[test]
fn practice_help_fits_a_terminal() {
    for command in COMMANDS {
        let help = Bench::new().run(&[command, "--help"]).expect_code(0);
        for line in help.stdout.lines() {
            assert!(line.chars().count() <= 120, "{command}: {line}");
        }
    }
}

#[test]
fn practice_the_version_is_that_of_the_package() {
    let version = Bench::new().run(&["--version"]).expect_code(0);
    assert_eq!(
        version.stdout,
        format!("emberloop {}\n", env!("CARGO_PKG_VERSION"))
    );
}

#[test]
fn practice_a_wrong_command_line_ends_with_2_and_says_so_on_standard_error() {
    let cases: [&[&str]; 14] = [
        &[],
        &["brun"],
        &["burn"],
        &["burn", "a.toml", "b.toml"],
        &["burn", "a.toml", "--frobnicate"],
        &["burn", "a.toml", "--units", "imperial"],
        &["burn", "a.toml", "--set"],
        &["burn", "a.toml", "--set", "fuel.moisture"],
        &["burn", "a.toml", "--set", "=3"],
        &["burn", "a.toml", "--set", "fuel.moisture="],
        &["burn", "a.toml", "--out", ""],
        &["check", "a.toml", "-q", "-v"],
        &["explain"],
        &["completions", "tcsh"],
    ];
    for words in cases {
        let outcome = Bench::new().run(words).expect_code(2);
        assert!(outcome.stdout.is_empty(), "{words:?}");
        assert!(!outcome.stderr.is_empty(), "{words:?}");
    }
}

#[test]
fn practice_a_misspelt_command_or_option_gets_a_suggestion() {
    let outcome = Bench::new().run(&["brun", "a.toml"]).expect_code(2);
    assert!(outcome.stderr.contains("burn"), "{}", outcome.stderr);
    let outcome = Bench::new()
        .run(&["burn", "a.toml", "--unit", "us"])
        .expect_code(2);
    assert!(outcome.stderr.contains("--units"), "{}", outcome.stderr);
}

/// A number below zero is told what it may be, not how to pass a word that begins with a dash.
#[test]
fn practice_a_negative_number_is_told_what_is_allowed() {
    for (allowed, words) in [
        ("0, or 8 to 65536", &["burn", "x.toml", "--bands", "-3"][..]),
        ("2..=5000", &["season", "x.toml", "--burns", "-3"]),
        ("8..=4096", &["fit", "x.toml", "y.csv", "--bands", "-3"]),
    ] {
        let wrong = Bench::new().run(words).expect_code(2);
        assert!(wrong.stderr.contains(allowed), "{}", wrong.stderr);
        assert!(
            wrong.stderr.contains("invalid value '-3'"),
            "{}",
            wrong.stderr
        );
        assert!(!wrong.stderr.contains("-- -3"), "{}", wrong.stderr);
    }
}

#[test]
fn practice_an_override_without_equals_sign_is_shown_how_to_write() {
    let outcome = Bench::new()
        .run(&["burn", "a.toml", "--set", "fuel.moisture"])
        .expect_code(2);
    assert!(outcome.stderr.contains("hint:"), "{}", outcome.stderr);
    assert!(
        outcome.stderr.contains("fuel.moisture=25 %"),
        "{}",
        outcome.stderr
    );
}

#[test]
fn practice_color_obeys_option_and_no_color() {
    // no-color.org; off a terminal there is no colour unless asked for
    let bench = Bench::new();
    let escape = '\x1b';
    for words in [
        &["explain", "nothing"][..],
        &["burn", "a.toml", "--unknown"],
        &["--help"],
    ] {
        let plain = outcome(&mut bench.command(words));
        assert!(
            !plain.stderr.contains(escape) && !plain.stdout.contains(escape),
            "{words:?}"
        );

        let mut always = bench.command(&["--color", "always"]);
        let always = outcome(always.args(words).env("NO_COLOR", "1"));
        assert!(
            always.stderr.contains(escape) || always.stdout.contains(escape),
            "{words:?}"
        );

        let mut never = bench.command(&["--color=never"]);
        let never = outcome(never.args(words).env("CLICOLOR_FORCE", "1"));
        assert!(
            !never.stderr.contains(escape) && !never.stdout.contains(escape),
            "{words:?}"
        );
    }
}

#[test]
fn practice_completions_are_written_for_every_shell() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = Bench::new().run(&["completions", shell]).expect_code(0);
        assert!(script.stderr.is_empty());
        for word in ["burn", "explain"] {
            assert!(script.stdout.contains(word), "{shell}: {word}");
        }
    }
}
