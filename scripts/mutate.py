#!/usr/bin/env python3
"""Changes one operator or number at a time in src/correlations or src/properties and looks whether a test notices.

    scripts/mutate.py correlations [mutants, 150] [seed, 1] [--all]

Two thirds of the mutants swap an operator (* and /, + and -), a third moves a number by a tenth. They are drawn with the seed
and tried in a small crate of these two modules with the tests that need nothing else (a second or two each): what is missed
here may still be caught by tests of whole burns. --all lists the caught ones too. Needs what `cargo test` needs.
"""
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

REPO = Path(__file__).resolve().parent.parent
MODULES = ["correlations", "properties"]
# Tables of the validation page that need no other module; the rest needs rigs.
TABLES = "gas draught radiation convection water evaporation identities materials boiling".split()
SKIP = ("use ", "#", "pub fn", "fn ", "impl", "pub struct", "pub enum", "const fn", "pub mod", "mod ")
OPERATOR = re.compile(r" ([*/+-]) ")
NUMBER = re.compile(r"(?<![\w.])(\d[\d_]*\.\d[\d_]*(e-?\d+)?|\d[\d_]*e-?\d+)(?![\w.])")
SWAP = {"*": "/", "/": "*", "+": "-", "-": "+"}


def sites(module):
    """Operators and numbers of a module outside its tests: file, line, place, what stands there instead."""
    found = {"operator": [], "number": []}
    for path in sorted((REPO / "src" / module).rglob("*.rs")):
        for i, line in enumerate(path.read_text().split("\n")):
            if "#[cfg(test)]" in line:
                break
            code = line.split("//")[0]
            if not code.strip() or code.strip().startswith(SKIP) or '"' in code or "'" in code:
                continue
            for m in OPERATOR.finditer(code):
                found["operator"].append((path, i, m.span(1), SWAP[m[1]]))
            for m in NUMBER.finditer(code):
                value = float(m[1].replace("_", ""))
                if value:
                    found["number"].append((path, i, m.span(1), repr(1.1 * value)))
    return found


def crate(root):
    """The small crate: both modules, and their tests as two binaries."""
    for module in MODULES:
        shutil.copytree(REPO / "src" / module, root / "src" / module)
    modules = "".join(f"pub mod {m};\n" for m in MODULES)
    (root / "src/lib.rs").write_text(f"//! Two modules.\n{modules}")
    shutil.copy(REPO / "Cargo.lock", root)
    (root / "Cargo.toml").write_text(
        '[package]\nname = "emberloop"\nversion = "0.1.0"\nedition = "2024"\n[dependencies]\nseuif97 = "2.3"\nthiserror = "2"\n'
        "[profile.dev]\ndebug = 0\n[profile.dev.package.\"*\"]\nopt-level = 2\n"
    )
    own = root / "tests/own"
    own.mkdir(parents=True)
    names = []
    for path in sorted((REPO / "tests").glob("*.rs")):
        if path.stem.startswith(("correlations_", "properties_")):
            shutil.copy(path, own)
            names.append(path.stem)
    (own / "main.rs").write_text("".join(f"mod {n};\n" for n in names))
    tables = root / "tests/tables"
    tables.mkdir()
    for name in ["check", *TABLES]:
        shutil.copy(REPO / "tests/validation" / f"{name}.rs", tables)
    tests = "".join(f"#[test]\nfn {n}_holds() {{ check::hold(&{n}::rows()); }}\n" for n in TABLES)
    mods = "".join(f"mod {n};\n" for n in ["check", *TABLES])
    (tables / "main.rs").write_text(f"#![allow(dead_code)]\n{mods}{tests}")


def run(root):
    command = ["cargo", "test", "-q", "--lib", "--tests"]
    target = {**os.environ, "CARGO_TARGET_DIR": str(root / "target")}
    try:
        done = subprocess.run(command, cwd=root, env=target, capture_output=True, text=True, timeout=600)
    except subprocess.TimeoutExpired:
        return "caught"
    if not done.returncode:
        return "missed"
    return "does not build" if "could not compile" in done.stdout + done.stderr else "caught"


def main():
    words = [w for w in sys.argv[1:] if w != "--all"]
    if not words or words[0] not in MODULES:
        sys.exit(__doc__)
    count, seed = (int(words[1]) if words[1:] else 150), (int(words[2]) if words[2:] else 1)
    random.seed(seed)
    found = sites(words[0])
    wanted = {"operator": 2 * count // 3, "number": count // 3}
    drawn = [(kind, s) for kind, all_ in found.items() for s in random.sample(all_, min(len(all_), wanted[kind]))]
    random.shuffle(drawn)
    tally = {}
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        crate(root)
        if run(root) != "missed":
            sys.exit("the unchanged crate does not pass its tests")
        for kind, (path, i, (a, b), new) in drawn:
            text = path.read_text()
            lines = text.split("\n")
            old = lines[i]
            lines[i] = old[:a] + new + old[b:]
            copy = root / path.relative_to(REPO)
            copy.write_text("\n".join(lines))
            verdict = run(root)
            copy.write_text(text)
            tally[kind, verdict] = tally.get((kind, verdict), 0) + 1
            if verdict != "caught" or "--all" in sys.argv:
                print(f"{verdict}: {path.relative_to(REPO)}:{i + 1}: {old.strip()} | {old[a:b]} -> {new}", flush=True)
    for kind in found:
        caught, missed = tally.get((kind, "caught"), 0), tally.get((kind, "missed"), 0)
        print(f"{kind}s: {caught} of {caught + missed} caught")


main()
