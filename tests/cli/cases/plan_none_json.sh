# The same for programs.
wortfit plan "4 amber-ale" --store examples/alder-lane-cellar.json --on 2026-11-25 --json
# not under a prefix
