# For programs.
wortfit survey german --store examples/alder-lane-cellar.json --on 2026-11-25 --json
