# The same for programs.
wortfit solve amber-ale --og 1.055 --store examples/alder-lane-cellar.json --on 2026-11-25 --worth --json | sed -n "/\"leans\"/,\$p"
# not under a prefix
