#!/usr/bin/env python3
"""Changes one place of src/correlations, src/properties or src/components at a time and looks whether a test notices.

    scripts/mutate.py MODULE[/FILE] [mutants, 150] [seed, 1] [--all] [--kinds operator,factor,number] [--again OUTPUT]

A third of the mutants swap an operator (* and /, + and -), a third delete a factor or a term, a third move a number by a tenth.
They are drawn with the seed and tried in a small crate of these modules with the tests that need nothing else (a few seconds
each): what is missed here may still be caught by tests of whole burns. --all lists the caught ones too; --again tries only the
ones that an earlier run with the same arguments printed as missed. Needs what `cargo test` needs.
"""
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

REPO = Path(__file__).resolve().parent.parent
KINDS = ["operator", "factor", "number"]
# Modules of the crate, its dependencies, and the first words of its tests' names.
CRATES = {
    "correlations": (["correlations", "properties"], ("correlations_", "properties_")),
    "properties": (["correlations", "properties"], ("correlations_", "properties_")),
    "components": (["correlations", "properties", "components", "integrate"], ("components_", "network_parts", "network_tube")),
}
DEPENDENCIES = """[dependencies]
seuif97 = "2.3"
thiserror = "2"
serde = { version = "1", features = ["derive"] }
serde_json = { version = "1", features = ["float_roundtrip", "preserve_order"] }
statrs = { version = "0.18.0", default-features = false }
multiversion = "0.9"
"""
# Tables of the validation page that need no other module; the rest needs rigs.
TABLES = "gas draught radiation convection water evaporation identities materials boiling".split()
PARTS_TABLES = ["fuel", "flow"]
SKIP = ("use ", "#", "pub fn", "fn ", "impl", "pub struct", "pub enum", "const fn", "pub mod", "mod ", "where")
OPERATOR = re.compile(r" ([*/+-]) ")
FUSED = re.compile(r"\.mul_add\(")
NUMBER = re.compile(r"(?<![\w.])(\d[\d_]*\.\d[\d_]*(e-?\d+)?|\d[\d_]*e-?\d+)(?![\w.])")
SWAP = {"*": "/", "/": "*", "+": "-", "-": "+"}
NO_OPERAND = {"if", "match", "else", "return", "in", "let", "mut", "dyn", "impl", "as"}


def blanked(text):
    """The code before its unit tests, with comments and strings as spaces of the same length."""
    text = text.split("#[cfg(test)]")[0]
    hide = re.compile(r"//[^\n]*|\"(?:\\.|[^\"\\])*\"|'(?:\\.|[^'\\])'", re.S)
    return hide.sub(lambda m: re.sub(r"[^\n]", " ", m[0]), text)


def close(code, i):
    """The place after the bracket that closes the one at i."""
    depth = 0
    for j in range(i, len(code)):
        depth += (code[j] in "([{") - (code[j] in ")]}")
        if depth == 0:
            return j + 1
    return None


def opened(code, j):
    """The place of the bracket that the one before j closes."""
    depth = 0
    for i in range(j - 1, -1, -1):
        depth += (code[i] in ")]}") - (code[i] in "([{")
        if depth == 0:
            return i
    return None


def after(code, i):
    """End of the operand that begins at i, or nothing if it is none we can cut out."""
    while code[i] in "-*&!":
        i += 1
    if code[i] in "([":
        i = close(code, i)
    else:
        m = NUMBER.match(code, i) or re.compile(r"\w+").match(code, i)
        if not m or m[0] in NO_OPERAND:
            return None
        i = m.end()
    post = re.compile(r"(\s*\.(?!\.)\w+|::\w+|::<[^>]*>|\?| as \w+)")
    while i is not None:
        if code[i] in "([":
            i = close(code, i)
        elif m := post.match(code, i):
            i = m.end()
        else:
            return i
    return None


def before(code, j):
    """Start of the operand that ends at j, or nothing."""
    while True:
        while code[j - 1] == "?":
            j -= 1
        if code[j - 1] in ")]":
            j = opened(code, j)
            if j is None:
                return None
            if not (code[j - 1].isalnum() or code[j - 1] in "_)]?"):
                break
            continue
        tail = code[max(0, j - 60) : j]
        m = re.search(r"(?<![\w.])\d[\d_.]*(e-?\d+)?$", tail) or re.search(r"\w+$", tail)
        if not m or m[0] in NO_OPERAND:
            return None
        j -= len(m[0])
        if code[j - 2 : j] == "::":
            j -= 2
        elif code[j - 1] == "." and code[j - 2] != ".":
            j = len(code[: j - 1].rstrip())
        elif code[j - 4 : j] == " as ":
            j -= 4
        else:
            break
    while code[j - 1] in "-*&!":
        j -= 1
    return j


