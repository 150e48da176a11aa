# A malt has run out: the nearest recipe without it, and the next one.
wortfit substitute examples/last-autumn-amber.json --without munich-malt-light --recipes 2 --on 2026-11-25
