//! A small crate outside the repository: some modules of the library and the tests that need no others, as one test program.

use crate::sites::{Site, rewrite};
use anyhow::{Context, Result, bail};
use std::collections::{BTreeMap, HashSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

pub struct Scratch {
    pub dir: PathBuf,
    pub sites: Vec<Site>,
}

/// Every `.rs` below, in order, relative to `root`.
pub fn sources(root: &Path, below: &str) -> Result<Vec<String>> {
    let mut found = Vec::new();
    let at = root.join(below);
    for entry in fs::read_dir(&at).with_context(|| at.display().to_string())? {
        let path = entry?.path();
        let name = path.strip_prefix(root)?.to_string_lossy().into_owned();
        if path.is_dir() {
            found.extend(sources(root, &name)?);
        } else {
            found.push(name);
        }
    }
    found.sort();
    Ok(found)
}

fn write(path: &Path, text: &str) -> Result<()> {
    if fs::read_to_string(path).is_ok_and(|old| old == text) {
        return Ok(());
    }
    fs::create_dir_all(path.parent().context("no folder")?)?;
    fs::write(path, text).with_context(|| path.display().to_string())
}

/// Whether all that a test file uses of the library is among `modules`.
fn within(text: &str, modules: &[&str]) -> bool {
    text.split("emberloop::").skip(1).all(|rest| {
        let name: String = rest
            .chars()
            .take_while(|c| c.is_alphanumeric() || *c == '_')
            .collect();
        modules.contains(&name.as_str())
    }) && !text.contains("CARGO_BIN_EXE")
}

/// The test files as modules of the crate.
fn tests(repo: &Path, dir: &Path, modules: &[&str], wanted: &[String]) -> Result<String> {
    let mut root = String::new();
    let mut support = String::new();
    for file in sources(repo, "tests/support")? {
        let text = fs::read_to_string(repo.join(&file))?;
        let stem = Path::new(&file)
            .file_stem()
            .context("no name")?
            .to_string_lossy();
        if stem != "mod" && within(&text, modules) {
            write(&dir.join("src/support").join(format!("{stem}.rs")), &text)?;
            support += &format!("pub mod {stem};\n");
        }
    }
    write(&dir.join("src/support/mod.rs"), &support)?;
    let mut areas = String::new();
    for file in sources(repo, "tests")? {
        let text = fs::read_to_string(repo.join(&file))?;
        let parts: Vec<_> = file.trim_end_matches(".rs").split('/').collect();
        if !within(&text, modules) {
            continue;
        }
        match parts[..] {
            ["tests", name] if wanted.iter().any(|w| name.starts_with(w.as_str())) => {
                write(&dir.join(format!("src/{name}.rs")), &text)?;
                root += &format!("#[cfg(test)]\nmod {name};\n");
            }
            ["tests", "validation", name] if name != "main" => {
                // What leans on a part that is left out stays out too.
                let leans = text.split("support::").skip(1).any(|rest| {
                    let stem: String = rest.chars().take_while(|c| c.is_alphanumeric()).collect();
                    !support.contains(&format!("mod {stem};"))
                });
                if leans || text.contains("super::sampled") {
                    continue;
                }
                write(&dir.join(format!("src/validation/{name}.rs")), &text)?;
                areas += &format!("pub mod {name};\n");
                if text.contains("pub fn rows()") {
                    areas += &format!(
                        "#[test]\nfn {name}_holds() {{ check::hold(&{name}::rows()); }}\n"
                    );
                }
            }
            _ => {}
        }
    }
    write(&dir.join("src/validation/mod.rs"), &areas)?;
    Ok(root + "#[cfg(test)]\nmod support;\n#[cfg(test)]\nmod validation;\n")
}

/// The manifest without targets and benchmarks; the package keeps its name for the tests' sake.
fn manifest(repo: &Path) -> Result<String> {
    let text = fs::read_to_string(repo.join("Cargo.toml"))?;
    let kept: BTreeMap<_, _> = text
        .split("\n[")
        .filter_map(|part| {
            part.split_once(']')
                .map(|(name, body)| (name.trim_start_matches('['), body))
        })
        .filter(|(name, _)| {
            name.ends_with("dependencies")
                || matches!(
                    *name,
                    "features" | "profile.dev" | "profile.test" | "profile.dev.package.\"*\""
                )
        })
        .collect();
    let mut out = String::from(
        "[package]\nname = \"emberloop\"\nversion = \"0.0.0\"\nedition = \"2024\"\n\n[workspace]\n",
    );
    for (name, body) in kept {
        out += &format!("\n[{name}]{body}\n");
    }
    Ok(out)
}

impl Scratch {
    /// `switched`: every mutant of `target` built in; else the sources as they are.
    pub fn lay(
        repo: &Path,
        dir: &Path,
        target: &str,
        modules: &[&str],
        wanted: &[String],
        switched: bool,
        barred: &HashSet<(String, usize)>,
    ) -> Result<Self> {
        let mut sites = Vec::new();
        for module in modules {
            for file in sources(repo, &format!("src/{module}"))? {
                let text = fs::read_to_string(repo.join(&file)).unwrap_or_default();
                let new =
                    if *module == target && file.ends_with(".rs") && !file.ends_with("tests.rs") {
                        rewrite(&file, &text, barred, &mut sites)?
                    } else {
                        text.clone()
                    };
                write(&dir.join(&file), if switched { &new } else { &text })?;
            }
        }
        let mut root =
            String::from("#![allow(warnings)]\nextern crate self as emberloop;\npub mod mutant;\n");
        for module in modules {
            root += &format!("pub mod {module};\n");
        }
        root += &tests(repo, dir, modules, wanted)?;
        write(&dir.join("src/lib.rs"), &root)?;
        write(&dir.join("src/mutant.rs"), include_str!("mutant.rs"))?;
        write(&dir.join("Cargo.toml"), &manifest(repo)?)?;
        if !dir.join("Cargo.lock").exists() {
            fs::copy(repo.join("Cargo.lock"), dir.join("Cargo.lock"))?;
        }
        Ok(Self {
            dir: dir.to_owned(),
            sites,
        })
    }

    /// The test program, or what the compiler says.
    pub fn build(&self, optimise: u8) -> Result<std::result::Result<PathBuf, String>> {
        let out = Command::new("cargo")
            .args([
                "test",
                "--offline",
                "--lib",
                "--no-run",
                "--message-format=short",
            ])
            .env("CARGO_PROFILE_TEST_OPT_LEVEL", optimise.to_string())
            .env("CARGO_INCREMENTAL", "1")
            .current_dir(&self.dir)
            .output()?;
        let said = String::from_utf8_lossy(&out.stderr).into_owned();
        if !out.status.success() {
            return Ok(Err(said));
        }
        let Some(path) = said.rsplit_once('(').and_then(|(_, p)| p.split_once(')')) else {
            bail!("no test program named in: {said}");
        };
        Ok(Ok(self.dir.join(path.0)))
    }
}
