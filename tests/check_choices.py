#!/usr/bin/env python3
"""What `solve --alternatives` and `solve --trade` write with `--json` keeps to its schema, says the
same as the text, and each recipe of it is one that other commands read.

    check_choices.py SOURCE_FOLDER WORTFIT
"""
import json
import pathlib
import re
import subprocess
import sys

import jsonschema

ROOT, PROGRAM = (pathlib.Path(a).resolve() for a in sys.argv[1:3])
CELLAR = ["--store", "examples/alder-lane-cellar.json", "--on", "2026-11-25"]
BEERS = [["amber-ale", *CELLAR], ["german-pils"], ["dry-stout", "--units", "us"]]
NONE = ["amber-ale", "--colour", "40 SRM", *CELLAR]
problems = []


def run(*args, text=None):
    done = subprocess.run([PROGRAM, *args], cwd=ROOT, capture_output=True, text=True, timeout=120,
                          input=text)
    return done.stdout, done.returncode


def check(what, right):
    if not right:
        problems.append(what)


def validator(name):
    schemas = [json.loads((ROOT / path).read_text(encoding="utf-8"))
               for path in ("src/pantry/recipe.schema.json", "src/report/alternatives.schema.json",
                            "src/report/trade.schema.json")]
    by_id = {s["$id"]: s for s in schemas}
    jsonschema.Draft202012Validator.check_schema(by_id[name])
    resolver = jsonschema.RefResolver(name, by_id[name], store=by_id)
    return jsonschema.Draft202012Validator(by_id[name], resolver=resolver)


def solve(name, schema, *args):
    """The text and the checked JSON of a solve."""
    text, text_status = run("solve", *args)
    out, json_status = run("solve", *args, "--json")
    check(f"{name}: exit status {text_status} and {json_status}", text_status == json_status == 0)
    result = json.loads(out)
    for error in validator(schema).iter_errors(result):
        problems.append(f"{name}: {error.json_path}: {error.message[:200]}")
    check(f"{name}: complete", result["complete"])
    return text, result


def check_readable(name, recipe):
    """Another command reads it and reckons the same."""
    out, status = run("check", "-", "--json", text=json.dumps(recipe))
    check(f"{name}: is read", status == 0 and out)
    if out:
        again = json.loads(out)
        again = again.get("recipe", again) if isinstance(again.get("recipe"), dict) else again
        check(f"{name}: gravity read back",
              abs(again["predicted"]["og"] - recipe["predicted"]["og"]) < 1e-9)


def money(value):
    """As a regular expression; the text has the figure before its noise is cut off."""
    return "(" + "|".join(re.escape(f"{value + by:.2f}") for by in (-1e-7, 1e-7)) + ")"


def things(recipe):
    return {m["id"] for m in recipe["malts"]} | {h["id"] for h in recipe["hops"]}


def check_alternatives(beer):
    name = f"alternatives of {' '.join(beer)}"
    text, result = solve(name, "alternatives.schema.json", *beer, "--alternatives", "4")
    recipes = result["recipes"]
    listed = text.split("\nAlternatives")[1]
    check(f"{name}: one more than wanted", len(recipes) == 5)
    check(f"{name}: the first is that of solve",
          recipes[0]["malts"] == json.loads(run("solve", *beer, "--json")[0])["malts"])
    for i, recipe in enumerate(recipes):
        check(f"{name} {i}: apart", ("apart" in recipe) == (i > 0))
        check(f"{name} {i}: in order", i == 0 or recipe["cost"] > recipes[i - 1]["cost"] * 0.9999)
        check(f"{name} {i}: cost in the text",
              re.search(rf"^ {i + 1}  +{money(recipe['cost'])} ", listed, re.M))
        check(f"{name} {i}: another", all(things(recipe) != things(r) for r in recipes[:i]))
        if i > 0:
            more = abs(recipe["cost"] - recipes[0]["cost"])
            check(f"{name} {i}: {recipe['apart']}", more < 0.005 or
                  re.search(rf"; {money(more)}( \w+)? dearer than the first$", recipe["apart"]))
            check_readable(f"{name} {i}", recipe)


def check_trade(beer):
    name = f"trade of {' '.join(beer)}"
    text, result = solve(name, "trade.schema.json", *beer, "--trade", "cost,fewest")
    points, before = result["trade"], None
    for point in points:
        recipe = point["recipe"]
        check(f"{name}: ingredients", point["ingredients"] == recipe["ingredients"])
        check(f"{name}: cost", abs(point["cost"] - recipe["cost"]) < 1e-6)
        check(f"{name}: bound", point["bound"] == recipe["proof"]["bound"] <= point["cost"])
        check(f"{name}: a frontier", before is None or
              (point["ingredients"] > before["ingredients"] and point["cost"] < before["cost"]))
        check(f"{name}: in the text",
              re.search(rf"^ +{point['ingredients']}  +{money(point['cost'])}\b", text, re.M))
        check_readable(name, recipe)
        before = point
    best = json.loads(run("solve", *beer, "--json")[0])
    check(f"{name}: ends at the lowest cost",
          abs(points[-1]["cost"] - best["cost"]) <= 2e-4 * best["cost"])
    fewest = json.loads(run("solve", *beer, "--goal", "fewest", "--json")[0])
    check(f"{name}: starts at the fewest", points[0]["ingredients"] == fewest["ingredients"])


def check_none(*option):
    """No recipe: exactly what solve says, by text and JSON."""
    for form in ([], ["--json"]):
        check(f"none with {option[0]} {form}",
              run("solve", *NONE, *option, *form) == run("solve", *NONE, *form))


def main():
    for beer in BEERS:
        check_alternatives(beer)
        check_trade(beer)
    check_none("--alternatives", "3")
    check_none("--trade", "fewest,cost")
    print("\n".join(problems))
    print(f"{len(BEERS)} beers, {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
