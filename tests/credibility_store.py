"""What a store lacks for a beer, found without wortfit: from the lots that a target admits.

Every test here is on the safe side: it says that something is lacking only where no recipe from these
lots could have it, whatever the rest of the recipe.
"""
import math

from check_targets import CLASSES, MEMBERS, TOLERANCE, interval

LITRES, EFFICIENCY, LB_GAL = 20.0, 0.75, 8.3454  # kg/L to lb per US gallon
EXTRACT_A_POINT = 2.58   # g/L for each 0.001 over 1, a little under the truth for all beers
UTILISATION_MOST = 0.33  # more than 90 minutes at 1.030 give (Tinseth, 1997)


CLASS_WORDS = {"base": "base malts", "high-kilned": "high-kilned malts", "caramel": "caramel malts",
               "roast": "roast malts", "flaked": "flaked grains", "unmalted": "unmalted grains",
               "sugar": "sugars", "other": "other fermentables", "adjunct": "adjuncts"}


def mass(text):
    """Kilograms of "12 kg" or "850 g"; without a weight as much as is wanted."""
    if text is None:
        return math.inf
    number, unit = text.split()
    return float(number) / (1 if unit == "kg" else 1000)


class Store:
    """Lots with the catalogue's figures where they have none of their own."""

    def __init__(self, store, catalogue):
        self.lots = {kind: [dict(catalogue[kind].get(lot.get("is", lot["id"]), {}), **lot,
                                 of=lot.get("is", lot["id"])) for lot in store[kind]]
                     for kind in ("malts", "hops", "yeasts")}
        self.names = {i: m["name"] for i, m in catalogue["malts"].items()}

    def of(self, kind, lot_id):
        return next(lot["of"] for lot in self.lots[kind] if lot["id"] == lot_id)


def belongs(lot, names):
    """Whether a rule's list of ids and classes speaks of the lot; an empty list speaks of all."""
    classes = set(names) & CLASSES
    for c in set(classes):
        classes |= MEMBERS.get(c, set())
    return not names or lot["of"] in names or lot["id"] in names or lot["class"] in classes


def rule_names(rule):
    return [rule["class"]] if "class" in rule else [rule["malt"]] if "malt" in rule else rule["any"]


def malts_for(target, store):
    return [m for m in store.lots["malts"] if belongs(m, target.get("only", []))
            and m["of"] not in target.get("avoid", []) and m["id"] not in target.get("avoid", [])]


def admitted(target, store):
    malts = malts_for(target, store)
    return malts, least_grist(target, malts)


def hops_for(slot, store):
    """Lots that may go in a slot, alone or, where it takes several, in a mixture."""
    def suits(h):
        if "hop" in slot and h["of"] not in slot["hop"] and h["id"] not in slot["hop"]:
            return False
        if "origin" in slot and h.get("origin") not in slot["origin"]:
            return False
        wishes = [(w, *interval(v)) for w, v in slot.get("character", {}).items()]
        return slot.get("most", 1) > 1 or all(low - 1e-9 <= h.get("character", {}).get(w, 0) <= high + 1e-9
                                              for w, low, high in wishes)
    return [h for h in store.lots["hops"] if suits(h)]


def figure(text):
    return float(str(text).split()[0])


def lovibond(text):
    """Malt colour; EBC by the trade's line of 1.97 EBC the SRM."""
    value, unit = str(text).split()
    return float(value) if unit == "Lov" else (float(value) / 1.97 + 0.76) / 1.3546


def extract(malt):
    """Share of the weight that reaches the wort; kettle sugars lose nothing to the mash."""
    if "potential" in malt:
        whole = figure(malt["potential"]) / 46.21
    else:
        whole = figure(malt["extract"]) / 100 * (1 - figure(malt.get("moisture", "0 %")) / 100)
    return whole * (EFFICIENCY if malt.get("mash", True) else 1)


def least_grist(target, malts):
    """Kilograms below which no grist of these malts reaches the gravity."""
    og = interval(target["og"], TOLERANCE["og"])[0]
    best = most_of(malts, 1e-9, extract)
    return (og - 1) * EXTRACT_A_POINT * LITRES / best if best > 0 else math.inf


def most_of(lots, grist, score):
    """The most that a sum of share x score can be, by the best lots first."""
    left, total = 1.0, 0.0
    for lot in sorted(lots, key=score, reverse=True):
        share = min(left, mass(lot.get("have")) / grist, figure(lot.get("usual_most", "100 %")) / 100)
        total += share * score(lot)
        left -= share
    return total


