#!/usr/bin/env python3
"""Numbers that no brewer has, hardly any time, and interruptions: the answer is an honest one.

    check_awful.py SOURCE_FOLDER WORTFIT [DRAWS]

Figures of a store, a target and a brewhouse are drawn, one to four a time, from 1e-9 to 1e9, 0 and -1. What
solve answers is one of: a recipe, which check then finds good for the same store and target; that there is none;
that the input is wrong, with the place; that the time was too short. Never an internal error, a crash or a run
that does not end. Then solves with hardly any time, and solves, surveys and plans that are
interrupted at any moment.
"""
import collections
import json
import os
import pathlib
import random
import re
import signal
import subprocess
import sys
import tempfile
import time

ROOT, PROGRAM = (pathlib.Path(p).resolve() for p in sys.argv[1:3])
DRAWS = int(sys.argv[3]) if len(sys.argv) > 3 else 150
ON = ["--on", "2026-11-25"]
NUMBER = re.compile(r"\d+(?:\.\d+)?")
AWFUL = ["0", "-1", "1e-9", "0.000000001", "0.0001", "0.01", "0.5", "1", "3", "99.999999", "1000", "1e5", "1000000000", "1e9", "1e308"]
SOLVE_SECONDS, MOST_SECONDS = "2 s", 120  # sanitizers are slow, and so is a machine with other work
problems = []
counts = collections.Counter()


def plain(path):
    text = (ROOT / path).read_text(encoding="utf-8")
    return json.loads(re.sub(r"^\s*//.*$|(?<=[,\[{}\]\"])\s*//.*$", "", text, flags=re.M))


DOCUMENTS = {"s.json": plain("examples/small-cellar.json"), "t.json": plain("targets/amber-ale.json"),
             "b.json": plain("examples/brewhouse-20l.json")}


def numbers(node, path=()):
    """Ways to the texts and numbers that hold a figure."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, child in items:
        if isinstance(child, (dict, list)):
            yield from numbers(child, (*path, key))
        elif not isinstance(child, bool) and NUMBER.search(str(child)) and not re.search(r"\d{4}-\d\d|[a-z]-\d", str(child)):
            yield (*path, key)


def spoil(document, way, draw):
    """Another figure in the place of one of those there; sometimes only ten or a million times as much."""
    node = document
    for key in way[:-1]:
        node = node[key]
    old = node[way[-1]]
    found = draw.choice(list(NUMBER.finditer(str(old))))
    new = draw.choice(AWFUL + [f"{float(found.group()) * draw.choice((1e-6, 0.1, 10, 1e6)):.9f}"])
    text = str(old)[:found.start()] + new + str(old)[found.end():]
    node[way[-1]] = text if isinstance(old, str) else float(new)


def run(folder, *argv):
    try:
        return subprocess.run([PROGRAM, *argv, *ON], cwd=folder, capture_output=True, text=True, timeout=MOST_SECONDS,
                              stdin=subprocess.DEVNULL, check=False)
    except subprocess.TimeoutExpired:
        problems.append(f"{argv}: does not end")
        return None


def honest(what, done):
    """One of the answers that are documented."""
    counts[f"exit {done.returncode}"] += 1
    if done.returncode not in (0, 1, 2, 3, 4) or re.search(r"internal|solver|nan|inf\b", done.stderr):
        problems.append(f"{what}: exit status {done.returncode}: {done.stderr[:300]}")
    if done.returncode != 0 and not done.stderr.startswith("wortfit: "):
        problems.append(f"{what}: exit status {done.returncode} without a message")
    if re.search(r"\b(nan|inf)\b", done.stdout):
        problems.append(f"{what}: prints a number that is none: {done.stdout[:300]}")


def one_draw(folder, seed):
    draw = random.Random(seed)
    documents = json.loads(json.dumps(DOCUMENTS))
    changes = []
    for _ in range(draw.randint(1, 4)):
        name = draw.choice(list(documents))
        way = draw.choice(list(numbers(documents[name])))
        spoil(documents[name], way, draw)
        changes.append((name, way))
    for name, document in documents.items():
        (folder / name).write_text(json.dumps(document), encoding="utf-8")
    given = ["--store", "s.json", "--brewhouse", "b.json"]
    done = run(folder, "solve", "t.json", *given, "--time", SOLVE_SECONDS, "--json")
    counts["draws"] += 1
    if done is None:
        return
    what = f"draw {seed} {changes}"
    honest(what, done)
    if done.returncode == 0:
        (folder / "r.json").write_text(done.stdout, encoding="utf-8")
        checked = run(folder, "check", "r.json", "--target", "t.json", *given)
        counts["recipes checked"] += 1
        if checked and checked.returncode != 0:
            problems.append(f"{what}: check says: {checked.returncode} {checked.stderr[:200]} {checked.stdout[-300:]}")


def hardly_any_time(folder):
    """The least time that may be given, for what takes longer. (Less than that: tests/test_solve_limits.c.)"""
    for argv in (["solve", "dry-stout", "--goal", "fewest,cost"], ["solve", "amber-ale", "--og", "1.150"],
                 ["solve", "amber-ale", "--sure", "90%"], ["solve", "best-bitter", "--alternatives", "9"]):
        begin = time.monotonic()
        done = run(folder, *argv, "--time", "1 s")
        if done is None:
            continue
        honest(f"{argv}, a second", done)
        counts["short times"] += 1
        if done.returncode == 1 or time.monotonic() - begin > MOST_SECONDS / 2:
            problems.append(f"{argv} --time: {done.returncode} {done.stderr[:200]}, {time.monotonic() - begin:.1f} s")


def interruptions(folder, draw):
    """Whenever it comes, the signal ends the work soon, or finds it done; what was found is told as such."""
    for argv in (["solve", "amber-ale"], ["survey"], ["plan", "amber-ale", "best-bitter", "dry-stout"],
                 ["solve", "amber-ale", "--og", "1.150"], ["substitute", "r0.json", "--without", "munich-malt-light"]):
        for number in (signal.SIGINT, signal.SIGTERM):
            for _ in range(4):
                p = subprocess.Popen([PROGRAM, *argv, *ON], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                     text=True, env={"PATH": os.environ["PATH"]})
                time.sleep(draw.uniform(0, 0.25))
                p.send_signal(number)
                try:
                    out, error = p.communicate(timeout=MOST_SECONDS)
                except subprocess.TimeoutExpired:
                    p.kill()
                    p.communicate()
                    problems.append(f"{argv}: goes on after signal {number}")
                    continue
                counts["interruptions"] += 1
                if p.returncode == -number:  # before it is watched for
                    if out:
                        problems.append(f"{argv}: ended by signal {number}, with half a result")
                    continue
                if p.returncode == 1:
                    problems.append(f"{argv}: {error}")
                honest(f"{argv}, signal {number}", subprocess.CompletedProcess(argv, p.returncode, out, error))


def main():
    draw = random.Random(20261125)
    with tempfile.TemporaryDirectory() as work:
        folder = pathlib.Path(work)
        (folder / "r0.json").write_bytes((ROOT / "examples/last-autumn-amber.json").read_bytes())
        for seed in range(DRAWS):
            one_draw(folder, seed)
        hardly_any_time(folder)
        interruptions(folder, draw)
    print("\n".join(problems[:40]))
    print(", ".join(f"{n} {what}" for what, n in counts.items()) + f"; {len(problems)} problems")
    return 1 if problems or not counts["recipes checked"] else 0


if __name__ == "__main__":
    sys.exit(main())
