# What is short is bought, in whole packs where the shop sells it so.
wortfit plan amber-ale german-pils --store examples/alder-lane-cellar.json --shop examples/well-stocked-shop.json --on 2026-11-25
# not under a prefix
