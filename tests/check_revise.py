#!/usr/bin/env python3
"""The commands that revise a recipe: adjust and substitute.

    check_revise.py SOURCE_FOLDER WORTFIT [--whole]

Their JSON keeps to its schema and says the same as their text; what is asked for is met and what is
held is held; what has run out is gone; a revised recipe can be read, checked and revised again; and
up and down by the same step is the same figure. Of the beers that `solve` finds one is revised, with
--whole three; one long search is made once more for its text with --whole alone.
"""
import json
import sys

from checking import ROOT, check, finish, problems, run, schema, validate

AMBER, BITTER = "examples/last-autumn-amber.json", "examples/spring-bitter.json"
CELLAR = ["--store", "examples/alder-lane-cellar.json", "--on", "2026-11-25"]
ON = ["--on", "2026-11-25"]
WHOLE = "--whole" in sys.argv
BEERS = ["irish-stout", "amber-ale", "weissbier"][:3 if WHOLE else 1]


def as_json(args, validator, text=None, status=0):
    name = " ".join(args)
    out, got = run(*args, "--json", text=text)
    check(f"{name}: exit status {got}, not {status}", got == status)
    document = json.loads(out) if out else {}
    validate(name, validator, document)
    return document


def weights(recipe):
    found = {}
    for m in recipe["malts"]:
        found[m["id"]] = found.get(m["id"], 0) + m["kg"]
    for h in recipe["hops"]:
        key = (h["id"], h["use"], h.get("minutes"))
        found[key] = found.get(key, 0) + h["g"]
    return found


def check_changes(name, before, after):
    """The list of changes is the difference of the weights, and no more."""
    was, is_ = weights(before), weights(after)
    told = {}
    for c in after["changes"]:
        if c["of"] == "malt":
            told[c["id"]] = (c["was"], c["is"])
        elif c["of"] == "hop":
            told[(c["id"], c["use"], c.get("minutes"))] = (c["was"], c["is"])
    for key in was.keys() | is_.keys():
        pair = was.get(key, 0), is_.get(key, 0)
        if abs(pair[0] - pair[1]) > 1e-9:
            check(f"{name}: change of {key}", key in told and
                  all(abs(a - b) < 1e-6 for a, b in zip(told[key], pair)))
        else:
            check(f"{name}: no change of {key}", key not in told)


def check_held(name, before, after, asked=()):
    """Gravity, colour and ratio within so many times their tolerances, else told as lost."""
    loose, b, a = after["loosened"], before["predicted"], after["predicted"]
    rows = (("og", 0.001), ("srm", max(1, 0.05 * b["srm"])), ("ratio", max(0.02, 0.05 * b["ratio"])))
    for key, room in rows:
        if key not in asked:
            check(f"{name}: {key} {b[key]} -> {a[key]}", abs(a[key] - b[key]) <= loose * room + 1e-5)
    check(f"{name}: lost", loose > 1 or not after["lost"])


# ---- Adjust -----------------------------------------------------------------------------------------

def check_adjust(v):
    before = as_json(["check", AMBER], v["recipe"])
    for store in ([], CELLAR):
        args = ["adjust", AMBER, "--more", "toast", *ON[:0 if store else 2], *store]
        after = as_json(args, v["recipe"])
        name = " ".join(args)
        gained = after["character"]["toast"] - before["character"]["toast"]
        check(f"{name}: toast by {gained}", 0.5 - 1e-4 <= gained <= 0.75 + 1e-4)
        text = run(*args)[0]
        check(f"{name}: text", "\nIn the glass" in text and "\nCharacter" in text)
        check(f"{name}: steps", f"\nChange        {after['distance']:.1f} steps; " in text)
        check(f"{name}: proof", abs(after["distance"] - after["proof"]["value"]) < 1e-6)
        check(f"{name}: status", after["status"] in ("optimal", "good"))
        if not store:
            check_changes(name, before, after)
            check_held(name, before, after, ("srm",))


