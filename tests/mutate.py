#!/usr/bin/env python3
"""How much the tests notice: changes an operator or a number of the laws or the models, one at a time, in a
copy of the tree, builds, and runs the tests that speak of that part. A change that they do not notice has
survived, and is told with its place.

    mutate.py [--count 20] [--seed 1] [--part brewing] [--part model]

Survivors are to be read: some changes are none (a bound that is never reached), the others want a test.
"""
import argparse
import pathlib
import random
import re
import shutil
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
TREE = ROOT / "build/mutate/tree"
BUILD = ROOT / "build/mutate/build"

# The tests that must notice, quickest first.
TESTS = {
    "brewing": ["test_formulas", "test_predict", "test_process", "test_published", "test_laws", "test_brewday",
                "test_brewday_room", "test_check", "test_laws_drawn"],
    "model": ["test_change", "test_model", "test_model_check", "test_model_write", "test_solve_yeasts", "test_scale",
              "test_backwards", "test_scale_drawn", "test_problem", "test_refit", "test_revise", "test_plan", "test_exported",
              "test_choices_sum", "test_choices_limits", "test_solve_tiny", "test_choices"],
}

# What is changed into what, as expressions over a line of code without comments and strings.
SWAPS = [
    (r"(?<![<>=!-])<(?![<=])", "<="), (r"<=", "<"), (r"(?<![->])>(?![>=])", ">="), (r">=", ">"),
    (r"==", "!="), (r"!=", "=="), (r"&&", "||"), (r"\|\|", "&&"),
    (r"(?<=[\w)\]] )\+(?= )", "-"), (r"(?<=[\w)\]] )-(?= )", "+"),
    (r"(?<=[\w)\]] )\*(?= )", "/"), (r"(?<=[\w)\]] )/(?= )", "*"),
    (r"\bfmin\b", "fmax"), (r"\bfmax\b", "fmin"), (r"\btrue\b", "false"), (r"\bfalse\b", "true"),
    (r"(?<![\w.])(\d+\.\d+)(?![\w.])", r"(1.01 * \1)"), (r"\+=", "-="), (r"-=", "+="),
]


def blanked(text):
    """Comments, strings and preprocessor lines blanked, places kept."""
    token = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'|^[ \t]*#(?:\\\n|[^\n])*',
                       re.S | re.M)
    return token.sub(lambda m: re.sub(r"[^\n]", " ", m.group()), text)


def mutants(part):
    """(file, offset of the match, its length, what it becomes) of every change that could be made."""
    found = []
    for path in sorted((ROOT / "src" / part).glob("*.c")):
        text = path.read_text(encoding="utf-8")
        code = blanked(text)
        for pattern, new in SWAPS:
            for m in re.finditer(pattern, code):
                found.append((path.relative_to(ROOT), m.start(), m.end(), m.expand(new)))
    return found


def prepare(parts):
    """The copy, built anew: a run that was broken off may have left a change in the last one."""
    shutil.rmtree(TREE.parent, ignore_errors=True)
    shutil.copytree(ROOT, TREE, ignore=lambda folder, names: [
        n for n in names if pathlib.Path(folder) == ROOT and re.match(r"build|\.git$", n)])
    subprocess.run(["cmake", "-S", TREE, "-B", BUILD, "-DCMAKE_BUILD_TYPE=RelWithDebInfo", "-DWF_SHARED=OFF",
                    *(["-G", "Ninja"] if shutil.which("ninja") else [])], check=True, stdout=subprocess.DEVNULL)
    build(parts)


def build(parts):
    targets = [t for part in parts for t in TESTS[part]]
    done = subprocess.run(["cmake", "--build", BUILD, "--target", *targets], capture_output=True)
    return done.returncode == 0


def notices(part, seconds):
    """The first test that fails, or takes so many seconds, or None."""
    for test in TESTS[part]:
        try:
            done = subprocess.run([BUILD / "tests" / test], capture_output=True, timeout=seconds)
        except subprocess.TimeoutExpired:
            return test
        if done.returncode != 0:
            return test
    return None


def unchanged_seconds(part):
    """How long the tests take without a change; they must pass."""
    start = time.monotonic()
    failed = notices(part, 3600)
    if failed:
        sys.exit(f"mutate.py: {failed} fails without any change")
    return time.monotonic() - start


def try_one(part, mutant, seconds):
    path, start, end, new = mutant
    original = (ROOT / path).read_text(encoding="utf-8")
    try:
        (TREE / path).write_text(original[:start] + new + original[end:], encoding="utf-8")
        return "does not compile" if not build([part]) else notices(part, seconds)
    finally:
        (TREE / path).write_text(original, encoding="utf-8")


def describe(mutant):
    path, start, end, new = mutant
    text = (ROOT / path).read_text(encoding="utf-8")
    line = text.count("\n", 0, start) + 1
    return f"{path}:{line}: '{text[start:end]}' as '{new}': {text.splitlines()[line - 1].strip()}"


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--count", type=int, default=20)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--part", action="append", choices=sorted(TESTS))
    asked = options.parse_args()
    parts, survivors, killed, void = asked.part or sorted(TESTS), [], 0, 0
    prepare(parts)
    for part in parts:
        seconds = 30 + 10 * unchanged_seconds(part)  # a change may make a search endless
        every = mutants(part)
        for mutant in random.Random(asked.seed).sample(every, min(asked.count, len(every))):
            by = try_one(part, mutant, seconds)
            void += by == "does not compile"
            killed += by not in (None, "does not compile")
            if by is None:
                survivors.append(describe(mutant))
                print("survived:", survivors[-1], flush=True)
    print(f"{killed + len(survivors)} changes, {killed} noticed, {len(survivors)} survived; "
          f"{void} more did not compile")
    return 0


if __name__ == "__main__":
    sys.exit(main())