def chain(code, place, signs, step):
    """From an operand's edge over further operands joined by the signs: a whole product."""
    while place is not None:
        m = re.compile(rf"\s+[{signs}]\s+").match(code, place) if step > 0 else re.search(rf"\s+[{signs}]\s+$", code[max(0, place - 60) : place])
        if not m:
            return place
        place = after(code, m.end()) if step > 0 else before(code, place - len(m[0]))
    return None


def deletions(code, m):
    """What leaves out one side of the operator: (start, end, what stands there instead)."""
    sign, product = m[1], m[1] in "*/"
    right, left = after(code, m.end()), before(code, len(code[: m.start()].rstrip()))
    if not product:
        right, left = chain(code, right, "*/%", 1) if right else None, chain(code, left, "*/%", -1) if left else None
    if right:
        yield len(code[: m.start()].rstrip()), right, ""
    more = r"\s+[*/%]\s+$" if product else r"\s+[+-]\s+$"
    if left is not None and not re.search(more, code[max(0, left - 60) : left]):
        new = {"/": "1.0 / ", "-": "-"}.get(sign, "")
        if new != code[left : m.end()]:
            yield left, m.end(), new


def fused(code, m):
    """What changes a product and sum in one, `x.mul_add(y, z)`: (kind, start, end, what stands there instead)."""
    left, stop = before(code, m.start()), close(code, m.end() - 1)
    if left is None or stop is None:
        return
    while code[left] in "-*&!":
        left += 1
    comma, depth = m.end(), 0
    while depth or code[comma] != ",":
        depth += (code[comma] in "([{") - (code[comma] in ")]}")
        comma += 1
    x, y = code[left : m.start()], code[m.end() : comma]
    z = code[comma + 1 : stop - 1].strip().rstrip(",")
    yield "factor", left, stop, f"(({y}) + ({z}))"
    yield "factor", left, stop, f"(({x}) + ({z}))"
    yield "term", left, stop, f"(({x}) * ({y}))"
    yield "term", left, stop, f"({z})"
    yield "operator", left, stop, f"(({x}) * ({y}) - ({z}))"


def sites(place):
    """What may be changed in a module outside its tests: file, start, end, what stands there instead."""
    found = {kind: set() for kind in KINDS}
    at = REPO / "src" / place
    for path in sorted(at.rglob("*.rs")) if at.is_dir() else [at.with_suffix(".rs")]:
        code = blanked(path.read_text())
        start = 0
        for line in code.split("\n"):
            end = start + len(line)
            if line.strip() and not line.strip().startswith(SKIP):
                for m in OPERATOR.finditer(code, start, end):
                    found["operator"].add((path, *m.span(1), SWAP[m[1]]))
                    found["factor"].update((path, *d) for d in deletions(code, m))
                for m in FUSED.finditer(code, start, end):
                    for kind, *d in fused(code, m):
                        if kind in found:
                            found[kind].add((path, *d))
                for m in NUMBER.finditer(code, start, end):
                    if float(m[1].replace("_", "")):
                        found["number"].add((path, *m.span(1), repr(1.1 * float(m[1].replace("_", "")))))
            start = end + 1
    return {kind: sorted(all_) for kind, all_ in found.items()}


