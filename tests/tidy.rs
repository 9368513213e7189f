//! House rules that the compiler does not check: who may import whom, how files open and how long they are,
//! what may not stand in the library, how tests are named, whether the contributor's guide is true.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

/// Each module of the library and what it may use of the others. Everything else is a wrong turn.
const MAY_IMPORT: [(&str, &[&str]); 15] = [
    ("units", &[]),
    ("integrate", &[]),
    ("properties", &["units"]),
    ("correlations", &["units"]),
    ("components", &["units", "properties", "correlations"]),
    (
        "network",
        &[
            "units",
            "properties",
            "correlations",
            "components",
            "integrate",
            "results", // the types of the ledger
        ],
    ),
    (
        "scenario",
        &["units", "properties", "components", "network"],
    ),
    ("results", &["units"]),
    ("logs", &["units"]),
    (
        "audit",
        &["units", "properties", "correlations", "logs", "results"],
    ),
    (
        "analyses",
        &[
            "scenario",
            "network",
            "integrate",
            "results",
            "components",
            "correlations",
            "properties", // limits, and the water's own figures
        ],
    ),
    (
        "compare",
        &[
            "units",
            "properties",
            "components",
            "scenario",
            "analyses",
            "audit",
            "results",
        ],
    ),
    (
        "fit",
        &[
            "units",
            "properties",
            "components",
            "scenario",
            "analyses",
            "logs",
            "results",
        ],
    ),
    ("output", &["results", "units"]),
    (
        "cli",
        &[
            "units",
            "integrate",
            "properties",
            "correlations",
            "components",
            "network",
            "scenario",
            "results",
            "analyses",
            "logs",
            "audit",
            "compare",
            "fit",
            "output",
        ],
    ),
];

const LONGEST_FILE: usize = 700;

const EVIDENCE: [&str; 5] = [
    "analytic_",
    "identity_",
    "published_",
    "practice_",
    "regress_",
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All Rust files under a folder of the package, with their text, paths relative to the package.
fn rust_files(folder: &str) -> Vec<(PathBuf, String)> {
    fn walk(dir: &Path, found: &mut Vec<PathBuf>) {
        let Ok(entries) = fs::read_dir(dir) else {
            return;
        };
        for entry in entries.flatten() {
            let path = entry.path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push(path);
            }
        }
    }
    let mut paths = Vec::new();
    walk(&root().join(folder), &mut paths);
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).expect("source files are readable text");
            let path = path.strip_prefix(root()).map(Path::to_path_buf);
            (path.expect("inside the package"), text)
        })
        .collect()
}

/// Lines of library code with their numbers: without comment lines and without what only tests compile.
fn library_lines<'a>(path: &Path, text: &'a str) -> Vec<(usize, &'a str)> {
    let of_tests = path.components().any(|c| c.as_os_str() == "tests")
        || path.file_stem().is_some_and(|s| s == "tests");
    if of_tests {
        return Vec::new();
    }
    let mut lines = Vec::new();
    let mut depth: Option<i32> = None; // inside an item under #[cfg(test)]
    for (i, line) in text.lines().enumerate() {
        let code = line.trim();
        if code.starts_with("#[cfg(test)]") {
            depth = Some(0);
            continue;
        }
        if let Some(open) = depth {
            let braces = |c| line.matches(c).count() as i32;
            let now = open + braces('{') - braces('}');
            let ended = now <= 0 && (open > 0 || line.contains('}') || code.ends_with(';'));
            depth = (!ended).then_some(now);
            continue;
        }
        if !code.starts_with("//") {
            lines.push((i + 1, line));
        }
    }
    lines
}

fn report(findings: &[String]) {
    let mut text = String::new();
    for finding in findings {
        let _ = writeln!(text, "  {finding}");
    }
    assert!(findings.is_empty(), "\n{text}");
}

