# Each could be brewed, but not all: what is short.
wortfit plan "4 amber-ale" --store examples/alder-lane-cellar.json --on 2026-11-25
# not under a prefix
