//! Which changes of a module would no test notice? See DEVELOPERS.md, "How to test the tests".
//!
//! `cargo run --release --manifest-path scripts/mutate/Cargo.toml -- correlations`

mod scratch;
mod sites;

use anyhow::{Context, Result, bail};
use scratch::Scratch;
use sites::{Kind, Site};
use std::collections::{BTreeMap, HashSet};
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const HELP: &str =
    "mutate MODULE [--sample N] [--constants N] [--seed S] [--tests PREFIX,...] [--again]

MODULE       correlations, properties or components
--sample     so many of the switched mutants, drawn (all when left out)
--constants  so many mutants of constants and tables, drawn; each needs a build (60 when left out)
--again      only what the last run missed";

struct Wish {
    target: String,
    sample: usize,
    constants: usize,
    seed: u64,
    tests: Vec<String>,
    again: bool,
}

fn wish() -> Result<Wish> {
    let mut args = std::env::args().skip(1);
    let mut wish = Wish {
        target: args.next().context(HELP)?,
        sample: usize::MAX,
        constants: 60,
        seed: 1,
        tests: Vec::new(),
        again: false,
    };
    while let Some(arg) = args.next() {
        if arg == "--again" {
            wish.again = true;
            continue;
        }
        let value = args.next().context(HELP)?;
        match arg.as_str() {
            "--sample" => wish.sample = value.parse()?,
            "--constants" => wish.constants = value.parse()?,
            "--seed" => wish.seed = value.parse()?,
            "--tests" => wish.tests = value.split(',').map(str::to_owned).collect(),
            _ => bail!("{HELP}"),
        }
    }
    Ok(wish)
}

/// Whether the tests fail; a run that does not end counts as failed.
fn fails(program: &Path, dir: &Path, id: usize, limit: Duration) -> Result<bool> {
    let mut child = Command::new(program)
        // The readers of text are tried with thousands of texts, and know nothing of physics.
        .args(["--test-threads=1", "--skip=units::"])
        .env("MUTANT", id.to_string())
        .env("CARGO_MANIFEST_DIR", dir)
        .current_dir(dir)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()?;
    let start = Instant::now();
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok(!status.success());
        }
        if start.elapsed() > limit {
            child.kill()?;
            child.wait()?;
            return Ok(true);
        }
        std::thread::sleep(Duration::from_millis(5));
    }
}

/// Builds, and leaves out what does not compile, until it does.
fn switched(repo: &Path, dir: &Path, wish: &Wish, modules: &[&str]) -> Result<(Scratch, PathBuf)> {
    let mut barred = HashSet::new();
    for _ in 0..12 {
        let scratch = Scratch::lay(repo, dir, &wish.target, modules, &wish.tests, true, &barred)?;
        let said = match scratch.build(1)? {
            Ok(program) => {
                println!(
                    "{} lines left as they are: their mutants do not compile",
                    barred.len()
                );
                return Ok((scratch, program));
            }
            Err(said) => said,
        };
        let before = barred.len();
        for line in said.lines().filter(|l| l.contains("error")) {
            let mut parts = line.split(':');
            if let (Some(file), Some(at)) = (parts.next(), parts.next())
                && let Ok(at) = at.parse::<usize>()
                && file.starts_with(&format!("src/{}/", wish.target))
            {
                barred.insert((file.to_owned(), at));
            }
        }
        if barred.len() == before {
            bail!("the scratch crate does not build:\n{said}");
        }
    }
    bail!("the scratch crate does not build")
}

#[derive(Default)]
struct Tally(BTreeMap<(String, Kind), (usize, usize)>, String);

impl Tally {
    fn add(&mut self, site: &Site, caught: bool) {
        let kind = if site.constant.is_some() {
            "constants"
        } else {
            site.file.as_str()
        };
        let entry = self.0.entry((kind.to_owned(), site.kind)).or_default();
        entry.1 += 1;
        if caught {
            entry.0 += 1;
        } else {
            println!("missed {}", site.key());
            let _ = writeln!(self.1, "{}", site.key());
        }
    }

