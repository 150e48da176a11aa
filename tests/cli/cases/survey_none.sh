# Nothing is like that.
wortfit survey --store examples/alder-lane-cellar.json --on 2026-11-25 --og "<= 1.010"
