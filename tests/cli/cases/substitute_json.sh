# From a store, a hop and the yeast: for programs.
wortfit substitute examples/spring-bitter.json --without challenger --without english-ale-dry --store examples/well-stocked-shop.json --recipes 1 --on 2026-11-25 --json | grep -v seconds
