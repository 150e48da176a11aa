# What the store cannot do: the nearest recipe, what it misses, and exit status 3.
wortfit adjust examples/last-autumn-amber.json --og 1.090 --store examples/small-cellar.json --on 2026-11-25
# not under a prefix
