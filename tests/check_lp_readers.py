#!/usr/bin/env python3
"""Two independent programs must read the models that we write, and find our optimum.

    check_lp_readers.py WRITER PUBLISHED_FOLDER GLPSOL CBC

WRITER is the test program write_lp_models. Values must agree to one millionth.
"""
import pathlib
import re
import subprocess
import sys
import tempfile

LEAST_MODELS = 60
TOLERANCE = 1e-6


def run(command):
    return subprocess.run(command, capture_output=True, text=True, timeout=120).stdout


def by_glpsol(program, path, folder):
    """The optimum, None where there is no point."""
    solution = folder / "solution"
    out = run([program, "--lp", path, "-w", solution])
    if "error" in out:
        raise ValueError("glpsol does not read it: " + out)
    if "NO PRIMAL FEASIBLE" in out or "NO INTEGER FEASIBLE" in out or "NO FEASIBLE" in out:
        return None
    m = re.search(r"^s (?:bas \d+ \d+ f f|mip \d+ \d+ o) (\S+)", solution.read_text(), re.M)
    if not m:
        raise ValueError("no optimum from glpsol: " + out)
    return float(m.group(1))


def by_cbc(program, path, folder):
    # Its cuts and its preprocessing were seen to lose the optimum of a grist now and then.
    solution = folder / "solution"
    out = run([program, path, "-preprocess", "off", "-cuts", "off", "-ratio", "0", "-allow", "0",
               "-solve", "-solution", solution])
    if "Unable to read" in out or "Error" in out or "### CoinLpIO" in out:
        raise ValueError("cbc does not read it: " + out)
    first = solution.read_text().splitlines()[0]
    if first.startswith(("Infeasible", "Integer infeasible")):
        return None
    m = re.match(r"Optimal .*objective value (\S+)", first)
    if not m:
        raise ValueError("no optimum from cbc: " + first)
    return float(m.group(1))


def agree(a, b):
    if a is None or b is None:
        return a is None and b is None
    return abs(a - b) <= TOLERANCE * max(1, abs(a))


def main():
    writer, published, glpsol, cbc = sys.argv[1:5]
    wrong = 0
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        subprocess.run([writer, folder, published], check=True)
        lines = (folder / "index").read_text().splitlines()
        for line in lines:
            model, outcome, *value = line.split()
            ours = float(value[0]) if outcome == "optimal" else None
            for solve, program in ((by_glpsol, glpsol), (by_cbc, cbc)):
                theirs = solve(program, folder / f"{model}.lp", folder)
                if not agree(ours, theirs):
                    wrong += 1
                    print(f"{model}: {program} finds {theirs}, we find {ours}")
    empty = sum(line.endswith("infeasible") for line in lines)
    print(f"{len(lines)} models, {empty} without a point, {wrong} answers that differ")
    return 1 if wrong or len(lines) < LEAST_MODELS or not empty else 0


if __name__ == "__main__":
    sys.exit(main())
