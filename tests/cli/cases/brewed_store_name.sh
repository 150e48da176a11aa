# A store whose log would have no name, none at all, and one on standard input.
cp examples/alder-lane-cellar.json cellar
wortfit brewed examples/last-autumn-amber.json --store cellar --og 1.052 --volume '19.5 L'
wortfit brewed examples/last-autumn-amber.json --store absent.json --og 1.052 --volume '19.5 L'
wortfit brewed examples/last-autumn-amber.json --store - --og 1.052 --volume '19.5 L' <examples/alder-lane-cellar.json
