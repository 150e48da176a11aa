#!/usr/bin/env python3
"""Several processes that change the same files at once: one waits for the other, and nothing is lost.

    check_races.py SOURCE_FOLDER WORTFIT [ROUNDS]

In each round (ordinarily 12) processes take hops, brew, read and, in every third round, are killed, all at once. After
it the store holds what it held less what those who were done had taken, the log holds their brews, and a
reader never saw anything but a whole store. Those who are killed have taken all of it or nothing.
"""
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

from cases import AMBER, CELLAR, HOUSE, LOG, ON

ROOT, PROGRAM = (pathlib.Path(p).resolve() for p in sys.argv[1:3])
ROUNDS = int(sys.argv[3]) if len(sys.argv) > 3 else 12
ENVIRONMENT = {"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC"}
GRAMS, BREW = 1, 2  # that each taker and each brew takes
RECIPE = {"recipe": "Small", "batch_l": 20, "malts": [{"id": "pale-ale-malt-british", "kg": 0.5}],
          "hops": [{"id": "cascade", "g": BREW, "at": "10 min"}]}
problems = []
counts = {"rounds": 0, "processes": 0, "changes": 0, "killed": 0, "refused": 0}


def start(*argv):
    counts["processes"] += 1
    return subprocess.Popen([PROGRAM, *argv, *ON.split()], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                            env=ENVIRONMENT, stdin=subprocess.DEVNULL)


def have(store, lot):
    """Grams or kilograms of a lot, as `stock` tells them after a change that changes nothing."""
    done = start("stock", str(store), "--json")
    out, error = done.communicate(timeout=120)
    if done.returncode != 0:
        problems.append(f"the store cannot be read: {error}")
        return float("nan")
    found = next(x for kind in ("malts", "hops") for x in json.loads(out)[kind] if x["id"] == lot)
    return found["have_g"] if "have_g" in found else found["have_kg"] * 1000


def brews(log):
    return len(log.read_text(encoding="utf-8").splitlines()) if log.exists() else 0


def one_round(folder, draw, with_kills):
    store, log = folder / "c.json", folder / "c.brews.jsonl"
    store.write_bytes((ROOT / CELLAR).read_bytes())
    log.unlink(missing_ok=True)
    before = have(store, "cascade")
    recipe = folder / "r.json"
    takers = [start("stock", str(store), "use", "cascade", "--take", f"{GRAMS} g") for _ in range(6)]
    brewers = [start("brewed", str(recipe), "--store", str(store), "--again", "--og", "1.006", "--volume", "20 L") for _ in range(3)]
    readers = [start("stock", str(store)) for _ in range(2)]
    if with_kills:
        time.sleep(draw.uniform(0, 0.015))
        for p in draw.sample(takers + brewers, 4):
            p.kill()
    done = [(p, p.communicate(timeout=120)) for p in takers + brewers + readers]
    killed = [p for p in takers + brewers if p.returncode == -signal.SIGKILL]
    for p, (_, error) in done:
        counts["refused"] += p.returncode == 4
        if p.returncode != 0 and p not in killed:
            problems.append(f"exit status {p.returncode}: {error.strip()[:200]}")
    counts["rounds"] += 1
    counts["killed"] += len(killed)
    counts["changes"] += sum(p.returncode == 0 for p in takers + brewers)
    judge(folder, before, takers, brewers)


def judge(folder, before, takers, brewers):
    """What is left, and what is in the log; whoever comes next ends what a kill has left."""
    store, log = folder / "c.json", folder / "c.brews.jsonl"
    last = start("stock", str(store), "use", "cascade", "--take", f"{GRAMS} g")
    last.communicate(timeout=120)
    in_log = brews(log)
    used = round((before - have(store, "cascade") - BREW * in_log) / GRAMS, 6)
    least, most = sum(p.returncode == 0 for p in [*takers, last]), len(takers) + 1
    if not (used == round(used) and least <= used <= most):
        problems.append(f"{used} takes are gone from the store, {least} were told of, {in_log} brews in the log")
    if not sum(p.returncode == 0 for p in brewers) <= in_log <= len(brewers):
        problems.append(f"{in_log} brews in the log")
    left = [p.name for p in folder.iterdir() if re.fullmatch(r"c\.json\.\d+-\d+\.wortfit-new", p.name)]
    if left:
        problems.append(f"left behind: {left}")


def whole_all_the_same(folder):
    """The same sheet and the same learnt figures, written by six at once."""
    sheet, house = folder / "s.html", folder / "b.json"
    for path, argv in ((sheet, ["sheet", ROOT / AMBER, "--html", sheet]),
                       (house, ["learn", ROOT / LOG, "--write", "--brewhouse", house])):
        results = set()
        for _ in range(3):
            path.write_bytes((ROOT / HOUSE).read_bytes())
            running = [subprocess.Popen([PROGRAM, *argv], env=ENVIRONMENT, stdout=subprocess.DEVNULL) for _ in range(6)]
            counts["processes"] += len(running)
            if any([p.wait(timeout=120) for p in running]):
                problems.append(f"{argv[0]}: not all were done")
            results.add(path.read_bytes())
        if len(results) != 1:
            problems.append(f"{argv[0]}: {len(results)} different files")
    if any(re.match(r"(s\.html|b\.json)\.", p.name) for p in folder.iterdir()):
        problems.append("a temporary file is left")


def main():
    draw = random.Random(20261125)
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # many small files
    with tempfile.TemporaryDirectory(dir=memory) as work:
        folder = pathlib.Path(work)
        (folder / "r.json").write_text(json.dumps(RECIPE), encoding="utf-8")
        for n in range(ROUNDS):
            one_round(folder, draw, with_kills=n % 3 == 2)
        whole_all_the_same(folder)
    print("\n".join(problems[:40]))
    print(", ".join(f"{n} {what}" for what, n in counts.items()) + f"; {len(problems)} problems")
    return 1 if problems or counts["changes"] < 6 * counts["rounds"] else 0


if __name__ == "__main__":
    sys.exit(main())
