"""What the checks of whole commands share. A check is called as

    check_NAME.py SOURCE_FOLDER WORTFIT ...

and ends with `sys.exit(finish())`, which prints what is wrong.
"""
import json
import pathlib
import subprocess
import sys

import jsonschema

ROOT, PROGRAM = (pathlib.Path(a).resolve() for a in sys.argv[1:3])
problems = []
counted = {"checks": 0}


def check(what, right):
    counted["checks"] += 1
    if not right:
        problems.append(what)


def run(*args, text=None):
    """Output and exit status of wortfit, run in the source folder."""
    done = subprocess.run([PROGRAM, *args], cwd=ROOT, capture_output=True, text=True, timeout=300,
                          input=text)
    return done.stdout, done.returncode


def schema(name):
    """The validator of NAME.schema.json, which may refer to the other schemas."""
    known = {}
    for path in (ROOT / "src").glob("*/*.schema.json"):
        one = json.loads(path.read_text(encoding="utf-8"))
        known[one["$id"]] = one
    one = known[f"{name}.schema.json"]
    jsonschema.Draft202012Validator.check_schema(one)
    return jsonschema.Draft202012Validator(
        one, resolver=jsonschema.RefResolver(one["$id"], one, store=known))


def validate(name, validator, document):
    for e in validator.iter_errors(document):
        problems.append(f"{name}: {e.json_path}: {e.message[:200]}")


def finish(least=1):
    """The exit status; fewer checks than `least` are a fault as well."""
    print("\n".join(problems))
    print(f"{counted['checks']} checks, {len(problems)} problems")
    return 1 if problems or counted["checks"] < least else 0
