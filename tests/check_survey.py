#!/usr/bin/env python3
"""What `survey` says, held against `solve`.

    check_survey.py SOURCE_FOLDER WORTFIT [--whole]

The JSON keeps to its schema, is the same for any number of threads, and says what the text says. A
beer can be brewed now exactly if `solve` finds a recipe from the same store, at the same cost. What
is to be bought, put into a copy of the store, makes `solve` find a recipe; with a step or a pack
less of any of it there is none. That there is no recipe takes `solve` long, since it says why; so one in
three of these searches is made, and with --whole each.
"""
import collections
import copy
import json
import pathlib
import re
import sys
import tempfile

from checking import ROOT, check, finish, run, schema, validate

DAY = ["--on", "2026-11-25"]
ONE_IN = 1 if "--whole" in sys.argv else 3
CELLAR = "examples/alder-lane-cellar.json"
SMALL = "examples/small-cellar.json"
SHOP = "src/catalogue/sample-shop.json"
PACKS = "examples/well-stocked-shop.json"
# A step on the default scale, kg of malts and of those weighed finer, g of hops.
STEP = {"malt": 0.05, "hop": 1}
FINE = ("caramel", "roast")
FINE_STEP = 0.01
LEAST = {"malt": 0.03, "hop": 3}


def read_commented(path):
    """A store file: JSON with // and /* */ comments."""
    text = (ROOT / path).read_text(encoding="utf-8")
    string_or_comment = re.compile(r'"(?:[^"\\]|\\.)*"|//[^\n]*|/\*.*?\*/', re.S)
    return json.loads(string_or_comment.sub(lambda m: m[0] if m[0][0] == '"' else " ", text))


VALIDATOR = schema("survey")


def survey(*args):
    """The checked JSON, and its beers by id."""
    out, status = run("survey", *args, "--json", *DAY)
    check(f"survey {args}: exit status {status}", status == 0)
    result = json.loads(out)
    validate(f"survey {args}", VALIDATOR, result)
    return result, {b["beer"]: b for b in result["beers"]}


# ---- Against solve -------------------------------------------------------------------------------

def check_now(store, beers, *more):
    others = [name for name, beer in beers.items() if beer["verdict"] != "now"]
    left_out = set(others) - set(others[::ONE_IN])
    for name, beer in beers.items():
        if name in left_out:
            continue
        out, status = run("solve", name, "--store", store, *more, "--json", *DAY)
        check(f"{store}, {more}, {name}: {beer['verdict']}, but solve ends with {status}",
              status == (0 if beer["verdict"] == "now" else 3))
        if beer["verdict"] == "now" and status == 0:
            recipe = json.loads(out)
            check(f"{store}, {name}: costs {beer['cost']} here and {recipe['cost']} there",
                  abs(beer["cost"] - recipe["cost"]) < 1e-6)
            check(f"{store}, {name}: gravity",
                  abs(beer["predicted"]["og"] - recipe["predicted"]["og"]) < 1e-8)


def bought_lot(shop, purchase, taken):
    """The shop's lot of that id as a lot of the store, under a name that is free."""
    lots = shop[purchase["kind"] + "s"]
    lot = copy.deepcopy(next(x for x in lots if x["id"] == purchase["id"]))
    if lot["id"] in taken:
        lot.setdefault("is", lot["id"])
        lot["id"] += "-bought"
    lot.pop("pack", None)
    return lot


def with_basket(store, shop, basket, less=None):
    """A copy of the store with the basket, less a step or a pack of one thing; None: that is below
    what is worth adding."""
    filled = copy.deepcopy(store)
    for i, purchase in enumerate(basket):
        kind = purchase["kind"]
        lots = filled.setdefault(kind + "s", [])
        lot = bought_lot(shop, purchase, {x["id"] for x in lots})
        key = {"malt": "kg", "hop": "g", "yeast": "packs"}[kind]
        amount = purchase[key]
        if i == less:
            amount -= purchase.get("pack_" + key) or step_of(purchase)
        if amount > 1e-9:
            lot["have"] = str(int(amount)) if kind == "yeast" else f"{amount:.6f} {key}"
            lots.append(lot)
    return filled


