#!/usr/bin/env python3
"""Holds brewed and learn against their schemas, the log that brewed writes against its own, and the
figures of the two against each other.

    check_brews.py SOURCE_FOLDER WORTFIT
"""
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile

from checking import PROGRAM, ROOT, check, finish, problems, schema, validate

RECIPE = ROOT / "examples/last-autumn-amber.json"


def run(folder, *args):
    done = subprocess.run([PROGRAM, *args], cwd=folder, capture_output=True, text=True, timeout=120)
    if done.returncode:
        problems.append(f"{' '.join(map(str, args))}: {done.stderr}")
        return {}
    return json.loads(done.stdout)


def figures(brew):
    return {f["figure"]: f for f in brew.get("figures", [])}


def check_brew(folder, day, args, later):
    """One brew, and what is measured of it later."""
    brewed = schema("brewed")
    on = ["--store", "cellar.json", "--on", day, "--json"]
    brew = run(folder, "brewed", RECIPE, *on, *args)
    validate(f"brewed {day}", brewed, brew)
    check(f"{day}: what was taken", len(brew.get("stock", [])) == 9)
    beer = run(folder, "brewed", RECIPE, *on, "--later", *later)
    validate(f"brewed --later {day}", brewed, beer)
    check(f"{day}: the same brew", brew.get("brew") == beer.get("brew"))
    check(f"{day}: no stock is touched later", "stock" not in beer)
    check(f"{day}: efficiency stays",
          figures(brew).get("efficiency") == figures(beer).get("efficiency"))
    return figures(beer)


def check_learned(folder, beers):
    """Of three brews that are alike to a hair, learn tells what brewed has told."""
    learned = run(folder, "learn", "cellar.brews.jsonl", "--json")
    validate("learn", schema("learn"), learned)
    check("learn: three brews", learned["brews"] == 3 and learned["efficiency"]["enough"])
    for key, figure in (("efficiency", "efficiency"), ("evaporation_l_h", "evaporation")):
        told = sorted(b[figure]["brewed"] for b in beers)
        check(f"learn: {key}", told[0] <= learned[key]["value"] <= told[2])
    yeast = sorted(b["yeast's attenuation"]["brewed"] for b in beers)
    check("learn: yeast", yeast[0] <= learned["yeasts"][0]["value"] <= yeast[2])
    bitter = [b["bitterness"] for b in beers]
    check("learn: bitterness", 0.9 < learned["bitterness_factor"]["value"] < 1.3 and
          all(b["measured"] for b in bitter))


def check_log(folder):
    log = schema("log")
    lines = (folder / "cellar.brews.jsonl").read_text(encoding="utf-8").splitlines()
    check("six lines", len(lines) == 6)
    for number, line in enumerate(lines, 1):
        validate(f"log line {number}", log, json.loads(line))


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        shutil.copy(ROOT / "examples/alder-lane-cellar.json", folder / "cellar.json")
        for lot, amount in (("cascade", "500 g"), ("american-ale-clean", "9"),
                            ("crystal-120", "900 g"), ("crystal-40", "1 kg"), ("centennial", "90 g")):
            run(folder, "stock", "cellar.json", "set", lot, "--have", amount, "--json")
        beers = [check_brew(folder, day,
                            ["--og", og, "--volume", volume, "--pre-boil-volume", "24 L"],
                            ["--fg", "1.013", "--ibu", "29 IBU", "--colour", "26 EBC"])
                 for day, og, volume in (("2026-09-05", "1.053", "20 L"),
                                         ("2026-10-10", "1.052", "20.5 L"),
                                         ("2026-11-14", "1.054", "20 L"))]
        check_log(folder)
        if not problems:
            check_learned(folder, beers)
        empty = folder / "none.jsonl"
        empty.touch()
        validate("learn, no brews", schema("learn"), run(folder, "learn", empty, "--json"))
    validate("learn, a year", schema("learn"),
             run(ROOT, "learn", "examples/alder-lane.brews.jsonl", "--json"))
    return finish()


if __name__ == "__main__":
    sys.exit(main())
