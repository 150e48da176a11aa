# More bitterness, in US units: all additions may change.
wortfit hops examples/last-autumn-amber.json --ratio 0.75 --change all --units us
