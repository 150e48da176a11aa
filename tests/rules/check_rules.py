#!/usr/bin/env python3
"""Checks the rules of the house that no compiler knows; see DEVELOPERS.md.

    check_rules.py SOURCE_FOLDER [C_COMPILER]

Includes go one way, foreign libraries come in by one door, some calls are banned, functions fit a
screen, file names are unique, and each public header compiles alone. Every breach is a line of its own.
"""
import fnmatch
import json
import pathlib
import re
import subprocess
import sys

# What a part may include of the others. All may include the public headers' own part of themselves.
MAY_INCLUDE = {
    "base": set(),
    "brewing": {"base"},
    "quantity": {"base", "brewing"},
    "catalogue": set(),
    "pantry": {"base", "brewing", "quantity", "catalogue"},
    "model": {"base", "brewing", "quantity", "pantry"},
    "solve": {"base", "brewing", "quantity", "pantry", "model"},
    "brewday": {"base", "brewing", "quantity", "pantry"},
    "report": {"base", "brewing", "quantity", "pantry", "brewday", "solve"},
    "cli": {"base", "brewing", "quantity", "pantry", "brewday", "solve", "report"},
    "pages": {"base", "pantry", "cli"},
}
# The part that each public header belongs to; status.h is everybody's.
PUBLIC = {"brewing.h": "brewing", "process.h": "brewing", "brewday.h": "brewday", "quantity.h": "quantity", "pantry.h": "pantry", "stock.h": "pantry",
          "solve.h": "solve", "choices.h": "solve", "worth.h": "solve", "sure.h": "solve",
          "check.h": "solve", "scale.h": "solve", "plan.h": "solve",
          "report.h": "report", "wortfit.h": "cli"}
# Public headers that a part below may see: the goals of a search are named in the model's rows.
SHARED = {("model", "wortfit/solve.h")}

# A header, and the only files that may include it.
DOORS = {
    "glpk.h": ["src/solve/solver_glpk.c"],
    "cjson/cJSON.h": ["src/pantry/json_*.[ch]", "src/pages/man_format.c", "tests/*"],
    "locale.h": ["src/base/number.c", "tests/test_number.c"],
}

# A call (a regular expression), and the only files that may make it.
BANNED = {
    r"strcpy|strcat|sprintf|vsprintf|gets|strtok": [],
    r"atoi|atol|atof": ["tests/faults/faults.c"],
    r"system|popen|fork|vfork|posix_spawnp?|exec[lv]p?e?|dlopen": ["tests/*"],
    r"tmpnam|tempnam|mktemp|mkstemp|tmpfile|fopen|freopen": ["src/pages/*", "tests/*"],
    r"setlocale": ["tests/*"],
    r"strto(d|f|ld|l|ul|ll|ull)": ["src/base/number.c"],
    r"cJSON_GetObjectItem|cJSON_Minify": [],
    r"assert_float_equal|assert_double_equal": [],
    r"malloc|calloc|realloc|free": ["src/base/alloc.c", "tests/*"],
    r"abort|exit|_Exit": ["tests/*"],
    r"printf|puts|putchar": ["src/cli/*", "src/pages/make_pages.c", "tests/*"],
    r"getenv": ["src/cli/terminal.c", "tests/*"],
}

LINES_MOST = 60       # of a function, braces and signature included
FILE_LINES_MOST = 500
TEST_LINES_MOST = 600  # tests are mostly rows


def tell(breaches, path, line, text):
    breaches.append(f"{path}:{line}: {text}")


def fits(path, patterns):
    return any(fnmatch.fnmatch(path, p) for p in patterns)


def without_comments_and_strings(text):
    """The text with comments and string contents blanked; lines stay where they are."""
    token = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', re.S)
    return token.sub(lambda m: re.sub(r"[^\n]", " ", m.group()), text)


def part_of(include):
    """The part that a quoted include belongs to, or None."""
    head, _, tail = include.partition("/")
    return PUBLIC.get(tail) if head == "wortfit" else head if head in MAY_INCLUDE else None


def check_includes(breaches, path, text):
    mine = path.split("/")[1] if path.startswith("src/") else None
    for n, line in enumerate(text.splitlines(), 1):
        m = re.match(r'\s*#\s*include\s*([<"])([^>"]+)[>"]', line)
        if not m:
            continue
        name = m.group(2)
        for header, files in DOORS.items():
            if name.endswith(header) and not fits(path, files):
                tell(breaches, path, n, f"only {', '.join(files)} may include {header}")
        part = part_of(name)
        if (m.group(1) == '"' and mine and part and part != mine
                and part not in MAY_INCLUDE[mine] and (mine, name) not in SHARED):
            tell(breaches, path, n, f"{mine} must not include {part}: {name}")


def check_calls(breaches, path, text):
    for call, files in BANNED.items():
        if fits(path, files):
            continue
        for n, line in enumerate(text.splitlines(), 1):
            m = re.search(rf"(?<![\w.>])({call})\s*\(", line)
            if m:
                tell(breaches, path, n, f"{m.group(1)}() is banned here")


def check_lengths(breaches, root, paths):
    out = subprocess.run(["ctags", "--languages=C", "--kinds-C=f", "--fields=+ne",
                          "--output-format=json", "-f", "-", *paths],
                         cwd=root, capture_output=True, text=True, check=True).stdout
    lengths = []
    for tag in map(json.loads, out.splitlines()):
        length = tag["end"] - tag["line"] + 1
        lengths.append(length)
        if length > LINES_MOST:
            tell(breaches, tag["path"], tag["line"],
                 f"{tag['name']}() has {length} lines, {LINES_MOST} are the most")
    return sorted(lengths)


def check_headers(breaches, root, compiler):
    headers = sorted((root / "include/wortfit").glob("*.h"))
    for header in headers:
        run = subprocess.run([compiler, "-std=c17", "-pedantic", "-Wall", "-Wextra", "-Werror",
                              "-fsyntax-only", "-I", "include", "-include",
                              str(header.relative_to(root)), "-x", "c", "/dev/null"],
                             cwd=root, capture_output=True, text=True)
        if run.returncode != 0:
            tell(breaches, header.relative_to(root), 1, "does not compile alone:\n" + run.stderr)
    return len(headers)


def main():
    root = pathlib.Path(sys.argv[1]).resolve()
    compiler = sys.argv[2] if len(sys.argv) > 2 else "cc"
    paths = sorted(str(p.relative_to(root)) for top in ("include", "src", "tests")
                   for p in (root / top).rglob("*.[ch]"))
    breaches, names = [], {}
    for path in paths:
        text = (root / path).read_text(encoding="utf-8")
        code = without_comments_and_strings(text)
        check_includes(breaches, path, text)
        check_calls(breaches, path, code)
        lines = text.count("\n")
        most = TEST_LINES_MOST if str(path).startswith("tests") else FILE_LINES_MOST
        if lines > most:
            tell(breaches, path, lines, f"has {lines} lines, {most} are the most")
        if path.startswith("src/"):
            name = path.rsplit("/", 1)[1]
            if name in names:
                tell(breaches, path, 1, f"is called like {names[name]}")
            names[name] = path
    lengths = check_lengths(breaches, root, [p for p in paths if p.endswith(".c")])
    headers = check_headers(breaches, root, compiler)
    print("\n".join(breaches))
    print(f"{len(paths)} files, {headers} public headers, {len(lengths)} functions (median "
          f"{lengths[len(lengths) // 2]} lines, longest {lengths[-1]}), {len(breaches)} breaches")
    return 1 if breaches or not lengths else 0


if __name__ == "__main__":
    sys.exit(main())
