# Figures that cannot be; then options that do not go together.
cp examples/alder-lane-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '30 L'
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19 L' --used simcoe='3 g'
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 52 --volume 19
wortfit brewed examples/last-autumn-amber.json --og 1.052
wortfit brewed examples/last-autumn-amber.json --store cellar.json --later --og 1.052 --volume '19 L' --again
wortfit brewed examples/last-autumn-amber.json --store cellar.json --og 1.052 --volume '19 L' --fg 1.060
cmp examples/alder-lane-cellar.json cellar.json && ls
