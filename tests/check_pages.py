#!/usr/bin/env python3
"""Manual pages: free of mistakes in their markup, whole, and with examples that work.

    check_pages.py SOURCE_FOLDER WORTFIT FOLDER_OF_PAGES

Markup is read by mandoc and by groff where they are installed. The options of a help page and of the
manual page must be the same, and each command of the examples is run in a folder with files of the names
they use.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

# What the examples call the files that a reader would have of their own.
FILES = {
    "cellar.json": "examples/alder-lane-cellar.json",
    "store.json": "examples/alder-lane-cellar.json",
    "my-amber.json": "examples/my-amber.json",
    "mine.json": "examples/spring-bitter.json",
    "recipe.json": "examples/last-autumn-amber.json",
    "order.csv": "examples/spring-order.csv",
}
# And a recipe, which is made of the cellar.
RECIPE, SOLVED = "amber.json", "wortfit solve amber-ale --store cellar.json --json --on 2026-11-25"
RIGHT = (0, 3)  # exit statuses: a recipe that misses a wish is an answer too


def run(words, **more):
    return subprocess.run(words, text=True, capture_output=True, timeout=120, stdin=subprocess.DEVNULL, **more)


def check_markup(page, problems):
    # The pages have no date, so that the same sources make the same pages.
    if shutil.which("mandoc"):
        out = run(["mandoc", "-Tlint", "-Wwarning", str(page)]).stdout
        problems += [line for line in out.splitlines() if "missing date" not in line]
    if shutil.which("groff"):
        problems += run(["groff", "-man", "-ww", "-Tutf8", "-z", str(page)]).stderr.splitlines()


def plain(page):
    """The page's source without its markup."""
    text = page.read_text(encoding="utf-8")
    return re.sub(r"\\f[BIR]|\\&", "", text).replace("\\-", "-").replace("\\e", "\\")


def check_whole(page, text, program, problems):
    """Every option of the help page, and the sections that every page of a command has."""
    command = page.stem.partition("-")[2]
    shown = run([program, "help", command, "--all"] if command else [program, "help"]).stdout
    for option in re.findall(r"^  (--[a-z-]+)", shown, re.M):
        if not re.search(rf"^{option}\b", text, re.M):
            problems.append(f"{page.name}: says nothing of {option}")
    told = set(re.findall(r"^  (--[a-z-]+)", shown, re.M))
    for option in re.findall(r"^(--[a-z-]+)", text, re.M) if command else []:
        if option not in told:
            problems.append(f"{page.name}: {option} is not on the help page")
    for name in [] if command else re.findall(r"^  ([a-z]+) ", shown, re.M):
        if f"wortfit-{name} (1)" not in text or not (page.parent / f"wortfit-{name}.1").exists():
            problems.append(f"{page.name}: says nothing of the command {name}")
    wanted = ["NAME", "SYNOPSIS", "DESCRIPTION", "EXIT STATUS", "EXAMPLES", "SEE ALSO"]
    for section in wanted + (["ENVIRONMENT"] if not command else ["OPTIONS"]):
        if f".SH {section}\n" not in text:
            problems.append(f"{page.name}: has no section {section}")


def examples(text):
    part = text.partition(".SH EXAMPLES\n.nf\n")[2].partition(".fi")[0]
    return [line for line in part.splitlines() if line]


def check_examples(page, text, root, env, problems):
    lines = examples(text)
    if not lines:
        problems.append(f"{page.name}: has no example")
    for line in lines:
        with tempfile.TemporaryDirectory() as folder:
            for name, source in FILES.items():
                shutil.copy(root / source, pathlib.Path(folder) / name)
            (pathlib.Path(folder) / "examples").symlink_to(root / "examples")
            run(["sh", "-c", f"{SOLVED} >{RECIPE}"], cwd=folder, env=env, check=True)
            done = run(["sh", "-c", line], cwd=folder, env=env)
        if done.returncode not in RIGHT or not done.stdout:
            problems.append(f"{page.name}: {line}: exit status {done.returncode}, {done.stderr.strip()} "
                            "(files that examples may name are in FILES of check_pages.py)")
    return len(lines)


def main():
    root, program = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()
    pages = sorted(pathlib.Path(sys.argv[3]).glob("man*/*.[15]"))
    problems, count = [], 0
    with tempfile.TemporaryDirectory() as folder:
        (pathlib.Path(folder) / "wortfit").symlink_to(program)
        env = dict(os.environ, PATH=f"{folder}:{os.environ['PATH']}", LC_ALL="C", TZ="UTC")
        for page in pages:
            text = plain(page)
            check_markup(page, problems)
            if page.suffix == ".1":
                check_whole(page, text, program, problems)
            if page.stem != "wortfit" and page.suffix == ".1":
                count += check_examples(page, text, root, env, problems)
    for name in ("mandoc", "groff"):
        if not shutil.which(name):
            print(f"{name} is not installed: it did not read the pages")
    if not any(p.suffix == ".5" for p in pages) or count == 0:
        problems.append("there are no pages")
    print("\n".join(problems))
    print(f"{len(pages)} pages, {count} examples, {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