/// Modules of ours that a line of code names.
fn imports(line: &str) -> impl Iterator<Item = &str> {
    line.match_indices("crate::").map(|(at, word)| {
        let rest = &line[at + word.len()..];
        let end = rest
            .find(|c: char| !c.is_alphanumeric() && c != '_')
            .unwrap_or(rest.len());
        &rest[..end]
    })
}

#[test]
fn practice_modules_import_only_what_the_layers_allow() {
    let names: BTreeSet<&str> = MAY_IMPORT.iter().map(|(name, _)| *name).collect();
    let mut findings = Vec::new();
    for (path, text) in rust_files("src") {
        let Some(module) = path.components().nth(1) else {
            continue;
        };
        let module = module.as_os_str().to_string_lossy();
        let module = module.trim_end_matches(".rs");
        let Some((_, allowed)) = MAY_IMPORT.iter().find(|(name, _)| *name == module) else {
            if !["lib", "main"].contains(&module) {
                findings.push(format!("{}: module unknown to this test", path.display()));
            }
            continue;
        };
        for (number, line) in library_lines(&path, &text) {
            for used in imports(line) {
                if used.is_empty() && line.contains("crate::{") {
                    findings.push(format!(
                        "{}:{number}: one `use crate::module` per line, please",
                        path.display()
                    ));
                }
                if names.contains(used) && used != module && !allowed.contains(&used) {
                    findings.push(format!(
                        "{}:{number}: `{module}` must not use `{used}`",
                        path.display()
                    ));
                }
            }
        }
    }
    report(&findings);
}

#[test]
fn practice_every_source_file_opens_with_its_purpose() {
    let mut findings = Vec::new();
    for (path, text) in ["src", "tests", "benches"].into_iter().flat_map(rust_files) {
        if !text.starts_with("//! ") {
            findings.push(format!("{}: opens without a `//!` line", path.display()));
        }
    }
    report(&findings);
}

#[test]
fn practice_no_source_file_is_too_long() {
    let mut findings = Vec::new();
    for (path, text) in ["src", "tests", "benches"].into_iter().flat_map(rust_files) {
        let lines = text.lines().count();
        if lines > LONGEST_FILE {
            findings.push(format!("{}: {lines} lines", path.display()));
        }
    }
    report(&findings);
}

#[test]
fn practice_the_library_does_not_panic_on_purpose() {
    const WORDS: [&str; 6] = [
        ".unwrap()",
        ".expect(",
        "panic!(",
        "todo!(",
        "unimplemented!(",
        "unreachable!(",
    ];
    let mut findings = Vec::new();
    for (path, text) in rust_files("src") {
        for (number, line) in library_lines(&path, &text) {
            if WORDS.iter().any(|w| line.contains(w)) && !line.contains("// invariant:") {
                findings.push(format!("{}:{number}: {}", path.display(), line.trim()));
            }
        }
    }
    report(&findings);
}

#[test]
fn practice_only_the_command_line_prints() {
    const WORDS: [&str; 5] = ["println!(", "eprintln!(", "print!(", "eprint!(", "dbg!("];
    let mut findings = Vec::new();
    for (path, text) in rust_files("src") {
        // `cli` prints too, but through its console, which copes with a closed pipe.
        for (number, line) in library_lines(&path, &text) {
            if WORDS.iter().any(|w| line.contains(w)) {
                findings.push(format!("{}:{number}: {}", path.display(), line.trim()));
            }
        }
    }
    report(&findings);
}

