#!/usr/bin/env python3
"""Checks the catalogue, the sample shop, the examples and the names used in the targets.

Reads only files of the project. Prints each problem and a count; exit status 1 if there is any.
"""
import datetime
import json
import re
import sys
from pathlib import Path

sys.dont_write_bytecode = True
from data_facts import (ALLERGENS, CLASSES, FAMILIES, FLOCCULATION, GLUTEN_FREE, ID, NOT_OURS, ORIGINS,
                        OXFORD_LINTNER, PALMER_PPG, PALMER_YIELD, PLAIN_WORDS, PRODUCT_CODE,
                        SHOP_PRICES, TGL_EXTRACT, USES, USUAL_COLOUR)

ROOT = Path(__file__).resolve().parent.parent
CATALOGUE = ROOT / "src" / "catalogue"
problems = []


def problem(where, text):
    problems.append(f"{where}: {text}")


def strip_comments(text):
    """Removes // and /* */ comments outside strings."""
    kept = re.compile(r'("(?:[^"\\]|\\.)*")|//[^\n]*|/\*.*?\*/', re.S)
    return kept.sub(lambda m: m.group(1) or "", text)


def once(pairs):
    keys = [k for k, _ in pairs]
    for k in keys:
        if keys.count(k) > 1:
            raise ValueError(f"key {k} given twice")
    return dict(pairs)


def read(path):
    name = path.relative_to(ROOT)
    text = path.read_text(encoding="utf-8")
    if not text.isascii():
        problem(name, "not plain ASCII")
    if re.search(r"[ \t]\n|\t|\r", text) or not text.endswith("\n") or text.endswith("\n\n"):
        problem(name, "tabs, spaces at a line's end, or not one newline at the end")
    if NOT_OURS.search(text):
        problem(name, f"a web domain, trade mark or company: {NOT_OURS.search(text)[0]}")
    try:
        return json.loads(strip_comments(text), object_pairs_hook=once)
    except ValueError as e:
        problem(name, f"not JSON: {e}")
        return {}


def words_of_header():
    """Malt words and hop words, as include/wortfit/pantry.h lists them."""
    header = (ROOT / "include" / "wortfit" / "pantry.h").read_text(encoding="utf-8")
    def block(macro):
        body = re.search(rf"#define {macro}\(X\)((?:.*\\\n)*.*)\n", header)[1]
        return set(re.findall(r'X\(\w+, "([^"]+)"', body))
    return block("WF_MALT_WORDS"), block("WF_HOP_WORDS")


def figures(where, entry, key, unit, low, high, count=1):
    """The numbers of "81 %" or "4.5..8.9 %", checked; NaNs if they cannot be had."""
    text = str(entry.get(key, ""))
    m = re.fullmatch(r"(\d+(?:\.\d+)?)(?:\.\.(\d+(?:\.\d+)?))?" + (f" {unit}" if unit else ""), text)
    values = [float(v) for v in m.groups() if v is not None] if m else []
    if len(values) < count:
        problem(where, f"{key} {text!r}: wanted {count} figures in {unit or 'numbers'}")
        return [float("nan")] * count
    if values != sorted(values) or not all(low <= v <= high for v in values):
        problem(where, f"{key} {text!r} outside {low}..{high}")
    return values


def among(where, what, value, allowed):
    if value not in allowed:
        problem(where, f"{what} {value!r} unknown")


def check_scores(where, entry, words):
    for word, score in entry.get("character", {}).items():
        among(where, "word of character", word, words)
        if not 0 < score <= 5:
            problem(where, f"score of {word} {score} outside 0..5")


def check_name(where, name, words=PLAIN_WORDS):
    for word in re.findall(r"[A-Za-z]+", name):
        if word.lower() not in words:
            problem(where, f"word {word!r} of its name is not known to be generic")


