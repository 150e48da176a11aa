#!/usr/bin/env python3
"""Checks the built-in beers against the published style ranges, the catalogue and each other.

Reads only files of the project. Prints each problem, a table of how many wishes each beer makes, and
a count; exit status 1 if there is any problem. An argument names another folder of targets.
"""
import csv
import json
import re
import sys
from pathlib import Path

sys.dont_write_bytecode = True
from check_data import read, strip_comments, words_of_header

ROOT = Path(__file__).resolve().parent.parent
RANGES = ROOT / "tests" / "published" / "style_ranges.csv"
GUIDELINE = "BJCP 2021 Style Guidelines, "
CLASSES = {"base", "high-kilned", "caramel", "roast", "flaked", "unmalted", "sugar", "other", "adjunct"}
MEMBERS = {"adjunct": {"flaked", "unmalted", "sugar"}}
# Of a bare aim, as include/wortfit/pantry.h has them.
TOLERANCE = {"og": 0.001, "colour": 1.0, "ratio": 0.02, "bitterness": 2.0}
# By how much a wish may pass the published range where a comment in the file gives the reason: less than
# shows in the figure as published.
STRAY = {"fg": 0.0005, "abv": 0.05, "colour": 0.25}
LATE_MOST = 16.0  # g/L of hops late and dry, at their most: common practice
AT = re.compile(r"first wort|\d+ min|stand \d+ min \d+ C|dry \d+ days")
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
problems = []


def problem(where, text):
    problems.append(f"{where}: {text}")


def interval(text, tolerance=0.0):
    """(low, high) of "4", "3..5", ">= 3", "<= 5", "4 +/- 1", whatever the unit."""
    text = str(text)
    values = [float(v) for v in NUMBER.findall(text.replace("..", " "))]
    if text.startswith(">="):
        return values[0], float("inf")
    if text.startswith("<="):
        return float("-inf"), values[0]
    if "+/-" in text:
        return values[0] - values[1], values[0] + values[1]
    return (values[0], values[1]) if ".." in text else (values[0] - tolerance, values[0] + tolerance)


def within(where, what, wanted, allowed, slack=0.0):
    low, high = wanted
    if low > high or low < allowed[0] - slack - 1e-9 or high > allowed[1] + slack + 1e-9:
        problem(where, f"{what} {low:g}..{high:g} is not within {allowed[0]:g}..{allowed[1]:g}")


def published():
    rows = [r for r in RANGES.read_text(encoding="utf-8").splitlines() if not r.startswith("#")]
    keys = {"og": "og", "fg": "fg", "abv": "abv", "bitterness": "ibu", "colour": "srm"}
    return {r["style"]: (r["copies"], {k: (float(r[f"{c}_min"]), float(r[f"{c}_max"]))
                                       for k, c in keys.items()}) for r in csv.DictReader(rows)}


def catalogue():
    """Malt id -> (class, usual greatest share), hop id -> hop, yeast id -> family."""
    def entries(kind):
        text = (ROOT / "src" / "catalogue" / f"{kind}.json").read_text(encoding="utf-8")
        return json.loads(strip_comments(text))[kind]
    malts = {m["id"]: (m["class"], interval(m["usual_most"])[0]) for m in entries("malts")}
    return malts, {h["id"]: h for h in entries("hops")}, {y["id"]: y["family"] for y in entries("yeasts")}


