# For programs: the brew, and the beer weeks later.
cp examples/alder-lane-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19.5 L' --json --on 2026-11-25
wortfit brewed examples/last-autumn-amber.json --store cellar.json --later --fg 1.012 --json