def check_common(kind, entries, keys):
    seen = set()
    for e in entries:
        where = f"{kind} {e.get('id')}"
        if e.get("id") in seen:
            problem(where, "id given twice")
        seen.add(e.get("id"))
        if not ID.fullmatch(e.get("id", "")):
            problem(where, "id is not kebab-case")
        for k in set(keys) - set(e):
            problem(where, f"{k} not given")
        if not re.search(r"found|from memory", e.get("source", "")):
            problem(where, "source says neither what was found nor that it is from memory")
        for k in ("name", "note", "descriptors"):
            if PRODUCT_CODE.search(e.get(k, "")):
                problem(where, f"{k} holds a maker's product code: {PRODUCT_CODE.search(e[k])[0]}")
    return seen


def check_malt(m, words):
    where = f"malt {m.get('id')}"
    among(where, "class", m.get("class"), CLASSES)
    [extract] = figures(where, m, "extract", "%", 60, 100)
    [moisture] = figures(where, m, "moisture", "%", 0, 35)
    [colour] = figures(where, m, "colour", "Lov", 0, 600)
    [lintner] = figures(where, m, "diastatic", "Lintner", 0, 200)
    [most] = figures(where, m, "usual_most", "%", 1, 100)
    figures(where, m, "protein", "%", 0, 16)
    if "fermentability" in m:
        figures(where, m, "fermentability", "%", 0, 100)
    elif m.get("class") in ("sugar", "caramel", "roast"):
        problem(where, "fermentability not given")
    unmashed = m.get("class") == "sugar" or m.get("id", "").startswith("malt-extract")
    if m.get("mash") is unmashed or not isinstance(m.get("mash"), bool):
        problem(where, "mash must be false for sugars and malt extracts, and true for all else")
    if lintner > 0 and m.get("class") in ("caramel", "roast", "sugar", "unmalted", "flaked"):
        problem(where, "its class has no enzymes")
    if m.get("class") == "base" and most < 25:
        problem(where, "a base malt of which less than a quarter is usual")
    check_scores(where, m, words)
    check_name(where, m.get("name", ""))
    for a in m.get("allergens", []):
        among(where, "allergen", a, ALLERGENS)
    i = m.get("id", "")
    if ("gluten" in m.get("allergens", [])) == bool(re.match(GLUTEN_FREE, i)):
        problem(where, "gluten: barley, wheat, rye, spelt and oats hold it, nothing else does")
    check_published(where, i, extract, moisture, colour, lintner)


def check_published(where, i, extract, moisture, colour, lintner):
    if i in PALMER_YIELD and abs(extract - PALMER_YIELD[i]) > 4.0:
        problem(where, f"extract {extract} %, Palmer's table {PALMER_YIELD[i]} %")
    ppg = 46.21 * extract / 100 * (1 - moisture / 100)
    if i in PALMER_PPG and abs(ppg - PALMER_PPG[i]) > 0.5:
        problem(where, f"{ppg:.1f} ppg as is, Palmer's table {PALMER_PPG[i]}")
    if i in TGL_EXTRACT and extract < TGL_EXTRACT[i]:
        problem(where, f"extract {extract} % below the {TGL_EXTRACT[i]} % of TGL 17756:1966")
    low, high = OXFORD_LINTNER.get(i, (0, 200))
    if not low <= lintner <= high:
        problem(where, f"diastatic {lintner} outside {low}..{high} of the Oxford Companion")
    for pattern, low, high in USUAL_COLOUR:
        if re.fullmatch(pattern, i) and not low <= colour <= high:
            problem(where, f"colour {colour} Lov outside the usual {low}..{high}")


