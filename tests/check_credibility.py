#!/usr/bin/env python3
"""Brews every built-in beer on paper and looks at the recipes as a judge would.

    check_credibility.py WORTFIT [--write] [--whole] [BEER ...]

Each beer is solved for the lowest cost and for the fewest ingredients, from the sample shop and from two
invented stores. A recipe must lie within the published ranges, be short, keep to usual shares, rest on
what the style rests on and be hopped soundly (credibility_facts.py). Where there is no recipe, what
wortfit says is missed must be lacking in the store indeed (credibility_store.py). targets/README.md shows
the recipes and must be what it would be now; --write renews it. Whether a store has a recipe at all
does not hang on the goal, and why it has none takes long: where there is none for the lowest cost, the
fewest ingredients are asked for with --whole alone.
"""
import difflib
import json
import pathlib
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

sys.dont_write_bytecode = True
from check_data import strip_comments
from check_targets import interval
from credibility_facts import (DOSE_LEAST, DOSE_MOST, HOPS_OF_ALL, LATE_FROM, PINCH, RESTS, SETS)
from credibility_store import Store, lacks, lacks_share, rule_names

ROOT = pathlib.Path(__file__).resolve().parent.parent
TABLE = ROOT / "targets" / "README.md"
STORES = [None, "small-cellar", "well-stocked-shop"]
GOALS = ["cost", "fewest"]
DAY = "2026-11-25"  # of brewing: hops age
# Half of the last figure that is published, and for colour a quarter of a unit.
ROUNDING = {"og": 0.0005, "fg": 0.0005, "abv": 0.0005, "ibu": 0.5, "srm": 0.25}
problems = []


def load(path):
    return json.loads(strip_comments(path.read_text(encoding="utf-8")))


def problem(case, text):
    problems.append(f"{' '.join(p or 'sample-shop' for p in case)}: {text}")


def solve(program, beer, store, goal):
    """The exit status and what --json wrote, None where it wrote nothing."""
    args = [program, "solve", f"targets/{beer}.json", "--goal", goal, "--json", "--on", DAY]
    args += ["--store", f"examples/{store}.json"] if store else []
    done = subprocess.run(args, cwd=ROOT, capture_output=True, text=True, timeout=120)
    return done.returncode, json.loads(done.stdout) if done.stdout else None, done.stderr.strip()


def rows_for(table, beer):
    return [row[1:] for row in table if beer in row[0].split()]


# ---- What a recipe must be ------------------------------------------------------------------------

def check_figures(case, target, recipe):
    figures = {"og": "og", "fg": "fg", "abv": "abv", "bitterness": "ibu", "colour": "srm"}
    for key, name in figures.items():
        if key in ("fg", "abv") and key not in target:
            continue  # left free, and the file says why: an enzyme does what no yeast shows
        low, high = (v / (100 if key == "abv" else 1) for v in interval(target["guideline"][key]))
        got = recipe["predicted"][name]
        if not low - ROUNDING[name] < got < high + ROUNDING[name]:
            problem(case, f"{key} {got:.4g} is not within the published {low:g}..{high:g}")


def check_malts(case, target, recipe, store):
    if not 1 <= len(recipe["malts"]) <= 6:
        problem(case, f"{len(recipe['malts'])} malts")
    for m in recipe["malts"]:
        named = [interval(r["share"])[1] / 100 for r in target["grist"]
                 if "share" in r and store.of("malts", m["id"]) in rule_names(r)]
        most = max([m["usual_most"]] + [high for high in named if high <= 1])
        if m["share"] > most + 1e-9:
            problem(case, f"{m['id']} {m['share']:.1%} is more than the usual {most:.1%}")
        pinch = next(least for dark, least in PINCH if m["lovibond"] >= dark)
        if m["share"] * 100 < pinch:
            problem(case, f"{m['id']} {m['share']:.1%} is a pinch without a point")


def share_of(words, recipe, store):
    names = SETS[words].split()
    return sum(100 * m["share"] for m in recipe["malts"]
               if (m["class"] == names[1] if names[0] == "class" else store.of("malts", m["id"]) in names))


