#!/usr/bin/env python3
"""Tries every change that `mutate.py` knows, in one build.

    scripts/mutate_all.py MODULE[/FILE] [--kinds factor,term,operator,number] [--again OUTPUT] [--alone COUNT] [--all]

Each expression becomes a switch on the number of a change, read from the environment when a test begins; the small crate of
`mutate.py` is built once with all of them. A first look at each test alone tells which expressions it reaches and how long it
takes; a change is then tried with the tests that reach it, those first that found most in the same file. A test that takes
twenty times as long as before (and five seconds more) has noticed. Changes that cannot be a switch (constants, patterns) are
counted, and COUNT of them are tried as `mutate.py` does, the modules built anew for each. --again tries only what an earlier
output calls missed or untried; --all lists the caught ones with the test that noticed.
"""
import json
import os
import random
import re
import subprocess
import sys
import tempfile
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import mutate
from mutate import REPO, after, before, blanked, chain, close

KINDS = ["factor", "term", "operator", "number"]
COMPOUND = re.compile(r" ([*/+-])= ")
SWITCH = re.compile(r"\(match crate::mutant::at\((\d+)\) \{")
PART = """//! The switch.
use std::io::Write;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering::Relaxed};
static WANTED: AtomicU32 = AtomicU32::new(u32::MAX);
static SEEN: [AtomicBool; COUNT] = [const { AtomicBool::new(false) }; COUNT];
#[inline(always)]
pub fn at(first: u32) -> u32 {
    let wanted = WANTED.load(Relaxed);
    if wanted >= u32::MAX - 1 { begin(first) } else { wanted }
}
#[cold]
fn begin(first: u32) -> u32 {
    let Ok(file) = std::env::var("MUTANT_SEEN") else {
        let wanted = std::env::var("MUTANT").ok().and_then(|n| n.parse().ok()).unwrap_or(0);
        WANTED.store(wanted, Relaxed);
        return wanted;
    };
    if !SEEN[first as usize].swap(true, Relaxed) {
        let mut out = std::fs::OpenOptions::new().append(true).create(true).open(file).unwrap();
        out.write_all(format!("{first}\\n").as_bytes()).unwrap();
    }
    0
}
"""


class Change:
    """One change: where, what stands there instead, and what became of it."""

    def __init__(self, kind, path, a, b, new, text):
        self.kind, self.path, self.a, self.b, self.new = kind, path, a, b, new
        line = text.count("\n", 0, a + len(text[a:b]) - len(text[a:b].lstrip())) + 1
        old = text.split("\n")[line - 1].strip()
        self.label = f"{path.relative_to(REPO)}:{line}: {old} | {mutate.short(text[a:b])} -> {mutate.short(new)}"
        self.verdict, self.by, self.number = None, "", None


def widest(code, m):
    """The whole sum of products around an operator, or nothing."""
    right, left = after(code, m.end()), before(code, len(code[: m.start()].rstrip()))
    if right is None or left is None:
        return None
    right, left = chain(code, right, "*/%+-", 1), chain(code, left, "*/%+-", -1)
    return None if right is None or left is None else (left, right)


def changes(path, text, kinds):
    """Changes of a file by the expression that holds them; those without one under nothing."""
    code, groups, start, taken = blanked(text), {}, 0, set()

    def add(span, kind, a, b, new):
        if kind in kinds and (a, b, new) not in taken:
            taken.add((a, b, new))
            groups.setdefault(span, []).append(Change(kind, path, a, b, new, text))

    for line in code.split("\n"):
        end = start + len(line)
        if line.strip() and not line.strip().startswith(mutate.SKIP):
            for m in mutate.OPERATOR.finditer(code, start, end):
                span, kind = widest(code, m), "factor" if m[1] in "*/" else "term"
                add(span, "operator", *m.span(1), mutate.SWAP[m[1]])
                for d in mutate.deletions(code, m):
                    add(span, kind, *d)
            for m in mutate.FUSED.finditer(code, start, end):
                for kind, a, b, new in mutate.fused(code, m):
                    add((a, b), kind, a, b, new)
            for m in COMPOUND.finditer(code, start, end):
                stop = m.end()
                while code[stop] not in ";,}":
                    stop = close(code, stop) if code[stop] in "([{" else stop + 1
                product = m[1] in "*/"
                add((m.end(), stop), "factor" if product else "term", m.end(), stop, "1.0" if product else "0.0")
            for m in mutate.NUMBER.finditer(code, start, end):
                if value := float(m[1].replace("_", "")):
                    add(m.span(1), "number", *m.span(1), repr(1.1 * value))
        start = end + 1
    return groups


def nested(groups):
    """The expressions that lie wholly within or wholly beside each other, outermost first."""
    kept = []
    for a, b in sorted((g for g in groups if g), key=lambda g: (g[0], -g[1])):
        if all(b <= c or a >= d or (c <= a and b <= d) for c, d in kept):
            kept.append((a, b))
    return kept


