#!/usr/bin/python3
"""How fast and how good `wortfit solve` is, beside GLPK's and COIN-OR's own programs.

    cmake --preset release && cmake --build --preset release --target wortfit bench_case
    tests/bench/run.py --build build/release
    tests/bench/run.py --build build/release --seeds 5 --malts 12,30    # a quick look

A run takes generated stores of 12 to 600 malts with 8 to 60 hops, targets with wide and with narrow
windows, on a coarse and on a fine scale, and of each kind so many seeds. Each target has a planted
recipe, so "no answer" is never right. Every case is given to three processes, one after the other:

    wortfit   wortfit solve target.json --store --brewhouse --json: reading, search, report, all
    glpsol    glpsol --lp --cuts on the integer model that `wortfit solve --write-model` wrote
    cbc       cbc on the same file

with the same limit of time. What the columns say, a row a kind of case:

    p50 p99 worst   seconds of processor time of the whole process (none of the three uses a second
                    thread; other work on the machine hardly moves them): median, 99th of a
                    hundred, slowest
    no              cases without a recipe in the time
    gap             what wortfit proved of its own answer: (cost - bound) / cost, 90th of a hundred
                    and the worst
    over            cases whose cost is above the best that any process found or proved, by more
                    than its own gap and 0.01 %: must be 0
    ratio           how many times as long the other one takes, as a median over the cases; those
                    that it did not finish count with the whole limit, so it is at least that
    MB              greatest memory of a process (resident set)
    again           seconds of a solve in memory with one wish moved, median and slowest, up to 60
                    malts

After each size comes a row over all its kinds, and at the end one over everything.

wortfit is run as a person runs it, which stops early once the answer is nearly proved; --prove gives it
the whole limit to prove 0.01 % like the others. It is not part of the tests: times depend on the
machine, and a full run takes hours.
"""
import argparse
import json
import os
import pathlib
import resource
import subprocess
import sys
import tempfile

AGAIN_MOST = 60
HOPS = {12: 8, 30: 12, 60: 20, 150: 40, 600: 60}
DAY = "2026-11-25"  # brewing day of all generated problems


class Run:
    """A process: its seconds, memory in MB, exit status and output."""

    def __init__(self, words, limit):
        with tempfile.TemporaryFile() as out:
            child = subprocess.Popen(words, stdin=subprocess.DEVNULL, stdout=out,
                                     stderr=subprocess.STDOUT, preexec_fn=lambda: bound_cpu(limit))
            _, status, usage = os.wait4(child.pid, 0)
            child.returncode = os.waitstatus_to_exitcode(status)
            self.seconds = usage.ru_utime + usage.ru_stime
            out.seek(0)
            self.text = out.read().decode(errors="replace")
        self.megabytes = usage.ru_maxrss / 1024
        self.code = child.returncode


def bound_cpu(limit):
    """A solver that does not heed its own limit is stopped by the system a little later."""
    hard = int(limit * 1.5) + 5
    resource.setrlimit(resource.RLIMIT_CPU, (hard, hard))


class Case:
    """What the three processes made of one problem; value None: no answer."""

    def __init__(self):
        self.runs, self.value, self.proved = {}, {}, {}
        self.gap = None
        self.again = None
        self.planted = None


def solve_wortfit(case, tools, folder, limit, prove):
    words = [tools["wortfit"], "solve", f"{folder}/target.json", "--store", f"{folder}/store.json",
             "--brewhouse", f"{folder}/brewhouse.json", "--on", DAY, "--json"]
    run = Run(words + (["--time", f"{limit} s"] if prove else []), limit)
    case.runs["wortfit"] = run
    case.value["wortfit"] = None
    try:
        recipe = json.loads(run.text) if run.code == 0 else {}
    except json.JSONDecodeError:
        recipe = {}
    if "proof" in recipe:
        case.value["wortfit"] = recipe["proof"]["value"]
        case.proved["wortfit"] = recipe["status"] == "optimal"
        case.gap = recipe["proof"]["gap"]
    return words