def check_rests(case, recipe, store):
    rows = rows_for(RESTS, case[0])
    for words, least in rows:
        if share_of(words, recipe, store) < least - 1e-6:
            problem(case, f"{share_of(words, recipe, store):.1f} % of {words}, not {least:g} or more")
    if not rows:
        problem(case, "credibility_facts.py does not say what the style rests on")


def is_late(hop):
    return hop["use"] in ("stand", "dry") or hop["use"] == "boil" and hop["minutes"] <= 20


def check_hops(case, recipe, store):
    hops, litres = recipe["hops"], recipe["batch_l"]
    if not 1 <= len({h["id"] for h in hops}) <= 4:
        problem(case, f"{len({h['id'] for h in hops})} hops")
    origin = {lot["id"]: lot.get("origin") for lot in store.lots["hops"]}
    suit = rows_for(LATE_FROM, case[0])
    for h in hops:
        dose, kind = h["g"] / litres, "late" if h["use"] == "boil" and is_late(h) else h["use"]
        if not DOSE_LEAST - 1e-9 <= dose <= DOSE_MOST[kind] + 1e-9:
            problem(case, f"{h['id']} {dose:.2f} g/L {kind}: not {DOSE_LEAST}..{DOSE_MOST[kind]}")
        if is_late(h) and (not suit or origin[h["id"]] not in suit[0][0].split(", ")):
            problem(case, f"{h['id']} from {origin[h['id']]} late: {suit[0][0] if suit else 'none'} suits")
    most, low, high = (rows_for(HOPS_OF_ALL, case[0]) or [HOPS_OF_ALL[0][1:]])[0]
    whole, late = (sum(h["g"] for h in some) / litres for some in (hops, filter(is_late, hops)))
    if whole > most or not low <= late <= high:
        problem(case, f"hops {whole:.1f} g/L, late and dry {late:.1f}: "
                      f"not <= {most:g} and {low:g}..{high:g}")


def check_recipe(case, target, recipe, store):
    check_figures(case, target, recipe)
    check_malts(case, target, recipe, store)
    check_rests(case, recipe, store)
    check_hops(case, recipe, store)


def check_refusal(case, target, answer, store):
    """What is missed is named and lacking. Returns False where nothing could be named."""
    if answer is None:
        if not lacks_share(target, store, None):
            problem(case, "no recipe, nothing is said to be missed, and malts for it are there")
        return False
    missed = [w["wish"] for w in answer.get("closest", {}).get("wishes", []) if not w["met"]]
    if not answer.get("reasons") or not missed:
        problem(case, "no recipe and no reason")
    elif not any(lacks(target, store, w) for w in missed):
        problem(case, f"no recipe, but nothing that is missed is lacking: {missed}")
    return True


# ---- The table ------------------------------------------------------------------------------------

def grist_text(recipe):
    return ", ".join(f"{m['id']} {100 * m['share']:.1f}" for m in recipe["malts"])


def hop_time(h):
    return {"boil": f"{h.get('minutes', 0):g} min", "first-wort": "first wort", "dry": "dry",
            "stand": "stand"}[h["use"]]


def hops_text(recipe):
    return ", ".join(f"{h['id']} {h['g']:g} g {hop_time(h)}" for h in recipe["hops"])


def wide_row(target, answers):
    recipe, beer = answers[None, "cost"][1], target["target"]
    p = recipe["predicted"]
    can = ["yes" if answers[store, "cost"][0] == 0 else "no" for store in STORES[1:]]
    cells = [beer, target["group"], f"{p['og']:.3f}", f"{p['fg']:.3f}", f"{100 * p['abv']:.1f}",
             f"{p['srm']:.0f}", f"{p['ibu']:.0f}", grist_text(recipe), hops_text(recipe),
             recipe["yeast"]["id"], f"{recipe['cost']:.2f}", *can]
    return "| " + " | ".join(cells) + " |"


def short_row(target, answers):
    recipe = answers[None, "fewest"][1]
    cells = [target["target"], str(recipe["ingredients"]), grist_text(recipe), hops_text(recipe),
             recipe["yeast"]["id"], f"{recipe['cost']:.2f}"]
    return "| " + " | ".join(cells) + " |"


