# Another system, another scale, in US units.
wortfit scale examples/last-autumn-amber.json --brewhouse examples/brewhouse-5gal.json --units us
