# Out of a store, where the bags have aged since; from standard input.
wortfit solve amber-ale --store examples/alder-lane-cellar.json --on 2026-11-25 --json | wortfit hops - --store examples/alder-lane-cellar.json --on 2027-11-25