def step_of(purchase):
    if purchase["kind"] == "yeast":
        return 1
    if purchase["kind"] == "malt" and is_fine(purchase["id"]):
        return FINE_STEP
    return STEP[purchase["kind"]]


def is_fine(malt):
    out, _ = run("malts", malt, "--json")
    return json.loads(out)[0]["class"] in FINE


def solves(folder, name, store):
    path = pathlib.Path(folder) / "store.json"
    path.write_text(json.dumps(store), encoding="utf-8")
    return run("solve", name, "--store", str(path), *DAY)[1]


def check_buy(store_path, shop_path, beers, every):
    """All baskets do; of every so many beers, none does with less of anything."""
    store, shop = read_commented(store_path), read_commented(shop_path)
    bought = [b for b in beers.values() if b["verdict"] == "buy"]
    less_tried = 0
    with tempfile.TemporaryDirectory() as folder:
        for at, beer in enumerate(bought):
            basket, name = beer["buy"], beer["beer"]
            check(f"{name}: spent is not what the basket costs",
                  abs(sum(p["cost"] for p in basket) - beer["spent"]) < 1e-6)
            check(f"{store_path}, {name}: bought {basket}, and still there is no recipe",
                  solves(folder, name, with_basket(store, shop, basket)) == 0)
            if at % every:
                continue
            for i, purchase in enumerate(basket):
                unit = purchase["cost"] * 1.0
                key = {"malt": "kg", "hop": "g", "yeast": "packs"}[purchase["kind"]]
                part = (purchase.get("pack_" + key) or step_of(purchase)) / purchase[key]
                if unit * part <= beer["proof"]["value"] - beer["proof"]["bound"] + 1e-9:
                    continue  # the proof leaves so much open
                less_tried += 1
                check(f"{store_path}, {name}: less {purchase['id']} does as well",
                      solves(folder, name, with_basket(store, shop, basket, i)) == 3)
    return len(bought), less_tried


def check_best_buy(store_path, shop_path, result, beers):
    """It makes the beers that it is said to, and of those that could be bought for no other; no other
    is seen to make more."""
    store, shop, best = read_commented(store_path), read_commented(shop_path), result["best_buy"]
    lots = store.setdefault(best["kind"] + "s", [])
    lot = bought_lot(shop, best, {x["id"] for x in lots})
    lot.pop("have", None)
    lots.append(lot)
    check(f"{store_path}: some searches for the best buy came to no end", not best["at_least"])
    with tempfile.TemporaryDirectory() as folder:
        others = [name for name, beer in beers.items() if beer["verdict"] == "buy" and name not in best["beers"]]
        for name in [*best["beers"], *others[::ONE_IN]]:
            if beers[name]["verdict"] == "buy":
                check(f"{store_path}, {name}: whether {best['id']} alone makes it",
                      (solves(folder, name, store) == 0) == (name in best["beers"]))
    alone = collections.Counter(b["buy"][0]["id"] for b in beers.values() if len(b.get("buy", [])) == 1)
    check(f"{store_path}: {alone.most_common(1)} makes more than {best['id']}",
          alone.most_common(1)[0][1] <= len(best["beers"]))


# ---- The output ----------------------------------------------------------------------------------

