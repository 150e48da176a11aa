"""What a beer judge expects of each built-in beer, told apart from the rules of its target.

Written down from the published style texts (Beer Judge Certification Program, Style Guidelines, 2021) and
common practice, from memory; it must not be made from targets/*.json, which it is there to check.
"""

SETS = {
    "Pilsner malt": "pilsner-malt",
    # The last is an invented shop's own.
    "pale base malt": "pilsner-malt two-row-malt six-row-malt low-colour-pale-malt pale-ale-malt-british "
                      "pale-ale-malt-american hill-farm-malt",
    "British pale malts": "pale-ale-malt-british low-colour-pale-malt mild-ale-malt",
    "Vienna malt": "vienna-malt",
    "Munich malt": "munich-malt-light munich-malt-dark munich-malt-20",
    "Munich and Vienna malts": "munich-malt-light munich-malt-dark munich-malt-20 vienna-malt",
    "toasted malts": "munich-malt-light munich-malt-dark vienna-malt aromatic-malt biscuit-malt "
                     "amber-malt",
    "wheat malt": "wheat-malt-pale wheat-malt-dark",
    "unmalted wheat": "raw-wheat flaked-wheat torrified-wheat",
    "wheat of any kind": "wheat-malt-pale wheat-malt-dark raw-wheat flaked-wheat torrified-wheat",
    "oats or wheat": "flaked-oats oat-malt flaked-wheat wheat-malt-pale raw-wheat",
    "oats": "flaked-oats oat-malt",
    "rye": "rye-malt flaked-rye",
    "wheat, rye, oats or spelt": "wheat-malt-pale wheat-malt-dark raw-wheat flaked-wheat rye-malt "
                                 "flaked-rye flaked-oats oat-malt spelt-malt",
    "beech-smoked malt": "smoked-malt-beech",
    "oak-smoked wheat malt": "oak-smoked-wheat-malt",
    "roasted barley": "roasted-barley-300 roasted-barley-500",
    "raw or flaked barley": "raw-barley flaked-barley",
    "roast malts": "class roast",
    "caramel malts": "class caramel",
    "chocolate and brown malts": "chocolate-malt-350 chocolate-malt-425 pale-chocolate-malt-200 brown-malt "
                                 "coffee-malt-170",
    "dehusked roast malts": "dehusked-black-malt dehusked-chocolate-malt-330 chocolate-wheat-malt",
    "lactose": "lactose",
    "maize or rice": "flaked-maize flaked-rice maize-grits rice-grits",
    "sugar": "class sugar",
    "dark syrup": "candi-syrup-amber-45 candi-syrup-dark-90 candi-syrup-extra-dark-180 invert-syrup-3",
}

# (beers, what they rest on, least share of the grist in per cent)
RESTS = [
    ("dry-stout irish-extra-stout", "roasted barley", 6),
    ("dry-stout irish-extra-stout", "raw or flaked barley", 5),
    ("foreign-extra-stout tropical-stout sweet-stout oatmeal-stout american-stout imperial-stout "
     "american-porter", "roast malts", 5),
    ("sweet-stout", "lactose", 3),
    ("oatmeal-stout", "oats", 5),
    ("brown-porter pre-prohibition-porter american-porter", "chocolate and brown malts", 3),
    ("american-brown-ale british-brown-ale london-brown-ale dark-mild brown-ipa",
     "chocolate and brown malts", 2),
    ("baltic-porter", "Munich malt", 12),
    ("baltic-porter schwarzbier czech-dark-lager", "roast malts", 2),
    ("international-dark-lager", "roast malts", 1),
    ("weissbier dunkles-weissbier weizenbock wheatwine", "wheat malt", 50),
    ("american-wheat-beer berliner-weisse lichtenhainer catharina-sour gose", "wheat malt", 30),
    ("dunkles-weissbier weizenbock", "Munich malt", 10),
    ("witbier lambic gueuze fruit-lambic", "unmalted wheat", 30),
    ("white-ipa", "wheat of any kind", 30),
    ("white-ipa", "unmalted wheat", 10),
    ("vienna-lager", "Vienna malt", 50),
    ("marzen", "Munich and Vienna malts", 50),
    ("munich-dunkel", "Munich malt", 65),
    ("dunkles-bock doppelbock eisbock", "Munich and Vienna malts", 65),
    ("altbier", "Munich and Vienna malts", 20),
    ("schwarzbier", "Munich malt", 10),
    ("rauchbier lichtenhainer", "beech-smoked malt", 30),
    ("piwo-grodziskie", "oak-smoked wheat malt", 95),
    ("roggenbier", "rye", 45),
    ("rye-ipa", "rye", 12),
    ("sahti", "rye", 5),
    ("belgian-dubbel belgian-dark-strong-ale", "dark syrup", 4),
    ("belgian-golden-strong-ale belgian-tripel belgian-blond-ale belgian-ipa australian-sparkling-ale "
     "double-ipa", "sugar", 3),
    ("american-light-lager american-lager pre-prohibition-lager kentucky-common brut-ipa",
     "maize or rice", 15),
    ("cream-ale pre-prohibition-porter straight-sour-beer", "maize or rice", 8),
    ("german-pils german-leichtbier munich-helles czech-pale-lager czech-premium-pale-lager "
     "new-zealand-pilsner", "Pilsner malt", 85),
    ("helles-exportbier festbier belgian-golden-strong-ale", "Pilsner malt", 65),
    ("helles-bock", "Pilsner malt", 45),
    ("festbier helles-exportbier helles-bock", "Munich and Vienna malts", 5),
    ("kolsch belgian-single belgian-tripel belgian-blond-ale saison", "pale base malt", 60),
    ("saison dark-saison", "wheat, rye, oats or spelt", 5),
    ("hazy-ipa", "oats or wheat", 15),
    ("black-ipa", "dehusked roast malts", 3),
    ("ordinary-bitter best-bitter strong-bitter british-strong-ale old-ale english-barleywine wee-heavy "
     "scottish-light scottish-heavy scottish-export dark-mild british-brown-ale brown-porter "
     "british-golden-ale english-ipa", "British pale malts", 70),
    ("london-brown-ale", "British pale malts", 60),
    ("amber-ale london-brown-ale oud-bruin flanders-red-ale", "caramel malts", 6),
    ("red-ipa american-strong-ale california-common ordinary-bitter best-bitter strong-bitter old-ale "
     "international-amber-lager czech-amber-lager american-brown-ale dark-mild british-brown-ale",
     "caramel malts", 4),
    ("american-barleywine english-barleywine wee-heavy british-strong-ale belgian-pale-ale irish-red-ale "
     "ipa-argenta scottish-light scottish-heavy scottish-export sweet-stout oatmeal-stout imperial-stout",
     "caramel malts", 2),
    ("irish-red-ale scottish-light scottish-heavy scottish-export", "roast malts", 0.5),
    ("wee-heavy", "roast malts", 0.3),
    ("belgian-pale-ale biere-de-garde", "toasted malts", 6),
    ("flanders-red-ale", "Munich and Vienna malts", 25),
    ("american-pale-ale american-ipa double-ipa ipa-argenta blonde-ale dorada-pampeana amber-ale red-ipa "
     "american-barleywine american-strong-ale international-pale-lager belgian-ipa", "pale base malt", 75),
    ("grape-ale italian-grape-ale", "sugar", 5),
]

