# What lacks one thing at most, for little money: dark beers.
wortfit survey --store examples/alder-lane-cellar.json --on 2026-11-25 --missing-most 1 --spend-most 3 --colour ">= 20 SRM" --sort fewest
