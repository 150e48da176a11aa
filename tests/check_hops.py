#!/usr/bin/env python3
"""What `hops RECIPE` makes of recipes that `solve` found.

    check_hops.py SOURCE_FOLDER WORTFIT

The JSON is a recipe by its schema, and `check` reckons the same from it. With the alpha acid that a
recipe was made with, nothing changes; with bags of another, its bitterness is kept and only what may
change does; refitted once more, it stays as it is. The text says the same as the JSON.
"""
import json
import re
import subprocess
import sys

from checking import PROGRAM, ROOT, check, finish, schema, validate

BEERS = ["amber-ale", "german-pils", "american-ipa", "dry-stout", "saison", "english-barleywine"]
LATE_MINUTES = 20
TOLERANCE = 1.0  # IBU
refitted = 0


def run(*args, text=None):
    done = subprocess.run([PROGRAM, *args], cwd=ROOT, capture_output=True, text=True, timeout=120,
                          input=text)
    return done.stdout, done.returncode, done.stderr


VALIDATOR = schema("recipe")


def refit(name, recipe, *args):
    """The refitted recipe, checked; and the text about it."""
    source = json.dumps(recipe)
    out, status, complaint = run("hops", "-", *args, "--json", text=source)
    check(f"{name}: ends with {status}: {complaint}", status == 0)
    if status:
        return None, ""
    result = json.loads(out)
    validate(name, VALIDATOR, result)
    again = json.loads(run("check", "-", "--json", text=out)[0])
    for figure, value in result["predicted"].items():
        check(f"{name}: check reckons another {figure}",
              abs(again["predicted"][figure] - value) <= 1e-9 * max(1, abs(value)))
    check(f"{name}: the grist is another", [(m["id"], m["kg"]) for m in result["malts"]] ==
          [(m["id"], m["kg"]) for m in recipe["malts"]])
    check(f"{name}: gravity", abs(result["predicted"]["og"] - recipe["predicted"]["og"]) < 1e-9)
    text = run("hops", "-", *args, text=source)[0]
    changes = text[text.index("What changes"):]
    check(f"{name}: a line of what changes is too wide", max(map(len, changes.splitlines())) <= 80)
    return result, text


def place(hop):
    return hop["id"], hop["use"], hop.get("minutes")


def is_late(hop):
    return hop["use"] in ("stand", "dry") or (hop["use"] == "boil" and hop["minutes"] <= LATE_MINUTES)


def check_same(name, before, after):
    check(f"{name}: hops change with nothing new",
          [(place(h), h["g"]) for h in before["hops"]] == [(place(h), h["g"]) for h in after["hops"]])


def check_beer(beer):
    global refitted
    recipe = json.loads(run("solve", beer, "--json")[0])
    same, text = refit(f"{beer}, the same bags", recipe)
    check_same(f"{beer}, the same bags", recipe, same)
    check(f"{beer}: the text does not say that nothing changes", "Nothing has to be changed" in text)
    bags = []
    for at, hop in enumerate(dict.fromkeys(h["id"] for h in recipe["hops"])):
        alpha = next(h["alpha"] for h in recipe["hops"] if h["id"] == hop)
        bags += ["--alpha", f"{hop}={100 * alpha * (0.8 if at % 2 == 0 else 0.9):.2f}%"]
    after, text = refit(f"{beer}, new bags", recipe, *bags)
    if not after:
        return
    refitted += 1
    check_bags(beer, recipe, after, text, bags)


def check_bags(beer, recipe, after, text, bags):
    early = [h for h in recipe["hops"] if not is_late(h)]
    step = min(h["ibu"] / h["g"] for h in early)
    off = abs(after["predicted"]["ibu"] - recipe["predicted"]["ibu"])
    check(f"{beer}: {off:.2f} IBU off", off <= max(TOLERANCE, step / 2) + 1e-6)
    late = [(place(h), h["g"]) for h in recipe["hops"] if is_late(h)]
    check(f"{beer}: late hops change", late == [(place(h), h["g"]) for h in after["hops"] if is_late(h)])
    for hop in after["hops"]:
        wanted = [b.split("=")[1] for b in bags if b.startswith(hop["id"] + "=")]
        check(f"{beer}: {hop['id']} has another alpha acid than its bag",
              abs(100 * hop["alpha"] - float(wanted[0].rstrip("%"))) < 1e-9)
    changes = len(re.findall(r"^boil .*[+-]\d+ g$", text, re.M))
    check(f"{beer}: {changes} changes in the text, {after['proof']['value']} proved",
          changes == after["proof"]["value"] == after["proof"]["bound"])
    again, _ = refit(f"{beer}, once more", after, *bags)
    check_same(f"{beer}, once more", after, again)


def check_wishes():
    recipe = json.loads(run("solve", "amber-ale", "--json")[0])
    for args, figure, low, high in ((["--ratio", "0.7"], "ratio", 0.68, 0.72),
                                    (["--bitterness", "40..42 IBU"], "ibu", 40, 42),
                                    (["--bitterness", ">= 50 IBU", "--change", "all"], "ibu", 50, 60)):
        after, _ = refit(str(args), recipe, *args)
        check(f"{args}: {figure}", low - 1e-6 <= after["predicted"][figure] <= high + 1e-6)


def main():
    for beer in BEERS:
        check_beer(beer)
    check_wishes()
    check(f"only {refitted} were refitted", refitted == len(BEERS))
    sys.exit(finish())


if __name__ == "__main__":
    main()
