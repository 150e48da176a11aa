# The store has too little of what is to stay.
wortfit hops examples/last-autumn-amber.json --store examples/small-cellar.json --on 2026-11-25
