#!/usr/bin/env python3
"""What `--json` writes keeps to its schema, and says the same as the text.

    check_results.py SOURCE_FOLDER WORTFIT
"""
import json
import pathlib
import re
import subprocess
import sys

import jsonschema

ROOT, PROGRAM = (pathlib.Path(a).resolve() for a in sys.argv[1:3])
CELLAR = ["--store", "examples/alder-lane-cellar.json", "--on", "2026-11-25"]
# arguments of solve, and the exit status
SOLVES = [
    (["german-pils"], 0),
    (["amber-ale", "--og", "1.055", *CELLAR], 0),
    (["examples/my-amber.json", *CELLAR, "--goal", "fewest,cost"], 0),
    (["american-pale-ale", "--units", "us", "--batch", "5 gal"], 0),
    (["saison", "--brewhouse", "examples/brewhouse-small-pots.json"], 0),
    (["amber-ale", "--colour", "40 SRM", *CELLAR], 3),
    (["amber-ale", "--avoid", "crystal-60", "--store", "examples/small-cellar.json"], 3),
    (["american-lager", "--store", "examples/small-cellar.json"], 3),
    (["weissbier", "--colour", "30 SRM"], 3),
    (["amber-ale", "--og", "1.055", *CELLAR, "--worth"], 0),
    (["amber-ale", "--og", "1.046..1.062", "--colour", "9..17 SRM", "--ratio", "0.35..0.9", *CELLAR,
      "--sure", "80 %"], 0),
    (["amber-ale", "--og", "1.055", *CELLAR, "--sure", "90 %"], 3),
]
problems = []


def run(*args):
    done = subprocess.run([PROGRAM, *args], cwd=ROOT, capture_output=True, text=True, timeout=120)
    return done.stdout, done.returncode


def check(what, right):
    if not right:
        problems.append(what)


def check_recipe(name, recipe, text):
    """The text tells the figures of the JSON, and as many things are in it."""
    beer = recipe["predicted"]
    check(f"{name}: gravity", f"original gravity {beer['og']:.3f}" in text)
    check(f"{name}: shares add up to 1",
          abs(sum(m["share"] for m in recipe["malts"]) - 1) < 1e-9)
    check(f"{name}: bitterness adds up",
          abs(sum(h["ibu"] for h in recipe["hops"]) - beer["ibu"]) < 1e-6)
    shown = re.search(r"^Cost  ([0-9.]+)", text, re.M)
    check(f"{name}: cost", shown and abs(float(shown.group(1)) - recipe["cost"]) < 0.00501)
    for thing in recipe["malts"] + recipe["hops"]:
        check(f"{name}: {thing['name']} is in the text", thing["name"][:20] in text)
    if "\nIt misses:\n" in text:
        shown = text.split("\nIt misses:\nWish ")[1].split("\n\n")[0].count("\n")
        check(f"{name}: wishes missed", shown == sum(not w["met"] for w in recipe["wishes"]))
    else:
        met = text.split("\nWish ")[-1].count("  met")
        check(f"{name}: wishes met", met == sum(w["met"] for w in recipe["wishes"]))


def check_reasons(name, answer, text):
    """What stands in the way and what would do is the same in both."""
    flat = " ".join(text.split())
    for conflict in answer["conflicts"]:
        for demand in conflict["demands"]:
            check(f"{name}: {demand['what']} is in the text", demand["what"] in flat)
        check(f"{name}: irreducible", conflict["irreducible"])
    for number, change in enumerate(answer["remedies"], 1):
        check(f"{name}: change {number}", f"{number} " in flat and change["words"] in flat)
    costs = [c["cost"] for c in answer["remedies"] if "cost" in c]
    check(f"{name}: cheapest first", costs == sorted(costs))
    check(f"{name}: something is told", answer["reasons"] and answer["complete"])


def check_solve(args, status, schema):
    name = " ".join(args)
    metric = [a for a in args if a not in ("--units", "us")]
    text, text_status = run("solve", *metric)
    out, json_status = run("solve", *metric, "--json")
    check(f"{name}: exit status {text_status} and {json_status}, not {status}",
          text_status == json_status == status)
    if not out:
        problems.append(f"{name}: prints nothing")
        return
    recipe = json.loads(out)
    try:
        jsonschema.Draft202012Validator(schema).validate(recipe)
    except jsonschema.ValidationError as e:
        problems.append(f"{name}: {e.json_path}: {e.message}")
    check(f"{name}: status", (recipe["status"] == "none") == (status == 3))
    check_recipe(name, recipe.get("closest", recipe), text)
    if status == 3 and "--sure" not in args:
        check_reasons(name, recipe, text)


def check_list(kind, least):
    """Every member has id and name, ids differ, and the text has as many lines."""
    members = json.loads(run(kind, "--json")[0])
    ids = [m["id"] for m in members]
    check(f"{kind}: {len(ids)} members", len(ids) >= least and len(set(ids)) == len(ids))
    check(f"{kind}: names", all(m["name"] for m in members))
    check(f"{kind}: lines", len(run(kind)[0].splitlines()) == len(ids) + 1)
    if kind == "beers":
        check("beers: ranges", all(m["og"]["low"] < m["og"]["high"] for m in members))
    for id_ in ids[:: max(1, len(ids) // 10)]:
        page, status = run(kind, id_)
        check(f"{kind} {id_}: page", status == 0 and page.splitlines()[0].endswith(f" {id_}"))


def main():
    schema = json.loads((ROOT / "src/pantry/recipe.schema.json").read_text(encoding="utf-8"))
    for args, status in SOLVES:
        check_solve(args, status, schema)
    for kind, least in (("beers", 10), ("malts", 50), ("hops", 50), ("yeasts", 15)):
        check_list(kind, least)
    print("\n".join(problems))
    print(f"{len(SOLVES)} recipes and 4 lists, {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
