# A shop that sells some malt in packs, and has not everything.
wortfit survey --store examples/small-cellar.json --shop examples/well-stocked-shop.json --word sour --on 2026-11-25
# not under a prefix
