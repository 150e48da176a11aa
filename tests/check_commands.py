#!/usr/bin/env python3
"""The commands that start from a recipe: check, compare and scale.

    check_commands.py SOURCE_FOLDER WORTFIT

Their JSON keeps to its schema and says the same as their text; recipes from print give what is printed
beside them (tests/published/recipes.csv); and a recipe that is scaled there and back is the same.
"""
import csv
import json
import pathlib
import sys
import tempfile

from checking import ROOT, check, finish, run, schema, validate

AMBER, BITTER = "examples/last-autumn-amber.json", "examples/spring-bitter.json"
CELLAR = ["--store", "examples/alder-lane-cellar.json", "--on", "2026-11-25"]
POTS = ["--brewhouse", "examples/brewhouse-small-pots.json"]


def as_json(args, status, validator):
    out, got = run(*args, "--json")
    check(f"{' '.join(args)}: exit status {got}, not {status}", got == status)
    document = json.loads(out)
    validate(" ".join(args), validator, document)
    return document


# ---- Check ------------------------------------------------------------------------------------------

CHECKS = [
    ([AMBER], 0),
    ([BITTER, *CELLAR], 0),
    ([BITTER, *POTS], 0),
    ([AMBER, "--target", "examples/my-amber.json"], 3),
    ([BITTER, "--target", "weissbier", *CELLAR], 3),
]


def check_check(args, status, validator):
    name = "check " + " ".join(args)
    recipe = as_json(["check", *args], status, validator)
    text = run("check", *args)[0]
    beer = recipe["predicted"]
    check(f"{name}: gravity", f"original gravity {beer['og']:.3f}" in text)
    check(f"{name}: colour", f"colour {beer['srm']:.1f} SRM" in text)
    check(f"{name}: ranges", "ranges" in recipe and "90 % range" in text)
    check(f"{name}: enzymes", f"diastatic power {beer['lintner']:.0f} Lintner" in text)
    check(f"{name}: cost", f"\nCost  {recipe['cost']:.2f}" in text)
    for h in recipe["hops"]:
        shown = "-" if h["use"] == "dry" else f"{h['ibu']:.1f} IBU"
        check(f"{name}: {h['name']}", any(h["name"][:20] in line and shown in line
                                          for line in text.splitlines()))
    missed = sum(not w["met"] for w in recipe["wishes"])
    check(f"{name}: wishes", ("--target" in args) == bool(recipe["wishes"]))
    check(f"{name}: missed", (missed > 0) == (status == 3))
    if recipe["wishes"]:
        check(f"{name}: verdict", f"Verdict   {missed} of {len(recipe['wishes'])} wishes" in text)


def same(a, b):
    """Equal but for the last bits of a figure."""
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(same(a[k], b[k]) for k in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(same, a, b))
    if isinstance(a, float) and isinstance(b, float):
        return abs(a - b) <= 1e-9 * max(1, abs(a))
    return a == b


def check_solved(validator):
    """What solve gives, through the command's standard input: the same beer at the same cost."""
    solved, status = run("solve", "amber-ale", *CELLAR, "--json")
    check("solve: exit status", status == 0)
    out, status = run("check", "-", "--target", "amber-ale", *CELLAR, "--json", text=solved)
    check(f"check of what was solved: exit status {status}", status == 0)
    before, after = json.loads(solved), json.loads(out)
    validate("check of what was solved", validator, after)
    for key in ("predicted", "cost", "malts", "hops", "wishes"):
        check(f"check of what was solved: {key}", same(before[key], after[key]))


# ---- Recipes from print -----------------------------------------------------------------------------

def figure_of(recipe, row):
    if row["figure"] == "points":
        return 1000 * (recipe["predicted"]["og"] - 1)
    if row["figure"] == "ibu_total":
        return recipe["predicted"]["ibu"]
    return recipe["hops"][int(row["index"])]["ibu"]


