# Only so much is left.
wortfit substitute examples/last-autumn-amber.json --share "200 g munich-malt-light" --recipes 1 --on 2026-11-25 | head -n 8
