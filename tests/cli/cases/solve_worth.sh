# What the recipe leans on, and what a notch of each would save.
wortfit solve amber-ale --og 1.055 --store examples/alder-lane-cellar.json --on 2026-11-25 --worth | sed -n "/^Leans/,\$p"
# not under a prefix
