# A built-in beer out of a cellar, at another gravity.
wortfit solve amber-ale --og 1.055 --store examples/alder-lane-cellar.json --on 2026-11-25