def check_text(store, result):
    """Each beer stands in its section, and no line is wider than a page."""
    text, status = run("survey", "--store", store, *DAY)
    check(f"{store}: text ends with {status}", status == 0)
    first = [line.split()[0] for line in text.splitlines() if line.strip()]
    places = [first.index(b["beer"]) for b in result["beers"]]
    check(f"{store}: the text has another order", places == sorted(places))
    widest = max(len(line) for line in text.splitlines())
    check(f"{store}: a line of {widest} columns", widest <= 80)
    head = " ".join(text.split("\n\n")[0].split())
    for verdict, words in (("now", "can be brewed now"), ("buy", "if something is bought")):
        count = sum(b["verdict"] == verdict for b in result["beers"])
        check(f"{store}: '{head}' does not say {count} {words}",
              re.search(rf"\b{count} (beers? )?{words}", head) is not None)


def check_threads(store, counts):
    alone = run("survey", "--store", store, "--json", "--threads", "1", *DAY)
    for threads in counts:
        check(f"{store}: other bytes with {threads} threads",
              run("survey", "--store", store, "--json", "--threads", threads, *DAY) == alone)


def check_sorted(result, by):
    rank = ["now", "buy", "not", "open"].index
    keys = [(rank(b["verdict"]), by(b)) for b in result["beers"]]
    check(f"not sorted: {keys}", keys == sorted(keys))


def money(beer):
    return beer.get("cost", beer.get("spent", 0))


def check_orders():
    orders = {"cost": money, "aims": lambda b: b.get("off_aims", 0), "name": lambda b: b["beer"],
              "group": lambda b: (b["group"], b["beer"]),
              "fewest": lambda b: (len(b.get("buy", [])), money(b))}
    for word, by in orders.items():
        check_sorted(survey("--store", CELLAR, "--sort", word)[0], by)


def check_filters(beers):
    def ids(*args):
        return set(survey("--store", CELLAR, *args)[1])

    def those(keep):
        return {name for name, beer in beers.items() if keep(beer)}

    now = those(lambda b: b["verdict"] == "now")
    check("--can-brew", ids("--can-brew") == now)
    check("--missing-most 0", ids("--missing-most", "0") == now)
    check("--missing-most 1",
          ids("--missing-most", "1") == now | those(lambda b: len(b.get("buy", [])) == 1))
    check("--spend-most 3",
          ids("--spend-most", "3") == now | those(lambda b: b.get("spent", 99) <= 3))
    check("a name", ids("ipa") == those(lambda b: "ipa" in b["beer"] or "ipa" in b["name"].lower()))
    check("--group", ids("--group", "wheat") == those(lambda b: "wheat" in b["group"]))
    for filter_ in (["--word", "roast"], ["--og", ">= 1.070"], ["--abv", "<= 4 %"]):
        listed = json.loads(run("beers", *filter_, "--json")[0])
        check(str(filter_), ids(*filter_) == {b["id"] for b in listed})


def main():
    counts = []
    for store, shop, every in ((CELLAR, SHOP, 5), (SMALL, SHOP, 30), (SMALL, PACKS, 30)):
        result, beers = survey("--store", store, "--shop", shop)
        check(f"{store}: {len(beers)} beers", len(beers) >= 100)
        counts.append(check_buy(store, shop, beers, every))
        if store == CELLAR:
            check_best_buy(store, shop, result, beers)
            check_now(store, beers)
        if shop == SHOP:
            check_text(store, result)
            check_threads(store, ("2", "7") if ONE_IN == 1 else ("2",) if store == CELLAR else ("7",))
    _, none = survey("--store", SMALL, "--no-shop")
    check("--no-shop buys", all(b["verdict"] in ("now", "not") for b in none.values()))
    smaller = ("--brewhouse", "examples/brewhouse-20l-learnt.json", "--batch", "12 L")
    check_now(CELLAR, survey("--store", CELLAR, "--no-shop", *smaller)[1], *smaller)
    check_orders()
    check_filters(survey("--store", CELLAR)[1])
    check(f"too little was looked at: {counts}",
          sum(c[0] for c in counts) >= 150 and sum(c[1] for c in counts) >= 30)
    print(f"baskets bought and baskets with less, by store: {counts}")
    sys.exit(finish())


if __name__ == "__main__":
    main()