def check_hop(h, words, ids):
    where = f"hop {h.get('id')}"
    among(where, "use", h.get("use"), USES)
    among(where, "origin", h.get("origin"), ORIGINS)
    [alpha] = figures(where, h, "alpha", "%", 1, 25)
    low, high = figures(where, h, "alpha_range", "%", 1, 25, count=2)
    if not low <= alpha <= high:
        problem(where, f"alpha {alpha} outside its range {low}..{high}")
    figures(where, h, "beta", "%", 1, 12)
    figures(where, h, "cohumulone", "%", 10, 50)
    figures(where, h, "oil", "", 0.2, 5)
    figures(where, h, "loss", "%", 5, 70)
    check_scores(where, h, words)
    if not h.get("character"):
        problem(where, "no character")
    for s in h.get("substitutes", []):
        among(where, "substitute", s, ids - {h["id"]})


def check_yeast(y):
    where = f"yeast {y.get('id')}"
    among(where, "family", y.get("family"), FAMILIES)
    among(where, "flocculation", y.get("flocculation"), FLOCCULATION)
    figures(where, y, "attenuation", "%", 5, 100, count=2)
    [_, warm] = figures(where, y, "temperature", "C", 4, 42, count=2)
    figures(where, y, "alcohol", "%", 3, 20)
    figures(where, y, "ester", "", 0, 5)
    [phenol] = figures(where, y, "phenol", "", 0, 5)
    if (y.get("family") in ("ale-phenolic", "wild")) != (phenol >= 2):
        problem(where, f"phenol {phenol} does not suit the family")
    if y.get("family") == "lager" and warm > 15:
        problem(where, "a lager yeast above 15 C")
    if not isinstance(y.get("eats_dextrins"), bool):
        problem(where, "eats_dextrins must be true or false")
    check_name(where, y.get("name", ""))


def check_catalogue():
    malt_words, hop_words = words_of_header()
    sets = {k: read(CATALOGUE / f"{k}.json").get(k, []) for k in ("malts", "hops", "yeasts")}
    check_common("malt", sets["malts"], ["name", "class", "mash", "character", "allergens", "source"])
    hop_ids = check_common("hop", sets["hops"], ["name", "origin", "use", "character", "substitutes", "source"])
    check_common("yeast", sets["yeasts"], ["name", "family", "descriptors", "source"])
    for m in sets["malts"]:
        check_malt(m, malt_words)
    for h in sets["hops"]:
        check_hop(h, hop_words, hop_ids)
    for y in sets["yeasts"]:
        check_yeast(y)
    return {kind: {e["id"]: e for e in entries} for kind, entries in sets.items()}


def check_shop(catalogue):
    """The sample shop sells every entry once, without end, at a price that is said to be invented."""
    shop = read(CATALOGUE / "sample-shop.json")
    if "invented" not in shop.get("note", ""):
        problem("sample shop", "its note must say that the prices are invented")
    for kind, (form, low, high) in SHOP_PRICES.items():
        sold = [lot["id"] for lot in shop.get(kind, [])]
        if sold != list(catalogue[kind]):
            odd = set(sold) ^ set(catalogue[kind]) or "the order, or one twice"
            problem(f"sample shop {kind}", f"not the catalogue, each once and in order: {odd}")
        for lot in shop.get(kind, []):
            m = re.fullmatch(form, lot.get("price", ""))
            if set(lot) != {"id", "price"} or not m or not low <= float(m[1]) <= high:
                problem(f"sample shop {lot['id']}", f"wants id and price {low}..{high} alone: {lot}")
    price = {lot["id"]: float(lot["price"].split("/")[0]) for lot in shop.get("malts", [])}
    barley = [i for i in price if i.endswith(("row-malt", "pilsner-malt")) or i.startswith("pale-ale")]
    dearer = [i for i, m in catalogue["malts"].items() if m["class"] in ("caramel", "roast")]
    if max(price[i] for i in barley) >= min(price[i] for i in dearer):
        problem("sample shop", "a base malt costs more than a speciality malt")


