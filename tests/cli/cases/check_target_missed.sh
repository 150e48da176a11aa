# Held against a beer that it misses: wanted against got, and exit status 3.
wortfit check examples/last-autumn-amber.json --target examples/my-amber.json
