# For programs: a recipe like any other.
wortfit hops examples/last-autumn-amber.json --alpha magnum=11.8% --json
