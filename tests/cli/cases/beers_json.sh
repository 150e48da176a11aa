# For programs: one beer in full.
wortfit beers dry-stout --json