# (beers, countries whose hops suit late in the boil, in a stand and dry)
BRITISH, NOBLE = "UK, Slovenia", "Germany, Czech Republic"
EUROPE = NOBLE + ", Slovenia, Poland, France, UK"
LATE_FROM = [
    ("ordinary-bitter best-bitter strong-bitter british-strong-ale old-ale english-barleywine english-ipa "
     "british-brown-ale brown-porter oatmeal-stout", BRITISH),
    ("british-golden-ale", BRITISH + ", USA"),
    ("altbier kolsch german-pils german-leichtbier munich-helles festbier helles-exportbier helles-bock "
     "schwarzbier vienna-lager", NOBLE),
    ("czech-pale-lager czech-premium-pale-lager czech-amber-lager czech-dark-lager", "Czech Republic"),
    ("belgian-pale-ale belgian-single belgian-blond-ale belgian-tripel belgian-golden-strong-ale saison "
     "dark-saison biere-de-garde baltic-porter piwo-grodziskie", EUROPE),
    ("international-pale-lager international-amber-lager pre-prohibition-lager kentucky-common blonde-ale",
     EUROPE + ", USA"),
    ("amber-ale american-brown-ale american-wheat-beer american-strong-ale american-barleywine wheatwine "
     "dorada-pampeana ipa-argenta american-stout", "USA"),
    ("american-porter pre-prohibition-porter california-common imperial-stout", "USA, UK"),
    ("american-pale-ale american-ipa double-ipa black-ipa brown-ipa red-ipa rye-ipa white-ipa belgian-ipa "
     "brut-ipa hazy-ipa", "USA, New Zealand, Australia"),
    ("new-zealand-pilsner", "New Zealand"),
    ("australian-sparkling-ale", "Australia"),
]

# Hop doses in g/L, common practice: (beers, all hops together, least and most of those late and dry).
# Beers that are not named take the first row.
HOPS_OF_ALL = [
    ("", 6.0, 0.0, 3.0),
    ("czech-pale-lager czech-amber-lager czech-dark-lager", 7.0, 0.3, 3.5),
    ("czech-premium-pale-lager", 10.0, 1.5, 4.0),
    ("american-pale-ale american-strong-ale american-barleywine ipa-argenta english-ipa new-zealand-pilsner "
     "strong-bitter british-golden-ale", 10.0, 1.5, 8.0),
    ("american-ipa double-ipa hazy-ipa black-ipa rye-ipa", 16.0, 5.0, 14.0),
    ("brown-ipa red-ipa white-ipa belgian-ipa brut-ipa", 13.0, 4.0, 11.0),
]
DOSE_LEAST = 0.15                              # less is not worth weighing
DOSE_MOST = {"boil": 6.5, "first-wort": 4.0, "late": 2.5, "stand": 5.0, "dry": 8.0}

# Under these shares, in per cent, a malt is a pinch without a point: (darker than, Lovibond; least share).
PINCH = [(100, 0.4), (0, 1.5)]
