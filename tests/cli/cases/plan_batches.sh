# Two of a beer, one of another size, in US units.
wortfit plan "2 amber-ale" "3 gal american-porter" --store examples/alder-lane-cellar.json --on 2026-11-25 --units us
# not under a prefix