def crate(root, module):
    """The small crate: the modules, and their tests as two binaries."""
    modules, prefixes = CRATES[module]
    for name in modules:
        shutil.copytree(REPO / "src" / name, root / "src" / name)
    (root / "src/lib.rs").write_text("//! A part.\n" + "".join(f"pub mod {m};\n" for m in modules))
    shutil.copy(REPO / "Cargo.lock", root)
    whole = module == "components"
    (root / "Cargo.toml").write_text(
        '[package]\nname = "emberloop"\nversion = "0.1.0"\nedition = "2024"\n'
        f"{DEPENDENCIES}[profile.dev]\ndebug = 0\nopt-level = {int(whole)}\n[profile.dev.package.\"*\"]\nopt-level = 2\n"
    )
    own = root / "tests/own"
    own.mkdir(parents=True)
    names = []
    for path in sorted((REPO / "tests").glob("*.rs")):
        if path.stem.startswith(prefixes):
            shutil.copy(path, own)
            names.append(path.stem)
            if "mod support" in path.read_text():
                shutil.copytree(REPO / "tests/support", own / path.stem / "support")
    (own / "main.rs").write_text("".join(f"mod {n};\n" for n in names))
    tables = root / "tests/tables"
    tables.mkdir()
    shutil.copytree(REPO / "tests/support", tables / "support")
    areas = TABLES + PARTS_TABLES * whole
    for name in ["check", *areas]:
        shutil.copy(REPO / "tests/validation" / f"{name}.rs", tables)
    tests = "".join(f"#[test]\nfn {n}_holds() {{ check::hold(&{n}::rows()); }}\n" for n in areas)
    mods = "".join(f"mod {n};\n" for n in ["check", *areas])
    support = "mod support { pub mod steam; " + "pub mod loops; " * whole + "}\n"
    (tables / "main.rs").write_text(f"#![allow(dead_code)]\n{support}{mods}{tests}")


def run(root, aloud=False):
    target = {**os.environ, "CARGO_TARGET_DIR": str(root / "target"), "RUSTFLAGS": "--cap-lints allow"}
    command = ["cargo", "test", "-q", "-j1", "--offline", "--lib", "--tests"]
    work = subprocess.Popen(
        command, cwd=root, env=target, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, start_new_session=True
    )
    try:
        said, _ = work.communicate(timeout=600 if aloud else 240)
    except subprocess.TimeoutExpired:
        # A loop that no longer ends; the tests are children of their own.
        os.killpg(work.pid, signal.SIGKILL)
        work.wait()
        return "caught"
    if not work.returncode:
        return "missed"
    if aloud:
        print(said)
    return "does not build" if "could not compile" in said else "caught"


def short(text):
    return re.sub(r"\s+", " ", text.strip()) or "nothing"


def command_line(known, usage):
    """Words, options and the module that the first word names; the usage where something else is asked for."""
    words, options, arguments = [], {}, iter(sys.argv[1:])
    for w in arguments:
        if w.startswith("--"):
            options[w] = True if w == "--all" else next(arguments, "")
        else:
            words.append(w)
    module = words[0].split("/")[0] if words else ""
    if module not in CRATES or not set(options) <= known:
        sys.exit(usage)
    return words, options, module


def main():
    words, options, module = command_line({"--all", "--kinds", "--again"}, __doc__)
    kinds = options.get("--kinds", ",".join(KINDS)).split(",")
    count, seed = (int(words[1]) if words[1:] else 150), (int(words[2]) if words[2:] else 1)
    drawn = []
    for kind, all_ in sites(words[0]).items():
        if kind in kinds:
            draw = random.Random(f"{seed} {kind}").sample(all_, min(len(all_), count // len(kinds)))
            drawn += [(kind, s) for s in draw]
    random.Random(seed).shuffle(drawn)
    missed_before = Path(options["--again"]).read_text() if "--again" in options else None
    tally = {}
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        crate(root, module)
        if run(root, True) != "missed":
            sys.exit("the unchanged crate does not pass its tests")
        for kind, (path, a, b, new) in drawn:
            text = path.read_text()
            line = text.count("\n", 0, a + len(text[a:b]) - len(text[a:b].lstrip())) + 1
            old = text.split("\n")[line - 1].strip()
            label = f"{path.relative_to(REPO)}:{line}: {old} | {short(text[a:b])} -> {short(new)}"
            if missed_before is not None and f"missed: {label}\n" not in missed_before:
                continue
            copy = root / path.relative_to(REPO)
            copy.write_text(text[:a] + new + text[b:])
            verdict = run(root)
            copy.write_text(text)
            tally[kind, verdict] = tally.get((kind, verdict), 0) + 1
            if verdict != "caught" or "--all" in options:
                print(f"{verdict}: {label}", flush=True)
    for kind in kinds:
        caught, missed = tally.get((kind, "caught"), 0), tally.get((kind, "missed"), 0)
        print(f"{kind}s: {caught} of {caught + missed} caught")


if __name__ == "__main__":
    main()