def written(text, groups):
    """The file with its switches."""
    spans = nested({g: 1 for g, all_ in groups.items() if g and any(c.number for c in all_)})

    def part(a, b, inner):
        out, at = "", a
        while inner:
            c, d = inner[0]
            own = [s for s in inner[1:] if s[1] <= d and s[0] < d]
            live = [m for m in groups[c, d] if m.number]
            arms = "".join(f"{m.number} => {{ {text[c : m.a]}{m.new}{text[m.b : d]}\n}} " for m in live)
            out += f"{text[at:c]}(match crate::mutant::at({live[0].number}) {{ {arms}_ => {{ {part(c, d, own)}\n}} }})"
            at, inner = d, inner[1 + len(own) :]
        return out + text[at:b]

    return part(0, len(text), spans)


def blamed(generated, place):
    """The change whose arm holds the place, or the first of the switch around it and a sign that it is all of them."""
    found = None
    for m in SWITCH.finditer(generated):
        if m.start() > place:
            break
        end = close(generated, m.start())
        if place < end:
            found = (int(m[1]), None)
            at = m.end()
            while arm := re.compile(r"\s*(\d+|_) => \{").match(generated, at):
                at = close(generated, arm.end() - 1)
                if arm.end() <= place < at:
                    found = (int(m[1]), int(arm[1]) if arm[1] != "_" else None)
    return found


def cargo(root, *words):
    target = {**os.environ, "CARGO_TARGET_DIR": str(root / "target"), "RUSTFLAGS": "--cap-lints allow"}
    command = ["nice", "-n", "6", "cargo", *words, "--offline", "-q", "--message-format=json"]
    done = subprocess.run(command, cwd=root, env=target, capture_output=True, text=True)
    return done.returncode, [json.loads(w) for w in done.stdout.split("\n") if w.startswith("{")], done.stderr


def build(root, module, files):
    """Writes the switches and takes those out that the compiler refuses; gives the tests' binaries."""
    mutate.crate(root, module)
    toml = (root / "Cargo.toml").read_text()
    (root / "Cargo.toml").write_text(re.sub(r"opt-level = \d\n\[", "opt-level = 1\n[", toml))
    lib = root / "src/lib.rs"
    lib.write_text(lib.read_text() + "#[doc(hidden)]\npub mod mutant;\n")
    all_ = {c.number: c for _, groups in files.values() for g in groups.values() for c in g if c.number}
    (root / "src/mutant.rs").write_text(PART.replace("COUNT", str(max(all_) + 1)))
    for _ in range(40):
        now = {}
        for path, (text, groups) in files.items():
            now[path] = written(text, groups)
            (root / path.relative_to(REPO)).write_text(now[path])
        code, said, stderr = cargo(root, "check", "--lib")
        if not code:
            break
        bad = set()
        for message in (w["message"] for w in said if w.get("reason") == "compiler-message"):
            if message["level"] != "error":
                continue
            spans = [s for s in message["spans"] if s["is_primary"]] or message["spans"]
            for s in spans:
                while s.get("expansion") and s["file_name"].startswith("/"):
                    s = s["expansion"]["span"]
                path = REPO / s["file_name"]
                if path not in now:
                    continue
                place = len(now[path].encode()[: s["byte_start"]].decode())
                found = blamed(blanked_like(now[path]), place)
                if found:
                    bad.add((path, *found))
        if not bad:
            sys.exit(f"the switches do not build\n{stderr[-2000:]}{[w['message']['rendered'] for w in said if w.get('message')][:3]}")
        for path, first, arm in bad:
            for group in files[path][1].values():
                if any(c.number == first for c in group):
                    for c in group:
                        if arm is None or c.number == arm:
                            c.number, c.verdict = None, "untried"
        print(f"# {len(bad)} places cannot be switches", file=sys.stderr, flush=True)
    code, said, stderr = cargo(root, "test", "--no-run", "--lib", "--tests")
    if code:
        sys.exit(stderr + "".join(w["message"]["rendered"] for w in said if w.get("message")))
    return [w["executable"] for w in said if w.get("executable") and w.get("profile", {}).get("test")]


def blanked_like(text):
    """As `blanked`, but with the unit tests left in place."""
    return blanked(text.replace("#[cfg(test)]", "#[cfg(TEST)]"))


def one(root, test, limit, **env):
    """Whether a test passes: yes, no, or that it takes too long."""
    command = ["nice", "-n", "12", test[0], "--exact", test[1], "-q"]
    env = {**os.environ, "RUST_TEST_THREADS": "1", "CARGO_MANIFEST_DIR": str(root), **env}
    try:
        done = subprocess.run(command, cwd=root, env=env, capture_output=True, timeout=limit)
    except subprocess.TimeoutExpired:
        return "timeout"
    return "missed" if done.returncode == 0 else "caught"


