# The wheat beers: what the cellar makes now, and the least to buy for others.
wortfit survey --store examples/alder-lane-cellar.json --on 2026-11-25 --group wheat