def check_figures(v):
    before = as_json(["check", BITTER], v["recipe"])["predicted"]
    rows = [("--og", "1.048", "og", 1.047, 1.049), ("--bitterness", "26 IBU", "ibu", 24, 28),
            ("--colour", "11 SRM", "srm", 10, 12), ("--ratio", "0.6", "ratio", 0.58, 0.62)]
    for option, value, key, low, high in rows:
        after = as_json(["adjust", BITTER, option, value, *ON], v["recipe"])
        got = after["predicted"][key]
        check(f"adjust {option} {value}: {before[key]} -> {got}", low - 1e-5 <= got <= high + 1e-5)
    after = as_json(["adjust", BITTER, "--more", "bitterness by 10 %", *ON],
                    v["recipe"])
    check("10 % more bitterness", abs(after["predicted"]["ibu"] - 1.1 * before["ibu"]) <= 2 + 1e-5)


def check_there_and_back(v):
    for word, step in (("toast", "0.6"), ("caramel", "0.5"), ("bitterness", "6 IBU"),
                       ("strength", "6"), ("colour", "3 SRM")):
        up = run("adjust", AMBER, "--more", f"{word} by {step}", *ON, "--json")[0]
        back = as_json(["adjust", "-", "--less", f"{word} by {step}", *ON],
                       v["recipe"], text=up)
        before = as_json(["check", AMBER], v["recipe"])
        key, room = {"bitterness": ("ibu", 4), "strength": ("og", 0.002),
                     "colour": ("srm", 2)}.get(word, (word, 0.2))
        find = (lambda r: r["predicted"][key]) if key in before["predicted"] else \
            (lambda r: r["character"].get(key, 0))
        check(f"{word} there and back: {find(before)} -> {find(back)}",
              abs(find(back) - find(before)) <= room + 1e-4)


def check_swap(v):
    args = ["adjust", AMBER, "--swap", "200 g munich-malt-light for vienna-malt", *ON]
    after = as_json(args, v["recipe"])
    got = weights(after)
    check("swap", abs(got["munich-malt-light"] - 0.25) < 1e-9 and abs(got["vienna-malt"] - 0.2) < 1e-9)
    check("swap: two changes", len(after["changes"]) == 2)
    all_of_it = as_json(["adjust", AMBER, "--swap", "all munich-malt-light for vienna-malt", *ON],
                        v["recipe"])
    check("swap of all", "munich-malt-light" not in weights(all_of_it))


# ---- A target beside ---------------------------------------------------------------------------------

def commented_json(path):
    lines = (ROOT / path).read_text(encoding="utf-8").splitlines()
    return json.loads("\n".join(line for line in lines if not line.lstrip().startswith("//")))


def shares(text):
    """ "78..90 %", "<= 12 %" or ">= 5 %" as two fractions."""
    number = text.replace("%", "").strip()
    if number.startswith("<="):
        return 0, float(number[2:]) / 100
    if number.startswith(">="):
        return float(number[2:]) / 100, 1
    low, high = number.split("..")
    return float(low) / 100, float(high) / 100


def check_grist_of(name, recipe, target, classes):
    """The target's rules of the grist, `only` and `avoid`, read and reckoned here once more."""
    grist = {m["id"]: m["kg"] for m in recipe["malts"]}
    whole = sum(grist.values())
    for rule in target["grist"]:
        who = [m for m in grist if ("class" in rule and classes[m] == rule["class"]) or
               ("any" in rule and (m in rule["any"] or not rule["any"]))]
        if "share" in rule:
            low, high = shares(rule["share"])
            share = sum(grist[m] for m in who) / whole
            check(f"{name}: {rule}: {share}", low - 1e-6 <= share <= high + 1e-6)
        check(f"{name}: {rule}: {who}", rule.get("least", 0) <= len(who) <= rule.get("most", 99))
    for m in grist:
        check(f"{name}: {m} belongs in it", m in target["only"] or classes[m] in target["only"])
        check(f"{name}: {m} is avoided", m not in target["avoid"])