    fn table(&self) -> String {
        let mut by_file: BTreeMap<&str, [(usize, usize); 4]> = BTreeMap::new();
        let mut all = [(0, 0); 4];
        for ((file, kind), (caught, of)) in &self.0 {
            for sums in [by_file.entry(file).or_default(), &mut all] {
                let sum = &mut sums[*kind as usize];
                *sum = (sum.0 + caught, sum.1 + of);
            }
        }
        let mut out = format!(
            "{:44} {:>12} {:>12} {:>12} {:>12}\n",
            "caught of tried", "parts", "numbers", "conditions", "bounds"
        );
        for (file, sums) in by_file.into_iter().chain([("all", all)]) {
            let _ = write!(out, "{file:44}");
            for (caught, of) in sums {
                let _ = write!(out, " {:>12}", format!("{caught}/{of}"));
            }
            let (caught, of) = sums.iter().fold((0, 0), |a, b| (a.0 + b.0, a.1 + b.1));
            let _ = writeln!(out, "  {:.1} %", 100.0 * caught as f64 / of.max(1) as f64);
        }
        out
    }
}

fn main() -> Result<()> {
    let mut wish = wish()?;
    let repo = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .canonicalize()?;
    let (modules, tests): (&[&str], &[&str]) = match wish.target.as_str() {
        "correlations" => (
            &["units", "properties", "correlations", "components"],
            &["correlations", "properties"],
        ),
        "properties" => (
            &["units", "properties", "correlations", "components"],
            &["properties", "correlations"],
        ),
        "components" => (
            &[
                "units",
                "properties",
                "correlations",
                "components",
                "integrate",
                "results",
                "network",
                "scenario",
            ],
            &["network", "correlations_closed"],
        ),
        _ => bail!("{HELP}"),
    };
    if wish.tests.is_empty() {
        wish.tests = tests.iter().map(|t| (*t).to_owned()).collect();
    }
    let home = std::env::temp_dir().join("emberloop-mutants");
    let dir = home.join(&wish.target);
    let list = home.join(format!("{}-missed.txt", wish.target));
    let again: HashSet<String> = match wish.again {
        true => fs::read_to_string(&list)?
            .lines()
            .map(str::to_owned)
            .collect(),
        false => HashSet::new(),
    };
    let (scratch, program) = switched(&repo, &dir, &wish, modules)?;
    let start = Instant::now();
    if fails(&program, &scratch.dir, 0, Duration::from_secs(600))? {
        bail!("the tests fail as they are: {}", program.display());
    }
    let whole = start.elapsed();
    println!("{} mutants, tests take {whole:.1?}", scratch.sites.len());
    let limit = whole * 5 + Duration::from_secs(10);

    let mut random = fastrand::Rng::with_seed(wish.seed);
    let (mut constants, mut runs): (Vec<usize>, Vec<usize>) =
        (0..scratch.sites.len()).partition(|i| scratch.sites[*i].constant.is_some());
    println!("of these {} of constants", constants.len());
    for (ids, n) in [(&mut runs, wish.sample), (&mut constants, wish.constants)] {
        random.shuffle(ids);
        if wish.again {
            ids.retain(|i| again.contains(&scratch.sites[*i].key()));
        } else {
            ids.truncate(n);
        }
        ids.sort_unstable();
    }
    let mut tally = Tally::default();
    for i in runs {
        tally.add(
            &scratch.sites[i],
            fails(&program, &scratch.dir, i + 1, limit)?,
        );
    }
    if !constants.is_empty() {
        let dir = home.join(format!("{}-constants", wish.target));
        let plain = Scratch::lay(
            &repo,
            &dir,
            &wish.target,
            modules,
            &wish.tests,
            false,
            &HashSet::new(),
        )?;
        for i in constants {
            let site = &scratch.sites[i];
            let Some((at, new)) = &site.constant else {
                continue;
            };
            let path = plain.dir.join(&site.file);
            let text = fs::read_to_string(&path)?;
            fs::write(
                &path,
                format!("{}{new}{}", &text[..at.start], &text[at.end..]),
            )?;
            let built = plain.build(0);
            fs::write(&path, &text)?;
            // What does not compile is no mutant.
            if let Ok(program) = built? {
                tally.add(site, fails(&program, &plain.dir, usize::MAX, limit * 4)?);
            }
        }
    }
    fs::write(&list, &tally.1)?;
    println!("\n{}missed ones: {}", tally.table(), list.display());
    Ok(())
}
