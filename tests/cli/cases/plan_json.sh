# For programs.
wortfit plan amber-ale best-bitter --store examples/alder-lane-cellar.json --on 2026-11-25 --json
