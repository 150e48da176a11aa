# No brew of this recipe.
cp examples/alder-lane-cellar.json cellar.json
wortfit brewed examples/last-autumn-amber.json --store cellar.json --later --fg 1.013 --on 2026-10-03
