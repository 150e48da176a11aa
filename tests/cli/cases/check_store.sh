# With lots in hand: their figures, their age, what they cost.
wortfit check examples/last-autumn-amber.json --store examples/alder-lane-cellar.json --on 2026-11-25