def check_guideline(name, t, text, style, known):
    """The ranges in the file are the published ones, and its aims keep within them."""
    if style not in known:
        return problem(name, f"guideline {style!r} is no published style")
    copies, ranges = known[style]
    for key, (low, high) in ranges.items():
        if interval(t["guideline"].get(key, "0")) != (low, high):
            problem(name, f"guideline.{key} {t['guideline'].get(key)!r}: published {low:g}..{high:g}")
    if (copies == "1") != ("one copy of the text only" in text):
        problem(name, "a comment must say where, and only where, one copy of the text was read")
    for key in ("og", "colour", "fg", "abv"):
        if key in t:
            wanted = interval(t[key], TOLERANCE.get(key, 0.0))
            told = re.search(r"published at the (top|bottom)", text)
            within(name, key, wanted, ranges[key], STRAY.get(key, 0.0) if told else 0.0)
        elif key in ("fg", "abv") and "left free" not in text:
            problem(name, f"no {key} and no comment that says why it is left free")
    if ("ratio" in t) == ("bitterness" in t):
        problem(name, "wants one of ratio and bitterness")
    points = [1000 * (g - 1) for g in interval(t["og"], TOLERANCE["og"])]
    low, high = interval(t.get("ratio", t.get("bitterness")),
                         TOLERANCE["ratio" if "ratio" in t else "bitterness"])
    ibu = (low * points[0], high * points[1]) if "ratio" in t else (low, high)
    within(name, "bitterness", ibu, ranges["bitterness"])


def members(rule, malts):
    """Ids that a rule speaks of, or None where it names something unknown."""
    named = [rule["class"]] if "class" in rule else [rule["malt"]] if "malt" in rule else rule["any"]
    if any(n not in malts and n not in CLASSES for n in named):
        return None
    classes = set(named) & CLASSES
    for c in set(classes):
        classes |= MEMBERS.get(c, set())
    return {i for i, (c, _) in malts.items() if not named or i in named or c in classes}


def allowed(name, t, malts):
    """Ids that may be in the beer: those of `only`, without those of `avoid`."""
    avoided = set(t.get("avoid", []))
    for i in sorted((avoided | set(t.get("use", []))) - set(malts)):
        problem(name, f"malt {i!r} is not in the catalogue")
    belong = members({"any": t.get("only", [])}, malts)
    if "only" not in t or belong is None:
        problem(name, f"wants `only`, with malts and classes of the catalogue: {t.get('only')}")
        return set(malts) - avoided
    for i in sorted(avoided - belong):
        problem(name, f"avoids {i!r}, which does not belong in it anyway")
    return belong - avoided


def check_grist(name, t, malts):
    may = allowed(name, t, malts)
    for k, rule in enumerate(t["grist"]):
        where = f"{name}: grist[{k}]"
        if sum(key in rule for key in ("class", "malt", "any")) != 1:
            problem(where, "wants one of class, malt and any")
            continue
        who = members(rule, malts)
        if who is None:
            problem(where, f"names a malt or class that is not in the catalogue: {rule}")
            continue
        if not who & may:
            problem(where, f"speaks only of malts that may not be in it: {rule}")
        stray = {i for i in rule.get("any", []) + [rule.get("malt")] if i in malts} - may
        if stray:
            problem(where, f"names malts that may not be in it: {sorted(stray)}")
        low, high = interval(rule.get("share", "0..100 %"))
        if not (low <= 100 and high >= 0 and low <= high):
            problem(where, f"share {rule['share']!r} can not be met")
        if low > 0 and sum(malts[i][1] for i in who & may) < low:
            problem(where, f"share {rule['share']!r} is more than its malts may have")
        if low < high and high - low < 1 and high > 1:
            problem(where, f"share {rule['share']!r} is too narrow to be weighed")
        least, most = rule.get("least", 0), rule.get("most", 6)
        if not 0 <= least <= most <= 6 or most < 1:
            problem(where, f"counts {least}..{most} are not within 0..6")
        if len(rule.get("any", [])) > 1 and "words" not in rule:
            problem(where, "several malts and no words for them")
    if not any(r.get("any") == [] and "most" in r for r in t["grist"]):
        problem(name, "no rule on the number of all malts")
    if not any(interval(r.get("share", "0 %"))[0] >= 28 for r in t["grist"]):
        problem(name, "no malt is demanded: no rule gives a least share of 28 % or more")


