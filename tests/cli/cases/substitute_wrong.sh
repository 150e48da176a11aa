# What is not in the recipe, what is no weight, and nothing at all.
wortfit substitute examples/last-autumn-amber.json --without munich-malt-lite
wortfit substitute examples/last-autumn-amber.json --without saaz
wortfit substitute examples/last-autumn-amber.json --share munich-malt-light
wortfit substitute examples/last-autumn-amber.json --share "3 L munich-malt-light"
wortfit substitute examples/last-autumn-amber.json --without magnum --recipes 1.5
wortfit substitute examples/last-autumn-amber.json
