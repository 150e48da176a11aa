# What fewer ingredients cost.
wortfit solve amber-ale --store examples/alder-lane-cellar.json --on 2026-11-25 --trade cost,fewest
# not under a prefix
