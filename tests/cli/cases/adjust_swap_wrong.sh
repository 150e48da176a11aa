# Swaps that are none.
wortfit adjust examples/last-autumn-amber.json --swap vienna-malt
wortfit adjust examples/last-autumn-amber.json --swap "200 g vienna-malt for munich-malt-light"
wortfit adjust examples/last-autumn-amber.json --swap "900 g munich-malt-light for vienna-malt"
wortfit adjust examples/last-autumn-amber.json --swap "2 L munich-malt-light for vienna-malt"
wortfit adjust examples/last-autumn-amber.json --swap "200 g munich-malt-light for vienna"