def check_hops(name, t, text, hops, hop_words):
    slots = t["hops"]
    if not any("dose" not in s for s in slots):
        problem(name, "every hop slot has a dose: nothing is left to bitter it with")
    for s in slots:
        where = f"{name}: hops at {s['at']}"
        if not AT.fullmatch(s["at"]):
            problem(where, "no known time")
        if not set(s.get("hop", [])) <= set(hops):
            problem(where, f"not in the catalogue: {sorted(set(s['hop']) - set(hops))}")
        if not set(s.get("origin", [])) <= {h["origin"] for h in hops.values()}:
            problem(where, f"no hop is from {s['origin']}")
        if not set(s.get("character", {})) <= hop_words:
            problem(where, f"not words of hops: {sorted(s['character'])}")
        wishes = {w: interval(v) for w, v in s.get("character", {}).items()}
        suits = [i for i, h in hops.items() if i in s.get("hop", hops)
                 and h["origin"] in s.get("origin", [h["origin"]])
                 and all(a <= h["character"].get(w, 0) <= b for w, (a, b) in wishes.items())]
        if len(suits) < (1 if "no other may take its place" in text else 2):
            problem(where, f"only {suits} may go here")
        if "dose" in s and not interval(s["dose"])[1] - interval(s["dose"])[0] >= 0.3:
            problem(where, f"dose {s['dose']!r} is too narrow for small stores")
    most = sum(interval(s["dose"])[1] for s in slots if "dose" in s)
    if most > LATE_MOST:
        problem(name, f"{most:g} g/L of hops late and dry, more than {LATE_MOST:g}")


def check_names(targets):
    owner = {}
    for path, t, _ in targets:
        for name in [path.stem] + t.get("aliases", []):
            if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name):
                problem(path.name, f"{name!r} is not kebab-case")
            if name in owner:
                problem(path.name, f"{name!r} is a name of {owner[name]} too")
            owner[name] = path.name
        if t.get("target") != path.stem:
            problem(path.name, f"target {t.get('target')!r} is not the file's name")


def check_target(path, t, text, facts, known):
    malts, hops, yeasts = facts
    malt_words, hop_words = words_of_header()
    style = t["guideline"]["source"].removeprefix(GUIDELINE)
    check_guideline(path.name, t, text, style, known)
    check_grist(path.name, t, malts)
    check_hops(path.name, t, text, hops, hop_words)
    unknown = set(t.get("character", {})) - malt_words - hop_words
    if unknown:
        problem(path.name, f"unknown words of character: {sorted(unknown)}")
    for y in t["yeast"]:
        if y not in yeasts and y not in yeasts.values():
            problem(path.name, f"yeast {y!r} is neither in the catalogue nor a family")
    for key in ("name", "group", "about", "note"):
        if not t.get(key, "").strip():
            problem(path.name, f"{key} is empty")
    if "from memory" not in text and "common practice" not in text:
        problem(path.name, "no comment says where its shares are from")
    return style


def main():
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "targets"
    targets = [(p, read(p) if folder == ROOT / "targets" else json.loads(strip_comments(p.read_text())),
                p.read_text(encoding="utf-8")) for p in sorted(folder.glob("*.json"))]
    known, facts = published(), catalogue()
    check_names(targets)
    print(f"{'beer':28} {'grist':>5} {'words':>5} {'slots':>5} {'yeasts':>6} {'avoid':>5}")
    styles = {}
    for path, t, text in targets:
        style = check_target(path, t, re.sub(r"\s*\n//", "", text), facts, known)
        styles.setdefault(style, []).append(path.stem)
        print(f"{path.stem:28} {len(t['grist']):5} {len(t.get('character', {})):5} {len(t['hops']):5} "
              f"{len(t['yeast']):6} {len(t.get('avoid', [])):5}")
    for style in sorted(set(known) - set(styles)):
        problem("targets", f"no beer for the published style {style}")
    for style, files in styles.items():
        if len(files) > 1:
            problem("targets", f"{style} has {files}")
    groups = {t["group"] for _, t, _ in targets}
    if not 12 <= len(groups) <= 16:
        problem("targets", f"{len(groups)} groups, not 12 to 16")
    for p in problems:
        print(p)
    rules = sum(len(t["grist"]) for _, t, _ in targets)
    print(f"{len(targets)} beers, {len(known)} published styles, {len(groups)} groups, {rules} grist rules; "
          f"{len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
