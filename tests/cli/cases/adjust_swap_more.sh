# First a swap, then the rest from there.
wortfit adjust examples/last-autumn-amber.json --swap "all chocolate-malt-350 for black-malt" --less colour --on 2026-11-25 | tail -n 4