def reach(root, binaries):
    """The tests with the switches they meet and their time."""
    tests = []
    for binary in binaries:
        listed = subprocess.run([binary, "--list"], cwd=root, capture_output=True, text=True).stdout
        tests += [(binary, m[1]) for m in re.finditer(r"^(\S+): test$", listed, re.M)]

    def look(test):
        began = time.monotonic()
        if one(root, test, 600) != "missed":
            return test, None, 0
        took = time.monotonic() - began
        seen = root / f"seen{threading.get_ident()}"
        seen.unlink(missing_ok=True)
        one(root, test, 3000, MUTANT_SEEN=str(seen))
        return test, {int(n) for n in seen.read_text().split()} if seen.exists() else set(), took

    with ThreadPoolExecutor(2) as pool:
        found = list(pool.map(look, tests))
    for test, seen, _ in found:
        if seen is None:
            print(f"# left out, does not pass unchanged: {test[1]}", flush=True)
    return [f for f in found if f[1]]


def judge(root, tests, firsts, numbered):
    wins, lock = {}, threading.Lock()

    def attempt(c):
        mine = [(t, took) for t, seen, took in tests if firsts[c.number] in seen]
        mine.sort(key=lambda t: -(wins.get((c.path, t[0]), 0) + 0.2) / (t[1] + 0.02))
        c.verdict = "missed" if mine else "not reached"
        for test, took in mine:
            verdict = one(root, test, 20 * took + 5, MUTANT=str(c.number))
            if verdict != "missed":
                c.verdict, c.by = verdict, test[1]
                with lock:
                    wins[c.path, test] = wins.get((c.path, test), 0) + 1
                break

    with ThreadPoolExecutor(2) as pool:
        for n, _ in enumerate(pool.map(attempt, numbered)):
            if n % 200 == 0:
                print(f"# {n} of {len(numbered)}", file=sys.stderr, flush=True)


def alone(module, left):
    """What cannot be a switch, the modules built anew for each."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        mutate.crate(root, module)
        for c in left:
            text, copy = c.path.read_text(), root / c.path.relative_to(REPO)
            copy.write_text(text[: c.a] + c.new + text[c.b :])
            c.verdict = mutate.run(root)
            copy.write_text(text)
            print(f"alone, {c.verdict}: {c.label}", flush=True)


def report(found, every):
    tally = {}
    for c in found:
        tally.setdefault((c.kind, str(c.path.relative_to(REPO))), []).append(c.verdict)
        if c.verdict in ("missed", "not reached") or every:
            note = " (not reached)" if c.verdict == "not reached" else f" ({c.by})" if c.by else ""
            word = "missed" if c.verdict == "not reached" else c.verdict
            print(f"{word}: {c.label}{note}")
    print("\ncaught of tried (of these by taking too long), no switch:")
    for kind in KINDS:
        rows = {p: v for (k, p), v in tally.items() if k == kind}
        for name, all_ in [*sorted(rows.items()), ("together", [v for r in rows.values() for v in r])]:
            if not all_:
                continue
            late, got = all_.count("timeout"), all_.count("timeout") + all_.count("caught")
            lost = all_.count("missed") + all_.count("not reached")
            print(f"{kind:9}{name:45}{got:6} of {got + lost:5} ({late}), {all_.count('untried')}")


def main():
    words, options, module = mutate.command_line({"--all", "--kinds", "--again", "--alone"}, __doc__)
    kinds = options.get("--kinds", ",".join(KINDS)).split(",")
    at = REPO / "src" / words[0]
    files, number = {}, 0
    missed = Path(options["--again"]).read_text() if "--again" in options else None
    for path in sorted(at.rglob("*.rs")) if at.is_dir() else [at.with_suffix(".rs")]:
        text = path.read_text()
        groups = changes(path, text, kinds)
        if missed is not None:
            again = {g: [c for c in all_ if f"missed: {c.label}" in missed or f"untried: {c.label}" in missed] for g, all_ in groups.items()}
            groups = {g: all_ for g, all_ in again.items() if all_}
        files[path] = (text, groups)
        fit = set(nested(groups))
        for g, all_ in groups.items():
            for c in all_:
                if g in fit:
                    number += 1
                    c.number = number
                else:
                    c.verdict = "untried"
    found = [c for _, groups in files.values() for g in groups.values() for c in g]
    if not number:
        sys.exit("nothing to change")
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        binaries = build(root, module, files)
        numbered = [c for c in found if c.number]
        # A switch is met under the number of its first change.
        firsts = {}
        for _, groups in files.values():
            for all_ in groups.values():
                live = [c.number for c in all_ if c.number]
                firsts.update({n: live[0] for n in live})
        print(f"# {len(numbered)} of {len(found)} are switches", file=sys.stderr, flush=True)
        judge(root, reach(root, binaries), firsts, numbered)
    left = [c for c in found if c.verdict == "untried"]
    report(found, "--all" in options)
    sys.stdout.flush()
    alone(module, random.Random(1).sample(left, min(len(left), int(options.get("--alone", 0)))))


if __name__ == "__main__":
    main()