def write_model(words, folder):
    model = f"{folder}/model.lp"
    done = subprocess.run(words + ["--write-model", model], stdin=subprocess.DEVNULL,
                          stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return model if done.returncode == 0 and os.path.exists(model) else None


def solve_glpk(case, tools, folder, model, limit):
    solution = f"{folder}/glpk.solution"
    case.runs["glpsol"] = Run([tools["glpsol"], "--lp", model, "--cuts", "--tmlim", str(limit), "-w",
                               solution], limit)
    for line in lines_of(solution):
        words = line.split()
        if words[:2] == ["s", "mip"] and words[4] in ("o", "f"):
            case.value["glpsol"] = float(words[5])
            case.proved["glpsol"] = words[4] == "o"


def solve_cbc(case, tools, folder, model, limit):
    solution = f"{folder}/cbc.solution"
    case.runs["cbc"] = Run([tools["cbc"], model, "-sec", str(limit), "-ratio", "0", "-solve",
                            "-solu", solution], limit)
    first = (lines_of(solution) or [""])[0]
    if "objective value" in first and "nfeasible" not in first:
        value = float(first.rsplit(None, 1)[1])
        if first.startswith("Optimal") or value < 1e30:
            case.value["cbc"] = value
            case.proved["cbc"] = first.startswith("Optimal")


def lines_of(path):
    try:
        return pathlib.Path(path).read_text(errors="replace").splitlines()
    except FileNotFoundError:
        return []


def one_case(tools, kind, seed, options):
    case = Case()
    malts, tight, scale = kind
    facts = [str(seed), str(malts), str(HOPS[malts]), tight, scale]
    with tempfile.TemporaryDirectory() as folder:
        made = subprocess.run([tools["bench_case"], "files", folder] + facts, check=True,
                              capture_output=True, text=True)
        case.planted = float(made.stdout)
        words = solve_wortfit(case, tools, folder, options.limit, options.prove)
        model = write_model(words, folder) if options.others else None
        if model:
            solve_glpk(case, tools, folder, model, options.limit)
            solve_cbc(case, tools, folder, model, options.limit)
    if malts <= AGAIN_MOST:
        again = subprocess.run([tools["bench_case"], "again"] + facts, check=True,
                               capture_output=True, text=True)
        case.again = float(again.stdout.split()[1])
    return case


# ---- Figures --------------------------------------------------------------------------------------


def part(values, share):
    """The value that this share of them is not above; - without values."""
    ordered = sorted(v for v in values if v == v)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else float("nan")


def is_over(case):
    """Worse than something that is known to exist, by more than its own gap."""
    ours = case.value["wortfit"]
    known = [case.planted] + [v for v in case.value.values() if v is not None]
    return ours is not None and ours > min(known) + (case.gap + 1e-4) * abs(ours)


def ratio(cases, name, limit):
    """Of times; a case that the other did not finish counts with the limit."""
    ratios = []
    for c in cases:
        if name in c.runs and c.value["wortfit"] is not None:
            seconds = c.runs[name].seconds if c.proved.get(name) else max(limit, c.runs[name].seconds)
            ratios.append(seconds / c.runs["wortfit"].seconds)
    return part(ratios, 0.5)


def figures(name, cases):
    runs = [c.runs[name] for c in cases if name in c.runs]
    seconds = [r.seconds for r in runs]
    missing = sum(c.value.get(name) is None for c in cases)
    memory = max((r.megabytes for r in runs), default=float("nan"))
    return (f"{part(seconds, 0.5):7.3f} {part(seconds, 0.99):7.3f} "
            f"{max(seconds, default=float('nan')):7.3f} {missing:4d} {memory:6.0f}")


HEADING = (f"{'case':34} {'process':8} {'p50 s':>7} {'p99 s':>7} {'worst s':>7} {'no':>4} {'MB':>6}"
           f"  what else")


def report(label, cases, limit):
    gaps = [c.gap for c in cases if c.gap is not None]
    again = [c.again for c in cases if c.again is not None]
    over = sum(is_over(c) for c in cases)
    optimal = sum(bool(c.proved.get("wortfit")) for c in cases)
    moved = f", again p50 {part(again, 0.5):.4f} worst {part(again, 1):.3f} s" if again else ""
    print(f"{label:34} {'wortfit':8} {figures('wortfit', cases)}  optimal {optimal} of {len(cases)}, "
          f"gap p90 {100 * part(gaps, 0.9):.3f} % worst {100 * max(gaps, default=float('nan')):.3f} %, "
          f"over {over}{moved}")
    for name in ("glpsol", "cbc"):
        if any(name in c.runs for c in cases):
            proved = sum(bool(c.proved.get(name)) for c in cases)
            print(f"{'':34} {name:8} {figures(name, cases)}  optimal {proved} of {len(cases)}, "
                  f"takes {ratio(cases, name, limit):.1f} times as long")
    sys.stdout.flush()


# ---- The command ----------------------------------------------------------------------------------


def find_tools(build, others):
    found = {"wortfit": build / "wortfit", "bench_case": build / "tests/bench/bench_case"}
    missing = [str(p) for p in found.values() if not p.exists()]
    if missing:
        sys.exit(f"run.py: not built: {', '.join(missing)} (see the top of this file)")
    tools = {name: str(path) for name, path in found.items()}
    for name in ("glpsol", "cbc") if others else ():
        path = next((p for d in os.environ["PATH"].split(":")
                     if os.access(p := os.path.join(d, name), os.X_OK)), None)
        if path is None:
            sys.exit(f"run.py: {name} is not installed")
        tools[name] = path
    return tools


def arguments():
    p = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    p.add_argument("--build", type=pathlib.Path, required=True, help="folder of the build")
    p.add_argument("--seeds", type=int, default=50, help="cases of each kind (50)")
    p.add_argument("--first", type=int, default=1, help="the first seed (1)")
    p.add_argument("--malts", default=",".join(map(str, HOPS)), help="sizes of store, of 12,30,60,150,600")
    p.add_argument("--limit", type=int, default=10, help="seconds for each process (10)")
    p.add_argument("--prove", action="store_true", help="give wortfit the whole limit to prove")
    p.add_argument("--alone", dest="others", action="store_false", help="wortfit only")
    return p.parse_args()


def main():
    options = arguments()
    tools = find_tools(options.build, options.others)
    everything = []
    print(HEADING)
    for malts in map(int, options.malts.split(",")):
        of_size = []
        for tight in ("loose", "tight"):
            for scale in ("coarse", "fine"):
                cases = [one_case(tools, (malts, tight, scale), options.first + i, options)
                         for i in range(options.seeds)]
                report(f"{malts} malts, {HOPS[malts]} hops, {tight}, {scale}", cases, options.limit)
                of_size += cases
        report(f"{malts} malts, all", of_size, options.limit)
        everything += of_size
    report("all", everything, options.limit)
    return 1 if any(is_over(c) or c.value["wortfit"] is None for c in everything) else 0


if __name__ == "__main__":
    sys.exit(main())
