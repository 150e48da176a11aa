# Batches differ: shares and doses tell more than weights.
wortfit compare examples/last-autumn-amber.json examples/spring-bitter.json --store examples/alder-lane-cellar.json --on 2026-11-25