#[test]
fn practice_tests_say_what_evidence_they_rest_on() {
    let mut findings = Vec::new();
    for (path, text) in ["src", "tests"].into_iter().flat_map(rust_files) {
        let lines: Vec<&str> = text.lines().map(str::trim).collect();
        for (i, line) in lines.iter().enumerate() {
            // in two parts, so that this line is no finding itself
            if line.starts_with(concat!("#[", "ignore"))
                || line.contains(concat!("assert!(", "true)"))
            {
                findings.push(format!("{}:{}: {line}", path.display(), i + 1));
            }
            if *line != "#[test]" {
                continue;
            }
            let name = lines[i + 1..]
                .iter()
                .find_map(|l| l.strip_prefix("fn ").or(l.strip_prefix("pub fn ")))
                .unwrap_or("");
            // Beside the code stand also unit tests of what a user sees, which rest on no evidence from outside.
            let unit = path.starts_with("src") && name.starts_with("behaves_");
            if !unit && !EVIDENCE.iter().any(|prefix| name.starts_with(prefix)) {
                findings.push(format!("{}:{}: `{name}`", path.display(), i + 1));
            }
        }
    }
    report(&findings);
}

#[test]
fn practice_paths_named_in_the_guides_exist() {
    let mut findings = Vec::new();
    for guide in ["DEVELOPERS.md", "README.md"] {
        let text = match fs::read_to_string(root().join(guide)) {
            Ok(text) => text,
            Err(e) => {
                findings.push(format!("{guide}: {e}"));
                continue;
            }
        };
        for (number, line) in text.lines().enumerate() {
            for path in paths_in(line) {
                // what runs write is not kept
                let written = path.starts_with("results/") && !path.starts_with("results/sample");
                if !written && !root().join(path).exists() {
                    findings.push(format!("{guide}:{}: no `{path}`", number + 1));
                }
            }
        }
    }
    report(&findings);
}

/// Words in backticks and targets of links that look like paths of the package.
fn paths_in(line: &str) -> Vec<&str> {
    const TOP: [&str; 8] = [
        "src/",
        "tests/",
        "docs/",
        "scenarios/",
        "benches/",
        "scripts/",
        "results/",
        ".ci/",
    ];
    let code = line
        .split('`')
        .skip(1)
        .step_by(2)
        .flat_map(str::split_whitespace);
    let links = line
        .split("](")
        .skip(1)
        .filter_map(|rest| rest.split([')', '#']).next());
    code.chain(links)
        .map(|word| word.trim_end_matches([',', '.', ';', ':']))
        .filter(|word| {
            (TOP.iter().any(|top| word.starts_with(top))
                || (!word.contains('/')
                    && [".md", ".toml", ".lock"]
                        .iter()
                        .any(|end| word.ends_with(end))))
                && !word.contains(['*', '<', '{', '$'])
        })
        .collect()
}

#[test]
fn practice_no_machine_path_stands_in_the_package() {
    let words = [
        concat!("/wor", "k/"),
        concat!("/tm", "p/"),
        concat!("/roo", "t/"),
        concat!("/hom", "e/"),
    ];
    let mut findings = Vec::new();
    for (path, text) in ["src", "tests", "benches"].into_iter().flat_map(rust_files) {
        for (i, line) in text.lines().enumerate() {
            if words.iter().any(|w| line.contains(w)) {
                findings.push(format!("{}:{}: {}", path.display(), i + 1, line.trim()));
            }
        }
    }
    report(&findings);
}

#[test]
fn practice_the_rules_see_what_they_look_for() {
    let text = "fn a() {}\n#[cfg(test)]\nmod tests {\n  fn b() { x.unwrap() }\n}\nfn c() {}\n// d";
    let lines = library_lines(Path::new("src/x.rs"), text);
    assert_eq!(lines, [(1, "fn a() {}"), (6, "fn c() {}")]);
    let text = "#[cfg(test)]\nmod tests;\nfn c() {}";
    assert_eq!(
        library_lines(Path::new("src/x.rs"), text),
        [(3, "fn c() {}")]
    );
    assert!(library_lines(Path::new("src/x/tests.rs"), "fn a() {}").is_empty());

    let used: Vec<&str> = imports("use crate::units::Kind; // crate::output").collect();
    assert_eq!(used, ["units", "output"]);

    assert_eq!(
        paths_in("see `src/cli/plan.rs`, [the tanks](docs/model/tank.md#ports) and `a/b`"),
        ["src/cli/plan.rs", "docs/model/tank.md"]
    );
}
