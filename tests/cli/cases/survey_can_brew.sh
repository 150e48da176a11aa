# Nothing is bought, nearest the aims first.
wortfit survey --store examples/alder-lane-cellar.json --on 2026-11-25 --can-brew --abv "<= 3.2 %" --goal closest --sort aims
# not under a prefix