def spoken(rule, store):
    """What a rule speaks of, as wortfit words it."""
    if "words" in rule or "any" in rule:
        return rule.get("words", "all malts")
    return CLASS_WORDS[rule["class"]] if "class" in rule else store.names[rule["malt"]]


def lacks_share(target, store, words):
    """A rule's least share or count is more than the store can give; words None: any rule's."""
    malts, grist = admitted(target, store)
    for rule in target["grist"]:
        lots = [m for m in malts if belongs(m, rule_names(rule))]
        low = interval(rule.get("share", "0..100 %"))[0] / 100
        if words not in (None, spoken(rule, store)):
            continue
        if low > 0 and sum(mass(m.get("have")) for m in lots) < low * grist:
            return True
        if len(lots) < rule.get("least", 0):
            return True
    return False


def lacks_colour(target, store):
    low, high = interval(target["colour"], TOLERANCE["colour"])
    malts, grist = admitted(target, store)
    per_volume = grist * 1.15 / LITRES * LB_GAL  # a grist is at most so much more than the least
    darkest = most_of(malts, grist, lambda m: lovibond(m["colour"]))
    palest = min((lovibond(m["colour"]) for m in malts), default=0)
    return (1.4922 * (darkest * per_volume) ** 0.6859 < low
            or 1.4922 * (palest * grist / LITRES * LB_GAL) ** 0.6859 > high)


def lacks_bitterness(target, store):
    """Alpha acid, fresh, at more than the best utilisation; no hop suits at all."""
    slots = [s for s in target["hops"] if not s["at"].startswith("dry")]
    lots = {h["id"]: h for s in slots for h in hops_for(s, store)}
    points = (interval(target["og"], TOLERANCE["og"])[0] - 1) * 1000
    want = interval(target["ratio"], TOLERANCE["ratio"])[0] * points if "ratio" in target else \
        interval(target["bitterness"], TOLERANCE["bitterness"])[0]
    alpha = sum(mass(h.get("have")) * 1000 * figure(h["alpha"]) / 100 for h in lots.values())
    return not hops_for(slots[0], store) or alpha * UTILISATION_MOST * 1000 / LITRES < want


def lacks_dose(target, store, at):
    """No hop for the slot, or not enough hops for all such slots together."""
    dosed = [s for s in target["hops"] if "dose" in s]
    lots = {h["id"]: h for s in dosed for h in hops_for(s, store)}
    least = sum(interval(s["dose"])[0] for s in dosed) * LITRES / 1000
    return (any(not hops_for(s, store) for s in dosed if s["at"] == at)
            or sum(mass(h.get("have")) for h in lots.values()) < least)


def lacks_word(target, store, word):
    low = interval(target.get("character", {}).get(word, ">= 0"))[0]
    malts, grist = admitted(target, store)
    of_malts = most_of(malts, grist, lambda m: m.get("character", {}).get(word, 0)
                       / (figure(m.get("usual_most", "100 %")) / 100))
    late = {h["id"]: h for s in target["hops"] if "dose" in s for h in hops_for(s, store)}
    room = sum(interval(s["dose"])[1] for s in target["hops"] if "dose" in s)
    best = max((h.get("character", {}).get(word, 0) for h in late.values()), default=0)
    have = sum(mass(h.get("have")) for h in late.values()) * 1000 / LITRES
    return of_malts + min(room, have) / 4 * best < low


def lacks_yeast(target, store):
    return not any(y["of"] in target["yeast"] or y["id"] in target["yeast"]
                   or y.get("family") in target["yeast"] for y in store.lots["yeasts"])


def lacks_extract(target, store):
    malts, grist = admitted(target, store)
    return sum(mass(m.get("have")) for m in malts) < grist


def lacks(target, store, wish):
    """Whether the store really lacks what the wish, as wortfit words it, asks for."""
    if wish.startswith(("share of ", "number of ")):
        return lacks_share(target, store, wish.split(" of ", 1)[1])
    if wish.startswith("hops at "):
        return lacks_dose(target, store, wish.removeprefix("hops at "))
    if wish.endswith(" character"):
        return lacks_word(target, store, wish.removesuffix(" character"))
    simple = {"original gravity": lacks_extract, "colour": lacks_colour,
              "bitterness ratio": lacks_bitterness, "bitterness": lacks_bitterness,
              "a yeast that suits": lacks_yeast, "final gravity": lacks_yeast, "alcohol": lacks_yeast}
    return simple[wish](target, store) if wish in simple else False
