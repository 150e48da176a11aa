# Pounds, ounces and gallons, also as the steps of the scale.
wortfit solve american-pale-ale --units us --brewhouse examples/brewhouse-5gal.json --store examples/us-homebrew-corner.json --on 2026-11-25 | head -n 20
