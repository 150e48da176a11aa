"""What check_data.py checks against: allowed words, published figures, common practice."""
import re

CLASSES = {"base", "high-kilned", "caramel", "roast", "flaked", "unmalted", "sugar", "other"}
USES = {"bittering", "aroma", "dual"}
FLOCCULATION = {"low", "medium", "high", "very-high"}
FAMILIES = {"ale", "hybrid-ale", "hybrid-lager", "lager", "ale-phenolic", "wild", "non-saccharomyces"}
ALLERGENS = {"gluten", "oats", "milk"}
ORIGINS = {"USA", "UK", "Germany", "Czech Republic", "Slovenia", "Poland", "France", "Australia",
           "New Zealand", "Japan"}
# What holds no gluten; all the rest is barley, wheat, rye, spelt or oats.
GLUTEN_FREE = r"sorghum|millet|buckwheat|maize|rice|flaked-(maize|rice)" \
              r"|.*(sugar|syrup)|dextrose|invert|candi|molasses|honey|lactose|maltodextrin"
ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")

# A word of a malt's or yeast's name that is none of these may be somebody's brand: see that it is
# generic, then add it.
PLAIN_WORDS = set("""
    a abbey acidulated alcohol ale altbier amber american and aromatic attenuative australian
    barley bavarian beech beer beet belgian biscuit black brettanomyces brewers british brown
    brumalt buckwheat burton california candi cane caramalt caramel cereal chit chocolate clean
    coffee colour continental cook crystal culture czech dark dehusked dextrin dextrose double dry
    english extra extract farmhouse fermenting flaked flocculent for from fruity german glucose
    golden grade green grits grown hazy honey invert irish kilned koelsch kveik lactic lactose
    lager light liquid lov low maize malt maltodextrin maltose malty maple medium melanoidin mild
    millet molasses monohydrate munich muscovado needs negative no north norwegian oak oat oats or
    pale patent peat phenol pilsner powder raw rice roast roasted row rye saison scottish
    secondary short six smoked sorghum sparkling spelt strong sucrose sugar syrup torrified
    treacle two type unmalted usually very vienna warm weizen wheat witbier yeast
    """.split())
# Web domains, trade-mark signs and company forms.
NOT_OURS = re.compile(r"https?:|www\.|\(tm\)|\(r\)|\b(gmbh|ltd|inc|llc|plc)\b"
                      r"|\b[\w-]+\.(com|org|net|info|io|de|uk|eu|fr|au|nz|ca|be|beer|shop)\b", re.I)
# "XY-04", "X1056": how makers number their strains and malts.
PRODUCT_CODE = re.compile(r"\b[A-Z]{1,4}-?\d{2,4}\b")

# J. Palmer, How to Brew, 1st edition, Table 9 (Typical Malt Yields): greatest yield, per cent. His
# figures for roast, brown and rye malt are far below modern analyses and are left out.
PALMER_YIELD = {
    "two-row-malt": 80, "six-row-malt": 76, "pale-ale-malt-british": 81, "biscuit-malt": 75,
    "vienna-malt": 75, "munich-malt-light": 75, "dextrin-malt": 70, "crystal-10": 75,
    "crystal-30": 74, "crystal-60": 74, "crystal-120": 72, "crystal-150-double-roasted": 68,
    "wheat-malt-pale": 79, "flaked-oats": 70, "flaked-maize": 84, "flaked-barley": 70,
    "flaked-wheat": 77, "flaked-rice": 82, "cane-sugar": 100,
}
# His points per pound and gallon of maltodextrin, as is, and of sugar.
PALMER_PPG = {"maltodextrin": 40, "cane-sugar": 46}
# TGL 17756:1966, malt standard: least extract, per cent, dry basis. Wheat malt's 83.5 is a grade
# that ours misses by half a per cent, in favour of Palmer's lower figure.
TGL_EXTRACT = {"pilsner-malt": 79.5, "munich-malt-light": 77.5, "crystal-10": 74.5,
               "caramel-munich-50": 69.5, "black-malt": 59.5}
# The Oxford Companion to Beer (G. Oliver, editor), 2011, entry Lintner: degrees Lintner.
OXFORD_LINTNER = {"pilsner-malt": (85, 115), "two-row-malt": (125, 160), "six-row-malt": (160, 200)}
# Common practice: what colour a malt of this name has, degrees Lovibond.
USUAL_COLOUR = [(r"crystal-.*|caramel-.*|caramalt-.*", 8, 200), (r"chocolate-(wheat-)?malt-?\d*", 300, 450),
                (r"roasted-barley-500", 450, 550), (r"black-malt", 500, 600),
                (r"brown-malt", 38, 70), (r"pilsner-malt", 1, 2.1), (r"pale-ale-malt-.*", 2, 4),
                (r"vienna-malt", 2, 5), (r"munich-malt-.*", 5, 22), (r"wheat-malt-pale", 1, 2.5)]

# The sample shop's own limits: form of a price, least and most (invented, see its note).
SHOP_PRICES = {"malts": (r"(\d+\.\d\d)/kg", 1, 25), "hops": (r"(0\.\d{3})/g", 0.03, 0.12),
               "yeasts": (r"(\d\.\d\d)", 3, 8)}
