# Three beers from the cellar: nothing is bought.
wortfit plan amber-ale best-bitter dry-stout --store examples/alder-lane-cellar.json --on 2026-11-25
