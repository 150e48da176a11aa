# More than the store has: what is to be bought.
wortfit scale examples/last-autumn-amber.json --batch '60 L' --store examples/alder-lane-cellar.json --on 2026-11-25
