# Nothing is new: the recipe stays as it is.
wortfit hops examples/last-autumn-amber.json
