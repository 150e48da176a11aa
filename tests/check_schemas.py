#!/usr/bin/env python3
"""Checks the JSON Schemas beside the readers.

    check_schemas.py SOURCE_FOLDER

Each schema is valid itself, knows the same keys as the reader's tables, takes every file of its kind
in examples/, targets/ and src/catalogue/, and refuses what the reader refuses for its shape. Needs the
Python package jsonschema; without it the check fails, for a check that is skipped tells nothing.
"""
import copy
import json
import re
import sys
from pathlib import Path

try:
    import jsonschema
except ImportError:
    sys.exit("check_schemas.py: needs jsonschema, on Debian: apt-get install python3-jsonschema")

ROOT = Path(sys.argv[1]).resolve()
PANTRY = ROOT / "src" / "pantry"
KINDS = ("store", "brewhouse", "target", "recipe", "catalogue", "log")

# The sources whose rows make the keys of a kind, and whether words of character are keys too.
KEYS = {
    "store": (["store.c", "malt.c", "hop.c", "yeast.c", "ingredient.h"], True),
    "brewhouse": (["brewhouse.c"], False),
    "target": (["target.c", "target_rule.c", "target_slot.c"], True),
    "recipe": (["recipe_table.c", "recipe_line.c", "recipe_computed.c"], False),
    "log": (["brew_log.c"], False),
}
ROW = re.compile(r'\.key = "([^"]+)"|(?:WF_FIGURE|WF_WANTED|COMPUTED|ROW_NUMBER)\(\s*"([^"]+)"')

# Golden cases that a schema cannot refuse: wrong by a figure, by another value or by the catalogue,
# not by their shape. One a line.
BEYOND_SHAPE = ROOT / "tests" / "golden" / "beyond_schema.txt"

problems = []


def strip_comments(text):
    """Removes // and /* */ comments outside strings."""
    kept = re.compile(r'("(?:[^"\\]|\\.)*")|//[^\n]*|/\*.*?\*/', re.S)
    return kept.sub(lambda m: m.group(1) or "", text)


def read(path):
    return json.loads(strip_comments(path.read_text(encoding="utf-8")))


def kind_of(document):
    """The kind that a file's own keys tell."""
    for kind in ("store", "brewhouse", "target", "recipe"):
        if isinstance(document, dict) and kind in document:
            return kind
    return "catalogue"


def keys_of(schema):
    """Every property name in a schema, at any depth, but those of maps by word."""
    keys = set()
    if isinstance(schema, dict):
        for name, part in schema.items():
            if name == "properties":
                keys |= set(part)
            keys |= keys_of(part)
    elif isinstance(schema, list):
        for part in schema:
            keys |= keys_of(part)
    return keys


def keys_of_tables(files, with_words):
    keys = set()
    for file in files:
        for m in ROW.finditer((PANTRY / file).read_text(encoding="utf-8")):
            keys.add(m.group(1) or m.group(2))
    if with_words:
        header = (ROOT / "include" / "wortfit" / "pantry.h").read_text(encoding="utf-8")
        for macro in ("WF_MALT_WORDS", "WF_HOP_WORDS"):
            body = re.search(rf"#define {macro}\(X\)((?:.*\\\n)*.*)\n", header)[1]
            keys |= set(re.findall(r'X\(\w+, "([^"]+)"', body))
    return keys


def check_keys(schemas):
    for kind, (files, with_words) in KEYS.items():
        ours, theirs = keys_of_tables(files, with_words), keys_of(schemas[kind])
        for key in sorted(ours - theirs):
            problems.append(f"{kind}.schema.json lacks \"{key}\", which the reader takes")
        for key in sorted(theirs - ours):
            problems.append(f"{kind}.schema.json has \"{key}\", which the reader refuses")


def check_lines(validators, counts):
    """Brew logs, line by line."""
    for path in sorted((ROOT / "examples").glob("*.jsonl")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            counts["log"] += 1
            for error in validators["log"].iter_errors(json.loads(line)):
                problems.append(f"{path.name}:{number}: {error.message[:200]}")


def check_files(validators):
    counts = dict.fromkeys(KINDS, 0)
    check_lines(validators, counts)
    paths = [p for top in ("examples", "targets", "src/catalogue")
             for p in sorted((ROOT / top).glob("*.json"))]
    for path in paths:
        document = read(path)
        kind = kind_of(document)
        counts[kind] += 1
        for error in validators[kind].iter_errors(document):
            place = "/".join(map(str, error.absolute_path))
            problems.append(f"{path.relative_to(ROOT)}: {place}: {error.message[:200]}")
    for kind, count in counts.items():
        if count == 0:
            problems.append(f"no file of the kind {kind} was checked")
    return sum(counts.values())


def check_refusals(validators):
    """The golden cases of wrong files: refused unless they are wrong by more than their shape."""
    beyond = set(BEYOND_SHAPE.read_text(encoding="utf-8").split())
    cases = {case.name: next(case.glob("*.json"))
             for case in (ROOT / "tests" / "golden" / "pantry_invalid").iterdir()}
    for name in sorted(beyond - set(cases)):
        problems.append(f"{BEYOND_SHAPE.name}: no case \"{name}\"")
    for name, path in sorted(cases.items()):
        taken = validators[path.stem].is_valid(read(path))
        if taken and name not in beyond:
            problems.append(f"{name}: the schema takes what the reader refuses")
        if name in beyond and not taken:
            problems.append(f"{name}: the schema refuses it; take it out of {BEYOND_SHAPE.name}")
    return len(cases) - len(beyond)


def check_log_refusals(validators):
    """The golden cases of wrong logs: where all lines are JSON, one at least has a wrong shape, but for
    those that are wrong by another line or by the catalogue."""
    beyond, refused = {"later_of_nobody", "same_id_twice", "figures", "recipe_wrong",
                       "recipe_beyond_the_laws", "key_twice"}, 0
    for case in sorted((ROOT / "tests" / "golden" / "log_invalid").iterdir()):
        lines = (case / "log.jsonl").read_text(encoding="utf-8").splitlines()
        try:
            documents = [json.loads(line) for line in lines if line.strip()]
        except ValueError:
            continue
        taken = all(map(validators["log"].is_valid, documents))
        refused += not taken
        if taken != (case.name in beyond):
            problems.append(f"log_invalid/{case.name}: the schema {'takes' if taken else 'refuses'} it")
    return refused


def main():
    schemas = {k: json.loads((PANTRY / f"{k}.schema.json").read_text(encoding="utf-8"))
               for k in KINDS}
    store = {s["$id"]: s for s in copy.deepcopy(schemas).values()}
    validators = {}
    for kind, schema in schemas.items():
        jsonschema.Draft202012Validator.check_schema(schema)
        resolver = jsonschema.RefResolver(schema["$id"], schema, store=store)
        validators[kind] = jsonschema.Draft202012Validator(schema, resolver=resolver)
    check_keys(schemas)
    files, refused = check_files(validators), check_refusals(validators)
    refused += check_log_refusals(validators)
    print("\n".join(problems))
    print(f"{len(schemas)} schemas, {files} files, {refused} wrong files, {len(problems)} problems")
    return 1 if problems or not refused else 0


if __name__ == "__main__":
    sys.exit(main())
