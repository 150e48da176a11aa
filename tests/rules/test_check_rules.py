#!/usr/bin/env python3
"""check_rules.py must find each kind of breach: it is run over a small tree that holds one of each."""
import pathlib
import subprocess
import sys
import tempfile

LONG = "int f(void)\n{\n" + "    ;\n" * 60 + "    return 0;\n}\n"
# file, what is in it, what must be said of it (None: nothing)
TREE = [
    ("src/brewing/law.c", '#include "pantry/lot.h"\n', "1: brewing must not include pantry"),
    ("src/model/rows.c", '#include "wortfit/report.h"\n', "1: model must not include report"),
    ("src/solve/solve.c", "\n#include <glpk.h>\n", "2: only src/solve/solver_glpk.c may include glpk.h"),
    ("src/cli/tree.c", "#include <cjson/cJSON.h>\n", "1: only src/pantry/json_*.[ch]"),
    ("src/pantry/copy.c", "void f(char *a) { strcpy(a, a); }\n", "1: strcpy() is banned here"),
    ("src/pantry/grow.c", "void *f(void) { return malloc(1); }\n", "1: malloc() is banned here"),
    ("src/report/out.c", "void f(void) { printf(0); }\n", "1: printf() is banned here"),
    ("src/pantry/read.c", "double f(char *a) { return strtod(a, 0); }\n", "1: strtod() is banned"),
    ("src/pantry/long.c", LONG, "1: f() has 64 lines, 60 are the most"),
    ("src/pantry/page.c", "\n" * 501, "501: has 501 lines, 500 are the most"),
    ("src/model/copy.c", "\n", "1: is called like src/model/copy.c"),
    ("include/wortfit/lone.h", "size_t f(void);\n", "1: does not compile alone"),
    ("src/report/right.c", '#include "wortfit/pantry.h"\n/* strcpy(a) */ char *s = "malloc(";\n'
                           "int my_free(void *p) { return wf_free(p); }\n", None),
    ("src/base/number.c", "double g(char *a) { return strtod(a, 0); }\n", None),
]


def main():
    checker = pathlib.Path(__file__).with_name("check_rules.py")
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        for name, text, _ in TREE:
            path = pathlib.Path(folder) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        run = subprocess.run([sys.executable, checker, folder], capture_output=True, text=True)
    if run.returncode != 1:
        wrong.append(f"exit status {run.returncode}, not 1\n{run.stderr}")
    for name, _, message in TREE:
        told = [line for line in run.stdout.splitlines() if line.startswith(name + ":")]
        if message is None and told:
            wrong.append(f"{name}: nothing is wrong, but: {told}")
        if message is not None and not any(line.startswith(f"{name}:{message}") for line in told):
            # of two files that are called alike, either may be told
            if not ("called like" in message and "is called like" in run.stdout):
                wrong.append(f"{name}: want '{message}', got {told}")
    print("\n".join(wrong) or f"{len(TREE)} files judged rightly")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
