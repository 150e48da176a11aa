# Nothing passes.
wortfit beers --og "<= 1.010"