INTRODUCTION = """# Built-in beers

Written by tests/check_credibility.py; do not edit. Each beer is a file of this folder: what the beer is,
the published ranges of its vital figures, and what wortfit holds a recipe to. A published range is that of
the style guidelines of the Beer Judge Certification Program, 2021; shares, doses and limits of character
are common practice, from memory, if the file names no other source.

The recipes below are wortfit's own, for 20 L and the default brewhouse, from the sample shop at its
invented prices in EUR, brewed on {day}. They are no published recipes. Shares of the grist are in per
cent by weight, alcohol in per cent by volume. The last columns say whether two invented stores of
[examples](../examples) can brew the beer too: `small-cellar` and `well-stocked-shop`.

A target asks for few malts and gives each a share that can be tasted. A recipe of your own may well have
more: copy the file, change it and name it on the command line.
"""


def table(targets, answers):
    out = [INTRODUCTION.format(day=DAY), "## Lowest cost\n"]
    head = ["beer", "group", "original gravity", "final gravity", "alcohol", "SRM", "IBU", "grist",
            "hops", "yeast", "cost", "cellar", "shop"]
    out += ["| " + " | ".join(head) + " |", "|" + " --- |" * len(head)]
    out += [wide_row(t, answers[t["target"]]) for t in targets]
    head = ["beer", "ingredients", "grist", "hops", "yeast", "cost"]
    out += ["\n## Fewest ingredients\n", "| " + " | ".join(head) + " |", "|" + " --- |" * len(head)]
    out += [short_row(t, answers[t["target"]]) for t in targets]
    return "\n".join(out) + "\n"


def compare(text):
    committed = TABLE.read_text(encoding="utf-8") if TABLE.exists() else ""
    lines = difflib.unified_diff(committed.splitlines(), text.splitlines(), lineterm="", n=0)
    changes = [line for line in lines if line[0] in "+-" and line[:3] not in ("+++", "---")]
    if changes:
        problems.append("targets/README.md is not what it would be now; look, then run with --write:\n  "
                        + "\n  ".join(changes[:20]))


def read_stores():
    catalogue = {kind: {e["id"]: e for e in load(ROOT / "src" / "catalogue" / f"{kind}.json")[kind]}
                 for kind in ("malts", "hops", "yeasts")}
    paths = {None: ROOT / "src" / "catalogue" / "sample-shop.json"}
    return {s: Store(load(paths.get(s, ROOT / "examples" / f"{s}.json")), catalogue) for s in STORES}


def judge(solved, targets, stores):
    """Checks every answer; returns them by beer, and how many were what."""
    answers, count = {}, {"recipes": 0, "refusals": 0, "refusals without a nearest recipe": 0}
    for case, (status, answer, said) in solved.items():
        target, store = targets[case[0]], stores[case[1]]
        answers.setdefault(case[0], {})[case[1:]] = status, answer
        if status == 0:
            count["recipes"] += 1
            check_recipe(case, target, answer, store)
        elif status == 3 and case[1] is not None:
            count["refusals"] += 1
            count["refusals without a nearest recipe"] += not check_refusal(case, target, answer, store)
        else:
            problem(case, f"exit status {status}: {said}")
    return answers, count


def solve_all(binary, targets, whole):
    """The cases that were tried, and what came of each."""
    solved = {}
    with ThreadPoolExecutor(2) as pool:
        for goal in GOALS:
            cases = [(beer, s, goal) for beer in targets for s in STORES
                     if whole or s is None or solved.get((beer, s, GOALS[0]), (0,))[0] != 3]
            solved.update(zip(cases, pool.map(lambda case: solve(binary, *case), cases)))
    return solved


def main(program, *rest):
    beers = [b for b in rest if not b.startswith("--")]
    targets = {t["target"]: t for t in map(load, sorted((ROOT / "targets").glob("*.json")))
               if not beers or t["target"] in beers}
    solved = solve_all(str(pathlib.Path(program).resolve()), targets, "--whole" in rest)
    answers, count = judge(solved, targets, read_stores())
    if not beers and not any("exit status" in p for p in problems):
        text = table(list(targets.values()), answers)
        print(text)
        if "--write" in rest:
            TABLE.write_text(text, encoding="utf-8")
        compare(text)
    print("\n".join(problems))
    print(f"{len(targets)} beers, {len(solved)} searches: " + ", ".join(f"{n} {what}" for what, n in count.items())
          + f"; {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