def check_lot(where, kind, lot, catalogue):
    entry = catalogue[kind].get(lot.get("is", lot["id"]))
    own = {"malts": {"class", "colour"}, "hops": {"alpha"}, "yeasts": {"attenuation", "family"}}[kind]
    if entry is None and ("is" in lot or not own <= set(lot)):
        problem(where, "neither a catalogue entry nor all figures of its own")
    if kind == "hops" and entry and "alpha" in lot:
        low, high = figures(where, entry, "alpha_range", "%", 1, 25, count=2)
        figures(where, lot, "alpha", "%", low, high)
    for key in ("packed", "opened"):
        if key in lot and not "2024-09-01" <= datetime.date.fromisoformat(lot[key]).isoformat() <= "2026-11-25":
            problem(where, f"{key} {lot[key]} is outside the invented scenario")
    if lot.get("opened", "9999") < lot.get("packed", "0"):
        problem(where, "opened before it was packed")
    if PRODUCT_CODE.search(lot.get("name", "").replace("2024", "")):
        problem(where, "a product code in its name")


def check_store(name, store, catalogue):
    for kind in ("malts", "hops", "yeasts"):
        ids = [lot["id"] for lot in store.get(kind, [])]
        for i in set(ids):
            if ids.count(i) > 1 or not ID.fullmatch(i):
                problem(name, f"{i}: given twice, or not kebab-case")
        for lot in store.get(kind, []):
            check_lot(f"{name} {lot['id']}", kind, lot, catalogue)


def check_target(path, t, catalogue):
    name = path.relative_to(ROOT)
    if t.get("target") != path.stem:
        problem(name, f"target {t.get('target')!r} is not the file's name")
    adjunct = CLASSES | {"adjunct"}
    for rule in t.get("grist", []):
        among(name, "class", rule.get("class", "base"), adjunct)
        for i in rule.get("any", []) + ([rule["malt"]] if "malt" in rule else []):
            among(name, "malt", i, adjunct | set(catalogue["malts"]))
    for slot in t.get("hops", []):
        for i in slot.get("hop", []):
            among(name, "hop", i, catalogue["hops"])
        for o in slot.get("origin", []):
            among(name, "origin", o, ORIGINS)
    for i in t.get("yeast", []):
        among(name, "yeast", i, FAMILIES | set(catalogue["yeasts"]))
    for i in t.get("use", []) + t.get("avoid", []):
        among(name, "ingredient", i, set(catalogue["malts"]) | set(catalogue["hops"]))


def check_named(where, kind, item, catalogue):
    """A recipe typed by hand names its ingredients by id or by full name, case ignored."""
    known = {word.lower() for id_, entry in catalogue[kind].items() for word in (id_, entry["name"])}
    among(where, kind, item.get("id", item.get("name", "")).lower(), known)


def check_examples(catalogue):
    paths = sorted((ROOT / "examples").glob("*.json"))
    for path in paths:
        name, data = path.relative_to(ROOT), read(path)
        opening = path.read_text(encoding="utf-8").split("{", 1)[0]
        if not opening.startswith("//") or "invented" not in opening:
            problem(name, "must open with a comment that says it is invented")
        if "store" in data:
            check_store(name, data, catalogue)
        elif "target" in data:
            check_target(path, data, catalogue)
        elif "recipe" in data:
            for kind in ("malts", "hops"):
                for item in data[kind]:
                    check_named(name, kind, item, catalogue)
            check_named(name, "yeasts", data["yeast"], catalogue)
        elif "brewhouse" not in data:
            problem(name, "neither store, target, recipe nor brewhouse")
    return len(paths)


def main():
    catalogue = check_catalogue()
    check_shop(catalogue)
    examples = check_examples(catalogue)
    targets = sorted((ROOT / "targets").glob("*.json"))
    for path in targets:
        check_target(path, read(path), catalogue)
    for p in problems:
        print(p)
    counts = ", ".join(f"{len(entries)} {kind}" for kind, entries in catalogue.items())
    print(f"{counts}, {examples} examples, {len(targets)} targets; {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
