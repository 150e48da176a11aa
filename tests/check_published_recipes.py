#!/usr/bin/env python3
"""Holds published recipes against the built-in beers that are nearest to them.

Shares, counts, malts that belong, original gravity, bitterness, and when and how much is hopped: each
difference from the target must have its reason in tests/published/recipe_designs.json. Reads only files
of the project; exit status 1 if anything is left without a reason.
"""
import json
import sys
from pathlib import Path

sys.dont_write_bytecode = True
from check_data import read, strip_comments
from check_targets import interval

ROOT = Path(__file__).resolve().parent.parent
DESIGNS = ROOT / "tests" / "published" / "recipe_designs.json"
SHARE_TOLERANCE = 1.0  # per cent, as include/wortfit/pantry.h has it
CLASS_WORDS = {"adjunct": "adjuncts"}
WINDOWS = [("first wort", "early"), ("dry", "dry"), ("stand", "stand")]
KINDS = {"early": "hops early in the boil", "late": "late hops", "stand": "hops in a stand",
         "dry": "dry hops"}
problems = []


def entries(kind):
    text = (ROOT / "src" / "catalogue" / f"{kind}.json").read_text(encoding="utf-8")
    return {e["id"]: e for e in json.loads(strip_comments(text))[kind]}


def names_of(rule):
    return [rule["class"]] if "class" in rule else [rule["malt"]] if "malt" in rule else rule["any"]


def speaks_of(names, malt, classes):
    adjunct = "adjunct" in names and classes[malt] in ("flaked", "unmalted", "sugar")
    return not names or malt in names or classes[malt] in names or adjunct


def words_of(rule):
    if "class" in rule:
        return CLASS_WORDS.get(rule["class"], f"{rule['class']} malts")
    return rule.get("words", "all malts") if "any" in rule else rule["malt"]


def kind_of(at):
    """Early in the boil, late (20 minutes or less), in a stand or dry."""
    for start, kind in WINDOWS:
        if at.startswith(start):
            return kind
    return "late" if float(at.split()[0]) <= 20 else "early"


def grist_differences(target, shares, classes):
    for rule in target["grist"]:
        inside = [m for m in shares if speaks_of(names_of(rule), m, classes)]
        low, high = interval(rule.get("share", "0..100 %"))
        share = sum(shares[m] for m in inside)
        if not low - SHARE_TOLERANCE <= share <= high + SHARE_TOLERANCE:
            yield f"share of {words_of(rule)}", f"{share:.1f} % and not {rule['share']}"
        if not rule.get("least", 0) <= len(inside) <= rule.get("most", 99):
            yield f"number of {words_of(rule)}", f"{len(inside)}"
    for malt in shares:
        if malt in target.get("avoid", []):
            yield f"{malt} is avoided", f"{shares[malt]:.1f} %"
        elif not speaks_of(target.get("only", []), malt, classes):
            yield f"{malt} does not belong", f"{shares[malt]:.1f} %"


def figure_differences(target, recipe):
    for key, name, words in (("og", "og", "original gravity"), ("ibu", "bitterness", "bitterness")):
        low, high = interval(target["guideline"][name])
        if key in recipe and not low <= recipe[key] <= high:
            yield words, f"{recipe[key]:g} is not within the published {low:g}..{high:g}"


def may_go(hop, slot):
    wishes = {w: interval(v) for w, v in slot.get("character", {}).items()}
    return (hop["id"] in slot.get("hop", [hop["id"]]) and hop["origin"] in slot.get("origin", [hop["origin"]])
            and all(a <= hop["character"].get(w, 0) <= b for w, (a, b) in wishes.items()))


def hop_differences(target, recipe, hops):
    """When and with what it is hopped, and the doses of each kind."""
    slots, doses = {}, {}
    for s in target["hops"]:
        slots.setdefault(kind_of(s["at"]), []).append(s)
    for h in recipe["hops"]:
        kind = kind_of(h["at"])
        doses[kind] = doses.get(kind, 0) + h["g"] / recipe["litres"]
        if "hop" in h and not any(may_go(hops[h["hop"]], s) for s in slots.get(kind, [])):
            yield f"{h['hop']} in {KINDS[kind]}", h["at"]
    for kind, words in KINDS.items():
        wanted = any("dose" in s for s in slots.get(kind, []))
        if kind in doses and kind not in slots or kind not in doses and wanted:
            yield words, "there are some" if kind in doses else "there are none"
        elif kind in doses and wanted:
            limits = [interval(s["dose"]) for s in slots[kind] if "dose" in s]
            low, high = (sum(limit[k] for limit in limits) for k in (0, 1))
            if not low <= doses[kind] <= high:
                yield f"dose of {words}", f"{doses[kind]:.2f} g/L and not {low:g}..{high:g}"


def check_recipe(recipe, classes, hops):
    target = read(ROOT / "targets" / f"{recipe['beer']}.json")
    total = sum(recipe["malts"].values())
    shares = {m: 100 * w / total for m, w in recipe["malts"].items()}
    found = dict(grist_differences(target, shares, classes))
    found.update(figure_differences(target, recipe))
    found.update(hop_differences(target, recipe, hops) if "hops" in recipe else [])
    where = f"{recipe['recipe']} as {recipe['beer']}"
    for key in sorted(set(found) - set(recipe["differs"])):
        problems.append(f"{where}: {key}: {found[key]}: no reason is given")
    for key in sorted(set(recipe["differs"]) - set(found)):
        problems.append(f"{where}: a reason is given for {key!r}, but there is no such difference")
    print(f"{where}: {len(found)} differences" + "".join(f"\n  {k}: {found[k]}; {recipe['differs'].get(k)}"
                                                           for k in found))
    return len(found)


def check_statement(s):
    """Every rule that speaks of these malts only keeps within the published share."""
    target = read(ROOT / "targets" / f"{s['beer']}.json")
    rules = [r for r in target["grist"] if names_of(r) and set(names_of(r)) <= set(s["malts"])]
    low, high = interval(s["share"])
    if not rules:
        problems.append(f"{s['beer']}: no rule speaks of {', '.join(s['malts'])} only")
    for r in rules:
        a, b = interval(r["share"])
        if max(a, 0) < low or min(b, 100) > high:
            problems.append(f"{s['beer']}: {words_of(r)} {r['share']}, published {s['share']}")


def main():
    data, hops = read(DESIGNS), entries("hops")
    classes = {m["id"]: m["class"] for m in entries("malts").values()}
    differences = [check_recipe(r, classes, hops) for r in data["recipes"]]
    for s in data["statements"]:
        check_statement(s)
    print("\n".join(problems))
    print(f"{len(differences)} recipes with {sum(differences)} differences, "
          f"{len(data['statements'])} statements; {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
