# One of them cannot be brewed at all: no lager yeast.
wortfit plan amber-ale german-pils --store examples/alder-lane-cellar.json --on 2026-11-25