def check_published(validator):
    lines = (ROOT / "tests/published/recipes.csv").read_text(encoding="utf-8").splitlines()
    for row in csv.DictReader(line for line in lines if not line.startswith("#")):
        path = f"tests/published/recipes/{row['recipe']}.json"
        recipe = as_json(["check", path], 0, validator)
        expected = float(row["expected"])
        if row["utilisation_at"]:
            boil, taken = recipe["predicted"]["boil_gravity"], float(row["utilisation_at"])
            expected *= 0.000125 ** (boil - taken)
        got = figure_of(recipe, row)
        check(f"{row['recipe']}, {row['figure']} {row['index']}: {got:.3f}, not {expected:.3f} "
              f"({row['source']})", abs(got - expected) <= float(row["tolerance"]))


# ---- Compare ----------------------------------------------------------------------------------------

def check_compare(args, validator):
    name = "compare " + " ".join(args)
    c = as_json(["compare", *args], 0, validator)
    text = run("compare", *args)[0]
    for key, pair in c["predicted"].items():
        if {"first", "second"} <= set(pair):
            check(f"{name}: {key}", abs(pair["second"] - pair["first"] - pair["difference"]) < 1e-12)
    for which in ("first", "second"):
        check(f"{name}: shares", abs(sum(m["share"][which] for m in c["malts"]) - 1) < 1e-9)
        check(f"{name}: bitterness",
              abs(sum(h["ibu"][which] for h in c["hops"]) - c["predicted"]["ibu"][which]) < 1e-6)
        check(f"{name}: gravity", f"{c['predicted']['og'][which]:.3f}" in text)
    for thing in c["malts"]:
        check(f"{name}: {thing['name']}", thing["name"][:20] in text)
    check(f"{name}: lines", text.count("\nboil ") + text.count("\nstand ") + text.count("\ndry, ")
          == len(c["hops"]))


def check_alike():
    text = run("compare", AMBER, AMBER)[0]
    figures = [line for line in text.splitlines() if line.startswith(("original", "colour", "Pale"))]
    check("compare with itself", len(figures) == 4 and all(f.endswith("same") for f in figures))


# ---- Scale ------------------------------------------------------------------------------------------

def weights(recipe, kind, unit):
    return [line[unit] for line in recipe[kind]]


def check_round_trip(args_there, args_back, step_kg, step_g, validator):
    name = f"there and back by {' '.join(args_there)}"
    before = as_json(["check", AMBER], 0, validator)
    there = as_json(["scale", AMBER, *args_there], 0, validator)
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "there.json"
        path.write_text(json.dumps(there), encoding="utf-8")
        back = as_json(["scale", str(path), *args_back], 0, validator)
    for a, b in zip(weights(before, "malts", "kg"), weights(back, "malts", "kg"), strict=True):
        check(f"{name}: {a} kg came back as {b}", abs(a - b) <= step_kg + 1e-9)
    for a, b in zip(weights(before, "hops", "g"), weights(back, "hops", "g"), strict=True):
        check(f"{name}: {a} g came back as {b}", abs(a - b) <= step_g + 1e-9)
    check(f"{name}: gravity", abs(before["predicted"]["og"] - back["predicted"]["og"]) < 0.001)


def main():
    recipe = schema("check")
    for args, status in CHECKS:
        check_check(args, status, recipe)
    check_solved(recipe)
    check_published(recipe)
    for args in ([AMBER, BITTER], [BITTER, AMBER, *CELLAR], [AMBER, BITTER, *POTS]):
        check_compare(args, schema("compare"))
    check_alike()
    own = ["--batch", "20 L"]
    check_round_trip(["--batch", "40 L"], own, 0.05, 1, recipe)
    check_round_trip(["--batch", "200 L"], own, 0.05, 1, recipe)
    check_round_trip(["--brewhouse", "examples/brewhouse-5gal.json"],
                     ["--brewhouse", "examples/brewhouse-20l.json"], 0.05 + 0.12, 1 + 1.6, recipe)
    return finish(least=100)


if __name__ == "__main__":
    sys.exit(main())
