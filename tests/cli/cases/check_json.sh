# For programs: a recipe again.
wortfit check examples/last-autumn-amber.json --json