def check_target_beside(v):
    classes = {m["id"]: m["class"] for m in commented_json("src/catalogue/malts.json")["malts"]}
    target = commented_json("targets/amber-ale.json")
    before = as_json(["check", AMBER], v["recipe"])
    check("as it is it has too many malts", len(before["malts"]) > 3)
    after = as_json(["adjust", AMBER, "--more", "toast", "--target", "amber-ale", *ON], v["recipe"])
    check_grist_of("adjust --target", after, target, classes)
    gained = after["character"]["toast"] - before["character"]["toast"]
    check(f"adjust --target: toast by {gained}", 0.5 - 1e-4 <= gained <= 0.75 + 1e-4)
    found = as_json(["substitute", AMBER, "--without", "crystal-40", "--target", "amber-ale", *ON], v["substitute"])
    check("substitute --target: some", found["recipes"])
    for r in found["recipes"]:
        check_grist_of("substitute --target", r, target, classes)
        check("substitute --target: without crystal-40", "crystal-40" not in weights(r))


# ---- Substitute -------------------------------------------------------------------------------------

def check_substitute(path, gone, v, more=(), text=None, as_text=True):
    args = ["substitute", path, *[w for g in gone for w in ("--without", g)], *more, *ON]
    found = as_json(args, v["substitute"], text=text)
    before = as_json(["check", path, *more[:2]], v["recipe"], text=text)
    name = f"{before['recipe']}: {' '.join(args[2:])}"
    recipes = found.get("recipes", [])
    check(f"{name}: some", recipes)
    for i, r in enumerate(recipes):
        got = weights(r)
        for g in gone:
            check(f"{name}: {g} is gone",
                  g not in got and not any(isinstance(k, tuple) and k[0] == g for k in got) and
                  r.get("yeast", {}).get("id") != g)
        check(f"{name}: nearest first", i == 0 or
              r["distance"] >= recipes[i - 1]["proof"]["bound"] - 0.06)
        check_changes(name, before, r)
        check_held(name, before, r)
    if as_text:
        text = run(*args, text=text)[0]
        check(f"{name}: all in the text, and found again", text.count("\nIn the glass") == len(recipes))
        check(f"{name}: what the text says of time", ("there may be nearer ones" in text) == (not found["complete"]))
    if recipes:
        out, status = run("check", "-", text=json.dumps(recipes[0]))
        check(f"{name}: can be read: {status}", status == 0)
    return recipes


def check_share(v):
    found = as_json(["substitute", AMBER, "--share", "200 g munich-malt-light", *ON],
                    v["substitute"])
    for r in found["recipes"]:
        check("only 200 g", weights(r).get("munich-malt-light", 0) <= 0.2 + 1e-9)


def check_beers(v):
    for beer in BEERS:
        recipe, status = run("solve", beer, *ON, "--json")
        check(f"solve {beer}: {status}", status == 0)
        r = json.loads(recipe)
        most = max(r["malts"], key=lambda m: m["kg"])["id"]
        for gone in {most, r["malts"][-1]["id"], r["hops"][0]["id"], r["yeast"]["id"]}:
            check_substitute("-", [gone], v, text=recipe)


def main():
    v = {name: schema(name) for name in ("recipe", "substitute")}
    check_adjust(v)
    check_figures(v)
    check_there_and_back(v)
    check_swap(v)
    check_target_beside(v)
    check_substitute(AMBER, ["munich-malt-light"], v)
    check_substitute(AMBER, ["cascade"], v, as_text=WHOLE)
    check_substitute(AMBER, ["crystal-40", "magnum", "american-ale-clean"], v)
    check_share(v)
    check_beers(v)
    return finish(least=100)


if __name__ == "__main__":
    sys.exit(main())
