#!/usr/bin/env python3
"""Every command with an allocation that fails: a clean error, nothing leaked, no file half-written.

    check_allocations.py SOURCE_FOLDER WORTFIT FAULTS_LIBRARY [--full] [NAME...]

Each allocation of GLPK, cJSON and wortfit may be the one that fails, alone or with all that come later.
A run of each case tells which places ask for memory (a place is the innermost callers); ordinarily the
first request of up to 20 places a case not seen before fails, and of two drawn ones; with --full the first and the
last request of each place of each case, told apart by more callers, up to 500 a case, and 100 drawn ones besides.

With the one failure the command either says so (exit status 4, "out of memory") or does its work as
ever, byte for byte. Files are as before or as after a good run, and nothing else is there.
"""
import collections
import os
import pathlib
import random
import struct
import subprocess
import sys
import tempfile

from cases import READERS, WRITERS, Folder, commands

SEED = 20261125
FULL = "--full" in sys.argv
ROOT, PROGRAM, LIBRARY, *NAMES = (a for a in sys.argv[1:] if a != "--full")
ROOT, PROGRAM, LIBRARY = (pathlib.Path(p).resolve() for p in (ROOT, PROGRAM, LIBRARY))
FRAMES = "8" if FULL else "4"
MOST = 500 if FULL else 20  # places a case
problems = []
counts = collections.Counter()


class Trial:
    """One run of a case, and what it left."""

    def __init__(self, folder, case, told, **wishes):
        folder.reset(case)
        environment = {"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC", "LD_PRELOAD": str(LIBRARY),
                       "WF_FAULT_TOLD": str(told), **wishes}
        told.unlink(missing_ok=True)
        done = subprocess.run([PROGRAM, *case.argv], cwd=folder.path, env=environment, capture_output=True,
                              stdin=subprocess.DEVNULL, timeout=120, check=False)
        self.out, self.error, self.exit = done.stdout, done.stderr.decode(), done.returncode
        self.files = folder.files()
        self.told = told.read_text().splitlines() if told.exists() else []
        self.count = {w[0]: int(w[1]) for w in (line.split() for line in self.told) if w[1].isdigit()}


def places_of(folder, case, told):
    """The good run, and the place of each of its allocations."""
    path = told.with_suffix(".places")
    good = Trial(folder, case, told, WF_FAULT_PLACES=str(path), WF_FAULT_FRAMES=FRAMES)
    data = path.read_bytes()
    return good, struct.unpack(f"{len(data) // 8}Q", data)


def wanted(places, seen, draw):
    """Numbers of the allocations that are to fail."""
    first, last = {}, {}
    for n, place in enumerate(places):
        first.setdefault(place, n)
        last[place] = n
    fresh = [p for p in first if FULL or p not in seen]
    draw.shuffle(fresh)
    fresh = fresh[:MOST]
    seen.update(fresh)
    numbers = {first[p] for p in fresh} | ({last[p] for p in fresh} if FULL else set())
    extra = 100 if FULL else 2
    numbers.update(draw.randrange(len(places)) for _ in range(extra))
    return sorted(numbers)


def faults_of(t, good, before):
    """What is wrong with a run in which memory failed."""
    if t.exit < 0 or not t.told:
        yield f"ended by signal {-t.exit}"
        return
    # GLPK forgets a block before it asks to have it made larger: where that fails nobody can free it (env/alloc.c).
    if t.count["leaked"] > t.count["glpk-lost"] or t.count["wild"]:
        yield "; ".join(line for line in t.told if line.startswith(("leak", "wild")))
    if t.exit == good.exit:
        if t.count["failed"] and (t.out, t.files) != (good.out, good.files):
            yield "another result, as if nothing had failed"
    elif t.exit != 4 or "out of memory" not in t.error:
        yield f"exit status {t.exit}: {t.error.strip()[:200]}"
    for name in t.files.keys() | before.keys():
        if t.files.get(name) not in (before.get(name), good.files.get(name)):
            yield f"{name} is neither old nor new"
    if len(before) > 1 and t.files not in (before, good.files):
        yield "one file is old and one is new"


def try_case(folder, case, told, seen):
    draw = random.Random(f"{SEED} {case.name}")
    good, places = places_of(folder, case, told)
    folder.reset(case)
    before = folder.files()
    if good.exit not in (0, 3) or good.count["leaked"] or not places:
        problems.append(f"{case.name}: the good run: exit status {good.exit}: {good.error}{good.told}")
    for n in wanted(places, seen, draw):
        for wish in (f"{n}", f"{n}+"):
            t = Trial(folder, case, told, WF_FAULT_ALLOC=wish)
            counts["runs"] += 1
            counts["told"] += t.exit == 4
            counts["done all the same"] += t.exit == good.exit
            problems.extend(f"{case.name}: WF_FAULT_ALLOC={wish}: {what}" for what in faults_of(t, good, before))
    counts["places"] += len(set(places))
    counts["allocations"] += len(places)


def main():
    cases = [c for c in READERS + WRITERS if not NAMES or c.name in NAMES]
    left_out = set(commands(ROOT)) - {c.command for c in cases}
    if left_out and not NAMES:
        problems.append(f"commands without a case: {left_out}")
    seen = set()
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # many small files
    with tempfile.TemporaryDirectory(dir=memory) as work:
        folder = Folder(ROOT, pathlib.Path(work) / "folder")
        for case in cases:
            try_case(folder, case, pathlib.Path(work) / "told", seen)
    print("\n".join(problems[:60]))
    print(f"{len(cases)} cases: " + ", ".join(f"{n} {what}" for what, n in counts.items()) +
          f"; {len(problems)} problems")
    return 1 if problems or not counts["told"] else 0


if __name__ == "__main__":
    sys.exit(main())
